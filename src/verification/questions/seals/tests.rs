//! A case for every branch of the questions about the seals.
//!
//! | question | branches |
//! | --- | --- |
//! | `files` | unsealed, with and without a misfit; a file missing, foreign, changed, unlisted, never sealed; a receipt without its photos; a report whose retest is not sealed; sound |
//! | `chain` | no seal; an error; later than the signature; sound, amended, by a clock set by hand |
//! | `limits` | no seal; as first sealed, in time and late; changed, with a reason and without; missing |
//! | `fingerprint` | no seal; nothing given, with a report and with a receipt; an unsound receipt; no fingerprint; the same by text and by receipt, signed by the same, by another, by nobody; an older seal; another job; another |

use super::*;
use crate::result::{DOCUMENT_FILE, DocumentFile, DocumentKind, FormFile};
use crate::signature::test_parties::Plan;
use crate::verification::test_documents::{AFTER_RETEST, AFTER_START, BEFORE_WORK, Files, moment};

fn says(found: &Finding, words: &str) {
    assert!(
        found.because.join("; ").contains(words),
        "{words}: {found:?}"
    );
}

/// A report that says it was set with the shop's own colours, and carries `bytes` as those.
fn with_own_form(bytes: &[u8]) -> Files {
    let issued = moment(AFTER_RETEST);
    let mut document = DocumentFile::new(DocumentKind::Report, issued, None);
    document.own_form.push(FormFile {
        file: "form-theme.typ".to_owned(),
        sha256: Digest::of(b"own colours").to_string(),
    });
    Files::report()
        .and(DOCUMENT_FILE, document.text().as_bytes())
        .and("form-theme.typ", bytes)
}

#[test]
fn files_are_those_that_were_sealed() {
    let seal = "1-baseline.sha256";
    let unlisted = |files: Files| files.with("result.json", "photos/old-line.jpg", "photos/o.jpg");
    for (name, files, answer, why) in [
        ("a report", Files::report(), Answer::Yes, "8 files are as"),
        ("a receipt", Files::receipt(), Answer::Yes, "3 files are "),
        (
            "no seal",
            Files::unsealed_report(),
            Answer::CannotTell,
            "no seal to compare",
        ),
        (
            "no seal, and a file too many",
            Files::unsealed_report().and("notes.txt", b""),
            Answer::No,
            "notes.txt should not be attached",
        ),
        (
            "no seal, and a file too few",
            Files::unsealed_receipt().without("shop.toml"),
            Answer::No,
            "shop.toml is missing",
        ),
        (
            "a file that does not belong",
            Files::receipt().and("notes.txt", b""),
            Answer::No,
            "notes.txt should not be attached",
        ),
        (
            "a seal's name without a seal in it",
            Files::report().and("3-retest.sha256", b"nonsense"),
            Answer::No,
            "3-retest.sha256 should not be attached",
        ),
        (
            "the shop's own form",
            with_own_form(b"own colours"),
            Answer::Yes,
            "8 files are as",
        ),
        (
            "another form than it says",
            with_own_form(b"other colours"),
            Answer::No,
            "form-theme.typ should not be attached",
        ),
        (
            "without the shop",
            Files::report().without("shop.toml"),
            Answer::No,
            "shop.toml is missing",
        ),
        (
            "another baseline",
            Files::report().with("baseline.toml", "06:35", "06:36"),
            Answer::No,
            "baseline.toml is not the file that was sealed (baseline)",
        ),
        (
            "another retest",
            Files::report().with("retest.toml", "06:40", "06:41"),
            Answer::No,
            "retest.toml is not the file that was sealed (retest)",
        ),
        (
            "a sealed text that is gone, in a report, whose result lists it",
            Files::report().without("limits.toml"),
            Answer::No,
            "limits.toml is missing",
        ),
        (
            "a sealed text that is gone, in a receipt",
            Files::receipt().without("limits.toml"),
            Answer::No,
            "limits.toml was sealed (baseline) and is missing",
        ),
        (
            "a photo that the result does not list",
            unlisted(Files::report()),
            Answer::No,
            "photos/old-line.jpg was sealed (retest) and is missing",
        ),
        (
            "a photo that was sealed otherwise",
            Files::unsealed_report()
                .sealed(Stage::Baseline, BEFORE_WORK, |seal| {
                    let photo = "photos/filter-before.jpg".to_owned();
                    seal.files.insert(photo, Digest::of(b"another"));
                })
                .sealed(Stage::Retest, AFTER_RETEST, |_| {}),
            Answer::No,
            "photos/filter-before.jpg is not the file that was sealed (baseline)",
        ),
        (
            "a photo that the job names and no seal has",
            Files::unsealed_report()
                .sealed(Stage::Baseline, BEFORE_WORK, |_| {})
                .sealed(Stage::Retest, AFTER_RETEST, |seal| {
                    seal.files.remove("photos/filter-after.jpg");
                }),
            Answer::No,
            "photos/filter-after.jpg was not sealed (retest)",
        ),
        (
            "a retest that was not sealed",
            Files::unsealed_report().sealed(Stage::Baseline, BEFORE_WORK, |_| {}),
            Answer::CannotTell,
            "the retest was not sealed",
        ),
        (
            "a receipt that carries the seal of a retest too",
            Files::receipt().and("2-retest.sha256", &Files::report().0["2-retest.sha256"]),
            Answer::Yes,
            "a receipt must carry",
        ),
    ] {
        let found = super::files(&files.job());
        assert_eq!(found.answer, answer, "{name}: {found:?}");
        says(&found, why);
    }
    // The attached bytes count, whatever the result lists of them.
    let lied = Files::report().with("limits.toml", "max = 5.0", "max = 9.0");
    let sealed = Digest::of(&Files::report().0["limits.toml"]).to_string();
    assert!(String::from_utf8_lossy(&lied.0["result.json"]).contains(&sealed));
    assert_eq!(super::files(&lied.job()).answer, Answer::No);
    // Only the seals that hold count: an amended baseline is held against its last.
    let amended = Files::unsealed_report()
        .sealed(Stage::Baseline, BEFORE_WORK, |seal| {
            seal.files
                .insert("job.toml".to_owned(), Digest::of(b"before"));
        })
        .sealed(Stage::Baseline, AFTER_START, |seal| {
            seal.amends = Some("The serial number was wrong".to_owned());
        })
        .sealed(Stage::Retest, AFTER_RETEST, |_| {});
    assert_eq!(super::files(&amended.job()).answer, Answer::Yes);
    assert!(amended.0.contains_key(seal));
}

