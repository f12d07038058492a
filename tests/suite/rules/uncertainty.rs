//! The uncertainty of a reading from what is known of its errors (JCGM 100:2008), and what
//! of it is left in a change.
//!
//! Accuracy ±a gives a/√3, a step d gives d/√12, timing by hand 0.10 s, a stated U with its
//! k gives U/k, n repeats s/√n. What is estimated from repeats is expanded by Student's t,
//! a certificate by its own k, what else is known and normal by 1.959 964, all of it added in
//! quadrature. A bound stays a bound: alone, ±a comes to 0.95 a. What is no sum of squares
//! was computed with SciPy from the formulas of JUDGING.md.

use super::small_job::SmallJob;
use super::table::{Row, hold};

/// One measure in `unit`, read with one instrument in both runs.
fn read_with(row: &Row<'_>, unit: &str, measure: &str) -> SmallJob {
    let keys = row.at("instrument").replace(", ", "\n");
    let reading = |column| {
        let (values, stated) = row
            .at(column)
            .split_once("; ")
            .unwrap_or((row.at(column), ""));
        let values = match values.contains(' ') {
            true => format!("values = [{}]", values.replace(' ', ", ")),
            false => format!("value = {values}"),
        };
        let stated = stated.replace(" k =", "\nk =").replace(" dof =", "\ndof =");
        format!("{values}\nunit = \"{unit}\"\ninstrument = \"i\"\n{stated}")
    };
    SmallJob::new()
        .instrument("i", &keys.replace('\'', "\""))
        .measure(
            "m",
            &format!(
                "kind = \"value\"\nunit = \"{unit}\"\n{}",
                measure.replace(", ", "\n")
            ),
            &reading("before"),
            &reading("after"),
        )
}

#[test]
fn the_errors_of_an_instrument() {
    hold(
        "
        instrument                                     | before | after => #.baseline.u | #.baseline.expanded | #.retest.u | #.difference.u
        # 3/√3; of a bound 95 % lie within 0.95 of it.
        unit = 's', accuracy = 3                       | 20 | 10 => 1.732051 | 2.850000 | 1.732051 | 2.449490
        # 6 % of 20 and of 10 are 1.2 and 0.6; over √3.
        unit = 's', accuracy_percent_of_reading = 6               | 20 | 10 => 0.692820 | 1.140000 | 0.346410 | 0.774597
        # Of what lies below nothing as well.
        unit = 's', accuracy_percent_of_reading = 6               | -20 | -10 => 0.692820 | 1.140000 | 0.346410 | 0.774597
        # Both are added before the root: (3 + 1.2)/√3.
        unit = 's', accuracy = 3, accuracy_percent_of_reading = 6 | 20 | 10 => 2.424871 | 3.990000 | 2.078461 | 3.193744
        # 6/√12.
        unit = 's', resolution = 6                     | 20 | 10 => 1.732051 | 2.850000 | 1.732051 | 2.449490
        unit = 's', hand_timed = true                  | 20 | 10 => 0.100000 | 0.195996 | 0.100000 | 0.141421
        unit = 's', hand_timing_seconds = 0.3          | 20 | 10 => 0.300000 | 0.587989 | 0.300000 | 0.424264
        unit = 's', hand_timed = true, hand_timing_seconds = 0.3 | 20 | 10 => 0.300000 | 0.587989 | 0.300000 | 0.424264
        # On a certificate: k is 2 unless it says another. U stays what it says.
        unit = 's', uncertainty = 3                    | 20 | 10 => 1.500000 | 3.000000 | 1.500000 | 2.121320
        unit = 's', uncertainty = 3, k = 3             | 20 | 10 => 1.000000 | 3.000000 | 1.000000 | 1.414214
        # All of it in quadrature: 1² + 2² + 0.5² + 1² with ±√3, step 2√12, 0.5 s, U 2.
        unit = 's', accuracy = 1.7320508, resolution = 6.9282032, hand_timing_seconds = 0.5, uncertainty = 2 | 20 | 10 => 2.500000 | 4.721533 | 2.500000 | 3.535534
        # The errors may be written in another unit of time.
        unit = 'ms', accuracy = 3000                   | 20 | 10 => 1.732051 | 2.850000 | 1.732051 | 2.449490
        ",
        |row| read_with(row, "s", "better = \"lower\""),
    );
}

