//! Reasons and reservations in sentences.

use super::Material;
use super::conditions;
use super::figures;
use super::places;
use super::words::Words;
use crate::job::{Condition, Limits};
use crate::judge::{Doubt, LeftOut, Reason, Reservation};

/// The reasons of a verdict that is not "verified", one sentence each; all
/// conditions of one kind in one sentence.
pub fn reasons(material: &Material<'_>, words: &Words) -> Vec<String> {
    let reasons = &material.judgement.reasons;
    let measure =
        |id: &str, reason: &str| words.say_with(id, &[("name", &measure_name(material, reason))]);
    let mut sentences = Vec::new();
    let (mut easier, mut unknown, mut harder) = (Vec::new(), Vec::new(), Vec::new());
    for reason in reasons {
        match reason {
            Reason::Fails {
                measure: id,
                positions,
            } => sentences.push(failing(material, id, positions, words)),
            Reason::ImprovementAbsent { measure: id, worse } => {
                let message = if *worse {
                    "reason-improvement-absent-worse"
                } else {
                    "reason-improvement-absent"
                };
                sentences.push(measure(message, id));
            }
            Reason::TooCoarse(id) => sentences.push(measure("reason-too-coarse", id)),
            Reason::VariationNotKnown(id) => {
                sentences.push(measure("reason-variation-not-known", id));
            }
            Reason::Inconclusive(id) => sentences.push(measure("reason-inconclusive", id)),
            Reason::NoImprovementShown(id) => {
                sentences.push(measure("reason-no-improvement-shown", id));
            }
            Reason::NotTaken {
                measure: id,
                positions,
                why,
            } => {
                sentences.push(not_taken(material, id, positions, why, words));
            }
            Reason::GotWorse { said: true, .. } | Reason::AllRequiredPass(_) => {}
            Reason::GotWorse {
                measure: id,
                said: false,
            } => sentences.push(measure("reason-got-worse", id)),
            Reason::NothingRequired => sentences.push(words.say("reason-nothing-required")),
            Reason::NotCold(id) => {
                let name = condition_name(material, id);
                sentences.push(words.say_with("reason-not-cold", &[("name", &name)]));
            }
            Reason::ConditionEasier(id) => easier.push(condition_figures(material, id, words)),
            Reason::ConditionHarder(id) => harder.push(condition_figures(material, id, words)),
            Reason::ConditionUnknown(id) => unknown.push(condition_name(material, id)),
        }
    }
    for (message, names) in [
        ("reason-condition-easier", easier),
        ("reason-condition-unknown", unknown),
        ("reason-condition-harder", harder),
    ] {
        if !names.is_empty() {
            sentences.push(words.say_with(message, &[("names", &names.join("; "))]));
        }
    }
    sentences
}

/// Why a measure fails: at which positions, where it has some.
fn failing(material: &Material<'_>, id: &str, positions: &[String], words: &Words) -> String {
    let name = measure_name(material, id);
    if positions.is_empty() {
        return words.say_with("reason-fails", &[("name", &name)]);
    }
    let at = at(material, id, positions, words);
    words.say_with("reason-fails-at", &[("name", &name), ("at", &at)])
}

/// Positions of a measure: `cylinder 2, 4`.
fn at(material: &Material<'_>, id: &str, names: &[String], words: &Words) -> String {
    let measure = material.job.plan.limits.measure(id);
    let at = measure.and_then(|measure| measure.kind.at());
    at.map_or_else(|| names.join(", "), |at| places::several(at, names, words))
}

/// What looks wrong in a run, in a sentence.
pub fn doubt(doubt: &Doubt, limits: &Limits, words: &Words) -> String {
    let (message, name) = match doubt {
        Doubt::StandsOut(id) => ("reservation-stands-out", name_of(limits, id)),
        Doubt::DecimalPoint(id) => ("reservation-decimal-point", name_of(limits, id)),
        Doubt::ImplausibleCondition(id) => {
            let message = "reservation-implausible-condition";
            (message, condition_name_of(limits, id))
        }
    };
    words.say_with(message, &[("name", &name)])
}

/// What looks wrong in a run before it is sealed: a heading and a sentence for each, or
/// nothing.
pub fn look_again(found: &[Doubt], limits: &Limits, words: &Words) -> Vec<String> {
    let sentences = found.iter().map(|one| doubt(one, limits, words));
    let heading = (!found.is_empty()).then(|| words.say("look-again"));
    heading.into_iter().chain(sentences).collect()
}

/// The printed name of a measure.
pub fn measure_name(material: &Material<'_>, id: &str) -> String {
    name_of(&material.job.plan.limits, id)
}

