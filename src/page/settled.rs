//! Whether a “yes” counts. An answer is found from something: where that is itself not as it
//! should be, the answer stays what it is, for programs, and is not ticked for people.

use crate::verification::{Answer, Question, Verification};

/// What a “yes” was found from that is not as it should be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unsettled {
    /// The document was changed after it was signed.
    Bytes,
    /// Its files are not those that were sealed.
    Files,
    /// Its seals do not fit together.
    Seals,
}

impl Unsettled {
    /// Why the “yes” to `question` does not count, if it does not.
    pub fn of(found: &Verification, question: Question) -> Option<Self> {
        use Question::{Chain, Files, Fingerprint, Intact, Limits, Pages, Result};
        let is_no = |question| found.answer(question) == Answer::No;
        if found.answer(question) != Answer::Yes {
            return None;
        }
        if is_no(Intact) {
            return Some(Self::Bytes);
        }
        match question {
            Fingerprint | Result | Pages if is_no(Files) => Some(Self::Files),
            Files | Limits | Fingerprint if is_no(Chain) => Some(Self::Seals),
            _ => None,
        }
    }

    /// The message that says so in place of a “yes”.
    pub fn word(self) -> &'static str {
        match self {
            Self::Bytes => "answer-unsettled-bytes",
            Self::Files => "answer-unsettled-files",
            Self::Seals => "answer-unsettled-seals",
        }
    }
}
