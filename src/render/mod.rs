//! From a finished report to PDF bytes: PDF/A-3a and PDF/UA-1, the inputs
//! attached as associated files.
//!
//! The template and its fonts are part of the program; a [`Template`] may hold a
//! shop's own files in place of some. Nothing is read from disk and no clock is
//! asked: the same report gives the same bytes.

mod engine;
mod error;
mod export;
mod fonts;
#[cfg(feature = "program")]
mod library_world;
#[cfg(any(test, not(feature = "program")))]
mod own_world;
mod sheets;
mod template;

pub use engine::{Attachment, Document, PictureData, Relationship, pdf, worksheet};
pub use error::RenderError;
pub use export::{Printed, SignaturePlace};
pub use template::{FONTS, SOURCES, Template, TemplateError};
