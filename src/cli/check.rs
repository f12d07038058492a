//! `retestify check`

use std::io::Write;
use std::path::Path;
use std::process::ExitCode;

use super::args::CheckArgs;
use super::template::Pages;
use super::typed::Typed;
use super::{CommandError, clock, code, output, pipeline, terminal};
use crate::document::{material, receipt_material};
use crate::seals::{JobOutcome, Sealing};
use crate::view;

/// Judges a job and shows the result. A broken seal gives exit code 1, whatever the
/// verdict.
pub fn run(args: &CheckArgs) -> Result<ExitCode, CommandError> {
    if args.baseline {
        return baseline(args);
    }
    let judged = pipeline::judge(&args.folder)?;
    let (now, _) = clock::now()?;
    let words = Pages::read(args.template.as_deref())?.words(&judged.intake)?;
    let report = view::report(&material(&judged, now, None), &words);
    let text = if args.json {
        judged.result.clone()
    } else {
        terminal::text(&report)
    };
    // A program that stops reading early, such as `head`, is not an error.
    let _ = anstream::stdout().write_all(text.as_bytes());
    let outcome = judged.sealing.outcome(judged.judgement.verdict);
    if args.json && matches!(outcome, JobOutcome::BrokenSeal) {
        anstream::eprintln!("{}", report.front.alert);
    }
    remedy(&judged.sealing, &args.folder);
    Ok(code(outcome))
}

/// Shows the baseline as the customer's receipt will show it. There is no verdict yet:
/// the exit code is 0 if the files have no problems and match their seals, where there are
/// any.
fn baseline(args: &CheckArgs) -> Result<ExitCode, CommandError> {
    let job = pipeline::drop_off(&args.folder)?;
    let (now, _) = clock::now()?;
    let words = Pages::read(args.template.as_deref())?.words(&job.intake)?;
    let receipt = view::receipt(&receipt_material(&job, now, None), &words);
    let _ = anstream::stdout().write_all(terminal::baseline(&receipt).as_bytes());
    output::warn(&job.intake.job.plan, &job.intake.job.baseline, &words);
    if !job.sealing.is_broken() {
        return Ok(ExitCode::SUCCESS);
    }
    anstream::eprintln!("{}", view::alert(&job.sealing, &words));
    remedy(&job.sealing, &args.folder);
    Ok(ExitCode::from(1))
}

/// What to do about a broken seal.
fn remedy(sealing: &Sealing, folder: &Path) {
    let folder = Typed(folder);
    let text = match (sealing.chain.errors.first(), sealing.broken.first()) {
        (None, None) => return,
        (Some(_), _) => "Put the files in `seals` back as they were; copies are attached to every \
                         receipt and report made since."
            .to_owned(),
        (None, Some(broken)) => format!(
            "Put {} back as it was sealed; or, to correct a mistake openly: retestify seal {} \
             {folder} --amend \"why\"",
            broken.file,
            broken.stage.word(),
        ),
    };
    anstream::eprintln!("{}", textwrap::fill(&text, terminal::options()));
}
