//! The words: none missing, none left over, all printable.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

use retestify::intake::can_print;
use retestify::render::FONTS;
use retestify::view::{ENGLISH, LANGUAGES, TO_VERIFY, Words, WordsError};
use typst::foundations::Bytes;
use typst::text::Font;

fn files(folder: &str, ending: &str) -> Vec<PathBuf> {
    let mut found = Vec::new();
    let mut open = vec![Path::new(env!("CARGO_MANIFEST_DIR")).join(folder)];
    while let Some(next) = open.pop() {
        for entry in fs::read_dir(next).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                open.push(path);
            } else if path.extension().is_some_and(|found| found == ending) {
                found.push(path);
            }
        }
    }
    found
}

#[test]
fn every_message_is_used_and_every_use_has_its_message() {
    let words = Words::english();
    let code: String = files("src", "rs")
        .iter()
        .map(|path| fs::read_to_string(path).unwrap())
        .collect();
    let templates: String = files("report-templates", "typ")
        .iter()
        .map(|path| fs::read_to_string(path).unwrap())
        .collect();
    for id in words.ids() {
        let used = match id.strip_prefix("label-") {
            Some(label) => {
                templates.contains(&format!("labels.{label}"))
                    || code.contains(&format!("\"{label}\""))
            }
            None if id.starts_with("month-") => code.contains("month-{}"),
            None => code.contains(&format!("\"{id}\"")),
        };
        assert!(used, "`{id}` is not used");
    }
    let known: BTreeSet<&str> = words.ids().iter().map(String::as_str).collect();
    for id in ids_in_view() {
        assert!(known.contains(id.as_str()), "no `{id}`");
    }
    for part in templates.split("labels.").skip(1) {
        let label: String = part
            .chars()
            .take_while(|c| c.is_ascii_alphanumeric() || *c == '-')
            .collect();
        assert!(
            known.contains(format!("label-{label}").as_str()),
            "no `label-{label}`"
        );
    }
}

/// The form in the browser: the same messages with the same variables in each language, and
/// each of them used.
#[test]
fn the_words_of_the_form_are_complete_in_each_language() {
    let english = include_str!("../../report-templates/words/form.en.ftl");
    let spanish = include_str!("../../report-templates/words/form.es.ftl");
    let messages = |text: &'static str| -> BTreeMap<&str, BTreeSet<&str>> {
        let lines = text.lines().filter_map(|line| line.split_once(" = "));
        let variables = |text: &'static str| {
            let parts = text.split("{ $").skip(1);
            parts.map(|part| part.split(' ').next().unwrap()).collect()
        };
        lines.map(|(id, text)| (id, variables(text))).collect()
    };
    let (english, spanish) = (messages(english), messages(spanish));
    assert_eq!(english, spanish);
    let mut code = String::new();
    for path in files("src/fill", "rs") {
        code += &fs::read_to_string(path).unwrap();
    }
    // Built from the words of the files: fill-kind-value, fill-better-lower and the like.
    let built = [
        "fill-kind-",
        "fill-better-",
        "fill-harder-",
        "fill-outcome-",
    ];
    for id in english.keys() {
        let is_built = built.iter().any(|start| id.starts_with(start));
        assert!(
            is_built || code.contains(&format!("\"{id}\"")),
            "`{id}` is not used"
        );
    }
    for part in code.split("\"fill-").skip(1) {
        let id = format!("fill-{}", part.split('"').next().unwrap());
        let known = english.contains_key(id.as_str()) || id.contains('{');
        assert!(known, "no `{id}`");
    }
    let words = Words::of("es", &[]).unwrap();
    let words = words.with_more(include_str!("../../report-templates/words/form.es.ftl"));
    assert_eq!(words.say("fill-back"), "Atrás");
}

