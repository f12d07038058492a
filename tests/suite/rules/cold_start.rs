//! A start that was not cold, a short soak, a battery nobody recorded: what the ids
//! `ambient`, `coolant`, `oil` and `soak`, and the tests of cranking, are checked for.

use super::small_job::{SmallJob, bar, stated};
use super::table::{Row, hold};

/// A job that passes.
fn passing() -> SmallJob {
    SmallJob::new().value(
        "m",
        "required = true\nmax = 10",
        &bar("14", "1"),
        &bar("5", "1"),
    )
}

/// A soak of twelve hours in both runs, and temperatures with windows so wide that they are
/// alike, and with no harder side, so that nothing helps.
fn soaked(row: &Row<'_>) -> SmallJob {
    let celsius = |value: &str| match value {
        "-" => String::new(),
        value => format!("value = {value}, unit = \"°C\""),
    };
    let keys = format!(
        "required = {}\nunit = \"°C\"\nwindow = 90",
        row.at("required")
    );
    let soak = "value = 12, unit = \"h\"";
    let ambient = celsius(row.at("ambient"));
    let (before, after) = (celsius(row.at("before")), celsius(row.at("after")));
    passing()
        .condition(row.at("soak"), "unit = \"h\"\nwindow = 3", soak, soak)
        .condition("ambient", "unit = \"°C\"\nwindow = 3", &ambient, &ambient)
        .condition(row.at("part"), &keys, &before, &after)
}

#[test]
fn a_machine_that_was_still_warm() {
    hold(
        "
        soak  | ambient | part    | required | before | after => verdict   | reasons            | reservations
        # Cold while no more than 7 K above ambient, which is 10 °C here.
        soak  | 10      | coolant | true     | 17     | 17    => verified  | all-required-pass  |
        soak  | 10      | coolant | true     | 17     | 17.01 => undecided | not-cold coolant   |
        soak  | 10      | coolant | true     | 17.01  | 17    => verified  | all-required-pass  | baseline-not-cold coolant
        soak  | 10      | coolant | true     | 40     | 40    => undecided | not-cold coolant   | baseline-not-cold coolant
        soak  | 10      | coolant | false    | 17     | 17.01 => verified  | all-required-pass  | retest-not-cold coolant
        soak  | 10      | coolant | false    | 17.01  | 17.01 => verified  | all-required-pass  | baseline-not-cold coolant, retest-not-cold coolant
        # Colder than ambient is cold.
        soak  | 10      | coolant | true     | -40    | -40   => verified  | all-required-pass  |
        soak  | 10      | oil     | true     | 17     | 17.01 => undecided | not-cold oil       |
        soak  | 10      | oil     | true     | 17.01  | 17    => verified  | all-required-pass  | baseline-not-cold oil
        # Another part of the machine may well be warm.
        soak  | 10      | exhaust | true     | 60     | 60    => verified  | all-required-pass  |
        # Without a soak no cold machine was asked for.
        break | 10      | coolant | true     | 60     | 60    => verified  | all-required-pass  |
        ",
        soaked,
    );
    hold(
        "
        soak | ambient | part    | required | before | after => verdict  | reservations
        # Nothing to hold it against, in both runs or in one.
        soak | -       | coolant | false    | 60     | 60    => verified | other-condition ambient
        soak | 10      | coolant | false    | 60     | -     => verified | other-condition coolant, baseline-not-cold coolant
        soak | 10      | coolant | false    | -      | 60    => verified | other-condition coolant, retest-not-cold coolant
        ",
        soaked,
    );
}

/// A temperature in words is none that could be held against the air.
#[test]
fn a_machine_that_was_cold_in_words() {
    let soak = "value = 12, unit = \"h\"";
    let air = "value = 10, unit = \"°C\"";
    let judged = passing()
        .condition("soak", "unit = \"h\"\nwindow = 3", soak, soak)
        .condition("ambient", "unit = \"°C\"\nwindow = 3", air, air)
        .condition("coolant", "", "text = \"cold\"", "text = \"cold\"")
        .judged();
    assert_eq!(judged.cell("reservations"), "");
}

/// A condition called `oil` may be a pressure, and one called `ambient` anything: only
/// temperatures are held against each other.
#[test]
fn what_is_no_temperature_is_neither_warm_nor_cold() {
    hold(
        "
        ambient | air | part    | body | before | after => verdict   | reasons           | reservations
        10      | °C  | oil     | bar  | 40     | 40    => verified  | all-required-pass |
        10      | V   | coolant | °C   | 40     | 40    => verified  | all-required-pass |
        10      | °C  | coolant | °F   | 104    | 104   => undecided | not-cold coolant  | baseline-not-cold coolant
        ",
        |row| {
            let found = |value, unit| {
                format!("value = {}, unit = \"{}\"", row.at(value), row.at(unit))
            };
            let keys = |unit, required| {
                let unit = row.at(unit);
                format!("required = {required}\nunit = \"{unit}\"\nwindow = 90")
            };
            let (soak, air) = ("value = 12, unit = \"h\"", found("ambient", "air"));
            let (before, after) = (found("before", "body"), found("after", "body"));
            passing()
                .condition("soak", "unit = \"h\"\nwindow = 3", soak, soak)
                .condition("ambient", &keys("air", false), &air, &air)
                .condition(row.at("part"), &keys("body", true), &before, &after)
        },
    );
}

