//! One run of a measure by itself: what was read, and whether it meets its limit. So is a
//! baseline before there is any retest, and a retest that has no baseline.

use super::ends::InRun;
use super::exact::{self, ExactAlone};
use super::finding::{CountAlone, ValueAlone};
use super::known::Known;
use super::limits_in_run::{LimitsInRun, scales_in_run};
use super::list;
use super::points::held;
use super::rate::{self, RateFigure};
use super::smoke::{SmokePart, smoke_before};
use super::uncertainty::{Errors, estimate};
use super::worked_out::{Runs, Worked};
use super::zone::{Outcome, Zone};
use crate::job::{
    DecisionRule, Entry, ExactScale, ExactScaleAt, Kind, ListItem, Measure, Observation, Plan,
    Positions, RateScale, Reading, Run, Scale, ScaleAt,
};
use crate::quantity::{Estimate, Quantity};

/// What was read of a measure in one run.
#[derive(Debug, Clone)]
pub enum RunFigure {
    /// One figure.
    Alone(Alone),
    /// One value at each position.
    ValueAt(ScaleAt, Vec<Entry<ValueAlone>>),
    /// Passes of attempts at each position, of which so many must pass.
    PassesAt(Positions, Option<u32>, Vec<Entry<CountAlone>>),
    /// A grade, or an exact count, at each position.
    ExactAt(ExactScaleAt, Vec<Entry<ExactAlone>>),
}

/// One figure of one run.
#[derive(Debug, Clone)]
pub enum Alone {
    /// One value.
    Value(ValueAlone),
    /// Passes of attempts.
    Passes(CountAlone),
    /// A grade, or an exact count.
    Exact(ExactScale, ExactAlone),
    /// A rate of counted events, with its zone at the limit and its outcome.
    Rate(RateScale, RateFigure, Option<Zone>, Outcome),
    /// What the machine has stored, with its outcome.
    List(Vec<ListItem>, Outcome),
    /// A figure of smoke, and the path of light over which its limit holds.
    Smoke(SmokePart, Option<Quantity>, ValueAlone),
}

impl RunFigure {
    /// The outcome at the limit, of several positions the worst. A position with a limit that
    /// was not taken leaves it open.
    pub(super) fn at_limit(&self) -> Outcome {
        fn worst<T>(
            each: &[Entry<T>],
            of: impl Fn(&T) -> Outcome,
            has_limit: impl Fn(usize) -> bool,
        ) -> Outcome {
            let each = each.iter().enumerate();
            Outcome::worst(each.map(|(place, entry)| match entry {
                Entry::Taken(one) => of(one),
                Entry::NotTaken(_) if has_limit(place) => Outcome::Inconclusive,
                Entry::NotTaken(_) => Outcome::NoLimit,
            }))
        }
        match self {
            Self::Alone(alone) => alone.at_limit(),
            Self::ValueAt(scales, each) => worst(
                each,
                |one| one.at_limit,
                |place| scales.scale(place).is_bounded(),
            ),
            Self::PassesAt(_, min, each) => worst(each, |one| one.at_limit, |_| min.is_some()),
            Self::ExactAt(scales, each) => worst(
                each,
                |one| one.at_limit,
                |place| scales.scale(place).has_limit(),
            ),
        }
    }

    /// The figure, where it is one and not several positions.
    pub(super) fn alone(self) -> Option<Alone> {
        match self {
            Self::Alone(alone) => Some(alone),
            Self::ValueAt(..) | Self::PassesAt(..) | Self::ExactAt(..) => None,
        }
    }
}

impl Alone {
    /// The value, where it is one.
    pub(super) fn value(&self) -> Option<&ValueAlone> {
        match self {
            Self::Value(value) | Self::Smoke(_, _, value) => Some(value),
            Self::Passes(_) | Self::Exact(..) | Self::Rate(..) | Self::List(..) => None,
        }
    }

    /// The outcome at the limit.
    pub(super) fn at_limit(&self) -> Outcome {
        match self {
            Self::Value(value) | Self::Smoke(_, _, value) => value.at_limit,
            Self::Passes(count) => count.at_limit,
            Self::Exact(_, exact) => exact.at_limit,
            Self::Rate(.., outcome) | Self::List(_, outcome) => *outcome,
        }
    }
}

