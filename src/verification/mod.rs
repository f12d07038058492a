//! Checking a report or a receipt, also one from another shop: separate answers to
//! separate questions, never merged into one.
//!
//! The order starts with what needs the least trust. First the signature over the raw
//! bytes (`intact`); then the document is read as exactly the form that this program writes
//! (`strict`, `open_pdf`), with little memory and without following any reference out of it;
//! then its inputs are compared with the seals, and judged again (`recompute`), and its pages
//! are set again by the typesetter that the caller has (`typesetter`). Nothing that came with
//! the document is executed, and nothing is written or fetched.

mod answer;
mod attached_job;
mod carried;
mod differences;
mod expected;
mod open_pdf;
mod page_words;
mod questions;
mod recompute;
mod signed_bytes;
mod strict;
mod summary;
#[cfg(test)]
pub(crate) mod test_documents;
#[cfg(test)]
mod test_signing;
mod typesetter;
mod verify;

pub use answer::{Answer, Finding, Question, Verification};
pub use carried::Carried;
pub use differences::{Difference, DifferentPart};
pub use expected::{Expected, KnownSeal};
pub use open_pdf::{LARGEST_FILE, OpenError};
pub use summary::{Summary, SummaryFigure, SummaryOfJob};
pub use typesetter::{CarriedPicture, Order, PictureData, Signing, Typesetter};
pub use verify::{intact, seal_of_receipt, verify};
