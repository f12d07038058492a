//! How the machine's own variation from run to run bears on a result: what is stated of it
//! against what the repeats show, and, where nothing is known, how large it would have to
//! be for the result to fall. Nothing is made up for it.

use super::change::Change;
use super::comparison::Comparison;
use super::finding::MeasureFinding;
use super::first_page::FigureOf;
use super::measures::MeasureJudgement;
use super::scatter::{APART, Pool, Scatter, exceeds};
use super::zone::{Outcome, Zone};
use crate::job::{DecisionRule, Improvement, RunToRun};
use crate::quantity::{Estimate, Unit};

/// How much one run would have to differ from the next, by itself and under like
/// conditions, for a conclusion to fall; in SI units, the ± that holds 95 % of such
/// differences (the repeatability limit of ISO 5725-6, from memory: z·√2 times a standard
/// deviation). None where there is no such conclusion.
///
/// How large an unknown must be before the conclusion falls is the question of a tipping
/// point analysis (ICH E9(R1), A.5.2).
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct HoldsUnless {
    /// For the change to be no longer shown.
    pub change: Option<f64>,
    /// For the retest to be no longer clearly inside or outside its limit.
    pub limit: Option<f64>,
    /// For the required improvement to be no longer clearly reached or missed.
    pub improvement: Option<f64>,
}

/// A change may as well be the machine's own variation where one of this share of the
/// baseline would undo it: a cold engine commonly varies by 10 % or more from one start to
/// the next (common practice, no published source), and two such starts by more.
const SMALL_SHARE: f64 = 0.2;

/// …or one of this many times the uncertainty of the change: what is less than a third of
/// another is commonly neglected.
const SMALL_MULTIPLE: f64 = 3.0;

impl HoldsUnless {
    /// What `found` holds up to.
    pub(super) fn of(found: &Comparison, rule: DecisionRule) -> Self {
        Self {
            change: of_change(found),
            limit: of_limit(found, rule),
            improvement: of_improvement(found, rule),
        }
    }
}

/// What is left of `distance` when `guard` has taken its part of it; both are half-widths
/// for 95 %, and add up in quadrature.
fn left(distance: f64, guard: f64) -> Option<f64> {
    let square = (distance - guard) * (distance + guard);
    (square > 0.0).then(|| square.sqrt())
}

fn of_change(found: &Comparison) -> Option<f64> {
    let claimed = match found.change? {
        Change::Improved | Change::Worsened => true,
        Change::NoDetectable => false,
    };
    let gain = found.better_by()?;
    claimed.then(|| left(gain.value, gain.expanded)).flatten()
}

fn guard(estimate: &Estimate, rule: DecisionRule) -> f64 {
    match rule {
        DecisionRule::Simple => 0.0,
        DecisionRule::Guarded | DecisionRule::FourZone => estimate.expanded,
    }
}

fn of_limit(found: &Comparison, rule: DecisionRule) -> Option<f64> {
    let bounds = found.scale.bounds?;
    let ends = [bounds.min(), bounds.max()].map(|end| end.map(|end| end.si()));
    let value = found.retest.value;
    let distances = ends.into_iter().flatten().map(|end| (value - end).abs());
    let distance = match found.after?.zone {
        Zone::Pass | Zone::Fail => distances.reduce(f64::min)?,
        Zone::ConditionalPass | Zone::ConditionalFail => return None,
    };
    // One reading varies by a √2-th of what two of them differ by.
    left(distance, guard(&found.retest, rule)).map(|one| std::f64::consts::SQRT_2 * one)
}

fn of_improvement(found: &Comparison, rule: DecisionRule) -> Option<f64> {
    let gain = found.gain.as_ref()?;
    let achieved = gain.achieved.as_ref()?;
    match gain.standing?.zone {
        Zone::Pass | Zone::Fail => {}
        Zone::ConditionalPass | Zone::ConditionalFail => return None,
    }
    let improvement = found.scale.improvement?;
    let left = left(achieved.value - improvement.least(), guard(achieved, rule))?;
    Some(match improvement {
        Improvement::By(_) => left,
        // A share a/b varies by r/b·√(1 + (a/b)²), where each reading varies by r.
        Improvement::Share(_) => {
            let (before, after) = (found.baseline.value, found.retest.value);
            std::f64::consts::SQRT_2 * before.abs() * left / (after / before).hypot(1.0)
        }
    })
}

