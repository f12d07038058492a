//! The pages for a dispute: the rule, what the tests cannot tell, the digests.

use std::collections::BTreeSet;

use super::Material;
use super::cannot_tell;
use super::data::{InputRow, Pair};
use super::dependence;
use super::exact;
use super::figures;
use super::photos;
use super::reasons::{reasons, reservations};
use super::seals;
use super::variation;
use super::words::Words;
use crate::job::{DecisionRule, Hazard, Limits, Measure};
use crate::judge::{Verdict, is_issued_before_retest};

/// How the verdict came about, one paragraph each.
pub fn rule(material: &Material<'_>, words: &Words) -> Vec<String> {
    let judgement = material.judgement;
    let mut paragraphs = vec![words.say(match judgement.verdict {
        Verdict::Verified => "verdict-verified",
        Verdict::NotVerified => "verdict-not-verified",
        Verdict::Undecided => "verdict-undecided",
    })];
    paragraphs.extend(reasons(material, words));
    if is_issued_before_retest(material.job, material.issued) {
        paragraphs.push(words.say("issued-before-retest"));
    }
    paragraphs.extend(reservations(material, words));
    paragraphs.extend(photos::doubts(material, words));
    paragraphs.push(words.say(match judgement.rule {
        DecisionRule::Simple => "rule-simple",
        DecisionRule::Guarded => "rule-guarded",
        DecisionRule::FourZone => "rule-four-zone",
    }));
    paragraphs.push(words.say("rule-uncertainty"));
    paragraphs.push(words.say("rule-change"));
    paragraphs.extend(variation::paragraphs(material, words));
    let ties = dependence::paragraphs(material, words);
    let independent = if ties.is_empty() {
        "rule-independent"
    } else {
        "rule-otherwise-independent"
    };
    paragraphs.extend(ties);
    paragraphs.push(words.say(independent));
    paragraphs.extend(dependence::paths(material, words));
    let planned = material.job.plan.limits.measures.iter();
    paragraphs.extend(
        planned.filter_map(|measure| exact::bands_planned("bands-planned", measure, words)),
    );
    paragraphs.push(agreed(&material.job.plan.limits, words));
    paragraphs
}

/// What was agreed on limits and decision rule. A rule that nobody named was not agreed.
pub fn agreed(limits: &Limits, words: &Words) -> String {
    let id = match (&limits.agreed, limits.rule_named) {
        (None, _) => return words.say("rule-not-agreed"),
        (Some(_), true) => "rule-agreed",
        (Some(_), false) => "rule-agreed-limits",
    };
    let agreed = limits.agreed.as_deref().unwrap_or_default();
    words.say_with(id, &[("agreed", agreed)])
}

/// What each test cannot tell, beside its name.
pub fn cannot_tell(material: &Material<'_>, words: &Words) -> Vec<Pair> {
    let film = material.job.is_filmed().then(|| Pair {
        label: words.say("cannot-tell-film-of"),
        text: words.say("cannot-tell-film"),
    });
    material
        .job
        .plan
        .limits
        .measures
        .iter()
        .map(|measure| Pair {
            label: measure.name.clone(),
            text: cannot_tell::cannot_tell(measure, words).join(" "),
        })
        .filter(|pair| !pair.text.is_empty())
        .chain(film)
        .collect()
}

/// Cautions for the hazards of all measures, and whom to believe first.
pub fn cautions(material: &Material<'_>, words: &Words) -> Vec<String> {
    cautions_of(&material.job.plan.limits.measures, words)
}

/// Cautions for the hazards of `measures`, and whom to believe first.
pub fn cautions_of(measures: &[Measure], words: &Words) -> Vec<String> {
    let hazards: BTreeSet<Hazard> = measures
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
                Hazard::FlueGas => "caution-flue-gas",
                Hazard::Hydraulics => "caution-hydraulics",
                Hazard::MovingMachine => "caution-moving-machine",
            })
        })
        .collect();
    cautions.push(words.say("caution-defer"));
    cautions
}

/// The message that names a hazard in a word or two.
pub fn hazard_name(hazard: Hazard) -> &'static str {
    match hazard {
        Hazard::Injection => "hazard-injection",
        Hazard::Exhaust => "hazard-exhaust",
        Hazard::RotatingParts => "hazard-rotating-parts",
        Hazard::Battery => "hazard-battery",
        Hazard::Heat => "hazard-heat",
        Hazard::Fire => "hazard-fire",
        Hazard::Lifting => "hazard-lifting",
        Hazard::Electricity => "hazard-electricity",
        Hazard::PressurisedGas => "hazard-pressurised-gas",
        Hazard::FlueGas => "hazard-flue-gas",
        Hazard::Hydraulics => "hazard-hydraulics",
        Hazard::MovingMachine => "hazard-moving-machine",
    }
}

/// What seals and digests show, and what they do not.
pub fn evidence(material: &Material<'_>, words: &Words) -> Vec<String> {
    let mut notes = seals::notes(&material.sealing, words);
    notes.extend(reissued(material, words));
    notes
}

/// Each issue of the report after the first, and why it was made.
pub fn reissued(material: &Material<'_>, words: &Words) -> Vec<String> {
    let reasons = material.job.work.reissued.iter();
    let told = reasons.zip(1..).map(|(why, before)| {
        let [before, issue] = [before, before + 1].map(|number: usize| number.to_string());
        let said = [("issue", issue.as_str()), ("before", &before), ("why", why)];
        words.say_with("reissued", &said)
    });
    told.collect()
}

/// The input files with their digests.
pub fn inputs(material: &Material<'_>, words: &Words) -> Vec<InputRow> {
    material
        .inputs
        .iter()
        .map(|input| InputRow {
            name: input.name.clone(),
            digest: input.digest.clone(),
            size: figures::bytes(input.size, words),
            caption: input.caption.clone(),
            place: words.say(if input.attached {
                "input-attached"
            } else {
                "input-listed"
            }),
        })
        .collect()
}
