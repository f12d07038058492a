//! Judging the inputs of a document again.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt;

use serde_json::Value;

use crate::files::Digest;
use crate::intake::can_print;
use crate::intake::{self, Inputs, Intake, Media, Problems};
use crate::job::{Baselined, Job, Run, Sealable, Stage};
use crate::judge;
use crate::result::{ResultFile, TOOL, to_json};
use crate::seals::shown;

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
                "the result was made by {}, and this version reads or judges it differently",
                shown(tool)
            ),
            Self::Problems(error) => write!(f, "the inputs cannot be judged: {error}"),
            Self::NotAResult => f.write_str("result.json is not a result"),
        }
    }
}

/// The job read from the attachments of a document, or what is wrong with them.
pub enum Told {
    /// A receipt: the job as it was before the work.
    DropOff(Result<Box<Intake<Baselined>>, Problems>),
    /// A report: the whole job.
    Whole(Result<Box<Intake<Job>>, Problems>),
}

impl Told {
    /// Reads `attachments`, which hold the texts of a `whole` job or of what exists before
    /// the work.
    pub fn read(attachments: &BTreeMap<String, Vec<u8>>, whole: bool) -> Self {
        let inputs = Inputs {
            job: attachments,
            shop: attachments,
        };
        if whole {
            Self::Whole(intake::read_job(inputs, &can_print, Media::Ignored).map(Box::new))
        } else {
            Self::DropOff(intake::read_baselined(inputs, &can_print, Media::Ignored).map(Box::new))
        }
    }

    /// Whether its files have no problems.
    pub fn is_read(&self) -> bool {
        matches!(self, Self::DropOff(Ok(_)) | Self::Whole(Ok(_)))
    }

    /// The whole job, where it is one without problems.
    pub fn job(&self) -> Option<&Job> {
        match self {
            Self::Whole(Ok(read)) => Some(&read.job),
            Self::Whole(Err(_)) | Self::DropOff(_) => None,
        }
    }

    /// The job's number, where its files have no problems.
    pub fn number(&self) -> Option<&str> {
        match self {
            Self::DropOff(Ok(read)) => Some(&read.job.plan.number),
            Self::Whole(Ok(read)) => Some(&read.job.plan.number),
            Self::DropOff(Err(_)) | Self::Whole(Err(_)) => None,
        }
    }

    /// The run of `stage`, where the files have no problems.
    pub fn run(&self, stage: Stage) -> Option<&Run> {
        match (self, stage) {
            (Self::DropOff(Ok(read)), Stage::Baseline) => Some(&read.job.baseline),
            (Self::Whole(Ok(read)), Stage::Baseline) => Some(&read.job.baseline),
            (Self::Whole(Ok(read)), Stage::Retest) => Some(&read.job.retest),
            (Self::DropOff(_), Stage::Retest)
            | (Self::DropOff(Err(_)) | Self::Whole(Err(_)), _) => None,
        }
    }

    /// The files that the seal of `stage` must hold, as far as they are known.
    pub fn files_of(&self, stage: Stage) -> BTreeSet<&str> {
        match self {
            Self::DropOff(Ok(read)) => read.job.files_of(stage),
            Self::Whole(Ok(read)) => read.job.files_of(stage),
            Self::DropOff(Err(_)) | Self::Whole(Err(_)) => BTreeSet::new(),
        }
    }
}

/// Judges again what was `told`, and compares with the result in the document.
pub fn recompute(told: &Told, printed: &[u8]) -> Recomputed {
    let Ok(value) = serde_json::from_slice::<Value>(printed) else {
        return Recomputed::NotAResult;
    };
    let read = match told {
        Told::Whole(Ok(read)) => read,
        // Before the work there is nothing to judge, and so no result.
        Told::DropOff(Ok(_)) => return Recomputed::NotAResult,
        // What an older version took, this one may refuse, and the other way round.
        Told::Whole(Err(_)) if value["tool"] != TOOL => {
            return Recomputed::OtherVersion(made_by(&value));
        }
        Told::Whole(Err(errors)) | Told::DropOff(Err(errors)) => {
            let first = errors.iter().next();
            return Recomputed::Problems(first.map_or_else(String::new, |error| {
                format!("{}: {}", shown(&error.file), shown(&error.message))
            }));
        }
    };
    let judgement = judge::judge(&read.job);
    let listed = listed(&read.job, &value);
    let listed = listed
        .iter()
        .map(|(file, size, digest)| (file.as_str(), *size, *digest));
    let again = to_json(&ResultFile::new(
        &read.job,
        &judgement,
        read.files().chain(listed),
    ));
    if again.as_bytes() == printed {
        return Recomputed::Same;
    }
    let again: Value = serde_json::from_str(&again).unwrap_or_default();
    if value["tool"] != again["tool"] {
        return match first_difference(&value, &again, "", is_near) {
            None => Recomputed::Same,
            Some(_) => Recomputed::OtherVersion(made_by(&value)),
        };
    }
    let place = first_difference(&value, &again, "", |one, other| one == other);
    Recomputed::Other(place.unwrap_or_else(|| "it is written differently".to_owned()))
}