/// A certificate is never expanded to less than it says: to max(k, t(ν)) · U/k.
#[test]
fn the_coverage_factor_of_a_certificate() {
    hold(
        "
        instrument | before | after => #.baseline.u | #.baseline.expanded | #.baseline.k | #.difference.expanded
        # k of one degree of freedom: ±10 stays ±10, in the change √2 of it.
        unit = 's', uncertainty = 10, k = 12.71 | 200 | 100 => 0.786782 | 10.000000 | 12.71 | 14.142136
        unit = 's', uncertainty = 10, k = 12.71, dof = 1 | 200 | 100 => 0.786782 | 10.000000 | 12.71 | 14.142136
        # k = 2 of four: t(4) = 2.776 445, times 5; of a hundred t is 1.98, less than k.
        unit = 's', uncertainty = 10, dof = 4   | 200 | 100 => 5.000000 | 13.882226 | 2.776445 | 19.632432
        unit = 's', uncertainty = 10, dof = 100 | 200 | 100 => 5.000000 | 10.000000 | 2.0 | 14.142136
        # k = 1 of one is expanded by z all the same.
        unit = 's', uncertainty = 10, k = 1     | 200 | 100 => 10.000000 | 19.599640 | 1.959964 | 27.718076
        # The same of a reading.
        unit = 's', accuracy = 1 | 200; uncertainty = 10 k = 2 dof = 4 | 100 => 5.000000 | 13.882226 | 2.776445 | 13.928243
        ",
        |row| read_with(row, "s", "better = \"lower\""),
    );
}

/// Each part of an uncertainty says where it comes from.
#[test]
fn the_parts_of_an_uncertainty() {
    hold(
        "
        instrument | before | after => #.baseline.components.0.source | #.baseline.components.1.source | #.baseline.components.2.source | #.baseline.components.3.source | #.baseline.components.4.source
        unit = 's', accuracy = 1, resolution = 1, hand_timed = true, uncertainty = 1 | 20.0 21.0 | 10 => repeatability | accuracy | resolution | hand-timing | stated
        unit = 's', uncertainty = 1 | 20 | 10 => stated | - | - | - | -
        unit = 's', accuracy_percent_of_reading = 1 | 20 | 10 => accuracy | - | - | - | -
        unit = 's', resolution = 1 | 20 | 10 => resolution | - | - | - | -
        ",
        |row| read_with(row, "s", ""),
    );
}

/// What is judged by eye is judged by one observer: repeats make the finger's 0.10 s smaller,
/// √(0.5² + 0.05²) of four, and leave the eye's. An uncertainty of the reading itself leaves it
/// as well: √(0.5² + 1²).
#[test]
fn an_event_that_is_judged_by_eye() {
    hold(
        "
        instrument                    | before          | after => #.baseline.u | #.baseline.expanded | #.retest.u | #.retest.components.1.source | #.difference.u
        unit = 's', hand_timed = true | 9.0             | 5.0 => 0.509902 | 0.999389 | 0.509902 | by-eye | 0.721110
        unit = 's', hand_timed = true | 9.0 9.0 9.0 9.0 | 5.0 => 0.502494 | 0.984870 | 0.509902 | by-eye | 0.715891
        unit = 's', hand_timed = true | 9.0; uncertainty = 2 | 5.0 => 1.118034 | 2.227188 | 0.509902 | by-eye | 1.228821
        ",
        |row| read_with(row, "s", "judged_by_eye_seconds = 0.5"),
    );
}

