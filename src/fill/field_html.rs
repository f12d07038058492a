//! The fields of a page as HTML.

use super::html::Html;
use super::save::{NotSaved, Saved, WAS};
use super::steps::{Field, Step};
use super::typed::{Entry, Refusal};
use crate::view::Words;

/// What the fields of a page are shown with.
pub struct Shown<'a> {
    /// The words.
    pub words: &'a Words,
    /// What became of the form that was just sent.
    pub saved: &'a Saved,
    /// What `check` says at a field, by the field's name.
    pub wrong: &'a dyn Fn(&Field) -> Vec<Html>,
    /// Whether nothing can be changed.
    pub sealed: bool,
    /// How many empty repeats are shown besides those that are planned.
    pub more: usize,
}

/// All fields of a step: figures first, then what is rarely needed, folded away.
pub fn fields(step: &Step, shown: &Shown<'_>) -> Html {
    let mut html = Html::new();
    let is_rare = |field: &Field| step.any && matches!(field.target.key, "not_taken" | "note");
    let is_figure_row = |field: &Field| field.row.is_some() && field.entry == Entry::Numbers;
    let mut group: Option<&str> = None;
    for field in &step.fields {
        if is_rare(field) {
            continue;
        }
        if is_figure_row(field) {
            html.add(&row(field, shown));
            continue;
        }
        let next = field.row.as_deref();
        if next != group {
            if group.is_some() {
                html.close("div");
            }
            if let Some(label) = next {
                html.open("div", &[("class", "group")])
                    .element("h2", &[], label);
            }
            group = next;
        }
        html.add(&one(field, shown));
    }
    if group.is_some() {
        html.close("div");
    }
    let rare = |of_rows: bool| {
        let all = step.fields.iter();
        all.filter(move |field| is_rare(field) && field.row.is_some() == of_rows)
    };
    // One by one, but those of single positions together.
    let kept_back = |field: &Field| shown.saved.kept_back.contains_key(&field.name());
    if rare(true).next().is_some() {
        let is_open = rare(true).any(|field| field.is_filled() || kept_back(field));
        match is_open {
            true => html.open("details", &[("open", "")]),
            false => html.open("details", &[]),
        };
        html.element("summary", &[], &shown.words.say("fill-not-taken-at-some"));
        for field in rare(true) {
            html.add(&one(field, shown));
        }
        html.close("details");
    }
    for field in rare(false) {
        let is_open = field.is_filled() || kept_back(field);
        if is_open {
            html.add(&one(field, shown));
        } else {
            html.raw("<details>").element("summary", &[], &field.label);
            html.add(&one(field, shown)).raw("</details>");
        }
    }
    html
}

/// The counts that are tapped.
pub fn tallies(step: &Step, words: &Words) -> Html {
    let mut html = Html::new();
    for (number, tally) in step.tallies.iter().enumerate() {
        html.open("div", &[("class", "buttons")]);
        for how in ["passed", "failed"] {
            let id = if how == "passed" {
                "fill-tap-passed"
            } else {
                "fill-tap-failed"
            };
            let label = match tally.label.as_str() {
                "" => words.say(id),
                position => format!("{position}: {}", words.say(id)),
            };
            let value = format!("{how} {number}");
            html.element("button", &[("name", "tap"), ("value", &value)], &label);
        }
        html.close("div");
    }
    html
}

/// What a field shows: what was typed and not taken, else what the file says, else what is
/// offered.
fn values(field: &Field, shown: &Shown<'_>) -> Vec<String> {
    if let Some((_, typed)) = shown.saved.kept_back.get(&field.name()) {
        return typed.clone();
    }
    if !field.is_filled() && !field.offered.is_empty() && !shown.sealed {
        return vec![field.offered.clone()];
    }
    field.value.clone()
}

/// What the page found in the file, to be sent back with what is typed.
fn was(field: &Field) -> Html {
    let mut html = Html::new();
    let name = format!("{WAS}{}", field.name());
    let id = field.id("was");
    html.open("span", &[("id", &id), ("data-was", "")]);
    let empty = [String::new()];
    let found = if field.value.is_empty() {
        &empty[..]
    } else {
        &field.value
    };
    for value in found {
        html.open(
            "input",
            &[("type", "hidden"), ("name", &name), ("value", value)],
        );
    }
    html.close("span");
    html
}

/// What is said at a field.
fn said(field: &Field, shown: &Shown<'_>) -> Html {
    let mut html = Html::new();
    let id = field.id("said");
    let kept_back = shown.saved.kept_back.get(&field.name());
    let kind = match kept_back {
        Some((NotSaved::Refused(_), _)) => "refused",
        Some((NotSaved::Changed { .. }, _)) => "changed",
        None => "",
    };
    html.open(
        "div",
        &[
            ("id", &id),
            ("class", "said"),
            ("data-said", kind),
            ("role", "status"),
        ],
    );
    match kept_back {
        Some((problem, _)) => {
            html.element("p", &[], &in_words(problem, shown.words));
        }
        None => {
            for sentence in (shown.wrong)(field) {
                html.open("p", &[]).add(&sentence).close("p");
            }
        }
    }
    html.close("div");
    html
}

fn in_words(problem: &NotSaved, words: &Words) -> String {
    match problem {
        NotSaved::Changed { now } => words.say_with("fill-changed", &[("now", now)]),
        NotSaved::Refused(why) => refusal(why, words),
    }
}

