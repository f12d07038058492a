//! What the customer's page gets, and its drawings.

use serde::Serialize;

use super::{Pair, SignatureBlock};

/// The customer's page.
#[derive(Debug, Serialize)]
pub struct Front {
    /// `verified`, `not-verified` or `undecided`.
    pub verdict: &'static str,
    /// The verdict as one word or two, for the mark.
    pub mark: String,
    /// The verdict in a sentence.
    pub headline: String,
    /// The weakest link of what that sentence says, in a sentence; may be empty.
    pub weakest: String,
    /// Whose machine it is, which, and its meter.
    pub machine: Vec<Fact>,
    /// When it was measured, repaired and measured again, and who saw it.
    pub days: Vec<Fact>,
    /// What happened, in a few sentences.
    pub lead: String,
    /// What must be said about broken seals; may be empty.
    pub alert: String,
    /// Whether limits and baseline were sealed before the work, in a sentence. Empty where
    /// the headline says that they were not.
    pub sealed: String,
    /// What the fingerprint of their seal is good for, and the fingerprint, if there is one.
    pub fingerprint: Option<Pair>,
    /// The words of the signature, if there is one.
    pub signature: Option<SignatureBlock>,
    /// Says that the report is not signed; empty if it is.
    pub unsigned: String,
    /// The complaint, or its start where it is long.
    pub complaint: String,
    /// What was done, one entry each.
    pub done: Vec<String>,
    /// What was found and left as it is, one entry each.
    pub left: Vec<String>,
    /// What to watch for, one entry each.
    pub watch: Vec<String>,
    /// What happens next: what would settle the verdict, and when to come back.
    pub next: Vec<String>,
    /// Whom to call; may be empty.
    pub call: String,
    /// The few figures that matter, the weightiest first.
    pub figures: Vec<Figure>,
    /// Says how many figures are not on this page: of all that are above, and where the last
    /// one, two, … of them found no room. May be empty.
    pub more: Vec<String>,
    /// What was charged, line by line, and the warranty of the work.
    pub charged: Vec<Pair>,
    /// What was not needed, and so was not bought.
    pub not_needed: Vec<String>,
    /// What speaks against relying on this result, the weightiest first.
    pub reservations: Vec<String>,
    /// What the verdict is about, always.
    pub applies_to: String,
    /// Which issue this one takes the place of, and why; empty of a first issue.
    pub reissued: String,
    /// What stands behind: a text, and the part of the report where it is told.
    pub behind: Vec<Behind>,
    /// Who signs for the shop, and for the customer.
    pub signers: [String; 2],
}

impl Front {
    /// The verdict in a sentence, with its weakest link in another.
    pub fn says(&self) -> String {
        match self.weakest.as_str() {
            "" => self.headline.clone(),
            weakest => format!("{} {weakest}", self.headline),
        }
    }
}

/// A label, its text, and what is told of it in a second line, which may be empty.
#[derive(Debug, Serialize)]
pub struct Fact {
    /// The label.
    pub label: String,
    /// The text.
    pub text: String,
    /// The second line.
    pub under: String,
}

/// Something of which page 1 says only where it stands.
#[derive(Debug, Serialize)]
pub struct Behind {
    /// What it is.
    pub text: String,
    /// The same for a screen that has no pages behind it.
    pub on_screen: String,
    /// `rule` or `tests`: the part of the report.
    pub part: &'static str,
}

impl Front {
    /// What a screen says against relying on the result, one sentence each.
    pub fn against(&self) -> impl Iterator<Item = &str> {
        let behind = self.behind.iter().map(|it| it.on_screen.as_str());
        let told = self.reservations.iter().map(String::as_str);
        told.chain([self.applies_to.as_str()]).chain(behind)
    }
}

/// One before → after line of the customer's page.
#[derive(Debug, Serialize)]
pub struct Figure {
    /// What it is.
    pub name: String,
    /// Whether the verdict depends on it, in words; empty if not.
    pub required: String,
    /// What it means.
    pub meaning: String,
    /// Of several positions, that where the fault was or still is, with its figures; may be
    /// empty.
    pub at: String,
    /// Before the work.
    pub before: String,
    /// After it.
    pub after: String,
    /// Before, in the other units; may be empty.
    pub before_other: String,
    /// After, in the other units; may be empty.
    pub after_other: String,
    /// The limit.
    pub limit: String,
    /// The outcome.
    pub result: String,
    /// `pass`, `conditional-pass`, `inconclusive`, `fail` or `none`: the shape of the mark.
    pub mark: &'static str,
    /// What to draw.
    pub drawing: Option<Drawing>,
}

/// What is drawn beside a measure.
#[derive(Debug, Serialize)]
#[serde(tag = "kind", rename_all = "lowercase")]
pub enum Drawing {
    /// A figure before and after on a line.
    Strip(Strip),
    /// Things counted before and after, each a disc.
    Tally(Tally),
}

/// Things counted before and after, one by one.
#[derive(Debug, Serialize)]
pub struct Tally {
    /// Whether each was as it should be before; none where it was not read.
    pub before: Vec<Option<bool>>,
    /// The same after.
    pub after: Vec<Option<bool>>,
    /// The same in words.
    pub alt: String,
}

/// A before → after line.
#[derive(Debug, Serialize)]
pub struct Strip {
    /// Before.
    pub before: f64,
    /// After.
    pub after: f64,
    /// Expanded uncertainty before.
    pub before_u: f64,
    /// Expanded uncertainty after.
    pub after_u: f64,
    /// Lower bound.
    pub min: Option<f64>,
    /// Upper bound.
    pub max: Option<f64>,
    /// The lower bound as printed; empty without one.
    pub min_text: String,
    /// The upper bound as printed; empty without one.
    pub max_text: String,
    /// Whether less is better, so that the line runs from right to left: what is better
    /// stands to the right of what is worse.
    pub mirrored: bool,
    /// The same in words.
    pub alt: String,
}
