//! One picture: whether it is whole, when it was taken, and its copy for print.
//!
//! The copy is scaled and written anew from its pixels, so it carries no location
//! and no other metadata.

use std::io::Cursor;

use chrono::{FixedOffset, NaiveDate, NaiveDateTime};
use fast_image_resize::{FilterType, ResizeAlg, ResizeOptions, Resizer};
use image::codecs::jpeg::JpegEncoder;
use image::metadata::Orientation;
use image::{DynamicImage, ImageDecoder, ImageError, ImageFormat, ImageReader, Limits, RgbImage};

use super::picture::{Picture, Refusal};
use super::picture_again::{PRINT_SIDE, logo_png, made_from};
use super::picture_memory::Room;
use crate::files::Input;
use crate::job::CaptureTime;

/// The most pixels that are decoded.
const PIXEL_LIMIT: u64 = 64_000_000;
/// The most bytes that they may take: 64 megapixels of 8 bits, or half as many of 16.
const BYTE_LIMIT: u64 = 4 * PIXEL_LIMIT;
/// The most bytes that a picture may ask for beside its pixels, such as a colour profile.
const SIDE_LIMIT: u64 = 32 << 20;
/// JPEG quality of the copy, of 100.
const PRINT_QUALITY: u8 = 76;
/// The longer side of a logo's copy, in pixels: 300 dpi at 60 mm.
const LOGO_SIDE: u32 = 720;

/// The copy for print of `input`, which is decoded once `room` has space for it.
pub fn picture(input: &Input, room: &Room) -> Result<Picture, Refusal> {
    let (flat, taken) = pixels(input, PRINT_SIDE, room)?;
    let mut jpeg = Vec::new();
    JpegEncoder::new_with_quality(&mut jpeg, PRINT_QUALITY)
        .encode_image(&flat)
        .map_err(broken)?;
    Ok(Picture {
        taken,
        ..made_from(input, &flat, jpeg)
    })
}

/// The copy of a logo.
pub fn logo(input: &Input) -> Result<Picture, Refusal> {
    let (flat, _) = pixels(input, LOGO_SIDE, &Room::default())?;
    let png = logo_png(&flat).map_err(broken)?;
    Ok(made_from(input, &flat, png))
}

/// The pixels of a JPEG or PNG, upright, on white, with no side longer than `side`;
/// and when it was taken.
fn pixels(
    input: &Input,
    side: u32,
    room: &Room,
) -> Result<(RgbImage, Option<CaptureTime>), Refusal> {
    let format = format_of(&input.bytes)?;
    let mut reader = ImageReader::with_format(Cursor::new(input.bytes.as_slice()), format);
    let mut limits = Limits::default();
    limits.max_alloc = Some(SIDE_LIMIT);
    reader.limits(limits);
    let mut decoder = reader.into_decoder().map_err(broken)?;
    let (width, height) = decoder.dimensions();
    if u64::from(width) * u64::from(height) > PIXEL_LIMIT {
        return Err((
            format!("has {width} × {height} pixels"),
            "save a smaller copy: at most 64 megapixels are accepted",
        ));
    }
    if decoder.total_bytes() > BYTE_LIMIT {
        return Err((
            format!("has {width} × {height} pixels of more than 8 bits a colour"),
            "save a copy with 8 bits a colour, or a smaller one",
        ));
    }
    if format == ImageFormat::Jpeg && !ends_as_jpeg(&input.bytes) {
        return Err(cut_short());
    }
    let orientation = decoder.orientation().unwrap_or(Orientation::NoTransforms);
    let taken = decoder
        .exif_metadata()
        .ok()
        .flatten()
        .and_then(capture_time);
    // What is not of 8 bits is held a second time while it is converted.
    let converted = match decoder.color_type().bytes_per_pixel() {
        3 | 4 => 0,
        _ => 4 * u64::from(width) * u64::from(height),
    };
    let place = room.take(decoder.total_bytes() + converted);
    let mut image = DynamicImage::from_decoder(decoder).map_err(broken)?;
    if width.max(height) > side {
        image = scaled(image, side).ok_or_else(cut_short)?;
    }
    drop(place);
    image.apply_orientation(orientation);
    Ok((on_white(image), taken))
}

