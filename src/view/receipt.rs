//! The receipt: the page that the customer takes home when the baseline is sealed.

use super::{PictureFile, Signer};
use chrono::{DateTime, FixedOffset};

use super::complaint;
use super::conditions;
use super::data::{Pair, Receipt, ReceiptRow};
use super::exact;
use super::figures;
use super::how_judged;
use super::letterhead;
use super::limits;
use super::measures::{of_attempts, repeats_of, required};
use super::places;
use super::seals;
use super::who_and_when;
use super::words::Words;
use crate::job::{Baselined, DecisionRule, Entry, Limits, Measure, Positions, Run, Shop, Stage};
use crate::judge::{
    Alone, BaselineJudgement, BaselineRow, CountAlone, ExactAlone, RunFigure, baseline,
};
use crate::result::TOOL;
use crate::seals::Sealing;

/// What a receipt is made from.
pub struct ReceiptMaterial<'a> {
    /// The job before the work.
    pub job: &'a Baselined,
    /// The shop.
    pub shop: &'a Shop,
    /// The shop's logo, by the file it comes from.
    pub logo: Option<PictureFile>,
    /// When the receipt is issued.
    pub issued: DateTime<FixedOffset>,
    /// The seals, and whether the files match them.
    pub sealing: &'a Sealing,
    /// Who signs, if it is signed.
    pub signer: Option<Signer>,
}

/// Builds the receipt of a job before the work.
pub fn receipt(material: &ReceiptMaterial<'_>, words: &Words) -> Receipt {
    let Baselined {
        plan,
        baseline: run,
    } = material.job;
    let found = baseline(plan, run);
    let sealing = material.sealing;
    let seal = sealing
        .chain
        .latest(Stage::Baseline)
        .map(|link| seals::row(link, words));
    let signer = material.signer.as_ref();
    let (signature, unsigned) = seals::signature(
        signer,
        material.shop,
        material.issued,
        "unsigned-receipt",
        words,
    );
    let person = |id: &str, name: &str| words.say_with(id, &[("name", name)]);
    Receipt {
        sheet: letterhead::issued(
            ["receipt-title", "kind-of-receipt"],
            plan,
            material.shop,
            material.logo.as_ref(),
            (material.issued, None, sealing.chain.latest(Stage::Baseline)),
            words,
        ),
        headline: words.say("receipt-headline"),
        lead: words.say("receipt-lead"),
        about: about(material.job, words),
        complaint: complaint::shortened(&plan.complaint).unwrap_or_else(|| plan.complaint.clone()),
        rows: rows(&plan.limits, &found, run, words),
        agreed: agreed(&plan.limits, words),
        seal,
        #[cfg(feature = "typesetter")]
        qr: seals::qr(sealing),
        keep: words.say("receipt-keep"),
        made_with: words.say_with("made-with", &[("program", TOOL)]),
        ways: seals::receipt_ways(words),
        steps: seals::receipt_steps(sealing, material.signer.as_ref(), words),
        signature,
        unsigned,
        signers: [
            person("signs-for-shop", &run.by),
            person("signs-for-customer", &plan.customer.name),
        ],
    }
}

fn about(job: &Baselined, words: &Words) -> Vec<Pair> {
    let Baselined {
        plan,
        baseline: run,
    } = job;
    let mut rows = who_and_when::about(plan, words);
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
    rows.extend(who_and_when::seen_and_meter(run, words));
    let conditions: Vec<String> = plan
        .limits
        .conditions
        .iter()
        .map(|condition| {
            words.say_with(
                "receipt-condition",
                &[
                    ("name", &conditions::named(condition, &plan.limits, words)),
                    ("value", &conditions::shown(run, condition, words)),
                    ("window", &conditions::window_of(condition, words)),
                ],
            )
        })
        .collect();
    rows.extend(who_and_when::remarks_on_receipt(run, words));
    if !conditions.is_empty() {
        rows.push(Pair {
            label: words.say("receipt-conditions"),
            text: conditions.join("; "),
        });
    }
    rows
}

/// What was agreed before the work: the decision rule in a sentence, and with whom.
fn agreed(limits: &Limits, words: &Words) -> Vec<String> {
    vec![
        words.say(match limits.rule {
            DecisionRule::Simple => "receipt-rule-simple",
            DecisionRule::Guarded => "receipt-rule-guarded",
            DecisionRule::FourZone => "receipt-rule-four-zone",
        }),
        how_judged::agreed(limits, words),
    ]
}

