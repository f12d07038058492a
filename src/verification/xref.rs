//! What is known of a file before a PDF library reads it: plain cross-reference
//! tables, each object once, and no more parts than there is room for.
//!
//! A library takes memory for each object that a table names and for each part of an
//! object, many times the bytes it takes in the file. A table that names one place a thousand
//! times, or a file of empty arrays, would ask for gigabytes.

use std::collections::BTreeSet;

/// The most objects of all revisions.
const MOST_OBJECTS: usize = 50_000;
/// The most revisions; a signed document has two.
const MOST_REVISIONS: usize = 8;
/// The most parts of objects beside those that packed data look like by chance.
const MOST_PARTS: usize = 500_000;
/// The most arrays and dictionaries, likewise.
const MOST_LISTS: usize = 100_000;

/// Nothing, if `file` is not of this layout.
pub fn check(file: &[u8]) -> Option<()> {
    let mut parts = 0;
    let mut lists = 0;
    for byte in file {
        match byte {
            b'[' | b'<' => lists += 1,
            b' ' | b'\n' | b'\r' | b'\t' | 0 | 12 | b'/' | b'(' | b'%' => parts += 1,
            _ => {}
        }
    }
    // Of bytes that look random, 9 in 256 are parts and 2 in 256 lists.
    if parts > MOST_PARTS + file.len() / 16 || lists > MOST_LISTS + file.len() / 100 {
        return None;
    }
    let mut places = BTreeSet::new();
    let mut next = Some(last_table(file)?);
    for _ in 0..=MOST_REVISIONS {
        let Some(at) = next else { return Some(()) };
        next = table(file, at, &mut places)?;
    }
    None
}

/// Where the last `startxref` points.
fn last_table(file: &[u8]) -> Option<usize> {
    const KEY: &[u8] = b"startxref";
    let at = file.windows(KEY.len()).rposition(|window| window == KEY)?;
    let mut cursor = Cursor {
        file,
        at: at + KEY.len(),
    };
    cursor.number()
}

/// Reads the table at `at`, adding the places of its objects, none of which may be
/// there yet; returns the place of the table before it, if there is one.
fn table(file: &[u8], at: usize, places: &mut BTreeSet<usize>) -> Option<Option<usize>> {
    let mut cursor = Cursor { file, at };
    cursor.word(b"xref")?;
    while !cursor.is_at(b"trailer") {
        let (_, count) = (cursor.number()?, cursor.number()?);
        if count > MOST_OBJECTS {
            return None;
        }
        for _ in 0..count {
            let (place, generation) = (cursor.number()?, cursor.number()?);
            if cursor.is_at(b"n") {
                cursor.word(b"n")?;
                let fresh = places.insert(place);
                if !fresh || generation != 0 || places.len() > MOST_OBJECTS {
                    return None;
                }
            } else {
                cursor.word(b"f")?;
            }
        }
    }
    cursor.word(b"trailer")?;
    let rest = &file[cursor.at..];
    let end = rest.windows(9).position(|window| window == b"startxref")?;
    let trailer = &rest[..end];
    let find = |key: &[u8]| trailer.windows(key.len()).position(|window| window == key);
    // No table as a stream beside it, and no name that is spelled in another way.
    if trailer.contains(&b'#') || find(b"/XRefStm").is_some() {
        return None;
    }
    match find(b"/Prev") {
        None => Some(None),
        Some(key) => {
            let mut cursor = Cursor {
                file: trailer,
                at: key + 5,
            };
            let before = cursor.number()?;
            (before < at).then_some(Some(before))
        }
    }
}

struct Cursor<'a> {
    file: &'a [u8],
    at: usize,
}

impl Cursor<'_> {
    fn space(&mut self) {
        while self.file.get(self.at).is_some_and(u8::is_ascii_whitespace) {
            self.at += 1;
        }
    }

    fn is_at(&mut self, word: &[u8]) -> bool {
        self.space();
        self.file
            .get(self.at..)
            .is_some_and(|rest| rest.starts_with(word))
    }

    fn word(&mut self, word: &[u8]) -> Option<()> {
        let found = self.is_at(word);
        self.at += word.len();
        found.then_some(())
    }

    fn number(&mut self) -> Option<usize> {
        self.space();
        let rest = self.file.get(self.at..)?;
        let length = rest
            .iter()
            .take(20)
            .take_while(|b| b.is_ascii_digit())
            .count();
        self.at += length;
        std::str::from_utf8(&rest[..length]).ok()?.parse().ok()
    }
}

#[cfg(test)]
mod tests {
    use super::{MOST_LISTS, MOST_OBJECTS, MOST_PARTS, MOST_REVISIONS, check};

    fn file(tables: &str) -> Vec<u8> {
        format!("%PDF-1.7\n1 0 obj<<>>endobj\n{tables}").into_bytes()
    }

