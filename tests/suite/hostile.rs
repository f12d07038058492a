//! Files made to hang, exhaust or deceive whoever opens them. Each must be answered in
//! little time and little memory, and none with yes.

use std::io::Write;
use std::time::{Duration, Instant};

use lopdf::{Dictionary, Document, Object, Stream, dictionary};
use retestify::verification::{Answer, Expected, Question, Verification, seal_of_receipt, verify};

/// A minimal document that carries files, with whatever `change` adds to its catalog.
fn carrier(
    files: Vec<(Vec<u8>, Stream)>,
    change: impl FnOnce(&mut Document, &mut Dictionary),
) -> Vec<u8> {
    let mut document = Document::with_version("1.7");
    document.reference_table.cross_reference_type = lopdf::xref::XrefType::CrossReferenceTable;
    let pages = document.new_object_id();
    let page = document.add_object(dictionary! { "Type" => "Page", "Parent" => pages });
    document.objects.insert(
        pages,
        Object::Dictionary(dictionary! {
            "Type" => "Pages", "Count" => 1, "Kids" => vec![Object::Reference(page)],
        }),
    );
    let mut names = Vec::new();
    for (name, stream) in files {
        let file = document.add_object(stream);
        let text = Object::String(name.clone(), lopdf::StringFormat::Hexadecimal);
        names.push(text);
        let specification = document.add_object(dictionary! {
            "Type" => "Filespec",
            "F" => Object::String(name.clone(), lopdf::StringFormat::Hexadecimal),
            "UF" => Object::String(name, lopdf::StringFormat::Hexadecimal),
            "EF" => dictionary! { "F" => file, "UF" => file },
        });
        names.push(Object::Reference(specification));
    }
    let mut catalog = dictionary! {
        "Type" => "Catalog",
        "Pages" => pages,
        "Names" => dictionary! { "EmbeddedFiles" => dictionary! { "Names" => names } },
    };
    change(&mut document, &mut catalog);
    let catalog = document.add_object(catalog);
    document.trailer.set("Root", catalog);
    let mut bytes = Vec::new();
    document.save_to(&mut bytes).unwrap();
    bytes
}

fn plain(name: &str, bytes: &[u8]) -> (Vec<u8>, Stream) {
    (
        name.as_bytes().to_vec(),
        Stream::new(Dictionary::new(), bytes.to_vec()),
    )
}

fn deflated(zeros: usize) -> Vec<u8> {
    let mut encoder = flate2::write::ZlibEncoder::new(Vec::new(), flate2::Compression::best());
    let chunk = vec![0; 1 << 20];
    for _ in 0..zeros >> 20 {
        encoder.write_all(&chunk).unwrap();
    }
    encoder.finish().unwrap()
}

/// Verifies within the time that the specification gives any file.
fn answered(file: &[u8]) -> Verification {
    let start = Instant::now();
    let found = verify(file, &Expected::default());
    let _ = seal_of_receipt(file);
    let took = start.elapsed();
    assert!(took < Duration::from_secs(10), "took {took:?}");
    assert_ne!(found.overall(), Answer::Yes);
    found
}

#[test]
fn the_carrier_itself_is_read() {
    let found = answered(&carrier(vec![plain("a.txt", b"a")], |_, _| {}));
    assert_eq!(found.answer(Question::Intact), Answer::CannotTell);
    assert_eq!(found.answer(Question::Files), Answer::No);
    let said = format!("{found:?}");
    assert!(said.contains("a.txt should not be attached"), "{said}");
}

