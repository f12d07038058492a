//! Passes of attempts: the limit, the exact tests of a change, and what so few attempts can show.
//!
//! Fisher's p by hand: of the tables with the margins found, the share of those no likelier
//! (1/5 → 5/5: (C(6,1) C(4,4) + …)/C(10,5) = (6 + 6)/252). McNemar's by hand:
//! 2 Σ C(n, k)/2ⁿ. Both, and the intervals, also computed with a Python program of its own.

use super::small_job::{SmallJob, bar};
use super::table::{Row, hold};

/// `3/4` as keys of a reading.
fn attempts(text: &str) -> String {
    let (passes, attempts) = text.split_once('/').unwrap();
    format!("passes = {passes}, attempts = {attempts}")
}

fn passes(row: &Row<'_>, keys: &str) -> SmallJob {
    let reading = |column| attempts(row.at(column)).replace(", ", "\n");
    let keys = format!("kind = \"passes\"\n{keys}");
    SmallJob::new().measure("m", &keys, &reading("before"), &reading("after"))
}

#[test]
fn enough_passes() {
    hold(
        "
        before | after => outcome | verdict      | reasons           | reservations
        # At least 3 of 4.
        0/4    | 4/4   => pass    | verified     | all-required-pass |
        0/4    | 3/4   => pass    | verified     | all-required-pass |
        2/4    | 2/4   => fail    | not-verified | fails m           |
        2/4    | 0/4   => fail    | not-verified | fails m           |
        # Enough before as well: no fault was shown. Too few before: it was.
        3/4    | 3/4   => pass    | verified     | all-required-pass | fault-not-shown
        2/4    | 3/4   => pass    | verified     | all-required-pass |
        # From all to none is shown to be worse: two things to say.
        4/4    | 0/4   => fail    | not-verified | fails m, got-worse m | fault-not-shown
        ",
        |row| passes(row, "required = true\nmin_passes = 3"),
    );
}

#[test]
fn the_change_of_a_count() {
    hold(
        "
        before | after => change               | outcome    | measures.0.counts.0.p | measures.0.counts.0.smallest_p | measures.0.counts.0.outcome
        # 2/C(8,4) = 2/70, the least that four attempts can give.
        0/4    | 4/4   => improved             | no-limit   | 0.028571 | 0.028571 | no-limit
        4/4    | 0/4   => worsened             | no-limit   | 0.028571 | 0.028571 | no-limit
        0/4    | 3/4   => no-detectable-change | no-limit   | 0.142857 | 0.028571 | no-limit
        # Three attempts can never show a change: 2/C(6,3).
        0/3    | 3/3   => too-few-to-tell      | no-limit   | 0.100000 | 0.100000 | no-limit
        0/5    | 4/5   => improved             | no-limit   | 0.047619 | 0.007937 | no-limit
        1/5    | 5/5   => improved             | no-limit   | 0.047619 | 0.007937 | no-limit
        5/5    | 1/5   => worsened             | no-limit   | 0.047619 | 0.007937 | no-limit
        0/6    | 4/6   => no-detectable-change | no-limit   | 0.060606 | 0.002165 | no-limit
        4/6    | 0/6   => no-detectable-change | no-limit   | 0.060606 | 0.002165 | no-limit
        1/6    | 6/6   => improved             | no-limit   | 0.015152 | 0.002165 | no-limit
        2/4    | 2/4   => no-detectable-change | no-limit   | 1.000000 | 0.028571 | no-limit
        ",
        |row| passes(row, ""),
    );
}

/// The two runs may have different numbers of attempts; trying until enough have passed helps
/// nobody: with more attempts it must be the same share, passes · before ≥ least · after.
#[test]
fn other_attempts_than_the_baseline() {
    hold(
        "
        min | before | after => outcome | change | verdict | reasons | reservations
        # 3 of 3; of ten, 3 · 3 = 9 and 9 · 3 = 27 are less than 3 · 10.
        3   | 0/3    | 3/3   => pass | too-few-to-tell      | verified     | all-required-pass |
        3   | 0/3    | 3/10  => fail | no-detectable-change | not-verified | fails m | attempts-differ m
        3   | 0/3    | 9/10  => fail | improved             | not-verified | fails m | attempts-differ m
        3   | 0/3    | 10/10 => pass | improved             | verified     | all-required-pass | attempts-differ m
        # 2 of 3: 7 · 3 = 21 of ten are enough, 6 · 3 = 18 are not; 6 · 3 of nine are, exactly.
        2   | 0/3    | 7/10  => pass | no-detectable-change | verified     | all-required-pass | attempts-differ m
        2   | 0/3    | 6/10  => fail | no-detectable-change | not-verified | fails m | attempts-differ m
        2   | 0/3    | 6/9   => pass | no-detectable-change | verified     | all-required-pass | attempts-differ m
        # With fewer attempts the number itself must be reached.
        3   | 0/10   | 3/3   => pass | improved             | verified     | all-required-pass | attempts-differ m
        3   | 0/10   | 3/4   => pass | improved             | verified     | all-required-pass | attempts-differ m
        ",
        |row| passes(row, &format!("required = true\nmin_passes = {}", row.at("min"))),
    );
    hold(
        "
        before   | after    => outcome | reservations
        0/3 3/3  | 3/3 3/3  => pass    |
        0/3 3/3  | 3/3 3/4  => fail    | attempts-differ m
        0/3 3/3  | 3/3 4/4  => pass    | attempts-differ m
        ",
        |row| by_cylinder(row, "required = true\nmin_passes = 3"),
    );
}

