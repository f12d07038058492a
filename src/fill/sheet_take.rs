//! A table → what of it is taken into the files, shown before it is taken. What is written
//! goes through the same fields, the same refusals and the same saver as in the form.

use std::fmt;
use std::path::Path;

use super::desk::Desk;
use super::document::keys;
use super::field_html::refusal;
use super::save::{NotSaved, SaveError, Saved, Sent, WAS, changed, save};
use super::sheet_columns::{self, Columns};
use super::sheet_form::{MARK, goes_along, key_of, label, steps_of_run};
use super::sheet_read::{Cell, Place, Sheet, called};
use super::steps::{Field, Part, Step};
use super::typed::{Entry, Setting};
use crate::view::Words;

/// One field that a table has something for.
#[derive(Debug, Clone)]
pub struct Given {
    /// The part that it belongs to.
    pub part: Part,
    /// The name of the field.
    pub name: String,
    /// Its cells.
    pub cells: Vec<(Place, Cell)>,
    /// The unit that the heading of its column names, if it is not the one of the field.
    pub unit: Option<String>,
}

/// How a table is read.
pub struct How<'a> {
    /// Which column is what; nothing for the program's own form.
    pub columns: Option<Columns<'a>>,
    /// Whether what the files say otherwise is replaced.
    pub replace: bool,
    /// What numbers are written like.
    pub setting: Setting,
}

/// Why nothing of a table is taken: what is wrong, line for line, and what to do.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TakeError {
    /// What is wrong.
    pub wrong: Vec<String>,
    /// What to do.
    pub hint: String,
}

impl fmt::Display for TakeError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.wrong.join("\n"))
    }
}

impl std::error::Error for TakeError {}

impl TakeError {
    /// One thing is wrong.
    pub fn one(wrong: impl Into<String>, hint: impl Into<String>) -> Self {
        Self {
            wrong: vec![wrong.into()],
            hint: hint.into(),
        }
    }
}

/// A figure as it is shown before it is taken.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Figure {
    /// The file that it goes into.
    pub file: &'static str,
    /// What it is.
    pub name: String,
    /// What the table says, with its unit.
    pub table: String,
    /// What the file says; may be empty.
    pub now: String,
    /// The first cell of it.
    pub cell: String,
}

/// What of a table is taken.
pub struct Taking {
    /// What is new, or replaces what a file says.
    pub taken: Vec<Figure>,
    /// What a file says otherwise, and is left as it is.
    pub left: Vec<Figure>,
    /// How many are in the files already.
    pub same: usize,
    /// A form for each part, with all of its fields.
    forms: Vec<(Step, Sent)>,
    setting: Setting,
}

/// Reads `sheet` as one of the job on `desk`.
///
/// # Errors
/// A [`TakeError`] where anything in it cannot be taken; then nothing of it is.
pub fn taking(
    desk: &Desk,
    sheet: &Sheet,
    words: &Words,
    how: &How<'_>,
) -> Result<Taking, TakeError> {
    let parts = [Part::Baseline, Part::Retest];
    let steps: Vec<Step> = parts
        .into_iter()
        .map(|part| whole(steps_of_run(desk, part, words, how.setting), part))
        .collect();
    let given = match &how.columns {
        None => of_form(sheet, &steps, words)?,
        Some(columns) => sheet_columns::given(sheet, &steps, columns)?,
    };
    let mut taking = Taking {
        taken: Vec::new(),
        left: Vec::new(),
        same: 0,
        forms: Vec::new(),
        setting: how.setting,
    };
    let mut wrong = Vec::new();
    for mut step in steps {
        let of_part: Vec<&Given> = given.iter().filter(|one| one.part == step.part).collect();
        if of_part.is_empty() {
            continue;
        }
        let mut sent = Sent::default();
        units(desk, &mut step, &of_part, &mut wrong);
        for one in &of_part {
            let Some(field) = step.fields.iter().find(|field| field.name() == one.name) else {
                continue;
            };
            match figure(field, one, how) {
                Ok((figure, typed)) => place(&mut taking, &mut sent, field, figure, typed, how),
                Err(reason) => wrong.push(reason),
            }
        }
        along(&step, &mut sent);
        match changed(desk, &step, &sent, how.setting) {
            Ok((_, saved)) => refused(&step, &of_part, &saved, words, &mut wrong),
            Err(error) => return Err(not_written(&error)),
        }
        let anything = taking
            .taken
            .iter()
            .any(|one| Some(one.file) == file_of(&step));
        if anything && desk.sealed(step.part.stage()).is_some() {
            return Err(TakeError::one(
                format!(
                    "{} is sealed: nothing is written into it",
                    file_of(&step).unwrap_or("")
                ),
                "to correct a mistake openly, change the file in an editor and seal again with \
                 `--amend \"why\"`; empty the cells of that run in the table to take the others",
            ));
        }
        taking.forms.push((step, sent));
    }
    match wrong.is_empty() {
        true => Ok(taking),
        false => Err(TakeError {
            wrong,
            hint: "correct these cells; until then nothing of the table is taken".to_owned(),
        }),
    }
}

