//! The picture of page 1 in the README: made by `tests/picture`, and held current here.

use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use sha2::{Digest, Sha256};

use crate::folder::{Folder, run_at, samples};
use crate::pages;

const PROGRAM: &str = env!("CARGO_BIN_EXE_retestify");

/// The name of the text chunk that says of which page the picture is (PNG, 11.3.3.2).
const KEY: &[u8] = b"tEXtPage\0";

fn picture() -> PathBuf {
    samples().join("report-page-1.png")
}

/// The sample, sealed before the work and closed after the retest, at fixed times.
fn closed() -> Folder {
    let folder = Folder::copy_of("frost-fan");
    fs::copy(samples().join("shop.toml"), folder.file("shop.toml")).unwrap();
    let job = folder.path();
    let job = job.to_str().unwrap();
    let seals = ["seals/1-baseline.sha256", "seals/2-retest.sha256"];
    let baseline: &[&str] = &["seal", "baseline", job, "--unsigned"];
    let steps = [
        ("1768898400", baseline),
        ("1769072400", &["seal", "retest", job]),
    ];
    for ((time, args), seal) in steps.into_iter().zip(seals) {
        let done = run_at(time, PROGRAM, args);
        assert_eq!(done.code, 0, "{}", done.err);
        // As on the day itself, when nobody sets the time by hand.
        folder.replace(seal, "clock: set by hand", "clock: this computer");
    }
    folder
}

/// The report of that job, made at noon on the day of the retest.
fn report(folder: &Folder, more: &[&str]) -> Vec<u8> {
    let job = folder.path();
    let args = [&["report", job.to_str().unwrap(), "--replace"], more].concat();
    let done = run_at("1769083200", PROGRAM, &args);
    assert_eq!(done.code, 0, "{}", done.err);
    fs::read(folder.file("report.pdf")).unwrap()
}

/// What page 1 says, and where, without its signature: a digest in hexadecimal digits.
fn page_1(folder: &Folder) -> String {
    let pdf = report(folder, &["--unsigned"]);
    let mut text = pages::texts(&pdf)[0].clone();
    for (x, y) in &pages::places(&pdf)[0] {
        let _ = write!(text, " {:.0},{:.0}", x * 1000.0, y * 1000.0);
    }
    hex(&Sha256::digest(text.as_bytes()))
}

fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

#[test]
fn the_picture_in_the_readme_is_of_the_page_as_it_is_today() {
    let png = fs::read(picture()).unwrap();
    let place = png
        .windows(KEY.len())
        .position(|bytes| bytes == KEY)
        .unwrap()
        + KEY.len();
    let of = String::from_utf8_lossy(&png[place..place + 64]).into_owned();
    assert_eq!(
        of,
        page_1(&closed()),
        "the page has changed: make the picture anew with tests/picture, and look at it"
    );
    let readme = fs::read_to_string(samples().join("../README.md")).unwrap();
    let shown = readme
        .lines()
        .find(|line| line.contains("(samples/report-page-1.png)"));
    let words = shown.and_then(|line| line.strip_prefix("![")?.split_once(']'));
    let (words, _) = words.expect("the README shows the picture");
    assert!(
        words.len() > 80,
        "the picture is told in words too: {words}"
    );
}

/// Makes the picture, with the signature of a key that is thrown away. Needs pdftoppm.
#[test]
#[ignore = "writes the picture; run by tests/picture"]
fn make_the_picture() {
    let folder = closed();
    let of = page_1(&folder);
    let identity = tempfile::tempdir().unwrap();
    let identity = identity.path().join("identity");
    let identity = identity.to_str().unwrap();
    let name = "Tamsin Orrell Engine Bench";
    let made = with_passphrase(&["identity", "new", name, "--identity", identity]);
    assert!(made, "no identity");
    let job = folder.path();
    let job = job.to_str().unwrap();
    assert!(with_passphrase(&[
        "report",
        job,
        "--replace",
        "--identity",
        identity
    ]));
    let to = folder.path().join("page");
    let drawn = Command::new("pdftoppm")
        .args(["-r", "92", "-f", "1", "-l", "1", "-singlefile", "-png"])
        .arg(folder.file("report.pdf"))
        .arg(&to)
        .status();
    assert!(drawn.unwrap().success());
    write_with(&to.with_extension("png"), &of);
}

fn with_passphrase(args: &[&str]) -> bool {
    let status = Command::new(PROGRAM)
        .args(args)
        .env("SOURCE_DATE_EPOCH", "1769083200")
        .env("RETESTIFY_PASSPHRASE", "only for a picture")
        .status();
    status.unwrap().success()
}

/// Puts the digest of the page into a PNG, behind its header, and the PNG into its place.
fn write_with(png: &Path, of: &str) {
    let png = fs::read(png).unwrap();
    // The signature of eight bytes, and the header of 25.
    let (head, rest) = png.split_at(33);
    let chunk = [KEY, of.as_bytes()].concat();
    let length = u32::try_from(chunk.len() - 4).unwrap().to_be_bytes();
    let mut sum = flate2::Crc::new();
    sum.update(&chunk);
    let all = [head, &length, &chunk, &sum.sum().to_be_bytes(), rest].concat();
    fs::write(picture(), all).unwrap();
}
