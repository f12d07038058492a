//! The command line: arguments, terminal, clock, exit codes.
//!
//! Exit codes: 0 yes, 1 no, 2 bad input or usage, 3 undecided or cannot tell.

mod args;
mod check;
mod clock;
mod demo;
mod fill;
mod from_table;
mod generate;
mod identity;
mod init;
mod issue;
mod keys;
mod like;
mod list;
mod output;
mod pipeline;
mod problems;
mod progress;
mod report;
mod seal;
mod template;
mod terminal;
mod typed;
mod verify;
mod worksheet;

use std::fmt;
use std::process::ExitCode;

use clap::Parser;

use crate::intake::Problems;
use crate::judge::Verdict;
use crate::seals::{JobOutcome, ReadSealsError};
use args::{Args, Command};

/// Runs the command that the process was given.
pub fn main() -> ExitCode {
    let args = match Args::try_parse() {
        Ok(args) => args,
        Err(error) => {
            let slip = typed::slip(&std::env::args_os().collect::<Vec<_>>());
            // Asking for help or the version is no slip.
            let Some(slip) = slip.filter(|_| error.use_stderr()) else {
                error.exit();
            };
            slip.show();
            return ExitCode::from(BAD_INPUT);
        }
    };
    let done = match args.command {
        Command::Init(args) => init::run(&args),
        Command::Fill(args) => fill::run(&args),
        Command::Worksheet(args) => worksheet::run(&args),
        Command::Check(args) => check::run(&args),
        Command::Seal(args) => seal::run(&args),
        Command::Receipt(args) => seal::receipt(&args),
        Command::Report(args) => report::run(&args),
        Command::Generate(args) => generate::run(&args),
        Command::List(args) => list::run(&args),
        Command::Verify(args) => verify::run(&args),
        Command::Identity(args) => identity::run(&args),
        Command::Demo(args) => demo::run(&args),
    };
    match done {
        Ok(code) => code,
        Err(error) => {
            error.show();
            ExitCode::from(BAD_INPUT)
        }
    }
}

const BAD_INPUT: u8 = 2;

/// The exit code of `check` for what a job comes to.
fn code(outcome: JobOutcome) -> ExitCode {
    match outcome {
        JobOutcome::Verdict(Verdict::Verified) => ExitCode::SUCCESS,
        JobOutcome::BrokenSeal | JobOutcome::Verdict(Verdict::NotVerified) => ExitCode::from(1),
        JobOutcome::Verdict(Verdict::Undecided) => ExitCode::from(3),
    }
}

/// Why a command stopped without an answer.
#[derive(Debug)]
enum CommandError {
    /// There are problems in the job folder.
    Problems(Box<Problems>),
    /// Anything else: what is wrong, and what to do.
    Told {
        /// What is wrong.
        message: String,
        /// What to do.
        hint: String,
    },
}

impl From<Problems> for CommandError {
    fn from(problems: Problems) -> Self {
        Self::Problems(Box::new(problems))
    }
}

impl From<ReadSealsError> for CommandError {
    fn from(error: ReadSealsError) -> Self {
        let hint = error.hint();
        Self::told(error, hint)
    }
}

impl fmt::Display for CommandError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Problems(found) => found.fmt(f),
            Self::Told { message, .. } => f.write_str(message),
        }
    }
}

impl std::error::Error for CommandError {}

impl CommandError {
    fn told(message: impl fmt::Display, hint: impl Into<String>) -> Self {
        Self::Told {
            message: message.to_string(),
            hint: hint.into(),
        }
    }

    fn show(&self) {
        match self {
            Self::Problems(found) => problems::show(found),
            Self::Told { message, hint } => problems::show_one(message, hint),
        }
    }
}
