//! A small sound file, of which one thing at a time is made different.

use super::*;

/// A file of these objects, each of which stands where its table says.
fn file(objects: &[&str], trailer: &str) -> String {
    let mut text = "%PDF-1.7\n%\u{a7}\u{a7}\n".to_owned();
    let mut places = Vec::new();
    for object in objects {
        places.push(text.len());
        text += object;
    }
    let table = text.len();
    text += &format!("xref\n0 {}\n0000000000 65535 f\r\n", places.len() + 1);
    for place in &places {
        text += &format!("{place:010} 00000 n\r\n");
    }
    let size = places.len() + 1;
    text + &format!("trailer\n<</Size {size}{trailer}>>\nstartxref\n{table}\n%%EOF")
}

const CATALOG: &str = "1 0 obj\n<</Type/Catalog/Pages 2 0 R>>\nendobj\n";
const PAGES: &str = "2 0 obj\n<</Type/Pages/Kids[3 0 R]/Count 1>>\nendobj\n";
const PAGE: &str = "3 0 obj\n<</Type/Page/Parent 2 0 R>>\nendobj\n";
const STREAM: &str = "4 0 obj\n<</Length 3>>\nstream\nabc\nendstream\nendobj\n";
const SOUND: [&str; 4] = [CATALOG, PAGES, PAGE, STREAM];

fn read(text: &str) -> Result<usize, FormError> {
    Pdf::read(text.as_bytes()).map(|pdf| pdf.revisions)
}

fn sound() -> String {
    file(&SOUND, "/Root 1 0 R")
}

#[test]
fn a_sound_file_is_read_to_its_last_byte() {
    assert_eq!(read(&sound()), Ok(1));
    assert_eq!(read(&(sound() + "\n")), Ok(1));
    // As `render` writes a stream that ends in a carriage return.
    let returned = sound().replace("abc\n", "ab\r\r");
    assert_eq!(read(&returned), Ok(1));
    assert!(read(&sound().replace("abc\n", "abc\r")).is_err());
    let text = sound();
    let pdf = Pdf::read(text.as_bytes()).unwrap();
    assert_eq!(pdf.object(4).unwrap().stream, Some(&b"abc"[..]));
    for length in 0..text.len() {
        assert!(Pdf::read(&text.as_bytes()[..length]).is_err(), "{length}");
    }
}

/// Each of these is mended by some reader, or read in two ways.
#[test]
fn what_a_reader_would_have_to_mend_is_refused() {
    let text = sound();
    let place = |number: &str| format!("{:010}", text.find(&format!("{number} 0 obj")).unwrap());
    let of = |from: &str, to: &str| {
        assert!(text.contains(from), "{from}");
        text.replacen(from, to, 1)
    };
    for (name, wrong) in [
        (
            "a table that points elsewhere",
            of(&place("2"), &place("3")),
        ),
        ("a table that names one object less", of("0 5", "0 4")),
        ("a later generation", of("00000 n", "00001 n")),
        ("an object that is free", of("00000 n", "00000 f")),
        (
            "another place of the table",
            of("startxref\n", "startxref\n1"),
        ),
        (
            "a key that spells the end",
            of("/Size", "/A(startxref\n9\n)/Size"),
        ),
        (
            "a table as a stream beside it",
            of("/Size", "/XRefStm 9/Size"),
        ),
        ("a table before the first", of("/Size", "/Prev 9/Size")),
        ("encryption", of("/Size", "/Encrypt 3 0 R/Size")),
        ("too small a size", of("/Size 5", "/Size 4")),
        ("a comment", of("2 0 obj", "%x\n2 0 obj")),
        ("something between two objects", of("2 0 obj", "x\n2 0 obj")),
        ("a stream that is longer", of("abc", "abcd")),
        (
            "a stream that ends within",
            of(
                "/Length 3>>\nstream\n",
                "/Length 16>>\nstream\nx\nendstream\nx\n",
            ),
        ),
        ("a file beside it", of("/Length 3", "/Length 3/F(x)")),
        ("a key twice", of("/Count 1", "/Count 1/Count 2")),
        (
            "two streams in one object",
            of("endstream", "endstream stream\nabc\nendstream"),
        ),
    ] {
        assert!(read(&wrong).is_err(), "{name}: {wrong}");
    }
    // Objects, each in its place, but one of them twice.
    let twice = file(&[CATALOG, PAGES, PAGE, PAGE], "/Root 1 0 R");
    let error = FormError("an object stands twice in it");
    assert_eq!(read(&twice), Err(error));
}

