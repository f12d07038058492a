//! `retestify init`
use std::process::ExitCode;
use super::Stop;
use super::args::InitArgs;
pub fn run(_: &InitArgs) -> Result<ExitCode, Stop> { Ok(ExitCode::SUCCESS) }
