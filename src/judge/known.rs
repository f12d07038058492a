//! What is known of a measure's errors beyond its instruments: how its readings scatter, and
//! how the machine varies from run to run.

use super::dependence::Dependence;
use super::moments::mean;
use super::pairs::Pairs;
use super::repeats::Repeats;
use super::scatter::{Pool, Scatter};
use super::uncertainty::Errors;
use super::variation::beside_stated;
use crate::job::{Instrument, Measure, Reading, RunToRun, SMOKE_BY_EYE_SECONDS};

/// What is known of the errors of one measure, in both runs.
pub struct Known<'a> {
    /// The instruments of the job.
    pub instruments: &'a [Instrument],
    /// How its readings scatter.
    pub scatter: Pool,
    /// What is stated of how the machine varies.
    pub stated: Option<&'a RunToRun>,
    /// Whether every value comes from a run of its own.
    separate_runs: bool,
    /// The scatter of each run that counts in its uncertainty.
    counted: [Option<Scatter>; 2],
    /// The standard uncertainty of judging by eye when something happens, in seconds.
    by_eye: Option<f64>,
}

impl<'a> Known<'a> {
    /// What is known of `measure` by its `readings` in both runs; before the work, there is
    /// one of them.
    pub fn of(
        measure: &'a Measure,
        readings: [Option<&Reading>; 2],
        instruments: &'a [Instrument],
    ) -> Self {
        let repeats = readings.map(|one| one.map(|reading| Repeats::of(instruments, reading)));
        let steps = repeats.iter().flatten().map(|repeats| repeats.step);
        let step = steps.fold(0.0, f64::max);
        let runs = repeats.map(|one| one.map_or_else(Vec::new, |repeats| repeats.si()));
        let [before, after] = &runs;
        let scatter = if measure.paired {
            Pool::apart([before, after])
        } else {
            Pool::of([before, after], step)
        };
        let stated = measure.variation.stated.as_ref();
        let means: Vec<f64> = before
            .iter()
            .chain(after)
            .map(|group| mean(group))
            .collect();
        Self {
            instruments,
            scatter,
            stated,
            counted: stated.map_or(scatter.runs, |stated| {
                beside_stated(scatter, stated, &means)
            }),
            separate_runs: measure.variation.separate_runs,
            by_eye: measure.by_eye.map(|seconds| seconds.si()),
        }
    }

    /// Whether the repeats scatter by more than is stated, by more than chance.
    pub fn exceeds_stated(&self) -> bool {
        self.stated.is_some() && self.counted.iter().any(Option::is_some)
    }

    /// What is known of the errors of both readings.
    pub fn errors(&self, readings: [&Reading; 2]) -> [Errors<'a>; 2] {
        let [before, after] = readings;
        [self.errors_in(0, before), self.errors_in(1, after)]
    }

    /// What is known of the errors of the reading of one run: 0 is the baseline.
    pub fn errors_in(&self, run: usize, reading: &Reading) -> Errors<'a> {
        Errors {
            by_eye: self.by_eye,
            scatter: self.counted[run],
            run_to_run: self.stated,
            separate_runs: self.separate_runs,
            ..Errors::of(self.instruments, reading)
        }
    }

    /// How the two readings depend on each other, but for an error of their instrument.
    pub fn dependence(&self, pairs: Option<Pairs>) -> Dependence {
        Dependence {
            common: None,
            pairs,
            pooled: !self.scatter.kept_apart,
            over_others: false,
        }
    }

    /// The standard uncertainty of seeing when smoke is gone, in seconds.
    pub fn smoke_by_eye(&self) -> f64 {
        self.by_eye.unwrap_or(SMOKE_BY_EYE_SECONDS)
    }
}
