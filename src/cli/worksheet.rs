//! `retestify worksheet`

use std::process::ExitCode;

use super::args::{SheetKind, WorksheetArgs};
use super::output::{Paperwork, check_signed, refused};
use super::template::{Pages, built_in_error};
use super::{CommandError, clock, fill, pipeline};
use crate::files::{check_output, write_whole};
use crate::fill::{TableKind, worksheet_table};
use crate::render;
use crate::view;

/// Makes the worksheet of a job from its plan; nothing need be measured yet.
pub fn run(args: &WorksheetArgs) -> Result<ExitCode, CommandError> {
    let name = match args.kind {
        SheetKind::Pdf => "worksheet.pdf",
        SheetKind::Xlsx => "worksheet.xlsx",
        SheetKind::Csv => "worksheet.csv",
    };
    let output = args
        .output
        .clone()
        .unwrap_or_else(|| args.folder.join(name));
    let read = pipeline::plan(&args.folder)?;
    check_output(&output, args.replace).map_err(|error| refused(&output, &error))?;
    let (now, _) = clock::now()?;
    let table = |kind| {
        let job = fill::job(&args.folder)?;
        worksheet_table(&job, clock::zone, kind).map_err(|why| {
            CommandError::told(
                format!("the table was not made: {why}"),
                "make the worksheet as a PDF",
            )
        })
    };
    let bytes = match args.kind {
        SheetKind::Pdf => {
            check_signed(&output, Paperwork::Worksheet)?;
            let words = Pages::read(args.template.as_deref())?.words(&read)?;
            let worksheet = view::worksheet(&read.job, &read.shop, &words);
            render::worksheet(&worksheet, now).map_err(|error| built_in_error(&error))?
        }
        SheetKind::Xlsx => table(TableKind::Xlsx)?,
        SheetKind::Csv => table(TableKind::Csv)?,
    };
    write_whole(&output, &bytes, args.replace).map_err(|error| refused(&output, &error))?;
    anstream::println!("{}", output.display());
    Ok(ExitCode::SUCCESS)
}
