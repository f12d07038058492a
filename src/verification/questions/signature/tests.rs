//! A case for every branch of the questions about the signature.
//!
//! | question | branches |
//! | --- | --- |
//! | `intact` | no signature; no signature and cut; misplaced; not good; the PDF shows another; whole |
//! | `signer` | fit; usage; purpose; expired; not yet valid; no moment |
//! | `expected_signer` | no signature; nobody known; known; issued under a known one; stranger; each way in which a path of certificates fails |
//! | `time` | no token; attested; authority not named; too far apart; signer not valid then; each way in which a token is wrong; no moment |

use chrono::{DateTime, FixedOffset, TimeDelta};
use x509_cert::ext::pkix::KeyUsages;

use super::*;
use crate::signature::test_authority::Stamping;
use crate::signature::test_parties::{Party, Plan, now};
use crate::signature::{CmsError, Field};

fn at(days: i64) -> Option<DateTime<FixedOffset>> {
    Some((now() + TimeDelta::days(days)).fixed_offset())
}

/// A good signature by `party`, as it is found in a document.
fn signed(party: &Party, others: &[&Party]) -> Signed {
    Signed {
        certificate: party.certificate.clone(),
        others: others.iter().map(|one| one.certificate.clone()).collect(),
        signature: b"the value of the signature".to_vec(),
        token: None,
    }
}

fn says(found: &Finding, words: &str) {
    assert!(found.because.join("; ").contains(words), "{found:?}");
}

fn field() -> Field {
    Field {
        byte_range: [0, 1, 2, 3],
        gap: 1..2,
        cms: Vec::new(),
        fill: 0,
        digest: crate::files::Digest::of(b""),
    }
}

#[test]
fn intact_is_answered_from_the_bytes_first_and_the_document_then() {
    let shop = Plan::signer("Bench").make(1, None);
    let good = || SignedBytes::Good(field(), Box::new(signed(&shop, &[])));
    let none = || SignedBytes::NoField(FieldError::None);
    let misplaced = || SignedBytes::NoField(FieldError::NotWhole);
    let malformed = || SignedBytes::NoField(FieldError::Malformed);
    let not_good = || SignedBytes::NotGood(field(), CmsError::OtherContent);
    for (signature, document, answer, why) in [
        (good(), Ok(()), Answer::Yes, "every byte"),
        (good(), Err(OpenError::Revisions), Answer::No, "revisions"),
        (none(), Ok(()), Answer::CannotTell, "not signed"),
        (
            none(),
            Err(OpenError::OtherSignature),
            Answer::CannotTell,
            "not signed",
        ),
        (none(), Err(OpenError::Cut), Answer::No, "cut short"),
    ] {
        let found = intact(&signature, || document.clone());
        assert_eq!(found.answer, answer, "{document:?}: {found:?}");
        says(&found, why);
    }
    for signature in [misplaced(), malformed(), not_good()] {
        let found = intact(&signature, || panic!("the document is not to be opened"));
        assert_eq!(found.answer, Answer::No);
    }
}

#[test]
fn signer_is_fit_only_with_the_right_usage_and_within_its_validity() {
    use KeyUsages::{DigitalSignature, KeyEncipherment, NonRepudiation};
    let mail = crate::signature::test_parties::purpose("1.3.6.1.5.5.7.3.4");
    let server = crate::signature::test_parties::purpose("1.3.6.1.5.5.7.3.1");
    let plan = || Plan::signer("Bench").days(-10, 10);
    for (plan, moment, answer, why) in [
        (plan(), at(0), Answer::Yes, "key of “Bench”"),
        (plan(), at(-10), Answer::Yes, "Bench"),
        (plan(), at(10), Answer::Yes, "Bench"),
        (plan(), at(-11), Answer::No, "is valid from"),
        (plan(), at(11), Answer::No, "is valid from"),
        (plan(), None, Answer::CannotTell, "does not say when"),
        (plan().usage(None), at(0), Answer::Yes, "Bench"),
        (
            plan().usage(Some(DigitalSignature)),
            at(0),
            Answer::Yes,
            "Bench",
        ),
        (
            plan().usage(Some(NonRepudiation)),
            at(0),
            Answer::Yes,
            "Bench",
        ),
        (
            plan().usage(Some(KeyEncipherment)),
            at(0),
            Answer::No,
            "not meant for signing",
        ),
        (plan().purposes(false, &[mail]), at(0), Answer::Yes, "Bench"),
        (
            plan().purposes(false, &[server, mail]),
            at(0),
            Answer::Yes,
            "Bench",
        ),
        (
            plan().purposes(false, &[server]),
            at(0),
            Answer::No,
            "not meant for signing",
        ),
    ] {
        let found = signer(&signed(&plan.make(1, None), &[]), moment);
        assert_eq!(found.answer, answer, "{moment:?}: {found:?}");
        says(&found, why);
    }
    let authority = Plan::authority("Guild").make(2, None);
    let issued = Plan::signer("Bench").make(1, Some(&authority));
    says(
        &signer(&signed(&issued, &[]), at(0)),
        "was issued by “Guild”",
    );
    let own = Plan::signer("Bench").make(1, None);
    says(
        &signer(&signed(&own, &[]), at(0)),
        "was issued by its own holder",
    );
}

