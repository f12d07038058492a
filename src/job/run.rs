//! One run of the tests: the baseline or the retest.

use std::collections::BTreeMap;

use chrono::{DateTime, FixedOffset, NaiveDateTime};
use schemars::JsonSchema;
use serde::Deserialize;

use super::{Counted, ListItem, PerPosition};
use crate::quantity::Quantity;

/// The set of readings before the work, or after it.
#[derive(Debug, Clone)]
pub struct Run {
    /// When the run started.
    pub started: DateTime<FixedOffset>,
    /// When it ended.
    pub ended: Option<DateTime<FixedOffset>>,
    /// Who measured.
    pub by: String,
    /// Who else saw it.
    pub witnesses: Vec<String>,
    /// The machine's hour meter or odometer.
    pub meter: Option<Quantity>,
    /// What was written down of it in words.
    pub remarks: Remarks,
    /// The conditions, by id.
    pub conditions: BTreeMap<String, ConditionReading>,
    /// The readings, by the id of their measure.
    pub readings: BTreeMap<String, Reading>,
    /// Photos taken during the run.
    pub photos: Vec<Photo>,
    /// Recordings made during the run.
    pub recordings: Vec<Recording>,
}

/// What is written down of a run in words, and printed as it stands. These are keys of
/// its file: one more is added here and nowhere else on the way to `view`.
#[derive(Debug, Clone, Default, Deserialize, JsonSchema)]
pub struct Remarks {
    /// Where the readings were taken.
    #[schemars(length(min = 1, max = 120))]
    pub place: Option<String>,
    /// Anything worth knowing about the run.
    #[schemars(length(min = 1, max = 2000))]
    pub note: Option<String>,
}

impl Run {
    /// Whether a recording shows any reading of the run.
    pub fn is_filmed(&self) -> bool {
        let mut readings = self.readings.values();
        readings.any(|reading| reading.shown_in.is_some())
    }

    /// Whether any reading or condition of the run was taken with the instrument
    /// called `id`.
    pub fn uses(&self, id: &str) -> bool {
        let in_conditions = self.conditions.values().any(|condition| {
            matches!(condition, ConditionReading::Value { instrument: Some(used), .. } if used == id)
        });
        let in_readings = self.readings.values().any(|reading| {
            reading.instrument.as_deref() == Some(id) || reading.timer.as_deref() == Some(id)
        });
        in_conditions || in_readings
    }
}

/// A condition as it was found.
#[derive(Debug, Clone, PartialEq)]
pub enum ConditionReading {
    /// A value, and the id of the instrument that gave it.
    Value {
        /// The value.
        value: Quantity,
        /// The instrument.
        instrument: Option<String>,
    },
    /// Words.
    Text(String),
}

/// One measure's reading in one run.
#[derive(Debug, Clone)]
pub struct Reading {
    /// What was read.
    pub observation: Observation,
    /// The id of the instrument.
    pub instrument: Option<String>,
    /// The id of the timer, where a second instrument timed it.
    pub timer: Option<String>,
    /// An uncertainty stated for this reading, in place of the instrument's.
    pub stated: Option<Stated>,
    /// Anything worth knowing about the reading.
    pub note: Option<String>,
    /// The recording that shows it.
    pub shown_in: Option<ShownIn>,
}

/// Where a recording shows a reading.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ShownIn {
    /// The recording, by its path in the job folder.
    pub file: String,
    /// The second of it, where that is known.
    pub second: Option<u32>,
}

impl ShownIn {
    /// When it shows it, as a player counts: `2:17`, `1:02:17`.
    pub fn time(&self) -> Option<String> {
        let second = self.second?;
        let (hours, minutes, seconds) = (second / 3600, second / 60 % 60, second % 60);
        Some(match hours {
            0 => format!("{minutes}:{seconds:02}"),
            _ => format!("{hours}:{minutes:02}:{seconds:02}"),
        })
    }
}

