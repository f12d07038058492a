//! A report whose sealed record was changed: no figure in it passes.

use super::data::Report;
use super::words::Words;

/// Takes back what would speak for the work: on page 1 the drawings, which would say what the
/// words beside them do not, and what the seal is a guide to; behind it every result.
pub fn take_back(report: &mut Report, words: &Words) {
    report.front.sealed.clear();
    report.front.fingerprint = None;
    for figure in &mut report.front.figures {
        figure.drawing = None;
        figure.at.clear();
    }
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
