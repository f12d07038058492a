//! What pages are made from, and what is attached to a PDF.

use chrono::{DateTime, FixedOffset};

use super::judged::{DropOff, Judged};
use crate::files::Input;
use crate::intake::{Intake, Picture};
use crate::render::{Attachment, PictureData, Relationship};
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

/// What the receipt of `job` is made from; `qr` is the code of the seal.
pub fn receipt_material<'a>(
    job: &'a DropOff,
    issued: DateTime<FixedOffset>,
    signer: Option<Signer>,
    qr: &'a [Vec<bool>],
) -> ReceiptMaterial<'a> {
    ReceiptMaterial {
        job: &job.intake.job,
        shop: &job.intake.shop,
        logo: logo_file(job.intake.logo.as_ref()),
        issued,
        sealing: &job.sealing,
        signer,
        qr,
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

/// The input files, the seals and the result, as they are attached.
pub fn attachments<'a>(
    texts: &'a [Input],
    seals: &'a [Link],
    result: Option<&'a String>,
    words: &Words,
) -> Vec<Attachment<'a>> {
    let texts = texts.iter().map(|input| Attachment {
        name: &input.name,
        mime: "application/toml",
        relationship: Relationship::Source,
        description: words.say_with("attached-input", &[("digest", &input.digest.to_string())]),
        bytes: &input.bytes,
    });
    let seals = seals.iter().map(|link| Attachment {
        name: &link.file,
        mime: "text/plain",
        relationship: Relationship::Supplement,
        description: words.say_with("attached-seal", &[("digest", &link.digest.to_string())]),
        bytes: &link.bytes,
    });
    let result = result.map(|result| Attachment {
        name: "result.json",
        mime: "application/json",
        relationship: Relationship::Data,
        description: words.say("attached-result"),
        bytes: result.as_bytes(),
    });
    texts.chain(seals).chain(result).collect()
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
