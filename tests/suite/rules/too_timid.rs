//! What a technician expects to be decided, with its figures: repeats of a slow start, a dead
//! cylinder among eight, and healthy measures that drift beside a true cure.
//!
//! U computed with SciPy from the formulas of JUDGING.md.

use super::small_job::SmallJob;
use super::table::hold;

/// 12.8 and 10.9 s before, 2.4 and 3.1 s after, timed by hand to 0.1 s: s² = (1.805 + 0.245)/2,
/// t(2) = 4.302 653. Each run by itself had s = 1.34 and 0.49 with t(1) = 12.7, ±12.9 s.
#[test]
fn two_starts_before_and_two_after() {
    hold(
        "
        before    | after   => #.scatter.retest.s | #.retest.expanded | #.difference.value | #.difference.expanded | #.relative.expanded | change | zone | outcome
        12.8 10.9 | 2.4 3.1 => 1.012423 | 3.083866 | -9.1 | 4.411245 | 0.271377 | improved | conditional-pass | conditional-pass
        # The first of each alone.
        12.8      | 2.4     => -        | 0.203941 | -10.4 | 0.338460 | 0.020117 | improved | pass | pass
        ",
        |row| {
            let reading = |column| {
                let values = row.at(column).replace(' ', ", ");
                format!("values = [{values}]\nunit = \"s\"\ninstrument = \"watch\"")
            };
            SmallJob::new()
                .instrument("watch", "unit = \"s\"\nresolution = 0.1\nhand_timed = true")
                .measure(
                    "m",
                    "kind = \"value\"\nunit = \"s\"\nrequired = true\nmax = 5",
                    &reading("before"),
                    &reading("after"),
                )
        },
    );
}

/// Eight cylinders read twice, one of them dead: 1700 → 2500 kPa. A gauge of ±50 kPa read to
/// 10 kPa; s² = 4000/16 with 16 degrees of freedom. U of one change is 90 kPa, of eight at once
/// 116 kPa; by one run of one cylinder t(1) at that level is 101.9.
#[test]
fn a_dead_cylinder_among_eight() {
    let rows = |cells: [[u16; 2]; 8]| {
        let rows = (1..).zip(cells);
        let rows = rows.map(|(number, values)| format!("{{ at = {number}, values = {values:?} }}"));
        let rows: Vec<String> = rows.collect();
        let rows = rows.join(", ");
        format!("rows = [{rows}]\nunit = \"kPa\"\ninstrument = \"gauge\"")
    };
    let before = [
        [2480, 2520],
        [2510, 2490],
        [1690, 1710],
        [2530, 2500],
        [2470, 2500],
        [2500, 2520],
        [2490, 2470],
        [2520, 2510],
    ];
    let after = [
        [2500, 2490],
        [2520, 2500],
        [2490, 2510],
        [2500, 2520],
        [2480, 2500],
        [2510, 2530],
        [2500, 2480],
        [2510, 2490],
    ];
    let judged = SmallJob::new()
        .cylinders(8)
        .instrument("gauge", "unit = \"kPa\"\naccuracy = 50\nresolution = 10")
        .measure(
            "m",
            "kind = \"value\"\nat = \"cylinders\"\nunit = \"kPa\"\nmin = 2300\nrequired = true",
            &rows(before),
            &rows(after),
        )
        .judged();
    let figure = |name: &str| judged.cell(name).parse::<f64>().unwrap();
    assert!((figure("#.scatter.retest.s") - SCATTER).abs() < 1e-6);
    assert_eq!(judged.cell("#.scatter.retest.dof"), "16.0");
    assert!((figure("#.retest.expanded") - READING).abs() < 1e-4);
    assert!((figure("#.difference.expanded") - CHANGE).abs() < 1e-4);
    let cylinders: Vec<String> = (0..8)
        .map(|place| judged.cell(&format!("measures.0.values.{place}.change")))
        .collect();
    let improved = cylinders.iter().filter(|change| *change == "improved");
    assert_eq!(improved.count(), 1);
    assert_eq!(cylinders[2], "improved");
    assert_eq!(judged.cell("change"), "improved");
    assert_eq!(judged.cell("verdict"), "verified");
    assert_eq!(judged.cell("reservations"), "");
}

const SCATTER: f64 = 15.811_388;
const READING: f64 = 56.086_085;
const CHANGE: f64 = 90.063_282;

/// A true cure beside four healthy required measures that drift as batteries and oil do, by
/// more than their instruments err: 0.12 V, 12 kPa, 5 rpm and 1.5 K.
#[test]
fn healthy_measures_that_drift_beside_a_cure() {
    let judged = |volts: &str| {
        let value = |unit: &str, value: &str, expanded: &str| {
            format!("value = {value}\nunit = \"{unit}\"\nuncertainty = {expanded}")
        };
        SmallJob::new()
            .found("pass", "cure", true)
            .measure(
                "battery",
                "kind = \"value\"\nunit = \"V\"\nmin = 9.6\nrequired = true",
                &value("V", "10.60", "0.05"),
                &value("V", volts, "0.05"),
            )
            .measure(
                "oil",
                "kind = \"value\"\nunit = \"kPa\"\nmin = 150\nrequired = true",
                &value("kPa", "262", "5"),
                &value("kPa", "250", "5"),
            )
            .measure(
                "idle",
                "kind = \"value\"\nunit = \"rpm\"\nmin = 600\nrequired = true",
                &value("rpm", "705", "2"),
                &value("rpm", "700", "2"),
            )
            .measure(
                "coolant-at-rest",
                "kind = \"value\"\nunit = \"°C\"\nmax = 95\nrequired = true",
                &value("°C", "80.0", "0.5"),
                &value("°C", "81.5", "0.5"),
            )
            .judged()
    };
    let found = judged("10.48");
    assert_eq!(found.cell("verdict"), "verified");
    assert_eq!(
        found.cell("reservations"),
        "worse-within-limit battery, worse-within-limit oil, worse-within-limit idle, \
         worse-within-limit coolant-at-rest"
    );
    // Inside by less than 0.05 V it may as well have left.
    let found = judged("9.64");
    assert_eq!(found.cell("verdict"), "undecided");
    assert_eq!(found.cell("reasons"), "got-worse battery");
}
