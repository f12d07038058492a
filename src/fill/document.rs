//! Reading and writing single values of a TOML file; comments, order and everything else in
//! it stay as they are.

use std::fmt;

use toml_edit::{ArrayOfTables, DocumentMut, InlineTable, Item, Table, TableLike, Value};

use super::typed::{Entry, Refusal, Setting, shown, value};
use crate::intake::is_same_position;
use crate::job::JobFile;

/// One step down to a value.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Step {
    /// The table under a key.
    Key(String),
    /// The table of this number in a list of tables, from 0.
    Number(usize),
    /// The row of a position.
    At(String),
}

/// Where in a job a field is written: the file, the way down to its table, and its key.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Target {
    /// The file.
    pub file: JobFile,
    /// The way down to the table.
    pub table: Vec<Step>,
    /// The key in that table; of repeated readings, `value`.
    pub key: &'static str,
}

/// The name of the field in a form. It is only ever compared, never taken apart.
impl fmt::Display for Target {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.file.name())?;
        for step in &self.table {
            match step {
                Step::Key(key) => write!(f, "/{key}")?,
                Step::Number(number) => write!(f, "#{number}")?,
                Step::At(name) => write!(f, "@{name}")?,
            }
        }
        write!(f, ".{}", self.key)
    }
}

/// What stands at `target`, as a field of this kind shows it: one text for each number of
/// repeats, else one or none.
pub fn read(
    document: &DocumentMut,
    target: &Target,
    entry: &Entry,
    setting: Setting,
) -> Vec<String> {
    let Some(table) = down(document.as_table(), &target.table) else {
        return Vec::new();
    };
    let of = |key: &str| table.get(key).and_then(Item::as_value);
    if *entry != Entry::Numbers {
        let found = of(target.key).map(|value| shown(value, entry, setting));
        return found.into_iter().filter(|text| !text.is_empty()).collect();
    }
    match (of("value"), of("values")) {
        (Some(one), _) => vec![shown(one, entry, setting)],
        (None, Some(Value::Array(several))) => several
            .iter()
            .map(|one| shown(one, entry, setting))
            .collect(),
        _ => Vec::new(),
    }
}

/// Whether anything stands in the table at `path`.
pub fn has_table(document: &DocumentMut, path: &[Step]) -> bool {
    down(document.as_table(), path).is_some_and(|table| !table.is_empty())
}

/// The keys of the table at `path`, in the order of the file.
pub fn keys(document: &DocumentMut, path: &[Step]) -> Vec<String> {
    let table = down(document.as_table(), path);
    table.map_or_else(Vec::new, |table| {
        table.iter().map(|(key, _)| key.to_owned()).collect()
    })
}

/// How many entries the list at `path` has.
pub fn rows(document: &DocumentMut, path: &[Step]) -> usize {
    let Some((Step::Key(key), above)) = path.split_last() else {
        return 0;
    };
    let table = down(document.as_table(), above);
    let list = table.and_then(|table| table.get(key)?.as_array());
    list.map_or(0, toml_edit::Array::len)
}

/// The table at `path`.
fn down<'a>(table: &'a dyn TableLike, path: &[Step]) -> Option<&'a dyn TableLike> {
    let Some((first, rest)) = path.split_first() else {
        return Some(table);
    };
    let Step::Key(key) = first else {
        return None;
    };
    let item = table.get(key)?;
    let (next, rest): (&dyn TableLike, &[Step]) = match rest.split_first() {
        Some((Step::Number(number), rest)) => match item {
            Item::ArrayOfTables(tables) => (tables.get(*number)?, rest),
            Item::Value(Value::Array(rows)) => (rows.get(*number)?.as_inline_table()?, rest),
            _ => return None,
        },
        Some((Step::At(name), rest)) => {
            let rows = item.as_array()?;
            let row = rows
                .iter()
                .find_map(|row| row.as_inline_table().filter(|row| is_at(row, name)));
            (row?, rest)
        }
        _ => (item.as_table_like()?, rest),
    };
    down(next, rest)
}

/// Whether `row` is that of the position `name`.
pub fn is_at(row: &InlineTable, name: &str) -> bool {
    match row.get("at") {
        Some(Value::String(text)) => is_same_position(text.value(), name),
        Some(Value::Integer(number)) => is_same_position(&number.value().to_string(), name),
        _ => false,
    }
}

