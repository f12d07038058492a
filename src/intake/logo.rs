//! The shop's logo, from beside `shop.toml`.

use super::picture::{Picture, Refusal};
use super::picture_copy;
use super::problem::{Problems, what_to_do};
use super::toml_document::Document;
use crate::files::{ReadError, Source};
use crate::job::Shop;

/// The largest logo that is read, in bytes.
const LOGO_LIMIT: u64 = 4 << 20;

/// The shop's logo, from beside its file in `source`, as a copy without metadata.
pub fn logo(
    source: &dyn Source,
    document: &Document,
    shop: &Shop,
    problems: &mut Problems,
) -> Option<Picture> {
    let name = shop.logo.as_deref()?;
    match beside(source, name) {
        Ok(logo) => Some(logo),
        Err((message, hint)) => {
            document.problem(&["logo"], message, hint, problems);
            None
        }
    }
}

fn beside(source: &dyn Source, name: &str) -> Result<Picture, Refusal> {
    let input = source.read(name, LOGO_LIMIT).map_err(|problem| {
        let hint = match problem {
            ReadError::Missing => "put it in the folder of shop.toml, or correct the name",
            ReadError::TooLarge { .. } => "save a smaller copy of it",
            ref other => what_to_do(other),
        };
        (format!("the logo `{name}`: {problem}"), hint)
    })?;
    picture_copy::logo(&input)
        .map_err(|(message, hint)| (format!("the logo `{name}` {message}"), hint))
}
