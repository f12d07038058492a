//! How often the judgement errs, measured on repairs whose truth is known.
//!
//! Seeded, so that a run is the same again. Readings are drawn as the budget says:
//! an accuracy error uniform within its half-width, one for each run or the same in
//! both; rounding to the step of the display; normal scatter; a hand on the watch.

use rand::rngs::StdRng;
use rand::{RngExt, SeedableRng};

use super::change::Change;
use super::comparison::{Comparison, compare};
use super::dependence::{Common, Dependence};
use super::fixtures::fair;
use super::pairs::Pairs;
use super::scatter::Pool;
use super::uncertainty::{Errors, estimate};
use super::zone::{Outcome, outcome};
use crate::job::{Better, Bounds, DecisionRule, Improvement, Instrument, Scale};
use crate::quantity::{Quantity, Unit};

const JOBS: u32 = 40_000;
const RULE: DecisionRule = DecisionRule::Guarded;

/// How a shop measures, in seconds.
struct Bench {
    accuracy: f64,
    resolution: f64,
    hand: f64,
    scatter: f64,
    repeats: usize,
    /// Accuracy as a share of the reading.
    share: f64,
    /// Whether the errors of the instrument are the same in both runs.
    common: bool,
    /// Scatter that a pair of repeats has in common; with any, they are paired.
    pair: f64,
}

impl Bench {
    fn instrument(&self) -> Instrument {
        let error = |value: f64, unit| {
            let error = Quantity::new(value, Unit::named(unit)?).ok();
            error.filter(|error| error.written() > 0.0)
        };
        Instrument {
            id: "i".into(),
            kind: "simulated".into(),
            serial: None,
            unit: Unit::named("s").unwrap(),
            accuracy: error(self.accuracy, "s"),
            accuracy_of_reading: error(self.share * 100.0, "%"),
            resolution: error(self.resolution, "s"),
            hand_timing: error(self.hand, "s"),
            stated: None,
            common_error: self.common.then(|| "the same probe".into()),
            calibrated: None,
            due: None,
            certificate: None,
            laboratory: None,
        }
    }

    /// The errors of the instrument: a fixed one, and one in proportion.
    fn errors(&self, rng: &mut StdRng) -> [f64; 2] {
        let fixed = self.accuracy * rng.random_range(-1.0..=1.0);
        let share = if self.share > 0.0 {
            self.share * rng.random_range(-1.0..=1.0)
        } else {
            0.0
        };
        [fixed, share]
    }

    /// Readings of something whose true value is `truth`.
    fn read(
        &self,
        truth: f64,
        [fixed, share]: [f64; 2],
        places: &[f64],
        rng: &mut StdRng,
    ) -> Vec<Quantity> {
        let error = fixed + share * truth;
        // Where the truth lies between two steps is not known either.
        let offset = self.resolution * rng.random_range(-0.5..=0.5);
        places
            .iter()
            .map(|place| {
                let raw = truth
                    + place
                    + error
                    + self.hand * normal(rng)
                    + self.scatter * normal(rng)
                    + offset;
                let shown = if self.resolution > 0.0 {
                    ((raw / self.resolution).round() * self.resolution) - offset
                } else {
                    raw
                };
                Quantity::new(shown, Unit::named("s").unwrap()).unwrap()
            })
            .collect()
    }

    fn compare(&self, before: f64, after: f64, limit: f64, rng: &mut StdRng) -> Comparison {
        let instrument = self.instrument();
        let errors = Errors {
            instrument: Some(&instrument),
            ..Errors::default()
        };
        let unit = Unit::named("s").unwrap();
        let scale = Scale {
            unit,
            better: Some(Better::Lower),
            bounds: Bounds::new(None, Quantity::new(limit, unit).ok()),
            // Just what the repair truly brought.
            by: None,
            should: None,
            as_printed: None,
            before: None,
            improvement: (before > after)
                .then(|| Quantity::new(before - after, unit).ok())
                .flatten()
                .map(Improvement::By),
            pressure: None,
            bands: None,
        };
        let first = self.errors(rng);
        let places: Vec<f64> = (0..self.repeats)
            .map(|_| {
                if self.pair > 0.0 {
                    self.pair * normal(rng)
                } else {
                    0.0
                }
            })
            .collect();
        let readings = self.read(before, first, &places, rng);
        let second = if self.common { first } else { self.errors(rng) };
        let again = self.read(after, second, &places, rng);
        let si = |values: &[Quantity]| values.iter().map(Quantity::si).collect::<Vec<_>>();
        let runs = [&[si(&readings)], &[si(&again)]];
        let runs = runs.each_ref().map(|groups| groups.as_slice());
        let pool = if self.pair > 0.0 {
            Pool::apart(runs)
        } else {
            Pool::of(runs, self.resolution)
        };
        let together = Dependence {
            common: Common::of([(&readings, errors), (&again, errors)]),
            pairs: if self.pair > 0.0 {
                Pairs::of(&readings, &again)
            } else {
                None
            },
            pooled: !pool.kept_apart,
            over_others: false,
        };
        let of = |run: usize| Errors {
            scatter: pool.runs[run],
            ..errors
        };
        let (baseline, retest) = (estimate(&readings, of(0)), estimate(&again, of(1)));
        compare(baseline, retest, together, &scale, fair(RULE))
    }
}

/// A normal deviate by the polar method of Box, Muller and Marsaglia.
fn normal(rng: &mut StdRng) -> f64 {
    loop {
        let (x, y): (f64, f64) = (rng.random_range(-1.0..1.0), rng.random_range(-1.0..1.0));
        let s = x * x + y * y;
        if s > 0.0 && s < 1.0 {
            return x * (-2.0 * s.ln() / s).sqrt();
        }
    }
}

