//! In which of the bands of a standard a value lies, with the probability of each.

use super::special_functions::normal_below;
use crate::job::{Bands, Scale};
use crate::quantity::{Estimate, Quantity, at_most_within};

/// A value among the bands of its scale.
#[derive(Debug, Clone)]
pub struct InBands {
    /// The place of the band in which the value itself lies.
    pub band: usize,
    /// The probability that the true value lies in each, given the reading and its
    /// uncertainty, and nothing else (as conformity: JCGM 106:2012, 7.2).
    pub shares: Vec<f64>,
}

/// One reading among the bands of its scale, where it has some.
pub fn one(scale: &Scale, reading: &Estimate) -> Option<InBands> {
    Some(in_bands(scale.bands.as_ref()?, reading))
}

/// Both readings among the bands of their scale, where it has some.
pub fn both(scale: &Scale, readings: [&Estimate; 2]) -> Option<[InBands; 2]> {
    let bands = scale.bands.as_ref()?;
    Some(readings.map(|reading| in_bands(bands, reading)))
}

fn in_bands(bands: &Bands, reading: &Estimate) -> InBands {
    let ends: Vec<f64> = bands.upper.iter().map(Quantity::si).collect();
    let is_below = |end: f64| at_most_within(reading.value, end, reading.noise);
    let below = |end: f64| {
        if reading.spread > 0.0 {
            normal_below((end - reading.value) / reading.spread)
        } else {
            f64::from(u8::from(is_below(end)))
        }
    };
    let edges: Vec<f64> = ends.iter().map(|end| below(*end)).chain([1.0]).collect();
    let lower = [0.0].into_iter().chain(edges.iter().copied());
    InBands {
        band: ends.iter().filter(|end| !is_below(**end)).count(),
        shares: lower.zip(&edges).map(|(low, high)| high - low).collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::super::fixtures::{reading, scale};
    use super::*;
    use crate::quantity::Unit;

    /// Evaluation zones of ISO 20816-3, group 2 on rigid supports: 1.4, 2.8 and 4.5 mm/s (from
    /// memory). At 2.7 with u = 0.1, z is −13, 1 and 18: A 0, B Φ(1) = 0.841345, C the rest.
    #[test]
    fn zones_of_iso_20816_3_with_their_probabilities() {
        let unit = Unit::named("mm/s").unwrap();
        let quantity = |value: f64| Quantity::new(value, unit).unwrap();
        let bands = Bands {
            names: ["A", "B", "C", "D"].map(str::to_owned).to_vec(),
            upper: [1.4, 2.8, 4.5].map(quantity).to_vec(),
            source: "ISO 20816-3:2022, table A.2".into(),
        };
        let of = |value: f64, u: f64| in_bands(&bands, &reading(value / 1e3, u / 1e3));
        let near = of(2.7, 0.1);
        assert_eq!(near.band, 1);
        for (found, wanted) in near.shares.iter().zip([0.0, 0.841_345, 0.158_655, 0.0]) {
            assert!((found - wanted).abs() < 1e-6, "{:?}", near.shares);
        }
        let sum: f64 = of(2.8, 1.0).shares.iter().sum();
        assert!((sum - 1.0).abs() < 1e-12);
        // A value exactly at an end still belongs to the band below it.
        assert_eq!(of(2.8, 0.1).band, 1);
        assert_eq!((of(1.0, 0.1).band, of(4.6, 0.1).band), (0, 3));
        let none = scale(None, None, None);
        let read = reading(1.0, 0.1);
        assert!(both(&none, [&read, &read]).is_none());
    }
}