#[test]
fn expected_signer_is_one_that_was_given_or_was_issued_under_one() {
    let guild = Plan::authority("Guild").make(2, None);
    let shop = Plan::signer("Bench").make(1, Some(&guild));
    let stranger = Plan::signer("Bench").make(3, None);
    let trusting = |parties: &[&Party]| -> Vec<ShopCertificate> {
        parties.iter().map(|one| one.certificate.clone()).collect()
    };
    let found = signed(&shop, &[]);
    for (signed, trusted, answer, why) in [
        (
            None,
            trusting(&[&shop]),
            Answer::CannotTell,
            "no sound signature",
        ),
        (Some(&found), vec![], Answer::CannotTell, "no certificate"),
        (Some(&found), trusting(&[&shop]), Answer::Yes, "the one you"),
        (
            Some(&found),
            trusting(&[&stranger, &guild]),
            Answer::Yes,
            "issued under that of “Guild”",
        ),
        (
            Some(&found),
            trusting(&[&stranger]),
            Answer::No,
            "did not name with --trust",
        ),
    ] {
        let answered = expected_signer(signed, at(0), &trusted);
        assert_eq!(answered.answer, answer, "{answered:?}");
        says(&answered, why);
    }
}

/// Each way in which a path of certificates leads nowhere (RFC 5280, 6.1).
#[test]
fn a_path_to_a_known_authority_must_hold_at_every_step() {
    let known = |root: &Party, middle: Option<&Party>, plan: Plan, moment| {
        let shop = plan.make(1, middle.or(Some(root)));
        let others: Vec<&Party> = middle.into_iter().collect();
        let trusted = [root.certificate.clone()];
        expected_signer(Some(&signed(&shop, &others)), moment, &trusted).answer
    };
    let root = Plan::authority("Guild").make(2, None);
    let bench = || Plan::signer("Bench");
    let office = || Plan::authority("Office");
    assert_eq!(known(&root, None, bench(), at(0)), Answer::Yes);
    let middle = office().make(3, Some(&root));
    assert_eq!(known(&root, Some(&middle), bench(), at(0)), Answer::Yes);

    // The signer's own certificate.
    assert_eq!(known(&root, None, bench().days(1, 9), at(0)), Answer::No);
    assert_eq!(known(&root, None, bench(), None), Answer::No);
    assert_eq!(
        known(&root, None, bench().demands_more(), at(0)),
        Answer::No
    );

    // The authority between.
    for plan in [
        office().days(1, 9),
        office().demands_more(),
        office().usage(Some(KeyUsages::DigitalSignature)),
        Plan::signer("Office").usage(Some(KeyUsages::KeyCertSign)),
    ] {
        let middle = plan.make(3, Some(&root));
        assert_eq!(known(&root, Some(&middle), bench(), at(0)), Answer::No);
    }
    let silent = office().usage(None).make(3, Some(&root));
    assert_eq!(known(&root, Some(&silent), bench(), at(0)), Answer::Yes);

    // The authority that is known.
    for plan in [
        Plan::authority("Guild").days(1, 9),
        Plan::authority("Guild").demands_more(),
        Plan::signer("Guild"),
    ] {
        let root = plan.make(2, None);
        assert_eq!(known(&root, None, bench(), at(0)), Answer::No);
    }
    // None may stand between where the path length is 0; one may where it is 1.
    for (most, answer) in [(0, Answer::No), (1, Answer::Yes)] {
        let root = Plan::authority("Guild").path_length(most).make(2, None);
        let middle = office().make(3, Some(&root));
        assert_eq!(known(&root, Some(&middle), bench(), at(0)), answer);
        assert_eq!(known(&root, None, bench(), at(0)), Answer::Yes);
    }

    // The name of the authority with another key, and its key with another name.
    let impostor = Plan::authority("Guild").make(4, None);
    let forged = bench().make(1, Some(&impostor));
    let renamed = Plan::authority("Other").make(2, None);
    for (shop, trusted) in [(&forged, &root), (&bench().make(1, Some(&root)), &renamed)] {
        let trusted = [trusted.certificate.clone()];
        let found = expected_signer(Some(&signed(shop, &[])), at(0), &trusted);
        assert_eq!(found.answer, Answer::No);
    }
}

/// The question about the time, of a document signed at [`now`] with `token`.
fn time_of(shop: &Party, token: Vec<u8>, trusted: &[&Party]) -> Finding {
    let signed = Signed {
        token: Some(token),
        ..signed(shop, &[])
    };
    let trusted: Vec<ShopCertificate> = trusted.iter().map(|one| one.certificate.clone()).collect();
    time(&signed, at(0), &trusted)
}

const VALUE: &[u8] = b"the value of the signature";

