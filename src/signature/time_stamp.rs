//! The time-stamp of an authority (RFC 3161): checking one.

use std::fmt;

use chrono::{DateTime, NaiveDateTime, TimeDelta, Utc};
use der::asn1::{Any, Int, ObjectIdentifier, OctetString, SetOfVec};
use der::{Decode, Encode, Sequence, Tag, Tagged};
use sha1::Sha1;
use sha2::Digest as _;
use x509_cert::attr::Attribute;
use x509_cert::ext::Extensions;
use x509_cert::ext::pkix::name::{GeneralName, GeneralNames};
use x509_cert::ext::pkix::{ExtendedKeyUsage, SubjectKeyIdentifier};
use x509_cert::serial_number::SerialNumber;
use x509_cert::spki::AlgorithmIdentifierOwned;

use super::certificate::ShopCertificate;
use super::cms_types::{
    CertificateChoices, CmsVersion, ContentInfo, SignedData, SignerIdentifier, SignerInfo,
};
use super::oid;
use super::public_key::{Checked, check, digest};

#[cfg(all(test, feature = "program"))]
pub mod test_authority;

/// A valid time-stamp.
#[derive(Debug, Clone)]
pub struct Stamp {
    /// The time it attests.
    pub time: DateTime<Utc>,
    /// The certificate of the authority's key.
    pub certificate: ShopCertificate,
    /// Further certificates that came with it.
    pub others: Vec<ShopCertificate>,
}

impl Stamp {
    /// How far the signer's clock may differ from that of an authority.
    pub const APART: TimeDelta = TimeDelta::minutes(10);

    /// Whether it attests roughly the time that the signer gave.
    pub fn is_near(&self, signed: DateTime<Utc>) -> bool {
        (signed - self.time).abs() <= Self::APART
    }
}

/// Why there is no valid time-stamp.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum StampError {
    /// The authority refused the request.
    #[cfg(feature = "program")]
    Refused,
    /// It cannot be read.
    NotReadable,
    /// It was made over something else.
    OtherContent,
    /// It does not contain the certificate of the key that signed it.
    NoCertificate,
    /// That certificate is not for time-stamping, or was not valid at that time.
    NotForStamping,
    /// It was not made with the key of that certificate.
    BadSignature,
    /// It was made with a kind of key that this program does not know.
    UnknownKind,
}

impl fmt::Display for StampError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            #[cfg(feature = "program")]
            Self::Refused => "the authority refused the request",
            Self::NotReadable => "the time-stamp cannot be read",
            Self::OtherContent => "the time-stamp was made over something else",
            Self::NoCertificate => "the time-stamp comes without its authority's certificate",
            Self::NotForStamping => {
                "the time-stamp's certificate is not meant for time-stamping, or was not valid then"
            }
            Self::BadSignature => "the time-stamp was not made with the key that it names",
            Self::UnknownKind => {
                "the time-stamp was made with a kind of key that this program does not know"
            }
        })
    }
}

#[derive(Sequence)]
pub(super) struct MessageImprint {
    pub hash_algorithm: AlgorithmIdentifierOwned,
    pub hashed_message: OctetString,
}

#[derive(Sequence)]
struct TstInfo {
    version: u8,
    policy: ObjectIdentifier,
    message_imprint: MessageImprint,
    serial_number: Int,
    // May have fractions of a second, which the crate's type has not.
    gen_time: Any,
    #[asn1(optional = "true")]
    accuracy: Option<Accuracy>,
    #[asn1(optional = "true")]
    ordering: Option<bool>,
    #[asn1(optional = "true")]
    nonce: Option<Int>,
    #[asn1(context_specific = "0", tag_mode = "EXPLICIT", optional = "true")]
    tsa: Option<GeneralName>,
    #[asn1(context_specific = "1", tag_mode = "IMPLICIT", optional = "true")]
    extensions: Option<Extensions>,
}

#[derive(Sequence)]
struct Accuracy {
    #[asn1(optional = "true")]
    seconds: Option<Int>,
    #[asn1(context_specific = "0", tag_mode = "IMPLICIT", optional = "true")]
    millis: Option<Int>,
    #[asn1(context_specific = "1", tag_mode = "IMPLICIT", optional = "true")]
    micros: Option<Int>,
}

