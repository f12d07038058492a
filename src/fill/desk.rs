//! The job as it lies there: its files, what of them can be read, and what is sealed.

use std::collections::BTreeMap;
use std::path::Path;

use chrono::{DateTime, FixedOffset};
use toml_edit::DocumentMut;

use super::document::{Step, Target, is_at};
use crate::files::{Digest, Folder, ReadError, Source, nearest_with};
use crate::intake::{
    self, Inputs, Media, Problem, Problems, SHOP_FILE, State, TEXT_LIMIT, can_print, path_at,
};
use crate::job::{Baselined, Job, JobFile, Plan, Shop, Stage};
use crate::seals::{Chain, Link};

/// One file of the job as it is now.
pub struct FileNow {
    /// Its bytes; those of an almost empty file where there is none.
    pub bytes: Vec<u8>,
    /// Their digest; none where there is no such file.
    pub digest: Option<Digest>,
    /// What it says, where it is TOML.
    pub document: Option<DocumentMut>,
}

/// What a file begins with that is made here.
const NEW_FILE: &str = "format = 1\n";

/// The job as it lies there.
pub struct Desk {
    /// The files.
    pub files: BTreeMap<JobFile, FileNow>,
    /// What is planned, where that can be read.
    pub plan: Option<Plan>,
    /// The shop, where its file can be read.
    pub shop: Option<Shop>,
    /// The job before the work, where it is whole.
    pub baselined: Option<Baselined>,
    /// The whole job, where it is whole.
    pub job: Option<Job>,
    /// What is wrong with the plan.
    pub plan_problems: Problems,
    /// What is wrong with the plan and the baseline.
    pub baseline_problems: Problems,
    /// What is wrong with all of it.
    pub problems: Problems,
    /// The seals.
    pub chain: Chain,
}

/// Why a job cannot be shown at all.
pub type DeskError = ReadError;

impl Desk {
    /// Reads the job in the folder at `path`. Photos and recordings are not looked at.
    ///
    /// # Errors
    /// A [`ReadError`] where the folder or a file of it cannot be read.
    pub fn read(path: &Path) -> Result<Self, DeskError> {
        let job = Folder::open(path)?;
        let shop = nearest_with(path, SHOP_FILE)?;
        let mut files = BTreeMap::new();
        for file in JobFile::ALL {
            let (bytes, digest) = match job.read(file.name(), TEXT_LIMIT) {
                Ok(input) => (input.bytes, Some(input.digest)),
                Err(ReadError::Missing) => (NEW_FILE.as_bytes().to_vec(), None),
                Err(other) => return Err(other),
            };
            let document = std::str::from_utf8(&bytes).ok();
            let document = document.and_then(|text| text.parse().ok());
            files.insert(
                file,
                FileNow {
                    bytes,
                    digest,
                    document,
                },
            );
        }
        let inputs = Inputs {
            job: &job,
            shop: &shop,
        };
        // Each is read as far as it exists, so that nothing is called missing too early.
        let plan = intake::read_plan(inputs, &can_print);
        let baselined = intake::read_baselined(inputs, &can_print, Media::Ignored);
        let whole = intake::read_job(inputs, &can_print, Media::Ignored);
        // A chain that cannot be read is looked into by `check` and `seal`.
        let chain = Chain::read(&job).unwrap_or_default();
        let (plan, shop, plan_problems) = match plan {
            Ok(read) => (Some(read.job), Some(read.shop), Problems::default()),
            Err(problems) => (None, None, problems),
        };
        let (baselined, baseline_problems) = match baselined {
            Ok(read) => (Some(read.job), Problems::default()),
            Err(problems) => (None, problems),
        };
        let (job, problems) = match whole {
            Ok(read) => (Some(read.job), Problems::default()),
            Err(problems) => (None, problems),
        };
        Ok(Self {
            files,
            plan,
            shop,
            baselined,
            job,
            plan_problems,
            baseline_problems,
            problems,
            chain,
        })
    }

    /// What a file says, where it is TOML.
    pub fn document(&self, file: JobFile) -> Option<&DocumentMut> {
        self.files.get(&file)?.document.as_ref()
    }

    /// The seal that closes `stage`, if there is one.
    pub fn sealed(&self, stage: Stage) -> Option<&Link> {
        self.chain.latest(stage)
    }

    /// When the baseline or the retest started, as far as its file says so.
    pub fn started(&self, file: JobFile) -> Option<DateTime<FixedOffset>> {
        let value = self.document(file)?.get("started")?.as_datetime()?;
        DateTime::parse_from_rfc3339(&value.to_string()).ok()
    }

    /// What is wrong in `file`, as `check` says it; not what is only not filled in.
    pub fn wrong_in(&self, file: JobFile) -> Vec<&Problem> {
        let problems = match file {
            JobFile::Job | JobFile::Limits => &self.plan_problems,
            JobFile::Baseline => &self.baseline_problems,
            JobFile::Work | JobFile::Retest => &self.problems,
        };
        problems
            .iter()
            .filter(|problem| problem.file == file.name() && problem.state == State::Wrong)
            .collect()
    }

    /// Whether a problem stands at `target`, or in the table that it is in.
    pub fn is_about(&self, problem: &Problem, target: &Target) -> bool {
        let Some(at) = problem.span.as_ref().map(|span| span.start) else {
            return false;
        };
        let file = self.files.get(&target.file);
        let Some(text) = file.and_then(|file| std::str::from_utf8(&file.bytes).ok()) else {
            return false;
        };
        let mut path = path_at(text, at).into_iter();
        let Some(document) = self.document(target.file) else {
            return false;
        };
        let mut above: Option<&toml_edit::Item> = None;
        for step in &target.table {
            let wanted = match step {
                Step::Key(key) => key.clone(),
                Step::Number(number) => number.to_string(),
                Step::At(name) => match above.and_then(|rows| row_number(rows, name)) {
                    Some(number) => number.to_string(),
                    None => return false,
                },
            };
            if path.next().as_ref() != Some(&wanted) {
                return false;
            }
            above = match above {
                Some(item) => item.get(wanted.as_str()),
                None => document.get(&wanted),
            };
        }
        match path.next() {
            // The whole table: told at the field that its figure is in.
            None => matches!(target.key, "value" | "passes" | "text" | "id" | "colour"),
            Some(key) => key == target.key || (target.key == "value" && key == "values"),
        }
    }
}

/// The number of the row of the position `name`, from 0.
fn row_number(rows: &toml_edit::Item, name: &str) -> Option<usize> {
    let mut rows = rows.as_array()?.iter();
    rows.position(|row| row.as_inline_table().is_some_and(|row| is_at(row, name)))
}

/// The language of the shop's file, if it names one.
pub fn language(path: &Path) -> String {
    let read = || {
        let shop = nearest_with(path, SHOP_FILE).ok()?;
        let input = shop.read(SHOP_FILE, TEXT_LIMIT).ok()?;
        let document: DocumentMut = String::from_utf8(input.bytes).ok()?.parse().ok()?;
        Some(document.get("language")?.as_str()?.to_owned())
    };
    read().unwrap_or_else(|| "en".to_owned())
}
