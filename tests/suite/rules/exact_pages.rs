//! What the pages say of grades, counts, rates, lists and bands.

use retestify::view::{ENGLISH, Report, Words};

use super::small_job::{SmallJob, stated};
use crate::folder::run;
use crate::pages;
use crate::ties_between_runs::report_with;

const NBSP: char = '\u{A0}';

fn report(job: &SmallJob) -> Report {
    let words = Words::of("en", &[ENGLISH]).unwrap();
    report_with(&job.folder(), "2026-03-06T12:00:00+00:00", &words)
}

fn actuators() -> SmallJob {
    let keys = "at = \"cylinders\"\nkind = \"grade\"\ngrades = [\"none\", \"faint\", \"clear\"]\n\
                at_least = \"faint\"\nrequired = true";
    SmallJob::new().measure(
        "m",
        keys,
        "rows = [ { at = 1, grade = \"none\" }, { at = 2, grade = \"clear\" }, \
         { at = 3, grade = \"none\" }, { at = 4, grade = \"faint\" } ]",
        "rows = [ { at = 1, grade = \"clear\" }, { at = 2, grade = \"faint\" }, \
         { at = 3, not_taken = \"The cover is riveted\" }, { at = 4, grade = \"faint\" } ]",
    )
}

#[test]
fn grades_before_and_after_by_position() {
    let found = report(&actuators());
    let table = &found.positions[0];
    assert!(table.chart.is_none(), "grades are no figures to draw");
    assert_eq!(table.limit, "faint or better (Agreed)");
    let rows: Vec<[&str; 3]> = table
        .rows
        .iter()
        .map(|row| [&*row.baseline, &*row.retest, &*row.result])
        .collect();
    assert_eq!(
        rows,
        [
            ["none", "clear", "pass · better than before"],
            ["clear", "faint", "pass · worse than before"],
            [
                "none",
                "not read",
                "not read in the retest: The cover is riveted"
            ],
            ["faint", "faint", "pass · no different from before"],
        ]
    );
    assert_eq!(
        table.note,
        "Better than before: 1 of the cylinders; worse: 1. So few cylinders can show no \
         change: even if all had changed for the better, p would be 0.25, and it must be below \
         0.05."
    );
    // Faint or better; of those that were read in that run.
    let front = &found.front.figures[0];
    assert_eq!([&*front.before, &*front.after], ["2 of 4", "3 of 3"]);
    let told = found.front.reservations.join(" ");
    assert!(
        told.contains("“Measure m” is worse than before at cylinder 2,"),
        "{told}"
    );
    assert_eq!(found.cannot_tell[0].label, "Measure m");
    let told = &found.cannot_tell[0].text;
    assert!(told.contains("A grade by ear, eye or hand"), "{told}");
}

/// A limit of one position stands in its row; page 1 counts only positions that have one.
#[test]
fn limits_of_single_positions_beside_their_grades() {
    let rows = |grades: [&str; 3]| {
        let rows = [1, 2, 3].map(|at| format!("{{ at = {at}, grade = \"{}\" }}", grades[at - 1]));
        format!("rows = [ {} ]", rows.join(", "))
    };
    let of = |keys: &str| {
        let keys = format!(
            "at = \"cylinders\"\nkind = \"grade\"\nrequired = true\n\
             grades = [\"none\", \"faint\", \"clear\"]\n{keys}"
        );
        let (before, after) = (rows(["none"; 3]), rows(["clear", "faint", "faint"]));
        let job = SmallJob::new().cylinders(3);
        report(&job.measure("m", &keys, &before, &after))
    };
    let row = "limit_rows = [ { at = 2, at_least = \"faint\" } ]";
    let found = of(&format!("at_least = \"clear\"\n{row}"));
    let table = &found.positions[0];
    assert!(table.own_limits);
    let limits: Vec<&str> = table.rows.iter().map(|row| &*row.limit).collect();
    assert_eq!(limits, ["clear", "faint or better", "clear"]);
    assert_eq!(
        table.limit,
        "clear, unless a position has its own limit (Agreed)"
    );
    let front = &found.front.figures[0];
    assert_eq!([&*front.before, &*front.after], ["0 of 3", "2 of 3"]);
    let found = of(row);
    assert_eq!(found.positions[0].limit, "each its own limit (Agreed)");
    let front = &found.front.figures[0];
    assert_eq!([&*front.before, &*front.after], ["0 of 1", "1 of 1"]);
}

