//! A run's file with its figures taken out: the same rows, units and instruments, to be filled
//! in again. What was taken out stands as a comment that shows how to write it.

use toml_edit::{Array, DocumentMut, InlineTable, Item, Table, Value};

use crate::quantity::Unit;

/// What stands for a figure in a comment.
const FIGURE: &str = "…";

/// `text`, the file of a run, with no figure, time, name, photo or remark in it; `head` are the
/// lines that it begins with. Nothing if it is no TOML.
pub fn run(text: &str, head: &str) -> Option<String> {
    let document: DocumentMut = text.parse().ok()?;
    let mut out = format!(
        "{head}\n\nformat = 1\n# started = 2026-01-22T07:40:00+00:00   # day, time and offset from UTC\n\
         # by = \"Who measured\"\n# witness = [\"Who else saw it\"]\n"
    );
    if let Some(meter) = document.get("meter").and_then(Item::as_table_like) {
        let unit = meter.get("unit").and_then(Item::as_str).unwrap_or("h");
        out += &format!("# meter = {{ value = {FIGURE}, unit = \"{unit}\" }}\n");
    }
    if let Some(conditions) = document.get("condition").and_then(Item::as_table_like) {
        out += "\n[condition]\n";
        for (id, item) in conditions.iter() {
            if let Some(table) = item.as_table_like() {
                out += &format!("# {id} = {{ {} }}\n", condition(table));
            }
        }
    }
    if let Some(readings) = document.get("reading").and_then(Item::as_table_like) {
        for (id, item) in readings.iter() {
            if let Some(table) = item.as_table_like() {
                out += &format!("\n[reading.{id}]\n{}", reading(table));
            }
        }
    }
    out += "\n# [[photo]]\n# file = \"photos/name.jpg\"\n# caption = \"What it shows\"\n";
    Some(out)
}

