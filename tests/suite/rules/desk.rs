//! The pages for the desk: what is claimed of each change, and which instruments are called
//! overdue. What page 1 says of a measure, its row says as well.

use retestify::job::Stage;
use retestify::seals::{BrokenFile, Sealing};
use retestify::view::Report;

use super::page::{ids, plain};
use super::small_job::{SmallJob, bar};
use super::table::{Row, answers};
use crate::folder::Folder;
use crate::ties_between_runs::report_under;

/// The cells of the first row of measures, of conditions, of cylinders, and of instruments.
fn cell(report: &Report, name: &str) -> String {
    let row = &report.measures[0];
    plain(match name {
        "result" => &row.result,
        "mark" => row.mark,
        "read with" => &row.read_with,
        "remark" => &row.remark,
        "on page 1" => report
            .front
            .figures
            .first()
            .map_or("", |figure| &figure.result),
        "mark on page 1" => report
            .front
            .figures
            .first()
            .map_or("", |figure| figure.mark),
        "condition" => &report.conditions[1].result,
        "condition read with" => &report.conditions[1].read_with,
        "calibrated" => &report.instruments[0].calibrated,
        "all cylinders" => &report.positions[0].result,
        "cylinder 1" => &report.positions[0].rows[0].result,
        "note" => &report.positions[0].note,
        other => panic!("{other}"),
    })
}

#[track_caller]
fn hold(text: &'static str, job: impl Fn(&Row<'_>) -> SmallJob) {
    answers(text, |row| {
        let report = job(row).pages();
        move |name: &str| cell(&report, name)
    });
}

/// One required measure of which U of the change is 1, under a condition that may be easier.
fn changed(row: &Row<'_>, easier: bool) -> SmallJob {
    let keys = row.at("keys").replace(", ", "\n").replace('\'', "\"");
    let ambient = if easier { 30 } else { 20 };
    let (before, after) = (row.at("before"), row.at("after"));
    SmallJob::new()
        .rule(row.at("rule"))
        .value(
            "m",
            &format!("front_page = true\n{keys}"),
            &bar(before, "0.6"),
            &bar(after, "0.8"),
        )
        .condition(
            "ambient",
            "required = true\nunit = \"°C\"\nwindow = 3\nharder = \"lower\"",
            "value = 20, unit = \"°C\"",
            &format!("value = {ambient}, unit = \"°C\""),
        )
}

