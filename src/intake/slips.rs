//! What a line that is no TOML was probably meant to say: the slips that are common at a
//! bench, each with what is wrong and how to write it. The parser's own words are for
//! programmers; they are kept only where none of these fits.

use std::ops::Range;

use chrono::NaiveDate;

/// What is wrong at `span` of `text`, and what to do, from the parser's message.
pub fn in_words(message: &str, text: &str, span: Option<Range<usize>>) -> (String, String) {
    let start = span.map_or(0, |span| span.start).min(text.len());
    let (line, at) = line_at(text, start);
    let piece = Piece::at(line, at);
    repeated(message, line)
        .or_else(|| header(line))
        .or_else(|| piece.as_ref().and_then(Piece::slip))
        .unwrap_or_else(|| (message.to_owned(), hint_for(message, line).to_owned()))
}

/// The line on which the byte `start` lies, and the byte's place in it.
fn line_at(text: &str, start: usize) -> (&str, usize) {
    let from = text.as_bytes()[..start]
        .iter()
        .rposition(|b| *b == b'\n')
        .map_or(0, |at| at + 1);
    let line = text.get(from..).and_then(|rest| rest.lines().next());
    let line = line.unwrap_or_default();
    (line, (start - from).min(line.len()))
}

fn told(message: &str, hint: impl Into<String>) -> Option<(String, String)> {
    Some((message.to_owned(), hint.into()))
}

/// A key or a header that is there twice.
fn repeated(message: &str, line: &str) -> Option<(String, String)> {
    if !message.contains("duplicate key") {
        return None;
    }
    let line = line.trim_start();
    if line.starts_with("[reading") {
        told(
            "this reading is there twice",
            "keep one of the two; repeats of one reading are a list: `values = [ … ]`",
        )
    } else if line.starts_with('[') {
        told(
            "this header is there twice",
            "if there are several of a kind, give each a header with double brackets, such as \
             `[[instrument]]` or `[[measure]]`",
        )
    } else {
        told(
            "this key is there twice",
            "keep one of the two and delete the other",
        )
    }
}

/// A header with a space in a name: `[reading.boom drift]`.
fn header(line: &str) -> Option<(String, String)> {
    let line = line.trim();
    let inside = line.strip_prefix('[')?.trim_start_matches('[');
    let name = inside.split(']').next()?.trim();
    let is_name = |c: char| c.is_alphanumeric() || matches!(c, '.' | '-' | '_' | ' ');
    if !name.contains(' ') || !name.chars().all(is_name) {
        return None;
    }
    let words: Vec<&str> = name.split_whitespace().collect();
    told(
        "a name between brackets has a space in it",
        format!(
            "write the short name (`id`) as the other file has it, with hyphens: `[{}]`",
            words.join("-").to_lowercase()
        ),
    )
}

/// One `key = value` of a line, as it was typed.
struct Piece<'a> {
    key: &'a str,
    value: &'a str,
    /// All of the line behind the `=`.
    rest: &'a str,
}

impl<'a> Piece<'a> {
    /// The piece of `line` that holds the byte `at`; an inline table has several.
    fn at(line: &'a str, at: usize) -> Option<Self> {
        let equals = match line.get(..at).and_then(|before| before.rfind('=')) {
            Some(equals) => equals,
            None => line.find('=')?,
        };
        let key = line.get(..equals)?;
        let key = key.rsplit(['{', ',']).next()?.trim();
        let rest = line.get(equals + 1..)?.trim();
        let end = match rest.starts_with(['"', '\'', '“', '”']) {
            true => rest.len(),
            false => rest.find([',', '}', '#']).unwrap_or(rest.len()),
        };
        Some(Self {
            key,
            value: rest.get(..end)?.trim(),
            rest,
        })
    }

