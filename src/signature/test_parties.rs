//! Keys with certificates of every kind, made inside the tests.

use std::time::Duration;

use chrono::{DateTime, TimeDelta, Utc};
use der::Encode;
use der::asn1::{Any, ObjectIdentifier, OctetString, Utf8StringRef};
use der::flagset::FlagSet;
use p256::SecretKey;
use p256::ecdsa::{DerSignature, SigningKey};
use x509_cert::attr::AttributeTypeAndValue;
use x509_cert::builder::profile::BuilderProfile;
use x509_cert::builder::{self, Builder, CertificateBuilder};
use x509_cert::certificate::TbsCertificate;
use x509_cert::ext::pkix::{BasicConstraints, ExtendedKeyUsage, KeyUsage, KeyUsages};
use x509_cert::ext::{Extension, ToExtension};
use x509_cert::name::{Name, RdnSequence, RelativeDistinguishedName};
use x509_cert::serial_number::SerialNumber;
use x509_cert::spki::{SubjectPublicKeyInfoOwned, SubjectPublicKeyInfoRef};
use x509_cert::time::{Time, Validity};

use super::certificate::ShopCertificate;
use super::identity::Identity;
use super::oid;

/// The moment of all tests: 2026-03-05, 07:00 UTC.
pub fn now() -> DateTime<Utc> {
    "2026-03-05T07:00:00Z".parse().unwrap()
}

/// A key and its certificate.
pub struct Party {
    pub key: SigningKey,
    pub certificate: ShopCertificate,
}

impl Party {
    /// The party as one who signs documents, fit for it or not.
    pub fn identity(&self, chain: &[&Party]) -> Identity {
        let chain = chain.iter().map(|one| one.certificate.clone()).collect();
        Identity::of_any_use(self.key.clone(), self.certificate.clone(), chain)
    }
}

/// What a certificate is to say.
#[derive(Clone)]
pub struct Plan {
    name: &'static str,
    /// First and last day of validity, counted from [`now`].
    days: (i64, i64),
    /// Whether it is an authority, and how many may stand between it and a signer.
    authority: Option<Option<u8>>,
    usage: Option<FlagSet<KeyUsages>>,
    /// Whether the purposes are critical, and what they are.
    purposes: Option<(bool, Vec<ObjectIdentifier>)>,
    /// A critical extension that holds nothing which could be read.
    unreadable: Option<ObjectIdentifier>,
    /// The organisation that stands before the name.
    organisation: Option<&'static str>,
}

impl Plan {
    /// A certificate that may sign documents.
    pub fn signer(name: &'static str) -> Self {
        Self {
            name,
            days: (-10, 365),
            authority: None,
            usage: Some(KeyUsages::DigitalSignature.into()),
            purposes: None,
            unreadable: None,
            organisation: None,
        }
    }

    /// A certificate that may issue others.
    pub fn authority(name: &'static str) -> Self {
        Self {
            authority: Some(None),
            usage: Some(KeyUsages::KeyCertSign.into()),
            ..Self::signer(name)
        }
    }

    /// A certificate for time-stamps (RFC 3161, 2.3).
    pub fn stamping(name: &'static str) -> Self {
        Self::signer(name).purposes(true, &[oid::TIME_STAMPING])
    }

    pub fn days(self, from: i64, until: i64) -> Self {
        let days = (from, until);
        Self { days, ..self }
    }

    pub fn path_length(self, most: u8) -> Self {
        let authority = Some(Some(most));
        Self { authority, ..self }
    }

    pub fn usage(self, usage: Option<KeyUsages>) -> Self {
        let usage = usage.map(FlagSet::from);
        Self { usage, ..self }
    }

    pub fn purposes(self, critical: bool, purposes: &[ObjectIdentifier]) -> Self {
        let purposes = Some((critical, purposes.to_vec()));
        Self { purposes, ..self }
    }

    /// With a critical extension that nobody knows.
    pub fn demands_more(self) -> Self {
        let unreadable = Some(ObjectIdentifier::new_unwrap("1.2.3.4.5"));
        Self { unreadable, ..self }
    }

    /// With purposes that cannot be read (RFC 5280, 4.2.1.12).
    pub fn garbled_purposes(self) -> Self {
        let unreadable = Some(ObjectIdentifier::new_unwrap("2.5.29.37"));
        Self { unreadable, ..self }
    }

    /// With this organisation in its name, before its common name.
    pub fn of(self, organisation: &'static str) -> Self {
        let organisation = Some(organisation);
        Self {
            organisation,
            ..self
        }
    }

