//! A file of a spreadsheet or a logger → its sheets, as cells. The file is nobody's: it is
//! limited in size, in what it unpacks to, in rows, columns and letters, and nothing in it is
//! worked out.

use std::collections::BTreeMap;
use std::fmt;
use std::io::{Cursor, Read as _};

use calamine::{Data, DataRef, DataType as _, Reader as _, Xlsx};
use zip::ZipArchive;

/// The largest file that is read, in bytes.
pub const FILE_LIMIT: u64 = 16 << 20;
/// The most that a workbook may unpack to, in bytes.
const UNPACKED_LIMIT: u64 = 48 << 20;
/// The most rows, columns, filled cells, and letters of all cells.
const ROWS: u32 = 20_000;
const COLUMNS: u32 = 300;
const CELLS: usize = 300_000;
const LETTERS: usize = 8 << 20;
/// The most sheets of a workbook.
const SHEETS: usize = 40;

/// A cell that is not empty.
#[derive(Debug, Clone, PartialEq)]
pub struct Cell {
    /// What it says.
    pub text: String,
    /// Whether it is a number to the spreadsheet: then `text` has a point.
    pub is_number: bool,
    /// Whether it is worked out.
    pub is_formula: bool,
}

/// Where a cell is: its row and column, from 0.
pub type Place = (u32, u32);

/// A sheet.
#[derive(Debug, Default)]
pub struct Sheet {
    /// Its name; empty for a text file.
    pub name: String,
    /// Its cells that are not empty.
    pub cells: BTreeMap<Place, Cell>,
    /// What divides its columns; of a workbook, nothing.
    pub divided_by: Option<u8>,
    letters: usize,
}

/// Why a file is not read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum SheetError {
    /// It is of an older kind of spreadsheet, or locked with a password.
    OldOrLocked,
    /// It is neither a workbook nor text.
    OtherKind,
    /// It unpacks to more than is read, such as a zip bomb does.
    Unpacks,
    /// It has more rows than are read.
    Rows,
    /// It has more columns than are read.
    Columns,
    /// It has more cells, letters or sheets than are read.
    Much,
    /// It is damaged.
    Damaged(String),
}

impl SheetError {
    /// What to do.
    pub fn hint(&self) -> &'static str {
        match self {
            Self::OldOrLocked => "save it as .xlsx without a password, or as .csv",
            Self::OtherKind => "save it as .xlsx or .csv",
            Self::Rows | Self::Columns | Self::Much | Self::Unpacks => {
                "copy the readings into a sheet of their own, and save that"
            }
            Self::Damaged(_) => "open it in the program that made it, and save it again",
        }
    }
}

impl fmt::Display for SheetError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::OldOrLocked => f.write_str("it is an old .xls file, or locked with a password"),
            Self::OtherKind => f.write_str("it is neither an .xlsx workbook nor text"),
            Self::Unpacks => write!(f, "it unpacks to more than {} MiB", UNPACKED_LIMIT >> 20),
            Self::Rows => write!(f, "it has something beyond row {ROWS}"),
            Self::Columns => write!(f, "it has something beyond column {COLUMNS}"),
            Self::Much => f.write_str("it holds far more than a form or a few series of readings"),
            Self::Damaged(why) => write!(f, "it cannot be read: {why}"),
        }
    }
}

impl std::error::Error for SheetError {}

impl Sheet {
    /// What a cell says; empty where nothing is.
    pub fn text(&self, place: Place) -> &str {
        self.cells.get(&place).map_or("", |cell| cell.text.as_str())
    }

    fn put(&mut self, place: Place, cell: Cell) -> Result<(), SheetError> {
        let text = cell.text.trim();
        if text.is_empty() && !cell.is_formula {
            return Ok(());
        }
        if place.0 >= ROWS {
            return Err(SheetError::Rows);
        }
        if place.1 >= COLUMNS {
            return Err(SheetError::Columns);
        }
        self.letters += text.len();
        if self.letters > LETTERS || self.cells.len() >= CELLS {
            return Err(SheetError::Much);
        }
        let text = text.to_owned();
        self.cells.insert(place, Cell { text, ..cell });
        Ok(())
    }
}

/// How a spreadsheet calls a place: `B4`.
pub fn called((row, column): Place) -> String {
    format!("{}{}", letters_of(column), row + 1)
}

/// How a spreadsheet calls a column: `A`, `AB`.
pub fn letters_of(column: u32) -> String {
    let mut letters = String::new();
    let mut left = column + 1;
    while left > 0 {
        let digit = u8::try_from((left - 1) % 26).unwrap_or(0);
        letters.insert(0, char::from(b'A' + digit));
        left = (left - 1) / 26;
    }
    letters
}

