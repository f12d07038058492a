//! Functions over all positions of which some were not read: only where the plan says how many
//! are enough, told on page 1, and no change is claimed between figures of other places.

use retestify::view::{ENGLISH, Words};

use super::small_job::{SmallJob, stated};
use super::table::{Row, hold};
use crate::ties_between_runs::report_with;

/// Six loggers, U = 0.1 each by itself, and what is worked out from them.
fn loggers(row: &Row<'_>, formula: &str, keys: &str) -> SmallJob {
    let reading = |column| {
        let rows = row.at(column).split_whitespace().enumerate();
        let rows: Vec<String> = rows
            .map(|(place, value)| match value {
                "-" => format!("{{ at = {}, not_taken = \"It fell down\" }}", place + 1),
                value => format!("{{ at = {}, value = {value} }}", place + 1),
            })
            .collect();
        format!(
            "rows = [ {} ]\nunit = \"bar\"\n{}",
            rows.join(", "),
            stated("0.1")
        )
    };
    let steady = "run_to_run = { deviation = 1e-9, source = \"Its log\" }";
    let plan = "[[positions]]\nid = \"loggers\"\none = \"logger\"\nmany = \"loggers\"\ncount = 6";
    SmallJob::new()
        .plan(plan)
        .measure(
            "m",
            &format!("kind = \"value\"\nunit = \"bar\"\nat = \"loggers\"\n{steady}"),
            &reading("before"),
            &reading("after"),
        )
        .worked_out(
            "w",
            &format!("unit = \"bar\"\nworked_out = \"{formula}\"\nrequired = true\n{keys}"),
        )
}

/// A mean of n readings has U = 0.1/√n: 0.040825 of six, 0.044721 of five, 0.05 of four.
#[test]
fn a_mean_over_those_that_were_read() {
    hold(
        "
        before      | after       => measures.1.outcome | measures.1.values.0.retest.value | measures.1.values.0.retest.expanded | measures.1.change | reasons | reservations
        9 9 9 9 9 9 | 3 3 3 3 3 3 => pass | 3 | 0.040825 | improved | all-required-pass |
        9 9 9 9 9 - | 3 3 3 3 3 - => pass | 3 | 0.044721 | improved | all-required-pass | left-out w
        # Other places in each run: their limits are judged, their change is not.
        9 9 9 9 9 9 | 3 3 3 3 3 - => pass | 3 | 0.044721 | other-positions | all-required-pass | left-out w
        9 9 9 9 9 - | 3 3 3 3 - 3 => pass | 3 | 0.044721 | other-positions | all-required-pass | left-out w
        9 9 9 9 9 9 | 9 9 9 9 - - => fail | 9 | 0.05     | other-positions | fails w | left-out w
        # Three are not enough.
        9 9 9 9 9 9 | 3 3 3 - - - => inconclusive | - | - | - | not-taken w | fault-not-shown
        9 9 9 - - - | 3 3 3 3 3 - => pass | 3 | 0.044721 | - | all-required-pass | left-out w, not-taken-before w, fault-not-shown
        ",
        |row| loggers(row, "mean(m)", "max = 5\nleast_read = 4"),
    );
    // Without the key all are needed.
    hold(
        "
        before      | after       => measures.1.outcome | measures.1.left_out | reasons
        9 9 9 9 9 9 | 3 3 3 3 3 - => inconclusive | - | not-taken w
        ",
        |row| loggers(row, "mean(m)", "max = 5"),
    );
}

/// What is required of the change cannot be shown by figures of other places.
#[test]
fn no_improvement_is_shown_between_other_places() {
    hold(
        "
        before      | after       => measures.1.outcome | measures.1.change | reasons
        9 9 9 9 9 - | 3 3 3 3 3 - => pass | improved | all-required-pass
        9 9 9 9 9 9 | 3 3 3 3 3 - => inconclusive | other-positions | no-improvement-shown w
        ",
        |row| {
            loggers(
                row,
                "mean(m)",
                "better = \"lower\"\nimprove_by = 1\nleast_read = 4",
            )
        },
    );
}

/// A spread of five is one of 20 choices, of six one of 30. Where the extremes are far from
/// the others, U is that of a difference at the level 1 − 0.05/K: the normal quantiles
/// 3.023341 and 3.143980 (scipy), times √2 · 0.1/1.959964.
#[test]
fn only_what_was_read_may_be_the_extreme() {
    hold(
        "
        before      | after       => measures.1.values.0.retest.value | measures.1.values.0.retest.expanded | measures.1.left_out.retest.0.read | measures.1.left_out.retest.0.positions.0
        1 2 3 4 5 9 | 1 2 3 4 5 9 => 8 | 0.226854 | - | -
        1 2 3 4 5 9 | 1 2 3 - 5 9 => 8 | 0.218149 | 5 | 4
        1 2 3 4 5 9 | 1 2 3 4 5 - => 4 | 0.218149 | 5 | 6
        ",
        |row| loggers(row, "spread(m)", "max = 20\nleast_read = 5"),
    );
}

#[test]
fn page_1_says_what_was_left_out() {
    let words = Words::of("en", &[ENGLISH]).unwrap();
    hold(
        "
        before      | after       => measures.1.outcome
        9 9 9 9 9 9 | 3 3 3 3 3 - => pass
        ",
        |row| {
            let job = loggers(row, "mean(m)", "max = 5\nleast_read = 4");
            let found = report_with(&job.folder(), "2026-03-06T12:00:00+00:00", &words);
            let told = found.front.reservations.join(" ");
            let wanted = "In the retest, “Measure w” leaves out what was not read: logger 6 \
                          (over 5 of 6 loggers).";
            assert!(told.contains(wanted), "{told}");
            let row = &found.measures[1];
            assert!(
                row.method.contains("over those that were read, at least 4"),
                "{}",
                row.method
            );
            assert_eq!(
                row.result,
                "pass · not compared: not over the same positions"
            );
            job
        },
    );
}
