//! The table of all measures, one row each. Measures read at several positions
//! have tables of their own, in [`super::positions`].

use super::Material;
use super::before_after;
use super::data::{MeasureRow, TextRow};
use super::dependence;
use super::exact;
use super::figures::{self, NBSP};
use super::formula;
use super::instruments;
use super::limits;
use super::places;
use super::variation;
use super::words::Words;
use crate::job::{Count, Entry, ExactScale, Measure, Observation, Positions, Run, ShownIn};
use crate::judge::{
    Alone, Comparison, CountComparison, ExactPair, ListComparison, MeasureFinding,
    MeasureJudgement, Outcome, RunFigure, Share, Should, Standing, ValueAlone, figures_of_run,
};
use crate::quantity::Quantity;

/// The rows of the table.
pub fn rows(material: &Material<'_>, words: &Words) -> Vec<MeasureRow> {
    material
        .found()
        .flat_map(|(measure, found)| {
            let about = About {
                material,
                measure,
                found,
                words,
            };
            match &found.finding {
                MeasureFinding::Value(comparison) => {
                    vec![about.value_row(&measure.name, comparison)]
                }
                MeasureFinding::Passes(count) => vec![about.count_row(count)],
                MeasureFinding::AfterOnly { figures, why, .. } => {
                    vec![about.after_only_row(figures, why)]
                }
                MeasureFinding::NotTaken { why } => vec![about.not_taken_row(why)],
                MeasureFinding::Exact(scale, pair) => vec![about.exact_row(scale, pair)],
                MeasureFinding::ExactAt(exacts) => {
                    vec![about.positions_row(&exacts.scales.at, exacts.meeting.as_ref())]
                }
                MeasureFinding::Rate(rate) => {
                    let row = about.row(exact::rate_name(&measure.name, &rate.scale, words));
                    vec![exact::rate_row(rate, row, words)]
                }
                MeasureFinding::List(list) => vec![about.list_row(list)],
                MeasureFinding::Smoke { parts, .. } => parts
                    .iter()
                    .map(|part| {
                        let name = limits::smoke_name(part.part, part.path, &measure.name, words);
                        about.value_row(&name, &part.comparison)
                    })
                    .collect(),
                MeasureFinding::ValueAt(values) => {
                    vec![about.positions_row(&values.scales.at, values.inside.as_ref())]
                }
                MeasureFinding::PassesAt(counts) => {
                    vec![about.positions_row(&counts.at, Some(&counts.passing))]
                }
                // These have a table of their own.
                MeasureFinding::Text => Vec::new(),
            }
        })
        .collect()
}

/// Measures in words, words that came with a smoke reading, and the entries of lists.
pub fn texts(material: &Material<'_>, words: &Words) -> Vec<TextRow> {
    let job = material.job;
    let texts = job.plan.limits.measures.iter().filter_map(|measure| {
        let text = |run: &Run| text_of(run, measure, words);
        let (baseline, retest) = (text(&job.baseline), text(&job.retest));
        (baseline.is_some() || retest.is_some()).then(|| TextRow {
            name: measure.name.clone(),
            baseline: baseline.unwrap_or_else(|| "–".to_owned()),
            retest: retest.unwrap_or_else(|| "–".to_owned()),
        })
    });
    let lists = material
        .found()
        .flat_map(|(measure, found)| match &found.finding {
            MeasureFinding::List(list) => exact::list_texts(measure, list, words),
            MeasureFinding::Value(_)
            | MeasureFinding::ValueAt(_)
            | MeasureFinding::Passes(_)
            | MeasureFinding::PassesAt(_)
            | MeasureFinding::Exact(..)
            | MeasureFinding::ExactAt(_)
            | MeasureFinding::Rate(_)
            | MeasureFinding::Smoke { .. }
            | MeasureFinding::Text
            | MeasureFinding::AfterOnly { .. }
            | MeasureFinding::NotTaken { .. } => Vec::new(),
        });
    texts.chain(lists).collect()
}

