//! What somebody typed into a field → a value of the file, with the digits as they were
//! typed; and back.

use chrono::NaiveDateTime;
use toml_edit::{Array, Datetime, Value};

/// What a field takes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Entry {
    /// Text on one line.
    Text,
    /// Text on several lines.
    Lines,
    /// Several short texts, one on each line.
    List,
    /// A number.
    Number,
    /// One number, or repeats of it: `value` or `values` of its table.
    Numbers,
    /// A whole number that is not negative.
    Whole,
    /// A date and a time of day.
    Moment,
    /// A date.
    Day,
    /// One of several: what is written, and what is shown.
    Choice(Vec<(String, String)>),
    /// True, or left out.
    Tick,
    /// An empty list, or left out: nothing was there.
    NoneOf,
}

/// Why what was typed is not taken.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Refusal {
    /// It is no number.
    NotANumber,
    /// A comma or a point before three digits: thousands, or thousandths.
    TwoWays {
        /// It as a number with a fraction.
        fraction: String,
        /// It as a whole number.
        whole: String,
    },
    /// It is no whole number.
    NotWhole,
    /// It is no date with a time of day.
    NotATime,
    /// It is no date.
    NotADay,
    /// It is none of the choices.
    NotAChoice,
    /// It is longer than any text here.
    TooLong,
    /// Nothing is there, is said of a list with entries.
    HasEntries,
}

/// The most letters of one field.
const LONGEST: usize = 8000;

/// What is known where a value is written.
#[derive(Debug, Clone, Copy)]
pub struct Setting {
    /// Whether the page's language has a decimal comma.
    pub comma: bool,
    /// What a new time is ahead of UTC.
    pub zone: Zone,
}

/// How far a clock that shows this date and time is ahead of UTC, in minutes.
pub type Zone = fn(NaiveDateTime) -> i16;

impl Setting {
    /// The setting for a page whose decimal sign is `sign`.
    pub fn of(sign: &str, zone: Zone) -> Self {
        Self {
            comma: sign == ",",
            zone,
        }
    }
}

/// The value that `text` is in a field that takes `entry`; `old` is what the file has there.
/// Nothing where nothing was typed.
///
/// # Errors
/// A [`Refusal`].
pub fn value(
    text: &str,
    entry: &Entry,
    old: Option<&Value>,
    setting: Setting,
) -> Result<Option<Value>, Refusal> {
    let text = text.replace("\r\n", "\n");
    if text.chars().count() > LONGEST {
        return Err(Refusal::TooLong);
    }
    let plain = text.trim();
    if plain.is_empty() {
        return Ok(None);
    }
    Ok(Some(match entry {
        Entry::Text | Entry::Lines => Value::from(plain),
        Entry::List => {
            let lines = plain.lines().map(str::trim).filter(|line| !line.is_empty());
            Value::Array(lines.map(Value::from).collect::<Array>())
        }
        Entry::Number | Entry::Numbers => number(plain, setting)?,
        Entry::Whole => {
            let digits = plain.trim_start_matches('0');
            let digits = if digits.is_empty() { "0" } else { digits };
            let number: i64 = digits.parse().map_err(|_| Refusal::NotWhole)?;
            if !plain.bytes().all(|byte| byte.is_ascii_digit()) {
                return Err(Refusal::NotWhole);
            }
            Value::from(number)
        }
        Entry::Moment => moment(plain, old, setting)?,
        Entry::Day => {
            let day: Datetime = plain.parse().map_err(|_| Refusal::NotADay)?;
            if day.date.is_none() || day.time.is_some() {
                return Err(Refusal::NotADay);
            }
            Value::from(day)
        }
        Entry::Choice(choices) => {
            if !choices.iter().any(|(written, _)| written == plain) {
                return Err(Refusal::NotAChoice);
            }
            Value::from(plain)
        }
        Entry::Tick => Value::from(true),
        Entry::NoneOf => Value::Array(Array::new()),
    }))
}

