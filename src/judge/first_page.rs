//! What is on the customer's page: which figures, in which order, which of them leads,
//! under which headline; what would settle an undecided verdict; what is left off.

use super::change::Change;
use super::conditions::{ConditionJudgement, ConditionState, about, are_fair};
use super::finding::MeasureFinding;
use super::holds::{HoldsInShort, holds};
use super::measures::MeasureJudgement;
use super::settles::{Settles, got_worse, is_harder, settles};
use super::verdict::{Reason, Verdict};
use super::zone::Outcome;
use crate::job::{DecisionRule, Measure};

/// The most figures on the customer's page.
const FIGURES: usize = 8;

/// What is on the customer's page.
#[derive(Debug, Clone)]
pub struct FirstPage {
    /// Its headline.
    pub headline: Headline,
    /// The figures, in their order.
    pub figures: Vec<FigureOf>,
    /// How many figures that matter are left off, where any are.
    pub left_off: Option<usize>,
    /// The figure of the first sentences.
    pub leading: Option<FigureOf>,
    /// What to say about the conditions; nothing where they are not fair.
    pub conditions: ConditionsInShort,
    /// What would settle an undecided verdict.
    pub settles: Option<Settles>,
    /// How far the result of the measure that carries the verdict holds, where it is not
    /// known how the machine varies from run to run.
    pub holds: Option<HoldsInShort>,
}

/// A figure on the customer's page.
#[derive(Debug, Clone, Copy)]
#[cfg_attr(test, derive(PartialEq, Eq))]
pub struct FigureOf {
    /// The place of its measure in the judgement.
    pub measure: usize,
    /// The place of its figure among those of smoke; 0 of any other measure.
    pub part: usize,
}

/// The headline, with the number of measures it is about.
#[derive(Debug, Clone, Copy)]
#[cfg_attr(test, derive(PartialEq, Eq))]
pub enum Headline {
    /// All required measures pass.
    Verified(usize),
    /// All required measures pass, at least one by less than its uncertainty.
    VerifiedConditionally(usize),
    /// So many are outside their limits.
    NotVerified(usize),
    /// So many are inside their limits, but did not improve as required.
    NotImproved(usize),
    /// So many fail, some at their limits and some by lack of improvement.
    NotShown(usize),
    /// Undecided: the conditions were easier.
    ConditionsEasier,
    /// Undecided: the conditions are not known.
    ConditionsUnknown,
    /// Undecided: something fails, under conditions that were more severe.
    ConditionsHarder,
    /// Undecided: something required got worse.
    Worse,
    /// Undecided: the readings are inconclusive.
    Open,
}

/// The conditions in one sentence.
#[derive(Debug, Clone)]
#[cfg_attr(test, derive(PartialEq, Eq))]
pub enum ConditionsInShort {
    /// Nothing to say.
    Nothing,
    /// These were more severe in the retest.
    Harder(Vec<String>),
    /// All that are required were alike.
    Matched,
}

impl FirstPage {
    /// Lays out the page of what was judged; `planned` are the measures of the job.
    pub(super) fn of(
        planned: &[Measure],
        verdict: Verdict,
        reasons: &[Reason],
        measures: &[MeasureJudgement],
        conditions: &[ConditionJudgement],
        fair: bool,
        rule: DecisionRule,
    ) -> Self {
        let Chosen { all, of_note } = choose(planned, measures);
        let leading = leading(&of_note, measures);
        // What bears on the measures that the verdict depends on.
        let required = measures.iter().filter(|found| found.required);
        let required: Vec<&str> = required.map(|found| found.id.as_str()).collect();
        let fair_for_verdict = are_fair(about(conditions, &required));
        let figures: Vec<FigureOf> = all.iter().flat_map(|place| of(measures, *place)).collect();
        let left_off = figures.len().saturating_sub(FIGURES);
        let figures: Vec<FigureOf> = figures.into_iter().take(FIGURES).collect();
        let mut shown: Vec<usize> = figures.iter().map(|figure| figure.measure).collect();
        shown.dedup();
        Self {
            headline: headline(verdict, reasons, measures, fair_for_verdict),
            left_off: Some(left_off).filter(|more| *more > 0),
            figures,
            leading,
            conditions: in_short(conditions, verdict, fair),
            settles: settles(verdict, reasons, measures, fair_for_verdict, rule),
            holds: holds(leading.map(|it| it.measure), &shown, measures),
        }
    }
}

