//! The shapes of the files in a job folder, key by key.
//!
//! These types are the one definition of the format: serde reads files by them,
//! schemars makes the published JSON Schemas from them, and
//! `schema_check` checks files against those schemas so that every problem
//! is found at once. The comments on the keys become the schema's descriptions
//! and the reference in `samples/FORMAT.md`; write them for the person at the
//! bench.

mod job;
mod limits;
mod run;
mod shop;
mod work;

use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator, generate::SchemaSettings, json_schema};
use serde::Deserialize;
use toml::value::Datetime;

pub use job::{CustomerTable, InstrumentTable, JobFile, MachineTable};
pub use limits::{
    BandsTable, BeforeTable, ConditionTable, KindWord, LimitRow, LimitsFile, MeasureTable,
    PointsTable, PositionsTable, RunToRunTable, ValueTable,
};
pub use run::{
    ConditionValue, ItemRow, MeterTable, PhotoTable, PositionRow, ReadingTable, RecordingTable,
    RunFile,
};
pub use shop::ShopFile;
pub use work::{
    CostTable, FluidTable, FurtherDefectTable, InterventionTable, LabourTable, NotNeededTable,
    PartTable, RuledOutTable, RunInTable, WorkFile,
};

/// The version of the format that this program reads and writes.
pub const FORMAT: u32 = 1;

/// A point in time: a TOML date-time with its offset from UTC.
#[derive(Debug, Clone, Copy, Deserialize)]
#[serde(transparent)]
pub struct Moment(pub Datetime);

impl JsonSchema for Moment {
    fn schema_name() -> Cow<'static, str> {
        "Moment".into()
    }

    fn inline_schema() -> bool {
        true
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "type": "string", "format": "date-time" })
    }
}

/// A calendar day: a TOML date.
#[derive(Debug, Clone, Copy, Deserialize)]
#[serde(transparent)]
pub struct Day(pub Datetime);

impl JsonSchema for Day {
    fn schema_name() -> Cow<'static, str> {
        "Day".into()
    }

    fn inline_schema() -> bool {
        true
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "type": "string", "format": "date" })
    }
}

/// What a position goes by: its number, such as 3, its setting, such as 0.5, or its name, such
/// as "hall".
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(untagged)]
pub enum PositionName {
    /// A number.
    Number(f64),
    /// A name.
    Name(String),
}

impl std::fmt::Display for PositionName {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Number(number) => number.fmt(f),
            Self::Name(name) => name.fmt(f),
        }
    }
}

impl JsonSchema for PositionName {
    fn schema_name() -> Cow<'static, str> {
        "PositionName".into()
    }

    fn inline_schema() -> bool {
        true
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "type": ["number", "string"],
            "minLength": 1,
            "maxLength": 40
        })
    }
}

/// The JSON Schema of each file, by the file's name without its ending.
pub fn schemas() -> Vec<(&'static str, Schema)> {
    vec![
        ("shop", schema_of::<ShopFile>()),
        ("job", schema_of::<JobFile>()),
        ("limits", schema_of::<LimitsFile>()),
        ("run", schema_of::<RunFile>()),
        ("work", schema_of::<WorkFile>()),
    ]
}

/// The JSON Schema of one file type, in the dialect that TOML editors read.
pub fn schema_of<T: JsonSchema>() -> Schema {
    SchemaSettings::draft07()
        .into_generator()
        .into_root_schema_for::<T>()
}
