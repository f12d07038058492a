//! Figures worked out from readings of the same run, with the uncertainty that passes on to
//! them.

use super::ends::{Ends, InRun};
use super::known::Known;
use super::limits_in_run::{LimitsInRun, Missing};
use super::points::held;
use super::propagation::{Figure, Follows, InstrumentError, PartRead, propagate};
use super::uncertainty::{Errors, combine, estimate, named};
use super::variation::deviation_at;
use crate::job::{
    Bounds, ConditionReading, Entry, Formula, InputOf, Kind, LimitBy, Measure, Observation,
    PerPosition, Plan, Positions, Run, Scale,
};
use crate::quantity::{Component, Estimate, Quantity, Source, Unit};

/// What was worked out of one measure in one run.
pub enum Worked {
    /// One figure.
    One(Estimate),
    /// One at each position.
    Each(Vec<Entry<Estimate>>),
}

impl Worked {
    /// The same, where there is any of it.
    ///
    /// # Errors
    ///
    /// Why there is nothing at any position: the reason of the first.
    pub fn somewhere(self) -> Result<Self, Missing> {
        let Self::Each(each) = &self else {
            return Ok(self);
        };
        let why = |entry: &Entry<Estimate>| match entry {
            Entry::Taken(_) => None,
            Entry::NotTaken(why) => Some(why.clone()),
        };
        if each.iter().any(|entry| why(entry).is_none()) {
            return Ok(self);
        }
        Err(each.iter().find_map(why).unwrap_or_default())
    }
}

/// A plan with its runs: one before the work, both after it.
#[derive(Clone, Copy)]
pub struct Runs<'a> {
    /// The plan.
    pub plan: &'a Plan,
    /// The baseline, and the retest where there is one.
    pub runs: [Option<&'a Run>; 2],
}

/// Which positions of a part are wanted.
#[derive(Debug, Clone, Copy)]
enum Wanted {
    /// This one, of a part that has several.
    At(usize),
    /// All, or at `least` so many.
    All {
        /// How many; all, where it is not said.
        least: Option<usize>,
    },
}

impl Wanted {
    fn least(self) -> Option<usize> {
        match self {
            Self::At(_) => None,
            Self::All { least } => least,
        }
    }
}

/// The numbers of the estimates that the scatter of a measure comes from
/// ([`Component::pool`]).
#[derive(Clone, Copy)]
struct Pools {
    repeats: usize,
    run_to_run: usize,
}

impl Pools {
    fn of(self, source: Source) -> usize {
        match source {
            Source::Repeatability => self.repeats,
            Source::RunToRun => self.run_to_run,
            Source::Accuracy
            | Source::Resolution
            | Source::HandTiming
            | Source::ByEye
            | Source::Stated
            | Source::Setting
            | Source::WorkedOut => 0,
        }
    }
}

impl<'a> Runs<'a> {
    /// What `formula` gives for `measure` in the run `run` (0 is the baseline).
    ///
    /// # Errors
    ///
    /// Why a part that it needs was not read. A figure at positions tells it at each of them.
    pub fn work_out(
        &self,
        measure: &'a Measure,
        formula: &'a Formula,
        run: usize,
    ) -> Result<Worked, Missing> {
        let Some(at) = formula.at() else {
            let found = self.one(measure, formula, run, 0)?;
            return Ok(Worked::One(found.estimate));
        };
        let each = (0..at.len()).map(|place| match self.one(measure, formula, run, place) {
            Ok(found) => Entry::Taken(found.estimate),
            Err(why) => Entry::NotTaken(why),
        });
        Ok(Worked::Each(each.collect()))
    }

