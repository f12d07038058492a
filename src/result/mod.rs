//! `result.json`: the judgement for programs, every figure unrounded. It goes into
//! every report; `verify` makes it again from the inputs and compares.
//!
//! `shape` is the published form; `from_judgement` fills it, with `estimates` for its figures,
//! `counts` for what is read without ± and `names` for the words. `document` says of the whole
//! document what it is and how its pages were made.

mod counts;
mod document;
mod estimates;
mod from_judgement;
mod names;
mod shape;

/// The program and its version, as documents, results, seals and verifications name it.
pub const TOOL: &str = concat!("retestify ", env!("CARGO_PKG_VERSION"));

pub use document::{DOCUMENT_FILE, DocumentFile, DocumentKind, FormFile, PhotoCopy, TimeSource};
pub use from_judgement::to_json;
pub use shape::*;
