//! What a person can get wrong: every problem is named with its file, its line and
//! what to do, all problems of a folder at once, and nothing is written.

use std::fs::{self, File};

use crate::folder::{Folder, Run, run};

/// A copy of the frost fan, which has readings of every kind but one.
fn frost_fan() -> Folder {
    Folder::copy_of("frost-fan")
}

/// One expected problem: where, what, and what to do.
#[track_caller]
pub fn expect(run: &Run, place: &str, message: &str, hint: &str) {
    assert_eq!(run.code, 2, "{}", run.err);
    let wrong = run.err.split("Next: ").next().unwrap();
    let block = wrong.split("error: ").find(|block| block.contains(message));
    let block = match block {
        Some(block) => {
            assert!(
                block.contains(&format!("--> {place}")),
                "`{place}` in:\n{block}"
            );
            block.to_owned()
        }
        // What is only not filled in yet stands in the list of what comes next, on lines
        // that are broken anywhere.
        None => {
            let words: Vec<&str> = run.err.split_whitespace().collect();
            let list = words.join(" ");
            let at = list.find(message);
            let at = at.unwrap_or_else(|| panic!("no `{message}` in:\n{}", run.err));
            let before = list[..at].rsplit(".toml").next().unwrap();
            let start = at - before.len() - ".toml".len();
            let file = list[..start].rsplit(' ').next().unwrap();
            let block = format!("{file}{}", &list[start..]);
            assert!(block.starts_with(place), "`{place}` in:\n{block}");
            block
        }
    };
    assert!(block.contains(hint), "`{hint}` in:\n{block}");
    assert!(!run.err.contains("panicked"), "{}", run.err);
}

/// One change, one problem: on a line of the changed text, or on the key above it
/// where something was taken away.
#[track_caller]
pub fn spoiled(file: &str, from: &str, to: &str, message: &str, hint: &str) {
    spoiled_in(&frost_fan(), file, from, to, message, hint);
}

/// The same in another folder.
#[track_caller]
pub fn spoiled_in(folder: &Folder, file: &str, from: &str, to: &str, message: &str, hint: &str) {
    let first = folder.line(file, from);
    let last = first + to.matches('\n').count();
    folder.replace(file, from, to);
    let found = folder.check();
    let place = (first.saturating_sub(8)..=last)
        .map(|line| format!("{file}:{line}:"))
        .rfind(|place| found.err.contains(place.as_str()))
        .unwrap_or_else(|| panic!("no place in {file}:{first} to {last} in:\n{}", found.err));
    expect(&found, &place, message, hint);
    let alone = ["1 problem in", "1 to fill in", " readings\n"];
    assert!(
        alone.iter().any(|one| found.err.contains(one)) && !found.err.contains("Then:"),
        "one problem only:\n{}",
        found.err
    );
}

#[test]
fn an_unknown_key() {
    spoiled(
        "retest.toml",
        "by = \"Tamsin Orrell\"",
        "by = \"Tamsin Orrell\"\nwitnes = [\"x\"]",
        "the key `witnes` is unknown",
        "did you mean `witness`?",
    );
    spoiled(
        "retest.toml",
        "by = \"Tamsin Orrell\"",
        "by = \"Tamsin Orrell\"\nweather = \"fog\"",
        "the key `weather` is unknown",
        "the known keys here are",
    );
}

#[test]
fn a_measure_that_limits_toml_does_not_have() {
    spoiled(
        "retest.toml",
        "value = 11.0\nunit = \"kPa\"\ninstrument = \"vacuum\"",
        "value = 11.0\nunit = \"kPa\"\ninstrument = \"vacuum\"\n\n[reading.sucton]\nvalue = 1",
        "limits.toml has no measure `sucton`",
        "did you mean `suction`?",
    );
}

