//! The worksheet: made from the plan alone, complete, and on one page or two for a common
//! job.

use std::fs;

use crate::extreme::{Extreme, PLAIN};
use crate::folder::{Folder, Run, run};
use crate::pages;
use crate::samples::names;

fn make(folder: &Folder) -> Run {
    run(&["worksheet", folder.path().to_str().unwrap(), "--replace"])
}

fn pages_of(folder: &Folder) -> Vec<String> {
    let made = make(folder);
    assert_eq!(made.code, 0, "{}", made.err);
    pages::texts(&fs::read(folder.file("worksheet.pdf")).unwrap())
}

/// Expected by hand from the frost fan's job.toml and limits.toml.
#[test]
fn it_needs_the_plan_only_and_is_in_working_order() {
    let folder = Folder::copy_of("frost-fan");
    for file in ["baseline.toml", "work.toml", "retest.toml"] {
        fs::remove_file(folder.file(file)).unwrap();
    }
    let pages = pages_of(&folder);
    let all = pages.concat();
    let place = |text: &str| {
        let found = all.find(&pages::bare(text));
        found.unwrap_or_else(|| panic!("`{text}` in {all}"))
    };
    // The order of the work: who and when, soak, temperatures, other conditions,
    // cautions, tests.
    let order = [
        "Measured by",
        "Time standing before the start",
        "within 3.0 h; higher is more severe",
        "Ambient temperature",
        "within 3.0 K; lower is more severe · With: probe",
        "Battery voltage at rest",
        "Never feel for leaks by hand",
        "Crank time to running required",
        "Limit: at most 5.0 s and at least 50 % lower than before (Agreed with the customer: the thermostat",
        "With: watch · Caution: exhaust gas, rotating parts, battery",
        "Cylinder contribution (rpm)",
        "Starts on the first attempt",
        "White smoke after start",
        "Fuel suction at filter outlet",
        "Lowest battery voltage while cranking",
        "The work: what was done, parts, fluids, time",
    ];
    let places: Vec<usize> = order.into_iter().map(place).collect();
    assert!(places.is_sorted(), "{places:?}");
    // A box for each cylinder, in both runs.
    place("1 2 3 4 1 2 3 4");
}

/// A motor is not asked for an odometer, and a machine without a meter for none.
#[test]
fn it_asks_for_the_meter_that_the_machine_has() {
    for (meter, label) in [
        ("", Some("Meter, if it has one")),
        ("meter = \"hours\"", Some("Hour meter")),
        ("meter = \"distance\"", Some("Odometer")),
        ("meter = \"none\"", None),
    ] {
        let folder = Folder::copy_of("frost-fan");
        folder.replace(
            "job.toml",
            "cylinders = 4",
            &format!("cylinders = 4\n{meter}"),
        );
        let page = pages_of(&folder).concat();
        let labels = ["Meter, if it has one", "Hour meter", "Odometer"];
        for other in labels {
            let is_there = page.contains(&pages::bare(other));
            assert_eq!(is_there, label == Some(other), "{other} where {meter}");
        }
    }
}

/// What a test can do to whoever makes it on any machine, nobody has to write down.
#[test]
fn a_kind_of_test_brings_its_cautions() {
    let folder = Folder::copy_of("mill-gearbox");
    let jack = pages::bare("held up by a jack or by hydraulics alone");
    assert!(!pages_of(&folder).concat().contains(&jack));
    folder.replace("limits.toml", "\"temperature-rise\"", "\"drift\"");
    assert!(pages_of(&folder).concat().contains(&jack));
}

/// 0.30 bar on a gauge is 1.31 bar absolute: the form says which of the two is asked for.
#[test]
fn it_says_what_a_pressure_is_measured_against() {
    for (word, label) in [
        ("gauge", "Gauge pressure"),
        ("absolute", "Absolute pressure"),
        ("difference", "Pressure difference"),
    ] {
        let folder = Folder::copy_of("frost-fan");
        let unit = "unit = \"kPa\"";
        folder.replace(
            "limits.toml",
            unit,
            &format!("{unit}\npressure = \"{word}\""),
        );
        assert!(
            pages_of(&folder).concat().contains(&pages::bare(label)),
            "{word}"
        );
        assert_eq!(run(&["report", folder.path().to_str().unwrap()]).code, 0);
        let report = pages::texts(&fs::read(folder.file("report.pdf")).unwrap()).concat();
        assert!(report.contains(&pages::bare(label)), "{word}");
    }
}

