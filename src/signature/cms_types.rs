//! The types of a CMS SignedData (RFC 5652), as far as signatures and time-stamps use
//! them, written down field by field for the `der` crate.
//!
//! Names and order of the fields are those of the RFC. The crate that has these types
//! ready-made has no stable version for this generation of `der` and `x509-cert`.

use std::cmp::Ordering;

use der::asn1::{Any, ObjectIdentifier, OctetString, SetOfVec};
use der::{Choice, DerOrd, Encode, Enumerated, Sequence, ValueOrd};
use x509_cert::Certificate;
use x509_cert::attr::Attributes;
use x509_cert::ext::pkix::SubjectKeyIdentifier;
use x509_cert::name::Name;
use x509_cert::serial_number::SerialNumber;
use x509_cert::spki::AlgorithmIdentifierOwned;

/// RFC 5652, 3.
#[derive(Sequence)]
pub(super) struct ContentInfo {
    pub content_type: ObjectIdentifier,
    #[asn1(context_specific = "0", tag_mode = "EXPLICIT")]
    pub content: Any,
}

/// RFC 5652, 5.1.
#[derive(Sequence)]
pub(super) struct SignedData {
    pub version: CmsVersion,
    pub digest_algorithms: SetOfVec<AlgorithmIdentifierOwned>,
    pub encap_content_info: EncapsulatedContentInfo,
    #[asn1(context_specific = "0", tag_mode = "IMPLICIT", optional = "true")]
    pub certificates: Option<SetOfVec<CertificateChoices>>,
    // Lists of what an authority revoked; not looked into.
    #[asn1(context_specific = "1", tag_mode = "IMPLICIT", optional = "true")]
    pub crls: Option<SetOfVec<Any>>,
    pub signer_infos: SetOfVec<SignerInfo>,
}

/// RFC 5652, 5.2.
#[derive(Sequence)]
pub(super) struct EncapsulatedContentInfo {
    pub econtent_type: ObjectIdentifier,
    #[asn1(context_specific = "0", tag_mode = "EXPLICIT", optional = "true")]
    pub econtent: Option<Any>,
}

/// RFC 5652, 5.3.
#[derive(Clone, PartialEq, Eq, Sequence, ValueOrd)]
pub(super) struct SignerInfo {
    pub version: CmsVersion,
    pub sid: SignerIdentifier,
    pub digest_alg: AlgorithmIdentifierOwned,
    #[asn1(
        context_specific = "0",
        tag_mode = "IMPLICIT",
        constructed = "true",
        optional = "true"
    )]
    pub signed_attrs: Option<Attributes>,
    pub signature_algorithm: AlgorithmIdentifierOwned,
    pub signature: OctetString,
    #[asn1(
        context_specific = "1",
        tag_mode = "IMPLICIT",
        constructed = "true",
        optional = "true"
    )]
    pub unsigned_attrs: Option<Attributes>,
}

/// RFC 5652, 5.3.
#[derive(Clone, PartialEq, Eq, Choice)]
pub(super) enum SignerIdentifier {
    IssuerAndSerialNumber(IssuerAndSerialNumber),
    #[asn1(context_specific = "0", tag_mode = "IMPLICIT")]
    SubjectKeyIdentifier(SubjectKeyIdentifier),
}

/// RFC 5652, 10.2.2.
#[derive(Clone, PartialEq, Eq, Choice)]
#[allow(
    clippy::large_enum_variant,
    reason = "a signature holds a few of them, and the other form is rare"
)]
pub(super) enum CertificateChoices {
    Certificate(Certificate),
    #[asn1(context_specific = "3", tag_mode = "EXPLICIT", constructed = "true")]
    Other(OtherCertificateFormat),
}

/// RFC 5652, 10.2.2.
#[derive(Clone, PartialEq, Eq, Sequence)]
pub(super) struct OtherCertificateFormat {
    pub other_cert_format: ObjectIdentifier,
    pub other_cert: Any,
}

/// RFC 5652, 10.2.4.
#[derive(Clone, PartialEq, Eq, Sequence)]
pub(super) struct IssuerAndSerialNumber {
    pub issuer: Name,
    pub serial_number: SerialNumber,
}

/// RFC 5652, 10.2.5.
#[derive(Clone, Copy, PartialEq, Eq, Enumerated)]
#[asn1(type = "INTEGER")]
#[repr(u8)]
pub(super) enum CmsVersion {
    V0 = 0,
    V1 = 1,
    V2 = 2,
    V3 = 3,
    V4 = 4,
    V5 = 5,
}

// In a set, DER sorts by the encoded form (ITU-T X.690, 11.6); the derive has no
// order for a CHOICE or an enumeration.

impl ValueOrd for CmsVersion {
    fn value_cmp(&self, other: &Self) -> der::Result<Ordering> {
        (*self as u8).value_cmp(&(*other as u8))
    }
}

impl ValueOrd for SignerIdentifier {
    fn value_cmp(&self, other: &Self) -> der::Result<Ordering> {
        self.to_der()?.der_cmp(&other.to_der()?)
    }
}

impl ValueOrd for CertificateChoices {
    fn value_cmp(&self, other: &Self) -> der::Result<Ordering> {
        self.to_der()?.der_cmp(&other.to_der()?)
    }
}
