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
pub fn said(sentence: &str, words: &Words) -> Option<String> {
    let language = words.language();
    match language.split('-').next() {
        Some("en") => Some(sentence.to_owned()),
        Some("es") => SENTENCES
            .iter()
            .find_map(|known| filled(known, sentence, words)),
        _ => None,
    }
}

/// `known` in the language of `words`, if `sentence` is one of its kind.
fn filled(known: &Sentence, sentence: &str, words: &Words) -> Option<String> {
    let gaps = known.gaps(sentence)?.into_iter();
    let gaps: Option<Vec<(&str, String)>> = gaps
        .map(|(name, text)| Some((name, in_gap(name, text, words)?)))
        .collect();
    let gaps = gaps?;
    let gaps: Vec<(&str, &str)> = gaps
        .iter()
        .map(|(name, text)| (*name, text.as_str()))
        .collect();
    Some(words.say_with(&known.id, &gaps))
}

/// What stands in a gap, as the language of `words` has it. Most gaps hold what the job says,
/// and stay as they are.
fn in_gap(name: &str, text: &str, words: &Words) -> Option<String> {
    match name {
        // Said by intake, never by the job: where that is not known, neither is the sentence.
        "what" | "why" | "other" | "found" | "wants" => said(text, words),
        // Of the job, or of intake where the job has no word of its own.
        "one" | "many" | "whose" => said(text, words).or_else(|| Some(text.to_owned())),
        "list" if text == "none" => said(text, words),
        // The only word of a list that is not of the job.
        "list" | "near" => Some(text.replace("` and `", "` y `").replace("` or `", "` o `")),
        "number" | "next" | "sum" | "least" | "most" | "min" | "max" | "before" | "after"
        | "first" | "last"
            if text.parse::<f64>().is_ok() =>
        {
            Some(text.replace('.', ","))
        }
        _ => Some(text.to_owned()),
    }
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
            // What stands in a gap may be a sentence itself, or a word of intake.
            (
                "photo `photos/a.jpg` is a HEIC photo",
                "la foto «photos/a.jpg» es una foto HEIC",
            ),
            (
                "the limit of `power` cannot be worked out: the formula gives no number for \
                 these readings",
                "el límite de «power» no se puede calcular: la fórmula no da ningún número con \
                 estas lecturas",
            ),
            (
                "`power` needs the condition `line`, which this run lacks",
                "`power` necesita la condición «line», que falta en esta prueba",
            ),
            (
                "the plan has no cylinder 5",
                "no está en el plan: cilindro 5",
            ),
            ("the plan has no rueda 5", "no está en el plan: rueda 5"),
            (
                "the bands do not rise: after 4.5 comes 2.8",
                "las zonas no van de menor a mayor: después de 4,5 viene 2,8",
            ),
            ("this file has none", "este archivo tiene: ninguno"),
            (
                "`value` is text, not a number",
                "`value` es texto, y aquí va un número",
            ),
        ] {
            assert_eq!(said(english, &words).as_deref(), Some(spanish));
        }
        assert_eq!(said("nobody ever says this", &words), None);
        // Where a part is not known, the whole is not.
        assert_eq!(said("photo `photos/a.jpg` sings", &words), None);
        let english = Words::english();
        assert_eq!(
            said("nobody ever says this", &english).as_deref(),
            Some("nobody ever says this")
        );
    }
}
