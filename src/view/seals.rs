//! The words about seals and signature: on page 1, on the receipt, and on the pages for
//! a dispute.

use chrono::{DateTime, FixedOffset};

use super::data::{Pair, SealRow, SignatureBlock, Step};
use super::figures;
use super::words::Words;
use crate::job::{Shop, Stage};
use crate::result::TimeSource;
use crate::seals::{
    Amended, Breach, ChainError, Clock, FirstSealed, Link, NameError, SealError, SealFact,
    SealMark, Sealing, shown,
};

/// Who signs a document.
#[derive(Debug, Clone)]
pub struct Signer {
    /// The name in the certificate.
    pub name: String,
    /// SHA-256 of the certificate in hexadecimal digits.
    pub fingerprint: String,
    /// Where its time comes from.
    pub time: TimeSource,
}

/// The words in the box of the signature.
fn block(
    signer: &Signer,
    shop: &Shop,
    signed: DateTime<FixedOffset>,
    words: &Words,
) -> SignatureBlock {
    let time = words.say(match signer.time {
        TimeSource::Computer => "signed-clock",
        TimeSource::SetByHand => "signed-set",
        TimeSource::Authority => "signed-authority",
        TimeSource::AuthorityAway => "signed-authority-away",
    });
    let moment = figures::moment(signed, words);
    let mut line = words.say_with("signed-when", &[("moment", &moment), ("time", &time)]);
    // Whoever reads the letterhead takes the signature for that shop's.
    if !shop.is_named_by(&signer.name) {
        let other = words.say_with("signed-other-name", &[("shop", &shop.name)]);
        line += &format!(". {other}");
    }
    SignatureBlock {
        title: words.say_with("signed-by", &[("name", &signer.name)]),
        line,
        key: words.say("signed-key"),
        fingerprint: signer.fingerprint.clone(),
    }
}

/// The box of the signature, or what stands in its place (the message `unsigned`) where
/// nobody signs; the other is empty.
pub fn signature(
    signer: Option<&Signer>,
    shop: &Shop,
    issued: DateTime<FixedOffset>,
    unsigned: &str,
    words: &Words,
) -> (Option<SignatureBlock>, String) {
    match signer {
        Some(signer) => (Some(block(signer, shop, issued, words)), String::new()),
        None => (None, words.say(unsigned)),
    }
}

/// What page 1 must say about broken seals; empty if none is broken.
pub fn alert(sealing: &Sealing, words: &Words) -> String {
    if !sealing.is_broken() {
        return String::new();
    }
    let files: Vec<String> = broken(sealing, words);
    words.say_with("seal-alert", &[("what", &files.join("; "))])
}

/// Whether limits and baseline were sealed before the work, and by which clock.
pub fn mark(sealing: &Sealing, words: &Words) -> String {
    match sealing.mark() {
        SealMark::Broken => words.say("sealed-broken"),
        SealMark::NotSealed => words.say("sealed-not"),
        SealMark::AfterWorkStarted => words.say("sealed-late"),
        SealMark::BeforeWork { amended, clock } => match (amended, clock) {
            (Amended::No, Clock::Computer) => words.say("sealed-before"),
            (Amended::No, Clock::Set) => words.say("sealed-before-by-hand"),
            (Amended::Yes, clock) => by_clock(words.say("sealed-amended"), clock, words),
            (Amended::AfterWorkStarted, clock) => {
                by_clock(words.say("sealed-amended-late"), clock, words)
            }
        },
    }
}

/// What the customer's receipt must show: the fingerprint of the seal in force.
pub fn fingerprint(sealing: &Sealing, words: &Words) -> Option<Pair> {
    let holding = sealing.chain.latest(Stage::Baseline)?;
    Some(Pair {
        label: words.say("receipt-must-show"),
        text: holding.fingerprint().to_string(),
    })
}

/// `moment`, with a note if the time was set by hand.
fn by_clock(moment: String, clock: Clock, words: &Words) -> String {
    match clock {
        Clock::Computer => moment,
        Clock::Set => words.say_with("seal-set-by-hand", &[("moment", &moment)]),
    }
}

/// Each broken file and each error of the chain, in words.
pub fn broken(sealing: &Sealing, words: &Words) -> Vec<String> {
    let files = sealing.broken.iter().map(|broken| {
        let id = if broken.missing {
            "seal-missing"
        } else {
            "seal-changed"
        };
        let stage = stage(broken.stage, words);
        let file = what_it_is(&broken.file, words);
        words.say_with(id, &[("file", &file), ("stage", &stage)])
    });
    let errors = sealing.chain.errors.iter();
    files
        .chain(errors.map(|error| chain_error(error, words)))
        .collect()
}

