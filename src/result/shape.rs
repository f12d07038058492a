//! `result.json`: the judgement for programs, every figure unrounded.
//!
//! The same document is printed by `check --json` and attached to the report.
//! Its JSON Schema is published as `samples/schemas/result.schema.json`.

use schemars::JsonSchema;
use serde::Serialize;

/// The result of judging a job.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ResultFile {
    /// Version of this format: 1.
    pub format: u32,
    /// The program and its version.
    pub tool: String,
    /// The job's number.
    pub job: String,
    /// The verdict of the whole job.
    #[schemars(extend("enum" = ["verified", "not-verified", "undecided"]))]
    pub verdict: &'static str,
    /// The decision rule that was applied.
    #[schemars(extend("enum" = ["simple", "guarded", "four-zone"]))]
    pub decision_rule: &'static str,
    /// Whether all required conditions allow a claim of improvement, whichever measures they
    /// bear on; each measure says what holds for it.
    pub fair_conditions: bool,
    /// Why the verdict is what it is.
    pub reasons: Vec<Statement>,
    /// What to keep in mind beside it.
    pub reservations: Vec<Statement>,
    /// Each measure, in the order of limits.toml.
    pub measures: Vec<MeasureResult>,
    /// Each condition, in the order of limits.toml.
    pub conditions: Vec<ConditionResult>,
    /// Every file the result was made from.
    pub inputs: Vec<InputDigest>,
}

/// A reason or a reservation.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Statement {
    /// What it says.
    pub what: &'static str,
    /// The id of the measure, condition or instrument it is about.
    pub about: Option<String>,
    /// The day it is about.
    pub day: Option<String>,
}

/// One input file.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct InputDigest {
    /// Its path in the job folder.
    pub file: String,
    /// Its size in bytes.
    pub size: u64,
    /// Its SHA-256, 64 hexadecimal digits.
    pub sha256: String,
}

/// One measure.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct MeasureResult {
    /// The measure's id.
    pub id: String,
    /// Whether the verdict depends on it.
    pub required: bool,
    /// Whether the required conditions that bear on it allow a claim of improvement.
    pub fair_conditions: bool,
    /// What the decision rule makes of it as a whole.
    #[schemars(extend("enum" = ["no-limit", "pass", "conditional-pass", "inconclusive", "fail"]))]
    pub outcome: &'static str,
    /// What the change as a whole amounts to.
    #[schemars(extend("enum" = ["improved", "apparently-improved", "no-detectable-change", "worsened", "changed", "too-few-to-tell", "other-positions", "better", "same", "worse", null]))]
    pub change: Option<&'static str>,
    /// Value comparisons: one for `value`, one for each position of several, up to two for
    /// `smoke`.
    pub values: Vec<ValueResult>,
    /// Count comparisons: one for `passes`, one for each position of several.
    pub counts: Vec<CountResult>,
    /// How the positions of each run compare with each other, where they have the same
    /// limits.
    pub balance: Option<BalancePair>,
    /// The same positions before and after. For `passes`, `grade` and exact `count` at several
    /// positions.
    pub paired: Option<PairedResult>,
    /// Grades and exact counts: one for a single reading, one for each position of several.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub exact: Option<Vec<ExactResult>>,
    /// The rate of counted events.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rate: Option<RateResult>,
    /// What the machine has stored.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub list: Option<ListResult>,
    /// The positions that are left out of a figure over all positions, because they were not
    /// read.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub left_out: Option<LeftOutPair>,
}

/// What is left out of a figure that is worked out.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LeftOutPair {
    /// Before the work.
    pub baseline: Vec<LeftOutResult>,
    /// After it.
    pub retest: Vec<LeftOutResult>,
}

/// The positions of one measure that are left out.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LeftOutResult {
    /// The measure's id.
    pub measure: String,
    /// The names of the positions.
    pub positions: Vec<String>,
    /// How many positions were read.
    pub read: usize,
}

/// The balance of both runs.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BalancePair {
    /// Before the work.
    pub baseline: BalanceResult,
    /// After it.
    pub retest: BalanceResult,
}

/// How the positions of a run compare with each other.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BalanceResult {
    /// Their mean.
    pub mean: f64,
    /// The highest minus the lowest.
    pub spread: f64,
    /// Those with a modified z beyond 3.5 (Iglewicz and Hoaglin), by name.
    pub outliers: Vec<String>,
}

