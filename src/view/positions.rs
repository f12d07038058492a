//! Measures read at several positions: a table and a chart each.

use super::Material;
use super::data::{PositionRow, PositionTable};
use super::dependence;
use super::exact;
use super::figures;
use super::limits;
use super::measures::{at_limit, at_should, count_result, method, of_attempts, repeats, result};
use super::places::{head, many, setting};
use super::position_charts::{count_chart, exact_chart, value_chart};
use super::words::Words;
use crate::job::{Limits, Measure, Scale};
use crate::judge::{
    AtPosition, Balance, Claim, Comparison, ExactsAt, MeasureFinding, Outliers, PassesAt,
    ValueAlone, ValuesAt,
};
use crate::quantity::{Estimate, Written};

/// Every measure that is read at several positions.
pub fn tables(material: &Material<'_>, words: &Words) -> Vec<PositionTable> {
    let plan = &material.job.plan.limits;
    material
        .found()
        .filter_map(|(measure, found)| {
            let (at, name, own_limits, rows, chart, note) = match &found.finding {
                MeasureFinding::ValueAt(values) => (
                    &values.scales.at,
                    limits::with_unit_of(&measure.name, values.scales.common.unit),
                    !values.scales.is_uniform(),
                    value_rows(values, plan, words),
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
                    &exacts.scales.at,
                    measure.name.clone(),
                    !exacts.scales.is_uniform(),
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
            let mut limit = limit_of_all(measure, &found.finding, plan, words);
            if let Some(source) = &measure.source {
                limit = words.say_with("limit-source", &[("limit", &limit), ("source", source)]);
            }
            let required = found.required.then(|| words.say("required"));
            let outcome = limits::outcome(found.outcome, words);
            let claim = found.claim.map(|claim| limits::claim(claim, words));
            let result: Vec<String> = required.into_iter().chain([outcome]).chain(claim).collect();
            Some(PositionTable {
                name,
                position: head(at, words),
                limit,
                method: method(material, measure, words),
                result: result.join(" · "),
                own_limits,
                rows,
                chart,
                repeats: repeats(material, measure, words),
                note,
            })
        })
        .collect()
}

/// The limit of the measure; where one is worked out for all positions, with what it came to
/// in each run.
fn limit_of_all(
    measure: &Measure,
    finding: &MeasureFinding,
    plan: &Limits,
    words: &Words,
) -> String {
    let compared = match finding {
        MeasureFinding::ValueAt(values) if values.scales.is_uniform() => {
            finding.comparisons().next()
        }
        MeasureFinding::ValueAt(_)
        | MeasureFinding::Value(_)
        | MeasureFinding::Passes(_)
        | MeasureFinding::PassesAt(_)
        | MeasureFinding::Exact(..)
        | MeasureFinding::ExactAt(_)
        | MeasureFinding::Rate(_)
        | MeasureFinding::List(_)
        | MeasureFinding::Smoke { .. }
        | MeasureFinding::Text
        | MeasureFinding::AfterOnly { .. }
        | MeasureFinding::NotTaken { .. } => None,
    };
    match compared {
        Some(compared) => limits::of_comparison(compared, plan, words),
        None => limits::of_measure(measure, plan, words),
    }
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
        | Claim::SomeMoved
        | Claim::OtherPositions => "paired-note",
    };
    words.say_with(id, &variables)
}

fn value_rows(values: &ValuesAt, plan: &Limits, words: &Words) -> Vec<PositionRow> {
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
                limits::of_scale(&scale, plan, words)
            },
            ..unread(&setting(&scales.at, place, words), words)
        };
        match found {
            AtPosition::Compared(comparison) => PositionRow {
                limit: match comparison.scale.by {
                    Some(_) if !scales.is_uniform() => limits::in_each_run(comparison, words),
                    Some(_) | None => row.limit,
                },
                baseline: figures::value_pm(
                    &comparison.baseline,
                    unit,
                    comparison.bounds_before,
                    words,
                ),
                retest: value(&comparison.retest),
                change: figures::difference_pm(&comparison.difference, unit, words),
                result: beside_bands(result(comparison, words), comparison, words),
                mark: limits::mark(comparison.outcome),
                ..row
            },
            AtPosition::AfterOnly { after, why } => PositionRow {
                retest: value(&after.found),
                result: result_alone(after_alone(after, words), why, words),
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
    let each = counts.each.iter().enumerate();
    each.map(|(place, found)| {
        let row = unread(&setting(&counts.at, place, words), words);
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
    let each = exacts.each.iter().enumerate();
    each.map(|(place, found)| {
        let scales = &exacts.scales;
        let row = PositionRow {
            limit: if scales.is_uniform() {
                String::new()
            } else {
                exact::limit(scales.scale(place), words)
            },
            ..unread(&setting(&scales.at, place, words), words)
        };
        let reading = |read| exact::reading(&scales.common, read, words);
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

/// The outcome of a retest without a baseline, at its limit and at what it should be besides.
fn after_alone(after: &ValueAlone, words: &Words) -> String {
    let limit = at_limit(after.standing, after.at_limit, words);
    let should = after.should.map(|should| at_should(should, words));
    let all: Vec<String> = [limit].into_iter().chain(should).collect();
    all.join(" · ")
}
