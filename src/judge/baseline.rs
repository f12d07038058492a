//! A baseline before there is any retest: what the readings are, and whether they meet
//! their limits today.

use super::comparison::at_bounds;
use super::counts;
use super::known::Known;
use super::smoke::{SmokePart, smoke_before};
use super::uncertainty::estimate;
use super::zone::{Outcome, at_limit};
use crate::job::{Count, Instrument, Kind, Limits, Measure, Observation, Run, Scale};
use crate::quantity::{Estimate, Quantity};

/// The most rows that a receipt shows; the attached files have all.
const ROWS: usize = 14;

/// A baseline, the required measures first.
#[derive(Debug, Clone)]
pub struct BaselineJudgement {
    /// The rows of the receipt.
    pub rows: Vec<BaselineRow>,
    /// How many more there are, where there are more.
    pub left_off: Option<usize>,
}

/// One figure of a baseline, or the figures of all cylinders.
#[derive(Debug, Clone)]
pub struct BaselineRow {
    /// The id of its measure.
    pub measure: String,
    /// Whether the verdict will depend on it.
    pub required: bool,
    /// What was read.
    pub figure: BaselineFigure,
    /// The outcome at its limit today.
    pub outcome: Outcome,
}

/// What was read of a baseline.
#[derive(Debug, Clone)]
pub enum BaselineFigure {
    /// One value.
    Value(Scale, Estimate),
    /// One value for each cylinder.
    Cylinders(Scale, Vec<Estimate>),
    /// Passes of attempts.
    Passes(Count),
    /// Passes of attempts for each cylinder.
    CylinderPasses(Vec<Count>),
    /// A figure of smoke, and the path of light over which its limit holds.
    Smoke(SmokePart, Option<Quantity>, Scale, Estimate),
}

/// Judges the baseline `run` of a plan.
pub fn judge(instruments: &[Instrument], limits: &Limits, run: &Run) -> BaselineJudgement {
    let mut rows: Vec<BaselineRow> = limits
        .measures
        .iter()
        .flat_map(|measure| {
            let figures = figures(instruments, limits, measure, run);
            figures.into_iter().map(|(figure, outcome)| BaselineRow {
                measure: measure.id.clone(),
                required: measure.required,
                figure,
                outcome,
            })
        })
        .collect();
    rows.sort_by_key(|row| !row.required);
    let left_off = rows.len().checked_sub(ROWS).filter(|more| *more > 0);
    rows.truncate(ROWS);
    BaselineJudgement { rows, left_off }
}

/// What was read of `measure`, each with its place at the limit. Words have none.
fn figures(
    instruments: &[Instrument],
    limits: &Limits,
    measure: &Measure,
    run: &Run,
) -> Vec<(BaselineFigure, Outcome)> {
    use Observation as O;
    let Some(reading) = run.readings.get(&measure.id) else {
        return Vec::new();
    };
    let known = Known::of(measure, [Some(reading), None], instruments);
    let errors = known.errors_in(0, reading);
    let stands = |estimate: &Estimate, scale: &Scale| {
        at_limit(at_bounds(estimate, scale, limits.rule), limits.rule)
    };
    match (&measure.kind, &reading.observation) {
        (Kind::Value(scale), O::Value(values)) => {
            let found = estimate(values, errors);
            let outcome = stands(&found, scale);
            vec![(BaselineFigure::Value(scale.clone(), found), outcome)]
        }
        (Kind::Cylinders(scale), O::Cylinders(cylinders)) => {
            let all: Vec<Estimate> = cylinders
                .iter()
                .map(|(_, values)| estimate(values, errors))
                .collect();
            let outcome = Outcome::worst(all.iter().map(|one| stands(one, scale)));
            vec![(BaselineFigure::Cylinders(scale.clone(), all), outcome)]
        }
        (Kind::Passes { min }, O::Passes(count)) => {
            let outcome = counts::at_limit(*count, *min);
            vec![(BaselineFigure::Passes(*count), outcome)]
        }
        (Kind::CylinderPasses { min }, O::CylinderPasses(cylinders)) => {
            let all: Vec<Count> = cylinders.iter().map(|(_, count)| *count).collect();
            let outcome = Outcome::worst(all.iter().map(|one| counts::at_limit(*one, *min)));
            vec![(BaselineFigure::CylinderPasses(all), outcome)]
        }
        (Kind::Smoke(smoke_limits), O::Smoke(smoke)) => {
            smoke_before(&known, reading, smoke, smoke_limits)
                .into_iter()
                .map(|(part, path, scale, found)| {
                    let outcome = stands(&found, &scale);
                    (BaselineFigure::Smoke(part, path, scale, found), outcome)
                })
                .collect()
        }
        // Words are never judged; each kind and each observation is named, so that the
        // compiler asks for the figures of a new one. Intake refuses any other pair.
        (
            Kind::Value(_)
            | Kind::Cylinders(_)
            | Kind::Passes { .. }
            | Kind::CylinderPasses { .. }
            | Kind::Smoke(_)
            | Kind::Text,
            O::Value(_)
            | O::Cylinders(_)
            | O::Passes(_)
            | O::CylinderPasses(_)
            | O::Smoke(_)
            | O::Text(_)
            | O::NotTaken(_),
        ) => Vec::new(),
    }
}
