//! The seals of a job in the form in which they are worded.

use std::collections::BTreeSet;

use chrono::{DateTime, FixedOffset};

use super::chain::{Chain, Link, Standing};
use super::fingerprint::Fingerprint;
use super::text::{Clock, Stage};
use crate::files::Digest;
use crate::job::{Job, Photo, Recording};
use crate::view::{BrokenFile, SealNote, SealStage, Sealing};

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
            stage: view_stage(stage),
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
        stage: view_stage(link.seal.stage),
        sealed: link.seal.sealed,
        set_by_hand: link.seal.clock == Clock::Set,
        fingerprint: Fingerprint::of(link.digest).to_string(),
        digest: link.digest.to_string(),
        amends: link.seal.amends.clone(),
    }
}

fn view_stage(stage: Stage) -> SealStage {
    match stage {
        Stage::Baseline => SealStage::Baseline,
        Stage::Retest => SealStage::Retest,
    }
}
