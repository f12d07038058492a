//! A run's file with its figures taken out: the same rows, units and instruments, to be filled
//! in again. What was taken out stands as a comment that shows how to write it.

use toml_edit::{Array, DocumentMut, InlineTable, Item, Table, TableLike, Value};

use super::blank_plan::planned;
use super::document::is_at;

/// What stands for a figure in a comment.
pub const FIGURE: &str = "…";

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

/// `text` with its figures taken out as by [`run`]; what was not taken in it, and what it does
/// not have, is as the plan asks for it. `job` and `limits` are the texts of job.toml and
/// limits.toml.
pub fn run_like(text: &str, job: &str, limits: &str, head: &str) -> Option<String> {
    let mut document: DocumentMut = text.parse().ok()?;
    let plan = planned(job, limits)?;
    for list in ["condition", "reading"] {
        let wanted = plan.get(list).and_then(Item::as_table)?;
        let there = document.entry(list).or_insert_with(|| {
            let mut table = Table::new();
            table.set_implicit(list == "reading");
            Item::Table(table)
        });
        let there = there.as_table_like_mut()?;
        for (id, item) in wanted {
            let was_read = |table: &dyn TableLike| !table.contains_key("not_taken");
            match there.get_mut(id).and_then(Item::as_table_like_mut) {
                Some(table) if was_read(table) => all_rows(table, item),
                _ => drop(there.insert(id, item.clone())),
            }
        }
    }
    run(&document.to_string(), head)
}

/// Gives a reading the rows of the plan that it does not have or that were not taken.
fn all_rows(table: &mut dyn TableLike, planned: &Item) {
    let planned = planned.as_table_like().and_then(|table| table.get("rows"));
    let (Some(planned), Some(rows)) = (
        planned.and_then(Item::as_array),
        table.get_mut("rows").and_then(Item::as_array_mut),
    ) else {
        return;
    };
    rows.retain(|row| {
        let row = row.as_inline_table();
        row.is_none_or(|row| !row.contains_key("not_taken"))
    });
    let (mut all, old) = (Array::new(), rows.clone());
    for row in planned {
        let name = row.as_inline_table().and_then(|row| row.get("at"));
        let name = name.map(|at| match at.as_str() {
            Some(text) => text.to_owned(),
            None => at.to_string().trim().to_owned(),
        });
        let name = name.unwrap_or_default();
        let found = old.iter().find(|row| {
            let row = row.as_inline_table();
            row.is_some_and(|row| is_at(row, &name))
        });
        all.push(found.unwrap_or(row).clone());
    }
    *rows = all;
}

/// The file of a run as a plan asks for it: `job` and `limits` are the texts of job.toml and
/// limits.toml. Nothing if they are no TOML.
pub fn run_of_plan(job: &str, limits: &str, head: &str) -> Option<String> {
    run(&planned(job, limits)?.to_string(), head)
}

/// A value as TOML writes it.
fn quoted(text: &str) -> String {
    Value::from(text).to_string()
}

fn condition(table: &dyn TableLike) -> String {
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
const READ: [&str; 15] = [
    "value",
    "values",
    "passes",
    "attempts",
    "opacity_percent",
    "snaps_percent",
    "colour",
    "ringelmann",
    "clear_seconds",
    "words",
    "text",
    "grade",
    "count",
    "over",
    "items",
];

fn reading(table: &dyn TableLike) -> String {
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
            (key, Value::String(_)) => parts.push(format!("{key} = \"{FIGURE}\"")),
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
    for key in ["received", "order"] {
        root.remove(key);
    }
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
            let figures = |table: &dyn TableLike| {
                READ.iter()
                    .chain(&["not_taken", "note"])
                    .any(|key| table.contains_key(key))
            };
            let rows = |table: &dyn TableLike| {
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

    /// What was not taken before the work is asked for again after it.
    #[test]
    fn a_blank_retest_asks_for_what_was_not_taken_before() {
        let [job, limits, baseline] = [
            include_str!("../../samples/grain-fan-motor/job.toml"),
            include_str!("../../samples/grain-fan-motor/limits.toml"),
            include_str!("../../samples/grain-fan-motor/baseline.toml"),
        ];
        let text = run_like(baseline, job, limits, "#").unwrap();
        assert!(
            text.contains("# { at = \"fan end\", value = … },"),
            "{text}"
        );
        assert!(!text.contains("guard") && !text.contains("insulation-at-40"));
        let whole = baseline.find("[reading.vibration]").unwrap();
        let not_taken = format!(
            "{}[reading.vibration]\nnot_taken = \"No guard key\"\n",
            &baseline[..whole]
        );
        let text = run_like(&not_taken, job, limits, "#").unwrap();
        assert!(
            text.contains("instrument = \"vib\"\nrows = [\n  # { at = \"drive end\", value"),
            "{text}"
        );
    }

    #[test]
    fn a_blank_run_of_a_plan_has_what_is_read_and_nothing_that_is_worked_out() {
        let job = include_str!("../../samples/baler-engine/job.toml");
        let limits = include_str!("../../samples/baler-engine/limits.toml");
        let text = run_of_plan(job, limits, "#").unwrap();
        for row in [
            "# { at = 1, grade = \"…\" },",
            "# { at = 4, value = … },",
            "# items = [ { code = \"…\", text = \"…\" } ]",
            "[reading.dropouts]\n# count = …",
        ] {
            assert!(text.contains(row), "{row} in {text}");
        }
        let fan = include_str!("../../samples/grain-fan-motor/limits.toml");
        let text = run_of_plan(job, fan, "#").unwrap();
        assert!(text.contains("[reading.insulation]") && !text.contains("[reading.unbalance]"));
        let rate = "[[measure]]\nid = \"knocks\"\nkind = \"count\"\nper = \"min\"\n";
        let text = run_of_plan(job, rate, "#").unwrap();
        assert!(
            text.contains("# count = …\n# over = …\nunit = \"min\""),
            "{text}"
        );
    }
}
