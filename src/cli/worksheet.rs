//! `retestify worksheet`

use std::process::ExitCode;

use super::args::WorksheetArgs;
use super::output::{Paperwork, check_signed, refused};
use super::template::{Pages, built_in_error};
use super::{CommandError, clock, pipeline};
use crate::files::{check_output, write_whole};
use crate::render;
use crate::view;

/// Makes the worksheet of a job from its plan; nothing need be measured yet.
pub fn run(args: &WorksheetArgs) -> Result<ExitCode, CommandError> {
    let output = args
        .output
        .clone()
        .unwrap_or_else(|| args.folder.join("worksheet.pdf"));
    let read = pipeline::plan(&args.folder)?;
    check_output(&output, args.replace).map_err(|error| refused(&output, &error))?;
    check_signed(&output, Paperwork::Worksheet)?;
    let words = Pages::read(args.template.as_deref())?.words(&read)?;
    let worksheet = view::worksheet(&read.job, &read.shop, &words);
    let (now, _) = clock::now()?;
    let bytes = render::worksheet(&worksheet, now).map_err(|error| built_in_error(&error))?;
    write_whole(&output, &bytes, args.replace).map_err(|error| refused(&output, &error))?;
    anstream::println!("{}", output.display());
    Ok(ExitCode::SUCCESS)
}
