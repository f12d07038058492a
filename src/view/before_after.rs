//! What is drawn beside a measure: plain numbers in the printed unit, and the same in words.

use super::data::{Drawing, Strip, Tally};
use super::figures;
use super::limits;
use super::words::Words;
use crate::job::Better;
use crate::judge::{Comparison, CountComparison, Share};
use crate::quantity::Quantity;

/// The most discs that a drawing has room for.
const DISCS: usize = 24;

/// The line of a figure with its uncertainty and its limits.
pub fn of_comparison(name: &str, comparison: &Comparison, words: &Words) -> Drawing {
    let (unit, bounds) = (comparison.scale.unit, comparison.scale.bounds);
    let limit = bounds.map_or_else(
        || words.say("limit-none"),
        |b| limits::bounds(b, unit, words),
    );
    let [min, max] = [bounds.and_then(|b| b.min()), bounds.and_then(|b| b.max())];
    let end = |quantity: Option<Quantity>| quantity.map(|quantity| unit.from_si(quantity.si()));
    let end_text = |quantity: Option<Quantity>| {
        quantity.map_or_else(String::new, |bound| figures::limit(bound, unit, words))
    };
    let texts = [&comparison.baseline, &comparison.retest].map(|estimate| {
        let figure = figures::value_pm(estimate, unit, bounds, words);
        figures::with_unit(&figure, unit.symbol())
    });
    Drawing::Strip(Strip {
        before: unit.from_si(comparison.baseline.value),
        after: unit.from_si(comparison.retest.value),
        before_u: unit.difference_from_si(comparison.baseline.expanded),
        after_u: unit.difference_from_si(comparison.retest.expanded),
        min: end(min),
        max: end(max),
        min_text: end_text(min),
        max_text: end_text(max),
        mirrored: is_mirrored(comparison.scale.better),
        alt: alt(name, &texts[0], &texts[1], &limit, words),
    })
}

/// Whether a line runs from right to left, so that better is to the right.
pub fn is_mirrored(better: Option<Better>) -> bool {
    match better {
        Some(Better::Lower) => true,
        Some(Better::Higher | Better::Inside) | None => false,
    }
}

/// The discs of passes of attempts: those that passed come first.
pub fn of_passes(name: &str, count: &CountComparison, words: &Words) -> Option<Drawing> {
    let runs = [count.baseline, count.retest];
    let of = runs.map(|run| [run.passes() as usize, run.attempts() as usize]);
    let least = count.min.map_or(of[1][1], |min| min as usize);
    let discs = of.map(|[k, n]| [vec![Some(true); k], vec![Some(false); n - k]].concat());
    tally(name, of, discs, "limit-passes", least, words)
}

/// How many positions are as they should be in the run `run`; where none was read, that.
pub fn of_run(share: &Share, run: usize, words: &Words) -> String {
    match share.of_run(run) {
        [_, 0] => words.say("not-taken"),
        [k, n] => k_of_n(k, n, words),
    }
}

/// The discs of the positions, each in its place: all must be as they should be.
pub fn of_share(name: &str, share: &Share, words: &Words) -> Option<Drawing> {
    let of = [0, 1].map(|run| share.of_run(run));
    let discs = [0, 1].map(|run| share.each.iter().map(|both| both[run]).collect());
    tally(name, of, discs, "limit-all", of[1][1], words)
}

/// The discs of a count, of which `least` must pass, as the message `limit` says. So many as
/// nobody counts are no drawing, and where nothing was counted there is none either.
fn tally(
    name: &str,
    of: [[usize; 2]; 2],
    [before, after]: [Vec<Option<bool>>; 2],
    limit: &str,
    least: usize,
    words: &Words,
) -> Option<Drawing> {
    let has_room = [&before, &after].map(|discs| (1..=DISCS).contains(&discs.len()));
    let texts = of.map(|[k, n]| k_of_n(k, n, words));
    let limit = words.say_count(limit, least);
    let all = has_room[0] && has_room[1];
    all.then(|| {
        Drawing::Tally(Tally {
            before,
            after,
            alt: alt(name, &texts[0], &texts[1], &limit, words),
        })
    })
}

fn alt(name: &str, before: &str, after: &str, limit: &str, words: &Words) -> String {
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

/// `4 of 6`.
pub fn k_of_n(k: usize, n: usize, words: &Words) -> String {
    words.say_with("k-of-n", &[("k", &k.to_string()), ("n", &n.to_string())])
}
