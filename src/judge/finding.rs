//! What was found of a measure, by its kind, and what the verdict asks of it.

use super::balance::Balance;
use super::comparison::Comparison;
use super::counts::{CountComparison, PairedCount, Share};
use super::smoke::{LightPath, SmokeComparison};
use super::zone::Outcome;
use crate::job::{Scale, Stage};

/// The comparison, by the kind of the measure.
#[derive(Debug, Clone)]
pub enum MeasureFinding {
    /// One value.
    Value(Box<Comparison>),
    /// One value for each cylinder, from cylinder 1 on.
    Cylinders {
        /// The unit and the limits of all.
        scale: Scale,
        /// The cylinders.
        cylinders: Vec<Comparison>,
        /// How they compare with each other before the work, and after it.
        balance: [Balance; 2],
        /// How many lie inside the bounds; none without bounds.
        inside: Option<Share>,
        /// The number of the cylinder with the most uncertain change, which represents all in
        /// the uncertainty budgets.
        least_known: usize,
    },
    /// Passes of attempts.
    Passes(CountComparison),
    /// Passes of attempts for each cylinder, from cylinder 1 on.
    CylinderPasses {
        /// The least number of passes of each.
        min: Option<u32>,
        /// The cylinders.
        cylinders: Vec<CountComparison>,
        /// Each paired with itself.
        paired: PairedCount,
        /// How many passed often enough.
        passing: Share,
    },
    /// Smoke, as far as both runs measured it.
    Smoke {
        /// Its figures.
        parts: Vec<SmokeComparison>,
        /// Over which paths of light the opacity was read.
        light_path: LightPath,
    },
    /// Words; nothing to judge.
    Text,
    /// It was not read in one of the runs.
    NotTaken {
        /// In which: the baseline, or the retest.
        run: Stage,
        /// Why not, in the words of the job.
        why: String,
    },
}

impl MeasureFinding {
    /// Every value before and after that it holds; none of counts and words.
    pub fn comparisons(&self) -> impl Iterator<Item = &Comparison> {
        let (one, cylinders, smoke): (_, &[Comparison], &[SmokeComparison]) = match self {
            MeasureFinding::Value(comparison) => (Some(&**comparison), &[], &[]),
            MeasureFinding::Cylinders { cylinders, .. } => (None, cylinders, &[]),
            MeasureFinding::Smoke { parts, .. } => (None, &[], parts),
            MeasureFinding::Passes(_)
            | MeasureFinding::CylinderPasses { .. }
            | MeasureFinding::Text
            | MeasureFinding::NotTaken { .. } => (None, &[], &[]),
        };
        one.into_iter()
            .chain(cylinders)
            .chain(smoke.iter().map(|part| &part.comparison))
    }

    /// Whether a figure is inconclusive at its limits because they are closer together than
    /// twice its uncertainty.
    pub(super) fn is_too_coarse(&self) -> bool {
        self.comparisons().any(|found| {
            matches!(found.at_limit, Outcome::Inconclusive)
                && found.after.is_some_and(|standing| standing.too_coarse)
        })
    }

    /// Whether a required improvement would be reached, but for the machine's own variation.
    pub(super) fn is_undone(&self) -> bool {
        let open = |found: &&Comparison| matches!(found.outcome, Outcome::Inconclusive);
        let mut open = self.comparisons().filter(open).peekable();
        let undone = |found: &Comparison| found.gain.as_ref().is_some_and(|gain| gain.undone);
        open.peek().is_some() && open.all(undone)
    }

    /// Whether the two runs made different numbers of attempts.
    pub(super) fn attempts_differ(&self) -> bool {
        let counts: &[CountComparison] = match self {
            MeasureFinding::Passes(count) => std::slice::from_ref(count),
            MeasureFinding::CylinderPasses { cylinders, .. } => cylinders,
            MeasureFinding::Value(_)
            | MeasureFinding::Cylinders { .. }
            | MeasureFinding::Smoke { .. }
            | MeasureFinding::Text
            | MeasureFinding::NotTaken { .. } => &[],
        };
        counts.iter().any(|count| count.attempts().is_none())
    }

    /// The numbers of the cylinders that fail; none where there are no cylinders.
    pub(super) fn failing_cylinders(&self) -> Vec<usize> {
        let outcomes: Vec<Outcome> = match self {
            MeasureFinding::Cylinders { cylinders, .. } => {
                cylinders.iter().map(|c| c.outcome).collect()
            }
            MeasureFinding::CylinderPasses { cylinders, .. } => {
                cylinders.iter().map(|c| c.outcome).collect()
            }
            MeasureFinding::Value(_)
            | MeasureFinding::Passes(_)
            | MeasureFinding::Smoke { .. }
            | MeasureFinding::Text
            | MeasureFinding::NotTaken { .. } => Vec::new(),
        };
        (1..)
            .zip(outcomes)
            .filter(|(_, outcome)| matches!(outcome, Outcome::Fail))
            .map(|(number, _)| number)
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::super::comparison::{Terms, compare};
    use super::super::dependence::Dependence;
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
