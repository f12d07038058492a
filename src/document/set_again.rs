//! The pages of a document, set again from what it carries: the pipeline once more, with the
//! attachments for a folder and the pictures that are on its pages.

use std::collections::BTreeMap;

use super::judged::{DropOff, Judged};
use super::set::{Form, description, set_receipt, set_report, signer};
use crate::files::{Digest, Source};
use crate::intake::{
    self, Inputs, Intake, Media, Picture, Recorded, can_print, date, is_copy, logo_of_pixels,
};
use crate::job::{Photo, Recording, Stage};
use crate::judge::judge;
use crate::render::{Printed, RenderError, SignaturePlace, Template};
use crate::result::{DocumentKind, PhotoCopy};
use crate::seals::{Chain, sealing, sealing_of_baseline, shown};
use crate::signature::{By, with_empty_signature};
use crate::verification::{Order, PictureData, Typesetter};
use crate::view::{Signer, Words};

/// The program's own pages.
pub struct OwnPages;

impl Typesetter for OwnPages {
    fn set(&self, order: &Order<'_>) -> Result<Vec<u8>, String> {
        let carried = Carried::of(order)?;
        let signer = match (&order.signing, order.document.time) {
            (Some(signing), Some(time)) => Some(signer(signing.certificate, time)),
            (None, None) => None,
            (Some(_), None) => return Err("it was made to stay unsigned".to_owned()),
            (None, Some(_)) => return Err("its signature was taken away".to_owned()),
        };
        let (printed, words) = match order.document.kind {
            DocumentKind::Report => report(order, carried, signer.clone())?,
            DocumentKind::Receipt => receipt(order, carried, signer.clone())?,
        };
        let (Some(signing), Some(signer)) = (order.signing, signer) else {
            return Ok(printed.bytes);
        };
        let by = By {
            certificate: signing.certificate,
            chain: signing.others,
            stamped: signing.stamped,
        };
        let place = printed.signature.unwrap_or(SignaturePlace::NOT_SEEN);
        let description = description(&signer, &words);
        with_empty_signature(printed.bytes, place, &description, by, order.issued)
            .map(|(file, _)| file)
            .map_err(|error| error.to_string())
    }
}

fn report(
    order: &Order<'_>,
    carried: Carried,
    signer: Option<Signer>,
) -> Result<(Printed, Words), String> {
    let mut intake = intake::read_job(inputs(order), &can_print, Media::Ignored)
        .map_err(|_| "the inputs cannot be read".to_owned())?;
    let job = &mut intake.job;
    let stages = [
        &mut job.baseline.photos,
        &mut job.work.photos,
        &mut job.retest.photos,
    ];
    for photos in stages {
        date(photos, &carried.photos);
    }
    let job = &intake.job;
    carried.fits(&[&job.baseline.photos, &job.work.photos, &job.retest.photos])?;
    intake.recordings = carried.recorded(&[
        &job.baseline.recordings,
        &job.work.recordings,
        &job.retest.recordings,
    ]);
    carried.into(&mut intake);
    let chain = chain(order);
    let sealing = sealing(&chain, &intake.digests(), intake.job.work.started);
    let result = order.attachments.get("result.json");
    let result = result.and_then(|bytes| String::from_utf8(bytes.clone()).ok());
    let judged = Judged {
        judgement: judge(&intake.job),
        result: result.ok_or_else(|| "it carries no result".to_owned())?,
        sealing,
        intake,
    };
    let words = words(&judged.intake)?;
    let printed = with_own_form(order, &words, |form| set_report(&judged, form, signer))?;
    Ok((printed, words))
}

