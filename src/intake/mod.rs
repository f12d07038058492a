//! From the bytes of a job folder to a [`Job`]: every problem is reported with its
//! file, its line and what to do, all of them at once.
//!
//! Start at [`read_plan`], [`read_baselined`] or [`read_job`]: each reads only what exists
//! by then. Each file passes three checks: text and structure
//! (`toml_document`, `schema_check`, by the shapes in [`shapes`]), then meaning (the
//! modules named after the files), then the files against each other.

mod bench;
mod both_runs;
mod common_checks;
mod exact;
mod exact_reading;
mod formula;
mod glance;
mod job;
mod letters;
mod limit_keys;
mod limits;
#[cfg(feature = "program")]
mod logo;
mod photos;
mod picture;
#[cfg(feature = "typesetter")]
mod picture_again;
#[cfg(feature = "program")]
mod picture_copy;
#[cfg(feature = "program")]
mod picture_memory;
mod place;
mod points;
mod positions;
mod problem;
mod reader;
mod reading;
mod reading_context;
mod recordings;
mod row_keys;
mod run;
mod scale;
mod schema_check;
pub mod shapes;
mod shop;
mod slips;
mod smoke;
mod spelling;
mod toml_document;
mod toml_tree;
mod variation;
mod work;
mod worked_out;
mod wrong_type;

use std::collections::{BTreeMap, BTreeSet};

use crate::files::{Digest, Input, Source};
use crate::job::{Baselined, Job, JobFile, Limits, Plan, Run, Shop, Stage, Work};

pub use glance::Glance;
pub use letters::can_print;
pub use photos::date;
#[cfg(feature = "program")]
pub use photos::photo_copy;
pub use picture::Picture;
#[cfg(feature = "typesetter")]
pub use picture_again::{is_copy, logo_of_pixels};
pub use positions::is_same as is_same_position;
pub use problem::{Problem, Problems, State};
pub use recordings::Recorded;

use reader::Reader;
use toml_document::Document;

/// Tells whether a character can be printed.
pub type Printable<'a> = dyn Fn(char) -> bool + 'a;

/// The largest TOML file that is read, in bytes.
pub const TEXT_LIMIT: u64 = 1 << 20;

/// The shop's own file, in the job folder or above it.
pub const SHOP_FILE: &str = "shop.toml";

/// Where the files are read from: those of the job, and the shop's with its logo.
#[derive(Clone, Copy)]
pub struct Inputs<'a> {
    /// The job folder.
    pub job: &'a dyn Source,
    /// The folder of `shop.toml`: the job folder, or one above it.
    pub shop: &'a dyn Source,
}

/// Whether pictures and recordings are read as well.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Media {
    /// Photos, recordings and the logo are read.
    Read,
    /// Only text files are read; nothing else is looked for.
    Ignored,
}

/// What was read without problems: a [`Plan`], a [`Baselined`] job or a whole [`Job`].
#[derive(Debug)]
pub struct Intake<T> {
    /// The job, as far as it was read.
    pub job: T,
    /// The shop that does it.
    pub shop: Shop,
    /// The shop's logo, as a copy without metadata.
    #[cfg(feature = "typesetter")]
    pub logo: Option<Picture>,
    /// The text files as they were read, in order, the shop's first.
    pub texts: Vec<Input>,
    /// The photos, each once, in order of first mention.
    pub pictures: Vec<Picture>,
    /// The recordings, each once, in order of first mention.
    pub recordings: Vec<Recorded>,
}

impl<T> Intake<T> {
    /// Every file with its size and digest, in the order of reading.
    pub fn files(&self) -> impl Iterator<Item = (&str, u64, Digest)> {
        let texts = self.texts.iter();
        let texts = texts.map(|text| (text.name.as_str(), text.bytes.len() as u64, text.digest));
        let pictures = self.pictures.iter();
        let pictures = pictures.map(|photo| (photo.file.as_str(), photo.size, photo.digest));
        let recordings = self.recordings.iter();
        let recordings = recordings.map(|one| (one.file.as_str(), one.size, one.digest));
        texts.chain(pictures).chain(recordings)
    }

    /// What is wrong at `key` of the shop's file, where it shows only in use.
    pub fn shop_problem(
        &self,
        key: &str,
        message: impl Into<String>,
        hint: impl Into<String>,
        printable: &Printable<'_>,
    ) -> Problems {
        let mut problems = Problems::default();
        // Parsed again, from the bytes that were read, for the line of the message.
        let input = self.texts.iter().find(|input| input.name == SHOP_FILE);
        let document = input.and_then(|input| {
            let (name, bytes) = (&input.name, &input.bytes);
            Document::read::<shapes::ShopFile>(name, bytes, printable, &mut problems)
        });
        match document {
            Some((document, _)) => document.problem(&[key], message, hint, &mut problems),
            None => problems.of_file(SHOP_FILE, message, hint),
        }
        problems
    }

