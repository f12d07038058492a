//! What a plan asks a run for, as the file of a run: every reading and condition, with nothing
//! read yet.

use toml_edit::{Array, DocumentMut, InlineTable, Item, Table, Value};

use super::blank::FIGURE;
use crate::job::Positions;
use crate::quantity::Unit;

/// A run with a nought, or no text, wherever the plan asks for something.
pub fn planned(job: &str, limits: &str) -> Option<DocumentMut> {
    let job: DocumentMut = job.parse().ok()?;
    let limits: DocumentMut = limits.parse().ok()?;
    let list = |document: &DocumentMut, key: &str| -> Vec<Table> {
        let tables = document.get(key).and_then(Item::as_array_of_tables);
        tables.map_or_else(Vec::new, |tables| tables.iter().cloned().collect())
    };
    let instruments = list(&job, "instrument");
    // The first instrument whose errors are in a unit that serves.
    let instrument = |symbol: &str| {
        let of = Unit::named(symbol)?.dimension();
        let serves = |table: &&Table| {
            let unit = word(table, "unit").as_deref().and_then(Unit::named);
            unit.is_some_and(|unit| unit.dimension().serves(of))
        };
        word(instruments.iter().find(serves)?, "id")
    };
    let mut plan = DocumentMut::new();
    let mut conditions = Table::new();
    for condition in list(&limits, "condition") {
        let Some(id) = word(&condition, "id") else {
            continue;
        };
        let mut row = InlineTable::new();
        match word(&condition, "unit") {
            None => drop(row.insert("text", Value::from(FIGURE))),
            Some(unit) => {
                let with = instrument(&unit);
                row.insert("unit", Value::from(unit));
                row.extend(with.map(|id| ("instrument", Value::from(id))));
            }
        }
        conditions.insert(&id, toml_edit::value(row));
    }
    plan.insert("condition", Item::Table(conditions));
    let positions = list(&limits, "positions");
    let machine = job.get("machine").and_then(Item::as_table_like);
    let cylinders = machine.and_then(|table| table.get("cylinders")?.as_integer());
    let mut readings = Table::new();
    readings.set_implicit(true);
    for measure in list(&limits, "measure") {
        // What is worked out is not read.
        let id = word(&measure, "id").filter(|_| !measure.contains_key("worked_out"));
        let Some(id) = id else { continue };
        let names = word(&measure, "at").map(|at| match at.as_str() {
            Positions::CYLINDERS => (1..=cylinders.unwrap_or(0))
                .map(|number| number.to_string())
                .collect(),
            at => names_of(&positions, at),
        });
        let (figures, unit, read_in) = figures(&measure);
        let mut table = Table::new();
        if names.is_none() {
            for key in &figures {
                table.insert(key, Item::Value(nothing(key)));
            }
        }
        if let Some(unit) = unit {
            table.insert("unit", toml_edit::value(unit));
        }
        if let Some(id) = read_in.as_deref().and_then(instrument) {
            table.insert("instrument", toml_edit::value(id));
        }
        if let Some(names) = names {
            let rows = names.into_iter().map(|name: String| {
                let mut row = InlineTable::new();
                let number = name.parse::<i64>();
                row.insert("at", number.map_or_else(|_| Value::from(name), Value::from));
                row.extend(figures.iter().map(|key| (*key, nothing(key))));
                row
            });
            table.insert("rows", toml_edit::value(rows.collect::<Array>()));
        }
        readings.insert(&id, Item::Table(table));
    }
    plan.insert("reading", Item::Table(readings));
    Some(plan)
}

fn word(table: &Table, key: &str) -> Option<String> {
    table.get(key).and_then(Item::as_str).map(str::to_owned)
}

/// The keys that a reading of `measure` is written with, its unit, and the unit of the
/// instrument that it needs.
fn figures(measure: &Table) -> (Vec<&'static str>, Option<String>, Option<String>) {
    let has = |key: &str| measure.contains_key(key);
    let unit = word(measure, "unit");
    match word(measure, "kind").unwrap_or_default().as_str() {
        "value" => (vec!["value"], unit.clone(), unit),
        "passes" => (vec!["passes", "attempts"], None, None),
        "grade" => (vec!["grade"], None, None),
        "count" if has("per") => (vec!["count", "over"], word(measure, "per"), None),
        "count" => (vec!["count"], None, None),
        "list" => (vec!["items"], None, None),
        "smoke" if has("max_opacity_percent") || has("max_absorption") => (
            vec!["opacity_percent", "clear_seconds", "colour"],
            None,
            Some("%".to_owned()),
        ),
        "smoke" => (vec!["clear_seconds", "colour"], None, None),
        _ => (vec!["text"], None, None),
    }
}

/// What stands under a key of a reading before anything is read.
fn nothing(key: &str) -> Value {
    match key {
        "text" | "colour" | "grade" => Value::from(""),
        "items" => Value::from(Array::new()),
        _ => Value::from(0),
    }
}

/// The names of the positions with this id, in their order.
fn names_of(positions: &[Table], id: &str) -> Vec<String> {
    let is_it = |table: &&Table| table.get("id").and_then(Item::as_str) == Some(id);
    let Some(table) = positions.iter().find(is_it) else {
        return Vec::new();
    };
    let count = table.get("count").and_then(Item::as_integer).unwrap_or(0);
    match table.get("names").and_then(Item::as_array) {
        Some(names) => names
            .iter()
            .filter_map(Value::as_str)
            .map(str::to_owned)
            .collect(),
        None => (1..=count).map(|number| number.to_string()).collect(),
    }
}
