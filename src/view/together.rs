//! What ties the two runs to each other, in words: beside a change in a few, under
//! "How this was judged" in full.

use std::collections::BTreeMap;

use super::Material;
use super::limits;
use super::measures::found;
use super::words::Words;
use crate::judge::{Common, Comparison, Finding};

/// A few words beside a change; empty where the runs are independent.
pub fn beside(comparison: &Comparison, words: &Words) -> String {
    match &comparison.together.common {
        Some(_) => words.say("change-common"),
        None => String::new(),
    }
}

/// One paragraph for each tie.
pub fn paragraphs(material: &Material<'_>, words: &Words) -> Vec<String> {
    common(material, words)
}

/// One paragraph for each instrument whose error is common, with the changes it
/// cancels in.
fn common(material: &Material<'_>, words: &Words) -> Vec<String> {
    let mut by_instrument: BTreeMap<&str, (&Common, Vec<String>)> = BTreeMap::new();
    for (measure, found) in found(material) {
        let named: Vec<(String, &Comparison)> = match &found.finding {
            Finding::Value(comparison) => vec![(measure.name.clone(), comparison)],
            Finding::Cylinders { cylinders, .. } => cylinders
                .first()
                .map(|cylinder| (measure.name.clone(), cylinder))
                .into_iter()
                .collect(),
            Finding::Smoke(parts) => parts
                .iter()
                .map(|part| {
                    let name = limits::smoke_name(part.part, &measure.name, words);
                    (name, &part.comparison)
                })
                .collect(),
            _ => Vec::new(),
        };
        for (name, comparison) in named {
            if let Some(common) = &comparison.together.common {
                let (_, names) = by_instrument
                    .entry(&common.instrument)
                    .or_insert((common, Vec::new()));
                names.push(words.say_with("quoted", &[("name", &name)]));
            }
        }
    }
    by_instrument
        .into_values()
        .map(|(common, names)| {
            let kind = material.job.instrument(&common.instrument);
            words.say_with(
                "rule-common",
                &[
                    ("names", &names.join(", ")),
                    ("instrument", kind.map_or("", |i| i.kind.as_str())),
                    ("reason", common.reason.trim_end_matches('.')),
                ],
            )
        })
        .collect()
}
