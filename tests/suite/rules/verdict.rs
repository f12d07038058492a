//! The verdict from what was found of the measures and conditions, with every reason and
//! its place among the others.

use super::small_job::{SmallJob, bar};
use super::table::hold;

#[test]
fn from_the_measures() {
    hold(
        "
        required        | others  => verdict      | exit | reasons | reservations
        pass            |         => verified     | 0 | all-required-pass |
        pass narrow     |         => verified     | 0 | all-required-pass | conditional-pass narrow
        near            |         => undecided    | 3 | inconclusive near |
        outside         |         => not-verified | 1 | fails outside |
        absent          |         => not-verified | 1 | improvement-absent absent |
        unseen          |         => undecided    | 3 | no-improvement-shown unseen | fault-not-shown
        # Worse, and inside its limit by less than U: nobody can tell that it still is. By
        # more, it is worth a word.
        worse           |         => undecided    | 3 | got-worse worse | conditional-pass worse, fault-not-shown
        worse-within    |         => verified     | 0 | all-required-pass | worse-within-limit worse-within, fault-not-shown
        pass worse-within |       => verified     | 0 | all-required-pass | worse-within-limit worse-within
        worse-asked     |         => not-verified | 1 | improvement-absent worse-asked | worse-within-limit worse-asked, fault-not-shown
        worse-out       |         => not-verified | 1 | fails worse-out, got-worse worse-out | fault-not-shown
        not-taken       |         => undecided    | 3 | not-taken not-taken | fault-not-shown
        # Read in the retest only, its limit can be judged.
        not-taken-before |        => verified     | 0 | all-required-pass | not-taken-before not-taken-before, fault-not-shown
        pass not-taken-before |   => verified     | 0 | all-required-pass | not-taken-before not-taken-before
        # One that fails settles it; what is open besides is still said, after it.
        pass near       |         => undecided    | 3 | inconclusive near |
        near outside    |         => not-verified | 1 | fails outside, inconclusive near |
        absent outside  |         => not-verified | 1 | fails outside, improvement-absent absent |
        pass not-taken  |         => undecided    | 3 | not-taken not-taken |
        outside not-taken |       => not-verified | 1 | fails outside, not-taken not-taken |
        # The order of the reasons, whatever that of the measures.
        worse unseen not-taken near absent outside | => not-verified | 1 | fails outside, improvement-absent absent, inconclusive near, not-taken not-taken, no-improvement-shown unseen, got-worse worse | conditional-pass worse
        worse unseen not-taken near                | => undecided | 3 | inconclusive near, not-taken not-taken, no-improvement-shown unseen, got-worse worse | conditional-pass worse
        # What is not required has no voice, and a reservation where it is bad.
        pass            | pass      => verified | 0 | all-required-pass |
        pass            | narrow    => verified | 0 | all-required-pass |
        pass            | near      => verified | 0 | all-required-pass |
        pass            | outside   => verified | 0 | all-required-pass | other-outside o-outside
        pass            | absent    => verified | 0 | all-required-pass | other-outside o-absent
        pass            | unseen    => verified | 0 | all-required-pass |
        pass            | worse     => verified | 0 | all-required-pass | other-worse o-worse
        pass            | worse-within => verified | 0 | all-required-pass | other-worse o-worse-within
        pass            | worse-out => verified | 0 | all-required-pass | other-outside o-worse-out, other-worse o-worse-out
        pass            | not-taken => verified | 0 | all-required-pass |
        pass            | not-taken-before => verified | 0 | all-required-pass |
        pass            | no-limit  => verified | 0 | all-required-pass |
        # Nothing is required: nothing is verified, and no fault had to be shown.
                        | pass      => undecided | 3 | nothing-required |
                        | outside   => undecided | 3 | nothing-required | other-outside o-outside
        ",
        |row| {
            let mut job = SmallJob::new();
            for found in row.at("required").split_whitespace() {
                job = job.found(found, found, true);
            }
            for found in row.at("others").split_whitespace() {
                job = job.found(found, &format!("o-{found}"), false);
            }
            job
        },
    );
}

/// What becomes of a measure that could not be read: nothing was found of it.
#[test]
fn a_reading_that_was_not_taken() {
    let judged = SmallJob::new().found("not-taken", "m", true).judged();
    assert_eq!(judged.cell("outcome"), "inconclusive");
    assert_eq!(judged.cell("change"), "-");
    assert_eq!(judged.cell("measures.0.values"), "[]");
}

/// Words are never judged.
#[test]
fn words() {
    let judged = SmallJob::new()
        .measure(
            "m",
            "kind = \"text\"",
            "text = \"loud\"",
            "text = \"quiet\"",
        )
        .found("pass", "r", true)
        .judged();
    assert_eq!(judged.cell("outcome"), "no-limit");
    assert_eq!(judged.cell("change"), "-");
    assert_eq!(judged.cell("verdict"), "verified");
    assert_eq!(judged.cell("reservations"), "");
}