/// The file of a run as a plan asks for it: `job` and `limits` are the texts of job.toml and
/// limits.toml. Nothing if they are no TOML.
pub fn run_of_plan(job: &str, limits: &str, head: &str) -> Option<String> {
    let job: DocumentMut = job.parse().ok()?;
    let limits: DocumentMut = limits.parse().ok()?;
    let list = |document: &DocumentMut, key: &str| -> Vec<Table> {
        let tables = document.get(key).and_then(Item::as_array_of_tables);
        tables.map_or_else(Vec::new, |tables| tables.iter().cloned().collect())
    };
    let word = |table: &Table, key: &str| table.get(key).and_then(Item::as_str).map(str::to_owned);
    let instruments = list(&job, "instrument");
    // The first instrument whose errors are in a unit that serves.
    let instrument = |symbol: &str| {
        let of = Unit::named(symbol)?.dimension();
        let serves = |table: &&Table| {
            let unit = table
                .get("unit")
                .and_then(Item::as_str)
                .and_then(Unit::named);
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
    let mut readings = Table::new();
    readings.set_implicit(true);
    for measure in list(&limits, "measure") {
        let Some(id) = word(&measure, "id") else {
            continue;
        };
        let kind = word(&measure, "kind").unwrap_or_default();
        let names = word(&measure, "at").map(|at| names_of(&positions, &at));
        let mut table = Table::new();
        let figures: &[&str] = match kind.as_str() {
            "value" => &["value"],
            "passes" => &["passes", "attempts"],
            "grade" => &["grade"],
            "count" if measure.contains_key("per") => &["count", "over"],
            "count" => &["count"],
            "list" => &["items"],
            "smoke" => &["clear_seconds", "colour"],
            _ => &["text"],
        };
        if names.is_none() {
            for key in figures {
                let is_text = matches!(*key, "text" | "colour" | "grade");
                table.insert(
                    key,
                    if is_text {
                        toml_edit::value("")
                    } else {
                        toml_edit::value(0)
                    },
                );
            }
        }
        if let Some(unit) = word(&measure, "unit") {
            let with = instrument(&unit);
            table.insert("unit", toml_edit::value(unit));
            if let Some(id) = with {
                table.insert("instrument", toml_edit::value(id));
            }
        }
        if let Some(names) = names {
            let mut rows = Array::new();
            for name in names {
                let mut row = InlineTable::new();
                let number = name.parse::<i64>();
                row.insert("at", number.map_or_else(|_| Value::from(name), Value::from));
                row.extend(figures.iter().map(|key| (*key, Value::from(0))));
                rows.push(row);
            }
            table.insert("rows", toml_edit::value(rows));
        }
        readings.insert(&id, Item::Table(table));
    }
    plan.insert("reading", Item::Table(readings));
    run(&plan.to_string(), head)
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

/// A value as TOML writes it.
fn quoted(text: &str) -> String {
    Value::from(text).to_string()
}

fn condition(table: &dyn toml_edit::TableLike) -> String {
    if table.contains_key("text") {
        return format!("text = \"{FIGURE}\"");
    }
    let mut parts = vec![format!("value = {FIGURE}")];
    for key in ["unit", "instrument"] {
        let text = table.get(key).and_then(Item::as_str);
        parts.extend(text.map(|text| format!("{key} = {}", quoted(text))));
    }
    parts.join(", ")
}

/// The keys of a reading that say how it is read, and stay.
const KEPT: [&str; 7] = [
    "unit",
    "instrument",
    "timer",
    "path_length_mm",
    "uncertainty",
    "k",
    "dof",
];
/// Those that say what was read, in whose place a comment stands.
const READ: [&str; 13] = [
    "value",
    "values",
    "passes",
    "attempts",
    "opacity_percent",
    "colour",
    "clear_seconds",
    "words",
    "text",
    "grade",
    "count",
    "over",
    "items",
];

fn reading(table: &dyn toml_edit::TableLike) -> String {
    let mut text = String::new();
    for key in READ {
        let Some(item) = table.get(key) else { continue };
        let blank = match item {
            Item::Value(Value::String(_)) => format!("\"{FIGURE}\""),
            Item::Value(Value::Array(_)) if key == "items" => {
                format!("[ {{ code = \"{FIGURE}\", text = \"{FIGURE}\" }} ]")
            }
            Item::Value(Value::Array(list)) => {
                format!("[ {} ]", vec![FIGURE; list.len()].join(", "))
            }
            _ => FIGURE.to_owned(),
        };
        text += &format!("# {key} = {blank}\n");
    }
    for key in KEPT {
        if let Some(value) = table.get(key).and_then(Item::as_value) {
            text += &format!("{key} = {}\n", value.clone().decorated("", ""));
        }
    }
    if let Some(rows) = table.get("rows").and_then(Item::as_array) {
        text += "rows = [\n";
        for row in rows.iter().filter_map(Value::as_inline_table) {
            text += &format!("  # {{ {} }},\n", row_blank(row));
        }
        text += "]\n";
    }
    text
}

fn row_blank(row: &InlineTable) -> String {
    let mut parts = Vec::new();
    for (key, value) in row.iter() {
        match (key, value) {
            ("at", value) => parts.push(format!("at = {}", value.clone().decorated("", ""))),
            ("values", Value::Array(list)) => {
                parts.push(format!(
                    "values = [ {} ]",
                    vec![FIGURE; list.len()].join(", ")
                ));
            }
            ("not_taken", _) => parts.push(format!("value = {FIGURE}")),
            (key, _) => parts.push(format!("{key} = {FIGURE}")),
        }
    }
    parts.join(", ")
}

/// `text`, the job.toml of another job, for a new one: its instruments stay, and machine and
/// customer where the machine is the `same`. Nothing if it is no TOML.
pub fn job(text: &str, same: bool) -> Option<String> {
    let mut document: DocumentMut = text.parse().ok()?;
    let root = document.as_table_mut();
    for key in ["job", "complaint"] {
        blank(root, key);
    }
    root.remove("received");
    if !same {
        for key in ["customer", "machine"] {
            let Some(table) = root.get_mut(key).and_then(Item::as_table_like_mut) else {
                continue;
            };
            // What it has and counts belongs to the plan.
            let kept = ["name", "cylinders", "meter"];
            let gone: Vec<String> = table
                .iter()
                .map(|(key, _)| key.to_owned())
                .filter(|key| !kept.contains(&key.as_str()))
                .collect();
            for key in gone {
                table.remove(&key);
            }
            table.insert("name", toml_edit::value(""));
        }
    }
    Some(document.to_string())
}

fn blank(table: &mut Table, key: &str) {
    match table.get_mut(key).and_then(Item::as_value_mut) {
        Some(value) => {
            let decor = value.decor().clone();
            *value = Value::from("");
            *value.decor_mut() = decor;
        }
        None => {
            table.insert(key, toml_edit::value(""));
        }
    }
}

/// `text`, the limits.toml of another job, for a new one: only with whom it was agreed is
/// taken out. Nothing if it is no TOML.
pub fn limits(text: &str) -> Option<String> {
    let mut document: DocumentMut = text.parse().ok()?;
    document.as_table_mut().remove("agreed");
    Some(document.to_string())
}

/// Whether the file of a run has any figure, time or name in it.
pub fn is_begun(text: &str) -> bool {
    let Ok(document) = text.parse::<DocumentMut>() else {
        return true;
    };
    let any = |key: &str| document.get(key).is_some();
    let of = |key: &str| document.get(key).and_then(Item::as_table_like);
    let conditions = of("condition").is_some_and(|table| !table.is_empty());
    let readings = of("reading").is_some_and(|readings| {
        readings.iter().any(|(_, item)| {
            let table = item.as_table_like();
            let figures = |table: &dyn toml_edit::TableLike| {
                READ.iter()
                    .chain(&["not_taken", "note"])
                    .any(|key| table.contains_key(key))
            };
            let rows = |table: &dyn toml_edit::TableLike| {
                let rows = table.get("rows").and_then(Item::as_array);
                rows.is_some_and(|rows: &Array| !rows.is_empty())
            };
            table.is_some_and(|table| figures(table) || rows(table))
        })
    });
    any("started")
        || any("by")
        || any("note")
        || any("photo")
        || any("recording")
        || conditions
        || readings
}

#[cfg(test)]
mod tests {
    use super::*;

    const FAN: &str = include_str!("../../samples/frost-fan/baseline.toml");

    #[test]
    fn a_blank_run_has_every_row_and_no_figure() {
        let text = run(FAN, "# The readings after the work.").unwrap();
        let document: DocumentMut = text.parse().unwrap();
        let code: String = text.lines().filter(|line| !line.starts_with('#')).collect();
        for figure in [
            "12.8",
            "9.94",
            "31.5",
            "7.4",
            "-13.1",
            "Tamsin",
            "1874.2",
            "filter-before",
        ] {
            assert!(!text.contains(figure), "{figure} in {text}");
        }
        assert!(code.contains("instrument = \"watch\""), "{text}");
        assert!(text.contains("# ambient = { value = …, unit = \"°C\", instrument = \"probe\" }"));
        assert!(text.contains("# { at = 4, value = … },"), "{text}");
        assert!(!is_begun(&text) && is_begun(FAN));
        assert_eq!(document["reading"].as_table_like().unwrap().len(), 6);
        // Of itself, it is the same again but for what only comments say.
        assert!(!is_begun(&run(&text, "#").unwrap()));
    }

    #[test]
    fn a_job_like_another_has_its_instruments_and_nothing_of_its_customer() {
        let fan = include_str!("../../samples/frost-fan/job.toml");
        let new = job(fan, false).unwrap();
        assert!(
            new.contains("job = \"\"") && new.contains("MM-5530"),
            "{new}"
        );
        for gone in [
            "E-0412",
            "Brackenhill",
            "FF4-20871",
            "orchard",
            "2026-01-19",
        ] {
            assert!(!new.contains(gone), "{gone} in {new}");
        }
        assert!(new.contains("cylinders = 4"));
        let same = job(fan, true).unwrap();
        assert!(
            same.contains("Brackenhill") && same.contains("FF4-20871"),
            "{same}"
        );
        assert!(!same.contains("E-0412"));
    }
}
