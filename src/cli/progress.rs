//! What a command that takes long says meanwhile, on a terminal: which film it is hashing and
//! how far it is, how many files it has read.

use std::io::{IsTerminal as _, Write as _};
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::{Duration, Instant};

use crate::files::{Digest, Folder, Input, ReadError, Source};

/// Nothing is said before this, and then not more often.
const SILENCE: Duration = Duration::from_millis(800);
const OFTEN: Duration = Duration::from_millis(200);

/// A folder whose long reads are told of on standard error, where that is a terminal.
pub struct Watched {
    folder: Folder,
    tells: bool,
    begun: Instant,
    files: AtomicUsize,
    last: Mutex<Option<Instant>>,
}

impl Watched {
    /// Watches what is read of `folder`.
    pub fn new(folder: Folder) -> Self {
        Self {
            folder,
            tells: std::io::stderr().is_terminal(),
            begun: Instant::now(),
            files: AtomicUsize::new(0),
            last: Mutex::new(None),
        }
    }

    /// Says `what`, if it is time to.
    fn tell(&self, what: impl FnOnce() -> String) {
        if !self.tells || self.begun.elapsed() < SILENCE {
            return;
        }
        let Ok(mut last) = self.last.try_lock() else {
            return;
        };
        if last.is_some_and(|last| last.elapsed() < OFTEN) {
            return;
        }
        *last = Some(Instant::now());
        let line: String = what().chars().take(76).collect();
        let mut error = std::io::stderr().lock();
        let _ = write!(error, "\r\x1b[K{line}");
        let _ = error.flush();
    }
}

/// The line is taken away again.
impl Drop for Watched {
    fn drop(&mut self) {
        if self.last.lock().is_ok_and(|last| last.is_some()) {
            let mut error = std::io::stderr().lock();
            let _ = write!(error, "\r\x1b[K");
            let _ = error.flush();
        }
    }
}

impl Source for Watched {
    fn read(&self, name: &str, limit: u64) -> Result<Input, ReadError> {
        let count = self.files.fetch_add(1, Ordering::Relaxed) + 1;
        self.tell(|| reading(name, count));
        self.folder.read(name, limit)
    }

    fn digest(&self, name: &str) -> Result<(Digest, u64), ReadError> {
        let told = &mut |done, size| self.tell(|| hashing(name, done, size));
        self.folder.digest_told(name, told)
    }

    fn list(&self, name: &str) -> Result<Vec<String>, ReadError> {
        self.folder.list(name)
    }
}

fn reading(name: &str, count: usize) -> String {
    format!("reading file {count}: {name}")
}

fn hashing(name: &str, done: u64, size: u64) -> String {
    // A file that grows meanwhile is not more than whole.
    let percent = (done.min(size) * 100).checked_div(size).unwrap_or(100);
    format!("hashing {name}: {percent} % of {} MiB", size >> 20)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_is_said_how_far_it_is() {
        assert_eq!(
            hashing("captures/start.mp4", 3 << 20, 12 << 20),
            "hashing captures/start.mp4: 25 % of 12 MiB"
        );
        assert_eq!(hashing("a", 0, 0), "hashing a: 100 % of 0 MiB");
        assert_eq!(hashing("a", 9, 5), "hashing a: 100 % of 0 MiB");
        assert_eq!(reading("photos/a.jpg", 3), "reading file 3: photos/a.jpg");
    }

    #[test]
    fn what_is_watched_is_read_as_ever() {
        let temp = tempfile::tempdir().unwrap();
        std::fs::write(temp.path().join("a"), b"abc").unwrap();
        let folder = Folder::open(temp.path()).unwrap();
        let plain = folder.digest("a");
        assert_eq!(Watched::new(folder).digest("a"), plain);
    }
}
