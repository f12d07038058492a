//! The steps of the plan: the machine, the instruments, what is measured with its limits, and
//! what must be alike in both runs.

use super::desk::Desk;
use super::document::Step as Down;
use super::steps::{Field, Part, Step, tables};
use super::typed::Entry;
use crate::job::JobFile;
use crate::view::Words;

fn at(list: &str, number: usize) -> [Down; 2] {
    [Down::Key(list.to_owned()), Down::Number(number)]
}

fn choice(words: &Words, of: &str, among: &[&str]) -> Entry {
    let choices = among.iter().map(|word| {
        let shown = words.say(&format!("fill-{of}-{word}"));
        ((*word).to_owned(), shown)
    });
    Entry::Choice(choices.collect())
}

/// The pages of the plan.
pub fn steps(desk: &Desk, words: &Words) -> Vec<Step> {
    vec![
        machine(words),
        instruments(desk, words),
        measures(desk, words),
        conditions(desk, words),
    ]
}

fn machine(words: &Words) -> Step {
    let file = JobFile::Job;
    let field = |table: &[Down], key: &'static str, entry: Entry, label: &str| {
        Field::new(file, table, key, entry, words.say(label))
    };
    let customer = [Down::Key("customer".to_owned())];
    let machine = [Down::Key("machine".to_owned())];
    let mut step = Step::new(Part::Plan, "machine", words.say("fill-machine"));
    step.fields = vec![
        field(&[], "job", Entry::Text, "fill-job-number").needed(),
        field(&customer, "name", Entry::Text, "fill-customer").needed(),
        field(&customer, "contact", Entry::Text, "fill-contact"),
        field(&machine, "name", Entry::Text, "fill-machine-name").needed(),
        field(&machine, "maker", Entry::Text, "fill-maker"),
        field(&machine, "model", Entry::Text, "fill-model"),
        field(&machine, "serial", Entry::Text, "fill-serial"),
        field(&[], "complaint", Entry::Lines, "fill-complaint").needed(),
        field(&[], "received", Entry::Day, "fill-received"),
        field(&[], "order", Entry::Text, "fill-order"),
    ];
    step
}

fn instruments(desk: &Desk, words: &Words) -> Step {
    let file = JobFile::Job;
    let mut step = Step::new(Part::Plan, "instruments", words.say("fill-instruments"));
    step.notes = vec![words.say("fill-instruments-help")];
    let count = tables(desk.document(file), "instrument");
    for number in 0..=count {
        let table = at("instrument", number);
        let field = |key: &'static str, entry: Entry, label: &str| Field {
            row: Some((number + 1).to_string()),
            ..Field::new(file, &table, key, entry, words.say(label))
        };
        let is_there = number < count;
        let needed = |field: Field| if is_there { field.needed() } else { field };
        step.fields.extend([
            needed(field("kind", Entry::Text, "fill-kind")),
            needed(field("id", Entry::Text, "fill-id")).help(words.say("fill-id-help")),
            needed(field("unit", Entry::Text, "fill-unit")),
            field("accuracy", Entry::Number, "fill-accuracy"),
            field(
                "accuracy_percent_of_reading",
                Entry::Number,
                "fill-accuracy-percent",
            )
            .unit("%"),
            field("resolution", Entry::Number, "fill-resolution"),
            field("hand_timed", Entry::Tick, "fill-hand-timed"),
            field("serial", Entry::Text, "fill-serial"),
            field("calibrated", Entry::Day, "fill-calibrated"),
            field("due", Entry::Day, "fill-due"),
            field("certificate", Entry::Text, "fill-certificate"),
            field("laboratory", Entry::Text, "fill-laboratory"),
        ]);
    }
    step
}

fn measures(desk: &Desk, words: &Words) -> Step {
    let file = JobFile::Limits;
    let mut step = Step::new(Part::Plan, "measures", words.say("fill-measures"));
    step.notes = vec![
        words.say("fill-measures-help"),
        words.say("fill-measures-more"),
    ];
    let agreed = Field::new(file, &[], "agreed", Entry::Text, words.say("fill-agreed"));
    step.fields.push(agreed);
    let count = tables(desk.document(file), "measure");
    for number in 0..=count {
        let table = at("measure", number);
        let field = |key: &'static str, entry: Entry, label: &str| Field {
            row: Some((number + 1).to_string()),
            ..Field::new(file, &table, key, entry, words.say(label))
        };
        let is_there = number < count;
        let needed = |field: Field| if is_there { field.needed() } else { field };
        let kinds = choice(
            words,
            "kind",
            &["value", "passes", "grade", "count", "list", "smoke", "text"],
        );
        let better = choice(words, "better", &["lower", "higher", "inside"]);
        step.fields.extend([
            needed(field("name", Entry::Text, "fill-measure-name")),
            needed(field("id", Entry::Text, "fill-id")).help(words.say("fill-id-help")),
            needed(field("kind", kinds, "fill-measure-kind")),
            field("unit", Entry::Text, "fill-unit"),
            field("better", better, "fill-better"),
            field("min", Entry::Number, "fill-min"),
            field("max", Entry::Number, "fill-max"),
            field("min_passes", Entry::Whole, "fill-min-passes"),
            field("grades", Entry::List, "fill-grades").help(words.say("fill-grades-help")),
            field("at_least", Entry::Text, "fill-at-least"),
            field("max_count", Entry::Whole, "fill-max-count"),
            field("per", Entry::Text, "fill-per"),
            field("max_rate", Entry::Number, "fill-max-rate"),
            field("source", Entry::Text, "fill-source").help(words.say("fill-source-help")),
            field("repeats", Entry::Whole, "fill-repeats"),
            field("required", Entry::Tick, "fill-required"),
            field("method", Entry::Text, "fill-method"),
        ]);
    }
    step
}

fn conditions(desk: &Desk, words: &Words) -> Step {
    let file = JobFile::Limits;
    let mut step = Step::new(Part::Plan, "alike", words.say("fill-alike"));
    step.notes = vec![words.say("fill-alike-help")];
    let count = tables(desk.document(file), "condition");
    for number in 0..=count {
        let table = at("condition", number);
        let field = |key: &'static str, entry: Entry, label: &str| Field {
            row: Some((number + 1).to_string()),
            ..Field::new(file, &table, key, entry, words.say(label))
        };
        let is_there = number < count;
        let needed = |field: Field| if is_there { field.needed() } else { field };
        let harder = choice(words, "harder", &["lower", "higher"]);
        step.fields.extend([
            needed(field("name", Entry::Text, "fill-condition-name")),
            needed(field("id", Entry::Text, "fill-id")).help(words.say("fill-id-help")),
            field("unit", Entry::Text, "fill-unit"),
            field("window", Entry::Number, "fill-window"),
            field("harder", harder, "fill-harder"),
            field("required", Entry::Tick, "fill-required"),
        ]);
    }
    step
}
