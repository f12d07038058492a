//! What a test cannot tell: what holds for the kind of test, and what the job adds.

use super::words::Words;
use crate::job::{Measure, TestKind};
use crate::judge::Form;

/// One sentence each: first what no test of this kind, and no reading of this form, can tell,
/// then what the job says.
pub fn cannot_tell(measure: &Measure, words: &Words) -> Vec<String> {
    let of_kind = measure.test.map(|test| words.say(sentence(test)));
    let of_form = Form::of(&measure.kind).map(|form| words.say(of_form(form)));
    of_kind
        .into_iter()
        .chain(of_form)
        .chain(measure.cannot_tell.iter().cloned())
        .collect()
}

/// What no reading of this form can tell.
pub fn of_form(form: Form) -> &'static str {
    match form {
        Form::Grade => "form-grade",
        Form::Rate => "form-rate",
        Form::List => "form-list",
    }
}

/// What no test of this kind can tell.
pub fn sentence(test: TestKind) -> &'static str {
    match test {
        TestKind::CrankingTime => "test-cranking-time",
        TestKind::CrankingSpeed => "test-cranking-speed",
        TestKind::CrankingVoltage => "test-cranking-voltage",
        TestKind::RunningContribution => "test-running-contribution",
        TestKind::RelativeCompression => "test-relative-compression",
        TestKind::CompressionPressure => "test-compression-pressure",
        TestKind::WetCompressionPressure => "test-wet-compression-pressure",
        TestKind::LeakDown => "test-leak-down",
        TestKind::CrankcasePressure => "test-crankcase-pressure",
        TestKind::OilPressure => "test-oil-pressure",
        TestKind::SnapAccelerationSmoke => "test-snap-acceleration-smoke",
        TestKind::VisibleSmoke => "test-visible-smoke",
        TestKind::BatteryLoad => "test-battery-load",
        TestKind::VoltageDrop => "test-voltage-drop",
        TestKind::InsulationResistance => "test-insulation-resistance",
        TestKind::RunningCurrent => "test-running-current",
        TestKind::LoadStep => "test-load-step",
        TestKind::SupplyPressure => "test-supply-pressure",
        TestKind::SuctionRestriction => "test-suction-restriction",
        TestKind::PressureHold => "test-pressure-hold",
        TestKind::LeakRate => "test-leak-rate",
        TestKind::TemperatureRise => "test-temperature-rise",
        TestKind::VibrationLevel => "test-vibration-level",
        TestKind::SoundLevel => "test-sound-level",
        TestKind::Backlash => "test-backlash",
        TestKind::Superheat => "test-superheat",
        TestKind::Subcooling => "test-subcooling",
        TestKind::CondenserSplit => "test-condenser-split",
        TestKind::PullDownTime => "test-pull-down-time",
        TestKind::VoltageUnbalance => "test-voltage-unbalance",
        TestKind::CurrentUnbalance => "test-current-unbalance",
        TestKind::WindingResistance => "test-winding-resistance",
        TestKind::PolarisationIndex => "test-polarisation-index",
        TestKind::EarthContinuity => "test-earth-continuity",
        TestKind::LeakageCurrent => "test-leakage-current",
        TestKind::Illuminance => "test-illuminance",
        TestKind::FlowAtPressure => "test-flow-at-pressure",
        TestKind::ValveSetting => "test-valve-setting",
        TestKind::Drift => "test-drift",
        TestKind::CycleTime => "test-cycle-time",
        TestKind::Alignment => "test-alignment",
        TestKind::BeltTension => "test-belt-tension",
        TestKind::BrakeForce => "test-brake-force",
        TestKind::OilCleanliness => "test-oil-cleanliness",
        TestKind::CombustionAnalysis => "test-combustion-analysis",
        TestKind::WaterQuality => "test-water-quality",
        TestKind::FaultMemory => "test-fault-memory",
        TestKind::LeakCheck => "test-leak-check",
        TestKind::ActuationCheck => "test-actuation-check",
    }
}
