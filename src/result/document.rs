//! `document.json`: what a document is, and all that is needed to set its pages again.
//!
//! It is attached to every report and receipt. Its JSON Schema is published as
//! `samples/schemas/document.schema.json`.

use chrono::{DateTime, FixedOffset, NaiveDateTime, SecondsFormat};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::files::Digest;
use crate::job::CaptureTime;

/// The name of the attachment.
pub const DOCUMENT_FILE: &str = "document.json";

/// What a document is, and how it was made.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct DocumentFile {
    /// Version of this format: 1.
    pub format: u32,
    /// The program and its version.
    pub tool: String,
    /// What kind of document it is.
    pub kind: DocumentKind,
    /// When it was issued: an RFC 3339 time, to the second.
    pub issued: String,
    /// Where the time of its signature comes from; null if it was made without one.
    pub time: Option<TimeSource>,
    /// The shop's own template and wording files that its pages were set with, in the order
    /// of their names; they are attached under these names. None with the program's own.
    pub own_form: Vec<FormFile>,
    /// The photos that the job names, each once, in order of first mention; none in a
    /// receipt, which shows none.
    pub photos: Vec<PhotoCopy>,
    /// SHA-256 of the copy of the shop's logo, a PNG, if it has one.
    pub logo: Option<String>,
}

/// The kinds of documents.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum DocumentKind {
    /// It shows the verdict.
    Report,
    /// It shows the sealed baseline, before the work.
    Receipt,
}

/// Where the time of a signature comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum TimeSource {
    /// The clock of the computer.
    Computer,
    /// A time that was set by hand.
    SetByHand,
    /// A time-stamp authority attests it.
    Authority,
    /// A time-stamp authority was asked but did not answer.
    AuthorityAway,
}

/// One file of a shop's own form.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FormFile {
    /// The name under which it is attached: `form-` and its own name.
    pub file: String,
    /// Its SHA-256, 64 hexadecimal digits.
    pub sha256: String,
}

/// A photo, and the scaled copy of it that the pages can show.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PhotoCopy {
    /// Its path in the job folder.
    pub file: String,
    /// When its camera says it was taken, with the offset from UTC if the camera wrote one:
    /// `2026-01-20T08:20:00` or `2026-01-20T08:20:00+01:00`; null if it says nothing.
    pub taken: Option<String>,
    /// SHA-256 of the copy, a JPEG.
    pub copy: String,
}

/// How a camera's time is written without an offset.
const LOCAL: &str = "%Y-%m-%dT%H:%M:%S";

impl DocumentFile {
    /// What a document is that the program makes at `issued`.
    pub fn new(
        kind: DocumentKind,
        issued: DateTime<FixedOffset>,
        time: Option<TimeSource>,
    ) -> Self {
        Self {
            format: 1,
            tool: super::TOOL.to_owned(),
            kind,
            issued: issued.to_rfc3339_opts(SecondsFormat::Secs, false),
            time,
            own_form: Vec::new(),
            photos: Vec::new(),
            logo: None,
        }
    }

    /// As it is attached: pretty JSON with a final newline.
    pub fn text(&self) -> String {
        // Made of strings and lists only, so it always has a JSON form.
        let mut text = serde_json::to_string_pretty(self).unwrap_or_default();
        text.push('\n');
        text
    }

    /// When it was issued.
    pub fn moment(&self) -> Option<DateTime<FixedOffset>> {
        DateTime::parse_from_rfc3339(&self.issued).ok()
    }
}

impl PhotoCopy {
    /// The photo `file`, of which `copy` is printed.
    pub fn new(file: &str, taken: Option<CaptureTime>, copy: &[u8]) -> Self {
        Self {
            file: file.to_owned(),
            taken: taken.map(|taken| {
                let offset = taken.offset.map_or_else(String::new, |it| it.to_string());
                format!("{}{offset}", taken.local.format(LOCAL))
            }),
            copy: Digest::of(copy).to_string(),
        }
    }

    /// When its camera says it was taken.
    pub fn capture_time(&self) -> Option<CaptureTime> {
        let text = self.taken.as_deref()?;
        if let Ok(local) = NaiveDateTime::parse_from_str(text, LOCAL) {
            return Some(CaptureTime {
                local,
                offset: None,
            });
        }
        let taken = DateTime::parse_from_rfc3339(text).ok()?;
        Some(CaptureTime {
            local: taken.naive_local(),
            offset: Some(*taken.offset()),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cameras_time_is_read_as_it_was_written() {
        let local = NaiveDateTime::parse_from_str("2026-01-20T08:20:05", LOCAL).unwrap();
        for (offset, text) in [
            (None, "2026-01-20T08:20:05"),
            (Some(0), "2026-01-20T08:20:05+00:00"),
            (Some(-12_600), "2026-01-20T08:20:05-03:30"),
        ] {
            let offset = offset.map(|seconds| FixedOffset::east_opt(seconds).unwrap());
            let taken = CaptureTime { local, offset };
            let photo = PhotoCopy::new("photos/a.jpg", Some(taken), b"x");
            assert_eq!(photo.taken.as_deref(), Some(text));
            let read = photo.capture_time().unwrap();
            assert_eq!((read.local, read.offset), (local, offset));
        }
        assert!(
            PhotoCopy::new("photos/a.jpg", None, b"x")
                .capture_time()
                .is_none()
        );
    }

    #[test]
    fn a_document_is_read_as_it_was_written() {
        let issued = DateTime::parse_from_rfc3339("2026-03-05T07:00:00-05:00").unwrap();
        let written = DocumentFile::new(DocumentKind::Receipt, issued, Some(TimeSource::SetByHand));
        let read: DocumentFile = serde_json::from_str(&written.text()).unwrap();
        assert_eq!(read, written);
        assert_eq!(read.moment(), Some(issued));
        assert!(written.text().contains("\"kind\": \"receipt\""));
        assert_eq!(written.format, 1);
        // UTC has its offset written, like any other time.
        let utc = DateTime::parse_from_rfc3339("2026-03-05T12:00:00Z").unwrap();
        let at_utc = DocumentFile::new(DocumentKind::Receipt, utc, None);
        assert_eq!(at_utc.issued, "2026-03-05T12:00:00+00:00");
    }
}
