//! From the bytes of a job folder to a [`Job`]: every fault is found and named
//! with its file, its line and what to do, all of them at once.
//!
//! The way in is [`read`]. Each file passes three gates: text and structure
//! (`toml_document`, `schema_check`, by the shapes in [`shapes`]), then meaning (the
//! modules named after the files), then the files against each other.

mod common_checks;
mod job;
mod limits;
mod photos;
mod picture;
mod picture_memory;
mod problem;
mod reading;
mod recordings;
mod run;
mod schema_check;
pub mod shapes;
mod shop;
mod smoke;
mod toml_document;
mod work;

use std::collections::BTreeSet;
use std::path::Path;

use schemars::JsonSchema;
use serde::de::DeserializeOwned;

use crate::files::{Digest, Input, ReadError, Source, nearest_above};
use crate::job::{Job, Limits, Plan, Shop, Work};

pub use picture::Picture;
pub use problem::{Problem, Problems};
pub use recordings::Recorded;
pub use shop::{logo, shop_problem};

use toml_document::Document;

/// Says whether a character can be printed.
pub type Printable<'a> = dyn Fn(char) -> bool + 'a;

/// The largest TOML file that is read, in bytes.
pub const TEXT_LIMIT: u64 = 1 << 20;

/// The shop's own file, in the job folder or above it.
pub const SHOP_FILE: &str = "shop.toml";

/// The files of a job folder, in the order in which they are read and listed.
pub const JOB_FILES: [&str; 5] = [
    "job.toml",
    "limits.toml",
    "baseline.toml",
    "work.toml",
    "retest.toml",
];

/// How much of a job is read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Depth {
    /// What stands before the work: job, limits, baseline and what belongs to it.
    Baseline,
    /// Everything.
    Whole,
    /// Every text file, and nothing else: photos and recordings are not looked for.
    Texts,
    /// The text files of what stands before the work, and nothing else.
    Drop,
}

/// A job folder that was read and found sound.
#[derive(Debug)]
pub struct Intake {
    /// The job.
    pub job: Job,
    /// The shop that did it.
    pub shop: Shop,
    /// The text files as they were read, in order.
    pub texts: Vec<Input>,
    /// The photos, each once, in order of first mention.
    pub pictures: Vec<Picture>,
    /// The recordings, each once, in order of first mention.
    pub recordings: Vec<Recorded>,
}

impl Intake {
    /// Every file but the shop's own, with its digest, in the order of reading.
    pub fn digests(&self) -> impl Iterator<Item = (&str, Digest)> {
        let texts = self
            .texts
            .iter()
            .filter(|input| input.name != SHOP_FILE)
            .map(|input| (input.name.as_str(), input.digest));
        let pictures = self
            .pictures
            .iter()
            .map(|picture| (picture.file.as_str(), picture.digest));
        let recordings = self
            .recordings
            .iter()
            .map(|recorded| (recorded.file.as_str(), recorded.digest));
        texts.chain(pictures).chain(recordings)
    }
}