/// The program and version that a result names.
fn made_by(result: &Value) -> String {
    result["tool"].as_str().unwrap_or("?").to_owned()
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

/// How far a figure of another version may be off: relative to it, and a probability as such.
/// Before version 0.4.0 the last digits hung on the processor and its mathematics library
/// (by 7e-15 and 2e-16), and came from other approximations; no printed figure has as many.
const RELATIVE: f64 = 1e-9;
const ABSOLUTE: f64 = 1e-12;

fn is_near(one: &Value, other: &Value) -> bool {
    match (one.as_f64(), other.as_f64()) {
        (Some(one), Some(other)) => {
            (one - other).abs() <= (RELATIVE * one.abs().max(other.abs())).max(ABSOLUTE)
        }
        _ => one == other,
    }
}

/// Where two results first differ, as a path of keys and indices; `is_same` compares texts
/// and figures. The version of the program is not compared.
fn first_difference(
    printed: &Value,
    again: &Value,
    place: &str,
    is_same: fn(&Value, &Value) -> bool,
) -> Option<String> {
    match (printed, again) {
        (Value::Object(printed), Value::Object(again)) => {
            let keys = printed.keys().chain(again.keys());
            keys.filter(|key| !(place.is_empty() && *key == "tool"))
                .find_map(|key| {
                    let inner = format!("{place}/{}", shown(key));
                    match (printed.get(key), again.get(key)) {
                        (Some(a), Some(b)) => first_difference(a, b, &inner, is_same),
                        _ => Some(inner),
                    }
                })
        }
        (Value::Array(printed), Value::Array(again)) if printed.len() == again.len() => printed
            .iter()
            .zip(again)
            .enumerate()
            .find_map(|(index, (a, b))| {
                first_difference(a, b, &format!("{place}/{index}"), is_same)
            }),
        _ if is_same(printed, again) => None,
        _ => Some(place.to_owned()),
    }
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::{Recomputed, first_difference, is_near, recompute};
    use crate::verification::test_documents::Files;

    #[test]
    fn before_the_work_there_is_no_result() {
        let receipt = Files::receipt().job();
        let found = recompute(&receipt.told, b"{}");
        assert!(matches!(found, Recomputed::NotAResult), "{found}");
    }

    /// The last digits of another version may differ; more than that may not.
    #[test]
    fn figures_of_another_version_are_compared_with_a_tolerance() {
        for (printed, again, is_same) in [
            (json!(1.0), json!(1.000_000_000_9), true),
            (json!(1.0), json!(1.000_000_002), false),
            (json!(2e-13), json!(9e-13), true),
            (json!(2e-11), json!(9e-11), false),
            (json!(3), json!(3.0), true),
            (json!("3"), json!(3), false),
            (json!(null), json!(0), false),
        ] {
            assert_eq!(is_near(&printed, &again), is_same, "{printed}, {again}");
        }
    }

    /// The place named is where a person would look, inside lists too; the version of the
    /// program may differ, but not a `tool` deeper down.
    #[test]
    fn the_first_difference_is_named_by_its_place() {
        for (printed, again, place) in [
            (json!({"a": [1, 2]}), json!({"a": [1, 2]}), None),
            (json!({"a": [1, 2]}), json!({"a": [1, 3]}), Some("/a/1")),
            (json!({"a": [1]}), json!({"a": [1, 2]}), Some("/a")),
            (json!({"a": 1}), json!({}), Some("/a")),
            (
                json!({"a": [{"b": 1}]}),
                json!({"a": [{"b": 2}]}),
                Some("/a/0/b"),
            ),
            (json!({"tool": "x 1"}), json!({"tool": "x 2"}), None),
            (
                json!({"a": {"tool": 1}}),
                json!({"a": {"tool": 2}}),
                Some("/a/tool"),
            ),
        ] {
            let found = first_difference(&printed, &again, "", |one, other| one == other);
            assert_eq!(found.as_deref(), place, "{printed}, {again}");
        }
    }
}
