//! Baseline against retest: the change, its uncertainty, and what it means.

use super::student::COVERAGE;
use super::uncertainty::{combine, difference, expanded};
use super::zone::{Outcome, Standing, at_limit, outcome, standing};
use crate::job::{Better, DecisionRule, Improvement, Scale};
use crate::quantity::{Component, Estimate, noise_of};

/// What a change amounts to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Change {
    /// It got better by more than the uncertainty of the change.
    Improved,
    /// The change is within its uncertainty, or for neither better nor worse.
    NoDetectable,
    /// It got worse by more than the uncertainty of the change.
    Worsened,
}

/// One value before and after.
#[derive(Debug, Clone)]
pub struct Comparison {
    /// The reading before the work.
    pub baseline: Estimate,
    /// The reading after it.
    pub retest: Estimate,
    /// Retest minus baseline: negative where the figure fell.
    pub difference: Estimate,
    /// The difference as a fraction of the baseline; none where a percentage
    /// would mean nothing.
    pub relative: Option<Estimate>,
    /// What the change amounts to; none where no direction is better.
    pub change: Option<Change>,
    /// Where the baseline stands at the limit.
    pub before: Option<Standing>,
    /// Where the retest stands at the limit.
    pub after: Option<Standing>,
    /// How the change stands at the improvement that is required.
    pub gain: Option<Gain>,
}

/// A change held against the improvement that is required.
#[derive(Debug, Clone)]
pub struct Gain {
    /// The change for the better: positive is better; a difference in SI units,
    /// or a fraction of the baseline. None where there is no such fraction.
    pub achieved: Option<Estimate>,
    /// Where it stands.
    pub standing: Option<Standing>,
}

impl Comparison {
    /// What the rule makes of the retest at its limit and of the gain, the worse
    /// of the two.
    pub fn outcome(&self, rule: DecisionRule) -> Outcome {
        at_limit(self.after, rule).max(self.outcome_of_gain(rule))
    }

    /// What the rule makes of the required improvement. A change that cannot be
    /// told from none never meets it.
    fn outcome_of_gain(&self, rule: DecisionRule) -> Outcome {
        let Some(gain) = &self.gain else {
            return Outcome::NotJudged;
        };
        let judged = gain
            .standing
            .map_or(Outcome::Undecided, |s| outcome(s.zone, rule));
        match self.change {
            Some(Change::Improved) => judged,
            Some(Change::Worsened) => Outcome::Fail,
            _ => judged.max(Outcome::Undecided),
        }
    }
}

/// Compares two readings on one scale.
pub fn compare(
    baseline: Estimate,
    retest: Estimate,
    scale: &Scale,
    rule: DecisionRule,
) -> Comparison {
    let difference = difference(&baseline, &retest);
    let relative = relative(&baseline, &retest, scale);
    let (min, max) = match scale.bounds {
        Some(bounds) => (bounds.min().map(|q| q.si()), bounds.max().map(|q| q.si())),
        None => (None, None),
    };
    let place = |estimate: &Estimate| scale.bounds.map(|_| standing(estimate, min, max, rule));
    let gain = scale.improvement.map(|required| {
        let toward = if scale.better == Some(Better::Lower) {
            -1.0
        } else {
            1.0
        };
        let (achieved, least) = match required {
            Improvement::By(by) => (Some(scaled(&difference, toward)), by),
            Improvement::Share(share) => (
                relative.as_ref().map(|relative| scaled(relative, toward)),
                share,
            ),
        };
        Gain {
            standing: achieved
                .as_ref()
                .map(|achieved| standing(achieved, Some(least), None, rule)),
            achieved,
        }
    });
    Comparison {
        change: change(&baseline, &retest, &difference, scale, COVERAGE),
        before: place(&baseline),
        after: place(&retest),
        baseline,
        retest,
        difference,
        relative,
        gain,
    }
}

impl Comparison {
    /// What the change amounts to at another level of confidence, for a claim
    /// about several comparisons at once.
    pub fn change_at(&self, coverage: f64, scale: &Scale) -> Option<Change> {
        change(
            &self.baseline,
            &self.retest,
            &self.difference,
            scale,
            coverage,
        )
    }
}

