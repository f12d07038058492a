//! The pictures that are on the pages of a document, for those who set them again: nothing
//! is scaled here, and nothing is read but what the document carries.

use std::io::Cursor;

use image::codecs::png::PngEncoder;
use image::{ImageError, ImageFormat, ImageReader, RgbImage};

use super::picture::Picture;
use crate::files::Input;

/// The longer side of the copy, in pixels: 300 dpi at half the width of a page.
pub const PRINT_SIDE: u32 = 960;

/// A logo's copy from the pixels of a copy.
pub fn logo_of_pixels(width: u32, height: u32, pixels: &[u8]) -> Option<Picture> {
    let flat = RgbImage::from_raw(width, height, pixels.to_vec())?;
    let png = logo_png(&flat).ok()?;
    let nothing = Input::new("", Vec::new());
    Some(made_from(&nothing, &flat, png))
}

/// A logo as it is kept: edges stay sharp in a PNG.
pub fn logo_png(flat: &RgbImage) -> Result<Vec<u8>, ImageError> {
    let mut png = Vec::new();
    flat.write_with_encoder(PngEncoder::new(&mut png))?;
    Ok(png)
}

/// Whether `jpeg` is a picture of this size, as a copy can be.
pub fn is_copy(jpeg: &[u8], width: u32, height: u32) -> bool {
    let reader = ImageReader::with_format(Cursor::new(jpeg), ImageFormat::Jpeg);
    width.max(height) <= PRINT_SIDE
        && reader
            .into_dimensions()
            .is_ok_and(|it| it == (width, height))
}

/// The copy of `input` that has the pixels of `flat`.
pub fn made_from(input: &Input, flat: &RgbImage, copy: Vec<u8>) -> Picture {
    Picture {
        file: input.name.clone(),
        size: input.bytes.len() as u64,
        digest: input.digest,
        taken: None,
        copy,
        width: flat.width(),
        height: flat.height(),
    }
}
