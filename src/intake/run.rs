//! `baseline.toml` and `retest.toml` → [`Run`].

use std::collections::BTreeMap;

use super::bench::Bench;
use super::problem::Problems;
use super::shapes::{ConditionValue, MeterTable, ReadingTable, RunFile};
use super::spelling::{listed, nearest};
use super::toml_document::Document;
use super::{common_checks, photos, reading, recordings, worked_out};
use crate::job::{ConditionKind, ConditionReading, Limits, Meter, Run};
use crate::quantity::{Dimension, Quantity, Unit};

/// One run.
pub fn run(
    document: &Document,
    shape: &RunFile,
    bench: &Bench<'_>,
    problems: &mut Problems,
) -> Option<Run> {
    let before = problems.len();
    let started = common_checks::moment(document, &["started"], shape.started, problems);
    let ended = shape
        .ended
        .and_then(|moment| common_checks::moment(document, &["ended"], moment, problems));
    let meter = shape
        .meter
        .as_ref()
        .and_then(|table| meter(document, table, bench.meter, problems));
    let conditions = conditions(document, &shape.condition, bench, problems);
    let mut readings = BTreeMap::new();
    let ids: Vec<&str> = bench
        .limits
        .measures
        .iter()
        .map(|measure| measure.id.as_str())
        .collect();
    for (id, table) in &shape.reading {
        let Some(measure) = bench.limits.measure(id) else {
            document.problem(
                &["reading", id],
                format!("limits.toml has no measure `{id}`"),
                match nearest(id, &ids) {
                    Some(near) => format!("did you mean `{near}`?"),
                    None => format!("it has {}", listed(&ids)),
                },
                problems,
            );
            continue;
        };
        if let Some(reading) = reading::reading(document, measure, table, bench, problems) {
            readings.insert(id.clone(), reading);
        }
    }
    let found = worked_out::Found {
        document,
        limits: bench.limits,
        readings: &readings,
        conditions: &conditions,
    };
    recordings::check_shown(document, shape, problems);
    if problems.len() == before {
        found.check(problems);
    }
    (problems.len() == before).then_some(())?;
    Some(Run {
        started: started?,
        ended,
        by: shape.by.clone(),
        witnesses: shape.witness.clone(),
        meter,
        remarks: shape.remarks.clone(),
        conditions,
        readings,
        photos: photos::named(&shape.photo),
        recordings: recordings::named(&shape.recording),
    })
}

/// How many of the measures that are read have a reading in the file, or a word why not, and
/// how many there are.
pub fn progress(shape: &RunFile, limits: &Limits) -> (usize, usize) {
    let read = limits
        .measures
        .iter()
        .filter(|measure| measure.worked_out.is_none());
    let (mut taken, mut planned) = (0, 0);
    for measure in read {
        planned += 1;
        let table = shape.reading.get(&measure.id);
        taken += usize::from(table.is_some_and(ReadingTable::is_filled_in));
    }
    (taken, planned)
}

fn meter(
    document: &Document,
    table: &MeterTable,
    planned: Option<Meter>,
    problems: &mut Problems,
) -> Option<Quantity> {
    let path = ["meter", "unit"];
    let unit = common_checks::unit(document, &path, &table.unit, problems)?;
    let (fits, hint) = match (planned, unit.dimension()) {
        (Some(Meter::None), _) => (false, "delete it, or correct `meter` in job.toml"),
        (Some(Meter::Hours), of) => (
            of == Dimension::Time,
            "use `h`, or correct `meter` in job.toml",
        ),
        (Some(Meter::Distance), of) => (
            of == Dimension::Length,
            "use `km` or `mi`, or correct `meter` in job.toml",
        ),
        (None, of) => (
            matches!(of, Dimension::Time | Dimension::Length),
            "use `h`, `km` or `mi`",
        ),
    };
    if !fits {
        let problem = match planned {
            Some(Meter::None) => "the machine has no meter, as job.toml says".to_owned(),
            Some(Meter::Hours | Meter::Distance) | None => {
                format!("this meter cannot count in `{}`", table.unit)
            }
        };
        document.problem(&path, problem, hint, problems);
        return None;
    }
    common_checks::quantity(document, &["meter", "value"], table.value, unit, problems)
}

fn conditions(
    document: &Document,
    tables: &BTreeMap<String, ConditionValue>,
    bench: &Bench<'_>,
    problems: &mut Problems,
) -> BTreeMap<String, ConditionReading> {
    let known = &bench.limits.conditions;
    let ids: Vec<&str> = known
        .iter()
        .map(|condition| condition.id.as_str())
        .collect();
    let mut found = BTreeMap::new();
    for (id, table) in tables {
        let Some(condition) = known.iter().find(|condition| condition.id == *id) else {
            document.problem(
                &["condition", id],
                format!("limits.toml has no condition `{id}`"),
                match nearest(id, &ids) {
                    Some(near) => format!("did you mean `{near}`?"),
                    None => format!("add a `[[condition]]` there; it has {}", listed(&ids)),
                },
                problems,
            );
            continue;
        };
        let reading = match &condition.kind {
            ConditionKind::Text => condition_text(document, id, table, problems),
            ConditionKind::Value { unit, .. } => {
                condition_value(document, id, table, unit, bench, problems)
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
    problems: &mut Problems,
) -> Option<ConditionReading> {
    match (&table.text, table.value) {
        (Some(text), None) => Some(ConditionReading::Text(text.clone())),
        _ => {
            document.problem(
                &["condition", id],
                format!("the condition `{id}` is in words"),
                "write `text = \"…\"`, or give it a `unit` in limits.toml",
                problems,
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
    problems: &mut Problems,
) -> Option<ConditionReading> {
    let (Some(value), Some(symbol), None) = (table.value, &table.unit, &table.text) else {
        document.problem(
            &["condition", id],
            format!("the condition `{id}` needs a value and its unit"),
            format!("write `{{ value = …, unit = \"{}\" }}`", unit.symbol()),
            problems,
        );
        return None;
    };
    let whose = format!("the condition `{id}`");
    let path = ["condition", id, "unit"];
    let written =
        common_checks::unit_of(document, &path, symbol, unit.dimension(), &whose, problems)?;
    if let Some(instrument) = &table.instrument {
        let path = ["condition", id, "instrument"];
        bench.check_instrument(document, &path, instrument, unit.dimension(), problems);
    }
    let path = ["condition", id, "value"];
    common_checks::quantity(document, &path, value, written, problems).map(|value| {
        ConditionReading::Value {
            value,
            instrument: table.instrument.clone(),
        }
    })
}
