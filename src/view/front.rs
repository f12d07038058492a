//! The customer's page: the verdict in a sentence, and the few figures that
//! matter.

use super::Material;
use super::before_after;
use super::cannot_tell;
use super::complaint::shortened;
use super::data::{Figure, Front};
use super::exact;
use super::figures;
use super::limits;
use super::measures::{of_attempts, plain, positions_inside, required};
use super::photos;
use super::reasons::{condition_name, not_taken, of_one_kind, reasons};
use super::seals;
use super::variation;
use super::who_and_when;
use super::words::Words;
use crate::job::{Contribution, FurtherDefect, Limits, Measure, NotNeeded};
use crate::judge::{
    Caveat, Comparison, ConditionsInShort, FigureOf, FollowUp, Headline, Listed, MeasureFinding,
    MeasureJudgement, Outcome, Settles, Share, Verdict, advice, caveats, done, follow_up, left,
    not_needed,
};
use crate::seals::{Clock, FirstSealed, JobOutcome, SealFact, SealMark};

/// Builds the page.
pub fn front(material: &Material<'_>, words: &Words) -> Front {
    let Material { job, judgement, .. } = material;
    let page = &judgement.first_page;
    let (verdict, mark) = match material.outcome() {
        JobOutcome::BrokenSeal => ("not-verified", "mark-broken"),
        JobOutcome::Verdict(Verdict::Verified) => ("verified", "mark-verified"),
        JobOutcome::Verdict(Verdict::NotVerified) => ("not-verified", "mark-not-verified"),
        JobOutcome::Verdict(Verdict::Undecided) => ("undecided", "mark-undecided"),
    };
    let signer = material.signer.as_ref();
    let (signature, unsigned) = seals::signature(signer, material.issued, "unsigned", words);
    let figures = page.figures.iter();
    let weakest = weakest(material, words);
    let sealed = seals::mark(&material.sealing, words);
    let has_fingerprint = sealed.get(1).is_some();
    let sealed = if weakest.is_empty() || has_fingerprint {
        sealed
    } else {
        Vec::new()
    };
    let person = |id: &str, name: &str| words.say_with(id, &[("name", name)]);
    Front {
        verdict,
        mark: words.say(mark),
        headline: headline(material, words),
        weakest,
        machine: who_and_when::machine_in_short(material, words),
        days: who_and_when::days(material, words),
        lead: lead(material, words),
        alert: seals::alert(&material.sealing, words),
        sealed,
        signature,
        unsigned,
        complaint: shortened(&job.plan.complaint).unwrap_or_else(|| job.plan.complaint.clone()),
        done: done_in_words(material, words),
        left: left_in_words(material, words),
        watch: advice_in_words(material, words),
        come_back: come_back(material, words),
        figures: figures
            .filter_map(|figure| figure_of(material, *figure, words))
            .collect(),
        more: page
            .left_off
            .map_or_else(String::new, |more| words.say_count("more-figures", more)),
        not_needed: charged_and_not_needed(material, words),
        not_shown: not_shown(material, words),
        signers: [
            person("signs-for-shop", &job.retest.by),
            person("signs-for-customer", &job.plan.customer.name),
        ],
    }
}

fn headline(material: &Material<'_>, words: &Words) -> String {
    if let JobOutcome::BrokenSeal = material.outcome() {
        return words.say("headline-broken");
    }
    match material.judgement.first_page.headline {
        Headline::Verified(count) => words.say_count("headline-verified", count),
        Headline::VerifiedConditionally(count) => {
            words.say_count("headline-verified-conditional", count)
        }
        Headline::NotVerified(count) => words.say_count("headline-not-verified", count),
        Headline::NotImproved(count) => words.say_count("headline-not-improved", count),
        Headline::NotShown(count) => words.say_count("headline-not-shown", count),
        Headline::ConditionsEasier => words.say("headline-undecided-conditions"),
        Headline::ConditionsUnknown => words.say("headline-undecided-unknown"),
        Headline::ConditionsHarder => words.say("headline-undecided-harder"),
        Headline::Worse => words.say("headline-undecided-worse"),
        Headline::Open => words.say("headline-undecided"),
    }
}