/// Reads a job from `source`, with `shop` as the shop's particulars, as far as
/// `depth` says. Without work and retest, the job is as it stood at drop-off: nothing
/// was done yet, and the retest is the baseline.
///
/// `printable` decides which characters a text may hold.
///
/// # Errors
/// All faults of all files, sorted by file and line.
pub fn read(
    source: &dyn Source,
    shop: Result<Input, ReadError>,
    printable: &Printable<'_>,
    depth: Depth,
) -> Result<Intake, Problems> {
    let mut reader = Reader {
        source,
        printable,
        texts: Vec::new(),
        faults: Problems::default(),
    };
    let shop = reader.shop(shop);
    let job = reader.file::<shapes::JobFile>("job.toml");
    let limits = reader.file::<shapes::LimitsFile>("limits.toml");
    let baseline = reader.file::<shapes::RunFile>("baseline.toml");
    let whole = matches!(depth, Depth::Whole | Depth::Texts);
    let work = whole.then(|| reader.file::<shapes::WorkFile>("work.toml"));
    let work = work.flatten();
    let retest = whole.then(|| reader.file::<shapes::RunFile>("retest.toml"));
    let retest = retest.flatten();
    let Reader {
        texts, mut faults, ..
    } = reader;

    let (mut pictures, mut recordings) = (Vec::new(), Vec::new());
    if matches!(depth, Depth::Whole | Depth::Baseline) {
        let named = Media::of(&baseline, &work, &retest);
        pictures = named.pictures(source, &mut faults);
        recordings = named.recordings(source, &mut faults);
    }
    let (head, limits) = fixed(job, limits, &mut faults);
    if let (Some((document, head)), Some((_, before)), Some((_, after))) =
        (&head, &baseline, &retest)
    {
        job::calibrated_between(document, head, before.started, after.started, &mut faults);
    }
    let head = head.map(|(_, head)| head);

    // Without sound limits and instruments nothing can be said of the readings;
    // the times and the work can still be looked at.
    let bench = head.as_ref().zip(limits.as_ref());
    let bench = bench.map(|(head, limits)| run::Bench {
        instruments: &head.instruments,
        cylinders: head.machine.cylinders,
        limits,
    });
    let baseline_run = baseline
        .as_ref()
        .zip(bench.as_ref())
        .and_then(|((document, shape), bench)| run::run(document, shape, bench, &mut faults));
    let retest_run = retest
        .as_ref()
        .zip(bench.as_ref())
        .and_then(|((document, shape), bench)| run::run(document, shape, bench, &mut faults));
    if let (Some((retest, after)), Some((baseline, before)), Some(bench)) =
        (&retest, &baseline, &bench)
        && retest.is_sound()
        && baseline.is_sound()
    {
        run::compare(retest, after, before, bench, &mut faults);
    }
    let work_done = work
        .as_ref()
        .and_then(|(document, shape)| work::work(document, shape, &mut faults));
    run::order_of_times(&baseline, &work, &retest, head.as_ref(), &mut faults);
    let (work_done, retest_run) = if whole {
        (work_done, retest_run)
    } else {
        let at_drop_off = baseline_run.clone();
        let none = at_drop_off
            .as_ref()
            .map(|run| Work::none(run.ended.unwrap_or(run.started)));
        (none, at_drop_off)
    };

    if faults.is_empty()
        && let (Some(head), Some(limits), Some(baseline), Some(work), Some(retest), Some(shop)) =
            (head, limits, baseline_run, work_done, retest_run, shop)
    {
        let mut job = Job {
            number: head.number,
            complaint: head.complaint,
            received: head.received,
            customer: head.customer,
            machine: head.machine,
            instruments: head.instruments,
            limits,
            baseline,
            work,
            retest,
        };
        photos::date(&mut job, &pictures);
        return Ok(Intake {
            job,
            shop,
            texts,
            pictures,
            recordings,
        });
    }
    faults.sort();
    Err(faults)
}

/// Reads what is fixed before anything is measured: `job.toml` and `limits.toml`,
/// with `shop` as the shop's particulars. The other files may be missing.
///
/// # Errors
/// All faults of these files, sorted by file and line.
pub fn plan(
    source: &dyn Source,
    shop: Result<Input, ReadError>,
    printable: &Printable<'_>,
) -> Result<(Plan, Shop), Problems> {
    let mut reader = Reader {
        source,
        printable,
        texts: Vec::new(),
        faults: Problems::default(),
    };
    let shop = reader.shop(shop);
    let head = reader.file::<shapes::JobFile>("job.toml");
    let limits = reader.file::<shapes::LimitsFile>("limits.toml");
    let mut faults = reader.faults;
    let (head, limits) = fixed(head, limits, &mut faults);
    if faults.is_empty()
        && let (Some((_, head)), Some(limits), Some(shop)) = (head, limits, shop)
    {
        let plan = Plan {
            number: head.number,
            complaint: head.complaint,
            received: head.received,
            customer: head.customer,
            machine: head.machine,
            instruments: head.instruments,
            limits,
        };
        return Ok((plan, shop));
    }
    faults.sort();
    Err(faults)
}

/// A file as it was read, where it could be.
type Parsed<T> = Option<(Document, T)>;

/// What is fixed before anything is measured.
fn fixed(
    job: Parsed<shapes::JobFile>,
    limits: Parsed<shapes::LimitsFile>,
    faults: &mut Problems,
) -> (Parsed<job::Head>, Option<Limits>) {
    let head = job.and_then(|(document, shape)| {
        job::head(&document, shape, faults)
            .filter(|_| document.is_sound())
            .map(|head| (document, head))
    });
    let machine = head.as_ref().map(|(_, head)| &head.machine);
    let limits = limits.and_then(|(document, shape)| {
        limits::limits(&document, shape, machine, faults).filter(|_| document.is_sound())
    });
    (head, limits)
}