    /// The digest of every file but the shop's own.
    pub fn digests(&self) -> BTreeMap<String, Digest> {
        self.files()
            .filter(|(file, ..)| *file != SHOP_FILE)
            .map(|(file, _, digest)| (file.to_owned(), digest))
            .collect()
    }
}

/// Reads what is fixed before anything is measured. `printable` decides which characters
/// a text may hold.
///
/// # Errors
/// All problems of `job.toml`, `limits.toml` and the shop's file, sorted by file and line.
pub fn read_plan(inputs: Inputs<'_>, printable: &Printable<'_>) -> Result<Intake<Plan>, Problems> {
    let files = [JobFile::Job, JobFile::Limits];
    Found::gather(inputs, printable, &files, Media::Ignored).finish(|parts| parts.plan)
}

/// Reads a job as it is before the work: the plan and the baseline.
///
/// # Errors
/// All problems of the files of that stage and of the shop's file, sorted by file and line.
pub fn read_baselined(
    inputs: Inputs<'_>,
    printable: &Printable<'_>,
    media: Media,
) -> Result<Intake<Baselined>, Problems> {
    let files: Vec<JobFile> = Stage::Baseline.texts().collect();
    Found::gather(inputs, printable, &files, media).finish(|parts| {
        Some(Baselined {
            plan: parts.plan?,
            baseline: parts.baseline?,
        })
    })
}

/// Reads a whole job.
///
/// # Errors
/// All problems of all files, sorted by file and line.
pub fn read_job(
    inputs: Inputs<'_>,
    printable: &Printable<'_>,
    media: Media,
) -> Result<Intake<Job>, Problems> {
    Found::gather(inputs, printable, &JobFile::ALL, media).finish(|parts| {
        Some(Job {
            plan: parts.plan?,
            baseline: parts.baseline?,
            work: parts.work?,
            retest: parts.retest?,
        })
    })
}

/// The way down to what stands at the byte `at` of a TOML file: keys, and places in lists as
/// digits; empty where nothing stands.
pub fn path_at(text: &str, at: usize) -> Vec<String> {
    let (tree, _) = toml::de::DeTable::parse_recoverable(text);
    toml_tree::path_at(&toml_tree::entries(tree.get_ref()), at)
}

/// What was found in the files, with or without problems.
struct Found {
    parts: Parts,
    shop: Option<Shop>,
    #[cfg(feature = "typesetter")]
    logo: Option<Picture>,
    texts: Vec<Input>,
    pictures: Vec<Picture>,
    recordings: Vec<Recorded>,
    problems: Problems,
}

/// The parts of a job, as far as they could be read without problems.
struct Parts {
    plan: Option<Plan>,
    baseline: Option<Run>,
    work: Option<Work>,
    retest: Option<Run>,
}

