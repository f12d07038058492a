//! Questions about the result: do the inputs give it again, and are the files that it
//! lists unchanged?

use std::collections::BTreeMap;

use crate::files::{Digest, ReadError, Source};
use crate::seals::shown;
use crate::verification::answer::{Answer, Finding, Question, finding};
use crate::verification::attached_job::{AttachedJob, Kind, RESULT};
use crate::verification::recompute::{Recomputed, recompute};

/// Do its inputs give the same result again?
pub fn result(job: &AttachedJob) -> Finding {
    let question = Question::Result;
    let Some(printed) = job.attachments.get(RESULT) else {
        let (answer, why) = match job.kind {
            Kind::Receipt => (
                Answer::NotAsked,
                "a receipt carries no result: nothing has been judged yet",
            ),
            Kind::Report => (Answer::No, "it carries no result, and a report must"),
        };
        return finding(question, answer, [why.to_owned()]);
    };
    let recomputed = recompute(&job.told, printed);
    let answer = match recomputed {
        Recomputed::Same => Answer::Yes,
        Recomputed::OtherVersion(_) => Answer::CannotTell,
        _ => Answer::No,
    };
    finding(question, answer, [recomputed.to_string()])
}

/// Are the files that are not attached as they were sealed?
pub fn listed_files(job: &AttachedJob, folder: Option<&dyn Source>) -> Finding {
    let question = Question::ListedFiles;
    let mut outside: BTreeMap<&str, Digest> = job
        .listed
        .iter()
        .map(|(file, digest)| (file.as_str(), *digest))
        .collect();
    // A seal overrides what the result lists.
    outside.extend(job.sealed().map(|(_, file, digest)| (file, digest)));
    outside.retain(|file, _| !job.attachments.contains_key(*file));
    if outside.is_empty() {
        return finding(question, Answer::NotAsked, ["there are none".to_owned()]);
    }
    let Some(folder) = folder else {
        let count = outside.len();
        return finding(
            question,
            Answer::NotAsked,
            [match count {
                1 => "1 photo or recording; to check it, give the folder with --with".to_owned(),
                _ => format!(
                    "{count} photos and recordings; to check them, give the folder with --with"
                ),
            }],
        );
    };
    let mut because = Vec::new();
    for (file, expected) in &outside {
        let shown = shown(file);
        match folder.digest(file) {
            Ok((digest, _)) if digest == *expected => {}
            Ok(_) => because.push(format!("{shown} was changed")),
            Err(ReadError::Missing) => because.push(format!("{shown} is missing")),
            Err(error) => because.push(format!("{shown}: {error}")),
        }
    }
    if because.is_empty() {
        let count = outside.len();
        return finding(
            question,
            Answer::Yes,
            [match count {
                1 => "1 file is unchanged".to_owned(),
                _ => format!("{count} files are unchanged"),
            }],
        );
    }
    finding(question, Answer::No, because)
}

#[cfg(test)]
mod tests;
