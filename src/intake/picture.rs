//! What is known of one picture of a job. Its pixels are looked at in `picture_copy`.

use crate::files::Digest;
use crate::job::CaptureTime;

/// A photo of the job folder; in the program, with its copy for print.
#[derive(Debug, Clone)]
pub struct Picture {
    /// The path in the job folder.
    pub file: String,
    /// The size of the original, in bytes.
    pub size: u64,
    /// The digest of the original.
    pub digest: Digest,
    /// When the camera says it was taken.
    pub taken: Option<CaptureTime>,
    /// The copy, without metadata: a baseline JPEG, of a logo a PNG.
    #[cfg(feature = "program")]
    pub copy: Vec<u8>,
    /// Width of the copy, in pixels.
    #[cfg(feature = "program")]
    pub width: u32,
    /// Height of the copy, in pixels.
    #[cfg(feature = "program")]
    pub height: u32,
}

/// What is wrong with a picture, and what to do.
pub type Refusal = (String, &'static str);
