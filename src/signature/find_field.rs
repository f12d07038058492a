//! Finding the signature in a file, from its bytes alone, before anything else in the
//! file is trusted.

use std::fmt;
use std::ops::Range;

use data_encoding::HEXUPPER;
use sha2::{Digest as _, Sha256};

use crate::files::Digest;

/// The signature of a file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Field {
    /// The array of the signature dictionary: start and length, twice.
    pub byte_range: [u64; 4],
    /// The place of `Contents`, with its angle brackets.
    pub gap: Range<usize>,
    /// The CMS signature, without the zeros that fill its place.
    pub cms: Vec<u8>,
    /// How many bytes of zeros these are.
    pub fill: usize,
    /// The digest of all bytes but those of the gap.
    pub digest: Digest,
}

/// Why there is no signature over the whole file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FieldError {
    /// The file holds no signature.
    None,
    /// It has something that looks like a signature but does not have the required form.
    Malformed,
    /// There are bytes outside of what was signed: something was added to the file.
    NotWhole,
}

impl fmt::Display for FieldError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::None => "it is not signed",
            Self::Malformed => "its signature does not have the form that retestify makes",
            Self::NotWhole => "something was added to it after it was signed",
        })
    }
}

const KEY: &[u8] = b"/ByteRange";
const CONTENTS: &[u8] = b"/Contents";

/// Finds the last signature of `file`, which must cover all of it but itself.
///
/// # Errors
/// A [`FieldError`]
pub fn find(file: &[u8]) -> Result<Field, FieldError> {
    let (byte_range, gap) = place(file)?;
    let contents = &file[gap.start + 1..gap.end - 1];
    let padded = HEXUPPER
        .decode(contents)
        .map_err(|_| FieldError::Malformed)?;
    let length = der_length(&padded).ok_or(FieldError::Malformed)?;
    if padded[length..].iter().any(|byte| *byte != 0) {
        return Err(FieldError::Malformed);
    }
    Ok(Field {
        byte_range,
        cms: padded[..length].to_vec(),
        fill: padded.len() - length,
        digest: digest_around(file, &gap),
        gap,
    })
}

/// The array of the last signature of `file`, which must cover all of it but itself, and
/// the place of its `Contents`.
fn place(file: &[u8]) -> Result<([u64; 4], Range<usize>), FieldError> {
    let at = rfind(file, KEY).ok_or(FieldError::None)?;
    let byte_range = ranges(&file[at + KEY.len()..]).ok_or(FieldError::Malformed)?;
    let [start, before, after, rest] = byte_range;
    let index = |number: u64| usize::try_from(number).map_err(|_| FieldError::Malformed);
    let gap = index(before)?..index(after)?;
    if start != 0 || gap.start >= gap.end || gap.end > file.len() {
        return Err(FieldError::Malformed);
    }
    if after.checked_add(rest) != Some(file.len() as u64) {
        return Err(FieldError::NotWhole);
    }
    let brackets = file[gap.clone()].starts_with(b"<") && file[gap.clone()].ends_with(b">");
    if !brackets || !file[..gap.start].ends_with(CONTENTS) {
        return Err(FieldError::Malformed);
    }
    Ok((byte_range, gap))
}

/// The digest of all bytes but those of the gap.
pub(super) fn digest_around(file: &[u8], gap: &Range<usize>) -> Digest {
    let mut hasher = Sha256::new();
    hasher.update(&file[..gap.start]);
    hasher.update(&file[gap.end..]);
    Digest::from(<[u8; 32]>::from(hasher.finalize()))
}

fn rfind(file: &[u8], pattern: &[u8]) -> Option<usize> {
    file.windows(pattern.len())
        .rposition(|window| window == pattern)
}

/// `[0 1 2 3]`: four numbers with single spaces, and spaces before the end.
fn ranges(text: &[u8]) -> Option<[u64; 4]> {
    let end = text.iter().take(90).position(|byte| *byte == b']')?;
    let inner = std::str::from_utf8(&text[..end]).ok()?.strip_prefix('[')?;
    let mut numbers = inner.trim_end_matches(' ').split(' ').map(|number| {
        let digits = !number.is_empty() && number.bytes().all(|byte| byte.is_ascii_digit());
        let plain = digits && (number == "0" || !number.starts_with('0'));
        plain.then(|| number.parse().ok()).flatten()
    });
    let four = [
        numbers.next()??,
        numbers.next()??,
        numbers.next()??,
        numbers.next()??,
    ];
    numbers.next().is_none().then_some(four)
}

