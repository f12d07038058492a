//! What the command line accepts.

use std::path::PathBuf;

use clap::builder::{PossibleValue, PossibleValuesParser, TypedValueParser};
use clap::{Parser, Subcommand};

use crate::job::Stage;

/// Shows on paper what a repair changed: judges the readings taken before and
/// after it, and makes a report that a customer can read and anyone can check.
#[derive(Debug, Parser)]
#[command(
    version,
    max_term_width = 80,
    after_help = "An unclear message is a bug; please report it."
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
    #[command(after_help = "Examples:
  retestify init jobs/loader-3 --for hydraulics
  retestify init jobs/pickup --for cold-start --cylinders 4
  retestify init jobs/pickup-again --like jobs/pickup --same-machine")]
    Init(InitArgs),
    /// Fill in a job as a form in the browser
    ///
    /// The program serves the form itself, on this computer only, at an address that opens
    /// it once. What is typed is in the files of the job within a second; they can be
    /// edited by hand at the same time.
    ///
    /// With `--from` it takes readings from a spreadsheet or a logger instead: the form that
    /// `worksheet --as` makes, or any table whose columns you name. It shows what it will
    /// take and asks first, and never overwrites a figure unless you say `--replace`.
    #[command(after_help = "Examples:
  retestify fill jobs/loader-3
  retestify fill jobs/loader-3 --phone
  retestify fill jobs/loader-3 --from worksheet.xlsx
  retestify fill jobs/pickup --from log.csv --into baseline --column crank-time=B
  retestify fill jobs/pickup --from log.csv --into retest --rows 12-15
      --positions Cylinder --column 'compression=Peak (bar)'")]
    Fill(FillArgs),
    /// Make a form to fill in by hand at the machine, or in a spreadsheet
    ///
    /// It needs job.toml and limits.toml only. As a spreadsheet, `fill --from` takes it back.
    #[command(after_help = "Examples:
  retestify worksheet jobs/loader-3
  retestify worksheet jobs/loader-3 --as xlsx")]
    Worksheet(WorksheetArgs),
    /// Judge a job and show the result
    ///
    /// Exit code 0: verified; 1: not verified, or a seal is broken; 2: the folder
    /// has problems; 3: undecided.
    Check(CheckArgs),
    /// Seal what was measured, before and after the work
    ///
    /// Records the SHA-256 of every file of a stage, so that any later change shows.
    /// Sealing the baseline also makes the receipt for the customer.
    #[command(after_help = "Examples:
  retestify seal baseline jobs/loader-3
  retestify seal retest jobs/loader-3
  retestify seal baseline jobs/loader-3 --amend \"the gauge was read wrongly\"")]
    Seal(SealArgs),
    /// Make the customer's receipt for a sealed baseline again
    #[command(alias = "slip")]
    Receipt(ReceiptArgs),
    /// Make the report of a job as a PDF
    Report(ReportArgs),
    /// Check a report or a receipt, also one from another shop
    ///
    /// Exit code 0: every answer is yes; 1: at least one is no; 2: the file cannot be
    /// read; 3: none is no, but at least one is "cannot tell".
    #[command(after_help = "Examples:
  retestify verify report.pdf --trust shop.pem --receipt receipt.pdf
  retestify verify report.pdf --with jobs/loader-3")]
    Verify(VerifyArgs),
    /// Make, show, export or import the shop's signing key
    Identity(IdentityArgs),
    /// Print completions for a shell, or write manual pages
    #[command(hide = true)]
    Generate(GenerateArgs),
    /// List the jobs below some folders, and how far each has come
    ///
    /// The oldest comes first.
    List(ListArgs),
    /// Run the whole story on a sample job that comes with the program
    Demo(DemoArgs),
}

/// Arguments of `init`.
#[derive(Debug, Parser)]
pub struct InitArgs {
    /// The folder to make
    pub folder: PathBuf,
    /// What the tests are; with `--cylinders`, a cold start unless you say otherwise
    #[arg(long = "for", value_name = "TESTS")]
    pub tests: Option<Tests>,
    /// How many cylinders the machine has [default: 4 for a cold start, else none]
    #[arg(long, value_parser = clap::value_parser!(u8).range(0..=64))]
    pub cylinders: Option<u8>,
    /// Take instruments, measures, limits and conditions from this job; none of its figures
    #[arg(long, value_name = "OLD", conflicts_with_all = ["tests", "cylinders"])]
    pub like: Option<PathBuf>,
    /// With `--like`: it is the same machine, of the same customer
    #[arg(long, requires = "like")]
    pub same_machine: bool,
}

