//! From bytes to values (ISO 32000-1, 7.2 and 7.3), without comments, and no more of them
//! than any document of this program has.

use std::borrow::Cow;

use super::FormError;
use super::value::{Dictionary, Value};

/// The most values of a file: large reports have some 20,000. One takes at most 150 bytes of
/// memory.
const MOST_VALUES: usize = 1_000_000;
/// How deep they stand in one another.
const DEEPEST: usize = 24;

/// A place in a file, and how much more it may hold.
pub struct Cursor<'a> {
    pub file: &'a [u8],
    pub at: usize,
    values: usize,
}

const fn is_space(byte: u8) -> bool {
    matches!(byte, 0 | b'\t' | b'\n' | 12 | b'\r' | b' ')
}

const fn is_regular(byte: u8) -> bool {
    !is_space(byte)
        && !matches!(
            byte,
            b'(' | b')' | b'<' | b'>' | b'[' | b']' | b'{' | b'}' | b'/' | b'%'
        )
}

impl<'a> Cursor<'a> {
    pub fn new(file: &'a [u8], at: usize) -> Self {
        Self {
            file,
            at,
            values: 0,
        }
    }

    pub fn rest(&self) -> &'a [u8] {
        self.file.get(self.at..).unwrap_or_default()
    }

    pub fn space(&mut self) {
        self.at += self.rest().iter().take_while(|b| is_space(**b)).count();
    }

    /// Takes `word`, if it stands right here.
    pub fn take(&mut self, word: &[u8]) -> bool {
        let is_here = self.rest().starts_with(word);
        self.at += if is_here { word.len() } else { 0 };
        is_here
    }

    /// One end of a line.
    pub fn line_end(&mut self) -> bool {
        self.take(b"\r\n") || self.take(b"\n")
    }

    /// A number without a sign, which stands right here.
    pub fn integer(&mut self) -> Option<u64> {
        let word = self.word();
        let value = Value::Word(word).integer();
        self.at -= if value.is_none() { word.len() } else { 0 };
        value
    }

    /// What stands right here, up to a space or delimiter.
    pub fn word(&mut self) -> &'a [u8] {
        let rest = self.rest();
        let length = rest.iter().take_while(|byte| is_regular(**byte)).count();
        self.at += length;
        &rest[..length]
    }

    /// The next value.
    pub fn value(&mut self) -> Result<Value<'a>, FormError> {
        self.value_at(0)
    }

    fn value_at(&mut self, depth: usize) -> Result<Value<'a>, FormError> {
        self.space();
        self.values += 1;
        if self.values > MOST_VALUES || depth > DEEPEST {
            return Err(FormError("it has more parts than any report"));
        }
        if self.take(b"<<") {
            return self.dictionary(depth);
        }
        match self.rest().first() {
            Some(b'[') => {
                self.at += 1;
                self.array(depth)
            }
            Some(b'/') => self.name().map(Value::Name),
            Some(b'(') => self.literal().map(Value::Text),
            Some(b'<') => self.hexadecimal().map(Value::Text),
            _ => self.word_or_reference(),
        }
    }

    fn array(&mut self, depth: usize) -> Result<Value<'a>, FormError> {
        let mut values = Vec::new();
        loop {
            self.space();
            if self.take(b"]") {
                return Ok(Value::Array(values));
            }
            values.push(self.value_at(depth + 1)?);
        }
    }

    fn dictionary(&mut self, depth: usize) -> Result<Value<'a>, FormError> {
        let mut entries = Vec::new();
        loop {
            self.space();
            if self.take(b">>") {
                let dictionary = Dictionary::new(entries);
                return dictionary
                    .map(Value::Dictionary)
                    .ok_or(FormError("a key stands twice in one dictionary"));
            }
            let key = self.name()?;
            entries.push((key, self.value_at(depth + 1)?));
        }
    }

    fn name(&mut self) -> Result<Cow<'a, [u8]>, FormError> {
        const ERROR: FormError = FormError("a name is not written as names are");
        let written = if self.take(b"/") { self.word() } else { b"" };
        if written.is_empty() {
            return Err(ERROR);
        }
        if !written.contains(&b'#') {
            return Ok(Cow::Borrowed(written));
        }
        // A letter spelled as a number would be another name to a careless reader.
        let mut bytes = Vec::with_capacity(written.len());
        let mut parts = written.split(|byte| *byte == b'#');
        bytes.extend_from_slice(parts.next().unwrap_or_default());
        for part in parts {
            let code = part.get(..2).and_then(hex_byte).ok_or(ERROR)?;
            if is_regular(code) && code.is_ascii_graphic() && code != b'#' {
                return Err(ERROR);
            }
            bytes.push(code);
            bytes.extend_from_slice(&part[2..]);
        }
        Ok(Cow::Owned(bytes))
    }

    /// `(…)`: brackets in pairs, escapes after a backslash (7.3.4.2).
    fn literal(&mut self) -> Result<Vec<u8>, FormError> {
        const ERROR: FormError = FormError("a string is not written as strings are");
        let mut bytes = Vec::new();
        let mut open = 0_usize;
        loop {
            let byte = *self.rest().first().ok_or(ERROR)?;
            self.at += 1;
            match byte {
                b'(' => {
                    open += 1;
                    if open == 1 {
                        continue;
                    }
                }
                b')' => {
                    open -= 1;
                    if open == 0 {
                        return Ok(bytes);
                    }
                }
                // Readers take it for a line feed, or do not.
                b'\r' => return Err(ERROR),
                b'\\' => {
                    bytes.push(self.escaped().ok_or(ERROR)?);
                    continue;
                }
                _ => {}
            }
            bytes.push(byte);
        }
    }

    fn escaped(&mut self) -> Option<u8> {
        let (byte, length) = match *self.rest() {
            [b'n', ..] => (b'\n', 1),
            [b'r', ..] => (b'\r', 1),
            [b't', ..] => (b'\t', 1),
            [b'b', ..] => (8, 1),
            [b'f', ..] => (12, 1),
            [sign @ (b'(' | b')' | b'\\'), ..] => (sign, 1),
            [a @ b'0'..=b'3', b @ b'0'..=b'7', c @ b'0'..=b'7', ..] => {
                ((a - b'0') * 64 + (b - b'0') * 8 + (c - b'0'), 3)
            }
            _ => return None,
        };
        self.at += length;
        Some(byte)
    }

    fn hexadecimal(&mut self) -> Result<Vec<u8>, FormError> {
        const ERROR: FormError = FormError("a string is not written as strings are");
        self.at += 1;
        let digits = self.word();
        if !self.take(b">") || !digits.len().is_multiple_of(2) {
            return Err(ERROR);
        }
        let bytes: Option<Vec<u8>> = digits.chunks(2).map(hex_byte).collect();
        bytes.ok_or(ERROR)
    }

    fn word_or_reference(&mut self) -> Result<Value<'a>, FormError> {
        let word = self.word();
        let value = Value::Word(word);
        let is_known = matches!(word, b"true" | b"false" | b"null");
        let is_plain = word
            .iter()
            .all(|b| b.is_ascii_digit() || b"+-.".contains(b));
        let is_number = is_plain && value.is_number();
        if !(is_known || is_number) {
            return Err(FormError("there is something in it that no PDF has"));
        }
        let Some(number) = value.integer() else {
            return Ok(value);
        };
        let after = self.at;
        self.space();
        if self.take(b"0 R") && !self.rest().first().is_some_and(|byte| is_regular(*byte)) {
            let number = u32::try_from(number).ok();
            return number
                .map(Value::Reference)
                .ok_or(FormError("it has more parts than any report"));
        }
        self.at = after;
        Ok(value)
    }
}