/// Each reading is looked for among all others, so only so many are read, in the order of
/// their names.
#[test]
fn more_readings_than_any_plan_has_measures() {
    let folder = frost_fan();
    let own = folder.read("retest.toml");
    let last = folder.line("retest.toml", "[reading.suction]");
    let there = own.matches("\n[reading.").count();
    let needless: String = (there..501)
        .map(|number| format!("\n[reading.k{number}]"))
        .collect();
    folder.write("retest.toml", own + &needless);
    expect(
        &folder.check(),
        &format!("retest.toml:{last}:"),
        "there are more than 500 entries here",
        "keep those that the plan names",
    );
}

#[test]
fn improvements_that_ask_for_nothing_or_too_much() {
    for percent in ["0", "150"] {
        spoiled(
            "limits.toml",
            "improve_percent = 50",
            &format!("improve_percent = {percent}"),
            "an improvement of this size is not possible",
            "where less is better, at most 100 %",
        );
    }
    spoiled(
        "limits.toml",
        "better = \"higher\"\nmin = 9.6",
        "better = \"lower\"\nmin = 9.6",
        "the limit is on the wrong side",
        "`better = \"lower\"` needs `max`",
    );
}

#[test]
fn errors_that_are_said_to_be_none() {
    spoiled(
        "job.toml",
        "accuracy = 1.0\nresolution = 0.5",
        "accuracy = 0\nresolution = 0",
        "the errors of `vacuum` are not stated",
        "accuracy",
    );
    spoiled(
        "retest.toml",
        "value = 11.0\nunit = \"kPa\"",
        "value = 11.0\nuncertainty = 0\nunit = \"kPa\"",
        "an uncertainty cannot be zero",
        "expanded uncertainty",
    );
    spoiled(
        "retest.toml",
        "value = 11.0",
        "value = 9223372036854775807",
        "no instrument shows a number of this size",
        "check the number and its unit",
    );
}

#[test]
fn brackets_that_are_too_few_or_too_many() {
    let folder = frost_fan();
    folder.replace("retest.toml", "[reading.suction]", "[[reading.suction]]");
    let line = folder.line("retest.toml", "[[reading.suction]]");
    expect(
        &folder.check(),
        &format!("retest.toml:{line}:"),
        "`suction` is a list, not a table",
        "single brackets",
    );
    let folder = frost_fan();
    let text = folder
        .read("job.toml")
        .replace("[[instrument]]", "[instrument]");
    folder.write("job.toml", text);
    expect(
        &folder.check(),
        "job.toml:",
        "is there twice",
        "double brackets",
    );
}

#[test]
fn dates_out_of_order_or_without_a_zone() {
    spoiled(
        "retest.toml",
        "started = 2026-01-22T06:40:00+00:00",
        "started = 2026-01-19T06:40:00+00:00",
        "is before the end of the work",
        "correct it here or in work.toml",
    );
    spoiled(
        "retest.toml",
        "started = 2026-01-22T06:40:00+00:00",
        "started = 2026-01-22T06:40:00",
        "`started` does not say how far the clock is ahead of UTC",
        "write 2026-01-22T06:40:00+01:00",
    );
    spoiled(
        "work.toml",
        "follow_up = 2026-04-20",
        "follow_up = 2026-01-02",
        "the follow-up is before the end of the work",
        "write a later date",
    );
    spoiled(
        "job.toml",
        "received = 2026-01-19",
        "received = 2026-02-30",
        "there is no such date",
        "check the month and the day",
    );
}

#[test]
fn a_file_of_a_gibibyte() {
    let folder = frost_fan();
    File::create(folder.file("baseline.toml"))
        .unwrap()
        .set_len(1 << 30)
        .unwrap();
    expect(
        &folder.check(),
        "baseline.toml",
        "larger than 1 MiB",
        "keep large files elsewhere",
    );
    let folder = frost_fan();
    File::create(folder.file("photos/old-line.jpg"))
        .unwrap()
        .set_len(1 << 30)
        .unwrap();
    let line = folder.line("work.toml", "photos/old-line.jpg");
    expect(
        &folder.check(),
        &format!("work.toml:{line}:"),
        "larger than 64 MiB",
        "keep large files elsewhere",
    );
}

