//! Repairs whose truth is known: a shop that measures as its budget says, a machine that
//! varies, and a job in memory that takes their readings.

use std::collections::BTreeMap;

use rand::rngs::StdRng;
use rand::{RngExt, SeedableRng};
use retestify::intake::{self, Inputs, Media, SHOP_FILE, can_print};
use retestify::job::{Entry, Job, Observation, PerPosition, Run};
use retestify::quantity::{Quantity, Unit, digits_of};

/// How a shop measures one thing, in the unit of the measure.
#[derive(Debug, Clone, Copy)]
pub struct Bench {
    /// How many readings there are before the work, and after it.
    pub readings: [usize; 2],
    /// How much the machine differs from one run to the next: a standard deviation, as a
    /// share of the truth.
    pub run_to_run: f64,
    /// How much readings within a run scatter, as a share of the truth.
    pub scatter: f64,
    /// An accuracy of the instrument, ±.
    pub accuracy: f64,
    /// The step of its display; 0.000001 for as good as none.
    pub step: f64,
    /// The standard uncertainty of a finger on a stopwatch.
    pub hand: f64,
    /// Whether the error of the instrument is the same in both runs.
    pub common: bool,
    /// Whether each reading is a run of its own.
    pub separate: bool,
}

/// A bench of one reading each, without any error.
pub const PLAIN: Bench = Bench {
    readings: [1, 1],
    run_to_run: 0.0,
    scatter: 0.0,
    accuracy: 0.0,
    step: 1e-6,
    hand: 0.0,
    common: false,
    separate: false,
};

impl Bench {
    /// The readings of both runs of something that truly was and is `truth`.
    pub fn read(&self, truth: [f64; 2], rng: &mut StdRng) -> [Vec<f64>; 2] {
        let bias = self.accuracy * rng.random_range(-1.0..=1.0);
        let other = self.accuracy * rng.random_range(-1.0..=1.0);
        let biases = [bias, if self.common { bias } else { other }];
        [0, 1].map(|run| {
            let vary = |rng: &mut StdRng| truth[run].abs() * self.run_to_run * normal(rng);
            let night = vary(rng);
            let one = |rng: &mut StdRng| {
                let state = if self.separate { vary(rng) } else { night };
                let scatter = truth[run].abs() * self.scatter * normal(rng);
                let read = truth[run] + state + scatter + biases[run] + self.hand * normal(rng);
                (read / self.step).round() * self.step
            };
            (0..self.readings[run]).map(|_| one(rng)).collect()
        })
    }

    /// The instrument, as its table in job.toml states its errors.
    pub fn instrument(&self, unit: &str) -> String {
        let mut table = format!(
            "[[instrument]]\nid = \"tool\"\nkind = \"Simulated\"\nunit = \"{unit}\"\n\
             resolution = {:?}\n",
            self.step
        );
        if self.accuracy > 0.0 {
            table += &format!("accuracy = {:?}\n", self.accuracy);
        }
        if self.hand > 0.0 {
            table += &format!("hand_timing_seconds = {:?}\n", self.hand);
        }
        if self.common {
            table += "common_error = \"The same meter, not touched\"\n";
        }
        table
    }
}

/// A normal deviate by the polar method of Box, Muller and Marsaglia.
pub fn normal(rng: &mut StdRng) -> f64 {
    loop {
        let (x, y): (f64, f64) = (rng.random_range(-1.0..1.0), rng.random_range(-1.0..1.0));
        let s = x * x + y * y;
        if s > 0.0 && s < 1.0 {
            return x * (-2.0 * s.ln() / s).sqrt();
        }
    }
}

/// A source of chance that gives the same again.
pub fn seeded(seed: u64) -> StdRng {
    StdRng::seed_from_u64(seed)
}

/// A measure of a simulated job.
pub struct Simulated<'a> {
    pub id: &'a str,
    pub unit: &'a str,
    /// Keys of its table besides `id`, `name`, `kind`, `unit` and `source`.
    pub keys: &'a str,
    /// How many cylinders it has; 0 for one value.
    pub cylinders: usize,
}

