//! `retestify check`

use std::io::Write;
use std::process::ExitCode;

use super::args::CheckArgs;
use super::{Stop, clock, code, pipeline, screen};

/// Judges a job and shows the result.
pub fn run(args: &CheckArgs) -> Result<ExitCode, Stop> {
    let judged = pipeline::judge(&args.folder)?;
    let text = if args.json {
        judged.result()
    } else {
        screen::text(&judged.report(clock::now()?))
    };
    // A reader that has seen enough, such as `head`, is no fault.
    let _ = anstream::stdout().write_all(text.as_bytes());
    Ok(code(judged.judgement.verdict))
}
