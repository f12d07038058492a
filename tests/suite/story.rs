//! One job told to its end: sealed, signed, reported. Made once for all tests of the
//! evidence, with a key that is made anew each time.

use std::fs;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::sync::OnceLock;

use chrono::DateTime;
use retestify::document::OwnPages;
use retestify::render::SignaturePlace;
use retestify::signature::{Identity, Randomness, ShopCertificate, SignError, sign};
use retestify::verification::{Carried, Expected, seal_of_receipt};
use tempfile::TempDir;

use crate::folder::{Run, run, samples};

/// The passphrase of the demonstration, printed nowhere else.
pub const PASSPHRASE: &str = "only a demonstration";

/// What the demonstration leaves.
pub struct Story {
    folder: TempDir,
    pub report: Vec<u8>,
    pub receipt: Vec<u8>,
    pub certificate: ShopCertificate,
}

pub fn story() -> &'static Story {
    static STORY: OnceLock<Story> = OnceLock::new();
    STORY.get_or_init(tell)
}

fn tell() -> Story {
    let folder = tempfile::tempdir().unwrap();
    let demo = folder.path().join("demo");
    let told = run(&["demo", demo.to_str().unwrap()]);
    assert_eq!(told.code, 0, "{}", told.err);
    Story {
        report: fs::read(demo.join("job/report.pdf")).unwrap(),
        receipt: fs::read(demo.join("job/receipt.pdf")).unwrap(),
        certificate: ShopCertificate::read(&fs::read(demo.join("shop.pem")).unwrap()).unwrap(),
        folder,
    }
}

impl Story {
    pub fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join("demo").join(name)
    }

    /// What a customer knows: the shop's certificate and the receipt.
    pub fn known(&self) -> Expected<'static> {
        Expected {
            trusted: vec![self.certificate.clone()],
            authorities: Vec::new(),
            folder: None,
            typesetter: Some(&OwnPages),
            seal: Some(seal_of_receipt(&self.receipt).unwrap()),
            receipt: Some(Carried::of(&self.receipt)),
        }
    }

    /// A copy of the finished job, that a test may change.
    pub fn copy(&self) -> TempDir {
        let copy = tempfile::tempdir().unwrap();
        copy_tree(&self.path("job"), copy.path());
        copy
    }

    /// Makes the report of a changed copy, with the shop's own key.
    pub fn report_of(&self, folder: &Path) -> Vec<u8> {
        let made = self.signing(&["report", folder.to_str().unwrap(), "--replace"]);
        assert_eq!(made.code, 0, "{}", made.err);
        fs::read(folder.join("report.pdf")).unwrap()
    }

    /// Runs a command that signs with the shop's key.
    pub fn signing(&self, args: &[&str]) -> Run {
        let identity = self.path("identity");
        // A file for this run only: tests that run at once would truncate each other's.
        let mut passphrase = tempfile::NamedTempFile::new().unwrap();
        passphrase.write_all(PASSPHRASE.as_bytes()).unwrap();
        let line = format!(
            "exec 3<'{}'; exec '{}' \"$@\" --identity '{}' --passphrase-fd 3",
            passphrase.path().display(),
            env!("CARGO_BIN_EXE_retestify"),
            identity.display()
        );
        crate::folder::run_with("sh", &[&["-c", line.as_str(), "sh"], args].concat())
    }
}

pub fn copy_tree(from: &Path, to: &Path) {
    for entry in fs::read_dir(from).unwrap() {
        let entry = entry.unwrap();
        let target = to.join(entry.file_name());
        if entry.file_type().unwrap().is_dir() {
            fs::create_dir_all(&target).unwrap();
            copy_tree(&entry.path(), &target);
        } else {
            fs::copy(entry.path(), target).unwrap();
        }
    }
}

/// A job of the samples that is not sealed yet, in a folder of its own.
pub fn unsealed(sample: &str) -> TempDir {
    let folder = tempfile::tempdir().unwrap();
    copy_tree(&samples().join(sample), folder.path());
    fs::copy(samples().join("shop.toml"), folder.path().join("shop.toml")).unwrap();
    folder
}

/// The same job told again: another key, all else alike.
pub fn other_story() -> &'static Story {
    static STORY: OnceLock<Story> = OnceLock::new();
    STORY.get_or_init(tell)
}

/// What comes of signing `file` with a key of one's own.
pub fn sign_again(file: &[u8]) -> Result<Vec<u8>, SignError> {
    let randomness = Randomness {
        key: [9; 32].into(),
        serial: [9; 16],
    };
    let now = DateTime::from_timestamp(1_769_000_000, 0).unwrap();
    let identity = Identity::create("Somebody", 1, now, &randomness).unwrap();
    let place = SignaturePlace {
        page: 0,
        corners: [0.0, 0.0, 10.0, 10.0],
    };
    sign(
        file.to_vec(),
        place,
        "x",
        &identity,
        now.fixed_offset(),
        None,
    )
}
