//! What was read of one measure, paired once with its kind and its limits.
//!
//! Everything that follows matches on [`Observed`] and names every variant, so that a new
//! kind of measure cannot be left out of the judgement unnoticed.

use crate::job::{
    Count, Kind, Measure, Observation, PerCylinder, Reading, Run, Scale, Smoke, SmokeLimits, Stage,
};
use crate::quantity::Quantity;

/// One measure of both runs, by its kind.
pub enum Observed<'a> {
    /// One value, or repeats of it.
    Value {
        scale: &'a Scale,
        values: [&'a [Quantity]; 2],
        /// Whether the repeats belong in pairs.
        paired: bool,
        readings: [&'a Reading; 2],
    },
    /// One value for each cylinder.
    Cylinders {
        scale: &'a Scale,
        cylinders: [&'a PerCylinder<Vec<Quantity>>; 2],
        readings: [&'a Reading; 2],
    },
    /// Passes of attempts.
    Passes {
        min: Option<u32>,
        counts: [Count; 2],
    },
    /// Passes of attempts for each cylinder.
    CylinderPasses {
        min: Option<u32>,
        counts: [&'a PerCylinder<Count>; 2],
    },
    /// Exhaust smoke.
    Smoke {
        limits: &'a SmokeLimits,
        smoke: [&'a Smoke; 2],
        readings: [&'a Reading; 2],
    },
    /// Words.
    Text,
    /// There are no two readings to compare: in which run there is none, and why.
    NotTaken { run: Stage, why: &'a str },
}

impl<'a> Observed<'a> {
    /// Pairs the readings of `measure`. Intake refuses a run that lacks one, or that has one
    /// of another kind; should it happen anyway, the measure counts as not read, which no
    /// verdict ignores.
    pub fn of(measure: &'a Measure, baseline: &'a Run, retest: &'a Run) -> Self {
        use Observation as O;
        let readings = [baseline, retest].map(|run| run.readings.get(&measure.id));
        let [Some(before), Some(after)] = readings else {
            return Observed::NotTaken {
                run: Stage::Retest,
                why: "",
            };
        };
        let readings = [before, after];
        match (&measure.kind, &before.observation, &after.observation) {
            (Kind::Value(scale), O::Value(before), O::Value(after)) => Observed::Value {
                scale,
                values: [before, after],
                paired: measure.paired,
                readings,
            },
            (Kind::Cylinders(scale), O::Cylinders(before), O::Cylinders(after)) => {
                Observed::Cylinders {
                    scale,
                    cylinders: [before, after],
                    readings,
                }
            }
            (Kind::Passes { min }, O::Passes(before), O::Passes(after)) => Observed::Passes {
                min: *min,
                counts: [*before, *after],
            },
            (Kind::CylinderPasses { min }, O::CylinderPasses(before), O::CylinderPasses(after)) => {
                Observed::CylinderPasses {
                    min: *min,
                    counts: [before, after],
                }
            }
            (Kind::Smoke(limits), O::Smoke(before), O::Smoke(after)) => Observed::Smoke {
                limits,
                smoke: [before, after],
                readings,
            },
            (Kind::Text, O::Text(_), O::Text(_)) => Observed::Text,
            // Each kind and each observation is named, so that the compiler asks for a new one.
            (
                Kind::Value(_)
                | Kind::Cylinders(_)
                | Kind::Passes { .. }
                | Kind::CylinderPasses { .. }
                | Kind::Smoke(_)
                | Kind::Text,
                before,
                after,
            ) => match (why_not(before), why_not(after)) {
                (Some(why), _) => Observed::NotTaken {
                    run: Stage::Baseline,
                    why,
                },
                (None, why) => Observed::NotTaken {
                    run: Stage::Retest,
                    why: why.unwrap_or_default(),
                },
            },
        }
    }
}

/// Why a reading was not taken, where it was not.
fn why_not(observation: &Observation) -> Option<&str> {
    match observation {
        Observation::NotTaken(why) => Some(why),
        Observation::Value(_)
        | Observation::Cylinders(_)
        | Observation::Passes(_)
        | Observation::CylinderPasses(_)
        | Observation::Smoke(_)
        | Observation::Text(_) => None,
    }
}
