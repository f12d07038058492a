//! The photos that a job names: each file read once, several at a time, and the
//! pairs they form.
//!
//! The digest is of the original; what goes into the report is a copy
//! (`picture`). Whichever photo is done first, the results are in the order in
//! which the files name them.

use std::collections::{BTreeMap, BTreeSet};
#[cfg(feature = "program")]
use std::num::NonZero;
#[cfg(feature = "program")]
use std::sync::OnceLock;
#[cfg(feature = "program")]
use std::sync::atomic::{AtomicUsize, Ordering};
#[cfg(feature = "program")]
use std::thread;

use super::common_checks;
use super::picture::{Picture, Refusal};
#[cfg(feature = "program")]
use super::picture_copy::picture;
#[cfg(feature = "program")]
use super::picture_memory::Room;
use super::problem::{Problems, what_to_do};
use super::shapes::PhotoTable;
use super::spelling::nearest;
use super::toml_document::Document;
use crate::files::{ReadError, Source, look_alike};
use crate::job::{JobFile, Photo};

/// The largest photo that is read, in bytes.
#[cfg(feature = "program")]
const PHOTO_LIMIT: u64 = 64 << 20;
/// The most photos that are worked on at once; each holds its original too.
#[cfg(feature = "program")]
const WORKERS: usize = 4;

/// What to do where a file has another name than it is called by.
pub const SAME_NAME: &str = "write the name here exactly as the file has it, capitals too";

/// A file with its photos.
pub type Named<'a> = (&'a Document, &'a [PhotoTable]);

