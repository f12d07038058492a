//! Whose machine it is, and who measured it when.

use chrono::{DateTime, FixedOffset, NaiveDate};

use super::Material;
use super::data::{Fact, Pair, RunColumn};
use super::figures;
use super::words::Words;
use crate::job::{Customer, Machine, Plan, Remarks, Run};

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
    let mut makers = maker_and_model(machine);
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
    labelled(rows, words)
}

fn maker_and_model(machine: &Machine) -> Vec<String> {
    let both = [&machine.maker, &machine.model].into_iter().flatten();
    both.cloned().collect()
}

/// What page 1 says of it: whose machine, which, and its meter. Each is there only where it is
/// known.
pub fn machine_in_short(material: &Material<'_>, words: &Words) -> Vec<Fact> {
    let job = material.job;
    let Plan {
        customer, machine, ..
    } = &job.plan;
    let meter = job.retest.meter.or(job.baseline.meter);
    facts(
        [
            (
                "about-customer",
                customer.name.clone(),
                job.plan.order.as_ref().map_or_else(String::new, |order| {
                    words.say_with("fact-order", &[("order", order)])
                }),
            ),
            (
                "about-machine",
                machine.name.clone(),
                maker_and_model(machine).join(", "),
            ),
            (
                "fact-serial",
                machine.serial.clone().unwrap_or_default(),
                String::new(),
            ),
            (
                "run-meter",
                meter.map_or_else(String::new, |meter| figures::written(meter, words)),
                String::new(),
            ),
        ],
        words,
    )
}

/// The three days of page 1: measured, repaired, measured again, with who saw it.
pub fn days(material: &Material<'_>, words: &Words) -> Vec<Fact> {
    let job = material.job;
    let day = |moment: DateTime<FixedOffset>| figures::day(moment.date_naive(), words);
    let seen = |run: &Run| {
        let names = run.witnesses.join("; ");
        if names.is_empty() {
            return words.say("fact-not-seen");
        }
        words.say_with("fact-seen", &[("names", &names)])
    };
    facts(
        [
            (
                "fact-before",
                day(job.baseline.started),
                seen(&job.baseline),
            ),
            ("fact-work", day(job.work.started), job.work.by.clone()),
            ("fact-after", day(job.retest.started), seen(&job.retest)),
        ],
        words,
    )
}

/// Those that have a text, each with the message of its label.
fn facts<const N: usize>(rows: [(&str, String, String); N], words: &Words) -> Vec<Fact> {
    rows.into_iter()
        .filter(|(_, text, _)| !text.is_empty())
        .map(|(label, text, under)| Fact {
            label: words.say(label),
            text,
            under,
        })
        .collect()
}

/// The texts that are there, each with the message of its label.
fn labelled<const N: usize>(rows: [(&str, String); N], words: &Words) -> Vec<Pair> {
    rows.into_iter()
        .filter(|(_, text)| !text.is_empty())
        .map(|(label, text)| Pair {
            label: words.say(label),
            text,
        })
        .collect()
}

/// A remark of a run: its label, its text, and whether it stands on the receipt and the
/// worksheet too, besides the page of the runs. The note stands on neither; they are here so
/// that another remark is one line of the list, wherever it is to be printed.
struct Remark {
    label: &'static str,
    text: fn(&Remarks) -> Option<&String>,
    on_receipt: bool,
    on_worksheet: bool,
}

/// Every remark of a run, in the order in which they are printed.
const REMARKS: &[Remark] = &[
    Remark {
        label: "run-place",
        text: |remarks| remarks.place.as_ref(),
        on_receipt: true,
        on_worksheet: true,
    },
    Remark {
        label: "run-remark",
        text: |remarks| remarks.note.as_ref(),
        on_receipt: false,
        on_worksheet: false,
    },
];

impl Remark {
    fn pair(&self, run: &Run, words: &Words) -> Option<Pair> {
        Some(Pair {
            label: words.say(self.label),
            text: (self.text)(&run.remarks)?.clone(),
        })
    }
}

/// The remarks of a run that stand on the receipt.
pub fn remarks_on_receipt(run: &Run, words: &Words) -> impl Iterator<Item = Pair> {
    let on_receipt = REMARKS.iter().filter(|remark| remark.on_receipt);
    on_receipt.filter_map(|remark| remark.pair(run, words))
}

/// The labels of the remarks that the worksheet leaves room for.
pub fn remarks_on_worksheet() -> impl Iterator<Item = &'static str> {
    let on_worksheet = REMARKS.iter().filter(|remark| remark.on_worksheet);
    on_worksheet.map(|remark| remark.label)
}

/// Who saw a run, and what the machine's meter showed, as far as it is recorded.
pub fn seen_and_meter(run: &Run, words: &Words) -> Vec<Pair> {
    let meter = run.meter.map(|meter| figures::written(meter, words));
    labelled(
        [
            ("run-witness", run.witnesses.join("; ")),
            ("run-meter", meter.unwrap_or_default()),
        ],
        words,
    )
}

/// The two runs: when, by whom, seen by whom.
pub fn runs(material: &Material<'_>, words: &Words) -> Vec<RunColumn> {
    let job = material.job;
    [(&job.baseline, "run-baseline"), (&job.retest, "run-retest")]
        .into_iter()
        .map(|(run, name)| {
            let ended = run.ended.map(|ended| figures::moment(ended, words));
            let own = [
                ("run-started", figures::moment(run.started, words)),
                ("run-ended", ended.unwrap_or_default()),
                ("run-by", run.by.clone()),
            ];
            let remarks = REMARKS.iter().filter_map(|remark| remark.pair(run, words));
            let rows = labelled(own, words).into_iter();
            RunColumn {
                name: words.say(name),
                rows: rows
                    .chain(seen_and_meter(run, words))
                    .chain(remarks)
                    .collect(),
            }
        })
        .collect()
}
