//! What is said of the instruments, of the machine's meter, and of readings more or fewer
//! than were planned. None of it changes a verdict.

use super::small_job::{SmallJob, bar};
use super::table::{Row, hold};

/// A job that passes.
fn passing() -> SmallJob {
    SmallJob::new().value(
        "m",
        "required = true\nmax = 10",
        &bar("14", "1"),
        &bar("5", "1"),
    )
}

/// The days are those of the place: half past midnight at UTC+01:00 is still the day before
/// in UTC, and half past eleven at night at UTC−05:00 already the next.
#[test]
fn a_calibration_that_was_due_or_came_later() {
    hold(
        "
        key        | day        | before                    | after                     => verdict | reservations
        # Due on the day itself is in time, a day later it is not, in either run.
        due        | 2026-03-05 | 2026-03-02T07:00:00+00:00 | 2026-03-05T07:00:00+00:00 => verified |
        due        | 2026-03-04 | 2026-03-02T07:00:00+00:00 | 2026-03-05T07:00:00+00:00 => verified | calibration-overdue gauge 2026-03-04
        due        | 2026-03-01 | 2026-03-02T07:00:00+00:00 | 2026-03-05T07:00:00+00:00 => verified | calibration-overdue gauge 2026-03-01
        due        | 2026-03-04 | 2026-03-02T07:00:00+00:00 | 2026-03-05T00:30:00+01:00 => verified | calibration-overdue gauge 2026-03-04
        due        | 2026-03-04 | 2026-03-02T07:00:00+00:00 | 2026-03-04T23:30:00-05:00 => verified |
        # Calibrated on the day of the run counts, a day after it does not.
        calibrated | 2026-03-02 | 2026-03-02T07:00:00+00:00 | 2026-03-05T07:00:00+00:00 => verified |
        calibrated | 2026-03-03 | 2026-03-02T07:00:00+00:00 | 2026-03-05T07:00:00+00:00 => verified | calibrated-later gauge
        calibrated | 2026-03-06 | 2026-03-02T07:00:00+00:00 | 2026-03-05T07:00:00+00:00 => verified | calibrated-later gauge
        calibrated | 2026-03-03 | 2026-03-03T00:30:00+01:00 | 2026-03-05T07:00:00+00:00 => verified |
        calibrated | 2026-03-03 | 2026-03-02T23:30:00-05:00 | 2026-03-05T07:00:00+00:00 => verified | calibrated-later gauge
        ",
        |row| {
            let reading = "value = 5\nunit = \"bar\"\ninstrument = \"gauge\"";
            let dated = format!(
                "unit = \"bar\"\naccuracy = 0.1\n{} = {}",
                row.at("key"),
                row.at("day")
            );
            passing()
                .started(row.at("before"), row.at("after"))
                .instrument("gauge", &dated)
                .value("n", "better = \"lower\"", reading, reading)
        },
    );
}

