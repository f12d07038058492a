//! The judgement: what the readings show, by the rules that were fixed before.
//!
//! Pure and deterministic: [`judge`] takes a [`Job`] and returns a
//! [`Judgement`], both plain data. Nothing here reads a file or a clock, rounds
//! a figure or chooses a word. All figures are in SI units, unrounded.
//!
//! In four steps:
//! 1. each reading gets its uncertainty (`uncertainty`);
//! 2. baseline and retest are compared, and each is placed at its limit
//!    (`comparison`, `zone`, `counts`);
//! 3. the conditions of both runs are held against each other (`conditions`);
//! 4. the verdict follows, with its reasons and reservations (`verdict`).

mod balance;
mod comparison;
mod conditions;
mod counts;
mod dependence;
mod measures;
mod pairs;
mod photo_times;
#[cfg(test)]
mod published;
#[cfg(test)]
mod simulation;
mod smoke;
mod t_distribution;
mod uncertainty;
mod verdict;
mod zone;

use crate::job::{DecisionRule, Job};

pub use balance::{Balance, FEWEST_TO_STAND_OUT};
pub use comparison::{Change, Comparison, Gain};
pub use conditions::{ConditionJudgement, ConditionState};
pub use counts::{CountComparison, Interval, PairedCount};
pub use dependence::{Common, Dependence};
pub use measures::{Finding, MeasureJudgement};
pub use pairs::{Pairs, SignedRank};
pub use photo_times::{Misfit, PhotoTimeDoubt, photo_time_doubts};
pub use smoke::{SmokeComparison, SmokePart};
pub use verdict::{Reason, Reservation, Verdict};
pub use zone::{Outcome, Standing, Zone, at_limit, outcome};

/// Everything that was judged, in the order of the limits file.
#[derive(Debug, Clone)]
pub struct Judgement {
    /// The answer for the whole job.
    pub verdict: Verdict,
    /// Why the verdict is what it is.
    pub reasons: Vec<Reason>,
    /// What a reader should keep in mind beside it.
    pub reservations: Vec<Reservation>,
    /// The rule that was applied at the limits.
    pub rule: DecisionRule,
    /// Each measure.
    pub measures: Vec<MeasureJudgement>,
    /// Each condition.
    pub conditions: Vec<ConditionJudgement>,
    /// Whether the conditions allow a claim of improvement.
    pub fair: bool,
}

/// Judges a job.
pub fn judge(job: &Job) -> Judgement {
    let measures: Vec<MeasureJudgement> = job
        .limits
        .measures
        .iter()
        .filter_map(|measure| measures::judge(job, measure))
        .collect();
    let conditions: Vec<ConditionJudgement> = job
        .limits
        .conditions
        .iter()
        .map(|condition| conditions::judge(job, condition))
        .collect();
    let fair = conditions::are_fair(&conditions);
    let (verdict, reasons) = verdict::decide(job, &measures, &conditions);
    let reservations = verdict::reservations(job, &measures, &conditions);
    Judgement {
        verdict,
        reasons,
        reservations,
        rule: job.limits.rule,
        measures,
        conditions,
        fair,
    }
}
