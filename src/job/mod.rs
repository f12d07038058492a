//! The job and its parts: what a technician planned, measured and did.
//!
//! These types hold what the files of a job folder say, once it has been found
//! sound: numbers are finite, units fit their measure, no position is left out,
//! passes never exceed attempts. They know nothing of files, and judge nothing.

mod bounds;
mod exact;
mod files;
mod formula;
mod hazard;
mod limits;
mod positions;
mod run;
mod shop;
mod table;
mod test_kind;
mod variation;
mod work;

use chrono::NaiveDate;
use schemars::JsonSchema;
use serde::Deserialize;

use crate::quantity::{Quantity, Unit};

pub use bounds::{Bounds, LimitBy, OwnLimits, Target, Within};
pub use exact::{
    Bands, CountLimits, Counted, ExactScale, ExactScaleAt, Grades, ListItem, ListLimits, RateScale,
};
pub use files::{During, JobFile, Sealable, Stage};
pub use formula::{
    Expression, Formula, FormulaError, Function, Input, InputOf, Operator, Over, Sloped,
};
pub use hazard::Hazard;
pub use limits::{
    Better, Condition, ConditionKind, DecisionRule, Harder, Improvement, Kind, Limits, Measure,
    PressureReference, Scale, ScaleAt, SmokeLimits,
};
pub use positions::{Called, Entry, PerPosition, Points, Positions};
pub use run::{
    Appearance, CaptureTime, ConditionReading, Count, Observation, Photo, Reading, Recording,
    Remarks, Run, ShownIn, Smoke, Stated,
};
pub use shop::{Accent, AccentError, Paper, Shop};
pub use table::{Between, Table, TableError};
pub use test_kind::TestKind;
pub use variation::{RunToRun, Spread, Variation};
pub use work::{
    Contribution, Cost, DefectOutcome, Fluid, FurtherDefect, Intervention, NotNeeded, Part,
    RuledOut, RunIn, Work,
};

/// Standard uncertainty of one interval that is started and stopped by hand, in
/// seconds: the difference of two anticipated presses, each normal with
/// s = 0.07 s (Am. J. Phys. 87(2) 110, 2019, abstract; √2 × 0.07 s ≈ 0.10 s).
pub const HAND_TIMING_SECONDS: f64 = 0.10;

/// Standard uncertainty of seeing when smoke is gone, in seconds, where the job does not
/// say otherwise (common practice, no published source): two people who watch the same
/// exhaust call it clear a second apart.
pub const SMOKE_BY_EYE_SECONDS: f64 = 0.5;

/// What is fixed before anything is measured: the head of a job and its limits.
#[derive(Debug, Clone)]
pub struct Plan {
    /// The job's number in the shop's books.
    pub number: String,
    /// What the customer complained of, in the customer's words.
    pub complaint: String,
    /// The customer's order, or the claim at the warranty desk, by its number.
    pub order: Option<String>,
    /// When the machine was received.
    pub received: Option<NaiveDate>,
    /// Whose machine it is.
    pub customer: Customer,
    /// What is to be repaired.
    pub machine: Machine,
    /// What it is measured with.
    pub instruments: Vec<Instrument>,
    /// Measures, limits, decision rule and conditions.
    pub limits: Limits,
}

impl Plan {
    /// The instrument with this id.
    pub fn instrument(&self, id: &str) -> Option<&Instrument> {
        self.instruments
            .iter()
            .find(|instrument| instrument.id == id)
    }
}

/// A job before the work: planned and measured once. There is no retest yet, and nothing
/// to judge.
#[derive(Debug, Clone)]
pub struct Baselined {
    /// What was fixed before anything was measured.
    pub plan: Plan,
    /// The readings before the work.
    pub baseline: Run,
}

/// One repair to be shown: all that was planned, measured and done.
#[derive(Debug, Clone)]
pub struct Job {
    /// What was fixed before anything was measured.
    pub plan: Plan,
    /// The readings before the work.
    pub baseline: Run,
    /// What was done between the two runs.
    pub work: Work,
    /// The readings after the work.
    pub retest: Run,
}

impl Job {
    /// Whether a recording shows any reading of it.
    pub fn is_filmed(&self) -> bool {
        self.baseline.is_filmed() || self.retest.is_filmed()
    }
}

/// Whose machine it is.
#[derive(Debug, Clone)]
pub struct Customer {
    /// The customer's name.
    pub name: String,
    /// How to reach the customer.
    pub contact: Option<String>,
}

/// What was repaired.
#[derive(Debug, Clone)]
pub struct Machine {
    /// What people call it.
    pub name: String,
    /// Who made it.
    pub maker: Option<String>,
    /// Its model.
    pub model: Option<String>,
    /// Its serial number.
    pub serial: Option<String>,
    /// Anything else that identifies it.
    pub details: Option<String>,
    /// How many cylinders it has, where it has any.
    pub cylinders: Option<usize>,
    /// What its own meter counts, where that was said.
    pub meter: Option<Meter>,
}

/// What the machine's own meter counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Meter {
    /// Hours of running
    Hours,
    /// Distance covered
    Distance,
    /// It has no meter
    None,
}

/// One instrument, with what its maker or its certificate says of its errors.
///
/// Errors are differences in [`Instrument::unit`].
#[derive(Debug, Clone)]
pub struct Instrument {
    /// The short name by which readings refer to it.
    pub id: String,
    /// What kind of instrument it is.
    pub kind: String,
    /// Its serial number.
    pub serial: Option<String>,
    /// The unit of its errors.
    pub unit: &'static Unit,
    /// Half-width of the stated accuracy, ±, fixed part.
    pub accuracy: Option<Quantity>,
    /// Half-width of the stated accuracy, ±, in percent of the reading.
    pub accuracy_of_reading: Option<Quantity>,
    /// The step of its last digit, or of its scale.
    pub resolution: Option<Quantity>,
    /// Standard uncertainty of starting and stopping it by hand.
    pub hand_timing: Option<Quantity>,
    /// The uncertainty on its calibration certificate.
    pub stated: Option<Stated>,
    /// Why its error is the same in both runs, in words; none where it is not.
    pub common_error: Option<String>,
    /// When it was calibrated.
    pub calibrated: Option<NaiveDate>,
    /// When its next calibration is due.
    pub due: Option<NaiveDate>,
    /// The number of its calibration certificate.
    pub certificate: Option<String>,
    /// Who calibrated it.
    pub laboratory: Option<String>,
}
