//! Asking an authority for a time-stamp (RFC 3161): the request, and what its answer
//! holds.

use der::asn1::{BitString, OctetString};
use der::{Decode, Encode, Sequence};
use x509_cert::spki::AlgorithmIdentifierOwned;

use super::cms_types::ContentInfo;
use super::oid;
use super::public_key::digest;
use super::time_stamp::{MessageImprint, StampError};

#[derive(Sequence)]
pub(super) struct TimeStampReq {
    pub version: u8,
    pub message_imprint: MessageImprint,
    pub cert_req: bool,
}

#[derive(Sequence)]
pub(super) struct TimeStampResp {
    pub status: PkiStatusInfo,
    #[asn1(optional = "true")]
    pub time_stamp_token: Option<ContentInfo>,
}

#[derive(Sequence)]
pub(super) struct PkiStatusInfo {
    pub status: u8,
    #[asn1(optional = "true")]
    pub status_string: Option<Vec<String>>,
    #[asn1(optional = "true")]
    pub fail_info: Option<BitString>,
}

/// The request to an authority: a time-stamp over `signature`, with the
/// authority's certificate. It has no nonce: the signature itself was never stamped
/// before, so no old answer can fit.
pub fn request(signature: &[u8]) -> Option<Vec<u8>> {
    let imprint = digest(oid::SHA_256, signature)?;
    let question = TimeStampReq {
        version: 1,
        message_imprint: MessageImprint {
            hash_algorithm: AlgorithmIdentifierOwned {
                oid: oid::SHA_256,
                parameters: None,
            },
            hashed_message: OctetString::new(imprint).ok()?,
        },
        cert_req: true,
    };
    question.to_der().ok()
}

/// The token in an authority's answer, as the bytes it came in.
///
/// # Errors
/// [`StampError::Refused`] or [`StampError::NotReadable`]
pub fn token(answer: &[u8]) -> Result<Vec<u8>, StampError> {
    let answer = TimeStampResp::from_der(answer).map_err(|_| StampError::NotReadable)?;
    // 0 granted, 1 granted with changes (RFC 3161, 2.4.2).
    if answer.status.status > 1 {
        return Err(StampError::Refused);
    }
    let token = answer.time_stamp_token.ok_or(StampError::Refused)?;
    token.to_der().map_err(|_| StampError::NotReadable)
}
