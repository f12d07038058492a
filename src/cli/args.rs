//! What the command line accepts.

use std::path::PathBuf;

use clap::{Parser, Subcommand};

/// Shows on paper what a repair changed: judges the readings taken before and
/// after it, and makes a report that a customer can read and a stranger can
/// check.
#[derive(Debug, Parser)]
#[command(
    version,
    max_term_width = 80,
    after_help = "A message that is unclear is a bug; please report it."
)]
pub struct Args {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
}

/// What to do.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Make a job folder to fill in
    Init(InitArgs),
    /// Make a form to fill in by hand at the machine
    ///
    /// It needs job.toml and limits.toml only.
    Worksheet(WorksheetArgs),
    /// Judge a job and show the result
    ///
    /// Exit code 0: verified; 1: not verified; 2: the folder has faults;
    /// 3: undecided.
    Check(CheckArgs),
    /// Make the report of a job as a PDF
    Report(ReportArgs),
    /// Run the whole story on a sample that comes with the program
    Demo(DemoArgs),
}

/// Arguments of `init`.
#[derive(Debug, Parser)]
pub struct InitArgs {
    /// The folder to make
    pub folder: PathBuf,
    /// How many cylinders the machine has; 0 for a machine without any
    #[arg(long, default_value_t = 4, value_parser = clap::value_parser!(u8).range(0..=64))]
    pub cylinders: u8,
}

/// Arguments of `worksheet`.
#[derive(Debug, Parser)]
pub struct WorksheetArgs {
    /// The job folder
    pub folder: PathBuf,
    /// Where to write the PDF [default: worksheet.pdf in the job folder]
    #[arg(short, long, value_name = "FILE")]
    pub output: Option<PathBuf>,
    /// Replace an older PDF of that name
    #[arg(long)]
    pub replace: bool,
}

/// Arguments of `check`.
#[derive(Debug, Parser)]
pub struct CheckArgs {
    /// The job folder
    pub folder: PathBuf,
    /// Print the result for programs, as JSON
    #[arg(long)]
    pub json: bool,
}

/// Arguments of `report`.
#[derive(Debug, Parser)]
pub struct ReportArgs {
    /// The job folder
    pub folder: PathBuf,
    /// Where to write the PDF [default: report.pdf in the job folder]
    #[arg(short, long, value_name = "FILE")]
    pub output: Option<PathBuf>,
    /// Replace an older PDF of that name
    #[arg(long)]
    pub replace: bool,
    /// Set the pages with the files of this folder in place of those of the same
    /// name in report-templates
    #[arg(long, value_name = "FOLDER")]
    pub template: Option<PathBuf>,
}

/// Arguments of `demo`.
#[derive(Debug, Parser)]
pub struct DemoArgs {
    /// The folder to make
    #[arg(default_value = "retestify-demo")]
    pub folder: PathBuf,
}
