//! What looks wrong in a run: a repeat that stands out, a decimal point in the wrong place,
//! a condition that no machine is in. Nothing is left out of the judgement for it; whoever
//! measured is asked to look again, before anything is sealed and when it is judged.

use super::moments::{mean, median, standard_deviation};
use super::repeats::Repeats;
use super::t_distribution::coverage_factor;
use crate::job::{ConditionReading, Instrument, Limits, Run};
use crate::quantity::{Dimension, Quantity, Unit, at_most, at_most_within, noise_of};

/// Something in a run that looks wrong, by the id of its measure or condition.
#[derive(Debug, Clone)]
#[cfg_attr(test, derive(PartialEq, Eq))]
pub enum Doubt {
    /// One repeat of this measure stands out from the others.
    StandsOut(String),
    /// One reading of this measure is about ten times its neighbours, or a tenth.
    DecimalPoint(String),
    /// No machine is in this condition.
    ImplausibleCondition(String),
}

impl Doubt {
    /// Whether it is the same of the same measure or condition.
    pub(super) fn is_same(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::StandsOut(one), Self::StandsOut(other))
            | (Self::DecimalPoint(one), Self::DecimalPoint(other))
            | (Self::ImplausibleCondition(one), Self::ImplausibleCondition(other)) => one == other,
            (Self::StandsOut(_) | Self::DecimalPoint(_) | Self::ImplausibleCondition(_), _) => {
                false
            }
        }
    }
}

/// What looks wrong in `run`, in the order of limits.toml.
pub fn doubts(instruments: &[Instrument], limits: &Limits, run: &Run) -> Vec<Doubt> {
    let mut found = Vec::new();
    for measure in &limits.measures {
        let Some(reading) = run.readings.get(&measure.id) else {
            continue;
        };
        let repeats = Repeats::of(instruments, reading);
        let stands_out = |group: &Vec<f64>| stands_out(group, repeats.step);
        if repeats.si().iter().any(stands_out) {
            found.push(Doubt::StandsOut(measure.id.clone()));
        }
        // A decimal point is misplaced in the figure that was written, whatever its unit.
        let groups: Vec<Vec<f64>> = repeats.groups.into_iter().map(written).collect();
        let neighbours: Vec<f64> = groups.iter().map(|group| mean(group)).collect();
        // Points of one test may well differ by as much.
        let are_alike = measure.kind.at().is_none_or(|at| at.points().is_none());
        let one_of_many =
            are_alike && groups.len() >= FEWEST_POSITIONS && is_ten_times(&neighbours);
        if one_of_many || groups.iter().any(|group| is_ten_times(group)) {
            found.push(Doubt::DecimalPoint(measure.id.clone()));
        }
    }
    for condition in &limits.conditions {
        let reading = run.conditions.get(&condition.id);
        if reading.is_some_and(|reading| is_implausible(&condition.id, reading)) {
            found.push(Doubt::ImplausibleCondition(condition.id.clone()));
        }
    }
    found
}

fn written(values: &[Quantity]) -> Vec<f64> {
    values.iter().map(Quantity::written).collect()
}

/// Grubbs' test is made at this two-sided level: that of an outlier in ISO 5725-2 (from
/// memory).
const OUTLIER: f64 = 0.01;

/// A reading that stands out is more than this many steps of the display from the others:
/// of 5.1, 5.1, 5.1 and 5.2 none does.
const STEPS: f64 = 3.0;

/// Whether one of three or more repeats stands out, by Grubbs' test (ISO 5725-2;
/// NIST/SEMATECH e-Handbook, 1.3.5.17.1): |x − mean|/s above (n − 1)/√n · √(t²/(n − 2 + t²)),
/// with t the upper level/(2n) point of n − 2 degrees of freedom.
fn stands_out(values: &[f64], step: f64) -> bool {
    let n = values.len() as f64;
    if values.len() < 3 {
        return false;
    }
    let centre = mean(values);
    let s = standard_deviation(values, centre);
    let t = coverage_factor(1.0 - OUTLIER / n, n - 2.0);
    let critical = (n - 1.0) / n.sqrt() * (t * t / (n - 2.0 + t * t)).sqrt();
    values.iter().any(|x| {
        // The mean of the others is further away by n/(n − 1).
        let from_others = (x - centre).abs() * n / (n - 1.0);
        let is_near = at_most_within(from_others, STEPS * step, noise_of(centre.abs() + x.abs()));
        (x - centre).abs() > critical * s && !is_near
    })
}

/// So many positions show what their neighbours read.
const FEWEST_POSITIONS: usize = 3;

