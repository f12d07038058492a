//! A plan, a job before the work and a whole job: each is read from just the files that
//! exist by then, and each file once.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::sync::Mutex;

use retestify::files::{Digest, Input, ReadError, Source};
use retestify::intake::{self, Inputs, Media, Problems, SHOP_FILE, can_print};
use retestify::job::{JobFile, Sealable, Stage};

use crate::folder::samples;

/// The files of a job in memory; notes what is read of them.
struct Noted {
    files: BTreeMap<String, Vec<u8>>,
    read: Mutex<Vec<String>>,
}

impl Noted {
    fn of(folder: &Path) -> Self {
        let mut files = BTreeMap::new();
        for inside in ["", "photos"] {
            for entry in fs::read_dir(folder.join(inside)).unwrap() {
                let path = entry.unwrap().path();
                if path.is_file() {
                    let name = path.strip_prefix(folder).unwrap().to_str().unwrap();
                    files.insert(name.to_owned(), fs::read(&path).unwrap());
                }
            }
        }
        Self {
            files,
            read: Mutex::default(),
        }
    }

    fn job() -> Self {
        Self::of(&samples().join("frost-fan"))
    }

    fn shop() -> Self {
        let mut shop = Self::of(&samples().join("frost-fan"));
        let file = fs::read(samples().join(SHOP_FILE)).unwrap();
        shop.files = BTreeMap::from([(SHOP_FILE.to_owned(), file)]);
        shop
    }

    /// What was read, sorted: some of it is read side by side.
    fn notes(&self) -> Vec<String> {
        let mut read = self.read.lock().unwrap().clone();
        read.sort();
        read
    }
}

impl Source for Noted {
    fn read(&self, name: &str, limit: u64) -> Result<Input, ReadError> {
        self.read.lock().unwrap().push(name.to_owned());
        self.files.read(name, limit)
    }

    fn digest(&self, name: &str) -> Result<(Digest, u64), ReadError> {
        self.read.lock().unwrap().push(name.to_owned());
        self.files.digest(name)
    }

    fn list(&self, name: &str) -> Result<Vec<String>, ReadError> {
        self.files.list(name)
    }
}

fn inputs<'a>(job: &'a Noted, shop: &'a Noted) -> Inputs<'a> {
    Inputs { job, shop }
}

fn first(problems: &Problems) -> String {
    problems.iter().next().unwrap().file.clone()
}

const PHOTOS: [&str; 3] = [
    "photos/filter-after.jpg",
    "photos/filter-before.jpg",
    "photos/old-line.jpg",
];

#[test]
fn a_whole_job_reads_every_file_once() {
    let (job, shop) = (Noted::job(), Noted::shop());
    let read = intake::read_job(inputs(&job, &shop), &can_print, Media::Read).unwrap();
    let mut all: Vec<&str> = JobFile::ALL.map(JobFile::name).into();
    all.extend(PHOTOS);
    all.sort_unstable();
    assert_eq!(job.notes(), all);
    assert_eq!(shop.notes(), [SHOP_FILE]);
    // What is listed is what was read: the shop's file first, then the job's in order.
    let listed: Vec<&str> = read.files().map(|(name, ..)| name).collect();
    let texts = [SHOP_FILE]
        .into_iter()
        .chain(JobFile::ALL.map(JobFile::name));
    assert_eq!(listed[..6], texts.collect::<Vec<_>>());
    for (name, size, digest) in read.files().filter(|(name, ..)| *name != SHOP_FILE) {
        let bytes = &job.files[name];
        assert_eq!(
            (size, digest),
            (bytes.len() as u64, Digest::of(bytes)),
            "{name}"
        );
    }
    let digests = read.digests();
    assert_eq!(digests.keys().map(String::as_str).collect::<Vec<_>>(), all);
}

#[test]
fn before_the_work_nothing_else_is_looked_at() {
    let (mut job, shop) = (Noted::job(), Noted::shop());
    job.files
        .insert("work.toml".to_owned(), b"nonsense".to_vec());
    job.files.remove("retest.toml");
    let read = intake::read_baselined(inputs(&job, &shop), &can_print, Media::Read).unwrap();
    assert_eq!(read.job.plan.number, "E-0412");
    assert_eq!(
        job.notes(),
        [
            "baseline.toml",
            "job.toml",
            "limits.toml",
            "photos/filter-before.jpg"
        ]
    );
    let without = Noted::job();
    intake::read_baselined(inputs(&without, &shop), &can_print, Media::Ignored).unwrap();
    assert_eq!(
        without.notes(),
        ["baseline.toml", "job.toml", "limits.toml"]
    );

    let missing = intake::read_job(inputs(&job, &shop), &can_print, Media::Ignored).unwrap_err();
    assert_eq!(first(&missing), "retest.toml");
}

