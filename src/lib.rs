//! retestify turns what a technician measured before and after a repair into a
//! report that a customer can read and anyone can check.
//!
//! The modules are the rooms of one pipeline, in this order; each uses only the
//! rooms before it (a test checks this):
//!
//! ```text
//! files → intake → judge → result → seals → view → render → signature → verification → document → page
//! ```
//!
//! [`quantity`] and [`job`] hold the types that all rooms share; [`files`] is at both
//! ends of the pipeline and knows only paths and bytes; [`fill`] is the
//! form in the browser; [`cli`] is where arguments, terminal and clock come in.

#![forbid(unsafe_code)]
#![warn(missing_docs)]
// Tests work out what they expect in whatever way is plainest.
#![cfg_attr(test, allow(clippy::disallowed_methods))]

pub mod quantity;

pub mod job;

pub mod files;

pub mod intake;

pub mod judge;

pub mod result;

pub mod seals;

pub mod view;

#[cfg(feature = "typesetter")]
pub mod render;

pub mod signature;

pub mod verification;

#[cfg(feature = "typesetter")]
pub mod document;

#[cfg(any(test, feature = "page"))]
pub mod page;

#[cfg(feature = "program")]
pub mod fill;

#[cfg(feature = "program")]
pub mod cli;
