//! Which file names may be sealed: those that mean one file on every system, and
//! that look like what they are.

use super::shown::shown;
use std::collections::BTreeMap;
use std::fmt;

use unicode_normalization::UnicodeNormalization;

/// Why a name cannot be sealed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NameError {
    /// Not a plain path inside the folder, with `/` between folders.
    OddPath(String),
    /// It has an invisible character, or that changes the direction of the text.
    HiddenSign(String),
    /// Two names that are the same on some systems.
    Alike(String, String),
}

impl fmt::Display for NameError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::OddPath(name) => write!(f, "`{}` is not a plain path", shown(name)),
            Self::HiddenSign(name) => {
                write!(f, "`{}` has an invisible character", shown(name))
            }
            Self::Alike(one, other) => write!(
                f,
                "`{}` and `{}` are the same name on some systems",
                shown(one),
                shown(other)
            ),
        }
    }
}

impl std::error::Error for NameError {}

/// Checks the names of all files of one seal.
///
/// # Errors
/// The first [`NameError`].
pub fn check_names<'a>(names: impl IntoIterator<Item = &'a str>) -> Result<(), NameError> {
    let mut seen: BTreeMap<String, &str> = BTreeMap::new();
    for name in names {
        let plain = !name.starts_with('/')
            && !name.contains(['\\', ':'])
            && name
                .split('/')
                .all(|part| !part.is_empty() && part != "." && part != "..");
        if !plain {
            return Err(NameError::OddPath(name.to_owned()));
        }
        if name.chars().any(is_hidden) {
            return Err(NameError::HiddenSign(name.to_owned()));
        }
        if let Some(other) = seen.insert(folded(name), name) {
            return Err(NameError::Alike(other.to_owned(), name.to_owned()));
        }
    }
    Ok(())
}

/// The name as a file system sees it that composes letters and ignores case.
fn folded(name: &str) -> String {
    let lower: String = name.nfkc().flat_map(char::to_lowercase).collect();
    // Upper case first, for letters such as ſ and ß that fold only that way.
    let upper: String = lower.chars().flat_map(char::to_uppercase).collect();
    upper.chars().flat_map(char::to_lowercase).nfkc().collect()
}

/// Control characters, and the Unicode format characters that hide or reverse text.
pub fn is_hidden(c: char) -> bool {
    c.is_control()
        || matches!(c,
            '\u{ad}' | '\u{34f}' | '\u{61c}' | '\u{180e}' | '\u{200b}'..='\u{200f}'
            | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{feff}'
            | '\u{fff0}'..='\u{fffb}' | '\u{e0000}'..='\u{e0fff}')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ordinary_names_may_be_sealed() {
        let names = [
            "job.toml",
            "photos/Zündkerze (2).jpg",
            "photos/φίλτρο.jpg",
            "a b'c.jpg",
        ];
        assert_eq!(check_names(names), Ok(()));
    }

    #[test]
    fn no_name_leads_out_or_means_two_things() {
        for name in [
            "../x", "/x", "a/../x", "a//b", "./x", "", "c:x", "a\\b", "a/",
        ] {
            assert_eq!(
                check_names([name]),
                Err(NameError::OddPath(name.to_owned())),
                "{name}"
            );
        }
        for name in [
            "a\nb",
            "a\u{202e}gpj.exe",
            "a\u{200b}b",
            "a\u{7f}",
            "\u{feff}job.toml",
        ] {
            assert_eq!(
                check_names([name]),
                Err(NameError::HiddenSign(name.to_owned())),
                "{name:?}"
            );
        }
    }

    /// The first and the last of every range, and their neighbours that can be seen. The
    /// format characters are those of the Unicode Standard, general category Cf, with the
    /// blocks around them (from memory).
    #[test]
    fn every_hidden_character_is_one_and_its_neighbours_are_not() {
        for hidden in [
            '\u{0}',
            '\u{1f}',
            '\u{7f}',
            '\u{9f}',
            '\u{ad}',
            '\u{34f}',
            '\u{61c}',
            '\u{180e}',
            '\u{200b}',
            '\u{200f}',
            '\u{2028}',
            '\u{202e}',
            '\u{2060}',
            '\u{206f}',
            '\u{feff}',
            '\u{fff0}',
            '\u{fffb}',
            '\u{e0000}',
            '\u{e0fff}',
        ] {
            assert!(is_hidden(hidden), "{hidden:?}");
        }
        for shown in [
            ' ',
            '\u{a0}',
            '\u{ac}',
            '\u{ae}',
            '\u{34e}',
            '\u{350}',
            '\u{61b}',
            '\u{61d}',
            '\u{180d}',
            '\u{180f}',
            '\u{200a}',
            '\u{2010}',
            '\u{2027}',
            '\u{202f}',
            '\u{205f}',
            '\u{2070}',
            '\u{fefe}',
            '\u{ff00}',
            '\u{ffef}',
            '\u{fffc}',
            '\u{dffff}',
            '\u{e1000}',
        ] {
            assert!(!is_hidden(shown), "{shown:?}");
        }
    }

    #[test]
    fn names_that_some_systems_take_for_one_are_refused() {
        for (one, other) in [
            ("photo.jpg", "Photo.JPG"),
            ("caf\u{e9}.jpg", "cafe\u{301}.jpg"),
            ("stra\u{df}e.jpg", "STRASSE.jpg"),
            ("\u{fb01}lter.jpg", "filter.jpg"),
            ("\u{17f}oot.jpg", "soot.jpg"),
        ] {
            assert_eq!(
                check_names([one, other]),
                Err(NameError::Alike(one.to_owned(), other.to_owned())),
                "{one} {other}"
            );
        }
    }
}
