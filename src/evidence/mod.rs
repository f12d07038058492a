//! What a reader can check a report by: the machine-readable result with the
//! digest of every input file.

mod format;
mod result;

pub use format::*;
pub use result::to_json;
