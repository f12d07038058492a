//! What a template gets: finished strings, and plain numbers for its charts.
//!
//! This is the contract between the program and `report-templates/`. Every
//! string is worded, rounded and complete with its unit; a template places them
//! and decides nothing. Numbers in [`Strip`] and [`Chart`] are in the printed
//! unit and are for drawing only.

mod front;

use std::collections::BTreeMap;

use serde::Serialize;

pub use front::{Behind, Drawing, Fact, Figure, Front, Strip, Tally};

/// What every document has: language, paper, the fixed words, head and foot.
#[derive(Debug, Serialize)]
pub struct Sheet {
    /// BCP 47 tag of the language.
    pub language: String,
    /// `a4` or `us-letter`, as typst names papers.
    pub paper: &'static str,
    /// The fixed words, by id.
    pub labels: BTreeMap<String, String>,
    /// Title of the document, for its metadata.
    pub title: String,
    /// Running foot, left: job and shop.
    pub foot: String,
    /// The shop.
    pub shop: ShopHead,
    /// What the document is, and of which job, line by line.
    pub head: Vec<String>,
    /// The page before it, where it is set with a shop's own form.
    pub own_form: Option<OwnForm>,
}

/// What stands, in the program's own words, on the page before a document that is set with
/// a shop's own form.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct OwnForm {
    /// That such a form was used.
    pub title: String,
    /// What that means.
    pub text: String,
    /// Of which job the document is.
    pub job: String,
    /// The verdict; empty before a receipt.
    pub verdict: String,
    /// The required measures, one line each.
    pub figures: Vec<String>,
    /// The files of the form, which are attached.
    pub files: String,
}

/// The whole report.
#[derive(Debug, Serialize)]
pub struct Report {
    /// What every document has.
    #[serde(flatten)]
    pub sheet: Sheet,
    /// The customer's page.
    pub front: Front,
    /// The whole complaint, where the first page has only its start.
    pub complaint: String,
    /// Who, what and when: pairs of a label and its text.
    pub about: Vec<Pair>,
    /// Every measure with a value.
    pub measures: Vec<MeasureRow>,
    /// Whether the lines of all measures are worth drawing: page 1 does not have them all.
    pub draw_measures: bool,
    /// Every measure that is read at several positions.
    pub positions: Vec<PositionTable>,
    /// Measures in words.
    pub texts: Vec<TextRow>,
    /// Conditions side by side.
    pub conditions: Vec<ConditionRow>,
    /// The two runs.
    pub runs: Vec<RunColumn>,
    /// Instruments.
    pub instruments: Vec<InstrumentRow>,
    /// Work, parts, cost.
    pub work: Work,
    /// Photos of the same thing before and after the work, side by side.
    pub photo_pairs: Vec<[Photo; 2]>,
    /// The other photos.
    pub photos: Vec<Photo>,
    /// Notes on the decision rule and how it was applied, one paragraph each.
    pub rule: Vec<String>,
    /// Where each uncertainty comes from.
    pub budgets: Vec<BudgetRow>,
    /// What each test cannot tell.
    pub cannot_tell: Vec<Pair>,
    /// Cautions for whoever repeats a test.
    pub cautions: Vec<String>,
    /// What the digests show and do not show.
    pub evidence: Vec<String>,
    /// The seals.
    pub seals: Vec<SealRow>,
    /// The QR code of the fingerprint of limits and baseline: rows of 1 for dark and 0 for
    /// light; none without a seal.
    #[cfg(feature = "typesetter")]
    pub qr: Vec<Vec<u8>>,
    /// Which program made the report, with its version.
    pub made_with: String,
    /// The ways to check the report, the easiest first; the last is that of `steps`.
    pub ways: Vec<Pair>,
    /// How to check the report by hand, with common tools.
    pub steps: Vec<Step>,
    /// The input files.
    pub inputs: Vec<InputRow>,
}

/// The page that the customer takes home when the baseline is sealed.
#[derive(Debug, Serialize)]
pub struct Receipt {
    /// What every document has.
    #[serde(flatten)]
    pub sheet: Sheet,
    /// What this page is.
    pub headline: String,
    /// What it is good for.
    pub lead: String,
    /// Customer, machine, and who measured when.
    pub about: Vec<Pair>,
    /// The complaint, or its start where it is long.
    pub complaint: String,
    /// What was measured before the work.
    pub rows: Vec<ReceiptRow>,
    /// What was agreed before the work.
    pub agreed: Vec<String>,
    /// The seal of the baseline.
    pub seal: Option<SealRow>,
    /// The QR code of the seal's digest: rows of 1 for dark and 0 for light.
    #[cfg(feature = "typesetter")]
    pub qr: Vec<Vec<u8>>,
    /// What to do with this page.
    pub keep: String,
    /// Which program made it, with its version.
    pub made_with: String,
    /// The ways to check it, the easiest first; the last is that of `steps`.
    pub ways: Vec<Pair>,
    /// How to check it by hand, with common tools.
    pub steps: Vec<Step>,
    /// The words of the signature, if there is one.
    pub signature: Option<SignatureBlock>,
    /// Says that the receipt is not signed; empty if it is.
    pub unsigned: String,
    /// Who signs for the shop, and for the customer.
    pub signers: [String; 2],
}

