//! How much a machine varies by itself, from one run to the next under like conditions.

use crate::quantity::Quantity;

/// What is known of how a machine varies from one run to the next under like conditions.
#[derive(Debug, Clone, Default)]
pub struct Variation {
    /// What is stated of it.
    pub stated: Option<RunToRun>,
    /// Whether every value comes from a run of its own, so that their scatter shows it.
    pub separate_runs: bool,
}

impl Variation {
    /// Whether anything is known of it, of a measure of which some reading `is_repeated` or
    /// none. Values of separate runs show it by their scatter, and one value has none.
    pub fn is_known(&self, is_repeated: bool) -> bool {
        self.stated.is_some() || (self.separate_runs && is_repeated)
    }
}

/// How much single readings vary, one from each of several runs under like conditions.
#[derive(Debug, Clone)]
pub struct RunToRun {
    /// Their standard deviation.
    pub spread: Spread,
    /// From how many runs it was worked out, where that was said; at least 2.
    pub runs: Option<u32>,
    /// Where that is known from.
    pub source: String,
}

/// A standard deviation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Spread {
    /// A difference.
    Deviation(Quantity),
    /// In percent of the reading.
    Percent(Quantity),
}

impl RunToRun {
    /// Its degrees of freedom; infinite where it counts as known.
    pub fn dof(&self) -> f64 {
        self.runs
            .map_or(f64::INFINITY, |runs| f64::from(runs) - 1.0)
    }
}
