//! What was read without ±, in words: grades, exact counts, counted rates, lists; and the
//! bands in which a value lies.

use super::before_after;
use super::data::{Drawing, MeasureRow, Strip, TextRow};
use super::dependence::probability;
use super::figures::{self, decimal, shortest, written};
use super::limits;
use super::places::many;
use super::words::Words;
use crate::job::{Bands, ExactScale, ExactScaleAt, Kind, ListItem, ListLimits, Measure, RateScale};
use crate::judge::{
    Claim, Comparison, ExactPair, ExactsAt, InBands, ListComparison, Outcome, RateComparison,
    RateFigure, Step,
};
use crate::quantity::places_for;

/// A grade by its name, or a count.
pub fn reading(scale: &ExactScale, read: u32, words: &Words) -> String {
    match scale {
        ExactScale::Grades(grades) => grades.name(read).to_owned(),
        ExactScale::Counts(_) => shortest(f64::from(read), words),
    }
}

/// A grade or a count of a measure of this kind.
pub fn of_kind(kind: &Kind, read: u32, words: &Words) -> String {
    match kind {
        Kind::Exact(scale) => reading(scale, read, words),
        Kind::ExactAt(scales) => reading(&scales.common, read, words),
        Kind::Value(_)
        | Kind::ValueAt(_)
        | Kind::Passes { .. }
        | Kind::PassesAt { .. }
        | Kind::Rate(_)
        | Kind::List(_)
        | Kind::Smoke(_)
        | Kind::Text => shortest(f64::from(read), words),
    }
}

/// The limit of grades or counts; empty without one.
pub fn limit(scale: &ExactScale, words: &Words) -> String {
    some_limit(scale, words).unwrap_or_default()
}

/// The limit of grades or counts, where there is one.
pub fn some_limit(scale: &ExactScale, words: &Words) -> Option<String> {
    match scale {
        ExactScale::Grades(grades) => {
            let place = grades.least?;
            let least = grades.names.get(place)?;
            // Than the best grade nothing is better.
            Some(match grades.names.get(place + 1) {
                Some(_better) => words.say_with("limit-grade", &[("least", least)]),
                None => least.clone(),
            })
        }
        ExactScale::Counts(counts) => {
            let figure = |count: Option<u32>| count.map(|count| shortest(f64::from(count), words));
            Some(match figure(counts.only()) {
                Some(only) => words.say_with("limit-exactly", &[("value", &only)]),
                None => limits::between([figure(counts.min), figure(counts.max)], words),
            })
        }
    }
}

/// The limit of several positions: what all have in common, and whether some have their own.
pub fn limit_at(scales: &ExactScaleAt, words: &Words) -> String {
    let common = limit(&scales.common, words);
    match (scales.is_uniform(), common.as_str()) {
        (true, _) => common,
        (false, "") => words.say("limit-own"),
        (false, common) => words.say_with("limit-or-own", &[("limit", common)]),
    }
}

/// The limit of a rate; empty without one.
pub fn rate_limit(scale: &RateScale, words: &Words) -> String {
    let per = scale.per.symbol();
    let figure = |rate: Option<f64>| {
        rate.map(|rate| words.say_with("rate", &[("rate", &shortest(rate, words)), ("per", per)]))
    };
    limits::between([figure(scale.min), figure(scale.max)], words)
}

/// The limit of a list; empty without one.
pub fn list_limit(limits: &ListLimits, words: &Words) -> String {
    let most = limits.max.map(|max| match max {
        0 => words.say("limit-list-empty"),
        max => words.say_with("limit-at-most", &[("max", &max.to_string())]),
    });
    let new = limits.none_new.then(|| words.say("limit-list-none-new"));
    let parts: Vec<String> = most.into_iter().chain(new).collect();
    parts.join(&words.say("limit-and"))
}

/// How one exact reading compares with the one before.
pub fn step(step: Step, words: &Words) -> String {
    words.say(match step {
        Step::Better => "step-better",
        Step::Same => "step-same",
        Step::Worse => "step-worse",
    })
}

/// The outcome at the limit, where there is one.
fn at_limit(outcome: Outcome, words: &Words) -> Option<String> {
    match outcome {
        Outcome::NoLimit => None,
        Outcome::Pass | Outcome::ConditionalPass | Outcome::Inconclusive | Outcome::Fail => {
            Some(limits::outcome(outcome, words))
        }
    }
}

