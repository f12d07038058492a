//! The certificate that says whose key it is (X.509, RFC 5280).

use std::fmt;
use std::time::Duration;

use chrono::{DateTime, Utc};
use der::asn1::{Any, OctetString, Utf8StringRef};
use der::flagset::FlagSet;
use der::pem::LineEnding;
use der::{Decode, Encode, EncodePem};
use p256::ecdsa::{DerSignature, SigningKey};
use x509_cert::attr::AttributeTypeAndValue;
use x509_cert::builder::profile::BuilderProfile;
use x509_cert::builder::{Builder, CertificateBuilder};
use x509_cert::certificate::TbsCertificate;
use x509_cert::ext::pkix::{
    BasicConstraints, ExtendedKeyUsage, KeyUsage, KeyUsages, SubjectKeyIdentifier,
};
use x509_cert::ext::{Extension, ToExtension};
use x509_cert::name::{Name, RdnSequence, RelativeDistinguishedName};
use x509_cert::serial_number::SerialNumber;
use x509_cert::spki::{SubjectPublicKeyInfoOwned, SubjectPublicKeyInfoRef};
use x509_cert::time::{Time, Validity};
use x509_cert::{Certificate, builder};

use super::oid;
use super::public_key::{Checked, check, p256_key};
use crate::files::Digest;
use crate::seals::is_hidden;

/// The most letters of a common name (RFC 5280, appendix A: ub-common-name).
const NAME_LETTERS: usize = 64;

/// A certificate of a shop's signing key.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ShopCertificate {
    certificate: Certificate,
    der: Vec<u8>,
}

/// Why there is no certificate.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum CertificateError {
    /// Neither PEM nor DER of a certificate.
    NotACertificate,
    /// It could not be made.
    NotMade(String),
}

impl fmt::Display for CertificateError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotACertificate => f.write_str("this is not an X.509 certificate in PEM or DER"),
            Self::NotMade(why) => write!(f, "the certificate cannot be made: {why}"),
        }
    }
}

impl ShopCertificate {
    /// A certificate for `key` by `key` itself, valid from `from` until `until`.
    /// `serial` are 16 random bytes.
    ///
    /// # Errors
    /// [`CertificateError::NotMade`] for a name or a time that X.509 cannot hold.
    pub fn self_issued(
        name: &str,
        key: &SigningKey,
        serial: [u8; 16],
        from: DateTime<Utc>,
        until: DateTime<Utc>,
    ) -> Result<Self, CertificateError> {
        let not_made = |why: &dyn fmt::Display| CertificateError::NotMade(why.to_string());
        let shop = Shop(common_name(name).map_err(|error| not_made(&error))?);
        // Positive, and not shorter than its 16 bytes.
        let mut serial = serial;
        serial[0] = serial[0] & 0x7f | 0x40;
        let serial = SerialNumber::new(&serial).map_err(|error| not_made(&error))?;
        let validity = Validity::new(
            time(from).ok_or_else(|| not_made(&"its first day is out of range"))?,
            time(until).ok_or_else(|| not_made(&"its last day is out of range"))?,
        );
        let public = SubjectPublicKeyInfoOwned::from_key(key.verifying_key())
            .map_err(|error| not_made(&error))?;
        let certificate = CertificateBuilder::new(shop, serial, validity, public)
            .and_then(|builder| builder.build::<_, DerSignature>(key))
            .map_err(|error| not_made(&error))?;
        Self::new(certificate)
    }

    /// Takes a certificate as it was read.
    pub fn new(certificate: Certificate) -> Result<Self, CertificateError> {
        let der = certificate
            .to_der()
            .map_err(|_| CertificateError::NotACertificate)?;
        Ok(Self { certificate, der })
    }

    /// Reads the first certificate of a file, PEM or DER.
    ///
    /// # Errors
    /// [`CertificateError::NotACertificate`]
    pub fn read(bytes: &[u8]) -> Result<Self, CertificateError> {
        let first = Self::read_all(bytes)?.into_iter().next();
        first.ok_or(CertificateError::NotACertificate)
    }