/// What is typed wrong in the form is told in its language: the sentences of intake word for
/// word, each with its Spanish, which fills in nothing that the English does not have.
#[test]
fn what_is_typed_wrong_is_told_in_each_language() {
    let english = messages(include_str!("../../report-templates/words/problems/en.ftl"));
    let spanish = messages(include_str!("../../report-templates/words/problems/es.ftl"));
    assert_eq!(
        english.keys().collect::<Vec<_>>(),
        spanish.keys().collect::<Vec<_>>()
    );
    for (id, variables) in &spanish {
        assert!(variables.is_subset(&english[id]), "{id}");
    }
    // What is wrong with a file, a formula or a table is said where those are.
    let mut code = String::new();
    for room in ["src/intake", "src/files", "src/job"] {
        for path in files(room, "rs") {
            code += &fs::read_to_string(path).unwrap();
        }
    }
    // A text that goes on in the next line of the code is one text.
    let mut joined = String::new();
    for part in code.split("\\\n") {
        joined += part.trim_start_matches(' ');
    }
    let code = joined.replace("\\\"", "\"");
    let code = code.replace("{{", "{").replace("}}", "}");
    let text = include_str!("../../report-templates/words/problems/en.ftl");
    for (id, sentence) in text.lines().filter_map(|line| line.split_once(" = ")) {
        let sentence = sentence.replace("{\"{\"}", "{").replace("{\"}\"}", "}");
        let mut pieces = sentence.split("{ $");
        let first = pieces.next().unwrap();
        let rest = pieces.map(|piece| piece.split_once(" }").unwrap().1);
        for piece in std::iter::once(first).chain(rest) {
            // What a key is, stands apart from its name there.
            let piece = piece.strip_prefix("` is ").unwrap_or(piece);
            assert!(code.contains(piece), "{id}: `{piece}` is said nowhere");
        }
    }
}

/// The messages that `view` asks for: its texts with a hyphen in them, and the first text of
/// every `say`.
fn ids_in_view() -> BTreeSet<String> {
    // Values that the templates compare with, not messages.
    const VALUES: [&str; 3] = ["conditional-pass", "not-verified", "us-letter"];
    let mut found = BTreeSet::new();
    for path in files("src/view", "rs") {
        let text = fs::read_to_string(&path).unwrap();
        let code = text.split("#[cfg(test)]").next().unwrap();
        let parts: Vec<&str> = code.split('"').collect();
        // Outside of quotes and inside of them by turns.
        for pair in parts.chunks_exact(2) {
            let (before, quoted) = (pair[0].trim_end(), pair[1]);
            let is_name = quoted.contains('-')
                && !quoted.ends_with('-')
                && quoted.starts_with(|c: char| c.is_ascii_lowercase())
                && quoted
                    .chars()
                    .all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-');
            let is_said = ["say(", "say_with(", "say_count("]
                .iter()
                .any(|call| before.ends_with(call));
            if is_said || (is_name && !VALUES.contains(&quoted)) {
                found.insert(quoted.to_owned());
            }
        }
    }
    assert!(found.len() > 200, "only {} were found", found.len());
    found
}

#[test]
fn those_who_check_hear_the_same_in_every_language() {
    let command = include_str!("../../report-templates/words/verify/command.ftl");
    let command = messages(command);
    let english = messages(TO_VERIFY[0].1);
    let because = |id: &str| id.strip_prefix("because-").map(str::to_owned);
    for (id, variables) in &english {
        if let Some(sentence) = because(id) {
            assert_eq!(command.get(&sentence), Some(variables), "{id}");
        }
    }
    for (tag, text) in &TO_VERIFY[1..] {
        let own = messages(text);
        for (id, variables) in &english {
            assert_eq!(own.get(id), Some(variables), "{tag}: {id}");
        }
        for (id, variables) in &command {
            let said = own.get(&format!("because-{id}"));
            assert_eq!(said, Some(variables), "{tag}: because-{id}");
        }
        for id in own.keys() {
            let known = because(id).is_some_and(|sentence| {
                command.contains_key(&sentence) || sentence.starts_with("stage-")
            });
            assert!(
                known || english.contains_key(id),
                "{tag}: {id} is left over"
            );
        }
    }
    let answers = ["yes", "no", "cannot-tell", "not-asked"];
    for id in answers.map(|answer| format!("answer-{answer}")) {
        assert!(english.contains_key(&id), "{id}");
    }
}

#[test]
fn every_letter_of_the_words_can_be_printed() {
    for text in LANGUAGES.iter().flat_map(|(_, texts)| texts.iter()) {
        for c in text.chars().filter(|c| !matches!(c, '\n' | '\t')) {
            assert!(can_print(c), "U+{:04X}", u32::from(c));
        }
    }
}

