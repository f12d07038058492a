//! How the readings of a measure scatter: one estimate from all of its repeats.

use super::moments::mean;
use super::special_functions::{chi_squared_above, f_above};

/// Two scatters differ by more than chance where a ratio of variances as far from 1 has a
/// smaller probability than this. A choice of this project: at 5 %, one job in twenty with
/// like scatters would lose the degrees of freedom that pooling gives it.
pub const APART: f64 = 0.01;

/// A standard deviation of single readings, with its degrees of freedom.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scatter {
    /// The standard deviation, in SI units.
    pub s: f64,
    /// How many degrees of freedom it was estimated from; at least 1.
    pub dof: f64,
}

/// The scatter of both runs of a measure.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Pool {
    /// Of the baseline and of the retest; none where no reading was repeated.
    pub runs: [Option<Scatter>; 2],
    /// Whether they differ by more than chance, and so count each for itself.
    pub kept_apart: bool,
}

impl Pool {
    /// Whether any reading was repeated.
    pub fn is_known(&self) -> bool {
        self.runs.iter().any(Option::is_some)
    }

    /// The repeats of each run alone. Repeats that are paired scatter alike in both runs, so
    /// that together they are no more than one of them.
    pub fn apart<G: AsRef<[f64]>>(runs: [&[G]; 2]) -> Self {
        Self {
            runs: runs.map(|groups| Sum::of_run(groups).scatter()),
            kept_apart: false,
        }
    }

    /// Pools the repeats of both runs: each a list of groups, such as the values of one
    /// cylinder, in SI units. `step` is the step in which they were read.
    ///
    /// Sums of squares and degrees of freedom add up (JCGM 100:2008, 4.2.4), over the
    /// groups of a run and over both runs, unless the runs differ by more than chance. A
    /// run that was read once takes the scatter of the other.
    pub fn of<G: AsRef<[f64]>>(runs: [&[G]; 2], step: f64) -> Self {
        let sums = runs.map(Sum::of_run);
        let both = sums[0].and(sums[1]);
        if sums[0].dof == 0.0 || sums[1].dof == 0.0 || !differ(sums, step) {
            return Self {
                runs: [both.scatter(); 2],
                kept_apart: false,
            };
        }
        Self {
            runs: sums.map(Sum::scatter),
            kept_apart: true,
        }
    }
}

/// A sum of squared deviations, with its degrees of freedom.
#[derive(Debug, Clone, Copy)]
struct Sum {
    squares: f64,
    dof: f64,
}

impl Sum {
    fn of_run<G: AsRef<[f64]>>(groups: &[G]) -> Self {
        let nothing = Self {
            squares: 0.0,
            dof: 0.0,
        };
        let groups = groups.iter().map(|group| Self::of(group.as_ref()));
        groups.fold(nothing, Self::and)
    }

    /// Two passes: the deviations are formed first, so that nearly equal values do not
    /// cancel.
    fn of(values: &[f64]) -> Self {
        let n = values.len() as f64;
        let centre = mean(values);
        let squares: f64 = values.iter().map(|x| (x - centre) * (x - centre)).sum();
        let drift: f64 = values.iter().map(|x| x - centre).sum();
        Self {
            squares: (squares - drift * drift / n).max(0.0),
            dof: n - 1.0,
        }
    }

    fn and(self, other: Self) -> Self {
        Self {
            squares: self.squares + other.squares,
            dof: self.dof + other.dof,
        }
    }

    fn variance(self) -> f64 {
        self.squares / self.dof
    }

    fn scatter(self) -> Option<Scatter> {
        (self.dof > 0.0).then(|| Scatter {
            s: self.variance().sqrt(),
            dof: self.dof,
        })
    }
}

/// Whether the variances differ by more than chance: twice the smaller tail of the
/// F-distribution. What the step of the display hides is added to both, or readings that
/// are equal to the last digit would differ from any others.
fn differ(sums: [Sum; 2], step: f64) -> bool {
    let hidden = step * step / 12.0;
    let [one, other] = sums.map(|sum| sum.variance() + hidden);
    if one <= 0.0 || other <= 0.0 {
        return one != other;
    }
    let tail = exceeds(one / other, sums[0].dof, sums[1].dof);
    2.0 * tail.min(1.0 - tail) < APART
}