/// A reading of so many times its neighbours has its decimal point in the wrong place.
const TENFOLD: std::ops::RangeInclusive<f64> = 8.0..=12.5;

fn is_tenfold(ratio: f64) -> bool {
    at_most(*TENFOLD.start(), ratio) && at_most(ratio, *TENFOLD.end())
}

/// Whether one of several readings of one sign is about ten times the median of the others,
/// or a tenth of it.
fn is_ten_times(values: &[f64]) -> bool {
    let one_sign = values.iter().all(|x| *x > 0.0) || values.iter().all(|x| *x < 0.0);
    if values.len() < 2 || !one_sign {
        return false;
    }
    (0..values.len()).any(|place| {
        let mut others = values.to_vec();
        let one = others.remove(place);
        let ratio = one / median(&others);
        is_tenfold(ratio) || is_tenfold(1.0 / ratio)
    })
}

/// Temperatures in °C that no machine at work and no weather goes beyond (common practice,
/// no published source), by the ids to which the format gives a meaning.
const PLAUSIBLE: [(&str, [f64; 2]); 3] = [
    ("ambient", [-60.0, 60.0]),
    ("coolant", [-60.0, 150.0]),
    ("oil", [-60.0, 200.0]),
];

fn is_implausible(id: &str, reading: &ConditionReading) -> bool {
    let ConditionReading::Value { value, .. } = reading else {
        return false;
    };
    match value.unit().dimension() {
        Dimension::Temperature => {
            let celsius = Unit::named("°C").map(|unit| unit.from_si(value.si()));
            let range = PLAUSIBLE.iter().find(|(known, _)| *known == id);
            celsius
                .zip(range)
                .is_some_and(|(celsius, (_, [low, high]))| {
                    // What binary rounding leaves decides nothing.
                    celsius < low - 1e-9 || celsius > high + 1e-9
                })
        }
        Dimension::Time => id == "soak" && value.si() < 0.0,
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Critical values at 1 %, two-sided: 1.1547 of three, 1.4962 of four, 1.7637 of five
    /// (published tables of Grubbs' test, from memory; recomputed with SciPy).
    #[test]
    fn one_repeat_that_stands_out() {
        assert!(stands_out(&[2402.0, 2405.0, 2400.0, 900.0], 1.0));
        assert!(!stands_out(&[2402.0, 2405.0, 2400.0, 2380.0], 10.0));
        // G of the last is (n − 1)/√n = 1.5, beyond 1.4962, but one step off is nothing.
        assert!(!stands_out(&[5.1, 5.1, 5.1, 5.2], 0.1));
        assert!(stands_out(&[5.1, 5.1, 5.1, 5.5], 0.1));
        assert!(!stands_out(&[5.1, 9.0], 0.1));
        let five = |last: f64| stands_out(&[10.0, 11.0, 12.0, 13.0, last], 0.01);
        // By hand: of 10, 11, 12, 13 and 30 the mean is 15.2, s 8.3487, G 1.7727; of 24
        // in place of 30 the mean is 14, s 5.7009, G 1.7541.
        assert!(five(30.0) && !five(24.0));
    }

    #[test]
    fn a_decimal_point_in_the_wrong_place() {
        assert!(is_ten_times(&[5.6, 56.0]));
        assert!(is_ten_times(&[5.6, 5.5, 0.56]));
        assert!(is_ten_times(&[0.5, 0.05]) && is_ten_times(&[-0.5, -0.05]));
        assert!(!is_ten_times(&[5.6, 5.5, 2.0]));
        assert!(!is_ten_times(&[5.6, -56.0]));
        // −0.56 is 10.2 times the middle of the others, but they differ in sign.
        assert!(!is_ten_times(&[-0.56, 0.05, -0.16]));
        assert!(!is_ten_times(&[5.6]));
        assert!(!is_ten_times(&[0.0, 5.6]));
    }

    #[test]
    fn a_condition_that_no_machine_is_in() {
        let read = |id: &str, value: f64, unit: &str| {
            let value = Quantity::new(value, Unit::named(unit).unwrap()).unwrap();
            let instrument = None;
            is_implausible(id, &ConditionReading::Value { value, instrument })
        };
        assert!(read("oil", 511.0, "°C"));
        assert!(!read("oil", 200.0, "°C"));
        assert!(read("ambient", 141.0, "°F"));
        assert!(!read("ambient", 140.0, "°F"));
        assert!(read("soak", -1.0, "h"));
        assert!(!read("soak", 9.0, "h") && !read("soak", 0.0, "h"));
        assert!(!read("oil", 511.0, "kPa"), "an oil that is a pressure");
        assert!(!read("exhaust", 511.0, "°C"));
    }
}
