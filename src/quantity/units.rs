//! The table of units a bench uses, SI and US customary. To add a unit, add one line.
//!
//! The factors are those of the `uom` crate, which takes them from NIST SP 811,
//! appendix B; what `uom` does not have is given with its own factor.

use std::marker::PhantomData;

use uom::si::{f64 as si, *};

use super::unit::{Dimension, Unit};

/// The US gallon in cubic metres: 231 cubic inches of exactly 25.4 mm (NIST SP 811, B.8).
const GALLON: f64 = 3.785_411_784e-3;

macro_rules! unit {
    ($dimension:ident, $quantity:ident, $module:ident::$name:ident, $symbol:literal $(, $alias:literal)*) => {
        unit!($dimension, $quantity, $module::$name, $quantity, $module::$name, $symbol $(, $alias)*)
    };
    ($dimension:ident, $quantity:ident, $module:ident::$name:ident,
     $interval:ident, $imodule:ident::$iname:ident, $symbol:literal $(, $alias:literal)*) => {
        Unit {
            symbol: $symbol,
            aliases: &[$($alias),*],
            dimension: Dimension::$dimension,
            to_si: |value| si::$quantity::new::<$module::$name>(value).value,
            from_si: |value| {
                si::$quantity { dimension: PhantomData, units: PhantomData, value }
                    .get::<$module::$name>()
            },
            scale: || si::$interval::new::<$imodule::$iname>(1.0).value,
        }
    };
}

/// A unit that `uom` does not have, by its factor to SI units.
macro_rules! factor {
    ($dimension:ident, $factor:expr, $symbol:literal $(, $alias:literal)*) => {
        Unit {
            symbol: $symbol,
            aliases: &[$($alias),*],
            dimension: Dimension::$dimension,
            to_si: |value| value * $factor,
            from_si: |value| value / $factor,
            scale: || $factor,
        }
    };
}