    fn one(
        &self,
        measure: &'a Measure,
        formula: &'a Formula,
        run: usize,
        place: usize,
    ) -> Result<Figure<'a>, Missing> {
        let unit = measure.kind.unit().ok_or_else(String::new)?;
        let found = self.figure(formula, unit, run, (&measure.id, place))?;
        let stated = measure.variation.stated.as_ref();
        let own = stated.map(|stated| Component {
            pool: self.pools(measure, false, run).run_to_run,
            ..Component::new(
                Source::RunToRun,
                deviation_at(stated, found.estimate.value),
                stated.dof(),
            )
        });
        let Some(own) = own.filter(|own| own.u > 0.0) else {
            return Ok(found);
        };
        let Estimate {
            value,
            noise,
            written,
            mut components,
            ..
        } = found.estimate;
        components.push(own);
        let mut readings = found.readings;
        // What a step of a table adds stands there already, under the same name.
        let known = readings
            .iter()
            .position(|one| one.is_own(&measure.id, place));
        let step = known.map(|at| readings.remove(at).estimate.components);
        let all = step.into_iter().flatten().chain([own]).collect();
        readings.push(Follows::own(&measure.id, place, all));
        Ok(Figure {
            estimate: Estimate {
                noise,
                written,
                ..combine(value, components)
            },
            readings,
        })
    }

    /// What `formula` gives in `unit` for the measure `id`, in the run `run` at the position
    /// `place`.
    fn figure(
        &self,
        formula: &'a Formula,
        unit: &Unit,
        run: usize,
        (id, place): (&'a str, usize),
    ) -> Result<Figure<'a>, Missing> {
        let parts = formula.parts.iter().enumerate().map(|(index, part)| {
            let wanted = if formula.takes_all_of(index) {
                Wanted::All {
                    least: formula.least_read,
                }
            } else {
                Wanted::At(place)
            };
            self.part(&part.of, part.unit, run, wanted)
        });
        let parts = parts.collect::<Result<Vec<_>, _>>()?;
        // Intake has worked it out already, and refused what gives no number.
        propagate(formula, &parts, (id, place), unit).map_err(|error| error.to_string())
    }

    /// The numbers of the estimates of the scatter of `measure` in the run `run`.
    fn pools(&self, measure: &Measure, kept_apart: bool, run: usize) -> Pools {
        let all = &self.plan.limits.measures;
        let index = all.iter().position(|one| one.id == measure.id);
        let first = 1 + 2 * index.unwrap_or(all.len());
        Pools {
            repeats: first + if kept_apart { run } else { 0 },
            run_to_run: first,
        }
    }

    /// The limits of `measure` as they hold in the run `run`: one, or one for each position;
    /// none of a measure that has no values.
    pub fn limits(&self, measure: &'a Measure, run: usize) -> LimitsInRun {
        match &measure.kind {
            Kind::Value(scale) => vec![self.in_run(scale, scale.by.as_deref(), run, 0)],
            Kind::ValueAt(scales) => (0..scales.at.len())
                .map(|place| {
                    let is_common = scales.own.get(place).is_none_or(Option::is_none);
                    let by = scales.common.by.as_deref().filter(|_| is_common);
                    self.in_run(&scales.scale(place), by, run, place)
                })
                .collect(),
            Kind::Passes { .. }
            | Kind::PassesAt { .. }
            | Kind::Exact(_)
            | Kind::ExactAt(_)
            | Kind::Rate(_)
            | Kind::List(_)
            | Kind::Smoke(_)
            | Kind::Text => Vec::new(),
        }
    }

    /// One scale, whose limits are worked out `by` formulas if there are any, as it holds in
    /// the run `run`, at the position `place`.
    fn in_run(
        &self,
        scale: &Scale,
        by: Option<&'a LimitBy>,
        run: usize,
        place: usize,
    ) -> Result<InRun, Missing> {
        let fixed = InRun::fixed_in(scale, run);
        let Some(by) = by else {
            return Ok(fixed);
        };
        let end = |formula: &'a Option<Formula>, fixed: Option<Estimate>| match formula {
            None => Ok(fixed),
            Some(formula) => {
                let found = self.figure(formula, scale.unit, run, ("", place));
                found.map(|found| Some(found.estimate))
            }
        };
        let ends = Ends {
            min: end(&by.min, fixed.ends.min)?,
            max: end(&by.max, fixed.ends.max)?,
        };
        let [min, max] = [&ends.min, &ends.max].map(|end| {
            let value = scale.unit.from_si(end.as_ref()?.value);
            Quantity::new(value, scale.unit).ok()
        });
        Ok(InRun {
            scale: Scale {
                bounds: Bounds::new(min, max),
                ..scale.clone()
            },
            toward: ends.clone(),
            ends,
        })
    }

    /// Whether it is known how the machine varies from run to run: of the figure itself, or of
    /// all measures that it is worked out from.
    pub fn variation_is_known(&self, measure: &Measure, formula: &Formula) -> bool {
        measure.variation.stated.is_some()
            || formula.parts.iter().all(|part| match &part.of {
                InputOf::Condition(_) => false,
                InputOf::Measure(id) => self.plan.limits.measure(id).is_some_and(|part| {
                    let readings = self
                        .runs
                        .map(|run| run.and_then(|run| run.readings.get(id)));
                    match &part.worked_out {
                        Some(formula) => self.variation_is_known(part, formula),
                        None => {
                            let known = Known::of(part, readings, &self.plan.instruments);
                            part.variation.is_known(known.scatter.is_known())
                        }
                    }
                }),
            })
    }

    /// At which positions the figure of `measure` by `formula` could be worked out in the run
    /// `run`.
    pub(super) fn is_worked_out(
        &self,
        measure: &'a Measure,
        formula: &'a Formula,
        run: usize,
    ) -> Vec<bool> {
        let places = 0..formula.at().map_or(1, Positions::len);
        let each = places.map(|place| self.one(measure, formula, run, place).is_ok());
        each.collect()
    }

    /// A part in one run, at the positions that are `wanted`.
    fn part(
        &self,
        of: &'a InputOf,
        unit: &'static Unit,
        run: usize,
        wanted: Wanted,
    ) -> Result<PartRead<'a>, Missing> {
        let here = self.runs[run].ok_or_else(String::new)?;
        match of {
            InputOf::Condition(id) => match here.conditions.get(id) {
                Some(ConditionReading::Value { value, instrument }) => {
                    let instrument = named(&self.plan.instruments, instrument.as_deref());
                    let errors = Errors {
                        instrument,
                        ..Errors::default()
                    };
                    let values = [*value];
                    let figure = Figure::read(Follows {
                        id,
                        place: 0,
                        estimate: estimate(&values, errors),
                        slope: 1.0,
                        instrument,
                        error: InstrumentError::of(&values, errors),
                    });
                    Ok(PartRead {
                        each: vec![figure],
                        unit,
                    })
                }
                Some(ConditionReading::Text(_)) | None => Err(String::new()),
            },
            InputOf::Measure(id) => {
                let measure = self.plan.limits.measure(id).ok_or_else(String::new)?;
                match &measure.worked_out {
                    Some(formula) => self.worked_part(measure, formula, unit, run, wanted),
                    None => self.measured(measure, unit, run, wanted),
                }
            }
        }
    }

    /// A part that is worked out itself, with the readings behind it.
    fn worked_part(
        &self,
        measure: &'a Measure,
        formula: &'a Formula,
        unit: &'static Unit,
        run: usize,
        wanted: Wanted,
    ) -> Result<PartRead<'a>, Missing> {
        let places = match (wanted, formula.at()) {
            (_, None) => 0..1,
            (Wanted::At(place), Some(_)) => place..place + 1,
            (Wanted::All { .. }, Some(at)) => 0..at.len(),
        };
        let each = places.map(|place| self.one(measure, formula, run, place));
        Ok(PartRead {
            each: those_read(each, wanted.least())?,
            unit,
        })
    }

    /// A part that was read.
    fn measured(
        &self,
        measure: &'a Measure,
        unit: &'static Unit,
        run: usize,
        wanted: Wanted,
    ) -> Result<PartRead<'a>, Missing> {
        let readings = self
            .runs
            .map(|run| run.and_then(|run| run.readings.get(&measure.id)));
        let reading = readings[run].ok_or_else(String::new)?;
        let known = Known::of(measure, readings, &self.plan.instruments);
        let errors = known.errors_in(run, reading);
        let held = match (&reading.observation, measure.kind.at()) {
            (Observation::ValueAt(values), Some(at)) => held(at, values),
            (_, _) => Vec::new(),
        };
        let values: Vec<(usize, &Vec<Quantity>)> = match &reading.observation {
            Observation::Value(values) => vec![(0, values)],
            Observation::ValueAt(values) => chosen(values, wanted)?,
            Observation::NotTaken(why) => return Err(why.clone()),
            Observation::Passes(_)
            | Observation::PassesAt(_)
            | Observation::Exact(_)
            | Observation::ExactAt(_)
            | Observation::Rate(_)
            | Observation::List(_)
            | Observation::Smoke(_)
            | Observation::Text(_) => return Err(String::new()),
        };
        let pools = self.pools(measure, known.scatter.kept_apart, run);
        let each = values.into_iter().map(|(place, values)| {
            let setting = held.get(place).copied().unwrap_or(0.0);
            let errors = Errors { setting, ..errors };
            let mut estimate = estimate(values, errors);
            for part in &mut estimate.components {
                part.pool = pools.of(part.source);
            }
            Figure::read(Follows {
                id: &measure.id,
                place,
                estimate,
                slope: 1.0,
                instrument: errors.instrument.filter(|_| errors.stated.is_none()),
                error: InstrumentError::of(values, errors),
            })
        });
        Ok(PartRead {
            each: each.collect(),
            unit,
        })
    }
}

