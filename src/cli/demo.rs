//! `retestify demo`: the whole story on a sample that comes with the program.

use std::path::Path;
use std::process::ExitCode;

use anstyle::Style;
use chrono::{DateTime, Duration, FixedOffset, Utc};
use zeroize::Zeroizing;

use super::args::{DemoArgs, Signing};
use super::issue::Issue;
use super::output::{refused, say};
use super::seal::Terms;
use super::template::Pages;
use super::{CommandError, keys, pipeline, seal, terminal, verify};
use crate::document::{OwnPages, material};
use crate::files::{WriteError, write_tree, write_whole};
use crate::intake::SHOP_FILE;
use crate::job::{JobFile, Run};
use crate::seals::{Chain, Clock, SEALS};
use crate::signature::{Identity, Randomness};
use crate::verification;
use crate::verification::{Carried, Expected, seal_of_receipt};
use crate::view;

/// The sample from `samples/frost-fan`, with the shop's file.
const SAMPLE: [(&str, &[u8]); 9] = [
    (SHOP_FILE, include_bytes!("../../samples/shop.toml")),
    (
        JobFile::Job.name(),
        include_bytes!("../../samples/frost-fan/job.toml"),
    ),
    (
        JobFile::Limits.name(),
        include_bytes!("../../samples/frost-fan/limits.toml"),
    ),
    (
        JobFile::Baseline.name(),
        include_bytes!("../../samples/frost-fan/baseline.toml"),
    ),
    (
        JobFile::Work.name(),
        include_bytes!("../../samples/frost-fan/work.toml"),
    ),
    (
        JobFile::Retest.name(),
        include_bytes!("../../samples/frost-fan/retest.toml"),
    ),
    (
        "photos/filter-before.jpg",
        include_bytes!("../../samples/frost-fan/photos/filter-before.jpg"),
    ),
    (
        "photos/filter-after.jpg",
        include_bytes!("../../samples/frost-fan/photos/filter-after.jpg"),
    ),
    (
        "photos/old-line.jpg",
        include_bytes!("../../samples/frost-fan/photos/old-line.jpg"),
    ),
];

/// The passphrase of the demonstration's key.
const PASSPHRASE: &str = "only a demonstration";
/// The figure that is changed in the copy: the crank time before the work.
const FIGURE: (&str, &str) = ("value = 12.8", "value = 21.8");

