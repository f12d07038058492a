//! How often figures that are worked out are judged wrongly: at their limit, and where
//! nothing changed. Whole jobs, seeded, as in `error_rates`; what chance does to the parts is
//! simulated from outside, as JCGM 101:2008 does, so that the rules of propagation are held
//! against it. `cargo test --release error_rates -- --nocapture` prints the table.

use rand::RngExt;
use rand::rngs::StdRng;
use retestify::job::Job;
use retestify::judge::{Change, MeasureFinding, Outcome, judge};

use crate::simulated::{Simulated, fill_cylinders, job, normal, seeded};

const JOBS: u32 = 6_000;

/// What is meant is 2.5 %.
const ALLOWED: f64 = 0.03;

const STEP: f64 = 1e-6;

/// A formula over the positions of one measure in volts, read with one meter.
struct Case {
    name: &'static str,
    formula: &'static str,
    /// What is true at the positions; the formula gives the limit for it.
    truth: &'static [f64],
    limit: &'static str,
    /// The meter's ±, and whether its error is one for all positions of a run.
    accuracy: f64,
    shared: bool,
    said: bool,
    /// How readings scatter, and how many there are at each position before and after.
    scatter: f64,
    repeats: [usize; 2],
    /// How many of the last positions were not read before and after.
    unread: [usize; 2],
}

/// A figure over parts that are read once with a meter as good as none.
const PLAIN: Case = Case {
    name: "",
    formula: "",
    truth: &[],
    limit: "",
    accuracy: 1e-6,
    shared: false,
    said: false,
    scatter: 0.0,
    repeats: [1, 1],
    unread: [0, 0],
};

const LOWEST: &str = "100 * lowest(parts) / highest(parts)";
const UNBALANCE: &str = "100 * greatest-deviation(parts) / mean(parts)";

const CASES: [Case; 14] = [
    Case {
        name: "lowest over highest of 3, own errors",
        formula: LOWEST,
        truth: &[75.0, 100.0, 90.0],
        limit: "min = 75",
        accuracy: 2.0,
        shared: false,
        said: false,
        ..PLAIN
    },
    Case {
        name: "lowest over highest of 6 that are alike, own errors",
        formula: LOWEST,
        truth: &[100.0; 6],
        limit: "min = 100",
        accuracy: 2.0,
        shared: false,
        said: false,
        ..PLAIN
    },
    Case {
        name: "unbalance of 3, own errors",
        formula: UNBALANCE,
        truth: &[400.0, 404.0, 396.0],
        limit: "max = 1",
        accuracy: 2.0,
        shared: false,
        said: false,
        ..PLAIN
    },
    Case {
        name: "unbalance of 3, one error for all, said to be one",
        formula: UNBALANCE,
        truth: &[400.0, 404.0, 396.0],
        limit: "max = 1",
        accuracy: 2.0,
        shared: true,
        said: true,
        ..PLAIN
    },
    Case {
        name: "unbalance of 3, one error for all, nothing said",
        formula: UNBALANCE,
        truth: &[400.0, 404.0, 396.0],
        limit: "max = 1",
        accuracy: 2.0,
        shared: true,
        said: false,
        ..PLAIN
    },
    Case {
        name: "spread of 4 that are alike",
        formula: "spread(parts)",
        truth: &[50.0; 4],
        limit: "max = 0",
        accuracy: 1.0,
        shared: false,
        said: false,
        ..PLAIN
    },
    Case {
        name: "sum of 5, one error for all, nothing said",
        formula: "sum(parts)",
        truth: &[20.0; 5],
        limit: "max = 100",
        accuracy: 1.0,
        shared: true,
        said: false,
        ..PLAIN
    },
    Case {
        name: "sum of 5, own errors, nothing said",
        formula: "sum(parts)",
        truth: &[20.0; 5],
        limit: "max = 100",
        accuracy: 1.0,
        shared: false,
        said: false,
        ..PLAIN
    },
    Case {
        name: "sum of 2 that scatter, 2 readings before, 1 after",
        formula: "sum(parts)",
        truth: &[50.0; 2],
        limit: "max = 100",
        scatter: 1.0,
        repeats: [2, 1],
        ..PLAIN
    },
    Case {
        name: "sum of 5 that scatter, 2 readings before, 2 after",
        formula: "sum(parts)",
        truth: &[20.0; 5],
        limit: "max = 100",
        scatter: 1.0,
        repeats: [2, 2],
        ..PLAIN
    },
    Case {
        name: "unbalance of 3 that scatter, 2 readings before, 2 after",
        formula: UNBALANCE,
        truth: &[400.0, 404.0, 396.0],
        limit: "max = 1",
        scatter: 1.0,
        repeats: [2, 2],
        ..PLAIN
    },
    Case {
        name: "mean over a figure of the same, 2 readings before, 1 after",
        formula: "100 * mean(parts) / (0.5 * sum(parts) + 50)",
        truth: &[50.0; 2],
        limit: "max = 50",
        scatter: 1.0,
        repeats: [2, 1],
        ..PLAIN
    },
    Case {
        name: "unbalance of 3 of 5, the others not read",
        formula: UNBALANCE,
        truth: &[400.0, 404.0, 396.0, 440.0, 300.0],
        limit: "max = 1\nleast_read = 3",
        scatter: 1.0,
        repeats: [2, 2],
        unread: [2, 2],
        ..PLAIN
    },
    // The mean of all is 55: without the last it would seem lower, though nothing changed.
    Case {
        name: "mean of 6, the highest not read after",
        formula: "mean(parts)",
        truth: &[50.0, 50.0, 50.0, 50.0, 50.0, 80.0],
        limit: "max = 50\nleast_read = 4",
        scatter: 1.0,
        repeats: [2, 2],
        unread: [0, 1],
        ..PLAIN
    },
];

