//! Documents of one small job, made inside the tests: what they carry, and as a PDF.

use std::collections::BTreeMap;

use chrono::{DateTime, FixedOffset};
use lopdf::xref::XrefType;
use lopdf::{Dictionary, Document, Object, Stream, dictionary};

use super::attached_job::AttachedJob;
use super::recompute::Told;
use crate::files::Digest;
use crate::job::Stage;
use crate::judge;
use crate::render::SignaturePlace;
use crate::result::{ResultFile, to_json};
use crate::seals::{Chain, Clock, Seal, seal_file_name};

macro_rules! sample {
    ($file:literal) => {
        (
            $file,
            include_str!(concat!("../../samples/frost-fan/", $file)),
        )
    };
}

/// When the baseline was sealed: before the work of the sample, which starts at 09:00.
pub const BEFORE_WORK: &str = "2026-01-20T08:20:00+00:00";
/// After the work had started.
pub const AFTER_START: &str = "2026-01-20T09:30:00+00:00";
/// When the retest was sealed.
pub const AFTER_RETEST: &str = "2026-01-22T08:35:00+00:00";

/// The photos that the sample names; their bytes are their names here.
pub const PHOTOS: [&str; 3] = [
    "photos/filter-before.jpg",
    "photos/old-line.jpg",
    "photos/filter-after.jpg",
];

pub fn moment(text: &str) -> DateTime<FixedOffset> {
    DateTime::parse_from_rfc3339(text).unwrap()
}

/// The files that a document carries.
#[derive(Clone, Default)]
pub struct Files(pub BTreeMap<String, Vec<u8>>);

impl Files {
    fn of(files: &[(&str, &str)]) -> Self {
        let shop = include_str!("../../samples/shop.toml");
        let all = [("shop.toml", shop)];
        let all = all.iter().chain(files);
        let owned = |(name, text): &(&str, &str)| ((*name).to_owned(), text.as_bytes().to_vec());
        Self(all.map(owned).collect())
    }

    /// The inputs of a receipt, without a seal.
    pub fn unsealed_receipt() -> Self {
        Self::of(&[
            sample!("job.toml"),
            sample!("limits.toml"),
            sample!("baseline.toml"),
        ])
    }

    /// The inputs and the result of a report, without a seal.
    pub fn unsealed_report() -> Self {
        let mut files = Self::unsealed_receipt();
        let rest = Self::of(&[sample!("work.toml"), sample!("retest.toml")]);
        files.0.extend(rest.0);
        files.judged()
    }

    /// A sound receipt.
    pub fn receipt() -> Self {
        Self::unsealed_receipt().sealed(Stage::Baseline, BEFORE_WORK, |_| {})
    }

    /// A sound report.
    pub fn report() -> Self {
        Self::unsealed_report()
            .sealed(Stage::Baseline, BEFORE_WORK, |_| {})
            .sealed(Stage::Retest, AFTER_RETEST, |_| {})
    }

    /// With another text in one file.
    pub fn with(mut self, file: &str, from: &str, to: &str) -> Self {
        let text = String::from_utf8(self.0[file].clone()).unwrap();
        assert!(text.contains(from), "{file} has no {from}");
        let text = text.replacen(from, to, 1);
        self.0.insert(file.to_owned(), text.into_bytes());
        self
    }

    /// With one file more, or with other bytes in it.
    pub fn and(mut self, file: &str, bytes: &[u8]) -> Self {
        self.0.insert(file.to_owned(), bytes.to_vec());
        self
    }

    /// With one file less.
    pub fn without(mut self, file: &str) -> Self {
        assert!(self.0.remove(file).is_some(), "{file}");
        self
    }