    /// Reads every certificate of a PEM file, or the one of a DER file.
    ///
    /// # Errors
    /// [`CertificateError::NotACertificate`]
    pub fn read_all(bytes: &[u8]) -> Result<Vec<Self>, CertificateError> {
        let found = match Certificate::load_pem_chain(bytes) {
            Ok(found) if !found.is_empty() => found,
            _ => vec![Certificate::from_der(bytes).map_err(|_| CertificateError::NotACertificate)?],
        };
        found.into_iter().map(Self::new).collect()
    }

    /// The certificate in DER.
    pub fn der(&self) -> &[u8] {
        &self.der
    }

    /// The certificate in PEM, for customers and for openssl.
    pub fn pem(&self) -> String {
        self.certificate.to_pem(LineEnding::LF).unwrap_or_default()
    }

    /// The certificate itself.
    pub fn certificate(&self) -> &Certificate {
        &self.certificate
    }

    /// The common name of its holder, or the whole name where it has none.
    pub fn holder(&self) -> String {
        name_of(self.certificate.tbs_certificate().subject())
    }

    /// Who issued it; none if its holder did.
    pub fn issuer(&self) -> Option<String> {
        let tbs = self.certificate.tbs_certificate();
        (tbs.issuer() != tbs.subject()).then(|| name_of(tbs.issuer()))
    }

    /// SHA-256 of the DER, as `openssl x509 -fingerprint -sha256` prints it without
    /// colons.
    pub fn fingerprint(&self) -> Digest {
        Digest::of(&self.der)
    }

    /// First and last moment of its validity.
    pub fn validity(&self) -> (DateTime<Utc>, DateTime<Utc>) {
        let validity = self.certificate.tbs_certificate().validity();
        (moment(&validity.not_before), moment(&validity.not_after))
    }

    /// Whether it was valid at `when`.
    pub fn is_valid_at(&self, when: DateTime<Utc>) -> bool {
        let (from, until) = self.validity();
        from <= when && when <= until
    }

    /// Whether its key is on P-256.
    pub fn has_p256_key(&self) -> bool {
        p256_key(&self.certificate).is_some()
    }

    /// Whether its key may sign documents (RFC 5280, 4.2.1.3 and 4.2.1.12; RFC 9336).
    pub fn may_sign(&self) -> bool {
        let tbs = self.certificate.tbs_certificate();
        let purposes = match tbs.get_extension::<ExtendedKeyUsage>() {
            Ok(found) => found.map(|(_, usage)| usage.0),
            Err(_) => return false,
        };
        let fits = purposes.is_none_or(|purposes| {
            purposes
                .iter()
                .any(|one| oid::SIGNING_PURPOSES.contains(one))
        });
        fits && self
            .usage()
            .is_none_or(|usage| usage.digital_signature() || usage.non_repudiation())
    }

    /// How many authorities may be between it and a certificate that it leads to;
    /// none without a limit.
    fn path_length(&self) -> Option<u8> {
        let tbs = self.certificate.tbs_certificate();
        let constraints = tbs.get_extension::<BasicConstraints>().ok().flatten()?;
        constraints.1.path_len_constraint
    }

    /// Whether it has a critical extension that this program does not know (RFC 5280, 4.2).
    fn demands_more(&self) -> bool {
        let extensions = self.certificate.tbs_certificate().extensions();
        extensions.into_iter().flatten().any(|extension| {
            extension.critical && !oid::KNOWN_EXTENSIONS.contains(&extension.extn_id)
        })
    }

