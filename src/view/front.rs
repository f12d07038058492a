//! The customer's page: the verdict in a sentence, and the few figures that
//! matter.

use super::Material;
use super::data::{Figure, Front, Strip};
use super::figures;
use super::limits;
use super::words::Words;
use crate::job::{Bounds, Kind, Measure, Observation, Scale};
use crate::judge::{
    Comparison, ConditionState, CountComparison, Finding, MeasureJudgement, Outcome, Reason,
    Reservation, Standing, Verdict, Zone,
};
use crate::quantity::{Quantity, Unit};

/// The most figures on the customer's page.
const FIGURES: usize = 5;

/// Builds the page.
pub fn front(material: &Material<'_>, words: &Words) -> Front {
    let Material { job, judgement, .. } = material;
    let (verdict, mark) = match judgement.verdict {
        Verdict::Verified => ("verified", "mark-verified"),
        Verdict::NotVerified => ("not-verified", "mark-not-verified"),
        Verdict::Undecided => ("undecided", "mark-undecided"),
    };
    let mut figures: Vec<Figure> = shown(material)
        .into_iter()
        .flat_map(|(measure, found)| measure_figures(material, measure, found, words))
        .collect();
    figures.truncate(FIGURES);
    let person = |id: &str, name: &str| words.say_with(id, &[("name", name)]);
    Front {
        verdict,
        mark: words.say(mark),
        headline: headline(material, words),
        lead: lead(material, &figures, words),
        unsigned: words.say("unsigned"),
        complaint: shortened(&job.complaint).unwrap_or_else(|| job.complaint.clone()),
        done: done(material, words),
        watch: job.work.watch.clone(),
        come_back: come_back(material, words),
        figures,
        not_needed: not_needed(material, words),
        not_shown: not_shown(material, words),
        signers: [
            person("signs-for-shop", &job.retest.by),
            person("signs-for-customer", &job.customer.name),
        ],
    }
}

/// The most letters of a complaint on the customer's page.
const COMPLAINT: usize = 420;

/// The start of a long text, cut between two words; none if it is short enough.
pub fn shortened(text: &str) -> Option<String> {
    let (end, _) = text.char_indices().nth(COMPLAINT)?;
    let start = &text[..end];
    let cut = start.rfind(char::is_whitespace).unwrap_or(end);
    Some(format!("{} …", start[..cut].trim_end()))
}

/// The measures for this page: those marked `front`, or else the required ones.
fn shown<'a>(material: &'a Material<'_>) -> Vec<(&'a Measure, &'a MeasureJudgement)> {
    let limits = &material.job.limits;
    let any_marked = limits.measures.iter().any(|measure| measure.front);
    material
        .judgement
        .measures
        .iter()
        .filter_map(|found| Some((limits.measure(&found.id)?, found)))
        .filter(|(measure, _)| {
            if any_marked {
                measure.front
            } else {
                measure.required
            }
        })
        .collect()
}

fn headline(material: &Material<'_>, words: &Words) -> String {
    let judgement = material.judgement;
    let required = judgement.measures.iter().filter(|measure| measure.required);
    let count = |outcome: fn(Outcome) -> bool| {
        required
            .clone()
            .filter(|measure| outcome(measure.outcome))
            .count()
    };
    match judgement.verdict {
        Verdict::Verified => words.say_count("headline-verified", required.clone().count()),
        Verdict::NotVerified => words.say_count(
            "headline-not-verified",
            count(|outcome| outcome == Outcome::Fail),
        ),
        Verdict::Undecided if !judgement.fair => words.say("headline-undecided-conditions"),
        Verdict::Undecided => words.say("headline-undecided"),
    }
}

