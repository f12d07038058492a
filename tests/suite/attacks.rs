//! Attempts to change a signed document, or what stands behind it, without being seen.
//!
//! The names of the attack classes are those of published research: Mladenov et al.,
//! “1 Trillion Dollar Refund: How To Spoof PDF Signatures”, ACM CCS 2019 (universal
//! signature forgery, incremental saving, signature wrapping); Mainka et al., “Shadow
//! Attacks: Hiding and Replacing Content in Signed PDFs”, NDSS 2021 (hide, replace,
//! hide-and-replace). Both from memory.

use std::collections::BTreeMap;
use std::fs;

use lopdf::{Dictionary, Document, IncrementalDocument, Object, Stream, dictionary};
use retestify::files::Digest;
use retestify::seals::{Chain, Seal};
use retestify::verification::{Answer, Expected, Question, Verification, intact, verify};

use crate::story::story;

fn unchanged(file: &[u8]) -> Answer {
    intact(file).answer
}

fn find(file: &[u8], pattern: &[u8]) -> usize {
    file.windows(pattern.len())
        .rposition(|window| window == pattern)
        .unwrap_or_else(|| panic!("no {}", String::from_utf8_lossy(pattern)))
}

/// The place of `Contents` with its brackets.
fn gap(file: &[u8]) -> std::ops::Range<usize> {
    let start = find(file, b"/Contents<") + "/Contents".len();
    let end = start + file[start..].iter().position(|byte| *byte == b'>').unwrap() + 1;
    start..end
}

/// Every byte of a receipt is changed in three ways: every change is detected. The receipt has
/// the same form as a report, and is smaller.
#[test]
fn no_changed_byte_goes_unseen() {
    let receipt = &story().receipt;
    assert_eq!(unchanged(receipt), Answer::Yes);
    let half = receipt.len() / 2;
    let seen: usize = std::thread::scope(|scope| {
        [0..half, half..receipt.len()]
            .map(|part| {
                scope.spawn(move || {
                    let mut file = receipt.clone();
                    let mut seen = 0;
                    for place in part {
                        for mask in [0x01, 0x20, 0xFF] {
                            file[place] ^= mask;
                            assert_ne!(unchanged(&file), Answer::Yes, "byte {place} ^ {mask:02x}");
                            file[place] ^= mask;
                            seen += 1;
                        }
                    }
                    seen
                })
            })
            .map(|thread| thread.join().unwrap())
            .iter()
            .sum()
    });
    println!("{seen} changed files, none unseen");
    assert_eq!(seen, 3 * receipt.len());
}

/// The whole verification, on a sample of such changes and of cut files: it always
/// ends, and never says yes.
#[test]
fn no_changed_or_cut_file_is_verified() {
    let story = story();
    let known = story.known();
    for place in (0..story.receipt.len()).step_by(151) {
        let mut file = story.receipt.clone();
        file[place] ^= 0x11;
        assert_ne!(verify(&file, &known).overall(), Answer::Yes, "byte {place}");
        let cut = &story.receipt[..place];
        assert_ne!(verify(cut, &known).overall(), Answer::Yes, "cut at {place}");
    }
}

/// What can be appended: a page change, another attachment, a note over the verdict.
fn with_update(file: &[u8], change: impl FnOnce(&mut IncrementalDocument)) -> Vec<u8> {
    let document = Document::load_mem(file).unwrap();
    let mut update = IncrementalDocument::create_from(file.to_vec(), document);
    change(&mut update);
    let mut bytes = Vec::new();
    update.save_to(&mut bytes).unwrap();
    bytes
}

