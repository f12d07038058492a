//! `work.toml`

use schemars::JsonSchema;
use serde::Deserialize;

use super::{Day, Moment, PhotoTable, RecordingTable};
use crate::job::DefectOutcome;

/// `work.toml`: what was done between the two runs.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WorkFile {
    /// Version of the format: 1.
    #[schemars(range(min = 1, max = 1))]
    pub format: u32,
    /// When the work started, with its offset from UTC.
    pub started: Moment,
    /// When it was finished.
    pub finished: Moment,
    /// Who did it.
    #[schemars(length(min = 1, max = 120))]
    pub by: String,
    /// One table for each thing done.
    #[schemars(length(min = 1, max = 40))]
    pub intervention: Vec<InterventionTable>,
    /// One table for each part that was fitted.
    #[serde(default)]
    #[schemars(length(max = 200))]
    pub part: Vec<PartTable>,
    /// One table for each fluid or consumable.
    #[serde(default)]
    #[schemars(length(max = 100))]
    pub fluid: Vec<FluidTable>,
    /// One table for each thing that was tested and found good.
    #[serde(default)]
    #[schemars(length(max = 40))]
    pub ruled_out: Vec<RuledOutTable>,
    /// One table for each further defect that was found.
    #[serde(default)]
    #[schemars(length(max = 40))]
    pub also_found: Vec<FurtherDefectTable>,
    /// How long the machine ran between the work and the retest.
    pub run_in: Option<RunInTable>,
    /// Hours of labour.
    pub labour: Option<LabourTable>,
    /// What it cost.
    pub cost: Option<CostTable>,
    /// One table for each thing that did not have to be bought.
    #[serde(default)]
    #[schemars(length(max = 20))]
    pub not_needed: Vec<NotNeededTable>,
    /// What the customer should watch for, one sentence each.
    #[serde(default)]
    #[schemars(length(max = 10), inner(length(min = 1, max = 300)))]
    pub watch: Vec<String>,
    /// The date to come back for a follow-up.
    pub follow_up: Option<Day>,
    /// Your warranty on this work, as you gave it.
    #[schemars(length(min = 1, max = 160))]
    pub warranty: Option<String>,
    /// Why you made the report again after the customer had it, one sentence for each time.
    /// Without one the report is issue 1, with one issue 2, and so on.
    #[serde(default)]
    #[schemars(length(max = 20), inner(length(min = 1, max = 300)))]
    pub reissued: Vec<String>,
    /// Photos taken during the work.
    #[serde(default)]
    #[schemars(length(max = 60))]
    pub photo: Vec<PhotoTable>,
    /// Recordings made during the work, such as a video or a log.
    #[serde(default)]
    #[schemars(length(max = 60))]
    pub recording: Vec<RecordingTable>,
}

/// One thing that was done.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct InterventionTable {
    /// What was done.
    #[schemars(length(min = 1, max = 300))]
    pub what: String,
    /// Why it was done.
    #[schemars(length(min = 1, max = 400))]
    pub why: Option<String>,
}

/// A part that was fitted.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PartTable {
    /// What it is.
    #[schemars(length(min = 1, max = 120))]
    pub name: String,
    /// Its part number.
    #[schemars(length(min = 1, max = 60))]
    pub number: Option<String>,
    /// How many.
    #[schemars(range(min = 1, max = 100_000))]
    pub quantity: u32,
    /// What was charged for all of them, in the currency of `cost`.
    #[schemars(range(min = 0))]
    pub price: Option<f64>,
}

/// A fluid or consumable that was used.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FluidTable {
    /// What it is.
    #[schemars(length(min = 1, max = 120))]
    pub name: String,
    /// How much.
    #[schemars(range(min = 0))]
    pub amount: f64,
    /// The unit of the amount, such as `L`, `qt`, `kg` or `oz`.
    #[schemars(length(min = 1, max = 20))]
    pub unit: String,
}

/// Something that was tested and found good.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RuledOutTable {
    /// What was suspected.
    #[schemars(length(min = 1, max = 200))]
    pub what: String,
    /// How it was tested, and what was found.
    #[schemars(length(min = 1, max = 400))]
    pub how: String,
}

/// A further defect that was found during the work.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FurtherDefectTable {
    /// What was found.
    #[schemars(length(min = 1, max = 300))]
    pub what: String,
    /// Whether it was `repaired` or `left`.
    pub outcome: DefectOutcome,
    /// What was done or advised.
    #[schemars(length(min = 1, max = 400))]
    pub note: Option<String>,
}

/// How long the machine ran between the work and the retest.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RunInTable {
    /// Running time in hours.
    #[schemars(range(min = 0))]
    pub hours: Option<f64>,
    /// Distance in kilometres.
    #[schemars(range(min = 0))]
    pub kilometres: Option<f64>,
    /// Distance in miles.
    #[schemars(range(min = 0))]
    pub miles: Option<f64>,
    /// Number of starts.
    #[schemars(range(max = 100_000))]
    pub starts: Option<u32>,
    /// Anything else about it.
    #[schemars(length(min = 1, max = 400))]
    pub note: Option<String>,
}

/// Time spent.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LabourTable {
    /// Hours.
    #[schemars(range(min = 0))]
    pub hours: f64,
}

/// What it cost.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CostTable {
    /// Three-letter currency code (ISO 4217): `GBP` for £, `EUR` for €, `USD` for the
    /// dollar of the United States.
    #[schemars(length(min = 3, max = 3))]
    pub currency: String,
    /// Labour.
    #[schemars(range(min = 0, max = 1_000_000_000.0))]
    pub labour: Option<f64>,
    /// Parts and fluids.
    #[schemars(range(min = 0, max = 1_000_000_000.0))]
    pub parts: Option<f64>,
    /// The total, as charged.
    #[schemars(range(min = 0, max = 1_000_000_000.0))]
    pub total: f64,
}

/// Something that did not have to be bought.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct NotNeededTable {
    /// What was not needed.
    #[schemars(length(min = 1, max = 200))]
    pub what: String,
    /// What it would have cost, in the currency of `cost`.
    #[schemars(range(min = 0, max = 1_000_000_000.0))]
    pub estimate: Option<f64>,
    /// Who made that estimate.
    #[schemars(length(min = 1, max = 120))]
    pub estimate_by: Option<String>,
}
