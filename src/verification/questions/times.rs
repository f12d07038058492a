//! What `seal` asks of times, asked again of a finished document: nothing is sealed before
//! it was measured, and nothing counts as written before the work that was sealed after it.

use crate::seals::shown;
use chrono::{DateTime, FixedOffset, TimeDelta};

use crate::job::Stage;
use crate::verification::attached_job::AttachedJob;

/// How long before the work a baseline may have been measured: what is older may be that of
/// an earlier visit, with its seal and its receipt.
const LONGEST_WAIT: TimeDelta = TimeDelta::days(90);

/// What the times contradict, and what they leave open.
#[derive(Default)]
pub struct Misfits {
    /// These cannot be.
    pub impossible: Vec<String>,
    /// These may be as they should, or not.
    pub open: Vec<String>,
}

/// The times of the seals against those of the runs, the work and the signature.
pub fn misfits(job: &AttachedJob, signed_at: Option<DateTime<FixedOffset>>) -> Misfits {
    let mut found = Misfits::default();
    if let Some(number) = job.number() {
        let other = job.chain.links.iter().find(|link| link.seal.job != number);
        found.impossible.extend(other.map(|link| {
            format!(
                "{} is a seal of the job {}, and this is the job {}",
                shown(&link.file),
                shown(&link.seal.job),
                shown(number)
            )
        }));
    }
    for stage in Stage::ALL {
        let Some(measured) = job.measured(stage) else {
            continue;
        };
        if let Some(link) = job.chain.latest(stage)
            && link.seal.sealed < measured
        {
            found.impossible.push(format!(
                "{} was sealed {}, before the {} was measured, {measured}",
                shown(&link.file),
                link.seal.sealed,
                stage.word()
            ));
        }
        if let Some(signed) = signed_at.filter(|signed| *signed < measured) {
            found.impossible.push(format!(
                "it was signed {signed}, before the {} was measured, {measured}",
                stage.word()
            ));
        }
    }
    if job.hides_its_work() {
        found.open.push(
            "when the work started cannot be read, and so not whether the seals are older"
                .to_owned(),
        );
    }
    let Some(started) = job.work_started() else {
        return found;
    };
    if let (Some(first), Some(holding)) = (
        job.chain.first(Stage::Baseline),
        job.chain.latest(Stage::Baseline),
    ) && first.seal.sealed <= started
        && holding.seal.sealed > started
    {
        found.open.push(format!(
            "the baseline was changed and sealed again {}, after the work had started {started}: \
             what was changed may have been written then",
            holding.seal.sealed
        ));
    }
    if let Some(measured) = job.measured(Stage::Baseline)
        && started - measured > LONGEST_WAIT
    {
        found.open.push(format!(
            "the baseline was measured {measured}, {} days before the work started: it may be \
             that of an earlier visit",
            (started - measured).num_days()
        ));
    }
    found
}