/// Two keys of one file specification that two readers would follow.
#[test]
fn a_file_under_two_names_or_of_two_streams_is_refused() {
    let sound = carrier(vec![plain("a.txt", b"a")], |_, _| {});
    for (from, to) in [
        ("/F<612E747874>", "/F<622E747874>"),
        ("/UF<612E747874>", "/UF<622E747874>"),
    ] {
        let at = sound
            .windows(from.len())
            .position(|window| window.eq_ignore_ascii_case(from.as_bytes()))
            .unwrap();
        let mut other = sound.clone();
        // Of the same length: nothing moves.
        other.splice(at..at + from.len(), to.bytes());
        let found = answered(&other);
        assert_eq!(found.answer(Question::Files), Answer::No);
        assert!(format!("{found:?}").contains("attachments cannot be read"));
    }
}

/// One object that a table names many times, and a file of empty arrays.
#[test]
fn what_multiplies_memory_is_refused_before_it_is_read() {
    let object = format!("1 0 obj\n[{}]\nendobj\n", "[]".repeat(50_000));
    let mut file = format!("%PDF-1.7\n{object}");
    let at = file.len();
    file += "xref\n0 201\n0000000000 65535 f \n";
    file += &"0000000009 00000 n \n".repeat(200);
    file += &format!("trailer\n<</Size 201/Root 1 0 R>>\nstartxref\n{at}\n%%EOF");
    let found = answered(file.as_bytes());
    assert!(format!("{found:?}").contains("not a PDF of the form"));
}

/// One gigabyte of zeros in a megabyte; and the same wrapped once more.
#[test]
fn decompression_bombs_stay_packed() {
    let bomb = deflated(1 << 30);
    let once = Stream::new(dictionary! { "Filter" => "FlateDecode" }, bomb.clone());
    let mut encoder = flate2::write::ZlibEncoder::new(Vec::new(), flate2::Compression::best());
    encoder.write_all(&bomb).unwrap();
    let filters = vec![Object::from("FlateDecode"), Object::from("FlateDecode")];
    let twice = Stream::new(
        dictionary! { "Filter" => filters },
        encoder.finish().unwrap(),
    );
    for stream in [once, twice] {
        let found = answered(&carrier(vec![(b"x".to_vec(), stream)], |_, _| {}));
        assert_eq!(found.answer(Question::Files), Answer::No);
    }
    // As an object stream, which is unpacked while a document is loaded.
    let objects = Stream::new(
        dictionary! { "Type" => "ObjStm", "N" => 1, "First" => 4, "Filter" => "FlateDecode" },
        bomb,
    );
    answered(&carrier(Vec::new(), |document, _| {
        document.add_object(objects);
    }));
}

/// What is wrong is compared with all that was wrong before, and a reading is looked for among
/// all others: both only up to a number.
#[test]
fn wrong_keys_and_needless_readings_are_not_all_compared() {
    let sample = |name: &str| {
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/samples/frost-fan/");
        std::fs::read_to_string(format!("{folder}{name}")).unwrap()
    };
    let keys: String = (0..60_000).map(|key| format!("k{key:05} = 1\n")).collect();
    let readings: String = (0..50_000).map(|id| format!("[reading.k{id}]\n")).collect();
    let shop = include_str!("../../samples/shop.toml").to_owned();
    let files = [
        ("shop.toml", shop),
        ("job.toml", sample("job.toml")),
        ("limits.toml", keys.clone() + &sample("limits.toml")),
        ("baseline.toml", sample("baseline.toml") + &readings),
        ("work.toml", keys + &sample("work.toml")),
        ("retest.toml", sample("retest.toml") + &readings),
        ("result.json", "{}".to_owned()),
    ];
    let files = files
        .iter()
        .map(|(name, text)| plain(name, text.as_bytes()))
        .collect();
    let found = answered(&carrier(files, |_, _| {}));
    assert_ne!(found.answer(Question::Result), Answer::Yes);
}

