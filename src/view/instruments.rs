//! The instruments: what is known of their errors, and whether they were in calibration.

use super::Material;
use super::data::InstrumentRow;
use super::figures;
use super::words::Words;
use crate::job::Instrument;
use crate::judge::{InstrumentUse, Used};

/// The instruments that were used.
pub fn rows(material: &Material<'_>, words: &Words) -> Vec<InstrumentRow> {
    let used = material.judgement.instruments.iter();
    used.filter_map(|used| Some((material.job.plan.instrument(&used.id)?, used)))
        .map(|(instrument, used)| InstrumentRow {
            id: instrument.id.clone(),
            kind: match &instrument.serial {
                Some(serial) => {
                    let serial = words.say_with("serial", &[("serial", serial)]);
                    format!("{}, {serial}", instrument.kind)
                }
                None => instrument.kind.clone(),
            },
            errors: errors(instrument, words),
            calibrated: calibration(instrument, used, words),
        })
        .collect()
}

/// "With" and the ids of instruments, those that were overdue called so; may be empty.
pub fn read_with(used: &[Used], words: &Words) -> String {
    let ids: Vec<String> = used
        .iter()
        .map(|used| {
            let message = if used.overdue {
                "overdue-id"
            } else {
                "plain-id"
            };
            words.say_with(message, &[("id", &used.instrument)])
        })
        .collect();
    if ids.is_empty() {
        return String::new();
    }
    words.say_with("read-with", &[("ids", &ids.join(", "))])
}

fn errors(instrument: &Instrument, words: &Words) -> String {
    let figure = |error| figures::written(error, words);
    let mut parts = Vec::new();
    let accuracy = match (instrument.accuracy_of_reading, instrument.accuracy) {
        (Some(share), Some(fixed)) => Some(words.say_with(
            "error-both",
            &[("percent", &figure(share)), ("fixed", &figure(fixed))],
        )),
        (Some(share), None) => {
            Some(words.say_with("error-percent", &[("percent", &figure(share))]))
        }
        (None, Some(fixed)) => Some(words.say_with("error-fixed", &[("fixed", &figure(fixed))])),
        (None, None) => None,
    };
    parts.extend(accuracy);
    if let Some(step) = instrument.resolution {
        parts.push(words.say_with("error-resolution", &[("step", &figure(step))]));
    }
    if let Some(u) = instrument.hand_timing {
        parts.push(words.say_with("error-hand", &[("u", &figure(u))]));
    }
    if let Some(stated) = instrument.stated {
        let k = figures::shortest(stated.k, words);
        parts.push(words.say_with(
            "error-stated",
            &[("u", &figure(stated.expanded)), ("k", &k)],
        ));
    }
    parts.join("; ")
}

fn calibration(instrument: &Instrument, used: &InstrumentUse, words: &Words) -> String {
    let day = |day| figures::day(day, words);
    let due = match (used.overdue, instrument.due) {
        (Some(due), _) => Some(("calibration-overdue", due)),
        (None, Some(due)) => Some(("calibration-due", due)),
        (None, None) => None,
    };
    let due = due.map(|(id, due)| words.say_with(id, &[("due", &day(due))]));
    let certificate = instrument.certificate.as_ref();
    let certificate =
        certificate.map(|number| words.say_with("calibration-certificate", &[("number", number)]));
    let parts = instrument.calibrated.map(day).into_iter().chain(due);
    let parts = parts
        .chain(certificate)
        .chain(instrument.laboratory.clone());
    let parts: Vec<String> = parts.collect();
    if parts.is_empty() {
        return words.say("calibration-none");
    }
    parts.join(", ")
}
