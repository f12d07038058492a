//! `retestify report`

use std::path::Path;
use std::process::ExitCode;

use super::args::ReportArgs;
use super::{Stop, clock, pipeline, template};
use crate::files::{WriteFault, check_output, write_whole};
use crate::render::Template;

/// Makes the report of a job. The exit code says whether there is a report, not
/// what it says.
pub fn run(args: &ReportArgs) -> Result<ExitCode, Stop> {
    let output = args
        .output
        .clone()
        .unwrap_or_else(|| args.folder.join("report.pdf"));
    // The folder's faults matter more than where the report would go.
    let judged = pipeline::judge(&args.folder)?;
    check_output(&output, args.replace).map_err(|fault| refused(&output, &fault))?;
    let template = match &args.template {
        Some(folder) => template::read(folder)?,
        None => Template::default(),
    };
    let bytes = judged
        .pdf(&template, clock::now()?)
        .map_err(|fault| match &args.template {
            Some(folder) => template::fault(folder, &fault),
            None => pipeline::template_fault(&fault),
        })?;
    write_whole(&output, &bytes, args.replace).map_err(|fault| refused(&output, &fault))?;
    anstream::println!("{}", output.display());
    Ok(ExitCode::SUCCESS)
}

/// Why the report was not written, and what to do.
pub fn refused(output: &Path, fault: &WriteFault) -> Stop {
    let hint = match fault {
        WriteFault::Exists => "name another file with `--output`, or add `--replace`",
        WriteFault::NotAPdf => "name another file with `--output`; only an older PDF is replaced",
        WriteFault::IsFolder => "name a file in it, such as `--output folder/report.pdf`",
        WriteFault::NoFolder => "make the folder first, or name another",
        WriteFault::Refused(_) => "check that you may write there and that the disk has room",
    };
    Stop::told(
        format!("{} was not written: {fault}", output.display()),
        hint,
    )
}
