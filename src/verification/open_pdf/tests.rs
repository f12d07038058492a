//! Sound documents, of which one thing at a time is made different.

use lopdf::{Dictionary, Document, IncrementalDocument, Object, ObjectId, Stream, dictionary};

use super::*;
use crate::signature::find_field;
use crate::signature::sign;
use crate::signature::test_parties::{Plan, now};
use crate::verification::test_documents::{Files, PLACE};

/// What is made different in a document.
type Change<'a> = &'a dyn Fn(&mut Document);

/// A signed receipt, and the place of its signature.
fn signed() -> (Vec<u8>, Field) {
    let shop = Plan::signer("Bench").make(1, None).identity(&[]);
    let when = now().fixed_offset();
    let file = sign(Files::receipt().pdf(), PLACE, "x", &shop, when, None).unwrap();
    let field = find_field(&file).unwrap();
    (file, field)
}

/// The objects with the key `key`, which must be some.
fn having(document: &mut Document, key: &[u8]) -> Vec<ObjectId> {
    let with_key = document
        .objects
        .iter()
        .filter(|(_, object)| object.as_dict().is_ok_and(|found| found.has(key)));
    let ids: Vec<ObjectId> = with_key.map(|(id, _)| *id).collect();
    assert!(!ids.is_empty(), "{}", String::from_utf8_lossy(key));
    ids
}

/// The last dictionary with the key `key`: what the signature added is the last of all.
fn with<'a>(document: &'a mut Document, key: &[u8]) -> &'a mut Dictionary {
    let id = *having(document, key).last().unwrap();
    document.get_dictionary_mut(id).unwrap()
}

/// `document` as it is written in one revision.
fn saved(document: &mut Document) -> Vec<u8> {
    let mut bytes = Vec::new();
    document.save_to(&mut bytes).unwrap();
    bytes
}

fn inner<'a>(dictionary: &'a mut Dictionary, key: &[u8]) -> &'a mut Dictionary {
    dictionary.get_mut(key).unwrap().as_dict_mut().unwrap()
}

/// The dictionary of the signature's permissions, as it is written (ISO 32000-1, 12.8.2.2).
fn reference(document: &mut Document) -> &mut Dictionary {
    let signature = with(document, b"ByteRange");
    let references = signature.get_mut(b"Reference").unwrap();
    let first = references.as_array_mut().unwrap().first_mut();
    first.unwrap().as_dict_mut().unwrap()
}

#[test]
fn a_signature_is_that_of_the_bytes_only_if_everything_agrees() {
    let (file, field) = signed();
    let opened = Opened::new(&file).unwrap();
    let agrees = |change: &dyn Fn(&mut Field)| {
        let mut other = field.clone();
        change(&mut other);
        opened.agrees_with(Some(&other))
    };
    assert_eq!(agrees(&|_| {}), Ok(()));
    let wrong = Err(OpenError::OtherSignature);
    for place in 0..4 {
        assert_eq!(
            agrees(&|field| field.byte_range[place] += 1),
            wrong,
            "{place}"
        );
    }
    assert_eq!(agrees(&|field| field.cms[9] ^= 1), wrong);
    assert_eq!(agrees(&|field| field.cms.push(1)), wrong);
    assert_eq!(agrees(&|field| field.cms.truncate(40)), wrong);
    assert_eq!(opened.agrees_with(None), wrong);
    assert_eq!(opened.signed_at(), Some(now().fixed_offset()));
    let unsigned = Files::receipt().pdf();
    let unsigned = Opened::new(&unsigned).unwrap();
    let found = unsigned.agrees_with(Some(&field));
    assert_eq!(found, Err(OpenError::Revisions));
    assert_eq!(unsigned.signed_at(), None);
}

/// A signed receipt with something else in the revision that the signature adds.
fn signed_and(change: impl FnOnce(&mut Document)) -> Vec<u8> {
    let (file, _) = signed();
    let first = Files::receipt().pdf();
    let whole = Document::load_mem(&file).unwrap();
    let before = Document::load_mem(&first).unwrap();
    let old = before.clone();
    let mut update = IncrementalDocument::create_from(first, before);
    for (id, object) in &whole.objects {
        if old.objects.get(id) != Some(object) {
            update.new_document.set_object(*id, object.clone());
        }
    }
    update.new_document.max_id = whole.max_id;
    change(&mut update.new_document);
    let mut bytes = Vec::new();
    update.save_to(&mut bytes).unwrap();
    bytes
}

