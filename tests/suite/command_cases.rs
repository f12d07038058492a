//! The cases of `tests/commands/`: what is typed, and what the program answers.
//!
//! Each file is one case, and reads from top to bottom:
//!
//! - `shows`: what it shows, in a sentence.
//! - `start`: the sample that stands in the folder `job` at the start; without it, the
//!   folder is empty. `identity = true` puts a signing identity into the folder `identity`;
//!   `reported = true` has the job sealed before and after the work as well, with a receipt
//!   and a report signed by that identity.
//! - `[files]`: files that are written then. `[replace]`: for a file, what is said
//!   differently in it, in pairs.
//! - `[[step]]`, in order: the command, then `code`, `stdout` and `stderr`, exactly as they
//!   must be; what is not named must be empty. `…` stands for anything in a line, and for
//!   any lines where it stands alone. Before the command come `replace` and
//!   `remove`, a list of files. `env` and `stdin` are what it gets. `makes` names files
//!   that are there afterwards, `lacks` files that are not.
//!
//! A step runs at noon (UTC) on 25 November 2026, or `at` another time, and nobody types a
//! passphrase. `UPDATE_PUBLISHED=1` writes code and output of all steps as they are now,
//! and leaves open what was open.

use std::collections::BTreeMap;
use std::fs;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Mutex, OnceLock};
use std::thread;

use chrono::DateTime;
use retestify::signature::{Identity, Randomness, Salt};
use serde::Deserialize;
use tempfile::TempDir;

use self::open_lines::{fits, kept};
use crate::folder::{Run, samples};
use crate::story::copy_tree;

mod open_lines;

const NOON: &str = "2026-11-25T12:00:00Z";
/// The passphrase of the identity that a case may start with.
const PASSPHRASE: &str = "only for these tests";

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Case {
    shows: String,
    start: Option<String>,
    #[serde(default)]
    identity: bool,
    #[serde(default)]
    reported: bool,
    #[serde(default)]
    files: BTreeMap<String, String>,
    #[serde(default)]
    replace: Replacements,
    step: Vec<Step>,
}

type Replacements = BTreeMap<String, Vec<[String; 2]>>;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Step {
    #[serde(default)]
    replace: Replacements,
    #[serde(default)]
    remove: Vec<String>,
    run: String,
    at: Option<toml::value::Datetime>,
    #[serde(default)]
    env: BTreeMap<String, String>,
    #[serde(default)]
    stdin: String,
    /// None only while a case is being written.
    code: Option<i32>,
    #[serde(default)]
    stdout: String,
    #[serde(default)]
    stderr: String,
    #[serde(default)]
    makes: Vec<String>,
    #[serde(default)]
    lacks: Vec<String>,
}

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/commands")
}

/// All cases, each with its file.
fn cases() -> Vec<(PathBuf, Case)> {
    let mut paths: Vec<PathBuf> = fs::read_dir(folder())
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .collect();
    paths.sort();
    let read = |path: PathBuf| {
        let text = fs::read_to_string(&path).unwrap();
        let case = toml::from_str(&text).unwrap_or_else(|why| panic!("{}: {why}", path.display()));
        (path, case)
    };
    paths.into_iter().map(read).collect()
}

#[test]
fn every_command_answers_as_its_cases_say() {
    let cases = cases();
    let next = AtomicUsize::new(0);
    let wrong = Mutex::new(Vec::new());
    thread::scope(|scope| {
        for _ in 0..thread::available_parallelism().map_or(2, usize::from) {
            scope.spawn(|| {
                while let Some((path, case)) = cases.get(next.fetch_add(1, Ordering::Relaxed)) {
                    if let Err(why) = play(path, case) {
                        wrong.lock().unwrap().push(why);
                    }
                }
            });
        }
    });
    let wrong = wrong.into_inner().unwrap();
    assert!(
        wrong.is_empty(),
        "{}\n{} of {} cases. Where the program is right, `UPDATE_PUBLISHED=1 cargo test \
         --release command_cases` writes down what it says now.",
        wrong.join("\n"),
        wrong.len(),
        cases.len()
    );
}

/// Does what a case says, from its first step to the first that goes another way.
fn play(path: &Path, case: &Case) -> Result<(), String> {
    let place = tempfile::tempdir().unwrap();
    set_up(place.path(), case);
    let mut said = Vec::new();
    for step in &case.step {
        change(place.path(), &step.replace);
        for name in &step.remove {
            fs::remove_file(place.path().join(name)).unwrap();
        }
        let run = type_in(place.path(), step);
        let there = |name: &&String| place.path().join(name).exists();
        let missing = step.makes.iter().find(|name| !there(name));
        let odd = step.lacks.iter().find(there);
        let wrong_file = missing
            .map(|name| format!("{name} was not made"))
            .or_else(|| odd.map(|name| format!("{name} is there")));
        if let Some(wrong) = wrong_file {
            return Err(format!("\n{}: $ {}\n{wrong}", path.display(), step.run));
        }
        said.push(run);
    }
    if std::env::var_os("UPDATE_PUBLISHED").is_some() {
        return update(path, case, &said);
    }
    for (step, run) in case.step.iter().zip(&said) {
        let same = step.code == Some(run.code)
            && fits(&step.stdout, &run.out)
            && fits(&step.stderr, &run.err);
        if !same {
            return Err(format!(
                "\n{}: {}\n$ {}\n-- should be: {}\n{}{}-- is: {}\n{}{}",
                path.display(),
                case.shows,
                step.run,
                step.code.map_or("…".to_owned(), |code| code.to_string()),
                step.stdout,
                step.stderr,
                run.code,
                run.out,
                run.err
            ));
        }
    }
    Ok(())
}

