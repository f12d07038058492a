//! Writing a file, or a whole folder, completely or not at all.

use std::fmt;
use std::fs;
use std::io::{self, Write};
use std::path::Path;

use super::digest::Digest;

/// Why nothing was written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum WriteError {
    /// Something is already there.
    Exists,
    /// What is there is not a PDF, so that replacing it could lose work.
    NotAPdf,
    /// A folder is there.
    IsFolder,
    /// The folder to write into does not exist.
    NoFolder,
    /// Another process is writing in that folder.
    Busy,
    /// The file is not as it was read.
    Changed,
    /// The operating system refused, with its message.
    Refused(String),
}

impl fmt::Display for WriteError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Exists => f.write_str("it already exists"),
            Self::NotAPdf => f.write_str("what is there is not a PDF"),
            Self::IsFolder => f.write_str("it is a folder"),
            Self::NoFolder => f.write_str("there is no such folder to write into"),
            Self::Busy => f.write_str("another command is working in this folder"),
            Self::Changed => f.write_str("it was changed meanwhile"),
            Self::Refused(why) => f.write_str(why),
        }
    }
}

/// Whether [`write_whole`] may write to `path`; check this before long work.
///
/// # Errors
/// The error that [`write_whole`] would return.
pub fn check_output(path: &Path, replace: bool) -> Result<(), WriteError> {
    if path.file_name().is_none() || path.is_dir() {
        return Err(WriteError::IsFolder);
    }
    if !folder_of(path).is_dir() {
        return Err(WriteError::NoFolder);
    }
    match fs::symlink_metadata(path) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(()),
        Err(error) => Err(WriteError::Refused(error.to_string())),
        Ok(_) if !replace => Err(WriteError::Exists),
        Ok(metadata) if metadata.is_file() && is_pdf(path) => Ok(()),
        Ok(_) => Err(WriteError::NotAPdf),
    }
}

/// Writes the PDF `bytes` to `path`: to a new file in the same folder, which is then
/// renamed. With `replace`, an older PDF is replaced; nothing else ever is.
///
/// # Errors
/// A [`WriteError`]; `path` is then as it was.
pub fn write_whole(path: &Path, bytes: &[u8], replace: bool) -> Result<(), WriteError> {
    check_output(path, replace)?;
    remove_unfinished(folder_of(path));
    let mut file = unfinished().tempfile_in(folder_of(path)).map_err(refused)?;
    // Held while it is written, so that nobody takes it for a left one.
    let _ = file.as_file().try_lock();
    file.write_all(bytes).map_err(refused)?;
    file.as_file().sync_all().map_err(refused)?;
    let kept = if replace {
        file.persist(path)
    } else {
        file.persist_noclobber(path)
    };
    match kept {
        Ok(_) => {
            sync(folder_of(path));
            Ok(())
        }
        Err(error) if error.error.kind() == io::ErrorKind::AlreadyExists => Err(WriteError::Exists),
        Err(error) => Err(refused(error.error)),
    }
}

/// Replaces the text file at `path` by `bytes`, completely or not at all, if it still is as
/// it was read: with the digest `was`, or not there at all. Its permissions stay.
///
/// # Errors
/// [`WriteError::Changed`] if it is another by now, or any other [`WriteError`]; `path` is
/// then as it was.
pub fn replace_text(path: &Path, was: Option<Digest>, bytes: &[u8]) -> Result<(), WriteError> {
    let folder = folder_of(path);
    remove_unfinished(folder);
    let mut file = unfinished().tempfile_in(folder).map_err(refused)?;
    // Held while it is written, so that nobody takes it for a left one.
    let _ = file.as_file().try_lock();
    file.write_all(bytes).map_err(refused)?;
    file.as_file().sync_all().map_err(refused)?;
    match fs::symlink_metadata(path) {
        Ok(metadata) if metadata.is_file() => {
            fs::set_permissions(file.path(), metadata.permissions()).map_err(refused)?;
        }
        Ok(_) => return Err(WriteError::Changed),
        Err(error) if error.kind() == io::ErrorKind::NotFound => {}
        Err(error) => return Err(refused(error)),
    }
    let is = match fs::read(path) {
        Ok(bytes) => Some(Digest::of(&bytes)),
        Err(error) if error.kind() == io::ErrorKind::NotFound => None,
        Err(error) => return Err(refused(error)),
    };
    if is != was {
        return Err(WriteError::Changed);
    }
    file.persist(path).map_err(|error| refused(error.error))?;
    sync(folder);
    Ok(())
}

/// How the name of a file or folder begins that is not finished.
pub(super) const UNFINISHED: &str = ".retestify-";

/// A new file or folder for others to read as far as this system wants it (its umask).
pub(super) fn unfinished() -> tempfile::Builder<'static, 'static> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(UNFINISHED);
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        builder.permissions(fs::Permissions::from_mode(0o666));
    }
    builder
}

