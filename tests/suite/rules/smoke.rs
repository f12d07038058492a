//! Exhaust smoke: opacity N, its coefficient k = −ln(1 − N)/L, the time until it is clear.

use super::small_job::{SmallJob, stated};
use super::table::{Row, hold};

/// Opacities read with a meter of U = 0.6 before and of 0.8 after: U of a change is 1; `/`
/// and the length of the light path, `;` and the time until clear, of which nothing is left to
/// the eye.
fn smoke(row: &Row<'_>, keys: &str) -> SmallJob {
    let reading = |column, instrument| {
        if row.at(column) == "-" {
            return "not_taken = \"Fog\"".to_owned();
        }
        let (look, clear) = row
            .at(column)
            .split_once(';')
            .unwrap_or((row.at(column), ""));
        let (opacity, path) = look.split_once('/').unwrap_or((look, ""));
        let key = |name, value: &str| match value.trim() {
            "" => String::new(),
            value => format!("{name} = {value}\n"),
        };
        format!(
            "{}{}{}words = \"seen\"\ninstrument = \"{instrument}\"\ntimer = \"{instrument}-watch\"",
            key("opacity_percent", opacity),
            key("path_length_mm", path),
            key("clear_seconds", clear)
        )
    };
    let meter = |unit, expanded| format!("unit = \"{unit}\"\n{}", stated(expanded));
    SmallJob::new()
        .instrument("one", &meter("%", "0.6"))
        .instrument("two", &meter("%", "0.8"))
        .instrument("one-watch", &meter("s", "0.6"))
        .instrument("two-watch", &meter("s", "0.8"))
        .measure(
            "m",
            &format!("kind = \"smoke\"\njudged_by_eye_seconds = 0\n{keys}"),
            &reading("before", "one"),
            &reading("after", "two"),
        )
}

#[test]
fn smoke_at_its_limits() {
    hold(
        "
        before | after => outcome | verdict | reasons | reservations
        # At most 20 % and 15 s, U = 0.8 of either after the work.
        40;60  | 19.2;14.2 => pass                  | verified     | all-required-pass  |
        40;60  | 19.3;14.2 => conditional-pass      | verified     | all-required-pass  | conditional-pass m
        40;60  | 19.2;14.3 => conditional-pass      | verified     | all-required-pass  | conditional-pass m
        40;60  | 20.8;14.2 => inconclusive             | undecided    | inconclusive m |
        40;60  | 20.9;14.2 => fail                  | not-verified | fails m            |
        40;60  | 19.2;15.9 => fail                  | not-verified | fails m            |
        # The fault was shown where either was outside, or inconclusive.
        10;10  | 10;10     => pass                  | verified     | all-required-pass  | fault-not-shown
        # How smoke varies is not known: 1.1 ± 1 % are soon undone.
        20.1;10 | 19;10    => pass                  | verified     | all-required-pass  | variation-not-known m
        10;15.1 | 10;14.2  => pass                  | verified     | all-required-pass  |
        ",
        |row| smoke(row, "required = true\nmax_opacity_percent = 20\nmax_clear_seconds = 15"),
    );
    // k of 18 % over 0.43 m is 0.4615 m⁻¹; 40 % 1.188, 14 % 0.3508, 10 % 0.2450.
    hold(
        "
        before  | after  => outcome | #.part | measures.0.values.1.part | measures.0.values.1.retest.value | measures.0.values.1.max | measures.0.values.1.after.zone
        40/430  | 10/430 => pass    | opacity | absorption | 0.2450 | 0.4 | pass
        40/430  | 18/430 => fail    | opacity | absorption | 0.4615 | 0.4 | fail
        ",
        |row| smoke(row, "required = true\nmax_absorption = 0.4"),
    );
}

