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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::signature::test_authority::answer;
    use crate::signature::test_parties::{Plan, now};

    /// RFC 3161, 2.4.1: the authority's certificate is asked for.
    #[test]
    fn a_request_is_over_the_digest_of_the_signature() {
        let request = TimeStampReq::from_der(&request(b"signature").unwrap()).unwrap();
        assert_eq!(request.version, 1);
        assert!(request.cert_req);
        let imprint = request.message_imprint;
        assert_eq!(imprint.hash_algorithm.oid, oid::SHA_256);
        let expected = digest(oid::SHA_256, b"signature").unwrap();
        assert_eq!(imprint.hashed_message.as_bytes(), expected);
    }

    /// RFC 3161, 2.4.2: 0 and 1 grant, whatever else refuses, even with a token.
    #[test]
    fn an_answer_grants_or_refuses_by_its_status() {
        let quay = Plan::stamping("Quayside").make(5, None);
        let granted = answer(&quay, &request(b"signature").unwrap(), now());
        for (status, expected) in [
            (0, None),
            (1, None),
            (2, Some(StampError::Refused)),
            (5, Some(StampError::Refused)),
        ] {
            let mut other = TimeStampResp::from_der(&granted).unwrap();
            other.status.status = status;
            let found = token(&other.to_der().unwrap());
            assert_eq!(found.err(), expected, "{status}");
        }
        let mut empty = TimeStampResp::from_der(&granted).unwrap();
        empty.time_stamp_token = None;
        let found = token(&empty.to_der().unwrap());
        assert_eq!(found, Err(StampError::Refused));
        assert_eq!(token(b"no answer"), Err(StampError::NotReadable));
    }
}
