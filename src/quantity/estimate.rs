//! A value with its standard uncertainty, and where that uncertainty comes from.

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
    /// An expanded uncertainty that somebody stated.
    Stated,
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
}

/// A best estimate in SI units with its combined standard uncertainty.
#[derive(Debug, Clone, PartialEq)]
pub struct Estimate {
    /// The best estimate, in SI units.
    pub value: f64,
    /// The combined standard uncertainty, in SI units, not negative.
    pub u: f64,
    /// The effective degrees of freedom; infinite if nothing limits them.
    pub dof: f64,
    /// The expanded uncertainty at a coverage probability of 95 %, in SI units.
    pub expanded: f64,
    /// The parts that `u` was combined from; empty for an exact value.
    pub components: Vec<Component>,
    /// What rounding of binary figures may have left in `value`: far below anything
    /// measured, but enough to push a value that is exactly at its limit over it.
    pub noise: f64,
}

impl Estimate {
    /// The degrees of freedom of what was estimated from repeats, by which alone it is
    /// expanded; of several, the fewest. None where all is taken as known.
    pub fn dof_of_scatter(&self) -> Option<f64> {
        let known = self.components.iter().map(|component| component.dof);
        known.filter(|dof| dof.is_finite()).reduce(f64::min)
    }

    /// A value without uncertainty.
    pub fn exact(value: f64) -> Self {
        Self {
            value,
            u: 0.0,
            dof: f64::INFINITY,
            expanded: 0.0,
            components: Vec::new(),
            noise: super::rounding::noise_of(value),
        }
    }
}
