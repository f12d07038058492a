//! The table of units a bench uses, SI and US customary. To add a unit, add one line.
//!
//! The factors are those of the `uom` crate, which takes them from NIST SP 811,
//! appendix B, in the seven digits that are printed there; what `uom` does not have is
//! given with its own factor, by its definition.

use std::marker::PhantomData;

use uom::si::{f64 as si, *};

use super::unit::{Dimension, Unit};

// Exact by definition (NIST SP 811, B.6 and B.8), in SI units.
const INCH: f64 = 0.0254;
const FOOT: f64 = 12.0 * INCH;
const MILE: f64 = 5280.0 * FOOT;
/// The US gallon: 231 cubic inches.
const GALLON: f64 = 231.0 * INCH * INCH * INCH;
/// The imperial gallon, 4.546 09 L.
const IMPERIAL_GALLON: f64 = 4.546_09e-3;
const POUND: f64 = 0.453_592_37;
/// The standard acceleration of free fall.
const FREE_FALL: f64 = 9.806_65;
/// The horsepower of 550 foot pounds-force a second.
const HORSEPOWER: f64 = 550.0 * FOOT * POUND * FREE_FALL;
/// The British thermal unit of the International Table.
const BTU: f64 = 1_055.055_852_62;
/// A year of 365 days.
const YEAR: f64 = 365.0 * 86_400.0;
const MINUTE: f64 = 60.0;
const HOUR: f64 = 3600.0;
/// A degree Fahrenheit, as a difference.
const FAHRENHEIT: f64 = 5.0 / 9.0;
/// The pound-force per square inch.
const PSI: f64 = POUND * FREE_FALL / (INCH * INCH);
/// The conventional millimetre of mercury: 13.595 1 times that of water.
const MM_OF_MERCURY: f64 = 13.595_1 * FREE_FALL;

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

