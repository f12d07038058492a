//! A form that was sent → the files, whole or not at all.
//!
//! Each field comes with what the page had found in the file. Only what was changed on the
//! page is written, and only where the file still says what the page had found: another
//! window, another phone and an editor lose nothing in silence.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use toml_edit::DocumentMut;

use super::desk::Desk;
use super::document::{Change, read, write};
use super::steps::{Field, Step};
use super::tidy::tidy;
use super::typed::{Entry, Refusal, Setting};
use crate::files::{WriteError, hold, replace_text};
use crate::job::JobFile;

/// What comes before the name of a field that holds what the page had found.
pub const WAS: &str = "was:";

/// The fields of a form that was sent, each with its values in order.
#[derive(Debug, Default, Clone)]
pub struct Sent(BTreeMap<String, Vec<String>>);

impl Sent {
    /// Takes a form as a browser encodes it.
    pub fn of(body: &[u8]) -> Self {
        let mut sent = BTreeMap::<String, Vec<String>>::new();
        for (name, value) in form_urlencoded::parse(body) {
            sent.entry(name.into_owned())
                .or_default()
                .push(value.into_owned());
        }
        Self(sent)
    }

    /// The values of a field; none if it is not in the form.
    pub fn all(&self, name: &str) -> Option<&[String]> {
        self.0.get(name).map(Vec::as_slice)
    }

    /// The value of a field that has one.
    pub fn one(&self, name: &str) -> &str {
        self.0
            .get(name)
            .and_then(|values| values.first())
            .map_or("", String::as_str)
    }

    /// Sets a field.
    pub fn set(&mut self, name: String, value: String) {
        self.0.insert(name, vec![value]);
    }

    /// Sets a field to several values.
    pub fn set_all(&mut self, name: String, values: Vec<String>) {
        self.0.insert(name, values);
    }
}

/// Why what was typed into a field is not in the file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NotSaved {
    /// It is not taken.
    Refused(Refusal),
    /// The file says something else than the page had found.
    Changed {
        /// What the file says now.
        now: String,
    },
}

/// What became of a form.
#[derive(Debug, Default)]
pub struct Saved {
    /// The files that were written.
    pub written: Vec<JobFile>,
    /// The fields that were not, by name: why, and what was typed.
    pub kept_back: BTreeMap<String, (NotSaved, Vec<String>)>,
}

/// Why nothing was written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum SaveError {
    /// The stage is sealed.
    Sealed,
    /// A file is no TOML just now, so that nothing can be written into it.
    NotToml(JobFile),
    /// A file changed in the very moment of writing.
    Moved(JobFile),
    /// The file could not be written.
    NotWritten(JobFile, WriteError),
}

/// Writes what was changed in `sent` of the fields of `step`.
///
/// # Errors
/// A [`SaveError`]; nothing of the file it names is then written.
pub fn save(
    folder: &Path,
    desk: &Desk,
    step: &Step,
    sent: &Sent,
    setting: Setting,
) -> Result<Saved, SaveError> {
    if desk.sealed(step.part.stage()).is_some() {
        return Err(SaveError::Sealed);
    }
    // Nobody seals while something is written.
    let _held = hold(folder).map_err(|error| SaveError::NotWritten(JobFile::Job, error))?;
    let (texts, mut saved) = changed(desk, step, sent, setting)?;
    for (file, text) in texts {
        let now = desk.files.get(&file).ok_or(SaveError::NotToml(file))?;
        match replace_text(&folder.join(file.name()), now.digest, text.as_bytes()) {
            Ok(()) => saved.written.push(file),
            Err(WriteError::Changed) => return Err(SaveError::Moved(file)),
            Err(error) => return Err(SaveError::NotWritten(file, error)),
        }
    }
    Ok(saved)
}

/// What [`save`] would write: the files that change with their new texts, and the fields that
/// would be kept back.
///
/// # Errors
/// A [`SaveError`] where a file is no TOML.
pub fn changed(
    desk: &Desk,
    step: &Step,
    sent: &Sent,
    setting: Setting,
) -> Result<(Vec<(JobFile, String)>, Saved), SaveError> {
    let mut saved = Saved::default();
    let mut texts = Vec::new();
    let files: BTreeSet<JobFile> = step.fields.iter().map(|field| field.target.file).collect();
    for file in files {
        let now = desk.files.get(&file).ok_or(SaveError::NotToml(file))?;
        let mut document = now.document.clone().ok_or(SaveError::NotToml(file))?;
        let fields: Vec<&Field> = step
            .fields
            .iter()
            .filter(|field| field.target.file == file)
            .collect();
        // Figures first: what stands beside one is only written where there is one.
        for beside in [false, true] {
            for field in fields.iter().filter(|field| field.beside == beside) {
                if let Some(problem) = apply(&mut document, field, sent, setting) {
                    let typed = sent.all(&field.name()).unwrap_or_default().to_vec();
                    saved.kept_back.insert(field.name(), (problem, typed));
                }
            }
        }
        let text = document.to_string();
        if text.as_bytes() != now.bytes {
            texts.push((file, tidy(&text)));
        }
    }
    Ok((texts, saved))
}

