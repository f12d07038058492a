//! `result.json`: the judgement for programs, every figure unrounded.
//!
//! The same document is printed by `check --json` and attached to the report.
//! Its JSON Schema is published as `samples/schemas/result.schema.json`.

use schemars::JsonSchema;
use serde::Serialize;

use crate::files::Digest;
use crate::job::{ConditionKind, DecisionRule, Job, Kind, Measure};
use crate::judge::{
    Change, Comparison, ConditionJudgement, ConditionState, CountComparison, Finding, Interval,
    Judgement, MeasureJudgement, Outcome, Reason, Reservation, Standing, Verdict, Zone,
};
use crate::quantity::{Estimate, Source, Unit};

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
    /// The answer for the whole job.
    #[schemars(extend("enum" = ["verified", "not-verified", "undecided"]))]
    pub verdict: &'static str,
    /// The decision rule that was applied.
    #[schemars(extend("enum" = ["simple", "guarded", "four-zone"]))]
    pub decision_rule: &'static str,
    /// Whether the conditions allow a claim of improvement.
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
    /// What the decision rule makes of it as a whole.
    #[schemars(extend("enum" = ["not-judged", "pass", "pass-with-reservation", "undecided", "fail"]))]
    pub outcome: &'static str,
    /// What the change as a whole amounts to.
    #[schemars(extend("enum" = ["improved", "no-detectable-change", "worsened", null]))]
    pub change: Option<&'static str>,
    /// Value comparisons: one for `value`, one a cylinder for `cylinders`, up to
    /// two for `smoke`.
    pub values: Vec<ValueResult>,
    /// Count comparisons: one for `passes`, one a cylinder for `cylinder-passes`.
    pub counts: Vec<CountResult>,
}

/// One value before and after. All figures in `unit`; differences and
/// uncertainties without zero offset.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ValueResult {
    /// `value`, `opacity`, `clear`, or `cylinder`.
    #[schemars(extend("enum" = ["value", "cylinder", "opacity", "clear"]))]
    pub part: &'static str,
    /// The cylinder's number.
    pub cylinder: Option<usize>,
    /// The unit of the figures.
    pub unit: &'static str,
    /// Lower bound.
    pub min: Option<f64>,
    /// Upper bound.
    pub max: Option<f64>,
    /// The reading before the work.
    pub baseline: EstimateResult,
    /// The reading after it.
    pub retest: EstimateResult,
    /// Retest minus baseline.
    pub difference: EstimateResult,
    /// The difference as a fraction of the baseline.
    pub relative: Option<EstimateResult>,
    /// What the change amounts to.
    #[schemars(extend("enum" = ["improved", "no-detectable-change", "worsened", null]))]
    pub change: Option<&'static str>,
    /// Where the baseline stands at the limit.
    pub before: Option<StandingResult>,
    /// Where the retest stands at the limit.
    pub after: Option<StandingResult>,
    /// How the change stands at the required improvement.
    pub improvement: Option<StandingResult>,
}

/// A value with its uncertainty (JCGM 100:2008).
#[derive(Debug, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct EstimateResult {
    /// The best estimate.
    pub value: f64,
    /// The combined standard uncertainty.
    pub u: f64,
    /// The effective degrees of freedom; null if nothing limits them.
    pub dof: Option<f64>,
    /// The expanded uncertainty at 95 % coverage.
    pub expanded: f64,
    /// The parts of `u`.
    pub components: Vec<ComponentResult>,
}

/// One part of an uncertainty.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ComponentResult {
    /// Where it comes from.
    #[schemars(extend("enum" = ["accuracy", "resolution", "repeatability", "hand-timing", "stated"]))]
    pub source: &'static str,
    /// Its standard uncertainty.
    pub u: f64,
    /// Its degrees of freedom; null if infinite.
    pub dof: Option<f64>,
}

/// Where a value stands at its limit.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StandingResult {
    /// The zone (ILAC-G8:09/2019, 4.2.3); null where it cannot be told.
    #[schemars(extend("enum" = ["pass", "conditional-pass", "conditional-fail", "fail", null]))]
    pub zone: Option<&'static str>,
    /// The probability that the true value is inside.
    pub conformity: Option<f64>,
}

/// Passes of tries before and after.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CountResult {
    /// The cylinder's number.
    pub cylinder: Option<usize>,
    /// Passes and tries before the work.
    pub baseline: [u32; 2],
    /// Passes and tries after it.
    pub retest: [u32; 2],
    /// Exact 95 % interval of the share before.
    pub baseline_interval: [f64; 2],
    /// Exact 95 % interval of the share after.
    pub retest_interval: [f64; 2],
    /// Two-sided p of Fisher's exact test.
    pub p: f64,
    /// What the change amounts to.
    #[schemars(extend("enum" = ["improved", "no-detectable-change", "worsened"]))]
    pub change: &'static str,
    /// The retest at its limit.
    #[schemars(extend("enum" = ["not-judged", "pass", "fail"]))]
    pub outcome: &'static str,
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

