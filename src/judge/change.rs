//! What a change amounts to, and what may be claimed of it.

/// What a change amounts to.
#[derive(Debug, Clone, Copy)]
#[cfg_attr(test, derive(PartialEq, Eq))]
pub enum Change {
    /// It got better by more than the uncertainty of the change.
    Improved,
    /// The change is within its uncertainty, or neither better nor worse.
    NoDetectable,
    /// It got worse by more than the uncertainty of the change.
    Worsened,
}

/// What may be claimed of a change, as the reader is told.
#[derive(Debug, Clone, Copy)]
#[cfg_attr(test, derive(PartialEq, Eq))]
pub enum Claim {
    /// It got better.
    Improved,
    /// It seems better, but the conditions were not alike.
    Apparent,
    /// No change was detected.
    NoDetectable,
    /// It got worse.
    Worsened,
    /// So few attempts could not show a change, whatever the result.
    TooFewAttempts,
    /// So few positions could not show a change, whatever the result.
    TooFewPositions,
    /// So few events were counted that no result could have shown a change.
    TooFewEvents,
    /// A single exact reading is so, compared with the one before. That is what was read, and
    /// no claim of a change: nobody knows how another run would have turned out.
    Step(Step),
    /// It moved between two limits, and got neither better nor worse.
    Moved(Moved),
    /// Some of several did so, and none got better or worse.
    SomeMoved,
    /// The figures of both runs are worked out over other positions: nothing is claimed.
    OtherPositions,
}

/// How a figure moved that has to be between two limits.
#[derive(Debug, Clone, Copy)]
#[cfg_attr(test, derive(PartialEq, Eq))]
pub enum Moved {
    /// It was clearly outside, and is clearly inside.
    OutsideToInside,
    /// It was inside, and still is.
    Inside,
    /// It came inside, by less than its uncertainty.
    CameInside,
    /// It went outside, by less than its uncertainty.
    WentOutside,
    /// It was outside, and still is.
    Neither,
}

/// How one exact reading compares with the one before it.
#[derive(Debug, Clone, Copy)]
#[cfg_attr(test, derive(PartialEq, Eq))]
pub enum Step {
    /// It is better.
    Better,
    /// It is the same, or neither better nor worse.
    Same,
    /// It is worse.
    Worse,
}

impl Step {
    /// What counts for the verdict. One reading shows no improvement, since another run may
    /// turn out otherwise; that it is worse is not passed over.
    pub(super) fn change(self) -> Change {
        match self {
            Step::Better | Step::Same => Change::NoDetectable,
            Step::Worse => Change::Worsened,
        }
    }

    /// What is said of it.
    pub(super) fn claim(self, fair: bool) -> Claim {
        match (self, fair) {
            (Step::Better, false) => Claim::Apparent,
            (Step::Better, true) | (Step::Same | Step::Worse, _) => Claim::Step(self),
        }
    }
}

impl Change {
    /// What may be claimed of it: under easier or unknown conditions, an improvement is only
    /// apparent.
    pub(super) fn claim(self, fair: bool) -> Claim {
        match (self, fair) {
            (Change::Improved, true) => Claim::Improved,
            (Change::Improved, false) => Claim::Apparent,
            (Change::NoDetectable, _) => Claim::NoDetectable,
            (Change::Worsened, _) => Claim::Worsened,
        }
    }

    /// Worsened if any part did; else improved if any part did. None without a part.
    pub(super) fn overall(parts: impl Iterator<Item = Change>) -> Option<Change> {
        parts.reduce(|all, part| match (all, part) {
            (Change::Worsened, _) | (_, Change::Worsened) => Change::Worsened,
            (Change::Improved, _) | (_, Change::Improved) => Change::Improved,
            (Change::NoDetectable, Change::NoDetectable) => Change::NoDetectable,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_improvement_under_unlike_conditions_is_apparent() {
        for (change, fair, claim) in [
            (Change::Improved, true, Claim::Improved),
            (Change::Improved, false, Claim::Apparent),
            (Change::NoDetectable, true, Claim::NoDetectable),
            (Change::NoDetectable, false, Claim::NoDetectable),
            (Change::Worsened, true, Claim::Worsened),
            (Change::Worsened, false, Claim::Worsened),
        ] {
            assert_eq!(change.claim(fair), claim);
        }
    }

    #[test]
    fn one_part_that_got_worse_outweighs_all_that_got_better() {
        use Change::{Improved, NoDetectable, Worsened};
        let overall = |parts: &[Change]| Change::overall(parts.iter().copied());
        assert_eq!(overall(&[]), None);
        assert_eq!(overall(&[NoDetectable, NoDetectable]), Some(NoDetectable));
        assert_eq!(overall(&[NoDetectable, Improved]), Some(Improved));
        assert_eq!(overall(&[Improved, NoDetectable]), Some(Improved));
        assert_eq!(overall(&[Improved, Worsened]), Some(Worsened));
        assert_eq!(overall(&[Worsened, NoDetectable]), Some(Worsened));
    }
}