    /// The slip in it, if it is a known one.
    fn slip(&self) -> Option<(String, String)> {
        let Self { key, value, rest } = *self;
        let bytes = rest.as_bytes();
        let is_digit = |at: usize| bytes.get(at).is_some_and(u8::is_ascii_digit);
        let comma_in_number = rest
            .match_indices(',')
            .any(|(at, _)| at > 0 && is_digit(at - 1) && is_digit(at + 1));
        if rest.contains(['“', '”', '„', '‘', '’']) {
            return told(
                "these are not the quotation marks of the keyboard",
                "put text between straight double quotes, \"; a word processor makes them curly",
            );
        }
        if value.starts_with('"') && rest.matches('"').count() > 2 {
            return told(
                "there are quotation marks inside the text",
                "use single ones inside: name = \"the 'old' one\"",
            );
        }
        if value.starts_with('"') && rest.contains('\\') {
            return told(
                "a `\\` in a text has a meaning of its own",
                "write `/` between folders, and `\\\\` where you mean one `\\`",
            );
        }
        if value.starts_with(['"', '\'']) {
            return None;
        }
        if value.contains('±') || value.contains("+-") || value.contains("+/-") {
            let number = value.split(['±', '+']).next().unwrap_or_default().trim();
            return told(
                "the ± does not belong to the number",
                format!(
                    "write `{key} = {number}`; what it may be off by is known from the \
                     instrument, or goes on a line of its own: `uncertainty = …`"
                ),
            );
        }
        if names_no_day(value) {
            return told("there is no such date", "check the month and the day");
        }
        if let Some(moment) = as_moment(value) {
            return told("this is not how a date or a time is written here", moment);
        }
        if comma_in_number {
            return told(
                "a number has a comma in it",
                "write a number with a decimal point and no separators, such as 2.1 or 1480.50",
            );
        }
        if let Some(number) = value.strip_prefix(['–', '—', '−']) {
            return told(
                "this is a dash, not a minus sign",
                format!(
                    "use the hyphen of the keyboard: `{key} = -{}`",
                    number.trim()
                ),
            );
        }
        if let Some(answer) = yes_or_no(value) {
            return told(
                &format!("`{value}` is not one of the two answers"),
                format!("write `{key} = {answer}`; the answers are `true` and `false`"),
            );
        }
        numbers(key, value).or_else(|| words(key, value))
    }
}

/// A number with something in or behind it: `1 022`, `22 mm`, `~22`.
fn numbers(key: &str, value: &str) -> Option<(String, String)> {
    let in_number = |c: char| c.is_ascii_digit() || c == '.' || c == '-' || c == '+';
    let is_gap = |c: char| c.is_whitespace() || matches!(c, '\'' | '_');
    let joined: String = value.chars().filter(|c| !is_gap(*c)).collect();
    if joined.parse::<f64>().is_ok() && joined.chars().all(in_number) {
        return told(
            "the number has a gap in it",
            format!("write it in one piece: `{key} = {joined}`"),
        );
    }
    let bare = value.trim_start_matches(['~', '<', '>', '≈', '≤', '≥', ' ']);
    let end = bare.find(|c: char| !in_number(c)).unwrap_or(bare.len());
    let (number, unit) = bare.split_at(end);
    if number.parse::<f64>().is_err() {
        return None;
    }
    let unit = unit.trim();
    if unit.is_empty() {
        return told(
            "there is a sign before the number",
            format!("write what the instrument showed: `{key} = {number}`; more goes into `note`"),
        );
    }
    told(
        "there is something behind the number",
        format!(
            "write the number alone, `{key} = {number}`, and its unit where units go: \
             `unit = \"{unit}\"`"
        ),
    )
}

/// Words without quotation marks.
fn words(key: &str, value: &str) -> Option<(String, String)> {
    let starts = value.chars().next().is_some_and(char::is_alphabetic);
    if !starts || key.is_empty() || value.contains(['"', '[', '{', '=']) {
        return None;
    }
    told(
        "this text has no quotation marks",
        format!("write `{key} = \"{value}\"`"),
    )
}

fn yes_or_no(value: &str) -> Option<&'static str> {
    match value.to_lowercase().as_str() {
        "yes" | "y" | "on" | "true" | "si" | "sí" => Some("true"),
        "no" | "n" | "off" | "false" => Some("false"),
        _ => None,
    }
}

/// Whether it is a date in the way of the files that is not in the calendar.
fn names_no_day(value: &str) -> bool {
    let date = value.split(['T', ' ']).next().unwrap_or_default();
    let numbers: Vec<Option<u32>> = date.split('-').map(|part| part.parse().ok()).collect();
    match numbers.as_slice() {
        [Some(year), Some(month), Some(day)] if date.len() == 10 => {
            let year = i32::try_from(*year).unwrap_or(0);
            NaiveDate::from_ymd_opt(year, *month, *day).is_none()
        }
        _ => false,
    }
}