#[rustfmt::skip]
pub(super) static UNITS: &[Unit] = &[
    unit!(Time, Time, time::second, "s", "sec", "seconds"),
    unit!(Time, Time, time::millisecond, "ms"),
    unit!(Time, Time, time::minute, "min", "minutes"),
    unit!(Time, Time, time::hour, "h", "hr", "hours"),
    unit!(Time, Time, time::day, "d", "days"),
    unit!(
        Temperature, ThermodynamicTemperature, thermodynamic_temperature::degree_celsius,
        TemperatureInterval, temperature_interval::degree_celsius, "°C", "celsius", "Celsius", "℃"
    ),
    unit!(
        Temperature, ThermodynamicTemperature, thermodynamic_temperature::degree_fahrenheit,
        TemperatureInterval, temperature_interval::degree_fahrenheit, "°F", "fahrenheit", "Fahrenheit", "℉"
    ),
    unit!(TemperatureDifference, TemperatureInterval, temperature_interval::kelvin, "K", "kelvin"),
    unit!(TemperatureDifference, TemperatureInterval, temperature_interval::degree_celsius, "Δ°C", "delta-degC"),
    unit!(TemperatureDifference, TemperatureInterval, temperature_interval::degree_fahrenheit, "Δ°F", "delta-degF"),
    factor!(TemperatureRate, 1.0 / MINUTE, "K/min", "°C/min"),
    factor!(TemperatureRate, 1.0 / HOUR, "K/h", "°C/h"),
    factor!(TemperatureRate, FAHRENHEIT / MINUTE, "°F/min"),
    factor!(TemperatureRate, FAHRENHEIT / HOUR, "°F/h"),
    unit!(Pressure, Pressure, pressure::pascal, "Pa"),
    unit!(Pressure, Pressure, pressure::hectopascal, "hPa"),
    unit!(Pressure, Pressure, pressure::kilopascal, "kPa"),
    unit!(Pressure, Pressure, pressure::megapascal, "MPa"),
    unit!(Pressure, Pressure, pressure::bar, "bar"),
    unit!(Pressure, Pressure, pressure::millibar, "mbar"),
    factor!(Pressure, FREE_FALL * 1e4, "kgf/cm²", "kg/cm²"),
    unit!(Pressure, Pressure, pressure::psi, "psi", "lbf/in²"),
    unit!(Pressure, Pressure, pressure::inch_of_mercury, "inHg"),
    unit!(Pressure, Pressure, pressure::inch_of_water, "inH₂O", "inWC", "in WG"),
    factor!(Pressure, FOOT * FREE_FALL * 1e3, "ftH₂O", "ftWC"),
    unit!(Pressure, Pressure, pressure::millimeter_of_mercury, "mmHg"),
    factor!(Pressure, 101_325.0 / 760.0, "Torr", "torr"),
    factor!(Pressure, MM_OF_MERCURY * 1e-3, "µmHg"),
    unit!(Pressure, Pressure, pressure::millimeter_of_water, "mmH₂O", "mmWC", "mmca"),
    factor!(Pressure, FREE_FALL * 1e3, "mH₂O", "mWC", "mca"),
    factor!(PressureRate, 1e2 / HOUR, "mbar/h"),
    factor!(PressureRate, 1e2 / MINUTE, "mbar/min"),
    factor!(PressureRate, 1e5 / HOUR, "bar/h"),
    factor!(PressureRate, 1e5 / MINUTE, "bar/min"),
    factor!(PressureRate, 1e3 / HOUR, "kPa/h"),
    factor!(PressureRate, 1e3 / MINUTE, "kPa/min"),
    factor!(PressureRate, PSI / HOUR, "psi/h"),
    factor!(PressureRate, PSI / MINUTE, "psi/min"),
    unit!(Voltage, ElectricPotential, electric_potential::microvolt, "µV"),
    unit!(Voltage, ElectricPotential, electric_potential::millivolt, "mV"),
    unit!(Voltage, ElectricPotential, electric_potential::volt, "V", "VDC", "VAC", "volt", "volts"),
    unit!(Voltage, ElectricPotential, electric_potential::kilovolt, "kV"),
    unit!(Current, ElectricCurrent, electric_current::microampere, "µA"),
    unit!(Current, ElectricCurrent, electric_current::milliampere, "mA"),
    unit!(Current, ElectricCurrent, electric_current::ampere, "A", "amp", "amps"),
    unit!(Current, ElectricCurrent, electric_current::kiloampere, "kA"),
    unit!(Resistance, ElectricalResistance, electrical_resistance::microohm, "µΩ"),
    unit!(Resistance, ElectricalResistance, electrical_resistance::milliohm, "mΩ"),
    unit!(Resistance, ElectricalResistance, electrical_resistance::ohm, "Ω", "Ohm", "ohms"),
    unit!(Resistance, ElectricalResistance, electrical_resistance::kiloohm, "kΩ"),
    unit!(Resistance, ElectricalResistance, electrical_resistance::megaohm, "MΩ"),
    unit!(Resistance, ElectricalResistance, electrical_resistance::gigaohm, "GΩ"),
    unit!(Resistance, ElectricalResistance, electrical_resistance::teraohm, "TΩ"),
    unit!(Capacitance, Capacitance, capacitance::picofarad, "pF"),
    unit!(Capacitance, Capacitance, capacitance::nanofarad, "nF"),
    unit!(Capacitance, Capacitance, capacitance::microfarad, "µF", "MFD"),
    unit!(Inductance, Inductance, inductance::microhenry, "µH"),
    unit!(Inductance, Inductance, inductance::millihenry, "mH"),
    unit!(Inductance, Inductance, inductance::henry, "H"),
    factor!(Conductivity, 1e-4, "µS/cm"),
    factor!(Conductivity, 1e-1, "mS/cm"),
    factor!(Conductivity, 1.0, "S/m"),
    unit!(Power, Power, power::milliwatt, "mW"),
    unit!(Power, Power, power::watt, "W"),
    unit!(Power, Power, power::kilowatt, "kW"),
    unit!(Power, Power, power::megawatt, "MW"),
    unit!(Power, Power, power::horsepower, "hp"),
    unit!(Power, Power, power::horsepower_metric, "PS", "CV", "cv"),
    factor!(Power, BTU / HOUR, "Btu/h", "Btu/hr", "BTU/h", "BTU/hr", "BTUH"),
    factor!(ApparentPower, 1.0, "V·A"),
    factor!(ApparentPower, 1e3, "kV·A"),
    factor!(ReactivePower, 1.0, "var", "VAr", "VAR"),
    factor!(ReactivePower, 1e3, "kvar", "kVAr", "kVAR"),
    unit!(Energy, Energy, energy::joule, "J"),
    unit!(Energy, Energy, energy::kilojoule, "kJ"),
    unit!(Energy, Energy, energy::watt_hour, "Wh"),
    unit!(Energy, Energy, energy::kilowatt_hour, "kWh"),
    unit!(Energy, Energy, energy::btu_it, "Btu", "BTU"),
    unit!(Torque, Torque, torque::centinewton_meter, "cN·m"),
    unit!(Torque, Torque, torque::newton_meter, "N·m"),
    unit!(Torque, Torque, torque::pound_force_foot, "lbf·ft", "ft·lbf", "ft-lb", "ft-lbs", "lb-ft", "lb·ft", "ft·lb", "ft-lbf"),
    unit!(Torque, Torque, torque::pound_force_inch, "lbf·in", "in·lbf", "in-lb", "in-lbs", "lb-in", "lb·in", "in·lb", "in-lbf"),
    unit!(Force, Force, force::newton, "N"),
    unit!(Force, Force, force::decanewton, "daN"),
    unit!(Force, Force, force::kilonewton, "kN"),
    unit!(Force, Force, force::pound_force, "lbf"),
    unit!(Force, Force, force::kilogram_force, "kgf", "kp"),
    unit!(Length, Length, length::micrometer, "µm"),
    unit!(Length, Length, length::millimeter, "mm"),
    unit!(Length, Length, length::centimeter, "cm"),
    unit!(Length, Length, length::meter, "m"),
    unit!(Length, Length, length::kilometer, "km"),
    unit!(Length, Length, length::mil, "thou", "mil", "mils"),
    unit!(Length, Length, length::inch, "in", "inch", "inches"),
    unit!(Length, Length, length::foot, "ft", "feet"),
    unit!(Length, Length, length::mile, "mi"),
    unit!(Length, Length, length::nautical_mile, "nmi"),
    factor!(Slope, 1e-6, "µm/m"),
    factor!(Slope, 1e-3, "mm/m"),
    factor!(Slope, 1.0 / 12.0, "in/ft"),
    factor!(Slope, 1e-3, "thou/in", "mil/in", "mils/in"),
    unit!(Area, Area, area::square_millimeter, "mm²"),
    unit!(Area, Area, area::square_centimeter, "cm²"),
    unit!(Area, Area, area::square_meter, "m²"),
    factor!(Area, INCH * INCH, "in²", "sq in"),
    factor!(Area, FOOT * FOOT, "ft²", "sq ft"),
    unit!(Volume, Volume, volume::milliliter, "mL"),
    unit!(Volume, Volume, volume::liter, "L", "litre", "litres", "liter", "liters"),
    unit!(Volume, Volume, volume::cubic_meter, "m³"),
    unit!(Volume, Volume, volume::cubic_centimeter, "cm³", "cc"),
    unit!(Volume, Volume, volume::fluid_ounce, "fl oz"),
    unit!(Volume, Volume, volume::pint_liquid, "pt"),
    unit!(Volume, Volume, volume::quart_liquid, "qt"),
    unit!(Volume, Volume, volume::gallon, "gal", "gallon", "gallons"),
    unit!(Volume, Volume, volume::cubic_inch, "in³"),
    unit!(Volume, Volume, volume::cubic_foot, "ft³"),
    factor!(VolumeFlow, 1e-6 / MINUTE, "mL/min"),
    factor!(VolumeFlow, 1e-6 / MINUTE, "cm³/min", "cc/min"),
    unit!(VolumeFlow, VolumeRate, volume_rate::milliliter_per_second, "mL/s"),
    unit!(VolumeFlow, VolumeRate, volume_rate::liter_per_minute, "L/min", "lpm"),
    factor!(VolumeFlow, 1e-3 / HOUR, "L/h", "lph"),
    unit!(VolumeFlow, VolumeRate, volume_rate::liter_per_second, "L/s"),
    unit!(VolumeFlow, VolumeRate, volume_rate::cubic_meter_per_minute, "m³/min"),
    unit!(VolumeFlow, VolumeRate, volume_rate::cubic_meter_per_hour, "m³/h"),
    unit!(VolumeFlow, VolumeRate, volume_rate::gallon_per_minute, "gal/min", "gpm"),
    factor!(VolumeFlow, GALLON / HOUR, "gal/h", "gph"),
    factor!(VolumeFlow, INCH * INCH * INCH / MINUTE, "in³/min"),
    unit!(VolumeFlow, VolumeRate, volume_rate::cubic_foot_per_minute, "ft³/min", "cfm"),
    unit!(Mass, Mass, mass::milligram, "mg"),
    unit!(Mass, Mass, mass::gram, "g"),
    unit!(Mass, Mass, mass::kilogram, "kg"),
    unit!(Mass, Mass, mass::megagram, "t"),
    unit!(Mass, Mass, mass::ounce, "oz"),
    unit!(Mass, Mass, mass::pound, "lb", "lbs"),
    unit!(MassFlow, MassRate, mass_rate::gram_per_second, "g/s"),
    unit!(MassFlow, MassRate, mass_rate::kilogram_per_hour, "kg/h"),
    factor!(MassFlow, 1e-3 / YEAR, "g/a", "g/yr", "g/year"),
    unit!(MassFlow, MassRate, mass_rate::pound_per_hour, "lb/h"),
    factor!(MassFlow, POUND / 16.0 / YEAR, "oz/yr", "oz/a", "oz/year"),
    factor!(Density, 1e-6, "mg/m³"),
    factor!(Density, 1e-3, "mg/L"),
    factor!(Density, 1.0, "g/L"),
    factor!(Density, 1.0, "kg/m³"),
    factor!(Density, 1e3, "kg/L"),
    factor!(Density, 1e3, "g/cm³"),
    factor!(Density, POUND / (FOOT * FOOT * FOOT), "lb/ft³"),
    factor!(KinematicViscosity, 1e-6, "mm²/s"),
    factor!(KinematicViscosity, 1e-6, "cSt"),
    unit!(Speed, Velocity, velocity::meter_per_second, "m/s"),
    unit!(Speed, Velocity, velocity::millimeter_per_second, "mm/s"),
    factor!(Speed, 1e-3 / MINUTE, "mm/min"),
    factor!(Speed, 1.0 / MINUTE, "m/min"),
    unit!(Speed, Velocity, velocity::kilometer_per_hour, "km/h"),
    unit!(Speed, Velocity, velocity::inch_per_second, "in/s", "ips"),
    factor!(Speed, INCH / MINUTE, "in/min", "ipm"),
    unit!(Speed, Velocity, velocity::foot_per_minute, "ft/min", "fpm"),
    unit!(Speed, Velocity, velocity::mile_per_hour, "mi/h", "mph"),
    unit!(Speed, Velocity, velocity::knot, "kn"),
    unit!(RotationalSpeed, AngularVelocity, angular_velocity::revolution_per_minute, "rpm", "r/min", "1/min", "rev/min", "min⁻¹"),
    unit!(RotationalSpeed, AngularVelocity, angular_velocity::radian_per_second, "rad/s"),
    unit!(Frequency, Frequency, frequency::hertz, "Hz"),
    unit!(Frequency, Frequency, frequency::kilohertz, "kHz"),
    unit!(Acceleration, Acceleration, acceleration::meter_per_second_squared, "m/s²"),
    unit!(Acceleration, Acceleration, acceleration::standard_gravity, "gn"),
    factor!(FuelConsumption, 1e-3 / 1e5, "L/100 km"),
    factor!(FuelConsumption, GALLON / (100.0 * MILE), "gal/100 mi"),
    factor!(FuelEconomy, 1e3 / 1e-3, "km/L"),
    factor!(FuelEconomy, MILE / GALLON, "mpg (US)", "mpg_us", "mi/gal"),
    factor!(FuelEconomy, MILE / IMPERIAL_GALLON, "mpg (imp)", "mpg_imp", "mpg (UK)", "mpg_uk"),
    factor!(SpecificConsumption, 1e-3 / (1e3 * HOUR), "g/kWh"),
    factor!(SpecificConsumption, POUND / (HORSEPOWER * HOUR), "lb/(hp·h)", "lb/hp·h", "lb/hp-hr"),
    unit!(Illuminance, Illuminance, illuminance::lux, "lx", "lux"),
    factor!(Illuminance, 1.0 / (FOOT * FOOT), "fc", "footcandle", "footcandles", "lm/ft²"),
    unit!(Absorption, ReciprocalLength, reciprocal_length::reciprocal_meter, "m⁻¹", "1/m"),
    unit!(Ratio, Ratio, ratio::percent, "%", "percent"),
    unit!(Ratio, Ratio, ratio::part_per_million, "ppm"),
    unit!(Ratio, Ratio, ratio::ratio, "1"),
    factor!(Humidity, 1e-2, "%RH", "RH%", "RH", "%rh", "%HR"),
    unit!(Charge, ElectricCharge, electric_charge::ampere_hour, "Ah"),
    unit!(Charge, ElectricCharge, electric_charge::milliampere_hour, "mAh"),
    unit!(Angle, Angle, angle::degree, "°"),
    unit!(Angle, Angle, angle::radian, "rad"),
    factor!(Level, 1.0, "dB", "decibel"),
    factor!(SoundLevel, 1.0, "dB(A)", "dBA"),
    factor!(Acidity, 1.0, "pH", "ph", "PH"),
];