impl Taking {
    /// Writes what is taken; each file whole or not at all.
    ///
    /// # Errors
    /// A [`TakeError`]; the file that it names is then as it was.
    pub fn write(&self, folder: &Path, desk: &Desk) -> Result<(), TakeError> {
        for (step, sent) in &self.forms {
            // A sealed part has nothing new.
            if desk.sealed(step.part.stage()).is_some() {
                continue;
            }
            save(folder, desk, step, sent, self.setting).map_err(|error| not_written(&error))?;
        }
        Ok(())
    }
}

/// All fields of a part as one page, so that they are written at once.
fn whole(steps: Vec<Step>, part: Part) -> Step {
    let mut whole = Step::new(part, part.word(), String::new());
    for step in steps {
        let title = step.title;
        whole
            .fields
            .extend(step.fields.into_iter().map(|field| Field {
                label: match field.target.table.is_empty() {
                    true => label(&field),
                    false => format!("{title}, {}", label(&field)),
                },
                ..field
            }));
    }
    whole
}

fn file_of(step: &Step) -> Option<&'static str> {
    step.part.media().map(crate::job::JobFile::name)
}

/// What a filled-in form of the program says.
fn of_form(sheet: &Sheet, steps: &[Step], words: &Words) -> Result<Vec<Given>, TakeError> {
    let mark = sheet.cells.iter().find(|(_, cell)| cell.text == MARK);
    let Some((&(heading, keys), _)) = mark else {
        return Err(TakeError::one(
            "this is not the form that `worksheet --as` makes",
            "for any other table, say which column is what, such as `--into baseline --column \
             crank-time=B`",
        ));
    };
    let english = Words::english().with_more(super::routes::ENGLISH);
    let column = |id: &str| {
        let names = [words.say(id), english.say(id)];
        let is_it =
            |(place, cell): &(&Place, &Cell)| place.0 == heading && names.contains(&cell.text);
        let found = sheet.cells.iter().find(is_it);
        found.map(|(place, _)| place.1).ok_or_else(|| {
            TakeError::one(
                format!("row {} has no column “{}”", heading + 1, names[0]),
                "leave the headings of the form as they were",
            )
        })
    };
    let columns = [column("fill-table-baseline")?, column("fill-table-retest")?];
    let mut given: Vec<Given> = Vec::new();
    let mut wrong = Vec::new();
    for (&(row, _), key) in sheet
        .cells
        .iter()
        .filter(|((row, column), _)| *row > heading && *column == keys)
    {
        for (step, column) in steps.iter().zip(columns) {
            let Some(cell) = sheet.cells.get(&(row, column)) else {
                continue;
            };
            let place = ((row, column), cell.clone());
            let Some(field) = step.fields.iter().find(|field| key_of(field) == key.text) else {
                wrong.push(format!(
                    "{}: the plan asks for no “{}”",
                    called((row, column)),
                    sheet.text((row, 0))
                ));
                continue;
            };
            let name = field.name();
            match given
                .iter_mut()
                .find(|one| one.part == step.part && one.name == name)
            {
                Some(one) => one.cells.push(place),
                None => given.push(Given {
                    part: step.part,
                    name,
                    cells: vec![place],
                    unit: None,
                }),
            }
        }
    }
    // A line whose key was lost would be lost in silence.
    for (place, _) in sheet
        .cells
        .iter()
        .filter(|(place, _)| place.0 > heading && columns.contains(&place.1))
    {
        if sheet.text((place.0, keys)).is_empty() {
            wrong.push(format!(
                "{}: its row has lost its last column, `{MARK}`",
                called(*place)
            ));
        }
    }
    match wrong.is_empty() {
        true => Ok(given),
        false => Err(TakeError {
            wrong,
            hint:
                "use a form made from the plan as it is now: `retestify worksheet FOLDER --as xlsx`"
                    .to_owned(),
        }),
    }
}

