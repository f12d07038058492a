//! One value for each cylinder: every one must keep its limit, a change of all is claimed
//! at a level shared between them, and one may stand out from the others.

use super::small_job::{SmallJob, stated};
use super::table::{Row, hold};

/// Cylinders as `5 5 5 5`, `-` for one that was not read, with U before and after.
fn cylinders(row: &Row<'_>, keys: &str, expanded: [&str; 2]) -> SmallJob {
    let count = row.at("before").split_whitespace().count();
    let reading = |column, expanded| {
        let rows = row.at(column).split_whitespace().enumerate();
        let rows: Vec<String> = rows
            .map(|(index, value)| {
                let read = match value {
                    "-" => "not_taken = \"Blocked\"".to_owned(),
                    value => format!("value = {value}"),
                };
                format!("{{ at = {}, {read} }}", index + 1)
            })
            .collect();
        format!(
            "rows = [{}]\nunit = \"bar\"\n{}",
            rows.join(", "),
            stated(expanded)
        )
    };
    let keys = format!("kind = \"value\"\nat = \"cylinders\"\nunit = \"bar\"\n{keys}");
    let [before, after] = expanded;
    SmallJob::new().cylinders(count).measure(
        "m",
        &keys,
        &reading("before", before),
        &reading("after", after),
    )
}

#[test]
fn every_cylinder_keeps_its_limit() {
    hold(
        "
        before      | after       => outcome | verdict | reasons | reservations
        # At most 10, U = 1: the worst of them decides.
        14 14 14 14 | 5 5 5 5     => pass                  | verified     | all-required-pass  |
        14 14 14 14 | 5 9.5 5 5   => conditional-pass      | verified     | all-required-pass  | conditional-pass m
        14 14 14 14 | 5 9.5 5 10.5 => inconclusive            | undecided    | inconclusive m |
        14 14 14 14 | 12 9.5 5 10.5 => fail                | not-verified | fails m            |
        5 5 5 14    | 5 5 5 5     => pass                  | verified     | all-required-pass  |
        5 5 5 5     | 5 5 5 5     => pass                  | verified     | all-required-pass  | fault-not-shown
        # One of them shows the fault: outside, or inconclusive.
        5 5 10.5 5  | 5 5 10 5    => conditional-pass      | verified     | all-required-pass  | conditional-pass m
        ",
        |row| cylinders(row, "required = true\nmax = 10", ["1", "1"]),
    );
    hold(
        "
        before      | after       => outcome | reasons
        # Better by 5 asked of each, U √2 = 1.414: 3.586 is too little for certain.
        14 14       | 5 5         => pass      | all-required-pass
        14 14       | 5 10        => inconclusive | no-improvement-shown m
        14 14       | 5 10.5      => fail      | improvement-absent m
        14 14       | 5 12        => fail      | improvement-absent m
        14 21       | 5 16        => conditional-pass      | all-required-pass
        ",
        |row| {
            cylinders(
                row,
                "required = true\nbetter = \"lower\"\nimprove_by = 5",
                ["1", "1"],
            )
        },
    );
}

/// U of one change is 1. Of four cylinders the level is 1 − 0.05/4, z = 2.497 705, and U
/// 2.497 705/1.959 964 = 1.274 363; of two z = 2.241 403 and U 1.143 594.
#[test]
fn a_change_of_several_cylinders() {
    hold(
        "
        before   | after       => change               | measures.0.values.0.change
        5 5 5 5  | 3.8 5 5 5   => no-detectable-change | improved
        5 5 5 5  | 3.73 5 5 5  => no-detectable-change | improved
        5 5 5 5  | 3.72 5 5 5  => improved             | improved
        5 5 5 5  | 6.27 5 5 5  => no-detectable-change | worsened
        5 5 5 5  | 6.28 5 5 5  => worsened             | worsened
        5 5      | 3.86 5      => no-detectable-change | improved
        5 5      | 3.85 5      => improved             | improved
        5        | 3.99        => improved             | improved
        5        | 4.01        => no-detectable-change | no-detectable-change
        # Worse and better at once is worse, whichever comes first.
        5 5 5 5  | 7 5 5 3     => worsened             | worsened
        5 5 5 5  | 3 5 5 7     => worsened             | improved
        5 5 5 5  | 5 3 5 5     => improved             | no-detectable-change
        ",
        |row| cylinders(row, "better = \"lower\"", ["0.6", "0.8"]),
    );
}

