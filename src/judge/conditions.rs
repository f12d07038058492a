//! Were the two runs made under like conditions?

use super::dependence::Dependence;
use super::instruments::{self, Used};
use super::uncertainty::{Errors, estimate, named};
use crate::job::{
    Condition, ConditionKind, ConditionReading, Harder, Job, Observation, Run, TestKind,
};
use crate::quantity::{Dimension, Estimate, Quantity, at_least, at_most, at_most_within};

/// How a condition of the retest compares with that of the baseline.
#[derive(Debug, Clone, Copy)]
#[cfg_attr(test, derive(PartialEq, Eq))]
pub enum ConditionState {
    /// Alike within the window, measured accurately enough to tell.
    Matched,
    /// The retest was more severe: a claim of improvement stands all the more.
    Harder,
    /// The retest was easier to pass, which flatters the result.
    Easier,
    /// Not recorded, not measured accurately enough, or different with an unknown effect.
    Unknown,
}

impl ConditionState {
    /// Whether the retest was more severe.
    pub(super) fn is_harder(self) -> bool {
        matches!(self, Self::Harder)
    }

    /// Whether it may have been easier or more severe.
    pub(super) fn is_unknown(self) -> bool {
        matches!(self, Self::Unknown)
    }
}

/// One condition of both runs.
#[derive(Debug, Clone)]
pub struct ConditionJudgement {
    /// The condition's id.
    pub id: String,
    /// Whether the verdict depends on it.
    pub required: bool,
    /// How the runs compare.
    pub state: ConditionState,
    /// Retest minus baseline with its uncertainty, where both are values.
    pub difference: Option<Estimate>,
    /// Whether it changed to the easier side by more than its uncertainty, though
    /// within its window.
    pub helped: bool,
    /// The instruments it was read with.
    pub read_with: Vec<Used>,
    /// The ids of the measures that it bears on; none where it bears on all.
    pub concerns: Vec<String>,
}

impl ConditionJudgement {
    /// Whether it bears on one of `measures`.
    pub(super) fn is_about<'m>(&self, measures: impl IntoIterator<Item = &'m str>) -> bool {
        let mut measures = measures.into_iter();
        measures.any(|id| self.concerns.is_empty() || self.concerns.iter().any(|it| it == id))
    }

    /// Whether the retest may have been easier.
    pub(super) fn is_unfair(&self) -> bool {
        match self.state {
            ConditionState::Matched | ConditionState::Harder => false,
            ConditionState::Easier | ConditionState::Unknown => true,
        }
    }
}

/// A machine counts as cold while coolant and oil are no more than this above the
/// ambient temperature, in kelvins (common practice of workshop manuals; no
/// published standard is claimed).
const COLD_WITHIN: f64 = 7.0;

/// The shortest time of standing that counts as a cold soak, in seconds: 8 hours
/// (common practice of workshop manuals; regulations ask for 12 to 36 hours, 40 CFR
/// 86.1773-99).
const SOAK: f64 = 8.0 * 3600.0;

/// The temperatures of the machine, by the ids to which the format gives a meaning.
const BODY: [&str; 2] = ["coolant", "oil"];

/// Judges one condition.
pub fn judge(job: &Job, condition: &Condition) -> ConditionJudgement {
    let before = job.baseline.conditions.get(&condition.id);
    let after = job.retest.conditions.get(&condition.id);
    use ConditionReading as R;
    let (state, difference, helped) = match (&condition.kind, before, after) {
        (
            ConditionKind::Value { window, harder, .. },
            Some(R::Value { value, instrument }),
            Some(R::Value {
                value: later,
                instrument: with,
            }),
        ) => {
            let before = read(job, value, instrument.as_deref());
            let after = read(job, later, with.as_deref());
            let difference = Dependence::default().difference(&before, &after);
            let state = compare(&difference, window.difference_si(), *harder);
            let helped =
                matches!(state, ConditionState::Matched) && is_helped(&difference, *harder);
            (state, Some(difference), helped)
        }
        (ConditionKind::Text, Some(R::Text(before)), Some(R::Text(after)))
            if same_words(before, after) =>
        {
            (ConditionState::Matched, None, false)
        }
        (
            ConditionKind::Value { .. } | ConditionKind::Text,
            Some(R::Value { .. } | R::Text(_)) | None,
            Some(R::Value { .. } | R::Text(_)) | None,
        ) => (ConditionState::Unknown, None, false),
    };
    ConditionJudgement {
        id: condition.id.clone(),
        required: condition.required,
        state,
        difference,
        helped,
        read_with: instruments::of_condition(job, &condition.id),
        concerns: condition.concerns.clone(),
    }
}