/// Smoke that was seen after the work only still has its limits to keep; no fault was shown.
#[test]
fn smoke_that_was_not_seen_before() {
    hold(
        "
        before | after => outcome | #.part | #.not_taken | #.retest.value | #.baseline | zone | measures.0.values.1.part | measures.0.values.1.retest.value | measures.0.values.1.after.zone | reservations
        # At most 20 % and 15 s, U = 0.8 of either.
        -      | 19.2;14.2 => pass | opacity | Fog | 19.2 | - | pass | clear | 14.2 | pass | not-taken-before m, fault-not-shown
        -      | 19.2;15.9 => fail | opacity | Fog | 19.2 | - | pass | clear | 15.9 | fail | not-taken-before m, fault-not-shown
        ",
        |row| smoke(row, "required = true\nmax_opacity_percent = 20\nmax_clear_seconds = 15"),
    );
}

/// Two looks at the smoke, opacity and time until clear, share the level: z = 2.241 403 and
/// U 2.241 403/1.959 964 = 1.143 594. Opacity and k are one look.
#[test]
fn a_change_of_smoke() {
    hold(
        "
        before | after   => change               | #.part  | #.change
        40     | 39      => no-detectable-change | opacity | no-detectable-change
        40     | 38.9    => improved             | opacity | improved
        40     | 41.1    => worsened             | opacity | worsened
        ;40    | ;38.9   => improved             | clear   | improved
        ;40    | ;41     => no-detectable-change | clear   | no-detectable-change
        40;40  | 38.9;40 => no-detectable-change | opacity | improved
        40;40  | 38.86;40 => no-detectable-change | opacity | improved
        40;40  | 38.85;40 => improved            | opacity | improved
        40;40  | 40;38.86 => no-detectable-change | opacity | no-detectable-change
        40;40  | 40;38.85 => improved            | opacity | no-detectable-change
        40/430 | 38.9/430 => improved            | opacity | improved
        # One better and one worse is worse.
        40;40  | 30;50   => worsened             | opacity | improved
        40;40  | 50;30   => worsened             | opacity | worsened
        # Seen in one run only: nothing to compare.
        40;40  | ;38.9   => improved             | clear   | improved
        40     | ;38.9   => -                    | -       | -
        ",
        |row| smoke(row, ""),
    );
}

/// The limit holds for 200 mm: N₂ = 1 − (1 − N₁)^(L₂/L₁), U times (L₂/L₁)(1 − N₁)^(L₂/L₁ − 1).
/// 19 % over 100 mm: 1 − 0.81² = 34.39 %, slope 2 × 0.81; 36 % over 400 mm: 1 − 0.64^½ = 20 %,
/// slope ½/0.8.
#[test]
fn an_opacity_over_another_path() {
    hold(
        "
        before | after  => #.baseline.value | #.retest.value | #.retest.expanded | #.as_measured.retest.value | measures.0.values.1.as_measured | zone
        50/200 | 19/100 => 50    | 34.39 | 1.296 | 19 | - | fail
        50/200 | 36/400 => 50    | 20    | 0.5   | 36 | - | pass
        19/100 | 20/200 => 34.39 | 20    | 0.8   | 20 | - | pass
        # Over the path of the limit nothing is converted.
        50/200 | 20/200 => 50    | 20    | 0.8   | -  | - | pass
        ",
        |row| smoke(row, "max_opacity_percent = 25\npath_length_mm = 200"),
    );
    // Without a path for the limit, over one path as read, over two not compared at all.
    hold(
        "
        before | after  => #.part     | #.baseline.value | #.retest.value | measures.0.values.1.part
        50/200 | 20/200 => opacity    | 50     | 20     | absorption
        # k = −ln(0.5)/0.2 and −ln(0.8)/0.1.
        50/200 | 20/100 => absorption | 3.4657 | 2.2314 | -
        50     | 20     => opacity    | 50     | 20     | -
        ",
        |row| smoke(row, ""),
    );
}

/// The slope of k is 1/(L(1 − N)): U of 0.6 % at 50 % over 0.2 m is 0.006/(0.2 × 0.5), of
/// 0.8 % at 20 % it is 0.008/(0.2 × 0.8).
#[test]
fn the_uncertainty_of_the_coefficient() {
    hold(
        "
        before | after  => measures.0.values.1.baseline.expanded | measures.0.values.1.retest.expanded | measures.0.values.1.difference.expanded
        50/200 | 20/200 => 0.0600 | 0.0500 | 0.0781
        ",
        |row| smoke(row, ""),
    );
}

