//! The limits of a measure as they hold in each run, and what becomes of readings whose limits
//! are not known.

use super::ends::InRun;
use crate::job::{Entry, OwnLimits, PerPosition, ScaleAt};

/// Why a part was not read, in the words of the job.
pub type Missing = String;

/// The limits of one measure as they hold in one run, one for each position; or why a part
/// that they are worked out from was not read.
pub type LimitsInRun = Vec<Result<InRun, Missing>>;

/// `scales` with the bounds that hold in a run.
pub fn scales_in_run(scales: &ScaleAt, limits: &LimitsInRun) -> ScaleAt {
    let Some(by) = &scales.common.by else {
        return scales.clone();
    };
    let bounds = |place: usize| limits.get(place)?.as_ref().ok()?.scale.bounds;
    let mut found = scales.clone();
    if by.each().all(|(_, formula)| formula.at().is_none()) {
        found.common.bounds = (0..limits.len()).find_map(|place| {
            let is_common = scales.own.get(place).is_none_or(Option::is_none);
            is_common.then(|| bounds(place)).flatten()
        });
        return found;
    }
    found.own.resize(limits.len(), None);
    for (place, own) in found.own.iter_mut().enumerate() {
        // Where it is not known it stays as it is planned: a limit that nothing was held to.
        let Some(bounds) = bounds(place) else {
            continue;
        };
        own.get_or_insert_with(|| OwnLimits {
            bounds: Some(bounds),
            by: Some(by.clone()),
            should: scales.common.should,
            as_printed: scales.common.as_printed.clone(),
            before: None,
        });
    }
    found
}

/// Why limits that are worked out are not known in one of the runs.
pub enum Unknown {
    InBaseline(String),
    InRetest(String),
}

/// The limits of both runs at the position `place`.
pub fn both(limits: &[LimitsInRun; 2], place: usize) -> Result<[&InRun; 2], Unknown> {
    let at = |run: usize| match limits[run].get(place) {
        Some(found) => found.as_ref().map_err(Clone::clone),
        None => Err(String::new()),
    };
    let after = at(1).map_err(Unknown::InRetest)?;
    let before = at(0).map_err(Unknown::InBaseline)?;
    Ok([before, after])
}

/// Why the limits are not known in one run, at no position.
pub fn unknown(limits: &LimitsInRun) -> Option<String> {
    let mut why = limits.iter().map(|found| found.as_ref().err());
    let first = why.next()??;
    why.all(|other| other.is_some()).then(|| first.clone())
}

/// What was read at each position, each with its limits in that run. What cannot be judged
/// there, because its limit is not known, counts as not read.
pub fn with_limits<'a, T>(
    read: &'a PerPosition<T>,
    limits: &'a LimitsInRun,
) -> PerPosition<(&'a T, &'a InRun)> {
    let each = read.iter().zip(limits);
    let each = each.map(|(entry, in_run)| match (entry, in_run) {
        (Entry::Taken(read), Ok(in_run)) => Entry::Taken((read, in_run)),
        (Entry::NotTaken(why), _) | (Entry::Taken(_), Err(why)) => Entry::NotTaken(why.clone()),
    });
    PerPosition::new(each.collect())
}
