//! Why there is no PDF.

use std::fmt;

/// Why there is no PDF: what is wrong in the template, line by line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RenderError {
    /// One entry for each error, with file, line and hint.
    pub errors: Vec<String>,
}

impl fmt::Display for RenderError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.errors.join("\n"))
    }
}

impl std::error::Error for RenderError {}