fn hex_byte(digits: &[u8]) -> Option<u8> {
    let digits = std::str::from_utf8(digits).ok()?;
    let is_plain = digits.bytes().all(|digit| digit.is_ascii_hexdigit());
    is_plain.then(|| u8::from_str_radix(digits, 16).ok())?
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> Option<String> {
        let mut cursor = Cursor::new(text.as_bytes(), 0);
        let value = cursor.value().ok()?;
        cursor.space();
        cursor.rest().is_empty().then(|| format!("{value:?}"))
    }

    #[test]
    fn values_are_read_as_both_writers_write_them() {
        for (one, other) in [
            ("<</A 1/B(x)>>", "<</B (x) /A 1 >>"),
            ("[1 0 R 2 0 R]", "[ 1  0 R 2 0 R ]"),
            ("(a\\(b\\051)", "<6128 62 29>".replace(' ', "").as_str()),
            ("(a(b)c)", "(a\\(b\\)c)"),
            ("/a#2Fb", "/a#2fb"),
            // ISO 32000-1, table 3.
            ("(\\n\\r\\t\\b\\f\\\\)", "<0a0d09080c5c>"),
        ] {
            assert_eq!(read(one), read(other), "{one}");
            assert!(read(one).is_some(), "{one}");
        }
        for wrong in [
            "",
            "<</A 1/A 1>>",
            "<</A 1/#41 1>>",
            "<</A>>",
            "<</A 1",
            "[1",
            "(a",
            "(a\rb)",
            "(a\\qb)",
            "(a\\8)",
            "<6>",
            "<6g>",
            "/",
            "/a#2",
            "/#41",
            "1 %x\n",
            "nul",
            "0x1",
            "1 1 R",
            "1e5",
            "--1",
            "99999999999 0 R",
        ] {
            assert_eq!(read(wrong), None, "{wrong}");
        }
    }

    #[test]
    fn values_are_counted_and_their_depth_is() {
        let many = |count| format!("[{}]", "1 ".repeat(count));
        assert!(read(&many(MOST_VALUES - 1)).is_some());
        assert_eq!(read(&many(MOST_VALUES)), None);
        let deep = |depth| "[".repeat(depth) + &"]".repeat(depth);
        assert!(read(&deep(DEEPEST + 1)).is_some());
        assert_eq!(read(&deep(DEEPEST + 2)), None);
    }
}
