//! The rules of a chain, each broken.

use super::*;
use crate::seals::seal_text::Clock;
use chrono::{DateTime, Duration};
use std::collections::BTreeMap;

fn seal(stage: Stage, hours: i64, previous: Option<&(String, Vec<u8>)>) -> Seal {
    let start = DateTime::parse_from_rfc3339("2026-01-20T08:20:00+00:00").unwrap();
    Seal {
        job: "E-0412".to_owned(),
        stage,
        sealed: start + Duration::hours(hours),
        clock: Clock::Computer,
        tool: "retestify 0.1.0".to_owned(),
        previous: previous.map(|(_, bytes)| Digest::of(bytes)),
        amends: None,
        files: stage
            .texts()
            .map(|text| (text.name().to_owned(), Digest::of(b"x")))
            .collect(),
    }
}

fn file(number: usize, seal: &Seal) -> (String, Vec<u8>) {
    (seal_file_name(number, seal.stage), seal.text().into_bytes())
}

#[test]
fn a_sound_chain_has_no_error_in_whatever_order_its_files_come() {
    let one = file(1, &seal(Stage::Baseline, 0, None));
    let two = file(2, &seal(Stage::Retest, 30, Some(&one)));
    let mut amended = seal(Stage::Baseline, 31, Some(&two));
    amended.amends = Some("Serial number corrected".to_owned());
    let three = file(3, &amended);
    let chain = Chain::of([three, one, two]);
    assert_eq!(chain.errors, []);
    assert_eq!(chain.links.len(), 3);
    assert_eq!(
        chain.first(Stage::Baseline).unwrap().file,
        "1-baseline.sha256"
    );
    assert_eq!(
        chain.latest(Stage::Baseline).unwrap().file,
        "3-baseline.sha256"
    );
    assert_eq!(chain.amended("baseline.toml"), None);
}

#[test]
fn every_break_is_named() {
    let one = file(1, &seal(Stage::Baseline, 0, None));
    let retest = |hours| seal(Stage::Retest, hours, Some(&one));
    let errors = |files: Vec<(String, Vec<u8>)>| Chain::of(files).errors;
    let error = |file: &str, breach| ChainError {
        file: file.to_owned(),
        breach,
    };
    let two = "2-retest.sha256";

    let mut other = seal(Stage::Baseline, 0, None);
    other
        .files
        .insert("limits.toml".to_owned(), Digest::of(b"looser"));
    assert_eq!(
        errors(vec![file(1, &other), file(2, &retest(30))]),
        [error(two, Breach::Previous)],
        "a baseline swapped, its seal made anew"
    );
    assert_eq!(
        errors(vec![one.clone(), file(2, &retest(-1))]),
        [error(two, Breach::Clock)]
    );
    let alone = seal(Stage::Retest, 0, None);
    assert_eq!(
        errors(vec![file(1, &alone)]),
        [error("1-retest.sha256", Breach::Order)]
    );
    assert_eq!(
        errors(vec![one.clone(), file(3, &retest(30))]),
        [error("3-retest.sha256", Breach::Name)]
    );
    let again = seal(Stage::Baseline, 1, Some(&one));
    assert_eq!(
        errors(vec![one.clone(), file(2, &again)]),
        [error("2-baseline.sha256", Breach::NoReason)]
    );
    let mut stranger = retest(30);
    stranger.job = "E-0413".to_owned();
    assert_eq!(
        errors(vec![one.clone(), file(2, &stranger)]),
        [error(two, Breach::OtherJob)]
    );
    assert_eq!(
        errors(vec![one, (two.to_owned(), b"nonsense".to_vec())]),
        [error(two, Breach::NotASeal(SealError::Line(1)))]
    );
}

