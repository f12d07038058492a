//! What else a customer is told, in which order, and how much of it: the caveats, what was
//! done, what to watch, to what the change is credited, when to come back.
//!
//! The moment of issue comes in as an argument.

use std::mem::discriminant;

use chrono::{DateTime, FixedOffset, NaiveDate};

use super::Judgement;
use super::holds::HoldsInShort;
use super::idle::{is_idle_limit, is_idle_window};
use super::photo_times::{PhotoTimeDoubt, photo_time_doubts};
use super::reservations::Reservation;
use crate::job::{Contribution, ExactScale, ExactScaleAt, FurtherDefect, Job, Kind, NotNeeded};

/// The most items of a list on the customer's page.
const ITEMS: usize = 5;
/// The most caveats on it.
const CAVEATS: usize = 3;

/// A list that was cut to what a page has room for.
#[derive(Debug, Clone)]
#[cfg_attr(test, derive(PartialEq, Eq))]
pub struct Listed<T> {
    /// What is said.
    pub items: Vec<T>,
    /// How many more there are, where there are more.
    pub more: Option<usize>,
}

impl<T> Listed<T> {
    /// The first `most`; of the others, how many there are.
    fn first(items: impl IntoIterator<Item = T>, most: usize) -> Self {
        let mut items: Vec<T> = items.into_iter().collect();
        let more = items.len().checked_sub(most).filter(|more| *more > 0);
        items.truncate(most);
        Self { items, more }
    }

    /// At most `most` lines, of which the last may say how many more there are.
    fn of(items: impl IntoIterator<Item = T>, most: usize) -> Self {
        let mut items: Vec<T> = items.into_iter().collect();
        if items.len() <= most {
            return Self { items, more: None };
        }
        let more = items.len() - (most - 1);
        items.truncate(most - 1);
        Self {
            items,
            more: Some(more),
        }
    }
}

/// What a hurried reader must not miss. `S` is what another room adds of the seals.
#[derive(Debug, Clone)]
#[cfg_attr(test, derive(PartialEq))]
pub enum Caveat<'a, S> {
    /// The report is dated before the retest.
    IssuedBeforeRetest,
    /// Something about the seals.
    Seals(S),
    /// Reservations of one kind beside the verdict; at least one.
    Reservations(Vec<&'a Reservation>),
    /// Limits or windows, by their names, that nothing could have missed.
    Idle(Vec<&'a str>),
    /// This measure has a limit, and was not read, or not everywhere.
    NotTaken {
        /// Its id.
        measure: &'a str,
        /// At which positions; none where it is the whole measure.
        positions: Vec<String>,
        /// Why not.
        why: &'a str,
    },
    /// A photo whose time does not fit.
    PhotoTime(PhotoTimeDoubt<'a>),
    /// So many photos whose times do not fit.
    PhotoTimes(usize),
    /// So many things were done in one visit.
    SeveralDone(usize),
    /// How far the result that carries the verdict holds, where it is not known how the
    /// machine varies.
    Holds(HoldsInShort),
}

/// A form of reading of which there is something to say that it cannot tell.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Form {
    /// Grades by ear, eye or hand.
    Grade,
    /// Counted events.
    Rate,
    /// What a machine has stored.
    List,
}

impl Form {
    /// That of a measure's readings.
    pub fn of(kind: &Kind) -> Option<Self> {
        match kind {
            Kind::Exact(scale) | Kind::ExactAt(ExactScaleAt { common: scale, .. }) => match scale {
                ExactScale::Grades(_) => Some(Self::Grade),
                ExactScale::Counts(_) => None,
            },
            Kind::Rate(_) => Some(Self::Rate),
            Kind::List(_) => Some(Self::List),
            Kind::Value(_)
            | Kind::ValueAt(_)
            | Kind::Passes { .. }
            | Kind::PassesAt { .. }
            | Kind::Smoke(_)
            | Kind::Text => None,
        }
    }
}

/// The caveats of the customer's page, which are about this job, the weightiest first; what
/// `seals` says comes before all that concerns the readings. What a kind of test can never
/// tell is not among them.
pub fn caveats<'a, S>(
    job: &'a Job,
    judgement: &'a Judgement,
    issued: DateTime<FixedOffset>,
    seals: impl IntoIterator<Item = S>,
) -> Listed<Caveat<'a, S>> {
    let mut all: Vec<Caveat<'a, S>> = Vec::new();
    if is_issued_before_retest(job, issued) {
        all.push(Caveat::IssuedBeforeRetest);
    }
    all.extend(seals.into_iter().map(Caveat::Seals));
    let reservations = by_weight(&judgement.reservations);
    let heavy = |kind: &Vec<&Reservation>| weight(kind[0]) == Weight::Heavy;
    let (heavy, others): (Vec<_>, Vec<_>) = reservations.into_iter().partition(heavy);
    all.extend(heavy.into_iter().map(Caveat::Reservations));
    let mut doubts = photo_time_doubts(job);
    match doubts.len() {
        0 => {}
        1 => all.extend(doubts.pop().map(Caveat::PhotoTime)),
        several => all.push(Caveat::PhotoTimes(several)),
    }
    let idle = idle(job, judgement);
    if !idle.is_empty() {
        all.push(Caveat::Idle(idle));
    }
    all.extend(not_taken(job, judgement));
    all.extend(others.into_iter().map(Caveat::Reservations));
    match attribution(job) {
        Attribution::One(_) => {}
        Attribution::Several(several) => all.push(Caveat::SeveralDone(several)),
    }
    all.extend(judgement.first_page.holds.map(Caveat::Holds));
    Listed::first(all, CAVEATS)
}

