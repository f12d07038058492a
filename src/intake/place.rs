//! Where in a file a table of a list stands.

use super::problem::Problems;
use super::toml_document::Document;

/// One table of a list, for saying where a problem is.
pub struct Place<'a> {
    pub document: &'a Document,
    pub list: &'a str,
    pub at: &'a str,
}

impl Place<'_> {
    /// A problem with the key `key` of the table.
    pub fn problem(
        &self,
        key: &str,
        message: impl Into<String>,
        hint: impl Into<String>,
        problems: &mut Problems,
    ) {
        self.document
            .problem(&[self.list, self.at, key], message, hint, problems);
    }

    /// That a table above this one has its `id`; `one` and `many` say what they are.
    pub fn twice(&self, one: &str, many: &str, id: &str, problems: &mut Problems) {
        self.problem(
            "id",
            format!("there are two {many} with the id `{id}`"),
            format!("give each {one} its own id"),
            problems,
        );
    }

    /// What is not filled in yet at the key `key` of the table.
    pub fn not_filled_in(
        &self,
        key: &str,
        message: impl Into<String>,
        hint: impl Into<String>,
        problems: &mut Problems,
    ) {
        let path = [self.list, self.at, key];
        self.document.not_filled_in(&path, message, hint, problems);
    }
}
