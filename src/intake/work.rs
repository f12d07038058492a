//! `work.toml` → [`Work`].

use iso_currency::Currency;

use super::common_checks;
use super::problem::Problems;
use super::shapes::{CostTable, NotNeededTable, PartTable, RunInTable, WorkFile};
use super::toml_document::Document;
use super::{photos, recordings};
use crate::job::{
    Cost, Fluid, FurtherDefect, Intervention, NotNeeded, Part, RuledOut, RunIn, Work,
};

/// What was done.
pub fn work(document: &Document, shape: &WorkFile, problems: &mut Problems) -> Option<Work> {
    let before = problems.len();
    let started = common_checks::moment(document, &["started"], shape.started, problems);
    let finished = common_checks::moment(document, &["finished"], shape.finished, problems);
    let follow_up = shape
        .follow_up
        .and_then(|day| common_checks::day(document, &["follow_up"], day, problems));
    if let (Some(day), Some(finished)) = (follow_up, finished)
        && day < finished.date_naive()
    {
        document.problem(
            &["follow_up"],
            "the follow-up is before the end of the work",
            "write a later date",
            problems,
        );
    }
    let fluids = shape
        .fluid
        .iter()
        .enumerate()
        .filter_map(|(index, table)| {
            let at = index.to_string();
            let unit =
                common_checks::unit(document, &["fluid", &at, "unit"], &table.unit, problems)?;
            let path = ["fluid", &at, "amount"];
            let amount = common_checks::quantity(document, &path, table.amount, unit, problems)?;
            Some(Fluid {
                name: table.name.clone(),
                amount,
            })
        })
        .collect();
    let cost = shape
        .cost
        .as_ref()
        .and_then(|table| cost(document, table, problems));
    let parts = shape.part.iter().enumerate();
    let parts: Vec<Part> = parts
        .map(|(index, table)| part(document, &index.to_string(), table, cost.as_ref(), problems))
        .collect();
    let not_needed = shape
        .not_needed
        .iter()
        .enumerate()
        .filter_map(|(index, table)| {
            not_needed(
                document,
                &index.to_string(),
                table,
                shape.cost.is_some(),
                problems,
            )
        })
        .collect();
    (problems.len() == before).then_some(())?;
    Some(Work {
        started: started?,
        finished: finished?,
        by: shape.by.clone(),
        interventions: shape
            .intervention
            .iter()
            .map(|table| Intervention {
                what: table.what.clone(),
                why: table.why.clone(),
            })
            .collect(),
        parts,
        fluids,
        ruled_out: shape
            .ruled_out
            .iter()
            .map(|table| RuledOut {
                what: table.what.clone(),
                how: table.how.clone(),
            })
            .collect(),
        also_found: shape
            .also_found
            .iter()
            .map(|table| FurtherDefect {
                what: table.what.clone(),
                outcome: table.outcome,
                note: table.note.clone(),
            })
            .collect(),
        run_in: shape.run_in.as_ref().map(|table| run_in(document, table)),
        labour: shape.labour.as_ref().and_then(|table| {
            common_checks::in_unit(document, &["labour", "hours"], Some(table.hours), "h")
        }),
        cost,
        not_needed,
        watch: shape.watch.clone(),
        follow_up,
        warranty: shape.warranty.clone(),
        reissued: shape.reissued.clone(),
        photos: photos::named(&shape.photo),
        recordings: recordings::named(&shape.recording),
    })
}

fn run_in(document: &Document, table: &RunInTable) -> RunIn {
    let in_unit =
        |key, value, symbol| common_checks::in_unit(document, &["run_in", key], value, symbol);
    RunIn {
        time: in_unit("hours", table.hours, "h"),
        distance: in_unit("kilometres", table.kilometres, "km")
            .or_else(|| in_unit("miles", table.miles, "mi")),
        starts: table.starts,
        note: table.note.clone(),
    }
}

fn cost(document: &Document, table: &CostTable, problems: &mut Problems) -> Option<Cost> {
    let Some(currency) = Currency::from_code(&table.currency) else {
        document.problem(
            &["cost", "currency"],
            format!("`{}` is not a currency code", table.currency),
            "write the three letters of ISO 4217, such as \"EUR\" or \"USD\"",
            problems,
        );
        return None;
    };
    let mut amount =
        |key, value: f64| common_checks::money(document, &["cost", key], value, problems);
    let labour = table.labour.map(|value| amount("labour", value));
    let parts = table.parts.map(|value| amount("parts", value));
    let total = amount("total", table.total)?;
    let (labour, parts) = (labour.unwrap_or(None), parts.unwrap_or(None));
    let sum = labour.unwrap_or_default() + parts.unwrap_or_default();
    // Tax and call-out may be added, so only a total below its parts is wrong.
    if sum > total {
        document.problem(
            &["cost", "total"],
            format!("the total is less than labour plus parts ({sum})"),
            "correct one of the three",
            problems,
        );
    }
    Some(Cost {
        currency,
        labour,
        parts,
        total,
    })
}

/// A part that was fitted. A price needs a currency, and cannot be more than all parts cost.
fn part(
    document: &Document,
    at: &str,
    table: &PartTable,
    cost: Option<&Cost>,
    problems: &mut Problems,
) -> Part {
    let path = ["part", at, "price"];
    let price = table.price;
    let price = price.and_then(|amount| common_checks::money(document, &path, amount, problems));
    match (price, cost) {
        (Some(_), None) => document.problem(
            &path,
            "the price has no currency",
            "add `[cost]` with `currency` and `total`",
            problems,
        ),
        (Some(price), Some(cost)) if price > cost.parts.unwrap_or(cost.total) => document.problem(
            &path,
            "this part alone cost more than was charged for all",
            "correct the price, or `parts` and `total` under `[cost]`",
            problems,
        ),
        (Some(_), Some(_)) | (None, _) => {}
    }
    Part {
        name: table.name.clone(),
        number: table.number.clone(),
        quantity: table.quantity,
        price,
    }
}

fn not_needed(
    document: &Document,
    at: &str,
    table: &NotNeededTable,
    has_currency: bool,
    problems: &mut Problems,
) -> Option<NotNeeded> {
    let path = |key| ["not_needed", at, key];
    let estimate = match (table.estimate, &table.estimate_by) {
        (None, _) => None,
        (Some(_), None) => {
            document.problem(
                &path("estimate"),
                "this does not say whose estimate it is",
                "add `estimate_by = \"…\"`",
                problems,
            );
            return None;
        }
        (Some(_), Some(_)) if !has_currency => {
            document.problem(
                &path("estimate"),
                "the estimate has no currency",
                "add `[cost]` with `currency` and `total`",
                problems,
            );
            return None;
        }
        (Some(amount), Some(by)) => {
            let amount = common_checks::money(document, &path("estimate"), amount, problems)?;
            Some((amount, by.clone()))
        }
    };
    Some(NotNeeded {
        what: table.what.clone(),
        estimate,
    })
}
