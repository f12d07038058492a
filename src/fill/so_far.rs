//! What the job comes to so far: the same intake, the same judge and the same words as
//! everywhere, asked about a copy of the files in which what is not filled in yet is said not
//! to have been read. The copy is in memory only.

use std::collections::BTreeMap;

use chrono::{DateTime, FixedOffset};
use toml_edit::{Array, DocumentMut, InlineTable, Item, Table, Value};

use super::desk::Desk;
use super::document::is_at;
use crate::intake::{self, Inputs, Media, can_print};
use crate::job::{Baselined, Job, JobFile, Kind, Measure, Plan, Run, Shop, Stage};
use crate::judge::{doubts, judge};
use crate::seals::{Sealing, sealing};
use crate::view::{self, Material, ReceiptMaterial, ReceiptRow, Words, look_again};

/// Stands for what is not known yet.
const NOT_YET: &str = "…";

/// What the job comes to so far.
#[derive(Debug, Default)]
pub struct SoFar {
    /// In a sentence; empty while there is nothing to say.
    pub headline: String,
    /// One line each.
    pub lines: Vec<String>,
    /// What may have been misread, one sentence each, with a heading before them.
    pub look_again: Vec<String>,
}

/// The run of `stage` as far as it is filled in, where nothing of it is wrong.
pub fn run_so_far(desk: &Desk, stage: Stage, now: DateTime<FixedOffset>) -> Option<Run> {
    match stage {
        Stage::Baseline => Some(baselined(desk, now)?.baseline),
        Stage::Retest => Some(whole(desk, now)?.retest),
    }
}

/// What is known of one measure in a run: what was read, and whether it meets its limit.
pub fn of_measure(
    plan: &Plan,
    run: &Run,
    shop: &Shop,
    measure: &Measure,
    words: &Words,
) -> Vec<ReceiptRow> {
    let mut plan = plan.clone();
    plan.limits.measures.retain(|one| one.id == measure.id);
    rows(&plan, run, shop, words)
}

/// What the baseline comes to so far.
pub fn of_baseline(desk: &Desk, now: DateTime<FixedOffset>, words: &Words) -> SoFar {
    let (Some(job), Some(shop)) = (baselined(desk, now), &desk.shop) else {
        return SoFar::default();
    };
    let rows = rows(&job.plan, &job.baseline, shop, words);
    SoFar {
        headline: String::new(),
        lines: rows.iter().map(|row| line(row, words)).collect(),
        look_again: look(&job.plan, &job.baseline, words),
    }
}

/// What the whole job comes to so far.
pub fn of_job(desk: &Desk, now: DateTime<FixedOffset>, words: &Words) -> SoFar {
    let (Some(job), Some(shop)) = (whole(desk, now), &desk.shop) else {
        return SoFar::default();
    };
    let judgement = judge(&job);
    let material = Material {
        job: &job,
        shop,
        judgement: &judgement,
        inputs: Vec::new(),
        pictures: Vec::new(),
        logo: None,
        issued: now,
        sealing: sealing(&desk.chain, &BTreeMap::new(), job.work.started),
        signer: None,
    };
    let material = Material {
        // Whether the files are as they were sealed is for `check`; it reads the photos too.
        sealing: Sealing {
            broken: Vec::new(),
            ..material.sealing
        },
        ..material
    };
    let report = view::report(&material, words);
    // What is not known yet says nothing; it is in the list of what is missing.
    let (not_read, not_recorded) = (words.say("not-taken"), words.say("not-recorded"));
    let known = |row: &&view::ConditionRow| row.retest != not_recorded;
    let conditions = report.conditions.iter().filter(known).map(|row| {
        let (baseline, retest) = (&row.baseline, &row.retest);
        let arguments = [
            ("name", row.name.as_str()),
            ("before", baseline),
            ("after", retest),
            ("result", row.result.as_str()),
        ];
        words.say_with("fill-condition-so-far", &arguments)
    });
    let read = |row: &&view::MeasureRow| row.retest != not_read && !row.retest.is_empty();
    let measures = report.measures.iter().filter(read).map(|row| {
        let arguments = [
            ("name", row.name.as_str()),
            ("before", row.baseline.as_str()),
            ("after", row.retest.as_str()),
            ("result", row.result.as_str()),
        ];
        words.say_with("fill-measure-so-far", &arguments)
    });
    SoFar {
        headline: report.front.headline,
        lines: conditions.chain(measures).collect(),
        look_again: look(&job.plan, &job.retest, words),
    }
}

