//! `limits.toml`

use schemars::JsonSchema;
use serde::Deserialize;

use super::PositionName;
use crate::job::{Better, Between, DecisionRule, Harder, Hazard, PressureReference, TestKind};

/// `limits.toml`: what you will measure and which limits must be met. Fill it in before
/// the work starts.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LimitsFile {
    /// Version of the format: 1.
    #[schemars(range(min = 1, max = 1))]
    pub format: u32,
    /// How uncertainty counts at a limit; `four-zone` if left out.
    pub decision_rule: Option<DecisionRule>,
    /// How and with whom limits and decision rule were agreed.
    #[schemars(length(min = 1, max = 400))]
    pub agreed: Option<String>,
    /// One table for each set of positions at which something is read, such as phases,
    /// bearings or wheels. A machine with cylinders has the set `cylinders` without one.
    #[serde(default)]
    #[schemars(length(max = 20))]
    pub positions: Vec<PositionsTable>,
    /// One table for each set of points of a test, such as speeds, loads or minutes.
    #[serde(default)]
    #[schemars(length(max = 20))]
    pub points: Vec<PointsTable>,
    /// One table for each table of figures that formulas look something up in.
    #[serde(default)]
    #[schemars(length(max = 20))]
    pub table: Vec<ValueTable>,
    /// One table for each measure, in the order of the report.
    #[schemars(length(min = 1, max = 100))]
    pub measure: Vec<MeasureTable>,
    /// One table for each condition that must be alike in both runs.
    #[serde(default)]
    #[schemars(length(max = 40))]
    pub condition: Vec<ConditionTable>,
}

/// A set of positions: by `count` if they have numbers, by `names` if they have names.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PositionsTable {
    /// A short name by which measures refer to it, such as `phases`.
    #[schemars(length(min = 1, max = 40))]
    pub id: String,
    /// What one of them is called, such as `phase`.
    #[schemars(length(min = 1, max = 40))]
    pub one: String,
    /// What several are called, such as `phases`.
    #[schemars(length(min = 1, max = 40))]
    pub many: String,
    /// How many there are, numbered from 1.
    #[schemars(range(min = 1, max = 64))]
    pub count: Option<u32>,
    /// Their names, in the order of the report.
    #[schemars(length(min = 1, max = 64), inner(length(min = 1, max = 40)))]
    pub names: Option<Vec<String>>,
}

/// Several points of one test: what is set, and to what. A measure is read at each of them.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PointsTable {
    /// A short name by which measures refer to it, such as `speeds`.
    #[schemars(length(min = 1, max = 40))]
    pub id: String,
    /// What is set, such as `Pump speed`.
    #[schemars(length(min = 1, max = 60))]
    pub what: String,
    /// The unit of the settings.
    #[schemars(length(min = 1, max = 20))]
    pub unit: String,
    /// The settings, rising, such as `[600, 1000, 1400]`. The rows of readings and limits name
    /// them.
    #[schemars(length(min = 2, max = 64))]
    pub settings: Vec<f64>,
    /// How far from its setting each was held at most, ±, in `unit`; of a temperature, a
    /// difference. It counts in the uncertainty by how steep the curve is there. Without it,
    /// or with 0, the settings count as exact.
    #[schemars(range(min = 0))]
    pub held_within: Option<f64>,
}

/// A table of figures, such as a saturation temperature by pressure: formulas name its `id`
/// like a function.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ValueTable {
    /// A short name by which formulas refer to it, such as `saturation`.
    #[schemars(length(min = 1, max = 40))]
    pub id: String,
    /// What it is and where it comes from.
    #[schemars(length(min = 1, max = 200))]
    pub source: String,
    /// The unit of the numbers that it is asked for.
    #[schemars(length(min = 1, max = 20))]
    pub from: String,
    /// The unit of its answers.
    #[schemars(length(min = 1, max = 20))]
    pub to: String,
    /// What lies between two rows: a straight `line`; a `step`, so that what the row at or
    /// below says holds; or `up-to`, so that what the row at or above says holds. `line` if
    /// left out. Beyond its ends nothing is read off.
    pub between: Option<Between>,
    /// The rows, such as `[ [1.0, -26.4], [1.2, -22.4] ]`; the first numbers rise.
    #[schemars(length(min = 1, max = 400))]
    pub rows: Vec<[f64; 2]>,
}

