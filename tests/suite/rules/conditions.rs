//! Whether the two runs were made under like conditions, and what follows for the verdict.
//! Only `c`, the second condition, differs in these tables.

use super::small_job::{SmallJob, bar, stated};
use super::table::{Row, hold};

/// A job that passes, with one condition more.
fn job(keys: &str, before: &str, after: &str) -> SmallJob {
    let lines = keys.replace(", ", "\n").replace('\'', "\"");
    SmallJob::new()
        .value(
            "m",
            "required = true\nmax = 10",
            &bar("14", "1"),
            &bar("5", "1"),
        )
        .condition("c", &lines, before, after)
}

/// What a run found, in °C, without an instrument: exact.
fn celsius(value: &str) -> String {
    format!("value = {value}, unit = \"°C\"")
}

#[test]
fn the_window_and_the_direction() {
    hold(
        "
        harder | required | after  => state   | verdict   | fair  | reasons             | reservations       | conditions.1.difference.value
        # 20 °C before, a window of 3 K: exactly 3 K apart is alike. What is alike, but
        # changed to the easier side, is said.
        lower  | true     | 20     => matched | verified  | true  | all-required-pass   |                    | 0
        lower  | true     | 17     => matched | verified  | true  | all-required-pass   |                    | -3
        lower  | true     | 16.99  => harder  | verified  | true  | all-required-pass   |                    | -3.01
        lower  | true     | 23     => matched | verified  | true  | all-required-pass   | condition-helped c | 3
        lower  | true     | 23.01  => easier  | undecided | false | condition-easier c  |                    | 3.01
        higher | true     | 17     => matched | verified  | true  | all-required-pass   | condition-helped c | -3
        higher | true     | 16.99  => easier  | undecided | false | condition-easier c  |                    | -3.01
        higher | true     | 23     => matched | verified  | true  | all-required-pass   |                    | 3
        higher | true     | 23.01  => harder  | verified  | true  | all-required-pass   |                    | 3.01
        # With no word on which way is harder, a difference is not known to be fair.
        -      | true     | 17     => matched | verified  | true  | all-required-pass   |                    | -3
        -      | true     | 23     => matched | verified  | true  | all-required-pass   |                    | 3
        -      | true     | 16.99  => unknown | undecided | false | condition-unknown c |                    | -3.01
        -      | true     | 23.01  => unknown | undecided | false | condition-unknown c |                    | 3.01
        # Not required: said, and no more.
        lower  | false    | 23     => matched | verified  | true  | all-required-pass   | condition-helped c | 3
        lower  | false    | 23.01  => easier  | verified  | true  | all-required-pass   | other-condition c  | 3.01
        lower  | false    | 16.99  => harder  | verified  | true  | all-required-pass   |                    | -3.01
        -      | false    | 23.01  => unknown | verified  | true  | all-required-pass   | other-condition c  | 3.01
        ",
        |row| {
            let harder = match row.at("harder") {
                "-" => String::new(),
                word => format!(", harder = '{word}'"),
            };
            let required = row.at("required");
            let keys = format!("required = {required}, unit = '°C', window = 3{harder}");
            job(&keys, &celsius("20"), &celsius(row.at("after")))
        },
    );
}

#[test]
fn a_condition_that_a_run_did_not_record() {
    hold(
        "
        kind  | required | before | after => state   | verdict   | reasons             | reservations      | conditions.1.difference
        value | true     | yes    | no    => unknown | undecided | condition-unknown c |                   | -
        value | true     | no     | yes   => unknown | undecided | condition-unknown c |                   | -
        value | true     | no     | no    => unknown | undecided | condition-unknown c |                   | -
        value | false    | yes    | no    => unknown | verified  | all-required-pass   | other-condition c | -
        words | true     | yes    | no    => unknown | undecided | condition-unknown c |                   | -
        words | true     | no     | yes   => unknown | undecided | condition-unknown c |                   | -
        words | true     | no     | no    => unknown | undecided | condition-unknown c |                   | -
        words | false    | no     | no    => unknown | verified  | all-required-pass   | other-condition c | -
        words | true     | yes    | yes   => matched | verified  | all-required-pass   |                   | -
        ",
        |row| {
            let (keys, found) = match row.at("kind") {
                "value" => ("unit = '°C', window = 3, harder = 'lower'", celsius("20")),
                _ => ("method", "text = \"dry road\"".to_owned()),
            };
            let keys = format!("required = {}, {keys}", row.at("required"));
            let run = |column| match row.at(column) {
                "yes" => found.as_str(),
                _ => "",
            };
            job(keys.trim_end_matches(", method"), run("before"), run("after"))
        },
    );
}

