//! Common tests of the trade, as `limits.toml` names them.

use schemars::JsonSchema;
use serde::Deserialize;

use crate::job::TestKind;

/// A common test of the trade.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum TestWord {
    /// How long the starter turns before the engine runs.
    CrankingTime,
    /// How fast the starter turns the engine.
    CrankingSpeed,
    /// The lowest battery voltage while the starter turns.
    CrankingVoltage,
    /// What each cylinder adds while the engine runs.
    RunningContribution,
    /// The cylinders compared by the starter's current.
    RelativeCompression,
    /// Compression pressure, dry.
    CompressionPressure,
    /// Compression pressure with a little oil in the cylinder.
    WetCompressionPressure,
    /// How much compressed air a cylinder loses at rest.
    LeakDown,
    /// Pressure or flow of blow-by gas.
    CrankcasePressure,
    /// Lubricating oil pressure.
    OilPressure,
    /// Smoke while the engine is accelerated without load.
    SnapAccelerationSmoke,
    /// Smoke judged by eye.
    VisibleSmoke,
    /// Battery voltage under a known load.
    BatteryLoad,
    /// Voltage lost along part of a circuit.
    VoltageDrop,
    /// Resistance of insulation to earth or between windings.
    InsulationResistance,
    /// Current drawn while running.
    RunningCurrent,
    /// Frequency or voltage when the load changes suddenly.
    LoadStep,
    /// Pressure of fuel, oil, air or water at a point of supply.
    SupplyPressure,
    /// Vacuum on the suction side of a pump.
    SuctionRestriction,
    /// Whether a closed circuit holds its pressure.
    PressureHold,
    /// How much is lost per unit of time.
    LeakRate,
    /// How much warmer a part gets than its surroundings.
    TemperatureRise,
    /// Overall vibration level.
    VibrationLevel,
    /// Overall sound level.
    SoundLevel,
    /// Play between gear teeth.
    Backlash,
    /// Superheat of a refrigerant.
    Superheat,
    /// Subcooling of a refrigerant.
    Subcooling,
    /// Condensing temperature minus that of the air or water.
    CondenserSplit,
    /// How long a room or a tank takes to get cold.
    PullDownTime,
}

impl From<TestWord> for TestKind {
    fn from(word: TestWord) -> Self {
        match word {
            TestWord::CrankingTime => Self::CrankingTime,
            TestWord::CrankingSpeed => Self::CrankingSpeed,
            TestWord::CrankingVoltage => Self::CrankingVoltage,
            TestWord::RunningContribution => Self::RunningContribution,
            TestWord::RelativeCompression => Self::RelativeCompression,
            TestWord::CompressionPressure => Self::CompressionPressure,
            TestWord::WetCompressionPressure => Self::WetCompressionPressure,
            TestWord::LeakDown => Self::LeakDown,
            TestWord::CrankcasePressure => Self::CrankcasePressure,
            TestWord::OilPressure => Self::OilPressure,
            TestWord::SnapAccelerationSmoke => Self::SnapAccelerationSmoke,
            TestWord::VisibleSmoke => Self::VisibleSmoke,
            TestWord::BatteryLoad => Self::BatteryLoad,
            TestWord::VoltageDrop => Self::VoltageDrop,
            TestWord::InsulationResistance => Self::InsulationResistance,
            TestWord::RunningCurrent => Self::RunningCurrent,
            TestWord::LoadStep => Self::LoadStep,
            TestWord::SupplyPressure => Self::SupplyPressure,
            TestWord::SuctionRestriction => Self::SuctionRestriction,
            TestWord::PressureHold => Self::PressureHold,
            TestWord::LeakRate => Self::LeakRate,
            TestWord::TemperatureRise => Self::TemperatureRise,
            TestWord::VibrationLevel => Self::VibrationLevel,
            TestWord::SoundLevel => Self::SoundLevel,
            TestWord::Backlash => Self::Backlash,
            TestWord::Superheat => Self::Superheat,
            TestWord::Subcooling => Self::Subcooling,
            TestWord::CondenserSplit => Self::CondenserSplit,
            TestWord::PullDownTime => Self::PullDownTime,
        }
    }
}
