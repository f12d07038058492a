//! The typesetter's world, as `typst-as-lib` makes it.

use typst::World;
use typst_as_lib::TypstEngine;

use super::error::RenderError;
use super::fonts;
use super::sheets::Sheets;

/// What `set` makes in a world that has just these sheets.
///
/// # Errors
/// Those of `set`, and [`RenderError`] when there can be no such world.
pub fn in_world<T>(
    sheets: &Sheets<'_>,
    set: impl FnOnce(&dyn World) -> Result<T, RenderError>,
) -> Result<T, RenderError> {
    let (main, others): (Vec<_>, Vec<_>) = sheets
        .sources
        .iter()
        .copied()
        .partition(|(name, _)| *name == sheets.main);
    let main = main.first().unwrap_or_else(|| unreachable!("no main file"));
    let files = sheets.files.iter();
    let engine = TypstEngine::builder()
        .main_file(*main)
        .fonts(fonts::loaded())
        .with_static_source_file_resolver(others)
        .with_static_file_resolver(files.map(|(path, bytes)| (path.as_str(), bytes.as_slice())))
        .build();
    let world = engine.world_builder().with_inputs(sheets.inputs.clone());
    let world = world.build().map_err(|error| RenderError {
        errors: vec![error.to_string()],
    })?;
    set(&world)
}
