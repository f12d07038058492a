//! The words, in one Fluent file for each language.
//!
//! A message is asked for by its id; what is missing shows as its id in
//! brackets, and a test holds that none is missing and none is left over.

use std::collections::BTreeMap;
use std::fmt;

use fluent_bundle::concurrent::FluentBundle;
use fluent_bundle::{FluentArgs, FluentResource};
use unic_langid::LanguageIdentifier;

use crate::quantity::System;

/// The English words; also the list of ids that another language must have.
pub const ENGLISH: &str = include_str!("../../report-templates/words/en.ftl");

/// The languages that are built in: the tag, and its files of words, in which a later
/// one says differently what an earlier one says. To add a language, add its file and a
/// line here.
pub const LANGUAGES: &[(&str, &[&str])] = &[
    ("en", &[ENGLISH]),
    (
        "en-US",
        &[
            ENGLISH,
            include_str!("../../report-templates/words/en-US.ftl"),
        ],
    ),
    ("es", &[include_str!("../../report-templates/words/es.ftl")]),
];

/// The words of one language, its decimal sign, and the units in which a figure stands
/// a second time.
pub struct Words {
    language: LanguageIdentifier,
    bundle: FluentBundle<FluentResource>,
    ids: Vec<String>,
    decimal_sign: String,
    second_units: Option<System>,
}

/// Why words cannot be used.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum WordsError {
    /// There are no words for this language.
    Unknown(String),
    /// A line of a file of words cannot be used, and why.
    Line(usize, String),
    /// A language that is not built in lacks these messages.
    Missing(Vec<String>),
}

impl fmt::Display for WordsError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Unknown(language) => {
                write!(f, "there are no words for the language `{language}`")
            }
            Self::Line(line, why) => write!(f, "line {line}: {why}"),
            Self::Missing(ids) => write!(f, "it lacks {} messages: {}", ids.len(), ids.join(", ")),
        }
    }
}

impl Words {
    /// The built-in English.
    pub fn english() -> Self {
        // The file is part of the program, and a test reads it.
        Self::of("en", &[]).unwrap_or_else(|fault| unreachable!("{fault}"))
    }

    /// The words of `language`, with those of a shop's `own` file in place of some, or,
    /// for a language that is not built in, instead of all.
    ///
    /// # Errors
    /// [`WordsError`] when there are none, or when `own` cannot be used.
    pub fn of(language: &str, own: &[&str]) -> Result<Self, WordsError> {
        let unknown = || WordsError::Unknown(language.to_owned());
        let language: LanguageIdentifier = language.parse().map_err(|_| unknown())?;
        let tag = language.to_string();
        // A region without words of its own speaks as its language does.
        let known = |tag: &str| LANGUAGES.iter().find(|(known, _)| *known == tag);
        let built_in = known(&tag).or_else(|| known(language.language.as_str()));
        let texts = built_in.map_or(&[][..], |(_, texts)| texts);
        if texts.is_empty() && own.is_empty() {
            return Err(unknown());
        }
        if !own.is_empty() {
            let known = Self::english();
            for text in own {
                check_own(text, &known)?;
            }
            if texts.is_empty() {
                let given = own.iter().flat_map(|text| messages(text));
                let given: Vec<&str> = given.map(|message| message.id).collect();
                let mut missing = known.ids;
                missing.retain(|id| !given.contains(&id.as_str()));
                if !missing.is_empty() {
                    return Err(WordsError::Missing(missing));
                }
            }
        }
        let mut bundle = FluentBundle::new_concurrent(vec![language.clone()]);
        // Isolation marks are for mixed directions; these words are all left to right.
        bundle.set_use_isolating(false);
        let mut ids = Vec::new();
        for text in texts.iter().chain(own) {
            ids.extend(messages(text).map(|message| message.id.to_owned()));
            bundle.add_resource_overriding(resource(text)?);
        }
        ids.sort();
        ids.dedup();
        let mut words = Self {
            language,
            bundle,
            ids,
            decimal_sign: String::new(),
            second_units: None,
        };
        words.decimal_sign = words.say("label-decimal");
        Ok(words)
    }

    /// Has figures stand a second time in units of this family.
    pub fn with_second_units(mut self, system: Option<System>) -> Self {
        self.second_units = system;
        self
    }

    /// The units in which a figure stands a second time.
    pub fn second_units(&self) -> Option<System> {
        self.second_units
    }

    /// The sign between whole and fraction.
    pub fn decimal_sign(&self) -> &str {
        &self.decimal_sign
    }

    /// The language, as a BCP 47 tag.
    pub fn language(&self) -> String {
        self.language.to_string()
    }

    /// The message `id`.
    pub fn say(&self, id: &str) -> String {
        self.say_with(id, &[])
    }