#[test]
fn incremental_saving_is_seen() {
    let report = &story().report;
    let page = Document::load_mem(report)
        .unwrap()
        .page_iter()
        .next()
        .unwrap();
    let repainted = with_update(report, |update| {
        let content = Stream::new(Dictionary::new(), b"1 0 0 rg 0 0 600 800 re f".to_vec());
        let content = update.new_document.add_object(content);
        update.opt_clone_object_to_new_document(page).unwrap();
        let page = update.new_document.get_dictionary_mut(page).unwrap();
        page.set("Contents", content);
    });
    let covered = with_update(report, |update| {
        let note = update.new_document.add_object(dictionary! {
            "Type" => "Annot",
            "Subtype" => "FreeText",
            "Rect" => vec![60.into(), 600.into(), 500.into(), 700.into()],
            "Contents" => Object::string_literal("Not verified"),
        });
        update.opt_clone_object_to_new_document(page).unwrap();
        let page = update.new_document.get_dictionary_mut(page).unwrap();
        page.set("Annots", vec![Object::Reference(note)]);
    });
    let reattached = with_update(report, |update| {
        let document = Document::load_mem(report).unwrap();
        let root = document
            .trailer
            .get(b"Root")
            .unwrap()
            .as_reference()
            .unwrap();
        update.opt_clone_object_to_new_document(root).unwrap();
        let root = update.new_document.get_dictionary_mut(root).unwrap();
        root.remove(b"Names");
    });
    for file in [&repainted, &covered, &reattached] {
        assert_eq!(unchanged(file), Answer::No);
    }
    // The same without cross-reference table or trailer, which lenient readers mend.
    for tail in [&b"\n"[..], b"%%EOF", b"\n999 0 obj\n<<>>\nendobj\n%%EOF\n"] {
        let file = [report.as_slice(), tail].concat();
        assert_eq!(unchanged(&file), Answer::No);
    }
}

/// A signature by somebody else over an appended change: the last signature is not of
/// the form that a report has.
#[test]
fn a_second_signature_is_not_the_first() {
    let report = &story().report;
    let twice = [report.as_slice(), &report[gap(report).start..]].concat();
    assert_eq!(unchanged(&twice), Answer::No);
    let other = crate::story::sign_again(report);
    assert!(
        other.is_err(),
        "a signed document is not signed over: {other:?}"
    );
}

#[test]
fn universal_signature_forgery_is_seen() {
    let report = &story().report;
    let text = |from: &str, to: &str| {
        let at = find(report, from.as_bytes());
        let mut file = report.clone();
        file.splice(at..at + from.len(), to.bytes());
        file
    };
    let range_at = find(report, b"/ByteRange[");
    let range_end = range_at + report[range_at..].iter().position(|b| *b == b']').unwrap();
    let range = String::from_utf8(report[range_at..=range_end].to_vec()).unwrap();
    let width = range.len();
    let same_width =
        |inside: &str| format!("{:<w$}]", format!("/ByteRange[{inside}"), w = width - 1);
    let gap = gap(report);
    let (start, end, rest) = (gap.start, gap.end, report.len() - gap.end);
    let forged = [
        text("/ByteRange", "/ByteRangX"),
        text("/Contents<", "/Contentx<"),
        text(&range, &same_width("0 0 0 0")),
        text(&range, &same_width("0 -1 -1 -1")),
        text(&range, &same_width("null")),
        text(&range, &same_width("")),
        text(&range, &same_width(&format!("0 {start} {end} 0"))),
        text(
            &range,
            &same_width(&format!("0 {} 1 {}", 1, report.len() - 1)),
        ),
        text(&range, &same_width(&format!("{start} 0 {end} {rest}"))),
        text(&range, &same_width(&format!("0 {start} {end} {rest} 0 1"))),
        text(
            &range,
            &same_width(&format!("0 {} {end} {rest}", start - 4)),
        ),
        text(&range, &same_width("0 18446744073709551615 1 1")),
        text(&range, &same_width("0 9999999999 9999999999 1")),
    ];
    for (number, file) in forged.iter().enumerate() {
        assert_ne!(unchanged(file), Answer::Yes, "forgery {number}");
    }
    // Contents empty, null, of zeros, or of a signature over something else.
    for contents in ["<>", "null", "()", "<00>", "<30>", "<3000>"] {
        let mut file = report.clone();
        file.splice(gap.clone(), contents.bytes());
        assert_ne!(unchanged(&file), Answer::Yes, "Contents {contents}");
    }
    let mut zeros = report.clone();
    zeros[start + 1..end - 1].fill(b'0');
    assert_eq!(unchanged(&zeros), Answer::No);
    let receipt = &story().receipt;
    let of_receipt = &receipt[self::gap(receipt)];
    let mut borrowed = report.clone();
    let room = (end - start).min(of_receipt.len());
    borrowed[start..start + room - 1].copy_from_slice(&of_receipt[..room - 1]);
    assert_eq!(unchanged(&borrowed), Answer::No);
}