/// A document that is signed and not certified could be changed, and a reader would still
/// call its signature valid.
#[test]
fn a_signature_certifies_its_document_and_permits_no_change() {
    let (_, field) = signed();
    let found = |change: Change<'_>| {
        let file = signed_and(change);
        let opened = Opened::new(&file)?;
        // Written anew, its numbers are those of another file; the rest is compared.
        let signature = opened.signature().unwrap();
        let range = signature.get("ByteRange").unwrap().array().unwrap();
        let mut field = field.clone();
        field.byte_range = [0, 1, 2, 3].map(|place: usize| range[place].integer().unwrap());
        opened.agrees_with(Some(&field))
    };
    assert_eq!(found(&|_| {}), Ok(()));
    let changes: [(&str, Change<'_>); 6] = [
        ("no bytes of a signature", &|document| {
            with(document, b"ByteRange").set("Contents", 0);
        }),
        ("another profile", &|document| {
            with(document, b"ByteRange").set("SubFilter", "adbe.pkcs7.detached");
        }),
        ("another method", &|document| {
            reference(document).set("TransformMethod", "FieldMDP");
        }),
        ("filling in is permitted", &|document| {
            inner(reference(document), b"TransformParams").set("P", 2);
        }),
        ("nothing is said of what is permitted", &|document| {
            inner(reference(document), b"TransformParams").remove(b"P");
        }),
        ("zeros, and something after them", &|document| {
            let signature = with(document, b"ByteRange");
            let Ok(Object::String(bytes, _)) = signature.get_mut(b"Contents") else {
                panic!("no contents");
            };
            bytes.extend([0, 0, 1]);
        }),
    ];
    for (name, change) in changes {
        assert_eq!(found(change), Err(OpenError::OtherSignature), "{name}");
    }
}

