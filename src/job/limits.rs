//! What must hold: measures with their limits, the decision rule, and the
//! conditions that must be alike for a fair comparison.

use std::sync::Arc;

use schemars::JsonSchema;
use serde::Deserialize;

use super::{
    Bands, Bounds, ExactScale, ExactScaleAt, Formula, Hazard, LimitBy, ListLimits, OwnLimits,
    Positions, RateScale, TestKind, Variation,
};
use crate::quantity::{Dimension, Quantity, Unit};

/// Everything that is fixed before the work starts.
#[derive(Debug, Clone)]
pub struct Limits {
    /// How uncertainty counts at a limit.
    pub rule: DecisionRule,
    /// Whether the file names the rule, or left it to the format.
    pub rule_named: bool,
    /// How and with whom limits and rule were agreed.
    pub agreed: Option<String>,
    /// What is measured before and after, in the order of the report.
    pub measures: Vec<Measure>,
    /// What must be alike in both runs, in the order of the report.
    pub conditions: Vec<Condition>,
}

impl Limits {
    /// The measure with this id.
    pub fn measure(&self, id: &str) -> Option<&Measure> {
        self.measures.iter().find(|measure| measure.id == id)
    }
}

/// How uncertainty counts at a limit.
// ILAC-G8:09/2019, section 4.2: the three rules are its 4.2.1, 4.2.2 and 4.2.3.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum DecisionRule {
    /// The value alone decides; uncertainty is not counted.
    Simple,
    /// A pass only if the value is inside by at least its uncertainty.
    Guarded,
    /// As `guarded`, but a value inside by less than its uncertainty is a conditional
    /// pass: it passes with a reservation.
    FourZone,
}

/// One thing measured in both runs.
#[derive(Debug, Clone)]
pub struct Measure {
    /// The short name by which readings refer to it.
    pub id: String,
    /// The name that is printed.
    pub name: String,
    /// What kind of reading it is, and its limits.
    pub kind: Kind,
    /// From which readings of the same run it is worked out, and how; none where it is read.
    pub worked_out: Option<Formula>,
    /// How many times it is planned to be read in each run, for values, where that was
    /// said; at least 1.
    pub repeats: Option<usize>,
    /// Whether the verdict depends on it.
    pub required: bool,
    /// Where the limit comes from.
    pub source: Option<String>,
    /// How it is measured.
    pub method: Option<String>,
    /// What it means, in words for the customer.
    pub meaning: Option<String>,
    /// Which of the trade's tests it is.
    pub test: Option<TestKind>,
    /// Whether the i-th repeat before belongs with the i-th after. Only of a value.
    pub paired: bool,
    /// What is known of how the machine varies from run to run.
    pub variation: Variation,
    /// The standard uncertainty of judging by eye when the timed event happens.
    pub by_eye: Option<Quantity>,
    /// What the test cannot tell.
    pub cannot_tell: Vec<String>,
    /// What can hurt someone who repeats it.
    pub hazards: Vec<Hazard>,
    /// Whether it belongs on the customer's page.
    pub front: bool,
}

/// The kind of a measure's readings, with the limits that fit that kind.
#[derive(Debug, Clone)]
pub enum Kind {
    /// One value with a unit, once or repeated.
    Value(Scale),
    /// One value, or repeats of it, at each of several positions.
    ValueAt(ScaleAt),
    /// How many of a number of attempts passed; at least `min` must pass.
    Passes {
        /// The least number of passes.
        min: Option<u32>,
    },
    /// Passes of attempts at each of several positions; each needs at least `min`.
    PassesAt {
        /// Where.
        at: Positions,
        /// The least number of passes of each.
        min: Option<u32>,
    },
    /// A grade, or an exact count.
    Exact(ExactScale),
    /// A grade, or an exact count, at each of several positions.
    ExactAt(ExactScaleAt),
    /// Counted events over a stretch of something.
    Rate(RateScale),
    /// What the machine has stored.
    List(ListLimits),
    /// Exhaust smoke; less, and sooner gone, is better.
    Smoke(SmokeLimits),
    /// Words only; not judged.
    Text,
}

