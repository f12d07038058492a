//! The worksheet as a table, and tables that are taken into a job.

use super::desk::Desk;
use super::routes::Job;
use super::sheet_columns::Columns;
use super::sheet_form::{self, MARK};
use super::sheet_read::{Sheet, sheets};
use super::sheet_take::{How, TakeError, Taking, taking};
use super::sheet_write;
use super::steps::Part;
use super::typed::{Setting, Zone};
use crate::job::Stage;

/// What a table is written as.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TableKind {
    /// A workbook.
    Xlsx,
    /// Text.
    Csv,
}

/// Which table of a file is taken, and how.
#[derive(Debug)]
pub struct Ask<'a> {
    /// The name of the sheet; the form, or the first one, if none is named.
    pub sheet: Option<&'a str>,
    /// The run that named columns go into; nothing for the program's own form.
    pub into: Option<Stage>,
    /// What is read, and its column.
    pub columns: &'a [String],
    /// The column that says the position of each row.
    pub positions: Option<&'a str>,
    /// The rows that are read, from 1.
    pub rows: Option<(u32, u32)>,
    /// Whether the decimal sign is a comma; worked out from the cells if it is not told.
    pub comma: Option<bool>,
    /// Whether what the files say otherwise is replaced.
    pub replace: bool,
}

/// The worksheet of `job` as a table.
///
/// # Errors
/// Why there is none.
pub fn worksheet_table(job: &Job, zone: Zone, kind: TableKind) -> Result<Vec<u8>, String> {
    let desk = Desk::read(&job.folder).map_err(|error| error.to_string())?;
    let setting = setting(job, zone, None);
    let form = sheet_form::form(&desk, &job.words, setting);
    match kind {
        TableKind::Csv => sheet_write::csv(&form, setting.comma),
        TableKind::Xlsx => sheet_write::xlsx(&form, &job.words.say("fill-table-sheet")),
    }
}

/// A table that was read and not taken yet.
pub struct Prepared {
    /// What is taken of it.
    pub taking: Taking,
    desk: Desk,
}

/// Reads the table in `bytes` for `job`; nothing is written yet.
///
/// # Errors
/// A [`TakeError`] where the file or anything in it cannot be taken.
pub fn prepare(
    job: &Job,
    zone: Zone,
    bytes: Vec<u8>,
    ask: &Ask<'_>,
) -> Result<Prepared, TakeError> {
    let sheets = sheets(bytes).map_err(|error| TakeError::one(error.to_string(), error.hint()))?;
    let sheet = choose(&sheets, ask)?;
    let desk = Desk::read(&job.folder).map_err(|error| {
        TakeError::one(
            format!("the job cannot be read: {error}"),
            "check that you may read it",
        )
    })?;
    if desk.plan.is_none() {
        return Err(TakeError::one(
            "something is wrong with job.toml or limits.toml, so that nothing can be read by them",
            "`retestify check FOLDER` says what",
        ));
    }
    let columns = ask.into.map(|stage| Columns {
        into: match stage {
            Stage::Baseline => Part::Baseline,
            Stage::Retest => Part::Retest,
        },
        named: ask.columns,
        positions: ask.positions,
        rows: ask.rows,
    });
    let how = How {
        columns,
        replace: ask.replace,
        setting: setting(job, zone, ask.comma.or_else(|| decimal_comma(sheet))),
    };
    let taking = taking(&desk, sheet, &job.words, &how)?;
    Ok(Prepared { taking, desk })
}

impl Prepared {
    /// Writes what is taken into the files of `job`.
    ///
    /// # Errors
    /// A [`TakeError`]; what it names was not written.
    pub fn write(&self, job: &Job) -> Result<(), TakeError> {
        self.taking.write(&job.folder, &self.desk)
    }
}

fn setting(job: &Job, zone: Zone, comma: Option<bool>) -> Setting {
    let here = Setting::of(job.words.decimal_sign(), zone);
    Setting {
        comma: comma.unwrap_or(here.comma),
        ..here
    }
}

fn choose<'a>(sheets: &'a [Sheet], ask: &Ask<'_>) -> Result<&'a Sheet, TakeError> {
    let names = || {
        let names: Vec<&str> = sheets.iter().map(|sheet| sheet.name.as_str()).collect();
        names.join(", ")
    };
    if let Some(name) = ask.sheet {
        let found = sheets.iter().find(|sheet| sheet.name == name);
        return found.ok_or_else(|| {
            TakeError::one(
                format!("there is no sheet “{name}” in it"),
                match names().as_str() {
                    "" => "a .csv file has no sheets: leave out `--sheet`".to_owned(),
                    names => format!("it has {names}"),
                },
            )
        });
    }
    let has_mark = |sheet: &&Sheet| sheet.cells.values().any(|cell| cell.text == MARK);
    let form = sheets.iter().find(has_mark).filter(|_| ask.into.is_none());
    let full = sheets.iter().find(|sheet| !sheet.cells.is_empty());
    form.or(full)
        .ok_or_else(|| TakeError::one("there is nothing in it", "name the file with the readings"))
}

/// Whether the figures of a sheet have a decimal comma, where they say so: `22,5` does, and
/// `1,022` may be either.
fn decimal_comma(sheet: &Sheet) -> Option<bool> {
    let has = |sign: char| {
        let texts = sheet.cells.values().filter(|cell| !cell.is_number);
        let mut figures = texts.filter_map(|cell| cell.text.split_once(sign));
        let are_digits = |text: &str| text.bytes().all(|b| b.is_ascii_digit());
        figures.any(|(whole, fraction)| {
            let whole = whole.trim_start_matches(['-', '−', '–', '+']);
            let is_figure = are_digits(whole) && are_digits(fraction) && !fraction.is_empty();
            is_figure && (fraction.len() != 3 || matches!(whole, "" | "0"))
        })
    };
    match (has(','), has('.')) {
        (true, false) => Some(true),
        (false, true) => Some(false),
        // What divides columns by semicolons has commas in its figures.
        (false, false) if sheet.divided_by == Some(b';') => Some(true),
        _ => None,
    }
}
