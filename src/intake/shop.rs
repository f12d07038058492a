//! `shop.toml` → [`Shop`].

use super::problem::Problems;
use super::shapes::ShopFile;
use super::toml_document::Document;
use crate::job::{Accent, AccentError, Paper, Shop};

/// The shop's particulars.
pub fn shop(document: &Document, shape: ShopFile, problems: &mut Problems) -> Option<Shop> {
    let before = problems.len();
    let accent = shape
        .accent
        .as_deref()
        .and_then(|text| accent(document, text, problems));
    if let Some(address) = &shape.time_stamp
        && !is_http(address)
    {
        document.problem(
            &["time_stamp"],
            format!("`{address}` is not an `http://` address"),
            "write it as `http://host/path`; time-stamp authorities answer over plain http, and \
             the answer is itself signed",
            problems,
        );
    }
    (problems.len() == before).then_some(Shop {
        name: shape.name,
        address: shape.address,
        phone: shape.phone,
        email: shape.email,
        licence: shape.licence,
        paper: shape.paper.unwrap_or(Paper::A4),
        language: shape.language.unwrap_or_else(|| "en".to_owned()),
        second_units: shape.second_units,
        time_stamp: shape.time_stamp,
        logo: shape.logo,
        accent,
    })
}

fn accent(document: &Document, text: &str, problems: &mut Problems) -> Option<Accent> {
    let (message, hint) = match Accent::new(text) {
        Ok(accent) => return Some(accent),
        Err(AccentError::Spelled) => (
            format!("`{text}` is not a colour"),
            "write `#` and six hexadecimal digits, such as `#274b6d`".to_owned(),
        ),
        Err(AccentError::Pale(contrast)) => (
            format!("`{text}` is hard to read on white paper: its contrast is {contrast:.2}:1"),
            format!(
                "choose a darker colour, with a contrast of at least {}:1 (WCAG 2.2, 1.4.3)",
                Accent::LEAST_CONTRAST
            ),
        ),
    };
    document.problem(&["accent"], message, hint, problems);
    None
}

fn is_http(address: &str) -> bool {
    address
        .strip_prefix("http://")
        .is_some_and(|rest| !rest.is_empty() && rest.bytes().all(|byte| byte.is_ascii_graphic()))
}
