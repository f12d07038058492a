//! The signature itself: CMS SignedData (RFC 5652) of the PAdES baseline profile
//! (ETSI EN 319 142-1): detached, one signer, with content-type, message-digest and
//! signing-certificate-v2 as signed attributes, and no signing-time.
//!
//! There is only one way to write such a signature here. A reader rebuilds it from what
//! it found and compares the bytes, so that any change in it shows.

use std::fmt;

use der::asn1::{Any, ObjectIdentifier, OctetString, SetOfVec};
use der::{Decode, Encode, Sequence};
use p256::ecdsa::signature::Verifier;
use p256::ecdsa::{DerSignature, Signature};
use x509_cert::attr::Attribute;
use x509_cert::spki::AlgorithmIdentifierOwned;

use super::certificate::ShopCertificate;
use super::cms_types::{
    CertificateChoices, CmsVersion, ContentInfo, EncapsulatedContentInfo, IssuerAndSerialNumber,
    SignedData, SignerIdentifier, SignerInfo,
};
#[cfg(feature = "program")]
use super::identity::Identity;
use super::oid;
use super::public_key::p256_key;
use crate::files::Digest;

/// A valid signature.
#[derive(Debug, Clone)]
pub struct Signed {
    /// The certificate of the key that signed.
    pub certificate: ShopCertificate,
    /// Further certificates that came with it.
    pub others: Vec<ShopCertificate>,
    /// The signature value; what a time-stamp is over.
    pub signature: Vec<u8>,
    /// The time-stamp token, if there is one; not checked here.
    pub token: Option<Vec<u8>>,
}

/// Why a signature is not valid.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CmsError {
    /// Not CMS SignedData in DER.
    NotReadable,
    /// Not as this program writes it, or by a kind of key it does not know.
    OtherForm,
    /// It was made over other bytes.
    OtherContent,
    /// It was not made with the key of the certificate in it.
    BadSignature,
    /// The time-stamp that it was made with is missing.
    StampMissing,
}

impl fmt::Display for CmsError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::NotReadable => "the signature cannot be read",
            Self::OtherForm => "the signature does not have the form that retestify makes",
            Self::OtherContent => "the signature was made over other bytes than these",
            Self::BadSignature => "the signature was not made with the key that it names",
            Self::StampMissing => "the time-stamp that the signature was made with is missing",
        })
    }
}

/// SigningCertificateV2 (RFC 5035, 3), with SHA-256 and no issuer, as it is written
/// here.
#[derive(Sequence)]
struct SigningCertificateV2 {
    certs: Vec<EssCertIdV2>,
}

#[derive(Sequence)]
struct EssCertIdV2 {
    cert_hash: OctetString,
}

/// Signs bytes that have the digest `content`.
#[cfg(feature = "program")]
pub(super) fn sign(identity: &Identity, content: Digest) -> der::Result<Vec<u8>> {
    let message = signed_attributes(identity.certificate(), identity.chain(), content)?.to_der()?;
    Ok(identity.sign(&message))
}

/// The signature in its CMS form.
pub(super) fn assemble(
    certificate: &ShopCertificate,
    others: &[ShopCertificate],
    content: Digest,
    signature: &[u8],
    token: Option<&[u8]>,
) -> der::Result<Vec<u8>> {
    let tbs = certificate.certificate().tbs_certificate();
    let unsigned = match token {
        Some(token) => Some(SetOfVec::try_from(vec![attribute(
            oid::TIME_STAMP_TOKEN,
            Any::from_der(token)?,
        )?])?),
        None => None,
    };
    let signer = SignerInfo {
        version: CmsVersion::V1,
        sid: SignerIdentifier::IssuerAndSerialNumber(IssuerAndSerialNumber {
            issuer: tbs.issuer().clone(),
            serial_number: tbs.serial_number().clone(),
        }),
        digest_alg: algorithm(oid::SHA_256),
        signed_attrs: Some(signed_attributes(certificate, others, content)?),
        signature_algorithm: algorithm(oid::ECDSA_SHA_256),
        signature: OctetString::new(signature)?,
        unsigned_attrs: unsigned,
    };
    let certificates = std::iter::once(certificate)
        .chain(others)
        .map(|certificate| CertificateChoices::Certificate(certificate.certificate().clone()))
        .collect::<Vec<_>>();
    let signed = SignedData {
        version: CmsVersion::V1,
        digest_algorithms: SetOfVec::try_from(vec![algorithm(oid::SHA_256)])?,
        encap_content_info: EncapsulatedContentInfo {
            econtent_type: oid::DATA,
            econtent: None,
        },
        certificates: Some(SetOfVec::try_from(certificates)?),
        crls: None,
        signer_infos: SetOfVec::try_from(vec![signer])?,
    };
    ContentInfo {
        content_type: oid::SIGNED_DATA,
        content: Any::encode_from(&signed)?,
    }
    .to_der()
}

/// The most zeros behind a signature without a time-stamp, in bytes: as many as the
/// DER of a P-256 signature may be shorter than its longest form. Where more room was
/// kept, a time-stamp stood in it.
const MOST_FILL: usize = 8;