/// Whether so small a variation would undo every improvement of a measure that the reader
/// has to be told.
pub fn is_near(finding: &MeasureFinding) -> bool {
    let near = |found: &Comparison, needed: f64| {
        let of_baseline = found.relative.as_ref().map(|_| found.baseline.value.abs());
        needed < SMALL_MULTIPLE * expanded_gain(found)
            || of_baseline.is_some_and(|baseline| needed < SMALL_SHARE * baseline)
    };
    let each = finding.comparisons();
    let mut improved = each.filter_map(|found| Some(near(found, of_an_improvement(found)?)));
    improved
        .next()
        .is_some_and(|first| first && improved.all(|is_near| is_near))
}

/// Whether a variation no larger than the instrument's own uncertainty would undo the
/// improvement. A machine varies by more than its instruments err, so that is not shown.
pub fn is_undone(found: &Comparison) -> bool {
    of_an_improvement(found).is_some_and(|needed| needed < expanded_gain(found))
}

fn expanded_gain(found: &Comparison) -> f64 {
    found.better_by().map_or(0.0, |gain| gain.expanded)
}

fn of_an_improvement(found: &Comparison) -> Option<f64> {
    let is_improved = matches!(found.change, Some(Change::Improved));
    let unknown = found.holds_unless.as_ref().filter(|_| is_improved)?;
    // No figure is left where the change is as large as its uncertainty, but for rounding.
    Some(unknown.change.unwrap_or(0.0))
}

/// How far a result holds, where the machine's own variation is not known.
#[derive(Debug, Clone, Copy)]
#[cfg_attr(test, derive(PartialEq))]
pub struct HoldsInShort {
    /// The place of the measure in the judgement.
    pub measure: usize,
    /// Unless one run differs from the next by more than this, in SI units; none where
    /// nothing is claimed that it could undo.
    pub unless: Option<f64>,
    /// The unit in which that is told.
    pub unit: &'static Unit,
    /// The same as a share of the baseline, where that has a meaning.
    pub share: Option<f64>,
}

/// How far the result of the first of these measures holds of which it is not known how it
/// varies: what carries the verdict comes first.
pub fn holds(
    leading: Option<FigureOf>,
    shown: &[usize],
    measures: &[MeasureJudgement],
) -> Option<HoldsInShort> {
    let leading = leading.map(|figure| figure.measure);
    let mut order: Vec<usize> = leading.into_iter().chain(shown.iter().copied()).collect();
    order.extend(0..measures.len());
    order.sort_by_key(|place| !measures[*place].required);
    order.into_iter().find_map(|place| {
        let found = &measures[place];
        let any = found
            .finding
            .comparisons()
            .find(|it| it.holds_unless.is_some())?;
        let first = first_to_fall(found);
        let unless = first.map(|(unless, _)| unless);
        let baseline = first.and_then(|(_, of)| of.relative.as_ref().map(|_| of.baseline.value));
        Some(HoldsInShort {
            measure: place,
            unless,
            unit: any.scale.unit,
            share: unless
                .zip(baseline)
                .map(|(unless, baseline)| unless / baseline.abs()),
        })
    })
}

