//! The units a bench uses, SI and US customary, by the symbol people write.
//!
//! The factors are those of the `uom` crate, which takes them from NIST
//! SP 811, appendix B. To add a unit, add one line to the table.

use std::fmt;
use std::marker::PhantomData;

use uom::si::{f64 as si, *};

/// What is measured; units convert only within one dimension.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Dimension {
    /// Duration.
    Time,
    /// A point on a temperature scale.
    Temperature,
    /// A difference between two temperatures.
    TemperatureDifference,
    /// Pressure.
    Pressure,
    /// Electric potential difference.
    Voltage,
    /// Electric current.
    Current,
    /// Electrical resistance.
    Resistance,
    /// Power.
    Power,
    /// Energy.
    Energy,
    /// Torque.
    Torque,
    /// Force.
    Force,
    /// Length, and distance covered.
    Length,
    /// Volume.
    Volume,
    /// Volume flow rate.
    VolumeFlow,
    /// Mass.
    Mass,
    /// Mass flow rate.
    MassFlow,
    /// Linear speed, and vibration velocity.
    Speed,
    /// Rotational speed.
    RotationalSpeed,
    /// Frequency.
    Frequency,
    /// Acceleration, and vibration acceleration.
    Acceleration,
    /// Light absorption coefficient of smoke.
    Absorption,
    /// A share: percent, parts per million.
    Ratio,
    /// Electric charge, battery capacity.
    Charge,
    /// Plane angle.
    Angle,
}

impl Dimension {
    /// Whether an instrument whose errors are of this dimension reads `other`: the
    /// errors of a thermometer are temperature differences.
    pub fn serves(self, other: Self) -> bool {
        let of_errors = |dimension| match dimension {
            Self::Temperature => Self::TemperatureDifference,
            same => same,
        };
        of_errors(self) == of_errors(other)
    }
}

impl fmt::Display for Dimension {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Time => "time",
            Self::Temperature => "temperature",
            Self::TemperatureDifference => "temperature difference",
            Self::Pressure => "pressure",
            Self::Voltage => "voltage",
            Self::Current => "current",
            Self::Resistance => "resistance",
            Self::Power => "power",
            Self::Energy => "energy",
            Self::Torque => "torque",
            Self::Force => "force",
            Self::Length => "length",
            Self::Volume => "volume",
            Self::VolumeFlow => "volume flow",
            Self::Mass => "mass",
            Self::MassFlow => "mass flow",
            Self::Speed => "speed",
            Self::RotationalSpeed => "rotational speed",
            Self::Frequency => "frequency",
            Self::Acceleration => "acceleration",
            Self::Absorption => "light absorption coefficient",
            Self::Ratio => "ratio",
            Self::Charge => "electric charge",
            Self::Angle => "angle",
        })
    }
}

/// One unit of the table; compare by address or by symbol.
pub struct Unit {
    symbol: &'static str,
    aliases: &'static [&'static str],
    dimension: Dimension,
    to_si: fn(f64) -> f64,
    from_si: fn(f64) -> f64,
    scale: fn() -> f64,
}

impl Unit {
    /// The unit written as `symbol` or one of its other spellings.
    pub fn named(symbol: &str) -> Option<&'static Unit> {
        UNITS
            .iter()
            .find(|unit| unit.symbol == symbol || unit.aliases.contains(&symbol))
    }

    /// The symbol to print.
    pub fn symbol(&self) -> &'static str {
        self.symbol
    }

    /// What this unit measures.
    pub fn dimension(&self) -> Dimension {
        self.dimension
    }

    /// A value in this unit, in SI units.
    pub fn to_si(&self, value: f64) -> f64 {
        (self.to_si)(value)
    }

    /// An SI value, in this unit.
    pub fn from_si(&self, value: f64) -> f64 {
        (self.from_si)(value)
    }

    /// A difference in this unit, in SI units: no zero offset.
    pub fn difference_to_si(&self, difference: f64) -> f64 {
        difference * (self.scale)()
    }

    /// A difference in SI units, in this unit: no zero offset.
    pub fn difference_from_si(&self, difference: f64) -> f64 {
        difference / (self.scale)()
    }

    /// Whether zero in this unit means "nothing", so that a percentage of a
    /// value makes sense. It does not on the Celsius and Fahrenheit scales.
    pub fn has_true_zero(&self) -> bool {
        self.dimension != Dimension::Temperature
    }

    /// The unit in which differences of this unit are printed.
    pub fn of_differences(&self) -> &'static str {
        match self.symbol {
            "°C" => "K",
            "°F" => "Δ°F",
            other => other,
        }
    }
}

impl fmt::Debug for Unit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Unit({})", self.symbol)
    }
}

impl PartialEq for Unit {
    fn eq(&self, other: &Self) -> bool {
        self.symbol == other.symbol
    }
}

impl Eq for Unit {}

/// All symbols of one dimension, for a hint.
pub fn unit_symbols(dimension: Dimension) -> Vec<&'static str> {
    UNITS
        .iter()
        .filter(|unit| unit.dimension == dimension)
        .map(|unit| unit.symbol)
        .collect()
}

/// The known units spelled most like `written`: all those at the least distance.
pub fn near_units(written: &str) -> Vec<&'static str> {
    let wanted = written.to_lowercase();
    let mut near: Vec<(usize, &'static str)> = UNITS
        .iter()
        .flat_map(|unit| {
            std::iter::once(unit.symbol)
                .chain(unit.aliases.iter().copied())
                .map(|name| {
                    (
                        strsim::levenshtein(&name.to_lowercase(), &wanted),
                        unit.symbol,
                    )
                })
        })
        // Short symbols are all alike; only a slip of the shift key counts there.
        .filter(|(distance, _)| *distance <= wanted.chars().count() / 3)
        .collect();
    near.sort();
    near.dedup_by_key(|(_, symbol)| *symbol);
    let least = near.first().map_or(0, |(distance, _)| *distance);
    near.into_iter()
        .take_while(|(distance, _)| *distance == least)
        .map(|(_, symbol)| symbol)
        .take(3)
        .collect()
}

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

static UNITS: &[Unit] = &[
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
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_spelling_names_one_unit_and_round_trips() {
        let mut seen = std::collections::BTreeSet::new();
        for unit in UNITS {
            for name in std::iter::once(&unit.symbol).chain(unit.aliases) {
                assert!(
                    seen.insert(*name) || unit.symbol == *name,
                    "`{name}` names two units"
                );
                assert_eq!(Unit::named(name).unwrap().symbol, unit.symbol);
            }
            let there_and_back = unit.from_si(unit.to_si(12.5));
            assert!((there_and_back - 12.5).abs() < 1e-9, "{unit:?}");
            let difference = unit.to_si(3.0) - unit.to_si(1.0);
            assert!(
                (unit.difference_to_si(2.0) - difference).abs() <= 1e-9 * difference.abs().max(1.0),
                "{unit:?}"
            );
        }
    }

    #[test]
    fn a_slip_of_the_keys_finds_its_unit() {
        assert_eq!(near_units("kpa"), ["kPa"]);
        assert!(near_units("PSI").contains(&"psi"));
        assert!(near_units("furlongs").is_empty());
    }
}
