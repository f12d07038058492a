//! Typesets what a world holds, and exports the PDF.

use chrono::{DateTime, Datelike, FixedOffset, Timelike};
use typst::diag::SourceDiagnostic;
use typst::foundations::{Datetime, Label, Smart};
use typst::utils::PicoStr;
use typst::{World, WorldExt};
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards, Timestamp};

use super::error::RenderError;
use crate::result::TOOL;

/// A finished PDF.
#[derive(Debug, Clone)]
pub struct Printed {
    /// Its bytes.
    pub bytes: Vec<u8>,
    /// Where the template keeps a place for a signature, if it does.
    pub signature: Option<SignaturePlace>,
}

/// Where the signature is shown.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SignaturePlace {
    /// The page, counted from 0.
    pub page: usize,
    /// Left, bottom, right and top in points from the lower left corner of the page.
    pub corners: [f32; 4],
}

impl SignaturePlace {
    /// On the first page, and of no size (ISO 32000-1, 12.7.4.5).
    pub const NOT_SEEN: Self = Self {
        page: 0,
        corners: [0.0; 4],
    };
}

/// Typesets what `world` holds, and exports it.
///
/// # Errors
/// [`RenderError`] when the template has an error, or when the document would break
/// PDF/A-3a or PDF/UA-1.
pub fn export(world: &dyn World, issued: DateTime<FixedOffset>) -> Result<Printed, RenderError> {
    let worded = |errors: &[SourceDiagnostic]| RenderError {
        errors: errors.iter().map(|error| describe(world, error)).collect(),
    };
    let document: PagedDocument = typst::compile(world)
        .output
        .map_err(|errors| worded(&errors))?;
    let standards =
        PdfStandards::new(&[PdfStandard::A_3a, PdfStandard::Ua_1]).map_err(|error| {
            RenderError {
                errors: vec![error.message().to_string()],
            }
        })?;
    let options = PdfOptions {
        // Title and author identify the document well enough for its /ID.
        ident: Smart::Auto,
        creator: Smart::Custom(Some(TOOL.to_owned())),
        timestamp: timestamp(issued),
        page_ranges: None,
        standards,
        tagged: true,
        pretty: false,
    };
    let mut bytes = typst_pdf::pdf(&document, &options).map_err(|errors| worded(&errors))?;
    part_streams_from_their_ends(&mut bytes);
    Ok(Printed {
        bytes,
        signature: signature_place(&document),
    })
}

/// The rectangle between the two labels that a template puts around the place of
/// the signature.
fn signature_place(document: &PagedDocument) -> Option<SignaturePlace> {
    let introspector = document.introspector();
    let point = |label: &str| {
        let label = Label::new(PicoStr::intern(label))?;
        let found = introspector.elements().query_label(label).ok()?;
        introspector.position(found.location()?)
    };
    let from = point("signature-from")?;
    let to = point("signature-to")?;
    let page = from.page.get().checked_sub(1)?;
    let height = document.pages().get(page)?.frame.height();
    (to.page == from.page).then(|| SignaturePlace {
        page,
        corners: [
            from.point.x.to_pt() as f32,
            (height - to.point.y).to_pt() as f32,
            to.point.x.to_pt() as f32,
            (height - from.point.y).to_pt() as f32,
        ],
    })
}

/// Where the data of a stream ends in a carriage return, the line feed before
/// `endstream` reads as part of one end-of-line marker with it, and the stream
/// seems shorter than its `/Length` (ISO 19005-3, 6.1.7.1). A carriage return in
/// place of that line feed is an end-of-line marker of its own (ISO 32000-1,
/// 7.2.3), and moves nothing.
fn part_streams_from_their_ends(pdf: &mut [u8]) {
    const END: &[u8] = b"\r\nendstream\nendobj";
    let places: Vec<usize> = pdf
        .windows(END.len())
        .enumerate()
        .filter(|(_, window)| *window == END)
        .map(|(place, _)| place)
        .collect();
    for place in places {
        pdf[place + 1] = b'\r';
    }
}

fn timestamp(issued: DateTime<FixedOffset>) -> Option<Timestamp> {
    let datetime = Datetime::from_ymd_hms(
        issued.year(),
        issued.month().try_into().ok()?,
        issued.day().try_into().ok()?,
        issued.hour().try_into().ok()?,
        issued.minute().try_into().ok()?,
        issued.second().try_into().ok()?,
    )?;
    Timestamp::new_local(datetime, issued.offset().local_minus_utc() / 60)
}

/// File, line, message and hints of one error.
fn describe(world: &dyn World, error: &SourceDiagnostic) -> String {
    let place = error.span.id().and_then(|id| {
        let range = world.range(error.span)?;
        let source = world.source(id).ok()?;
        let line = source.text().get(..range.start)?.matches('\n').count() + 1;
        Some(format!("{}:{line}: ", id.vpath().get_without_slash()))
    });
    let hints: String = error
        .hints
        .iter()
        .map(|hint| format!("\n  hint: {}", hint.v))
        .collect();
    format!("{}{}{hints}", place.unwrap_or_default(), error.message)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_stream_that_ends_in_a_carriage_return_keeps_its_length() {
        let mut pdf = b"1 0 obj\n<</Length 2>>\nstream\nA\r\nendstream\nendobj\n".to_vec();
        let length = pdf.len();
        part_streams_from_their_ends(&mut pdf);
        assert_eq!(pdf.len(), length);
        assert!(pdf.windows(5).any(|window| window == b"A\r\ren"));
    }

    #[test]
    fn nothing_else_is_touched() {
        let mut pdf = b"stream\nA\nendstream\nendobj\n (\r\nendstream) ".to_vec();
        let before = pdf.clone();
        part_streams_from_their_ends(&mut pdf);
        assert_eq!(pdf, before);
    }
}