    const SOUND: &str = "xref\n0 2\n0000000000 65535 f \n0000000009 00000 n \n\
                         trailer\n<</Size 2>>\nstartxref\n27\n%%EOF";

    #[test]
    fn a_plain_table_is_sound() {
        assert_eq!(check(&file(SOUND)), Some(()));
    }

    /// `revisions` tables without objects, each of which names the one before it.
    fn chained(revisions: usize) -> Vec<u8> {
        let mut text = "%PDF-1.7\n".to_owned();
        let mut before = String::new();
        for _ in 0..revisions {
            let at = text.len();
            text += &format!("xref\n0 0\ntrailer\n<<{before}>>\nstartxref\n{at}\n");
            before = format!("/Prev {at}");
        }
        text.into_bytes()
    }

    fn of_free_objects(count: usize) -> Vec<u8> {
        let entries = "0000000000 65535 f \n".repeat(count);
        let numbers = format!("0 {count}\n");
        file(&SOUND.replacen("0 2\n", &(numbers + &entries + "0 2\n"), 1))
    }

    #[test]
    fn revisions_and_objects_are_counted_to_their_limits() {
        assert_eq!(check(&chained(MOST_REVISIONS)), Some(()));
        assert_eq!(check(&chained(MOST_REVISIONS + 1)), None);
        assert_eq!(check(&of_free_objects(MOST_OBJECTS)), Some(()));
        assert_eq!(check(&of_free_objects(MOST_OBJECTS + 1)), None);
    }

    /// A file is filled until one more part, or one more list, is too many for its length.
    #[test]
    fn parts_and_lists_are_counted_to_their_limits() {
        let sound = file(SOUND);
        let parts = (MOST_PARTS, 16, &b" \n\r\t\0\x0c/(%"[..]);
        let lists = (MOST_LISTS, 100, &b"[<"[..]);
        for (most, share, counted) in [parts, lists] {
            let own = sound.iter().filter(|byte| counted.contains(byte)).count();
            let fits = |more: &usize| own + more <= most + (sound.len() + more) / share;
            let more = (0..).take_while(fits).last().unwrap();
            let mut full = [&sound[..], &vec![counted[0]; more]].concat();
            assert_eq!(check(&full), Some(()));
            full.push(counted[0]);
            assert_eq!(check(&full), None);
        }
    }

    #[test]
    fn a_number_has_at_most_twenty_digits() {
        let long = |digits: usize| SOUND.replace("f\n27", &format!("f\n{:0digits$}", 27));
        assert_eq!(check(&file(&long(20))), Some(()));
        assert_eq!(check(&file(&long(21))), None);
    }

    /// Packed data hold every byte as often as any other, however large they are.
    #[test]
    fn what_only_looks_like_parts_does_not_count() {
        let packed: Vec<u8> = (0..=255).cycle().take(32 << 20).collect();
        let table = String::from_utf8(file(SOUND)).unwrap();
        let at = packed.len() + 27;
        let table = table.replace("startxref\n27", &format!("startxref\n{at}"));
        let moved = table.replace("0000000009", &format!("{:010}", packed.len() + 9));
        assert_eq!(check(&[packed, moved.into_bytes()].concat()), Some(()));
    }

    /// A table that is cut off, or is not in the file at all.
    #[test]
    fn what_points_beyond_the_end_is_refused() {
        for wrong in [
            &b"startxref\n13\nxref\n0 2\n"[..],
            b"startxref\n13\nxref\n0 2\n0000000000",
            b"startxref\n13\nxref\n",
            b"startxref\n13\nxref\n0 0\ntrailer\n<<>>",
            b"startxref\n99999\n",
            b"startxref\n",
        ] {
            assert_eq!(check(wrong), None, "{}", String::from_utf8_lossy(wrong));
        }
    }

    #[test]
    fn what_multiplies_memory_is_refused() {
        let twice = SOUND
            .replace("0 2\n", "0 3\n")
            .replace("trailer", "0000000009 00000 n \ntrailer");
        let many = SOUND.replace("0 2\n", "0 99999999\n");
        let looped = SOUND.replace("/Size 2", "/Size 2/Prev 27");
        let stream = SOUND.replace("/Size 2", "/XRefStm 9");
        let spelled = SOUND.replace("/Size 2", "/XRef#53tm 9");
        // An object of a later generation: the program's own documents have none.
        let reused = SOUND.replace("0000000009 00000 n", "0000000009 00001 n");
        for wrong in [twice, many, looped, stream, spelled, reused, String::new()] {
            assert_eq!(check(&file(&wrong)), None, "{wrong}");
        }
        let lists = [file(SOUND), b"[]".repeat(1 << 20)].concat();
        assert_eq!(check(&lists), None);
        let numbers = [file(SOUND), b"1 ".repeat(1 << 20)].concat();
        assert_eq!(check(&numbers), None);
    }
}