#[test]
fn what_is_claimed_of_a_change() {
    let fair = "
        rule      | keys     | before | after => result | mark | on page 1 | mark on page 1
        four-zone | max = 10 | 14     | 5     => outcome-pass · change-improved             | pass   | outcome-pass      | pass
        four-zone | max = 10 | 14     | 9.5   => outcome-conditional-pass · change-improved | conditional-pass | outcome-conditional-pass    | conditional-pass
        guarded   | max = 10 | 14     | 9.5   => outcome-inconclusive · change-improved | inconclusive | outcome-inconclusive | inconclusive
        four-zone | max = 10 | 14     | 10.5  => outcome-inconclusive · change-improved | inconclusive | outcome-inconclusive | inconclusive
        four-zone | max = 10 | 14     | 12    => outcome-fail · change-improved             | fail   | outcome-fail      | fail
        four-zone | max = 10 | 5      | 5     => outcome-pass · change-none                 | pass   | outcome-pass      | pass
        four-zone | max = 10 | 5      | 7     => outcome-pass · change-worsened             | pass   | outcome-pass      | pass
        four-zone | better = 'lower' | 14 | 5 => change-improved                         | none   | outcome-no-limit      | none
        # Neither better nor worse, and no limit: for information.
        four-zone | method = 'so' | 14 | 5    => outcome-no-limit                            | none   | outcome-no-limit      | none
        # An improvement that is required has a zone of its own.
        four-zone | better = 'lower', improve_by = 5 | 20 | 14 => gain: outcome-pass · change-improved | pass | outcome-pass | pass
        four-zone | better = 'lower', improve_by = 5 | 20 | 15.5 => gain: outcome-inconclusive · change-improved | inconclusive | outcome-inconclusive | inconclusive
        four-zone | better = 'lower', improve_by = 5 | 20 | 20 => gain: outcome-fail · change-none | fail | outcome-fail | fail
        four-zone | better = 'lower', improve_by = 5 | 20 | 22 => gain: outcome-fail · change-worsened | fail | outcome-fail | fail
        # A change that cannot be seen meets none, on every page and by every rule.
        simple    | better = 'lower', improve_by = 0.5 | 20 | 19 => gain: outcome-inconclusive · change-none | inconclusive | outcome-inconclusive | inconclusive
        four-zone | better = 'lower', improve_by = 0.5 | 20 | 19 => gain: outcome-inconclusive · change-none | inconclusive | outcome-inconclusive | inconclusive
        four-zone | better = 'lower', improve_by = 0.5 | 20 | 20.5 => gain: outcome-inconclusive · change-none | inconclusive | outcome-inconclusive | inconclusive
        # Worse than what was not told from nothing: no share of it, and none met.
        four-zone | better = 'lower', improve_percent = 50, pressure = 'difference' | 0.5 | 5 => gain: outcome-fail · change-worsened | fail | outcome-fail | fail
        four-zone | better = 'lower', improve_percent = 50, pressure = 'difference' | 0.5 | 0.4 => gain: outcome-inconclusive · change-none | inconclusive | outcome-inconclusive | inconclusive
        # Between two limits a value may move without getting better or worse.
        four-zone | min = 10, max = 20 | 12   | 12.5  => outcome-pass · change-none             | pass   | outcome-pass      | pass
        four-zone | min = 10, max = 20 | 12   | 18    => outcome-pass · change-inside           | pass   | outcome-pass      | pass
        four-zone | min = 10, max = 20 | 19.9 | 10.1  => outcome-conditional-pass · change-inside | conditional-pass | outcome-conditional-pass  | conditional-pass
        four-zone | min = 10, max = 20 | 20.7 | 15    => outcome-pass · change-outside-inside   | pass   | outcome-pass      | pass
        four-zone | min = 10, max = 20 | 20.5 | 15    => outcome-pass · change-came-inside      | pass   | outcome-pass      | pass
        four-zone | min = 10, max = 20 | 20.7 | 19.5  => outcome-conditional-pass · change-came-inside | conditional-pass | outcome-conditional-pass | conditional-pass
        four-zone | min = 10, max = 20 | 15   | 20.7  => outcome-inconclusive · change-went-outside | inconclusive | outcome-inconclusive | inconclusive
        four-zone | min = 10, max = 20 | 21   | 9     => outcome-fail · change-neither          | fail   | outcome-fail      | fail
        four-zone | min = 10, max = 20 | 22   | 15    => outcome-pass · change-improved         | pass   | outcome-pass      | pass
        ";
    hold(fair, |row| changed(row, false));
    // Under easier conditions nothing improved; what got worse did so all the more.
    let unfair = "
        rule      | keys     | before | after => result | condition
        four-zone | max = 10 | 14     | 5     => outcome-pass · change-apparent | condition-easier
        four-zone | max = 10 | 5      | 5     => outcome-pass · change-none     | condition-easier
        four-zone | max = 10 | 5      | 7     => outcome-pass · change-worsened | condition-easier
        four-zone | min = 10, max = 20 | 12 | 18 => outcome-pass · change-inside | condition-easier
        ";
    hold(unfair, |row| changed(row, true));
}

