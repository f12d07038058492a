//! `baseline.toml` and `retest.toml` → [`Run`].

use std::collections::BTreeMap;

use chrono::{DateTime, FixedOffset};

use super::job::Head;
use super::problem::Problems;
use super::reading;
use super::schema_check::{listed, nearest};
use super::shapes::{
    ConditionValue, MeterTable, Moment, PhotoTable, ReadingTable, RunFile, WorkFile,
};
use super::smoke;
use super::toml_document::Document;
use super::{common_checks, recordings};
use crate::job::{ConditionKind, ConditionReading, Instrument, JobFile, Limits, Photo, Run};
use crate::quantity::{Dimension, Quantity, Unit};

/// What the readings of a run are checked against.
pub struct Bench<'a> {
    pub instruments: &'a [Instrument],
    pub cylinders: Option<usize>,
    pub limits: &'a Limits,
}

impl Bench<'_> {
    /// The instrument called `id`, which must measure `dimension`.
    pub fn check_instrument(
        &self,
        document: &Document,
        path: &[&str],
        id: &str,
        dimension: Dimension,
        faults: &mut Problems,
    ) {
        let Some(instrument) = self.instruments.iter().find(|known| known.id == id) else {
            let ids: Vec<&str> = self
                .instruments
                .iter()
                .map(|known| known.id.as_str())
                .collect();
            let hint = match nearest(id, &ids) {
                Some(near) => format!("did you mean `{near}`?"),
                None if ids.is_empty() => "add an `[[instrument]]` to job.toml".to_owned(),
                None => format!("job.toml has {}", listed(&ids)),
            };
            document.fault(
                path,
                format!("job.toml has no instrument `{id}`"),
                hint,
                faults,
            );
            return;
        };
        let measures = instrument.unit.dimension();
        if !measures.serves(dimension) {
            document.fault(
                path,
                format!("the instrument `{id}` measures {measures}, not {dimension}"),
                "name the instrument that gave this reading, or correct its unit in job.toml",
                faults,
            );
        }
    }
}

/// One run.
pub fn run(
    document: &Document,
    shape: &RunFile,
    bench: &Bench<'_>,
    faults: &mut Problems,
) -> Option<Run> {
    let before = faults.len();
    let started = common_checks::moment(document, &["started"], shape.started, faults);
    let ended = shape
        .ended
        .and_then(|moment| common_checks::moment(document, &["ended"], moment, faults));
    let meter = shape
        .meter
        .as_ref()
        .and_then(|table| meter(document, table, faults));
    let conditions = conditions(document, &shape.condition, bench, faults);
    let mut readings = BTreeMap::new();
    let ids: Vec<&str> = bench
        .limits
        .measures
        .iter()
        .map(|measure| measure.id.as_str())
        .collect();
    for (id, table) in &shape.reading {
        let Some(measure) = bench.limits.measure(id) else {
            document.fault(
                &["reading", id],
                format!("limits.toml has no measure `{id}`"),
                match nearest(id, &ids) {
                    Some(near) => format!("did you mean `{near}`?"),
                    None => format!("it has {}", listed(&ids)),
                },
                faults,
            );
            continue;
        };
        if let Some(reading) = reading::reading(document, measure, table, bench, faults) {
            readings.insert(id.clone(), reading);
        }
    }
    (faults.len() == before).then_some(())?;
    Some(Run {
        started: started?,
        ended,
        by: shape.by.clone(),
        witnesses: shape.witness.clone(),
        meter,
        note: shape.note.clone(),
        conditions,
        readings,
        photos: photos(&shape.photo),
        recordings: recordings::named(&shape.recording),
    })
}

/// The photos of a file. Whether they can be read, and when they were taken, is checked
/// elsewhere.
pub fn photos(tables: &[PhotoTable]) -> Vec<Photo> {
    tables
        .iter()
        .map(|table| Photo {
            file: table.file.clone(),
            caption: table.caption.clone(),
            alt: table.alt.clone(),
            pair: table.pair.clone(),
            taken: None,
        })
        .collect()
}

