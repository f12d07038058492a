//! Photos: that they are whole, and a copy of each that is fit for print.
//!
//! The digest is of the original. The copy is scaled and written anew from its
//! pixels, so it carries no location and no other metadata.

use std::collections::BTreeSet;
use std::io::Cursor;

use fast_image_resize::{FilterType, ResizeAlg, ResizeOptions, Resizer};
use image::codecs::jpeg::JpegEncoder;
use image::metadata::Orientation;
use image::{
    DynamicImage, ExtendedColorType, ImageDecoder, ImageEncoder, ImageError, ImageFormat,
    ImageReader,
};

use super::document::Document;
use super::fault::Faults;
use super::shapes::PhotoTable;
use super::what_to_do;
use crate::files::{Digest, Input, ReadFault, Source};

/// The largest photo that is read, in bytes.
const PHOTO_LIMIT: u64 = 64 << 20;
/// The most pixels that are decoded.
const PIXEL_LIMIT: u64 = 64_000_000;
/// The longer side of the copy, in pixels: 300 dpi at half the width of a page.
const PRINT_SIDE: u32 = 1200;
/// JPEG quality of the copy, of 100.
const PRINT_QUALITY: u8 = 82;

/// A photo of the job folder, with its copy for print.
#[derive(Debug, Clone)]
pub struct Picture {
    /// The path in the job folder.
    pub file: String,
    /// The size of the original, in bytes.
    pub size: u64,
    /// The digest of the original.
    pub digest: Digest,
    /// The copy, a baseline JPEG without metadata.
    pub jpeg: Vec<u8>,
    /// Width of the copy, in pixels.
    pub width: u32,
    /// Height of the copy, in pixels.
    pub height: u32,
}

/// Reads photos one at a time, so that only one is ever held decoded.
pub struct Pictures<'a> {
    source: &'a dyn Source,
    seen: BTreeSet<String>,
    list: Vec<Picture>,
}

impl<'a> Pictures<'a> {
    /// Reads from `source`.
    pub fn new(source: &'a dyn Source) -> Self {
        Self {
            source,
            seen: BTreeSet::new(),
            list: Vec::new(),
        }
    }

    /// Reads the photos that `document` names; each file once.
    pub fn read(&mut self, document: &Document, tables: &[PhotoTable], faults: &mut Faults) {
        for (index, table) in tables.iter().enumerate() {
            if !self.seen.insert(table.file.clone()) {
                continue;
            }
            let at = index.to_string();
            let path = ["photo", at.as_str(), "file"];
            match self.source.read(&table.file, PHOTO_LIMIT) {
                Err(fault) => {
                    let message = format!("photo `{}`: {fault}", table.file);
                    let hint = match fault {
                        ReadFault::Missing => "copy it into the job folder, or correct the name",
                        ref other => what_to_do(other),
                    };
                    document.fault(&path, message, hint, faults);
                }
                Ok(input) => match picture(&input) {
                    Ok(picture) => self.list.push(picture),
                    Err((message, hint)) => {
                        let message = format!("photo `{}` {message}", table.file);
                        document.fault(&path, message, hint, faults);
                    }
                },
            }
        }
    }

    /// What was read.
    pub fn into_list(self) -> Vec<Picture> {
        self.list
    }
}

