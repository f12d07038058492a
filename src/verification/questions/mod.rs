//! The questions: one function for each, named as the [`Question`] it answers.
//!
//! | about | questions | file |
//! | --- | --- | --- |
//! | the signature | [`intact`], [`signer`], [`expected_signer`], [`time`] | `signature` |
//! | the seals | [`files`], [`chain`], [`limits`], [`fingerprint`] | `seals`, `times` |
//! | the result | [`result`], [`listed_files`] | `result` |
//! | the pages | [`pages`] | `pages` |
//!
//! [`Question`]: super::answer::Question

mod pages;
mod result;
mod seals;
mod signature;
mod times;

pub use pages::pages;
pub use result::{listed_files, result};
pub use seals::{chain, files, fingerprint, limits};
pub use signature::{expected_signer, intact, signer, time};
