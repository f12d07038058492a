//! What a document carries: its attachments, and its signature field as a PDF reader
//! finds it.
//!
//! Only what the program's own documents have is read (`strict`). Anything else is refused,
//! so that two readers cannot see two documents in one file, and so that a small file cannot
//! ask for much memory.

use crate::seals::shown;
use std::collections::BTreeMap;
use std::fmt;
use std::io::Read as _;

use chrono::{DateTime, FixedOffset};
use flate2::bufread::ZlibDecoder;

use super::strict::{Dictionary, FormError, Object, Pdf, Value};
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
    Form(FormError),
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
            Self::Form(why) => {
                write!(f, "it is not a PDF of the form that retestify makes: {why}")
            }
            Self::Cut => f.write_str(
                "it does not end as a PDF must: it was cut short, or something was added after its end",
            ),
            Self::Attachments => f.write_str("its attachments cannot be read"),
            Self::TooLarge => f.write_str("its attachments are larger than this program ever makes them"),
            Self::Twice(name) => {
                write!(f, "it has two attachments called `{}`", shown(name))
            }
            Self::OtherSignature => f.write_str(
                "the signature that a PDF reader shows is not the one made over this file's bytes",
            ),
            Self::Revisions => f.write_str("it does not have exactly the two revisions of a signed document"),
        }
    }
}

/// A document that was opened.
pub struct Opened<'a> {
    document: Pdf<'a>,
}

impl<'a> Opened<'a> {
    /// Opens `file`.
    ///
    /// # Errors
    /// [`OpenError::Form`], [`OpenError::Cut`]
    pub fn new(file: &'a [u8]) -> Result<Self, OpenError> {
        // ISO 32000-1, 7.5.5: the last line is the end-of-file marker.
        if !file.trim_ascii_end().ends_with(b"%%EOF") {
            return Err(OpenError::Cut);
        }
        let document = Pdf::read(file).map_err(OpenError::Form)?;
        Ok(Self { document })
    }

