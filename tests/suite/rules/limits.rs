//! At a limit: zones (ILAC-G8:09/2019, 4.2.3), what each decision rule makes of them, and
//! what becomes of the verdict. An end of a zone belongs to the better zone.

use super::small_job::{SmallJob, bar};
use super::table::hold;

/// One required measure with a stated U, outside its limit before the work.
fn at_a_limit(rule: &str, limit: &str, before: &str, after: &str, expanded: &str) -> SmallJob {
    SmallJob::new().rule(rule).value(
        "m",
        &format!("required = true\n{}", limit.replace(',', "\n")),
        &bar(before, expanded),
        &bar(after, expanded),
    )
}

#[test]
fn an_upper_limit() {
    hold(
        "
        rule      | after => zone             | outcome               | verdict      | exit | reasons            | reservations
        # The limit is 10 bar, U = 1 bar: the zones end at 9, 10 and 11 bar.
        four-zone | 8.9   => pass             | pass                  | verified     | 0 | all-required-pass  |
        four-zone | 9.0   => pass             | pass                  | verified     | 0 | all-required-pass  |
        four-zone | 9.001 => conditional-pass | conditional-pass      | verified     | 0 | all-required-pass  | conditional-pass m
        four-zone | 9.5   => conditional-pass | conditional-pass      | verified     | 0 | all-required-pass  | conditional-pass m
        four-zone | 10.0  => conditional-pass | conditional-pass      | verified     | 0 | all-required-pass  | conditional-pass m
        four-zone | 10.001=> conditional-fail | inconclusive             | undecided    | 3 | inconclusive m |
        four-zone | 11.0  => conditional-fail | inconclusive             | undecided    | 3 | inconclusive m |
        four-zone | 11.001=> fail             | fail                  | not-verified | 1 | fails m            |
        guarded   | 8.9   => pass             | pass                  | verified     | 0 | all-required-pass  |
        guarded   | 9.0   => pass             | pass                  | verified     | 0 | all-required-pass  |
        guarded   | 9.001 => conditional-pass | inconclusive             | undecided    | 3 | inconclusive m |
        guarded   | 10.0  => conditional-pass | inconclusive             | undecided    | 3 | inconclusive m |
        guarded   | 10.001=> conditional-fail | inconclusive             | undecided    | 3 | inconclusive m |
        guarded   | 11.0  => conditional-fail | inconclusive             | undecided    | 3 | inconclusive m |
        guarded   | 11.001=> fail             | fail                  | not-verified | 1 | fails m            |
        # The simple rule has no guard band, and says so.
        simple    | 9.5   => pass             | pass                  | verified     | 0 | all-required-pass  | uncertainty-not-counted
        simple    | 10.0  => pass             | pass                  | verified     | 0 | all-required-pass  | uncertainty-not-counted
        simple    | 10.001=> fail             | fail                  | not-verified | 1 | fails m            | uncertainty-not-counted
        ",
        |row| at_a_limit(row.at("rule"), "max = 10", "14", row.at("after"), "1"),
    );
}

#[test]
fn a_lower_limit() {
    hold(
        "
        rule      | after => zone             | outcome               | verdict
        # The limit is 9.6 bar, U = 0.1 bar: the zones end at 9.7, 9.6 and 9.5 bar, none
        # of which is a binary number.
        four-zone | 9.71  => pass             | pass                  | verified
        four-zone | 9.7   => pass             | pass                  | verified
        four-zone | 9.699 => conditional-pass | conditional-pass      | verified
        four-zone | 9.6   => conditional-pass | conditional-pass      | verified
        four-zone | 9.599 => conditional-fail | inconclusive             | undecided
        four-zone | 9.5   => conditional-fail | inconclusive             | undecided
        four-zone | 9.499 => fail             | fail                  | not-verified
        guarded   | 9.7   => pass             | pass                  | verified
        guarded   | 9.699 => conditional-pass | inconclusive             | undecided
        guarded   | 9.599 => conditional-fail | inconclusive             | undecided
        guarded   | 9.499 => fail             | fail                  | not-verified
        simple    | 9.6   => pass             | pass                  | verified
        simple    | 9.599 => fail             | fail                  | not-verified
        ",
        |row| at_a_limit(row.at("rule"), "min = 9.6", "8", row.at("after"), "0.1"),
    );
}

