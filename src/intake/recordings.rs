//! Recordings: files of any size that are sealed and listed, and never read here.

use std::collections::BTreeSet;

use super::photos::SAME_NAME;
use super::problem::{Problems, what_to_do};
use super::shapes::RecordingTable;
use super::toml_document::Document;
use crate::files::{Digest, ReadError, Source, look_alike};
use crate::job::Recording;

/// A recording of the job folder, with its digest.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Recorded {
    /// The path in the job folder.
    pub file: String,
    /// What it is.
    pub caption: String,
    /// Its size in bytes.
    pub size: u64,
    /// Its digest.
    pub digest: Digest,
}

/// Digests the recordings that `document` names, each file once; `seen` holds those
/// of the documents before.
pub fn read(
    source: &dyn Source,
    document: &Document,
    tables: &[RecordingTable],
    seen: &mut BTreeSet<String>,
    problems: &mut Problems,
) -> Vec<Recorded> {
    let mut list = Vec::new();
    for (index, table) in tables.iter().enumerate() {
        if !seen.insert(table.file.clone()) {
            continue;
        }
        match source.digest(&table.file) {
            Ok((digest, size)) => list.push(Recorded {
                file: table.file.clone(),
                caption: table.caption.clone(),
                size,
                digest,
            }),
            Err(problem) => {
                let at = index.to_string();
                if let Some(other) = look_alike(source, &table.file) {
                    document.problem(
                        &["recording", &at, "file"],
                        format!("the file is called `{other}`"),
                        SAME_NAME,
                        problems,
                    );
                    continue;
                }
                let hint = match problem {
                    ReadError::Missing => "copy it into the job folder, or correct the name",
                    ref other => what_to_do(other),
                };
                document.problem(
                    &["recording", at.as_str(), "file"],
                    format!("recording `{}`: {problem}", table.file),
                    hint,
                    problems,
                );
            }
        }
    }
    list
}

/// The recordings of a file; that they are there is checked elsewhere.
pub fn named(tables: &[RecordingTable]) -> Vec<Recording> {
    tables
        .iter()
        .map(|table| Recording {
            file: table.file.clone(),
            caption: table.caption.clone(),
        })
        .collect()
}