/// The rules that a chain can break in more than one way.
#[test]
fn every_break_is_named_in_each_of_its_forms() {
    let one = file(1, &seal(Stage::Baseline, 0, None));
    let breaches = |files: Vec<(String, Vec<u8>)>| -> Vec<Breach> {
        let errors = Chain::of(files).errors.into_iter();
        errors.map(|error| error.breach).collect()
    };
    // Incomplete: without any one of the texts of its stage.
    for stage in [Stage::Baseline, Stage::Retest] {
        for text in stage.texts() {
            let mut short = seal(stage, 30, Some(&one));
            short.amends = (stage == Stage::Baseline).then(|| "why".to_owned());
            short.files.remove(text.name());
            let short = file(2, &short);
            assert_eq!(
                breaches(vec![one.clone(), short]),
                [Breach::Incomplete],
                "{text:?}"
            );
        }
    }
    // Previous: the first seal follows one that is not there; the second none.
    let orphan = seal(Stage::Baseline, 0, Some(&one));
    assert_eq!(breaches(vec![file(1, &orphan)]), [Breach::Previous]);
    let alone = seal(Stage::Retest, 30, None);
    assert_eq!(
        breaches(vec![one.clone(), file(2, &alone)]),
        [Breach::Previous]
    );
    // Order: an amendment of what was not sealed.
    let mut amendment = seal(Stage::Baseline, 0, None);
    amendment.amends = Some("why".to_owned());
    assert_eq!(breaches(vec![file(1, &amendment)]), [Breach::Order]);
    let mut amendment = seal(Stage::Retest, 30, Some(&one));
    amendment.amends = Some("why".to_owned());
    assert_eq!(
        breaches(vec![one.clone(), file(2, &amendment)]),
        [Breach::Order]
    );
    // Name: another stage than its own, or no number.
    let retest = seal(Stage::Retest, 30, Some(&one)).text().into_bytes();
    for name in ["2-baseline.sha256", "retest.sha256", "02-retest.sha256"] {
        let second = (name.to_owned(), retest.clone());
        assert_eq!(
            breaches(vec![one.clone(), second]),
            [Breach::Name],
            "{name}"
        );
    }
    // Other job: than that of the first seal, not than that of the one before it.
    let stranger = |number, previous: &(String, Vec<u8>)| {
        let mut seal = seal(Stage::Baseline, 30, Some(previous));
        seal.job = "E-0413".to_owned();
        seal.amends = Some("why".to_owned());
        file(number, &seal)
    };
    let second = stranger(2, &one);
    let third = stranger(3, &second);
    assert_eq!(
        breaches(vec![one.clone(), second, third]),
        [Breach::OtherJob, Breach::OtherJob]
    );
    // The same moment is no earlier one.
    let at_once = file(2, &seal(Stage::Retest, 0, Some(&one)));
    assert_eq!(breaches(vec![one, at_once]), []);
}

/// Ten seals and more stand in the order of their numbers, not of their letters.
#[test]
fn the_order_is_that_of_the_numbers() {
    let mut files = vec![file(1, &seal(Stage::Baseline, 0, None))];
    for number in 2..=11 {
        let mut next = seal(Stage::Baseline, number, files.last());
        next.amends = Some(format!("correction {number}"));
        files.push(file(usize::try_from(number).unwrap(), &next));
    }
    files.reverse();
    let chain = Chain::of(files);
    assert_eq!(chain.errors, []);
    assert_eq!(chain.links[10].file, "11-baseline.sha256");
    let holding: Vec<&str> = chain.holding().map(|link| link.file.as_str()).collect();
    assert_eq!(holding, ["11-baseline.sha256"]);
    assert!(chain.holds(&chain.links[10]));
    assert!(!chain.holds(&chain.links[0]));
    assert!(!chain.is_empty());
    assert!(Chain::default().is_empty());
    let unread = Chain::of([("1-baseline.sha256".to_owned(), Vec::new())]);
    assert!(!unread.is_empty(), "a seal that cannot be read is one");
}

