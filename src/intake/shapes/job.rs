//! `job.toml`

use schemars::JsonSchema;
use serde::Deserialize;

use super::Day;
use crate::job::Meter;

/// `job.toml`: whose machine it is, what is wrong with it, and what you measure
/// with.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct JobFile {
    /// Version of the format: 1.
    #[schemars(range(min = 1, max = 1))]
    pub format: u32,
    /// Your job number, of at most 60 characters.
    #[schemars(length(min = 1, max = 60))]
    pub job: String,
    /// What the customer says is wrong, in the customer's words.
    #[schemars(length(min = 1, max = 8000))]
    pub complaint: String,
    /// The customer's order number, or the number of the claim at the warranty desk.
    #[schemars(length(min = 1, max = 60))]
    pub order: Option<String>,
    /// The date you received the machine.
    pub received: Option<Day>,
    /// Whose machine it is.
    pub customer: CustomerTable,
    /// What is to be repaired.
    pub machine: MachineTable,
    /// One table for each instrument, or for each range of an instrument. A shop may keep its
    /// own in `instruments.toml` beside shop.toml, as the same tables: `init` copies them, with
    /// their last calibration, into each new job.
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
    /// Anything else that identifies it.
    #[schemars(length(min = 1, max = 400))]
    pub details: Option<String>,
    /// How many cylinders it has; needed for readings by cylinder.
    #[schemars(range(min = 1, max = 64))]
    pub cylinders: Option<u8>,
    /// What the machine's own meter counts. The worksheet asks for just that; left out, it
    /// leaves room for whatever meter there is.
    pub meter: Option<Meter>,
}

/// One instrument, with the errors that its maker or its certificate states. A meter with
/// several ranges gets one table for each range you use.
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
    /// The unit of the errors below; for a thermometer that is a temperature difference:
    /// `K` or `Δ°F` (in plain letters `delta-degF`).
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
    /// The smallest step of the display or scale.
    #[schemars(range(min = 0))]
    pub resolution: Option<f64>,
    /// `true` for a watch that is started and stopped by hand: it then has a standard
    /// uncertainty of 0.10 s. This is added to the scatter of repeats, which may already
    /// contain some of it: rather too much than too little.
    #[serde(default)]
    pub hand_timed: bool,
    /// Your own standard uncertainty of hand timing, in seconds, instead of 0.10 s.
    #[schemars(range(min = 0))]
    pub hand_timing_seconds: Option<f64>,
    /// The expanded uncertainty on its calibration certificate (the ± that it states
    /// for about 95 %). It is added to `accuracy` and `resolution`.
    #[schemars(range(min = 0))]
    pub uncertainty: Option<f64>,
    /// The coverage factor on that certificate; 2 if left out.
    #[schemars(range(min = 1, max = 20))]
    pub k: Option<f64>,
    /// The effective degrees of freedom that the certificate states with `k`, where it
    /// does. Its uncertainty is never expanded to less than it says.
    #[schemars(range(min = 1))]
    pub dof: Option<f64>,
    /// Why its error is the same in both runs, in words, such as `Same probe, not
    /// opened, adjusted or recalibrated between the runs`. Its `accuracy` and
    /// `uncertainty` then cancel in the change of every measure that both runs read
    /// with it, and of `accuracy_percent_of_reading` only that share of the change remains; at a
    /// limit they count in full. Resolution, scatter and hand timing never cancel.
    /// Leave it out unless you know: errors are then treated as independent.
    #[schemars(length(min = 1, max = 300))]
    pub common_error: Option<String>,
    /// The date of its calibration.
    pub calibrated: Option<Day>,
    /// The date its next calibration is due.
    pub due: Option<Day>,
    /// The number of its calibration certificate.
    #[schemars(length(min = 1, max = 80))]
    pub certificate: Option<String>,
    /// Who calibrated it.
    #[schemars(length(min = 1, max = 120))]
    pub laboratory: Option<String>,
}
