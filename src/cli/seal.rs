//! `retestify seal` and `retestify receipt`

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use chrono::{DateTime, FixedOffset};

use super::args::{ReceiptArgs, SealArgs};
use super::issue::Issue;
use super::like;
use super::output::{Paperwork, check_signed, refused, say, verdict, warn};
use super::pipeline;
use super::template::Pages;
use super::typed::Typed;
use super::{CommandError, clock, keys};
use crate::document::{DropOff, Judged, material};
use crate::files::{Held, check_output, hold, write_whole};
use crate::intake::Intake;
use crate::intake::can_print;
use crate::job::{Baselined, Job, JobFile, Run, Sealable, Stage};
use crate::seals::{Chain, Clock, Closing, Fingerprint, Link, SEALS, sealing, sealing_of_baseline};
use crate::view;

/// Seals a stage of a job; the baseline with its receipt.
pub fn run(args: &SealArgs) -> Result<ExitCode, CommandError> {
    let (now, clock) = clock::now()?;
    let amends = args.amend.clone();
    let terms = Terms { amends, now, clock };
    match args.stage {
        Stage::Baseline => baseline_with_receipt(args, terms),
        Stage::Retest => {
            let (judged, seal) = retest(&args.folder, terms)?;
            seal.write(&args.folder)?;
            let words = Pages::read(None)?.words(&judged.intake)?;
            verdict(&view::report(&material(&judged, now, None), &words).front);
            Ok(ExitCode::SUCCESS)
        }
    }
}

/// Everything that can fail without harm comes before the seal is written.
fn baseline_with_receipt(args: &SealArgs, terms: Terms) -> Result<ExitCode, CommandError> {
    let Terms { now, clock, .. } = terms;
    let (job, seal) = baseline(&args.folder, terms)?;
    let path = receipt_path(&args.folder, args.receipt.as_deref(), &job.sealing.chain);
    check_output(&path, false).map_err(|error| refused(&path, &error))?;
    let pages = Pages::read(args.template.as_deref())?;
    let issue = Issue {
        now,
        clock,
        identity: keys::to_sign(&args.signing)?,
        words: pages.words(&job.intake)?,
        pages,
    };
    let paper = pipeline::receipt(&job, &issue)?;
    warn(&job.intake.job.plan, &job.intake.job.baseline, &issue.words);
    seal.write(&args.folder)?;
    write_whole(&path, &paper.bytes, false).map_err(|error| {
        CommandError::told(
            format!(
                "the baseline is sealed, but {} was not written: {error}",
                path.display()
            ),
            format!(
                "when that is mended, run `retestify receipt {} --output {}`",
                Typed(&args.folder),
                Typed(&path)
            ),
        )
    })?;
    say(&path, &paper, &issue, args.signing.wish());
    if like::leave_retest(&args.folder) {
        anstream::println!(
            "retest.toml has the same rows, units and instruments, with the figures blank."
        );
    }
    anstream::println!(
        "{}",
        if args.amend.is_some() {
            "Give the customer this receipt too: the earlier one shows a seal that is no longer in force."
        } else if pipeline::work_has_started(&args.folder, now) {
            "Give the customer this receipt. work.toml says that the work had started: what was \
             sealed late shows less, and the report says so."
        } else {
            "Give the customer this receipt before you start work."
        }
    );
    Ok(ExitCode::SUCCESS)
}

/// How a stage is to be sealed.
pub struct Terms {
    /// The reason for amending an older seal, if one is to be amended.
    pub amends: Option<String>,
    /// Now.
    pub now: DateTime<FixedOffset>,
    /// Where that time comes from.
    pub clock: Clock,
}

/// A seal that is ready to be written.
pub struct NewSeal {
    link: Link,
    /// Keeps other commands from adding a seal between reading the chain and writing the
    /// next one.
    _held: Option<Held>,
}

/// Checks that the baseline in `folder` may be sealed. The job comes with the new seal in
/// its chain.
pub fn baseline(folder: &Path, terms: Terms) -> Result<(DropOff, NewSeal), CommandError> {
    check_letters(&terms)?;
    let held = hold_folder(folder)?;
    let DropOff { intake, sealing } = pipeline::drop_off(folder)?;
    let Baselined { plan, baseline } = &intake.job;
    let closing = closing(&intake, Stage::Baseline, &plan.number, baseline, terms)?;
    let (link, chain) = next_link(&sealing.chain, closing)?;
    let sealing = sealing_of_baseline(&chain, &intake.digests());
    let seal = NewSeal { link, _held: held };
    Ok((DropOff { intake, sealing }, seal))
}

/// Checks that the retest in `folder` may be sealed.
pub fn retest(folder: &Path, terms: Terms) -> Result<(Judged, NewSeal), CommandError> {
    check_letters(&terms)?;
    let held = hold_folder(folder)?;
    let mut judged = pipeline::judge(folder)?;
    let Job { plan, retest, .. } = &judged.intake.job;
    let words = Pages::read(None)?.words(&judged.intake)?;
    warn(plan, retest, &words);
    let closing = closing(&judged.intake, Stage::Retest, &plan.number, retest, terms)?;
    let (link, chain) = next_link(&judged.sealing.chain, closing)?;
    let started = judged.intake.job.work.started;
    judged.sealing = sealing(&chain, &judged.intake.digests(), started);
    Ok((judged, NewSeal { link, _held: held }))
}

