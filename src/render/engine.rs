//! What goes into a document besides its words, and the way from both to the PDF.

use chrono::{DateTime, Datelike, FixedOffset};
use serde::Serialize;
use typst::foundations::{Dict, IntoValue};

use super::error::RenderError;
use super::export::{Printed, export};
#[cfg(feature = "program")]
use super::library_world::in_world;
#[cfg(not(feature = "program"))]
use super::own_world::in_world;
use super::sheets::Sheets;
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
    let mut inputs = Dict::new();
    if let Some(accent) = &shop.accent {
        inputs.insert("accent".into(), accent.as_str().into_value());
    }
    let sheets = Sheets {
        main,
        sources: template.sources().collect(),
        files,
        inputs,
    };
    in_world(&sheets, |world| export(world, issued))
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
