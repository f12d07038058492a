//! The pages of the form.

use super::acts::acts;
use super::desk::Desk;
use super::field_html::{self, Shown};
use super::frame::page;
use super::html::Html;
use super::problem_words::told;
use super::save::{SaveError, Saved};
use super::so_far::{line, of_measure, run_so_far};
use super::steps::{Field, Part, Step};
use super::typed::Entry;
use crate::job::JobFile;
use crate::view::Words;
use chrono::{DateTime, FixedOffset};

/// What a page is made from.
pub struct Scene<'a> {
    /// The job.
    pub desk: &'a Desk,
    /// Its steps.
    pub steps: &'a [Step],
    /// The words.
    pub words: &'a Words,
    /// Now.
    pub now: DateTime<FixedOffset>,
    /// How the folder is typed at a shell.
    pub folder: &'a str,
    /// Whether the page goes over the network, where others may read it.
    pub exposed: bool,
    /// Whether commands can be asked for by a button.
    pub can_act: bool,
}

/// What was just done with a form.
#[derive(Default)]
pub struct Outcome {
    /// What became of its fields.
    pub saved: Saved,
    /// Why nothing was written, if so.
    pub error: Option<SaveError>,
    /// What is said at the top, such as of a photo; may be empty.
    pub notice: String,
    /// How many more repeats are asked for.
    pub more: usize,
}

/// The step with what is offered for its empty fields.
fn with_offers(step: &Step, scene: &Scene<'_>) -> Step {
    let mut step = step.clone();
    let other = scene.desk.document(JobFile::Baseline);
    for field in &mut step.fields {
        let is_now = matches!(field.target.key, "started" | "finished");
        if field.target.table.is_empty() && is_now {
            field.offered = scene.now.format("%Y-%m-%dT%H:%M").to_string();
        }
        if field.target.table.is_empty() && field.target.key == "by" {
            let by = other.and_then(|document| document.get("by")?.as_str());
            field.offered = by.unwrap_or_default().to_owned();
        }
    }
    step
}

/// The page of one step.
pub fn step_page(scene: &Scene<'_>, step: &Step, outcome: &Outcome) -> String {
    let words = scene.words;
    let sealed = scene.desk.sealed(step.part.stage());
    let step = &with_offers(step, scene);
    let mut main = Html::new();
    main.add(&way(scene, step));
    main.element("h1", &[], &step.title);
    if !step.notes.is_empty() {
        main.open("ul", &[("class", "notes")]);
        for note in &step.notes {
            main.element("li", &[], note);
        }
        main.close("ul");
    }
    notices(&mut main, scene, step, outcome);
    let wrong = |field: &Field| wrong_at(scene, field);
    let shown = Shown {
        words,
        saved: &outcome.saved,
        wrong: &wrong,
        sealed: sealed.is_some(),
        more: outcome.more,
    };
    let address = step.address();
    let mut attributes = vec![
        ("id", "form"),
        ("method", "post"),
        ("action", address.as_str()),
    ];
    let lost = words.say("fill-lost");
    attributes.push(("data-lost", &lost));
    if sealed.is_some() {
        attributes.push(("data-sealed", "1"));
    }
    main.open("form", &attributes);
    // The first button of a form is the one that Enter presses.
    main.raw("<button name=\"go\" value=\"next\" hidden tabindex=\"-1\"></button>");
    main.add(&field_html::fields(step, &shown));
    main.open(
        "div",
        &[("id", "stands"), ("class", "stands"), ("role", "status")],
    );
    main.add(&stands(scene, step)).close("div");
    if sealed.is_none() {
        main.add(&field_html::tallies(step, words));
        let repeats = step
            .fields
            .iter()
            .any(|field| field.entry == Entry::Numbers);
        if repeats {
            main.open("div", &[("class", "buttons")]);
            let label = words.say("fill-one-more");
            main.element("button", &[("name", "go"), ("value", "more")], &label);
            main.close("div");
        }
    }
    main.add(&baseline_figure(scene, step));
    main.add(&bar(scene, step, sealed.is_some()));
    main.close("form");
    if sealed.is_none() && (step.media || step.measure.is_some()) {
        main.add(&media(scene, step));
    }
    page(scene, &step.title, Some(step), &main)
}

