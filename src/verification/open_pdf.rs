//! What a document carries: its attachments, and its signature field as a PDF reader
//! finds it.
//!
//! Only what the program's own documents have is read: plain cross-reference tables,
//! no object streams, one flat list of attachments. Anything else is refused, so that
//! two readers cannot see two documents in one file, and so that a small file cannot
//! ask for much memory.

use std::collections::BTreeMap;
use std::fmt;

use chrono::{DateTime, FixedOffset};
use lopdf::{Dictionary, Document, LoadOptions, Object};

use super::xref;
use crate::signature::Field;

/// The largest document that is opened, in bytes.
pub const LARGEST_FILE: u64 = 64 << 20;
/// The most attachments.
const MOST_ATTACHMENTS: usize = 1100;
/// The largest attachment, and all of them together, in bytes.
const LARGEST_ATTACHMENT: usize = 8 << 20;
const LARGEST_SUM: usize = 64 << 20;

/// Why a document cannot be opened.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum OpenError {
    /// Not a PDF as this program writes it.
    NotReadable,
    /// It does not end as a PDF ends.
    Cut,
    /// Its attachments cannot be read.
    Attachments,
    /// More or larger attachments than any document of this program has.
    TooLarge,
    /// Two attachments of one name.
    Twice(String),
    /// The signature that a PDF reader shows is not the one over these bytes.
    OtherSignature,
    /// It has another number of revisions than the document and its signature.
    Revisions,
}

impl std::error::Error for OpenError {}

impl fmt::Display for OpenError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotReadable => f.write_str("it is not a PDF of the form that retestify makes"),
            Self::Cut => f.write_str(
                "it does not end as a PDF must: it was cut short, or something was added after its end",
            ),
            Self::Attachments => f.write_str("its attachments cannot be read"),
            Self::TooLarge => f.write_str("its attachments are larger than this program ever makes them"),
            Self::Twice(name) => {
                write!(f, "it has two attachments called `{}`", name.escape_debug())
            }
            Self::OtherSignature => f.write_str(
                "the signature that a PDF reader shows is not the one made over this file's bytes",
            ),
            Self::Revisions => f.write_str("it does not have exactly the two revisions of a signed document"),
        }
    }
}

/// A document that was opened.
pub struct Opened {
    document: Document,
}

impl Opened {
    /// Opens `file`.
    ///
    /// # Errors
    /// [`OpenError::NotReadable`], [`OpenError::Cut`]
    pub fn new(file: &[u8]) -> Result<Self, OpenError> {
        // ISO 32000-1, 7.5.5: the last line is the end-of-file marker.
        if !file.trim_ascii_end().ends_with(b"%%EOF") {
            return Err(OpenError::Cut);
        }
        xref::check(file).ok_or(OpenError::NotReadable)?;
        let options = LoadOptions {
            strict: true,
            // No stream is unpacked while loading: there are none that would need it.
            max_decompressed_size: Some(0),
            ..LoadOptions::default()
        };
        let document =
            Document::load_mem_with_options(file, options).map_err(|_| OpenError::NotReadable)?;
        if document.is_encrypted() {
            return Err(OpenError::NotReadable);
        }
        Ok(Self { document })
    }

    fn catalog(&self) -> Result<&Dictionary, OpenError> {
        self.document.catalog().map_err(|_| OpenError::NotReadable)
    }

    /// The attachments by name.
    ///
    /// # Errors
    /// An [`OpenError`] that says what is wrong with them.
    pub fn attachments(&self) -> Result<BTreeMap<String, Vec<u8>>, OpenError> {
        let mut files = BTreeMap::new();
        let Some(names) = self.names()? else {
            return Ok(files);
        };
        if names.len() > 2 * MOST_ATTACHMENTS {
            return Err(OpenError::TooLarge);
        }
        let mut sum = 0;
        for pair in names.chunks(2) {
            let [name, specification] = pair else {
                return Err(OpenError::Attachments);
            };
            let name = lopdf::decode_text_string(name).map_err(|_| OpenError::Attachments)?;
            let bytes = self.embedded(&name, specification)?;
            sum += bytes.len();
            if sum > LARGEST_SUM {
                return Err(OpenError::TooLarge);
            }
            if files.insert(name.clone(), bytes).is_some() {
                return Err(OpenError::Twice(name));
            }
        }
        Ok(files)
    }

    /// The flat array of the name tree of embedded files (ISO 32000-1, 7.9.6).
    fn names(&self) -> Result<Option<&Vec<Object>>, OpenError> {
        let wrong = |_| OpenError::Attachments;
        let Ok(names) = self.catalog()?.get(b"Names") else {
            return Ok(None);
        };
        let Ok(files) = self.dictionary(names)?.get(b"EmbeddedFiles") else {
            return Ok(None);
        };
        let files = self.dictionary(files)?;
        if files.has(b"Kids") {
            return Err(OpenError::Attachments);
        }
        files
            .get(b"Names")
            .and_then(Object::as_array)
            .map(Some)
            .map_err(wrong)
    }

