//! The page that comes before all others where a document is set with a shop's own form: in
//! the program's own words, and out of that form's reach. It says that such a form was used,
//! and gives the verdict and the required figures.

use super::data::{OwnForm, Report};
use super::words::Words;
use crate::job::Plan;

/// The files of a shop's own form, and the words in which the page before it speaks.
pub struct FormUsed<'a> {
    /// The names under which its files are attached.
    pub files: Vec<String>,
    /// The program's own words.
    pub words: &'a Words,
}

/// The page before a report; `plain` is the same report in the program's own words.
pub fn before_report(form: &FormUsed<'_>, plan: &Plan, plain: &Report) -> OwnForm {
    let figures = plain.measures.iter().map(|row| {
        form.words.say_with(
            "own-form-figure",
            &[
                ("name", &row.name),
                ("required", &row.required),
                ("before", &row.baseline),
                ("after", &row.retest),
                ("limit", &row.limit),
                ("result", &row.result),
            ],
        )
    });
    OwnForm {
        lines: [plain.front.mark.clone(), plain.front.headline.clone()].into_iter().collect(),
        figures: figures.collect(),
        ..before(form, plan)
    }
}

/// The page before a receipt, without figures: nothing is judged yet.
pub fn before(form: &FormUsed<'_>, plan: &Plan) -> OwnForm {
    let words = form.words;
    let job = [("number", plan.number.as_str()), ("machine", plan.machine.name.as_str())];
    OwnForm {
        language: words.language(),
        title: words.say("own-form-title"),
        text: words.say("own-form-text"),
        job: words.say_with("own-form-job", &job),
        lines: Vec::new(),
        figures: Vec::new(),
        files: words.say_with("own-form-files", &[("files", &form.files.join(", "))]),
    }
}
