//! `retestify init`: a commented job folder, ready to fill in.

use std::path::Path;
use std::process::ExitCode;

use super::CommandError;
use super::args::{InitArgs, Tests};
use super::like;
use super::output::refused;
use super::typed::Typed;
use crate::files::{Folder, ReadError, Source, WriteError, nearest_with, write_tree};
use crate::fill::bench::{Bench, INSTRUMENTS_FILE};
use crate::fill::blank;
use crate::intake::{SHOP_FILE, TEXT_LIMIT, shapes::schemas};
use crate::job::JobFile;

/// The files of a new folder, from `samples/blank`. Words between two `@` are replaced
/// according to the number of cylinders.
const BLANK: [(&str, &str); 2] = [
    (SHOP_FILE, include_str!("../../samples/blank/shop.toml")),
    (
        JobFile::Work.name(),
        include_str!("../../samples/blank/work.toml"),
    ),
];

/// Those that differ with what is tested: for a cold start, and for anything else.
const OF_TESTS: [(&str, [&str; 2]); 4] = [
    (
        JobFile::Job.name(),
        [
            include_str!("../../samples/blank/job.toml"),
            include_str!("../../samples/blank/plain/job.toml"),
        ],
    ),
    (
        JobFile::Limits.name(),
        [
            include_str!("../../samples/blank/limits.toml"),
            include_str!("../../samples/blank/plain/limits.toml"),
        ],
    ),
    (
        JobFile::Baseline.name(),
        [
            include_str!("../../samples/blank/baseline.toml"),
            include_str!("../../samples/blank/plain/baseline.toml"),
        ],
    ),
    (
        JobFile::Retest.name(),
        [
            include_str!("../../samples/blank/retest.toml"),
            include_str!("../../samples/blank/plain/retest.toml"),
        ],
    ),
];

const PICKUP: &str = r#"
[[instrument]]
id = "pickup"
kind = "Crank speed pickup"
unit = "rpm"
# accuracy = 0.6
# resolution = 0.1
"#;

const CYLINDER_MEASURE: &str = r#"
[[measure]]
id = "contribution"
name = "Cylinder contribution"
kind = "value"
at = "cylinders"                      # one value for each cylinder
test = "running-contribution"
unit = "rpm"
# min = -6.0
# max = 6.0
required = true
source = ""
meaning = "How evenly the cylinders push; 0 is perfectly even"

"#;

/// Makes the folder and says what to do next.
pub fn run(args: &InitArgs) -> Result<ExitCode, CommandError> {
    let folder = &args.folder;
    let (tests, cylinders) = match (args.tests, args.cylinders) {
        (None, None | Some(0)) => (Tests::Plain, 0),
        (None, Some(cylinders)) => (Tests::ColdStart, cylinders),
        (Some(Tests::ColdStart), None) => (Tests::ColdStart, 4),
        (Some(tests), cylinders) => (tests, cylinders.unwrap_or(0)),
    };
    let mut files = files(tests, cylinders);
    if let Some(old) = &args.like {
        for (name, text) in like::files(old, args.same_machine)? {
            if let Some((_, own)) = files.iter_mut().find(|(own, _)| *own == name) {
                *own = text;
            }
        }
    }
    // A shop.toml in a folder above applies to this job too; an empty one here would
    // hide it.
    let above = folder
        .parent()
        .filter(|parent| !parent.as_os_str().is_empty());
    let shops = nearest_with(above.unwrap_or(Path::new(".")), SHOP_FILE);
    let bench = shops.as_ref().ok().map(shop_bench).transpose()?.flatten();
    if let Some(bench) = &bench {
        with_bench(&mut files, bench, args.like.is_some());
    }
    let shop = shops.and_then(|shop| shop.read(SHOP_FILE, TEXT_LIMIT));
    // One is made only where there is none; any other problem shows when the job is read.
    if !matches!(shop, Err(ReadError::Missing)) {
        files.retain(|(name, _)| name != SHOP_FILE);
    }
    let bytes = files
        .iter()
        .map(|(name, text)| (name.as_str(), text.as_bytes()));
    write_tree(folder, bytes).map_err(|error| match error {
        WriteError::Exists => CommandError::told(
            format!("{} is already there", folder.display()),
            "name a folder that does not exist yet, or an empty one",
        ),
        other => refused(folder, &other),
    })?;
    anstream::println!("A new job folder is in {}.", folder.display());
    if let Ok(shop) = shop {
        anstream::println!("It uses the {} in a folder above it.", shop.name);
    }
    if let Some(old) = &args.like {
        anstream::println!(
            "Its instruments, measures, limits and conditions are those of {}: look at the \
             calibration dates, and say in limits.toml with whom the limits are agreed.",
            old.display()
        );
    }
    if bench.is_some() {
        let which = match args.like {
            Some(_) => "Instruments that the shop keeps in",
            None => "Its instruments are those of",
        };
        let they = match args.like {
            Some(_) => " are as they stand there.",
            None => " in the shop's folder.",
        };
        anstream::println!("{which} {INSTRUMENTS_FILE}{they}");
    }
    anstream::println!("Fill in job.toml and limits.toml, then baseline.toml before the work,");
    anstream::println!(
        "work.toml and retest.toml after it: in an editor, or in a browser with\n  \
         retestify fill {0}\nWhat is missing is said by\n  retestify check {0}",
        Typed(folder)
    );
    Ok(ExitCode::SUCCESS)
}