/// The conditions stand after the measures, in the order of the plan.
#[test]
fn from_measures_and_conditions() {
    hold(
        "
        measure | ambient | fuel    => verdict      | exit | fair  | reasons
        pass    | same    | same    => verified     | 0 | true  | all-required-pass
        pass    | harder  | same    => verified     | 0 | true  | all-required-pass
        pass    | easier  | same    => undecided    | 3 | false | condition-easier ambient
        pass    | same    | other   => undecided    | 3 | false | condition-unknown fuel
        pass    | easier  | other   => undecided    | 3 | false | condition-easier ambient, condition-unknown fuel
        near    | easier  | other   => undecided    | 3 | false | inconclusive near, condition-easier ambient, condition-unknown fuel
        worse   | same    | other   => undecided    | 3 | false | got-worse worse, condition-unknown fuel
        # What fails under easier conditions fails all the more.
        outside | easier  | same    => not-verified | 1 | false | fails outside, condition-easier ambient
        # What fails where it was more severe, or may have been, proves nothing.
        outside | same    | other   => undecided    | 3 | false | fails outside, condition-unknown fuel
        absent  | same    | other   => undecided    | 3 | false | improvement-absent absent, condition-unknown fuel
        outside | harder  | same    => undecided    | 3 | true  | fails outside, condition-harder ambient
        absent  | harder  | same    => undecided    | 3 | true  | improvement-absent absent, condition-harder ambient
        outside | harder  | other   => undecided    | 3 | false | fails outside, condition-unknown fuel, condition-harder ambient
        near    | harder  | same    => undecided    | 3 | true  | inconclusive near
        absent  | easier  | same    => not-verified | 1 | false | improvement-absent absent, condition-easier ambient
        ",
        |row| {
            let ambient = match row.at("ambient") {
                "same" => "20",
                "harder" => "10",
                _ => "30",
            };
            let ambient = format!("value = {ambient}, unit = \"°C\"");
            let fuel = format!("text = \"{}\"", row.at("fuel"));
            let keys = "required = true\nunit = \"°C\"\nwindow = 3\nharder = \"lower\"";
            let before = "value = 20, unit = \"°C\"";
            let job = SmallJob::new()
                .condition("ambient", keys, before, &ambient)
                .condition("fuel", "required = true", "text = \"same\"", &fuel);
            job.found(row.at("measure"), row.at("measure"), true)
        },
    );
}

#[test]
fn without_conditions_nothing_was_compared() {
    let judged = SmallJob::new()
        .found("pass", "m", true)
        .without_conditions()
        .judged();
    assert_eq!(judged.cell("verdict"), "verified");
    assert_eq!(judged.cell("fair"), "true");
    assert_eq!(judged.cell("reservations"), "no-conditions");
}

/// The reservations that can stand together, in their order.
#[test]
fn the_order_of_the_reservations() {
    let value = |value: &str, instrument: &str| {
        format!("value = {value}, unit = \"°C\", instrument = \"{instrument}\"")
    };
    let celsius = "unit = \"°C\"\nwindow = 30\nharder = \"lower\"";
    let mut job = SmallJob::new()
        .rule("simple")
        .meter("value = 10, unit = \"h\"", "value = 9, unit = \"h\"")
        .instrument("old", "unit = \"K\"\naccuracy = 0.1\ndue = 2026-01-31")
        .instrument(
            "new",
            "unit = \"K\"\naccuracy = 0.1\ncalibrated = 2026-03-04",
        )
        .condition("ambient", celsius, &value("10", "old"), &value("11", "new"))
        .condition("coolant", celsius, &value("20", "new"), &value("21", "new"))
        .condition(
            "soak",
            "unit = \"h\"\nwindow = 3",
            "value = 7, unit = \"h\"",
            "value = 7, unit = \"h\"",
        )
        .condition("fuel", "", "text = \"red\"", "text = \"white\"");
    for found in ["outside", "worse"] {
        job = job.found(found, found, false);
    }
    let judged = job
        .value(
            "planned",
            "repeats = 3\nmax = 10",
            &bar("14", "1"),
            &bar("5", "1"),
        )
        .measure(
            "cranking",
            "kind = \"value\"\nunit = \"s\"\ntest = \"cranking-time\"\nmax = 10\nrequired = true",
            "value = 5\nunit = \"s\"\nuncertainty = 1",
            "value = 5\nunit = \"s\"\nuncertainty = 1",
        )
        .judged();
    assert_eq!(
        judged.cell("reservations").split(", ").collect::<Vec<_>>(),
        [
            "uncertainty-not-counted",
            "other-outside outside",
            "other-worse worse",
            "fault-not-shown",
            "other-condition fuel",
            "condition-helped ambient",
            "condition-helped coolant",
            "battery-not-recorded cranking",
            "baseline-not-cold coolant",
            "retest-not-cold coolant",
            "short-soak",
            "calibration-overdue old 2026-01-31",
            "calibrated-later new",
            "meter-backwards",
            "repeats-differ planned",
        ]
    );
}