/// retest/baseline − 1, by the law of propagation (JCGM 100:2008, 5.1.2):
/// ∂/∂retest = 1/baseline, ∂/∂baseline = −retest/baseline².
///
/// None on a scale without a true zero, where the signs differ, or where the
/// baseline cannot be told from zero.
fn relative(baseline: &Estimate, retest: &Estimate, scale: &Scale) -> Option<Estimate> {
    let (b, a) = (baseline.value, retest.value);
    let meaningful =
        scale.unit.has_true_zero() && b != 0.0 && a * b >= 0.0 && b.abs() > baseline.expanded;
    if !meaningful {
        return None;
    }
    let weighted = |estimate: &Estimate, weight: f64| -> Vec<Component> {
        let times = |c: &Component| Component {
            u: c.u * weight.abs(),
            ..*c
        };
        let weighted = estimate.components.iter().map(times);
        weighted.filter(|component| component.u > 0.0).collect()
    };
    let mut components = weighted(retest, 1.0 / b);
    components.extend(weighted(baseline, a / (b * b)));
    // The change counts against the size of the baseline, whatever its sign.
    Some(Estimate {
        noise: noise_of(1.0 + (a / b).abs()),
        ..combine((a - b) / b.abs(), components)
    })
}

fn scaled(estimate: &Estimate, sign: f64) -> Estimate {
    Estimate {
        value: sign * estimate.value,
        ..estimate.clone()
    }
}

fn change(
    baseline: &Estimate,
    retest: &Estimate,
    difference: &Estimate,
    scale: &Scale,
    coverage: f64,
) -> Option<Change> {
    let better = match scale.better? {
        Better::Lower => -difference.value,
        Better::Higher => difference.value,
        // Nearer to the band is better; inside it, no place is better than another.
        Better::Inside => outside(baseline.value, scale) - outside(retest.value, scale),
    };
    let uncertainty = expanded(&difference.components, coverage);
    let limit = uncertainty + difference.noise;
    Some(if better > limit {
        Change::Improved
    } else if -better > limit {
        Change::Worsened
    } else {
        Change::NoDetectable
    })
}

