//! Where the signing identity is kept, and where its passphrase comes from.

use std::env;
use std::io;
use std::path::{Path, PathBuf};

use etcetera::app_strategy::{AppStrategy, AppStrategyArgs, choose_native_strategy};
use zeroize::Zeroizing;

use super::CommandError;
use super::args::SigningArgs;
use crate::files::{self, WriteError};
use crate::signature::{Identity, IdentityError, Salt, ShopCertificate};

/// The files of an identity in its folder.
pub const KEY: &str = "key.pem";
pub const CERTIFICATE: &str = "certificate.pem";
/// The variables that may name the folder, and give the passphrase.
const FOLDER_VARIABLE: &str = "RETESTIFY_IDENTITY";
pub const PASSPHRASE_VARIABLE: &str = "RETESTIFY_PASSPHRASE";
/// The largest key or certificate file, in bytes.
const LIMIT: u64 = 1 << 20;
/// What is asked in the terminal before anything is signed.
const QUESTION: &str = "Passphrase of the signing key: ";
/// What to do where a passphrase was needed and nothing was typed.
const AGAIN: &str = "run the command again, and type one";
/// The least number of letters of a new passphrase.
const FEWEST: usize = 8;

/// The folder of the identity: the one given, or where this platform keeps such data.
pub fn folder(told: Option<&Path>) -> Result<PathBuf, CommandError> {
    if let Some(path) = told {
        return Ok(path.to_path_buf());
    }
    if let Some(path) = env::var_os(FOLDER_VARIABLE).filter(|path| !path.is_empty()) {
        return Ok(PathBuf::from(path));
    }
    let strategy = choose_native_strategy(AppStrategyArgs {
        top_level_domain: String::new(),
        author: String::new(),
        app_name: "retestify".to_owned(),
    })
    .map_err(|_| {
        CommandError::told(
            "this account has no home folder to keep the identity in",
            format!("name a folder with `--identity` or {FOLDER_VARIABLE}"),
        )
    })?;
    Ok(strategy.data_dir().join("identity"))
}

/// The passphrase with which documents can be made without a question later: none is needed
/// where there is no identity, and one is asked for now if `ask`. Nothing if it is not known.
pub fn beforehand(ask: bool) -> Result<Option<Zeroizing<String>>, CommandError> {
    let folder = folder(None)?;
    if !files::exists(&folder.join(KEY)) {
        if ask {
            return Err(CommandError::told(
                format!("there is no identity in {}", folder.display()),
                "make one with `retestify identity new NAME`; without `--sign` the form makes \
                 documents that are not signed",
            ));
        }
        return Ok(Some(Zeroizing::default()));
    }
    if !ask && env::var_os(PASSPHRASE_VARIABLE).is_none() {
        return Ok(None);
    }
    let without = "run the command again; without `--sign` the form shows the commands that sign";
    let identity = Kept::read(folder)?;
    let typed = passphrase(None, QUESTION, without)?;
    identity.open(&typed)?;
    Ok(Some(typed))
}

/// The identity to sign with; none if there is none or `--unsigned` was given.
pub fn to_sign(args: &SigningArgs) -> Result<Option<Identity>, CommandError> {
    if args.unsigned {
        return Ok(None);
    }
    let folder = folder(args.identity.as_deref())?;
    if !files::exists(&folder.join(KEY)) {
        // A folder that was named must contain an identity.
        if args.identity.is_some() {
            return Err(CommandError::told(
                format!("there is no identity in {}", folder.display()),
                "name the folder that `retestify identity new` made",
            ));
        }
        return Ok(None);
    }
    let identity = Kept::read(folder)?;
    let without =
        "run the command again; with `--unsigned` it makes the document without a signature";
    let passphrase = passphrase(args.passphrase_fd, QUESTION, without)?;
    identity.open(&passphrase).map(Some)
}

/// An identity as it is kept.
struct Kept {
    folder: PathBuf,
    key: Vec<u8>,
    certificate: Vec<u8>,
}

impl Kept {
    /// Reads the files in `folder`; the key is for nobody else to read.
    fn read(folder: PathBuf) -> Result<Self, CommandError> {
        let path = folder.join(KEY);
        if !files::is_private(&path) {
            return Err(CommandError::told(
                format!(
                    "{} can be read by other people on this machine",
                    path.display()
                ),
                format!("run `chmod 600 {}`", path.display()),
            ));
        }
        Ok(Self {
            key: read(&path)?,
            certificate: read(&folder.join(CERTIFICATE))?,
            folder,
        })
    }

    fn open(&self, passphrase: &str) -> Result<Identity, CommandError> {
        let text = String::from_utf8_lossy(&self.key);
        Identity::read(&text, &self.certificate, passphrase)
            .map_err(|error| cannot_use(&self.folder, &error))
    }
}

/// The certificate of the identity in `folder`.
pub fn certificate(folder: &Path) -> Result<ShopCertificate, CommandError> {
    let path = folder.join(CERTIFICATE);
    if !files::exists(&path) {
        return Err(CommandError::told(
            format!("there is no identity in {}", folder.display()),
            "make one with `retestify identity new NAME`",
        ));
    }
    ShopCertificate::read(&read(&path)?).map_err(|error| {
        CommandError::told(
            format!("{}: {error}", path.display()),
            "put back the certificate that belongs to the key in that folder",
        )
    })
}