impl Kind {
    /// Whether there is anything to judge a reading by.
    pub fn has_limit(&self) -> bool {
        match self {
            Kind::Value(scale) => scale.has_limit(),
            Kind::ValueAt(scales) => {
                scales.common.has_limit() || scales.own.iter().any(Option::is_some)
            }
            Kind::Passes { min } | Kind::PassesAt { min, .. } => min.is_some(),
            Kind::Exact(scale) => scale.has_limit(),
            Kind::ExactAt(scales) => scales.has_limit(),
            Kind::Rate(scale) => scale.has_limit(),
            Kind::List(limits) => limits.has_limit(),
            Kind::Smoke(limits) => {
                limits.max_opacity.is_some()
                    || limits.max_absorption.is_some()
                    || limits.max_clear.is_some()
            }
            Kind::Text => false,
        }
    }
}

impl Kind {
    /// The unit of its figures, where it has one.
    pub fn unit(&self) -> Option<&'static Unit> {
        self.scale().map(|scale| scale.unit)
    }

    /// Where it is read, if at several positions.
    pub fn at(&self) -> Option<&Positions> {
        match self {
            Kind::ValueAt(scales) => Some(&scales.at),
            Kind::PassesAt { at, .. } => Some(at),
            Kind::ExactAt(scales) => Some(&scales.at),
            Kind::Value(_)
            | Kind::Passes { .. }
            | Kind::Exact(_)
            | Kind::Rate(_)
            | Kind::List(_)
            | Kind::Smoke(_)
            | Kind::Text => None,
        }
    }

    /// How its values are compared, where it has values; of several positions, what holds for
    /// all.
    pub fn scale(&self) -> Option<&Scale> {
        match self {
            Kind::Value(scale) => Some(scale),
            Kind::ValueAt(scales) => Some(&scales.common),
            Kind::Passes { .. }
            | Kind::PassesAt { .. }
            | Kind::Exact(_)
            | Kind::ExactAt(_)
            | Kind::Rate(_)
            | Kind::List(_)
            | Kind::Smoke(_)
            | Kind::Text => None,
        }
    }

    /// The limits that are worked out in each run, where there are some.
    pub fn limit_by(&self) -> Option<&LimitBy> {
        self.scale()?.by.as_deref()
    }

    /// Whether the work has to bring a change for the better.
    pub fn asks_for_improvement(&self) -> bool {
        self.scale()
            .is_some_and(|scale| scale.improvement.is_some())
    }
}

/// The limits of exhaust smoke.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct SmokeLimits {
    /// The greatest opacity.
    pub max_opacity: Option<Quantity>,
    /// The length of the light path for which `max_opacity` holds; readings over
    /// another are converted to it.
    pub path: Option<Quantity>,
    /// The greatest light absorption coefficient.
    pub max_absorption: Option<Quantity>,
    /// The longest time until no smoke is seen.
    pub max_clear: Option<Quantity>,
}

/// How values of a measure are compared.
#[derive(Debug, Clone)]
pub struct Scale {
    /// The unit in which the measure is printed.
    pub unit: &'static Unit,
    /// Which way is better; without it a change is neither.
    pub better: Option<Better>,
    /// The acceptance bounds.
    pub bounds: Option<Bounds>,
    /// The bounds that are worked out in each run; `bounds` has those that are fixed.
    pub by: Option<Arc<LimitBy>>,
    /// What a value should keep besides; it decides nothing.
    pub should: Option<Bounds>,
    /// The limit as the manual prints it.
    pub as_printed: Option<String>,
    /// The limits of what was in service, which hold for the baseline in place of these.
    pub before: Option<Arc<OwnLimits>>,
    /// The change that the work has to bring.
    pub improvement: Option<Improvement>,
    /// What a pressure is measured against, where that was said.
    pub pressure: Option<PressureReference>,
    /// The bands of a standard that it is placed in besides.
    pub bands: Option<Bands>,
}

/// How values are compared that are read at several positions.
#[derive(Debug, Clone)]
pub struct ScaleAt {
    /// Where.
    pub at: Positions,
    /// What holds for all of them.
    pub common: Scale,
    /// The limits of each position, in its order, where they have limits of their own.
    pub own: Vec<Option<OwnLimits>>,
}

