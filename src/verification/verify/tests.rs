//! Whole documents, signed and stamped inside the test: that every question is asked of
//! the right thing, and which receipts are taken as one.

use chrono::{DateTime, FixedOffset, TimeDelta};
use x509_cert::ext::pkix::KeyUsages;

use super::*;
use crate::result::{DOCUMENT_FILE, DocumentFile, DocumentKind};
use crate::signature::test_authority::answer;
use crate::signature::test_parties::{Party, Plan, now};
use crate::signature::{ShopCertificate, sign};
use crate::verification::test_documents::{AFTER_RETEST, Files, PLACE, moment};
use crate::verification::{Order, Typesetter};

fn signed(files: &Files, party: &Party, authority: Option<&Party>) -> Vec<u8> {
    signed_at(now().fixed_offset(), files, party, authority)
}

fn signed_at(
    when: DateTime<FixedOffset>,
    files: &Files,
    party: &Party,
    authority: Option<&Party>,
) -> Vec<u8> {
    let service =
        authority.map(|authority| move |request: &[u8]| Ok(answer(authority, request, now())));
    let service = service
        .as_ref()
        .map(|service| service as &crate::signature::StampService<'_>);
    sign(files.pdf(), PLACE, "x", &party.identity(&[]), when, service).unwrap()
}

fn answers(file: &[u8], trusted: &[&Party], seal: Option<KnownSeal>) -> Vec<(Question, Answer)> {
    let certificate = |party: &&Party| -> ShopCertificate { party.certificate.clone() };
    let expected = Expected {
        trusted: trusted.iter().map(certificate).collect(),
        authorities: trusted.iter().map(certificate).collect(),
        folder: None,
        typesetter: None,
        seal,
        receipt: None,
    };
    let found = verify(file, &expected).findings;
    found
        .iter()
        .map(|finding| (finding.question, finding.answer))
        .collect()
}

#[test]
fn every_question_is_asked_once_and_in_the_order_of_distrust() {
    let shop = Plan::signer("Bench").make(1, None);
    let quay = Plan::stamping("Quayside").make(5, None);
    let before_work = moment("2026-01-20T08:30:00+00:00");
    let receipt = signed_at(before_work, &Files::receipt(), &shop, None);
    let receipt = seal_of_receipt(&receipt).unwrap();
    let document = DocumentFile::new(DocumentKind::Report, now().fixed_offset(), None);
    let files = Files::report().and(DOCUMENT_FILE, document.text().as_bytes());
    let report = signed(&files, &shop, Some(&quay));
    let yes = [
        Question::Intact,
        Question::Signer,
        Question::ExpectedSigner,
        Question::Files,
        Question::Chain,
        Question::Limits,
        Question::Fingerprint,
        Question::Result,
    ];
    let mut expected: Vec<(Question, Answer)> =
        yes.map(|question| (question, Answer::Yes)).to_vec();
    // The library alone has no typesetter.
    expected.push((Question::Pages, Answer::CannotTell));
    expected.push((Question::ListedFiles, Answer::NotAsked));
    expected.push((Question::Time, Answer::Yes));
    assert_eq!(answers(&report, &[&shop, &quay], Some(receipt)), expected);

    let whole = verify(&report, &Expected::default());
    assert_eq!((whole.format, whole.tool.as_str()), (1, TOOL));
    assert_eq!(whole.sha256, Digest::of(&report).to_string());

    let nothing_known = answers(&report, &[], None);
    for (question, answer) in [
        (Question::Intact, Answer::Yes),
        (Question::ExpectedSigner, Answer::CannotTell),
        (Question::Fingerprint, Answer::NotAsked),
        (Question::Time, Answer::CannotTell),
    ] {
        assert!(nothing_known.contains(&(question, answer)), "{question:?}");
    }
}

/// Sets nothing, and says of which signature it was told.
struct Told;

impl Typesetter for Told {
    fn set(&self, order: &Order<'_>) -> Result<Vec<u8>, String> {
        Err(match order.signing {
            Some(signing) if signing.stamped => "with a time-stamp".to_owned(),
            Some(_) => "without a time-stamp".to_owned(),
            None => "without a signature".to_owned(),
        })
    }
}

/// A time-stamp leaves its room in the document, so that pages are set again with it or without.
#[test]
fn the_typesetter_is_told_of_the_signature() {
    let shop = Plan::signer("Bench").make(1, None);
    let quay = Plan::stamping("Quayside").make(5, None);
    let document = DocumentFile::new(DocumentKind::Report, now().fixed_offset(), None);
    let files = Files::report().and(DOCUMENT_FILE, document.text().as_bytes());
    for (file, told) in [
        (signed(&files, &shop, Some(&quay)), "with a time-stamp"),
        (signed(&files, &shop, None), "without a time-stamp"),
        (files.pdf(), "without a signature"),
    ] {
        let expected = Expected {
            typesetter: Some(&Told),
            ..Expected::default()
        };
        let found = verify(&file, &expected).findings;
        let pages = found.iter().find(|one| one.question == Question::Pages);
        let because = pages.unwrap().because.join("; ");
        assert!(because.contains(told), "{told}: {because}");
    }
}

/// What is not signed is asked no question about a signature.
#[test]
fn an_unsigned_document_is_judged_by_what_it_carries() {
    let found = answers(&Files::report().pdf(), &[], None);
    let asked = |question| found.iter().find(|(asked, _)| *asked == question);
    assert_eq!(
        asked(Question::Intact),
        Some(&(Question::Intact, Answer::CannotTell))
    );
    assert_eq!(asked(Question::Signer), None);
    assert_eq!(asked(Question::Time), None);
    assert_eq!(
        asked(Question::Result),
        Some(&(Question::Result, Answer::Yes))
    );
    let empty = Files::default();
    let found = answers(&empty.pdf(), &[], None);
    assert!(found.contains(&(Question::Files, Answer::No)), "{found:?}");
    // Neither a report nor a receipt: nothing more is asked of it.
    let asked = |question| found.iter().any(|(asked, _)| *asked == question);
    assert!(!asked(Question::Limits), "{found:?}");
    let found = answers(b"%PDF-1.7\nno document\n%%EOF", &[], None);
    assert!(found.contains(&(Question::Files, Answer::No)), "{found:?}");
}

#[test]
fn a_signer_who_was_not_fit_to_sign_is_told_from_a_changed_file() {
    for plan in [
        Plan::signer("Bench").days(-10, -1),
        Plan::signer("Bench").days(1, 10),
        Plan::signer("Bench").usage(Some(KeyUsages::KeyAgreement)),
    ] {
        let shop = plan.make(1, None);
        let found = answers(&signed(&Files::report(), &shop, None), &[&shop], None);
        for (question, answer) in [
            (Question::Intact, Answer::Yes),
            (Question::Signer, Answer::No),
            (Question::ExpectedSigner, Answer::Yes),
            (Question::Files, Answer::Yes),
        ] {
            assert!(
                found.contains(&(question, answer)),
                "{question:?}: {found:?}"
            );
        }
    }
}

/// A seal that claims to be of a time after the signature.
#[test]
fn the_moment_of_signing_is_asked_about_the_seals_too() {
    let shop = Plan::signer("Bench").make(1, None);
    let late = (now() + TimeDelta::hours(1)).to_rfc3339();
    let files = Files::unsealed_report()
        .sealed(Stage::Baseline, AFTER_RETEST, |_| {})
        .sealed(Stage::Retest, &late, |_| {});
    let found = answers(&signed(&files, &shop, None), &[&shop], None);
    assert!(found.contains(&(Question::Chain, Answer::No)), "{found:?}");
}

#[test]
fn a_receipt_counts_only_if_it_is_one_and_sound() {
    let shop = Plan::signer("Bench").make(1, None);
    let digest = Files::receipt().chain().links[0].digest;
    for (file, signer) in [
        (signed(&Files::receipt(), &shop, None), Some(&shop)),
        (Files::receipt().pdf(), None),
    ] {
        let signer = signer.map(|party| Box::new(party.certificate.clone()));
        let expected = KnownSeal::Receipt {
            made: signer.as_ref().map(|_| now().fixed_offset()),
            digest,
            job: "E-0412".to_owned(),
            signer,
        };
        assert_eq!(seal_of_receipt(&file), Ok(expected));
    }
    let mut changed = signed(&Files::receipt(), &shop, None);
    let at = changed
        .windows(6)
        .position(|window| window == b"E-0412")
        .unwrap();
    changed[at + 5] = b'3';
    let retest = Files::report().0["2-retest.sha256"].clone();
    let before = "1-baseline.sha256";
    for (name, file, why) in [
        (
            "a report",
            signed(&Files::report(), &shop, None),
            "it is a report, not a receipt",
        ),
        ("a broken signature", changed, "over other bytes"),
        (
            "no seal",
            Files::unsealed_receipt().pdf(),
            "it carries no seal",
        ),
        (
            "the seal of a retest only",
            Files::unsealed_receipt()
                .and("1-retest.sha256", &retest)
                .pdf(),
            "does not match the seal before it",
        ),
        (
            "a seal that is none",
            Files::unsealed_receipt().and(before, b"nonsense").pdf(),
            "is not a seal",
        ),
        (
            "other files than were sealed",
            Files::receipt()
                .with("limits.toml", "max = 5.0", "max = 9.0")
                .pdf(),
            "limits.toml is not the file that was sealed",
        ),
        ("no PDF", b"%PDF-1.7 %%EOF".to_vec(), "not a PDF"),
    ] {
        let error = seal_of_receipt(&file).unwrap_err();
        assert!(error.contains(why), "{name}: {error}");
    }
}
