//! What is wrong with a job folder, and where.

use std::collections::BTreeMap;
use std::fmt;
use std::ops::Range;

use crate::files::ReadError;

/// Whether something is wrong, or only not there yet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum State {
    /// It is wrong.
    Wrong,
    /// It is not filled in yet: what comes next.
    NotFilledIn,
}

/// One problem in one file: what is wrong or not filled in, and what to do about it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Problem {
    /// Whether it is wrong, or only not there yet.
    pub state: State,
    /// The file, by its path in the job folder.
    pub file: String,
    /// Where in the file, as a range of bytes; none if it concerns the whole file.
    pub span: Option<Range<usize>>,
    /// What is wrong.
    pub message: String,
    /// What to do.
    pub hint: String,
}

/// The most problems that are kept; no person reads more, and each one is compared with all
/// before it.
const MOST: usize = 500;

/// All problems that were found, with the texts they were found in.
#[derive(Debug, Clone, Default)]
pub struct Problems {
    list: Vec<Problem>,
    /// How many more there are than are kept.
    more: usize,
    texts: BTreeMap<String, String>,
    /// How many readings a file has, of how many that are planned.
    progress: BTreeMap<String, (usize, usize)>,
}

impl Problems {
    /// Adds one problem.
    pub fn push(&mut self, problem: Problem) {
        if self.is_full() {
            self.more += 1;
        } else if !self.list.contains(&problem) {
            self.list.push(problem);
        }
    }

    /// Whether no more are kept: what was not looked at yet need not be.
    pub fn is_full(&self) -> bool {
        self.list.len() >= MOST
    }

    /// Adds a problem that concerns a whole file.
    pub fn of_file(&mut self, file: &str, message: impl Into<String>, hint: impl Into<String>) {
        self.push(Problem {
            state: State::Wrong,
            file: file.to_owned(),
            span: None,
            message: message.into(),
            hint: hint.into(),
        });
    }

    /// Adds what a whole file does not have yet.
    pub fn not_in_file(&mut self, file: &str, message: impl Into<String>, hint: impl Into<String>) {
        self.push(Problem {
            state: State::NotFilledIn,
            file: file.to_owned(),
            span: None,
            message: message.into(),
            hint: hint.into(),
        });
    }

    /// Notes that `taken` of the readings that are `planned` for a run are in its file.
    pub fn note_progress(&mut self, file: &str, taken: usize, planned: usize) {
        self.progress.insert(file.to_owned(), (taken, planned));
    }

    /// How many readings `file` has, of how many that are planned, where that is known.
    pub fn progress(&self, file: &str) -> Option<(usize, usize)> {
        self.progress.get(file).copied()
    }

    /// Whether nothing is wrong: what there is, is only not filled in yet.
    pub fn are_only_not_filled_in(&self) -> bool {
        let mut states = self.list.iter().map(|problem| problem.state);
        states.all(|state| state == State::NotFilledIn)
    }

    /// Whether there is already a problem at exactly this place of `file`.
    pub fn has_at(&self, file: &str, span: Option<&Range<usize>>) -> bool {
        self.list
            .iter()
            .any(|problem| problem.file == file && problem.span.as_ref() == span)
    }

    /// Keeps the text of a file, so that the line of a problem can be shown.
    pub fn keep_text(&mut self, file: &str, text: &str) {
        self.texts.insert(file.to_owned(), text.to_owned());
    }

    /// The text of a file that was read.
    pub fn text(&self, file: &str) -> Option<&str> {
        self.texts.get(file).map(String::as_str)
    }

    /// The line of a problem, from 1.
    pub fn line(&self, problem: &Problem) -> Option<usize> {
        let start = problem.span.as_ref()?.start;
        let before = self.text(&problem.file)?.as_bytes().get(..start)?;
        Some(before.iter().filter(|byte| **byte == b'\n').count() + 1)
    }

    /// The problems, file by file in the order of reading.
    pub fn iter(&self) -> impl Iterator<Item = &Problem> {
        self.list.iter()
    }

    /// How many problems there are.
    pub fn len(&self) -> usize {
        self.list.len() + self.more
    }

    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.list.is_empty()
    }

    /// Sorts the problems by file, then by place.
    pub fn sort(&mut self) {
        self.list.sort_by_key(|problem| {
            (
                problem.file.clone(),
                problem.span.as_ref().map_or(0, |span| span.start),
            )
        });
    }
}

impl fmt::Display for Problems {
    /// One line per problem: `file:line: what is wrong (what to do)`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for problem in &self.list {
            match self.line(problem) {
                Some(line) => write!(f, "{}:{line}: ", problem.file)?,
                None => write!(f, "{}: ", problem.file)?,
            }
            writeln!(f, "{} ({})", problem.message, problem.hint)?;
        }
        Ok(())
    }
}

/// What a person can do about a file that cannot be read.
pub fn what_to_do(problem: &ReadError) -> &'static str {
    match problem {
        ReadError::Missing => {
            "put it in the job folder; `retestify init` makes a folder with every file"
        }
        ReadError::NotAFile => "replace it with an ordinary file",
        ReadError::TooLarge { .. } => "keep large files elsewhere; this one should be small",
        ReadError::OddPath => "write its path, such as `photos/gauge.jpg`, with `/` between",
        ReadError::LeavesFolder => {
            "copy the file into the job folder and write its path there, with `/` between \
             folders"
        }
        ReadError::Refused(_) => "check that you may read it",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn problems_are_counted_beyond_those_that_are_kept() {
        let mut problems = Problems::default();
        for number in 0..MOST + 7 {
            problems.of_file("job.toml", number.to_string(), "");
        }
        assert_eq!((problems.iter().count(), problems.len()), (MOST, MOST + 7));
        assert!(problems.is_full());
        problems.of_file("job.toml", "0", "");
        assert_eq!(problems.len(), MOST + 8);
    }
}