/// The conclusion about a whole measure that falls first, with the figure it hangs on.
///
/// Of several cylinders, all have to pass, but one that fails is enough, and one that got
/// better makes the measure better: so of what passes the first to fall counts, of what
/// fails or changed the last.
fn first_to_fall(found: &MeasureJudgement) -> Option<(f64, &Comparison)> {
    type Of = fn(&HoldsUnless) -> Option<f64>;
    let each = |of: Of, is_so: &dyn Fn(&Comparison) -> bool| -> Vec<(f64, &Comparison)> {
        let so = found.finding.comparisons().filter(|it| is_so(it));
        so.filter_map(|it| Some((of(it.holds_unless.as_ref()?)?, it)))
            .collect()
    };
    let by_size = |a: &(f64, &Comparison), b: &(f64, &Comparison)| a.0.total_cmp(&b.0);
    let last = |all: Vec<(f64, _)>| all.into_iter().max_by(by_size);
    let first = |all: Vec<(f64, _)>| all.into_iter().min_by(by_size);
    let fails = |outcome: Outcome| matches!(outcome, Outcome::Fail);
    let changed = |it: &Comparison| match (found.change, it.change) {
        (Some(Change::Improved), Some(Change::Improved))
        | (Some(Change::Worsened), Some(Change::Worsened)) => true,
        (Some(Change::Improved | Change::NoDetectable | Change::Worsened) | None, _) => false,
    };
    let at_limit = if fails(found.at_limit) {
        last(each(|it| it.limit, &|it| fails(it.at_limit)))
    } else {
        first(each(|it| it.limit, &|_| true))
    };
    let improvement = if fails(found.outcome) {
        last(each(|it| it.improvement, &|it| fails(it.outcome)))
    } else {
        first(each(|it| it.improvement, &|_| true))
    };
    let change = last(each(|it| it.change, &changed));
    let all = [at_limit, improvement, change];
    all.into_iter().flatten().min_by(by_size)
}

/// The scatter of each run beside what is `stated`: none, because the repeats are part of
/// what is stated, unless they scatter by more than it by more than chance.
pub fn beside_stated(pool: Pool, stated: &RunToRun, means: &[f64]) -> [Option<Scatter>; 2] {
    let squares: f64 = means.iter().map(|mean| stated.of(*mean).powi(2)).sum();
    let variance = squares / means.len().max(1) as f64;
    let contradicts = |scatter: Scatter| {
        let ratio = scatter.s * scatter.s / variance;
        !ratio.is_nan() && exceeds(ratio, scatter.dof, stated.dof()) < APART
    };
    pool.runs
        .map(|scatter| scatter.filter(|it| contradicts(*it)))
}

#[cfg(test)]
mod tests {
    use super::super::comparison::{Terms, compare};
    use super::super::dependence::Dependence;
    use super::super::finding::MeasureFinding;
    use super::super::fixtures::{changed, compared, reading, scale, with_figure};
    use super::super::smoke::{LightPath, SmokeComparison, SmokePart};
    use super::*;
    use crate::job::{Better, Scale, Spread};
    use crate::quantity::Quantity;

    const Z: f64 = 1.959_963_984_540_054;

    /// U = 0.6 before and 0.8 after, so 1 in the change; of a machine of which nothing is known.
    fn unknown(before: f64, after: f64, scale: &Scale, rule: DecisionRule) -> Comparison {
        let terms = Terms {
            rule,
            fair: true,
            variation_known: false,
        };
        let (before, after) = (reading(before, 0.6 / Z), reading(after, 0.8 / Z));
        compare(before, after, Dependence::default(), scale, terms)
    }

    fn quantity(value: f64, unit: &str) -> Quantity {
        Quantity::new(value, Unit::named(unit).unwrap()).unwrap()
    }

    fn is_close(found: Option<f64>, wanted: Option<f64>) {
        let as_wanted = match (found, wanted) {
            (Some(found), Some(wanted)) => (found - wanted).abs() < 1e-9,
            (None, None) => true,
            _ => false,
        };
        assert!(as_wanted, "{found:?}, {wanted:?}");
    }

    /// √(g² − 1), and √2 · √(m² − 0.8²) to the bound.
    #[test]
    fn what_is_left_of_a_change_and_of_a_distance() {
        let upper = scale(Some(Better::Lower), None, Some(10.0));
        let of = |before, after| {
            let found = unknown(before, after, &upper, DecisionRule::FourZone);
            found.holds_unless.unwrap()
        };
        let passes = of(14.0, 5.0);
        is_close(passes.change, Some(80f64.sqrt()));
        is_close(passes.limit, Some((2.0 * (25.0 - 0.64f64)).sqrt()));
        let fails = of(14.0, 12.0);
        is_close(fails.change, Some(3f64.sqrt()));
        is_close(fails.limit, Some((2.0 * (4.0 - 0.64f64)).sqrt()));
        let worse = of(2.0, 5.0);
        is_close(worse.change, Some(8f64.sqrt()));
        // No change to be seen, and too near the limit to tell.
        assert_eq!(of(10.0, 9.5), HoldsUnless::default());
        // Without a guard band the whole distance is left.
        let simple = unknown(14.0, 5.0, &upper, DecisionRule::Simple);
        is_close(simple.holds_unless.unwrap().limit, Some(50f64.sqrt()));
        assert!(compared(14.0, 5.0, 0.1, &upper).holds_unless.is_none());
    }

