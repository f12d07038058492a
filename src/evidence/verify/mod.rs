//! Checking a report or a slip, also one from a stranger: separate answers to
//! separate questions, never merged into one.
//!
//! The order is that of distrust. First the signature over the bare bytes (`intact`);
//! then the document is opened (`opened`), with little memory and without following
//! anything it asks for; then the inputs it carries are held against the seals, and
//! the judgement is made again from them (`recompute`). Nothing is executed, written,
//! or fetched.

mod answer;
mod carried;
mod layout;
mod opened;
mod questions;
mod recompute;

pub use answer::{Answer, Finding, Question, Verification};
pub use opened::{LARGEST_FILE, OpenFault};
pub use questions::{Expected, KnownSeal, intact, seal_of_slip, verify};
