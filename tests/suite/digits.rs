//! A figure keeps the digits it was written with, from the file to the page.

use proptest::prelude::*;
use retestify::judge::judge;
use retestify::seals::Sealing;
use retestify::view::{Material, Report, Words, report};
use serde_json::Value;

use crate::folder::{Folder, run};

const LANGUAGES: [(&str, &str); 3] = [("en", "."), ("en-US", "."), ("es", ",")];

/// What the report says, in each language with its decimal sign.
fn reports(folder: &Folder) -> Vec<(&'static str, Report)> {
    let intake = folder.read_job();
    let judgement = judge(&intake.job);
    let material = Material {
        job: &intake.job,
        shop: &intake.shop,
        judgement: &judgement,
        inputs: Vec::new(),
        pictures: Vec::new(),
        issued: intake.job.retest.started,
        logo: None,
        sealing: Sealing::default(),
        signer: None,
    };
    LANGUAGES
        .map(|(language, sign)| (sign, report(&material, &Words::of(language, &[]).unwrap())))
        .into()
}

/// A job in which a reading, a limit, a condition and a meter are all written as `text`.
fn written(text: &str) -> Folder {
    let folder = Folder::copy_of("frost-fan");
    folder.replace("baseline.toml", "value = 12.8", &format!("value = {text}"));
    folder.replace("baseline.toml", "value = 12.58", &format!("value = {text}"));
    folder.replace(
        "baseline.toml",
        "value = 1874.2",
        &format!("value = {text}"),
    );
    for file in ["baseline.toml", "work.toml", "retest.toml"] {
        let text = folder.read(file);
        let without_photos = text.split("\n[[photo]]").next().unwrap().to_owned();
        folder.write(file, without_photos);
    }
    folder.replace("retest.toml", "value = 1878.9", "value = 1e9");
    folder.replace("limits.toml", "max = 5.0", &format!("max = {text}"));
    folder
}

/// Where the report of such a job shows each of the four, without space before the unit.
fn shown(report: &Report) -> [String; 4] {
    let plain = |text: &str| text.replace('\u{A0}', " ");
    let battery = &report.conditions[3];
    let meter = report.runs[0].rows.iter();
    let meter = meter
        .map(|row| plain(&row.text))
        .find(|text| text.ends_with(" h"))
        .unwrap();
    let limit = plain(&report.measures[0].limit);
    let limit = limit.split(" s ").next().unwrap();
    [
        plain(&report.front.figures[0].before).replace(" s", ""),
        plain(&battery.baseline).replace(" V", ""),
        meter.replace(" h", ""),
        limit.rsplit(' ').next().unwrap().to_owned(),
    ]
}

/// By hand: what each text says, with all its digits.
#[test]
fn whatever_way_a_number_is_written_its_digits_are_printed() {
    for (text, digits) in [
        ("2.40", "2.40"),
        ("14.0", "14.0"),
        ("12", "12"),
        ("+3.50", "3.50"),
        ("1_000.50", "1000.50"),
        ("1_234", "1234"),
        ("2.40e1", "24.0"),
        ("240e-2", "2.40"),
        ("0.000250", "0.000250"),
        ("0x1F", "31"),
    ] {
        let folder = written(text);
        for (sign, report) in reports(&folder) {
            let wanted = digits.replace('.', sign);
            assert_eq!(shown(&report), [(); 4].map(|()| wanted.clone()), "{text}");
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn a_written_figure_is_printed_as_written(
        whole in 1..100_000u32,
        fraction in proptest::option::of("[0-9]{1,6}"),
    ) {
        let text = match fraction {
            Some(fraction) => format!("{whole}.{fraction}"),
            None => whole.to_string(),
        };
        let folder = written(&text);
        for (sign, report) in reports(&folder) {
            let wanted = text.replace('.', sign);
            prop_assert_eq!(shown(&report), [(); 4].map(|()| wanted.clone()));
        }
    }
}

/// What is asked for and what is known of an instrument are figures of the files too.
#[test]
fn windows_improvements_and_errors_keep_their_digits() {
    let folder = Folder::copy_of("frost-fan");
    folder.replace("limits.toml", "improve_percent = 50", "improve_by = 3.50");
    folder.replace("job.toml", "accuracy = 0.6", "accuracy = 0.60");
    folder.replace("job.toml", "accuracy = 1.0", "accuracy = 1.00");
    let (_, report) = reports(&folder).remove(0);
    let plain = |text: &str| text.replace('\u{A0}', " ");
    assert!(plain(&report.measures[0].limit).contains("at least 3.50 s lower"));
    assert_eq!(plain(&report.conditions[0].window), "within 3.0 K");
    let errors: Vec<String> = report
        .instruments
        .iter()
        .map(|i| plain(&i.errors))
        .collect();
    for figure in ["0.60 rpm", "1.00 kPa", "0.5 K", "0.5 %"] {
        assert!(
            errors.iter().any(|errors| errors.contains(figure)),
            "{figure} in {errors:?}"
        );
    }
}

/// Without a watch, the last written digit is the step: 0.1 s for 6.0 and for 6.1, 1 s for 6.
/// By hand, σ² = 0.10² + 0.5² of the finger and the eye, U = 1.96 σ = 0.9994 s where the step is
/// nothing; with the step as a bound of ± half of it, computed with SciPy: 1.0010 s, and
/// 1.1442 s for whole seconds.
#[test]
fn smoke_timed_by_eye_is_read_to_its_last_written_digit() {
    let expanded = |text: &str| {
        let folder = Folder::copy_of("frost-fan");
        let line = format!("clear_seconds = {text}");
        folder.replace("retest.toml", "clear_seconds = 6", &line);
        let found = run(&["check", "--json", folder.path().to_str().unwrap()]);
        let found: Value = serde_json::from_str(&found.out).unwrap();
        let measures = found["measures"].as_array().unwrap();
        let smoke = measures
            .iter()
            .find(|found| found["id"] == "smoke")
            .unwrap();
        smoke["values"][0]["retest"]["expanded"].as_f64().unwrap()
    };
    assert_eq!(expanded("6.0"), expanded("6.1"));
    for (text, wanted) in [
        ("6.0", 1.0010),
        ("6.1", 1.0010),
        ("6", 1.1442),
        ("6.00", 0.9994),
    ] {
        let found = expanded(text);
        assert!((found - wanted).abs() < 5e-5, "{text}: {found}");
    }
}