/// A few sentences: tested again, the first figure, the conditions, the reasons.
fn lead(material: &Material<'_>, figures: &[Figure], words: &Words) -> String {
    let Material { job, judgement, .. } = material;
    let day = figures::day(job.retest.started.date_naive(), words);
    let mut sentences = vec![words.say_with(
        "lead-tested",
        &[("day", &day), ("machine", &job.machine.name)],
    )];
    if let Some(figure) = figures.first() {
        sentences.push(words.say_with(
            "lead-figure",
            &[
                ("name", &figure.name),
                ("before", &figure.before),
                ("after", &figure.after),
            ],
        ));
    }
    sentences.extend(reasons(material, words));
    if judgement.fair
        && let Some(sentence) = conditions_in_a_sentence(material, words)
    {
        sentences.push(sentence);
    }
    sentences.join(" ")
}

fn conditions_in_a_sentence(material: &Material<'_>, words: &Words) -> Option<String> {
    let conditions = &material.judgement.conditions;
    let harder: Vec<String> = conditions
        .iter()
        .filter(|condition| condition.state == ConditionState::Harder)
        .map(|condition| condition_name(material, &condition.id))
        .collect();
    if !harder.is_empty() {
        let names = harder.join(", ");
        return Some(words.say_with("lead-harder", &[("names", &names)]));
    }
    let required: Vec<_> = conditions
        .iter()
        .filter(|condition| condition.required)
        .collect();
    (!required.is_empty()).then(|| words.say("lead-matched"))
}

/// The reasons of a verdict that is not "verified", one sentence each; all
/// conditions of one kind in one sentence.
pub fn reasons(material: &Material<'_>, words: &Words) -> Vec<String> {
    let reasons = &material.judgement.reasons;
    let measure =
        |id: &str, reason: &str| words.say_with(id, &[("name", &measure_name(material, reason))]);
    let mut sentences: Vec<String> = reasons
        .iter()
        .filter_map(|reason| match reason {
            Reason::Fails(id) => Some(failing(material, id, words)),
            Reason::TooNear(id) => Some(measure("reason-too-near", id)),
            Reason::GotWorse(id) => Some(measure("reason-worse", id)),
            Reason::NothingRequired => Some(words.say("reason-nothing-required")),
            Reason::NotCold(id) => Some(words.say_with(
                "reason-not-cold",
                &[("name", &condition_name(material, id))],
            )),
            Reason::AllPass(_) | Reason::Easier(_) | Reason::ConditionUnknown(_) => None,
        })
        .collect();
    let mut conditions = |message: &str, pick: fn(&Reason) -> Option<&String>| {
        let names: Vec<String> = reasons
            .iter()
            .filter_map(pick)
            .map(|id| condition_name(material, id))
            .collect();
        if !names.is_empty() {
            let list = names.join("; ");
            sentences.push(words.say_with(message, &[("names", &list)]));
        }
    };
    conditions("reason-easier", |reason| match reason {
        Reason::Easier(id) => Some(id),
        _ => None,
    });
    conditions("reason-unknown", |reason| match reason {
        Reason::ConditionUnknown(id) => Some(id),
        _ => None,
    });
    sentences
}

/// Why a measure fails: which cylinders, where it has some.
fn failing(material: &Material<'_>, id: &str, words: &Words) -> String {
    let name = measure_name(material, id);
    let found = material
        .judgement
        .measures
        .iter()
        .find(|found| found.id == id);
    let outside: Vec<String> = match found.map(|found| &found.finding) {
        Some(Finding::Cylinders { cylinders, .. }) => {
            let rule = material.judgement.rule;
            numbered(cylinders, |cylinder| {
                cylinder.outcome(rule) == Outcome::Fail
            })
        }
        Some(Finding::CylinderPasses { cylinders, .. }) => {
            numbered(cylinders, |cylinder| cylinder.outcome == Outcome::Fail)
        }
        _ => Vec::new(),
    };
    if outside.is_empty() {
        words.say_with("reason-fails", &[("name", &name)])
    } else {
        let cylinders = outside.join(", ");
        words.say_with(
            "reason-fails-cylinders",
            &[("name", &name), ("cylinders", &cylinders)],
        )
    }
}

fn numbered<T>(cylinders: &[T], test: impl Fn(&T) -> bool) -> Vec<String> {
    cylinders
        .iter()
        .enumerate()
        .filter(|(_, cylinder)| test(cylinder))
        .map(|(index, _)| (index + 1).to_string())
        .collect()
}

