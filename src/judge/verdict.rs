//! The verdict of a job, with its reasons and reservations as data.

use chrono::NaiveDate;

use super::comparison::{Change, Comparison};
use super::conditions::{
    ConditionJudgement, ConditionState, is_battery_recorded, is_short_soak, warm_at,
};
use super::measures::{Finding, MeasureJudgement};
use super::zone::Outcome;
use crate::job::{DecisionRule, Job, Measure, Observation, Run, TestKind};

/// The answer for the whole job.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Verdict {
    /// Every required measure meets its limit, under fair conditions.
    Verified,
    /// A required measure does not meet its limit, or the required improvement
    /// is shown to be absent.
    NotVerified,
    /// It cannot be told.
    Undecided,
}

/// Why the verdict is what it is. Measures and conditions go by their ids.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Reason {
    /// All of so many required measures pass.
    AllPass(usize),
    /// This required measure fails at its limit.
    Fails(String),
    /// The improvement that this measure requires is shown to be absent.
    ImprovementAbsent(String),
    /// This required measure lies too near its limit to tell.
    TooNear(String),
    /// The improvement that this measure requires cannot be worked out, or no change
    /// can be told from none.
    NoImprovementShown(String),
    /// This required measure was not read in the retest.
    NotTaken(String),
    /// This required measure got worse.
    GotWorse(String),
    /// This required condition was easier in the retest.
    Easier(String),
    /// This required condition is not known for both runs, or differs with no
    /// telling which way it acts.
    ConditionUnknown(String),
    /// This temperature was still far above ambient at the retest: not a cold start.
    NotCold(String),
    /// No measure is required, so there is nothing to verify.
    NothingRequired,
}

/// What a reader should keep in mind beside the verdict.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Reservation {
    /// This measure passes, but by less than its uncertainty.
    NarrowPass(String),
    /// No required measure was outside its limit before the work, and none got
    /// better: these tests did not show the fault.
    FaultNotShown,
    /// This measure, which is not required, does not meet its limit.
    OtherOutside(String),
    /// This measure, which is not required, got worse.
    OtherWorse(String),
    /// This condition, which is not required, was easier or is not known.
    OtherCondition(String),
    /// No condition was to be compared.
    NoConditions,
    /// The rule leaves uncertainty out of account.
    UncertaintyNotCounted,
    /// This instrument was used after its calibration was due.
    Overdue {
        /// The instrument's id.
        instrument: String,
        /// When it was due.
        due: NaiveDate,
    },
    /// This instrument was first calibrated after it was used.
    CalibratedLater(String),
    /// This temperature, which is not required, was still far above ambient at the
    /// retest.
    RetestNotCold(String),
    /// This temperature was still far above ambient at the baseline.
    BaselineNotCold(String),
    /// The machine stood for a short time only before the retest.
    ShortSoak,
    /// The change of this measure leaves out the instrument's common error, and its
    /// readings show no scatter that could stand for the rest.
    ScatterNotKnown(String),
    /// This measure times cranking, and neither battery voltage nor cranking speed was
    /// recorded in both runs: a better battery alone would shorten it.
    BatteryNotRecorded(String),
    /// This condition is alike within its window, but changed to the easier side.
    Helped(String),
    /// The machine's meter shows less in the retest than in the baseline.
    MeterBackwards,
    /// The machine's meter rose by less than the run-in that was recorded.
    MeterBehindRunIn,
    /// This measure was not read in each run as often as was planned.
    RepeatsDiffer(String),
}

/// The verdict and its reasons.
pub fn decide(
    job: &Job,
    measures: &[MeasureJudgement],
    conditions: &[ConditionJudgement],
) -> (Verdict, Vec<Reason>) {
    let required = || measures.iter().filter(|measure| measure.required);
    let ids = |test: fn(&MeasureJudgement) -> bool, reason: fn(String) -> Reason| {
        required()
            .filter(move |measure| test(measure))
            .map(move |measure| reason(measure.id.clone()))
    };
    let failing: Vec<Reason> = ids(
        |m| m.outcome == Outcome::Fail && m.at_limit == Outcome::Fail,
        Reason::Fails,
    )
    .chain(ids(
        |m| m.outcome == Outcome::Fail && m.at_limit != Outcome::Fail,
        Reason::ImprovementAbsent,
    ))
    .collect();
    let mut open: Vec<Reason> = ids(
        |m| {
            let not_taken = matches!(m.finding, Finding::NotTaken);
            !not_taken && m.outcome == Outcome::Undecided && m.at_limit == Outcome::Undecided
        },
        Reason::TooNear,
    )
    .chain(ids(
        |m| matches!(m.finding, Finding::NotTaken),
        Reason::NotTaken,
    ))
    .chain(ids(
        |m| m.outcome == Outcome::Undecided && m.at_limit != Outcome::Undecided,
        Reason::NoImprovementShown,
    ))
    .chain(ids(
        |m| m.change == Some(Change::Worsened),
        Reason::GotWorse,
    ))
    .collect();
    open.extend(
        conditions
            .iter()
            .filter(|condition| condition.required)
            .filter_map(|condition| match condition.state {
                ConditionState::Easier => Some(Reason::Easier(condition.id.clone())),
                ConditionState::Unknown => Some(Reason::ConditionUnknown(condition.id.clone())),
                ConditionState::Matched | ConditionState::Harder => None,
            }),
    );
    open.extend(
        warm_at(job, &job.retest)
            .filter(|condition| condition.required)
            .map(|condition| Reason::NotCold(condition.id.clone())),
    );
    let count = required().count();
    if count == 0 {
        open.push(Reason::NothingRequired);
    }
    if !failing.is_empty() {
        // What is open besides is still worth saying.
        return (
            Verdict::NotVerified,
            failing.into_iter().chain(open).collect(),
        );
    }
    if !open.is_empty() {
        return (Verdict::Undecided, open);
    }
    (Verdict::Verified, vec![Reason::AllPass(count)])
}

