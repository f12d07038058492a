//! Questions about the seals: are the files, and the limits among them, those that were
//! sealed, and is the seal the one that the customer was given?

use chrono::{DateTime, FixedOffset};

use super::times;
use crate::files::Digest;
use crate::job::Stage;
use crate::seals::{Clock, Link, ParseFingerprintError, changed_between, shown};
use crate::signature::ShopCertificate;
use crate::verification::answer::{Answer, Finding, Question, finding};
use crate::verification::attached_job::{AttachedJob, Kind, LIMITS};
use crate::verification::expected::KnownSeal;

/// Are the files in it as they were sealed?
pub fn files(job: &AttachedJob) -> Finding {
    let question = Question::Files;
    let mut because = job.misfits();
    if job.chain.is_empty() {
        let answer = if because.is_empty() {
            Answer::CannotTell
        } else {
            Answer::No
        };
        because.push("it has no seal to compare the files with".to_owned());
        return finding(question, answer, because);
    }
    let mut count = 0;
    for (link, file, sealed) in job.sealed() {
        let shown = shown(file);
        let stage = link.seal.stage.word();
        match job.digest(file) {
            Some(digest) if digest == sealed => count += 1,
            Some(_) => because.push(format!("{shown} is not the file that was sealed ({stage})")),
            // A receipt carries no photos, and lists none.
            None if job.kind == Kind::Report || file.ends_with(".toml") => {
                because.push(format!("{shown} was sealed ({stage}) and is missing"));
            }
            None => {}
        }
    }
    for link in job.holding() {
        let stage = link.seal.stage;
        let named = job.told.files_of(stage).into_iter();
        for file in named.filter(|file| !link.seal.files.contains_key(*file)) {
            because.push(format!("{} was not sealed ({})", shown(file), stage.word()));
        }
    }
    let is_sound = because.is_empty();
    because.insert(0, job.kind.word().to_owned());
    if !is_sound {
        return finding(question, Answer::No, because);
    }
    if job.kind == Kind::Report && job.chain.latest(Stage::Retest).is_none() {
        because.push("the retest was not sealed".to_owned());
        return finding(question, Answer::CannotTell, because);
    }
    because.push(format!("{count} files are as they were sealed"));
    finding(question, Answer::Yes, because)
}

/// Is the chain of seals unbroken, and do its times fit the runs, the work and the signature?
pub fn chain(job: &AttachedJob, signed_at: Option<DateTime<FixedOffset>>) -> Finding {
    let question = Question::Chain;
    if job.chain.is_empty() {
        return finding(
            question,
            Answer::CannotTell,
            ["there is no seal".to_owned()],
        );
    }
    let mut because: Vec<String> = job.chain.errors.iter().map(ToString::to_string).collect();
    let last = job.chain.links.last();
    if let (Some(last), Some(signed)) = (last, signed_at)
        && signed < last.seal.sealed
    {
        because.push(format!(
            "{} has a later time than the signature",
            shown(&last.file)
        ));
    }
    let times = times::misfits(job, signed_at);
    because.extend(times.impossible);
    if !because.is_empty() {
        return finding(question, Answer::No, because);
    }
    let answer = if times.open.is_empty() {
        Answer::Yes
    } else {
        Answer::CannotTell
    };
    let seals = job.chain.links.iter().map(|link| {
        let seal = &link.seal;
        let amends = seal.amends.as_ref().map_or_else(String::new, |why| {
            format!(", replacing an earlier one: {}", shown(why))
        });
        let by_hand = match seal.clock {
            Clock::Computer => "",
            Clock::Set => " (time set by hand)",
        };
        format!(
            "{}, sealed {}{by_hand}{amends}",
            seal.stage.word(),
            seal.sealed
        )
    });
    finding(question, answer, seals.chain(times.open))
}

/// Are the limits those that were sealed first, before the work?
pub fn limits(job: &AttachedJob) -> Finding {
    let question = Question::Limits;
    let Some(first) = job.chain.first(Stage::Baseline) else {
        return finding(
            question,
            Answer::CannotTell,
            ["there is no seal".to_owned()],
        );
    };
    let now = job.attachments.get(LIMITS).map(|bytes| Digest::of(bytes));
    if now.is_some() && now == first.seal.files.get(LIMITS).copied() {
        let mut because = vec![format!("as they were sealed {}", first.seal.sealed)];
        // A receipt tells of no work.
        let started = job.work_started();
        let late = started.filter(|started| *started < first.seal.sealed);
        let answer = match late {
            None if job.hides_its_work() => {
                because.push(
                    "when the work started cannot be read: they may have been different before \
                     that"
                        .to_owned(),
                );
                Answer::CannotTell
            }
            None => Answer::Yes,
            Some(started) => {
                because.push(format!(
                    "but the work had started {started}: they may have been different before \
                     that"
                ));
                Answer::CannotTell
            }
        };
        return finding(question, answer, because);
    }
    let mut because = vec!["they are not those that were sealed first".to_owned()];
    because.extend(
        job.chain
            .amended(LIMITS)
            .into_iter()
            .flatten()
            .map(|why| format!("the amendment says: {}", shown(why))),
    );
    finding(question, Answer::No, because)
}