/// Why what was typed is not taken.
pub fn refusal(why: &Refusal, words: &Words) -> String {
    match why {
        Refusal::NotANumber => words.say("fill-not-a-number"),
        Refusal::TwoWays { fraction, whole } => {
            words.say_with("fill-two-ways", &[("fraction", fraction), ("whole", whole)])
        }
        Refusal::NotWhole => words.say("fill-not-whole"),
        Refusal::NotATime => words.say("fill-not-a-time"),
        Refusal::NotADay => words.say("fill-not-a-day"),
        Refusal::NotAChoice => words.say("fill-not-a-choice"),
        Refusal::TooLong => words.say("fill-too-long"),
        Refusal::HasEntries => words.say("fill-has-entries"),
    }
}

/// A figure in a row of a list of positions.
fn row(field: &Field, shown: &Shown<'_>) -> Html {
    let mut html = Html::new();
    html.open("div", &[("class", "row figure")]);
    let id = field.id("field");
    let label = field.row.as_deref().unwrap_or_default();
    html.element("label", &[("for", &id)], label);
    html.raw("<div>").add(&inputs(field, shown)).raw("</div>");
    html.add(&was(field)).add(&said(field, shown));
    html.close("div");
    html
}

fn one(field: &Field, shown: &Shown<'_>) -> Html {
    let mut html = Html::new();
    match &field.entry {
        Entry::Tick | Entry::NoneOf => {
            html.open("div", &[("class", "field")]);
            let (id, name) = (field.id("field"), field.name());
            let mut attributes = vec![
                ("type", "checkbox"),
                ("id", &id),
                ("name", &name),
                ("value", "true"),
            ];
            if field.value.iter().any(|value| value == "true") {
                attributes.push(("checked", ""));
            }
            if shown.sealed {
                attributes.push(("disabled", ""));
            }
            html.open("label", &[("class", "tick"), ("for", &id)]);
            html.open("input", &attributes)
                .text(&field.label)
                .close("label");
            html.add(&was(field)).add(&said(field, shown));
            html.close("div");
        }
        // There is nothing to choose: it goes along.
        Entry::Choice(choices) if field.target.key == "unit" && choices.len() == 1 => {
            let name = field.name();
            let value = choices.first().map_or("", |(written, _)| written.as_str());
            html.open(
                "input",
                &[("type", "hidden"), ("name", &name), ("value", value)],
            );
            html.add(&was(field)).add(&said(field, shown));
        }
        Entry::Choice(choices) => {
            html.raw("<fieldset>").element("legend", &[], &field.label);
            html.open("div", &[("class", "chips")]);
            let chosen = values(field, shown);
            let name = field.name();
            for (written, label) in choices {
                let mut attributes = vec![("type", "radio"), ("name", &name), ("value", written)];
                if chosen.contains(written) {
                    attributes.push(("checked", ""));
                }
                if shown.sealed {
                    attributes.push(("disabled", ""));
                }
                html.open("label", &[("class", "chip")])
                    .open("input", &attributes);
                html.element("span", &[], label).close("label");
            }
            html.close("div").add(&was(field)).add(&said(field, shown));
            html.raw("</fieldset>");
        }
        Entry::Text
        | Entry::Lines
        | Entry::List
        | Entry::Number
        | Entry::Numbers
        | Entry::Whole
        | Entry::Moment
        | Entry::Day => {
            let class = match field.entry {
                Entry::Number | Entry::Numbers | Entry::Whole => "field figure",
                _ => "field",
            };
            html.open("div", &[("class", class)]);
            html.element("label", &[("for", &field.id("field"))], &field.label);
            html.add(&inputs(field, shown)).add(&was(field));
            html.element(
                "p",
                &[("class", "help"), ("id", &field.id("help"))],
                &field.help,
            );
            html.add(&said(field, shown));
            html.close("div");
        }
    }
    html
}

/// The boxes to type into.
fn inputs(field: &Field, shown: &Shown<'_>) -> Html {
    let mut html = Html::new();
    let found = values(field, shown);
    let filled: Vec<&String> = found.iter().filter(|value| !value.is_empty()).collect();
    let boxes = match field.entry {
        Entry::Numbers if shown.sealed => filled.len().max(1),
        Entry::Numbers => field.repeats.max(filled.len()).max(1) + shown.more,
        _ => 1,
    };
    let name = field.name();
    let described = format!("{} {}", field.id("help"), field.id("said"));
    for index in 0..boxes {
        let id = match index {
            0 => field.id("field"),
            _ => field.id(&format!("field{index}")),
        };
        let value = filled.get(index).map_or("", |value| value.as_str());
        html.open("div", &[("class", "box")]);
        let mut attributes: Vec<(&str, &str)> = vec![
            ("id", &id),
            ("name", &name),
            ("autocomplete", "off"),
            ("aria-describedby", &described),
        ];
        let again = format!("{} {}", field.label, index + 1);
        if index > 0 {
            attributes.push(("aria-label", &again));
        }
        if shown.sealed {
            attributes.push(("disabled", ""));
        }
        match field.entry {
            Entry::Lines | Entry::List => {
                html.open("textarea", &attributes)
                    .text(value)
                    .close("textarea");
            }
            _ => {
                attributes.push(("value", value));
                match field.entry {
                    Entry::Number | Entry::Numbers => attributes.push(("inputmode", "decimal")),
                    Entry::Whole => attributes.push(("inputmode", "numeric")),
                    Entry::Moment => attributes.push(("type", "datetime-local")),
                    Entry::Day => attributes.push(("type", "date")),
                    _ => {}
                }
                html.open("input", &attributes);
            }
        }
        html.element("span", &[("class", "unit")], &field.unit);
        html.close("div");
    }
    html
}
