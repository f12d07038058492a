//! A signature field in a PDF: an incremental update after the last byte, so that nothing
//! before it moves (ISO 32000-1, 7.5.6 and 12.8).
//!
//! The signature certifies the document and permits no changes (DocMDP, 12.8.2.2).
//! Its visible place is words that the page already has; the field's own appearance
//! is empty, so that it needs no font and PDF/A holds. PDF/UA-1 asks for a
//! description, a place in the structure tree and in the order of tabs.

use std::fmt;
use std::ops::Range;

use chrono::{DateTime, FixedOffset};
use lopdf::{Dictionary, Document, IncrementalDocument, Object, ObjectId, Stream, dictionary};

use super::certificate::ShopCertificate;
use super::cms;
use crate::render::SignaturePlace;

/// Why a PDF was not signed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum SignError {
    /// The document is not as the program's own templates make it.
    Document(String),
    /// The time-stamp authority gave no time-stamp.
    Stamp(String),
}

impl fmt::Display for SignError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Document(why) => write!(f, "the document cannot be signed: {why}"),
            Self::Stamp(why) => f.write_str(why),
        }
    }
}

impl From<lopdf::Error> for SignError {
    fn from(error: lopdf::Error) -> Self {
        Self::Document(error.to_string())
    }
}

impl From<der::Error> for SignError {
    fn from(error: der::Error) -> Self {
        Self::Document(error.to_string())
    }
}

/// Room for the token of a time-stamp authority, in bytes: those in use take 2 to
/// 8 KiB.
const STAMP_ROOM: usize = 16 << 10;
/// The longest DER form of a P-256 signature, in bytes.
const LONGEST_SIGNATURE: usize = 72;
/// Stands for a number that is known once the file is written: as wide as any.
const UNKNOWN: i64 = 9_999_999_999;

/// By whom a document is signed.
#[derive(Clone, Copy)]
pub struct By<'a> {
    /// The signer's certificate.
    pub certificate: &'a ShopCertificate,
    /// Those that lead to its authority.
    pub chain: &'a [ShopCertificate],
    /// Whether there is room for a time-stamp.
    pub stamped: bool,
}

/// The document with all of its signature but the value: zeros stand in its place. It is
/// the same for anybody who has the certificate, so that a signed document can be made
/// again and compared. With the place of that value.
///
/// # Errors
/// [`SignError::Document`] when the document is not one of ours.
pub fn with_empty_signature(
    pdf: Vec<u8>,
    place: SignaturePlace,
    description: &str,
    by: By<'_>,
    when: DateTime<FixedOffset>,
) -> Result<(Vec<u8>, Range<usize>), SignError> {
    let unsigned_length = pdf.len();
    let mut file = with_field(pdf, place, description, by, when)?;
    let gap = write_byte_range(&mut file, unsigned_length)?;
    Ok((file, gap))
}

/// How many bytes the CMS signature may take.
fn room_for(by: By<'_>) -> Result<usize, SignError> {
    let cms = cms::assemble(
        by.certificate,
        by.chain,
        crate::files::Digest::of(b""),
        &[0; LONGEST_SIGNATURE],
        None,
    )?;
    Ok(cms.len() + if by.stamped { STAMP_ROOM } else { 0 })
}

/// The document with an empty signature field appended.
fn with_field(
    pdf: Vec<u8>,
    place: SignaturePlace,
    description: &str,
    by: By<'_>,
    when: DateTime<FixedOffset>,
) -> Result<Vec<u8>, SignError> {
    let room = room_for(by)?;
    let document = Document::load_mem(&pdf)?;
    let page = document
        .page_iter()
        .nth(place.page)
        .ok_or_else(|| SignError::Document("it has no such page".to_owned()))?;
    let mut update = Update::new(pdf, document)?;
    let signature = update.add(signature_dictionary(by.certificate, when, room));
    let appearance = update.add(empty_appearance(place));
    let widget = update.add(dictionary! {
        "Type" => "Annot",
        "Subtype" => "Widget",
        "FT" => "Sig",
        "T" => Object::string_literal("Signature"),
        "TU" => text(description),
        "V" => signature,
        "P" => page,
        "Rect" => place.corners.map(Object::Real).to_vec(),
        // Print and Locked (ISO 32000-1, table 165).
        "F" => 132,
        "AP" => dictionary! { "N" => appearance },
    });
    update.add_to_structure(widget, page)?;
    update.add_to_page(widget, page)?;
    update.add_to_catalog(widget, signature)?;
    update.save()
}