/// A number with the digits of `text`.
fn number(text: &str, setting: Setting) -> Result<Value, Refusal> {
    let mut plain = without_gaps(&text.replace(['−', '–'], "-")).ok_or(Refusal::NotANumber)?;
    let separators = plain.matches([',', '.']).count();
    let foreign = if setting.comma { '.' } else { ',' };
    if separators > 1 {
        plain = without_thousands(&plain).ok_or(Refusal::NotANumber)?;
    } else if let Some((whole, fraction)) = plain.split_once(foreign) {
        // Three digits behind the sign that is not this language's: 1,022 is either.
        let of_thousands = fraction.len() == 3 && !matches!(whole, "" | "0" | "-0" | "-");
        if of_thousands {
            return Err(Refusal::TwoWays {
                fraction: plain.replace(['.', ','], if setting.comma { "," } else { "." }),
                whole: format!("{whole}{fraction}"),
            });
        }
    }
    plain = plain.replace(',', ".");
    let (sign, digits) = match plain.strip_prefix('-') {
        Some(digits) => ("-", digits),
        None => ("", plain.strip_prefix('+').unwrap_or(&plain)),
    };
    let (whole, fraction) = match digits.split_once('.') {
        Some((whole, fraction)) => (whole, Some(fraction)),
        None => (digits, None),
    };
    let are_digits = |part: &str| part.bytes().all(|byte| byte.is_ascii_digit());
    let is_number = are_digits(whole)
        && fraction.is_none_or(are_digits)
        && !(whole.is_empty() && fraction.is_none_or(str::is_empty));
    if !is_number || digits.len() > 30 {
        return Err(Refusal::NotANumber);
    }
    let whole = match whole.trim_start_matches('0') {
        "" => "0",
        digits => digits,
    };
    let written = match fraction {
        None | Some("") => format!("{sign}{whole}"),
        Some(fraction) => format!("{sign}{whole}.{fraction}"),
    };
    written.parse().map_err(|_| Refusal::NotANumber)
}

/// A number without the gaps between its thousands, or behind its sign; nothing where a gap
/// divides it in any other way, as it does two numbers.
fn without_gaps(text: &str) -> Option<String> {
    let is_gap = |c: char| matches!(c, ' ' | '\u{a0}' | '\u{2009}' | '\u{202f}' | '\'');
    let (sign, digits) = match text.strip_prefix(['-', '+']) {
        Some(digits) => (&text[..1], digits.trim_start_matches(is_gap)),
        None => ("", text),
    };
    let whole = digits.split([',', '.']).next().unwrap_or_default();
    let mut groups = whole.split(is_gap);
    let leading = groups.next().unwrap_or_default();
    let is_whole = groups.clone().next().is_none();
    let fits = is_whole || (1..=3).contains(&leading.len()) && groups.all(|part| part.len() == 3);
    let rest = &digits[whole.len()..];
    (fits && !rest.contains(is_gap)).then(|| format!("{sign}{}{rest}", whole.replace(is_gap, "")))
}

/// A number with a point for its fraction, from one whose signs can be read in one way only:
/// `1.022,5`, `1,022.5`, `1.022.500`.
fn without_thousands(text: &str) -> Option<String> {
    let is_sign = |c: char| matches!(c, ',' | '.');
    let (first, last) = (text.find(is_sign)?, text.rfind(is_sign)?);
    let thousands = text[first..].chars().next()?;
    let (whole, fraction) = match text[last..].starts_with(thousands) {
        true => (text, ""),
        false => (&text[..last], &text[last + 1..]),
    };
    let mut groups = whole.trim_start_matches(['-', '+']).split(thousands);
    let leading = groups.next()?;
    let fits = (1..=3).contains(&leading.len())
        && !leading.starts_with('0')
        && groups.all(|group| group.len() == 3 && !group.contains(is_sign));
    fits.then(|| format!("{}.{fraction}", whole.replace(thousands, "")))
}