fn set_up(place: &Path, case: &Case) {
    if case.reported {
        assert!(
            case.start.is_none() && !case.identity,
            "`reported` has them"
        );
        copy_tree(reported(), place);
    }
    if let Some(sample) = &case.start {
        let job = place.join("job");
        fs::create_dir(&job).unwrap();
        fs::copy(samples().join("shop.toml"), job.join("shop.toml")).unwrap();
        copy_tree(&samples().join(sample), &job);
    }
    if case.identity {
        fs::create_dir(place.join("identity")).unwrap();
        for (name, bytes) in identity() {
            write(&place.join("identity").join(name), &bytes);
        }
    }
    for (name, text) in &case.files {
        let path = place.join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        write(&path, text.as_bytes());
    }
    change(place, &case.replace);
}

/// The frost fan's job, sealed before and after the work, and its report; all signed.
fn reported() -> &'static Path {
    static REPORTED: OnceLock<TempDir> = OnceLock::new();
    let made = REPORTED.get_or_init(|| {
        let place = tempfile::tempdir().unwrap();
        let case: Case = toml::from_str(&format!(
            "shows = ''\nstart = 'frost-fan'\nidentity = true\n{}{}{}",
            "[[step]]\nrun = 'retestify seal baseline job'\nat = 2026-01-20T08:30:00Z\n",
            "[[step]]\nrun = 'retestify seal retest job'\nat = 2026-01-22T09:00:00Z\n",
            "[[step]]\nrun = 'retestify report job'\nat = 2026-01-22T09:00:00Z\n",
        ))
        .unwrap();
        set_up(place.path(), &case);
        for mut step in case.step {
            let passphrase = ("RETESTIFY_PASSPHRASE".to_owned(), PASSPHRASE.to_owned());
            step.env.extend([passphrase]);
            let run = type_in(place.path(), &step);
            assert_eq!(run.code, 0, "{}", run.err);
        }
        place
    });
    made.path()
}

/// A key is not for others to read.
fn write(path: &Path, bytes: &[u8]) {
    fs::write(path, bytes).unwrap();
    #[cfg(unix)]
    if path.ends_with("key.pem") {
        use std::os::unix::fs::PermissionsExt;
        fs::set_permissions(path, fs::Permissions::from_mode(0o600)).unwrap();
    }
}

