//! `retestify identity`

use std::path::Path;
use std::process::ExitCode;

use chrono::Utc;
use zeroize::Zeroizing;

use super::args::{ExportArgs, IdentityArgs, IdentityCommand, ImportArgs, NewArgs};
use super::{CommandError, clock, keys, output};
use crate::files::{WriteError, read_path, write_whole};
use crate::intake::can_print;
use crate::signature::{Identity, Randomness, ShopCertificate};

/// The largest file to import, in bytes.
const IMPORT_LIMIT: u64 = 1 << 20;

/// Makes, shows, exports or imports the shop's signing identity.
pub fn run(args: &IdentityArgs) -> Result<ExitCode, CommandError> {
    let folder = keys::folder(args.identity.as_deref())?;
    match &args.command {
        IdentityCommand::New(new) => make(&folder, new),
        IdentityCommand::Show => {
            show(&folder, &keys::certificate(&folder)?);
            Ok(ExitCode::SUCCESS)
        }
        IdentityCommand::Export(export) => export_to(&folder, export),
        IdentityCommand::Import(import) => import_from(&folder, import),
    }
}

fn make(folder: &Path, args: &NewArgs) -> Result<ExitCode, CommandError> {
    refuse_if_there(folder)?;
    let name = args.name.trim();
    if name.is_empty() || name.chars().any(char::is_control) {
        return Err(CommandError::told(
            "the name of an identity must be one line of ordinary text",
            "give the shop's name as customers know it",
        ));
    }
    if let Some(letter) = name.chars().find(|letter| !can_print(*letter)) {
        return Err(CommandError::told(
            format!("the name contains `{letter}`, which cannot be printed"),
            "use only letters that the report's fonts have",
        ));
    }
    let passphrase = keys::new_passphrase(args.passphrase_fd)?;
    let (now, _) = clock::now()?;
    let randomness = Randomness {
        key: Zeroizing::new(keys::random()?),
        serial: keys::random()?,
    };
    let identity = Identity::create(name, args.years, now.with_timezone(&Utc), &randomness)
        .map_err(|error| keys::cannot_use(folder, &error))?;
    keys::store(&identity, folder, &passphrase)?;
    show(folder, identity.certificate());
    anstream::println!(
        "\nKeep a copy of that folder in a safe place, and give the certificate to your\n\
         customers: `retestify identity export shop.pem`."
    );
    Ok(ExitCode::SUCCESS)
}

fn import_from(folder: &Path, args: &ImportArgs) -> Result<ExitCode, CommandError> {
    refuse_if_there(folder)?;
    let bytes = read_path(&args.file, IMPORT_LIMIT).map_err(|error| {
        CommandError::told(
            format!("{} cannot be read: {error}", args.file.display()),
            "name the PEM file that holds your key and its certificate",
        )
    })?;
    let passphrase = keys::passphrase_of_file(args.passphrase_fd)?;
    let identity = Identity::from_pem(&bytes, &passphrase)
        .map_err(|error| keys::cannot_use(&args.file, &error))?;
    keys::check_length(&passphrase)?;
    keys::store(&identity, folder, &passphrase)?;
    show(folder, identity.certificate());
    anstream::println!("\nThe key is protected by the same passphrase.");
    Ok(ExitCode::SUCCESS)
}

fn export_to(folder: &Path, args: &ExportArgs) -> Result<ExitCode, CommandError> {
    let certificate = keys::certificate(folder)?;
    write_whole(&args.file, certificate.pem().as_bytes(), false)
        .map_err(|error| not_exported(&args.file, &error))?;
    anstream::println!("{}", args.file.display());
    Ok(ExitCode::SUCCESS)
}

/// A certificate is not replaced: it may be the only copy of an older one.
fn not_exported(file: &Path, error: &WriteError) -> CommandError {
    let hint = match error {
        WriteError::Exists => "name another file, or move that one",
        WriteError::IsFolder => "name a file in it, such as `shop.pem`",
        WriteError::NotAPdf
        | WriteError::NoFolder
        | WriteError::Busy
        | WriteError::Changed
        | WriteError::Refused(_) => {
            return output::refused(file, error);
        }
    };
    CommandError::told(format!("{} was not written: {error}", file.display()), hint)
}

fn refuse_if_there(folder: &Path) -> Result<(), CommandError> {
    if crate::files::exists(&folder.join(keys::KEY)) {
        return Err(keys::already_there(folder));
    }
    Ok(())
}

fn show(folder: &Path, certificate: &ShopCertificate) {
    let (from, until) = certificate.validity();
    let issuer = certificate.issuer().unwrap_or_else(|| "itself".to_owned());
    anstream::println!("Name         {}", certificate.holder());
    anstream::println!("Issued by    {issuer}");
    anstream::println!(
        "Valid        {} to {}",
        from.date_naive(),
        until.date_naive()
    );
    anstream::println!("SHA-256      {}", certificate.fingerprint());
    anstream::println!("Kept in      {}", folder.display());
}
