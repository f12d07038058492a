//! A job folder to spoil, and the program to run on it.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use retestify::files::{self, nearest_with};
use retestify::intake::can_print;
use retestify::intake::{Inputs, Intake, Media, SHOP_FILE, read_job};
use retestify::job::Job;
use tempfile::TempDir;

use crate::in_spanish;

/// The folder of the samples.
pub fn samples() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("samples")
}

/// A copy of a sample, with the shop's file inside, that a test may change.
pub struct Folder {
    temp: TempDir,
}

impl Folder {
    pub fn copy_of(sample: &str) -> Self {
        let temp = tempfile::tempdir().unwrap();
        let job = temp.path().join("job");
        fs::create_dir(&job).unwrap();
        fs::copy(samples().join("shop.toml"), job.join("shop.toml")).unwrap();
        copy_tree(&samples().join(sample), &job);
        Self { temp }
    }

    /// The whole job, which must be sound.
    pub fn read_job(&self) -> Intake<Job> {
        let path = self.path();
        let inputs = Inputs {
            job: &files::Folder::open(&path).unwrap(),
            shop: &nearest_with(&path, SHOP_FILE).unwrap(),
        };
        read_job(inputs, &can_print, Media::Read).unwrap_or_else(|problems| panic!("{problems}"))
    }

    /// A job folder of these files.
    pub fn of(files: &[(String, Vec<u8>)]) -> Self {
        let temp = tempfile::tempdir().unwrap();
        let folder = Self { temp };
        for (name, bytes) in files {
            let path = folder.file(name);
            fs::create_dir_all(path.parent().unwrap()).unwrap();
            fs::write(path, bytes).unwrap();
        }
        folder
    }

    pub fn path(&self) -> PathBuf {
        self.temp.path().join("job")
    }

    pub fn file(&self, name: &str) -> PathBuf {
        self.path().join(name)
    }

    pub fn read(&self, name: &str) -> String {
        fs::read_to_string(self.file(name)).unwrap()
    }

    pub fn write(&self, name: &str, bytes: impl AsRef<[u8]>) {
        fs::write(self.file(name), bytes).unwrap();
    }

    /// Replaces the one place where `file` says `from`.
    pub fn replace(&self, file: &str, from: &str, to: &str) -> &Self {
        let text = self.read(file);
        assert_eq!(text.matches(from).count(), 1, "`{from}` in {file}");
        self.write(file, text.replace(from, to));
        self
    }

    /// The line, from 1, on which `file` says `text`.
    pub fn line(&self, file: &str, text: &str) -> usize {
        let all = self.read(file);
        let place = all
            .find(text)
            .unwrap_or_else(|| panic!("`{text}` in {file}"));
        all[..place].matches('\n').count() + 1
    }

    /// What `check` says. The form says the same at its fields, in Spanish too.
    #[track_caller]
    pub fn check(&self) -> Run {
        in_spanish::is_told(self);
        run(&["check", self.path().to_str().unwrap()])
    }

    /// Everything in the folder, to see that nothing was left behind.
    pub fn listing(&self) -> Vec<String> {
        let mut names: Vec<String> = fs::read_dir(self.path())
            .unwrap()
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .collect();
        names.sort();
        names
    }
}

fn copy_tree(from: &Path, to: &Path) {
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

/// What a run of the program came to.
pub struct Run {
    pub code: i32,
    pub out: String,
    pub err: String,
}

/// Runs the program with a fixed clock: 25 November 2026, 12:00 UTC.
pub fn run(args: &[&str]) -> Run {
    run_with(env!("CARGO_BIN_EXE_retestify"), args)
}

/// Runs `program`, with the same clock.
pub fn run_with(program: &str, args: &[&str]) -> Run {
    run_at("1795608000", program, args)
}

/// Runs `program` at a time in seconds since 1970.
pub fn run_at(time: &str, program: &str, args: &[&str]) -> Run {
    let Output {
        status,
        stdout,
        stderr,
    } = Command::new(program)
        .args(args)
        .env("SOURCE_DATE_EPOCH", time)
        // Whoever runs the tests may have an identity of their own.
        .env("RETESTIFY_IDENTITY", "/nowhere")
        .env_remove("RETESTIFY_PASSPHRASE")
        .stdin(Stdio::null())
        .output()
        .unwrap();
    Run {
        code: status.code().expect("the program ended by itself"),
        out: String::from_utf8(stdout).unwrap(),
        err: String::from_utf8(stderr).unwrap(),
    }
}
