//! Events that were counted over a stretch of time or of something else: their rate, with the
//! scatter that counting has by itself (Poisson). Exact for any number.

use super::change::{Change, Claim, Moved};
use super::counts::Interval;
use super::special_functions::{chi_squared_above, ln_choose};
use super::t_distribution::LEVEL;
use super::zone::{Outcome, Zone, outcome};
use crate::job::{Better, Counted, DecisionRule, RateScale};
use crate::quantity::at_most;

/// A counted rate.
#[derive(Debug, Clone, Copy)]
pub struct RateFigure {
    /// What was counted, and over how much.
    pub counted: Counted,
    /// The rate, per one of the unit of its scale.
    pub rate: f64,
    /// Its exact 95 % interval.
    pub interval: Interval,
}

/// A counted rate before and after.
#[derive(Debug, Clone)]
pub struct RateComparison {
    /// What the rate is per, and its limits.
    pub scale: RateScale,
    /// Before the work.
    pub baseline: RateFigure,
    /// After it.
    pub retest: RateFigure,
    /// Two-sided p of the exact conditional test of equal rates.
    pub p: f64,
    /// The smallest p that so many events can give.
    pub smallest_p: f64,
    /// What the change amounts to; none where no direction is better.
    pub change: Option<Change>,
    /// What may be claimed of it.
    pub claim: Option<Claim>,
    /// The zone of the baseline at the limit.
    pub before: Option<Zone>,
    /// The zone of the retest at the limit.
    pub after: Option<Zone>,
    /// What the rule would have made of the baseline.
    pub outcome_before: Outcome,
    /// What it makes of the retest.
    pub outcome: Outcome,
}

/// A rate that was read in one run.
pub fn figure(scale: &RateScale, counted: Counted) -> RateFigure {
    let over = scale.per.from_si(counted.over.si());
    let [low, high] = garwood(counted.count);
    RateFigure {
        counted,
        rate: f64::from(counted.count) / over,
        interval: Interval {
            low: low / over,
            high: high / over,
        },
    }
}

/// Compares two rates.
pub fn compare(
    scale: &RateScale,
    [before, after]: [Counted; 2],
    rule: DecisionRule,
    fair: bool,
) -> RateComparison {
    let (baseline, retest) = (figure(scale, before), figure(scale, after));
    let [p, smallest_p] = same_rate(before, after);
    let [zone_before, zone_after] = [&baseline, &retest].map(|it| zone(it, scale, rule));
    let (change, claim) = changed(scale, [baseline.rate, retest.rate], p, smallest_p, fair);
    RateComparison {
        scale: *scale,
        baseline,
        retest,
        p,
        smallest_p,
        change,
        claim,
        before: zone_before,
        after: zone_after,
        outcome_before: placed(zone_before, rule),
        outcome: placed(zone_after, rule),
    }
}

/// A rate of one run at its limit: its zone there, and what the rule makes of it.
pub fn at_limit(
    figure: &RateFigure,
    scale: &RateScale,
    rule: DecisionRule,
) -> (Option<Zone>, Outcome) {
    let zone = zone(figure, scale, rule);
    (zone, placed(zone, rule))
}

fn placed(zone: Option<Zone>, rule: DecisionRule) -> Outcome {
    zone.map_or(Outcome::NoLimit, |zone| outcome(zone, rule))
}

/// The zone of a rate: its interval takes the place of the guard band. One that reaches
/// beyond both limits was counted for too short to pass at all.
fn zone(figure: &RateFigure, scale: &RateScale, rule: DecisionRule) -> Option<Zone> {
    if !scale.has_limit() {
        return None;
    }
    let above_min = |rate: f64| scale.min.is_none_or(|min| at_most(min, rate));
    let below_max = |rate: f64| scale.max.is_none_or(|max| at_most(rate, max));
    let inside = above_min(figure.rate) && below_max(figure.rate);
    let Interval { low, high } = match rule {
        DecisionRule::Simple => Interval {
            low: figure.rate,
            high: figure.rate,
        },
        DecisionRule::Guarded | DecisionRule::FourZone => figure.interval,
    };
    Some(match (above_min(low), below_max(high)) {
        (true, true) => Zone::Pass,
        (true, false) | (false, true) if inside => Zone::ConditionalPass,
        // Nothing of the interval is inside.
        _ if !above_min(high) || !below_max(low) => Zone::Fail,
        (true | false, true | false) => Zone::ConditionalFail,
    })
}

