//! What a document carries, held against its seals and judged again.

use std::collections::BTreeMap;

use serde_json::Value;

use super::answer::{Answer, Finding, Question, finding};
use super::questions::{KnownSeal, moment};
use super::recompute::{Recomputed, recompute};
use crate::evidence::seal::{Chain, Fingerprint, Link, NotAFingerprint, Stage};
use crate::files::{Digest, ReadFault, Source};

/// The file of the result among the attachments.
const RESULT: &str = "result.json";
/// The file of the limits.
const LIMITS: &str = "limits.toml";

/// What a document carries.
pub(super) struct Carried {
    attachments: BTreeMap<String, Vec<u8>>,
    pub chain: Chain,
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
            chain,
            listed,
        }
    }

    /// The digest of a file: of the attachment, or as the result lists it.
    fn digest(&self, file: &str) -> Option<Digest> {
        let attached = self.attachments.get(file).map(|bytes| Digest::of(bytes));
        attached.or_else(|| self.listed.get(file).copied())
    }

    /// The seals whose files the document should carry: all of a report, the baseline
    /// of a slip.
    fn sealed(&self) -> impl Iterator<Item = (&Link, &str, Digest)> {
        self.chain.holding().flat_map(|link| {
            let files = link.seal.files.iter();
            files.map(move |(file, digest)| (link, file.as_str(), *digest))
        })
    }

    pub fn files(&self) -> Finding {
        let question = Question::Files;
        if self.chain.is_empty() {
            return finding(
                question,
                Answer::CannotTell,
                ["there is no seal in it to hold the files against".to_owned()],
            );
        }
        let is_report = self.attachments.contains_key(RESULT);
        let mut because = Vec::new();
        let mut count = 0;
        for (link, file, sealed) in self.sealed() {
            let shown = file.escape_debug();
            let stage = link.seal.stage.word();
            match self.digest(file) {
                Some(digest) if digest == sealed => count += 1,
                Some(_) => because.push(format!("{shown} is not as it was sealed ({stage})")),
                // A slip carries no photos, and lists none.
                None if is_report || file.ends_with(".toml") => {
                    because.push(format!("{shown} was sealed ({stage}) and is not there"));
                }
                None => {}
            }
        }
        if is_report && self.chain.latest(Stage::Retest).is_none() {
            because.push("the retest was not sealed".to_owned());
            let only = because.len() == 1;
            let answer = if only { Answer::CannotTell } else { Answer::No };
            return finding(question, answer, because);
        }
        if because.is_empty() {
            because.push(format!("{count} files are as they were sealed"));
            finding(question, Answer::Yes, because)
        } else {
            finding(question, Answer::No, because)
        }
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
        let mut because: Vec<String> = self.chain.faults.iter().map(ToString::to_string).collect();
        let last = self.chain.links.last();
        if let (Some(last), Some(signed)) = (last, signed_at.and_then(moment))
            && signed < last.seal.sealed
        {
            because.push(format!(
                "{} gives a time after that of the signature",
                last.file.escape_debug()
            ));
        }
        if !because.is_empty() {
            return finding(question, Answer::No, because);
        }
        let seals = self.chain.links.iter().map(|link| {
            let seal = &link.seal;
            let amends = seal.amends.as_ref().map_or_else(String::new, |why| {
                format!(", in place of an earlier one: {}", why.escape_debug())
            });
            format!("{}, sealed {}{amends}", seal.stage.word(), seal.sealed)
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
            return finding(
                question,
                Answer::Yes,
                [format!("as they were sealed {}", first.seal.sealed)],
            );
        }
        let mut because = vec!["they are not those of the first seal".to_owned()];
        because.extend(
            self.chain
                .amended(LIMITS)
                .into_iter()
                .flatten()
                .map(|why| format!("the amendment says: {}", why.escape_debug())),
        );
        finding(question, Answer::No, because)
    }

    pub fn fingerprint(&self, known: Option<&KnownSeal>) -> Finding {
        let question = Question::Fingerprint;
        let Some(first) = self.chain.links.first() else {
            return finding(
                question,
                Answer::CannotTell,
                ["there is no seal".to_owned()],
            );
        };
        let own = Fingerprint::of(first.digest);
        let Some(known) = known else {
            let why = "give it with --slip or --fingerprint".to_owned();
            return finding(
                question,
                Answer::NotAsked,
                [format!("the first seal is {own}"), why],
            );
        };
        // A customer who agreed to an amendment has a slip of that.
        let baselines = self.chain.links.iter();
        for link in baselines.filter(|link| link.seal.stage == Stage::Baseline) {
            let fingerprint = Fingerprint::of(link.digest);
            let same = match known {
                KnownSeal::Digest(digest) => Ok(*digest == link.digest),
                KnownSeal::Text(text) => fingerprint.is(text),
            };
            match same {
                Err(NotAFingerprint) => {
                    return finding(
                        question,
                        Answer::CannotTell,
                        ["what was given is not a fingerprint".to_owned()],
                    );
                }
                Ok(true) => {
                    let file = link.file.escape_debug();
                    return finding(question, Answer::Yes, [format!("{file} is {fingerprint}")]);
                }
                Ok(false) => {}
            }
        }
        finding(
            question,
            Answer::No,
            [format!("the first seal is {own}, and that is another")],
        )
    }

    pub fn result(&self) -> Finding {
        let question = Question::Result;
        let Some(printed) = self.attachments.get(RESULT) else {
            return finding(
                question,
                Answer::NotAsked,
                ["it carries no result: nothing was judged yet".to_owned()],
            );
        };
        let recomputed = recompute(&self.attachments, printed);
        let answer = match recomputed {
            Recomputed::Same => Answer::Yes,
            Recomputed::OtherVersion(_) => Answer::CannotTell,
            _ => Answer::No,
        };
        let mut because = vec![recomputed.to_string()];
        if answer == Answer::Yes {
            let limit = "that the pages print just this result is not checked here";
            because.push(limit.to_owned());
        }
        finding(question, answer, because)
    }

    /// The files that are not inside, against the folder.
    pub fn listed(&self, folder: Option<&dyn Source>) -> Finding {
        let question = Question::ListedFiles;
        let mut outside: BTreeMap<&str, Digest> = self
            .listed
            .iter()
            .map(|(file, digest)| (file.as_str(), *digest))
            .collect();
        // What was sealed counts more than what a result says of it.
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
                    "{count} photos and recordings; give the folder with --with"
                )],
            );
        };
        let mut because = Vec::new();
        for (file, expected) in &outside {
            let shown = file.escape_debug();
            match folder.digest(file) {
                Ok((digest, _)) if digest == *expected => {}
                Ok(_) => because.push(format!("{shown} is not as it was")),
                Err(ReadFault::Missing) => because.push(format!("{shown} is not there")),
                Err(fault) => because.push(format!("{shown}: {fault}")),
            }
        }
        if because.is_empty() {
            let count = outside.len();
            return finding(
                question,
                Answer::Yes,
                [format!("{count} files are as they were")],
            );
        }
        finding(question, Answer::No, because)
    }
}
