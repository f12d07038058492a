//! Figures that are worked out: their formulas and tables in `limits.toml`, and whether the
//! readings of a run give a number.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::common_checks;
use super::formula::{Names, formula, is_reserved};
use super::place::Place;
use super::positions::{many_of, one_of};
use super::problem::Problems;
use super::shapes::{MeasureTable, ValueTable};
use super::toml_document::Document;
use crate::job::{
    Between, Condition, ConditionKind, ConditionReading, Formula, Input, InputOf, Kind, LimitBy,
    Limits, Measure, Observation, Reading, Table,
};
use crate::quantity::{Quantity, Unit};

/// The tables of a plan.
pub fn tables(
    document: &Document,
    shapes: Vec<ValueTable>,
    problems: &mut Problems,
) -> Vec<Arc<Table>> {
    let mut tables: Vec<Arc<Table>> = Vec::new();
    for (index, shape) in shapes.into_iter().enumerate() {
        let place = Place {
            document,
            list: "table",
            at: &index.to_string(),
        };
        let path = |key| [place.list, place.at, key];
        common_checks::check_id(document, &path("id"), &shape.id, problems);
        not_reserved(&place, &shape.id, problems);
        if tables.iter().any(|known| known.id == shape.id) {
            place.twice("table", "tables", &shape.id, problems);
        }
        let from = common_checks::unit(document, &path("from"), &shape.from, problems);
        let to = common_checks::unit(document, &path("to"), &shape.to, problems);
        let rows = shape.rows.iter().map(|[from, to]| (*from, *to)).collect();
        let (Some(from), Some(to)) = (from, to) else {
            continue;
        };
        let between = shape.between.unwrap_or(Between::Line);
        match Table::new(shape.id, shape.source, [from, to], between, rows) {
            Ok(table) => tables.push(Arc::new(table)),
            Err(row) => place.document.problem(
                &["table", place.at, "rows", &row.to_string()],
                "the first numbers of a table rise from row to row",
                "sort the rows, and write each first number once; a table has at least two rows",
                problems,
            ),
        }
    }
    tables
}

/// An id that is the name of a function could not be named in a formula.
pub fn not_reserved(place: &Place<'_>, id: &str, problems: &mut Problems) {
    if is_reserved(id) {
        place.problem(
            "id",
            format!("`{id}` is the name of a function in formulas"),
            "choose another id",
            problems,
        );
    }
}

/// What formulas may name: the measures so far and the conditions; and which measures were
/// `refused`.
pub fn names<'a>(
    measures: &[Measure],
    conditions: &[Condition],
    tables: &'a [Arc<Table>],
    refused: &[String],
) -> Names<'a> {
    let has_extremes = |measure: &&Measure| {
        let formula = measure.worked_out.as_ref();
        formula.is_some_and(Formula::has_extremes)
    };
    let extremes = measures.iter().filter(has_extremes);
    let extremes = extremes.map(|measure| measure.id.clone()).collect();
    let measures_named = measures.iter().filter_map(|measure| {
        Some(Input {
            of: InputOf::Measure(measure.id.clone()),
            unit: measure.kind.unit()?,
            at: measure.kind.at().cloned(),
        })
    });
    let conditions = conditions
        .iter()
        .filter_map(|condition| match &condition.kind {
            ConditionKind::Value { unit, .. } => Some(Input {
                of: InputOf::Condition(condition.id.clone()),
                unit,
                at: None,
            }),
            ConditionKind::Text => None,
        });
    Names {
        parts: measures_named.chain(conditions).collect(),
        tables,
        extremes,
        refused: refused.to_vec(),
    }
}

/// The formula of a measure, whose figures are in `unit`.
pub fn of_measure(
    place: &Place<'_>,
    table: &MeasureTable,
    unit: &'static Unit,
    names: &Names<'_>,
    problems: &mut Problems,
) -> Option<Formula> {
    let text = table.worked_out.as_deref()?;
    for (key, is_given) in [
        ("at", table.at.is_some()),
        ("repeats", table.repeats.is_some()),
        ("paired", table.paired),
        ("separate_runs", table.separate_runs),
        (
            "judged_by_eye_seconds",
            table.judged_by_eye_seconds.is_some(),
        ),
    ] {
        if is_given {
            place.problem(
                key,
                format!("`{key}` does not apply to a figure that is worked out"),
                "delete it; it belongs with the measures that are read",
                problems,
            );
        }
    }
    if words(text).any(|word| names.refused.iter().any(|id| id == word)) {
        // What is wrong with that measure is said already.
        return None;
    }
    if words(text).any(|word| word == table.id) {
        place.problem(
            "worked_out",
            format!("`{}` cannot be worked out from itself", table.id),
            "name the measures that it is worked out from",
            problems,
        );
        return None;
    }
    match formula(text, unit, names) {
        Ok(mut formula) => {
            no_extremes(place, "worked_out", &formula, names, problems);
            if let Some(least) = table.least_read {
                formula.least_read = Some(least as usize);
                may_leave_out(place, &formula, least as usize, problems);
            }
            Some(formula)
        }
        Err((message, hint)) => {
            place.problem("worked_out", message, hint, problems);
            None
        }
    }
}