/// Is the baseline seal in force the one on the customer's receipt? `signer` is who signed
/// the document.
pub fn fingerprint(
    job: &AttachedJob,
    known: Option<&KnownSeal>,
    signer: Option<&ShopCertificate>,
) -> Finding {
    let question = Question::Fingerprint;
    let Some(holding) = job.chain.latest(Stage::Baseline) else {
        return finding(
            question,
            Answer::CannotTell,
            ["there is no seal".to_owned()],
        );
    };
    let mut because = vec![format!("it is {}", holding.fingerprint())];
    // Both stand side by side, so that a reader sees for himself.
    let given = known.and_then(KnownSeal::fingerprint);
    because.extend(given.map(|given| format!("the one given is {given}")));
    let both = known.zip(signer);
    if both.is_some_and(|(known, signer)| known.is_signed_by(signer)) {
        because.push("the receipt is signed with the same key".to_owned());
    }
    let started = job.work_started();
    let is_given = |link: &Link| match known {
        Some(KnownSeal::Receipt { digest, .. }) => Ok(*digest == link.digest),
        Some(KnownSeal::Text(text)) => link.fingerprint().is(text),
        Some(KnownSeal::Unsound(_)) | None => Ok(false),
    };
    let (answer, why) = match (known, is_given(holding)) {
        (None, _) if job.kind == Kind::Receipt => (
            Answer::NotAsked,
            Some(
                "this is a receipt itself: keep it, and when the work is done, check the report \
                 and give this receipt with it"
                    .to_owned(),
            ),
        ),
        (None, _) => (
            Answer::NotAsked,
            Some("to compare it, give --receipt or --fingerprint".to_owned()),
        ),
        (Some(KnownSeal::Unsound(why)), _) => (
            Answer::CannotTell,
            Some(format!("the receipt that was given is not sound: {why}")),
        ),
        (_, Err(ParseFingerprintError)) => (
            Answer::CannotTell,
            Some(
                "what was given is not a fingerprint: copy all of it, with or without the \
                 hyphens; at least its first 26 letters and digits"
                    .to_owned(),
            ),
        ),
        (Some(KnownSeal::Text(_)), Ok(true)) => (Answer::Yes, None),
        (
            Some(KnownSeal::Receipt {
                made: Some(made), ..
            }),
            Ok(true),
        ) if started.is_some_and(|started| started < *made) => {
            let started = started.unwrap_or_default();
            (
                Answer::CannotTell,
                Some(format!(
                    "the receipt is dated {made}, after the work had started {started}: it \
                     does not show that the baseline was sealed before"
                )),
            )
        }
        (
            Some(KnownSeal::Receipt {
                made: Some(made), ..
            }),
            Ok(true),
        ) if job.hides_its_work() => (
            Answer::CannotTell,
            Some(format!(
                "the receipt is dated {made}, and when the work started cannot be read: it does \
                 not show that the baseline was sealed before"
            )),
        ),
        (Some(KnownSeal::Receipt { signer: None, .. }), Ok(true)) => (
            Answer::Yes,
            Some(
                "the receipt is not signed: it counts only because it is in your hands".to_owned(),
            ),
        ),
        (
            Some(KnownSeal::Receipt {
                signer: Some(other),
                ..
            }),
            Ok(true),
        ) if Some(other.as_ref()) != signer => {
            (Answer::CannotTell, Some(two_signers(other, signer)))
        }
        (Some(KnownSeal::Receipt { .. }), Ok(true)) => (Answer::Yes, None),
        (Some(known), Ok(false)) => {
            let mut baselines = job.chain.links.iter();
            let older = baselines
                .find(|link| link.seal.stage == Stage::Baseline && is_given(link) == Ok(true));
            (Answer::No, other_seal(known, older, holding))
        }
    };
    because.extend(why);
    finding(question, answer, because)
}

/// Who signed which, where receipt and document were not signed with one key.
fn two_signers(receipt: &ShopCertificate, document: Option<&ShopCertificate>) -> String {
    let receipt = receipt.holder();
    document.map_or_else(
        || {
            format!(
                "the receipt was signed with the key of “{receipt}”, and this document has no \
                 sound signature"
            )
        },
        |document| {
            format!(
                "the receipt was signed with the key of “{receipt}”, and this document with a \
                 different key, of “{}”",
                document.holder()
            )
        },
    )
}

/// Why the seal that is `known` is not the one `holding` for the baseline, if more can be
/// said than that; `older` is the seal of the chain that it is, if it is any.
fn other_seal(known: &KnownSeal, older: Option<&Link>, holding: &Link) -> Option<String> {
    match (older, known) {
        (Some(older), _) => Some(format!(
            "the receipt shows {}; {} replaced it {}, with changes in {}",
            shown(&older.file),
            shown(&holding.file),
            holding.seal.sealed,
            shown(&changed_between(older, holding).join(", "))
        )),
        (None, KnownSeal::Receipt { job, .. }) if *job != holding.seal.job => Some(format!(
            "the receipt is for the job {}, this is the job {}",
            shown(job),
            shown(&holding.seal.job)
        )),
        (None, _) => None,
    }
}

#[cfg(test)]
mod tests;
