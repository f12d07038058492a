//! What a reader is told of whole documents: of sound ones, of altered ones, of a receipt by
//! itself, and of a report beside a receipt that is not its own.

use super::*;
use crate::job::Stage;
use crate::page::Code;
use crate::result::{DOCUMENT_FILE, DocumentFile, DocumentKind};
use crate::signature::sign;
use crate::signature::test_parties::{Party, Plan};
use crate::verification::test_documents::{AFTER_START, BEFORE_WORK, Files, PLACE, moment};
use crate::view::TO_VERIFY;

/// `files` as this version makes a document of them; the library alone does not set its pages.
fn unsigned(files: &Files, when: &str) -> Vec<u8> {
    let kind = match files.0.contains_key("result.json") {
        true => DocumentKind::Report,
        false => DocumentKind::Receipt,
    };
    let mark = DocumentFile::new(kind, moment(when), None);
    let files = files.clone().and(DOCUMENT_FILE, mark.text().as_bytes());
    files.pdf()
}

fn signed(files: &Files, party: &Party, when: &str) -> Vec<u8> {
    let (pdf, identity) = (unsigned(files, when), party.identity(&[]));
    sign(pdf, PLACE, "x", &identity, moment(when), None).unwrap()
}

/// A shop whose certificate is valid at all these times.
fn shop(name: &'static str, seed: u8) -> Party {
    Plan::signer(name).days(-100, 365).make(seed, None)
}

struct Parts {
    report: Vec<u8>,
    receipt: Vec<u8>,
    certificate: Vec<Vec<u8>>,
}

/// A sound report with its receipt and the shop's certificate.
fn parts() -> Parts {
    let shop = shop("Bench", 1);
    Parts {
        report: signed(&Files::report(), &shop, AFTER),
        receipt: signed(&Files::receipt(), &shop, BEFORE_WORK),
        certificate: vec![shop.certificate.pem().into_bytes()],
    }
}

/// When reports are signed.
const AFTER: &str = "2026-01-22T09:00:00+00:00";

fn given<'a>(
    document: &'a [u8],
    receipt: Option<&'a [u8]>,
    certificates: &'a [Vec<u8>],
) -> Given<'a> {
    Given {
        document,
        receipt,
        certificates,
        ..Given::default()
    }
}

fn say(id: &str) -> String {
    Words::to_verify("en").say(id)
}

/// Every text that a reader sees of a document.
fn all_texts(shown: &Shown) -> String {
    let shown = Shown {
        json: String::new(),
        ..shown.clone()
    };
    serde_json::to_string(&shown).unwrap()
}

/// A PDF's version, in its first line, belongs to what was signed.
fn altered(file: &[u8]) -> Vec<u8> {
    let mut file = file.to_vec();
    assert!(file.starts_with(b"%PDF-1.7"));
    file[7] = b'6';
    file
}

