//! What a document carries, compared with its seals and judged again.

use std::collections::BTreeMap;

use serde_json::Value;

use super::answer::{Answer, Finding, Question, finding};
use super::questions::{KnownSeal, moment};
use super::recompute::{Recomputed, Told, recompute};
use crate::files::{Digest, ReadError, Source};
use crate::intake::SHOP_FILE;
use crate::job::{JobFile, Stage};
use crate::seals::{Chain, Clock, Fingerprint, Link, ParseFingerprintError, changed_between};
use crate::signature::ShopCertificate;

/// The file of the result among the attachments.
const RESULT: &str = "result.json";
/// The file of the limits.
const LIMITS: &str = JobFile::Limits.name();

/// What kind of document it is, from what it carries.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// It carries work, retest or result.
    Report,
    /// It carries none of these: nothing has been judged yet.
    Receipt,
}

impl Kind {
    /// The attachments it must have: exactly these, besides the seals.
    fn attachments(self) -> Vec<&'static str> {
        let texts = JobFile::ALL.into_iter();
        let texts = texts.filter(|file| match self {
            Self::Receipt => file.stage() == Stage::Baseline,
            Self::Report => true,
        });
        let result = match self {
            Self::Receipt => None,
            Self::Report => Some(RESULT),
        };
        let names = texts.map(JobFile::name);
        [SHOP_FILE].into_iter().chain(names).chain(result).collect()
    }

    fn word(self) -> &'static str {
        match self {
            Self::Report => "it carries exactly what a report must carry",
            Self::Receipt => {
                "it carries exactly what a receipt must carry: no work, no retest, no result"
            }
        }
    }
}

/// What a document carries.
pub(super) struct Carried {
    attachments: BTreeMap<String, Vec<u8>>,
    pub kind: Kind,
    pub chain: Chain,
    /// The inputs as they were read, or their problems.
    told: Told,
    /// The inputs that the result lists, with their digests.
    listed: BTreeMap<String, Digest>,
}

impl Carried {
    pub fn new(attachments: BTreeMap<String, Vec<u8>>) -> Self {
        let seals = attachments
            .iter()
            .filter(|(name, _)| name.ends_with(".sha256"))
            .map(|(name, bytes)| (name.clone(), bytes.clone()));
        let chain = Chain::of(seals);
        let of_a_report = [JobFile::Work.name(), JobFile::Retest.name(), RESULT];
        let kind = if of_a_report
            .iter()
            .any(|name| attachments.contains_key(*name))
        {
            Kind::Report
        } else {
            Kind::Receipt
        };
        let told = Told::read(&attachments, kind == Kind::Report);
        let result: Option<Value> = attachments
            .get(RESULT)
            .and_then(|bytes| serde_json::from_slice(bytes).ok());
        let inputs = result
            .as_ref()
            .and_then(|result| result["inputs"].as_array());
        let listed = inputs
            .into_iter()
            .flatten()
            .filter_map(|input| {
                let file = input["file"].as_str()?;
                let digest = input["sha256"].as_str()?.parse().ok()?;
                Some((file.to_owned(), digest))
            })
            .collect();
        Self {
            attachments,
            kind,
            chain,
            told,
            listed,
        }
    }

    /// The digest of a file: of the attachment, or as the result lists it.
    fn digest(&self, file: &str) -> Option<Digest> {
        let attached = self.attachments.get(file).map(|bytes| Digest::of(bytes));
        attached.or_else(|| self.listed.get(file).copied())
    }

    /// The seals whose files the document should carry: all of a report, the baseline
    /// of a receipt.
    fn holding(&self) -> impl Iterator<Item = &Link> {
        self.chain
            .holding()
            .filter(|link| self.kind == Kind::Report || link.seal.stage == Stage::Baseline)
    }

    fn sealed(&self) -> impl Iterator<Item = (&Link, &str, Digest)> {
        self.holding().flat_map(|link| {
            let files = link.seal.files.iter();
            files.map(move |(file, digest)| (link, file.as_str(), *digest))
        })
    }

    /// What is attached but should not be, and what should be but is not.
    fn misfits(&self) -> Vec<String> {
        let wanted = self.kind.attachments();
        let missing = wanted
            .iter()
            .filter(|name| !self.attachments.contains_key(**name))
            .map(|name| format!("{name} is missing"));
        let seals = |name: &str| self.chain.links.iter().any(|link| link.file == name);
        let foreign = self
            .attachments
            .keys()
            .filter(|name| !wanted.contains(&name.as_str()) && !seals(name))
            .map(|name| format!("{} should not be attached", name.escape_debug()));
        missing.chain(foreign).collect()
    }

