//! A target with its tolerance: the bounds that are made of both, of all and of single
//! positions, and how they are printed.

use super::small_job::{SmallJob, bar, stated};
use super::table::hold;

fn with(keys: &str, after: &str, expanded: &str) -> SmallJob {
    let keys = format!("required = true\n{}", keys.replace(';', "\n"));
    SmallJob::new().value("m", &keys, &bar("40", expanded), &bar(after, expanded))
}

/// 120 within 12, or within 10 %, is 108 to 132; U = 1.
#[test]
fn a_target_is_kept_to_either_side() {
    hold(
        "
        keys                            | after   => zone | #.min | #.max
        target = 120; within = 12       | 109     => pass | 108 | 132
        target = 120; within = 12       | 108.999 => conditional-pass | 108 | 132
        target = 120; within = 12       | 108     => conditional-pass | 108 | 132
        target = 120; within = 12       | 107.999 => conditional-fail | 108 | 132
        target = 120; within = 12       | 131     => pass | 108 | 132
        target = 120; within = 12       | 133     => conditional-fail | 108 | 132
        target = 120; within = 12       | 133.001 => fail | 108 | 132
        target = 120; within_percent = 10 | 109   => pass | 108 | 132
        target = 120; within_percent = 10 | 132   => conditional-pass | 108 | 132
        target = 120; within_percent = 10 | 132.001 => conditional-fail | 108 | 132
        # Of a negative target the share is of its size.
        target = -120; within_percent = 10 | -130 => pass | -132 | -108
        # A share that is no binary number: 3 % of 70 is 2.1, and 72.1 is still inside.
        target = 70; within_percent = 3 | 72.1    => conditional-pass | 67.9 | 72.1
        target = 70; within_percent = 3 | 72.1001 => conditional-fail | 67.9 | 72.1
        ",
        |row| with(row.at("keys"), row.at("after"), "1"),
    );
}

/// Nearer to the band is better, as between two bounds.
#[test]
fn a_target_makes_its_band_the_better_place() {
    hold(
        "
        keys                      | after => change | verdict
        target = 120; within = 12 | 119   => improved | verified
        target = 120; within = 12 | 60    => improved | not-verified
        target = 120; within = 12 | 20    => worsened | not-verified
        ",
        |row| with(row.at("keys"), row.at("after"), "1"),
    );
}

/// Each grille within 10 % of its own design figure: 90 to 110, 180 to 220. U = 1.
#[test]
fn each_position_has_its_own_target() {
    hold(
        "
        rows                                                  | hall | office => outcome | measures.0.values.0.min | measures.0.values.1.max | reasons
        { at = 'hall', target = 100 }, { at = 'office', target = 200 } | 100 | 200 => pass | 90 | 220 | all-required-pass
        { at = 'hall', target = 100 }, { at = 'office', target = 200 } | 100 | 100 => fail | 90 | 220 | fails m
        # A row may have a tolerance of its own, or bounds.
        { at = 'hall', target = 100, within = 2 }, { at = 'office', target = 200 } | 95 | 200 => fail | 98 | 220 | fails m
        { at = 'hall', target = 100 }, { at = 'office', max = 150 }    | 100 | 100 => pass | 90 | 150 | all-required-pass
        ",
        |row| {
            let reading = |hall: &str, office: &str| {
                format!(
                    "rows = [ {{ at = \"hall\", value = {hall} }}, \
                     {{ at = \"office\", value = {office} }} ]\nunit = \"bar\"\n{}",
                    stated("1")
                )
            };
            let keys = format!(
                "kind = \"value\"\nunit = \"bar\"\nat = \"grilles\"\nrequired = true\n\
                 within_percent = 10\nlimit_rows = [ {} ]\n\
                 run_to_run = {{ deviation = 1e-9, source = \"Its log\" }}",
                row.at("rows").replace('\'', "\"")
            );
            SmallJob::new()
                .plan(
                    "[[positions]]\nid = \"grilles\"\none = \"grille\"\nmany = \"grilles\"\n\
                     names = [\"hall\", \"office\"]",
                )
                .measure(
                    "m",
                    &keys,
                    &reading("50", "50"),
                    &reading(row.at("hall"), row.at("office")),
                )
        },
    );
}

/// Where only single positions have limits, all of both ends, nearer to them is better: 50 is 40
/// below the band of the hall, and 95 inside it.
#[test]
fn limits_of_rows_say_which_way_is_better() {
    hold(
        "
        better              | hall | office => #.change | change
                            | 95   | 50     => improved | improved
        better = 'inside'   | 95   | 50     => improved | improved
                            | 20   | 50     => worsened | worsened
                            | 50   | 50     => no-detectable-change | no-detectable-change
        # The office has no limit: nothing is nearer or further there.
        better = 'inside'   | 50   | 95     => no-detectable-change | changed
        ",
        |row| {
            let reading = |hall: &str, office: &str| {
                format!(
                    "rows = [ {{ at = \"hall\", value = {hall} }}, \
                     {{ at = \"office\", value = {office} }} ]\nunit = \"bar\"\n{}",
                    stated("1")
                )
            };
            let keys = format!(
                "kind = \"value\"\nunit = \"bar\"\nat = \"grilles\"\n\
                 limit_rows = [ {{ at = \"hall\", min = 90, max = 110 }} ]\n{}\n\
                 run_to_run = {{ deviation = 1e-9, source = \"Its log\" }}",
                row.at("better").replace('\'', "\"")
            );
            SmallJob::new()
                .plan(
                    "[[positions]]\nid = \"grilles\"\none = \"grille\"\nmany = \"grilles\"\n\
                     names = [\"hall\", \"office\"]",
                )
                .measure(
                    "m",
                    &keys,
                    &reading("50", "50"),
                    &reading(row.at("hall"), row.at("office")),
                )
        },
    );
}

/// The report shows a limit as it was stated, and what the manual prints beside it.
#[test]
fn a_target_is_printed_as_it_was_stated() {
    for (keys, wanted) in [
        (
            "target = 120; within_percent = 10",
            "120 ± 12 bar (within 10 %)",
        ),
        ("target = 2.40; within = 0.05", "2.40 ± 0.05 bar"),
        (
            "max = 5; as_printed = '0.5 MPa cold'",
            "at most 5 bar (as the manual prints it: “0.5 MPa cold”)",
        ),
        (
            "max = 5; should_max = 4",
            "at most 5 bar (advisory: at most 4 bar)",
        ),
    ] {
        let job = with(&keys.replace('\'', "\""), "3", "0.1");
        assert_eq!(job.limit_in_print("en"), wanted);
    }
    let job = with(
        "target = 2.40\nwithin = 0.05\nshould_max = 2.42",
        "2.4",
        "0.01",
    );
    assert_eq!(
        job.limit_in_print("es"),
        "2,40 ± 0,05 bar (recomendado: máximo 2,42 bar)"
    );
}
