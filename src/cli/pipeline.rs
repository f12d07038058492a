//! The pipeline in code: files → intake → judge → result → seals → view → render →
//! signature. [`judge`] and [`report`] are the whole way of a job; [`drop_off`] and
//! [`receipt`] are the same way before the work, when there is nothing to judge yet.

use std::path::Path;

use chrono::{DateTime, FixedOffset};

use super::CommandError;
use super::issue::{Issue, Paper};
use super::judged::{DropOff, Judged};
use super::material::{
    Parts, attachments, document_file, form_names, material, pictures, receipt_material,
};
use super::typed::Typed;
use crate::files::{Folder, ReadError, nearest_with};
use crate::intake::{self, Glance, Inputs, Intake, Media, SHOP_FILE, can_print};
use crate::job::{JobFile, Plan, Stage};
use crate::judge;
use crate::render::{self, Document, Printed, RenderError};
use crate::result::{DocumentKind, ResultFile, to_json};
use crate::seals::{Chain, Fingerprint, Link, sealing, sealing_of_baseline};
use crate::view::{self, OwnForm, Signer};

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
        set_report(judged, issue, signer)
    })
}

/// Sets the pages of a report as they are before anybody signs them.
pub fn set_report(
    judged: &Judged,
    issue: &Issue,
    signer: Option<Signer>,
) -> Result<Printed, RenderError> {
    let intake = &judged.intake;
    let file = document_file(DocumentKind::Report, intake, issue, signer.as_ref());
    let material = material(judged, issue.now, signer);
    let mut report = view::report(&material, &issue.words);
    report.sheet.own_form =
        form_names(&issue.pages).map(|attached| OwnForm::of_report(&material, &attached));
    let parts = Parts {
        texts: &intake.texts,
        seals: &judged.sealing.chain.links,
        result: Some(&judged.result),
        own: &issue.pages.own,
        document: &file.text(),
    };
    let attachments = attachments(&parts, &issue.words);
    let pictures = pictures(&intake.pictures, intake.logo.as_ref());
    let document = Document::Report(&report);
    let template = &issue.pages.template;
    render::pdf(template, document, &pictures, &attachments, issue.now)
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
    let seal = sealed_baseline(job)?;
    issue.sign(&job.intake.shop, |signer| {
        set_receipt(job, seal, issue, signer)
    })
}

/// The seal of the baseline that is in force.
pub fn sealed_baseline(job: &DropOff) -> Result<&Link, CommandError> {
    let chain = &job.sealing.chain;
    chain.latest(Stage::Baseline).ok_or_else(|| {
        CommandError::told(
            "the baseline is not sealed",
            "run `retestify seal baseline FOLDER` first",
        )
    })
}

/// Sets the page of a receipt that shows `seal`, as it is before anybody signs it.
pub fn set_receipt(
    job: &DropOff,
    seal: &Link,
    issue: &Issue,
    signer: Option<Signer>,
) -> Result<Printed, RenderError> {
    let chain = &job.sealing.chain;
    let intake = &job.intake;
    let qr = Fingerprint::of(seal.digest).qr();
    // A seal is checked against the one before it, so a receipt carries all seals up to
    // its own.
    let is_baseline = |link: &Link| link.seal.stage == Stage::Baseline;
    let last = chain.links.iter().rposition(is_baseline);
    let seals = &chain.links[..last.map_or(0, |last| last + 1)];
    let file = document_file(DocumentKind::Receipt, intake, issue, signer.as_ref());
    let material = receipt_material(job, issue.now, signer, &qr);
    let mut receipt = view::receipt(&material, &issue.words);
    receipt.sheet.own_form = form_names(&issue.pages)
        .map(|attached| OwnForm::of_receipt(&intake.job.plan, &intake.shop, &attached));
    let parts = Parts {
        texts: &intake.texts,
        seals,
        result: None,
        own: &issue.pages.own,
        document: &file.text(),
    };
    let attachments = attachments(&parts, &issue.words);
    let pictures = pictures(&intake.pictures, intake.logo.as_ref());
    let document = Document::Receipt(&receipt);
    let template = &issue.pages.template;
    render::pdf(template, document, &pictures, &attachments, issue.now)
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
    job: Folder,
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
