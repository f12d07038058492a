//! Checks a file against the schema of its shape, and fills in placeholders for further
//! checks, so that all problems are found at once.
//!
//! The schema is the published one, generated from the types in
//! [`super::shapes`]: what an editor underlines and what this program refuses
//! are the same. Only the keywords that schemars generates are understood; a
//! test checks that no others occur.

use std::ops::Range;

use schemars::Schema;
use serde_json::Value as Json;
use toml::value::Datetime;

use super::Printable;
use super::problem::{Problem, Problems, State};
use super::spelling::{listed, nearest};
use super::toml_tree::{Entry, Node, Value};
use super::wrong_type::{NUMBER_OR_NAME, wrong_type};

/// Adds a problem for every place where the table `root` of `file` departs from `schema`, and
/// returns what it says without them: an unknown key is left out, and a
/// placeholder stands for what is wrong or missing. Without problems, it is the document itself.
pub fn check(
    file: &str,
    root: &[Entry],
    schema: &Schema,
    printable: &Printable<'_>,
    problems: &mut Problems,
) -> toml::Table {
    let mut checker = Checker {
        file,
        root: schema.as_value(),
        printable,
        problems,
    };
    let node = checker.root;
    checker.table(root, None, node)
}

/// The most entries under names of the user's own, such as readings: a plan has fewer measures,
/// and each is looked for among all others.
const MOST_NAMED: usize = 500;

struct Checker<'a> {
    file: &'a str,
    root: &'a Json,
    printable: &'a Printable<'a>,
    problems: &'a mut Problems,
}

impl<'a> Checker<'a> {
    fn problem(
        &mut self,
        span: Option<Range<usize>>,
        message: impl Into<String>,
        hint: impl Into<String>,
    ) {
        self.push(State::Wrong, span, message.into(), hint.into());
    }

    fn push(&mut self, state: State, span: Option<Range<usize>>, message: String, hint: String) {
        self.problems.push(Problem {
            state,
            file: self.file.to_owned(),
            span,
            message,
            hint,
        });
    }

