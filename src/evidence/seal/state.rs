//! The seals of a job in the form in which they are worded.

use chrono::{DateTime, FixedOffset};

use super::chain::{Chain, Link, Standing};
use super::fingerprint::Fingerprint;
use super::text::{Clock, Stage};
use crate::files::Digest;
use crate::view::{BrokenFile, SealNote, SealStage, Sealing};

/// The file whose change after the first seal is always said.
const LIMITS: &str = "limits.toml";

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
    let first = chain.first(Stage::Baseline);
    Sealing {
        seals: chain.links.iter().map(note).collect(),
        broken,
        faults: chain.faults.iter().map(ToString::to_string).collect(),
        before_work: first
            .map(|first| work_started.is_none_or(|started| first.seal.sealed <= started)),
        limits_amended: chain.amended(LIMITS).is_some(),
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
