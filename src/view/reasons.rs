//! Reasons and reservations in sentences.

use super::Material;
use super::figures;
use super::words::Words;
use crate::job::Observation;
use crate::judge::{Finding, Outcome, Reason, Reservation};

/// The reasons of a verdict that is not "verified", one sentence each; all
/// conditions of one kind in one sentence.
pub fn reasons(material: &Material<'_>, words: &Words) -> Vec<String> {
    let reasons = &material.judgement.reasons;
    let measure =
        |id: &str, reason: &str| words.say_with(id, &[("name", &measure_name(material, reason))]);
    let is_worse = |id: &String| reasons.contains(&Reason::GotWorse(id.clone()));
    let mut sentences: Vec<String> = reasons
        .iter()
        .filter_map(|reason| match reason {
            Reason::Fails(id) => Some(failing(material, id, words)),
            Reason::ImprovementAbsent(id) if is_worse(id) => {
                Some(measure("reason-improvement-worse", id))
            }
            Reason::ImprovementAbsent(id) => Some(measure("reason-improvement-absent", id)),
            Reason::TooNear(id) => Some(measure("reason-too-near", id)),
            Reason::NoImprovementShown(id) => Some(measure("reason-no-improvement", id)),
            // That was said of an improvement that was required.
            Reason::GotWorse(id) if reasons.contains(&Reason::ImprovementAbsent(id.clone())) => {
                None
            }
            Reason::NotTaken(id) => Some(not_taken(material, id, words)),
            Reason::GotWorse(id) => Some(measure("reason-worse", id)),
            Reason::NothingRequired => Some(words.say("reason-nothing-required")),
            Reason::NotCold(id) => Some(words.say_with(
                "reason-not-cold",
                &[("name", &condition_name(material, id))],
            )),
            Reason::AllPass(_) | Reason::Easier(_) | Reason::ConditionUnknown(_) => None,
        })
        .collect();
    let mut conditions = |message: &str, pick: fn(&Reason) -> Option<&String>| {
        let names: Vec<String> = reasons
            .iter()
            .filter_map(pick)
            .map(|id| condition_name(material, id))
            .collect();
        if !names.is_empty() {
            let list = names.join("; ");
            sentences.push(words.say_with(message, &[("names", &list)]));
        }
    };
    conditions("reason-easier", |reason| match reason {
        Reason::Easier(id) => Some(id),
        _ => None,
    });
    conditions("reason-unknown", |reason| match reason {
        Reason::ConditionUnknown(id) => Some(id),
        _ => None,
    });
    sentences
}

/// That a measure was not read in the retest, and why.
fn not_taken(material: &Material<'_>, id: &str, words: &Words) -> String {
    let name = measure_name(material, id);
    let reading = material.job.retest.readings.get(id);
    let why = match reading.map(|reading| &reading.observation) {
        Some(Observation::NotTaken(why)) => why.trim_end_matches('.'),
        _ => "",
    };
    words.say_with("reason-not-taken", &[("name", &name), ("why", why)])
}

/// Why a measure fails: which cylinders, where it has some.
fn failing(material: &Material<'_>, id: &str, words: &Words) -> String {
    let name = measure_name(material, id);
    let found = material
        .judgement
        .measures
        .iter()
        .find(|found| found.id == id);
    let outside: Vec<String> = match found.map(|found| &found.finding) {
        Some(Finding::Cylinders { cylinders, .. }) => {
            let rule = material.judgement.rule;
            numbered(cylinders, |cylinder| {
                cylinder.outcome(rule) == Outcome::Fail
            })
        }
        Some(Finding::CylinderPasses { cylinders, .. }) => {
            numbered(cylinders, |cylinder| cylinder.outcome == Outcome::Fail)
        }
        _ => Vec::new(),
    };
    if outside.is_empty() {
        words.say_with("reason-fails", &[("name", &name)])
    } else {
        let cylinders = outside.join(", ");
        words.say_with(
            "reason-fails-cylinders",
            &[("name", &name), ("cylinders", &cylinders)],
        )
    }
}

fn numbered<T>(cylinders: &[T], test: impl Fn(&T) -> bool) -> Vec<String> {
    cylinders
        .iter()
        .enumerate()
        .filter(|(_, cylinder)| test(cylinder))
        .map(|(index, _)| (index + 1).to_string())
        .collect()
}

/// The printed name of a measure.
pub fn measure_name(material: &Material<'_>, id: &str) -> String {
    material
        .job
        .limits
        .measure(id)
        .map_or_else(|| id.to_owned(), |m| m.name.clone())
}

/// The printed name of a condition.
pub fn condition_name(material: &Material<'_>, id: &str) -> String {
    let conditions = &material.job.limits.conditions;
    conditions
        .iter()
        .find(|condition| condition.id == id)
        .map_or_else(|| id.to_owned(), |condition| condition.name.clone())
}

/// The reservations, one sentence each.
pub fn reservations(material: &Material<'_>, words: &Words) -> Vec<String> {
    let measure =
        |id: &str, name: &str| words.say_with(id, &[("name", &measure_name(material, name))]);
    let condition =
        |id: &str, name: &str| words.say_with(id, &[("name", &condition_name(material, name))]);
    material
        .judgement
        .reservations
        .iter()
        .map(|reservation| match reservation {
            Reservation::NarrowPass(id) => measure("reservation-narrow", id),
            Reservation::FaultNotShown => words.say("reservation-fault-not-shown"),
            Reservation::OtherOutside(id) => measure("reservation-other-outside", id),
            Reservation::OtherWorse(id) => measure("reservation-other-worse", id),
            Reservation::OtherCondition(id) => condition("reservation-other-condition", id),
            Reservation::BaselineNotCold(id) => condition("reservation-not-cold", id),
            Reservation::ScatterNotKnown(id) => measure("reservation-scatter-not-known", id),
            Reservation::BatteryNotRecorded(id) => measure("reservation-battery-not-recorded", id),
            Reservation::RetestNotCold(id) => condition("reservation-retest-not-cold", id),
            Reservation::Helped(id) => condition("reservation-helped", id),
            Reservation::CalibratedLater(id) => {
                let kind = material.job.instrument(id).map_or("", |i| i.kind.as_str());
                words.say_with("reservation-calibrated-later", &[("instrument", kind)])
            }
            Reservation::ShortSoak => words.say("reservation-short-soak"),
            Reservation::NoConditions => words.say("reservation-no-conditions"),
            Reservation::UncertaintyNotCounted => words.say("reservation-simple-rule"),
            Reservation::MeterBackwards => words.say("reservation-meter"),
            Reservation::MeterBehindRunIn => words.say("reservation-meter-run-in"),
            Reservation::RepeatsDiffer(id) => measure("reservation-repeats", id),
            Reservation::Overdue { instrument, due } => {
                let kind = material
                    .job
                    .instrument(instrument)
                    .map_or("", |i| i.kind.as_str());
                words.say_with(
                    "reservation-overdue",
                    &[("instrument", kind), ("due", &figures::day(*due, words))],
                )
            }
        })
        .collect()
}
