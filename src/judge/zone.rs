//! The zone of a value at its limit (ILAC-G8:09/2019, 4.2.3), and the outcome by the
//! decision rule.

use super::ends::{Ends, together};
use super::special_functions::normal_below;
use crate::job::DecisionRule;
use crate::quantity::{Estimate, at_most, at_most_within, noise_of};

/// The four zones at a limit, with guard band w = U.
///
/// The published intervals share their ends; here an end belongs to the better
/// zone: exactly at the acceptance limit is a pass, exactly at the limit is
/// still inside, exactly one guard band outside is a conditional fail.
#[derive(Debug, Clone, Copy)]
#[cfg_attr(test, derive(PartialEq, Eq))]
pub enum Zone {
    /// Inside by at least the guard band.
    Pass,
    /// Inside, by less than the guard band.
    ConditionalPass,
    /// Outside, by no more than the guard band; or between bounds that are closer together
    /// than two guard bands, and as likely outside as inside.
    ConditionalFail,
    /// Outside by more than the guard band.
    Fail,
}

/// A value's place at its limit.
#[derive(Debug, Clone, Copy)]
pub struct Standing {
    /// The zone.
    pub zone: Zone,
    /// The probability that the true value is inside, given the reading and its
    /// uncertainty, and nothing else (JCGM 106:2012, 7.2).
    pub conformity: f64,
    /// Whether the bounds are closer together than two guard bands, so that nothing could
    /// be clearly inside.
    pub too_coarse: bool,
}

/// What the decision rule makes of a zone. Which is worse is for `judge` alone to say.
#[derive(Debug, Clone, Copy)]
#[cfg_attr(test, derive(PartialEq, Eq))]
pub enum Outcome {
    /// There is no limit.
    NoLimit,
    /// It meets the limit.
    Pass,
    /// It meets the limit, but by less than its uncertainty.
    ConditionalPass,
    /// Its uncertainty is too large to decide.
    Inconclusive,
    /// It does not meet the limit.
    Fail,
}

impl Outcome {
    /// How bad it is, the worst last.
    pub(super) fn rank(self) -> u8 {
        match self {
            Outcome::NoLimit => 0,
            Outcome::Pass => 1,
            Outcome::ConditionalPass => 2,
            Outcome::Inconclusive => 3,
            Outcome::Fail => 4,
        }
    }

    /// The worse of the two.
    pub(super) fn or_worse(self, other: Outcome) -> Outcome {
        if other.rank() > self.rank() {
            other
        } else {
            self
        }
    }

    /// The worst of several; not judged where there is none.
    pub(super) fn worst(outcomes: impl IntoIterator<Item = Outcome>) -> Outcome {
        outcomes
            .into_iter()
            .fold(Outcome::NoLimit, Outcome::or_worse)
    }
}

impl Zone {
    /// Whether the value itself is inside, whatever its uncertainty.
    pub(super) fn is_inside(self) -> bool {
        match self {
            Zone::Pass | Zone::ConditionalPass => true,
            Zone::ConditionalFail | Zone::Fail => false,
        }
    }
}

/// Places `estimate` between `min` and `max` (SI units, at least one given), which are exact.
pub fn standing(
    estimate: &Estimate,
    min: Option<f64>,
    max: Option<f64>,
    rule: DecisionRule,
) -> Standing {
    standing_at(estimate, &Ends::exact(min, max), rule)
}

/// How far a value is inside one end.
struct Margin {
    /// The end.
    end: f64,
    /// The distance, positive inside.
    distance: f64,
    /// The guard band there.
    guard: f64,
    /// The spread of value and end together.
    spread: f64,
}

/// Places `estimate` between `ends`, of which there is at least one.
pub fn standing_at(estimate: &Estimate, ends: &Ends, rule: DecisionRule) -> Standing {
    let margin = |end: &Option<Estimate>, sign: f64| {
        end.as_ref().map(|end| {
            let (expanded, spread) = together(estimate, end);
            Margin {
                end: end.value,
                distance: sign * (estimate.value - end.value),
                guard: match rule {
                    DecisionRule::Simple => 0.0,
                    DecisionRule::Guarded | DecisionRule::FourZone => expanded,
                },
                spread,
            }
        })
    };
    let margins = [margin(&ends.min, 1.0), margin(&ends.max, -1.0)];
    let conformity = conformity(estimate, &margins);
    // Between two bounds closer than two guard bands no value could pass. One inside passes
    // conditionally while that is more likely than not (JCGM 106; ILAC-G8, 4.2.3, has a
    // risk below 50 % for a conditional pass).
    let too_coarse = matches!(&margins, [Some(min), Some(max)]
        if !at_most(min.guard + max.guard, max.end - min.end));
    // The distance is compared, not the value: beside a distance and a guard band that
    // are equal, a value near zero would count for what rounding left in them.
    let inside_by = |share: f64| {
        margins.iter().flatten().all(|it| {
            at_most_within(
                share * it.guard,
                it.distance,
                estimate.noise + noise_of(it.end),
            )
        })
    };
    let is_guarded = margins.iter().flatten().any(|it| it.guard > 0.0);
    let zone = if inside_by(1.0) {
        Zone::Pass
    } else if inside_by(0.0) && (!too_coarse || conformity > 0.5) {
        Zone::ConditionalPass
    } else if is_guarded && inside_by(-1.0) {
        Zone::ConditionalFail
    } else {
        Zone::Fail
    };
    Standing {
        zone,
        conformity,
        too_coarse,
    }
}

