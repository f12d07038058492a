//! Looking for jobs below a folder.

use std::fs;
use std::path::{Path, PathBuf};

use super::folder::read_error;
use super::source::ReadError;

/// The folders at and below `folder` that have a file called `name`, sorted; at most `deepest`
/// steps down, and no more than `most` folders are looked into. Hidden folders, those in a
/// folder that has the file, and links are passed over.
///
/// # Errors
/// A [`ReadError`] when `folder` itself cannot be listed.
pub fn folders_with(
    folder: &Path,
    name: &str,
    deepest: usize,
    most: usize,
) -> Result<Vec<PathBuf>, ReadError> {
    let mut found = Vec::new();
    let mut open = vec![(folder.to_path_buf(), 0)];
    let mut seen = 0;
    while let Some((path, depth)) = open.pop() {
        seen += 1;
        let entries = match fs::read_dir(&path) {
            Ok(entries) => entries,
            Err(error) if depth == 0 => return Err(read_error(error)),
            Err(_) => continue,
        };
        if path.join(name).is_file() {
            found.push(path);
            continue;
        }
        if depth == deepest || seen >= most {
            continue;
        }
        for entry in entries.flatten() {
            let is_hidden = entry.file_name().to_string_lossy().starts_with('.');
            if !is_hidden && entry.file_type().is_ok_and(|kind| kind.is_dir()) {
                open.push((entry.path(), depth + 1));
            }
        }
    }
    found.sort();
    Ok(found)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_folders_with_a_file_are_found_at_any_depth() {
        let top = tempfile::tempdir().unwrap();
        for job in ["b/one", "a", ".hidden", "a/inside", "b/two/deep/er"] {
            fs::create_dir_all(top.path().join(job)).unwrap();
            fs::write(top.path().join(job).join("job.toml"), "x").unwrap();
        }
        let found = |deepest| {
            let found = folders_with(top.path(), "job.toml", deepest, 100).unwrap();
            let short = found
                .iter()
                .map(|path| path.strip_prefix(top.path()).unwrap());
            short
                .map(|path| path.display().to_string())
                .collect::<Vec<_>>()
        };
        assert_eq!(found(6), ["a", "b/one", "b/two/deep/er"]);
        assert_eq!(found(2), ["a", "b/one"]);
        let job = folders_with(&top.path().join("a"), "job.toml", 0, 100).unwrap();
        assert_eq!(job, [top.path().join("a")]);
        let none = folders_with(&top.path().join("none"), "job.toml", 6, 100);
        assert_eq!(none, Err(ReadError::Missing));
    }
}
