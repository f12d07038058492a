//! What the decision rule makes of a measure: of its parts, and of the whole.

use super::comparison::Comparison;
use super::counts::CountComparison;
use super::exact::{ExactAlone, ExactPair};
use super::finding::{AtPosition, CountAlone, ExactsAt, PassesAt, ValueAlone, ValuesAt};
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

    /// Of one position: compared, read in one run only, or in none. `has_limit` says whether
    /// a retest is asked for there, `improvement` whether it must be better than before.
    fn at_position<Both, One: AtLimit>(
        found: &AtPosition<Both, One>,
        compared: impl Fn(&Both) -> Self,
        has_limit: bool,
        improvement: bool,
    ) -> Self {
        match found {
            AtPosition::Compared(found) => compared(found),
            AtPosition::AfterOnly { after, .. } => Self::after_only(after.at_limit(), improvement),
            AtPosition::NotTaken { before, .. } => Self {
                before: before.as_ref().map_or(Outcome::NoLimit, One::at_limit),
                ..if has_limit { Self::UNREAD } else { Self::NONE }
            },
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

/// Something that was read in one run, at its limit.
trait AtLimit {
    fn at_limit(&self) -> Outcome;
}

impl AtLimit for ValueAlone {
    fn at_limit(&self) -> Outcome {
        self.at_limit
    }
}

impl AtLimit for CountAlone {
    fn at_limit(&self) -> Outcome {
        self.at_limit
    }
}

impl AtLimit for ExactAlone {
    fn at_limit(&self) -> Outcome {
        self.at_limit
    }
}

impl ValuesAt {
    /// What the rule makes of each position.
    pub(super) fn outcomes(&self) -> Vec<Outcomes> {
        let each = self.each.iter().enumerate();
        each.map(|(place, found)| {
            let scale = self.scales.scale(place);
            let improvement = scale.improvement.is_some();
            Outcomes::at_position(found, Outcomes::of, scale.has_limit(), improvement)
        })
        .collect()
    }
}

impl PassesAt {
    /// What the rule makes of each position.
    pub(super) fn outcomes(&self) -> Vec<Outcomes> {
        let has_limit = self.min.is_some();
        let of = |found| Outcomes::at_position(found, Outcomes::of_count, has_limit, false);
        self.each.iter().map(of).collect()
    }
}

impl ExactsAt {
    /// What the rule makes of each position.
    pub(super) fn outcomes(&self) -> Vec<Outcomes> {
        let compared = |pair: &ExactPair| Outcomes::plain(pair.outcome_before, pair.outcome);
        let each = self.each.iter().enumerate();
        each.map(|(place, found)| {
            let has_limit = self.scales.scale(place).has_limit();
            Outcomes::at_position(found, compared, has_limit, false)
        })
        .collect()
    }
}