#[test]
fn time_is_attested_by_a_named_authority_within_ten_minutes() {
    let shop = Plan::signer("Bench").make(1, None);
    let unstamped = time(&signed(&shop, &[]), at(0), &[]);
    assert_eq!(unstamped.answer, Answer::NotAsked);
    says(&unstamped, "nobody else attests the time");

    let quay = Plan::stamping("Quayside").make(5, None);
    for (seconds, answer) in [
        (0, Answer::Yes),
        (600, Answer::Yes),
        (-600, Answer::Yes),
        (601, Answer::No),
        (-601, Answer::No),
    ] {
        let token = Stamping::good(&quay, VALUE, now() + TimeDelta::seconds(seconds)).token();
        let found = time_of(&shop, token, &[&quay]);
        assert_eq!(found.answer, answer, "{seconds} s: {found:?}");
    }
    let token = Stamping::good(&quay, VALUE, now()).token();
    let unknown = time_of(&shop, token.clone(), &[&shop]);
    assert_eq!(unknown.answer, Answer::CannotTell);
    says(&unknown, "did not name that authority");

    let no_moment = Signed {
        token: Some(token.clone()),
        ..signed(&shop, &[])
    };
    let found = time(&no_moment, None, std::slice::from_ref(&quay.certificate));
    assert_eq!(found.answer, Answer::No);
    says(&found, "does not say when");

    let expired = Plan::signer("Bench").days(-10, -1).make(1, None);
    let found = time_of(&expired, token, &[&quay]);
    assert_eq!(found.answer, Answer::No);
    says(&found, "was not valid then");
}

/// An authority is also known by the certificate that it was issued under, which the
/// token brings along or not.
#[test]
fn time_may_be_attested_under_a_known_authority() {
    let root = Plan::authority("Harbour").make(6, None);
    let office = Plan::authority("Office").make(7, Some(&root));
    let quay = Plan::stamping("Quayside").make(5, Some(&office));
    let shop = Plan::signer("Bench").make(1, None);
    let mut stamping = Stamping::good(&quay, VALUE, now());
    let alone = time_of(&shop, stamping.token(), &[&root]);
    assert_eq!(alone.answer, Answer::CannotTell, "the office is missing");
    stamping.with.push(&office.certificate);
    let whole = time_of(&shop, stamping.token(), &[&root]);
    assert_eq!(whole.answer, Answer::Yes, "{whole:?}");
}

#[test]
fn time_is_not_attested_by_a_token_that_is_wrong_in_any_one_way() {
    let shop = Plan::signer("Bench").make(1, None);
    let quay = Plan::stamping("Quayside").make(5, None);
    let other = Plan::stamping("Quayside").make(8, None);
    let stamping_and_mail = [
        crate::signature::test_parties::purpose("1.3.6.1.5.5.7.3.8"),
        crate::signature::test_parties::purpose("1.3.6.1.5.5.7.3.4"),
    ];
    let both = Plan::signer("Quayside")
        .purposes(true, &stamping_and_mail)
        .make(5, None);
    let not_critical = Plan::signer("Quayside")
        .purposes(false, &stamping_and_mail[..1])
        .make(5, None);
    let no_purpose = Plan::signer("Quayside").make(5, None);
    let expired = Plan::stamping("Quayside").days(-9, -1).make(5, None);
    let good = || Stamping::good(&quay, VALUE, now());
    let by = |party| Stamping::good(party, VALUE, now());
    let over_other = Stamping::good(&quay, b"another signature", now());
    for (name, stamping, why) in [
        ("another signature", over_other, "made over something else"),
        (
            "version",
            Stamping {
                version: 2,
                ..good()
            },
            "made over something else",
        ),
        (
            "outer version",
            Stamping {
                outer_version: 1,
                ..good()
            },
            "cannot be read",
        ),
        (
            "kind of content",
            Stamping {
                kind: der::asn1::ObjectIdentifier::new_unwrap("1.2.840.113549.1.7.1"),
                ..good()
            },
            "cannot be read",
        ),
        (
            "digest",
            Stamping {
                digested: Some(b"other"),
                ..good()
            },
            "not made with the key",
        ),
        (
            "no certificate",
            Stamping {
                with: vec![&other.certificate],
                ..good()
            },
            "without its authority's certificate",
        ),
        (
            "names another",
            Stamping {
                names: &other.certificate,
                ..good()
            },
            "without its authority's certificate",
        ),
        (
            "another key",
            Stamping {
                key: &other.key,
                ..good()
            },
            "not made with the key",
        ),
        ("two purposes", by(&both), "not meant for time-stamping"),
        (
            "not critical",
            by(&not_critical),
            "not meant for time-stamping",
        ),
        ("no purpose", by(&no_purpose), "not meant for time-stamping"),
        ("expired", by(&expired), "not meant for time-stamping"),
    ] {
        let found = time_of(&shop, stamping.token(), &[&quay]);
        assert_eq!(found.answer, Answer::No, "{name}: {found:?}");
        says(&found, why);
    }
    let garbage = time_of(&shop, b"no token".to_vec(), &[&quay]);
    assert_eq!(garbage.answer, Answer::No);
    let good = time_of(&shop, good().token(), &[&quay]);
    assert_eq!(good.answer, Answer::Yes, "the one they differ from");
}
