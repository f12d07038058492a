//! The typesetter's world for the page in a browser, which must set the very pages that the
//! program sets (`library_world`).
//!
//! `typst-as-lib` cannot serve there: whenever it makes a world it asks the system for the
//! date, and in a browser only a script can answer that. The compiled part of the page may
//! call nothing outside it, or nobody could see from the page alone that it has no way out.

use std::collections::BTreeMap;

use typst::diag::{FileError, FileResult};
use typst::foundations::{Bytes, Datetime, Duration};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World};

use super::error::RenderError;
use super::fonts;
use super::sheets::Sheets;

/// What `set` makes in a world that has just these sheets.
///
/// # Errors
/// Those of `set`.
pub fn in_world<T>(
    sheets: &Sheets<'_>,
    set: impl FnOnce(&dyn World) -> Result<T, RenderError>,
) -> Result<T, RenderError> {
    let sources = sheets.sources.iter().map(|(name, text)| {
        let source = Source::new(id(name), (*text).to_owned());
        ((*name).to_owned(), source)
    });
    let files = sheets.files.iter();
    let standard = Library::builder().with_inputs(sheets.inputs.clone());
    let fonts = fonts::loaded();
    let made = set(&OwnWorld {
        standard: LazyHash::new(standard.build()),
        book: LazyHash::new(FontBook::from_fonts(&fonts)),
        fonts,
        main: id(sheets.main),
        sources: sources.collect(),
        files: files
            .map(|(name, file)| (name.clone(), Bytes::new(file.clone())))
            .collect(),
    });
    // The typesetter remembers all that it laid out, for a next document that is alike. The page
    // stays open, and would grow with each document that is checked.
    comemo::evict(0);
    made
}

struct OwnWorld {
    standard: LazyHash<Library>,
    book: LazyHash<FontBook>,
    fonts: Vec<Font>,
    main: FileId,
    sources: BTreeMap<String, Source>,
    files: BTreeMap<String, Bytes>,
}

/// The id of a file that the program names itself.
fn id(name: &str) -> FileId {
    let path = VirtualPath::new(name).unwrap_or_else(|_| unreachable!("{name} is a plain path"));
    RootedPath::new(VirtualRoot::Project, path).intern()
}

/// What is found under `id`, which may not be in a package.
fn find<T: Clone>(found: &BTreeMap<String, T>, id: FileId) -> FileResult<T> {
    let name = id.vpath().get_without_slash();
    let missing = || FileError::NotFound(name.into());
    match id.root() {
        VirtualRoot::Project => found.get(name).cloned().ok_or_else(missing),
        VirtualRoot::Package(_) => Err(missing()),
    }
}

impl World for OwnWorld {
    fn library(&self) -> &LazyHash<Library> {
        &self.standard
    }

    fn book(&self) -> &LazyHash<FontBook> {
        &self.book
    }

    fn main(&self) -> FileId {
        self.main
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        find(&self.sources, id)
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        find(&self.files, id)
    }

    fn font(&self, index: usize) -> Option<Font> {
        self.fonts.get(index).cloned()
    }

    /// There is no clock, and no template of the program asks for one.
    fn today(&self, _: Option<Duration>) -> Option<Datetime> {
        None
    }
}

#[cfg(all(test, feature = "program"))]
mod tests {
    use chrono::DateTime;
    use typst::foundations::{Dict, IntoValue};

    use super::*;
    use crate::render::export::{Printed, export};
    use crate::render::library_world;

    /// A page with words in every font, a file, an input and an import.
    const MAIN: &str = r##"
        #import "part.typ": accent
        #set document(title: "Trial", date: datetime(year: 2026, month: 1, day: 5))
        #set text(font: "Source Sans 3", fill: rgb(accent), lang: "en")
        = Crank time
        #json("data.json").map(str).join(", ") _slanted_ *firm*
        #text(font: "Source Serif 4")[fi 12.5 ± 0.1 s] #text(font: "Source Code Pro")[0aF]
        #text(font: "Source Serif 4", weight: 600)[firm]
        #table(columns: 2, table.header[a][b], [1], [2])
    "##;
    const PART: &str = r##"#let accent = sys.inputs.at("accent", default: "#000000")"##;

    fn sheets<'a>(main: &'a str, accent: Option<&str>) -> Sheets<'a> {
        let mut inputs = Dict::new();
        if let Some(accent) = accent {
            inputs.insert("accent".into(), accent.into_value());
        }
        Sheets {
            main: "main.typ",
            sources: vec![("main.typ", main), ("part.typ", PART)],
            files: vec![("data.json".to_owned(), b"[11.9, 2.4]".to_vec())],
            inputs,
        }
    }

    fn both(sheets: &Sheets<'_>) -> [Result<Vec<u8>, RenderError>; 2] {
        let set = |world: &dyn World| export(world, DateTime::default());
        let bytes = |printed: Result<Printed, RenderError>| printed.map(|printed| printed.bytes);
        [
            bytes(library_world::in_world(sheets, set)),
            bytes(in_world(sheets, set)),
        ]
    }

    #[test]
    fn it_sets_the_same_bytes_as_the_program_does() {
        for accent in [None, Some("#274b6d")] {
            let [program, page] = both(&sheets(MAIN, accent));
            let program = program.unwrap();
            assert!(program.starts_with(b"%PDF-"));
            assert_eq!(page.unwrap(), program, "{accent:?}");
        }
    }

    #[test]
    fn it_refuses_in_the_same_words() {
        for main in ["#nothing", "#import \"gone.typ\": a", "#read(\"gone\")"] {
            let [program, page] = both(&sheets(main, None));
            assert_eq!(page.unwrap_err(), program.unwrap_err(), "{main}");
        }
    }
}
