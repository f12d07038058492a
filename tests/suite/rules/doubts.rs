//! What looks wrong in a run is told, before anything is sealed and when it is judged, and
//! nothing is left out of the judgement for it.

use super::small_job::SmallJob;
use super::table::{Row, hold};

/// Readings in seconds; U is stated, so that no instrument has a step.
fn read(row: &Row<'_>) -> SmallJob {
    let reading = |column| {
        let values = row.at(column).replace(' ', ", ");
        format!("values = [{values}]\nunit = \"K\"\nuncertainty = 1")
    };
    SmallJob::new().measure(
        "m",
        "kind = \"value\"\nunit = \"K\"",
        &reading("before"),
        &reading("after"),
    )
}

/// Grubbs' test at 1 %, two-sided: 1.154 685 of three, 1.496 25 of four, 1.763 678 of five
/// (computed with SciPy).
#[test]
fn a_repeat_that_stands_out() {
    hold(
        "
        before | after => reservations
        # G = 1.154 699 of 2402, 2405 and 900; 1.152 of 5.0, 5.3 and 9.0.
        2402 2405 900       | 2402 => stands-out m
        2402                | 2402 2405 900 => stands-out m
        2402 2405 900       | 2402 2405 900 => stands-out m
        5.0 5.3 9.0         | 5.1  =>
        # G = 1.7727 and 1.7541 of five.
        10.0 11.0 12.0 13.0 30.0 | 5.1  => stands-out m
        10.0 11.0 12.0 13.0 24.0 | 5.1  =>
        # G = 1.5 of both; 0.3 from the others is three steps, and no more.
        5.1 5.1 5.1 5.5     | 5.1  => stands-out m
        5.1 5.1 5.1 5.4     | 5.1  =>
        5.1 5.1 5.1 4.8     | 5.1  =>
        5.10 5.10 5.10 5.40 | 5.10 => stands-out m
        # Of two nobody knows which.
        5.1 9.0             | 5.1  =>
        # One thing in each run: both are told.
        2402 2405 900       | 2402 240.2 => stands-out m, decimal-point m
        ",
        read,
    );
}

#[test]
fn a_decimal_point_in_the_wrong_place() {
    hold(
        "
        before       | after => reservations
        5.6 56.0     | 5.6   => decimal-point m
        5.6          | 5.6 0.56 => decimal-point m
        # From 8 to 12.5 times, or an eighth to the 12.5th part.
        5.0 40.0     | 5.0   => decimal-point m
        5.0 39.9     | 5.0   =>
        4.0 50.0     | 5.0   => decimal-point m
        4.0 50.1     | 5.0   =>
        # 8 exactly, though not in binary.
        0.7 5.6      | 5.0   => decimal-point m
        # By the median of the others, 6.5: ten times, and 7.7 times. G is beyond 1.7637.
        5.0 6.0 7.0 8.0 65.0 | 5.0 => stands-out m, decimal-point m
        5.0 6.0 7.0 8.0 50.0 | 5.0 => stands-out m
        -5.6 -56.0   | 5.6   => decimal-point m
        -5.6 56.0    | 5.6   =>
        0.0 56.0     | 5.6   =>
        # Between the runs there may be any step.
        56.0         | 5.6   =>
        ",
        read,
    );
}

/// Of three and more cylinders the neighbours tell; of two nobody knows which.
#[test]
fn a_cylinder_with_its_decimal_point_in_the_wrong_place() {
    hold(
        "
        before     | after    => reservations
        5.6 5.5 56 | 5 5 5    => decimal-point m
        5 5 5      | 5 0.5 5  => decimal-point m
        5.6 5.5 30 | 5 5 5    =>
        5.6 56     | 5 5      =>
        ",
        |row| {
            let reading = |column| {
                let rows = row.at(column).split(' ').enumerate();
                let rows: Vec<String> = rows
                    .map(|(index, value)| format!("{{ at = {}, value = {value} }}", index + 1))
                    .collect();
                let rows = rows.join(", ");
                format!("rows = [{rows}]\nunit = \"bar\"\nuncertainty = 1")
            };
            SmallJob::new()
                .cylinders(row.at("before").split(' ').count())
                .measure(
                    "m",
                    "kind = \"value\"\nat = \"cylinders\"\nunit = \"bar\"",
                    &reading("before"),
                    &reading("after"),
                )
        },
    );
}

#[test]
fn a_condition_that_no_machine_is_in() {
    hold(
        "
        id      | unit | before | after  => reservations
        oil     | °C   | 20     | 511    => implausible-condition oil
        oil     | °C   | 200    | 200    =>
        oil     | °C   | 200.1  | 200    => implausible-condition oil
        oil     | °C   | -60    | -60    =>
        oil     | °C   | -60    | -60.1  => implausible-condition oil
        coolant | °C   | 150    | 150    =>
        coolant | °C   | 150.1  | 150.1  => implausible-condition coolant
        ambient | °C   | 60     | 60     =>
        ambient | °C   | 60.1   | 60.1   => implausible-condition ambient
        # 140 °F are 60 °C.
        ambient | °F   | 140    | 140    =>
        ambient | °F   | 140.1  | 140.1  => implausible-condition ambient
        # Other parts may glow, and other quantities have other figures.
        exhaust | °C   | 511    | 511    =>
        oil     | kPa  | 511    | 511    =>
        ",
        |row| {
            let unit = row.at("unit");
            let found = |column| format!("value = {}, unit = \"{unit}\"", row.at(column));
            let keys = format!("unit = \"{unit}\"\nwindow = 1000");
            SmallJob::new().found("pass", "m", true).condition(
                row.at("id"),
                &keys,
                &found("before"),
                &found("after"),
            )
        },
    );
}