    /// The file of a file specification (ISO 32000-1, 7.11.4): of one name and one
    /// stream under each key, so that every reader finds the same.
    fn embedded(&self, name: &str, specification: &Object) -> Result<Vec<u8>, OpenError> {
        let wrong = |_| OpenError::Attachments;
        let specification = self.dictionary(specification)?;
        for key in [&b"F"[..], b"UF"] {
            let other = specification.get(key).map_err(wrong)?;
            if lopdf::decode_text_string(other).map_err(wrong)? != name {
                return Err(OpenError::Attachments);
            }
        }
        let files = self.dictionary(specification.get(b"EF").map_err(wrong)?)?;
        let file = files.get(b"F").map_err(wrong)?;
        if files.get(b"UF").map_err(wrong)? != file {
            return Err(OpenError::Attachments);
        }
        let (_, stream) = self.document.dereference(file).map_err(wrong)?;
        let stream = stream.as_stream().map_err(wrong)?;
        if stream.dict.has(b"DecodeParms") || stream.dict.has(b"F") {
            return Err(OpenError::Attachments);
        }
        match stream.filters().as_deref() {
            Err(_) | Ok([]) => within(stream.content.clone()),
            Ok([filter]) if *filter == b"FlateDecode" => stream
                .decompressed_content_with_limit(LARGEST_ATTACHMENT)
                .map_err(|_| OpenError::TooLarge),
            // A further filter could multiply the size again.
            Ok(_) => Err(OpenError::Attachments),
        }
    }

    fn dictionary<'a>(&'a self, object: &'a Object) -> Result<&'a Dictionary, OpenError> {
        let (_, object) = self
            .document
            .dereference(object)
            .map_err(|_| OpenError::Attachments)?;
        object.as_dict().map_err(|_| OpenError::Attachments)
    }

    /// Whether the one signature field that a PDF reader finds is `field`, and the
    /// document has exactly the revisions of a document and its signature.
    ///
    /// # Errors
    /// [`OpenError::OtherSignature`] or [`OpenError::Revisions`]
    pub fn agrees_with(&self, field: Option<&Field>) -> Result<(), OpenError> {
        let field = field.ok_or(OpenError::OtherSignature)?;
        if self.document.revision_count() != 2 {
            return Err(OpenError::Revisions);
        }
        let signature = self.signature().ok_or(OpenError::OtherSignature)?;
        let range = signature
            .get(b"ByteRange")
            .and_then(Object::as_array)
            .map_err(|_| OpenError::OtherSignature)?;
        let same_range = range.len() == 4
            && range
                .iter()
                .zip(field.byte_range)
                .all(|(found, expected)| found.as_i64().ok() == i64::try_from(expected).ok());
        let same_contents = signature
            .get(b"Contents")
            .and_then(Object::as_str)
            .is_ok_and(|contents| {
                contents.starts_with(&field.cms)
                    && contents[field.cms.len()..].iter().all(|byte| *byte == 0)
            });
        if same_range && same_contents && self.is_certified(signature) {
            Ok(())
        } else {
            Err(OpenError::OtherSignature)
        }
    }

    /// The value of the only field of the form.
    fn signature(&self) -> Option<&Dictionary> {
        let form = self.catalog().ok()?.get(b"AcroForm").ok()?;
        let fields = self.dictionary(form).ok()?.get(b"Fields").ok()?;
        let [field] = fields.as_array().ok()?.as_slice() else {
            return None;
        };
        let field = self.dictionary(field).ok()?;
        self.dictionary(field.get(b"V").ok()?).ok()
    }

    /// Whether `signature` is of the profile, and permits no changes (ISO 32000-1,
    /// 12.8.2.2).
    fn is_certified(&self, signature: &Dictionary) -> bool {
        let profile = signature.get(b"SubFilter").and_then(Object::as_name);
        let permitted = || {
            let reference = signature.get(b"Reference").ok()?.as_array().ok()?.first()?;
            let reference = self.dictionary(reference).ok()?;
            let method = reference.get(b"TransformMethod").ok()?.as_name().ok()?;
            let parameters = self
                .dictionary(reference.get(b"TransformParams").ok()?)
                .ok()?;
            let permissions = self
                .dictionary(self.catalog().ok()?.get(b"Perms").ok()?)
                .ok()?;
            let certifying = self.dictionary(permissions.get(b"DocMDP").ok()?).ok()?;
            (method == b"DocMDP" && certifying == signature)
                .then(|| parameters.get(b"P").ok()?.as_i64().ok())?
        };
        profile.ok() == Some(b"ETSI.CAdES.detached") && permitted() == Some(1)
    }

    /// When the signer's own clock says it was signed: the entry `M` of the signature.
    pub fn signed_at(&self) -> Option<DateTime<FixedOffset>> {
        let moment = self.signature()?.get(b"M").ok()?.as_str().ok()?;
        moment_of(std::str::from_utf8(moment).ok()?)
    }
}

/// `D:20260120082000+00'00'` (ISO 32000-1, 7.9.4).
fn moment_of(text: &str) -> Option<DateTime<FixedOffset>> {
    let plain = text.strip_prefix("D:")?.replace('\'', "");
    DateTime::parse_from_str(&plain, "%Y%m%d%H%M%S%z").ok()
}

fn within(bytes: Vec<u8>) -> Result<Vec<u8>, OpenError> {
    if bytes.len() > LARGEST_ATTACHMENT {
        Err(OpenError::TooLarge)
    } else {
        Ok(bytes)
    }
}

#[cfg(test)]
mod tests;