/// An incremental update in the making.
struct Update {
    file: IncrementalDocument,
    catalog: ObjectId,
}

impl Update {
    fn new(pdf: Vec<u8>, document: Document) -> Result<Self, SignError> {
        let catalog = document.trailer.get(b"Root")?.as_reference()?;
        let mut file = IncrementalDocument::create_from(pdf, document);
        file.opt_clone_object_to_new_document(catalog)?;
        Ok(Self { file, catalog })
    }

    fn add(&mut self, object: impl Into<Object>) -> ObjectId {
        self.file.new_document.add_object(object)
    }

    /// The dictionary with this id, to change.
    fn dictionary(&mut self, id: ObjectId) -> Result<&mut Dictionary, SignError> {
        self.file.opt_clone_object_to_new_document(id)?;
        Ok(self.file.new_document.get_dictionary_mut(id)?)
    }

    /// Puts the field into the structure tree, as the last child of the document
    /// (ISO 14289-1, 7.18.4).
    fn add_to_structure(&mut self, widget: ObjectId, page: ObjectId) -> Result<(), SignError> {
        let catalog = self.catalog;
        let root_id = self
            .dictionary(catalog)?
            .get(b"StructTreeRoot")?
            .as_reference()?;
        let root = self.dictionary(root_id)?;
        let key = root.get(b"ParentTreeNextKey")?.as_i64()?;
        let top = match root.get(b"K")? {
            Object::Array(kids) => kids.first().map(Object::as_reference),
            other => Some(other.as_reference()),
        };
        let top = top.ok_or_else(|| SignError::Document("it is not tagged".to_owned()))??;
        let element = self.add(dictionary! {
            "Type" => "StructElem",
            "S" => "Form",
            "P" => top,
            "Pg" => page,
            "K" => dictionary! { "Type" => "OBJR", "Obj" => widget, "Pg" => page },
        });
        let root = self.dictionary(root_id)?;
        root.set("ParentTreeNextKey", key + 1);
        let numbers = root
            .get_mut(b"ParentTree")?
            .as_dict_mut()?
            .get_mut(b"Nums")?
            .as_array_mut()?;
        numbers.extend([Object::Integer(key), Object::Reference(element)]);
        let kids = self.dictionary(top)?.get_mut(b"K")?;
        match kids {
            Object::Array(kids) => kids.push(Object::Reference(element)),
            only => *only = Object::Array(vec![only.clone(), Object::Reference(element)]),
        }
        self.dictionary(widget)?.set("StructParent", key);
        Ok(())
    }

    fn add_to_page(&mut self, widget: ObjectId, page: ObjectId) -> Result<(), SignError> {
        let dictionary = self.dictionary(page)?;
        let mut annotations = match dictionary.get(b"Annots") {
            Ok(Object::Array(list)) => list.clone(),
            Ok(_) => return Err(SignError::Document("its notes stand apart".to_owned())),
            Err(_) => Vec::new(),
        };
        annotations.push(Object::Reference(widget));
        dictionary.set("Annots", annotations);
        dictionary.set("Tabs", "S");
        Ok(())
    }

    fn add_to_catalog(&mut self, widget: ObjectId, signature: ObjectId) -> Result<(), SignError> {
        let catalog = self.catalog;
        let dictionary = self.dictionary(catalog)?;
        if dictionary.has(b"AcroForm") {
            return Err(SignError::Document("it has a form already".to_owned()));
        }
        dictionary.set(
            "AcroForm",
            dictionary! {
                "Fields" => vec![Object::Reference(widget)],
                // SignaturesExist and AppendOnly (ISO 32000-1, table 219).
                "SigFlags" => 3,
            },
        );
        dictionary.set("Perms", dictionary! { "DocMDP" => signature });
        Ok(())
    }

    fn save(mut self) -> Result<Vec<u8>, SignError> {
        let mut bytes = Vec::new();
        self.file.save_to(&mut bytes).map_err(lopdf::Error::from)?;
        Ok(bytes)
    }
}

