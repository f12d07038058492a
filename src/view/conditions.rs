//! The conditions of both runs, side by side.

use super::Material;
use super::data::ConditionRow;
use super::figures;
use super::instruments;
use super::measures::required;
use super::words::Words;
use crate::job::{Condition, ConditionKind, ConditionReading, Limits, Run};
use crate::judge::ConditionState;
use crate::quantity::Quantity;

/// Conditions side by side.
pub fn conditions(material: &Material<'_>, words: &Words) -> Vec<ConditionRow> {
    let Material { job, judgement, .. } = material;
    job.plan
        .limits
        .conditions
        .iter()
        .zip(&judgement.conditions)
        .map(|(condition, found)| {
            let (mark, id) = match found.state {
                ConditionState::Matched => ("matched", "condition-matched"),
                ConditionState::Harder => ("harder", "condition-harder"),
                ConditionState::Easier => ("easier", "condition-easier"),
                ConditionState::Unknown => ("unknown", "condition-unknown"),
            };
            let shown = |run: &Run| shown(run, condition, words);
            ConditionRow {
                read_with: instruments::read_with(&found.read_with, words),
                name: named(condition, &job.plan.limits, words),
                required: required(condition.required, words),
                baseline: shown(&job.baseline),
                retest: shown(&job.retest),
                window: window_of(condition, words),
                result: words.say(id),
                mark,
            }
        })
        .collect()
}

/// The name of a condition; of one that bears on some measures only, with theirs.
pub fn named(condition: &Condition, limits: &Limits, words: &Words) -> String {
    let names: Vec<String> = condition
        .concerns
        .iter()
        .filter_map(|id| limits.measure(id))
        .map(|measure| words.say_with("quoted", &[("name", &measure.name)]))
        .collect();
    if names.is_empty() {
        return condition.name.clone();
    }
    let variables = [
        ("name", condition.name.as_str()),
        ("measures", &names.join(", ")),
    ];
    words.say_with("condition-concerns", &variables)
}

/// A condition as a run found it.
pub fn shown(run: &Run, condition: &Condition, words: &Words) -> String {
    match (&condition.kind, run.conditions.get(&condition.id)) {
        (ConditionKind::Value { unit, .. }, Some(ConditionReading::Value { value, .. })) => {
            figures::written_in(*value, unit, words)
        }
        (ConditionKind::Value { .. } | ConditionKind::Text, Some(ConditionReading::Text(text))) => {
            text.clone()
        }
        (ConditionKind::Text, Some(ConditionReading::Value { .. }))
        | (ConditionKind::Value { .. } | ConditionKind::Text, None) => words.say("not-recorded"),
    }
}

/// What makes a condition match.
pub fn window_of(condition: &Condition, words: &Words) -> String {
    match &condition.kind {
        ConditionKind::Value { window: most, .. } => window(*most, words),
        ConditionKind::Text => words.say("window-same"),
    }
}

/// How far a condition may differ and still count as alike: `within 3 K`.
pub fn window(window: Quantity, words: &Words) -> String {
    let window = figures::limit(window, window.unit(), words);
    words.say_with("window", &[("window", &window)])
}
