//! The steps of filling in a job, in working order: each is one page with a few fields.

use toml_edit::DocumentMut;

use super::desk::Desk;
use super::document::{Step as Down, Target, keys, read};
use super::typed::{Entry, Setting};
use super::{plan_steps, run_steps, work_steps};
use crate::job::{JobFile, Stage};
use crate::view::Words;

/// A part of the job, in the order in which it happens.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Part {
    /// What is fixed before anything is measured.
    Plan,
    /// The readings before the work.
    Baseline,
    /// What was done.
    Work,
    /// The readings after it.
    Retest,
}

impl Part {
    /// All, in order.
    pub const ALL: [Self; 4] = [Self::Plan, Self::Baseline, Self::Work, Self::Retest];

    /// Its word in an address.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Plan => "plan",
            Self::Baseline => "baseline",
            Self::Work => "work",
            Self::Retest => "retest",
        }
    }

    /// The message that names it.
    pub const fn title(self) -> &'static str {
        match self {
            Self::Plan => "fill-part-plan",
            Self::Baseline => "fill-part-baseline",
            Self::Work => "fill-part-work",
            Self::Retest => "fill-part-retest",
        }
    }

    /// The stage whose seal closes it.
    pub const fn stage(self) -> Stage {
        match self {
            Self::Plan | Self::Baseline => Stage::Baseline,
            Self::Work | Self::Retest => Stage::Retest,
        }
    }

    /// The file that its photos and films are named in; the plan has none.
    pub const fn media(self) -> Option<JobFile> {
        match self {
            Self::Plan => None,
            Self::Baseline => Some(JobFile::Baseline),
            Self::Work => Some(JobFile::Work),
            Self::Retest => Some(JobFile::Retest),
        }
    }
}

/// One field of a page.
#[derive(Debug, Clone)]
pub struct Field {
    /// Where it is written.
    pub target: Target,
    /// What it takes.
    pub entry: Entry,
    /// What it is.
    pub label: String,
    /// What stands behind it: the unit; may be empty.
    pub unit: String,
    /// What helps to fill it in; may be empty.
    pub help: String,
    /// Whether it must be filled in before the step is done.
    pub needed: bool,
    /// What is offered while it is empty; may be empty.
    pub offered: String,
    /// Whether it is written only beside a figure, and not alone.
    pub beside: bool,
    /// Keys that are written in the same table with a figure.
    pub with: Vec<(&'static str, String)>,
    /// How many repeats are shown at least.
    pub repeats: usize,
    /// The row of a table that it stands in; the label of the row.
    pub row: Option<String>,
    /// What the file says.
    pub value: Vec<String>,
}

impl Field {
    /// A field for `key` of the table at `table`.
    pub fn new(
        file: JobFile,
        table: &[Down],
        key: &'static str,
        entry: Entry,
        label: String,
    ) -> Self {
        Self {
            target: Target {
                file,
                table: table.to_vec(),
                key,
            },
            entry,
            label,
            unit: String::new(),
            help: String::new(),
            needed: false,
            offered: String::new(),
            beside: false,
            with: Vec::new(),
            repeats: 1,
            row: None,
            value: Vec::new(),
        }
    }

    /// The same, which must be filled in.
    pub fn needed(mut self) -> Self {
        self.needed = true;
        self
    }

    /// The same with a unit behind it.
    pub fn unit(mut self, unit: &str) -> Self {
        unit.clone_into(&mut self.unit);
        self
    }

    /// The same with help.
    pub fn help(mut self, help: String) -> Self {
        self.help = help;
        self
    }

    /// Its name in the form.
    pub fn name(&self) -> String {
        self.target.to_string()
    }

    /// What the page calls the `part` of it. It is made from the name, so that it is the same
    /// on a page with more fields: the script looks for it there.
    pub fn id(&self, part: &str) -> String {
        let mut id = format!("{part}-");
        for c in self.name().chars() {
            match c {
                'a'..='z' | 'A'..='Z' | '0'..='9' | '-' => id.push(c),
                other => id += &format!("_{:x}_", u32::from(other)),
            }
        }
        id
    }

    /// Whether anything is filled in.
    pub fn is_filled(&self) -> bool {
        self.value.iter().any(|text| !text.is_empty())
    }
}

/// What a page lets count by tapping: the fields of passes and attempts.
#[derive(Debug, Clone)]
pub struct Tally {
    /// The name of the field with the passes.
    pub passes: String,
    /// The name of the field with the attempts.
    pub attempts: String,
    /// The position; may be empty.
    pub label: String,
}

/// One page.
#[derive(Debug, Clone)]
pub struct Step {
    /// The part that it belongs to.
    pub part: Part,
    /// Its word in an address.
    pub id: String,
    /// What it is about.
    pub title: String,
    /// How it is done, what to mind, the limit: one line each.
    pub notes: Vec<String>,
    /// The fields.
    pub fields: Vec<Field>,
    /// The counts that can be tapped.
    pub tallies: Vec<Tally>,
    /// The measure that it reads, by its id.
    pub measure: Option<String>,
    /// Whether photos and films are taken here.
    pub media: bool,
    /// Whether one of several ways is enough to be done, as for a reading.
    pub any: bool,
}

impl Step {
    /// A page without fields.
    pub fn new(part: Part, id: &str, title: String) -> Self {
        Self {
            part,
            id: id.to_owned(),
            title,
            notes: Vec::new(),
            fields: Vec::new(),
            tallies: Vec::new(),
            measure: None,
            media: false,
            any: false,
        }
    }