#[test]
fn what_an_amendment_changed_is_named_with_its_reason() {
    let one = file(1, &seal(Stage::Baseline, 0, None));
    let retest = file(2, &seal(Stage::Retest, 30, Some(&one)));
    let mut of_the_retest = seal(Stage::Retest, 30, Some(&retest));
    of_the_retest.amends = Some("The meter was read wrong".to_owned());
    let third = file(3, &of_the_retest);
    let mut amended = seal(Stage::Baseline, 31, Some(&third));
    amended.amends = Some("Agreed".to_owned());
    let files = &mut amended.files;
    files.insert("limits.toml".to_owned(), Digest::of(b"looser"));
    files.insert("photos/new.jpg".to_owned(), Digest::of(b"new"));
    let sealed = Chain::of([one.clone(), retest.clone()]);
    assert_eq!(
        sealed.changed_since_first(Stage::Baseline),
        Vec::<&str>::new()
    );
    assert_eq!(
        Chain::default().changed_since_first(Stage::Baseline),
        Vec::<&str>::new()
    );
    let chain = Chain::of([one, retest, third, file(4, &amended)]);
    assert_eq!(chain.errors, []);
    assert_eq!(
        chain.changed_since_first(Stage::Baseline),
        ["limits.toml", "photos/new.jpg"]
    );
    assert_eq!(chain.amended("limits.toml"), Some(vec!["Agreed"]));
    assert_eq!(chain.amended("job.toml"), None);
}

#[test]
fn a_file_is_kept_changed_or_missing() {
    let one = file(1, &seal(Stage::Baseline, 0, None));
    let chain = Chain::of([one.clone(), file(2, &seal(Stage::Retest, 30, Some(&one)))]);
    let now = |file: &str| match file {
        "job.toml" => Some(Digest::of(b"other")),
        "retest.toml" => None,
        _ => Some(Digest::of(b"x")),
    };
    let found: Vec<_> = chain.standings(now).collect();
    assert_eq!(
        found,
        [
            (Stage::Baseline, "baseline.toml", Standing::Kept),
            (Stage::Baseline, "job.toml", Standing::Changed),
            (Stage::Baseline, "limits.toml", Standing::Kept),
            (Stage::Retest, "retest.toml", Standing::Missing),
            (Stage::Retest, "work.toml", Standing::Kept),
        ]
    );
}

#[test]
fn the_seals_of_a_folder_are_read_and_hidden_files_passed_over() {
    let (name, bytes) = file(1, &seal(Stage::Baseline, 0, None));
    let mut folder = BTreeMap::from([
        (format!("{SEALS}/{name}"), bytes),
        (format!("{SEALS}/.DS_Store"), b"x".to_vec()),
        ("job.toml".to_owned(), b"x".to_vec()),
    ]);
    let chain = Chain::read(&folder).unwrap();
    assert_eq!((chain.links.len(), &chain.errors[..]), (1, &[][..]));
    assert_eq!(Chain::read(&BTreeMap::new()), Ok(Chain::default()));

    let large = vec![b'x'; SEAL_LIMIT as usize + 1];
    folder.insert(format!("{SEALS}/2-retest.sha256"), large);
    assert_eq!(
        Chain::read(&folder),
        Err(ReadSealsError::Unreadable(
            "seals/2-retest.sha256".to_owned(),
            ReadError::TooLarge { limit: SEAL_LIMIT }
        ))
    );
}

#[test]
fn a_thousand_seals_are_read_and_no_more() {
    let name = |number| format!("{SEALS}/{number}-retest.sha256");
    let mut folder: BTreeMap<String, Vec<u8>> = (1..=MOST_SEALS)
        .map(|number| (name(number), b"x".to_vec()))
        .collect();
    assert_eq!(Chain::read(&folder).unwrap().errors.len(), MOST_SEALS);
    folder.insert(name(MOST_SEALS + 1), b"x".to_vec());
    assert_eq!(Chain::read(&folder), Err(ReadSealsError::TooMany));
}
