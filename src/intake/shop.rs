//! `shop.toml` → [`Shop`], and the logo beside it.

use std::path::Path;

use super::picture::{self, Picture, Refusal};
use super::problem::Problems;
use super::shapes::{PaperWord, ShopFile, UnitsWord};
use super::toml_document::Document;
use super::{Printable, TEXT_LIMIT, what_to_do};
use crate::files::{Folder, ReadError, Source, nearest_above};
use crate::job::{Accent, AccentError, Paper, Shop};
use crate::quantity::System;

/// The largest logo that is read, in bytes.
const LOGO_LIMIT: u64 = 4 << 20;

/// The shop's particulars.
pub fn shop(document: &Document, shape: ShopFile, faults: &mut Problems) -> Option<Shop> {
    let before = faults.len();
    let accent = shape
        .accent
        .as_deref()
        .and_then(|text| accent(document, text, faults));
    if let Some(address) = &shape.time_stamp
        && !is_http(address)
    {
        document.fault(
            &["time_stamp"],
            format!("`{address}` is not an `http://` address"),
            "write it as `http://host/path`; time-stamp authorities answer over plain http, and \
             the answer is itself signed",
            faults,
        );
    }
    (faults.len() == before).then_some(Shop {
        name: shape.name,
        address: shape.address,
        phone: shape.phone,
        email: shape.email,
        licence: shape.licence,
        paper: match shape.paper {
            Some(PaperWord::UsLetter) => Paper::UsLetter,
            Some(PaperWord::A4) | None => Paper::A4,
        },
        language: shape.language.unwrap_or_else(|| "en".to_owned()),
        second_units: shape.second_units.map(|word| match word {
            UnitsWord::Si => System::Si,
            UnitsWord::UsCustomary => System::UsCustomary,
        }),
        time_stamp: shape.time_stamp,
        logo: shape.logo,
        accent,
    })
}

fn accent(document: &Document, text: &str, faults: &mut Problems) -> Option<Accent> {
    let (message, hint) = match Accent::new(text) {
        Ok(accent) => return Some(accent),
        Err(AccentError::Spelled) => (
            format!("`{text}` is not a colour"),
            "write `#` and six hexadecimal digits, such as `#274b6d`".to_owned(),
        ),
        Err(AccentError::Pale(contrast)) => (
            format!("`{text}` cannot be read on white paper: its contrast is {contrast:.2}:1"),
            format!(
                "choose a darker tone, of at least {}:1 (WCAG 2.2, 1.4.3)",
                Accent::LEAST_CONTRAST
            ),
        ),
    };
    document.fault(&["accent"], message, hint, faults);
    None
}

/// The shop's logo, from beside the `shop.toml` that serves the job folder at
/// `folder`, as a copy without metadata.
///
/// # Errors
/// A fault of `shop.toml` when the logo cannot be read.
pub fn logo(
    folder: &Path,
    shop: &Shop,
    printable: &Printable<'_>,
) -> Result<Option<Picture>, Problems> {
    let Some(name) = &shop.logo else {
        return Ok(None);
    };
    match beside(folder, name) {
        Ok(logo) => Ok(Some(logo)),
        Err((message, hint)) => Err(shop_problem(folder, "logo", message, hint, printable)),
    }
}

/// What is wrong at `key` of the `shop.toml` that serves the job folder at `folder`, when
/// it shows only once the file is in use.
pub fn shop_problem(
    folder: &Path,
    key: &str,
    message: impl Into<String>,
    hint: impl Into<String>,
    printable: &Printable<'_>,
) -> Problems {
    let (message, hint) = (message.into(), hint.into());
    let mut faults = Problems::default();
    // Read again for the line of the message only.
    if let Ok((_, input)) = nearest_above(folder, "shop.toml", TEXT_LIMIT)
        && let Some((document, _)) =
            Document::read::<ShopFile>(&input.name, &input.bytes, printable, &mut faults)
    {
        document.fault(&[key], message, hint, &mut faults);
    } else {
        faults.of_file("shop.toml", message, hint);
    }
    faults
}

fn beside(folder: &Path, name: &str) -> Result<Picture, Refusal> {
    let input = nearest_above(folder, "shop.toml", TEXT_LIMIT)
        .and_then(|(path, _)| Folder::open(path.parent().unwrap_or(folder)))
        .and_then(|shop| shop.read(name, LOGO_LIMIT))
        .map_err(|fault| {
            let hint = match fault {
                ReadError::Missing => "put it beside shop.toml, or correct the name",
                ReadError::TooLarge { .. } => "save a smaller copy of it",
                ref other => what_to_do(other),
            };
            (format!("the logo `{name}`: {fault}"), hint)
        })?;
    picture::logo(&input).map_err(|(message, hint)| (format!("the logo `{name}` {message}"), hint))
}

fn is_http(address: &str) -> bool {
    address
        .strip_prefix("http://")
        .is_some_and(|rest| !rest.is_empty() && rest.bytes().all(|byte| byte.is_ascii_graphic()))
}
