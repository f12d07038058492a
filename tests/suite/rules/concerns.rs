//! Conditions that bear on some tests only: whether they were easier, more severe or are not
//! known says nothing of the others.

use super::small_job::{SmallJob, bar};
use super::table::hold;

/// Two measures, `a` and `b`, at most 10; and a condition that bears on those named.
fn with(concerns: &str, condition: &str, [a, b]: [&str; 2], required: [&str; 2]) -> SmallJob {
    let keys = |required: &str| format!("max = 10\nrequired = {required}");
    let [first, second] = required;
    let (before, after) = match condition {
        "alike" => ("value = 10, unit = \"°C\"", "value = 10, unit = \"°C\""),
        "easier" => ("value = 10, unit = \"°C\"", "value = 20, unit = \"°C\""),
        "harder" => ("value = 10, unit = \"°C\"", "value = 0, unit = \"°C\""),
        "unknown" => ("value = 10, unit = \"°C\"", ""),
        other => panic!("{other}"),
    };
    let concerns = match concerns {
        "all" => String::new(),
        ids => format!("concerns = [{}]\n", ids.replace('\'', "\"")),
    };
    SmallJob::new()
        .value("a", &keys(first), &bar("14", "1"), &bar(a, "1"))
        .value("b", &keys(second), &bar("14", "1"), &bar(b, "1"))
        .condition(
            "c",
            &format!("unit = \"°C\"\nwindow = 3\nharder = \"lower\"\nrequired = true\n{concerns}"),
            before,
            after,
        )
}

#[test]
fn a_condition_touches_what_it_concerns() {
    hold(
        "
        concerns | state => fair | measures.0.fair_conditions | measures.1.fair_conditions | measures.0.change | measures.1.change | verdict | reasons
        all      | alike   => true  | true  | true  | improved | improved | verified | all-required-pass
        all      | easier  => false | false | false | apparently-improved | apparently-improved | undecided | condition-easier c
        'b'      | easier  => false | true  | false | improved | apparently-improved | undecided | condition-easier c
        'a'      | easier  => false | false | true  | apparently-improved | improved | undecided | condition-easier c
        'b'      | unknown => false | true  | false | improved | apparently-improved | undecided | condition-unknown c
        'a', 'b' | easier  => false | false | false | apparently-improved | apparently-improved | undecided | condition-easier c
        'b'      | harder  => true  | true  | true  | improved | improved | verified | all-required-pass
        'b'      | alike   => true  | true  | true  | improved | improved | verified | all-required-pass
        ",
        |row| with(row.at("concerns"), row.at("state"), ["5", "5"], ["true", "true"]),
    );
}

/// What bears on nothing that is required leaves the verdict alone, and is told.
#[test]
fn a_condition_of_other_tests_is_a_reservation() {
    hold(
        "
        concerns | state => measures.1.change | verdict | reasons | reservations
        all      | easier  => apparently-improved | undecided | condition-easier c |
        'b'      | easier  => apparently-improved | verified | all-required-pass | other-condition c
        'b'      | unknown => apparently-improved | verified | all-required-pass | other-condition c
        'b'      | harder  => improved | verified | all-required-pass |
        'a'      | easier  => improved | undecided | condition-easier c |
        ",
        |row| {
            with(
                row.at("concerns"),
                row.at("state"),
                ["5", "5"],
                ["true", "false"],
            )
        },
    );
}

/// A failure proves nothing where the test itself was more severe, or may have been. Where
/// another test was, it stands.
#[test]
fn a_failure_is_excused_by_its_own_conditions() {
    hold(
        "
        concerns | state   | a  | b  => verdict | reasons
        all      | harder  | 14 | 5  => undecided | fails a, condition-harder c
        'a'      | harder  | 14 | 5  => undecided | fails a, condition-harder c
        'b'      | harder  | 14 | 5  => not-verified | fails a
        'b'      | harder  | 5  | 14 => undecided | fails b, condition-harder c
        # One of both failures stands.
        'b'      | harder  | 14 | 14 => not-verified | fails a, fails b
        'b'      | unknown | 14 | 5  => not-verified | fails a, condition-unknown c
        'a'      | unknown | 14 | 5  => undecided | fails a, condition-unknown c
        'a'      | easier  | 14 | 5  => not-verified | fails a, condition-easier c
        ",
        |row| {
            let after = [row.at("a"), row.at("b")];
            with(row.at("concerns"), row.at("state"), after, ["true", "true"])
        },
    );
}

/// A start that was not cold, by a temperature that some tests hang on: the verdict is open
/// where one of them is required, and else it is a reservation.
#[test]
fn what_was_still_warm_touches_what_it_concerns() {
    hold(
        "
        concerns | a     | b     | needed => verdict   | reasons           | reservations
        'b'      | true  | true  | true   => undecided | not-cold coolant  |
        'a', 'b' | true  | false | true   => undecided | not-cold coolant  |
        'b'      | true  | false | true   => verified  | all-required-pass | retest-not-cold coolant
        'b'      | true  | true  | false  => verified  | all-required-pass | retest-not-cold coolant
        ",
        |row| {
            let value = |of: &str| format!("max = 10\nrequired = {}", row.at(of));
            let concerns = row.at("concerns").replace('\'', "\"");
            let coolant = format!(
                "unit = \"°C\"\nwindow = 90\nrequired = {}\nconcerns = [{concerns}]",
                row.at("needed")
            );
            let (soak, celsius) = ("value = 12, unit = \"h\"", "unit = \"°C\"\nwindow = 3");
            let (air, warm) = ("value = 10, unit = \"°C\"", "value = 40, unit = \"°C\"");
            SmallJob::new()
                .value("a", &value("a"), &bar("14", "1"), &bar("5", "1"))
                .value("b", &value("b"), &bar("14", "1"), &bar("5", "1"))
                .condition("soak", "unit = \"h\"\nwindow = 3", soak, soak)
                .condition("ambient", celsius, air, air)
                .condition("coolant", &coolant, air, warm)
        },
    );
}
