//! The table of all measures, one row each. Measures taken cylinder by cylinder
//! have tables of their own, in [`super::cylinders`].

use super::Material;
use super::before_after::{self, k_of_n};
use super::data::MeasureRow;
use super::dependence;
use super::figures;
use super::limits;
use super::words::Words;
use crate::job::{Count, DecisionRule, Kind, Measure, Observation, Run, Scale};
use crate::judge::{
    Change, Comparison, CountComparison, Finding, MeasureJudgement, Outcome, Standing, Zone,
    outcome,
};
use crate::quantity::Quantity;

/// Every measure that was judged, with what was found of it.
pub fn found<'a>(
    material: &'a Material<'_>,
) -> impl Iterator<Item = (&'a Measure, &'a MeasureJudgement)> {
    let limits = &material.job.limits;
    material
        .judgement
        .measures
        .iter()
        .filter_map(|found| Some((limits.measure(&found.id)?, found)))
}

/// The rows of the table.
pub fn rows(material: &Material<'_>, words: &Words) -> Vec<MeasureRow> {
    found(material)
        .flat_map(|(measure, found)| {
            let about = About {
                material,
                measure,
                words,
            };
            match (&found.finding, &measure.kind) {
                (Finding::Value(comparison), Kind::Value(scale)) => {
                    vec![about.value_row(&measure.name, comparison, scale)]
                }
                (Finding::Passes(count), Kind::Passes { min }) => {
                    vec![about.count_row(count, *min)]
                }
                (Finding::NotTaken, _) => vec![about.not_taken_row()],
                (Finding::Smoke(parts), _) => parts
                    .iter()
                    .map(|part| {
                        let name = limits::smoke_name(part, measure, words);
                        about.value_row(&name, &part.comparison, &part.scale)
                    })
                    .collect(),
                (Finding::Cylinders { cylinders, .. }, Kind::Cylinders(scale)) => {
                    vec![about.cylinders_row(found, cylinders_inside(cylinders, scale))]
                }
                (Finding::CylinderPasses { cylinders, .. }, Kind::CylinderPasses { min }) => {
                    vec![about.cylinders_row(found, Some(cylinders_passing(cylinders, *min)))]
                }
                _ => Vec::new(),
            }
        })
        .collect()
}

/// How many of how many cylinders are as they should be, before and after.
pub struct Share {
    /// Before and after.
    pub good: [usize; 2],
    /// Of how many.
    pub of: usize,
}

/// How many cylinders lie inside the bounds; none without bounds.
pub fn cylinders_inside(cylinders: &[Comparison], scale: &Scale) -> Option<Share> {
    scale.bounds?;
    let count = |place: fn(&Comparison) -> Option<Standing>| {
        cylinders
            .iter()
            .filter_map(place)
            .filter(|standing| standing.zone <= Zone::ConditionalPass)
            .count()
    };
    Some(Share {
        good: [count(|c| c.before), count(|c| c.after)],
        of: cylinders.len(),
    })
}

/// How many cylinders passed often enough; without a limit, every try.
pub fn cylinders_passing(cylinders: &[CountComparison], min: Option<u32>) -> Share {
    let enough = |count: Count| count.passes() >= min.unwrap_or(count.attempts());
    let count = |run: fn(&CountComparison) -> Count| {
        cylinders
            .iter()
            .filter(|cylinder| enough(run(cylinder)))
            .count()
    };
    Share {
        good: [count(|c| c.baseline), count(|c| c.retest)],
        of: cylinders.len(),
    }
}

/// "required", or nothing.
pub fn required(required: bool, words: &Words) -> String {
    if required {
        words.say("required")
    } else {
        String::new()
    }
}

/// How a measure was taken, and what was noted of its readings.
pub fn method(material: &Material<'_>, measure: &Measure, words: &Words) -> String {
    let job = material.job;
    let mut notes: Vec<String> = measure.method.clone().into_iter().collect();
    for (run, name) in [(&job.baseline, "run-baseline"), (&job.retest, "run-retest")] {
        let reading = run.readings.get(&measure.id);
        if let Some(note) = reading.and_then(|reading| reading.note.as_ref()) {
            let run = words.say(name);
            notes.push(words.say_with("run-note", &[("run", &run), ("note", note)]));
        }
    }
    notes.join(". ")
}

