//! What a person can get wrong in what is read without ±: scales of grades, counts, rates,
//! lists, and bands.

use crate::bad_input::{expect, spoiled};
use crate::folder::Folder;

/// In the plan of the frost fan, the measure in words becomes this one.
const WORDS: &str = "kind = \"smoke\"";

/// A folder of the frost fan with one more measure, with these keys and this reading in both
/// runs; and where its table starts in limits.toml.
fn with(keys: &str, before: &str, after: &str) -> Folder {
    let folder = Folder::copy_of("frost-fan");
    let more = |file: &str, text: &str| {
        let path = folder.file(file);
        let old = std::fs::read_to_string(&path).unwrap();
        std::fs::write(&path, format!("{old}\n{text}\n")).unwrap();
    };
    more(
        "limits.toml",
        &format!("[[measure]]\nid = \"more\"\nname = \"More\"\nsource = \"Agreed\"\n{keys}"),
    );
    more("baseline.toml", &format!("[reading.more]\n{before}"));
    more("retest.toml", &format!("[reading.more]\n{after}"));
    folder
}

const GRADES: &str = "kind = \"grade\"\ngrades = [\"none\", \"faint\", \"clear\"]";

/// Of this measure and its readings exactly this is a problem, at the last line of `file`
/// that has `at`.
#[track_caller]
fn refused(keys: &str, reading: &str, file: &str, at: &str, message: &str, hint: &str) {
    let good = match keys {
        keys if keys.contains("grade") => "grade = \"clear\"",
        keys if keys.contains("per =") => "count = 3\nover = 10\nunit = \"min\"",
        keys if keys.contains("list") => "items = []",
        keys if keys.contains("value") => "value = 3\nunit = \"mm/s\"\nuncertainty = 1",
        _ => "count = 3",
    };
    let reading = if reading.is_empty() { good } else { reading };
    let folder = with(keys, good, reading);
    let text = std::fs::read_to_string(folder.file(file)).unwrap();
    let end = text.rfind(at).unwrap_or_else(|| panic!("`{at}` in {file}"));
    let line = text[..end].matches('\n').count() + 1;
    let found = folder.check();
    expect(&found, &format!("{file}:{line}:"), message, hint);
    let alone = [
        "1 problem in",
        "6 of 7 readings",
        "limits.toml, 1 to fill in",
    ];
    let is_alone = alone.iter().any(|one| found.err.contains(one));
    assert!(is_alone && !found.err.contains("Then:"), "{}", found.err);
}

#[test]
fn the_measure_itself_is_sound() {
    for (keys, reading) in [
        (
            format!("{GRADES}\nat_least = \"faint\""),
            "grade = \"clear\"",
        ),
        ("kind = \"count\"\nmax_count = 0".to_owned(), "count = 0"),
        (
            "kind = \"count\"\nper = \"min\"\nmax_rate = 2".to_owned(),
            "count = 0\nover = 90\nunit = \"s\"",
        ),
        ("kind = \"list\"\nmax_count = 0".to_owned(), "items = []"),
    ] {
        let found = with(&keys, reading, reading).check();
        assert_eq!(found.code, 0, "{keys}\n{}", found.err);
    }
}

#[test]
fn a_scale_that_is_none() {
    refused(
        "kind = \"grade\"",
        "",
        "limits.toml",
        "kind = \"grade\"",
        "`more` has no grades",
        "add `grades = [ \"…\", \"…\" ]`, from worst to best",
    );
    refused(
        "kind = \"grade\"\ngrades = [\"clear\"]",
        "",
        "limits.toml",
        "grades = [\"clear\"]",
        "one grade alone grades nothing",
        "write at least two, from worst to best",
    );
    refused(
        "kind = \"grade\"\ngrades = [\"none\", \"clear\", \"None \"]",
        "",
        "limits.toml",
        "grades = [\"none\"",
        "there are two grades called `None `",
        "give each its own name, or delete one",
    );
    refused(
        &format!("{GRADES}\nat_least = \"feint\""),
        "",
        "limits.toml",
        "at_least = \"feint\"",
        "`feint` is not one of the grades",
        "did you mean `faint`?",
    );
}

#[test]
fn a_grade_that_is_not_on_the_scale() {
    refused(
        GRADES,
        "grade = \"cleer\"",
        "retest.toml",
        "grade = \"cleer\"",
        "`cleer` is not one of the grades of `more`",
        "did you mean `clear`?",
    );
    refused(
        GRADES,
        "grade = \"loud\"",
        "retest.toml",
        "grade = \"loud\"",
        "`loud` is not one of the grades of `more`",
        "the grades are `none`, `faint` and `clear`",
    );
    refused(
        GRADES,
        "note = \"Heard nothing\"",
        "retest.toml",
        "[reading.more]",
        "there is no grade",
        "add `grade = \"…\"`; the grades are `none`, `faint` and `clear`",
    );
}