/// The measures for the page.
#[derive(Debug, PartialEq, Eq)]
struct Chosen {
    /// In their order: what is required and does not simply pass, the worst at the top; what
    /// else is required, what is marked before what is not; what is not required and fails;
    /// what is only marked.
    all: Vec<usize>,
    /// Those for the first sentences: what is marked, or else what is required, and whatever
    /// required measure does not simply pass.
    of_note: Vec<usize>,
}

fn choose(planned: &[Measure], measures: &[MeasureJudgement]) -> Chosen {
    let is_marked = |place: usize| planned.get(place).is_some_and(|measure| measure.front);
    let any_marked = (0..measures.len()).any(is_marked);
    let attention = |place: usize| {
        let found = &measures[place];
        let rank = found.outcome.rank();
        if found.required && rank > Outcome::Pass.rank() {
            rank
        } else {
            0
        }
    };
    let fails = |place: usize| matches!(measures[place].outcome, Outcome::Fail);
    let mut all: Vec<usize> = (0..measures.len())
        .filter(|place| is_marked(*place) || measures[*place].required || fails(*place))
        .collect();
    all.sort_by_key(|place| {
        let required = measures[*place].required;
        let rank = (
            attention(*place),
            required,
            fails(*place),
            is_marked(*place),
        );
        (std::cmp::Reverse(rank), *place)
    });
    let of_note = all.iter().copied();
    let of_note = of_note
        .filter(|place| {
            let required = measures[*place].required;
            is_marked(*place) || (!any_marked && required) || attention(*place) > 0
        })
        .collect();
    Chosen { all, of_note }
}

/// The figures of the measure at `place`.
fn of(measures: &[MeasureJudgement], place: usize) -> Vec<FigureOf> {
    let figure = |part| FigureOf {
        measure: place,
        part,
    };
    match &measures[place].finding {
        MeasureFinding::Value(_)
        | MeasureFinding::Passes(_)
        | MeasureFinding::PassesAt(_)
        | MeasureFinding::Exact(..)
        | MeasureFinding::Rate(_)
        | MeasureFinding::List(_)
        | MeasureFinding::AfterOnly { .. }
        | MeasureFinding::NotTaken { .. } => vec![figure(0)],
        MeasureFinding::ValueAt(values) => values.inside.iter().map(|_| figure(0)).collect(),
        MeasureFinding::ExactAt(exacts) => exacts.meeting.iter().map(|_| figure(0)).collect(),
        MeasureFinding::Smoke { parts, .. } => {
            // What has a limit is what matters; without any, all of it does.
            let has_limit = |part: usize| parts[part].comparison.scale.bounds.is_some();
            let any_limit = (0..parts.len()).any(has_limit);
            let shown = (0..parts.len()).filter(|part| !any_limit || has_limit(*part));
            shown.map(figure).collect()
        }
        MeasureFinding::Text => Vec::new(),
    }
}

/// The figure for the first sentences: what fails, or else what got better, in the order
/// of limits.toml, which starts with what matters.
fn leading(shown: &[usize], measures: &[MeasureJudgement]) -> Option<FigureOf> {
    let mut order = shown.to_vec();
    order.sort_by_key(|place| {
        let found = &measures[*place];
        let rank = if found.required && matches!(found.outcome, Outcome::Fail) {
            0
        } else if matches!(found.change, Some(Change::Improved)) {
            1
        } else {
            2
        };
        (rank, *place)
    });
    order
        .into_iter()
        .flat_map(|place| of(measures, place))
        .next()
}

fn headline(
    verdict: Verdict,
    reasons: &[Reason],
    measures: &[MeasureJudgement],
    fair: bool,
) -> Headline {
    let required = || measures.iter().filter(|measure| measure.required);
    let count = |test: fn(&MeasureJudgement) -> bool| required().filter(|m| test(m)).count();
    let easier = reasons
        .iter()
        .any(|reason| matches!(reason, Reason::ConditionEasier(_) | Reason::NotCold(_)));
    match verdict {
        Verdict::Verified => {
            if count(|m| matches!(m.outcome, Outcome::ConditionalPass)) > 0 {
                Headline::VerifiedConditionally(required().count())
            } else {
                Headline::Verified(required().count())
            }
        }
        Verdict::NotVerified => {
            let outside = count(|m| matches!(m.at_limit, Outcome::Fail));
            let failing = count(|m| matches!(m.outcome, Outcome::Fail));
            match outside {
                0 => Headline::NotImproved(failing),
                _ if outside < failing => Headline::NotShown(failing),
                _ => Headline::NotVerified(failing),
            }
        }
        Verdict::Undecided if easier => Headline::ConditionsEasier,
        Verdict::Undecided if is_harder(reasons) => Headline::ConditionsHarder,
        Verdict::Undecided if !fair => Headline::ConditionsUnknown,
        Verdict::Undecided if got_worse(reasons) => Headline::Worse,
        Verdict::Undecided => Headline::Open,
    }
}

