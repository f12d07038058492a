//! The frame around each page: what it is about, what the job comes to so far, and all steps.

use super::html::Html;
use super::page::Scene;
use super::problem_words::told;
use super::so_far::{SoFar, of_baseline, of_job};
use super::steps::{Field, Part, Step};
use crate::job::{JobFile, Stage};
use crate::view::Words;

/// The frame around a page.
pub fn page(scene: &Scene<'_>, title: &str, step: Option<&Step>, main: &Html) -> String {
    let words = scene.words;
    let plan = scene.desk.plan.as_ref();
    let machine = plan.map_or_else(
        || words.say("fill-new-job"),
        |plan| plan.machine.name.clone(),
    );
    let mut state = Vec::new();
    state.extend(plan.map(|plan| plan.number.clone()));
    state.extend(step.map(|step| words.say(step.part.title())));
    let mut html = head(words, &format!("{title} · {machine}"));
    html.raw("<body>");
    html.element(
        "a",
        &[("class", "skip"), ("href", "#main")],
        &words.say("fill-skip"),
    );
    html.raw("<header>")
        .element("p", &[("class", "machine")], &machine);
    html.open("p", &[("class", "state")])
        .text(&state.join(" · "))
        .raw(" · ");
    html.open("span", &[("id", "saved"), ("role", "status")]);
    html.text(&saved_line(scene, step))
        .raw("</span></p></header>");
    if scene.exposed {
        html.open("div", &[("class", "frame")]);
        html.element("p", &[("class", "notice")], &words.say("fill-exposed"))
            .close("div");
    }
    html.open("div", &[("class", "frame")]);
    html.open("main", &[("id", "main")]).add(main).close("main");
    let label = words.say("fill-so-far");
    html.open("aside", &[("id", "so-far"), ("aria-label", &label)]);
    html.add(&so_far(scene, step)).close("aside");
    let label = words.say("fill-steps");
    html.open("nav", &[("id", "steps"), ("aria-label", &label)]);
    html.add(&navigation(scene, step)).close("nav");
    html.raw("</div></body></html>");
    html.into_string()
}

fn head(words: &Words, title: &str) -> Html {
    let mut html = Html::new();
    html.raw("<!doctype html>");
    html.open("html", &[("lang", &words.language())]);
    html.raw("<head><meta charset=\"utf-8\"><meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">");
    html.element("title", &[], title);
    html.raw("<link rel=\"stylesheet\" href=\"/form.css\">");
    html.raw("<script src=\"/form.js\" defer></script></head>");
    html
}

/// Whether what is on the page is in the file.
fn saved_line(scene: &Scene<'_>, step: Option<&Step>) -> String {
    let file = step
        .and_then(|step| step.fields.first())
        .map(|field| field.target.file);
    match file {
        Some(file)
            if scene
                .desk
                .files
                .get(&file)
                .is_some_and(|now| now.digest.is_some()) =>
        {
            let time = scene.now.format("%H:%M:%S").to_string();
            scene
                .words
                .say_with("fill-saved", &[("time", &time), ("file", file.name())])
        }
        _ => scene.words.say("fill-nothing-to-save"),
    }
}

fn so_far(scene: &Scene<'_>, step: Option<&Step>) -> Html {
    let mut html = Html::new();
    let words = scene.words;
    let part = step.map_or(Part::Retest, |step| step.part);
    let before = matches!(part, Part::Plan | Part::Baseline);
    let found = match before {
        true => of_baseline(scene.desk, scene.now, words),
        false => of_job(scene.desk, scene.now, words),
    };
    let SoFar {
        headline,
        lines,
        look_again,
    } = found;
    html.element("h2", &[], &words.say("fill-so-far"));
    html.element("p", &[("class", "headline")], &headline);
    list(&mut html, &lines);
    if let Some((heading, sentences)) = look_again.split_first() {
        html.element("h2", &[], heading);
        list(&mut html, sentences);
    }
    let wrong: Vec<Html> = JobFile::ALL
        .into_iter()
        .filter(|file| match before {
            true => file.stage() == Stage::Baseline,
            false => true,
        })
        .flat_map(|file| scene.desk.wrong_in(file))
        .map(|problem| {
            let mut line = Html::new();
            line.text(&format!("{}: ", problem.file));
            line.add(&told(problem, " – ", words)).clone()
        })
        .collect();
    if !wrong.is_empty() {
        html.element("h2", &[], &words.say("fill-wrong"))
            .raw("<ul>");
        for line in &wrong {
            html.raw("<li>").add(line).raw("</li>");
        }
        html.raw("</ul>");
    }
    let missing: Vec<&Step> = scene
        .steps
        .iter()
        .filter(|step| step.is_asked() && !step.is_done())
        .filter(|step| match before {
            true => step.part.stage() == Stage::Baseline,
            false => true,
        })
        .collect();
    if !missing.is_empty() {
        html.element("h2", &[], &words.say("fill-missing"))
            .raw("<ul>");
        for step in missing {
            html.raw("<li>");
            html.element("a", &[("href", &step.address())], &step.title)
                .raw("</li>");
        }
        html.raw("</ul>");
    } else {
        html.element("p", &[], &words.say("fill-complete"));
    }
    html.open("p", &[]);
    html.element(
        "a",
        &[("class", "button"), ("href", "/finish")],
        &words.say("fill-finish"),
    );
    html.close("p");
    html
}

fn list(html: &mut Html, lines: &[String]) {
    if lines.is_empty() {
        return;
    }
    html.raw("<ul>");
    for line in lines {
        html.element("li", &[], line);
    }
    html.raw("</ul>");
}

fn navigation(scene: &Scene<'_>, here: Option<&Step>) -> Html {
    let mut html = Html::new();
    for part in Part::ALL {
        let sealed = scene.desk.sealed(part.stage()).is_some();
        html.element("h2", &[], &scene.words.say(part.title()))
            .raw("<ul>");
        for step in scene.steps.iter().filter(|step| step.part == part) {
            let class = match (
                sealed,
                step.is_done() && step.fields.iter().any(Field::is_filled),
            ) {
                (true, _) => "sealed",
                (false, true) => "done",
                (false, false) => "",
            };
            let address = step.address();
            let mut attributes = vec![("href", address.as_str())];
            if here.is_some_and(|here| here.part == part && here.id == step.id) {
                attributes.push(("aria-current", "page"));
            }
            html.open("li", &[("class", class)]).open("a", &attributes);
            html.raw("<span class=\"dot\" aria-hidden=\"true\"></span>");
            html.element("span", &[], &step.title).raw("</a></li>");
        }
        html.raw("</ul>");
    }
    html
}

/// A page that only says something.
pub fn plain_page(words: &Words, title: &str, text: &str, link: Option<(&str, &str)>) -> String {
    let mut html = head(words, title);
    html.raw("<body><div class=\"frame\"><main id=\"main\">");
    html.raw("<br>").element("h1", &[], title);
    for line in text.lines() {
        html.element("p", &[], line);
    }
    if let Some((address, label)) = link {
        html.element("a", &[("class", "button go"), ("href", address)], label);
    }
    html.raw("</main></div></body></html>");
    html.into_string()
}
