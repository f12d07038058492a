//! Rounding for print, and comparison that is not upset by the last bit.

use std::str::FromStr;

use rust_decimal::{Decimal, RoundingStrategy};

/// Relative slack under which two computed values count as equal: what a few operations
/// on doubles leave behind, and far below anything measured.
const SLACK: f64 = 1e-12;

/// Whether `a ≤ b`, where a difference in the last bits counts as equality.
///
/// A value exactly at its limit is inside the limit. Converting units or adding
/// a guard band must not push it out by one bit.
pub fn at_most(a: f64, b: f64) -> bool {
    at_most_within(a, b, 0.0)
}

/// Whether `a ≤ b`, where a difference of `noise` counts as equality too: what
/// rounding has left in a small figure that came out of larger ones.
pub fn at_most_within(a: f64, b: f64, noise: f64) -> bool {
    a <= b + noise + SLACK * a.abs().max(b.abs())
}

/// The rounding that a few operations on figures up to `largest` leave behind.
pub fn noise_of(largest: f64) -> f64 {
    SLACK * largest.abs()
}

/// Whether `a ≥ b`, with the slack of [`at_most`].
pub fn at_least(a: f64, b: f64) -> bool {
    at_most(b, a)
}

/// Ten to the power of `n`, the same on every machine; exact as far as a number can be, which
/// is up to 10²².
pub fn ten_to(n: i32) -> f64 {
    let power = (0..n.unsigned_abs()).fold(1.0, |power: f64, _| power * 10.0);
    if n < 0 { power.recip() } else { power }
}

/// Rounds to `decimals` places, ties to even (NIST SP 811, B.7.1; ASTM E29,
/// 6.4), from the decimal figure a person wrote rather than from its binary
/// neighbour: 2.675 to two places gives 2.68.
///
/// Fifteen significant digits are kept before rounding, which removes the noise
/// that a unit conversion leaves. A minus sign is the typographic one (U+2212).
/// Values too large for a decimal are printed with an exponent. `decimals` below nothing
/// round to tens, hundreds and so on.
pub fn to_decimals(value: f64, decimals: i32) -> String {
    let (value, zeros) = if decimals < 0 {
        (value / ten_to(-decimals), (-decimals) as usize)
    } else {
        (value, 0)
    };
    let decimals = decimals.max(0) as u32;
    let scientific = format!("{value:.14e}");
    let text = match Decimal::from_scientific(&scientific)
        .or_else(|_| Decimal::from_str(&scientific))
    {
        Ok(decimal) => {
            let rounded = decimal
                .round_dp_with_strategy(decimals.min(28), RoundingStrategy::MidpointNearestEven);
            let rounded = if rounded.is_zero() {
                Decimal::ZERO
            } else {
                rounded
            };
            let digits = format!("{rounded:.*}", decimals.min(28) as usize);
            let zeros = if rounded.is_zero() { 0 } else { zeros };
            digits + &"0".repeat(zeros)
        }
        Err(_) if value.abs() < 1.0 => format!("{:.*}", decimals.min(28) as usize, 0.0),
        Err(_) => format!("{value:.3e}"),
    };
    text.replace('-', "\u{2212}")
}

/// The number of decimals that shows `u` with `digits` significant digits, at most 9;
/// below nothing where it ends before the point: −1 stands for tens.
///
/// Returns `None` when `u` is zero: nothing then says where to stop.
pub fn places_for(u: f64, digits: i32) -> Option<i32> {
    if u <= 0.0 || !u.is_finite() {
        return None;
    }
    let (_, exponent) = scientific(u, digits)?;
    Some((digits - 1 - exponent).min(MOST_PLACES))
}

/// The first digit of `u` rounded to `digits` figures, so that 0.0996 becomes 0.10, and
/// its exponent.
fn scientific(u: f64, digits: i32) -> Option<(char, i32)> {
    let rounded = format!("{:.*e}", (digits - 1).max(0) as usize, u);
    let (figure, exponent) = rounded.split_once('e')?;
    Some((figure.chars().next()?, exponent.parse().ok()?))
}

/// More decimals are never printed, unless they were written.
const MOST_PLACES: i32 = 9;

/// Where a figure and its expanded uncertainty `u` end when they are printed together, as
/// a number of decimals (below nothing: before the point). The one rule of the program:
///
/// 1. Both end at the same place, and U has at most two significant digits (JCGM 100:2008,
///    7.2.6: they should not be given "with an excessive number of digits", two usually
///    suffice, and the estimate is rounded to be consistent with its uncertainty).
/// 2. Within that, a figure ends where it was written: U then has one significant digit
///    where the second would stand behind the last written place, for what was never read
///    is not printed. 24.5 bar with U = 0.57 bar is 24.5 ± 0.6.
/// 3. A U that begins with 1 keeps two digits all the same, because one alone could be wrong
///    by a third of itself: 24.5 with U = 0.149 is 24.50 ± 0.15 (Taylor, An Introduction to
///    Error Analysis, section 2.2; from memory).
///
/// `written` is the last place that makes sense: of one reading its own last digit, of a
/// mean or a difference one more. A one-minute logger that shows 171 with U = 0.57 min
/// thus gives 171.0 ± 0.6, whether it was read once or the same ten times.
///
/// Without uncertainty a figure ends where it was written; `None` if nothing tells.
pub fn places(u: f64, written: Option<i32>) -> Option<i32> {
    let Some(two) = places_for(u, 2) else {
        return written;
    };
    let (first, _) = scientific(u, 2)?;
    let least = if first == '1' {
        two
    } else {
        places_for(u, 1)?.min(two)
    };
    Some(written.map_or(two, |written| written.clamp(least, two)))
}