/// The signature with everything but its value (ISO 32000-1, table 252; ETSI EN 319
/// 142-1, 6.3). `Contents` directly follows `ByteRange`.
fn signature_dictionary(
    certificate: &ShopCertificate,
    when: DateTime<FixedOffset>,
    room: usize,
) -> Dictionary {
    let permissions = dictionary! {
        "Type" => "TransformParams",
        "P" => 1,
        "V" => "1.2",
    };
    dictionary! {
        "Type" => "Sig",
        "Filter" => "Adobe.PPKLite",
        "SubFilter" => "ETSI.CAdES.detached",
        "M" => Object::string_literal(pdf_date(when)),
        "Name" => text(&certificate.holder()),
        "Reference" => vec![Object::Dictionary(dictionary! {
            "Type" => "SigRef",
            "TransformMethod" => "DocMDP",
            "TransformParams" => permissions,
        })],
        "ByteRange" => vec![0.into(), UNKNOWN.into(), UNKNOWN.into(), UNKNOWN.into()],
        "Contents" => Object::String(vec![0; room], lopdf::StringFormat::Hexadecimal),
    }
}

/// A field's appearance is required, and may be empty.
fn empty_appearance(place: SignaturePlace) -> Stream {
    let [left, bottom, right, top] = place.corners;
    let size = [0.0, 0.0, right - left, top - bottom];
    Stream::new(
        dictionary! {
            "Type" => "XObject",
            "Subtype" => "Form",
            "BBox" => size.map(Object::Real).to_vec(),
            "Resources" => Dictionary::new(),
        },
        Vec::new(),
    )
}

/// `D:20260120082000+00'00'` (ISO 32000-1, 7.9.4).
fn pdf_date(when: DateTime<FixedOffset>) -> String {
    let offset = when.format("%:z").to_string().replace(':', "'");
    format!("{}{offset}'", when.format("D:%Y%m%d%H%M%S"))
}

/// A text string: UTF-16 with its byte order mark (ISO 32000-1, 7.9.2.2).
fn text(text: &str) -> Object {
    let mut bytes = vec![0xFE, 0xFF];
    bytes.extend(text.encode_utf16().flat_map(u16::to_be_bytes));
    Object::String(bytes, lopdf::StringFormat::Hexadecimal)
}

/// Writes the true numbers over the unknown ones, in the same width, and returns the place
/// of `Contents` between what they name, with its angle brackets.
fn write_byte_range(file: &mut [u8], from: usize) -> Result<Range<usize>, SignError> {
    let unknown = format!("/ByteRange[0 {UNKNOWN} {UNKNOWN} {UNKNOWN}]");
    let missing = || SignError::Document("the new field is not where it should be".to_owned());
    let place = |pattern: &[u8], from: usize| {
        file[from..]
            .windows(pattern.len())
            .position(|window| window == pattern)
            .map(|at| from + at)
    };
    let at = place(unknown.as_bytes(), from).ok_or_else(missing)?;
    let start = place(b"/Contents<", at).ok_or_else(missing)? + "/Contents".len();
    let end = place(b">", start).ok_or_else(missing)? + 1;
    let known = format!("/ByteRange[0 {start} {end} {}", file.len() - end);
    let padded = format!("{known:<width$}]", width = unknown.len() - 1);
    file[at..at + unknown.len()].copy_from_slice(padded.as_bytes());
    Ok(start..end)
}

#[cfg(all(test, feature = "program"))]
mod tests {
    use super::*;
    use crate::signature::test_parties::Plan;

    #[test]
    fn room_is_kept_for_a_time_stamp_only_where_there_is_to_be_one() {
        let shop = Plan::signer("Bench").make(1, None).identity(&[]);
        let room = |stamped| {
            let (certificate, chain) = (shop.certificate(), shop.chain());
            let by = By {
                certificate,
                chain,
                stamped,
            };
            room_for(by).unwrap()
        };
        assert_eq!(room(true) - room(false), 16_384);
    }

    #[test]
    fn a_document_without_the_new_field_is_not_signed() {
        let why = "the new field is not where it should be";
        let error = Err(SignError::Document(why.to_owned()));
        assert_eq!(write_byte_range(&mut b"no field".to_vec(), 0), error);
    }
}
