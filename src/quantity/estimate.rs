//! A value with its standard uncertainty, and where that uncertainty comes from.

use super::{Quantity, Unit, place_of_step, places};

/// Where one part of an uncertainty comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Source {
    /// The instrument's stated accuracy.
    Accuracy,
    /// The last digit of the display.
    Resolution,
    /// The scatter of repeated readings.
    Repeatability,
    /// A finger on a stopwatch.
    HandTiming,
    /// An eye that judges when something happens.
    ByEye,
    /// What the machine varies by from one run to the next.
    RunToRun,
    /// An expanded uncertainty that somebody stated.
    Stated,
    /// Of a figure that is worked out from several and follows the lowest, the highest or the
    /// greatest of them: all of its uncertainty.
    WorkedOut,
    /// How closely a point of a test was held at its setting, through the slope of the curve.
    Setting,
}

/// How the figures were written that an estimate comes from.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub enum Written {
    /// Nothing is known of it.
    #[default]
    Unknown,
    /// It is one figure, whose last digit is worth this much in SI units.
    Once(f64),
    /// It was worked out from several, such as a mean or a difference; the last digit of
    /// the coarsest of them is worth this much in SI units.
    Several(f64),
}

impl Written {
    /// How `values` were written.
    pub fn of(values: &[Quantity]) -> Self {
        let coarsest = values.iter().map(Quantity::step).reduce(coarser).flatten();
        match (coarsest, values) {
            (Some(step), [_]) => Self::Once(step),
            (Some(step), _) => Self::Several(step),
            (None, _) => Self::Unknown,
        }
    }

    /// What the coarsest last digit is worth, in SI units.
    pub fn step(self) -> Option<f64> {
        match self {
            Self::Unknown => None,
            Self::Once(step) | Self::Several(step) => Some(step),
        }
    }

    /// Of something that is worked out from two figures.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        coarser(self.step(), other.step()).map_or(Self::Unknown, Self::Several)
    }

    /// Of something that is worked out from one figure, and changes by `slope` with it.
    #[must_use]
    pub fn through(self, slope: f64) -> Self {
        match self {
            same if slope == 1.0 => same,
            Self::Once(step) | Self::Several(step) if slope != 0.0 => {
                Self::Several(step * slope.abs())
            }
            _ => Self::Unknown,
        }
    }
}

/// The larger step; none where one is not known.
fn coarser(a: Option<f64>, b: Option<f64>) -> Option<f64> {
    Some(a?.max(b?))
}

/// One part of an uncertainty budget (JCGM 100:2008, 4.1.4).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Component {
    /// Where it comes from.
    pub source: Source,
    /// Its standard uncertainty, in SI units, not negative.
    pub u: f64,
    /// Its degrees of freedom; infinite where a rectangular or a stated
    /// distribution is taken as known (JCGM 100:2008, G.4.3).
    pub dof: f64,
    /// The coverage factor with which it was stated, for about 95 %: it is never expanded
    /// by less. 0 where none was stated.
    pub stated_k: f64,
    /// Of a scatter: which estimate of several it is. In a figure that is worked out from
    /// several measures, components of one source and one number are one estimate. 0 where
    /// there is only one.
    pub pool: usize,
}

impl Component {
    /// A component that nobody stated a coverage factor with.
    pub fn new(source: Source, u: f64, dof: f64) -> Self {
        Self {
            source,
            u,
            dof,
            stated_k: 0.0,
            pool: 0,
        }
    }

    /// Whether it was estimated from readings, and so is expanded by Student's t.
    pub fn is_estimated(&self) -> bool {
        let from_readings = matches!(self.source, Source::Repeatability | Source::RunToRun);
        from_readings && self.dof.is_finite()
    }

    /// Whether it is a rectangular error, with the half-width √3·u.
    pub fn is_rectangular(&self) -> bool {
        matches!(
            self.source,
            Source::Accuracy | Source::Resolution | Source::Setting
        )
    }

    /// The same in something that changes by `slope` with it.
    #[must_use]
    pub fn times(self, slope: f64) -> Self {
        Self {
            u: self.u * slope.abs(),
            ..self
        }
    }
}

/// A best estimate in SI units with its combined standard uncertainty.
#[derive(Debug, Clone, PartialEq)]
pub struct Estimate {
    /// The best estimate, in SI units.
    pub value: f64,
    /// The combined standard uncertainty, in SI units, not negative.
    pub u: f64,
    /// The effective degrees of freedom of `u`; infinite if nothing limits them. `expanded`
    /// is not made of them, see [`Estimate::dof_of_scatter`].
    pub dof: f64,
    /// The standard deviation of a normal error that stands for this one where a
    /// probability is asked for: `u`, but what was estimated from few readings counts more.
    pub spread: f64,
    /// The expanded uncertainty at a coverage probability of 95 %, in SI units.
    pub expanded: f64,
    /// The parts that `u` was combined from; empty for an exact value.
    pub components: Vec<Component>,
    /// What rounding of binary figures may have left in `value`: far below anything
    /// measured, but enough to push a value that is exactly at its limit over it.
    pub noise: f64,
    /// How the figures were written that it comes from.
    pub written: Written,
}

impl Estimate {
    /// The degrees of freedom of what was estimated from readings, by which alone that part
    /// is expanded; of several, the fewest. None where all is taken as known.
    pub fn dof_of_scatter(&self) -> Option<f64> {
        let estimated = self.components.iter().filter(|part| part.is_estimated());
        estimated.map(|part| part.dof).reduce(f64::min)
    }

    /// The place at which the estimate ends in `unit`, where it stands with its
    /// uncertainty; see [`places`], the one rule. None where nothing tells.
    pub fn places(&self, unit: &Unit) -> Option<i32> {
        let place = |step: f64| place_of_step(unit.difference_from_si(step));
        let written = match self.written {
            Written::Unknown => None,
            // An exact nothing has no last digit.
            Written::Once(0.0) | Written::Several(0.0) => None,
            Written::Once(step) => Some(place(step)),
            // A mean of readings is known better than each of them, by a digit at most.
            Written::Several(step) => Some(place(step) + i32::from(self.expanded > 0.0)),
        };
        places(unit.difference_from_si(self.expanded), written)
    }

    /// The place at which the estimate ends in `unit`, where it stands alone: one reading
    /// as it was written.
    pub fn places_alone(&self, unit: &Unit) -> Option<i32> {
        match self.written {
            Written::Once(step) if step > 0.0 => Some(place_of_step(unit.difference_from_si(step))),
            _ => self.places(unit),
        }
    }

    /// A value without uncertainty.
    pub fn exact(value: f64) -> Self {
        Self {
            value,
            u: 0.0,
            dof: f64::INFINITY,
            spread: 0.0,
            expanded: 0.0,
            components: Vec::new(),
            noise: super::rounding::noise_of(value),
            written: Written::Unknown,
        }
    }
}
