//! `retestify verify`

use std::fmt::Write as _;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use anstyle::{Effects, Style};
use textwrap::Options;

use super::args::VerifyArgs;
use super::progress::Watched;
use super::{CommandError, pipeline};
use crate::document::OwnPages;
use crate::files::{ReadError, Source, read_path};
use crate::seals::is_hidden;
use crate::signature::ShopCertificate;
use crate::verification::{
    Answer, Carried, Expected, KnownSeal, LARGEST_FILE, Summary, SummaryFigure, Verification,
    seal_of_receipt, verify,
};
use crate::view::Words;

const BOLD: Style = Style::new().effects(Effects::BOLD);
const FAINT: Style = Style::new().effects(Effects::DIMMED);
const WIDTH: usize = 80;
/// The largest certificate file, in bytes.
const CERTIFICATE_LIMIT: u64 = 1 << 20;

/// Checks a report or a receipt, and shows the answers.
pub fn run(args: &VerifyArgs) -> Result<ExitCode, CommandError> {
    let file = pdf(&args.file)?;
    let folder = args.with.as_deref().map(pipeline::open).transpose()?;
    let folder = folder.map(Watched::new);
    let receipt = args.receipt.as_deref().map(pdf).transpose()?;
    let expected = Expected {
        trusted: all_certificates(&args.trust)?,
        authorities: all_certificates(&args.trust_time)?,
        folder: folder.as_ref().map(|folder| folder as &dyn Source),
        typesetter: Some(&OwnPages),
        seal: known_seal(args, receipt.as_deref()),
        receipt: receipt.as_deref().map(Carried::of),
    };
    let found = verify(&file, &expected);
    // What it said meanwhile goes before the answers come.
    drop(folder);
    let text = if args.json {
        // Made of strings and lists only, so it always has a JSON form.
        serde_json::to_string_pretty(&found).unwrap_or_default() + "\n"
    } else {
        words(&args.file, &found)
    };
    // A program that stops reading early, such as `head`, is not an error.
    let _ = anstream::stdout().write_all(text.as_bytes());
    Ok(match found.overall() {
        Answer::No => ExitCode::from(1),
        Answer::CannotTell => ExitCode::from(3),
        Answer::Yes | Answer::NotAsked => ExitCode::SUCCESS,
    })
}

fn known_seal(args: &VerifyArgs, receipt: Option<&[u8]>) -> Option<KnownSeal> {
    // A receipt that is not sound is an answer, not a usage error.
    let of_receipt =
        receipt.map(|receipt| seal_of_receipt(receipt).unwrap_or_else(KnownSeal::Unsound));
    of_receipt.or_else(|| args.fingerprint.clone().map(KnownSeal::Text))
}

fn all_certificates(paths: &[PathBuf]) -> Result<Vec<ShopCertificate>, CommandError> {
    let read = paths.iter().map(|path| certificates(path));
    Ok(read.collect::<Result<Vec<_>, _>>()?.concat())
}

fn certificates(path: &Path) -> Result<Vec<ShopCertificate>, CommandError> {
    let hint = "name the certificate file that the shop gave you, such as shop.pem";
    let bytes = read_path(path, CERTIFICATE_LIMIT).map_err(|error| {
        CommandError::told(format!("{} cannot be read: {error}", path.display()), hint)
    })?;
    ShopCertificate::read_all(&bytes)
        .map_err(|error| CommandError::told(format!("{}: {error}", path.display()), hint))
}

fn pdf(path: &Path) -> Result<Vec<u8>, CommandError> {
    let file = read_path(path, LARGEST_FILE).map_err(|error| {
        let hint = match error {
            ReadError::TooLarge { .. } => "no document made by this program is that large",
            _ => "name the PDF that you were given",
        };
        CommandError::told(format!("{} cannot be read: {error}", path.display()), hint)
    })?;
    if file.starts_with(b"%PDF-") {
        return Ok(file);
    }
    Err(CommandError::told(
        format!("{} is not a PDF", path.display()),
        "name the PDF that you were given",
    ))
}