/// A job in memory with these measures, each with a reading of 1 for now, by the rule
/// `guarded`.
pub fn job(instruments: &str, measures: &[Simulated<'_>]) -> Job {
    job_at("cylinders", "", instruments, measures)
}

/// The same with its positions called `at`, which `plan` makes; they are numbered from 1.
pub fn job_at(at: &str, plan: &str, instruments: &str, measures: &[Simulated<'_>]) -> Job {
    let positions = at;
    let mut limits = format!("format = 1\ndecision_rule = \"guarded\"\n{plan}\n");
    let mut readings = String::new();
    let mut most = 1;
    for measure in measures {
        let Simulated { id, unit, keys, .. } = measure;
        let by_cylinder = measure.cylinders > 0;
        let at = if by_cylinder {
            format!("at = \"{positions}\"\n")
        } else {
            String::new()
        };
        limits += &format!(
            "\n[[measure]]\nid = \"{id}\"\nname = \"Measure {id}\"\nkind = \"value\"\n{at}\
             unit = \"{unit}\"\nsource = \"Agreed\"\n{keys}\n"
        );
        let value = if by_cylinder {
            most = most.max(measure.cylinders);
            let rows = (1..=measure.cylinders).map(|n| format!("{{ at = {n}, value = 1 }}"));
            format!("rows = [ {} ]", rows.collect::<Vec<_>>().join(", "))
        } else {
            "value = 1".to_owned()
        };
        // Without an instrument, what it is read with errs by a tenth of a thousandth.
        let errors = if instruments.is_empty() {
            "uncertainty = 0.0001"
        } else {
            "instrument = \"tool\""
        };
        if keys.contains("worked_out") {
            continue;
        }
        readings += &format!("\n[reading.{id}]\n{value}\nunit = \"{unit}\"\n{errors}\n");
    }
    let run = |day: u32| {
        format!(
            "format = 1\nstarted = 2026-03-{day:02}T07:00:00+00:00\nby = \"A. Fitter\"\n{readings}"
        )
    };
    let files: [(&str, String); 5] = [
        (
            "job.toml",
            format!(
                "format = 1\njob = \"S-1\"\ncomplaint = \"Simulated\"\n\n[customer]\n\
                 name = \"Nobody\"\n\n[machine]\nname = \"Simulated\"\ncylinders = {most}\n\n\
                 {instruments}"
            ),
        ),
        ("limits.toml", limits),
        ("baseline.toml", run(2)),
        (
            "work.toml",
            "format = 1\nstarted = 2026-03-03T08:00:00+00:00\n\
             finished = 2026-03-04T16:00:00+00:00\nby = \"A. Fitter\"\n\n[[intervention]]\n\
             what = \"Nothing, or a cure\"\n"
                .to_owned(),
        ),
        ("retest.toml", run(5)),
    ];
    let files: BTreeMap<String, Vec<u8>> = files
        .into_iter()
        .map(|(name, text)| (name.to_owned(), text.into_bytes()))
        .collect();
    let shop = b"format = 1\nname = \"Fitter & Daughter\"\n".to_vec();
    let inputs = Inputs {
        job: &files,
        shop: &BTreeMap::from([(SHOP_FILE.to_owned(), shop)]),
    };
    match intake::read_job(inputs, &can_print, Media::Ignored) {
        Ok(read) => read.job,
        Err(problems) => panic!("{problems:?}"),
    }
}

/// Puts the values of both runs in place of those of `id`, written to the step.
pub fn fill(job: &mut Job, id: &str, unit: &str, values: [Vec<f64>; 2], step: f64) {
    let [before, after] = values.map(|values| Observation::Value(written(values, unit, step)));
    put(&mut job.baseline, id, before);
    put(&mut job.retest, id, after);
}

/// The same of each cylinder.
pub fn fill_cylinders(job: &mut Job, id: &str, unit: &str, each: &[[Vec<f64>; 2]], step: f64) {
    let of = |run: usize| {
        let all = each.iter().map(|values| match values[run].as_slice() {
            [] => Entry::NotTaken("Not read".to_owned()),
            read => Entry::Taken(written(read.to_vec(), unit, step)),
        });
        Observation::ValueAt(PerPosition::new(all.collect()))
    };
    put(&mut job.baseline, id, of(0));
    put(&mut job.retest, id, of(1));
}

fn put(run: &mut Run, id: &str, observation: Observation) {
    run.readings.get_mut(id).unwrap().observation = observation;
}

fn written(values: Vec<f64>, unit: &str, step: f64) -> Vec<Quantity> {
    let unit = Unit::named(unit).unwrap();
    let places = (-step.log10()).ceil().max(0.0) as usize;
    let all = values.into_iter().map(|value| {
        let text = format!("{value:.places$}");
        let quantity = Quantity::new(text.parse().unwrap(), unit).unwrap();
        quantity.with_digits(digits_of(&text))
    });
    all.collect()
}
