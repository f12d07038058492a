//! Every unit against a published factor, written here a second time.
//!
//! The factors are those of NIST SP 811 (2008), appendix B.8, which prints at most seven
//! digits; units made by a prefix or accepted beside the SI have the exact ones of the SI
//! brochure (9th edition, tables 7 and 8). Units that SP 811 does not list are worked out
//! here from those it does: a foot is 0.3048 m, a mile 1609.344 m, a pound 0.453 592 37 kg,
//! a US gallon 3.785 411 784 L, all exactly. All were written down from memory.

use std::collections::BTreeSet;

use retestify::intake::can_print;
use retestify::quantity::{Dimension, Unit, unit_symbols};

/// How far a factor may be off, as a share of it: half of the seventh digit where the
/// source prints seven, and rounding errors alone where it is exact.
const PRINTED: f64 = 5e-7;
const EXACT: f64 = 1e-14;

/// What one of a unit is in SI units. Temperatures stand here as differences.
#[rustfmt::skip]
const FACTORS: &[(Dimension, &str, f64, f64)] = {
    use Dimension::*;
    &[
        (Time, "s", 1.0, EXACT),
        (Time, "ms", 1e-3, EXACT),
        (Time, "min", 60.0, EXACT),
        (Time, "h", 3600.0, EXACT),
        (Time, "d", 86_400.0, EXACT),
        (Temperature, "°C", 1.0, EXACT),
        (Temperature, "°F", 5.555_556e-1, PRINTED),
        (TemperatureDifference, "K", 1.0, EXACT),
        (TemperatureDifference, "Δ°C", 1.0, EXACT),
        (TemperatureDifference, "Δ°F", 5.555_556e-1, PRINTED),
        (TemperatureRate, "K/min", 1.0 / 60.0, EXACT),
        (TemperatureRate, "K/h", 1.0 / 3600.0, EXACT),
        (TemperatureRate, "°F/min", 5.0 / 540.0, EXACT),
        (TemperatureRate, "°F/h", 5.0 / 32_400.0, EXACT),
        (Pressure, "Pa", 1.0, EXACT),
        (Pressure, "hPa", 1e2, EXACT),
        (Pressure, "kPa", 1e3, EXACT),
        (Pressure, "MPa", 1e6, EXACT),
        (Pressure, "bar", 1e5, EXACT),
        (Pressure, "mbar", 1e2, EXACT),
        (Pressure, "psi", 6.894_757e3, PRINTED),
        (Pressure, "inHg", 3.386_389e3, PRINTED), // conventional
        (Pressure, "inH₂O", 2.490_889e2, PRINTED), // conventional
        (Pressure, "mmHg", 1.333_224e2, PRINTED), // conventional
        (Pressure, "mmH₂O", 9.806_65, EXACT), // conventional
        (Pressure, "mH₂O", 9.806_65e3, EXACT), // conventional
        (Pressure, "ftH₂O", 2.989_067e3, PRINTED), // conventional
        (Pressure, "kgf/cm²", 9.806_65e4, EXACT),
        (Pressure, "Torr", 1.333_224e2, PRINTED), // 1/760 of 101 325 Pa
        (Pressure, "µmHg", 1.333_224e-1, PRINTED), // conventional
        (PressureRate, "mbar/h", 1.0 / 36.0, EXACT),
        (PressureRate, "mbar/min", 100.0 / 60.0, EXACT),
        (PressureRate, "bar/h", 1e3 / 36.0, EXACT),
        (PressureRate, "bar/min", 1e5 / 60.0, EXACT),
        (PressureRate, "kPa/h", 1.0 / 3.6, EXACT),
        (PressureRate, "kPa/min", 1e2 / 6.0, EXACT),
        (PressureRate, "psi/h", 6.894_757e3 / 3600.0, PRINTED),
        (PressureRate, "psi/min", 6.894_757e3 / 60.0, PRINTED),
        (Voltage, "V", 1.0, EXACT),
        (Voltage, "µV", 1e-6, EXACT),
        (Voltage, "mV", 1e-3, EXACT),
        (Voltage, "kV", 1e3, EXACT),
        (Current, "A", 1.0, EXACT),
        (Current, "µA", 1e-6, EXACT),
        (Current, "mA", 1e-3, EXACT),
        (Current, "kA", 1e3, EXACT),
        (Resistance, "GΩ", 1e9, EXACT),
        (Resistance, "TΩ", 1e12, EXACT),
        (Resistance, "µΩ", 1e-6, EXACT),
        (Resistance, "Ω", 1.0, EXACT),
        (Resistance, "mΩ", 1e-3, EXACT),
        (Resistance, "kΩ", 1e3, EXACT),
        (Resistance, "MΩ", 1e6, EXACT),
        (Capacitance, "pF", 1e-12, EXACT),
        (Capacitance, "nF", 1e-9, EXACT),
        (Capacitance, "µF", 1e-6, EXACT),
        (Inductance, "µH", 1e-6, EXACT),
        (Inductance, "mH", 1e-3, EXACT),
        (Inductance, "H", 1.0, EXACT),
        (Conductivity, "µS/cm", 1e-4, EXACT),
        (Conductivity, "mS/cm", 1e-1, EXACT),
        (Conductivity, "S/m", 1.0, EXACT),
        (ApparentPower, "V·A", 1.0, EXACT),
        (ApparentPower, "kV·A", 1e3, EXACT),
        (ReactivePower, "var", 1.0, EXACT),
        (ReactivePower, "kvar", 1e3, EXACT),
        (Power, "mW", 1e-3, EXACT),
        (Power, "W", 1.0, EXACT),
        (Power, "kW", 1e3, EXACT),
        (Power, "MW", 1e6, EXACT),
        (Power, "hp", 7.456_999e2, PRINTED), // 550 ft·lbf/s
        (Power, "PS", 7.354_988e2, PRINTED), // metric
        (Power, "Btu/h", 2.930_711e-1, PRINTED), // International Table
        (Energy, "J", 1.0, EXACT),
        (Energy, "kJ", 1e3, EXACT),
        (Energy, "Wh", 3.6e3, EXACT),
        (Energy, "kWh", 3.6e6, EXACT),
        (Energy, "Btu", 1.055_056e3, PRINTED), // International Table
        (Torque, "N·m", 1.0, EXACT),
        (Torque, "cN·m", 1e-2, EXACT),
        (Torque, "lbf·ft", 1.355_818, PRINTED),
        (Torque, "lbf·in", 1.129_848e-1, PRINTED),
        (Force, "N", 1.0, EXACT),
        (Force, "daN", 1e1, EXACT),
        (Force, "kN", 1e3, EXACT),
        (Force, "lbf", 4.448_222, PRINTED),
        (Force, "kgf", 9.806_65, EXACT),
        (Length, "µm", 1e-6, EXACT),
        (Length, "mm", 1e-3, EXACT),
        (Length, "cm", 1e-2, EXACT),
        (Length, "m", 1.0, EXACT),
        (Length, "km", 1e3, EXACT),
        (Length, "thou", 2.54e-5, EXACT), // mil (0.001 in)
        (Length, "in", 2.54e-2, EXACT),
        (Length, "ft", 3.048e-1, EXACT),
        (Length, "mi", 1.609_344e3, EXACT),
        (Length, "nmi", 1.852e3, EXACT),
        (Slope, "µm/m", 1e-6, EXACT),
        (Slope, "mm/m", 1e-3, EXACT),
        (Slope, "in/ft", 1.0 / 12.0, EXACT),
        (Slope, "thou/in", 1e-3, EXACT),
        (Area, "mm²", 1e-6, EXACT),
        (Area, "cm²", 1e-4, EXACT),
        (Area, "m²", 1.0, EXACT),
        (Area, "in²", 6.4516e-4, EXACT),
        (Area, "ft²", 9.290_304e-2, EXACT),
        (Volume, "mL", 1e-6, EXACT),
        (Volume, "L", 1e-3, EXACT),
        (Volume, "m³", 1.0, EXACT),
        (Volume, "cm³", 1e-6, EXACT),
        (Volume, "fl oz", 2.957_353e-5, PRINTED), // US
        (Volume, "pt", 4.731_765e-4, PRINTED), // US liquid
        (Volume, "qt", 9.463_529e-4, PRINTED), // US liquid
        (Volume, "gal", 3.785_412e-3, PRINTED), // US
        (Volume, "in³", 1.638_706e-5, PRINTED),
        (Volume, "ft³", 2.831_685e-2, PRINTED),
        (VolumeFlow, "L/min", 1e-3 / 60.0, EXACT),
        (VolumeFlow, "mL/min", 1e-6 / 60.0, EXACT),
        (VolumeFlow, "cm³/min", 1e-6 / 60.0, EXACT),
        (VolumeFlow, "m³/min", 1.0 / 60.0, EXACT),
        (VolumeFlow, "in³/min", 2.731_177e-7, PRINTED),
        (VolumeFlow, "L/h", 1e-3 / 3600.0, EXACT),
        (VolumeFlow, "gal/h", 3.785_412e-3 / 3600.0, PRINTED), // of the US gallon
        (VolumeFlow, "L/s", 1e-3, EXACT),
        (VolumeFlow, "m³/h", 1.0 / 3600.0, EXACT),
        (VolumeFlow, "mL/s", 1e-6, EXACT),
        (VolumeFlow, "gal/min", 6.309_020e-5, PRINTED),
        (VolumeFlow, "ft³/min", 4.719_474e-4, PRINTED),
        (Mass, "mg", 1e-6, EXACT),
        (Mass, "g", 1e-3, EXACT),
        (Mass, "kg", 1.0, EXACT),
        (Mass, "t", 1e3, EXACT),
        (Mass, "oz", 2.834_952e-2, PRINTED), // avoirdupois
        (Mass, "lb", 4.535_924e-1, PRINTED), // avoirdupois
        (MassFlow, "kg/h", 1.0 / 3600.0, EXACT),
        (MassFlow, "g/s", 1e-3, EXACT),
        (MassFlow, "lb/h", 1.259_979e-4, PRINTED),
        (MassFlow, "g/a", 1e-3 / 3.1536e7, EXACT), // a year of 365 days
        (MassFlow, "oz/yr", 2.834_952e-2 / 3.1536e7, PRINTED),
        (Density, "mg/m³", 1e-6, EXACT),
        (Density, "mg/L", 1e-3, EXACT),
        (Density, "g/L", 1.0, EXACT),
        (Density, "kg/m³", 1.0, EXACT),
        (Density, "kg/L", 1e3, EXACT),
        (Density, "g/cm³", 1e3, EXACT),
        (Density, "lb/ft³", 1.601_846e1, PRINTED),
        (KinematicViscosity, "mm²/s", 1e-6, EXACT),
        (KinematicViscosity, "cSt", 1e-6, EXACT),
        (Speed, "m/s", 1.0, EXACT),
        (Speed, "mm/s", 1e-3, EXACT),
        (Speed, "mm/min", 1e-3 / 60.0, EXACT),
        (Speed, "m/min", 1.0 / 60.0, EXACT),
        (Speed, "in/min", 2.54e-2 / 60.0, EXACT),
        (Speed, "km/h", 2.777_778e-1, PRINTED),
        (Speed, "in/s", 2.54e-2, EXACT),
        (Speed, "ft/min", 5.08e-3, EXACT),
        (Speed, "mi/h", 4.4704e-1, EXACT),
        (Speed, "kn", 5.144_444e-1, PRINTED),
        (RotationalSpeed, "rpm", 1.047_198e-1, PRINTED),
        (RotationalSpeed, "rad/s", 1.0, EXACT),
        (Frequency, "Hz", 1.0, EXACT),
        (Frequency, "kHz", 1e3, EXACT),
        (Acceleration, "m/s²", 1.0, EXACT),
        (Acceleration, "gn", 9.806_65, EXACT),
        (FuelConsumption, "L/100 km", 1e-8, EXACT),
        (FuelConsumption, "gal/100 mi", 3.785_411_784e-3 / 160_934.4, EXACT),
        (FuelEconomy, "km/L", 1e6, EXACT),
        (FuelEconomy, "mpg (US)", 4.251_437e5, PRINTED),
        (FuelEconomy, "mpg (imp)", 1.609_344e3 / 4.546_09e-3, EXACT),
        (SpecificConsumption, "g/kWh", 1.0 / 3.6e9, EXACT),
        (SpecificConsumption, "lb/(hp·h)", 1.689_659e-7, PRINTED),
        (Illuminance, "lx", 1.0, EXACT),
        (Illuminance, "fc", 1.076_391e1, PRINTED),
        (Absorption, "m⁻¹", 1.0, EXACT),
        (Ratio, "%", 1e-2, EXACT),
        (Ratio, "ppm", 1e-6, EXACT),
        (Ratio, "1", 1.0, EXACT),
        (Humidity, "%RH", 1e-2, EXACT),
        (Charge, "Ah", 3.6e3, EXACT),
        (Charge, "mAh", 3.6, EXACT),
        (Angle, "°", 1.745_329e-2, PRINTED),
        (Angle, "rad", 1.0, EXACT),
        (Level, "dB", 1.0, EXACT),
        (SoundLevel, "dB(A)", 1.0, EXACT),
        (Acidity, "pH", 1.0, EXACT),
    ]
};

