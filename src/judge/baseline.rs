//! A baseline before there is any retest: what the readings are, and whether they meet
//! their limits today.

use super::one_run::{RunFigure, figures};
use super::zone::Outcome;
use crate::job::{Plan, Run};

/// A baseline, the required measures first.
#[derive(Debug, Clone)]
pub struct BaselineJudgement {
    /// The rows of the receipt, which has every measure.
    pub rows: Vec<BaselineRow>,
}

/// One figure of a baseline, or the figures of all cylinders.
#[derive(Debug, Clone)]
pub struct BaselineRow {
    /// The id of its measure.
    pub measure: String,
    /// Whether the verdict will depend on it.
    pub required: bool,
    /// What was read.
    pub figure: RunFigure,
    /// The outcome at its limit today.
    pub outcome: Outcome,
}

/// Judges the baseline `run` of a plan.
pub fn judge(plan: &Plan, run: &Run) -> BaselineJudgement {
    let mut rows: Vec<BaselineRow> = plan
        .limits
        .measures
        .iter()
        .flat_map(|measure| {
            let figures = figures(plan, measure, run);
            figures.into_iter().map(|figure| BaselineRow {
                measure: measure.id.clone(),
                required: measure.required,
                outcome: figure.at_limit(),
                figure,
            })
        })
        .collect();
    rows.sort_by_key(|row| !row.required);
    BaselineJudgement { rows }
}