/// What is written, where.
pub struct Change<'a> {
    /// The place.
    pub target: &'a Target,
    /// What the field takes.
    pub entry: &'a Entry,
    /// What was typed; of repeats, each.
    pub typed: &'a [String],
    /// Keys that belong in the same table, and are written with a figure where they are
    /// missing.
    pub with: &'a [(&'static str, String)],
}

/// Writes a change into the document; what was cleared is taken out.
///
/// # Errors
/// A [`Refusal`]; the document is then as it was.
pub fn write(
    document: &mut DocumentMut,
    change: &Change<'_>,
    setting: Setting,
) -> Result<(), Refusal> {
    let Change {
        target,
        entry,
        typed,
        with,
    } = change;
    let old = down(document.as_table(), &target.table)
        .and_then(|table| table.get(target.key))
        .and_then(Item::as_value)
        .cloned();
    let mut values = Vec::new();
    for text in *typed {
        values.extend(value(text, entry, old.as_ref(), setting)?);
    }
    if values.is_empty() && !has_table(document, &target.table) {
        return Ok(());
    }
    into(document.as_table_mut(), &target.table, &mut |table| {
        match (entry, values.as_slice()) {
            (Entry::Numbers, []) => {
                table.remove("value");
                table.remove("values");
            }
            (Entry::Numbers, [one]) => {
                table.remove("values");
                put(table, "value", one.clone());
            }
            (Entry::Numbers, several) => {
                table.remove("value");
                let list: toml_edit::Array = several.iter().cloned().collect();
                put(table, "values", Value::Array(list));
            }
            (_, []) => {
                table.remove(target.key);
            }
            (_, [one, ..]) => put(table, target.key, one.clone()),
        }
        for (key, text) in *with {
            if !values.is_empty() && !table.contains_key(key) {
                table.insert(key, Item::Value(Value::from(text.as_str())));
            }
        }
    });
    prune(document);
    Ok(())
}

/// Sets a value, and keeps the comment behind the one that it replaces.
fn put(table: &mut dyn TableLike, key: &str, mut value: Value) {
    match table.get_mut(key).and_then(Item::as_value_mut) {
        Some(old) => {
            *value.decor_mut() = old.decor().clone();
            *old = value;
        }
        None => {
            table.insert(key, Item::Value(value));
        }
    }
}

/// Tables that stand on one line, in braces.
const ON_ONE_LINE: [&str; 4] = ["meter", "run_in", "labour", "cost"];

/// Does `work` on the table at `path`, which is made where there is none.
fn into(table: &mut dyn TableLike, path: &[Step], work: &mut dyn FnMut(&mut dyn TableLike)) {
    let Some((Step::Key(key), rest)) = path.split_first() else {
        work(table);
        return;
    };
    if let Some((Step::Number(number), rest)) = rest.split_first() {
        let item = table.entry(key).or_insert_with(|| match key.as_str() {
            // What a machine has stored stands in its reading, in braces.
            "items" => Item::Value(Value::Array(toml_edit::Array::new())),
            _ => Item::ArrayOfTables(ArrayOfTables::new()),
        });
        match item {
            Item::ArrayOfTables(tables) => {
                while tables.len() <= *number {
                    tables.push(Table::new());
                }
                if let Some(next) = tables.get_mut(*number) {
                    into(next, rest, work);
                }
            }
            Item::Value(Value::Array(rows)) => {
                while rows.len() <= *number {
                    rows.push(InlineTable::new());
                }
                if let Some(Value::InlineTable(next)) = rows.get_mut(*number) {
                    into(next, rest, work);
                }
            }
            _ => {}
        }
        return;
    }
    if let Some((Step::At(name), rest)) = rest.split_first() {
        let item = table
            .entry(key)
            .or_insert_with(|| Item::Value(Value::Array(toml_edit::Array::new())));
        if let Some(rows) = item.as_array_mut() {
            into_row(rows, name, rest, work);
        }
        return;
    }
    let in_braces = ON_ONE_LINE.contains(&key.as_str());
    let item = table.entry(key).or_insert_with(|| {
        if in_braces {
            return Item::Value(Value::InlineTable(InlineTable::new()));
        }
        let mut table = Table::new();
        // `[reading]` alone says nothing.
        table.set_implicit(key == "reading");
        Item::Table(table)
    });
    if let Some(next) = item.as_table_like_mut() {
        // A condition stands on one line, in braces.
        if let (true, Some(Step::Key(id))) = (key == "condition", rest.first())
            && !next.contains_key(id)
        {
            next.insert(id, Item::Value(Value::InlineTable(InlineTable::new())));
        }
        into(next, rest, work);
    }
}

