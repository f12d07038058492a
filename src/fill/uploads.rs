//! Photos and films from the phone's camera: streamed into the folder under a name of the
//! program's own, then named in the file of their run.

use std::path::Path;

use multer::{Field as Piece, Multipart};
use toml_edit::{ArrayOfTables, Item, Table, value};

use super::desk::Desk;
use super::steps::Part;
use crate::files::{Incoming, WriteError, replace_text, take_back};

/// The largest photo, as intake takes it, and the largest film, in bytes.
const PHOTO_LIMIT: u64 = 64 << 20;
pub const FILM_LIMIT: u64 = 4 << 30;
/// The longest text beside it.
const TEXT_LIMIT: u64 = 4 << 10;

/// What was uploaded.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Medium {
    /// A picture that the report can print.
    Photo,
    /// A film or a sound: sealed and listed.
    Film,
}

/// Why nothing was kept.
#[derive(Debug)]
pub enum UploadError {
    /// It is neither a JPEG nor a PNG, nor a film or a sound.
    OtherKind,
    /// It is larger than the limit, in MiB.
    TooLarge(u64),
    /// It has no caption, or no file.
    Incomplete,
    /// The stage is sealed, or its file is no TOML.
    Closed,
    /// The connection ended, or sent something else than a form.
    Broken,
    /// The file was changed in that very moment.
    Moved,
    /// It could not be written.
    NotWritten(String),
}

/// A file in the folder, under a name that nothing links to yet.
struct Kept {
    file: Incoming,
    ending: &'static str,
    medium: Medium,
}

/// What a form with a file said.
#[derive(Default)]
pub struct Upload {
    /// The step it was sent from.
    pub step: String,
    caption: String,
    pair: String,
    kept: Option<Kept>,
}

/// Reads the form, and its file into `folder`.
///
/// # Errors
/// An [`UploadError`]; nothing is then left in the folder.
pub async fn receive(mut form: Multipart<'_>, folder: &Path) -> Result<Upload, UploadError> {
    let mut upload = Upload::default();
    while let Some(piece) = form.next_field().await.map_err(broken)? {
        match piece.name() {
            Some("step") => upload.step = text(piece).await?,
            Some("caption") => upload.caption = text(piece).await?,
            Some("pair") => upload.pair = text(piece).await?,
            // Of the two boxes for a file, one is left empty.
            Some("file") => {
                if let Some(kept) = keep(piece, folder).await? {
                    upload.kept = Some(kept);
                }
            }
            _ => {}
        }
    }
    if upload.caption.trim().is_empty() || upload.kept.is_none() {
        return Err(UploadError::Incomplete);
    }
    Ok(upload)
}

fn broken(error: multer::Error) -> UploadError {
    match error {
        multer::Error::StreamSizeExceeded { limit }
        | multer::Error::FieldSizeExceeded { limit, .. } => UploadError::TooLarge(limit >> 20),
        _ => UploadError::Broken,
    }
}

async fn text(mut piece: Piece<'_>) -> Result<String, UploadError> {
    let mut bytes = Vec::new();
    while let Some(chunk) = piece.chunk().await.map_err(broken)? {
        bytes.extend_from_slice(&chunk);
        if bytes.len() as u64 > TEXT_LIMIT {
            return Err(UploadError::TooLarge(TEXT_LIMIT >> 20));
        }
    }
    let text = String::from_utf8(bytes).map_err(|_| UploadError::Broken)?;
    Ok(text.trim().to_owned())
}

/// The endings under which files are kept, by how they begin.
fn kind(start: &[u8]) -> Option<(&'static str, Medium)> {
    let at = |from: usize, bytes: &[u8]| start.get(from..from + bytes.len()) == Some(bytes);
    if at(0, b"\xFF\xD8\xFF") {
        Some(("jpg", Medium::Photo))
    } else if at(0, b"\x89PNG\r\n\x1A\n") {
        Some(("png", Medium::Photo))
    } else if at(4, b"ftypM4A") {
        Some(("m4a", Medium::Film))
    } else if at(4, b"ftypqt") {
        Some(("mov", Medium::Film))
    } else if at(4, b"ftyphei") || at(4, b"ftypmif1") {
        None
    } else if at(4, b"ftyp") {
        Some(("mp4", Medium::Film))
    } else if at(0, b"\x1A\x45\xDF\xA3") {
        Some(("webm", Medium::Film))
    } else if at(0, b"OggS") {
        Some(("ogg", Medium::Film))
    } else if at(0, b"ID3") || at(0, b"\xFF\xFB") {
        Some(("mp3", Medium::Film))
    } else if at(0, b"RIFF") && at(8, b"WAVE") {
        Some(("wav", Medium::Film))
    } else {
        None
    }
}

/// The fewest bytes by which a kind is known.
const START: usize = 12;

async fn keep(mut piece: Piece<'_>, folder: &Path) -> Result<Option<Kept>, UploadError> {
    let not_written = |error: WriteError| UploadError::NotWritten(error.to_string());
    let mut start = Vec::new();
    while start.len() < START {
        match piece.chunk().await.map_err(broken)? {
            Some(chunk) => start.extend_from_slice(&chunk),
            None => break,
        }
    }
    if start.is_empty() {
        return Ok(None);
    }
    let (ending, medium) = kind(&start).ok_or(UploadError::OtherKind)?;
    let limit = match medium {
        Medium::Photo => PHOTO_LIMIT,
        Medium::Film => FILM_LIMIT,
    };
    let mut file = Incoming::new(folder).map_err(not_written)?;
    let mut size = start.len() as u64;
    file.add(&start).map_err(not_written)?;
    while let Some(chunk) = piece.chunk().await.map_err(broken)? {
        size += chunk.len() as u64;
        if size > limit {
            return Err(UploadError::TooLarge(limit >> 20));
        }
        file.add(&chunk).map_err(not_written)?;
    }
    Ok(Some(Kept {
        file,
        ending,
        medium,
    }))
}