/// A formula from which positions that were not read may be left out is one figure over all
/// positions, and a smaller number of them does not make it another one.
fn may_leave_out(place: &Place<'_>, formula: &Formula, least: usize, problems: &mut Problems) {
    let whole = (0..formula.parts.len()).filter(|part| formula.takes_all_of(*part));
    let fewest = whole
        .filter_map(|part| formula.parts[part].at.as_ref())
        .min_by_key(|at| at.len());
    let mut refused = |message: String, hint: &str| {
        place.problem("least_read", message, hint, problems);
    };
    match (formula.at(), fewest) {
        (Some(at), _) => refused(
            format!(
                "`least_read` is of one figure, and this formula gives one for each {}",
                one_of(at)
            ),
            "delete it: a position that was not read has no figure, and the others have theirs",
        ),
        (None, None) => refused(
            "this formula takes nothing of all positions".to_owned(),
            "delete `least_read`, or use `mean(…)`, `spread(…)` and the like",
        ),
        (None, Some(_)) if formula.has_sums() => refused(
            "a sum of fewer positions is another figure".to_owned(),
            "delete `least_read`, or use `mean(…)`",
        ),
        (None, Some(at)) if least > at.len() => refused(
            format!("there are no {least} {}, but {}", many_of(at), at.len()),
            "write how many must have been read at least",
        ),
        (None, Some(_)) => {}
    }
}

/// A formula names no figure that itself follows an extreme.
pub fn no_extremes(
    place: &Place<'_>,
    key: &str,
    formula: &Formula,
    names: &Names<'_>,
    problems: &mut Problems,
) {
    for part in &formula.parts {
        if names.extremes.iter().any(|id| id == part.of.id()) {
            place.problem(
                key,
                format!(
                    "`{}` follows the lowest, the highest or the greatest of several \
                     readings, which are not known behind its figure",
                    part.of.id()
                ),
                format!("write out the formula of `{}` here", part.of.id()),
                problems,
            );
        }
    }
}

