//! The built-in template and its fonts, and a shop's files that replace some of it.

use std::collections::BTreeMap;

/// What cannot be replaced: metadata and attachments, and the worksheet.
const FIXED: [&str; 2] = ["main.typ", "worksheet.typ"];

/// The template's source files, by the path under which they import each other.
/// The first is the main file of report and receipt; `worksheet.typ` is one of its own.
pub const SOURCES: [(&str, &str); 15] = [
    ("main.typ", include_str!("../../report-templates/main.typ")),
    (
        "report.typ",
        include_str!("../../report-templates/report.typ"),
    ),
    (
        "theme.typ",
        include_str!("../../report-templates/theme.typ"),
    ),
    (
        "front.typ",
        include_str!("../../report-templates/front.typ"),
    ),
    ("page.typ", include_str!("../../report-templates/page.typ")),
    (
        "receipt.typ",
        include_str!("../../report-templates/receipt.typ"),
    ),
    (
        "seals.typ",
        include_str!("../../report-templates/seals.typ"),
    ),
    ("desk.typ", include_str!("../../report-templates/desk.typ")),
    ("work.typ", include_str!("../../report-templates/work.typ")),
    (
        "photos.typ",
        include_str!("../../report-templates/photos.typ"),
    ),
    (
        "evidence.typ",
        include_str!("../../report-templates/evidence.typ"),
    ),
    (
        "charts.typ",
        include_str!("../../report-templates/charts.typ"),
    ),
    (
        "tables.typ",
        include_str!("../../report-templates/tables.typ"),
    ),
    (
        "marks.typ",
        include_str!("../../report-templates/marks.typ"),
    ),
    (
        "worksheet.typ",
        include_str!("../../report-templates/worksheet.typ"),
    ),
];

/// The fonts, whole; only the letters used go into a PDF. See
/// `report-templates/fonts/OFL.txt` for their licence.
pub const FONTS: [&[u8]; 6] = [
    include_bytes!("../../report-templates/fonts/SourceSans3_400Regular.ttf"),
    include_bytes!("../../report-templates/fonts/SourceSans3_400Regular_Italic.ttf"),
    include_bytes!("../../report-templates/fonts/SourceSans3_600SemiBold.ttf"),
    include_bytes!("../../report-templates/fonts/SourceSerif4_400Regular.ttf"),
    include_bytes!("../../report-templates/fonts/SourceSerif4_600SemiBold.ttf"),
    include_bytes!("../../report-templates/fonts/SourceCodePro_400Regular.ttf"),
];

/// A template: the built-in one, with some files replaced by a shop's own.
#[derive(Debug, Clone, Default)]
pub struct Template {
    own: BTreeMap<String, String>,
}

/// Why a file cannot replace one of the built-in template.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum TemplateError {
    /// The built-in template has no file of this name.
    Unknown,
    /// The program relies on this file.
    Fixed,
}

impl Template {
    /// The files that may be replaced.
    pub fn replaceable() -> impl Iterator<Item = &'static str> {
        let names = SOURCES.iter().map(|(name, _)| *name);
        names.filter(|name| !FIXED.contains(name))
    }

    /// Replaces the built-in file `name` with `text`.
    ///
    /// # Errors
    /// [`TemplateError`] when there is no such file, or when it must stay.
    pub fn replace(&mut self, name: &str, text: String) -> Result<(), TemplateError> {
        if FIXED.contains(&name) {
            return Err(TemplateError::Fixed);
        }
        if !Self::replaceable().any(|known| known == name) {
            return Err(TemplateError::Unknown);
        }
        self.own.insert(name.to_owned(), text);
        Ok(())
    }

    /// The source files, the shop's own where it has any.
    pub(super) fn sources(&self) -> impl Iterator<Item = (&str, &str)> {
        SOURCES.iter().map(|(name, built_in)| {
            let own = self.own.get(*name).map(String::as_str);
            (*name, own.unwrap_or(built_in))
        })
    }
}
