//! The revisions of a file: objects, a table that names each of them where it stands, and a
//! trailer (ISO 32000-1, 7.5), with nothing between them.

use std::collections::BTreeMap;

use super::tokens::Cursor;
use super::value::{Dictionary, Value};
use super::{FormError, plain_pages, require, signature_only};

/// The most objects of a file.
const MOST_OBJECTS: usize = 50_000;

/// An object: a value, and the bytes of a stream if it has any.
#[derive(Debug)]
pub struct Object<'a> {
    pub value: Value<'a>,
    pub stream: Option<&'a [u8]>,
}

/// What was added to a file at one time.
pub(super) struct Revision<'a> {
    pub objects: BTreeMap<u32, Object<'a>>,
    pub trailer: Dictionary<'a>,
}

impl<'a> Revision<'a> {
    /// The dictionary of the object with this number.
    pub fn dictionary(&self, number: Option<u32>) -> Option<&Dictionary<'a>> {
        self.objects.get(&number?)?.value.dictionary()
    }

    /// The number of the object that is the dictionary's entry.
    pub fn root(&self) -> Option<u32> {
        self.trailer.get("Root")?.reference()
    }
}

/// A file: a document, and what a signature added to it.
pub struct Pdf<'a> {
    first: Revision<'a>,
    second: Option<Revision<'a>>,
    /// How many revisions it has.
    pub revisions: usize,
}

impl<'a> Pdf<'a> {
    /// Reads `file` to its last byte.
    ///
    /// # Errors
    /// The first thing that is not as this program writes it.
    pub fn read(file: &'a [u8]) -> Result<Self, FormError> {
        let mut cursor = Cursor::new(file, 0);
        header(&mut cursor).ok_or(FormError("it does not begin as a PDF does"))?;
        let mut revisions = Vec::new();
        let mut last_table = None;
        loop {
            cursor.space();
            if cursor.rest().is_empty() {
                break;
            }
            require(
                revisions.len() < 3,
                "it has more revisions than a signed report",
            )?;
            let (revision, table) = revision(&mut cursor, last_table)?;
            last_table = Some(table);
            revisions.push(revision);
        }
        let count = revisions.len();
        let mut revisions = revisions.into_iter();
        let first = revisions.next().ok_or(FormError("it has no content"))?;
        let second = revisions.next();
        plain_pages::check(&first)?;
        if let (Some(second), 2) = (&second, count) {
            signature_only::check(&first, second)?;
        }
        Ok(Self {
            first,
            second,
            revisions: count,
        })
    }

    /// The object with this number, as the last revision has it.
    pub fn object(&self, number: u32) -> Option<&Object<'a>> {
        let newer = self
            .second
            .as_ref()
            .and_then(|second| second.objects.get(&number));
        newer.or_else(|| self.first.objects.get(&number))
    }

    /// The dictionary that `value` is or refers to.
    pub fn dictionary<'b>(&'b self, value: &'b Value<'a>) -> Option<&'b Dictionary<'a>> {
        match value.reference() {
            Some(number) => self.object(number)?.value.dictionary(),
            None => value.dictionary(),
        }
    }

    pub fn catalog(&self) -> Option<&Dictionary<'a>> {
        self.object(self.first.root()?)?.value.dictionary()
    }
}

/// `%PDF-1.7`, and a comment of a few bytes that say that it is not text.
fn header(cursor: &mut Cursor<'_>) -> Option<()> {
    let is_version = |version: &[u8]| matches!(version, [b'1' | b'2', b'.', b'0'..=b'9']);
    let found = cursor.take(b"%PDF-") && is_version(cursor.word()) && cursor.line_end();
    if cursor.take(b"%") {
        let rest = cursor.rest();
        let length = rest.iter().take(16).position(|byte| *byte == b'\n')?;
        cursor.at += length;
    }
    found.then_some(())
}

/// One revision, and where its table stands; `before` is where that of the one before does.
fn revision<'a>(
    cursor: &mut Cursor<'a>,
    before: Option<usize>,
) -> Result<(Revision<'a>, usize), FormError> {
    let mut objects = BTreeMap::new();
    let mut places = BTreeMap::new();
    let table = loop {
        cursor.space();
        let place = cursor.at;
        if cursor.take(b"xref") {
            break place;
        }
        let (number, object) = object(cursor)?;
        places.insert(number, place);
        require(
            objects.insert(number, object).is_none(),
            "an object stands twice in it",
        )?;
        require(
            objects.len() <= MOST_OBJECTS,
            "it has more objects than any report",
        )?;
    };
    read_table(cursor, places)?;
    cursor.space();
    let Value::Dictionary(trailer) = cursor.value()? else {
        return Err(FormError("it has no trailer"));
    };
    check_trailer(&trailer, &objects, before)?;
    cursor.space();
    let start = cursor.take(b"startxref").then(|| {
        cursor.space();
        cursor.integer()
    });
    require(
        start.flatten() == Some(table as u64),
        "it does not say where its last table stands",
    )?;
    cursor.space();
    require(cursor.take(b"%%EOF"), "a revision does not end as it must")?;
    Ok((Revision { objects, trailer }, table))
}

