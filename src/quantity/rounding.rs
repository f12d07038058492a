//! Rounding for print, and comparison that is not upset by the last bit.

use std::str::FromStr;

use rust_decimal::{Decimal, RoundingStrategy};

/// Relative slack under which two computed values count as equal: a few units
/// in the last place of a double, far below anything measured.
const SLACK: f64 = 16.0 * f64::EPSILON;

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

/// Rounds to `decimals` places, ties to even (NIST SP 811, B.7.1; ASTM E29,
/// 6.4), from the decimal figure a person wrote rather than from its binary
/// neighbour: 2.675 to two places gives 2.68.
///
/// Fifteen significant digits are kept before rounding, which removes the noise
/// that a unit conversion leaves. A minus sign is the typographic one (U+2212).
/// Values too large for a decimal are printed with an exponent.
pub fn to_decimals(value: f64, decimals: u32) -> String {
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
            format!("{rounded:.*}", decimals.min(28) as usize)
        }
        Err(_) if value.abs() < 1.0 => format!("{:.*}", decimals.min(28) as usize, 0.0),
        Err(_) => format!("{value:.3e}"),
    };
    text.replace('-', "\u{2212}")
}

/// The number of decimals that shows `u` with `digits` significant digits
/// (JCGM 100:2008, 7.2.6: at most two), between 0 and 9.
///
/// Returns `None` when `u` is zero: nothing then says where to stop.
pub fn decimals_for(u: f64, digits: i32) -> Option<u32> {
    if u <= 0.0 || !u.is_finite() {
        return None;
    }
    // The exponent after rounding to `digits` figures, so that 0.0996 becomes 0.10.
    let rounded = format!("{:.*e}", (digits - 1).max(0) as usize, u);
    let exponent: i32 = rounded.split_once('e')?.1.parse().ok()?;
    Some((digits - 1 - exponent).clamp(0, 9) as u32)
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
        let decimals = decimals_for(0.027, 2).unwrap();
        assert_eq!(to_decimals(10.057_62, decimals), "10.058");
        assert_eq!(decimals_for(0.0996, 2), Some(2));
        assert_eq!(decimals_for(27.3, 2), Some(0));
        assert_eq!(decimals_for(0.0, 2), None);
    }

    #[test]
    fn a_value_at_its_limit_is_inside() {
        assert!(at_most(0.1 + 0.2, 0.3));
        assert!(at_least(0.3, 0.1 + 0.2));
        assert!(!at_most(5.000_001, 5.0));
    }
}
