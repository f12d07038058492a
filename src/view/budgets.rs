//! Where the uncertainty of each reading comes from (JCGM 100:2008, 7.2.7), and of each
//! change that is not simply made of two independent readings.

use super::Material;
use super::data::BudgetRow;
use super::figures;
use super::limits;
use super::places;
use super::words::Words;
use crate::judge::{AtPosition, Comparison, MeasureFinding};
use crate::quantity::{Estimate, Source, Unit};

/// One row for each reading of each measure with a value; of several positions, only the one
/// with the largest uncertainty.
pub fn rows(material: &Material<'_>, words: &Words) -> Vec<BudgetRow> {
    material
        .found()
        .flat_map(|(measure, found)| match &found.finding {
            MeasureFinding::Value(comparison) => both(&measure.name, comparison, words),
            MeasureFinding::ValueAt(values) => {
                let position = places::called(&values.scales.at, values.least_known, words);
                let name = words.say_with(
                    "budget-position",
                    &[("name", &measure.name), ("position", &position)],
                );
                let least_known = values.each.get(values.least_known);
                let compared = least_known.and_then(AtPosition::compared);
                compared.map_or_else(Vec::new, |one| both(&name, one, words))
            }
            MeasureFinding::Smoke { parts, .. } => parts
                .iter()
                .flat_map(|part| {
                    let name = limits::smoke_name(part.part, part.path, &measure.name, words);
                    both(&name, &part.comparison, words)
                })
                .collect(),
            MeasureFinding::Passes(_)
            | MeasureFinding::PassesAt(_)
            | MeasureFinding::Exact(..)
            | MeasureFinding::ExactAt(_)
            | MeasureFinding::Rate(_)
            | MeasureFinding::List(_)
            | MeasureFinding::Text
            | MeasureFinding::AfterOnly { .. }
            | MeasureFinding::NotTaken { .. } => Vec::new(),
        })
        .collect()
}

/// The rows of one comparison.
fn both(name: &str, comparison: &Comparison, words: &Words) -> Vec<BudgetRow> {
    let unit = comparison.scale.unit;
    let mut rows = runs(name, comparison, unit, words);
    if comparison.together.ties_the_runs() {
        let run = words.say("run-change");
        rows.push(row(name, &run, &comparison.difference, unit, words));
    }
    rows
}

/// One row for each run, or one for both where their budgets are the same.
fn runs(name: &str, comparison: &Comparison, unit: &Unit, words: &Words) -> Vec<BudgetRow> {
    let before = row(
        name,
        &words.say("run-baseline"),
        &comparison.baseline,
        unit,
        words,
    );
    let after = row(
        name,
        &words.say("run-retest"),
        &comparison.retest,
        unit,
        words,
    );
    if (&before.parts, &before.u, &before.expanded) == (&after.parts, &after.u, &after.expanded) {
        return vec![BudgetRow {
            run: words.say("run-both"),
            ..after
        }];
    }
    vec![before, after]
}

fn row(name: &str, run: &str, estimate: &Estimate, unit: &Unit, words: &Words) -> BudgetRow {
    let figure = |u: f64| figures::two_digits(unit.difference_from_si(u), words);
    let parts: Vec<String> = estimate
        .components
        .iter()
        .map(|component| {
            let part = component.u / estimate.u;
            let share = part * part * 100.0;
            words.say_with(
                "budget-part",
                &[
                    ("source", &source(component.source, words)),
                    ("u", &figure(component.u)),
                    (
                        "share",
                        &figures::with_unit(&figures::decimal(share, 0, words), "%"),
                    ),
                ],
            )
        })
        .collect();
    BudgetRow {
        name: limits::with_unit_of(name, unit),
        run: run.to_owned(),
        parts: parts.join("; "),
        u: figure(estimate.u),
        dof: match estimate.dof_of_scatter() {
            Some(dof) => figures::decimal(dof, 0, words),
            None => "∞".to_owned(),
        },
        expanded: figure(estimate.expanded),
    }
}

fn source(source: Source, words: &Words) -> String {
    words.say(match source {
        Source::Accuracy => "source-accuracy",
        Source::Resolution => "source-resolution",
        Source::Repeatability => "source-repeatability",
        Source::HandTiming => "source-hand",
        Source::ByEye => "source-by-eye",
        Source::RunToRun => "source-run-to-run",
        Source::Stated => "source-stated",
        Source::WorkedOut => "source-worked-out",
        Source::Setting => "source-setting",
    })
}