    pub fn files(&self) -> Finding {
        let question = Question::Files;
        let mut because = self.misfits();
        if self.chain.is_empty() {
            let answer = if because.is_empty() {
                Answer::CannotTell
            } else {
                Answer::No
            };
            because.push("it has no seal to compare the files with".to_owned());
            return finding(question, answer, because);
        }
        let mut count = 0;
        for (link, file, sealed) in self.sealed() {
            let shown = file.escape_debug();
            let stage = link.seal.stage.word();
            match self.digest(file) {
                Some(digest) if digest == sealed => count += 1,
                Some(_) => {
                    because.push(format!("{shown} is not the file that was sealed ({stage})"))
                }
                // A receipt carries no photos, and lists none.
                None if self.kind == Kind::Report || file.ends_with(".toml") => {
                    because.push(format!("{shown} was sealed ({stage}) and is missing"));
                }
                None => {}
            }
        }
        for link in self.holding() {
            let stage = link.seal.stage;
            let named = self.told.files_of(stage).into_iter();
            for file in named.filter(|file| !link.seal.files.contains_key(*file)) {
                because.push(format!(
                    "{} was not sealed ({})",
                    file.escape_debug(),
                    stage.word()
                ));
            }
        }
        let is_sound = because.is_empty();
        because.insert(0, self.kind.word().to_owned());
        if !is_sound {
            return finding(question, Answer::No, because);
        }
        if self.kind == Kind::Report && self.chain.latest(Stage::Retest).is_none() {
            because.push("the retest was not sealed".to_owned());
            return finding(question, Answer::CannotTell, because);
        }
        because.push(format!("{count} files are as they were sealed"));
        finding(question, Answer::Yes, because)
    }

    pub fn chain(&self, signed_at: Option<&str>) -> Finding {
        let question = Question::Chain;
        if self.chain.is_empty() {
            return finding(
                question,
                Answer::CannotTell,
                ["there is no seal".to_owned()],
            );
        }
        let mut because: Vec<String> = self.chain.errors.iter().map(ToString::to_string).collect();
        let last = self.chain.links.last();
        if let (Some(last), Some(signed)) = (last, signed_at.and_then(moment))
            && signed < last.seal.sealed
        {
            because.push(format!(
                "{} has a later time than the signature",
                last.file.escape_debug()
            ));
        }
        if !because.is_empty() {
            return finding(question, Answer::No, because);
        }
        let seals = self.chain.links.iter().map(|link| {
            let seal = &link.seal;
            let amends = seal.amends.as_ref().map_or_else(String::new, |why| {
                format!(", replacing an earlier one: {}", why.escape_debug())
            });
            let by_hand = match seal.clock {
                Clock::Computer => "",
                Clock::Set => " (time set by hand)",
            };
            format!(
                "{}, sealed {}{by_hand}{amends}",
                seal.stage.word(),
                seal.sealed
            )
        });
        finding(question, Answer::Yes, seals)
    }

    pub fn limits(&self) -> Finding {
        let question = Question::Limits;
        let Some(first) = self.chain.first(Stage::Baseline) else {
            return finding(
                question,
                Answer::CannotTell,
                ["there is no seal".to_owned()],
            );
        };
        let now = self.attachments.get(LIMITS).map(|bytes| Digest::of(bytes));
        if now.is_some() && now == first.seal.files.get(LIMITS).copied() {
            let mut because = vec![format!("as they were sealed {}", first.seal.sealed)];
            let started = self.told.job().map(|job| job.work.started);
            let late =
                started.filter(|started| self.kind == Kind::Report && *started < first.seal.sealed);
            let answer = match late {
                None => Answer::Yes,
                Some(started) => {
                    because.push(format!(
                        "but the work had started {started}: they may have been different before \
                         that"
                    ));
                    Answer::CannotTell
                }
            };
            return finding(question, answer, because);
        }
        let mut because = vec!["they are not those that were sealed first".to_owned()];
        because.extend(
            self.chain
                .amended(LIMITS)
                .into_iter()
                .flatten()
                .map(|why| format!("the amendment says: {}", why.escape_debug())),
        );
        finding(question, Answer::No, because)
    }

