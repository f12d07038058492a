//! The second revision of a signed document: it adds one signature, and changes nothing that
//! a reader sees.

use super::revisions::Revision;
use super::value::{Dictionary, Value};
use super::{FormError, require};

const FIELD: [&str; 11] = [
    "Type",
    "Subtype",
    "FT",
    "T",
    "TU",
    "V",
    "P",
    "Rect",
    "F",
    "AP",
    "StructParent",
];
const SIGNATURE: [&str; 8] = [
    "Type",
    "Filter",
    "SubFilter",
    "M",
    "Name",
    "Reference",
    "ByteRange",
    "Contents",
];

/// The objects of a second revision: four that it has again, with the signature in them, and
/// four that it adds.
struct Parts {
    catalog: u32,
    page: u32,
    tree: u32,
    top: u32,
    field: u32,
    signature: u32,
    appearance: u32,
    element: u32,
}

impl Parts {
    fn find(first: &Revision<'_>, second: &Revision<'_>) -> Option<Self> {
        let reference = |own: &Dictionary<'_>, key: &str| own.get(key)?.reference();
        let catalog = second.root()?;
        let own = second.dictionary(Some(catalog))?;
        let [field] = own.get("AcroForm")?.dictionary()?.get("Fields")?.array()? else {
            return None;
        };
        let field = field.reference()?;
        let widget = second.dictionary(Some(field))?;
        let tree = reference(first.dictionary(Some(catalog))?, "StructTreeRoot")?;
        let kids = first.dictionary(Some(tree))?.get("K")?;
        let top = kids.array().map_or(Some(kids), <[_]>::first)?.reference()?;
        let element = second.dictionary(Some(top))?.get("K")?.array()?.last()?;
        Some(Self {
            catalog,
            page: reference(widget, "P")?,
            tree,
            top,
            field,
            signature: reference(widget, "V")?,
            appearance: reference(widget.get("AP")?.dictionary()?, "N")?,
            element: element.reference()?,
        })
    }
}

/// Whether `second` adds a signature to `first`, and nothing else.
pub(super) fn check(first: &Revision<'_>, second: &Revision<'_>) -> Result<(), FormError> {
    const ADDED: &str = "what was added to it is not a signature alone";
    let same = |key: &str| first.trailer.get(key) == second.trailer.get(key);
    require(
        ["Root", "Info", "ID"].into_iter().all(same),
        "its two trailers name different documents",
    )?;
    let parts = Parts::find(first, second).ok_or(FormError(ADDED))?;
    let mut again = [parts.catalog, parts.page, parts.tree, parts.top];
    let mut fresh = [
        parts.field,
        parts.signature,
        parts.appearance,
        parts.element,
    ];
    again.sort_unstable();
    fresh.sort_unstable();
    let mut all: Vec<u32> = again.into_iter().chain(fresh).collect();
    all.sort_unstable();
    let is_own = again.iter().all(|own| first.objects.contains_key(own))
        && !fresh.iter().any(|own| first.objects.contains_key(own))
        && second.objects.keys().copied().eq(all);
    require(is_own, ADDED)?;
    let streams = second
        .objects
        .iter()
        .filter(|(_, own)| own.stream.is_some());
    require(
        streams.map(|(number, _)| *number).eq([parts.appearance]),
        ADDED,
    )?;
    require(
        catalog(first, second, &parts).is_some(),
        "the signature changed its catalog",
    )?;
    require(
        page(first, second, &parts).is_some(),
        "the signature changed its page",
    )?;
    require(
        structure(first, second, &parts).is_some(),
        "the signature changed its structure",
    )?;
    require(
        field(second, &parts).is_some(),
        "its signature field is not that of a report, or paints something",
    )
}

/// Nothing, unless the two objects differ in `keys` only.
fn alike(first: &Revision<'_>, second: &Revision<'_>, number: u32, keys: &[&str]) -> Option<()> {
    let old = first.dictionary(Some(number))?.without(keys);
    (old == second.dictionary(Some(number))?.without(keys)).then_some(())
}

fn catalog(first: &Revision<'_>, second: &Revision<'_>, parts: &Parts) -> Option<()> {
    let keys = ["AcroForm", "Perms"];
    alike(first, second, parts.catalog, &keys)?;
    let old = first.dictionary(Some(parts.catalog))?;
    let new = second.dictionary(Some(parts.catalog))?;
    let form = new.get("AcroForm")?.dictionary()?;
    let permissions = new.get("Perms")?.dictionary()?;
    let is_so = !keys.into_iter().any(|key| old.has(key))
        && form.has_exactly(&["Fields", "SigFlags"])
        && form.get("SigFlags")?.is_word("3")
        && permissions.has_exactly(&["DocMDP"])
        && permissions.get("DocMDP")?.reference()? == parts.signature;
    is_so.then_some(())
}