/// The length of the DER sequence that `bytes` start with, header included.
fn der_length(bytes: &[u8]) -> Option<usize> {
    let (header, length) = match *bytes {
        [0x30, length, ..] if length < 0x80 => (2, usize::from(length)),
        [0x30, 0x81, length, ..] => (3, usize::from(length)),
        [0x30, 0x82, high, low, ..] => (4, usize::from(high) << 8 | usize::from(low)),
        _ => return None,
    };
    let whole: usize = header + length;
    (whole <= bytes.len()).then_some(whole)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// `<30030201FF0000>` in a file of 60-odd bytes.
    fn file(range: &str) -> Vec<u8> {
        format!("%PDF /ByteRange[{range}]/Contents<30030201FF0000> tail").into_bytes()
    }

    fn sound() -> (Vec<u8>, String) {
        let length = file("0 38 54 5   ").len();
        let start = file("0 38 54 5   ")
            .iter()
            .position(|b| *b == b'<')
            .unwrap();
        let range = format!("0 {start} {} {}   ", start + 16, length - start - 16);
        (file(&range), range)
    }

    /// The three forms of a length that a signature may have (ITU-T X.690, 8.1.3), and what
    /// is not one.
    #[test]
    fn a_length_is_read_in_each_of_its_forms() {
        let of = |start: &[u8], more: usize| [start, &vec![0; more][..]].concat();
        for (bytes, length) in [
            (of(&[0x30, 0], 0), Some(2)),
            (of(&[0x30, 0x7f], 127), Some(129)),
            (of(&[0x30, 0x7f], 126), None),
            (of(&[0x30, 0x80], 200), None),
            (of(&[0x30, 0x81, 0x80], 128), Some(131)),
            (of(&[0x30, 0x81, 0x80], 127), None),
            (of(&[0x30, 0x82, 1, 2], 258), Some(262)),
            (of(&[0x30, 0x82, 1, 2], 257), None),
            (of(&[0x30, 0x83, 0, 0, 1], 9), None),
            (of(&[0x31, 0], 9), None),
            (of(&[], 0), None),
        ] {
            assert_eq!(
                der_length(&bytes),
                length,
                "{:02x?}",
                &bytes[..bytes.len().min(5)]
            );
        }
    }

    /// The end of the array is looked for in its first 90 bytes.
    #[test]
    fn the_array_ends_within_reach() {
        let padded = |length: usize| format!("{:<width$}]", "[0 1 2 3", width = length - 1);
        assert_eq!(ranges(padded(90).as_bytes()), Some([0, 1, 2, 3]));
        assert_eq!(ranges(padded(91).as_bytes()), None);
    }

    #[test]
    fn finds_what_is_signed() {
        let (file, range) = sound();
        let field = find(&file).unwrap_or_else(|error| panic!("{error} {range}"));
        assert_eq!(field.cms, [0x30, 3, 2, 1, 0xFF]);
        let mut signed = file.clone();
        signed.drain(field.gap);
        assert_eq!(field.digest, Digest::of(&signed));
    }

    #[test]
    fn nothing_but_the_one_form_is_a_signature() {
        let (sound, range) = sound();
        let text = String::from_utf8(sound.clone()).unwrap();
        assert_eq!(find(b"%PDF-1.7"), Err(FieldError::None));
        let start = text.find('<').unwrap();
        let rest = text.len() - start - 16;
        assert_eq!(range, format!("0 {start} {} {rest}   ", start + 16));
        let longer = [sound.as_slice(), b"\n"].concat();
        assert_eq!(find(&longer), Err(FieldError::NotWhole));
        assert_eq!(find(&sound[..sound.len() - 1]), Err(FieldError::NotWhole));
        for wrong in [
            text.replace("[0 ", "[1 "),
            text.replace("[0 ", "[00 "),
            text.replace("[0 ", "[0  "),
            text.replace("[0 ", "[-0 "),
            text.replace("[0 ", "[+0 "),
            text.replace(&range, "0 5 999 5"),
            // The gap ends before its bracket, so that the rest of it seems to be signed.
            text.replace(&range, &format!("0 {start} {} {}   ", start + 14, rest + 2)),
            text.replace("FF0000", "ff0000"),
            text.replace("FF0000", "FF0001"),
            text.replace("3003", "3103"),
            text.replace("3003", "30FF"),
            text.replace("/Contents<", "/Content <"),
            text.replace("/Contents<", "/Contents("),
            text.replace(&range, "0 5 4 5"),
            text.replace(&range, "0 99999999999999999999999 4 5"),
            text.replace(&range, ""),
            text.replace(']', " "),
        ] {
            assert_eq!(
                find(wrong.as_bytes()),
                Err(FieldError::Malformed),
                "{wrong}"
            );
        }
    }
}
