//! The before → after lines: plain numbers in the printed unit, and the same in words.

use super::data::Strip;
use super::figures;
use super::limits;
use super::words::Words;
use crate::judge::{Comparison, CountComparison, Share};
use crate::quantity::Quantity;

/// The line of a figure with its uncertainty and its limits.
pub fn of_comparison(name: &str, comparison: &Comparison, words: &Words) -> Strip {
    let (unit, bounds) = (comparison.scale.unit, comparison.scale.bounds);
    let limit = bounds.map_or_else(
        || words.say("limit-none"),
        |b| limits::bounds(b, unit, words),
    );
    let end = |quantity: Option<Quantity>| quantity.map(|quantity| unit.from_si(quantity.si()));
    let texts = [&comparison.baseline, &comparison.retest].map(|estimate| {
        let figure = figures::value_pm(estimate, unit, bounds, words);
        figures::with_unit(&figure, unit.symbol())
    });
    Strip {
        before: unit.from_si(comparison.baseline.value),
        after: unit.from_si(comparison.retest.value),
        before_u: unit.difference_from_si(comparison.baseline.expanded),
        after_u: unit.difference_from_si(comparison.retest.expanded),
        min: end(bounds.and_then(|b| b.min())),
        max: end(bounds.and_then(|b| b.max())),
        alt: alt(name, &texts[0], &texts[1], &limit, words),
    }
}

/// The line of passes of attempts; two different numbers of attempts have no common line to be
/// drawn on.
pub fn of_passes(name: &str, count: &CountComparison, words: &Words) -> Option<Strip> {
    let attempts = count.attempts()?;
    let share = [count.baseline, count.retest].map(|run| run.passes() as usize);
    let least = count.min.unwrap_or(attempts) as usize;
    Some(of_count(
        name,
        share,
        attempts as usize,
        least,
        "limit-passes",
        words,
    ))
}

/// How many positions are as they should be in the run `run`; where none was read, that.
pub fn of_run(share: Share, run: usize, words: &Words) -> String {
    match share.of[run] {
        0 => words.say("not-taken"),
        n => k_of_n(share.good[run], n, words),
    }
}

/// The line of the positions that are as they should be: all must be. Where not as many were
/// read in both runs there is no common line.
pub fn of_share(name: &str, share: Share, words: &Words) -> Option<Strip> {
    let of = share.of_both()?;
    Some(of_count(name, share.good, of, of, "limit-all", words))
}

/// The line of a count `n`, of which `least` must pass, as the message `limit` says.
fn of_count(
    name: &str,
    share: [usize; 2],
    n: usize,
    least: usize,
    limit: &str,
    words: &Words,
) -> Strip {
    let texts = share.map(|k| k_of_n(k, n, words));
    let limit = words.say_count(limit, least);
    Strip {
        before: share[0] as f64,
        after: share[1] as f64,
        before_u: 0.0,
        after_u: 0.0,
        min: Some(least as f64),
        max: None,
        alt: alt(name, &texts[0], &texts[1], &limit, words),
    }
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
