//! How the two runs depend on each other, in words: briefly beside a change, in full
//! under "How this was judged". Also the light paths for which an opacity holds.

use std::collections::BTreeMap;

use super::Material;
use super::figures;
use super::limits;
use super::variation;
use super::words::Words;
use crate::judge::{Common, Comparison, LightPath, MeasureFinding};

/// A few words beside a change: what ties the runs, and up to what it holds.
pub fn beside(comparison: &Comparison, words: &Words) -> String {
    let common = comparison
        .together
        .common
        .iter()
        .map(|_| words.say("change-common"));
    let pairs = comparison.signed_rank.iter().map(|test| {
        let pairs = [
            ("pairs", test.pairs.to_string()),
            ("p", probability(test.p, words)),
        ];
        let [pairs, p] = pairs.each_ref().map(|(id, text)| (*id, text.as_str()));
        let id = if test.p.is_some() {
            "change-paired"
        } else {
            "change-paired-few"
        };
        words.say_with(id, &[pairs, p])
    });
    let holds = variation::beside_change(comparison, words);
    let all = common.chain(pairs).chain(holds);
    all.collect::<Vec<_>>().join("; ")
}

/// p to two decimals, or to as many as show that it is not zero.
pub fn probability(p: Option<f64>, words: &Words) -> String {
    p.map_or_else(String::new, |p| {
        if p < 0.0001 {
            format!("< {}", figures::shortest(0.0001, words))
        } else {
            format!("= {}", figures::two_digits(p, words))
        }
    })
}

/// One paragraph for each dependence.
pub fn paragraphs(material: &Material<'_>, words: &Words) -> Vec<String> {
    let mut paragraphs = common(material, words);
    paragraphs.extend(paired(material, words));
    paragraphs
}

/// One paragraph for each opacity that was converted to another light path, or not
/// compared because it was measured over two.
pub fn paths(material: &Material<'_>, words: &Words) -> Vec<String> {
    material
        .found()
        .filter_map(|(measure, found)| match &found.finding {
            MeasureFinding::Smoke { light_path, .. } => path(&measure.name, light_path, words),
            MeasureFinding::Value(_)
            | MeasureFinding::ValueAt { .. }
            | MeasureFinding::Passes(_)
            | MeasureFinding::PassesAt { .. }
            | MeasureFinding::Exact(..)
            | MeasureFinding::ExactAt(_)
            | MeasureFinding::Rate(_)
            | MeasureFinding::List(_)
            | MeasureFinding::Text
            | MeasureFinding::AfterOnly { .. }
            | MeasureFinding::NotTaken { .. } => None,
        })
        .collect()
}

/// What there is to say about the light paths of one measure.
fn path(name: &str, light_path: &LightPath, words: &Words) -> Option<String> {
    let (id, read, converted) = match light_path {
        LightPath::AsRead => return None,
        LightPath::Unlike(read) => ("rule-path-unlike", read, Vec::new()),
        LightPath::Converted {
            read,
            to,
            measured,
            unit,
        } => {
            let [before, after] = measured.each_ref().map(|estimate| {
                let figure = figures::value_pm(estimate, unit, None, words);
                figures::with_unit(&figure, unit.symbol())
            });
            let to = figures::written(*to, words);
            let figures = vec![("before", before), ("after", after), ("path", to)];
            ("rule-path-converted", read, figures)
        }
    };
    let [before, after] = read.map(|path| figures::written(path, words));
    let mut variables = vec![
        ("name", name),
        ("before_path", before.as_str()),
        ("after_path", after.as_str()),
    ];
    variables.extend(converted.iter().map(|(id, text)| (*id, text.as_str())));
    Some(words.say_with(id, &variables))
}

/// One paragraph for each measure whose repeats are paired.
fn paired(material: &Material<'_>, words: &Words) -> Vec<String> {
    material
        .found()
        .filter_map(|(measure, found)| match &found.finding {
            MeasureFinding::Value(comparison) => Some((measure, comparison.signed_rank?)),
            MeasureFinding::ValueAt { .. }
            | MeasureFinding::Passes(_)
            | MeasureFinding::PassesAt { .. }
            | MeasureFinding::Exact(..)
            | MeasureFinding::ExactAt(_)
            | MeasureFinding::Rate(_)
            | MeasureFinding::List(_)
            | MeasureFinding::Smoke { .. }
            | MeasureFinding::Text
            | MeasureFinding::AfterOnly { .. }
            | MeasureFinding::NotTaken { .. } => None,
        })
        .map(|(measure, test)| {
            let figures = [
                ("pairs", test.pairs.to_string()),
                ("used", test.used.to_string()),
                ("rises", figures::shortest(test.rises, words)),
                ("falls", figures::shortest(test.falls, words)),
                ("p", probability(test.p, words)),
                ("smallest", figures::shortest(test.smallest_p, words)),
            ];
            let mut variables: Vec<(&str, &str)> = vec![("name", &measure.name)];
            variables.extend(figures.iter().map(|(id, text)| (*id, text.as_str())));
            let first = words.say_with("rule-paired", &variables);
            let id = match (test.p, test.used) {
                (Some(_), _) => "rule-paired-test",
                (None, 0) => "rule-paired-none",
                (None, _) => "rule-paired-few",
            };
            format!("{first} {}", words.say_with(id, &variables))
        })
        .collect()
}

/// One paragraph for each instrument whose error is common, with the changes it
/// cancels in.
fn common(material: &Material<'_>, words: &Words) -> Vec<String> {
    let mut by_instrument: BTreeMap<&str, (&Common, Vec<String>)> = BTreeMap::new();
    for (measure, found) in material.found() {
        let named: Vec<(String, &Comparison)> = match &found.finding {
            MeasureFinding::Value(comparison) => vec![(measure.name.clone(), comparison)],
            MeasureFinding::ValueAt(_) => {
                let first = found.finding.comparisons().next();
                first
                    .map(|first| (measure.name.clone(), first))
                    .into_iter()
                    .collect()
            }
            MeasureFinding::Smoke { parts, .. } => parts
                .iter()
                .map(|part| {
                    let name = limits::smoke_name(part.part, part.path, &measure.name, words);
                    (name, &part.comparison)
                })
                .collect(),
            MeasureFinding::Passes(_)
            | MeasureFinding::PassesAt { .. }
            | MeasureFinding::Exact(..)
            | MeasureFinding::ExactAt(_)
            | MeasureFinding::Rate(_)
            | MeasureFinding::List(_)
            | MeasureFinding::Text
            | MeasureFinding::AfterOnly { .. }
            | MeasureFinding::NotTaken { .. } => Vec::new(),
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
            let kind = material.job.plan.instrument(&common.instrument);
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
