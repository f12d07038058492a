//! Reading from a job folder on disk.

use std::io::{self, Read, Write as _};
use std::path::{Path, PathBuf};

use cap_std::ambient_authority;
#[cfg(unix)]
use cap_std::fs::OpenOptionsExt as _;
use cap_std::fs::{Dir, File, OpenOptions};

use super::digest::Digest;
use super::source::{Input, ReadError, Source};
use super::write::{UNFINISHED, WriteError};

/// A job folder on disk. Nothing outside it can be read through it, neither by
/// a path with `..` nor by a link.
pub struct Folder {
    dir: Dir,
    path: PathBuf,
}

impl Folder {
    /// Opens the folder at `path`.
    ///
    /// # Errors
    /// [`ReadError::Missing`] or [`ReadError::Refused`] when there is no folder
    /// that can be read at `path`.
    pub fn open(path: &Path) -> Result<Self, ReadError> {
        let dir = Dir::open_ambient_dir(path, ambient_authority()).map_err(read_error)?;
        Ok(Self {
            dir,
            path: path.to_path_buf(),
        })
    }

    /// The names of the files and folders in it, sorted; a name that is not UTF-8 is
    /// left out.
    ///
    /// # Errors
    /// [`ReadError::Refused`] when the folder cannot be listed.
    pub fn names(&self) -> Result<Vec<String>, ReadError> {
        let mut names = Vec::new();
        for entry in self.dir.entries().map_err(read_error)? {
            names.extend(entry.map_err(read_error)?.file_name().into_string().ok());
        }
        names.sort();
        Ok(names)
    }

    /// The path under which the folder was opened.
    pub fn path(&self) -> &Path {
        &self.path
    }
}

impl Folder {
    /// The file at `name`, open, and its length.
    fn open_file(&self, name: &str) -> Result<(File, u64), ReadError> {
        check_path(name)?;
        let mut options = OpenOptions::new();
        options.read(true);
        #[cfg(unix)]
        options.custom_flags(NO_WAITING);
        let file = self.dir.open_with(name, &options).map_err(read_error)?;
        // What was opened is asked, and not what stood there before.
        let metadata = file.metadata().map_err(read_error)?;
        if !metadata.is_file() {
            return Err(ReadError::NotAFile);
        }
        Ok((file, metadata.len()))
    }

    /// The same as [`Source::digest`]; `told` hears, of each piece, how many bytes were read of
    /// how many.
    ///
    /// # Errors
    /// A [`ReadError`] that says why it cannot be read.
    pub fn digest_told(
        &self,
        name: &str,
        told: &mut dyn FnMut(u64, u64),
    ) -> Result<(Digest, u64), ReadError> {
        let (file, size) = self.open_file(name)?;
        let mut file = Told {
            file,
            done: 0,
            size,
            told,
        };
        Digest::of_stream(&mut file).map_err(read_error)
    }

    /// Writes `bytes` to a new file `name` in the folder `inner` of this one, completely or not
    /// at all; `inner` is made if it does not exist. Neither can lead out of this folder, not
    /// even where something else is put in their place meanwhile. Only one process may do so
    /// at a time: see [`super::hold`].
    ///
    /// # Errors
    /// A [`WriteError`]; [`WriteError::Exists`] if anything has that name.
    pub fn write_new(&self, inner: &str, name: &str, bytes: &[u8]) -> Result<(), WriteError> {
        let refused = |error: io::Error| match error.kind() {
            io::ErrorKind::AlreadyExists => WriteError::Exists,
            _ => WriteError::Refused(error.to_string()),
        };
        match self.dir.create_dir(inner) {
            Err(error) if error.kind() != io::ErrorKind::AlreadyExists => {
                return Err(refused(error));
            }
            _ => {}
        }
        let folder = self.dir.open_dir(inner).map_err(refused)?;
        // What a process left that was killed.
        for entry in folder.entries().map_err(refused)?.flatten() {
            let left = entry.file_name();
            if left.to_string_lossy().starts_with(UNFINISHED) {
                folder.remove_file(left).map_err(refused)?;
            }
        }
        let unfinished = format!("{UNFINISHED}{name}");
        let mut options = OpenOptions::new();
        options.write(true).create_new(true);
        let written = folder
            .open_with(&unfinished, &options)
            .and_then(|mut file| {
                file.write_all(bytes)?;
                file.sync_all()
            })
            .map_err(refused);
        let named = written.and_then(|()| give_name(&folder, &unfinished, name).map_err(refused));
        let _ = folder.remove_file(&unfinished);
        named?;
        for folder in [&folder, &self.dir] {
            // Some systems cannot, and the file is there all the same.
            let _ = sync(folder);
        }
        Ok(())
    }
}

