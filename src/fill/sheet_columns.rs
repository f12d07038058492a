//! Any table, such as that of a logger, whose columns were named: one for each measure, a row
//! for each repeat or each position.

use super::document::Step as Down;
use super::sheet_read::{Cell, Place, Sheet, column_of, letters_of};
use super::sheet_take::{Given, TakeError};
use super::steps::{Field, Part, Step};
use super::typed::Entry;
use crate::intake::is_same_position;
use crate::quantity::Unit;

/// Which column is what.
#[derive(Debug)]
pub struct Columns<'a> {
    /// The run that they go into.
    pub into: Part,
    /// What is read, and its column: `crank-time=B`, `starts.passes=Passed`, `ambient=T1`,
    /// `pressure@2=P2`.
    pub named: &'a [String],
    /// The column that names the position of each row.
    pub positions: Option<&'a str>,
    /// The first and last row that are read, from 1.
    pub rows: Option<(u32, u32)>,
}

/// The most figures of one reading that are taken from a column.
const MOST: usize = 200;

/// What the columns say.
///
/// # Errors
/// A [`TakeError`] where a column, a row or a position is not what it was said to be.
pub fn given(
    sheet: &Sheet,
    steps: &[Step],
    columns: &Columns<'_>,
) -> Result<Vec<Given>, TakeError> {
    let step = steps.iter().find(|step| step.part == columns.into);
    let step = step.ok_or_else(|| TakeError::one("there is no such run", "`--into baseline`"))?;
    let mut wanted = Vec::new();
    for named in columns.named {
        let (what, column) = named.split_once('=').ok_or_else(|| {
            TakeError::one(
                format!("`--column {named}` does not say which column"),
                "write the measure, an equals sign, and the letter or the heading of its column: \
                 `--column crank-time=B`",
            )
        })?;
        wanted.push((what.trim(), Column::find(sheet, column.trim())?));
    }
    let positions = columns
        .positions
        .map(|name| Column::find(sheet, name))
        .transpose()?;
    let mut given = Vec::new();
    for (what, column) in &wanted {
        let cells = column.cells(sheet, columns.rows);
        let unit = column.unit();
        if cells.is_empty() {
            return Err(TakeError::one(
                format!("column {} has nothing for {what}", column.name()),
                "name the column that has the readings, and with `--rows` their rows",
            ));
        }
        if let Some(row) = column.split_by_commas(sheet, &cells) {
            return Err(TakeError::one(
                format!("row {} has more columns than its headings", row + 1),
                "a decimal comma may have been taken for the end of a column: save the table with \
                 semicolons between columns, or as .xlsx",
            ));
        }
        if cells.len() > MOST {
            return Err(TakeError::one(
                format!(
                    "column {} has {} figures for {what}",
                    column.name(),
                    cells.len()
                ),
                "a reading is one figure or a few repeats: name their rows, such as `--rows 12-14`",
            ));
        }
        match &positions {
            Some(positions) if !what.contains('@') && has_positions(step, what) => {
                for (place, cell) in cells {
                    let position = sheet.text((place.0, positions.number));
                    if position.is_empty() {
                        return Err(TakeError::one(
                            format!("row {} does not say its position", place.0 + 1),
                            format!("fill in column {}, or leave that row out", positions.name()),
                        ));
                    }
                    let field = field(step, &format!("{what}@{position}"))?;
                    add(
                        &mut given,
                        step.part,
                        field,
                        vec![(place, cell)],
                        unit_of(unit, field)?,
                    );
                }
            }
            _ => {
                let field = field(step, what)?;
                add(&mut given, step.part, field, cells, unit_of(unit, field)?);
            }
        }
    }
    Ok(given)
}

fn add(
    given: &mut Vec<Given>,
    part: Part,
    field: &Field,
    cells: Vec<(Place, Cell)>,
    unit: Option<String>,
) {
    let name = field.name();
    match given.iter_mut().find(|one: &&mut Given| one.name == name) {
        Some(one) => one.cells.extend(cells),
        None => given.push(Given {
            part,
            name,
            cells,
            unit,
        }),
    }
}

/// A column with its heading.
struct Column {
    number: u32,
    heading: Option<(Place, String)>,
}