#[test]
fn text_that_is_not_utf_8() {
    let folder = frost_fan();
    let mut bytes = folder.read("job.toml").into_bytes();
    let place = folder.read("job.toml").find("Idris").unwrap();
    bytes[place] = 0xE9;
    let line = folder.line("job.toml", "Idris");
    folder.write("job.toml", bytes);
    expect(
        &folder.check(),
        &format!("job.toml:{line}:"),
        "not valid UTF-8",
        "save the file as UTF-8",
    );
}

#[test]
fn a_name_of_three_hundred_letters() {
    spoiled(
        "job.toml",
        "name = \"Brackenhill Orchards\"",
        &format!("name = \"{}\"", "x".repeat(300)),
        "`name` has 300 characters",
        "at most 120",
    );
}

#[test]
fn letters_that_no_font_has() {
    spoiled(
        "job.toml",
        "name = \"Brackenhill Orchards\"",
        "name = \"果樹園\"",
        "cannot be printed: `果` U+679C",
        "Latin, Greek, Cyrillic and Vietnamese",
    );
    // Marks that turn the direction of text are named, never echoed.
    let folder = frost_fan();
    folder.replace("job.toml", "Idris Fell", "Idris \\u202E Fell");
    let found = folder.check();
    expect(
        &found,
        "job.toml:",
        "cannot be printed: U+202E",
        "use only those letters",
    );
}

#[test]
fn text_that_is_not_toml() {
    spoiled(
        "work.toml",
        "by = \"Tamsin Orrell\"",
        "by = \"Tamsin Orrell",
        "invalid basic string",
        "put text between double quotes",
    );
    spoiled(
        "work.toml",
        "by = \"Tamsin Orrell\"",
        "by = \"Tamsin Orrell\"\nby = \"Someone\"",
        "is there twice",
        "keep one of the two",
    );
}

#[test]
fn limits_that_cannot_hold() {
    spoiled(
        "limits.toml",
        "min = -6.0\nmax = 6.0",
        "min = 6.0\nmax = -6.0",
        "`min` is greater than `max`",
        "swap them",
    );
    spoiled(
        "limits.toml",
        "source = \"Tarnfeld FF-4 workshop manual, section 5.1\"\n",
        "",
        "the limit of `suction` has no source",
        "the manual and section",
    );
    spoiled(
        "limits.toml",
        "decision_rule = \"four-zone\"",
        "decision_rule = \"four-zones\"",
        "this is not a value for `decision_rule`",
        "did you mean \"four-zone\"?",
    );
}

#[test]
fn a_format_of_another_version() {
    let folder = frost_fan();
    folder.replace("work.toml", "format = 1", "format = 2");
    expect(
        &folder.check(),
        "work.toml:1:",
        "`format` is out of range",
        "only reads 1",
    );
}

/// Problems of spelling do not hide those of meaning, nor those of other files.
#[test]
fn all_problems_of_a_folder_at_once() {
    let folder = frost_fan();
    folder
        .replace(
            "job.toml",
            "serial = \"VG-19\"",
            "serial = \"VG-19\"\nserail = \"x\"",
        )
        .replace("baseline.toml", "attempts = 3", "attempts = \"3\"")
        .replace(
            "retest.toml",
            "value = 11.0\nunit = \"kPa\"",
            "value = 11.0\nunit = \"V\"",
        )
        .replace(
            "retest.toml",
            "by = \"Tamsin Orrell\"",
            "by = 7\nwitnes = []",
        )
        .replace("work.toml", "total = 564.84", "total = 56.484");
    fs::remove_file(folder.file("photos/old-line.jpg")).unwrap();
    // job.toml has a problem of its own, so the readings cannot be held against its
    // instruments; mend it, and the rest shows.
    let first = folder.check();
    for message in [
        "`serail` is unknown",
        "`attempts` is text",
        "`by` is a number",
        "old-line.jpg",
    ] {
        assert!(
            first.err.contains(message),
            "`{message}` in:\n{}",
            first.err
        );
    }
    folder.replace("job.toml", "\nserail = \"x\"", "");
    let second = folder.check();
    for message in [
        "`attempts` is text",
        "`V` is a unit of voltage",
        "`by` is a number",
        "`witnes` is unknown",
        "the total is less than labour plus parts",
        "photos/old-line.jpg`: the file is missing",
    ] {
        assert!(
            second.err.contains(message),
            "`{message}` in:\n{}",
            second.err
        );
    }
    assert!(
        second.err.contains("6 problems in the job folder"),
        "{}",
        second.err
    );
}