/// `sound` with so many revisions behind it, each of which adds an object.
fn revised(times: usize) -> String {
    let mut text = sound() + "\n";
    let mut before = text.find("xref\n0").unwrap();
    for number in 5..5 + times {
        let place = text.len();
        text += &format!("{number} 0 obj 1 endobj\n");
        let table = text.len();
        let size = number + 1;
        text += &format!(
            "xref\n{number} 1\n{place:010} 00000 n\r\n\
             trailer\n<</Size {size}/Root 1 0 R/Prev {before}>>\nstartxref\n{table}\n%%EOF\n"
        );
        before = table;
    }
    text
}

/// One more than a signed document has is counted, so that it can be told; no more are read.
#[test]
fn revisions_are_counted_up_to_three() {
    assert_eq!(read(&revised(0)), Ok(1));
    assert_eq!(read(&revised(2)), Ok(3));
    let error = FormError("it has more revisions than a signed report");
    assert_eq!(read(&revised(3)), Err(error));
}

#[test]
fn a_place_is_written_in_digits() {
    assert_eq!(entry_of(b"0000000012 00000 n\r\n"), Some(Some(12)));
    for wrong in [b"+000000012 00000 n\r\n", b"0000000012 +0000 n\r\n"] {
        assert_eq!(entry_of(wrong), None);
    }
}

#[test]
fn nothing_runs_hides_or_prints_otherwise() {
    let with = |from: &str, to: &str| {
        let objects = SOUND.map(|object| object.replacen(from, to, 1));
        read(&file(
            &objects.each_ref().map(String::as_str),
            "/Root 1 0 R",
        ))
    };
    for (from, to) in [
        ("/Catalog", "/Catalog/OpenAction<</S/JavaScript/JS(x)>>"),
        ("/Catalog", "/Catalog/OCProperties<<>>"),
        ("/Catalog", "/Catalog/AcroForm<</Fields[]>>"),
        ("/Catalog", "/Catalog/Names<</JavaScript<<>>>>"),
        ("/Catalog", "/Catalog/AF[3 0 R]"),
        ("/Catalog", "/Catalog/Unknown 1"),
        ("/Page/", "/Page/AA<<>>/"),
        ("/Page/", "/Page/Annots[4 0 R]/"),
        ("/Page/", "/Page/Annots 4 0 R/"),
        ("/Page/", "/Page/Rotate 180/"),
        ("/Page/", "/Page/Resources<</Properties<</a<</OC 1>>>>>>/"),
        ("/Page/", "/Page/Resources<</ExtGState<</a<</TR 1>>>>>>/"),
        ("/Page/", "/Page/Resources[<</EF<<>>>>]/"),
        ("/Page/", "/Page/Resources<</A<</S/Launch>>>>/"),
        ("[3 0 R]", "[3 0 R 3 0 R]"),
        ("[3 0 R]", "[2 0 R]"),
        ("[3 0 R]", "[4 0 R]"),
        ("<</Length 3", "<</Linearized 1/Length 3"),
        ("<</Length 3", "<</EF<<>>/Length 3"),
        ("<</Length 3", "<</Type/ObjStm/Length 3"),
    ] {
        assert!(with(from, to).is_err(), "{to}");
    }
    // A shop's own template may have links.
    let link = |more: &str| {
        let page = PAGE.replace("/Page/", "/Page/Annots[5 0 R]/");
        let link = format!("5 0 obj\n<</Type/Annot/Subtype/Link/Rect[0 0 1 1]{more}>>\nendobj\n");
        read(&file(
            &[CATALOG, PAGES, &page, STREAM, &link],
            "/Root 1 0 R",
        ))
    };
    assert_eq!(link(""), Ok(1));
    assert_eq!(
        link("/A<</Type/Action/S/URI/URI(https://example.org)>>"),
        Ok(1)
    );
    assert!(link("/A<</S/GoTo/D(x)/Next<<>>>>").is_err());
    assert!(link("/AP<<>>").is_err());
}

/// More objects, and more free numbers, than any report has.
#[test]
fn objects_are_counted() {
    let many = |count: usize| {
        let rest: Vec<String> = (4..=count)
            .map(|number| format!("{number} 0 obj 1 endobj\n"))
            .collect();
        let mut all = vec![CATALOG, PAGES, PAGE];
        all.extend(rest.iter().map(String::as_str));
        read(&file(&all, "/Root 1 0 R"))
    };
    assert_eq!(many(MOST_OBJECTS), Ok(1));
    assert!(many(MOST_OBJECTS + 1).is_err());
    let free = |count: usize| {
        let entries = "0000000000 00000 f\r\n".repeat(count);
        sound().replacen("trailer", &format!("5 {count}\n{entries}trailer"), 1)
    };
    assert_eq!(read(&free(MOST_OBJECTS - 1)), Ok(1));
    assert!(read(&free(MOST_OBJECTS)).is_err());
    let endless = sound().replacen("trailer", "5 99999999999999\ntrailer", 1);
    assert!(read(&endless).is_err());
}
