//! The pages for a dispute: the rule, what the tests cannot tell, the digests.

use std::collections::BTreeSet;

use super::Material;
use super::cannot_tell;
use super::data::{InputRow, Pair};
use super::figures;
use super::reasons::{reasons, reservations};
use super::together;
use super::words::Words;
use crate::job::{DecisionRule, Hazard};
use crate::judge::Verdict;

/// How the verdict came about, one paragraph each.
pub fn rule(material: &Material<'_>, words: &Words) -> Vec<String> {
    let judgement = material.judgement;
    let mut paragraphs = vec![words.say(match judgement.verdict {
        Verdict::Verified => "verdict-verified",
        Verdict::NotVerified => "verdict-not-verified",
        Verdict::Undecided => "verdict-undecided",
    })];
    paragraphs.extend(reasons(material, words));
    paragraphs.extend(reservations(material, words));
    paragraphs.push(words.say(match judgement.rule {
        DecisionRule::Simple => "rule-simple",
        DecisionRule::Guarded => "rule-guarded",
        DecisionRule::FourZone => "rule-four-zone",
    }));
    paragraphs.push(words.say("rule-uncertainty"));
    paragraphs.push(words.say("rule-change"));
    let ties = together::paragraphs(material, words);
    let independent = if ties.is_empty() {
        "rule-independent"
    } else {
        "rule-otherwise-independent"
    };
    paragraphs.extend(ties);
    paragraphs.push(words.say(independent));
    paragraphs.extend(together::paths(material, words));
    paragraphs.push(match &material.job.limits.agreed {
        Some(agreed) => words.say_with("rule-agreed", &[("agreed", agreed)]),
        None => words.say("rule-not-agreed"),
    });
    paragraphs
}

/// What each test cannot tell, beside its name.
pub fn cannot_tell(material: &Material<'_>, words: &Words) -> Vec<Pair> {
    material
        .job
        .limits
        .measures
        .iter()
        .map(|measure| Pair {
            label: measure.name.clone(),
            text: cannot_tell::cannot_tell(measure, words).join(" "),
        })
        .filter(|pair| !pair.text.is_empty())
        .collect()
}

/// Cautions for the hazards of all measures, and whom to believe first.
pub fn cautions(material: &Material<'_>, words: &Words) -> Vec<String> {
    let hazards: BTreeSet<Hazard> = material
        .job
        .limits
        .measures
        .iter()
        .flat_map(|measure| measure.hazards.iter().copied())
        .collect();
    if hazards.is_empty() {
        return Vec::new();
    }
    let mut cautions: Vec<String> = hazards
        .into_iter()
        .map(|hazard| {
            words.say(match hazard {
                Hazard::Injection => "caution-injection",
                Hazard::Exhaust => "caution-exhaust",
                Hazard::RotatingParts => "caution-rotating-parts",
                Hazard::Battery => "caution-battery",
                Hazard::Heat => "caution-heat",
                Hazard::Fire => "caution-fire",
                Hazard::Lifting => "caution-lifting",
                Hazard::Electricity => "caution-electricity",
                Hazard::PressurisedGas => "caution-pressurised-gas",
            })
        })
        .collect();
    cautions.push(words.say("caution-defer"));
    cautions
}

/// What the digests show, what they do not, and how to check them.
pub fn evidence(words: &Words) -> Vec<String> {
    [
        "evidence-digests",
        "evidence-check",
        "evidence-not-sealed",
        "evidence-truth",
    ]
    .into_iter()
    .map(|id| words.say(id))
    .collect()
}

/// The input files with their digests.
pub fn inputs(material: &Material<'_>, words: &Words) -> Vec<InputRow> {
    material
        .inputs
        .iter()
        .map(|input| InputRow {
            name: input.name.clone(),
            digest: input.digest.clone(),
            size: figures::bytes(input.size),
            place: words.say(if input.attached {
                "input-attached"
            } else {
                "input-listed"
            }),
        })
        .collect()
}
