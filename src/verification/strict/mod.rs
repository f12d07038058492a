//! A reader of exactly the PDF that this program writes, and of no other.
//!
//! PDF readers mend what is broken, each in its own way: where a table points at the wrong
//! object, where a key stands twice, where two tables disagree. A file that relies on this is
//! two documents, one for each reader. So everything here is read in the one way that leaves
//! nothing to mend: every byte of the file belongs to an object, a table or a trailer
//! ([`Pdf::read`], in `revisions`); the second revision adds one signature and nothing else
//! (`signature_only`); and nothing in it runs, hides or prints otherwise than it shows
//! (`plain_pages`). It holds no more than a bounded number of values ([`tokens`]), so that
//! no small file asks for much memory.

mod plain_pages;
mod revisions;
mod signature_only;
mod tokens;
mod value;

use std::fmt;

pub(super) use revisions::{Object, Pdf};
pub(super) use value::{Dictionary, Value};

/// What is not as this program writes it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct FormError(pub(super) &'static str);

impl fmt::Display for FormError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.0)
    }
}

impl std::error::Error for FormError {}

/// `Ok` where `is_so`, else the error that `what` is not as this program writes it.
fn require(is_so: bool, what: &'static str) -> Result<(), FormError> {
    if is_so { Ok(()) } else { Err(FormError(what)) }
}
