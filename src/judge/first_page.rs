//! What is on the customer's page: which figures, in which order, which of them leads,
//! under which headline; what would settle an undecided verdict; what is left off.

use super::change::Change;
use super::conditions::{ConditionJudgement, ConditionState};
use super::measures::{Finding, MeasureJudgement};
use super::verdict::{Reason, Verdict};
use super::zone::Outcome;
use crate::job::Measure;

/// The most figures on the customer's page.
const FIGURES: usize = 5;

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
    /// The measures, by their places, of which the page says what they cannot tell.
    pub told_of: Vec<usize>,
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
    VerifiedNarrowly(usize),
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
    /// Undecided: something required got worse.
    Worse,
    /// Undecided: the readings are inconclusive.
    Open,
}

/// What would settle an undecided verdict.
#[derive(Debug, Clone, Copy)]
#[cfg_attr(test, derive(PartialEq, Eq))]
pub enum Settles {
    /// A retest under like conditions.
    Conditions,
    /// Where something got worse, no better instrument changes that.
    Worse,
    /// A more accurate measurement.
    Measurement,
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
    ) -> Self {
        let [shown, behind] = choose(planned, measures);
        let figures: Vec<FigureOf> = shown
            .iter()
            .flat_map(|place| of(measures, *place))
            .collect();
        let hidden = behind.iter().flat_map(|place| of(measures, *place)).count();
        Self {
            headline: headline(verdict, reasons, measures, fair),
            left_off: Some(figures.len().saturating_sub(FIGURES) + hidden).filter(|more| *more > 0),
            figures: figures.into_iter().take(FIGURES).collect(),
            leading: leading(&shown, measures),
            conditions: in_short(conditions, fair),
            settles: settles(verdict, reasons, fair),
            told_of: shown,
        }
    }
}

/// The measures for the page: those marked `front`, or else the required ones; and
/// whatever required measure does not simply pass. What needs attention comes first. And
/// the required measures that are not for the page.
fn choose(planned: &[Measure], measures: &[MeasureJudgement]) -> [Vec<usize>; 2] {
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
    let (mut shown, behind): (Vec<usize>, Vec<usize>) = (0..measures.len())
        .filter(|place| is_marked(*place) || measures[*place].required)
        .partition(|place| is_marked(*place) || !any_marked || attention(*place) > 0);
    shown.sort_by_key(|place| std::cmp::Reverse(attention(*place)));
    [shown, behind]
}

/// The figures of the measure at `place`.
fn of(measures: &[MeasureJudgement], place: usize) -> Vec<FigureOf> {
    let figure = |part| FigureOf {
        measure: place,
        part,
    };
    match &measures[place].finding {
        Finding::Value(_)
        | Finding::Passes(_)
        | Finding::CylinderPasses { .. }
        | Finding::NotTaken { .. } => vec![figure(0)],
        Finding::Cylinders { inside, .. } => inside.iter().map(|_| figure(0)).collect(),
        Finding::Smoke { parts, .. } => {
            // What has a limit is what matters; without any, all of it does.
            let has_limit = |part: usize| parts[part].comparison.scale.bounds.is_some();
            let any_limit = (0..parts.len()).any(has_limit);
            let shown = (0..parts.len()).filter(|part| !any_limit || has_limit(*part));
            shown.map(figure).collect()
        }
        Finding::Text => Vec::new(),
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
        .any(|reason| matches!(reason, Reason::Easier(_) | Reason::NotCold(_)));
    match verdict {
        Verdict::Verified => {
            if count(|m| matches!(m.outcome, Outcome::PassWithReservation)) > 0 {
                Headline::VerifiedNarrowly(required().count())
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
        Verdict::Undecided if !fair => Headline::ConditionsUnknown,
        Verdict::Undecided if got_worse(reasons) => Headline::Worse,
        Verdict::Undecided => Headline::Open,
    }
}

/// What would settle an undecided verdict. Where no test was required, or one was not
/// read, no better measurement settles anything.
fn settles(verdict: Verdict, reasons: &[Reason], fair: bool) -> Option<Settles> {
    let nothing_read = reasons
        .iter()
        .any(|reason| matches!(reason, Reason::NothingRequired | Reason::NotTaken { .. }));
    match verdict {
        Verdict::Verified | Verdict::NotVerified => None,
        Verdict::Undecided if nothing_read => None,
        Verdict::Undecided if !fair => Some(Settles::Conditions),
        Verdict::Undecided if got_worse(reasons) => Some(Settles::Worse),
        Verdict::Undecided => Some(Settles::Measurement),
    }
}

/// Whether something required got worse.
fn got_worse(reasons: &[Reason]) -> bool {
    reasons
        .iter()
        .any(|reason| matches!(reason, Reason::GotWorse { .. }))
}

fn in_short(conditions: &[ConditionJudgement], fair: bool) -> ConditionsInShort {
    if !fair {
        return ConditionsInShort::Nothing;
    }
    let harder: Vec<String> = conditions
        .iter()
        .filter(|condition| matches!(condition.state, ConditionState::Harder))
        .map(|condition| condition.id.clone())
        .collect();
    if !harder.is_empty() {
        ConditionsInShort::Harder(harder)
    } else if conditions.iter().any(|condition| condition.required) {
        ConditionsInShort::Matched
    } else {
        ConditionsInShort::Nothing
    }
}
