//! From a judgement to its result for programs, every figure unrounded.

use super::counts::{
    count, count_after, counts_at, exact, exact_after, exacts_at, list, list_after, paired_result,
    rate, rate_after,
};
use super::estimates::{estimate, limit_by, point, standing};
use super::names::{claim, outcome};
use super::shape::{
    BalancePair, BalanceResult, BandPair, BandResult, BeforeLimit, CommonErrorResult,
    ConditionResult, HoldsUnlessResult, InputDigest, LeftOutPair, LeftOutResult, MeasureResult,
    MeasuredPair, ResultFile, RunScatter, ScatterResult, SignedRankResult, StandingResult,
    Statement, ValueResult,
};
use crate::files::Digest;
use crate::job::{
    Bands, Bounds, ConditionKind, DecisionRule, Job, OwnLimits, Positions, Scale, ScaleAt,
};
use crate::judge::{
    Alone, AtPosition, Balance, Comparison, ConditionJudgement, ConditionState, Doubt, HoldsUnless,
    InBands, Judgement, LeftOut, MeasureFinding, MeasureJudgement, Outliers, Pool, Reason,
    Reservation, Scatter, SignedRank, SmokeComparison, SmokePart, ValueAlone, Verdict,
};
use crate::quantity::{Quantity, Unit};

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
            tool: super::TOOL.to_owned(),
            job: job.plan.number.clone(),
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
            measures: judgement.measures.iter().map(measure).collect(),
            conditions: job
                .plan
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
        Reason::AllRequiredPass(_) => statement("all-required-pass", None),
        Reason::Fails { measure: id, .. } => statement("fails", Some(id)),
        Reason::ImprovementAbsent { measure: id, .. } => statement("improvement-absent", Some(id)),
        Reason::Inconclusive(id) => statement("inconclusive", Some(id)),
        Reason::TooCoarse(id) => statement("too-coarse", Some(id)),
        Reason::VariationNotKnown(id) => statement("variation-not-known", Some(id)),
        Reason::ConditionHarder(id) => statement("condition-harder", Some(id)),
        Reason::NoImprovementShown(id) => statement("no-improvement-shown", Some(id)),
        Reason::NotTaken { measure: id, .. } => statement("not-taken", Some(id)),
        Reason::GotWorse { measure: id, .. } => statement("got-worse", Some(id)),
        Reason::ConditionEasier(id) => statement("condition-easier", Some(id)),
        Reason::ConditionUnknown(id) => statement("condition-unknown", Some(id)),
        Reason::NotCold(id) => statement("not-cold", Some(id)),
        Reason::NothingRequired => statement("nothing-required", None),
    }
}

fn reservation(reservation: &Reservation) -> Statement {
    match reservation {
        Reservation::ConditionalPass(id) => statement("conditional-pass", Some(id)),
        Reservation::FaultNotShown => statement("fault-not-shown", None),
        Reservation::OtherOutside(id) => statement("other-outside", Some(id)),
        Reservation::OtherWorse(id) => statement("other-worse", Some(id)),
        Reservation::OtherCondition(id) => statement("other-condition", Some(id)),
        Reservation::BaselineNotCold(id) => statement("baseline-not-cold", Some(id)),
        Reservation::CalibratedLater(id) => statement("calibrated-later", Some(id)),
        Reservation::ShortSoak => statement("short-soak", None),
        Reservation::ScatterNotKnown(id) => statement("scatter-not-known", Some(id)),
        Reservation::BatteryNotRecorded(id) => statement("battery-not-recorded", Some(id)),
        Reservation::RetestNotCold(id) => statement("retest-not-cold", Some(id)),
        Reservation::ConditionHelped(id) => statement("condition-helped", Some(id)),
        Reservation::NoConditions => statement("no-conditions", None),
        Reservation::UncertaintyNotCounted => statement("uncertainty-not-counted", None),
        Reservation::MeterBackwards => statement("meter-backwards", None),
        Reservation::MeterBehindRunIn => statement("meter-behind-run-in", None),
        Reservation::NotTakenBefore(id) => statement("not-taken-before", Some(id)),
        Reservation::WorseAt { measure: id, .. } => statement("worse-at", Some(id)),
        Reservation::LeftOut { measure: id, .. } => statement("left-out", Some(id)),
        Reservation::GradedByOthers => statement("graded-by-others", None),
        Reservation::RepeatsDiffer(id) => statement("repeats-differ", Some(id)),
        Reservation::AttemptsDiffer(id) => statement("attempts-differ", Some(id)),
        Reservation::NotAsItShould(id) => statement("not-as-it-should", Some(id)),
        Reservation::WorseWithinLimit(id) => statement("worse-within-limit", Some(id)),
        Reservation::VariationNotKnown(id) => statement("variation-not-known", Some(id)),
        Reservation::ScattersDiffer(id) => statement("scatters-differ", Some(id)),
        Reservation::ScatterExceedsStated(id) => statement("scatter-exceeds-stated", Some(id)),
        Reservation::LookAgain(doubt) => match doubt {
            Doubt::StandsOut(id) => statement("stands-out", Some(id)),
            Doubt::DecimalPoint(id) => statement("decimal-point", Some(id)),
            Doubt::ImplausibleCondition(id) => statement("implausible-condition", Some(id)),
        },
        Reservation::CalibrationOverdue { instrument, due } => Statement {
            day: Some(due.to_string()),
            ..statement("calibration-overdue", Some(instrument))
        },
    }
}

