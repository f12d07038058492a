//! The desk's pages: every measure, cylinder by cylinder, conditions,
//! instruments.

use super::Material;
use super::data::{
    Bar, Chart, ConditionRow, CylinderRow, CylinderTable, InstrumentRow, MeasureRow, Pair,
    RunColumn, TextRow,
};
use super::figures::{self, NBSP};
use super::front::run_name;
use super::limits;
use super::words::Words;
use crate::job::{
    Bounds, ConditionKind, ConditionReading, Instrument, Kind, Measure, Observation, Run, Scale,
};
use crate::judge::{
    Comparison, ConditionState, CountComparison, Finding, MeasureJudgement, Outcome, RunName,
    Standing,
};
use crate::quantity::{Quantity, Unit};

/// Customer, machine and dates.
pub fn about(material: &Material<'_>, words: &Words) -> Vec<Pair> {
    let Material { job, .. } = material;
    let machine = &job.machine;
    let mut makers: Vec<String> =
        [&machine.maker, &machine.model].into_iter().flatten().cloned().collect();
    if let Some(serial) = &machine.serial {
        makers.push(words.say_with("serial", &[("serial", serial)]));
    }
    let mut customer = vec![job.customer.name.clone()];
    customer.extend(job.customer.contact.clone());
    let rows = [
        ("about-customer", customer.join(" · ")),
        ("about-machine", machine.name.clone()),
        ("about-identity", makers.join(", ")),
        ("about-details", machine.details.clone().unwrap_or_default()),
        (
            "about-received",
            job.received.map_or_else(String::new, |day| figures::day(day, words)),
        ),
    ];
    rows.into_iter()
        .filter(|(_, text)| !text.is_empty())
        .map(|(label, text)| Pair {
            label: words.say(label),
            text,
        })
        .collect()
}

/// The measures that are not taken cylinder by cylinder, with what was found.
fn found<'a>(
    material: &'a Material<'_>,
) -> impl Iterator<Item = (&'a Measure, &'a MeasureJudgement)> {
    let limits = &material.job.limits;
    material
        .judgement
        .measures
        .iter()
        .filter_map(|found| Some((limits.measure(&found.id)?, found)))
}

/// The table of all measures; cylinders have their own.
pub fn measures(material: &Material<'_>, words: &Words) -> Vec<MeasureRow> {
    let fair = material.judgement.fair;
    found(material)
        .flat_map(|(measure, found)| match (&found.finding, &measure.kind) {
            (Finding::Value(comparison), Kind::Value(scale)) => {
                let mut row = comparison_row(&measure.name, comparison, scale, fair, words);
                complete(&mut row, measure, found, words);
                vec![row]
            }
            (Finding::Passes(count), _) => {
                let mut row = count_row(&measure.name, count, measure, words);
                complete(&mut row, measure, found, words);
                vec![row]
            }
            (Finding::Smoke { opacity, clear }, Kind::Smoke { max_opacity, max_clear }) => {
                let parts = [
                    (opacity, *max_opacity, "%", "smoke-opacity"),
                    (clear, *max_clear, "s", "smoke-clear"),
                ];
                parts
                    .into_iter()
                    .filter_map(|(comparison, max, unit, id)| {
                        let scale = smoke_scale(unit, max)?;
                        let name = words.say_with(id, &[("name", &measure.name)]);
                        let comparison = comparison.as_ref()?;
                        let mut row = comparison_row(&name, comparison, &scale, fair, words);
                        complete(&mut row, measure, found, words);
                        Some(row)
                    })
                    .collect()
            }
            _ => Vec::new(),
        })
        .map(|mut row| {
            let notes = notes_of(material, &row.method, words);
            row.method = notes;
            row
        })
        .collect()
}

/// Fills in what a row says of its measure rather than of its figures. The id
/// travels in `method` until the notes are looked up.
fn complete(row: &mut MeasureRow, measure: &Measure, found: &MeasureJudgement, words: &Words) {
    row.required = required(found.required, words);
    row.source = measure.source.clone().unwrap_or_default();
    row.method = measure.id.clone();
}

