//! What is said of a document that was written, and of one that was not.

use std::path::Path;

use super::CommandError;
use super::args::Signing;
use super::issue::{Issue, Paper};
use super::terminal;
use crate::files::{WriteError, read_path};
use crate::job::{Plan, Run};
use crate::judge::doubts;
use crate::signature::{FieldError, find_field};
use crate::verification::{LARGEST_FILE, seal_of_receipt};
use crate::view::{Front, Words, look_again};

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

/// Prints the verdict and what a hurried reader must not miss, as page 1 has them.
pub fn verdict(front: &Front) {
    let lines = |text: &str| textwrap::fill(text, terminal::options());
    if front.alert.is_empty() {
        anstream::println!("{}", lines(&format!("{}. {}", front.mark, front.says())));
    } else {
        anstream::println!("{}", lines(&front.alert));
    }
    for sentence in front.against() {
        anstream::println!("{}", lines(&format!("- {sentence}")));
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

/// What a command writes.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Paperwork {
    /// A worksheet.
    Worksheet,
    /// A receipt.
    Receipt,
    /// A report.
    Report,
}

/// A signed document is replaced only by one of its own kind: nobody can make it again.
pub fn check_signed(output: &Path, kind: Paperwork) -> Result<(), CommandError> {
    let Ok(there) = read_path(output, LARGEST_FILE) else {
        return Ok(());
    };
    let is_signed = !matches!(find_field(&there), Err(FieldError::None));
    let is_receipt = is_signed && seal_of_receipt(&there).is_ok();
    let what = match kind {
        Paperwork::Worksheet if is_receipt => "receipt",
        Paperwork::Worksheet if is_signed => "document",
        Paperwork::Report if is_receipt => "receipt",
        Paperwork::Receipt if is_signed && !is_receipt => "document",
        Paperwork::Worksheet | Paperwork::Report | Paperwork::Receipt => return Ok(()),
    };
    Err(CommandError::told(
        format!("{} is a signed {what}", output.display()),
        "name another file with `--output`; a signed document is replaced only by one of its kind",
    ))
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
        WriteError::Changed => "look at what it says now, then try again",
        WriteError::Refused(_) => "check that you may write there and that the disk has room",
    };
    CommandError::told(
        format!("{} was not written: {error}", output.display()),
        hint,
    )
}