/// What a field is given, as it is shown, and as it is typed.
fn figure(field: &Field, given: &Given, how: &How<'_>) -> Result<(Figure, Vec<String>), String> {
    let at = |place: &Place| format!("{}: {}", called(*place), field.label);
    let mut typed = Vec::new();
    for (place, cell) in &given.cells {
        if cell.is_formula {
            return Err(format!(
                "{} is a formula; a reading is not worked out: put its value in place of it",
                at(place)
            ));
        }
        let is_odd = |c: char| c.is_control() && !matches!(c, '\n' | '\t' | '\r');
        if cell.text.chars().any(is_odd) {
            return Err(format!("{}: there is a control character in it", at(place)));
        }
        typed.extend(as_typed(cell, &field.entry, how.setting));
    }
    if typed.len() > 1 && field.entry != Entry::Numbers {
        let (last, _) = &given.cells[given.cells.len() - 1];
        return Err(format!(
            "{}: one is taken, and there are {}: name the row with `--rows`",
            at(last),
            typed.len()
        ));
    }
    let unit = given.unit.as_ref().unwrap_or(&field.unit);
    let shown = |texts: &[String]| {
        let texts = texts.join(" · ");
        match unit.as_str() {
            "" => texts,
            unit => format!("{texts} {unit}"),
        }
    };
    let figure = Figure {
        file: field.target.file.name(),
        name: field.label.clone(),
        table: shown(&typed),
        now: field.value.join(" · "),
        cell: given
            .cells
            .first()
            .map_or_else(String::new, |(place, _)| called(*place)),
    };
    Ok((figure, typed))
}

/// What would have been typed into the field.
fn as_typed(cell: &Cell, entry: &Entry, setting: Setting) -> Option<String> {
    let text = &cell.text;
    let typed = match entry {
        Entry::Number | Entry::Numbers | Entry::Whole if cell.is_number && setting.comma => {
            text.replace('.', ",")
        }
        Entry::Choice(choices) => {
            let is_it = |(written, label): &&(String, String)| {
                let wanted = text.to_lowercase();
                written.to_lowercase() == wanted || label.to_lowercase() == wanted
            };
            let found = choices.iter().find(is_it);
            found.map_or_else(|| text.clone(), |(written, _)| written.clone())
        }
        Entry::Tick | Entry::NoneOf => match text.to_lowercase().as_str() {
            "no" | "false" | "0" => return None,
            _ => "true".to_owned(),
        },
        Entry::List => text.replace(';', "\n"),
        _ => text.clone(),
    };
    Some(typed)
}

/// Puts a figure where it belongs: among what is taken, or what is left as it is.
fn place(
    taking: &mut Taking,
    sent: &mut Sent,
    field: &Field,
    figure: Figure,
    typed: Vec<String>,
    how: &How<'_>,
) {
    if typed.is_empty() {
        return;
    }
    let value = |text: &String| super::typed::value(text, &field.entry, None, how.setting);
    let shown = |text: &String| {
        let value = value(text).ok().flatten();
        value.map(|value| super::typed::shown(&value, &field.entry, how.setting))
    };
    let told: Vec<Option<String>> = typed.iter().map(shown).collect();
    let there: Vec<Option<String>> = field.value.iter().cloned().map(Some).collect();
    // More repeats behind those that are there take nothing away.
    let goes_on = field.entry == Entry::Numbers && told.starts_with(&there);
    if told == there {
        taking.same += 1;
        return;
    }
    if !there.is_empty() && !goes_on && !how.replace {
        taking.left.push(figure);
        return;
    }
    taking.taken.push(figure);
    sent.set_all(format!("{WAS}{}", field.name()), field.value.clone());
    sent.set_all(field.name(), typed);
}