/// What was read of `measure` in the baseline `run`, or worked out. Words have no figure.
pub fn figures(plan: &Plan, measure: &Measure, run: &Run) -> Vec<RunFigure> {
    let rule = plan.limits.rule;
    let runs = Runs {
        plan,
        runs: [Some(run), None],
    };
    let limits = runs.limits(measure, 0);
    if let Some(formula) = &measure.worked_out {
        let worked = runs.work_out(measure, formula, 0);
        return worked.and_then(Worked::somewhere).map_or_else(
            |_| Vec::new(),
            |worked| of_worked(measure, worked, &limits, rule),
        );
    }
    let Some(reading) = run.readings.get(&measure.id) else {
        return Vec::new();
    };
    let known = Known::of(measure, [Some(reading), None], &plan.instruments);
    let errors = known.errors_in(0, reading);
    of_reading(measure, reading, &known, errors, &limits, rule)
}

/// A figure that was worked out.
pub fn of_worked(
    measure: &Measure,
    worked: Worked,
    limits: &LimitsInRun,
    rule: DecisionRule,
) -> Vec<RunFigure> {
    match (&measure.kind, worked) {
        (Kind::Value(scale), Worked::One(found)) => vec![value(found, scale, limits, rule)],
        (Kind::ValueAt(scales), Worked::Each(all)) => vec![values(scales, all, limits, rule)],
        (_, Worked::One(_) | Worked::Each(_)) => Vec::new(),
    }
}

/// The figure `found` at its limits in this run, at the position `place`. Where these are not
/// known, it is open.
fn at(
    place: usize,
    found: Estimate,
    scale: &Scale,
    limits: &LimitsInRun,
    rule: DecisionRule,
) -> ValueAlone {
    match limits.get(place) {
        Some(Ok(in_run)) => ValueAlone::of(found, in_run, rule),
        Some(Err(_)) | None => ValueAlone::open(found, scale, rule),
    }
}

fn value(found: Estimate, scale: &Scale, limits: &LimitsInRun, rule: DecisionRule) -> RunFigure {
    RunFigure::Alone(Alone::Value(at(0, found, scale, limits, rule)))
}

fn values(
    scales: &ScaleAt,
    all: Vec<Entry<Estimate>>,
    limits: &LimitsInRun,
    rule: DecisionRule,
) -> RunFigure {
    let each = all
        .into_iter()
        .enumerate()
        .map(|(place, entry)| match entry {
            Entry::Taken(found) => {
                Entry::Taken(at(place, found, &scales.scale(place), limits, rule))
            }
            Entry::NotTaken(why) => Entry::NotTaken(why),
        });
    RunFigure::ValueAt(scales_in_run(scales, limits), each.collect())
}