fn notes_of(material: &Material<'_>, id: &str, words: &Words) -> String {
    let job = material.job;
    let mut notes: Vec<String> =
        job.limits.measure(id).and_then(|measure| measure.method.clone()).into_iter().collect();
    for (run, name) in [(&job.baseline, RunName::Baseline), (&job.retest, RunName::Retest)] {
        if let Some(note) = run.readings.get(id).and_then(|reading| reading.note.as_ref()) {
            let run = run_name(name, words);
            notes.push(words.say_with("run-note", &[("run", &run), ("note", note)]));
        }
    }
    notes.join(". ")
}

fn smoke_scale(unit: &str, max: Option<Quantity>) -> Option<Scale> {
    Some(Scale {
        unit: Unit::named(unit)?,
        better: Some(crate::job::Better::Lower),
        bounds: Bounds::new(None, max),
        improvement: None,
    })
}

fn required(required: bool, words: &Words) -> String {
    if required { words.say("required") } else { String::new() }
}

fn comparison_row(
    name: &str,
    comparison: &Comparison,
    scale: &Scale,
    fair: bool,
    words: &Words,
) -> MeasureRow {
    let unit = scale.unit;
    let rule_words = result(comparison, fair, words);
    MeasureRow {
        name: limits::with_unit_of(name, unit),
        required: String::new(),
        baseline: figures::value_pm(&comparison.baseline, unit, scale.bounds),
        retest: figures::value_pm(&comparison.retest, unit, scale.bounds),
        change: figures::difference_pm(&comparison.difference, unit),
        relative: comparison.relative.as_ref().map_or_else(String::new, figures::percent_pm),
        limit: limits::of_scale(scale, words),
        source: String::new(),
        result: rule_words,
        probability: comparison.after.map_or_else(String::new, |standing| {
            probability(standing, words)
        }),
        mark: mark_of(comparison),
        method: String::new(),
    }
}

fn probability(standing: Standing, words: &Words) -> String {
    words.say_with("probability", &[("p", &figures::probability(standing.conformity))])
}

/// Zone at the limit, required improvement, and change, in words.
fn result(comparison: &Comparison, fair: bool, words: &Words) -> String {
    let mut parts = Vec::new();
    if let Some(after) = comparison.after {
        parts.push(limits::zone(after.zone, words));
    }
    if let Some(gain) = &comparison.gain {
        let zone = gain.standing.map_or_else(
            || words.say("gain-unknown"),
            |standing| limits::zone(standing.zone, words),
        );
        parts.push(words.say_with("gain", &[("zone", &zone)]));
    }
    if let Some(change) = comparison.change {
        parts.push(limits::change(change, fair, words));
    }
    if parts.is_empty() {
        parts.push(words.say("outcome-none"));
    }
    parts.join(" · ")
}

fn mark_of(comparison: &Comparison) -> &'static str {
    use crate::judge::Zone;
    let gain = comparison.gain.as_ref().and_then(|gain| gain.standing);
    let worst = [comparison.after, gain].into_iter().flatten().map(|s| s.zone).max();
    match worst {
        None => "none",
        Some(Zone::Pass) => "pass",
        Some(Zone::ConditionalPass) => "narrow",
        Some(Zone::ConditionalFail) => "open",
        Some(Zone::Fail) => "fail",
    }
}

fn count_row(name: &str, count: &CountComparison, measure: &Measure, words: &Words) -> MeasureRow {
    MeasureRow {
        name: name.to_owned(),
        required: String::new(),
        baseline: of_tries(count.baseline, words),
        retest: of_tries(count.retest, words),
        change: String::new(),
        relative: interval(count, words),
        limit: limits::of_measure(measure, words),
        source: String::new(),
        result: count_result(count, words),
        probability: String::new(),
        mark: limits::mark(count.outcome),
        method: String::new(),
    }
}

/// Counts are exact, so "pass" and "fail" need no guard; the change is a test.
fn count_result(count: &CountComparison, words: &Words) -> String {
    let at_limit = match count.outcome {
        Outcome::Pass => Some("zone-pass"),
        Outcome::Fail => Some("zone-fail"),
        _ => None,
    };
    let mut parts: Vec<String> = at_limit.into_iter().map(|id| words.say(id)).collect();
    parts.push(limits::change(count.change, true, words));
    parts.join(" · ")
}

