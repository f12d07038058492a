//! What was read of one measure, paired once with its kind and its limits.
//!
//! Everything that follows matches on [`Observed`] and names every variant, so that a new
//! kind of measure cannot be left out of the judgement unnoticed.

use std::borrow::Cow;

use crate::job::{
    Count, Counted, ExactScale, ExactScaleAt, Kind, ListItem, ListLimits, Measure, Observation,
    PerPosition, Positions, RateScale, Reading, Run, ScaleAt, Smoke, SmokeLimits,
};
use crate::quantity::Quantity;

/// One measure of both runs, by its kind.
pub enum Observed<'a> {
    /// One value, or repeats of it.
    Value {
        values: [&'a [Quantity]; 2],
        /// Whether the repeats belong in pairs.
        paired: bool,
        readings: [&'a Reading; 2],
    },
    /// One value at each position; of a baseline that was not taken, none at each.
    ValueAt {
        scales: &'a ScaleAt,
        values: [Cow<'a, PerPosition<Vec<Quantity>>>; 2],
        readings: [&'a Reading; 2],
    },
    /// Passes of attempts.
    Passes {
        min: Option<u32>,
        counts: [Count; 2],
    },
    /// Passes of attempts at each position.
    PassesAt {
        at: &'a Positions,
        min: Option<u32>,
        counts: [Cow<'a, PerPosition<Count>>; 2],
    },
    /// A grade, or an exact count.
    Exact {
        scale: &'a ExactScale,
        read: [u32; 2],
    },
    /// The same at each position.
    ExactAt {
        scales: &'a ExactScaleAt,
        read: [Cow<'a, PerPosition<u32>>; 2],
    },
    /// Counted events.
    Rate {
        scale: &'a RateScale,
        counted: [Counted; 2],
    },
    /// What the machine has stored.
    List {
        limits: &'a ListLimits,
        lists: [&'a [ListItem]; 2],
    },
    /// Exhaust smoke.
    Smoke {
        limits: &'a SmokeLimits,
        smoke: [&'a Smoke; 2],
        readings: [&'a Reading; 2],
    },
    /// Words.
    Text,
    /// It was read in the retest only: why not before.
    AfterOnly {
        measure: &'a Measure,
        reading: &'a Reading,
        why: &'a str,
    },
    /// It was not read in the retest: why not.
    NotTaken { why: &'a str },
}

impl<'a> Observed<'a> {
    /// Pairs the readings of `measure`. Intake refuses a run that lacks one, or that has one
    /// of another kind; should it happen anyway, the measure counts as not read, which no
    /// verdict ignores.
    pub fn of(measure: &'a Measure, baseline: &'a Run, retest: &'a Run) -> Self {
        use Observation as O;
        let readings = [baseline, retest].map(|run| run.readings.get(&measure.id));
        let [Some(before), Some(after)] = readings else {
            return Observed::NotTaken { why: "" };
        };
        let readings = [before, after];
        match (&measure.kind, &before.observation, &after.observation) {
            (Kind::Value(_), O::Value(before), O::Value(after)) => Observed::Value {
                values: [before, after],
                paired: measure.paired,
                readings,
            },
            (Kind::ValueAt(scales), O::ValueAt(before), O::ValueAt(after)) => Observed::ValueAt {
                scales,
                values: [before, after].map(Cow::Borrowed),
                readings,
            },
            (Kind::ValueAt(scales), O::NotTaken(why), O::ValueAt(after)) => Observed::ValueAt {
                scales,
                values: [not_taken(after, why), Cow::Borrowed(after)],
                readings,
            },
            (Kind::Passes { min }, O::Passes(before), O::Passes(after)) => Observed::Passes {
                min: *min,
                counts: [*before, *after],
            },
            (Kind::PassesAt { at, min }, O::PassesAt(before), O::PassesAt(after)) => {
                Observed::PassesAt {
                    at,
                    min: *min,
                    counts: [before, after].map(Cow::Borrowed),
                }
            }
            (Kind::PassesAt { at, min }, O::NotTaken(why), O::PassesAt(after)) => {
                Observed::PassesAt {
                    at,
                    min: *min,
                    counts: [not_taken(after, why), Cow::Borrowed(after)],
                }
            }
            (Kind::Exact(scale), O::Exact(before), O::Exact(after)) => Observed::Exact {
                scale,
                read: [*before, *after],
            },
            (Kind::ExactAt(scales), O::ExactAt(before), O::ExactAt(after)) => Observed::ExactAt {
                scales,
                read: [before, after].map(Cow::Borrowed),
            },
            (Kind::ExactAt(scales), O::NotTaken(why), O::ExactAt(after)) => Observed::ExactAt {
                scales,
                read: [not_taken(after, why), Cow::Borrowed(after)],
            },
            (Kind::Rate(scale), O::Rate(before), O::Rate(after)) => Observed::Rate {
                scale,
                counted: [*before, *after],
            },
            (Kind::List(limits), O::List(before), O::List(after)) => Observed::List {
                limits,
                lists: [before, after],
            },
            (Kind::Smoke(limits), O::Smoke(before), O::Smoke(after)) => Observed::Smoke {
                limits,
                smoke: [before, after],
                readings,
            },
            (Kind::Text, O::Text(_), O::Text(_)) => Observed::Text,
            // Each kind and each observation is named, so that the compiler asks for a new one.
            (
                Kind::Value(_)
                | Kind::ValueAt(_)
                | Kind::Passes { .. }
                | Kind::PassesAt { .. }
                | Kind::Exact(_)
                | Kind::ExactAt(_)
                | Kind::Rate(_)
                | Kind::List(_)
                | Kind::Smoke(_)
                | Kind::Text,
                before,
                after,
            ) => match (why_not(before), why_not(after)) {
                (Some(why), None) => Observed::AfterOnly {
                    measure,
                    reading: readings[1],
                    why,
                },
                (Some(_) | None, why) => Observed::NotTaken {
                    why: why.unwrap_or_default(),
                },
            },
        }
    }
}

/// A run in which none of the positions of `other` was read.
fn not_taken<'a, T: Clone>(other: &PerPosition<T>, why: &str) -> Cow<'a, PerPosition<T>> {
    Cow::Owned(PerPosition::not_taken(other.iter().count(), why))
}

/// Why a reading was not taken, where it was not.
fn why_not(observation: &Observation) -> Option<&str> {
    match observation {
        Observation::NotTaken(why) => Some(why),
        Observation::Value(_)
        | Observation::ValueAt(_)
        | Observation::Passes(_)
        | Observation::PassesAt(_)
        | Observation::Exact(_)
        | Observation::ExactAt(_)
        | Observation::Rate(_)
        | Observation::List(_)
        | Observation::Smoke(_)
        | Observation::Text(_) => None,
    }
}
