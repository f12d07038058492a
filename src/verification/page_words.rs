//! Where two documents first say different things: the page, and the words.

use lopdf::Document;

/// The most text that is read from a page, in bytes as unpacked.
const MOST_TEXT: usize = 4 << 20;
/// How many words are quoted.
const QUOTED: usize = 8;

/// The first page on which two documents differ, counted from 1, and what each says there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Difference {
    /// The page.
    pub page: usize,
    /// What the document says from the first word on that differs.
    pub printed: String,
    /// What the other one says there.
    pub wanted: String,
}

/// Where the words of `printed` first differ from those of `wanted`, if they do.
pub fn first_difference(printed: &Document, wanted: &Document) -> Option<Difference> {
    let pages = printed.get_pages().len().max(wanted.get_pages().len());
    (1..=pages).find_map(|page| {
        let [a, b] = [printed, wanted].map(|document| words_of(document, page));
        let at = a.iter().zip(&b).position(|(a, b)| a != b);
        let at = at.or_else(|| (a.len() != b.len()).then_some(a.len().min(b.len())))?;
        // One word before it shows where to look.
        let from = at.saturating_sub(1);
        let quote = |words: &[String]| {
            let shown = words.iter().skip(from).take(QUOTED);
            shown.cloned().collect::<Vec<_>>().join(" ")
        };
        Some(Difference {
            page,
            printed: quote(&a),
            wanted: quote(&b),
        })
    })
}

/// The most pages that are read for what stands first of all.
const FIRST_PAGES: usize = 4;

/// Whether the first pages of `document` say `texts`, one after the other, before anything
/// else. Only letters and digits count: lines may break anywhere.
pub fn begins_with<'a>(document: &Document, texts: impl Iterator<Item = &'a str>) -> bool {
    let solid = |text: &str| -> String { text.chars().filter(|c| c.is_alphanumeric()).collect() };
    let wanted: String = texts.map(solid).collect();
    let mut printed = String::new();
    for page in 1..=FIRST_PAGES {
        printed.extend(words_of(document, page).iter().map(|word| solid(word)));
        if printed.len() >= wanted.len() {
            break;
        }
    }
    printed.starts_with(&wanted)
}

/// The words of a page; none where it has no such page, or none that can be read.
pub fn words_of(document: &Document, page: usize) -> Vec<String> {
    let page = u32::try_from(page).unwrap_or(u32::MAX);
    let text = document.extract_text_with_limit(&[page], MOST_TEXT);
    let text = text.unwrap_or_default();
    text.split_whitespace().map(str::to_owned).collect()
}
