//! How the uncertainties of readings pass on to a figure that is worked out from them.

use super::moments::mean;
use super::t_distribution::{COVERAGE, coverage_factor};
use super::uncertainty::{Errors, certificate, combine, expanded, proportional, si_of};
use crate::job::{Formula, FormulaError, Instrument, Sloped};
use crate::quantity::{Component, Estimate, Quantity, Source, Unit, Written, at_most, noise_of};

/// One part of a formula in one run.
pub struct PartRead<'a> {
    /// Its figure, or that of each position.
    pub each: Vec<Figure<'a>>,
    /// The unit in which its number enters.
    pub unit: &'static Unit,
}

/// A figure with the readings that it follows.
#[derive(Clone)]
pub struct Figure<'a> {
    /// The figure, in SI units.
    pub estimate: Estimate,
    /// The readings, each once.
    pub readings: Vec<Follows<'a>>,
}

/// One reading that a figure follows.
#[derive(Clone)]
pub struct Follows<'a> {
    /// The id of its measure or condition.
    pub id: &'a str,
    /// At which of its positions it was read.
    pub place: usize,
    /// The reading.
    pub estimate: Estimate,
    /// By how much the figure changes with it, in SI units.
    pub slope: f64,
    /// The instrument that gave it, if its errors are the instrument's.
    pub instrument: Option<&'a Instrument>,
    /// The errors of that instrument in it.
    pub error: InstrumentError,
}

impl<'a> Figure<'a> {
    /// What was read itself.
    pub fn read(reading: Follows<'a>) -> Self {
        Self {
            estimate: reading.estimate.clone(),
            readings: vec![reading],
        }
    }
}

impl<'a> Follows<'a> {
    /// What a figure that is worked out adds of its own to the readings behind it.
    pub fn own(id: &'a str, place: usize, components: Vec<Component>) -> Self {
        Self {
            id,
            place,
            estimate: combine(0.0, components),
            slope: 1.0,
            instrument: None,
            error: InstrumentError::NONE,
        }
    }

    /// Whether it is what the figure of the measure `id` at `place` adds of its own.
    pub fn is_own(&self, id: &str, place: usize) -> bool {
        (self.id, self.place) == (id, place)
    }
}

/// The errors of an instrument in one figure, as standard uncertainties in SI units, with the
/// sign in which they act.
#[derive(Debug, Clone, Copy)]
pub struct InstrumentError {
    fixed: f64,
    of_reading: f64,
    certificate: f64,
}

impl InstrumentError {
    /// Of a figure whose instrument is not known.
    pub const NONE: Self = Self {
        fixed: 0.0,
        of_reading: 0.0,
        certificate: 0.0,
    };

    /// Of the mean of `values`.
    pub fn of(values: &[Quantity], errors: Errors<'_>) -> Self {
        let Some(instrument) = errors.instrument else {
            return Self::NONE;
        };
        let si: Vec<f64> = values.iter().map(Quantity::si).collect();
        Self {
            fixed: si_of(instrument.accuracy) / 3f64.sqrt(),
            of_reading: proportional(instrument, mean(&si), values) / 3f64.sqrt(),
            certificate: instrument.stated.map_or(0.0, |stated| stated.u()),
        }
    }
}

/// What `formula` gives for `parts`, in the unit `to`: the figure of the measure `id` at the
/// position `place`.
///
/// By the law of propagation (JCGM 100:2008, 5.1.2). A formula with a lowest, a highest or a
/// greatest of several positions follows one of them here and another there, and noise alone
/// drives it away from its mean: there the uncertainty is the largest of those of all choices
/// of positions that may well be the true ones, at a level shared between all choices, so
/// that all hold at once (Bonferroni).
///
/// # Errors
///
/// [`FormulaError`], where there is no such number.
pub fn propagate<'a>(
    formula: &Formula,
    parts: &[PartRead<'a>],
    (id, place): (&'a str, usize),
    to: &Unit,
) -> Result<Figure<'a>, FormulaError> {
    let figures: Vec<Vec<f64>> = parts
        .iter()
        .map(|part| {
            part.each
                .iter()
                .map(|one| part.unit.from_si(one.estimate.value))
                .collect()
        })
        .collect();
    let found = formula.evaluate(&figures, place)?;
    let choices = formula.each_choice(&figures, place)?;
    let value = to.to_si(found.value);
    let z = coverage_factor(COVERAGE, f64::INFINITY);
    let jump = Component::new(
        Source::WorkedOut,
        jump(formula, &found, &figures, parts, place, to) / z,
        f64::INFINITY,
    );
    let jump = Some(jump).filter(|part| part.u > 0.0);
    let readings = follows(&found, parts, to);
    let components = components(&readings);
    let known = |components| Estimate {
        noise: noise_of(value.abs().max(to.difference_to_si(found.size)))
            + noise(&found, parts, to),
        written: written(&found, parts, to),
        ..combine(value, components)
    };
    if choices.len() == 1 {
        let components = components.into_iter().chain(jump).collect();
        // What a step does is no reading's error: it counts like a reading of its own.
        let own = jump.map(|jump| Follows::own(id, place, vec![jump]));
        return Ok(Figure {
            estimate: known(components),
            readings: readings.into_iter().chain(own).collect(),
        });
    }
    let level = 1.0 - (1.0 - COVERAGE) / choices.len() as f64;
    let own = expanded(&components, level);
    let widest = choices
        .iter()
        .map(|choice| {
            let components = self::components(&follows(choice, parts, to));
            let u = expanded(&components, level);
            let apart = to.difference_to_si(choice.value - found.value).abs();
            // A bound is expanded to less than a normal error of its standard uncertainty,
            // which is what counts beside others.
            let standard = (u / z).max(combine(value, components).u);
            if apart <= own + u { standard } else { 0.0 }
        })
        .fold(0.0, f64::max);
    let widest = Component::new(Source::WorkedOut, widest, f64::INFINITY);
    let widest = Some(widest).filter(|part| part.u > 0.0);
    Ok(Figure {
        estimate: known(widest.into_iter().chain(jump).collect()),
        readings: Vec::new(),
    })
}