/// Reads the photos that `files` name, each once, in order of first mention.
pub fn read(source: &dyn Source, files: &[Named<'_>], problems: &mut Problems) -> Vec<Picture> {
    let mut seen = BTreeSet::new();
    let wanted: Vec<Wanted<'_>> = files
        .iter()
        .flat_map(|(document, tables)| {
            let numbered = tables.iter().enumerate();
            numbered.map(move |(index, table)| (*document, index, table.file.as_str()))
        })
        .filter(|(_, _, file)| seen.insert(*file))
        .collect();
    let found = look_at(source, &wanted);
    let mut pictures = Vec::new();
    for ((document, index, file), found) in wanted.into_iter().zip(found) {
        match found {
            Ok(picture) => pictures.push(picture),
            Err((message, hint)) => {
                let at = index.to_string();
                let path = ["photo", at.as_str(), "file"];
                let (message, hint) = match look_alike(source, file) {
                    Some(other) => (format!(": the file is called `{other}`"), SAME_NAME),
                    None => (message, hint),
                };
                document.problem(&path, format!("photo `{file}`{message}"), hint, problems);
            }
        }
    }
    pictures
}

/// A photo that is wanted: the file that names it, which of its photos it is, its name.
type Wanted<'a> = (&'a Document, usize, &'a str);

/// The photos with their copies for print.
#[cfg(feature = "program")]
fn look_at(source: &dyn Source, wanted: &[Wanted<'_>]) -> Vec<Result<Picture, Refusal>> {
    let room = Room::default();
    side_by_side(wanted, |(_, _, file)| {
        let input = source
            .read(file, PHOTO_LIMIT)
            .map_err(|error| not_read(&error))?;
        picture(&input, &room).map_err(|(message, hint)| (format!(" {message}"), hint))
    })
}

/// The copy for print of the photo `file` in `source`, where there is one.
#[cfg(feature = "program")]
pub fn photo_copy(source: &dyn Source, file: &str) -> Option<Picture> {
    let input = source.read(file, PHOTO_LIMIT).ok()?;
    picture(&input, &Room::default()).ok()
}

/// The photos as far as they are known without looking at their pixels: a caller who
/// knows the cameras' times gives them to [`date`].
#[cfg(not(feature = "program"))]
fn look_at(source: &dyn Source, wanted: &[Wanted<'_>]) -> Vec<Result<Picture, Refusal>> {
    let known = |(_, _, file): &Wanted<'_>| {
        let (digest, size) = source.digest(file).map_err(|error| not_read(&error))?;
        Ok(Picture::unseen(file, size, digest))
    };
    wanted.iter().map(known).collect()
}

fn not_read(error: &ReadError) -> Refusal {
    let hint = match error {
        ReadError::Missing => "copy it into the job folder, or correct the name",
        other => what_to_do(other),
    };
    (format!(": {error}"), hint)
}

/// `work` on each of `items`, on as many threads as there are cores, at most
/// [`WORKERS`]; the results in the order of the items.
#[cfg(feature = "program")]
fn side_by_side<T: Sync, R: Send + Sync>(items: &[T], work: impl Fn(&T) -> R + Sync) -> Vec<R> {
    let results: Vec<OnceLock<R>> = items.iter().map(|_| OnceLock::new()).collect();
    let next = AtomicUsize::new(0);
    let cores = thread::available_parallelism().map_or(1, NonZero::get);
    thread::scope(|scope| {
        for _ in 0..cores.min(WORKERS).min(items.len()) {
            scope.spawn(|| {
                while let Some(index) = Some(next.fetch_add(1, Ordering::Relaxed))
                    && let (Some(item), Some(result)) = (items.get(index), results.get(index))
                {
                    // Each index is handed out once, so nothing is set twice.
                    let _ = result.set(work(item));
                }
            });
        }
    });
    results
        .into_iter()
        .filter_map(OnceLock::into_inner)
        .collect()
}

/// Gives `photos` the times at which their cameras say they were taken.
pub fn date(photos: &mut [Photo], pictures: &[Picture]) {
    for photo in photos {
        let picture = pictures.iter().find(|picture| picture.file == photo.file);
        photo.taken = picture.and_then(|picture| picture.taken);
    }
}

/// Checks that every `pair` is one photo of the baseline and another one of the retest.
pub fn check_pairs(
    baseline: Option<Named<'_>>,
    work: Option<Named<'_>>,
    retest: Option<Named<'_>>,
    pictures: &[Picture],
    problems: &mut Problems,
) {
    let digest_of = |file: &str| {
        let picture = pictures.iter().find(|picture| picture.file == file)?;
        Some(picture.digest)
    };
    if let Some((document, tables)) = work {
        for (index, table) in tables.iter().enumerate() {
            if table.pair.is_some() {
                document.problem(
                    &["photo", &index.to_string(), "pair"],
                    "a photo of the work cannot be part of a pair",
                    "delete `pair` here; a pair is one photo of the baseline and one of the retest",
                    problems,
                );
            }
        }
    }
    let (Some(baseline), Some(retest)) = (baseline, retest) else {
        return;
    };
    let names = [baseline, retest].map(|file| pair_names(file, problems));
    let same = names[0].iter().filter_map(|(name, before)| {
        let after = names[1].get(name)?;
        let (before, after) = (baseline.1.get(*before)?, retest.1.get(*after)?);
        (digest_of(&before.file)? == digest_of(&after.file)?).then_some((name, &before.file))
    });
    let same: Vec<_> = same.collect();
    for (name, file) in same {
        let index = names[1][name].to_string();
        retest.0.problem(
            &["photo", &index, "file"],
            format!("the pair `{name}` has the same picture, `{file}`, twice"),
            "name the photo taken at the retest, or delete `pair` in both files",
            problems,
        );
    }
    for (own, other, (document, _), there) in [
        (&names[0], &names[1], baseline, JobFile::Retest.name()),
        (&names[1], &names[0], retest, JobFile::Baseline.name()),
    ] {
        let others: Vec<&str> = other.keys().copied().collect();
        for (name, index) in own {
            if other.contains_key(name) {
                continue;
            }
            let near = nearest(name, &others);
            // The baseline is sealed before anybody knows whether the second photo of a pair
            // will be taken; it then stands alone, unless the name was only mistyped.
            if document.name() == JobFile::Baseline.name() && near.is_none() {
                continue;
            }
            let hint = match near {
                Some(near) => format!("there is a pair `{near}`: write the same name in both"),
                None => format!("add `pair = \"{name}\"` to the photo of the same thing there"),
            };
            document.problem(
                &["photo", &index.to_string(), "pair"],
                format!("no photo in {there} belongs to the pair `{name}`"),
                hint,
                problems,
            );
        }
    }
}

/// Takes the photos of the baseline out of pairs whose second photo was never taken.
pub fn leave_alone(before: &mut [Photo], after: &[Photo]) {
    for photo in before {
        if !after.iter().any(|other| other.pair == photo.pair) {
            photo.pair = None;
        }
    }
}

/// The names of a file's pairs, and which photo bears each.
fn pair_names<'a>(
    (document, tables): Named<'a>,
    problems: &mut Problems,
) -> BTreeMap<&'a str, usize> {
    let mut names = BTreeMap::new();
    for (index, table) in tables.iter().enumerate() {
        let Some(name) = &table.pair else { continue };
        let at = index.to_string();
        let path = ["photo", at.as_str(), "pair"];
        common_checks::check_id(document, &path, name, problems);
        if names.contains_key(name.as_str()) {
            document.problem(
                &path,
                format!("a second photo of this run has the pair `{name}`"),
                "a pair is one photo of each run: give this one another name",
                problems,
            );
        } else {
            names.insert(name.as_str(), index);
        }
    }
    names
}

/// The photos of a file. Whether they can be read, and when they were taken, is checked
/// elsewhere.
pub fn named(tables: &[PhotoTable]) -> Vec<Photo> {
    tables
        .iter()
        .map(|table| Photo {
            file: table.file.clone(),
            caption: table.caption.clone(),
            alt: table.alt.clone(),
            pair: table.pair.clone(),
            taken: None,
        })
        .collect()
}