/// An uncertainty stated for one reading stands in place of all that the instrument says.
#[test]
fn an_uncertainty_stated_for_a_reading() {
    hold(
        "
        instrument                                | before | after => #.baseline.u | #.retest.u | #.baseline.components.0.source | #.retest.components.0.source
        unit = 's', accuracy = 3, resolution = 2  | 20; uncertainty = 5 | 10 => 2.500000 | 1.825742 | stated | accuracy
        unit = 's', accuracy = 3, resolution = 2  | 20 | 10; uncertainty = 5 => 1.825742 | 2.500000 | accuracy | stated
        unit = 's', accuracy = 3, resolution = 2  | 20; uncertainty = 5 k = 5 | 10 => 1.000000 | 1.825742 | stated | accuracy
        ",
        |row| read_with(row, "s", ""),
    );
}

/// Of two readings t(1) = 12.706 205, of three t(2) = 4.302 653, of four t(3) = 3.182 446.
#[test]
fn repeats() {
    hold(
        "
        instrument                        | before      | after => #.baseline.value | #.baseline.u | #.baseline.dof_of_scatter | #.baseline.expanded | #.baseline.components.0.source
        # 9 and 11: s = √2, over √2.
        unit = 's', resolution = 1e-9     | 9.0 11.0    | 5 => 10 | 1.000000 | 1 | 12.706205 | repeatability
        # 9, 10, 11: s = 1, over √3.
        unit = 's', resolution = 1e-9     | 9.0 10.0 11.0 | 5 => 10 | 0.577350 | 2 | 2.484138 | repeatability
        # Four: s = √(6.5/3), over 2.
        unit = 's', resolution = 1e-9     | 9.0 11.0 11.5 8.5 | 5 => 10 | 0.735980 | 3 | 2.342217 | repeatability
        # With accuracy ±√3 besides: a normal error of 12.706 205/1.959 964 and a bound; u = √2,
        # and the scatter keeps the one degree of freedom that it was estimated from.
        unit = 's', accuracy = 1.7320508  | 9.0 11.0    | 5 => 10 | 1.414214 | 1 | 12.856175 | repeatability
        # By hand, each of four has its own 0.10 s: u = 0.05 s, beside the scatter of none.
        unit = 's', hand_timed = true     | 9.0 9.0 9.0 9.0 | 5 => 9 | 0.050000 | - | 0.097998 | hand-timing
        # The step is the same for all: no √n.
        unit = 's', resolution = 6        | 9.0 9.0 9.0 9.0 | 5 => 9 | 1.732051 | - | 2.850000 | resolution
        ",
        |row| read_with(row, "s", ""),
    );
}

/// Percent of a temperature is of its figure on the instrument's scale, not of its kelvins
/// (IEC 60584-2: 0.75 % of 400 °C is 3 °C). 1 % of 122 °F is 1.22 °F.
#[test]
fn percent_of_a_temperature() {
    hold(
        "
        instrument                             | before | after => #.baseline.u | #.retest.u
        unit = 'K', accuracy_percent_of_reading = 0.75    | 400    | 200   => 1.732051 | 0.866025
        # 50 °C are 122 °F: 1.22 F-degrees are 0.677 778 K; 40 °C are 104 °F.
        unit = 'Δ°F', accuracy_percent_of_reading = 1     | 50     | 40    => 0.391315 | 0.333580
        ",
        |row| read_with(row, "°C", ""),
    );
}

/// What is common to both runs leaves the change: the fixed accuracy and the certificate
/// wholly, of the share what belongs to the change. Never the step, the hand, the scatter,
/// nor what was stated for a reading.
#[test]
fn what_is_common_to_both_runs() {
    hold(
        "
        instrument                                          | before | after => #.difference.u | #.common_error.instrument | #.common_error.reason | #.relative.u
        unit = 's', accuracy = 3, common_error = 'Same'     | 20 | 10 => 0.000000 | i | Same | 0.043301
        unit = 's', uncertainty = 3, common_error = 'Same'  | 20 | 10 => 0.000000 | i | Same | 0.037500
        # 6 % of the 10 that it changed by, over √3; nothing of it in the share.
        unit = 's', accuracy_percent_of_reading = 6, common_error = 'Same' | 20 | 10 => 0.346410 | i | Same | 0.000000
        # Step 6: √2 × 6/√12; hand: √2 × 0.1.
        unit = 's', accuracy = 3, resolution = 6, common_error = 'Same' | 20 | 10 => 2.449490 | i | Same | 0.106066
        unit = 's', accuracy = 3, hand_timed = true, common_error = 'Same' | 20 | 10 => 0.141421 | i | Same | 0.043661
        # Stated for one reading: its error is its own.
        unit = 's', accuracy = 3, common_error = 'Same'     | 20; uncertainty = 2 | 10 => 2.000000 | - | - | 0.090139
        unit = 's', accuracy = 3, common_error = 'Same'     | 20 | 10; uncertainty = 2 => 2.000000 | - | - | 0.066144
        unit = 's', accuracy = 3                            | 20 | 10 => 2.449490 | - | - | 0.096825
        ",
        |row| read_with(row, "s", ""),
    );
}

