//! A change compared with the improvement that is required.

use super::change::Change;
use super::zone::{Outcome, Standing, Zone, outcome, standing};
use crate::job::DecisionRule;
use crate::quantity::Estimate;

/// A change compared with the required improvement.
#[derive(Debug, Clone)]
pub struct Gain {
    /// The change for the better: positive is better; a difference in SI units,
    /// or a fraction of the baseline. None where there is no such fraction.
    pub achieved: Option<Estimate>,
    /// Where it stands.
    pub standing: Option<Standing>,
    /// The zone it is shown to be in; none where no change is detectable, or the improvement
    /// cannot be worked out.
    pub shown: Option<Zone>,
    /// What the rule makes of it.
    pub outcome: Outcome,
}

impl Gain {
    /// Compares `achieved` with the `least` that is required, for a measure with this
    /// change. Where no change is detectable, it is never met.
    pub(super) fn of(
        achieved: Option<Estimate>,
        least: f64,
        change: Option<Change>,
        rule: DecisionRule,
    ) -> Self {
        let standing = achieved
            .as_ref()
            .map(|achieved| standing(achieved, Some(least), None, rule));
        let zone = standing.map(|standing| standing.zone);
        let judged = zone.map_or(Outcome::Undecided, |zone| outcome(zone, rule));
        let (shown, outcome) = match change {
            Some(Change::Improved) => (zone, judged),
            Some(Change::Worsened) => (Some(Zone::Fail), Outcome::Fail),
            Some(Change::NoDetectable) | None => (
                zone.filter(|zone| !zone.is_inside()),
                judged.or_worse(Outcome::Undecided),
            ),
        };
        Self {
            achieved,
            standing,
            shown,
            outcome,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use DecisionRule::{FourZone, Guarded, Simple};
    use Outcome::{Fail, Pass, PassWithReservation, Undecided};

    /// A gain known to ±0.2, held against a least gain of 1.
    fn gain(value: f64, change: Option<Change>, rule: DecisionRule) -> (Option<Zone>, Outcome) {
        let achieved = Estimate {
            u: 0.1,
            expanded: 0.2,
            ..Estimate::exact(value)
        };
        let found = Gain::of(Some(achieved), 1.0, change, rule);
        (found.shown, found.outcome)
    }

    #[test]
    fn an_improvement_that_is_shown_stands_where_it_stands() {
        let better = |value, rule| gain(value, Some(Change::Improved), rule);
        for (value, zone, outcome) in [
            (1.3, Zone::Pass, Pass),
            (1.1, Zone::ConditionalPass, PassWithReservation),
            (0.9, Zone::ConditionalFail, Undecided),
            (0.7, Zone::Fail, Fail),
        ] {
            assert_eq!(better(value, FourZone), (Some(zone), outcome));
        }
        assert_eq!(
            better(1.1, Guarded),
            (Some(Zone::ConditionalPass), Undecided)
        );
        assert_eq!(better(1.1, Simple), (Some(Zone::Pass), Pass));
        assert_eq!(better(0.9, Simple), (Some(Zone::Fail), Fail));
    }

    /// Where no change is detectable, what is asked is never met, but it may well be shown
    /// to be missed.
    #[test]
    fn no_change_never_meets_what_is_asked() {
        for change in [Some(Change::NoDetectable), None] {
            let none = |value, rule| gain(value, change, rule);
            assert_eq!(none(1.3, FourZone), (None, Undecided));
            assert_eq!(none(1.1, FourZone), (None, Undecided));
            assert_eq!(none(1.3, Simple), (None, Undecided));
            let near = (Some(Zone::ConditionalFail), Undecided);
            assert_eq!(none(0.9, FourZone), near);
            assert_eq!(none(0.7, FourZone), (Some(Zone::Fail), Fail));
            assert_eq!(none(0.9, Simple), (Some(Zone::Fail), Fail));
        }
    }

    #[test]
    fn what_got_worse_fails_whatever_was_asked() {
        for value in [1.3, 0.9, -2.0] {
            let found = gain(value, Some(Change::Worsened), FourZone);
            assert_eq!(found, (Some(Zone::Fail), Fail));
        }
    }

    #[test]
    fn a_share_of_nothing_cannot_be_worked_out() {
        let of = |change| {
            let found = Gain::of(None, 0.5, change, FourZone);
            (found.shown, found.outcome)
        };
        assert_eq!(of(Some(Change::Improved)), (None, Undecided));
        assert_eq!(of(Some(Change::NoDetectable)), (None, Undecided));
        assert_eq!(of(Some(Change::Worsened)), (Some(Zone::Fail), Fail));
    }
}
