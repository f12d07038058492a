//! A value among the bands of a standard.
//!
//! Evaluation zones A to D of vibration, ISO 20816-3, group 2 (medium machines) on rigid
//! supports: 1.4, 2.8 and 4.5 mm/s (from memory). Probabilities from the table of the normal
//! distribution: Φ(1) = 0.841345, Φ(2) = 0.977250.

use super::small_job::{SmallJob, stated};
use super::table::hold;

const ZONES: &str = "kind = \"value\"\nunit = \"mm/s\"\nmax = 2.8\n\
     bands = { names = [\"A\", \"B\", \"C\", \"D\"], upper = [1.4, 2.8, 4.5], \
     source = \"ISO 20816-3, group 2 on rigid supports\" }";

#[test]
fn zones_a_to_d() {
    hold(
        "
        before | after => measures.0.values.0.bands.baseline.band | measures.0.values.0.bands.retest.band | measures.0.values.0.bands.retest.probabilities.0 | measures.0.values.0.bands.retest.probabilities.1 | measures.0.values.0.bands.retest.probabilities.2 | measures.0.values.0.bands.retest.probabilities.3
        # u = 0.1: 2.7 lies one u below the end of B, 1.2 two below that of A.
        5.0 | 2.7 => D | B | 0.000000 | 0.841345 | 0.158655 | 0.000000
        4.5 | 1.2 => C | A | 0.977250 | 0.022750 | 0.000000 | 0.000000
        # Exactly at an end it still belongs below.
        2.8 | 1.4 => B | A | 0.500000 | 0.500000 | 0.000000 | 0.000000
        4.6 | 4.6 => D | D | 0.000000 | 0.000000 | 0.158655 | 0.841345
        ",
        |row| {
            let reading = |column| {
                let value = row.at(column);
                let u = stated("0.1959963984540054");
                format!("value = {value}\nunit = \"mm/s\"\n{u}")
            };
            SmallJob::new().measure("m", ZONES, &reading("before"), &reading("after"))
        },
    );
}

/// What was read in one run only lies in a band all the same.
#[test]
fn a_position_that_was_read_once() {
    hold(
        "
        before | after => measures.0.values.0.bands.baseline.band | measures.0.values.0.bands.retest.band | measures.0.values.1.bands.baseline.band | measures.0.values.1.bands.retest.band
        5.0 -  | 1.2 2.7 => D | A | - | B
        5.0 1.2 | - 2.7  => D | - | A | B
        ",
        |row| {
            let reading = |column| {
                let rows = row.at(column).split(' ').enumerate();
                let rows: Vec<String> = rows
                    .map(|(place, value)| match value {
                        "-" => format!("{{ at = {}, not_taken = \"Hot\" }}", place + 1),
                        value => format!("{{ at = {}, value = {value} }}", place + 1),
                    })
                    .collect();
                let rows = rows.join(", ");
                format!("rows = [ {rows} ]\nunit = \"mm/s\"\n{}", stated("0.1"))
            };
            let keys = format!("{ZONES}\nat = \"cylinders\"");
            SmallJob::new()
                .cylinders(2)
                .measure("m", &keys, &reading("before"), &reading("after"))
        },
    );
}
