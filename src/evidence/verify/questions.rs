//! Each question, answered for itself.

use std::collections::BTreeMap;

use chrono::{DateTime, FixedOffset, Utc};
use serde_json::Value;

use super::answer::{Answer, Finding, Question, Verification};
use super::opened::{OpenFault, Opened};
use super::recompute::{Recomputed, recompute};
use crate::evidence::seal::{Chain, Fingerprint, Link, NotAFingerprint, Stage};
use crate::evidence::signature::{
    Field, FieldFault, ShopCertificate, Signed, find_field, read_cms, read_stamp,
};
use crate::files::{Digest, ReadFault, Source};

/// The file of the result among the attachments.
const RESULT: &str = "result.json";
/// The file of the limits.
const LIMITS: &str = "limits.toml";

/// What the reader knows or has beside the document.
#[derive(Default)]
pub struct Expected<'a> {
    /// Certificates that the reader trusts.
    pub trusted: Vec<ShopCertificate>,
    /// The job folder.
    pub folder: Option<&'a dyn Source>,
    /// What the customer was given.
    pub seal: Option<KnownSeal>,
}

/// The seal that the customer was given, in one of two forms.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum KnownSeal {
    /// A fingerprint as it was copied.
    Text(String),
    /// The first seal in a slip.
    Digest(Digest),
}

/// Answers every question about `file`.
pub fn verify(file: &[u8], expected: &Expected<'_>) -> Verification {
    let field = find_field(file);
    let signed = field
        .as_ref()
        .ok()
        .map(|field| read_cms(&field.cms, field.digest));
    let opened = Opened::new(file);
    let signed_at = opened.as_ref().ok().and_then(Opened::signed_at);

    let mut findings = vec![intact(&field, signed.as_ref(), &opened)];
    let good = match &signed {
        Some(Ok(signed)) => Some(signed),
        _ => None,
    };
    if let Some(signed) = good {
        findings.push(signer(signed, signed_at.as_deref()));
    }
    findings.push(expected_signer(good, &expected.trusted));
    match opened.and_then(|opened| opened.attachments()) {
        Ok(attachments) => {
            let carried = Carried::new(attachments);
            findings.push(carried.files());
            findings.push(carried.chain(signed_at.as_deref()));
            findings.push(carried.limits());
            findings.push(carried.fingerprint(expected.seal.as_ref()));
            findings.push(carried.result());
            findings.push(carried.listed(expected.folder));
        }
        Err(fault) => findings.push(finding(Question::Files, Answer::No, [fault.to_string()])),
    }
    if let Some(signed) = good {
        findings.push(time(signed, signed_at.as_deref(), &expected.trusted));
    }
    Verification {
        format: 1,
        tool: concat!("retestify ", env!("CARGO_PKG_VERSION")).to_owned(),
        sha256: Digest::of(file).to_string(),
        findings,
    }
}

/// The digest of the first seal in `slip`, if it is sound: intact, or without any
/// signature but still whole.
///
/// # Errors
/// What is wrong with it, in words.
pub fn first_seal(slip: &[u8]) -> Result<Digest, String> {
    match find_field(slip) {
        Ok(field) => {
            read_cms(&field.cms, field.digest).map_err(|fault| fault.to_string())?;
        }
        Err(FieldFault::None) => {}
        Err(fault) => return Err(fault.to_string()),
    }
    let opened = Opened::new(slip).map_err(|fault| fault.to_string())?;
    let attachments = opened.attachments().map_err(|fault| fault.to_string())?;
    let carried = Carried::new(attachments);
    match (carried.chain.faults.first(), carried.chain.links.first()) {
        (Some(fault), _) => Err(fault.to_string()),
        (None, None) => Err("it carries no seal".to_owned()),
        (None, Some(first)) => Ok(first.digest),
    }
}

fn finding(
    question: Question,
    answer: Answer,
    because: impl IntoIterator<Item = String>,
) -> Finding {
    Finding {
        question,
        answer,
        because: because.into_iter().collect(),
    }
}

fn intact(
    field: &Result<Field, FieldFault>,
    signed: Option<&Result<Signed, crate::evidence::signature::CmsFault>>,
    opened: &Result<Opened, OpenFault>,
) -> Finding {
    let no = |why: &dyn ToString| finding(Question::Intact, Answer::No, [why.to_string()]);
    let field = match field {
        Err(FieldFault::None) => {
            return finding(
                Question::Intact,
                Answer::CannotTell,
                ["it is not signed: a change would not show".to_owned()],
            );
        }
        Err(fault) => return no(fault),
        Ok(field) => field,
    };
    if let Some(Err(fault)) = signed {
        return no(fault);
    }
    match opened.as_ref().map(|opened| opened.agrees_with(field)) {
        Err(fault) => no(fault),
        Ok(Err(fault)) => no(&fault),
        Ok(Ok(())) => finding(
            Question::Intact,
            Answer::Yes,
            ["every byte is as it was when it was signed".to_owned()],
        ),
    }
}

