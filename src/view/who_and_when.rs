//! Whose machine it is, and who measured it when.

use chrono::NaiveDate;

use super::Material;
use super::data::{Pair, RunColumn};
use super::figures;
use super::words::Words;
use crate::job::{Customer, Machine, Plan};

/// Customer, machine and dates.
pub fn about(plan: &Plan, words: &Words) -> Vec<Pair> {
    identity(&plan.customer, &plan.machine, plan.received, words)
}

/// Whose machine it is, what identifies it, and when it was received.
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