impl ScaleAt {
    /// The scale of the position at `index`, from 0.
    pub fn scale(&self, index: usize) -> Scale {
        let common = self.common.clone();
        match self.own.get(index).cloned().flatten() {
            None => common,
            Some(own) => Scale {
                bounds: own.bounds,
                by: own.by,
                should: own.should,
                as_printed: own.as_printed,
                before: own.before.or_else(|| common.before.clone()),
                ..common
            },
        }
    }

    /// Whether all positions have the same bounds, so that they compare with each other.
    pub fn is_uniform(&self) -> bool {
        self.own.iter().all(Option::is_none)
    }

    /// Whether the positions are meant to read alike; points of one test are not.
    pub fn are_alike(&self) -> bool {
        self.is_uniform() && self.at.points().is_none()
    }
}

impl Scale {
    /// Whether there is anything to judge a reading by.
    pub fn has_limit(&self) -> bool {
        self.is_bounded() || self.improvement.is_some()
    }

    /// Whether a reading has bounds to keep.
    pub fn is_bounded(&self) -> bool {
        self.bounds.is_some() || self.by.is_some()
    }

    /// Whether a percentage of a reading has a meaning. That of a pressure has one only
    /// where it is said to be absolute or a difference: 0.30 bar on a gauge is not three
    /// times 0.10 bar.
    pub fn has_true_zero(&self) -> bool {
        self.unit.has_true_zero() && PressureReference::counts_from_zero(self.pressure, self.unit)
    }
}

/// What a pressure is measured against.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum PressureReference {
    /// The air around it, as most gauges do.
    Gauge,
    /// A vacuum.
    Absolute,
    /// Another place of the same circuit, such as across a filter.
    Difference,
}

impl PressureReference {
    /// Whether a figure in `unit`, with what was said of it, is told from zero; whatever is
    /// no pressure is.
    pub fn counts_from_zero(said: Option<Self>, unit: &Unit) -> bool {
        match said {
            Some(Self::Absolute | Self::Difference) => true,
            Some(Self::Gauge) | None => unit.dimension() != Dimension::Pressure,
        }
    }
}

/// Which way a measure gets better.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Better {
    /// Less is better.
    Lower,
    /// More is better.
    Higher,
    /// Between `min` and `max` is better.
    Inside,
}

/// A change for the better that the work has to bring.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Improvement {
    /// By at least this much: a positive difference.
    By(Quantity),
    /// By at least this share of the baseline, in percent.
    Share(Quantity),
}

impl Improvement {
    /// The least that is enough: a difference in SI units, or a fraction of the baseline.
    pub fn least(&self) -> f64 {
        match self {
            Self::By(by) => by.difference_si(),
            Self::Share(percent) => percent.written() / 100.0,
        }
    }
}

/// One thing that must be alike in both runs.
#[derive(Debug, Clone)]
pub struct Condition {
    /// The short name by which runs refer to it.
    pub id: String,
    /// The name that is printed.
    pub name: String,
    /// A value or words, with what makes it match.
    pub kind: ConditionKind,
    /// Whether the verdict depends on it.
    pub required: bool,
    /// The ids of the measures whose tests it bears on; none where it bears on all.
    pub concerns: Vec<String>,
}

impl Condition {
    /// Whether it bears on the test of `measure`.
    pub fn is_about(&self, measure: &str) -> bool {
        self.concerns.is_empty() || self.concerns.iter().any(|id| id == measure)
    }
}

/// What makes a condition match.
#[derive(Debug, Clone)]
pub enum ConditionKind {
    /// A value that may differ by no more than a window.
    Value {
        /// The unit in which it is printed.
        unit: &'static Unit,
        /// The greatest difference that still counts as alike.
        window: Quantity,
        /// Which way makes the test more severe.
        harder: Option<Harder>,
    },
    /// Words that must be the same, such as a kind of fuel.
    Text,
}

/// Which way makes the test more severe.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Harder {
    /// A lower value is more severe.
    Lower,
    /// A higher value is more severe.
    Higher,
}