#[test]
fn a_report_is_whole_or_not_there() {
    let folder = frost_fan();
    let before = folder.listing();
    folder.replace("retest.toml", "value = 2.4", "value = nan");
    let found = run(&["report", folder.path().to_str().unwrap()]);
    assert_eq!(found.code, 2);
    assert_eq!(
        folder.listing(),
        before,
        "nothing written, nothing left over"
    );
}

#[test]
fn an_output_that_exists_is_kept() {
    let folder = frost_fan();
    let job = folder.path();
    let job = job.to_str().unwrap();
    let output = folder.file("report.pdf");
    assert_eq!(run(&["report", job]).code, 0);
    let first = fs::read(&output).unwrap();

    let again = run(&["report", job]);
    assert_eq!(again.code, 2);
    assert!(again.err.contains("it already exists"), "{}", again.err);
    assert!(again.err.contains("--replace"), "{}", again.err);
    assert_eq!(fs::read(&output).unwrap(), first);
    assert_eq!(run(&["report", job, "--replace"]).code, 0);

    // An input is never overwritten, even when asked.
    let input = folder.file("job.toml");
    let over = run(&["report", job, "--replace", "-o", input.to_str().unwrap()]);
    assert_eq!(over.code, 2);
    assert!(over.err.contains("not a PDF"), "{}", over.err);
    assert!(folder.read("job.toml").starts_with("format = 1"));
}

#[cfg(unix)]
#[test]
fn a_folder_in_which_a_seal_is_being_made_is_left_alone() {
    let folder = frost_fan();
    let held = retestify::files::hold(&folder.path()).unwrap();
    let path = folder.path();
    let args = ["seal", "baseline", path.to_str().unwrap()];
    let refused = run(&args);
    assert_eq!(refused.code, 2, "{}", refused.err);
    assert!(
        refused.err.contains("another command is working"),
        "{}",
        refused.err
    );
    assert!(!folder.listing().contains(&"seals".to_owned()));
    drop(held);
    assert_eq!(run(&args).code, 0);
}

#[test]
fn curly_quotes_are_told() {
    spoiled(
        "retest.toml",
        "by = \"Tamsin Orrell\"",
        "by = “Tamsin Orrell”",
        "straight double",
        "straight double quotes",
    );
}

/// A price has the currency of what was charged, and is no more than all parts together.
#[test]
fn a_price_of_a_part_that_cannot_be() {
    let alone = "this part alone cost more than was charged for all";
    spoiled(
        "work.toml",
        "price = 38.10",
        "price = 58.21",
        alone,
        "correct the price, or `parts` and `total` under `[cost]`",
    );
    // Of what was charged only the total is known.
    let folder = Folder::copy_of("pool-dosing-pump");
    let text = folder.read("work.toml");
    let part = "[[part]]\nname = \"Valve\"\nquantity = 1\nprice = 286.00\n";
    folder.write("work.toml", format!("{text}\n{part}"));
    assert_eq!(folder.check().code, 0);
    let (from, to) = ("price = 286.00", "price = 286.01");
    spoiled_in(&folder, "work.toml", from, to, alone, "correct the price");
    let cost = "cost = { currency = \"GBP\", total = 286.00 }\n";
    folder.replace("work.toml", cost, "");
    let line = folder.line("work.toml", to);
    expect(
        &folder.check(),
        &format!("work.toml:{line}:"),
        "the price has no currency",
        "add `[cost]` with `currency` and `total`",
    );
}
