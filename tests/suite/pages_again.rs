//! Do the pages show what was judged? Every document that the program makes is set again to
//! the last byte; whatever else somebody prints, hides or changes is not.

use std::fs;
use std::path::Path;

use lopdf::{Dictionary, Document, Object, ObjectId, Stream, dictionary};
use retestify::cli::OwnPages;
use retestify::files;
use retestify::verification::{Answer, Expected, Finding, Question, verify};

use crate::folder::{Folder, run};
use crate::samples::names;
use crate::story::story;

fn pages_with(file: &[u8], folder: Option<&Path>) -> Finding {
    let folder = folder.map(|path| files::Folder::open(path).unwrap());
    let expected = Expected {
        typesetter: Some(&OwnPages),
        folder: folder.as_ref().map(|folder| folder as &dyn files::Source),
        ..Expected::default()
    };
    let found = verify(file, &expected).findings.into_iter();
    let mut found = found.filter(|finding| finding.question == Question::Pages);
    found.next().unwrap()
}

fn pages(file: &[u8]) -> Finding {
    pages_with(file, None)
}

#[track_caller]
fn answers(found: &Finding, answer: Answer, why: &str) {
    assert_eq!(found.answer, answer, "{found:?}");
    assert!(found.because.join("; ").contains(why), "{why}: {found:?}");
}

/// A small picture for a letterhead, as a PNG.
fn logo() -> Vec<u8> {
    let picture = image::RgbImage::from_fn(90, 30, |x, y| {
        image::Rgb([(x * 2) as u8, 90, (y * 8) as u8])
    });
    let mut png = std::io::Cursor::new(Vec::new());
    picture.write_to(&mut png, image::ImageFormat::Png).unwrap();
    png.into_inner()
}

fn with_shop(folder: &Folder, lines: &str) {
    let path = folder.file("shop.toml");
    let text = fs::read_to_string(&path).unwrap();
    let text = text.replace("paper = \"a4\"\n", "");
    fs::write(path, format!("{lines}\n{text}")).unwrap();
}

fn sealed(folder: &Folder) {
    let path = folder.path();
    let path = path.to_str().unwrap();
    for args in [&["seal", "baseline", path][..], &["seal", "retest", path]] {
        let made = match args[1] {
            "baseline" => story().signing(args),
            _ => run(args),
        };
        assert_eq!(made.code, 0, "{}", made.err);
    }
}

/// Sealed and signed, in several languages, on both papers, with photos, recordings, a logo
/// and second units.
#[test]
fn all_samples_are_set_again_to_the_last_byte() {
    for sample in names() {
        for lines in [
            "language = \"en\"\npaper = \"a4\"",
            "language = \"es\"\npaper = \"us-letter\"\nsecond_units = \"us-customary\"\n\
             logo = \"logo.png\"\naccent = \"#7a3b00\"",
        ] {
            let folder = Folder::copy_of(sample);
            fs::write(folder.file("logo.png"), logo()).unwrap();
            with_shop(&folder, lines);
            sealed(&folder);
            let report = story().report_of(&folder.path());
            let receipt = fs::read(folder.file("receipt.pdf")).unwrap();
            for file in [&report, &receipt] {
                answers(&pages(file), Answer::Yes, "the same to the last byte");
                let with = pages_with(file, Some(&folder.path()));
                answers(&with, Answer::Yes, "the same to the last byte");
            }
        }
    }
}

/// A broken seal and an amended one are printed too, and so is what is not sealed at all.
#[test]
fn broken_amended_and_unsealed_jobs_are_set_again() {
    let altered = fs::read(story().path("altered/report.pdf")).unwrap();
    answers(&pages(&altered), Answer::Yes, "");
    let job = story().copy();
    let path = job.path().to_str().unwrap();
    let file = job.path().join("baseline.toml");
    let text = fs::read_to_string(&file).unwrap();
    fs::write(&file, text.replacen("12.8", "12.9", 1)).unwrap();
    let made = story().signing(&["seal", "baseline", path, "--amend=typing error"]);
    assert_eq!(made.code, 0, "{}", made.err);
    let report = story().report_of(job.path());
    answers(&pages(&report), Answer::Yes, "");
    let receipt = fs::read(job.path().join("receipt-3.pdf")).unwrap();
    answers(&pages(&receipt), Answer::Yes, "");
    answers(&pages(&unsigned("frost-fan", &[])), Answer::Yes, "");
}

/// The unsigned report of a sample.
fn unsigned(sample: &str, more: &[&str]) -> Vec<u8> {
    let folder = Folder::copy_of(sample);
    let (path, output) = (folder.path(), folder.file("out.pdf"));
    let args = [
        "report",
        path.to_str().unwrap(),
        "--unsigned",
        "-o",
        output.to_str().unwrap(),
    ];
    let made = run(&[&args[..], more].concat());
    assert_eq!(made.code, 0, "{}", made.err);
    fs::read(output).unwrap()
}