/// The limits of one position, where they are not those of all. None of the measure's own
/// limits then holds there.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LimitRow {
    /// The position: its number, or its name.
    pub at: PositionName,
    /// The least acceptable value there, in `unit`.
    pub min: Option<f64>,
    /// The greatest acceptable value there, in `unit`.
    pub max: Option<f64>,
    /// The figure that is wanted there, in `unit`, with `within` or `within_percent`.
    pub target: Option<f64>,
    /// How far from `target` a value may be there, to either side, in `unit`; of a
    /// temperature, a difference. Left out, that of the measure holds.
    #[schemars(range(min = 0))]
    pub within: Option<f64>,
    /// The same in percent of `target`.
    #[schemars(range(min = 0))]
    pub within_percent: Option<f64>,
    /// What a value there should at least be besides.
    pub should_min: Option<f64>,
    /// What a value there should at most be besides.
    pub should_max: Option<f64>,
    /// The limit as the manual prints it.
    #[schemars(length(min = 1, max = 200))]
    pub as_printed: Option<String>,
    /// The limit of what was in service there, which holds for the baseline. Left out, that of
    /// the measure holds.
    pub before: Option<BeforeTable>,
    /// The least acceptable grade there. For `grade`.
    #[schemars(length(min = 1, max = 40))]
    pub at_least: Option<String>,
    /// The greatest acceptable number there. For `count`.
    #[schemars(range(max = 100_000))]
    pub max_count: Option<u32>,
    /// The least acceptable number there. For `count`.
    #[schemars(range(max = 100_000))]
    pub min_count: Option<u32>,
}

/// The limit of what was in service, such as a worn part, where it is not that of a new or
/// repaired one.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BeforeTable {
    /// The least acceptable value, in `unit`.
    pub min: Option<f64>,
    /// The greatest acceptable value, in `unit`.
    pub max: Option<f64>,
    /// The figure that is wanted, in `unit`, with `within` or `within_percent`.
    pub target: Option<f64>,
    /// How far from `target` a value may be, to either side.
    #[schemars(range(min = 0))]
    pub within: Option<f64>,
    /// The same in percent of `target`.
    #[schemars(range(min = 0))]
    pub within_percent: Option<f64>,
    /// What a value should at least be besides.
    pub should_min: Option<f64>,
    /// What a value should at most be besides.
    pub should_max: Option<f64>,
    /// The limit as the manual prints it.
    #[schemars(length(min = 1, max = 200))]
    pub as_printed: Option<String>,
}

