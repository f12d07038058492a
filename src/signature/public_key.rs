//! Checking a signature with the key of a certificate: ECDSA on P-256 with SHA-256,
//! and RSA (PKCS #1 v1.5) where the build has it.

use der::asn1::ObjectIdentifier;
use der::referenced::OwnedToRef;
use p256::ecdsa::signature::Verifier;
use p256::ecdsa::{DerSignature, VerifyingKey};
use sha2::{Digest as _, Sha256, Sha384, Sha512};
use x509_cert::Certificate;
use x509_cert::spki::AlgorithmIdentifierOwned;

use super::oid;

/// The result of checking a signature.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Checked {
    /// It was made with that key over those bytes.
    Good,
    /// It was not.
    Bad,
    /// This program does not know that kind of key or signature.
    UnknownKind,
}

/// The digest of `bytes` by the algorithm `oid`; none where it is not known here.
pub fn digest(algorithm: ObjectIdentifier, bytes: &[u8]) -> Option<Vec<u8>> {
    match algorithm {
        oid::SHA_256 => Some(Sha256::digest(bytes).to_vec()),
        oid::SHA_384 => Some(Sha384::digest(bytes).to_vec()),
        oid::SHA_512 => Some(Sha512::digest(bytes).to_vec()),
        _ => None,
    }
}

/// The P-256 key of `certificate`, if it has one.
pub fn p256_key(certificate: &Certificate) -> Option<VerifyingKey> {
    let key = certificate.tbs_certificate().subject_public_key_info();
    VerifyingKey::try_from(key.owned_to_ref()).ok()
}

/// Checks `signature` over `message` with the key of `certificate`. `algorithm` is
/// the signature's; `digested` the digest's, for signatures that name it apart.
pub fn check(
    certificate: &Certificate,
    algorithm: &AlgorithmIdentifierOwned,
    digested: Option<ObjectIdentifier>,
    message: &[u8],
    signature: &[u8],
) -> Checked {
    let key = certificate.tbs_certificate().subject_public_key_info();
    match (key.algorithm.oid, algorithm.oid) {
        (oid::EC_PUBLIC_KEY, oid::ECDSA_SHA_256) => match p256_key(certificate) {
            None => Checked::UnknownKind,
            Some(key) => {
                let good = DerSignature::from_bytes(signature)
                    .is_ok_and(|signature| key.verify(message, &signature).is_ok());
                if good { Checked::Good } else { Checked::Bad }
            }
        },
        (oid::RSA_ENCRYPTION, algorithm) => {
            let digested = match algorithm {
                oid::RSA_SHA_256 => Some(oid::SHA_256),
                oid::RSA_SHA_384 => Some(oid::SHA_384),
                oid::RSA_SHA_512 => Some(oid::SHA_512),
                oid::RSA_ENCRYPTION => digested,
                _ => None,
            };
            digested.map_or(Checked::UnknownKind, |digested| {
                check_rsa(certificate, digested, message, signature)
            })
        }
        _ => Checked::UnknownKind,
    }
}

/// Keys of more than 8192 bits are not known, because the crate takes none: each check
/// would take seconds.
#[cfg(feature = "rsa")]
fn check_rsa(
    certificate: &Certificate,
    digested: ObjectIdentifier,
    message: &[u8],
    signature: &[u8],
) -> Checked {
    use rsa::pkcs1v15::Pkcs1v15Sign;
    let key = certificate.tbs_certificate().subject_public_key_info();
    let Ok(key) = rsa::PublicKey::try_from(key.owned_to_ref()) else {
        return Checked::UnknownKind;
    };
    let padding = match digested {
        oid::SHA_256 => Pkcs1v15Sign::new::<Sha256>(),
        oid::SHA_384 => Pkcs1v15Sign::new::<Sha384>(),
        oid::SHA_512 => Pkcs1v15Sign::new::<Sha512>(),
        _ => return Checked::UnknownKind,
    };
    let digest = digest(digested, message).unwrap_or_default();
    if key.verify(padding, &digest, signature).is_ok() {
        Checked::Good
    } else {
        Checked::Bad
    }
}

#[cfg(not(feature = "rsa"))]
fn check_rsa(_: &Certificate, _: ObjectIdentifier, _: &[u8], _: &[u8]) -> Checked {
    Checked::UnknownKind
}

#[cfg(all(test, feature = "rsa"))]
mod tests;
