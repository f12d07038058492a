//! What a person can get wrong in the points of a test: in the plan, and in the rows of a
//! reading.

use crate::bad_input::expect;
use crate::folder::Folder;

const POINTS: &str = "[[points]]\nid = \"speeds\"\nwhat = \"Pump speed\"\nunit = \"rpm\"\n\
                      settings = [600, 1000, 1400]\nheld_within = 10";

const ROWS: &str = "rows = [\n  { at = 600, value = 1 },\n  { at = 1000, value = 2 },\n  \
                    { at = 1400, value = 3 },\n]";

/// The frost fan with a measure at three points, with these of its parts in place of the usual.
fn with(points: &str, limit_rows: &str, rows: &str) -> Folder {
    let folder = Folder::copy_of("frost-fan");
    let condition = "[[condition]]\nid = \"ambient\"";
    let plan = format!(
        "{points}\n\n[[measure]]\nid = \"delivery\"\nname = \"Delivery\"\nkind = \"value\"\n\
         at = \"speeds\"\nunit = \"kPa\"\nsource = \"Manual\"\n{limit_rows}\n\n{condition}"
    );
    folder.replace("limits.toml", condition, &plan);
    for (file, rows) in [("baseline.toml", ROWS), ("retest.toml", rows)] {
        let reading = format!(
            "[reading.delivery]\nunit = \"kPa\"\nuncertainty = 0.1\n{rows}\n\n[reading.smoke]"
        );
        folder.replace(file, "[reading.smoke]", &reading);
    }
    folder
}

#[track_caller]
fn spoiled(folder: &Folder, file: &str, at: &str, message: &str, hint: &str) {
    let line = folder.line(file, at);
    let found = folder.check();
    expect(&found, &format!("{file}:{line}:"), message, hint);
    // What is only not filled in yet is listed as what comes next.
    let alone = ["1 problem in", ", 1 to fill in"];
    assert!(
        alone.iter().any(|it| found.err.contains(it)),
        "{}",
        found.err
    );
}

#[test]
fn points_that_are_right() {
    let found = with(POINTS, "min = 0.5", ROWS).check();
    assert_ne!(found.code, 2, "{}", found.err);
    // A setting is a number: 600.0 is 600.
    let found = with(POINTS, "min = 0.5", &ROWS.replace("600", "600.0")).check();
    assert_ne!(found.code, 2, "{}", found.err);
}

#[test]
fn settings_out_of_order_or_doubled() {
    for settings in ["[600, 1400, 1000]", "[600, 1000, 1000]"] {
        let points = POINTS.replace("[600, 1000, 1400]", settings);
        let found = with(&points, "min = 0.5", ROWS).check();
        let folder = with(&points, "min = 0.5", ROWS);
        let line = folder.line("limits.toml", "settings =");
        expect(
            &found,
            &format!("limits.toml:{line}:"),
            "the settings do not rise from one to the next",
            "sort them, and write each once",
        );
    }
    let points = POINTS.replace("[600, 1000, 1400]", "[600]");
    let folder = with(&points, "min = 0.5", ROWS);
    let line = folder.line("limits.toml", "settings =");
    expect(
        &folder.check(),
        &format!("limits.toml:{line}:"),
        "`settings` has only 1 entry, and needs 2",
        "The settings, rising",
    );
}

#[test]
fn a_row_of_a_setting_that_is_unknown_doubled_or_missing() {
    let rows = ROWS.replace("1400", "1500");
    let folder = with(POINTS, "min = 0.5", &rows);
    let line = folder.line("retest.toml", "at = 1500");
    expect(
        &folder.check(),
        &format!("retest.toml:{line}:"),
        "the plan has no point 1500",
        "it is set to `600`, `1000` and `1400` rpm",
    );
    let folder = with(POINTS, "min = 0.5", &ROWS.replace("1400", "1000"));
    expect(
        &folder.check(),
        "retest.toml:",
        "point 1000 has two rows",
        "correct it, or write repeats of one point as `values = [ … ]`",
    );
    let rows = ROWS.replace("  { at = 1000, value = 2 },\n", "");
    let folder = with(POINTS, "min = 0.5", &rows);
    let at = "rows = [\n  { at = 600, value = 1 },\n  { at = 1400";
    spoiled(
        &folder,
        "retest.toml",
        at,
        "the row for point 1000 is missing",
        "add one row for each of the 3",
    );
}

#[test]
fn a_limit_of_a_setting_that_is_unknown() {
    let rows = "limit_rows = [ { at = 800, min = 1 } ]";
    let folder = with(POINTS, rows, ROWS);
    spoiled(
        &folder,
        "limits.toml",
        rows,
        "the plan has no point 800",
        "it is set to `600`, `1000` and `1400` rpm",
    );
}

#[test]
fn a_set_of_points_of_another_name() {
    let points = format!(
        "[[positions]]\nid = \"speeds\"\none = \"speed\"\nmany = \"speeds\"\ncount = 3\n\n{POINTS}"
    );
    let folder = with(&points, "min = 0.5", ROWS);
    let found = folder.check();
    let text = std::fs::read_to_string(folder.path().join("limits.toml")).unwrap();
    let place = text.find("[[points]]").unwrap();
    let line = text[..place].lines().count() + 2;
    expect(
        &found,
        &format!("limits.toml:{line}:"),
        "there is another set of positions or points `speeds`",
        "give each set its own id",
    );
    let folder = with(
        &POINTS.replace("\"speeds\"", "\"loads\""),
        "min = 0.5",
        ROWS,
    );
    expect(
        &folder.check(),
        &format!(
            "limits.toml:{}:",
            folder.line("limits.toml", "at = \"speeds\"")
        ),
        "there is no set of positions `speeds`",
        "this file has `loads`",
    );
}