/// The files of an identity that is the same in every run.
fn identity() -> [(&'static str, Vec<u8>); 2] {
    let randomness = Randomness {
        key: [11; 32].into(),
        serial: [11; 16],
    };
    let made = DateTime::parse_from_rfc3339("2026-01-02T08:00:00Z").unwrap();
    let name = "Tamsin Orrell Engine Bench";
    let identity = Identity::create(name, 10, made.to_utc(), &randomness).unwrap();
    let salt = Salt {
        salt: [12; 16],
        iv: [12; 16],
    };
    let key = identity.key_pem(PASSPHRASE, &salt).unwrap();
    [
        ("key.pem", key.as_bytes().to_vec()),
        ("certificate.pem", identity.certificates_pem().into_bytes()),
    ]
}

fn change(place: &Path, replacements: &Replacements) {
    for (name, pairs) in replacements {
        let path = place.join(name);
        let mut text = fs::read_to_string(&path).unwrap();
        for [from, to] in pairs {
            assert_eq!(text.matches(from).count(), 1, "`{from}` in {name}");
            text = text.replace(from, to);
        }
        fs::write(path, text).unwrap();
    }
}

/// Runs the command of a step.
fn type_in(place: &Path, step: &Step) -> Run {
    let words = words(&step.run);
    assert_eq!(words.first().map(String::as_str), Some("retestify"));
    let at = step.at.map_or(NOON.to_owned(), |at| at.to_string());
    let at = DateTime::parse_from_rfc3339(&at).unwrap();
    let mut running = Command::new(env!("CARGO_BIN_EXE_retestify"))
        .args(&words[1..])
        .current_dir(place)
        .env("SOURCE_DATE_EPOCH", at.timestamp().to_string())
        // Whoever runs the tests may have an identity of their own.
        .env("RETESTIFY_IDENTITY", "identity")
        .env_remove("RETESTIFY_PASSPHRASE")
        .envs(&step.env)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    // A command that asks nothing may have ended before it is told anything.
    let _ = running
        .stdin
        .take()
        .unwrap()
        .write_all(step.stdin.as_bytes());
    let done = running.wait_with_output().unwrap();
    Run {
        code: done.status.code().expect("the program ended by itself"),
        out: String::from_utf8(done.stdout).unwrap(),
        err: String::from_utf8(done.stderr).unwrap(),
    }
}

/// The words of a command line; double quotes keep spaces together.
fn words(line: &str) -> Vec<String> {
    let mut words = Vec::new();
    for (index, part) in line.split('"').enumerate() {
        if index % 2 == 1 {
            words.push(part.to_owned());
        } else {
            words.extend(part.split_whitespace().map(str::to_owned));
        }
    }
    words
}

/// Writes down what the steps of a case say now.
fn update(path: &Path, case: &Case, said: &[Run]) -> Result<(), String> {
    let text = fs::read_to_string(path).unwrap();
    let mut parts = text.split_inclusive("[[step]]\n");
    let mut new = parts.next().unwrap_or_default().to_owned();
    for ((part, step), run) in parts.zip(&case.step).zip(said) {
        let mut lines: Vec<String> = Vec::new();
        let mut in_output = false;
        for line in part.lines() {
            let starts = line.starts_with("stdout = '''") || line.starts_with("stderr = '''");
            if !starts && !in_output && !line.starts_with("code = ") {
                lines.push(line.to_owned());
            }
            let ends = !starts && line.ends_with("'''");
            in_output = (starts || in_output) && !ends;
        }
        let after_the_command = lines.iter().rposition(|line| {
            ["run =", "at =", "env =", "stdin ="]
                .iter()
                .any(|key| line.starts_with(key))
        });
        let mut answer = vec![format!("code = {}", run.code)];
        for (name, old, now) in [
            ("stdout", &step.stdout, &run.out),
            ("stderr", &step.stderr, &run.err),
        ] {
            if !now.is_empty() {
                let kept = kept(old, now).map_err(|()| {
                    format!("{}: write this {name} by hand:\n{now}", path.display())
                })?;
                answer.push(format!("{name} = '''\n{kept}'''"));
            }
        }
        let place = after_the_command.unwrap_or(0) + 1;
        lines.splice(place..place, answer);
        new += &lines.join("\n");
        new.push('\n');
    }
    if new != text {
        fs::write(path, new).unwrap();
    }
    Ok(())
}

/// The names under `Commands:` in a help text.
fn subcommands(help: &str) -> Vec<String> {
    let list = help.split("Commands:\n").nth(1).unwrap_or_default();
    list.lines()
        .take_while(|line| line.starts_with("  "))
        .filter(|line| !line.starts_with("   "))
        .filter_map(|line| line.split_whitespace().next())
        .filter(|name| *name != "help")
        .map(str::to_owned)
        .collect()
}

/// Every command has a case that goes well, one that does not, and one for its help; and
/// `check` and `verify` have one for each of their exit codes.
#[test]
fn every_command_and_exit_code_has_a_case() {
    let cases = cases();
    let steps: Vec<&Step> = cases.iter().flat_map(|(_, case)| &case.step).collect();
    let codes = |command: &str| -> Vec<i32> {
        let asked = words(command);
        let of_it = steps.iter().filter(|step| {
            let words = words(&step.run);
            words.starts_with(&asked) && !words.contains(&"--help".to_owned())
        });
        of_it.filter_map(|step| step.code).collect()
    };
    let help = |command: &str| {
        let line = format!("{command} --help");
        let found = steps.iter().find(|step| step.run == line);
        &found
            .unwrap_or_else(|| panic!("no case runs `{line}`"))
            .stdout
    };
    let mut commands: Vec<String> = subcommands(help("retestify"));
    let of_identity = subcommands(help("retestify identity"));
    commands.retain(|name| name != "identity");
    commands.extend(of_identity.iter().map(|name| format!("identity {name}")));
    assert!(commands.len() >= 12, "{commands:?}");
    for command in commands {
        let command = format!("retestify {command}");
        help(&command);
        let mut wanted = vec![0, 2];
        if command.ends_with("check") || command.ends_with("verify") {
            wanted.extend([1, 3]);
        }
        let found = codes(&command);
        for code in wanted {
            assert!(
                found.contains(&code),
                "no case of `{command}` ends with {code}"
            );
        }
    }
}

#[test]
fn help_fits_eighty_columns() {
    let cases = cases();
    let steps = cases.iter().flat_map(|(_, case)| &case.step);
    for step in steps.filter(|step| step.run.ends_with("--help")) {
        for line in step.stdout.lines() {
            assert!(line.chars().count() <= 80, "{}: {line}", step.run);
        }
    }
}
