//! The word that was probably meant, and lists of words.

/// The word of `among` that `written` was probably meant to be.
pub fn nearest<'a>(written: &str, among: &[&'a str]) -> Option<&'a str> {
    among
        .iter()
        .map(|word| (strsim::damerau_levenshtein(written, word), *word))
        .filter(|(distance, word)| *distance <= 1.max(word.chars().count() / 3))
        .min()
        .map(|(_, word)| word)
}

/// `a`, `b` and `c`.
pub fn listed(words: &[&str]) -> String {
    let quoted: Vec<String> = words.iter().map(|word| format!("`{word}`")).collect();
    match quoted.split_last() {
        Some((last, [])) => last.clone(),
        Some((last, rest)) => format!("{} and {last}", rest.join(", ")),
        None => "none".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A word of up to five letters may be one slip off; a longer one, a third of it.
    #[test]
    fn a_word_is_found_when_it_is_near_enough() {
        let keys = ["max", "passes", "attempts"];
        assert_eq!(nearest("mxa", &keys), Some("max"));
        assert_eq!(nearest("xyx", &keys), None);
        assert_eq!(nearest("pases", &keys), Some("passes"));
        assert_eq!(nearest("pssesx", &keys), Some("passes"));
        assert_eq!(nearest("tries", &keys), None);
        assert_eq!(nearest("max", &[]), None);
    }

    #[test]
    fn words_are_listed_with_an_and() {
        assert_eq!(listed(&[]), "none");
        assert_eq!(listed(&["a"]), "`a`");
        assert_eq!(listed(&["a", "b"]), "`a` and `b`");
        assert_eq!(listed(&["a", "b", "c"]), "`a`, `b` and `c`");
    }
}