/// A figure that was read, where it is known what is known of its `errors`.
pub fn of_reading(
    measure: &Measure,
    reading: &Reading,
    known: &Known<'_>,
    errors: Errors<'_>,
    limits: &LimitsInRun,
    rule: DecisionRule,
) -> Vec<RunFigure> {
    use Observation as O;
    match (&measure.kind, &reading.observation) {
        (Kind::Value(scale), O::Value(read)) => {
            vec![value(estimate(read, errors), scale, limits, rule)]
        }
        (Kind::ValueAt(scales), O::ValueAt(read)) => {
            let all = read.iter().zip(held(&scales.at, read));
            let all = all.map(|(entry, setting)| {
                let errors = Errors { setting, ..errors };
                entry.map(|values| estimate(values, errors))
            });
            vec![values(scales, all.collect(), limits, rule)]
        }
        (Kind::Passes { min }, O::Passes(count)) => {
            vec![RunFigure::Alone(Alone::Passes(CountAlone::of(
                *count, *min,
            )))]
        }
        (Kind::PassesAt { at, min }, O::PassesAt(counts)) => {
            let all = counts.iter();
            let all = all.map(|entry| entry.map(|count| CountAlone::of(*count, *min)));
            vec![RunFigure::PassesAt(at.clone(), *min, all.collect())]
        }
        (Kind::Exact(scale), O::Exact(read)) => {
            let found = exact::alone(scale, *read);
            vec![RunFigure::Alone(Alone::Exact(scale.clone(), found))]
        }
        (Kind::ExactAt(scales), O::ExactAt(read)) => {
            let all = read.iter().enumerate();
            let all =
                all.map(|(place, entry)| entry.map(|one| exact::alone(scales.scale(place), *one)));
            vec![RunFigure::ExactAt(scales.clone(), all.collect())]
        }
        (Kind::Rate(scale), O::Rate(counted)) => {
            let figure = rate::figure(scale, *counted);
            let (zone, outcome) = rate::at_limit(&figure, scale, rule);
            vec![RunFigure::Alone(Alone::Rate(*scale, figure, zone, outcome))]
        }
        (Kind::List(limits), O::List(items)) => {
            let outcome = list::at_limit(limits, items);
            vec![RunFigure::Alone(Alone::List(items.clone(), outcome))]
        }
        (Kind::Smoke(smoke_limits), O::Smoke(smoke)) => {
            smoke_before(known, reading, smoke, smoke_limits)
                .into_iter()
                .map(|(part, path, scale, found)| {
                    let found = ValueAlone::of(found, &InRun::fixed(&scale), rule);
                    RunFigure::Alone(Alone::Smoke(part, path, found))
                })
                .collect()
        }
        // Words are never judged; each kind and each observation is named, so that the
        // compiler asks for the figures of a new one. Intake refuses any other pair.
        (
            Kind::Value(_)
            | Kind::ValueAt(_)
            | Kind::Passes { .. }
            | Kind::PassesAt { .. }
            | Kind::Exact(_)
            | Kind::ExactAt(_)
            | Kind::Rate(_)
            | Kind::List(_)
            | Kind::Smoke(_)
            | Kind::Text,
            O::Value(_)
            | O::ValueAt(_)
            | O::Passes(_)
            | O::PassesAt(_)
            | O::Exact(_)
            | O::ExactAt(_)
            | O::Rate(_)
            | O::List(_)
            | O::Smoke(_)
            | O::Text(_)
            | O::NotTaken(_),
        ) => Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::super::fixtures::{reading, scale};
    use super::*;
    use crate::job::{Better, Count, OwnLimits};

    /// A baseline in which one of two positions was not taken, and the other meets its limit:
    /// open, where the one that is missing has a limit, and met where it has none.
    #[test]
    fn a_position_that_was_not_taken_leaves_its_limit_open() {
        let missing = || "Seized".to_owned();
        let limited = scale(Some(Better::Lower), None, Some(5.0));
        let values = |second: Option<f64>| {
            let free = scale(Some(Better::Lower), None, None);
            let own = [Some(5.0), second].map(|max| {
                Some(OwnLimits {
                    bounds: scale(None, None, Some(max?)).bounds,
                    ..OwnLimits::default()
                })
            });
            let taken = ValueAlone::of(
                reading(1.0, 0.1),
                &InRun::fixed(&limited),
                DecisionRule::FourZone,
            );
            RunFigure::ValueAt(
                ScaleAt {
                    at: Positions::cylinders(2),
                    common: free,
                    own: own.to_vec(),
                },
                vec![Entry::Taken(taken), Entry::NotTaken(missing())],
            )
        };
        assert_eq!(values(Some(5.0)).at_limit(), Outcome::Inconclusive);
        assert_eq!(values(None).at_limit(), Outcome::Pass);
        let passes = |min| {
            let count = CountAlone::of(Count::new(5, 5).unwrap(), min);
            let each = vec![Entry::Taken(count), Entry::NotTaken(missing())];
            RunFigure::PassesAt(Positions::cylinders(2), min, each)
        };
        assert_eq!(passes(Some(5)).at_limit(), Outcome::Inconclusive);
        assert_eq!(passes(None).at_limit(), Outcome::NoLimit);
    }
}