pub(super) static UNITS: &[Unit] = &[
    unit!(Time, Time, time::second, "s", "sec", "seconds"),
    unit!(Time, Time, time::millisecond, "ms"),
    unit!(Time, Time, time::minute, "min", "minutes"),
    unit!(Time, Time, time::hour, "h", "hr", "hours"),
    unit!(Time, Time, time::day, "d", "days"),
    unit!(
        Temperature,
        ThermodynamicTemperature,
        thermodynamic_temperature::degree_celsius,
        TemperatureInterval,
        temperature_interval::degree_celsius,
        "°C",
        "degC",
        "deg C"
    ),
    unit!(
        Temperature,
        ThermodynamicTemperature,
        thermodynamic_temperature::degree_fahrenheit,
        TemperatureInterval,
        temperature_interval::degree_fahrenheit,
        "°F",
        "degF",
        "deg F"
    ),
    unit!(
        TemperatureDifference,
        TemperatureInterval,
        temperature_interval::kelvin,
        "K"
    ),
    unit!(
        TemperatureDifference,
        TemperatureInterval,
        temperature_interval::degree_celsius,
        "Δ°C",
        "delta-degC"
    ),
    unit!(
        TemperatureDifference,
        TemperatureInterval,
        temperature_interval::degree_fahrenheit,
        "Δ°F",
        "delta-degF"
    ),
    unit!(Pressure, Pressure, pressure::pascal, "Pa"),
    unit!(Pressure, Pressure, pressure::kilopascal, "kPa"),
    unit!(Pressure, Pressure, pressure::megapascal, "MPa"),
    unit!(Pressure, Pressure, pressure::bar, "bar"),
    unit!(Pressure, Pressure, pressure::millibar, "mbar"),
    unit!(Pressure, Pressure, pressure::psi, "psi"),
    unit!(Pressure, Pressure, pressure::inch_of_mercury, "inHg"),
    unit!(
        Pressure,
        Pressure,
        pressure::inch_of_water,
        "inH₂O",
        "inH2O",
        "inWC"
    ),
    unit!(Pressure, Pressure, pressure::millimeter_of_mercury, "mmHg"),
    unit!(
        Pressure,
        Pressure,
        pressure::millimeter_of_water,
        "mmH₂O",
        "mmH2O"
    ),
    unit!(
        Voltage,
        ElectricPotential,
        electric_potential::volt,
        "V",
        "VDC",
        "volt",
        "volts"
    ),
    unit!(
        Voltage,
        ElectricPotential,
        electric_potential::millivolt,
        "mV"
    ),
    unit!(
        Voltage,
        ElectricPotential,
        electric_potential::kilovolt,
        "kV"
    ),
    unit!(
        Current,
        ElectricCurrent,
        electric_current::ampere,
        "A",
        "amp",
        "amps"
    ),
    unit!(
        Current,
        ElectricCurrent,
        electric_current::milliampere,
        "mA"
    ),
    unit!(Current, ElectricCurrent, electric_current::kiloampere, "kA"),
    unit!(
        Resistance,
        ElectricalResistance,
        electrical_resistance::gigaohm,
        "GΩ",
        "Gohm"
    ),
    unit!(
        Resistance,
        ElectricalResistance,
        electrical_resistance::ohm,
        "Ω",
        "ohm",
        "Ohm"
    ),
    unit!(
        Resistance,
        ElectricalResistance,
        electrical_resistance::milliohm,
        "mΩ",
        "mohm"
    ),
    unit!(
        Resistance,
        ElectricalResistance,
        electrical_resistance::kiloohm,
        "kΩ",
        "kohm"
    ),
    unit!(
        Resistance,
        ElectricalResistance,
        electrical_resistance::megaohm,
        "MΩ",
        "Mohm"
    ),
    unit!(Capacitance, Capacitance, capacitance::picofarad, "pF"),
    unit!(Capacitance, Capacitance, capacitance::nanofarad, "nF"),
    unit!(
        Capacitance,
        Capacitance,
        capacitance::microfarad,
        "µF",
        "uF",
        "μF",
        "MFD"
    ),
    factor!(ApparentPower, 1.0, "V·A", "VA", "V A"),
    factor!(ApparentPower, 1e3, "kV·A", "kVA", "kV A"),
    unit!(Power, Power, power::watt, "W"),
    unit!(Power, Power, power::kilowatt, "kW"),
    unit!(Power, Power, power::megawatt, "MW"),
    unit!(Power, Power, power::horsepower, "hp"),
    unit!(Power, Power, power::horsepower_metric, "PS"),
    unit!(Energy, Energy, energy::joule, "J"),
    unit!(Energy, Energy, energy::kilojoule, "kJ"),
    unit!(Energy, Energy, energy::watt_hour, "Wh"),
    unit!(Energy, Energy, energy::kilowatt_hour, "kWh"),
    unit!(Energy, Energy, energy::btu_it, "Btu"),
    unit!(Torque, Torque, torque::newton_meter, "N·m", "Nm", "N m"),
    unit!(
        Torque,
        Torque,
        torque::pound_force_foot,
        "lbf·ft",
        "lbf ft",
        "ft·lbf",
        "ft-lb",
        "lb-ft",
        "ft-lbf"
    ),
    unit!(
        Torque,
        Torque,
        torque::pound_force_inch,
        "lbf·in",
        "lbf in",
        "in·lbf",
        "in-lb",
        "lb-in"
    ),
    unit!(Force, Force, force::newton, "N"),
    unit!(Force, Force, force::kilonewton, "kN"),
    unit!(Force, Force, force::pound_force, "lbf"),
    unit!(Force, Force, force::kilogram_force, "kgf"),
    unit!(Length, Length, length::micrometer, "µm", "um", "μm"),
    unit!(Length, Length, length::millimeter, "mm"),
    unit!(Length, Length, length::centimeter, "cm"),
    unit!(Length, Length, length::meter, "m"),
    unit!(Length, Length, length::kilometer, "km"),
    unit!(Length, Length, length::mil, "thou"),
    unit!(Length, Length, length::inch, "in", "inch", "inches"),
    unit!(Length, Length, length::foot, "ft", "feet"),
    unit!(Length, Length, length::mile, "mi"),
    unit!(Length, Length, length::nautical_mile, "nmi"),
    unit!(Volume, Volume, volume::milliliter, "mL", "ml"),
    unit!(Volume, Volume, volume::liter, "L", "l"),
    unit!(Volume, Volume, volume::cubic_meter, "m³", "m3"),
    unit!(Volume, Volume, volume::cubic_centimeter, "cm³", "cm3", "cc"),
    unit!(Volume, Volume, volume::fluid_ounce, "fl oz"),
    unit!(Volume, Volume, volume::pint_liquid, "pt"),
    unit!(Volume, Volume, volume::quart_liquid, "qt"),
    unit!(Volume, Volume, volume::gallon, "gal", "gallon", "gallons"),
    unit!(Volume, Volume, volume::cubic_inch, "in³", "in3"),
    unit!(Volume, Volume, volume::cubic_foot, "ft³", "ft3"),
    unit!(
        VolumeFlow,
        VolumeRate,
        volume_rate::liter_per_minute,
        "L/min",
        "l/min",
        "lpm"
    ),
    factor!(VolumeFlow, 1e-3 / 3600.0, "L/h", "l/h", "lph"),
    factor!(VolumeFlow, GALLON / 3600.0, "gal/h", "gph"),
    unit!(
        VolumeFlow,
        VolumeRate,
        volume_rate::liter_per_second,
        "L/s",
        "l/s"
    ),
    unit!(
        VolumeFlow,
        VolumeRate,
        volume_rate::cubic_meter_per_hour,
        "m³/h",
        "m3/h"
    ),
    unit!(
        VolumeFlow,
        VolumeRate,
        volume_rate::milliliter_per_second,
        "mL/s",
        "ml/s"
    ),
    unit!(
        VolumeFlow,
        VolumeRate,
        volume_rate::gallon_per_minute,
        "gal/min",
        "gpm"
    ),
    unit!(
        VolumeFlow,
        VolumeRate,
        volume_rate::cubic_foot_per_minute,
        "ft³/min",
        "cfm",
        "ft3/min"
    ),
    unit!(Mass, Mass, mass::milligram, "mg"),
    unit!(Mass, Mass, mass::gram, "g"),
    unit!(Mass, Mass, mass::kilogram, "kg"),
    unit!(Mass, Mass, mass::megagram, "t"),
    unit!(Mass, Mass, mass::ounce, "oz"),
    unit!(Mass, Mass, mass::pound, "lb"),
    unit!(MassFlow, MassRate, mass_rate::kilogram_per_hour, "kg/h"),
    unit!(MassFlow, MassRate, mass_rate::gram_per_second, "g/s"),
    unit!(MassFlow, MassRate, mass_rate::pound_per_hour, "lb/h"),
    unit!(Speed, Velocity, velocity::meter_per_second, "m/s"),
    unit!(Speed, Velocity, velocity::millimeter_per_second, "mm/s"),
    unit!(Speed, Velocity, velocity::kilometer_per_hour, "km/h"),
    unit!(Speed, Velocity, velocity::inch_per_second, "in/s"),
    unit!(Speed, Velocity, velocity::foot_per_minute, "ft/min"),
    unit!(Speed, Velocity, velocity::mile_per_hour, "mi/h", "mph"),
    unit!(Speed, Velocity, velocity::knot, "kn"),
    unit!(
        RotationalSpeed,
        AngularVelocity,
        angular_velocity::revolution_per_minute,
        "rpm",
        "r/min",
        "1/min",
        "rev/min"
    ),
    unit!(
        RotationalSpeed,
        AngularVelocity,
        angular_velocity::radian_per_second,
        "rad/s"
    ),
    unit!(Frequency, Frequency, frequency::hertz, "Hz"),
    unit!(Frequency, Frequency, frequency::kilohertz, "kHz"),
    unit!(
        Acceleration,
        Acceleration,
        acceleration::meter_per_second_squared,
        "m/s²",
        "m/s2"
    ),
    unit!(
        Acceleration,
        Acceleration,
        acceleration::standard_gravity,
        "gn"
    ),
    unit!(
        Absorption,
        ReciprocalLength,
        reciprocal_length::reciprocal_meter,
        "m⁻¹",
        "1/m",
        "m-1"
    ),
    unit!(Ratio, Ratio, ratio::percent, "%", "percent"),
    unit!(Ratio, Ratio, ratio::part_per_million, "ppm"),
    unit!(Ratio, Ratio, ratio::ratio, "1"),
    unit!(
        Charge,
        ElectricCharge,
        electric_charge::ampere_hour,
        "Ah",
        "A·h"
    ),
    unit!(
        Charge,
        ElectricCharge,
        electric_charge::milliampere_hour,
        "mAh"
    ),
    unit!(Angle, Angle, angle::degree, "°", "deg"),
    unit!(Angle, Angle, angle::radian, "rad"),
    factor!(Level, 1.0, "dB", "decibel"),
];
