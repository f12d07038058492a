//! The short text by which people compare a seal, and the full digest for a QR code.

use std::fmt;

use data_encoding::{BASE32_NOPAD, HEXLOWER_PERMISSIVE};
#[cfg(feature = "typesetter")]
use qrcodegen::{QrCode, QrCodeEcc};

use crate::files::Digest;

/// How many letters are printed: 32 of base32 (RFC 4648, section 6) are 160 bits.
/// The shop itself could search for two baselines with one short code, so the
/// effort for a collision must be out of reach: 2⁸⁰ here.
const LETTERS: usize = 32;
/// The fewest letters that are compared: 26 are 130 bits.
const FEWEST: usize = 26;
/// Letters in a group.
const GROUP: usize = 4;

/// The fingerprint of a seal: the start of the base32 of its SHA-256, in groups of
/// four, such as `MFRG-GZDF-…`. It has neither 0 nor 1, so no O or I can be misread.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Fingerprint(Digest);

impl Fingerprint {
    /// The fingerprint of the seal with this digest.
    pub fn of(seal: Digest) -> Self {
        Self(seal)
    }

    /// The whole digest as a URI for machines (RFC 6920, section 7, without the
    /// optional check digit).
    pub fn uri(&self) -> String {
        format!("nih:sha-256;{}", self.0)
    }

    /// Its first two groups, which tell one document of a shop from another.
    pub fn start(&self) -> String {
        let all = self.to_string();
        all[..2 * GROUP + 1].to_owned()
    }

    /// The QR code of [`Fingerprint::uri`]: rows of modules, true for dark. A quarter
    /// of it may be lost to a fold or a stain (ISO/IEC 18004, level Q).
    #[cfg(feature = "typesetter")]
    pub fn qr(&self) -> Vec<Vec<bool>> {
        // A fixed short text always fits.
        let Ok(code) = QrCode::encode_text(&self.uri(), QrCodeEcc::Quartile) else {
            return Vec::new();
        };
        let side = code.size();
        (0..side)
            .map(|y| (0..side).map(|x| code.get_module(x, y)).collect())
            .collect()
    }

    /// Whether `text`, as somebody copied it, is this fingerprint: in upper or lower
    /// case, with or without separators, at least 26 letters, with 0, 1 and 8, which no
    /// fingerprint has, for the letters that look like them; or the whole digest in
    /// hexadecimal digits, with or without the prefix that a QR code has.
    ///
    /// # Errors
    /// [`ParseFingerprintError`] when `text` is neither.
    pub fn is(&self, text: &str) -> Result<bool, ParseFingerprintError> {
        let is_same = |(copied, own): (u8, u8)| {
            copied == own || (copied == b'1' && matches!(own, b'I' | b'L'))
        };
        Ok(match Copied::read(text)? {
            Copied::Digest(bytes) => bytes == self.0.bytes(),
            Copied::Letters(letters) => {
                let own = BASE32_NOPAD.encode(self.0.bytes());
                letters.bytes().zip(own.bytes()).all(is_same)
            }
        })
    }

    /// `text`, as somebody copied it, in the groups in which a fingerprint is printed.
    ///
    /// # Errors
    /// [`ParseFingerprintError`] when [`Fingerprint::is`] would not compare it.
    pub fn grouped(text: &str) -> Result<String, ParseFingerprintError> {
        let letters = match Copied::read(text)? {
            Copied::Digest(bytes) => BASE32_NOPAD.encode(&bytes),
            Copied::Letters(letters) => letters,
        };
        Ok(in_groups(&letters[..letters.len().min(LETTERS)]))
    }
}

/// A fingerprint as somebody copied it.
enum Copied {
    /// The whole digest.
    Digest(Vec<u8>),
    /// Letters of its base32, from the first on.
    Letters(String),
}

impl Copied {
    fn read(text: &str) -> Result<Self, ParseFingerprintError> {
        let text = text.trim();
        let hex = text.strip_prefix("nih:sha-256;").unwrap_or(text);
        if hex.len() == 64
            && let Ok(bytes) = HEXLOWER_PERMISSIVE.decode(hex.as_bytes())
        {
            return Ok(Self::Digest(bytes));
        }
        let letters: String = text
            .chars()
            .filter(|c| !c.is_whitespace() && !matches!(c, '-' | '–' | '·'))
            .map(|c| match c.to_ascii_uppercase() {
                '0' => 'O',
                '8' => 'B',
                other => other,
            })
            .collect();
        let is_base32 = letters
            .bytes()
            .all(|letter| letter.is_ascii_uppercase() || (b'1'..=b'7').contains(&letter));
        if !is_base32 || !(FEWEST..=52).contains(&letters.len()) {
            return Err(ParseFingerprintError);
        }
        Ok(Self::Letters(letters))
    }
}