/// Writes `identity` into `folder`, the key readable by nobody else.
pub fn store(identity: &Identity, folder: &Path, passphrase: &str) -> Result<(), CommandError> {
    let salt = Salt {
        salt: random()?,
        iv: random()?,
    };
    let key = identity
        .key_pem(passphrase, &salt)
        .map_err(|error| cannot_use(folder, &error))?;
    let certificates = identity.certificates_pem();
    let parts: [(&str, &[u8]); 2] = [
        (KEY, key.as_bytes()),
        (CERTIFICATE, certificates.as_bytes()),
    ];
    files::write_private(folder, parts).map_err(|error| match error {
        WriteError::Exists => already_there(folder),
        other => CommandError::told(
            format!("{} was not written: {other}", folder.display()),
            "check that you may write there",
        ),
    })
}

/// Refuses to write an identity where there already is one.
pub fn already_there(folder: &Path) -> CommandError {
    CommandError::told(
        format!("{} already holds an identity", folder.display()),
        "keep it: documents signed with it can only be recognised by it. To start over, move that \
         folder away, or name another with `--identity`",
    )
}

/// A new passphrase: typed twice where it is typed.
pub fn new_passphrase(fd: Option<u32>) -> Result<Zeroizing<String>, CommandError> {
    let first = passphrase(fd, "New passphrase (at least 8 characters): ", AGAIN)?;
    check_length(&first)?;
    let typed = fd.is_none() && env::var_os(PASSPHRASE_VARIABLE).is_none();
    if typed && *passphrase(None, "Repeat it: ", AGAIN)? != *first {
        return Err(CommandError::told(
            "the two passphrases are not the same",
            "nothing was written; try again",
        ));
    }
    Ok(first)
}

/// Whether a key may be kept under `passphrase`.
pub fn check_length(passphrase: &str) -> Result<(), CommandError> {
    if passphrase.chars().count() < FEWEST {
        return Err(CommandError::told(
            format!("the passphrase has fewer than {FEWEST} characters"),
            "use a few words that nobody would guess",
        ));
    }
    Ok(())
}

/// A passphrase from the descriptor, the environment, or the terminal; never from an
/// argument, which other people on the machine could see. `without` says what to do where
/// nothing is typed.
fn passphrase(
    fd: Option<u32>,
    question: &str,
    without: &str,
) -> Result<Zeroizing<String>, CommandError> {
    if let Some(fd) = fd {
        let bytes = files::read_descriptor(fd, LIMIT).map_err(|why| {
            CommandError::told(
                format!("no passphrase could be read from file descriptor {fd}: {why}"),
                "open it for reading, as in `--passphrase-fd 3 3<file`",
            )
        })?;
        let line = String::from_utf8_lossy(&bytes);
        return Ok(Zeroizing::new(
            line.lines().next().unwrap_or_default().to_owned(),
        ));
    }
    if let Ok(text) = env::var(PASSPHRASE_VARIABLE) {
        return Ok(Zeroizing::new(text));
    }
    match rpassword::prompt_password(question) {
        Ok(typed) if !typed.is_empty() => Ok(Zeroizing::new(typed)),
        // Only the Enter key, or Ctrl-D.
        Ok(_) => Err(nothing_typed(without)),
        Err(error) if error.kind() == io::ErrorKind::UnexpectedEof => Err(nothing_typed(without)),
        Err(_) => Err(CommandError::told(
            "a passphrase is needed, and there is no terminal to ask for it",
            format!("give it with `--passphrase-fd N` or in {PASSPHRASE_VARIABLE}"),
        )),
    }
}

fn nothing_typed(without: &str) -> CommandError {
    CommandError::told("no passphrase was typed, and nothing was written", without)
}

/// The passphrase of a file that is not this program's.
pub fn passphrase_of_file(fd: Option<u32>) -> Result<Zeroizing<String>, CommandError> {
    passphrase(fd, "Passphrase of that file: ", AGAIN)
}

/// Random bytes from the operating system.
pub fn random<const N: usize>() -> Result<[u8; N], CommandError> {
    let mut bytes = [0; N];
    getrandom::fill(&mut bytes).map_err(|error| {
        CommandError::told(
            format!("the operating system gives no random bytes: {error}"),
            "a key cannot be made without them",
        )
    })?;
    Ok(bytes)
}

/// Why an identity cannot be used, and what to do.
pub fn cannot_use(path: &Path, error: &IdentityError) -> CommandError {
    let hint = match error {
        IdentityError::Passphrase => "try again; a lost passphrase cannot be recovered",
        IdentityError::OtherKey => {
            "ask your certificate authority for a certificate for an EC P-256 key"
        }
        IdentityError::Pkcs12 => {
            "turn it into PEM with `openssl pkcs12 -in FILE.p12 -aes256 -out FILE.pem` (and \
             `-legacy` for an old file), and import that"
        }
        IdentityError::NotAKey | IdentityError::OtherCipher => {
            "use an encrypted key; `openssl pkcs8 -topk8 -v2 aes-256-cbc -in KEY -out KEY.pem` \
             makes one"
        }
        IdentityError::Incomplete => "put the key and its certificate into one PEM file",
        _ => "use the key and the certificate unchanged, as they were made",
    };
    CommandError::told(format!("{}: {error}", path.display()), hint)
}

fn read(path: &Path) -> Result<Vec<u8>, CommandError> {
    files::read_path(path, LIMIT).map_err(|error| {
        CommandError::told(
            format!("{} cannot be read: {error}", path.display()),
            "check that it is there and that you may read it",
        )
    })
}