/// The copy for print, or what is wrong and what to do.
fn picture(input: &Input) -> Result<Picture, (String, &'static str)> {
    let format = format_of(&input.bytes)?;
    let reader = ImageReader::with_format(Cursor::new(input.bytes.as_slice()), format);
    let broken = |_: ImageError| {
        (
            "is cut short or damaged".to_owned(),
            "copy it from the camera again; open it in a viewer to see whether it is whole",
        )
    };
    let mut decoder = reader.into_decoder().map_err(broken)?;
    let (width, height) = decoder.dimensions();
    if u64::from(width) * u64::from(height) > PIXEL_LIMIT {
        return Err((
            format!("has {width} × {height} pixels"),
            "save a smaller copy: this program takes at most 64 megapixels",
        ));
    }
    if format == ImageFormat::Jpeg && !ends_as_jpeg(&input.bytes) {
        return Err(broken(ImageError::IoError(
            std::io::ErrorKind::UnexpectedEof.into(),
        )));
    }
    let orientation = decoder.orientation().unwrap_or(Orientation::NoTransforms);
    let mut image = DynamicImage::from_decoder(decoder).map_err(broken)?;
    if image.width().max(image.height()) > PRINT_SIDE {
        image = scaled(&image)
            .ok_or_else(|| broken(ImageError::IoError(std::io::ErrorKind::InvalidData.into())))?;
    }
    image.apply_orientation(orientation);
    let flat = on_white(&image);
    let mut jpeg = Vec::new();
    JpegEncoder::new_with_quality(&mut jpeg, PRINT_QUALITY)
        .write_image(
            flat.as_raw(),
            flat.width(),
            flat.height(),
            ExtendedColorType::Rgb8,
        )
        .map_err(broken)?;
    Ok(Picture {
        file: input.name.clone(),
        size: input.bytes.len() as u64,
        digest: input.digest,
        width: flat.width(),
        height: flat.height(),
        jpeg,
    })
}

/// The picture with its longer side at [`PRINT_SIDE`], in eight bits a channel.
fn scaled(image: &DynamicImage) -> Option<DynamicImage> {
    let eight_bits = if image.color().has_alpha() {
        DynamicImage::from(image.to_rgba8())
    } else {
        DynamicImage::from(image.to_rgb8())
    };
    let (width, height) = (image.width(), image.height());
    let longer = f64::from(width.max(height));
    let side = |side: u32| {
        (f64::from(side) * f64::from(PRINT_SIDE) / longer)
            .round()
            .max(1.0) as u32
    };
    let mut copy = DynamicImage::new(side(width), side(height), eight_bits.color());
    let options = ResizeOptions::new().resize_alg(ResizeAlg::Convolution(FilterType::Lanczos3));
    Resizer::new()
        .resize(&eight_bits, &mut copy, &options)
        .ok()?;
    Some(copy)
}

fn format_of(bytes: &[u8]) -> Result<ImageFormat, (String, &'static str)> {
    // ISO/IEC 23008-12: a file-type box, whose brand tells HEIF from other media.
    let brand = bytes.get(4..12);
    let heif = brand.is_some_and(|box_| {
        box_.starts_with(b"ftyp")
            && [&b"heic"[..], b"heix", b"hevc", b"mif1", b"msf1", b"avif"].contains(&&box_[4..])
    });
    if heif {
        return Err((
            "is a HEIC photo".to_owned(),
            "set the camera to JPEG, or export a JPEG copy, and name that",
        ));
    }
    match image::guess_format(bytes) {
        Ok(format @ (ImageFormat::Jpeg | ImageFormat::Png)) => Ok(format),
        _ => Err((
            "is neither a JPEG nor a PNG picture".to_owned(),
            "export it as JPEG, and name that file",
        )),
    }
}

/// A whole JPEG has an end-of-image marker (ITU-T T.81, B.1.1.3); decoders fill
/// in what a truncated one lacks with grey, and would hide the loss.
fn ends_as_jpeg(bytes: &[u8]) -> bool {
    let tail = &bytes[bytes.len().saturating_sub(4096)..];
    tail.windows(2).any(|pair| pair == [0xFF, 0xD9])
}

/// The picture on white paper, where it is transparent.
fn on_white(image: &DynamicImage) -> image::RgbImage {
    if !image.color().has_alpha() {
        return image.to_rgb8();
    }
    let with_alpha = image.to_rgba8();
    image::RgbImage::from_fn(with_alpha.width(), with_alpha.height(), |x, y| {
        let [r, g, b, a] = with_alpha.get_pixel(x, y).0;
        let over = |c: u8| ((u32::from(c) * u32::from(a) + 255 * (255 - u32::from(a))) / 255) as u8;
        image::Rgb([over(r), over(g), over(b)])
    })
}