/// The printed name of a measure.
pub fn measure_name(material: &Material<'_>, id: &str) -> String {
    material
        .job
        .limits
        .measure(id)
        .map_or_else(|| id.to_owned(), |m| m.name.clone())
}

fn condition_name(material: &Material<'_>, id: &str) -> String {
    let conditions = &material.job.limits.conditions;
    conditions
        .iter()
        .find(|condition| condition.id == id)
        .map_or_else(|| id.to_owned(), |condition| condition.name.clone())
}

fn done(material: &Material<'_>, words: &Words) -> Vec<String> {
    let work = &material.job.work;
    let mut done: Vec<String> = work
        .interventions
        .iter()
        .map(|intervention| intervention.what.clone())
        .collect();
    done.extend(
        work.also_found
            .iter()
            .filter(|finding| finding.mended)
            .map(|finding| words.say_with("also-mended", &[("what", &finding.what)])),
    );
    done
}

fn come_back(material: &Material<'_>, words: &Words) -> String {
    let shop = material.shop;
    let call = shop.phone.as_ref().or(shop.email.as_ref());
    let day = material
        .job
        .work
        .follow_up
        .map(|day| figures::day(day, words));
    match (day, call) {
        (Some(day), Some(call)) => {
            words.say_with("come-back-call", &[("day", &day), ("call", call)])
        }
        (Some(day), None) => words.say_with("come-back", &[("day", &day)]),
        (None, Some(call)) => words.say_with("call", &[("call", call)]),
        (None, None) => String::new(),
    }
}

fn not_needed(material: &Material<'_>, words: &Words) -> Vec<String> {
    let work = &material.job.work;
    let mut lines: Vec<String> = work
        .not_needed
        .iter()
        .map(|item| match (&item.estimate, &work.cost) {
            (Some((amount, by)), Some(cost)) => words.say_with(
                "not-needed-estimate",
                &[
                    ("what", &item.what),
                    ("amount", &figures::money(*amount, cost.currency)),
                    ("by", by),
                ],
            ),
            _ => words.say_with("not-needed", &[("what", &item.what)]),
        })
        .collect();
    if let Some(cost) = &work.cost {
        let total = figures::money(cost.total, cost.currency);
        lines.push(words.say_with("work-charged", &[("total", &total)]));
    }
    lines
}

/// What a hurried reader must not miss: reservations, attribution, limits of the
/// tests on this page.
fn not_shown(material: &Material<'_>, words: &Words) -> Vec<String> {
    let mut sentences = reservations(material, words);
    let contributions = material.job.work.contributions().len();
    if contributions > 1 {
        sentences.push(words.say_count("attribution-several", contributions));
    }
    sentences.extend(
        shown(material)
            .into_iter()
            .flat_map(|(measure, _)| measure.cannot_tell.iter().cloned()),
    );
    sentences.push(words.say("promises-nothing"));
    sentences
}

/// The reservations, one sentence each.
pub fn reservations(material: &Material<'_>, words: &Words) -> Vec<String> {
    let measure =
        |id: &str, name: &str| words.say_with(id, &[("name", &measure_name(material, name))]);
    let condition =
        |id: &str, name: &str| words.say_with(id, &[("name", &condition_name(material, name))]);
    material
        .judgement
        .reservations
        .iter()
        .map(|reservation| match reservation {
            Reservation::NarrowPass(id) => measure("reservation-narrow", id),
            Reservation::FaultNotShown => words.say("reservation-fault-not-shown"),
            Reservation::OtherOutside(id) => measure("reservation-other-outside", id),
            Reservation::OtherWorse(id) => measure("reservation-other-worse", id),
            Reservation::OtherCondition(id) => condition("reservation-other-condition", id),
            Reservation::BaselineNotCold(id) => condition("reservation-not-cold", id),
            Reservation::Helped(id) => condition("reservation-helped", id),
            Reservation::ShortSoak => words.say("reservation-short-soak"),
            Reservation::NoConditions => words.say("reservation-no-conditions"),
            Reservation::UncertaintyNotCounted => words.say("reservation-simple-rule"),
            Reservation::MeterBackwards => words.say("reservation-meter"),
            Reservation::Overdue { instrument, due } => {
                let kind = material
                    .job
                    .instrument(instrument)
                    .map_or("", |i| i.kind.as_str());
                words.say_with(
                    "reservation-overdue",
                    &[("instrument", kind), ("due", &figures::day(*due, words))],
                )
            }
        })
        .collect()
}