    /// At most 10, by the figures above. Of 14 → 5 the limit falls before the change, of
    /// 14 → 12 the change. Where two pass the nearer to the limit counts, where two fail the
    /// one farther from it; and of two that changed the one that did so by more.
    #[test]
    fn of_several_the_conclusion_about_all_that_falls_first() {
        let upper = scale(Some(Better::Lower), None, Some(10.0));
        let of = |pairs: &[(f64, f64)], outcome, change| {
            let part = |(before, after): &(f64, f64)| SmokeComparison {
                part: SmokePart::Clear,
                path: None,
                comparison: unknown(*before, *after, &upper, DecisionRule::FourZone),
                measured: None,
            };
            let found = MeasureJudgement {
                finding: MeasureFinding::Smoke {
                    parts: pairs.iter().map(part).collect(),
                    light_path: LightPath::AsRead,
                },
                ..changed(true, outcome, change)
            };
            first_to_fall(&found).map(|(unless, _)| unless)
        };
        let to_limit = |distance: f64| Some((2.0 * (distance * distance - 0.64)).sqrt());
        let better = Change::Improved;
        is_close(of(&[(14.0, 5.0)], Outcome::Pass, better), to_limit(5.0));
        is_close(
            of(&[(14.0, 12.0)], Outcome::Fail, better),
            Some(3f64.sqrt()),
        );
        let pass = [(14.0, 5.0), (14.0, 4.0)];
        is_close(of(&pass, Outcome::Pass, better), to_limit(5.0));
        // 20 → 12 and 20 → 13 fail, by 2 and 3; they got better by 8 and 7.
        let fail = [(20.0, 12.0), (20.0, 13.0)];
        is_close(of(&fail, Outcome::Fail, better), to_limit(3.0));
        // 14 → 12 and 20 → 17: better by 2 and by 3, outside by 2 and by 7.
        let both = [(14.0, 12.0), (20.0, 17.0)];
        is_close(of(&both, Outcome::Fail, better), Some(8f64.sqrt()));
        is_close(of(&both, Outcome::Fail, Change::Worsened), to_limit(7.0));
        assert_eq!(of(&[(10.0, 9.5)], Outcome::ConditionalPass, better), None);
    }

    /// 60 % less where 50 % are asked of 20: U = √((0.8/20)² + (8 · 0.6/400)²) = 0.041 761, and
    /// √2 · 20 · √(0.1² − U²)/√(1 + 0.4²) = 2.386 167 (computed with Python).
    #[test]
    fn what_is_left_of_an_improvement() {
        let mut lower = scale(Some(Better::Lower), None, None);
        let of = |scale: &Scale, rule| unknown(20.0, 8.0, scale, rule).holds_unless.unwrap();
        lower.improvement = Some(Improvement::By(quantity(5.0, "s")));
        is_close(
            of(&lower, DecisionRule::Guarded).improvement,
            Some(48f64.sqrt()),
        );
        is_close(of(&lower, DecisionRule::Simple).improvement, Some(7.0));
        lower.improvement = Some(Improvement::Share(quantity(50.0, "%")));
        let share = of(&lower, DecisionRule::Guarded).improvement.unwrap();
        assert!((share - 2.386_167_031_8).abs() < 1e-9, "{share}");
        let simple = of(&lower, DecisionRule::Simple).improvement.unwrap();
        assert!((simple - 2.0 * 2f64.sqrt() / 1.16f64.sqrt()).abs() < 1e-9);
    }