/// What a reader should keep in mind, whatever the verdict.
pub fn reservations(
    job: &Job,
    measures: &[MeasureJudgement],
    conditions: &[ConditionJudgement],
) -> Vec<Reservation> {
    let mut found = Vec::new();
    if job.limits.rule == DecisionRule::Simple {
        found.push(Reservation::UncertaintyNotCounted);
    }
    for measure in measures {
        let id = || measure.id.clone();
        match (measure.required, measure.outcome) {
            (true, Outcome::PassWithReservation) => found.push(Reservation::NarrowPass(id())),
            (false, Outcome::Fail) => found.push(Reservation::OtherOutside(id())),
            _ => {}
        }
        if !measure.required && measure.change == Some(Change::Worsened) {
            found.push(Reservation::OtherWorse(id()));
        }
        if measure.finding.comparisons().any(Comparison::is_steady) {
            found.push(Reservation::ScatterNotKnown(id()));
        }
    }
    let fault_shown = measures
        .iter()
        .filter(|measure| measure.required)
        .any(|measure| {
            measure.change == Some(Change::Improved)
                || matches!(measure.outcome_before, Outcome::Fail | Outcome::Undecided)
        });
    if !fault_shown && measures.iter().any(|measure| measure.required) {
        found.push(Reservation::FaultNotShown);
    }
    if conditions.is_empty() {
        found.push(Reservation::NoConditions);
    }
    found.extend(
        conditions
            .iter()
            .filter(|condition| {
                !condition.required
                    && matches!(
                        condition.state,
                        ConditionState::Easier | ConditionState::Unknown
                    )
            })
            .map(|condition| Reservation::OtherCondition(condition.id.clone())),
    );
    found.extend(
        conditions
            .iter()
            .filter(|condition| condition.helped)
            .map(|condition| Reservation::Helped(condition.id.clone())),
    );
    if !is_battery_recorded(job) {
        let timed = job.limits.measures.iter();
        found.extend(
            timed
                .filter(|measure| measure.test == Some(TestKind::CrankingTime))
                .map(|measure| Reservation::BatteryNotRecorded(measure.id.clone())),
        );
    }
    found.extend(
        warm_at(job, &job.baseline)
            .map(|condition| Reservation::BaselineNotCold(condition.id.clone())),
    );
    found.extend(
        warm_at(job, &job.retest)
            .filter(|condition| !condition.required)
            .map(|condition| Reservation::RetestNotCold(condition.id.clone())),
    );
    if is_short_soak(job) {
        found.push(Reservation::ShortSoak);
    }
    found.extend(overdue(job));
    found.extend(job.instruments.iter().filter_map(|instrument| {
        let day = instrument.calibrated?;
        let early = |run: &Run| run.uses(&instrument.id) && run.started.date_naive() < day;
        (early(&job.baseline) || early(&job.retest))
            .then(|| Reservation::CalibratedLater(instrument.id.clone()))
    }));
    found.extend(meter(job));
    found.extend(
        job.limits
            .measures
            .iter()
            .filter(|measure| !is_read_as_planned(job, measure))
            .map(|measure| Reservation::RepeatsDiffer(measure.id.clone())),
    );
    found
}

/// What the machine's own meter contradicts. It counts no less than the run-in, but for
/// the step in which it is read.
fn meter(job: &Job) -> Option<Reservation> {
    let (before, after) = (job.baseline.meter?, job.retest.meter?);
    let rose = after.si() - before.si();
    if rose < 0.0 {
        return Some(Reservation::MeterBackwards);
    }
    let run_in = job.work.run_in.as_ref()?;
    let told = [run_in.time, run_in.distance]
        .into_iter()
        .flatten()
        .find(|told| told.unit().dimension() == after.unit().dimension())?;
    let step = after.unit().difference_to_si(1.0);
    (rose + step < told.si()).then_some(Reservation::MeterBehindRunIn)
}

/// Whether both runs have as many readings of `measure` as were planned.
fn is_read_as_planned(job: &Job, measure: &Measure) -> bool {
    let Some(planned) = measure.repeats else {
        return true;
    };
    let as_planned = |run: &Run| match run.readings.get(&measure.id).map(|r| &r.observation) {
        Some(Observation::Value(values)) => values.len() == planned,
        Some(Observation::Cylinders(cylinders)) => {
            cylinders.iter().all(|(_, values)| values.len() == planned)
        }
        _ => true,
    };
    as_planned(&job.baseline) && as_planned(&job.retest)
}

/// The instruments that a run used after their calibration was due.
fn overdue(job: &Job) -> Vec<Reservation> {
    job.instruments
        .iter()
        .filter_map(|instrument| {
            let due = instrument.due?;
            let late = |run: &Run| run.uses(&instrument.id) && run.started.date_naive() > due;
            (late(&job.baseline) || late(&job.retest)).then(|| Reservation::Overdue {
                instrument: instrument.id.clone(),
                due,
            })
        })
        .collect()
}
