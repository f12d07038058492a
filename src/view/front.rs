//! The customer's page: the verdict in a sentence, and the few figures that
//! matter.

use super::Material;
use super::before_after::{self, k_of_n};
use super::cannot_tell::cannot_tell;
use super::data::{Figure, Front, Strip};
use super::figures;
use super::limits;
use super::measures::{cylinders_inside, cylinders_passing, plain_baseline, required};
use super::photos;
use super::reasons::{condition_name, reasons, reservations};
use super::seals;
use super::words::Words;
use crate::job::{Kind, Measure, Observation};
use crate::judge::{
    Change, Comparison, ConditionState, CountComparison, Finding, Judgement, MeasureJudgement,
    Outcome, Reason, Verdict,
};
use crate::quantity::Unit;

/// The most figures on the customer's page.
const FIGURES: usize = 5;
/// The most items of a list on it.
const ITEMS: usize = 5;
/// The most sentences under "What this does not show".
const NOT_SHOWN: usize = 7;

/// Builds the page.
pub fn front(material: &Material<'_>, words: &Words) -> Front {
    let Material { job, judgement, .. } = material;
    let (verdict, mark) = match judgement.verdict {
        _ if material.sealing.is_broken() => ("undecided", "mark-broken"),
        Verdict::Verified => ("verified", "mark-verified"),
        Verdict::NotVerified => ("not-verified", "mark-not-verified"),
        Verdict::Undecided => ("undecided", "mark-undecided"),
    };
    let [chosen, behind] = shown(material).map(|measures| {
        let figures = measures
            .into_iter()
            .flat_map(|(measure, found)| measure_figures(material, measure, found, words));
        figures.collect::<Vec<Figure>>()
    });
    let more = chosen.len().saturating_sub(FIGURES) + behind.len();
    let mut figures = chosen;
    figures.truncate(FIGURES);
    let person = |id: &str, name: &str| words.say_with(id, &[("name", name)]);
    Front {
        verdict,
        mark: words.say(mark),
        headline: headline(material, words),
        lead: lead(material, words),
        alert: seals::alert(&material.sealing, words),
        sealed: seals::mark(&material.sealing, words),
        signature: material
            .signer
            .as_ref()
            .map(|signer| seals::block(signer, material.issued, words)),
        unsigned: if material.signer.is_some() {
            String::new()
        } else {
            words.say("unsigned")
        },
        complaint: shortened(&job.complaint).unwrap_or_else(|| job.complaint.clone()),
        done: done(material, words),
        watch: watch(material, words),
        come_back: come_back(material, words),
        more: if more > 0 {
            words.say_count("more-figures", more)
        } else {
            String::new()
        },
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

/// The start of a long text, cut between two words; none if it is short enough. A
/// new line counts as much as half a line of letters.
pub fn shortened(text: &str) -> Option<String> {
    const NEW_LINE: usize = 50;
    let mut room = COMPLAINT;
    let end = text.char_indices().find_map(|(index, c)| {
        let takes = if c == '\n' { NEW_LINE } else { 1 };
        if takes > room {
            return Some(index);
        }
        room -= takes;
        None
    })?;
    let start = &text[..end];
    let cut = start.rfind(char::is_whitespace).unwrap_or(end);
    Some(format!("{} …", start[..cut].trim_end()))
}

type Judged<'a> = (&'a Measure, &'a MeasureJudgement);

/// The measures for this page: those marked `front`, or else the required ones;
/// and whatever required measure does not simply pass. What needs attention stands
/// first. And the required measures that are not for this page.
fn shown<'a>(material: &'a Material<'_>) -> [Vec<Judged<'a>>; 2] {
    let limits = &material.job.limits;
    let any_marked = limits.measures.iter().any(|measure| measure.front);
    let needs_attention =
        |found: &MeasureJudgement| found.required && found.outcome > Outcome::Pass;
    let (mut shown, behind): (Vec<_>, Vec<_>) = material
        .judgement
        .measures
        .iter()
        .filter_map(|found| Some((limits.measure(&found.id)?, found)))
        .filter(|(measure, _)| measure.front || measure.required)
        .partition(|(measure, found)| measure.front || !any_marked || needs_attention(found));
    shown.sort_by_key(|(_, found)| {
        let attention = if needs_attention(found) {
            found.outcome
        } else {
            Outcome::NotJudged
        };
        std::cmp::Reverse(attention)
    });
    [shown, behind]
}

fn headline(material: &Material<'_>, words: &Words) -> String {
    let judgement = material.judgement;
    let required = || judgement.measures.iter().filter(|measure| measure.required);
    let count = |outcome: Outcome| required().filter(|m| m.outcome == outcome).count();
    let easier = judgement
        .reasons
        .iter()
        .any(|reason| matches!(reason, Reason::Easier(_) | Reason::NotCold(_)));
    match judgement.verdict {
        _ if material.sealing.is_broken() => words.say("headline-broken"),
        Verdict::Verified if count(Outcome::PassWithReservation) > 0 => {
            words.say_count("headline-verified-narrow", required().count())
        }
        Verdict::Verified => words.say_count("headline-verified", required().count()),
        Verdict::NotVerified => {
            let outside = required().filter(|m| m.at_limit == Outcome::Fail).count();
            let failing = count(Outcome::Fail);
            match outside {
                0 => words.say_count("headline-not-improved", failing),
                _ if outside < failing => words.say_count("headline-not-shown", failing),
                _ => words.say_count("headline-not-verified", failing),
            }
        }
        Verdict::Undecided if easier => words.say("headline-undecided-conditions"),
        Verdict::Undecided if !judgement.fair => words.say("headline-undecided-unknown"),
        Verdict::Undecided if got_worse(judgement) => words.say("headline-undecided-worse"),
        Verdict::Undecided => words.say("headline-undecided"),
    }
}

/// What would settle an undecided verdict.
fn what_would_settle(material: &Material<'_>, words: &Words) -> Option<String> {
    let judgement = material.judgement;
    // Without a test that was required, or one that was read, no better measurement
    // settles anything.
    let something_required = !judgement
        .reasons
        .iter()
        .any(|reason| matches!(reason, Reason::NothingRequired | Reason::NotTaken(_)));
    (judgement.verdict == Verdict::Undecided && something_required).then(|| {
        // No better instrument takes back what it has shown to be worse.
        words.say(if !judgement.fair {
            "settle-conditions"
        } else if got_worse(judgement) {
            "settle-worse"
        } else {
            "settle-measurement"
        })
    })
}

/// Whether something required got worse.
fn got_worse(judgement: &Judgement) -> bool {
    let reasons = &judgement.reasons;
    reasons
        .iter()
        .any(|reason| matches!(reason, Reason::GotWorse(_)))
}

/// A few sentences: tested again, the first figure, the conditions, the reasons.
fn lead(material: &Material<'_>, words: &Words) -> String {
    let Material { job, judgement, .. } = material;
    let day = figures::day(job.retest.started.date_naive(), words);
    let mut sentences = vec![words.say_with(
        "lead-tested",
        &[("day", &day), ("machine", &job.machine.name)],
    )];
    if let Some(figure) = &leading(material, words) {
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
    sentences.extend(what_would_settle(material, words));
    sentences.join(" ")
}

/// The figure for the first sentences: what fails, or else what got better, in the order of
/// limits.toml, which starts with what matters.
fn leading(material: &Material<'_>, words: &Words) -> Option<Figure> {
    let [mut shown, _] = shown(material);
    let place = |measure: &Measure| {
        let all = &material.job.limits.measures;
        all.iter().position(|other| other.id == measure.id)
    };
    shown.sort_by_key(|(measure, found)| {
        let rank = match (found.outcome, found.change) {
            (Outcome::Fail, _) if found.required => 0,
            (_, Some(Change::Improved)) => 1,
            _ => 2,
        };
        (rank, place(measure))
    });
    let mut figures = shown
        .into_iter()
        .flat_map(|(measure, found)| measure_figures(material, measure, found, words));
    figures.next()
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

fn done(material: &Material<'_>, words: &Words) -> Vec<String> {
    let work = &material.job.work;
    let mended = work.also_found.iter().filter(|finding| finding.repaired);
    let done = work
        .interventions
        .iter()
        .map(|intervention| intervention.what.clone())
        .chain(mended.map(|finding| words.say_with("also-mended", &[("what", &finding.what)])));
    capped(done.collect(), ITEMS, words)
}

/// What was left unmended comes first: it is what the customer must not miss.
fn watch(material: &Material<'_>, words: &Words) -> Vec<String> {
    let work = &material.job.work;
    let left = work.also_found.iter().filter(|finding| !finding.repaired);
    let watch = left
        .map(|finding| {
            let left = words.say_with("left-unmended", &[("what", &finding.what)]);
            match &finding.note {
                Some(note) => format!("{left}. {note}"),
                None => left,
            }
        })
        .chain(work.watch.iter().cloned());
    capped(watch.collect(), ITEMS, words)
}

/// The first `most` items, and how many more there are.
fn capped(mut items: Vec<String>, most: usize, words: &Words) -> Vec<String> {
    if items.len() > most {
        let more = items.len() - (most - 1);
        items.truncate(most - 1);
        items.push(words.say_count("more-items", more));
    }
    items
}

fn come_back(material: &Material<'_>, words: &Words) -> String {
    let shop = material.shop;
    let call = shop.phone.as_ref().or(shop.email.as_ref());
    let call = call.map(|call| words.say_with("call", &[("call", call)]));
    let follow_up = material.job.work.follow_up.map(|day| {
        // A day that has passed is no invitation.
        let passed = day < material.issued.date_naive();
        let id = if passed { "follow-up-was" } else { "come-back" };
        words.say_with(id, &[("day", &figures::day(day, words))])
    });
    follow_up
        .into_iter()
        .chain(call)
        .collect::<Vec<_>>()
        .join(" ")
}

/// What was charged, then what did not have to be bought.
fn not_needed(material: &Material<'_>, words: &Words) -> Vec<String> {
    let work = &material.job.work;
    let charged = work.cost.as_ref().map(|cost| {
        let total = figures::money(cost.total, cost.currency, words);
        words.say_with("work-charged", &[("total", &total)])
    });
    let not_needed = work
        .not_needed
        .iter()
        .map(|item| match (&item.estimate, &work.cost) {
            (Some((amount, by)), Some(cost)) => words.say_with(
                "not-needed-estimate",
                &[
                    ("what", &item.what),
                    ("amount", &figures::money(*amount, cost.currency, words)),
                    ("by", by),
                ],
            ),
            _ => words.say_with("not-needed", &[("what", &item.what)]),
        });
    let not_needed = capped(not_needed.collect(), ITEMS - 1, words);
    charged.into_iter().chain(not_needed).collect()
}

/// What a hurried reader must not miss: reservations, attribution, limits of the
/// tests on this page.
fn not_shown(material: &Material<'_>, words: &Words) -> Vec<String> {
    let mut sentences = reservations(material, words);
    sentences.splice(0..0, seals::in_short(&material.sealing, words));
    if material.issued < material.job.retest.started {
        sentences.insert(0, words.say("issued-before-retest"));
    }
    sentences.extend(photos::doubts_in_short(material, words));
    let contributions = material.job.work.contributions().len();
    if contributions > 1 {
        sentences.push(words.say_count("attribution-several", contributions));
    }
    let [chosen, _] = shown(material);
    for sentence in chosen
        .into_iter()
        .flat_map(|(measure, _)| cannot_tell(measure, words))
    {
        // Two measures of one kind of test have the same said of them.
        if !sentences.contains(&sentence) {
            sentences.push(sentence);
        }
    }
    let mut sentences = capped(sentences, NOT_SHOWN, words);
    sentences.push(words.say("promises-nothing"));
    sentences
}

/// The decimals in which the readings of a measure were written, in `unit`: this
/// page shows the figures that were written down, no more and no fewer.
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
        required: required(found.required, words),
        meaning: measure.meaning.clone().unwrap_or_default(),
        before,
        after,
        before_other: String::new(),
        after_other: String::new(),
        limit,
        result: limits::outcome(outcome, words),
        mark: limits::mark(outcome),
        strip,
    };
    let of_comparison = |name: String, comparison: &Comparison, unit, bounds, limit| {
        let digits = decimals_written(material, measure, unit);
        let before = figures::value(&comparison.baseline, unit, bounds, digits, words);
        let after = figures::value(&comparison.retest, unit, bounds, digits, words);
        let strip = before_after::of_comparison(&name, comparison, unit, bounds, words);
        let other = |estimate| figures::value_other(estimate, unit, bounds, digits, words);
        Figure {
            before_other: other(&comparison.baseline),
            after_other: other(&comparison.retest),
            ..new(name, before, after, limit, found.outcome, Some(strip))
        }
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
            let Some(share) = cylinders_inside(cylinders, scale) else {
                return Vec::new();
            };
            let name = words.say_with("cylinders-inside", &[("name", &measure.name)]);
            let limit = words.say_with(
                "cylinders-each",
                &[("limit", &limits::of_scale(scale, words))],
            );
            let [before, after] = share.good.map(|k| k_of_n(k, share.of, words));
            let strip = before_after::of_count(&name, share.good, share.of, share.of, words);
            vec![new(name, before, after, limit, found.outcome, Some(strip))]
        }
        (Finding::Passes(count), Kind::Passes { min }) => {
            vec![passes(measure, count, *min, &new, words)]
        }
        (Finding::CylinderPasses { cylinders, .. }, Kind::CylinderPasses { min }) => {
            let share = cylinders_passing(cylinders, *min);
            let name = measure.name.clone();
            let [before, after] = share.good.map(|k| k_of_n(k, share.of, words));
            let limit = words.say_with(
                "cylinders-each",
                &[("limit", &limits::of_measure(measure, words))],
            );
            let strip = before_after::of_count(&name, share.good, share.of, share.of, words);
            vec![new(name, before, after, limit, found.outcome, Some(strip))]
        }
        (Finding::NotTaken, _) => {
            let before = plain_baseline(material, measure, words);
            let after = words.say("not-taken");
            let limit = limits::of_measure(measure, words);
            let name = measure.name.clone();
            vec![Figure {
                result: after.clone(),
                ..new(name, before, after, limit, found.outcome, None)
            }]
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
                    let name = limits::smoke_name(part, measure, words);
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
    let strip = before_after::of_passes(&measure.name, count, min, words);
    new(
        measure.name.clone(),
        k_of_n(share[0], before.attempts() as usize, words),
        k_of_n(share[1], after.attempts() as usize, words),
        limits::of_measure(measure, words),
        count.outcome,
        strip,
    )
}