/// One measure on the receipt.
#[derive(Debug, Serialize)]
pub struct ReceiptRow {
    /// Its name.
    pub name: String,
    /// Whether the verdict will depend on it, in words; empty if not.
    pub required: String,
    /// Before the work, ± U; of several positions nothing.
    pub value: String,
    /// What one position is called; empty where there are none.
    pub position: String,
    /// The figure of each position, with its name.
    pub each: Vec<Pair>,
    /// Every reading in the digits that were sealed; may be empty.
    pub read: String,
    /// The limit agreed.
    pub limit: String,
    /// The outcome at it today.
    pub standing: String,
}

impl ReceiptRow {
    /// The figure, or those of the positions, each behind its name: `1: 7.4 · 2: −13.1`.
    pub fn figures(&self) -> String {
        let each = self.each.iter();
        let each = each.map(|one| format!("{}:\u{a0}{}", one.label, one.text));
        let all: Vec<String> = each.collect();
        if all.is_empty() {
            return self.value.clone();
        }
        all.join(" · ")
    }
}

/// The words in the box of the signature.
#[derive(Debug, Serialize)]
pub struct SignatureBlock {
    /// Who signed.
    pub title: String,
    /// When, and where that time comes from.
    pub line: String,
    /// What the next line is.
    pub key: String,
    /// SHA-256 of the certificate in hexadecimal digits.
    pub fingerprint: String,
}

/// One seal.
#[derive(Debug, Serialize)]
pub struct SealRow {
    /// What it closes.
    pub stage: String,
    /// The name of its file.
    pub file: String,
    /// When it was made, and by which clock.
    pub when: String,
    /// The short form of its digest, in groups.
    pub fingerprint: String,
    /// Its SHA-256 in hexadecimal digits.
    pub digest: String,
    /// Why it amends an older one; may be empty.
    pub amends: String,
}

/// A step of a check, and the commands that do it.
#[derive(Debug, Serialize)]
pub struct Step {
    /// What to do and what the result must be.
    pub text: String,
    /// The commands, one per line.
    pub commands: Vec<String>,
    /// What the last of them must print; may be empty.
    pub expected: Vec<String>,
}

/// The shop's heading.
#[derive(Debug, Serialize)]
pub struct ShopHead {
    /// Its name.
    pub name: String,
    /// Address and the rest, line by line.
    pub lines: Vec<String>,
    /// Its logo.
    pub logo: Option<Logo>,
    /// The colour of its marks and labels, as `#` and six hexadecimal digits.
    pub accent: Option<String>,
}

/// A shop's logo; its alternative text is the shop's name.
#[derive(Debug, Serialize)]
pub struct Logo {
    /// Path under which the template finds the picture.
    pub path: String,
    /// Width over height.
    pub aspect: f64,
}

/// A label and its text.
#[derive(Debug, Serialize)]
pub struct Pair {
    /// The label.
    pub label: String,
    /// The text.
    pub text: String,
}

/// One measure in the table of all measures.
#[derive(Debug, Serialize)]
pub struct MeasureRow {
    /// Its name, with its unit.
    pub name: String,
    /// Whether the verdict depends on it, in words; empty if not.
    pub required: String,
    /// Before, ± U.
    pub baseline: String,
    /// After, ± U.
    pub retest: String,
    /// The change, ± U.
    pub change: String,
    /// The relative change, ± U; may be empty.
    pub relative: String,
    /// How the two runs depend on each other; may be empty.
    pub together: String,
    /// The limit.
    pub limit: String,
    /// Where the limit comes from; may be empty.
    pub source: String,
    /// Outcome and change in words.
    pub result: String,
    /// Probability of conformity, or the interval of a share; may be empty.
    pub remark: String,
    /// The shape of the mark.
    pub mark: &'static str,
    /// What it means; may be empty.
    pub meaning: String,
    /// How it was measured, and notes; may be empty.
    pub method: String,
    /// With which instruments it was read; may be empty.
    pub read_with: String,
    /// Every reading of each run that has several; may be empty.
    pub repeats: String,
    /// Its drawing; none where both runs cannot be drawn together.
    pub drawing: Option<Drawing>,
}

/// A measure read at several positions.
#[derive(Debug, Serialize)]
pub struct PositionTable {
    /// Its name, with its unit.
    pub name: String,
    /// What one position is called, for the head of its column.
    pub position: String,
    /// Limit and source.
    pub limit: String,
    /// How it was measured, and notes.
    pub method: String,
    /// The measure as a whole, in words.
    pub result: String,
    /// The rows.
    pub rows: Vec<PositionRow>,
    /// Whether the positions have limits of their own.
    pub own_limits: bool,
    /// What to draw; none where there are no figures.
    pub chart: Option<Chart>,
    /// Every reading of each run that has several; may be empty.
    pub repeats: String,
    /// What the positions together show.
    pub note: String,
}

