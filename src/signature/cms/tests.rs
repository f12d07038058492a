//! Signatures in the one form that is read, and in others.

use super::*;
use crate::signature::test_parties::{Party, Plan};
use x509_cert::ext::pkix::SubjectKeyIdentifier;

fn content() -> Digest {
    Digest::of(b"the signed bytes")
}

/// A signature by `party`, with its parts changed before they are put together.
fn made(
    party: &Party,
    chain: &[&Party],
    token: Option<&[u8]>,
    change: impl FnOnce(Vec<u8>) -> Vec<u8>,
) -> Vec<u8> {
    let identity = party.identity(chain);
    let signature = change(sign(&identity, content()).unwrap());
    let (own, others) = (identity.certificate(), identity.chain());
    assemble(own, others, content(), &signature, token).unwrap()
}

fn same(signature: Vec<u8>) -> Vec<u8> {
    signature
}

#[test]
fn what_is_signed_is_read_with_all_that_came_with_it() {
    let bench = Plan::signer("Bench").make(5, None);
    let root = Plan::authority("Root").make(3, None);
    // Neighbours of the same issuer, and of the same number, before and after the signer
    // in the order of DER, which is by length and then by bytes.
    let renewed = Plan::signer("Bench").make(2, None);
    let later = Plan::signer("Bench").make(9, None);
    let short = Plan::signer("A").make(5, Some(&root));
    let long = Plan::signer("A bench with a long name").make(5, Some(&root));
    let chain = [&renewed, &later, &short, &long];
    let turned = [&long, &short, &later, &renewed];
    for chain in [chain, turned] {
        let signed = read(&made(&bench, &chain, None, same), 0, content()).unwrap();
        assert_eq!(signed.certificate, bench.certificate);
        assert_eq!(signed.token, None);
        for other in chain {
            assert!(signed.others.contains(&other.certificate));
        }
        assert_eq!(signed.others.len(), chain.len());
    }
    // Another of its very number: the first is the signer's, the other comes with it.
    let early = Plan::signer("Bench").days(-20, 300).make(5, None);
    let late = Plan::signer("Bench").days(-1, 400).make(5, None);
    for (other, in_order) in [(&early, false), (&late, true)] {
        let found = read(&made(&bench, &[other], None, same), 0, content());
        if in_order {
            let signed = found.unwrap();
            assert_eq!(signed.certificate, bench.certificate);
            assert_eq!(signed.others, std::slice::from_ref(&other.certificate));
        } else {
            assert_eq!(found.err(), Some(CmsError::OtherForm));
        }
    }
    // None of them can be left out.
    let identity = bench.identity(&chain);
    let signature = sign(&identity, content()).unwrap();
    let fewer = &identity.chain()[1..];
    let fewer = assemble(&bench.certificate, fewer, content(), &signature, None).unwrap();
    assert_eq!(
        read(&fewer, 0, content()).err(),
        Some(CmsError::BadSignature)
    );
}

/// RFC 5652, 5.1 and 5.3: both versions are 1 where the content is plain data, all
/// certificates are X.509 and the signer goes by issuer and number.
#[test]
fn its_versions_are_those_of_plain_data_and_of_a_signer_by_number() {
    let bench = Plan::signer("Bench").make(5, None);
    let outer = ContentInfo::from_der(&made(&bench, &[], None, same)).unwrap();
    let signed: SignedData = outer.content.decode_as().unwrap();
    let [signer] = signed.signer_infos.as_slice() else {
        panic!("one signer");
    };
    assert!(signed.version == CmsVersion::V1 && signer.version == CmsVersion::V1);
}

/// The other signature of the same message: s and n − s both verify (SEC 1, 4.1.4).
fn with_high_s(der: Vec<u8>) -> Vec<u8> {
    let signature = Signature::try_from(DerSignature::from_bytes(&der).unwrap()).unwrap();
    let (r, s) = signature.split_scalars();
    let other = Signature::from_scalars(*r, -*s).unwrap();
    assert_eq!(other.normalize_s(), signature);
    other.to_der().as_bytes().to_vec()
}

