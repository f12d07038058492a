//! A file that arrives in pieces, such as a film from a camera: it stands in the folder under
//! a hidden name until it is whole.

use std::fs;
use std::io::{self, Write};
use std::path::Path;

use super::write::{WriteError, refused, unfinished};

/// A file that is not whole yet. It goes when it is dropped.
pub struct Incoming(tempfile::NamedTempFile);

impl Incoming {
    /// An empty one in `folder`.
    ///
    /// # Errors
    /// [`WriteError::Refused`].
    pub fn new(folder: &Path) -> Result<Self, WriteError> {
        let file = unfinished().tempfile_in(folder).map_err(refused)?;
        // Held while it arrives, so that nobody takes it for a left one.
        let _ = file.as_file().try_lock();
        Ok(Self(file))
    }

    /// Adds to it.
    ///
    /// # Errors
    /// [`WriteError::Refused`].
    pub fn add(&mut self, bytes: &[u8]) -> Result<(), WriteError> {
        self.0.write_all(bytes).map_err(refused)
    }

    /// Gives it a free name, `stem` and perhaps a number, in the folder `below` of `folder`,
    /// which is made if it does not exist. Returns the name.
    ///
    /// # Errors
    /// A [`WriteError`]; nothing is then left.
    pub fn place(
        self,
        folder: &Path,
        below: &str,
        stem: &str,
        ending: &str,
    ) -> Result<String, WriteError> {
        let place = folder.join(below);
        match fs::create_dir(&place) {
            Err(error) if error.kind() != io::ErrorKind::AlreadyExists => {
                return Err(refused(error));
            }
            _ => {}
        }
        // A link could lead out of the job.
        if !fs::symlink_metadata(&place).map_err(refused)?.is_dir() {
            return Err(WriteError::NoFolder);
        }
        let mut file = self.0;
        file.as_file().sync_all().map_err(refused)?;
        for number in 1..1000 {
            let name = match number {
                1 => format!("{stem}.{ending}"),
                more => format!("{stem}-{more}.{ending}"),
            };
            match file.persist_noclobber(place.join(&name)) {
                Ok(_) => return Ok(name),
                Err(error) if error.error.kind() == io::ErrorKind::AlreadyExists => {
                    file = error.file;
                }
                Err(error) => return Err(refused(error.error)),
            }
        }
        Err(WriteError::Exists)
    }
}

/// Takes away a file that was just placed, where nothing names it.
pub fn take_back(path: &Path) {
    // What is left is only a file that nothing names.
    let _ = fs::remove_file(path);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_gets_a_free_name_and_no_link_is_followed() {
        let folder = tempfile::tempdir().unwrap();
        for expected in ["gauge.jpg", "gauge-2.jpg"] {
            let mut file = Incoming::new(folder.path()).unwrap();
            file.add(b"one ").unwrap();
            file.add(b"two").unwrap();
            let name = file.place(folder.path(), "photos", "gauge", "jpg");
            assert_eq!(name, Ok(expected.to_owned()));
        }
        let kept = fs::read(folder.path().join("photos/gauge.jpg")).unwrap();
        assert_eq!(kept, b"one two");
        drop(Incoming::new(folder.path()).unwrap());
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
        #[cfg(unix)]
        {
            std::os::unix::fs::symlink("/tmp", folder.path().join("captures")).unwrap();
            let file = Incoming::new(folder.path()).unwrap();
            let placed = file.place(folder.path(), "captures", "x", "mp4");
            assert_eq!(placed, Err(WriteError::NoFolder));
        }
    }
}