/// Every way in which a run can use an instrument, in either run; an instrument that none
/// uses has nothing to be said of it.
#[test]
fn every_use_of_an_instrument_counts() {
    hold(
        "
        used by   | run    | key                     => reservations
        nothing   | both   | due = 2026-01-31        =>
        nothing   | both   | calibrated = 2026-04-01 =>
        value     | before | due = 2026-01-31        => calibration-overdue gauge 2026-01-31
        value     | after  | due = 2026-01-31        => calibration-overdue gauge 2026-01-31
        value     | both   | due = 2026-01-31        => calibration-overdue gauge 2026-01-31
        value     | before | calibrated = 2026-04-01 => calibrated-later gauge
        value     | after  | calibrated = 2026-04-01 => calibrated-later gauge
        cylinders | before | due = 2026-01-31        => calibration-overdue gauge 2026-01-31
        cylinders | after  | calibrated = 2026-04-01 => calibrated-later gauge
        smoke     | before | due = 2026-01-31        => calibration-overdue gauge 2026-01-31
        smoke     | after  | calibrated = 2026-04-01 => calibrated-later gauge
        timer     | before | due = 2026-01-31        => calibration-overdue gauge 2026-01-31
        timer     | after  | calibrated = 2026-04-01 => calibrated-later gauge
        condition | before | due = 2026-01-31        => calibration-overdue gauge 2026-01-31
        condition | after  | due = 2026-01-31        => calibration-overdue gauge 2026-01-31
        condition | before | calibrated = 2026-04-01 => calibrated-later gauge
        condition | after  | calibrated = 2026-04-01 => calibrated-later gauge
        # Baseline on 2 March, retest on the 5th: overdue, or not yet calibrated, in the run
        # that used it only.
        value     | before | due = 2026-03-03        =>
        value     | after  | due = 2026-03-03        => calibration-overdue gauge 2026-03-03
        value     | before | calibrated = 2026-03-03 => calibrated-later gauge
        value     | after  | calibrated = 2026-03-03 =>
        ",
        |row| {
            let unit = match row.at("used by") {
                "smoke" => "%",
                "timer" => "s",
                "condition" => "V",
                _ => "bar",
            };
            // Another instrument of the same kind, where the run does not use this one.
            let errors = format!("unit = \"{unit}\"\naccuracy = 0.1");
            let job = passing()
                .instrument("gauge", &format!("{errors}\n{}", row.at("key")))
                .instrument("other", &errors);
            let used = |run: &str| match row.at("run") {
                "both" => "gauge",
                here if here == run => "gauge",
                _ => "other",
            };
            let both = |text: &dyn Fn(&str) -> String| [text(used("before")), text(used("after"))];
            match row.at("used by") {
                "value" => {
                    let [b, a] =
                        both(&|id| format!("value = 5\nunit = \"bar\"\ninstrument = \"{id}\""));
                    job.value("n", "better = \"lower\"", &b, &a)
                }
                "cylinders" => {
                    let [b, a] = both(&|id| {
                        format!(
                            "rows = [{{ at = 1, value = 5 }}]\nunit = \"bar\"\ninstrument = \"{id}\""
                        )
                    });
                    job.cylinders(1).measure(
                        "n",
                        "kind = \"value\"\nat = \"cylinders\"\nunit = \"bar\"",
                        &b,
                        &a,
                    )
                }
                "smoke" => {
                    let [b, a] = both(&|id| format!("opacity_percent = 5\ninstrument = \"{id}\""));
                    job.measure("n", "kind = \"smoke\"", &b, &a)
                }
                "timer" => {
                    let [b, a] = both(&|id| format!("clear_seconds = 5.5\ntimer = \"{id}\""));
                    job.measure("n", "kind = \"smoke\"", &b, &a)
                }
                "condition" => {
                    let [b, a] =
                        both(&|id| format!("value = 12, unit = \"V\", instrument = \"{id}\""));
                    job.condition("supply", "unit = \"V\"\nwindow = 1", &b, &a)
                }
                _ => job,
            }
        },
    );
}

