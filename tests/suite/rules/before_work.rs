//! The baseline before there is any work: how each reading stands at its limit that day, as
//! `check --baseline` and the receipt show it.

use std::fs;

use super::small_job::{SmallJob, bar};
use crate::folder::run;

/// The rows that `check --baseline` shows of the measures, each its name, whether it is
/// required, and one letter for how it stands: pass, narrow, open, fail, no limit. The last
/// line counts the rows that had no room.
fn rows(job: &SmallJob) -> Vec<String> {
    let folder = job.folder();
    let words = tempfile::tempdir().unwrap();
    fs::write(
        words.path().join("en.ftl"),
        "outcome-pass = P\noutcome-conditional-pass = N\noutcome-inconclusive = O\noutcome-fail = F\n\
         outcome-no-limit = X\nrequired = R\n",
    )
    .unwrap();
    let path = folder.path();
    let found = run(&[
        "check",
        "--baseline",
        path.to_str().unwrap(),
        "--template",
        words.path().to_str().unwrap(),
    ]);
    assert_eq!(found.code, 0, "{}", found.err);
    let lines = found.out.lines().map(str::trim);
    let shown = lines.filter(|line| line.starts_with("Measure "));
    let row = |line: &str| {
        let words: Vec<&str> = line.split_whitespace().collect();
        match words[..] {
            [_, id, ..] if words.contains(&"R") => {
                format!("{} R {}", id.trim_end_matches(','), words[words.len() - 1])
            }
            [_, id, ..] => format!("{id} {}", words[words.len() - 1]),
            _ => line.to_owned(),
        }
    };
    // The heading of the table names its columns.
    shown
        .map(row)
        .filter(|row| !row.starts_with("Baseline"))
        .collect()
}

#[test]
fn how_the_baseline_stands_today() {
    let one = |rule: &str, limit: &str, before: &str| {
        let job = SmallJob::new()
            .rule(rule)
            .value("a", limit, &bar(before, "1"), &bar("5", "1"));
        rows(&job).join(", ")
    };
    for (rule, before, row) in [
        ("four-zone", "9", "a P"),
        ("four-zone", "9.001", "a N"),
        ("four-zone", "10", "a N"),
        ("four-zone", "10.001", "a O"),
        ("four-zone", "11", "a O"),
        ("four-zone", "11.001", "a F"),
        ("guarded", "9", "a P"),
        ("guarded", "9.001", "a O"),
        ("simple", "10", "a P"),
        ("simple", "10.001", "a F"),
    ] {
        assert_eq!(one(rule, "max = 10", before), row, "{rule}, {before}");
    }
    assert_eq!(one("four-zone", "better = \"lower\"", "9"), "a X");
    // What must get better has nothing to be held against yet.
    assert_eq!(
        one("four-zone", "better = \"lower\"\nimprove_by = 5", "9"),
        "a X"
    );
}

#[test]
fn how_other_kinds_stand_today() {
    let value = |first: &str| {
        format!(
            "rows = [{{ at = 1, value = {first} }}, {{ at = 2, value = 5 }}]\nunit = \"bar\"\nuncertainty = 1"
        )
    };
    let count = |first: &str| {
        format!(
            "rows = [{{ at = 1, passes = {first}, attempts = 3 }}, {{ at = 2, passes = 3, attempts = 3 }}]"
        )
    };
    let cylinders = "kind = \"value\"\nat = \"cylinders\"\nunit = \"bar\"\nmax = 10";
    let smoke =
        "opacity_percent = 21\npath_length_mm = 200\nclear_seconds = 14.9\ninstrument = \"i\"";
    let job = SmallJob::new()
        .cylinders(2)
        .instrument("i", "unit = \"%\"\naccuracy = 0.1")
        .measure("a", cylinders, &value("14"), &value("5"))
        .measure("b", cylinders, &value("5"), &value("5"))
        .measure(
            "c",
            "kind = \"passes\"\nmin_passes = 2",
            "passes = 1\nattempts = 3",
            "passes = 3\nattempts = 3",
        )
        .measure(
            "d",
            "kind = \"passes\"\nmin_passes = 2",
            "passes = 2\nattempts = 3",
            "passes = 3\nattempts = 3",
        )
        .measure(
            "e",
            "kind = \"passes\"\nat = \"cylinders\"\nmin_passes = 2",
            &count("1"),
            &count("3"),
        )
        .measure(
            "f",
            "kind = \"passes\"\nat = \"cylinders\"\nmin_passes = 2",
            &count("2"),
            &count("3"),
        )
        .measure(
            "g",
            "kind = \"smoke\"\nmax_opacity_percent = 20\nmax_clear_seconds = 16.5",
            smoke,
            smoke,
        )
        .measure(
            "h",
            "kind = \"text\"",
            "text = \"loud\"",
            "text = \"quiet\"",
        );
    // Smoke has a row for opacity, for the coefficient, which has no limit, and for the time.
    assert_eq!(
        rows(&job)
            .iter()
            .map(|row| row.replace(',', ""))
            .collect::<Vec<_>>(),
        [
            "a F", "b P", "c F", "d P", "e F", "f P", "g F", "g X", "g P"
        ]
    );
}

/// The required measures come first, and none is left off.
#[test]
fn the_required_come_first() {
    let job = |count: u8| {
        (0..count).fold(SmallJob::new(), |job, at| {
            let id = char::from(b'a' + at).to_string();
            let keys = format!("max = 10\nrequired = {}", at == 1 || at + 1 == count);
            job.value(&id, &keys, &bar("14", "1"), &bar("5", "1"))
        })
    };
    assert_eq!(rows(&job(4)), ["b R F", "d R F", "a F", "c F"]);
    let all = rows(&job(16));
    assert_eq!(all[..3], ["b R F", "p R F", "a F"]);
    assert_eq!(all.len(), 16, "every measure is on the receipt");
}
