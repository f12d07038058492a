//! Grades by ear, eye or hand, and exact counts: at the limit, and what may be said of a
//! change.
//!
//! The sign test's p by hand, from the binomial table with ½: of n that changed, k the rarer
//! way, 2 Σ C(n, i)/2ⁿ for i up to k. 6 and 0: 2/64; 7 and 1: 2 · 9/256; 5 and 0: 2/32.

use super::small_job::SmallJob;
use super::table::{Row, hold};

const SCALE: &str = "kind = \"grade\"\ngrades = [\"none\", \"faint\", \"clear\"]";

fn read(grade: &str) -> String {
    match grade {
        "-" => "not_taken = \"Not reached\"".to_owned(),
        number if number.parse::<u32>().is_ok() => format!("count = {number}"),
        grade => format!("grade = \"{grade}\""),
    }
}

fn single(row: &Row<'_>, keys: &str) -> SmallJob {
    let of = |column| read(row.at(column));
    SmallJob::new().measure("m", keys, &of("before"), &of("after"))
}

#[test]
fn a_grade_at_its_limit_and_against_the_one_before() {
    hold(
        "
        before | after => outcome | change | measures.0.exact.0.step | verdict | reasons | reservations
        # At least faint: exactly at the limit is a pass, and there is no guard band.
        none  | clear => pass | better | better | verified     | all-required-pass |
        none  | faint => pass | better | better | verified     | all-required-pass |
        # The same grade, inside before as well: no fault was shown.
        clear | clear => pass | same   | same   | verified     | all-required-pass | fault-not-shown
        # Better from faint to clear is said, and counts as no improvement shown.
        faint | clear => pass | better | better | verified     | all-required-pass | fault-not-shown
        # Worse, and still acceptable: a reservation. Worse and not: two things to say.
        clear | faint => pass | worse  | worse  | verified     | all-required-pass | worse-within-limit m, fault-not-shown
        clear | none  => fail | worse  | worse  | not-verified | fails m, got-worse m | fault-not-shown
        none  | none  => fail | same   | same   | not-verified | fails m           |
        # Without a baseline the limit is judged and nothing else.
        -     | clear => pass | -      | -      | verified     | all-required-pass | not-taken-before m, fault-not-shown
        clear | -     => inconclusive | - | -  | undecided     | not-taken m       | fault-not-shown
        ",
        |row| single(row, &format!("{SCALE}\nat_least = \"faint\"\nrequired = true")),
    );
}

#[test]
fn yes_and_no_and_grades_without_a_limit() {
    let yes_no =
        "kind = \"grade\"\ngrades = [\"no\", \"yes\"]\nat_least = \"yes\"\nrequired = true";
    hold(
        "
        before | after => outcome | change | verdict
        no  | yes => pass | better | verified
        no  | no  => fail | same   | not-verified
        # Capitals and spaces do not make another grade.
        NO  |  Yes  => pass | better | verified
        ",
        |row| single(row, yes_no),
    );
    hold(
        "
        before | after => outcome | change | reservations
        none  | clear => no-limit | better |
        clear | none  => no-limit | worse  | other-worse m
        ",
        |row| single(row, SCALE),
    );
}

/// Better under conditions that were easier is only apparently so; and two people may grade
/// differently, whose names differ by more than spacing and capitals.
#[test]
fn who_graded_and_under_which_conditions() {
    let keys = format!("{SCALE}\nat_least = \"faint\"");
    hold(
        "
        first     | second    => reservations
        A. Fitter | A. Fitter =>
        A. Fitter | a.  fitter =>
        A. Fitter | B. Turner => graded-by-others
        ",
        |row| {
            let job = SmallJob::new().measure("m", &keys, &read("none"), &read("clear"));
            job.measured_by(row.at("first"), row.at("second"))
        },
    );
    // Counting is not grading.
    hold(
        "
        second => reservations
        B. Turner =>
        ",
        |row| {
            let keys = "kind = \"count\"\nmax_count = 2";
            let job = SmallJob::new().measure("m", keys, &read("3"), &read("0"));
            job.measured_by("A. Fitter", row.at("second"))
        },
    );
    hold(
        "
        ambient => change
        20 => better
        30 => apparently-improved
        ",
        |row| {
            let water = |value: &str| format!("value = {value}, unit = \"°C\"");
            let limits = "unit = \"°C\"\nwindow = 3\nharder = \"lower\"\nrequired = true";
            SmallJob::new()
                .measure("m", &keys, &read("none"), &read("clear"))
                .condition("ambient", limits, &water("20"), &water(row.at("ambient")))
        },
    );
}

