//! The command line of retestify.

#![forbid(unsafe_code)]

use std::process::ExitCode;

fn main() -> ExitCode {
    retestify::cli::main()
}
