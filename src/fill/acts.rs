//! What is asked for at the form and done by the commands: sealing, the receipt, the report.
//! Only on this computer; over the network there is no button, and the request is refused.

use super::frame::plain_page;
use super::html::Html;
use super::page::Scene;
use super::routes::{Answer, Job};
use crate::job::Stage;
use crate::view::Words;

/// Something that a command does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Act {
    /// Seals the baseline, and makes the receipt.
    SealBaseline,
    /// Makes the receipt again.
    Receipt,
    /// Seals the retest.
    SealRetest,
    /// Makes the report.
    Report,
}

/// What a command said.
#[derive(Debug)]
pub struct Done {
    /// Whether it did what was asked.
    pub well: bool,
    /// What it said, line for line.
    pub text: String,
}

impl Act {
    /// All of them, in working order.
    const ALL: [Self; 4] = [
        Self::SealBaseline,
        Self::Receipt,
        Self::SealRetest,
        Self::Report,
    ];

    /// The arguments of the command, but for the folder.
    pub const fn arguments(self) -> &'static [&'static str] {
        match self {
            Self::SealBaseline => &["seal", "baseline"],
            Self::Receipt => &["receipt", "--replace"],
            Self::SealRetest => &["seal", "retest"],
            Self::Report => &["report", "--replace"],
        }
    }

    const fn word(self) -> &'static str {
        match self {
            Self::SealBaseline => "seal-baseline",
            Self::Receipt => "receipt",
            Self::SealRetest => "seal-retest",
            Self::Report => "report",
        }
    }

    const fn labels(self) -> [&'static str; 2] {
        match self {
            Self::SealBaseline => ["fill-do-seal-baseline", "fill-button-seal-baseline"],
            Self::Receipt => ["fill-do-receipt", "fill-button-receipt"],
            Self::SealRetest => ["fill-do-seal-retest", "fill-button-seal-retest"],
            Self::Report => ["fill-do-report", "fill-button-report"],
        }
    }

    /// The one that is asked for at this address.
    pub fn at(path: &str) -> Option<Self> {
        let word = path.strip_prefix("/do/")?;
        Self::ALL.into_iter().find(|act| act.word() == word)
    }

    /// Whether it is next, as the job stands.
    fn is_next(self, scene: &Scene<'_>) -> bool {
        let desk = scene.desk;
        let sealed = |stage| desk.sealed(stage).is_some();
        match self {
            Self::SealBaseline => !sealed(Stage::Baseline),
            Self::Receipt => sealed(Stage::Baseline) && !sealed(Stage::Retest),
            Self::SealRetest => sealed(Stage::Baseline) && !sealed(Stage::Retest),
            Self::Report => desk.job.is_some(),
        }
    }
}

/// What can be asked for now: a button for each, or where there is none, its command.
pub fn acts(scene: &Scene<'_>) -> Html {
    let words = scene.words;
    let mut html = Html::new();
    let buttons = scene.can_act && !scene.exposed;
    for act in Act::ALL.into_iter().filter(|act| act.is_next(scene)) {
        let [label, button] = act.labels();
        html.element("p", &[], &words.say(label));
        if buttons {
            let address = format!("/do/{}", act.word());
            html.open("form", &[("method", "post"), ("action", &address)]);
            html.open("div", &[("class", "buttons")]);
            html.element("button", &[("class", "go")], &words.say(button));
            html.close("div").close("form");
        }
        let command = act.arguments().join(" ");
        html.element(
            "code",
            &[],
            &format!("retestify {command} {}", scene.folder),
        );
    }
    let why = match (buttons, scene.exposed) {
        (true, _) => "fill-do-here",
        (false, true) => "fill-do-why",
        (false, false) => "fill-do-sign",
    };
    html.element("p", &[("class", "help")], &words.say(why));
    html
}

/// What came of it.
pub fn done_page(job: &Job, done: &Done) -> Answer {
    let words = &job.words;
    let title = words.say(match done.well {
        true => "fill-done",
        false => "fill-not-done",
    });
    let (status, link) = (if done.well { 200 } else { 409 }, words.say("fill-go-on"));
    Answer::page(
        status,
        plain_page(words, &title, &done.text, Some(("/finish", &link))),
    )
}

/// Over the network nothing is sealed or signed.
pub fn refused_page(words: &Words) -> Answer {
    let title = words.say("fill-refused-title");
    let text = words.say("fill-do-why");
    Answer::page(
        403,
        plain_page(
            words,
            &title,
            &text,
            Some(("/finish", &words.say("fill-go-on"))),
        ),
    )
}
