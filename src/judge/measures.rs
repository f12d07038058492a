//! One measure of a job: its readings compared, its limits applied.

use super::balance::Balance;
use super::change::{Change, Claim};
use super::comparison::{Comparison, Terms, compare};
use super::counts::{self, CountComparison, PairedCount, Share};
use super::dependence::{Common, Dependence};
use super::finding::MeasureFinding;
use super::instruments::{self, Used};
use super::known::Known;
use super::observed::Observed;
use super::pairs::Pairs;
use super::scatter::Pool;
use super::smoke::{SmokeComparison, SmokePart, compare_smoke, light_path};
use super::t_distribution::COVERAGE;
use super::uncertainty::{Errors, estimate};
use super::zone::{Outcome, Standing, Zone};
use crate::job::{DecisionRule, Job, Measure, Reading, Scale};
use crate::quantity::Quantity;

/// What was found of one measure.
#[derive(Debug, Clone)]
pub struct MeasureJudgement {
    /// The measure's id.
    pub id: String,
    /// Whether the verdict depends on it.
    pub required: bool,
    /// The comparison, by the kind of the measure.
    pub finding: MeasureFinding,
    /// What the change of the measure as a whole amounts to.
    pub change: Option<Change>,
    /// What may be claimed of it.
    pub claim: Option<Claim>,
    /// What the decision rule makes of the measure as a whole.
    pub outcome: Outcome,
    /// What it makes of the retest at its limits alone, leaving out required improvements.
    pub at_limit: Outcome,
    /// What it would have made of the baseline.
    pub outcome_before: Outcome,
    /// The instruments it was read with.
    pub read_with: Vec<Used>,
    /// How its readings scatter; of smoke, its opacities.
    pub scatter: Pool,
    /// Whether they scatter by more than the machine is stated to vary by, by more than
    /// chance.
    pub exceeds_stated: bool,
}

/// Judges `measure`.
pub fn judge(job: &Job, measure: &Measure, rule: DecisionRule, fair: bool) -> MeasureJudgement {
    let observed = Observed::of(measure, &job.baseline, &job.retest);
    let readings = [&job.baseline, &job.retest].map(|run| run.readings.get(&measure.id));
    let known = Known::of(measure, readings, &job.plan.instruments);
    let terms = Terms {
        rule,
        fair,
        variation_known: measure.variation.is_known(known.scatter.is_known()),
    };
    let finding = find(&observed, &known, terms);
    let change = change(&finding);
    let outcomes = Outcomes::of(&finding);
    MeasureJudgement {
        id: measure.id.clone(),
        required: measure.required,
        change,
        claim: claim(&finding, change, terms.fair),
        outcome: outcomes.whole,
        at_limit: outcomes.at_limit,
        outcome_before: outcomes.before,
        read_with: instruments::of_measure(job, &measure.id),
        scatter: known.scatter,
        exceeds_stated: known.exceeds_stated(),
        finding,
    }
}

fn find(observed: &Observed<'_>, known: &Known<'_>, terms: Terms) -> MeasureFinding {
    match observed {
        Observed::Value {
            scale,
            values,
            paired,
            readings,
        } => {
            let [before, after] = *values;
            let in_pairs = *paired && known.stated.is_none();
            let pairs = in_pairs.then(|| Pairs::of(before, after)).flatten();
            let errors = known.errors(*readings);
            let found = compare_values(*values, errors, known.dependence(pairs), scale, terms);
            MeasureFinding::Value(Box::new(found))
        }
        Observed::Cylinders {
            scale,
            cylinders: [before, after],
            readings,
        } => cylinders(
            before
                .iter()
                .zip(after.iter())
                .map(|((_, b), (_, a))| {
                    let errors = known.errors(*readings);
                    compare_values([b, a], errors, known.dependence(None), scale, terms)
                })
                .collect(),
            scale,
        ),
        Observed::Passes {
            min,
            counts: [before, after],
        } => MeasureFinding::Passes(counts::compare(*before, *after, *min, terms.fair)),
        Observed::CylinderPasses {
            min,
            counts: [before, after],
        } => {
            let each = before.iter().zip(after.iter());
            let cylinders: Vec<CountComparison> = each
                .map(|((_, b), (_, a))| counts::compare(*b, *a, *min, terms.fair))
                .collect();
            MeasureFinding::CylinderPasses {
                min: *min,
                paired: PairedCount::of(&cylinders, terms.fair),
                passing: counts::passing(&cylinders),
                cylinders,
            }
        }
        Observed::Smoke {
            limits,
            smoke,
            readings: [before, after],
        } => {
            let runs: [(&Reading, _); 2] = [(before, smoke[0]), (after, smoke[1])];
            let parts = compare_smoke(known, runs, limits, terms);
            MeasureFinding::Smoke {
                light_path: light_path(*smoke, limits, &parts),
                parts,
            }
        }
        Observed::Text => MeasureFinding::Text,
        Observed::NotTaken { run, why } => MeasureFinding::NotTaken {
            run: *run,
            why: (*why).to_owned(),
        },
    }
}