fn benches() -> Vec<(&'static str, Bench)> {
    let bench = |accuracy, resolution, hand, scatter, repeats| Bench {
        accuracy,
        resolution,
        hand,
        scatter,
        repeats,
        share: 0.0,
        common: false,
        pair: 0.0,
    };
    vec![
        ("accuracy only, one reading", bench(0.2, 0.0, 0.0, 0.0, 1)),
        (
            "accuracy and display, one reading",
            bench(0.1, 0.1, 0.0, 0.0, 1),
        ),
        ("timed by hand, one reading", bench(0.0, 0.1, 0.10, 0.0, 1)),
        (
            "timed by hand, three readings",
            bench(0.0, 0.1, 0.10, 0.0, 3),
        ),
        ("scatter, two readings", bench(0.0, 0.0, 0.0, 0.3, 2)),
        ("scatter, three readings", bench(0.0, 0.0, 0.0, 0.3, 3)),
        (
            "scatter and a little accuracy, two readings",
            bench(0.1, 0.0, 0.0, 0.3, 2),
        ),
        (
            "scatter and a little accuracy, three readings",
            bench(0.1, 0.0, 0.0, 0.3, 3),
        ),
        (
            "scatter and accuracy, three readings",
            bench(0.2, 0.1, 0.0, 0.2, 3),
        ),
        ("scatter, ten readings", bench(0.05, 0.01, 0.0, 0.3, 10)),
        (
            "scatter and a large accuracy common to both runs, three readings",
            Bench {
                common: true,
                ..bench(1.0, 0.1, 0.0, 0.2, 3)
            },
        ),
        (
            "display, and an accuracy in proportion common to both runs, one reading",
            Bench {
                share: 0.05,
                common: true,
                ..bench(0.5, 0.1, 0.0, 0.0, 1)
            },
        ),
        (
            "six places that differ by far more than the scatter, in pairs",
            Bench {
                pair: 3.0,
                ..bench(0.05, 0.01, 0.0, 0.2, 6)
            },
        ),
    ]
}

/// 2.5 % is meant. Keeping scatters apart that differ by chance alone, as one pair in a
/// hundred does, costs some of it where there are only two readings in each run.
fn allowed() -> f64 {
    0.03
}

#[test]
fn a_repair_that_did_nothing_is_rarely_called_an_improvement() {
    for (index, (name, bench)) in benches().into_iter().enumerate() {
        let mut rng = StdRng::seed_from_u64(20_260_101 + index as u64);
        let claimed = (0..JOBS)
            .filter(|_| bench.compare(10.0, 10.0, 5.0, &mut rng).change == Some(Change::Improved))
            .count();
        let rate = claimed as f64 / f64::from(JOBS);
        println!(
            "{name}: claimed in {:.2} % of {JOBS} repairs that did nothing",
            rate * 100.0
        );
        assert!(rate <= allowed(), "{name}: {rate}");
    }
}

#[test]
fn a_machine_exactly_at_its_limit_rarely_passes_guarded() {
    for (index, (name, bench)) in benches().into_iter().enumerate() {
        let mut rng = StdRng::seed_from_u64(20_260_201 + index as u64);
        let passed = (0..JOBS)
            .filter(|_| {
                let after = bench.compare(10.0, 5.0, 5.0, &mut rng).after.unwrap();
                outcome(after.zone, RULE) == Outcome::Pass
            })
            .count();
        let rate = passed as f64 / f64::from(JOBS);
        println!(
            "{name}: passed in {:.2} % of {JOBS} machines at the limit",
            rate * 100.0
        );
        assert!(rate <= allowed(), "{name}: {rate}");
    }
}

/// What was asked is just what was got: half of all readings say so, but a pass must
/// be clear of the uncertainty of the change.
#[test]
fn an_improvement_exactly_as_required_rarely_passes_guarded() {
    for (index, (name, bench)) in benches().into_iter().enumerate() {
        let mut rng = StdRng::seed_from_u64(20_260_401 + index as u64);
        let passed = (0..JOBS)
            .filter(|_| {
                let gain = bench.compare(10.0, 6.0, 5.0, &mut rng).gain.unwrap();
                outcome(gain.standing.unwrap().zone, RULE) == Outcome::Pass
            })
            .count();
        let rate = passed as f64 / f64::from(JOBS);
        println!(
            "{name}: passed in {:.2} % of {JOBS} repairs that brought just what was asked",
            rate * 100.0
        );
        assert!(rate <= allowed(), "{name}: {rate}");
    }
}

/// How often a true change of twice its uncertainty is seen; a judgement that
/// never claims anything would pass the tests above.
#[test]
fn a_change_of_twice_its_uncertainty_is_seen() {
    for (index, (name, bench)) in benches().into_iter().enumerate() {
        let mut rng = StdRng::seed_from_u64(20_260_301 + index as u64);
        let typical: f64 = (0..200)
            .map(|_| bench.compare(10.0, 10.0, 5.0, &mut rng).difference.expanded)
            .sum::<f64>()
            / 200.0;
        let jobs = JOBS / 10;
        let seen = (0..jobs)
            .filter(|_| {
                let found = bench.compare(10.0, 10.0 - 2.0 * typical, 5.0, &mut rng);
                found.change == Some(Change::Improved)
            })
            .count();
        let power = seen as f64 / f64::from(jobs);
        println!("{name}: a change of 2 U seen in {:.1} %", power * 100.0);
        assert!(power > 0.8, "{name}: {power}");
    }
}