/// One position.
#[derive(Debug, Serialize)]
pub struct PositionRow {
    /// Its name.
    pub position: String,
    /// Its own limit; empty where all have one.
    pub limit: String,
    /// Before.
    pub baseline: String,
    /// After.
    pub retest: String,
    /// The change; may be empty.
    pub change: String,
    /// In words.
    pub result: String,
    /// The shape of the mark.
    pub mark: &'static str,
}

/// Bars before and after for each position, or two lines over the points of a test.
#[derive(Debug, Serialize)]
pub struct Chart {
    /// Whether it is lines over an axis that has the settings to scale.
    pub curve: bool,
    /// Unit of the axis.
    pub unit: String,
    /// Before and after for each position.
    pub bars: Vec<Bar>,
    /// Lower bound.
    pub min: Option<f64>,
    /// Upper bound.
    pub max: Option<f64>,
    /// The same in words, with all figures.
    pub alt: String,
}

/// One position's pair of bars.
#[derive(Debug, Serialize)]
pub struct Bar {
    /// The position's name.
    pub position: String,
    /// Its setting, where it is a point of a test.
    pub at: Option<f64>,
    /// The same with what it is called.
    pub called: String,
    /// Before, where it was read.
    pub before: Option<f64>,
    /// After, where it was read.
    pub after: Option<f64>,
    /// Its own lower bound.
    pub min: Option<f64>,
    /// Its own upper bound.
    pub max: Option<f64>,
    /// Both in words; empty where all have the same.
    pub limit: String,
    /// Before, as printed.
    pub before_text: String,
    /// After, as printed.
    pub after_text: String,
}

/// A measure in words.
#[derive(Debug, Serialize)]
pub struct TextRow {
    /// Its name.
    pub name: String,
    /// Before.
    pub baseline: String,
    /// After.
    pub retest: String,
}

/// One condition of both runs.
#[derive(Debug, Serialize)]
pub struct ConditionRow {
    /// Its name.
    pub name: String,
    /// Whether the verdict depends on it, in words; empty if not.
    pub required: String,
    /// Before.
    pub baseline: String,
    /// After.
    pub retest: String,
    /// What counts as alike.
    pub window: String,
    /// How the runs compare, in words.
    pub result: String,
    /// `matched`, `harder`, `easier` or `unknown`: the shape of the mark.
    pub mark: &'static str,
    /// With which instruments it was read; may be empty.
    pub read_with: String,
}

/// One run.
#[derive(Debug, Serialize)]
pub struct RunColumn {
    /// Baseline or retest.
    pub name: String,
    /// Pairs of a label and its text.
    pub rows: Vec<Pair>,
}

/// One instrument.
#[derive(Debug, Serialize)]
pub struct InstrumentRow {
    /// Its id.
    pub id: String,
    /// Its kind and serial number.
    pub kind: String,
    /// What is known of its errors.
    pub errors: String,
    /// When it was calibrated, and whether that was overdue.
    pub calibrated: String,
}

/// Work, parts, cost.
#[derive(Debug, Serialize)]
pub struct Work {
    /// When, by whom.
    pub about: String,
    /// What was done and why.
    pub interventions: Vec<Pair>,
    /// What the change is credited to.
    pub attribution: String,
    /// Parts and fluids with quantities.
    pub supplies: Vec<Pair>,
    /// What was ruled out, and how.
    pub ruled_out: Vec<Pair>,
    /// What was also found.
    pub also_found: Vec<Pair>,
    /// What to watch for.
    pub watch: Vec<String>,
    /// What was not needed.
    pub not_needed: Vec<String>,
    /// The run-in; may be empty.
    pub run_in: String,
    /// The cost, line by line.
    pub cost: Vec<Pair>,
}

/// A photo.
#[derive(Debug, Serialize)]
pub struct Photo {
    /// Path under which the template finds the picture.
    pub path: String,
    /// The caption, with the stage.
    pub caption: String,
    /// The alternative text.
    pub alt: String,
    /// Width over height.
    pub aspect: f64,
}

/// The uncertainty budget of one reading.
#[derive(Debug, Serialize)]
pub struct BudgetRow {
    /// The measure, with its unit.
    pub name: String,
    /// Baseline, retest, both, or the change where the two depend on each other.
    pub run: String,
    /// The components, each with its standard uncertainty and its share.
    pub parts: String,
    /// Combined standard uncertainty.
    pub u: String,
    /// Effective degrees of freedom.
    pub dof: String,
    /// Expanded uncertainty.
    pub expanded: String,
}

/// An input file.
#[derive(Debug, Serialize)]
pub struct InputRow {
    /// Its path in the job folder.
    pub name: String,
    /// Its SHA-256.
    pub digest: String,
    /// Its size.
    pub size: String,
    /// Whether it is attached, in words.
    pub place: String,
    /// What it is, for files that are not shown; may be empty.
    pub caption: String,
}