#[test]
fn two_limits() {
    hold(
        "
        rule      | U | after  => zone             | outcome
        # From 4 to 10 bar with U = 1 bar: pass from 5 to 9, inside from 4 to 10, and
        # outside by no more than U from 3 to 11.
        four-zone | 1 | 7      => pass             | pass
        four-zone | 1 | 5      => pass             | pass
        four-zone | 1 | 9      => pass             | pass
        four-zone | 1 | 4.999  => conditional-pass | conditional-pass
        four-zone | 1 | 9.001  => conditional-pass | conditional-pass
        four-zone | 1 | 4      => conditional-pass | conditional-pass
        four-zone | 1 | 10     => conditional-pass | conditional-pass
        four-zone | 1 | 3.999  => conditional-fail | inconclusive
        four-zone | 1 | 10.001 => conditional-fail | inconclusive
        four-zone | 1 | 3      => conditional-fail | inconclusive
        four-zone | 1 | 11     => conditional-fail | inconclusive
        four-zone | 1 | 2.999  => fail             | fail
        four-zone | 1 | 11.001 => fail             | fail
        simple    | 1 | 4      => pass             | pass
        simple    | 1 | 10     => pass             | pass
        simple    | 1 | 3.999  => fail             | fail
        simple    | 1 | 10.001 => fail             | fail
        # With U = 3 bar the band of 6 bar is just wide enough: its middle passes.
        four-zone | 3 | 7      => pass             | pass
        four-zone | 3 | 7.001  => conditional-pass | conditional-pass
        # With more it is too narrow for anything to be clearly inside. What is more likely
        # inside than not passes conditionally: 2 Φ(3/u) − 1 is 0.95 here, and one half where
        # 3/u is the quartile 0.674 490, at U = 3 × 1.959 964/0.674 490 = 8.717 54.
        four-zone | 3.001 | 7  => conditional-pass | conditional-pass
        guarded   | 3.001 | 7  => conditional-pass | inconclusive
        four-zone | 8.717 | 7  => conditional-pass | conditional-pass
        four-zone | 8.718 | 7  => conditional-fail | inconclusive
        guarded   | 8.718 | 7  => conditional-fail | inconclusive
        simple    | 8.718 | 7  => pass             | pass
        # Outside by however little, nothing passes.
        four-zone | 3.001 | 10 => conditional-fail | inconclusive
        four-zone | 3.001 | 10.001 => conditional-fail | inconclusive
        simple    | 3.001 | 7  => pass             | pass
        four-zone | 20 | 7     => conditional-fail | inconclusive
        four-zone | 20 | 31    => fail             | fail
        ",
        |row| {
            let limits = "min = 4, max = 10";
            at_a_limit(row.at("rule"), limits, "40", row.at("after"), row.at("U"))
        },
    );
}

/// The probability that the true value is inside, P = Φ((10 − x)/u) with u = U/1.96
/// (JCGM 106:2012, 7.2), computed with Python. Between 4 and 10 bar it is the difference
/// of two such. What was estimated from repeats counts as it is expanded: u is U/1.96.
#[test]
fn the_probability_of_being_inside() {
    hold(
        "
        rule      | limits           | after | U     => conformity
        four-zone | max = 10         | 8.9   | 1     => 0.984457
        four-zone | max = 10         | 10    | 1     => 0.500000
        four-zone | max = 10         | 10.5  | 1     => 0.163548
        guarded   | max = 10         | 10.5  | 1     => 0.163548
        # The rule decides; the probability does not depend on it.
        simple    | max = 10         | 10.5  | 1     => 0.163548
        four-zone | min = 10         | 10.5  | 1     => 0.836452
        four-zone | min = 10         | 9.5   | 1     => 0.163548
        # 3 bar from either limit with u = 6/1.96: 2 Φ(0.98) − 1.
        four-zone | min = 4, max = 10 | 7    | 6     => 0.672905
        # At the upper limit, 6 bar above the lower: Φ(1.96) − ½.
        four-zone | min = 4, max = 10 | 10   | 6     => 0.475000
        ",
        |row| {
            let limits = row.at("limits");
            let before = if limits.starts_with("max") { "14" } else { "1" };
            at_a_limit(row.at("rule"), limits, before, row.at("after"), row.at("U"))
        },
    );
    hold(
        "
        before | values | gauge => conformity | #.retest.u | #.retest.dof_of_scatter
        # 8 and 10 bar: mean 9, s/√2 = 1, t(1) = 12.706 205: Φ(1.959 964/12.706 205).
        14.0   | 8, 10  | resolution = 1e-9 => 0.561295 | 1.000000 | 1
        # Beside two that agree s is √(2/2), over √2, t(2) = 4.302 653: Φ(0.644 197).
        14.0, 14.0 | 8, 10 | resolution = 1e-9 => 0.740280 | 0.707107 | 2
        # 9.5 and 10.5: mean 10 is at the limit.
        14.0   | 9.5, 10.5 | resolution = 1e-9 => 0.500000 | 0.500000 | 1
        # Two readings that agree: the step of 0.6 bar alone, u = 0.6/√12 = 0.173205, so
        # Φ(0.3/0.173205) = Φ(1.732051).
        14.0   | 9.7, 9.7 | resolution = 0.6 => 0.958368 | 0.173205 | -
        ",
        |row| {
            let reading = |values: &str| {
                format!("values = [{values}]\nunit = \"bar\"\ninstrument = \"gauge\"")
            };
            SmallJob::new()
                .instrument("gauge", &format!("unit = \"bar\"\n{}", row.at("gauge")))
                .varying(
                    "m",
                    "required = true\nmax = 10",
                    &reading(row.at("before")),
                    &reading(row.at("values")),
                )
        },
    );
}

