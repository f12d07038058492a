//! Closing a stage: when a new seal may be made, and what it says.

use std::collections::BTreeMap;
use std::fmt;

use chrono::{DateTime, FixedOffset};

use super::chain::{Chain, ChainError, Link, SEALS, Standing, seal_file_name};
use super::file_names::{NameError, check_names};
use super::seal_text::{Clock, Seal, SealError};
use crate::files::Digest;
use crate::job::Stage;
use crate::result::TOOL;

/// What is to be sealed.
#[derive(Debug, Clone)]
pub struct Closing {
    /// The job's number.
    pub job: String,
    /// The stage.
    pub stage: Stage,
    /// The files of the stage.
    pub files: BTreeMap<String, Digest>,
    /// The digest of every file of the job folder today, for the stages sealed before.
    pub today: BTreeMap<String, Digest>,
    /// Now.
    pub now: DateTime<FixedOffset>,
    /// Where that time comes from.
    pub clock: Clock,
    /// The reason for amending an older seal, if one is to be amended.
    pub amends: Option<String>,
}

/// Why a stage cannot be sealed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum CloseError {
    /// It is already sealed, and its files are as they were.
    Done(String),
    /// It is already sealed, and its files have changed; only an amendment may follow.
    Sealed(String),
    /// The reason for an amendment is empty.
    NoReason,
    /// There is nothing to amend.
    NotSealed,
    /// The files are exactly as they were sealed.
    Unchanged(String),
    /// The retest needs a sealed baseline.
    NoBaseline,
    /// A file of the sealed baseline was changed.
    Broken(String, Standing),
    /// The existing seals do not form a chain.
    Chain(ChainError),
    /// The last seal has a later time than now.
    Clock(DateTime<FixedOffset>),
    /// A file name that cannot be sealed.
    Name(NameError),
    /// The job's number or the reason has characters that a seal cannot contain.
    Words,
}

impl fmt::Display for CloseError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Done(file) => write!(f, "this stage is already sealed, by {SEALS}/{file}"),
            Self::Sealed(file) => write!(
                f,
                "this stage is already sealed, by {SEALS}/{file}, and its files have changed since"
            ),
            Self::NoReason => f.write_str("the reason for the amendment is empty"),
            Self::NotSealed => f.write_str("this stage has no seal to amend"),
            Self::Unchanged(file) => {
                write!(
                    f,
                    "nothing has changed since {SEALS}/{file}; there is nothing to amend"
                )
            }
            Self::NoBaseline => f.write_str("the baseline is not sealed"),
            Self::Broken(file, Standing::Missing) => {
                write!(f, "{file} was sealed with the baseline and is now missing")
            }
            Self::Broken(file, _) => {
                write!(
                    f,
                    "{file} was changed after it was sealed with the baseline"
                )
            }
            Self::Chain(error) => write!(f, "the chain of seals is broken: {error}"),
            Self::Clock(last) => write!(
                f,
                "the last seal is dated {last}, which is later than this computer's clock"
            ),
            Self::Name(error) => error.fmt(f),
            Self::Words => f.write_str(
                "the job's number or the reason is empty, or has line breaks or control characters",
            ),
        }
    }
}

impl std::error::Error for CloseError {}

impl CloseError {
    /// What a person can do.
    pub fn hint(&self) -> &'static str {
        match self {
            Self::NoReason => {
                "say in a sentence what was wrong, such as `--amend \"the meter was misread\"`: \
                 the report prints it"
            }
            Self::Sealed(_) => {
                "restore the files; or, to correct a mistake openly, add \
                 `--amend \"why\"`: the old seal stays and the report shows the reason"
            }
            Self::Done(_) => {
                "nothing has changed since, so there is nothing to seal; if the receipt of the \
                 baseline is missing, run `retestify receipt FOLDER`"
            }
            Self::NotSealed => "leave out `--amend`",
            Self::Unchanged(_) => "change the files first, then amend the seal",
            Self::NoBaseline => {
                "run `retestify seal baseline FOLDER` first; once work has started it shows less, \
                 and the report says so"
            }
            Self::Broken(..) => {
                "restore the file; or run `retestify seal baseline FOLDER --amend \
                 \"why\"`"
            }
            Self::Chain(_) => {
                "restore the files in `seals`; copies are attached to every \
                 receipt and report made since"
            }
            Self::Clock(_) => "set the clock, then seal",
            Self::Name(_) => "rename the file, and correct its name where it is used",
            Self::Words => "write it as one line of ordinary text",
        }
    }
}

