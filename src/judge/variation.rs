//! What the machine's own variation from run to run does to a comparison: what is stated of
//! it against what the repeats show, and, where nothing is known, how large it would have
//! to be for each conclusion to fall. Nothing is made up for it.

use super::change::Change;
use super::ends::{Ends, together};
use super::gain::Gain;
use super::scatter::{APART, Pool, Scatter, exceeds};
use super::zone::{Standing, Zone};
use crate::job::{DecisionRule, Improvement, RunToRun, Scale, Spread};
use crate::quantity::Estimate;

/// How much one run would have to differ from the next, by itself and under like
/// conditions, for a conclusion to fall; in SI units, the ± that holds 95 % of such
/// differences (the repeatability limit of ISO 5725-6, from memory: z·√2 times a standard
/// deviation). None where there is no such conclusion.
///
/// How large an unknown must be before the conclusion falls is the question of a tipping
/// point analysis (ICH E9(R1), A.5.2).
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct HoldsUnless {
    /// For the change to be no longer shown.
    pub change: Option<f64>,
    /// For the retest to be no longer clearly inside or outside its limit.
    pub limit: Option<f64>,
    /// For the required improvement to be no longer clearly reached or missed.
    pub improvement: Option<f64>,
}

/// What was concluded of one value before and after.
pub struct Concluded<'a> {
    pub scale: &'a Scale,
    /// The limits of the retest.
    pub ends: &'a Ends,
    pub baseline: &'a Estimate,
    pub retest: &'a Estimate,
    pub change: Option<Change>,
    /// How much better the retest is; none where no direction is better.
    pub better_by: Option<&'a Estimate>,
    /// The place of the retest at its limit.
    pub after: Option<Standing>,
    pub gain: Option<&'a Gain>,
}

impl HoldsUnless {
    /// Up to what each conclusion holds.
    pub(super) fn of(found: &Concluded<'_>, rule: DecisionRule) -> Self {
        Self {
            change: of_change(found),
            limit: of_limit(found, rule),
            improvement: of_improvement(found, rule),
        }
    }

    /// How large a variation would undo an improvement; none where there is no improvement.
    pub(super) fn undoes(&self, change: Option<Change>) -> Option<f64> {
        match change? {
            // No figure is left where the change is as large as its uncertainty, but for
            // rounding.
            Change::Improved => Some(self.change.unwrap_or(0.0)),
            Change::NoDetectable | Change::Worsened => None,
        }
    }

    /// Whether a variation no larger than the instrument's own uncertainty, that of the
    /// gain, would undo the improvement. A machine varies by more than its instruments err,
    /// so that is not shown.
    pub(super) fn is_undone(&self, change: Option<Change>, better_by: &Estimate) -> bool {
        self.undoes(change)
            .is_some_and(|needed| needed < better_by.expanded)
    }
}

/// What is left of `distance` when `guard` has taken its part of it; both are half-widths
/// for 95 %, and add up in quadrature.
fn left(distance: f64, guard: f64) -> Option<f64> {
    let square = (distance - guard) * (distance + guard);
    (square > 0.0).then(|| square.sqrt())
}

fn of_change(found: &Concluded<'_>) -> Option<f64> {
    let claimed = match found.change? {
        Change::Improved | Change::Worsened => true,
        Change::NoDetectable => false,
    };
    let gain = found.better_by?;
    claimed.then(|| left(gain.value, gain.expanded)).flatten()
}

fn guard(estimate: &Estimate, rule: DecisionRule) -> f64 {
    match rule {
        DecisionRule::Simple => 0.0,
        DecisionRule::Guarded | DecisionRule::FourZone => estimate.expanded,
    }
}

/// Of a reading inside its limits the end that falls first counts; of one outside, the end that
/// it lies beyond.
fn of_limit(found: &Concluded<'_>, rule: DecisionRule) -> Option<f64> {
    let passes = match found.after?.zone {
        Zone::Pass => true,
        Zone::Fail => false,
        Zone::ConditionalPass | Zone::ConditionalFail => return None,
    };
    let value = found.retest.value;
    let inside = [
        found.ends.min.as_ref().map(|end| (value - end.value, end)),
        found.ends.max.as_ref().map(|end| (end.value - value, end)),
    ];
    let each = inside.into_iter().flatten();
    let counted = each.filter(|(distance, _)| passes || *distance < 0.0);
    let left = counted.map(|(distance, end)| {
        let guard = match rule {
            DecisionRule::Simple => 0.0,
            DecisionRule::Guarded | DecisionRule::FourZone => together(found.retest, end).0,
        };
        left(distance.abs(), guard)
    });
    // One reading varies by a √2-th of what two of them differ by.
    let left: Option<Vec<f64>> = left.collect();
    let first = left?.into_iter().min_by(f64::total_cmp)?;
    Some(std::f64::consts::SQRT_2 * first)
}

