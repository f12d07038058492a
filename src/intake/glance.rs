//! A job at a glance: what its files say of how far it has come, whether they are complete or
//! not, and right or wrong. For a list of many jobs; nothing is judged by it.

use chrono::{DateTime, FixedOffset, NaiveDate};
use toml::{Table, Value};

use super::TEXT_LIMIT;
use super::common_checks::moment_of;
use super::shapes::Moment;
use crate::files::Source;
use crate::job::JobFile;

/// What the files of a job say at a glance.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Glance {
    /// The job's number.
    pub number: Option<String>,
    /// The machine.
    pub machine: Option<String>,
    /// The customer.
    pub customer: Option<String>,
    /// When the machine was received.
    pub received: Option<NaiveDate>,
    /// When the baseline started.
    pub baseline: Option<DateTime<FixedOffset>>,
    /// When the work started.
    pub work_started: Option<DateTime<FixedOffset>>,
    /// When the work was finished.
    pub work_finished: Option<DateTime<FixedOffset>>,
    /// When the retest started.
    pub retest: Option<DateTime<FixedOffset>>,
    /// When the customer is to come back.
    pub follow_up: Option<NaiveDate>,
}

impl Glance {
    /// Looks at the files in `source`.
    pub fn at(source: &dyn Source) -> Self {
        let table = |file: JobFile| {
            let input = source.read(file.name(), TEXT_LIMIT).ok()?;
            toml::from_str::<Table>(std::str::from_utf8(&input.bytes).ok()?).ok()
        };
        let job = table(JobFile::Job).unwrap_or_default();
        let baseline = table(JobFile::Baseline).unwrap_or_default();
        let work = table(JobFile::Work).unwrap_or_default();
        let retest = table(JobFile::Retest).unwrap_or_default();
        Self {
            number: text(&job, "job"),
            machine: below(&job, "machine"),
            customer: below(&job, "customer"),
            received: day(&job, "received"),
            baseline: moment(&baseline, "started"),
            work_started: moment(&work, "started"),
            work_finished: moment(&work, "finished"),
            retest: moment(&retest, "started"),
            follow_up: day(&work, "follow_up"),
        }
    }
}

fn text(table: &Table, key: &str) -> Option<String> {
    let text = table.get(key)?.as_str()?;
    (!text.is_empty()).then(|| text.to_owned())
}

fn below(table: &Table, key: &str) -> Option<String> {
    text(table.get(key)?.as_table()?, "name")
}

fn moment(table: &Table, key: &str) -> Option<DateTime<FixedOffset>> {
    moment_of(Moment(*table.get(key)?.as_datetime()?))
}

fn day(table: &Table, key: &str) -> Option<NaiveDate> {
    let date = table.get(key).and_then(Value::as_datetime)?.date?;
    NaiveDate::from_ymd_opt(date.year.into(), date.month.into(), date.day.into())
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeMap;

    #[test]
    fn an_unfinished_job_is_seen_as_far_as_it_goes() {
        let text = "job = \"E-1\"\nreceived = 2026-01-19\n[machine]\nname = \"Loader 3\"\n";
        let files = BTreeMap::from([
            ("job.toml".to_owned(), text.as_bytes().to_vec()),
            (
                "baseline.toml".to_owned(),
                b"started = 2026-01-20T06:35:00Z\n[reading.".to_vec(),
            ),
            (
                "work.toml".to_owned(),
                b"started = 2026-01-21T08:00:00Z".to_vec(),
            ),
        ]);
        let seen = Glance::at(&files);
        assert_eq!(seen.number.as_deref(), Some("E-1"));
        assert_eq!(seen.machine.as_deref(), Some("Loader 3"));
        assert_eq!(seen.received, NaiveDate::from_ymd_opt(2026, 1, 19));
        // What is no TOML says nothing.
        assert_eq!(seen.baseline, None);
        assert!(seen.work_started.is_some() && seen.work_finished.is_none());
    }
}
