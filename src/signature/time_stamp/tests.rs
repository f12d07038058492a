//! Tokens that are right but for one thing, and forms of token that are right too.

use der::asn1::SetOfVec;
use x509_cert::attr::Attribute;

use super::test_authority::{Changes, Stamping, attribute};
use super::*;
use crate::signature::cms_types::IssuerAndSerialNumber;
use crate::signature::test_parties::{Party, Plan, now};

/// What is made different.
type Change<'a, T> = &'a dyn Fn(&mut T);
type AttributeChange = Box<dyn Fn(&mut Vec<Attribute>)>;

const VALUE: &[u8] = b"the value of a signature";

fn quay() -> Party {
    Plan::stamping("Quayside").make(5, None)
}

fn read_with(changes: &Changes<'_>) -> Result<Stamp, StampError> {
    let quay = quay();
    read(
        &Stamping::good(&quay, VALUE, now()).token_with(changes),
        VALUE,
    )
}

fn error(changes: &Changes<'_>) -> Option<StampError> {
    read_with(changes).err()
}

/// The same signer with another thing said of it outside of what is signed.
fn signer(change: impl Fn(&mut SignerInfo)) -> impl Fn(&mut SignedData) {
    move |signed| {
        let mut signer = signed.signer_infos.as_slice()[0].clone();
        change(&mut signer);
        signed.signer_infos = SetOfVec::try_from(vec![signer]).unwrap();
    }
}