fn receipt(
    order: &Order<'_>,
    carried: Carried,
    signer: Option<Signer>,
) -> Result<(Printed, Words), String> {
    let mut intake = intake::read_baselined(inputs(order), &can_print, Media::Ignored)
        .map_err(|_| "the inputs cannot be read".to_owned())?;
    carried.fits(&[])?;
    let run = &intake.job.baseline;
    intake.recordings = carried.recorded(&[&run.recordings]);
    let photos = carried.not_shown(&run.photos);
    carried.into(&mut intake);
    intake.pictures = photos;
    let chain = chain(order);
    let sealing = sealing_of_baseline(&chain, &intake.digests());
    let job = DropOff { intake, sealing };
    let words = words(&job.intake)?;
    let sealed = job.sealing.chain.latest(Stage::Baseline);
    sealed.ok_or("the baseline is not sealed")?;
    let printed = with_own_form(order, &words, |form| set_receipt(&job, form, signer))?;
    Ok((printed, words))
}

fn inputs<'a>(order: &'a Order<'_>) -> Inputs<'a> {
    Inputs {
        job: order.attachments,
        shop: order.attachments,
    }
}

fn chain(order: &Order<'_>) -> Chain {
    let seals = order.attachments.iter();
    let seals = seals.filter(|(name, _)| name.ends_with(".sha256"));
    Chain::of(seals.map(|(name, bytes)| (name.clone(), bytes.clone())))
}

/// The program's own words for the shop.
fn words<T>(intake: &Intake<T>) -> Result<Words, String> {
    let words = Words::of(&intake.shop.language, &[]).map_err(|error| error.to_string())?;
    Ok(words.with_second_units(intake.shop.second_units))
}

