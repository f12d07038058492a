//! The form in the browser: what it writes, and whom it refuses.

mod attacks;
mod client;
mod every_kind;
mod filling;
mod kills;
mod sheets;
#[cfg(unix)]
mod signing;
mod tables;
#[cfg(unix)]
mod terminal;
