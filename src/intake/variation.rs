//! What a measure says of the machine itself and of whoever reads it: how it varies from
//! run to run, what is judged by eye, what a pressure is measured against.

use super::common_checks;
use super::place::Place;
use super::problem::Problems;
use super::shapes::{MeasureTable, RunToRunTable};
use crate::job::{PressureReference, RunToRun, Spread, Variation};
use crate::quantity::{Dimension, Quantity, Unit};

/// How the machine varies from run to run.
pub fn variation(
    place: &Place<'_>,
    table: &MeasureTable,
    problems: &mut Problems,
) -> Option<Variation> {
    let stated = match &table.run_to_run {
        None => None,
        Some(stated) => {
            let unit = Unit::named(table.unit.as_deref()?)?;
            Some(RunToRun {
                spread: spread(place, table, stated, unit, problems)?,
                runs: stated.runs,
                source: stated.source.clone(),
            })
        }
    };
    Some(Variation {
        stated,
        separate_runs: table.separate_runs,
    })
}

fn spread(
    place: &Place<'_>,
    table: &MeasureTable,
    stated: &RunToRunTable,
    unit: &'static Unit,
    problems: &mut Problems,
) -> Option<Spread> {
    let path = |key| [place.list, place.at, "run_to_run", key];
    let spread = match (stated.deviation, stated.percent) {
        (Some(deviation), None) if deviation > 0.0 => {
            let path = path("deviation");
            common_checks::difference(place.document, &path, deviation, unit, problems)
                .map(Spread::Deviation)?
        }
        (None, Some(percent)) if percent > 0.0 => {
            let path = path("percent");
            let percent = Unit::named("%").map(|unit| {
                common_checks::quantity(place.document, &path, percent, unit, problems)
            });
            Spread::Percent(percent.flatten()?)
        }
        (Some(_), Some(_)) | (None, None) => {
            place.problem(
                "run_to_run",
                "`run_to_run` needs either `deviation` or `percent`",
                format!(
                    "write `deviation = …` in {}, or `percent = …`",
                    unit.symbol()
                ),
                problems,
            );
            return None;
        }
        (Some(_), None) | (None, Some(_)) => {
            place.problem(
                "run_to_run",
                "no machine is the same in every run",
                "write what your log shows; delete `run_to_run` if you do not know it",
                problems,
            );
            return None;
        }
    };
    let reason = match spread {
        Spread::Percent(_) if !unit.has_true_zero() => format!(
            "a percentage of a {} in {} has no meaning",
            unit.dimension(),
            unit.symbol()
        ),
        Spread::Percent(_) if !PressureReference::counts_from_zero(table.pressure, unit) => {
            "a percentage of a gauge pressure has no meaning".to_owned()
        }
        Spread::Percent(_) | Spread::Deviation(_) => return Some(spread),
    };
    place.problem("run_to_run", reason, "write `deviation = …`", problems);
    None
}

/// What is judged by eye: an event that is timed.
pub fn by_eye(
    place: &Place<'_>,
    table: &MeasureTable,
    problems: &mut Problems,
) -> Option<Quantity> {
    let seconds = table.judged_by_eye_seconds?;
    let unit = table.unit.as_deref().and_then(Unit::named);
    if unit.is_some_and(|unit| unit.dimension() != Dimension::Time) {
        place.problem(
            "judged_by_eye_seconds",
            "only the time of an event can be judged by eye in seconds",
            "delete it; what is read from an instrument has the instrument's errors",
            problems,
        );
        return None;
    }
    let path = [place.list, place.at, "judged_by_eye_seconds"];
    common_checks::in_unit(place.document, &path, Some(seconds), "s")
}

/// What a pressure is measured against belongs to a pressure.
pub fn pressure(place: &Place<'_>, table: &MeasureTable, problems: &mut Problems) {
    let unit = table.unit.as_deref().and_then(Unit::named);
    let is_other = unit.is_some_and(|unit| unit.dimension() != Dimension::Pressure);
    if table.pressure.is_some() && is_other {
        place.problem(
            "pressure",
            "`pressure` applies to a measure in a unit of pressure",
            "delete it",
            problems,
        );
    }
}

/// A percentage of a pressure needs to know what it is measured against.
pub fn share_of_pressure(
    place: &Place<'_>,
    table: &MeasureTable,
    unit: &Unit,
    problems: &mut Problems,
) {
    if !PressureReference::counts_from_zero(table.pressure, unit) {
        place.problem(
            "improve_percent",
            "a percentage of a gauge pressure has no meaning",
            "use `improve_by`; or add `pressure = \"difference\"` or `\"absolute\"` if it is one",
            problems,
        );
    }
}