/// The outcome at the limit, where there is one, and what may be claimed.
pub fn result(outcome: Outcome, claim: Option<Claim>, words: &Words) -> String {
    let claim = claim.map(|claim| limits::claim(claim, words));
    joined(at_limit(outcome, words), claim)
}

/// The result at one of several positions.
pub fn result_at(pair: &ExactPair, words: &Words) -> String {
    let step = pair.step.map(|found| step(found, words));
    joined(at_limit(pair.outcome, words), step)
}

fn joined(first: Option<String>, second: Option<String>) -> String {
    let parts: Vec<String> = first.into_iter().chain(second).collect();
    parts.join(" · ")
}

/// The before → after line of counts; grades are no figures to draw.
pub fn drawing(name: &str, scale: &ExactScale, pair: &ExactPair, words: &Words) -> Option<Drawing> {
    let ExactScale::Counts(counts) = scale else {
        return None;
    };
    let texts = [pair.baseline, pair.retest].map(|read| reading(scale, read, words));
    let limit = some_limit(scale, words);
    let end_text = |end: Option<u32>| end.map_or_else(String::new, |end| end.to_string());
    Some(Drawing::Strip(Strip {
        before: f64::from(pair.baseline),
        after: f64::from(pair.retest),
        before_u: 0.0,
        after_u: 0.0,
        min: counts.min.map(f64::from),
        max: counts.max.map(f64::from),
        min_text: end_text(counts.min),
        max_text: end_text(counts.max),
        mirrored: before_after::is_mirrored(counts.better),
        alt: words.say_with(
            "strip-alt",
            &[
                ("name", name),
                ("before", &texts[0]),
                ("after", &texts[1]),
                ("limit", &limit.unwrap_or_else(|| words.say("limit-none"))),
            ],
        ),
    }))
}

/// What the same positions before and after can show by the sign test.
pub fn sign_note(exacts: &ExactsAt, words: &Words) -> String {
    let Some(signs) = &exacts.signs else {
        return String::new();
    };
    let id = match signs.claim {
        Claim::TooFewPositions => "sign-too-few",
        Claim::Improved
        | Claim::Apparent
        | Claim::NoDetectable
        | Claim::Worsened
        | Claim::TooFewAttempts
        | Claim::TooFewEvents
        | Claim::Step(_)
        | Claim::Moved(_)
        | Claim::SomeMoved
        | Claim::OtherPositions => "sign-note",
    };
    words.say_with(
        id,
        &[
            ("many", &many(&exacts.scales.at, words)),
            ("better", &signs.gained.to_string()),
            ("worse", &signs.lost.to_string()),
            ("p", &probability(Some(signs.p), words)),
            ("smallest", &figures::two_digits(signs.smallest_p, words)),
        ],
    )
}

/// A name with what its rate is per: `Drips (per min)`.
pub fn rate_name(name: &str, scale: &RateScale, words: &Words) -> String {
    words.say_with("rate-name", &[("name", name), ("per", scale.per.symbol())])
}

/// A rate, and what it was counted from: `1.20 (12 in 10 min)`.
pub fn rate_read(figure: &RateFigure, words: &Words) -> String {
    words.say_with(
        "rate-read",
        &[
            ("rate", &rate(figure.rate, words)),
            ("count", &shortest(f64::from(figure.counted.count), words)),
            ("over", &written(figure.counted.over, words)),
        ],
    )
}

/// A rate with three digits.
fn rate(rate: f64, words: &Words) -> String {
    decimal(rate, places_for(rate, 3).unwrap_or(0), words)
}

/// The interval of the retest, and the test of equal rates.
pub fn rate_remark(found: &RateComparison, words: &Words) -> String {
    words.say_with(
        "rate-interval",
        &[
            ("low", &rate(found.retest.interval.low, words)),
            ("high", &rate(found.retest.interval.high, words)),
            ("per", found.scale.per.symbol()),
            ("p", &probability(Some(found.p), words)),
        ],
    )
}

/// The cells of a rate.
pub fn rate_row(found: &RateComparison, row: MeasureRow, words: &Words) -> MeasureRow {
    MeasureRow {
        baseline: rate_read(&found.baseline, words),
        retest: rate_read(&found.retest, words),
        result: result(found.outcome, found.claim, words),
        remark: rate_remark(found, words),
        mark: limits::mark(found.outcome),
        ..row
    }
}

