//! Which of the trade's tests a measure is.

use schemars::JsonSchema;
use serde::Deserialize;

/// A common test of the trade.
// The list, and what each test cannot tell, is common practice, no published source.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum TestKind {
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

impl TestKind {
    /// Whether a negative reading of it can only be a typing mistake: a time, a speed, a
    /// pressure of a cylinder, a resistance.
    pub fn is_never_negative(self) -> bool {
        matches!(
            self,
            Self::CrankingTime
                | Self::CrankingSpeed
                | Self::CrankingVoltage
                | Self::CompressionPressure
                | Self::WetCompressionPressure
                | Self::OilPressure
                | Self::InsulationResistance
                | Self::VibrationLevel
                | Self::Backlash
                | Self::PullDownTime
        )
    }
}