/// One thing that is measured before and after the work.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct MeasureTable {
    /// A short name by which readings refer to it, such as `crank-time`.
    #[schemars(length(min = 1, max = 40))]
    pub id: String,
    /// The name that is printed.
    #[schemars(length(min = 1, max = 120))]
    pub name: String,
    /// What a reading of it looks like.
    pub kind: KindWord,
    /// Where it is read, if at several positions or points: the id of a `[[positions]]` or a
    /// `[[points]]`, or `cylinders`. For `value`, `passes`, `grade` and `count` without `per`.
    /// Its limits then hold at every position.
    #[schemars(length(min = 1, max = 40))]
    pub at: Option<String>,
    /// How it is worked out from other readings of the same run, instead of being read: a
    /// formula such as `pipe - saturation(suction)`, with the ids of measures above it and of
    /// conditions, each in its own unit. For `value`.
    #[schemars(length(min = 1, max = 400))]
    pub worked_out: Option<String>,
    /// How many positions at least must have been read of each measure of which
    /// `worked_out` takes all positions: those that were not are then left out, and the report
    /// says so. Without it all must have been read. For `value` with `worked_out` that gives
    /// one figure.
    #[schemars(range(min = 2, max = 64))]
    pub least_read: Option<u32>,
    /// The limits of single positions, in place of those of the measure, such as
    /// `limit_rows = [ { at = "hall", min = 90, max = 110 }, … ]`, or with a target of each,
    /// `limit_rows = [ { at = "hall", target = 120 }, … ]` and `within_percent = 10`; of a
    /// grade, `limit_rows = [ { at = "rod seal", at_least = "weeping" } ]`. For `value`,
    /// `grade` and `count` with `at`.
    #[serde(default)]
    #[schemars(length(max = 64))]
    pub limit_rows: Vec<LimitRow>,
    /// Which common test of the trade it is; the report then says what such a test cannot
    /// tell. A job with `cranking-time` should record the battery voltage or the cranking
    /// speed as well: the report says so if neither is in both runs.
    pub test: Option<TestKind>,
    /// The unit in which it is printed. For `value`.
    #[schemars(length(min = 1, max = 20))]
    pub unit: Option<String>,
    /// Which way is better. For `value` and `count`.
    pub better: Option<Better>,
    /// How many times you plan to read it in each run. The worksheet leaves room for that
    /// many, and the report says so where a run has more or fewer. For
    /// `value`.
    #[schemars(range(min = 1, max = 12))]
    pub repeats: Option<u8>,
    /// `true` if the verdict depends on it.
    #[serde(default)]
    pub required: bool,
    /// The least acceptable value, in `unit`.
    pub min: Option<f64>,
    /// The greatest acceptable value, in `unit`.
    pub max: Option<f64>,
    /// The figure that is wanted, in `unit`, with `within` or `within_percent`, in place of
    /// `min` and `max`. For `value`.
    pub target: Option<f64>,
    /// How far from `target` a value may be, to either side, in `unit`; of a temperature, a
    /// difference. Also for the targets in `limit_rows`. For `value`.
    #[schemars(range(min = 0))]
    pub within: Option<f64>,
    /// The same in percent of `target`. For `value`.
    #[schemars(range(min = 0))]
    pub within_percent: Option<f64>,
    /// The least acceptable value where it depends on other readings of the same run: a
    /// formula such as `load-limit(battery-temperature)`, with the ids of measures above it
    /// and of conditions, each in its own unit, and of tables. Each run is judged by its own.
    /// For `value`.
    #[schemars(length(min = 1, max = 400))]
    pub min_by: Option<String>,
    /// The greatest acceptable value where it depends on other readings of the same run. For
    /// `value`.
    #[schemars(length(min = 1, max = 400))]
    pub max_by: Option<String>,
    /// What a value should at least be, besides the limit that it must keep. Outside of it
    /// there is a reservation; the verdict does not depend on it. For `value`.
    pub should_min: Option<f64>,
    /// What a value should at most be, besides the limit that it must keep. For `value`.
    pub should_max: Option<f64>,
    /// The limit as the manual prints it, such as `0.05 mm per 100 mm`; the report shows it
    /// beside what it comes to here. For `value`.
    #[schemars(length(min = 1, max = 200))]
    pub as_printed: Option<String>,
    /// The limit of what was in service, such as a worn part or an old winding, where the manual
    /// has another one for it, such as `before = { max = 0.90, should_max = 0.75 }`. The
    /// baseline is judged by it; the retest, the change and the verdict by the limit above. For
    /// `value` without `min_by` and `max_by`.
    pub before: Option<BeforeTable>,
    /// The least number of passes. For `passes`; of as many attempts as the baseline has,
    /// and of more in the same proportion. Without it a
    /// position counts as passing only if every attempt passed. A change in the number of
    /// passes is claimed only where the exact test gives p strictly below 0.05.
    #[schemars(range(min = 1, max = 10_000))]
    pub min_passes: Option<u32>,
    /// The grades by ear, eye or hand, from worst to best, such as
    /// `[ "none", "faint", "clear" ]`; for a question with yes or no, `[ "no", "yes" ]` with
    /// the better answer last. For `grade`.
    #[schemars(length(min = 1, max = 12), inner(length(min = 1, max = 40)))]
    pub grades: Option<Vec<String>>,
    /// The least acceptable of the `grades`. For `grade`.
    #[schemars(length(min = 1, max = 40))]
    pub at_least: Option<String>,
    /// The greatest acceptable number; 0 for none. For `count`, and for `list`, of whose
    /// entries it is the number.
    #[schemars(range(max = 100_000))]
    pub max_count: Option<u32>,
    /// The least acceptable number. For `count`.
    #[schemars(range(max = 100_000))]
    pub min_count: Option<u32>,
    /// The unit of time, length, volume or the like that events are counted per, such as
    /// `min`, for a rate with its scatter; readings then say over how much was counted.
    /// Without it a count is exact. For `count`.
    #[schemars(length(min = 1, max = 20))]
    pub per: Option<String>,
    /// The greatest acceptable rate, per one of the unit `per`. For `count`.
    #[schemars(range(min = 0, max = 1e9))]
    pub max_rate: Option<f64>,
    /// The least acceptable rate, per one of the unit `per`. For `count`.
    #[schemars(range(min = 0, max = 1e9))]
    pub min_rate: Option<f64>,
    /// `true` if nothing may be stored in the retest that was not stored before the work,
    /// by its code. For `list`.
    #[serde(default)]
    pub none_new: bool,
    /// The bands of a standard, such as its zones A to D: the report says in which of them
    /// each reading lies, with the probability of each. They are no limit. For `value`.
    pub bands: Option<BandsTable>,
    /// The greatest opacity, in percent. For `smoke`.
    #[schemars(range(min = 0, max = 100))]
    pub max_opacity_percent: Option<f64>,
    /// The length of the light path for which `max_opacity_percent` holds, in
    /// millimetres. Readings then need their own `path_length_mm` and are converted to
    /// this one (Beer-Lambert law, as in 40 CFR 86.884-14) before they are compared.
    /// Without it, opacities measured over different paths are not compared.
    #[schemars(range(min = 1, max = 10_000))]
    pub path_length_mm: Option<f64>,
    /// The greatest light absorption coefficient k, in m⁻¹. For `smoke`; readings
    /// then need `path_length_mm`.
    #[schemars(range(min = 0))]
    pub max_absorption: Option<f64>,
    /// The longest time until no smoke is seen, in seconds. For `smoke`.
    #[schemars(range(min = 0))]
    pub max_clear_seconds: Option<f64>,
    /// It must get better by at least this much, in `unit`.
    #[schemars(range(min = 0))]
    pub improve_by: Option<f64>,
    /// It must get better by at least this share of the baseline, in percent.
    #[schemars(range(min = 0))]
    pub improve_percent: Option<f64>,
    /// `true` if the repeats are paired: the first before with the first after, and so on,
    /// each pair at the same load step, hour or place. For `value` without `at`; both runs then need the
    /// same number of `values`, at least two. The uncertainty of the change comes from the
    /// scatter of the differences, and an exact signed-rank test is given beside it.
    #[serde(default)]
    pub paired: bool,
    /// How much the machine itself varies from one run to the next under like conditions,
    /// where that is known. It then counts in the uncertainty of both readings, in place of
    /// the scatter of repeats. Without it, the report says how large it would have to be
    /// for the result to fall. For `value`.
    pub run_to_run: Option<RunToRunTable>,
    /// `true` if each of the `values` was taken in a run of its own, such as on another
    /// night, so that their scatter shows how the machine varies from run to run. Repeats
    /// within one run do not show it. With `run_to_run`, more of them then make the mean
    /// better known. For `value`.
    #[serde(default)]
    pub separate_runs: bool,
    /// The standard uncertainty, in seconds, of judging by eye when the timed event happens,
    /// besides that of the watch. For `value` in a unit of time, and for
    /// `smoke`, where it is 0.5 if left out.
    #[schemars(range(min = 0))]
    pub judged_by_eye_seconds: Option<f64>,
    /// What a pressure is measured against. A percentage of it is given only for `absolute`
    /// and `difference`. For `value` in a unit of pressure.
    pub pressure: Option<PressureReference>,
    /// Where the limit comes from: a manual and its section, or an agreement. Every limit
    /// needs it.
    #[schemars(length(min = 1, max = 200))]
    pub source: Option<String>,
    /// How it is measured.
    #[schemars(length(min = 1, max = 400))]
    pub method: Option<String>,
    /// What it means, in a sentence for the customer.
    #[schemars(length(min = 1, max = 200))]
    pub meaning: Option<String>,
    /// What this test cannot tell, one sentence each, besides what the report says for its
    /// `test`.
    #[serde(default)]
    #[schemars(length(max = 10), inner(length(min = 1, max = 300)))]
    pub cannot_tell: Vec<String>,
    /// What can hurt someone who repeats the test; cautions are printed for it, besides
    /// those that its `test` always brings.
    #[serde(default)]
    #[schemars(length(max = 12))]
    pub hazards: Vec<Hazard>,
    /// `true` to show it on the customer's page besides the required ones, and to let its
    /// first sentence be about it. That page has room for five, the required ones first;
    /// the others are counted there. Words are shown on the following pages.
    #[serde(default)]
    pub front_page: bool,
}