/// Where on the way a step is.
fn way(scene: &Scene<'_>, step: &Step) -> Html {
    let mut html = Html::new();
    let of_part: Vec<&Step> = scene
        .steps
        .iter()
        .filter(|one| one.part == step.part)
        .collect();
    let here = of_part
        .iter()
        .position(|one| one.id == step.id)
        .unwrap_or(0);
    html.open("ol", &[("class", "way"), ("aria-hidden", "true")]);
    for (index, one) in of_part.iter().enumerate() {
        let class = match (index == here, one.is_done() && one.is_asked()) {
            (true, _) => "here",
            (false, true) => "done",
            (false, false) => "",
        };
        html.open("li", &[("class", class)]).close("li");
    }
    html.close("ol");
    let (number, count) = ((here + 1).to_string(), of_part.len().to_string());
    let part = scene.words.say(step.part.title());
    let arguments = [
        ("number", number.as_str()),
        ("count", &count),
        ("part", &part),
    ];
    html.element(
        "p",
        &[("class", "where")],
        &scene.words.say_with("fill-way", &arguments),
    );
    html
}

fn notices(main: &mut Html, scene: &Scene<'_>, step: &Step, outcome: &Outcome) {
    let words = scene.words;
    let mut notice = |text: &str| {
        main.open("div", &[("class", "notice"), ("role", "status")]);
        main.element("p", &[], text).close("div");
    };
    if let Some(error) = &outcome.error {
        notice(&match error {
            SaveError::Sealed => words.say("fill-error-sealed"),
            SaveError::NotToml(file) => {
                words.say_with("fill-error-not-toml", &[("file", file.name())])
            }
            SaveError::Moved(file) => words.say_with("fill-error-moved", &[("file", file.name())]),
            SaveError::NotWritten(file, why) => words.say_with(
                "fill-error-not-written",
                &[("file", file.name()), ("why", &why.to_string())],
            ),
        });
    }
    if !outcome.notice.is_empty() {
        notice(&outcome.notice);
    }
    if let Some(seal) = scene.desk.sealed(step.part.stage()) {
        let moment = seal.seal.sealed.format("%Y-%m-%d %H:%M").to_string();
        notice(&words.say_with("fill-sealed", &[("moment", &moment)]));
        let amend = format!(
            "retestify seal {} {} --amend \"…\"",
            step.part.stage().word(),
            scene.folder
        );
        main.element("code", &[], &amend);
    }
}

/// What `check` says at a field.
fn wrong_at(scene: &Scene<'_>, field: &Field) -> Vec<Html> {
    let desk = scene.desk;
    desk.wrong_in(field.target.file)
        .into_iter()
        .filter(|problem| desk.is_about(problem, &field.target))
        .map(|problem| told(problem, ": ", scene.words))
        .collect()
}

/// Whether what was read meets its limit.
fn stands(scene: &Scene<'_>, step: &Step) -> Html {
    let mut html = Html::new();
    let desk = scene.desk;
    let (Some(id), Some(plan), Some(shop)) = (&step.measure, &desk.plan, &desk.shop) else {
        return html;
    };
    let run = run_so_far(desk, step.part.stage(), scene.now);
    let (Some(run), Some(measure)) = (run, plan.limits.measure(id)) else {
        return html;
    };
    for row in of_measure(plan, &run, shop, measure, scene.words) {
        html.element("p", &[], &line(&row, scene.words));
    }
    html
}

/// The baseline's figure beside the retest, shown only to whoever asks for it, so that nobody
/// reads towards it.
fn baseline_figure(scene: &Scene<'_>, step: &Step) -> Html {
    let mut html = Html::new();
    let desk = scene.desk;
    let (Part::Retest, Some(id), Some(plan), Some(shop), Some(job)) = (
        step.part,
        &step.measure,
        &desk.plan,
        &desk.shop,
        &desk.baselined,
    ) else {
        return html;
    };
    let Some(measure) = plan.limits.measure(id) else {
        return html;
    };
    let rows = of_measure(plan, &job.baseline, shop, measure, scene.words);
    if rows.is_empty() {
        return html;
    }
    html.raw("<details>")
        .element("summary", &[], &scene.words.say("fill-show-baseline"));
    for row in rows {
        html.element("p", &[], &format!("{}: {}", row.name, row.figures()));
    }
    html.raw("</details>");
    html
}

