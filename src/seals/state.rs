//! Whether a job matches its seals, as facts; `view` puts them into words.

use std::collections::BTreeMap;

use chrono::{DateTime, FixedOffset};

use super::chain::{Chain, Link, Standing};
use super::seal_text::Clock;
use crate::files::Digest;
use crate::job::Stage;
use crate::judge::Verdict;

/// A sealed file that was changed, or is missing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BrokenFile {
    /// Its path in the job folder.
    pub file: String,
    /// The stage in which it was sealed.
    pub stage: Stage,
    /// Whether it is missing.
    pub missing: bool,
}

/// When limits and baseline were first sealed, by the times in the files.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum FirstSealed {
    /// They are not sealed.
    #[default]
    Never,
    /// Before the work started, or it has not started yet.
    BeforeWork,
    /// Only after the work had started.
    AfterWorkStarted,
}

/// Whether the baseline was changed and sealed again after its first seal.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Amended {
    /// It was not.
    #[default]
    No,
    /// It was, and its first seal shows no less for it.
    Yes,
    /// It was first sealed before the work, and sealed again after the work had started.
    AfterWorkStarted,
}

/// What the seals show of limits and baseline, in a word.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SealMark {
    /// A seal or a sealed file is not as it was: nothing is shown.
    Broken,
    /// They were never sealed.
    NotSealed,
    /// They were sealed only after the work had started.
    AfterWorkStarted,
    /// They were sealed before the work.
    BeforeWork {
        /// Whether they were sealed again.
        amended: Amended,
        /// Whose clock says that it was before the work.
        clock: Clock,
    },
}

/// One thing that the seals of a job show, or fail to show.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SealFact {
    /// A seal or a sealed file is not as it was.
    Broken,
    /// When limits and baseline were first sealed.
    First(FirstSealed),
    /// Files of the baseline were changed after they were first sealed; whether the change
    /// was sealed only after the work had started.
    Changed {
        /// Only after the work had started.
        late: bool,
    },
    /// Files of the retest were changed after they were first sealed.
    RetestChanged,
    /// The retest is not sealed.
    RetestNotSealed,
    /// The times of the seals are those of the shop's clock.
    OwnClock,
}

/// What a job comes to: a broken seal outranks the verdict.
#[derive(Debug, Clone, Copy)]
pub enum JobOutcome {
    /// The readings may not be those that were sealed, so no verdict stands.
    BrokenSeal,
    /// The verdict stands.
    Verdict(Verdict),
}

/// The seals of a job, and whether its files match them.
#[derive(Debug, Clone, Default)]
pub struct Sealing {
    /// The seals in order, and what is wrong with them.
    pub chain: Chain,
    /// Sealed files that were changed, or are missing.
    pub broken: Vec<BrokenFile>,
    /// When limits and baseline were first sealed.
    pub first_sealed: FirstSealed,
    /// Whether they were sealed again.
    pub amended: Amended,
    /// The files of the baseline that were changed after they were first sealed.
    pub changed: Vec<String>,
    /// Those of the retest.
    pub retest_changed: Vec<String>,
}

impl Sealing {
    /// Whether a sealed file, or a seal itself, was changed or is missing.
    pub fn is_broken(&self) -> bool {
        !self.broken.is_empty() || !self.chain.errors.is_empty()
    }

    /// Whether something is sealed, and the retest is not.
    fn lacks_retest(&self) -> bool {
        !self.chain.links.is_empty() && self.chain.latest(Stage::Retest).is_none()
    }

    /// What a job with this verdict comes to.
    pub fn outcome(&self, verdict: Verdict) -> JobOutcome {
        if self.is_broken() {
            JobOutcome::BrokenSeal
        } else {
            JobOutcome::Verdict(verdict)
        }
    }

    /// What the seals show, and what they fail to show, in the order in which it is told.
    pub fn facts(&self) -> Vec<SealFact> {
        let sealed = !self.chain.links.is_empty();
        let facts = [
            self.is_broken().then_some(SealFact::Broken),
            Some(SealFact::First(self.first_sealed)),
            self.change(),
            self.retest_change(),
            self.lacks_retest().then_some(SealFact::RetestNotSealed),
            sealed.then_some(SealFact::OwnClock),
        ];
        facts.into_iter().flatten().collect()
    }