/// The temperatures of the machine that were far above ambient in `run`, where the
/// job asks for a soak, and so for a cold machine.
pub fn warm_at<'a>(job: &'a Job, run: &'a Run) -> impl Iterator<Item = &'a Condition> {
    let is_cold_test = job
        .plan
        .limits
        .conditions
        .iter()
        .any(|condition| condition.id == "soak");
    let ambient = run
        .conditions
        .get("ambient")
        .and_then(|reading| temperature(job, reading));
    job.plan.limits.conditions.iter().filter(move |condition| {
        let (true, true, Some(ambient), Some(reading)) = (
            is_cold_test,
            BODY.contains(&condition.id.as_str()),
            ambient.as_ref(),
            run.conditions.get(&condition.id),
        ) else {
            return false;
        };
        temperature(job, reading).is_some_and(|body| {
            let above = Dependence::default().difference(ambient, &body);
            !at_most_within(above.value, COLD_WITHIN + above.expanded, above.noise)
        })
    })
}

/// Whether the machine stood for less than a cold soak before the retest.
pub fn is_short_soak(job: &Job) -> bool {
    matches!(
        job.retest.conditions.get("soak"),
        Some(ConditionReading::Value { value, .. })
            if value.unit().dimension() == Dimension::Time && !at_least(value.si(), SOAK)
    )
}

/// Whether both runs say how well the battery turned the engine: a condition in volts or
/// in revolutions, or a measure of cranking speed or voltage.
pub fn is_battery_recorded(job: &Job) -> bool {
    let is_value = |run: &Run, id: &str| {
        matches!(run.conditions.get(id), Some(ConditionReading::Value { .. }))
    };
    let in_conditions = job.plan.limits.conditions.iter().any(|condition| {
        let fits = match &condition.kind {
            ConditionKind::Value { unit, .. } => matches!(
                unit.dimension(),
                Dimension::Voltage | Dimension::RotationalSpeed
            ),
            ConditionKind::Text => false,
        };
        fits && is_value(&job.baseline, &condition.id) && is_value(&job.retest, &condition.id)
    });
    let in_measures = job.plan.limits.measures.iter().any(|measure| {
        let after = job.retest.readings.get(&measure.id);
        let taken =
            after.is_some_and(|found| !matches!(found.observation, Observation::NotTaken(_)));
        let fits = matches!(
            measure.test,
            Some(TestKind::CrankingSpeed | TestKind::CrankingVoltage)
        );
        fits && taken
    });
    in_conditions || in_measures
}

/// Whether the required conditions let a claim of improvement stand.
pub fn are_fair<'a>(conditions: impl IntoIterator<Item = &'a ConditionJudgement>) -> bool {
    let mut conditions = conditions.into_iter();
    conditions.all(|condition| !(condition.required && condition.is_unfair()))
}

/// The conditions that bear on one of `measures`.
pub fn about<'a>(
    conditions: &'a [ConditionJudgement],
    measures: &'a [&'a str],
) -> impl Iterator<Item = &'a ConditionJudgement> {
    let each = conditions.iter();
    each.filter(|condition| condition.is_about(measures.iter().copied()))
}

/// Inside the window: matched, unless the uncertainty is larger than the window.
/// Outside: the direction decides. Uncertainty never widens the window, or a worse
/// thermometer would make a warm morning count as alike to a cold one. Where it is so large
/// that the retest may just as well have been easier by more than the window, a retest
/// that looks more severe is not known to be.
fn compare(difference: &Estimate, window: f64, harder: Option<Harder>) -> ConditionState {
    if at_most_within(difference.value.abs(), window, difference.noise) {
        return if at_most(difference.expanded, window) {
            ConditionState::Matched
        } else {
            ConditionState::Unknown
        };
    }
    let maybe_easier = !at_most_within(
        difference.expanded,
        difference.value.abs() + window,
        difference.noise,
    );
    match (harder, difference.value < 0.0) {
        (Some(Harder::Lower), true) | (Some(Harder::Higher), false) if maybe_easier => {
            ConditionState::Unknown
        }
        (Some(Harder::Lower), true) | (Some(Harder::Higher), false) => ConditionState::Harder,
        (Some(Harder::Lower), false) | (Some(Harder::Higher), true) => ConditionState::Easier,
        (None, true | false) => ConditionState::Unknown,
    }
}

