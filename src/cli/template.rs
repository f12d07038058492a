//! A shop's own template files: `report --template FOLDER`.

use std::path::{Path, PathBuf};

use super::Stop;
use crate::files::{Folder, ReadFault, Source};
use crate::render::{RenderFault, Template, TemplateFault};

/// The largest template file that is read, in bytes.
const FILE_LIMIT: u64 = 1 << 20;

/// The template of a document, and where it comes from.
#[derive(Default)]
pub struct Pages {
    /// The template.
    pub template: Template,
    /// The folder of the shop's own files.
    folder: Option<PathBuf>,
}

impl Pages {
    /// The built-in template, with the files of `folder` in place of its own.
    pub fn read(folder: Option<&Path>) -> Result<Self, Stop> {
        Ok(Self {
            template: folder.map(read).transpose()?.unwrap_or_default(),
            folder: folder.map(Path::to_path_buf),
        })
    }

    /// What is wrong in a template, and what to do.
    pub fn fault(&self, fault: &RenderFault) -> Stop {
        match &self.folder {
            Some(folder) => own_fault(folder, fault),
            None => built_in_fault(fault),
        }
    }
}

/// Why a page of the built-in template could not be set.
pub fn built_in_fault(fault: &RenderFault) -> Stop {
    Stop::told(
        format!("the page template does not work:\n{fault}"),
        "this is a fault of the program; please report it with the lines above",
    )
}

/// The built-in template with the files of `folder` in place of its own.
fn read(folder: &Path) -> Result<Template, Stop> {
    let cannot = |name: &str, fault: &ReadFault| {
        Stop::told(
            format!("{} cannot be read: {fault}", folder.join(name).display()),
            "name a folder with template files, such as theme.typ, that you may read",
        )
    };
    let source = Folder::open(folder).map_err(|fault| cannot("", &fault))?;
    let names = source.names().map_err(|fault| cannot("", &fault))?;
    let known: Vec<&str> = Template::replaceable().collect();
    let mut template = Template::default();
    let mut replaced = 0;
    for name in names.iter().filter(|name| name.ends_with(".typ")) {
        let path = folder.join(name);
        let input = source
            .read(name, FILE_LIMIT)
            .map_err(|fault| cannot(name, &fault))?;
        let text = String::from_utf8(input.bytes).map_err(|_| {
            Stop::told(
                format!("{} is not UTF-8 text", path.display()),
                "save it as UTF-8 in your editor",
            )
        })?;
        template.replace(name, text).map_err(|fault| match fault {
            TemplateFault::Unknown => Stop::told(
                format!("{} takes the place of no file", path.display()),
                format!("give it one of these names: {}", known.join(", ")),
            ),
            TemplateFault::Fixed => Stop::told(
                format!(
                    "{} cannot be replaced: the program relies on it",
                    path.display()
                ),
                "change report.typ instead",
            ),
        })?;
        replaced += 1;
    }
    if replaced == 0 {
        return Err(Stop::told(
            format!("{} holds no template file", folder.display()),
            format!("put one of these into it: {}", known.join(", ")),
        ));
    }
    Ok(template)
}

/// What is wrong in a shop's own files.
fn own_fault(folder: &Path, fault: &RenderFault) -> Stop {
    Stop::told(
        format!(
            "the template in {} does not work:\n{fault}",
            folder.display()
        ),
        "correct that line; a file of your own must define whatever the built-in file of its \
         name defines. Nothing was written",
    )
}
