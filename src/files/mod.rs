//! Files in and out: reads that are limited in size and never leave the job
//! folder, writes that are whole or not at all.
//!
//! A file is read once. The bytes that are parsed are the bytes whose digest is
//! printed, so [`Input`] carries both.

mod digest;
mod read;
mod write;

pub use digest::{Digest, ParseDigestError};
pub use read::{
    Folder, Input, ReadError, Source, exists, is_private, nearest_with, read_descriptor, read_path,
};
pub use write::{
    Held, WriteError, check_output, hold, write_new, write_private, write_tree, write_whole,
};
