//! One reading while it is checked: its table, its measure, and what it is checked against.

use super::bench::Bench;
use super::problem::Problems;
use super::shapes::ReadingTable;
use super::toml_document::Document;
use crate::job::Measure;

/// One reading, its measure, and what it is checked against.
pub struct Context<'a> {
    pub document: &'a Document,
    pub measure: &'a Measure,
    pub table: &'a ReadingTable,
    pub bench: &'a Bench<'a>,
}

impl Context<'_> {
    /// Adds a problem at `path` below the reading.
    pub fn problem(
        &self,
        path: &[&str],
        message: impl Into<String>,
        hint: impl Into<String>,
        problems: &mut Problems,
    ) {
        self.document
            .problem(&self.whole(path), message, hint, problems);
    }

    /// Adds what is not filled in yet at `path` below the reading.
    pub fn not_filled_in(
        &self,
        path: &[&str],
        message: impl Into<String>,
        hint: impl Into<String>,
        problems: &mut Problems,
    ) {
        self.document
            .not_filled_in(&self.whole(path), message, hint, problems);
    }

    /// The whole path of what stands at `path` below the reading.
    fn whole<'p>(&'p self, path: &[&'p str]) -> Vec<&'p str> {
        [&["reading", self.measure.id.as_str()], path].concat()
    }
}
