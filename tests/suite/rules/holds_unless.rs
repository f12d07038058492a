//! Where it is not known how the machine varies from run to run: how much two runs would
//! have to differ, by themselves, for each conclusion to fall, and what follows from that.
//!
//! U of the readings is 0.6 bar and 0.8 bar, of the change 1 bar. All figures by hand.

use super::page::first_page;
use super::small_job::{SmallJob, bar};
use super::table::{Row, answers, hold};

fn job(row: &Row<'_>, more: &str) -> SmallJob {
    let keys = row.at("keys").replace(", ", "\n").replace('\'', "\"");
    SmallJob::new().rule(row.at("rule")).varying(
        "m",
        &format!("{more}\n{keys}"),
        &bar(row.at("before"), "0.6"),
        &bar(row.at("after"), "0.8"),
    )
}

#[test]
fn how_large_it_would_have_to_be() {
    hold(
        "
        rule      | keys     | before | after => #.holds_unless.change | #.holds_unless.limit | #.holds_unless.improvement
        # √(9² − 1); √2 · √(5² − 0.8²), and √2 · 5 where the guard band does not count.
        four-zone | max = 10 | 14 | 5   => 8.944272 | 6.979971 | -
        guarded   | max = 10 | 14 | 5   => 8.944272 | 6.979971 | -
        simple    | max = 10 | 14 | 5   => 8.944272 | 7.071068 | -
        # Neither improved nor worsened by more than U, and near the limit: nothing to fall.
        four-zone | max = 10 | 10 | 9.5 => - | - | -
        # Worse by 2, and 3 outside: √3, √2 · √(9 − 0.64).
        four-zone | max = 10 | 11 | 13  => 1.732051 | 4.089010 | -
        # From a value inside the nearest of both bounds, 3 away; from outside the one it
        # would have to cross, 2 away. Inside, no place is better: no change.
        four-zone | min = 2, max = 10 | 6 | 7  => - | 4.089010 | -
        four-zone | min = 2, max = 10 | 6 | 12 => 1.732051 | 2.592296 | -
        four-zone | min = 2, max = 10 | 6 | 0  => 1.732051 | 2.592296 | -
        # Better by 9 where 5 are asked: √(4² − 1); by 3: √(2² − 1); 4 without a guard band.
        four-zone | better = 'lower', improve_by = 5 | 14 | 5  => 8.944272 | - | 3.872983
        four-zone | better = 'lower', improve_by = 5 | 14 | 11 => 2.828427 | - | 1.732051
        simple    | better = 'lower', improve_by = 5 | 14 | 5  => 8.944272 | - | 4.000000
        four-zone | better = 'lower', improve_by = 5 | 14 | 9.5 => 4.387482 | - | -
        # Less by 60 % where 50 % are asked of 20 bar: U = √((0.8/20)² + (8 · 0.6/20²)²) =
        # 0.041 761, and √2 · 20 · √(0.1² − U²)/√(1 + 0.4²).
        four-zone | better = 'lower', improve_percent = 50, pressure = 'absolute' | 20 | 8 => 11.958261 | - | 2.386167
        simple    | better = 'lower', improve_percent = 50, pressure = 'absolute' | 20 | 8 => 11.958261 | - | 2.626129
        # The same below zero: what counts is the size of the baseline.
        four-zone | better = 'higher', improve_percent = 50, pressure = 'difference' | -20 | -8 => 11.958261 | - | 2.386167
        # With no better direction there is no such change.
        four-zone | method = 'so' | 14 | 5 => - | - | -
        ",
        |row| job(row, ""),
    );
}

/// A reservation where X is less than 3 U, so a gain of less than √10 U; where a percentage
/// has a meaning, also where it is less than a fifth of the baseline, here 4 bar: a gain of
/// less than √17 bar.
#[test]
fn a_result_that_a_small_variation_would_undo_is_told() {
    hold(
        "
        rule      | keys       | before | after => change | reservations
        four-zone | min = 0    | 16.84  | 20    => improved | variation-not-known m
        ",
        |row| job(row, "required = true\nbetter = \"higher\""),
    );
    hold(
        "
        rule      | keys     | before | after => change | reservations
        # √10 = 3.162 278.
        four-zone | max = 30 | 20     | 16.84 => improved | variation-not-known m
        four-zone | max = 30 | 20     | 16.83 => improved |
        # Of a gauge pressure a fifth is nothing in particular.
        four-zone | max = 30, pressure = 'gauge' | 20 | 16.83 => improved |
        # √17 = 4.123 106.
        four-zone | max = 30, pressure = 'difference' | 20 | 15.88 => improved | variation-not-known m
        four-zone | max = 30, pressure = 'difference' | 20 | 15.87 => improved |
        # What did not improve is not undone.
        four-zone | max = 30 | 20     | 19    => no-detectable-change | fault-not-shown
        four-zone | max = 30 | 20     | 22    => worsened | worse-within-limit m, fault-not-shown
        ",
        |row| job(row, "required = true"),
    );
    hold(
        "
        rule      | keys     | before | after => change | reservations
        four-zone | max = 30 | 20     | 17    => improved |
        ",
        |row| {
            job(row, "").value(
                "r",
                "required = true\nmax = 10",
                &bar("14", "1"),
                &bar("5", "1"),
            )
        },
    );
}

