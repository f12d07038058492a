//! The desk's pages, measures aside: who and what, words, conditions, runs,
//! instruments.

use chrono::NaiveDate;

use super::Material;
use super::data::{ConditionRow, InstrumentRow, Pair, RunColumn, TextRow};
use super::figures::{self, NBSP};
use super::measures::{is_overdue, named, required};
use super::words::Words;
use crate::job::{
    ConditionKind, ConditionReading, Customer, Instrument, Machine, Observation, Run,
};
use crate::judge::ConditionState;
use crate::quantity::Unit;

/// Customer, machine and dates.
pub fn about(material: &Material<'_>, words: &Words) -> Vec<Pair> {
    let Material { job, .. } = material;
    identity(&job.customer, &job.machine, job.received, words)
}

/// Whose machine it is, what tells it from others, and when it came.
pub fn identity(
    customer: &Customer,
    machine: &Machine,
    received: Option<NaiveDate>,
    words: &Words,
) -> Vec<Pair> {
    let mut makers: Vec<String> = [&machine.maker, &machine.model]
        .into_iter()
        .flatten()
        .cloned()
        .collect();
    if let Some(serial) = &machine.serial {
        makers.push(words.say_with("serial", &[("serial", serial)]));
    }
    let mut whose = vec![customer.name.clone()];
    whose.extend(customer.contact.clone());
    let rows = [
        ("about-customer", whose.join(" · ")),
        ("about-machine", machine.name.clone()),
        ("about-identity", makers.join(", ")),
        ("about-details", machine.details.clone().unwrap_or_default()),
        (
            "about-received",
            received.map_or_else(String::new, |day| figures::day(day, words)),
        ),
    ];
    rows.into_iter()
        .filter(|(_, text)| !text.is_empty())
        .map(|(label, text)| Pair {
            label: words.say(label),
            text,
        })
        .collect()
}

/// Measures in words, and words that came with a smoke reading.
pub fn texts(material: &Material<'_>, words: &Words) -> Vec<TextRow> {
    let job = material.job;
    job.limits
        .measures
        .iter()
        .filter_map(|measure| {
            let text = |run: &Run| match run.readings.get(&measure.id).map(|r| &r.observation) {
                Some(Observation::Text(text)) => Some(text.clone()),
                Some(Observation::Smoke(smoke)) => {
                    let appearance = smoke.appearance.as_ref();
                    let mut parts: Vec<String> =
                        appearance.map(|a| a.colour.clone()).into_iter().collect();
                    if let Some(number) = appearance.and_then(|a| a.ringelmann) {
                        parts.push(format!(
                            "Ringelmann{NBSP}{}",
                            figures::as_written(number, words)
                        ));
                    }
                    parts.extend(smoke.words.clone());
                    (!parts.is_empty()).then(|| parts.join("; "))
                }
                _ => None,
            };
            let (baseline, retest) = (text(&job.baseline), text(&job.retest));
            (baseline.is_some() || retest.is_some()).then(|| TextRow {
                name: measure.name.clone(),
                baseline: baseline.unwrap_or_else(|| "–".to_owned()),
                retest: retest.unwrap_or_else(|| "–".to_owned()),
            })
        })
        .collect()
}

/// Conditions side by side.
pub fn conditions(material: &Material<'_>, words: &Words) -> Vec<ConditionRow> {
    let Material { job, judgement, .. } = material;
    job.limits
        .conditions
        .iter()
        .zip(&judgement.conditions)
        .map(|(condition, found)| {
            let (mark, id) = match found.state {
                ConditionState::Matched => ("matched", "condition-matched"),
                ConditionState::Harder => ("harder", "condition-harder"),
                ConditionState::Easier => ("easier", "condition-easier"),
                ConditionState::Unknown => ("unknown", "condition-unknown"),
            };
            let shown = |run: &Run| match (run.conditions.get(&condition.id), &condition.kind) {
                (
                    Some(ConditionReading::Value { value, .. }),
                    ConditionKind::Value { unit, .. },
                ) => figures::written_in(*value, unit, words),
                (Some(ConditionReading::Text(text)), _) => text.clone(),
                _ => words.say("not-recorded"),
            };
            let mut used: Vec<(&str, bool)> = Vec::new();
            for run in [&job.baseline, &job.retest] {
                if let Some(ConditionReading::Value {
                    instrument: Some(id),
                    ..
                }) = run.conditions.get(&condition.id)
                    && !used.iter().any(|(known, _)| known == id)
                {
                    used.push((id, is_overdue(material, run, id)));
                }
            }
            ConditionRow {
                read_with: named(&used, words),
                name: condition.name.clone(),
                required: required(condition.required, words),
                baseline: shown(&job.baseline),
                retest: shown(&job.retest),
                window: match &condition.kind {
                    ConditionKind::Value {
                        unit, window: most, ..
                    } => window(unit, *most, words),
                    ConditionKind::Text => words.say("window-same"),
                },
                result: words.say(id),
                mark,
            }
        })
        .collect()
}