fn signer(signed: &Signed, signed_at: Option<&str>) -> Finding {
    let certificate = &signed.certificate;
    let mut because = vec![
        format!("signed with the key of “{}”", certificate.holder()),
        format!("SHA-256 of its certificate: {}", certificate.fingerprint()),
        match certificate.issuer() {
            Some(issuer) => format!("the certificate was issued by “{issuer}”"),
            None => "the certificate was issued by its holder".to_owned(),
        },
    ];
    let (from, until) = certificate.validity();
    let when = signed_at.and_then(moment);
    let answer = match when {
        _ if !certificate.may_sign() => {
            because.push("the certificate is not meant for signing documents".to_owned());
            Answer::No
        }
        None => {
            because.push("the document does not say when it was signed".to_owned());
            Answer::CannotTell
        }
        Some(when) if certificate.is_valid_at(when.with_timezone(&Utc)) => Answer::Yes,
        Some(when) => {
            because.push(format!(
                "the certificate is valid from {from} to {until}, and the document was signed {when}"
            ));
            Answer::No
        }
    };
    finding(Question::Signer, answer, because)
}

fn expected_signer(signed: Option<&Signed>, trusted: &[ShopCertificate]) -> Finding {
    let question = Question::ExpectedSigner;
    let Some(signed) = signed else {
        return finding(
            question,
            Answer::CannotTell,
            ["there is no sound signature".to_owned()],
        );
    };
    if trusted.is_empty() {
        return finding(
            question,
            Answer::CannotTell,
            [
                "no certificate was given with --trust: anybody can make a key in any name"
                    .to_owned(),
            ],
        );
    }
    match trusted_for(&signed.certificate, &signed.others, trusted) {
        Some(known) if *known == signed.certificate => finding(
            question,
            Answer::Yes,
            ["the certificate is the one you gave".to_owned()],
        ),
        Some(known) => finding(
            question,
            Answer::Yes,
            [format!(
                "the certificate was issued under that of “{}”, which you gave; whether it was \
                 revoked is not checked",
                known.holder()
            )],
        ),
        None => finding(
            question,
            Answer::No,
            ["it was signed with another key than those you know".to_owned()],
        ),
    }
}

/// The trusted certificate that is `certificate`, or that it leads to through
/// `others`.
fn trusted_for<'a>(
    certificate: &ShopCertificate,
    others: &[ShopCertificate],
    trusted: &'a [ShopCertificate],
) -> Option<&'a ShopCertificate> {
    let mut current = certificate;
    // Each step uses another certificate; the bound also ends circles.
    for _ in 0..=others.len() {
        if let Some(known) = trusted.iter().find(|known| *known == current) {
            return Some(known);
        }
        if let Some(known) = trusted.iter().find(|known| current.is_issued_by(known)) {
            return Some(known);
        }
        current = others.iter().find(|other| current.is_issued_by(other))?;
    }
    None
}

fn time(signed: &Signed, signed_at: Option<&str>, trusted: &[ShopCertificate]) -> Finding {
    let question = Question::Time;
    let own = signed_at.and_then(moment).map_or_else(
        || "the document does not say when it was signed".to_owned(),
        |moment| format!("the signer's own clock said {moment}"),
    );
    let Some(token) = &signed.token else {
        let nobody = "nobody else attests it".to_owned();
        return finding(question, Answer::NotAsked, [own, nobody]);
    };
    match read_stamp(token, &signed.signature) {
        Err(fault) => finding(question, Answer::No, [own, fault.to_string()]),
        Ok(stamp) => {
            let known = trusted_for(&stamp.certificate, &[], trusted).is_some();
            let mut because = vec![
                own,
                format!(
                    "“{}” attests that the signature existed at {}",
                    stamp.certificate.holder(),
                    stamp.time
                ),
                format!(
                    "SHA-256 of its certificate: {}",
                    stamp.certificate.fingerprint()
                ),
            ];
            if !known {
                because.push("you did not name that authority with --trust".to_owned());
            }
            finding(question, Answer::Yes, because)
        }
    }
}

/// `D:20260120082000+00'00'` (ISO 32000-1, 7.9.4).
fn moment(text: &str) -> Option<DateTime<FixedOffset>> {
    let plain = text.strip_prefix("D:")?.replace('\'', "");
    DateTime::parse_from_str(&plain, "%Y%m%d%H%M%S%z").ok()
}

/// What a document carries.
struct Carried {
    attachments: BTreeMap<String, Vec<u8>>,
    chain: Chain,
    /// The inputs that the result lists, with their digests.
    listed: BTreeMap<String, Digest>,
}

impl Carried {
    fn new(attachments: BTreeMap<String, Vec<u8>>) -> Self {
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

    fn files(&self) -> Finding {
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

    fn chain(&self, signed_at: Option<&str>) -> Finding {
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

    fn limits(&self) -> Finding {
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

    fn fingerprint(&self, known: Option<&KnownSeal>) -> Finding {
        let question = Question::Fingerprint;
        let Some(first) = self.chain.links.first() else {
            return finding(
                question,
                Answer::CannotTell,
                ["there is no seal".to_owned()],
            );
        };
        let own = Fingerprint::of(first.digest);
        let same = match known {
            None => {
                let why = "give it with --slip or --fingerprint".to_owned();
                return finding(question, Answer::NotAsked, [format!("it is {own}"), why]);
            }
            Some(KnownSeal::Digest(digest)) => Ok(*digest == first.digest),
            Some(KnownSeal::Text(text)) => own.is(text),
        };
        match same {
            Ok(true) => finding(question, Answer::Yes, [format!("it is {own}")]),
            Ok(false) => finding(
                question,
                Answer::No,
                [format!("it is {own}, and that is another")],
            ),
            Err(NotAFingerprint) => finding(
                question,
                Answer::CannotTell,
                ["what was given is not a fingerprint".to_owned()],
            ),
        }
    }

    fn result(&self) -> Finding {
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
    fn listed(&self, folder: Option<&dyn Source>) -> Finding {
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
