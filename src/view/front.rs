//! The customer's page: the verdict in a sentence, and the few figures that
//! matter.

use super::Material;
use super::before_after;
use super::complaint::shortened;
use super::data::{Behind, Figure, Front, Pair};
use super::exact;
use super::figures;
use super::how_judged;
use super::limits;
use super::measures::{of_attempts, plain, positions_inside, required};
use super::photos;
use super::places;
use super::reasons::{condition_figures, not_taken, of_one_kind, reasons};
use super::seals;
use super::variation;
use super::who_and_when;
use super::words::Words;
use super::work;
use crate::job::{Contribution, FurtherDefect, Limits, Measure, NotNeeded};
use crate::judge::{
    self, Caveat, Comparison, ConditionsInShort, ExactsAt, FigureOf, FollowUp, Headline, Listed,
    MeasureFinding, MeasureJudgement, Outcome, Settles, Share, ValuesAt, Verdict, advice, done,
    follow_up, left, not_needed,
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
    let (signature, unsigned) =
        seals::signature(signer, material.shop, material.issued, "unsigned", words);
    let figures = page.figures.iter();
    let figures: Vec<Figure> = figures
        .filter_map(|figure| figure_of(material, *figure, words))
        .collect();
    let weakest = weakest(material, words);
    let sealed = if weakest.is_empty() {
        seals::mark(&material.sealing, words)
    } else {
        String::new()
    };
    let told = caveats(material, words);
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
        fingerprint: seals::fingerprint(&material.sealing, words),
        signature,
        unsigned,
        complaint: shortened(&job.plan.complaint).unwrap_or_else(|| job.plan.complaint.clone()),
        done: done_in_words(material, words),
        left: left_in_words(material, words),
        watch: advice_in_words(material, words),
        next: next(material, words),
        call: call(material, words),
        more: more(page.left_off, figures.len(), words),
        figures,
        charged: charged(material, words),
        not_needed: not_needed_in_words(material, words),
        behind: behind(material, told.more, words),
        reservations: told.items,
        applies_to: words.say("verdict-applies-to"),
        reissued: how_judged::reissued(material, words)
            .pop()
            .unwrap_or_default(),
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

/// A few sentences: the first figure, the reasons, the conditions.
fn lead(material: &Material<'_>, words: &Words) -> String {
    // Under a broken seal no figure and no condition is told as if it held.
    if let JobOutcome::BrokenSeal = material.outcome() {
        return String::new();
    }
    let page = &material.judgement.first_page;
    let mut sentences = Vec::new();
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
            let names = ids.iter().map(|id| condition_figures(material, id, words));
            let names: Vec<String> = names.collect();
            sentences.push(words.say_with("lead-harder", &[("names", &names.join(", "))]));
        }
        ConditionsInShort::Matched => sentences.push(words.say("lead-matched")),
    }
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

/// What would settle the verdict, and when to come back.
fn next(material: &Material<'_>, words: &Words) -> Vec<String> {
    let settles = material.judgement.first_page.settles.map(|settles| {
        words.say(match settles {
            Settles::Conditions => "settle-conditions",
            Settles::Worse => "settle-worse",
            Settles::Measurement => "settle-measurement",
            Settles::Instrument => "settle-instrument",
            Settles::Variation => "settle-variation",
        })
    });
    let follow_up = follow_up(material.job, material.issued.date_naive()).map(|it| {
        let (id, day) = match it {
            FollowUp::Due(day) => ("come-back", day),
            FollowUp::Passed(day) => ("follow-up-was", day),
        };
        words.say_with(id, &[("day", &figures::day(day, words))])
    });
    settles.into_iter().chain(follow_up).collect()
}

fn call(material: &Material<'_>, words: &Words) -> String {
    let shop = material.shop;
    let call = shop.phone.as_ref().or(shop.email.as_ref());
    call.map_or_else(String::new, |call| {
        words.say_with("call", &[("call", call)])
    })
}

/// How many figures are not on the page, where all `shown` are, where the last of them found
/// no room, and so on.
fn more(left_off: Option<usize>, shown: usize, words: &Words) -> Vec<String> {
    let left_off = left_off.unwrap_or_default();
    (left_off..=left_off + shown)
        .map(|count| match count {
            0 => String::new(),
            count => words.say_count("more-figures", count),
        })
        .collect()
}

/// What was charged, and the warranty of the work.
fn charged(material: &Material<'_>, words: &Words) -> Vec<Pair> {
    let done = &material.job.work;
    let cost = done.cost.as_ref();
    let cost = cost.map_or_else(Vec::new, |cost| work::cost_in_short(cost, words));
    let warranty = done.warranty.as_ref().map(|warranty| Pair {
        label: words.say("work-warranty"),
        text: warranty.clone(),
    });
    cost.into_iter().chain(warranty).collect()
}

fn not_needed_in_words(material: &Material<'_>, words: &Words) -> Vec<String> {
    let word = |item: &NotNeeded| work::not_needed(item, material.job, words);
    in_words(not_needed(material.job), word, words)
}

/// What a hurried reader must not miss about this job.
fn caveats(material: &Material<'_>, words: &Words) -> Listed<String> {
    let seals = seals::in_short(&material.sealing, words);
    let all = judge::caveats(material.job, material.judgement, material.issued, seals);
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
        Caveat::Holds(holds) => variation::in_short(holds, material, words),
    };
    Listed {
        items: all.items.into_iter().map(word).collect(),
        more: all.more,
    }
}

