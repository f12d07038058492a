//! How a job stands to its seals, as facts; `view` words them.

use std::collections::BTreeSet;

use chrono::{DateTime, FixedOffset};

use super::chain::{Chain, Link, Standing};
use super::fingerprint::Fingerprint;
use super::seal_text::{Clock, Stage};
use crate::files::Digest;
use crate::job::{Job, Photo, Recording};

/// One seal.
#[derive(Debug, Clone)]
pub struct SealNote {
    /// The name of its file.
    pub file: String,
    /// What it closes.
    pub stage: Stage,
    /// When it was made.
    pub sealed: DateTime<FixedOffset>,
    /// Whether the time was set by hand.
    pub set_by_hand: bool,
    /// The short form of its digest.
    pub fingerprint: String,
    /// Its SHA-256 in hexadecimal digits.
    pub digest: String,
    /// Why it amends an older one.
    pub amends: Option<String>,
}

/// A sealed file that is not as it was.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BrokenFile {
    /// Its path in the job folder.
    pub file: String,
    /// The stage in which it was sealed.
    pub stage: Stage,
    /// Whether it is gone altogether.
    pub missing: bool,
}

/// The seals of a job, and how its files stand to them.
#[derive(Debug, Clone, Default)]
pub struct Sealing {
    /// The seals in order.
    pub seals: Vec<SealNote>,
    /// Sealed files that are not as they were.
    pub broken: Vec<BrokenFile>,
    /// What is wrong with the seals themselves, in words.
    pub faults: Vec<String>,
    /// Whether the baseline was first sealed before the work started; none without such a
    /// seal.
    pub before_work: Option<bool>,
    /// Whether the seal of the baseline that holds was made after the work had started.
    pub amended_late: bool,
    /// The files of the baseline that were changed after they were first sealed.
    pub amended: Vec<String>,
}

impl Sealing {
    /// Whether anything that was sealed, or a seal, is not as it was.
    pub fn is_broken(&self) -> bool {
        !self.broken.is_empty() || !self.faults.is_empty()
    }

    /// The seal that holds for `stage`: its last.
    pub fn holding(&self, stage: Stage) -> Option<&SealNote> {
        self.seals.iter().rfind(|seal| seal.stage == stage)
    }

    /// Whether something is sealed, and the retest is not.
    pub fn lacks_retest(&self) -> bool {
        !self.seals.is_empty() && self.holding(Stage::Retest).is_none()
    }
}

/// The files that the seal of `stage` holds, each once: its texts, then the photos and
/// recordings that these name.
pub fn stage_files(job: &Job, stage: Stage) -> BTreeSet<&str> {
    let (photos, recordings): (Vec<&[Photo]>, Vec<&[Recording]>) = match stage {
        Stage::Baseline => (vec![&job.baseline.photos], vec![&job.baseline.recordings]),
        Stage::Retest => (
            vec![&job.work.photos, &job.retest.photos],
            vec![&job.work.recordings, &job.retest.recordings],
        ),
    };
    let photos = photos.into_iter().flatten().map(|one| one.file.as_str());
    let recordings = recordings
        .into_iter()
        .flatten()
        .map(|one| one.file.as_str());
    let texts = stage.texts().iter().copied();
    texts.chain(photos).chain(recordings).collect()
}

/// How a job stands to its seals: `now` gives the digest of each file today, and
/// `work_started` is when the work began, where there is any yet.
pub fn sealing(
    chain: &Chain,
    now: impl Fn(&str) -> Option<Digest>,
    work_started: Option<DateTime<FixedOffset>>,
) -> Sealing {
    let broken = chain
        .standings(now)
        .filter(|(_, _, standing)| *standing != Standing::Kept)
        .map(|(stage, file, standing)| BrokenFile {
            file: file.to_owned(),
            stage: stage,
            missing: standing == Standing::Missing,
        })
        .collect();
    let in_time = |link: &Link| work_started.is_none_or(|started| link.seal.sealed <= started);
    let first = chain
        .links
        .iter()
        .find(|link| link.seal.stage == Stage::Baseline);
    let holding = chain.latest(Stage::Baseline);
    Sealing {
        seals: chain.links.iter().map(note).collect(),
        broken,
        faults: chain.faults.iter().map(ToString::to_string).collect(),
        before_work: first.map(in_time),
        amended_late: holding.is_some_and(|link| !in_time(link)),
        amended: chain
            .changed_since_first()
            .into_iter()
            .map(str::to_owned)
            .collect(),
    }
}

fn note(link: &Link) -> SealNote {
    SealNote {
        file: link.file.clone(),
        stage: link.seal.stage,
        sealed: link.seal.sealed,
        set_by_hand: link.seal.clock == Clock::Set,
        fingerprint: Fingerprint::of(link.digest).to_string(),
        digest: link.digest.to_string(),
        amends: link.seal.amends.clone(),
    }
}