/// The same positions before and after, by McNemar's exact test of passes and fails; of
/// grades and exact counts, by the sign test of better and worse.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PairedResult {
    /// Failed before, pass after; or better than before.
    pub gained: u32,
    /// Passed before, fail after; or worse than before.
    pub lost: u32,
    /// Two-sided p.
    pub p: f64,
    /// The smallest p that this number of positions can give.
    pub smallest_p: f64,
    /// What the change amounts to.
    #[schemars(extend("enum" = ["improved", "apparently-improved", "no-detectable-change", "worsened", "changed", "too-few-to-tell"]))]
    pub change: &'static str,
}

/// One value before and after. All figures in `unit`; differences and
/// uncertainties without zero offset.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ValueResult {
    /// `value`, `position`, `opacity`, `absorption` or `clear`.
    #[schemars(extend("enum" = ["value", "position", "opacity", "absorption", "clear"]))]
    pub part: &'static str,
    /// The position's name; of a point of a test, its setting as it is written.
    pub position: Option<String>,
    /// The unit of that setting; null where it is no point of a test.
    pub setting_unit: Option<&'static str>,
    /// Why it was not read before the work, or in the retest; null where both were read.
    pub not_taken: Option<String>,
    /// The unit of the figures.
    pub unit: &'static str,
    /// Lower bound; where it is worked out, that of the retest.
    pub min: Option<f64>,
    /// Upper bound; where it is worked out, that of the retest.
    pub max: Option<f64>,
    /// Where bounds are worked out in each run: by what, and what it came to; null where they
    /// are fixed.
    pub limit_by: Option<LimitByResult>,
    /// What it should at least be besides.
    pub should_min: Option<f64>,
    /// What it should at most be besides.
    pub should_max: Option<f64>,
    /// The reading before the work; null where there is none.
    pub baseline: Option<EstimateResult>,
    /// The reading after it; null where there is none.
    pub retest: Option<EstimateResult>,
    /// The opacities as they were measured, where both were converted to the light path
    /// for which the limit holds.
    pub as_measured: Option<MeasuredPair>,
    /// Retest minus baseline; null where one of them is.
    pub difference: Option<EstimateResult>,
    /// The instrument whose error is treated as the same in both runs, and why; null where
    /// the errors of the two readings are treated as independent.
    pub common_error: Option<CommonErrorResult>,
    /// Wilcoxon's exact signed-rank test; null where the repeats are not paired.
    pub signed_rank: Option<SignedRankResult>,
    /// The difference as a fraction of the baseline.
    pub relative: Option<EstimateResult>,
    /// What the change amounts to.
    #[schemars(extend("enum" = ["improved", "apparently-improved", "no-detectable-change", "worsened", "changed", "too-few-to-tell", "other-positions", null]))]
    pub change: Option<&'static str>,
    /// How the readings scatter; null where nothing was repeated.
    pub scatter: Option<ScatterResult>,
    /// How much one run would have to differ from the next, by itself, for each conclusion
    /// to fall; null where that is known and counted.
    pub holds_unless: Option<HoldsUnlessResult>,
    /// The zone of the baseline at the limit.
    pub before: Option<StandingResult>,
    /// The limit of what was in service, at which the baseline is placed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub before_limit: Option<BeforeLimit>,
    /// The zone of the retest at the limit.
    pub after: Option<StandingResult>,
    /// The zone of the retest at what it should be besides.
    pub should: Option<StandingResult>,
    /// The zone of the change at the required improvement.
    pub improvement: Option<StandingResult>,
    /// In which of the bands of the plan it lies, before and after.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub bands: Option<BandPair>,
}

/// The limit of what was in service, which holds for the baseline.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BeforeLimit {
    /// The lower bound.
    pub min: Option<f64>,
    /// The upper bound.
    pub max: Option<f64>,
    /// What it should at least be besides.
    pub should_min: Option<f64>,
    /// What it should at most be besides.
    pub should_max: Option<f64>,
    /// The zone of the baseline at what it should be besides.
    pub should: Option<StandingResult>,
}

/// A value among the bands of a standard, before and after.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BandPair {
    /// Before the work; null where it was not read.
    pub baseline: Option<BandResult>,
    /// After it; null where it was not read.
    pub retest: Option<BandResult>,
}

