//! A document that is pages and attachments, and nothing that runs, hides, or prints
//! otherwise than it shows.

use std::collections::BTreeSet;

use super::revisions::Revision;
use super::value::{Dictionary, Value};
use super::{FormError, require};

/// What a catalog may hold (ISO 32000-1, 7.7.2).
const CATALOG: [&str; 13] = [
    "Type",
    "Pages",
    "Metadata",
    "PageLabels",
    "OutputIntents",
    "Lang",
    "StructTreeRoot",
    "MarkInfo",
    "ViewerPreferences",
    "PageLayout",
    "Outlines",
    "Names",
    "AF",
];
const NODE: [&str; 4] = ["Type", "Count", "Kids", "Parent"];
/// What a page may hold (7.7.3.3).
const PAGE: [&str; 14] = [
    "Type",
    "Parent",
    "Resources",
    "MediaBox",
    "CropBox",
    "BleedBox",
    "TrimBox",
    "ArtBox",
    "Contents",
    "Group",
    "StructParents",
    "Tabs",
    "Annots",
    "Metadata",
];
/// What a link may hold (12.5.6.5): a shop's own template may have some.
const LINK: [&str; 10] = [
    "Type",
    "Subtype",
    "Rect",
    "Border",
    "C",
    "QuadPoints",
    "F",
    "StructParent",
    "Contents",
    "Dest",
];
/// Keys by which something runs, hides or prints otherwise, wherever they stand: additional
/// actions, the action on opening, scripts, forms of another kind, optional content, pictures
/// for another medium, transfer curves; and the first object of a file made for the web,
/// which some readers believe before the tables.
const NOWHERE: [&str; 12] = [
    "AA",
    "OpenAction",
    "JS",
    "JavaScript",
    "XFA",
    "OC",
    "OCProperties",
    "Alternates",
    "OPI",
    "TR",
    "TR2",
    "Linearized",
];
/// Actions that do more than go to a page or an address (12.6.4), and objects inside streams.
const NO_ACTION: [&str; 18] = [
    "JavaScript",
    "Launch",
    "GoToR",
    "GoToE",
    "SubmitForm",
    "ImportData",
    "ResetForm",
    "Movie",
    "Sound",
    "Rendition",
    "Hide",
    "Named",
    "SetOCGState",
    "Trans",
    "GoTo3DView",
    "Thread",
    "RichMediaExecute",
    "GoToDp",
];

/// Whether the document of the first revision is such a one.
pub(super) fn check(first: &Revision<'_>) -> Result<(), FormError> {
    let catalog = first.dictionary(first.root());
    let catalog = catalog.ok_or(FormError("it has no catalog"))?;
    require(
        catalog.is_name("Type", "Catalog") && catalog.has_only(&CATALOG),
        "its catalog holds something that no report has",
    )?;
    for object in first.objects.values() {
        runs_nothing(&object.value, true)?;
    }
    let named = attachments(first, catalog);
    let named = named.ok_or(FormError("its attachments are not one flat list"))?;
    // A file that hangs elsewhere has the same name for another reader.
    for (number, object) in &first.objects {
        let specification = object.value.dictionary();
        let is_file = specification.is_some_and(|own| own.has("EF"));
        require(
            !is_file || named.contains(number),
            "a file is attached in another place than the list of attachments",
        )?;
    }
    pages(first, catalog)
}

/// `is_object` of a value that is an object of its own.
fn runs_nothing(value: &Value<'_>, is_object: bool) -> Result<(), FormError> {
    match value {
        Value::Array(values) => values
            .iter()
            .try_for_each(|value| runs_nothing(value, false)),
        Value::Dictionary(dictionary) => {
            for key in NOWHERE {
                require(
                    !dictionary.has(key),
                    "something in it runs, hides or prints otherwise than it shows",
                )?;
            }
            let kind = |key: &str, names: &[&str]| {
                let named = dictionary.get(key);
                named.is_some_and(|own| names.iter().any(|name| own.is_name(name)))
            };
            require(
                !kind("S", &NO_ACTION),
                "it has an action that runs something",
            )?;
            require(
                !kind("Type", &["ObjStm", "XRef", "OCG", "OCMD"]),
                "it has objects of a kind that no report has",
            )?;
            require(
                is_object || !dictionary.has("EF"),
                "a file is attached in another place than the list of attachments",
            )?;
            dictionary
                .values()
                .try_for_each(|value| runs_nothing(value, false))
        }
        Value::Word(_) | Value::Name(_) | Value::Text(_) | Value::Reference(_) => Ok(()),
    }
}

/// The objects of the flat list of attachments; nothing, where there is more to it.
fn attachments(first: &Revision<'_>, catalog: &Dictionary<'_>) -> Option<BTreeSet<u32>> {
    let mut named = BTreeSet::new();
    if let Some(names) = catalog.get("Names") {
        let names = names.dictionary()?;
        if !names.has_only(&["EmbeddedFiles", "Dests"]) {
            return None;
        }
        if let Some(files) = names.get("EmbeddedFiles") {
            let files = files.dictionary()?;
            let list = files.get("Names")?.array()?;
            if !files.has_only(&["Names"]) {
                return None;
            }
            for specification in list.chunks(2) {
                let number = specification.get(1)?.reference()?;
                first.dictionary(Some(number))?;
                named.insert(number);
            }
        }
    }
    if let Some(associated) = catalog.get("AF") {
        let mut associated = associated.array()?.iter();
        let is_named = |one: &Value<'_>| one.reference().is_some_and(|own| named.contains(&own));
        if !associated.all(is_named) {
            return None;
        }
    }
    Some(named)
}

/// Walks the tree of pages.
fn pages(first: &Revision<'_>, catalog: &Dictionary<'_>) -> Result<(), FormError> {
    const ERROR: FormError = FormError("its pages are not those of a report");
    let root = catalog.get("Pages").and_then(Value::reference);
    let mut waiting = vec![root.ok_or(ERROR)?];
    let mut seen = BTreeSet::new();
    while let Some(number) = waiting.pop() {
        let node = first.dictionary(Some(number)).ok_or(ERROR)?;
        if !seen.insert(number) {
            return Err(ERROR);
        }
        if node.is_name("Type", "Page") && node.has_only(&PAGE) {
            let links = node.get("Annots").map(|links| links.array().ok_or(ERROR));
            for link in links.transpose()?.unwrap_or_default() {
                let link = first.dictionary(link.reference());
                require(
                    link.is_some_and(is_link),
                    "something other than a link lies over a page",
                )?;
            }
        } else if node.is_name("Type", "Pages") && node.has_only(&NODE) {
            let kids = node.get("Kids").and_then(Value::array).ok_or(ERROR)?;
            for kid in kids {
                waiting.push(kid.reference().ok_or(ERROR)?);
            }
        } else {
            return Err(ERROR);
        }
    }
    Ok(())
}

fn is_link(link: &Dictionary<'_>) -> bool {
    let address = link.get("A").map(|action| {
        let action = action.dictionary();
        action.is_some_and(|own| own.is_name("S", "URI") && own.has_only(&["Type", "S", "URI"]))
    });
    link.is_name("Subtype", "Link")
        && link.without(&["A"]).has_only(&LINK)
        && address.unwrap_or(true)
}
