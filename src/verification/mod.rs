//! Checking a report or a receipt, also one from a stranger: separate answers to
//! separate questions, never merged into one.
//!
//! The order is that of distrust. First the signature over the bare bytes (`intact`);
//! then the document is opened (`open_pdf`), with little memory and without following
//! anything it asks for; then the inputs it carries are held against the seals, and
//! the judgement is made again from them (`recompute`). Nothing is executed, written,
//! or fetched.

mod answer;
mod attached_job;
mod open_pdf;
mod questions;
mod recompute;
mod xref;

pub use answer::{Answer, Finding, Question, Verification};
pub use open_pdf::{LARGEST_FILE, OpenError};
pub use questions::{Expected, KnownSeal, intact, seal_of_receipt, verify};
