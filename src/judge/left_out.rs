//! What is left out of a figure that is worked out over all positions, because it was not read.

use super::worked_out::Runs;
use crate::job::{Entry, Formula, InputOf, Measure, Observation};

/// The positions of one measure that are left out of a figure in one run.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LeftOut {
    /// The measure.
    pub measure: String,
    /// The names of the positions that were not read.
    pub positions: Vec<String>,
    /// How many were.
    pub read: usize,
}

impl<'a> Runs<'a> {
    /// What `formula` leaves out in the run `run`, itself or by the figures that it names.
    pub fn left_out(&self, formula: &Formula, run: usize) -> Vec<LeftOut> {
        let (mut all, mut seen) = (Vec::new(), Vec::new());
        self.add_left_out(formula, run, &mut seen, &mut all);
        all
    }

    /// Adds the same to `all`, without what is there already; each measure is `seen` once,
    /// however many figures name it.
    fn add_left_out(
        &self,
        formula: &Formula,
        run: usize,
        seen: &mut Vec<&'a str>,
        all: &mut Vec<LeftOut>,
    ) {
        for (index, part) in formula.parts.iter().enumerate() {
            let InputOf::Measure(id) = &part.of else {
                continue;
            };
            if formula.least_read.is_some() && formula.takes_all_of(index) {
                let new = self.not_read(id, run).filter(|one| !all.contains(one));
                all.extend(new);
            }
            let Some(measure) = self.plan.limits.measure(id) else {
                continue;
            };
            if let Some(behind) = &measure.worked_out
                && !seen.contains(&measure.id.as_str())
            {
                seen.push(&measure.id);
                self.add_left_out(behind, run, seen, all);
            }
        }
    }

    /// The same of the figure of `measure`, in each run that has one.
    pub fn left_out_of(&self, measure: &'a Measure) -> [Vec<LeftOut>; 2] {
        let Some(formula) = &measure.worked_out else {
            return [Vec::new(), Vec::new()];
        };
        [0, 1].map(|run| {
            let is_there = self.is_worked_out(measure, formula, run).contains(&true);
            if is_there {
                self.left_out(formula, run)
            } else {
                Vec::new()
            }
        })
    }

    /// The positions of the measure `id` that were not read in the run `run`, where some were.
    fn not_read(&self, id: &str, run: usize) -> Option<LeftOut> {
        let measure = self.plan.limits.measure(id)?;
        let at = measure.kind.at()?;
        let reading = self.runs[run]?.readings.get(id);
        let is_read: Vec<bool> = match (&measure.worked_out, reading.map(|it| &it.observation)) {
            (Some(formula), _) => self.is_worked_out(measure, formula, run),
            (None, Some(Observation::ValueAt(values))) => {
                let each = values.iter();
                each.map(|entry| matches!(entry, Entry::Taken(_))).collect()
            }
            (None, _) => return None,
        };
        let positions: Vec<String> = at
            .names
            .iter()
            .zip(&is_read)
            .filter(|(_, is_read)| !**is_read)
            .map(|(name, _)| name.clone())
            .collect();
        (!positions.is_empty()).then(|| LeftOut {
            measure: id.to_owned(),
            read: is_read.len() - positions.len(),
            positions,
        })
    }
}
