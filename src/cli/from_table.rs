//! `retestify fill --from`: readings from a spreadsheet or a logger.

use std::io::{IsTerminal as _, Write as _};
use std::path::Path;
use std::process::ExitCode;

use super::args::{Decimal, TableArgs};
use super::typed::Typed;
use super::{CommandError, clock, fill, terminal};
use crate::files::{ReadError, read_path};
use crate::fill::{Ask, FILE_LIMIT, Figure, TakeError, prepare};

/// The most lines that are shown of one kind.
const SHOWN: usize = 60;

/// Shows what of the table in `file` is taken into the job in `folder`, asks, and takes it.
pub fn run(folder: &Path, file: &Path, args: &TableArgs) -> Result<ExitCode, CommandError> {
    let job = fill::job(folder)?;
    let bytes = read_path(file, FILE_LIMIT).map_err(|error| unread(file, &error))?;
    let ask = Ask {
        sheet: args.sheet.as_deref(),
        into: args.into,
        columns: &args.column,
        positions: args.positions.as_deref(),
        rows: args.rows,
        comma: args.decimal.map(|sign| sign == Decimal::Comma),
        replace: args.replace,
    };
    let prepared = prepare(&job, clock::zone, bytes, &ask).map_err(|error| told(file, &error))?;
    let taking = &prepared.taking;
    show(taking, file);
    if taking.taken.is_empty() {
        anstream::println!("There is nothing new to take; nothing was written.");
        return Ok(ExitCode::SUCCESS);
    }
    if !args.yes && !agreed(taking.taken.len())? {
        anstream::println!("Nothing was written.");
        return Ok(ExitCode::SUCCESS);
    }
    prepared.write(&job).map_err(|error| told(file, &error))?;
    let mut files: Vec<&str> = taking.taken.iter().map(|figure| figure.file).collect();
    files.dedup();
    let check = format!("`retestify check {}`", Typed(folder));
    anstream::println!(
        "Written into {}. {check} says what that comes to.",
        files.join(" and ")
    );
    Ok(ExitCode::SUCCESS)
}

/// What is taken, and what is left as it is.
fn show(taking: &crate::fill::Taking, file: &Path) {
    let mut heading = "";
    for figure in taking.taken.iter().take(SHOWN) {
        if figure.file != heading {
            heading = figure.file;
            anstream::println!("From {} into {heading}:", file.display());
        }
        line(
            figure,
            &format!("{} ({})", figure.table, figure.cell),
            &figure.now,
        );
    }
    more(taking.taken.len());
    if !taking.left.is_empty() {
        anstream::println!(
            "Left as it is, since the file says otherwise (`--replace` takes the table\u{2019}s):"
        );
        for figure in taking.left.iter().take(SHOWN) {
            let says = format!("{} says {}", figure.file, figure.now);
            line(
                figure,
                &format!("{says}; the table {} ({})", figure.table, figure.cell),
                "",
            );
        }
        more(taking.left.len());
    }
    if taking.same > 0 {
        anstream::println!("In the files already: {}.", taking.same);
    }
}

fn more(count: usize) {
    if count > SHOWN {
        anstream::println!("  and {} more", count - SHOWN);
    }
}

fn line(figure: &Figure, says: &str, now: &str) {
    let replaces = match now {
        "" => String::new(),
        now => format!(", in place of {now}"),
    };
    let options = terminal::options()
        .initial_indent("  ")
        .subsequent_indent("      ");
    let text = format!("{}: {says}{replaces}", figure.name);
    anstream::println!("{}", textwrap::fill(&text, options));
}

/// Asks at the terminal.
fn agreed(count: usize) -> Result<bool, CommandError> {
    let input = std::io::stdin();
    if !input.is_terminal() {
        return Err(CommandError::told(
            "nobody is there to be asked whether to take this; nothing was written",
            "say `--yes` to take it without being asked",
        ));
    }
    let figures = if count == 1 { "this one" } else { "these" };
    anstream::print!("Take {figures}? [y/N] ");
    let _ = std::io::stdout().flush();
    let mut answer = String::new();
    let _ = input.read_line(&mut answer);
    let answer = answer.trim().to_lowercase();
    Ok(matches!(answer.as_str(), "y" | "yes" | "s" | "sí" | "si"))
}

fn told(file: &Path, error: &TakeError) -> CommandError {
    let mut lines: Vec<String> = error.wrong.iter().take(SHOWN).cloned().collect();
    if error.wrong.len() > SHOWN {
        lines.push(format!("and {} more", error.wrong.len() - SHOWN));
    }
    let wrong = match lines.as_slice() {
        [one] => format!("{}: {one}", file.display()),
        several => format!("{}:\n{}", file.display(), several.join("\n")),
    };
    CommandError::told(wrong, error.hint.clone())
}

fn unread(file: &Path, error: &ReadError) -> CommandError {
    let hint = match error {
        ReadError::TooLarge { .. } => "copy the readings into a file of their own",
        _ => "name the .xlsx or .csv file with the readings",
    };
    CommandError::told(format!("{} cannot be read: {error}", file.display()), hint)
}