/// One measure of a run, in a line.
pub fn line(row: &ReceiptRow, words: &Words) -> String {
    let arguments = [
        ("name", row.name.as_str()),
        ("value", &row.figures()),
        ("result", row.standing.as_str()),
    ];
    words.say_with("fill-reading-so-far", &arguments)
}

fn look(plan: &Plan, run: &Run, words: &Words) -> Vec<String> {
    let found = doubts(&plan.instruments, &plan.limits, run);
    look_again(&found, &plan.limits, words)
}

fn rows(plan: &Plan, run: &Run, shop: &Shop, words: &Words) -> Vec<ReceiptRow> {
    let job = Baselined {
        plan: plan.clone(),
        baseline: run.clone(),
    };
    let material = ReceiptMaterial {
        job: &job,
        shop,
        logo: None,
        issued: run.started,
        sealing: &Sealing::default(),
        signer: None,
    };
    view::receipt(&material, words).rows
}

fn baselined(desk: &Desk, now: DateTime<FixedOffset>) -> Option<Baselined> {
    if let Some(job) = &desk.baselined {
        return Some(job.clone());
    }
    let files = texts(
        desk,
        &[(JobFile::Baseline, run(desk, JobFile::Baseline, now)?)],
    );
    let shop = shop_source();
    let inputs = Inputs {
        job: &files,
        shop: &shop,
    };
    let read = intake::read_baselined(inputs, &can_print, Media::Ignored);
    read.ok().map(|read| read.job)
}

fn whole(desk: &Desk, now: DateTime<FixedOffset>) -> Option<Job> {
    if let Some(job) = &desk.job {
        return Some(job.clone());
    }
    let files = texts(
        desk,
        &[
            (JobFile::Baseline, run(desk, JobFile::Baseline, now)?),
            (JobFile::Work, work(desk, now)?),
            (JobFile::Retest, run(desk, JobFile::Retest, now)?),
        ],
    );
    let shop = shop_source();
    let inputs = Inputs {
        job: &files,
        shop: &shop,
    };
    let read = intake::read_job(inputs, &can_print, Media::Ignored);
    read.ok().map(|read| read.job)
}

/// The shop is known already; intake asks for one all the same.
fn shop_source() -> BTreeMap<String, Vec<u8>> {
    let text = format!("format = 1\nname = \"{NOT_YET}\"\n");
    BTreeMap::from([(intake::SHOP_FILE.to_owned(), text.into_bytes())])
}

/// The files in memory, some of them replaced.
fn texts(desk: &Desk, replaced: &[(JobFile, DocumentMut)]) -> BTreeMap<String, Vec<u8>> {
    let files = desk.files.iter();
    let mut texts: BTreeMap<String, Vec<u8>> = files
        .map(|(file, now)| (file.name().to_owned(), now.bytes.clone()))
        .collect();
    for (file, document) in replaced {
        texts.insert(file.name().to_owned(), document.to_string().into_bytes());
    }
    texts
}

