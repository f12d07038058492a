//! What the form answers to each address. A request comes here checked and whole; only
//! uploads are read as they arrive.

use std::path::{Path, PathBuf};

use chrono::{DateTime, FixedOffset};

use super::desk::{Desk, DeskError};
use super::frame::plain_page;
use super::page::{Outcome, Scene, finish_page, step_page};
use super::save::{Saved, Sent, save, tap};
use super::steps::{Part, Step, steps};
use super::typed::{Setting, Zone};
use super::uploads::{Medium, Upload, UploadError, place};
use crate::render::FONTS;
use crate::view::Words;

/// What a request is answered with.
#[derive(Debug)]
pub struct Answer {
    /// The status code.
    pub status: u16,
    /// The type of the body.
    pub mime: &'static str,
    /// The body.
    pub body: Vec<u8>,
    /// Where to go instead.
    pub location: Option<String>,
}

impl Answer {
    /// A page.
    pub fn page(status: u16, html: String) -> Self {
        Self {
            status,
            mime: "text/html; charset=utf-8",
            body: html.into_bytes(),
            location: None,
        }
    }

    /// Sends the browser to another page.
    pub fn see(location: impl Into<String>) -> Self {
        Self {
            status: 303,
            mime: "text/plain",
            body: Vec::new(),
            location: Some(location.into()),
        }
    }

    /// Part of every page.
    fn part(mime: &'static str, body: &[u8]) -> Self {
        Self {
            status: 200,
            mime,
            body: body.to_vec(),
            location: None,
        }
    }
}

/// The files that every page is made with; they say nothing of any job.
pub fn asset(path: &str) -> Option<Answer> {
    let [sans, _, sans_bold, _, serif, _] = FONTS;
    match path {
        "/form.css" => Some(Answer::part(
            "text/css; charset=utf-8",
            include_bytes!("form.css"),
        )),
        "/form.js" => Some(Answer::part(
            "text/javascript; charset=utf-8",
            include_bytes!("form.js"),
        )),
        "/fonts/sans" => Some(Answer::part("font/ttf", sans)),
        "/fonts/sans-bold" => Some(Answer::part("font/ttf", sans_bold)),
        "/fonts/serif" => Some(Answer::part("font/ttf", serif)),
        _ => None,
    }
}

/// The one job that is filled in.
pub struct Job {
    /// Its folder.
    pub folder: PathBuf,
    /// How the folder is typed at a shell.
    pub typed: String,
    /// The words of the page.
    pub words: Words,
}

/// One moment at the form.
pub struct Moment {
    /// Now.
    pub now: DateTime<FixedOffset>,
    /// How far clocks here are ahead of UTC.
    pub zone: Zone,
    /// Whether the request came over the network.
    pub exposed: bool,
    /// Whether commands can be asked for by a button.
    pub can_act: bool,
}

/// The job as it lies there, with its steps.
struct Open<'a> {
    job: &'a Job,
    moment: &'a Moment,
    desk: Desk,
    steps: Vec<Step>,
    setting: Setting,
}

impl<'a> Open<'a> {
    fn read(job: &'a Job, moment: &'a Moment) -> Result<Self, DeskError> {
        let desk = Desk::read(&job.folder)?;
        let setting = Setting::of(job.words.decimal_sign(), moment.zone);
        let steps = steps(&desk, &job.words, setting);
        Ok(Self {
            job,
            moment,
            desk,
            steps,
            setting,
        })
    }

    fn scene(&self) -> Scene<'_> {
        Scene {
            desk: &self.desk,
            steps: &self.steps,
            words: &self.job.words,
            now: self.moment.now,
            folder: &self.job.typed,
            exposed: self.moment.exposed,
            can_act: self.moment.can_act,
        }
    }

    fn step(&self, path: &str) -> Option<(usize, &Step)> {
        let mut all = self.steps.iter().enumerate();
        all.find(|(_, step)| step.address() == path)
    }

    /// There is no such page; or not while something in the plan keeps it from being read.
    fn no_step(&self, words: &Words) -> Answer {
        if self.desk.plan.is_some() {
            return nothing_here(words);
        }
        let (title, text) = (
            words.say("fill-plan-first-title"),
            words.say("fill-plan-first"),
        );
        let link = words.say("fill-part-plan");
        let page = plain_page(words, &title, &text, Some(("/plan/machine", &link)));
        Answer::page(404, page)
    }

    /// The first step that something is missing in.
    fn next(&self) -> String {
        let missing = |step: &&Step| {
            step.is_asked() && !step.is_done() && self.desk.sealed(step.part.stage()).is_none()
        };
        let next = self.steps.iter().find(missing);
        next.map_or_else(|| "/finish".to_owned(), Step::address)
    }

    fn at(&self, index: Option<usize>) -> String {
        let step = index.and_then(|index| self.steps.get(index));
        step.map_or_else(|| "/finish".to_owned(), Step::address)
    }
}