/// `file` with something different in it, written anew.
fn changed(file: &[u8], change: impl FnOnce(&mut Document)) -> Vec<u8> {
    let mut document = Document::load_mem(file).unwrap();
    change(&mut document);
    let mut bytes = Vec::new();
    document.save_to(&mut bytes).unwrap();
    bytes
}

/// The array of names and specifications of the attachments.
fn names_of(document: &mut Document) -> &mut Vec<Object> {
    let at = |document: &Document, object: &Object| match object {
        Object::Reference(id) => document.get_dictionary(*id).unwrap().clone(),
        other => other.as_dict().unwrap().clone(),
    };
    let names = at(document, document.catalog().unwrap().get(b"Names").unwrap());
    assert!(matches!(
        names.get(b"EmbeddedFiles").unwrap(),
        Object::Dictionary(_)
    ));
    let names = match document.catalog().unwrap().get(b"Names").unwrap() {
        Object::Reference(id) => document.get_dictionary_mut(*id).unwrap(),
        _ => document
            .catalog_mut()
            .unwrap()
            .get_mut(b"Names")
            .unwrap()
            .as_dict_mut()
            .unwrap(),
    };
    let tree = names
        .get_mut(b"EmbeddedFiles")
        .unwrap()
        .as_dict_mut()
        .unwrap();
    tree.get_mut(b"Names").unwrap().as_array_mut().unwrap()
}

fn stream_of(document: &mut Document, name: &str) -> ObjectId {
    let pairs: Vec<Object> = names_of(document).clone();
    let pair = pairs
        .chunks(2)
        .find(|pair| lopdf::decode_text_string(&pair[0]).is_ok_and(|found| found == name));
    let specification = pair.unwrap_or_else(|| panic!("no {name}"))[1]
        .as_reference()
        .unwrap();
    let specification = document.get_dictionary(specification).unwrap();
    let files = specification.get(b"EF").unwrap().as_dict().unwrap();
    files.get(b"F").unwrap().as_reference().unwrap()
}

/// With another text in an attachment.
fn rewritten(document: &mut Document, name: &str, change: impl FnOnce(String) -> String) {
    let id = stream_of(document, name);
    let stream = document
        .get_object_mut(id)
        .unwrap()
        .as_stream_mut()
        .unwrap();
    let bytes = stream.get_plain_content().unwrap();
    let text = change(String::from_utf8(bytes).unwrap());
    stream.dict.remove(b"Filter");
    stream.set_content(text.into_bytes());
}

/// As if it had been set with the program's own form: no file of another is attached, and
/// `document.json` tells of none.
fn denying(file: &[u8]) -> Vec<u8> {
    changed(file, |document| {
        let names = names_of(document);
        let kept: Vec<Object> = names
            .chunks(2)
            .filter(|pair| {
                !lopdf::decode_text_string(&pair[0])
                    .unwrap()
                    .starts_with("form-")
            })
            .flatten()
            .cloned()
            .collect();
        *names = kept;
        rewritten(document, "document.json", |text| {
            let mut said: serde_json::Value = serde_json::from_str(&text).unwrap();
            said["own_form"] = serde_json::json!([]);
            serde_json::to_string_pretty(&said).unwrap() + "\n"
        });
    })
}

fn form(files: &[(&str, &str)]) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    for (name, text) in files {
        fs::write(folder.path().join(name), text).unwrap();
    }
    folder
}

/// Prints what it likes, over whatever readings there are.
const LIES: &str = "#let report(data) = {
  set page(paper: \"a4\")
  heading(level: 1)[Verified]
  [Crank time 2.4 s, 3 of 3 starts]
}
";

/// Attack (a): a template of one's own that prints “Verified, 2.4 s, 3 of 3”.
#[test]
fn a_template_that_prints_another_verdict_is_never_a_yes() {
    let own = form(&[("report.typ", LIES)]);
    let report = unsigned(
        "mill-gearbox",
        &["--template", own.path().to_str().unwrap()],
    );
    answers(&pages(&report), Answer::CannotTell, "form-report.typ");
    answers(
        &pages(&denying(&report)),
        Answer::No,
        "page 1 says “Verified",
    );
}

/// Attack (b): words of one's own.
#[test]
fn words_that_say_something_else_are_never_a_yes() {
    let words = "mark-undecided = Verified\nmark-not-verified = Verified\n";
    let own = form(&[("en.ftl", words)]);
    let report = unsigned(
        "mill-gearbox",
        &["--template", own.path().to_str().unwrap()],
    );
    answers(&pages(&report), Answer::CannotTell, "form-en.ftl");
    answers(&pages(&denying(&report)), Answer::No, "page 1 says “");
}

