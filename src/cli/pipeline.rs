//! The pipeline: files → intake → judge → view → render → evidence.

use std::path::Path;

use chrono::{DateTime, FixedOffset};

use super::Stop;
use crate::evidence::{ResultFile, to_json};
use crate::files::{Folder, ReadFault};
use crate::intake::{self, Intake, Picture};
use crate::judge::{self, Judgement};
use crate::render::{self, Attachment, PictureData, Relationship, RenderFault, Template};
use crate::view::{self, InputFile, Material, PictureFile, Report, Words};

/// A job that was read and judged.
pub struct Judged {
    /// What was read.
    pub intake: Intake,
    /// What was judged.
    pub judgement: Judgement,
    /// The shop's logo.
    pub logo: Option<Picture>,
}

/// Reads the job folder at `path` and judges it.
pub fn judge(path: &Path) -> Result<Judged, Stop> {
    let folder = open(path)?;
    let shop = intake::find_shop(path);
    let intake = intake::read(&folder, shop, &render::can_print)
        .map_err(|faults| Stop::Faults(Box::new(faults)))?;
    let logo = intake::logo(path, &intake.shop, &render::can_print)
        .map_err(|faults| Stop::Faults(Box::new(faults)))?;
    let judgement = judge::judge(&intake.job);
    Ok(Judged {
        intake,
        judgement,
        logo,
    })
}

/// The job folder at `path`.
pub fn open(path: &Path) -> Result<Folder, Stop> {
    Folder::open(path).map_err(|fault| match fault {
        ReadFault::Missing => Stop::told(
            format!("there is no folder {}", path.display()),
            "name the folder that holds job.toml; `retestify init` makes one",
        ),
        ReadFault::NotAFile => Stop::told(
            format!("{} is not a folder", path.display()),
            "name the folder that holds job.toml, not a file in it",
        ),
        other => Stop::told(
            format!("{} cannot be opened: {other}", path.display()),
            "check that you may read it",
        ),
    })
}

/// Why a page of the built-in template could not be set.
pub fn template_fault(fault: &RenderFault) -> Stop {
    Stop::told(
        format!("the page template does not work:\n{fault}"),
        "this is a fault of the program; please report it with the lines above",
    )
}

impl Judged {
    /// The result for programs.
    pub fn result(&self) -> String {
        let texts = self
            .intake
            .texts
            .iter()
            .map(|input| (input.name.as_str(), input.bytes.len() as u64, input.digest));
        let photos = self
            .intake
            .pictures
            .iter()
            .map(|picture| (picture.file.as_str(), picture.size, picture.digest));
        to_json(&ResultFile::new(
            &self.intake.job,
            &self.judgement,
            texts.chain(photos),
        ))
    }

    /// The report in finished words.
    pub fn report(&self, issued: DateTime<FixedOffset>) -> Report {
        let Intake {
            job,
            shop,
            texts,
            pictures,
        } = &self.intake;
        let attached = texts.iter().map(|input| InputFile {
            name: input.name.clone(),
            digest: input.digest.to_string(),
            size: input.bytes.len() as u64,
            attached: true,
        });
        let listed = pictures.iter().map(|picture| InputFile {
            name: picture.file.clone(),
            digest: picture.digest.to_string(),
            size: picture.size,
            attached: false,
        });
        let material = Material {
            job,
            shop,
            judgement: &self.judgement,
            inputs: attached.chain(listed).collect(),
            pictures: pictures
                .iter()
                .enumerate()
                .map(|(index, picture)| picture_file(picture, picture_path(index)))
                .collect(),
            logo: self
                .logo
                .as_ref()
                .map(|logo| picture_file(logo, LOGO_PATH.to_owned())),
            issued,
        };
        view::report(&material, &Words::english())
    }

    /// The report as a PDF that carries its inputs and its result, set by `template`.
    pub fn pdf(
        &self,
        template: &Template,
        issued: DateTime<FixedOffset>,
    ) -> Result<Vec<u8>, RenderFault> {
        let report = self.report(issued);
        let result = self.result();
        let mut attachments: Vec<Attachment<'_>> = self
            .intake
            .texts
            .iter()
            .map(|input| Attachment {
                name: &input.name,
                mime: "application/toml",
                relationship: Relationship::Source,
                description: format!("Input file, SHA-256 {}", input.digest),
                bytes: &input.bytes,
            })
            .collect();
        attachments.push(Attachment {
            name: "result.json",
            mime: "application/json",
            relationship: Relationship::Data,
            description: "Every figure of this report, unrounded".to_owned(),
            bytes: result.as_bytes(),
        });
        let paths: Vec<String> = (0..self.intake.pictures.len()).map(picture_path).collect();
        let logo = self.logo.iter().map(|logo| (logo, LOGO_PATH));
        let photos = self.intake.pictures.iter();
        let pictures: Vec<PictureData<'_>> = photos
            .zip(paths.iter().map(String::as_str))
            .chain(logo)
            .map(|(picture, path)| PictureData {
                path,
                bytes: &picture.copy,
            })
            .collect();
        render::pdf(template, &report, &pictures, &attachments, issued)
    }
}

const LOGO_PATH: &str = "pictures/logo.png";

fn picture_file(picture: &Picture, path: String) -> PictureFile {
    PictureFile {
        file: picture.file.clone(),
        path,
        aspect: f64::from(picture.width) / f64::from(picture.height.max(1)),
    }
}

/// Pictures are found by number, so that no file name can hide another.
fn picture_path(index: usize) -> String {
    format!("pictures/{index}.jpg")
}