#[test]
fn what_a_token_does_not_sign_has_one_form() {
    assert_eq!(error(&Changes::NONE), None);
    let data = oid::DATA;
    let versioned = signer(|signer| signer.version = CmsVersion::V3);
    let other_digest = signer(|signer| signer.digest_alg.oid = oid::SHA_512);
    let changes: [(&str, Change<'_, SignedData>); 6] = [
        ("kind of content", &|signed| {
            signed.encap_content_info.econtent_type = data;
        }),
        ("no content", &|signed| {
            signed.encap_content_info.econtent = None
        }),
        ("version of the signer", &versioned),
        ("digest that is not named", &other_digest),
        ("no digest is named", &|signed| {
            signed.digest_algorithms = SetOfVec::new()
        }),
        ("no signer", &|signed| signed.signer_infos = SetOfVec::new()),
    ];
    for (name, signed) in changes {
        let found = error(&Changes {
            signed,
            ..Changes::NONE
        });
        assert_eq!(found, Some(StampError::NotReadable), "{name}");
    }
    let outer: &dyn Fn(&mut ContentInfo) = &|outer| outer.content_type = oid::DATA;
    let found = error(&Changes {
        outer,
        ..Changes::NONE
    });
    assert_eq!(found, Some(StampError::NotReadable), "outermost kind");
    let found = read(b"nonsense", VALUE).err();
    assert_eq!(found, Some(StampError::NotReadable), "nonsense");
}

#[test]
fn what_is_stamped_says_when_and_over_what() {
    let changes: [(&str, Change<'_, TstInfo>, StampError); 4] = [
        (
            "a time of another type",
            &|info| info.gen_time = Any::new(Tag::Utf8String, info.gen_time.value()).unwrap(),
            StampError::NotReadable,
        ),
        (
            "a time without its zone",
            &|info| info.gen_time = Any::new(Tag::GeneralizedTime, &b"20260305070000"[..]).unwrap(),
            StampError::NotReadable,
        ),
        (
            "a digest that is not known",
            &|info| info.message_imprint.hash_algorithm.oid = oid::DATA,
            StampError::UnknownKind,
        ),
        (
            "another version",
            &|info| info.version = 0,
            StampError::OtherContent,
        ),
    ];
    for (name, info, expected) in changes {
        let found = error(&Changes {
            info,
            ..Changes::NONE
        });
        assert_eq!(found, Some(expected), "{name}");
    }
    let info: Change<'_, TstInfo> =
        &|info| info.gen_time = Any::new(Tag::GeneralizedTime, &b"20260305070000.25Z"[..]).unwrap();
    let stamp = read_with(&Changes {
        info,
        ..Changes::NONE
    })
    .unwrap();
    assert_eq!(stamp.time, now() + TimeDelta::milliseconds(250));
}

/// What names the signer's certificate, by `list`, in place of what the token has.
fn naming(oid: ObjectIdentifier, list: Any) -> impl Fn(&mut Vec<Attribute>) {
    move |attributes| {
        attributes.retain(|one| one.oid != oid::SIGNING_CERTIFICATE_V2);
        attributes.push(attribute(oid, list.clone()));
    }
}

#[test]
fn the_first_certificate_that_the_attributes_name_is_the_signers() {
    let own = quay().certificate;
    let other = Plan::stamping("Quayside").make(8, None).certificate;
    let v2 = |algorithm: Option<ObjectIdentifier>, ones: &[&ShopCertificate]| {
        let ids = ones.iter().map(|one| EssCertIdV2 {
            hash_algorithm: algorithm.map(|oid| AlgorithmIdentifierOwned {
                oid,
                parameters: None,
            }),
            cert_hash: {
                let oid = algorithm.unwrap_or(oid::SHA_256);
                OctetString::new(digest(oid, one.der()).unwrap()).unwrap()
            },
            issuer_serial: None,
        });
        let list = SigningCertificates {
            certs: ids.collect(),
            policies: None,
        };
        naming(
            oid::SIGNING_CERTIFICATE_V2,
            Any::encode_from(&list).unwrap(),
        )
    };
    // RFC 2634, 5.4: the older form, by SHA-1, which authorities still use.
    let v1 = |ones: &[&ShopCertificate]| {
        let ids = ones.iter().map(|one| EssCertId {
            cert_hash: OctetString::new(Sha1::digest(one.der()).to_vec()).unwrap(),
            issuer_serial: None,
        });
        let list = SigningCertificates {
            certs: ids.collect(),
            policies: None,
        };
        naming(oid::SIGNING_CERTIFICATE, Any::encode_from(&list).unwrap())
    };
    let missing: AttributeChange = Box::new(|attributes| {
        attributes.retain(|one| one.oid != oid::SIGNING_CERTIFICATE_V2);
    });
    let no = Some(StampError::NoCertificate);
    let tests: [(&str, AttributeChange, Option<StampError>); 10] = [
        ("own", Box::new(v2(None, &[&own])), None),
        ("own first", Box::new(v2(None, &[&own, &other])), None),
        (
            "by SHA-512",
            Box::new(v2(Some(oid::SHA_512), &[&own])),
            None,
        ),
        (
            "another first",
            Box::new(v2(None, &[&other, &own])),
            no.clone(),
        ),
        ("none", Box::new(v2(None, &[])), no.clone()),
        ("older: own", Box::new(v1(&[&own, &other])), None),
        ("older: another", Box::new(v1(&[&other])), no.clone()),
        (
            "older: another first",
            Box::new(v1(&[&other, &own])),
            no.clone(),
        ),
        ("older: none", Box::new(v1(&[])), no.clone()),
        ("not said", missing, no),
    ];
    for (name, attributes, expected) in &tests {
        let attributes = attributes.as_ref();
        let found = error(&Changes {
            attributes,
            ..Changes::NONE
        });
        assert_eq!(found, *expected, "{name}");
    }
}

#[test]
fn a_list_of_certificates_that_cannot_be_read_names_none() {
    for oid in [oid::SIGNING_CERTIFICATE_V2, oid::SIGNING_CERTIFICATE] {
        let attributes: AttributeChange = Box::new(naming(oid, Any::null()));
        let found = error(&Changes {
            attributes: attributes.as_ref(),
            ..Changes::NONE
        });
        assert_eq!(found, Some(StampError::NotReadable), "{oid}");
    }
}

#[test]
fn a_signed_attribute_is_there_once_and_with_one_value() {
    for wanted in [oid::CONTENT_TYPE, oid::MESSAGE_DIGEST] {
        let gone: Change<'_, Vec<Attribute>> = &|all| all.retain(|one| one.oid != wanted);
        let two_values: Change<'_, Vec<Attribute>> = &|all| {
            let one = all.iter_mut().find(|one| one.oid == wanted).unwrap();
            one.values.insert(Any::null()).unwrap();
        };
        let twice: Change<'_, Vec<Attribute>> = &|all| all.push(attribute(wanted, Any::null()));
        for (name, attributes) in [("gone", gone), ("two", two_values), ("twice", twice)] {
            let found = error(&Changes {
                attributes,
                ..Changes::NONE
            });
            assert_eq!(found, Some(StampError::NotReadable), "{name} {wanted}");
        }
    }
    let other_kind: Change<'_, Vec<Attribute>> = &|all| {
        all.retain(|one| one.oid != oid::CONTENT_TYPE);
        all.push(attribute(
            oid::CONTENT_TYPE,
            Any::encode_from(&oid::DATA).unwrap(),
        ));
    };
    let found = error(&Changes {
        attributes: other_kind,
        ..Changes::NONE
    });
    assert_eq!(found, Some(StampError::NotReadable));
}