impl Column {
    /// The column that is called `name`: by its letter or its heading.
    fn find(sheet: &Sheet, name: &str) -> Result<Self, TakeError> {
        let plain = |text: &str| text.trim().to_lowercase();
        let is_it = |text: &str| {
            let (without, _) = split_unit(text);
            plain(text) == plain(name) || plain(without) == plain(name)
        };
        // A capital letter is a column, whatever stands in the cells.
        let by_letter = column_of(name);
        let by_letter =
            by_letter.filter(|number| sheet.cells.keys().any(|(_, column)| column == number));
        let mut found = sheet.cells.iter().filter(|(_, cell)| is_it(&cell.text));
        if let (None, Some((place, cell))) = (by_letter, found.next()) {
            // The heading again further down is a second table.
            let other = found.find(|(other, _)| other.1 != place.1);
            if let Some((other, _)) = other {
                return Err(TakeError::one(
                    format!(
                        "columns {} and {} are both called “{name}”",
                        letters_of(place.1),
                        letters_of(other.1)
                    ),
                    "name the one by its letter",
                ));
            }
            return Ok(Self {
                number: place.1,
                heading: Some((*place, cell.text.clone())),
            });
        }
        let number = by_letter.ok_or_else(|| {
            TakeError::one(format!("there is no column “{name}”"), headings(sheet))
        })?;
        // The last words above the first figure.
        let mut cells = sheet
            .cells
            .iter()
            .filter(|((_, column), _)| *column == number);
        let is_figure = |cell: &Cell| {
            cell.is_number
                || cell.is_formula
                || cell
                    .text
                    .starts_with(|c: char| c.is_ascii_digit() || "+-−.,".contains(c))
        };
        let heading = cells
            .by_ref()
            .take_while(|(_, cell)| !is_figure(cell))
            .last();
        Ok(Self {
            number,
            heading: heading.map(|(place, cell)| (*place, cell.text.clone())),
        })
    }

    /// The first row of `cells` that goes on further than the headings, where commas divide
    /// the columns.
    fn split_by_commas(&self, sheet: &Sheet, cells: &[(Place, Cell)]) -> Option<u32> {
        let ((heading, _), _) = self.heading.as_ref()?;
        let last = |row: u32| sheet.cells.range((row, 0)..(row + 1, 0)).next_back();
        let end = last(*heading)?.0.1;
        let mut rows = cells.iter().map(|((row, _), _)| *row);
        let further = |row: &u32| last(*row).is_some_and(|((_, column), _)| *column > end);
        rows.find(further)
            .filter(|_| sheet.divided_by == Some(b','))
    }

    fn name(&self) -> String {
        match &self.heading {
            Some((_, text)) => format!("{} (“{text}”)", letters_of(self.number)),
            None => letters_of(self.number),
        }
    }

    /// The unit that the heading names.
    fn unit(&self) -> Option<&str> {
        split_unit(&self.heading.as_ref()?.1).1
    }

    /// What stands in it below its heading, in the rows that were named.
    fn cells(&self, sheet: &Sheet, rows: Option<(u32, u32)>) -> Vec<(Place, Cell)> {
        let below = self.heading.as_ref().map_or(0, |((row, _), _)| row + 1);
        let is_read = |row: u32| match rows {
            Some((first, last)) => (first..=last).contains(&(row + 1)),
            None => row >= below,
        };
        let cells = sheet.cells.iter();
        let cells = cells.filter(|(place, _)| place.1 == self.number && is_read(place.0));
        cells.map(|(place, cell)| (*place, cell.clone())).collect()
    }
}

/// The headings of the first row that has any, to choose from.
fn headings(sheet: &Sheet) -> String {
    let width = |row: u32| sheet.cells.range((row, 0)..(row + 1, 0)).count();
    let rows = sheet.cells.keys().map(|(row, _)| *row).take(600);
    let widest = rows
        .max_by_key(|row| (width(*row), std::cmp::Reverse(*row)))
        .unwrap_or(0);
    let cells = sheet.cells.range((widest, 0)..(widest + 1, 0)).take(12);
    let names: Vec<String> = cells
        .map(|(place, cell)| {
            let text: String = cell.text.chars().take(30).collect();
            format!("{} “{text}”", letters_of(place.1))
        })
        .collect();
    format!(
        "name one by its letter or its heading; row {} has {}",
        widest + 1,
        names.join(", ")
    )
}

/// `Drift (mm)`, `Drift [mm]`, `Drift / mm` and `Drift, mm` as the words and the unit.
fn split_unit(heading: &str) -> (&str, Option<&str>) {
    let heading = heading.trim();
    for (open, close) in [('(', ')'), ('[', ']')] {
        if let Some((words, unit)) = heading
            .strip_suffix(close)
            .and_then(|rest| rest.rsplit_once(open))
        {
            return (words.trim(), Some(unit.trim()));
        }
    }
    for sign in [" / ", ", ", " in ", " en "] {
        if let Some((words, unit)) = heading.rsplit_once(sign)
            && Unit::named(unit.trim()).is_some()
        {
            return (words.trim(), Some(unit.trim()));
        }
    }
    (heading, None)
}

/// The unit of a heading, where it is another than that of the field.
fn unit_of(heading: Option<&str>, field: &Field) -> Result<Option<String>, TakeError> {
    let Some(text) = heading.filter(|_| !field.unit.is_empty()) else {
        return Ok(None);
    };
    let planned = Unit::named(&field.unit);
    let wrong = |what: &str| {
        TakeError::one(
            format!(
                "the heading says {what}, and {} is read in {}",
                field.label, field.unit
            ),
            "name the right column, or correct its heading",
        )
    };
    let Some(unit) = Unit::named(text) else {
        return Err(wrong(&format!("“{text}”, which is no unit")));
    };
    match planned {
        Some(planned) if planned.symbol() == unit.symbol() => Ok(None),
        Some(planned) if planned.dimension() == unit.dimension() => {
            Ok(Some(unit.symbol().to_owned()))
        }
        _ => Err(wrong(unit.symbol())),
    }
}

