//! What a reader should keep in mind beside the verdict, as data.

use chrono::NaiveDate;

use super::change::Change;
use super::comparison::Comparison;
use super::conditions::{ConditionJudgement, is_battery_recorded, is_short_soak, warm_at};
use super::doubts::{Doubt, doubts};
use super::finding::{AtPosition, MeasureFinding};
use super::holds::is_near;
use super::instruments::InstrumentUse;
use super::left_out::LeftOut;
use super::measures::MeasureJudgement;
use super::zone::Outcome;
use crate::job::{DecisionRule, ExactScale, Job, Measure, Observation, Run, TestKind};

/// What a reader should keep in mind beside the verdict.
#[derive(Debug, Clone)]
#[cfg_attr(test, derive(PartialEq, Eq))]
pub enum Reservation {
    /// This measure passes, but by less than its uncertainty.
    ConditionalPass(String),
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
    CalibrationOverdue {
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
    ConditionHelped(String),
    /// The machine's meter shows less in the retest than in the baseline.
    MeterBackwards,
    /// The machine's meter rose by less than the run-in that was recorded.
    MeterBehindRunIn,
    /// This measure was not read in each run as often as was planned.
    RepeatsDiffer(String),
    /// The two runs made different numbers of attempts of this measure.
    AttemptsDiffer(String),
    /// This required measure, or a part of it, was not read before the work, so that only
    /// its limit could be judged.
    NotTakenBefore(String),
    /// This measure meets the limit that it must, and not what it should besides.
    NotAsItShould(String),
    /// Positions that were not read are left out of this figure, in the runs named.
    LeftOut {
        /// The measure.
        measure: String,
        /// What, in each run.
        runs: [Vec<LeftOut>; 2],
    },
    /// This required measure got worse, and is still clearly within its limit.
    WorseWithinLimit(String),
    /// At these positions this measure, which was read exactly, is worse than before, though
    /// all together show no change for the worse.
    WorseAt {
        /// The measure.
        measure: String,
        /// The names of the positions.
        positions: Vec<String>,
    },
    /// What is graded was graded by one person before the work and by another after it.
    GradedByOthers,
    /// This required measure improved by so little that a small variation of the machine,
    /// which is not known, would undo it.
    VariationNotKnown(String),
    /// The readings of this measure scatter differently in the two runs.
    ScattersDiffer(String),
    /// The readings of this measure scatter by more than the machine is stated to vary by.
    ScatterExceedsStated(String),
    /// Something in a run looks wrong.
    LookAgain(Doubt),
}

/// What a reader should keep in mind, whatever the verdict.
pub fn reservations(
    job: &Job,
    measures: &[MeasureJudgement],
    conditions: &[ConditionJudgement],
    instruments: &[InstrumentUse],
) -> Vec<Reservation> {
    let mut found = Vec::new();
    if matches!(job.plan.limits.rule, DecisionRule::Simple) {
        found.push(Reservation::UncertaintyNotCounted);
    }
    for measure in measures {
        let id = || measure.id.clone();
        match (measure.required, measure.outcome) {
            (true, Outcome::ConditionalPass) => found.push(Reservation::ConditionalPass(id())),
            (false, Outcome::Fail) => found.push(Reservation::OtherOutside(id())),
            (
                true | false,
                Outcome::NoLimit
                | Outcome::Pass
                | Outcome::ConditionalPass
                | Outcome::Inconclusive
                | Outcome::Fail,
            ) => {}
        }
        let meets = matches!(measure.at_limit, Outcome::Pass | Outcome::ConditionalPass);
        if meets && matches!(measure.finding.should(), Outcome::Fail) {
            found.push(Reservation::NotAsItShould(id()));
        }
        if measure.left_out.iter().any(|run| !run.is_empty()) {
            found.push(Reservation::LeftOut {
                measure: id(),
                runs: measure.left_out.clone(),
            });
        }
        if matches!(measure.change, Some(Change::Worsened)) {
            match (measure.required, measure.at_limit) {
                (false, _) => found.push(Reservation::OtherWorse(id())),
                (true, Outcome::Pass) => found.push(Reservation::WorseWithinLimit(id())),
                (
                    true,
                    Outcome::NoLimit
                    | Outcome::ConditionalPass
                    | Outcome::Inconclusive
                    | Outcome::Fail,
                ) => {}
            }
        }
        let worse = measure.finding.worse_positions();
        if !worse.is_empty() && !matches!(measure.change, Some(Change::Worsened)) {
            found.push(Reservation::WorseAt {
                measure: id(),
                positions: worse.into_iter().map(str::to_owned).collect(),
            });
        }
        if measure.required && measure.finding.lacks_a_baseline() {
            found.push(Reservation::NotTakenBefore(id()));
        }
        if measure.required && is_near(&measure.finding) {
            found.push(Reservation::VariationNotKnown(id()));
        }
        if measure.scatter.kept_apart {
            found.push(Reservation::ScattersDiffer(id()));
        }
        if measure.exceeds_stated {
            found.push(Reservation::ScatterExceedsStated(id()));
        }
        if measure.finding.attempts_differ() {
            found.push(Reservation::AttemptsDiffer(id()));
        }
        if measure.finding.comparisons().any(Comparison::is_steady) {
            found.push(Reservation::ScatterNotKnown(id()));
        }
    }
    if measures.iter().any(is_graded) && is_by_others(job) {
        found.push(Reservation::GradedByOthers);
    }
    let fault_shown = measures
        .iter()
        .filter(|measure| measure.required)
        .any(|measure| {
            matches!(measure.change, Some(Change::Improved))
                || matches!(
                    measure.outcome_before,
                    Outcome::Fail | Outcome::Inconclusive
                )
        });
    if !fault_shown && measures.iter().any(|measure| measure.required) {
        found.push(Reservation::FaultNotShown);
    }
    if conditions.is_empty() {
        found.push(Reservation::NoConditions);
    }
    let required = measures.iter().filter(|measure| measure.required);
    let required: Vec<&str> = required.map(|measure| measure.id.as_str()).collect();
    found.extend(
        conditions
            .iter()
            .filter(|condition| {
                let decides = condition.required && condition.is_about(required.iter().copied());
                !decides && condition.is_unfair()
            })
            .map(|condition| Reservation::OtherCondition(condition.id.clone())),
    );
    found.extend(
        conditions
            .iter()
            .filter(|condition| condition.helped)
            .map(|condition| Reservation::ConditionHelped(condition.id.clone())),
    );
    if !is_battery_recorded(job) {
        let timed = job.plan.limits.measures.iter();
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
            .filter(|condition| {
                let decides = required.iter().any(|id| condition.is_about(id));
                !(condition.required && decides)
            })
            .map(|condition| Reservation::RetestNotCold(condition.id.clone())),
    );
    if is_short_soak(job) {
        found.push(Reservation::ShortSoak);
    }
    found.extend(instruments.iter().filter_map(|used| {
        Some(Reservation::CalibrationOverdue {
            instrument: used.id.clone(),
            due: used.overdue?,
        })
    }));
    let later = instruments.iter().filter(|used| used.calibrated_later);
    found.extend(later.map(|used| Reservation::CalibratedLater(used.id.clone())));
    found.extend(meter(job));
    found.extend(
        job.plan
            .limits
            .measures
            .iter()
            .filter(|measure| !is_read_as_planned(job, measure))
            .map(|measure| Reservation::RepeatsDiffer(measure.id.clone())),
    );
    found.extend(look_again(job));
    found
}

/// Whether this measure was graded in both runs.
fn is_graded(measure: &MeasureJudgement) -> bool {
    match &measure.finding {
        MeasureFinding::Exact(ExactScale::Grades(_), _) => true,
        MeasureFinding::ExactAt(exacts) => {
            let mut compared = exacts.each.iter().filter_map(AtPosition::compared);
            matches!(exacts.scales.common, ExactScale::Grades(_)) && compared.next().is_some()
        }
        MeasureFinding::Exact(ExactScale::Counts(_), _)
        | MeasureFinding::Value(_)
        | MeasureFinding::ValueAt(_)
        | MeasureFinding::Passes(_)
        | MeasureFinding::PassesAt(_)
        | MeasureFinding::Rate(_)
        | MeasureFinding::List(_)
        | MeasureFinding::Smoke { .. }
        | MeasureFinding::Text
        | MeasureFinding::AfterOnly { .. }
        | MeasureFinding::NotTaken { .. } => false,
    }
}

/// Whether two people measured, by names that differ by more than spacing and capitals.
fn is_by_others(job: &Job) -> bool {
    let name = |run: &Run| {
        let words: Vec<&str> = run.by.split_whitespace().collect();
        words.join(" ").to_lowercase()
    };
    name(&job.baseline) != name(&job.retest)
}

/// What looks wrong in either run, once.
fn look_again(job: &Job) -> Vec<Reservation> {
    let plan = &job.plan;
    let of = |run: &Run| doubts(&plan.instruments, &plan.limits, run);
    let mut all = of(&job.baseline);
    for doubt in of(&job.retest) {
        if !all.iter().any(|known| known.is_same(&doubt)) {
            all.push(doubt);
        }
    }
    all.into_iter().map(Reservation::LookAgain).collect()
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
        Some(Observation::ValueAt(values)) => values.taken().all(|read| read.len() == planned),
        Some(
            Observation::Passes(_)
            | Observation::PassesAt(_)
            | Observation::Exact(_)
            | Observation::ExactAt(_)
            | Observation::Rate(_)
            | Observation::List(_)
            | Observation::Smoke(_)
            | Observation::Text(_)
            | Observation::NotTaken(_),
        )
        | None => true,
    };
    as_planned(&job.baseline) && as_planned(&job.retest)
}