/// Common errors that leave nothing behind, and readings without any scatter.
#[test]
fn a_change_of_which_no_scatter_is_known() {
    hold(
        "
        instrument                                      | before  | after   => reservations
        unit = 's', accuracy = 3, common_error = 'Same' | 20      | 10      => scatter-not-known m
        unit = 's', accuracy = 3, common_error = 'Same' | 5.0 5.0 | 4.0 4.0 => scatter-not-known m
        unit = 's', accuracy = 3, common_error = 'Same' | 5.0 5.1 | 4.0 4.0 =>
        unit = 's', accuracy = 3, hand_timed = true, common_error = 'Same' | 20 | 10 =>
        unit = 's', accuracy = 3                        | 20      | 10      =>
        ",
        |row| read_with(row, "s", ""),
    );
}

/// Repeats in pairs: the scatter is that of the differences. Before 9, 10, 11 and after
/// 4, 5, 6: all differ by 5, and nothing scatters. Before 9, 10, 11 and after 4, 5.5, 5.5:
/// differences −5, −4.5, −5.5, s = 0.5, over √3.
#[test]
fn repeats_in_pairs() {
    hold(
        "
        instrument                    | before        | after         => #.difference.value | #.difference.u | #.difference.dof_of_scatter | #.signed_rank.pairs | #.signed_rank.used | #.signed_rank.rises | #.signed_rank.falls | #.signed_rank.p | #.signed_rank.smallest_p
        unit = 's', resolution = 1e-9 | 9.0 10.0 11.0 | 4.0 5.0 6.0   => -5 | 0.000000 | - | 3 | 3 | 0 | 6 | - | 0.25
        unit = 's', resolution = 1e-9 | 9.0 10.0 11.0 | 4.0 5.5 5.5   => -5 | 0.288675 | 2 | 3 | 3 | 0 | 6 | - | 0.25
        # One pair without a difference is dropped; the two others are alike, ranks 1.5.
        unit = 's', resolution = 1e-9 | 9.0 10.0 11.0 | 9.0 11.0 10.0 => 0  | 0.577350 | 2 | 3 | 2 | 1.5 | 1.5 | - | 0.5
        # Six that all fell: p = 2/2⁶. Five can give 2/2⁵ at best, and so give none.
        unit = 's', resolution = 1e-9 | 9.0 9.0 9.0 9.0 9.0 9.0 | 8.0 7.0 6.0 5.0 4.0 3.0 => -3.5 | 0.763763 | 5 | 6 | 6 | 0 | 21 | 0.03125 | 0.03125
        unit = 's', resolution = 1e-9 | 9.0 9.0 9.0 9.0 9.0 | 8.0 7.0 6.0 5.0 4.0 => -3 | 0.707107 | 4 | 5 | 5 | 0 | 15 | - | 0.0625
        # The smallest of six rose: rank sum 1, of 64 ways 2 give no more; 2 × 2/64.
        unit = 's', resolution = 1e-9 | 9.0 9.0 9.0 9.0 9.0 9.0 | 9.5 8.0 7.0 6.0 5.0 4.0 => -2.416667 | 0.820738 | 5 | 6 | 6 | 1 | 20 | 0.0625 | 0.03125
        ",
        |row| read_with(row, "s", "paired = true"),
    );
}
