//! Sound documents, of which one thing at a time is made different.

use lopdf::{ObjectId, Stream, dictionary};

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
    let agrees = |change: Change<'_>| {
        let mut opened = Opened::new(&file).unwrap();
        change(&mut opened.document);
        opened.agrees_with(Some(&field))
    };
    assert_eq!(agrees(&|_| {}), Ok(()));
    let cms = field.cms.clone();
    let contents = |bytes: Vec<u8>| {
        move |document: &mut Document| {
            let bytes = Object::String(bytes.clone(), lopdf::StringFormat::Hexadecimal);
            with(document, b"ByteRange").set("Contents", bytes);
        }
    };
    let range = |numbers: Vec<i64>| {
        move |document: &mut Document| {
            let numbers: Vec<Object> = numbers.iter().map(|number| (*number).into()).collect();
            with(document, b"ByteRange").set("ByteRange", numbers);
        }
    };
    let own = field
        .byte_range
        .map(|number| i64::try_from(number).unwrap());
    assert_eq!(agrees(&range(own.to_vec())), Ok(()));
    for wrong in 0..4 {
        let mut other = own.to_vec();
        other[wrong] += 1;
        let found = agrees(&range(other));
        assert_eq!(found, Err(OpenError::OtherSignature), "range, {wrong}");
    }
    for other in [&own[..3], &[own.as_slice(), &[0]].concat()] {
        let found = agrees(&range(other.to_vec()));
        assert_eq!(found, Err(OpenError::OtherSignature), "{other:?}");
    }
    // After the signature there may be zeros, and nothing else.
    assert_eq!(
        agrees(&contents([cms.as_slice(), &[0; 9]].concat())),
        Ok(())
    );
    let mut other = cms.clone();
    *other.last_mut().unwrap() ^= 1;
    for wrong in [
        [cms.as_slice(), &[0, 0, 1]].concat(),
        [cms.as_slice(), &[1, 0, 0]].concat(),
        cms[..cms.len() - 1].to_vec(),
        Vec::new(),
        other,
    ] {
        let found = agrees(&contents(wrong.clone()));
        assert_eq!(found, Err(OpenError::OtherSignature), "{wrong:?}");
    }
}

/// A document that is signed and not certified could be changed, and a reader would still
/// call its signature valid.
#[test]
fn a_signature_certifies_its_document_and_permits_no_change() {
    let (file, field) = signed();
    let changes: [(&str, Change<'_>); 10] = [
        ("another profile", &|document| {
            with(document, b"ByteRange").set("SubFilter", "adbe.pkcs7.detached");
        }),
        ("no profile", &|document| {
            with(document, b"ByteRange").remove(b"SubFilter");
        }),
        ("no reference", &|document| {
            with(document, b"ByteRange").remove(b"Reference");
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
        ("no permissions in the catalog", &|document| {
            with(document, b"Perms").remove(b"Perms");
        }),
        ("another certifying signature", &|document| {
            let mut other = with(document, b"ByteRange").clone();
            other.set("M", Object::string_literal("D:20200101000000+00'00'"));
            let other = document.add_object(other);
            let catalog = document.catalog_mut().unwrap();
            catalog.set("Perms", dictionary! { "DocMDP" => other });
        }),
        ("a second field", &|document| {
            let form = inner(with(document, b"AcroForm"), b"AcroForm");
            let fields = form.get_mut(b"Fields").unwrap().as_array_mut().unwrap();
            fields.push(fields[0].clone());
        }),
        ("no field", &|document| {
            inner(with(document, b"AcroForm"), b"AcroForm").set("Fields", Vec::<Object>::new());
        }),
    ];
    for (name, change) in changes {
        let mut opened = Opened::new(&file).unwrap();
        change(&mut opened.document);
        let found = opened.agrees_with(Some(&field));
        assert_eq!(found, Err(OpenError::OtherSignature), "{name}");
    }
    let opened = Opened::new(&file).unwrap();
    assert_eq!(opened.agrees_with(None), Err(OpenError::OtherSignature));
    let unsigned = Opened::new(&Files::receipt().pdf()).unwrap();
    let found = unsigned.agrees_with(Some(&field));
    assert_eq!(found, Err(OpenError::Revisions));
    assert_eq!(unsigned.signed_at(), None);
    assert_eq!(opened.signed_at(), Some(now().fixed_offset()));
}

/// The attachments of a document that carries the one file `a`, and is changed then.
fn attached(change: impl FnOnce(&mut Document)) -> Result<BTreeMap<String, Vec<u8>>, OpenError> {
    let files = Files(BTreeMap::from([("a".to_owned(), b"1".to_vec())]));
    let mut opened = Opened::new(&files.pdf()).unwrap();
    change(&mut opened.document);
    opened.attachments()
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
            let catalog = document.catalog_mut().unwrap();
            match key {
                b"Names" => catalog.remove(key),
                _ => inner(catalog, b"Names").remove(key),
            };
        })
    };
    assert_eq!(without(b"Names"), none);
    assert_eq!(without(b"EmbeddedFiles"), none);
    let changes: [(&str, Change<'_>); 11] = [
        ("a tree with branches", &|document| {
            tree(document).set("Kids", Vec::<Object>::new());
        }),
        ("no list", &|document| {
            tree(document).remove(b"Names");
        }),
        ("a name without a file", &|document| {
            let names = tree(document).get_mut(b"Names").unwrap();
            names
                .as_array_mut()
                .unwrap()
                .push(Object::string_literal("b"));
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
        ("a filter with parameters", {
            plain(dictionary! { "DecodeParms" => Dictionary::new() })
        }),
        ("a file elsewhere", {
            plain(dictionary! { "F" => Object::string_literal("b") })
        }),
    ] {
        assert_eq!(holding(stream), Err(OpenError::Attachments), "{name}");
    }
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
                [name(), Object::Dictionary(file)]
            });
            let names: Vec<Object> = names.collect();
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
    assert_eq!(open(b"%PDF-1.7\n%%EOF"), OpenError::NotReadable);
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
        assert_eq!(found, Err(OpenError::NotReadable), "{name}");
    }
}