/// What a run says of a measure in words.
fn text_of(run: &Run, measure: &Measure, words: &Words) -> Option<String> {
    match &run.readings.get(&measure.id)?.observation {
        Observation::Text(text) => Some(text.clone()),
        Observation::Smoke(smoke) => {
            let appearance = smoke.appearance.as_ref();
            let mut parts: Vec<String> = appearance.map(|a| a.colour.clone()).into_iter().collect();
            if let Some(number) = appearance.and_then(|a| a.ringelmann) {
                parts.push(format!(
                    "Ringelmann{NBSP}{}",
                    figures::digits(number, words)
                ));
            }
            parts.extend(smoke.words.clone());
            (!parts.is_empty()).then(|| parts.join("; "))
        }
        Observation::Value(_)
        | Observation::ValueAt(_)
        | Observation::Passes(_)
        | Observation::PassesAt(_)
        | Observation::Exact(_)
        | Observation::ExactAt(_)
        | Observation::Rate(_)
        | Observation::List(_)
        | Observation::NotTaken(_) => None,
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
    let worked_out = measure.worked_out.as_ref();
    let worked_out = worked_out.map(|it| formula::text(it, &job.plan.limits, words));
    let against = limits::measured_against(measure, words);
    let mut notes: Vec<String> = worked_out
        .into_iter()
        .chain(against)
        .chain(measure.method.clone())
        .collect();
    for (run, name) in [(&job.baseline, "run-baseline"), (&job.retest, "run-retest")] {
        let reading = run.readings.get(&measure.id);
        if let Some(note) = reading.and_then(|reading| reading.note.as_ref()) {
            let run = words.say(name);
            notes.push(words.say_with("run-note", &[("run", &run), ("note", note)]));
        }
        if let Some(shown) = reading.and_then(|reading| reading.shown_in.as_ref()) {
            let (run, film) = (words.say(name), shown_in(shown, words));
            notes.push(words.say_with("run-note", &[("run", &run), ("note", &film)]));
        }
    }
    notes.join(". ")
}

/// The recording that shows a reading, and when.
fn shown_in(shown: &ShownIn, words: &Words) -> String {
    match shown.time() {
        None => words.say_with("shown-in", &[("file", &shown.file)]),
        Some(time) => words.say_with("shown-in-at", &[("file", &shown.file), ("time", &time)]),
    }
}

/// Both readings as they were written, where one of them was not taken; of a figure that is
/// worked out, what came out.
pub fn plain(material: &Material<'_>, measure: &Measure, words: &Words) -> [String; 2] {
    let job = material.job;
    [&job.baseline, &job.retest].map(|run| match &measure.worked_out {
        None => plain_reading(run, measure, words),
        Some(_) => worked_out(&figures_of_run(&job.plan, measure, run), words),
    })
}

fn worked_out(figures: &[RunFigure], words: &Words) -> String {
    let one = |value: &ValueAlone| {
        let ValueAlone { scale, found, .. } = value;
        figures::value_pm_with_unit(found, scale.unit, scale.bounds, words)
    };
    let each: Vec<String> = figures
        .iter()
        .flat_map(|figure| match figure {
            RunFigure::Alone(Alone::Value(value)) => vec![one(value)],
            RunFigure::ValueAt(_, each) => each.iter().filter_map(Entry::taken).map(one).collect(),
            RunFigure::Alone(_) | RunFigure::PassesAt(..) | RunFigure::ExactAt(..) => Vec::new(),
        })
        .collect();
    if each.is_empty() {
        return words.say("not-taken");
    }
    each.join(" · ")
}

fn plain_reading(run: &Run, measure: &Measure, words: &Words) -> String {
    let each = |values: &[Quantity]| written(values, words);
    let reading = run.readings.get(&measure.id);
    match reading.map(|reading| &reading.observation) {
        Some(Observation::Value(values)) => each(values),
        Some(Observation::ValueAt(values)) => {
            let all = values.taken().map(|values| each(values));
            all.collect::<Vec<_>>().join(" · ")
        }
        Some(Observation::Passes(count)) => of_attempts(*count, words),
        Some(Observation::PassesAt(counts)) => {
            let all = counts.taken().map(|count| of_attempts(*count, words));
            all.collect::<Vec<_>>().join(" · ")
        }
        Some(Observation::Exact(read)) => exact::of_kind(&measure.kind, *read, words),
        Some(Observation::ExactAt(all)) => {
            let all = all
                .taken()
                .map(|read| exact::of_kind(&measure.kind, *read, words));
            all.collect::<Vec<_>>().join(" · ")
        }
        Some(Observation::Rate(counted)) => words.say_with(
            "rate-counted",
            &[
                ("count", &counted.count.to_string()),
                ("over", &figures::written(counted.over, words)),
            ],
        ),
        Some(Observation::List(items)) => exact::entries(items, words),
        Some(Observation::Smoke(smoke)) => {
            let all: Vec<Quantity> = smoke.opacity.iter().copied().chain(smoke.clear).collect();
            each(&all)
        }
        Some(Observation::Text(text)) => text.clone(),
        Some(Observation::NotTaken(_)) | None => words.say("not-taken"),
    }
}

/// Every reading as it was written, of each run that has several.
pub fn repeats(material: &Material<'_>, measure: &Measure, words: &Words) -> String {
    let job = material.job;
    let runs = [&job.baseline, &job.retest].map(|run| repeats_of(run, measure, words));
    match runs {
        [Some(before), Some(after)] => {
            words.say_with("repeats", &[("before", &before), ("after", &after)])
        }
        [Some(before), None] => words.say_with("repeats-before", &[("before", &before)]),
        [None, Some(after)] => words.say_with("repeats-after", &[("after", &after)]),
        [None, None] => String::new(),
    }
}

/// The readings of a run; none where it has no more than one, or was read otherwise.
pub fn repeats_of(run: &Run, measure: &Measure, words: &Words) -> Option<String> {
    let each = |values: &[Quantity]| written(values, words);
    match &run.readings.get(&measure.id)?.observation {
        Observation::Value(values) => has_several(values).then(|| each(values)),
        Observation::ValueAt(values) => {
            let at = measure.kind.at()?;
            let several = values
                .taken()
                .map(|values| has_several(values))
                .reduce(bool::max);
            let each = values.iter().enumerate().map(|(place, entry)| {
                let name = places::setting(at, place, words);
                let none = || words.say("not-taken");
                let read = entry.taken().map_or_else(none, |values| each(values));
                format!("{name}:{NBSP}{read}")
            });
            several?.then(|| each.collect::<Vec<_>>().join(" · "))
        }
        Observation::Smoke(smoke) => has_several(&smoke.opacity).then(|| each(&smoke.opacity)),
        Observation::Passes(_)
        | Observation::PassesAt(_)
        | Observation::Exact(_)
        | Observation::ExactAt(_)
        | Observation::Rate(_)
        | Observation::List(_)
        | Observation::Text(_)
        | Observation::NotTaken(_) => None,
    }
}

/// Readings as they were written.
fn written(values: &[Quantity], words: &Words) -> String {
    let values = values.iter().map(|value| figures::written(*value, words));
    values.collect::<Vec<_>>().join("; ")
}

fn has_several(values: &[Quantity]) -> bool {
    values.len() > 1
}

/// The name of a measure that counts the positions within their limits.
pub fn positions_inside(name: &str, at: &Positions, words: &Words) -> String {
    let many = places::many(at, words);
    words.say_with("positions-inside", &[("name", name), ("many", &many)])
}

/// What the rule makes of a reading at its limit, with the probability that it is inside.
pub fn at_limit(standing: Option<Standing>, outcome: Outcome, words: &Words) -> String {
    let mut parts = vec![limits::outcome(outcome, words)];
    parts.extend(standing.map(|standing| probability(standing, words)));
    parts.join(" · ")
}

/// One measure, for the cells that are the same whatever its kind.
struct About<'a> {
    material: &'a Material<'a>,
    measure: &'a Measure,
    found: &'a MeasureJudgement,
    words: &'a Words,
}

