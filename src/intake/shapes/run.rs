//! `baseline.toml` and `retest.toml`

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::Deserialize;

use super::{Moment, PositionName};
use crate::job::Remarks;

/// `baseline.toml` and `retest.toml`: the readings before the work, and after
/// it.
// serde cannot both flatten and refuse unknown keys; the schema refuses them.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(extend("additionalProperties" = false))]
pub struct RunFile {
    /// Version of the format: 1.
    #[schemars(range(min = 1, max = 1))]
    pub format: u32,
    /// When the run started, with its offset from UTC, such as
    /// 2026-03-05T06:40:00+01:00.
    pub started: Moment,
    /// When the run ended.
    pub ended: Option<Moment>,
    /// Who measured.
    #[schemars(length(min = 1, max = 120))]
    pub by: String,
    /// Who else saw it, one entry each.
    #[serde(default)]
    #[schemars(length(max = 10), inner(length(min = 1, max = 120)))]
    pub witness: Vec<String>,
    /// The machine's hour meter or odometer.
    pub meter: Option<MeterTable>,
    /// The keys in words.
    #[serde(flatten)]
    pub remarks: Remarks,
    /// The conditions, by the ids in `limits.toml`.
    #[serde(default)]
    pub condition: BTreeMap<String, ConditionValue>,
    /// The readings, by the ids in `limits.toml`.
    #[serde(default)]
    pub reading: BTreeMap<String, ReadingTable>,
    /// Photos taken during the run.
    #[serde(default)]
    #[schemars(length(max = 60))]
    pub photo: Vec<PhotoTable>,
    /// Recordings made during the run, such as a video or a log.
    #[serde(default)]
    #[schemars(length(max = 60))]
    pub recording: Vec<RecordingTable>,
}

/// An hour meter or odometer.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct MeterTable {
    /// The reading of the meter.
    #[schemars(range(min = 0))]
    pub value: f64,
    /// `h`, `km` or `mi`.
    #[schemars(length(min = 1, max = 20))]
    pub unit: String,
}

/// A condition as you found it.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ConditionValue {
    /// The value.
    pub value: Option<f64>,
    /// Its unit.
    #[schemars(length(min = 1, max = 20))]
    pub unit: Option<String>,
    /// The id of the instrument, as in `job.toml`. Without it the value counts as exact.
    #[schemars(length(min = 1, max = 40))]
    pub instrument: Option<String>,
    /// The words, for a condition without a unit.
    #[schemars(length(min = 1, max = 200))]
    pub text: Option<String>,
}

/// One measure's reading. Which keys it takes depends on the measure's kind:
/// `value`/`values` with `unit`; `rows`; `passes` with `attempts`; `grade`; `count`, or
/// `count` with `over` and `unit`; `items`; the smoke keys; or `text`.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ReadingTable {
    /// Why it could not be read, such as `The gauge broke`; with no other key. The measure is
    /// then not judged, and the verdict is undecided if it is required.
    #[schemars(length(min = 1, max = 300))]
    pub not_taken: Option<String>,
    /// The value, for a reading taken once.
    pub value: Option<f64>,
    /// The values, for a reading that was repeated; at most 200.
    #[schemars(length(min = 1, max = 200))]
    pub values: Option<Vec<f64>>,
    /// The unit of the values, or of `over`.
    #[schemars(length(min = 1, max = 20))]
    pub unit: Option<String>,
    /// One row for each position, such as `rows = [ { at = 1, value = 24.5 }, … ]`, with
    /// the position's number or name.
    #[schemars(length(min = 1, max = 64))]
    pub rows: Option<Vec<PositionRow>>,
    /// How many attempts passed.
    #[schemars(range(max = 10_000))]
    pub passes: Option<u32>,
    /// How many attempts were made. Best the same number in both runs: trying until enough
    /// pass favours a result, and the report says so where the numbers differ.
    #[schemars(range(min = 1, max = 10_000))]
    pub attempts: Option<u32>,
    /// The grade, by its name in `grades` of limits.toml.
    #[schemars(length(min = 1, max = 40))]
    pub grade: Option<String>,
    /// How many there were. 0 is a count too.
    #[schemars(range(max = 100_000))]
    pub count: Option<u32>,
    /// Over how much was counted, in `unit`, for a measure with `per`. It counts as exact.
    #[schemars(range(min = 0))]
    pub over: Option<f64>,
    /// What the machine has stored, such as
    /// `items = [ { code = "P-104", text = "Rail pressure low" } ]`; `[]` for nothing.
    #[schemars(length(max = 200))]
    pub items: Option<Vec<ItemRow>>,
    /// Opacity of the smoke, in percent.
    #[schemars(range(min = 0, max = 100))]
    pub opacity_percent: Option<f64>,
    /// Opacity of three accelerations in a row, in percent, instead of
    /// `opacity_percent`. They count only if they are within 5 % of each other.
    #[schemars(length(min = 3, max = 3), inner(range(min = 0, max = 100)))]
    pub snaps_percent: Option<Vec<f64>>,
    /// Length of the opacimeter's light path through the smoke, in millimetres;
    /// the light absorption coefficient is calculated from it, and opacity is converted
    /// to the path that limits.toml states. In both runs or in neither.
    #[schemars(range(min = 1, max = 10_000))]
    pub path_length_mm: Option<f64>,
    /// Colour of the smoke.
    #[schemars(length(min = 1, max = 60))]
    pub colour: Option<String>,
    /// Ringelmann number, 0 to 5, of grey or black smoke only.
    #[schemars(range(min = 0, max = 5))]
    pub ringelmann: Option<f64>,
    /// Seconds until no smoke was seen.
    #[schemars(range(min = 0))]
    pub clear_seconds: Option<f64>,
    /// What the smoke looked like.
    #[schemars(length(min = 1, max = 400))]
    pub words: Option<String>,
    /// The reading, for a measure in words.
    #[schemars(length(min = 1, max = 2000))]
    pub text: Option<String>,
    /// The id of the instrument, as in `job.toml`. A figure with a unit needs it, or its own
    /// `uncertainty`.
    #[schemars(length(min = 1, max = 40))]
    pub instrument: Option<String>,
    /// The id of the watch that timed `clear_seconds`. Without it the time counts
    /// as hand timed.
    #[schemars(length(min = 1, max = 40))]
    pub timer: Option<String>,
    /// The expanded uncertainty of this reading, in `unit`, instead of the instrument's
    /// stated errors.
    #[schemars(range(min = 0))]
    pub uncertainty: Option<f64>,
    /// The coverage factor of `uncertainty`; 2 if left out.
    #[schemars(range(min = 1, max = 20))]
    pub k: Option<f64>,
    /// The effective degrees of freedom stated with `k`, where there are any. The
    /// uncertainty is never expanded to less than it says.
    #[schemars(range(min = 1))]
    pub dof: Option<f64>,
    /// Anything worth knowing about the reading.
    #[schemars(length(min = 1, max = 400))]
    pub note: Option<String>,
    /// The recording of this run that shows the reading, by its `file`. The report names it
    /// beside the figure.
    #[schemars(length(min = 1, max = 200))]
    pub recording: Option<String>,
    /// When the recording shows it, as a player counts: `2:17`, `1:02:17`.
    #[schemars(length(min = 1, max = 12))]
    pub recording_at: Option<String>,
}

