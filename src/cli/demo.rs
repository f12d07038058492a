//! `retestify demo`: the whole story on a sample that comes with the program.

use std::process::ExitCode;

use super::args::DemoArgs;
use super::report::refused;
use super::{Stop, clock, pipeline, screen};
use crate::files::{WriteFault, write_tree, write_whole};
use crate::render::Template;

/// The sample, as it stands in `samples/frost-fan`, with the shop's file beside.
const SAMPLE: [(&str, &[u8]); 9] = [
    ("shop.toml", include_bytes!("../../samples/shop.toml")),
    (
        "job.toml",
        include_bytes!("../../samples/frost-fan/job.toml"),
    ),
    (
        "limits.toml",
        include_bytes!("../../samples/frost-fan/limits.toml"),
    ),
    (
        "baseline.toml",
        include_bytes!("../../samples/frost-fan/baseline.toml"),
    ),
    (
        "work.toml",
        include_bytes!("../../samples/frost-fan/work.toml"),
    ),
    (
        "retest.toml",
        include_bytes!("../../samples/frost-fan/retest.toml"),
    ),
    (
        "photos/filter-before.jpg",
        include_bytes!("../../samples/frost-fan/photos/filter-before.jpg"),
    ),
    (
        "photos/filter-after.jpg",
        include_bytes!("../../samples/frost-fan/photos/filter-after.jpg"),
    ),
    (
        "photos/old-line.jpg",
        include_bytes!("../../samples/frost-fan/photos/old-line.jpg"),
    ),
];

/// Copies the sample, judges it, makes its report, and says so.
pub fn run(args: &DemoArgs) -> Result<ExitCode, Stop> {
    let folder = &args.folder;
    write_tree(folder, SAMPLE).map_err(|fault| match fault {
        WriteFault::Exists => Stop::told(
            format!("{} is already there", folder.display()),
            "name another folder: `retestify demo FOLDER`, or delete that one",
        ),
        other => refused(folder, &other),
    })?;
    anstream::println!("A sample job is in {}.\n", folder.display());
    let judged = pipeline::judge(folder)?;
    let issued = clock::now()?;
    anstream::print!("{}", screen::text(&judged.report(issued)));
    let output = folder.join("report.pdf");
    let bytes = judged
        .pdf(&Template::default(), issued)
        .map_err(|fault| pipeline::template_fault(&fault))?;
    write_whole(&output, &bytes, false).map_err(|fault| refused(&output, &fault))?;
    anstream::println!(
        "\nThe report is {}. Open it in any PDF reader.",
        output.display()
    );
    anstream::println!("The job's files are beside it, in plain text; change a figure in one of");
    anstream::println!(
        "them and run `retestify check {}` to judge it again.",
        folder.display()
    );
    Ok(ExitCode::SUCCESS)
}
