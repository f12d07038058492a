//! Which instruments a job was measured with, and whether each was in calibration.
//!
//! An instrument is overdue in a run that started on a day after its calibration was due.
//! A reading, a condition or the instrument itself is called overdue where it was used in
//! any such run, so that the answer is the same everywhere.

use chrono::NaiveDate;

use super::uncertainty::named;
use crate::job::{ConditionReading, Instrument, Job, Run};

/// An instrument that something was read with.
#[derive(Debug, Clone)]
#[cfg_attr(test, derive(PartialEq, Eq))]
pub struct Used {
    /// The instrument's id.
    pub instrument: String,
    /// Whether its calibration was overdue when it was used for this.
    pub overdue: bool,
}

/// An instrument of the job that was used in either run.
#[derive(Debug, Clone)]
#[cfg_attr(test, derive(PartialEq, Eq))]
pub struct InstrumentUse {
    /// The instrument's id.
    pub id: String,
    /// When its calibration was due, where it was used later than that.
    pub overdue: Option<NaiveDate>,
    /// Whether it was first calibrated after it was used.
    pub calibrated_later: bool,
}

/// The instruments that were used, in the order of the job.
pub fn used(job: &Job) -> Vec<InstrumentUse> {
    let uses = |instrument: &Instrument| -> Vec<NaiveDate> {
        let runs = [&job.baseline, &job.retest].into_iter();
        let runs = runs.filter(|run| run.uses(&instrument.id));
        runs.map(|run| run.started.date_naive()).collect()
    };
    job.plan
        .instruments
        .iter()
        .map(|instrument| (instrument, uses(instrument)))
        .filter(|(_, days)| !days.is_empty())
        .map(|(instrument, days)| InstrumentUse {
            id: instrument.id.clone(),
            overdue: instrument
                .due
                .filter(|due| days.iter().any(|day| day > due)),
            calibrated_later: instrument
                .calibrated
                .is_some_and(|calibrated| days.iter().any(|day| *day < calibrated)),
        })
        .collect()
}

/// The instruments with which the measure `id` was read, the baseline's first.
pub fn of_measure(job: &Job, id: &str) -> Vec<Used> {
    of_both(job, |run| {
        let reading = run.readings.get(id);
        let named = reading.map(|reading| [&reading.instrument, &reading.timer]);
        named.into_iter().flatten().flatten().collect()
    })
}

/// The instruments with which the condition `id` was read, the baseline's first.
pub fn of_condition(job: &Job, id: &str) -> Vec<Used> {
    of_both(job, |run| match run.conditions.get(id) {
        Some(ConditionReading::Value { instrument, .. }) => instrument.iter().collect(),
        Some(ConditionReading::Text(_)) | None => Vec::new(),
    })
}

/// Each instrument that `named` finds in a run once.
fn of_both<'a>(job: &'a Job, named: impl Fn(&'a Run) -> Vec<&'a String>) -> Vec<Used> {
    let mut all: Vec<Used> = Vec::new();
    for run in [&job.baseline, &job.retest] {
        for id in named(run) {
            let overdue = is_overdue(&job.plan.instruments, run, id);
            match all.iter_mut().find(|known| known.instrument == *id) {
                Some(known) => known.overdue |= overdue,
                None => all.push(Used {
                    instrument: id.clone(),
                    overdue,
                }),
            }
        }
    }
    all
}

/// Whether the calibration of an instrument was overdue in a run.
fn is_overdue(instruments: &[Instrument], run: &Run, id: &str) -> bool {
    let due = named(instruments, Some(id)).and_then(|found| found.due);
    due.is_some_and(|due| run.started.date_naive() > due)
}