/// What a sealed file is, for somebody who has never seen a job folder, with its name.
fn what_it_is(file: &str, words: &Words) -> String {
    let id = match file {
        "baseline.toml" => "file-baseline",
        "retest.toml" => "file-retest",
        "limits.toml" => "file-limits",
        "job.toml" => "file-job",
        "work.toml" => "file-work",
        other => return other.to_owned(),
    };
    words.say_with(id, &[("file", file)])
}

/// What is wrong with a seal in its chain.
fn chain_error(error: &ChainError, words: &Words) -> String {
    let file = shown(&error.file);
    let why = match &error.breach {
        Breach::NotASeal(why) => seal_error(why, words),
        _ => String::new(),
    };
    let id = match error.breach {
        Breach::NotASeal(_) => "chain-not-a-seal",
        Breach::Name => "chain-name",
        Breach::Incomplete => "chain-incomplete",
        Breach::Previous => "chain-previous",
        Breach::Order => "chain-order",
        Breach::NoReason => "chain-no-reason",
        Breach::Clock => "chain-clock",
        Breach::OtherJob => "chain-other-job",
    };
    words.say_with(id, &[("file", &file), ("why", &why)])
}

/// Why a file is not a seal.
fn seal_error(error: &SealError, words: &Words) -> String {
    match error {
        SealError::NotText => words.say("seal-not-text"),
        SealError::Line(line) => words.say_with("seal-line", &[("line", &line.to_string())]),
        SealError::Name(NameError::OddPath(name)) => {
            words.say_with("seal-name-path", &[("name", &shown(name))])
        }
        SealError::Name(NameError::HiddenSign(name)) => {
            words.say_with("seal-name-hidden", &[("name", &shown(name))])
        }
        SealError::Name(NameError::Alike(one, other)) => words.say_with(
            "seal-names-alike",
            &[("one", &shown(one)), ("other", &shown(other))],
        ),
    }
}

fn stage(stage: Stage, words: &Words) -> String {
    words.say(match stage {
        Stage::Baseline => "run-baseline",
        Stage::Retest => "run-retest",
    })
}

/// The table of seals.
pub fn rows(sealing: &Sealing, words: &Words) -> Vec<SealRow> {
    let links = sealing.chain.links.iter();
    links.map(|link| row(link, words)).collect()
}

/// The row of one seal.
pub fn row(link: &Link, words: &Words) -> SealRow {
    let seal = &link.seal;
    let when = figures::moment(seal.sealed, words);
    SealRow {
        stage: stage(seal.stage, words),
        file: link.file.clone(),
        when: by_clock(when, seal.clock, words),
        fingerprint: link.fingerprint().to_string(),
        digest: link.digest.to_string(),
        amends: seal.amends.as_ref().map_or_else(String::new, |why| {
            words.say_with("seal-amends", &[("why", why)])
        }),
    }
}

/// What the seals of this job show, and what they do not.
pub fn notes(sealing: &Sealing, words: &Words) -> Vec<String> {
    let facts = sealing.facts().into_iter().map(|fact| match fact {
        SealFact::Broken => alert(sealing, words),
        SealFact::First(FirstSealed::Never) => words.say("seal-none"),
        SealFact::First(FirstSealed::BeforeWork) => words.say("seal-before-work"),
        SealFact::First(FirstSealed::AfterWorkStarted) => words.say("seal-after-work"),
        other => in_few_words(other, sealing, words),
    });
    facts.chain([words.say("evidence-truth")]).collect()
}

/// What page 1 says about the seals, where they show less than they could.
pub fn in_short(sealing: &Sealing, words: &Words) -> Vec<String> {
    let gaps = sealing.gaps().into_iter();
    gaps.map(|gap| in_few_words(gap, sealing, words)).collect()
}

/// The reasons of the amendments of `stage`, without a full stop.
fn reasons(sealing: &Sealing, stage: Stage) -> String {
    let all = sealing.reasons(stage).join("; ");
    all.trim_end_matches('.').to_owned()
}

/// A fact as page 1 says it.
fn in_few_words(fact: SealFact, sealing: &Sealing, words: &Words) -> String {
    let id = match fact {
        SealFact::Broken => return alert(sealing, words),
        SealFact::First(FirstSealed::Never) => "seal-none-short",
        SealFact::First(FirstSealed::AfterWorkStarted) => "seal-late-short",
        SealFact::First(FirstSealed::BeforeWork) => "seal-before-work",
        SealFact::Changed { late: true } => "seal-amended-late",
        SealFact::Changed { late: false } => "seal-amended",
        SealFact::RetestChanged => {
            let why = reasons(sealing, Stage::Retest);
            let files = sealing.retest_changed.join(", ");
            return words.say_with("seal-retest-amended", &[("files", &files), ("why", &why)]);
        }
        SealFact::RetestNotSealed => "seal-retest-short",
        SealFact::OwnClock => "seal-clock",
    };
    let why = reasons(sealing, Stage::Baseline);
    words.say_with(id, &[("files", &sealing.changed.join(", ")), ("why", &why)])
}

