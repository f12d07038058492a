//! What was found of a measure, by its kind, and what the verdict asks of it.

use super::balance::Balance;
use super::bands::InBands;
use super::change::Step;
use super::comparison::Comparison;
use super::counts::{CountComparison, Interval, PairedCount, Share};
use super::ends::Ends;
use super::ends::Should;
use super::exact::{ExactAlone, ExactPair};
use super::list::ListComparison;
use super::one_run::Alone;
use super::rate::RateComparison;
use super::smoke::{LightPath, SmokeComparison};
use super::zone::{Outcome, Standing};
use crate::job::{Count, ExactScale, ExactScaleAt, Positions, Scale, ScaleAt};
use crate::quantity::Estimate;

/// The comparison, by the kind of the measure.
#[derive(Debug, Clone)]
pub enum MeasureFinding {
    /// One value.
    Value(Box<Comparison>),
    /// One value at each position.
    ValueAt(Box<ValuesAt>),
    /// Passes of attempts.
    Passes(CountComparison),
    /// Passes of attempts at each position.
    PassesAt(PassesAt),
    /// A grade, or an exact count.
    Exact(ExactScale, ExactPair),
    /// The same at each position.
    ExactAt(ExactsAt),
    /// Counted events.
    Rate(Box<RateComparison>),
    /// What the machine has stored.
    List(ListComparison),
    /// Smoke, as far as both runs measured it.
    Smoke {
        /// Its figures.
        parts: Vec<SmokeComparison>,
        /// Over which paths of light the opacity was read.
        light_path: LightPath,
    },
    /// Words; nothing to judge.
    Text,
    /// It was read after the work and not before it: its limit can be judged, a change
    /// cannot. What is read at positions tells so of each of them.
    AfterOnly {
        /// What was read.
        figures: Vec<Alone>,
        /// Whether an improvement is required, which is not shown then.
        improvement: bool,
        /// Why it was not read before, in the words of the job.
        why: String,
    },
    /// It was not read in the retest.
    NotTaken {
        /// Why not, in the words of the job.
        why: String,
    },
}

/// What was found at one position.
#[derive(Debug, Clone)]
pub enum AtPosition<Both, Alone> {
    /// It was read in both runs.
    Compared(Both),
    /// It was read in the retest only.
    AfterOnly {
        /// What was read.
        after: Alone,
        /// Why it was not read before.
        why: String,
    },
    /// It was not read in the retest.
    NotTaken {
        /// What was read before, if it was.
        before: Option<Alone>,
        /// Why not.
        why: String,
    },
}

impl<Both, Alone> AtPosition<Both, Alone> {
    /// The comparison, where it was read in both runs.
    pub fn compared(&self) -> Option<&Both> {
        match self {
            Self::Compared(both) => Some(both),
            Self::AfterOnly { .. } | Self::NotTaken { .. } => None,
        }
    }
}

/// A value of one run that is compared with no other.
#[derive(Debug, Clone)]
pub struct ValueAlone {
    /// The unit and the limits.
    pub scale: Scale,
    /// The ends of what is acceptable in its run, as far as they are known.
    pub ends: Ends,
    /// Its place among the bands of a standard, where the plan names some.
    pub bands: Option<InBands>,
    /// The reading.
    pub found: Estimate,
    /// Its zone at the limit.
    pub standing: Option<Standing>,
    /// What the rule makes of it at its limit.
    pub at_limit: Outcome,
    /// What it makes of it at what it should be besides.
    pub should: Option<Should>,
}

/// A count of one run that is compared with no other.
#[derive(Debug, Clone)]
pub struct CountAlone {
    /// Passes of attempts.
    pub found: Count,
    /// The shares of passes that the count may well come from.
    pub interval: Interval,
    /// Whether they are enough.
    pub at_limit: Outcome,
}

