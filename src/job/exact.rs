//! What is read without ±: a grade on a scale, an exact count, counted events over a stretch
//! of time or of something else, a list of what a machine has stored.

use super::{Better, Positions};
use crate::quantity::{Quantity, Unit};

/// How exact readings of a measure are compared. Each reading is a whole number: of a grade,
/// its place on the scale, from 0 for the worst.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum ExactScale {
    /// Grades by ear, eye or hand.
    Grades(Grades),
    /// Things counted one by one.
    Counts(CountLimits),
}

/// How exact readings are compared that are made at several positions.
#[derive(Debug, Clone, PartialEq)]
pub struct ExactScaleAt {
    /// Where.
    pub at: Positions,
    /// The scale, with the limits of every position that has none of its own.
    pub common: ExactScale,
    /// The same scale with the limits of one position, in its order, where it has its own.
    pub own: Vec<Option<ExactScale>>,
}

impl ExactScaleAt {
    /// The scale of the position at `index`, from 0.
    pub fn scale(&self, index: usize) -> &ExactScale {
        let own = self.own.get(index).and_then(Option::as_ref);
        own.unwrap_or(&self.common)
    }

    /// Whether all positions have the same limits.
    pub fn is_uniform(&self) -> bool {
        self.own.iter().all(Option::is_none)
    }

    /// Whether there is anything to judge a reading by, at one position at least.
    pub fn has_limit(&self) -> bool {
        (0..self.at.len()).any(|place| self.scale(place).has_limit())
    }
}

/// Grades that the plan names.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Grades {
    /// Their names, from worst to best; at least two.
    pub names: Vec<String>,
    /// The place of the least that is acceptable.
    pub least: Option<usize>,
}

/// The limits of an exact count.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CountLimits {
    /// The least that is acceptable.
    pub min: Option<u32>,
    /// The most that is acceptable.
    pub max: Option<u32>,
    /// Which way is better; without it a change is neither.
    pub better: Option<Better>,
}

impl CountLimits {
    /// The one number that is acceptable, where only one is.
    pub fn only(&self) -> Option<u32> {
        self.min.filter(|min| self.max == Some(*min))
    }
}

impl ExactScale {
    /// Whether there is anything to judge a reading by.
    pub fn has_limit(&self) -> bool {
        match self {
            Self::Grades(grades) => grades.least.is_some(),
            Self::Counts(limits) => limits.min.is_some() || limits.max.is_some(),
        }
    }
}

impl Grades {
    /// The name of the grade at `place`.
    pub fn name(&self, place: u32) -> &str {
        self.names.get(place as usize).map_or("", String::as_str)
    }
}

/// How the rate of counted events is compared.
#[derive(Debug, Clone, Copy)]
pub struct RateScale {
    /// The unit that the rate is per.
    pub per: &'static Unit,
    /// The least that is acceptable, per that unit.
    pub min: Option<f64>,
    /// The most that is acceptable, per that unit.
    pub max: Option<f64>,
    /// Which way is better; without it a change is neither.
    pub better: Option<Better>,
}

impl RateScale {
    /// Whether there is anything to judge a rate by.
    pub fn has_limit(&self) -> bool {
        self.min.is_some() || self.max.is_some()
    }
}

/// Events that were counted over a stretch of something.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Counted {
    /// How many.
    pub count: u32,
    /// Over how much; more than nothing.
    pub over: Quantity,
}

/// What a list of stored entries is judged by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ListLimits {
    /// The most entries that are acceptable.
    pub max: Option<u32>,
    /// Whether nothing may be in it that was not in it before.
    pub none_new: bool,
}

impl ListLimits {
    /// Whether there is anything to judge a list by.
    pub fn has_limit(&self) -> bool {
        self.max.is_some() || self.none_new
    }
}

/// One entry of a list, as the machine names it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ListItem {
    /// The machine's own code.
    pub code: String,
    /// Its text, where there is one.
    pub text: Option<String>,
}

impl ListItem {
    /// Two codes that differ only in capitals and the spaces around them are one.
    pub fn is_same(&self, other: &Self) -> bool {
        self.code.trim().to_lowercase() == other.code.trim().to_lowercase()
    }
}

/// The bands of a standard, such as its zones A to D, in which a value is placed beside its
/// limits.
#[derive(Debug, Clone, PartialEq)]
pub struct Bands {
    /// Their names, from the lowest values to the highest; one more than there are ends.
    pub names: Vec<String>,
    /// Where each but the last ends; a value exactly there still belongs to it.
    pub upper: Vec<Quantity>,
    /// Where they come from.
    pub source: String,
}