/// `N 0 obj … endobj`; a stream with its length in its dictionary.
fn object<'a>(cursor: &mut Cursor<'a>) -> Result<(u32, Object<'a>), FormError> {
    const HEAD: FormError = FormError("between its objects stands something else");
    const STREAM: FormError = FormError("a stream is not as long as it says");
    let number = cursor
        .integer()
        .and_then(|number| u32::try_from(number).ok());
    let number = number.filter(|number| *number > 0).ok_or(HEAD)?;
    if !cursor.take(b" 0 obj") {
        return Err(HEAD);
    }
    let value = cursor.value()?;
    cursor.space();
    let mut stream = None;
    if cursor.take(b"stream") {
        let dictionary = value.dictionary().ok_or(STREAM)?;
        let length = dictionary.get("Length").and_then(Value::integer);
        let length = usize::try_from(length.ok_or(STREAM)?).map_err(|_| STREAM)?;
        // No file beside this one (7.3.8.2).
        let is_inside = !["F", "FFilter", "FDecodeParms"]
            .iter()
            .any(|key| dictionary.has(key));
        if !cursor.line_end() || !is_inside {
            return Err(STREAM);
        }
        let bytes = cursor.rest().get(..length).ok_or(STREAM)?;
        cursor.at += length;
        // After a carriage return, this program writes another (`render`).
        if !cursor.line_end() && bytes.ends_with(b"\r") {
            cursor.take(b"\r");
        }
        if !cursor.take(b"endstream") || has(bytes, b"endstream") {
            return Err(STREAM);
        }
        stream = Some(bytes);
        cursor.space();
    }
    require(cursor.take(b"endobj"), "an object does not end as it must")?;
    Ok((number, Object { value, stream }))
}

fn has(bytes: &[u8], word: &[u8]) -> bool {
    // A scan for the first byte first: streams are long.
    let mut rest = bytes;
    while let Some(at) = rest.iter().position(|byte| *byte == word[0]) {
        if rest[at..].starts_with(word) {
            return true;
        }
        rest = &rest[at + 1..];
    }
    false
}

/// Reads the table, which must name exactly the objects in `places`, each where it stands.
fn read_table(cursor: &mut Cursor<'_>, mut places: BTreeMap<u32, usize>) -> Result<(), FormError> {
    const ERROR: FormError = FormError("its table does not name each object where it stands");
    let mut free = 0;
    if !cursor.line_end() {
        return Err(ERROR);
    }
    while !cursor.take(b"trailer") {
        let first = cursor.integer().ok_or(ERROR)?;
        let count = cursor
            .take(b" ")
            .then(|| cursor.integer())
            .flatten()
            .ok_or(ERROR)?;
        if !cursor.line_end() {
            return Err(ERROR);
        }
        for number in first..first.saturating_add(count) {
            let Some((entry, _)) = cursor.rest().split_at_checked(20) else {
                return Err(ERROR);
            };
            cursor.at += 20;
            let entry = entry_of(entry).ok_or(ERROR)?;
            let own = u32::try_from(number)
                .ok()
                .and_then(|own| places.remove(&own));
            match entry {
                Some(place) if own == Some(place) => {}
                None if own.is_none() && free < MOST_OBJECTS => free += 1,
                _ => return Err(ERROR),
            }
        }
    }
    if places.is_empty() {
        Ok(())
    } else {
        Err(ERROR)
    }
}

/// `nnnnnnnnnn ggggg n` and an end of line: the place of an object, or none for a number that
/// is free.
fn entry_of(entry: &[u8]) -> Option<Option<usize>> {
    let digits = |range: std::ops::Range<usize>| {
        let digits = std::str::from_utf8(&entry[range]).ok()?;
        let is_plain = digits.bytes().all(|digit| digit.is_ascii_digit());
        is_plain.then(|| digits.parse::<usize>().ok())?
    };
    let (place, generation) = (digits(0..10)?, digits(11..16)?);
    let is_spaced = entry[10] == b' ' && entry[16] == b' ';
    let is_ended = matches!(&entry[18..], b"\r\n" | b" \n" | b" \r");
    match entry[17] {
        _ if !is_spaced || !is_ended => None,
        b'n' if generation == 0 => Some(Some(place)),
        b'f' => Some(None),
        _ => None,
    }
}

fn check_trailer(
    trailer: &Dictionary<'_>,
    objects: &BTreeMap<u32, Object<'_>>,
    before: Option<usize>,
) -> Result<(), FormError> {
    let previous = trailer.get("Prev").map(Value::integer);
    require(
        previous == before.map(|place| Some(place as u64)),
        "a trailer does not name the table before it",
    )?;
    require(
        trailer.has_only(&["Size", "Root", "Info", "ID", "Prev"]) && trailer.has("Root"),
        "a trailer says more than that of a report",
    )?;
    // A reader takes objects beyond that number for missing (7.5.5).
    let size = trailer.get("Size").and_then(Value::integer);
    let last = objects.keys().next_back().copied().unwrap_or(0);
    require(
        size.is_some_and(|size| size > u64::from(last)),
        "a trailer does not count the objects",
    )
}

#[cfg(test)]
mod tests;