/// The parts of `measure@position.key`.
fn parts(what: &str) -> (&str, Option<&str>, Option<&str>) {
    let (id, position) = match what.split_once('@') {
        Some((id, position)) => (id, Some(position)),
        None => (what, None),
    };
    match id.split_once('.') {
        Some((id, key)) => (id, position, Some(key)),
        None => (id, position, None),
    }
}

/// Whether a field is of the condition or the measure that is called `id`.
fn is_of(field: &Field, id: &str) -> bool {
    let mut down = field.target.table.iter();
    let first =
        matches!(down.next(), Some(Down::Key(key)) if key == "condition" || key == "reading");
    let is_id = matches!(down.next(), Some(Down::Key(key)) if key.eq_ignore_ascii_case(id));
    let name = field.label.to_lowercase();
    // By its name too, as the page calls it.
    first
        && (is_id
            || name.starts_with(&format!("{}, ", id.to_lowercase()))
            || name == id.to_lowercase())
}

fn position(field: &Field) -> Option<&str> {
    match field.target.table.last() {
        Some(Down::At(name)) => Some(name),
        _ => None,
    }
}

fn has_positions(step: &Step, what: &str) -> bool {
    let (id, _, _) = parts(what);
    let mut of = step.fields.iter().filter(|field| is_of(field, id));
    of.any(|field| position(field).is_some())
}

/// The field that a column was named for.
fn field<'a>(step: &'a Step, what: &str) -> Result<&'a Field, TakeError> {
    let (id, at, key) = parts(what);
    let of: Vec<&Field> = step
        .fields
        .iter()
        .filter(|field| is_of(field, id))
        .collect();
    if of.is_empty() {
        let mut ids: Vec<&str> = Vec::new();
        for field in &step.fields {
            if let [Down::Key(list), Down::Key(id), ..] = field.target.table.as_slice()
                && matches!(list.as_str(), "condition" | "reading")
                && !ids.contains(&id.as_str())
            {
                ids.push(id);
            }
        }
        return Err(TakeError::one(
            format!("the plan has no measure or condition “{id}”"),
            format!("it has {}", ids.join(", ")),
        ));
    }
    let is_figure = |field: &&&Field| match key {
        Some(key) => field.target.key == key,
        None => {
            let is_rare = matches!(
                field.target.key,
                "not_taken" | "note" | "instrument" | "unit"
            );
            !is_rare && field.entry != Entry::NoneOf
        }
    };
    let mut figures = of.iter().filter(is_figure);
    let found = match at {
        Some(at) => {
            figures.find(|field| position(field).is_some_and(|name| is_same_position(name, at)))
        }
        None => figures.find(|field| position(field).is_none()),
    };
    found.copied().ok_or_else(|| {
        let names: Vec<&str> = of.iter().filter_map(|field| position(field)).collect();
        let (wrong, hint) = match (at, names.as_slice()) {
            (Some(at), [_, ..]) => {
                let mut known = names.clone();
                known.dedup();
                (
                    format!("{id} has no position “{at}”"),
                    format!("it has {}", known.join(", ")),
                )
            }
            (None, [first, ..]) => (
                format!("{id} is read at positions"),
                format!(
                    "name the column that says the position of each row, `--positions COLUMN`, or \
                     one column for each: `--column {id}@{first}=B`"
                ),
            ),
            (_, []) => (
                format!("{what} is not asked for"),
                "name a measure, and where it has several figures, which: `--column \
                 starts.passes=B`"
                    .to_owned(),
            ),
        };
        TakeError::one(wrong, hint)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_heading_has_a_unit_behind_it() {
        for (heading, words, unit) in [
            ("Drift (mm)", "Drift", Some("mm")),
            ("Drift [mm]", "Drift", Some("mm")),
            ("Drift / mm", "Drift", Some("mm")),
            ("Drift, mm", "Drift", Some("mm")),
            ("Drift", "Drift", None),
            ("Before, left", "Before, left", None),
        ] {
            assert_eq!(split_unit(heading), (words, unit), "{heading}");
        }
    }

    #[test]
    fn what_is_named_has_a_position_and_a_key() {
        assert_eq!(parts("p"), ("p", None, None));
        assert_eq!(parts("p@drive end"), ("p", Some("drive end"), None));
        assert_eq!(
            parts("starts.passes@2"),
            ("starts", Some("2"), Some("passes"))
        );
        assert_eq!(parts("flow@0.5"), ("flow", Some("0.5"), None));
    }
}
