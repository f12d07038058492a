//! Charts of what is read at several positions or points.

use super::data::{Bar, Chart};
use super::exact;
use super::figures;
use super::limits;
use super::measures::of_attempts;
use super::places::{called, one, setting};
use super::words::Words;
use crate::job::{Bounds, ExactScale, Positions};
use crate::judge::{
    AtPosition, CountAlone, CountComparison, ExactsAt, PassesAt, ValueAlone, ValuesAt,
};
use crate::quantity::{Estimate, Unit};

/// A chart of values.
pub fn value_chart(name: &str, values: &ValuesAt, words: &Words) -> Chart {
    let scales = &values.scales;
    let unit = scales.common.unit;
    let figure = |estimate: &Estimate, bounds: Option<Bounds>| {
        (
            unit.from_si(estimate.value),
            figures::bare(estimate, unit, bounds, words),
        )
    };
    let bars = values
        .each
        .iter()
        .enumerate()
        .map(|(place, found)| {
            let bounds = scales.scale(place).bounds;
            let (before, after) = match found {
                AtPosition::Compared(found) => (
                    Some(figure(&found.baseline, bounds)),
                    Some(figure(&found.retest, bounds)),
                ),
                AtPosition::AfterOnly {
                    after: ValueAlone { found, .. },
                    ..
                } => (None, Some(figure(found, bounds))),
                AtPosition::NotTaken { before, .. } => {
                    let before = before.as_ref();
                    (before.map(|before| figure(&before.found, bounds)), None)
                }
            };
            let own = if scales.is_uniform() { None } else { bounds };
            Bar {
                limit: own.map_or_else(String::new, |own| limits::bounds(own, unit, words)),
                ..bar(&scales.at, place, [before, after], ends(own, unit), words)
            }
        })
        .collect();
    let common = if scales.is_uniform() {
        scales.common.bounds
    } else {
        None
    };
    let limit = match common {
        Some(bounds) => Some(limits::bounds(bounds, unit, words)),
        None if scales.is_uniform() => None,
        None => Some(words.say("limit-own")),
    };
    chart(
        name,
        &scales.at,
        unit.symbol(),
        bars,
        ends(common, unit),
        limit,
        words,
    )
}

/// Both ends of `bounds`, as far as there are any.
fn ends(bounds: Option<Bounds>, unit: &Unit) -> [Option<f64>; 2] {
    [Bounds::min, Bounds::max].map(|end| {
        let end = bounds.and_then(|bounds| end(&bounds));
        end.map(|quantity| unit.from_si(quantity.si()))
    })
}

/// A chart of passes of attempts.
pub fn count_chart(name: &str, counts: &PassesAt, words: &Words) -> Chart {
    let figure = |count: crate::job::Count| (f64::from(count.passes()), of_attempts(count, words));
    let bars = counts
        .each
        .iter()
        .enumerate()
        .map(|(place, found)| {
            let (before, after) = match found {
                AtPosition::Compared(CountComparison {
                    baseline, retest, ..
                }) => (Some(figure(*baseline)), Some(figure(*retest))),
                AtPosition::AfterOnly {
                    after: CountAlone { found, .. },
                    ..
                } => (None, Some(figure(*found))),
                AtPosition::NotTaken { before, .. } => {
                    (before.as_ref().map(|before| figure(before.found)), None)
                }
            };
            bar(&counts.at, place, [before, after], [None; 2], words)
        })
        .collect();
    let min = counts.min;
    let limit = min.map(|min| words.say_count("limit-passes", min as usize));
    let ends = [min.map(f64::from), None];
    chart(name, &counts.at, "", bars, ends, limit, words)
}

/// The bars of counts; grades are no figures to draw.
pub fn exact_chart(name: &str, exacts: &ExactsAt, words: &Words) -> Option<Chart> {
    let scales = &exacts.scales;
    // A scale of grades has no figures at any position.
    count_ends(&scales.common)?;
    let figure = |read: u32| (f64::from(read), exact::reading(&scales.common, read, words));
    let bars = exacts.each.iter().enumerate().map(|(place, found)| {
        let both = match found {
            AtPosition::Compared(pair) => [Some(figure(pair.baseline)), Some(figure(pair.retest))],
            AtPosition::AfterOnly { after, .. } => [None, Some(figure(after.found))],
            AtPosition::NotTaken { before, .. } => {
                [before.map(|before| figure(before.found)), None]
            }
        };
        let own = (!scales.is_uniform()).then(|| scales.scale(place));
        let ends = own.and_then(count_ends).unwrap_or_default();
        Bar {
            limit: own.map_or_else(String::new, |own| exact::limit(own, words)),
            ..bar(&scales.at, place, both, ends, words)
        }
    });
    let (ends, limit) = if scales.is_uniform() {
        let ends = count_ends(&scales.common)?;
        (ends, exact::some_limit(&scales.common, words))
    } else {
        ([None; 2], Some(words.say("limit-own")))
    };
    let bars = bars.collect();
    Some(chart(name, &scales.at, "", bars, ends, limit, words))
}

/// Both ends of the limit of counts, as far as there are any; none of grades.
fn count_ends(scale: &ExactScale) -> Option<[Option<f64>; 2]> {
    match scale {
        ExactScale::Counts(counts) => Some([counts.min, counts.max].map(|end| end.map(f64::from))),
        ExactScale::Grades(_) => None,
    }
}

/// The bars of one position, each with the figure that is printed.
fn bar(
    at: &Positions,
    place: usize,
    [before, after]: [Option<(f64, String)>; 2],
    [min, max]: [Option<f64>; 2],
    words: &Words,
) -> Bar {
    let split = |figure: Option<(f64, String)>| match figure {
        Some((value, text)) => (Some(value), text),
        None => (None, words.say("not-taken")),
    };
    let ((before, before_text), (after, after_text)) = (split(before), split(after));
    Bar {
        position: setting(at, place, words),
        at: setting_of(at, place),
        called: called(at, place, words),
        before,
        after,
        min,
        max,
        limit: String::new(),
        before_text,
        after_text,
    }
}

/// Where a point lies on the axis of its settings.
fn setting_of(at: &Positions, place: usize) -> Option<f64> {
    let setting = at.points()?.settings.get(place)?;
    Some(setting.written())
}

fn chart(
    name: &str,
    at: &Positions,
    unit: &str,
    bars: Vec<Bar>,
    [min, max]: [Option<f64>; 2],
    limit: Option<String>,
    words: &Words,
) -> Chart {
    let each: Vec<String> = bars
        .iter()
        .map(|bar| {
            let mut variables = vec![
                ("position", bar.called.as_str()),
                ("before", &bar.before_text),
                ("after", &bar.after_text),
            ];
            if bar.limit.is_empty() {
                return words.say_with("chart-alt-position", &variables);
            }
            variables.push(("limit", &bar.limit));
            words.say_with("chart-alt-position-limit", &variables)
        })
        .collect();
    let limit = limit.unwrap_or_else(|| words.say("limit-none"));
    let alt = words.say_with(
        "chart-alt",
        &[
            ("name", name),
            ("one", &one(at, words)),
            (
                "unit",
                match unit {
                    "" | "1" => "none",
                    unit => unit,
                },
            ),
            ("limit", &limit),
            ("each", &each.join("; ")),
        ],
    );
    Chart {
        curve: at.points().is_some(),
        unit: unit.to_owned(),
        bars,
        min,
        max,
        alt,
    }
}