impl Found {
    /// Reads `files`, each alone and then against each other.
    fn gather(
        inputs: Inputs<'_>,
        printable: &Printable<'_>,
        files: &[JobFile],
        media: Media,
    ) -> Self {
        let mut reader = Reader::new(inputs, printable, files);
        let shop = reader.shop();
        let job = reader.file::<shapes::JobFile>(JobFile::Job);
        let limits = reader.file::<shapes::LimitsFile>(JobFile::Limits);
        let baseline = reader.file::<shapes::RunFile>(JobFile::Baseline);
        let work = reader.file::<shapes::WorkFile>(JobFile::Work);
        let retest = reader.file::<shapes::RunFile>(JobFile::Retest);
        let Reader {
            texts,
            mut problems,
            ..
        } = reader;

        let (mut pictures, mut recordings) = (Vec::new(), Vec::new());
        if media == Media::Read {
            let named = Named::of(&baseline, &work, &retest);
            pictures = named.pictures(inputs.job, &mut problems);
            recordings = named.recordings(inputs.job, &mut problems);
        }
        #[cfg(all(feature = "typesetter", not(feature = "program")))]
        let logo = None;
        #[cfg(feature = "program")]
        let logo = match (&shop, media) {
            (Some((document, shop)), Media::Read) => {
                logo::logo(inputs.shop, document, shop, &mut problems)
            }
            _ => None,
        };
        let (head, limits) = fixed(job, limits, &mut problems);
        if let (Some((document, head)), Some((_, before)), Some((_, after))) =
            (&head, &baseline, &retest)
        {
            job::calibrated_between(document, head, before.started, after.started, &mut problems);
        }
        let head = head.map(|(_, head)| head);

        // Without valid limits and instruments the readings cannot be checked;
        // the times and the work can still be looked at.
        let bench = head.as_ref().zip(limits.as_ref());
        let bench = bench.map(|(head, limits)| bench::Bench {
            instruments: &head.instruments,
            meter: head.machine.meter,
            limits,
        });
        let mut run_of = |parsed: &Parsed<shapes::RunFile>| {
            let (document, shape) = parsed.as_ref()?;
            let mut run = run::run(document, shape, bench.as_ref()?, &mut problems)?;
            photos::date(&mut run.photos, &pictures);
            Some(run)
        };
        let mut baseline_run = run_of(&baseline);
        let retest_run = run_of(&retest);
        if let (Some(before), Some(after)) = (&mut baseline_run, &retest_run) {
            photos::leave_alone(&mut before.photos, &after.photos);
        }
        if let Some(bench) = &bench {
            for (document, shape) in [&baseline, &retest].into_iter().flatten() {
                let (taken, planned) = run::progress(shape, bench.limits);
                problems.note_progress(document.name(), taken, planned);
            }
        }
        if let (Some((document, before)), Some(bench)) = (&baseline, &bench)
            && document.is_sound()
        {
            both_runs::baseline_is_whole(before, bench, &mut problems);
            both_runs::lists_are_read(document, before, bench, &mut problems);
        }
        if let (Some((retest, after)), Some((baseline, before)), Some(bench)) =
            (&retest, &baseline, &bench)
            && retest.is_sound()
            && baseline.is_sound()
        {
            both_runs::compare(retest, after, before, bench, &mut problems);
        }
        let work_done = work.as_ref().and_then(|(document, shape)| {
            let mut work = work::work(document, shape, &mut problems)?;
            photos::date(&mut work.photos, &pictures);
            Some(work)
        });
        both_runs::order_of_times(&baseline, &work, &retest, head.as_ref(), &mut problems);
        Self {
            parts: Parts {
                plan: head.zip(limits).map(|(head, limits)| head.plan(limits)),
                baseline: baseline_run,
                work: work_done,
                retest: retest_run,
            },
            shop: shop.map(|(_, shop)| shop),
            #[cfg(feature = "typesetter")]
            logo,
            texts,
            pictures,
            recordings,
            problems,
        }
    }

    /// What `whole` makes of the parts, unless there are problems.
    fn finish<T>(mut self, whole: impl FnOnce(Parts) -> Option<T>) -> Result<Intake<T>, Problems> {
        if self.problems.is_empty()
            && let (Some(job), Some(shop)) = (whole(self.parts), self.shop)
        {
            return Ok(Intake {
                job,
                shop,
                #[cfg(feature = "typesetter")]
                logo: self.logo,
                texts: self.texts,
                pictures: self.pictures,
                recordings: self.recordings,
            });
        }
        self.problems.sort();
        Err(self.problems)
    }
}

/// A file as it was read, where it could be.
pub type Parsed<T> = Option<(Document, T)>;

/// What is fixed before anything is measured.
fn fixed(
    job: Parsed<shapes::JobFile>,
    limits: Parsed<shapes::LimitsFile>,
    problems: &mut Problems,
) -> (Parsed<job::Head>, Option<Limits>) {
    let head = job.and_then(|(document, shape)| {
        job::head(&document, shape, problems)
            .filter(|_| document.is_sound())
            .map(|head| (document, head))
    });
    let machine = head.as_ref().map(|(_, head)| &head.machine);
    let limits = limits.and_then(|(document, shape)| {
        limits::limits(&document, shape, machine, problems).filter(|_| document.is_sound())
    });
    (head, limits)
}

/// The photos and recordings that the three files name which can name some: baseline,
/// work, retest.
struct Named<'a> {
    photos: [Option<photos::Named<'a>>; 3],
    recordings: [Option<(&'a Document, &'a [shapes::RecordingTable])>; 3],
}

impl<'a> Named<'a> {
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

    fn pictures(&self, source: &dyn Source, problems: &mut Problems) -> Vec<Picture> {
        let [before, between, after] = self.photos;
        let named: Vec<_> = self.photos.into_iter().flatten().collect();
        let pictures = photos::read(source, &named, problems);
        photos::check_pairs(before, between, after, &pictures, problems);
        pictures
    }

    fn recordings(&self, source: &dyn Source, problems: &mut Problems) -> Vec<Recorded> {
        let mut seen = BTreeSet::new();
        let mut found = Vec::new();
        for (document, tables) in self.recordings.into_iter().flatten() {
            found.extend(recordings::read(
                source, document, tables, &mut seen, problems,
            ));
        }
        found
    }
}