fn of_tries(count: crate::job::Count, words: &Words) -> String {
    words.say_with(
        "k-of-n",
        &[("k", &count.passes().to_string()), ("n", &count.tries().to_string())],
    )
}

fn interval(count: &CountComparison, words: &Words) -> String {
    let percent = |share: f64| crate::quantity::to_decimals(share * 100.0, 0);
    words.say_with(
        "count-interval",
        &[("low", &percent(count.after.low)), ("high", &percent(count.after.high))],
    )
}

/// Every measure that is taken cylinder by cylinder.
pub fn cylinders(material: &Material<'_>, words: &Words) -> Vec<CylinderTable> {
    found(material)
        .filter_map(|(measure, found)| {
            let (name, rows, chart) = match (&found.finding, &measure.kind) {
                (Finding::Cylinders(cylinders), Kind::Cylinders(scale)) => (
                    limits::with_unit_of(&measure.name, scale.unit),
                    value_rows(material, cylinders, scale, words),
                    value_chart(&measure.name, cylinders, scale, words),
                ),
                (Finding::CylinderPasses(cylinders), Kind::CylinderPasses { min }) => (
                    measure.name.clone(),
                    count_rows(cylinders, words),
                    count_chart(&measure.name, cylinders, *min, words),
                ),
                _ => return None,
            };
            let mut limit = limits::of_measure(measure, words);
            if let Some(source) = &measure.source {
                limit = words.say_with("limit-source", &[("limit", &limit), ("source", source)]);
            }
            let mut result = vec![limits::outcome(found.outcome, words)];
            if let Some(change) = found.change {
                result.push(limits::change(change, material.judgement.fair, words));
            }
            if found.required {
                result.insert(0, words.say("required"));
            }
            Some(CylinderTable {
                name,
                limit,
                method: notes_of(material, &measure.id, words),
                result: result.join(" · "),
                rows,
                chart,
            })
        })
        .collect()
}

fn value_rows(
    material: &Material<'_>,
    cylinders: &[Comparison],
    scale: &Scale,
    words: &Words,
) -> Vec<CylinderRow> {
    cylinders
        .iter()
        .enumerate()
        .map(|(index, comparison)| CylinderRow {
            cylinder: (index + 1).to_string(),
            baseline: figures::value_pm(&comparison.baseline, scale.unit, scale.bounds),
            retest: figures::value_pm(&comparison.retest, scale.unit, scale.bounds),
            change: figures::difference_pm(&comparison.difference, scale.unit),
            result: result(comparison, material.judgement.fair, words),
            mark: mark_of(comparison),
        })
        .collect()
}

fn count_rows(cylinders: &[CountComparison], words: &Words) -> Vec<CylinderRow> {
    cylinders
        .iter()
        .enumerate()
        .map(|(index, count)| CylinderRow {
            cylinder: (index + 1).to_string(),
            baseline: of_tries(count.baseline, words),
            retest: of_tries(count.retest, words),
            change: String::new(),
            result: count_result(count, words),
            mark: limits::mark(count.outcome),
        })
        .collect()
}

fn value_chart(name: &str, cylinders: &[Comparison], scale: &Scale, words: &Words) -> Chart {
    let unit = scale.unit;
    let end = |quantity: Option<Quantity>| quantity.map(|q| unit.from_si(q.si()));
    let bars = cylinders
        .iter()
        .enumerate()
        .map(|(index, comparison)| Bar {
            cylinder: (index + 1).to_string(),
            before: unit.from_si(comparison.baseline.value),
            after: unit.from_si(comparison.retest.value),
            before_text: bare(figures::value(&comparison.baseline, unit, scale.bounds)),
            after_text: bare(figures::value(&comparison.retest, unit, scale.bounds)),
        })
        .collect();
    let limit = scale.bounds.map(|b| limits::bounds(b, unit, words));
    chart(
        name,
        unit.symbol(),
        bars,
        [
            end(scale.bounds.and_then(|b| b.min())),
            end(scale.bounds.and_then(|b| b.max())),
        ],
        limit,
        words,
    )
}