/// A run in which what is not filled in yet was not read.
fn run(desk: &Desk, file: JobFile, now: DateTime<FixedOffset>) -> Option<DocumentMut> {
    let mut document = desk.document(file)?.clone();
    let plan = desk.plan.as_ref()?;
    let root = document.as_table_mut();
    moment(root, "started", now);
    words_at(root, "by");
    root.remove("photo");
    root.remove("recording");
    let readings = root.entry("reading").or_insert_with(|| {
        let mut table = Table::new();
        table.set_implicit(true);
        Item::Table(table)
    });
    let readings = readings.as_table_like_mut()?;
    // Nor where the recordings show anything.
    for (_, reading) in readings.iter_mut() {
        if let Some(reading) = reading.as_table_like_mut() {
            reading.remove("recording");
            reading.remove("recording_at");
        }
    }
    for measure in &plan.limits.measures {
        if measure.worked_out.is_some() {
            readings.remove(&measure.id);
            continue;
        }
        let table = readings
            .get_mut(&measure.id)
            .and_then(Item::as_table_like_mut);
        let is_read = table.is_some_and(|table| match &measure.kind {
            Kind::ValueAt(scales) => complete(table, &scales.at.names),
            Kind::PassesAt { at, .. } => complete(table, &at.names),
            Kind::ExactAt(scales) => complete(table, &scales.at.names),
            Kind::Value(_)
            | Kind::Passes { .. }
            | Kind::Exact(_)
            | Kind::Rate(_)
            | Kind::List(_)
            | Kind::Smoke(_)
            | Kind::Text => FIGURES.iter().any(|key| table.contains_key(key)),
        });
        if !is_read {
            let mut table = InlineTable::new();
            table.insert("not_taken", Value::from(NOT_YET));
            readings.insert(&measure.id, Item::Value(Value::InlineTable(table)));
        }
    }
    Some(document)
}

/// The keys that make a reading.
const FIGURES: [&str; 13] = [
    "not_taken",
    "value",
    "values",
    "passes",
    "opacity_percent",
    "snaps_percent",
    "colour",
    "clear_seconds",
    "words",
    "text",
    "grade",
    "count",
    "items",
];

/// Completes the rows of a reading; whether there is any figure in them.
fn complete(table: &mut dyn toml_edit::TableLike, names: &[String]) -> bool {
    if table.contains_key("not_taken") {
        return true;
    }
    let Some(rows) = table.get_mut("rows").and_then(Item::as_array_mut) else {
        return false;
    };
    let mut done = Array::new();
    let mut any = false;
    for name in names {
        let mut there = rows.iter().filter_map(Value::as_inline_table);
        let found = there.find(|row| is_at(row, name));
        let row = match found {
            Some(row) if row.len() > 1 => {
                any = true;
                row.clone()
            }
            _ => {
                let mut row = InlineTable::new();
                let number = name.parse::<i64>();
                row.insert("at", number.map_or_else(|_| Value::from(name), Value::from));
                row.insert("not_taken", Value::from(NOT_YET));
                row
            }
        };
        done.push(row);
    }
    if any {
        *rows = done;
    }
    any
}

fn moment(table: &mut Table, key: &str, at: DateTime<FixedOffset>) {
    if table.get(key).and_then(Item::as_datetime).is_none()
        && let Ok(moment) = at.to_rfc3339().parse::<toml_edit::Datetime>()
    {
        table.insert(key, toml_edit::value(moment));
    }
}

fn words_at(table: &mut Table, key: &str) {
    if table
        .get(key)
        .and_then(Item::as_str)
        .is_none_or(str::is_empty)
    {
        table.insert(key, toml_edit::value(NOT_YET));
    }
}

/// The work, as far as it is written down.
fn work(desk: &Desk, now: DateTime<FixedOffset>) -> Option<DocumentMut> {
    let mut document = desk.document(JobFile::Work)?.clone();
    let started = desk.started(JobFile::Retest).unwrap_or(now);
    let root = document.as_table_mut();
    moment(root, "started", started);
    let began = root
        .get("started")
        .map(ToString::to_string)
        .unwrap_or_default();
    let began = DateTime::parse_from_rfc3339(began.trim()).unwrap_or(started);
    moment(root, "finished", began);
    words_at(root, "by");
    root.remove("photo");
    root.remove("recording");
    let first = root
        .get("intervention")
        .and_then(Item::as_array_of_tables)
        .and_then(|tables| tables.get(0))
        .and_then(|table| table.get("what"))
        .and_then(Item::as_str);
    if first.is_none_or(str::is_empty) {
        let mut table = Table::new();
        table.insert("what", toml_edit::value(NOT_YET));
        let mut tables = toml_edit::ArrayOfTables::new();
        tables.push(table);
        root.insert("intervention", Item::ArrayOfTables(tables));
    }
    Some(document)
}
