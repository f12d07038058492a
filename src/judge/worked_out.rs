//! Figures worked out from readings of the same run, with the uncertainty that passes on to
//! them.

use super::known::Known;
use super::propagation::{Figure, Follows, InstrumentError, PartRead, propagate};
use super::uncertainty::{Errors, combine, estimate, named};
use super::variation::deviation_at;
use crate::job::{
    ConditionReading, Entry, Formula, InputOf, Measure, Observation, PerPosition, Plan, Run,
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
            | Source::WorkedOut => 0,
        }
    }
}

/// Why a part was not read, in the words of the job.
type Missing = String;

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
        let parts = formula.parts.iter().enumerate().map(|(index, part)| {
            let only = (!formula.takes_all_of(index)).then_some(place);
            self.part(&part.of, part.unit, run, only)
        });
        let parts = parts.collect::<Result<Vec<_>, _>>()?;
        let unit = measure.kind.unit().ok_or_else(String::new)?;
        // Intake has worked it out already, and refused what gives no number.
        let found = propagate(formula, &parts, place, unit).map_err(|error| error.to_string())?;
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
        readings.push(Follows {
            id: &measure.id,
            place,
            estimate: combine(0.0, vec![own]),
            slope: 1.0,
            instrument: None,
            error: InstrumentError::NONE,
        });
        Ok(Figure {
            estimate: Estimate {
                noise,
                written,
                ..combine(value, components)
            },
            readings,
        })
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

    /// A part in one run: at `only` one of its positions, or at all.
    fn part(
        &self,
        of: &'a InputOf,
        unit: &'static Unit,
        run: usize,
        only: Option<usize>,
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
                    Some(formula) => self.worked_part(measure, formula, unit, run, only),
                    None => self.measured(measure, unit, run, only),
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
        only: Option<usize>,
    ) -> Result<PartRead<'a>, Missing> {
        let places = match (only, formula.at()) {
            (_, None) => 0..1,
            (Some(place), Some(_)) => place..place + 1,
            (None, Some(at)) => 0..at.len(),
        };
        let each = places.map(|place| self.one(measure, formula, run, place));
        Ok(PartRead {
            each: each.collect::<Result<_, _>>()?,
            unit,
        })
    }

    /// A part that was read.
    fn measured(
        &self,
        measure: &'a Measure,
        unit: &'static Unit,
        run: usize,
        only: Option<usize>,
    ) -> Result<PartRead<'a>, Missing> {
        let readings = self
            .runs
            .map(|run| run.and_then(|run| run.readings.get(&measure.id)));
        let reading = readings[run].ok_or_else(String::new)?;
        let known = Known::of(measure, readings, &self.plan.instruments);
        let errors = known.errors_in(run, reading);
        let values: Vec<(usize, &Vec<Quantity>)> = match &reading.observation {
            Observation::Value(values) => vec![(0, values)],
            Observation::ValueAt(values) => chosen(values, only)?,
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

/// What was read at all positions, or at `only` one of them; what was not taken is why.
fn chosen<T>(each: &PerPosition<T>, only: Option<usize>) -> Result<Vec<(usize, &T)>, Missing> {
    let each = each.iter().enumerate();
    let wanted = each.filter(|(place, _)| only.is_none_or(|only| only == *place));
    wanted
        .map(|(place, entry)| match entry {
            Entry::Taken(read) => Ok((place, read)),
            Entry::NotTaken(why) => Err(why.clone()),
        })
        .collect()
}