/// The result as pretty JSON with a final newline.
pub fn to_json(result: &ResultFile) -> String {
    // Made of strings, finite numbers and lists only, so it always has a JSON form.
    let mut text = serde_json::to_string_pretty(result).unwrap_or_default();
    text.push('\n');
    text
}

impl ResultFile {
    /// The result of `judgement` on `job`, made from `inputs` (path, size,
    /// digest).
    pub fn new<'a>(
        job: &Job,
        judgement: &Judgement,
        inputs: impl IntoIterator<Item = (&'a str, u64, Digest)>,
    ) -> Self {
        Self {
            format: 1,
            tool: concat!("retestify ", env!("CARGO_PKG_VERSION")).to_owned(),
            job: job.number.clone(),
            verdict: match judgement.verdict {
                Verdict::Verified => "verified",
                Verdict::NotVerified => "not-verified",
                Verdict::Undecided => "undecided",
            },
            decision_rule: match judgement.rule {
                DecisionRule::Simple => "simple",
                DecisionRule::Guarded => "guarded",
                DecisionRule::FourZone => "four-zone",
            },
            fair_conditions: judgement.fair,
            reasons: judgement.reasons.iter().map(reason).collect(),
            reservations: judgement.reservations.iter().map(reservation).collect(),
            measures: judgement
                .measures
                .iter()
                .filter_map(|found| Some(measure(job.limits.measure(&found.id)?, found)))
                .collect(),
            conditions: job
                .limits
                .conditions
                .iter()
                .zip(&judgement.conditions)
                .map(|(condition, found)| condition_result(&condition.kind, found))
                .collect(),
            inputs: inputs
                .into_iter()
                .map(|(file, size, digest)| InputDigest {
                    file: file.to_owned(),
                    size,
                    sha256: digest.to_string(),
                })
                .collect(),
        }
    }
}

fn statement(what: &'static str, about: Option<&str>) -> Statement {
    Statement {
        what,
        about: about.map(str::to_owned),
        day: None,
    }
}

fn reason(reason: &Reason) -> Statement {
    match reason {
        Reason::AllPass(_) => statement("all-required-pass", None),
        Reason::Fails(id) => statement("fails", Some(id)),
        Reason::TooNear(id) => statement("too-near-to-tell", Some(id)),
        Reason::GotWorse(id) => statement("got-worse", Some(id)),
        Reason::Easier(id) => statement("condition-easier", Some(id)),
        Reason::ConditionUnknown(id) => statement("condition-unknown", Some(id)),
        Reason::NothingRequired => statement("nothing-required", None),
    }
}

fn reservation(reservation: &Reservation) -> Statement {
    match reservation {
        Reservation::NarrowPass(id) => statement("narrow-pass", Some(id)),
        Reservation::FaultNotShown => statement("fault-not-shown", None),
        Reservation::OtherOutside(id) => statement("other-outside", Some(id)),
        Reservation::OtherWorse(id) => statement("other-worse", Some(id)),
        Reservation::OtherCondition(id) => statement("other-condition", Some(id)),
        Reservation::NoConditions => statement("no-conditions", None),
        Reservation::UncertaintyNotCounted => statement("uncertainty-not-counted", None),
        Reservation::MeterBackwards => statement("meter-backwards", None),
        Reservation::Overdue { instrument, due } => Statement {
            day: Some(due.to_string()),
            ..statement("calibration-overdue", Some(instrument))
        },
    }
}

fn measure(measure: &Measure, found: &MeasureJudgement) -> MeasureResult {
    let (mut values, mut counts) = (Vec::new(), Vec::new());
    match (&found.finding, &measure.kind) {
        (Finding::Value(comparison), Kind::Value(scale)) => {
            let ends = scale.bounds.map(|b| [b.min(), b.max()]).unwrap_or_default();
            values.push(value("value", None, scale.unit, ends, comparison));
        }
        (Finding::Cylinders(cylinders), Kind::Cylinders(scale)) => {
            let ends = scale.bounds.map(|b| [b.min(), b.max()]).unwrap_or_default();
            values.extend(cylinders.iter().enumerate().map(|(index, comparison)| {
                value("cylinder", Some(index + 1), scale.unit, ends, comparison)
            }));
        }
        (Finding::Passes(comparison), _) => counts.push(count(None, comparison)),
        (Finding::CylinderPasses(cylinders), _) => counts.extend(
            cylinders
                .iter()
                .enumerate()
                .map(|(index, found)| count(Some(index + 1), found)),
        ),
        (
            Finding::Smoke { opacity, clear },
            Kind::Smoke {
                max_opacity,
                max_clear,
            },
        ) => {
            let parts = [
                ("opacity", "%", opacity, max_opacity),
                ("clear", "s", clear, max_clear),
            ];
            values.extend(
                parts
                    .into_iter()
                    .filter_map(|(part, unit, comparison, max)| {
                        let comparison = comparison.as_ref()?;
                        Some(value(
                            part,
                            None,
                            Unit::named(unit)?,
                            [None, *max],
                            comparison,
                        ))
                    }),
            );
        }
        _ => {}
    }
    MeasureResult {
        id: found.id.clone(),
        required: found.required,
        outcome: outcome(found.outcome),
        change: found.change.map(change),
        values,
        counts,
    }
}