/// How far a step of a table may take the result: a slope does not show it. Each figure is
/// moved by its own U, up and down, and what the result moves by more than its slope says
/// counts, the most of all; in SI units. Beyond the ends of the table nothing is read off.
fn jump(
    formula: &Formula,
    found: &Sloped,
    figures: &[Vec<f64>],
    parts: &[PartRead<'_>],
    place: usize,
    to: &Unit,
) -> f64 {
    if !formula.has_steps() {
        return 0.0;
    }
    let mut slopes = found.slopes.iter();
    let mut most: f64 = 0.0;
    for (at, part) in parts.iter().enumerate() {
        for (which, figure) in part.each.iter().enumerate() {
            let u = part.unit.difference_from_si(figure.estimate.expanded);
            let slope = slopes.next().copied().unwrap_or(0.0);
            for moved in [-u, u] {
                let mut figures = figures.to_vec();
                figures[at][which] += moved;
                if let Ok(there) = formula.evaluate(&figures, place) {
                    let beyond = there.value - found.value - slope * moved;
                    most = most.max(to.difference_to_si(beyond).abs());
                }
            }
        }
    }
    most
}

/// The readings that a result follows, each once: what reaches it in two ways has the sum of
/// both slopes, so that a reading minus itself is exactly nothing.
fn follows<'a>(found: &Sloped, parts: &[PartRead<'a>], to: &Unit) -> Vec<Follows<'a>> {
    let mut all: Vec<Follows<'a>> = Vec::new();
    // How large the slopes are that were summed: what is left of them by rounding is nothing.
    let mut sizes: Vec<f64> = Vec::new();
    for (figure, slope) in followed(found, parts, to) {
        for reading in &figure.readings {
            let slope = slope * reading.slope;
            let same = |known: &Follows<'_>| (known.id, known.place) == (reading.id, reading.place);
            match all.iter().position(same) {
                Some(known) => {
                    all[known].slope += slope;
                    sizes[known] += slope.abs();
                }
                None => {
                    all.push(Follows {
                        slope,
                        ..reading.clone()
                    });
                    sizes.push(slope.abs());
                }
            }
        }
    }
    let each = all.into_iter().zip(sizes);
    let left = each.filter(|(reading, size)| reading.slope.abs() > noise_of(*size));
    left.map(|(reading, _)| reading).collect()
}

/// The figures that a result follows, each with its slope in SI units.
fn followed<'p, 'a>(
    found: &'p Sloped,
    parts: &'p [PartRead<'a>],
    to: &'p Unit,
) -> impl Iterator<Item = (&'p Figure<'a>, f64)> {
    let each = |part: &'p PartRead<'a>| part.each.iter().map(|figure| (part.unit, figure));
    let each = parts.iter().flat_map(each).zip(&found.slopes);
    each.filter(|(_, slope)| **slope != 0.0)
        .map(|((unit, figure), slope)| {
            let slope = to.difference_to_si(slope * unit.difference_from_si(1.0));
            (figure, slope)
        })
}