/// Thermometers of U = 0.6 K at the machine and 0.8 K in the air: U of what the one is above
/// the other is 1 K, so 8 K above ambient may be 7.
#[test]
fn warm_by_more_than_the_thermometers_err() {
    hold(
        "
        after => reasons
        18    => all-required-pass
        18.01 => not-cold coolant
        ",
        |row| {
            let celsius = |value: &str, id: &str| {
                format!("value = {value}, unit = \"°C\", instrument = \"{id}\"")
            };
            let wide = "unit = \"°C\"\nwindow = 90\nrequired = true";
            let soak = "value = 12, unit = \"h\"";
            let ambient = celsius("10", "air");
            passing()
                .instrument("air", &format!("unit = \"K\"\n{}", stated("0.8")))
                .instrument("probe", &format!("unit = \"K\"\n{}", stated("0.6")))
                .condition("soak", "unit = \"h\"\nwindow = 3", soak, soak)
                .condition("ambient", wide, &ambient, &ambient)
                .condition(
                    "coolant",
                    wide,
                    &celsius("10", "probe"),
                    &celsius(row.at("after"), "probe"),
                )
        },
    );
}

/// Eight hours of standing before the retest count as a cold soak.
#[test]
fn a_short_soak() {
    hold(
        "
        unit | window | before | after => reservations
        h    | 90     | 12     | 8     =>
        h    | 90     | 12     | 7.99  => short-soak
        min  | 900    | 700    | 480   =>
        min  | 900    | 700    | 479   => short-soak
        # Before the baseline the machine may have stood as short as it would.
        h    | 90     | 2      | 12    =>
        ",
        |row| {
            let unit = row.at("unit");
            let found = |column| format!("value = {}, unit = \"{unit}\"", row.at(column));
            let keys = format!("unit = \"{unit}\"\nwindow = {}", row.at("window"));
            passing().condition("soak", &keys, &found("before"), &found("after"))
        },
    );
    // A soak that is no time, or not recorded, is none that could be short.
    let celsius = "value = 1, unit = \"°C\"";
    let odd = passing().condition("soak", "unit = \"°C\"\nwindow = 3", celsius, celsius);
    assert_eq!(odd.judged().cell("reservations"), "");
    let silent = passing().condition(
        "soak",
        "unit = \"h\"\nwindow = 3",
        "value = 9, unit = \"h\"",
        "",
    );
    assert_eq!(silent.judged().cell("reservations"), "other-condition soak");
}

/// A cranking time alone says nothing of the battery: it counts as recorded by a condition
/// in volts or in revolutions in both runs, or by a measure of cranking speed or voltage
/// that was taken in the retest.
#[test]
fn cranking_without_a_word_of_the_battery() {
    hold(
        "
        test             | unit | before | after | beside            | taken => reservations
        cranking-time    | V    | yes    | yes   | -                 | yes   =>
        cranking-time    | rpm  | yes    | yes   | -                 | yes   =>
        cranking-time    | A    | yes    | yes   | -                 | yes   => battery-not-recorded crank
        cranking-time    | V    | yes    | no    | -                 | yes   => other-condition starter, battery-not-recorded crank
        cranking-time    | V    | no     | yes   | -                 | yes   => other-condition starter, battery-not-recorded crank
        cranking-time    | -    | yes    | yes   | -                 | yes   => battery-not-recorded crank
        cranking-time    | A    | yes    | yes   | cranking-voltage  | yes   =>
        cranking-time    | A    | yes    | yes   | cranking-speed    | yes   =>
        cranking-time    | A    | yes    | yes   | cranking-voltage  | no    => battery-not-recorded crank
        cranking-time    | A    | yes    | yes   | battery-load      | yes   => battery-not-recorded crank
        # Other times do not hang on the battery.
        pull-down-time   | A    | yes    | yes   | -                 | yes   =>
        ",
        |row| {
            let seconds = |value| format!("value = {value}\nunit = \"s\"\nuncertainty = 1");
            let keys = format!(
                "kind = \"value\"\nunit = \"s\"\nbetter = \"lower\"\ntest = \"{}\"",
                row.at("test")
            );
            let mut job = passing().measure("crank", &keys, &seconds(14), &seconds(5));
            let (keys, found) = match row.at("unit") {
                "-" => (String::new(), "text = \"12 V\"".to_owned()),
                unit => (
                    format!("unit = \"{unit}\"\nwindow = 1"),
                    format!("value = 12, unit = \"{unit}\""),
                ),
            };
            let run = |column| match row.at(column) {
                "yes" => found.as_str(),
                _ => "",
            };
            job = job.condition("starter", &keys, run("before"), run("after"));
            match row.at("beside") {
                "-" => job,
                test => {
                    let taken = "value = 10\nunit = \"V\"\nuncertainty = 1";
                    let after = match row.at("taken") {
                        "yes" => taken,
                        _ => "not_taken = \"The lead broke\"",
                    };
                    let keys = format!("kind = \"value\"\nunit = \"V\"\ntest = \"{test}\"");
                    job.measure("beside", &keys, taken, after)
                }
            }
        },
    );
}