/// A file name made of a caption: small letters, digits and hyphens.
fn stem(caption: &str, part: Part) -> String {
    let mut stem = String::new();
    for c in caption.chars().flat_map(char::to_lowercase) {
        if c.is_ascii_alphanumeric() {
            stem.push(c);
        } else if !stem.ends_with('-') && !stem.is_empty() {
            stem.push('-');
        }
    }
    let stem: String = stem.trim_end_matches('-').chars().take(40).collect();
    match stem.as_str() {
        "" => part.word().to_owned(),
        words => format!("{words}-{}", part.word()),
    }
}

/// Puts what was received into its place, and names it in the file of `part`.
///
/// # Errors
/// An [`UploadError`]; the file of the run is then as it was.
pub fn place(
    folder: &Path,
    desk: &Desk,
    part: Part,
    upload: Upload,
) -> Result<Medium, UploadError> {
    let Upload {
        caption,
        pair,
        kept,
        ..
    } = upload;
    let kept = kept.ok_or(UploadError::Incomplete)?;
    let file = part.media().ok_or(UploadError::Closed)?;
    if desk.sealed(part.stage()).is_some() {
        return Err(UploadError::Closed);
    }
    let now = desk.files.get(&file).ok_or(UploadError::Closed)?;
    let mut document = now.document.clone().ok_or(UploadError::Closed)?;
    let (below, list) = match kept.medium {
        Medium::Photo => ("photos", "photo"),
        Medium::Film => ("captures", "recording"),
    };
    let medium = kept.medium;
    let path = kept
        .file
        .place(folder, below, &stem(&caption, part), kept.ending)
        .map_err(|error| UploadError::NotWritten(error.to_string()))?;
    let mut table = Table::new();
    table.insert("file", value(format!("{below}/{path}")));
    table.insert("caption", value(caption));
    if medium == Medium::Photo && is_short_name(&pair) && part != Part::Work {
        let pair = free_pair(&document, &pair);
        table.insert("pair", value(pair));
    }
    let item = document
        .as_table_mut()
        .entry(list)
        .or_insert_with(|| Item::ArrayOfTables(ArrayOfTables::new()));
    let Some(tables) = item.as_array_of_tables_mut() else {
        return Err(UploadError::Closed);
    };
    tables.push(table);
    let text = document.to_string();
    match replace_text(&folder.join(file.name()), now.digest, text.as_bytes()) {
        Ok(()) => Ok(medium),
        Err(error) => {
            // Nothing names the file: it is taken away again.
            take_back(&folder.join(below).join(path));
            Err(match error {
                WriteError::Changed => UploadError::Moved,
                other => UploadError::NotWritten(other.to_string()),
            })
        }
    }
}

/// A name for a pair that no photo of this run has yet.
fn free_pair(document: &toml_edit::DocumentMut, wanted: &str) -> String {
    let taken = |name: &str| {
        let photos = document.get("photo").and_then(Item::as_array_of_tables);
        photos.is_some_and(|photos| {
            let mut pairs = photos
                .iter()
                .filter_map(|photo| photo.get("pair")?.as_str());
            pairs.any(|pair| pair == name)
        })
    };
    let numbered = (2..).map(|number| format!("{wanted}-{number}"));
    std::iter::once(wanted.to_owned())
        .chain(numbered)
        .find(|name| !taken(name))
        .unwrap_or_default()
}

fn is_short_name(name: &str) -> bool {
    let is_letter = |b: u8| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-';
    (1..=36).contains(&name.len()) && !name.starts_with('-') && name.bytes().all(is_letter)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_is_named_by_the_program_whatever_it_is_called() {
        assert_eq!(
            stem("../../etc/passwd", Part::Baseline),
            "etc-passwd-baseline"
        );
        assert_eq!(stem("Größe: 22 mm", Part::Retest), "gr-e-22-mm-retest");
        assert_eq!(stem("…", Part::Work), "work");
        assert!(stem(&"long ".repeat(40), Part::Work).len() < 50);
    }

    #[test]
    fn a_file_is_known_by_how_it_begins() {
        assert_eq!(
            kind(b"\xFF\xD8\xFF\xE0aaaaaaaa"),
            Some(("jpg", Medium::Photo))
        );
        assert_eq!(
            kind(b"\x00\x00\x00\x18ftypmp42"),
            Some(("mp4", Medium::Film))
        );
        assert_eq!(kind(b"\x00\x00\x00\x18ftypheic"), None);
        assert_eq!(kind(b"<svg onload=alert()>"), None);
        assert_eq!(kind(b""), None);
    }

    #[test]
    fn a_pair_is_a_short_name() {
        assert!(is_short_name("boom-drift"));
        for wrong in ["", "-x", "A", "a b", "../x", &"a".repeat(37)] {
            assert!(!is_short_name(wrong), "{wrong}");
        }
    }
}