/// The decimals that a figure carries which is known in steps of `step`: its last place is
/// worth as much as the step, or the next power of ten below.
///
/// For a figure that was written in the same unit it is the last written place; for a
/// converted one this is the rule of NIST SP 811 (2008), B.7.2, that a conversion neither
/// sacrifices nor exaggerates precision: 24 bar are 350 psi, 20 kPa are 2.9 psi.
pub fn place_of_step(step: f64) -> i32 {
    // What a conversion leaves must not cost a place.
    (-libm::log10(step) - 1e-9).ceil() as i32
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Ties to even, from decimal figures: vectors computed with Python's
    /// `decimal` module (ROUND_HALF_EVEN); the rule is ASTM E29, 6.4.
    #[test]
    fn rounds_half_to_even_from_the_decimal_figure() {
        for (value, decimals, text) in [
            (2.5, 0, "2"),
            (3.5, 0, "4"),
            (0.125, 2, "0.12"),
            (0.135, 2, "0.14"),
            (1.05, 1, "1.0"),
            (7.65, 1, "7.6"),
            (7.75, 1, "7.8"),
            (-2.5, 0, "−2"),
            (12.145, 2, "12.14"),
            (12.145_000_1, 2, "12.15"),
            (2.675, 2, "2.68"),
            (1485.0, -1, "1480"),
            (1495.0, -1, "1500"),
            (-273.0, -1, "−270"),
            (4.0, -1, "0"),
        ] {
            assert_eq!(to_decimals(value, decimals), text, "{value}");
        }
    }

    #[test]
    fn never_prints_minus_zero_and_survives_extremes() {
        assert_eq!(to_decimals(-0.001, 1), "0.0");
        assert_eq!(to_decimals(1e-300, 2), "0.00");
        assert_eq!(to_decimals(f64::MAX, 2), "1.798e308");
    }

    /// JCGM 100:2008, 7.2.6: 10.057 62 Ω with u = 27 mΩ is given as 10.058 Ω.
    #[test]
    fn rounds_to_the_place_of_the_uncertainty_as_gum_7_2_6() {
        let decimals = places_for(0.027, 2).unwrap();
        assert_eq!(to_decimals(10.057_62, decimals), "10.058");
        assert_eq!(places_for(0.0996, 2), Some(2));
        assert_eq!(places_for(27.3, 2), Some(0));
        assert_eq!(places_for(0.0, 2), None);
    }

    /// By hand from the rule; the last two lines are the examples of JCGM 100:2008, 7.2.6
    /// (U in place of its u): 10.057 62 Ω with 27 mΩ, and 28.05 kHz rounded down to 28.
    #[test]
    fn a_figure_ends_where_its_uncertainty_and_its_own_digits_say() {
        for (value, u, written, text) in [
            // One-minute logger: a step alone gives U = 1.96/√12 = 0.57 of it.
            (171.0, 0.566, Some(0), "171.0 ± 0.6"),
            (171.0, 0.566, Some(1), "171.0 ± 0.6"),
            (171.0, 0.8, None, "171.00 ± 0.80"),
            // One reading, to a tenth.
            (24.5, 0.57, Some(1), "24.5 ± 0.6"),
            (12.8, 0.203, Some(1), "12.8 ± 0.2"),
            (24.5, 0.149, Some(1), "24.50 ± 0.15"),
            (24.5, 0.0996, Some(1), "24.50 ± 0.10"),
            (24.5, 0.096, Some(1), "24.5 ± 0.1"),
            (24.5, 1.96, Some(1), "24.5 ± 2.0"),
            (24.5, 5.7, Some(1), "24.5 ± 5.7"),
            // Written finer than the uncertainty carries.
            (12.345, 0.57, Some(3), "12.34 ± 0.57"),
            (1482.0, 273.0, Some(0), "1480 ± 270"),
            (1482.0, 99.6, Some(0), "1480 ± 100"),
            // Written zeros stay.
            (14.0, 0.33, Some(1), "14.0 ± 0.3"),
            (2.4, 0.203, Some(2), "2.40 ± 0.20"),
            // Nothing known of how it was written: two digits.
            (12.8, 0.203, None, "12.80 ± 0.20"),
            (10.057_62, 0.027, None, "10.058 ± 0.027"),
            (1000.0, 28.05, None, "1000 ± 28"),
        ] {
            let places = places(u, written).unwrap();
            let found = format!(
                "{} ± {}",
                to_decimals(value, places),
                to_decimals(u, places)
            );
            assert_eq!(found, text, "{value} {u} {written:?}");
        }
        assert_eq!(places(0.0, Some(2)), Some(2));
        assert_eq!(places(0.0, None), None);
    }

    /// NIST SP 811 (2008), B.7.2, from memory: as many significant digits as the original,
    /// and one more where the first digit gets smaller. With 1 psi = 6.894 757 kPa (B.8).
    #[test]
    fn a_converted_figure_carries_what_was_written() {
        let psi = 6.894_757;
        for (value, step, text) in [
            (20.0 / psi, 1.0 / psi, "2.9"),
            (2400.0 / psi, 100.0 / psi, "350"),
            (100.0 * psi, psi, "689"),
            (12.42 * psi, 0.01 * psi, "85.63"),
            (0.4 / 25.4, 0.1 / 25.4, "0.016"),
            (2.40, 0.01, "2.40"),
            (7.0 / 1.8, 1.0 / 1.8, "3.9"),
        ] {
            assert_eq!(to_decimals(value, place_of_step(step)), text, "{value}");
        }
    }

    #[test]
    fn a_value_at_its_limit_is_inside() {
        assert!(at_most(0.1 + 0.2, 0.3));
        assert!(at_least(0.3, 0.1 + 0.2));
        assert!(!at_most(5.000_001, 5.0));
    }
}
