//! The words about seals and signature: on page 1, on the receipt, and on the pages for
//! a dispute.

use chrono::{DateTime, FixedOffset};

use super::data::{SealRow, SignatureBlock, Step};
use super::figures;
use super::words::Words;
use crate::seals::{Sealing, Stage};

/// Whose time stands beside a signature.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TimeSource {
    /// The clock of the computer.
    Computer,
    /// A time that was set by hand.
    SetByHand,
    /// A time-stamp authority attests it.
    Authority,
    /// A time-stamp authority was asked and gave no answer.
    AuthorityAway,
}

/// Who signs a document.
#[derive(Debug, Clone)]
pub struct Signer {
    /// The name in the certificate.
    pub name: String,
    /// SHA-256 of the certificate in hexadecimal digits.
    pub fingerprint: String,
    /// Whose time it is.
    pub time: TimeSource,
}

/// The block of words that the signature field lies over.
pub fn block(signer: &Signer, signed: DateTime<FixedOffset>, words: &Words) -> SignatureBlock {
    let time = words.say(match signer.time {
        TimeSource::Computer => "signed-clock",
        TimeSource::SetByHand => "signed-set",
        TimeSource::Authority => "signed-authority",
        TimeSource::AuthorityAway => "signed-authority-away",
    });
    let moment = figures::moment(signed, words);
    let line = words.say_with("signed-when", &[("moment", &moment), ("time", &time)]);
    SignatureBlock {
        title: words.say_with("signed-by", &[("name", &signer.name)]),
        line,
        key: words.say("signed-key"),
        fingerprint: signer.fingerprint.clone(),
    }
}

/// What page 1 must say of broken seals; empty if none is broken.
pub fn alert(sealing: &Sealing, words: &Words) -> String {
    if !sealing.is_broken() {
        return String::new();
    }
    let files: Vec<String> = broken(sealing, words);
    words.say_with("seal-alert", &[("what", &files.join("; "))])
}

/// What stands beside the verdict: whether limits and baseline were sealed before the
/// work, by whose clock, and the fingerprint to hold against the customer's page.
pub fn mark(sealing: &Sealing, words: &Words) -> Vec<String> {
    let holding = sealing.holding(Stage::Baseline);
    // "Before the work" rests on the first seal.
    let mut baselines = sealing
        .seals
        .iter()
        .filter(|seal| seal.stage == Stage::Baseline);
    let by_hand = baselines.next().is_some_and(|seal| seal.set_by_hand);
    let mut lines = vec![words.say(match sealing.before_work {
        _ if sealing.is_broken() => "sealed-broken",
        Some(true) if sealing.amended_late => "sealed-amended-late",
        Some(true) if !sealing.amended.is_empty() => "sealed-amended",
        Some(true) if by_hand => "sealed-before-by-hand",
        Some(true) => "sealed-before",
        Some(false) => "sealed-late",
        None => "sealed-not",
    })];
    let is_amended = sealing.amended_late || !sealing.amended.is_empty();
    if sealing.before_work == Some(true) && by_hand && is_amended && !sealing.is_broken() {
        lines[0] = words.say_with("seal-set-by-hand", &[("moment", &lines[0])]);
    }
    lines.extend(holding.map(|seal| seal.fingerprint.clone()));
    lines
}

/// Each broken file and each fault of the seals, in words.
pub fn broken(sealing: &Sealing, words: &Words) -> Vec<String> {
    let files = sealing.broken.iter().map(|broken| {
        let id = if broken.missing {
            "seal-missing"
        } else {
            "seal-changed"
        };
        let stage = stage(broken.stage, words);
        words.say_with(id, &[("file", &broken.file), ("stage", &stage)])
    });
    files.chain(sealing.faults.iter().cloned()).collect()
}

fn stage(stage: Stage, words: &Words) -> String {
    words.say(match stage {
        Stage::Baseline => "run-baseline",
        Stage::Retest => "run-retest",
    })
}

/// The table of seals.
pub fn rows(sealing: &Sealing, words: &Words) -> Vec<SealRow> {
    sealing
        .seals
        .iter()
        .map(|seal| {
            let mut when = figures::moment(seal.sealed, words);
            if seal.set_by_hand {
                when = words.say_with("seal-set-by-hand", &[("moment", &when)]);
            }
            SealRow {
                stage: stage(seal.stage, words),
                file: seal.file.clone(),
                when,
                fingerprint: seal.fingerprint.clone(),
                digest: seal.digest.clone(),
                amends: seal.amends.as_ref().map_or_else(String::new, |why| {
                    words.say_with("seal-amends", &[("why", why)])
                }),
            }
        })
        .collect()
}