/// A file that tells how much of it was read.
struct Told<'a, R> {
    file: R,
    done: u64,
    size: u64,
    told: &'a mut dyn FnMut(u64, u64),
}

impl<R: Read> Read for Told<'_, R> {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        let read = self.file.read(buffer)?;
        self.done += read as u64;
        (self.told)(self.done, self.size);
        Ok(read)
    }
}

/// Gives the file `unfinished` its name, never in the place of what is there: in one step where
/// system and file system can, so that a process that is killed never leaves it with both names.
fn give_name(folder: &Dir, unfinished: &str, name: &str) -> io::Result<()> {
    #[cfg(any(target_os = "linux", target_vendor = "apple"))]
    {
        use rustix::fs::{RenameFlags, renameat_with};
        match renameat_with(folder, unfinished, folder, name, RenameFlags::NOREPLACE) {
            Ok(()) => return Ok(()),
            Err(rustix::io::Errno::EXIST) => return Err(io::ErrorKind::AlreadyExists.into()),
            Err(_) => {}
        }
    }
    give_second_name(folder, unfinished, name)
}

/// The same in two steps; the old name is left where there is a link now.
fn give_second_name(folder: &Dir, unfinished: &str, name: &str) -> io::Result<()> {
    match folder.hard_link(unfinished, folder, name) {
        // A file system without second names, such as that of a memory stick, says either.
        Err(error)
            if matches!(
                error.kind(),
                io::ErrorKind::Unsupported | io::ErrorKind::PermissionDenied
            ) =>
        {
            if folder.symlink_metadata(name).is_ok() {
                return Err(io::ErrorKind::AlreadyExists.into());
            }
            folder.rename(unfinished, folder, name)
        }
        other => other,
    }
}

/// Makes the names in `folder` last. It is opened once more for that: the handle of a [`Dir`]
/// only finds a folder, and the system refuses to write out what such a handle names.
fn sync(folder: &Dir) -> io::Result<()> {
    folder.open(".")?.sync_all()
}

/// Opening a pipe would wait for somebody to write to it.
#[cfg(unix)]
const NO_WAITING: i32 = rustix::fs::OFlags::NONBLOCK.bits().cast_signed();

impl Source for Folder {
    fn read(&self, name: &str, limit: u64) -> Result<Input, ReadError> {
        let (file, length) = self.open_file(name)?;
        read_limited(file, length, limit).map(|bytes| Input::new(name, bytes))
    }

    fn digest(&self, name: &str) -> Result<(Digest, u64), ReadError> {
        self.digest_told(name, &mut |_, _| {})
    }

    fn list(&self, name: &str) -> Result<Vec<String>, ReadError> {
        let entries = match name {
            "" => self.dir.entries(),
            inside => {
                check_path(inside)?;
                self.dir.read_dir(inside)
            }
        };
        let entries = match entries {
            Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(Vec::new()),
            other => other.map_err(read_error)?,
        };
        let mut names = Vec::new();
        for entry in entries {
            let name = entry.map_err(read_error)?.file_name();
            names.push(name.into_string().map_err(|_| ReadError::OddPath)?);
        }
        names.sort();
        Ok(names)
    }
}

