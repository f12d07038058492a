//! Seals: the record of the SHA-256 of every file of a stage, chained to the seal
//! before it.
//!
//! A seal is a text file that `sha256sum -c` accepts unchanged. Its own digest,
//! in a short form that people can read out ([`Fingerprint`]), is what a customer
//! keeps. `seal_text` writes and reads one seal, `chain` holds a folder's seals against
//! each other, `file_names` says which file names may be sealed, and `shown`
//! how the names and texts of a file that may be anybody's stand in a message.

mod chain;
mod file_names;
mod fingerprint;
mod new_seal;
mod seal_text;
mod shown;
mod state;

pub use chain::{
    Breach, Chain, ChainError, Link, ReadSealsError, SEALS, Standing, changed_between,
    seal_file_name,
};
pub use file_names::{NameError, check_names, is_hidden};
pub use fingerprint::{Fingerprint, ParseFingerprintError};
pub use new_seal::{CloseError, Closing};
pub use seal_text::{Clock, Seal, SealError};
pub use shown::shown;
pub use state::{
    Amended, BrokenFile, FirstSealed, JobOutcome, SealFact, SealMark, Sealing, sealing,
    sealing_of_baseline,
};
