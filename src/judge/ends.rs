//! The limits as they hold in one run: fixed ones, and those that are worked out from its own
//! readings.

use super::uncertainty::combine;
use super::zone::{Outcome, Standing, at_limit, standing_at};
use crate::job::{Bounds, DecisionRule, Scale};
use crate::quantity::Estimate;

/// The ends of what is acceptable in one run, as far as there are any.
#[derive(Debug, Clone, Default)]
pub struct Ends {
    /// The least acceptable value.
    pub min: Option<Estimate>,
    /// The greatest.
    pub max: Option<Estimate>,
}

impl Ends {
    /// Ends that are fixed, and so are exact.
    pub(super) fn fixed(bounds: Option<Bounds>) -> Self {
        let [min, max] = [Bounds::min, Bounds::max].map(|end| {
            let end = bounds.as_ref().and_then(end);
            end.map(|end| Estimate::exact(end.si()))
        });
        Self { min, max }
    }

    /// Ends of these values, which are exact.
    pub(super) fn exact(min: Option<f64>, max: Option<f64>) -> Self {
        let [min, max] = [min, max].map(|end| end.map(Estimate::exact));
        Self { min, max }
    }

    /// Whether there is none.
    pub(super) fn is_none(&self) -> bool {
        self.min.is_none() && self.max.is_none()
    }
}

/// How well the distance from a reading to an end is known: U and the spread of both
/// together. What is not known of an end is independent of what is not known of the reading
/// (JCGM 106), so its components come to those of the reading as they are.
pub fn together(reading: &Estimate, end: &Estimate) -> (f64, f64) {
    if end.components.is_empty() {
        return (reading.expanded, reading.spread);
    }
    let all = reading.components.iter().chain(&end.components);
    let both = combine(reading.value, all.copied().collect());
    (both.expanded, both.spread)
}

/// A scale as it holds in one run: its bounds are those of that run.
#[derive(Debug, Clone)]
pub struct InRun {
    /// The scale.
    pub scale: Scale,
    /// Its ends, with their uncertainty.
    pub ends: Ends,
    /// The ends from which a change is measured: of the baseline, where what was in service has
    /// limits of its own, still those of the measure.
    pub toward: Ends,
}

impl InRun {
    /// Of limits that are fixed.
    pub fn fixed(scale: &Scale) -> Self {
        Self {
            ends: Ends::fixed(scale.bounds),
            toward: Ends::fixed(scale.bounds),
            scale: scale.clone(),
        }
    }

    /// Of limits that are fixed, in the run `run` (0 is the baseline).
    pub fn fixed_in(scale: &Scale, run: usize) -> Self {
        let Some(before) = scale.before.as_ref().filter(|_| run == 0) else {
            return Self::fixed(scale);
        };
        Self {
            ends: Ends::fixed(before.bounds),
            toward: Ends::fixed(scale.bounds),
            scale: Scale {
                bounds: before.bounds,
                should: before.should,
                as_printed: before.as_printed.clone(),
                before: None,
                ..scale.clone()
            },
        }
    }

    /// The zone of `estimate` at these limits, where there are any.
    pub fn standing(&self, estimate: &Estimate, rule: DecisionRule) -> Option<Standing> {
        (!self.ends.is_none()).then(|| standing_at(estimate, &self.ends, rule))
    }

    /// What the rule makes of `estimate` at these limits.
    pub fn outcome(&self, estimate: &Estimate, rule: DecisionRule) -> Outcome {
        at_limit(self.standing(estimate, rule), rule)
    }
}

/// A reading at what should be besides what must be.
#[derive(Debug, Clone, Copy)]
pub struct Should {
    /// Its zone there.
    pub standing: Standing,
    /// What the rule makes of it.
    pub outcome: Outcome,
}

/// `estimate` at what it should be by `scale`, where that says so.
pub fn should(estimate: &Estimate, scale: &Scale, rule: DecisionRule) -> Option<Should> {
    let ends = Ends::fixed(Some(scale.should?));
    let standing = standing_at(estimate, &ends, rule);
    Some(Should {
        standing,
        outcome: at_limit(Some(standing), rule),
    })
}