/// What the change amounts to, and what may be claimed of it.
fn changed(
    scale: &RateScale,
    [before, after]: [f64; 2],
    p: f64,
    smallest_p: f64,
    fair: bool,
) -> (Option<Change>, Option<Claim>) {
    let Some(better) = scale.better else {
        return (None, None);
    };
    let outside = |rate: f64| {
        let below = scale.min.map_or(0.0, |min| min - rate);
        let above = scale.max.map_or(0.0, |max| rate - max);
        below.max(above).max(0.0)
    };
    let gain = match better {
        Better::Lower => before - after,
        Better::Higher => after - before,
        Better::Inside => outside(before) - outside(after),
    };
    let differs = p < LEVEL;
    let change = if differs && gain > 0.0 {
        Change::Improved
    } else if differs && gain < 0.0 {
        Change::Worsened
    } else {
        Change::NoDetectable
    };
    let claim = match change {
        Change::NoDetectable if differs && outside(after) > 0.0 => Claim::Moved(Moved::Neither),
        Change::NoDetectable if differs => Claim::Moved(Moved::Inside),
        Change::NoDetectable if smallest_p >= LEVEL => Claim::TooFewEvents,
        Change::Improved | Change::NoDetectable | Change::Worsened => change.claim(fair),
    };
    (Some(change), Some(claim))
}

/// The exact 95 % interval of the mean number of events of which `count` were found
/// (Garwood, 1936): the means that would give as many or more, and as many or fewer, in 2.5 %
/// of all cases.
fn garwood(count: u32) -> [f64; 2] {
    let tail = LEVEL / 2.0;
    let k = f64::from(count);
    // The probability of fewer than k events (DLMF 8.4.10, as that of a χ²).
    let fewer = |k: f64, mean: f64| chi_squared_above(2.0 * mean, 2.0 * k);
    let low = if count == 0 {
        0.0
    } else {
        crossing(k, |mean| 1.0 - fewer(k, mean) < tail)
    };
    let high = crossing(k, |mean| fewer(k + 1.0, mean) > tail);
    [low, high]
}

