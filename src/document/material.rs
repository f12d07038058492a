//! What pages are made from, and what is attached to a PDF.

use std::collections::BTreeMap;

use chrono::{DateTime, FixedOffset};

use super::judged::{DropOff, Judged};
use super::set::Form;
use crate::files::{Digest, Input};
use crate::intake::{Intake, Picture};
use crate::render::{Attachment, PictureData, Relationship};
use crate::result::{DOCUMENT_FILE, DocumentFile, DocumentKind, FormFile, PhotoCopy};
use crate::seals::Link;
use crate::view::{InputFile, Material, PictureFile, ReceiptMaterial, Signer, Words};

/// What the report of `judged` is made from.
pub fn material(
    judged: &Judged,
    issued: DateTime<FixedOffset>,
    signer: Option<Signer>,
) -> Material<'_> {
    let intake = &judged.intake;
    let pictures = intake.pictures.iter().enumerate();
    Material {
        job: &intake.job,
        shop: &intake.shop,
        judgement: &judged.judgement,
        inputs: inputs(intake),
        pictures: pictures
            .map(|(index, picture)| picture_file(picture, picture_path(index)))
            .collect(),
        logo: logo_file(intake.logo.as_ref()),
        issued,
        sealing: judged.sealing.clone(),
        signer,
    }
}

/// What the receipt of `job` is made from.
pub fn receipt_material<'a>(
    job: &'a DropOff,
    issued: DateTime<FixedOffset>,
    signer: Option<Signer>,
) -> ReceiptMaterial<'a> {
    ReceiptMaterial {
        job: &job.intake.job,
        shop: &job.intake.shop,
        logo: logo_file(job.intake.logo.as_ref()),
        issued,
        sealing: &job.sealing,
        signer,
    }
}

/// Every file that was read, for the list of inputs.
fn inputs<T>(intake: &Intake<T>) -> Vec<InputFile> {
    let texts = intake.texts.iter().map(|input| InputFile {
        name: input.name.clone(),
        digest: input.digest.to_string(),
        size: input.bytes.len() as u64,
        attached: true,
        caption: String::new(),
    });
    let photos = intake.pictures.iter().map(|picture| InputFile {
        name: picture.file.clone(),
        digest: picture.digest.to_string(),
        size: picture.size,
        attached: false,
        caption: String::new(),
    });
    let recordings = intake.recordings.iter().map(|recorded| InputFile {
        name: recorded.file.clone(),
        digest: recorded.digest.to_string(),
        size: recorded.size,
        attached: false,
        caption: recorded.caption.clone(),
    });
    texts.chain(photos).chain(recordings).collect()
}

/// What is attached to a document.
pub struct Parts<'a> {
    /// The input files.
    pub texts: &'a [Input],
    /// The seals.
    pub seals: &'a [Link],
    /// The result, of a report.
    pub result: Option<&'a String>,
    /// The files of the shop's own form, by name.
    pub own: &'a BTreeMap<String, Vec<u8>>,
    /// What the document is.
    pub document: &'a String,
}

/// All of these as they are attached, in this order.
pub fn attachments<'a>(parts: &Parts<'a>, words: &Words) -> Vec<Attachment<'a>> {
    let texts = parts.texts.iter().map(|input| Attachment {
        name: input.name.clone(),
        mime: "application/toml",
        relationship: Relationship::Source,
        description: words.say_with("attached-input", &[("digest", &input.digest.to_string())]),
        bytes: &input.bytes,
    });
    let seals = parts.seals.iter().map(|link| Attachment {
        name: link.file.clone(),
        mime: "text/plain",
        relationship: Relationship::Supplement,
        description: words.say_with("attached-seal", &[("digest", &link.digest.to_string())]),
        bytes: &link.bytes,
    });
    let data = |name: &str, id: &str, text: &'a String| Attachment {
        name: name.to_owned(),
        mime: "application/json",
        relationship: Relationship::Data,
        description: words.say(id),
        bytes: text.as_bytes(),
    };
    let result = parts.result;
    let result = result.map(|result| data("result.json", "attached-result", result));
    let own = parts.own.iter().map(|(name, bytes)| Attachment {
        name: form_name(name),
        mime: "text/plain",
        relationship: Relationship::Supplement,
        description: words.say("attached-form"),
        bytes,
    });
    let document = data(DOCUMENT_FILE, "attached-document", parts.document);
    let all = texts.chain(seals).chain(result).chain(own);
    all.chain([document]).collect()
}

/// The name under which a file of the shop's own form is attached.
fn form_name(name: &str) -> String {
    format!("form-{name}")
}

/// The names under which the files of a shop's own form are attached, if there is one.
pub fn form_names(own: &BTreeMap<String, Vec<u8>>) -> Option<Vec<String>> {
    let names: Vec<String> = own.keys().map(|name| form_name(name)).collect();
    (!names.is_empty()).then_some(names)
}

/// What a document of the job in `intake` is, for those who set its pages again.
pub fn document_file<T>(
    kind: DocumentKind,
    intake: &Intake<T>,
    form: Form<'_>,
    signer: Option<&Signer>,
) -> DocumentFile {
    let own = form.own.iter();
    // A receipt shows no photo.
    let photos = match kind {
        DocumentKind::Report => intake.pictures.as_slice(),
        DocumentKind::Receipt => &[],
    };
    let logo = intake.logo.as_ref();
    DocumentFile {
        own_form: own
            .map(|(name, bytes)| FormFile {
                file: form_name(name),
                sha256: Digest::of(bytes).to_string(),
            })
            .collect(),
        photos: photos
            .iter()
            .map(|photo| PhotoCopy::new(&photo.file, photo.taken, &photo.copy))
            .collect(),
        logo: logo.map(|logo| Digest::of(&logo.copy).to_string()),
        ..DocumentFile::new(kind, form.issued, signer.map(|signer| signer.time))
    }
}

/// The photos and the logo, under the paths by which the pages know them.
pub fn pictures<'a>(photos: &'a [Picture], logo: Option<&'a Picture>) -> Vec<PictureData<'a>> {
    let photos = photos.iter().enumerate();
    let photos = photos.map(|(index, photo)| (photo, picture_path(index)));
    photos
        .chain(logo.map(|logo| (logo, LOGO_PATH.to_owned())))
        .map(|(picture, path)| PictureData {
            path,
            bytes: &picture.copy,
        })
        .collect()
}

/// Where the template finds the logo.
const LOGO_PATH: &str = "pictures/logo.png";

fn logo_file(logo: Option<&Picture>) -> Option<PictureFile> {
    logo.map(|logo| picture_file(logo, LOGO_PATH.to_owned()))
}

fn picture_file(picture: &Picture, path: String) -> PictureFile {
    PictureFile {
        file: picture.file.clone(),
        path,
        aspect: f64::from(picture.width) / f64::from(picture.height.max(1)),
    }
}

/// Pictures are named by number, so that no file name can hide another.
fn picture_path(index: usize) -> String {
    format!("pictures/{index}.jpg")
}