/// Fisher's exact test of unlike and of large runs, computed with SciPy: of 12 convicted
/// twins of 13 and 17 pairs p = 5.3672e-4 (Fisher 1935, from memory: 10 of 13 against 2 of 17);
/// no change of 682 in 925, and of none or one in 1000, has p = 1.
#[test]
fn fisher_s_test_of_unlike_and_of_large_runs() {
    hold(
        "
        before  | after   => change | measures.0.counts.0.p
        10/13   | 2/17    => worsened | 0.00053672
        2/17    | 10/13   => improved | 0.00053672
        682/925 | 682/925 => no-detectable-change | 1.000000
        0/1000  | 1/1000  => no-detectable-change | 1.000000
        # More passes, and a smaller share.
        10/10   | 12/30   => worsened | 0.000814
        12/30   | 10/10   => improved | 0.000814
        # 0/3 against 10/10 is 1/C(13, 3); against 3/10 as SciPy has it.
        0/3     | 10/10   => improved | 0.003497
        0/3     | 3/10    => no-detectable-change | 0.527972
        ",
        |row| passes(row, ""),
    );
}

/// Clopper and Pearson (1934): 3/3 and 5/10 as R gives them.
#[test]
fn the_interval_of_a_share() {
    hold(
        "
        before | after => measures.0.counts.0.baseline_interval.0 | measures.0.counts.0.baseline_interval.1 | measures.0.counts.0.retest_interval.0 | measures.0.counts.0.retest_interval.1
        0/3    | 3/3   => 0.0 | 0.707598 | 0.292402 | 1.0
        1/4    | 3/4   => 0.006309 | 0.805880 | 0.194120 | 0.993691
        5/10   | 5/10  => 0.187086 | 0.812914 | 0.187086 | 0.812914
        ",
        |row| passes(row, ""),
    );
    hold(
        "
        before | after => measures.0.counts.0.baseline.0 | measures.0.counts.0.baseline.1 | measures.0.counts.0.retest.0 | measures.0.counts.0.retest.1
        1/4    | 3/4   => 1 | 4 | 3 | 4
        ",
        |row| passes(row, ""),
    );
}

/// Rows of cylinders, such as `0/4 4/4`.
fn by_cylinder(row: &Row<'_>, keys: &str) -> SmallJob {
    let count = row.at("before").split_whitespace().count();
    let reading = |column| {
        let rows = row.at(column).split_whitespace().enumerate();
        let rows: Vec<String> = rows
            .map(|(index, cell)| format!("{{ at = {}, {} }}", index + 1, attempts(cell)))
            .collect();
        format!("rows = [{}]", rows.join(", "))
    };
    let keys = format!("kind = \"passes\"\nat = \"cylinders\"\n{keys}");
    SmallJob::new()
        .cylinders(count)
        .measure("m", &keys, &reading("before"), &reading("after"))
}

#[test]
fn enough_passes_of_every_cylinder() {
    hold(
        "
        before      | after       => outcome | verdict      | reasons           | reservations
        # At least 2 of 3 from each.
        0/3 3/3 3/3 | 3/3 3/3 2/3 => pass    | verified     | all-required-pass |
        0/3 3/3 3/3 | 3/3 1/3 3/3 => fail    | not-verified | fails m           |
        0/3 3/3 3/3 | 1/3 3/3 3/3 => fail    | not-verified | fails m           |
        2/3 3/3 3/3 | 2/3 3/3 3/3 => pass    | verified     | all-required-pass | fault-not-shown
        3/3 3/3 1/3 | 3/3 3/3 2/3 => pass    | verified     | all-required-pass |
        ",
        |row| by_cylinder(row, "required = true\nmin_passes = 2"),
    );
}

