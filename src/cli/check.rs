//! `retestify check`

use std::io::Write;
use std::process::ExitCode;

use super::args::CheckArgs;
use super::{Stop, clock, code, pipeline, screen};
use crate::intake::Depth;

/// Judges a job and shows the result. A broken seal is an answer of no, whatever the
/// verdict.
pub fn run(args: &CheckArgs) -> Result<ExitCode, Stop> {
    let judged = pipeline::judge(&args.folder, Depth::Whole)?;
    let (now, _) = clock::now()?;
    let report = judged.report(now, None);
    let text = if args.json {
        judged.result()
    } else {
        screen::text(&report)
    };
    // A reader that has seen enough, such as `head`, is no fault.
    let _ = anstream::stdout().write_all(text.as_bytes());
    if judged.sealing().is_broken() {
        if args.json {
            anstream::eprintln!("{}", report.front.alert);
        }
        return Ok(ExitCode::from(1));
    }
    Ok(code(judged.judgement.verdict))
}
