//! Judging the inputs of a document again.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt;

use serde_json::Value;

use crate::files::{Digest, Source};
use crate::intake::{self, Depth, Intake, Problems, SHOP_FILE};
use crate::job::Job;
use crate::judge;
use crate::render::can_print;
use crate::result::{ResultFile, to_json};

/// What judging again gave.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Recomputed {
    /// The same result.
    Same,
    /// A different one: the first place where they differ.
    Other(String),
    /// A different one, made by another version of the program.
    OtherVersion(String),
    /// The inputs have problems: the first of them.
    Problems(String),
    /// What the document carries is not a result.
    NotAResult,
}

impl fmt::Display for Recomputed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Same => f.write_str("judging the inputs again gives the same result"),
            Self::Other(place) => {
                write!(
                    f,
                    "judging the inputs again gives a different result: {place}"
                )
            }
            Self::OtherVersion(tool) => write!(
                f,
                "the result was made by {}, and this version judges differently",
                tool.escape_debug()
            ),
            Self::Problems(fault) => write!(f, "the inputs cannot be judged: {fault}"),
            Self::NotAResult => f.write_str("result.json is not a result"),
        }
    }
}

/// The job in `attachments`; unless `whole`, as it was before the work.
pub fn read(attachments: &BTreeMap<String, Vec<u8>>, whole: bool) -> Result<Intake, Problems> {
    let depth = if whole { Depth::Texts } else { Depth::Drop };
    let shop = attachments.read(SHOP_FILE, intake::TEXT_LIMIT);
    intake::read(attachments, shop, &can_print, depth)
}

/// Judges again what was `read`, and compares with the result that was printed.
pub fn recompute(read: &Result<Intake, Problems>, printed: &[u8]) -> Recomputed {
    let Ok(value) = serde_json::from_slice::<Value>(printed) else {
        return Recomputed::NotAResult;
    };
    let read = match read {
        Ok(read) => read,
        Err(faults) => {
            let first = faults.iter().next();
            return Recomputed::Problems(first.map_or_else(String::new, |fault| {
                format!(
                    "{}: {}",
                    fault.file.escape_debug(),
                    fault.message.escape_debug()
                )
            }));
        }
    };
    let judgement = judge::judge(&read.job);
    let texts = read
        .texts
        .iter()
        .map(|input| (input.name.as_str(), input.bytes.len() as u64, input.digest));
    let listed = listed(&read.job, &value);
    let listed = listed
        .iter()
        .map(|(file, size, digest)| (file.as_str(), *size, *digest));
    let again = to_json(&ResultFile::new(&read.job, &judgement, texts.chain(listed)));
    if again.as_bytes() == printed {
        return Recomputed::Same;
    }
    let Ok(again) = serde_json::from_str::<Value>(&again) else {
        return Recomputed::NotAResult;
    };
    let place = first_difference(&value, &again, "");
    if value["tool"] != again["tool"] {
        return match place {
            None => Recomputed::Same,
            Some(_) => Recomputed::OtherVersion(value["tool"].as_str().unwrap_or("?").to_owned()),
        };
    }
    Recomputed::Other(place.unwrap_or_else(|| "it is written differently".to_owned()))
}

/// What a result says of the photos and recordings that the job names, in their order:
/// these are not inside, so size and digest are taken from there.
fn listed(job: &Job, result: &Value) -> Vec<(String, u64, Digest)> {
    let photos = [&job.baseline.photos, &job.work.photos, &job.retest.photos];
    let recordings = [
        &job.baseline.recordings,
        &job.work.recordings,
        &job.retest.recordings,
    ];
    let photos = photos.into_iter().flatten().map(|photo| &photo.file);
    let recordings = recordings.into_iter().flatten().map(|one| &one.file);
    let mut seen = BTreeSet::new();
    let entry = |file: &String| {
        let inputs = result["inputs"].as_array()?;
        let entry = inputs.iter().find(|input| input["file"] == **file)?;
        let digest = entry["sha256"].as_str()?.parse().ok()?;
        Some((file.clone(), entry["size"].as_u64()?, digest))
    };
    photos
        .chain(recordings)
        .filter(|file| seen.insert(file.as_str()))
        .filter_map(entry)
        .collect()
}

/// Where two results first differ, as a path of keys and indices. The version of the
/// program is not compared.
fn first_difference(printed: &Value, again: &Value, place: &str) -> Option<String> {
    match (printed, again) {
        (Value::Object(printed), Value::Object(again)) => {
            let keys = printed.keys().chain(again.keys());
            keys.filter(|key| !(place.is_empty() && *key == "tool"))
                .find_map(|key| {
                    let inner = format!("{place}/{}", key.escape_debug());
                    match (printed.get(key), again.get(key)) {
                        (Some(a), Some(b)) => first_difference(a, b, &inner),
                        _ => Some(inner),
                    }
                })
        }
        (Value::Array(printed), Value::Array(again)) if printed.len() == again.len() => printed
            .iter()
            .zip(again)
            .enumerate()
            .find_map(|(index, (a, b))| first_difference(a, b, &format!("{place}/{index}"))),
        _ if printed == again => None,
        _ => Some(place.to_owned()),
    }
}
