//! Which letters can be printed.

use std::sync::LazyLock;

use typst::foundations::Bytes;
use typst::text::Font;

use super::template::FONTS;

/// The built-in fonts, read once.
static LOADED: LazyLock<Vec<Font>> = LazyLock::new(|| {
    FONTS
        .into_iter()
        .flat_map(|bytes| Font::iter(Bytes::new(bytes)))
        .collect()
});

/// The fonts for the typesetter.
pub fn loaded() -> Vec<Font> {
    LOADED.clone()
}

/// Whether some built-in font has `c`: Latin with Vietnamese, Greek, Cyrillic and
/// common signs. Where none has it, a page would show an empty box.
pub fn can_print(c: char) -> bool {
    !c.is_control()
        && LOADED
            .iter()
            .any(|font| font.info().coverage.contains(c.into()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn prints_latin_greek_cyrillic_and_vietnamese() {
        for c in "Łódź Ñandú Þór ğ Ελλάς Ἀθῆναι Ђорђе Щука Ґ Nguyễn Hường ằ ệ ỡ ± − → ≤ °".chars()
        {
            assert!(can_print(c), "{c}");
        }
    }

    #[test]
    fn knows_what_it_cannot_print() {
        for c in "漢字한글🔧עא\u{202E}\u{7}".chars() {
            assert!(!can_print(c), "U+{:04X}", u32::from(c));
        }
    }
}