/// That conditions were more severe speaks for what was verified, and only for that.
fn in_short(conditions: &[ConditionJudgement], verdict: Verdict, fair: bool) -> ConditionsInShort {
    if !fair {
        return ConditionsInShort::Nothing;
    }
    let harder: Vec<String> = conditions
        .iter()
        .filter(|condition| matches!(condition.state, ConditionState::Harder))
        .map(|condition| condition.id.clone())
        .collect();
    if !harder.is_empty() {
        match verdict {
            Verdict::Verified => ConditionsInShort::Harder(harder),
            Verdict::NotVerified | Verdict::Undecided => ConditionsInShort::Nothing,
        }
    } else if conditions.iter().any(|condition| condition.required) {
        ConditionsInShort::Matched
    } else {
        ConditionsInShort::Nothing
    }
}

#[cfg(test)]
mod tests {
    use super::super::fixtures::{
        changed, compared, condition, found, planned, scale, with_figure,
    };
    use super::super::smoke::{LightPath, SmokeComparison, SmokePart};
    use super::*;
    use Outcome::{ConditionalPass, Fail, Inconclusive, NoLimit, Pass};

    fn worse() -> Reason {
        Reason::GotWorse {
            measure: "m".into(),
            said: false,
        }
    }

    /// A measure that is inside its limit, and fails for want of improvement.
    fn unimproved() -> MeasureJudgement {
        MeasureJudgement {
            at_limit: Pass,
            ..found(true, Fail)
        }
    }

    #[test]
    fn the_headline_of_a_verdict_that_is_yes() {
        let of = |measures: &[MeasureJudgement]| headline(Verdict::Verified, &[], measures, true);
        let pass = || found(true, Pass);
        assert_eq!(of(&[pass(), pass()]), Headline::Verified(2));
        let narrow = [pass(), found(true, ConditionalPass)];
        assert_eq!(of(&narrow), Headline::VerifiedConditionally(2));
        // What is not required counts for neither.
        let other = [pass(), found(false, ConditionalPass)];
        assert_eq!(of(&other), Headline::Verified(1));
    }

    #[test]
    fn the_headline_of_a_verdict_that_is_no() {
        let of =
            |measures: &[MeasureJudgement]| headline(Verdict::NotVerified, &[], measures, true);
        let fail = || found(true, Fail);
        assert_eq!(of(&[fail(), found(true, Pass)]), Headline::NotVerified(1));
        assert_eq!(of(&[fail(), found(false, Fail)]), Headline::NotVerified(1));
        assert_eq!(of(&[unimproved()]), Headline::NotImproved(1));
        assert_eq!(of(&[unimproved(), fail()]), Headline::NotShown(2));
    }

    #[test]
    fn the_headline_of_an_open_verdict() {
        let of = |reasons: &[Reason], fair| headline(Verdict::Undecided, reasons, &[], fair);
        let (easier, warm) = (
            Reason::ConditionEasier("a".into()),
            Reason::NotCold("a".into()),
        );
        assert_eq!(of(&[worse(), easier], false), Headline::ConditionsEasier);
        assert_eq!(of(&[warm], true), Headline::ConditionsEasier);
        assert_eq!(of(&[worse()], false), Headline::ConditionsUnknown);
        assert_eq!(of(&[worse()], true), Headline::Worse);
        assert_eq!(
            of(&[Reason::Inconclusive("m".into())], true),
            Headline::Open
        );
    }

    #[test]
    fn marked_measures_and_what_needs_attention_are_shown() {
        let of = |measures: &[(bool, bool, Outcome)]| {
            let plan: Vec<Measure> = measures.iter().map(|(front, ..)| planned(*front)).collect();
            let judged = measures.iter().map(|(_, required, o)| found(*required, *o));
            choose(&plan, &judged.collect::<Vec<_>>())
        };
        // Without a mark the required ones; what does not simply pass stands first, the
        // worst of all.
        let none_marked = [
            (false, true, Pass),
            (false, false, Fail),
            (false, true, ConditionalPass),
            (false, true, NoLimit),
            (false, true, Fail),
            (false, true, Inconclusive),
        ];
        let chosen = |all: &[usize], of_note: &[usize]| Chosen {
            all: all.to_vec(),
            of_note: of_note.to_vec(),
        };
        // What fails stands there though it is not required, after the others.
        let order = [4, 5, 2, 0, 3, 1];
        assert_eq!(of(&none_marked), chosen(&order, &order[..5]));
        // What is required comes before what is only marked; the first sentences are about
        // what is marked, and what needs attention.
        let marked = [
            (true, false, Fail),
            (false, true, Pass),
            (false, true, Inconclusive),
            (true, true, Pass),
            (false, false, Fail),
        ];
        assert_eq!(of(&marked), chosen(&[2, 3, 1, 0, 4], &[2, 3, 0]));
    }