    /// The message `id` with its variables filled in.
    pub fn say_with(&self, id: &str, variables: &[(&str, &str)]) -> String {
        let mut args = FluentArgs::new();
        for (name, value) in variables {
            args.set(*name, *value);
        }
        self.format(id, &args)
    }

    /// The message `id` for a number of things, in `$count`.
    pub fn say_count(&self, id: &str, count: usize) -> String {
        let mut args = FluentArgs::new();
        args.set("count", count);
        self.format(id, &args)
    }

    fn format(&self, id: &str, args: &FluentArgs<'_>) -> String {
        let pattern = self
            .bundle
            .get_message(id)
            .and_then(|message| message.value());
        match pattern {
            Some(pattern) => {
                let mut errors = Vec::new();
                self.bundle
                    .format_pattern(pattern, Some(args), &mut errors)
                    .into_owned()
            }
            None => format!("[{id}]"),
        }
    }

    /// Every message whose id starts with `label-`, without that start: the
    /// fixed words that a template sets.
    pub fn labels(&self) -> BTreeMap<String, String> {
        self.ids
            .iter()
            .filter_map(|id| Some((id.strip_prefix("label-")?.to_owned(), self.say(id))))
            .collect()
    }

    /// The ids of all messages.
    pub fn ids(&self) -> &[String] {
        &self.ids
    }
}

/// The text as Fluent reads it.
fn resource(text: &str) -> Result<FluentResource, WordsError> {
    FluentResource::try_new(text.to_owned()).map_err(|(_, errors)| {
        let place = errors.first().map_or(0, |error| error.pos.start);
        let line = text[..place.min(text.len())].matches('\n').count() + 1;
        WordsError::Line(line, "this cannot be read as Fluent".to_owned())
    })
}

/// One message of a file of words.
struct Message<'a> {
    /// Its line, counted from 1.
    line: usize,
    id: &'a str,
    /// All of it, from its id to the next message.
    text: &'a str,
}

/// The messages of `text`: each starts where a line does.
fn messages(text: &str) -> impl Iterator<Item = Message<'_>> {
    let starts = text.split_inclusive('\n').scan((0, 0), |(at, line), part| {
        let start = *at;
        *at += part.len();
        *line += 1;
        Some((start, *line, part))
    });
    let heads: Vec<(usize, usize, &str)> = starts
        .filter(|(_, _, part)| part.starts_with(|c: char| c.is_ascii_alphabetic()))
        .filter_map(|(start, line, part)| Some((start, line, part.split_once('=')?.0.trim())))
        .collect();
    let ends: Vec<usize> = heads.iter().skip(1).map(|head| head.0).collect();
    heads
        .into_iter()
        .enumerate()
        .map(move |(index, (start, line, id))| Message {
            line,
            id,
            text: &text[start..ends.get(index).copied().unwrap_or(text.len())],
        })
}

/// The variables that a message names, comments aside.
fn variables(text: &str) -> impl Iterator<Item = &str> {
    let lines = text.lines().filter(|line| !line.starts_with('#'));
    lines.flat_map(variables_of_line)
}

fn variables_of_line(line: &str) -> impl Iterator<Item = &str> {
    line.split('$').skip(1).map(|rest| {
        let end = rest.find(|c: char| !c.is_ascii_alphanumeric() && !matches!(c, '-' | '_'));
        &rest[..end.unwrap_or(rest.len())]
    })
}

/// A file of a shop's own says only what the program says, with the same variables.
fn check_own(own: &str, known: &Words) -> Result<(), WordsError> {
    resource(own)?;
    let english: BTreeMap<&str, &str> = messages(ENGLISH).map(|m| (m.id, m.text)).collect();
    let mut seen = Vec::new();
    for Message { line, id, text } in messages(own) {
        let fault = |why: String| Err(WordsError::Line(line, why));
        let Some(original) = english.get(id) else {
            let near = known
                .ids
                .iter()
                .min_by_key(|other| strsim::levenshtein(other, id))
                .map_or("", String::as_str);
            return fault(format!(
                "the program has no message `{id}`; the nearest is `{near}`"
            ));
        };
        if seen.contains(&id) {
            return fault(format!("`{id}` stands here a second time"));
        }
        seen.push(id);
        let offered: Vec<&str> = variables(original).collect();
        let used: Vec<&str> = variables(text).collect();
        if let Some(odd) = used.iter().find(|name| !offered.contains(name)) {
            return fault(format!("`{id}` has no variable `${odd}`"));
        }
        // A figure that is not said is lost for the reader.
        if let Some(lost) = offered.iter().find(|name| !used.contains(name)) {
            return fault(format!("`{id}` must say `${lost}`"));
        }
    }
    Ok(())
}