fn cut_short() -> Refusal {
    (
        "is cut short or damaged".to_owned(),
        "copy it from the camera again; open it in a viewer to see whether it is complete",
    )
}

fn broken(_: ImageError) -> Refusal {
    cut_short()
}

/// The picture with its longer side at `side`, in eight bits a channel.
fn scaled(image: DynamicImage, side: u32) -> Option<DynamicImage> {
    let (width, height) = (image.width(), image.height());
    // Both conversions leave pixels that already are of that kind where they are.
    let eight_bits = if image.color().has_alpha() {
        DynamicImage::from(image.into_rgba8())
    } else {
        DynamicImage::from(image.into_rgb8())
    };
    let longer = f64::from(width.max(height));
    let shorter = |length: u32| {
        (f64::from(length) * f64::from(side) / longer)
            .round()
            .max(1.0) as u32
    };
    let mut copy = DynamicImage::new(shorter(width), shorter(height), eight_bits.color());
    // As sharp as bicubic for a smaller copy, in a third of Lanczos' time.
    let options = ResizeOptions::new().resize_alg(ResizeAlg::Convolution(FilterType::Hamming));
    Resizer::new()
        .resize(&eight_bits, &mut copy, &options)
        .ok()?;
    Some(copy)
}

fn format_of(bytes: &[u8]) -> Result<ImageFormat, Refusal> {
    // ISO/IEC 23008-12: a file-type box, whose brand tells HEIF from other media.
    let brand = bytes.get(4..12);
    let heif = brand.is_some_and(|box_| {
        box_.starts_with(b"ftyp")
            && [&b"heic"[..], b"heix", b"hevc", b"mif1", b"msf1", b"avif"].contains(&&box_[4..])
    });
    if heif {
        return Err((
            "is a HEIC photo".to_owned(),
            "set the camera to JPEG, or export a JPEG copy, and use that",
        ));
    }
    match image::guess_format(bytes) {
        Ok(format @ (ImageFormat::Jpeg | ImageFormat::Png)) => Ok(format),
        _ => Err((
            "is neither a JPEG nor a PNG picture".to_owned(),
            "export it as JPEG, and use that file",
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
fn on_white(image: DynamicImage) -> RgbImage {
    if !image.color().has_alpha() {
        return image.into_rgb8();
    }
    let with_alpha = image.into_rgba8();
    RgbImage::from_fn(with_alpha.width(), with_alpha.height(), |x, y| {
        let [r, g, b, a] = with_alpha.get_pixel(x, y).0;
        let over = |c: u8| ((u32::from(c) * u32::from(a) + 255 * (255 - u32::from(a))) / 255) as u8;
        image::Rgb([over(r), over(g), over(b)])
    })
}

/// `DateTimeOriginal` with `OffsetTimeOriginal`, where the camera wrote them (CIPA
/// DC-008, Exif 2.31, 4.6.6; tags from memory). Metadata that cannot be read are no
/// problem of the photo: it then has no time.
fn capture_time(metadata: Vec<u8>) -> Option<CaptureTime> {
    let fields = exif::Reader::new()
        .continue_on_error(true)
        .read_raw(metadata)
        .or_else(|error| error.distill_partial_result(|_| {}))
        .ok()?;
    let text = |tag| match &fields.get_field(tag, exif::In::PRIMARY)?.value {
        exif::Value::Ascii(parts) => parts.first().cloned(),
        _ => None,
    };
    let mut time = exif::DateTime::from_ascii(&text(exif::Tag::DateTimeOriginal)?).ok()?;
    if let Some(offset) = text(exif::Tag::OffsetTimeOriginal) {
        // A blank offset is as good as none.
        let _ = time.parse_offset(&offset);
    }
    let local: NaiveDateTime =
        NaiveDate::from_ymd_opt(time.year.into(), time.month.into(), time.day.into())?
            .and_hms_opt(time.hour.into(), time.minute.into(), time.second.into())?;
    Some(CaptureTime {
        local,
        offset: time
            .offset
            .and_then(|minutes| FixedOffset::east_opt(i32::from(minutes) * 60)),
    })
}
