//! `retestify fill`: the job as a form in the browser.

use std::io::BufRead;
use std::net::UdpSocket;
use std::path::Path;
use std::process::{Command, ExitCode, Stdio};
use std::thread;
use std::time::Duration;

use chrono::Local;
use data_encoding::HEXLOWER;
use qrcodegen::{QrCode, QrCodeEcc};

use super::args::FillArgs;
use super::keys::{self, random};
use super::typed::Typed;
use super::{CommandError, clock, from_table, pipeline};
use crate::fill::{Act, Done, Doorkeeper, Form, Job, Listen, World, words_for};

/// Serves the form until nobody has used it for a while.
pub fn run(args: &FillArgs) -> Result<ExitCode, CommandError> {
    pipeline::check_job_folder(&args.folder)?;
    if let Some(file) = &args.table.from {
        return from_table::run(&args.folder, file, &args.table);
    }
    let network = if args.phone {
        let address = own_address().ok_or_else(|| {
            CommandError::told(
                "this computer is in no network that a phone could reach it by",
                "connect both to the same network; or leave out `--phone`",
            )
        })?;
        Some(address)
    } else {
        None
    };
    let job = job(&args.folder)?;
    let act = keys::beforehand(args.sign)?.map(|passphrase| {
        let folder = job.folder.clone();
        let act = move |act: Act| done(act, &folder, &passphrase);
        Box::new(act) as Box<dyn Fn(Act) -> Done + Send + Sync>
    });
    let world = World {
        act,
        zone: clock::zone,
        now: Box::new(|| Local::now().fixed_offset()),
        secret: Box::new(|| random::<24>().ok().map(|bytes| HEXLOWER.encode(&bytes))),
    };
    let listen = Listen {
        network,
        port: args.port,
        idle: Duration::from_secs(args.idle),
    };
    let form = Form::open(job, world, &listen).map_err(|error| {
        CommandError::told(
            format!("the form cannot be served: {error}"),
            "another program may use that port: leave out `--port`",
        )
    })?;
    let doorkeeper = form.doorkeeper();
    show(&doorkeeper, args.phone);
    anstream::println!("Enter shows a new address; Ctrl-C ends.");
    let phone = args.phone;
    thread::spawn(move || {
        for line in std::io::stdin().lock().lines() {
            if line.is_err() {
                break;
            }
            show(&doorkeeper, phone);
        }
    });
    form.serve();
    anstream::println!("Nobody used the form for a while; it is closed.");
    Ok(ExitCode::SUCCESS)
}

/// Does what a button asks for: what the command of that name does, in a process of its own,
/// with the passphrase that was given here.
fn done(act: Act, folder: &Path, passphrase: &str) -> Done {
    let program = std::env::current_exe();
    let run = program.and_then(|program| {
        let mut command = Command::new(program);
        command
            .args(act.arguments())
            .arg(folder)
            .stdin(Stdio::null());
        if !passphrase.is_empty() {
            command.env(keys::PASSPHRASE_VARIABLE, passphrase);
        }
        command.output()
    });
    match run {
        Ok(run) => {
            let said = [run.stdout, run.stderr].concat();
            Done {
                well: run.status.success(),
                text: String::from_utf8_lossy(&said).into_owned(),
            }
        }
        Err(error) => Done {
            well: false,
            text: error.to_string(),
        },
    }
}

/// The job in the folder at `path`, as the form knows it.
pub fn job(path: &Path) -> Result<Job, CommandError> {
    let folder = path.canonicalize().map_err(|error| {
        CommandError::told(
            format!("{} cannot be opened: {error}", path.display()),
            "check that you may read it",
        )
    })?;
    Ok(Job {
        words: words_for(&folder),
        typed: Typed(path).to_string(),
        folder,
    })
}

/// Prints addresses that open the form once.
fn show(doorkeeper: &Doorkeeper, phone: bool) {
    if let Some(address) = doorkeeper.address(false) {
        anstream::println!("On this computer, open once:\n  {address}");
    }
    if !phone {
        return;
    }
    if let Some(address) = doorkeeper.address(true) {
        anstream::println!("On a phone in the same network, open once:\n  {address}\n");
        anstream::println!("{}", qr(&address));
        anstream::println!("That connection is not secret: use a network that you trust.");
    }
}

/// The address as a QR code of half blocks, dark on light whatever the terminal's colours.
fn qr(text: &str) -> String {
    let Ok(code) = QrCode::encode_text(text, QrCodeEcc::Low) else {
        return String::new();
    };
    let border = 2;
    let side = code.size();
    let is_light = |x: i32, y: i32| !code.get_module(x, y);
    let mut text = String::new();
    let mut y = -border;
    while y < side + border {
        text += "  ";
        for x in -border..side + border {
            text.push(match (is_light(x, y), is_light(x, y + 1)) {
                (true, true) => '█',
                (true, false) => '▀',
                (false, true) => '▄',
                (false, false) => ' ',
            });
        }
        text.push('\n');
        y += 2;
    }
    text
}

/// The address of this computer in the local network. Nothing is sent: the system is only
/// asked which way it would go to an address that is kept for examples (RFC 5737).
fn own_address() -> Option<String> {
    let socket = UdpSocket::bind("0.0.0.0:0").ok()?;
    socket.connect("192.0.2.1:9").ok()?;
    let address = socket.local_addr().ok()?.ip();
    (!address.is_unspecified() && !address.is_loopback()).then(|| address.to_string())
}