#[test]
fn numbers_of_things_read_naturally() {
    let words = Words::english();
    assert!(
        words
            .say_count("headline-verified", 1)
            .starts_with("The required test")
    );
    assert!(words.say_count("headline-verified", 2).starts_with("Both"));
    assert!(words.say_count("headline-verified", 7).starts_with("All 7"));
    assert!(
        words
            .say_count("attribution-several", 2)
            .starts_with("Two things")
    );
}

#[test]
fn a_broken_file_of_words_names_its_line() {
    let error = |text: &str| Words::of("en", &[text]).err().unwrap();
    let WordsError::Line(3, _) = error("label-page = Good\n\nbad line here\n") else {
        panic!("it cannot be read");
    };
    assert_eq!(
        error("label-page = Good\n# a note\nmark-verifyed = Yes\n"),
        WordsError::Line(
            3,
            "the program has no message `mark-verifyed`; the nearest is `mark-verified`".into()
        )
    );
    assert_eq!(
        error("call = Ring { $number }\n"),
        WordsError::Line(1, "`call` has no variable `$number`".into())
    );
}

/// A translator keeps the original beside the translation: a comment says nothing.
#[test]
fn a_comment_is_no_part_of_a_message() {
    let kept = "label-page = p\n# call = Questions: { $call }\ncall = Ring { $call }\n";
    assert!(Words::of("en", &[kept]).is_ok());
    assert_eq!(
        Words::of("en", &["call = Ring us\n# was { $call }\n"]).err(),
        Some(WordsError::Line(1, "`call` must contain `$call`".into()))
    );
}

/// What counts is what Fluent would fill in, not a dollar sign in the text.
#[test]
fn a_variable_is_what_fluent_fills_in() {
    for text in ["call = Ring $call\n", "call = Ring { \"$call\" }\n"] {
        assert_eq!(
            Words::of("en", &[text]).err(),
            Some(WordsError::Line(1, "`call` must contain `$call`".into())),
            "{text}"
        );
    }
    let once_in_a_choice =
        "call = { $call ->\n    [none] Ring us\n   *[other] Ring { $call }\n }\n";
    assert!(Words::of("en", &[once_in_a_choice]).is_ok());
    let odd = "call = { $call ->\n    [none] Ring { $number }\n   *[other] Ring { $call }\n }\n";
    assert_eq!(
        Words::of("en", &[odd]).err(),
        Some(WordsError::Line(
            1,
            "`call` has no variable `$number`".into()
        ))
    );
}

#[test]
fn the_second_of_two_messages_is_the_one_named() {
    let twice = "label-page = p\n\nlabel-page = q\n";
    assert_eq!(
        Words::of("en", &[twice]).err(),
        Some(WordsError::Line(
            3,
            "`label-page` is here a second time".into()
        ))
    );
}

#[test]
fn a_shop_changes_some_words_of_a_language_that_is_built_in() {
    let words = Words::of("es", &["mark-verified = Comprobado por nosotros\n"]).unwrap();
    assert_eq!(words.say("mark-verified"), "Comprobado por nosotros");
    let built_in = Words::of("es", &[]).unwrap();
    assert_eq!(words.say("mark-undecided"), built_in.say("mark-undecided"));
}

/// Mexico writes a decimal point: one line over the Spanish that is built in.
#[test]
fn a_region_speaks_as_its_language_does() {
    let plain = Words::of("es-MX", &[]).unwrap();
    assert_eq!(
        (plain.language(), plain.decimal_sign()),
        ("es-MX".into(), ",")
    );
    let own = Words::of("es-MX", &["label-decimal = .\n"]).unwrap();
    assert_eq!(own.decimal_sign(), ".");
    assert_eq!(own.say("month-1"), "enero");
}

#[test]
fn another_language_is_a_file_away() {
    assert_eq!(
        Words::of("fr", &[]).err().unwrap(),
        WordsError::Unknown("fr".into())
    );
    let whole = ENGLISH.replace("month-1 = January", "month-1 = janvier");
    let words = Words::of("fr", &[&whole]).unwrap();
    assert_eq!(
        (words.say("month-1"), words.language()),
        ("janvier".into(), "fr".into())
    );
    let lacking = whole.replace("month-1 = janvier\n", "");
    assert_eq!(
        Words::of("fr", &[&lacking]).err().unwrap(),
        WordsError::Missing(vec!["month-1".into()])
    );
}