/// `letters` of base32 in groups.
fn in_groups(letters: &str) -> String {
    let starts = (0..letters.len()).step_by(GROUP);
    let groups = starts.map(|start| &letters[start..letters.len().min(start + GROUP)]);
    groups.collect::<Vec<_>>().join("-")
}

impl fmt::Display for Fingerprint {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let all = BASE32_NOPAD.encode(self.0.bytes());
        f.write_str(&in_groups(&all[..LETTERS]))
    }
}

/// The text is not a fingerprint: too short, too long, or with other characters in it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ParseFingerprintError;

impl fmt::Display for ParseFingerprintError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(
            "this is not a fingerprint: copy all of it, with or without the hyphens; at least its \
             first 26 letters and digits, which are A to Z and 2 to 7",
        )
    }
}

impl std::error::Error for ParseFingerprintError {}

#[cfg(test)]
mod tests {
    use super::*;

    /// SHA-256 of "abc" (FIPS 180-4), through `base32` of GNU coreutils 9.1.
    const ABC: &str = "XJ4B-NP4P-AHH6-UQKB-IDPF-3LRC-EOYA-GYND";

    #[test]
    fn is_the_base32_of_the_digest_in_groups() {
        let fingerprint = Fingerprint::of(Digest::of(b"abc"));
        assert_eq!(fingerprint.to_string(), ABC);
        assert_eq!(
            fingerprint.uri(),
            "nih:sha-256;ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
        );
    }

    /// ISO/IEC 18004, 6.3.3: three corners have a square of seven modules.
    #[cfg(feature = "typesetter")]
    #[test]
    fn the_qr_code_is_a_square_with_its_three_corners() {
        let rows = Fingerprint::of(Digest::of(b"abc")).qr();
        // Versions have 21 modules and four more for each step.
        assert!(rows.len() >= 21 && rows.len() % 4 == 1, "{}", rows.len());
        assert!(rows.iter().all(|row| row.len() == rows.len()));
        let last = rows.len() - 1;
        for step in 0..7 {
            assert!(rows[0][step] && rows[step][0]);
            assert!(rows[0][last - step] && rows[step][last]);
            assert!(rows[last - step][0] && rows[last][step]);
        }
        assert!(!rows[7][0] && !rows[1][1] && rows[3][3]);
    }

    #[test]
    fn is_recognised_however_it_was_copied() {
        let fingerprint = Fingerprint::of(Digest::of(b"abc"));
        for copied in [
            ABC.to_owned(),
            ABC.to_lowercase(),
            ABC.replace('-', " "),
            ABC.replace('-', "–"),
            ABC.replace('-', "·"),
            BASE32_NOPAD.encode(Digest::of(b"abc").bytes().as_slice()),
            ABC.replace('-', "")[..26].to_owned(),
            fingerprint.uri(),
            Digest::of(b"abc").to_string().to_uppercase(),
        ] {
            assert_eq!(fingerprint.is(&copied), Ok(true), "{copied}");
            let grouped = Fingerprint::grouped(&copied).unwrap();
            assert!(ABC.starts_with(&grouped), "{copied}: {grouped}");
        }
        let cut = &ABC.replace('-', "")[..26];
        assert_eq!(
            Fingerprint::grouped(cut).unwrap(),
            "XJ4B-NP4P-AHH6-UQKB-IDPF-3LRC-EO"
        );
        let misread = ABC.replace('O', "0").replace(['I', 'L'], "1");
        let misread = misread.replace('B', "8");
        assert_eq!(fingerprint.is(&misread), Ok(true), "{misread}");
        assert_eq!(fingerprint.is(&ABC.replace('X', "0")), Ok(false));
        assert_eq!(fingerprint.is(&ABC.replace('X', "1")), Ok(false));
        assert_eq!(fingerprint.is(&ABC.replace("GYND", "GYNA")), Ok(false));
        assert_eq!(fingerprint.is(&Digest::of(b"abd").to_string()), Ok(false));
        let longer = BASE32_NOPAD.encode(Digest::of(b"abc").bytes().as_slice()) + "A";
        let shorter = &ABC.replace('-', "")[..25];
        let nine = ABC.replace('X', "9");
        for wrong in ["", shorter, &nine, &longer, &ABC.repeat(2)] {
            assert_eq!(fingerprint.is(wrong), Err(ParseFingerprintError), "{wrong}");
            assert_eq!(Fingerprint::grouped(wrong), Err(ParseFingerprintError));
        }
    }
}
