//! A value of another type than its key takes: what it is, what is wanted, and how to write
//! it.

use serde_json::Value as Json;

use super::slips::as_moment;
use super::spelling::listed;
use super::toml_tree::Value;

/// Stands for the two types of what may be a number or text.
pub const NUMBER_OR_NAME: &str = "number or name";

/// What is wrong with the value `found` for the key `name`, which takes what `node` says, and
/// what to do.
pub fn wrong_type(name: &str, wanted: &str, node: &Json, found: &Value) -> (String, String) {
    let moment = node["format"].as_str();
    let wants = match (wanted, moment) {
        ("object", _) => "a table of keys",
        ("array", _) => "a list between `[` and `]`",
        (_, Some("date")) => "a date, such as 2026-03-05, without quotes",
        (_, Some(_)) if wanted == "string" => {
            "a time, such as 2026-03-05T06:40:00+01:00, without quotes"
        }
        ("string", _) => "text between quotes",
        ("boolean", _) => "true or false",
        ("integer", _) => "a whole number",
        (NUMBER_OR_NAME, _) => "a number, or a name between quotes",
        _ => "a number",
    };
    let message = format!("`{name}` is {}, not {wants}", describe(found));
    let hint = match (wanted, found) {
        ("number" | "integer", Value::Text(text)) if text.trim().parse::<f64>().is_ok() => {
            format!("remove the quotes: {name} = {}", text.trim())
        }
        ("number" | "integer", Value::Text(text))
            if text
                .chars()
                .all(|c| c.is_ascii_digit() || ",.+-".contains(c)) =>
        {
            "write the number without quotes and with a decimal point".to_owned()
        }
        ("object", Value::Number { .. } | Value::Text(_))
            if node["properties"]["value"].is_object() =>
        {
            format!("write {name} = {{ value = …, unit = \"…\" }}")
        }
        ("object", Value::Text(_) | Value::Number { .. }) => {
            let keys = node["properties"].as_object();
            let keys: Vec<&str> = keys
                .into_iter()
                .flat_map(|map| map.keys())
                .map(String::as_str)
                .collect();
            let first = keys.first().copied().unwrap_or("…");
            format!(
                "write {name} = {{ {first} = … }}; its keys are {}",
                listed(&keys)
            )
        }
        ("object", Value::List(_)) => {
            format!("write its header with single brackets: `[…{name}]`, not `[[…{name}]]`")
        }
        // Of a reading; a condition takes one value only, and is told so.
        ("number", Value::List(_)) if name == "value" => {
            "several readings of one thing are written `values = [ 5.6, 5.7 ]`; of a condition or \
             a meter, write one number"
                .to_owned()
        }
        ("number", Value::Text(_)) => {
            "write only the number, without quotes, ~, unit or currency".to_owned()
        }
        ("array", Value::Text(_)) => format!("write {name} = [\"…\"], even for a single entry"),
        ("array", _) => format!("write {name} = [ … ], or `[[{name}]]` for a list of tables"),
        ("string", Value::Text(text)) => as_moment(text).map_or_else(
            || format!("write {wants}"),
            |told| told + ", without quotes",
        ),
        _ => format!("write {wants}"),
    };
    (message, hint)
}

fn describe(value: &Value) -> &'static str {
    match value {
        Value::Text(_) => "text",
        Value::Number { .. } => "a number",
        Value::Boolean(_) => "true or false",
        Value::Moment(_) => "a date or time",
        Value::List(_) => "a list",
        Value::Table(_) => "a table",
    }
}
