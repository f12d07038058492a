//! A unit, found by the symbol people write, and what it measures.

use std::fmt;

use super::units::UNITS;

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
    /// Electrical capacitance.
    Capacitance,
    /// Power.
    Power,
    /// Apparent power of alternating current, in volt-amperes.
    ApparentPower,
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
    /// Level on a logarithmic scale, such as that of sound, in decibels.
    Level,
}

impl Dimension {
    /// Every dimension, in the order in which they are listed for a reader.
    pub const ALL: [Self; 27] = [
        Self::Time,
        Self::Temperature,
        Self::TemperatureDifference,
        Self::Pressure,
        Self::Voltage,
        Self::Current,
        Self::Resistance,
        Self::Capacitance,
        Self::Power,
        Self::ApparentPower,
        Self::Energy,
        Self::Torque,
        Self::Force,
        Self::Length,
        Self::Volume,
        Self::VolumeFlow,
        Self::Mass,
        Self::MassFlow,
        Self::Speed,
        Self::RotationalSpeed,
        Self::Frequency,
        Self::Acceleration,
        Self::Absorption,
        Self::Ratio,
        Self::Charge,
        Self::Angle,
        Self::Level,
    ];

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
            Self::Capacitance => "capacitance",
            Self::Power => "power",
            Self::ApparentPower => "apparent power",
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
            Self::Level => "level",
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
    /// value makes sense. It does not on the Celsius and Fahrenheit scales, nor for
    /// decibels.
    pub fn has_true_zero(&self) -> bool {
        !matches!(self.dimension, Dimension::Temperature | Dimension::Level)
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
        // Short symbols are all alike; only a wrong shift key counts there.
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

    /// What lists all dimensions for a reader, or checks them all, goes by `ALL`.
    #[test]
    fn all_dimensions_are_those_of_the_units() {
        let listed: std::collections::BTreeSet<Dimension> = Dimension::ALL.into();
        assert_eq!(listed.len(), Dimension::ALL.len(), "one is listed twice");
        let of_units = UNITS.iter().map(Unit::dimension).collect();
        assert_eq!(listed, of_units);
    }

    #[test]
    fn a_typing_mistake_finds_its_unit() {
        assert_eq!(near_units("kpa"), ["kPa"]);
        assert!(near_units("PSI").contains(&"psi"));
        assert!(near_units("furlongs").is_empty());
    }
}