/// Of several cylinders one that improved by enough is enough.
#[test]
fn one_cylinder_that_improved_plainly() {
    hold(
        "
        before | after => reservations
        20 20  | 17 20 => variation-not-known m
        20 20  | 17 17 => variation-not-known m
        20 20  | 17 10 =>
        ",
        |row| {
            let reading = |column| {
                let rows = row.at(column).split(' ').enumerate();
                let rows: Vec<String> = rows
                    .map(|(index, value)| format!("{{ at = {}, value = {value} }}", index + 1))
                    .collect();
                // U = 1.2/√2 in each reading, 1.2 in the change: 3 is less than √10 · 1.2.
                let rows = rows.join(", ");
                format!("rows = [{rows}]\nunit = \"bar\"\nuncertainty = 0.8485281\nk = 1.96")
            };
            SmallJob::new().cylinders(2).measure(
                "m",
                "kind = \"value\"\nat = \"cylinders\"\nunit = \"bar\"\nmax = 30\nrequired = true",
                &reading("before"),
                &reading("after"),
            )
        },
    );
}

/// Undecided where X is less than U: a gain of less than √2 U = 1.414 214, and 0.5 asked.
#[test]
fn an_improvement_that_the_instrument_s_own_error_would_undo() {
    hold(
        "
        rule      | keys             | before | after => gain | outcome | verdict | reasons | reservations
        four-zone | improve_by = 0.5 | 20 | 18.59 => conditional-pass | inconclusive     | undecided | variation-not-known m | variation-not-known m
        four-zone | improve_by = 0.5 | 20 | 18.58 => conditional-pass | conditional-pass | verified  | all-required-pass     | conditional-pass m, variation-not-known m
        simple    | improve_by = 0.5 | 20 | 18.59 => pass | inconclusive | undecided | variation-not-known m | uncertainty-not-counted, variation-not-known m
        simple    | improve_by = 0.5 | 20 | 18.58 => pass | pass         | verified  | all-required-pass     | uncertainty-not-counted, variation-not-known m
        four-zone | improve_by = 0.2 | 20 | 18.7  => pass | inconclusive | undecided | variation-not-known m | variation-not-known m
        # What would not pass anyhow has its own reason.
        guarded   | improve_by = 0.5 | 20 | 18.59 => conditional-pass | inconclusive | undecided | no-improvement-shown m | variation-not-known m
        four-zone | improve_by = 0.5 | 20 | 19    => conditional-pass | inconclusive | undecided | no-improvement-shown m | fault-not-shown
        four-zone | improve_by = 3   | 20 | 18.59 => fail | fail | not-verified | improvement-absent m | variation-not-known m
        # At its limit the figure itself is judged; what got better is told.
        four-zone | max = 19.9       | 20 | 18.59 => - | pass | verified | all-required-pass | variation-not-known m
        ",
        |row| job(row, "required = true\nbetter = \"lower\""),
    );
    // Where it is known, the same 18.59 bar pass.
    let known = SmallJob::new()
        .value(
            "m",
            "required = true\nbetter = \"lower\"\nimprove_by = 0.5",
            &bar("20", "0.6"),
            &bar("18.59", "0.8"),
        )
        .judged();
    assert_eq!(known.cell("reasons"), "all-required-pass");
}

/// Page 1 says it of the measure that carries the verdict: the conclusion that falls first,
/// and its share of the baseline where that has a meaning.
#[test]
fn page_1_says_how_far_the_result_holds() {
    answers(
        "
        rule      | keys     | before | after => reservations
        # √2 · √(25 − 0.64) = 6.98 bar to the limit, √(81 − 1) = 8.94 of the change; half of 14.
        four-zone | max = 10 | 14 | 5 => holds-unless: 7.0 bar; Measure m
        four-zone | max = 10, pressure = 'difference' | 14 | 5 => holds-unless-share: 7.0 bar; Measure m; 50 %
        # √3 of the change before √2 · √(4 − 0.64) of the limit; it fails and improved little.
        four-zone | max = 10 | 14 | 12 => reservation-variation-not-known: Measure m / holds-unless: 1.7 bar; Measure m
        # Nothing is claimed that it could undo.
        four-zone | max = 10 | 10.2 | 10.1 => holds-not-counted: Measure m
        # Known, and counted.
        four-zone | max = 10, run_to_run.deviation = 0.5, run_to_run.source = 'Log' | 14 | 5 =>
        ",
        |row| {
            let report = job(row, "required = true").pages();
            move |name: &str| first_page(&report, name).replace('\u{a0}', " ")
        },
    );
}