#[test]
fn keys_of_another_kind() {
    refused(
        GRADES,
        "grade = \"clear\"\ncount = 3",
        "retest.toml",
        "count = 3",
        "`count` does not apply to the measure `more`",
        "a reading of its kind has `grade = \"…\"`",
    );
    refused(
        &format!("{GRADES}\nmax_count = 3"),
        "",
        "limits.toml",
        "max_count = 3",
        "`max_count` does not apply to this kind of measure",
        "delete it, or change `kind`",
    );
    spoiled(
        "limits.toml",
        WORDS,
        &format!("{WORDS}\nat_least = \"clear\""),
        "`at_least` does not apply to this kind of measure",
        "delete it, or change `kind`",
    );
    spoiled(
        "retest.toml",
        "value = 2.4\n",
        "value = 2.4\ngrade = \"clear\"\n",
        "`grade` does not apply to the measure `crank-time`",
        "a reading of its kind has `value = 2.1` and `unit = \"s\"`",
    );
}

/// Limits of single positions, of grades and of counts.
#[test]
fn rows_of_limits() {
    let of = |keys: &str, row: &str, message: &str, hint: &str| {
        let what = if keys.contains("grade") {
            "grade = \"clear\""
        } else {
            "count = 1"
        };
        let rows = [1, 2, 3, 4].map(|at| format!("{{ at = {at}, {what} }}"));
        let rows = format!("rows = [ {} ]", rows.join(", "));
        let keys = format!("{keys}\nlimit_rows = [ {row} ]");
        let folder = with(&keys, &rows, &rows);
        let found = folder.check();
        if message.is_empty() {
            assert_eq!(found.code, 0, "{}", found.err);
            return;
        }
        let line = folder.line("limits.toml", "limit_rows");
        expect(&found, &format!("limits.toml:{line}:"), message, hint);
    };
    let grades = format!("{GRADES}\nat = \"cylinders\"");
    of(&grades, "{ at = 2, at_least = \" FAINT\" }", "", "");
    of(
        &grades,
        "{ at = 2, at_least = \"feint\" }",
        "`feint` is not one of the grades",
        "did you mean `faint`?",
    );
    of(
        &grades,
        "{ at = 5, at_least = \"faint\" }",
        "the plan has no cylinder 5",
        "they are numbered 1 to 4",
    );
    of(
        &grades,
        "{ at = 2 }",
        "this row has no limit",
        "add `at_least = \"…\"`",
    );
    of(
        &grades,
        "{ at = 2, max_count = 3 }",
        "`max_count` does not apply to this kind of measure",
        "delete it, or add `at_least = \"…\"`",
    );
    let counts = "kind = \"count\"\nat = \"cylinders\"";
    of(counts, "{ at = 2, max_count = 0 }", "", "");
    of(
        counts,
        "{ at = 2, min_count = 3, max_count = 2 }",
        "`min_count` is greater than `max_count`",
        "swap them or correct one",
    );
    of(
        counts,
        "{ at = 2, max = 3 }",
        "`max` does not apply to this kind of measure",
        "delete it, or add `min_count`, `max_count` or both",
    );
    of(
        "kind = \"value\"\nunit = \"mm\"\nat = \"cylinders\"",
        "{ at = 2, at_least = \"faint\" }",
        "`at_least` does not apply to this kind of measure",
        "delete it, or add `min`, `max` or both, or `target`",
    );
    refused(
        &format!("{GRADES}\nlimit_rows = [ {{ at = 2, at_least = \"faint\" }} ]"),
        "",
        "limits.toml",
        "limit_rows",
        "`limit_rows` states limits of single positions, and this is read at one place",
        "add `at`, or write the limit without rows",
    );
}

/// A key of another kind in a row is refused as well.
#[test]
fn keys_of_another_kind_in_a_row() {
    for (row, key) in [("count = 3", "count"), ("value = 3", "value")] {
        let rows = |first: &str| {
            let others: Vec<String> = (2..=4)
                .map(|at| format!("{{ at = {at}, grade = \"clear\" }}"))
                .collect();
            format!(
                "rows = [ {{ at = 1, grade = \"clear\"{first} }}, {} ]",
                others.join(", ")
            )
        };
        let keys = format!("{GRADES}\nat = \"cylinders\"");
        let folder = with(&keys, &rows(""), &rows(&format!(", {row}")));
        expect(
            &folder.check(),
            "retest.toml:",
            &format!("`{key}` does not apply to the measure `more`"),
            "a row of its kind has `grade = \"…\"`",
        );
    }
}

