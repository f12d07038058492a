//! The page as one HTML file: the compiled part, the words, the style and the script put
//! into it, and the rule that lets the browser run just these and reach nothing.

use std::fmt;
use std::io::{self, Write as _};

use data_encoding::BASE64;
use flate2::{Compression, GzBuilder};
use serde_json::{Map, Value};
use sha2::{Digest as _, Sha256};

use crate::files::Digest;
use crate::result::TOOL;
use crate::view::{TO_VERIFY, Words};

const PAGE: &str = include_str!("page.html");
const STYLE: &str = include_str!("page.css");
const SCRIPT: &str = include_str!("page.js");

/// Why there is no page.
#[derive(Debug)]
pub enum AssembleError {
    /// What was given is not a compiled part.
    NotCompiled,
    /// It could not be packed.
    NotPacked(io::Error),
}

impl fmt::Display for AssembleError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotCompiled => f.write_str("this is not WebAssembly"),
            Self::NotPacked(error) => write!(f, "it cannot be packed: {error}"),
        }
    }
}

impl std::error::Error for AssembleError {}

/// The page with this compiled part: the same bytes for the same part, on any machine.
///
/// # Errors
/// [`AssembleError`]
pub fn assemble(compiled: &[u8]) -> Result<String, AssembleError> {
    if !compiled.starts_with(b"\0asm") {
        return Err(AssembleError::NotCompiled);
    }
    let packed = pack(compiled).map_err(AssembleError::NotPacked)?;
    let english = Words::to_verify("en");
    let page = with_words(&english);
    let parts = [
        ("{policy}", policy()),
        ("{title}", english.say("page-title")),
        ("{style}", STYLE.to_owned()),
        ("{version}", TOOL.to_owned()),
        ("{digest}", Digest::of(compiled).to_string()),
        ("{words}", fixed_words()),
        ("{compiled}", BASE64.encode(&packed)),
        ("{script}", SCRIPT.to_owned()),
    ];
    // Each is put in once and in this order, so that nothing in a part is taken for a place.
    let mut made = String::new();
    let mut rest = page.as_str();
    for (place, part) in parts {
        let (before, after) = rest.split_once(place).unwrap_or((rest, ""));
        made.push_str(before);
        made.push_str(&part);
        rest = after;
    }
    made.push_str(rest);
    Ok(made)
}

/// What the browser may do: run this script and this style, and what the script compiles.
/// There is no address in it, so nothing can be asked for or sent.
fn policy() -> String {
    let of = |text: &str| BASE64.encode(&Sha256::digest(text.as_bytes()));
    format!(
        "default-src 'none'; script-src 'sha256-{}' 'wasm-unsafe-eval'; \
         style-src 'sha256-{}'; base-uri 'none'; form-action 'none'",
        of(SCRIPT),
        of(STYLE)
    )
}

/// The page with its fixed words in English, for whoever opens it without scripts.
fn with_words(english: &Words) -> String {
    let mut parts = PAGE.split("data-say=\"");
    let mut page = parts.next().unwrap_or_default().to_owned();
    for part in parts {
        let (id, rest) = part.split_once("\">").unwrap_or((part, ""));
        page.push_str(&format!("data-say=\"{id}\">{}", english.say(id)));
        page.push_str(rest);
    }
    page
}

/// The fixed words by language, as JSON. They have no sign that could end a script.
fn fixed_words() -> String {
    let languages = TO_VERIFY.iter().map(|(tag, _)| {
        let words = Words::to_verify(tag);
        let ids = words.ids().iter().filter(|id| id.starts_with("page-"));
        let said = ids.map(|id| (id.clone(), Value::from(words.say(id))));
        ((*tag).to_owned(), Value::Object(said.collect()))
    });
    Value::Object(languages.collect::<Map<_, _>>()).to_string()
}

/// Gzip, without a name or a time in it.
fn pack(compiled: &[u8]) -> io::Result<Vec<u8>> {
    let mut packer = GzBuilder::new().write(Vec::new(), Compression::best());
    packer.write_all(compiled)?;
    packer.finish()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn page() -> String {
        assemble(b"\0asm\x01\0\0\0").unwrap()
    }

    #[test]
    fn the_policy_names_just_the_script_and_the_style_that_are_on_the_page() {
        let page = page();
        for (start, end) in [("<style>", "</style>"), ("<script>", "</script>")] {
            let (_, inside) = page.split_once(start).unwrap();
            let (inside, after) = inside.split_once(end).unwrap();
            let digest = BASE64.encode(&Sha256::digest(inside.as_bytes()));
            assert!(page.contains(&format!("'sha256-{digest}'")), "{start}");
            assert!(!after.contains(start), "a second {start}");
        }
    }

    #[test]
    fn it_names_no_address_and_uses_nothing_that_could_ask_for_one() {
        let page = page();
        for word in [
            "http:",
            "https:",
            "fetch(",
            "XMLHttp",
            "WebSocket",
            "sendBeacon",
            "import(",
            "localStorage",
            "sessionStorage",
            "indexedDB",
            "cookie",
            "innerHTML",
            "outerHTML",
            "insertAdjacent",
            "document.write",
            "eval(",
            "<link",
            "<img",
            "@import",
            "url(",
        ] {
            assert!(!page.contains(word), "{word}");
        }
    }

    #[test]
    fn every_place_is_filled_and_every_word_is_used() {
        let page = page();
        for place in [
            "{policy}",
            "{title}",
            "{style}",
            "{version}",
            "{digest}",
            "{words}",
            "{compiled}",
            "{script}",
            "\"></h1>",
            ">[page-",
        ] {
            assert!(!page.contains(place), "{place}");
        }
        let used = format!("{PAGE}{SCRIPT}");
        let code = [
            include_str!("check.rs"),
            include_str!("codes.rs"),
            include_str!("next.rs"),
            include_str!("settled.rs"),
        ]
        .concat();
        let of_page = ["page-", "codes-", "next-", "answer-unsettled-", "heading-"];
        for id in Words::to_verify("en").ids() {
            let is_said = [&used, &code]
                .iter()
                .any(|text| text.contains(&format!("\"{id}\"")));
            let is_of_page = of_page.iter().any(|start| id.starts_with(start));
            assert!(!is_of_page || is_said, "{id} is not used");
        }
    }

    #[test]
    fn only_a_compiled_part_is_taken_and_always_gives_the_same_page() {
        assert!(matches!(
            assemble(b"<html>"),
            Err(AssembleError::NotCompiled)
        ));
        assert_eq!(page(), page());
    }
}
