//! The two halves of the page's making. Compiled for WebAssembly, this is the program inside
//! the page (`exports`). Compiled for the computer at hand, it puts that program into the
//! page: the compiled part comes in at standard input, the HTML goes out at standard output.
//! `.ci/page` does both.

#![deny(unsafe_code)]

#[cfg(target_family = "wasm")]
mod exports;

#[cfg(target_family = "wasm")]
fn main() {}

#[cfg(not(target_family = "wasm"))]
fn main() -> Result<(), Box<dyn std::error::Error>> {
    use std::io::{Read as _, Write as _, stdin, stdout};

    let mut compiled = Vec::new();
    stdin().read_to_end(&mut compiled)?;
    let page = retestify::page::assemble(&compiled)?;
    stdout().write_all(page.as_bytes())?;
    Ok(())
}