/// What the tests of a new job are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub enum Tests {
    /// How an engine starts after a night of standing
    ColdStart,
    /// A hydraulic machine: pressure, drift, cycle times
    Hydraulics,
    /// Charging and starting circuits
    Charging,
    /// Refrigeration and cooling
    Refrigeration,
    /// Pumps
    Pumps,
    /// Gearboxes and bearings
    Bearings,
    /// A generator under load
    Generator,
    /// Any others
    Plain,
}

/// Arguments of `fill`.
#[derive(Debug, Parser)]
pub struct FillArgs {
    /// The job folder
    pub folder: PathBuf,
    /// Also serve a phone in the same network, and show its address as a QR code; that
    /// connection is not secret
    #[arg(long)]
    pub phone: bool,
    /// The port to listen on [default: any free one]
    #[arg(long, default_value_t = 0, hide_default_value = true)]
    pub port: u16,
    /// After how many seconds without use it stops
    #[arg(long, default_value_t = 7200, value_name = "SECONDS", value_parser = clap::value_parser!(u64).range(1..))]
    pub idle: u64,
    /// Ask here for the passphrase of the signing key, so that the form on this computer has
    /// buttons that seal, and make receipt and report
    #[arg(long)]
    pub sign: bool,
    /// From a table instead of the browser
    #[command(flatten)]
    pub table: TableArgs,
}

/// Arguments of `fill` for taking readings from a table.
#[derive(Debug, Parser)]
pub struct TableArgs {
    /// Take readings from this .xlsx or .csv file
    #[arg(long, value_name = "FILE", conflicts_with_all = ["phone", "port", "idle", "sign"])]
    pub from: Option<PathBuf>,
    /// The sheet to take them from [default: the form, or the first one]
    #[arg(long, requires = "from", value_name = "NAME")]
    pub sheet: Option<String>,
    /// Of any other table than the form: the run that it goes into
    #[arg(long, requires_all = ["from", "column"], value_name = "RUN", value_parser = runs())]
    pub into: Option<Stage>,
    /// What is read (a measure or condition by its id or name, also `MEASURE@POSITION`) and
    /// the letter or the heading of its column; may be given more than once
    #[arg(long, requires = "into", value_name = "WHAT=COLUMN")]
    pub column: Vec<String>,
    /// The column that says the position of each row
    #[arg(long, requires = "column", value_name = "COLUMN")]
    pub positions: Option<String>,
    /// Only these rows, such as `12` or `12-15`
    #[arg(long, requires = "column", value_name = "ROWS", value_parser = rows)]
    pub rows: Option<(u32, u32)>,
    /// The decimal sign of the table [default: as its figures show]
    #[arg(long, requires = "from", value_name = "SIGN")]
    pub decimal: Option<Decimal>,
    /// Also take what the files say otherwise
    #[arg(long, requires = "from")]
    pub replace: bool,
    /// Take it without asking
    #[arg(long, requires = "from")]
    pub yes: bool,
}

/// A decimal sign.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub enum Decimal {
    /// 22.5
    Point,
    /// 22,5
    Comma,
}

/// The runs, by their words.
fn runs() -> impl TypedValueParser<Value = Stage> {
    let words = Stage::ALL.map(|stage| {
        PossibleValue::new(stage.word()).help(match stage {
            Stage::Baseline => "The readings before the work",
            Stage::Retest => "The readings after it",
        })
    });
    PossibleValuesParser::new(words)
        .try_map(|word| Stage::of_word(&word).ok_or("there is no such run"))
}

/// Rows as a spreadsheet counts them: `12` or `12-15`.
fn rows(text: &str) -> Result<(u32, u32), String> {
    let (first, last) = text.split_once('-').unwrap_or((text, text));
    let number = |text: &str| text.trim().parse::<u32>().ok().filter(|number| *number > 0);
    match (number(first), number(last)) {
        (Some(first), Some(last)) if first <= last => Ok((first, last)),
        _ => Err("write the first and the last row, such as 12-15".to_owned()),
    }
}

