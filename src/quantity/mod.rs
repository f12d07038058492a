//! Numbers that mean something: a finite value with its unit, and a value with
//! its standard uncertainty.
//!
//! This room knows nothing of jobs. It guarantees three things to every other
//! room: a number is finite, a temperature is never mistaken for a temperature
//! difference, and a printed figure is rounded in one place only.
//!
//! Calculations run in coherent SI units (metre, kilogram, second, ampere,
//! kelvin; ratios as plain numbers). A [`Unit`] converts at the edges.

mod counterpart;
mod estimate;
mod rounding;
mod spelling;
mod unit;
mod units;

pub use counterpart::System;
pub use estimate::{Component, Estimate, Source, Written};
pub use rounding::{
    at_least, at_most, at_most_within, noise_of, place_of_step, places, places_for, ten_to,
    to_decimals,
};
pub use spelling::{Against, near_units, pressure_against, unit_symbols};
pub use unit::{Dimension, Unit};

use std::fmt;

use rust_decimal::Decimal;

/// A finite number with the unit, and where it comes from a file the digits, in which it
/// was written: 2.40 s is as long as 2.4 s, but it was read to another step.
///
/// Two quantities are equal if their numbers and units are, whatever the digits.
///
/// ```
/// use retestify::quantity::{Quantity, Unit};
///
/// let crank = Quantity::new(2.1, Unit::named("s").unwrap()).unwrap();
/// assert_eq!(crank.si(), 2.1);
/// assert!(Quantity::new(f64::NAN, Unit::named("s").unwrap()).is_err());
/// ```
#[derive(Debug, Clone, Copy)]
pub struct Quantity {
    written: f64,
    unit: &'static Unit,
    digits: Option<Decimal>,
}

impl PartialEq for Quantity {
    fn eq(&self, other: &Self) -> bool {
        self.written == other.written && self.unit == other.unit
    }
}

/// The number was NaN or infinite, or becomes so in SI units.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NotFiniteError;

impl fmt::Display for NotFiniteError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("the number is not finite")
    }
}

impl std::error::Error for NotFiniteError {}

impl Quantity {
    /// Takes `written` in `unit`; in which digits it was written is not known.
    ///
    /// # Errors
    /// [`NotFiniteError`] when the number, or its SI value, is NaN or infinite.
    pub fn new(written: f64, unit: &'static Unit) -> Result<Self, NotFiniteError> {
        if written.is_finite() && unit.to_si(written).is_finite() {
            Ok(Self {
                written,
                unit,
                digits: None,
            })
        } else {
            Err(NotFiniteError)
        }
    }

    /// The same with the digits in which its number was written, as [`digits_of`] gives
    /// them; digits of another number are dropped.
    #[must_use]
    pub fn with_digits(self, digits: Option<Decimal>) -> Self {
        let same = |digits: &Decimal| digits.to_string().parse() == Ok(self.written);
        Self {
            digits: digits.filter(same),
            ..self
        }
    }

    /// The number as it was written, in [`Quantity::unit`].
    pub fn written(&self) -> f64 {
        self.written
    }

    /// The number with all digits that were written, trailing zeros too; none where it
    /// was worked out.
    pub fn digits(&self) -> Option<Decimal> {
        self.digits
    }

    /// What the last written digit is worth, in SI units: 0.1 for 6.0 s, 1 for 6 s.
    pub fn step(&self) -> Option<f64> {
        let step = |digits: Decimal| ten_to(-(digits.scale() as i32));
        self.digits
            .map(|digits| self.unit.difference_to_si(step(digits)))
    }

    /// The value in SI units, where it is a difference: without the zero of its scale.
    pub fn difference_si(&self) -> f64 {
        self.unit.difference_to_si(self.written)
    }

    /// The value in coherent SI units.
    pub fn si(&self) -> f64 {
        self.unit.to_si(self.written)
    }

    /// The unit in which the number was written.
    pub fn unit(&self) -> &'static Unit {
        self.unit
    }
}

