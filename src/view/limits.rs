//! Limits, outcomes and changes in words.

use std::sync::Arc;

use super::exact;
use super::figures::{self, limit, written};
use super::formula;
use super::words::Words;
use crate::job::{
    Better, Bounds, Formula, Improvement, Kind, Limits, Measure, OwnLimits, PressureReference,
    Scale, ScaleAt, Target, Within,
};
use crate::judge::{Claim, Comparison, Moved, Outcome, SmokePart};
use crate::quantity::{Estimate, Quantity, Unit};

/// The acceptance bounds in words: `at most 5 s`.
pub fn bounds(bounds: Bounds, unit: &Unit, words: &Words) -> String {
    match bounds.target() {
        Some(target) => around(target, words),
        None => {
            let figure = |end: Quantity| limit(end, unit, words);
            between([bounds.min().map(figure), bounds.max().map(figure)], words)
        }
    }
}

/// A target with its tolerance: `120 ± 12 m³/h (within 10 %)`.
fn around(target: Target, words: &Words) -> String {
    let range = figures::around(target, words);
    match target.within {
        Within::By(_) => range,
        Within::Percent(percent) => {
            let percent = written(percent, words);
            let variables = [("range", range.as_str()), ("percent", &percent)];
            words.say_with("limit-within-percent", &variables)
        }
    }
}

/// What lies between two ends, as far as there are any.
pub fn between(ends: [Option<String>; 2], words: &Words) -> String {
    match ends {
        [Some(min), Some(max)] => words.say_with("limit-between", &[("min", &min), ("max", &max)]),
        [Some(min), None] => words.say_with("limit-at-least", &[("min", &min)]),
        [None, Some(max)] => words.say_with("limit-at-most", &[("max", &max)]),
        [None, None] => String::new(),
    }
}

/// The whole limit of a scale, with the improvement it asks for. Where it is worked out, the
/// formula, and what that came to if the scale is that of a run.
pub fn of_scale(scale: &Scale, plan: &Limits, words: &Words) -> String {
    whole(scale, &|_, of, end| came_to(of, end, plan, words), words)
}

fn came_to(formula: &Formula, end: Option<Quantity>, plan: &Limits, words: &Words) -> String {
    let formula = formula::alone(formula, plan, words);
    match end {
        None => formula,
        Some(end) => {
            let figure = figures::limit_worked_out(end, words);
            let variables = [("formula", formula.as_str()), ("figure", &figure)];
            words.say_with("limit-came-to", &variables)
        }
    }
}

/// The whole limit of what was compared; where it is worked out, with what the formula came to
/// in each run.
pub fn of_comparison(comparison: &Comparison, plan: &Limits, words: &Words) -> String {
    let scale = &comparison.scale;
    if scale.by.is_none() {
        return of_scale(scale, plan, words);
    }
    let told = |end: End, formula: &Formula, _: Option<Quantity>| {
        let formula = formula::alone(formula, plan, words);
        let [before, after] = comparison.ends.each_ref().map(|ends| {
            let found = match end {
                End::Min => &ends.min,
                End::Max => &ends.max,
            };
            end_in_run(found, scale.unit, words)
        });
        let variables = [
            ("formula", formula.as_str()),
            ("before", &before),
            ("after", &after),
        ];
        words.say_with("limit-came-to-each", &variables)
    };
    whole(scale, &told, words)
}

/// Which end of a limit.
#[derive(Clone, Copy)]
enum End {
    Min,
    Max,
}

/// Words an end that is worked out: which, by which formula, and what it came to if that is
/// known.
type Told<'a> = dyn Fn(End, &Formula, Option<Quantity>) -> String + 'a;

/// The limit of what was compared, for page 1: of one that is worked out, what that came to in
/// the retest; not what the manual prints.
pub fn in_short(comparison: &Comparison, words: &Words) -> String {
    let came_to = |_, _: &Formula, end: Option<Quantity>| {
        end.map_or_else(String::new, |end| figures::limit_worked_out(end, words))
    };
    limit_alone(&not_printed(&comparison.scale), &came_to, words)
}

/// A scale without what the manual prints.
fn not_printed(scale: &Scale) -> Scale {
    let before = scale.before.as_ref().map(|before| {
        Arc::new(OwnLimits {
            as_printed: None,
            ..(**before).clone()
        })
    });
    Scale {
        as_printed: None,
        before,
        ..scale.clone()
    }
}

/// The limit of one position in each run, where it is worked out there.
pub fn in_each_run(comparison: &Comparison, words: &Words) -> String {
    let unit = comparison.scale.unit;
    let [before, after] = comparison.ends.each_ref().map(|ends| {
        let one = |end: &Option<Estimate>| end.as_ref().map(|_| end_in_run(end, unit, words));
        between([one(&ends.min), one(&ends.max)], words)
    });
    words.say_with("limit-each-run", &[("before", &before), ("after", &after)])
}

fn end_in_run(end: &Option<Estimate>, unit: &Unit, words: &Words) -> String {
    end.as_ref().map_or_else(String::new, |end| {
        figures::value_pm_with_unit(end, unit, None, words)
    })
}

