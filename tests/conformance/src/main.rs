//! Holds PDFs against PDF/A-3 and PDF/UA-1 with an independent validator.
//!
//! Usage: `conformance FILE.pdf…`; exits with 1 if any rule fails. Level A of
//! PDF/A-3 contains level B, so B is not asked for by itself.

use std::process::ExitCode;

use page_validation::{ValidationOptions, validate_pdf};

fn main() -> ExitCode {
    let files: Vec<String> = std::env::args().skip(1).collect();
    let mut failed = 0;
    for file in &files {
        for profile in ["3a", "ua1"] {
            let Ok(parsed) = profile.parse() else {
                println!("the validator does not know the profile {profile}");
                failed += 1;
                continue;
            };
            match validate_pdf(file, &ValidationOptions::default().profile(Some(parsed))) {
                Ok(report) if report.is_compliant => println!("{file}: {profile}: 0 failed rules"),
                Ok(report) => {
                    println!("{file}: {profile}: failed\n{report}");
                    failed += 1;
                }
                Err(error) => {
                    println!("{file}: {profile}: {error}");
                    failed += 1;
                }
            }
        }
    }
    println!("{} passed, {failed} failed", files.len() * 2 - failed);
    if failed == 0 && !files.is_empty() {
        ExitCode::SUCCESS
    } else {
        ExitCode::FAILURE
    }
}