/// What this page only points to.
fn behind(material: &Material<'_>, more: Option<usize>, words: &Words) -> Vec<Behind> {
    let behind = |text: String, part| Behind {
        on_screen: words.say_with("behind-in-report", &[("text", &text)]),
        text,
        part,
    };
    let reservations = more.map(|more| words.say_count("more-reservations", more));
    let reservations = reservations.map(|text| behind(text, "rule"));
    let cannot_tell = how_judged::cannot_tell(material, words);
    let cannot_tell = cannot_tell.first();
    let cannot_tell = cannot_tell.map(|_| behind(words.say("behind-cannot-tell"), "tests"));
    reservations.into_iter().chain(cannot_tell).collect()
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
        MeasureFinding::ValueAt(values) => {
            let name = positions_inside(name, &values.scales.at, words);
            Some(Figure {
                at: at_value(values, words),
                ..about.share(name, values.inside.as_ref()?)
            })
        }
        MeasureFinding::Passes(count) => Some(Figure {
            before: of_attempts(count.baseline, words),
            after: of_attempts(count.retest, words),
            drawing: before_after::of_passes(name, count, words),
            ..about.plain(name.clone(), count.outcome)
        }),
        MeasureFinding::PassesAt(counts) => Some(about.share(name.clone(), &counts.passing)),
        MeasureFinding::Exact(scale, pair) => Some(Figure {
            before: exact::reading(scale, pair.baseline, words),
            after: exact::reading(scale, pair.retest, words),
            drawing: exact::drawing(name, scale, pair, words),
            ..about.plain(name.clone(), pair.outcome)
        }),
        MeasureFinding::ExactAt(exacts) => Some(Figure {
            at: at_exact(exacts, words),
            ..about.share(name.clone(), exacts.meeting.as_ref()?)
        }),
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

/// The position that tells most, with its figures: `cylinder 4: −22 → +1 rpm`.
fn at_value(values: &ValuesAt, words: &Words) -> String {
    let telling = values.telling();
    let found = telling.and_then(|place| Some((place, values.each.get(place)?.compared()?)));
    found.map_or_else(String::new, |(place, found)| {
        let unit = found.scale.unit;
        let before = figures::bare(&found.baseline, unit, found.bounds_before, words);
        let after = figures::bare(&found.retest, unit, found.scale.bounds, words);
        let after = figures::with_unit(&after, unit.symbol());
        from_to(
            &places::called(&values.scales.at, place, words),
            &before,
            &after,
            words,
        )
    })
}

fn at_exact(exacts: &ExactsAt, words: &Words) -> String {
    let telling = exacts.telling();
    let found = telling.and_then(|place| Some((place, exacts.each.get(place)?.compared()?)));
    found.map_or_else(String::new, |(place, pair)| {
        let [before, after] = [pair.baseline, pair.retest]
            .map(|read| exact::reading(&exacts.scales.common, read, words));
        from_to(
            &places::called(&exacts.scales.at, place, words),
            &before,
            &after,
            words,
        )
    })
}

fn from_to(name: &str, before: &str, after: &str, words: &Words) -> String {
    let variables = [("name", name), ("before", before), ("after", after)];
    words.say_with("figure-at", &variables)
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
            drawing: Some(before_after::of_comparison(&name, comparison, words)),
            result: with_bands(self.result(comparison.outcome), comparison, words),
            ..self.plain(name, comparison.outcome)
        }
    }

    /// How many positions are as they should be.
    fn share(&self, name: String, share: &Share) -> Figure {
        let words = self.words;
        let [before, after] = [0, 1].map(|run| before_after::of_run(share, run, words));
        Figure {
            before,
            after,
            limit: limits::of_each_in_short(self.measure, self.plan, words),
            drawing: before_after::of_share(&name, share, words),
            ..self.plain(name, self.found.outcome)
        }
    }

    fn plain(&self, name: String, outcome: Outcome) -> Figure {
        let Self { measure, words, .. } = self;
        Figure {
            name,
            required: required(self.found.required, words),
            meaning: measure.meaning.clone().unwrap_or_default(),
            at: String::new(),
            before: String::new(),
            after: String::new(),
            before_other: String::new(),
            after_other: String::new(),
            limit: limits::of_measure(measure, self.plan, words),
            result: self.result(outcome),
            mark: self.mark(outcome),
            drawing: None,
        }
    }

    /// The shape of the mark: of a pass that was not under like conditions, that of what is
    /// open.
    fn mark(&self, outcome: Outcome) -> &'static str {
        match (self.is_broken, self.found.fair, outcome) {
            (true, ..) => limits::mark(Outcome::NoLimit),
            (false, false, Outcome::Pass | Outcome::ConditionalPass) => {
                limits::mark(Outcome::Inconclusive)
            }
            (false, true | false, outcome) => limits::mark(outcome),
        }
    }

    /// An outcome; of a pass under conditions that were not alike, that.
    fn result(&self, outcome: Outcome) -> String {
        if self.is_broken {
            return self.words.say("result-not-relied-on");
        }
        match (self.found.fair, outcome) {
            (false, Outcome::Pass | Outcome::ConditionalPass) => self.words.say("result-not-alike"),
            (true | false, outcome) => limits::outcome(outcome, self.words),
        }
    }
}