#[test]
fn every_unit_of_every_dimension_is_in_the_list() {
    for dimension in Dimension::ALL {
        let listed: BTreeSet<&str> = FACTORS
            .iter()
            .filter(|(of, ..)| *of == dimension)
            .map(|(_, symbol, ..)| *symbol)
            .collect();
        let known: BTreeSet<&str> = unit_symbols(dimension).into_iter().collect();
        assert_eq!(listed, known, "{dimension}");
        assert!(!known.is_empty(), "{dimension}");
    }
}

#[test]
fn every_unit_has_its_published_factor() {
    for (dimension, symbol, factor, tolerance) in FACTORS {
        let unit = Unit::named(symbol).unwrap();
        assert_eq!(unit.dimension(), *dimension, "{symbol}");
        let is_near = |found: f64, what: &str| {
            let off = (found / factor - 1.0).abs();
            assert!(
                off <= *tolerance,
                "{symbol}, {what}: {found} instead of {factor}"
            );
        };
        is_near(unit.difference_to_si(1.0), "a difference to SI");
        is_near(1.0 / unit.difference_from_si(1.0), "a difference from SI");
        // A point on a temperature scale has an offset, see below.
        if *dimension != Dimension::Temperature {
            is_near(unit.to_si(1.0), "to SI");
            is_near(1.0 / unit.from_si(1.0), "from SI");
            assert_eq!(unit.to_si(0.0), 0.0, "{symbol}");
        }
    }
}

