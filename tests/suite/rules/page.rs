//! What the pages say, whatever the words: every message says its id and what it was
//! given, so that a decision can be held and a sentence rewritten.

use retestify::view::{Drawing, ENGLISH, Report, Strip, Words};

use super::small_job::SmallJob;
use crate::ties_between_runs::report_with;

/// English in which a message says `<id>`, or `<id: this; that>` with what it was given.
/// Labels, days and times stay as they are.
pub fn ids() -> Words {
    let mut own = String::new();
    let mut given: Vec<&str> = Vec::new();
    let messages = ENGLISH.split("\n").filter(|line| !line.starts_with('#'));
    let mut id = "";
    let mut write = |id: &str, given: &mut Vec<&str>| {
        let plain = ["label-", "month-", "date", "moment"];
        if !id.is_empty() && !plain.iter().any(|start| id.starts_with(start)) {
            given.sort_unstable();
            given.dedup();
            let all: Vec<String> = given.iter().map(|name| format!("{{ ${name} }}")).collect();
            let colon = if all.is_empty() { "" } else { ": " };
            own += &format!("{id} = <{id}{colon}{}>\n", all.join("; "));
        }
        given.clear();
    };
    for line in messages {
        let start = line.split(" =").next().unwrap();
        if line.starts_with(|c: char| c.is_ascii_lowercase()) {
            write(id, &mut given);
            id = start;
        }
        given.extend(line.split('$').skip(1).map(|rest| {
            let end = rest.find(|c: char| !c.is_ascii_alphanumeric() && c != '-' && c != '_');
            &rest[..end.unwrap_or(rest.len())]
        }));
    }
    write(id, &mut given);
    Words::of("en", &[&own]).unwrap_or_else(|error| panic!("{error}"))
}

impl SmallJob {
    /// The pages of its report, issued on 6 March 2026.
    pub fn pages(&self) -> Report {
        report_with(&self.folder(), "2026-03-06T12:00:00+00:00", &ids())
    }
}

/// The line that is drawn beside the first figure of page 1.
pub fn line(report: &Report) -> &Strip {
    match &report.front.figures[0].drawing {
        Some(Drawing::Strip(line)) => line,
        other => panic!("{other:?}"),
    }
}

impl SmallJob {
    /// The limit of its first measure as the report prints it in `language`.
    pub fn limit_in_print(&self, language: &str) -> String {
        let words = Words::of(language, &[]).unwrap_or_else(|error| panic!("{error}"));
        let report = report_with(&self.folder(), "2026-03-06T12:00:00+00:00", &words);
        report.measures[0].limit.replace('\u{A0}', " ")
    }
}

/// What a page says, without the brackets around messages.
pub fn plain(text: &str) -> String {
    text.replace(['<', '>'], "")
}

/// One answer of the customer's page, as it stands in a table.
pub fn first_page(report: &Report, name: &str) -> String {
    let front = &report.front;
    let names = |all: &[String]| plain(&all.join(" / "));
    match name {
        "mark" => plain(&front.mark),
        "headline" => plain(&front.headline),
        // What stands behind the first figure.
        "lead" => {
            let sentences = front.lead.split("> <");
            let rest: Vec<&str> = sentences
                .filter(|one| !one.trim_start_matches('<').starts_with("lead-figure"))
                .collect();
            plain(&rest.join(" / "))
        }
        "first figure" => {
            let figure = front
                .lead
                .split("<lead-figure: ")
                .nth(1)
                .unwrap_or_default();
            let name = figure.split("; ").nth(2).unwrap_or_default();
            plain(name.split("> <").next().unwrap())
        }
        "figures" => {
            let names: Vec<String> = front.figures.iter().map(|it| plain(&it.name)).collect();
            names.join(" / ")
        }
        "results" => {
            let all: Vec<String> = front.figures.iter().map(|it| plain(&it.result)).collect();
            all.join(" / ")
        }
        "more" => plain(front.more.first().map_or("", String::as_str)),
        // All but that nothing was sealed.
        "reservations" => {
            let all = names(&front.reservations);
            all.replace(" / seal-none-short", "")
                .trim_start_matches("seal-none-short")
                .trim_start_matches(" / ")
                .to_owned()
        }
        "done" => names(&front.done),
        "weakest" => plain(&front.weakest),
        "still wrong" => names(&front.left),
        "watch" => names(&front.watch),
        "not needed" => names(&front.not_needed),
        "next" => names(&front.next),
        "behind" => {
            let all: Vec<String> = front.behind.iter().map(|it| plain(&it.text)).collect();
            all.join(" / ")
        }
        other => panic!("{other}"),
    }
}
