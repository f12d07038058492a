//! What should be, besides what must be: outside of it there is a reservation, and the
//! verdict stays as it is.

use super::small_job::{SmallJob, bar};
use super::table::hold;

/// At most 10, better at most 8.
#[test]
fn what_should_be_never_decides() {
    hold(
        "
        rule      | U   | after => outcome | verdict | #.should.zone | reservations
        four-zone | 0.1 | 7     => pass | verified | pass |
        four-zone | 0.1 | 7.95  => pass | verified | conditional-pass |
        # Outside by no more than U: not shown.
        four-zone | 0.1 | 8.1   => pass | verified | conditional-fail |
        four-zone | 0.1 | 8.101 => pass | verified | fail | not-as-it-should m
        guarded   | 0.1 | 8.101 => pass | verified | fail | not-as-it-should m
        guarded   | 0.1 | 8.1   => pass | verified | conditional-fail |
        simple    | 0.1 | 8     => pass | verified | pass | uncertainty-not-counted
        simple    | 0.1 | 8.001 => pass | verified | fail | uncertainty-not-counted, not-as-it-should m
        four-zone | 1   | 9.5   => conditional-pass | verified | fail | conditional-pass m, not-as-it-should m
        # What does not meet what it must needs no word of what it should.
        four-zone | 1   | 10.5  => inconclusive | undecided | fail |
        four-zone | 0.1 | 12    => fail | not-verified | fail |
        ",
        |row| {
            let expanded = row.at("U");
            SmallJob::new().rule(row.at("rule")).value(
                "m",
                "required = true\nmax = 10\nshould_max = 8",
                &bar("14", expanded),
                &bar(row.at("after"), expanded),
            )
        },
    );
}

/// Both ends of each, as they were planned.
#[test]
fn what_should_be_is_in_the_result() {
    hold(
        "
        keys                                             => #.min | #.max | #.should_min | #.should_max
        min = 1, should_min = 2, should_max = 8, max = 10 => 1    | 10    | 2            | 8
        max = 10, should_max = 8                          => -    | 10    | -            | 8
        min = 1, should_min = 2                           => 1    | -     | 2            | -
        ",
        |row| {
            let keys = row.at("keys").replace(", ", "\n");
            SmallJob::new().value("m", &keys, &bar("14", "1"), &bar("5", "1"))
        },
    );
}

/// A measure that is not required has it too; so has a retest that was not read before.
#[test]
fn whatever_was_read_can_be_less_than_it_should() {
    hold(
        "
        required | before | after => verdict | reservations
        false    | 14     | 9     => undecided | not-as-it-should m
        true     |        | 9     => verified | not-as-it-should m, not-taken-before m, fault-not-shown
        ",
        |row| {
            let before = match row.at("before") {
                "" => "not_taken = \"The gauge broke\"".to_owned(),
                value => bar(value, "0.1"),
            };
            let keys = format!("required = {}\nmax = 10\nshould_max = 8", row.at("required"));
            SmallJob::new().value("m", &keys, &before, &bar(row.at("after"), "0.1"))
        },
    );
}