/// L/100 km and miles per gallon are reciprocals of each other, which no factor converts.
#[test]
fn consumption_is_not_economy() {
    let dimension = |symbol| Unit::named(symbol).unwrap().dimension();
    assert!(!dimension("L/100 km").serves(dimension("mpg_us")));
    // 30 miles per US gallon are 7.84 L/100 km, 36.03 miles per imperial gallon.
    let economy = Unit::named("mpg_us").unwrap().to_si(30.0);
    assert!((Unit::named("L/100 km").unwrap().from_si(1.0 / economy) - 7.840_486).abs() < 1e-6);
    assert!((Unit::named("mpg_imp").unwrap().from_si(economy) - 36.028_50).abs() < 1e-5);
}

/// NIST SP 811, B.8: T/K = t/°C + 273.15 and T/K = (t/°F + 459.67)/1.8; the two scales meet
/// at −40.
#[test]
fn temperatures_have_their_offset() {
    let celsius = Unit::named("°C").unwrap();
    let fahrenheit = Unit::named("°F").unwrap();
    for (unit, written, kelvin) in [
        (celsius, 0.0, 273.15),
        (celsius, -273.15, 0.0),
        (celsius, 100.0, 373.15),
        (celsius, -40.0, 233.15),
        (fahrenheit, 32.0, 273.15),
        (fahrenheit, 212.0, 373.15),
        (fahrenheit, -40.0, 233.15),
        (fahrenheit, -459.67, 0.0),
    ] {
        assert!(
            (unit.to_si(written) - kelvin).abs() < 1e-9,
            "{written} {unit:?}"
        );
        assert!(
            (unit.from_si(kelvin) - written).abs() < 1e-9,
            "{kelvin} K in {unit:?}"
        );
    }
}

#[test]
fn every_unit_can_be_printed() {
    for dimension in Dimension::ALL {
        for symbol in unit_symbols(dimension) {
            assert!(symbol.chars().all(can_print), "{symbol}");
        }
    }
}