    /// Its address.
    pub fn address(&self) -> String {
        format!("/{}/{}", self.part.word(), self.id)
    }

    /// Whether all that must be filled in is.
    pub fn is_done(&self) -> bool {
        let needed = |field: &&Field| field.needed;
        if self.any {
            let not_taken = |field: &&Field| field.target.key == "not_taken" && field.is_filled();
            let nothing = |field: &Field| field.entry == Entry::NoneOf && field.is_filled();
            let not_at: Vec<_> = self.fields.iter().filter(not_taken).collect();
            // Of the whole reading, or at the position of the field.
            let excused = |field: &Field| {
                not_at
                    .iter()
                    .any(|why| why.target.table == field.target.table)
            };
            return not_at.iter().any(|why| why.row.is_none())
                || self.fields.iter().any(nothing)
                || self
                    .fields
                    .iter()
                    .filter(needed)
                    .all(|field| field.is_filled() || excused(field));
        }
        self.fields.iter().filter(needed).all(Field::is_filled)
    }

    /// Whether it has to be done at all.
    pub fn is_asked(&self) -> bool {
        self.fields.iter().any(|field| field.needed)
    }
}

/// All steps of the job as it lies there.
pub fn steps(desk: &Desk, words: &Words, setting: Setting) -> Vec<Step> {
    let mut steps = plan_steps::steps(desk, words);
    if let Some(plan) = &desk.plan {
        steps.extend(run_steps::steps(desk, plan, Part::Baseline, words, setting));
        steps.extend(work_steps::steps(desk, words));
        steps.extend(run_steps::steps(desk, plan, Part::Retest, words, setting));
    }
    look_up(&mut steps, desk, setting);
    for step in &mut steps {
        let more = in_file_only(step, desk, words);
        step.notes.extend(more);
    }
    steps
}

/// Gives the fields what the files say.
pub fn look_up(steps: &mut [Step], desk: &Desk, setting: Setting) {
    for field in steps.iter_mut().flat_map(|step| &mut step.fields) {
        field.value = match desk.document(field.target.file) {
            Some(document) => read(document, &field.target, &field.entry, setting),
            None => Vec::new(),
        };
    }
}

/// What the tables that a step writes into say besides, one line for each: the form never
/// hides what counts.
fn in_file_only(step: &Step, desk: &Desk, words: &Words) -> Vec<String> {
    let mut seen: Vec<(JobFile, &[Down])> = Vec::new();
    let mut lines = Vec::new();
    for field in &step.fields {
        let (file, table) = (field.target.file, field.target.table.as_slice());
        // Outside of all tables, a file says what other steps ask.
        if table.is_empty() || seen.contains(&(file, table)) {
            continue;
        }
        seen.push((file, table));
        let found = desk.document(file);
        let mut found = found.map_or_else(Vec::new, |document| keys(document, table));
        found.retain(|key| !is_asked_for(step, file, table, key));
        if found.is_empty() {
            continue;
        }
        let is_condition = table.first() == Some(&Down::Key("condition".to_owned()));
        let place = match &field.row {
            Some(row) => row,
            None if is_condition => &field.label,
            None => &step.title,
        };
        let arguments = [
            ("where", place.as_str()),
            ("file", file.name()),
            ("keys", &found.join(", ")),
        ];
        lines.push(words.say_with("fill-also-in-file", &arguments));
    }
    lines
}

/// Whether a step has a field for `key` of the table at `table`, or one below it.
fn is_asked_for(step: &Step, file: JobFile, table: &[Down], key: &str) -> bool {
    if key == "at" && matches!(table.last(), Some(Down::At(_))) {
        return true;
    }
    step.fields
        .iter()
        .filter(|field| field.target.file == file)
        .any(|field| match field.target.table.strip_prefix(table) {
            Some([]) => {
                field.target.key == key
                    || field.with.iter().any(|(with, _)| *with == key)
                    || (field.entry == Entry::Numbers && key == "values")
            }
            Some([below, ..]) => *below == Down::Key(key.to_owned()),
            None => false,
        })
}

/// How many tables the list under `key` of a file has.
pub fn tables(document: Option<&DocumentMut>, key: &str) -> usize {
    let item = document.and_then(|document| document.get(key));
    item.and_then(|item| item.as_array_of_tables())
        .map_or(0, toml_edit::ArrayOfTables::len)
}
