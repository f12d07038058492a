//! The wording, in one Fluent file for each language.
//!
//! A message is asked for by its id; what is missing shows as its id in
//! brackets, and a test checks that none is missing and none is left over.

use std::collections::BTreeMap;
use std::fmt;

use fluent_bundle::concurrent::FluentBundle;
use fluent_bundle::{FluentArgs, FluentResource};
use fluent_syntax::ast::{Entry, Expression, InlineExpression, Message, Pattern, PatternElement};
use unic_langid::LanguageIdentifier;

use crate::quantity::{System, Unit};

/// The English words; also the list of ids that another language must have.
pub const ENGLISH: &str = include_str!("../../report-templates/words/en.ftl");

/// The built-in languages: the tag, and its files of messages; a later file overrides an
/// earlier one. To add a language, add its file and a line here.
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

/// The words for those who check a document, by language. They stand apart: a shop's own
/// wording must not change what is said to whoever checks its documents.
pub const TO_VERIFY: &[(&str, &str)] = &[
    (
        "en",
        include_str!("../../report-templates/words/verify/en.ftl"),
    ),
    (
        "es",
        include_str!("../../report-templates/words/verify/es.ftl"),
    ),
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
    /// A line of a wording file cannot be used, and why.
    Line(usize, String),
    /// A language that is not built in lacks these messages.
    Missing(Vec<String>),
}

impl fmt::Display for WordsError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Unknown(language) => {
                write!(f, "the language `{language}` is not built in")
            }
            Self::Line(line, why) => write!(f, "line {line}: {why}"),
            Self::Missing(ids) => {
                write!(f, "{} messages are missing: {}", ids.len(), ids.join(", "))
            }
        }
    }
}

impl Words {
    /// The built-in English.
    pub fn english() -> Self {
        // The file is part of the program, and a test reads it.
        Self::of("en", &[]).unwrap_or_else(|error| unreachable!("{error}"))
    }

    /// The wording of `language`, with some messages replaced by those of a shop's `own`
    /// file; for a language that is not built in, that file must have them all.
    ///
    /// # Errors
    /// [`WordsError`] when there are none, or when `own` cannot be used.
    pub fn of(language: &str, own: &[&str]) -> Result<Self, WordsError> {
        let unknown = || WordsError::Unknown(language.to_owned());
        let language: LanguageIdentifier = language.parse().map_err(|_| unknown())?;
        let tag = language.to_string();
        // A region without messages of its own uses those of its language.
        let known = |tag: &str| LANGUAGES.iter().find(|(known, _)| *known == tag);
        let built_in = known(&tag).or_else(|| known(language.language.as_str()));
        let texts = built_in.map_or(&[][..], |(_, texts)| texts);
        if texts.is_empty() && own.is_empty() {
            return Err(unknown());
        }
        if !own.is_empty() {
            let known = Self::english();
            let mut given = Vec::new();
            for text in own {
                given.extend(check_own(text, &known)?);
            }
            if texts.is_empty() {
                let mut missing = known.ids;
                missing.retain(|id| !given.contains(id));
                if !missing.is_empty() {
                    return Err(WordsError::Missing(missing));
                }
            }
        }
        let mut words = Self::from_texts(language, texts.iter().chain(own))?;
        words.decimal_sign = words.say("label-decimal");
        Ok(words)
    }

    /// The words for those who check a document, in `language` where there are some, else in
    /// English.
    pub fn to_verify(language: &str) -> Self {
        let primary = language.split('-').next().unwrap_or(language);
        let known = |tag: &str| TO_VERIFY.iter().find(|(known, _)| *known == tag);
        let (tag, text) = known(primary).unwrap_or(&TO_VERIFY[0]);
        // Tag and file are part of the program, and a test reads them.
        let tag = tag.parse().unwrap_or_default();
        Self::from_texts(tag, [text].into_iter()).unwrap_or_else(|error| unreachable!("{error}"))
    }