/// A time as a browser gives it, `2026-11-25T18:11`, with the offset of the time that it
/// replaces.
fn moment(text: &str, old: Option<&Value>, setting: Setting) -> Result<Value, Refusal> {
    let text = text.replace(' ', "T");
    let seconds = match text.matches(':').count() {
        1 => ":00",
        _ => "",
    };
    let mut moment: Datetime = format!("{text}{seconds}")
        .parse()
        .map_err(|_| Refusal::NotATime)?;
    if moment.date.is_none() || moment.time.is_none() {
        return Err(Refusal::NotATime);
    }
    let old = old.and_then(Value::as_datetime);
    if moment.offset.is_none() {
        let plain = moment.to_string();
        let shown = NaiveDateTime::parse_from_str(&plain, "%Y-%m-%dT%H:%M:%S%.f");
        let shown = shown.map_err(|_| Refusal::NotATime)?;
        let here = toml_edit::Offset::Custom {
            minutes: (setting.zone)(shown),
        };
        moment.offset = Some(old.and_then(|old| old.offset).unwrap_or(here));
    }
    Ok(Value::from(moment))
}

/// A value as a field shows it.
pub fn shown(value: &Value, entry: &Entry, setting: Setting) -> String {
    match (value, entry) {
        (Value::String(text), _) => text.value().clone(),
        (Value::Integer(number), _) => number.display_repr().into_owned(),
        (Value::Float(number), _) => {
            let digits = number.display_repr().into_owned();
            if setting.comma {
                digits.replace('.', ",")
            } else {
                digits
            }
        }
        (Value::Boolean(yes), _) => yes.value().to_string(),
        (Value::Datetime(moment), Entry::Moment) => {
            let moment = moment.value();
            let (date, time) = (moment.date, moment.time);
            let date = date.map_or_else(String::new, |date| date.to_string());
            time.map_or_else(String::new, |time| {
                format!("{date}T{:02}:{:02}", time.hour, time.minute)
            })
        }
        (Value::Datetime(moment), _) => moment.value().to_string(),
        (Value::Array(list), Entry::NoneOf) => if list.is_empty() { "true" } else { "" }.to_owned(),
        (Value::Array(list), _) => {
            let items = list.iter().map(|item| shown(item, entry, setting));
            items.collect::<Vec<_>>().join("\n")
        }
        (Value::InlineTable(_), _) => String::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const POINT: Setting = Setting {
        comma: false,
        zone: |_| 60,
    };
    const COMMA: Setting = Setting {
        comma: true,
        zone: |_| 60,
    };

    fn written(text: &str, entry: &Entry, setting: Setting) -> Result<String, Refusal> {
        let value = value(text, entry, None, setting)?;
        Ok(value.map_or_else(String::new, |value| value.to_string()))
    }

    #[test]
    fn a_number_keeps_its_digits() {
        for (typed, file) in [
            ("22.50", "22.50"),
            (" 22 ", "22"),
            ("1 022", "1022"),
            ("1\u{a0}022,5", "1022.5"),
            ("–13.1", "-13.1"),
            ("- 13.1", "-13.1"),
            ("12 345 678", "12345678"),
            ("1'022.5", "1022.5"),
            ("−13,1", "-13.1"),
            ("+3", "3"),
            (".5", "0.5"),
            ("007", "7"),
            ("0", "0"),
            ("0,125", "0.125"),
            ("5.", "5"),
        ] {
            assert_eq!(
                written(typed, &Entry::Number, POINT),
                Ok(file.to_owned()),
                "{typed}"
            );
            if typed != "0,125" {
                assert_eq!(
                    written(typed, &Entry::Number, COMMA),
                    Ok(file.to_owned()),
                    "{typed}"
                );
            }
        }
        for wrong in [
            "22 mm",
            "1.2.3",
            "ten",
            "-",
            ".",
            "1e5",
            "inf",
            "--2",
            "22\t23",
            "1.022,5,1",
            "1.02,5",
            "0.022,5",
            ".022,5",
            "1022.500,5",
            "1.022,5.",
            "😀",
            "1.022.50",
            "1,,5",
            "1.a22,5",
            "22 23",
            "22\n23",
            "1 022 5",
            "12.5 13.5",
            "1 02",
            "1.022 500",
            "- -3",
        ] {
            assert_eq!(
                written(wrong, &Entry::Number, POINT),
                Err(Refusal::NotANumber),
                "{wrong}"
            );
        }
    }

    /// Two different signs, or the same twice, can be read in one way only.
    #[test]
    fn thousands_that_can_only_be_thousands_are_taken() {
        for (typed, file) in [
            ("1.022,5", "1022.5"),
            ("1,022.5", "1022.5"),
            ("-12.022,50", "-12022.50"),
            ("1.022,500", "1022.500"),
            ("1.022.500", "1022500"),
            ("1.022.500,25", "1022500.25"),
        ] {
            for setting in [POINT, COMMA] {
                let found = written(typed, &Entry::Number, setting);
                assert_eq!(found, Ok(file.to_owned()), "{typed}");
            }
        }
    }

    #[test]
    fn thousands_or_thousandths_are_asked_back() {
        let two = |fraction: &str| {
            Err(Refusal::TwoWays {
                fraction: fraction.to_owned(),
                whole: "1022".to_owned(),
            })
        };
        assert_eq!(written("1,022", &Entry::Number, POINT), two("1.022"));
        assert_eq!(written("1.022", &Entry::Number, COMMA), two("1,022"));
        assert_eq!(
            written("1,022", &Entry::Number, COMMA),
            Ok("1.022".to_owned())
        );
        assert_eq!(
            written("1.022", &Entry::Number, POINT),
            Ok("1.022".to_owned())
        );
    }

    #[test]
    fn a_time_gets_the_offset_of_the_clock_or_keeps_its_own() {
        let typed = "2026-11-25T18:11";
        let first = written(typed, &Entry::Moment, POINT).unwrap();
        assert_eq!(first, "2026-11-25T18:11:00+01:00");
        let old: Value = "2026-01-20T06:35:00Z".parse().unwrap();
        let kept = value(typed, &Entry::Moment, Some(&old), POINT)
            .unwrap()
            .unwrap();
        assert_eq!(kept.to_string(), "2026-11-25T18:11:00Z");
        assert_eq!(shown(&kept, &Entry::Moment, POINT), typed);
        for wrong in ["25/11/2026 18:11", "2026-11-25", "2026-13-25T18:11", "now"] {
            assert_eq!(
                written(wrong, &Entry::Moment, POINT),
                Err(Refusal::NotATime),
                "{wrong}"
            );
        }
    }

    #[test]
    fn a_day_is_asked_for_as_one() {
        let found = written("2026-11-25", &Entry::Day, POINT);
        assert_eq!(found, Ok("2026-11-25".to_owned()));
        for wrong in ["25/11/2026", "2026-11-25T18:11", "2026-02-30", "tomorrow"] {
            let found = written(wrong, &Entry::Day, POINT);
            assert_eq!(found, Err(Refusal::NotADay), "{wrong}");
        }
    }

    #[test]
    fn lists_and_choices() {
        let list = written(" one \r\n\r\ntwo", &Entry::List, POINT).unwrap();
        assert_eq!(list, "[\"one\", \"two\"]");
        let choices = Entry::Choice(vec![("watch".to_owned(), "Stopwatch".to_owned())]);
        assert_eq!(
            written("watch", &choices, POINT),
            Ok("\"watch\"".to_owned())
        );
        assert_eq!(
            written("Stopwatch", &choices, POINT),
            Err(Refusal::NotAChoice)
        );
        assert_eq!(written("3", &Entry::Whole, POINT), Ok("3".to_owned()));
        assert_eq!(written("3.5", &Entry::Whole, POINT), Err(Refusal::NotWhole));
        assert_eq!(written("-3", &Entry::Whole, POINT), Err(Refusal::NotWhole));
        assert_eq!(written("  ", &Entry::Number, POINT), Ok(String::new()));
    }
}