fn simulated(case: &Case) -> Job {
    let reason = if case.said {
        "common_error = \"One meter, one range, one minute\"\n"
    } else {
        ""
    };
    job_with(case, &format!("accuracy = {:?}\n{reason}", case.accuracy))
}

/// A job with the parts and the figure of `case`; `errors` are those of the meter.
fn job_with(case: &Case, errors: &str) -> Job {
    let tool =
        format!("[[instrument]]\nid = \"tool\"\nkind = \"Simulated\"\nunit = \"V\"\n{errors}");
    let Case { formula, limit, .. } = case;
    let unit = if formula.starts_with("100") { "%" } else { "V" };
    let keys = format!("worked_out = \"{formula}\"\n{limit}\nrequired = true");
    let measures = [
        Simulated {
            id: "parts",
            unit: "V",
            keys: "",
            cylinders: case.truth.len(),
        },
        Simulated {
            id: "figure",
            unit,
            keys: &keys,
            cylinders: 0,
        },
    ];
    job(&tool, &measures)
}

/// The readings at each position of one run: the meter is off by an error for each, or by one
/// for all.
fn read(case: &Case, run: usize, rng: &mut StdRng) -> Vec<Vec<f64>> {
    let error = |rng: &mut StdRng| case.accuracy * rng.random_range(-1.0..=1.0);
    let one = error(rng);
    let is_read = |place: usize| place + case.unread[run] < case.truth.len();
    case.truth
        .iter()
        .enumerate()
        .map(|(place, truth)| {
            if !is_read(place) {
                return Vec::new();
            }
            let off = if case.shared { one } else { error(rng) };
            let mut read = || truth + off + case.scatter * normal(rng);
            (0..case.repeats[run]).map(|_| read()).collect()
        })
        .collect()
}

struct Rates {
    passed: f64,
    failed: f64,
    changed: f64,
}

