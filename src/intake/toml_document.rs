//! One TOML file as it was read: what it says, where, and whether it is sound.

use rust_decimal::Decimal;
use schemars::JsonSchema;
use serde::de::DeserializeOwned;
use toml::de::DeTable;

use super::Printable;
use super::problem::{Problem, Problems, State};
use super::schema_check;
use super::shapes::schema_of;
use super::slips::in_words;
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
                state: State::Wrong,
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
            let (message, hint) = in_words(error.message(), text, error.span());
            problem(Some(error.span().unwrap_or(0..0)), message, &hint);
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
        self.push(State::Wrong, path, message.into(), hint.into(), problems);
    }

    /// Adds what is not filled in yet at `path`.
    pub fn not_filled_in(
        &self,
        path: &[&str],
        message: impl Into<String>,
        hint: impl Into<String>,
        problems: &mut Problems,
    ) {
        let (message, hint) = (message.into(), hint.into());
        self.push(State::NotFilledIn, path, message, hint, problems);
    }

    fn push(
        &self,
        state: State,
        path: &[&str],
        message: String,
        hint: String,
        problems: &mut Problems,
    ) {
        let span = toml_tree::span(&self.root, path);
        // For a placeholder, the problem was already reported.
        let exists = path.is_empty() || toml_tree::find(&self.root, path).is_some();
        if !self.sound && (!exists || problems.has_at(&self.name, span.as_ref())) {
            return;
        }
        problems.push(Problem {
            state,
            file: self.name.clone(),
            span,
            message,
            hint,
        });
    }
}