/// What was read at the positions that are `wanted`; what was not taken is why.
fn chosen<T>(each: &PerPosition<T>, wanted: Wanted) -> Result<Vec<(usize, &T)>, Missing> {
    let each = each.iter().enumerate();
    let each = each.filter(|(place, _)| match wanted {
        Wanted::At(only) => only == *place,
        Wanted::All { .. } => true,
    });
    let each = each.map(|(place, entry)| match entry {
        Entry::Taken(read) => Ok((place, read)),
        Entry::NotTaken(why) => Err(why.clone()),
    });
    those_read(each, wanted.least())
}

/// The figures of several positions, of which those that are missing may be left out if at
/// `least` so many are there.
///
/// # Errors
///
/// Why one is missing that may not be: the reason of the first.
fn those_read<T>(
    each: impl Iterator<Item = Result<T, Missing>>,
    least: Option<usize>,
) -> Result<Vec<T>, Missing> {
    let (mut read, mut why) = (Vec::new(), None);
    for one in each {
        match one {
            Ok(one) => read.push(one),
            Err(missing) => why = why.or(Some(missing)),
        }
    }
    let is_enough = least.is_some_and(|least| read.len() >= least);
    match why.filter(|_| !is_enough) {
        Some(why) => Err(why),
        None => Ok(read),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Of five positions the second and the fourth are missing.
    #[test]
    fn those_that_are_missing_may_be_left_out_if_the_plan_says_so() {
        let five = || {
            (1..=5).map(|place| match place {
                2 | 4 => Err(format!("No room at {place}")),
                place => Ok(place),
            })
        };
        assert_eq!(those_read(five(), None), Err("No room at 2".to_owned()));
        assert_eq!(those_read(five(), Some(4)), Err("No room at 2".to_owned()));
        assert_eq!(those_read(five(), Some(3)), Ok(vec![1, 3, 5]));
        let all = || (1..=2).map(Ok);
        assert_eq!(those_read(all(), None), Ok(vec![1, 2]));
    }
}
