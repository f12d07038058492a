//! One seal as text.
//!
//! Comment lines in a fixed order, then one line a file in the form of
//! `sha256sum`, sorted by name. There is exactly one way to write a seal, and
//! nothing else is read: what a reader sees is all there is.

use std::collections::BTreeMap;
use std::fmt;
use std::fmt::Write;

use chrono::{DateTime, FixedOffset, SecondsFormat};

use super::file_names::{NameError, check_names, is_hidden};
use crate::files::Digest;
use crate::job::Stage;

/// The first line of every seal.
const HEAD: &str = "# retestify seal, format 1";

/// Where the time of a seal comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Clock {
    /// The clock of the computer that sealed.
    Computer,
    /// Somebody set the time, as `SOURCE_DATE_EPOCH` or for a demonstration.
    Set,
}

impl Clock {
    fn word(self) -> &'static str {
        match self {
            Self::Computer => "this computer",
            Self::Set => "set by hand",
        }
    }
}

/// What a seal says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Seal {
    /// The job's number.
    pub job: String,
    /// What it closes.
    pub stage: Stage,
    /// When it was made.
    pub sealed: DateTime<FixedOffset>,
    /// Where that time comes from.
    pub clock: Clock,
    /// The program that made it.
    pub tool: String,
    /// The digest of the seal before it.
    pub previous: Option<Digest>,
    /// Why it replaces an older seal of the same stage.
    pub amends: Option<String>,
    /// The files and their digests.
    pub files: BTreeMap<String, Digest>,
}

/// Why a text is not a seal.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum SealError {
    /// Not UTF-8.
    NotText,
    /// This line, counted from 1, is not what the format requires there.
    Line(usize),
    /// A file name that cannot be sealed.
    Name(NameError),
}

impl fmt::Display for SealError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotText => f.write_str("it is not text"),
            Self::Line(line) => write!(f, "line {line} is not what a seal has there"),
            Self::Name(error) => error.fmt(f),
        }
    }
}

impl std::error::Error for SealError {}

impl Seal {
    /// The seal as text, as in its file.
    pub fn text(&self) -> String {
        let mut text = format!("{HEAD}\n");
        let previous = self
            .previous
            .map_or_else(|| "none".to_owned(), |digest| digest.to_string());
        let moment = self.sealed.to_rfc3339_opts(SecondsFormat::Secs, false);
        let lines = [
            ("job", self.job.as_str()),
            ("stage", self.stage.word()),
            ("sealed", &moment),
            ("clock", self.clock.word()),
            ("tool", &self.tool),
            ("previous", &previous),
        ];
        for (key, value) in lines {
            let _ = writeln!(text, "# {key}: {value}");
        }
        if let Some(why) = &self.amends {
            let _ = writeln!(text, "# amends: {why}");
        }
        for (name, digest) in &self.files {
            let _ = writeln!(text, "{digest}  {name}");
        }
        text
    }

    /// Reads a seal.
    ///
    /// # Errors
    /// [`SealError`] for anything that [`Seal::text`] would not have written.
    pub fn read(bytes: &[u8]) -> Result<Self, SealError> {
        let text = std::str::from_utf8(bytes).map_err(|_| SealError::NotText)?;
        let mut lines = Lines::new(text);
        lines.exactly(HEAD)?;
        let job = lines.value("job")?.to_owned();
        let stage = match lines.value("stage")? {
            "baseline" => Stage::Baseline,
            "retest" => Stage::Retest,
            _ => return Err(lines.wrong()),
        };
        let sealed =
            DateTime::parse_from_rfc3339(lines.value("sealed")?).map_err(|_| lines.wrong())?;
        let clock = match lines.value("clock")? {
            "this computer" => Clock::Computer,
            "set by hand" => Clock::Set,
            _ => return Err(lines.wrong()),
        };
        let tool = lines.value("tool")?.to_owned();
        let previous = match lines.value("previous")? {
            "none" => None,
            digest => Some(digest.parse().map_err(|_| lines.wrong())?),
        };
        let amends = lines.optional("amends").map(str::to_owned);
        let mut files = BTreeMap::new();
        while let Some(line) = lines.next() {
            let (digest, name) = line.split_once("  ").ok_or_else(|| lines.wrong())?;
            let digest = digest.parse().map_err(|_| lines.wrong())?;
            files.insert(name.to_owned(), digest);
        }
        check_names(files.keys().map(String::as_str)).map_err(SealError::Name)?;
        let seal = Self {
            job,
            stage,
            sealed,
            clock,
            tool,
            previous,
            amends,
            files,
        };
        // There is one text for one seal: no other order, spacing or line ending.
        let canonical = seal.text();
        if canonical == text && !seal.files.is_empty() {
            return Ok(seal);
        }
        let same = canonical.lines().zip(text.lines());
        Err(SealError::Line(
            1 + same.take_while(|(a, b)| a == b).count(),
        ))
    }
}