/// What rounding of the figures may have left in the result.
fn noise(found: &Sloped, parts: &[PartRead<'_>], to: &Unit) -> f64 {
    followed(found, parts, to).fold(0.0, |sum, (figure, slope)| {
        sum + slope.abs() * figure.estimate.noise
    })
}

/// What the last digit that was written of the figures is worth in the result, of the one
/// that it follows most.
fn written(found: &Sloped, parts: &[PartRead<'_>], to: &Unit) -> Written {
    let each = followed(found, parts, to).filter_map(|(figure, slope)| {
        let written = figure.estimate.written.through(slope);
        Some(Written::Several(written.step()?))
    });
    each.reduce(Written::and).unwrap_or_default()
}

/// The uncertainty of a result in its parts.
fn components(readings: &[Follows<'_>]) -> Vec<Component> {
    let mut all = Vec::new();
    for (index, reading) in readings.iter().enumerate() {
        let earlier = &readings[..index];
        let is_same = |other: &Follows<'_>| same(other.instrument, reading.instrument);
        let shared: Vec<&Follows<'_>> = readings.iter().filter(|other| is_same(other)).collect();
        let is_shared = reading.instrument.is_some() && shared.len() > 1;
        for part in &reading.estimate.components {
            match part.source {
                Source::Accuracy | Source::Stated if is_shared => {}
                Source::Repeatability | Source::RunToRun => {
                    let of_one = |other: &&Follows<'_>| {
                        other.id == reading.id && scatter_of(other, part.source).is_some()
                    };
                    if !earlier.iter().any(|other| of_one(&other)) {
                        all.push(of_one_scatter(*part, readings.iter().filter(of_one)));
                    }
                }
                Source::Accuracy
                | Source::Stated
                | Source::Resolution
                | Source::HandTiming
                | Source::ByEye
                | Source::Setting
                | Source::WorkedOut => all.push(part.times(reading.slope)),
            }
        }
        if is_shared && !earlier.iter().any(is_same) {
            all.extend(of_one_instrument(&shared));
        }
    }
    all
}

fn scatter_of(reading: &Follows<'_>, source: Source) -> Option<Component> {
    let mut all = reading.estimate.components.iter();
    all.find(|part| part.source == source).copied()
}

/// The scatter of several readings of one measure: one estimate, whose degrees of freedom
/// count once. The repeats of each are its own, and add up in squares. What a machine varies
/// by may be the same at all positions or another at each; which of them is not known, and the
/// less favourable counts.
fn of_one_scatter<'f, 'a: 'f>(
    part: Component,
    readings: impl Iterator<Item = &'f Follows<'a>>,
) -> Component {
    let each: Vec<f64> = readings
        .filter_map(|one| Some(one.slope * scatter_of(one, part.source)?.u))
        .collect();
    let apart = each.iter().map(|u| u * u).sum::<f64>().sqrt();
    let together = each.iter().sum::<f64>().abs();
    match part.source {
        Source::RunToRun => Component {
            u: apart.max(together),
            ..part
        },
        Source::Repeatability
        | Source::Accuracy
        | Source::Stated
        | Source::Resolution
        | Source::HandTiming
        | Source::ByEye
        | Source::Setting
        | Source::WorkedOut => Component { u: apart, ..part },
    }
}

fn same(one: Option<&Instrument>, other: Option<&Instrument>) -> bool {
    match (one, other) {
        (Some(one), Some(other)) => one.id == other.id,
        (Some(_) | None, Some(_) | None) => false,
    }
}

/// The errors of one instrument that gave several figures. Where the job says why its error
/// is the same each time, they add up with their signs first (JCGM 100:2008, 5.2.2, with a
/// correlation of 1). Where it does not, it is not known whether they do, and the less
/// favourable of both counts.
fn of_one_instrument(readings: &[&Follows<'_>]) -> Vec<Component> {
    let of_instrument =
        |part: &&Component| matches!(part.source, Source::Accuracy | Source::Stated);
    let apart: Vec<Component> = readings
        .iter()
        .flat_map(|one| {
            let own = one.estimate.components.iter().filter(of_instrument);
            own.map(|part| part.times(one.slope.abs()))
        })
        .collect();
    let sum = |of: fn(&InstrumentError) -> f64| {
        let each = readings.iter().map(|one| one.slope * of(&one.error));
        each.sum::<f64>().abs()
    };
    let instrument = readings.first().and_then(|one| one.instrument);
    let known = |u| Component::new(Source::Accuracy, u, f64::INFINITY);
    let stated = instrument.and_then(|instrument| instrument.stated);
    let together: Vec<Component> = [known(sum(|e| e.fixed)), known(sum(|e| e.of_reading))]
        .into_iter()
        .chain(stated.map(|stated| Component {
            u: sum(|e| e.certificate),
            ..certificate(stated)
        }))
        .filter(|part| part.u > 0.0)
        .collect();
    let is_common = instrument.is_some_and(|instrument| instrument.common_error.is_some());
    let size = |parts: &[Component]| parts.iter().map(|part| part.u * part.u).sum::<f64>();
    if is_common || !at_most(size(&together), size(&apart)) {
        together
    } else {
        apart
    }
}

#[cfg(test)]
mod tests;