#[test]
fn the_worst_answer_comes_first_and_something_can_be_done() {
    let sound = parts();
    let (bench, quay) = (shop("Bench", 1), shop("Quay", 3));
    let retaken = Files::unsealed_receipt()
        .with("baseline.toml", "06:35", "06:36")
        .sealed(Stage::Baseline, BEFORE_WORK, |_| {});
    let retaken = signed(&retaken, &bench, BEFORE_WORK);
    let late = signed(&Files::receipt(), &bench, AFTER_START);
    let edited = Files::report().with("baseline.toml", "06:35", "06:36");
    let edited = signed(&edited, &bench, AFTER);
    let loosened = Files::report().with("limits.toml", "max = 5.0", "max = 9.0");
    let loosened = loosened
        .judged()
        .sealed(Stage::Baseline, "2026-01-22T08:40:00+00:00", |seal| {
            seal.amends = Some("Agreed".to_owned());
        });
    let loosened = signed(&loosened, &bench, AFTER);
    let unsealed = signed(&Files::unsealed_report(), &bench, AFTER);
    let (altered, unsigned) = (altered(&sound.report), unsigned(&Files::report(), AFTER));
    let strange = signed(&Files::report(), &quay, AFTER);
    let (receipt, certificate) = (Some(sound.receipt.as_slice()), sound.certificate.as_slice());
    for (name, given, answer, next) in [
        (
            "sound",
            given(&sound.report, receipt, certificate),
            "cannot-tell",
            "next-compare-pages",
        ),
        (
            "bare",
            given(&sound.report, None, &[]),
            "cannot-tell",
            "next-give-both",
        ),
        (
            "no receipt",
            given(&sound.report, None, certificate),
            "cannot-tell",
            "next-give-receipt",
        ),
        (
            "no certificate",
            given(&sound.report, receipt, &[]),
            "cannot-tell",
            "next-give-certificate",
        ),
        (
            "altered",
            given(&altered, receipt, certificate),
            "no",
            "next-altered",
        ),
        (
            "edited and signed",
            given(&edited, receipt, certificate),
            "no",
            "next-changed",
        ),
        (
            "loosened",
            given(&loosened, None, certificate),
            "no",
            "next-limits",
        ),
        (
            "another receipt",
            given(&sound.report, Some(&retaken), certificate),
            "no",
            "next-other-receipt",
        ),
        (
            "another signer",
            given(&strange, None, certificate),
            "no",
            "next-other-signer",
        ),
        (
            "unsigned",
            given(&unsigned, receipt, certificate),
            "cannot-tell",
            "next-unsigned",
        ),
        (
            "a late receipt",
            given(&sound.report, Some(&late), certificate),
            "cannot-tell",
            "next-receipt-open",
        ),
        (
            "unsealed",
            given(&unsealed, receipt, certificate),
            "cannot-tell",
            "next-unsealed",
        ),
        (
            "a receipt",
            given(&sound.receipt, None, certificate),
            "cannot-tell",
            "next-keep-receipt",
        ),
        (
            "no document",
            given(b"%PDF-1.7\n%%EOF", None, &[]),
            "no",
            "next-no-document",
        ),
    ] {
        let shown = check(&given);
        assert_eq!(shown.told[0].answer, answer, "{name}: {:#?}", shown.told);
        assert_eq!(shown.next, say(next), "{name}");
        assert!(!shown.about.is_empty(), "{name}");
        let noes = shown.told.iter().filter(|line| line.answer == "no").count();
        assert_eq!(noes, shown.wrong.len(), "{name}: {:#?}", shown.told);
    }
}

#[test]
fn nothing_is_ticked_that_hangs_on_what_is_broken() {
    let sound = parts();
    let shown = check(&given(
        &altered(&sound.report),
        Some(&sound.receipt),
        &sound.certificate,
    ));
    assert!(shown.json.contains("\"answer\": \"yes\""), "{}", shown.json);
    let answers = shown.questions.iter().map(|line| line.answer);
    let answers = answers.chain(shown.told.iter().map(|line| line.answer));
    assert!(
        answers.clone().all(|answer| answer != "yes"),
        "{:#?}",
        shown.questions
    );
    assert!(answers.clone().any(|answer| answer == "unsettled"));
    assert_eq!(shown.told.len(), 1, "{:#?}", shown.told);
    assert_eq!(shown.codes.says, say("codes-agree-unsettled"));

    // Signed again by the shop itself: who signed holds, what is in it does not.
    let edited = Files::report().with("baseline.toml", "06:35", "06:36");
    let edited = signed(&edited, &shop("Bench", 1), AFTER);
    let shown = check(&given(&edited, Some(&sound.receipt), &sound.certificate));
    let answer = |question: &str| {
        let question = say(&format!("question-{question}"));
        let mut lines = shown.questions.iter();
        lines.find(|line| line.question == question).unwrap().answer
    };
    assert_eq!(answer("intact"), "yes");
    assert_eq!(answer("expected-signer"), "yes");
    assert_eq!(answer("files"), "no");
    assert_eq!(answer("fingerprint"), "unsettled");
    let told = |id: &str| shown.told.iter().any(|line| line.text == say(id));
    assert!(told("told-fingerprint-unsettled") && !told("told-fingerprint-yes"));
    assert!(
        shown.wrong[0].because[0].text.contains(
            "changed after it was sealed (baseline): the readings before the work (baseline.toml)"
        ),
        "{:#?}",
        shown.wrong
    );
}