    /// X < U where the gain is less than √2; X < 3 U where it is less than √10; and a fifth of
    /// the baseline of 20 where it is less than √17.
    #[test]
    fn near_and_undone() {
        let lower = scale(Some(Better::Lower), None, None);
        let celsius = Scale {
            unit: Unit::named("°C").unwrap(),
            ..lower.clone()
        };
        let of = |gain: f64, scale: &Scale| {
            let found = unknown(20.0, 20.0 - gain, scale, DecisionRule::FourZone);
            let undone = is_undone(&found);
            (is_near(&MeasureFinding::Value(Box::new(found))), undone)
        };
        for (gain, near, undone) in [
            (0.9, false, false),
            (1.41, true, true),
            (1.42, true, false),
            (3.16, true, false),
            (3.17, false, false),
            (-5.0, false, false),
        ] {
            assert_eq!(of(gain, &celsius), (near, undone), "{gain}");
        }
        assert_eq!(of(4.12, &lower), (true, false));
        assert_eq!(of(4.13, &lower), (false, false));
        let known = compared(20.0, 18.6, 0.36, &lower);
        assert_eq!(known.change, Some(Change::Improved));
        assert!(!is_undone(&known));
        assert!(!is_near(&MeasureFinding::Value(Box::new(known))));
    }

    fn stated(spread: Spread, runs: Option<u32>) -> RunToRun {
        RunToRun {
            spread,
            runs,
            source: "Log".into(),
        }
    }

    /// From s²/r² = 4.605 170 on of two degrees of freedom; of five runs F(2, 4; 0.99) = 18.0.
    #[test]
    fn repeats_that_scatter_by_more_than_is_stated() {
        let pool = |s: f64| Pool {
            runs: [Some(Scatter { s, dof: 2.0 }), None],
            kept_apart: false,
        };
        let counts = |s: f64, stated: &RunToRun| {
            let found = beside_stated(pool(s), stated, &[20.0, 10.0]);
            assert_eq!(found[1], None);
            assert!(found[0].is_none_or(|scatter| scatter.s == s));
            found[0].is_some()
        };
        let half = Spread::Deviation(quantity(0.5, "s"));
        let known = stated(half, None);
        assert!(!counts(1.072, &known) && counts(1.074, &known));
        let five = stated(half, Some(5));
        assert!(!counts(2.121, &five) && counts(2.122, &five));
        // Of 5 % the mean of both squares counts: 0.05/(1 − 0.098) · √(20² + 10²)/√2.
        let share = stated(Spread::Percent(quantity(5.0, "%")), None);
        let r = 0.05 / (1.0 - 0.05 * Z) * 250f64.sqrt();
        let bound = (4.605_170_186f64).sqrt() * r;
        assert!(!counts(0.999 * bound, &share) && counts(1.001 * bound, &share));
    }

    /// Of what is shown the first required measure whose variation is not known, the leading
    /// one before all; of it the cylinder that falls first.
    #[test]
    fn the_page_tells_of_the_measure_that_carries_the_verdict() {
        let lower = scale(Some(Better::Lower), None, None);
        let with = |required, gain: f64| {
            let found = unknown(20.0, 20.0 - gain, &lower, DecisionRule::FourZone);
            MeasureJudgement {
                finding: MeasureFinding::Value(Box::new(found)),
                ..changed(required, Outcome::Pass, Change::Improved)
            }
        };
        let known = with_figure(changed(true, Outcome::Pass, Change::Improved));
        let all = [known, with(false, 9.0), with(true, 5.0), with(true, 7.0)];
        let of = |leading: Option<usize>, shown: &[usize]| {
            let leading = leading.map(|measure| FigureOf { measure, part: 0 });
            holds(leading, shown, &all)
        };
        assert_eq!(of(None, &[]).unwrap().measure, 2);
        assert_eq!(of(None, &[3, 2]).unwrap().measure, 3);
        assert_eq!(of(Some(3), &[2, 3]).unwrap().measure, 3);
        let not_required = of(Some(1), &[1]).unwrap();
        assert_eq!(not_required.measure, 2);
        is_close(not_required.unless, Some(24f64.sqrt()));
        is_close(not_required.share, Some(24f64.sqrt() / 20.0));
        assert_eq!(holds(None, &[0], &all[..1]), None);
        // One that claims nothing says that nothing is counted.
        let nothing = [with(true, 0.5)];
        let found = holds(None, &[0], &nothing).unwrap();
        assert_eq!((found.unless, found.share), (None, None));
    }
}
