//! What a test cannot tell: what holds for the kind of test, and what the job adds.

use super::words::Words;
use crate::job::{Measure, TestKind};

/// One sentence each: first what no test of this kind can tell, then what the job says.
pub fn cannot_tell(measure: &Measure, words: &Words) -> Vec<String> {
    let of_kind = measure.test.map(|test| words.say(sentence(test)));
    of_kind
        .into_iter()
        .chain(measure.cannot_tell.iter().cloned())
        .collect()
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
    }
}
