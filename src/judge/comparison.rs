//! Baseline against retest: the change, its uncertainty, and what it means.

use super::bands::{self, InBands};
use super::change::{Change, Claim, Moved};
use super::dependence::{Dependence, expanded_change, half_a_step};
use super::ends::{Ends, InRun, Should, should};
use super::gain::Gain;
use super::pairs::{Pairs, SignedRank};
use super::t_distribution::COVERAGE;
use super::uncertainty::combine;
use super::variation::{Concluded, HoldsUnless};
use super::zone::{Outcome, Standing, Zone, at_limit};
use crate::job::{Better, Bounds, DecisionRule, Improvement, Scale};
use crate::quantity::{Component, Estimate, Source, Written, at_most, noise_of};

/// What every comparison of a job is judged by.
#[derive(Debug, Clone, Copy)]
pub struct Terms {
    /// How uncertainty counts at a limit.
    pub rule: DecisionRule,
    /// Whether the conditions allow a claim of improvement.
    pub fair: bool,
    /// Whether it is known how the machine varies from run to run, so that the readings'
    /// uncertainty has it.
    pub variation_known: bool,
}

/// One value before and after.
#[derive(Debug, Clone)]
pub struct Comparison {
    /// The unit of its figures, and the limits that the retest is compared with.
    pub scale: Scale,
    /// The bounds that held before the work.
    pub bounds_before: Option<Bounds>,
    /// The limits of each run, with their uncertainty; of the baseline those from which the
    /// change is measured.
    pub ends: [Ends; 2],
    /// The retest at what it should be besides.
    pub should: Option<Should>,
    /// The baseline at what it should be besides, where what was in service has limits of its
    /// own.
    pub should_before: Option<Should>,
    /// The reading before the work.
    pub baseline: Estimate,
    /// The reading after it.
    pub retest: Estimate,
    /// How the two depend on each other.
    pub together: Dependence,
    /// Retest minus baseline: negative where the figure fell.
    pub difference: Estimate,
    /// The rank test of paired repeats. It is shown beside the change and decides nothing.
    pub signed_rank: Option<SignedRank>,
    /// The difference as a fraction of the baseline; none where a percentage would have no
    /// meaning.
    pub relative: Option<Estimate>,
    /// What the change amounts to; none where no direction is better.
    pub change: Option<Change>,
    /// What may be claimed of it; none where no direction is better.
    pub claim: Option<Claim>,
    /// The zone of the baseline at the limit.
    pub before: Option<Standing>,
    /// The zone of the retest at the limit.
    pub after: Option<Standing>,
    /// The change compared with the required improvement.
    pub gain: Option<Gain>,
    /// What the rule would have made of the baseline at its limit.
    pub outcome_before: Outcome,
    /// What it makes of the retest at its limit.
    pub at_limit: Outcome,
    /// What it makes of the retest as a whole: the worse of limit and required
    /// improvement.
    pub outcome: Outcome,
    /// Both readings among the bands of a standard, where the plan names some.
    pub bands: Option<[InBands; 2]>,
    /// How large the machine's own variation would have to be for each conclusion to fall;
    /// none where it is known and counted.
    pub holds_unless: Option<HoldsUnless>,
}

/// Compares two readings on one scale, whose limits are fixed.
pub fn compare(
    baseline: Estimate,
    retest: Estimate,
    together: Dependence,
    scale: &Scale,
    terms: Terms,
) -> Comparison {
    let fixed = InRun::fixed(scale);
    compare_in(baseline, retest, together, [&fixed, &fixed], terms)
}

