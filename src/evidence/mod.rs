//! What a reader can check a report by: the result for machines, the seals of the
//! inputs, the shop's signature, and the answers of a verification.

mod format;
mod result;
mod seal;
mod signature;
mod verify;

/// The program and its version, as results, seals and verifications name it.
pub const TOOL: &str = concat!("retestify ", env!("CARGO_PKG_VERSION"));

pub use format::*;
pub use result::to_json;
pub use seal::*;
pub use signature::*;
pub use verify::*;