#[test]
fn chain_is_sound_and_not_later_than_the_signature() {
    let signed = Some(moment("2026-01-22T09:00:00+00:00"));
    let found = chain(&Files::report().job(), signed);
    assert_eq!(found.answer, Answer::Yes, "{found:?}");
    says(&found, "retest, sealed 2026-01-22 08:35:00 +00:00");
    assert!(!found.because.join(" ").contains("by hand"), "{found:?}");

    let none = chain(&Files::unsealed_report().job(), signed);
    assert_eq!(none.answer, Answer::CannotTell);

    let sealed = moment(AFTER_RETEST);
    let second = chrono::TimeDelta::seconds(1);
    for (moment, answer) in [
        (Some(sealed), Answer::Yes),
        (Some(sealed - second), Answer::No),
        (None, Answer::Yes),
    ] {
        let found = chain(&Files::report().job(), moment);
        assert_eq!(found.answer, answer, "{moment:?}: {found:?}");
    }

    let swapped = Files::unsealed_report()
        .sealed(Stage::Baseline, BEFORE_WORK, |_| {})
        .sealed(Stage::Retest, AFTER_RETEST, |seal| seal.previous = None);
    let found = chain(&swapped.job(), signed);
    assert_eq!(found.answer, Answer::No);
    says(&found, "does not match the seal before it");
    // One seal that cannot be read is enough.
    let unread = Files::unsealed_receipt().and("1-baseline.sha256", b"nonsense");
    assert_eq!(chain(&unread.job(), signed).answer, Answer::No);

    let by_hand = Files::unsealed_receipt()
        .sealed(Stage::Baseline, BEFORE_WORK, |seal| seal.clock = Clock::Set)
        .with("job.toml", "tower", "mast")
        .sealed(Stage::Baseline, AFTER_START, |seal| {
            seal.amends = Some("The details were wrong".to_owned());
        });
    let found = chain(&by_hand.job(), signed);
    assert_eq!(found.answer, Answer::Yes, "{found:?}");
    says(&found, "(time set by hand)");
    says(&found, "replacing an earlier one: The details were wrong");
}

