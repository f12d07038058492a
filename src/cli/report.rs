//! `retestify report`

use std::process::ExitCode;

use super::args::ReportArgs;
use super::issue::Issue;
use super::output::{Paperwork, check_signed, refused, say, verdict};
use super::template::Pages;
use super::{CommandError, clock, keys, pipeline};
use crate::document::material;
use crate::files::{check_output, write_whole};
use crate::view;

/// Makes the report of a job. The exit code says whether there is a report, not
/// what it says.
pub fn run(args: &ReportArgs) -> Result<ExitCode, CommandError> {
    let output = args
        .output
        .clone()
        .unwrap_or_else(|| args.folder.join("report.pdf"));
    // Problems in the folder matter more than where the report would go.
    let judged = pipeline::judge(&args.folder)?;
    check_output(&output, args.replace).map_err(|error| refused(&output, &error))?;
    check_signed(&output, Paperwork::Report)?;
    let pages = Pages::read(args.template.as_deref())?;
    let words = pages.words(&judged.intake)?;
    let (now, clock) = clock::now()?;
    let issue = Issue {
        now,
        clock,
        identity: keys::to_sign(&args.signing)?,
        pages,
        words,
    };
    let paper = pipeline::report(&judged, &issue)?;
    write_whole(&output, &paper.bytes, args.replace).map_err(|error| refused(&output, &error))?;
    say(&output, &paper, &issue, args.signing.wish());
    let material = material(&judged, issue.now, None);
    verdict(&view::report(&material, &issue.words).front);
    if judged.sealing.is_broken() {
        anstream::eprintln!(
            "warning: a seal is broken; `retestify check {}` names the file",
            args.folder.display()
        );
    }
    Ok(ExitCode::SUCCESS)
}
