//! Typesets the template with its data, and exports the PDF.

use std::fmt;

use chrono::{DateTime, Datelike, FixedOffset, Timelike};
use serde::Serialize;
use typst::diag::SourceDiagnostic;
use typst::foundations::{Datetime, Dict, IntoValue, Label, Smart};
use typst::utils::PicoStr;
use typst::{World, WorldExt};
use typst_as_lib::{TypstAsLibError, TypstEngine, TypstWorld};
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards, Timestamp};

use super::fonts;
use super::template::Template;
use crate::view::{Receipt, Report, ShopHead, Worksheet};

/// A file that the PDF carries (PDF/A-3, ISO 19005-3, 6.8).
#[derive(Debug, Clone)]
pub struct Attachment<'a> {
    /// The name under which a reader finds it.
    pub name: String,
    /// Its media type.
    pub mime: &'static str,
    /// What it is to the report.
    pub relationship: Relationship,
    /// What it is, in words.
    pub description: String,
    /// Its bytes.
    pub bytes: &'a [u8],
}

/// What an attached file is to the document (ISO 32000-2, table 43).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Relationship {
    /// The document was made from it.
    Source,
    /// It holds the document's figures for machines.
    Data,
    /// It helps to check the document.
    Supplement,
}

/// A picture for the template.
#[derive(Debug, Clone)]
pub struct PictureData<'a> {
    /// The path under which the template finds it.
    pub path: String,
    /// A JPEG or PNG.
    pub bytes: &'a [u8],
}

/// Why there is no PDF: what is wrong in the template, line by line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RenderError {
    /// One entry for each error, with file, line and hint.
    pub errors: Vec<String>,
}

impl fmt::Display for RenderError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.errors.join("\n"))
    }
}

impl std::error::Error for RenderError {}

/// What can be printed.
#[derive(Debug, Clone, Copy)]
pub enum Document<'a> {
    /// The report of a job.
    Report(&'a Report),
    /// What the customer takes home when the baseline is sealed.
    Receipt(&'a Receipt),
}

impl Document<'_> {
    /// The name under which the template knows it.
    fn kind(&self) -> &'static str {
        match self {
            Self::Report(_) => "report",
            Self::Receipt(_) => "receipt",
        }
    }

    fn shop(&self) -> &ShopHead {
        match self {
            Self::Report(report) => &report.sheet.shop,
            Self::Receipt(receipt) => &receipt.sheet.shop,
        }
    }

    fn data(&self) -> Vec<u8> {
        match self {
            Self::Report(report) => json(report),
            Self::Receipt(receipt) => json(receipt),
        }
    }
}

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

/// Makes the PDF of `document` by `template`, issued at `issued`.
///
/// # Errors
/// [`RenderError`] when the template has an error, or when the document would
/// break PDF/A-3a or PDF/UA-1.
pub fn pdf(
    template: &Template,
    document: Document<'_>,
    pictures: &[PictureData<'_>],
    attachments: &[Attachment<'_>],
    issued: DateTime<FixedOffset>,
) -> Result<Printed, RenderError> {
    let mut files: Vec<(String, Vec<u8>)> = vec![
        ("kind.json".to_owned(), json(&document.kind())),
        ("data.json".to_owned(), document.data()),
        ("attachments.json".to_owned(), json(&listing(attachments))),
    ];
    files.extend(
        attachments
            .iter()
            .enumerate()
            .map(|(index, file)| (attachment_path(index), file.bytes.to_vec())),
    );
    files.extend(
        pictures
            .iter()
            .map(|file| (file.path.to_owned(), file.bytes.to_vec())),
    );
    set(template, "main.typ", files, document.shop(), issued)
}

/// Makes the PDF of a worksheet, issued at `issued`.
///
/// # Errors
/// As [`pdf`].
pub fn worksheet(
    worksheet: &Worksheet,
    issued: DateTime<FixedOffset>,
) -> Result<Vec<u8>, RenderError> {
    let files = vec![("worksheet.json".to_owned(), json(worksheet))];
    let template = Template::default();
    set(
        &template,
        "worksheet.typ",
        files,
        &worksheet.sheet.shop,
        issued,
    )
    .map(|printed| printed.bytes)
}

/// Sets `template` from its file `main`, with `files` for it to read, in the colour
/// of `shop`.
fn set(
    template: &Template,
    main: &str,
    mut files: Vec<(String, Vec<u8>)>,
    shop: &ShopHead,
    issued: DateTime<FixedOffset>,
) -> Result<Printed, RenderError> {
    files.push(("issued.json".to_owned(), json(&Stamp::from(issued))));
    let (main, others): (Vec<_>, Vec<_>) = template.sources().partition(|(name, _)| *name == main);
    let main = main.first().unwrap_or_else(|| unreachable!("no main file"));
    let engine = TypstEngine::builder()
        .main_file(*main)
        .fonts(fonts::loaded())
        .with_static_source_file_resolver(others)
        .with_static_file_resolver(
            files
                .iter()
                .map(|(path, bytes)| (path.as_str(), bytes.as_slice())),
        )
        .build();
    let mut inputs = Dict::new();
    if let Some(accent) = &shop.accent {
        inputs.insert("accent".into(), accent.as_str().into_value());
    }
    let world = engine.world_builder().with_inputs(inputs).build();
    export(&world.map_err(error_of)?, issued)
}

fn export(world: &TypstWorld<'_>, issued: DateTime<FixedOffset>) -> Result<Printed, RenderError> {
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
        creator: Smart::Custom(Some(
            concat!("retestify ", env!("CARGO_PKG_VERSION")).to_owned(),
        )),
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

/// The date for the document's metadata, as typst's `datetime` takes it.
#[derive(Serialize)]
struct Stamp {
    year: i32,
    month: u32,
    day: u32,
}

impl From<DateTime<FixedOffset>> for Stamp {
    fn from(issued: DateTime<FixedOffset>) -> Self {
        Self {
            year: issued.year(),
            month: issued.month(),
            day: issued.day(),
        }
    }
}

#[derive(Serialize)]
struct Listed<'a> {
    name: &'a str,
    path: String,
    mime: &'a str,
    relationship: &'static str,
    description: &'a str,
}

fn listing<'a>(attachments: &'a [Attachment<'_>]) -> Vec<Listed<'a>> {
    attachments
        .iter()
        .enumerate()
        .map(|(index, file)| Listed {
            name: &file.name,
            path: attachment_path(index),
            mime: file.mime,
            relationship: match file.relationship {
                Relationship::Source => "source",
                Relationship::Data => "data",
                Relationship::Supplement => "supplement",
            },
            description: &file.description,
        })
        .collect()
}

/// Attachments are found by number, so that no name can hide another file.
fn attachment_path(index: usize) -> String {
    format!("attachments/{index}")
}

/// The data of the template consists of strings, numbers and lists, which JSON can always
/// express.
fn json(value: &impl Serialize) -> Vec<u8> {
    serde_json::to_vec(value).unwrap_or_default()
}

/// File, line, message and hints of one error.
fn describe(world: &TypstWorld<'_>, error: &SourceDiagnostic) -> String {
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

fn error_of(error: TypstAsLibError) -> RenderError {
    RenderError {
        errors: vec![error.to_string()],
    }
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