/// Tells the whole story on the sample: seal, receipt, retest, report, verify; then a
/// copy with one figure changed.
pub fn run(args: &DemoArgs) -> Result<ExitCode, CommandError> {
    let folder = &args.folder;
    let job = folder.join("job");
    let files = SAMPLE.map(|(name, bytes)| (format!("job/{name}"), bytes));
    let files = files.iter().map(|(name, bytes)| (name.as_str(), *bytes));
    write_tree(folder, files).map_err(|error| match error {
        WriteError::Exists => CommandError::told(
            format!("{} is already there", folder.display()),
            "name another folder: `retestify demo FOLDER`, or delete that one",
        ),
        other => refused(folder, &other),
    })?;
    step("A sample job");
    anstream::println!("{}", job.display());
    let read = pipeline::judge(&job)?.intake;
    let ended = |run: &Run| run.ended.unwrap_or(run.started);
    let dropped_off = ended(&read.job.baseline) + Duration::minutes(10);
    let closed = ended(&read.job.retest) + Duration::minutes(20);

    step("An identity to sign with, for this demonstration only");
    let identity = identity(&read.shop.name, dropped_off)?;
    keys::store(&identity, &folder.join("identity"), PASSPHRASE)?;
    let certificate = identity.certificate().clone();
    let shop = folder.join("shop.pem");
    write(&shop, certificate.pem().as_bytes())?;
    anstream::println!("{}", shop.display());

    step("Before the work: the baseline is sealed, and the customer gets a receipt");
    let mut issue = Issue {
        now: dropped_off,
        clock: Clock::Set,
        identity: Some(identity),
        words: Pages::default().words(&read)?,
        pages: Pages::default(),
    };
    let terms = |now| Terms {
        amends: None,
        now,
        clock: Clock::Set,
    };
    let (dropped, sealed) = seal::baseline(&job, terms(dropped_off))?;
    let receipt = pipeline::receipt(&dropped, &issue)?;
    sealed.write(&job)?;
    let receipt_path = job.join("receipt.pdf");
    write(&receipt_path, &receipt.bytes)?;
    say(&receipt_path, &receipt, &issue, Signing::Wanted);

    step("After the work: the retest is sealed, and the report is made");
    let (_, sealed) = seal::retest(&job, terms(closed))?;
    sealed.write(&job)?;
    issue.now = closed;
    let judged = pipeline::judge(&job)?;
    let report = pipeline::report(&judged, &issue)?;
    let report_path = job.join("report.pdf");
    write(&report_path, &report.bytes)?;
    say(&report_path, &report, &issue, Signing::Wanted);

    step("What `check` shows");
    anstream::print!(
        "{}",
        terminal::text(&view::report(
            &material(&judged, closed, None),
            &issue.words
        ))
    );

    step("What `verify` answers to somebody who has the receipt and the certificate");
    let expected = Expected {
        trusted: vec![certificate],
        authorities: Vec::new(),
        folder: None,
        typesetter: Some(&OwnPages),
        seal: seal_of_receipt(&receipt.bytes).ok(),
        receipt: Some(Carried::of(&receipt.bytes)),
    };
    anstream::print!(
        "{}",
        verify::words(
            &report_path,
            &verification::verify(&report.bytes, &expected)
        )
    );

    step("A copy in which one figure is changed: 12.8 s before the work becomes 21.8 s");
    let altered = folder.join("altered");
    write_altered(&judged.sealing.chain, &altered)?;
    let judged = pipeline::judge(&altered)?;
    anstream::println!("{}\n", view::alert(&judged.sealing, &issue.words));
    let report = pipeline::report(&judged, &issue)?;
    let altered_path = altered.join("report.pdf");
    write(&altered_path, &report.bytes)?;
    anstream::print!(
        "{}",
        verify::words(
            &altered_path,
            &verification::verify(&report.bytes, &expected)
        )
    );

    step("To look at");
    for path in [receipt_path, report_path, altered_path] {
        anstream::println!("{}", path.display());
    }
    Ok(ExitCode::SUCCESS)
}

fn step(title: &str) {
    let bold = Style::new().bold();
    anstream::println!("\n{bold}== {title}{bold:#}");
}

/// A new identity, as if it had been made a day before `moment`.
fn identity(name: &str, moment: DateTime<FixedOffset>) -> Result<Identity, CommandError> {
    let randomness = Randomness {
        key: Zeroizing::new(keys::random()?),
        serial: keys::random()?,
    };
    let from = (moment - Duration::days(1)).with_timezone(&Utc);
    Identity::create(&format!("{name} (demonstration)"), 10, from, &randomness)
        .map_err(|error| keys::cannot_use(Path::new("identity"), &error))
}

/// The sample with its seals, and one figure changed since.
fn write_altered(chain: &Chain, folder: &Path) -> Result<(), CommandError> {
    let mut files: Vec<(String, Vec<u8>)> = SAMPLE
        .iter()
        .map(|(name, bytes)| ((*name).to_owned(), bytes.to_vec()))
        .collect();
    for (name, bytes) in &mut files {
        if name == JobFile::Baseline.name() {
            let text = String::from_utf8_lossy(bytes);
            *bytes = text.replace(FIGURE.0, FIGURE.1).into_bytes();
        }
    }
    let seals = chain.links.iter();
    files.extend(seals.map(|link| (format!("{SEALS}/{}", link.file), link.bytes.clone())));
    let files = files
        .iter()
        .map(|(name, bytes)| (name.as_str(), bytes.as_slice()));
    write_tree(folder, files).map_err(|error| refused(folder, &error))
}

fn write(path: &Path, bytes: &[u8]) -> Result<(), CommandError> {
    write_whole(path, bytes, false).map_err(|error| refused(path, &error))
}