fn value(
    part: &'static str,
    cylinder: Option<usize>,
    unit: &'static Unit,
    [min, max]: [Option<crate::quantity::Quantity>; 2],
    comparison: &Comparison,
) -> ValueResult {
    let end = |quantity: Option<crate::quantity::Quantity>| {
        quantity.map(|quantity| unit.from_si(quantity.si()))
    };
    let point = |e: &Estimate| estimate(e, unit.from_si(e.value), |u| unit.difference_from_si(u));
    let difference = &comparison.difference;
    ValueResult {
        part,
        cylinder,
        unit: unit.symbol(),
        min: end(min),
        max: end(max),
        baseline: point(&comparison.baseline),
        retest: point(&comparison.retest),
        difference: estimate(difference, unit.difference_from_si(difference.value), |u| {
            unit.difference_from_si(u)
        }),
        relative: comparison
            .relative
            .as_ref()
            .map(|e| estimate(e, e.value, |u| u)),
        change: comparison.change.map(change),
        before: comparison.before.map(standing),
        after: comparison.after.map(standing),
        improvement: comparison.gain.as_ref().map(|gain| {
            gain.standing.map_or(
                StandingResult {
                    zone: None,
                    conformity: None,
                },
                standing,
            )
        }),
    }
}

fn estimate(estimate: &Estimate, value: f64, scale: impl Fn(f64) -> f64) -> EstimateResult {
    let finite = |dof: f64| dof.is_finite().then_some(dof);
    EstimateResult {
        value,
        u: scale(estimate.u),
        dof: finite(estimate.dof),
        expanded: scale(estimate.expanded),
        components: estimate
            .components
            .iter()
            .map(|component| ComponentResult {
                source: match component.source {
                    Source::Accuracy => "accuracy",
                    Source::Resolution => "resolution",
                    Source::Repeatability => "repeatability",
                    Source::HandTiming => "hand-timing",
                    Source::Stated => "stated",
                },
                u: scale(component.u),
                dof: finite(component.dof),
            })
            .collect(),
    }
}

fn count(cylinder: Option<usize>, found: &CountComparison) -> CountResult {
    let ends = |interval: Interval| [interval.low, interval.high];
    CountResult {
        cylinder,
        baseline: [found.baseline.passes(), found.baseline.tries()],
        retest: [found.retest.passes(), found.retest.tries()],
        baseline_interval: ends(found.before),
        retest_interval: ends(found.after),
        p: found.p,
        change: change(found.change),
        outcome: outcome(found.outcome),
    }
}

fn condition_result(kind: &ConditionKind, found: &ConditionJudgement) -> ConditionResult {
    let unit = match kind {
        ConditionKind::Value { unit, .. } => Some(*unit),
        ConditionKind::Text => None,
    };
    ConditionResult {
        id: found.id.clone(),
        required: found.required,
        state: match found.state {
            ConditionState::Matched => "matched",
            ConditionState::Harder => "harder",
            ConditionState::Easier => "easier",
            ConditionState::Unknown => "unknown",
        },
        unit: unit.map(Unit::of_differences),
        difference: found.difference.as_ref().zip(unit).map(|(e, unit)| {
            estimate(e, unit.difference_from_si(e.value), |u| {
                unit.difference_from_si(u)
            })
        }),
    }
}

fn standing(standing: Standing) -> StandingResult {
    StandingResult {
        zone: Some(match standing.zone {
            Zone::Pass => "pass",
            Zone::ConditionalPass => "conditional-pass",
            Zone::ConditionalFail => "conditional-fail",
            Zone::Fail => "fail",
        }),
        conformity: Some(standing.conformity),
    }
}

fn outcome(outcome: Outcome) -> &'static str {
    match outcome {
        Outcome::NotJudged => "not-judged",
        Outcome::Pass => "pass",
        Outcome::PassWithReservation => "pass-with-reservation",
        Outcome::Undecided => "undecided",
        Outcome::Fail => "fail",
    }
}

fn change(change: Change) -> &'static str {
    match change {
        Change::Improved => "improved",
        Change::NoDetectable => "no-detectable-change",
        Change::Worsened => "worsened",
    }
}
