//! The form as a table: a line for each figure of a run, with a column for each of the two
//! runs. What is in the job already is not in it, as on paper: nobody reads towards a figure.

use super::desk::Desk;
use super::run_steps::steps_with;
use super::steps::{Field, Part, Step};
use super::typed::{Entry, Setting};
use crate::view::Words;

/// What the heading of the last column is, by which the table is known.
pub const MARK: &str = "retestify-1";
/// How many entries of a list there is room for.
const ENTRIES: usize = 5;

/// A table to fill in.
#[derive(Debug)]
pub struct Form {
    /// What it is of, and how it is used; one line each.
    pub head: Vec<String>,
    /// The headings of its columns.
    pub headings: [String; 7],
    /// Its lines.
    pub lines: Vec<Line>,
}

/// One line of it.
#[derive(Debug)]
pub struct Line {
    /// What is read.
    pub what: String,
    /// Which figure of it.
    pub field: String,
    /// In which unit; may be empty.
    pub unit: String,
    /// How, and the limit; may be empty.
    pub help: String,
    /// The field, for when the table comes back.
    pub key: String,
}

/// The steps of one run with room for the entries of lists; none where nothing can be planned
/// yet.
pub fn steps_of_run(desk: &Desk, part: Part, words: &Words, setting: Setting) -> Vec<Step> {
    let Some(plan) = &desk.plan else {
        return Vec::new();
    };
    let mut steps = steps_with(desk, plan, part, words, setting, ENTRIES);
    super::steps::look_up(&mut steps, desk, setting);
    steps
}

/// What a field is called in both runs: its name without the file.
pub fn key_of(field: &Field) -> String {
    let name = field.name();
    let key = name.strip_prefix(field.target.file.name());
    key.unwrap_or(&name)
        .trim_start_matches(['/', '.'])
        .to_owned()
}

/// Whether a field is asked for in a table: a unit that is the only choice goes along.
pub fn is_asked(field: &Field) -> bool {
    !goes_along(field)
}

/// Whether a field has only one choice, which is not asked.
pub fn goes_along(field: &Field) -> bool {
    let is_one = matches!(&field.entry, Entry::Choice(choices) if choices.len() == 1);
    is_one && field.target.key == "unit"
}

/// What a field is called in a line of its own.
pub fn label(field: &Field) -> String {
    match &field.row {
        Some(row) if !field.label.contains(row.as_str()) => format!("{row}: {}", field.label),
        _ => field.label.clone(),
    }
}

/// The form of the job on `desk`.
pub fn form(desk: &Desk, words: &Words, setting: Setting) -> Form {
    let mut lines = Vec::new();
    for step in steps_of_run(desk, Part::Baseline, words, setting) {
        let mut notes = step.notes.join(" · ");
        for field in step.fields.iter().filter(|field| is_asked(field)) {
            for repeat in 0..field.repeats {
                let mut name = label(field);
                if field.repeats > 1 {
                    name += &format!(" ({})", repeat + 1);
                }
                lines.push(Line {
                    what: step.title.clone(),
                    field: name,
                    unit: field.unit.clone(),
                    help: help(std::mem::take(&mut notes), field),
                    key: key_of(field),
                });
            }
        }
    }
    let plan = desk.plan.as_ref();
    let of = plan.map_or_else(String::new, |plan| {
        format!("{} · {}", plan.number, plan.machine.name)
    });
    let headings = [
        "fill-table-what",
        "fill-table-field",
        "fill-unit",
        "fill-table-baseline",
        "fill-table-retest",
        "fill-table-help",
    ];
    let [what, field, unit, baseline, retest, help] = headings.map(|id| words.say(id));
    Form {
        head: vec![of, words.say("fill-table-use")],
        headings: [what, field, unit, baseline, retest, help, MARK.to_owned()],
        lines,
    }
}

/// What stands beside the empty cell.
fn help(notes: String, field: &Field) -> String {
    let choices = match &field.entry {
        Entry::Choice(choices) => {
            let written = choices.iter().map(|(written, _)| written.as_str());
            written.collect::<Vec<_>>().join(" / ")
        }
        Entry::Moment => "2026-03-05 06:40".to_owned(),
        Entry::NoneOf | Entry::Tick => "x".to_owned(),
        _ => String::new(),
    };
    let parts = [notes, field.help.clone(), choices];
    let parts = parts.into_iter().filter(|part| !part.is_empty());
    parts.collect::<Vec<_>>().join(" · ")
}
