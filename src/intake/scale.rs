//! What a value is judged by: its unit, which way is better, the limit in each of its forms,
//! and the improvement that is required.

use std::sync::Arc;

use super::common_checks;
use super::exact;
use super::formula::{Names, formula};
use super::limit_keys::{self, LimitKeys};
use super::place::Place;
use super::positions;
use super::problem::Problems;
use super::shapes::MeasureTable;
use super::variation;
use super::worked_out::{no_extremes, words};
use crate::job::{Better, Improvement, LimitBy, Positions, Scale};
use crate::quantity::{Dimension, Unit};

/// What the values of `table` are judged by, which are read at `at` where that is given.
pub fn scale(
    place: &Place<'_>,
    table: &MeasureTable,
    at: Option<&Positions>,
    names: &Names<'_>,
    problems: &mut Problems,
) -> Option<Scale> {
    let Some(symbol) = &table.unit else {
        place.problem(
            "kind",
            format!("`{}` has no unit", table.id),
            "add `unit = \"…\"`",
            problems,
        );
        return None;
    };
    let path = [place.list, place.at, "unit"];
    let unit = common_checks::unit(place.document, &path, symbol, problems)?;
    let by = limit_by(place, table, unit, at, names, problems);
    let mut keys = LimitKeys::of_measure(table);
    if table.target.is_none() && table.limit_rows.iter().any(|row| row.target.is_some()) {
        keys = keys.without_tolerance();
    }
    let base = [place.list, place.at];
    let own = keys.limits(place.document, &base, unit, by.is_some(), problems)?;
    let fixed = own.bounds;
    let has_rows = !table.limit_rows.is_empty();
    if own.as_printed.is_some() && fixed.is_none() && by.is_none() && !has_rows {
        place.problem(
            "as_printed",
            "`as_printed` is the manual's wording of a limit, and there is none",
            "add `min`, `max` or `target`: what it comes to here",
            problems,
        );
    }
    let before =
        limit_keys::of_service(table.before.as_ref(), place.document, &base, unit, problems);
    let beside = match (&table.before, &by) {
        (Some(_), Some(_)) => Some((
            "`before` does not stand beside a limit that is worked out in each run",
            "delete one of the two",
        )),
        (Some(_), None) if fixed.is_none() && !has_rows => Some((
            "`before` is the limit of what was in service, and the retest has none",
            "add `min`, `max` or `target`: what the retest has to keep",
        )),
        (Some(_) | None, _) => None,
    };
    if let Some((message, hint)) = beside {
        place.problem("before", message, hint, problems);
    }
    let own_min = fixed.and_then(|it| it.min()).is_some() || table.min_by.is_some();
    let own_max = fixed.and_then(|it| it.max()).is_some() || table.max_by.is_some();
    let [has_min, has_max] = if has_rows && !own_min && !own_max {
        // Limits that only single positions have say it where they all say the same.
        let rows = || table.limit_rows.iter();
        [
            rows().all(|row| row.min.is_some() || row.target.is_some()),
            rows().all(|row| row.max.is_some() || row.target.is_some()),
        ]
    } else {
        [own_min, own_max]
    };
    let better = match (table.better, has_min, has_max) {
        (Some(better), ..) => Some(better),
        (None, false, true) => Some(Better::Lower),
        (None, true, false) => Some(Better::Higher),
        (None, true, true) => Some(Better::Inside),
        (None, false, false) => None,
    };
    if better == Some(Better::Inside) && !(has_min && has_max) {
        place.not_filled_in(
            "better",
            "`inside` needs both `min` and `max`",
            "add the missing one",
            problems,
        );
    }
    let opposed = match better {
        Some(Better::Lower) => !own_max && own_min,
        Some(Better::Higher) => !own_min && own_max,
        Some(Better::Inside) | None => false,
    };
    if opposed {
        place.problem(
            "better",
            "the limit is on the wrong side",
            "`better = \"lower\"` needs `max`, `better = \"higher\"` needs `min`",
            problems,
        );
    }
    let improvement = improvement(place, table, unit, better, problems);
    Some(Scale {
        unit,
        better,
        bounds: fixed,
        by: by.map(Arc::new),
        should: own.should,
        as_printed: own.as_printed,
        before,
        improvement,
        pressure: table.pressure,
        bands: match &table.bands {
            None => None,
            Some(bands) => Some(exact::bands(place, bands, unit, problems)?),
        },
    })
}