/// How much a reservation weighs for a reader with room for a few.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Weight {
    /// The readings may not be what they seem, or show nothing of the fault.
    Heavy,
    /// The comparison is less fair, or the conclusion less firm, than it looks.
    Middle,
    /// How a figure was worked out.
    Light,
}

fn weight(reservation: &Reservation) -> Weight {
    match reservation {
        Reservation::FaultNotShown
        | Reservation::MeterBackwards
        | Reservation::MeterBehindRunIn
        | Reservation::LookAgain(_)
        | Reservation::NoConditions => Weight::Heavy,
        Reservation::ConditionalPass(_)
        | Reservation::OtherOutside(_)
        | Reservation::OtherWorse(_)
        | Reservation::OtherCondition(_)
        | Reservation::UncertaintyNotCounted
        | Reservation::CalibrationOverdue { .. }
        | Reservation::CalibratedLater(_)
        | Reservation::RetestNotCold(_)
        | Reservation::BaselineNotCold(_)
        | Reservation::ShortSoak
        | Reservation::ConditionHelped(_)
        | Reservation::RepeatsDiffer(_)
        | Reservation::AttemptsDiffer(_)
        | Reservation::NotTakenBefore(_)
        | Reservation::NotAsItShould(_)
        | Reservation::WorseWithinLimit(_)
        | Reservation::LeftOut { .. }
        | Reservation::WorseAt { .. }
        | Reservation::GradedByOthers
        | Reservation::VariationNotKnown(_) => Weight::Middle,
        Reservation::ScatterNotKnown(_)
        | Reservation::BatteryNotRecorded(_)
        | Reservation::ScattersDiffer(_)
        | Reservation::ScatterExceedsStated(_) => Weight::Light,
    }
}

/// The reservations by weight; those of one kind, which differ in what they name, together.
fn by_weight(all: &[Reservation]) -> Vec<Vec<&Reservation>> {
    let mut kinds: Vec<Vec<&Reservation>> = Vec::new();
    for one in all {
        let kind = |known: &Vec<&Reservation>| discriminant(known[0]) == discriminant(one);
        // What looks wrong is of several kinds, and what is worse or left out names its
        // positions.
        let alone = matches!(
            one,
            Reservation::LookAgain(_) | Reservation::WorseAt { .. } | Reservation::LeftOut { .. }
        );
        let same = kinds.iter_mut().find(|known| kind(known) && !alone);
        match same {
            Some(known) => known.push(one),
            None => kinds.push(vec![one]),
        }
    }
    kinds.sort_by_key(|kind| weight(kind[0]));
    kinds
}