/// How far a condition may differ and still count as alike: `within 3 K`.
pub fn window(unit: &Unit, window: f64, words: &Words) -> String {
    let window = figures::difference(window, unit, words);
    words.say_with("window", &[("window", &window)])
}

/// The two runs: when, by whom, seen by whom.
pub fn runs(material: &Material<'_>, words: &Words) -> Vec<RunColumn> {
    let job = material.job;
    [(&job.baseline, "run-baseline"), (&job.retest, "run-retest")]
        .into_iter()
        .map(|(run, name)| {
            let rows = [
                ("run-started", Some(figures::moment(run.started, words))),
                (
                    "run-ended",
                    run.ended.map(|ended| figures::moment(ended, words)),
                ),
                ("run-by", Some(run.by.clone())),
                (
                    "run-witness",
                    (!run.witnesses.is_empty()).then(|| run.witnesses.join("; ")),
                ),
                (
                    "run-meter",
                    run.meter.map(|meter| figures::written(meter, words)),
                ),
                ("run-remark", run.note.clone()),
            ];
            RunColumn {
                name: words.say(name),
                rows: rows
                    .into_iter()
                    .filter_map(|(id, text)| {
                        Some(Pair {
                            label: words.say(id),
                            text: text?,
                        })
                    })
                    .collect(),
            }
        })
        .collect()
}

/// The instruments that were used.
pub fn instruments(material: &Material<'_>, words: &Words) -> Vec<InstrumentRow> {
    let job = material.job;
    job.instruments
        .iter()
        .filter(|instrument| job.baseline.uses(&instrument.id) || job.retest.uses(&instrument.id))
        .map(|instrument| InstrumentRow {
            id: instrument.id.clone(),
            kind: match &instrument.serial {
                Some(serial) => {
                    let serial = words.say_with("serial", &[("serial", serial)]);
                    format!("{}, {serial}", instrument.kind)
                }
                None => instrument.kind.clone(),
            },
            errors: errors(instrument, words),
            calibrated: calibration(instrument, job.retest.started.date_naive(), words),
        })
        .collect()
}

fn errors(instrument: &Instrument, words: &Words) -> String {
    let unit = instrument.unit;
    let figure = |si: f64| figures::difference(si, unit, words);
    let percent =
        |fraction: f64| figures::with_unit(&figures::as_written(fraction * 100.0, words), "%");
    let mut parts = Vec::new();
    let accuracy = match (instrument.accuracy_of_reading, instrument.accuracy) {
        (Some(share), Some(fixed)) => Some(words.say_with(
            "error-both",
            &[("percent", &percent(share)), ("fixed", &figure(fixed))],
        )),
        (Some(share), None) => {
            Some(words.say_with("error-percent", &[("percent", &percent(share))]))
        }
        (None, Some(fixed)) => Some(words.say_with("error-fixed", &[("fixed", &figure(fixed))])),
        (None, None) => None,
    };
    parts.extend(accuracy);
    if let Some(step) = instrument.resolution {
        parts.push(words.say_with("error-resolution", &[("step", &figure(step))]));
    }
    if let Some(u) = instrument.hand_timing {
        let u = figures::with_unit(&figures::as_written(u, words), "s");
        parts.push(words.say_with("error-hand", &[("u", &u)]));
    }
    if let Some(stated) = instrument.stated {
        let k = figures::as_written(stated.k, words);
        parts.push(words.say_with(
            "error-stated",
            &[("u", &figure(stated.expanded)), ("k", &k)],
        ));
    }
    parts.join("; ")
}

fn calibration(instrument: &Instrument, used: chrono::NaiveDate, words: &Words) -> String {
    let calibrated = instrument.calibrated.map(|day| figures::day(day, words));
    let due = instrument.due.map(|day| figures::day(day, words));
    let overdue = instrument.due.is_some_and(|due| due < used);
    match (calibrated, due) {
        (None, None) => words.say("calibration-none"),
        (Some(day), None) => day,
        (day, Some(due)) => {
            let id = if overdue {
                "calibration-overdue"
            } else {
                "calibration-due"
            };
            let due = words.say_with(id, &[("due", &due)]);
            day.map_or_else(|| due.clone(), |day| format!("{day}, {due}"))
        }
    }
}