#[test]
fn a_receipt_by_itself_tells_of_the_machine_as_it_came() {
    let receipt = parts().receipt;
    let shown = check(&given(&receipt, None, &[]));
    assert_eq!(shown.heading, say("heading-receipt"));
    assert_eq!(shown.state, say("state-before-work"));
    assert!(!shown.required.is_empty());
    for figure in &shown.required {
        assert!(figure.result.starts_with("before the work: "), "{figure:?}");
        assert_eq!(figure.after, None);
    }
    let texts = all_texts(&shown);
    assert!(!texts.contains("give your receipt"), "{texts}");
    assert!(!texts.contains("have not given your receipt"), "{texts}");
    assert_eq!(shown.codes.says, say("codes-keep"));

    let shown = check(&given(&parts().report, None, &[]));
    assert_eq!(
        (shown.heading, shown.state),
        (say("heading-report"), String::new())
    );
}

/// Of a code, the places of the groups that are pointed out.
fn pointed_out(code: &Code) -> Vec<usize> {
    let groups = code.groups.iter().enumerate();
    groups
        .filter(|(_, group)| group.differs)
        .map(|(place, _)| place)
        .collect()
}

#[test]
fn the_fingerprints_stand_side_by_side() {
    let sound = parts();
    let own = Files::receipt().chain().links[0].fingerprint().to_string();
    let asked = |fingerprint: &str| {
        check(&Given {
            fingerprint,
            ..given(&sound.report, None, &[])
        })
        .codes
    };
    let text = |code: &Code| {
        let groups: Vec<&str> = code
            .groups
            .iter()
            .map(|group| group.text.as_str())
            .collect();
        groups.join("-")
    };

    let alone = asked("");
    assert_eq!(alone.says, say("codes-alone"));
    assert_eq!(
        alone.rows.iter().map(text).collect::<Vec<_>>(),
        std::slice::from_ref(&own)
    );

    let with_receipt = check(&given(&sound.report, Some(&sound.receipt), &[])).codes;
    assert_eq!(with_receipt.says, say("codes-agree"));
    assert_eq!(with_receipt.rows[1].label, say("codes-on-receipt"));
    let copied = own.to_lowercase().replace('-', " ");
    for copied in [&copied, &copied[..32]] {
        let codes = asked(copied);
        assert_eq!(codes.says, say("codes-agree"), "{codes:?}");
        assert!(own.starts_with(&text(&codes.rows[1])), "{codes:?}");
        assert!(codes.rows.iter().all(|row| pointed_out(row).is_empty()));
    }

    // One letter of the third group is another, and one of the last.
    let mut other: Vec<u8> = own.bytes().collect();
    for place in [10, own.len() - 1] {
        other[place] = if other[place] == b'A' { b'B' } else { b'A' };
    }
    let codes = asked(std::str::from_utf8(&other).unwrap());
    assert_eq!(codes.says, say("codes-differ"));
    for row in &codes.rows {
        assert_eq!(pointed_out(row), [2, 7], "{codes:?}");
    }
    assert_eq!(asked("rubbish").says, say("codes-alone"));
}

#[test]
fn a_receipt_that_does_not_fit_is_told_with_who_signed_which_and_what_else_it_may_be() {
    let sound = parts();
    let by_other = signed(&Files::receipt(), &shop("Quay", 3), BEFORE_WORK);
    let shown = check(&given(&sound.report, Some(&by_other), &sound.certificate));
    let texts = all_texts(&shown);
    assert!(
        texts.contains(
            "the receipt was signed with the key of “Quay”, and this document with a \
                        different key, of “Bench”"
        ),
        "{texts}"
    );

    let stranger = Files::unsealed_receipt()
        .with("job.toml", "E-0412", "E-0999")
        .sealed(Stage::Baseline, BEFORE_WORK, |_| {});
    let stranger = signed(&stranger, &shop("Bench", 1), BEFORE_WORK);
    for (language, job) in [
        (
            "en",
            "the receipt is for the job E-0999, this is the job E-0412",
        ),
        (
            "es",
            "el comprobante es del trabajo E-0999; este es el trabajo E-0412",
        ),
    ] {
        let shown = check(&Given {
            language,
            ..given(&sound.report, Some(&stranger), &sound.certificate)
        });
        let because = &shown.wrong[0].because;
        let innocent = Words::to_verify(language).say("told-fingerprint-innocent");
        let texts: Vec<&str> = because.iter().map(|why| why.text.as_str()).collect();
        assert_eq!(texts, [job, &innocent]);
    }
}