impl About<'_> {
    fn value_row(&self, name: &str, comparison: &Comparison) -> MeasureRow {
        let scale = &comparison.scale;
        let unit = scale.unit;
        let limit = limits::of_comparison(comparison, &self.material.job.plan.limits, self.words);
        MeasureRow {
            baseline: figures::value_pm(
                &comparison.baseline,
                unit,
                comparison.bounds_before,
                self.words,
            ),
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
            result: with_bands(comparison, self.words),
            remark: remark(comparison, self.words),
            mark: limits::mark(comparison.outcome),
            drawing: Some(before_after::of_comparison(name, comparison, self.words)),
            ..self.row(limits::with_unit_of(name, unit))
        }
    }

    fn count_row(&self, count: &CountComparison) -> MeasureRow {
        MeasureRow {
            baseline: of_attempts(count.baseline, self.words),
            retest: of_attempts(count.retest, self.words),
            result: count_result(count, self.words),
            remark: interval(count, self.words),
            mark: limits::mark(count.outcome),
            drawing: before_after::of_passes(&self.measure.name, count, self.words),
            ..self.row(self.measure.name.clone())
        }
    }

    fn exact_row(&self, scale: &ExactScale, pair: &ExactPair) -> MeasureRow {
        let words = self.words;
        MeasureRow {
            baseline: exact::reading(scale, pair.baseline, words),
            retest: exact::reading(scale, pair.retest, words),
            result: exact::result(pair.outcome, self.found.claim, words),
            mark: limits::mark(pair.outcome),
            drawing: exact::drawing(&self.measure.name, scale, pair, words),
            ..self.row(self.measure.name.clone())
        }
    }

    fn list_row(&self, list: &ListComparison) -> MeasureRow {
        let words = self.words;
        MeasureRow {
            baseline: exact::codes(&list.baseline, words),
            retest: exact::codes(&list.retest, words),
            result: exact::list_result(list, words),
            remark: words.say("see-texts"),
            mark: limits::mark(list.outcome),
            ..self.row(self.measure.name.clone())
        }
    }

    /// The measure as a whole; each position has a row in a table of its own.
    fn positions_row(&self, at: &Positions, share: Option<&Share>) -> MeasureRow {
        let words = self.words;
        let [baseline, retest] = share.map_or_else(<[String; 2]>::default, |share| {
            [0, 1].map(|run| before_after::of_run(share, run, words))
        });
        let name = if baseline.is_empty() {
            self.measure.name.clone()
        } else {
            positions_inside(&self.measure.name, at, words)
        };
        MeasureRow {
            limit: limits::of_each(self.measure, &self.material.job.plan.limits, words),
            baseline,
            retest,
            result: limits::outcome(self.found.outcome, words),
            remark: words.say("see-positions"),
            mark: limits::mark(self.found.outcome),
            ..self.row(name)
        }
    }

    /// The retest with its uncertainty, where it has one; nothing to compare it with.
    fn after_only_row(&self, figures: &[Alone], why: &str) -> MeasureRow {
        let words = self.words;
        let [baseline, plain] = plain(self.material, self.measure, words);
        let value = figures.iter().find_map(|figure| match figure {
            Alone::Value(ValueAlone { scale, found, .. }) => Some((
                limits::with_unit_of(&self.measure.name, scale.unit),
                figures::value_pm(found, scale.unit, scale.bounds, words),
            )),
            Alone::Passes(_)
            | Alone::Exact(..)
            | Alone::Rate(..)
            | Alone::List(..)
            | Alone::Smoke(..) => None,
        });
        let smoke = figures.iter().filter_map(|figure| match figure {
            Alone::Smoke(_, _, ValueAlone { scale, found, .. }) => Some(
                figures::value_pm_with_unit(found, scale.unit, scale.bounds, words),
            ),
            Alone::Value(_)
            | Alone::Passes(_)
            | Alone::Exact(..)
            | Alone::Rate(..)
            | Alone::List(..) => None,
        });
        let smoke = smoke.collect::<Vec<_>>().join("; ");
        let otherwise = if smoke.is_empty() { plain } else { smoke };
        let (name, retest) = value.unwrap_or_else(|| (self.measure.name.clone(), otherwise));
        MeasureRow {
            baseline,
            retest,
            result: limits::outcome(self.found.outcome, words),
            remark: words.say_with("not-taken-before", &[("why", why.trim_end_matches('.'))]),
            mark: limits::mark(self.found.outcome),
            ..self.row(name)
        }
    }

    fn not_taken_row(&self, why: &str) -> MeasureRow {
        let [baseline, retest] = plain(self.material, self.measure, self.words);
        MeasureRow {
            baseline,
            retest,
            result: self.words.say("not-taken"),
            remark: why.to_owned(),
            mark: limits::mark(self.found.outcome),
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
            limit: limits::of_measure(self.measure, &self.material.job.plan.limits, self.words),
            source: self.measure.source.clone().unwrap_or_default(),
            result: String::new(),
            remark: String::new(),
            mark: "none",
            meaning: self.measure.meaning.clone().unwrap_or_default(),
            method: method(self.material, self.measure, self.words),
            read_with: instruments::read_with(&self.found.read_with, self.words),
            repeats: repeats(self.material, self.measure, self.words),
            drawing: None,
        }
    }
}

