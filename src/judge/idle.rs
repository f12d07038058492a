//! Limits and windows so wide that no reading could be outside of them: what is "met" there
//! shows nothing. This is said on the customer's page; no verdict depends on it.

use crate::job::{
    Condition, ConditionKind, ConditionReading, Job, Kind, Measure, Run, Scale, TestKind,
};
use crate::quantity::{Dimension, Quantity};

use super::finding::{AtPosition, MeasureFinding};
use super::measures::MeasureJudgement;

/// A limit is idle where it is this many times what was read in either run, or the same part
/// of it. No fault that anybody would repair makes a reading a hundred times worse and leaves
/// the machine to be tested (own choice).
const TIMES: f64 = 100.0;
/// A window is idle where it is this many times what was read in either run (own choice).
const WINDOW_TIMES: f64 = 10.0;
/// The widest window of a temperature, in kelvins: from frost to the heat of summer.
const WIDEST: f64 = 50.0;

/// Whether the limits of `measure` could not have been missed, going by its readings.
pub fn is_idle_limit(measure: &Measure, found: &MeasureJudgement) -> bool {
    if !matches!(measure.kind, Kind::Value(_) | Kind::ValueAt(_)) {
        return false;
    }
    let (scales, read) = figures(&found.finding);
    let largest = read.iter().copied().map(f64::abs).fold(0.0, f64::max);
    let smallest = read.iter().copied().fold(f64::INFINITY, f64::min);
    if largest == 0.0 || scales.is_empty() {
        return false;
    }
    let far = |bound: f64| bound >= TIMES * largest;
    let wide = |max: Quantity| far(max.si());
    let never_negative = measure.test.is_some_and(TestKind::is_never_negative);
    let low = |min: Quantity| match min.si() {
        above if above > 0.0 => TIMES * above <= smallest,
        below => never_negative || far(-below),
    };
    scales.into_iter().all(|scale| {
        // How many times a temperature is another one has no meaning.
        scale.improvement.is_none()
            && scale.unit.has_true_zero()
            && scale
                .bounds
                .is_some_and(|bounds| bounds.max().is_none_or(wide) && bounds.min().is_none_or(low))
    })
}

/// The scales of a measure's figures, and all that was read of it.
fn figures(finding: &MeasureFinding) -> (Vec<&Scale>, Vec<f64>) {
    let compared = finding.comparisons();
    let (mut scales, read): (Vec<&Scale>, Vec<[f64; 2]>) = compared
        .map(|found| (&found.scale, [found.baseline.value, found.retest.value]))
        .unzip();
    let mut read = read.concat();
    if let MeasureFinding::ValueAt(values) = finding {
        for found in &values.each {
            if let AtPosition::AfterOnly { after, .. } = found {
                scales.push(&after.scale);
                read.push(after.found.value);
            }
        }
    }
    (scales, read)
}

/// Whether `condition` counts as alike whatever happens.
pub fn is_idle_window(condition: &Condition, job: &Job) -> bool {
    let ConditionKind::Value { unit, window, .. } = &condition.kind else {
        return false;
    };
    let window = window.difference_si();
    if unit.dimension() == Dimension::Temperature {
        return window >= WIDEST;
    }
    let value = |run: &Run| match run.conditions.get(&condition.id) {
        Some(ConditionReading::Value { value, .. }) => Some(value.si().abs()),
        Some(ConditionReading::Text(_)) | None => None,
    };
    let read = [value(&job.baseline), value(&job.retest)];
    let largest = read.into_iter().flatten().fold(0.0, f64::max);
    unit.has_true_zero() && largest > 0.0 && window >= WINDOW_TIMES * largest
}

#[cfg(test)]
mod tests {
    use super::super::fixtures::{compared, found, planned, scale};
    use super::super::smoke::{LightPath, SmokeComparison, SmokePart};
    use super::super::zone::Outcome;
    use super::*;
    use crate::job::SmokeLimits;

    /// A limit of 500 where 2 and 1 were read: nothing of a value could have missed it. Smoke
    /// may well be some hundred times as dense in a fault (`samples/JUDGING.md`).
    #[test]
    fn only_limits_of_values_are_idle() {
        let limits = scale(None, None, Some(500.0));
        let comparison = compared(2.0, 1.0, 0.1, &limits);
        let is_idle = |kind: Kind, finding: MeasureFinding| {
            let measure = Measure {
                kind,
                ..planned(false)
            };
            let found = MeasureJudgement {
                finding,
                ..found(true, Outcome::Pass)
            };
            is_idle_limit(&measure, &found)
        };
        let value = MeasureFinding::Value(Box::new(comparison.clone()));
        assert!(is_idle(Kind::Value(limits), value));
        let smoke = MeasureFinding::Smoke {
            parts: vec![SmokeComparison {
                part: SmokePart::Opacity,
                path: None,
                comparison,
                measured: None,
            }],
            light_path: LightPath::AsRead,
        };
        assert!(!is_idle(Kind::Smoke(SmokeLimits::default()), smoke));
    }
}
