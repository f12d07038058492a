//! The files of a new job from those of another, and the retest's from the baseline's.

use std::path::Path;

use super::CommandError;
use super::pipeline::open;
use crate::files::{ReadError, Source, replace_text};
use crate::fill::blank;
use crate::intake::TEXT_LIMIT;
use crate::job::JobFile;

/// What stands at the top of the files of runs.
pub const BASELINE: &str = "#:schema .schemas/run.schema.json\n# The readings before the work. Lines \
    that start with # are for you to fill in: delete\n# the # and write what you read. \
    `retestify check` lists what is still missing.";
pub const RETEST: &str = "#:schema .schemas/run.schema.json\n# The readings after the work, in the \
    same way as before it. Lines that start with #\n# are for you to fill in: delete the # and \
    write what you read.";

/// The files of a job like the one in `old`, without its figures.
pub fn files(old: &Path, same_machine: bool) -> Result<Vec<(String, String)>, CommandError> {
    let folder = open(old)?;
    let read = |file: JobFile| {
        let cannot = |why: String| {
            CommandError::told(
                format!(
                    "{} cannot be taken over: {why}",
                    old.join(file.name()).display()
                ),
                "name the folder of a job that `retestify check` can read",
            )
        };
        let input = folder.read(file.name(), TEXT_LIMIT);
        let input = input.map_err(|error| cannot(error.to_string()))?;
        String::from_utf8(input.bytes).map_err(|error| cannot(error.to_string()))
    };
    let blank = |file: JobFile, blank: Option<String>| {
        blank
            .map(|text| (file.name().to_owned(), text))
            .ok_or_else(|| {
                CommandError::told(
                    format!("{} is no TOML", old.join(file.name()).display()),
                    "`retestify check` says what is wrong in it",
                )
            })
    };
    let (job, limits) = (read(JobFile::Job)?, read(JobFile::Limits)?);
    let baseline = read(JobFile::Baseline)?;
    let run = |head: &str| blank::run_like(&baseline, &job, &limits, head);
    Ok(vec![
        blank(JobFile::Job, blank::job(&job, same_machine))?,
        blank(JobFile::Limits, blank::limits(&limits))?,
        blank(JobFile::Baseline, run(BASELINE))?,
        blank(JobFile::Retest, run(RETEST))?,
    ])
}

/// Leaves a retest.toml like the baseline, with the figures blank, where nothing of the retest
/// is written down yet. Whether it did.
pub fn leave_retest(folder: &Path) -> bool {
    let Ok(source) = open(folder) else {
        return false;
    };
    let text = |file: JobFile| {
        let input = source.read(file.name(), TEXT_LIMIT)?;
        let digest = input.digest;
        let text = String::from_utf8(input.bytes).map_err(|_| ReadError::NotAFile)?;
        Ok::<_, ReadError>((text, digest))
    };
    let was = match text(JobFile::Retest) {
        Ok((text, digest)) if !blank::is_begun(&text) => Some(digest),
        Err(ReadError::Missing) => None,
        Ok(_) | Err(_) => return false,
    };
    let texts = [JobFile::Baseline, JobFile::Job, JobFile::Limits].map(text);
    let [Ok((baseline, _)), Ok((job, _)), Ok((limits, _))] = texts else {
        return false;
    };
    blank::run_like(&baseline, &job, &limits, RETEST).is_some_and(|text| {
        replace_text(&folder.join(JobFile::Retest.name()), was, text.as_bytes()).is_ok()
    })
}