#[test]
fn counts_rates_and_lists() {
    let job = SmallJob::new()
        .measure(
            "count",
            "kind = \"count\"\nmax_count = 0",
            "count = 3",
            "count = 0",
        )
        .measure(
            "rate",
            "kind = \"count\"\nper = \"min\"\nmax_rate = 1",
            "count = 40\nover = 10\nunit = \"min\"",
            "count = 3\nover = 600\nunit = \"s\"",
        )
        .measure(
            "list",
            "kind = \"list\"\nmax_count = 1",
            "items = [ { code = \"P-1\", text = \"Rail low\" }, { code = \"P-2\" } ]",
            "items = [ { code = \"P-2\", text = \"Sensor\" } ]",
        )
        .measure(
            "lamp",
            "kind = \"grade\"\ngrades = [\"no\", \"yes\"]\nat_least = \"yes\"",
            "grade = \"no\"",
            "grade = \"yes\"",
        );
    let found = report(&job);
    let row = |place: usize| {
        let row = &found.measures[place];
        [
            &*row.name,
            &*row.baseline,
            &*row.retest,
            &*row.limit,
            &*row.result,
        ]
        .map(str::to_owned)
    };
    let of = |cells: [&str; 5]| cells.map(|cell| cell.replace('_', &NBSP.to_string()));
    assert_eq!(
        row(0),
        of([
            "Measure count",
            "3",
            "0",
            "at most 0",
            "pass · better than before"
        ])
    );
    assert_eq!(
        row(1),
        of([
            "Measure rate (per min)",
            "4.00 (40 in 10_min)",
            "0.300 (3 in 600_s)",
            "at most 1 per min",
            "pass · improved"
        ])
    );
    assert!(
        found.measures[1]
            .remark
            .starts_with("95 % interval after: 0.0619 to 0.877 per min;"),
        "{}",
        found.measures[1].remark
    );
    assert_eq!(
        row(2),
        of([
            "Measure list",
            "P-1, P-2",
            "P-2",
            "at most 1",
            "pass · 1 gone, 1 still there, 0 new"
        ])
    );
    // Than the best grade nothing is better.
    let lamp = [
        "Measure lamp",
        "no",
        "yes",
        "yes",
        "pass · better than before",
    ];
    assert_eq!(row(3), of(lamp));
    let texts: Vec<[&str; 3]> = found
        .texts
        .iter()
        .map(|row| [&*row.name, &*row.baseline, &*row.retest])
        .collect();
    assert_eq!(
        texts,
        [
            ["Measure list: gone", "P-1 Rail low", "–"],
            ["Measure list: still there", "P-2", "P-2 Sensor"],
            ["Measure list: new", "–", "–"],
        ]
    );
}

#[test]
fn bands_with_their_probabilities() {
    let keys = "kind = \"value\"\nunit = \"mm/s\"\nmax = 2.8\nrequired = true\nbands = { names = \
                [\"A\", \"B\", \"C\"], upper = [1.4, 2.8], source = \"ISO 20816-3\" }";
    let u = stated("0.1959963984540054");
    let reading = |value| format!("value = {value}\nunit = \"mm/s\"\n{u}");
    let job = SmallJob::new().measure("m", keys, &reading("4.0"), &reading("2.7"));
    let found = report(&job);
    let row = &found.measures[0];
    assert!(row.result.ends_with(" · C → B"), "{}", row.result);
    let remark = row.remark.replace(NBSP, " ");
    assert!(
        remark.contains("before A < 1 %, B < 1 %, C > 99 %; after A < 1 %, B 84 %, C 16 %"),
        "{remark}"
    );
    assert!(found.front.figures[0].result.ends_with(" · C → B"));
    let planned = found.rule.join(" ").replace(NBSP, " ");
    let bands = "Bands of “Measure m”: A up to 1.4 mm/s; B up to 2.8 mm/s; C above (ISO 20816-3).";
    assert!(planned.contains(bands), "{planned}");
}