/// The column that a spreadsheet calls so, if it is one that is read.
pub fn column_of(letters: &str) -> Option<u32> {
    let is_name = (1..=3).contains(&letters.len());
    if !is_name || !letters.bytes().all(|b| b.is_ascii_uppercase()) {
        return None;
    }
    let number = letters
        .bytes()
        .fold(0, |number, b| number * 26 + u32::from(b - b'A') + 1);
    (number <= COLUMNS).then(|| number - 1)
}

/// The sheets of a file: those of a workbook, or the one of a text file.
///
/// # Errors
/// A [`SheetError`].
pub fn sheets(bytes: Vec<u8>) -> Result<Vec<Sheet>, SheetError> {
    if bytes.starts_with(b"PK\x03\x04") {
        return workbook(bytes);
    }
    if bytes.starts_with(b"\xD0\xCF\x11\xE0") {
        return Err(SheetError::OldOrLocked);
    }
    let text = text(&bytes).ok_or(SheetError::OtherKind)?;
    Ok(vec![values(&text)?])
}

/// Text as loggers and spreadsheets write it: UTF-8, UTF-16 with its mark, or the code page
/// of Western Windows.
fn text(bytes: &[u8]) -> Option<String> {
    let (text, used, _) = encoding_rs::UTF_8.decode(bytes);
    let text = match std::str::from_utf8(bytes) {
        Err(_) if used == encoding_rs::UTF_8 => encoding_rs::WINDOWS_1252.decode(bytes).0,
        _ => text,
    };
    // What is not text has such letters in it.
    let is_odd = |c: char| c.is_control() && !matches!(c, '\n' | '\r' | '\t');
    let odd = text.chars().filter(|c| is_odd(*c)).count();
    (odd * 50 <= text.chars().count() && !text.contains('\0')).then(|| text.into_owned())
}

/// Comma-separated values, or what stands for the comma.
fn values(text: &str) -> Result<Sheet, SheetError> {
    // Whatever ends a line, each is counted once.
    let text = text.trim_start_matches('\u{feff}').replace("\r\n", "\n") + "\n";
    let (delimiter, text) = delimiter(&text);
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(delimiter)
        .from_reader(text.as_bytes());
    let mut sheet = Sheet {
        divided_by: Some(delimiter),
        ..Sheet::default()
    };
    let mut record = csv::StringRecord::new();
    // Records are counted as a spreadsheet counts rows: an empty line is one too.
    loop {
        let more = reader.read_record(&mut record);
        if !more.map_err(|error| SheetError::Damaged(error.to_string()))? {
            return Ok(sheet);
        }
        // The reader stands at the start of the line behind it.
        let line = reader.position().line().saturating_sub(2);
        let row = u32::try_from(line).unwrap_or(u32::MAX);
        for (column, text) in (0..).zip(&record) {
            let cell = Cell {
                text: text.to_owned(),
                is_number: false,
                is_formula: text.starts_with('='),
            };
            sheet.put((row, column), cell)?;
        }
    }
}

/// What divides the columns: told in the first line by `sep=`, or what stands
/// equally often in most lines,
/// outside of quotation marks.
fn delimiter(text: &str) -> (u8, &str) {
    let (first, rest) = text.split_once('\n').unwrap_or((text, ""));
    if let Some(told) = first.trim().strip_prefix("sep=")
        && let Some(told @ (b';' | b',' | b'\t')) = told.bytes().next()
    {
        return (told, rest);
    }
    // How many lines have it equally often.
    let alike = |delimiter: char| {
        let count = |line: &str| {
            let mut quoted = false;
            let of = line.chars().filter(|c| {
                quoted ^= *c == '"';
                !quoted && *c == delimiter
            });
            of.count()
        };
        let mut lines = BTreeMap::<usize, usize>::new();
        for count in text.lines().take(60).map(count).filter(|count| *count > 0) {
            *lines.entry(count).or_default() += 1;
        }
        lines.into_values().max().unwrap_or(0)
    };
    // A semicolon or a tab never stands in a figure; a comma may.
    let (semicolons, tabs, commas) = (alike(';'), alike('\t'), alike(','));
    let found = match () {
        () if semicolons > 0 && semicolons >= tabs && semicolons >= commas => b';',
        () if tabs > 0 && tabs >= commas => b'\t',
        () => b',',
    };
    (found, text)
}

fn workbook(bytes: Vec<u8>) -> Result<Vec<Sheet>, SheetError> {
    check_size(&bytes)?;
    let damaged = |error: calamine::XlsxError| SheetError::Damaged(error.to_string());
    let mut book: Xlsx<_> = Xlsx::new(Cursor::new(bytes)).map_err(damaged)?;
    let names = book.sheet_names();
    if names.len() > SHEETS {
        return Err(SheetError::Much);
    }
    let mut sheets = Vec::new();
    for name in names {
        let mut sheet = Sheet {
            name: name.clone(),
            ..Sheet::default()
        };
        // A sheet that is a chart has no cells.
        let Ok(mut cells) = book.worksheet_cells_reader(&name) else {
            continue;
        };
        while let Some(found) = cells.next_cell_with_formula_metadata().map_err(damaged)? {
            let cell = Cell {
                text: said(&found.value),
                is_number: matches!(found.value, DataRef::Int(_) | DataRef::Float(_)),
                is_formula: found.formula.is_some(),
            };
            sheet.put(found.pos, cell)?;
        }
        sheets.push(sheet);
    }
    Ok(sheets)
}