/// Answers a request for a page.
pub fn show(job: &Job, moment: &Moment, path: &str, query: &str) -> Answer {
    let open = match Open::read(job, moment) {
        Ok(open) => open,
        Err(error) => return unreadable(job, &error),
    };
    match path {
        "/" => Answer::see(open.next()),
        "/finish" => Answer::page(200, finish_page(&open.scene())),
        path => match open.step(path) {
            Some((_, step)) => {
                let sent = Sent::of(query.as_bytes());
                let outcome = Outcome {
                    more: sent.one("more").parse().unwrap_or(0).min(12),
                    notice: notice(sent.one("told"), &job.words),
                    ..Outcome::default()
                };
                Answer::page(200, step_page(&open.scene(), step, &outcome))
            }
            None => open.no_step(&job.words),
        },
    }
}

/// Answers a form that was sent.
pub fn take(job: &Job, moment: &Moment, path: &str, body: &[u8]) -> Answer {
    let open = match Open::read(job, moment) {
        Ok(open) => open,
        Err(error) => return unreadable(job, &error),
    };
    let Some((index, step)) = open.step(path) else {
        return open.no_step(&job.words);
    };
    let mut sent = Sent::of(body);
    tap(step, &mut sent);
    let (saved, error) = match save(&job.folder, &open.desk, step, &sent, open.setting) {
        Ok(saved) => (saved, None),
        Err(error) => (Saved::default(), Some(error)),
    };
    let went_well = error.is_none() && saved.kept_back.is_empty();
    if went_well {
        match sent.one("go") {
            "next" => return Answer::see(open.at(Some(index + 1))),
            "back" => return Answer::see(open.at(index.checked_sub(1))),
            "more" => return Answer::see(format!("{path}?more=1")),
            "stay" => {}
            // A tap, or a form sent in another way.
            _ => return Answer::see(path),
        }
    }
    // The page again, from the files as they are now.
    let status = if went_well { 200 } else { 409 };
    let again = match Open::read(job, moment) {
        Ok(again) => again,
        Err(error) => return unreadable(job, &error),
    };
    let outcome = Outcome {
        saved,
        error,
        ..Outcome::default()
    };
    match again.step(path) {
        Some((_, step)) => Answer::page(status, step_page(&again.scene(), step, &outcome)),
        None => again.no_step(&job.words),
    }
}

/// Answers an upload that was received for `part`.
pub fn take_upload(job: &Job, part: Part, upload: Result<Upload, UploadError>) -> Answer {
    let step = upload
        .as_ref()
        .map_or_else(|_| String::new(), |upload| upload.step.clone());
    let placed = upload.and_then(|upload| {
        let desk =
            Desk::read(&job.folder).map_err(|error| UploadError::NotWritten(error.to_string()))?;
        place(&job.folder, &desk, part, upload)
    });
    let is_word = |b: u8| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-';
    match placed {
        Ok(medium) => {
            let told = match medium {
                Medium::Photo => "photo",
                Medium::Film => "film",
            };
            let step = match step.bytes().all(is_word) && !step.is_empty() {
                true => step,
                false => "end".to_owned(),
            };
            Answer::see(format!("/{}/{step}?told={told}", part.word()))
        }
        Err(error) => refused_upload(&job.words, part, &error),
    }
}

fn refused_upload(words: &Words, part: Part, error: &UploadError) -> Answer {
    let (status, text) = match error {
        UploadError::OtherKind => (415, words.say("fill-upload-kind")),
        UploadError::TooLarge(limit) => (
            413,
            words.say_with("fill-upload-large", &[("limit", &limit.to_string())]),
        ),
        UploadError::Incomplete => (400, words.say("fill-upload-incomplete")),
        UploadError::Closed => (409, words.say("fill-error-sealed")),
        UploadError::Broken => (400, words.say("fill-upload-broken")),
        UploadError::Moved => (409, words.say("fill-upload-moved")),
        UploadError::NotWritten(why) => (
            500,
            words.say_with("fill-upload-not-written", &[("why", why)]),
        ),
    };
    let link = format!("/{}/end", part.word());
    let link = (link.as_str(), words.say("fill-back"));
    let page = plain_page(
        words,
        &words.say("fill-not-kept"),
        &text,
        Some((link.0, &link.1)),
    );
    Answer::page(status, page)
}

fn notice(told: &str, words: &Words) -> String {
    match told {
        "photo" => words.say("fill-photo-kept"),
        "film" => words.say("fill-film-kept"),
        _ => String::new(),
    }
}

/// There is no such page.
pub fn nothing_here(words: &Words) -> Answer {
    let title = words.say("fill-nothing-here");
    let link = words.say("fill-start");
    Answer::page(404, plain_page(words, &title, "", Some(("/", &link))))
}

fn unreadable(job: &Job, error: &DeskError) -> Answer {
    let words = &job.words;
    let title = words.say("fill-unreadable");
    Answer::page(500, plain_page(words, &title, &error.to_string(), None))
}

/// The words of the form in English.
pub const ENGLISH: &str = include_str!("../../report-templates/words/form.en.ftl");

/// The words of the form, in the language of the shop that the job is below; English where
/// that cannot be told.
pub fn words_for(folder: &Path) -> Words {
    let language = super::desk::language(folder);
    let words = Words::of(&language, &[]).unwrap_or_else(|_| Words::english());
    let primary = words.language();
    match primary.split('-').next() {
        Some("es") => words
            .with_more(include_str!("../../report-templates/words/form.es.ftl"))
            .with_more(super::problem_words::SPANISH),
        _ => words.with_more(ENGLISH),
    }
}
