//! One measure of a job: its readings compared, its limits applied.

use super::balance::Balance;
use super::comparison::{Change, Comparison, compare};
use super::counts::{self, CountComparison, PairedCount};
use super::dependence::{Common, Dependence};
use super::pairs::Pairs;
use super::smoke::{SmokeComparison, SmokePart, compare_smoke};
use super::t_distribution::COVERAGE;
use super::uncertainty::{Errors, estimate};
use super::zone::{self, Outcome};
use crate::job::{
    Count, DecisionRule, Job, Kind, Measure, Observation, PerCylinder, Reading, Scale,
};
use crate::quantity::Quantity;

/// What was found of one measure.
#[derive(Debug, Clone)]
pub struct MeasureJudgement {
    /// The measure's id.
    pub id: String,
    /// Whether the verdict depends on it.
    pub required: bool,
    /// The comparison, by the kind of the measure.
    pub finding: Finding,
    /// What the change of the measure as a whole amounts to.
    pub change: Option<Change>,
    /// What the decision rule makes of the measure as a whole.
    pub outcome: Outcome,
    /// What it makes of the retest at its limits alone, required improvements aside.
    pub at_limit: Outcome,
    /// What it would have made of the baseline.
    pub outcome_before: Outcome,
}

/// The comparison, by the kind of the measure.
#[derive(Debug, Clone)]
pub enum Finding {
    /// One value.
    Value(Box<Comparison>),
    /// One value for each cylinder, from cylinder 1 on.
    Cylinders {
        /// The cylinders.
        cylinders: Vec<Comparison>,
        /// How they compare with each other before the work, and after it.
        balance: [Balance; 2],
    },
    /// Passes of attempts.
    Passes(CountComparison),
    /// Passes of attempts for each cylinder, from cylinder 1 on.
    CylinderPasses {
        /// The cylinders.
        cylinders: Vec<CountComparison>,
        /// Each paired with itself.
        paired: PairedCount,
    },
    /// Smoke, as far as both runs measured it.
    Smoke(Vec<SmokeComparison>),
    /// Words; nothing to judge.
    Text,
    /// It was not read in the retest.
    NotTaken,
}

impl Finding {
    /// Every value before and after that it holds; none of counts and words.
    pub fn comparisons(&self) -> impl Iterator<Item = &Comparison> {
        let (one, cylinders, smoke): (_, &[Comparison], &[SmokeComparison]) = match self {
            Finding::Value(comparison) => (Some(&**comparison), &[], &[]),
            Finding::Cylinders { cylinders, .. } => (None, cylinders, &[]),
            Finding::Smoke(parts) => (None, &[], parts),
            Finding::Passes(_)
            | Finding::CylinderPasses { .. }
            | Finding::Text
            | Finding::NotTaken => (None, &[], &[]),
        };
        one.into_iter()
            .chain(cylinders)
            .chain(smoke.iter().map(|part| &part.comparison))
    }
}

/// Judges `measure`. `None` if a run lacks it, which intake does not let pass.
pub fn judge(job: &Job, measure: &Measure) -> Option<MeasureJudgement> {
    let before = job.baseline.readings.get(&measure.id)?;
    let after = job.retest.readings.get(&measure.id)?;
    let rule = job.limits.rule;
    let finding = match (&measure.kind, &before.observation, &after.observation) {
        (Kind::Value(scale), Observation::Value(b), Observation::Value(a)) => {
            let pairs = if measure.paired {
                Pairs::of(b, a)
            } else {
                None
            };
            let (before, after) = ((before, &b[..]), (after, &a[..]));
            Finding::Value(Box::new(compare_values(
                job, before, after, pairs, scale, rule,
            )))
        }
        (Kind::Cylinders(scale), Observation::Cylinders(b), Observation::Cylinders(a)) => {
            let pairs = b.iter().zip(a.iter());
            let cylinders: Vec<Comparison> = pairs
                .map(|((_, b), (_, a))| {
                    compare_values(job, (before, b), (after, a), None, scale, rule)
                })
                .collect();
            let values = |of: fn(&Comparison) -> f64| cylinders.iter().map(of).collect::<Vec<_>>();
            let balance = [
                Balance::of(&values(|c| c.baseline.value)),
                Balance::of(&values(|c| c.retest.value)),
            ];
            Finding::Cylinders { cylinders, balance }
        }
        (Kind::Passes { min }, Observation::Passes(b), Observation::Passes(a)) => {
            Finding::Passes(counts::compare(*b, *a, *min))
        }
        (
            Kind::CylinderPasses { min },
            Observation::CylinderPasses(b),
            Observation::CylinderPasses(a),
        ) => {
            let cylinders = count_pairs(b, a, *min);
            let paired = PairedCount::of(&cylinders, *min);
            Finding::CylinderPasses { cylinders, paired }
        }
        (Kind::Smoke(limits), Observation::Smoke(b), Observation::Smoke(a)) => {
            Finding::Smoke(compare_smoke(job, (before, b), (after, a), limits, rule))
        }
        (Kind::Text, Observation::Text(_), Observation::Text(_)) => Finding::Text,
        (_, _, Observation::NotTaken(_)) => Finding::NotTaken,
        // Intake reads every observation by the kind of its measure.
        _ => return None,
    };
    Some(MeasureJudgement {
        id: measure.id.clone(),
        required: measure.required,
        change: change(&finding, &measure.kind),
        outcome: outcome(&finding, rule),
        at_limit: at_limit(&finding, rule),
        outcome_before: outcome_before(&finding, &measure.kind, rule),
        finding,
    })
}