/// The photos and recordings that the three files name which can name some: baseline,
/// work, retest.
struct Media<'a> {
    photos: [Option<photos::Named<'a>>; 3],
    recordings: [Option<(&'a Document, &'a [shapes::RecordingTable])>; 3],
}

impl<'a> Media<'a> {
    fn of(
        baseline: &'a Parsed<shapes::RunFile>,
        work: &'a Parsed<shapes::WorkFile>,
        retest: &'a Parsed<shapes::RunFile>,
    ) -> Self {
        let (before, between, after) = (baseline.as_ref(), work.as_ref(), retest.as_ref());
        Self {
            photos: [
                before.map(|(document, shape)| (document, shape.photo.as_slice())),
                between.map(|(document, shape)| (document, shape.photo.as_slice())),
                after.map(|(document, shape)| (document, shape.photo.as_slice())),
            ],
            recordings: [
                before.map(|(document, shape)| (document, shape.recording.as_slice())),
                between.map(|(document, shape)| (document, shape.recording.as_slice())),
                after.map(|(document, shape)| (document, shape.recording.as_slice())),
            ],
        }
    }

    fn pictures(&self, source: &dyn Source, faults: &mut Problems) -> Vec<Picture> {
        let [before, between, after] = self.photos;
        let named: Vec<_> = self.photos.into_iter().flatten().collect();
        let pictures = photos::read(source, &named, faults);
        photos::check_pairs(before, between, after, &pictures, faults);
        pictures
    }

    fn recordings(&self, source: &dyn Source, faults: &mut Problems) -> Vec<Recorded> {
        let mut seen = BTreeSet::new();
        let mut found = Vec::new();
        for (document, tables) in self.recordings.into_iter().flatten() {
            found.extend(recordings::read(
                source, document, tables, &mut seen, faults,
            ));
        }
        found
    }
}

/// The `shop.toml` that serves the job folder at `folder`: its own, or the one
/// in the nearest folder above.
///
/// # Errors
/// A [`ReadError`] when there is none, or when it cannot be read.
pub fn find_shop(folder: &Path) -> Result<Input, ReadError> {
    nearest_above(folder, SHOP_FILE, TEXT_LIMIT).map(|(_, input)| input)
}

struct Reader<'a> {
    source: &'a dyn Source,
    printable: &'a Printable<'a>,
    texts: Vec<Input>,
    faults: Problems,
}

impl Reader<'_> {
    fn shop(&mut self, shop: Result<Input, ReadError>) -> Option<Shop> {
        match shop {
            Ok(input) => {
                let parsed = self.parse::<shapes::ShopFile>(&input);
                self.texts.push(input);
                parsed.and_then(|(document, shape)| shop::shop(&document, shape, &mut self.faults))
            }
            Err(ReadError::Missing) => {
                self.faults.of_file(
                    SHOP_FILE,
                    "no shop.toml in the job folder or above it",
                    "write one with at least `format = 1` and `name = \"…\"`; `retestify init` \
                     makes an example",
                );
                None
            }
            Err(fault) => {
                self.faults
                    .of_file(SHOP_FILE, fault.to_string(), what_to_do(&fault));
                None
            }
        }
    }

    fn file<T: DeserializeOwned + JsonSchema>(&mut self, name: &str) -> Parsed<T> {
        match self.source.read(name, TEXT_LIMIT) {
            Ok(input) => {
                let parsed = self.parse(&input);
                self.texts.push(input);
                parsed
            }
            Err(fault) => {
                self.faults
                    .of_file(name, fault.to_string(), what_to_do(&fault));
                None
            }
        }
    }

    fn parse<T: DeserializeOwned + JsonSchema>(&mut self, input: &Input) -> Parsed<T> {
        Document::read(&input.name, &input.bytes, self.printable, &mut self.faults)
    }
}

/// What a person can do about a file that cannot be read.
fn what_to_do(fault: &ReadError) -> &'static str {
    match fault {
        ReadError::Missing => {
            "put it into the job folder; `retestify init` makes a folder with every file"
        }
        ReadError::NotAFile => "put an ordinary file in its place",
        ReadError::TooLarge { .. } => "put large files elsewhere; this one should be small",
        ReadError::OddPath => "name it by its path, such as `photos/gauge.jpg`, with `/` between",
        ReadError::LeavesFolder => {
            "copy the file into the job folder and name it by its path there, with `/` between \
             folders"
        }
        ReadError::Refused(_) => "check that you may read it",
    }
}