/// The answers on the terminal.
pub fn words(file: &Path, found: &Verification) -> String {
    let words = Words::to_verify("en");
    let mut out = String::new();
    // A name may hold escape sequences that fake an answer.
    let name = file.display().to_string();
    let _ = writeln!(out, "{FAINT}{}{FAINT:#}", visible(&name));
    let _ = writeln!(out, "{FAINT}SHA-256 {}{FAINT:#}\n", found.sha256);
    if let Some(document) = &found.document {
        out.push_str(&first(document, &words));
    }
    out.push_str(&other_than_receipt(found, &words));
    for finding in &found.findings {
        let question = words.say(&format!("question-{}", finding.question.name()));
        let answer = words.say(&format!("answer-{}", finding.answer.name()));
        let answer = match finding.answer {
            Answer::No => answer.to_uppercase(),
            Answer::Yes | Answer::CannotTell | Answer::NotAsked => answer,
        };
        let _ = writeln!(out, "{question:<54}{BOLD}{answer}{BOLD:#}");
        for reason in &finding.because {
            let reason = visible(reason);
            let options = Options::new(WIDTH)
                .initial_indent("  ")
                .subsequent_indent("  ");
            for line in textwrap::wrap(&reason, options) {
                let _ = writeln!(out, "{line}");
            }
        }
    }
    let _ = writeln!(
        out,
        "\n{}",
        textwrap::fill(&words.say("cannot-show"), WIDTH)
    );
    out
}

/// `text` with its control characters, and those that hide or reverse text, made visible.
fn visible(text: &str) -> String {
    let shown = |letter: char| {
        let hidden = is_hidden(letter);
        let escaped = hidden.then(|| letter.escape_unicode());
        let plain = (!hidden).then_some(letter);
        escaped.into_iter().flatten().chain(plain)
    };
    text.chars().flat_map(shown).collect()
}

/// A line under an indent, wrapped.
fn line(out: &mut String, indent: usize, text: &str) {
    let (first, next) = (" ".repeat(indent), " ".repeat(indent + 2));
    let options = Options::new(WIDTH)
        .initial_indent(&first)
        .subsequent_indent(&next);
    let _ = writeln!(out, "{}", textwrap::fill(&visible(text), options));
}

/// What the customer's receipt shows otherwise.
fn other_than_receipt(found: &Verification, words: &Words) -> String {
    let mut out = String::new();
    let Some(rest) = found.differs_rest() else {
        return out;
    };
    let differences = found.differences.as_deref().unwrap_or_default();
    if !differences.is_empty() {
        line(&mut out, 0, &words.say("differs"));
    }
    for one in differences {
        let [name, receipt, document] = one.texts(words);
        let said = [
            ("name", name.as_str()),
            ("receipt", &receipt),
            ("document", &document),
        ];
        line(&mut out, 2, &words.say_with("differs-line", &said));
    }
    let indent = if differences.is_empty() { 0 } else { 2 };
    line(&mut out, indent, &words.say(rest));
    out.push('\n');
    out
}

/// What was verified: the verdict and the required figures, as its inputs give them again.
fn first(document: &Summary, words: &Words) -> String {
    let mut out = String::new();
    let mut line = |indent: usize, text: &str| line(&mut out, indent, text);
    line(0, &document.about(words));
    let Some(told) = &document.told else {
        out.push('\n');
        return out;
    };
    line(0, &words.say_with("worked-out", &[("says", &told.says)]));
    for figure in &told.required {
        let SummaryFigure {
            name,
            before,
            after,
            limit,
            result,
        } = figure;
        let mut said = vec![
            ("name", name.as_str()),
            ("before", before),
            ("limit", limit),
            ("result", result),
        ];
        said.extend(after.as_deref().map(|after| ("after", after)));
        let id = match after {
            Some(_) => "figure-before-after",
            None => "figure",
        };
        line(2, &words.say_with(id, &said));
    }
    out.push('\n');
    out
}