/// Attack (c): a receipt that looks like a report. What it is stands in it.
#[test]
fn a_receipt_that_looks_like_a_report_is_a_receipt() {
    let lies = LIES.replace("let report", "let receipt");
    let own = form(&[("receipt.typ", &lies)]);
    let folder = Folder::copy_of("mill-gearbox");
    let path = folder.path();
    let args = ["seal", "baseline", path.to_str().unwrap(), "--unsigned"];
    let made = run(&[&args[..], &["--template", own.path().to_str().unwrap()]].concat());
    assert_eq!(made.code, 0, "{}", made.err);
    let receipt = fs::read(folder.file("receipt.pdf")).unwrap();
    answers(&pages(&receipt), Answer::CannotTell, "form-receipt.typ");
    let denied = denying(&receipt);
    answers(&pages(&denied), Answer::No, "page 1 says “Verified");
    // Whatever it carries, it is what it says that it is.
    let as_report = changed(&denied, |document| {
        rewritten(document, "document.json", |text| {
            text.replace("\"receipt\"", "\"report\"")
        });
    });
    let found = verify(&as_report, &Expected::default());
    assert_eq!(found.answer(Question::Files), Answer::No, "{found:?}");
}

/// What the words do not show: the bytes do.
#[test]
fn every_other_change_is_a_no() {
    let report = unsigned("frost-fan", &[]);
    let root = |document: &Document| {
        document
            .trailer
            .get(b"Root")
            .unwrap()
            .as_reference()
            .unwrap()
    };
    let same = changed(&report, |_| {});
    let scripted = changed(&report, |document| {
        let root = root(document);
        let action =
            dictionary! { "S" => "JavaScript", "JS" => Object::string_literal("app.alert(1)") };
        document
            .get_dictionary_mut(root)
            .unwrap()
            .set("OpenAction", action);
    });
    let hidden = changed(&report, |document| {
        let root = root(document);
        let layers = dictionary! { "OCGs" => Vec::<Object>::new(), "D" => Dictionary::new() };
        document
            .get_dictionary_mut(root)
            .unwrap()
            .set("OCProperties", layers);
    });
    let covered = changed(&report, |document| {
        let page = document.page_iter().next().unwrap();
        let paint = Stream::new(Dictionary::new(), b"1 g 0 0 600 800 re f".to_vec());
        let paint = document.add_object(paint);
        let dictionary = document.get_dictionary_mut(page).unwrap();
        let under = dictionary.get(b"Contents").unwrap().clone();
        dictionary.set("Contents", vec![under, Object::Reference(paint)]);
    });
    for file in [same, scripted, hidden, covered] {
        answers(&pages(&file), Answer::No, "its structure differs");
    }
    let swapped = changed(&report, |document| {
        let pages: Vec<ObjectId> = document.page_iter().collect();
        let other = document
            .get_dictionary(pages[1])
            .unwrap()
            .get(b"Contents")
            .unwrap()
            .clone();
        document
            .get_dictionary_mut(pages[0])
            .unwrap()
            .set("Contents", other);
    });
    assert_eq!(pages(&swapped).answer, Answer::No);
}

/// A picture that is not the photo that was sealed shows where the photo is at hand.
#[test]
fn another_picture_shows_beside_the_folder() {
    let folder = Folder::copy_of("frost-fan");
    let report = unsigned("frost-fan", &[]);
    answers(&pages(&report), Answer::Yes, "was not compared");
    let with = pages_with(&report, Some(&folder.path()));
    answers(&with, Answer::Yes, "those of the folder, scaled again");
    // A shop that prints another picture makes its whole document from it.
    let other = Folder::copy_of("frost-fan");
    fs::copy(
        other.file("photos/old-line.jpg"),
        other.file("photos/filter-after.jpg"),
    )
    .unwrap();
    let lie = pages_with(&report, Some(&other.path()));
    // Its digest is not the one that was listed: that is a question of its own.
    answers(&lie, Answer::Yes, "");
}

#[test]
fn what_another_version_made_cannot_be_told() {
    let report = unsigned("frost-fan", &[]);
    let older = changed(&report, |document| {
        rewritten(document, "document.json", |text| {
            text.replace(
                concat!("retestify ", env!("CARGO_PKG_VERSION")),
                "retestify 9.9.9",
            )
        });
    });
    answers(
        &pages(&older),
        Answer::CannotTell,
        "it was made by retestify 9.9.9",
    );
    let no_mark = |tool: &str| {
        changed(&report, |document| {
            let names = names_of(document);
            let kept = names
                .chunks(2)
                .filter(|pair| lopdf::decode_text_string(&pair[0]).unwrap() != "document.json");
            *names = kept.flatten().cloned().collect();
            rewritten(document, "result.json", |text| {
                text.replace(concat!("retestify ", env!("CARGO_PKG_VERSION")), tool)
            });
        })
    };
    answers(
        &pages(&no_mark("retestify 0.3.0")),
        Answer::CannotTell,
        "it was made by retestify 0.3.0",
    );
    let this = concat!("retestify ", env!("CARGO_PKG_VERSION"));
    answers(&pages(&no_mark(this)), Answer::No, "a report must");
}

/// What was signed and no longer is: the pages still name the signer.
#[test]
fn a_signature_that_was_cut_off_leaves_a_trace() {
    let report = &story().report;
    let end = report
        .windows(6)
        .position(|window| window == b"%%EOF\n" || window == b"%%EOF\r");
    let end = end.unwrap() + 5;
    let first = &report[..end];
    answers(&pages(first), Answer::No, "its signature was taken away");
}
