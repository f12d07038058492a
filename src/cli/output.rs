//! What is said of a document that was written, and of one that was not.

use std::path::Path;

use super::CommandError;
use super::args::Signing;
use super::issue::{Issue, Paper};
use super::terminal;
use crate::files::WriteError;
use crate::job::{Plan, Run};
use crate::judge::doubts;
use crate::view::{Words, look_again};

/// Prints where the document is and who signed it.
pub fn say(path: &Path, paper: &Paper, issue: &Issue, signing: Signing) {
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

/// Prints what looks wrong in a run that is about to be sealed. It may be right, so nothing
/// is refused for it.
pub fn warn(plan: &Plan, run: &Run, words: &Words) {
    let found = doubts(&plan.instruments, &plan.limits, run);
    for line in look_again(&found, &plan.limits, words) {
        anstream::eprintln!("{}", textwrap::fill(&line, terminal::options()));
    }
}

/// Why a file was not written, and what to do.
pub fn refused(output: &Path, error: &WriteError) -> CommandError {
    let hint = match error {
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
    CommandError::told(
        format!("{} was not written: {error}", output.display()),
        hint,
    )
}
