//! Properties that hold for any job, and inputs that nobody would write.

use std::collections::BTreeMap;

use proptest::prelude::*;
use retestify::intake::can_print;
use retestify::intake::{self, Inputs, Intake, Media, SHOP_FILE};
use retestify::job::{Job, JobFile};
use retestify::judge::{Change, Judgement, MeasureFinding, Verdict, judge};

use crate::folder::samples;

/// The files of a job, in memory.
#[derive(Clone)]
struct Files(BTreeMap<String, Vec<u8>>);

impl Files {
    fn of(sample: &str) -> Self {
        let folder = samples().join(sample);
        let read = |name: &str| (name.to_owned(), std::fs::read(folder.join(name)).unwrap());
        let mut files: BTreeMap<String, Vec<u8>> =
            JobFile::ALL.map(|file| read(file.name())).into();
        if let Ok(photos) = std::fs::read_dir(folder.join("photos")) {
            for photo in photos {
                let name = format!("photos/{}", photo.unwrap().file_name().to_str().unwrap());
                files.insert(name.clone(), std::fs::read(folder.join(&name)).unwrap());
            }
        }
        Self(files)
    }

    fn read_all(&self) -> Result<Intake<Job>, intake::Problems> {
        let shop = std::fs::read(samples().join(SHOP_FILE)).unwrap();
        let inputs = Inputs {
            job: &self.0,
            shop: &BTreeMap::from([(SHOP_FILE.to_owned(), shop)]),
        };
        intake::read_job(inputs, &can_print, Media::Read)
    }
}

/// A job with one value, one cylinder and one count measure, all required, in the
/// given units and with the given figures.
#[derive(Debug, Clone)]
struct Figures {
    before: f64,
    after: f64,
    limit: f64,
    accuracy: f64,
    cylinders: Vec<(f64, f64)>,
    ambient: (f64, f64),
    rule: &'static str,
}

fn figures() -> impl Strategy<Value = Figures> {
    (
        (0.5..200.0f64, 0.5..200.0f64, 0.5..200.0f64, 0.01..20.0f64),
        prop::collection::vec((-20.0..20.0f64, -20.0..20.0f64), 1..7),
        (-10.0..30.0f64, -10.0..30.0f64),
        prop::sample::select(vec!["simple", "guarded", "four-zone"]),
    )
        .prop_map(
            |((before, after, limit, accuracy), cylinders, ambient, rule)| Figures {
                before,
                after,
                limit,
                accuracy,
                cylinders,
                ambient,
                rule,
            },
        )
}

