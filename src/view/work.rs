//! What was done, what it took, and what it cost.

use super::Material;
use super::data::{Pair, Work};
use super::figures;
use super::words::Words;
use crate::job::{Cost, Job, NotNeeded, RunIn};
use crate::judge::{Attribution, attribution};

/// The section on the work.
pub fn work(material: &Material<'_>, words: &Words) -> Work {
    let work = &material.job.work;
    let pair = |label: &str, text: String| Pair {
        label: label.to_owned(),
        text,
    };
    Work {
        about: words.say_with(
            "work-about",
            &[
                ("by", &work.by),
                ("started", &figures::moment(work.started, words)),
                ("finished", &figures::moment(work.finished, words)),
            ],
        ),
        interventions: work
            .interventions
            .iter()
            .map(|item| pair(&item.what, item.why.clone().unwrap_or_default()))
            .collect(),
        attribution: credited(material, words),
        supplies: supplies(material, words),
        ruled_out: work
            .ruled_out
            .iter()
            .map(|item| pair(&item.what, item.how.clone()))
            .collect(),
        also_found: work
            .also_found
            .iter()
            .map(|finding| {
                let outcome = words.say(if finding.is_repaired() {
                    "finding-repaired"
                } else {
                    "finding-left"
                });
                let text = match &finding.note {
                    Some(note) => format!("{outcome}. {note}"),
                    None => outcome,
                };
                pair(&finding.what, text)
            })
            .collect(),
        watch: work.watch.clone(),
        not_needed: work
            .not_needed
            .iter()
            .map(|item| not_needed(item, material.job, words))
            .collect(),
        run_in: work.run_in.as_ref().map_or_else(
            || words.say("run-in-none"),
            |run_in| run_in_text(run_in, words),
        ),
        cost: work
            .cost
            .as_ref()
            .map_or_else(Vec::new, |cost| cost_rows(material, cost, words)),
    }
}

/// What the change is credited to: never to one of several things.
fn credited(material: &Material<'_>, words: &Words) -> String {
    match attribution(material.job) {
        Attribution::One(what) => words.say_with("attribution-one", &[("what", what)]),
        Attribution::Several(several) => words.say_count("attribution-several", several),
    }
}

fn supplies(material: &Material<'_>, words: &Words) -> Vec<Pair> {
    let work = &material.job.work;
    let parts = work.parts.iter().map(|part| Pair {
        label: match &part.number {
            Some(number) => {
                words.say_with("part-number", &[("name", &part.name), ("number", number)])
            }
            None => part.name.clone(),
        },
        text: match (part.price, &work.cost) {
            (Some(price), Some(cost)) => words.say_with(
                "part-price",
                &[
                    ("quantity", &part.quantity.to_string()),
                    ("price", &figures::money(price, cost.currency, words)),
                ],
            ),
            (Some(_), None) | (None, _) => part.quantity.to_string(),
        },
    });
    let fluids = work.fluids.iter().map(|fluid| Pair {
        label: fluid.name.clone(),
        text: figures::written(fluid.amount, words),
    });
    parts.chain(fluids).collect()
}

fn run_in_text(run_in: &RunIn, words: &Words) -> String {
    let mut parts = Vec::new();
    parts.extend(run_in.time.map(|time| figures::written(time, words)));
    parts.extend(
        run_in
            .distance
            .map(|distance| figures::written(distance, words)),
    );
    parts.extend(
        run_in
            .starts
            .map(|starts| words.say_count("run-in-starts", starts as usize)),
    );
    match (parts.is_empty(), &run_in.note) {
        (true, None) => words.say("run-in-none"),
        (true, Some(note)) => note.clone(),
        (false, None) => parts.join(", "),
        (false, Some(note)) => format!("{} ({note})", parts.join(", ")),
    }
}

/// Something that did not have to be bought, with whose estimate of its price.
pub fn not_needed(item: &NotNeeded, job: &Job, words: &Words) -> String {
    match (&item.estimate, &job.work.cost) {
        (Some((amount, by)), Some(cost)) => words.say_with(
            "not-needed-estimate",
            &[
                ("what", &item.what),
                ("amount", &figures::money(*amount, cost.currency, words)),
                ("by", by),
            ],
        ),
        (Some(_), None) | (None, _) => item.what.clone(),
    }
}

/// The cost for page 1: labour, parts, the rest, and the total.
pub fn cost_in_short(cost: &Cost, words: &Words) -> Vec<Pair> {
    amounts(words.say("cost-labour"), cost, words)
}

fn cost_rows(material: &Material<'_>, cost: &Cost, words: &Words) -> Vec<Pair> {
    let labour = match material.job.work.labour {
        Some(hours) => words.say_with(
            "cost-labour-hours",
            &[("hours", &figures::written(hours, words))],
        ),
        None => words.say("cost-labour"),
    };
    amounts(labour, cost, words)
}

/// What was charged for each, as far as it is known; labour is called `labour`.
fn amounts(labour: String, cost: &Cost, words: &Words) -> Vec<Pair> {
    let rows = [
        (labour, cost.labour),
        (words.say("cost-parts"), cost.parts),
        (words.say("cost-rest"), cost.rest()),
        (words.say("cost-total"), Some(cost.total)),
    ];
    rows.into_iter()
        .filter_map(|(label, amount)| {
            Some(Pair {
                label,
                text: figures::money(amount?, cost.currency, words),
            })
        })
        .collect()
}
