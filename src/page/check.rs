//! From what the reader gives to what the page shows.

use super::attached;
use super::codes::codes;
use super::next::next;
use super::reasons::Reasons;
use super::settled::Unsettled;
use super::shown::{Asked, Differs, Shown};
use super::told::Telling;
use crate::signature::ShopCertificate;
use crate::verification::{
    Answer, Carried, Difference, Expected, Finding, KnownSeal, LARGEST_FILE, Question, Summary,
    Typesetter, Verification, seal_of_receipt, verify,
};
use crate::view::{LANGUAGES, Words};

/// What the reader gives to the page.
#[derive(Default)]
pub struct Given<'a> {
    /// The document to check.
    pub document: &'a [u8],
    /// The customer's receipt.
    pub receipt: Option<&'a [u8]>,
    /// Certificate files of those who may sign.
    pub certificates: &'a [Vec<u8>],
    /// Certificate files of time-stamp authorities.
    pub authorities: &'a [Vec<u8>],
    /// The fingerprint as it was copied; empty if it was not.
    pub fingerprint: &'a str,
    /// The language that the reader chose; empty for that of the document.
    pub language: &'a str,
    /// What sets the pages again, if this page can.
    pub typesetter: Option<&'a dyn Typesetter>,
}

/// Checks the document, and says what was found.
pub fn check(given: &Given<'_>) -> Shown {
    let carried = Carried::of(given.document);
    let language = match (given.language, carried.shop()) {
        ("", Some(shop)) => shop.language.as_str(),
        ("", None) => "en",
        (chosen, _) => chosen,
    };
    let words = Words::to_verify(language);
    let refused = |id: &str| Shown {
        language: words.language(),
        refused: words.say(id),
        ..Shown::default()
    };
    let is_pdf = |file: &[u8]| file.starts_with(b"%PDF-");
    if given.document.len() as u64 > LARGEST_FILE {
        return refused("page-too-large");
    }
    if !is_pdf(given.document) {
        return refused("page-not-pdf");
    }
    if given.receipt.is_some_and(|receipt| !is_pdf(receipt)) {
        return refused("page-receipt-not-pdf");
    }

    let mut notes = Vec::new();
    let mut read = |files: &[Vec<u8>]| {
        let mut trusted = Vec::new();
        for file in files {
            match ShopCertificate::read_all(file) {
                Ok(found) => trusted.extend(found),
                Err(_) => notes.push(words.say("page-bad-certificate")),
            }
        }
        trusted
    };
    let (trusted, authorities) = (read(given.certificates), read(given.authorities));
    let seal = match (given.receipt, given.fingerprint.trim()) {
        (Some(receipt), _) => Some(seal_of_receipt(receipt).unwrap_or_else(KnownSeal::Unsound)),
        (None, "") => None,
        (None, text) => Some(KnownSeal::Text(text.to_owned())),
    };
    let expected = Expected {
        trusted,
        authorities,
        folder: None,
        typesetter: given.typesetter,
        seal,
        receipt: given.receipt.map(Carried::of),
    };
    let found = verify(given.document, &expected);
    let pages = pages_words(language, &carried);
    let document = carried.summary(&pages);
    let reasons = Reasons::new(&words);
    let telling = Telling {
        found: &found,
        carried: &carried,
        words: &words,
        reasons: &reasons,
        is_typed: matches!(expected.seal, Some(KnownSeal::Text(_))),
        has_key_of_receipt: carried.has_the_key_of(expected.seal.as_ref()),
    };
    Shown {
        language: words.language(),
        refused: String::new(),
        done: words.say(done(&found)),
        notes,
        wrong: telling.wrong(),
        differs: carried
            .differences(&expected, &pages)
            .iter()
            .flatten()
            .map(|one| differs(one, &words))
            .collect(),
        differs_rest: found
            .differs_rest()
            .map_or_else(String::new, |id| words.say(id)),
        about: document
            .as_ref()
            .map_or_else(|| words.say("unread"), |found| found.about(&words)),
        told: telling.reliance(),
        codes: codes(&found, &carried, expected.seal.as_ref(), &words),
        next: next(&found, &carried, telling.is_unsealed(), &words),
        questions: found
            .findings
            .iter()
            .map(|finding| asked(finding, &found, &words, &reasons))
            .collect(),
        files: attached::files(&carried, &words),
        cannot_show: words.say("cannot-show"),
        json: json(&found),
        ..document.map_or_else(Shown::default, |document| said(document, &words))
    }
}