/// The signed parts are kept, and something is put between them, where neither part
/// of the range reaches.
#[test]
fn signature_wrapping_is_seen() {
    let report = &story().report;
    let gap = gap(report);
    for (place, inserted) in [
        (gap.end - 1, &b"00000000"[..]),
        (gap.end, b" /Injected 1 "),
        (gap.start, b" /Injected 1 "),
        (gap.end - 1, b"> /Injected << /Contents <"),
    ] {
        let mut file = report.clone();
        file.splice(place..place, inserted.iter().copied());
        assert_eq!(unchanged(&file), Answer::No);
        // And with the range moved along.
        let range = find(&file, b"/ByteRange[");
        let close = range + file[range..].iter().position(|b| *b == b']').unwrap();
        let moved = format!(
            "/ByteRange[0 {} {} {}",
            gap.start,
            gap.end + inserted.len(),
            report.len() - gap.end
        );
        if moved.len() <= close - range {
            let padded = format!("{moved:<w$}", w = close - range);
            file[range..close].copy_from_slice(padded.as_bytes());
        }
        assert_eq!(unchanged(&file), Answer::No);
    }
}

/// Content that was hidden before signing can be brought forth only by an update
/// after it: hide, replace, and hide-and-replace all append.
#[test]
fn shadow_attacks_are_seen() {
    let report = &story().report;
    let document = Document::load_mem(report).unwrap();
    let start = find(report, b"startxref");
    let hide = with_update(report, |update| {
        let pages: Vec<_> = document.page_iter().collect();
        update.opt_clone_object_to_new_document(pages[0]).unwrap();
        let page = update.new_document.get_dictionary_mut(pages[0]).unwrap();
        page.set("Contents", Vec::<Object>::new());
    });
    let replace = with_update(report, |update| {
        // Overlay-only changes are what lenient readers let pass: a font's encoding.
        let font = document
            .objects
            .iter()
            .find(|(_, object)| {
                object
                    .as_dict()
                    .is_ok_and(|dictionary| dictionary.get(b"Type").ok() == Some(&"Font".into()))
            })
            .map(|(id, _)| *id)
            .unwrap();
        update.opt_clone_object_to_new_document(font).unwrap();
        let font = update.new_document.get_dictionary_mut(font).unwrap();
        font.remove(b"ToUnicode");
    });
    // A second table and trailer alone, pointing at objects that are already there.
    let hide_and_replace = [report.as_slice(), b"\n", &report[start..]].concat();
    for file in [hide, replace, hide_and_replace] {
        assert_eq!(unchanged(&file), Answer::No);
    }
}

fn answer(found: &Verification, question: Question) -> Answer {
    found.answer(question)
}

/// Everything rebuilt and signed with another key: intact, and not by the shop.
#[test]
fn a_copy_signed_with_another_key_is_intact_and_by_a_stranger() {
    let story = story();
    let other = crate::story::other_story();
    let found = verify(&other.report, &story.known());
    assert_eq!(answer(&found, Question::Intact), Answer::Yes);
    assert_eq!(answer(&found, Question::ExpectedSigner), Answer::No);
    assert_eq!(found.overall(), Answer::No);
    let nobody_known = verify(&other.report, &Expected::default());
    assert_eq!(
        answer(&nobody_known, Question::ExpectedSigner),
        Answer::CannotTell
    );
    assert_eq!(nobody_known.overall(), Answer::CannotTell);
}

/// The shop changes a file and makes its seal anew: `change` gets the files of the
/// baseline and the seals, and the report is signed again with the shop's own key.
fn resealed(change: impl FnOnce(&mut BTreeMap<String, String>)) -> Verification {
    let story = story();
    let copy = story.copy();
    let names = [
        "job.toml",
        "limits.toml",
        "baseline.toml",
        "seals/1-baseline.sha256",
        "seals/2-retest.sha256",
    ];
    let mut files: BTreeMap<String, String> = names
        .map(|name| {
            (
                name.to_owned(),
                fs::read_to_string(copy.path().join(name)).unwrap(),
            )
        })
        .into();
    change(&mut files);
    for (name, text) in &files {
        fs::write(copy.path().join(name), text).unwrap();
    }
    verify(&story.report_of(copy.path()), &story.known())
}