/// The limits that are worked out from other readings of the same run.
fn limit_by(
    place: &Place<'_>,
    table: &MeasureTable,
    unit: &'static Unit,
    at: Option<&Positions>,
    names: &Names<'_>,
    problems: &mut Problems,
) -> Option<LimitBy> {
    let mut one = |key: &'static str, text: Option<&String>, fixed: Option<(&str, bool)>| {
        let text = text?;
        let (besides, _) = fixed
            .filter(|(_, is_given)| *is_given)
            .unwrap_or(("", false));
        if !besides.is_empty() {
            place.problem(
                key,
                format!("both `{key}` and `{besides}` are given"),
                "keep one of the two",
                problems,
            );
        }
        if words(text).any(|word| names.refused.iter().any(|id| id == word)) {
            // What is wrong with that measure is said already.
            return None;
        }
        if words(text).any(|word| word == table.id) {
            place.problem(
                key,
                format!("the limit of `{0}` cannot depend on `{0}` itself", table.id),
                "name measures above it, conditions and tables",
                problems,
            );
            return None;
        }
        let found = match formula(text, unit, names) {
            Ok(found) => found,
            Err((message, hint)) => {
                place.problem(key, message, hint, problems);
                return None;
            }
        };
        no_extremes(place, key, &found, names, problems);
        let elsewhere = found.at().filter(|own| at.is_none_or(|at| at.id != own.id));
        if let Some(own) = elsewhere {
            place.problem(
                key,
                format!(
                    "this formula gives one limit for each {}, and `{}` is not read there",
                    positions::one_of(own),
                    table.id
                ),
                "use `mean(…)`, `lowest(…)` and the like, or read it at the same positions",
                problems,
            );
            return None;
        }
        Some(found)
    };
    let target = ("target", table.target.is_some());
    let beside = |key, is_given| Some(if is_given { (key, true) } else { target });
    let min = one(
        "min_by",
        table.min_by.as_ref(),
        beside("min", table.min.is_some()),
    );
    let max = one(
        "max_by",
        table.max_by.as_ref(),
        beside("max", table.max.is_some()),
    );
    (min.is_some() || max.is_some()).then_some(LimitBy { min, max })
}

fn improvement(
    place: &Place<'_>,
    table: &MeasureTable,
    unit: &'static Unit,
    better: Option<Better>,
    problems: &mut Problems,
) -> Option<Improvement> {
    let mut amount = |key, value, unit| {
        let path = [place.list, place.at, key];
        common_checks::difference(place.document, &path, value, unit, problems)
    };
    let (key, improvement) = match (table.improve_by, table.improve_percent) {
        (None, None) => return None,
        (Some(_), Some(_)) => {
            place.problem(
                "improve_by",
                "both `improve_by` and `improve_percent` are given",
                "keep one of the two",
                problems,
            );
            return None;
        }
        (Some(by), None) => (
            "improve_by",
            Improvement::By(amount("improve_by", by, unit)?),
        ),
        (None, Some(percent)) => (
            "improve_percent",
            Improvement::Share(amount("improve_percent", percent, Unit::named("%")?)?),
        ),
    };
    if !matches!(better, Some(Better::Lower | Better::Higher)) {
        place.problem(
            key,
            "a required improvement needs a direction",
            "add `better = \"lower\"` or `better = \"higher\"`",
            problems,
        );
    }
    let most = match improvement {
        Improvement::Share(_) if better == Some(Better::Lower) => 1.0,
        Improvement::Share(_) | Improvement::By(_) => f64::INFINITY,
    };
    let least = improvement.least();
    if least <= 0.0 || least > most {
        place.problem(
            key,
            "an improvement of this size is not possible",
            "write more than 0; where less is better, at most 100 %",
            problems,
        );
    }
    let is_share = matches!(improvement, Improvement::Share(_));
    if is_share && unit.has_true_zero() {
        variation::share_of_pressure(place, table, unit, problems);
    }
    if is_share && !unit.has_true_zero() {
        place.problem(
            key,
            format!(
                "a percentage of {} in {} has no meaning",
                common_checks::with_article(unit.dimension()),
                unit.symbol()
            ),
            if unit.dimension() == Dimension::Temperature {
                "use `improve_by`, or measure a temperature difference in `K` or `Δ°F`"
            } else {
                "use `improve_by`"
            },
            problems,
        );
    }
    Some(improvement)
}
