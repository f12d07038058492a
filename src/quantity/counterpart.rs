//! The unit in which a reader of the other family of units thinks.
//!
//! To pair another unit, add one line to the table; a unit may have one counterpart in
//! each family. What both families share (seconds, volts, percent) has none.

use schemars::JsonSchema;
use serde::Deserialize;

use super::Unit;

/// A family of units.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum System {
    /// SI units, and those in use with them
    Si,
    /// US customary units
    UsCustomary,
}

/// SI on the left, US customary on the right; the first line that names a unit counts.
const PAIRS: &[(&str, &str)] = &[
    ("°C", "°F"),
    ("K", "Δ°F"),
    ("Δ°C", "Δ°F"),
    ("K/min", "°F/min"),
    ("K/h", "°F/h"),
    ("kPa", "psi"),
    ("bar", "psi"),
    ("MPa", "psi"),
    ("mbar", "inH₂O"),
    ("Pa", "inH₂O"),
    ("mmH₂O", "inH₂O"),
    ("kPa", "inHg"),
    ("hPa", "inHg"),
    ("mmHg", "inHg"),
    ("kgf/cm²", "psi"),
    ("mH₂O", "ftH₂O"),
    ("mbar", "Torr"),
    ("Pa", "µmHg"),
    ("kPa/min", "psi/min"),
    ("bar/min", "psi/min"),
    ("mbar/min", "psi/min"),
    ("kPa/h", "psi/h"),
    ("bar/h", "psi/h"),
    ("mbar/h", "psi/h"),
    ("kW", "hp"),
    ("kW", "Btu/h"),
    ("kJ", "Btu"),
    ("N·m", "lbf·ft"),
    ("N·m", "lbf·in"),
    ("cN·m", "lbf·in"),
    ("N", "lbf"),
    ("daN", "lbf"),
    ("kN", "lbf"),
    ("kgf", "lbf"),
    ("mm", "in"),
    ("cm", "in"),
    ("m", "ft"),
    ("km", "mi"),
    ("µm", "thou"),
    ("mm/m", "in/ft"),
    ("mm/m", "thou/in"),
    ("µm/m", "thou/in"),
    ("m²", "ft²"),
    ("cm²", "in²"),
    ("mm²", "in²"),
    ("L", "gal"),
    ("L", "qt"),
    ("mL", "fl oz"),
    ("cm³", "in³"),
    ("m³", "ft³"),
    ("L/min", "gal/min"),
    ("L/h", "gal/h"),
    ("m³/h", "ft³/min"),
    ("m³/min", "ft³/min"),
    ("cm³/min", "in³/min"),
    ("mL/min", "in³/min"),
    ("kg", "lb"),
    ("g", "oz"),
    ("kg/h", "lb/h"),
    ("g/a", "oz/yr"),
    ("kg/m³", "lb/ft³"),
    ("mm/s", "in/s"),
    ("mm/min", "in/min"),
    ("km/h", "mi/h"),
    ("m/s", "ft/min"),
    ("m/min", "ft/min"),
    ("L/100 km", "gal/100 mi"),
    ("km/L", "mpg (US)"),
    ("km/L", "mpg (imp)"),
    ("g/kWh", "lb/(hp·h)"),
    ("lx", "fc"),
];

impl System {
    /// The unit of this family in which a figure in `unit` is given as well; none
    /// where `unit` already is of this family, or of both.
    pub fn counterpart(self, unit: &Unit) -> Option<&'static Unit> {
        let symbol = unit.symbol();
        let (_, other) = match self {
            System::Si => PAIRS
                .iter()
                .map(|(si, us)| (us, si))
                .find(|(us, _)| **us == symbol),
            System::UsCustomary => PAIRS
                .iter()
                .map(|(si, us)| (si, us))
                .find(|(si, _)| **si == symbol),
        }?;
        Unit::named(other)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_sides_of_a_pair_measure_the_same() {
        for (si, us) in PAIRS {
            let (si, us) = (Unit::named(si).unwrap(), Unit::named(us).unwrap());
            assert_eq!(si.dimension(), us.dimension(), "{si:?} {us:?}");
            assert!(System::Si.counterpart(us).is_some());
            assert!(System::UsCustomary.counterpart(si).is_some());
        }
    }

    #[test]
    fn what_is_of_the_family_or_of_both_stands_once() {
        let counterpart = |system: System, unit| {
            system
                .counterpart(Unit::named(unit).unwrap())
                .map(Unit::symbol)
        };
        assert_eq!(counterpart(System::Si, "psi"), Some("kPa"));
        assert_eq!(counterpart(System::UsCustomary, "bar"), Some("psi"));
        for unit in [
            "s", "V", "%", "rpm", "1", "m⁻¹", "µS/cm", "mg/L", "pH", "cSt", "%RH", "dB(A)",
        ] {
            assert_eq!(counterpart(System::Si, unit), None);
            assert_eq!(counterpart(System::UsCustomary, unit), None);
        }
        assert_eq!(counterpart(System::Si, "kPa"), None);
    }
}
