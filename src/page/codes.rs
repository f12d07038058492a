//! The fingerprints to compare, side by side and in the same groups, so that a reader sees
//! for himself that they agree or differ.

use super::shown::{Code, Codes, Group};
use crate::verification::{Answer, Carried, KnownSeal, Question, Verification};
use crate::view::Words;

/// The fingerprint in the document, and the one that was given.
pub fn codes(
    found: &Verification,
    carried: &Carried,
    seal: Option<&KnownSeal>,
    words: &Words,
) -> Codes {
    let Some(own) = carried.fingerprint() else {
        return Codes::default();
    };
    let kind = found.document.as_ref().map_or("", |document| document.kind);
    let given = seal.and_then(|seal| Some((seal, seal.fingerprint()?)));
    let (says, other) = match &given {
        Some((_, given)) if !differ(found, &own, given) => (agree(found), None),
        Some((_, given)) => ("codes-differ", Some(given.as_str())),
        None if kind == "receipt" => ("codes-keep", None),
        None => ("codes-alone", None),
    };
    let of_document = match kind {
        "receipt" => "codes-in-receipt",
        _ => "codes-in-report",
    };
    let mut rows = vec![code(of_document, &own, other, words)];
    if let Some((seal, given)) = &given {
        let label = match seal {
            KnownSeal::Text(_) => "codes-copied",
            KnownSeal::Receipt { .. } | KnownSeal::Unsound(_) => "codes-on-receipt",
        };
        rows.push(code(label, given, other.map(|_| own.as_str()), words));
    }
    let differs_all_over = rows
        .iter()
        .all(|row| row.groups.iter().all(|group| group.differs));
    let says = match says {
        "codes-differ" if differs_all_over => "codes-differ-all-over",
        says => says,
    };
    Codes {
        rows,
        says: words.say(says),
    }
}

/// What is said of two that agree: never that all is well, where it is not.
fn agree(found: &Verification) -> &'static str {
    let broken = [Question::Intact, Question::Files, Question::Chain];
    let is_no = |question: &Question| found.answer(*question) == Answer::No;
    if broken.iter().any(is_no) {
        "codes-agree-unsettled"
    } else if found.answer(Question::Fingerprint) == Answer::CannotTell {
        "codes-agree-open"
    } else {
        "codes-agree"
    }
}

/// Whether they differ. Where the comparison forgave a digit that looks like a letter, no
/// group may be pointed at.
fn differ(found: &Verification, own: &str, given: &str) -> bool {
    found.answer(Question::Fingerprint) == Answer::No && !own.starts_with(given)
}

/// One fingerprint, with the groups pointed out in which the other one has something else.
fn code(label: &str, own: &str, other: Option<&str>, words: &Words) -> Code {
    let groups = own.split('-').enumerate().map(|(place, text)| {
        let other = other.map(|other| other.split('-').nth(place).unwrap_or_default());
        Group {
            text: text.to_owned(),
            // One that was copied only in part may end within a group.
            differs: other
                .is_some_and(|other| !text.starts_with(other) && !other.starts_with(text)),
        }
    });
    Code {
        label: words.say(label),
        groups: groups.collect(),
    }
}
