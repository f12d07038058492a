//! The bundled fonts.

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
