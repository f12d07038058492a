//! Keys and signatures of every kind that is known here, and of some that are not.
//!
//! The RSA key, its certificate and its signatures over `a message` were made for this test
//! with openssl; the key was thrown away.

use data_encoding::BASE64;
use der::asn1::{Any, BitString, UintRef};
use der::{Decode, Encode, Sequence};
use x509_cert::spki::SubjectPublicKeyInfoOwned;

use super::*;
use crate::signature::test_parties::{Party, Plan};

const MESSAGE: &[u8] = b"a message";
const CERTIFICATE: &str = "\
    MIICAjCCAWugAwIBAgIUT3qQvpxqeA1oIjKq9XQGjdezfHAwDQYJKoZIhvcNAQELBQAwEzERMA8G\
    A1UEAwwIUXVheXNpZGUwHhcNMjYxMTI2MDExNTIwWhcNMzYxMTIzMDExNTIwWjATMREwDwYDVQQD\
    DAhRdWF5c2lkZTCBnzANBgkqhkiG9w0BAQEFAAOBjQAwgYkCgYEAvMTOehtY36QX2XBtC3SjukXd\
    Wfg9EW3S3/dOJetrit6d6t0W9OOjnAks9kDX76cEeaFQzKU9Ck7gLMyuVcFKLonuNWZ8DTMhx8dX\
    DIbBj11VMRZM33/K0pcviVWvZ20XHYiR6QhpLq+yjPFrTHybdiyBcUCVFedrIJEiNu4V/HkCAwEA\
    AaNTMFEwHQYDVR0OBBYEFNSZQfcdaJmpnbrgU67SrsoqUu6NMB8GA1UdIwQYMBaAFNSZQfcdaJmp\
    nbrgU67SrsoqUu6NMA8GA1UdEwEB/wQFMAMBAf8wDQYJKoZIhvcNAQELBQADgYEATDCJGQvYPrGa\
    6m9boqNglQoOKqHXLgnuTMChWV0lXLzypjOhzIJ3g6oAexm1BScbsjA3e4+qwV+Gx3GpAtpha9ZK\
    Xe3Zxq0L2LXkF1jG3syaCszETJmdAi2h2I7NKRKt4/8r6S1n7w+5/CjU+OGjCG63VjQ5oQy2TiIc\
    nN2qdEk=";
const BY_SHA_256: &str = "\
    lVhOfYASTXMI7CuulKstH0oJv/9SG2fgsTweMoumCVddazNGhhdzSSxQchbAuKljl1ArxNE55hLC\
    zEINsAFRENC5iFs1MY5uyKK8osKUftO4YDVeoSwhqBvpW21FJ6vRa/4SA6NLQRcvZiOyDjoHcV5V\
    i+0EuQHdGxLIbq6Buxw=";
const BY_SHA_384: &str = "\
    A9eGn+pM7MMjVWRmUfCKLC1neUI7rIzmA4c1+lu6yJ4EvG+Fp0f3qidmqIM0P1s4OOQe/69oWHmu\
    zir3QdGcX0uob8GFFfxQGhY9ay55e2FP8JW67e7rBhnaO52n8XaDGsduLqBk7FSHmn/pKG6G0SFN\
    qXtxLHlERqJMdlvH3ZY=";
const BY_SHA_512: &str = "\
    G7Kf4flMw1QG/U+S5KbRxj6sT7SXGc0JTgl9GhhimnCxK0NlpQVM7AmFvFfK2ChW6c8sVsRQHyyB\
    SgOSwSpcQneEXi0YPgFCvcr2fPt1bT+zrp4FmrRPLP67L0cLaVII69HKow2r+6UZLNKcExfTAU+X\
    bygWSPgIWIm0gQZ+g9M=";

fn bytes(base64: &str) -> Vec<u8> {
    BASE64.decode(base64.as_bytes()).unwrap()
}

fn algorithm(oid: ObjectIdentifier) -> AlgorithmIdentifierOwned {
    AlgorithmIdentifierOwned {
        oid,
        parameters: None,
    }
}

/// FIPS 180-4, examples of NIST for the message `abc`: the first bytes.
#[test]
fn a_digest_is_by_the_algorithm_that_is_named() {
    let start = |oid| digest(oid, b"abc").map(|digest| (digest[..4].to_vec(), digest.len()));
    for (oid, expected, length) in [
        (oid::SHA_256, [0xba, 0x78, 0x16, 0xbf], 32),
        (oid::SHA_384, [0xcb, 0x00, 0x75, 0x3f], 48),
        (oid::SHA_512, [0xdd, 0xaf, 0x35, 0xa1], 64),
    ] {
        assert_eq!(start(oid), Some((expected.to_vec(), length)));
    }
    assert_eq!(start(oid::DATA), None);
}

