//! Measures read at several positions: a table and a chart each.

use super::Material;
use super::data::{Bar, Chart, PositionRow, PositionTable};
use super::dependence;
use super::exact;
use super::figures;
use super::limits;
use super::measures::{at_limit, count_result, method, of_attempts, result};
use super::words::Words;
use crate::job::{Bounds, Called, ExactScale, Positions, Scale};
use crate::judge::{
    AtPosition, Balance, Claim, Comparison, CountAlone, CountComparison, ExactsAt, MeasureFinding,
    Outliers, PassesAt, ValueAlone, ValuesAt,
};
use crate::quantity::{Estimate, Unit, Written};

/// One position as it is called: `cylinder 4`, `phase U`.
pub fn called(at: &Positions, place: usize, words: &Words) -> String {
    let name = at.name(place);
    match &at.called {
        Called::Cylinders => words.say_with("cylinder-called", &[("name", name)]),
        Called::Own { one, .. } => {
            words.say_with("position-called", &[("one", one), ("name", name)])
        }
    }
}

/// What one position is called, without its name.
pub fn one(at: &Positions, words: &Words) -> String {
    match &at.called {
        Called::Cylinders => words.say("cylinder-one"),
        Called::Own { one, .. } => one.clone(),
    }
}

/// What several are called.
pub fn many(at: &Positions, words: &Words) -> String {
    match &at.called {
        Called::Cylinders => words.say("cylinder-many"),
        Called::Own { many, .. } => many.clone(),
    }
}