#[test]
fn words_are_alike_whatever_their_capitals_and_spaces() {
    hold(
        "
        required | before       | after        => state   | verdict   | reservations
        true     | winter grade | winter grade => matched | verified  |
        true     | winter grade | Winter  Grade => matched | verified |
        true     | winter grade | summer grade => unknown | undecided |
        true     | winter grade | wintergrade  => unknown | undecided |
        true     | winter grade | winter       => unknown | undecided |
        false    | winter grade | summer grade => unknown | verified  | other-condition c
        ",
        |row| {
            let words = |column| format!("text = \"{}\"", row.at(column));
            let keys = format!("required = {}", row.at("required"));
            job(&keys, &words("before"), &words("after"))
        },
    );
}

/// Read with one thermometer before and another after, of U = 0.6 and 0.8 K times a scale:
/// U of the difference is the scale.
fn with_thermometers(row: &Row<'_>, harder: &str) -> SmallJob {
    let scale: f64 = row.at("U").parse().unwrap();
    let read = |value: &str, id: &str| format!("{}, instrument = \"{id}\"", celsius(value));
    let keys = format!("required = true, unit = '°C', window = 3, {harder}");
    let thermometer = |share: f64| {
        let expanded = format!("{:?}", share * scale);
        format!("unit = \"K\"\n{}", stated(&expanded))
    };
    let (before, after) = (read("20", "one"), read(row.at("after"), "two"));
    job(&keys, &before, &after)
        .instrument("one", &thermometer(0.6))
        .instrument("two", &thermometer(0.8))
}

#[test]
fn thermometers_that_cannot_tell() {
    hold(
        "
        U    | after => state   | reasons             | conditions.1.difference.expanded
        # Inside the window, unless U is larger than the window.
        3    | 20    => matched | all-required-pass   | 3.00
        3.01 | 20    => unknown | condition-unknown c | 3.01
        3.01 | 17    => unknown | condition-unknown c | 3.01
        # U never widens the window.
        3    | 23.01 => easier  | condition-easier c  | 3.00
        100  | 23.01 => easier  | condition-easier c  | 100.00
        # 7 K colder, within 10 K: it may have been 3 K warmer at most. 6.99 K: more.
        10   | 13    => harder  | all-required-pass   | 10.00
        10   | 13.01 => unknown | condition-unknown c | 10.00
        3    | 16.99 => harder  | all-required-pass   | 3.00
        7    | 16    => harder  | all-required-pass   | 7.00
        7    | 16.01 => unknown | condition-unknown c | 7.00
        ",
        |row| with_thermometers(row, "harder = 'lower'"),
    );
    hold(
        "
        U  | after => state
        10 | 27    => harder
        10 | 26.99 => unknown
        10 | 16.99 => easier
        ",
        |row| with_thermometers(row, "harder = 'higher'"),
    );
}

/// Alike, but to the easier side by more than U.
#[test]
fn a_small_help() {
    let lower = "
        U | after => state   | reservations
        1 | 21    => matched |
        1 | 21.01 => matched | condition-helped c
        1 | 22    => matched | condition-helped c
        1 | 18    => matched |
        1 | 24    => easier  |
        ";
    hold(lower, |row| with_thermometers(row, "harder = 'lower'"));
    let higher = "
        U | after => state   | reservations
        1 | 19    => matched |
        1 | 18.99 => matched | condition-helped c
        1 | 22    => matched |
        ";
    hold(higher, |row| with_thermometers(row, "harder = 'higher'"));
    let neither = "
        U | after => state   | reservations
        1 | 18.5  => matched |
        1 | 21.5  => matched |
        ";
    hold(neither, |row| with_thermometers(row, "# no direction"));
}

/// 12.58 V − 12.43 V is 0.15 V, though not in binary; 5.4 F-degrees are 3 K.
#[test]
fn windows_in_other_units() {
    hold(
        "
        unit | window | before | after  => state   | conditions.1.unit | conditions.1.difference.value
        V    | 0.15   | 12.58  | 12.43  => matched | V   | -0.15
        V    | 0.15   | 12.58  | 12.429 => harder  | V   | -0.151
        °F   | 3      | 60     | 63     => matched | Δ°F | 3
        °F   | 3      | 60     | 63.1   => easier  | Δ°F | 3.1
        °F   | 3      | 60     | 56.9   => harder  | Δ°F | -3.1
        min  | 90     | 480    | 570    => matched | min | 90
        min  | 90     | 480    | 571    => easier  | min | 91
        ",
        |row| {
            let unit = row.at("unit");
            let keys = format!(
                "required = true, unit = '{unit}', window = {}, harder = 'lower'",
                row.at("window")
            );
            let found = |column| format!("value = {}, unit = \"{unit}\"", row.at(column));
            job(&keys, &found("before"), &found("after"))
        },
    );
}