/// A value among the bands of a standard.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BandResult {
    /// The band in which the value itself lies.
    pub band: String,
    /// The probability that the true value lies in each, in the order of the plan.
    pub probabilities: Vec<f64>,
}

/// Bounds that are worked out in each run.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LimitByResult {
    /// The formula of the lower bound.
    pub min: Option<String>,
    /// The formula of the upper bound.
    pub max: Option<String>,
    /// Both bounds before the work; null where it was not read then.
    pub baseline: Option<RunBounds>,
    /// Both bounds after it; null where it was not read then.
    pub retest: Option<RunBounds>,
}

/// The bounds of one run, with their uncertainty.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RunBounds {
    /// Lower bound.
    pub min: Option<EstimateResult>,
    /// Upper bound.
    pub max: Option<EstimateResult>,
}

/// How the readings of both runs scatter, of smoke the opacities.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ScatterResult {
    /// Before the work.
    pub baseline: RunScatter,
    /// After it.
    pub retest: RunScatter,
    /// Whether they differ by more than chance, and so were not pooled.
    pub kept_apart: bool,
}

/// A standard deviation of single readings.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RunScatter {
    /// The standard deviation.
    pub s: f64,
    /// Its degrees of freedom.
    pub dof: f64,
}

/// The ± that holds 95 % of the differences between two runs of the machine, above which a
/// conclusion falls; null where there is no such conclusion.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct HoldsUnlessResult {
    /// That it changed.
    pub change: Option<f64>,
    /// That the retest is clearly inside or outside its limit.
    pub limit: Option<f64>,
    /// That the required improvement is clearly reached or missed.
    pub improvement: Option<f64>,
}

/// Readings as they were measured, before a conversion.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct MeasuredPair {
    /// Before the work.
    pub baseline: EstimateResult,
    /// After it.
    pub retest: EstimateResult,
}

/// An error that is treated as the same in both runs.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CommonErrorResult {
    /// The instrument's id.
    pub instrument: String,
    /// Why it is the same.
    pub reason: String,
}

/// Wilcoxon's signed-rank test of paired repeats, exact: pairs without a difference are
/// dropped, equal differences share their mean rank.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SignedRankResult {
    /// How many pairs there are.
    pub pairs: usize,
    /// How many of them differ.
    pub used: usize,
    /// The sum of the ranks of the pairs that rose.
    pub rises: f64,
    /// The sum of the ranks of the pairs that fell.
    pub falls: f64,
    /// Two-sided p; null where so few pairs can never give less than 0.05.
    pub p: Option<f64>,
    /// The smallest p that this number of pairs can give.
    pub smallest_p: f64,
}

/// A value with its uncertainty (JCGM 100:2008).
#[derive(Debug, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct EstimateResult {
    /// The best estimate.
    pub value: f64,
    /// The combined standard uncertainty.
    pub u: f64,
    /// The coverage factor: `expanded` divided by `u`; null where `u` is 0.
    pub k: Option<f64>,
    /// The expanded uncertainty at 95 % coverage.
    pub expanded: f64,
    /// The degrees of freedom of what was estimated from readings, the fewest of several;
    /// null where all counts as known.
    pub dof_of_scatter: Option<f64>,
    /// The parts of `u`.
    pub components: Vec<ComponentResult>,
}

/// One part of an uncertainty.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ComponentResult {
    /// Where it comes from.
    #[schemars(extend("enum" = ["accuracy", "resolution", "repeatability", "hand-timing", "by-eye", "stated", "run-to-run", "worked-out", "setting"]))]
    pub source: &'static str,
    /// Its standard uncertainty.
    pub u: f64,
    /// Its degrees of freedom; null if infinite.
    pub dof: Option<f64>,
}

/// The zone of a value at its limit.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StandingResult {
    /// The zone (ILAC-G8:09/2019, 4.2.3); null where it cannot be determined.
    #[schemars(extend("enum" = ["pass", "conditional-pass", "conditional-fail", "fail", null]))]
    pub zone: Option<&'static str>,
    /// The probability that the true value is inside.
    pub conformity: Option<f64>,
    /// Whether the limits are closer together than twice the uncertainty.
    pub too_coarse: bool,
}

