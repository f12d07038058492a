//! A small time-stamp authority inside the tests: right by default, and wrong in one
//! respect where a test asks for it.

use chrono::{DateTime, Utc};
use der::asn1::{Any, Int, ObjectIdentifier, OctetString, SetOfVec};
use der::{Decode, Encode, Tag};
use p256::ecdsa::signature::Signer;
use p256::ecdsa::{DerSignature, SigningKey};
use x509_cert::attr::Attribute;
use x509_cert::spki::AlgorithmIdentifierOwned;

use super::{EssCertIdV2, MessageImprint, SigningCertificates, TstInfo};
use crate::signature::certificate::ShopCertificate;
use crate::signature::cms_types::{
    CertificateChoices, CmsVersion, ContentInfo, EncapsulatedContentInfo, IssuerAndSerialNumber,
    SignedData, SignerIdentifier, SignerInfo,
};
use crate::signature::oid;
use crate::signature::public_key::digest;
use crate::signature::stamp_request::{PkiStatusInfo, TimeStampReq, TimeStampResp};
use crate::signature::test_parties::Party;

/// What is made different in a token beside what a [`Stamping`] says.
pub(super) struct Changes<'a> {
    /// In what is stamped, before it is signed.
    pub info: &'a dyn Fn(&mut TstInfo),
    /// In the signed attributes, before they are signed.
    pub attributes: &'a dyn Fn(&mut Vec<Attribute>),
    /// In the structure around them, which is not signed.
    pub signed: &'a dyn Fn(&mut SignedData),
    /// In the outermost structure.
    pub outer: &'a dyn Fn(&mut ContentInfo),
}

impl Changes<'_> {
    pub const NONE: Self = Self {
        info: &|_| {},
        attributes: &|_| {},
        signed: &|_| {},
        outer: &|_| {},
    };
}

/// A time-stamp in the making.
pub struct Stamping<'a> {
    /// Whose certificate it is said to be by.
    pub by: &'a ShopCertificate,
    /// Whose key signs it.
    pub key: &'a SigningKey,
    /// The certificate that the signed attributes name.
    pub names: &'a ShopCertificate,
    /// The certificates that come with it.
    pub with: Vec<&'a ShopCertificate>,
    /// The SHA-256 of what it is over.
    pub imprint: Vec<u8>,
    /// The time it attests.
    pub time: DateTime<Utc>,
    /// The version of what is stamped.
    pub version: u8,
    /// The version of the structure around it.
    pub outer_version: u8,
    /// What the signed attributes say the content is.
    pub kind: ObjectIdentifier,
    /// What the message digest is of; the content itself where nothing is said.
    pub digested: Option<&'a [u8]>,
}

impl<'a> Stamping<'a> {
    /// A good time-stamp by `party` over `over`.
    pub fn good(party: &'a Party, over: &[u8], time: DateTime<Utc>) -> Self {
        Self {
            by: &party.certificate,
            key: &party.key,
            names: &party.certificate,
            with: vec![&party.certificate],
            imprint: digest(oid::SHA_256, over).unwrap(),
            time,
            version: 1,
            outer_version: 3,
            kind: oid::TST_INFO,
            digested: None,
        }
    }

    /// The token.
    pub fn token(&self) -> Vec<u8> {
        self.token_with(&Changes::NONE)
    }

    /// The token with these changes.
    pub(super) fn token_with(&self, changes: &Changes<'_>) -> Vec<u8> {
        self.content_info(changes).to_der().unwrap()
    }

