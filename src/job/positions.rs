//! Where a measure is read at several places of one machine, or at several settings of one
//! test.

use crate::quantity::{Quantity, Unit};

/// A set of places at which the same thing is read: cylinders, phases, bearings, wheels.
#[derive(Debug, Clone, PartialEq)]
pub struct Positions {
    /// The short name by which measures refer to it.
    pub id: String,
    /// What one of them, and several, are called.
    pub called: Called,
    /// The places, in the order of the plan, each by the name or number it goes by.
    pub names: Vec<String>,
}

/// What a position is called.
#[derive(Debug, Clone, PartialEq)]
pub enum Called {
    /// The cylinders of an engine: every language has its own word for them.
    Cylinders,
    /// In the words of the job.
    Own {
        /// One of them.
        one: String,
        /// Several.
        many: String,
    },
    /// Points of one test: each by its setting.
    Points(Points),
}

/// The settings at which one test is made, such as speeds or loads.
#[derive(Debug, Clone, PartialEq)]
pub struct Points {
    /// What is set.
    pub what: String,
    /// The unit of the settings.
    pub unit: &'static Unit,
    /// The settings, rising, one for each position.
    pub settings: Vec<Quantity>,
    /// How far what was set may have been from its setting, ±; none where it is exact.
    pub held_within: Option<Quantity>,
}

impl Positions {
    /// The id of the set that every machine with cylinders has.
    pub const CYLINDERS: &'static str = "cylinders";

    /// The cylinders of a machine, numbered from 1.
    pub fn cylinders(count: usize) -> Self {
        Self {
            id: Self::CYLINDERS.to_owned(),
            called: Called::Cylinders,
            names: Self::numbered(count),
        }
    }

    /// The names of `count` positions that have numbers only.
    pub fn numbered(count: usize) -> Vec<String> {
        (1..=count).map(|number| number.to_string()).collect()
    }

    /// Their settings, where they are points of one test.
    pub fn points(&self) -> Option<&Points> {
        match &self.called {
            Called::Points(points) => Some(points),
            Called::Cylinders | Called::Own { .. } => None,
        }
    }

    /// How many there are.
    pub fn len(&self) -> usize {
        self.names.len()
    }

    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.names.is_empty()
    }

    /// The name of the position at `index`, from 0.
    pub fn name(&self, index: usize) -> &str {
        self.names.get(index).map_or("", String::as_str)
    }
}

/// One entry for each position of a set, in its order, none left out.
#[derive(Debug, Clone, PartialEq)]
pub struct PerPosition<T>(Vec<Entry<T>>);

/// What was read at one position.
#[derive(Debug, Clone, PartialEq)]
pub enum Entry<T> {
    /// It was read.
    Taken(T),
    /// It was not, and why.
    NotTaken(String),
}

impl<T> Entry<T> {
    /// What was read, where it was.
    pub fn taken(&self) -> Option<&T> {
        match self {
            Self::Taken(read) => Some(read),
            Self::NotTaken(_) => None,
        }
    }

    /// The same entry, with what `of` makes of what was read.
    pub fn map<U>(&self, of: impl Fn(&T) -> U) -> Entry<U> {
        match self {
            Self::Taken(read) => Entry::Taken(of(read)),
            Self::NotTaken(why) => Entry::NotTaken(why.clone()),
        }
    }
}

impl<T> PerPosition<T> {
    /// The entries in the order of the set.
    pub fn new(entries: Vec<Entry<T>>) -> Self {
        Self(entries)
    }

    /// Of `count` positions of which none was read, for one reason.
    pub fn not_taken(count: usize, why: &str) -> Self {
        let each = std::iter::repeat_with(|| Entry::NotTaken(why.to_owned()));
        Self(each.take(count).collect())
    }

    /// The entries in the order of the set.
    pub fn iter(&self) -> impl Iterator<Item = &Entry<T>> {
        self.0.iter()
    }

    /// The same, with what `of` makes of what was read.
    pub fn map<U>(&self, of: impl Fn(&T) -> U) -> PerPosition<U> {
        PerPosition(self.0.iter().map(|entry| entry.map(&of)).collect())
    }

    /// What was read, of the positions that were.
    pub fn taken(&self) -> impl Iterator<Item = &T> {
        self.0.iter().filter_map(Entry::taken)
    }
}
