//! Seals: the record of the SHA-256 of every file of a stage, chained to the seal
//! before it.
//!
//! A seal is a text file that `sha256sum -c` accepts as it stands. Its own digest,
//! in a short form that people can read out ([`Fingerprint`]), is what a customer
//! keeps. `text` writes and reads one seal, `chain` holds a folder's seals against
//! each other, `names` says which file names may be sealed.

mod chain;
mod close;
mod fingerprint;
mod names;
mod state;
mod text;

pub use chain::{Chain, ChainFault, Link, SEALS, Standing, changed_between, seal_file_name};
pub use close::{CloseFault, Closing};
pub use fingerprint::{Fingerprint, NotAFingerprint};
pub use names::{NameFault, check_names, is_hidden};
pub use state::{sealing, stage_files};
pub use text::{Clock, Seal, SealFault, Stage};
