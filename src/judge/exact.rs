//! Grades and exact counts, before and after. They have no ±: each meets its limit or does
//! not. What may be claimed of a change is another question: one reading in each run shows
//! none; of several positions, the sign test of those that changed can.

use super::change::{Change, Claim, Step};
use super::zone::Outcome;
use crate::job::{Better, CountLimits, ExactScale};

/// One exact reading before and after.
#[derive(Debug, Clone, Copy)]
pub struct ExactPair {
    /// Before the work.
    pub baseline: u32,
    /// After it.
    pub retest: u32,
    /// How they compare; none where no direction is better.
    pub step: Option<Step>,
    /// The baseline at its limit.
    pub outcome_before: Outcome,
    /// The retest at its limit.
    pub outcome: Outcome,
}

/// An exact reading of one run that is compared with no other.
#[derive(Debug, Clone, Copy)]
pub struct ExactAlone {
    /// What was read.
    pub found: u32,
    /// Whether it meets its limit.
    pub at_limit: Outcome,
}

/// Compares two exact readings.
pub fn compare(scale: &ExactScale, baseline: u32, retest: u32) -> ExactPair {
    ExactPair {
        baseline,
        retest,
        step: step(scale, baseline, retest),
        outcome_before: at_limit(scale, baseline),
        outcome: at_limit(scale, retest),
    }
}

/// An exact reading of one run alone.
pub fn alone(scale: &ExactScale, found: u32) -> ExactAlone {
    ExactAlone {
        found,
        at_limit: at_limit(scale, found),
    }
}

/// An exact reading at its limit; exactly at it is inside.
pub fn at_limit(scale: &ExactScale, read: u32) -> Outcome {
    let met = match scale {
        _ if !scale.has_limit() => return Outcome::NoLimit,
        ExactScale::Grades(grades) => grades.least.is_none_or(|least| read as usize >= least),
        ExactScale::Counts(limits) => outside(limits, read) == 0,
    };
    if met { Outcome::Pass } else { Outcome::Fail }
}

/// How far a count is outside its limits.
fn outside(limits: &CountLimits, read: u32) -> u32 {
    let below = limits.min.map_or(0, |min| min.saturating_sub(read));
    let above = limits.max.map_or(0, |max| read.saturating_sub(max));
    below.max(above)
}

/// How the second of two readings compares with the first.
fn step(scale: &ExactScale, before: u32, after: u32) -> Option<Step> {
    // The better of the two is the one with less of this.
    let [before, after] = match scale {
        ExactScale::Grades(_) => [after, before],
        ExactScale::Counts(limits) => match limits.better? {
            Better::Lower => [before, after],
            Better::Higher => [after, before],
            Better::Inside => [before, after].map(|read| outside(limits, read)),
        },
    };
    Some(match after.cmp(&before) {
        std::cmp::Ordering::Less => Step::Better,
        std::cmp::Ordering::Equal => Step::Same,
        std::cmp::Ordering::Greater => Step::Worse,
    })
}

impl ExactPair {
    /// What counts of a single reading for the verdict.
    pub(super) fn change(&self) -> Option<Change> {
        self.step.map(Step::change)
    }

    /// What is said of it.
    pub(super) fn claim(&self, fair: bool) -> Option<Claim> {
        self.step.map(|step| step.claim(fair))
    }
}

#[cfg(test)]
mod tests {
    use super::super::counts::PairedCount;
    use super::*;
    use crate::job::Grades;

    fn grades(least: usize) -> ExactScale {
        ExactScale::Grades(Grades {
            names: ["none", "faint", "clear"].map(str::to_owned).to_vec(),
            least: Some(least),
        })
    }

    fn counts(min: Option<u32>, max: Option<u32>, better: Option<Better>) -> ExactScale {
        ExactScale::Counts(CountLimits { min, max, better })
    }

    #[test]
    fn a_reading_exactly_at_its_limit_meets_it() {
        let met = |scale: &ExactScale, read| at_limit(scale, read);
        assert_eq!(met(&grades(1), 0), Outcome::Fail);
        assert_eq!(met(&grades(1), 1), Outcome::Pass);
        let none = counts(None, Some(0), Some(Better::Lower));
        assert_eq!(
            (met(&none, 0), met(&none, 1)),
            (Outcome::Pass, Outcome::Fail)
        );
        let band = counts(Some(3), Some(5), Some(Better::Inside));
        let found = [2, 3, 5, 6].map(|read| met(&band, read));
        assert_eq!(
            found,
            [Outcome::Fail, Outcome::Pass, Outcome::Pass, Outcome::Fail]
        );
        assert_eq!(met(&counts(None, None, None), 7), Outcome::NoLimit);
    }

    #[test]
    fn which_of_two_readings_is_better() {
        let of = |scale: &ExactScale, b, a| step(scale, b, a);
        assert_eq!(of(&grades(1), 0, 2), Some(Step::Better));
        assert_eq!(of(&grades(1), 2, 2), Some(Step::Same));
        assert_eq!(of(&grades(1), 2, 1), Some(Step::Worse));
        let fewer = counts(None, Some(0), Some(Better::Lower));
        assert_eq!(of(&fewer, 3, 1), Some(Step::Better));
        let more = counts(Some(4), None, Some(Better::Higher));
        assert_eq!(of(&more, 3, 1), Some(Step::Worse));
        // Inside 3 to 5 all are alike; 2 and 6 are as far outside.
        let band = counts(Some(3), Some(5), Some(Better::Inside));
        assert_eq!(of(&band, 3, 5), Some(Step::Same));
        assert_eq!(of(&band, 2, 6), Some(Step::Same));
        assert_eq!(of(&band, 7, 6), Some(Step::Better));
        assert_eq!(of(&band, 4, 2), Some(Step::Worse));
        assert_eq!(of(&counts(None, None, None), 4, 2), None);
    }

    /// Of positions that are as likely to change one way as the other, at most 5 % of all
    /// repairs that did nothing are called a change, however many do not change at all. Every
    /// case is summed, none is drawn.
    #[test]
    fn the_sign_test_errs_in_no_more_than_five_of_a_hundred() {
        for positions in [5usize, 6, 9, 12] {
            for still in [0.0, 0.3, 0.8] {
                let moves: f64 = (1.0 - still) / 2.0;
                let choose = |n: usize, k: usize| -> f64 {
                    (0..k).map(|i| (n - i) as f64 / (i + 1) as f64).product()
                };
                let mut wrong = 0.0;
                for better in 0..=positions {
                    for worse in 0..=positions - better {
                        let ways = choose(positions, better) * choose(positions - better, worse);
                        let changed = (better + worse) as i32;
                        let same = (positions - better - worse) as i32;
                        let chance = ways * moves.powi(changed) * f64::powi(still, same);
                        let counted =
                            PairedCount::of_signs(better as u32, worse as u32, positions, true);
                        if !matches!(counted.change, Change::NoDetectable) {
                            wrong += chance;
                        }
                    }
                }
                assert!(
                    wrong <= 0.05,
                    "{positions} positions, {still} still: {wrong}"
                );
                assert_eq!(positions >= 6, wrong > 0.0, "{positions}");
            }
        }
    }
}
