//! What was done between the two runs.

use chrono::{DateTime, FixedOffset, NaiveDate};
use iso_currency::Currency;
use rust_decimal::Decimal;
use schemars::JsonSchema;
use serde::Deserialize;

use super::run::{Photo, Recording};
use crate::quantity::Quantity;

/// The work, what led to it and what came with it.
#[derive(Debug, Clone)]
pub struct Work {
    /// When it started.
    pub started: DateTime<FixedOffset>,
    /// When it was finished.
    pub finished: DateTime<FixedOffset>,
    /// Who did it.
    pub by: String,
    /// What was done, one entry for each thing; at least one.
    pub interventions: Vec<Intervention>,
    /// Parts fitted.
    pub parts: Vec<Part>,
    /// Fluids and consumables used.
    pub fluids: Vec<Fluid>,
    /// What was tested and found good.
    pub ruled_out: Vec<RuledOut>,
    /// Further defects that were found.
    pub also_found: Vec<FurtherDefect>,
    /// How long the machine ran between the work and the retest.
    pub run_in: Option<RunIn>,
    /// Hours of labour.
    pub labour: Option<Quantity>,
    /// What it cost.
    pub cost: Option<Cost>,
    /// What did not have to be bought.
    pub not_needed: Vec<NotNeeded>,
    /// What the customer should watch for.
    pub watch: Vec<String>,
    /// When to come back.
    pub follow_up: Option<NaiveDate>,
    /// The shop's warranty on the work, in its own words.
    pub warranty: Option<String>,
    /// Why the report was made again for the customer, once for each issue after the first.
    pub reissued: Vec<String>,
    /// Photos taken during the work.
    pub photos: Vec<Photo>,
    /// Recordings made during the work.
    pub recordings: Vec<Recording>,
}

impl Work {
    /// Which issue of the report this is, from 1.
    pub fn issue(&self) -> usize {
        self.reissued.len() + 1
    }

    /// What could have brought the change about: every intervention, and every
    /// defect that was also found and repaired.
    pub fn contributions(&self) -> Vec<Contribution<'_>> {
        self.interventions
            .iter()
            .map(|intervention| Contribution::Intervention(&intervention.what))
            .chain(
                self.also_found
                    .iter()
                    .filter(|finding| finding.is_repaired())
                    .map(|finding| Contribution::AlsoRepaired(&finding.what)),
            )
            .collect()
    }
}

/// One thing that could have brought a change about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Contribution<'a> {
    /// Work that was meant to.
    Intervention(&'a str),
    /// A defect that was also found and repaired.
    AlsoRepaired(&'a str),
}

/// One thing that was done.
#[derive(Debug, Clone)]
pub struct Intervention {
    /// What was done.
    pub what: String,
    /// Why it was done.
    pub why: Option<String>,
}

/// A part that was fitted.
#[derive(Debug, Clone)]
pub struct Part {
    /// What it is.
    pub name: String,
    /// Its part number.
    pub number: Option<String>,
    /// How many.
    pub quantity: u32,
    /// What was charged for all of them, in the currency of the cost.
    pub price: Option<Decimal>,
}

/// A fluid or consumable that was used.
#[derive(Debug, Clone)]
pub struct Fluid {
    /// What it is.
    pub name: String,
    /// How much.
    pub amount: Quantity,
}

/// Something that was tested and found good.
#[derive(Debug, Clone)]
pub struct RuledOut {
    /// What was suspected.
    pub what: String,
    /// How it was tested, and what was found.
    pub how: String,
}

/// A further defect that was found.
#[derive(Debug, Clone)]
pub struct FurtherDefect {
    /// What was found.
    pub what: String,
    /// What became of it.
    pub outcome: DefectOutcome,
    /// What was done or advised.
    pub note: Option<String>,
}

impl FurtherDefect {
    /// Whether it was repaired; otherwise it was left.
    pub fn is_repaired(&self) -> bool {
        match self.outcome {
            DefectOutcome::Repaired => true,
            DefectOutcome::Left => false,
        }
    }
}

/// What became of a further defect.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum DefectOutcome {
    /// It was repaired.
    Repaired,
    /// It was left as is.
    Left,
}

/// How long the machine ran between the work and the retest.
#[derive(Debug, Clone)]
pub struct RunIn {
    /// Running time.
    pub time: Option<Quantity>,
    /// Distance.
    pub distance: Option<Quantity>,
    /// Number of starts.
    pub starts: Option<u32>,
    /// Anything else about it.
    pub note: Option<String>,
}

/// What the work cost, in one currency.
#[derive(Debug, Clone)]
pub struct Cost {
    /// The currency (ISO 4217).
    pub currency: Currency,
    /// Labour.
    pub labour: Option<Decimal>,
    /// Parts and fluids.
    pub parts: Option<Decimal>,
    /// The total, as charged.
    pub total: Decimal,
}

impl Cost {
    /// What the total holds beside labour and parts, such as tax. None where one of the two
    /// is not told, or they make up the total.
    pub fn rest(&self) -> Option<Decimal> {
        let rest = self.total - self.labour? - self.parts?;
        (!rest.is_zero()).then_some(rest)
    }
}

/// Something that did not have to be bought.
#[derive(Debug, Clone)]
pub struct NotNeeded {
    /// What was not needed.
    pub what: String,
    /// What it would have cost, and whose estimate that is.
    pub estimate: Option<(Decimal, String)>,
}
