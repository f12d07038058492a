//! The answers that matter most to a customer, each as a sentence. None is merged with
//! another; the worst comes first.

use super::reasons::Reasons;
use super::settled::Unsettled;
use super::shown::{Because, Line};
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
/// How many reasons are told with a sentence; all of them stand with the questions.
const MOST_REASONS: usize = 3;

/// What was found about a document, and the words to tell it in.
pub struct Telling<'a> {
    pub found: &'a Verification,
    pub carried: &'a Carried,
    pub words: &'a Words,
    pub reasons: &'a Reasons<'a>,
    /// Whether the reader typed the fingerprint.
    pub is_typed: bool,
    /// Whether the receipt that was given is signed with the same key.
    pub has_key_of_receipt: bool,
}

impl Telling<'_> {
    /// Whether the answer to any question is “no”.
    fn is_anything_wrong(&self) -> bool {
        self.found.overall() == Answer::No
    }

    /// Every answer “no”, in a sentence with its reasons.
    pub fn wrong(&self) -> Vec<Line> {
        let asked = ALWAYS.into_iter().chain(IN_DOUBT);
        asked
            .filter(|question| self.found.answer(*question) == Answer::No)
            .map(|question| self.line(question, self.why_not(question)))
            .collect()
    }

    /// How far the reader can rely on it: the worst answer first.
    pub fn reliance(&self) -> Vec<Line> {
        let asked = ALWAYS.into_iter().chain(IN_DOUBT);
        let mut told: Vec<(Answer, Question)> = asked
            .map(|question| (self.found.answer(question), question))
            .filter(|(answer, question)| self.is_told(*question, *answer))
            .collect();
        told.sort_by_key(|(answer, _)| match answer {
            Answer::No => 0,
            Answer::CannotTell => 1,
            Answer::NotAsked => 2,
            Answer::Yes => 3,
        });
        let lines = told.into_iter();
        lines
            .map(|(answer, question)| {
                let mut because = self.why_open(question, answer);
                if question == Question::ExpectedSigner {
                    because.extend(self.about_the_signer());
                }
                self.line(question, because)
            })
            .collect()
    }

    /// Whether it carries no seal.
    pub fn is_unsealed(&self) -> bool {
        let mut names = self.carried.attachments().map(|(name, _)| name);
        !names.any(|name| name.ends_with(".sha256"))
    }

    fn is_told(&self, question: Question, answer: Answer) -> bool {
        let mut findings = self.found.findings.iter();
        let is_asked = findings.any(|finding| finding.question == question);
        match answer {
            Answer::No => true,
            _ if !is_asked => false,
            // Of a document that was changed nothing else helps.
            _ if self.found.answer(Question::Intact) == Answer::No => false,
            Answer::CannotTell => !self.is_said_already(question),
            Answer::Yes | Answer::NotAsked => {
                ALWAYS.contains(&question) && !self.is_said_already(question)
            }
        }
    }

    /// What another line says already, or what does not arise.
    fn is_said_already(&self, question: Question) -> bool {
        let document = self.found.document.as_ref();
        let is_receipt = document.is_some_and(|document| document.kind == "receipt");
        let is_unsealed = self.is_unsealed();
        match question {
            Question::Files | Question::Limits => is_unsealed,
            Question::Fingerprint => {
                is_unsealed || is_receipt && self.found.answer(question) == Answer::NotAsked
            }
            Question::ExpectedSigner => self.carried.signer().is_none(),
            _ => false,
        }
    }

    fn line(&self, question: Question, because: Vec<Because>) -> Line {
        let answer = self.found.answer(question);
        let unsettled = Unsettled::of(self.found, question);
        // A tick would say that all is well.
        let is_despite =
            question == Question::Intact && answer == Answer::Yes && self.is_anything_wrong();
        let word = match unsettled {
            Some(unsettled) => self.words.say(unsettled.word()),
            None if is_despite => self.words.say("answer-despite"),
            None => self.words.say(&format!("answer-{}", answer.name())),
        };
        Line {
            topic: self.words.say(&format!("topic-{}", question.name())),
            answer: match unsettled.is_some() || is_despite {
                true => "unsettled",
                false => answer.name(),
            },
            word,
            text: self.sentence(question, answer, unsettled),
            because,
        }
    }

    fn sentence(&self, question: Question, answer: Answer, unsettled: Option<Unsettled>) -> String {
        let say = |id: &str| self.words.say(id);
        match (question, answer, unsettled) {
            (Question::Chain, Answer::CannotTell, _) if !self.is_unsealed() => {
                say("told-chain-open")
            }
            (Question::Fingerprint, _, Some(_)) => say("told-fingerprint-unsettled"),
            (Question::Pages, _, Some(_)) => say("told-pages-unsettled"),
            (Question::ExpectedSigner, ..) => self.signed(answer),
            (Question::Intact, Answer::Yes, _) if self.is_anything_wrong() => {
                say("told-intact-despite")
            }
            _ => say(&format!("told-{}-{}", question.name(), answer.name())),
        }
    }

    fn signed(&self, answer: Answer) -> String {
        let id = match answer {
            Answer::Yes => "told-signed-trusted",
            Answer::No => "told-signed-other",
            Answer::CannotTell | Answer::NotAsked => "told-signed-unknown",
        };
        // Without a signature that holds, this sentence is not said.
        let name = isolated(&self.carried.signer().unwrap_or_default());
        self.words.say_with(id, &[("name", &name)])
    }

    /// What else is known of the signer: whether the letterhead names the same, and whether the
    /// receipt is signed with the same key.
    fn about_the_signer(&self) -> Vec<Because> {
        let mut about = Vec::new();
        let holder = self.carried.signer();
        let other = self.carried.shop().zip(holder);
        let other = other.filter(|(shop, holder)| !shop.is_named_by(holder));
        if let Some((shop, _)) = other {
            let name = isolated(&shop.name);
            about.push(self.words.say_with("told-letterhead", &[("name", &name)]));
        }
        if self.has_key_of_receipt {
            about.push(self.words.say("told-same-key"));
        }
        let language = self.words.language();
        let about = about.into_iter().map(|text| Because {
            text,
            language: language.clone(),
        });
        about.collect()
    }

    /// Why the answer is “no”, without what is beside the point.
    fn why_not(&self, question: Question) -> Vec<Because> {
        let all = self.because(question);
        let from = match question {
            Question::Files => usize::from(all.len() > 1),
            // The sentence says it.
            Question::ExpectedSigner => all.len(),
            Question::Signer | Question::Time => all.len().saturating_sub(1),
            // The fingerprints stand side by side, and the key with the signer.
            Question::Fingerprint => all.len().min(2 + usize::from(self.has_key_of_receipt)),
            _ => 0,
        };
        let said = all[from..].iter().take(MOST_REASONS);
        let mut because: Vec<Because> = said.map(|why| self.reasons.say(why)).collect();
        if question == Question::Fingerprint {
            let id = match self.is_typed {
                true => "told-fingerprint-typed",
                false => "told-fingerprint-innocent",
            };
            because.push(Because {
                text: self.words.say(id),
                language: self.words.language(),
            });
        }
        because
    }

    /// Why it cannot be told, where the sentence does not say it.
    fn why_open(&self, question: Question, answer: Answer) -> Vec<Because> {
        let is_said = match question {
            Question::Intact | Question::ExpectedSigner | Question::Time => true,
            Question::Chain => self.is_unsealed(),
            _ => false,
        };
        if is_said || answer != Answer::CannotTell {
            return Vec::new();
        }
        let all = self.because(question);
        let from = match question {
            // The time of the seal, and what stands against it.
            Question::Limits => 0,
            _ => all.len().saturating_sub(1),
        };
        all[from..]
            .iter()
            .map(|why| self.reasons.say(why))
            .collect()
    }

    fn because(&self, question: Question) -> &[String] {
        let mut findings = self.found.findings.iter();
        let finding = findings.find(|finding| finding.question == question);
        finding.map_or(&[], |finding| &finding.because)
    }
}

/// A name from a file, between marks that keep its direction from reaching the sentence
/// (Unicode Standard Annex 9, 2.4.2: first strong isolate, and its end).
fn isolated(name: &str) -> String {
    format!("\u{2068}{name}\u{2069}")
}
