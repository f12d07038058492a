//! The position that tells most of a measure that is read at several: where the fault was, or
//! still is. A count of positions alone does not say which of them was cured.

use super::exact::ExactPair;
use super::finding::{AtPosition, ExactsAt, ValuesAt};
use super::zone::Outcome;
use crate::job::Bounds;
use crate::quantity::{Estimate, Quantity};

impl ValuesAt {
    /// The place of the position that is furthest outside its bounds after the work; where
    /// none fails, of that which was furthest outside before it. None where none was outside.
    pub fn telling(&self) -> Option<usize> {
        let failing = self
            .compared()
            .filter_map(|(place, found)| match found.outcome {
                Outcome::Fail => Some((place, outside(&found.retest, found.scale.bounds))),
                Outcome::NoLimit
                | Outcome::Pass
                | Outcome::ConditionalPass
                | Outcome::Inconclusive => None,
            });
        let before = self.compared();
        let before = before
            .map(|(place, found)| (place, outside(&found.baseline, found.bounds_before)))
            .filter(|(_, by)| *by > 0.0);
        furthest(failing).or_else(|| furthest(before))
    }

    fn compared(&self) -> impl Iterator<Item = (usize, &super::comparison::Comparison)> {
        let each = self.each.iter().enumerate();
        each.filter_map(|(place, found)| Some((place, found.compared()?)))
    }
}

impl ExactsAt {
    /// The same for what is read exactly: the first that fails after the work, or else that
    /// which failed before it and has changed most.
    pub fn telling(&self) -> Option<usize> {
        let fails = |outcome: Outcome| matches!(outcome, Outcome::Fail);
        let compared = |wanted: fn(&ExactPair) -> Outcome| {
            let each = self.each.iter().enumerate();
            each.filter_map(move |(place, found)| match found {
                AtPosition::Compared(pair) => fails(wanted(pair))
                    .then(|| (place, f64::from(pair.baseline.abs_diff(pair.retest)))),
                AtPosition::AfterOnly { .. } | AtPosition::NotTaken { .. } => None,
            })
        };
        let failing = compared(|pair| pair.outcome).next().map(|(place, _)| place);
        failing.or_else(|| furthest(compared(|pair| pair.outcome_before)))
    }
}

/// By how much a figure lies outside its bounds; 0 where it does not.
fn outside(figure: &Estimate, bounds: Option<Bounds>) -> f64 {
    let end = |of: fn(&Bounds) -> Option<Quantity>| bounds.as_ref().and_then(of);
    let below = end(Bounds::min).map_or(0.0, |min| min.si() - figure.value);
    let above = end(Bounds::max).map_or(0.0, |max| figure.value - max.si());
    below.max(above).max(0.0)
}

/// The first of those that are furthest out.
fn furthest(places: impl Iterator<Item = (usize, f64)>) -> Option<usize> {
    let best = places.reduce(|best, next| if next.1 > best.1 { next } else { best });
    best.map(|(place, _)| place)
}

#[cfg(test)]
mod tests {
    use super::super::fixtures::{compared, scale};
    use super::super::positions::{exacts_at, values_at};
    use super::*;
    use crate::job::{Better, Entry, PerPosition, Positions, ScaleAt};
    use crate::judge::MeasureFinding;

    /// Balances of a machine's cylinders, to be within 6 of zero.
    fn of(pairs: &[(f64, f64)]) -> Option<usize> {
        let common = scale(Some(Better::Inside), Some(-6.0), Some(6.0));
        let each = pairs
            .iter()
            .map(|(b, a)| AtPosition::Compared(compared(*b, *a, 0.1, &common)));
        let read = |run: fn(&(f64, f64)) -> f64| {
            PerPosition::new(pairs.iter().map(|pair| Entry::Taken(run(pair))).collect())
        };
        let scales = ScaleAt {
            at: Positions::cylinders(pairs.len()),
            common: common.clone(),
            own: Vec::new(),
        };
        match values_at(&scales, each.collect(), [read(|it| it.0), read(|it| it.1)]) {
            MeasureFinding::ValueAt(values) => values.telling(),
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn what_was_furthest_out_tells_most() {
        assert_eq!(of(&[(8.0, 1.0), (-22.0, 1.0), (7.0, 1.0)]), Some(1));
        assert_eq!(of(&[(8.0, 1.0), (-8.0, 1.0)]), Some(0));
        // It was inside all the time.
        assert_eq!(of(&[(1.0, 1.0), (2.0, 1.0)]), None);
    }

    #[test]
    fn what_still_fails_tells_more() {
        assert_eq!(of(&[(-22.0, 1.0), (8.0, 7.0), (8.0, 9.0)]), Some(2));
    }

    #[test]
    fn of_grades_what_changed_most() {
        use crate::job::{ExactScale, ExactScaleAt, Grades};
        let grades = ExactScale::Grades(Grades {
            names: ["none", "faint", "clear"].map(str::to_owned).to_vec(),
            least: Some(2),
        });
        let of = |pairs: &[(u32, u32)]| {
            let at = Positions::cylinders(pairs.len());
            let each = pairs.iter();
            let each = each
                .map(|(b, a)| AtPosition::Compared(super::super::exact::compare(&grades, *b, *a)));
            let scales = ExactScaleAt {
                at,
                common: grades.clone(),
                own: Vec::new(),
            };
            exacts_at(&scales, each.collect(), true).telling()
        };
        assert_eq!(of(&[(2, 2), (1, 2), (0, 2)]), Some(2));
        assert_eq!(of(&[(0, 2), (1, 1)]), Some(1));
        assert_eq!(of(&[(2, 2)]), None);
    }
}
