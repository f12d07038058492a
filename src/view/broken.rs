//! A report whose sealed record was changed: no figure in it passes.

use super::data::Report;
use super::words::Words;

/// Takes back every result: on the pages behind, and on the screen.
pub fn take_back(report: &mut Report, words: &Words) {
    let not_relied_on = words.say("result-not-relied-on");
    for row in &mut report.measures {
        row.result.clone_from(&not_relied_on);
        row.mark = "none";
    }
    for table in &mut report.positions {
        table.result.clone_from(&not_relied_on);
        for row in &mut table.rows {
            row.result.clone_from(&not_relied_on);
            row.mark = "none";
        }
    }
}