/// The weakest link of what the headline says, in a sentence; empty where there is none. That
/// a seal is broken is the headline itself.
fn weakest(material: &Material<'_>, words: &Words) -> String {
    let Material { job, sealing, .. } = material;
    if let JobOutcome::BrokenSeal = material.outcome() {
        return String::new();
    }
    let id = match sealing.gaps().first() {
        Some(SealFact::First(FirstSealed::AfterWorkStarted)) => "weakest-late",
        Some(SealFact::First(_) | SealFact::Broken | SealFact::OwnClock) => "weakest-never",
        Some(SealFact::Changed { late: true }) => "weakest-changed-late",
        Some(SealFact::Changed { late: false }) => "weakest-changed",
        Some(SealFact::RetestChanged) => "weakest-retest-changed",
        Some(SealFact::RetestNotSealed) => "weakest-retest",
        None => match (sealing.mark(), job.plan.limits.conditions.is_empty()) {
            (
                SealMark::BeforeWork {
                    clock: Clock::Set, ..
                },
                true | false,
            ) => "weakest-clock",
            (_mark, true) => "weakest-no-conditions",
            (_mark, false) => return String::new(),
        },
    };
    words.say(id)
}

/// A few sentences: tested again, the first figure, the reasons, the conditions, and what
/// would settle it.
fn lead(material: &Material<'_>, words: &Words) -> String {
    let Material { job, judgement, .. } = material;
    let page = &judgement.first_page;
    let day = figures::day(job.retest.started.date_naive(), words);
    let mut sentences = vec![words.say_with(
        "lead-tested",
        &[("day", &day), ("machine", &job.plan.machine.name)],
    )];
    // Under a broken seal no figure and no condition is told as if it held.
    if let JobOutcome::BrokenSeal = material.outcome() {
        return sentences.concat();
    }
    let leading = page.leading.and_then(|it| figure_of(material, it, words));
    if let Some(figure) = leading {
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
    match &page.conditions {
        ConditionsInShort::Nothing => {}
        ConditionsInShort::Harder(ids) => {
            let names: Vec<String> = ids.iter().map(|id| condition_name(material, id)).collect();
            sentences.push(words.say_with("lead-harder", &[("names", &names.join(", "))]));
        }
        ConditionsInShort::Matched => sentences.push(words.say("lead-matched")),
    }
    sentences.extend(page.settles.map(|settles| {
        words.say(match settles {
            Settles::Conditions => "settle-conditions",
            Settles::Worse => "settle-worse",
            Settles::Measurement => "settle-measurement",
            Settles::Instrument => "settle-instrument",
            Settles::Variation => "settle-variation",
        })
    }));
    sentences.join(" ")
}

/// A list in words; its last line says how many more there are.
fn in_words<T>(list: Listed<T>, word: impl Fn(T) -> String, words: &Words) -> Vec<String> {
    let more = list.more.map(|more| words.say_count("more-items", more));
    list.items.into_iter().map(word).chain(more).collect()
}

fn done_in_words(material: &Material<'_>, words: &Words) -> Vec<String> {
    let word = |contribution| match contribution {
        Contribution::Intervention(what) => what.to_owned(),
        Contribution::AlsoRepaired(what) => words.say_with("also-repaired", &[("what", what)]),
    };
    in_words(done(material.job), word, words)
}

fn left_in_words(material: &Material<'_>, words: &Words) -> Vec<String> {
    let word = |finding: &FurtherDefect| match &finding.note {
        Some(note) => format!("{}. {note}", finding.what),
        None => finding.what.clone(),
    };
    in_words(left(material.job), word, words)
}

fn advice_in_words(material: &Material<'_>, words: &Words) -> Vec<String> {
    in_words(advice(material.job), str::to_owned, words)
}

fn come_back(material: &Material<'_>, words: &Words) -> String {
    let shop = material.shop;
    let call = shop.phone.as_ref().or(shop.email.as_ref());
    let call = call.map(|call| words.say_with("call", &[("call", call)]));
    let follow_up = follow_up(material.job, material.issued.date_naive()).map(|it| {
        let (id, day) = match it {
            FollowUp::Due(day) => ("come-back", day),
            FollowUp::Passed(day) => ("follow-up-was", day),
        };
        words.say_with(id, &[("day", &figures::day(day, words))])
    });
    follow_up
        .into_iter()
        .chain(call)
        .collect::<Vec<_>>()
        .join(" ")
}

/// What was charged, then what did not have to be bought.
fn charged_and_not_needed(material: &Material<'_>, words: &Words) -> Vec<String> {
    let work = &material.job.work;
    let charged = work.cost.as_ref().map(|cost| {
        let total = figures::money(cost.total, cost.currency, words);
        words.say_with("work-charged", &[("total", &total)])
    });
    let word = |item: &NotNeeded| match (&item.estimate, &work.cost) {
        (Some((amount, by)), Some(cost)) => words.say_with(
            "not-needed-estimate",
            &[
                ("what", &item.what),
                ("amount", &figures::money(*amount, cost.currency, words)),
                ("by", by),
            ],
        ),
        (Some(_), None) | (None, _) => words.say_with("not-needed", &[("what", &item.what)]),
    };
    let not_needed = in_words(not_needed(material.job), word, words);
    charged.into_iter().chain(not_needed).collect()
}

/// What a hurried reader must not miss: reservations, attribution, limits of the
/// tests on this page.
fn not_shown(material: &Material<'_>, words: &Words) -> Vec<String> {
    let seals = seals::in_short(&material.sealing, words);
    let all = caveats(material.job, material.judgement, material.issued, seals);
    let word = |caveat| match caveat {
        Caveat::IssuedBeforeRetest => words.say("issued-before-retest"),
        Caveat::Seals(sentence) => sentence,
        Caveat::Reservations(kind) => of_one_kind(&kind, material, words),
        Caveat::Idle(names) => words.say_with("idle-limits", &[("names", &names.join("; "))]),
        Caveat::NotTaken {
            measure,
            positions,
            why,
        } => not_taken(material, measure, &positions, why, words),
        Caveat::PhotoTime(doubt) => photos::sentence(&doubt, words),
        Caveat::PhotoTimes(several) => words.say_count("capture-several", several),
        Caveat::SeveralDone(several) => words.say_count("attribution-several", several),
        Caveat::KindOfTest(kind) => words.say(cannot_tell::sentence(kind)),
        Caveat::Form(form) => words.say(cannot_tell::of_form(form)),
        Caveat::Test(sentence) => sentence.to_owned(),
    };
    let mut sentences = in_words(all, word, words);
    let holds = material.judgement.first_page.holds;
    sentences.extend(holds.map(|holds| variation::in_short(holds, material, words)));
    sentences.push(words.say("verdict-applies-to"));
    sentences
}

/// One figure of this page.
fn figure_of(material: &Material<'_>, figure: FigureOf, words: &Words) -> Option<Figure> {
    let measure = material.job.plan.limits.measures.get(figure.measure)?;
    let found = material.judgement.measures.get(figure.measure)?;
    let about = About {
        plan: &material.job.plan.limits,
        is_broken: material.sealing.is_broken(),
        measure,
        found,
        words,
    };
    let name = &measure.name;
    match &found.finding {
        MeasureFinding::Value(comparison) => Some(about.value(name.clone(), comparison)),
        MeasureFinding::ValueAt(values) => Some(about.share(
            positions_inside(name, &values.scales.at, words),
            values.inside?,
        )),
        MeasureFinding::Passes(count) => Some(Figure {
            before: of_attempts(count.baseline, words),
            after: of_attempts(count.retest, words),
            strip: before_after::of_passes(name, count, words),
            ..about.plain(name.clone(), count.outcome)
        }),
        MeasureFinding::PassesAt(counts) => Some(about.share(name.clone(), counts.passing)),
        MeasureFinding::Exact(scale, pair) => Some(Figure {
            before: exact::reading(scale, pair.baseline, words),
            after: exact::reading(scale, pair.retest, words),
            strip: exact::strip(name, scale, pair, words),
            ..about.plain(name.clone(), pair.outcome)
        }),
        MeasureFinding::ExactAt(exacts) => Some(about.share(name.clone(), exacts.meeting?)),
        MeasureFinding::Rate(rate) => Some(Figure {
            before: exact::rate_read(&rate.baseline, words),
            after: exact::rate_read(&rate.retest, words),
            ..about.plain(exact::rate_name(name, &rate.scale, words), rate.outcome)
        }),
        MeasureFinding::List(list) => Some(Figure {
            before: words.say_count("list-stored", list.baseline.len()),
            after: words.say_count("list-stored", list.retest.len()),
            ..about.plain(name.clone(), list.outcome)
        }),
        MeasureFinding::Smoke { parts, .. } => {
            let part = parts.get(figure.part)?;
            let name = limits::smoke_name(part.part, part.path, name, words);
            Some(about.value(name, &part.comparison))
        }
        MeasureFinding::AfterOnly { .. } => {
            let [before, after] = plain(material, measure, words);
            Some(Figure {
                before,
                after,
                ..about.plain(name.clone(), found.outcome)
            })
        }
        MeasureFinding::NotTaken { .. } => {
            let [before, after] = plain(material, measure, words);
            Some(Figure {
                before,
                after,
                result: words.say("not-taken"),
                ..about.plain(name.clone(), found.outcome)
            })
        }
        MeasureFinding::Text => None,
    }
}

/// An outcome, with the bands before and after where the plan names some.
fn with_bands(outcome: String, comparison: &Comparison, words: &Words) -> String {
    let bands = exact::bands_in_short(comparison, words);
    let parts: Vec<String> = [outcome].into_iter().chain(bands).collect();
    parts.join(" · ")
}

/// One measure, for what its figures have in common.
struct About<'a> {
    plan: &'a Limits,
    /// Whether a seal is broken, so that no result is to be relied on.
    is_broken: bool,
    measure: &'a Measure,
    found: &'a MeasureJudgement,
    words: &'a Words,
}

