//! Questions and their answers.

use schemars::JsonSchema;
use serde::Serialize;

/// What is asked of a document.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Question {
    /// Is every byte as it was when it was signed?
    Intact,
    /// Was the certificate fit to sign, and valid then?
    Signer,
    /// Is the signer one that the reader knows?
    ExpectedSigner,
    /// Are the files inside those that were sealed?
    Files,
    /// Do the seals follow each other?
    Chain,
    /// Are the limits those of the first seal?
    Limits,
    /// Is the seal whose fingerprint the customer has among those of the baseline?
    Fingerprint,
    /// Does judging the inputs again give the result that the document carries?
    Result,
    /// Does an authority attest the time?
    Time,
    /// Are the files that are not inside as they were sealed?
    ListedFiles,
}

/// The answer to a question.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Answer {
    /// Yes.
    Yes,
    /// No.
    No,
    /// It cannot be told from what is there.
    CannotTell,
    /// Nothing was given to answer it by; it does not count.
    NotAsked,
}

/// One question with its answer.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Finding {
    /// What was asked.
    pub question: Question,
    /// The answer.
    pub answer: Answer,
    /// What it rests on, one sentence each. Names from the file are shown with signs
    /// that hide or turn text made visible.
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

/// One question with its answer and what it rests on.
pub(super) fn finding(
    question: Question,
    answer: Answer,
    because: impl IntoIterator<Item = String>,
) -> Finding {
    Finding {
        question,
        answer,
        because: because.into_iter().collect(),
    }
}