/// Passes of attempts before and after.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CountResult {
    /// The position's name.
    pub position: Option<String>,
    /// Why it was not counted before the work, or in the retest; null where both were.
    pub not_taken: Option<String>,
    /// Passes and attempts before the work; null where there are none.
    pub baseline: Option<[u32; 2]>,
    /// Passes and attempts after it; null where there are none.
    pub retest: Option<[u32; 2]>,
    /// Exact 95 % interval of the share before.
    pub baseline_interval: Option<[f64; 2]>,
    /// Exact 95 % interval of the share after.
    pub retest_interval: Option<[f64; 2]>,
    /// Two-sided p of Fisher's exact test.
    pub p: Option<f64>,
    /// The smallest p that this number of attempts can give.
    pub smallest_p: Option<f64>,
    /// What the change amounts to.
    #[schemars(extend("enum" = ["improved", "apparently-improved", "no-detectable-change", "worsened", "changed", "too-few-to-tell", null]))]
    pub change: Option<&'static str>,
    /// The retest at its limit.
    #[schemars(extend("enum" = ["no-limit", "pass", "inconclusive", "fail"]))]
    pub outcome: &'static str,
}

/// A grade or an exact count, before and after.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ExactResult {
    /// The position's name.
    pub position: Option<String>,
    /// Why it was not read before the work, or in the retest; null where both were.
    pub not_taken: Option<String>,
    /// Before the work: the name of the grade, or the count; null where there is none.
    pub baseline: Option<ExactReading>,
    /// After it.
    pub retest: Option<ExactReading>,
    /// How the second compares with the first; null where no direction is better.
    #[schemars(extend("enum" = ["better", "same", "worse", null]))]
    pub step: Option<&'static str>,
    /// The retest at its limit.
    #[schemars(extend("enum" = ["no-limit", "pass", "inconclusive", "fail"]))]
    pub outcome: &'static str,
}

/// A reading without ±.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(untagged)]
pub enum ExactReading {
    /// A grade by its name.
    Grade(String),
    /// A count.
    Count(u32),
}

/// The rate of counted events, before and after.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RateResult {
    /// Why it was not counted before the work; null where it was.
    pub not_taken: Option<String>,
    /// The unit that the rates are per.
    pub per: &'static str,
    /// The least acceptable rate.
    pub min: Option<f64>,
    /// The greatest acceptable rate.
    pub max: Option<f64>,
    /// Before the work; null where it was not counted.
    pub baseline: Option<RateReading>,
    /// After it.
    pub retest: RateReading,
    /// Two-sided p of the exact conditional test of equal rates.
    pub p: Option<f64>,
    /// The smallest p that so many events can give.
    pub smallest_p: Option<f64>,
    /// The zone of the baseline at the limit.
    #[schemars(extend("enum" = ["pass", "conditional-pass", "conditional-fail", "fail", null]))]
    pub before: Option<&'static str>,
    /// The zone of the retest at the limit.
    #[schemars(extend("enum" = ["pass", "conditional-pass", "conditional-fail", "fail", null]))]
    pub after: Option<&'static str>,
}

/// A counted rate.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RateReading {
    /// How many.
    pub count: u32,
    /// Over how much, in the unit that the rate is per.
    pub over: f64,
    /// The rate.
    pub rate: f64,
    /// Its exact 95 % interval (Garwood).
    pub interval: [f64; 2],
}

/// What a machine has stored, before and after, by its own codes.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ListResult {
    /// Why it was not read before the work; null where it was.
    pub not_taken: Option<String>,
    /// Before the work; null where it was not read.
    pub baseline: Option<Vec<String>>,
    /// After it.
    pub retest: Vec<String>,
    /// In the first and not in the second.
    pub gone: Vec<String>,
    /// In both.
    pub still_there: Vec<String>,
    /// In the second and not in the first.
    pub new: Vec<String>,
}

/// One condition.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ConditionResult {
    /// The condition's id.
    pub id: String,
    /// Whether the verdict depends on it.
    pub required: bool,
    /// How the runs compare.
    #[schemars(extend("enum" = ["matched", "harder", "easier", "unknown"]))]
    pub state: &'static str,
    /// The unit of `difference`.
    pub unit: Option<&'static str>,
    /// Retest minus baseline.
    pub difference: Option<EstimateResult>,
}