/// A meter may not run backwards; and it counts no less than the run-in, but for the one
/// step in which it is read.
#[test]
fn the_meter() {
    hold(
        "
        before | after  | unit | run-in          => verdict  | reservations
        100    | 100    | h    |                 => verified |
        100    | 99.9   | h    |                 => verified | meter-backwards
        100    | 99.9   | h    | hours = 4       => verified | meter-backwards
        100    | 104    | h    | hours = 4       => verified |
        100    | 103    | h    | hours = 4       => verified |
        100    | 102.99 | h    | hours = 4       => verified | meter-behind-run-in
        100    | 100    | h    | hours = 1       => verified |
        100    | 100    | h    | hours = 1.01    => verified | meter-behind-run-in
        # What counts hours says nothing of kilometres, and starts are in no meter.
        100    | 100    | h    | kilometres = 90 => verified |
        100    | 100    | h    | starts = 90     => verified |
        100    | 100    | km   | hours = 90      => verified |
        100    | 139    | km   | kilometres = 40 => verified |
        100    | 138.9  | km   | kilometres = 40 => verified | meter-behind-run-in
        # Of both, the one that it counts.
        100    | 138.9  | km   | hours = 1, kilometres = 40 => verified | meter-behind-run-in
        100    | 139    | km   | hours = 90, kilometres = 40 => verified |
        # 3 + 1 miles are 6.437 km (1 mi = 1.609 344 km).
        100    | 103    | mi   | kilometres = 6.43 => verified |
        100    | 103    | mi   | kilometres = 6.44 => verified | meter-behind-run-in
        100    | 103    | mi   | miles = 4       => verified |
        100    | 103    | mi   | miles = 4.01    => verified | meter-behind-run-in
        # Read in one run only, it contradicts nothing.
        100    |        | h    | hours = 4       => verified |
               | 100    | h    | hours = 4       => verified |
        ",
        |row| {
            let meter = |column| match row.at(column) {
                "" => String::new(),
                value => format!("value = {value}, unit = \"{}\"", row.at("unit")),
            };
            passing()
                .meter(&meter("before"), &meter("after"))
                .run_in(row.at("run-in"))
        },
    );
}

fn repeats(row: &Row<'_>) -> SmallJob {
    let reading = |column| match row.at(column) {
        "-" => "not_taken = \"The gauge broke\"".to_owned(),
        one if !one.contains(' ') => format!("value = {one}\nunit = \"bar\"\nuncertainty = 1"),
        several => {
            let values = several.replace(' ', ", ");
            format!("values = [{values}]\nunit = \"bar\"\nuncertainty = 1")
        }
    };
    let planned = match row.at("planned") {
        "-" => String::new(),
        planned => format!("repeats = {planned}"),
    };
    passing().varying("n", &planned, &reading("before"), &reading("after"))
}

#[test]
fn readings_as_planned() {
    hold(
        "
        planned | before      | after       => reservations
        2       | 5.1 5.2     | 5.1 5.2     =>
        2       | 5.1         | 5.1 5.2     => repeats-differ n
        2       | 5.1 5.2     | 5.1         => repeats-differ n
        2       | 5.1 5.2 5.3 | 5.1 5.2     => repeats-differ n
        2       | 5.1 5.2     | 5.1 5.2 5.3 => repeats-differ n
        1       | 5.1         | 5.1         =>
        1       | 5.1         | 5.1 5.2     => repeats-differ n
        # Nothing planned, nothing to differ from; what was not taken has its own word.
        -       | 5.1         | 5.1 5.2     =>
        2       | 5.1 5.2     | -           =>
        2       | 5.1         | -           => repeats-differ n
        ",
        repeats,
    );
}

#[test]
fn readings_of_every_cylinder_as_planned() {
    hold(
        "
        before  | after   => reservations
        2 2     | 2 2     =>
        1 2     | 2 2     => repeats-differ n
        2 1     | 2 2     => repeats-differ n
        2 2     | 1 2     => repeats-differ n
        2 2     | 2 3     => repeats-differ n
        ",
        |row| {
            let reading = |column| {
                let rows = row.at(column).split_whitespace().enumerate();
                let rows: Vec<String> = rows
                    .map(|(index, count)| {
                        let values = ["5.1", "5.2", "5.3"][..count.parse().unwrap()].join(", ");
                        format!("{{ at = {}, values = [{values}] }}", index + 1)
                    })
                    .collect();
                format!(
                    "rows = [{}]\nunit = \"bar\"\nuncertainty = 1",
                    rows.join(", ")
                )
            };
            let keys = "kind = \"value\"\nat = \"cylinders\"\nunit = \"bar\"\nrepeats = 2";
            passing()
                .cylinders(2)
                .measure("n", keys, &reading("before"), &reading("after"))
        },
    );
}
