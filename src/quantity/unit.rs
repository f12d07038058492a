//! A unit, and what it measures.

use std::fmt;

/// What is measured; units convert only within one dimension.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Dimension {
    /// Duration.
    Time,
    /// A point on a temperature scale.
    Temperature,
    /// A difference between two temperatures.
    TemperatureDifference,
    /// How fast a temperature changes.
    TemperatureRate,
    /// Pressure.
    Pressure,
    /// How fast a pressure changes.
    PressureRate,
    /// Electric potential difference.
    Voltage,
    /// Electric current.
    Current,
    /// Electrical resistance.
    Resistance,
    /// Electrical capacitance.
    Capacitance,
    /// Electrical inductance.
    Inductance,
    /// Electrical conductivity, such as that of water.
    Conductivity,
    /// Power.
    Power,
    /// Apparent power of alternating current, in volt-amperes.
    ApparentPower,
    /// Reactive power of alternating current, in vars.
    ReactivePower,
    /// Energy.
    Energy,
    /// Torque.
    Torque,
    /// Force.
    Force,
    /// Length, and distance covered.
    Length,
    /// One length for each of another: a gradient, an angular misalignment.
    Slope,
    /// Area.
    Area,
    /// Volume.
    Volume,
    /// Volume flow rate.
    VolumeFlow,
    /// Mass.
    Mass,
    /// Mass flow rate.
    MassFlow,
    /// Mass of a volume: density, and the concentration of a substance.
    Density,
    /// Kinematic viscosity.
    KinematicViscosity,
    /// Linear speed, and vibration velocity.
    Speed,
    /// Rotational speed.
    RotationalSpeed,
    /// Frequency.
    Frequency,
    /// Acceleration, and vibration acceleration.
    Acceleration,
    /// Fuel for each distance. It is not converted to [`Self::FuelEconomy`]: the reciprocal of
    /// a mean is not the mean of the reciprocals, an uncertainty converts to first order
    /// only, and what is better changes sides.
    FuelConsumption,
    /// Distance for each amount of fuel.
    FuelEconomy,
    /// Fuel for each amount of work.
    SpecificConsumption,
    /// Light that falls on a surface.
    Illuminance,
    /// Light absorption coefficient of smoke.
    Absorption,
    /// A share: percent, parts per million.
    Ratio,
    /// Relative humidity.
    Humidity,
    /// Electric charge, battery capacity.
    Charge,
    /// Plane angle.
    Angle,
    /// Level on a logarithmic scale, in decibels; also a difference of two such levels.
    Level,
    /// A-weighted sound level; a difference of two is a [`Self::Level`].
    SoundLevel,
    /// Acidity, as pH.
    Acidity,
}

impl Dimension {
    /// Every dimension, in the order in which they are listed for a reader.
    pub const ALL: [Self; 43] = [
        Self::Time,
        Self::Temperature,
        Self::TemperatureDifference,
        Self::TemperatureRate,
        Self::Pressure,
        Self::PressureRate,
        Self::Voltage,
        Self::Current,
        Self::Resistance,
        Self::Capacitance,
        Self::Inductance,
        Self::Conductivity,
        Self::Power,
        Self::ApparentPower,
        Self::ReactivePower,
        Self::Energy,
        Self::Torque,
        Self::Force,
        Self::Length,
        Self::Slope,
        Self::Area,
        Self::Volume,
        Self::VolumeFlow,
        Self::Mass,
        Self::MassFlow,
        Self::Density,
        Self::KinematicViscosity,
        Self::Speed,
        Self::RotationalSpeed,
        Self::Frequency,
        Self::Acceleration,
        Self::FuelConsumption,
        Self::FuelEconomy,
        Self::SpecificConsumption,
        Self::Illuminance,
        Self::Absorption,
        Self::Ratio,
        Self::Humidity,
        Self::Charge,
        Self::Angle,
        Self::Level,
        Self::SoundLevel,
        Self::Acidity,
    ];

    /// Whether an instrument whose errors are of this dimension reads `other`: the
    /// errors of a thermometer are temperature differences, those of a sound level meter
    /// plain decibels.
    pub fn serves(self, other: Self) -> bool {
        let of_errors = |dimension| match dimension {
            Self::Temperature => Self::TemperatureDifference,
            Self::SoundLevel => Self::Level,
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
            Self::TemperatureRate => "rate of temperature change",
            Self::Pressure => "pressure",
            Self::PressureRate => "rate of pressure change",
            Self::Voltage => "voltage",
            Self::Current => "current",
            Self::Resistance => "resistance",
            Self::Capacitance => "capacitance",
            Self::Inductance => "inductance",
            Self::Conductivity => "electrical conductivity",
            Self::Power => "power",
            Self::ApparentPower => "apparent power",
            Self::ReactivePower => "reactive power",
            Self::Energy => "energy",
            Self::Torque => "torque",
            Self::Force => "force",
            Self::Length => "length",
            Self::Slope => "slope",
            Self::Area => "area",
            Self::Volume => "volume",
            Self::VolumeFlow => "volume flow",
            Self::Mass => "mass",
            Self::MassFlow => "mass flow",
            Self::Density => "density or concentration",
            Self::KinematicViscosity => "kinematic viscosity",
            Self::Speed => "speed",
            Self::RotationalSpeed => "rotational speed",
            Self::Frequency => "frequency",
            Self::Acceleration => "acceleration",
            Self::FuelConsumption => "fuel consumption",
            Self::FuelEconomy => "fuel economy",
            Self::SpecificConsumption => "specific fuel consumption",
            Self::Illuminance => "illuminance",
            Self::Absorption => "light absorption coefficient",
            Self::Ratio => "ratio",
            Self::Humidity => "relative humidity",
            Self::Charge => "electric charge",
            Self::Angle => "angle",
            Self::Level => "level",
            Self::SoundLevel => "weighted sound level",
            Self::Acidity => "pH value",
        })
    }
}

/// One unit of the table; compare by address or by symbol.
pub struct Unit {
    pub(super) symbol: &'static str,
    pub(super) aliases: &'static [&'static str],
    pub(super) dimension: Dimension,
    pub(super) to_si: fn(f64) -> f64,
    pub(super) from_si: fn(f64) -> f64,
    pub(super) scale: fn() -> f64,
}

impl Unit {
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
    /// value makes sense. It does not on the Celsius and Fahrenheit scales, nor for
    /// decibels and pH.
    pub fn has_true_zero(&self) -> bool {
        use Dimension::{Acidity, Level, SoundLevel, Temperature};
        !matches!(self.dimension, Temperature | Level | SoundLevel | Acidity)
    }

    /// The unit in which differences of this unit are printed.
    pub fn of_differences(&self) -> &'static str {
        match self.symbol {
            "°C" => "K",
            "°F" => "Δ°F",
            "dB(A)" => "dB",
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