fn reseal(files: &mut BTreeMap<String, String>, seal: &str, change: impl FnOnce(&mut Seal)) {
    let mut read = Seal::read(files[seal].as_bytes()).unwrap();
    for (name, digest) in &mut read.files {
        if let Some(text) = files.get(name) {
            *digest = Digest::of(text.as_bytes());
        }
    }
    change(&mut read);
    files.insert(seal.to_owned(), read.text());
}

const FIRST: &str = "seals/1-baseline.sha256";
const SECOND: &str = "seals/2-retest.sha256";

#[test]
fn a_swapped_baseline_with_its_seal_made_anew_breaks_the_chain() {
    let found = resealed(|files| {
        let baseline = files["baseline.toml"].replace("value = 12.8", "value = 21.8");
        files.insert("baseline.toml".to_owned(), baseline);
        reseal(files, FIRST, |_| {});
    });
    assert_eq!(answer(&found, Question::Files), Answer::Yes, "{found:#?}");
    assert_eq!(answer(&found, Question::Chain), Answer::No);
    assert_eq!(answer(&found, Question::Fingerprint), Answer::No);
}

/// With every seal made anew the chain is sound: only what the customer holds shows it.
#[test]
fn a_whole_new_chain_is_found_out_by_the_receipt_alone() {
    let found = resealed(|files| {
        let limits = files["limits.toml"].replace("max = 5.0", "max = 9.0");
        files.insert("limits.toml".to_owned(), limits);
        reseal(files, FIRST, |_| {});
        let first = Digest::of(files[FIRST].as_bytes());
        reseal(files, SECOND, |seal| seal.previous = Some(first));
    });
    for sound in [
        Question::Intact,
        Question::Files,
        Question::Chain,
        Question::Limits,
    ] {
        assert_eq!(answer(&found, sound), Answer::Yes, "{sound:?} {found:#?}");
    }
    assert_eq!(answer(&found, Question::Fingerprint), Answer::No);
    assert_eq!(found.overall(), Answer::No);
}

#[test]
fn limits_loosened_after_the_baseline_are_seen() {
    let found = resealed(|files| {
        let limits = files["limits.toml"].replace("max = 5.0", "max = 9.0");
        files.insert("limits.toml".to_owned(), limits);
    });
    assert_eq!(answer(&found, Question::Files), Answer::No);
    assert_eq!(answer(&found, Question::Limits), Answer::No);
}

#[test]
fn a_retest_sealed_before_its_baseline_and_a_clock_that_ran_back_are_seen() {
    let back = resealed(|files| {
        reseal(files, SECOND, |seal| {
            seal.sealed -= chrono::Duration::days(30)
        });
    });
    assert_eq!(answer(&back, Question::Chain), Answer::No, "{back:#?}");
    let after_signing = resealed(|files| {
        reseal(files, SECOND, |seal| {
            seal.sealed += chrono::Duration::days(30_000)
        });
    });
    assert_eq!(answer(&after_signing, Question::Chain), Answer::No);
    let first = story().path("job").join(SECOND);
    let alone = fs::read(first).unwrap();
    let chain = Chain::of([("1-retest.sha256".to_owned(), alone)]);
    assert!(!chain.errors.is_empty());
}

#[test]
fn names_that_mean_one_file_or_lead_out_break_a_seal() {
    for name in [
        "Job.toml",
        "../job.toml",
        "job\u{202e}lmot.",
        "photos/a\u{301}.jpg\u{200b}",
    ] {
        let found = resealed(|files| {
            // The program itself would refuse to write such a seal.
            let line = files[FIRST]
                .lines()
                .find(|line| line.ends_with("job.toml"))
                .unwrap();
            let forged = format!("{}  {name}", &line[..64]);
            let mut lines: Vec<&str> = files[FIRST].lines().collect();
            lines.push(&forged);
            let text = lines.join("\n") + "\n";
            files.insert(FIRST.to_owned(), text);
        });
        assert_eq!(
            answer(&found, Question::Chain),
            Answer::No,
            "{name:?} {found:#?}"
        );
    }
}
