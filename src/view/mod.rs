//! From a judgement to finished strings and rows. All wording and all rounding
//! happen here; nothing is judged or computed.
//!
//! [`report`] builds the one [`Report`] from which both the PDF and the screen
//! are made, so that they can never say different things.

mod before_after;
mod broken;
mod budgets;
mod cannot_tell;
mod complaint;
mod conditions;
mod data;
mod dependence;
mod exact;
mod figures;
mod formula;
mod front;
mod how_judged;
mod instruments;
mod letterhead;
mod limits;
mod measures;
mod own_form;
mod photos;
mod places;
mod position_charts;
mod positions;
mod reasons;
mod receipt;
mod seals;
mod sentences;
mod variation;
mod who_and_when;
mod words;
mod work;
mod worksheet;

use chrono::{DateTime, FixedOffset};

use crate::job::{Job, Measure, Shop, Stage};
use crate::judge::{Judgement, MeasureJudgement};
use crate::result::TOOL;
use crate::seals::{JobOutcome, Sealing};

pub use data::*;
pub use reasons::look_again;
pub use receipt::{ReceiptMaterial, receipt};
pub use seals::{Signer, alert};
pub use sentences::{Sentence, sentences};
pub use words::{ENGLISH, LANGUAGES, TO_VERIFY, Words, WordsError};
pub use worksheet::{Field, SheetRow, Worksheet, worksheet};

/// What a report is made from.
pub struct Material<'a> {
    /// The job.
    pub job: &'a Job,
    /// The shop.
    pub shop: &'a Shop,
    /// The judgement of the job.
    pub judgement: &'a Judgement,
    /// The input files.
    pub inputs: Vec<InputFile>,
    /// The pictures that the template can show, by the file they come from.
    pub pictures: Vec<PictureFile>,
    /// The shop's logo, by the file it comes from.
    pub logo: Option<PictureFile>,
    /// When the report is issued.
    pub issued: DateTime<FixedOffset>,
    /// The seals, and whether the files match them.
    pub sealing: Sealing,
    /// Who signs, if it is signed.
    pub signer: Option<Signer>,
}

impl<'a> Material<'a> {
    /// What the job comes to.
    fn outcome(&self) -> JobOutcome {
        self.sealing.outcome(self.judgement.verdict)
    }

    /// Every measure, with what was found of it.
    fn found(&self) -> impl Iterator<Item = (&'a Measure, &'a MeasureJudgement)> {
        self.job
            .plan
            .limits
            .measures
            .iter()
            .zip(&self.judgement.measures)
    }
}

/// An input file of the report.
#[derive(Debug, Clone)]
pub struct InputFile {
    /// Its path in the job folder.
    pub name: String,
    /// Its SHA-256 in hexadecimal digits.
    pub digest: String,
    /// Its size in bytes.
    pub size: u64,
    /// Whether the report carries it as an attachment.
    pub attached: bool,
    /// What it is, for files that are not shown; may be empty.
    pub caption: String,
}

/// A picture that the template can show.
#[derive(Debug, Clone)]
pub struct PictureFile {
    /// The file in the job folder it was made from.
    pub file: String,
    /// The path under which the template finds it.
    pub path: String,
    /// Width over height.
    pub aspect: f64,
}

/// So many lines that page 1 does not have are worth drawing behind it.
const WORTH_DRAWING: usize = 3;

/// Builds the report.
pub fn report(material: &Material<'_>, words: &Words) -> Report {
    let job = material.job;
    let front = front::front(material, words);
    let measures = measures::rows(material, words);
    let drawn = measures.iter().filter(|row| row.drawing.is_some()).count();
    let mut report = Report {
        sheet: letterhead::issued(
            ["title", "kind-of-report"],
            &job.plan,
            material.shop,
            material.logo.as_ref(),
            (
                material.issued,
                Some(job.work.issue()),
                material.sealing.chain.latest(Stage::Baseline),
            ),
            words,
        ),
        draw_measures: drawn >= front.figures.len() + WORTH_DRAWING,
        front,
        complaint: complaint::shortened(&job.plan.complaint)
            .map_or_else(String::new, |_| job.plan.complaint.clone()),
        about: who_and_when::about(&job.plan, words),
        measures,
        positions: positions::tables(material, words),
        texts: measures::texts(material, words),
        conditions: conditions::conditions(material, words),
        runs: who_and_when::runs(material, words),
        instruments: instruments::rows(material, words),
        work: work::work(material, words),
        photo_pairs: photos::pairs(material, words),
        photos: photos::others(material, words),
        rule: how_judged::rule(material, words),
        budgets: budgets::rows(material, words),
        cannot_tell: how_judged::cannot_tell(material, words),
        cautions: how_judged::cautions(material, words),
        evidence: how_judged::evidence(material, words),
        seals: seals::rows(&material.sealing, words),
        #[cfg(feature = "typesetter")]
        qr: seals::qr(&material.sealing),
        made_with: words.say_with("made-with", &[("program", TOOL)]),
        ways: seals::ways(&material.sealing, words),
        steps: seals::steps(&material.sealing, material.signer.as_ref(), words),
        inputs: how_judged::inputs(material, words),
    };
    if let JobOutcome::BrokenSeal = material.outcome() {
        broken::take_back(&mut report, words);
    }
    report
}