/// SigningCertificate and SigningCertificateV2 (RFC 5035): the first certificate of
/// the list is that of the signer. Policies may follow.
#[derive(Sequence)]
struct SigningCertificates<Id>
where
    Id: for<'a> Decode<'a, Error = der::Error> + Encode + der::FixedTag,
{
    certs: Vec<Id>,
    #[asn1(optional = "true")]
    policies: Option<Vec<Any>>,
}

#[derive(Sequence)]
struct EssCertId {
    cert_hash: OctetString,
    #[asn1(optional = "true")]
    issuer_serial: Option<IssuerSerial>,
}

#[derive(Sequence)]
struct EssCertIdV2 {
    #[asn1(optional = "true")]
    hash_algorithm: Option<AlgorithmIdentifierOwned>,
    cert_hash: OctetString,
    #[asn1(optional = "true")]
    issuer_serial: Option<IssuerSerial>,
}

#[derive(Sequence)]
struct IssuerSerial {
    issuer: GeneralNames,
    serial_number: SerialNumber,
}

/// Checks `token`, a time-stamp over `signature`.
///
/// # Errors
/// A [`StampError`] that says why it is not valid.
pub fn read(token: &[u8], signature: &[u8]) -> Result<Stamp, StampError> {
    let not_readable = |_| StampError::NotReadable;
    let outer = ContentInfo::from_der(token).map_err(not_readable)?;
    if outer.content_type != oid::SIGNED_DATA {
        return Err(StampError::NotReadable);
    }
    let signed: SignedData = outer.content.decode_as().map_err(not_readable)?;
    let [signer] = signed.signer_infos.as_slice() else {
        return Err(StampError::NotReadable);
    };
    // What the token's own signature does not cover may have one form only (RFC 5652,
    // 5.1 and 5.3): then any change in it shows.
    let names_its_digest = signed.digest_algorithms.as_slice() == [signer.digest_alg.clone()];
    let signer_version = match signer.sid {
        SignerIdentifier::IssuerAndSerialNumber(_) => CmsVersion::V1,
        SignerIdentifier::SubjectKeyIdentifier(_) => CmsVersion::V3,
    };
    if signed.version != CmsVersion::V3 || signer.version != signer_version || !names_its_digest {
        return Err(StampError::NotReadable);
    }
    let content = &signed.encap_content_info;
    let info = content.econtent.as_ref().ok_or(StampError::NotReadable)?;
    if content.econtent_type != oid::TST_INFO {
        return Err(StampError::NotReadable);
    }
    let info = info.decode_as::<OctetString>().map_err(not_readable)?;
    let stamped = TstInfo::from_der(info.as_bytes()).map_err(not_readable)?;
    let time = time_of(&stamped.gen_time).ok_or(StampError::NotReadable)?;

    let imprint = &stamped.message_imprint;
    let expected = digest(imprint.hash_algorithm.oid, signature).ok_or(StampError::UnknownKind)?;
    if stamped.version != 1 || imprint.hashed_message.as_bytes() != expected {
        return Err(StampError::OtherContent);
    }
    let certificate = signer_of(&signed, signer)?;
    let attributes = signer.signed_attrs.as_ref();
    let attributes = attributes.ok_or(StampError::NotReadable)?;
    let content = info.as_bytes();
    check_attributes(attributes, signer.digest_alg.oid, content, &certificate)?;
    if !is_for_stamping(&certificate) || !certificate.is_valid_at(time) {
        return Err(StampError::NotForStamping);
    }
    let message = attributes.to_der().map_err(not_readable)?;
    let checked = check(
        certificate.certificate(),
        &signer.signature_algorithm,
        Some(signer.digest_alg.oid),
        &message,
        signer.signature.as_bytes(),
    );
    match checked {
        Checked::Good => Ok(Stamp {
            time,
            others: others(&signed, &certificate),
            certificate,
        }),
        Checked::Bad => Err(StampError::BadSignature),
        Checked::UnknownKind => Err(StampError::UnknownKind),
    }
}

/// `YYYYMMDDhhmmss[.f…]Z` (RFC 3161, 2.4.2).
fn time_of(value: &Any) -> Option<DateTime<Utc>> {
    if value.tag() != Tag::GeneralizedTime {
        return None;
    }
    let text = std::str::from_utf8(value.value()).ok()?;
    let time = NaiveDateTime::parse_from_str(text.strip_suffix('Z')?, "%Y%m%d%H%M%S%.f").ok()?;
    Some(time.and_utc())
}