/// The messages of a file, with the variables of each.
fn messages(text: &str) -> BTreeMap<String, BTreeSet<String>> {
    let mut found: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    let mut current = String::new();
    for line in text.lines().filter(|line| !line.starts_with('#')) {
        if line.starts_with(|c: char| c.is_ascii_alphabetic()) {
            current = line.split(" =").next().unwrap().to_owned();
            found.entry(current.clone()).or_default();
        }
        for part in line.split('$').skip(1) {
            let name = part.split([' ', '}']).next().unwrap().to_owned();
            found.get_mut(&current).unwrap().insert(name);
        }
    }
    found
}

/// A translation says everything, and with every figure that the English has.
#[test]
fn every_language_says_the_same_things() {
    let english = messages(ENGLISH);
    for (tag, texts) in LANGUAGES {
        let mut all = BTreeMap::new();
        for text in *texts {
            all.extend(messages(text));
        }
        for (id, variables) in &english {
            assert_eq!(Some(variables), all.get(id), "{tag}: {id}");
        }
        assert_eq!(all.len(), english.len(), "{tag}");
    }
}

/// «Quotes», a decimal comma, and no line that ends between a figure and its unit.
#[test]
fn the_spanish_is_set_as_spanish() {
    let (_, texts) = LANGUAGES.iter().find(|(tag, _)| *tag == "es").unwrap();
    let lines = texts.iter().flat_map(|text| text.lines());
    for line in lines.filter(|line| !line.starts_with('#')) {
        for wrong in ["“", "”", " %", " K ", " °F", "0.05", "95.45"] {
            assert!(!line.contains(wrong), "`{wrong}` in {line}");
        }
    }
}

/// Nothing that a verdict promises may be more than was measured.
#[test]
fn the_words_claim_no_cause_and_no_cure() {
    let text = ENGLISH.to_lowercase();
    for word in ["caused", "guarantee", "cured", "proves", "proven"] {
        assert!(!text.contains(word), "`{word}`");
    }
}

/// Each kind of test in the published format has its sentence, named after it.
#[test]
fn every_kind_of_test_says_what_it_cannot_tell() {
    let schema = retestify::intake::shapes::schemas()
        .into_iter()
        .find(|(name, _)| *name == "limits")
        .map(|(_, schema)| schema.to_value())
        .unwrap();
    let kinds = schema["definitions"]["TestKind"]["oneOf"]
        .as_array()
        .unwrap();
    let words = Words::english();
    for kind in kinds {
        let id = format!("test-{}", kind["const"].as_str().unwrap());
        assert!(words.ids().contains(&id), "no `{id}`");
    }
    let sentences = words.ids().iter().filter(|id| id.starts_with("test-"));
    assert_eq!(sentences.count(), kinds.len());
}

/// The table of printable letters is that of the bundled fonts, over every code point:
/// the files of a job are read without a font.
#[test]
fn the_table_of_letters_is_that_of_the_fonts() {
    let fonts: Vec<Font> = FONTS
        .into_iter()
        .flat_map(|bytes| Font::iter(Bytes::new(bytes)))
        .collect();
    let in_a_font = |c: char| {
        let mut fonts = fonts.iter();
        !c.is_control() && fonts.any(|font| font.info().coverage.contains(c.into()))
    };
    let mut ranges: Vec<(u32, u32)> = Vec::new();
    for c in ('\0'..=char::MAX).filter(|c| in_a_font(*c)) {
        match ranges.last_mut() {
            Some((_, last)) if *last + 1 == u32::from(c) => *last += 1,
            _ => ranges.push((u32::from(c), u32::from(c))),
        }
    }
    let shown: Vec<String> = ranges
        .iter()
        .map(|(first, last)| format!("(0x{first:04X}, 0x{last:04X}),"))
        .collect();
    for c in '\0'..=char::MAX {
        assert_eq!(
            can_print(c),
            in_a_font(c),
            "U+{:04X}; the table should be: {}",
            u32::from(c),
            shown.join(" ")
        );
    }
}