/// What `set` sets with the program's own form, as it was issued.
fn with_own_form(
    order: &Order<'_>,
    words: &Words,
    set: impl FnOnce(Form<'_>) -> Result<Printed, RenderError>,
) -> Result<Printed, String> {
    let form = Form {
        issued: order.issued,
        template: &Template::default(),
        own: &BTreeMap::new(),
        words,
    };
    set(form).map_err(|error| error.to_string())
}

/// The photos, recordings and logo of a document, as far as it tells of them.
struct Carried {
    photos: Vec<Picture>,
    logo: Option<Picture>,
    /// What the result or a seal says of the files that are not attached.
    listed: BTreeMap<String, (u64, Digest)>,
}

impl Carried {
    fn of(order: &Order<'_>) -> Result<Self, String> {
        let listed = listed(order);
        let jpegs = order
            .pictures
            .iter()
            .filter_map(|carried| match &carried.data {
                PictureData::Jpeg(bytes) => Some((Digest::of(bytes).to_string(), carried, bytes)),
                PictureData::Rgb(_) => None,
            });
        let jpegs: BTreeMap<String, _> = jpegs
            .map(|(digest, carried, bytes)| (digest, (carried, bytes)))
            .collect();
        let photos = order.document.photos.iter();
        let photos = photos.map(|photo| {
            let (size, digest) = listed
                .get(&photo.file)
                .copied()
                .unwrap_or((0, Digest::of(b"")));
            let found = jpegs.get(&photo.copy);
            let copy = match order
                .originals
                .map(|folder| original(folder, photo, digest))
            {
                Some(Some(copy)) if Digest::of(&copy.copy).to_string() != photo.copy => {
                    return Err(format!(
                        "the picture of {} is not what that file gives",
                        shown(&photo.file)
                    ));
                }
                Some(Some(copy)) => Some((copy.copy, copy.width, copy.height)),
                Some(None) | None => found
                    .filter(|(carried, bytes)| is_copy(bytes, carried.width, carried.height))
                    .map(|(carried, bytes)| ((*bytes).clone(), carried.width, carried.height)),
            };
            // A photo that no page shows is not in the document.
            let (copy, width, height) = copy.unwrap_or_default();
            Ok(Picture {
                file: photo.file.clone(),
                size,
                digest,
                taken: photo.capture_time(),
                copy,
                width,
                height,
            })
        });
        Ok(Self {
            photos: photos.collect::<Result<_, String>>()?,
            logo: order
                .document
                .logo
                .as_ref()
                .map(|digest| logo(order, digest))
                .transpose()?,
            listed,
        })
    }

    fn recorded(&self, recordings: &[&Vec<Recording>]) -> Vec<Recorded> {
        let mut found: Vec<Recorded> = Vec::new();
        for recording in recordings.iter().copied().flatten() {
            if found.iter().any(|known| known.file == recording.file) {
                continue;
            }
            if let Some((size, digest)) = self.listed.get(&recording.file) {
                found.push(Recorded {
                    file: recording.file.clone(),
                    caption: recording.caption.clone(),
                    size: *size,
                    digest: *digest,
                });
            }
        }
        found
    }

    /// The photos of a job before the work, which no page shows.
    fn not_shown(&self, photos: &[Photo]) -> Vec<Picture> {
        let mut found: Vec<Picture> = Vec::new();
        for photo in photos {
            if found.iter().all(|known| known.file != photo.file)
                && let Some((size, digest)) = self.listed.get(&photo.file)
            {
                found.push(Picture::unseen(&photo.file, *size, *digest));
            }
        }
        found
    }

    /// The document must tell of the photos that the job names, in that order.
    fn fits(&self, named: &[&Vec<Photo>]) -> Result<(), String> {
        let mut files: Vec<&str> = Vec::new();
        for photo in named.iter().copied().flatten() {
            if !files.contains(&photo.file.as_str()) {
                files.push(&photo.file);
            }
        }
        let told = self.photos.iter().map(|photo| photo.file.as_str());
        if files.into_iter().eq(told) {
            Ok(())
        } else {
            Err("it tells of other photos than the job does".to_owned())
        }
    }

    /// Puts photos and logo where reading the folder puts them.
    fn into<T>(self, intake: &mut Intake<T>) {
        intake.pictures = self.photos;
        intake.logo = self.logo;
    }
}

/// The copy made again from the original, where the folder has it as it was sealed; whether
/// it has is a question of its own.
#[cfg(feature = "program")]
fn original(folder: &dyn Source, photo: &PhotoCopy, digest: Digest) -> Option<Picture> {
    let copy = crate::intake::photo_copy(folder, &photo.file)?;
    (copy.digest == digest).then_some(copy)
}

/// Without the program no photo is scaled.
#[cfg(not(feature = "program"))]
fn original(_: &dyn Source, _: &PhotoCopy, _: Digest) -> Option<Picture> {
    None
}

/// The logo, written anew from the pixels that are on the pages.
fn logo(order: &Order<'_>, digest: &str) -> Result<Picture, String> {
    let pixels = order
        .pictures
        .iter()
        .filter_map(|carried| match &carried.data {
            PictureData::Rgb(pixels) => logo_of_pixels(carried.width, carried.height, pixels),
            PictureData::Jpeg(_) => None,
        });
    pixels
        .into_iter()
        .find(|logo| Digest::of(&logo.copy).to_string() == digest)
        .ok_or_else(|| "the logo on it is not the one it tells of".to_owned())
}

/// What the result lists with size and digest; else what the seals say.
fn listed(order: &Order<'_>) -> BTreeMap<String, (u64, Digest)> {
    let mut listed = BTreeMap::new();
    for link in chain(order).links {
        listed.extend(
            link.seal
                .files
                .into_iter()
                .map(|(file, digest)| (file, (0, digest))),
        );
    }
    let result = order.attachments.get("result.json");
    let result: Option<serde_json::Value> =
        result.and_then(|bytes| serde_json::from_slice(bytes).ok());
    let inputs = result
        .as_ref()
        .and_then(|result| result["inputs"].as_array());
    listed.extend(inputs.into_iter().flatten().filter_map(|input| {
        let digest = input["sha256"].as_str()?.parse().ok()?;
        Some((
            input["file"].as_str()?.to_owned(),
            (input["size"].as_u64()?, digest),
        ))
    }));
    listed
}