fn rows(grades: &str) -> String {
    let row = |(place, grade): (usize, &str)| {
        let grade = match grade {
            "n" => "none",
            "f" => "faint",
            "c" => "clear",
            other => other,
        };
        format!("{{ at = {}, {} }}", place + 1, read(grade))
    };
    let rows: Vec<String> = grades.split(' ').enumerate().map(row).collect();
    format!("rows = [{}]", rows.join(", "))
}

fn at_positions(row: &Row<'_>, keys: &str) -> SmallJob {
    let (before, after) = (row.at("before"), row.at("after"));
    SmallJob::new()
        .cylinders(before.split(' ').count())
        .measure(
            "m",
            &format!("at = \"cylinders\"\n{keys}"),
            &rows(before),
            &rows(after),
        )
}

#[test]
fn grades_at_positions_by_the_sign_test() {
    let keys = format!("{SCALE}\nat_least = \"faint\"\nrequired = true");
    hold(
        "
        before | after => outcome | change | measures.0.paired.gained | measures.0.paired.lost | measures.0.paired.p | measures.0.paired.smallest_p | verdict | reservations
        # All six better: 2/64. Five can never show it: 2/32.
        n n n n n n | c c c c c c => pass | improved        | 6 | 0 | 0.03125 | 0.03125 | verified |
        n n n n n   | c c c c c   => pass | too-few-to-tell | 5 | 0 | 0.0625  | 0.0625  | verified |
        # Those that did not change are left out of the test, not of the smallest p.
        n n n n n n c c | c c c c c c c c => pass | improved             | 6 | 0 | 0.03125   | 0.0078125 | verified |
        n n n n n f f f | f f f f f f f f => pass | no-detectable-change | 5 | 0 | 0.0625    | 0.0078125 | verified |
        # One worse of eight: 2 (1 + 8)/256; it is still acceptable, and told.
        n n n n n n n c | c c c c c c c f => pass | no-detectable-change | 7 | 1 | 0.0703125 | 0.0078125 | verified | worse-at m
        # Nine better, one worse: 2 (1 + 10)/1024.
        n n n n n n n n n c | c c c c c c c c c f => pass | improved     | 9 | 1 | 0.021484  | 0.001953  | verified | worse-at m
        c c c c c c | f f f f f f => pass | worsened        | 0 | 6 | 0.03125 | 0.03125 | verified | worse-within-limit m, fault-not-shown
        # One that fails fails the measure.
        n n n n n n | c c c c c n => fail | no-detectable-change | 5 | 0 | 0.0625 | 0.03125 | not-verified |
        # A position that was not read before has no sign; one not read now leaves it open.
        n n n n n n - | c c c c c c c => pass         | improved | 6 | 0 | 0.03125 | 0.03125 | verified  | not-taken-before m
        n n n n n n n | c c c c c c - => inconclusive | improved | 6 | 0 | 0.03125 | 0.03125 | undecided |
        ",
        |row| at_positions(row, &keys),
    );
}

/// Nothing but `dry` anywhere; at cylinder 2, `weeping` too. Where the measure has no limit
/// and a row has one, only that position has something to meet.
#[test]
fn a_position_with_a_least_grade_of_its_own() {
    let of = |keys: &'static str| {
        move |row: &Row<'_>| {
            let scale = "kind = \"grade\"\ngrades = [\"none\", \"faint\", \"clear\"]";
            at_positions(row, &format!("{scale}\nrequired = true\n{keys}"))
        }
    };
    hold(
        "
        before | after => outcome | measures.0.exact.0.outcome | measures.0.exact.1.outcome | verdict | reasons
        n n n | c f c => pass | pass | pass | verified     | all-required-pass
        n n n | f f c => fail | fail | pass | not-verified | fails m
        n n n | c n c => fail | pass | fail | not-verified | fails m
        n n n | c - c => inconclusive | pass | inconclusive | undecided | not-taken m
        ",
        of("at_least = \"clear\"\nlimit_rows = [ { at = 2, at_least = \"Faint\" } ]"),
    );
    hold(
        "
        before | after => outcome | measures.0.exact.0.outcome | measures.0.exact.1.outcome | verdict | reasons
        n n n | n f n => pass | no-limit | pass | verified | all-required-pass
        # Without a limit a position may stay unread.
        n n n | - f n => pass | no-limit | pass | verified | all-required-pass
        n n n | c n c => fail | no-limit | fail | not-verified | fails m
        ",
        of("limit_rows = [ { at = 2, at_least = \"faint\" } ]"),
    );
}

