//! All questions about a document, in the order that starts with what needs the least
//! trust.

use super::answer::{Answer, Finding, Question, Verification, finding};
use super::attached_job::{AttachedJob, Kind};
use super::differences::differences;
use super::expected::{Expected, KnownSeal};
use super::open_pdf::Opened;
use super::questions;
use super::signed_bytes::SignedBytes;
use super::summary::summary;
use crate::files::Digest;
use crate::job::Stage;
use crate::result::TOOL;
use crate::signature::read_stamp;
use crate::view::Words;

/// Answers every question about `file`.
pub fn verify(file: &[u8], expected: &Expected<'_>) -> Verification {
    let signature = SignedBytes::find(file);
    let mut opened = None;
    let intact = questions::intact(&signature, || {
        let found = opened.insert(Opened::new(file));
        let found = found.as_ref().map_err(Clone::clone)?;
        found.agrees_with(signature.field())
    });
    // Where the bytes alone say no, it is opened only now.
    let opened = opened.unwrap_or_else(|| Opened::new(file));
    let signed_at = opened.as_ref().ok().and_then(Opened::signed_at);
    let sound = signature.sound();

    let mut findings = vec![intact];
    findings.extend(sound.map(|signed| questions::signer(signed, signed_at)));
    findings.push(questions::expected_signer(
        sound,
        signed_at,
        &expected.trusted,
    ));
    let (mut document, mut different) = (None, None);
    match opened.and_then(|opened| opened.attachments()) {
        Ok(attachments) if attachments.is_empty() => findings.push(finding(
            Question::Files,
            Answer::No,
            ["it carries no files: it is neither a report nor a receipt".to_owned()],
        )),
        Ok(attachments) => {
            let job = AttachedJob::new(attachments);
            let words = Words::english();
            document = Some(summary(&job, &words));
            different = expected
                .sound_receipt()
                .and_then(|receipt| differences(receipt, &job, &words));
            let signer = sound.map(|signed| &signed.certificate);
            findings.extend([
                questions::files(&job),
                questions::chain(&job, signed_at),
                questions::limits(&job),
                questions::fingerprint(&job, expected.seal.as_ref(), signer),
                questions::result(&job),
                questions::pages(file, &job, &signature, expected),
                questions::listed_files(&job, expected.folder),
            ]);
        }
        Err(error) => findings.push(finding(Question::Files, Answer::No, [error.to_string()])),
    }
    findings.extend(sound.map(|signed| questions::time(signed, signed_at, &expected.authorities)));
    Verification {
        format: 1,
        tool: TOOL.to_owned(),
        sha256: Digest::of(file).to_string(),
        document,
        differences: different,
        findings,
    }
}

/// Answers only whether `file` is unchanged since it was signed.
pub fn intact(file: &[u8]) -> Finding {
    let signature = SignedBytes::find(file);
    questions::intact(&signature, || {
        Opened::new(file)?.agrees_with(signature.field())
    })
}

/// The digest of the seal that `receipt` shows, its last of the baseline, and who signed
/// it, if anyone. A receipt without a signature is accepted as it is: whoever has it
/// knows where it comes from.
///
/// # Errors
/// What is wrong with it, in words.
pub fn seal_of_receipt(receipt: &[u8]) -> Result<KnownSeal, String> {
    let signature = SignedBytes::find(receipt);
    let opened = Opened::new(receipt).map_err(|error| error.to_string())?;
    let intact = questions::intact(&signature, || opened.agrees_with(signature.field()));
    if intact.answer == Answer::No {
        return Err(intact.because.join("; "));
    }
    let attachments = opened.attachments().map_err(|error| error.to_string())?;
    let job = AttachedJob::new(attachments);
    if job.kind != Kind::Receipt {
        return Err("it is a report, not a receipt".to_owned());
    }
    if let Some(error) = job.chain.errors.first() {
        return Err(error.to_string());
    }
    let files = questions::files(&job);
    if files.answer == Answer::No {
        return Err(files.because.join("; "));
    }
    let shown = job
        .chain
        .latest(Stage::Baseline)
        .ok_or_else(|| "it carries no seal".to_owned())?;
    let signer = signature.sound().map(|signed| &signed.certificate);
    let stamp = signature.sound().and_then(|signed| {
        let stamp = read_stamp(signed.token.as_deref()?, &signed.signature).ok()?;
        Some(stamp.time.fixed_offset())
    });
    let signed_at = signature.sound().and_then(|_| opened.signed_at());
    Ok(KnownSeal::Receipt {
        digest: shown.digest,
        job: shown.seal.job.clone(),
        signer: signer.cloned().map(Box::new),
        made: signed_at.max(stamp),
    })
}

#[cfg(test)]
mod tests;
