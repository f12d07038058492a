//! `fill --sign`: the passphrase is typed in the terminal, and the form on this computer then
//! signs what it makes.

use std::path::{Path, PathBuf};

use tempfile::TempDir;

use super::client::Served;
use super::terminal::Terminal;
use crate::folder::{Folder, run};

const PASSPHRASE: &str = "nine brass keys";
const QUESTION: &str = "Passphrase of the signing key: ";

/// A folder with an identity whose passphrase was typed, twice.
fn identity() -> (TempDir, PathBuf) {
    let temp = tempfile::tempdir().unwrap();
    let folder = temp.path().join("identity");
    let mut terminal = Terminal::run(&["identity", "new", "Millrace Workshop"], &folder);
    terminal.is_asked("New passphrase (at least 8 characters): ");
    terminal.keys(&format!("{PASSPHRASE}\r"));
    terminal.is_asked("Repeat it: ");
    terminal.keys(&format!("{PASSPHRASE}\r"));
    assert_eq!(terminal.ends(), Some(0), "{}", terminal.shown);
    (temp, folder)
}

/// What `fill --sign` says where `keys` are typed at its question, and its exit code.
fn typed(keys: &str) -> (String, Option<i32>, Folder) {
    let (_temp, identity) = identity();
    let folder = Folder::copy_of("frost-fan");
    let mut terminal = asked(&folder, &identity);
    terminal.keys(keys);
    let code = terminal.ends();
    assert!(!terminal.shown.contains("http://"), "{}", terminal.shown);
    let words: Vec<&str> = terminal.shown.split_whitespace().collect();
    (words.join(" "), code, folder)
}

/// The form of `folder`, as far as the question.
fn asked(folder: &Folder, identity: &Path) -> Terminal {
    let path = folder.path();
    let arguments = ["fill", "--sign", "--idle", "60", path.to_str().unwrap()];
    let mut terminal = Terminal::run(&arguments, identity);
    terminal.is_asked(QUESTION);
    terminal
}

#[test]
fn a_typed_passphrase_signs_what_the_buttons_make() {
    let (_temp, identity) = identity();
    let folder = Folder::copy_of("frost-fan");
    let mut terminal = asked(&folder, &identity);
    terminal.keys(&format!("{PASSPHRASE}\r"));
    terminal.wait_for("Enter shows a new address");
    let after = terminal.wait_for("http://");
    let address = after.split_whitespace().next().unwrap().to_owned();
    // Whoever looks over a shoulder does not read it.
    assert!(!terminal.shown.contains("brass"), "{}", terminal.shown);
    let child = terminal.child.take().unwrap();
    let served = Served::started(child, &address, terminal);
    let browser = served.enter();
    let kind = "application/x-www-form-urlencoded";
    let page = browser.get("/finish").body;
    assert!(page.contains("action=\"/do/seal-baseline\""), "{page}");
    let done = browser.post("/do/seal-baseline", kind, b"");
    assert_eq!(done.status, 200, "{}", done.body);
    assert!(!done.body.contains("brass"), "{}", done.body);
    let receipt = folder.file("receipt.pdf");
    let checked = run(&["verify", receipt.to_str().unwrap()]);
    assert!(
        checked.out.contains("Millrace Workshop"),
        "{}{}",
        checked.out,
        checked.err
    );
    // Not so where nothing was typed: a document without a signature names no shop's key.
    let other = Folder::copy_of("frost-fan");
    let path = other.path();
    assert_eq!(run(&["seal", "baseline", path.to_str().unwrap()]).code, 0);
    let unsigned = run(&["verify", other.file("receipt.pdf").to_str().unwrap()]);
    assert!(
        !unsigned.out.contains("Millrace Workshop"),
        "{}",
        unsigned.out
    );
}

#[test]
fn a_wrong_passphrase_opens_no_form() {
    let (said, code, folder) = typed("nine brass kegs\r");
    assert_eq!(code, Some(2), "{said}");
    assert!(
        said.contains("the passphrase is wrong") && said.contains("try again"),
        "{said}"
    );
    assert!(!said.contains("kegs"), "{said}");
    assert!(!folder.file("seals/1-baseline.sha256").exists());
}

#[test]
fn nothing_typed_opens_no_form_and_says_how_to_do_without() {
    // Ctrl-D, and only the Enter key.
    for keys in ["\u{4}", "\r"] {
        let (said, code, _) = typed(keys);
        assert_eq!(code, Some(2), "{said}");
        assert!(
            said.contains("no passphrase was typed") && said.contains("without `--sign`"),
            "{said}"
        );
        assert!(!said.contains("--unsigned"), "{said}");
    }
}

/// What is mistyped can be taken back.
#[test]
fn a_line_that_is_taken_back_is_not_part_of_the_passphrase() {
    let (_temp, identity) = identity();
    let folder = Folder::copy_of("frost-fan");
    let mut terminal = asked(&folder, &identity);
    // Ctrl-U takes back the line, the key above Enter one letter.
    terminal.keys(&format!("wrong\u{15}{PASSPHRASE}x\u{7f}\r"));
    terminal.wait_for("http://");
}

/// With this identity the form does not open, nor ask for anything, and says `why`.
#[track_caller]
fn refused(identity: &Path, why: &str) {
    let folder = Folder::copy_of("frost-fan");
    let path = folder.path();
    let arguments = ["fill", "--sign", path.to_str().unwrap()];
    let mut terminal = Terminal::run(&arguments, identity);
    assert_eq!(terminal.ends(), Some(2), "{}", terminal.shown);
    assert!(terminal.shown.contains(why), "{}", terminal.shown);
}

#[test]
fn there_is_no_key_to_sign_with() {
    let temp = tempfile::tempdir().unwrap();
    refused(&temp.path().join("none"), "identity new");
}

#[test]
fn a_key_that_others_can_read_is_refused_before_the_form_opens() {
    use std::os::unix::fs::PermissionsExt as _;
    let (_temp, identity) = identity();
    let open = std::fs::Permissions::from_mode(0o644);
    std::fs::set_permissions(identity.join("key.pem"), open).unwrap();
    refused(&identity, "chmod 600");
}
