//! The answers that matter most to a customer, each as a sentence. None is merged with
//! another: what is wrong comes first, the rest in the order of what hangs on it.

use super::shown::Line;
use crate::verification::{Answer, Carried, Question, Verification};
use crate::view::Words;

/// The questions whose answer is told whatever it is.
const ALWAYS: [Question; 4] = [
    Question::Intact,
    Question::Pages,
    Question::ExpectedSigner,
    Question::Fingerprint,
];
/// What is told only if it is in doubt or wrong.
const IN_DOUBT: [Question; 7] = [
    Question::Chain,
    Question::Files,
    Question::Limits,
    Question::Result,
    Question::Signer,
    Question::Time,
    Question::ListedFiles,
];

/// Every answer "no", in a sentence.
pub fn wrong(found: &Verification, carried: &Carried, words: &Words) -> Vec<String> {
    let asked = ALWAYS.into_iter().chain(IN_DOUBT);
    asked
        .filter(|question| found.answer(*question) == Answer::No)
        .map(|question| sentence(question, Answer::No, carried, words))
        .collect()
}

/// The other answers, in sentences.
pub fn rest(found: &Verification, carried: &Carried, words: &Words) -> Vec<Line> {
    let is_asked = |question: &Question| {
        let mut findings = found.findings.iter();
        findings.any(|finding| finding.question == *question)
    };
    let unsealed = is_unsealed(carried);
    let is_receipt = found
        .document
        .as_ref()
        .is_some_and(|document| document.kind == "receipt");
    // What another line says already, or what does not arise.
    let repeats = |question: Question| match question {
        Question::Files | Question::Limits => unsealed,
        Question::Fingerprint => {
            unsealed || is_receipt && found.answer(question) == Answer::NotAsked
        }
        Question::ExpectedSigner => carried.signer().is_none(),
        _ => false,
    };
    let always = ALWAYS.into_iter().filter(is_asked);
    let in_doubt = IN_DOUBT.into_iter();
    let in_doubt = in_doubt.filter(|question| found.answer(*question) == Answer::CannotTell);
    always
        .chain(in_doubt)
        .filter(|question| !repeats(*question))
        .map(|question| (question, found.answer(question)))
        .filter(|(_, answer)| *answer != Answer::No)
        .map(|(question, answer)| Line {
            answer: answer.name(),
            word: words.say(&format!("answer-{}", answer.name())),
            text: sentence(question, answer, carried, words),
        })
        .collect()
}

fn sentence(question: Question, answer: Answer, carried: &Carried, words: &Words) -> String {
    if (question, answer) == (Question::Chain, Answer::CannotTell) && !is_unsealed(carried) {
        return words.say("told-chain-open");
    }
    if question != Question::ExpectedSigner {
        return words.say(&format!("told-{}-{}", question.name(), answer.name()));
    }
    let id = match answer {
        Answer::Yes => "told-signed-trusted",
        Answer::No => "told-signed-other",
        Answer::CannotTell | Answer::NotAsked => "told-signed-unknown",
    };
    // Without a signature that holds, this sentence is not said.
    words.say_with(
        id,
        &[("name", &isolated(carried.signer().unwrap_or_default()))],
    )
}

/// Whether it carries no seal.
fn is_unsealed(carried: &Carried) -> bool {
    let mut names = carried.attachments().map(|(name, _)| name);
    !names.any(|name| name.ends_with(".sha256"))
}

/// A name from a file, between marks that keep its direction from reaching the sentence
/// (Unicode Standard Annex 9, 2.4.2: first strong isolate, and its end).
fn isolated(name: &str) -> String {
    format!("\u{2068}{name}\u{2069}")
}
