//! One measure of a job: its readings compared, its limits applied.

use super::change::{Change, Claim};
use super::comparison::{Comparison, Terms, compare_in};
use super::counts;
use super::dependence::{Common, Dependence};
use super::ends::InRun;
use super::exact;
use super::finding::{CountAlone, MeasureFinding, ValueAlone};
use super::instruments::{self, Used};
use super::known::Known;
use super::left_out::LeftOut;
use super::limits_in_run::{LimitsInRun, Unknown, both, scales_in_run, unknown, with_limits};
use super::list;
use super::observed::Observed;
use super::one_run::{Alone, RunFigure, of_reading, of_worked};
use super::outcomes::Outcomes;
use super::pairs::Pairs;
use super::points::held;
use super::positions::{exacts_at, pair_up, passes_at, values_at};
use super::rate;
use super::scatter::Pool;
use super::smoke::{SmokeComparison, SmokePart, compare_smoke, light_path};
use super::t_distribution::COVERAGE;
use super::uncertainty::{Errors, estimate, mean_of};
use super::worked_out::{Runs, Worked};
use super::zone::Outcome;
use crate::job::{DecisionRule, Formula, Job, Kind, Measure, PerPosition, Reading};
use crate::quantity::{Estimate, Quantity};

/// What was found of one measure.
#[derive(Debug, Clone)]
pub struct MeasureJudgement {
    /// The measure's id.
    pub id: String,
    /// Whether the verdict depends on it.
    pub required: bool,
    /// Whether the conditions that bear on it allow a claim of improvement.
    pub fair: bool,
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
    /// What is left out of a figure that is worked out, in each run.
    pub left_out: [Vec<LeftOut>; 2],
}

/// Judges `measure`.
pub fn judge(job: &Job, measure: &Measure, rule: DecisionRule, fair: bool) -> MeasureJudgement {
    let readings = [&job.baseline, &job.retest].map(|run| run.readings.get(&measure.id));
    let known = Known::of(measure, readings, &job.plan.instruments);
    let runs = Runs {
        plan: &job.plan,
        runs: [Some(&job.baseline), Some(&job.retest)],
    };
    let variation_known = match &measure.worked_out {
        None => measure.variation.is_known(known.scatter.is_known()),
        Some(formula) => runs.variation_is_known(measure, formula),
    };
    let terms = Terms {
        rule,
        fair,
        variation_known,
    };
    let limits = [0, 1].map(|run| runs.limits(measure, run));
    let finding = match &measure.worked_out {
        None => {
            let observed = Observed::of(measure, &job.baseline, &job.retest);
            find(measure, &observed, &known, &limits, terms)
        }
        Some(formula) => worked_out(&runs, measure, formula, &limits, terms),
    };
    let change = change(&finding);
    let outcomes = outcomes(&finding);
    MeasureJudgement {
        id: measure.id.clone(),
        required: measure.required,
        fair,
        change,
        claim: claim(&finding, change, terms.fair),
        outcome: outcomes.whole,
        at_limit: outcomes.at_limit,
        outcome_before: outcomes.before,
        read_with: instruments::of_measure(job, &measure.id),
        scatter: known.scatter,
        exceeds_stated: known.exceeds_stated(),
        left_out: runs.left_out_of(measure),
        finding,
    }
}

