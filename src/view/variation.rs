//! How the machine's own variation from run to run bears on a result, in words: beside a
//! change, on the customer's page, and in full under "How this was judged".

use super::Material;
use super::figures;
use super::words::Words;
use crate::job::{Measure, RunToRun, Spread};
use crate::judge::{Comparison, HoldsInShort};
use crate::quantity::{Estimate, Unit};

/// A few words beside a change: how large the variation would have to be for it to fall.
pub fn beside_change(comparison: &Comparison, words: &Words) -> Option<String> {
    let unless = comparison.holds_unless?.change?;
    let baseline = comparison.relative.as_ref().map(|_| &comparison.baseline);
    let share = baseline.map(|baseline| share(unless, baseline, words));
    let amount = amount(unless, comparison.scale.unit, words);
    Some(match share {
        Some(share) => {
            let variables = [("amount", amount.as_str()), ("share", share.as_str())];
            words.say_with("change-holds-share", &variables)
        }
        None => words.say_with("change-holds", &[("amount", &amount)]),
    })
}

/// The same beside a result at a limit.
pub fn beside_limit(comparison: &Comparison, words: &Words) -> Option<String> {
    let unless = comparison.holds_unless?.limit?;
    let amount = amount(unless, comparison.scale.unit, words);
    Some(words.say_with("limit-holds", &[("amount", &amount)]))
}

/// The sentence on the customer's page.
pub fn in_short(holds: HoldsInShort, material: &Material<'_>, words: &Words) -> String {
    let measures = &material.job.plan.limits.measures;
    let name = measures.get(holds.measure).map_or("", |m| m.name.as_str());
    let Some(unless) = holds.unless else {
        return words.say_with("holds-not-counted", &[("name", name)]);
    };
    let amount = amount(unless, holds.unit, words);
    match holds.share.map(|share| percent(share, words)) {
        Some(share) => {
            let variables = [("name", name), ("amount", &amount), ("share", &share)];
            words.say_with("holds-unless-share", &variables)
        }
        None => words.say_with("holds-unless", &[("name", name), ("amount", &amount)]),
    }
}

/// One paragraph for each measure of which it is known how it varies, and one for those of
/// which it is not.
pub fn paragraphs(material: &Material<'_>, words: &Words) -> Vec<String> {
    let mut paragraphs = Vec::new();
    let mut unknown = Vec::new();
    for (measure, found) in material.found() {
        let name = words.say_with("quoted", &[("name", &measure.name)]);
        let stated = measure.variation.stated.as_ref();
        paragraphs.extend(stated.map(|stated| stated_of(measure, stated, words)));
        let is_repeated = found.scatter.is_known();
        if measure.variation.separate_runs && is_repeated {
            paragraphs.push(words.say_with("rule-separate-runs", &[("name", &measure.name)]));
        }
        if !measure.variation.is_known(is_repeated) {
            let counts = found.finding.comparisons().next();
            unknown.extend(counts.map(|_| name));
        }
    }
    if !unknown.is_empty() {
        let names = unknown.join(", ");
        paragraphs.push(words.say_with("rule-variation-unknown", &[("names", &names)]));
    }
    paragraphs
}

fn stated_of(measure: &Measure, stated: &RunToRun, words: &Words) -> String {
    let deviation = match stated.spread {
        Spread::Deviation(quantity) | Spread::Percent(quantity) => {
            figures::written(quantity, words)
        }
    };
    let variables = [
        ("name", measure.name.as_str()),
        ("deviation", &deviation),
        ("source", stated.source.trim_end_matches('.')),
    ];
    words.say_with("rule-variation-stated", &variables)
}

/// Two digits of a ± in the unit of differences.
fn amount(si: f64, unit: &Unit, words: &Words) -> String {
    let symbol = unit.of_differences();
    figures::with_unit(
        &figures::two_digits(unit.difference_from_si(si), words),
        symbol,
    )
}

fn share(unless: f64, baseline: &Estimate, words: &Words) -> String {
    percent(unless / baseline.value.abs(), words)
}

fn percent(share: f64, words: &Words) -> String {
    figures::with_unit(&figures::decimal(share * 100.0, 0, words), "%")
}