#[test]
fn what_is_claimed_of_counts() {
    hold(
        "
        min | before | after => result | mark | on page 1
        3   | 0/4    | 4/4   => outcome-pass · change-improved | pass | outcome-pass
        3   | 2/4    | 2/4   => outcome-fail · change-none     | fail | outcome-fail
        3   | 4/4    | 0/4   => outcome-fail · change-worsened | fail | outcome-fail
        # Three attempts can never show a change.
        2   | 0/3    | 3/3   => outcome-pass · change-too-few-attempts | pass | outcome-pass
        -   | 0/4    | 4/4   => change-improved             | none | outcome-no-limit
        ",
        |row| {
            let reading = |column| {
                let (passes, attempts) = row.at(column).split_once('/').unwrap();
                format!("passes = {passes}\nattempts = {attempts}")
            };
            let min = match row.at("min") {
                "-" => String::new(),
                min => format!("min_passes = {min}"),
            };
            let keys = format!("kind = \"passes\"\nfront_page = true\n{min}");
            SmallJob::new().measure("m", &keys, &reading("before"), &reading("after"))
        },
    );
}

fn rows(cells: &str, key: impl Fn(&str) -> String) -> String {
    let cells = cells.split_whitespace().enumerate();
    let rows: Vec<String> = cells
        .map(|(index, cell)| format!("{{ at = {}, {} }}", index + 1, key(cell)))
        .collect();
    format!("rows = [{}]", rows.join(", "))
}

#[test]
fn what_is_claimed_of_cylinders() {
    hold(
        "
        before          | after           => all cylinders | cylinder 1 | result | on page 1
        # Five cylinders that all began to pass show nothing, six do.
        1/2 1/2 1/2 1/2 1/2     | 2/2 2/2 2/2 2/2 2/2     => outcome-pass · change-too-few-positions | outcome-pass · change-too-few-attempts | outcome-pass | outcome-pass
        1/2 1/2 1/2 1/2 1/2 1/2 | 2/2 2/2 2/2 2/2 2/2 2/2 => outcome-pass · change-improved | outcome-pass · change-too-few-attempts | outcome-pass | outcome-pass
        # One that changed plainly by itself is enough.
        0/9 9/9 | 9/9 9/9 => outcome-pass · change-improved | outcome-pass · change-improved | outcome-pass | outcome-pass
        0/9 9/9 | 0/9 9/9 => outcome-fail · change-too-few-positions | outcome-fail · change-none | outcome-fail | outcome-fail
        ",
        |row| {
            let reading = |column| {
                rows(row.at(column), |cell| {
                    let (passes, attempts) = cell.split_once('/').unwrap();
                    format!("passes = {passes}, attempts = {attempts}")
                })
            };
            SmallJob::new()
                .cylinders(row.at("before").split_whitespace().count())
                .measure(
                    "m",
                    "kind = \"passes\"\nat = \"cylinders\"\nfront_page = true\nmin_passes = 2",
                    &reading("before"),
                    &reading("after"),
                )
        },
    );
    hold(
        "
        before  | after => all cylinders | cylinder 1 | result | on page 1
        14 14   | 5 5   => outcome-pass · change-improved | outcome-pass · change-improved | outcome-pass | outcome-pass
        14 14   | 5 12  => outcome-fail · change-improved | outcome-pass · change-improved | outcome-fail | outcome-fail
        5 14    | 5 9.5 => outcome-conditional-pass · change-improved | outcome-pass · change-none | outcome-conditional-pass | outcome-conditional-pass
        ",
        |row| {
            let reading = |column| {
                let rows = rows(row.at(column), |cell| format!("value = {cell}"));
                format!("{rows}\nunit = \"bar\"\nuncertainty = 1\nk = 1.96")
            };
            let keys = "kind = \"value\"\nat = \"cylinders\"\nunit = \"bar\"\nmax = 10\nfront_page = true";
            SmallJob::new()
                .cylinders(2)
                .measure("m", keys, &reading("before"), &reading("after"))
        },
    );
}