impl ReadingTable {
    /// Whether there is a figure or a word in it, at every place that it names.
    pub fn is_filled_in(&self) -> bool {
        let in_words = [&self.not_taken, &self.colour, &self.words, &self.text];
        let rows = self.rows.as_deref().unwrap_or_default();
        self.value.is_some()
            || self.values.is_some()
            || self.passes.is_some()
            || self.opacity_percent.is_some()
            || self.snaps_percent.is_some()
            || self.clear_seconds.is_some()
            || self.grade.is_some()
            || self.count.is_some()
            || self.items.is_some()
            || in_words.into_iter().any(Option::is_some)
            || (!rows.is_empty() && rows.iter().all(PositionRow::is_filled_in))
    }
}

impl PositionRow {
    /// Whether there is a figure or a word in it.
    pub fn is_filled_in(&self) -> bool {
        self.not_taken.is_some()
            || self.value.is_some()
            || self.values.is_some()
            || self.passes.is_some()
            || self.grade.is_some()
            || self.count.is_some()
    }
}

/// The reading at one position.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PositionRow {
    /// The position: its number, or its name.
    pub at: PositionName,
    /// Why it could not be read there; with no other key but `at`.
    #[schemars(length(min = 1, max = 300))]
    pub not_taken: Option<String>,
    /// The value, for a reading taken once.
    pub value: Option<f64>,
    /// The values, for a reading that was repeated; at most 200.
    #[schemars(length(min = 1, max = 200))]
    pub values: Option<Vec<f64>>,
    /// How many attempts passed.
    #[schemars(range(max = 10_000))]
    pub passes: Option<u32>,
    /// How many attempts were made. Best the same number in both runs: trying until enough
    /// pass favours a result, and the report says so where the numbers differ.
    #[schemars(range(min = 1, max = 10_000))]
    pub attempts: Option<u32>,
    /// The grade, by its name in `grades` of limits.toml.
    #[schemars(length(min = 1, max = 40))]
    pub grade: Option<String>,
    /// How many there were. 0 is a count too.
    #[schemars(range(max = 100_000))]
    pub count: Option<u32>,
}

/// One entry of a list that the machine has stored.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ItemRow {
    /// The machine's own code: entries of both runs with the same code are one.
    #[schemars(length(min = 1, max = 40))]
    pub code: String,
    /// What the machine says beside it.
    #[schemars(length(min = 1, max = 200))]
    pub text: Option<String>,
}

/// A recording of any size, such as a video or a log: it is sealed and listed with its
/// digest, but neither read nor attached. Keep it.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RecordingTable {
    /// Its path in the job folder, such as `captures/first-start.mp4`.
    #[schemars(length(min = 1, max = 200))]
    pub file: String,
    /// What it is, for the report.
    #[schemars(length(min = 1, max = 300))]
    pub caption: String,
    /// How long it is, as a player counts: `4:05`, `1:02:17`. No reading is then shown later.
    #[schemars(length(min = 1, max = 12))]
    pub length: Option<String>,
}

/// A photo.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PhotoTable {
    /// Its path in the job folder, such as `photos/gauge-before.jpg`.
    #[schemars(length(min = 1, max = 200))]
    pub file: String,
    /// What it shows, for the report.
    #[schemars(length(min = 1, max = 300))]
    pub caption: String,
    /// A description for readers who cannot see it; the caption if left out.
    #[schemars(length(min = 1, max = 600))]
    pub alt: Option<String>,
    /// A short name, the same in both runs, for photos of the same thing: the report
    /// places the two side by side.
    #[schemars(length(min = 1, max = 40))]
    pub pair: Option<String>,
}