/// How far `value` lies outside the bounds; 0 inside.
fn outside(value: f64, scale: &Scale) -> f64 {
    let bounds = scale.bounds;
    let below = bounds
        .and_then(|b| b.min())
        .map_or(0.0, |min| min.si() - value);
    let above = bounds
        .and_then(|b| b.max())
        .map_or(0.0, |max| value - max.si());
    below.max(above).max(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::Bounds;
    use crate::quantity::{Quantity, Source, Unit};

    fn reading(value: f64, u: f64) -> Estimate {
        combine(
            value,
            vec![Component {
                source: Source::Stated,
                u,
                dof: f64::INFINITY,
            }],
        )
    }

    fn scale(better: Better, min: Option<f64>, max: Option<f64>) -> Scale {
        let unit = Unit::named("s").unwrap();
        let q = |v: f64| Quantity::new(v, unit).unwrap();
        Scale {
            unit,
            better: Some(better),
            bounds: Bounds::new(min.map(q), max.map(q)),
            improvement: None,
        }
    }

    /// By hand: 4.8 → 1.6, u = 0.10 each. Difference −3.2 with u = √2 × 0.10 =
    /// 0.141 421; relative −2/3 with u = √((0.1/4.8)² + (1.6 × 0.1/4.8²)²) =
    /// 0.021 960 3 (computed with Python).
    #[test]
    fn difference_and_relative_change_by_hand() {
        let found = compare(
            reading(4.8, 0.1),
            reading(1.6, 0.1),
            &scale(Better::Lower, None, Some(5.0)),
            DecisionRule::FourZone,
        );
        assert!((found.difference.value + 3.2).abs() < 1e-12);
        assert!((found.difference.u - 0.141_421_356).abs() < 1e-9);
        let relative = found.relative.unwrap();
        assert!((relative.value + 0.666_666_667).abs() < 1e-9);
        assert!((relative.u - 0.021_960_3).abs() < 1e-7);
        assert_eq!(found.change, Some(Change::Improved));
    }

    /// U of the difference is 1.96 × 0.141 421 = 0.277: 0.27 is no change, 0.28 is.
    #[test]
    fn a_change_within_its_uncertainty_is_no_change() {
        let lower = scale(Better::Lower, None, None);
        let change = |after| {
            let (b, a) = (reading(4.8, 0.1), reading(after, 0.1));
            compare(b, a, &lower, DecisionRule::FourZone).change
        };
        assert_eq!(change(4.8 - 0.27), Some(Change::NoDetectable));
        assert_eq!(change(4.8 - 0.28), Some(Change::Improved));
        assert_eq!(change(4.8 + 0.28), Some(Change::Worsened));
    }

    /// 10 → 8.9 with U = 2.8 of the change: "better by 1" looks met, but nothing has
    /// been seen to change.
    #[test]
    fn an_improvement_that_cannot_be_seen_is_not_met() {
        let mut lower = scale(Better::Lower, None, None);
        lower.improvement = Some(Improvement::By(1.0));
        let outcome = |after| {
            let found = compare(
                reading(10.0, 1.0),
                reading(after, 1.0),
                &lower,
                DecisionRule::FourZone,
            );
            found.outcome(DecisionRule::FourZone)
        };
        assert_eq!(outcome(8.9), Outcome::Undecided);
        assert_eq!(outcome(6.0), Outcome::Pass);
        assert_eq!(outcome(14.0), Outcome::Fail);
    }

    /// 53.54 → 53.45 is better by 0.09 exactly, though not in binary; 660 → 640.2 is
    /// 3 % exactly.
    #[test]
    fn an_improvement_that_is_exactly_met_is_met() {
        let judged = |improvement, before, after| {
            let mut lower = scale(Better::Lower, None, None);
            lower.improvement = Some(improvement);
            let rule = DecisionRule::Simple;
            compare(reading(before, 1e-3), reading(after, 1e-3), &lower, rule).outcome(rule)
        };
        assert_eq!(judged(Improvement::By(0.09), 53.54, 53.45), Outcome::Pass);
        assert_eq!(
            judged(Improvement::Share(0.03), 660.0, 640.2),
            Outcome::Pass
        );
        assert_eq!(judged(Improvement::By(0.09), 53.54, 53.451), Outcome::Fail);
    }

    #[test]
    fn between_bounds_only_the_way_outside_counts() {
        let inside = scale(Better::Inside, Some(3.8), Some(4.5));
        let change = |before, after| {
            let (b, a) = (reading(before, 0.01), reading(after, 0.01));
            compare(b, a, &inside, DecisionRule::FourZone).change
        };
        assert_eq!(change(3.9, 4.4), Some(Change::NoDetectable));
        assert_eq!(change(3.0, 4.0), Some(Change::Improved));
        assert_eq!(change(5.0, 4.0), Some(Change::Improved));
        assert_eq!(change(4.0, 5.0), Some(Change::Worsened));
    }

    #[test]
    fn no_percentage_where_it_means_nothing() {
        let lower = scale(Better::Lower, None, None);
        let relative = |b, a| {
            compare(
                reading(b, 0.1),
                reading(a, 0.1),
                &lower,
                DecisionRule::FourZone,
            )
            .relative
        };
        assert!(relative(0.0, 1.0).is_none());
        assert!(
            relative(0.1, 1.0).is_none(),
            "the baseline cannot be told from zero"
        );
        assert!(relative(-4.0, 2.0).is_none());
        assert!((relative(-4.0, -1.0).unwrap().value - 0.75).abs() < 1e-12);
    }

    /// A required improvement is a lower limit on the gain: 50 % asked, 66.7 %
    /// ± 4.3 % got.
    #[test]
    fn a_required_improvement_is_judged_like_a_limit() {
        let mut lower = scale(Better::Lower, None, None);
        lower.improvement = Some(Improvement::Share(0.5));
        let found = compare(
            reading(4.8, 0.1),
            reading(1.6, 0.1),
            &lower,
            DecisionRule::FourZone,
        );
        assert_eq!(found.outcome(DecisionRule::FourZone), Outcome::Pass);
        lower.improvement = Some(Improvement::Share(0.65));
        let found = compare(
            reading(4.8, 0.1),
            reading(1.6, 0.1),
            &lower,
            DecisionRule::FourZone,
        );
        assert_eq!(
            found.outcome(DecisionRule::FourZone),
            Outcome::PassWithReservation
        );
    }
}