    /// The attachments by name.
    ///
    /// # Errors
    /// An [`OpenError`] that says what is wrong with them.
    pub fn attachments(&self) -> Result<BTreeMap<String, Vec<u8>>, OpenError> {
        let mut files = BTreeMap::new();
        let Some(names) = self.names() else {
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
            let name = text_of(name).ok_or(OpenError::Attachments)?;
            let stream = self
                .embedded(&name, specification)
                .ok_or(OpenError::Attachments)?;
            let bytes = unpacked(stream)?;
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
    fn names(&self) -> Option<&[Value<'a>]> {
        let names = self.document.catalog()?.get("Names")?.dictionary()?;
        let files = names.get("EmbeddedFiles")?.dictionary()?;
        files.get("Names")?.array()
    }

    /// The file of a file specification (ISO 32000-1, 7.11.4): of one name and one
    /// stream under each key, so that every reader finds the same.
    fn embedded(&self, name: &str, specification: &Value<'a>) -> Option<&Object<'a>> {
        let specification = self.document.dictionary(specification)?;
        for key in ["F", "UF"] {
            if text_of(specification.get(key)?)? != name {
                return None;
            }
        }
        let files = specification.get("EF")?.dictionary()?;
        let file = files.get("F")?.reference()?;
        let is_one = files.has_exactly(&["F", "UF"]) && files.get("UF")?.reference()? == file;
        self.document.object(file).filter(|_| is_one)
    }

    /// Whether the one signature field that a PDF reader finds is `field`, and the
    /// document has exactly the revisions of a document and its signature.
    ///
    /// # Errors
    /// [`OpenError::OtherSignature`] or [`OpenError::Revisions`]
    pub fn agrees_with(&self, field: Option<&Field>) -> Result<(), OpenError> {
        let field = field.ok_or(OpenError::OtherSignature)?;
        if self.document.revisions != 2 {
            return Err(OpenError::Revisions);
        }
        let signature = self.signature().ok_or(OpenError::OtherSignature)?;
        let range = signature.get("ByteRange").and_then(Value::array);
        let same_range = range.is_some_and(|range| {
            let found = range.iter().map(Value::integer);
            found.eq(field.byte_range.map(Some))
        });
        let contents = signature.get("Contents").and_then(Value::text);
        let same_contents = contents.is_some_and(|contents| {
            contents.starts_with(&field.cms)
                && contents[field.cms.len()..].iter().all(|byte| *byte == 0)
        });
        if same_range && same_contents && certifies(signature) {
            Ok(())
        } else {
            Err(OpenError::OtherSignature)
        }
    }

    /// The value of the only field of the form.
    fn signature(&self) -> Option<&Dictionary<'a>> {
        let form = self.document.catalog()?.get("AcroForm")?.dictionary()?;
        let [field] = form.get("Fields")?.array()? else {
            return None;
        };
        let field = self.document.dictionary(field)?;
        self.document.dictionary(field.get("V")?)
    }

    /// When the signer's own clock says it was signed: the entry `M` of the signature.
    pub fn signed_at(&self) -> Option<DateTime<FixedOffset>> {
        let moment = self.signature()?.get("M")?.text()?;
        moment_of(std::str::from_utf8(moment).ok()?)
    }
}

/// `D:20260120082000+00'00'` (ISO 32000-1, 7.9.4).
fn moment_of(text: &str) -> Option<DateTime<FixedOffset>> {
    let plain = text.strip_prefix("D:")?.replace('\'', "");
    DateTime::parse_from_str(&plain, "%Y%m%d%H%M%S%z").ok()
}

/// Whether `signature` is of the profile, and permits no changes (ISO 32000-1, 12.8.2.2).
/// That the catalog names it, the form of the second revision says.
fn certifies(signature: &Dictionary<'_>) -> bool {
    let permitted = || {
        let [reference] = signature.get("Reference")?.array()? else {
            return None;
        };
        let reference = reference.dictionary()?;
        let parameters = reference.get("TransformParams")?.dictionary()?;
        let is_so = reference.is_name("TransformMethod", "DocMDP");
        parameters.get("P")?.integer().filter(|_| is_so)
    };
    signature.is_name("SubFilter", "ETSI.CAdES.detached") && permitted() == Some(1)
}

/// A text string (7.9.2.2): of ASCII, or UTF-16 after its mark.
fn text_of(value: &Value<'_>) -> Option<String> {
    let bytes = value.text()?;
    if let Some(units) = bytes.strip_prefix(&[0xFE, 0xFF]) {
        let pairs = units.chunks(2);
        let pairs = pairs.map(|pair| Some(u16::from_be_bytes(pair.try_into().ok()?)));
        let units: Option<Vec<u16>> = pairs.collect();
        return String::from_utf16(&units?).ok();
    }
    let text = std::str::from_utf8(bytes).ok()?;
    text.is_ascii().then(|| text.to_owned())
}

/// The bytes of a stream that is packed once or not at all, without anything behind them.
fn unpacked(object: &Object<'_>) -> Result<Vec<u8>, OpenError> {
    let (Some(dictionary), Some(stream)) = (object.value.dictionary(), object.stream) else {
        return Err(OpenError::Attachments);
    };
    let filter = match dictionary.get("Filter") {
        None => None,
        Some(Value::Array(filters)) => match filters.as_slice() {
            [] => None,
            [only] => Some(only),
            [_, _, ..] => return Err(OpenError::Attachments),
        },
        Some(filter) => Some(filter),
    };
    let is_known = filter.is_none_or(|filter| filter.is_name("FlateDecode"));
    if !is_known || dictionary.has("DecodeParms") {
        return Err(OpenError::Attachments);
    }
    let mut bytes = Vec::new();
    if filter.is_some() {
        let mut decoder = ZlibDecoder::new(stream);
        let limit = LARGEST_ATTACHMENT as u64 + 1;
        let read = decoder.by_ref().take(limit).read_to_end(&mut bytes);
        read.map_err(|_| OpenError::Attachments)?;
        // What stands behind the end, some readers would go on to read.
        if bytes.len() <= LARGEST_ATTACHMENT && !decoder.into_inner().is_empty() {
            return Err(OpenError::Attachments);
        }
    } else {
        bytes.extend_from_slice(&stream[..stream.len().min(LARGEST_ATTACHMENT + 1)]);
    }
    if bytes.len() > LARGEST_ATTACHMENT {
        return Err(OpenError::TooLarge);
    }
    Ok(bytes)
}

#[cfg(test)]
mod tests;
