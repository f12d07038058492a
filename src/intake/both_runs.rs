//! The files of a job compared with each other: the same measures in both runs, and times in
//! the order in which a job happens.

use chrono::{DateTime, FixedOffset};

use super::bench::Bench;
use super::common_checks;
use super::job::Head;
use super::problem::Problems;
use super::shapes::{Moment, ReadingTable, RunFile, WorkFile};
use super::smoke;
use super::toml_document::Document;
use crate::job::{JobFile, Kind, ListLimits};
use crate::quantity::Unit;

/// Every measure has its reading in the baseline. It is asked before anything is sealed:
/// after the work it is too late to take one.
pub fn baseline_is_whole(before: &RunFile, bench: &Bench<'_>, problems: &mut Problems) {
    let measures = bench.limits.measures.iter();
    let read = measures.filter(|measure| measure.worked_out.is_none());
    for measure in read.filter(|measure| !before.reading.contains_key(&measure.id)) {
        let id = &measure.id;
        problems.not_in_file(
            JobFile::Baseline.name(),
            format!("the reading of `{id}` is missing; limits.toml has that measure"),
            format!(
                "add `[reading.{id}]`, with `not_taken = \"why\"` in it if it cannot be read, or \
                 delete the measure from limits.toml"
            ),
        );
    }
}

/// What is new in a list is told by the list before the work, so that one must be read.
pub fn lists_are_read(
    document: &Document,
    run: &RunFile,
    bench: &Bench<'_>,
    problems: &mut Problems,
) {
    for measure in &bench.limits.measures {
        let Kind::List(ListLimits { none_new: true, .. }) = measure.kind else {
            continue;
        };
        let reading = run.reading.get(&measure.id);
        if reading.is_some_and(|reading| reading.not_taken.is_some()) {
            document.problem(
                &["reading", &measure.id, "not_taken"],
                format!(
                    "without the list of `{}` before the work, nothing shows what is new after it",
                    measure.id
                ),
                "read the list, or delete `none_new` in limits.toml",
                problems,
            );
        }
    }
}

/// Checks the retest against the baseline: the same measures, in the same way.
pub fn compare(
    retest: &Document,
    after: &RunFile,
    before: &RunFile,
    bench: &Bench<'_>,
    problems: &mut Problems,
) {
    for measure in &bench.limits.measures {
        let id = measure.id.as_str();
        match (
            before.reading.contains_key(id),
            after.reading.contains_key(id),
        ) {
            (true, true)
                if after.reading[id].not_taken.is_some()
                    || before.reading[id].not_taken.is_some() => {}
            (true, true) => {
                let (after, before) = (&after.reading[id], &before.reading[id]);
                match &measure.kind {
                    Kind::Smoke(limits) => {
                        smoke::same_path(retest, id, limits, after, before, problems);
                    }
                    Kind::Value(_)
                    | Kind::ValueAt(_)
                    | Kind::Passes { .. }
                    | Kind::PassesAt { .. }
                    | Kind::Exact(_)
                    | Kind::ExactAt(_)
                    | Kind::Rate(_)
                    | Kind::List(_)
                    | Kind::Text => {}
                }
                if measure.paired {
                    same_repeats(retest, id, after, before, problems);
                }
            }
            (true, false) => problems.not_in_file(
                JobFile::Retest.name(),
                format!("the reading of `{id}` is missing; the baseline has one"),
                format!(
                    "add `[reading.{id}]`, with `not_taken = \"why\"` in it if it could not be read"
                ),
            ),
            // The baseline was asked for it already.
            (false, true | false) => {}
        }
    }
    if let (Some(was), Some(is)) = (&before.meter, &after.meter)
        && let (Some(was), Some(is)) = (Unit::named(&was.unit), Unit::named(&is.unit))
        && was.dimension() != is.dimension()
    {
        retest.problem(
            &["meter", "unit"],
            "this meter counts something else than the baseline's",
            "read the same meter in both runs",
            problems,
        );
    }
}

/// Paired repeats are as many in both runs, and more than one.
fn same_repeats(
    retest: &Document,
    id: &str,
    after: &ReadingTable,
    before: &ReadingTable,
    problems: &mut Problems,
) {
    let count = |table: &ReadingTable| table.values.as_ref().map_or(1, Vec::len);
    let (after, before) = (count(after), count(before));
    if after != before {
        retest.problem(
            &["reading", id, "values"],
            format!("`{id}` is paired, but the retest has {after} repeats, the baseline {before}"),
            "write one value for each value of the baseline, in the same order, or delete `paired` \
             in limits.toml",
            problems,
        );
    } else if after < 2 {
        retest.problem(
            &["reading", id],
            format!("`{id}` is paired, but has only one value in each run"),
            "write at least two `values` in both runs, or delete `paired` in limits.toml",
            problems,
        );
    }
}

/// The order in which a job happens: received, baseline, work, retest.
pub fn order_of_times(
    baseline: &Option<(Document, RunFile)>,
    work: &Option<(Document, WorkFile)>,
    retest: &Option<(Document, RunFile)>,
    head: Option<&Head>,
    problems: &mut Problems,
) {
    let mut stops: Vec<(&Document, &str, &str, DateTime<FixedOffset>)> = Vec::new();
    let candidates = [
        run_times(
            baseline,
            ["the start of the baseline", "the end of the baseline"],
        ),
        work_times(work),
        run_times(retest, ["the start of the retest", "the end of the retest"]),
    ];
    for (document, key, what, moment) in candidates.into_iter().flatten() {
        // A placeholder for a missing time is not compared with the others.
        let written = moment
            .filter(|_| document.has(key))
            .and_then(common_checks::moment_of);
        stops.extend(written.map(|moment| (document, key, what, moment)));
    }
    if let (Some(received), Some((document, key, _, first))) =
        (head.and_then(|head| head.received), stops.first())
        && first.date_naive() < received
    {
        document.problem(
            &[key],
            "the baseline is dated before the day the machine was received",
            "correct the time here, or `received` in job.toml",
            problems,
        );
    }
    for pair in stops.windows(2) {
        let (earlier, later) = (&pair[0], &pair[1]);
        if later.3 < earlier.3 {
            later.0.problem(
                &[later.1],
                format!(
                    "{} ({}) is before {} ({})",
                    later.2, later.3, earlier.2, earlier.3
                ),
                format!("correct it here or in {}", earlier.0.name()),
                problems,
            );
        }
    }
}

/// A time in a file: its place, what it is, and when.
type Stop<'a> = (&'a Document, &'static str, &'static str, Option<Moment>);

fn run_times<'a>(
    run: &'a Option<(Document, RunFile)>,
    [start, end]: [&'static str; 2],
) -> Vec<Stop<'a>> {
    run.iter()
        .flat_map(|(document, shape)| {
            [
                (document, "started", start, Some(shape.started)),
                (document, "ended", end, shape.ended),
            ]
        })
        .collect()
}

fn work_times(work: &Option<(Document, WorkFile)>) -> Vec<Stop<'_>> {
    work.iter()
        .flat_map(|(document, shape)| {
            [
                (
                    document,
                    "started",
                    "the start of the work",
                    Some(shape.started),
                ),
                (
                    document,
                    "finished",
                    "the end of the work",
                    Some(shape.finished),
                ),
            ]
        })
        .collect()
}