/// The names of limits and windows that nothing could have missed.
fn idle<'a>(job: &'a Job, judgement: &Judgement) -> Vec<&'a str> {
    let limits = &job.plan.limits;
    let measures = limits.measures.iter().zip(&judgement.measures);
    let measures = measures.filter(|(measure, found)| is_idle_limit(measure, found));
    let windows = limits.conditions.iter();
    let windows = windows.filter(|condition| is_idle_window(condition, job));
    let names = measures.map(|(measure, _)| measure.name.as_str());
    names
        .chain(windows.map(|condition| condition.name.as_str()))
        .collect()
}

/// What has a limit, is not required, and was not read. Of what is required, the reasons say so.
fn not_taken<'a, S>(job: &'a Job, judgement: &'a Judgement) -> Vec<Caveat<'a, S>> {
    let measures = job.plan.limits.measures.iter().zip(&judgement.measures);
    let unread = measures.filter(|(measure, _)| !measure.required && measure.kind.has_limit());
    unread
        .filter_map(|(measure, found)| {
            let unread = found.finding.unread()?;
            Some(Caveat::NotTaken {
                measure: &measure.id,
                positions: unread.positions.into_iter().map(str::to_owned).collect(),
                why: unread.why,
            })
        })
        .collect()
}

/// Whether the report is dated before the retest it tells of.
pub fn is_issued_before_retest(job: &Job, issued: DateTime<FixedOffset>) -> bool {
    issued < job.retest.started
}

/// What the change is credited to: never to one of several things.
#[derive(Debug, Clone)]
#[cfg_attr(test, derive(PartialEq, Eq))]
pub enum Attribution<'a> {
    /// The one thing that was done.
    One(&'a str),
    /// Several things together; how many.
    Several(usize),
}

/// What the change is credited to.
pub fn attribution(job: &Job) -> Attribution<'_> {
    match job.work.contributions().as_slice() {
        [Contribution::Intervention(what)] => Attribution::One(what),
        several => Attribution::Several(several.len()),
    }
}

/// What was done, and what was repaired besides.
pub fn done(job: &Job) -> Listed<Contribution<'_>> {
    Listed::of(job.work.contributions(), ITEMS)
}

/// What was found and left as it is: what the customer must not miss.
pub fn left(job: &Job) -> Listed<&FurtherDefect> {
    let found = job.work.also_found.iter();
    Listed::of(found.filter(|found| !found.is_repaired()), ITEMS)
}

/// What to watch for.
pub fn advice(job: &Job) -> Listed<&str> {
    Listed::of(job.work.watch.iter().map(String::as_str), ITEMS)
}

/// What did not have to be bought; what was charged comes before it.
pub fn not_needed(job: &Job) -> Listed<&NotNeeded> {
    Listed::of(&job.work.not_needed, ITEMS - 1)
}

/// The follow-up, seen from the day of issue.
#[derive(Debug, Clone, Copy)]
#[cfg_attr(test, derive(PartialEq, Eq))]
pub enum FollowUp {
    /// Come back on that day.
    Due(NaiveDate),
    /// That day has passed, and is no invitation.
    Passed(NaiveDate),
}

/// When to come back, told on the day of issue.
pub fn follow_up(job: &Job, issued: NaiveDate) -> Option<FollowUp> {
    job.work.follow_up.map(|day| {
        if day < issued {
            FollowUp::Passed(day)
        } else {
            FollowUp::Due(day)
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Where one line more than there is room would stand, the last says how many more.
    #[test]
    fn a_list_is_cut_with_room_for_saying_so() {
        let cut = |count: usize| {
            let list = Listed::of(0..count, 3);
            (list.items.len(), list.more)
        };
        assert_eq!(cut(0), (0, None));
        assert_eq!(cut(3), (3, None));
        assert_eq!(cut(4), (2, Some(2)));
        assert_eq!(cut(9), (2, Some(7)));
        let first = |count: usize| {
            let list = Listed::first(0..count, 3);
            (list.items.len(), list.more)
        };
        assert_eq!(first(0), (0, None));
        assert_eq!(first(3), (3, None));
        assert_eq!(first(4), (3, Some(1)));
    }
}