/// Where `is_below` turns from true to false, not far from `near`, by halving.
fn crossing(near: f64, is_below: impl Fn(f64) -> bool) -> f64 {
    let (mut low, mut high) = (0.0, near + 10.0 * (near + 1.0).sqrt() + 20.0);
    for _ in 0..200 {
        let middle = f64::midpoint(low, high);
        if middle <= low || middle >= high {
            break;
        }
        if is_below(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    f64::midpoint(low, high)
}

/// The exact test of equal rates, two-sided: of all events, each falls into the second run
/// with the share of its stretch (Przyborowski and Wilenski, 1940). The probability of all
/// divisions no likelier than the one found; and the smallest that so many events can give.
fn same_rate(first: Counted, second: Counted) -> [f64; 2] {
    let total = u64::from(first.count) + u64::from(second.count);
    let share = second.over.si() / (first.over.si() + second.over.si());
    let (ln_share, ln_rest) = (libm::log(share), libm::log1p(-share));
    let chances: Vec<f64> = (0..=total)
        .map(|k| {
            let ways = ln_choose(total, k);
            libm::exp(ways + k as f64 * ln_share + (total - k) as f64 * ln_rest)
        })
        .collect();
    let p = |found: f64| {
        // Divisions of equal probability differ in their last bits.
        let no_likelier = chances
            .iter()
            .filter(|chance| **chance <= found * (1.0 + 1e-7));
        no_likelier.sum::<f64>().min(1.0)
    };
    let found = chances.get(second.count as usize).copied();
    let ends = chances.first().copied().zip(chances.last().copied());
    [
        found.map_or(1.0, p),
        ends.map_or(1.0, |(first, last)| p(first.min(last))),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{Quantity, Unit};

    fn counted(count: u32, minutes: f64) -> Counted {
        let over = Quantity::new(minutes, Unit::named("min").unwrap()).unwrap();
        Counted { count, over }
    }

    /// The 95 % limits of a Poisson mean, Garwood (1936), Biometrika 28:437; also Pearson and
    /// Hartley, Biometrika Tables for Statisticians I, table 40 (both from memory): 0 gives
    /// 0 to 3.689, 1 0.0253 to 5.572, 3 0.619 to 8.767, 10 4.795 to 18.390, 100 81.36 to
    /// 121.63. In closed form −ln 0.025 for none.
    #[test]
    fn garwood_1936() {
        for (count, low, high, digits) in [
            (0, 0.0, 3.689, 5e-4),
            (1, 0.0253, 5.572, 5e-4),
            (2, 0.242, 7.225, 5e-4),
            (3, 0.619, 8.767, 5e-4),
            (5, 1.623, 11.668, 5e-4),
            (10, 4.795, 18.390, 5e-4),
            (20, 12.217, 30.888, 5e-4),
            (100, 81.36, 121.63, 5e-3),
        ] {
            let [found_low, found_high] = garwood(count);
            assert!((found_low - low).abs() <= digits, "{count}: {found_low}");
            assert!((found_high - high).abs() <= digits, "{count}: {found_high}");
        }
        assert!((garwood(0)[1] + 0.025f64.ln()).abs() < 1e-12);
    }

    /// R's documentation of `poisson.test` (from memory): 11 in 800 against 21 in 3011 has
    /// p = 0.07967. And by hand: 0 against 5 over equal stretches, 2/2⁵; 1 against 5,
    /// 2(1 + 6)/2⁶; over 10 and 20, 3 against 0 has (1/3)³ = 1/27.
    #[test]
    fn two_rates_compared() {
        let p = |a: (u32, f64), b: (u32, f64)| same_rate(counted(a.0, a.1), counted(b.0, b.1));
        assert!((p((11, 800.0), (21, 3011.0))[0] - 0.079_67).abs() < 5e-6);
        assert!((p((5, 1.0), (0, 1.0))[0] - 0.0625).abs() < 1e-12);
        assert!((p((1, 2.0), (5, 2.0))[0] - 0.21875).abs() < 1e-12);
        assert!((p((3, 10.0), (0, 20.0))[0] - 1.0 / 27.0).abs() < 1e-12);
        // Five events at equal stretches can never show a change, six can.
        assert!((p((3, 1.0), (2, 1.0))[1] - 0.0625).abs() < 1e-12);
        assert!((p((3, 1.0), (3, 1.0))[1] - 0.03125).abs() < 1e-12);
        assert_eq!(p((0, 1.0), (0, 1.0)), [1.0, 1.0]);
    }

    /// Between 2 and 4 a minute: nearer to the two is better. From 1 below to 1 above, and
    /// from one place inside to another, it changed and got neither better nor worse.
    #[test]
    fn between_two_limits_nearer_is_better() {
        let scale = RateScale {
            per: Unit::named("min").unwrap(),
            min: Some(2.0),
            max: Some(4.0),
            better: Some(Better::Inside),
        };
        let told = |before, after, p, smallest_p| {
            let (change, claim) = changed(&scale, [before, after], p, smallest_p, true);
            (change.unwrap(), claim.unwrap())
        };
        let same = Change::NoDetectable;
        for (before, after, wanted) in [
            (6.0, 3.0, (Change::Improved, Claim::Improved)),
            (0.5, 3.0, (Change::Improved, Claim::Improved)),
            (3.0, 6.0, (Change::Worsened, Claim::Worsened)),
            (3.0, 0.5, (Change::Worsened, Claim::Worsened)),
            (1.0, 5.0, (same, Claim::Moved(Moved::Neither))),
            (2.1, 3.9, (same, Claim::Moved(Moved::Inside))),
        ] {
            assert_eq!(told(before, after, 0.01, 0.01), wanted, "{before}, {after}");
        }
        assert_eq!(told(6.0, 3.0, 0.2, 0.01), (same, Claim::NoDetectable));
        assert_eq!(told(6.0, 3.0, 0.2, 0.2), (same, Claim::TooFewEvents));
    }

    fn chance(mean: f64, k: u32) -> f64 {
        (f64::from(k) * mean.ln() - mean - libm::lgamma(f64::from(k) + 1.0)).exp()
    }

    /// Every number of events is summed, none is drawn: an interval holds the truth at least
    /// 95 times in a hundred, and rates that are the same are called a change at most 5
    /// times, over equal and unequal stretches.
    #[test]
    fn rates_err_in_no_more_than_five_of_a_hundred() {
        for mean in [0.3, 2.0, 7.5, 25.0] {
            let most = (mean + 12.0 * f64::sqrt(mean) + 12.0) as u32;
            let holds: f64 = (0..=most)
                .filter(|k| {
                    let [low, high] = garwood(*k);
                    low <= mean && mean <= high
                })
                .map(|k| chance(mean, k))
                .sum();
            assert!(holds >= 0.95, "{mean}: {holds}");
            for longer in [1.0, 2.5] {
                let most_after = (most as f64 * longer) as u32 + 10;
                let mut wrong = 0.0;
                for before in 0..=most {
                    for after in 0..=most_after {
                        let [p, _] = same_rate(counted(before, 1.0), counted(after, longer));
                        if p < LEVEL {
                            wrong += chance(mean, before) * chance(mean * longer, after);
                        }
                    }
                }
                assert!(wrong <= 0.05, "{mean}, {longer}: {wrong}");
                assert!(
                    mean < 7.0 || wrong > 0.01,
                    "{mean}: {wrong} could find nothing"
                );
            }
        }
    }

    /// 12 in 10 min is 1.2 per minute, 0.62 to 2.10 (Garwood: 6.201 to 20.962).
    #[test]
    fn the_zones_of_a_rate() {
        let of = |min, max, rule| {
            let per = Unit::named("min").unwrap();
            let scale = RateScale {
                per,
                min,
                max,
                better: None,
            };
            zone(&figure(&scale, counted(12, 10.0)), &scale, rule)
        };
        use DecisionRule::{FourZone, Simple};
        let most = |max| of(None, Some(max), FourZone);
        assert_eq!(most(2.2), Some(Zone::Pass));
        assert_eq!(most(1.3), Some(Zone::ConditionalPass));
        assert_eq!(most(1.2), Some(Zone::ConditionalPass));
        assert_eq!(most(1.1), Some(Zone::ConditionalFail));
        assert_eq!(most(0.6), Some(Zone::Fail));
        let least = |min| of(Some(min), None, FourZone);
        assert_eq!(least(0.6), Some(Zone::Pass));
        assert_eq!(least(1.2), Some(Zone::ConditionalPass));
        assert_eq!(least(2.0), Some(Zone::ConditionalFail));
        assert_eq!(least(2.2), Some(Zone::Fail));
        assert_eq!(of(Some(0.5), Some(2.5), FourZone), Some(Zone::Pass));
        assert_eq!(
            of(Some(1.0), Some(2.5), FourZone),
            Some(Zone::ConditionalPass)
        );
        // Reaching beyond both, it could as well be outside.
        assert_eq!(
            of(Some(1.0), Some(1.4), FourZone),
            Some(Zone::ConditionalFail)
        );
        assert_eq!(of(None, Some(1.2), Simple), Some(Zone::Pass));
        assert_eq!(of(None, Some(1.1), Simple), Some(Zone::Fail));
        assert_eq!(of(None, None, FourZone), None);
    }
}
