//! The instruments that a shop keeps once, beside its shop.toml, for every new job.

use std::fmt;

use toml_edit::{ArrayOfTables, DocumentMut, Item, Table};

/// The file that they are kept in.
pub const INSTRUMENTS_FILE: &str = "instruments.toml";

/// Why the shop's instruments are not taken.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum BenchError {
    /// The file is no TOML: where, and why.
    NotToml(String),
    /// It has something else in it than instruments.
    Other(String),
    /// One has no `id`, or two have the same.
    Id(usize),
}

impl fmt::Display for BenchError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotToml(why) => f.write_str(why),
            Self::Other(key) => write!(f, "`{key}` does not belong there"),
            Self::Id(number) => write!(f, "instrument {number} has no `id` of its own"),
        }
    }
}

impl std::error::Error for BenchError {}

/// The instruments of a shop.
#[derive(Debug)]
pub struct Bench(Vec<Table>);

fn id(table: &Table) -> Option<&str> {
    table.get("id").and_then(Item::as_str)
}

impl Bench {
    /// Those in `text`.
    ///
    /// # Errors
    /// A [`BenchError`].
    pub fn of(text: &str) -> Result<Self, BenchError> {
        let document: DocumentMut = text
            .parse()
            .map_err(|error: toml_edit::TomlError| BenchError::NotToml(error.to_string()))?;
        let other = document
            .iter()
            .map(|(key, _)| key)
            .find(|key| !matches!(*key, "format" | "instrument"));
        if let Some(key) = other {
            return Err(BenchError::Other(key.to_owned()));
        }
        let tables = match document.get("instrument") {
            None => Vec::new(),
            Some(Item::ArrayOfTables(tables)) => tables.iter().cloned().collect(),
            Some(_) => return Err(BenchError::Other("instrument".to_owned())),
        };
        let ids: Vec<Option<&str>> = tables.iter().map(id).collect();
        for (number, own) in ids.iter().enumerate() {
            if own.is_none() || ids[..number].contains(own) {
                return Err(BenchError::Id(number + 1));
            }
        }
        Ok(Self(tables))
    }

    /// `job`, the text of a new job.toml, with the shop's instruments in place of those that
    /// were laid out; what none of them reads in, is kept. Nothing if it is no TOML.
    pub fn into_new(&self, job: &str) -> Option<String> {
        let mut document: DocumentMut = job.parse().ok()?;
        let unit = |table: &Table| table.get("unit").and_then(Item::as_str).map(str::to_owned);
        let served: Vec<Option<String>> = self.0.iter().map(unit).collect();
        let laid_out = document.remove("instrument");
        let laid_out = laid_out.and_then(|item| item.into_array_of_tables().ok());
        let kept = laid_out.into_iter().flatten();
        let kept = kept.filter(|table| {
            let taken = self.0.iter().any(|own| id(own) == id(table));
            !taken && !served.contains(&unit(table))
        });
        let mut tables = ArrayOfTables::new();
        for table in self.0.iter().cloned().chain(kept) {
            // Where it stood in its own file says nothing here.
            let mut here = Table::new();
            here.decor_mut().set_prefix("\n");
            here.extend(table);
            tables.push(here);
        }
        document.insert("instrument", Item::ArrayOfTables(tables));
        Some(document.to_string())
    }

    /// `job`, the text of a job.toml made like another, in which an instrument that the shop
    /// keeps is as it keeps it now: with its last calibration. Nothing if it is no TOML.
    pub fn into_like(&self, job: &str) -> Option<String> {
        let mut document: DocumentMut = job.parse().ok()?;
        let tables = document
            .get_mut("instrument")
            .and_then(Item::as_array_of_tables_mut);
        for table in tables.into_iter().flat_map(ArrayOfTables::iter_mut) {
            let own = self.0.iter().find(|own| id(own) == id(table));
            if let Some(own) = own {
                table.clear();
                table.extend(own.clone());
            }
        }
        Some(document.to_string())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SHOP: &str = "format = 1\n\n[[instrument]]\nid = \"watch\"\nkind = \"Stopwatch\"\nunit = \"s\"\n\
                        hand_timed = true\n\n[[instrument]]\nid = \"gauge\"\nkind = \"Gauge\"\nunit = \"bar\"\n\
                        accuracy = 0.10\ncalibrated = 2026-01-07\n";

    #[test]
    fn a_new_job_has_the_shops_instruments_and_what_else_it_needs() {
        let job = "format = 1\njob = \"\"   # the number\n\n[[instrument]]\nid = \"timer\"\nunit = \"s\"\n\n\
                   [[instrument]]\nid = \"meter-v\"\nunit = \"V\"\n";
        let text = Bench::of(SHOP).unwrap().into_new(job).unwrap();
        assert_eq!(
            text,
            "format = 1\njob = \"\"   # the number\n\n[[instrument]]\nid = \"watch\"\nkind = \"Stopwatch\"\n\
             unit = \"s\"\nhand_timed = true\n\n[[instrument]]\nid = \"gauge\"\nkind = \"Gauge\"\n\
             unit = \"bar\"\naccuracy = 0.10\ncalibrated = 2026-01-07\n\n[[instrument]]\nid = \"meter-v\"\n\
             unit = \"V\"\n"
        );
    }

    #[test]
    fn a_job_like_another_has_the_last_calibration() {
        let job = "[[instrument]]\nid = \"gauge\"\nkind = \"Gauge\"\nunit = \"bar\"\naccuracy = 0.10\n\
                   calibrated = 2025-01-07\n\n[[instrument]]\nid = \"old\"\nunit = \"V\"\n";
        let text = Bench::of(SHOP).unwrap().into_like(job).unwrap();
        assert_eq!(text, job.replace("2025-01-07", "2026-01-07"));
    }

    #[test]
    fn what_is_no_list_of_instruments_is_refused() {
        let other = Bench::of("name = \"Shop\"\n").unwrap_err();
        assert_eq!(other.to_string(), "`name` does not belong there");
        let twice = SHOP.replace("\"gauge\"", "\"watch\"");
        assert_eq!(Bench::of(&twice).unwrap_err(), BenchError::Id(2));
        assert!(Bench::of("[[instrument]\n").is_err());
    }
}