    #[test]
    fn what_fails_leads_or_else_what_got_better() {
        let lead = |measures: Vec<MeasureJudgement>| {
            let measures: Vec<_> = measures.into_iter().map(with_figure).collect();
            // Whatever the order in which they are shown.
            let shown: Vec<usize> = (0..measures.len()).rev().collect();
            leading(&shown, &measures).map(|figure| figure.measure)
        };
        let better = |required| changed(required, Pass, Change::Improved);
        let still = || changed(true, Pass, Change::NoDetectable);
        assert_eq!(lead(vec![better(true), found(true, Fail)]), Some(1));
        assert_eq!(lead(vec![still(), better(false), better(true)]), Some(1));
        assert_eq!(lead(vec![found(false, Fail), better(true)]), Some(1));
        assert_eq!(lead(vec![still(), still()]), Some(0));
        assert_eq!(lead(vec![]), None);
        // Words have no figure to lead with.
        let measures = [found(true, Fail), with_figure(still())];
        let led = leading(&[0, 1], &measures).map(|figure| figure.measure);
        assert_eq!(led, Some(1));
    }

    fn smoke(limits: &[Option<f64>]) -> MeasureJudgement {
        let parts = limits.iter().map(|max| SmokeComparison {
            part: SmokePart::Clear,
            path: None,
            comparison: compared(2.0, 1.0, 0.1, &scale(None, None, *max)),
            measured: None,
        });
        MeasureJudgement {
            finding: MeasureFinding::Smoke {
                parts: parts.collect(),
                light_path: LightPath::AsRead,
            },
            ..found(true, Pass)
        }
    }

    #[test]
    fn of_smoke_what_has_a_limit_is_shown() {
        let parts = |limits: &[Option<f64>]| {
            let figures = of(&[smoke(limits)], 0);
            figures.iter().map(|figure| figure.part).collect::<Vec<_>>()
        };
        assert_eq!(parts(&[None, Some(1.0), None]), [1]);
        assert_eq!(parts(&[None, None]), [0, 1]);
        assert_eq!(parts(&[]), [0; 0]);
    }

    #[test]
    fn eight_figures_are_shown_and_the_others_counted() {
        let page = |shown: usize, hidden: usize| {
            let of = |front: bool, count| (0..count).map(move |_| planned(front));
            let plan: Vec<Measure> = of(true, shown).chain(of(false, hidden)).collect();
            let judged: Vec<_> = plan
                .iter()
                .map(|_| with_figure(found(true, Pass)))
                .collect();
            let rule = DecisionRule::FourZone;
            FirstPage::of(&plan, Verdict::Verified, &[], &judged, &[], true, rule)
        };
        let left_off = |shown, hidden| {
            let page = page(shown, hidden);
            (page.figures.len(), page.left_off)
        };
        assert_eq!(left_off(8, 0), (8, None));
        assert_eq!(left_off(9, 0), (8, Some(1)));
        assert_eq!(left_off(2, 6), (8, None));
        assert_eq!(left_off(10, 1), (8, Some(3)));
    }

    #[test]
    fn the_conditions_in_a_sentence() {
        use ConditionState::{Easier, Harder, Matched};
        let all = [
            condition("a", false, Harder),
            condition("b", true, Matched),
            condition("c", true, Harder),
        ];
        let harder = ConditionsInShort::Harder(vec!["a".into(), "c".into()]);
        let yes = Verdict::Verified;
        assert_eq!(in_short(&all, yes, true), harder);
        assert_eq!(in_short(&all, yes, false), ConditionsInShort::Nothing);
        assert_eq!(in_short(&all[1..2], yes, true), ConditionsInShort::Matched);
        let other = [condition("a", false, Easier)];
        assert_eq!(in_short(&other, yes, true), ConditionsInShort::Nothing);
        // More severe conditions are no excuse for what fails.
        for other in [Verdict::NotVerified, Verdict::Undecided] {
            assert_eq!(in_short(&all, other, true), ConditionsInShort::Nothing);
            assert_eq!(
                in_short(&all[1..2], other, true),
                ConditionsInShort::Matched
            );
        }
    }
}
