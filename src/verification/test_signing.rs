//! The field that a signature puts into a document, and documents that take none.

use std::cell::RefCell;

use lopdf::{Dictionary, Document, Object, ObjectId, dictionary};

use super::test_documents::{Files, PLACE};
use crate::render::SignaturePlace;
use crate::signature::test_authority::answer;
use crate::signature::test_parties::{Plan, now};
use crate::signature::{SignError, StampService, sign};

fn signed(pdf: Vec<u8>) -> Result<Vec<u8>, SignError> {
    let shop = Plan::signer("Bench").make(1, None).identity(&[]);
    sign(pdf, PLACE, "Signed by", &shop, now().fixed_offset(), None)
}

/// The one dictionary with this key and name.
fn named<'a>(document: &'a Document, key: &[u8], name: &str) -> (ObjectId, &'a Dictionary) {
    let mut found = document.objects.iter().filter_map(|(id, object)| {
        let dictionary = object.as_dict().ok()?;
        let own = dictionary.get(key).ok()?.as_name().ok()?;
        (own == name.as_bytes()).then_some((*id, dictionary))
    });
    let one = found.next().unwrap_or_else(|| panic!("no {name}"));
    assert!(found.next().is_none(), "two of {name}");
    one
}

/// ISO 14289-1, 7.18: the field is described, stands in the structure and in the order of
/// tabs; ISO 32000-1, 12.7.2 and 14.7.4: it is in the form, on its page, and in the tree.
#[test]
fn the_field_is_in_the_form_on_the_page_and_in_the_structure() {
    let document = Document::load_mem(&signed(Files::receipt().pdf()).unwrap()).unwrap();
    let (widget, field) = named(&document, b"Subtype", "Widget");
    let reference =
        |dictionary: &Dictionary, key: &[u8]| dictionary.get(key).unwrap().as_reference().unwrap();
    let (page, on_page) = named(&document, b"Type", "Page");
    assert_eq!(reference(field, b"P"), page);
    let notes = on_page.get(b"Annots").unwrap().as_array().unwrap();
    assert_eq!(notes, &[Object::Reference(widget)]);
    assert_eq!(on_page.get(b"Tabs").unwrap().as_name().unwrap(), b"S");

    let (element, form) = named(&document, b"S", "Form");
    let (top, whole) = named(&document, b"S", "Document");
    assert_eq!(reference(form, b"P"), top);
    let kids = whole.get(b"K").unwrap().as_array().unwrap();
    assert_eq!(kids, &[Object::Reference(element)]);
    let held = form.get(b"K").unwrap().as_dict().unwrap();
    assert_eq!(reference(held, b"Obj"), widget);
    let (_, tree) = named(&document, b"Type", "StructTreeRoot");
    let key = field.get(b"StructParent").unwrap().as_i64().unwrap();
    assert_eq!(key, 0);
    assert_eq!(tree.get(b"ParentTreeNextKey").unwrap().as_i64().unwrap(), 1);
    let numbers = tree.get(b"ParentTree").unwrap().as_dict().unwrap();
    let numbers = numbers.get(b"Nums").unwrap().as_array().unwrap();
    assert_eq!(numbers, &[0.into(), Object::Reference(element)]);

    let catalog = document.catalog().unwrap();
    let form = catalog.get(b"AcroForm").unwrap().as_dict().unwrap();
    let fields = form.get(b"Fields").unwrap().as_array().unwrap();
    assert_eq!(fields, &[Object::Reference(widget)]);
    let appearance = field.get(b"AP").unwrap().as_dict().unwrap();
    let appearance = document.get_object(reference(appearance, b"N")).unwrap();
    let corners = &appearance.as_stream().unwrap().dict;
    let corners = corners.get(b"BBox").unwrap().as_array().unwrap();
    let corners: Vec<f32> = corners.iter().map(|one| one.as_float().unwrap()).collect();
    assert_eq!(corners, [0.0, 0.0, 10.0, 10.0]);
}

/// A document of the program's own with something different in it.
fn changed(change: impl FnOnce(&mut Document)) -> Vec<u8> {
    let mut document = Document::load_mem(&Files::receipt().pdf()).unwrap();
    change(&mut document);
    let mut bytes = Vec::new();
    document.save_to(&mut bytes).unwrap();
    bytes
}