/// The sample's baseline was measured until 08:10, its work began at 09:00 on 20 January, and
/// its retest was measured on 22 January.
#[test]
fn times_are_asked_for_again_what_sealing_asks() {
    let signed = Some(moment("2026-02-22T09:00:00+00:00"));
    let amended = |file: &str, at: &str| {
        Files::report()
            .with(file, "by = \"", "by = \"M. ")
            .judged()
            .sealed(
                if file == "retest.toml" {
                    Stage::Retest
                } else {
                    Stage::Baseline
                },
                at,
                |seal| seal.amends = Some("A typing error".to_owned()),
            )
    };
    let late = "2026-01-22T09:10:00+00:00";
    for (name, files, at, answer, why) in [
        (
            "sound",
            Files::report(),
            signed,
            Answer::Yes,
            "retest, sealed",
        ),
        (
            "a baseline sealed before it was measured",
            Files::unsealed_receipt().sealed(Stage::Baseline, "2026-01-20T01:00:00+00:00", |_| {}),
            signed,
            Answer::No,
            "before the baseline was measured",
        ),
        (
            "a retest sealed before it was measured",
            Files::unsealed_report()
                .sealed(Stage::Baseline, BEFORE_WORK, |_| {})
                .sealed(Stage::Retest, "2026-01-21T08:00:00+00:00", |_| {}),
            signed,
            Answer::No,
            "before the retest was measured",
        ),
        (
            "signed before the retest",
            Files::unsealed_report().sealed(Stage::Baseline, BEFORE_WORK, |_| {}),
            Some(moment("2026-01-21T08:00:00+00:00")),
            Answer::No,
            "it was signed 2026-01-21 08:00:00 +00:00, before the retest",
        ),
        (
            "seals of another job",
            Files::unsealed_report().sealed(Stage::Baseline, BEFORE_WORK, |seal| {
                seal.job = "E-0999".to_owned();
            }),
            signed,
            Answer::No,
            "a seal of the job E-0999",
        ),
        (
            "a baseline amended after the work had started",
            amended("baseline.toml", late),
            signed,
            Answer::CannotTell,
            "after the work had started",
        ),
        (
            "a retest amended",
            amended("retest.toml", late),
            signed,
            Answer::Yes,
            "replacing an earlier one: A typing error",
        ),
    ] {
        let found = chain(&files.job(), at);
        assert_eq!(found.answer, answer, "{name}: {found:?}");
        says(&found, why);
    }
    // A baseline of an earlier visit: measured more than 90 days before the work.
    let years_later = |file: &str, files: Files| {
        let text = String::from_utf8(files.0[file].clone()).unwrap();
        files.and(file, text.replace("2026-", "2030-").as_bytes())
    };
    let files = years_later(
        "retest.toml",
        years_later("work.toml", Files::unsealed_report()),
    );
    let files = files.sealed(Stage::Baseline, BEFORE_WORK, |_| {});
    let found = chain(&files.job(), Some(moment("2030-02-22T09:00:00+00:00")));
    assert_eq!(found.answer, Answer::CannotTell, "{found:?}");
    says(&found, "that of an earlier visit");
}

/// A receipt that was made after the work had started does not show what was sealed before.
#[test]
fn a_receipt_counts_only_from_before_the_work() {
    let started = moment("2026-01-20T09:00:00+00:00");
    let second = chrono::TimeDelta::seconds(1);
    for (made, answer) in [
        (None, Answer::Yes),
        (Some(started), Answer::Yes),
        (Some(started + second), Answer::CannotTell),
    ] {
        let mut receipt = known(&Files::receipt(), None);
        if let KnownSeal::Receipt { made: own, .. } = &mut receipt {
            *own = made;
        }
        let found = fingerprint(&Files::report().job(), Some(&receipt), None);
        assert_eq!(found.answer, answer, "{made:?}: {found:?}");
    }
}