/// Unpacks all parts once, without keeping them: what a part says of its size may be wrong.
fn check_size(bytes: &[u8]) -> Result<(), SheetError> {
    let damaged = |error: String| SheetError::Damaged(error);
    let archive = ZipArchive::new(Cursor::new(bytes));
    let mut archive = archive.map_err(|error| damaged(error.to_string()))?;
    let mut left = UNPACKED_LIMIT;
    for index in 0..archive.len() {
        let part = archive.by_index(index);
        let part = part.map_err(|error| damaged(error.to_string()))?;
        let unpacked = std::io::copy(&mut part.take(left + 1), &mut std::io::sink());
        let unpacked = unpacked.map_err(|error| damaged(error.to_string()))?;
        left = left.checked_sub(unpacked).ok_or(SheetError::Unpacks)?;
    }
    Ok(())
}

/// What a cell says. A number is written as short as it can be, with at most the fifteen
/// digits that a spreadsheet has; a time as ISO 8601.
fn said(value: &DataRef<'_>) -> String {
    match value {
        DataRef::Empty => String::new(),
        DataRef::Int(number) => number.to_string(),
        DataRef::Float(number) => figure(*number),
        DataRef::DateTime(moment) if moment.is_datetime() => {
            let (year, month, day, hour, minute, second, _) = moment.to_ymd_hms_milli();
            format!("{year:04}-{month:02}-{day:02}T{hour:02}:{minute:02}:{second:02}")
        }
        DataRef::DateTime(moment) => figure(moment.as_f64()),
        other => Data::from(other.clone()).as_string().unwrap_or_default(),
    }
}

fn figure(number: f64) -> String {
    let shortest = number.to_string();
    let digits = shortest.bytes().filter(u8::is_ascii_digit).count();
    if digits <= 15 {
        return shortest;
    }
    let fifteen = format!("{number:.14e}").parse::<f64>();
    fifteen.map_or(shortest, |number| number.to_string())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_are_called_as_in_a_spreadsheet() {
        for (number, letters) in [(0, "A"), (25, "Z"), (26, "AA"), (51, "AZ"), (52, "BA")] {
            assert_eq!(letters_of(number), letters);
            assert_eq!(column_of(letters), Some(number));
        }
        for other in ["", "a", "A1", "ZZZ", "ABCD"] {
            assert_eq!(column_of(other), None, "{other}");
        }
        assert_eq!(called((3, 1)), "B4");
    }

    #[test]
    fn a_number_has_the_digits_of_a_spreadsheet() {
        for (number, text) in [
            (2.4, "2.4"),
            (0.1 + 0.2, "0.3"),
            (1874.0, "1874"),
            (-13.1, "-13.1"),
        ] {
            assert_eq!(figure(number), text);
        }
    }

    #[test]
    fn the_columns_of_a_text_are_found() {
        let of = |text: &str| {
            let sheet = values(text).unwrap();
            let cells = sheet
                .cells
                .iter()
                .map(|(place, cell)| (called(*place), cell.text.clone()));
            cells
                .map(|(place, text)| format!("{place}={text}"))
                .collect::<Vec<_>>()
                .join(" ")
        };
        assert_eq!(of("t;p\r\n1,5;2,0\r\n"), "A1=t B1=p A2=1,5 B2=2,0");
        assert_eq!(
            of("Logger 7, made\nt\tp\n1\t2\n"),
            "A1=Logger 7, made A2=t B2=p A3=1 B3=2"
        );
        assert_eq!(of("sep=,\na,\"b;c\"\n"), "A1=a B1=b;c");
        assert_eq!(of("a,b\n\n1,2\n"), "A1=a B1=b A3=1 B3=2");
        assert_eq!(of("a,b\nx; y,1\nz,2\n"), "A1=a B1=b A2=x; y B2=1 A3=z B3=2");
        assert_eq!(
            of("t;p\n1,5;2,0\n1,6;2,1\n"),
            "A1=t B1=p A2=1,5 B2=2,0 A3=1,6 B3=2,1"
        );
    }

    #[test]
    fn text_is_known_by_its_letters() {
        assert_eq!(text("\u{feff}Δ °C".as_bytes()).as_deref(), Some("Δ °C"));
        assert_eq!(text(b"T (\xB0C)").as_deref(), Some("T (°C)"));
        assert_eq!(text(b"\xFF\xFEA\0;\0").as_deref(), Some("A;"));
        assert_eq!(text(b"\x7fELF\x02\x01\x01\0\0\0"), None);
    }
}