fn count_chart(
    name: &str,
    cylinders: &[CountComparison],
    min: Option<u32>,
    words: &Words,
) -> Chart {
    let bars = cylinders
        .iter()
        .enumerate()
        .map(|(index, count)| Bar {
            cylinder: (index + 1).to_string(),
            before: count.baseline.passes().into(),
            after: count.retest.passes().into(),
            before_text: of_tries(count.baseline, words),
            after_text: of_tries(count.retest, words),
        })
        .collect();
    let limit = min.map(|min| words.say_with("limit-passes", &[("min", &min.to_string())]));
    chart(name, "", bars, [min.map(f64::from), None], limit, words)
}

fn chart(
    name: &str,
    unit: &str,
    bars: Vec<Bar>,
    [min, max]: [Option<f64>; 2],
    limit: Option<String>,
    words: &Words,
) -> Chart {
    let each: Vec<String> = bars
        .iter()
        .map(|bar| {
            words.say_with(
                "chart-alt-cylinder",
                &[
                    ("cylinder", &bar.cylinder),
                    ("before", &bar.before_text),
                    ("after", &bar.after_text),
                ],
            )
        })
        .collect();
    let limit = limit.unwrap_or_else(|| words.say("limit-none"));
    let alt = words.say_with(
        "chart-alt",
        &[("name", name), ("unit", unit), ("limit", &limit), ("each", &each.join("; "))],
    );
    Chart {
        unit: unit.to_owned(),
        bars,
        min,
        max,
        alt,
    }
}

/// A figure without the unit that [`figures::value`] sets behind it.
fn bare(figure: String) -> String {
    figure.split(NBSP).next().unwrap_or_default().to_owned()
}

/// Measures in words, and words that came with a smoke reading.
pub fn texts(material: &Material<'_>) -> Vec<TextRow> {
    let job = material.job;
    job.limits
        .measures
        .iter()
        .filter_map(|measure| {
            let text = |run: &Run| match run.readings.get(&measure.id).map(|r| &r.observation) {
                Some(Observation::Text(text)) => Some(text.clone()),
                Some(Observation::Smoke(smoke)) => {
                    let appearance = smoke.appearance.as_ref();
                    let mut parts: Vec<String> =
                        appearance.map(|a| a.colour.clone()).into_iter().collect();
                    if let Some(number) = appearance.and_then(|a| a.ringelmann) {
                        parts.push(format!("Ringelmann{NBSP}{}", figures::as_written(number)));
                    }
                    parts.extend(smoke.words.clone());
                    (!parts.is_empty()).then(|| parts.join("; "))
                }
                _ => None,
            };
            let (baseline, retest) = (text(&job.baseline), text(&job.retest));
            (baseline.is_some() || retest.is_some()).then(|| TextRow {
                name: measure.name.clone(),
                baseline: baseline.unwrap_or_else(|| "–".to_owned()),
                retest: retest.unwrap_or_else(|| "–".to_owned()),
            })
        })
        .collect()
}

/// Conditions side by side.
pub fn conditions(material: &Material<'_>, words: &Words) -> Vec<ConditionRow> {
    let Material { job, judgement, .. } = material;
    job.limits
        .conditions
        .iter()
        .zip(&judgement.conditions)
        .map(|(condition, found)| {
            let (mark, id) = match found.state {
                ConditionState::Matched => ("matched", "condition-matched"),
                ConditionState::Harder => ("harder", "condition-harder"),
                ConditionState::Easier => ("easier", "condition-easier"),
                ConditionState::Unknown => ("unknown", "condition-unknown"),
            };
            let shown = |run: &Run| match (run.conditions.get(&condition.id), &condition.kind) {
                (Some(ConditionReading::Value { value, .. }), ConditionKind::Value { unit, .. }) => {
                    figures::written_in(*value, unit)
                }
                (Some(ConditionReading::Text(text)), _) => text.clone(),
                _ => words.say("not-recorded"),
            };
            ConditionRow {
                name: condition.name.clone(),
                required: required(condition.required, words),
                baseline: shown(&job.baseline),
                retest: shown(&job.retest),
                window: match &condition.kind {
                    ConditionKind::Value { unit, window, .. } => {
                        let window = figures::as_written(unit.difference_from_si(*window));
                        let window = figures::with_unit(&window, unit.of_differences());
                        words.say_with("window", &[("window", &window)])
                    }
                    ConditionKind::Text => words.say("window-same"),
                },
                result: words.say(id),
                mark,
            }
        })
        .collect()
}

