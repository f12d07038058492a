//! What is said of a document that was written, and of one that was not.

use std::path::Path;

use super::CommandError;
use super::args::Signing;
use super::issue::{Issue, Paper};
use crate::files::WriteError;

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