/// The baseline as it was written, where there is nothing to compare it with.
pub fn plain_baseline(material: &Material<'_>, measure: &Measure, words: &Words) -> String {
    let each = |values: &[Quantity]| {
        let values = values.iter().map(|value| figures::written(*value, words));
        values.collect::<Vec<_>>().join("; ")
    };
    let reading = material.job.baseline.readings.get(&measure.id);
    match reading.map(|reading| &reading.observation) {
        Some(Observation::Value(values)) => each(values),
        Some(Observation::Cylinders(cylinders)) => {
            let all = cylinders.iter().map(|(_, values)| each(values));
            all.collect::<Vec<_>>().join(" · ")
        }
        Some(Observation::Passes(count)) => of_tries(*count, words),
        Some(Observation::CylinderPasses(cylinders)) => {
            let all = cylinders.iter().map(|(_, count)| of_tries(*count, words));
            all.collect::<Vec<_>>().join(" · ")
        }
        Some(Observation::Smoke(smoke)) => {
            let all: Vec<Quantity> = smoke.opacity.iter().copied().chain(smoke.clear).collect();
            each(&all)
        }
        Some(Observation::Text(text)) => text.clone(),
        Some(Observation::NotTaken(_)) | None => String::new(),
    }
}

/// The instruments with which a measure was read, by the ids of the table of instruments;
/// an overdue one is called so.
fn read_with(material: &Material<'_>, id: &str, words: &Words) -> String {
    let job = material.job;
    let mut used: Vec<(&str, bool)> = Vec::new();
    for run in [&job.baseline, &job.retest] {
        let reading = run.readings.get(id);
        let ids = reading.map(|reading| [&reading.instrument, &reading.timer]);
        for id in ids.into_iter().flatten().flatten() {
            let overdue = is_overdue(material, run, id);
            match used.iter_mut().find(|(known, _)| known == id) {
                Some((_, known)) => *known |= overdue,
                None => used.push((id, overdue)),
            }
        }
    }
    named(&used, words)
}

/// Whether the calibration of an instrument was overdue in a run.
pub fn is_overdue(material: &Material<'_>, run: &Run, id: &str) -> bool {
    let due = material.job.instrument(id).and_then(|found| found.due);
    due.is_some_and(|due| run.started.date_naive() > due)
}

/// "With" and the ids of instruments, those that were overdue called so; may be empty.
pub fn named(used: &[(&str, bool)], words: &Words) -> String {
    let ids: Vec<String> = used
        .iter()
        .map(|(id, overdue)| {
            let message = if *overdue { "overdue-id" } else { "plain-id" };
            words.say_with(message, &[("id", id)])
        })
        .collect();
    if ids.is_empty() {
        return String::new();
    }
    words.say_with("read-with", &[("ids", &ids.join(", "))])
}

/// One measure, for the cells that are the same whatever its kind.
struct About<'a> {
    material: &'a Material<'a>,
    measure: &'a Measure,
    words: &'a Words,
}

impl About<'_> {
    fn value_row(&self, name: &str, comparison: &Comparison, scale: &Scale) -> MeasureRow {
        let unit = scale.unit;
        let limit = limits::of_scale(scale, self.words);
        MeasureRow {
            baseline: figures::value_pm(&comparison.baseline, unit, scale.bounds, self.words),
            retest: figures::value_pm(&comparison.retest, unit, scale.bounds, self.words),
            change: figures::difference_pm(&comparison.difference, unit, self.words),
            relative: comparison
                .relative
                .as_ref()
                .map_or_else(String::new, |relative| {
                    figures::percent_pm(relative, self.words)
                }),
            together: dependence::beside(comparison, self.words),
            // Where a figure of smoke has no limit, the source is that of another.
            source: if limit.is_empty() {
                String::new()
            } else {
                self.measure.source.clone().unwrap_or_default()
            },
            limit,
            result: result(comparison, self.material.judgement.fair, self.words),
            remark: comparison
                .after
                .map_or_else(String::new, |standing| probability(standing, self.words)),
            mark: mark_of(comparison, self.material.judgement.rule),
            strip: Some(before_after::of_comparison(
                name,
                comparison,
                unit,
                scale.bounds,
                self.words,
            )),
            ..self.row(limits::with_unit_of(name, unit))
        }
    }

    fn count_row(&self, count: &CountComparison, min: Option<u32>) -> MeasureRow {
        MeasureRow {
            baseline: of_tries(count.baseline, self.words),
            retest: of_tries(count.retest, self.words),
            result: count_result(count, self.material.judgement.fair, self.words),
            remark: interval(count, self.words),
            mark: limits::mark(count.outcome),
            strip: before_after::of_passes(&self.measure.name, count, min, self.words),
            ..self.row(self.measure.name.clone())
        }
    }

    /// The measure as a whole; each cylinder has a row in a table of its own.
    fn cylinders_row(&self, found: &MeasureJudgement, share: Option<Share>) -> MeasureRow {
        let words = self.words;
        let [baseline, retest] = share.map_or_else(<[String; 2]>::default, |share| {
            share.good.map(|good| k_of_n(good, share.of, words))
        });
        let name = if baseline.is_empty() {
            self.measure.name.clone()
        } else {
            words.say_with("cylinders-inside", &[("name", &self.measure.name)])
        };
        let mut row = self.row(name);
        if !row.limit.is_empty() {
            row.limit = words.say_with("cylinders-each", &[("limit", &row.limit)]);
        }
        MeasureRow {
            baseline,
            retest,
            result: limits::outcome(found.outcome, words),
            remark: words.say("see-cylinders"),
            mark: limits::mark(found.outcome),
            ..row
        }
    }

    fn not_taken_row(&self) -> MeasureRow {
        let reading = self.material.job.retest.readings.get(&self.measure.id);
        let why = match reading.map(|reading| &reading.observation) {
            Some(Observation::NotTaken(why)) => why.clone(),
            _ => String::new(),
        };
        MeasureRow {
            baseline: plain_baseline(self.material, self.measure, self.words),
            retest: self.words.say("not-taken"),
            result: self.words.say("not-taken"),
            remark: why,
            mark: limits::mark(Outcome::Undecided),
            ..self.row(self.measure.name.clone())
        }
    }

    fn row(&self, name: String) -> MeasureRow {
        MeasureRow {
            name,
            required: required(self.measure.required, self.words),
            baseline: String::new(),
            retest: String::new(),
            change: String::new(),
            relative: String::new(),
            together: String::new(),
            limit: limits::of_measure(self.measure, self.words),
            source: self.measure.source.clone().unwrap_or_default(),
            result: String::new(),
            remark: String::new(),
            mark: "none",
            method: method(self.material, self.measure, self.words),
            read_with: read_with(self.material, &self.measure.id, self.words),
            strip: None,
        }
    }
}

