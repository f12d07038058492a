//! Passes of attempts, before and after.

use super::change::{Change, Claim};
use super::special_functions::{beta_quantile, coin_at_most, ln_choose};
use super::t_distribution::LEVEL;
use super::zone::Outcome;
use crate::job::Count;

/// One count before and after.
#[derive(Debug, Clone, Copy)]
pub struct CountComparison {
    /// Passes of attempts before the work.
    pub baseline: Count,
    /// Passes of attempts after it.
    pub retest: Count,
    /// Exact 95 % interval of the share that passes, before.
    pub before: Interval,
    /// The same, after.
    pub after: Interval,
    /// Two-sided p of Fisher's exact test of no change.
    pub p: f64,
    /// The smallest p that this number of attempts can give: all failing before, all passing
    /// after.
    pub smallest_p: f64,
    /// The least number of passes that is required.
    pub min: Option<u32>,
    /// What the change amounts to.
    pub change: Change,
    /// What may be claimed of it.
    pub claim: Claim,
    /// The baseline at its limit.
    pub outcome_before: Outcome,
    /// The retest at its limit: enough passes, or not. A count has no
    /// measurement uncertainty.
    pub outcome: Outcome,
}

/// A closed interval of shares, from 0 to 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Interval {
    /// Its lower end.
    pub low: f64,
    /// Its upper end.
    pub high: f64,
}

/// Compares two counts; at least `min` must pass in the retest.
pub fn compare(baseline: Count, retest: Count, min: Option<u32>, fair: bool) -> CountComparison {
    let p = fisher(baseline, retest);
    let extreme = |passes: u32, of: Count| Count::new(passes, of.attempts()).unwrap_or(of);
    let smallest_p = fisher(extreme(0, baseline), extreme(retest.attempts(), retest));
    let share = |count: Count| f64::from(count.passes()) / f64::from(count.attempts());
    let change = if p >= LEVEL {
        Change::NoDetectable
    } else if share(retest) > share(baseline) {
        Change::Improved
    } else {
        Change::Worsened
    };
    CountComparison {
        baseline,
        retest,
        before: exact_interval(baseline),
        after: exact_interval(retest),
        p,
        smallest_p,
        min,
        change,
        claim: if smallest_p < LEVEL {
            change.claim(fair)
        } else {
            Claim::TooFewAttempts
        },
        outcome_before: at_limit(baseline, min),
        outcome: after_at_limit(baseline, retest, min),
    }
}

/// The retest at its limit. With more attempts than the baseline it has to pass in the same
/// share of them, or trying for longer would help.
fn after_at_limit(baseline: Count, retest: Count, min: Option<u32>) -> Outcome {
    let enough = |min: u32| {
        let asked = u64::from(min) * u64::from(retest.attempts());
        u64::from(retest.passes()) * u64::from(baseline.attempts()) >= asked
    };
    match (at_limit(retest, min), min) {
        (Outcome::Pass, Some(min)) if retest.attempts() > baseline.attempts() && !enough(min) => {
            Outcome::Fail
        }
        (outcome, _) => outcome,
    }
}

/// A count at its limit: enough passes, or not.
pub fn at_limit(count: Count, min: Option<u32>) -> Outcome {
    match min {
        None => Outcome::NoLimit,
        Some(min) if count.passes() >= min => Outcome::Pass,
        Some(_) => Outcome::Fail,
    }
}

impl CountComparison {
    /// The number of attempts, where both runs made as many.
    pub fn attempts(&self) -> Option<u32> {
        let attempts = self.retest.attempts();
        (self.baseline.attempts() == attempts).then_some(attempts)
    }

    /// Whether each run passed often enough; without a limit, in every attempt.
    pub(super) fn is_enough(&self) -> [bool; 2] {
        match self.min {
            None => [self.baseline, self.retest].map(|count| is_enough(count, None)),
            Some(_) => {
                [self.outcome_before, self.outcome].map(|outcome| matches!(outcome, Outcome::Pass))
            }
        }
    }
}

/// Whether a run passed often enough; without a limit, in every attempt.
pub fn is_enough(count: Count, min: Option<u32>) -> bool {
    count.passes() >= min.unwrap_or(count.attempts())
}