/// The list `key` of the object, which has `more` at its end.
fn longer(old: &Dictionary<'_>, new: &Dictionary<'_>, key: &str, more: &[Value<'_>]) -> Option<()> {
    // One thing that stands alone is a list of one.
    let before = match old.get(key) {
        None => &[],
        Some(one @ Value::Reference(_)) => std::slice::from_ref(one),
        Some(value) => value.array()?,
    };
    let after = new.get(key)?.array()?;
    let expected = before.iter().chain(more);
    after.iter().eq(expected).then_some(())
}

fn page(first: &Revision<'_>, second: &Revision<'_>, parts: &Parts) -> Option<()> {
    alike(first, second, parts.page, &["Annots", "Tabs"])?;
    let old = first.dictionary(Some(parts.page))?;
    let new = second.dictionary(Some(parts.page))?;
    longer(old, new, "Annots", &[Value::Reference(parts.field)])?;
    (new.is_name("Type", "Page") && new.is_name("Tabs", "S")).then_some(())
}

fn structure(first: &Revision<'_>, second: &Revision<'_>, parts: &Parts) -> Option<()> {
    alike(
        first,
        second,
        parts.tree,
        &["ParentTree", "ParentTreeNextKey"],
    )?;
    alike(first, second, parts.top, &["K"])?;
    let top = |revision| Revision::dictionary(revision, Some(parts.top));
    let element = Value::Reference(parts.element);
    longer(
        top(first)?,
        top(second)?,
        "K",
        std::slice::from_ref(&element),
    )?;
    let old = first.dictionary(Some(parts.tree))?;
    let new = second.dictionary(Some(parts.tree))?;
    let key = second.dictionary(Some(parts.field))?.get("StructParent")?;
    let (old_tree, new_tree) = (
        old.get("ParentTree")?.dictionary()?,
        new.get("ParentTree")?.dictionary()?,
    );
    let more = [key.clone(), element];
    longer(old_tree, new_tree, "Nums", &more)?;
    let element = second.dictionary(Some(parts.element))?;
    let held = element.get("K")?.dictionary()?;
    let is_so = old_tree.without(&["Nums"]) == new_tree.without(&["Nums"])
        && old.get("ParentTreeNextKey")? == key
        && new.get("ParentTreeNextKey")?.integer()? == key.integer()? + 1
        && element.has_exactly(&["Type", "S", "P", "Pg", "K"])
        && element.is_name("Type", "StructElem")
        && element.is_name("S", "Form")
        && element.get("P")?.reference()? == parts.top
        && element.get("Pg")?.reference()? == parts.page
        && held.has_exactly(&["Type", "Obj", "Pg"])
        && held.is_name("Type", "OBJR")
        && held.get("Obj")?.reference()? == parts.field
        && held.get("Pg")?.reference()? == parts.page;
    is_so.then_some(())
}

/// The field and its value, and that it paints nothing.
fn field(second: &Revision<'_>, parts: &Parts) -> Option<()> {
    let field = second.dictionary(Some(parts.field))?;
    let signature = second.dictionary(Some(parts.signature))?;
    let appearance = second.objects.get(&parts.appearance)?;
    let paint = appearance.value.dictionary()?;
    let corners = field.get("Rect")?.array()?;
    let is_so = field.has_exactly(&FIELD)
        && field.is_name("Type", "Annot")
        && field.is_name("Subtype", "Widget")
        && field.is_name("FT", "Sig")
        && field.get("F")?.is_word("132")
        && field.get("T")?.text()? == b"Signature"
        && field.get("TU")?.text().is_some()
        && corners.len() == 4
        && corners.iter().all(Value::is_number)
        && field.get("AP")?.dictionary()?.has_exactly(&["N"])
        && signature.has_exactly(&SIGNATURE)
        && appearance.stream?.is_empty()
        && paint.has_only(&["Type", "Subtype", "BBox", "Resources", "Length"])
        && paint.is_name("Subtype", "Form")
        && paint.get("Resources")?.dictionary()?.has_exactly(&[]);
    is_so.then_some(())
}