/// Back and on.
fn bar(scene: &Scene<'_>, step: &Step, sealed: bool) -> Html {
    let mut html = Html::new();
    let words = scene.words;
    let here = scene
        .steps
        .iter()
        .position(|one| one.part == step.part && one.id == step.id);
    let here = here.unwrap_or(0);
    let next = scene.steps.get(here + 1);
    let title = next.map_or_else(|| words.say("fill-finish"), |next| next.title.clone());
    let next_label = words.say_with("fill-next", &[("title", &title)]);
    let back = words.say("fill-back");
    html.open("div", &[("class", "bar")]);
    if sealed {
        let before = here
            .checked_sub(1)
            .and_then(|before| scene.steps.get(before));
        let before = before.map_or_else(|| "/finish".to_owned(), Step::address);
        let after = next.map_or_else(|| "/finish".to_owned(), Step::address);
        html.element("a", &[("class", "button"), ("href", &before)], &back);
        html.element(
            "a",
            &[("class", "button go"), ("href", &after)],
            &next_label,
        );
    } else {
        if here > 0 {
            html.element("button", &[("name", "go"), ("value", "back")], &back);
        }
        html.element(
            "button",
            &[("name", "go"), ("value", "next"), ("class", "go")],
            &next_label,
        );
    }
    html.close("div");
    html
}

/// Photos and films.
fn media(scene: &Scene<'_>, step: &Step) -> Html {
    let mut html = Html::new();
    let words = scene.words;
    let address = format!("/{}/media", step.part.word());
    let busy = words.say("fill-upload-busy");
    html.raw("<details>")
        .element("summary", &[], &words.say("fill-photo-or-film"));
    html.element("p", &[("class", "help")], &words.say("fill-film-help"));
    html.open(
        "form",
        &[
            ("class", "upload"),
            ("method", "post"),
            ("action", &address),
            ("enctype", "multipart/form-data"),
            ("data-busy", &busy),
        ],
    );
    html.open(
        "input",
        &[("type", "hidden"), ("name", "step"), ("value", &step.id)],
    );
    let caption = |html: &mut Html| {
        html.open("div", &[("class", "field")]);
        html.element("label", &[("for", "caption")], &words.say("fill-caption"));
        html.open("div", &[("class", "box")]);
        let offered = if step.measure.is_some() {
            step.title.as_str()
        } else {
            ""
        };
        html.open(
            "input",
            &[
                ("id", "caption"),
                ("name", "caption"),
                ("value", offered),
                ("maxlength", "300"),
                ("required", ""),
            ],
        );
        html.close("div").close("div");
    };
    caption(&mut html);
    if matches!(step.part, Part::Baseline | Part::Retest) {
        html.open("label", &[("class", "tick")]);
        let pair = match &step.measure {
            Some(id) => id.clone(),
            None => "overall".to_owned(),
        };
        html.open(
            "input",
            &[("type", "checkbox"), ("name", "pair"), ("value", &pair)],
        );
        html.text(&words.say("fill-pair")).close("label");
    }
    for (id, label, accept) in [
        ("photo", "fill-photo", "image/jpeg,image/png"),
        ("film", "fill-film", "video/*,audio/*"),
    ] {
        html.open("div", &[("class", "field")]);
        html.element("label", &[("for", id)], &words.say(label));
        let attributes = [
            ("id", id),
            ("type", "file"),
            ("name", "file"),
            ("accept", accept),
            ("capture", "environment"),
        ];
        html.open("input", &attributes).close("div");
    }
    html.open("div", &[("class", "buttons")]);
    html.element("button", &[], &words.say("fill-upload"))
        .close("div");
    html.close("form").raw("</details>");
    html
}

/// What is done, what is next, and what can be asked for.
pub fn finish_page(scene: &Scene<'_>) -> String {
    let words = scene.words;
    let mut main = Html::new();
    main.element("h1", &[], &words.say("fill-finish"));
    main.add(&acts(scene));
    page(scene, &words.say("fill-finish"), None, &main)
}