/// What was read, and the outcome at its limits today.
fn rows(limits: &Limits, found: &BaselineJudgement, run: &Run, words: &Words) -> Vec<ReceiptRow> {
    let rows = found.rows.iter();
    let rows = rows.filter_map(|found| {
        let measure = limits.measure(&found.measure)?;
        Some(ReceiptRow {
            read: repeats_of(run, measure, words).unwrap_or_default(),
            ..row(measure, found, limits, words)
        })
    });
    rows.collect()
}

fn row(measure: &Measure, found: &BaselineRow, plan: &Limits, words: &Words) -> ReceiptRow {
    let limit = || limits::of_measure(measure, plan, words);
    let passes = |count: &CountAlone| of_attempts(count.found, words);
    let (mut each, mut position) = (Vec::new(), String::new());
    let (name, value, limit) = match &found.figure {
        RunFigure::Alone(Alone::Value(one)) => (
            limits::with_unit_of(&measure.name, one.scale.unit),
            figures::value_pm(&one.found, one.scale.unit, one.scale.bounds, words),
            // Where what was in service has its own limit, that of the repaired machine stands
            // beside it.
            match measure.kind.scale().and_then(|scale| scale.before.as_ref()) {
                Some(_) => limit(),
                None => limits::of_scale(&one.scale, plan, words),
            },
        ),
        RunFigure::ValueAt(scales, all) => {
            let unit = scales.common.unit;
            let all = all.iter().enumerate().map(|(place, entry)| {
                let bounds = scales.scale(place).bounds;
                entry.map(|one| figures::bare(&one.found, unit, bounds, words))
            });
            each = named(&scales.at, all, words);
            position = places::head(&scales.at, words);
            let name = limits::with_unit_of(&measure.name, unit);
            let limit = limits::of_scales(scales, plan, words);
            (name, String::new(), limit)
        }
        RunFigure::Alone(Alone::Passes(count)) => (measure.name.clone(), passes(count), limit()),
        RunFigure::PassesAt(at, _, counts) => {
            each = named(at, counts.iter().map(|entry| entry.map(passes)), words);
            position = places::head(at, words);
            (measure.name.clone(), String::new(), limit())
        }
        RunFigure::Alone(Alone::Exact(scale, one)) => (
            measure.name.clone(),
            exact::reading(scale, one.found, words),
            limit(),
        ),
        RunFigure::ExactAt(scales, all) => {
            let reading = |one: &ExactAlone| exact::reading(&scales.common, one.found, words);
            each = named(
                &scales.at,
                all.iter().map(|entry| entry.map(reading)),
                words,
            );
            position = places::head(&scales.at, words);
            (measure.name.clone(), String::new(), limit())
        }
        RunFigure::Alone(Alone::Rate(scale, figure, ..)) => (
            exact::rate_name(&measure.name, scale, words),
            exact::rate_read(figure, words),
            limit(),
        ),
        RunFigure::Alone(Alone::List(items, _)) => {
            (measure.name.clone(), exact::entries(items, words), limit())
        }
        RunFigure::Alone(Alone::Smoke(part, path, one)) => {
            let scale = &one.scale;
            let name = limits::smoke_name(*part, *path, &measure.name, words);
            (
                limits::with_unit_of(&name, scale.unit),
                figures::value_pm(&one.found, scale.unit, scale.bounds, words),
                // Without a limit there is no outcome.
                limits::of_scale(scale, plan, words),
            )
        }
    };
    ReceiptRow {
        name,
        required: required(found.required, words),
        value,
        position,
        each,
        read: String::new(),
        limit,
        standing: limits::outcome(found.outcome, words),
    }
}

/// The figures of the positions, each under its name.
fn named(at: &Positions, each: impl Iterator<Item = Entry<String>>, words: &Words) -> Vec<Pair> {
    let each = each.enumerate().map(|(place, entry)| Pair {
        label: places::setting(at, place, words),
        text: entry
            .taken()
            .cloned()
            .unwrap_or_else(|| words.say("not-taken")),
    });
    each.collect()
}