/// Each of these shows a reader something else, or to one reader another document.
#[test]
fn a_signature_adds_itself_and_nothing_else() {
    let page = |document: &mut Document| having(document, b"Annots")[0];
    let changes: [(&str, Change<'_>); 14] = [
        ("no profile", &|document| {
            with(document, b"ByteRange").remove(b"SubFilter");
        }),
        ("no reference", &|document| {
            with(document, b"ByteRange").remove(b"Reference");
        }),
        ("no permissions in the catalog", &|document| {
            with(document, b"Perms").remove(b"Perms");
        }),
        ("another certifying signature", &|document| {
            let other = with(document, b"ByteRange").clone();
            let other = document.add_object(other);
            with(document, b"Perms").set("Perms", dictionary! { "DocMDP" => other });
        }),
        ("a second field", &|document| {
            let form = inner(with(document, b"AcroForm"), b"AcroForm");
            let fields = form.get_mut(b"Fields").unwrap().as_array_mut().unwrap();
            fields.push(fields[0].clone());
        }),
        ("no field", &|document| {
            inner(with(document, b"AcroForm"), b"AcroForm").set("Fields", Vec::<Object>::new());
        }),
        ("a field with kids", &|document| {
            with(document, b"FT").set("Kids", Vec::<Object>::new());
        }),
        ("a painted field", &|document| {
            let id = with(document, b"FT").get(b"AP").unwrap().as_dict().unwrap();
            let id = id.get(b"N").unwrap().as_reference().unwrap();
            let paint = document
                .get_object_mut(id)
                .unwrap()
                .as_stream_mut()
                .unwrap();
            paint.set_plain_content(b"0 0 9 9 re f".to_vec());
        }),
        ("a field that does something", &|document| {
            let run = dictionary! { "S" => "JavaScript", "JS" => Object::string_literal("1") };
            with(document, b"FT").set("A", run);
        }),
        ("another page", &|document| {
            let page = page(document);
            let page = document.get_dictionary_mut(page).unwrap();
            page.set("Rotate", 180);
        }),
        ("a note over a page", &|document| {
            let note = document.add_object(dictionary! { "Subtype" => "FreeText" });
            let page = page(document);
            let page = document.get_dictionary_mut(page).unwrap();
            let notes = page.get_mut(b"Annots").unwrap().as_array_mut().unwrap();
            notes.push(Object::Reference(note));
        }),
        ("an action on opening", &|document| {
            with(document, b"Perms").set("OpenAction", dictionary! { "S" => "Launch" });
        }),
        ("other attachments", &|document| {
            with(document, b"Perms").remove(b"Names");
        }),
        ("an object that nobody needs", &|document| {
            document.add_object(dictionary! { "A" => 1 });
        }),
    ];
    for (name, change) in changes {
        let file = signed_and(change);
        let found = Opened::new(&file).map(|_| ());
        assert!(
            matches!(found, Err(OpenError::Form(_))),
            "{name}: {found:?}"
        );
    }
    assert!(Opened::new(&signed_and(|_| {})).is_ok());
}

/// The number of the field in the tree of parents, made another everywhere.
fn renumbered(document: &mut Document) {
    with(document, b"FT").set("StructParent", 99);
    let tree = with(document, b"ParentTreeNextKey");
    tree.set("ParentTreeNextKey", 100);
    let numbers = inner(tree, b"ParentTree").get_mut(b"Nums").unwrap();
    let numbers = numbers.as_array_mut().unwrap();
    let place = numbers.len() - 2;
    numbers[place] = 99.into();
}

/// What the signature adds for screen readers, and its field, are as they are always written.
#[test]
fn a_signature_is_written_in_one_way_only() {
    type Set = (&'static [u8], &'static str, Object);
    let name = |name: &str| Object::Name(name.as_bytes().to_vec());
    let text = Object::string_literal;
    let refused = |change: Change<'_>, why: &str, what: &str| {
        let file = signed_and(change);
        let error = Opened::new(&file).map(|_| ()).unwrap_err().to_string();
        assert!(error.contains(why), "{what}: {error}");
    };
    let structure = "the signature changed its structure";
    refused(&renumbered, structure, "another number");
    refused(
        &|document| inner(with(document, b"ParentTreeNextKey"), b"ParentTree").set("A", 1),
        structure,
        "more in the tree of parents",
    );
    let sets: [Set; 6] = [
        (b"ParentTreeNextKey", "ParentTreeNextKey", 1000.into()),
        (b"Pg", "A", 1.into()),
        (b"Pg", "Type", name("Other")),
        (b"Pg", "S", name("P")),
        (b"Pg", "P", Object::Reference((1, 0))),
        (b"Pg", "Pg", Object::Reference((1, 0))),
    ];
    for (of, key, value) in sets {
        let change = |document: &mut Document| with(document, of).set(key, value.clone());
        refused(&change, structure, key);
    }
    let held: [(&str, Object); 4] = [
        ("A", 1.into()),
        ("Type", name("MCR")),
        ("Obj", Object::Reference((1, 0))),
        ("Pg", Object::Reference((1, 0))),
    ];
    for (key, value) in held {
        let change =
            |document: &mut Document| inner(with(document, b"Pg"), b"K").set(key, value.clone());
        refused(&change, structure, key);
    }
    let five = Object::Array(vec![0.into(); 5]);
    let words = Object::Array(vec![name("a"); 4]);
    let fields: [(&str, Object); 8] = [
        ("Type", name("Other")),
        ("Subtype", name("Link")),
        ("FT", name("Tx")),
        ("F", 4.into()),
        ("T", text("Other")),
        ("TU", 1.into()),
        ("Rect", five),
        ("Rect", words),
    ];
    for (key, value) in fields {
        let change = |document: &mut Document| with(document, b"FT").set(key, value.clone());
        refused(&change, "its signature field is not that of a report", key);
    }
}

/// The attachments of a document that carries the one file `a`, and is changed then.
fn attached(change: impl FnOnce(&mut Document)) -> Result<BTreeMap<String, Vec<u8>>, OpenError> {
    let files = Files(BTreeMap::from([("a".to_owned(), b"1".to_vec())]));
    let mut document = Document::load_mem(&files.pdf()).unwrap();
    change(&mut document);
    Opened::new(&saved(&mut document))?.attachments()
}

fn tree(document: &mut Document) -> &mut Dictionary {
    let names = inner(document.catalog_mut().unwrap(), b"Names");
    inner(names, b"EmbeddedFiles")
}