/// One value at each position.
#[derive(Debug, Clone)]
pub struct ValuesAt {
    /// Where, with the unit and the limits.
    pub scales: Box<ScaleAt>,
    /// The positions, in the order of their set.
    pub each: Vec<AtPosition<Comparison, ValueAlone>>,
    /// How they compare with each other before the work, and after it; none where they have
    /// limits of their own, and so are not meant to be alike, or where a run has none.
    pub balance: Option<[Balance; 2]>,
    /// How many lie inside the bounds; none without bounds.
    pub inside: Option<Share>,
    /// The place in the set of the position with the most uncertain change, which represents
    /// all in the uncertainty budgets.
    pub least_known: usize,
}

/// Passes of attempts at each position.
#[derive(Debug, Clone)]
pub struct PassesAt {
    /// Where.
    pub at: Positions,
    /// The least number of passes of each.
    pub min: Option<u32>,
    /// The positions, in the order of their set.
    pub each: Vec<AtPosition<CountComparison, CountAlone>>,
    /// Each paired with itself, of those that were counted in both runs.
    pub paired: Option<PairedCount>,
    /// How many passed often enough.
    pub passing: Share,
}

/// One exact reading at each position.
#[derive(Debug, Clone)]
pub struct ExactsAt {
    /// Where, and how they are compared.
    pub scales: ExactScaleAt,
    /// The positions, in the order of their set.
    pub each: Vec<AtPosition<ExactPair, ExactAlone>>,
    /// How many are better and how many worse, with the sign test; none where no direction
    /// is better.
    pub signs: Option<PairedCount>,
    /// How many meet their limit; none without a limit.
    pub meeting: Option<Share>,
}

/// What was not read, and leaves a measure open.
#[derive(Debug, Clone)]
pub struct Unread<'a> {
    /// The names of the positions; none where it is the whole measure.
    pub positions: Vec<&'a str>,
    /// Why not, of several the first.
    pub why: &'a str,
}

impl MeasureFinding {
    /// Every value before and after that it holds; none of counts and words.
    pub fn comparisons(&self) -> impl Iterator<Item = &Comparison> {
        let (one, values, smoke): (_, &[AtPosition<_, _>], &[SmokeComparison]) = match self {
            MeasureFinding::Value(comparison) => (Some(&**comparison), &[], &[]),
            MeasureFinding::ValueAt(values) => (None, &values.each, &[]),
            MeasureFinding::Smoke { parts, .. } => (None, &[], parts),
            MeasureFinding::Passes(_)
            | MeasureFinding::PassesAt(_)
            | MeasureFinding::Exact(..)
            | MeasureFinding::ExactAt(_)
            | MeasureFinding::Rate(_)
            | MeasureFinding::List(_)
            | MeasureFinding::Text
            | MeasureFinding::AfterOnly { .. }
            | MeasureFinding::NotTaken { .. } => (None, &[], &[]),
        };
        one.into_iter()
            .chain(values.iter().filter_map(AtPosition::compared))
            .chain(smoke.iter().map(|part| &part.comparison))
    }

    /// Every value that was read in the retest only.
    fn after_only(&self) -> impl Iterator<Item = &ValueAlone> {
        let (figures, values): (&[Alone], &[AtPosition<_, _>]) = match self {
            MeasureFinding::AfterOnly { figures, .. } => (figures, &[]),
            MeasureFinding::ValueAt(values) => (&[], &values.each),
            MeasureFinding::Value(_)
            | MeasureFinding::Smoke { .. }
            | MeasureFinding::Passes(_)
            | MeasureFinding::PassesAt(_)
            | MeasureFinding::Exact(..)
            | MeasureFinding::ExactAt(_)
            | MeasureFinding::Rate(_)
            | MeasureFinding::List(_)
            | MeasureFinding::Text
            | MeasureFinding::NotTaken { .. } => (&[], &[]),
        };
        let at_positions = values.iter().filter_map(|found| match found {
            AtPosition::AfterOnly { after, .. } => Some(after),
            AtPosition::Compared(_) | AtPosition::NotTaken { .. } => None,
        });
        figures.iter().filter_map(Alone::value).chain(at_positions)
    }