impl Chain {
    /// The next seal with the name of its file.
    ///
    /// # Errors
    /// A [`CloseError`] that says why there must not be one.
    pub fn close(&self, closing: Closing) -> Result<Link, CloseError> {
        let Closing {
            job,
            stage,
            files,
            today,
            now,
            clock,
            amends,
        } = closing;
        if let Some(error) = self.errors.first() {
            return Err(CloseError::Chain(error.clone()));
        }
        if amends.as_ref().is_some_and(|why| why.trim().is_empty()) {
            return Err(CloseError::NoReason);
        }
        match (self.latest(stage), &amends) {
            (Some(link), None) if link.seal.files == files => {
                return Err(CloseError::Done(link.file.clone()));
            }
            (Some(link), None) => return Err(CloseError::Sealed(link.file.clone())),
            (None, Some(_)) => return Err(CloseError::NotSealed),
            (Some(link), Some(_)) if link.seal.files == files => {
                return Err(CloseError::Unchanged(link.file.clone()));
            }
            _ => {}
        }
        if stage == Stage::Retest {
            let baseline = self.latest(Stage::Baseline).ok_or(CloseError::NoBaseline)?;
            let mut standings = baseline.standings(|file| today.get(file).copied());
            if let Some((file, standing)) = standings.find(|(_, found)| *found != Standing::Kept) {
                return Err(CloseError::Broken(file.to_owned(), standing));
            }
        }
        let last = self.links.last();
        if let Some(last) = last.filter(|last| now < last.seal.sealed) {
            return Err(CloseError::Clock(last.seal.sealed));
        }
        check_names(files.keys().map(String::as_str)).map_err(CloseError::Name)?;
        let seal = Seal {
            job,
            stage,
            sealed: now,
            clock,
            tool: TOOL.to_owned(),
            previous: last.map(|last| last.digest),
            amends,
            files,
        };
        let bytes = seal.text().into_bytes();
        // Nothing is written that could not be read back.
        match Seal::read(&bytes) {
            Ok(again) if again == seal => {}
            Err(SealError::Name(error)) => return Err(CloseError::Name(error)),
            _ => return Err(CloseError::Words),
        }
        Ok(Link {
            file: seal_file_name(self.links.len() + 1, stage),
            digest: Digest::of(&bytes),
            bytes,
            seal,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn closing(stage: Stage, hour: u32) -> Closing {
        let now = format!("2026-01-20T{hour:02}:00:00+00:00");
        let files: BTreeMap<String, Digest> = stage
            .texts()
            .map(|text| (text.name().to_owned(), Digest::of(b"x")))
            .collect();
        Closing {
            job: "E-0412".to_owned(),
            stage,
            today: files.clone(),
            files,
            now: DateTime::parse_from_rfc3339(&now).unwrap(),
            clock: Clock::Computer,
            amends: None,
        }
    }

    fn with(chain: &Chain, link: Link) -> Chain {
        let files = chain.links.iter().chain([&link]);
        Chain::of(files.map(|link| (link.file.clone(), link.bytes.clone())))
    }

    fn sealed() -> Chain {
        let none = Chain::default();
        let link = none.close(closing(Stage::Baseline, 8)).unwrap();
        with(&none, link)
    }

    #[test]
    fn a_retest_follows_its_baseline() {
        let chain = sealed();
        let mut retest = closing(Stage::Retest, 9);
        retest.today = closing(Stage::Baseline, 8).files;
        let link = chain.close(retest.clone()).unwrap();
        assert_eq!(link.file, "2-retest.sha256");
        assert_eq!(link.seal.previous, Some(chain.links[0].digest));
        assert_eq!(with(&chain, link).errors, []);

        assert_eq!(
            Chain::default().close(retest.clone()).unwrap_err(),
            CloseError::NoBaseline
        );
        let edited = Digest::of(b"edited");
        retest.today.insert("baseline.toml".to_owned(), edited);
        assert_eq!(
            chain.close(retest).unwrap_err(),
            CloseError::Broken("baseline.toml".to_owned(), Standing::Changed)
        );
    }

    #[test]
    fn sealing_twice_needs_a_reason_and_a_change() {
        let chain = sealed();
        let mut again = closing(Stage::Baseline, 9);
        let old = "1-baseline.sha256".to_owned();
        assert_eq!(
            chain.close(again.clone()).unwrap_err(),
            CloseError::Done(old.clone())
        );
        let mut changed = again.clone();
        let edited = Digest::of(b"edited");
        changed.files.insert("job.toml".to_owned(), edited);
        assert_eq!(
            chain.close(changed).unwrap_err(),
            CloseError::Sealed(old.clone())
        );
        again.amends = Some("The meter was read wrong".to_owned());
        assert_eq!(
            chain.close(again.clone()).unwrap_err(),
            CloseError::Unchanged(old)
        );
        again
            .files
            .insert("job.toml".to_owned(), Digest::of(b"new"));
        let link = chain.close(again.clone()).unwrap();
        assert_eq!(link.file, "2-baseline.sha256");
        let amended = with(&chain, link);
        assert_eq!(amended.errors, []);
        // The next one is chained to the last, not to the first.
        let mut retest = closing(Stage::Retest, 9);
        retest.today = again.files.clone();
        let third = amended.close(retest.clone()).unwrap();
        assert_eq!(third.seal.previous, Some(amended.links[1].digest));
        retest.now -= chrono::TimeDelta::minutes(1);
        assert!(matches!(amended.close(retest), Err(CloseError::Clock(_))));
        for (wrong, error) in [
            ("", CloseError::NoReason),
            (" ", CloseError::NoReason),
            ("two\nlines", CloseError::Words),
        ] {
            again.amends = Some(wrong.to_owned());
            assert_eq!(chain.close(again.clone()).unwrap_err(), error);
        }
        let mut first = closing(Stage::Baseline, 8);
        first.amends = Some("no seal yet".to_owned());
        assert_eq!(
            Chain::default().close(first).unwrap_err(),
            CloseError::NotSealed
        );
    }

    #[test]
    fn a_clock_that_went_back_and_a_broken_chain_stop_the_sealing() {
        let chain = sealed();
        let mut retest = closing(Stage::Retest, 7);
        retest.today = closing(Stage::Baseline, 8).files;
        assert!(matches!(
            chain.close(retest.clone()).unwrap_err(),
            CloseError::Clock(_)
        ));
        let broken = Chain::of([("1-baseline.sha256".to_owned(), b"x".to_vec())]);
        assert!(matches!(
            broken.close(retest).unwrap_err(),
            CloseError::Chain(_)
        ));
    }

    #[test]
    fn a_lost_file_of_the_baseline_stops_the_sealing_of_the_retest() {
        let mut retest = closing(Stage::Retest, 9);
        retest.today = BTreeMap::new();
        assert_eq!(
            sealed().close(retest).unwrap_err(),
            CloseError::Broken("baseline.toml".to_owned(), Standing::Missing)
        );
        // An amendment of the baseline may be of files that were changed since.
        let mut amendment = closing(Stage::Baseline, 9);
        amendment.amends = Some("It was lost".to_owned());
        let other = Digest::of(b"new");
        amendment.files.insert("job.toml".to_owned(), other);
        amendment.today = BTreeMap::new();
        assert!(sealed().close(amendment).is_ok());
    }

    #[test]
    fn names_and_words_that_no_seal_can_hold_are_told_apart() {
        let none = Chain::default();
        let mut odd = closing(Stage::Baseline, 8);
        odd.files.insert("../x".to_owned(), Digest::of(b"x"));
        assert_eq!(
            none.close(odd).unwrap_err(),
            CloseError::Name(NameError::OddPath("../x".to_owned()))
        );
        let mut nameless = closing(Stage::Baseline, 8);
        nameless.job = " ".to_owned();
        assert_eq!(none.close(nameless).unwrap_err(), CloseError::Words);
        let mut empty = closing(Stage::Baseline, 8);
        empty.files = BTreeMap::new();
        assert_eq!(none.close(empty).unwrap_err(), CloseError::Words);
        // A seal has whole seconds: another time would not be the one that it was given.
        let mut between = closing(Stage::Baseline, 8);
        between.now += chrono::TimeDelta::milliseconds(500);
        assert_eq!(none.close(between).unwrap_err(), CloseError::Words);
        // The clock may stand still between two seals.
        let mut at_once = closing(Stage::Retest, 8);
        at_once.today = closing(Stage::Baseline, 8).files;
        assert!(sealed().close(at_once).is_ok());
        // What it says of itself is what it was told.
        let link = none.close(closing(Stage::Baseline, 8)).unwrap();
        assert_eq!(link.digest, Digest::of(&link.bytes));
        assert_eq!(Seal::read(&link.bytes), Ok(link.seal));
    }

    /// A person is told what to do, whatever stops the sealing.
    #[test]
    fn every_refusal_says_what_to_do() {
        let broken = |standing| CloseError::Broken("job.toml".to_owned(), standing);
        let breach = super::super::chain::Breach::Name;
        let file = "1-baseline.sha256".to_owned();
        let moment = closing(Stage::Baseline, 8).now;
        let name = NameError::OddPath("../x".to_owned());
        for (error, says, hint) in [
            (
                CloseError::Sealed(file.clone()),
                "already sealed",
                "`--amend",
            ),
            (
                CloseError::Done(file.clone()),
                "already sealed",
                "retestify receipt",
            ),
            (CloseError::NotSealed, "no seal", "leave out"),
            (
                CloseError::Unchanged(file.clone()),
                "nothing has changed",
                "change the files",
            ),
            (CloseError::NoBaseline, "not sealed", "seal baseline"),
            (broken(Standing::Missing), "is now missing", "restore"),
            (broken(Standing::Changed), "job.toml was changed", "restore"),
            (
                CloseError::Chain(ChainError { file, breach }),
                "not the next file name",
                "restore the files",
            ),
            (CloseError::Clock(moment), "later than", "set the clock"),
            (CloseError::Name(name), "not a plain path", "rename"),
            (CloseError::Words, "control", "one line"),
        ] {
            let told = error.to_string();
            assert!(told.contains(says), "{told}");
            assert!(error.hint().contains(hint), "{told}: {}", error.hint());
        }
    }
}