#[test]
fn a_plan_needs_no_readings() {
    let (mut job, shop) = (Noted::job(), Noted::shop());
    job.files
        .retain(|name, _| ["job.toml", "limits.toml"].contains(&name.as_str()));
    let read = intake::read_plan(inputs(&job, &shop), &can_print).unwrap();
    assert_eq!(read.job.number, "E-0412");
    assert_eq!(job.notes(), ["job.toml", "limits.toml"]);
    let none = intake::read_baselined(inputs(&job, &shop), &can_print, Media::Read).unwrap_err();
    assert_eq!(first(&none), "baseline.toml");
}

/// The logo comes from beside the shop's file, wherever that is, and only where it is
/// wanted.
#[test]
fn the_logo_is_read_once_beside_the_file_of_the_shop() {
    let (job, mut shop) = (Noted::job(), Noted::shop());
    shop.files
        .get_mut(SHOP_FILE)
        .unwrap()
        .extend(b"\nlogo = \"logo.jpg\"\n");
    let problems = intake::read_job(inputs(&job, &shop), &can_print, Media::Read).unwrap_err();
    let problem = problems.iter().next().unwrap();
    assert_eq!(problem.file, SHOP_FILE);
    assert!(
        problem
            .message
            .contains("the logo `logo.jpg`: the file is missing"),
        "{problem:?}"
    );
    assert!(problem.span.is_some());

    let photo = job.files["photos/old-line.jpg"].clone();
    shop.files.insert("logo.jpg".to_owned(), photo);
    shop.read.lock().unwrap().clear();
    let read = intake::read_job(inputs(&job, &shop), &can_print, Media::Read).unwrap();
    assert!(read.logo.is_some());
    assert_eq!(shop.notes(), ["logo.jpg", SHOP_FILE]);
    let texts = intake::read_job(inputs(&job, &shop), &can_print, Media::Ignored).unwrap();
    assert!(texts.logo.is_none() && texts.pictures.is_empty());
}

/// `samples/EVIDENCE.md`: photos are sealed with the stage whose file names them.
#[test]
fn each_stage_seals_its_texts_and_what_they_name() {
    let (job, shop) = (Noted::job(), Noted::shop());
    let before = intake::read_baselined(inputs(&job, &shop), &can_print, Media::Ignored).unwrap();
    let whole = intake::read_job(inputs(&job, &shop), &can_print, Media::Ignored).unwrap();
    let baseline = ["baseline.toml", "job.toml", "limits.toml", PHOTOS[1]];
    let listed = |files: std::collections::BTreeSet<&str>| {
        let files: Vec<String> = files.into_iter().map(str::to_owned).collect();
        files
    };
    assert_eq!(listed(before.job.files_of(Stage::Baseline)), baseline);
    assert_eq!(listed(before.job.files_of(Stage::Retest)), [""; 0]);
    assert_eq!(listed(whole.job.files_of(Stage::Baseline)), baseline);
    assert_eq!(
        listed(whole.job.files_of(Stage::Retest)),
        [PHOTOS[0], PHOTOS[2], "retest.toml", "work.toml"]
    );
}

/// What is wrong with the shop's file only in use is still told with its line.
#[test]
fn a_problem_of_the_shop_points_at_its_key() {
    let (job, mut shop) = (Noted::job(), Noted::shop());
    shop.files
        .get_mut(SHOP_FILE)
        .unwrap()
        .extend(b"\nlanguage = \"qq\"\n");
    let read = intake::read_plan(inputs(&job, &shop), &can_print).unwrap();
    let problems = read.shop_problem("language", "no such language", "write another", &can_print);
    let problem = problems.iter().next().unwrap();
    let text = String::from_utf8(shop.files[SHOP_FILE].clone()).unwrap();
    assert_eq!(&text[problem.span.clone().unwrap()], "\"qq\"");
    assert_eq!(shop.notes(), [SHOP_FILE]);
}