/// One meter whose error is the same in both runs: ±3 % of opacity, u = √3 %. It cancels
/// where both are over one path, in k as far as the slopes 1/(L(1 − N)) are alike: 10 and
/// 6.25 m⁻¹ here, so u = 3.75 × 0.017 321 of k.
#[test]
fn a_common_error_of_smoke() {
    hold(
        "
        errors       | before | after => #.difference.u | measures.0.values.1.difference.u | reservations
        accuracy = 3 | 50     | 20    => 0.000000       | 0.064952 | scatter-not-known m
        # 6 % of 50 and of 20 are 3 and 1.2: 1.8/√3 is left; of k (10 × 0.03 − 6.25 × 0.012)/√3.
        accuracy_percent_of_reading = 6 | 50 | 20 => 1.039230 | 0.129904 | scatter-not-known m
        ",
        |row| {
            let reading = |column| {
                let opacity = row.at(column);
                format!("opacity_percent = {opacity}\npath_length_mm = 200\ninstrument = \"i\"")
            };
            SmallJob::new()
                .instrument("i", &format!("unit = \"%\"
{}
common_error = \"Same meter\"", row.at("errors")))
                .measure(
                    "m",
                    "kind = \"smoke\"",
                    &reading("before"),
                    &reading("after"),
                )
        },
    );
}

/// Without a watch the time is taken by hand, 0.10 s, and as read to the tenth where it is
/// written so, or to the second: 0.1/√12 = 0.028 868 and 1/√12 = 0.288 675; and by eye, 0.5 s
/// unless the plan says another: √(0.25 + 0.01 + 1/12), √(0.25 + 0.01 + 0.01/12), and with
/// 0.2 s √(0.04 + 0.01 + 1/12).
#[test]
fn a_time_until_clear_without_a_watch() {
    hold(
        "
        by eye | before | after => #.baseline.u | #.retest.u | #.retest.components.0.source | #.retest.components.1.source | #.retest.components.2.source
        -      | 41     | 12.5  => 0.585947     | 0.510718   | resolution | hand-timing | by-eye
        -      | 41.5   | 12    => 0.510718     | 0.585947   | resolution | hand-timing | by-eye
        0.2    | 41     | 12.5  => 0.365148     | 0.225462   | resolution | hand-timing | by-eye
        0      | 41     | 12.5  => 0.305505     | 0.104083   | resolution | hand-timing | -
        ",
        |row| {
            let reading = |column| format!("clear_seconds = {}", row.at(column));
            let by_eye = match row.at("by eye") {
                "-" => String::new(),
                seconds => format!("judged_by_eye_seconds = {seconds}"),
            };
            let keys = format!("kind = \"smoke\"\n{by_eye}");
            SmallJob::new().measure("m", &keys, &reading("before"), &reading("after"))
        },
    );
}

/// Three snaps in a row are repeats of one opacity: 23, 24 and 25 % have s = 1, u = 1/√3. Those
/// of both runs are one estimate with 2 + 2 degrees of freedom.
#[test]
fn snaps_are_repeats() {
    hold(
        "
        before | after => #.retest.value | #.retest.u | #.retest.dof_of_scatter
        30.0   | 23.0  => 24 | 0.577350 | 4
        ",
        |row| {
            let reading = |column| {
                let first: f64 = row.at(column).parse().unwrap();
                let snaps = format!("{first:.1}, {:.1}, {:.1}", first + 1.0, first + 2.0);
                format!("snaps_percent = [{snaps}]\ninstrument = \"i\"")
            };
            SmallJob::new()
                .instrument("i", "unit = \"%\"\nresolution = 1e-9")
                .measure(
                    "m",
                    "kind = \"smoke\"",
                    &reading("before"),
                    &reading("after"),
                )
        },
    );
}