    /// Every count before and after that it holds.
    pub fn counts(&self) -> impl Iterator<Item = &CountComparison> {
        let (one, several): (_, &[AtPosition<_, _>]) = match self {
            MeasureFinding::Passes(count) => (Some(count), &[]),
            MeasureFinding::PassesAt(counts) => (None, &counts.each),
            MeasureFinding::Value(_)
            | MeasureFinding::ValueAt(_)
            | MeasureFinding::Exact(..)
            | MeasureFinding::ExactAt(_)
            | MeasureFinding::Rate(_)
            | MeasureFinding::List(_)
            | MeasureFinding::Smoke { .. }
            | MeasureFinding::Text
            | MeasureFinding::AfterOnly { .. }
            | MeasureFinding::NotTaken { .. } => (None, &[]),
        };
        one.into_iter()
            .chain(several.iter().filter_map(AtPosition::compared))
    }

    /// Whether a figure is inconclusive at its limits because they are closer together than
    /// twice its uncertainty.
    pub(super) fn is_too_coarse(&self) -> bool {
        let coarse = |outcome: Outcome, standing: Option<Standing>| {
            matches!(outcome, Outcome::Inconclusive)
                && standing.is_some_and(|standing| standing.too_coarse)
        };
        let alone = |after: &ValueAlone| coarse(after.at_limit, after.standing);
        self.comparisons()
            .any(|found| coarse(found.at_limit, found.after))
            || self.after_only().any(alone)
    }

    /// What the rule makes of the retest at what it should be besides: the worst of all.
    pub(super) fn should(&self) -> Outcome {
        let alone = self.after_only().map(|after| outcome_of(after.should));
        let compared = self.comparisons().map(|found| outcome_of(found.should));
        Outcome::worst(alone.chain(compared))
    }

    /// Whether something was read in the retest that was not read before.
    pub(super) fn lacks_a_baseline(&self) -> bool {
        fn any<B, A>(each: &[AtPosition<B, A>]) -> bool {
            each.iter()
                .any(|found| matches!(found, AtPosition::AfterOnly { .. }))
        }
        match self {
            MeasureFinding::AfterOnly { .. } => true,
            MeasureFinding::ValueAt(values) => any(&values.each),
            MeasureFinding::PassesAt(counts) => any(&counts.each),
            MeasureFinding::ExactAt(exacts) => any(&exacts.each),
            MeasureFinding::Value(_)
            | MeasureFinding::Passes(_)
            | MeasureFinding::Exact(..)
            | MeasureFinding::Rate(_)
            | MeasureFinding::List(_)
            | MeasureFinding::Smoke { .. }
            | MeasureFinding::Text
            | MeasureFinding::NotTaken { .. } => false,
        }
    }

    /// Whether a position that was read is inconclusive at its limit.
    pub(super) fn has_an_open_position(&self) -> bool {
        let open = |outcome: Outcome| matches!(outcome, Outcome::Inconclusive);
        match self {
            MeasureFinding::ValueAt(values) => values.each.iter().any(|found| match found {
                AtPosition::Compared(found) => open(found.at_limit),
                AtPosition::AfterOnly { after, .. } => open(after.at_limit),
                AtPosition::NotTaken { .. } => false,
            }),
            MeasureFinding::Value(_)
            | MeasureFinding::Passes(_)
            | MeasureFinding::PassesAt(_)
            | MeasureFinding::Exact(..)
            | MeasureFinding::ExactAt(_)
            | MeasureFinding::Rate(_)
            | MeasureFinding::List(_)
            | MeasureFinding::Smoke { .. }
            | MeasureFinding::Text
            | MeasureFinding::AfterOnly { .. }
            | MeasureFinding::NotTaken { .. } => false,
        }
    }

    /// Whether a required improvement would be reached, but for the machine's own variation.
    pub(super) fn is_undone(&self) -> bool {
        let open = |found: &&Comparison| matches!(found.outcome, Outcome::Inconclusive);
        let mut open = self.comparisons().filter(open).peekable();
        let undone = |found: &Comparison| found.gain.as_ref().is_some_and(|gain| gain.undone);
        !self.lacks_a_baseline() && open.peek().is_some() && open.all(undone)
    }

