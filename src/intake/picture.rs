//! What is known of one picture of a job. Its pixels are looked at in `picture_copy`.

use crate::files::Digest;
use crate::job::CaptureTime;

/// A photo of the job folder; with the typesetter, with its copy for print.
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
    #[cfg(feature = "typesetter")]
    pub copy: Vec<u8>,
    /// Width of the copy, in pixels.
    #[cfg(feature = "typesetter")]
    pub width: u32,
    /// Height of the copy, in pixels.
    #[cfg(feature = "typesetter")]
    pub height: u32,
}

impl Picture {
    /// A picture of whose pixels nothing is known.
    pub fn unseen(file: &str, size: u64, digest: Digest) -> Self {
        Self {
            file: file.to_owned(),
            size,
            digest,
            taken: None,
            #[cfg(feature = "typesetter")]
            copy: Vec::new(),
            #[cfg(feature = "typesetter")]
            width: 0,
            #[cfg(feature = "typesetter")]
            height: 0,
        }
    }
}

/// What is wrong with a picture, and what to do.
pub type Refusal = (String, &'static str);