/// As `retestify verify --json` prints it.
fn json(found: &Verification) -> String {
    // Made of strings and lists only, so it always has a JSON form.
    serde_json::to_string_pretty(found).unwrap_or_default() + "\n"
}

/// The words of the pages in this language, where there are some: a region where the
/// document has the same language, the shop's second units.
fn pages_words(language: &str, carried: &Carried) -> Words {
    let shop = carried.shop();
    let own = shop.map(|shop| shop.language.as_str());
    let tag = own.filter(|own| own.split('-').next() == Some(language));
    let tag = tag.unwrap_or(language);
    let known = LANGUAGES.iter().any(|(known, _)| *known == tag);
    let words = match Words::of(if known { tag } else { "en" }, &[]) {
        Ok(words) => words,
        Err(_) => Words::english(),
    };
    words.with_second_units(shop.and_then(|shop| shop.second_units))
}

/// The verdict and the required figures. A receipt has no verdict: what fails in it is the
/// machine as it came, and not the work.
fn said(document: Summary, words: &Words) -> Shown {
    let is_receipt = document.kind == "receipt";
    let Some(mut told) = document.told else {
        return Shown::default();
    };
    if !is_receipt {
        return Shown {
            heading: words.say("heading-report"),
            says: told.says,
            required: told.required,
            ..Shown::default()
        };
    }
    for figure in &mut told.required {
        figure.result = words.say_with("result-before-work", &[("result", &figure.result)]);
    }
    Shown {
        heading: words.say("heading-receipt"),
        says: told.says,
        state: words.say("state-before-work"),
        required: told.required,
        ..Shown::default()
    }
}

/// That the check is done, with the worst that it found. Of what is not signed it would be no
/// comfort that nothing is wrong.
fn done(found: &Verification) -> &'static str {
    match (found.overall(), found.answer(Question::Intact)) {
        (Answer::No, _) => "done-no",
        (_, Answer::CannotTell) => "done-unsigned",
        (Answer::CannotTell, _) => "done-cannot-tell",
        (Answer::Yes | Answer::NotAsked, _) => "done-yes",
    }
}

fn differs(one: &Difference, words: &Words) -> Differs {
    let [name, receipt, document] = one.texts(words);
    Differs {
        name,
        receipt,
        document,
    }
}

fn asked(finding: &Finding, found: &Verification, words: &Words, reasons: &Reasons<'_>) -> Asked {
    let because = finding.because.iter();
    let unsettled = Unsettled::of(found, finding.question);
    let answer = finding.answer.name();
    let word = match unsettled {
        Some(unsettled) => words.say(unsettled.word()),
        None if is_about_nobody(finding) => words.say("answer-none"),
        None => words.say(&format!("answer-{answer}")),
    };
    Asked {
        question: question(finding.question, words),
        answer: unsettled.map_or(answer, |_| "unsettled"),
        word,
        because: because.map(|reason| reasons.say(reason)).collect(),
    }
}

/// Whether it asks what nobody else attests: that it was “not checked” would sound as if
/// something were left undone.
fn is_about_nobody(finding: &Finding) -> bool {
    finding.question == Question::Time && finding.answer == Answer::NotAsked
}

fn question(question: Question, words: &Words) -> String {
    words.say(&format!("question-{}", question.name()))
}

#[cfg(test)]
mod tests;
