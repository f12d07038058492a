//! The page that checks a document in any browser, from one HTML file and without a
//! network: it gives the very answers of `retestify verify`, and says first, in words for a
//! customer, what they mean.
//!
//! [`check`] makes everything that the page shows, as finished texts. `exports.rs` is the
//! program that the browser runs: it hands files in and texts out, and imports nothing.
//! `page.html`, `page.css` and `page.js` are the page around it; [`assemble`] puts them into
//! one file.

mod assemble;
mod attached;
mod check;
mod codes;
mod next;
mod reasons;
mod settled;
mod shown;
mod told;

pub use assemble::{AssembleError, assemble};
pub use check::{Given, check};
pub use shown::{Asked, AttachedFile, Because, Code, Codes, Group, Line, Shown};