/// McNemar's exact test sees the cylinders that began or stopped to pass: with six of them
/// it can give 2/2⁶ = 0.031 25 at best, with five 0.062 5.
#[test]
fn the_change_of_cylinders_that_pass() {
    hold(
        "
        min | before                  | after                   => change | measures.0.paired.gained | measures.0.paired.lost | measures.0.paired.p | measures.0.paired.smallest_p
        2   | 1/2 1/2 1/2 1/2 1/2 1/2 | 2/2 2/2 2/2 2/2 2/2 2/2 => improved             | 6 | 0 | 0.03125 | 0.03125
        2   | 1/2 1/2 1/2 1/2 1/2     | 2/2 2/2 2/2 2/2 2/2     => too-few-to-tell      | 5 | 0 | 0.0625  | 0.0625
        2   | 2/2 2/2 2/2 2/2 2/2 2/2 | 1/2 1/2 1/2 1/2 1/2 1/2 => worsened             | 0 | 6 | 0.03125 | 0.03125
        2   | 1/2 1/2 1/2 1/2 1/2 2/2 | 2/2 2/2 2/2 2/2 2/2 1/2 => no-detectable-change | 5 | 1 | 0.21875 | 0.03125
        # Thirteen against four: 2 × 3214/2¹⁷.
        2   | 1/2 1/2 1/2 1/2 1/2 1/2 1/2 1/2 1/2 1/2 1/2 1/2 1/2 2/2 2/2 2/2 2/2 | 2/2 2/2 2/2 2/2 2/2 2/2 2/2 2/2 2/2 2/2 2/2 2/2 2/2 1/2 1/2 1/2 1/2 => improved | 13 | 4 | 0.049042 | 0.000015
        # What passed before and after, or neither time, is no change; at a limit of 1 these do.
        1   | 1/2 1/2 1/2 1/2 1/2 1/2 | 2/2 2/2 2/2 2/2 2/2 2/2 => no-detectable-change | 0 | 0 | 1.0     | 0.03125
        # Without a limit a cylinder passes at every attempt.
        -   | 1/2 1/2 1/2 1/2 1/2 1/2 | 2/2 2/2 2/2 2/2 2/2 2/2 => improved             | 6 | 0 | 0.03125 | 0.03125
        -   | 0/2 0/2 0/2 0/2 0/2 0/2 | 1/2 1/2 1/2 1/2 1/2 1/2 => no-detectable-change | 0 | 0 | 1.0     | 0.03125
        # A cylinder that changed plainly counts by itself, at 0.05 shared between all: of
        # two, p must be below 0.025. 0 → 5 of 20 has 0.047, 0 → 6 of 20 0.020.
        1   | 5/20 5/20               | 0/20 5/20               => too-few-to-tell      | 0 | 1 | 1.0     | 0.5
        1   | 6/20 5/20               | 0/20 5/20               => worsened             | 0 | 1 | 1.0     | 0.5
        1   | 0/20 5/20               | 5/20 5/20               => too-few-to-tell      | 1 | 0 | 1.0     | 0.5
        1   | 0/20 5/20               | 6/20 5/20               => improved             | 1 | 0 | 1.0     | 0.5
        # 0 → 5 of 8 has 0.0256, just too much for two.
        1   | 0/8 8/8                 | 5/8 8/8                 => too-few-to-tell      | 1 | 0 | 1.0     | 0.5
        # Of one cylinder alone the 0.047 do.
        1   | 5/20                    | 0/20                    => worsened             | 0 | 1 | 1.0     | 1.0
        # 0 → 4 of 5 has 0.0476.
        1   | 0/5                     | 4/5                     => improved             | 1 | 0 | 1.0     | 1.0
        # One worse and one better: worse.
        1   | 0/20 20/20              | 20/20 0/20              => worsened             | 1 | 1 | 1.0     | 0.5
        1   | 20/20 0/20              | 0/20 20/20              => worsened             | 1 | 1 | 1.0     | 0.5
        ",
        |row| {
            let keys = match row.at("min") {
                "-" => String::new(),
                min => format!("min_passes = {min}"),
            };
            by_cylinder(row, &keys)
        },
    );
}

#[test]
fn counts_of_cylinders_are_numbered_from_one() {
    hold(
        "
        before  | after   => measures.0.counts.0.position | measures.0.counts.1.position | measures.0.counts.1.retest.0
        1/3 2/3 | 1/3 3/3 => 1 | 2 | 3
        ",
        |row| by_cylinder(row, ""),
    );
}

/// What got worse is a reason where it fails as well, and a reservation where it passes: of
/// 20 attempts one still passed.
#[test]
fn cylinders_that_stopped_to_pass() {
    let job = |required: bool, min: u8| {
        let rows = |first: &str| format!("rows = [{{ at = 1, passes = {first}, attempts = 20 }}]");
        let keys = format!(
            "kind = \"passes\"\nat = \"cylinders\"\nmin_passes = {min}\nrequired = {required}"
        );
        SmallJob::new()
            .cylinders(1)
            .measure("m", &keys, &rows("20"), &rows("1"))
            .value(
                "r",
                "required = true\nmax = 10",
                &bar("14", "1"),
                &bar("5", "1"),
            )
            .judged()
    };
    let judged = job(true, 2);
    assert_eq!(judged.cell("verdict"), "not-verified");
    assert_eq!(judged.cell("reasons"), "fails m, got-worse m");
    assert_eq!(judged.cell("reservations"), "");
    let judged = job(true, 1);
    assert_eq!(judged.cell("verdict"), "verified");
    assert_eq!(judged.cell("reservations"), "worse-within-limit m");
    let judged = job(false, 1);
    assert_eq!(judged.cell("verdict"), "verified");
    assert_eq!(judged.cell("reservations"), "other-worse m");
}