fn measure(found: &MeasureJudgement) -> MeasureResult {
    let mut result = MeasureResult {
        id: found.id.clone(),
        required: found.required,
        fair_conditions: found.fair,
        outcome: outcome(found.outcome),
        change: found.claim.map(claim),
        values: Vec::new(),
        counts: Vec::new(),
        balance: None,
        paired: None,
        exact: None,
        rate: None,
        list: None,
        left_out: left_out(&found.left_out),
    };
    match &found.finding {
        MeasureFinding::Value(comparison) => {
            result
                .values
                .push(value("value", comparison, found.scatter));
        }
        MeasureFinding::ValueAt(values) => {
            let scales = &values.scales;
            result.balance = values.balance.as_ref().map(|balance| {
                let [baseline, retest] = balance
                    .each_ref()
                    .map(|balance| balance_result(balance, &scales.at, scales.common.unit));
                BalancePair { baseline, retest }
            });
            let each = values.each.iter().enumerate();
            let each = each.map(|(place, one)| value_at(scales, place, one, found.scatter));
            result.values.extend(each);
        }
        MeasureFinding::Passes(comparison) => result.counts.push(count(comparison)),
        MeasureFinding::PassesAt(counts) => {
            result.paired = counts.paired.as_ref().map(paired_result);
            result.counts.extend(counts_at(counts));
        }
        MeasureFinding::Exact(scale, pair) => result.exact = Some(vec![exact(scale, pair)]),
        MeasureFinding::ExactAt(exacts) => {
            result.paired = exacts.signs.as_ref().map(paired_result);
            result.exact = Some(exacts_at(exacts));
        }
        MeasureFinding::Rate(found) => result.rate = Some(rate(found)),
        MeasureFinding::List(found) => result.list = Some(list(found)),
        MeasureFinding::Smoke { parts, .. } => {
            result
                .values
                .extend(parts.iter().map(|part| smoke(part, found.scatter)));
        }
        MeasureFinding::AfterOnly { figures, why, .. } => {
            for figure in figures {
                after_only(figure, why, &mut result);
            }
        }
        MeasureFinding::Text | MeasureFinding::NotTaken { .. } => {}
    }
    result
}

/// What is left out of a figure, where something is.
fn left_out(runs: &[Vec<LeftOut>; 2]) -> Option<LeftOutPair> {
    let is_any = runs.iter().any(|run| !run.is_empty());
    is_any.then(|| {
        let [baseline, retest] = runs.each_ref().map(|run| {
            let each = run.iter().map(|one| LeftOutResult {
                measure: one.measure.clone(),
                positions: one.positions.clone(),
                read: one.read,
            });
            each.collect()
        });
        LeftOutPair { baseline, retest }
    })
}

fn smoke_name(part: SmokePart) -> &'static str {
    match part {
        SmokePart::Opacity => "opacity",
        SmokePart::Absorption => "absorption",
        SmokePart::Clear => "clear",
    }
}

fn smoke(part: &SmokeComparison, pool: Pool) -> ValueResult {
    let name = smoke_name(part.part);
    let unit = part.comparison.scale.unit;
    let as_measured = part.measured.as_ref().map(|[before, after]| MeasuredPair {
        baseline: point(before, unit),
        retest: point(after, unit),
    });
    // The scatter is that of the opacities, as they were read.
    let opacity = Unit::named("%").unwrap_or(unit);
    ValueResult {
        as_measured,
        scatter: match part.part {
            SmokePart::Opacity | SmokePart::Absorption => scatter(pool, opacity),
            SmokePart::Clear => None,
        },
        ..value(name, &part.comparison, Pool::default())
    }
}