    /// The names of the positions that were read exactly and are worse than before, where
    /// all together are not.
    pub(super) fn worse_positions(&self) -> Vec<&str> {
        match self {
            MeasureFinding::ExactAt(exacts) => exacts.worse(),
            MeasureFinding::Value(_)
            | MeasureFinding::ValueAt(_)
            | MeasureFinding::Passes(_)
            | MeasureFinding::PassesAt(_)
            | MeasureFinding::Exact(..)
            | MeasureFinding::Rate(_)
            | MeasureFinding::List(_)
            | MeasureFinding::Smoke { .. }
            | MeasureFinding::Text
            | MeasureFinding::AfterOnly { .. }
            | MeasureFinding::NotTaken { .. } => Vec::new(),
        }
    }

    /// Whether the two runs made different numbers of attempts.
    pub(super) fn attempts_differ(&self) -> bool {
        self.counts().any(|count| count.attempts().is_none())
    }

    /// What was not read, and leaves the measure open.
    pub(super) fn unread(&self) -> Option<Unread<'_>> {
        match self {
            MeasureFinding::NotTaken { why } => Some(Unread {
                positions: Vec::new(),
                why,
            }),
            MeasureFinding::ValueAt(values) => {
                unread_at(&values.scales.at, &values.each, |place| {
                    values.scales.scale(place).has_limit()
                })
            }
            MeasureFinding::PassesAt(counts) => {
                unread_at(&counts.at, &counts.each, |_| counts.min.is_some())
            }
            MeasureFinding::ExactAt(exacts) => {
                unread_at(&exacts.scales.at, &exacts.each, |place| {
                    exacts.scales.scale(place).has_limit()
                })
            }
            MeasureFinding::Value(_)
            | MeasureFinding::Passes(_)
            | MeasureFinding::Exact(..)
            | MeasureFinding::Rate(_)
            | MeasureFinding::List(_)
            | MeasureFinding::Smoke { .. }
            | MeasureFinding::Text
            | MeasureFinding::AfterOnly { .. } => None,
        }
    }

    /// The names of the positions that fail; none where there are no positions.
    pub(super) fn failing_positions(&self) -> Vec<&str> {
        let (at, outcomes) = match self {
            MeasureFinding::ValueAt(values) => (&values.scales.at, values.outcomes()),
            MeasureFinding::PassesAt(counts) => (&counts.at, counts.outcomes()),
            MeasureFinding::ExactAt(exacts) => (&exacts.scales.at, exacts.outcomes()),
            MeasureFinding::Value(_)
            | MeasureFinding::Passes(_)
            | MeasureFinding::Exact(..)
            | MeasureFinding::Rate(_)
            | MeasureFinding::List(_)
            | MeasureFinding::Smoke { .. }
            | MeasureFinding::Text
            | MeasureFinding::AfterOnly { .. }
            | MeasureFinding::NotTaken { .. } => return Vec::new(),
        };
        let each = at.names.iter().zip(outcomes);
        let failing = each.filter(|(_, found)| matches!(found.whole, Outcome::Fail));
        failing.map(|(name, _)| name.as_str()).collect()
    }
}

fn outcome_of(should: Option<Should>) -> Outcome {
    should.map_or(Outcome::NoLimit, |found| found.outcome)
}

/// Of the positions that have a limit.
fn unread_at<'a, B, A>(
    at: &'a Positions,
    each: &'a [AtPosition<B, A>],
    has_limit: impl Fn(usize) -> bool,
) -> Option<Unread<'a>> {
    let each = each.iter().enumerate();
    let missing: Vec<(&str, &str)> = each
        .filter(|(place, _)| has_limit(*place))
        .filter_map(|(place, found)| match found {
            AtPosition::NotTaken { why, .. } => Some((at.name(place), why.as_str())),
            AtPosition::Compared(_) | AtPosition::AfterOnly { .. } => None,
        })
        .collect();
    Some(Unread {
        why: missing.first()?.1,
        positions: missing.into_iter().map(|(name, _)| name).collect(),
    })
}

