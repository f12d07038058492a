//! The built-in template and its fonts.

/// The template's source files, by the path under which they import each other.
/// The first is the main file of the report; `worksheet.typ` is one of its own.
pub const SOURCES: [(&str, &str); 11] = [
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
    ("desk.typ", include_str!("../../report-templates/desk.typ")),
    ("work.typ", include_str!("../../report-templates/work.typ")),
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