/// A limit with all that is said of it; `told` words an end that is worked out.
fn whole(scale: &Scale, told: &Told<'_>, words: &Words) -> String {
    as_printed(
        scale.as_printed.as_ref(),
        limit_alone(scale, told, words),
        words,
    )
}

/// A limit beside which the manual's own words stand, where they are given.
fn as_printed(printed: Option<&String>, text: String, words: &Words) -> String {
    match printed {
        None => text,
        Some(printed) => {
            let variables = [("limit", text.as_str()), ("printed", printed)];
            words.say_with("limit-as-printed", &variables)
        }
    }
}

fn limit_alone(scale: &Scale, told: &Told<'_>, words: &Words) -> String {
    let mut parts = Vec::new();
    match &scale.by {
        None => parts.extend(scale.bounds.map(|limit| bounds(limit, scale.unit, words))),
        Some(by) => {
            let fixed = [Bounds::min, Bounds::max].map(|end| scale.bounds.as_ref().and_then(end));
            let one = |end, formula: &Option<Formula>, fixed: Option<Quantity>| match formula {
                Some(formula) => Some(told(end, formula, fixed)),
                None => fixed.map(|fixed| limit(fixed, scale.unit, words)),
            };
            let ends = [
                one(End::Min, &by.min, fixed[0]),
                one(End::Max, &by.max, fixed[1]),
            ];
            parts.push(between(ends, words));
        }
    }
    if let Some(improvement) = scale.improvement {
        parts.push(improvement_words(improvement, scale, words));
    }
    let mut text = parts.join(&words.say("limit-and"));
    if let Some(should) = scale.should {
        let should = bounds(should, scale.unit, words);
        text = words.say_with("limit-should", &[("limit", &text), ("should", &should)]);
    }
    match &scale.before {
        None => text,
        Some(before) => {
            let before = of_service(before, scale.unit, words);
            words.say_with("limit-and-before", &[("limit", &text), ("before", &before)])
        }
    }
}

/// The limit of what was in service, which holds for the baseline.
fn of_service(limits: &OwnLimits, unit: &Unit, words: &Words) -> String {
    let must = limits.bounds.map(|limit| bounds(limit, unit, words));
    let must = must.unwrap_or_default();
    let text = match limits.should {
        None => must,
        Some(should) => {
            let should = bounds(should, unit, words);
            words.say_with("limit-should", &[("limit", &must), ("should", &should)])
        }
    };
    as_printed(limits.as_printed.as_ref(), text, words)
}

/// The whole limit of several positions: what all have in common, and whether each has its
/// own.
pub fn of_scales(scales: &ScaleAt, plan: &Limits, words: &Words) -> String {
    let own = (!scales.is_uniform()).then(|| words.say("limit-own"));
    let common = &scales.common;
    let text = limit_alone(common, &|_, of, end| came_to(of, end, plan, words), words);
    let common_part = (!text.is_empty()).then_some(text);
    let parts = own.into_iter().chain(common_part);
    let text = parts.collect::<Vec<_>>().join(&words.say("limit-and"));
    as_printed(common.as_printed.as_ref(), text, words)
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

/// The limit of each of several positions; empty if they have none.
pub fn of_each(measure: &Measure, plan: &Limits, words: &Words) -> String {
    let limit = of_measure(measure, plan, words);
    if limit.is_empty() {
        return limit;
    }
    match &measure.kind {
        Kind::ValueAt(scales) if !scales.is_uniform() => limit,
        Kind::ExactAt(scales) if !scales.is_uniform() => limit,
        Kind::Value(_)
        | Kind::ValueAt(_)
        | Kind::Passes { .. }
        | Kind::PassesAt { .. }
        | Kind::Exact(_)
        | Kind::ExactAt(_)
        | Kind::Rate(_)
        | Kind::List(_)
        | Kind::Smoke(_)
        | Kind::Text => words.say_with("positions-each", &[("limit", &limit)]),
    }
}

/// The same for page 1, without what the manual prints.
pub fn of_each_in_short(measure: &Measure, plan: &Limits, words: &Words) -> String {
    let mut measure = measure.clone();
    if let Kind::ValueAt(scales) = &mut measure.kind {
        scales.common = not_printed(&scales.common);
    }
    of_each(&measure, plan, words)
}

/// The limit of a measure; empty if it has none.
pub fn of_measure(measure: &Measure, plan: &Limits, words: &Words) -> String {
    match &measure.kind {
        Kind::Value(scale) => of_scale(scale, plan, words),
        Kind::ValueAt(scales) => of_scales(scales, plan, words),
        Kind::Passes { min: Some(min) } | Kind::PassesAt { min: Some(min), .. } => {
            words.say_count("limit-passes", *min as usize)
        }
        Kind::Exact(scale) => exact::limit(scale, words),
        Kind::ExactAt(scales) => exact::limit_at(scales, words),
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
        Claim::OtherPositions => "change-other-positions",
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