fn meter(document: &Document, table: &MeterTable, faults: &mut Problems) -> Option<Quantity> {
    let path = ["meter", "unit"];
    let unit = common_checks::unit(document, &path, &table.unit, faults)?;
    if !matches!(unit.dimension(), Dimension::Time | Dimension::Length) {
        document.fault(
            &path,
            format!("a meter cannot count in `{}`", table.unit),
            "use `h`, `km` or `mi`",
            faults,
        );
        return None;
    }
    common_checks::quantity(document, &["meter", "value"], table.value, unit, faults)
}

fn conditions(
    document: &Document,
    tables: &BTreeMap<String, ConditionValue>,
    bench: &Bench<'_>,
    faults: &mut Problems,
) -> BTreeMap<String, ConditionReading> {
    let known = &bench.limits.conditions;
    let ids: Vec<&str> = known
        .iter()
        .map(|condition| condition.id.as_str())
        .collect();
    let mut found = BTreeMap::new();
    for (id, table) in tables {
        let Some(condition) = known.iter().find(|condition| condition.id == *id) else {
            document.fault(
                &["condition", id],
                format!("limits.toml has no condition `{id}`"),
                match nearest(id, &ids) {
                    Some(near) => format!("did you mean `{near}`?"),
                    None => format!("add a `[[condition]]` there; it has {}", listed(&ids)),
                },
                faults,
            );
            continue;
        };
        let reading = match &condition.kind {
            ConditionKind::Text => condition_text(document, id, table, faults),
            ConditionKind::Value { unit, .. } => {
                condition_value(document, id, table, unit, bench, faults)
            }
        };
        if let Some(reading) = reading {
            found.insert(id.clone(), reading);
        }
    }
    found
}

fn condition_text(
    document: &Document,
    id: &str,
    table: &ConditionValue,
    faults: &mut Problems,
) -> Option<ConditionReading> {
    match (&table.text, table.value) {
        (Some(text), None) => Some(ConditionReading::Text(text.clone())),
        _ => {
            document.fault(
                &["condition", id],
                format!("the condition `{id}` is in words"),
                "write `text = \"…\"`, or give it a `unit` in limits.toml",
                faults,
            );
            None
        }
    }
}

fn condition_value(
    document: &Document,
    id: &str,
    table: &ConditionValue,
    unit: &'static Unit,
    bench: &Bench<'_>,
    faults: &mut Problems,
) -> Option<ConditionReading> {
    let (Some(value), Some(symbol), None) = (table.value, &table.unit, &table.text) else {
        document.fault(
            &["condition", id],
            format!("the condition `{id}` needs a value and its unit"),
            format!("write `{{ value = …, unit = \"{}\" }}`", unit.symbol()),
            faults,
        );
        return None;
    };
    let whose = format!("the condition `{id}`");
    let path = ["condition", id, "unit"];
    let written =
        common_checks::unit_of(document, &path, symbol, unit.dimension(), &whose, faults)?;
    if let Some(instrument) = &table.instrument {
        let path = ["condition", id, "instrument"];
        bench.check_instrument(document, &path, instrument, unit.dimension(), faults);
    }
    let path = ["condition", id, "value"];
    common_checks::quantity(document, &path, value, written, faults).map(|value| {
        ConditionReading::Value {
            value,
            instrument: table.instrument.clone(),
        }
    })
}