/// What the seals of this job show, and what they do not.
pub fn notes(sealing: &Sealing, words: &Words) -> Vec<String> {
    let mut notes = Vec::new();
    if sealing.is_broken() {
        notes.push(alert(sealing, words));
    }
    notes.push(words.say(match sealing.before_work {
        None => "seal-none",
        Some(true) => "seal-before-work",
        Some(false) => "seal-after-work",
    }));
    notes.extend(amended(sealing, words));
    if sealing.lacks_retest() {
        notes.push(words.say("seal-retest-short"));
    }
    if !sealing.seals.is_empty() {
        notes.push(words.say("seal-clock"));
    }
    notes.push(words.say("evidence-truth"));
    notes
}

/// What page 1 says of the seals, where they show less than they could.
pub fn in_short(sealing: &Sealing, words: &Words) -> Vec<String> {
    let mut sentences: Vec<String> = amended(sealing, words).into_iter().collect();
    match sealing.before_work {
        None => sentences.push(words.say("seal-none-short")),
        Some(false) => sentences.push(words.say("seal-late-short")),
        Some(true) => {}
    }
    if sealing.lacks_retest() {
        sentences.push(words.say("seal-retest-short"));
    }
    sentences
}

/// What was changed in the baseline after it was first sealed; none if nothing was.
pub fn amended(sealing: &Sealing, words: &Words) -> Option<String> {
    let id = if sealing.before_work == Some(true) && sealing.amended_late {
        "seal-amended-late"
    } else {
        "seal-amended"
    };
    (!sealing.amended.is_empty())
        .then(|| words.say_with(id, &[("files", &sealing.amended.join(", "))]))
}

/// How to check the report with common tools, step by step.
pub fn steps(sealing: &Sealing, signer: Option<&Signer>, words: &Words) -> Vec<Step> {
    let mut steps = Vec::new();
    if let Some(signer) = signer {
        steps.push(step(
            "how-signature",
            &["pdfsig report.pdf".to_owned()],
            words,
        ));
        let read = "openssl pkcs7 -inform DER -in report.pdf.sig0 -print_certs | \
                    openssl x509 -noout -fingerprint -sha256";
        steps.push(Step {
            expected: vec![colons(&signer.fingerprint)],
            ..step(
                "how-certificate",
                &["pdfsig -dump report.pdf".to_owned(), read.to_owned()],
                words,
            )
        });
    }
    let detach = "pdfdetach -saveall report.pdf".to_owned();
    let Some(baseline) = sealing.holding(Stage::Baseline) else {
        steps.push(step("how-attachments-unsealed", &[detach], words));
        // Every attached input, with the readings.
        let digests = "sha256sum *.toml".to_owned();
        steps.push(step("how-digests", &[digests], words));
        return steps;
    };
    steps.push(step("how-attachments", &[detach], words));
    let checks: Vec<String> = sealing
        .seals
        .iter()
        .filter(|seal| {
            let holding = sealing.holding(seal.stage);
            holding.is_some_and(|holding| holding.file == seal.file)
        })
        .map(|seal| format!("sha256sum -c --ignore-missing {}", seal.file))
        .collect();
    steps.push(step("how-seals", &checks, words));
    let digests: Vec<String> = sealing
        .seals
        .iter()
        .map(|seal| format!("sha256sum {}", seal.file))
        .collect();
    steps.push(step("how-chain", &digests, words));
    steps.push(Step {
        expected: vec![baseline.fingerprint.clone()],
        ..step("how-fingerprint", &[letters(&baseline.file)], words)
    });
    steps
}

/// How to check a receipt with common tools, in one step.
pub fn receipt_steps(sealing: &Sealing, signer: Option<&Signer>, words: &Words) -> Vec<Step> {
    let mut commands = Vec::new();
    if signer.is_some() {
        commands.push("pdfsig receipt.pdf".to_owned());
    }
    commands.push("pdfdetach -saveall receipt.pdf".to_owned());
    if let Some(seal) = sealing.holding(Stage::Baseline) {
        commands.push(format!("sha256sum -c --ignore-missing {}", seal.file));
        commands.push(letters(&seal.file));
    }
    vec![step("how-receipt", &commands, words)]
}

fn step(id: &str, commands: &[String], words: &Words) -> Step {
    Step {
        text: words.say(id),
        commands: commands.to_vec(),
        expected: Vec::new(),
    }
}

/// The command that gives the letters of a fingerprint in its groups.
fn letters(file: &str) -> String {
    format!(
        "openssl dgst -sha256 -binary {file} | base32 | cut -c 1-32 | sed 's/..../&-/g; s/-$//'"
    )
}

/// A digest as openssl prints the fingerprint of a certificate.
fn colons(hex: &str) -> String {
    let pairs: Vec<String> = hex
        .as_bytes()
        .chunks(2)
        .map(|pair| String::from_utf8_lossy(pair).to_uppercase())
        .collect();
    pairs.join(":")
}