impl ExactsAt {
    /// The names of the positions that are worse than before.
    pub(super) fn worse(&self) -> Vec<&str> {
        let each = self.scales.at.names.iter().zip(&self.each);
        let worse = each.filter(|(_, found)| {
            let step = found.compared().and_then(|pair| pair.step);
            matches!(step, Some(Step::Worse))
        });
        worse.map(|(name, _)| name.as_str()).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::super::comparison::{Terms, compare};
    use super::super::dependence::Dependence;
    use super::super::ends::InRun;
    use super::super::fixtures::{compared, reading, scale};
    use super::super::smoke::SmokePart;
    use super::*;
    use crate::job::{Better, DecisionRule, Improvement};
    use crate::quantity::{Quantity, Unit};

    fn several(all: Vec<Comparison>) -> MeasureFinding {
        let part = |comparison| SmokeComparison {
            part: SmokePart::Clear,
            path: None,
            comparison,
            measured: None,
        };
        MeasureFinding::Smoke {
            parts: all.into_iter().map(part).collect(),
            light_path: LightPath::AsRead,
        }
    }

    /// Between 9.9 and 10.1: U = 0.98 is too coarse for the band, U = 0.02 is not.
    #[test]
    fn one_figure_that_is_too_coarse_is_enough() {
        let band = scale(Some(Better::Inside), Some(9.9), Some(10.1));
        let coarse = || compared(12.0, 10.3, 0.5, &band);
        let fine = || compared(12.0, 10.11, 0.01, &band);
        let inside = || compared(12.0, 10.0, 0.01, &band);
        assert!(several(vec![coarse()]).is_too_coarse());
        assert!(several(vec![fine(), coarse(), inside()]).is_too_coarse());
        assert!(!several(vec![fine(), inside()]).is_too_coarse());
        // Too coarse, and plainly outside all the same.
        let out = compared(12.0, 14.0, 0.5, &band);
        assert!(!several(vec![out, fine()]).is_too_coarse());
    }

    /// The same of what was read in the retest only, by itself or at one position of several.
    #[test]
    fn what_was_read_in_the_retest_only_can_be_too_coarse() {
        let band = scale(Some(Better::Inside), Some(9.9), Some(10.1));
        let after = |value: f64, u: f64| {
            ValueAlone::of(
                reading(value, u),
                &InRun::fixed(&band),
                DecisionRule::FourZone,
            )
        };
        let alone = |figure| MeasureFinding::AfterOnly {
            figures: vec![Alone::Value(figure)],
            improvement: false,
            why: "Not there yet".into(),
        };
        assert!(alone(after(10.3, 0.5)).is_too_coarse());
        assert!(!alone(after(10.11, 0.01)).is_too_coarse());
        let at_two = |figure| {
            MeasureFinding::ValueAt(Box::new(ValuesAt {
                scales: Box::new(ScaleAt {
                    at: Positions::cylinders(2),
                    common: band.clone(),
                    own: Vec::new(),
                }),
                each: vec![
                    AtPosition::Compared(compared(12.0, 10.0, 0.01, &band)),
                    AtPosition::AfterOnly {
                        after: figure,
                        why: "Not there yet".into(),
                    },
                ],
                balance: None,
                inside: None,
                least_known: 0,
            }))
        };
        assert!(at_two(after(10.3, 0.5)).is_too_coarse());
        assert!(!at_two(after(10.11, 0.01)).is_too_coarse());
    }

    /// U = 0.139 in the change: a gain of 0.15 is more than what is asked and than U, and
    /// less than √2 · U; one of 0.1 is no change. Only the first is undone by a variation.
    #[test]
    fn undone_is_what_nothing_else_holds_back() {
        let mut lower = scale(Some(Better::Lower), None, None);
        let unit = Unit::named("s").unwrap();
        lower.improvement = Quantity::new(0.001, unit).ok().map(Improvement::By);
        let of = |gain: f64| {
            let terms = Terms {
                rule: DecisionRule::FourZone,
                fair: true,
                variation_known: false,
            };
            let (before, after) = (reading(10.0, 0.05), reading(10.0 - gain, 0.05));
            compare(before, after, Dependence::default(), &lower, terms)
        };
        assert!(several(vec![of(0.15)]).is_undone());
        assert!(several(vec![of(0.15), of(3.0)]).is_undone());
        assert!(!several(vec![of(0.15), of(0.1)]).is_undone());
        assert!(!several(vec![of(3.0)]).is_undone());
    }
}