/// How the file writes the date or time that `typed` probably is; `25/11/2026 18:11` can
/// only be one, `5/11/2026` could be two.
pub fn as_moment(typed: &str) -> Option<String> {
    let numbers: Vec<&str> = typed
        .split(|c: char| !c.is_ascii_digit())
        .filter(|part| !part.is_empty())
        .collect();
    let is_sign = |c: char| "/.-: TZ+".contains(c);
    let others = typed.chars().filter(|c| !c.is_ascii_digit());
    let others: String = others.collect();
    let looks = others.chars().all(|c| is_sign(c) || c.is_alphabetic())
        && (others.matches('/').count() == 2
            || others.matches('.').count() == 2
            || others.matches('-').count() >= 2);
    let [first, second, third, time @ ..] = numbers.as_slice() else {
        return None;
    };
    // A year has four digits.
    if !looks || (first.len() != 4 && third.len() != 4) {
        return None;
    }
    let example = "write a date as 2026-03-05, and a time as 2026-03-05T06:40:00+01:00: year, \
                   month, day, and how far your clock is ahead of UTC";
    let value = |part: &str| part.parse::<u32>().unwrap_or(0);
    let (year, month, day) = match (first.len(), third.len()) {
        (4, _) => (*first, value(second), value(third)),
        (_, 4) if value(first) > 12 => (*third, value(second), value(first)),
        (_, 4) if value(second) > 12 => (*third, value(first), value(second)),
        _ => return Some(example.to_owned()),
    };
    if !(1..=12).contains(&month) || !(1..=31).contains(&day) {
        return Some(example.to_owned());
    }
    let date = format!("{year}-{month:02}-{day:02}");
    Some(match time {
        [hour, minute, ..] => format!(
            "write {date}T{:02}:{:02}:00+01:00, with how far your clock is ahead of UTC in place \
             of +01:00",
            value(hour),
            value(minute)
        ),
        _ => format!("write {date}: year, month, day"),
    })
}

/// What to do where only the parser knows what is wrong.
fn hint_for(message: &str, line: &str) -> &'static str {
    let line = line.trim_start();
    if line.starts_with('[') || message.contains("array") || message.contains("bracket") {
        "close what was opened: `]` after a list, `}` after a table, with commas between"
    } else if message.contains("string") || message.contains("quote") || line.contains('"') {
        "put text between double quotes, closed on the same line; in paths write `/`, not `\\`"
    } else {
        "write one `key = value` on each line; text goes in double quotes, a number has a decimal \
         point and no separators, and `true` and `false` are in lower case"
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use toml::de::DeTable;

    /// What is said of a file with one wrong line in it.
    fn said(line: &str) -> (String, String) {
        let text = format!("format = 1\n{line}\n");
        let (_, errors) = DeTable::parse_recoverable(&text);
        let error = errors.first().unwrap_or_else(|| panic!("`{line}` is TOML"));
        in_words(error.message(), &text, error.span())
    }

    #[test]
    fn each_slip_is_told_with_what_to_write() {
        for (line, hint) in [
            (
                "value = 22 mm",
                "`value = 22`, and its unit where units go: `unit = \"mm\"`",
            ),
            ("x = { value = 22 mm, unit = \"mm\" }", "`value = 22`"),
            ("value = 22mm", "`unit = \"mm\"`"),
            ("value = 1 022", "`value = 1022`"),
            ("value = 1'022.5", "`value = 1022.5`"),
            ("value = 22 +- 1", "`value = 22`"),
            ("value = 12.8 +- 0.2", "`value = 12.8`"),
            ("value = 22 ± 1", "`uncertainty = …`"),
            ("value = –22", "`value = -22`"),
            ("value = −22.5", "`value = -22.5`"),
            ("value = ~22", "`value = 22`"),
            ("value = 12,8", "decimal point"),
            ("required = yes", "`required = true`"),
            ("required = No", "`required = false`"),
            ("[reading.boom drift]", "`[reading.boom-drift]`"),
            ("name = \"the \"old\" one\"", "'old'"),
            ("name = the old one", "`name = \"the old one\"`"),
            ("started = 25/11/2026 18:11", "write 2026-11-25T18:11:00"),
            ("started = 11/25/2026 18:11", "write 2026-11-25T18:11:00"),
            ("received = 25.11.2026", "write 2026-11-25: "),
            ("received = 05/11/2026", "year, month, day"),
            ("received = 2026-02-30", "check the month and the day"),
        ] {
            let (message, told) = said(line);
            assert!(told.contains(hint), "{line}: {message} ({told})");
            assert!(!message.contains("expected"), "{line}: {message}");
        }
    }

    #[test]
    fn a_date_that_could_be_two_is_not_guessed() {
        assert!(!as_moment("05/11/2026").unwrap().contains("2026-11-05"));
        assert_eq!(as_moment("12.8"), None);
        assert_eq!(as_moment("-13.1"), None);
        assert_eq!(as_moment("about 3"), None);
    }
}