/// The number that `text` writes, with all its digits: `2.40`, `+3`, `2.40e1` (which is
/// 24.0, read to tenths). None where they are more than 28.
///
/// A whole number ends at its units: whether the zeros of 1500 or of 1.5e3 were read
/// nobody can see.
pub fn digits_of(text: &str) -> Option<Decimal> {
    let digits = if text.contains(['e', 'E']) {
        Decimal::from_scientific(text).ok()?
    } else {
        Decimal::from_str_exact(text).ok()?
    };
    // No minus zero: it would be printed.
    Some(if digits.is_zero() {
        digits.abs()
    } else {
        digits
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn digits_are_those_of_the_text() {
        for (text, digits) in [
            ("2.40", "2.40"),
            ("+14.0", "14.0"),
            ("-0.0", "0.0"),
            ("2.40e1", "24.0"),
            ("2.40E-1", "0.240"),
            ("1.5e3", "1500"),
            ("6", "6"),
            ("0.123456789012345678901234", "0.123456789012345678901234"),
        ] {
            assert_eq!(digits_of(text).unwrap().to_string(), digits, "{text}");
        }
        for text in [
            "",
            "nan",
            "inf",
            "1e400",
            "0.12345678901234567890123456789012",
        ] {
            assert_eq!(digits_of(text), None, "{text}");
        }
    }

    #[test]
    fn digits_belong_to_their_number() {
        let two = quantity(2.4, "s");
        assert_eq!(two.digits(), None);
        assert_eq!(two.step(), None);
        assert_eq!(two.with_digits(digits_of("2.4")).step(), Some(0.1));
        assert_eq!(two.with_digits(digits_of("2.5")).digits(), None);
        assert_eq!(two, two.with_digits(digits_of("2.40")));
        let minutes = quantity(3.0, "min").with_digits(digits_of("3"));
        assert_eq!(minutes.step(), Some(60.0));
        // A step of a temperature has no zero offset.
        let warm = quantity(20.5, "°C").with_digits(digits_of("20.5"));
        assert_eq!(warm.step(), Some(0.1));
    }

    fn quantity(value: f64, unit: &str) -> Quantity {
        Quantity::new(value, Unit::named(unit).unwrap()).unwrap()
    }

    /// NIST SP 811 (2008), appendix B.8: 1 psi = 6.894 757 kPa, and 4.2.1.1
    /// with B.8: t/°C = (t/°F − 32)/1.8.
    #[test]
    fn converts_as_nist_sp_811_b8() {
        assert!((quantity(1.0, "psi").si() - 6894.757).abs() < 1e-3);
        assert!((quantity(1.0, "gal").si() - 3.785_412e-3).abs() < 1e-9);
        assert!((quantity(1.0, "inHg").si() - 3386.389).abs() < 1e-3);
        assert!((quantity(1.0, "lbf·ft").si() - 1.355_818).abs() < 1e-6);
        assert!((quantity(1.0, "hp").si() - 745.6999).abs() < 1e-3);
        assert!((quantity(212.0, "°F").si() - 373.15).abs() < 1e-9);
    }

    /// 9 F-degrees of difference are 5 K, whatever the zero of the scale
    /// (NIST SP 811, B.8: 1 °F as an interval = 5/9 K).
    #[test]
    fn a_temperature_difference_has_no_zero_offset() {
        assert!((quantity(9.0, "Δ°F").si() - 5.0).abs() < 1e-12);
        assert!((quantity(5.0, "Δ°C").si() - 5.0).abs() < 1e-12);
        assert_ne!(
            quantity(5.0, "°C").unit().dimension(),
            quantity(5.0, "K").unit().dimension()
        );
    }

    #[test]
    fn an_infinite_si_value_is_refused_too() {
        let hours = Unit::named("h").unwrap();
        assert_eq!(Quantity::new(1e308, hours), Err(NotFiniteError));
    }
}
