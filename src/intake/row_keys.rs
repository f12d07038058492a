//! The keys of a row of a reading at several positions: only those of its kind.

use super::problem::Problems;
use super::reading_context::Context;
use super::shapes::PositionRow;
use crate::job::{ExactScale, Kind};

/// The keys of a row that say what was read, and whether they are there.
fn given(row: &PositionRow) -> [(&'static str, bool); 6] {
    [
        ("value", row.value.is_some()),
        ("values", row.values.is_some()),
        ("passes", row.passes.is_some()),
        ("attempts", row.attempts.is_some()),
        ("grade", row.grade.is_some()),
        ("count", row.count.is_some()),
    ]
}

impl Context<'_> {
    /// A row that was not taken has no figures.
    pub fn row_not_taken_alone(&self, number: &str, row: &PositionRow, problems: &mut Problems) {
        for (key, _) in given(row).into_iter().filter(|(_, is_given)| *is_given) {
            self.problem(
                &["rows", number, key],
                format!("`{key}` cannot be combined with `not_taken`"),
                "delete one of the two",
                problems,
            );
        }
    }

    /// A key of another kind would be ignored without notice, so it is refused.
    pub fn row_fits_kind(&self, number: &str, row: &PositionRow, problems: &mut Problems) {
        let (fitting, example): (&[&str], &str) = match &self.measure.kind {
            Kind::ValueAt(_) => (&["value", "values"], "`value = …`"),
            Kind::PassesAt { .. } => (&["passes", "attempts"], "`passes` and `attempts`"),
            Kind::ExactAt(scales) => match &scales.common {
                ExactScale::Grades(_) => (&["grade"], "`grade = \"…\"`"),
                ExactScale::Counts(_) => (&["count"], "`count = …`"),
            },
            // These have no rows.
            Kind::Value(_)
            | Kind::Passes { .. }
            | Kind::Exact(_)
            | Kind::Rate(_)
            | Kind::List(_)
            | Kind::Smoke(_)
            | Kind::Text => return,
        };
        let given = given(row).into_iter();
        for (key, _) in given.filter(|(key, is_given)| *is_given && !fitting.contains(key)) {
            self.problem(
                &["rows", number, key],
                format!(
                    "`{key}` does not apply to the measure `{}`",
                    self.measure.id
                ),
                format!("a row of its kind has {example}"),
                problems,
            );
        }
    }
}