    fn content_info(&self, changes: &Changes<'_>) -> ContentInfo {
        let time = self.time.format("%Y%m%d%H%M%SZ").to_string();
        let mut info = TstInfo {
            version: self.version,
            policy: ObjectIdentifier::new_unwrap("1.2.3.4.1"),
            message_imprint: MessageImprint {
                hash_algorithm: algorithm(oid::SHA_256),
                hashed_message: OctetString::new(self.imprint.clone()).unwrap(),
            },
            serial_number: Int::new(&[1]).unwrap(),
            gen_time: Any::new(Tag::GeneralizedTime, time.into_bytes()).unwrap(),
            accuracy: None,
            ordering: None,
            nonce: None,
            tsa: None,
            extensions: None,
        };
        (changes.info)(&mut info);
        let content = info.to_der().unwrap();
        let mut attributes = self.signed_attributes(&content);
        (changes.attributes)(&mut attributes);
        let signed = SetOfVec::try_from(attributes).unwrap();
        let signature: DerSignature = self.key.sign(&signed.to_der().unwrap());
        let tbs = self.by.certificate().tbs_certificate();
        let signer = SignerInfo {
            version: CmsVersion::V1,
            sid: SignerIdentifier::IssuerAndSerialNumber(IssuerAndSerialNumber {
                issuer: tbs.issuer().clone(),
                serial_number: tbs.serial_number().clone(),
            }),
            digest_alg: algorithm(oid::SHA_256),
            signed_attrs: Some(signed),
            signature_algorithm: algorithm(oid::ECDSA_SHA_256),
            signature: OctetString::new(signature.as_bytes()).unwrap(),
            unsigned_attrs: None,
        };
        let certificates: Vec<CertificateChoices> = self
            .with
            .iter()
            .map(|one| CertificateChoices::Certificate(one.certificate().clone()))
            .collect();
        let mut signed = SignedData {
            version: match self.outer_version {
                1 => CmsVersion::V1,
                _ => CmsVersion::V3,
            },
            digest_algorithms: SetOfVec::try_from(vec![algorithm(oid::SHA_256)]).unwrap(),
            encap_content_info: EncapsulatedContentInfo {
                econtent_type: oid::TST_INFO,
                econtent: Some(Any::encode_from(&OctetString::new(content).unwrap()).unwrap()),
            },
            certificates: Some(SetOfVec::try_from(certificates).unwrap()),
            crls: None,
            signer_infos: SetOfVec::try_from(vec![signer]).unwrap(),
        };
        (changes.signed)(&mut signed);
        let mut outer = ContentInfo {
            content_type: oid::SIGNED_DATA,
            content: Any::encode_from(&signed).unwrap(),
        };
        (changes.outer)(&mut outer);
        outer
    }

    fn signed_attributes(&self, content: &[u8]) -> Vec<Attribute> {
        let digested = digest(oid::SHA_256, self.digested.unwrap_or(content)).unwrap();
        let names = SigningCertificates {
            certs: vec![EssCertIdV2 {
                hash_algorithm: None,
                cert_hash: OctetString::new(digest(oid::SHA_256, self.names.der()).unwrap())
                    .unwrap(),
                issuer_serial: None,
            }],
            policies: None,
        };
        vec![
            attribute(oid::CONTENT_TYPE, Any::encode_from(&self.kind).unwrap()),
            attribute(
                oid::MESSAGE_DIGEST,
                Any::encode_from(&OctetString::new(digested).unwrap()).unwrap(),
            ),
            attribute(
                oid::SIGNING_CERTIFICATE_V2,
                Any::encode_from(&names).unwrap(),
            ),
        ]
    }
}

/// What an authority answers to `request` at `time` (RFC 3161, 2.4.2), in its bytes.
pub fn answer(party: &Party, request: &[u8], time: DateTime<Utc>) -> Vec<u8> {
    let request = TimeStampReq::from_der(request).unwrap();
    let hashed = request.message_imprint.hashed_message;
    let stamping = Stamping {
        imprint: hashed.as_bytes().to_vec(),
        ..Stamping::good(party, b"", time)
    };
    let status = PkiStatusInfo {
        status: 0,
        status_string: None,
        fail_info: None,
    };
    let answer = TimeStampResp {
        status,
        time_stamp_token: Some(stamping.content_info(&Changes::NONE)),
    };
    answer.to_der().unwrap()
}

/// An attribute with one value.
pub(super) fn attribute(oid: ObjectIdentifier, value: Any) -> Attribute {
    Attribute {
        oid,
        values: SetOfVec::try_from(vec![value]).unwrap(),
    }
}

fn algorithm(oid: ObjectIdentifier) -> AlgorithmIdentifierOwned {
    AlgorithmIdentifierOwned {
        oid,
        parameters: None,
    }
}
