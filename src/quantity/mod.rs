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
mod unit;
mod units;

pub use counterpart::System;
pub use estimate::{Component, Estimate, Source};
pub use rounding::{at_least, at_most, at_most_within, decimals_for, noise_of, to_decimals};
pub use unit::{Dimension, Unit, near_units, unit_symbols};

use std::fmt;

/// A finite number with the unit in which it was written.
///
/// ```
/// use retestify::quantity::{Quantity, Unit};
///
/// let crank = Quantity::new(2.1, Unit::named("s").unwrap()).unwrap();
/// assert_eq!(crank.si(), 2.1);
/// assert!(Quantity::new(f64::NAN, Unit::named("s").unwrap()).is_err());
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Quantity {
    written: f64,
    unit: &'static Unit,
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
    /// Takes `written` in `unit`.
    ///
    /// # Errors
    /// [`NotFiniteError`] when the number, or its SI value, is NaN or infinite.
    pub fn new(written: f64, unit: &'static Unit) -> Result<Self, NotFiniteError> {
        if written.is_finite() && unit.to_si(written).is_finite() {
            Ok(Self { written, unit })
        } else {
            Err(NotFiniteError)
        }
    }

    /// The number as it was written, in [`Quantity::unit`].
    pub fn written(&self) -> f64 {
        self.written
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

#[cfg(test)]
mod tests {
    use super::*;

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