#[test]
fn a_hundred_thousand_attachments_are_not_unpacked() {
    let file = carrier(Vec::new(), |document, catalog| {
        let stream = document.add_object(Stream::new(Dictionary::new(), b"x".to_vec()));
        let names: Vec<Object> = (0..100_000)
            .flat_map(|number| {
                [
                    Object::string_literal(format!("{number:06}")),
                    Object::Dictionary(dictionary! { "EF" => dictionary! { "F" => stream } }),
                ]
            })
            .collect();
        catalog.set(
            "Names",
            dictionary! { "EmbeddedFiles" => dictionary! { "Names" => names } },
        );
    });
    assert_eq!(answered(&file).answer(Question::Files), Answer::No);
}

#[test]
fn loops_of_references_end() {
    let tree = carrier(Vec::new(), |document, catalog| {
        let id = document.new_object_id();
        document.objects.insert(
            id,
            Object::Dictionary(dictionary! { "Kids" => vec![Object::Reference(id)] }),
        );
        catalog.set("Names", dictionary! { "EmbeddedFiles" => id });
    });
    assert_eq!(answered(&tree).answer(Question::Files), Answer::No);
    let chain = carrier(Vec::new(), |document, catalog| {
        let (one, other) = (document.new_object_id(), document.new_object_id());
        document.objects.insert(one, Object::Reference(other));
        document.objects.insert(other, Object::Reference(one));
        catalog.set("Names", one);
        catalog.set("AcroForm", other);
    });
    answered(&chain);
    // A table that names itself as the one before it.
    let sound = carrier(Vec::new(), |_, _| {});
    let text = String::from_utf8_lossy(&sound).into_owned();
    let at = text.find("xref").unwrap();
    let looped = text.replace("/Root", &format!("/Prev {at}/Root"));
    answered(looped.as_bytes());
}

#[test]
fn deep_nesting_is_refused() {
    for (open, close) in [("[", "]"), ("<<", ">>"), ("<</A ", ">>"), ("(", ")")] {
        for depth in [100, 100_000] {
            let inner = format!("{}{}", open.repeat(depth), close.repeat(depth));
            let file = format!(
                "%PDF-1.7\n1 0 obj\n<</Type/Catalog/Names {inner}>>\nendobj\nxref\n0 2\n\
                 0000000000 65535 f \n0000000009 00000 n \ntrailer\n<</Size 2/Root 1 0 R>>\n\
                 startxref\n{}\n%%EOF",
                9 + 7 + 23 + inner.len() + 2 + 8
            );
            answered(file.as_bytes());
        }
    }
}

#[test]
fn names_that_lead_out_or_hide_are_shown_as_they_are_and_never_used() {
    let names = [
        "../../etc/passwd",
        "/etc/passwd",
        "1-baseline.sha256\n",
        "a(b)c\\.toml",
        "\u{202e}lmot.boj",
        "con",
    ];
    let files = names
        .iter()
        .map(|name| {
            let mut bytes = vec![0xFE, 0xFF];
            bytes.extend(name.encode_utf16().flat_map(u16::to_be_bytes));
            (bytes, Stream::new(Dictionary::new(), b"x".to_vec()))
        })
        .collect();
    let found = answered(&carrier(files, |_, _| {}));
    let said = format!("{found:?}");
    assert!(!said.contains('\n') && !said.contains('\u{202e}'), "{said}");
    let twice = vec![plain("job.toml", b"a"), plain("job.toml", b"b")];
    let found = answered(&carrier(twice, |_, _| {}));
    assert_eq!(found.answer(Question::Files), Answer::No);
    assert!(format!("{found:?}").contains("two attachments called"));
}

#[test]
fn nonsense_of_every_kind_is_answered() {
    let seed =
        b"%PDF-1.7 /ByteRange[0 1 2 3]/Contents<30030201FF> obj stream xref trailer startxref";
    for length in 0..seed.len() {
        answered(&seed[..length]);
    }
    answered(&[b"%PDF-1.7\n".as_slice(), &[0xFF; 1 << 16]].concat());
    answered(&b"/ByteRange[".repeat(50_000));
    answered(&b"1 0 obj<<>>endobj ".repeat(100_000));
}