/// The reason for an amendment is printed.
fn check_letters(terms: &Terms) -> Result<(), CommandError> {
    let letters = terms.amends.iter().flat_map(|why| why.chars());
    match letters.into_iter().find(|letter| !can_print(*letter)) {
        None => Ok(()),
        Some(letter) => Err(CommandError::told(
            format!(
                "the reason contains `{}`, which cannot be printed",
                letter.escape_debug()
            ),
            "use only letters that the report's fonts have",
        )),
    }
}

/// Keeps other commands from sealing. A missing folder is reported where it is read.
fn hold_folder(folder: &Path) -> Result<Option<Held>, CommandError> {
    if !folder.is_dir() {
        return Ok(None);
    }
    hold(folder).map_err(|error| {
        CommandError::told(
            format!("{}: {error}", folder.display()),
            "wait until it has finished, then look at `seals/` before you try again",
        )
    })
}

/// The next seal, and the chain with it.
fn next_link(chain: &Chain, closing: Closing) -> Result<(Link, Chain), CommandError> {
    let link = chain.close(closing).map_err(|error| {
        let hint = error.hint();
        CommandError::told(error, hint)
    })?;
    let files = chain.links.iter().chain([&link]);
    let chain = Chain::of(files.map(|one| (one.file.clone(), one.bytes.clone())));
    // A seal cannot be taken back, so one that would break the chain is not made.
    match chain.errors.first() {
        None => Ok((link, chain)),
        Some(error) => Err(CommandError::told(
            format!("this seal would break the chain: {error}"),
            "correct that; a job keeps the number under which it was first sealed",
        )),
    }
}

impl NewSeal {
    /// Writes the seal and says so; then other commands may write again.
    pub fn write(self, folder: &Path) -> Result<(), CommandError> {
        let Self { link, .. } = &self;
        let path = folder.join(SEALS).join(&link.file);
        let opened = pipeline::open(folder)?;
        opened
            .write_new(SEALS, &link.file, &link.bytes)
            .map_err(|error| refused(&path, &error))?;
        anstream::println!("{}", path.display());
        anstream::println!(
            "  {} files, sealed {}",
            link.seal.files.len(),
            link.seal.sealed
        );
        anstream::println!("  fingerprint {}", Fingerprint::of(link.digest));
        Ok(())
    }
}

/// Makes the receipt of a sealed baseline again.
pub fn receipt(args: &ReceiptArgs) -> Result<ExitCode, CommandError> {
    if !pipeline::has_seals(&args.folder)? {
        return Err(CommandError::told(
            "there is no receipt before the baseline is sealed",
            format!(
                "run `retestify seal baseline {}`, which makes the receipt too",
                Typed(&args.folder)
            ),
        ));
    }
    let job = pipeline::drop_off(&args.folder)?;
    if let Some(broken) = job.sealing.broken.first() {
        return Err(CommandError::told(
            format!("{} was changed after it was sealed", broken.file),
            "restore it; or seal again with `--amend \"why\"`",
        ));
    }
    let path = receipt_path(&args.folder, args.output.as_deref(), &job.sealing.chain);
    check_output(&path, args.replace).map_err(|error| refused(&path, &error))?;
    check_signed(&path, Paperwork::Receipt)?;
    let (now, clock) = clock::now()?;
    let pages = Pages::read(args.template.as_deref())?;
    let issue = Issue {
        now,
        clock,
        identity: keys::to_sign(&args.signing)?,
        words: pages.words(&job.intake)?,
        pages,
    };
    let paper = pipeline::receipt(&job, &issue)?;
    write_whole(&path, &paper.bytes, args.replace).map_err(|error| refused(&path, &error))?;
    say(&path, &paper, &issue, args.signing.wish());
    Ok(ExitCode::SUCCESS)
}

/// Where the receipt for the last seal of the baseline goes. The receipt for an amendment
/// gets a name of its own, so that the older one is kept.
fn receipt_path(folder: &Path, told: Option<&Path>, chain: &Chain) -> PathBuf {
    let is_baseline = |link: &Link| link.seal.stage == Stage::Baseline;
    let number = chain
        .links
        .iter()
        .rposition(is_baseline)
        .map_or(1, |at| at + 1);
    let name = match number {
        1 => "receipt.pdf".to_owned(),
        _ => format!("receipt-{number}.pdf"),
    };
    told.map_or_else(|| folder.join(name), Path::to_path_buf)
}

/// What is to be sealed, once the times of its run allow it.
fn closing<T: Sealable>(
    intake: &Intake<T>,
    stage: Stage,
    number: &str,
    run: &Run,
    terms: Terms,
) -> Result<Closing, CommandError> {
    let Terms { amends, now, clock } = terms;
    let measured = run.ended.unwrap_or(run.started);
    if measured > now {
        let file = match stage {
            Stage::Baseline => JobFile::Baseline,
            Stage::Retest => JobFile::Retest,
        }
        .name();
        return Err(CommandError::told(
            format!("{file} says it was measured until {measured}, but it is now {now}"),
            format!("correct the time in {file}, or this computer's clock"),
        ));
    }
    let today = intake.digests();
    let files = intake.job.files_of(stage).into_iter();
    Ok(Closing {
        job: number.to_owned(),
        stage,
        files: files
            .filter_map(|file| Some((file.to_owned(), *today.get(file)?)))
            .collect(),
        today,
        now,
        clock,
        amends,
    })
}