fn probability(standing: Standing, words: &Words) -> String {
    words.say_with(
        "probability",
        &[("p", &figures::probability(standing.conformity))],
    )
}

/// Zone at the limit, required improvement, and change, in words.
pub fn result(comparison: &Comparison, fair: bool, words: &Words) -> String {
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
        let moved = comparison.difference.value.abs() > comparison.difference.expanded;
        parts.push(if change == Change::NoDetectable && moved {
            words.say(moved_how(comparison))
        } else {
            limits::change(change, fair, words)
        });
    }
    if parts.is_empty() {
        parts.push(words.say("outcome-none"));
    }
    parts.join(" · ")
}

/// What became of a figure that moved by more than its uncertainty, and for two limits is
/// neither better nor worse.
fn moved_how(comparison: &Comparison) -> &'static str {
    let inside = |standing: Option<Standing>| {
        standing.is_some_and(|standing| standing.zone <= Zone::ConditionalPass)
    };
    let clear = [comparison.before, comparison.after].map(|standing| standing.map(|s| s.zone));
    match (inside(comparison.before), inside(comparison.after)) {
        _ if clear == [Some(Zone::Fail), Some(Zone::Pass)] => "change-outside-inside",
        (true, true) => "change-inside",
        (false, true) => "change-came-inside",
        (true, false) => "change-went-outside",
        (false, false) => "change-neither",
    }
}

/// The shape of the mark: the worse of limit and improvement, as the rule takes it.
pub fn mark_of(comparison: &Comparison, rule: DecisionRule) -> &'static str {
    let gain = comparison.gain.as_ref().and_then(|gain| gain.standing);
    let standings = [comparison.after, gain].into_iter().flatten();
    let worst = standings.map(|standing| outcome(standing.zone, rule)).max();
    limits::mark(worst.unwrap_or(Outcome::NotJudged))
}

/// Zone and change of a count. Counts are exact, so "pass" and "fail" need no guard; the change is a test.
pub fn count_result(count: &CountComparison, fair: bool, words: &Words) -> String {
    let at_limit = match count.outcome {
        Outcome::Pass => Some("zone-pass"),
        Outcome::Fail => Some("zone-fail"),
        _ => None,
    };
    let mut parts: Vec<String> = at_limit.into_iter().map(|id| words.say(id)).collect();
    parts.push(if count.can_show_a_change() {
        limits::change(count.change, fair, words)
    } else {
        words.say("change-too-few-attempts")
    });
    parts.join(" · ")
}

/// `4 of 6`.
pub fn of_tries(count: Count, words: &Words) -> String {
    words.say_with(
        "k-of-n",
        &[
            ("k", &count.passes().to_string()),
            ("n", &count.attempts().to_string()),
        ],
    )
}

fn interval(count: &CountComparison, words: &Words) -> String {
    let percent = |share: f64| figures::decimal(share * 100.0, 0, words);
    words.say_with(
        "count-interval",
        &[
            ("low", &percent(count.after.low)),
            ("high", &percent(count.after.high)),
        ],
    )
}
