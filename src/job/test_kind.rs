//! Which of the trade's tests a measure is.

use schemars::JsonSchema;
use serde::Deserialize;

use super::Hazard;

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
    /// Pressure or flow of blow-by gas of an engine.
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
    /// Pressure of fuel, oil, air or water at a point of supply, in use; where a valve or
    /// regulator is set to is `valve-setting`.
    SupplyPressure,
    /// Vacuum on the suction side of a pump, blower or compressor.
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
    /// Play of gears or of a drive when the direction turns.
    Backlash,
    /// Superheat of a refrigerant.
    Superheat,
    /// Subcooling of a refrigerant.
    Subcooling,
    /// Condensing temperature minus that of the air or water.
    CondenserSplit,
    /// How long a room or a tank takes to get cold.
    PullDownTime,
    /// How far the voltages of the phases differ, at the machine.
    VoltageUnbalance,
    /// How far the currents of the phases differ, under load.
    CurrentUnbalance,
    /// Resistance of a winding from terminal to terminal.
    WindingResistance,
    /// Insulation resistance after ten minutes over that after one.
    PolarisationIndex,
    /// Resistance of the protective conductor to earth.
    EarthContinuity,
    /// Current that flows to earth.
    LeakageCurrent,
    /// Light that falls on a place.
    Illuminance,
    /// What a pump, fan or valve delivers at a stated pressure.
    FlowAtPressure,
    /// The pressure at which a relief valve, regulator or switch acts.
    ValveSetting,
    /// How far a rod or a load moves by itself in a stated time.
    Drift,
    /// How long a machine takes for one whole cycle or movement.
    CycleTime,
    /// How far two shafts, pulleys or rails are out of line.
    Alignment,
    /// How tight a belt or chain is.
    BeltTension,
    /// Force of a brake at the wheel or drum, on a tester.
    BrakeForce,
    /// Particles in a sample of oil or fluid.
    OilCleanliness,
    /// What a burner's flue gas is made of.
    CombustionAnalysis,
    /// What a sample of water holds: conductivity, pH, hardness, chemicals.
    WaterQuality,
    /// What a control has stored as faults.
    FaultMemory,
    /// A search for leaks with soap solution or by ear.
    LeakCheck,
    /// Whether an actuator works, judged by ear or feel.
    ActuationCheck,
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
                | Self::VoltageUnbalance
                | Self::CurrentUnbalance
                | Self::WindingResistance
                | Self::PolarisationIndex
                | Self::Illuminance
                | Self::FlowAtPressure
                | Self::CycleTime
                | Self::BeltTension
                | Self::BrakeForce
        )
    }

    /// What can hurt someone who makes this test on any machine; what depends on the
    /// machine, the job itself says. Cautions are printed for both.
    pub fn usual_hazards(self) -> &'static [Hazard] {
        match self {
            Self::BatteryLoad => &[Hazard::Battery],
            Self::RunningContribution | Self::SnapAccelerationSmoke => &[Hazard::Exhaust],
            Self::InsulationResistance
            | Self::PolarisationIndex
            | Self::WindingResistance
            | Self::VoltageUnbalance
            | Self::CurrentUnbalance
            | Self::EarthContinuity
            | Self::LeakageCurrent => &[Hazard::Electricity],
            Self::Alignment | Self::BeltTension => &[Hazard::RotatingParts],
            Self::CombustionAnalysis => &[Hazard::Heat, Hazard::FlueGas],
            Self::Superheat | Self::Subcooling | Self::LeakCheck => &[Hazard::PressurisedGas],
            Self::Drift => &[Hazard::Lifting, Hazard::Hydraulics],
            Self::BrakeForce | Self::CycleTime => &[Hazard::MovingMachine],
            // Each kind is named, so that the compiler asks of a new one what can hurt.
            Self::CrankingTime
            | Self::CrankingSpeed
            | Self::CrankingVoltage
            | Self::RelativeCompression
            | Self::CompressionPressure
            | Self::WetCompressionPressure
            | Self::LeakDown
            | Self::CrankcasePressure
            | Self::OilPressure
            | Self::VisibleSmoke
            | Self::VoltageDrop
            | Self::RunningCurrent
            | Self::LoadStep
            | Self::SupplyPressure
            | Self::SuctionRestriction
            | Self::PressureHold
            | Self::LeakRate
            | Self::TemperatureRise
            | Self::VibrationLevel
            | Self::SoundLevel
            | Self::Backlash
            | Self::CondenserSplit
            | Self::PullDownTime
            | Self::Illuminance
            | Self::FlowAtPressure
            | Self::ValveSetting
            | Self::OilCleanliness
            | Self::WaterQuality
            | Self::FaultMemory
            | Self::ActuationCheck => &[],
        }
    }
}