/// Writes one field into the document, if it was changed on the page.
fn apply(
    document: &mut DocumentMut,
    field: &Field,
    sent: &Sent,
    setting: Setting,
) -> Option<NotSaved> {
    let name = field.name();
    let was = filled(sent.all(&format!("{WAS}{name}"))?);
    // A box that is not ticked is not sent.
    let typed = match (sent.all(&name), &field.entry) {
        (Some(typed), _) => typed.to_vec(),
        (None, Entry::Tick | Entry::NoneOf) => Vec::new(),
        (None, _) => return None,
    };
    let told = filled(&typed);
    if told == was {
        return None;
    }
    let found = read(document, &field.target, &field.entry, setting);
    let now = filled(&found);
    if told == now {
        return None;
    }
    // It would take them out.
    if field.entry == Entry::NoneOf && !told.is_empty() {
        let mut entries = field.target.table.clone();
        entries.push(super::document::Step::Key(field.target.key.to_owned()));
        if super::document::rows(document, &entries) > 0 {
            return Some(NotSaved::Refused(Refusal::HasEntries));
        }
    }
    if now != was {
        return Some(NotSaved::Changed {
            now: now.join(" · "),
        });
    }
    if field.beside && !has_figure(document, field) {
        return None;
    }
    let change = Change {
        target: &field.target,
        entry: &field.entry,
        typed: &typed,
        with: &field.with,
    };
    write(document, &change, setting)
        .err()
        .map(NotSaved::Refused)
}

/// The texts that are not empty, with one kind of line end.
fn filled(texts: &[String]) -> Vec<String> {
    let trimmed = texts
        .iter()
        .map(|text| text.replace("\r\n", "\n").trim().to_owned());
    trimmed.filter(|text| !text.is_empty()).collect()
}

/// Whether the table of a field has something in it that it can stand beside.
fn has_figure(document: &DocumentMut, field: &Field) -> bool {
    let any = |key: &'static str| {
        let mut target = field.target.clone();
        target.key = key;
        let found = read(document, &target, &Entry::Text, Setting::of(".", |_| 0));
        !found.is_empty()
    };
    let rows = || {
        let mut table = field.target.table.clone();
        table.push(super::document::Step::Key("rows".to_owned()));
        super::document::rows(document, &table) > 0
    };
    [
        "value",
        "values",
        "passes",
        "text",
        "colour",
        "clear_seconds",
        "opacity_percent",
        "snaps_percent",
        "words",
        "grade",
        "count",
        "items",
    ]
    .into_iter()
    .any(any)
        || rows()
}

/// Counts one attempt more in what was sent, as `tap` says: `passed` or `failed`, a space,
/// and the number of the count.
pub fn tap(step: &Step, sent: &mut Sent) {
    let tapped = sent.one("tap").to_owned();
    let Some((how, number)) = tapped.split_once(' ') else {
        return;
    };
    let tally = number
        .parse()
        .ok()
        .and_then(|number: usize| step.tallies.get(number));
    let Some(tally) = tally else { return };
    let count = |sent: &Sent, name: &str| sent.one(name).trim().parse::<u32>().unwrap_or(0);
    let passes = count(sent, &tally.passes);
    let attempts = count(sent, &tally.attempts);
    let passed = u32::from(how == "passed");
    sent.set(
        tally.passes.clone(),
        passes.saturating_add(passed).to_string(),
    );
    sent.set(
        tally.attempts.clone(),
        attempts.saturating_add(1).to_string(),
    );
}

#[cfg(test)]
mod tests {
    use super::super::steps::{Part, Tally};
    use super::*;

    #[test]
    fn a_form_has_all_values_of_a_name() {
        let sent = Sent::of(b"a=1&b=x+y%26z&a=2&c=");
        assert_eq!(sent.all("a"), Some(&["1".to_owned(), "2".to_owned()][..]));
        assert_eq!(sent.one("b"), "x y&z");
        assert_eq!(sent.all("d"), None);
        assert_eq!(filled(&[" 1 ".to_owned(), String::new()]), ["1"]);
    }

    #[test]
    fn a_tap_counts_one_more() {
        let mut step = Step::new(Part::Baseline, "m-x", String::new());
        step.tallies.push(Tally {
            passes: "p".to_owned(),
            attempts: "a".to_owned(),
            label: String::new(),
        });
        let mut sent = Sent::of(b"p=1&a=2&tap=passed+0");
        tap(&step, &mut sent);
        assert_eq!((sent.one("p"), sent.one("a")), ("2", "3"));
        let mut sent = Sent::of(b"p=&a=&tap=failed+0");
        tap(&step, &mut sent);
        assert_eq!((sent.one("p"), sent.one("a")), ("0", "1"));
        let mut sent = Sent::of(b"p=1&a=2&tap=failed+7");
        tap(&step, &mut sent);
        assert_eq!((sent.one("p"), sent.one("a")), ("1", "2"));
    }
}
