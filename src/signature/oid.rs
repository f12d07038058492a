//! The object identifiers of the standards used here.

use der::asn1::ObjectIdentifier;

const fn oid(text: &'static str) -> ObjectIdentifier {
    ObjectIdentifier::new_unwrap(text)
}

/// id-data (RFC 5652, 4).
pub const DATA: ObjectIdentifier = oid("1.2.840.113549.1.7.1");
/// id-signedData (RFC 5652, 5.1).
pub const SIGNED_DATA: ObjectIdentifier = oid("1.2.840.113549.1.7.2");
/// id-contentType (RFC 5652, 11.1).
pub const CONTENT_TYPE: ObjectIdentifier = oid("1.2.840.113549.1.9.3");
/// id-messageDigest (RFC 5652, 11.2).
pub const MESSAGE_DIGEST: ObjectIdentifier = oid("1.2.840.113549.1.9.4");
/// id-aa-signingCertificate (RFC 2634, 5.4).
pub const SIGNING_CERTIFICATE: ObjectIdentifier = oid("1.2.840.113549.1.9.16.2.12");
/// id-aa-signingCertificateV2 (RFC 5035, 3).
pub const SIGNING_CERTIFICATE_V2: ObjectIdentifier = oid("1.2.840.113549.1.9.16.2.47");
/// id-aa-timeStampToken (RFC 3161, appendix A).
pub const TIME_STAMP_TOKEN: ObjectIdentifier = oid("1.2.840.113549.1.9.16.2.14");
/// id-ct-TSTInfo (RFC 3161, 2.4.2).
pub const TST_INFO: ObjectIdentifier = oid("1.2.840.113549.1.9.16.1.4");
/// id-kp-timeStamping (RFC 3161, 2.3).
pub const TIME_STAMPING: ObjectIdentifier = oid("1.3.6.1.5.5.7.3.8");
/// id-sha256 (RFC 5754, 2.2).
pub const SHA_256: ObjectIdentifier = oid("2.16.840.1.101.3.4.2.1");
/// id-sha384.
pub const SHA_384: ObjectIdentifier = oid("2.16.840.1.101.3.4.2.2");
/// id-sha512.
pub const SHA_512: ObjectIdentifier = oid("2.16.840.1.101.3.4.2.3");
/// ecdsa-with-SHA256 (RFC 5754, 3.3).
pub const ECDSA_SHA_256: ObjectIdentifier = oid("1.2.840.10045.4.3.2");
/// id-ecPublicKey (RFC 5480, 2.1.1).
pub const EC_PUBLIC_KEY: ObjectIdentifier = oid("1.2.840.10045.2.1");
/// rsaEncryption (RFC 8017, appendix C).
pub const RSA_ENCRYPTION: ObjectIdentifier = oid("1.2.840.113549.1.1.1");
/// sha256WithRSAEncryption (RFC 8017, appendix C).
pub const RSA_SHA_256: ObjectIdentifier = oid("1.2.840.113549.1.1.11");
/// sha384WithRSAEncryption.
pub const RSA_SHA_384: ObjectIdentifier = oid("1.2.840.113549.1.1.12");
/// sha512WithRSAEncryption.
pub const RSA_SHA_512: ObjectIdentifier = oid("1.2.840.113549.1.1.13");
/// id-at-commonName (RFC 4519, 2.3).
pub const COMMON_NAME: ObjectIdentifier = oid("2.5.4.3");

/// Purposes under which a document may be signed: any (RFC 5280, 4.2.1.12), client
/// authentication, mail, documents (RFC 9336).
pub const SIGNING_PURPOSES: [ObjectIdentifier; 4] = [
    oid("2.5.29.37.0"),
    oid("1.3.6.1.5.5.7.3.2"),
    oid("1.3.6.1.5.5.7.3.4"),
    oid("1.3.6.1.5.5.7.3.36"),
];

/// The extensions of RFC 5280 that are looked at: basic constraints, key usage and
/// extended key usage.
pub const KNOWN_EXTENSIONS: [ObjectIdentifier; 3] =
    [oid("2.5.29.19"), oid("2.5.29.15"), oid("2.5.29.37")];
