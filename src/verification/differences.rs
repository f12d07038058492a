//! What the customer's receipt shows otherwise than a document of the same job: whoever hears
//! that they do not belong together wants to know in which figure.

use std::collections::BTreeMap;

use chrono::DateTime;
use schemars::JsonSchema;
use serde::Serialize;

use super::attached_job::AttachedJob;
use super::recompute::Told;
use crate::job::{Baselined, Shop};
use crate::seals::sealing_of_baseline;
use crate::view::{Receipt, ReceiptMaterial, Words, receipt};

/// Something that a receipt and a document of the same job show differently, in words.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Difference {
    /// The name of a measure, or of another line of the receipt.
    pub what: String,
    /// What of it differs.
    pub part: DifferentPart,
    /// What the receipt shows; null where it has no such line.
    pub receipt: Option<String>,
    /// What the files of the document give; null where they give no such line.
    pub document: Option<String>,
}

/// What of a line differs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum DifferentPart {
    /// What was read before the work.
    Reading,
    /// The limit.
    Limit,
    /// The line as a whole: it is not of a measure.
    Line,
}

impl Difference {
    /// In words: what differs, what the receipt shows, and what the document gives.
    pub fn texts(&self, words: &Words) -> [String; 3] {
        let name = match self.part {
            DifferentPart::Limit => words.say_with("differs-limit", &[("name", &self.what)]),
            DifferentPart::Reading | DifferentPart::Line => self.what.clone(),
        };
        let given =
            |text: &Option<String>| text.clone().unwrap_or_else(|| words.say("differs-missing"));
        [name, given(&self.receipt), given(&self.document)]
    }
}

/// Where `document` tells otherwise of the state before the work than `on_receipt`, in these
/// words. None where they are of two jobs, or one of them cannot be read as a job.
pub(super) fn differences(
    on_receipt: &AttachedJob,
    document: &AttachedJob,
    words: &Words,
) -> Option<Vec<Difference>> {
    if on_receipt.number()? != document.number()? {
        return None;
    }
    let shown = lines(as_receipt(on_receipt, words)?, words);
    let given = lines(as_receipt(document, words)?, words);
    let texts = |lines: &[Line]| -> BTreeMap<Key, String> {
        let all = lines.iter();
        all.map(|line| (line.key.clone(), line.text.clone()))
            .collect()
    };
    let (mut on_receipt, mut in_document) = (texts(&shown), texts(&given));
    let all = shown.into_iter().chain(given).map(|line| Difference {
        receipt: on_receipt.remove(&line.key),
        document: in_document.remove(&line.key),
        part: line.key.part,
        what: line.key.name,
    });
    // What both have comes a second time, with nothing left of it.
    Some(all.filter(|line| line.receipt != line.document).collect())
}

/// The receipt that the files of `job` give.
fn as_receipt(job: &AttachedJob, words: &Words) -> Option<Receipt> {
    let (job_before_work, shop): (Baselined, &Shop) = match &job.told {
        Told::DropOff(Ok(read)) => (read.job.clone(), &read.shop),
        Told::Whole(Ok(read)) => {
            let (plan, baseline) = (read.job.plan.clone(), read.job.baseline.clone());
            (Baselined { plan, baseline }, &read.shop)
        }
        Told::DropOff(Err(_)) | Told::Whole(Err(_)) => return None,
    };
    let material = ReceiptMaterial {
        job: &job_before_work,
        shop,
        logo: None,
        issued: DateTime::default(),
        sealing: &sealing_of_baseline(&job.chain, &BTreeMap::new()),
        signer: None,
    };
    Some(receipt(&material, words))
}

/// A line of a receipt.
struct Line {
    key: Key,
    text: String,
}

/// Which line of a receipt it is.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord)]
struct Key {
    name: String,
    part: DifferentPart,
    /// How many of the same name and part are before it.
    place: usize,
}