/// The probability of conformity, and up to what the result at the limit holds.
fn remark(comparison: &Comparison, words: &Words) -> String {
    let probability = comparison.after.map(|after| probability(after, words));
    let holds = variation::beside_limit(comparison, words);
    let bands = exact::bands_in_full(comparison, words);
    let all = probability.into_iter().chain(holds).chain(bands);
    all.collect::<Vec<_>>().join("; ")
}

fn probability(standing: Standing, words: &Words) -> String {
    words.say_with(
        "probability",
        &[("p", &figures::probability(standing.conformity))],
    )
}

/// Outcome at the limit, required improvement, and change, in words: what the decision
/// rule makes of a zone, never the zone itself, or a row would say "conditional pass"
/// where the verdict says "inconclusive".
pub fn result(comparison: &Comparison, words: &Words) -> String {
    let mut parts = Vec::new();
    if let Some(_at_a_limit) = comparison.after {
        parts.push(limits::outcome(comparison.at_limit, words));
    }
    parts.extend(comparison.should.map(|should| at_should(should, words)));
    if let Some(gain) = &comparison.gain {
        let outcome = limits::outcome(gain.outcome, words);
        parts.push(words.say_with("gain", &[("outcome", &outcome)]));
    }
    parts.extend(comparison.claim.map(|claim| limits::claim(claim, words)));
    if parts.is_empty() {
        parts.push(words.say("outcome-no-limit"));
    }
    parts.join(" · ")
}

/// The result, with the bands before and after where the plan names some.
fn with_bands(comparison: &Comparison, words: &Words) -> String {
    let bands = exact::bands_in_short(comparison, words);
    let parts: Vec<String> = [result(comparison, words)]
        .into_iter()
        .chain(bands)
        .collect();
    parts.join(" · ")
}

/// What the rule makes of a reading at what it should be besides.
pub fn at_should(should: Should, words: &Words) -> String {
    let outcome = limits::outcome(should.outcome, words);
    words.say_with("advisory", &[("outcome", &outcome)])
}

/// Outcome and change of a count. Counts are exact, so "pass" and "fail" need no guard
/// band; the change is a test.
pub fn count_result(count: &CountComparison, words: &Words) -> String {
    let at_limit = match count.outcome {
        Outcome::Pass => Some("outcome-pass"),
        Outcome::Fail => Some("outcome-fail"),
        Outcome::NoLimit | Outcome::ConditionalPass | Outcome::Inconclusive => None,
    };
    let mut parts: Vec<String> = at_limit.into_iter().map(|id| words.say(id)).collect();
    parts.push(limits::claim(count.claim, words));
    parts.join(" · ")
}

/// `4 of 6`.
pub fn of_attempts(count: Count, words: &Words) -> String {
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
