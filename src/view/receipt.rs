//! The receipt: the page that the customer takes home when the baseline is sealed.

use super::Material;
use super::circumstances;
use super::data::{Pair, Receipt, ReceiptRow};
use super::figures::{self, NBSP};
use super::how_judged;
use super::letterhead;
use super::limits;
use super::measures::{found, of_tries, required};
use super::seals;
use super::words::Words;
use crate::seals::Stage;

use crate::job::{DecisionRule, Kind, Scale};
use crate::judge::{Comparison, Finding, at_limit};

/// The most measures that a receipt shows; the attached files have all.
const ROWS: usize = 14;

/// Builds the receipt from a job as it stood at drop-off. `qr` are the rows of the QR
/// code of the first seal, of dark and light modules.
pub fn receipt(material: &Material<'_>, qr: &[Vec<bool>], words: &Words) -> Receipt {
    let job = material.job;
    let mut rows: Vec<ReceiptRow> = rows(material, words);
    let more = rows.len().saturating_sub(ROWS);
    rows.truncate(ROWS);
    let sealing = &material.sealing;
    let seal = sealing
        .chain
        .latest(Stage::Baseline)
        .map(|link| seals::row(link, words));
    let person = |id: &str, name: &str| words.say_with(id, &[("name", name)]);
    Receipt {
        sheet: letterhead::issued(["receipt-title", "kind-of-receipt"], material, words),
        headline: words.say("receipt-headline"),
        lead: words.say("receipt-lead"),
        about: about(material, words),
        complaint: super::front::shortened(&job.complaint).unwrap_or_else(|| job.complaint.clone()),
        rows,
        more: if more > 0 {
            words.say_count("receipt-more", more)
        } else {
            String::new()
        },
        agreed: agreed(material, words),
        seal,
        qr: qr
            .iter()
            .map(|row| row.iter().map(|dark| u8::from(*dark)).collect())
            .collect(),
        keep: words.say("receipt-keep"),
        steps: seals::receipt_steps(sealing, material.signer.as_ref(), words),
        signature: material
            .signer
            .as_ref()
            .map(|signer| seals::block(signer, material.issued, words)),
        unsigned: if material.signer.is_some() {
            String::new()
        } else {
            words.say("unsigned-receipt")
        },
        signers: [
            person("signs-for-shop", &job.baseline.by),
            person("signs-for-customer", &job.customer.name),
        ],
    }
}

fn about(material: &Material<'_>, words: &Words) -> Vec<Pair> {
    let run = &material.job.baseline;
    let mut rows = circumstances::about(material, words);
    rows.push(Pair {
        label: words.say("receipt-measured"),
        text: words.say_with(
            "receipt-measured-by",
            &[
                ("moment", &figures::moment(run.started, words)),
                ("by", &run.by),
            ],
        ),
    });
    let conditions: Vec<String> = circumstances::conditions(material, words)
        .into_iter()
        .map(|row| {
            words.say_with(
                "receipt-condition",
                &[
                    ("name", &row.name),
                    ("value", &row.baseline),
                    ("window", &row.window),
                ],
            )
        })
        .collect();
    if !conditions.is_empty() {
        rows.push(Pair {
            label: words.say("receipt-conditions"),
            text: conditions.join("; "),
        });
    }
    rows
}

/// What was agreed before the work: the decision rule in a sentence, and with whom.
fn agreed(material: &Material<'_>, words: &Words) -> Vec<String> {
    let limits = &material.job.limits;
    vec![
        words.say(match limits.rule {
            DecisionRule::Simple => "receipt-rule-simple",
            DecisionRule::Guarded => "receipt-rule-guarded",
            DecisionRule::FourZone => "receipt-rule-four-zone",
        }),
        how_judged::agreed(limits, words),
    ]
}

/// Every measure with its baseline, the required ones first.
fn rows(material: &Material<'_>, words: &Words) -> Vec<ReceiptRow> {
    let mut rows: Vec<(bool, ReceiptRow)> = found(material)
        .flat_map(|(measure, found)| {
            let rule = material.judgement.rule;
            let standing_of = |name: &str, value: String, limit: String, outcome| {
                let row = ReceiptRow {
                    name: name.to_owned(),
                    required: required(measure.required, words),
                    value,
                    limit,
                    standing: limits::outcome(outcome, words),
                };
                (!measure.required, row)
            };
            let row = |name: &str, value: String, limit: String| {
                standing_of(name, value, limit, found.outcome_before)
            };
            let value = |comparison: &Comparison, scale: &Scale| {
                figures::value_pm(&comparison.baseline, scale.unit, scale.bounds, words)
            };
            let limit = || limits::of_measure(measure, words);
            let name = &measure.name;
            match (&found.finding, &measure.kind) {
                (Finding::Value(comparison), Kind::Value(scale)) => {
                    let name = limits::with_unit_of(name, scale.unit);
                    vec![row(&name, value(comparison, scale), limit())]
                }
                (Finding::Smoke(parts), _) => parts
                    .iter()
                    .map(|part| {
                        let name = limits::smoke_name(part, measure, words);
                        // What has no limit stands at none.
                        standing_of(
                            &limits::with_unit_of(&name, part.scale.unit),
                            value(&part.comparison, &part.scale),
                            limits::of_scale(&part.scale, words),
                            at_limit(part.comparison.before, rule),
                        )
                    })
                    .collect(),
                (Finding::Cylinders { cylinders, .. }, Kind::Cylinders(scale)) => {
                    let name = limits::with_unit_of(name, scale.unit);
                    let each = cylinders.iter().map(|one| {
                        figures::bare(&one.baseline, scale.unit, scale.bounds, None, words)
                    });
                    vec![row(&name, numbered(each), limit())]
                }
                (Finding::Passes(count), _) => {
                    vec![row(name, of_tries(count.baseline, words), limit())]
                }
                (Finding::CylinderPasses { cylinders, .. }, _) => {
                    let each = cylinders.iter().map(|one| of_tries(one.baseline, words));
                    vec![row(name, numbered(each), limit())]
                }
                _ => Vec::new(),
            }
        })
        .collect();
    rows.sort_by_key(|(optional, _)| *optional);
    rows.into_iter().map(|(_, row)| row).collect()
}

/// The figures of the cylinders, each behind its number: `1: 7.4 · 2: −13.1`.
fn numbered(figures: impl Iterator<Item = String>) -> String {
    let each = figures
        .enumerate()
        .map(|(index, figure)| format!("{}:{NBSP}{figure}", index + 1));
    each.collect::<Vec<_>>().join(" · ")
}