fn rates(case: &Case, seed: u64) -> Rates {
    let mut job = simulated(case);
    let mut rng = seeded(seed);
    let mut counts = [0u32; 3];
    for _ in 0..JOBS {
        let [before, after] = [0, 1].map(|run| read(case, run, &mut rng));
        let each = before.into_iter().zip(after);
        let each: Vec<[Vec<f64>; 2]> = each.map(<[_; 2]>::from).collect();
        fill_cylinders(&mut job, "parts", "V", &each, STEP);
        let found = judge(&job);
        let figure = &found.measures[1];
        counts[0] += u32::from(matches!(figure.at_limit, Outcome::Pass));
        counts[1] += u32::from(matches!(figure.at_limit, Outcome::Fail));
        let change = figure.change;
        counts[2] += u32::from(matches!(change, Some(Change::Improved | Change::Worsened)));
    }
    let [passed, failed, changed] = counts.map(|count| f64::from(count) / f64::from(JOBS));
    Rates {
        passed,
        failed,
        changed,
    }
}

/// Exactly at the limit it may be called a pass, or a failure, in 2.5 % each; where nothing
/// changed, a change in 5 %.
#[test]
fn error_rates_of_figures_that_are_worked_out() {
    println!(
        "{:<56} {:>8} {:>8} {:>8}",
        "exactly at the limit", "passed", "failed", "changed"
    );
    for (seed, case) in (500..).zip(&CASES) {
        let found = rates(case, seed);
        let percent = |share: f64| format!("{:.1} %", share * 100.0);
        println!(
            "{:<56} {:>8} {:>8} {:>8}",
            case.name,
            percent(found.passed),
            percent(found.failed),
            percent(found.changed)
        );
        assert!(found.passed <= ALLOWED, "{}: {}", case.name, found.passed);
        assert!(found.failed <= ALLOWED, "{}: {}", case.name, found.failed);
        assert!(
            found.changed <= 2.0 * ALLOWED,
            "{}: {}",
            case.name,
            found.changed
        );
    }
}

/// An unbalance of 0.57 % held against 1 %, three voltages with normal errors of 0.43 %
/// (computed, no published source): by 40,000 draws (JCGM 101:2008) U is 0.51, and 0.01 where
/// one error is shared by all. The rules may give more, for they count every phase that may
/// be the worst, but neither less nor twice as much.
#[test]
fn an_unbalance_as_by_simulation() {
    let truth = [401.4, 400.0, 396.3];
    let u = 1.0;
    let of = |values: &[f64]| {
        let mean = values.iter().sum::<f64>() / 3.0;
        let far = values.iter().map(|x| (x - mean).abs());
        100.0 * far.fold(0.0, f64::max) / mean
    };
    let mut rng = seeded(101);
    let mut off: Vec<f64> = (0..40_000)
        .map(|_| (of(&truth.map(|t| t + u * normal(&mut rng))) - of(&truth)).abs())
        .collect();
    off.sort_by(f64::total_cmp);
    let drawn = off[38_000];
    let case = Case {
        name: "",
        formula: UNBALANCE,
        truth: &[401.4, 400.0, 396.3],
        limit: "max = 1",
        accuracy: 0.0,
        ..PLAIN
    };
    let expanded = |common: bool| {
        let reason = if common {
            "common_error = \"One meter\"\n"
        } else {
            ""
        };
        let errors = format!(
            "uncertainty = {:?}\nk = 1.959963984540054\n{reason}",
            1.959_963_984_540_054 * u
        );
        let mut job = job_with(&case, &errors);
        let each: Vec<_> = truth.iter().map(|t| [vec![*t], vec![*t]]).collect();
        fill_cylinders(&mut job, "parts", "V", &each, STEP);
        match &judge(&job).measures[1].finding {
            MeasureFinding::Value(found) => found.retest.expanded * 100.0,
            other => panic!("{other:?}"),
        }
    };
    let (own, shared) = (expanded(false), expanded(true));
    println!(
        "unbalance {:.2} %: U {own:.2}, drawn {drawn:.2}; with one error {shared:.4}",
        of(&truth)
    );
    assert!(own >= drawn && own < 2.0 * drawn, "{own} {drawn}");
    assert!(shared < 0.02 * own, "{shared}");
}
