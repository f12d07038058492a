//! What the typesetter may see of one document.

use typst::foundations::Dict;

/// The sheets of one document. Beside the bundled fonts there is nothing else.
pub struct Sheets<'a> {
    /// The template file that is set.
    pub main: &'a str,
    /// The template, by file name, the main file among them.
    pub sources: Vec<(&'a str, &'a str)>,
    /// Files for the template to read, by path.
    pub files: Vec<(String, Vec<u8>)>,
    /// What the template finds as `sys.inputs`.
    pub inputs: Dict,
}
