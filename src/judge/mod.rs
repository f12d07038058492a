//! The judgement: what the readings show, by the rules that were fixed before.
//!
//! Pure and deterministic: [`judge`] takes a [`Job`] and returns a
//! [`Judgement`], both plain data. Nothing here reads a file or a clock, rounds
//! a figure or chooses a word. All figures are in SI units, unrounded.
//!
//! The rules stand in full in `samples/JUDGING.md`. In five steps:
//! 1. each reading gets its uncertainty (`uncertainty`, `bounds`), with how the readings of
//!    the measure scatter (`scatter`, `known`);
//! 2. the conditions of both runs are compared (`conditions`);
//! 3. each measure's kind, limits and readings are paired (`observed`), compared, and
//!    placed at their limits (`measures`, with `comparison`, `counts`, `smoke`, `zone`); of
//!    each conclusion it is said up to what variation of the machine it holds (`variation`);
//! 4. the verdict follows, with its reasons (`verdict`) and `reservations`, and what looks
//!    wrong (`doubts`);
//! 5. what is on the customer's page, and in which order (`first_page`, `caveats`), up to
//!    what it holds (`holds`) and what would settle it (`settles`).
//!
//! Code that shows a judgement matches on its enums: they can be neither compared nor
//! sorted outside of this room.

mod balance;
mod bands;
mod baseline;
mod bounds;
mod caveats;
mod change;
mod comparison;
mod conditions;
mod counts;
mod dependence;
mod doubts;
mod ends;
mod exact;
mod finding;
mod first_page;
#[cfg(test)]
mod fixtures;
mod gain;
mod holds;
mod idle;
mod instruments;
mod known;
mod left_out;
mod limits_in_run;
mod list;
mod measures;
mod moments;
mod observed;
mod one_run;
mod outcomes;
mod pairs;
mod photo_times;
mod points;
mod positions;
mod propagation;
#[cfg(test)]
mod published_values;
mod rate;
mod repeats;
mod reservations;
mod scatter;
mod settles;
#[cfg(test)]
mod simulation;
mod smoke;
mod special_functions;
mod t_distribution;
mod telling;
mod uncertainty;
mod variation;
mod verdict;
mod worked_out;
mod zone;

use crate::job::{DecisionRule, Job, Plan, Run};

pub use balance::{Balance, Outliers};
pub use bands::InBands;
pub use baseline::{BaselineJudgement, BaselineRow};
pub use caveats::{
    Attribution, Caveat, FollowUp, Form, Listed, advice, attribution, caveats, done, follow_up,
    is_issued_before_retest, left, not_needed,
};
pub use change::{Change, Claim, Moved, Step};
pub use comparison::Comparison;
pub use conditions::{ConditionJudgement, ConditionState};
pub use counts::{CountComparison, Interval, PairedCount, Share};
pub use dependence::{Common, Dependence};
pub use doubts::{Doubt, doubts};
pub use ends::{Ends, Should};
pub use exact::{ExactAlone, ExactPair};
pub use finding::{
    AtPosition, CountAlone, ExactsAt, MeasureFinding, PassesAt, ValueAlone, ValuesAt,
};
pub use first_page::{ConditionsInShort, FigureOf, FirstPage, Headline};
pub use gain::Gain;
pub use holds::HoldsInShort;
pub use instruments::{InstrumentUse, Used};
pub use left_out::LeftOut;
pub use list::ListComparison;
pub use measures::MeasureJudgement;
pub use one_run::{Alone, RunFigure, figures as figures_of_run};
pub use pairs::{Pairs, SignedRank};
pub use photo_times::{Misfit, PhotoTimeDoubt, photo_time_doubts};
pub use rate::{RateComparison, RateFigure};
pub use reservations::Reservation;
pub use scatter::{Pool, Scatter};
pub use settles::Settles;
pub use smoke::{LightPath, SmokeComparison, SmokePart};
pub use variation::HoldsUnless;
pub use verdict::{Reason, Verdict};
pub use zone::{Outcome, Standing, Zone};

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
    /// The instruments that were used.
    pub instruments: Vec<InstrumentUse>,
    /// Whether all required conditions allow a claim of improvement, whichever measures they
    /// bear on.
    pub fair: bool,
    /// What is on the customer's page.
    pub first_page: FirstPage,
}

/// Judges a job.
pub fn judge(job: &Job) -> Judgement {
    let limits = &job.plan.limits;
    let conditions: Vec<ConditionJudgement> = limits
        .conditions
        .iter()
        .map(|condition| conditions::judge(job, condition))
        .collect();
    let fair = conditions::are_fair(&conditions);
    let rule = limits.rule;
    let measures: Vec<MeasureJudgement> = limits
        .measures
        .iter()
        .map(|measure| {
            let fair = conditions::are_fair(conditions::about(&conditions, &[&measure.id]));
            measures::judge(job, measure, rule, fair)
        })
        .collect();
    let instruments = instruments::used(job);
    let (verdict, reasons) = verdict::decide(job, &measures, &conditions);
    let first_page = FirstPage::of(
        &limits.measures,
        verdict,
        &reasons,
        &measures,
        &conditions,
        fair,
        rule,
    );
    Judgement {
        verdict,
        reasons,
        reservations: reservations::reservations(job, &measures, &conditions, &instruments),
        rule,
        measures,
        conditions,
        instruments,
        fair,
        first_page,
    }
}

/// Judges the baseline of a plan, before there is any retest.
pub fn baseline(plan: &Plan, run: &Run) -> BaselineJudgement {
    baseline::judge(plan, run)
}
