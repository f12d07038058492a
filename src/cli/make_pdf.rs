//! From a judged job to the bytes of a PDF, signed where there is an identity.

use std::time::Duration;

use chrono::{DateTime, FixedOffset};

use super::Stop;
use super::pipeline::{Judged, LOGO_PATH, picture_path};
use super::template::Pages;
use crate::render::{
    self, Attachment, Document, PictureData, Printed, Relationship, SignaturePlace,
};
use crate::seals::{Clock, Fingerprint, Link, Stage};
use crate::signature::{Identity, SignError, StampService, sign};
use crate::view::{Signer, TimeSource, Words};

/// How long a time-stamp authority may take, and the largest answer, in bytes.
const STAMP_PATIENCE: Duration = Duration::from_secs(15);
const STAMP_LIMIT: u64 = 256 << 10;

/// When and by whom a document is issued.
pub struct Issue {
    /// Now.
    pub now: DateTime<FixedOffset>,
    /// Where that time comes from.
    pub clock: Clock,
    /// Who signs, if anyone.
    pub identity: Option<Identity>,
    /// The template of its pages.
    pub pages: Pages,
    /// The wording of its pages.
    pub words: Words,
}

/// A finished document.
pub struct Paper {
    /// The PDF.
    pub bytes: Vec<u8>,
    /// What went wrong without stopping it, in words, if anything.
    pub warning: Option<String>,
}

/// The report of `judged`.
pub fn report(judged: &Judged, issue: &Issue) -> Result<Paper, Stop> {
    let result = judged.result();
    print(judged, issue, |judged, signer| {
        let report = judged.report(issue.now, signer, &issue.words);
        let mut attachments = attachments(judged, true, &issue.words);
        attachments.push(Attachment {
            name: "result.json",
            mime: "application/json",
            relationship: Relationship::Data,
            description: issue.words.say("attached-result"),
            bytes: result.as_bytes(),
        });
        render(judged, Document::Report(&report), &attachments, issue)
    })
}

/// The receipt of `judged`, whose baseline must be sealed.
pub fn receipt(judged: &Judged, issue: &Issue) -> Result<Paper, Stop> {
    let seal = judged.chain.latest(Stage::Baseline).ok_or_else(|| {
        Stop::told(
            "the baseline is not sealed",
            "run `retestify seal baseline FOLDER` first",
        )
    })?;
    let qr = Fingerprint::of(seal.digest).qr();
    print(judged, issue, |judged, signer| {
        let receipt = judged.receipt(issue.now, signer, &qr, &issue.words);
        let attachments = attachments(judged, false, &issue.words);
        render(judged, Document::Receipt(&receipt), &attachments, issue)
    })
}

/// Typesets the document and signs it. Where the time-stamp authority does not answer,
/// the document is typeset again and says so.
fn print(
    judged: &Judged,
    issue: &Issue,
    printed: impl Fn(&Judged, Option<Signer>) -> Result<Printed, Stop>,
) -> Result<Paper, Stop> {
    let Some(identity) = &issue.identity else {
        let bytes = printed(judged, None)?.bytes;
        return Ok(Paper {
            bytes,
            warning: None,
        });
    };
    let (from, until) = identity.certificate().validity();
    if !identity.certificate().is_valid_at(issue.now.to_utc()) {
        return Err(Stop::told(
            format!("the certificate of this identity is only valid from {from} to {until}"),
            "make a new identity and give its certificate to your customers; or add `--unsigned`",
        ));
    }
    let signed = |time: TimeSource, service: Option<&StampService<'_>>| {
        let certificate = identity.certificate();
        let signer = Signer {
            name: certificate.holder(),
            fingerprint: certificate.fingerprint().to_string(),
            time,
        };
        let description = issue
            .words
            .say_with("signed-description", &[("name", &signer.name)]);
        let Printed { bytes, signature } = printed(judged, Some(signer))?;
        // Where the template has no place for it, the signature is invisible.
        let place = signature.unwrap_or(SignaturePlace::NOT_SEEN);
        Ok(sign(
            bytes,
            place,
            &description,
            identity,
            issue.now,
            service,
        ))
    };
    let told = |fault: SignError| {
        Stop::told(
            fault,
            "this is a bug in the program; please report it with the lines above",
        )
    };
    let own_time = match issue.clock {
        Clock::Computer => TimeSource::Computer,
        Clock::Set => TimeSource::SetByHand,
    };
    let Some(address) = &judged.intake.shop.time_stamp else {
        let bytes = signed(own_time, None)?.map_err(told)?;
        return Ok(Paper {
            bytes,
            warning: None,
        });
    };
    let service = |request: &[u8]| ask(address, request);
    match signed(TimeSource::Authority, Some(&service))? {
        Ok(bytes) => Ok(Paper {
            bytes,
            warning: None,
        }),
        Err(SignError::Stamp(why)) => Ok(Paper {
            bytes: signed(TimeSource::AuthorityAway, None)?.map_err(told)?,
            warning: Some(format!(
                "{address} gave no time-stamp: {why}. The document was signed without one, and \
                 says so."
            )),
        }),
        Err(fault) => Err(told(fault)),
    }
}

/// Asks the time-stamp authority at `address` (RFC 3161, 3.4).
fn ask(address: &str, request: &[u8]) -> Result<Vec<u8>, String> {
    let agent: ureq::Agent = ureq::Agent::config_builder()
        .timeout_global(Some(STAMP_PATIENCE))
        .build()
        .into();
    let mut answer = agent
        .post(address)
        .header("Content-Type", "application/timestamp-query")
        .send(request)
        .map_err(|error| error.to_string())?;
    answer
        .body_mut()
        .with_config()
        .limit(STAMP_LIMIT)
        .read_to_vec()
        .map_err(|error| error.to_string())
}

/// The input files and the seals, as they are attached.
fn attachments<'a>(judged: &'a Judged, all_seals: bool, words: &Words) -> Vec<Attachment<'a>> {
    let texts = judged.intake.texts.iter().map(|input| Attachment {
        name: &input.name,
        mime: "application/toml",
        relationship: Relationship::Source,
        description: words.say_with("attached-input", &[("digest", &input.digest.to_string())]),
        bytes: &input.bytes,
    });
    // A seal is checked against the one before it, so a receipt carries all seals up to
    // its own.
    let links = &judged.chain.links;
    let baseline = |link: &Link| link.seal.stage == Stage::Baseline;
    let last = links.iter().rposition(baseline).map_or(0, |last| last + 1);
    let seals = links[..if all_seals { links.len() } else { last }]
        .iter()
        .map(|link| Attachment {
            name: &link.file,
            mime: "text/plain",
            relationship: Relationship::Supplement,
            description: words.say_with("attached-seal", &[("digest", &link.digest.to_string())]),
            bytes: &link.bytes,
        });
    texts.chain(seals).collect()
}

fn render(
    judged: &Judged,
    document: Document<'_>,
    attachments: &[Attachment<'_>],
    issue: &Issue,
) -> Result<Printed, Stop> {
    let photos = &judged.intake.pictures;
    let paths: Vec<String> = (0..photos.len()).map(picture_path).collect();
    let logo = judged.logo.iter().map(|logo| (logo, LOGO_PATH));
    let pictures: Vec<PictureData<'_>> = photos
        .iter()
        .zip(paths.iter().map(String::as_str))
        .chain(logo)
        .map(|(picture, path)| PictureData {
            path,
            bytes: &picture.copy,
        })
        .collect();
    render::pdf(
        &issue.pages.template,
        document,
        &pictures,
        attachments,
        issue.now,
    )
    .map_err(|fault| issue.pages.fault(&fault))
}
