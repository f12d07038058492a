//! `retestify report`

use std::path::Path;
use std::process::ExitCode;

use super::args::ReportArgs;
use super::make_pdf::{self, Issue};
use super::template::Pages;
use super::{Stop, clock, keys, pipeline, seal};
use crate::files::{WriteError, check_output, write_whole};
use crate::intake::Depth;

/// Makes the report of a job. The exit code says whether there is a report, not
/// what it says.
pub fn run(args: &ReportArgs) -> Result<ExitCode, Stop> {
    let output = args
        .output
        .clone()
        .unwrap_or_else(|| args.folder.join("report.pdf"));
    // Problems in the folder matter more than where the report would go.
    let judged = pipeline::judge(&args.folder, Depth::Whole)?;
    check_output(&output, args.replace).map_err(|fault| refused(&output, &fault))?;
    let pages = Pages::read(args.template.as_deref())?;
    let words = pages.words(&args.folder, &judged.intake.shop)?;
    let (now, clock) = clock::now()?;
    let issue = Issue {
        now,
        clock,
        identity: keys::to_sign(&args.signing)?,
        pages,
        words,
    };
    let paper = make_pdf::report(&judged, &issue)?;
    write_whole(&output, &paper.bytes, args.replace).map_err(|fault| refused(&output, &fault))?;
    seal::say(&output, &paper, &issue, args.signing.wish());
    if judged.sealing().is_broken() {
        anstream::eprintln!(
            "warning: a seal is broken; `retestify check {}` names the file",
            args.folder.display()
        );
    }
    Ok(ExitCode::SUCCESS)
}

/// Why a file was not written, and what to do.
pub fn refused(output: &Path, fault: &WriteError) -> Stop {
    let hint = match fault {
        WriteError::Exists => {
            "name another file, or move that one; `report`, `receipt` and `worksheet` replace an \
                              older PDF with `--replace`"
        }
        WriteError::NotAPdf => "name another file with `--output`; only an older PDF is replaced",
        WriteError::IsFolder => "name a file in it, such as `--output folder/report.pdf`",
        WriteError::NoFolder => "make that folder first, or name another",
        WriteError::Busy => "wait until it has finished",
        WriteError::Refused(_) => "check that you may write there and that the disk has room",
    };
    Stop::told(
        format!("{} was not written: {fault}", output.display()),
        hint,
    )
}