fn balance_result(balance: &Balance, at: &Positions, unit: &Unit) -> BalanceResult {
    BalanceResult {
        mean: unit.from_si(balance.mean),
        spread: unit.difference_from_si(balance.spread),
        outliers: match &balance.outliers {
            Outliers::TooFew => Vec::new(),
            Outliers::Positions(places) => {
                let names = places.iter().map(|place| at.name(*place).to_owned());
                names.collect()
            }
        },
    }
}

fn scatter(pool: Pool, unit: &Unit) -> Option<ScatterResult> {
    let of = |scatter: Scatter| RunScatter {
        s: unit.difference_from_si(scatter.s),
        dof: scatter.dof,
    };
    let [Some(baseline), Some(retest)] = pool.runs.map(|scatter| scatter.map(of)) else {
        return None;
    };
    Some(ScatterResult {
        baseline,
        retest,
        kept_apart: pool.kept_apart,
    })
}

fn holds_unless(holds: HoldsUnless, unit: &Unit) -> HoldsUnlessResult {
    let figure = |si: Option<f64>| si.map(|si| unit.difference_from_si(si));
    HoldsUnlessResult {
        change: figure(holds.change),
        limit: figure(holds.limit),
        improvement: figure(holds.improvement),
    }
}

/// A value of which nothing was read.
fn unread(part: &'static str, scale: &Scale) -> ValueResult {
    let Scale {
        unit,
        bounds,
        should,
        ..
    } = *scale;
    let end = |quantity: Option<Quantity>| quantity.map(|quantity| unit.from_si(quantity.si()));
    ValueResult {
        part,
        position: None,
        setting_unit: None,
        not_taken: None,
        unit: unit.symbol(),
        min: end(bounds.and_then(|bounds| bounds.min())),
        max: end(bounds.and_then(|bounds| bounds.max())),
        limit_by: scale.by.as_ref().map(|by| limit_by(by, [None; 2], unit)),
        should_min: end(should.and_then(|bounds| bounds.min())),
        should_max: end(should.and_then(|bounds| bounds.max())),
        baseline: None,
        retest: None,
        as_measured: None,
        difference: None,
        common_error: None,
        signed_rank: None,
        relative: None,
        change: None,
        scatter: None,
        holds_unless: None,
        before: None,
        before_limit: scale
            .before
            .as_ref()
            .map(|limits| before_limit(limits, unit)),
        after: None,
        should: None,
        improvement: None,
        bands: None,
    }
}

/// A value that was read after the work only.
fn value_after(part: &'static str, after: &ValueAlone, why: &str) -> ValueResult {
    let by = after.scale.by.as_ref();
    let found = bands([None, after.bands.as_ref()], &after.scale);
    ValueResult {
        limit_by: by.map(|by| limit_by(by, [None, Some(&after.ends)], after.scale.unit)),
        bands: found,
        not_taken: Some(why.to_owned()),
        retest: Some(point(&after.found, after.scale.unit)),
        after: after.standing.map(standing),
        should: after.should.map(|should| standing(should.standing)),
        ..unread(part, &after.scale)
    }
}

/// A value that was not read after the work.
fn value_before(
    part: &'static str,
    scale: &Scale,
    before: Option<&ValueAlone>,
    why: &str,
) -> ValueResult {
    let by = scale.by.as_ref();
    let ends = before.map(|before| &before.ends);
    ValueResult {
        limit_by: by.map(|by| limit_by(by, [ends, None], scale.unit)),
        bands: bands(
            [before.and_then(|before| before.bands.as_ref()), None],
            scale,
        ),
        not_taken: Some(why.to_owned()),
        baseline: before.map(|before| point(&before.found, scale.unit)),
        before: before.and_then(|before| before.standing).map(standing),
        before_limit: scale.before.as_ref().map(|limits| BeforeLimit {
            should: before
                .and_then(|before| before.should)
                .map(|should| standing(should.standing)),
            ..before_limit(limits, scale.unit)
        }),
        ..unread(part, scale)
    }
}

fn value_at(
    scales: &ScaleAt,
    place: usize,
    found: &AtPosition<Comparison, ValueAlone>,
    pool: Pool,
) -> ValueResult {
    let result = match found {
        AtPosition::Compared(found) => value("position", found, pool),
        AtPosition::AfterOnly { after, why } => value_after("position", after, why),
        AtPosition::NotTaken { before, why } => {
            value_before("position", &scales.scale(place), before.as_ref(), why)
        }
    };
    ValueResult {
        position: Some(scales.at.name(place).to_owned()),
        setting_unit: scales.at.points().map(|points| points.unit.symbol()),
        ..result
    }
}