/// Removes what a process that was killed left in `folder`. A process that still writes holds
/// its file.
fn remove_unfinished(folder: &Path) {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    for entry in entries {
        let name = entry.file_name();
        let is_file = entry.file_type().is_ok_and(|kind| kind.is_file());
        if !is_file || !name.to_string_lossy().starts_with(UNFINISHED) {
            continue;
        }
        let path = entry.path();
        if fs::File::open(&path).is_ok_and(|file| file.try_lock().is_ok()) {
            // What cannot be removed is no reason not to write.
            let _ = fs::remove_file(path);
        }
    }
}

/// Makes a new name in `folder` last, where the system can.
fn sync(folder: &Path) {
    #[cfg(unix)]
    {
        let _ = fs::File::open(folder).and_then(|folder| folder.sync_all());
    }
    #[cfg(not(unix))]
    let _ = folder;
}

/// A folder in which no other process may write while this value exists.
#[derive(Debug)]
pub struct Held {
    /// The lock ends when this handle is closed, also when the process is killed.
    _handle: fs::File,
}

/// Locks the folder at `path` against other processes of this program. It leaves nothing
/// in the folder. Where a folder cannot be locked (systems other than Unix), two commands
/// at the same moment are not kept apart.
///
/// # Errors
/// [`WriteError::Busy`] while another process holds it; any other [`WriteError`] when it
/// cannot be opened.
#[cfg(unix)]
pub fn hold(path: &Path) -> Result<Option<Held>, WriteError> {
    let handle = fs::File::open(path).map_err(refused)?;
    match handle.try_lock() {
        Ok(()) => Ok(Some(Held { _handle: handle })),
        Err(fs::TryLockError::WouldBlock) => Err(WriteError::Busy),
        // A file system without locks is no reason to stop.
        Err(fs::TryLockError::Error(_)) => Ok(None),
    }
}

/// See above.
///
/// # Errors
/// None here.
#[cfg(not(unix))]
pub fn hold(_: &Path) -> Result<Option<Held>, WriteError> {
    Ok(None)
}

/// Writes a new folder at `path`, which only its owner may open, with `files` in it,
/// which only its owner may read. The folders above are made if they do not exist.
///
/// # Errors
/// A [`WriteError`]; [`WriteError::Exists`] unless `path` is free or an empty folder.
pub fn write_private<'a>(
    path: &Path,
    files: impl IntoIterator<Item = (&'a str, &'a [u8])>,
) -> Result<(), WriteError> {
    fs::create_dir_all(folder_of(path)).map_err(refused)?;
    match fs::read_dir(path).map(Iterator::count) {
        Ok(0) => fs::remove_dir(path).map_err(refused)?,
        Ok(_) => return Err(WriteError::Exists),
        Err(error) if error.kind() == io::ErrorKind::NotFound => {}
        Err(error) => return Err(refused(error)),
    }
    // A temporary file is private to its owner; its folder must be made so.
    let mut builder = tempfile::Builder::new();
    builder.prefix(UNFINISHED);
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        builder.permissions(fs::Permissions::from_mode(0o700));
    }
    let new = builder.tempdir_in(folder_of(path)).map_err(refused)?;
    for (name, bytes) in files {
        let mut file = tempfile::NamedTempFile::new_in(new.path()).map_err(refused)?;
        file.write_all(bytes).map_err(refused)?;
        file.as_file().sync_all().map_err(refused)?;
        file.persist_noclobber(new.path().join(name))
            .map_err(|error| refused(error.error))?;
    }
    fs::rename(new.path(), path).map_err(refused)?;
    sync(folder_of(path));
    // It has moved: there is nothing left to remove at the old name.
    let _ = new.keep();
    Ok(())
}

/// Writes a new folder at `path` with `files` (relative path, bytes) in it.
///
/// # Errors
/// A [`WriteError`]; [`WriteError::Exists`] unless `path` is free or an empty
/// folder. Nothing is then left at `path` that was not there before.
pub fn write_tree<'a>(
    path: &Path,
    files: impl IntoIterator<Item = (&'a str, &'a [u8])>,
) -> Result<(), WriteError> {
    match fs::read_dir(path).map(Iterator::count) {
        Ok(0) => fs::remove_dir(path).map_err(refused)?,
        Ok(_) => return Err(WriteError::Exists),
        Err(error) if error.kind() == io::ErrorKind::NotFound => {}
        Err(error) if error.kind() == io::ErrorKind::NotADirectory => {
            return Err(WriteError::Exists);
        }
        Err(error) => return Err(refused(error)),
    }
    if !folder_of(path).is_dir() {
        return Err(WriteError::NoFolder);
    }
    let mut builder = tempfile::Builder::new();
    builder.prefix(UNFINISHED);
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        builder.permissions(fs::Permissions::from_mode(0o777));
    }
    let new = builder.tempdir_in(folder_of(path)).map_err(refused)?;
    for (name, bytes) in files {
        let file = new.path().join(name);
        fs::create_dir_all(folder_of(&file)).map_err(refused)?;
        fs::write(file, bytes).map_err(refused)?;
    }
    fs::rename(new.path(), path).map_err(refused)?;
    sync(folder_of(path));
    // It has moved: there is nothing left to remove at the old name.
    let _ = new.keep();
    Ok(())
}

