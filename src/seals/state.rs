//! Whether a job matches its seals, as facts; `view` puts them into words.

use std::collections::BTreeMap;

use chrono::{DateTime, FixedOffset};

use super::chain::{Chain, Link, Standing};
use super::seal_text::Clock;
use crate::files::Digest;
use crate::job::Stage;

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
}

impl Sealing {
    /// Whether a sealed file, or a seal itself, was changed or is missing.
    pub fn is_broken(&self) -> bool {
        !self.broken.is_empty() || !self.chain.errors.is_empty()
    }

    /// Whether something is sealed, and the retest is not.
    pub fn lacks_retest(&self) -> bool {
        !self.chain.links.is_empty() && self.chain.latest(Stage::Retest).is_none()
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
    let changed: Vec<String> = chain
        .changed_since_first()
        .into_iter()
        .map(str::to_owned)
        .collect();
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
    }
}

#[cfg(test)]
mod tests {
    use super::super::chain::seal_file_name;
    use super::super::seal_text::Seal;
    use super::*;

    fn at(hour: u32) -> DateTime<FixedOffset> {
        let text = format!("2026-01-20T{hour:02}:00:00+00:00");
        DateTime::parse_from_rfc3339(&text).unwrap()
    }

    /// The files as they are sealed in these tests.
    fn same() -> BTreeMap<String, Digest> {
        let texts = Stage::ALL.into_iter().flat_map(Stage::texts);
        texts
            .map(|text| (text.name().to_owned(), Digest::of(b"x")))
            .collect()
    }

    /// A chain of seals: stage, hour, and the file that was changed for it.
    fn chain(seals: &[(Stage, u32, Option<&str>)], clock: Clock) -> Chain {
        let mut files: Vec<(String, Vec<u8>)> = Vec::new();
        for (index, (stage, hour, changed)) in seals.iter().enumerate() {
            let texts = stage.texts();
            let mut sealed: BTreeMap<String, Digest> = texts
                .map(|text| (text.name().to_owned(), Digest::of(b"x")))
                .collect();
            if let Some(changed) = changed {
                sealed.insert((*changed).to_owned(), Digest::of(b"before"));
            }
            let again = seals[..index].iter().any(|(other, ..)| other == stage);
            let seal = Seal {
                job: "E-0412".to_owned(),
                stage: *stage,
                sealed: at(*hour),
                clock,
                tool: "retestify 0.1.0".to_owned(),
                previous: files.last().map(|(_, bytes)| Digest::of(bytes)),
                amends: again.then(|| "The watch was read wrong".to_owned()),
                files: sealed,
            };
            let name = seal_file_name(index + 1, *stage);
            files.push((name, seal.text().into_bytes()));
        }
        let chain = Chain::of(files);
        assert_eq!(chain.errors, []);
        chain
    }

    const BASELINE: Stage = Stage::Baseline;

    /// When the baseline was sealed (hours), which file was changed for the last of these
    /// seals, when work started, and what the seals show then.
    #[test]
    fn what_the_seals_show_hangs_on_when_they_were_made() {
        use Amended::{AfterWorkStarted, No, Yes};
        let first = |hour| (BASELINE, hour, None);
        let changed = |hour| (BASELINE, hour, Some("limits.toml"));
        let before = |amended| SealMark::BeforeWork {
            amended,
            clock: Clock::Computer,
        };
        let late = SealMark::AfterWorkStarted;
        let none = SealMark::NotSealed;
        for (seals, started, first_sealed, amended, mark) in [
            (vec![], Some(9), FirstSealed::Never, No, none),
            (vec![], None, FirstSealed::Never, No, none),
            (
                vec![first(8)],
                None,
                FirstSealed::BeforeWork,
                No,
                before(No),
            ),
            (
                vec![first(8)],
                Some(9),
                FirstSealed::BeforeWork,
                No,
                before(No),
            ),
            (
                vec![first(9)],
                Some(9),
                FirstSealed::BeforeWork,
                No,
                before(No),
            ),
            (
                vec![first(10)],
                Some(9),
                FirstSealed::AfterWorkStarted,
                No,
                late,
            ),
            (
                vec![changed(7), first(8)],
                Some(9),
                FirstSealed::BeforeWork,
                Yes,
                before(Yes),
            ),
            (
                vec![changed(7), first(10)],
                Some(9),
                FirstSealed::BeforeWork,
                AfterWorkStarted,
                before(AfterWorkStarted),
            ),
            (
                vec![changed(7), first(10)],
                None,
                FirstSealed::BeforeWork,
                Yes,
                before(Yes),
            ),
            // Changed, and changed back: nothing differs, yet it was sealed late.
            (
                vec![first(7), changed(8), first(10)],
                Some(9),
                FirstSealed::BeforeWork,
                AfterWorkStarted,
                before(AfterWorkStarted),
            ),
            (
                vec![changed(10), first(11)],
                Some(9),
                FirstSealed::AfterWorkStarted,
                Yes,
                late,
            ),
        ] {
            let found = held_against(&chain(&seals, Clock::Computer), &same(), started.map(at));
            assert_eq!(found.first_sealed, first_sealed, "{seals:?} {started:?}");
            assert_eq!(found.amended, amended, "{seals:?} {started:?}");
            assert_eq!(found.mark(), mark, "{seals:?} {started:?}");
            assert!(!found.is_broken());
        }
        let by_hand = sealing(&chain(&[first(8)], Clock::Set), &same(), at(9));
        let mark = SealMark::BeforeWork {
            amended: No,
            clock: Clock::Set,
        };
        assert_eq!(by_hand.mark(), mark);
    }

    #[test]
    fn a_broken_file_or_seal_comes_before_everything_else() {
        let seals = [(BASELINE, 8, None), (Stage::Retest, 12, None)];
        let sound = chain(&seals, Clock::Computer);
        let mut today = same();
        today.remove("limits.toml");
        today.insert("retest.toml".to_owned(), Digest::of(b"other"));
        let broken = sealing(&sound, &today, at(9));
        assert_eq!(broken.mark(), SealMark::Broken);
        let named = |file: &str, stage, missing| BrokenFile {
            file: file.to_owned(),
            stage,
            missing,
        };
        assert_eq!(
            broken.broken,
            [
                named("limits.toml", BASELINE, true),
                named("retest.toml", Stage::Retest, false)
            ]
        );
        // Before the work only the baseline is looked at.
        let before = sealing_of_baseline(&sound, &today);
        assert_eq!(before.broken, [named("limits.toml", BASELINE, true)]);
        let of_first = Chain::of([("1-baseline.sha256".to_owned(), b"nonsense".to_vec())]);
        let unread = sealing(&of_first, &same(), at(9));
        assert!(unread.broken.is_empty());
        assert_eq!(unread.mark(), SealMark::Broken);
    }

    #[test]
    fn a_retest_is_missed_only_where_something_is_sealed() {
        let lacks = |seals: &[(Stage, u32, Option<&str>)]| {
            sealing_of_baseline(&chain(seals, Clock::Computer), &same()).lacks_retest()
        };
        assert!(!lacks(&[]));
        assert!(lacks(&[(BASELINE, 8, None)]));
        assert!(!lacks(&[(BASELINE, 8, None), (Stage::Retest, 12, None)]));
    }

    #[test]
    fn the_changed_files_are_those_of_the_first_and_the_last_baseline() {
        let seals = [(BASELINE, 7, Some("limits.toml")), (BASELINE, 8, None)];
        let found = sealing_of_baseline(&chain(&seals, Clock::Computer), &same());
        assert_eq!(found.changed, ["limits.toml"]);
    }
}
