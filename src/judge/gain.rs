//! A change compared with the improvement that is required.

use super::change::Change;
use super::zone::{Outcome, Standing, outcome, standing};
use crate::job::DecisionRule;
use crate::quantity::Estimate;

/// A change compared with the required improvement.
#[derive(Debug, Clone)]
pub struct Gain {
    /// The change for the better: positive is better; a difference in SI units,
    /// or a fraction of the baseline. None where there is no such fraction.
    pub achieved: Option<Estimate>,
    /// Its zone.
    pub standing: Option<Standing>,
    /// What the rule makes of it.
    pub outcome: Outcome,
    /// Whether it would pass, but a variation of the machine no larger than the uncertainty
    /// of the change would undo it.
    pub undone: bool,
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
        let judged = standing.map_or(Outcome::Inconclusive, |found| outcome(found.zone, rule));
        let outcome = match change {
            Some(Change::Improved) => judged,
            Some(Change::Worsened) => Outcome::Fail,
            Some(Change::NoDetectable) | None => judged.or_worse(Outcome::Inconclusive),
        };
        Self {
            achieved,
            standing,
            outcome,
            undone: false,
        }
    }

    /// The same; inconclusive where it would pass and the change is as good as `undone`.
    #[must_use]
    pub(super) fn unless(self, undone: bool) -> Self {
        let passes = matches!(self.outcome, Outcome::Pass | Outcome::ConditionalPass);
        let undone = undone && passes;
        Self {
            outcome: if undone {
                Outcome::Inconclusive
            } else {
                self.outcome
            },
            undone,
            ..self
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use DecisionRule::{FourZone, Guarded, Simple};
    use Outcome::{ConditionalPass, Fail, Inconclusive, Pass};

    /// A gain known to ±0.2, held against a least gain of 1.
    fn gain(value: f64, change: Option<Change>, rule: DecisionRule) -> Outcome {
        let achieved = Estimate {
            u: 0.1,
            expanded: 0.2,
            ..Estimate::exact(value)
        };
        Gain::of(Some(achieved), 1.0, change, rule).outcome
    }

    #[test]
    fn an_improvement_that_is_shown_stands_where_it_stands() {
        let better = |value, rule| gain(value, Some(Change::Improved), rule);
        for (value, outcome) in [
            (1.3, Pass),
            (1.1, ConditionalPass),
            (0.9, Inconclusive),
            (0.7, Fail),
        ] {
            assert_eq!(better(value, FourZone), outcome);
        }
        assert_eq!(better(1.1, Guarded), Inconclusive);
        assert_eq!(better(1.1, Simple), Pass);
        assert_eq!(better(0.9, Simple), Fail);
    }

    /// Where no change is detectable, what is asked is never met, but it may well be shown
    /// to be missed.
    #[test]
    fn no_change_never_meets_what_is_asked() {
        for change in [Some(Change::NoDetectable), None] {
            let none = |value, rule| gain(value, change, rule);
            assert_eq!(none(1.3, FourZone), Inconclusive);
            assert_eq!(none(1.1, FourZone), Inconclusive);
            assert_eq!(none(1.3, Simple), Inconclusive);
            assert_eq!(none(0.9, FourZone), Inconclusive);
            assert_eq!(none(0.7, FourZone), Fail);
            assert_eq!(none(0.9, Simple), Fail);
        }
    }

    #[test]
    fn what_got_worse_fails_whatever_was_asked() {
        for value in [1.3, 0.9, -2.0] {
            assert_eq!(gain(value, Some(Change::Worsened), FourZone), Fail);
        }
    }

    #[test]
    fn a_share_of_nothing_cannot_be_worked_out() {
        let of = |change| Gain::of(None, 0.5, change, FourZone).outcome;
        assert_eq!(of(Some(Change::Improved)), Inconclusive);
        assert_eq!(of(Some(Change::NoDetectable)), Inconclusive);
        assert_eq!(of(Some(Change::Worsened)), Fail);
    }
}
