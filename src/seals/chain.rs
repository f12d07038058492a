//! The seals of a job, one after the other.

use std::collections::BTreeSet;
use std::fmt;

use super::fingerprint::Fingerprint;
use super::seal_text::{Seal, SealError};
use super::shown::shown;
use crate::files::{Digest, ReadError, Source};
use crate::job::{JobFile, Stage};

/// The folder of the seals in a job folder.
pub const SEALS: &str = "seals";

/// The name of the seal with this number, from 1.
pub fn seal_file_name(number: usize, stage: Stage) -> String {
    format!("{number}-{}.sha256", stage.word())
}

/// One seal with the file it came from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Link {
    /// The file's name, without folder.
    pub file: String,
    /// The file's bytes.
    pub bytes: Vec<u8>,
    /// Their digest.
    pub digest: Digest,
    /// What it says.
    pub seal: Seal,
}

/// What is wrong with a seal in its chain.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ChainError {
    /// The name of the seal's file.
    pub file: String,
    /// What is wrong with it.
    pub breach: Breach,
}

/// A rule of the chain that a seal does not keep.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Breach {
    /// The file is not a seal.
    NotASeal(SealError),
    /// Its file name does not continue the numbers, or names another stage.
    Name,
    /// It does not list every file that its stage must have.
    Incomplete,
    /// It does not give the digest of the seal before it.
    Previous,
    /// A retest before any baseline, or an amendment of a stage that was not sealed.
    Order,
    /// A second seal of its stage that gives no reason.
    NoReason,
    /// Its time is earlier than that of the seal before it.
    Clock,
    /// It names another job than the first seal.
    OtherJob,
}

/// In English, for `verify` and for messages of the program; on pages and in `check`,
/// `view` says the same in the shop's language.
impl fmt::Display for ChainError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let file = shown(&self.file);
        match &self.breach {
            Breach::NotASeal(why) => write!(f, "{file} is not a seal: {why}"),
            Breach::Name => write!(f, "{file} is not the next file name in the chain of seals"),
            Breach::Incomplete => write!(f, "{file} does not list every file of its stage"),
            Breach::Previous => write!(
                f,
                "{file} does not match the seal before it: that seal was changed or replaced \
                 after {file} was made"
            ),
            Breach::Order => write!(f, "{file} has no earlier seal to follow"),
            Breach::NoReason => write!(
                f,
                "{file} seals its stage a second time without giving a reason"
            ),
            Breach::Clock => write!(f, "{file} has an earlier time than the seal before it"),
            Breach::OtherJob => write!(f, "{file} names another job than the first seal"),
        }
    }
}

impl std::error::Error for ChainError {}

/// How a file today compares with its seal.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// As it was sealed.
    Kept,
    /// Changed since it was sealed.
    Changed,
    /// Missing.
    Missing,
}

/// The seals of a job in their order, and what is wrong with that order.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Chain {
    /// The seals that could be read.
    pub links: Vec<Link>,
    /// What is wrong; a sound chain has none.
    pub errors: Vec<ChainError>,
}

/// The most seals of a job, and the largest of them in bytes.
const MOST_SEALS: usize = 1000;
const SEAL_LIMIT: u64 = 1 << 20;

/// Why the seals of a job folder could not be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum ReadSealsError {
    /// The folder, or a file in it.
    Unreadable(String, ReadError),
    /// There are more files than any job has seals.
    TooMany,
}

impl fmt::Display for ReadSealsError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Unreadable(file, error) => write!(f, "{file} cannot be read: {error}"),
            Self::TooMany => write!(f, "{SEALS} holds more than {MOST_SEALS} files"),
        }
    }
}

impl std::error::Error for ReadSealsError {}

impl ReadSealsError {
    /// What a person can do.
    pub fn hint(&self) -> &'static str {
        match self {
            Self::Unreadable(..) => "check that you may read it; only seals belong in that folder",
            Self::TooMany => "keep only seals in it",
        }
    }
}

impl Chain {
    /// Reads the seals of the job folder that `source` holds; hidden files are passed over.
    ///
    /// # Errors
    /// [`ReadSealsError`] when a file there cannot be read, or there are too many.
    pub fn read(source: &dyn Source) -> Result<Self, ReadSealsError> {
        let unreadable = |file: &str| {
            let file = file.to_owned();
            move |error| ReadSealsError::Unreadable(file, error)
        };
        let mut names = source.list(SEALS).map_err(unreadable(SEALS))?;
        names.retain(|name| !name.starts_with('.'));
        if names.len() > MOST_SEALS {
            return Err(ReadSealsError::TooMany);
        }
        let mut files = Vec::new();
        for name in names {
            let path = format!("{SEALS}/{name}");
            let input = source.read(&path, SEAL_LIMIT).map_err(unreadable(&path))?;
            files.push((name, input.bytes));
        }
        Ok(Self::of(files))
    }

    /// Puts the files of a seals folder, in any order, into a chain.
    pub fn of(files: impl IntoIterator<Item = (String, Vec<u8>)>) -> Self {
        let mut files: Vec<(String, Vec<u8>)> = files.into_iter().collect();
        files.sort_by_key(|(file, _)| (number_of(file), file.clone()));
        let mut chain = Self::default();
        for (file, bytes) in files {
            match Seal::read(&bytes) {
                Ok(seal) => chain.push(Link {
                    file,
                    digest: Digest::of(&bytes),
                    bytes,
                    seal,
                }),
                Err(why) => chain.errors.push(ChainError {
                    file,
                    breach: Breach::NotASeal(why),
                }),
            }
        }
        chain
    }

