//! How readings scatter: one estimate from the repeats of both runs and of all cylinders
//! (JCGM 100:2008, 4.2.4), unless the runs differ by more than chance.
//!
//! Expected values: sums of squares by hand, t and F from SciPy. t(1) = 12.706 205,
//! t(2) = 4.302 653, t(4) = 2.776 445.

use super::page::plain;
use super::small_job::SmallJob;
use super::table::{Row, answers, hold};

/// Readings of an instrument in seconds with this step and no other error.
fn read(row: &Row<'_>, step: &str, keys: &str) -> SmallJob {
    let reading = |column| {
        let values = row.at(column).replace(' ', ", ");
        format!("values = [{values}]\nunit = \"s\"\ninstrument = \"i\"")
    };
    let keys = format!("kind = \"value\"\nunit = \"s\"\n{keys}");
    SmallJob::new()
        .instrument("i", &format!("unit = \"s\"\nresolution = {step}"))
        .measure("m", &keys, &reading("before"), &reading("after"))
}

#[test]
fn both_runs_are_one_estimate() {
    hold(
        "
        before         | after    => #.scatter.baseline.s | #.scatter.baseline.dof | #.scatter.retest.s | #.scatter.retest.dof | #.baseline.u | #.retest.u | #.difference.u | #.difference.dof_of_scatter | #.difference.expanded
        # 9 and 11: s = √2. What was read once scatters as much: √(2/2 + 2), t(1).
        9.0 11.0       | 5.0      => 1.414214 | 1 | 1.414214 | 1 | 1.000000 | 1.414214 | 1.732051 | 1 | 22.007792
        5.0            | 9.0 11.0 => 1.414214 | 1 | 1.414214 | 1 | 1.414214 | 1.000000 | 1.732051 | 1 | 22.007792
        # √((2 + 0.5)/2), over √2 in each run: t(2) · √1.25.
        9.0 11.0       | 5.0 6.0  => 1.118034 | 2 | 1.118034 | 2 | 0.790569 | 0.790569 | 1.118034 | 2 | 4.810512
        9.0 10.0 11.0  | 5.0      => 1.000000 | 2 | 1.000000 | 2 | 0.577350 | 1.000000 | 1.154701 | 2 | 4.968275
        # Nothing repeated, nothing known; and no scatter where all agree.
        9.0            | 5.0      => - | - | - | - | 0.000000 | 0.000000 | 0.000000 | - | 0.000000
        9.0 9.0        | 5.0 5.0  => 0.0 | 2 | 0.0 | 2 | 0.000000 | 0.000000 | 0.000000 | - | 0.000000
        ",
        |row| read(row, "1e-9", ""),
    );
}

/// Of three and three, with 2 and 2 degrees of freedom, a ratio R of the variances has the
/// two-sided probability 2/(1 + R): 1 % at R = 199. To both is added step²/12.
#[test]
fn runs_that_scatter_differently_are_kept_apart() {
    hold(
        "
        step | keys | before          | after          => #.scatter.kept_apart | #.scatter.baseline.dof | #.baseline.u | #.retest.u | #.difference.expanded | reservations
        # 1.41²/0.1², with 0.01²/12 in both: R = 198.65. Pooled s² = (1.9881 + 0.01)/2.
        1e-9 | -    | 8.59 10.00 11.41 | 5.00 5.10 5.20 => false | 4 | 0.577076 | 0.577076 | 2.265881 |
        # 1.42²: R = 201.48. Each its own, and ν_e = 2.02 → 2 in the change.
        1e-9 | -    | 8.58 10.00 11.42 | 5.00 5.10 5.20 => true  | 2 | 0.819837 | 0.057735 | 3.536212 | scatters-differ m
        1e-9 | -    | 5.00 5.10 5.20 | 8.58 10.00 11.42 => true  | 2 | 0.057735 | 0.819837 | 3.536212 | scatters-differ m
        # The same, with a last digit of 0.1 in one of them: R = 186.
        1e-9 | -    | 8.58 10.00 11.42 | 5.1 5.2 5.3    => false | 4 | 0.581148 | 0.581148 | 2.281871 |
        # Equal to the last digit is not without scatter: 0.5² against 0.1²/12 is R = 301,
        # 0.4² is 193.
        1e-9 | -    | 5.0 5.0 5.0      | 9.5 10.0 10.5  => true  | 2 | 0.000000 | 0.288675 | 1.242069 | scatters-differ m
        1e-9 | -    | 5.0 5.0 5.0      | 9.6 10.0 10.4  => false | 4 | 0.163299 | 0.163299 | 0.641193 |
        1e-9 | -    | 9.5 10.0 10.5    | 5.0 5.0 5.0    => true  | 2 | 0.288675 | 0.000000 | 1.242069 | scatters-differ m
        # Pairs scatter alike: each run its own, and none is called apart. All differ by 5.
        1e-9 | paired = true | 9.0 10.0 11.0 | 4.0 5.0 6.0 => false | 2 | 0.577350 | 0.577350 | 0.000000 |
        # Two and two with 1 and 1 degrees of freedom: P = 4/π · arctan(1/√R), 1 % at R = 16 211.
        1e-9 | -    | 8.71 11.29 | 5.01 5.03 => false | 2 | 0.912195 | 0.912195 | 5.550589 |
        # Kept apart, they are two components: ν_e = 2 of 1 and 2, t(2) · 1.154 711.
        1e-9 | -    | 5.00 5.01 | 8.00 10.00 12.00 => true  | 1 | 0.005000 | 1.154701 | 4.968322 | scatters-differ m
        1e-9 | -    | 8.70 11.30 | 5.01 5.03 => true  | 1 | 1.300000 | 0.010000 | 16.518555 | scatters-differ m
        ",
        |row| {
            let keys = match row.at("keys") {
                "-" => "",
                keys => keys,
            };
            read(row, row.at("step"), keys)
        },
    );
    // The step of the instrument hides as much as a last digit: 0.1 s makes R = 186.
    hold(
        "
        step | before           | after          => #.scatter.kept_apart | reservations
        0.01 | 8.58 10.00 11.42 | 5.00 5.10 5.20 => true  | scatters-differ m
        0.1  | 8.58 10.00 11.42 | 5.00 5.10 5.20 => false |
        ",
        |row| read(row, row.at("step"), ""),
    );
}

