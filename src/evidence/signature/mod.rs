//! The shop's signature under a PDF, and what a reader finds there.
//!
//! `certificate` and `identity` are whose key it is, `cms` is the signature itself
//! (PAdES B-B, ETSI EN 319 142-1), `stamp` the time-stamp of an authority (B-T, RFC
//! 3161), `pdf` puts it into a document, and `field` finds it there again.

mod certificate;
mod cms;
mod field;
mod identity;
mod oid;
mod pdf;
mod public_key;
mod stamp;

pub use certificate::{CertificateFault, ShopCertificate};
pub(super) use cms::{CmsFault, Signed, read as read_cms};
pub(super) use field::{Field, FieldFault, find as find_field};
pub use identity::{Identity, IdentityFault, Randomness, Salt};
pub use pdf::{SignFault, StampService, sign};
pub(super) use stamp::read as read_stamp;
