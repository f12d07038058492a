//! Counts, grades, rates and lists in `result.json`.

use super::names::{claim, outcome, step, zone};
use super::shape::{
    CountResult, ExactReading, ExactResult, ListResult, PairedResult, RateReading, RateResult,
};
use crate::job::{Count, ExactScale, ListItem, RateScale};
use crate::judge::{
    AtPosition, CountAlone, CountComparison, ExactAlone, ExactPair, ExactsAt, Interval,
    ListComparison, Outcome, PairedCount, PassesAt, RateComparison, RateFigure, Zone,
};

/// The same positions before and after.
pub fn paired_result(paired: &PairedCount) -> PairedResult {
    PairedResult {
        gained: paired.gained,
        lost: paired.lost,
        p: paired.p,
        smallest_p: paired.smallest_p,
        change: claim(paired.claim),
    }
}

/// Passes of attempts that were not counted in the retest.
fn not_counted(why: &str, found: Outcome) -> CountResult {
    CountResult {
        position: None,
        not_taken: Some(why.to_owned()),
        baseline: None,
        retest: None,
        baseline_interval: None,
        retest_interval: None,
        p: None,
        smallest_p: None,
        change: None,
        outcome: outcome(found),
    }
}

/// Passes of attempts that were counted after the work only.
pub fn count_after(after: &CountAlone, why: &str) -> CountResult {
    CountResult {
        retest: Some(passes(after.found)),
        retest_interval: Some(ends(after.interval)),
        ..not_counted(why, after.at_limit)
    }
}

/// Passes of attempts at each position.
pub fn counts_at(counts: &PassesAt) -> impl Iterator<Item = CountResult> {
    let unread = unread(counts.min.is_some());
    let each = counts.at.names.iter().zip(&counts.each);
    each.map(move |(name, found)| CountResult {
        position: Some(name.clone()),
        ..match found {
            AtPosition::Compared(found) => count(found),
            AtPosition::AfterOnly { after, why } => count_after(after, why),
            AtPosition::NotTaken { before, why } => CountResult {
                baseline: before.as_ref().map(|before| passes(before.found)),
                baseline_interval: before.as_ref().map(|before| ends(before.interval)),
                ..not_counted(why, unread)
            },
        }
    })
}

/// Passes of attempts in both runs.
pub fn count(found: &CountComparison) -> CountResult {
    CountResult {
        position: None,
        not_taken: None,
        baseline: Some(passes(found.baseline)),
        retest: Some(passes(found.retest)),
        baseline_interval: Some(ends(found.before)),
        retest_interval: Some(ends(found.after)),
        p: Some(found.p),
        smallest_p: Some(found.smallest_p),
        change: Some(claim(found.claim)),
        outcome: outcome(found.outcome),
    }
}

fn passes(count: Count) -> [u32; 2] {
    [count.passes(), count.attempts()]
}

fn ends(interval: Interval) -> [f64; 2] {
    [interval.low, interval.high]
}

/// A grade by its name, or a count.
fn reading(scale: &ExactScale, read: u32) -> ExactReading {
    match scale {
        ExactScale::Grades(grades) => ExactReading::Grade(grades.name(read).to_owned()),
        ExactScale::Counts(_) => ExactReading::Count(read),
    }
}

/// A grade, or an exact count, in both runs.
pub fn exact(scale: &ExactScale, pair: &ExactPair) -> ExactResult {
    ExactResult {
        position: None,
        not_taken: None,
        baseline: Some(reading(scale, pair.baseline)),
        retest: Some(reading(scale, pair.retest)),
        step: pair.step.map(step),
        outcome: outcome(pair.outcome),
    }
}

fn not_read(why: &str, found: Outcome) -> ExactResult {
    ExactResult {
        position: None,
        not_taken: Some(why.to_owned()),
        baseline: None,
        retest: None,
        step: None,
        outcome: outcome(found),
    }
}

/// The same, read after the work only.
pub fn exact_after(scale: &ExactScale, after: &ExactAlone, why: &str) -> ExactResult {
    ExactResult {
        retest: Some(reading(scale, after.found)),
        ..not_read(why, after.at_limit)
    }
}

/// What it means that a position was not read.
fn unread(has_limit: bool) -> Outcome {
    if has_limit {
        Outcome::Inconclusive
    } else {
        Outcome::NoLimit
    }
}

/// The same at each position.
pub fn exacts_at(exacts: &ExactsAt) -> Vec<ExactResult> {
    let each = exacts.each.iter().enumerate();
    each.map(|(place, found)| {
        let scale = exacts.scales.scale(place);
        ExactResult {
            position: Some(exacts.scales.at.name(place).to_owned()),
            ..match found {
                AtPosition::Compared(pair) => exact(scale, pair),
                AtPosition::AfterOnly { after, why } => exact_after(scale, after, why),
                AtPosition::NotTaken { before, why } => ExactResult {
                    baseline: before.map(|before| reading(scale, before.found)),
                    ..not_read(why, unread(scale.has_limit()))
                },
            }
        }
    })
    .collect()
}

fn rate_reading(scale: &RateScale, figure: &RateFigure) -> RateReading {
    RateReading {
        count: figure.counted.count,
        over: scale.per.from_si(figure.counted.over.si()),
        rate: figure.rate,
        interval: [figure.interval.low, figure.interval.high],
    }
}

/// Counted events in both runs.
pub fn rate(found: &RateComparison) -> RateResult {
    RateResult {
        not_taken: None,
        baseline: Some(rate_reading(&found.scale, &found.baseline)),
        p: Some(found.p),
        smallest_p: Some(found.smallest_p),
        before: found.before.map(zone),
        ..rate_after(&found.scale, &found.retest, found.after, "")
    }
}

/// Counted events after the work only.
pub fn rate_after(
    scale: &RateScale,
    figure: &RateFigure,
    after: Option<Zone>,
    why: &str,
) -> RateResult {
    RateResult {
        not_taken: Some(why.to_owned()),
        per: scale.per.symbol(),
        min: scale.min,
        max: scale.max,
        baseline: None,
        retest: rate_reading(scale, figure),
        p: None,
        smallest_p: None,
        before: None,
        after: after.map(zone),
    }
}

fn codes(items: &[ListItem]) -> Vec<String> {
    items.iter().map(|item| item.code.clone()).collect()
}

/// What the machine has stored, in both runs.
pub fn list(found: &ListComparison) -> ListResult {
    let still = found.still.iter().map(|[_, now]| now.code.clone());
    ListResult {
        not_taken: None,
        baseline: Some(codes(&found.baseline)),
        retest: codes(&found.retest),
        gone: codes(&found.gone),
        still_there: still.collect(),
        new: codes(&found.new),
    }
}

/// The same, read after the work only.
pub fn list_after(items: &[ListItem], why: &str) -> ListResult {
    ListResult {
        not_taken: Some(why.to_owned()),
        baseline: None,
        retest: codes(items),
        gone: Vec::new(),
        still_there: Vec::new(),
        new: Vec::new(),
    }
}
