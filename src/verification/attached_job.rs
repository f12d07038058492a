//! What a document carries: the files of a job, its seals, and its result.

use std::collections::BTreeMap;

use chrono::{DateTime, FixedOffset};
use serde_json::Value;

use super::recompute::Told;
use crate::files::Digest;
use crate::intake::{Glance, SHOP_FILE};
use crate::job::{JobFile, Run, Stage};
use crate::result::{DOCUMENT_FILE, DocumentFile};
use crate::seals::{Chain, Link, shown};

/// The file of the result among the attachments.
pub(super) const RESULT: &str = "result.json";
/// The file of the limits.
pub(super) const LIMITS: &str = JobFile::Limits.name();

/// What kind of document it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// It shows the verdict.
    Report,
    /// It shows the sealed baseline: nothing has been judged yet.
    Receipt,
}

impl Kind {
    /// What the document says that it is. Only documents before version 0.4.0 do not say it:
    /// there it shows from what they carry.
    fn of(attachments: &BTreeMap<String, Vec<u8>>) -> Self {
        let said = attachments.get(DOCUMENT_FILE);
        let said = said.and_then(|bytes| serde_json::from_slice::<Value>(bytes).ok());
        match said.as_ref().and_then(|said| said["kind"].as_str()) {
            Some("report") => return Self::Report,
            Some("receipt") => return Self::Receipt,
            _ => {}
        }
        let of_a_report = [JobFile::Work.name(), JobFile::Retest.name(), RESULT];
        let is_report = |name: &&str| attachments.contains_key(*name);
        if of_a_report.iter().any(is_report) {
            Self::Report
        } else {
            Self::Receipt
        }
    }

    /// The attachments it must have: exactly these, besides the seals.
    fn attachments(self) -> Vec<&'static str> {
        let texts = JobFile::ALL.into_iter();
        let texts = texts.filter(|file| match self {
            Self::Receipt => file.stage() == Stage::Baseline,
            Self::Report => true,
        });
        let result = match self {
            Self::Receipt => None,
            Self::Report => Some(RESULT),
        };
        let names = texts.map(JobFile::name);
        [SHOP_FILE].into_iter().chain(names).chain(result).collect()
    }

    pub fn word(self) -> &'static str {
        match self {
            Self::Report => "it carries exactly what a report must carry",
            Self::Receipt => {
                "it carries exactly what a receipt must carry: no work, no retest, no result"
            }
        }
    }
}

/// What a document carries.
pub(super) struct AttachedJob {
    /// The attachments by name.
    pub attachments: BTreeMap<String, Vec<u8>>,
    pub kind: Kind,
    pub chain: Chain,
    /// The inputs as they were read, or their problems.
    pub told: Told,
    /// What a glance at the inputs tells, where they cannot be read as a job: another version
    /// took them.
    seen: Option<Glance>,
    /// The inputs that the result lists, with their digests.
    pub listed: BTreeMap<String, Digest>,
}

impl AttachedJob {
    pub fn new(attachments: BTreeMap<String, Vec<u8>>) -> Self {
        let seals = attachments
            .iter()
            .filter(|(name, _)| name.ends_with(".sha256"))
            .map(|(name, bytes)| (name.clone(), bytes.clone()));
        let chain = Chain::of(seals);
        let kind = Kind::of(&attachments);
        let told = Told::read(&attachments, kind == Kind::Report);
        let result: Option<Value> = attachments
            .get(RESULT)
            .and_then(|bytes| serde_json::from_slice(bytes).ok());
        let inputs = result
            .as_ref()
            .and_then(|result| result["inputs"].as_array());
        let listed = inputs
            .into_iter()
            .flatten()
            .filter_map(|input| {
                let file = input["file"].as_str()?;
                let digest = input["sha256"].as_str()?.parse().ok()?;
                Some((file.to_owned(), digest))
            })
            .collect();
        let seen = (!told.is_read()).then(|| Glance::at(&attachments));
        Self {
            attachments,
            kind,
            chain,
            told,
            seen,
            listed,
        }
    }

    /// The number of the job.
    pub fn number(&self) -> Option<&str> {
        let seen = self.seen.as_ref();
        self.told.number().or_else(|| seen?.number.as_deref())
    }

    /// When the work started; none where no work is told of, or not so that it can be read.
    pub fn work_started(&self) -> Option<DateTime<FixedOffset>> {
        let read = self.told.job().map(|job| job.work.started);
        read.or_else(|| self.seen.as_ref()?.work_started)
    }

    /// When the run of `stage` was over, as far as it says, or else when it started.
    pub fn measured(&self, stage: Stage) -> Option<DateTime<FixedOffset>> {
        let over = |run: &Run| run.ended.unwrap_or(run.started);
        let seen = self.seen.as_ref();
        let started = seen.and_then(|seen| match stage {
            Stage::Baseline => seen.baseline,
            Stage::Retest => seen.retest,
        });
        self.told.run(stage).map(over).or(started)
    }

    /// Whether it tells of work, and not so that its start can be read.
    pub fn hides_its_work(&self) -> bool {
        self.kind == Kind::Report && self.work_started().is_none()
    }

    /// The digest of a file: of the attachment, or as the result lists it.
    pub fn digest(&self, file: &str) -> Option<Digest> {
        let attached = self.attachments.get(file).map(|bytes| Digest::of(bytes));
        attached.or_else(|| self.listed.get(file).copied())
    }

    /// The seals whose files the document should carry: all of a report, the baseline
    /// of a receipt.
    pub fn holding(&self) -> impl Iterator<Item = &Link> {
        self.chain
            .holding()
            .filter(|link| self.kind == Kind::Report || link.seal.stage == Stage::Baseline)
    }

    pub fn sealed(&self) -> impl Iterator<Item = (&Link, &str, Digest)> {
        self.holding().flat_map(|link| {
            let files = link.seal.files.iter();
            files.map(move |(file, digest)| (link, file.as_str(), *digest))
        })
    }

    /// Whether an attachment says what the document is, or is a file of the shop's own form
    /// that it lists with this digest.
    fn of_form(&self, name: &str) -> bool {
        let Some(bytes) = self.attachments.get(DOCUMENT_FILE) else {
            return false;
        };
        if name == DOCUMENT_FILE {
            return true;
        }
        let said: Option<DocumentFile> = serde_json::from_slice(bytes).ok();
        let own = said.into_iter().flat_map(|said| said.own_form);
        let digest = self.digest(name).map(|digest| digest.to_string());
        own.into_iter()
            .any(|form| form.file == name && digest.as_deref() == Some(form.sha256.as_str()))
    }

    /// What is attached but should not be, and what should be but is not.
    pub fn misfits(&self) -> Vec<String> {
        let wanted = self.kind.attachments();
        let missing = wanted
            .iter()
            .filter(|name| !self.attachments.contains_key(**name))
            .map(|name| format!("{name} is missing"));
        let seals = |name: &str| self.chain.links.iter().any(|link| link.file == name);
        let foreign = self
            .attachments
            .keys()
            .filter(|name| !wanted.contains(&name.as_str()) && !seals(name) && !self.of_form(name))
            .map(|name| format!("{} should not be attached", shown(name)));
        missing.chain(foreign).collect()
    }
}
