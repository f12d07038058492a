//! Counted rates: the exact interval at the limit, the exact test of a change.
//!
//! Intervals after Garwood (1936), 95 %: 12 events 6.201 to 20.962, 3 events 0.619 to 8.767,
//! none 0 to 3.689 (Pearson and Hartley, Biometrika Tables I, table 40; from memory). Tests by
//! hand, the divisions no likelier than the one found, binomial with the share of the second
//! stretch; also with a Python program of its own.

use super::small_job::SmallJob;
use super::table::{Row, hold};

/// `12/10` as keys of a reading: 12 in 10 minutes.
fn counted(text: &str) -> String {
    match text.split_once('/') {
        None => "not_taken = \"It rained\"".to_owned(),
        Some((count, over)) => format!("count = {count}\nover = {over}\nunit = \"min\""),
    }
}

fn rate(row: &Row<'_>, keys: &str) -> SmallJob {
    let of = |column| counted(row.at(column));
    let keys = format!("kind = \"count\"\nper = \"min\"\n{keys}");
    SmallJob::new().measure("m", &keys, &of("before"), &of("after"))
}

#[test]
fn the_interval_at_the_limit() {
    hold(
        "
        before | after => outcome | measures.0.rate.after | measures.0.rate.retest.rate | measures.0.rate.retest.interval.0 | measures.0.rate.retest.interval.1 | verdict | reasons
        # At most 1 per minute. Within 10 min, 3 are 0.0619 to 0.8767: wholly inside.
        40/10 | 3/10  => pass             | pass             | 0.3 | 0.0619 | 0.8767 | verified     | all-required-pass
        # 10 in 10 min lie exactly at the limit; 0.4795 to 1.8390 crosses it.
        40/10 | 10/10 => conditional-pass | conditional-pass | 1.0 | 0.4795 | 1.8390 | verified     | all-required-pass
        40/10 | 12/10 => inconclusive     | conditional-fail | 1.2 | 0.6201 | 2.0962 | undecided    | inconclusive m
        # 40: 28.58 to 54.47.
        40/10 | 40/10 => fail             | fail             | 4.0 | 2.858  | 5.447  | not-verified | fails m
        # Nothing counted in one minute proves little, in ten enough.
        40/10 | 0/1   => conditional-pass | conditional-pass | 0.0 | 0.0    | 3.689  | verified     | all-required-pass
        40/10 | 0/10  => pass             | pass             | 0.0 | 0.0    | 0.3689 | verified     | all-required-pass
        -     | 3/10  => pass             | pass             | 0.3 | 0.0619 | 0.8767 | verified     | all-required-pass
        ",
        |row| rate(row, "max_rate = 1\nrequired = true"),
    );
    let rule = |rule: &'static str| move |row: &Row<'_>| rate(row, "max_rate = 1").rule(rule);
    hold(
        "
        before | after => outcome
        40/10 | 10/10 => inconclusive
        40/10 | 12/10 => inconclusive
        40/10 | 3/10  => pass
        ",
        rule("guarded"),
    );
    hold(
        "
        before | after => outcome
        40/10 | 10/10 => pass
        40/10 | 12/10 => fail
        ",
        rule("simple"),
    );
    hold(
        "
        before | after => outcome | change
        # At least 2 per minute: 40 are 2.858 to 5.447, 12 up to 2.096, 3 up to 0.877.
        3/10 | 40/10 => pass         | improved
        3/10 | 12/10 => inconclusive | improved
        40/10 | 3/10 => fail         | worsened
        ",
        |row| rate(row, "min_rate = 2"),
    );
}

#[test]
fn the_change_of_a_rate() {
    hold(
        "
        before | after => change | measures.0.rate.p | measures.0.rate.smallest_p
        # Equal stretches: 2/2⁶ and 2 · 7/2⁶; five events can never show it, 2/2⁵.
        6/10 | 0/10 => improved             | 0.03125 | 0.03125
        0/10 | 6/10 => worsened             | 0.03125 | 0.03125
        5/10 | 1/10 => no-detectable-change | 0.21875 | 0.03125
        5/10 | 0/10 => too-few-to-tell      | 0.06250 | 0.06250
        0/10 | 0/10 => too-few-to-tell      | 1.00000 | 1.00000
        # Over twice as long: 3 before and none after is (1/3)³ = 1/27.
        3/10 | 0/20 => improved             | 0.037037 | 0.037037
        # 4 in the shorter and none in the longer: 1/81; the other way round (2/3)⁴ + 1/81.
        4/10 | 0/20 => improved             | 0.012346 | 0.012346
        0/10 | 4/20 => no-detectable-change | 0.308642 | 0.012346
        ",
        |row| rate(row, "better = \"lower\""),
    );
    hold(
        "
        before | after => change | outcome
        # No direction: neither better nor worse.
        9/10 | 0/10 => - | no-limit
        ",
        |row| rate(row, ""),
    );
}

/// The unit of `over` may be another than that of the rate: 120 s are 2 min.
#[test]
fn the_stretch_in_another_unit() {
    hold(
        "
        over => measures.0.rate.retest.rate | measures.0.rate.retest.over | measures.0.rate.per
        120 => 3 | 2 | min
        ",
        |row| {
            let reading = format!("count = 6\nover = {}\nunit = \"s\"", row.at("over"));
            let keys = "kind = \"count\"\nper = \"min\"\nmax_rate = 9";
            SmallJob::new().measure("m", keys, &reading, &reading)
        },
    );
}