    /// The certificate of `trusted` that is this one, or that it leads to through
    /// `others`; each certificate on the way valid at `when`.
    pub fn leads_to<'a>(
        &self,
        others: &[Self],
        trusted: &'a [Self],
        when: DateTime<Utc>,
    ) -> Option<&'a Self> {
        if let Some(known) = trusted.iter().find(|known| *known == self) {
            return Some(known);
        }
        let mut current = self;
        // Each step uses another certificate; the bound also ends loops.
        for authorities in 0..=others.len() {
            if current.demands_more() || !current.is_valid_at(when) {
                return None;
            }
            let fits = |issuer: &&Self| {
                current.is_issued_by(issuer)
                    && issuer.is_valid_at(when)
                    && issuer
                        .path_length()
                        .is_none_or(|most| authorities <= usize::from(most))
            };
            if let Some(known) = trusted.iter().find(fits) {
                return (!known.demands_more()).then_some(known);
            }
            current = others.iter().find(fits)?;
        }
        None
    }

    fn usage(&self) -> Option<KeyUsage> {
        let tbs = self.certificate.tbs_certificate();
        tbs.get_extension::<KeyUsage>()
            .ok()
            .flatten()
            .map(|(_, usage)| usage)
    }

    /// Whether `issuer`, a certificate authority, issued and signed this.
    pub fn is_issued_by(&self, issuer: &Self) -> bool {
        let tbs = issuer.certificate.tbs_certificate();
        let is_authority = tbs
            .get_extension::<BasicConstraints>()
            .is_ok_and(|found| found.is_some_and(|(_, constraints)| constraints.ca));
        let may_certify = issuer.usage().is_none_or(|usage| usage.key_cert_sign());
        let named = self.certificate.tbs_certificate().issuer() == tbs.subject();
        let message = self.certificate.tbs_certificate().to_der();
        let is_signed_by = |message: Vec<u8>| {
            let checked = check(
                &issuer.certificate,
                self.certificate.signature_algorithm(),
                None,
                &message,
                self.certificate.signature().raw_bytes(),
            );
            checked == Checked::Good
        };
        is_authority && may_certify && named && message.is_ok_and(is_signed_by)
    }
}

/// What a shop's own certificate states besides name and key.
struct Shop(Name);

impl BuilderProfile for Shop {
    fn get_issuer(&self, subject: &Name) -> Name {
        subject.clone()
    }

    fn get_subject(&self) -> Name {
        self.0.clone()
    }

    fn build_extensions(
        &self,
        public: SubjectPublicKeyInfoRef<'_>,
        _: SubjectPublicKeyInfoRef<'_>,
        tbs: &TbsCertificate,
    ) -> builder::Result<Vec<Extension>> {
        let subject = tbs.subject();
        let mut extensions = Vec::new();
        let no_authority = BasicConstraints {
            ca: false,
            path_len_constraint: None,
        };
        extensions.push(no_authority.to_extension(subject, &extensions)?);
        let usage = FlagSet::from(KeyUsages::DigitalSignature) | KeyUsages::NonRepudiation;
        extensions.push(KeyUsage(usage).to_extension(subject, &extensions)?);
        // RFC 7093, method 1: the first 160 bits of the SHA-256 of the key.
        let key: Option<&[u8]> = public.subject_public_key.as_bytes();
        let digest = Digest::of(key.unwrap_or_default());
        let id = SubjectKeyIdentifier(OctetString::new(&digest.bytes()[..20])?);
        extensions.push(id.to_extension(subject, &extensions)?);
        Ok(extensions)
    }
}

/// The name with `name` as its common name, cut where X.509 has no room for more.
fn common_name(name: &str) -> der::Result<Name> {
    let short: String = name.trim().chars().take(NAME_LETTERS).collect();
    let attribute = AttributeTypeAndValue {
        oid: oid::COMMON_NAME,
        value: Any::from(Utf8StringRef::new(&short)?),
    };
    let mut sequence = RdnSequence::default();
    sequence.push(RelativeDistinguishedName::try_from(vec![attribute])?);
    Ok(Name::hazmat_from_rdn_sequence(sequence))
}

fn name_of(name: &Name) -> String {
    let common = name
        .iter()
        .find(|attribute| attribute.oid == oid::COMMON_NAME)
        .and_then(|attribute| std::str::from_utf8(attribute.value.value()).ok())
        .map(str::to_owned);
    let name = common.unwrap_or_else(|| name.to_string());
    // It is printed: a name from an unknown file must not reverse or hide text.
    name.chars().filter(|c| !is_hidden(*c)).collect()
}

fn time(moment: DateTime<Utc>) -> Option<Time> {
    let seconds = u64::try_from(moment.timestamp()).ok()?;
    let time = der::DateTime::from_unix_duration(Duration::from_secs(seconds)).ok()?;
    Some(Time::GeneralTime(time.into()))
}

fn moment(time: &Time) -> DateTime<Utc> {
    let seconds = time.to_unix_duration().as_secs();
    i64::try_from(seconds)
        .ok()
        .and_then(|seconds| DateTime::from_timestamp(seconds, 0))
        .unwrap_or_default()
}