#[test]
fn counts_and_rates_that_do_not_fit() {
    refused(
        "kind = \"count\"\nmax_count = 2",
        "note = \"None\"",
        "retest.toml",
        "[reading.more]",
        "there is no count",
        "add `count = …`; 0 is a count too",
    );
    refused(
        "kind = \"count\"\nmin_count = 5\nmax_count = 2",
        "",
        "limits.toml",
        "min_count = 5",
        "`min_count` is greater than `max_count`",
        "swap them or correct one",
    );
    refused(
        "kind = \"count\"\nmax_count = 2\nbetter = \"higher\"",
        "",
        "limits.toml",
        "better = \"higher\"",
        "the limit is on the wrong side",
        "`better = \"lower\"` goes with `max_count`",
    );
    refused(
        "kind = \"count\"\nmax_rate = 2",
        "",
        "limits.toml",
        "max_rate = 2",
        "`max_rate` needs `per`",
        "add `per = \"min\"` or another unit, or write `max_count`",
    );
    refused(
        "kind = \"count\"\nper = \"min\"\nmax_count = 2",
        "",
        "limits.toml",
        "max_count = 2",
        "`max_count` is the limit of an exact count, and this one is per min",
        "write `max_rate`, or delete `per`",
    );
    refused(
        "kind = \"count\"\nper = \"min\"\nmax_rate = 2",
        "count = 3",
        "retest.toml",
        "[reading.more]",
        "a rate needs `count`, `over` and `unit`",
        "write all three, such as `count = 12`, `over = 10` and `unit = \"min\"`",
    );
    refused(
        "kind = \"count\"\nper = \"min\"\nmax_rate = 2",
        "count = 3\nover = 0\nunit = \"min\"",
        "retest.toml",
        "over = 0",
        "nothing can be counted over nothing",
        "write over how much was counted",
    );
    refused(
        "kind = \"count\"\nper = \"min\"\nmax_rate = 2",
        "count = 3\nover = 10\nunit = \"m\"",
        "retest.toml",
        "unit = \"m\"",
        "`m` is a unit of length, but the rate of `more` is a time",
        "use a unit of time",
    );
}

#[test]
fn what_nothing_is_counted_per() {
    let folder = with(
        "kind = \"count\"\nper = \"°C\"\nmax_rate = 2",
        "count = 3",
        "count = 3",
    );
    expect(
        &folder.check(),
        &format!(
            "limits.toml:{}:",
            folder.line("limits.toml", "per = \"°C\"")
        ),
        "nothing can be counted per `°C`",
        "write a unit of time, length, area, volume or mass, such as `min`",
    );
    let folder = with(
        "kind = \"count\"\nper = \"min\"\nmax_rate = 2\nat = \"cylinders\"",
        "count = 3",
        "count = 3",
    );
    expect(
        &folder.check(),
        &format!(
            "limits.toml:{}:",
            folder.line("limits.toml", "per = \"min\"")
        ),
        "a rate is not read at several positions",
        "delete `at` and give each place a measure of its own",
    );
}

#[test]
fn lists_that_do_not_fit() {
    let list = "kind = \"list\"\nmax_count = 0";
    refused(
        list,
        "note = \"None\"",
        "retest.toml",
        "[reading.more]",
        "there is no list",
        "or `items = []` for nothing",
    );
    refused(
        list,
        "items = [ { code = \"P-1\" }, { code = \"p-1 \" } ]",
        "retest.toml",
        "items = [",
        "the code `p-1` is in the list twice",
        "write each code once",
    );
    let folder = with(
        "kind = \"list\"\nnone_new = true",
        "not_taken = \"No connection\"",
        "items = []",
    );
    let found = folder.check();
    let line = folder.line("baseline.toml", "not_taken = \"No connection\"");
    expect(
        &found,
        &format!("baseline.toml:{line}:"),
        "without the list of `more` before the work, nothing shows what is new after it",
        "read the list, or delete `none_new` in limits.toml",
    );
}

#[test]
fn bands_that_do_not_fit() {
    let value = |bands: &str| {
        format!("kind = \"value\"\nunit = \"mm/s\"\nbands = {{ {bands}, source = \"ISO\" }}")
    };
    refused(
        &value("names = [\"A\", \"B\"], upper = [1.4, 2.8]"),
        "",
        "limits.toml",
        "bands = {",
        "2 bands have 1 ends between them, not 2",
        "write in `upper` where each band but the last ends",
    );
    refused(
        &value("names = [\"A\", \"B\", \"C\"], upper = [2.8, 1.4]"),
        "",
        "limits.toml",
        "bands = {",
        "the bands do not rise: after 2.8 comes 1.4",
        "write their ends from the lowest to the highest",
    );
    refused(
        &value("names = [\"A\", \"a\"], upper = [1.4]"),
        "",
        "limits.toml",
        "bands = {",
        "there are two bands called `a`",
        "give each its own name, or delete one",
    );
}
