//! English sentences that are found again by their words, with what stands in their gaps, so
//! that they can be said in another language.

use fluent_syntax::ast::{Entry, Expression, InlineExpression, PatternElement};
use fluent_syntax::parser::parse;

/// One sentence: its id, and its parts by turns, words and the names of gaps.
pub struct Sentence {
    /// Its id.
    pub id: String,
    parts: Vec<Part>,
}

enum Part {
    Words(String),
    Gap(String),
}

impl Sentence {
    /// How many letters it has besides its gaps.
    fn own_words(&self) -> usize {
        let parts = self.parts.iter();
        parts
            .map(|part| match part {
                Part::Words(text) => text.len(),
                Part::Gap(_) => 0,
            })
            .sum()
    }

    /// What stands in the gaps of this sentence in `text`, if `text` is one of its kind.
    pub fn gaps<'t>(&self, text: &'t str) -> Option<Vec<(&str, &'t str)>> {
        let mut rest = text;
        let mut found = Vec::new();
        let mut open = None;
        for (place, part) in self.parts.iter().enumerate() {
            let is_last = place + 1 == self.parts.len();
            match part {
                Part::Gap(name) => open = Some(name.as_str()),
                Part::Words(words) => {
                    let at = match open {
                        None => rest.starts_with(words.as_str()).then_some(0)?,
                        Some(_) if is_last => rest.strip_suffix(words.as_str())?.len(),
                        Some(_) => rest.find(words.as_str())?,
                    };
                    found.extend(open.take().map(|name| (name, &rest[..at])));
                    rest = &rest[at + words.len()..];
                }
            }
        }
        match open {
            Some(name) => found.push((name, rest)),
            None if rest.is_empty() => {}
            None => return None,
        }
        Some(found)
    }
}

/// The sentences of `text`, a file of messages. The more words a sentence has of its own, the
/// less can another be taken for it: those come first.
pub fn sentences(text: &str) -> Vec<Sentence> {
    // The file is part of the program, and a test reads it.
    let read = parse(text).unwrap_or_else(|(read, _)| read);
    let messages = read.body.into_iter().filter_map(|entry| match entry {
        Entry::Message(message) => Some((message.id.name, message.value?)),
        _ => None,
    });
    let mut sentences: Vec<Sentence> = messages
        .map(|(id, text)| Sentence {
            id: id.to_owned(),
            parts: text.elements.into_iter().filter_map(part).collect(),
        })
        .collect();
    sentences.sort_by_key(|sentence| std::cmp::Reverse(sentence.own_words()));
    sentences
}

fn part(element: PatternElement<&str>) -> Option<Part> {
    match element {
        PatternElement::TextElement { value } => Some(Part::Words(value.to_owned())),
        PatternElement::Placeable {
            expression: Expression::Inline(InlineExpression::VariableReference { id }),
        } => Some(Part::Gap(id.name.to_owned())),
        // A brace is written as `{"{"}`.
        PatternElement::Placeable {
            expression: Expression::Inline(InlineExpression::StringLiteral { value }),
        } => Some(Part::Words(value.to_owned())),
        PatternElement::Placeable { .. } => None,
    }
}