/// The codes of a list: `P-104, P-201`, or that there are none.
pub fn codes(items: &[ListItem], words: &Words) -> String {
    let codes: Vec<&str> = items.iter().map(|item| item.code.as_str()).collect();
    match codes.as_slice() {
        [] => words.say("list-empty"),
        some => some.join(", "),
    }
}

/// How many entries are gone, still there and new.
pub fn list_result(found: &ListComparison, words: &Words) -> String {
    let counted = words.say_with(
        "list-result",
        &[
            ("gone", &found.gone.len().to_string()),
            ("still", &found.still.len().to_string()),
            ("new", &found.new.len().to_string()),
        ],
    );
    joined(at_limit(found.outcome, words), Some(counted))
}

/// What of a list is gone, still there and new, each entry with its text.
pub fn list_texts(measure: &Measure, found: &ListComparison, words: &Words) -> Vec<TextRow> {
    let entries = |items: &[ListItem]| match items {
        [] => "–".to_owned(),
        some => some.iter().map(entry).collect::<Vec<_>>().join("; "),
    };
    let row = |id: &str, baseline: &[ListItem], retest: &[ListItem]| TextRow {
        name: words.say_with(id, &[("name", &measure.name)]),
        baseline: entries(baseline),
        retest: entries(retest),
    };
    let still = |run: usize| -> Vec<ListItem> {
        found.still.iter().map(|both| both[run].clone()).collect()
    };
    vec![
        row("list-gone", &found.gone, &[]),
        row("list-still", &still(0), &still(1)),
        row("list-new", &[], &found.new),
    ]
}

fn entry(item: &ListItem) -> String {
    match &item.text {
        Some(text) => format!("{} {text}", item.code),
        None => item.code.clone(),
    }
}

/// Each entry of a list with its text, as it was read in one run.
pub fn entries(items: &[ListItem], words: &Words) -> String {
    match items {
        [] => words.say("list-empty"),
        some => some.iter().map(entry).collect::<Vec<_>>().join("; "),
    }
}

/// The bands before and after: `C → A`; nothing without bands.
pub fn bands_in_short(comparison: &Comparison, words: &Words) -> Option<String> {
    let (bands, found) = bands_of(comparison)?;
    let [before, after] = found
        .each_ref()
        .map(|run| bands.names.get(run.band).map_or("", String::as_str));
    Some(words.say_with("bands-in-short", &[("before", before), ("after", after)]))
}

/// The bands before and after with the probability of each; nothing without bands.
pub fn bands_in_full(comparison: &Comparison, words: &Words) -> Option<String> {
    let (bands, found) = bands_of(comparison)?;
    let [before, after] = found.each_ref().map(|run| {
        let each = bands.names.iter().zip(&run.shares);
        let each: Vec<String> = each
            .map(|(name, share)| {
                let p = figures::probability(*share);
                words.say_with("band-share", &[("name", name), ("p", &p)])
            })
            .collect();
        each.join(", ")
    });
    Some(words.say_with("bands-in-full", &[("before", &before), ("after", &after)]))
}

fn bands_of(comparison: &Comparison) -> Option<(&Bands, &[InBands; 2])> {
    comparison
        .scale
        .bands
        .as_ref()
        .zip(comparison.bands.as_ref())
}

/// What the bands of a plan are, and where they come from; `message` says how much more is
/// told of them.
pub fn bands_planned(message: &str, measure: &Measure, words: &Words) -> Option<String> {
    let scale = measure.kind.scale()?;
    let bands = scale.bands.as_ref()?;
    let ends = bands.names.iter().zip(&bands.upper);
    let mut each: Vec<String> = ends
        .map(|(name, end)| {
            let end = figures::limit(*end, scale.unit, words);
            words.say_with("band-up-to", &[("name", name), ("end", &end)])
        })
        .collect();
    let last = bands.names.last();
    each.extend(last.map(|name| words.say_with("band-above", &[("name", name)])));
    let variables = [
        ("name", measure.name.as_str()),
        ("bands", &each.join("; ")),
        ("source", &bands.source),
    ];
    Some(words.say_with(message, &variables))
}
