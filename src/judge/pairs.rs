//! Paired repeats: the same load step, hour or place in both runs.

use super::moments::{mean, standard_deviation};
use super::t_distribution::LEVEL;
use crate::quantity::{Component, Quantity, Source, noise_of};

/// The repeats of both runs in SI units; the i-th of each belong together.
#[derive(Debug, Clone)]
pub struct Pairs([Vec<f64>; 2]);

impl Pairs {
    /// Pairs two equally long lists of repeats, at least two of each.
    pub fn of(before: &[Quantity], after: &[Quantity]) -> Option<Self> {
        let si = |values: &[Quantity]| values.iter().map(Quantity::si).collect();
        (before.len() == after.len() && before.len() >= 2).then(|| Self([si(before), si(after)]))
    }

    /// The repeatability of weights\[0\] · baseline + weights\[1\] · retest: s/√n of what
    /// the pairs give one by one, with n − 1 degrees of freedom. Of the difference it is
    /// s_d/√n; whatever scatters alike within a pair drops out (JCGM 100:2008, 4.2.3,
    /// applied to the differences; covariance by 5.2.3).
    pub fn repeatability(&self, weights: [f64; 2]) -> Component {
        let [before, after] = &self.0;
        let each: Vec<f64> = before
            .iter()
            .zip(after)
            .map(|(b, a)| weights[0] * b + weights[1] * a)
            .collect();
        let count = each.len() as f64;
        // The rounding error of differences that are all equal is no scatter.
        let largest = before.iter().map(|b| weights[0] * b);
        let largest = largest.chain(after.iter().map(|a| weights[1] * a));
        let noise = noise_of(largest.fold(0.0, |most: f64, x| most.max(x.abs())));
        let spread = standard_deviation(&each, mean(&each));
        let u = if spread > noise {
            spread / count.sqrt()
        } else {
            0.0
        };
        Component::new(Source::Repeatability, u, count - 1.0)
    }

    /// The rank test of the differences, retest minus baseline.
    pub fn signed_rank(&self) -> SignedRank {
        let [before, after] = &self.0;
        let largest = before.iter().chain(after);
        let noise = 2.0 * noise_of(largest.fold(0.0, |most: f64, x| most.max(x.abs())));
        let differences: Vec<f64> = before.iter().zip(after).map(|(b, a)| a - b).collect();
        SignedRank::of(&differences, noise)
    }
}

/// The signed-rank test of Wilcoxon (1945), exact: pairs without a difference are
/// dropped, equal differences share the mean of their ranks, and p comes from all 2ⁿ
/// ways of giving the ranks their signs.
#[derive(Debug, Clone, Copy)]
pub struct SignedRank {
    /// How many pairs there are.
    pub pairs: usize,
    /// How many of them differ, and so count.
    pub used: usize,
    /// The sum of the ranks of the pairs that rose.
    pub rises: f64,
    /// The sum of the ranks of the pairs that fell.
    pub falls: f64,
    /// Two-sided p of no change; none where so few pairs could never give a small one.
    pub p: Option<f64>,
    /// The smallest p that this number of pairs can give: 2/2ⁿ.
    pub smallest_p: f64,
}

impl SignedRank {
    /// The test of `differences`, of which those up to `noise` apart count as equal.
    fn of(differences: &[f64], noise: f64) -> Self {
        let mut used: Vec<f64> = differences
            .iter()
            .copied()
            .filter(|difference| difference.abs() > noise)
            .collect();
        used.sort_by(|a, b| a.abs().total_cmp(&b.abs()));
        let doubled = doubled_ranks(&used, noise);
        let sum = |test: fn(f64) -> bool| -> usize {
            let ranks = used.iter().zip(&doubled);
            ranks.filter(|(d, _)| test(**d)).map(|(_, rank)| rank).sum()
        };
        let (rises, falls) = (sum(|d| d > 0.0), sum(|d| d < 0.0));
        let smallest_p = (2.0 * libm::exp2(-(used.len() as f64))).min(1.0);
        Self {
            pairs: differences.len(),
            used: used.len(),
            rises: rises as f64 / 2.0,
            falls: falls as f64 / 2.0,
            p: (smallest_p < LEVEL).then(|| (2.0 * tail(&doubled, rises.min(falls))).min(1.0)),
            smallest_p,
        }
    }
}

/// Twice the rank of each difference, sorted by size: whole numbers even where a tie
/// shares the mean of its ranks.
fn doubled_ranks(sorted: &[f64], noise: f64) -> Vec<usize> {
    let mut ranks = Vec::with_capacity(sorted.len());
    for tie in sorted.chunk_by(|a, b| b.abs() - a.abs() <= noise) {
        // Ranks first + 1 to first + len have the mean first + (len + 1)/2.
        let doubled = 2 * ranks.len() + tie.len() + 1;
        ranks.extend(tie.iter().map(|_| doubled));
    }
    ranks
}

