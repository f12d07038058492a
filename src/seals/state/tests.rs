//! What chains of seals show, and files that match them or not.

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

/// A broken seal is told first of all, and what weighs most of the rest on page 1.
#[test]
fn facts_are_told_in_their_order() {
    use SealFact::{Broken, Changed, First, OwnClock, RetestChanged, RetestNotSealed};
    let changed = |hour| (BASELINE, hour, Some("limits.toml"));
    let first = |hour| (BASELINE, hour, None);
    let retest = (Stage::Retest, 12, None);
    let retest_again = (Stage::Retest, 13, None);
    let (before, late) = (FirstSealed::BeforeWork, FirstSealed::AfterWorkStarted);
    for (seals, facts, gaps) in [
        (
            vec![],
            vec![First(FirstSealed::Never)],
            vec![First(FirstSealed::Never)],
        ),
        (
            vec![first(8)],
            vec![First(before), RetestNotSealed, OwnClock],
            vec![RetestNotSealed],
        ),
        (
            vec![first(8), retest],
            vec![First(before), OwnClock],
            vec![],
        ),
        (
            vec![first(10), retest],
            vec![First(late), OwnClock],
            vec![First(late)],
        ),
        (
            vec![changed(7), first(8), retest],
            vec![First(before), Changed { late: false }, OwnClock],
            vec![Changed { late: false }],
        ),
        (
            vec![changed(10), first(11)],
            vec![
                First(late),
                Changed { late: false },
                RetestNotSealed,
                OwnClock,
            ],
            vec![Changed { late: false }, First(late), RetestNotSealed],
        ),
        (
            vec![changed(7), first(10), retest],
            vec![First(before), Changed { late: true }, OwnClock],
            vec![Changed { late: true }],
        ),
        // Changed, and changed back: no file is other than it was, and that is told too.
        (
            vec![first(7), changed(8), first(10), retest],
            vec![First(before), Changed { late: true }, OwnClock],
            vec![Changed { late: true }],
        ),
        // A retest that was sealed again.
        (
            vec![
                first(8),
                (Stage::Retest, 12, Some("retest.toml")),
                retest_again,
            ],
            vec![First(before), RetestChanged, OwnClock],
            vec![RetestChanged],
        ),
    ] {
        let chain = chain(&seals, Clock::Computer);
        let found = sealing(&chain, &same(), at(9));
        assert_eq!(found.facts(), facts, "{seals:?}");
        assert_eq!(found.gaps(), gaps, "{seals:?}");
        let stands = found.outcome(Verdict::Verified);
        assert!(matches!(stands, JobOutcome::Verdict(Verdict::Verified)));
        if seals.is_empty() {
            continue;
        }
        let broken = sealing(&chain, &BTreeMap::new(), at(9));
        assert_eq!(
            broken.facts(),
            [&[Broken], &facts[..]].concat(),
            "{seals:?}"
        );
        assert_eq!(broken.gaps(), gaps, "{seals:?}");
        let outranked = broken.outcome(Verdict::Verified);
        assert!(matches!(outranked, JobOutcome::BrokenSeal));
    }
}

/// Of each stage its own, with the reasons given.
#[test]
fn the_changed_files_are_those_of_every_amendment() {
    let seals = [
        (BASELINE, 7, Some("limits.toml")),
        (BASELINE, 8, None),
        (BASELINE, 9, Some("job.toml")),
        (Stage::Retest, 12, Some("work.toml")),
        (Stage::Retest, 13, None),
    ];
    let found = sealing_of_baseline(&chain(&seals, Clock::Computer), &same());
    assert_eq!(found.changed, ["job.toml", "limits.toml"]);
    assert_eq!(found.retest_changed, ["work.toml"]);
    let why = "The watch was read wrong";
    assert_eq!(found.reasons(BASELINE), [why, why]);
    assert_eq!(found.reasons(Stage::Retest), [why]);
    let one = sealing_of_baseline(&chain(&seals[..1], Clock::Computer), &same());
    assert!(one.changed.is_empty() && one.reasons(BASELINE).is_empty());
}