#[test]
fn a_signature_has_one_form() {
    let bench = Plan::signer("Bench").make(5, None);
    let other = Plan::signer("Bench").make(2, None).identity(&[]);
    let error = |der: &[u8]| read(der, 0, content()).err();
    assert_eq!(error(&made(&bench, &[], None, same)), None);
    let high = made(&bench, &[], None, with_high_s);
    assert_eq!(error(&high), Some(CmsError::OtherForm));
    let by_another = made(&bench, &[], None, |_| sign(&other, content()).unwrap());
    assert_eq!(error(&by_another), Some(CmsError::BadSignature));
    let nonsense = made(&bench, &[], None, |_| b"nonsense".to_vec());
    assert_eq!(error(&nonsense), Some(CmsError::BadSignature));
    let whole = made(&bench, &[], None, same);
    let found = read(&whole, 0, Digest::of(b"other bytes")).err();
    assert_eq!(found, Some(CmsError::OtherContent));
    assert_eq!(error(b"nonsense"), Some(CmsError::NotReadable));

    let changed = |change: &dyn Fn(&mut ContentInfo, &mut SignedData)| {
        let mut outer = ContentInfo::from_der(&whole).unwrap();
        let mut signed: SignedData = outer.content.decode_as().unwrap();
        change(&mut outer, &mut signed);
        outer.content = Any::encode_from(&signed).unwrap();
        error(&outer.to_der().unwrap())
    };
    assert_eq!(changed(&|_, _| {}), None);
    let form = Some(CmsError::OtherForm);
    let found = changed(&|outer, _| outer.content_type = oid::DATA);
    assert_eq!(found, form, "kind");
    let found = changed(&|_, signed| signed.version = CmsVersion::V3);
    assert_eq!(found, form, "version");
    let found = changed(&|_, signed| signed.signer_infos = SetOfVec::new());
    assert_eq!(found, form, "no signer");
    let found = changed(&|_, signed| signed.certificates = None);
    assert_eq!(found, form, "no certificate");
    let found = changed(&|_, signed| {
        let mut signer = signed.signer_infos.as_slice()[0].clone();
        let key = OctetString::new([7; 20]).unwrap();
        signer.sid = SignerIdentifier::SubjectKeyIdentifier(SubjectKeyIdentifier(key));
        signed.signer_infos = SetOfVec::try_from(vec![signer]).unwrap();
    });
    assert_eq!(found, form, "a signer named by its key");
    let found = changed(&|_, signed| {
        let info = &mut signed.encap_content_info;
        info.econtent_type = oid::TST_INFO;
    });
    assert_eq!(found, form, "kind of content");
    // The digest is right, and another stands beside it: behind it, by the order of DER.
    let found = changed(&|_, signed| {
        let mut signer = signed.signer_infos.as_slice()[0].clone();
        let own = signer.signed_attrs.unwrap().into_vec();
        let twice = own.into_iter().map(|mut one| {
            if one.oid == oid::MESSAGE_DIGEST {
                let longer = OctetString::new([0; 33]).unwrap();
                let longer = Any::encode_from(&longer).unwrap();
                one.values.insert(longer).unwrap();
            }
            one
        });
        let twice: Vec<Attribute> = twice.collect();
        signer.signed_attrs = Some(SetOfVec::try_from(twice).unwrap());
        signed.signer_infos = SetOfVec::try_from(vec![signer]).unwrap();
    });
    assert_eq!(found, form, "two digests");
    let empty = ContentInfo {
        content_type: oid::DATA,
        content: Any::null(),
    };
    assert_eq!(error(&empty.to_der().unwrap()), form, "another kind");
}

#[test]
fn a_time_stamp_is_one_and_leaves_its_room_behind_where_it_is_taken_away() {
    let bench = Plan::signer("Bench").make(5, None);
    let plain = made(&bench, &[], None, same);
    assert!(read(&plain, MOST_FILL, content()).is_ok());
    let found = read(&plain, MOST_FILL + 1, content()).err();
    assert_eq!(found, Some(CmsError::StampMissing));

    let token = Any::null().to_der().unwrap();
    let stamped = made(&bench, &[], Some(&token), same);
    let signed = read(&stamped, MOST_FILL + 1, content()).unwrap();
    assert_eq!(signed.token, Some(token));

    let with_attributes = |attributes: Vec<Attribute>| {
        let mut outer = ContentInfo::from_der(&plain).unwrap();
        let mut signed: SignedData = outer.content.decode_as().unwrap();
        let mut signer = signed.signer_infos.as_slice()[0].clone();
        signer.unsigned_attrs = Some(SetOfVec::try_from(attributes).unwrap());
        signed.signer_infos = SetOfVec::try_from(vec![signer]).unwrap();
        outer.content = Any::encode_from(&signed).unwrap();
        let file = outer.to_der().unwrap();
        // What has another form is not looked at further.
        let of_other_bytes = read(&file, 0, Digest::of(b"other bytes")).err();
        let found = read(&file, 0, content()).err();
        assert_eq!(of_other_bytes, found.or(Some(CmsError::OtherContent)));
        found
    };
    let one = |oid| attribute(oid, Any::null()).unwrap();
    assert_eq!(with_attributes(vec![one(oid::TIME_STAMP_TOKEN)]), None);
    let mut two_values = one(oid::TIME_STAMP_TOKEN);
    let value = Any::encode_from(&oid::DATA).unwrap();
    two_values.values.insert(value).unwrap();
    for (name, attributes) in [
        ("another attribute", vec![one(oid::DATA)]),
        ("two", vec![one(oid::TIME_STAMP_TOKEN), one(oid::DATA)]),
        ("two values", vec![two_values]),
        ("none", Vec::new()),
    ] {
        let found = with_attributes(attributes);
        assert_eq!(found, Some(CmsError::OtherForm), "{name}");
    }
}