fn compare_values(
    values: [&[Quantity]; 2],
    errors: [Errors<'_>; 2],
    together: Dependence,
    scale: &Scale,
    terms: Terms,
) -> Comparison {
    let ([before, after], [known_before, known_after]) = (values, errors);
    let together = Dependence {
        common: Common::of([(before, known_before), (after, known_after)]),
        ..together
    };
    let baseline = estimate(before, known_before);
    let retest = estimate(after, known_after);
    compare(baseline, retest, together, scale, terms)
}

fn cylinders(cylinders: Vec<Comparison>, scale: &Scale) -> MeasureFinding {
    let values = |of: fn(&Comparison) -> f64| cylinders.iter().map(of).collect::<Vec<_>>();
    let balance = [
        Balance::of(&values(|c| c.baseline.value)),
        Balance::of(&values(|c| c.retest.value)),
    ];
    let inside = |standing: Option<Standing>| {
        standing
            .map(|place| place.zone)
            .is_some_and(Zone::is_inside)
    };
    let least_known = (1..)
        .zip(&cylinders)
        .max_by(|(_, a), (_, b)| a.difference.u.total_cmp(&b.difference.u));
    MeasureFinding::Cylinders {
        scale: scale.clone(),
        balance,
        inside: scale
            .bounds
            .map(|_| Share::count(&cylinders, |c| [inside(c.before), inside(c.after)])),
        least_known: least_known.map_or(1, |(number, _)| number),
        cylinders,
    }
}

/// The change of the whole measure. A claim about several cylinders, or several figures
/// of smoke, at once is made at a level shared between them (Bonferroni), or one of many
/// would seem to change by chance.
fn change(finding: &MeasureFinding) -> Option<Change> {
    let level = |looks: usize| 1.0 - (1.0 - COVERAGE) / looks.max(1) as f64;
    match finding {
        MeasureFinding::Value(comparison) => comparison.change,
        MeasureFinding::Cylinders { cylinders, .. } => {
            let level = level(cylinders.len());
            Change::overall(cylinders.iter().filter_map(|c| c.change_at(level)))
        }
        MeasureFinding::Passes(count) => Some(count.change),
        MeasureFinding::CylinderPasses { paired, .. } => Some(paired.change),
        MeasureFinding::Smoke { parts, .. } => {
            let level = level(looks(parts));
            let parts = parts.iter().map(|part| &part.comparison);
            Change::overall(parts.filter_map(|part| part.change_at(level)))
        }
        MeasureFinding::Text | MeasureFinding::NotTaken { .. } => None,
    }
}

/// How many independent claims about the smoke there are: opacity and k are one, the time until clear is
/// another.
fn looks(parts: &[SmokeComparison]) -> usize {
    let (mut light, mut time) = (0, 0);
    for part in parts {
        match part.part {
            SmokePart::Opacity | SmokePart::Absorption => light = 1,
            SmokePart::Clear => time = 1,
        }
    }
    light + time
}

/// What may be claimed of the change of the whole measure.
fn claim(finding: &MeasureFinding, change: Option<Change>, fair: bool) -> Option<Claim> {
    match finding {
        MeasureFinding::Value(comparison) => comparison.claim,
        MeasureFinding::Passes(count) => Some(count.claim),
        MeasureFinding::CylinderPasses { paired, .. } => Some(paired.claim),
        MeasureFinding::Cylinders { cylinders, .. } => {
            let moved = |found: &Comparison| matches!(found.claim, Some(Claim::Moved(_)));
            change.map(|change| match change {
                Change::NoDetectable if cylinders.iter().any(moved) => Claim::SomeMoved,
                Change::Improved | Change::NoDetectable | Change::Worsened => change.claim(fair),
            })
        }
        MeasureFinding::Smoke { .. } => change.map(|c| c.claim(fair)),
        MeasureFinding::Text | MeasureFinding::NotTaken { .. } => None,
    }
}

/// What the rule makes of a measure as a whole, at its limits alone, and before.
struct Outcomes {
    whole: Outcome,
    at_limit: Outcome,
    before: Outcome,
}

impl Outcomes {
    /// The worst of the measure's parts.
    fn of(finding: &MeasureFinding) -> Self {
        match finding {
            MeasureFinding::Value(_)
            | MeasureFinding::Cylinders { .. }
            | MeasureFinding::Smoke { .. } => {
                let each = || finding.comparisons();
                Self {
                    whole: Outcome::worst(each().map(|c| c.outcome)),
                    at_limit: Outcome::worst(each().map(|c| c.at_limit)),
                    before: Outcome::worst(each().map(|c| c.outcome_before)),
                }
            }
            MeasureFinding::Passes(count) => Self::of_counts(std::slice::from_ref(count)),
            MeasureFinding::CylinderPasses { cylinders, .. } => Self::of_counts(cylinders),
            MeasureFinding::Text => Self {
                whole: Outcome::NoLimit,
                at_limit: Outcome::NoLimit,
                before: Outcome::NoLimit,
            },
            // Whatever it would have shown, it was not read.
            MeasureFinding::NotTaken { .. } => Self {
                whole: Outcome::Inconclusive,
                at_limit: Outcome::Inconclusive,
                before: Outcome::NoLimit,
            },
        }
    }

    /// A count has no required improvement.
    fn of_counts(counts: &[CountComparison]) -> Self {
        let whole = Outcome::worst(counts.iter().map(|count| count.outcome));
        Self {
            whole,
            at_limit: whole,
            before: Outcome::worst(counts.iter().map(|count| count.outcome_before)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::fixtures::{compared, fair, planned, scale};
    use super::*;
    use crate::job::{Better, Count, DecisionRule, Stage};
    use crate::judge::smoke::LightPath;

    /// At least 5 s in each cylinder, u = 0.1, U = 0.196.
    fn cylinders_of(pairs: &[(f64, f64)], u: f64) -> MeasureFinding {
        let scale = scale(Some(Better::Higher), Some(5.0), None);
        let each = pairs.iter().map(|(b, a)| compared(*b, *a, u, &scale));
        cylinders(each.collect(), &scale)
    }

    #[test]
    fn cylinders_inside_their_bounds_are_counted() {
        // 5.1 is inside by less than U, 4.9 outside by less.
        let pairs = [(4.0, 6.0), (4.9, 5.1), (6.0, 4.9), (4.0, 4.0)];
        let found = cylinders_of(&pairs, 0.1);
        let inside = match &found {
            MeasureFinding::Cylinders { inside, .. } => *inside,
            _ => None,
        };
        let wanted = Share {
            good: [1, 2],
            of: 4,
        };
        assert_eq!(inside, Some(wanted));
        assert_eq!(found.failing_cylinders(), [4]);
        let free = scale(None, None, None);
        let unbound = cylinders(vec![compared(1.0, 2.0, 0.1, &free)], &free);
        assert!(matches!(
            unbound,
            MeasureFinding::Cylinders { inside: None, .. }
        ));
        assert!(unbound.failing_cylinders().is_empty());
    }

    #[test]
    fn the_cylinder_that_is_known_least_stands_for_all() {
        let scale = scale(None, None, None);
        let each = [0.1, 0.3, 0.2].map(|u| compared(1.0, 2.0, u, &scale));
        let found = cylinders(each.to_vec(), &scale);
        assert!(matches!(
            found,
            MeasureFinding::Cylinders { least_known: 2, .. }
        ));
    }

    /// The worst cylinder counts, before and after.
    #[test]
    fn a_measure_is_as_its_worst_part() {
        use Outcome::{Fail, Inconclusive, NoLimit, Pass};
        let of = |finding: &MeasureFinding| {
            let found = Outcomes::of(finding);
            [found.before, found.at_limit, found.whole]
        };
        let found = cylinders_of(&[(4.0, 6.0), (6.0, 4.9)], 0.1);
        assert_eq!(of(&found), [Fail, Inconclusive, Inconclusive]);
        let count = |b, a| {
            let [b, a] = [b, a].map(|passes| Count::new(passes, 3).unwrap());
            counts::compare(b, a, Some(2), true)
        };
        assert_eq!(of(&MeasureFinding::Passes(count(1, 3))), [Fail, Pass, Pass]);
        let each = vec![count(1, 3), count(3, 1), count(3, 3)];
        let found = MeasureFinding::CylinderPasses {
            min: Some(2),
            paired: PairedCount::of(&each, true),
            passing: counts::passing(&each),
            cylinders: each,
        };
        assert_eq!(of(&found), [Fail, Fail, Fail]);
        assert_eq!(found.failing_cylinders(), [2]);
        assert_eq!(of(&MeasureFinding::Text), [NoLimit; 3]);
        let unread = MeasureFinding::NotTaken {
            run: Stage::Retest,
            why: "x".into(),
        };
        assert_eq!(of(&unread), [NoLimit, Inconclusive, Inconclusive]);
    }

    /// Two cylinders share the level: 97.5 % each, U = 2.24 · √2 · u. A change of 2.1 · √2 · u
    /// is one by itself, and none of two.
    #[test]
    fn a_claim_about_several_cylinders_shares_the_level() {
        let step = 2.1 * 2f64.sqrt() * 0.1;
        let alone = cylinders_of(&[(6.0, 6.0 + step)], 0.1);
        assert_eq!(change(&alone), Some(Change::Improved));
        let two = cylinders_of(&[(6.0, 6.0 + step), (6.0, 6.0)], 0.1);
        assert_eq!(change(&two), Some(Change::NoDetectable));
        let worse = cylinders_of(&[(6.0, 7.0), (6.0, 5.5)], 0.1);
        assert_eq!(change(&worse), Some(Change::Worsened));
        assert_eq!(claim(&worse, change(&worse), true), Some(Claim::Worsened));
        let better = cylinders_of(&[(6.0, 7.0)], 0.1);
        assert_eq!(
            claim(&better, change(&better), false),
            Some(Claim::Apparent)
        );
        assert_eq!(change(&MeasureFinding::Text), None);
        assert_eq!(claim(&MeasureFinding::Text, None, true), None);
    }

    /// Opacity and k are one look at the smoke, the time until clear another: each change of
    /// 2.1 · √2 · u counts by itself, and not beside the other.
    #[test]
    fn smoke_is_looked_at_in_two_ways() {
        let step = 2.1 * 2f64.sqrt() * 0.1;
        let of = |parts: &[SmokePart]| {
            let scale = scale(Some(Better::Lower), None, None);
            let parts = parts.iter().map(|part| SmokeComparison {
                part: *part,
                path: None,
                comparison: compared(6.0, 6.0 - step, 0.1, &scale),
                measured: None,
            });
            let parts: Vec<_> = parts.collect();
            let found = looks(&parts);
            let finding = MeasureFinding::Smoke {
                parts,
                light_path: LightPath::AsRead,
            };
            (found, change(&finding))
        };
        use SmokePart::{Absorption, Clear, Opacity};
        let (seen, none) = (Some(Change::Improved), Some(Change::NoDetectable));
        assert_eq!(of(&[]), (0, None));
        assert_eq!(of(&[Opacity]), (1, seen));
        assert_eq!(of(&[Opacity, Absorption]), (1, seen));
        assert_eq!(of(&[Clear]), (1, seen));
        assert_eq!(of(&[Opacity, Absorption, Clear]), (2, none));
    }

    #[test]
    fn only_what_is_paired_is_compared_in_pairs() {
        let scale = scale(Some(Better::Lower), None, None);
        let values = [1.0, 2.0].map(|v| Quantity::new(v, scale.unit).unwrap());
        let reading = Reading {
            observation: crate::job::Observation::Value(values.to_vec()),
            instrument: None,
            timer: None,
            stated: None,
            note: None,
        };
        let pairs = |paired| {
            let observed = Observed::Value {
                scale: &scale,
                values: [&values, &values],
                paired,
                readings: [&reading, &reading],
            };
            let measure = planned(false);
            let known = Known::of(&measure, [None, None], &[]);
            let finding = find(&observed, &known, fair(DecisionRule::Simple));
            finding.comparisons().next().unwrap().signed_rank.is_some()
        };
        assert!(pairs(true) && !pairs(false));
    }
}