/// A reader who has the receipt need not lay both papers side by side.
#[test]
fn what_the_receipt_shows_otherwise_stands_beside_it() {
    let sound = parts();
    let bench = shop("Bench", 1);
    let report = |to: &str| {
        let files = Files::report().with("baseline.toml", "value = 12.8", to);
        signed(&files, &bench, AFTER)
    };
    let edited = report("value = 21.8");
    let shown = check(&given(&edited, Some(&sound.receipt), &[]));
    let [one] = shown.differs.as_slice() else {
        panic!("{:#?}", shown.differs)
    };
    assert_eq!(one.name, "Crank time to running (s)");
    assert_eq!(shown.differs_rest, say("differs-rest"));
    assert!(one.receipt.starts_with("12.8") && one.document.starts_with("21.8"));
    let spanish = check(&Given {
        language: "es",
        ..given(&edited, Some(&sound.receipt), &[])
    });
    assert!(
        spanish.differs[0].receipt.starts_with("12,8"),
        "{spanish:#?}"
    );

    let told = |shown: &Shown, id: &str| {
        let mut lines = shown.told.iter();
        lines.any(|line| {
            let mut because = line.because.iter();
            line.text == say(id) || because.any(|why| why.text == say(id))
        })
    };
    assert!(told(&shown, "told-intact-despite") && !told(&shown, "told-intact-yes"));
    assert!(told(&shown, "told-same-key"));
    let ticked = |shown: &Shown| shown.told.iter().any(|line| line.answer == "yes");
    assert!(!ticked(&shown), "{:#?}", shown.told);
    assert_eq!(shown.done, say("done-no"));
    assert!(all_texts(&shown).contains("The letterhead names"));

    // A receipt that was changed shows nothing.
    let unsound = check(&given(&edited, Some(&altered(&sound.receipt)), &[]));
    assert_eq!(unsound.differs, []);
    assert_eq!(unsound.differs_rest, "");

    let comment = check(&given(
        &report("value = 12.8 # s"),
        Some(&sound.receipt),
        &[],
    ));
    assert_eq!(comment.differs, []);
    assert_eq!(comment.differs_rest, say("differs-elsewhere"));

    let as_it_was = check(&given(&sound.report, Some(&sound.receipt), &[]));
    assert_eq!(as_it_was.differs, []);
    assert_eq!(as_it_was.differs_rest, "");
    assert_eq!(as_it_was.done, say("done-cannot-tell"));
    let bare = check(&given(&unsigned(&Files::report(), AFTER), None, &[]));
    assert_eq!(bare.done, say("done-unsigned"));
    assert!(told(&as_it_was, "told-intact-yes") && told(&as_it_was, "told-same-key"));
    let by_other = signed(&Files::receipt(), &shop("Quay", 3), BEFORE_WORK);
    let by_other = check(&given(&sound.report, Some(&by_other), &[]));
    assert!(!told(&by_other, "told-same-key"));
}

/// In every language each text is there that this room asks for.
#[test]
fn no_text_is_missing_in_any_language() {
    let sound = parts();
    for (language, _) in TO_VERIFY {
        for document in [&sound.report, &sound.receipt, &altered(&sound.report)] {
            let shown = check(&Given {
                language,
                ..given(document, Some(&sound.receipt), &[])
            });
            let texts = all_texts(&shown);
            for start in [
                "page-",
                "told-",
                "next-",
                "codes-",
                "answer-",
                "question-",
                "differs",
            ] {
                assert!(!texts.contains(&format!("[{start}")), "{texts}");
            }
        }
    }
}