    /// With the result that its inputs give.
    pub fn judged(mut self) -> Self {
        let attached = self.job();
        let Told::Whole(Ok(read)) = &attached.told else {
            panic!("not a whole job without problems");
        };
        let judgement = judge::judge(&read.job);
        let photos = PHOTOS.map(|name| (name, name.len() as u64, Digest::of(name.as_bytes())));
        let result = ResultFile::new(&read.job, &judgement, read.files().chain(photos));
        let result = to_json(&result).into_bytes();
        self.0.insert("result.json".to_owned(), result);
        self
    }

    /// With one seal more, changed as a test wants it.
    pub fn sealed(mut self, stage: Stage, at: &str, change: impl FnOnce(&mut Seal)) -> Self {
        let attached = self.job();
        let digest = |file: &str| match self.0.get(file) {
            Some(bytes) => Digest::of(bytes),
            None => Digest::of(file.as_bytes()),
        };
        let files = attached.told.files_of(stage).into_iter();
        let number = match &attached.told {
            Told::DropOff(Ok(read)) => read.job.plan.number.clone(),
            Told::Whole(Ok(read)) => read.job.plan.number.clone(),
            Told::DropOff(Err(_)) | Told::Whole(Err(_)) => panic!("the inputs have problems"),
        };
        let last = attached.chain.links.last();
        let mut seal = Seal {
            job: number,
            stage,
            sealed: moment(at),
            clock: Clock::Computer,
            tool: "retestify 0.1.0".to_owned(),
            previous: last.map(|link| link.digest),
            amends: None,
            files: files.map(|file| (file.to_owned(), digest(file))).collect(),
        };
        change(&mut seal);
        let file = seal_file_name(attached.chain.links.len() + 1, stage);
        self.0.insert(file, seal.text().into_bytes());
        self
    }

    /// As `verification` sees them.
    pub(super) fn job(&self) -> AttachedJob {
        AttachedJob::new(self.0.clone())
    }

    /// The chain of their seals.
    pub fn chain(&self) -> Chain {
        self.job().chain
    }

    /// A PDF of one empty page that carries them, and may be signed.
    pub fn pdf(&self) -> Vec<u8> {
        let mut document = Document::with_version("1.7");
        document.reference_table.cross_reference_type = XrefType::CrossReferenceTable;
        let mut names = Vec::new();
        for (name, bytes) in &self.0 {
            let stream = document.add_object(Stream::new(Dictionary::new(), bytes.clone()));
            let text = || Object::string_literal(name.as_str());
            let file = document.add_object(dictionary! {
                "Type" => "Filespec",
                "F" => text(),
                "UF" => text(),
                "EF" => dictionary! { "F" => stream, "UF" => stream },
            });
            names.extend([text(), Object::Reference(file)]);
        }
        let pages = document.new_object_id();
        let page = document.add_object(dictionary! { "Type" => "Page", "Parent" => pages });
        document.set_object(
            pages,
            dictionary! { "Type" => "Pages", "Kids" => vec![page.into()], "Count" => 1 },
        );
        let tree = document.new_object_id();
        let top = document.add_object(dictionary! {
            "Type" => "StructElem",
            "S" => "Document",
            "P" => tree,
            "K" => Vec::<Object>::new(),
        });
        document.set_object(
            tree,
            dictionary! {
                "Type" => "StructTreeRoot",
                "K" => vec![Object::Reference(top)],
                "ParentTree" => dictionary! { "Nums" => Vec::<Object>::new() },
                "ParentTreeNextKey" => 0,
            },
        );
        let catalog = document.add_object(dictionary! {
            "Type" => "Catalog",
            "Pages" => pages,
            "StructTreeRoot" => tree,
            "Names" => dictionary! { "EmbeddedFiles" => dictionary! { "Names" => names } },
        });
        document.trailer.set("Root", catalog);
        let mut bytes = Vec::new();
        document.save_to(&mut bytes).unwrap();
        bytes
    }
}

/// Where a signature is put on that page.
pub const PLACE: SignaturePlace = SignaturePlace {
    page: 0,
    corners: [0.0, 0.0, 10.0, 10.0],
};
