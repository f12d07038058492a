//! Were the two runs made under like conditions?

use super::uncertainty::{Errors, estimate};
use crate::job::{Condition, ConditionKind, ConditionReading, Harder, Job};
use crate::quantity::{Component, Estimate, at_most};

/// How a condition of the retest compares with that of the baseline.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ConditionState {
    /// Alike, within window and uncertainty.
    Matched,
    /// The retest was harder to pass: a claim of improvement stands all the more.
    Harder,
    /// The retest was easier to pass: it flatters.
    Easier,
    /// Not recorded, or different with no telling which way it acts.
    Unknown,
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
}

/// Judges one condition.
pub fn judge(job: &Job, condition: &Condition) -> ConditionJudgement {
    let before = job.baseline.conditions.get(&condition.id);
    let after = job.retest.conditions.get(&condition.id);
    let (state, difference) = match (&condition.kind, before, after) {
        (
            ConditionKind::Value { window, harder, .. },
            Some(before @ ConditionReading::Value { .. }),
            Some(after @ ConditionReading::Value { .. }),
        ) => match (value(job, before), value(job, after)) {
            (Some(before), Some(after)) => {
                let difference = difference(&before, &after);
                (compare(&difference, *window, *harder), Some(difference))
            }
            _ => (ConditionState::Unknown, None),
        },
        (
            ConditionKind::Text,
            Some(ConditionReading::Text(before)),
            Some(ConditionReading::Text(after)),
        ) if same_words(before, after) => (ConditionState::Matched, None),
        _ => (ConditionState::Unknown, None),
    };
    ConditionJudgement {
        id: condition.id.clone(),
        required: condition.required,
        state,
        difference,
    }
}

/// Whether the required conditions let a claim of improvement stand.
pub fn are_fair(conditions: &[ConditionJudgement]) -> bool {
    conditions.iter().all(|condition| {
        !condition.required
            || matches!(
                condition.state,
                ConditionState::Matched | ConditionState::Harder
            )
    })
}

fn compare(difference: &Estimate, window: f64, harder: Option<Harder>) -> ConditionState {
    if at_most(difference.value.abs(), window + difference.expanded) {
        return ConditionState::Matched;
    }
    match (harder, difference.value < 0.0) {
        (Some(Harder::Lower), true) | (Some(Harder::Higher), false) => ConditionState::Harder,
        (Some(_), _) => ConditionState::Easier,
        (None, _) => ConditionState::Unknown,
    }
}

fn value(job: &Job, reading: &ConditionReading) -> Option<Estimate> {
    let ConditionReading::Value { value, instrument } = reading else {
        return None;
    };
    let instrument = instrument.as_deref().and_then(|id| job.instrument(id));
    let errors = Errors {
        instrument,
        ..Errors::default()
    };
    Some(estimate(std::slice::from_ref(value), errors))
}

fn difference(before: &Estimate, after: &Estimate) -> Estimate {
    let components: Vec<Component> = before
        .components
        .iter()
        .chain(&after.components)
        .copied()
        .collect();
    super::uncertainty::combine(after.value - before.value, components)
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

    #[test]
    fn the_window_grows_by_the_uncertainty_of_the_thermometers() {
        assert_eq!(
            apart(3.0, 0.0, Some(Harder::Lower)),
            ConditionState::Matched
        );
        assert_eq!(apart(3.5, 0.0, Some(Harder::Lower)), ConditionState::Easier);
        assert_eq!(
            apart(3.5, 0.6, Some(Harder::Lower)),
            ConditionState::Matched
        );
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
    }

    #[test]
    fn words_match_whatever_their_case_and_spacing() {
        assert!(same_words("Winter  diesel", "winter diesel"));
        assert!(!same_words("winter diesel", "summer diesel"));
    }
}
