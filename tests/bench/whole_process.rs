//! Times `retestify report` as a whole process against the bare typesetter.
//!
//! `cargo bench` runs both in turn on a sample without photos and compares their
//! medians: reading, judging, wording and writing may cost half as much again as
//! setting the same pages, no more. The bare process gets the same template, the
//! same fonts, the same data and the same attachments, and writes the same PDF.

use std::fs;
use std::path::Path;
use std::process::{Command, ExitCode};
use std::time::{Duration, Instant};

use chrono::DateTime;
use retestify::files::{Folder, nearest_with};
use retestify::intake::can_print;
use retestify::intake::{Inputs, Media, SHOP_FILE};
use retestify::render::{FONTS, SOURCES};
use retestify::result::{DOCUMENT_FILE, DocumentFile, DocumentKind, ResultFile, to_json};
use retestify::seals::Sealing;
use retestify::view::{InputFile, Material, Words, report};
use retestify::{intake, judge};
use serde_json::json;
use typst_as_lib::TypstEngine;
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards, Timestamp};

const SAMPLE: &str = "samples/ferry-auxiliary";
const ROUNDS: usize = 21;
const ALLOWED: f64 = 1.5;
/// 25 November 2026, 12:00 UTC.
const CLOCK: &str = "1795608000";

fn main() -> ExitCode {
    let args: Vec<String> = std::env::args().collect();
    match args.iter().position(|arg| arg == "bare") {
        Some(index) => {
            bare(Path::new(&args[index + 1]));
            ExitCode::SUCCESS
        }
        None => compare(),
    }
}

fn compare() -> ExitCode {
    let temp = tempfile::tempdir().expect("a temporary folder");
    let data = temp.path().join("data");
    prepare(&data);
    let output = temp.path().join("report.pdf");
    let whole = || {
        let mut command = Command::new(env!("CARGO_BIN_EXE_retestify"));
        command
            .args(["report", SAMPLE, "--unsigned", "--replace", "-o"])
            .arg(&output);
        command.env("SOURCE_DATE_EPOCH", CLOCK);
        command
    };
    let own = std::env::current_exe().expect("this program");
    let bare = || {
        let mut command = Command::new(&own);
        command.arg("bare").arg(&data);
        command
    };
    let (mut wholes, mut bares) = (Vec::new(), Vec::new());
    for _ in 0..ROUNDS {
        wholes.push(timed(whole()));
        bares.push(timed(bare()));
    }
    let pages = fs::read(&output).expect("the report");
    let same = fs::read(data.join("bare.pdf")).expect("the bare report");
    assert!(
        pages.len().abs_diff(same.len()) < 1000,
        "both set the same pages: {} and {} bytes",
        pages.len(),
        same.len()
    );
    let (whole, bare) = (median(wholes), median(bares));
    let ratio = whole.as_secs_f64() / bare.as_secs_f64();
    println!("retestify report, whole process: {whole:?} (median of {ROUNDS})");
    println!("bare typesetter, whole process:  {bare:?}");
    println!("ratio {ratio:.3}, allowed {ALLOWED}");
    if ratio <= ALLOWED {
        ExitCode::SUCCESS
    } else {
        ExitCode::FAILURE
    }
}

fn timed(mut command: Command) -> Duration {
    let start = Instant::now();
    let output = command.output().expect("the process runs");
    let time = start.elapsed();
    assert!(
        output.status.success(),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    time
}

fn median(mut times: Vec<Duration>) -> Duration {
    times.sort();
    times[times.len() / 2]
}

/// Writes down what the template gets for the sample.
fn prepare(folder: &Path) {
    let source = Folder::open(Path::new(SAMPLE)).expect("the sample");
    let inputs = Inputs {
        job: &source,
        shop: &nearest_with(Path::new(SAMPLE), SHOP_FILE).expect("the samples"),
    };
    let intake = intake::read_job(inputs, &can_print, Media::Read).expect("a sound sample");
    assert!(intake.pictures.is_empty(), "a sample without photos");
    let judgement = judge::judge(&intake.job);
    let issued = DateTime::from_timestamp(CLOCK.parse().expect("a number"), 0)
        .expect("a time")
        .fixed_offset();
    let inputs = intake.texts.iter().map(|input| InputFile {
        name: input.name.clone(),
        digest: input.digest.to_string(),
        size: input.bytes.len() as u64,
        attached: true,
        caption: String::new(),
    });
    let material = Material {
        job: &intake.job,
        shop: &intake.shop,
        judgement: &judgement,
        inputs: inputs.collect(),
        pictures: Vec::new(),
        logo: None,
        issued,
        sealing: Sealing::default(),
        signer: None,
    };
    let report = serde_json::to_vec(&report(&material, &Words::english())).expect("JSON");
    let result = to_json(&ResultFile::new(&intake.job, &judgement, intake.files()));

    let mut attached: Vec<(&str, &[u8])> = intake
        .texts
        .iter()
        .map(|input| (input.name.as_str(), input.bytes.as_slice()))
        .collect();
    attached.push(("result.json", result.as_bytes()));
    let document = DocumentFile::new(DocumentKind::Report, issued, None).text();
    attached.push((DOCUMENT_FILE, document.as_bytes()));
    let mut listing = Vec::new();
    fs::create_dir_all(folder.join("attachments")).expect("a folder");
    for (index, (name, bytes)) in attached.iter().enumerate() {
        let path = format!("attachments/{index}");
        fs::write(folder.join(&path), bytes).expect("a file");
        listing.push(json!({
            "name": name, "path": path, "mime": "application/toml",
            "relationship": "source", "description": "Input file",
        }));
    }
    fs::write(folder.join("kind.json"), "\"report\"").expect("a file");
    fs::write(folder.join("data.json"), report).expect("a file");
    fs::write(folder.join("attachments.json"), json!(listing).to_string()).expect("a file");
    let day = json!({ "year": 2026, "month": 11, "day": 25 });
    fs::write(folder.join("issued.json"), day.to_string()).expect("a file");
}

/// Reads the data, sets the template, writes the PDF.
fn bare(folder: &Path) {
    let mut files = Vec::new();
    for name in ["kind.json", "data.json", "attachments.json", "issued.json"] {
        files.push((
            name.to_owned(),
            fs::read(folder.join(name)).expect("a file"),
        ));
    }
    for entry in fs::read_dir(folder.join("attachments")).expect("a folder") {
        let path = entry.expect("an entry").path();
        let name = path
            .file_name()
            .expect("a name")
            .to_string_lossy()
            .into_owned();
        files.push((
            format!("attachments/{name}"),
            fs::read(path).expect("a file"),
        ));
    }
    let (main, others) = SOURCES.split_first().expect("the template");
    let engine = TypstEngine::builder()
        .main_file(*main)
        .fonts(FONTS)
        .with_static_source_file_resolver(others.iter().copied())
        .with_static_file_resolver(
            files
                .iter()
                .map(|(path, bytes)| (path.as_str(), bytes.as_slice())),
        )
        .build();
    let document: PagedDocument = engine.compile().output.expect("pages");
    let datetime = typst::foundations::Datetime::from_ymd_hms(2026, 11, 25, 12, 0, 0);
    let options = PdfOptions {
        timestamp: datetime.map(Timestamp::new_utc),
        standards: PdfStandards::new(&[PdfStandard::A_3a, PdfStandard::Ua_1])
            .expect("standards that go together"),
        ..PdfOptions::default()
    };
    let bytes = typst_pdf::pdf(&document, &options).expect("a PDF");
    fs::write(folder.join("bare.pdf"), bytes).expect("a file");
}
