//! The repeats of a reading: what lies beside each other to scatter, and the step in which
//! it was read.

use super::uncertainty::{named, si_of};
use crate::job::{Instrument, Observation, Reading};
use crate::quantity::Quantity;

/// The repeats of one reading.
pub struct Repeats<'a> {
    /// The values about one figure each: those of the reading, or of each position; of smoke,
    /// its opacities.
    pub groups: Vec<&'a [Quantity]>,
    /// The largest of the display's step and the last digit that was written, in SI units.
    pub step: f64,
}

impl<'a> Repeats<'a> {
    /// The repeats of `reading`.
    pub fn of(instruments: &[Instrument], reading: &'a Reading) -> Self {
        let groups: Vec<&[Quantity]> = match &reading.observation {
            Observation::Value(values) => vec![values],
            Observation::ValueAt(values) => values.taken().map(Vec::as_slice).collect(),
            Observation::Smoke(smoke) if !smoke.opacity.is_empty() => vec![&smoke.opacity],
            Observation::Smoke(_)
            | Observation::Passes(_)
            | Observation::PassesAt(_)
            | Observation::Exact(_)
            | Observation::ExactAt(_)
            | Observation::Rate(_)
            | Observation::List(_)
            | Observation::Text(_)
            | Observation::NotTaken(_) => Vec::new(),
        };
        let instrument = named(instruments, reading.instrument.as_deref());
        let shown = instrument.map(|instrument| si_of(instrument.resolution));
        let written = groups.iter().copied().flatten().filter_map(Quantity::step);
        let step = written.chain(shown).fold(0.0, f64::max);
        Self { groups, step }
    }

    /// The values in SI units.
    pub fn si(&self) -> Vec<Vec<f64>> {
        let si = |group: &&[Quantity]| group.iter().map(Quantity::si).collect();
        self.groups.iter().map(si).collect()
    }
}