/// The worksheet has the scale to circle, and lines for a list; report and receipt are set.
#[test]
fn the_papers_are_set() {
    let job = actuators()
        .measure(
            "list",
            "kind = \"list\"\nmax_count = 0",
            "items = []",
            "items = []",
        )
        .measure(
            "rate",
            "kind = \"count\"\nper = \"min\"",
            "count = 4\nover = 1\nunit = \"min\"",
            "count = 3\nover = 1\nunit = \"min\"",
        );
    let folder = job.folder();
    let path = folder.path();
    let path = path.to_str().unwrap();
    let made = run(&["worksheet", path, "--replace"]);
    assert_eq!(made.code, 0, "{}", made.err);
    let sheet = pages::texts(&std::fs::read(folder.file("worksheet.pdf")).unwrap()).join(" ");
    for text in ["none faint clear", "code, text", "counted"] {
        assert!(sheet.contains(&pages::bare(text)), "`{text}` in {sheet}");
    }
    let out = folder.file("out.pdf");
    let made = run(&["report", path, "-o", out.to_str().unwrap()]);
    assert!(made.code != 2, "{}", made.err);
    let made = run(&["check", "--baseline", path]);
    assert_eq!(made.code, 0, "{}", made.err);
    assert!(made.out.contains("nothing stored"), "{}", made.out);
    let screen = run(&["check", path]).out;
    assert!(screen.contains("worse than before"), "{screen}");
}

/// The limit of a count that must be one number, and of passes of attempts.
#[test]
fn limits_of_what_is_counted() {
    let count = "kind = \"count\"\nmin_count = 4\nmax_count = 4";
    let passes = "kind = \"passes\"\nmin_passes = 3";
    let job = SmallJob::new()
        .measure("count", count, "count = 3", "count = 4")
        .measure(
            "passes",
            passes,
            "passes = 1\nattempts = 3",
            "passes = 3\nattempts = 3",
        );
    let limits: Vec<String> = report(&job)
        .measures
        .into_iter()
        .map(|row| row.limit)
        .collect();
    assert_eq!(limits, ["exactly 4", "at least 3 pass"]);
}

/// Where no position was read before the work, page 1 says so, and not "0 of 0".
#[test]
fn what_was_read_at_no_position_is_not_counted() {
    let keys = "kind = \"grade\"\ngrades = [\"wet\", \"dry\"]\nat_least = \"dry\"\n\
                at = \"cylinders\"\nrequired = true";
    let rows = |grade: &str| {
        let each = (1..5).map(|n| format!("{{ at = {n}, {grade} }}"));
        format!("rows = [ {} ]", each.collect::<Vec<_>>().join(", "))
    };
    let before = "not_taken = \"The cover was on\"";
    let job = SmallJob::new().measure("m", keys, before, &rows("grade = \"dry\""));
    let found = report(&job);
    let front = &found.front.figures[0];
    assert_eq!([&*front.before, &*front.after], ["not read", "4 of 4"]);
    let row = &found.measures[0];
    assert_eq!([&*row.baseline, &*row.retest], ["not read", "4 of 4"]);
}

/// A worked-out figure of which a part was not read in one run shows what came out in the
/// other.
#[test]
fn what_was_worked_out_in_one_run_is_shown() {
    let reading = |value: &str| format!("value = {value}\nunit = \"bar\"\n{}", stated("0.1"));
    let missing = || "not_taken = \"The gauge broke\"".to_owned();
    for (before, after, wanted) in [
        (reading("10.0"), missing(), ["20.00 ± 0.20 bar", "not read"]),
        (missing(), reading("11.0"), ["not read", "22.00 ± 0.20"]),
    ] {
        let job = SmallJob::new()
            .measure("m", "kind = \"value\"\nunit = \"bar\"", &before, &after)
            .plan(
                "[[measure]]\nid = \"w\"\nname = \"Double\"\nkind = \"value\"\n\
                 unit = \"bar\"\nworked_out = \"2 * m\"",
            );
        let found = report(&job);
        let row = &found.measures[1];
        let shown = [&row.baseline, &row.retest].map(|text| text.replace(NBSP, " "));
        assert_eq!(shown, wanted);
    }
}
