//! The steps of the work: what was done and used, what was ruled out and found, what it cost,
//! what to watch.

use super::desk::Desk;
use super::document::Step as Down;
use super::steps::{Field, Part, Step, tables};
use super::typed::Entry;
use crate::job::JobFile;
use crate::view::Words;

const FILE: JobFile = JobFile::Work;

fn at(list: &str, number: usize) -> [Down; 2] {
    [Down::Key(list.to_owned()), Down::Number(number)]
}

/// The pages of the work.
pub fn steps(desk: &Desk, words: &Words) -> Vec<Step> {
    let document = desk.document(FILE);
    let field = |table: &[Down], key: &'static str, entry: Entry, label: &str| {
        Field::new(FILE, table, key, entry, words.say(label))
    };
    let several = |list: &str| tables(document, list) + 1;
    let numbered = |number: usize, fields: Vec<Field>| {
        fields.into_iter().map(move |field| Field {
            row: Some((number + 1).to_string()),
            ..field
        })
    };

    let mut done = Step::new(Part::Work, "done", words.say("fill-work-done"));
    done.fields = vec![
        field(&[], "started", Entry::Moment, "fill-work-started").needed(),
        field(&[], "finished", Entry::Moment, "fill-work-finished").needed(),
        field(&[], "by", Entry::Text, "fill-work-by").needed(),
    ];
    for number in 0..several("intervention") {
        let table = at("intervention", number);
        let what = field(&table, "what", Entry::Text, "fill-what");
        let what = if number == 0 { what.needed() } else { what };
        let why = field(&table, "why", Entry::Text, "fill-why");
        done.fields.extend(numbered(number, vec![what, why]));
    }
    done.media = true;

    let mut used = Step::new(Part::Work, "used", words.say("fill-work-used"));
    for number in 0..several("part") {
        let table = at("part", number);
        used.fields.extend(numbered(
            number,
            vec![
                field(&table, "name", Entry::Text, "fill-part"),
                field(&table, "number", Entry::Text, "fill-part-number"),
                field(&table, "quantity", Entry::Whole, "fill-quantity"),
                field(&table, "price", Entry::Number, "fill-price"),
            ],
        ));
    }
    for number in 0..several("fluid") {
        let table = at("fluid", number);
        used.fields.extend(numbered(
            number,
            vec![
                field(&table, "name", Entry::Text, "fill-fluid"),
                field(&table, "amount", Entry::Number, "fill-amount"),
                field(&table, "unit", Entry::Text, "fill-unit"),
            ],
        ));
    }

    let mut found = Step::new(Part::Work, "found", words.say("fill-work-found"));
    for number in 0..several("ruled_out") {
        let table = at("ruled_out", number);
        found.fields.extend(numbered(
            number,
            vec![
                field(&table, "what", Entry::Text, "fill-ruled-out"),
                field(&table, "how", Entry::Text, "fill-ruled-out-how"),
            ],
        ));
    }
    for number in 0..several("also_found") {
        let table = at("also_found", number);
        let outcomes = ["repaired", "left"]
            .map(|word| (word.to_owned(), words.say(&format!("fill-outcome-{word}"))));
        found.fields.extend(numbered(
            number,
            vec![
                field(&table, "what", Entry::Text, "fill-also-found"),
                field(
                    &table,
                    "outcome",
                    Entry::Choice(outcomes.to_vec()),
                    "fill-outcome",
                ),
                field(&table, "note", Entry::Text, "fill-also-found-note"),
            ],
        ));
    }

    let mut after = Step::new(Part::Work, "after", words.say("fill-work-after"));
    let run_in = [Down::Key("run_in".to_owned())];
    let labour = [Down::Key("labour".to_owned())];
    let cost = [Down::Key("cost".to_owned())];
    after.fields = vec![
        field(&run_in, "hours", Entry::Number, "fill-run-in").unit("h"),
        field(&run_in, "starts", Entry::Whole, "fill-run-in-starts"),
        field(&labour, "hours", Entry::Number, "fill-labour").unit("h"),
        field(&cost, "total", Entry::Number, "fill-cost"),
        field(&cost, "currency", Entry::Text, "fill-currency")
            .help(words.say("fill-currency-help")),
        field(&[], "watch", Entry::List, "fill-watch").help(words.say("fill-watch-help")),
        field(&[], "follow_up", Entry::Day, "fill-follow-up"),
        field(&[], "warranty", Entry::Text, "fill-warranty"),
        field(&[], "reissued", Entry::List, "fill-reissued").help(words.say("fill-reissued-help")),
    ];
    vec![done, used, found, after]
}