fn find(
    measure: &Measure,
    observed: &Observed<'_>,
    known: &Known<'_>,
    limits: &[LimitsInRun; 2],
    terms: Terms,
) -> MeasureFinding {
    match observed {
        Observed::Value {
            values,
            paired,
            readings,
        } => {
            let in_run = match both(limits, 0) {
                Ok(in_run) => in_run,
                Err(Unknown::InRetest(why)) => return MeasureFinding::NotTaken { why },
                Err(Unknown::InBaseline(why)) => {
                    return after_only(measure, readings[1], known, limits, why, terms.rule);
                }
            };
            let [before, after] = *values;
            let in_pairs = *paired && known.stated.is_none();
            let pairs = in_pairs.then(|| Pairs::of(before, after)).flatten();
            let errors = known.errors(*readings);
            let found = compare_values(*values, errors, known.dependence(pairs), in_run, terms);
            MeasureFinding::Value(Box::new(found))
        }
        Observed::ValueAt {
            scales,
            values,
            readings,
        } => {
            if let Some(why) = unknown(&limits[1]) {
                return MeasureFinding::NotTaken { why };
            }
            let held = [0, 1].map(|run| held(&scales.at, &values[run]));
            let errors = known.errors(*readings);
            let errors_at = |run: usize, place: usize| Errors {
                setting: held[run][place],
                ..errors[run]
            };
            let runs = [0, 1].map(|run| with_limits(&values[run], &limits[run]));
            let each = pair_up(
                [&runs[0], &runs[1]],
                |place, (before, first), (after, second)| {
                    let errors = [0, 1].map(|run| errors_at(run, place));
                    let together = known.dependence(None);
                    let in_run = [*first, *second];
                    compare_values([before, after], errors, together, in_run, terms)
                },
                |run, place, (read, in_run)| {
                    let found = estimate(read, errors_at(run, place));
                    ValueAlone::of(found, in_run, terms.rule)
                },
            );
            values_at(
                &scales_in_run(scales, &limits[1]),
                each,
                runs.map(|run| run.map(|(read, _)| mean_of(read))),
            )
        }
        Observed::Passes {
            min,
            counts: [before, after],
        } => MeasureFinding::Passes(counts::compare(*before, *after, *min, terms.fair)),
        Observed::PassesAt { at, min, counts } => {
            let [before, after] = counts;
            let each = pair_up(
                [before, after],
                |_, before, after| counts::compare(*before, *after, *min, terms.fair),
                |_, _, count| CountAlone::of(*count, *min),
            );
            MeasureFinding::PassesAt(passes_at(at, *min, each, terms.fair))
        }
        Observed::Exact {
            scale,
            read: [before, after],
        } => {
            let pair = exact::compare(scale, *before, *after);
            MeasureFinding::Exact((*scale).clone(), pair)
        }
        Observed::ExactAt { scales, read } => {
            let [before, after] = read;
            let each = pair_up(
                [before, after],
                |place, before, after| exact::compare(scales.scale(place), *before, *after),
                |_, place, read| exact::alone(scales.scale(place), *read),
            );
            MeasureFinding::ExactAt(exacts_at(scales, each, terms.fair))
        }
        Observed::Rate { scale, counted } => {
            let found = rate::compare(scale, *counted, terms.rule, terms.fair);
            MeasureFinding::Rate(Box::new(found))
        }
        Observed::List { limits, lists } => MeasureFinding::List(list::compare(limits, *lists)),
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
        Observed::AfterOnly {
            measure,
            reading,
            why,
        } => after_only(
            measure,
            reading,
            known,
            limits,
            (*why).to_owned(),
            terms.rule,
        ),
        Observed::NotTaken { why } => MeasureFinding::NotTaken {
            why: (*why).to_owned(),
        },
    }
}

/// A retest without a baseline to compare it with.
fn after_only(
    measure: &Measure,
    reading: &Reading,
    known: &Known<'_>,
    limits: &[LimitsInRun; 2],
    why: String,
    rule: DecisionRule,
) -> MeasureFinding {
    // Where its limit is not known either, nothing of it can be judged.
    if let Some(why) = unknown(&limits[1]) {
        return MeasureFinding::NotTaken { why };
    }
    let errors = known.errors_in(1, reading);
    let figures = of_reading(measure, reading, known, errors, &limits[1], rule);
    MeasureFinding::AfterOnly {
        figures: alone(figures),
        improvement: measure.kind.asks_for_improvement(),
        why,
    }
}