/// A noun at the head of a column.
fn capital(noun: &str) -> String {
    let mut letters = noun.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

/// Every measure that is read at several positions.
pub fn tables(material: &Material<'_>, words: &Words) -> Vec<PositionTable> {
    material
        .found()
        .filter_map(|(measure, found)| {
            let (at, name, own_limits, rows, chart, note) = match &found.finding {
                MeasureFinding::ValueAt(values) => (
                    &values.scales.at,
                    limits::with_unit_of(&measure.name, values.scales.common.unit),
                    !values.scales.is_uniform(),
                    value_rows(values, words),
                    Some(value_chart(&measure.name, values, words)),
                    value_note(values, words),
                ),
                MeasureFinding::PassesAt(counts) => (
                    &counts.at,
                    measure.name.clone(),
                    false,
                    count_rows(counts, words),
                    Some(count_chart(&measure.name, counts, words)),
                    paired_note(counts, words),
                ),
                MeasureFinding::ExactAt(exacts) => (
                    &exacts.at,
                    measure.name.clone(),
                    false,
                    exact_rows(exacts, words),
                    exact_chart(&measure.name, exacts, words),
                    exact::sign_note(exacts, words),
                ),
                MeasureFinding::Value(_)
                | MeasureFinding::Passes(_)
                | MeasureFinding::Exact(..)
                | MeasureFinding::Rate(_)
                | MeasureFinding::List(_)
                | MeasureFinding::Smoke { .. }
                | MeasureFinding::Text
                | MeasureFinding::AfterOnly { .. }
                | MeasureFinding::NotTaken { .. } => return None,
            };
            let mut limit = limits::of_measure(measure, words);
            if let Some(source) = &measure.source {
                limit = words.say_with("limit-source", &[("limit", &limit), ("source", source)]);
            }
            let required = found.required.then(|| words.say("required"));
            let outcome = limits::outcome(found.outcome, words);
            let claim = found.claim.map(|claim| limits::claim(claim, words));
            let result: Vec<String> = required.into_iter().chain([outcome]).chain(claim).collect();
            Some(PositionTable {
                name,
                position: capital(&one(at, words)),
                limit,
                method: method(material, measure, words),
                result: result.join(" · "),
                own_limits,
                rows,
                chart,
                note,
            })
        })
        .collect()
}

/// How the positions of each run compare with each other, and what ties the runs.
fn value_note(values: &ValuesAt, words: &Words) -> String {
    let compared: Vec<&Comparison> = values
        .each
        .iter()
        .filter_map(AtPosition::compared)
        .collect();
    let beside = compared.first().map(|one| dependence::beside(one, words));
    let note = values.balance.as_ref().map_or_else(String::new, |balance| {
        balance_note(balance, values, &compared, words)
    });
    match beside.filter(|beside| !beside.is_empty()) {
        Some(beside) => words.say_with("position-together", &[("note", &note), ("tie", &beside)]),
        None => note,
    }
}

/// How the positions of each run compare with each other.
fn balance_note(
    balance: &[Balance; 2],
    values: &ValuesAt,
    compared: &[&Comparison],
    words: &Words,
) -> String {
    let at = &values.scales.at;
    let spread = |run: &Balance, read: fn(&Comparison) -> &Estimate| {
        let coarsest = compared.iter().map(|one| read(one).written);
        let step = coarsest.reduce(Written::and).and_then(Written::step);
        figures::difference(run.spread, step, values.scales.common.unit, words)
    };
    let outliers = |run: &Balance| match &run.outliers {
        Outliers::Positions(places) if !places.is_empty() => {
            let names: Vec<&str> = places.iter().map(|place| at.name(*place)).collect();
            names.join(", ")
        }
        Outliers::Positions(_) | Outliers::TooFew => words.say("balance-none"),
    };
    let [before, after] = balance;
    let id = match (&before.outliers, &after.outliers) {
        (Outliers::TooFew, _) | (_, Outliers::TooFew) => "balance-few",
        (Outliers::Positions(_), Outliers::Positions(_)) => "balance-note",
    };
    words.say_with(
        id,
        &[
            ("many", &many(at, words)),
            ("spread_before", &spread(before, |one| &one.baseline)),
            ("spread_after", &spread(after, |one| &one.retest)),
            ("out_before", &outliers(before)),
            ("out_after", &outliers(after)),
        ],
    )
}

/// What the same positions before and after can show.
fn paired_note(counts: &PassesAt, words: &Words) -> String {
    let Some(paired) = &counts.paired else {
        return String::new();
    };
    let p = |p: f64| figures::decimal(p, if p < 0.01 { 4 } else { 2 }, words);
    let variables = [
        ("gained", paired.gained.to_string()),
        ("lost", paired.lost.to_string()),
        ("p", p(paired.p)),
        ("smallest", p(paired.smallest_p)),
        ("count", counts.at.len().to_string()),
        ("many", many(&counts.at, words)),
    ];
    let variables: Vec<(&str, &str)> = variables
        .iter()
        .map(|(name, text)| (*name, text.as_str()))
        .collect();
    let id = match paired.claim {
        Claim::TooFewAttempts | Claim::TooFewPositions => "paired-too-few",
        Claim::Improved
        | Claim::Apparent
        | Claim::NoDetectable
        | Claim::Worsened
        | Claim::TooFewEvents
        | Claim::Step(_)
        | Claim::Moved(_)
        | Claim::SomeMoved => "paired-note",
    };
    words.say_with(id, &variables)
}

fn value_rows(values: &ValuesAt, words: &Words) -> Vec<PositionRow> {
    let scales = &values.scales;
    let each = values.each.iter().enumerate();
    each.map(|(place, found)| {
        let scale = scales.scale(place);
        let Scale { unit, bounds, .. } = scale;
        let value = |estimate: &Estimate| figures::value_pm(estimate, unit, bounds, words);
        let row = PositionRow {
            limit: if scales.is_uniform() {
                String::new()
            } else {
                limits::of_scale(&scale, words)
            },
            ..unread(scales.at.name(place), words)
        };
        match found {
            AtPosition::Compared(comparison) => PositionRow {
                baseline: value(&comparison.baseline),
                retest: value(&comparison.retest),
                change: figures::difference_pm(&comparison.difference, unit, words),
                result: beside_bands(result(comparison, words), comparison, words),
                mark: limits::mark(comparison.outcome),
                ..row
            },
            AtPosition::AfterOnly { after, why } => PositionRow {
                retest: value(&after.found),
                result: result_alone(at_limit(after.standing, after.at_limit, words), why, words),
                mark: limits::mark(after.at_limit),
                ..row
            },
            AtPosition::NotTaken { before, why } => PositionRow {
                baseline: match before {
                    Some(before) => value(&before.found),
                    None => row.baseline,
                },
                result: not_taken(why, words),
                ..row
            },
        }
    })
    .collect()
}

fn count_rows(counts: &PassesAt, words: &Words) -> Vec<PositionRow> {
    let each = counts.at.names.iter().zip(&counts.each);
    each.map(|(name, found)| {
        let row = unread(name, words);
        match found {
            AtPosition::Compared(count) => PositionRow {
                baseline: of_attempts(count.baseline, words),
                retest: of_attempts(count.retest, words),
                result: count_result(count, words),
                mark: limits::mark(count.outcome),
                ..row
            },
            AtPosition::AfterOnly { after, why } => PositionRow {
                retest: of_attempts(after.found, words),
                result: result_alone(limits::outcome(after.at_limit, words), why, words),
                mark: limits::mark(after.at_limit),
                ..row
            },
            AtPosition::NotTaken { before, why } => PositionRow {
                baseline: match before {
                    Some(before) => of_attempts(before.found, words),
                    None => row.baseline,
                },
                result: not_taken(why, words),
                ..row
            },
        }
    })
    .collect()
}

/// A result, with the bands where the plan names some.
fn beside_bands(result: String, comparison: &Comparison, words: &Words) -> String {
    let bands = exact::bands_in_full(comparison, words);
    let parts: Vec<String> = [result].into_iter().chain(bands).collect();
    parts.join(" · ")
}

fn exact_rows(exacts: &ExactsAt, words: &Words) -> Vec<PositionRow> {
    let each = exacts.at.names.iter().zip(&exacts.each);
    each.map(|(name, found)| {
        let row = unread(name, words);
        let reading = |read| exact::reading(&exacts.scale, read, words);
        match found {
            AtPosition::Compared(pair) => PositionRow {
                baseline: reading(pair.baseline),
                retest: reading(pair.retest),
                result: exact::result_at(pair, words),
                mark: limits::mark(pair.outcome),
                ..row
            },
            AtPosition::AfterOnly { after, why } => PositionRow {
                retest: reading(after.found),
                result: result_alone(limits::outcome(after.at_limit, words), why, words),
                mark: limits::mark(after.at_limit),
                ..row
            },
            AtPosition::NotTaken { before, why } => PositionRow {
                baseline: match before {
                    Some(before) => reading(before.found),
                    None => row.baseline,
                },
                result: not_taken(why, words),
                ..row
            },
        }
    })
    .collect()
}

/// A row of which nothing was read.
fn unread(name: &str, words: &Words) -> PositionRow {
    PositionRow {
        position: name.to_owned(),
        limit: String::new(),
        baseline: words.say("not-taken"),
        retest: words.say("not-taken"),
        change: String::new(),
        result: String::new(),
        mark: "none",
    }
}

fn not_taken(why: &str, words: &Words) -> String {
    words.say_with("position-not-taken", &[("why", why.trim_end_matches('.'))])
}

/// The result of a retest without a baseline, and why there is none.
fn result_alone(result: String, why: &str, words: &Words) -> String {
    let why = words.say_with("not-taken-before", &[("why", why.trim_end_matches('.'))]);
    format!("{result} · {why}")
}

fn value_chart(name: &str, values: &ValuesAt, words: &Words) -> Chart {
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
            bar(&scales.at, place, [before, after], ends(own, unit), words)
        })
        .collect();
    let common = if scales.is_uniform() {
        scales.common.bounds
    } else {
        None
    };
    let limit = common.map(|bounds| limits::bounds(bounds, unit, words));
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

