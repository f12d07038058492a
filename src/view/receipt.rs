//! The receipt: the page that the customer takes home when the baseline is sealed.

use super::Material;
use super::complaint;
use super::conditions;
use super::data::{Pair, Receipt, ReceiptRow};
use super::figures::{self, NBSP};
use super::how_judged;
use super::letterhead;
use super::limits;
use super::measures::{of_tries, required};
use super::seals;
use super::who_and_when;
use super::words::Words;
use crate::job::{Count, DecisionRule, Measure};
use crate::judge::{BaselineFigure, BaselineJudgement, BaselineRow, baseline};
use crate::seals::Stage;

/// Builds the receipt from a job as it stood at drop-off. `qr` are the rows of the QR
/// code of the first seal, of dark and light modules.
pub fn receipt(material: &Material<'_>, qr: &[Vec<bool>], words: &Words) -> Receipt {
    let job = material.job;
    let found = baseline(&job.instruments, &job.limits, &job.baseline);
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
        complaint: complaint::shortened(&job.complaint).unwrap_or_else(|| job.complaint.clone()),
        rows: rows(material, &found, words),
        more: found
            .left_off
            .map_or_else(String::new, |more| words.say_count("receipt-more", more)),
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
    let mut rows = who_and_when::about(material, words);
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
    let conditions: Vec<String> = conditions::conditions(material, words)
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

/// What was read, and how it stands at its limits today.
fn rows(material: &Material<'_>, found: &BaselineJudgement, words: &Words) -> Vec<ReceiptRow> {
    let limits = &material.job.limits;
    let rows = found.rows.iter();
    rows.filter_map(|found| Some(row(limits.measure(&found.measure)?, found, words)))
        .collect()
}

fn row(measure: &Measure, found: &BaselineRow, words: &Words) -> ReceiptRow {
    let limit = || limits::of_measure(measure, words);
    let passes = |count: &Count| of_tries(*count, words);
    let (name, value, limit) = match &found.figure {
        BaselineFigure::Value(scale, estimate) => (
            limits::with_unit_of(&measure.name, scale.unit),
            figures::value_pm(estimate, scale.unit, scale.bounds, words),
            limit(),
        ),
        BaselineFigure::Cylinders(scale, cylinders) => {
            let each = cylinders
                .iter()
                .map(|one| figures::bare(one, scale.unit, scale.bounds, words));
            let name = limits::with_unit_of(&measure.name, scale.unit);
            (name, numbered(each), limit())
        }
        BaselineFigure::Passes(count) => (measure.name.clone(), passes(count), limit()),
        BaselineFigure::CylinderPasses(counts) => (
            measure.name.clone(),
            numbered(counts.iter().map(passes)),
            limit(),
        ),
        BaselineFigure::Smoke(part, path, scale, estimate) => {
            let name = limits::smoke_name(*part, *path, &measure.name, words);
            (
                limits::with_unit_of(&name, scale.unit),
                figures::value_pm(estimate, scale.unit, scale.bounds, words),
                // What has no limit stands at none.
                limits::of_scale(scale, words),
            )
        }
    };
    ReceiptRow {
        name,
        required: required(found.required, words),
        value,
        limit,
        standing: limits::outcome(found.outcome, words),
    }
}

/// The figures of the cylinders, each behind its number: `1: 7.4 · 2: −13.1`.
fn numbered(figures: impl Iterator<Item = String>) -> String {
    let each = figures
        .enumerate()
        .map(|(index, figure)| format!("{}:{NBSP}{figure}", index + 1));
    each.collect::<Vec<_>>().join(" · ")
}
