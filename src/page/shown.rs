//! What the page shows: finished texts, which the script only puts in their places.

use serde::Serialize;

use crate::verification::SummaryFigure;

/// Everything that the page shows of one document.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct Shown {
    /// The language of these texts.
    pub language: String,
    /// Why nothing was checked; empty if it was.
    pub refused: String,
    /// That the check is done, and whether anything is wrong.
    pub done: String,
    /// What could not be read of what was given beside the document.
    pub notes: Vec<String>,
    /// Every answer "no", as it is said to a customer: it comes before anything else.
    pub wrong: Vec<Line>,
    /// What the receipt that was given shows otherwise.
    pub differs: Vec<Differs>,
    /// That all else is the same; or, where nothing differs and it still does not belong to the
    /// document, that it is something else; empty where receipt and document belong together.
    pub differs_rest: String,
    /// What the document is, and whose machine.
    pub about: String,
    /// What the figures below are.
    pub heading: String,
    /// The verdict, judged again.
    pub says: String,
    /// What a receipt's figures do not say; empty for a report.
    pub state: String,
    /// The measures that it depends on.
    pub required: Vec<SummaryFigure>,
    /// How far the reader can rely on it: the answers that matter most, the worst first.
    pub told: Vec<Line>,
    /// The fingerprints to compare.
    pub codes: Codes,
    /// What the reader can do now.
    pub next: String,
    /// Every question.
    pub questions: Vec<Asked>,
    /// The attached files.
    pub files: Vec<AttachedFile>,
    /// What no digest shows.
    pub cannot_show: String,
    /// The answers for programs, to the byte as the command prints them.
    pub json: String,
}

/// A sentence with the answer that it stands for.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Line {
    /// What the answer is about, in a word or two.
    pub topic: String,
    /// The name of the answer, for its mark; `unsettled` for a "yes" that does not count.
    pub answer: &'static str,
    /// The answer in a word.
    pub word: String,
    /// The sentence.
    pub text: String,
    /// Why, where the sentence does not say it.
    pub because: Vec<Because>,
}

/// Something that receipt and document show differently.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Differs {
    /// What it is.
    pub name: String,
    /// What the receipt shows.
    pub receipt: String,
    /// What the document gives.
    pub document: String,
}

/// Fingerprints side by side.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct Codes {
    /// Each of them.
    pub rows: Vec<Code>,
    /// Whether they agree, or what to compare it with.
    pub says: String,
}

/// A fingerprint.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Code {
    /// Where it stands.
    pub label: String,
    /// Its groups.
    pub groups: Vec<Group>,
}

/// Some letters of a fingerprint.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Group {
    /// The letters.
    pub text: String,
    /// Whether the other fingerprint has other letters here.
    pub differs: bool,
}

/// A question with its answer.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Asked {
    /// The question, in words.
    pub question: String,
    /// The name of the answer, for its mark, as in [`Line`].
    pub answer: &'static str,
    /// The answer in a word.
    pub word: String,
    /// What it rests on.
    pub because: Vec<Because>,
}

/// One sentence of what an answer rests on.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Because {
    /// The sentence.
    pub text: String,
    /// Its language, for screen readers.
    pub language: String,
}

/// A file in a document.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct AttachedFile {
    /// Its name, with nothing in it that hides or reverses text.
    pub name: String,
    /// What it holds; empty if its name does not say.
    pub what: String,
    /// Its size, in words.
    pub size: String,
}