fn conformity(estimate: &Estimate, [min, max]: &[Option<Margin>; 2]) -> f64 {
    // A normal error of that spread stands for the error, as in JCGM 106. A value cannot be
    // below the one end and above the other, so that both risks add up.
    let inside = |it: &Margin| {
        if it.spread > 0.0 {
            normal_below(it.distance / it.spread)
        } else {
            let noise = estimate.noise + noise_of(it.end);
            f64::from(u8::from(at_most_within(0.0, it.distance, noise)))
        }
    };
    let below_max = max.as_ref().map_or(1.0, inside);
    // Φ(−x) and not 1 − Φ(x): the difference of two figures near 1 would lose its digits.
    let below_min = min.as_ref().map_or(0.0, |it| {
        if it.spread > 0.0 {
            normal_below(-it.distance / it.spread)
        } else {
            1.0 - inside(it)
        }
    });
    (below_max - below_min).clamp(0.0, 1.0)
}

/// What `rule` makes of a standing, where there is a limit to stand at.
pub fn at_limit(standing: Option<Standing>, rule: DecisionRule) -> Outcome {
    standing.map_or(Outcome::NoLimit, |standing| outcome(standing.zone, rule))
}

/// What `rule` makes of `zone`.
pub fn outcome(zone: Zone, rule: DecisionRule) -> Outcome {
    match (zone, rule) {
        (Zone::Pass, _) => Outcome::Pass,
        (Zone::Fail, _) => Outcome::Fail,
        (Zone::ConditionalPass, DecisionRule::FourZone) => Outcome::ConditionalPass,
        // The simple rule has no guard band, so it never meets these two.
        (Zone::ConditionalPass, DecisionRule::Simple) => Outcome::Pass,
        (Zone::ConditionalFail, DecisionRule::Simple) => Outcome::Fail,
        (Zone::ConditionalPass, DecisionRule::Guarded)
        | (Zone::ConditionalFail, DecisionRule::Guarded | DecisionRule::FourZone) => {
            Outcome::Inconclusive
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use DecisionRule::{FourZone, Guarded, Simple};
    use Zone::{ConditionalFail, ConditionalPass, Fail, Pass};

    fn with(value: f64, u: f64, expanded: f64) -> Estimate {
        Estimate {
            value,
            u,
            dof: f64::INFINITY,
            spread: u,
            expanded,
            components: Vec::new(),
            noise: 0.0,
            written: crate::quantity::Written::Unknown,
        }
    }

    /// The zones of ILAC-G8:09/2019, 4.2.3, at an upper limit of 10 with U = 1.
    #[test]
    fn zones_at_an_upper_limit_as_ilac_g8_4_2_3() {
        for (value, zone) in [
            (8.9, Pass),
            (9.0, Pass),
            (9.5, ConditionalPass),
            (10.0, ConditionalPass),
            (10.5, ConditionalFail),
            (11.0, ConditionalFail),
            (11.1, Fail),
        ] {
            let found = standing(&with(value, 0.5, 1.0), None, Some(10.0), FourZone);
            assert_eq!(found.zone, zone, "{value}");
        }
    }

    /// What is known exactly meets a limit for certain where it lies at it, and else not at all.
    #[test]
    fn an_exact_value_at_its_limits() {
        for (value, conformity) in [(4.9, 0.0), (5.0, 1.0), (7.0, 1.0), (9.0, 1.0), (9.1, 0.0)] {
            let found = standing(&Estimate::exact(value), Some(5.0), Some(9.0), FourZone);
            assert_eq!(found.conformity, conformity, "{value}");
        }
    }

    /// The mirror of it at a lower limit of 9.6 V with U = 0.1 V.
    #[test]
    fn zones_at_a_lower_limit_as_ilac_g8_4_2_3() {
        for (value, zone) in [
            (9.71, Pass),
            (9.65, ConditionalPass),
            (9.55, ConditionalFail),
            (9.49, Fail),
        ] {
            let found = standing(&with(value, 0.05, 0.1), Some(9.6), None, FourZone);
            assert_eq!(found.zone, zone, "{value}");
        }
    }

    #[test]
    fn two_sided_limits_guard_both_ends() {
        let at = |value| standing(&with(value, 0.5, 1.0), Some(0.0), Some(10.0), FourZone).zone;
        assert_eq!(at(5.0), Pass);
        assert_eq!(at(0.5), ConditionalPass);
        assert_eq!(at(-0.5), ConditionalFail);
        assert_eq!(at(12.0), Fail);
        assert!(!standing(&with(5.0, 0.5, 5.0), Some(0.0), Some(10.0), FourZone).too_coarse);
    }

    /// A guard band wider than half the tolerance leaves no pass zone. In the middle of it,
    /// p = 2Φ(h/u) − 1: 14.20 V in 14.0 to 14.4 V by a meter of 2 % (u = 0.1640 V) 0.777;
    /// with u = 10 in 0 to 10 0.383, as likely as not at u = h/0.6745.
    #[test]
    fn in_a_narrow_band_what_is_more_likely_inside_passes_conditionally() {
        let at = |value, u, [min, max]: [f64; 2]| {
            let found = standing(&with(value, u, 1.96 * u), Some(min), Some(max), FourZone);
            assert!(found.too_coarse);
            (found.zone, (found.conformity * 1e3).round())
        };
        assert_eq!(at(14.2, 0.1640, [14.0, 14.4]), (ConditionalPass, 777.0));
        assert_eq!(at(5.0, 10.0, [0.0, 10.0]), (ConditionalFail, 383.0));
        assert_eq!(at(5.0, 5.0 / 0.67, [0.0, 10.0]).0, ConditionalFail);
        assert_eq!(at(5.0, 5.0 / 0.68, [0.0, 10.0]).0, ConditionalPass);
        // Outside by however little, nothing passes.
        assert_eq!(at(10.01, 4.0, [0.0, 10.0]).0, ConditionalFail);
    }

    #[test]
    fn the_simple_rule_knows_pass_and_fail_only() {
        let at = |value| standing(&with(value, 0.5, 1.0), None, Some(10.0), Simple).zone;
        assert_eq!(at(9.99), Pass);
        assert_eq!(at(10.0), Pass);
        assert_eq!(at(10.01), Fail);
    }

    #[test]
    fn the_worst_outcome_counts() {
        use Outcome::{Inconclusive, NoLimit};
        let order = [
            NoLimit,
            Outcome::Pass,
            Outcome::ConditionalPass,
            Inconclusive,
            Outcome::Fail,
        ];
        for (place, one) in order.iter().enumerate() {
            for (other_place, other) in order.iter().enumerate() {
                let worse = order[place.max(other_place)];
                assert_eq!(one.or_worse(*other), worse);
                assert_eq!(Outcome::worst([*one, *other]), worse);
            }
        }
        assert_eq!(Outcome::worst([]), NoLimit);
    }

    #[test]
    fn inside_is_inside_by_however_little() {
        assert!(Pass.is_inside() && ConditionalPass.is_inside());
        assert!(!ConditionalFail.is_inside() && !Fail.is_inside());
    }

    #[test]
    fn rules_differ_in_the_conditional_zones() {
        assert_eq!(outcome(ConditionalPass, FourZone), Outcome::ConditionalPass);
        assert_eq!(outcome(ConditionalPass, Guarded), Outcome::Inconclusive);
        assert_eq!(outcome(ConditionalFail, FourZone), Outcome::Inconclusive);
        assert_eq!(outcome(ConditionalFail, Guarded), Outcome::Inconclusive);
        for rule in [Simple, Guarded, FourZone] {
            assert_eq!(outcome(Pass, rule), Outcome::Pass);
            assert_eq!(outcome(Fail, rule), Outcome::Fail);
        }
        assert_eq!(outcome(ConditionalPass, Simple), Outcome::Pass);
        assert_eq!(outcome(ConditionalFail, Simple), Outcome::Fail);
    }

    /// JCGM 106:2012, worked examples of section 7 (inputs from memory of the
    /// document): a Zener voltage of −5.47 V, u = 0.05 V, limit −5.40 V gives
    /// 0.92; a burst strength of 509.7 kPa, u = 8.6 kPa, lower limit 490 kPa
    /// gives 0.99; an oil of 13.6, u = 1.8, between 12.5 and 16.3 gives 0.66.
    #[test]
    fn probability_of_conformity_as_in_jcgm_106() {
        let p = |value, u, min, max| {
            standing(
                &with(value, u, 1.959_963_984_540_054 * u),
                min,
                max,
                FourZone,
            )
            .conformity
        };
        assert!((p(-5.47, 0.05, None, Some(-5.40)) - 0.919_243).abs() < 1e-6);
        assert!((p(509.7, 8.6, Some(490.0), None) - 0.989_010).abs() < 1e-6);
        assert!((p(13.6, 1.8, Some(12.5), Some(16.3)) - 0.662_630).abs() < 1e-6);
    }

    #[test]
    fn an_exact_value_is_inside_or_outside_with_certainty() {
        let p = |value| standing(&Estimate::exact(value), None, Some(10.0), FourZone);
        assert_eq!((p(10.0).zone, p(10.0).conformity), (Pass, 1.0));
        assert_eq!((p(10.1).zone, p(10.1).conformity), (Fail, 0.0));
    }
}