impl About<'_> {
    fn value(&self, name: String, comparison: &Comparison) -> Figure {
        let words = self.words;
        let unit = comparison.scale.unit;
        let bounds = [comparison.bounds_before, comparison.scale.bounds];
        let value = |estimate, run: usize| figures::value(estimate, unit, bounds[run], words);
        let other = |estimate, run: usize| figures::value_other(estimate, unit, bounds[run], words);
        Figure {
            before: value(&comparison.baseline, 0),
            after: value(&comparison.retest, 1),
            before_other: other(&comparison.baseline, 0),
            after_other: other(&comparison.retest, 1),
            limit: limits::in_short(comparison, words),
            strip: Some(before_after::of_comparison(&name, comparison, words)),
            result: with_bands(self.result(comparison.outcome), comparison, words),
            ..self.plain(name, comparison.outcome)
        }
    }

    /// How many positions are as they should be.
    fn share(&self, name: String, share: Share) -> Figure {
        let words = self.words;
        let [before, after] = [0, 1].map(|run| before_after::of_run(share, run, words));
        Figure {
            before,
            after,
            limit: limits::of_each_in_short(self.measure, self.plan, words),
            strip: before_after::of_share(&name, share, words),
            ..self.plain(name, self.found.outcome)
        }
    }

    fn plain(&self, name: String, outcome: Outcome) -> Figure {
        let Self { measure, words, .. } = self;
        Figure {
            name,
            required: required(self.found.required, words),
            meaning: measure.meaning.clone().unwrap_or_default(),
            before: String::new(),
            after: String::new(),
            before_other: String::new(),
            after_other: String::new(),
            limit: limits::of_measure(measure, self.plan, words),
            result: self.result(outcome),
            mark: limits::mark(if self.is_broken {
                Outcome::NoLimit
            } else {
                outcome
            }),
            strip: None,
        }
    }

    /// An outcome; that conditions were not alike stands beside it, for a pass by that is none.
    fn result(&self, outcome: Outcome) -> String {
        if self.is_broken {
            return self.words.say("result-not-relied-on");
        }
        let result = limits::outcome(outcome, self.words);
        if self.found.fair || result.is_empty() {
            return result;
        }
        let variables = [("result", result.as_str())];
        self.words.say_with("result-not-alike", &variables)
    }
}