/// What may be an id in a formula.
pub fn words(text: &str) -> impl Iterator<Item = &str> {
    text.split(|c: char| !(c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-'))
}

/// What was found of one run, by which figures are worked out.
pub struct Found<'a> {
    pub document: &'a Document,
    pub limits: &'a Limits,
    pub readings: &'a BTreeMap<String, Reading>,
    pub conditions: &'a BTreeMap<String, ConditionReading>,
}

impl Found<'_> {
    /// Whether each figure and each limit that is worked out has a number in this run.
    pub fn check(&self, problems: &mut Problems) {
        let mut missing: Vec<String> = Vec::new();
        for measure in &self.limits.measures {
            if let Some(formula) = &measure.worked_out {
                let what = format!("`{}`", measure.id);
                self.check_one(&what, formula, &mut missing, problems);
            }
            let by = measure.kind.limit_by();
            let limit = format!("the limit of `{}`", measure.id);
            for (_, formula) in by.into_iter().flat_map(LimitBy::each) {
                self.check_one(&limit, formula, &mut missing, problems);
            }
            self.in_order(measure, problems);
        }
    }

    /// Whether `formula`, by which `what` is worked out, has a number in this run.
    fn check_one(
        &self,
        what: &str,
        formula: &Formula,
        missing: &mut Vec<String>,
        problems: &mut Problems,
    ) {
        for part in &formula.parts {
            if let InputOf::Condition(id) = &part.of
                && !self.conditions.contains_key(id)
                && !missing.contains(id)
            {
                missing.push(id.clone());
                self.document.problem(
                    &["condition"],
                    format!("{what} needs the condition `{id}`, which this run lacks"),
                    format!("add `{id}` under `[condition]`, with its unit and instrument"),
                    problems,
                );
            }
        }
        let places = formula.at().map_or(1, |at| at.len());
        for place in 0..places {
            let Some(figures) = self.figures(formula, place) else {
                continue;
            };
            if let Err(error) = formula.evaluate(&figures, place) {
                self.document.problem(
                    &self.path_of(formula),
                    format!("{what} cannot be worked out: {error}"),
                    "check these readings, and the formula and its tables in limits.toml; a \
                     table is never read off beyond its ends",
                    problems,
                );
                break;
            }
        }
    }

    /// Limits that are worked out are in order in this run.
    fn in_order(&self, measure: &Measure, problems: &mut Problems) {
        let Some((by, fixed)) = measure.kind.limit_by().zip(measure.kind.scale()) else {
            return;
        };
        let places = measure.kind.at().map_or(1, |at| at.len());
        let unit = fixed.unit;
        let end = |formula: &Option<Formula>, fixed: Option<Quantity>, place| match formula {
            None => Some(unit.from_si(fixed?.si())),
            Some(formula) => {
                let figures = self.figures(formula, place)?;
                Some(formula.evaluate(&figures, place).ok()?.value)
            }
        };
        // A row of its own takes their place at its position.
        let has_own = |place: usize| match &measure.kind {
            Kind::ValueAt(scales) => scales.own.get(place).is_some_and(Option::is_some),
            _ => false,
        };
        for place in (0..places).filter(|place| !has_own(*place)) {
            let ends = [
                end(&by.min, fixed.bounds.and_then(|it| it.min()), place),
                end(&by.max, fixed.bounds.and_then(|it| it.max()), place),
            ];
            if let [Some(min), Some(max)] = ends
                && min > max
            {
                let first = by.each().next().map(|(_, formula)| formula);
                self.document.problem(
                    &first.map_or_else(Vec::new, |formula| self.path_of(formula)),
                    format!(
                        "the limits of `{}` come to at least {} and at most {} {} in this run",
                        measure.id,
                        shown(min),
                        shown(max),
                        unit.symbol()
                    ),
                    "check these readings, and the formulas and tables in limits.toml",
                    problems,
                );
                break;
            }
        }
    }

    /// Where the first part of a formula stands in this file.
    fn path_of<'f>(&self, formula: &'f Formula) -> Vec<&'f str> {
        match formula.parts.first().map(|part| &part.of) {
            Some(InputOf::Measure(id)) if self.readings.contains_key(id) => vec!["reading", id],
            Some(InputOf::Condition(id)) => vec!["condition", id],
            Some(InputOf::Measure(_)) | None => Vec::new(),
        }
    }

    /// The numbers that enter a formula, as far as they were read.
    fn figures(&self, formula: &Formula, place: usize) -> Option<Vec<Vec<f64>>> {
        let each = formula.parts.iter().enumerate();
        each.map(|(index, part)| {
            let all = self.numbers(part)?;
            if formula.takes_all_of(index) {
                let places = all.len();
                let read: Vec<f64> = all.into_iter().flatten().collect();
                let least = formula.least_read.unwrap_or(places).min(places);
                return (read.len() >= least).then_some(read);
            }
            let place = if all.len() > 1 { place } else { 0 };
            all.get(place).copied().flatten().map(|one| vec![one])
        })
        .collect()
    }

    /// The number of a part, or that of each of its positions; none where one was not taken.
    fn numbers(&self, part: &Input) -> Option<Vec<Option<f64>>> {
        let mean = |values: &[Quantity]| {
            let si: f64 = values.iter().map(Quantity::si).sum();
            part.unit.from_si(si / values.len() as f64)
        };
        match &part.of {
            InputOf::Condition(id) => match self.conditions.get(id)? {
                ConditionReading::Value { value, .. } => Some(vec![Some(mean(&[*value]))]),
                ConditionReading::Text(_) => None,
            },
            InputOf::Measure(id) => {
                let measure = self.limits.measure(id)?;
                if let Some(formula) = &measure.worked_out {
                    let places = formula.at().map_or(1, |at| at.len());
                    let each = (0..places).map(|place| {
                        let figures = self.figures(formula, place)?;
                        Some(formula.evaluate(&figures, place).ok()?.value)
                    });
                    return Some(each.collect());
                }
                match &self.readings.get(id)?.observation {
                    Observation::Value(values) => Some(vec![Some(mean(values))]),
                    Observation::ValueAt(values) => Some(
                        values
                            .iter()
                            .map(|entry| entry.taken().map(|values| mean(values)))
                            .collect(),
                    ),
                    Observation::Passes(_)
                    | Observation::PassesAt(_)
                    | Observation::Exact(_)
                    | Observation::ExactAt(_)
                    | Observation::Rate(_)
                    | Observation::List(_)
                    | Observation::Smoke(_)
                    | Observation::Text(_)
                    | Observation::NotTaken(_) => None,
                }
            }
        }
    }
}

/// A figure in a message, without what binary rounding left in it.
fn shown(figure: f64) -> f64 {
    (figure * 1e9).round() / 1e9
}