/// Compares two readings, each with the limits of its own run.
pub fn compare_in(
    baseline: Estimate,
    retest: Estimate,
    together: Dependence,
    in_run: [&InRun; 2],
    terms: Terms,
) -> Comparison {
    let scale = &in_run[1].scale;
    let rule = terms.rule;
    let difference = together.change(
        &baseline,
        &retest,
        [-1.0, 1.0],
        retest.value - baseline.value,
    );
    let relative = relative(&baseline, &retest, &together, scale);
    let before = in_run[0].standing(&baseline, rule);
    let after = in_run[1].standing(&retest, rule);
    let bands = bands::both(scale, [&baseline, &retest]);
    let mut found = Comparison {
        scale: scale.clone(),
        bounds_before: in_run[0].scale.bounds,
        ends: in_run.map(|run| run.toward.clone()),
        should_before: scale
            .before
            .as_ref()
            .and_then(|_| self::should(&baseline, &in_run[0].scale, rule)),
        should: should(&retest, scale, rule),
        baseline,
        retest,
        signed_rank: together.pairs.as_ref().map(Pairs::signed_rank),
        together,
        difference,
        relative,
        change: None,
        claim: None,
        before,
        after,
        gain: None,
        outcome_before: at_limit(before, rule),
        at_limit: at_limit(after, rule),
        outcome: Outcome::NoLimit,
        bands,
        holds_unless: None,
    };
    found.change = found.change_at(COVERAGE);
    found.claim = found
        .change
        .map(|change| found.claim_of(change, terms.fair));
    found.gain = found.gain(rule);
    if !terms.variation_known {
        let better_by = found.better_by();
        let holds = HoldsUnless::of(
            &Concluded {
                scale,
                ends: &found.ends[1],
                baseline: &found.baseline,
                retest: &found.retest,
                change: found.change,
                better_by: better_by.as_ref(),
                after: found.after,
                gain: found.gain.as_ref(),
            },
            rule,
        );
        let undone = better_by.is_some_and(|gain| holds.is_undone(found.change, &gain));
        found.gain = found.gain.map(|gain| gain.unless(undone));
        found.holds_unless = Some(holds);
    }
    let gain = found.gain.as_ref().map(|gain| gain.outcome);
    found.outcome = Outcome::worst([found.at_limit].into_iter().chain(gain));
    found
}

impl Comparison {
    /// Whether the errors common to both runs were left out of the change while the
    /// scatter of the readings is unknown: they were made once, or agree to the last
    /// digit. Little more than the resolution of the display remains then.
    pub fn is_steady(&self) -> bool {
        let scatters = |component: &Component| {
            matches!(
                component.source,
                Source::Repeatability | Source::HandTiming | Source::RunToRun
            )
        };
        self.together.common.is_some() && !self.difference.components.iter().any(scatters)
    }

    /// The change compared with the required improvement, where there is one.
    fn gain(&self, rule: DecisionRule) -> Option<Gain> {
        let toward = match self.scale.better {
            Some(Better::Lower) => -1.0,
            Some(Better::Higher | Better::Inside) | None => 1.0,
        };
        let improvement = self.scale.improvement?;
        let achieved = match improvement {
            Improvement::By(_) => Some(&self.difference),
            Improvement::Share(_) => self.relative.as_ref(),
        };
        let achieved = achieved.map(|achieved| scaled(achieved, toward));
        Some(Gain::of(achieved, improvement.least(), self.change, rule))
    }

    /// What may be claimed of the change. A figure that moved by more than its uncertainty
    /// and, between two limits, got neither better nor worse is described by where it was.
    fn claim_of(&self, change: Change, fair: bool) -> Claim {
        if self.together.over_others {
            return Claim::OtherPositions;
        }
        let limit = self.difference.expanded + self.difference.noise;
        let moved = self.difference.value.abs() > limit;
        match change {
            Change::NoDetectable if moved => Claim::Moved(self.moved()),
            Change::Improved | Change::NoDetectable | Change::Worsened => change.claim(fair),
        }
    }

    fn moved(&self) -> Moved {
        let zones = [self.before, self.after].map(|place| place.map(|place| place.zone));
        let [before, after] = zones.map(|zone| zone.is_some_and(Zone::is_inside));
        match (before, after) {
            (true, true) => Moved::Inside,
            (false, true) if matches!(zones, [Some(Zone::Fail), Some(Zone::Pass)]) => {
                Moved::OutsideToInside
            }
            (false, true) => Moved::CameInside,
            (true, false) => Moved::WentOutside,
            (false, false) => Moved::Neither,
        }
    }

