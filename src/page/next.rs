//! What the reader can do now: one sentence, for the answer that weighs most.

use crate::verification::{Answer, Carried, Question, Verification};
use crate::view::Words;

/// What to do about an answer, in the order of what weighs most.
const ABOUT: [(Question, Answer, &str); 13] = {
    use Answer::{CannotTell, No};
    use Question::{
        Chain, ExpectedSigner, Files, Fingerprint, Intact, Limits, ListedFiles, Pages, Result,
        Signer, Time,
    };
    [
        (Intact, No, "next-altered"),
        (Files, No, "next-changed"),
        (Chain, No, "next-changed"),
        (Result, No, "next-changed"),
        (Pages, No, "next-changed"),
        (ListedFiles, No, "next-changed"),
        (Limits, No, "next-limits"),
        (Fingerprint, No, "next-other-receipt"),
        (ExpectedSigner, No, "next-other-signer"),
        (Signer, No, "next-not-valid"),
        (Time, No, "next-time"),
        (Intact, CannotTell, "next-unsigned"),
        (Fingerprint, CannotTell, "next-receipt-open"),
    ]
};

/// The sentence, for a document that carries a seal or not (`is_unsealed`).
pub fn next(found: &Verification, carried: &Carried, is_unsealed: bool, words: &Words) -> String {
    words.say(id(found, carried, is_unsealed))
}

fn id(found: &Verification, carried: &Carried, is_unsealed: bool) -> &'static str {
    let Some(document) = &found.document else {
        return "next-no-document";
    };
    let is = |question, answer| found.answer(question) == answer;
    let mut about = ABOUT.iter();
    let about = about.find(|(question, answer, _)| {
        // Without a seal there is nothing to hold a receipt against.
        let arises = !(is_unsealed && *question == Question::Fingerprint);
        arises && is(*question, *answer)
    });
    if let Some((_, _, id)) = about {
        return id;
    }
    if document.kind == "receipt" {
        return "next-keep-receipt";
    }
    if is_unsealed {
        return "next-unsealed";
    }
    let lacks_receipt = is(Question::Fingerprint, Answer::NotAsked);
    let lacks_certificate =
        is(Question::ExpectedSigner, Answer::CannotTell) && carried.signer().is_some();
    match (lacks_receipt, lacks_certificate) {
        (true, true) => "next-give-both",
        (true, false) => "next-give-receipt",
        (false, true) => "next-give-certificate",
        (false, false) if is(Question::Pages, Answer::CannotTell) => "next-compare-pages",
        (false, false) if found.overall() == Answer::CannotTell => "next-ask",
        (false, false) => "next-nothing",
    }
}
