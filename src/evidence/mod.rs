//! What a reader can check a report by: the machine-readable result with the
//! digest of every input file.

mod result;

pub use result::{ResultFile, to_json};
