//! How names and texts from files stand in a message.

/// `text` as it may stand in a message: what does not print, or could pass for something
/// else, is written out (`\u{202e}`); quotation marks stay as they are.
pub fn shown(text: &str) -> String {
    text.chars().fold(String::new(), |mut shown, letter| {
        if matches!(letter, '\'' | '"') {
            shown.push(letter);
        } else {
            shown.extend(letter.escape_debug());
        }
        shown
    })
}

#[cfg(test)]
mod tests {
    use super::shown;

    #[test]
    fn what_does_not_print_is_written_out() {
        assert_eq!(
            shown("the owner's \"run\", 12 °C"),
            "the owner's \"run\", 12 °C"
        );
        assert_eq!(shown("a\nb\u{1b}[2J\\"), "a\\nb\\u{1b}[2J\\\\");
        assert_eq!(shown("re\u{202e}gpj.exe"), "re\\u{202e}gpj.exe");
    }
}
