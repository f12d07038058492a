//! `retestify seal` and `retestify receipt`

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use chrono::{DateTime, FixedOffset};

use super::args::{ReceiptArgs, SealArgs, Signing, StageWord};
use super::make_pdf::{self, Issue};
use super::pipeline::{self, Judged};
use super::report::refused;
use super::template::Pages;
use super::{Stop, clock, keys};
use crate::files::{Held, check_output, hold, write_new, write_whole};
use crate::intake::Depth;
use crate::render::can_print;
use crate::seals::{Chain, Clock, Closing, Fingerprint, Link, SEALS, Stage};

/// Seals a stage of a job; the baseline with its receipt.
pub fn run(args: &SealArgs) -> Result<ExitCode, Stop> {
    let (now, clock) = clock::now()?;
    let ready = ready(&args.folder, args.stage, args.amend.clone(), now, clock)?;
    // Everything that can fail without harm comes before the seal is written.
    if args.stage == StageWord::Retest {
        ready.write_seal(&args.folder)?;
        return Ok(ExitCode::SUCCESS);
    }
    let path = receipt_path(&args.folder, args.receipt.as_deref(), &ready.judged.chain);
    let amends = args.amend.is_some();
    check_output(&path, false).map_err(|fault| refused(&path, &fault))?;
    let pages = Pages::read(args.template.as_deref())?;
    let issue = Issue {
        now,
        clock,
        identity: keys::to_sign(&args.signing)?,
        words: pages.words(&args.folder, &ready.judged.intake.shop)?,
        pages,
    };
    let paper = make_pdf::receipt(&ready.judged, &issue)?;
    ready.write_seal(&args.folder)?;
    write_whole(&path, &paper.bytes, false).map_err(|fault| {
        Stop::told(
            format!(
                "the baseline is sealed, but {} was not written: {fault}",
                path.display()
            ),
            "run `retestify receipt FOLDER --output FILE` to make it again",
        )
    })?;
    say(&path, &paper, &issue, args.signing.wish());
    anstream::println!(
        "{}",
        if amends {
            "Give the customer this receipt too: the earlier one shows a seal that is no longer in force."
        } else {
            "Give the customer this receipt before you start work."
        }
    );
    Ok(ExitCode::SUCCESS)
}

/// A seal that is ready to be written, and the job as it will be then.
pub struct Ready {
    /// The job with the new seal in its chain.
    pub judged: Judged,
    link: Link,
    /// Keeps other commands from adding a seal between reading the chain and writing the
    /// next one.
    _held: Option<Held>,
}

/// Checks that `stage` of the job in `folder` may be sealed.
pub fn ready(
    folder: &Path,
    stage: StageWord,
    amends: Option<String>,
    now: DateTime<FixedOffset>,
    clock: Clock,
) -> Result<Ready, Stop> {
    let (stage, depth) = match stage {
        StageWord::Baseline => (Stage::Baseline, Depth::Baseline),
        StageWord::Retest => (Stage::Retest, Depth::Whole),
    };
    let unprintable = amends.iter().flat_map(|why| why.chars());
    if let Some(sign) = unprintable.into_iter().find(|sign| !can_print(*sign)) {
        return Err(Stop::told(
            format!(
                "the reason contains `{}`, which cannot be printed",
                sign.escape_debug()
            ),
            "use only letters that the report's fonts have",
        ));
    }
    // A missing folder is reported where it is read.
    let held = if folder.is_dir() {
        hold(folder).map_err(|fault| {
            Stop::told(
                format!("{}: {fault}", folder.display()),
                "wait until it has finished, then look at `seals/` before you try again",
            )
        })?
    } else {
        None
    };
    let mut judged = pipeline::judge(folder, depth)?;
    let closing = closing(&judged, stage, now, clock, amends)?;
    let link = judged.chain.close(closing).map_err(|fault| {
        let hint = fault.hint();
        Stop::told(fault, hint)
    })?;
    let files = judged.chain.links.iter().chain([&link]);
    judged.chain = Chain::of(files.map(|one| (one.file.clone(), one.bytes.clone())));
    // A seal cannot be taken back, so one that would break the chain is not made.
    if let Some(fault) = judged.chain.errors.first() {
        return Err(Stop::told(
            format!("this seal would break the chain: {fault}"),
            "correct that; a job keeps the number under which it was first sealed",
        ));
    }
    Ok(Ready {
        judged,
        link,
        _held: held,
    })
}

impl Ready {
    /// Writes the seal and says so; then other commands may write again.
    pub fn write_seal(self, folder: &Path) -> Result<(), Stop> {
        let Self { link, .. } = &self;
        let path = folder.join(SEALS).join(&link.file);
        write_new(&path, &link.bytes).map_err(|fault| refused(&path, &fault))?;
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
pub fn receipt(args: &ReceiptArgs) -> Result<ExitCode, Stop> {
    let judged = pipeline::judge(&args.folder, Depth::Baseline)?;
    let sealing = judged.sealing();
    if let Some(broken) = sealing.broken.first() {
        return Err(Stop::told(
            format!("{} was changed after it was sealed", broken.file),
            "restore it; or seal again with `--amend \"why\"`",
        ));
    }
    let path = receipt_path(&args.folder, args.output.as_deref(), &judged.chain);
    check_output(&path, args.replace).map_err(|fault| refused(&path, &fault))?;
    let (now, clock) = clock::now()?;
    let pages = Pages::read(args.template.as_deref())?;
    let issue = Issue {
        now,
        clock,
        identity: keys::to_sign(&args.signing)?,
        words: pages.words(&args.folder, &judged.intake.shop)?,
        pages,
    };
    let paper = make_pdf::receipt(&judged, &issue)?;
    write_whole(&path, &paper.bytes, args.replace).map_err(|fault| refused(&path, &fault))?;
    say(&path, &paper, &issue, args.signing.wish());
    Ok(ExitCode::SUCCESS)
}

/// Prints where the document is and who signed it.
pub fn say(path: &Path, paper: &make_pdf::Paper, issue: &Issue, signing: Signing) {
    anstream::println!("{}", path.display());
    match (&issue.identity, signing) {
        (Some(identity), _) => {
            anstream::println!("  signed by {}", identity.certificate().holder());
        }
        (None, Signing::Refused) => anstream::println!("  not signed, as requested"),
        (None, Signing::Wanted) => anstream::println!(
            "  not signed: `retestify identity new NAME` makes an identity to sign with"
        ),
    }
    if let Some(warning) = &paper.warning {
        anstream::eprintln!("warning: {warning}");
    }
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

/// What is to be sealed, once its own times allow it.
fn closing(
    judged: &Judged,
    stage: Stage,
    now: DateTime<FixedOffset>,
    clock: Clock,
    amends: Option<String>,
) -> Result<Closing, Stop> {
    let job = &judged.intake.job;
    let (file, run) = match stage {
        Stage::Baseline => ("baseline.toml", &job.baseline),
        Stage::Retest => ("retest.toml", &job.retest),
    };
    let measured = run.ended.unwrap_or(run.started);
    if measured > now {
        return Err(Stop::told(
            format!("{file} says it was measured until {measured}, but it is now {now}"),
            format!("correct the time in {file}, or this computer's clock"),
        ));
    }
    Ok(Closing {
        job: job.number.clone(),
        stage,
        files: judged.files_of(stage),
        today: judged.today(),
        now,
        clock,
        amends,
    })
}
