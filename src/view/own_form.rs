//! The page that comes before all others where a document is set with a shop's own form: in
//! the program's own words, and out of that form's reach. It says that such a form was used,
//! and gives the verdict and the required figures.

use super::data::{OwnForm, Report};
use super::words::Words;
use super::{Material, report};
use crate::job::{Plan, Shop};

impl OwnForm {
    /// The page before a report that `material` makes; the form is in the files `attached`.
    pub fn of_report(material: &Material<'_>, attached: &[String]) -> Self {
        let words = plain(material.shop);
        let Report {
            front, measures, ..
        } = report(material, &words);
        let verdict = if front.alert.is_empty() {
            format!("{}. {}", front.mark, front.says())
        } else {
            front.alert
        };
        let required = measures.iter().filter(|row| !row.required.is_empty());
        let figures = required.map(|row| {
            words.say_with(
                "own-form-figure",
                &[
                    ("name", &row.name),
                    ("before", &row.baseline),
                    ("after", &row.retest),
                    ("limit", &row.limit),
                    ("result", &row.result),
                ],
            )
        });
        Self {
            verdict,
            figures: figures.collect(),
            ..Self::before(&material.job.plan, &words, attached)
        }
    }

    /// The page before a receipt: nothing is judged yet.
    pub fn of_receipt(plan: &Plan, shop: &Shop, attached: &[String]) -> Self {
        Self::before(plan, &plain(shop), attached)
    }

    fn before(plan: &Plan, words: &Words, attached: &[String]) -> Self {
        let (number, machine) = (plan.number.as_str(), plan.machine.name.as_str());
        let files = attached.join(", ");
        Self {
            title: words.say("own-form-title"),
            text: words.say("own-form-text"),
            job: words.say_with("own-form-job", &[("number", number), ("machine", machine)]),
            verdict: String::new(),
            figures: Vec::new(),
            files: words.say_with("own-form-files", &[("files", &files)]),
        }
    }

    /// All that the page says, in its order.
    pub fn texts(&self) -> impl Iterator<Item = &str> {
        let head = [&self.title, &self.text, &self.job, &self.verdict];
        let all = head.into_iter().chain(&self.figures).chain([&self.files]);
        all.map(String::as_str)
    }
}

/// The program's own words in the shop's language; English where they are the shop's own
/// translation.
fn plain(shop: &Shop) -> Words {
    let words = Words::of(&shop.language, &[]).unwrap_or_else(|_| Words::english());
    words.with_second_units(shop.second_units)
}
