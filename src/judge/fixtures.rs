//! Made-up readings and findings for the tables of cases in this room.

use super::change::Change;
use super::comparison::{Comparison, Terms, compare};
use super::conditions::{ConditionJudgement, ConditionState};
use super::dependence::Dependence;
use super::finding::MeasureFinding;
use super::measures::MeasureJudgement;
use super::scatter::Pool;
use super::uncertainty::combine;
use super::zone::Outcome;
use crate::job::{Better, Bounds, DecisionRule, Kind, Measure, Scale, Variation};
use crate::quantity::{Component, Estimate, Quantity, Source, Unit};

/// A reading with a standard uncertainty that is taken as known.
pub fn reading(value: f64, u: f64) -> Estimate {
    let component = Component::new(Source::Stated, u, f64::INFINITY);
    combine(value, vec![component])
}

/// A scale in seconds.
pub fn scale(better: Option<Better>, min: Option<f64>, max: Option<f64>) -> Scale {
    let unit = Unit::named("s").unwrap();
    let quantity = |value: f64| Quantity::new(value, unit).unwrap();
    Scale {
        unit,
        better,
        bounds: Bounds::new(min.map(quantity), max.map(quantity)),
        by: None,
        should: None,
        as_printed: None,
        before: None,
        improvement: None,
        pressure: None,
        bands: None,
    }
}

/// `rule`, under conditions that are fair, of a machine of which it is known how it varies.
pub fn fair(rule: DecisionRule) -> Terms {
    Terms {
        rule,
        fair: true,
        variation_known: true,
    }
}

/// Two readings with the same standard uncertainty, compared by the four-zone rule under
/// fair conditions.
pub fn compared(before: f64, after: f64, u: f64, scale: &Scale) -> Comparison {
    let readings = [reading(before, u), reading(after, u)];
    let [before, after] = readings;
    let terms = fair(DecisionRule::FourZone);
    compare(before, after, Dependence::default(), scale, terms)
}

/// A measure of which only the outcome is known.
pub fn found(required: bool, outcome: Outcome) -> MeasureJudgement {
    MeasureJudgement {
        id: "m".into(),
        required,
        fair: true,
        finding: MeasureFinding::Text,
        change: None,
        claim: None,
        outcome,
        at_limit: outcome,
        outcome_before: Outcome::NoLimit,
        read_with: Vec::new(),
        scatter: Pool::default(),
        exceeds_stated: false,
        left_out: Default::default(),
    }
}

/// The same with a change.
pub fn changed(required: bool, outcome: Outcome, change: Change) -> MeasureJudgement {
    MeasureJudgement {
        change: Some(change),
        ..found(required, outcome)
    }
}

/// The same with one value, so that it has a figure on a page.
pub fn with_figure(found: MeasureJudgement) -> MeasureJudgement {
    let comparison = compared(2.0, 1.0, 0.1, &scale(Some(Better::Lower), None, None));
    MeasureJudgement {
        finding: MeasureFinding::Value(Box::new(comparison)),
        ..found
    }
}

/// A planned measure, which may be marked for the customer's page.
pub fn planned(front: bool) -> Measure {
    Measure {
        id: "m".into(),
        name: "M".into(),
        kind: Kind::Text,
        worked_out: None,
        repeats: None,
        required: false,
        source: None,
        method: None,
        meaning: None,
        test: None,
        paired: false,
        variation: Variation::default(),
        by_eye: None,
        cannot_tell: Vec::new(),
        hazards: Vec::new(),
        front,
    }
}

/// A condition in this state.
pub fn condition(id: &str, required: bool, state: ConditionState) -> ConditionJudgement {
    ConditionJudgement {
        id: id.into(),
        required,
        state,
        difference: None,
        helped: false,
        read_with: Vec::new(),
        concerns: Vec::new(),
    }
}