    /// Where the seals show less than they could, what weighs most first. That one is
    /// broken is told before all else, and is not among them.
    pub fn gaps(&self) -> Vec<SealFact> {
        let first = SealFact::First(self.first_sealed);
        let gaps = [
            self.change(),
            (self.first_sealed != FirstSealed::BeforeWork).then_some(first),
            self.retest_change(),
            self.lacks_retest().then_some(SealFact::RetestNotSealed),
        ];
        gaps.into_iter().flatten().collect()
    }

    fn change(&self) -> Option<SealFact> {
        let late = self.amended == Amended::AfterWorkStarted;
        (!self.changed.is_empty()).then_some(SealFact::Changed { late })
    }

    fn retest_change(&self) -> Option<SealFact> {
        (!self.retest_changed.is_empty()).then_some(SealFact::RetestChanged)
    }

    /// The reasons of all amendments of `stage`, the oldest first.
    pub fn reasons(&self, stage: Stage) -> Vec<&str> {
        let links = self.chain.links.iter();
        let own = links.filter(|link| link.seal.stage == stage);
        own.filter_map(|link| link.seal.amends.as_deref()).collect()
    }

    /// What the seals show in a word. "Before the work" rests on the first seal and its
    /// clock.
    pub fn mark(&self) -> SealMark {
        if self.is_broken() {
            return SealMark::Broken;
        }
        match (self.first_sealed, self.chain.first(Stage::Baseline)) {
            (FirstSealed::BeforeWork, Some(first)) => SealMark::BeforeWork {
                amended: self.amended,
                clock: first.seal.clock,
            },
            (FirstSealed::AfterWorkStarted, _) => SealMark::AfterWorkStarted,
            _ => SealMark::NotSealed,
        }
    }
}

/// Whether a job whose work started at `work_started` matches its seals; `today` has the
/// digest of each of its files.
pub fn sealing(
    chain: &Chain,
    today: &BTreeMap<String, Digest>,
    work_started: DateTime<FixedOffset>,
) -> Sealing {
    held_against(chain, today, Some(work_started))
}

/// Whether a baseline matches its seals, before the work. What later seals hold is not
/// compared.
pub fn sealing_of_baseline(chain: &Chain, today: &BTreeMap<String, Digest>) -> Sealing {
    let mut sealing = held_against(chain, today, None);
    sealing
        .broken
        .retain(|broken| broken.stage == Stage::Baseline);
    sealing
}

fn held_against(
    chain: &Chain,
    today: &BTreeMap<String, Digest>,
    work_started: Option<DateTime<FixedOffset>>,
) -> Sealing {
    let broken = chain
        .standings(|file| today.get(file).copied())
        .filter(|(_, _, standing)| *standing != Standing::Kept)
        .map(|(stage, file, standing)| BrokenFile {
            file: file.to_owned(),
            stage,
            missing: standing == Standing::Missing,
        })
        .collect();
    let in_time = |link: &Link| work_started.is_none_or(|started| link.seal.sealed <= started);
    let first_sealed = match chain.first(Stage::Baseline) {
        None => FirstSealed::Never,
        Some(first) if in_time(first) => FirstSealed::BeforeWork,
        Some(_) => FirstSealed::AfterWorkStarted,
    };
    let changes = |stage| {
        let files = chain.changed_since_first(stage).into_iter();
        files.map(str::to_owned).collect::<Vec<String>>()
    };
    let changed = changes(Stage::Baseline);
    let holds_late = chain
        .latest(Stage::Baseline)
        .is_some_and(|link| !in_time(link));
    let amended = if first_sealed == FirstSealed::BeforeWork && holds_late {
        Amended::AfterWorkStarted
    } else if changed.is_empty() {
        Amended::No
    } else {
        Amended::Yes
    };
    Sealing {
        chain: chain.clone(),
        broken,
        first_sealed,
        amended,
        changed,
        retest_changed: changes(Stage::Retest),
    }
}

#[cfg(test)]
mod tests;
