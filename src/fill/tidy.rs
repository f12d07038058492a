//! Comments that showed how to write what is written by now: `# value = …` above a value. Only
//! such lines are taken out; what a person wrote in a comment stays.

use std::collections::BTreeSet;

/// What stands for a figure in such a comment.
const FIGURE: char = '…';
/// The comments of a new folder that show a key without that sign.
const SHOWN: [&str; 3] = [
    "# by = \"Who measured\"",
    "# by = \"Who did it\"",
    "# witness = [\"Who else saw it\"]",
];
/// How those of a time go on.
const TIMES: [&str; 2] = ["# started = 2026-01-2", "# finished = 2026-01-2"];

/// `text` without the comments that show a key which its table has by now. It says the same as
/// before.
pub fn tidy(text: &str) -> String {
    let mut keys: Vec<BTreeSet<String>> = vec![BTreeSet::new()];
    let lines: Vec<&str> = text.split_inclusive('\n').collect();
    // Which section each line is in, and what that section has.
    let mut section_of = Vec::new();
    for line in &lines {
        let plain = line.trim();
        if plain.starts_with('[') {
            keys.push(BTreeSet::new());
        }
        let last = keys.len() - 1;
        section_of.push(last);
        if let Some(key) = key_of(plain) {
            keys[last].insert(key);
        }
    }
    let is_left = |(line, section): &(&&str, usize)| {
        let plain = line.trim();
        let shows = plain.contains(FIGURE)
            || SHOWN.contains(&plain)
            || TIMES.iter().any(|start| plain.starts_with(start));
        let key = plain.strip_prefix('#').map(str::trim).and_then(key_of);
        !(shows && key.is_some_and(|key| keys[*section].contains(&key)))
    };
    let kept = lines.iter().zip(section_of).filter(is_left);
    let tidied: String = kept.map(|(line, _)| *line).collect();
    // A text of several lines may look like all of that.
    let says = |text: &str| text.parse::<toml::Table>().ok();
    match says(&tidied) == says(text) {
        true => tidied,
        false => text.to_owned(),
    }
}

/// The key of `key = value`, or the row of `{ at = row, … }`.
fn key_of(line: &str) -> Option<String> {
    if let Some(row) = line.strip_prefix("{ at = ") {
        return Some(format!("at {}", row.split([',', ' ', '}']).next()?));
    }
    let (key, _) = line.split_once('=')?;
    let key = key.trim();
    let is_letter = |c: char| c.is_ascii_alphanumeric() || matches!(c, '-' | '_');
    (!key.is_empty() && key.chars().all(is_letter)).then(|| key.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_what_showed_how_to_write_goes() {
        let text = "# by = \"Who measured\"\nby = \"T\"\n\n[reading.a]\n# value = …\n# value = 12 at first\n\
                    value = 3\n\n[reading.b]\n# value = …\nrows = [\n  { at = 1, value = 2 },\n  \
                    # { at = 1, value = … },\n  # { at = 2, value = … },\n]\n";
        let expected = "by = \"T\"\n\n[reading.a]\n# value = 12 at first\nvalue = 3\n\n[reading.b]\n\
                        # value = …\nrows = [\n  { at = 1, value = 2 },\n  # { at = 2, value = … },\n]\n";
        assert_eq!(tidy(text), expected);
        let in_words = "by = \"\"\"\n# by = …\n\"\"\"\n";
        assert_eq!(tidy(in_words), in_words);
    }
}