fn others(signed: &SignedData, signer: &ShopCertificate) -> Vec<ShopCertificate> {
    let all = signed.certificates.iter().flat_map(|set| set.iter());
    all.filter_map(|choice| match choice {
        CertificateChoices::Certificate(one) => ShopCertificate::new(one.clone()).ok(),
        CertificateChoices::Other(_) => None,
    })
    .filter(|one| one != signer)
    .collect()
}

fn signer_of(signed: &SignedData, signer: &SignerInfo) -> Result<ShopCertificate, StampError> {
    let found = signed
        .certificates
        .iter()
        .flat_map(|set| set.iter())
        .filter_map(|choice| match choice {
            CertificateChoices::Certificate(certificate) => Some(certificate),
            CertificateChoices::Other(_) => None,
        })
        .find(|certificate| {
            let tbs = certificate.tbs_certificate();
            match &signer.sid {
                SignerIdentifier::IssuerAndSerialNumber(sid) => {
                    *tbs.issuer() == sid.issuer && *tbs.serial_number() == sid.serial_number
                }
                SignerIdentifier::SubjectKeyIdentifier(id) => tbs
                    .get_extension::<SubjectKeyIdentifier>()
                    .is_ok_and(|found| found.is_some_and(|(_, own)| own == *id)),
            }
        })
        .ok_or(StampError::NoCertificate)?;
    ShopCertificate::new(found.clone()).map_err(|_| StampError::NotReadable)
}

/// The signed attributes must be of this content, by its digest, and name this certificate,
/// and each of them once (RFC 3161, 2.4.2; RFC 5652, 5.3).
fn check_attributes(
    attributes: &SetOfVec<Attribute>,
    algorithm: ObjectIdentifier,
    content: &[u8],
    certificate: &ShopCertificate,
) -> Result<(), StampError> {
    let value = |wanted: ObjectIdentifier| {
        let mut found = attributes.iter().filter(|one| one.oid == wanted);
        let first = found.next().filter(|one| one.values.len() == 1)?;
        found
            .next()
            .is_none()
            .then(|| first.values.as_slice().first())?
    };
    let kind = value(oid::CONTENT_TYPE).ok_or(StampError::NotReadable)?;
    if kind.decode_as::<ObjectIdentifier>() != Ok(oid::TST_INFO) {
        return Err(StampError::NotReadable);
    }
    let expected = digest(algorithm, content).ok_or(StampError::UnknownKind)?;
    let found = value(oid::MESSAGE_DIGEST).ok_or(StampError::NotReadable)?;
    if found.value() != expected {
        return Err(StampError::BadSignature);
    }
    let names_it = if let Some(list) = value(oid::SIGNING_CERTIFICATE_V2) {
        let list: SigningCertificates<EssCertIdV2> =
            list.decode_as().map_err(|_| StampError::NotReadable)?;
        list.certs.first().is_some_and(|id| {
            let algorithm = id.hash_algorithm.as_ref().map_or(oid::SHA_256, |a| a.oid);
            digest(algorithm, certificate.der()).as_deref() == Some(id.cert_hash.as_bytes())
        })
    } else if let Some(list) = value(oid::SIGNING_CERTIFICATE) {
        let list: SigningCertificates<EssCertId> =
            list.decode_as().map_err(|_| StampError::NotReadable)?;
        let expected = Sha1::digest(certificate.der());
        list.certs
            .first()
            .is_some_and(|id| id.cert_hash.as_bytes() == expected.as_slice())
    } else {
        false
    };
    if names_it {
        Ok(())
    } else {
        Err(StampError::NoCertificate)
    }
}

/// RFC 3161, 2.3: the extended key usage is critical and names time-stamping alone.
fn is_for_stamping(certificate: &ShopCertificate) -> bool {
    let tbs = certificate.certificate().tbs_certificate();
    tbs.get_extension::<ExtendedKeyUsage>().is_ok_and(|found| {
        found.is_some_and(|(critical, usage)| critical && usage.0 == [oid::TIME_STAMPING])
    })
}

#[cfg(all(test, feature = "program"))]
mod tests;
