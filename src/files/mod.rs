//! Files in and out: reads that are limited in size and never leave the job
//! folder, writes that are complete or not done at all.
//!
//! [`Source`] is all that the rest of the pipeline needs; the disk itself needs the
//! feature `program`.
//!
//! A file is read once. The bytes that are parsed are the bytes whose digest is
//! printed, so [`Input`] carries both.

mod digest;
#[cfg(feature = "program")]
mod folder;
#[cfg(feature = "program")]
mod incoming;
#[cfg(feature = "program")]
mod search;
mod source;
#[cfg(feature = "program")]
mod write;

pub use digest::{Digest, ParseDigestError};
#[cfg(feature = "program")]
pub use folder::{Folder, exists, is_private, nearest_with, read_descriptor, read_path};
#[cfg(feature = "program")]
pub use incoming::{Incoming, take_back};
#[cfg(feature = "program")]
pub use search::folders_with;
pub use source::{Input, ReadError, Source, look_alike};
#[cfg(feature = "program")]
pub use write::{
    Held, WriteError, check_output, hold, replace_text, write_private, write_tree, write_whole,
};
