//! Limits that are closer together than twice the uncertainty: nothing can be clearly
//! inside, and what is more likely inside than not passes conditionally (JCGM 106:2012, 7.2;
//! ILAC-G8:09/2019, 4.2.3).

use super::small_job::SmallJob;
use super::table::hold;

/// A meter of 2 % of its reading, 14.0 to 14.4 V. U = 0.95 · 2 %, 0.27 V; P = Φ((14.4 − x)/u) −
/// Φ((14.0 − x)/u) with u = 2 % of x/√3.
#[test]
fn a_charging_voltage_by_a_meter_of_two_percent() {
    hold(
        "
        rule      | after | => zone | #.after.too_coarse | conformity | outcome | verdict | reasons | reservations
        # u = 0.163 967 V: 2 Φ(0.2/u) − 1.
        four-zone | 14.20 | => conditional-pass | true | 0.777442 | conditional-pass | verified  | all-required-pass | conditional-pass m
        guarded   | 14.20 | => conditional-pass | true | 0.777442 | inconclusive     | undecided | too-coarse m |
        simple    | 14.20 | => pass | false | 0.777442 | pass | verified | all-required-pass | uncertainty-not-counted
        # As likely inside as not; at the limit itself it is not.
        four-zone | 14.01 | => conditional-pass | true | 0.516686 | conditional-pass | verified  | all-required-pass | conditional-pass m
        four-zone | 14.00 | => conditional-fail | true | 0.493326 | inconclusive     | undecided | too-coarse m |
        # Outside, by no more than U = 0.2641 V, and by more than 0.2603 V.
        four-zone | 13.90 | => conditional-fail | true | 0.265710 | inconclusive     | undecided | too-coarse m |
        four-zone | 13.70 | => fail             | true | 0.028948 | fail             | not-verified | fails m |
        ",
        |row| {
            let volts = |value| format!("value = {value}\nunit = \"V\"\ninstrument = \"meter\"");
            SmallJob::new()
                .rule(row.at("rule"))
                .instrument("meter", "unit = \"V\"\naccuracy_percent_of_reading = 2")
                .measure(
                    "m",
                    "kind = \"value\"\nunit = \"V\"\nmin = 14.0\nmax = 14.4\nrequired = true\n\
                     run_to_run = { deviation = 1e-9, source = \"Log\" }",
                    &volts("12.1"),
                    &volts(row.at("after")),
                )
        },
    );
}

/// Feelers in steps of 0.05 mm, 0.20 to 0.25 mm: U = 0.95 · 0.025 = 0.023 75 mm, so that the
/// middle passes. With 0.06 mm the band is narrower than 2 · 0.0285 mm.
#[test]
fn a_valve_clearance_by_feelers() {
    hold(
        "
        step | after  => zone | #.after.too_coarse | conformity | #.retest.expanded | reservations
        0.05 | 0.225  => pass | false | 0.916735 | 0.02375 |
        0.05 | 0.226  => pass | false | 0.915995 | 0.02375 |
        0.05 | 0.227  => conditional-pass | false | 0.913775 | 0.02375 | conditional-pass m
        0.06 | 0.225  => conditional-pass | true  | 0.851085 | 0.02850 | conditional-pass m
        ",
        |row| {
            let gap = |value| format!("value = {value}\nunit = \"mm\"\ninstrument = \"feelers\"");
            let feelers = format!("unit = \"mm\"\nresolution = {}", row.at("step"));
            SmallJob::new().instrument("feelers", &feelers).measure(
                "m",
                "kind = \"value\"\nunit = \"mm\"\nmin = 0.20\nmax = 0.25\nrequired = true",
                &gap("0.55"),
                &gap(row.at("after")),
            )
        },
    );
}