    /// The party with the key `key`, certified by `issuer`; by itself without one.
    pub fn make(self, key: u8, issuer: Option<&Party>) -> Party {
        let secret = SecretKey::from_slice(&[key; 32]).unwrap();
        let key = SigningKey::from(secret);
        let public = SubjectPublicKeyInfoOwned::from_key(key.verifying_key()).unwrap();
        self.certified(key, public, issuer)
    }

    /// A certificate that says of itself that it is of the key `public`, whoever has that.
    pub fn make_of(self, public: SubjectPublicKeyInfoOwned) -> Party {
        let secret = SecretKey::from_slice(&[1; 32]).unwrap();
        self.certified(SigningKey::from(secret), public, None)
    }

    fn certified(
        self,
        key: SigningKey,
        public: SubjectPublicKeyInfoOwned,
        issuer: Option<&Party>,
    ) -> Party {
        let at = |days: i64| {
            let moment = now() + TimeDelta::days(days);
            let seconds = Duration::from_secs(moment.timestamp().unsigned_abs());
            Time::GeneralTime(der::DateTime::from_unix_duration(seconds).unwrap().into())
        };
        let validity = Validity::new(at(self.days.0), at(self.days.1));
        let serial = SerialNumber::new(&[key.to_bytes()[0]]).unwrap();
        let subject = whole_name(self.organisation, self.name);
        let profile = Profile {
            issuer: issuer.map_or_else(
                || subject.clone(),
                |issuer| {
                    let tbs = issuer.certificate.certificate().tbs_certificate();
                    tbs.subject().clone()
                },
            ),
            subject,
            plan: self,
        };
        let certificate = CertificateBuilder::new(profile, serial, validity, public)
            .unwrap()
            .build::<_, DerSignature>(issuer.map_or(&key, |issuer| &issuer.key))
            .unwrap();
        let certificate = ShopCertificate::new(certificate).unwrap();
        Party { key, certificate }
    }
}

struct Profile {
    subject: Name,
    issuer: Name,
    plan: Plan,
}

impl BuilderProfile for Profile {
    fn get_issuer(&self, _: &Name) -> Name {
        self.issuer.clone()
    }

    fn get_subject(&self) -> Name {
        self.subject.clone()
    }

    fn build_extensions(
        &self,
        _: SubjectPublicKeyInfoRef<'_>,
        _: SubjectPublicKeyInfoRef<'_>,
        _: &TbsCertificate,
    ) -> builder::Result<Vec<Extension>> {
        let (plan, subject) = (&self.plan, &self.subject);
        let mut extensions = Vec::new();
        let constraints = BasicConstraints {
            ca: plan.authority.is_some(),
            path_len_constraint: plan.authority.flatten(),
        };
        extensions.push(constraints.to_extension(subject, &extensions)?);
        if let Some(usage) = plan.usage {
            extensions.push(KeyUsage(usage).to_extension(subject, &extensions)?);
        }
        if let Some((critical, purposes)) = &plan.purposes {
            let usage = ExtendedKeyUsage(purposes.clone());
            let mut extension = usage.to_extension(subject, &extensions)?;
            extension.critical = *critical;
            extensions.push(extension);
        }
        if let Some(extn_id) = plan.unreadable {
            extensions.push(Extension {
                extn_id,
                critical: true,
                extn_value: OctetString::new(Any::null().to_der()?)?,
            });
        }
        Ok(extensions)
    }
}

/// The organisation (RFC 5280, appendix A: id-at-organizationName), if any, and the common
/// name.
fn whole_name(organisation: Option<&str>, name: &str) -> Name {
    let mut sequence = RdnSequence::default();
    let of_organisation = ObjectIdentifier::new_unwrap("2.5.4.10");
    let organisation = organisation.map(|text| (of_organisation, text));
    for (oid, text) in organisation.into_iter().chain([(oid::COMMON_NAME, name)]) {
        let value = Any::from(Utf8StringRef::new(text).unwrap());
        let attribute = AttributeTypeAndValue { oid, value };
        sequence.push(RelativeDistinguishedName::try_from(vec![attribute]).unwrap());
    }
    Name::hazmat_from_rdn_sequence(sequence)
}

/// A purpose of a key (RFC 5280, 4.2.1.12) by its object identifier.
pub fn purpose(oid: &str) -> ObjectIdentifier {
    ObjectIdentifier::new_unwrap(oid)
}
