//! Setting the pages of a document again: what is handed to a typesetter, and the pictures
//! that the document carries for it.
//!
//! The typesetter is given by the caller: without the feature `typesetter` the library has
//! none, and says that it could not compare the pages.

use std::collections::BTreeMap;

use chrono::{DateTime, FixedOffset};
use lopdf::{Document, LoadOptions, Object, Stream};

use crate::files::Source;
use crate::result::DocumentFile;
use crate::signature::ShopCertificate;

/// Sets the pages of documents.
pub trait Typesetter {
    /// The whole document that this program makes from what `order` holds: the same bytes,
    /// but for zeros where the value of a signature stands.
    ///
    /// # Errors
    /// Why it makes no such document, in words.
    fn set(&self, order: &Order<'_>) -> Result<Vec<u8>, String>;
}

/// What a document is made from.
pub struct Order<'a> {
    /// What it is and when it was issued.
    pub document: &'a DocumentFile,
    /// That moment.
    pub issued: DateTime<FixedOffset>,
    /// What is attached, by name.
    pub attachments: &'a BTreeMap<String, Vec<u8>>,
    /// The pictures on its pages.
    pub pictures: &'a [CarriedPicture],
    /// Who signed it, if anyone.
    pub signing: Option<Signing<'a>>,
    /// The folder of the original photos, where the reader has it: the copies are made again.
    pub originals: Option<&'a dyn Source>,
}

/// Who signed a document.
#[derive(Clone, Copy)]
pub struct Signing<'a> {
    /// The signer's certificate.
    pub certificate: &'a ShopCertificate,
    /// The certificates that came with it.
    pub others: &'a [ShopCertificate],
    /// Whether there is a time-stamp.
    pub stamped: bool,
}

/// A picture on the pages of a document.
#[derive(Debug, Clone)]
pub struct CarriedPicture {
    /// Its width in pixels.
    pub width: u32,
    /// Its height in pixels.
    pub height: u32,
    /// Its pixels.
    pub data: PictureData,
}

/// The pixels of a picture.
#[derive(Debug, Clone)]
pub enum PictureData {
    /// A JPEG file.
    Jpeg(Vec<u8>),
    /// Red, green and blue, one byte each, row by row.
    Rgb(Vec<u8>),
}

/// The longest side of a picture that is kept as pixels, and how many of them there may be:
/// a document has one, the logo.
const LONGEST_SIDE: u32 = 1024;
const MOST_RGB: usize = 4;

/// Opens `file`, as all documents of this program can be: nothing in it has to be unpacked
/// for that.
pub(super) fn open(file: &[u8]) -> Option<Document> {
    let options = LoadOptions {
        strict: true,
        max_decompressed_size: Some(0),
        ..LoadOptions::default()
    };
    Document::load_mem_with_options(file, options).ok()
}

/// The pictures of a document.
pub(super) fn pictures(document: &Document) -> Vec<CarriedPicture> {
    let streams = document.objects.values().filter_map(|object| match object {
        Object::Stream(stream) => Some(stream),
        _ => None,
    });
    let mut rgb = 0;
    let mut found = Vec::new();
    for picture in streams.filter_map(picture) {
        if matches!(picture.data, PictureData::Rgb(_)) {
            rgb += 1;
            if rgb > MOST_RGB {
                continue;
            }
        }
        found.push(picture);
    }
    found
}

fn picture(stream: &Stream) -> Option<CarriedPicture> {
    let name = |key: &[u8]| stream.dict.get(key).ok()?.as_name().ok();
    if name(b"Subtype")? != b"Image" {
        return None;
    }
    let side = |key: &[u8]| u32::try_from(stream.dict.get(key).ok()?.as_i64().ok()?).ok();
    let (width, height) = (side(b"Width")?, side(b"Height")?);
    let data = match name(b"Filter")? {
        b"DCTDecode" => PictureData::Jpeg(stream.content.clone()),
        b"FlateDecode" if width.max(height) <= LONGEST_SIDE => {
            let size = width as usize * height as usize * 3;
            let pixels = stream.decompressed_content_with_limit(size).ok()?;
            (pixels.len() == size).then_some(PictureData::Rgb(pixels))?
        }
        _ => return None,
    };
    Some(CarriedPicture {
        width,
        height,
        data,
    })
}

#[cfg(test)]
mod tests {
    use lopdf::dictionary;

    use super::*;

    /// A photo is a JPEG as it stands, the logo its pixels: three bytes each, and no more.
    #[test]
    fn pictures_are_read_by_their_filter() {
        let image = |kind: &str, filter: &str, width: i64, content: Vec<u8>| {
            let dict = dictionary! {
                "Subtype" => kind, "Filter" => filter, "Width" => width, "Height" => 10,
            };
            picture(&Stream::new(dict, content)).map(|found| found.data)
        };
        let pixels = vec![7; 300];
        let mut packed = Stream::new(lopdf::Dictionary::new(), pixels.clone());
        packed.compress().unwrap();
        let packed = |kind, filter, width| image(kind, filter, width, packed.content.clone());
        let logo = packed("Image", "FlateDecode", 10);
        assert!(matches!(logo, Some(PictureData::Rgb(found)) if found == pixels));
        let photo = image("Image", "DCTDecode", 10, b"jpeg".to_vec());
        assert!(matches!(photo, Some(PictureData::Jpeg(found)) if found == b"jpeg"));
        for other in [
            packed("Form", "FlateDecode", 10),
            packed("Image", "LZWDecode", 10),
            packed("Image", "FlateDecode", 9),
            packed("Image", "FlateDecode", 11),
            packed("Image", "FlateDecode", 1025),
        ] {
            assert!(other.is_none());
        }
    }
}
