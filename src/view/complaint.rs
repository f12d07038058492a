//! The start of a complaint that is too long for a page.

/// The most letters of a complaint on the customer's page.
const COMPLAINT: usize = 420;

/// The start of a long text, cut between two words; none if it is short enough. A
/// new line counts as much as half a line of letters.
pub fn shortened(text: &str) -> Option<String> {
    const NEW_LINE: usize = 50;
    let mut room = COMPLAINT;
    let end = text.char_indices().find_map(|(index, c)| {
        let takes = if c == '\n' { NEW_LINE } else { 1 };
        if takes > room {
            return Some(index);
        }
        room -= takes;
        None
    })?;
    let start = &text[..end];
    let cut = start.rfind(char::is_whitespace).unwrap_or(end);
    Some(format!("{} …", start[..cut].trim_end()))
}
