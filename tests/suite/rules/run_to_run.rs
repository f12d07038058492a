//! What is stated of how the machine varies from run to run: it counts in every reading and,
//! as one component, in the change, in place of the scatter of repeats.
//!
//! U of the gauge is 0.6 bar before and 0.8 bar after, so 1 bar in the change. Figures by
//! hand: √(0.36 + (z · 0.5)²) and so on; with `runs = 5` t(4) = 2.776 445 in place of z.

use super::small_job::{SmallJob, bar, stated};
use super::table::{Row, hold};

fn read(row: &Row<'_>, more: &str) -> SmallJob {
    let keys = row.at("varies").replace('\'', "\"").replace("; ", "\n");
    let reading = |column, expanded| {
        let values = row.at(column).replace(' ', ", ");
        format!("values = [{values}]\nunit = \"bar\"\n{}", stated(expanded))
    };
    SmallJob::new().varying(
        "m",
        &format!("{keys}\n{more}"),
        &reading("before", "0.6"),
        &reading("after", "0.8"),
    )
}

#[test]
fn it_counts_in_every_reading_and_once_in_the_change() {
    hold(
        "
        varies | before | after => #.baseline.u | #.retest.u | #.difference.u | #.baseline.expanded | #.retest.expanded | #.difference.expanded | #.retest.dof_of_scatter | #.holds_unless
        run_to_run = { deviation = 0.5, source = 'Log' } | 20 | 10 => 0.586272 | 0.645448 | 0.871962 | 1.149071 | 1.265055 | 1.709014 | - | -
        run_to_run = { deviation = 0.5, runs = 5, source = 'Log' } | 20 | 10 => 0.586272 | 0.645448 | 0.871962 | 1.512337 | 1.602237 | 2.203253 | 4 | -
        # p = 5 % of what the machine truly does: 0.05/(1 − z · 0.05) of what was read.
        run_to_run = { percent = 5, source = 'Log' } | 20 | 10 => 1.150134 | 0.688387 | 1.340405 | 2.254222 | 1.349214 | 2.627146 | - | -
        # Repeats that scatter by less are part of it, and reduce nothing.
        run_to_run = { deviation = 0.5, source = 'Log' } | 19.9 20.1 | 9.9 10.1 => 0.586272 | 0.645448 | 0.871962 | 1.149071 | 1.265055 | 1.709014 | - | -
        ",
        |row| read(row, "better = \"lower\"\npressure = \"difference\""),
    );
}

#[test]
fn the_source_of_it_is_the_machine() {
    hold(
        "
        varies | before | after => #.retest.components.0.source | #.retest.components.1.source | #.retest.components.2.source
        run_to_run = { deviation = 0.5, source = 'Log' } | 20 | 10 => run-to-run | stated | -
        run_to_run = { deviation = 0.5, source = 'Log' } | 19.9 20.1 | 10 => run-to-run | stated | -
        separate_runs = true | 19.9 20.1 | 10 => repeatability | stated | -
        ",
        |row| read(row, "better = \"lower\""),
    );
}

/// At a limit of 10 bar U is 1.265 055 bar, and 1.709 014 in the change.
#[test]
fn it_moves_the_zones_and_the_change() {
    hold(
        "
        varies | before | after => zone | outcome | change | reservations
        run_to_run = { deviation = 0.5, source = 'Log' } | 20 | 8.73 => pass | pass | improved |
        run_to_run = { deviation = 0.5, source = 'Log' } | 20 | 8.74 => conditional-pass | conditional-pass | improved | conditional-pass m
        run_to_run = { deviation = 0.5, source = 'Log' } | 20 | 11.26 => conditional-fail | inconclusive | improved |
        run_to_run = { deviation = 0.5, source = 'Log' } | 20 | 11.27 => fail | fail | improved |
        run_to_run = { deviation = 0.5, source = 'Log' } | 20 | 18.3 => fail | fail | no-detectable-change |
        run_to_run = { deviation = 0.5, source = 'Log' } | 20 | 18.29 => fail | fail | improved |
        # Of five runs, 2.203 253 bar.
        run_to_run = { deviation = 0.5, runs = 5, source = 'Log' } | 20 | 17.8 => fail | fail | no-detectable-change |
        run_to_run = { deviation = 0.5, runs = 5, source = 'Log' } | 20 | 17.79 => fail | fail | improved |
        ",
        |row| read(row, "required = true\nmax = 10"),
    );
}