/// With `stream` as the file `a`.
fn holding(stream: Stream) -> Result<BTreeMap<String, Vec<u8>>, OpenError> {
    attached(|document| {
        let id = document.add_object(stream);
        let ef = dictionary! { "F" => id, "UF" => id };
        with(document, b"EF").set("EF", ef);
    })
}

fn deflated(bytes: &[u8]) -> Vec<u8> {
    let mut stream = Stream::new(Dictionary::new(), bytes.to_vec());
    stream.compress().unwrap();
    assert!(stream.dict.has(b"Filter"), "too short to be packed");
    stream.content
}

#[test]
fn attachments_are_one_flat_list_of_one_name_and_one_stream_each() {
    let one = BTreeMap::from([("a".to_owned(), b"1".to_vec())]);
    assert_eq!(attached(|_| {}), Ok(one));
    let none = Ok(BTreeMap::new());
    let without = |key: &'static [u8]| {
        attached(move |document| {
            let file = having(document, b"EF")[0];
            document.objects.remove(&file);
            let catalog = document.catalog_mut().unwrap();
            match key {
                b"Names" => catalog.remove(key),
                _ => inner(catalog, b"Names").remove(key),
            };
        })
    };
    assert_eq!(without(b"Names"), none);
    assert_eq!(without(b"EmbeddedFiles"), none);
    let form: [(&str, Change<'_>); 3] = [
        ("a tree with branches", &|document| {
            tree(document).set("Kids", Vec::<Object>::new());
        }),
        ("no list", &|document| {
            tree(document).remove(b"Names");
        }),
        ("a name without a file, and a file elsewhere", &|document| {
            tree(document).set("Names", Vec::<Object>::new());
        }),
    ];
    for (name, change) in form {
        let found = attached(change);
        assert!(
            matches!(found, Err(OpenError::Form(_))),
            "{name}: {found:?}"
        );
    }
    let changes: [(&str, Change<'_>); 9] = [
        ("an object that is no stream", &|document| {
            let id = document.add_object(dictionary! { "A" => 1 });
            with(document, b"EF").set("EF", dictionary! { "F" => id, "UF" => id });
        }),
        ("a name that is a number", &|document| {
            let names = tree(document).get_mut(b"Names").unwrap();
            names.as_array_mut().unwrap()[0] = 1.into();
        }),
        ("another name of one kind", &|document| {
            with(document, b"EF").set("F", Object::string_literal("b"));
        }),
        ("another name of the other kind", &|document| {
            with(document, b"EF").set("UF", Object::string_literal("b"));
        }),
        ("no name of the other kind", &|document| {
            with(document, b"EF").remove(b"UF");
        }),
        ("another stream", &|document| {
            let other = document.add_object(Stream::new(Dictionary::new(), b"1".to_vec()));
            inner(with(document, b"EF"), b"EF").set("UF", other);
        }),
        ("no other stream", &|document| {
            inner(with(document, b"EF"), b"EF").remove(b"UF");
        }),
        ("files that are not there", &|document| {
            with(document, b"EF").set("EF", Object::Reference((9999, 0)));
        }),
        ("no stream", &|document| {
            with(document, b"EF").set("EF", dictionary! { "F" => 1, "UF" => 1 });
        }),
    ];
    for (name, change) in changes {
        assert_eq!(attached(change), Err(OpenError::Attachments), "{name}");
    }
    let twice = attached(|document| {
        let names = tree(document).get_mut(b"Names").unwrap();
        let names = names.as_array_mut().unwrap();
        names.extend(names.clone());
    });
    assert_eq!(twice, Err(OpenError::Twice("a".to_owned())));
}

#[test]
fn an_attachment_is_plain_or_packed_once() {
    let text = b"the same again ".repeat(20);
    let plain = |dict| Stream::new(dict, text.clone());
    let packed = |filter: Object| {
        let mut stream = Stream::new(Dictionary::new(), deflated(&text));
        stream.dict.set("Filter", filter);
        stream
    };
    let flate = || Object::from("FlateDecode");
    let filled = Ok(BTreeMap::from([("a".to_owned(), text.clone())]));
    assert_eq!(holding(plain(Dictionary::new())), filled);
    assert_eq!(holding(packed(flate())), filled);
    assert_eq!(holding(packed(Object::Array(vec![flate()]))), filled);
    let twice = Object::Array(vec![flate(), flate()]);
    for (name, stream) in [
        ("packed twice", packed(twice)),
        ("packed in another way", packed("ASCIIHexDecode".into())),
        ("something behind what is packed", {
            let longer = [deflated(&text).as_slice(), b"x"].concat();
            Stream::new(dictionary! { "Filter" => "FlateDecode" }, longer)
        }),
        ("cut short", {
            let packed = deflated(&text);
            let shorter = packed[..packed.len() - 3].to_vec();
            Stream::new(dictionary! { "Filter" => "FlateDecode" }, shorter)
        }),
        ("a filter with parameters", {
            plain(dictionary! { "DecodeParms" => Dictionary::new() })
        }),
    ] {
        assert_eq!(holding(stream), Err(OpenError::Attachments), "{name}");
    }
    let elsewhere = plain(dictionary! { "F" => Object::string_literal("b") });
    assert!(matches!(holding(elsewhere), Err(OpenError::Form(_))));
}

#[test]
fn attachments_have_a_largest_size_and_number() {
    let zeros = |count| Stream::new(Dictionary::new(), vec![0; count]);
    assert!(holding(zeros(LARGEST_ATTACHMENT)).is_ok());
    let large = holding(zeros(LARGEST_ATTACHMENT + 1));
    assert_eq!(large, Err(OpenError::TooLarge));
    let packed = |count| {
        let mut stream = zeros(count);
        stream.compress().unwrap();
        assert!(stream.content.len() < count / 2);
        holding(stream)
    };
    assert!(packed(LARGEST_ATTACHMENT).is_ok());
    let bomb = packed(LARGEST_ATTACHMENT + 1);
    assert_eq!(bomb, Err(OpenError::TooLarge));
    // Many names of one stream, so that the test itself needs little memory.
    let many = |count: usize, size: usize| {
        attached(|document| {
            let stream = document.add_object(zeros(size));
            let names = (0..count).flat_map(|number| {
                let name = || Object::string_literal(format!("{number:04}"));
                let file = dictionary! {
                    "F" => name(),
                    "UF" => name(),
                    "EF" => dictionary! { "F" => stream, "UF" => stream },
                };
                [name(), Object::Reference(document.add_object(file))]
            });
            let names: Vec<Object> = names.collect();
            let old = having(document, b"EF")[0];
            document.objects.remove(&old);
            tree(document).set("Names", names);
        })
    };
    assert_eq!(many(MOST_ATTACHMENTS, 1).unwrap().len(), MOST_ATTACHMENTS);
    assert_eq!(many(MOST_ATTACHMENTS + 1, 1), Err(OpenError::TooLarge));
    let full = LARGEST_SUM / LARGEST_ATTACHMENT;
    assert!(many(full, LARGEST_ATTACHMENT).is_ok());
    assert_eq!(many(full + 1, LARGEST_ATTACHMENT), Err(OpenError::TooLarge));
}

#[test]
fn what_does_not_end_as_a_pdf_or_is_encrypted_is_not_opened() {
    let file = Files::receipt().pdf();
    assert!(Opened::new(&file).is_ok());
    assert!(Opened::new(&[file.as_slice(), b"\n"].concat()).is_ok());
    let open = |file: &[u8]| Opened::new(file).map(|_| ()).unwrap_err();
    assert_eq!(open(&file[..file.len() - 4]), OpenError::Cut);
    assert_eq!(open(&[file.as_slice(), b"x"].concat()), OpenError::Cut);
    assert!(matches!(open(b"%PDF-1.7\n%%EOF"), OpenError::Form(_)));
    // The trailer stands behind all that a table points at.
    let root = b"/Root";
    let at = file.windows(5).rposition(|window| window == root).unwrap();
    for (name, instead) in [
        ("encrypted", &b"/Encrypt<</Filter/Standard>>/Root"[..]),
        ("no catalog", b"/Rest"),
        ("a trailer that is not closed", b"/A<</Root"),
    ] {
        let mut other = file.clone();
        other.splice(at..at + root.len(), instead.iter().copied());
        let found = Opened::new(&other).and_then(|opened| opened.attachments());
        assert!(
            matches!(found, Err(OpenError::Form(_))),
            "{name}: {found:?}"
        );
    }
}
