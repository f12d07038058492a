//! The table as a file, with the same bytes whenever it is made.

use std::io::{Cursor, Write as _};

use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, DateTime, ZipWriter};

use super::html::escaped;
use super::sheet_form::Form;

/// The table as comma-separated values: with semicolons where the language has a decimal
/// comma, and with a mark by which spreadsheets know UTF-8.
///
/// # Errors
/// What the writer says.
pub fn csv(form: &Form, comma: bool) -> Result<Vec<u8>, String> {
    let delimiter = if comma { b';' } else { b',' };
    let mut builder = csv::WriterBuilder::new();
    let builder = builder.delimiter(delimiter).flexible(true);
    let mut writer = builder.from_writer("\u{feff}".as_bytes().to_vec());
    let mut rows: Vec<Vec<&str>> = form.head.iter().map(|line| vec![line.as_str()]).collect();
    rows.push(form.headings.iter().map(String::as_str).collect());
    for line in &form.lines {
        let (what, field, unit) = (line.what.as_str(), line.field.as_str(), line.unit.as_str());
        rows.push(vec![what, field, unit, "", "", &line.help, &line.key]);
    }
    for row in rows {
        let cells = row.into_iter().map(no_formula);
        writer
            .write_record(cells)
            .map_err(|error| error.to_string())?;
    }
    writer.into_inner().map_err(|error| error.to_string())
}

/// Text that a spreadsheet would take for a formula, as the text that it is.
fn no_formula(text: &str) -> String {
    match text.starts_with(['=', '+', '-', '@', '\t', '\r']) {
        true => format!("'{text}"),
        false => text.to_owned(),
    }
}

const CONTENT_TYPES: &str = r#"<?xml version="1.0" encoding="UTF-8" standalone="yes"?>
<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/><Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/><Override PartName="/xl/worksheets/sheet1.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/><Override PartName="/xl/styles.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.styles+xml"/></Types>"#;
const RELATIONS: &str = r#"<?xml version="1.0" encoding="UTF-8" standalone="yes"?>
<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="xl/workbook.xml"/></Relationships>"#;
const WORKBOOK_RELATIONS: &str = r#"<?xml version="1.0" encoding="UTF-8" standalone="yes"?>
<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet1.xml"/><Relationship Id="rId2" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/styles" Target="styles.xml"/></Relationships>"#;
/// The formats of cells: 0 plain, 1 a heading, 2 a text, 3 a cell to fill in, 4 small print.
/// What is filled in is text to a spreadsheet (format 49, `@`): it keeps every digit.
const STYLES: &str = r#"<?xml version="1.0" encoding="UTF-8" standalone="yes"?>
<styleSheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><fonts count="3"><font><sz val="11"/><name val="Calibri"/></font><font><b/><sz val="11"/><name val="Calibri"/></font><font><sz val="9"/><color rgb="FF606060"/><name val="Calibri"/></font></fonts><fills count="3"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill><fill><patternFill patternType="solid"><fgColor rgb="FFFFF9E5"/></patternFill></fill></fills><borders count="2"><border><left/><right/><top/><bottom/><diagonal/></border><border><left style="thin"/><right style="thin"/><top style="thin"/><bottom style="thin"/><diagonal/></border></borders><cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellStyleXfs><cellXfs count="5"><xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0"/><xf numFmtId="49" fontId="1" fillId="0" borderId="0" xfId="0"/><xf numFmtId="49" fontId="0" fillId="0" borderId="0" xfId="0" applyAlignment="1"><alignment vertical="top" wrapText="1"/></xf><xf numFmtId="49" fontId="0" fillId="2" borderId="1" xfId="0" applyAlignment="1"><alignment horizontal="right" vertical="top" wrapText="1"/></xf><xf numFmtId="49" fontId="2" fillId="0" borderId="0" xfId="0" applyAlignment="1"><alignment vertical="top" wrapText="1"/></xf></cellXfs><cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles></styleSheet>"#;

/// The table as a workbook of one sheet, whose name is `title`.
///
/// # Errors
/// What the writer says.
pub fn xlsx(form: &Form, title: &str) -> Result<Vec<u8>, String> {
    let workbook = format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\" standalone=\"yes\"?>\n<workbook \
         xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\" \
         xmlns:r=\"http://schemas.openxmlformats.org/officeDocument/2006/relationships\">\
         <sheets><sheet name=\"{}\" sheetId=\"1\" r:id=\"rId1\"/></sheets></workbook>",
        escaped(title)
    );
    let sheet = sheet(form);
    let parts = [
        ("[Content_Types].xml", CONTENT_TYPES),
        ("_rels/.rels", RELATIONS),
        ("xl/workbook.xml", &workbook),
        ("xl/_rels/workbook.xml.rels", WORKBOOK_RELATIONS),
        ("xl/styles.xml", STYLES),
        ("xl/worksheets/sheet1.xml", &sheet),
    ];
    // Not compressed, and of one day: the same bytes from every version of the library.
    let options = SimpleFileOptions::default()
        .compression_method(CompressionMethod::Stored)
        .last_modified_time(DateTime::default());
    let mut writer = ZipWriter::new(Cursor::new(Vec::new()));
    for (name, text) in parts {
        let started = writer.start_file(name, options);
        started.map_err(|error| error.to_string())?;
        let written = writer.write_all(text.as_bytes());
        written.map_err(|error| error.to_string())?;
    }
    let done = writer.finish().map_err(|error| error.to_string())?;
    Ok(done.into_inner())
}

/// The widths of the columns, in letters.
const WIDTHS: [u32; 6] = [30, 26, 9, 16, 16, 70];

fn sheet(form: &Form) -> String {
    // What is above stays in sight.
    let above = form.head.len() + 1;
    let mut xml = format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\" standalone=\"yes\"?>\n<worksheet \
         xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\"><sheetViews>\
         <sheetView workbookViewId=\"0\"><pane ySplit=\"{above}\" topLeftCell=\"A{}\" \
         activePane=\"bottomLeft\" state=\"frozen\"/></sheetView></sheetViews><cols>",
        above + 1
    );
    for (column, width) in (1..).zip(WIDTHS) {
        xml += &format!(
            "<col min=\"{column}\" max=\"{column}\" width=\"{width}\" customWidth=\"1\"/>"
        );
    }
    // The keys are for the program only.
    xml +=
        "<col min=\"7\" max=\"7\" width=\"10\" hidden=\"1\" customWidth=\"1\"/></cols><sheetData>";
    let mut number = 0;
    let mut row = |cells: &[(&str, u32)]| {
        number += 1;
        xml += &format!("<row r=\"{number}\">");
        for (letter, (text, style)) in ('A'..).zip(cells) {
            xml += &match text.is_empty() {
                true => format!("<c r=\"{letter}{number}\" s=\"{style}\"/>"),
                false => format!(
                    "<c r=\"{letter}{number}\" s=\"{style}\" t=\"inlineStr\"><is><t \
                     xml:space=\"preserve\">{}</t></is></c>",
                    escaped(text)
                ),
            };
        }
        xml += "</row>";
    };
    for line in &form.head {
        row(&[(line, 1)]);
    }
    row(&form.headings.each_ref().map(|text| (text.as_str(), 1)));
    for line in &form.lines {
        row(&[
            (&line.what, 2),
            (&line.field, 2),
            (&line.unit, 2),
            ("", 3),
            ("", 3),
            (&line.help, 4),
            (&line.key, 4),
        ]);
    }
    xml + "</sheetData><pageSetup orientation=\"landscape\"/></worksheet>"
}