/// How many cylinders lie inside their limit, before and after: exactly at it is inside, and
/// outside by less than U is not.
#[test]
fn cylinders_inside_their_limit() {
    let count = |before: &str, after: &str| {
        let reading = |cells| {
            let rows = rows(cells, |cell| format!("value = {cell}"));
            format!("{rows}\nunit = \"bar\"\nuncertainty = 1")
        };
        let keys =
            "kind = \"value\"\nat = \"cylinders\"\nunit = \"bar\"\nmax = 10\nfront_page = true";
        let report = SmallJob::new()
            .cylinders(3)
            .measure("m", keys, &reading(before), &reading(after))
            .pages();
        let (row, figure) = (&report.measures[0], &report.front.figures[0]);
        assert_eq!(
            [&row.baseline, &row.retest],
            [&figure.before, &figure.after]
        );
        format!("{}, {}", plain(&row.baseline), plain(&row.retest))
    };
    assert_eq!(count("14 14 14", "5 5 5"), "k-of-n: 0; 3, k-of-n: 3; 3");
    assert_eq!(
        count("10 10.1 5", "9.5 10 10"),
        "k-of-n: 2; 3, k-of-n: 3; 3"
    );
    assert_eq!(count("5 5 5", "10.1 10.2 5"), "k-of-n: 3; 3, k-of-n: 1; 3");
}

/// Baseline on 2 March, retest on the 5th. An instrument is overdue in every row in which it
/// was read after its calibration was due, and in the list; and in none where it was read
/// before that only.
#[test]
fn an_overdue_instrument_is_overdue_everywhere() {
    hold(
        "
        due        | before | after => read with | condition read with | calibrated
        2026-03-05 | g      | g     => read-with: plain-id: g   | read-with: plain-id: g   | calibration-due: 5 March 2026
        2026-03-04 | g      | g     => read-with: overdue-id: g | read-with: overdue-id: g | calibration-overdue: 4 March 2026
        2026-03-04 | o      | g     => read-with: plain-id: o, overdue-id: g | read-with: plain-id: o, overdue-id: g | calibration-overdue: 4 March 2026
        2026-03-04 | g      | o     => read-with: plain-id: g, plain-id: o   | read-with: plain-id: g, plain-id: o   | calibration-due: 4 March 2026
        2026-03-01 | g      | o     => read-with: overdue-id: g, plain-id: o | read-with: overdue-id: g, plain-id: o | calibration-overdue: 1 March 2026
        ",
        |row| {
            let reading = |column| {
                format!("value = 5\nunit = \"bar\"\ninstrument = \"{}\"", row.at(column))
            };
            let condition = |column| {
                format!("value = 5, unit = \"bar\", instrument = \"{}\"", row.at(column))
            };
            let errors = "unit = \"bar\"\naccuracy = 0.1";
            SmallJob::new()
                .instrument("g", &format!("{errors}\ndue = {}", row.at("due")))
                .instrument("o", errors)
                .value("m", "better = \"lower\"", &reading("before"), &reading("after"))
                .condition("supply", "unit = \"bar\"\nwindow = 1", &condition("before"), &condition("after"))
        },
    );
}

/// The budget of a change has a row of its own where its two readings depend on each other.
/// The scatter is one, so the two runs have one budget where they were read as often.
#[test]
fn the_budget_of_a_change() {
    let runs = |instrument: &str, keys: &str, after: &str| {
        let reading = |values| format!("values = [{values}]\nunit = \"bar\"\ninstrument = \"g\"");
        let report = SmallJob::new()
            .instrument(
                "g",
                &format!("unit = \"bar\"\naccuracy = 0.1\n{instrument}"),
            )
            .varying("m", keys, &reading("5.0, 5.2, 5.6"), &reading(after))
            .pages();
        let runs: Vec<String> = report.budgets.iter().map(|row| plain(&row.run)).collect();
        runs.join(", ")
    };
    let (common, paired) = ("common_error = \"Same gauge\"", "paired = true");
    let (two, three) = ("4.0, 4.1", "4.0, 4.1, 4.1");
    assert_eq!(runs("", "", two), "run-baseline, run-retest");
    assert_eq!(runs("", "", three), "run-both");
    assert_eq!(
        runs(common, "", two),
        "run-baseline, run-retest, run-change"
    );
    assert_eq!(runs(common, "", three), "run-both, run-change");
    // Of pairs each run keeps a scatter of its own.
    let apart = "run-baseline, run-retest, run-change";
    assert_eq!(runs("", paired, three), apart);
    assert_eq!(runs(common, paired, three), apart);
}