/// The probability that the ranks with a positive sign sum to at most `sum`, where each
/// sign is as likely as the other.
fn tail(ranks: &[usize], sum: usize) -> f64 {
    // at[s]: the probability of a sum of s from the ranks so far.
    let mut at = vec![0.0; sum + 1];
    at[0] = 1.0;
    for rank in ranks {
        for s in (0..=sum).rev() {
            let with = s.checked_sub(*rank).map_or(0.0, |rest| at[rest]);
            at[s] = f64::midpoint(at[s], with);
        }
    }
    at.iter().sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Unit;

    fn values(list: &[f64]) -> Vec<Quantity> {
        let unit = Unit::named("1").unwrap();
        list.iter()
            .map(|v| Quantity::new(*v, unit).unwrap())
            .collect()
    }

    const DRUG_A: [f64; 10] = [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0];
    const DRUG_B: [f64; 10] = [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4];

    /// Student (1908), the sleep data of Cushny and Peebles (1905), by the exact signed-rank test: the one zero is dropped, two ties
    /// share their ranks, all nine others fell: p = 2/2⁹ (computed, full enumeration).
    #[test]
    fn student_sleep_data_signed_rank() {
        let found = Pairs::of(&values(&DRUG_B), &values(&DRUG_A))
            .unwrap()
            .signed_rank();
        assert_eq!((found.pairs, found.used), (10, 9));
        assert_eq!((found.rises, found.falls), (0.0, 45.0));
        assert_eq!(found.p, Some(0.003_906_25));
    }

    /// Hollander and Wolfe (1973), p. 29 f., depression scale: V = 40, one-sided
    /// p = 0.01953125 (printed in R's documentation of `wilcox.test` as 0.01953).
    #[test]
    #[expect(clippy::approx_constant, reason = "3.14 is a reading")]
    fn hollander_and_wolfe_depression_scale() {
        let x = [1.83, 0.50, 1.62, 2.48, 1.68, 1.88, 1.55, 3.06, 1.30];
        let y = [0.878, 0.647, 0.598, 2.05, 1.06, 1.29, 1.06, 3.14, 1.29];
        let found = Pairs::of(&values(&y), &values(&x)).unwrap().signed_rank();
        assert_eq!((found.rises, found.falls), (40.0, 5.0));
        assert_eq!(found.p, Some(2.0 * 0.019_531_25));
    }

    /// Critical values of the smaller rank sum, two-sided (standard table, from memory;
    /// computed again with R): the largest sum with p ≤ 0.05, and with p ≤ 0.01.
    #[test]
    fn critical_values_of_the_signed_rank_table() {
        let at_five = [0, 2, 3, 5, 8, 10, 13, 17, 21, 25, 29, 34, 40, 46, 52];
        let at_one = [0, 1, 3, 5, 7, 9, 12, 15, 19, 23, 27, 32, 37];
        let critical = |n: usize, level: f64| {
            let doubled: Vec<usize> = (1..=n).map(|rank| 2 * rank).collect();
            (0..=n * (n + 1) / 2)
                .take_while(|sum| 2.0 * tail(&doubled, 2 * sum) <= level)
                .last()
        };
        for (n, sum) in (6..).zip(at_five) {
            assert_eq!(critical(n, 0.05), Some(sum), "{n} pairs");
        }
        for (n, sum) in (8..).zip(at_one) {
            assert_eq!(critical(n, 0.01), Some(sum), "{n} pairs");
        }
        assert_eq!(critical(5, 0.05), None);
    }

    /// With five pairs the smallest p is 2/2⁵ = 0.0625: no p is given, however clear the
    /// change; with six it is 0.03125.
    #[test]
    fn few_pairs_can_show_nothing() {
        let of = |n: usize| {
            let before: Vec<f64> = (0..n).map(|i| 9.0 + i as f64).collect();
            let after: Vec<f64> = (0..n).map(|i| 4.0 + 0.5 * i as f64).collect();
            Pairs::of(&values(&before), &values(&after))
                .unwrap()
                .signed_rank()
        };
        assert_eq!((of(5).p, of(5).smallest_p), (None, 0.0625));
        assert_eq!(of(6).p, Some(0.03125));
        let still = Pairs::of(&values(&[1.0, 2.0]), &values(&[1.0, 2.0])).unwrap();
        assert_eq!(still.signed_rank().used, 0);
        assert_eq!(still.signed_rank().smallest_p, 1.0);
        // Two hundred pairs that all rose: 2⁻¹⁹⁹ is no zero.
        assert_eq!(of(200).p, Some(0.5f64.powi(199)));
    }

    /// 10.4 − 10.1 and 4.4 − 4.1 are both 0.3, though not in binary: a tie, and with
    /// −0.3 beside them no ranks can tell them apart.
    #[test]
    fn equal_decimals_are_ties() {
        let before = values(&[10.1, 4.1, 7.5, 3.3]);
        let after = values(&[10.4, 4.4, 7.2, 3.3]);
        let found = Pairs::of(&before, &after).unwrap().signed_rank();
        assert_eq!((found.used, found.rises, found.falls), (3, 4.0, 2.0));
    }

    /// Each of two readings of size 1 may be off by 1e-12: apart by more than twice that,
    /// they differ. Where everything is zero, nothing does.
    #[test]
    fn what_rounding_leaves_is_no_difference() {
        let used = |before: f64, after: f64| {
            let pairs = Pairs::of(&values(&[before, 1.0]), &values(&[after, 1.0])).unwrap();
            pairs.signed_rank().used
        };
        assert_eq!(used(1.0, 1.0 + 1.9e-12), 0);
        assert_eq!(used(1.0, 1.0 + 2.1e-12), 1);
        let zero = values(&[0.0; 6]);
        let found = Pairs::of(&zero, &zero).unwrap().signed_rank();
        assert_eq!((found.used, found.p), (0, None));
    }

    #[test]
    fn one_repeat_or_unequal_numbers_make_no_pairs() {
        assert!(Pairs::of(&values(&[1.0]), &values(&[2.0])).is_none());
        assert!(Pairs::of(&values(&[1.0, 2.0]), &values(&[2.0])).is_none());
        // The same shift throughout has no scatter of its own.
        let pairs = Pairs::of(&values(&[10.1, 4.1, 7.7]), &values(&[10.4, 4.4, 8.0])).unwrap();
        assert_eq!(pairs.repeatability([-1.0, 1.0]).u, 0.0);
    }
}
