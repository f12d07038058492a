//! What was verified, before any question: what the document is, whose machine it tells of,
//! and the verdict and the required figures as its inputs give them again. A reader must not
//! need its pages for that.

use std::collections::BTreeMap;

use chrono::DateTime;
use schemars::JsonSchema;
use serde::Serialize;

use super::attached_job::{AttachedJob, Kind};
use super::recompute::Told;
use crate::files::Digest;
use crate::intake::Intake;
use crate::job::{Baselined, Job, Plan};
use crate::judge::{Judgement, judge};
use crate::seals::{sealing, sealing_of_baseline};
use crate::view::{Material, OwnForm, ReceiptMaterial, Words, receipt, report};

/// What was verified.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Summary {
    /// What kind of document it is: `report` or `receipt`.
    #[schemars(extend("enum" = ["report", "receipt"]))]
    pub kind: &'static str,
    /// What its inputs tell; null where they cannot be read.
    pub told: Option<SummaryOfJob>,
}

impl Summary {
    /// What the document is, and whose machine it tells of, in a sentence.
    pub fn about(&self, words: &Words) -> String {
        let Some(told) = &self.told else {
            return words.say(&format!("unread-{}", self.kind));
        };
        let again = told.issue.filter(|issue| *issue > 1);
        let issue = again.map_or_else(String::new, |issue| issue.to_string());
        let said = [
            ("job", told.job.as_str()),
            ("issue", &issue),
            ("machine", &told.machine),
            ("customer", &told.customer),
        ];
        let id = match again {
            Some(_) => format!("about-{}-again", self.kind),
            None => format!("about-{}", self.kind),
        };
        words.say_with(&id, &said)
    }
}

/// What the inputs of a document tell.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SummaryOfJob {
    /// The job's number.
    pub job: String,
    /// Which issue of the report it is, from 1; null in a receipt.
    pub issue: Option<usize>,
    /// The machine.
    pub machine: String,
    /// The customer.
    pub customer: String,
    /// The verdict, judged again; null in a receipt, where nothing has been judged.
    #[schemars(extend("enum" = ["verified", "not-verified", "undecided", null]))]
    pub verdict: Option<&'static str>,
    /// What that means, in a sentence; also that a seal is broken.
    pub says: String,
    /// The measures that the verdict depends on.
    pub required: Vec<SummaryFigure>,
}

/// One of the required measures, in words.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SummaryFigure {
    /// Its name.
    pub name: String,
    /// Before the work.
    pub before: String,
    /// After it; null in a receipt.
    pub after: Option<String>,
    /// The limit.
    pub limit: String,
    /// What the decision rule makes of it.
    pub result: String,
}

/// What the document that carries `job` is, and tells, in these words.
pub(super) fn summary(job: &AttachedJob, words: &Words) -> Summary {
    Summary {
        kind: match job.kind {
            Kind::Report => "report",
            Kind::Receipt => "receipt",
        },
        told: match &job.told {
            Told::Whole(Ok(read)) => Some(of_report(job, read, words)),
            Told::DropOff(Ok(read)) => Some(of_receipt(job, read, words)),
            Told::Whole(Err(_)) | Told::DropOff(Err(_)) => None,
        },
    }
}

/// The digests of all files but the shop's, as they are attached or listed.
fn digests<T>(job: &AttachedJob, read: &Intake<T>) -> BTreeMap<String, Digest> {
    let mut digests = job.listed.clone();
    digests.extend(read.digests());
    digests
}

/// What the page before a document says that is set with the shop's own form, in the files
/// `attached`; none where its inputs cannot be read.
pub(super) fn page_before(job: &AttachedJob, attached: &[String]) -> Option<OwnForm> {
    match &job.told {
        Told::Whole(Ok(read)) => {
            let judgement = judge(&read.job);
            Some(OwnForm::of_report(
                &material(job, read, &judgement),
                attached,
            ))
        }
        Told::DropOff(Ok(read)) => Some(OwnForm::of_receipt(&read.job.plan, &read.shop, attached)),
        Told::Whole(Err(_)) | Told::DropOff(Err(_)) => None,
    }
}

/// All that the words of a report come from, without its pictures and its signer.
fn material<'a>(
    job: &AttachedJob,
    read: &'a Intake<Job>,
    judgement: &'a Judgement,
) -> Material<'a> {
    Material {
        job: &read.job,
        shop: &read.shop,
        judgement,
        inputs: Vec::new(),
        pictures: Vec::new(),
        logo: None,
        issued: DateTime::default(),
        sealing: sealing(&job.chain, &digests(job, read), read.job.work.started),
        signer: None,
    }
}

fn of_report(job: &AttachedJob, read: &Intake<Job>, words: &Words) -> SummaryOfJob {
    let judgement = judge(&read.job);
    let report = report(&material(job, read, &judgement), words);
    let required = report.measures.into_iter();
    let required = required
        .filter(|row| !row.required.is_empty())
        .map(|row| SummaryFigure {
            name: row.name,
            before: row.baseline,
            after: Some(row.retest),
            limit: row.limit,
            result: row.result,
        });
    SummaryOfJob {
        issue: Some(read.job.work.issue()),
        verdict: Some(report.front.verdict),
        says: report.front.says(),
        required: required.collect(),
        ..of_plan(&read.job.plan)
    }
}

fn of_receipt(job: &AttachedJob, read: &Intake<Baselined>, words: &Words) -> SummaryOfJob {
    let mut digests = digests(job, read);
    // A receipt lists no photos: what their seal says of them is not asked here.
    let not_attached = job
        .sealed()
        .filter(|(_, file, _)| !job.attachments.contains_key(*file));
    digests.extend(not_attached.map(|(_, file, digest)| (file.to_owned(), digest)));
    let sealing = sealing_of_baseline(&job.chain, &digests);
    let material = ReceiptMaterial {
        job: &read.job,
        shop: &read.shop,
        logo: None,
        issued: DateTime::default(),
        sealing: &sealing,
        signer: None,
    };
    let receipt = receipt(&material, words);
    let required = receipt.rows.into_iter();
    let required = required
        .filter(|row| !row.required.is_empty())
        .map(|row| SummaryFigure {
            before: row.figures(),
            name: row.name,
            after: None,
            limit: row.limit,
            result: row.standing,
        });
    SummaryOfJob {
        says: receipt.headline,
        required: required.collect(),
        ..of_plan(&read.job.plan)
    }
}

fn of_plan(plan: &Plan) -> SummaryOfJob {
    SummaryOfJob {
        job: plan.number.clone(),
        issue: None,
        machine: plan.machine.name.clone(),
        customer: plan.customer.name.clone(),
        verdict: None,
        says: String::new(),
        required: Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::verification::test_documents::Files;
    use crate::view::ENGLISH;

    /// Whoever reads the verdict reads beside it that a sealed file was changed, and only then.
    #[test]
    fn a_broken_seal_is_said_with_the_verdict() {
        let words = Words::of("en", &[ENGLISH]).unwrap();
        let is_warned = |files: Files| {
            let told = summary(&files.job(), &words).told.unwrap();
            told.says.contains(&words.say("headline-broken"))
        };
        assert!(!is_warned(Files::report()));
        assert!(is_warned(Files::report().with(
            "baseline.toml",
            "06:35",
            "06:36"
        )));
    }
}