/// Of several certificates that of the signer is found by issuer and number both.
#[test]
fn the_signers_certificate_is_told_from_its_neighbours() {
    let quay = quay();
    let root = Plan::authority("Root").make(3, None);
    // The same issuer and another number; another issuer and the same number.
    let renewed = Plan::stamping("Quayside").make(8, None);
    let foreign = Plan::stamping("Elsewhere").make(5, Some(&root));
    for other in [&renewed, &foreign] {
        let mut stamping = Stamping::good(&quay, VALUE, now());
        stamping.with = vec![&other.certificate, &quay.certificate];
        let stamp = read(&stamping.token(), VALUE).unwrap();
        assert_eq!(stamp.certificate, quay.certificate);
        assert_eq!(stamp.others.len(), 1);
        assert_eq!(stamp.others[0], other.certificate);
    }
    let mut alone = Stamping::good(&quay, VALUE, now());
    for other in [&renewed, &foreign] {
        alone.with = vec![&other.certificate];
        let found = read(&alone.token(), VALUE).err();
        assert_eq!(found, Some(StampError::NoCertificate));
    }
    // By a key identifier that no certificate has.
    let by_key = signer(|signer| {
        let id = SubjectKeyIdentifier(OctetString::new(&b"key"[..]).unwrap());
        signer.sid = SignerIdentifier::SubjectKeyIdentifier(id);
        signer.version = CmsVersion::V3;
    });
    let found = error(&Changes {
        signed: &by_key,
        ..Changes::NONE
    });
    assert_eq!(found, Some(StampError::NoCertificate));
    // By the key identifier of a shop, whose certificate is found and is not for this.
    let (from, until) = (now(), now() + TimeDelta::days(1));
    let shop = ShopCertificate::self_issued("Bench", &quay.key, [1; 16], from, until).unwrap();
    let tbs = shop.certificate().tbs_certificate();
    let own = tbs
        .get_extension::<SubjectKeyIdentifier>()
        .unwrap()
        .unwrap()
        .1;
    let other = SubjectKeyIdentifier(OctetString::new(&b"key"[..]).unwrap());
    for (id, expected) in [
        (own, StampError::NotForStamping),
        (other, StampError::NoCertificate),
    ] {
        let by_key = signer(|signer| {
            signer.sid = SignerIdentifier::SubjectKeyIdentifier(id.clone());
            signer.version = CmsVersion::V3;
        });
        let mut stamping = Stamping::good(&quay, VALUE, now());
        stamping.with = vec![&shop];
        stamping.names = &shop;
        let changes = Changes {
            signed: &by_key,
            ..Changes::NONE
        };
        let found = read(&stamping.token_with(&changes), VALUE).err();
        assert_eq!(found, Some(expected));
    }
    // By issuer and number of somebody else.
    let by_other = signer(|signer| {
        signer.sid = SignerIdentifier::IssuerAndSerialNumber(IssuerAndSerialNumber {
            issuer: root
                .certificate
                .certificate()
                .tbs_certificate()
                .issuer()
                .clone(),
            serial_number: SerialNumber::new(&[3]).unwrap(),
        });
    });
    let found = error(&Changes {
        signed: &by_other,
        ..Changes::NONE
    });
    assert_eq!(found, Some(StampError::NoCertificate));
}

#[test]
fn a_key_that_is_not_known_is_told_from_a_signature_that_is_wrong() {
    let other_algorithm = signer(|signer| signer.signature_algorithm.oid = oid::RSA_SHA_256);
    let found = error(&Changes {
        signed: &other_algorithm,
        ..Changes::NONE
    });
    assert_eq!(found, Some(StampError::UnknownKind));
    let other_value = signer(|signer| signer.signature = OctetString::new(&[0x30, 0][..]).unwrap());
    let found = error(&Changes {
        signed: &other_value,
        ..Changes::NONE
    });
    assert_eq!(found, Some(StampError::BadSignature));
    // A digest that nobody knows, named where it has to be.
    let found = error(&Changes {
        signed: &|signed| {
            signer(|signer| signer.digest_alg.oid = oid::DATA)(signed);
            let named = signed.signer_infos.as_slice()[0].digest_alg.clone();
            signed.digest_algorithms = SetOfVec::try_from(vec![named]).unwrap();
        },
        ..Changes::NONE
    });
    assert_eq!(found, Some(StampError::UnknownKind));
    let found = error(&Changes {
        signed: &signer(|signer| signer.signed_attrs = None),
        ..Changes::NONE
    });
    assert_eq!(found, Some(StampError::NotReadable), "nothing is signed");
}