/// What is known of the errors of a reading.
pub fn errors<'a>(job: &'a Job, reading: &'a Reading) -> Errors<'a> {
    Errors {
        instrument: reading
            .instrument
            .as_deref()
            .and_then(|id| job.instrument(id)),
        stated: reading.stated,
        hand_timing: None,
        step: None,
    }
}

fn compare_values(
    job: &Job,
    before: (&Reading, &[Quantity]),
    after: (&Reading, &[Quantity]),
    pairs: Option<Pairs>,
    scale: &Scale,
    rule: DecisionRule,
) -> Comparison {
    let (known, known_after) = (errors(job, before.0), errors(job, after.0));
    let together = Dependence {
        common: Common::of([(before.1, known), (after.1, known_after)]),
        pairs,
    };
    compare(
        estimate(before.1, known),
        estimate(after.1, known_after),
        together,
        scale,
        rule,
    )
}

fn count_pairs(
    before: &PerCylinder<Count>,
    after: &PerCylinder<Count>,
    min: Option<u32>,
) -> Vec<CountComparison> {
    before
        .iter()
        .zip(after.iter())
        .map(|((_, b), (_, a))| counts::compare(*b, *a, min))
        .collect()
}

/// The change of the whole measure. A claim about several cylinders, or several figures
/// of smoke, at once is made at a level shared between them (Bonferroni), or one of many
/// would seem to change by chance.
fn change(finding: &Finding, kind: &Kind) -> Option<Change> {
    match (finding, kind) {
        (Finding::Value(comparison), _) => comparison.change,
        (Finding::Cylinders { cylinders, .. }, Kind::Cylinders(scale)) => {
            let level = 1.0 - (1.0 - COVERAGE) / cylinders.len().max(1) as f64;
            overall(cylinders.iter().filter_map(|c| c.change_at(level, scale)))
        }
        (Finding::Passes(count), _) => Some(count.change),
        (Finding::CylinderPasses { paired, .. }, _) => Some(paired.change),
        (Finding::Smoke(parts), _) => {
            // Opacity and k are one look at the smoke, the time until clear another.
            let clear = parts
                .iter()
                .filter(|part| part.part == SmokePart::Clear)
                .count();
            let looks = if clear > 0 && clear < parts.len() {
                2.0
            } else {
                1.0
            };
            let level = 1.0 - (1.0 - COVERAGE) / looks;
            overall(
                parts
                    .iter()
                    .filter_map(|part| part.comparison.change_at(level, &part.scale)),
            )
        }
        _ => None,
    }
}

/// Worsened if any part did; else improved if any part did.
fn overall(parts: impl Iterator<Item = Change>) -> Option<Change> {
    parts.reduce(|all, part| match (all, part) {
        (Change::Worsened, _) | (_, Change::Worsened) => Change::Worsened,
        (Change::Improved, _) | (_, Change::Improved) => Change::Improved,
        _ => Change::NoDetectable,
    })
}

fn outcome(finding: &Finding, rule: DecisionRule) -> Outcome {
    worst(match finding {
        Finding::Value(comparison) => vec![comparison.outcome(rule)],
        Finding::Cylinders { cylinders, .. } => cylinders.iter().map(|c| c.outcome(rule)).collect(),
        Finding::Passes(count) => vec![count.outcome],
        Finding::CylinderPasses { cylinders, .. } => cylinders.iter().map(|c| c.outcome).collect(),
        Finding::Smoke(parts) => parts
            .iter()
            .map(|part| part.comparison.outcome(rule))
            .collect(),
        Finding::Text => Vec::new(),
        // Whatever it would have shown, it has not.
        Finding::NotTaken => vec![Outcome::Undecided],
    })
}

/// The retest at its limits, required improvements aside.
fn at_limit(finding: &Finding, rule: DecisionRule) -> Outcome {
    let of = |comparison: &Comparison| zone::at_limit(comparison.after, rule);
    match finding {
        Finding::Value(comparison) => of(comparison),
        Finding::Cylinders { cylinders, .. } => worst(cylinders.iter().map(of).collect()),
        _ => outcome(finding, rule),
    }
}

/// The baseline at the same limits: did the fault show there?
fn outcome_before(finding: &Finding, kind: &Kind, rule: DecisionRule) -> Outcome {
    let at_limit = |comparison: &Comparison| zone::at_limit(comparison.before, rule);
    let counted = |count: &CountComparison| {
        let min = match kind {
            Kind::Passes { min } | Kind::CylinderPasses { min } => *min,
            _ => None,
        };
        counts::at_limit(count.baseline, min)
    };
    worst(match finding {
        Finding::Value(comparison) => vec![at_limit(comparison)],
        Finding::Cylinders { cylinders, .. } => cylinders.iter().map(at_limit).collect(),
        Finding::Passes(count) => vec![counted(count)],
        Finding::CylinderPasses { cylinders, .. } => cylinders.iter().map(counted).collect(),
        Finding::Smoke(parts) => parts
            .iter()
            .map(|part| at_limit(&part.comparison))
            .collect(),
        Finding::Text | Finding::NotTaken => Vec::new(),
    })
}

fn worst(outcomes: Vec<Outcome>) -> Outcome {
    outcomes.into_iter().max().unwrap_or(Outcome::NotJudged)
}