/// The folder at `folder`, or the nearest one above it, that has something called `name`;
/// the folder itself if none has.
///
/// # Errors
/// A [`ReadError`] when one of these folders cannot be opened or searched.
pub fn nearest_with(folder: &Path, name: &str) -> Result<Folder, ReadError> {
    let start = folder.canonicalize().map_err(read_error)?;
    for ancestor in start.ancestors() {
        let opened = Folder::open(ancestor)?;
        match opened.dir.metadata(name).map_err(read_error) {
            Err(ReadError::Missing) => {}
            // Whatever it is, it hides those above; reading it shows what is wrong with it.
            Ok(_) | Err(_) => return Ok(opened),
        }
    }
    Folder::open(&start)
}

/// Whether anything is at `path`.
pub fn exists(path: &Path) -> bool {
    path.symlink_metadata().is_ok()
}

/// Whether only its owner can read the file at `path`. Where the system has no such
/// permissions, the answer is yes.
pub fn is_private(path: &Path) -> bool {
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        path.metadata()
            .is_ok_and(|metadata| metadata.permissions().mode() & 0o077 == 0)
    }
    #[cfg(not(unix))]
    {
        path.exists()
    }
}

/// The bytes of the file at `path`, anywhere on the machine.
///
/// # Errors
/// A [`ReadError`] that says why there are none.
pub fn read_path(path: &Path, limit: u64) -> Result<Vec<u8>, ReadError> {
    let mut options = std::fs::OpenOptions::new();
    options.read(true);
    #[cfg(unix)]
    {
        use std::os::unix::fs::OpenOptionsExt as _;
        options.custom_flags(NO_WAITING);
    }
    let file = options.open(path).map_err(read_error)?;
    let metadata = file.metadata().map_err(read_error)?;
    if !metadata.is_file() {
        return Err(ReadError::NotAFile);
    }
    read_limited(file, metadata.len(), limit)
}

/// What can be read from file descriptor `fd`, up to `limit` bytes.
///
/// # Errors
/// The error of the operating system.
pub fn read_descriptor(fd: u32, limit: u64) -> Result<Vec<u8>, String> {
    // `/dev/fd` is where Linux, macOS and the BSDs show a process its descriptors.
    let file = std::fs::File::open(format!("/dev/fd/{fd}")).map_err(|error| error.to_string())?;
    read_limited(file, 0, limit).map_err(|read_error| read_error.to_string())
}

/// Reads to the end, but never more than `limit` bytes, even of a file that
/// grows or that reports a wrong length.
fn read_limited(file: impl Read, length: u64, limit: u64) -> Result<Vec<u8>, ReadError> {
    if length > limit {
        return Err(ReadError::TooLarge { limit });
    }
    let mut bytes = Vec::with_capacity(length as usize);
    file.take(limit + 1)
        .read_to_end(&mut bytes)
        .map_err(read_error)?;
    if bytes.len() as u64 > limit {
        return Err(ReadError::TooLarge { limit });
    }
    Ok(bytes)
}

/// Whether `name` is a relative path inside the folder, the same on every system.
fn check_path(name: &str) -> Result<(), ReadError> {
    if name.starts_with('/') || name.split(['/', '\\']).any(|part| part == "..") {
        return Err(ReadError::LeavesFolder);
    }
    let plain = !name.contains(['\\', ':', '\0'])
        && name.split('/').all(|part| !part.is_empty() && part != ".");
    if plain {
        Ok(())
    } else {
        Err(ReadError::OddPath)
    }
}

