//! The shop's signature in a PDF, and what a reader finds there.
//!
//! `certificate` and `identity` say whose key it is, `cms` is the signature itself
//! (PAdES B-B, ETSI EN 319 142-1; its types are in `cms_types`), `time_stamp` the
//! time-stamp of an authority (B-T, RFC 3161); `empty_signature` puts their place into a
//! document, `sign_pdf` fills it, and `find_field` finds it there again.

mod certificate;
mod cms;
mod cms_types;
#[cfg(feature = "typesetter")]
mod empty_signature;
mod find_field;
#[cfg(feature = "program")]
mod identity;
mod oid;
mod public_key;
#[cfg(feature = "program")]
mod sign_pdf;
#[cfg(feature = "program")]
mod stamp_request;
#[cfg(all(test, feature = "program"))]
pub(crate) mod test_parties;
mod time_stamp;

pub use certificate::{CertificateError, ShopCertificate};
pub(crate) use cms::{CmsError, Signed, read as read_cms};
#[cfg(feature = "typesetter")]
pub use empty_signature::{By, SignError, with_empty_signature};
pub(crate) use find_field::{Field, FieldError, find as find_field};
#[cfg(feature = "program")]
pub use identity::{Identity, IdentityError, Randomness, Salt};
#[cfg(feature = "program")]
pub use sign_pdf::{StampService, sign};
pub(crate) use time_stamp::read as read_stamp;
#[cfg(all(test, feature = "program"))]
pub(crate) use time_stamp::test_authority;
