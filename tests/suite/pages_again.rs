//! Do the pages show what was judged? Every document that the program makes is set again to
//! the last byte; whatever else somebody prints, hides or changes is not.

use std::fs;
use std::io::Write as _;
use std::path::Path;

use flate2::Compression;
use flate2::write::ZlibEncoder;
use lopdf::{Document, ObjectId};
use retestify::document::OwnPages;
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

pub fn with_shop(folder: &Folder, lines: &str) {
    let path = folder.file("shop.toml");
    let text = fs::read_to_string(&path).unwrap();
    let is_set = |line: &str| {
        let key = line.split(" = ").next().unwrap_or(line);
        lines
            .lines()
            .any(|set| set.split(" = ").next() == Some(key))
    };
    let others: Vec<&str> = text.lines().filter(|line| !is_set(line)).collect();
    fs::write(path, format!("{lines}\n{}\n", others.join("\n"))).unwrap();
}

pub fn sealed(folder: &Folder) {
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

/// `file` with other bytes in a stream, and else of exactly the form that this program
/// writes: its table is repaired.
fn with_stream(file: &[u8], id: ObjectId, change: impl FnOnce(Vec<u8>) -> Vec<u8>) -> Vec<u8> {
    let document = Document::load_mem(file).unwrap();
    let stream = document.get_object(id).unwrap().as_stream().unwrap();
    let plain = change(stream.get_plain_content().unwrap());
    let mut packed = ZlibEncoder::new(Vec::new(), Compression::default());
    packed.write_all(&plain).unwrap();
    let packed = packed.finish().unwrap();
    let place = |pattern: &str, from: usize| {
        let pattern = pattern.as_bytes();
        let found = file[from..]
            .windows(pattern.len())
            .position(|window| window == pattern);
        from + found.unwrap_or_else(|| panic!("no {}", String::from_utf8_lossy(pattern)))
    };
    let start = place(&format!("\n{} 0 obj\n", id.0), 0) + 1;
    let data = place("stream\n", start) + "stream\n".len();
    let end = data + stream.content.len();
    let head = String::from_utf8(file[start..data].to_vec()).unwrap();
    let length = |bytes: usize| format!("/Length {bytes}");
    let head = head.replace(&length(stream.content.len()), &length(packed.len()));
    let mut new = [&file[..start], head.as_bytes(), &packed, &file[end..]].concat();
    let moved = new.len() as i64 - file.len() as i64;
    // Whatever stands behind it has moved; the table is the last of it.
    let table = place("\nxref\n", end) + 1;
    let shifted = |at: i64| if at > start as i64 { at + moved } else { at };
    let new_table = usize::try_from(shifted(table as i64)).unwrap();
    let tail = String::from_utf8(new[new_table..].to_vec()).unwrap();
    let lines = tail.split_inclusive('\n').map(|line| {
        let number = line.get(..10).and_then(|digits| digits.parse::<i64>().ok());
        match number {
            Some(at) if line.len() == 20 => format!("{:010}{}", shifted(at), &line[10..]),
            _ if line.trim_end().parse() == Ok(table) => format!("{new_table}\n"),
            _ => line.to_owned(),
        }
    });
    let tail: String = lines.collect();
    new.truncate(new_table);
    new.extend(tail.bytes());
    new
}

/// The stream of an attachment.
fn stream_of(file: &[u8], name: &str) -> ObjectId {
    let document = Document::load_mem(file).unwrap();
    let found = document.objects.values().find_map(|object| {
        let specification = object.as_dict().ok()?;
        let files = specification.get(b"EF").ok()?.as_dict().ok()?;
        let own = lopdf::decode_text_string(specification.get(b"F").ok()?).ok()?;
        (own == name).then(|| files.get(b"F").unwrap().as_reference().unwrap())
    });
    found.unwrap_or_else(|| panic!("no {name}"))
}

/// With another text in an attachment.
fn rewritten(file: &[u8], name: &str, change: impl FnOnce(String) -> String) -> Vec<u8> {
    let change = |bytes| change(String::from_utf8(bytes).unwrap()).into_bytes();
    with_stream(file, stream_of(file, name), change)
}

/// As if it had been set with the program's own form.
fn denying(file: &[u8]) -> Vec<u8> {
    rewritten(file, "document.json", |text| {
        let from = text.find("\"own_form\": [").unwrap();
        let to = from + text[from..].find(']').unwrap() + 1;
        format!("{}\"own_form\": []{}", &text[..from], &text[to..])
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
        "page 1 says “Set with the shop",
    );
}

/// With nothing on its first page.
fn with_empty_page_1(file: &[u8]) -> Vec<u8> {
    let document = Document::load_mem(file).unwrap();
    let page = document.page_iter().next().unwrap();
    let page = document.get_dictionary(page).unwrap();
    let content = page.get(b"Contents").unwrap().as_reference().unwrap();
    with_stream(file, content, |_| Vec::new())
}

/// Page 1 is the program's own: it says that a form of the shop's was used, with the verdict
/// and the figures that its readings give. Who takes that away is found out.
#[test]
fn the_page_before_a_shops_own_form_cannot_be_taken_away() {
    let own = form(&[("report.typ", LIES)]);
    let template = ["--template", own.path().to_str().unwrap()];
    let report = unsigned("mill-gearbox", &template);
    let page_1 = &crate::pages::texts(&report)[0];
    for said in [
        "Set with the shop's own form",
        "can print anything",
        "form-report.typ",
    ] {
        assert!(page_1.contains(&crate::pages::bare(said)), "{page_1}");
    }
    assert!(!page_1.contains(&crate::pages::bare("Crank time 2.4 s")));
    let plain = unsigned("mill-gearbox", &[]);
    let headline = verify(&plain, &Expected::default()).document.unwrap();
    let headline = headline.told.unwrap().says;
    assert!(page_1.contains(&crate::pages::bare(&headline)), "{page_1}");
    let empty = with_empty_page_1(&report);
    answers(&pages(&empty), Answer::No, "the page is missing or changed");
    // In the shop's language.
    let spanish = form(&[(
        "theme.typ",
        include_str!("../../report-templates/theme.typ"),
    )]);
    let folder = Folder::copy_of("mill-gearbox");
    let shop = folder.read("shop.toml");
    let line = shop.lines().find(|line| line.starts_with("language"));
    let shop = line.map_or_else(|| shop.clone(), |line| shop.replace(line, ""));
    folder.write("shop.toml", format!("language = \"es\"\n{shop}"));
    let path = folder.path();
    let args = ["report", path.to_str().unwrap(), "--unsigned"];
    let made = run(&[&args[..], &["--template", spanish.path().to_str().unwrap()]].concat());
    assert_eq!(made.code, 0, "{}", made.err);
    let report = fs::read(folder.file("report.pdf")).unwrap();
    answers(&pages(&report), Answer::CannotTell, "form-theme.typ");
    let page_1 = &crate::pages::texts(&report)[0];
    let said = crate::pages::bare("Hecho con el formulario propio del taller");
    assert!(page_1.starts_with(&said), "{page_1}");
}

const OTHER_WORDS: &str = "mark-undecided = Verified
mark-not-verified = Verified
";

/// Attack (b): words of one's own.
#[test]
fn words_that_say_something_else_are_never_a_yes() {
    let own = form(&[("en.ftl", OTHER_WORDS)]);
    let report = unsigned(
        "mill-gearbox",
        &["--template", own.path().to_str().unwrap()],
    );
    answers(&pages(&report), Answer::CannotTell, "form-en.ftl");
    answers(&pages(&denying(&report)), Answer::No, "page 1 says “");
}

/// A receipt with a template of its own that looks like a report.
fn dressed_up_receipt() -> Vec<u8> {
    let lies = LIES.replace("let report", "let receipt");
    let own = form(&[("receipt.typ", &lies)]);
    let folder = Folder::copy_of("mill-gearbox");
    let path = folder.path();
    let args = ["seal", "baseline", path.to_str().unwrap(), "--unsigned"];
    let made = run(&[&args[..], &["--template", own.path().to_str().unwrap()]].concat());
    assert_eq!(made.code, 0, "{}", made.err);
    fs::read(folder.file("receipt.pdf")).unwrap()
}

/// Attack (c): a receipt that looks like a report. What it is stands in it.
#[test]
fn a_receipt_that_looks_like_a_report_is_a_receipt() {
    let receipt = dressed_up_receipt();
    answers(&pages(&receipt), Answer::CannotTell, "form-receipt.typ");
    let kind = |file: &[u8]| verify(file, &Expected::default()).document.unwrap().kind;
    assert_eq!(kind(&receipt), "receipt");
    let denied = denying(&receipt);
    answers(&pages(&denied), Answer::No, "page 1 says “Set with");
    // Whatever it carries, it is what it says that it is.
    let report = |text: String| text.replace("\"receipt\"", "\"report\"");
    let as_report = rewritten(&denied, "document.json", report);
    assert_eq!(kind(&as_report), "report");
    let found = verify(&as_report, &Expected::default());
    assert_eq!(found.answer(Question::Files), Answer::No, "{found:?}");
}

/// What the words do not show: the bytes do.
#[test]
fn a_change_that_no_word_shows_is_a_no() {
    let report = unsigned("frost-fan", &[]);
    let document = Document::load_mem(&report).unwrap();
    let pages_of: Vec<ObjectId> = document.page_iter().collect();
    let content = |page: ObjectId| {
        let page = document.get_dictionary(page).unwrap();
        page.get(b"Contents").unwrap().as_reference().unwrap()
    };
    let covered = with_stream(&report, content(pages_of[0]), |mut bytes| {
        bytes.extend(b"\n1 g 0 0 600 800 re f");
        bytes
    });
    answers(&pages(&covered), Answer::No, "its structure differs");
    // The same bytes, packed again, are not the same document.
    let same = with_stream(&report, content(pages_of[0]), |bytes| bytes);
    if same != report {
        answers(&pages(&same), Answer::No, "its structure differs");
    }
    let other = document.get_object(content(pages_of[1])).unwrap();
    let other = other.as_stream().unwrap().get_plain_content().unwrap();
    let swapped = with_stream(&report, content(pages_of[0]), |_| other);
    answers(&pages(&swapped), Answer::No, "page 1 says “");
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
    answers(&lie, Answer::Yes, "those that it has not were not compared");
}

#[test]
fn what_another_version_made_cannot_be_told() {
    let report = unsigned("frost-fan", &[]);
    let this = concat!("retestify ", env!("CARGO_PKG_VERSION"));
    let other = |text: String| text.replace(this, "retestify 9.9.9");
    let older = rewritten(&report, "document.json", other);
    answers(
        &pages(&older),
        Answer::CannotTell,
        "it was made by retestify 9.9.9",
    );
    let nonsense = rewritten(&report, "document.json", |_| "nonsense".to_owned());
    answers(
        &pages(&nonsense),
        Answer::No,
        "does not say what document it is",
    );
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

/// Makes the forged documents of `tests/vectors`, in the folder `MAKE_VECTORS`.
#[test]
#[ignore = "only for tests/vectors/make"]
fn forged_documents() {
    let folder = std::env::var_os("MAKE_VECTORS").expect("the folder of the vectors");
    let with = |folder: &tempfile::TempDir| {
        denying(&unsigned(
            "mill-gearbox",
            &["--template", folder.path().to_str().unwrap()],
        ))
    };
    let own = form(&[("report.typ", LIES)]);
    let template = ["--template", own.path().to_str().unwrap()];
    for (name, bytes) in [
        (
            "page-before",
            with_empty_page_1(&unsigned("mill-gearbox", &template)),
        ),
        ("template", with(&form(&[("report.typ", LIES)]))),
        ("words", with(&form(&[("en.ftl", OTHER_WORDS)]))),
        ("receipt", denying(&dressed_up_receipt())),
    ] {
        assert_eq!(pages(&bytes).answer, Answer::No, "{name}");
        fs::write(Path::new(&folder).join(format!("forged-{name}.pdf")), bytes).unwrap();
    }
}