/// Does `work` on the row of the position `name`, which is added where there is none.
fn into_row(
    rows: &mut toml_edit::Array,
    name: &str,
    rest: &[Step],
    work: &mut dyn FnMut(&mut dyn TableLike),
) {
    let found = rows
        .iter()
        .position(|row| row.as_inline_table().is_some_and(|row| is_at(row, name)));
    let index = found.unwrap_or_else(|| {
        let mut row = InlineTable::new();
        let at = match name.parse::<i64>() {
            Ok(number) => Value::from(number),
            Err(_) => Value::from(name),
        };
        row.insert("at", at);
        let mut row = Value::InlineTable(row);
        row.decor_mut().set_prefix("\n  ");
        rows.push_formatted(row);
        rows.set_trailing_comma(true);
        let trailing = rows.trailing().as_str().unwrap_or_default().trim_end();
        rows.set_trailing(format!("{trailing}\n"));
        rows.len() - 1
    });
    if let Some(Value::InlineTable(row)) = rows.get_mut(index) {
        into(row, rest, work);
    }
}

/// Takes out the tables that nothing is left in: rows with only their position, conditions,
/// and entries of lists.
fn prune(document: &mut DocumentMut) {
    let root = document.as_table_mut();
    let empty_conditions: Vec<String> = root
        .get("condition")
        .and_then(Item::as_table_like)
        .into_iter()
        .flat_map(|table| table.iter())
        .filter(|(_, item)| {
            let table = item.as_table_like();
            table.is_some_and(|table| !table.contains_key("value") && !table.contains_key("text"))
        })
        .map(|(id, _)| id.to_owned())
        .collect();
    if let Some(table) = root.get_mut("condition").and_then(Item::as_table_like_mut) {
        for id in empty_conditions {
            table.remove(&id);
        }
    }
    for key in ON_ONE_LINE {
        let empty = root.get(key).and_then(Item::as_inline_table);
        if empty.is_some_and(|table| {
            table.is_empty() || (key == "meter" && !table.contains_key("value"))
        }) {
            root.remove(key);
        }
    }
    let mut lists = Vec::new();
    for (key, item) in root.iter_mut() {
        if let Item::ArrayOfTables(tables) = item {
            tables.retain(|table| !table.is_empty());
            if tables.is_empty() {
                lists.push(key.get().to_owned());
            }
        }
    }
    for key in lists {
        root.remove(&key);
    }
    if let Some(readings) = root.get_mut("reading").and_then(Item::as_table_like_mut) {
        for (_, reading) in readings.iter_mut() {
            let Some(table) = reading.as_table_like_mut() else {
                continue;
            };
            // A row has its position; an entry has at least its code.
            for (key, fewest) in [("rows", 2), ("items", 1)] {
                if let Some(rows) = table.get_mut(key).and_then(Item::as_array_mut) {
                    let full = |row: &InlineTable| row.len() >= fewest;
                    rows.retain(|row| row.as_inline_table().is_none_or(full));
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SETTING: Setting = Setting {
        comma: false,
        zone: |_| 0,
    };

    fn target(table: &[Step], key: &'static str) -> Target {
        Target {
            file: JobFile::Baseline,
            table: table.to_vec(),
            key,
        }
    }

    fn key(name: &str) -> Step {
        Step::Key(name.to_owned())
    }

    /// The text after one change, and what is then read back.
    fn changed(
        text: &str,
        target: &Target,
        entry: &Entry,
        typed: &[&str],
    ) -> (String, Vec<String>) {
        let mut document: DocumentMut = text.parse().unwrap();
        let typed: Vec<String> = typed.iter().map(|text| (*text).to_owned()).collect();
        let change = Change {
            target,
            entry,
            typed: &typed,
            with: &[("unit", "mm".to_owned())],
        };
        write(&mut document, &change, SETTING).unwrap();
        let text = document.to_string();
        let again: DocumentMut = text.parse().unwrap();
        let back = read(&again, target, entry, SETTING);
        (text, back)
    }

    #[test]
    fn comments_and_order_stay() {
        let text = "# the file\nformat = 1\n\n[reading.drift]   # by hand\n# above\nvalue = 22.5   # first\nunit = \"mm\"\n\n[reading.other]\nvalue = 1\n";
        let drift = target(&[key("reading"), key("drift")], "value");
        let (once, _) = changed(text, &drift, &Entry::Numbers, &["3.0"]);
        assert_eq!(once, text.replace("22.5", "3.0"));
        let (twice, back) = changed(text, &drift, &Entry::Numbers, &["3.0", "", "3.10"]);
        assert_eq!(back, ["3.0", "3.10"]);
        assert!(twice.contains("values = [3.0, 3.10]"), "{twice}");
        assert!(
            twice.contains("# the file") && twice.contains("# by hand"),
            "{twice}"
        );
        let (cleared, back) = changed(text, &drift, &Entry::Numbers, &[""]);
        assert_eq!(back, [] as [&str; 0]);
        assert!(!cleared.contains("22.5") && cleared.contains("[reading.other]"));
    }

    #[test]
    fn what_is_missing_is_made() {
        let drift = target(&[key("reading"), key("drift")], "value");
        let (text, _) = changed("format = 1\n", &drift, &Entry::Numbers, &["22.5"]);
        assert_eq!(
            text,
            "format = 1\n\n[reading.drift]\nvalue = 22.5\nunit = \"mm\"\n"
        );
        let oil = target(&[key("condition"), key("oil")], "value");
        let (text, _) = changed("format = 1\n", &oil, &Entry::Number, &["48"]);
        assert_eq!(
            text,
            "format = 1\n\n[condition]\noil = { value = 48, unit = \"mm\" }\n"
        );
        let (gone, _) = changed(&text, &oil, &Entry::Number, &[""]);
        assert_eq!(gone, "format = 1\n\n[condition]\n");
    }

    #[test]
    fn a_row_is_found_by_its_position() {
        let text = "[reading.c]\nunit = \"rpm\"\nrows = [\n  # as numbered on the engine\n  { at = 2, value = 1.0 },\n]\n";
        let row = |name: &str| {
            target(
                &[
                    key("reading"),
                    key("c"),
                    key("rows"),
                    Step::At(name.to_owned()),
                ],
                "value",
            )
        };
        let mut document: DocumentMut = text.parse().unwrap();
        for (name, typed) in [("1", "7.4"), ("2", "-3.10"), ("hall", "5")] {
            let typed = [typed.to_owned()];
            let target = row(name);
            let change = Change {
                target: &target,
                entry: &Entry::Numbers,
                typed: &typed,
                with: &[],
            };
            write(&mut document, &change, SETTING).unwrap();
        }
        let after = document.to_string();
        assert!(after.contains("{ at = 2, value = -3.10 }"), "{after}");
        assert!(after.contains("{ at = 1, value = 7.4 }"), "{after}");
        assert!(after.contains("{ at = \"hall\", value = 5 }"), "{after}");
        assert!(after.contains("# as numbered on the engine"), "{after}");
        let again: DocumentMut = after.parse().unwrap();
        assert_eq!(read(&again, &row("1"), &Entry::Numbers, SETTING), ["7.4"]);
    }

    #[test]
    fn an_entry_of_a_list_goes_when_it_is_empty() {
        let what = target(&[key("intervention"), Step::Number(0)], "what");
        let text = "[[intervention]]\nwhat = \"\"\n\n[labour]\nhours = 1\n";
        let (text, back) = changed(text, &what, &Entry::Text, &["New \"seal\""]);
        assert_eq!(back, ["New \"seal\""]);
        let again: DocumentMut = text.parse().unwrap();
        assert_eq!(read(&again, &what, &Entry::Text, SETTING), ["New \"seal\""]);
    }
}
