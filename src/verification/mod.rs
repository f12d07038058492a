//! Checking a report or a receipt, also one from another shop: separate answers to
//! separate questions, never merged into one.
//!
//! The order starts with what needs the least trust. First the signature over the raw
//! bytes (`intact`); then the document is read as exactly the form that this program writes
//! (`strict`, `open_pdf`), with little memory and without following any reference out of it; then its inputs are compared with the
//! seals, and judged again (`recompute`). Nothing is executed, written,
//! or fetched.

mod answer;
mod attached_job;
mod expected;
mod open_pdf;
mod questions;
mod recompute;
mod signed_bytes;
mod strict;
#[cfg(test)]
mod test_documents;
#[cfg(test)]
mod test_signing;
mod verify;

pub use answer::{Answer, Finding, Question, Verification};
pub use expected::{Expected, KnownSeal};
pub use open_pdf::{LARGEST_FILE, OpenError};
pub use verify::{intact, seal_of_receipt, verify};
