//! Measures taken cylinder by cylinder: a table and a chart each.

use super::Material;
use super::data::{Bar, Chart, CylinderRow, CylinderTable};
use super::dependence;
use super::figures;
use super::limits;
use super::measures::{count_result, method, of_attempts, result};
use super::words::Words;
use crate::job::Scale;
use crate::judge::{
    Balance, Claim, Comparison, CountComparison, MeasureFinding, Outliers, PairedCount,
};
use crate::quantity::{Estimate, Quantity, Written};

/// Every measure that is taken cylinder by cylinder.
pub fn tables(material: &Material<'_>, words: &Words) -> Vec<CylinderTable> {
    material
        .found()
        .filter_map(|(measure, found)| {
            let (name, rows, chart, note) = match &found.finding {
                MeasureFinding::Cylinders {
                    scale,
                    cylinders,
                    balance,
                    ..
                } => (
                    limits::with_unit_of(&measure.name, scale.unit),
                    value_rows(cylinders, words),
                    value_chart(&measure.name, cylinders, scale, words),
                    value_note(cylinders, balance, scale, words),
                ),
                MeasureFinding::CylinderPasses {
                    min,
                    cylinders,
                    paired,
                    ..
                } => (
                    measure.name.clone(),
                    count_rows(cylinders, words),
                    count_chart(&measure.name, cylinders, *min, words),
                    paired_note(paired, cylinders.len(), words),
                ),
                MeasureFinding::Value(_)
                | MeasureFinding::Passes(_)
                | MeasureFinding::Smoke { .. }
                | MeasureFinding::Text
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
            Some(CylinderTable {
                name,
                limit,
                method: method(material, measure, words),
                result: result.join(" · "),
                rows,
                chart,
                note,
            })
        })
        .collect()
}

/// How the cylinders of each run compare with each other, and what ties the runs.
fn value_note(
    cylinders: &[Comparison],
    balance: &[Balance; 2],
    scale: &Scale,
    words: &Words,
) -> String {
    let beside = cylinders.first().map(|one| dependence::beside(one, words));
    let note = balance_note(balance, cylinders, scale, words);
    match beside.filter(|beside| !beside.is_empty()) {
        Some(beside) => words.say_with("cylinder-together", &[("note", &note), ("tie", &beside)]),
        None => note,
    }
}

/// How the cylinders of each run compare with each other.
fn balance_note(
    balance: &[Balance; 2],
    cylinders: &[Comparison],
    scale: &Scale,
    words: &Words,
) -> String {
    let spread = |run: &Balance, read: fn(&Comparison) -> &Estimate| {
        let coarsest = cylinders.iter().map(|one| read(one).written);
        let step = coarsest.reduce(Written::and).and_then(Written::step);
        figures::difference(run.spread, step, scale.unit, words)
    };
    let outliers = |run: &Balance| match &run.outliers {
        Outliers::Cylinders(numbers) if !numbers.is_empty() => {
            let numbers: Vec<String> = numbers.iter().map(usize::to_string).collect();
            numbers.join(", ")
        }
        Outliers::Cylinders(_) | Outliers::TooFew => words.say("balance-none"),
    };
    let [before, after] = balance;
    let id = match (&before.outliers, &after.outliers) {
        (Outliers::TooFew, _) | (_, Outliers::TooFew) => "balance-few",
        (Outliers::Cylinders(_), Outliers::Cylinders(_)) => "balance-note",
    };
    words.say_with(
        id,
        &[
            ("spread_before", &spread(before, |one| &one.baseline)),
            ("spread_after", &spread(after, |one| &one.retest)),
            ("out_before", &outliers(before)),
            ("out_after", &outliers(after)),
        ],
    )
}

/// What the same cylinders before and after can show.
fn paired_note(paired: &PairedCount, cylinders: usize, words: &Words) -> String {
    let p = |p: f64| figures::decimal(p, if p < 0.01 { 4 } else { 2 }, words);
    let variables = [
        ("gained", paired.gained.to_string()),
        ("lost", paired.lost.to_string()),
        ("p", p(paired.p)),
        ("smallest", p(paired.smallest_p)),
        ("cylinders", cylinders.to_string()),
    ];
    let variables: Vec<(&str, &str)> = variables
        .iter()
        .map(|(name, text)| (*name, text.as_str()))
        .collect();
    let id = match paired.claim {
        Claim::TooFewAttempts | Claim::TooFewCylinders => "paired-too-few",
        Claim::Improved
        | Claim::Apparent
        | Claim::NoDetectable
        | Claim::Worsened
        | Claim::Moved(_)
        | Claim::SomeMoved => "paired-note",
    };
    words.say_with(id, &variables)
}

fn value_rows(cylinders: &[Comparison], words: &Words) -> Vec<CylinderRow> {
    cylinders
        .iter()
        .enumerate()
        .map(|(index, comparison)| {
            let Scale { unit, bounds, .. } = comparison.scale;
            CylinderRow {
                cylinder: (index + 1).to_string(),
                baseline: figures::value_pm(&comparison.baseline, unit, bounds, words),
                retest: figures::value_pm(&comparison.retest, unit, bounds, words),
                change: figures::difference_pm(&comparison.difference, unit, words),
                result: result(comparison, words),
                mark: limits::mark(comparison.outcome),
            }
        })
        .collect()
}

fn count_rows(cylinders: &[CountComparison], words: &Words) -> Vec<CylinderRow> {
    cylinders
        .iter()
        .enumerate()
        .map(|(index, count)| CylinderRow {
            cylinder: (index + 1).to_string(),
            baseline: of_attempts(count.baseline, words),
            retest: of_attempts(count.retest, words),
            change: String::new(),
            result: count_result(count, words),
            mark: limits::mark(count.outcome),
        })
        .collect()
}

fn value_chart(name: &str, cylinders: &[Comparison], scale: &Scale, words: &Words) -> Chart {
    let unit = scale.unit;
    let end = |quantity: Option<Quantity>| quantity.map(|q| unit.from_si(q.si()));
    let bars = cylinders
        .iter()
        .enumerate()
        .map(|(index, comparison)| Bar {
            cylinder: (index + 1).to_string(),
            before: unit.from_si(comparison.baseline.value),
            after: unit.from_si(comparison.retest.value),
            before_text: figures::bare(&comparison.baseline, unit, scale.bounds, words),
            after_text: figures::bare(&comparison.retest, unit, scale.bounds, words),
        })
        .collect();
    let limit = scale.bounds.map(|b| limits::bounds(b, unit, words));
    chart(
        name,
        unit.symbol(),
        bars,
        [
            end(scale.bounds.and_then(|b| b.min())),
            end(scale.bounds.and_then(|b| b.max())),
        ],
        limit,
        words,
    )
}

fn count_chart(
    name: &str,
    cylinders: &[CountComparison],
    min: Option<u32>,
    words: &Words,
) -> Chart {
    let bars = cylinders
        .iter()
        .enumerate()
        .map(|(index, count)| Bar {
            cylinder: (index + 1).to_string(),
            before: count.baseline.passes().into(),
            after: count.retest.passes().into(),
            before_text: of_attempts(count.baseline, words),
            after_text: of_attempts(count.retest, words),
        })
        .collect();
    let limit = min.map(|min| words.say_with("limit-passes", &[("min", &min.to_string())]));
    chart(name, "", bars, [min.map(f64::from), None], limit, words)
}

fn chart(
    name: &str,
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
                "chart-alt-cylinder",
                &[
                    ("cylinder", &bar.cylinder),
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
