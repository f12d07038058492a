//! Photos whose camera time does not fit the run they belong to.
//!
//! Photos are no readings, and a camera's clock is set by hand: what is found here
//! is for the reader to weigh. The verdict does not depend on it, and can be worked
//! out again where the photos are not at hand.

use chrono::{DateTime, FixedOffset, TimeDelta};

use crate::job::{CaptureTime, During, Job, Photo};

/// How far a photo may lie from its run, and how far it may be off for want of a
/// time zone: local times differ by at most 26 hours, in practice by less than a day.
const DAY: TimeDelta = TimeDelta::days(1);

/// A photo whose time does not fit.
#[derive(Debug, Clone)]
#[cfg_attr(test, derive(PartialEq))]
pub struct PhotoTimeDoubt<'a> {
    /// The photo.
    pub photo: &'a Photo,
    /// What it belongs to.
    pub stage: During,
    /// When it was taken, by its camera.
    pub taken: CaptureTime,
    /// How it does not fit.
    pub misfit: Misfit,
    /// The time that it does not fit.
    pub against: DateTime<FixedOffset>,
}

/// How a photo's time does not fit the run.
#[derive(Debug, Clone, Copy)]
#[cfg_attr(test, derive(PartialEq, Eq))]
pub enum Misfit {
    /// It belongs to the baseline, and was taken after the work started.
    AfterWorkStarted,
    /// It belongs to the retest, and was taken before the work was finished.
    BeforeWorkEnded,
    /// It was taken more than a day before or after the run it belongs to.
    DaysAway,
}

/// The photos whose times do not fit, in the order of the story. Where a camera
/// names no time zone, that of the run is taken, and a day more is allowed.
pub fn photo_time_doubts(job: &Job) -> Vec<PhotoTimeDoubt<'_>> {
    let Job {
        baseline,
        work,
        retest,
        ..
    } = job;
    let span = |start, end: Option<DateTime<FixedOffset>>| [start, end.unwrap_or(start)];
    let stages = [
        (
            During::Baseline,
            &baseline.photos,
            span(baseline.started, baseline.ended),
        ),
        (
            During::Work,
            &work.photos,
            span(work.started, Some(work.finished)),
        ),
        (
            During::Retest,
            &retest.photos,
            span(retest.started, retest.ended),
        ),
    ];
    stages
        .into_iter()
        .flat_map(|(stage, photos, span)| photos.iter().map(move |photo| (stage, photo, span)))
        .filter_map(|(stage, photo, span)| {
            let taken = photo.taken?;
            let (misfit, against) = misfit(job, stage, taken, span)?;
            Some(PhotoTimeDoubt {
                photo,
                stage,
                taken,
                misfit,
                against,
            })
        })
        .collect()
}

fn misfit(
    job: &Job,
    stage: During,
    taken: CaptureTime,
    [start, end]: [DateTime<FixedOffset>; 2],
) -> Option<(Misfit, DateTime<FixedOffset>)> {
    let allowed = match taken.offset {
        Some(_) => TimeDelta::zero(),
        None => DAY,
    };
    let taken = taken.at(*start.offset())?;
    if stage == During::Baseline && taken - allowed > job.work.started {
        Some((Misfit::AfterWorkStarted, job.work.started))
    } else if stage == During::Retest && taken + allowed < job.work.finished {
        Some((Misfit::BeforeWorkEnded, job.work.finished))
    } else if taken + allowed < start - DAY {
        Some((Misfit::DaysAway, start))
    } else if taken - allowed > end + DAY {
        Some((Misfit::DaysAway, end))
    } else {
        None
    }
}
