//! What an answer rests on, in the reader's language. `verification` says it in English, as
//! the answers for programs have it; a sentence is found again among the command's
//! (`command.ftl`), with what stands in its gaps, and said as the reader's language has it.
//! What is not found stays in English, and is marked as that.

use super::attached::what;
use super::shown::Because;
use crate::view::{Sentence, Words, sentences};

/// The sentences of the command.
pub const COMMAND: &str = include_str!("../../report-templates/words/verify/command.ftl");

/// How often a sentence may stand in the gap of another.
const DEEPEST: usize = 3;

/// The sentences of the command, in a reader's language.
pub struct Reasons<'a> {
    words: &'a Words,
    sentences: Vec<Sentence>,
}

impl<'a> Reasons<'a> {
    /// The sentences, for a reader of `words`.
    pub fn new(words: &'a Words) -> Self {
        let sentences = sentences(COMMAND);
        Self { words, sentences }
    }

    /// The sentence of the command, as the reader's language has it.
    pub fn say(&self, sentence: &str) -> Because {
        let said = self.said(sentence, DEEPEST);
        let is_own = said.is_some() || self.words.language() == "en";
        Because {
            text: said.unwrap_or_else(|| sentence.to_owned()),
            language: if is_own {
                self.words.language()
            } else {
                "en".to_owned()
            },
        }
    }

    fn said(&self, sentence: &str, depth: usize) -> Option<String> {
        let depth = depth.checked_sub(1)?;
        let (id, gaps) = self
            .sentences
            .iter()
            .find_map(|known| Some((&known.id, known.gaps(sentence)?)))?;
        let gaps: Vec<(&str, String)> = gaps
            .into_iter()
            .map(|(name, text)| {
                let said = match name {
                    "why" => self.said(text, depth),
                    "input" => self.described(text),
                    "stage" => self.own(&format!("because-stage-{text}"), &[]),
                    _ => None,
                };
                (name, said.unwrap_or_else(|| text.to_owned()))
            })
            .collect();
        let gaps: Vec<(&str, &str)> = gaps
            .iter()
            .map(|(name, text)| (*name, text.as_str()))
            .collect();
        self.own(&format!("because-{id}"), &gaps)
    }

    /// A file by what it holds, and its name.
    fn described(&self, file: &str) -> Option<String> {
        let what = what(file, self.words);
        (!what.is_empty()).then(|| {
            let said = [("what", what.as_str()), ("file", file)];
            self.words.say_with("file-described", &said)
        })
    }

    /// A message that the reader's language may have.
    fn own(&self, id: &str, gaps: &[(&str, &str)]) -> Option<String> {
        let known = self.words.ids().iter().any(|known| known == id);
        known.then(|| self.words.say_with(id, gaps))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn said(language: &str, sentence: &str) -> (String, String) {
        let words = Words::to_verify(language);
        let said = Reasons::new(&words).say(sentence);
        (said.text, said.language)
    }

    #[test]
    fn a_sentence_of_the_command_is_said_in_the_readers_language() {
        for (sentence, spanish) in [
            ("there is no seal", "no hay ningún sello"),
            (
                "baseline.toml is not the file that was sealed (baseline)",
                "cambiado después de sellarse (prueba inicial): las lecturas de antes del trabajo \
                 (baseline.toml)",
            ),
            (
                "signed with the key of “A ” B”",
                "firmado con la clave de «A ” B»",
            ),
            (
                "retest, sealed 2026-01-22 09:00:00 +00:00 (time set by hand)",
                "prueba final, sellada el 2026-01-22 09:00:00 +00:00 (hora puesta a mano)",
            ),
            (
                "the receipt that was given is not sound: it carries no seal",
                "el comprobante que indicó no es válido: no contiene ningún sello",
            ),
        ] {
            assert_eq!(said("es", sentence), (spanish.to_owned(), "es".to_owned()));
        }
    }

    #[test]
    fn what_is_not_known_stays_as_it_is_and_says_in_which_language() {
        let odd = "nobody ever says this";
        assert_eq!(said("es", odd), (odd.to_owned(), "en".to_owned()));
        assert_eq!(said("en", odd), (odd.to_owned(), "en".to_owned()));
    }

    #[test]
    fn english_stays_but_for_what_is_given_by_options() {
        let same = "every byte is as it was when it was signed";
        assert_eq!(said("en", same).0, same);
        let option = "to compare it, give --receipt or --fingerprint";
        assert!(!said("en", option).0.contains("--"));
    }
}