/// Three readings with 2 degrees of freedom contradict r = 0.5 bar from s²/r² =
/// χ²(2; 0.99)/2 = 4.605 17 on, s = 1.072 98 bar; r of five runs from F(2, 4; 0.99) = 18.0 on,
/// s = 2.121 32 bar. Then both count: √(r² + s²/3), and √(r² + s²) of one reading.
#[test]
fn repeats_that_contradict_it() {
    hold(
        "
        varies | before | after => #.baseline.components.1.source | #.baseline.u | #.retest.u | reservations
        run_to_run = { deviation = 0.5, source = 'Log' } | 18.93 20.00 21.07 | 10 => stated        | 0.586272 | 0.645448 |
        # With 0.6/z and 0.8/z of the gauge beside.
        run_to_run = { deviation = 0.5, source = 'Log' } | 18.92 20.00 21.08 | 10 => repeatability | 0.855871 | 1.258175 | scatter-exceeds-stated m
        run_to_run = { deviation = 0.5, runs = 5, source = 'Log' } | 17.88 20.00 22.12 | 10 => stated | 0.586272 | 0.645448 |
        run_to_run = { deviation = 0.5, runs = 5, source = 'Log' } | 17.87 20.00 22.13 | 10 => repeatability | 1.362356 | 2.225647 | scatter-exceeds-stated m
        ",
        |row| read(row, "better = \"lower\""),
    );
}

/// Values that each come from a run of their own show by their scatter how the machine
/// varies; nothing is left that is not known.
#[test]
fn values_from_separate_runs() {
    hold(
        "
        varies               | before    | after   => #.holds_unless | #.baseline.u | #.difference.dof_of_scatter | reservations
        # s² = (0.5 + 0.5)/2, over √2, beside 0.6/z.
        separate_runs = true | 19.5 20.5 | 9.5 10.5 => - | 0.586272 | 2 |
        # With the figure known as well, four runs halve it: √(0.25² + 0.306 128²).
        separate_runs = true; run_to_run = { deviation = 0.5, source = 'Log' } | 19.9 20.0 20.0 20.1 | 10 => - | 0.395240 | - |
        ",
        |row| read(row, "better = \"lower\"\nrequired = true\nimprove_by = 1"),
    );
}

/// One value in each run shows nothing, wherever it was read.
#[test]
fn a_single_value_shows_no_variation() {
    hold(
        "
        varies               | before    | after => #.holds_unless.change | reservations
        # √(2² − 1²) is less than 3.
        separate_runs = true | 20        | 18    => 1.732051 | variation-not-known m
        separate_runs = true | 19.9 20.0 20.1 | 18 => -      |
        separate_runs = true | 20        | 17.9 18.0 18.1 => - |
        ",
        |row| read(row, "required = true\nmax = 30"),
    );
}

/// What is not known is not made up: only where neither key stands is there a figure.
#[test]
fn only_what_is_not_known_has_a_figure() {
    let job = |keys: &str| {
        let keys = format!("better = \"lower\"\n{keys}");
        SmallJob::new()
            .varying("m", &keys, &bar("20", "0.6"), &bar("10", "0.8"))
            .judged()
    };
    // √(10² − 1²).
    let found = job("")
        .cell("#.holds_unless.change")
        .parse::<f64>()
        .unwrap();
    assert!((found - 9.949_874_371).abs() < 1e-9, "{found}");
    let stated = job("run_to_run = { deviation = 0.5, source = \"Log\" }");
    assert_eq!(stated.cell("#.holds_unless"), "-");
}