#[test]
fn limits_are_those_of_the_first_seal_which_is_before_the_work() {
    let sealed_at = |files: Files, at: &str| files.sealed(Stage::Baseline, at, |_| {});
    let loosened = |files: Files| files.with("limits.toml", "max = 5.0", "max = 9.0");
    let amended = loosened(Files::report()).judged().sealed(
        Stage::Baseline,
        "2026-01-22T08:40:00+00:00",
        |seal| seal.amends = Some("The customer agreed to 9 s".to_owned()),
    );
    // A receipt knows of no work; and work may start with the very seal.
    let start = "2026-01-20T09:00:00+00:00";
    let second_later = "2026-01-20T09:00:01+00:00";
    for (name, files, answer, why) in [
        ("a report", Files::report(), Answer::Yes, "as they were"),
        (
            "sealed as the work starts",
            sealed_at(Files::unsealed_report(), start),
            Answer::Yes,
            "as they were",
        ),
        (
            "sealed after the work had started",
            sealed_at(Files::unsealed_report(), second_later),
            Answer::CannotTell,
            "the work had started",
        ),
        (
            "a receipt",
            sealed_at(Files::unsealed_receipt(), AFTER_START),
            Answer::Yes,
            "as they were",
        ),
        (
            "no seal",
            Files::unsealed_report(),
            Answer::CannotTell,
            "no seal",
        ),
        (
            "changed",
            loosened(Files::report()),
            Answer::No,
            "not those that were sealed first",
        ),
        (
            "changed openly",
            amended,
            Answer::No,
            "the amendment says: The customer agreed to 9 s",
        ),
        (
            "gone",
            Files::report().without("limits.toml"),
            Answer::No,
            "not those that were sealed first",
        ),
        (
            "gone, and not in the seal",
            Files::unsealed_report()
                .sealed(Stage::Baseline, BEFORE_WORK, |seal| {
                    seal.files.remove("limits.toml");
                })
                .without("limits.toml"),
            Answer::No,
            "not those that were sealed first",
        ),
    ] {
        let found = limits(&files.job());
        assert_eq!(found.answer, answer, "{name}: {found:?}");
        says(&found, why);
    }
    // An amendment of something else gives no reason here.
    let other = Files::report().with("job.toml", "tower", "mast").sealed(
        Stage::Baseline,
        "2026-01-22T08:40:00+00:00",
        |seal| {
            seal.amends = Some("The details were wrong".to_owned());
        },
    );
    let found = limits(&other.job());
    assert_eq!(found.answer, Answer::Yes, "{found:?}");
}

/// The seal of a receipt, as `seal_of_receipt` gives it.
fn known(files: &Files, signer: Option<&ShopCertificate>) -> KnownSeal {
    let chain = files.chain();
    let shown = chain.latest(Stage::Baseline).unwrap();
    KnownSeal::Receipt {
        digest: shown.digest,
        job: shown.seal.job.clone(),
        signer: signer.cloned().map(Box::new),
        made: None,
    }
}

#[test]
fn fingerprint_is_that_of_the_seal_that_holds() {
    let shop = Plan::signer("Quay").make(1, None).certificate;
    let other = Plan::signer("Bench").make(3, None).certificate;
    let receipt = Files::receipt();
    let own = |files: &Files| files.chain().links[0].fingerprint().to_string();
    let right = own(&receipt);
    let wrong = Files::report().chain().links[1].fingerprint().to_string();
    let both = format!("it is {right}; the one given is {right}");
    let text = |text: &str| Some(KnownSeal::Text(text.to_owned()));
    let stranger = Files::unsealed_receipt()
        .with("job.toml", "E-0412", "E-0999")
        .sealed(Stage::Baseline, BEFORE_WORK, |_| {});
    let retaken = Files::unsealed_receipt()
        .with("baseline.toml", "06:35", "06:36")
        .sealed(Stage::Baseline, BEFORE_WORK, |_| {});
    for (name, given, signer, answer, why) in [
        (
            "nothing",
            None,
            Some(&shop),
            Answer::NotAsked,
            "to compare it",
        ),
        ("text", text(&right), Some(&shop), Answer::Yes, &both),
        ("text, unsigned", text(&right), None, Answer::Yes, &both),
        (
            "another text",
            text(&wrong),
            Some(&shop),
            Answer::No,
            &format!("it is {right}; the one given is {wrong}"),
        ),
        (
            "no fingerprint",
            text("ABCD"),
            Some(&shop),
            Answer::CannotTell,
            "is not a fingerprint",
        ),
        (
            "its receipt",
            Some(known(&receipt, Some(&shop))),
            Some(&shop),
            Answer::Yes,
            &both,
        ),
        (
            "its receipt, unsigned",
            Some(known(&receipt, None)),
            Some(&shop),
            Answer::Yes,
            "the receipt is not signed",
        ),
        (
            "its receipt by another",
            Some(known(&receipt, Some(&other))),
            Some(&shop),
            Answer::CannotTell,
            "the receipt was signed with the key of “Bench”, and this document with a different \
             key, of “Quay”",
        ),
        (
            "a signed receipt, and an unsigned report",
            Some(known(&receipt, Some(&shop))),
            None,
            Answer::CannotTell,
            "with the key of “Quay”, and this document has no sound signature",
        ),
        (
            "an unsound receipt",
            Some(KnownSeal::Unsound("it is a report".to_owned())),
            Some(&shop),
            Answer::CannotTell,
            "is not sound: it is a report",
        ),
        (
            "the receipt of another job",
            Some(known(&stranger, Some(&shop))),
            Some(&shop),
            Answer::No,
            "the receipt is for the job E-0999, this is the job E-0412",
        ),
        (
            "the receipt of other readings",
            Some(known(&retaken, Some(&shop))),
            Some(&shop),
            Answer::No,
            &format!("it is {right}; the one given is {}", own(&retaken)),
        ),
    ] {
        let found = fingerprint(&Files::report().job(), given.as_ref(), signer);
        assert_eq!(found.answer, answer, "{name}: {found:?}");
        says(&found, why);
    }
    // Of one job, there is no more to say than that they differ.
    let found = fingerprint(&Files::report().job(), Some(&known(&retaken, None)), None);
    assert_eq!(found.because.len(), 2, "{found:?}");
    // Whoever checks a receipt by itself gave it already.
    let found = fingerprint(&receipt.job(), None, Some(&shop));
    assert_eq!(found.answer, Answer::NotAsked);
    says(&found, "this is a receipt itself: keep it");

    let unsealed = Files::unsealed_report().job();
    let found = fingerprint(&unsealed, text(&right).as_ref(), Some(&shop));
    assert_eq!(found.answer, Answer::CannotTell);

    // A receipt of a seal that was amended since names what was changed.
    let amended = Files::report()
        .with("limits.toml", "max = 5.0", "max = 9.0")
        .sealed(Stage::Baseline, "2026-01-22T08:40:00+00:00", |seal| {
            seal.amends = Some("Agreed".to_owned());
        });
    for given in [Some(known(&receipt, Some(&shop))), text(&right)] {
        let found = fingerprint(&amended.job(), given.as_ref(), Some(&shop));
        assert_eq!(found.answer, Answer::No);
        says(
            &found,
            "the receipt shows 1-baseline.sha256; 3-baseline.sha256 replaced it",
        );
        says(&found, "with changes in limits.toml");
    }
}