/// The cylinders of both runs are groups of one estimate: 5.0 and 5.2 leave 0.02, 7.0 and
/// 7.4 leave 0.08, 4.0 and 4.2 leave 0.02; s² = 0.12/3, u = 0.2 of one reading, √0.02 of two.
#[test]
fn cylinders_are_one_estimate() {
    hold(
        "
        before            | after           => #.scatter.baseline.s | #.scatter.retest.dof | #.baseline.u | #.retest.u | measures.0.values.1.baseline.u | measures.0.values.1.retest.u | measures.0.values.1.scatter.baseline.dof
        5.0 5.2, 7.0 7.4  | 4.0 4.2, 6.0    => 0.2 | 3 | 0.141421 | 0.141421 | 0.141421 | 0.200000 | 3
        5.0, 7.0          | 4.0, 6.0        => -   | - | 0.000000 | 0.000000 | 0.000000 | 0.000000 | -
        ",
        |row| {
            let reading = |column| {
                let rows = row.at(column).split(", ").enumerate();
                let rows: Vec<String> = rows
                    .map(|(index, values)| {
                        let values = values.replace(' ', ", ");
                        format!("{{ at = {}, values = [{values}] }}", index + 1)
                    })
                    .collect();
                let rows = rows.join(", ");
                format!("rows = [{rows}]\nunit = \"s\"\ninstrument = \"i\"")
            };
            SmallJob::new()
                .cylinders(2)
                .instrument("i", "unit = \"s\"\nresolution = 1e-9")
                .measure(
                    "m",
                    "kind = \"value\"\nat = \"cylinders\"\nunit = \"s\"",
                    &reading("before"),
                    &reading("after"),
                )
        },
    );
}

/// A display of 0.4 s: u = 0.4/√12 in each reading, a triangle on ±0.4 s in the change, of
/// which 95 % lie within 0.4(1 − √0.05) = 0.310 557, and half a step more: 0.510 557. By the
/// share of 10 s the weights are 0.09 and 0.1: the bounds 0.018 and 0.02, on which U is
/// 0.038 − √(0.2 · 0.018 · 0.02) = 0.029 515, and half a step of 0.02.
#[test]
fn half_a_step_more_in_a_change() {
    hold(
        "
        before | after => #.retest.expanded | #.difference.expanded | #.relative.expanded | change
        10.0   | 9.0   => 0.190000 | 0.510557 | 0.049515 | improved
        10.00  | 9.49  => 0.190000 | 0.510557 | 0.050267 | no-detectable-change
        10.00  | 9.48  => 0.190000 | 0.510557 | 0.050251 | improved
        10.00  | 10.51 => 0.190000 | 0.510557 | 0.052870 | no-detectable-change
        10.00  | 10.52 => 0.190000 | 0.510557 | 0.052906 | worsened
        ",
        |row| read(row, "0.4", "better = \"lower\""),
    );
}

/// Each reading is printed of a run that has several, whether the other has or not.
#[test]
fn every_repeat_stands_in_the_report() {
    answers(
        "
        before   | after    => printed
        9.0 11.0 | 5.0 6.0  => repeats: 5.0 s; 6.0 s; 9.0 s; 11.0 s
        9.0 11.0 | 5.0      => repeats-before: 9.0 s; 11.0 s
        9.0      | 5.0 6.0  => repeats-after: 5.0 s; 6.0 s
        9.0      | 5.0      =>
        ",
        |row| {
            let printed =
                plain(&read(row, "0.1", "").pages().measures[0].repeats).replace('\u{a0}', " ");
            move |_: &str| printed.clone()
        },
    );
}