/// `scale` turns the figures of the pressure into `unit`; `turned` writes the
/// measures in the other order.
fn job(f: &Figures, unit: &str, scale: f64, turned: bool) -> Job {
    let n = f.cylinders.len();
    let pressure = format!(
        "[[measure]]\nid = \"p\"\nname = \"P\"\nkind = \"value\"\nunit = \"{unit}\"\n\
         better = \"lower\"\nmax = {:?}\nrequired = true\nsource = \"s\"\n",
        f.limit * scale
    );
    let balance = "[[measure]]\nid = \"c\"\nname = \"C\"\nkind = \"value\"\nat = \"cylinders\"\nunit = \"rpm\"\n\
                   better = \"higher\"\nmin = -5.0\nrequired = true\nsource = \"s\"\n";
    let measures = if turned {
        format!("{balance}{pressure}")
    } else {
        format!("{pressure}{balance}")
    };
    let run = |value: f64, cylinder: fn(&(f64, f64)) -> f64, ambient: f64, day: u32| {
        let rows: String = f
            .cylinders
            .iter()
            .enumerate()
            .map(|(i, pair)| format!("{{ at = {}, value = {:?} }}, ", i + 1, cylinder(pair)))
            .collect();
        format!(
            "format = 1\nstarted = 2026-01-{day:02}T06:00:00Z\nby = \"B\"\n[condition]\n\
             ambient = {{ value = {ambient:?}, unit = \"°C\" }}\n\
             [reading.p]\nvalue = {:?}\nunit = \"{unit}\"\ninstrument = \"g\"\n\
             [reading.c]\nunit = \"rpm\"\ninstrument = \"t\"\nrows = [ {rows} ]\n",
            value * scale
        )
    };
    let files = [
        (
            "job.toml",
            format!(
                "format = 1\njob = \"1\"\ncomplaint = \"c\"\n[customer]\nname = \"n\"\n\
                 [machine]\nname = \"m\"\ncylinders = {n}\n\
                 [[instrument]]\nid = \"g\"\nkind = \"k\"\nunit = \"{unit}\"\naccuracy = {:?}\n\
                 [[instrument]]\nid = \"t\"\nkind = \"k\"\nunit = \"rpm\"\naccuracy = 0.6\n",
                f.accuracy * scale
            ),
        ),
        (
            "limits.toml",
            format!(
                "format = 1\ndecision_rule = \"{}\"\n{measures}[[condition]]\nid = \"ambient\"\n\
                 name = \"A\"\nunit = \"°C\"\nwindow = 3\nharder = \"lower\"\nrequired = true\n",
                f.rule
            ),
        ),
        (
            "baseline.toml",
            run(f.before, |pair| pair.0, f.ambient.0, 1),
        ),
        (
            "work.toml",
            "format = 1\nstarted = 2026-01-02T06:00:00Z\nfinished = 2026-01-02T07:00:00Z\n\
             by = \"B\"\n[[intervention]]\nwhat = \"w\"\n"
                .to_owned(),
        ),
        ("retest.toml", run(f.after, |pair| pair.1, f.ambient.1, 3)),
    ];
    let files = Files(
        files
            .into_iter()
            .map(|(name, text)| (name.to_owned(), text.into_bytes()))
            .collect(),
    );
    match files.read_all() {
        Ok(intake) => intake.job,
        Err(problems) => panic!("{problems}"),
    }
}

/// The verdict, and outcome and change of each measure, by name: outside of `judge` they
/// can be neither compared nor sorted.
fn outcomes(judgement: &Judgement) -> (String, BTreeMap<String, String>) {
    let verdict = format!("{:?}", judgement.verdict);
    let measures = judgement.measures.iter();
    let measures = measures.map(|m| (m.id.clone(), format!("{:?}, {:?}", m.outcome, m.change)));
    (verdict, measures.collect())
}

