//! A report or receipt from what was judged: what is attached to it, its pages set, and
//! the same pages set again from what a document carries.
//!
//! The command issues documents with it; whoever checks one compares with what it sets.

mod judged;
mod material;
mod set;
mod set_again;

pub use judged::{DropOff, Judged};
pub use material::{material, receipt_material};
pub use set::{Form, description, set_receipt, set_report, signer};
pub use set_again::OwnPages;