/// The fault was shown where a required measure was outside its limit before the work, or
/// inconclusive, or got better.
#[test]
fn a_fault_that_was_not_shown() {
    hold(
        "
        rule      | before | after  => zone before      | change               | reservations
        # Limit 10 bar, U of the change 1.414 bar.
        four-zone | 12     | 5      => fail             | improved             |
        four-zone | 5      | 5      => pass             | no-detectable-change | fault-not-shown
        four-zone | 5      | 4      => pass             | no-detectable-change | fault-not-shown
        # What got better had room to.
        four-zone | 5      | 3      => pass             | improved             |
        # Seemingly inside before: nothing shown. Seemingly outside: it may have been.
        four-zone | 9.5    | 8.9    => conditional-pass | no-detectable-change | fault-not-shown
        four-zone | 10.001 | 8.9    => conditional-fail | no-detectable-change |
        guarded   | 9      | 8.9    => pass             | no-detectable-change | fault-not-shown
        guarded   | 9.001  | 8.9    => conditional-pass | no-detectable-change |
        simple    | 9.5    | 8.9    => pass             | no-detectable-change | uncertainty-not-counted, fault-not-shown
        simple    | 10.001 | 8.9    => fail             | no-detectable-change | uncertainty-not-counted
        # Worse, but inside: that is said, and shows no fault.
        four-zone | 5      | 8      => pass             | worsened             | worse-within-limit m, fault-not-shown
        ",
        |row| at_a_limit(row.at("rule"), "max = 10", row.at("before"), row.at("after"), "1"),
    );
}

/// What is not required has no voice in the verdict, and is said beside it.
#[test]
fn a_limit_that_is_not_required() {
    hold(
        "
        after  => outcome               | verdict  | reasons           | reservations
        8.9    => pass                  | verified | all-required-pass |
        9.5    => conditional-pass      | verified | all-required-pass |
        10.5   => inconclusive             | verified | all-required-pass |
        11.001 => fail                  | verified | all-required-pass | other-outside m
        # From 14 bar to 16: outside, and worse by more than 1.414 bar.
        16     => fail                  | verified | all-required-pass | other-outside m, other-worse m
        ",
        |row| {
            SmallJob::new()
                .value("m", "max = 10", &bar("14", "1"), &bar(row.at("after"), "1"))
                .value("r", "required = true\nmax = 10", &bar("14", "1"), &bar("5", "1"))
        },
    );
    // Worse within the limit is worse all the same.
    let judged = SmallJob::new()
        .value("m", "max = 10", &bar("5", "1"), &bar("7", "1"))
        .value(
            "r",
            "required = true\nmax = 10",
            &bar("14", "1"),
            &bar("5", "1"),
        )
        .judged();
    assert_eq!(judged.cell("outcome"), "pass");
    assert_eq!(judged.cell("reservations"), "other-worse m");
}

/// Values and limits in different units of one dimension: 145 psi are 999.7398 kPa,
/// 145.1 psi 1000.429 kPa (NIST SP 811, B.8: 1 psi = 6.894 757 kPa).
#[test]
fn a_limit_in_another_unit() {
    hold(
        "
        after => zone | #.unit | #.retest.value | #.max
        145   => pass | kPa    | 999.7398       | 1000.0
        145.1 => fail | kPa    | 1000.4292      | 1000.0
        ",
        |row| {
            let reading =
                |value: &str| format!("value = {value}\nunit = \"psi\"\nuncertainty = 0.001");
            let keys = "kind = \"value\"\nunit = \"kPa\"\nrequired = true\nmax = 1000";
            SmallJob::new().measure("m", keys, &reading("200"), &reading(row.at("after")))
        },
    );
}
