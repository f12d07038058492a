//! The words of `result.json` for what the judgement found.

use crate::judge::{Claim, Outcome, Step, Zone};

/// An outcome.
pub fn outcome(outcome: Outcome) -> &'static str {
    match outcome {
        Outcome::NoLimit => "no-limit",
        Outcome::Pass => "pass",
        Outcome::ConditionalPass => "conditional-pass",
        Outcome::Inconclusive => "inconclusive",
        Outcome::Fail => "fail",
    }
}

/// What may be claimed of a change: the word beside a figure says what its page says.
pub fn claim(claim: Claim) -> &'static str {
    match claim {
        Claim::Improved => "improved",
        Claim::Apparent => "apparently-improved",
        Claim::NoDetectable => "no-detectable-change",
        Claim::Worsened => "worsened",
        Claim::TooFewAttempts | Claim::TooFewPositions | Claim::TooFewEvents => "too-few-to-tell",
        Claim::OtherPositions => "other-positions",
        Claim::Step(found) => step(found),
        Claim::Moved(_) | Claim::SomeMoved => "changed",
    }
}

/// How one exact reading compares with another.
pub fn step(step: Step) -> &'static str {
    match step {
        Step::Better => "better",
        Step::Same => "same",
        Step::Worse => "worse",
    }
}

/// A zone at a limit.
pub fn zone(zone: Zone) -> &'static str {
    match zone {
        Zone::Pass => "pass",
        Zone::ConditionalPass => "conditional-pass",
        Zone::ConditionalFail => "conditional-fail",
        Zone::Fail => "fail",
    }
}