/// The most decimals in which the readings of a measure were written, in `unit`:
/// this page shows no digit that nobody wrote down.
fn decimals_written(material: &Material<'_>, measure: &Measure, unit: &Unit) -> Option<u32> {
    let runs = [&material.job.baseline, &material.job.retest];
    runs.into_iter()
        .filter_map(|run| run.readings.get(&measure.id))
        .flat_map(|reading| match &reading.observation {
            Observation::Value(values) => values.clone(),
            Observation::Smoke(smoke) => smoke.opacity.iter().copied().chain(smoke.clear).collect(),
            _ => Vec::new(),
        })
        .filter(|quantity| quantity.unit() == unit)
        .map(|quantity| figures::decimals_of(quantity.written()))
        .max()
}

fn measure_figures(
    material: &Material<'_>,
    measure: &Measure,
    found: &MeasureJudgement,
    words: &Words,
) -> Vec<Figure> {
    let new = |name: String, before, after, limit, outcome, strip| Figure {
        name,
        meaning: measure.meaning.clone().unwrap_or_default(),
        before,
        after,
        limit,
        result: limits::outcome(outcome, words),
        mark: limits::mark(outcome),
        strip,
    };
    let of_comparison = |name: String, comparison: &Comparison, unit, bounds, limit| {
        let digits = decimals_written(material, measure, unit);
        let before = figures::value(&comparison.baseline, unit, bounds, digits);
        let after = figures::value(&comparison.retest, unit, bounds, digits);
        let strip = comparison_strip(&name, comparison, unit, bounds, words);
        new(name, before, after, limit, found.outcome, Some(strip))
    };
    match (&found.finding, &measure.kind) {
        (Finding::Value(comparison), Kind::Value(scale)) => vec![of_comparison(
            measure.name.clone(),
            comparison,
            scale.unit,
            scale.bounds,
            limits::of_scale(scale, words),
        )],
        (Finding::Cylinders { cylinders, .. }, Kind::Cylinders(scale)) => {
            let Some(share) = inside(cylinders, scale) else {
                return Vec::new();
            };
            let name = words.say_with("cylinders-inside", &[("name", &measure.name)]);
            let limit = words.say_with(
                "cylinders-each",
                &[("limit", &limits::of_scale(scale, words))],
            );
            let [before, after] = share.map(|k| out_of(k, cylinders.len(), words));
            let strip = count_strip(&name, share, cylinders.len(), cylinders.len(), words);
            vec![new(name, before, after, limit, found.outcome, Some(strip))]
        }
        (Finding::Passes(count), Kind::Passes { min }) => {
            vec![passes(measure, count, *min, &new, words)]
        }
        (Finding::CylinderPasses { cylinders, .. }, Kind::CylinderPasses { min }) => {
            let enough = |passes: u32, tries: u32| passes >= min.unwrap_or(tries);
            let count = |test: &dyn Fn(&CountComparison) -> bool| {
                cylinders.iter().filter(|c| test(c)).count()
            };
            let share = [
                count(&|c| enough(c.baseline.passes(), c.baseline.tries())),
                count(&|c| enough(c.retest.passes(), c.retest.tries())),
            ];
            let name = measure.name.clone();
            let [before, after] = share.map(|k| out_of(k, cylinders.len(), words));
            let limit = words.say_with(
                "cylinders-each",
                &[("limit", &limits::of_measure(measure, words))],
            );
            let strip = count_strip(&name, share, cylinders.len(), cylinders.len(), words);
            vec![new(name, before, after, limit, found.outcome, Some(strip))]
        }
        (Finding::Smoke(parts), _) => {
            // What has a limit is what matters; without any, all of it does.
            let any_limit = parts.iter().any(|part| part.scale.bounds.is_some());
            parts
                .iter()
                .filter(|part| !any_limit || part.scale.bounds.is_some())
                .map(|part| {
                    let (unit, bounds) = (part.scale.unit, part.scale.bounds);
                    let limit = limits::of_scale(&part.scale, words);
                    let name = limits::smoke_name(part.part, &measure.name, words);
                    of_comparison(name, &part.comparison, unit, bounds, limit)
                })
                .collect()
        }
        _ => Vec::new(),
    }
}