/// The bands of a standard, in the measure's `unit`.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BandsTable {
    /// Their names, from the lowest values to the highest, such as `[ "A", "B", "C", "D" ]`.
    #[schemars(length(min = 2, max = 12), inner(length(min = 1, max = 40)))]
    pub names: Vec<String>,
    /// The value at which each of them but the last ends, rising, such as
    /// `[ 1.4, 2.8, 4.5 ]`. A value exactly there still belongs to it.
    #[schemars(length(min = 1, max = 11))]
    pub upper: Vec<f64>,
    /// Where they come from: the standard, its year and its table.
    #[schemars(length(min = 1, max = 200))]
    pub source: String,
}

/// How much single readings vary, one from each of several runs under like conditions: as
/// `deviation` or as `percent`.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RunToRunTable {
    /// Their standard deviation, in the measure's `unit`; of a temperature, a difference.
    #[schemars(range(min = 0))]
    pub deviation: Option<f64>,
    /// Their standard deviation in percent of the reading, at most 25.
    #[schemars(range(min = 0, max = 25))]
    pub percent: Option<f64>,
    /// From how many runs it was worked out. Few runs count for less; without it the figure
    /// counts as known.
    #[schemars(range(min = 2, max = 10_000))]
    pub runs: Option<u32>,
    /// Where it is known from: the shop's own log, a maker's figure, earlier jobs.
    #[schemars(length(min = 1, max = 200))]
    pub source: String,
}

