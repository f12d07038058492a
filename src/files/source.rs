//! Anything that holds the files of a job, and what was read from it.

use std::collections::BTreeMap;
use std::fmt;

use super::digest::Digest;

/// One file as it was read: the bytes, and the digest of just those bytes.
#[derive(Debug, Clone)]
pub struct Input {
    /// The path in the job folder, with forward slashes.
    pub name: String,
    /// What was read.
    pub bytes: Vec<u8>,
    /// The digest of `bytes`.
    pub digest: Digest,
}

impl Input {
    /// Takes `bytes` that were read as `name`.
    pub fn new(name: impl Into<String>, bytes: Vec<u8>) -> Self {
        let digest = Digest::of(&bytes);
        Self {
            name: name.into(),
            bytes,
            digest,
        }
    }
}

/// Why a file could not be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum ReadError {
    /// There is no such file.
    Missing,
    /// It is a folder, a pipe or a device.
    NotAFile,
    /// It has more bytes than the limit.
    TooLarge {
        /// The limit, in bytes.
        limit: u64,
    },
    /// The path, or a link in it, leads out of the job folder.
    LeavesFolder,
    /// The path is not a plain one inside the folder, with `/` between folders.
    OddPath,
    /// The operating system refused, with its message.
    Refused(String),
}

impl fmt::Display for ReadError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Missing => f.write_str("the file is missing"),
            Self::NotAFile => f.write_str("this is not a regular file"),
            Self::TooLarge { limit } => {
                write!(f, "the file is larger than {} MiB", limit / (1 << 20))
            }
            Self::LeavesFolder => f.write_str("the path leads out of the job folder"),
            Self::OddPath => f.write_str("this is not a plain path of a file in the job folder"),
            Self::Refused(why) => write!(f, "the file cannot be read: {why}"),
        }
    }
}

/// Where the files of a job come from; several may be read at once.
pub trait Source: Sync {
    /// Reads the file at `name`, a relative path with forward slashes, of at
    /// most `limit` bytes.
    ///
    /// # Errors
    /// A [`ReadError`] that says why it cannot be read.
    fn read(&self, name: &str, limit: u64) -> Result<Input, ReadError>;

    /// The digest and the size of the file at `name`, of any size, read in small
    /// pieces.
    ///
    /// # Errors
    /// A [`ReadError`] that says why it cannot be read.
    fn digest(&self, name: &str) -> Result<(Digest, u64), ReadError>;

    /// The names of the files directly in the folder `name`, sorted; none if there is no such
    /// folder. The job folder itself is `""`.
    ///
    /// # Errors
    /// A [`ReadError`] when there is one that cannot be listed, or that has a name
    /// which is not Unicode.
    fn list(&self, name: &str) -> Result<Vec<String>, ReadError>;
}

/// The file that is there in place of `name`, which is not: the same name but for its
/// capitals, or with another ending behind it, as when a system that hides endings saved
/// `retest.toml` as `retest.toml.txt`.
pub fn look_alike(source: &dyn Source, name: &str) -> Option<String> {
    let (folder, file) = name.rsplit_once('/').unwrap_or(("", name));
    let wanted = file.to_lowercase();
    let names = source.list(folder).ok()?;
    if names.iter().any(|other| other == file) {
        return None;
    }
    let found = names.into_iter().find(|other| {
        let other = other.to_lowercase();
        let rest = other.strip_prefix(&wanted);
        other == wanted || rest.is_some_and(|rest| matches!(rest, ".txt" | ".toml" | ".bak"))
    })?;
    Some(match folder {
        "" => found,
        folder => format!("{folder}/{found}"),
    })
}

/// Files in memory, by their path.
impl Source for BTreeMap<String, Vec<u8>> {
    fn read(&self, name: &str, limit: u64) -> Result<Input, ReadError> {
        let bytes = self.get(name).ok_or(ReadError::Missing)?;
        if bytes.len() as u64 > limit {
            return Err(ReadError::TooLarge { limit });
        }
        Ok(Input::new(name, bytes.clone()))
    }

    fn digest(&self, name: &str) -> Result<(Digest, u64), ReadError> {
        let bytes = self.get(name).ok_or(ReadError::Missing)?;
        Ok((Digest::of(bytes), bytes.len() as u64))
    }

    fn list(&self, name: &str) -> Result<Vec<String>, ReadError> {
        let inside = |path: &String| {
            let file = match name {
                "" => path.as_str(),
                folder => path.strip_prefix(folder)?.strip_prefix('/')?,
            };
            (!file.contains('/')).then(|| file.to_owned())
        };
        Ok(self.keys().filter_map(inside).collect())
    }
}