/// Counts by position: 0 everywhere, up to 2 at cylinder 3. A direction that only rows state
/// holds if all do; inside, each is as far out as its own limits say.
#[test]
fn a_position_with_a_count_of_its_own() {
    let of = |keys: &'static str| {
        move |row: &Row<'_>| {
            at_positions(row, &format!("kind = \"count\"\nrequired = true\n{keys}"))
        }
    };
    hold(
        "
        before | after => outcome | measures.0.exact.2.outcome | measures.0.exact.2.step
        3 3 3 | 0 0 2 => pass | pass | better
        3 3 3 | 0 0 3 => fail | fail | same
        3 3 3 | 0 1 0 => fail | pass | better
        ",
        of("max_count = 0\nlimit_rows = [ { at = 3, max_count = 2 } ]"),
    );
    hold(
        "
        before | after => outcome | measures.0.exact.0.step | measures.0.exact.1.step | measures.0.exact.2.step
        # Both rows have a maximum: less is better, also where there is no limit.
        3 3 3 | 1 4 1 => fail | better | worse | better
        ",
        of("limit_rows = [ { at = 1, max_count = 2 }, { at = 2, max_count = 2 } ]"),
    );
    hold(
        "
        before | after => measures.0.exact.0.step | measures.0.exact.1.step | change
        # One says less, the other more: neither is said.
        3 3 3 | 1 4 1 => - | - | -
        ",
        of("limit_rows = [ { at = 1, max_count = 2 }, { at = 2, min_count = 2 } ]"),
    );
    hold(
        "
        before | after => measures.0.exact.0.step | measures.0.exact.1.step
        # 9 is 4 above 3 to 5 and 1 above 6 to 8; 6 is 1 above the one and inside the other.
        9 9 9 | 6 10 3 => better | worse
        ",
        of(
            "min_count = 3\nmax_count = 5\nlimit_rows = [ { at = 2, min_count = 6, max_count = 8 } ]",
        ),
    );
}

#[test]
fn exact_counts() {
    let of = |keys: &'static str| {
        move |row: &Row<'_>| single(row, &format!("kind = \"count\"\nrequired = true\n{keys}"))
    };
    hold(
        "
        before | after => outcome | change | measures.0.exact.0.retest | verdict
        # None at all.
        3 | 0 => pass | better | 0 | verified
        0 | 0 => pass | same   | 0 | verified
        3 | 1 => fail | better | 1 | not-verified
        ",
        of("max_count = 0"),
    );
    hold(
        "
        before | after => outcome | change | verdict | reservations
        2 | 4 => pass | better | verified     |
        2 | 3 => fail | better | not-verified |
        5 | 4 => pass | worse  | verified     | worse-within-limit m, fault-not-shown
        ",
        of("min_count = 4"),
    );
    hold(
        "
        before | after => outcome | change
        # From 3 to 5: within it all are alike, outside the distance counts.
        1 | 3 => pass | better
        3 | 5 => pass | same
        7 | 6 => fail | better
        4 | 6 => fail | worse
        ",
        of("min_count = 3\nmax_count = 5"),
    );
    hold(
        "
        before | after => outcome | change
        3 3 3 3 3 3 | 0 0 0 0 0 0 => pass | improved
        3 3 3 3 3 3 | 0 0 1 0 0 0 => fail | improved
        ",
        |row| at_positions(row, "kind = \"count\"\nmax_count = 0"),
    );
    // Without a direction, a change is neither.
    hold(
        "
        before | after => outcome | change | measures.0.exact.0.step
        3 | 0 => no-limit | - | -
        ",
        |row| single(row, "kind = \"count\""),
    );
}