/// Of the cylinders, which scatter alike, the budget shows the one that was read least.
#[test]
fn the_budget_of_the_cylinder_known_least() {
    let shown = |before: [&str; 3], after: [&str; 3]| {
        let reading = |lists: [&str; 3]| {
            let rows: Vec<String> = (1..)
                .zip(lists)
                .map(|(number, list)| format!("{{ at = {number}, values = [{list}] }}"))
                .collect();
            format!(
                "rows = [{}]\nunit = \"bar\"\ninstrument = \"g\"",
                rows.join(", ")
            )
        };
        let report = SmallJob::new()
            .cylinders(3)
            .instrument("g", "unit = \"bar\"\naccuracy = 0.1")
            .measure(
                "m",
                "kind = \"value\"\nat = \"cylinders\"\nunit = \"bar\"",
                &reading(before),
                &reading(after),
            )
            .pages();
        plain(&report.budgets[0].name)
    };
    let (twice, once) = ("5.0, 5.1", "5.0");
    assert_eq!(
        shown([twice, once, twice], [twice; 3]),
        "budget-position: Measure m; cylinder-called: 2 (bar)"
    );
    assert_eq!(
        shown([twice; 3], [twice, twice, once]),
        "budget-position: Measure m; cylinder-called: 3 (bar)"
    );
    assert_eq!(
        shown([once, twice, twice], [twice; 3]),
        "budget-position: Measure m; cylinder-called: 1 (bar)"
    );
}

/// Under a broken seal no result and no drawing speaks for the work, on page 1 or behind it.
#[test]
fn under_a_broken_seal_nothing_passes() {
    let folder = Folder::copy_of("frost-fan");
    let pages = |sealing| report_under(sealing, &folder, "2026-01-23T12:00:00+00:00", &ids());
    let results = |report: &Report| -> Vec<String> {
        let tables = report.positions.iter();
        let places = tables.flat_map(|table| table.rows.iter().map(|row| &row.result));
        let whole = report.positions.iter().map(|table| &table.result);
        let measures = report.measures.iter().map(|row| &row.result);
        measures.chain(whole).chain(places).cloned().collect()
    };
    let drawings = |report: &Report| {
        let figures = report.front.figures.iter();
        figures
            .filter(|one| one.drawing.is_some() || !one.at.is_empty())
            .count()
    };
    let sound = pages(Sealing::default());
    assert!(
        results(&sound)
            .iter()
            .any(|one| one.contains("outcome-pass"))
    );
    assert!(drawings(&sound) > 0);
    let broken = pages(Sealing {
        broken: vec![BrokenFile {
            file: "baseline.toml".to_owned(),
            stage: Stage::Baseline,
            missing: false,
        }],
        ..Sealing::default()
    });
    let left = results(&broken);
    assert_eq!(left.len(), results(&sound).len());
    assert!(
        left.iter().all(|one| one == "<result-not-relied-on>"),
        "{left:?}"
    );
    assert_eq!(drawings(&broken), 0);
    assert!(broken.measures.iter().all(|row| row.mark == "none"));
    let rows = || broken.positions.iter().flat_map(|table| &table.rows);
    assert!(rows().count() > 0 && rows().all(|row| row.mark == "none"));
    assert_eq!(broken.front.lead, "");
}