/// The two runs: when, by whom, seen by whom.
pub fn runs(material: &Material<'_>, words: &Words) -> Vec<RunColumn> {
    let job = material.job;
    [(&job.baseline, RunName::Baseline), (&job.retest, RunName::Retest)]
        .into_iter()
        .map(|(run, name)| {
            let rows = [
                ("run-started", Some(figures::moment(run.started, words))),
                ("run-ended", run.ended.map(|ended| figures::moment(ended, words))),
                ("run-by", Some(run.by.clone())),
                (
                    "run-witness",
                    (!run.witnesses.is_empty()).then(|| run.witnesses.join("; ")),
                ),
                ("run-meter", run.meter.map(figures::written)),
                ("run-remark", run.note.clone()),
            ];
            RunColumn {
                name: run_name(name, words),
                rows: rows
                    .into_iter()
                    .filter_map(|(id, text)| {
                        Some(Pair {
                            label: words.say(id),
                            text: text?,
                        })
                    })
                    .collect(),
            }
        })
        .collect()
}

/// The instruments that were used.
pub fn instruments(material: &Material<'_>, words: &Words) -> Vec<InstrumentRow> {
    let job = material.job;
    job.instruments
        .iter()
        .filter(|instrument| job.baseline.uses(&instrument.id) || job.retest.uses(&instrument.id))
        .map(|instrument| InstrumentRow {
            id: instrument.id.clone(),
            kind: match &instrument.serial {
                Some(serial) => {
                    let serial = words.say_with("serial", &[("serial", serial)]);
                    format!("{}, {serial}", instrument.kind)
                }
                None => instrument.kind.clone(),
            },
            errors: errors(instrument, words),
            calibrated: calibration(instrument, job.retest.started.date_naive(), words),
        })
        .collect()
}

fn errors(instrument: &Instrument, words: &Words) -> String {
    let unit = instrument.unit;
    let figure = |si: f64| {
        let figure = figures::as_written(unit.difference_from_si(si));
        figures::with_unit(&figure, unit.of_differences())
    };
    let percent = |fraction: f64| {
        figures::with_unit(&figures::as_written(fraction * 100.0), "%")
    };
    let mut parts = Vec::new();
    let accuracy = match (instrument.accuracy_of_reading, instrument.accuracy) {
        (Some(share), Some(fixed)) => Some(words.say_with(
            "error-both",
            &[("percent", &percent(share)), ("fixed", &figure(fixed))],
        )),
        (Some(share), None) => {
            Some(words.say_with("error-percent", &[("percent", &percent(share))]))
        }
        (None, Some(fixed)) => Some(words.say_with("error-fixed", &[("fixed", &figure(fixed))])),
        (None, None) => None,
    };
    parts.extend(accuracy);
    if let Some(step) = instrument.resolution {
        parts.push(words.say_with("error-resolution", &[("step", &figure(step))]));
    }
    if let Some(u) = instrument.hand_timing {
        let u = figures::with_unit(&figures::as_written(u), "s");
        parts.push(words.say_with("error-hand", &[("u", &u)]));
    }
    if let Some(stated) = instrument.stated {
        let k = figures::as_written(stated.k);
        parts.push(words.say_with(
            "error-stated",
            &[("u", &figure(stated.expanded)), ("k", &k)],
        ));
    }
    parts.join("; ")
}

fn calibration(instrument: &Instrument, used: chrono::NaiveDate, words: &Words) -> String {
    let calibrated = instrument.calibrated.map(|day| figures::day(day, words));
    let due = instrument.due.map(|day| figures::day(day, words));
    let overdue = instrument.due.is_some_and(|due| due < used);
    match (calibrated, due) {
        (None, None) => words.say("calibration-none"),
        (Some(day), None) => day,
        (day, Some(due)) => {
            let id = if overdue { "calibration-overdue" } else { "calibration-due" };
            let due = words.say_with(id, &[("due", &due)]);
            day.map_or_else(|| due.clone(), |day| format!("{day}, {due}"))
        }
    }
}
