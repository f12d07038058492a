//! Reading the text files, each once.

use schemars::JsonSchema;
use serde::de::DeserializeOwned;

use super::problem::{Problems, what_to_do};
use super::toml_document::Document;
use super::{Inputs, Parsed, Printable, SHOP_FILE, TEXT_LIMIT, shapes, shop};
use crate::files::{Input, ReadError, look_alike};
use crate::job::{JobFile, Shop};

/// Reads files, and keeps them as they were read, with what is wrong in them.
pub struct Reader<'a> {
    inputs: Inputs<'a>,
    printable: &'a Printable<'a>,
    wanted: &'a [JobFile],
    pub texts: Vec<Input>,
    pub problems: Problems,
}

impl<'a> Reader<'a> {
    /// A reader of the files that are `wanted`.
    pub fn new(inputs: Inputs<'a>, printable: &'a Printable<'a>, wanted: &'a [JobFile]) -> Self {
        Self {
            inputs,
            printable,
            wanted,
            texts: Vec::new(),
            problems: Problems::default(),
        }
    }

    /// The shop's particulars, with the document they come from.
    pub fn shop(&mut self) -> Option<(Document, Shop)> {
        match self.inputs.shop.read(SHOP_FILE, TEXT_LIMIT) {
            Err(ReadError::Missing) => {
                self.problems.not_in_file(
                    SHOP_FILE,
                    "there is no shop.toml in the job folder or above it",
                    "write one with at least `format = 1` and `name = \"…\"`; `retestify init` \
                     makes an example",
                );
                None
            }
            read => {
                let (document, shape) = self.parse::<shapes::ShopFile>(SHOP_FILE, read)?;
                let shop = shop::shop(&document, shape, &mut self.problems)?;
                Some((document, shop))
            }
        }
    }

    /// What `file` says, if it is wanted and can be read.
    pub fn file<T: DeserializeOwned + JsonSchema>(&mut self, file: JobFile) -> Parsed<T> {
        if !self.wanted.contains(&file) {
            return None;
        }
        let read = self.inputs.job.read(file.name(), TEXT_LIMIT);
        self.parse(file.name(), read)
    }

    fn parse<T: DeserializeOwned + JsonSchema>(
        &mut self,
        name: &str,
        read: Result<Input, ReadError>,
    ) -> Parsed<T> {
        match read {
            Ok(input) => {
                let parsed = Document::read(
                    &input.name,
                    &input.bytes,
                    self.printable,
                    &mut self.problems,
                );
                self.texts.push(input);
                parsed
            }
            Err(ReadError::Missing) => {
                match look_alike(self.inputs.job, name) {
                    Some(other) => self.problems.of_file(
                        name,
                        format!("the file is called `{other}`"),
                        format!("rename it to `{name}`; some systems hide the end of a name"),
                    ),
                    None => self.problems.not_in_file(
                        name,
                        "the file is missing",
                        what_to_do(&ReadError::Missing),
                    ),
                }
                None
            }
            Err(problem) => {
                self.problems
                    .of_file(name, problem.to_string(), what_to_do(&problem));
                None
            }
        }
    }
}
