//! What the commands write: readable for whom the system wants, never over a signed document
//! of another kind, and never with a trick on the terminal.

use std::fs;
use std::os::unix::fs::PermissionsExt as _;
use std::path::Path;

use crate::folder::{Folder, run, run_with};
use crate::story::{story, unsealed};

fn mode(path: &Path) -> u32 {
    fs::metadata(path).unwrap().permissions().mode() & 0o777
}

/// A file of 0666 and a folder of 0777, less what the umask takes (POSIX).
#[test]
fn a_new_file_is_readable_as_far_as_the_system_wants() {
    for (umask, file, folder) in [
        ("022", 0o644, 0o755),
        ("077", 0o600, 0o700),
        ("002", 0o664, 0o775),
    ] {
        let job = unsealed("frost-fan");
        let line = format!(
            "umask {umask} && exec '{}' \"$@\"",
            env!("CARGO_BIN_EXE_retestify")
        );
        let path = job.path().to_str().unwrap();
        let made = job.path().join("made");
        let commands: [&[&str]; 3] = [
            &["seal", "baseline", path, "--unsigned"],
            &["worksheet", path],
            &["init", made.to_str().unwrap()],
        ];
        for command in commands {
            let done = run_with("sh", &[&["-c", line.as_str(), "sh"], command].concat());
            assert_eq!(done.code, 0, "{}", done.err);
        }
        for written in [
            "seals/1-baseline.sha256",
            "receipt.pdf",
            "worksheet.pdf",
            "made/job.toml",
        ] {
            assert_eq!(
                mode(&job.path().join(written)),
                file,
                "{written}, umask {umask}"
            );
        }
        for written in ["seals", "made"] {
            assert_eq!(
                mode(&job.path().join(written)),
                folder,
                "{written}, umask {umask}"
            );
        }
    }
}

/// Nobody but the shop can make a signed document again, and a receipt of before the work
/// nobody at all.
#[test]
fn a_signed_document_is_replaced_by_one_of_its_kind_only() {
    let job = story().copy();
    let path = job.path().to_str().unwrap();
    let receipt = job.path().join("receipt.pdf");
    let report = job.path().join("report.pdf");
    for (command, output, what) in [
        ("worksheet", &receipt, "is a signed receipt"),
        ("worksheet", &report, "is a signed document"),
        ("report", &receipt, "is a signed receipt"),
        ("receipt", &report, "is a signed document"),
    ] {
        let before = fs::read(output).unwrap();
        let unsigned: &[&str] = if command == "worksheet" {
            &[]
        } else {
            &["--unsigned"]
        };
        let output_name = output.to_str().unwrap();
        let args = [&[command, path, "--replace", "-o", output_name], unsigned].concat();
        let refused = run(&args);
        assert_eq!(refused.code, 2, "{command} over {what}");
        assert!(refused.err.contains(what), "{}", refused.err);
        assert!(fs::read(output).unwrap() == before);
    }
    for (command, output) in [("report", &report), ("receipt", &receipt)] {
        let output = output.to_str().unwrap();
        let again = story().signing(&[command, path, "--replace", "-o", output]);
        assert_eq!(again.code, 0, "{}", again.err);
    }
}

/// A file name that would move the cursor up and write another answer.
#[test]
fn a_file_name_cannot_fake_an_answer() {
    let folder = tempfile::tempdir().unwrap();
    let name = "a\u{1b}[2A\r\nIs it unchanged?  yes\u{202e}.pdf";
    let path = folder.path().join(name);
    fs::write(&path, &story().report).unwrap();
    let shown = run(&["verify", path.to_str().unwrap()]).out;
    assert!(!shown.contains('\u{1b}') && !shown.contains('\u{202e}') && !shown.contains('\r'));
    assert!(
        shown.contains("a\\u{1b}[2A\\u{d}\\u{a}Is it unchanged?"),
        "{shown}"
    );
}

/// A link put in the place of the folder of seals leads nowhere.
#[test]
fn a_folder_of_seals_that_is_a_link_out_is_not_written_to() {
    let folder = Folder::copy_of("frost-fan");
    let outside = tempfile::tempdir().unwrap();
    std::os::unix::fs::symlink(outside.path(), folder.file("seals")).unwrap();
    let path = folder.path();
    let refused = run(&["seal", "baseline", path.to_str().unwrap(), "--unsigned"]);
    assert_eq!(refused.code, 2, "{}", refused.out);
    assert_eq!(fs::read_dir(outside.path()).unwrap().count(), 0);
}