/// Reads a signature over bytes that have the digest `content`, and checks it; `fill`
/// is how many zeros follow it.
///
/// # Errors
/// A [`CmsError`]; whatever is not exactly as [`assemble`] would have written it is
/// [`CmsError::OtherForm`].
pub fn read(der: &[u8], fill: usize, content: Digest) -> Result<Signed, CmsError> {
    let not_readable = |_| CmsError::NotReadable;
    let outer = ContentInfo::from_der(der).map_err(not_readable)?;
    if outer.content_type != oid::SIGNED_DATA {
        return Err(CmsError::OtherForm);
    }
    let signed: SignedData = outer.content.decode_as().map_err(not_readable)?;
    let [signer] = signed.signer_infos.as_slice() else {
        return Err(CmsError::OtherForm);
    };
    let SignerIdentifier::IssuerAndSerialNumber(sid) = &signer.sid else {
        return Err(CmsError::OtherForm);
    };
    let mut others = Vec::new();
    let mut certificate = None;
    for choice in signed.certificates.iter().flat_map(|set| set.iter()) {
        let CertificateChoices::Certificate(found) = choice else {
            return Err(CmsError::OtherForm);
        };
        let tbs = found.tbs_certificate();
        let is_signer = *tbs.issuer() == sid.issuer && *tbs.serial_number() == sid.serial_number;
        let found = ShopCertificate::new(found.clone()).map_err(|_| CmsError::NotReadable)?;
        if is_signer && certificate.is_none() {
            certificate = Some(found);
        } else {
            others.push(found);
        }
    }
    let certificate = certificate.ok_or(CmsError::OtherForm)?;
    let signature = signer.signature.as_bytes().to_vec();
    let token = token_of(signer)?;

    // The content first: that is what somebody would change, if anything.
    if message_digest(signer) != Some(content.bytes().as_slice()) {
        return Err(CmsError::OtherContent);
    }
    let again = assemble(&certificate, &others, content, &signature, token.as_deref());
    if again.ok().as_deref() != Some(der) {
        return Err(CmsError::OtherForm);
    }
    check(&certificate, &others, content, &signature)?;
    if token.is_none() && fill > MOST_FILL {
        return Err(CmsError::StampMissing);
    }
    Ok(Signed {
        certificate,
        others,
        signature,
        token,
    })
}

fn check(
    certificate: &ShopCertificate,
    others: &[ShopCertificate],
    content: Digest,
    der: &[u8],
) -> Result<(), CmsError> {
    let key = p256_key(certificate.certificate()).ok_or(CmsError::OtherForm)?;
    let signature: Signature = DerSignature::from_bytes(der)
        .ok()
        .and_then(|signature| Signature::try_from(signature).ok())
        .ok_or(CmsError::BadSignature)?;
    // Of the two forms of one signature only that with the lower s counts, and only
    // the shortest DER of it.
    if signature.normalize_s() != signature || signature.to_der().as_bytes() != der {
        return Err(CmsError::OtherForm);
    }
    let message = signed_attributes(certificate, others, content)
        .and_then(|attributes| attributes.to_der())
        .map_err(|_| CmsError::NotReadable)?;
    key.verify(&message, &signature)
        .map_err(|_| CmsError::BadSignature)
}

/// The signing certificate comes first; those that came with it follow in the order
/// of their digests, so that none of them can be left out or put in.
fn signed_attributes(
    certificate: &ShopCertificate,
    others: &[ShopCertificate],
    content: Digest,
) -> der::Result<SetOfVec<Attribute>> {
    let mut digests: Vec<Digest> = others.iter().map(ShopCertificate::fingerprint).collect();
    digests.sort_unstable();
    digests.insert(0, certificate.fingerprint());
    let ids = digests.iter().map(|digest| {
        let cert_hash = OctetString::new(digest.bytes().as_slice())?;
        Ok(EssCertIdV2 { cert_hash })
    });
    let signing = SigningCertificateV2 {
        certs: ids.collect::<der::Result<_>>()?,
    };
    SetOfVec::try_from(vec![
        attribute(oid::CONTENT_TYPE, Any::encode_from(&oid::DATA)?)?,
        attribute(
            oid::MESSAGE_DIGEST,
            Any::encode_from(&OctetString::new(content.bytes().as_slice())?)?,
        )?,
        attribute(oid::SIGNING_CERTIFICATE_V2, Any::encode_from(&signing)?)?,
    ])
}

fn attribute(oid: ObjectIdentifier, value: Any) -> der::Result<Attribute> {
    Ok(Attribute {
        oid,
        values: SetOfVec::try_from(vec![value])?,
    })
}

fn algorithm(oid: ObjectIdentifier) -> AlgorithmIdentifierOwned {
    AlgorithmIdentifierOwned {
        oid,
        parameters: None,
    }
}

fn message_digest(signer: &SignerInfo) -> Option<&[u8]> {
    signer
        .signed_attrs
        .iter()
        .flat_map(|attributes| attributes.iter())
        .find(|attribute| attribute.oid == oid::MESSAGE_DIGEST)
        .and_then(|attribute| attribute.values.as_slice().first())
        .map(Any::value)
}

fn token_of(signer: &SignerInfo) -> Result<Option<Vec<u8>>, CmsError> {
    let Some(attributes) = &signer.unsigned_attrs else {
        return Ok(None);
    };
    match attributes.as_slice() {
        [one] if one.oid == oid::TIME_STAMP_TOKEN && one.values.len() == 1 => {
            let token = one.values.as_slice().first().map(Encode::to_der);
            token.transpose().map_err(|_| CmsError::NotReadable)
        }
        _ => Err(CmsError::OtherForm),
    }
}

#[cfg(all(test, feature = "program"))]
mod tests;
