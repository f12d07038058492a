//! Several points of one test: each is judged by its own limits, how closely it was held counts
//! by how steep the curve is there, and a change of all is claimed at a level shared between
//! them.

use super::small_job::{SmallJob, stated};
use super::table::{Row, hold};

const STEADY: &str = "run_to_run = { deviation = 1e-9, source = \"Its log\" }";

/// A pump at 600, 1000 and 1400 rpm, each held within `held`; a reading that was not taken is `-`.
fn pump(row: &Row<'_>, held: &str, keys: &str, expanded: &str) -> SmallJob {
    let reading = |column| {
        let settings = ["600", "1000", "1400"];
        let rows = row.at(column).split_whitespace().zip(settings);
        let rows: Vec<String> = rows
            .map(|(value, at)| match value {
                "-" => format!("{{ at = {at}, not_taken = \"It stalled\" }}"),
                value => format!("{{ at = {at}, value = {value} }}"),
            })
            .collect();
        format!(
            "rows = [ {} ]\nunit = \"bar\"\n{}",
            rows.join(", "),
            stated(expanded)
        )
    };
    SmallJob::new()
        .plan(&format!(
            "[[points]]\nid = \"speeds\"\nwhat = \"Pump speed\"\nunit = \"rpm\"\n\
             settings = [600, 1000, 1400]\n{held}"
        ))
        .measure(
            "m",
            &format!("kind = \"value\"\nunit = \"bar\"\nat = \"speeds\"\n{keys}\n{STEADY}"),
            &reading("before"),
            &reading("after"),
        )
}

#[test]
fn each_point_has_its_own_limit() {
    hold(
        "
        before | after  => outcome | measures.0.values.0.position | #.setting_unit | #.part | measures.0.values.2.min | verdict | reasons
        # At least 2, 4 and 8 bar.
        1 2 3  | 3 5 9  => pass | 600 | rpm | position | 8 | verified | all-required-pass
        1 2 3  | 3 5 7  => fail | 600 | rpm | position | 8 | not-verified | fails m
        1 2 3  | 3 5 -  => inconclusive | 600 | rpm | position | 8 | undecided | not-taken m
        ",
        |row| {
            let limits = "limit_rows = [ { at = 600, min = 2 }, { at = 1000, min = 4 }, \
                          { at = 1400, min = 8 } ]\nbetter = \"higher\"\nrequired = true";
            pump(row, "", limits, "0.1")
        },
    );
}

/// Held within 10 rpm: of 2, 3 and 7 bar the slopes are 1/400 and 4/400 bar a turn, so ±0.025,
/// ±0.1 and ±0.1 bar, u = 0.057 735 bar. Without the middle one slope is left, 5/800, ±0.0625 bar
/// and u = 0.036 084.
#[test]
fn how_closely_a_point_was_held_counts_by_the_slope() {
    hold(
        "
        held              | before | after => #.retest.u | measures.0.values.1.retest.u | measures.0.values.2.retest.u | measures.0.values.2.retest.components.2.source
        held_within = 10  | 1 1 1  | 2 3 7 => 0.014434 | 0.057735 | 0.057735 | setting
        held_within = 10  | 1 1 1  | 7 3 2 => 0.057735 | 0.057735 | 0.014434 | setting
        held_within = 20  | 1 1 1  | 2 3 7 => 0.028868 | 0.115470 | 0.115470 | setting
        held_within = 10  | 1 1 1  | 2 - 7 => 0.036084 | - | 0.036084 | setting
        held_within = 0   | 1 1 1  | 2 3 7 => 0.000000 | 0.000000 | 0.000000 | -
        ",
        |row| pump(row, row.at("held"), "better = \"higher\"", "1e-9"),
    );
    hold(
        "
        before | after => zone | #.retest.expanded
        # A bound of ±0.1 bar alone comes to 0.95 of itself: the zones at 4 bar end at 3.905.
        1 1 1  | 3.906 7.906 11 => conditional-fail | 0.095
        1 1 1  | 3.904 7.904 11 => fail | 0.095
        ",
        |row| {
            let keys = "min = 4\nbetter = \"higher\"\nrequired = true";
            pump(row, "held_within = 10", keys, "1e-9")
        },
    );
}

/// U of one change is 1. Of three points the level is 1 − 0.05/3, z = 2.393 980, and U of each
/// 1.221 442.
#[test]
fn a_claim_about_all_points_shares_the_level() {
    hold(
        "
        before | after      => change | #.change
        5 5 5  | 6.22 5 5   => no-detectable-change | improved
        5 5 5  | 6.23 5 5   => improved | improved
        5 5 5  | 9 9 3.77   => worsened | improved
        # Of two that were read in both runs z is 2.241 403, and U 1.143 594.
        5 5 -  | 6.15 5 5   => improved | improved
        5 5 -  | 6.14 5 5   => no-detectable-change | improved
        ",
        |row| pump(row, "", "better = \"higher\"", "0.7071067811865476"),
    );
}

/// Points are not meant to be alike: there is no balance, and one of ten times the others is no
/// slip of the decimal point.
#[test]
fn points_are_not_compared_with_each_other() {
    hold(
        "
        before   | after    => measures.0.balance | reservations
        1 1.1 11 | 1 1.1 11 => - | fault-not-shown
        ",
        |row| pump(row, "", "min = 0.5\nrequired = true", "0.1"),
    );
}

/// A worked-out figure at the same points: what the settings do passes on.
#[test]
fn what_is_worked_out_at_points() {
    hold(
        "
        before | after => measures.1.values.0.position | measures.1.values.2.retest.value | measures.1.values.2.retest.u
        1 1 1  | 2 3 7 => 600 | 14 | 0.115470
        ",
        |row| {
            pump(row, "held_within = 10", "", "1e-9").plan(
                "[[measure]]\nid = \"w\"\nname = \"Double\"\nkind = \"value\"\nunit = \"bar\"\n\
                 worked_out = \"2 * m\"",
            )
        },
    );
}