/// The unit that a heading names is written with the figures, where none is there yet.
fn units(desk: &Desk, step: &mut Step, given: &[&Given], wrong: &mut Vec<String>) {
    for one in given {
        let Some(unit) = &one.unit else { continue };
        let table = step.fields.iter().find(|field| field.name() == one.name);
        let Some(table) = table.map(|field| field.target.table.clone()) else {
            continue;
        };
        // The table of the reading itself, above its rows.
        let above = table.get(..2).unwrap_or(&table).to_vec();
        let first = one
            .cells
            .first()
            .map_or_else(String::new, |(place, _)| called(*place));
        let file = step.part.media();
        let there = file.and_then(|file| desk.document(file));
        let there = there.map_or_else(Vec::new, |document| keys(document, &above));
        if there.iter().any(|key| key == "unit") {
            let file = file_of(step).unwrap_or_default();
            wrong.push(format!(
                "{first}: its column is in {unit}, and {file} has another unit for it: change that first"
            ));
            continue;
        }
        for field in step
            .fields
            .iter_mut()
            .filter(|field| field.target.table.starts_with(&above))
        {
            if let Some((_, with)) = field.with.iter_mut().find(|(key, _)| *key == "unit") {
                unit.clone_into(with);
            }
            if goes_along(field) {
                field.entry = Entry::Choice(vec![(unit.clone(), unit.clone())]);
                unit.clone_into(&mut field.offered);
            }
        }
    }
}

/// What goes along with figures as in the form: a unit that is the only choice, and the only
/// instrument that fits.
fn along(step: &Step, sent: &mut Sent) {
    for field in &step.fields {
        let is_offered = field.beside && !field.offered.is_empty() && field.target.key != "note";
        let has_figure = step.fields.iter().any(|other| {
            other.target.table.starts_with(&field.target.table) && sent.all(&other.name()).is_some()
        });
        if is_offered && has_figure && !field.is_filled() && sent.all(&field.name()).is_none() {
            sent.set_all(format!("{WAS}{}", field.name()), Vec::new());
            sent.set(field.name(), field.offered.clone());
        }
    }
}

/// What the fields do not take, with its cell.
fn refused(step: &Step, given: &[&Given], saved: &Saved, words: &Words, wrong: &mut Vec<String>) {
    for (name, (why, typed)) in &saved.kept_back {
        let field = step.fields.iter().find(|field| field.name() == *name);
        let one = given.iter().find(|one| one.name == *name);
        let first = one.and_then(|one| one.cells.first());
        let cell = first.map_or_else(String::new, |(place, _)| format!("{}: ", called(*place)));
        let label = field.map_or("", |field| field.label.as_str());
        let why = match why {
            NotSaved::Refused(why) => refusal(why, words),
            NotSaved::Changed { now } => words.say_with("fill-changed", &[("now", now)]),
        };
        wrong.push(format!("{cell}{label}: “{}”. {why}", typed.join(" · ")));
    }
}

fn not_written(error: &SaveError) -> TakeError {
    let (wrong, hint) = match error {
        SaveError::Sealed => ("the stage is sealed".to_owned(), "amend its seal"),
        SaveError::NotToml(file) => (
            format!("{} cannot be read: there is a mistake in it", file.name()),
            "`retestify check FOLDER` says where; correct it, then run the command again",
        ),
        SaveError::Moved(file) => (
            format!("{} was changed in this very moment", file.name()),
            "look at what it says now, then run the command again",
        ),
        SaveError::NotWritten(file, why) => (
            format!("{} was not written: {why}", file.name()),
            "check that you may write there",
        ),
    };
    TakeError::one(wrong, hint)
}