/// What was read.
#[derive(Debug, Clone)]
pub enum Observation {
    /// One value, or repeats of it; at least one.
    Value(Vec<Quantity>),
    /// One value, or repeats of it, at each position.
    ValueAt(PerPosition<Vec<Quantity>>),
    /// Passes of attempts.
    Passes(Count),
    /// Passes of attempts at each position.
    PassesAt(PerPosition<Count>),
    /// A grade by its place on the scale, or an exact count.
    Exact(u32),
    /// The same at each position.
    ExactAt(PerPosition<u32>),
    /// Counted events.
    Rate(Counted),
    /// What the machine has stored; may be empty.
    List(Vec<ListItem>),
    /// Exhaust smoke.
    Smoke(Smoke),
    /// Words.
    Text(String),
    /// It was not read, and why.
    NotTaken(String),
}

/// How many of a number of attempts passed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Count {
    passes: u32,
    attempts: u32,
}

impl Count {
    /// Returns `None` when there was no attempt, or when more passed than were attempted.
    pub fn new(passes: u32, attempts: u32) -> Option<Self> {
        (attempts > 0 && passes <= attempts).then_some(Self { passes, attempts })
    }

    /// How many passed.
    pub fn passes(&self) -> u32 {
        self.passes
    }

    /// How many attempts there were.
    pub fn attempts(&self) -> u32 {
        self.attempts
    }
}

/// Exhaust smoke as it was seen or measured.
#[derive(Debug, Clone)]
pub struct Smoke {
    /// Opacity by an instrument, once or by repeated acceleration; may be empty.
    pub opacity: Vec<Quantity>,
    /// The length of the instrument's light path through the smoke.
    pub path: Option<Quantity>,
    /// How it looked.
    pub appearance: Option<Appearance>,
    /// Time until no smoke was seen.
    pub clear: Option<Quantity>,
    /// What was seen, in words.
    pub words: Option<String>,
}

/// The colour of smoke, with a Ringelmann number where that chart applies.
#[derive(Debug, Clone)]
pub struct Appearance {
    /// The colour.
    pub colour: String,
    /// The Ringelmann number, 0 to 5, of grey or black smoke; a note, not proof.
    pub ringelmann: Option<Quantity>,
}

/// An expanded uncertainty that somebody stated: a difference, and its coverage factor.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stated {
    /// The expanded uncertainty.
    pub expanded: Quantity,
    /// The coverage factor k.
    pub k: f64,
    /// The effective degrees of freedom of that factor, where they are stated.
    pub dof: Option<f64>,
}

impl Stated {
    /// The standard uncertainty, in SI units (JCGM 100:2008, 4.3.3).
    pub fn u(&self) -> f64 {
        self.expanded.difference_si() / self.k
    }
}

/// A recording that belongs to a run or to the work: sealed, never read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Recording {
    /// Its path in the job folder.
    pub file: String,
    /// What it is, in words for the report.
    pub caption: String,
}

/// A photo that belongs to a run or to the work.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Photo {
    /// Its path in the job folder.
    pub file: String,
    /// What it shows, in words for the report.
    pub caption: String,
    /// The alternative text; the caption serves where there is none.
    pub alt: Option<String>,
    /// The name it shares with the photo of the same thing in the other run.
    pub pair: Option<String>,
    /// When the camera says it was taken.
    pub taken: Option<CaptureTime>,
}

/// When a camera says that a photo was taken: its clock, and the offset from UTC
/// where it knows one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CaptureTime {
    /// What the camera's clock showed.
    pub local: NaiveDateTime,
    /// The clock's offset from UTC; many cameras write none.
    pub offset: Option<FixedOffset>,
}

impl CaptureTime {
    /// The moment; where the camera knows no offset, as if it were `elsewhere`.
    pub fn at(&self, elsewhere: FixedOffset) -> Option<DateTime<FixedOffset>> {
        let offset = self.offset.unwrap_or(elsewhere);
        self.local.and_local_timezone(offset).single()
    }
}