fn of_improvement(found: &Concluded<'_>, rule: DecisionRule) -> Option<f64> {
    let gain = found.gain?;
    let achieved = gain.achieved.as_ref()?;
    match gain.standing?.zone {
        Zone::Pass | Zone::Fail => {}
        Zone::ConditionalPass | Zone::ConditionalFail => return None,
    }
    let improvement = found.scale.improvement?;
    let left = left(achieved.value - improvement.least(), guard(achieved, rule))?;
    Some(match improvement {
        Improvement::By(_) => left,
        // A share a/b varies by r/b·√(1 + (a/b)²), where each reading varies by r.
        Improvement::Share(_) => {
            let (before, after) = (found.baseline.value, found.retest.value);
            std::f64::consts::SQRT_2 * before.abs() * left / libm::hypot(after / before, 1.0)
        }
    })
}

/// The normal quantile of 95 %, two-sided.
const Z: f64 = 1.959_963_984_540_054;

/// What is `stated` of how the machine varies, as the standard deviation of a reading of
/// `mean`, in SI units.
///
/// A share p is of what the machine truly does, which may be more than was read: as much
/// more as a reading that is low by z standard deviations, mean/(1 − z·p). Without that,
/// a run that happens to be short makes the machine look steadier than it is.
pub fn deviation_at(stated: &RunToRun, mean: f64) -> f64 {
    match stated.spread {
        Spread::Deviation(deviation) => deviation.difference_si(),
        Spread::Percent(percent) => {
            let share = percent.written() / 100.0;
            share * mean.abs() / (1.0 - Z * share)
        }
    }
}

/// The scatter of each run beside what is `stated`: none, because the repeats are part of
/// what is stated, unless they scatter by more than it by more than chance.
pub fn beside_stated(pool: Pool, stated: &RunToRun, means: &[f64]) -> [Option<Scatter>; 2] {
    let deviations = means.iter().map(|mean| deviation_at(stated, *mean));
    let squares: f64 = deviations.map(|one| one * one).sum();
    let variance = squares / means.len().max(1) as f64;
    let contradicts = |scatter: Scatter| {
        let ratio = scatter.s * scatter.s / variance;
        !ratio.is_nan() && exceeds(ratio, scatter.dof, stated.dof()) < APART
    };
    pool.runs
        .map(|scatter| scatter.filter(|it| contradicts(*it)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{Quantity, Unit};

    fn quantity(value: f64, unit: &str) -> Quantity {
        Quantity::new(value, Unit::named(unit).unwrap()).unwrap()
    }

    fn stated(spread: Spread, runs: Option<u32>) -> RunToRun {
        RunToRun {
            spread,
            runs,
            source: "Log".into(),
        }
    }

    /// From s²/r² = 4.605 170 on of two degrees of freedom; of five runs F(2, 4; 0.99) = 18.0.
    #[test]
    fn repeats_that_scatter_by_more_than_is_stated() {
        let pool = |s: f64| Pool {
            runs: [Some(Scatter { s, dof: 2.0 }), None],
            kept_apart: false,
        };
        let counts = |s: f64, stated: &RunToRun| {
            let found = beside_stated(pool(s), stated, &[20.0, 10.0]);
            assert_eq!(found[1], None);
            assert!(found[0].is_none_or(|scatter| scatter.s == s));
            found[0].is_some()
        };
        let half = Spread::Deviation(quantity(0.5, "s"));
        let known = stated(half, None);
        assert!(!counts(1.072, &known) && counts(1.074, &known));
        let five = stated(half, Some(5));
        assert!(!counts(2.121, &five) && counts(2.122, &five));
        // Of 5 % the mean of both squares counts: 0.05/(1 − 0.098) · √(20² + 10²)/√2.
        let share = stated(Spread::Percent(quantity(5.0, "%")), None);
        let r = 0.05 / (1.0 - 0.05 * 1.959_963_984_54) * 250f64.sqrt();
        let bound = (4.605_170_186f64).sqrt() * r;
        assert!(!counts(0.999 * bound, &share) && counts(1.001 * bound, &share));
    }
}
