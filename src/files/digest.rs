//! SHA-256 (FIPS 180-4) of a file's bytes.

use std::fmt;
use std::io::{self, Read};
use std::str::FromStr;

use sha2::{Digest as _, Sha256};

/// The SHA-256 of some bytes; displays as 64 lower-case hexadecimal digits, as
/// `sha256sum` prints it.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Digest([u8; 32]);

impl Digest {
    /// The digest of `bytes`.
    pub fn of(bytes: &[u8]) -> Self {
        Self(Sha256::digest(bytes).into())
    }

    /// The digest of all that `reader` gives, and how many bytes that was. Holds
    /// 256 KiB at a time, however large the file.
    ///
    /// # Errors
    /// What `reader` says.
    pub fn of_stream(mut reader: impl Read) -> io::Result<(Self, u64)> {
        let mut hasher = Sha256::new();
        let mut chunk = vec![0; CHUNK];
        let mut size = 0;
        loop {
            match reader.read(&mut chunk) {
                Ok(0) => return Ok((Self(hasher.finalize().into()), size)),
                Ok(read) => {
                    hasher.update(&chunk[..read]);
                    size += read as u64;
                }
                Err(error) if error.kind() == io::ErrorKind::Interrupted => {}
                Err(error) => return Err(error),
            }
        }
    }

    /// The 32 bytes.
    pub fn bytes(&self) -> &[u8; 32] {
        &self.0
    }
}

/// Takes the 32 bytes of a digest that was computed elsewhere.
impl From<[u8; 32]> for Digest {
    fn from(bytes: [u8; 32]) -> Self {
        Self(bytes)
    }
}

/// How much of a large file is held at a time, in bytes.
const CHUNK: usize = 1 << 18;

/// Exactly 64 lower-case hexadecimal digits, as `sha256sum` prints them.
impl FromStr for Digest {
    type Err = ParseDigestError;

    fn from_str(text: &str) -> Result<Self, ParseDigestError> {
        let bytes = data_encoding::HEXLOWER
            .decode(text.as_bytes())
            .map_err(|_| ParseDigestError)?;
        bytes.try_into().map(Self).map_err(|_| ParseDigestError)
    }
}

/// The text is not 64 lower-case hexadecimal digits.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ParseDigestError;

impl fmt::Display for Digest {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().try_for_each(|byte| write!(f, "{byte:02x}"))
    }
}

impl fmt::Debug for Digest {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Digest({self})")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_stream_has_the_digest_of_its_bytes() {
        // FIPS 180-4 / NIST CAVP: one million times the letter a.
        let million = io::repeat(b'a').take(1_000_000);
        let (digest, size) = Digest::of_stream(million).unwrap();
        assert_eq!(size, 1_000_000);
        assert_eq!(
            digest.to_string(),
            "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0"
        );
        assert_eq!(digest.to_string().parse(), Ok(digest));
        for wrong in [
            "",
            "cd",
            &digest.to_string().to_uppercase(),
            &format!("{digest}0"),
        ] {
            assert_eq!(wrong.parse::<Digest>(), Err(ParseDigestError), "{wrong}");
        }
    }

    /// The one-block and two-block examples that NIST publishes for FIPS 180-4.
    #[test]
    fn equals_the_nist_examples_for_fips_180_4() {
        assert_eq!(
            Digest::of(b"abc").to_string(),
            "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
        );
        assert_eq!(
            Digest::of(b"abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq").to_string(),
            "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1"
        );
        assert_eq!(
            Digest::of(b"").to_string(),
            "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"
        );
    }
}
