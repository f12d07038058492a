//! `retestify generate`: completions for a shell and manual pages, for whoever packages the
//! program. It is not listed in the help.

use std::io::Write;
use std::process::ExitCode;

use clap::CommandFactory;

use super::CommandError;
use super::args::{Args, GenerateArgs, Generated};
use super::output::refused;
use crate::files::write_tree;

const NAME: &str = "retestify";

/// Prints completions, or writes manual pages.
pub fn run(args: &GenerateArgs) -> Result<ExitCode, CommandError> {
    match &args.what {
        Generated::Completions { shell } => {
            let mut text = Vec::new();
            clap_complete::generate(*shell, &mut Args::command(), NAME, &mut text);
            // A program that stops reading early, such as `head`, is not an error.
            let _ = anstream::stdout().write_all(&text);
        }
        Generated::Man { folder } => {
            let pages = pages();
            let files = pages
                .iter()
                .map(|(name, page)| (name.as_str(), page.as_slice()));
            write_tree(folder, files).map_err(|error| refused(folder, &error))?;
            anstream::println!("{}", folder.display());
        }
    }
    Ok(ExitCode::SUCCESS)
}

/// One page for the program and one for each command that its help lists.
fn pages() -> Vec<(String, Vec<u8>)> {
    let mut command = Args::command();
    command.build();
    let mut pages = Vec::new();
    let mut add = |name: &str, command: clap::Command| {
        let mut page = Vec::new();
        // Writing into memory does not fail.
        let _ = clap_mangen::Man::new(command.display_name(name.to_owned())).render(&mut page);
        pages.push((format!("{name}.1"), page));
    };
    let listed = |command: &&clap::Command| !command.is_hide_set() && command.get_name() != "help";
    for below in command.get_subcommands().filter(listed) {
        add(&format!("{NAME}-{}", below.get_name()), below.clone());
    }
    add(NAME, command.clone());
    pages
}
