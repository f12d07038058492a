//! Questions and their answers.

use schemars::JsonSchema;
use serde::Serialize;

use super::differences::Difference;
use super::summary::Summary;

/// What is asked of a document.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Question {
    /// Is every byte as it was when it was signed?
    Intact,
    /// Was the certificate fit to sign, and valid then?
    Signer,
    /// Is it signed by someone the reader trusts?
    ExpectedSigner,
    /// Are the files in it as they were sealed?
    Files,
    /// Is the chain of seals unbroken?
    Chain,
    /// Are the limits those that were sealed first, before the work?
    Limits,
    /// Is the baseline seal in force the one on the customer's receipt?
    Fingerprint,
    /// Do its inputs give the same result again?
    Result,
    /// Do the pages show this result, and nothing else?
    Pages,
    /// Does a time-stamp authority attest the time?
    Time,
    /// Are the files that are not attached as they were sealed?
    ListedFiles,
}

impl Question {
    /// Its name in the answers for programs; its words are the message `question-` and that.
    pub fn name(self) -> &'static str {
        match self {
            Self::Intact => "intact",
            Self::Signer => "signer",
            Self::ExpectedSigner => "expected-signer",
            Self::Files => "files",
            Self::Chain => "chain",
            Self::Limits => "limits",
            Self::Fingerprint => "fingerprint",
            Self::Result => "result",
            Self::Pages => "pages",
            Self::Time => "time",
            Self::ListedFiles => "listed-files",
        }
    }
}

/// The answer to a question.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Answer {
    /// Yes.
    Yes,
    /// No.
    No,
    /// What is there is not enough to tell.
    CannotTell,
    /// Nothing was given to answer it with; it does not count.
    NotAsked,
}

impl Answer {
    /// Its name in the answers for programs; its words are the message `answer-` and that.
    pub fn name(self) -> &'static str {
        match self {
            Self::Yes => "yes",
            Self::No => "no",
            Self::CannotTell => "cannot-tell",
            Self::NotAsked => "not-asked",
        }
    }
}

/// One question with its answer.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Finding {
    /// What was asked.
    pub question: Question,
    /// The answer.
    pub answer: Answer,
    /// What it is based on, one sentence each. In names from the file, characters that hide
    /// or reverse text are made visible.
    pub because: Vec<String>,
}

/// All answers about one document.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Verification {
    /// Version of this format: 1.
    pub format: u32,
    /// The program and its version.
    pub tool: String,
    /// SHA-256 of the document.
    pub sha256: String,
    /// What was verified; null where it carries no files.
    pub document: Option<Summary>,
    /// What the receipt that was given shows otherwise than the document; null where no sound
    /// receipt of the same job was given, or one of them cannot be read.
    pub differences: Option<Vec<Difference>>,
    /// The answers, in the order of the questions.
    pub findings: Vec<Finding>,
}

impl Verification {
    /// The answer to `question`; [`Answer::NotAsked`] if it does not arise.
    pub fn answer(&self, question: Question) -> Answer {
        self.findings
            .iter()
            .find(|finding| finding.question == question)
            .map_or(Answer::NotAsked, |finding| finding.answer)
    }

    /// The message about all that receipt and document do not show differently: that it is the
    /// same; or, where nothing differs and they still do not belong together, that it is
    /// something else in the files. None where they belong together, or were not compared.
    pub fn differs_rest(&self) -> Option<&'static str> {
        let is_no = |question| self.answer(question) == Answer::No;
        match self.differences.as_deref()? {
            [] if is_no(Question::Fingerprint) || is_no(Question::Files) => {
                Some("differs-elsewhere")
            }
            [] => None,
            [..] => Some("differs-rest"),
        }
    }

    /// The worst of all answers: no, then cannot tell, then yes.
    pub fn overall(&self) -> Answer {
        let has = |answer| self.findings.iter().any(|finding| finding.answer == answer);
        if has(Answer::No) {
            Answer::No
        } else if has(Answer::CannotTell) {
            Answer::CannotTell
        } else {
            Answer::Yes
        }
    }
}

/// The most sentences of one finding.
const MOST_SENTENCES: usize = 200;

/// One question with its answer and what it is based on.
pub(super) fn finding(
    question: Question,
    answer: Answer,
    because: impl IntoIterator<Item = String>,
) -> Finding {
    let mut rest = because.into_iter();
    let mut because: Vec<String> = rest.by_ref().take(MOST_SENTENCES).collect();
    match rest.count() {
        0 => {}
        more => because.push(format!("and {more} more of these")),
    }
    Finding {
        question,
        answer,
        because,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(answers: &[Answer]) -> Verification {
        let findings = answers.iter();
        Verification {
            format: 1,
            tool: "retestify 0.1.0".to_owned(),
            sha256: String::new(),
            document: None,
            differences: None,
            findings: findings
                .map(|answer| finding(Question::Files, *answer, []))
                .collect(),
        }
    }

    #[test]
    fn the_worst_answer_counts_and_what_was_not_asked_does_not() {
        use Answer::{CannotTell, No, NotAsked, Yes};
        for (answers, overall) in [
            (&[][..], Yes),
            (&[NotAsked][..], Yes),
            (&[Yes, NotAsked][..], Yes),
            (&[CannotTell, Yes][..], CannotTell),
            (&[NotAsked, CannotTell][..], CannotTell),
            (&[Yes, No, CannotTell][..], No),
            (&[CannotTell, No][..], No),
        ] {
            assert_eq!(of(answers).overall(), overall, "{answers:?}");
        }
    }

    #[test]
    fn a_question_that_does_not_arise_is_not_asked() {
        let found = of(&[Answer::No]);
        assert_eq!(found.answer(Question::Files), Answer::No);
        assert_eq!(found.answer(Question::Time), Answer::NotAsked);
    }
}