/// What another version wrote in its files may be nothing that this one takes; the times in them
/// count all the same, and where they cannot be read nothing is taken to be before the work.
#[test]
fn times_count_in_files_that_are_no_job() {
    let taken_otherwise = |files: Files| files.with("work.toml", "format = 1", "format = 1\nx = 1");
    let hidden = |files: Files| files.with("work.toml", "started = ", "begun = ");
    let sealed_at = |at: &str| {
        let files = Files::unsealed_report().sealed(Stage::Baseline, at, |_| {});
        files.sealed(Stage::Retest, AFTER_RETEST, |_| {})
    };
    let signed = Some(moment("2026-01-22T09:00:00+00:00"));
    let mut receipt = known(&Files::receipt(), None);
    if let KnownSeal::Receipt { made, .. } = &mut receipt {
        *made = Some(moment(BEFORE_WORK));
    }
    let asked = |files: Files| {
        let job = files.job();
        assert!(!job.told.is_read());
        [
            limits(&job),
            fingerprint(&job, Some(&receipt), None),
            chain(&job, signed),
        ]
    };
    let answers = |found: &[Finding; 3]| found.each_ref().map(|found| found.answer);
    let sound = asked(taken_otherwise(sealed_at(BEFORE_WORK)));
    assert_eq!(answers(&sound), [Answer::Yes; 3], "{sound:?}");
    let [late, ..] = asked(taken_otherwise(sealed_at(AFTER_START)));
    assert_eq!(late.answer, Answer::CannotTell);
    says(&late, "the work had started 2026-01-20 09:00:00");
    let unread = asked(hidden(sealed_at(BEFORE_WORK)));
    assert_eq!(answers(&unread), [Answer::CannotTell; 3], "{unread:?}");
    for found in &unread {
        says(found, "when the work started cannot be read");
    }
    // Sealed before it was measured: that is read as well.
    let early = asked(taken_otherwise(sealed_at("2026-01-20T06:00:00+00:00")));
    assert_eq!(early[2].answer, Answer::No, "{early:?}");
    // Nor do seals of another job count as its own.
    let borrowed = sealed_at(BEFORE_WORK).with("job.toml", "E-0412", "E-0999");
    let borrowed = asked(taken_otherwise(borrowed));
    assert_eq!(borrowed[2].answer, Answer::No, "{borrowed:?}");
    says(&borrowed[2], "this is the job E-0999");
    // A receipt tells of no work.
    let kept = Files::receipt().with("job.toml", "format = 1", "format = 1\nx = 1");
    assert_eq!(limits(&kept.job()).answer, Answer::Yes);
}
