//! What intake says of what a person typed wrong, in the page's language. Intake says it in
//! English, with the names and figures in it; the sentence is found again among those that a
//! form can lead to (`problems/en.ftl`), and said as the page's language has it. What is not
//! found stays in English, and is marked as that.

use std::sync::LazyLock;

use super::html::Html;
use crate::intake::Problem;
use crate::view::{Sentence, Words, sentences};

/// The sentences of intake in Spanish.
pub const SPANISH: &str = include_str!("../../report-templates/words/problems/es.ftl");
const ENGLISH: &str = include_str!("../../report-templates/words/problems/en.ftl");

static SENTENCES: LazyLock<Vec<Sentence>> = LazyLock::new(|| sentences(ENGLISH));

/// What is wrong and what to do, as part of a page.
pub fn told(problem: &Problem, between: &str, words: &Words) -> Html {
    let mut html = Html::new();
    part(&mut html, &problem.message, words);
    html.text(between);
    part(&mut html, &problem.hint, words);
    html
}

fn part(html: &mut Html, sentence: &str, words: &Words) {
    match said(sentence, words) {
        Some(said) => drop(html.text(&said)),
        None => drop(html.element("span", &[("lang", "en")], sentence)),
    }
}

/// The sentence in the language of `words`, where that has it.
fn said(sentence: &str, words: &Words) -> Option<String> {
    let language = words.language();
    match language.split('-').next() {
        Some("en") => return Some(sentence.to_owned()),
        Some("es") => {}
        _ => return None,
    }
    let found = SENTENCES
        .iter()
        .find_map(|known| Some((known, known.gaps(sentence)?)));
    let (known, gaps) = found?;
    let gaps: Vec<(&str, String)> = gaps
        .into_iter()
        .map(|(name, text)| match name {
            // The only word of a list that is not of the job.
            "list" | "near" => (
                name,
                text.replace("` and `", "` y `").replace("` or `", "` o `"),
            ),
            _ => (name, text.to_owned()),
        })
        .collect();
    let gaps: Vec<(&str, &str)> = gaps
        .iter()
        .map(|(name, text)| (*name, text.as_str()))
        .collect();
    Some(words.say_with(&known.id, &gaps))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sentence_is_said_in_spanish_with_its_names() {
        let words = Words::of("es", &[]).unwrap().with_more(SPANISH);
        for (english, spanish) in [
            ("the unit `kpa` is unknown", "la unidad «kpa» no se conoce"),
            ("did you mean `kPa`?", "¿quería decir `kPa`?"),
            (
                "use a unit of time: `s`, `min` and `h`",
                "use una de estas unidades: `s`, `min` y `h`",
            ),
            (
                "7 passes are more than 5 attempts",
                "7 logrados son más que 5 intentos",
            ),
        ] {
            assert_eq!(said(english, &words).as_deref(), Some(spanish));
        }
        assert_eq!(said("nobody ever says this", &words), None);
        let english = Words::english();
        assert_eq!(
            said("nobody ever says this", &english).as_deref(),
            Some("nobody ever says this")
        );
    }
}