#[test]
fn a_signature_of_an_rsa_key_is_checked_by_the_digest_that_is_named() {
    let certificate = Certificate::from_der(&bytes(CERTIFICATE)).unwrap();
    let found = |algorithm_oid, digested, message: &[u8], signature: &str| {
        let signature = bytes(signature);
        check(
            &certificate,
            &algorithm(algorithm_oid),
            digested,
            message,
            &signature,
        )
    };
    for (own, digested, signature) in [
        (oid::RSA_SHA_256, oid::SHA_256, BY_SHA_256),
        (oid::RSA_SHA_384, oid::SHA_384, BY_SHA_384),
        (oid::RSA_SHA_512, oid::SHA_512, BY_SHA_512),
    ] {
        assert_eq!(found(own, None, MESSAGE, signature), Checked::Good, "{own}");
        // The other form names the digest apart (RFC 5652, 5.3).
        let apart = found(oid::RSA_ENCRYPTION, Some(digested), MESSAGE, signature);
        assert_eq!(apart, Checked::Good, "{own}");
        assert_eq!(
            found(own, None, b"another", signature),
            Checked::Bad,
            "{own}"
        );
        let nothing_named = found(oid::RSA_ENCRYPTION, None, MESSAGE, signature);
        assert_eq!(nothing_named, Checked::UnknownKind, "{own}");
        let unknown_digest = found(oid::RSA_ENCRYPTION, Some(oid::DATA), MESSAGE, signature);
        assert_eq!(unknown_digest, Checked::UnknownKind, "{own}");
        let unknown = found(oid::ECDSA_SHA_256, None, MESSAGE, signature);
        assert_eq!(unknown, Checked::UnknownKind, "{own}");
    }
    let crossed = found(oid::RSA_SHA_384, None, MESSAGE, BY_SHA_256);
    assert_eq!(crossed, Checked::Bad);
}

#[derive(Sequence)]
struct RsaKey<'a> {
    modulus: UintRef<'a>,
    exponent: UintRef<'a>,
}

/// A certificate of a key with so many bits, which nobody has.
fn of_bits(bits: usize) -> Party {
    let mut modulus = vec![0xFF; bits.div_ceil(8)];
    modulus[0] >>= (8 - bits % 8) % 8;
    let key = RsaKey {
        modulus: UintRef::new(&modulus).unwrap(),
        exponent: UintRef::new(&[1, 0, 1]).unwrap(),
    };
    let mut algorithm = algorithm(oid::RSA_ENCRYPTION);
    algorithm.parameters = Some(Any::null());
    Plan::signer("Quayside").make_of(SubjectPublicKeyInfoOwned {
        algorithm,
        subject_public_key: BitString::from_bytes(&key.to_der().unwrap()).unwrap(),
    })
}

#[test]
fn keys_of_other_kinds_and_of_great_length_are_not_known() {
    let sha_256 = algorithm(oid::RSA_SHA_256);
    for (bits, expected) in [(8192, Checked::Bad), (8193, Checked::UnknownKind)] {
        let party = of_bits(bits);
        let signature = vec![1; bits.div_ceil(8)];
        let found = check(
            party.certificate.certificate(),
            &sha_256,
            None,
            MESSAGE,
            &signature,
        );
        assert_eq!(found, expected, "{bits}");
        assert!(!party.certificate.has_p256_key());
    }
    // A key on another curve (P-384, RFC 5480), and one of a kind that nobody knows.
    for kind in [oid::EC_PUBLIC_KEY, oid::DATA] {
        let p384 = ObjectIdentifier::new_unwrap("1.3.132.0.34");
        let mut of_key = algorithm(kind);
        of_key.parameters = Some(Any::encode_from(&p384).unwrap());
        let party = Plan::signer("Quayside").make_of(SubjectPublicKeyInfoOwned {
            algorithm: of_key,
            subject_public_key: BitString::from_bytes(&[4; 97]).unwrap(),
        });
        let certificate = party.certificate.certificate();
        let ecdsa = algorithm(oid::ECDSA_SHA_256);
        let found = check(certificate, &ecdsa, None, MESSAGE, &[1]);
        assert_eq!(found, Checked::UnknownKind, "{kind}");
        assert!(p256_key(certificate).is_none());
    }
}