    fn from_texts<'a>(
        language: LanguageIdentifier,
        texts: impl Iterator<Item = &'a &'a str>,
    ) -> Result<Self, WordsError> {
        let mut bundle = FluentBundle::new_concurrent(vec![language.clone()]);
        // Isolation marks are for mixed directions; these words are all left to right.
        bundle.set_use_isolating(false);
        let mut ids = Vec::new();
        for text in texts {
            let resource = resource(text)?;
            ids.extend(messages(&resource).map(|message| message.id.name.to_owned()));
            bundle.add_resource_overriding(resource);
        }
        ids.sort();
        ids.dedup();
        Ok(Self {
            language,
            bundle,
            ids,
            decimal_sign: String::new(),
            second_units: None,
        })
    }

    /// Gives figures in units of this family as well.
    pub fn with_second_units(mut self, system: Option<System>) -> Self {
        self.second_units = system;
        self
    }

    /// Adds the messages of another built-in file, such as those of the form in the browser.
    pub fn with_more(mut self, text: &str) -> Self {
        // The file is part of the program, and a test reads it.
        if let Ok(resource) = resource(text) {
            self.bundle.add_resource_overriding(resource);
        }
        self
    }

    /// The second family of units in which figures are given.
    pub fn second_units(&self) -> Option<System> {
        self.second_units
    }

    /// The unit in which a figure in `unit` is given as well.
    pub fn second_unit(&self, unit: &Unit) -> Option<&'static Unit> {
        self.second_units?.counterpart(unit)
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
        WordsError::Line(line_at(text, place), "this is not valid Fluent".to_owned())
    })
}

/// The line, counted from 1, of the byte at `place`.
fn line_at(text: &str, place: usize) -> usize {
    text[..place.min(text.len())].matches('\n').count() + 1
}

/// The messages of a file of words; a term is only a part of them.
fn messages(resource: &FluentResource) -> impl Iterator<Item = &Message<&str>> {
    resource.entries().filter_map(|entry| match entry {
        Entry::Message(message) => Some(message),
        _ => None,
    })
}

/// The line of a message, counted from 1.
fn line_of(resource: &FluentResource, message: &Message<&str>) -> usize {
    // The tree keeps no places, but its names are pieces of the text itself.
    let text = resource.source();
    line_at(text, message.id.name.as_ptr().addr() - text.as_ptr().addr())
}

/// The variables that a message names.
fn variables<'a>(message: &Message<&'a str>) -> Vec<&'a str> {
    let mut found = Vec::new();
    if let Some(pattern) = &message.value {
        in_pattern(pattern, &mut found);
    }
    found
}

fn in_pattern<'a>(pattern: &Pattern<&'a str>, found: &mut Vec<&'a str>) {
    for element in &pattern.elements {
        if let PatternElement::Placeable { expression } = element {
            in_expression(expression, found);
        }
    }
}

fn in_expression<'a>(expression: &Expression<&'a str>, found: &mut Vec<&'a str>) {
    match expression {
        Expression::Inline(inline) => in_inline(inline, found),
        Expression::Select { selector, variants } => {
            in_inline(selector, found);
            for variant in variants {
                in_pattern(&variant.value, found);
            }
        }
    }
}

fn in_inline<'a>(expression: &InlineExpression<&'a str>, found: &mut Vec<&'a str>) {
    match expression {
        InlineExpression::VariableReference { id } => found.push(id.name),
        InlineExpression::Placeable { expression } => in_expression(expression, found),
        InlineExpression::FunctionReference { arguments, .. } => {
            for argument in &arguments.positional {
                in_inline(argument, found);
            }
        }
        InlineExpression::StringLiteral { .. }
        | InlineExpression::NumberLiteral { .. }
        | InlineExpression::MessageReference { .. }
        | InlineExpression::TermReference { .. } => {}
    }
}

/// Checks that a shop's own file has only messages that the program has, with the same
/// variables. Returns their ids.
fn check_own(own: &str, known: &Words) -> Result<Vec<String>, WordsError> {
    let own = resource(own)?;
    let original = resource(ENGLISH)?;
    let english: BTreeMap<&str, _> = messages(&original).map(|m| (m.id.name, m)).collect();
    let mut seen = Vec::new();
    for message in messages(&own) {
        let id = message.id.name;
        let error = |why: String| Err(WordsError::Line(line_of(&own, message), why));
        let Some(original) = english.get(id) else {
            let near = known
                .ids
                .iter()
                .min_by_key(|other| strsim::levenshtein(other, id))
                .map_or("", String::as_str);
            return error(format!(
                "the program has no message `{id}`; the nearest is `{near}`"
            ));
        };
        if seen.contains(&id) {
            return error(format!("`{id}` is here a second time"));
        }
        seen.push(id);
        let offered = variables(original);
        let used = variables(message);
        if let Some(odd) = used.iter().find(|name| !offered.contains(name)) {
            return error(format!("`{id}` has no variable `${odd}`"));
        }
        // A figure that is left out is lost for the reader.
        if let Some(lost) = offered.iter().find(|name| !used.contains(name)) {
            return error(format!("`{id}` must contain `${lost}`"));
        }
    }
    Ok(seen.into_iter().map(str::to_owned).collect())
}