fn name_of(limits: &Limits, id: &str) -> String {
    let measure = limits.measure(id);
    measure.map_or_else(|| id.to_owned(), |measure| measure.name.clone())
}

/// The printed name of a condition, with what both runs found.
pub fn condition_figures(material: &Material<'_>, id: &str, words: &Words) -> String {
    let condition = condition_of(&material.job.plan.limits, id);
    condition.map_or_else(
        || id.to_owned(),
        |condition| {
            let [before, after] = [&material.job.baseline, &material.job.retest]
                .map(|run| conditions::shown(run, condition, words));
            let variables = [
                ("name", condition.name.as_str()),
                ("before", &before),
                ("after", &after),
            ];
            words.say_with("condition-figures", &variables)
        },
    )
}

/// The printed name of a condition.
pub fn condition_name(material: &Material<'_>, id: &str) -> String {
    condition_name_of(&material.job.plan.limits, id)
}

fn condition_name_of(limits: &Limits, id: &str) -> String {
    condition_of(limits, id).map_or_else(|| id.to_owned(), |condition| condition.name.clone())
}

fn condition_of<'a>(limits: &'a Limits, id: &str) -> Option<&'a Condition> {
    let mut planned = limits.conditions.iter();
    planned.find(|condition| condition.id == id)
}

/// The reservations, one sentence each.
pub fn reservations(material: &Material<'_>, words: &Words) -> Vec<String> {
    let all = material.judgement.reservations.iter();
    all.map(|one| reservation(one, material, words)).collect()
}

/// That a measure was not read, or not at `positions`.
pub fn not_taken(
    material: &Material<'_>,
    id: &str,
    positions: &[String],
    why: &str,
    words: &Words,
) -> String {
    let (name, why) = (measure_name(material, id), why.trim_end_matches('.'));
    let at = at(material, id, positions, words);
    let variables = [("name", name.as_str()), ("why", why), ("at", &at)];
    let message = if positions.is_empty() {
        "reason-not-taken"
    } else {
        "reason-not-taken-at"
    };
    words.say_with(message, &variables)
}

/// Reservations of one kind: the first in a sentence, the others by what they name.
pub fn of_one_kind(kind: &[&Reservation], material: &Material<'_>, words: &Words) -> String {
    let [first, others @ ..] = kind else {
        return String::new();
    };
    let sentence = reservation(first, material, words);
    let names: Vec<String> = others
        .iter()
        .filter_map(|one| subject(one, material))
        .collect();
    if names.is_empty() {
        return sentence;
    }
    let also = words.say_with("reservation-also", &[("names", &names.join("; "))]);
    format!("{sentence} {also}")
}

/// What a reservation is about, by its printed name; none where it names nothing.
fn subject(reservation: &Reservation, material: &Material<'_>) -> Option<String> {
    Some(match reservation {
        Reservation::ConditionalPass(id)
        | Reservation::OtherOutside(id)
        | Reservation::OtherWorse(id)
        | Reservation::ScatterNotKnown(id)
        | Reservation::BatteryNotRecorded(id)
        | Reservation::AttemptsDiffer(id)
        | Reservation::NotTakenBefore(id)
        | Reservation::NotAsItShould(id)
        | Reservation::WorseWithinLimit(id)
        | Reservation::VariationNotKnown(id)
        | Reservation::ScattersDiffer(id)
        | Reservation::ScatterExceedsStated(id)
        | Reservation::RepeatsDiffer(id) => measure_name(material, id),
        Reservation::OtherCondition(id)
        | Reservation::BaselineNotCold(id)
        | Reservation::RetestNotCold(id)
        | Reservation::ConditionHelped(id) => condition_name(material, id),
        Reservation::CalibratedLater(id)
        | Reservation::CalibrationOverdue { instrument: id, .. } => {
            let instrument = material.job.plan.instrument(id);
            instrument.map_or_else(|| id.clone(), |instrument| instrument.kind.clone())
        }
        Reservation::FaultNotShown
        | Reservation::NoConditions
        | Reservation::UncertaintyNotCounted
        | Reservation::ShortSoak
        | Reservation::MeterBackwards
        | Reservation::MeterBehindRunIn
        | Reservation::GradedByOthers
        | Reservation::WorseAt { .. }
        | Reservation::LeftOut { .. }
        | Reservation::LookAgain(_) => return None,
    })
}

