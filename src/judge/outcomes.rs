//! What the decision rule makes of a measure: of its parts, and of the whole.

use super::comparison::Comparison;
use super::counts::CountComparison;
use super::finding::{AtPosition, ExactsAt, PassesAt, ValuesAt};
use super::zone::Outcome;

/// What the decision rule makes of a reading, or of a measure as a whole.
#[derive(Debug, Clone, Copy)]
#[cfg_attr(test, derive(PartialEq, Eq))]
pub struct Outcomes {
    /// Of the retest, with the improvement that is required.
    pub whole: Outcome,
    /// Of the retest at its limit alone.
    pub at_limit: Outcome,
    /// What it would have made of the baseline.
    pub before: Outcome,
}

impl Outcomes {
    /// Of something without a limit.
    pub const NONE: Self = Self {
        whole: Outcome::NoLimit,
        at_limit: Outcome::NoLimit,
        before: Outcome::NoLimit,
    };

    /// Whatever it would have shown, it was not read.
    pub const UNREAD: Self = Self {
        whole: Outcome::Inconclusive,
        at_limit: Outcome::Inconclusive,
        before: Outcome::NoLimit,
    };

    /// Of a baseline without a retest, if there is one.
    pub fn before_only(before: Option<Outcome>, has_limit: bool) -> Self {
        Self {
            before: before.unwrap_or(Outcome::NoLimit),
            ..if has_limit { Self::UNREAD } else { Self::NONE }
        }
    }

    /// Of a retest without a baseline: an `improvement` that is required is not shown.
    pub fn after_only(at_limit: Outcome, improvement: bool) -> Self {
        let open = if improvement {
            Outcome::Inconclusive
        } else {
            Outcome::NoLimit
        };
        Self {
            whole: at_limit.or_worse(open),
            at_limit,
            before: Outcome::NoLimit,
        }
    }

    /// The worst of several.
    pub fn worst(each: impl IntoIterator<Item = Self>) -> Self {
        each.into_iter().fold(Self::NONE, |worst, one| Self {
            whole: worst.whole.or_worse(one.whole),
            at_limit: worst.at_limit.or_worse(one.at_limit),
            before: worst.before.or_worse(one.before),
        })
    }

    /// Of a comparison.
    pub fn of(found: &Comparison) -> Self {
        Self {
            whole: found.outcome,
            at_limit: found.at_limit,
            before: found.outcome_before,
        }
    }

    /// Of something without a required improvement: what it would have made of the baseline,
    /// and what it makes of the retest.
    pub fn plain(before: Outcome, after: Outcome) -> Self {
        Self {
            whole: after,
            at_limit: after,
            before,
        }
    }

    /// Of a count, which has no required improvement.
    pub fn of_count(found: &CountComparison) -> Self {
        Self::plain(found.outcome_before, found.outcome)
    }
}

impl ValuesAt {
    /// What the rule makes of each position.
    pub(super) fn outcomes(&self) -> Vec<Outcomes> {
        let each = self.each.iter().enumerate();
        each.map(|(place, found)| match found {
            AtPosition::Compared(found) => Outcomes::of(found),
            AtPosition::AfterOnly { after, .. } => {
                Outcomes::after_only(after.at_limit, after.scale.improvement.is_some())
            }
            AtPosition::NotTaken { before, .. } => {
                let before = before.as_ref().map(|before| before.at_limit);
                Outcomes::before_only(before, self.scales.scale(place).has_limit())
            }
        })
        .collect()
    }
}

impl PassesAt {
    /// What the rule makes of each position.
    pub(super) fn outcomes(&self) -> Vec<Outcomes> {
        let each = self.each.iter();
        each.map(|found| match found {
            AtPosition::Compared(found) => Outcomes::of_count(found),
            AtPosition::AfterOnly { after, .. } => Outcomes::after_only(after.at_limit, false),
            AtPosition::NotTaken { before, .. } => {
                let before = before.as_ref().map(|before| before.at_limit);
                Outcomes::before_only(before, self.min.is_some())
            }
        })
        .collect()
    }
}

impl ExactsAt {
    /// What the rule makes of each position.
    pub(super) fn outcomes(&self) -> Vec<Outcomes> {
        let each = self.each.iter();
        each.map(|found| match found {
            AtPosition::Compared(pair) => Outcomes::plain(pair.outcome_before, pair.outcome),
            AtPosition::AfterOnly { after, .. } => Outcomes::after_only(after.at_limit, false),
            AtPosition::NotTaken { before, .. } => {
                let before = before.as_ref().map(|before| before.at_limit);
                Outcomes::before_only(before, self.scale.has_limit())
            }
        })
        .collect()
    }
}