fn count_chart(name: &str, counts: &PassesAt, words: &Words) -> Chart {
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
    let limit = min.map(|min| words.say_with("limit-passes", &[("min", &min.to_string())]));
    let ends = [min.map(f64::from), None];
    chart(name, &counts.at, "", bars, ends, limit, words)
}

/// The bars of counts; grades are no figures to draw.
fn exact_chart(name: &str, exacts: &ExactsAt, words: &Words) -> Option<Chart> {
    let ExactScale::Counts(counts) = &exacts.scale else {
        return None;
    };
    let figure = |read: u32| (f64::from(read), exact::reading(&exacts.scale, read, words));
    let bars = exacts.each.iter().enumerate().map(|(place, found)| {
        let both = match found {
            AtPosition::Compared(pair) => [Some(figure(pair.baseline)), Some(figure(pair.retest))],
            AtPosition::AfterOnly { after, .. } => [None, Some(figure(after.found))],
            AtPosition::NotTaken { before, .. } => {
                [before.map(|before| figure(before.found)), None]
            }
        };
        bar(&exacts.at, place, both, [None; 2], words)
    });
    let limit = exact::some_limit(&exacts.scale, words);
    let ends = [counts.min.map(f64::from), counts.max.map(f64::from)];
    let bars = bars.collect();
    Some(chart(name, &exacts.at, "", bars, ends, limit, words))
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
        position: at.name(place).to_owned(),
        called: called(at, place, words),
        before,
        after,
        min,
        max,
        before_text,
        after_text,
    }
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
            words.say_with(
                "chart-alt-position",
                &[
                    ("position", &bar.called),
                    ("before", &bar.before_text),
                    ("after", &bar.after_text),
                ],
            )
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
        unit: unit.to_owned(),
        bars,
        min,
        max,
        alt,
    }
}
