//! A shop's own template files and wording: `--template FOLDER`.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use super::CommandError;
use crate::files::{Folder, ReadError, Source};
use crate::intake::Intake;
use crate::intake::can_print;
use crate::render::{RenderError, Template, TemplateError};
use crate::view::{LANGUAGES, Words, WordsError};

/// The largest template file that is read, in bytes.
const FILE_LIMIT: u64 = 1 << 20;

/// The template of a document, and where it comes from.
#[derive(Default)]
pub struct Pages {
    /// The template.
    pub template: Template,
    /// The folder of the shop's own files.
    folder: Option<PathBuf>,
    /// The shop's own wording, by language.
    words: BTreeMap<String, String>,
    /// All of the shop's own files by name, as they were read.
    pub own: BTreeMap<String, Vec<u8>>,
}

impl Pages {
    /// The built-in template, with the files of `folder` replacing its own.
    pub fn read(folder: Option<&Path>) -> Result<Self, CommandError> {
        folder.map_or_else(|| Ok(Self::default()), read)
    }

    /// The words for the shop that does the job.
    pub fn words<T>(&self, read: &Intake<T>) -> Result<Words, CommandError> {
        let tag = read.shop.language.as_str();
        // Words for `en` apply to `en-US` too; those for `en-US` override them.
        let primary = tag.split('-').next().unwrap_or(tag);
        let general = self.words.get(primary).filter(|_| primary != tag);
        let own: Vec<&str> = general
            .into_iter()
            .chain(self.words.get(tag))
            .map(String::as_str)
            .collect();
        if let (true, Some(other), Some(folder)) =
            (own.is_empty(), self.words.keys().next(), &self.folder)
        {
            return Err(CommandError::told(
                format!(
                    "{} has the wording for `{other}`, but shop.toml says `{tag}`",
                    folder.display()
                ),
                format!("rename the file to {tag}.ftl, or change `language` in shop.toml"),
            ));
        }
        match Words::of(tag, &own) {
            Ok(words) => Ok(words.with_second_units(read.shop.second_units)),
            Err(error @ WordsError::Unknown(_)) => {
                let known: Vec<&str> = LANGUAGES.iter().map(|(tag, _)| *tag).collect();
                let hint = format!(
                    "use one of {}; or translate report-templates/words/en.ftl into {tag}.ftl, \
                     put it into a folder, and name that with `--template`",
                    known.join(", ")
                );
                let error = error.to_string();
                Err(read
                    .shop_problem("language", error, hint, &can_print)
                    .into())
            }
            Err(error) => {
                let folder = self.folder.as_deref().unwrap_or(Path::new(""));
                let path = folder.join(format!("{tag}.ftl"));
                Err(CommandError::told(
                    format!("{} cannot be used: {error}", path.display()),
                    "report-templates/words/en.ftl lists every message with its variables",
                ))
            }
        }
    }

    /// What is wrong in a template, and what to do.
    pub fn error(&self, error: &RenderError) -> CommandError {
        match &self.folder {
            Some(folder) => own_error(folder, error),
            None => built_in_error(error),
        }
    }
}

/// Why a page of the built-in template could not be typeset.
pub fn built_in_error(error: &RenderError) -> CommandError {
    CommandError::told(
        format!("the page template does not work:\n{error}"),
        "this is a bug in the program; please report it with the lines above",
    )
}

/// The built-in template with the files of `folder` replacing its own, and the wording
/// found there.
fn read(folder: &Path) -> Result<Pages, CommandError> {
    let cannot = |name: &str, error: &ReadError| {
        CommandError::told(
            format!("{} cannot be read: {error}", folder.join(name).display()),
            "name a folder with template files, such as theme.typ, that you may read",
        )
    };
    let source = Folder::open(folder).map_err(|error| match error {
        ReadError::Missing => CommandError::told(
            format!("there is no folder {}", folder.display()),
            "name a folder with template files, such as theme.typ",
        ),
        ReadError::NotAFile => CommandError::told(
            format!("{} is not a folder", folder.display()),
            "name the folder that holds the template files, not a file in it",
        ),
        other => cannot("", &other),
    })?;
    let names = source.names().map_err(|error| cannot("", &error))?;
    let known: Vec<&str> = Template::replaceable().collect();
    let mut template = Template::default();
    let mut words = BTreeMap::new();
    let mut own = BTreeMap::new();
    let ours = |name: &&String| name.ends_with(".typ") || name.ends_with(".ftl");
    for name in names.iter().filter(ours) {
        let path = folder.join(name);
        let input = source
            .read(name, FILE_LIMIT)
            .map_err(|error| cannot(name, &error))?;
        let text = String::from_utf8(input.bytes.clone()).map_err(|_| {
            CommandError::told(
                format!("{} is not UTF-8 text", path.display()),
                "save it as UTF-8 in your editor",
            )
        })?;
        own.insert(name.clone(), input.bytes);
        if let Some(tag) = name.strip_suffix(".ftl") {
            check_letters(&path, &text)?;
            words.insert(tag.to_owned(), text);
            continue;
        }
        template.replace(name, text).map_err(|error| match error {
            TemplateError::Unknown => CommandError::told(
                format!("{} replaces no file of the template", path.display()),
                format!("use one of these names: {}", known.join(", ")),
            ),
            TemplateError::Fixed => CommandError::told(
                format!(
                    "{} cannot be replaced: the program relies on it",
                    path.display()
                ),
                "change report.typ instead",
            ),
        })?;
    }
    if own.is_empty() {
        return Err(CommandError::told(
            format!("{} has no template file in it", folder.display()),
            format!(
                "put one of these into it: {}; or a wording file, such as en.ftl",
                known.join(", ")
            ),
        ));
    }
    Ok(Pages {
        template,
        folder: Some(folder.to_path_buf()),
        words,
        own,
    })
}

/// Checks that every letter of a shop's own wording can be printed.
fn check_letters(path: &Path, text: &str) -> Result<(), CommandError> {
    let odd = |line: &str| line.chars().find(|c| *c != '\t' && !can_print(*c));
    let found = text
        .lines()
        .enumerate()
        .find_map(|(index, line)| Some((index + 1, odd(line)?)));
    found.map_or(Ok(()), |(line, odd)| {
        Err(CommandError::told(
            format!("{}: line {line}: `{odd}` cannot be printed", path.display()),
            "the fonts cover Latin, Greek, Cyrillic and Vietnamese; use only those letters",
        ))
    })
}

/// What is wrong in a shop's own files.
fn own_error(folder: &Path, error: &RenderError) -> CommandError {
    CommandError::told(
        format!(
            "the template in {} does not work:\n{error}",
            folder.display()
        ),
        "correct that line; your file must define everything that the built-in file of the same \
         name defines. Nothing was written",
    )
}
