//! One TOML file as it was read: what it says, where, and whether it is sound.

use std::ops::Range;

use rust_decimal::Decimal;
use schemars::JsonSchema;
use serde::de::DeserializeOwned;
use toml::de::DeTable;

use super::Printable;
use super::problem::{Problem, Problems};
use super::schema_check;
use super::shapes::schema_of;
use super::toml_tree::{self, Entry, Node, Value};

/// A parsed file.
pub struct Document {
    name: String,
    root: Vec<Entry>,
    sound: bool,
}

impl Document {
    /// Reads `bytes` as the file `name` of shape `T`, keeps its text for messages,
    /// and adds every problem of spelling and structure that the file has: invalid
    /// UTF-8, TOML syntax, unknown or missing keys, values of the wrong type or
    /// out of range, letters that cannot be printed.
    ///
    /// A file with problems of structure is still returned, with placeholders, so that
    /// its meaning can be checked too; [`Document::is_sound`] then says no. `None` if
    /// it cannot be read as TOML at all.
    pub fn read<T: DeserializeOwned + JsonSchema>(
        name: &str,
        bytes: &[u8],
        printable: &Printable<'_>,
        problems: &mut Problems,
    ) -> Option<(Self, T)> {
        let mut problem = |span, message: String, hint: &str| {
            problems.push(Problem {
                file: name.to_owned(),
                span,
                message,
                hint: hint.to_owned(),
            });
        };
        let text = match std::str::from_utf8(bytes) {
            Ok(text) => text,
            Err(error) => {
                let start = error.valid_up_to();
                problem(
                    Some(start..start + 1),
                    "this byte is not valid UTF-8 text".to_owned(),
                    "save the file as UTF-8 in your editor",
                );
                problems.keep_text(name, &String::from_utf8_lossy(bytes));
                return None;
            }
        };
        let (tree, errors) = DeTable::parse_recoverable(text);
        for error in &errors {
            problem(
                Some(error.span().unwrap_or(0..0)),
                error.message().to_owned(),
                hint_for_syntax(error.message(), line_at(text, error.span())),
            );
        }
        problems.keep_text(name, text);
        if !errors.is_empty() {
            return None;
        }
        let mut document = Self {
            name: name.to_owned(),
            root: toml_tree::entries(tree.get_ref()),
            sound: true,
        };
        let before = problems.len();
        let filled =
            schema_check::check(name, &document.root, &schema_of::<T>(), printable, problems);
        document.sound = problems.len() == before;
        if problems.is_full() {
            return None;
        }
        match T::deserialize(filled) {
            Ok(shape) => Some((document, shape)),
            Err(error) => {
                // The schema is made from the shape, so what passes the one fits
                // the other; a file with placeholders may still not.
                if document.sound {
                    problems.of_file(
                        name,
                        error.message(),
                        "see the key's description in samples/FORMAT.md",
                    );
                }
                None
            }
        }
    }

    /// Whether the file has no problem of structure.
    pub fn is_sound(&self) -> bool {
        self.sound
    }

    /// Whether the file itself has the top-level key `key`, placeholders aside.
    pub fn has(&self, key: &str) -> bool {
        self.root.iter().any(|entry| entry.key == key)
    }

    /// The file's name.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The list at `path`: whether all its items are whole numbers without a decimal
    /// point, and how many bytes lie between each item and the next.
    pub fn list(&self, path: &[&str]) -> (bool, Vec<usize>) {
        let Some(Value::List(items)) = toml_tree::find(&self.root, path).map(|node| &node.value)
        else {
            return (false, Vec::new());
        };
        let whole = |node: &Node| matches!(node.value, Value::Number { whole: true, .. });
        let gap = |pair: &[Node]| pair[1].span.start.saturating_sub(pair[0].span.end);
        (items.iter().all(whole), items.windows(2).map(gap).collect())
    }

    /// The number at `path` with the digits in which the file writes it.
    pub fn digits(&self, path: &[&str]) -> Option<Decimal> {
        match toml_tree::find(&self.root, path)?.value {
            Value::Number { digits, .. } => digits,
            _ => None,
        }
    }

    /// Adds a problem at `path`, a way down by keys and by positions in lists as
    /// digits; where the path ends early, at its last part that exists.
    pub fn problem(
        &self,
        path: &[&str],
        message: impl Into<String>,
        hint: impl Into<String>,
        problems: &mut Problems,
    ) {
        let span = toml_tree::span(&self.root, path);
        // For a placeholder, the problem was already reported.
        let exists = path.is_empty() || toml_tree::find(&self.root, path).is_some();
        if !self.sound && (!exists || problems.has_at(&self.name, span.as_ref())) {
            return;
        }
        problems.push(Problem {
            file: self.name.clone(),
            span,
            message: message.into(),
            hint: hint.into(),
        });
    }
}

/// The line on which a span starts.
fn line_at(text: &str, span: Option<Range<usize>>) -> &str {
    let start = span.map_or(0, |span| span.start).min(text.len());
    let from = text.as_bytes()[..start]
        .iter()
        .rposition(|b| *b == b'\n')
        .map_or(0, |at| at + 1);
    text.get(from..)
        .and_then(|rest| rest.lines().next())
        .unwrap_or_default()
}

/// What to do about the mistakes that are common at a bench, from the parser's message
/// and the line it is about.
fn hint_for_syntax(message: &str, line: &str) -> &'static str {
    let line = line.trim_start();
    let value = line
        .split_once('=')
        .map_or("", |(_, value)| value.trim_start());
    let digits = value.chars().filter(char::is_ascii_digit).count();
    let looks_like_a_day = digits >= 5 && value.contains(['-', '/', '.', ':']);
    let is_digit = |at: usize| value.as_bytes().get(at).is_some_and(u8::is_ascii_digit);
    let decimal_comma = value
        .match_indices(',')
        .any(|(at, _)| at > 0 && is_digit(at - 1) && is_digit(at + 1));
    if message.contains("duplicate key") && line.starts_with("[reading") {
        "keep one of the two; repeats of one reading are a list: `values = [ … ]`"
    } else if decimal_comma {
        "write a number with a decimal point and no separators, such as 2.1 or 1480.50"
    } else if line.contains(['“', '”', '„', '‘', '’']) {
        "put text between straight double quotes, \"; a word processor makes them curly"
    } else if message.contains("duplicate key") && line.starts_with('[') {
        "if there are several of a kind, give each a header with double brackets, such as \
         `[[instrument]]` or `[[measure]]`"
    } else if message.contains("duplicate key") {
        "keep one of the two and delete the other"
    } else if looks_like_a_day {
        "write a date as 2026-03-05, and a time as 2026-03-05T06:40:00+01:00"
    } else if line.starts_with('[') || message.contains("array") || message.contains("bracket") {
        "close what was opened: `]` after a list, `}` after a table, with commas between"
    } else if message.contains("string") || message.contains("quote") || value.contains('"') {
        "put text between double quotes, closed on the same line; in paths write `/`, not `\\`"
    } else {
        "write one `key = value` on each line; text goes in double quotes, a number has a decimal \
         point and no separators, and `true` and `false` are in lower case"
    }
}
