//! A terminal without a screen, on which the program asks for a passphrase and gets it typed.

use std::env;
use std::ffi::OsString;
use std::fs::{File, OpenOptions};
use std::io::{Read as _, Write as _};
use std::os::unix::ffi::OsStringExt as _;
use std::os::unix::process::CommandExt as _;
use std::path::Path;
use std::process::{Child, Command, ExitStatus, Stdio};
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::thread;
use std::time::{Duration, Instant};

use rustix::process::{ioctl_tiocsctty, setsid};
use rustix::pty::{OpenptFlags, grantpt, openpt, ptsname, unlockpt};
use rustix::termios::{LocalModes, tcgetattr};

/// Names the terminal for [`the_program_on_a_terminal_of_its_own`].
const TERMINAL: &str = "RETESTIFY_TEST_TERMINAL";
/// Its arguments, one a line.
const ARGUMENTS: &str = "RETESTIFY_TEST_ARGUMENTS";
/// How long anything may take on a busy machine.
const PATIENCE: Duration = Duration::from_secs(120);

/// The program, run on a terminal.
pub struct Terminal {
    keyboard: File,
    screen: Receiver<Vec<u8>>,
    /// All that was shown.
    pub shown: String,
    pub child: Option<Child>,
}

/// Not a test: the process between a test and the program. A passphrase is asked for at the
/// terminal that governs a process, whatever its input is; to have one of its own, a process must
/// first leave that of the tests.
#[test]
fn the_program_on_a_terminal_of_its_own() {
    let Some(path) = env::var_os(TERMINAL) else {
        return;
    };
    setsid().unwrap();
    let terminal = OpenOptions::new()
        .read(true)
        .write(true)
        .open(path)
        .unwrap();
    ioctl_tiocsctty(&terminal).unwrap();
    let arguments = env::var(ARGUMENTS).unwrap();
    let error = Command::new(env!("CARGO_BIN_EXE_retestify"))
        .args(arguments.lines())
        .stdin(terminal.try_clone().unwrap())
        .stdout(terminal.try_clone().unwrap())
        .stderr(terminal)
        .exec();
    panic!("{error}");
}

impl Terminal {
    /// Runs the program with these arguments and this folder for its identity.
    pub fn run(arguments: &[&str], identity: &Path) -> Self {
        let terminal = openpt(OpenptFlags::RDWR | OpenptFlags::NOCTTY | OpenptFlags::CLOEXEC);
        let terminal = terminal.unwrap();
        grantpt(&terminal).unwrap();
        unlockpt(&terminal).unwrap();
        let path = ptsname(&terminal, Vec::new()).unwrap().into_bytes();
        let child = Command::new(env::current_exe().unwrap())
            .args([
                "--exact",
                "fill::terminal::the_program_on_a_terminal_of_its_own",
            ])
            .env(TERMINAL, OsString::from_vec(path))
            .env(ARGUMENTS, arguments.join("\n"))
            .env("RETESTIFY_IDENTITY", identity)
            .env_remove("RETESTIFY_PASSPHRASE")
            .env("SOURCE_DATE_EPOCH", "1795608000")
            .stdin(Stdio::null())
            .stdout(Stdio::null())
            .spawn()
            .unwrap();
        let keyboard = File::from(terminal);
        let mut read = keyboard.try_clone().unwrap();
        let (sender, screen) = channel();
        thread::spawn(move || {
            let mut bytes = [0; 4096];
            // Reading fails while no process has the terminal yet, and once none has it any more.
            let start = Instant::now();
            let mut had_any = false;
            loop {
                match read.read(&mut bytes) {
                    Ok(count) if count > 0 => {
                        had_any = true;
                        if sender.send(bytes[..count].to_vec()).is_err() {
                            break;
                        }
                    }
                    _ if had_any || start.elapsed() > PATIENCE => break,
                    _ => thread::sleep(Duration::from_millis(5)),
                }
            }
        });
        Self {
            keyboard,
            screen,
            shown: String::new(),
            child: Some(child),
        }
    }

    /// Waits until the screen has shown `text`, and gives what came after it.
    #[track_caller]
    pub fn wait_for(&mut self, text: &str) -> String {
        let start = Instant::now();
        loop {
            if let Some(at) = self.shown.find(text) {
                return self.shown[at + text.len()..].to_owned();
            }
            let left = PATIENCE.saturating_sub(start.elapsed());
            match self.screen.recv_timeout(left) {
                Ok(bytes) => self.shown += &String::from_utf8_lossy(&bytes),
                Err(_) => panic!("no `{text}` on the terminal:\n{}", self.shown),
            }
        }
    }

    /// Waits for a question, and until the terminal no longer shows what is typed: the program
    /// asks first and turns that off then, faster than a person types, but not than a test.
    #[track_caller]
    pub fn is_asked(&mut self, question: &str) {
        self.wait_for(question);
        let start = Instant::now();
        let shows = |keyboard: &File| {
            let settings = tcgetattr(keyboard).unwrap();
            settings.local_modes.contains(LocalModes::ECHO)
        };
        while shows(&self.keyboard) {
            assert!(start.elapsed() < PATIENCE, "it shows what is typed");
            thread::sleep(Duration::from_millis(5));
        }
    }

    /// Types these keys.
    pub fn keys(&mut self, keys: &str) {
        self.keyboard.write_all(keys.as_bytes()).unwrap();
    }

    /// Waits until the program ends, and gives its exit code.
    #[track_caller]
    pub fn ends(&mut self) -> Option<i32> {
        let start = Instant::now();
        let child = self.child.as_mut().expect("the program is here");
        loop {
            match self.screen.recv_timeout(Duration::from_millis(20)) {
                Ok(bytes) => self.shown += &String::from_utf8_lossy(&bytes),
                Err(RecvTimeoutError::Timeout | RecvTimeoutError::Disconnected) => {
                    if let Some(status) = child.try_wait().unwrap() {
                        // What it said last may still be on its way.
                        while let Ok(bytes) = self.screen.recv_timeout(PATIENCE) {
                            self.shown += &String::from_utf8_lossy(&bytes);
                        }
                        return ExitStatus::code(&status);
                    }
                }
            }
            assert!(
                start.elapsed() < PATIENCE,
                "it does not end:\n{}",
                self.shown
            );
        }
    }
}

impl Drop for Terminal {
    fn drop(&mut self) {
        if let Some(child) = &mut self.child {
            let _ = child.kill();
            let _ = child.wait();
        }
    }
}
