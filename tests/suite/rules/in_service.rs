//! A limit of what was in service: the baseline is called by it, and nothing else is.

use retestify::view::{ENGLISH, Words};

use super::small_job::{SmallJob, bar, stated};
use super::table::hold;
use crate::folder::run;
use crate::ties_between_runs::report_with;

/// A new winding at least 100, one in service at least 5; U = 1.
#[test]
fn the_baseline_is_called_by_its_own_limit() {
    hold(
        "
        before | after => zone before | zone | outcome | change | verdict | reservations
        7      | 150   => pass             | pass | pass | improved | verified |
        6      | 150   => pass             | pass | pass | improved | verified |
        5.9    | 150   => conditional-pass | pass | pass | improved | verified |
        4.5    | 150   => conditional-fail | pass | pass | improved | verified |
        3.9    | 150   => fail             | pass | pass | improved | verified |
        # The retest has to keep what is asked of a new one.
        7      | 50    => pass             | fail | fail | improved | not-verified |
        # Nothing changed: by its own limit the baseline was as it should be.
        120    | 120   => pass | pass | pass | no-detectable-change | verified | fault-not-shown
        ",
        |row| {
            let keys = "required = true\nmin = 100\nbefore = { min = 5 }";
            SmallJob::new().value(
                "m",
                keys,
                &bar(row.at("before"), "1"),
                &bar(row.at("after"), "1"),
            )
        },
    );
    // Stricter for what was in service than for the retest: a fault was shown.
    hold(
        "
        before | after => zone before | change | reservations
        120    | 120   => fail | no-detectable-change |
        ",
        |row| {
            let keys = "required = true\nmin = 100\nbefore = { min = 125 }";
            SmallJob::new().value(
                "m",
                keys,
                &bar(row.at("before"), "1"),
                &bar(row.at("after"), "1"),
            )
        },
    );
}

/// New 0.40 to 0.50, worn at most 0.90 and better at most 0.75; U = 0.01. The change is measured
/// from the band of the new part: 0.38 outside it, and then inside.
#[test]
fn the_change_is_measured_from_the_limit_of_the_retest() {
    hold(
        "
        before | after => zone before | #.before_limit.max | #.before_limit.should_max | #.before_limit.should.zone | zone | change
        0.88   | 0.45  => pass | 0.9 | 0.75 | fail | pass | improved
        0.7    | 0.45  => pass | 0.9 | 0.75 | pass | pass | improved
        1.11   | 0.45  => fail | 0.9 | 0.75 | fail | pass | improved
        # Inside its own limit and worse than the new band: it got worse.
        0.45   | 0.55  => pass | 0.9 | 0.75 | pass | fail | worsened
        ",
        |row| {
            let keys = "required = true\nmin = 0.40\nmax = 0.50\n\
                        before = { max = 0.90, should_max = 0.75 }";
            SmallJob::new().value(
                "m",
                keys,
                &bar(row.at("before"), "0.01"),
                &bar(row.at("after"), "0.01"),
            )
        },
    );
}

/// A row without one takes that of the measure; one that was not read after the work is still
/// called by it.
#[test]
fn a_position_has_its_own() {
    hold(
        "
        before => #.before.zone | measures.0.values.1.before.zone | measures.0.values.1.before_limit.max | measures.0.values.2.before.zone
        5 5 5  => fail | pass | 6 | fail
        3 3 3  => pass | pass | 6 | pass
        ",
        |row| {
            let rows = |values: &str| {
                let rows = values.split(' ').enumerate();
                let rows: Vec<String> = rows
                    .map(|(place, value)| match value {
                        "-" => format!("{{ at = {}, not_taken = \"Removed\" }}", place + 1),
                        value => format!("{{ at = {}, value = {value} }}", place + 1),
                    })
                    .collect();
                format!("rows = [ {} ]\nunit = \"bar\"\n{}", rows.join(", "), stated("0.1"))
            };
            let keys = "kind = \"value\"\nunit = \"bar\"\nat = \"cylinders\"\nmax = 2\n\
                        before = { max = 4 }\n\
                        limit_rows = [ { at = 2, max = 1, before = { max = 6 } }, { at = 1, max = 1.5 } ]";
            SmallJob::new()
                .cylinders(3)
                .measure("m", keys, &rows(row.at("before")), &rows("1 1 -"))
        },
    );
}

#[test]
fn both_limits_are_printed() {
    let words = Words::of("en", &[ENGLISH]).unwrap();
    let keys = "required = true\nmin = 100\n\
                before = { min = 5, as_printed = \"in service, 5\" }";
    let job = SmallJob::new().value("m", keys, &bar("7", "1"), &bar("150", "1"));
    let folder = job.folder();
    let found = report_with(&folder, "2026-03-06T12:00:00+00:00", &words);
    let limit = found.measures[0].limit.replace('\u{A0}', " ");
    assert!(
        limit.starts_with("at least 100 bar; before the work at least 5 bar"),
        "{limit}"
    );
    assert!(limit.contains("“in service, 5”"), "{limit}");
    let front = found.front.figures[0].limit.replace('\u{A0}', " ");
    assert_eq!(front, "at least 100 bar; before the work at least 5 bar");
    // Before the work it is called by what holds for it.
    let before = run(&["check", "--baseline", folder.path().to_str().unwrap()]);
    assert!(before.out.contains("pass"), "{}", before.out);
}