/// A reservation in a sentence.
pub fn reservation(reservation: &Reservation, material: &Material<'_>, words: &Words) -> String {
    let measure =
        |id: &str, name: &str| words.say_with(id, &[("name", &measure_name(material, name))]);
    let condition =
        |id: &str, name: &str| words.say_with(id, &[("name", &condition_name(material, name))]);
    match reservation {
        Reservation::ConditionalPass(id) => measure("reservation-conditional-pass", id),
        Reservation::FaultNotShown => words.say("reservation-fault-not-shown"),
        Reservation::OtherOutside(id) => measure("reservation-other-outside", id),
        Reservation::OtherWorse(id) => measure("reservation-other-worse", id),
        Reservation::OtherCondition(id) => condition("reservation-other-condition", id),
        Reservation::BaselineNotCold(id) => condition("reservation-baseline-not-cold", id),
        Reservation::ScatterNotKnown(id) => measure("reservation-scatter-not-known", id),
        Reservation::BatteryNotRecorded(id) => measure("reservation-battery-not-recorded", id),
        Reservation::RetestNotCold(id) => condition("reservation-retest-not-cold", id),
        Reservation::ConditionHelped(id) => {
            let figures = condition_figures(material, id, words);
            words.say_with("reservation-condition-helped", &[("name", &figures)])
        }
        Reservation::CalibratedLater(id) => {
            let kind = material
                .job
                .plan
                .instrument(id)
                .map_or("", |i| i.kind.as_str());
            words.say_with("reservation-calibrated-later", &[("instrument", kind)])
        }
        Reservation::ShortSoak => words.say("reservation-short-soak"),
        Reservation::NoConditions => words.say("reservation-no-conditions"),
        Reservation::UncertaintyNotCounted => words.say("reservation-uncertainty-not-counted"),
        Reservation::MeterBackwards => words.say("reservation-meter-backwards"),
        Reservation::MeterBehindRunIn => words.say("reservation-meter-behind-run-in"),
        Reservation::AttemptsDiffer(id) => measure("reservation-attempts-differ", id),
        Reservation::NotAsItShould(id) => measure("reservation-not-as-it-should", id),
        Reservation::WorseWithinLimit(id) => measure("reservation-worse-within-limit", id),
        Reservation::VariationNotKnown(id) => measure("reservation-variation-not-known", id),
        Reservation::ScattersDiffer(id) => measure("reservation-scatters-differ", id),
        Reservation::ScatterExceedsStated(id) => measure("reservation-scatter-exceeds-stated", id),
        Reservation::LookAgain(doubt) => self::doubt(doubt, &material.job.plan.limits, words),
        Reservation::NotTakenBefore(id) => measure("reservation-not-taken-before", id),
        Reservation::GradedByOthers => words.say("reservation-graded-by-others"),
        Reservation::WorseAt {
            measure: id,
            positions,
        } => {
            let (name, at) = (
                measure_name(material, id),
                at(material, id, positions, words),
            );
            words.say_with("reservation-worse-at", &[("name", &name), ("at", &at)])
        }
        Reservation::LeftOut { measure: id, runs } => left_out(id, runs, material, words),
        Reservation::RepeatsDiffer(id) => measure("reservation-repeats-differ", id),
        Reservation::CalibrationOverdue { instrument, due } => {
            let kind = material
                .job
                .plan
                .instrument(instrument)
                .map_or("", |i| i.kind.as_str());
            words.say_with(
                "reservation-calibration-overdue",
                &[("instrument", kind), ("due", &figures::day(*due, words))],
            )
        }
    }
}

/// What is left out of the figure `id` in the runs that have something left out.
fn left_out(id: &str, runs: &[Vec<LeftOut>; 2], material: &Material<'_>, words: &Words) -> String {
    let limits = &material.job.plan.limits;
    let [before, after] = runs.each_ref().map(|run| {
        let each = run.iter().filter_map(|one| {
            let at = limits.measure(&one.measure)?.kind.at()?;
            let positions = places::several(at, &one.positions, words);
            let variables = [
                ("at", positions.as_str()),
                ("read", &one.read.to_string()),
                ("of", &at.len().to_string()),
                ("many", &places::many(at, words)),
            ];
            Some(words.say_with("left-out-over", &variables))
        });
        each.collect::<Vec<_>>().join("; ")
    });
    let name = measure_name(material, id);
    let message = match (before.as_str(), after.as_str()) {
        ("", _) => "reservation-left-out-after",
        (_, "") => "reservation-left-out-before",
        (_, _) => "reservation-left-out-both",
    };
    let variables = [("name", &*name), ("before", &*before), ("after", &*after)];
    words.say_with(message, &variables)
}