fn passes(
    measure: &Measure,
    count: &CountComparison,
    min: Option<u32>,
    new: &dyn Fn(String, String, String, String, Outcome, Option<Strip>) -> Figure,
    words: &Words,
) -> Figure {
    let (before, after) = (count.baseline, count.retest);
    let share = [before.passes() as usize, after.passes() as usize];
    // Two different numbers of tries have no common line to be drawn on.
    let strip = (before.tries() == after.tries()).then(|| {
        let tries = after.tries() as usize;
        count_strip(
            &measure.name,
            share,
            tries,
            min.map_or(tries, |min| min as usize),
            words,
        )
    });
    new(
        measure.name.clone(),
        out_of(share[0], before.tries() as usize, words),
        out_of(share[1], after.tries() as usize, words),
        limits::of_measure(measure, words),
        count.outcome,
        strip,
    )
}

/// How many cylinders lie inside the bounds, before and after.
fn inside(cylinders: &[Comparison], scale: &Scale) -> Option<[usize; 2]> {
    scale.bounds?;
    let count = |place: fn(&Comparison) -> Option<Standing>| {
        cylinders
            .iter()
            .filter_map(place)
            .filter(|standing| standing.zone <= Zone::ConditionalPass)
            .count()
    };
    Some([count(|c| c.before), count(|c| c.after)])
}

fn out_of(k: usize, n: usize, words: &Words) -> String {
    words.say_with("k-of-n", &[("k", &k.to_string()), ("n", &n.to_string())])
}

fn comparison_strip(
    name: &str,
    comparison: &Comparison,
    unit: &Unit,
    bounds: Option<Bounds>,
    words: &Words,
) -> Strip {
    let limit = bounds.map_or_else(
        || words.say("limit-none"),
        |b| limits::bounds(b, unit, words),
    );
    let end = |quantity: Option<Quantity>| quantity.map(|quantity| unit.from_si(quantity.si()));
    let texts = [&comparison.baseline, &comparison.retest].map(|estimate| {
        let figure = figures::value_pm(estimate, unit, bounds);
        figures::with_unit(&figure, unit.symbol())
    });
    Strip {
        before: unit.from_si(comparison.baseline.value),
        after: unit.from_si(comparison.retest.value),
        before_u: unit.difference_from_si(comparison.baseline.expanded),
        after_u: unit.difference_from_si(comparison.retest.expanded),
        min: end(bounds.and_then(|b| b.min())),
        max: end(bounds.and_then(|b| b.max())),
        alt: strip_alt(name, &texts[0], &texts[1], &limit, words),
    }
}

fn count_strip(name: &str, share: [usize; 2], n: usize, least: usize, words: &Words) -> Strip {
    let texts = share.map(|k| out_of(k, n, words));
    let limit = words.say_with("limit-passes", &[("min", &least.to_string())]);
    Strip {
        before: share[0] as f64,
        after: share[1] as f64,
        before_u: 0.0,
        after_u: 0.0,
        min: Some(least as f64),
        max: None,
        alt: strip_alt(name, &texts[0], &texts[1], &limit, words),
    }
}

fn strip_alt(name: &str, before: &str, after: &str, limit: &str, words: &Words) -> String {
    words.say_with(
        "strip-alt",
        &[
            ("name", name),
            ("before", before),
            ("after", after),
            ("limit", limit),
        ],
    )
}
