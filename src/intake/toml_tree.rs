//! What a TOML file says, as a tree that knows the place of each part.

use std::ops::Range;

use rust_decimal::Decimal;
use toml::Spanned;
use toml::de::{DeTable, DeValue};
use toml::value::Datetime;

use crate::quantity::digits_of;
/// One `key = value`, or one table under its header.
pub struct Entry {
    pub key: String,
    pub key_span: Range<usize>,
    pub node: Node,
}

/// A value and its bytes in the file.
pub struct Node {
    pub span: Range<usize>,
    pub value: Value,
}

/// What TOML can say.
pub enum Value {
    Text(String),
    /// A number; `None` if this program cannot hold it. The digits are those of the file.
    Number {
        value: Option<f64>,
        whole: bool,
        digits: Option<Decimal>,
    },
    Boolean(bool),
    Moment(Datetime),
    List(Vec<Node>),
    Table(Vec<Entry>),
}

/// The entries of a table as it was parsed.
pub fn entries(table: &DeTable<'_>) -> Vec<Entry> {
    table
        .iter()
        .map(|(key, value)| Entry {
            key: key.get_ref().to_string(),
            key_span: key.span(),
            node: node(value),
        })
        .collect()
}

fn node(value: &Spanned<DeValue<'_>>) -> Node {
    Node {
        span: value.span(),
        value: match value.get_ref() {
            DeValue::String(text) => Value::Text(text.to_string()),
            DeValue::Integer(integer) => Value::Number {
                value: i64::from_str_radix(integer.as_str(), integer.radix())
                    .ok()
                    .map(|integer| integer as f64),
                whole: true,
                digits: i128::from_str_radix(integer.as_str(), integer.radix())
                    .ok()
                    .and_then(|integer| Decimal::try_from_i128_with_scale(integer, 0).ok()),
            },
            DeValue::Float(float) => Value::Number {
                value: float.as_str().parse().ok(),
                whole: false,
                digits: digits_of(float.as_str()),
            },
            DeValue::Boolean(value) => Value::Boolean(*value),
            DeValue::Datetime(moment) => Value::Moment(*moment),
            DeValue::Array(list) => Value::List(list.iter().map(node).collect()),
            DeValue::Table(table) => Value::Table(entries(table)),
        },
    }
}

/// The way down to what stands at the byte `at`: keys, and places in lists as digits.
pub fn path_at(entries: &[Entry], at: usize) -> Vec<String> {
    for entry in entries {
        let mut path = vec![entry.key.clone()];
        if in_node(&entry.node, at, &mut path) || entry.key_span.contains(&at) {
            return path;
        }
    }
    Vec::new()
}

/// Whether the byte `at` is in `node`; what it is in is added to `path`.
fn in_node(node: &Node, at: usize, path: &mut Vec<String>) -> bool {
    let below = match &node.value {
        Value::Table(entries) => path_at(entries, at),
        Value::List(items) => items
            .iter()
            .enumerate()
            .find_map(|(index, item)| {
                let mut below = vec![index.to_string()];
                in_node(item, at, &mut below).then_some(below)
            })
            .unwrap_or_default(),
        Value::Text(_) | Value::Number { .. } | Value::Boolean(_) | Value::Moment(_) => Vec::new(),
    };
    let is_below = !below.is_empty();
    path.extend(below);
    is_below || node.span.contains(&at)
}

/// What is at `path`, down to its last step.
pub fn find<'a>(root: &'a [Entry], path: &[&str]) -> Option<&'a Node> {
    let (first, rest) = path.split_first()?;
    let of = |entries: &'_ [Entry], key: &str| entries.iter().position(|e| e.key == key);
    let mut node = &root[of(root, first)?].node;
    for step in rest {
        node = match &node.value {
            Value::Table(entries) => &entries[of(entries, step)?].node,
            Value::List(items) => items.get(step.parse::<usize>().ok()?)?,
            _ => return None,
        };
    }
    Some(node)
}

/// The place of `path`: a table or list by its key, anything else by its
/// value.
pub fn span(root: &[Entry], path: &[&str]) -> Option<Range<usize>> {
    let (first, rest) = path.split_first()?;
    let entry = root.iter().find(|entry| entry.key == *first)?;
    let mut place = entry.place();
    let mut node = &entry.node;
    for step in rest {
        match &node.value {
            Value::Table(table) => {
                let Some(entry) = table.iter().find(|entry| entry.key == *step) else {
                    break;
                };
                place = entry.place();
                node = &entry.node;
            }
            Value::List(list) => {
                let item = step.parse().ok().and_then(|index: usize| list.get(index));
                let Some(item) = item else { break };
                place = item.span.clone();
                node = item;
            }
            _ => break,
        }
    }
    Some(place)
}

impl Entry {
    fn place(&self) -> Range<usize> {
        match self.node.value {
            Value::Table(_) | Value::List(_) => self.key_span.clone(),
            _ => self.node.span.clone(),
        }
    }
}