/// How many positions are within their limits, before and after.
#[derive(Debug, Clone)]
#[cfg_attr(test, derive(PartialEq, Eq))]
pub struct Share {
    /// Each position that was read at all, in the order of its set, before and after; none
    /// where it was not read in that run.
    pub each: Vec<[Option<bool>; 2]>,
}

impl Share {
    /// The positions of which `good` says anything, in each run.
    pub(super) fn count<T>(positions: &[T], good: impl Fn(&T) -> [Option<bool>; 2]) -> Self {
        let each = positions.iter().map(good);
        Self {
            each: each
                .filter(|both| both.iter().any(Option::is_some))
                .collect(),
        }
    }

    /// How many are as they should be in the run `run`, and of how many that were read.
    pub fn of_run(&self, run: usize) -> [usize; 2] {
        let read = || self.each.iter().filter_map(move |both| both[run]);
        [read().filter(|good| *good).count(), read().count()]
    }
}

/// The same positions before and after: how many now pass and did not before, how many no
/// longer pass; of exact readings, how many are better and how many worse.
#[derive(Debug, Clone, Copy)]
pub struct PairedCount {
    /// Failed before, pass after; or better than before.
    pub gained: u32,
    /// Passed before, fail after; or worse than before.
    pub lost: u32,
    /// Two-sided p of the exact test of no change.
    pub p: f64,
    /// The smallest p that this number of positions can give: all gained.
    pub smallest_p: f64,
    /// What the change amounts to.
    pub change: Change,
    /// What may be claimed of it.
    pub claim: Claim,
}

impl PairedCount {
    /// Pairs each position with itself; it passes with at least the number of passes that
    /// required, or in every attempt where there is no limit.
    pub fn of(cylinders: &[CountComparison], fair: bool) -> Self {
        let count = |test: &dyn Fn(bool, bool) -> bool| {
            let matching = cylinders.iter().map(CountComparison::is_enough);
            let matching = matching
                .filter(|[before, after]| test(*before, *after))
                .count();
            u32::try_from(matching).unwrap_or(u32::MAX)
        };
        let gained = count(&|before, after| !before && after);
        let lost = count(&|before, after| before && !after);
        let together = Self::of_signs(gained, lost, cylinders.len(), fair);
        let change = Self::change(cylinders, together.change);
        Self {
            change,
            // A single position may show a change where all together do not.
            claim: Self::claim(change, together.smallest_p, fair),
            ..together
        }
    }

    /// Of `of` positions so many got better and so many got worse: the exact sign test of
    /// those that changed. McNemar's is the same, of passes and fails.
    pub(super) fn of_signs(gained: u32, lost: u32, of: usize, fair: bool) -> Self {
        let p = mcnemar(gained, lost);
        let smallest_p = mcnemar(u32::try_from(of).unwrap_or(u32::MAX), 0);
        let change = match (p < LEVEL, gained > lost) {
            (true, true) => Change::Improved,
            (true, false) => Change::Worsened,
            (false, _) => Change::NoDetectable,
        };
        Self {
            gained,
            lost,
            p,
            smallest_p,
            change,
            claim: Self::claim(change, smallest_p, fair),
        }
    }

    fn claim(change: Change, smallest_p: f64, fair: bool) -> Claim {
        match change {
            Change::NoDetectable if smallest_p >= LEVEL => Claim::TooFewPositions,
            Change::NoDetectable | Change::Improved | Change::Worsened => change.claim(fair),
        }
    }

    /// What all positions together show. McNemar's test sees only those that changed from
    /// fail to pass or back; a position whose own test shows a change, at a level shared
    /// between the positions (Bonferroni), counts as well.
    fn change(cylinders: &[CountComparison], together: Change) -> Change {
        let level = LEVEL / cylinders.len().max(1) as f64;
        let alone = cylinders.iter().filter(|cylinder| cylinder.p < level);
        let all = alone.map(|cylinder| cylinder.change).chain([together]);
        Change::overall(all).unwrap_or(together)
    }
}

/// McNemar's exact test, two-sided: twice the binomial tail of the rarer of the two
/// kinds of change, with p = ½, at most 1.
pub fn mcnemar(gained: u32, lost: u32) -> f64 {
    let changed = u64::from(gained) + u64::from(lost);
    (2.0 * coin_at_most(u64::from(gained.min(lost)), changed)).min(1.0)
}

