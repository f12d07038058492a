//! Limits, outcomes and changes in words.

use super::exact;
use super::figures::{limit, written};
use super::words::Words;
use crate::job::{Better, Bounds, Improvement, Kind, Measure, PressureReference, Scale, ScaleAt};
use crate::judge::{Claim, Moved, Outcome, SmokePart};
use crate::quantity::{Quantity, Unit};

/// The acceptance bounds in words: `at most 5 s`.
pub fn bounds(bounds: Bounds, unit: &Unit, words: &Words) -> String {
    let figure = |quantity| limit(quantity, unit, words);
    match (bounds.min(), bounds.max()) {
        (Some(min), Some(max)) => words.say_with(
            "limit-between",
            &[("min", &figure(min)), ("max", &figure(max))],
        ),
        (Some(min), None) => words.say_with("limit-at-least", &[("min", &figure(min))]),
        (None, Some(max)) => words.say_with("limit-at-most", &[("max", &figure(max))]),
        (None, None) => String::new(),
    }
}

/// The whole limit of a scale, with the improvement it asks for.
pub fn of_scale(scale: &Scale, words: &Words) -> String {
    let mut parts = Vec::new();
    if let Some(limit) = scale.bounds {
        parts.push(bounds(limit, scale.unit, words));
    }
    if let Some(improvement) = scale.improvement {
        parts.push(improvement_words(improvement, scale, words));
    }
    parts.join(&words.say("limit-and"))
}

/// The whole limit of several positions: what all have in common, and whether each has its
/// own.
fn of_scales(scales: &ScaleAt, words: &Words) -> String {
    let mut parts = Vec::new();
    if !scales.is_uniform() {
        parts.push(words.say("limit-own"));
    }
    if scales.common.has_limit() {
        parts.push(of_scale(&scales.common, words));
    }
    parts.join(&words.say("limit-and"))
}

fn improvement_words(improvement: Improvement, scale: &Scale, words: &Words) -> String {
    let amount = match improvement {
        Improvement::By(amount) | Improvement::Share(amount) => limit(amount, amount.unit(), words),
    };
    let id = match scale.better {
        Some(Better::Lower) => "limit-lower-by",
        Some(Better::Higher | Better::Inside) | None => "limit-higher-by",
    };
    words.say_with(id, &[("amount", &amount)])
}

/// The limit of a measure; empty if it has none.
pub fn of_measure(measure: &Measure, words: &Words) -> String {
    match &measure.kind {
        Kind::Value(scale) => of_scale(scale, words),
        Kind::ValueAt(scales) => of_scales(scales, words),
        Kind::Passes { min: Some(min) } | Kind::PassesAt { min: Some(min), .. } => {
            words.say_with("limit-passes", &[("min", &min.to_string())])
        }
        Kind::Exact(scale) | Kind::ExactAt { scale, .. } => exact::limit(scale, words),
        Kind::Rate(scale) => exact::rate_limit(scale, words),
        Kind::List(limits) => exact::list_limit(limits, words),
        Kind::Smoke(limits) => [limits.max_opacity, limits.max_absorption, limits.max_clear]
            .into_iter()
            .flatten()
            .filter_map(|max| Bounds::new(None, Some(max)).map(|b| bounds(b, max.unit(), words)))
            .collect::<Vec<_>>()
            .join(&words.say("limit-and")),
        Kind::Passes { min: None } | Kind::PassesAt { min: None, .. } | Kind::Text => String::new(),
    }
}

/// What the pressure of a measure is measured against, where that was said.
pub fn measured_against(measure: &Measure, words: &Words) -> Option<String> {
    let scale = measure.kind.scale()?;
    Some(words.say(match scale.pressure? {
        PressureReference::Gauge => "pressure-gauge",
        PressureReference::Absolute => "pressure-absolute",
        PressureReference::Difference => "pressure-difference",
    }))
}

/// The name of one figure of the smoke measure `name`; an opacity that has a limit for one
/// `path` of light names it.
pub fn smoke_name(part: SmokePart, path: Option<Quantity>, name: &str, words: &Words) -> String {
    if let Some(path) = path {
        let path = written(path, words);
        return words.say_with("smoke-opacity-over", &[("name", name), ("path", &path)]);
    }
    let id = match part {
        SmokePart::Opacity => "smoke-opacity",
        SmokePart::Absorption => "smoke-absorption",
        SmokePart::Clear => "smoke-clear",
    };
    words.say_with(id, &[("name", name)])
}

/// What may be claimed of a change, in words.
pub fn claim(claim: Claim, words: &Words) -> String {
    words.say(match claim {
        Claim::Step(step) => return exact::step(step, words),
        Claim::TooFewEvents => "change-too-few-events",
        Claim::Improved => "change-improved",
        Claim::Apparent => "change-apparent",
        Claim::NoDetectable => "change-none",
        Claim::Worsened => "change-worsened",
        Claim::TooFewAttempts => "change-too-few-attempts",
        Claim::TooFewPositions => "change-too-few-positions",
        Claim::SomeMoved => "change-some-moved",
        Claim::Moved(moved) => match moved {
            Moved::OutsideToInside => "change-outside-inside",
            Moved::Inside => "change-inside",
            Moved::CameInside => "change-came-inside",
            Moved::WentOutside => "change-went-outside",
            Moved::Neither => "change-neither",
        },
    })
}

/// An outcome in words.
pub fn outcome(outcome: Outcome, words: &Words) -> String {
    words.say(match outcome {
        Outcome::Pass => "outcome-pass",
        Outcome::ConditionalPass => "outcome-conditional-pass",
        Outcome::Inconclusive => "outcome-inconclusive",
        Outcome::Fail => "outcome-fail",
        Outcome::NoLimit => "outcome-no-limit",
    })
}

/// The shape of an outcome's mark.
pub fn mark(outcome: Outcome) -> &'static str {
    match outcome {
        Outcome::Pass => "pass",
        Outcome::ConditionalPass => "conditional-pass",
        Outcome::Inconclusive => "inconclusive",
        Outcome::Fail => "fail",
        Outcome::NoLimit => "none",
    }
}

/// A name with the unit of its figures: `Crank time to running (s)`.
pub fn with_unit_of(name: &str, unit: &Unit) -> String {
    match unit.symbol() {
        "1" => name.to_owned(),
        symbol => format!("{name} ({symbol})"),
    }
}