pub(super) fn read_error(error: io::Error) -> ReadError {
    match error.kind() {
        io::ErrorKind::NotFound => ReadError::Missing,
        // cap-std reports an escape under this kind, without a system error code.
        io::ErrorKind::PermissionDenied if error.raw_os_error().is_none() => {
            ReadError::LeavesFolder
        }
        io::ErrorKind::NotADirectory | io::ErrorKind::IsADirectory => ReadError::NotAFile,
        _ => ReadError::Refused(error.to_string()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeMap;
    use std::fs;

    #[test]
    fn reads_bytes_with_their_digest() {
        let folder = tempfile::tempdir().unwrap();
        fs::write(folder.path().join("job.toml"), b"abc").unwrap();
        let input = Folder::open(folder.path())
            .unwrap()
            .read("job.toml", 3)
            .unwrap();
        assert_eq!(input.bytes, b"abc");
        assert_eq!(input.digest, Digest::of(b"abc"));
    }

    #[test]
    #[cfg(unix)]
    fn the_names_in_both_folders_of_a_seal_are_made_to_last() {
        let folder = tempfile::tempdir().unwrap();
        fs::create_dir(folder.path().join("seals")).unwrap();
        let job = Folder::open(folder.path()).unwrap().dir;
        let seals = job.open_dir("seals").unwrap();
        sync(&job).unwrap();
        sync(&seals).unwrap();
    }

    #[test]
    fn a_file_over_the_limit_is_not_read() {
        let folder = tempfile::tempdir().unwrap();
        let file = fs::File::create(folder.path().join("huge.toml")).unwrap();
        file.set_len(1 << 30).unwrap();
        assert_eq!(
            Folder::open(folder.path())
                .unwrap()
                .read("huge.toml", 1 << 20)
                .unwrap_err(),
            ReadError::TooLarge { limit: 1 << 20 }
        );
        assert_eq!(
            read_limited(io::repeat(7), 0, 10).unwrap_err(),
            ReadError::TooLarge { limit: 10 }
        );
    }

    #[test]
    fn no_path_and_no_link_leads_out() {
        let outside = tempfile::tempdir().unwrap();
        fs::write(outside.path().join("secret"), b"x").unwrap();
        let inside = outside.path().join("job");
        fs::create_dir(&inside).unwrap();
        let folder = Folder::open(&inside).unwrap();
        for path in ["c:\\x", "photos\\x.jpg", "./x.jpg", "a//b", "photos/", ""] {
            assert_eq!(
                folder.read(path, 10).unwrap_err(),
                ReadError::OddPath,
                "{path}"
            );
        }
        for path in ["../secret", "/etc/hostname", "a/../../secret"] {
            assert_eq!(
                folder.read(path, 10).unwrap_err(),
                ReadError::LeavesFolder,
                "{path}"
            );
        }
        #[cfg(unix)]
        {
            std::os::unix::fs::symlink("../secret", inside.join("link")).unwrap();
            assert_eq!(
                folder.read("link", 10).unwrap_err(),
                ReadError::LeavesFolder
            );
        }
    }

    #[test]
    fn a_folder_is_not_a_file() {
        let folder = tempfile::tempdir().unwrap();
        fs::create_dir(folder.path().join("photos")).unwrap();
        let opened = Folder::open(folder.path()).unwrap();
        assert_eq!(opened.read("photos", 10).unwrap_err(), ReadError::NotAFile);
        assert_eq!(
            opened.read("photos/a.jpg", 10).unwrap_err(),
            ReadError::Missing
        );
    }

    #[test]
    fn the_nearest_folder_that_has_the_file_is_found() {
        let top = tempfile::tempdir().unwrap();
        let job = top.path().join("jobs/one");
        fs::create_dir_all(&job).unwrap();
        let found = |name| {
            let path = nearest_with(&job, name).unwrap().path().to_path_buf();
            let top = top.path().canonicalize().unwrap();
            path.strip_prefix(top).unwrap().to_path_buf()
        };
        // Nowhere: the folder itself, where reading it tells that it is missing.
        assert_eq!(found("shop-of-no-one.toml"), Path::new("jobs/one"));
        fs::write(top.path().join("shop-of-no-one.toml"), b"x").unwrap();
        assert_eq!(found("shop-of-no-one.toml"), Path::new(""));
        // A folder of that name hides what lies above: reading it tells what is wrong.
        fs::create_dir(top.path().join("jobs/shop-of-no-one.toml")).unwrap();
        assert_eq!(found("shop-of-no-one.toml"), Path::new("jobs"));
        fs::write(job.join("shop-of-no-one.toml"), b"x").unwrap();
        assert_eq!(found("shop-of-no-one.toml"), Path::new("jobs/one"));
        assert_eq!(
            nearest_with(&job.join("none"), "x").err(),
            Some(ReadError::Missing)
        );
    }

    /// What was opened is asked what it is: a pipe that nobody writes to is not waited for.
    #[cfg(unix)]
    #[test]
    fn a_pipe_is_not_waited_for() {
        let folder = tempfile::tempdir().unwrap();
        let pipe = folder.path().join("pipe");
        let made = std::process::Command::new("mkfifo").arg(&pipe).status();
        assert!(made.unwrap().success());
        let opened = Folder::open(folder.path()).unwrap();
        assert_eq!(opened.read("pipe", 10).unwrap_err(), ReadError::NotAFile);
        assert_eq!(opened.digest("pipe").unwrap_err(), ReadError::NotAFile);
        assert_eq!(read_path(&pipe, 10).unwrap_err(), ReadError::NotAFile);
    }

    #[test]
    fn a_new_file_is_written_once_and_never_outside() {
        let outside = tempfile::tempdir().unwrap();
        let inside = outside.path().join("job");
        fs::create_dir(&inside).unwrap();
        let folder = Folder::open(&inside).unwrap();
        let left = inside.join("seals/.retestify-left");
        assert_eq!(folder.write_new("seals", "1", b"a"), Ok(()));
        fs::write(&left, "x").unwrap();
        assert_eq!(
            folder.write_new("seals", "1", b"b"),
            Err(WriteError::Exists)
        );
        assert_eq!(folder.write_new("seals", "2", b"b"), Ok(()));
        assert!(!left.exists());
        assert_eq!(fs::read(inside.join("seals/1")).unwrap(), b"a");
        assert_eq!(fs::read_dir(inside.join("seals")).unwrap().count(), 2);
        #[cfg(unix)]
        {
            fs::rename(inside.join("seals"), inside.join("away")).unwrap();
            std::os::unix::fs::symlink(outside.path(), inside.join("seals")).unwrap();
            let found = folder.write_new("seals", "3", b"c");
            assert!(matches!(found, Err(WriteError::Refused(_))), "{found:?}");
            assert!(!outside.path().join("3").exists());
        }
    }

    #[test]
    fn a_name_is_given_in_one_step_or_in_two_and_never_taken_from_another() {
        type Give = fn(&Dir, &str, &str) -> io::Result<()>;
        let can = cfg!(any(target_os = "linux", target_vendor = "apple"));
        for (give, in_one_step) in [(give_name as Give, can), (give_second_name, false)] {
            let folder = tempfile::tempdir().unwrap();
            fs::write(folder.path().join("new"), b"b").unwrap();
            fs::write(folder.path().join("taken"), b"a").unwrap();
            let dir = Folder::open(folder.path()).unwrap().dir;
            let refused = give(&dir, "new", "taken").unwrap_err();
            assert_eq!(refused.kind(), io::ErrorKind::AlreadyExists);
            assert_eq!(dir.read("taken").unwrap(), b"a");
            give(&dir, "new", "free").unwrap();
            assert_eq!(dir.read("free").unwrap(), b"b");
            // A process that was killed right here would leave both names.
            assert!(!(in_one_step && dir.exists("new")));
        }
    }

    /// A folder on disk and files in memory list the same.
    #[test]
    fn a_folder_lists_the_files_right_in_it() {
        let disk = tempfile::tempdir().unwrap();
        let mut memory = BTreeMap::new();
        for name in ["seals/b", "seals/a", "sealsc", "seals2/d", "job.toml"] {
            let path = disk.path().join(name);
            fs::create_dir_all(path.parent().unwrap()).unwrap();
            fs::write(path, b"x").unwrap();
            memory.insert(name.to_owned(), b"x".to_vec());
        }
        memory.insert("seals/deep/e".to_owned(), b"x".to_vec());
        let folder = Folder::open(disk.path()).unwrap();
        let sources: [&dyn Source; 2] = [&folder, &memory];
        for source in sources {
            assert_eq!(source.list("seals").unwrap(), ["a", "b"]);
            assert_eq!(source.list("photos").unwrap(), [""; 0]);
        }
        assert_eq!(folder.list("../x").unwrap_err(), ReadError::LeavesFolder);
    }
}