/// The exact 95 % interval of Clopper and Pearson (1934): quantiles of two beta
/// distributions.
pub fn exact_interval(count: Count) -> Interval {
    let (k, n) = (f64::from(count.passes()), f64::from(count.attempts()));
    Interval {
        low: if k == 0.0 {
            0.0
        } else {
            beta_quantile(LEVEL / 2.0, k, n - k + 1.0)
        },
        high: if k == n {
            1.0
        } else {
            beta_quantile(1.0 - LEVEL / 2.0, k + 1.0, n - k)
        },
    }
}

/// Fisher's exact test of two independent counts, two-sided: the probability,
/// with both margins fixed, of all tables no likelier than the one found.
///
/// Worked out by logarithms: from some 500 attempts on, the number of ways to choose is
/// beyond what a float can hold.
pub fn fisher(first: Count, second: Count) -> f64 {
    let total = u64::from(first.attempts()) + u64::from(second.attempts());
    let passes = u64::from(first.passes()) + u64::from(second.passes());
    let draws = u64::from(first.attempts());
    let ways = ln_choose(total, draws);
    let probability =
        |k: u64| libm::exp(ln_choose(passes, k) + ln_choose(total - passes, draws - k) - ways);
    let found = probability(u64::from(first.passes()));
    let least = (draws + passes).saturating_sub(total);
    let p: f64 = (least..=draws.min(passes))
        .map(probability)
        // Tables of equal probability differ in their last bits.
        .filter(|probability| *probability <= found * (1.0 + 1e-7))
        .sum();
    p.min(1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn count(passes: u32, attempts: u32) -> Count {
        Count::new(passes, attempts).unwrap()
    }

    /// Fisher's tea tasting, [[3, 1], [1, 3]]: p = 0.4857 (34/70), as printed in
    /// R's documentation of `fisher.test`.
    #[test]
    fn tea_tasting() {
        assert!((fisher(count(3, 4), count(1, 4)) - 34.0 / 70.0).abs() < 1e-12);
    }

    /// Clopper–Pearson 95 % intervals of 81/263 and 0/20, as Newcombe (1998),
    /// Statistics in Medicine 17:857, table I, gives them (from memory of the
    /// paper): (0.2527, 0.3676) and (0, 0.1684). 3/3 and 5/10 computed with R.
    #[test]
    fn exact_intervals_as_newcombe_table_i() {
        for (passes, attempts, low, high) in [
            (81, 263, 0.252_736_7, 0.367_621_9),
            (0, 20, 0.0, 0.168_433_5),
            (3, 3, 0.292_401_8, 1.0),
            (5, 10, 0.187_086_0, 0.812_914_0),
        ] {
            let found = exact_interval(count(passes, attempts));
            assert!(
                (found.low - low).abs() < 1e-6,
                "{passes}/{attempts}: {found:?}"
            );
            assert!(
                (found.high - high).abs() < 1e-6,
                "{passes}/{attempts}: {found:?}"
            );
        }
    }

    /// Exact McNemar by hand: 2·Σ C(n, k)/2ⁿ for k up to the smaller count.
    #[test]
    fn mcnemar_exact_by_hand() {
        for (gained, lost, p) in [
            (5, 0, 0.0625),
            (6, 0, 0.03125),
            (10, 2, 0.038_574_218_75),
            (1, 9, 0.021_484_375),
            (4, 12, 0.076_812_744_140_625),
            (5, 5, 1.0),
            (0, 0, 1.0),
        ] {
            assert!(
                (mcnemar(gained, lost) - p).abs() < 1e-12,
                "{gained}, {lost}"
            );
        }
    }

    /// One cylinder, 20 of 20 to 1 of 20, still "passes" with a limit of 1: McNemar
    /// sees nothing, but it got worse.
    #[test]
    fn a_cylinder_that_plainly_got_worse_is_seen() {
        let worse = compare(count(20, 20), count(1, 20), Some(1), true);
        let paired = PairedCount::of(&[worse], true);
        assert_eq!((paired.gained, paired.lost), (0, 0));
        assert_eq!(paired.change, Change::Worsened);
        let better = compare(count(0, 20), count(10, 20), Some(1), true);
        assert_eq!(PairedCount::of(&[better], true).change, Change::Improved);
    }

    /// With five cylinders the smallest p is 2/2⁵ = 0.0625: nothing can be shown.
    #[test]
    fn few_cylinders_can_show_nothing() {
        let all = |n: usize| {
            let one = compare(count(0, 2), count(2, 2), Some(2), true);
            PairedCount::of(&vec![one; n], true)
        };
        assert_eq!(all(5).gained, 5);
        assert!((all(5).p - 0.0625).abs() < 1e-12);
        assert_eq!(all(5).claim, Claim::TooFewPositions);
        assert_eq!(all(5).change, Change::NoDetectable);
        assert_eq!(all(6).claim, Claim::Improved);
        assert_eq!(all(6).change, Change::Improved);
    }

    /// 4 of 6 against 6 of 6 is no proof: p = 5/11 (by hand, margins 10 of 12:
    /// C(6,4)·C(6,6)/C(12,10) = 15/66, and the mirror table is as likely).
    #[test]
    fn few_attempts_prove_little() {
        let found = compare(count(4, 6), count(6, 6), Some(6), true);
        assert!((found.p - 30.0 / 66.0).abs() < 1e-12);
        assert_eq!(found.change, Change::NoDetectable);
        assert_eq!(found.outcome, Outcome::Pass);
        // Three attempts each: at best 2·1/C(6,3) = 0.1.
        let few = compare(count(0, 3), count(3, 3), Some(3), true);
        assert!((few.smallest_p - 0.1).abs() < 1e-12);
        assert_eq!(few.claim, Claim::TooFewAttempts);
        let clear = compare(count(1, 10), count(10, 10), None, true);
        assert_eq!(clear.change, Change::Improved);
        assert_eq!(clear.claim, Claim::Improved);
        let flattered = compare(count(1, 10), count(10, 10), None, false);
        assert_eq!(flattered.claim, Claim::Apparent);
    }

    /// A single cylinder of 20 attempts each that plainly changed is a change, though one
    /// cylinder alone could never show one by McNemar's test.
    #[test]
    fn one_cylinder_with_many_attempts_can_show_a_change() {
        let better = compare(count(0, 20), count(10, 20), Some(1), true);
        assert_eq!(PairedCount::of(&[better], true).claim, Claim::Improved);
        assert_eq!(PairedCount::of(&[better], false).claim, Claim::Apparent);
        let still = compare(count(9, 20), count(10, 20), Some(1), true);
        assert_eq!(
            PairedCount::of(&[still], true).claim,
            Claim::TooFewPositions
        );
    }

    /// With a limit of 2 of 3, without a limit all 3; both runs by the same rule.
    #[test]
    fn positions_that_pass_often_enough_are_counted() {
        let of = |min| {
            let pairs = [(1, 2), (2, 3), (3, 1), (0, 2)];
            let all = pairs.map(|(b, a)| compare(count(b, 3), count(a, 3), min, true));
            Share::count(&all, |one| one.is_enough().map(Some))
        };
        let counts = |min| [0, 1].map(|run| of(min).of_run(run));
        assert_eq!(counts(Some(2)), [[2, 4], [3, 4]]);
        assert_eq!(counts(None), [[1, 4], [1, 4]]);
        assert_eq!(counts(Some(0)), [[4, 4], [4, 4]]);
        // Each in its place.
        let each = [[false, true], [true, true], [true, false], [false, true]];
        assert_eq!(of(Some(2)).each, each.map(|both| both.map(Some)));
    }

    #[test]
    fn counts_of_unequal_attempts_have_no_common_number() {
        let of = |b, a| compare(count(1, b), count(1, a), None, true).attempts();
        assert_eq!((of(3, 3), of(3, 4), of(4, 3)), (Some(3), None, None));
    }

    #[test]
    fn a_count_stands_at_its_limit_in_both_runs() {
        let found = compare(count(1, 3), count(3, 3), Some(3), true);
        assert_eq!(
            (found.outcome_before, found.outcome),
            (Outcome::Fail, Outcome::Pass)
        );
        let free = compare(count(1, 3), count(3, 3), None, true);
        assert_eq!(
            (free.outcome_before, free.outcome),
            (Outcome::NoLimit, Outcome::NoLimit)
        );
        assert_eq!(at_limit(count(2, 3), Some(2)), Outcome::Pass);
    }
}