/// The folder that contains `path`; the current one for a bare name.
fn folder_of(path: &Path) -> &Path {
    match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    }
}

fn is_pdf(path: &Path) -> bool {
    let mut head = [0; 5];
    fs::File::open(path)
        .and_then(|mut file| io::Read::read_exact(&mut file, &mut head))
        .is_ok_and(|()| &head == b"%PDF-")
}

/// What the system said, without the name of the unfinished file, which helps nobody.
pub(super) fn refused(error: io::Error) -> WriteError {
    let said = error.to_string();
    let cause = said.split(" at path ").next();
    WriteError::Refused(cause.unwrap_or_default().to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_the_system_refuses_is_told_without_the_unfinished_file() {
        let folder = tempfile::tempdir().unwrap();
        let gone = folder.path().join("gone");
        let error = unfinished().tempfile_in(&gone).unwrap_err();
        assert!(error.to_string().contains(UNFINISHED), "{error}");
        let WriteError::Refused(said) = refused(error) else {
            panic!("told as something else")
        };
        assert!(
            said.contains("os error") && !said.contains(UNFINISHED),
            "{said}"
        );
    }

    #[test]
    fn writes_once_and_replaces_only_a_pdf_only_when_asked() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("out.pdf");
        assert_eq!(write_whole(&path, b"%PDF-1", false), Ok(()));
        assert_eq!(
            write_whole(&path, b"%PDF-2", false),
            Err(WriteError::Exists)
        );
        assert_eq!(fs::read(&path).unwrap(), b"%PDF-1");
        assert_eq!(write_whole(&path, b"%PDF-2", true), Ok(()));
        assert_eq!(fs::read(&path).unwrap(), b"%PDF-2");

        let input = folder.path().join("job.toml");
        fs::write(&input, "format = 1").unwrap();
        assert_eq!(
            write_whole(&input, b"%PDF-2", true),
            Err(WriteError::NotAPdf)
        );
        assert_eq!(fs::read(&input).unwrap(), b"format = 1");
        assert_eq!(
            fs::read_dir(folder.path()).unwrap().count(),
            2,
            "nothing left over"
        );
    }

    #[test]
    fn a_text_is_replaced_only_as_it_was_read() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("baseline.toml");
        assert_eq!(replace_text(&path, None, b"one"), Ok(()));
        assert_eq!(replace_text(&path, None, b"two"), Err(WriteError::Changed));
        let one = Some(Digest::of(b"one"));
        assert_eq!(replace_text(&path, one, b"two"), Ok(()));
        assert_eq!(replace_text(&path, one, b"three"), Err(WriteError::Changed));
        assert_eq!(fs::read(&path).unwrap(), b"two");
        let left = fs::read_dir(folder.path()).unwrap().count();
        assert_eq!(left, 1, "nothing left over");
    }

    #[test]
    fn a_missing_folder_is_named_before_any_work() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("no/such/out.pdf");
        assert_eq!(check_output(&path, false), Err(WriteError::NoFolder));
    }

    /// What was left by a process that was killed goes; what another one writes stays. A link
    /// of that name is not followed.
    #[cfg(unix)]
    #[test]
    fn what_was_left_unfinished_goes_with_the_next_file() {
        let folder = tempfile::tempdir().unwrap();
        let path = |name: &str| folder.path().join(name);
        let other = tempfile::tempdir().unwrap();
        let far = other.path().join("far");
        fs::write(&far, "x").unwrap();
        fs::write(path(".retestify-left"), "x").unwrap();
        std::os::unix::fs::symlink(&far, path(".retestify-link")).unwrap();
        fs::write(path(".retestify-held"), "x").unwrap();
        let held = fs::File::open(path(".retestify-held")).unwrap();
        held.try_lock().unwrap();
        assert_eq!(write_whole(&path("a.pdf"), b"%PDF-1", false), Ok(()));
        assert!(!path(".retestify-left").exists());
        assert!(path(".retestify-held").exists() && far.exists());
        drop(held);
        assert_eq!(write_whole(&path("b.pdf"), b"%PDF-1", false), Ok(()));
        assert!(!path(".retestify-held").exists());
    }

    #[cfg(unix)]
    #[test]
    fn a_folder_is_held_by_one_at_a_time() {
        let folder = tempfile::tempdir().unwrap();
        let held = hold(folder.path()).unwrap();
        assert!(matches!(hold(folder.path()), Err(WriteError::Busy)));
        drop(held);
        assert!(hold(folder.path()).is_ok());
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 0);
    }

    #[test]
    fn a_tree_is_written_whole_and_never_over_another() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("job");
        let files: [(&str, &[u8]); 2] = [("job.toml", b"a"), ("photos/x.jpg", b"b")];
        assert_eq!(write_tree(&path, files), Ok(()));
        assert_eq!(fs::read(path.join("photos/x.jpg")).unwrap(), b"b");
        assert_eq!(write_tree(&path, files), Err(WriteError::Exists));
        assert_eq!(
            fs::read_dir(folder.path()).unwrap().count(),
            1,
            "nothing left over"
        );
    }
}