    /// `signer` is whose signature the document bears.
    pub fn fingerprint(
        &self,
        known: Option<&KnownSeal>,
        signer: Option<&ShopCertificate>,
    ) -> Finding {
        let question = Question::Fingerprint;
        let Some(holding) = self.chain.latest(Stage::Baseline) else {
            return finding(
                question,
                Answer::CannotTell,
                ["there is no seal".to_owned()],
            );
        };
        let own = format!("it is {}", Fingerprint::of(holding.digest));
        let Some(known) = known else {
            let why = "to compare it, give --receipt or --fingerprint".to_owned();
            return finding(question, Answer::NotAsked, [own, why]);
        };
        if let KnownSeal::Unsound(why) = known {
            let why = format!("the receipt that was given is not sound: {why}");
            return finding(question, Answer::CannotTell, [own, why]);
        }
        let is = |link: &Link| match known {
            KnownSeal::Receipt { digest, .. } => Ok(*digest == link.digest),
            KnownSeal::Unsound(_) => Err(ParseFingerprintError),
            KnownSeal::Text(text) => Fingerprint::of(link.digest).is(text),
        };
        match is(holding) {
            Err(ParseFingerprintError) => finding(
                question,
                Answer::CannotTell,
                [
                    own,
                    "what was given is not a fingerprint: copy all of it, with or without the \
                     hyphens; at least its first 26 letters and digits"
                        .to_owned(),
                ],
            ),
            Ok(true) => match known {
                KnownSeal::Receipt {
                    signer: Some(other),
                    ..
                } if Some(other.as_ref()) != signer => {
                    let why = format!(
                        "but the receipt was signed by someone else, “{}”",
                        other.holder()
                    );
                    finding(question, Answer::CannotTell, [own, why])
                }
                KnownSeal::Receipt { signer: None, .. } => {
                    let why =
                        "the receipt is not signed: it counts only because it is in your hands"
                            .to_owned();
                    finding(question, Answer::Yes, [own, why])
                }
                _ => finding(question, Answer::Yes, [own]),
            },
            Ok(false) => {
                let mut because = vec![own];
                let older = self
                    .chain
                    .links
                    .iter()
                    .find(|link| link.seal.stage == Stage::Baseline && is(link) == Ok(true));
                because.push(match older {
                    None => match known {
                        KnownSeal::Receipt { job, .. } if *job != holding.seal.job => format!(
                            "the receipt is for the job {}, this is the job {}",
                            job.escape_debug(),
                            holding.seal.job.escape_debug()
                        ),
                        _ => "the one given is different".to_owned(),
                    },
                    Some(older) => format!(
                        "the receipt shows {}; {} replaced it {}, with changes in {}",
                        older.file.escape_debug(),
                        holding.file.escape_debug(),
                        holding.seal.sealed,
                        changed_between(older, holding).join(", ").escape_debug()
                    ),
                });
                finding(question, Answer::No, because)
            }
        }
    }

    pub fn result(&self) -> Finding {
        let question = Question::Result;
        let Some(printed) = self.attachments.get(RESULT) else {
            let (answer, why) = match self.kind {
                Kind::Receipt => (
                    Answer::NotAsked,
                    "a receipt carries no result: nothing has been judged yet",
                ),
                Kind::Report => (Answer::No, "it carries no result, and a report must"),
            };
            return finding(question, answer, [why.to_owned()]);
        };
        let recomputed = recompute(&self.told, printed);
        let answer = match recomputed {
            Recomputed::Same => Answer::Yes,
            Recomputed::OtherVersion(_) => Answer::CannotTell,
            _ => Answer::No,
        };
        let mut because = vec![recomputed.to_string()];
        if answer == Answer::Yes {
            let limit = "whether the pages print exactly this result is not checked here";
            because.push(limit.to_owned());
        }
        finding(question, answer, because)
    }

    /// The files that are not attached, compared with the folder.
    pub fn listed(&self, folder: Option<&dyn Source>) -> Finding {
        let question = Question::ListedFiles;
        let mut outside: BTreeMap<&str, Digest> = self
            .listed
            .iter()
            .map(|(file, digest)| (file.as_str(), *digest))
            .collect();
        // A seal overrides what the result lists.
        outside.extend(self.sealed().map(|(_, file, digest)| (file, digest)));
        outside.retain(|file, _| !self.attachments.contains_key(*file));
        if outside.is_empty() {
            return finding(question, Answer::NotAsked, ["there are none".to_owned()]);
        }
        let Some(folder) = folder else {
            let count = outside.len();
            return finding(
                question,
                Answer::NotAsked,
                [format!(
                    "{count} photos and recordings; to check them, give the folder with --with"
                )],
            );
        };
        let mut because = Vec::new();
        for (file, expected) in &outside {
            let shown = file.escape_debug();
            match folder.digest(file) {
                Ok((digest, _)) if digest == *expected => {}
                Ok(_) => because.push(format!("{shown} was changed")),
                Err(ReadError::Missing) => because.push(format!("{shown} is missing")),
                Err(fault) => because.push(format!("{shown}: {fault}")),
            }
        }
        if because.is_empty() {
            let count = outside.len();
            return finding(
                question,
                Answer::Yes,
                [format!("{count} files are unchanged")],
            );
        }
        finding(question, Answer::No, because)
    }
}