    /// How much better the retest is, with the uncertainty of that; none where no direction
    /// is better.
    pub(super) fn better_by(&self) -> Option<Estimate> {
        let (gain, weights) = self.gain_and_weights()?;
        let together = &self.together;
        let found = together.change(&self.baseline, &self.retest, weights, gain);
        let limits = self.limits_in_gain();
        if limits.is_empty() {
            return Some(found);
        }
        let all = combine(gain, [found.components.clone(), limits].concat());
        Some(Estimate {
            noise: found.noise,
            written: found.written,
            expanded: all.expanded + half_a_step(&all.components),
            ..all
        })
    }

    /// The uncertainty of the limits in the gain: between two bounds, the distance to one of
    /// them counts, where a reading lies beyond it.
    fn limits_in_gain(&self) -> Vec<Component> {
        let is_inside = matches!(self.scale.better, Some(Better::Inside));
        let values = [self.baseline.value, self.retest.value];
        let each = self.ends.iter().zip(values).filter(|_| is_inside);
        let crossed = each.filter_map(|(ends, value)| match outside(value, ends) {
            beyond if beyond < 0.0 => ends.min.as_ref(),
            beyond if beyond > 0.0 => ends.max.as_ref(),
            _ => None,
        });
        crossed
            .flat_map(|end| end.components.iter().copied())
            .collect()
    }

    /// How much better the retest is, and how each reading's errors act on that.
    fn gain_and_weights(&self) -> Option<(f64, [f64; 2])> {
        let scale = &self.scale;
        let (before, after) = (self.baseline.value, self.retest.value);
        Some(match scale.better? {
            Better::Lower => (before - after, [-1.0, 1.0]),
            Better::Higher => (after - before, [-1.0, 1.0]),
            Better::Inside => {
                let [first, second] = &self.ends;
                let (before, after) = (outside(before, first), outside(after, second));
                // Nearer to the band is better; inside it, no place is better than
                // another. What both readings share cancels in the way to a bound
                // only where both lie beyond the same one; across the band it adds up.
                let across = if before * after > 0.0 { -1.0 } else { 1.0 };
                (before.abs() - after.abs(), [across, 1.0])
            }
        })
    }

    /// What the change amounts to at another level of confidence, for a claim
    /// about several comparisons at once.
    pub fn change_at(&self, coverage: f64) -> Option<Change> {
        let (better, weights) = self.gain_and_weights()?;
        if self.together.over_others {
            return Some(Change::NoDetectable);
        }
        let mut components = self
            .together
            .components(&self.baseline, &self.retest, weights);
        components.extend(self.limits_in_gain());
        let limit = expanded_change(&components, coverage) + self.difference.noise;
        Some(if better > limit {
            Change::Improved
        } else if -better > limit {
            Change::Worsened
        } else {
            Change::NoDetectable
        })
    }
}

/// retest/baseline − 1, by the law of propagation (JCGM 100:2008, 5.1.2):
/// ∂/∂retest = 1/baseline, ∂/∂baseline = −retest/baseline². An error that is
/// proportional to both readings cancels in it.
///
/// None on a scale without a true zero, where the signs differ, or where the
/// baseline is within its uncertainty of zero.
fn relative(
    baseline: &Estimate,
    retest: &Estimate,
    together: &Dependence,
    scale: &Scale,
) -> Option<Estimate> {
    let (b, a) = (baseline.value, retest.value);
    let nothing = baseline.expanded + baseline.noise;
    let meaningful = scale.has_true_zero() && a * b >= 0.0 && b.abs() > nothing;
    if !meaningful {
        return None;
    }
    // The change counts against the size of the baseline, whatever its sign.
    Some(Estimate {
        noise: noise_of(1.0 + (a / b).abs()),
        written: Written::Unknown,
        ..together.change(baseline, retest, [-a / (b * b), 1.0 / b], (a - b) / b.abs())
    })
}

fn scaled(estimate: &Estimate, sign: f64) -> Estimate {
    Estimate {
        value: sign * estimate.value,
        ..estimate.clone()
    }
}

/// How far `value` is outside the ends: negative below, positive above, 0 inside.
fn outside(value: f64, ends: &Ends) -> f64 {
    match (&ends.min, &ends.max) {
        (Some(min), _) if !at_most(min.value, value) => value - min.value,
        (_, Some(max)) if !at_most(value, max.value) => value - max.value,
        _ => 0.0,
    }
}

#[cfg(test)]
mod tests;