/// A second page is taken only where there is much to write down, and what is left of it is for
/// the work and for notes.
#[test]
fn every_sample_fits_two_pages_and_leaves_none_nearly_empty() {
    let on_one = [
        "ferry-auxiliary",
        "grain-fan-motor",
        "mill-gearbox",
        "pool-dosing-pump",
    ];
    for sample in names() {
        let folder = Folder::copy_of(sample);
        let count = pages_of(&folder).len();
        let expected = if on_one.contains(&sample) { 1 } else { 2 };
        assert_eq!(count, expected, "{sample}");
        let pdf = fs::read(folder.file("worksheet.pdf")).unwrap();
        let last = pages::places(&pdf).pop().unwrap();
        // The footer is below that.
        let lowest = last.into_iter().map(|(_, y)| y).filter(|y| *y < 0.93);
        let lowest = lowest.fold(0.0, f32::max);
        assert!(lowest > 0.5, "{sample}: nothing below {lowest}");
    }
}

/// What is worked out stands there with its formula, and without anything to write into.
#[test]
fn what_is_worked_out_is_not_to_be_filled_in() {
    let page = pages_of(&Folder::copy_of("grain-fan-motor")).concat();
    let rest = |from: &str| {
        let at = page.find(&pages::bare(from));
        &page[at.unwrap_or_else(|| panic!("`{from}` in {page}"))..]
    };
    let unbalance = rest("Current unbalance required · nothing to fill in · Limit: at most 5 %");
    let formula = "Worked out: 100 · greatest deviation of “Current at full air flow” from its \
                   mean / mean of “Current at full air flow”";
    let end = unbalance.find(&pages::bare(formula)).expect("its formula");
    let after = &unbalance[end + pages::bare(formula).len()..];
    // The next test follows at once.
    assert!(after.starts_with(&pages::bare("Insulation to frame, at 40 °C")));
    // What is read has its blanks: one for each phase, in both runs.
    let read = rest("Winding resistance, as read");
    assert!(read.contains("UVWUVW"), "{read}");
}

/// The blanks of a day, and of the hours from and to.
#[test]
fn hours_are_asked_for_on_one_line() {
    let page = pages_of(&Folder::copy_of("mill-gearbox")).concat();
    assert!(
        page.contains(&pages::bare("When day from to day from to Measured by")),
        "{page}"
    );
}

#[test]
fn nothing_is_cut_off_with_24_cylinders_and_60_measures() {
    let folder = Extreme {
        cylinders: 24,
        measures: 60,
        letters: 80,
        ..PLAIN
    }
    .folder();
    let pages = pages_of(&folder);
    assert!(pages.len() > 1);
    let all = pages.concat();
    for number in 0..60 {
        assert!(all.contains(&format!("Measure{number}of")), "{number}");
        assert!(
            all.contains(&format!("Manual,section{number})")),
            "{number}"
        );
    }
    let cylinders: String = (1..=24).map(|number| number.to_string()).collect();
    assert!(all.contains(&cylinders.repeat(2)), "{all}");
    // The heads of the columns stand on every page.
    for page in &pages[..pages.len() - 1] {
        assert!(page.contains("Baseline,beforethework"), "{page}");
    }
    let pdf = fs::read(folder.file("worksheet.pdf")).unwrap();
    for (x, y) in pages::places(&pdf).into_iter().flatten() {
        assert!((0.06..0.94).contains(&x), "{x}");
        assert!((0.03..0.99).contains(&y), "{y}");
    }
}

/// Sixty-four cylinders, each read twelve times: the boxes go on over the page.
#[test]
fn more_boxes_than_a_page_holds() {
    let folder = Extreme {
        cylinders: 64,
        ..PLAIN
    }
    .folder();
    folder.replace("limits.toml", "min = 1500", "min = 1500\nrepeats = 12");
    let all = pages_of(&folder).concat();
    for number in 1..=64 {
        assert!(all.contains(&number.to_string()), "{number}");
    }
    let pdf = fs::read(folder.file("worksheet.pdf")).unwrap();
    for (_, y) in pages::places(&pdf).into_iter().flatten() {
        assert!((0.03..0.99).contains(&y), "{y}");
    }
}

#[test]
fn an_older_worksheet_is_not_lost() {
    let folder = Folder::copy_of("mill-gearbox");
    let path = folder.path();
    let path = path.to_str().unwrap();
    assert_eq!(run(&["worksheet", path]).code, 0);
    let again = run(&["worksheet", path]);
    assert_eq!(again.code, 2);
    assert!(again.err.contains("`--replace`"), "{}", again.err);
    let before = fs::read(folder.file("worksheet.pdf")).unwrap();
    assert_eq!(run(&["worksheet", path, "--replace"]).code, 0);
    assert!(before == fs::read(folder.file("worksheet.pdf")).unwrap());
}
