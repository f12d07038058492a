//! `job.toml`

use schemars::JsonSchema;
use serde::Deserialize;

use super::Day;

/// `job.toml`: whose machine it is, what is wrong with it, and what you measure
/// with.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct JobFile {
    /// Version of the format: 1.
    #[schemars(range(min = 1, max = 1))]
    pub format: u32,
    /// The job's number in your books, of at most 60 letters.
    #[schemars(length(min = 1, max = 60))]
    pub job: String,
    /// What the customer complains of, in the customer's words.
    #[schemars(length(min = 1, max = 8000))]
    pub complaint: String,
    /// The day you received the machine.
    pub received: Option<Day>,
    /// Whose machine it is.
    pub customer: CustomerTable,
    /// What is to be repaired.
    pub machine: MachineTable,
    /// One table for each instrument, or for each range of an instrument.
    #[serde(default)]
    #[schemars(length(max = 100))]
    pub instrument: Vec<InstrumentTable>,
}

/// Whose machine it is.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CustomerTable {
    /// The customer's name.
    #[schemars(length(min = 1, max = 120))]
    pub name: String,
    /// How to reach the customer.
    #[schemars(length(min = 1, max = 200))]
    pub contact: Option<String>,
}

/// What is to be repaired.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct MachineTable {
    /// What people call it.
    #[schemars(length(min = 1, max = 120))]
    pub name: String,
    /// Who made it.
    #[schemars(length(min = 1, max = 120))]
    pub maker: Option<String>,
    /// Its model.
    #[schemars(length(min = 1, max = 120))]
    pub model: Option<String>,
    /// Its serial number.
    #[schemars(length(min = 1, max = 120))]
    pub serial: Option<String>,
    /// Anything else that tells it from others.
    #[schemars(length(min = 1, max = 400))]
    pub details: Option<String>,
    /// How many cylinders it has; needed for readings by cylinder.
    #[schemars(range(min = 1, max = 64))]
    pub cylinders: Option<u8>,
}

/// One instrument, with what its maker or its certificate says of its errors.
/// A meter with several ranges gets one table for each range you use.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct InstrumentTable {
    /// A short name by which readings refer to it.
    #[schemars(length(min = 1, max = 40))]
    pub id: String,
    /// What kind of instrument it is.
    #[schemars(length(min = 1, max = 120))]
    pub kind: String,
    /// Its serial number.
    #[schemars(length(min = 1, max = 120))]
    pub serial: Option<String>,
    /// The unit of the errors below; a thermometer's is a
    /// difference, so `K` or `Δ°F` (in plain letters `delta-degF`).
    #[schemars(length(min = 1, max = 20))]
    pub unit: String,
    /// Accuracy, ±, as a number of units. A gauge whose accuracy is a percentage of full
    /// scale has the same error everywhere: work it out and write it here.
    #[schemars(range(min = 0))]
    pub accuracy: Option<f64>,
    /// Accuracy, ±, in percent of the reading, not of full scale; added to `accuracy`
    /// where both are given.
    #[schemars(range(min = 0, max = 100))]
    pub accuracy_percent_of_reading: Option<f64>,
    /// The step of the last digit or of the scale.
    #[schemars(range(min = 0))]
    pub resolution: Option<f64>,
    /// `true` for a watch that is started and stopped by hand: it then carries a
    /// standard uncertainty of 0.10 s. It counts beside the scatter of repeats, which
    /// may hold some of it already: rather too much than too little.
    #[serde(default)]
    pub hand_timed: bool,
    /// Your own standard uncertainty of timing by hand, in seconds, in place of
    /// 0.10 s.
    #[schemars(range(min = 0))]
    pub hand_timing_seconds: Option<f64>,
    /// The expanded uncertainty on its calibration certificate (the ± that it states
    /// for about 95 %). It is added to `accuracy` and `resolution`.
    #[schemars(range(min = 0))]
    pub uncertainty: Option<f64>,
    /// The coverage factor on that certificate; 2 if left out.
    #[schemars(range(min = 1, max = 20))]
    pub k: Option<f64>,
    /// Why its error is the same in both runs, in words, such as `Same probe, not
    /// opened, adjusted or recalibrated between the runs`. Its `accuracy` and
    /// `uncertainty` then cancel in the change of every measure that both runs read
    /// with it, and of `accuracy_percent_of_reading` only that share of the change is left; at a
    /// limit they count in full. Resolution, scatter and timing by hand never cancel.
    /// Leave it out unless you know: errors then count as independent.
    #[schemars(length(min = 1, max = 300))]
    pub common_error: Option<String>,
    /// The day it was calibrated.
    pub calibrated: Option<Day>,
    /// The day its next calibration is due.
    pub due: Option<Day>,
}
