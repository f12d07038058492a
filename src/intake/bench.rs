//! What the readings of a run are checked against.

use super::problem::Problems;
use super::spelling::{listed, nearest};
use super::toml_document::Document;
use crate::job::{Instrument, Limits, Meter};
use crate::quantity::Dimension;

/// What the readings of a run are checked against.
pub struct Bench<'a> {
    pub instruments: &'a [Instrument],
    pub meter: Option<Meter>,
    pub limits: &'a Limits,
}

impl Bench<'_> {
    /// The instrument called `id`, which must measure `dimension`.
    pub fn check_instrument(
        &self,
        document: &Document,
        path: &[&str],
        id: &str,
        dimension: Dimension,
        problems: &mut Problems,
    ) {
        let Some(instrument) = self.instruments.iter().find(|known| known.id == id) else {
            let ids: Vec<&str> = self
                .instruments
                .iter()
                .map(|known| known.id.as_str())
                .collect();
            let hint = match nearest(id, &ids) {
                Some(near) => format!("did you mean `{near}`?"),
                None if ids.is_empty() => "add an `[[instrument]]` to job.toml".to_owned(),
                None => format!("job.toml has {}", listed(&ids)),
            };
            document.problem(
                path,
                format!("job.toml has no instrument `{id}`"),
                hint,
                problems,
            );
            return;
        };
        let measures = instrument.unit.dimension();
        if !measures.serves(dimension) {
            document.problem(
                path,
                format!("the instrument `{id}` measures {measures}, not {dimension}"),
                "name the instrument that gave this reading, or correct its unit in job.toml",
                problems,
            );
        }
    }
}