/// All that a receipt shows of the state before the work, line by line.
fn lines(receipt: Receipt, words: &Words) -> Vec<Line> {
    use DifferentPart::{Limit, Line as Whole, Reading};
    let measures = receipt.rows.into_iter().flat_map(|row| {
        // What rounds to the same figure may have been read otherwise.
        let read: Vec<String> = [row.figures(), row.read]
            .into_iter()
            .filter(|text| !text.is_empty())
            .collect();
        [
            (row.name.clone(), Reading, read.join("; ")),
            (row.name, Limit, row.limit),
        ]
    });
    let about = receipt.about.into_iter();
    let about = about.map(|pair| (pair.label, Whole, pair.text));
    let rest = [
        (words.say("label-was-wrong"), Whole, receipt.complaint),
        (words.say("label-rule"), Whole, receipt.agreed.join(" ")),
    ];
    let mut places: BTreeMap<(String, DifferentPart), usize> = BTreeMap::new();
    let all = measures.chain(about).chain(rest);
    all.map(|(name, part, text)| {
        let count = places.entry((name.clone(), part)).or_default();
        let place = *count;
        *count += 1;
        let key = Key { name, part, place };
        Line { key, text }
    })
    .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::verification::test_documents::Files;

    fn found(document: &Files) -> Option<Vec<Difference>> {
        differences(&Files::receipt().job(), &document.job(), &Words::english())
    }

    /// The only difference: what, of it what, and both texts.
    fn only(document: &Files) -> (String, DifferentPart, String, String) {
        let [one]: [Difference; 1] = found(document).unwrap().try_into().unwrap();
        (
            one.what,
            one.part,
            one.receipt.unwrap(),
            one.document.unwrap(),
        )
    }

    #[test]
    fn what_is_the_same_is_not_told() {
        assert_eq!(found(&Files::receipt()), Some(Vec::new()));
        assert_eq!(found(&Files::report()), Some(Vec::new()));
        // Nor what the receipt does not show.
        let comment = Files::report().with("baseline.toml", "format = 1", "format = 1 # again");
        assert_eq!(found(&comment), Some(Vec::new()));
        let later = Files::report().with("retest.toml", "value = 2.4", "value = 2.2");
        assert_eq!(found(&later), Some(Vec::new()));
    }

    #[test]
    fn what_differs_is_told_with_both_figures_and_nothing_else() {
        let reading = Files::report().with("baseline.toml", "value = 12.8", "value = 21.8");
        let (what, part, receipt, document) = only(&reading);
        assert_eq!(what, "Crank time to running (s)");
        assert_eq!(part, DifferentPart::Reading);
        assert!(receipt.starts_with("12.8") && document.starts_with("21.8"));

        let limit = Files::report().with("limits.toml", "max = 5.0", "max = 9.0");
        let (what, part, receipt, document) = only(&limit);
        assert_eq!(
            (what.as_str(), part),
            ("Crank time to running (s)", DifferentPart::Limit)
        );
        assert!(receipt.contains("5.0") && document.contains("9.0"));

        let position = Files::report().with("baseline.toml", "value = -13.1", "value = -3.1");
        let (.., receipt, document) = only(&position);
        assert!(receipt.contains("−13.1") && document.contains("−3.1"));

        let witness = Files::report().with("baseline.toml", "Idris Fell", "Nobody Here");
        let (_, part, receipt, document) = only(&witness);
        assert_eq!(part, DifferentPart::Line);
        assert!(receipt.contains("Idris Fell") && document.contains("Nobody Here"));

        let complaint = Files::report().with("job.toml", "two rows", "nine rows");
        assert!(only(&complaint).3.contains("nine rows"));
        let rule = Files::report().with("limits.toml", "four-zone", "simple");
        let rule = found(&rule).unwrap();
        assert!(rule.iter().any(|line| line.part == DifferentPart::Line));
    }

    /// The figures may round alike where the readings do not.
    #[test]
    fn readings_with_the_same_mean_differ() {
        let twice =
            |files: Files, values: &str| files.with("baseline.toml", "value = 12.8", values);
        let on_receipt = twice(Files::receipt(), "values = [12.7, 12.9]").job();
        let document = twice(Files::report(), "values = [12.6, 13.0]").job();
        let found = differences(&on_receipt, &document, &Words::english()).unwrap();
        assert!(
            found[0].receipt.as_ref().unwrap().contains("12.7"),
            "{found:?}"
        );
    }

    /// Two measures may have one name.
    #[test]
    fn lines_of_the_same_name_are_told_apart() {
        let alike = |files: Files| {
            files
                .with(
                    "limits.toml",
                    "Lowest battery voltage while cranking",
                    "Fuel suction at filter outlet",
                )
                .with(
                    "limits.toml",
                    "test = \"cranking-voltage\"\nunit = \"V\"",
                    "unit = \"kPa\"",
                )
                .with(
                    "baseline.toml",
                    "9.94\nunit = \"V\"\ninstrument = \"meter-v\"",
                    "9.94\nunit = \"kPa\"\ninstrument = \"vacuum\"",
                )
        };
        let on_receipt = alike(Files::receipt()).job();
        let second = alike(Files::receipt())
            .with("baseline.toml", "9.94", "9.49")
            .job();
        let found = differences(&on_receipt, &second, &Words::english()).unwrap();
        let [one] = found.as_slice() else {
            panic!("{found:#?}")
        };
        assert!(one.receipt.as_ref().unwrap().starts_with("9.9"));
    }

    #[test]
    fn a_line_that_one_of_them_lacks_is_told() {
        let renamed = Files::report().with("limits.toml", "Crank time to", "Time until it is");
        let found = found(&renamed).unwrap();
        let told = |name: &str| {
            let all = found.iter().filter(|line| line.what == name);
            all.map(|line| (line.receipt.is_some(), line.document.is_some()))
                .collect::<Vec<_>>()
        };
        assert_eq!(told("Crank time to running (s)"), [(true, false); 2]);
        assert_eq!(told("Time until it is running (s)"), [(false, true); 2]);
    }

    #[test]
    fn two_jobs_or_what_cannot_be_read_are_not_compared() {
        let other = Files::report().with("job.toml", "E-0412", "E-0413");
        assert_eq!(found(&other), None);
        let unread = Files::report().with("job.toml", "[machine]", "[engine]");
        assert_eq!(found(&unread), None);
        assert_eq!(found(&Files::default()), None);
    }
}
