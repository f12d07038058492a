//! The words, in one Fluent file for each language.
//!
//! A message is asked for by its id; what is missing shows as its id in
//! brackets, and a test holds that none is missing and none is left over.

use fluent_bundle::concurrent::FluentBundle;
use fluent_bundle::{FluentArgs, FluentResource};
use std::collections::BTreeMap;
use unic_langid::LanguageIdentifier;

/// The English words; also the list of ids that another language must have.
pub const ENGLISH: &str = include_str!("../../report-templates/words/en.ftl");

/// The words of one language.
pub struct Words {
    language: LanguageIdentifier,
    bundle: FluentBundle<FluentResource>,
    ids: Vec<String>,
}

/// Why a file of words cannot be used.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WordsFault(pub String);

impl Words {
    /// The built-in English.
    pub fn english() -> Self {
        // The file is part of the program, and a test reads it.
        Self::new("en", ENGLISH).unwrap_or_else(|fault| unreachable!("{}", fault.0))
    }

    /// Words for `language` from the text of a Fluent file.
    ///
    /// # Errors
    /// [`WordsFault`] that names the first line that cannot be read.
    pub fn new(language: &str, text: &str) -> Result<Self, WordsFault> {
        let language: LanguageIdentifier = language
            .parse()
            .map_err(|_| WordsFault(format!("`{language}` is not a language")))?;
        let resource = FluentResource::try_new(text.to_owned()).map_err(|(_, errors)| {
            let place = errors.first().map_or(0, |error| error.pos.start);
            let line = text[..place.min(text.len())].matches('\n').count() + 1;
            WordsFault(format!("line {line} cannot be read"))
        })?;
        let ids = resource
            .entries()
            .filter_map(|entry| match entry {
                fluent_syntax::ast::Entry::Message(message) => Some(message.id.name.to_owned()),
                _ => None,
            })
            .collect();
        let mut bundle = FluentBundle::new_concurrent(vec![language.clone()]);
        // Isolation marks are for mixed directions; these words are all left to right.
        bundle.set_use_isolating(false);
        bundle
            .add_resource(resource)
            .map_err(|_| WordsFault("an id stands twice".to_owned()))?;
        Ok(Self {
            language,
            bundle,
            ids,
        })
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
