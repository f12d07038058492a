//! The pipeline: files → intake → judge → result → seals → view → render → signature.

use std::collections::BTreeMap;
use std::path::Path;

use chrono::{DateTime, FixedOffset};

use super::Stop;
use crate::files::{Digest, Folder, ReadError, Source};
use crate::intake::{self, Depth, Intake, Picture};
use crate::judge::{self, Judgement};
use crate::render;
use crate::result::{ResultFile, to_json};
use crate::seals::Sealing;
use crate::seals::{Chain, SEALS, Stage, sealing, stage_files};
use crate::view::{self, InputFile, Material, PictureFile, Receipt, Report, Signer, Words};

/// The most seals of a job, and the largest of them in bytes.
const SEALS_LIMIT: usize = 1000;
const SEAL_LIMIT: u64 = 1 << 20;

/// A job that was read and judged.
pub struct Judged {
    /// What was read.
    pub intake: Intake,
    /// What was judged.
    pub judgement: Judgement,
    /// The shop's logo.
    pub logo: Option<Picture>,
    /// The seals.
    pub chain: Chain,
    /// How much was read.
    pub depth: Depth,
}

/// Reads the job folder at `path` as far as `depth` says, and judges it.
pub fn judge(path: &Path, depth: Depth) -> Result<Judged, Stop> {
    let folder = open(path)?;
    let shop = intake::find_shop(path);
    let intake = intake::read(&folder, shop, &render::can_print, depth)
        .map_err(|faults| Stop::Problems(Box::new(faults)))?;
    let logo = intake::logo(path, &intake.shop, &render::can_print)
        .map_err(|faults| Stop::Problems(Box::new(faults)))?;
    let judgement = judge::judge(&intake.job);
    let chain = chain(&folder)?;
    Ok(Judged {
        intake,
        judgement,
        logo,
        chain,
        depth,
    })
}

/// Opens the job folder at `path`.
pub fn open(path: &Path) -> Result<Folder, Stop> {
    Folder::open(path).map_err(|fault| match fault {
        ReadError::Missing => Stop::told(
            format!("there is no folder {}", path.display()),
            "name the folder that holds job.toml; `retestify init` makes one",
        ),
        ReadError::NotAFile => Stop::told(
            format!("{} is not a folder", path.display()),
            "name the folder that holds job.toml, not a file in it",
        ),
        other => Stop::told(
            format!("{} cannot be opened: {other}", path.display()),
            "check that you may read it",
        ),
    })
}

/// The seals in `folder`.
fn chain(folder: &Folder) -> Result<Chain, Stop> {
    let unreadable = |name: &str, fault: ReadError| {
        Stop::told(
            format!("{name} cannot be read: {fault}"),
            "check that you may read it; only seals belong in that folder",
        )
    };
    let mut names = folder
        .list(SEALS)
        .map_err(|fault| unreadable(SEALS, fault))?;
    names.retain(|name| !name.starts_with('.'));
    if names.len() > SEALS_LIMIT {
        return Err(Stop::told(
            format!("{SEALS} holds more than {SEALS_LIMIT} files"),
            "keep only seals in it",
        ));
    }
    let mut files = Vec::new();
    for name in names {
        let path = format!("{SEALS}/{name}");
        let input = folder
            .read(&path, SEAL_LIMIT)
            .map_err(|fault| unreadable(&path, fault))?;
        files.push((name, input.bytes));
    }
    Ok(Chain::of(files))
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
        let recordings = self
            .intake
            .recordings
            .iter()
            .map(|recorded| (recorded.file.as_str(), recorded.size, recorded.digest));
        to_json(&ResultFile::new(
            &self.intake.job,
            &self.judgement,
            texts.chain(photos).chain(recordings),
        ))
    }

    /// The digest of every file of the job except shop.toml and the logo.
    pub fn today(&self) -> BTreeMap<String, Digest> {
        let digests = self.intake.digests();
        digests
            .map(|(file, digest)| (file.to_owned(), digest))
            .collect()
    }

    /// The files of `stage` with their digests.
    pub fn files_of(&self, stage: Stage) -> BTreeMap<String, Digest> {
        let today = self.today();
        stage_files(&self.intake.job, stage)
            .into_iter()
            .filter_map(|file| Some((file.to_owned(), *today.get(file)?)))
            .collect()
    }

    /// Whether the files match the seals. Before the work, only the baseline is compared.
    pub fn sealing(&self) -> Sealing {
        let today = self.today();
        let whole = self.depth == Depth::Whole;
        let started = whole.then_some(self.intake.job.work.started);
        let mut sealing = sealing(&self.chain, |file| today.get(file).copied(), started);
        if !whole {
            sealing
                .broken
                .retain(|broken| broken.stage == Stage::Baseline);
        }
        sealing
    }

    /// The report in finished words.
    pub fn report(
        &self,
        issued: DateTime<FixedOffset>,
        signer: Option<Signer>,
        words: &Words,
    ) -> Report {
        view::report(&self.material(issued, signer), words)
    }

    /// The receipt in finished words; `qr` is the code of the baseline's seal.
    pub fn receipt(
        &self,
        issued: DateTime<FixedOffset>,
        signer: Option<Signer>,
        qr: &[Vec<bool>],
        words: &Words,
    ) -> Receipt {
        view::receipt(&self.material(issued, signer), qr, words)
    }

    fn material(&self, issued: DateTime<FixedOffset>, signer: Option<Signer>) -> Material<'_> {
        let Intake {
            job,
            shop,
            texts,
            pictures,
            recordings,
        } = &self.intake;
        let attached = texts.iter().map(|input| InputFile {
            name: input.name.clone(),
            digest: input.digest.to_string(),
            size: input.bytes.len() as u64,
            attached: true,
            caption: String::new(),
        });
        let listed = pictures.iter().map(|picture| InputFile {
            name: picture.file.clone(),
            digest: picture.digest.to_string(),
            size: picture.size,
            attached: false,
            caption: String::new(),
        });
        let recorded = recordings.iter().map(|recorded| InputFile {
            name: recorded.file.clone(),
            digest: recorded.digest.to_string(),
            size: recorded.size,
            attached: false,
            caption: recorded.caption.clone(),
        });
        Material {
            job,
            shop,
            judgement: &self.judgement,
            inputs: attached.chain(listed).chain(recorded).collect(),
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
            sealing: self.sealing(),
            signer,
        }
    }
}

/// Where the template finds the logo.
pub const LOGO_PATH: &str = "pictures/logo.png";

fn picture_file(picture: &Picture, path: String) -> PictureFile {
    PictureFile {
        file: picture.file.clone(),
        path,
        aspect: f64::from(picture.width) / f64::from(picture.height.max(1)),
    }
}

/// Pictures are named by number, so that no file name can hide another.
pub fn picture_path(index: usize) -> String {
    format!("pictures/{index}.jpg")
}