/// Between two limits a cylinder may move and get neither better nor worse; where none did
/// either, that is what the measure did.
#[test]
fn cylinders_that_moved_between_their_limits() {
    hold(
        "
        before | after => change | measures.0.values.0.change | measures.0.values.1.change
        4 5    | 6.1 5 => changed | changed | no-detectable-change
        4 5    | 5 5   => no-detectable-change | no-detectable-change | no-detectable-change
        4 20   | 6.1 9 => improved | changed | improved
        4 9    | 6.1 20 => worsened | changed | worsened
        ",
        |row| cylinders(row, "min = 0\nmax = 10", ["0.6", "0.8"]),
    );
}

/// Modified z = 0.6745 (x − median)/MAD beyond 3.5 stands out (Iglewicz and Hoaglin).
#[test]
fn a_cylinder_that_stands_out() {
    hold(
        "
        before       | after => measures.0.balance.baseline.mean | measures.0.balance.baseline.spread | measures.0.balance.baseline.outliers | measures.0.balance.retest.outliers
        # Median 5.5, distances 1.5 0.5 0.5 0.5, MAD 0.5: z = 0.6745 × 1.5/0.5 = 2.0.
        4 5 6 6      | 5 5 5 5     => 5.25 | 2 | [] | []
        # Median 5.5, MAD 0.5, the last 2.59 or 2.6 away: z = 3.494 or 3.507.
        5 5 6 8.09   | 5 5 6 8.10  => 6.0225 | 3.09 | [] | [\"4\"]
        8.10 5 6 5   | 5 8.10 5 6  => 6.025 | 3.1 | [\"1\"] | [\"2\"]
        # As far below the others: median 6.5.
        7 7 6 3.9    | 3.9 7 6 7   => 5.975 | 3.1 | [\"4\"] | [\"1\"]
        # Three are too few.
        0.1 0.2 9    | 0.1 0.2 9   => 3.1 | 8.9 | [] | []
        # More than half alike: MAD is 0, and the mean distance times √(π/2) takes its place,
        # 6/6 × 1.2533: 6/1.2533 = 4.79; of five, 6/5 × 1.2533: 3.99; of four, 3.19.
        5 5 5 5 5 11 | 5 5 5 5 5 5 => 6 | 6 | [\"6\"] | []
        5 5 5 5 11   | 5 5 5 5 5   => 6.2 | 6 | [\"5\"] | []
        5 5 5 11     | 5 5 5 5     => 6.5 | 6 | [] | []
        # Mean distances 11.2/5 and 11.6/5: z = 10/(1.2533 × 2.24) = 3.56 and 3.44.
        5 5 5 6.2 15 | 5 5 5 6.6 15 => 7.24 | 10 | [\"5\"] | []
        # Median 3, MAD 1: z = 0.6745 × 5.2 = 3.51 and 3.37.
        1 2 3 4 8.2  | 1 2 3 4 8   => 3.64 | 7.2 | [\"5\"] | []
        ",
        |row| cylinders(row, "", ["1", "1"]),
    );
}

/// A cylinder that failed before and could not be read again has shown the fault: 14 is above
/// 10 by more than U = 1, 5 is within.
#[test]
fn a_fault_that_was_shown_stays_shown() {
    hold(
        "
        before | after => outcome | verdict | reasons | reservations
        14 5   | - 5   => inconclusive | undecided | not-taken m |
        5 5    | - 5   => inconclusive | undecided | not-taken m | fault-not-shown
        - 5    | - 5   => inconclusive | undecided | not-taken m | fault-not-shown
        ",
        |row| cylinders(row, "max = 10\nrequired = true", ["1", "1"]),
    );
}

/// Every cylinder has its number.
#[test]
fn cylinders_are_numbered_from_one() {
    hold(
        "
        before | after => #.position | measures.0.values.1.position | measures.0.values.1.part | measures.0.values.1.retest.value
        5 6    | 7 8   => 1 | 2 | position | 8
        ",
        |row| cylinders(row, "", ["1", "1"]),
    );
}

/// Of a cylinder that was not read nothing is inconclusive; of the others it is said beside
/// that, whether they were read before the work or not.
#[test]
fn a_cylinder_near_its_limit_beside_one_that_was_not_read() {
    hold(
        "
        before  | after    => outcome      | reasons
        # At most 10 bar, U = 1: 10.5 is outside by less than that.
        14 14 - | 10.5 - 5 => inconclusive | inconclusive m, not-taken m
        14 14 - | 5 - 10.5 => inconclusive | inconclusive m, not-taken m
        14 14 - | 5 - 5    => inconclusive | not-taken m
        ",
        |row| cylinders(row, "max = 10\nrequired = true", ["1", "1"]),
    );
}