/// Whether a difference within its window is to the easier side by more than its
/// uncertainty.
fn is_helped(difference: &Estimate, harder: Option<Harder>) -> bool {
    let easier = match harder {
        Some(Harder::Lower) => difference.value,
        Some(Harder::Higher) => -difference.value,
        None => 0.0,
    };
    easier > difference.expanded + difference.noise
}

fn read(job: &Job, value: &Quantity, instrument: Option<&str>) -> Estimate {
    let errors = Errors {
        instrument: named(&job.plan.instruments, instrument),
        ..Errors::default()
    };
    estimate(std::slice::from_ref(value), errors)
}

/// A reading that is a temperature. The ids promise nothing: a condition called `oil` may
/// be a pressure.
fn temperature(job: &Job, reading: &ConditionReading) -> Option<Estimate> {
    match reading {
        ConditionReading::Value { value, instrument }
            if value.unit().dimension() == Dimension::Temperature =>
        {
            Some(read(job, value, instrument.as_deref()))
        }
        ConditionReading::Value { .. } | ConditionReading::Text(_) => None,
    }
}

fn same_words(a: &str, b: &str) -> bool {
    let plain = |text: &str| {
        text.split_whitespace()
            .collect::<Vec<_>>()
            .join(" ")
            .to_lowercase()
    };
    plain(a) == plain(b)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn apart(difference: f64, expanded: f64, harder: Option<Harder>) -> ConditionState {
        let difference = Estimate {
            expanded,
            ..Estimate::exact(difference)
        };
        compare(&difference, 3.0, harder)
    }

    fn estimate_of(value: f64) -> Estimate {
        Estimate::exact(value)
    }

    #[test]
    fn uncertainty_never_widens_the_window() {
        let at = |value, u| apart(value, u, Some(Harder::Lower));
        assert_eq!(at(3.0, 0.0), ConditionState::Matched);
        assert_eq!(at(3.0, 0.6), ConditionState::Matched);
        assert_eq!(at(3.5, 0.0), ConditionState::Easier);
        assert_eq!(at(3.5, 20.0), ConditionState::Easier);
        let exact = estimate_of(12.43).value - estimate_of(12.58).value;
        assert!(exact.abs() > 0.15, "not in binary");
        let difference = Dependence::default().difference(&estimate_of(12.58), &estimate_of(12.43));
        assert_eq!(compare(&difference, 0.15, None), ConditionState::Matched);
        assert_eq!(at(1.0, 3.1), ConditionState::Unknown, "too coarse to tell");
    }

    #[test]
    fn nothing_at_all_helps_nobody() {
        let helped = |value, harder| is_helped(&estimate_of(value), harder);
        assert!(helped(1.0, Some(Harder::Lower)) && helped(-1.0, Some(Harder::Higher)));
        assert!(!helped(-1.0, Some(Harder::Lower)) && !helped(1.0, Some(Harder::Higher)));
        // Both runs read exactly zero.
        for harder in [Some(Harder::Lower), Some(Harder::Higher), None] {
            assert!(!helped(0.0, harder));
        }
    }

    #[test]
    fn outside_the_window_the_direction_decides() {
        assert_eq!(
            apart(-8.0, 0.5, Some(Harder::Lower)),
            ConditionState::Harder
        );
        assert_eq!(apart(8.0, 0.5, Some(Harder::Lower)), ConditionState::Easier);
        assert_eq!(
            apart(8.0, 0.5, Some(Harder::Higher)),
            ConditionState::Harder
        );
        assert_eq!(apart(8.0, 0.5, None), ConditionState::Unknown);
        // −8 K ± 11 K may be +3 K at most, −8 K ± 12 K also +4 K: no cold morning.
        let colder = |u| apart(-8.0, u, Some(Harder::Lower));
        assert_eq!(colder(11.0), ConditionState::Harder);
        assert_eq!(colder(12.0), ConditionState::Unknown);
    }

    #[test]
    fn words_match_whatever_their_case_and_spacing() {
        assert!(same_words("Winter  diesel", "winter diesel"));
        assert!(!same_words("winter diesel", "summer diesel"));
    }
}
