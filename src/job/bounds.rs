//! What a value has to keep: bounds, a target with its tolerance, and limits that are worked
//! out from other readings of the same run.

use std::sync::Arc;

use super::Formula;
use crate::quantity::Quantity;

/// Acceptance bounds: at least one, and in order. A value exactly at a bound is
/// inside.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bounds {
    min: Option<Quantity>,
    max: Option<Quantity>,
    target: Option<Target>,
}

/// The figure that a maker states with a tolerance: bounds are made of both, and the report
/// shows them as they were stated.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Target {
    /// The figure itself.
    pub centre: Quantity,
    /// How far a value may be from it, to either side.
    pub within: Within,
}

/// A tolerance to either side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Within {
    /// So much: a difference.
    By(Quantity),
    /// Such a share of the target, in percent.
    Percent(Quantity),
}

impl Bounds {
    /// Bounds from at least one end.
    ///
    /// Returns `None` without an end, or when `min` is greater than `max`.
    pub fn new(min: Option<Quantity>, max: Option<Quantity>) -> Option<Self> {
        match (min, max) {
            (None, None) => None,
            (Some(min), Some(max)) if min.si() > max.si() => None,
            _ => Some(Self {
                min,
                max,
                target: None,
            }),
        }
    }

    /// Bounds to either side of a target; none where they are not finite.
    pub fn around(target: Target) -> Option<Self> {
        let Target { centre, .. } = target;
        let end = |away: f64| Quantity::new(centre.written() + away, centre.unit()).ok();
        let half_width = target.half_width();
        Some(Self {
            min: Some(end(-half_width)?),
            max: Some(end(half_width)?),
            target: Some(target),
        })
    }

    /// The lower bound.
    pub fn min(&self) -> Option<Quantity> {
        self.min
    }

    /// The upper bound.
    pub fn max(&self) -> Option<Quantity> {
        self.max
    }

    /// The target that they were made of, if it was one.
    pub fn target(&self) -> Option<Target> {
        self.target
    }
}

impl Target {
    /// How far a value may be from it, in its unit.
    pub fn half_width(&self) -> f64 {
        match self.within {
            Within::By(amount) => amount.written(),
            Within::Percent(percent) => self.centre.written().abs() * percent.written() / 100.0,
        }
    }
}

/// The limits of one position, where they are not those of all.
#[derive(Debug, Clone, Default)]
pub struct OwnLimits {
    /// What it must keep.
    pub bounds: Option<Bounds>,
    /// The formulas that they were worked out by in a run, where they were.
    pub by: Option<Arc<LimitBy>>,
    /// What it should keep besides.
    pub should: Option<Bounds>,
    /// The limit as the manual prints it.
    pub as_printed: Option<String>,
    /// The limits of what was in service, which hold for the baseline in place of these.
    pub before: Option<Arc<OwnLimits>>,
}

/// Bounds that are worked out from other readings of the same run.
#[derive(Debug, Clone)]
pub struct LimitBy {
    /// The lower bound.
    pub min: Option<Formula>,
    /// The upper bound.
    pub max: Option<Formula>,
}

impl LimitBy {
    /// Both ends, each with the key that states it.
    pub fn each(&self) -> impl Iterator<Item = (&'static str, &Formula)> {
        let both = [("min_by", &self.min), ("max_by", &self.max)];
        both.into_iter()
            .filter_map(|(key, formula)| Some((key, formula.as_ref()?)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Unit;

    fn quantity(value: f64, unit: &str) -> Quantity {
        Quantity::new(value, Unit::named(unit).unwrap()).unwrap()
    }

    /// 120 within 12, or within 10 %: 108 to 132. Of a negative target the share is of its
    /// size. A difference in kelvins is one in degrees Celsius.
    #[test]
    fn bounds_lie_to_either_side_of_a_target() {
        let of = |centre, within| {
            let bounds = Bounds::around(Target { centre, within }).unwrap();
            [bounds.min(), bounds.max()].map(|end| end.unwrap().written())
        };
        let percent = Within::Percent(quantity(10.0, "%"));
        assert_eq!(of(quantity(120.0, "V"), percent), [108.0, 132.0]);
        assert_eq!(of(quantity(-120.0, "V"), percent), [-132.0, -108.0]);
        let by = Within::By(quantity(12.0, "V"));
        assert_eq!(of(quantity(120.0, "V"), by), [108.0, 132.0]);
        let kelvins = Within::By(quantity(2.0, "K"));
        assert_eq!(of(quantity(80.0, "°C"), kelvins), [78.0, 82.0]);
    }
}