    /// Follows `$ref`, and takes the real branch of an optional value.
    fn resolve(&self, mut node: &'a Json) -> &'a Json {
        loop {
            if let Some(pointer) = node["$ref"].as_str() {
                node = self
                    .root
                    .pointer(pointer.trim_start_matches('#'))
                    .unwrap_or(&Json::Null);
            } else if let Some(all) = node["allOf"].as_array() {
                node = &all[0];
            } else if let Some(any) = node["anyOf"].as_array() {
                let is_null = |branch: &&Json| branch["type"] == "null";
                node = any
                    .iter()
                    .find(|branch| !is_null(branch))
                    .unwrap_or(&Json::Null);
            } else {
                return node;
            }
        }
    }

    fn table(
        &mut self,
        table: &[Entry],
        place: Option<Range<usize>>,
        node: &'a Json,
    ) -> toml::Table {
        let properties = node["properties"].as_object();
        let mut filled = toml::Table::new();
        let mut named = 0;
        for entry in table {
            let name = entry.key.as_str();
            let known = properties.and_then(|properties| properties.get(name));
            let inner = match (known, &node["additionalProperties"]) {
                (Some(inner), _) => inner,
                (None, any @ Json::Object(_)) => {
                    named += 1;
                    if named > MOST_NAMED {
                        let message = format!("there are more than {MOST_NAMED} entries here");
                        let hint = "keep those that the plan names";
                        self.problem(Some(entry.key_span.clone()), message, hint);
                        break;
                    }
                    any
                }
                (None, _) => {
                    self.unknown(entry, node);
                    continue;
                }
            };
            let value = self.value(name, &entry.node, inner);
            filled.insert(entry.key.clone(), value);
        }
        for name in node["required"]
            .as_array()
            .into_iter()
            .flatten()
            .filter_map(Json::as_str)
        {
            let inner = &node["properties"][name];
            if !table.iter().any(|entry| entry.key == name) {
                let what = match kind(self.resolve(inner)) {
                    "array" => format!("[[{name}]]"),
                    "object" => format!("[{name}]"),
                    _ => name.to_owned(),
                };
                self.push(
                    State::NotFilledIn,
                    place.clone(),
                    format!("the key `{name}` is missing"),
                    format!("add `{what}`: {}", self.about(inner)),
                );
            }
            if !filled.contains_key(name) {
                filled.insert(name.to_owned(), self.placeholder(inner));
            }
        }
        filled
    }

    fn unknown(&mut self, entry: &Entry, node: &'a Json) {
        let names: Vec<&str> = node["properties"]
            .as_object()
            .into_iter()
            .flat_map(|map| map.keys().map(String::as_str))
            .collect();
        let hint = match nearest(&entry.key, &names) {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("the known keys here are {}", listed(&names)),
        };
        let message = format!("the key `{}` is unknown", entry.key);
        self.problem(Some(entry.key_span.clone()), message, hint);
    }

    /// Something of the right type for a value that is missing or wrong.
    fn placeholder(&self, node: &'a Json) -> toml::Value {
        let node = self.resolve(node);
        let moment = |text: &str| {
            text.parse()
                .map_or(toml::Value::Boolean(false), toml::Value::Datetime)
        };
        if let Some(words) = choices(node) {
            return toml::Value::String(words.first().copied().unwrap_or_default().to_owned());
        }
        match (kind(node), node["format"].as_str()) {
            ("string", Some("date")) => moment("2000-01-01"),
            ("string", Some("date-time")) => moment("2000-01-01T00:00:00Z"),
            ("string", _) => toml::Value::String("?".to_owned()),
            ("boolean", _) => toml::Value::Boolean(false),
            ("array", _) => toml::Value::Array(Vec::new()),
            ("object", _) => {
                let required = node["required"].as_array().into_iter().flatten();
                let keys = required.filter_map(Json::as_str);
                toml::Value::Table(
                    keys.map(|key| (key.to_owned(), self.placeholder(&node["properties"][key])))
                        .collect(),
                )
            }
            // As many as may be: a placeholder for attempts must not be fewer than passes.
            _ => toml::Value::Integer(node["maximum"].as_i64().unwrap_or(1)),
        }
    }

    /// The first sentence of a key's description.
    fn about(&self, node: &'a Json) -> String {
        let text = node["description"]
            .as_str()
            .or_else(|| self.resolve(node)["description"].as_str())
            .unwrap_or("see samples/FORMAT.md");
        text.split("\n\n").next().unwrap_or(text).replace('\n', " ")
    }

    fn value(&mut self, name: &str, found: &Node, node: &'a Json) -> toml::Value {
        let node = self.resolve(node);
        self.checked(name, found, node)
            .unwrap_or_else(|| self.placeholder(node))
    }

    /// Checks one value; what is wrong comes back as nothing.
    fn checked(&mut self, name: &str, found: &Node, node: &'a Json) -> Option<toml::Value> {
        let span = &found.span;
        let before = self.problems.len();
        let value = match (choices(node), kind(node), &found.value) {
            (Some(words), ..) => toml::Value::String(self.choice(name, found, &words)?),
            (None, "object", Value::Table(table)) => {
                // A table is kept whatever is wrong in it: placeholders were filled in.
                return Some(toml::Value::Table(self.table(
                    table,
                    Some(span.clone()),
                    node,
                )));
            }
            (None, "array", Value::List(list)) => {
                self.length(name, list.len(), "entries", span, node, "Items");
                // Beyond the longest list there is nothing to look at.
                let most = node["maxItems"].as_u64().unwrap_or(u64::MAX);
                let items = list
                    .iter()
                    .take(usize::try_from(most).unwrap_or(usize::MAX))
                    .map(|item| self.value(name, item, &node["items"]));
                return Some(toml::Value::Array(items.collect()));
            }
            (None, "string", Value::Moment(moment)) if node["format"].is_string() => {
                self.moment(name, moment, span, node);
                toml::Value::Datetime(*moment)
            }
            (None, NUMBER_OR_NAME, Value::Text(text)) => {
                self.text(name, text, span, node);
                toml::Value::String(text.clone())
            }
            (None, "string", Value::Text(text)) if node["format"].is_null() => {
                self.text(name, text, span, node);
                toml::Value::String(text.clone())
            }
            (None, "boolean", Value::Boolean(value)) => toml::Value::Boolean(*value),
            (None, "number", Value::Number { value, .. }) => {
                toml::Value::Float(self.number(name, *value, span, node)?)
            }
            (None, NUMBER_OR_NAME, Value::Number { value, .. }) => {
                toml::Value::Float(self.number(name, *value, span, node)?)
            }
            (
                None,
                "integer",
                Value::Number {
                    value, whole: true, ..
                },
            ) => toml::Value::Integer(self.number(name, *value, span, node)? as i64),
            (None, wanted, value) => {
                let (message, hint) = wrong_type(name, wanted, node, value);
                self.problem(Some(span.clone()), message, hint);
                return None;
            }
        };
        (self.problems.len() == before).then_some(value)
    }

    fn choice(&mut self, name: &str, found: &Node, words: &[&str]) -> Option<String> {
        let written = match &found.value {
            Value::Text(word) => word.as_str(),
            _ => "",
        };
        if words.contains(&written) {
            return Some(written.to_owned());
        }
        let hint = match nearest(written, words) {
            Some(near) => format!("did you mean \"{near}\"? It takes {}", listed(words)),
            None => format!("write one of {}, between quotes", listed(words)),
        };
        let message = format!("this is not a value for `{name}`");
        self.problem(Some(found.span.clone()), message, hint);
        None
    }

    fn text(&mut self, name: &str, text: &str, span: &Range<usize>, node: &'a Json) {
        self.length(
            name,
            text.chars().count(),
            "characters",
            span,
            node,
            "Length",
        );
        if text.trim().is_empty() && node["minLength"].as_u64() == Some(1) && !text.is_empty() {
            self.problem(
                Some(span.clone()),
                format!("`{name}` is blank"),
                "write something, or delete the line",
            );
        }
        let in_print = |c: &char| matches!(c, '\n' | '\r' | '\t') || (self.printable)(*c);
        if let Some(bad) = text.chars().find(|c| !in_print(c)) {
            let shown = if bad.is_control() || is_invisible(bad) {
                String::new()
            } else {
                format!("`{bad}` ")
            };
            self.problem(
                Some(span.clone()),
                format!(
                    "`{name}` has a character that cannot be printed: {shown}U+{:04X}",
                    bad as u32
                ),
                "the fonts cover Latin, Greek, Cyrillic and Vietnamese; use only those letters",
            );
        }
    }

    fn length(
        &mut self,
        name: &str,
        length: usize,
        what: &str,
        span: &Range<usize>,
        node: &'a Json,
        keyword: &str,
    ) {
        let bound = |end: &str| node[format!("{end}{keyword}")].as_u64();
        if let Some(max) = bound("max").filter(|max| length as u64 > *max) {
            self.problem(
                Some(span.clone()),
                format!("`{name}` has {length} {what}"),
                format!("shorten it to at most {max}"),
            );
        }
        if let Some(min) = bound("min").filter(|min| (length as u64) < *min) {
            if length == 0 {
                let hint = self.about(node);
                let message = format!("`{name}` is empty");
                self.push(State::NotFilledIn, Some(span.clone()), message, hint);
            } else {
                let one = match what {
                    "entries" => "entry",
                    _ => "character",
                };
                let what = if length == 1 { one } else { what };
                self.problem(
                    Some(span.clone()),
                    format!("`{name}` has only {length} {what}, and needs {min}"),
                    self.about(node),
                );
            }
        }
    }

    fn number(
        &mut self,
        name: &str,
        value: Option<f64>,
        span: &Range<usize>,
        node: &'a Json,
    ) -> Option<f64> {
        let mut problem = |message: &str, hint: &str| {
            self.problem(Some(span.clone()), format!("`{name}` {message}"), hint);
            None
        };
        let Some(number) = value else {
            return problem(
                "is not a number this program can handle",
                "write it with fewer digits",
            );
        };
        if !number.is_finite() {
            return problem(
                "is not a finite number",
                "write what the instrument showed; leave out the reading if there was none",
            );
        }
        let min = node["minimum"].as_f64();
        let max = node["maximum"].as_f64();
        if min.is_some_and(|min| number < min) || max.is_some_and(|max| number > max) {
            let range = match (min, max) {
                (Some(min), Some(max)) if min == max => format!("this program only reads {min}"),
                (Some(min), Some(max)) => format!("it must be between {min} and {max}"),
                (Some(min), None) => format!("it must be at least {min}"),
                (None, _) => format!("it must be at most {}", max.unwrap_or(f64::MAX)),
            };
            return problem("is out of range", &range);
        }
        Some(number)
    }

    fn moment(&mut self, name: &str, moment: &Datetime, span: &Range<usize>, node: &'a Json) {
        if node["format"] == "date" {
            if moment.date.is_none() || moment.time.is_some() {
                self.problem(
                    Some(span.clone()),
                    format!("`{name}` is a date without a time of day"),
                    "write it as 2026-03-05",
                );
            }
        } else if moment.offset.is_none() || moment.date.is_none() || moment.time.is_none() {
            let hint = match (&moment.date, &moment.time) {
                (Some(date), Some(time)) => format!(
                    "write {date}T{:02}:{:02}:{:02}+01:00, with how far your clock is ahead of UTC \
                     in place of +01:00",
                    time.hour,
                    time.minute,
                    time.second.unwrap_or(0)
                ),
                _ => "write date, time and offset from UTC, such as 2026-03-05T06:40:00+01:00"
                    .to_owned(),
            };
            let message = format!("`{name}` does not say how far the clock is ahead of UTC");
            self.problem(Some(span.clone()), message, hint);
        }
    }
}

/// Invisible characters that change the direction of text: never echo them to a terminal.
fn is_invisible(c: char) -> bool {
    matches!(c, '\u{200B}'..='\u{200F}' | '\u{202A}'..='\u{202E}' | '\u{2060}'..='\u{206F}' | '\u{FEFF}')
}

/// The words of an enumeration.
fn choices(node: &Json) -> Option<Vec<&str>> {
    if let Some(list) = node["enum"].as_array() {
        return Some(list.iter().filter_map(Json::as_str).collect());
    }
    let list = node["oneOf"].as_array()?;
    Some(
        list.iter()
            .flat_map(|branch| match branch["enum"].as_array() {
                Some(words) => words.iter().filter_map(Json::as_str).collect(),
                None => branch["const"].as_str().into_iter().collect::<Vec<_>>(),
            })
            .collect(),
    )
}

/// The one type of a node, `null` aside.
fn kind(node: &Json) -> &str {
    match &node["type"] {
        Json::String(kind) => kind,
        Json::Array(kinds)
            if kinds.contains(&"number".into()) && kinds.contains(&"string".into()) =>
        {
            NUMBER_OR_NAME
        }
        Json::Array(kinds) => kinds
            .iter()
            .filter_map(Json::as_str)
            .find(|kind| *kind != "null")
            .unwrap_or(""),
        _ => "",
    }
}