/// The QR code of the fingerprint of limits and baseline: rows of 1 for dark and 0 for light.
#[cfg(feature = "typesetter")]
pub fn qr(sealing: &Sealing) -> Vec<Vec<u8>> {
    let holding = sealing.chain.latest(Stage::Baseline);
    let rows = holding.map_or_else(Vec::new, |link| link.fingerprint().qr());
    let row = |row: &Vec<bool>| row.iter().map(|dark| u8::from(*dark)).collect();
    rows.iter().map(row).collect()
}

/// The ways to check the report: by eye, with the page for browsers or the program, by hand.
pub fn ways(sealing: &Sealing, words: &Words) -> Vec<Pair> {
    let by_eye = match sealing.chain.latest(Stage::Baseline) {
        Some(_) => "how-eye",
        None => "how-eye-unsealed",
    };
    three_ways([by_eye, "how-page", "how-hand"], words)
}

/// The ways to check a receipt.
pub fn receipt_ways(words: &Words) -> Vec<Pair> {
    three_ways(["how-eye-receipt", "how-page-receipt", "how-hand"], words)
}

fn three_ways([eye, page, hand]: [&str; 3], words: &Words) -> Vec<Pair> {
    let ways = [("way-eye", eye), ("way-page", page), ("way-hand", hand)];
    let way = |(label, text): (&str, &str)| Pair {
        label: words.say(label),
        text: words.say(text),
    };
    ways.map(way).into()
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
    let chain = &sealing.chain;
    let Some(baseline) = chain.latest(Stage::Baseline) else {
        steps.push(step("how-attachments-unsealed", &[detach], words));
        // Every attached input, with the readings.
        let digests = "sha256sum *.toml".to_owned();
        steps.push(step("how-digests", &[digests], words));
        return steps;
    };
    steps.push(step("how-attachments", &[detach], words));
    let checks: Vec<String> = chain
        .links
        .iter()
        .filter(|link| chain.holds(link))
        .map(|link| format!("sha256sum -c --ignore-missing {}", link.file))
        .collect();
    steps.push(step("how-seals", &checks, words));
    let digests: Vec<String> = chain
        .links
        .iter()
        .map(|link| format!("sha256sum {}", link.file))
        .collect();
    steps.push(step("how-chain", &digests, words));
    steps.push(Step {
        expected: vec![baseline.fingerprint().to_string()],
        ..step("how-fingerprint", &[letters(&baseline.file)], words)
    });
    steps
}

/// How to check a receipt with common tools, in one step.
pub fn receipt_steps(sealing: &Sealing, signer: Option<&Signer>, words: &Words) -> Vec<Step> {
    let mut commands = Vec::new();
    let id = if signer.is_some() {
        commands.push("pdfsig receipt.pdf".to_owned());
        "how-receipt"
    } else {
        "how-receipt-unsigned"
    };
    commands.push("pdfdetach -saveall receipt.pdf".to_owned());
    if let Some(seal) = sealing.chain.latest(Stage::Baseline) {
        commands.push(format!("sha256sum -c --ignore-missing {}", seal.file));
        commands.push(letters(&seal.file));
    }
    vec![step(id, &commands, words)]
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::view::words::Words;

    /// Every error that a chain can have.
    fn chain_errors() -> Vec<ChainError> {
        let name = || "photos/a.jpg".to_owned();
        let breaches = [
            Breach::NotASeal(SealError::NotText),
            Breach::NotASeal(SealError::Line(7)),
            Breach::NotASeal(SealError::Name(NameError::OddPath(name()))),
            Breach::NotASeal(SealError::Name(NameError::HiddenSign(name()))),
            Breach::NotASeal(SealError::Name(NameError::Alike(name(), name()))),
            Breach::Name,
            Breach::Incomplete,
            Breach::Previous,
            Breach::Order,
            Breach::NoReason,
            Breach::Clock,
            Breach::OtherJob,
        ];
        let of = |breach| ChainError {
            file: "2-retest\u{200b}.sha256".to_owned(),
            breach,
        };
        breaches.into_iter().map(of).collect()
    }

    /// `verify` and the pages must not tell two stories of one broken chain.
    #[test]
    fn the_pages_say_of_a_chain_in_english_what_the_error_says_itself() {
        for error in chain_errors() {
            assert_eq!(chain_error(&error, &Words::english()), error.to_string());
        }
    }
}
