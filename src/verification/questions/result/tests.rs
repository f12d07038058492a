//! A case for every branch of the questions about the result.
//!
//! | question | branches |
//! | --- | --- |
//! | `result` | none, in a receipt and in a report; the same; another; another by another version; the same by another version; inputs with problems, by this version and by another; no result |
//! | `listed_files` | none; no folder; as they were; changed; missing; not readable; what a seal says before what a result says |

use super::*;
use crate::files::Input;
use crate::job::Stage;
use crate::verification::test_documents::{AFTER_RETEST, BEFORE_WORK, Files, PHOTOS};

fn says(found: &Finding, words: &str) {
    assert!(
        found.because.join("; ").contains(words),
        "{words}: {found:?}"
    );
}

#[test]
fn result_is_what_the_inputs_give() {
    let tool = crate::result::TOOL;
    let report = Files::report;
    for (name, files, answer, why) in [
        ("a report", report(), Answer::Yes, "gives the same result"),
        (
            "a receipt",
            Files::receipt(),
            Answer::NotAsked,
            "nothing has been judged",
        ),
        (
            "a report without one",
            report().without("result.json"),
            Answer::No,
            "and a report must",
        ),
        (
            "another verdict",
            report().with("result.json", "\"verified\"", "\"undecided\""),
            Answer::No,
            "different result: /verdict",
        ),
        (
            "it is written differently",
            report().with("result.json", "{", "{ "),
            Answer::No,
            "it is written differently",
        ),
        (
            "another verdict by another version",
            report().with("result.json", tool, "retestify 9.9.9").with(
                "result.json",
                "\"verified\"",
                "\"undecided\"",
            ),
            Answer::CannotTell,
            "made by retestify 9.9.9",
        ),
        (
            "the same by another version",
            report().with("result.json", tool, "retestify 9.9.9"),
            Answer::Yes,
            "gives the same result",
        ),
        (
            "inputs that cannot be judged",
            report().with("limits.toml", "format = 1", "format = 2"),
            Answer::No,
            "the inputs cannot be judged: limits.toml",
        ),
        (
            "inputs that another version took and this one refuses",
            report()
                .with("limits.toml", "format = 1", "format = 2")
                .with("result.json", tool, "retestify 9.9.9"),
            Answer::CannotTell,
            "made by retestify 9.9.9",
        ),
        (
            "other inputs",
            report().with("retest.toml", "06:40", "06:41"),
            Answer::No,
            "different result: ",
        ),
        (
            "no result",
            report().and("result.json", b"nonsense"),
            Answer::No,
            "is not a result",
        ),
    ] {
        let found = result(&files.job());
        assert_eq!(found.answer, answer, "{name}: {found:?}");
        says(&found, why);
    }
    // What the result says of photos is taken from it, for they are not inside; that a
    // size there is a number is all that can be asked.
    let found = result(
        &report()
            .with("result.json", "\"size\": 24", "\"size\": 25")
            .job(),
    );
    assert_eq!(found.answer, Answer::Yes, "{found:?}");
}

/// A folder whose files are their own names, but for some.
struct Shelf {
    changed: Option<&'static str>,
    missing: Option<&'static str>,
    refused: Option<&'static str>,
}

impl Shelf {
    const WHOLE: Self = Self {
        changed: None,
        missing: None,
        refused: None,
    };
}

impl Source for Shelf {
    fn read(&self, name: &str, _: u64) -> Result<Input, ReadError> {
        panic!("{name} is not to be read whole")
    }

    fn list(&self, name: &str) -> Result<Vec<String>, ReadError> {
        panic!("{name} is not to be listed")
    }

    fn digest(&self, name: &str) -> Result<(Digest, u64), ReadError> {
        if self.missing == Some(name) {
            return Err(ReadError::Missing);
        }
        if self.refused == Some(name) {
            return Err(ReadError::Refused("no right to read".to_owned()));
        }
        let bytes = if self.changed == Some(name) {
            "other"
        } else {
            name
        };
        Ok((Digest::of(bytes.as_bytes()), bytes.len() as u64))
    }
}

#[test]
fn listed_files_are_in_the_folder_as_they_were() {
    let photo = Some(PHOTOS[1]);
    for (name, shelf, answer, why) in [
        ("whole", Some(Shelf::WHOLE), Answer::Yes, "3 files are "),
        ("no folder", None, Answer::NotAsked, "3 photos and"),
        (
            "changed",
            Some(Shelf {
                changed: photo,
                ..Shelf::WHOLE
            }),
            Answer::No,
            "photos/old-line.jpg was changed",
        ),
        (
            "missing",
            Some(Shelf {
                missing: photo,
                ..Shelf::WHOLE
            }),
            Answer::No,
            "photos/old-line.jpg is missing",
        ),
        (
            "refused",
            Some(Shelf {
                refused: photo,
                ..Shelf::WHOLE
            }),
            Answer::No,
            "photos/old-line.jpg: ",
        ),
    ] {
        let folder = shelf.as_ref().map(|shelf| shelf as &dyn Source);
        let found = listed_files(&Files::report().job(), folder);
        assert_eq!(found.answer, answer, "{name}: {found:?}");
        says(&found, why);
    }
    let none = Files::unsealed_receipt().job();
    let found = listed_files(&none, Some(&Shelf::WHOLE));
    assert_eq!(found.answer, Answer::NotAsked);
    says(&found, "there are none");

    // A result may list what it likes: the seal says what the photo was.
    let lied = Files::unsealed_report()
        .sealed(Stage::Baseline, BEFORE_WORK, |seal| {
            seal.files
                .insert(PHOTOS[0].to_owned(), Digest::of(b"as it was"));
        })
        .sealed(Stage::Retest, AFTER_RETEST, |_| {});
    let found = listed_files(&lied.job(), Some(&Shelf::WHOLE));
    assert_eq!(found.answer, Answer::No, "{found:?}");
    // A receipt lists nothing, but its seal has photos.
    let found = listed_files(&Files::receipt().job(), Some(&Shelf::WHOLE));
    assert_eq!(found.answer, Answer::Yes, "{found:?}");
    says(&found, "1 file is ");
}