/// The instruments that the shop keeps beside its shop.toml, if it does.
fn shop_bench(shop: &Folder) -> Result<Option<Bench>, CommandError> {
    let wrong = |why: String| {
        CommandError::told(
            format!("{INSTRUMENTS_FILE} of the shop cannot be used: {why}"),
            "it has one `[[instrument]]` for each, with the keys as in job.toml; correct it, or \
             move it away",
        )
    };
    let text = match shop.read(INSTRUMENTS_FILE, TEXT_LIMIT) {
        Err(ReadError::Missing) => return Ok(None),
        Err(error) => return Err(wrong(error.to_string())),
        Ok(input) => String::from_utf8(input.bytes).map_err(|error| wrong(error.to_string()))?,
    };
    Bench::of(&text)
        .map(Some)
        .map_err(|error| wrong(error.to_string()))
}

/// Puts the shop's instruments into the files of a new job, and into the rows of its runs; of
/// a job like another, only those that it has.
fn with_bench(files: &mut [(String, String)], bench: &Bench, like: bool) {
    let text = |files: &[(String, String)], file: JobFile| {
        let found = files.iter().find(|(name, _)| name == file.name());
        found.map_or_else(String::new, |(_, text)| text.clone())
    };
    let job = text(files, JobFile::Job);
    let new = if like {
        bench.into_like(&job)
    } else {
        bench.into_new(&job)
    };
    let Some(job) = new else { return };
    let limits = text(files, JobFile::Limits);
    for (name, own) in files.iter_mut() {
        let head = match name.as_str() {
            name if name == JobFile::Job.name() => {
                own.clone_from(&job);
                continue;
            }
            name if name == JobFile::Baseline.name() => like::BASELINE,
            name if name == JobFile::Retest.name() => like::RETEST,
            _ => continue,
        };
        let run = blank::run_of_plan(&job, &limits, head).filter(|_| !like);
        if let Some(run) = run {
            *own = run;
        }
    }
}

/// The files of a new folder: the texts for these tests and this number of cylinders, and
/// the schemas that let an editor complete and check them.
fn files(tests: Tests, cylinders: u8) -> Vec<(String, String)> {
    let fill = |text: &str| {
        text.replace("@cylinders@", &cylinders_key(cylinders))
            .replace("@pickup@\n", if cylinders > 0 { PICKUP } else { "" })
            .replace(
                "@cylinder_measure@\n",
                if cylinders > 0 {
                    CYLINDER_MEASURE
                } else {
                    "\n"
                },
            )
            .replace("@cylinder_reading@\n", &cylinder_reading(cylinders))
    };
    let of_tests = OF_TESTS
        .iter()
        .map(|(name, [cold_start, plain])| match tests {
            Tests::ColdStart => (*name, *cold_start),
            // A kind of work has its own plan in place of these, see `of_kind`.
            Tests::Hydraulics
            | Tests::Charging
            | Tests::Refrigeration
            | Tests::Pumps
            | Tests::Bearings
            | Tests::Generator
            | Tests::Plain => (*name, *plain),
        });
    let texts = BLANK
        .into_iter()
        .chain(of_tests)
        .map(|(name, text)| (name.to_owned(), fill(text)));
    let schemas = schemas().into_iter().map(|(name, schema)| {
        let text = serde_json::to_string_pretty(&schema).unwrap_or_default();
        (format!(".schemas/{name}.schema.json"), text + "\n")
    });
    let mut files: Vec<(String, String)> = texts.chain(schemas).collect();
    for (name, text) in of_kind(tests, &files) {
        if let Some((_, own)) = files.iter_mut().find(|(own, _)| *own == name) {
            *own = text;
        }
    }
    files
}

/// The instruments and the plan of a kind of work, from `samples/blank/kinds`.
fn kind(tests: Tests) -> Option<[&'static str; 2]> {
    macro_rules! of {
        ($kind:literal) => {
            Some([
                include_str!(concat!(
                    "../../samples/blank/kinds/",
                    $kind,
                    "/instruments.toml"
                )),
                include_str!(concat!("../../samples/blank/kinds/", $kind, "/limits.toml")),
            ])
        };
    }
    match tests {
        Tests::ColdStart | Tests::Plain => None,
        Tests::Hydraulics => of!("hydraulics"),
        Tests::Charging => of!("charging"),
        Tests::Refrigeration => of!("refrigeration"),
        Tests::Pumps => of!("pumps"),
        Tests::Bearings => of!("bearings"),
        Tests::Generator => of!("generator"),
    }
}

/// The files of a kind of work that differ from those of any other.
fn of_kind(tests: Tests, plain: &[(String, String)]) -> Vec<(String, String)> {
    let Some([instruments, limits]) = kind(tests) else {
        return Vec::new();
    };
    let job = plain.iter().find(|(name, _)| name == JobFile::Job.name());
    let head = job.and_then(|(_, text)| text.split("\n[[instrument]]").next());
    let job = format!("{}\n{instruments}", head.unwrap_or_default());
    let run = |head: &str| blank::run_of_plan(&job, limits, head).unwrap_or_default();
    let file = |file: JobFile, text: String| (file.name().to_owned(), text);
    vec![
        file(JobFile::Baseline, run(like::BASELINE)),
        file(JobFile::Retest, run(like::RETEST)),
        file(JobFile::Limits, limits.to_owned()),
        file(JobFile::Job, job),
    ]
}

fn cylinders_key(cylinders: u8) -> String {
    if cylinders > 0 {
        format!("cylinders = {cylinders}")
    } else {
        "# cylinders = 4                     # for readings by cylinder".to_owned()
    }
}

fn cylinder_reading(cylinders: u8) -> String {
    if cylinders == 0 {
        return "\n".to_owned();
    }
    let rows: String = (1..=cylinders)
        .map(|number| format!("  # {{ at = {number}, value = … }},\n"))
        .collect();
    format!(
        "\n[reading.contribution]\nunit = \"rpm\"\ninstrument = \"pickup\"\nrows = [\n{rows}]\n\n"
    )
}