/// Arguments of `worksheet`.
#[derive(Debug, Parser)]
pub struct WorksheetArgs {
    /// The job folder
    pub folder: PathBuf,
    /// What to make of it
    #[arg(long = "as", value_name = "KIND", default_value = "pdf")]
    pub kind: SheetKind,
    /// Where to write it [default: worksheet.pdf, .xlsx or .csv in the job folder]
    #[arg(short, long, value_name = "FILE")]
    pub output: Option<PathBuf>,
    /// Replace an older PDF of that name; a table may be filled in, and is never replaced
    #[arg(long)]
    pub replace: bool,
    /// Use the wording in this folder, such as en.ftl, instead of the built-in wording; of a
    /// PDF only
    #[arg(long, value_name = "FOLDER")]
    pub template: Option<PathBuf>,
}

/// What a worksheet is made as.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub enum SheetKind {
    /// To print and fill in by hand
    Pdf,
    /// A workbook of a spreadsheet
    Xlsx,
    /// Comma-separated values, for any spreadsheet
    Csv,
}

/// Arguments of `check`.
#[derive(Debug, Parser)]
pub struct CheckArgs {
    /// The job folder
    pub folder: PathBuf,
    /// Print the result for programs, as JSON
    #[arg(long, conflicts_with = "baseline")]
    pub json: bool,
    /// Look only at what is known before the work: job, limits and baseline
    #[arg(long)]
    pub baseline: bool,
    /// Use the wording in this folder, such as en.ftl, instead of the built-in wording
    #[arg(long, value_name = "FOLDER")]
    pub template: Option<PathBuf>,
}

/// Arguments of `report`.
#[derive(Debug, Parser)]
pub struct ReportArgs {
    /// The job folder
    pub folder: PathBuf,
    /// Where to write the PDF [default: report.pdf in the job folder]
    #[arg(short, long, value_name = "FILE")]
    pub output: Option<PathBuf>,
    /// Replace an older PDF of that name; where the customer has it, say why in work.toml
    /// (`reissued`), and this one is the next issue
    #[arg(long)]
    pub replace: bool,
    /// Use the template files and the wording in this folder, such as theme.typ and
    /// en.ftl, instead of the built-in ones
    #[arg(long, value_name = "FOLDER")]
    pub template: Option<PathBuf>,
    /// Who signs it
    #[command(flatten)]
    pub signing: SigningArgs,
}

/// Who signs a document.
#[derive(Debug, Parser)]
pub struct SigningArgs {
    /// Do not sign, even if there is an identity
    #[arg(long)]
    pub unsigned: bool,
    /// The folder of the identity to sign with
    #[arg(long, value_name = "FOLDER", conflicts_with = "unsigned")]
    pub identity: Option<PathBuf>,
    /// Read the passphrase from this file descriptor
    #[arg(long, value_name = "N")]
    pub passphrase_fd: Option<u32>,
}

/// Whether a document is to be signed if there is an identity to sign with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Signing {
    /// Sign it.
    Wanted,
    /// Do not: `--unsigned` was given.
    Refused,
}

impl SigningArgs {
    /// What was asked for.
    pub fn wish(&self) -> Signing {
        if self.unsigned {
            Signing::Refused
        } else {
            Signing::Wanted
        }
    }
}

/// Arguments of `seal`.
#[derive(Debug, Parser)]
pub struct SealArgs {
    /// What to seal
    #[arg(value_parser = stages())]
    pub stage: Stage,
    /// The job folder
    pub folder: PathBuf,
    /// Seal a stage again and give the reason; the old seal is kept
    #[arg(long, value_name = "WHY")]
    pub amend: Option<String>,
    /// Where to write the customer's receipt [default: receipt.pdf in the job folder]
    #[arg(long, alias = "slip", value_name = "FILE")]
    pub receipt: Option<PathBuf>,
    /// Use the template files and the wording in this folder, such as theme.typ and
    /// en.ftl, instead of the built-in ones
    #[arg(long, value_name = "FOLDER")]
    pub template: Option<PathBuf>,
    /// Who signs it
    #[command(flatten)]
    pub signing: SigningArgs,
}

/// The stages that can be sealed, by their words.
fn stages() -> impl TypedValueParser<Value = Stage> {
    let words = Stage::ALL.map(|stage| {
        PossibleValue::new(stage.word()).help(match stage {
            Stage::Baseline => "Job, limits and baseline, before the work starts",
            Stage::Retest => "Work and retest, at close-out",
        })
    });
    PossibleValuesParser::new(words)
        .try_map(|word| Stage::of_word(&word).ok_or("this stage cannot be sealed"))
}