fn compare_values(
    values: [&[Quantity]; 2],
    errors: [Errors<'_>; 2],
    together: Dependence,
    in_run: [&InRun; 2],
    terms: Terms,
) -> Comparison {
    let ([before, after], [known_before, known_after]) = (values, errors);
    let together = Dependence {
        common: Common::of([(before, known_before), (after, known_after)]),
        ..together
    };
    let baseline = estimate(before, known_before);
    let retest = estimate(after, known_after);
    compare_in(baseline, retest, together, in_run, terms)
}

/// A figure that is worked out, in both runs. Errors that both runs share are not taken
/// away from its change.
fn worked_out(
    runs: &Runs<'_>,
    measure: &Measure,
    formula: &Formula,
    limits: &[LimitsInRun; 2],
    terms: Terms,
) -> MeasureFinding {
    let left_out = [0, 1].map(|run| runs.left_out(formula, run));
    let compare = |before: &Estimate, after: &Estimate, in_run: [&InRun; 2]| {
        // Each scatter carries the number of the estimate that it comes from.
        let together = Dependence {
            pooled: true,
            over_others: left_out[0] != left_out[1],
            ..Dependence::default()
        };
        compare_in(before.clone(), after.clone(), together, in_run, terms)
    };
    let after_only = |after: Worked, why: String| MeasureFinding::AfterOnly {
        figures: alone(of_worked(measure, after, &limits[1], terms.rule)),
        improvement: measure.kind.asks_for_improvement(),
        why,
    };
    let [before, after] = [0, 1].map(|run| runs.work_out(measure, formula, run));
    // What is judged by a limit that is not known counts as not read; where it was not worked
    // out either, that is why.
    let after = after.and_then(Worked::somewhere);
    let after = after.and_then(|after| unknown(&limits[1]).map_or(Ok(after), Err));
    match (&measure.kind, before, after) {
        (_, _, Err(why)) => MeasureFinding::NotTaken { why },
        (Kind::Value(_), Ok(Worked::One(before)), Ok(Worked::One(after))) => {
            match both(limits, 0) {
                Ok(in_run) => MeasureFinding::Value(Box::new(compare(&before, &after, in_run))),
                Err(Unknown::InRetest(why)) => MeasureFinding::NotTaken { why },
                Err(Unknown::InBaseline(why)) => after_only(Worked::One(after), why),
            }
        }
        (Kind::ValueAt(scales), before, Ok(Worked::Each(after))) => {
            let before = match before {
                Ok(Worked::Each(before)) => PerPosition::new(before),
                // A formula is of one figure or of several, as its measure is.
                Ok(Worked::One(_)) => PerPosition::not_taken(after.len(), ""),
                Err(why) => PerPosition::not_taken(after.len(), &why),
            };
            let read = [before, PerPosition::new(after)];
            let [before, after] = [0, 1].map(|run| with_limits(&read[run], &limits[run]));
            let each = pair_up(
                [&before, &after],
                |_, (before, first), (after, second)| compare(before, after, [first, second]),
                |_, _, (one, in_run)| ValueAlone::of((*one).clone(), in_run, terms.rule),
            );
            let scales = scales_in_run(scales, &limits[1]);
            let read = [before, after].map(|run| run.map(|(one, _)| one.value));
            values_at(&scales, each, read)
        }
        (_, Err(why), Ok(after)) => after_only(after, why),
        (_, Ok(_), Ok(_)) => MeasureFinding::NotTaken { why: String::new() },
    }
}

/// The figures that stand alone.
fn alone(figures: Vec<RunFigure>) -> Vec<Alone> {
    figures.into_iter().filter_map(RunFigure::alone).collect()
}

/// The change of the whole measure. A claim about several positions, or several figures
/// of smoke, at once is made at a level shared between them (Bonferroni), or one of many
/// would seem to change by chance.
fn change(finding: &MeasureFinding) -> Option<Change> {
    let level = |looks: usize| 1.0 - (1.0 - COVERAGE) / looks.max(1) as f64;
    match finding {
        MeasureFinding::Value(comparison) => comparison.change,
        MeasureFinding::ValueAt(_) => {
            let level = level(finding.comparisons().count());
            Change::overall(finding.comparisons().filter_map(|c| c.change_at(level)))
        }
        MeasureFinding::Passes(count) => Some(count.change),
        MeasureFinding::PassesAt(counts) => counts.paired.as_ref().map(|paired| paired.change),
        MeasureFinding::Exact(_, pair) => pair.change(),
        MeasureFinding::ExactAt(exacts) => exacts.signs.map(|signs| signs.change),
        MeasureFinding::Rate(rate) => rate.change,
        MeasureFinding::List(list) => Some(list.step.change()),
        MeasureFinding::Smoke { parts, .. } => {
            let level = level(looks(parts));
            let parts = parts.iter().map(|part| &part.comparison);
            Change::overall(parts.filter_map(|part| part.change_at(level)))
        }
        MeasureFinding::Text
        | MeasureFinding::AfterOnly { .. }
        | MeasureFinding::NotTaken { .. } => None,
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
        MeasureFinding::PassesAt(counts) => counts.paired.as_ref().map(|paired| paired.claim),
        MeasureFinding::Exact(_, pair) => pair.claim(fair),
        MeasureFinding::ExactAt(exacts) => exacts.signs.map(|signs| signs.claim),
        MeasureFinding::Rate(rate) => rate.claim,
        MeasureFinding::List(list) => Some(list.step.claim(fair)),
        MeasureFinding::ValueAt(_) => {
            let moved = |found: &Comparison| matches!(found.claim, Some(Claim::Moved(_)));
            let over_others = |found: &Comparison| found.together.over_others;
            change.map(|change| match change {
                _ if finding.comparisons().any(over_others) => Claim::OtherPositions,
                Change::NoDetectable if finding.comparisons().any(moved) => Claim::SomeMoved,
                Change::Improved | Change::NoDetectable | Change::Worsened => change.claim(fair),
            })
        }
        MeasureFinding::Smoke { .. } => change.map(|c| c.claim(fair)),
        MeasureFinding::Text
        | MeasureFinding::AfterOnly { .. }
        | MeasureFinding::NotTaken { .. } => None,
    }
}

/// What the rule makes of a measure as a whole: the worst of its parts.
fn outcomes(finding: &MeasureFinding) -> Outcomes {
    match finding {
        MeasureFinding::Value(_) | MeasureFinding::Smoke { .. } => {
            Outcomes::worst(finding.comparisons().map(Outcomes::of))
        }
        MeasureFinding::ValueAt(values) => Outcomes::worst(values.outcomes()),
        MeasureFinding::Passes(count) => Outcomes::of_count(count),
        MeasureFinding::PassesAt(counts) => Outcomes::worst(counts.outcomes()),
        MeasureFinding::Exact(_, pair) => Outcomes::plain(pair.outcome_before, pair.outcome),
        MeasureFinding::ExactAt(exacts) => Outcomes::worst(exacts.outcomes()),
        MeasureFinding::Rate(rate) => Outcomes::plain(rate.outcome_before, rate.outcome),
        MeasureFinding::List(list) => Outcomes::plain(list.outcome_before, list.outcome),
        MeasureFinding::Text => Outcomes::NONE,
        MeasureFinding::AfterOnly {
            figures,
            improvement,
            ..
        } => {
            let at_limit = Outcome::worst(figures.iter().map(Alone::at_limit));
            Outcomes::after_only(at_limit, *improvement)
        }
        MeasureFinding::NotTaken { .. } => Outcomes::UNREAD,
    }
}

#[cfg(test)]
mod tests {
    use super::super::finding::{AtPosition, ValuesAt};
    use super::super::fixtures::{compared, fair, planned, scale};
    use super::*;
    use crate::job::{Better, Count, DecisionRule, Positions, ScaleAt};
    use crate::judge::smoke::LightPath;

    /// At least 5 s at each position, U = 1.96 u.
    fn several(pairs: &[(f64, f64)], u: f64) -> MeasureFinding {
        let scale = scale(Some(Better::Higher), Some(5.0), None);
        let scales = ScaleAt {
            at: Positions::cylinders(pairs.len()),
            common: scale.clone(),
            own: Vec::new(),
        };
        let each = pairs.iter().map(|(b, a)| compared(*b, *a, u, &scale));
        let each = each.map(AtPosition::Compared).collect();
        MeasureFinding::ValueAt(Box::new(ValuesAt {
            balance: None,
            inside: None,
            least_known: 0,
            scales: Box::new(scales),
            each,
        }))
    }

    /// The worst cylinder counts, before and after.
    #[test]
    fn a_measure_is_as_its_worst_part() {
        use Outcome::{Fail, Inconclusive, NoLimit, Pass};
        let of = |finding: &MeasureFinding| {
            let found = outcomes(finding);
            [found.before, found.at_limit, found.whole]
        };
        let found = several(&[(4.0, 6.0), (6.0, 4.9)], 0.1);
        assert_eq!(of(&found), [Fail, Inconclusive, Inconclusive]);
        let count = |b, a| {
            let [b, a] = [b, a].map(|passes| Count::new(passes, 3).unwrap());
            counts::compare(b, a, Some(2), true)
        };
        assert_eq!(of(&MeasureFinding::Passes(count(1, 3))), [Fail, Pass, Pass]);
        let each = vec![count(1, 3), count(3, 1), count(3, 3)];
        let each = each.into_iter().map(AtPosition::Compared).collect();
        let found = passes_at(&Positions::cylinders(3), Some(2), each, true);
        let found = MeasureFinding::PassesAt(found);
        assert_eq!(of(&found), [Fail, Fail, Fail]);
        assert_eq!(found.failing_positions(), ["2"]);
        assert_eq!(of(&MeasureFinding::Text), [NoLimit; 3]);
        let unread = MeasureFinding::NotTaken { why: "x".into() };
        assert_eq!(of(&unread), [NoLimit, Inconclusive, Inconclusive]);
    }

    /// Two cylinders share the level: 97.5 % each, U = 2.24 · √2 · u. A change of 2.1 · √2 · u
    /// is one by itself, and none of two.
    #[test]
    fn a_claim_about_several_cylinders_shares_the_level() {
        let step = 2.1 * 2f64.sqrt() * 0.1;
        let alone = several(&[(6.0, 6.0 + step)], 0.1);
        assert_eq!(change(&alone), Some(Change::Improved));
        let two = several(&[(6.0, 6.0 + step), (6.0, 6.0)], 0.1);
        assert_eq!(change(&two), Some(Change::NoDetectable));
        let worse = several(&[(6.0, 7.0), (6.0, 5.5)], 0.1);
        assert_eq!(change(&worse), Some(Change::Worsened));
        assert_eq!(claim(&worse, change(&worse), true), Some(Claim::Worsened));
        let better = several(&[(6.0, 7.0)], 0.1);
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
            shown_in: None,
        };
        let pairs = |paired| {
            let observed = Observed::Value {
                values: [&values, &values],
                paired,
                readings: [&reading, &reading],
            };
            let measure = planned(false);
            let known = Known::of(&measure, [None, None], &[]);
            let limits = [0, 1].map(|_| vec![Ok(InRun::fixed(&scale))]);
            let rule = fair(DecisionRule::Simple);
            let finding = find(&measure, &observed, &known, &limits, rule);
            finding.comparisons().next().unwrap().signed_rank.is_some()
        };
        assert!(pairs(true) && !pairs(false));
    }
}