fn opposite(change: Change) -> Change {
    match change {
        Change::Improved => Change::Worsened,
        Change::Worsened => Change::Improved,
        Change::NoDetectable => Change::NoDetectable,
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn swapping_the_runs_turns_improved_into_worsened(f in figures()) {
        let swapped = Figures {
            before: f.after,
            after: f.before,
            cylinders: f.cylinders.iter().map(|(b, a)| (*a, *b)).collect(),
            ..f.clone()
        };
        let (there, back) = (judge(&job(&f, "kPa", 1.0, false)), judge(&job(&swapped, "kPa", 1.0, false)));
        let of = |judgement: &Judgement| match &judgement.measures[0].finding {
            MeasureFinding::Value(comparison) => comparison.change,
            _ => unreachable!(),
        };
        let name = |change: Change| format!("{change:?}");
        let turned = of(&back).map(opposite).map(name);
        prop_assert_eq!(of(&there).map(name), turned);
        let each = |judgement: &Judgement| match &judgement.measures[1].finding {
            MeasureFinding::ValueAt(_) => judgement.measures[1].finding.comparisons().map(|c| c.change.unwrap()).collect::<Vec<Change>>(),
            _ => unreachable!(),
        };
        let turned = each(&back).into_iter().map(opposite).map(name).collect::<Vec<_>>();
        prop_assert_eq!(each(&there).into_iter().map(name).collect::<Vec<_>>(), turned);
    }

    /// Figures in bar or in kPa: the same job (1 bar = 100 kPa exactly).
    #[test]
    fn changing_units_changes_nothing(f in figures()) {
        let (kpa, bar) = (judge(&job(&f, "kPa", 1.0, false)), judge(&job(&f, "bar", 0.01, false)));
        prop_assert_eq!(outcomes(&kpa), outcomes(&bar));
    }

    #[test]
    fn the_order_of_measures_changes_nothing(f in figures()) {
        let (one, other) = (judge(&job(&f, "kPa", 1.0, false)), judge(&job(&f, "kPa", 1.0, true)));
        prop_assert_eq!(outcomes(&one), outcomes(&other));
    }

    /// Knowing less never makes a verdict better.
    #[test]
    fn a_larger_uncertainty_never_verifies(f in figures(), factor in 1.0..20.0f64) {
        prop_assume!(f.rule != "simple");
        let vague = Figures { accuracy: f.accuracy * factor, ..f.clone() };
        let (sharp, vague) = (judge(&job(&f, "kPa", 1.0, false)), judge(&job(&vague, "kPa", 1.0, false)));
        if matches!(sharp.verdict, Verdict::Undecided) {
            // A worsening that drowns in the larger uncertainty is the one way on:
            // it was undecided because it was seen to get worse.
            let worse = sharp.measures.iter().any(|m| matches!(m.change, Some(Change::Worsened)));
            prop_assert!(worse || !matches!(vague.verdict, Verdict::Verified));
        }
        if matches!(sharp.verdict, Verdict::NotVerified) {
            prop_assert!(!matches!(vague.verdict, Verdict::Verified));
        }
    }

    #[test]
    fn no_figure_is_nan(f in figures()) {
        let judgement = judge(&job(&f, "kPa", 1.0, false));
        for measure in &judgement.measures {
            for c in measure.finding.comparisons() {
                for e in [&c.baseline, &c.retest, &c.difference].into_iter().chain(&c.relative) {
                    prop_assert!(e.value.is_finite() && e.u.is_finite() && e.expanded.is_finite());
                    prop_assert!(e.u >= 0.0 && e.expanded >= e.u && e.dof >= 1.0);
                }
                let p = c.after.unwrap().conformity;
                prop_assert!((0.0..=1.0).contains(&p));
            }
        }
    }

    /// Bytes thrown into a file: problems with a place, or a job, but never a panic.
    #[test]
    fn spoiled_files_never_panic(
        file in 0..5usize,
        place in 0.0..1.0f64,
        cut in 0..40usize,
        bytes in prop::collection::vec(any::<u8>(), 0..12),
    ) {
        let mut files = Files::of("ferry-auxiliary");
        let text = files.0.get_mut(JobFile::ALL[file].name()).unwrap();
        let start = (place * text.len() as f64) as usize;
        let end = (start + cut).min(text.len());
        text.splice(start..end, bytes);
        match files.read_all() {
            Ok(intake) => { judge(&intake.job); }
            Err(problems) => {
                prop_assert!(!problems.is_empty());
                for problem in problems.iter() {
                    prop_assert!(!problem.message.is_empty() && !problem.hint.is_empty());
                }
                let _ = problems.to_string();
            }
        }
    }

    /// Words of the format in the wrong places: what a person mixes up.
    #[test]
    fn shuffled_lines_never_panic(file in 0..5usize, from in 0..60usize, to in 0..60usize) {
        let mut files = Files::of("ferry-auxiliary");
        let text = String::from_utf8(files.0[JobFile::ALL[file].name()].clone()).unwrap();
        let mut lines: Vec<&str> = text.lines().collect();
        let (from, to) = (from % lines.len(), to % lines.len());
        lines.swap(from, to);
        files.0.insert(JobFile::ALL[file].name().to_owned(), lines.join("\n").into_bytes());
        if let Ok(intake) = files.read_all() {
            judge(&intake.job);
        }
    }
}

#[test]
fn every_sample_reads_from_memory_as_from_disk() {
    for sample in ["frost-fan", "cold-store-generator", "mill-gearbox"] {
        let intake = Files::of(sample)
            .read_all()
            .unwrap_or_else(|problems| panic!("{problems}"));
        assert_eq!(intake.texts.len(), 6);
    }
}
