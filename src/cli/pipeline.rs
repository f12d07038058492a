//! The pipeline in code: files → intake → judge → result → seals → view → render →
//! signature. [`judge`] and [`report`] are the whole way of a job; [`drop_off`] and
//! [`receipt`] are the same way before the work, when there is nothing to judge yet.

use std::path::Path;

use chrono::{DateTime, FixedOffset};

use super::CommandError;
use super::issue::{Issue, Paper};
use super::progress::Watched;
use super::typed::Typed;
use crate::document::{DropOff, Judged, set_receipt, set_report};
use crate::files::{Folder, ReadError, nearest_with};
use crate::intake::{self, Glance, Inputs, Intake, Media, SHOP_FILE, can_print};
use crate::job::{JobFile, Plan, Stage};
use crate::judge;
use crate::result::{ResultFile, to_json};
use crate::seals::{Chain, sealing, sealing_of_baseline};

/// Reads the job in the folder at `path`, judges it, and holds it against its seals.
pub fn judge(path: &Path) -> Result<Judged, CommandError> {
    let files = JobFolder::open(path)?;
    let intake = intake::read_job(files.inputs(), &can_print, Media::Read)?;
    let judgement = judge::judge(&intake.job);
    let result = to_json(&ResultFile::new(&intake.job, &judgement, intake.files()));
    let chain = Chain::read(&files.job)?;
    let sealing = sealing(&chain, &intake.digests(), intake.job.work.started);
    Ok(Judged {
        intake,
        judgement,
        result,
        sealing,
    })
}

/// Makes the report of a job that was judged, signed where there is an identity.
pub fn report(judged: &Judged, issue: &Issue) -> Result<Paper, CommandError> {
    issue.sign(&judged.intake.shop, |signer| {
        set_report(judged, issue.form(), signer)
    })
}

/// Reads the job in the folder at `path` as far as it exists before the work.
pub fn drop_off(path: &Path) -> Result<DropOff, CommandError> {
    let files = JobFolder::open(path)?;
    let intake = intake::read_baselined(files.inputs(), &can_print, Media::Read)?;
    let chain = Chain::read(&files.job)?;
    let sealing = sealing_of_baseline(&chain, &intake.digests());
    Ok(DropOff { intake, sealing })
}

/// Makes the receipt of a job whose baseline is sealed, signed where there is an identity.
pub fn receipt(job: &DropOff, issue: &Issue) -> Result<Paper, CommandError> {
    let sealed = job.sealing.chain.latest(Stage::Baseline);
    sealed.ok_or_else(|| {
        CommandError::told(
            "the baseline is not sealed",
            "run `retestify seal baseline FOLDER` first",
        )
    })?;
    issue.sign(&job.intake.shop, |signer| {
        set_receipt(job, issue.form(), signer)
    })
}

/// Refuses what is no job folder.
pub fn check_job_folder(path: &Path) -> Result<(), CommandError> {
    JobFolder::open(path).map(|_| ())
}

/// Whether anything is sealed in the folder at `path`.
pub fn has_seals(path: &Path) -> Result<bool, CommandError> {
    let files = JobFolder::open(path)?;
    Ok(!Chain::read(&files.job)?.is_empty())
}

/// Whether work.toml in the folder at `path` says that the work had started by `now`; the
/// file need not be complete.
pub fn work_has_started(path: &Path, now: DateTime<FixedOffset>) -> bool {
    let started = JobFolder::open(path)
        .ok()
        .and_then(|files| Glance::at(&files.job).work_started);
    started.is_some_and(|started| started <= now)
}

/// Reads what is planned of the job in the folder at `path`; it need not be measured yet.
pub fn plan(path: &Path) -> Result<Intake<Plan>, CommandError> {
    let files = JobFolder::open(path)?;
    Ok(intake::read_plan(files.inputs(), &can_print)?)
}

/// A job folder, and the folder of the shop's file that serves it.
struct JobFolder {
    job: Watched,
    shop: Folder,
}

impl JobFolder {
    fn open(path: &Path) -> Result<Self, CommandError> {
        let job = open(path)?;
        is_job(&job, path)?;
        let shop = nearest_with(path, SHOP_FILE).map_err(|error| {
            CommandError::told(
                format!(
                    "{SHOP_FILE} could not be looked for above {}: {error}",
                    path.display()
                ),
                "check that you may read the folders above it",
            )
        })?;
        let job = Watched::new(job);
        Ok(Self { job, shop })
    }

    fn inputs(&self) -> Inputs<'_> {
        Inputs {
            job: &self.job,
            shop: &self.shop,
        }
    }
}

/// Refuses a folder that has none of the files of a job; it may be the one above or below.
fn is_job(folder: &Folder, path: &Path) -> Result<(), CommandError> {
    let of_job = |folder: &Folder| {
        let names = folder.names().unwrap_or_default();
        let is_named = |name: &String| {
            let name = name.to_lowercase();
            JobFile::ALL
                .iter()
                .any(|file| name.starts_with(file.name()))
        };
        names.iter().any(is_named)
    };
    if of_job(folder) {
        return Ok(());
    }
    let has_job = |path: &Path| path.is_dir() && Folder::open(path).is_ok_and(|it| of_job(&it));
    let names = folder.names().unwrap_or_default();
    let mut below = names
        .iter()
        .map(|name| path.join(name))
        .filter(|path| has_job(path));
    let above = path.canonicalize().ok();
    let above = above
        .as_deref()
        .and_then(Path::parent)
        .filter(|above| has_job(above));
    let hint = match (below.next(), below.next(), above) {
        (Some(one), None, _) => format!("the job is in {}: name that folder", Typed(&one)),
        (Some(one), Some(_), _) => {
            format!(
                "there are several below it: name one of them, such as {}",
                Typed(&one)
            )
        }
        (None, _, Some(_)) => format!(
            "the job is in the folder above it: {}",
            Typed(&path.join(".."))
        ),
        (None, _, None) => "`retestify init FOLDER` makes a folder with every file".to_owned(),
    };
    Err(CommandError::told(
        format!("there is no job in {}", path.display()),
        hint,
    ))
}

/// Opens the job folder at `path`.
pub fn open(path: &Path) -> Result<Folder, CommandError> {
    Folder::open(path).map_err(|error| match error {
        ReadError::Missing => CommandError::told(
            format!("there is no folder {}", path.display()),
            "name the folder that holds job.toml; `retestify init` makes one",
        ),
        ReadError::NotAFile => CommandError::told(
            format!("{} is not a folder", path.display()),
            "name the folder that holds job.toml, not a file in it",
        ),
        other => CommandError::told(
            format!("{} cannot be opened: {other}", path.display()),
            "check that you may read it",
        ),
    })
}
