//! retestify

#![forbid(unsafe_code)]
#![warn(missing_docs)]

pub mod quantity;
pub mod job;
pub mod files;
pub mod intake;
pub mod judge;