/// The probability that a ratio of two estimates of one variance, with these degrees of
/// freedom, is larger than `ratio`. The second may be known, with infinite ones.
pub fn exceeds(ratio: f64, above: f64, below: f64) -> f64 {
    if below.is_infinite() {
        return chi_squared_above(ratio * above, above);
    }
    f_above(ratio, above, below)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn is_close(found: f64, wanted: f64) {
        assert!((found / wanted - 1.0).abs() < 1e-12, "{found}, {wanted}");
    }

    fn both(pool: Pool) -> [Scatter; 2] {
        pool.runs.map(|run| run.unwrap())
    }

    const NONE: [[f64; 0]; 0] = [];

    /// NIST StRD, one-way analysis of variance, SiRstv (certified values; data from memory,
    /// the arithmetic redone): five instruments with five readings each, residual standard
    /// deviation 1.04076068334656E-01 with 20 degrees of freedom.
    #[test]
    fn pools_as_nist_certifies_for_sirstv() {
        let groups = [
            [196.3052, 196.1240, 196.1890, 196.2569, 196.3403],
            [196.3042, 196.3825, 196.1669, 196.3257, 196.0422],
            [196.1303, 196.2005, 196.2889, 196.0343, 196.1811],
            [196.2795, 196.1748, 196.1494, 196.1485, 195.9885],
            [196.2119, 196.1051, 196.1850, 196.0052, 196.2090],
        ];
        // However the groups are spread over the runs, it is one estimate.
        for cut in 0..=5 {
            let found = Pool::of([&groups[..cut], &groups[cut..]], 1e-4);
            assert!(!found.kept_apart);
            for run in both(found) {
                is_close(run.s, 1.040_760_683_346_56E-01);
                assert_eq!(run.dof, 20.0);
            }
        }
    }

    /// JCGM 100:2008, H.5, table H.9 (from memory): a Zener voltage of five readings on each
    /// of ten days. Printed there: within days 85 µV with 40 degrees of freedom, the standard
    /// deviation of the daily means 57 µV with 9, F = 2.25 against F₀.₉₅(9, 40) = 2.12 and
    /// F₀.₉₇₅ = 2.45. Repeats within a day do not show what varies between days.
    #[test]
    fn within_days_and_between_days_as_in_gum_h_5() {
        let means = [
            172.0, 116.0, 13.0, 144.0, 106.0, 31.0, 60.0, 125.0, 163.0, 41.0,
        ];
        let within = [60.0, 77.0, 111.0, 101.0, 67.0, 93.0, 80.0, 73.0, 88.0, 86.0];
        // Five readings with this mean and this standard deviation.
        let day = |(m, s): (f64, f64)| [m - s, m - s, m, m + s, m + s];
        let days: Vec<[f64; 5]> = means.into_iter().zip(within).map(day).collect();
        let [readings, _] = both(Pool::of([&days, &[]], 1.0));
        assert_eq!((readings.s.round(), readings.dof), (85.0, 40.0));
        let [between, _] = both(Pool::of([&[means], &[]], 1.0));
        assert_eq!((between.s.round(), between.dof), (57.0, 9.0));
        let f = 5.0 * (between.s / readings.s).powi(2);
        assert!((f - 2.26).abs() < 0.005, "{f}");
        let tail = exceeds(f, between.dof, readings.dof);
        assert!(tail > 0.025 && tail < 0.05, "{tail}");
        assert!((exceeds(2.12, 9.0, 40.0) - 0.05).abs() < 5e-4);
        assert!((exceeds(2.45, 9.0, 40.0) - 0.025).abs() < 5e-4);
    }

    /// Against a variance that is known it is χ²/ν: 9.210 340/2 is exceeded in 1 % of two
    /// degrees of freedom (e^−x of x = ν/2 times the ratio).
    #[test]
    fn against_what_is_known_it_is_chi_squared() {
        assert!((exceeds(4.605_170_186, 2.0, f64::INFINITY) - 0.01).abs() < 1e-11);
        assert!((exceeds(1.0, 2.0, f64::INFINITY) - (-1f64).exp()).abs() < 1e-12);
    }

    #[test]
    fn the_scatter_of_one_run_is_known() {
        let (repeated, once): (&[&[f64]], &[&[f64]]) = (&[&[9.0, 11.0]], &[&[5.0]]);
        assert!(Pool::apart([repeated, once]).is_known());
        assert!(!Pool::apart([once, once]).is_known());
    }

    #[test]
    fn a_run_that_was_read_once_takes_the_scatter_of_the_other() {
        let wanted = Scatter {
            s: 2f64.sqrt(),
            dof: 1.0,
        };
        let repeated: &[&[f64]] = &[&[9.0, 11.0]];
        let once: &[&[f64]] = &[&[5.0]];
        for runs in [[repeated, once], [once, repeated], [repeated, &[]]] {
            assert_eq!(both(Pool::of(runs, 0.1)), [wanted; 2]);
        }
        // So it does where the other agrees to the last digit and no step is known.
        let alike: &[&[f64]] = &[&[7.0, 7.0]];
        let none = Scatter { s: 0.0, dof: 1.0 };
        for runs in [[alike, once], [once, alike]] {
            let found = Pool::of(runs, 0.0);
            assert_eq!((both(found), found.kept_apart), ([none; 2], false));
        }
        assert_eq!(Pool::of([once, once], 0.1), Pool::default());
        assert_eq!(Pool::of([&NONE, &NONE], 0.1), Pool::default());
    }

    /// 2/(1 + R) of two and two degrees of freedom: 1 % at R = 199, here of 0.1² to d².
    #[test]
    fn runs_are_kept_apart_from_one_percent_on() {
        let of = |d: f64, step: f64| {
            let [wild, calm] = [[10.0 - d, 10.0, 10.0 + d], [4.9, 5.0, 5.1]];
            let one = Pool::of([&[wild], &[calm]], step);
            let other = Pool::of([&[calm], &[wild]], step);
            assert_eq!(one.kept_apart, other.kept_apart);
            one
        };
        let pooled = of(1.41, 0.0);
        assert!(!pooled.kept_apart);
        let s = ((1.41f64.powi(2) + 0.01) / 2.0).sqrt();
        for run in both(pooled) {
            is_close(run.s, s);
            assert_eq!(run.dof, 4.0);
        }
        let apart = of(1.42, 0.0);
        assert!(apart.kept_apart);
        let [wild, calm] = both(apart);
        is_close(wild.s, 1.42);
        is_close(calm.s, 0.1);
        assert_eq!((wild.dof, calm.dof), (2.0, 2.0));
        // A step of 0.1 hides 0.1²/12 in both: R is 186.
        assert!(!of(1.42, 0.1).kept_apart);
    }

    /// Readings that are equal to the last digit are not without scatter: 0.25 against
    /// 0.1²/12 is R = 301, 0.16 is 193. Without a step nothing is hidden.
    #[test]
    fn readings_that_agree_to_the_last_digit() {
        let apart = |d: f64, step: f64| {
            let wild = [10.0 - d, 10.0, 10.0 + d];
            Pool::of([&[[5.0; 3]], &[wild]], step).kept_apart
        };
        assert!(apart(0.5, 0.1) && !apart(0.4, 0.1));
        assert!(apart(1e-9, 0.0));
        assert!(!Pool::of([&[[5.0; 3]], &[[6.0; 3]]], 0.0).kept_apart);
    }

    #[test]
    fn pairs_keep_a_scatter_for_each_run() {
        let found = Pool::apart([&[[9.0, 11.0]], &[[5.0, 5.2]]]);
        let [before, after] = both(found);
        is_close(before.s, 2f64.sqrt());
        assert!((after.s - 0.02f64.sqrt()).abs() < 1e-12);
        assert_eq!((before.dof, after.dof, found.kept_apart), (1.0, 1.0, false));
    }

    /// Around a large mean nothing cancels: 1, 2 and 3 above 10⁹ have s = 1.
    #[test]
    fn nearly_equal_values_keep_their_scatter() {
        let [run, _] = both(Pool::of([&[[1e9 + 1.0, 1e9 + 2.0, 1e9 + 3.0]], &[]], 1.0));
        is_close(run.s, 1.0);
    }
}