/// Arguments of `receipt`.
#[derive(Debug, Parser)]
pub struct ReceiptArgs {
    /// The job folder
    pub folder: PathBuf,
    /// Where to write the PDF [default: receipt.pdf in the job folder]
    #[arg(short, long, value_name = "FILE")]
    pub output: Option<PathBuf>,
    /// Replace an older PDF of that name
    #[arg(long)]
    pub replace: bool,
    /// Use the template files and the wording in this folder, such as theme.typ and
    /// en.ftl, instead of the built-in ones
    #[arg(long, value_name = "FOLDER")]
    pub template: Option<PathBuf>,
    /// Who signs it
    #[command(flatten)]
    pub signing: SigningArgs,
}

/// Arguments of `verify`.
#[derive(Debug, Parser)]
pub struct VerifyArgs {
    /// The report or receipt to check
    pub file: PathBuf,
    /// A certificate that you trust to sign: the shop's, or its authority's; may be given
    /// more than once
    #[arg(long, value_name = "CERT")]
    pub trust: Vec<PathBuf>,
    /// A certificate that you trust to attest times: that of a time-stamp authority; may be
    /// given more than once
    #[arg(long, value_name = "CERT")]
    pub trust_time: Vec<PathBuf>,
    /// The job folder, to check the files that are not inside the PDF
    #[arg(long, value_name = "FOLDER")]
    pub with: Option<PathBuf>,
    /// The receipt that the customer was given
    #[arg(
        long,
        alias = "slip",
        value_name = "PDF",
        conflicts_with = "fingerprint"
    )]
    pub receipt: Option<PathBuf>,
    /// The fingerprint on the customer's receipt
    #[arg(long, value_name = "TEXT")]
    pub fingerprint: Option<String>,
    /// Print the answers for programs, as JSON
    #[arg(long)]
    pub json: bool,
}

/// Arguments of `identity`.
#[derive(Debug, Parser)]
pub struct IdentityArgs {
    /// What to do
    #[command(subcommand)]
    pub command: IdentityCommand,
    /// The folder to keep it in [default: where this system keeps such data]
    #[arg(long, value_name = "FOLDER", global = true)]
    pub identity: Option<PathBuf>,
}

/// What to do with an identity.
#[derive(Debug, Subcommand)]
pub enum IdentityCommand {
    /// Make a key and a certificate for it
    New(NewArgs),
    /// Show whose it is, and its fingerprint
    Show,
    /// Write the certificate to a file, for customers
    Export(ExportArgs),
    /// Import a key and its certificate from a PEM file
    Import(ImportArgs),
}

/// Arguments of `identity new`.
#[derive(Debug, Parser)]
pub struct NewArgs {
    /// The shop's name, as customers know it
    pub name: String,
    /// How many years the certificate is valid
    #[arg(long, default_value_t = 10, value_parser = clap::value_parser!(u32).range(1..=30))]
    pub years: u32,
    /// Read the passphrase from this file descriptor
    #[arg(long, value_name = "N")]
    pub passphrase_fd: Option<u32>,
}

/// Arguments of `identity export`.
#[derive(Debug, Parser)]
pub struct ExportArgs {
    /// The file to write, such as shop.pem
    pub file: PathBuf,
}

/// Arguments of `identity import`.
#[derive(Debug, Parser)]
pub struct ImportArgs {
    /// The file, with an encrypted key and its certificate. A .p12 or .pfx file becomes
    /// one by `openssl pkcs12 -in FILE.p12 -aes256 -out FILE.pem`
    pub file: PathBuf,
    /// Read the passphrase from this file descriptor
    #[arg(long, value_name = "N")]
    pub passphrase_fd: Option<u32>,
}

/// Arguments of `generate`.
#[derive(Debug, Parser)]
pub struct GenerateArgs {
    /// What to make
    #[command(subcommand)]
    pub what: Generated,
}

/// What is made for a package of the program.
#[derive(Debug, Subcommand)]
pub enum Generated {
    /// Print completions for a shell
    Completions {
        /// The shell
        shell: clap_complete::Shell,
    },
    /// Write manual pages into a new folder
    Man {
        /// The folder to make
        folder: PathBuf,
    },
}

/// Arguments of `list`.
#[derive(Debug, Parser)]
pub struct ListArgs {
    /// The folders to look below
    #[arg(required = true)]
    pub folders: Vec<PathBuf>,
    /// Print the list for programs, as JSON
    #[arg(long)]
    pub json: bool,
}

/// Arguments of `demo`.
#[derive(Debug, Parser)]
pub struct DemoArgs {
    /// The folder to make
    #[arg(default_value = "retestify-demo")]
    pub folder: PathBuf,
}
