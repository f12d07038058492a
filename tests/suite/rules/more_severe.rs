//! What fails under conditions that were more severe than the baseline's, or that are not
//! known, proves nothing; and nothing is said there of a safe side.

use super::page::first_page;
use super::small_job::SmallJob;
use super::table::{Row, answers, hold};

/// A cold start of at most 5 s at +2 °C before; U of the watch is 0.2 s.
fn start(row: &Row<'_>) -> SmallJob {
    let seconds = |value: &str| format!("value = {value}\nunit = \"s\"\ninstrument = \"watch\"");
    let celsius = |value: &str| match value {
        "-" => String::new(),
        value => format!("value = {value}, unit = \"°C\""),
    };
    let harder = match row.at("harder") {
        "-" => String::new(),
        word => format!("harder = \"{word}\"\n"),
    };
    let keys = format!(
        "unit = \"°C\"\nwindow = 3\n{harder}required = {}",
        row.at("required")
    );
    SmallJob::new()
        .instrument(
            "watch",
            "unit = \"s\"\nresolution = 0.01\nhand_timed = true",
        )
        .measure(
            "m",
            "kind = \"value\"\nunit = \"s\"\nmax = 5\nrequired = true\n\
             run_to_run = { deviation = 0.001, source = \"Log\" }",
            &seconds("12.0"),
            &seconds(row.at("after")),
        )
        .condition("ambient", &keys, &celsius("2"), &celsius(row.at("air")))
}

#[test]
fn a_failure_there_is_no_verdict() {
    hold(
        "
        harder | required | air | after => verdict | exit | fair | reasons
        # 6.0 s where 5 s are the limit, at −18 °C.
        lower  | true     | -18 | 6.0 => undecided    | 3 | true  | fails m, condition-harder ambient
        # Within the window of 3 K it is a failure.
        lower  | true     | -1  | 6.0 => not-verified | 1 | true  | fails m
        lower  | true     | -1.01 | 6.0 => undecided  | 3 | true  | fails m, condition-harder ambient
        # Nobody said which way is harder, or nobody looked.
        -      | true     | -18 | 6.0 => undecided    | 3 | false | fails m, condition-unknown ambient
        lower  | true     | -   | 6.0 => undecided    | 3 | false | fails m, condition-unknown ambient
        # What fails where it was easier fails all the more.
        lower  | true     | 12  | 6.0 => not-verified | 1 | false | fails m, condition-easier ambient
        # A condition that was not required has no voice.
        lower  | false    | -18 | 6.0 => not-verified | 1 | true  | fails m
        # What passes there passes all the more; what is too near is too near.
        lower  | true     | -18 | 4.0 => verified     | 0 | true  | all-required-pass
        lower  | true     | -18 | 5.1 => undecided    | 3 | true  | inconclusive m
        ",
        start,
    );
}

#[test]
fn the_safe_side_is_spoken_of_where_it_is_verified() {
    answers(
        "
        harder | required | air | after => mark | headline | lead | next
        lower  | true     | -18 | 4.0 => mark-verified     | headline-verified: 1       | lead-harder: condition-figures: −18 °C; 2 °C; Condition ambient |
        lower  | true     | -18 | 6.0 => mark-undecided    | headline-undecided-harder  | reason-fails: Measure m / reason-condition-harder: condition-figures: −18 °C; 2 °C; Condition ambient | settle-conditions
        -      | true     | -18 | 6.0 => mark-undecided    | headline-undecided-unknown | reason-fails: Measure m / reason-condition-unknown: Condition ambient | settle-conditions
        lower  | true     | -18 | 5.1 => mark-undecided    | headline-undecided         | reason-inconclusive: Measure m | settle-measurement
        lower  | false    | -18 | 6.0 => mark-not-verified | headline-not-verified: 1   | reason-fails: Measure m |
        ",
        |row| {
            let report = start(row).pages();
            move |name: &str| first_page(&report, name)
        },
    );
}