/// A measure that was read after the work only.
fn after_only(figure: &Alone, why: &str, result: &mut MeasureResult) {
    match figure {
        Alone::Value(after) => result.values.push(value_after("value", after, why)),
        Alone::Smoke(part, _, after) => {
            result
                .values
                .push(value_after(smoke_name(*part), after, why));
        }
        Alone::Passes(after) => result.counts.push(count_after(after, why)),
        Alone::Exact(scale, after) => result.exact = Some(vec![exact_after(scale, after, why)]),
        Alone::Rate(scale, figure, zone, _) => {
            result.rate = Some(rate_after(scale, figure, *zone, why));
        }
        Alone::List(items, _) => result.list = Some(list_after(items, why)),
    }
}

fn value(part: &'static str, comparison: &Comparison, pool: Pool) -> ValueResult {
    let unit = comparison.scale.unit;
    let difference = &comparison.difference;
    ValueResult {
        baseline: Some(point(&comparison.baseline, unit)),
        retest: Some(point(&comparison.retest, unit)),
        difference: Some(estimate(
            difference,
            unit.difference_from_si(difference.value),
            |u| unit.difference_from_si(u),
        )),
        common_error: comparison
            .together
            .common
            .as_ref()
            .map(|common| CommonErrorResult {
                instrument: common.instrument.clone(),
                reason: common.reason.clone(),
            }),
        signed_rank: comparison.signed_rank.map(signed_rank),
        relative: comparison
            .relative
            .as_ref()
            .map(|e| estimate(e, e.value, |u| u)),
        change: comparison.claim.map(claim),
        scatter: scatter(pool, unit),
        holds_unless: comparison
            .holds_unless
            .map(|holds| holds_unless(holds, unit)),
        bands: bands(
            comparison
                .bands
                .as_ref()
                .map_or([None; 2], |both| both.each_ref().map(Some)),
            &comparison.scale,
        ),
        before: comparison.before.map(standing),
        before_limit: {
            let limits = comparison.scale.before.as_ref();
            let should = comparison.should_before;
            limits.map(|limits| BeforeLimit {
                should: should.map(|should| standing(should.standing)),
                ..before_limit(limits, unit)
            })
        },
        after: comparison.after.map(standing),
        should: comparison.should.map(|should| standing(should.standing)),
        limit_by: {
            let by = comparison.scale.by.as_ref();
            by.map(|by| limit_by(by, comparison.ends.each_ref().map(Some), unit))
        },
        improvement: comparison.gain.as_ref().map(|gain| {
            gain.standing.map_or(
                StandingResult {
                    zone: None,
                    conformity: None,
                    too_coarse: false,
                },
                standing,
            )
        }),
        ..unread(part, &comparison.scale)
    }
}

/// The limits of what was in service, without a reading.
fn before_limit(limits: &OwnLimits, unit: &Unit) -> BeforeLimit {
    let ends = |bounds: Option<Bounds>| {
        [Bounds::min, Bounds::max].map(|end| {
            let end = bounds.as_ref().and_then(end);
            end.map(|quantity| unit.from_si(quantity.si()))
        })
    };
    let [min, max] = ends(limits.bounds);
    let [should_min, should_max] = ends(limits.should);
    BeforeLimit {
        min,
        max,
        should_min,
        should_max,
        should: None,
    }
}

/// The bands in which both readings lie, as far as they were read; none where none are planned
/// or nothing was read.
fn bands(found: [Option<&InBands>; 2], scale: &Scale) -> Option<BandPair> {
    let planned = scale.bands.as_ref()?;
    let [baseline, retest] = found.map(|found| found.map(|found| band(found, planned)));
    (baseline.is_some() || retest.is_some()).then_some(BandPair { baseline, retest })
}

fn band(found: &InBands, bands: &Bands) -> BandResult {
    BandResult {
        band: bands.names.get(found.band).cloned().unwrap_or_default(),
        probabilities: found.shares.clone(),
    }
}

fn signed_rank(test: SignedRank) -> SignedRankResult {
    SignedRankResult {
        pairs: test.pairs,
        used: test.used,
        rises: test.rises,
        falls: test.falls,
        p: test.p,
        smallest_p: test.smallest_p,
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