/// What a reading looks like.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum KindWord {
    /// One value with a unit, once or repeated.
    Value,
    /// How many of a number of attempts passed.
    Passes,
    /// A grade by ear, eye or hand on a scale that the plan names; also yes or no.
    Grade,
    /// Things that were counted one by one, exact; with `per`, events over a stretch of time
    /// or the like, whose rate has its scatter.
    Count,
    /// What the machine has stored, such as faults, by its own codes.
    List,
    /// Exhaust smoke: opacity, colour, time until clear, description.
    Smoke,
    /// Words only; not judged.
    Text,
}

/// One thing that must be alike in both runs for a fair comparison.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ConditionTable {
    /// A short name by which runs refer to it. `ambient`, `coolant`, `oil` and
    /// `soak` are also checked against each other.
    #[schemars(length(min = 1, max = 40))]
    pub id: String,
    /// The name that is printed.
    #[schemars(length(min = 1, max = 120))]
    pub name: String,
    /// The unit in which it is printed; leave it out for a condition in words, which
    /// must then be the same words in both runs, whatever their spacing and capitals.
    #[schemars(length(min = 1, max = 20))]
    pub unit: Option<String>,
    /// The largest difference between the runs that counts as alike, in `unit`.
    /// Uncertainty never widens it; if the uncertainty is larger than the window, the
    /// condition is unknown. For a temperature it is a difference: 3 with `°F` means a
    /// difference of 3 °F.
    #[schemars(range(min = 0))]
    pub window: Option<f64>,
    /// Which way makes the test more severe: a colder morning is more severe for a cold
    /// start, so `lower`. Left out, a difference beyond the window counts as unknown, in
    /// either direction.
    pub harder: Option<Harder>,
    /// `true` if the verdict depends on it.
    #[serde(default)]
    pub required: bool,
    /// The ids of the measures whose tests it bears on, such as `concerns = ["crank-time"]`;
    /// left out, it bears on all. It then says nothing of the others.
    #[serde(default)]
    #[schemars(length(min = 1, max = 100), inner(length(min = 1, max = 40)))]
    pub concerns: Vec<String>,
}