#[test]
fn a_document_that_has_a_form_or_no_structure_is_not_signed() {
    let whole = |document: &mut Document, key: &str, value: Object| {
        document.catalog_mut().unwrap().set(key, value);
    };
    let empty = || Object::Dictionary(Dictionary::new());
    let top = |document: &mut Document, kids: Object| {
        let tree = named(document, b"Type", "StructTreeRoot").0;
        document.get_dictionary_mut(tree).unwrap().set("K", kids);
    };
    for (name, pdf, why) in [
        (
            "a form",
            changed(|document| whole(document, "AcroForm", empty())),
            "it has a form already",
        ),
        (
            "notes of its own, elsewhere",
            changed(|document| {
                let page = named(document, b"Type", "Page").0;
                let page = document.get_dictionary_mut(page).unwrap();
                page.set("Annots", Object::Null);
            }),
            "its notes stand apart",
        ),
        (
            "no structure",
            changed(|document| top(document, Object::Array(Vec::new()))),
            "it is not tagged",
        ),
    ] {
        let error = SignError::Document(why.to_owned());
        assert_eq!(signed(pdf), Err(error), "{name}");
    }
    // One kid or a list of kids: the first of them is the document.
    let alone = changed(|document| {
        let kid = named(document, b"S", "Document").0;
        top(document, Object::Reference(kid));
    });
    assert!(signed(alone).is_ok());
    let two = changed(|document| {
        let kid = named(document, b"S", "Document").0;
        let other = document.add_object(dictionary! { "Type" => "StructElem", "S" => "Note" });
        let kids = [kid, other].map(Object::Reference).to_vec();
        top(document, Object::Array(kids));
    });
    let document = Document::load_mem(&signed(two).unwrap()).unwrap();
    let kid = named(&document, b"S", "Document").0;
    let form = named(&document, b"S", "Form").1;
    assert_eq!(form.get(b"P").unwrap().as_reference().unwrap(), kid);

    let shop = Plan::signer("Bench").make(1, None).identity(&[]);
    let place = SignaturePlace { page: 1, ..PLACE };
    let pdf = Files::receipt().pdf();
    let found = sign(pdf, place, "x", &shop, now().fixed_offset(), None);
    let error = SignError::Document("it has no such page".to_owned());
    assert_eq!(found, Err(error));
}

/// A time-stamp that cannot count stops the signing, with what was wrong.
#[test]
fn a_time_stamp_is_checked_before_it_is_put_in() {
    let shop = Plan::signer("Bench").make(1, None).identity(&[]);
    let quay = Plan::stamping("Quayside").make(5, None);
    let with = |service: &StampService<'_>| {
        let pdf = Files::receipt().pdf();
        let when = now().fixed_offset();
        sign(pdf, PLACE, "x", &shop, when, Some(service)).map(|_| ())
    };
    let at = |minutes| now() + chrono::TimeDelta::minutes(minutes);
    assert_eq!(with(&|request| Ok(answer(&quay, request, at(10)))), Ok(()));
    let said = |found: Result<(), SignError>| match found {
        Err(SignError::Stamp(why)) => why,
        other => panic!("{other:?}"),
    };
    let late = said(with(&|request| Ok(answer(&quay, request, at(11)))));
    assert!(late.contains("more than ten minutes"), "{late}");
    let away = said(with(&|_| Err("nobody answers".to_owned())));
    assert_eq!(away, "nobody answers");
    let nonsense = said(with(&|_| Ok(b"no answer".to_vec())));
    assert!(nonsense.contains("cannot be read"), "{nonsense}");
    // What is asked for another document.
    let asked = RefCell::new(Vec::new());
    let ask = |request: &[u8]| {
        *asked.borrow_mut() = request.to_vec();
        Err(String::new())
    };
    let when = now().fixed_offset();
    let report = sign(Files::report().pdf(), PLACE, "x", &shop, when, Some(&ask));
    assert!(report.is_err());
    let other = asked.into_inner();
    let of_another = said(with(&|_| Ok(answer(&quay, &other, at(0)))));
    assert!(of_another.contains("over something else"), "{of_another}");
}
