//! Recordings: files of any size that are sealed and listed, and never read here.

use std::collections::BTreeSet;

use super::photos::SAME_NAME;
use super::problem::{Problems, what_to_do};
use super::shapes::{ReadingTable, RecordingTable, RunFile};
use super::spelling::{listed, nearest};
use super::toml_document::Document;
use crate::files::{Digest, ReadError, Source, look_alike};
use crate::job::{Recording, ShownIn};

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

/// Where a recording shows the reading of `measure`; what is wrong with that is told by
/// [`check_shown`].
pub fn shown_in(table: &ReadingTable) -> Option<ShownIn> {
    let second = table.recording_at.as_deref().and_then(seconds);
    table.recording.as_ref().map(|file| ShownIn {
        file: file.clone(),
        second,
    })
}

/// The longest time into a recording: a day.
const LONGEST: u32 = 24 * 60 * 60;

/// The seconds that a player counts as `2:17` or `1:02:17`.
fn seconds(text: &str) -> Option<u32> {
    let parts: Vec<&str> = text.trim().split(':').collect();
    let number = |part: &str| {
        let are_digits = (1..=2).contains(&part.len()) && part.bytes().all(|b| b.is_ascii_digit());
        are_digits.then(|| part.parse::<u32>().ok()).flatten()
    };
    let sixty = |part: &str| number(part).filter(|number| part.len() == 2 && *number < 60);
    let seconds = match parts.as_slice() {
        [minutes, seconds] => number(minutes)? * 60 + sixty(seconds)?,
        [hours, minutes, seconds] => number(hours)? * 3600 + sixty(minutes)? * 60 + sixty(seconds)?,
        _ => return None,
    };
    (seconds <= LONGEST).then_some(seconds)
}

const HOW_TO_COUNT: &str = "write minutes and seconds as a player counts them, such as `2:17`; \
                            after the first hour `1:02:17`";

/// Checks which recordings the readings of a run say that they are shown in, and when.
pub fn check_shown(document: &Document, run: &RunFile, problems: &mut Problems) {
    for (index, recording) in run.recording.iter().enumerate() {
        if recording
            .length
            .as_deref()
            .is_some_and(|length| seconds(length).is_none())
        {
            let path = ["recording", &index.to_string(), "length"];
            document.problem(
                &path,
                "this is no length of a recording",
                HOW_TO_COUNT,
                problems,
            );
        }
    }
    let files: Vec<&str> = run.recording.iter().map(|one| one.file.as_str()).collect();
    for (id, table) in &run.reading {
        let at = ["reading", id.as_str(), "recording_at"];
        let second = table
            .recording_at
            .as_deref()
            .map(|text| (text, seconds(text)));
        if matches!(second, Some((_, None))) {
            let wrong = "this is no time in a recording";
            document.problem(&at, wrong, HOW_TO_COUNT, problems);
        }
        let Some(file) = &table.recording else {
            if second.is_some() {
                let hint = "add `recording` with its file, or delete this line";
                document.problem(&at, "it does not say of which recording", hint, problems);
            }
            continue;
        };
        let Some(recording) = run.recording.iter().find(|one| one.file == *file) else {
            let hint = match (nearest(file, &files), files.as_slice()) {
                (Some(near), _) => format!("did you mean `{near}`?"),
                (None, []) => "add a `[[recording]]` with that file and its caption".to_owned(),
                (None, _) => format!("it has {}; or add a `[[recording]]`", listed(&files)),
            };
            document.problem(
                &["reading", id.as_str(), "recording"],
                format!("this run has no recording `{file}`"),
                hint,
                problems,
            );
            continue;
        };
        let length = recording.length.as_deref();
        if let (Some((text, Some(second))), Some(length)) = (second, length)
            && seconds(length).is_some_and(|length| second > length)
        {
            document.problem(
                &at,
                format!("`{file}` is {length} long and has no {text}"),
                "correct the time, or the `length` of the recording",
                problems,
            );
        }
    }
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_time_is_counted_as_a_player_counts() {
        for (text, count) in [
            ("0:00", 0),
            ("2:17", 137),
            ("59:59", 3599),
            ("75:00", 4500),
            ("1:02:17", 3737),
        ] {
            assert_eq!(seconds(text), Some(count), "{text}");
        }
        for wrong in [
            "", "137", "2:7", "2:60", "2:17.5", "1:2:17", "25:00:00", "-2:17", "2:17:", "999:00",
        ] {
            assert_eq!(seconds(wrong), None, "{wrong}");
        }
    }
}