/// The lines of a text, and which one was read last.
struct Lines<'a> {
    rest: std::iter::Peekable<std::str::Split<'a, char>>,
    number: usize,
}

impl<'a> Lines<'a> {
    fn new(text: &'a str) -> Self {
        let whole = text.strip_suffix('\n').unwrap_or(text);
        Self {
            rest: whole.split('\n').peekable(),
            number: 0,
        }
    }

    fn next(&mut self) -> Option<&'a str> {
        self.number += 1;
        self.rest.next()
    }

    fn exactly(&mut self, line: &str) -> Result<(), SealError> {
        match self.next() {
            Some(found) if found == line => Ok(()),
            _ => Err(self.wrong()),
        }
    }

    fn value(&mut self, key: &str) -> Result<&'a str, SealError> {
        self.next()
            .and_then(|line| value_of(line, key))
            .ok_or_else(|| self.wrong())
    }

    fn optional(&mut self, key: &str) -> Option<&'a str> {
        let value = self.rest.peek().and_then(|line| value_of(line, key))?;
        self.next();
        Some(value)
    }

    fn wrong(&self) -> SealError {
        SealError::Line(self.number)
    }
}

/// The value of a comment line: not empty, and without invisible characters.
fn value_of<'a>(line: &'a str, key: &str) -> Option<&'a str> {
    let value = line
        .strip_prefix("# ")?
        .strip_prefix(key)?
        .strip_prefix(": ")?;
    (!value.trim().is_empty() && !value.contains(is_hidden)).then_some(value)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn seal() -> Seal {
        Seal {
            job: "E-0412".to_owned(),
            stage: Stage::Baseline,
            sealed: DateTime::parse_from_rfc3339("2026-01-20T08:20:00+00:00").unwrap(),
            clock: Clock::Computer,
            tool: "retestify 0.1.0".to_owned(),
            previous: None,
            amends: None,
            files: [("job.toml", b"a"), ("limits.toml", b"b")]
                .map(|(name, bytes)| (name.to_owned(), Digest::of(bytes)))
                .into(),
        }
    }

    #[test]
    fn a_seal_reads_as_it_was_written() {
        let mut seal = seal();
        assert_eq!(Seal::read(seal.text().as_bytes()), Ok(seal.clone()));
        seal.previous = Some(Digest::of(b"before"));
        seal.amends = Some("The watch was read wrong".to_owned());
        seal.stage = Stage::Retest;
        seal.clock = Clock::Set;
        assert_eq!(Seal::read(seal.text().as_bytes()), Ok(seal));
    }

    #[test]
    fn any_changed_byte_makes_another_seal_or_none() {
        let text = seal().text();
        for place in 0..text.len() {
            for mask in [0x01, 0x20, 0x80] {
                let mut changed = text.clone().into_bytes();
                changed[place] ^= mask;
                if let Ok(other) = Seal::read(&changed) {
                    assert_ne!(other, seal(), "byte {place}");
                }
            }
        }
    }

    #[test]
    fn nothing_but_the_one_way_of_writing_is_read() {
        let text = seal().text();
        let two = text.lines().rev().take(2).collect::<Vec<_>>();
        for (wrong, line) in [
            (text.replace("format 1", "format 2"), 1),
            (text.replace("stage: baseline", "stage: other"), 3),
            (text.replace("08:20:00+00:00", "08:20:00Z"), 4),
            (text.replace("# clock: this computer\n", ""), 5),
            (text.replace("previous: none", "previous: 12"), 7),
            (text.replace("  job", " *job"), 8),
            (format!("{text}\n"), 10),
            (
                text.replace(
                    &format!("{}\n{}", two[1], two[0]),
                    &format!("{}\n{}", two[0], two[1]),
                ),
                8,
            ),
            (text.replace("E-0412", "E-0412\r"), 2),
        ] {
            assert_eq!(
                Seal::read(wrong.as_bytes()),
                Err(SealError::Line(line)),
                "{wrong}"
            );
        }
        let no_end = text.trim_end();
        assert!(Seal::read(no_end.as_bytes()).is_err());
        let no_files: String = text.lines().take(7).map(|l| format!("{l}\n")).collect();
        assert!(Seal::read(no_files.as_bytes()).is_err());
        assert!(matches!(
            Seal::read(text.replace("job.toml", "../b").as_bytes()),
            Err(SealError::Name(NameError::OddPath(_)))
        ));
    }
}