/// Checks the retest against the baseline: the same measures, the same attempts.
pub fn compare(
    retest: &Document,
    after: &RunFile,
    before: &RunFile,
    bench: &Bench<'_>,
    faults: &mut Problems,
) {
    for measure in &bench.limits.measures {
        let id = measure.id.as_str();
        match (
            before.reading.contains_key(id),
            after.reading.contains_key(id),
        ) {
            (true, true) if after.reading[id].not_taken.is_some() => {}
            (true, true) => {
                let (after, before) = (&after.reading[id], &before.reading[id]);
                same_attempts(retest, id, after, before, faults);
                smoke::same_path(retest, measure, after, before, faults);
                if measure.paired {
                    same_repeats(retest, id, after, before, faults);
                }
            }
            (false, true) => retest.fault(
                &["reading", id],
                format!("`{id}` was not measured in the baseline"),
                "without a baseline there is no change to show: delete this reading, and the \
                 measure from limits.toml",
                faults,
            ),
            (true, false) => faults.of_file(
                JobFile::Retest.name(),
                format!("the reading of `{id}` is missing; the baseline has one"),
                format!(
                    "add `[reading.{id}]`, with `not_taken = \"why\"` in it if it could not be read"
                ),
            ),
            (false, false) => faults.of_file(
                JobFile::Baseline.name(),
                format!("the reading of `{id}` is missing; limits.toml has that measure"),
                format!("add `[reading.{id}]`, or delete the measure from limits.toml"),
            ),
        }
    }
    if let (Some(was), Some(is)) = (&before.meter, &after.meter)
        && let (Some(was), Some(is)) = (Unit::named(&was.unit), Unit::named(&is.unit))
        && was.dimension() != is.dimension()
    {
        retest.fault(
            &["meter", "unit"],
            "this meter counts something else than the baseline's",
            "read the same meter in both runs",
            faults,
        );
    }
}

/// A retest with more attempts than the baseline would go on until enough pass.
fn same_attempts(
    retest: &Document,
    id: &str,
    after: &ReadingTable,
    before: &ReadingTable,
    faults: &mut Problems,
) {
    let mut compare = |path: &[&str], after: Option<u32>, before: Option<u32>| {
        if let (Some(after), Some(before)) = (after, before)
            && after != before
        {
            retest.fault(
                path,
                format!("the retest has {after} attempts, the baseline {before}"),
                format!("make {before} attempts in both runs"),
                faults,
            );
        }
    };
    compare(
        &["reading", id, "attempts"],
        after.attempts,
        before.attempts,
    );
    let rows = |table: &ReadingTable| -> Vec<(u32, Option<u32>)> {
        table
            .rows
            .iter()
            .flatten()
            .map(|row| (row.cylinder, row.attempts))
            .collect()
    };
    let was = rows(before);
    for (index, (cylinder, attempts)) in rows(after).into_iter().enumerate() {
        let before = was
            .iter()
            .find(|(other, _)| *other == cylinder)
            .and_then(|(_, t)| *t);
        compare(
            &["reading", id, "rows", &index.to_string(), "attempts"],
            attempts,
            before,
        );
    }
}

/// Paired repeats are as many in both runs, and more than one.
fn same_repeats(
    retest: &Document,
    id: &str,
    after: &ReadingTable,
    before: &ReadingTable,
    faults: &mut Problems,
) {
    let count = |table: &ReadingTable| table.values.as_ref().map_or(1, Vec::len);
    let (after, before) = (count(after), count(before));
    if after != before {
        retest.fault(
            &["reading", id, "values"],
            format!("`{id}` is paired, but the retest has {after} repeats, the baseline {before}"),
            "write one value for each value of the baseline, in the same order, or delete `paired` \
             in limits.toml",
            faults,
        );
    } else if after < 2 {
        retest.fault(
            &["reading", id],
            format!("`{id}` is paired, but has only one value in each run"),
            "write at least two `values` in both runs, or delete `paired` in limits.toml",
            faults,
        );
    }
}

/// The order in which a job happens: received, baseline, work, retest.
pub fn order_of_times(
    baseline: &Option<(Document, RunFile)>,
    work: &Option<(Document, WorkFile)>,
    retest: &Option<(Document, RunFile)>,
    head: Option<&Head>,
    faults: &mut Problems,
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
        document.fault(
            &[key],
            "the baseline is dated before the day the machine was received",
            "correct the time here, or `received` in job.toml",
            faults,
        );
    }
    for pair in stops.windows(2) {
        let (earlier, later) = (&pair[0], &pair[1]);
        if later.3 < earlier.3 {
            later.0.fault(
                &[later.1],
                format!(
                    "{} ({}) is before {} ({})",
                    later.2, later.3, earlier.2, earlier.3
                ),
                format!("correct it here or in {}", earlier.0.name()),
                faults,
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