    /// Adds `link`, noting what is wrong with it.
    fn push(&mut self, link: Link) {
        let Link { file, seal, .. } = &link;
        let mut breaches = Vec::new();
        if *file != seal_file_name(self.links.len() + 1, seal.stage) {
            breaches.push(Breach::Name);
        }
        let mut texts = seal.stage.texts().map(JobFile::name);
        if !texts.all(|text| seal.files.contains_key(text)) {
            breaches.push(Breach::Incomplete);
        }
        let last = self.links.last();
        if seal.previous != last.map(|last| last.digest) {
            breaches.push(Breach::Previous);
        }
        let sealed_before = self.latest(seal.stage).is_some();
        match (&seal.amends, sealed_before) {
            (Some(_), false) => breaches.push(Breach::Order),
            (None, true) => breaches.push(Breach::NoReason),
            _ => {}
        }
        if seal.stage == Stage::Retest && self.latest(Stage::Baseline).is_none() {
            breaches.push(Breach::Order);
        }
        if last.is_some_and(|last| seal.sealed < last.seal.sealed) {
            breaches.push(Breach::Clock);
        }
        if self
            .links
            .first()
            .is_some_and(|first| first.seal.job != seal.job)
        {
            breaches.push(Breach::OtherJob);
        }
        let errors = breaches.into_iter().map(|breach| ChainError {
            file: file.clone(),
            breach,
        });
        self.errors.extend(errors);
        self.links.push(link);
    }

    /// Whether there is no seal at all, sound or not.
    pub fn is_empty(&self) -> bool {
        self.links.is_empty() && self.errors.is_empty()
    }

    /// The seal in force for `stage`: its latest.
    pub fn latest(&self, stage: Stage) -> Option<&Link> {
        self.links
            .iter()
            .rev()
            .find(|link| link.seal.stage == stage)
    }

    /// Whether `link` is the seal that holds for its stage.
    pub fn holds(&self, link: &Link) -> bool {
        let latest = self.latest(link.seal.stage);
        latest.map(|latest| &latest.file) == Some(&link.file)
    }

    /// The first seal of `stage`.
    pub fn first(&self, stage: Stage) -> Option<&Link> {
        self.links.iter().find(|link| link.seal.stage == stage)
    }

    /// The seals in force, one for each sealed stage.
    pub fn holding(&self) -> impl Iterator<Item = &Link> {
        Stage::ALL
            .into_iter()
            .filter_map(|stage| self.latest(stage))
    }

    /// The files of `stage` that were changed after they were first sealed, also where they
    /// were changed back.
    pub fn changed_since_first(&self, stage: Stage) -> Vec<&str> {
        let own: Vec<&Link> = self
            .links
            .iter()
            .filter(|link| link.seal.stage == stage)
            .collect();
        let changed: BTreeSet<&str> = own
            .windows(2)
            .flat_map(|pair| changed_between(pair[0], pair[1]))
            .collect();
        changed.into_iter().collect()
    }

    /// The reasons that amendments give for changing `file` of the baseline; none if it is
    /// as it was first sealed.
    pub fn amended(&self, file: &str) -> Option<Vec<&str>> {
        let first = self.first(Stage::Baseline)?.seal.files.get(file);
        let now = self.latest(Stage::Baseline)?.seal.files.get(file);
        (first != now).then(|| {
            self.links
                .iter()
                .filter(|link| link.seal.stage == Stage::Baseline)
                .filter_map(|link| link.seal.amends.as_deref())
                .collect()
        })
    }

    /// How each file of the seals in force compares with what `now` says of it.
    pub fn standings<'a>(
        &'a self,
        now: impl Fn(&str) -> Option<Digest> + 'a,
    ) -> impl Iterator<Item = (Stage, &'a str, Standing)> {
        self.holding()
            .flat_map(|link| {
                link.files()
                    .map(|(file, sealed)| (link.seal.stage, file, sealed))
            })
            .map(move |(stage, file, sealed)| (stage, file, Standing::of(sealed, now(file))))
    }
}

impl Link {
    /// The short form of its digest.
    pub fn fingerprint(&self) -> Fingerprint {
        Fingerprint::of(self.digest)
    }

    fn files(&self) -> impl Iterator<Item = (&str, Digest)> {
        let files = self.seal.files.iter();
        files.map(|(file, digest)| (file.as_str(), *digest))
    }

    /// How each of its files compares with what `now` says of it.
    pub fn standings(
        &self,
        now: impl Fn(&str) -> Option<Digest>,
    ) -> impl Iterator<Item = (&str, Standing)> {
        self.files()
            .map(move |(file, sealed)| (file, Standing::of(sealed, now(file))))
    }
}

impl Standing {
    fn of(sealed: Digest, now: Option<Digest>) -> Self {
        match now {
            None => Self::Missing,
            Some(digest) if digest == sealed => Self::Kept,
            Some(_) => Self::Changed,
        }
    }
}

/// The files that differ between two seals of a stage.
pub fn changed_between<'a>(one: &'a Link, other: &'a Link) -> Vec<&'a str> {
    let (one, other) = (&one.seal.files, &other.seal.files);
    let mut changed: Vec<&str> = one
        .keys()
        .chain(other.keys())
        .filter(|file| one.get(*file) != other.get(*file))
        .map(String::as_str)
        .collect();
    changed.sort_unstable();
    changed.dedup();
    changed
}

/// The number that a seal's file name starts with; the largest for one without.
fn number_of(file: &str) -> u64 {
    file.split_once('-')
        .and_then(|(number, _)| number.parse().ok())
        .unwrap_or(u64::MAX)
}

#[cfg(test)]
mod tests;
