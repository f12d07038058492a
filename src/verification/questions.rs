//! Each question, answered separately: those about the signature here, those about what
//! the document carries in `attached_job`.

use chrono::{DateTime, FixedOffset, Utc};

use super::answer::{Answer, Finding, Question, Verification, finding};
use super::attached_job::{Carried, Kind};
use super::open_pdf::{OpenError, Opened};
use crate::files::{Digest, Source};
use crate::job::Stage;
use crate::result::TOOL;
use crate::signature::{
    CmsError, Field, FieldError, ShopCertificate, Signed, find_field, read_cms, read_stamp,
};

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
    /// The seal that a receipt shows, and who signed the receipt, if anyone.
    Receipt {
        /// The seal's digest.
        digest: Digest,
        /// The job it names.
        job: String,
        /// The certificate of the receipt's signature.
        signer: Option<Box<ShopCertificate>>,
    },
    /// A receipt that is not sound, and why.
    Unsound(String),
}

/// Answers every question about `file`.
pub fn verify(file: &[u8], expected: &Expected<'_>) -> Verification {
    let (field, signed) = signature(file);
    let opened = Opened::new(file);
    let signed_at = opened.as_ref().ok().and_then(Opened::signed_at);

    let mut findings = vec![unchanged(&field, signed.as_ref(), || match &opened {
        Ok(opened) => opened.agrees_with(field.as_ref().ok()),
        Err(fault) => Err(fault.clone()),
    })];
    let good = signed.as_ref().and_then(|signed| signed.as_ref().ok());
    if let Some(signed) = good {
        findings.push(signer(signed, signed_at.as_deref()));
    }
    findings.push(expected_signer(
        good,
        signed_at.as_deref(),
        &expected.trusted,
    ));
    match opened.and_then(|opened| opened.attachments()) {
        Ok(attachments) if attachments.is_empty() => findings.push(finding(
            Question::Files,
            Answer::No,
            ["it carries no files: it is neither a report nor a receipt".to_owned()],
        )),
        Ok(attachments) => {
            let carried = Carried::new(attachments);
            findings.push(carried.files());
            findings.push(carried.chain(signed_at.as_deref()));
            findings.push(carried.limits());
            findings.push(carried.fingerprint(
                expected.seal.as_ref(),
                good.map(|signed| &signed.certificate),
            ));
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
        tool: TOOL.to_owned(),
        sha256: Digest::of(file).to_string(),
        findings,
    }
}

/// Answers only whether `file` is unchanged since it was signed.
pub fn intact(file: &[u8]) -> Finding {
    let (field, signed) = signature(file);
    unchanged(&field, signed.as_ref(), || {
        Opened::new(file)?.agrees_with(field.as_ref().ok())
    })
}

type Located = Result<Field, FieldError>;
type Read = Result<Signed, CmsError>;

/// The signature over the bytes of `file`, where one is found.
fn signature(file: &[u8]) -> (Located, Option<Read>) {
    let field = find_field(file);
    let signed = field
        .as_ref()
        .ok()
        .map(|field| read_cms(&field.cms, field.fill, field.digest));
    (field, signed)
}

/// The digest of the seal that `receipt` shows, its last of the baseline, and who signed
/// it, if anyone. A receipt without a signature is accepted as it is: whoever has it
/// knows where it comes from.
///
/// # Errors
/// What is wrong with it, in words.
pub fn seal_of_receipt(receipt: &[u8]) -> Result<KnownSeal, String> {
    let (field, signed) = signature(receipt);
    let opened = Opened::new(receipt).map_err(|fault| fault.to_string())?;
    let intact = unchanged(&field, signed.as_ref(), || {
        opened.agrees_with(field.as_ref().ok())
    });
    if intact.answer == Answer::No {
        return Err(intact.because.join("; "));
    }
    let carried = Carried::new(opened.attachments().map_err(|fault| fault.to_string())?);
    if carried.kind != Kind::Receipt {
        return Err("it is a report, not a receipt".to_owned());
    }
    if let Some(fault) = carried.chain.errors.first() {
        return Err(fault.to_string());
    }
    let files = carried.files();
    if files.answer == Answer::No {
        return Err(files.because.join("; "));
    }
    let shown = carried
        .chain
        .latest(Stage::Baseline)
        .ok_or_else(|| "it carries no seal".to_owned())?;
    let signer = signed
        .and_then(Result::ok)
        .map(|signed| Box::new(signed.certificate));
    Ok(KnownSeal::Receipt {
        digest: shown.digest,
        job: shown.seal.job.clone(),
        signer,
    })
}

/// `agrees` looks into the document, which is only done once its bytes are known to be
/// those that were signed.
fn unchanged(
    field: &Located,
    signed: Option<&Read>,
    agrees: impl FnOnce() -> Result<(), OpenError>,
) -> Finding {
    let no = |why: &dyn ToString| finding(Question::Intact, Answer::No, [why.to_string()]);
    match (field, signed) {
        (Err(FieldError::None), _) => match agrees() {
            Err(fault @ OpenError::Cut) => no(&fault),
            _ => finding(
                Question::Intact,
                Answer::CannotTell,
                ["it is not signed, so a change would not show".to_owned()],
            ),
        },
        (Err(fault), _) => no(fault),
        (_, Some(Err(fault))) => no(fault),
        _ => match agrees() {
            Err(fault) => no(&fault),
            Ok(()) => finding(
                Question::Intact,
                Answer::Yes,
                ["every byte is as it was when it was signed".to_owned()],
            ),
        },
    }
}

fn signer(signed: &Signed, signed_at: Option<&str>) -> Finding {
    let certificate = &signed.certificate;
    let mut because = vec![
        format!("signed with the key of “{}”", certificate.holder()),
        format!("SHA-256 of its certificate: {}", certificate.fingerprint()),
        match certificate.issuer() {
            Some(issuer) => format!("the certificate was issued by “{issuer}”"),
            None => "the certificate was issued by its own holder".to_owned(),
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

fn expected_signer(
    signed: Option<&Signed>,
    signed_at: Option<&str>,
    trusted: &[ShopCertificate],
) -> Finding {
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
                "no certificate was given with --trust; anyone can make a key in any name"
                    .to_owned(),
            ],
        );
    }
    let when = signed_at.and_then(moment).unwrap_or_default().to_utc();
    match signed.certificate.leads_to(&signed.others, trusted, when) {
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
            ["it was signed with a key that you did not name with --trust".to_owned()],
        ),
    }
}

fn time(signed: &Signed, signed_at: Option<&str>, trusted: &[ShopCertificate]) -> Finding {
    let question = Question::Time;
    let own = signed_at.and_then(moment).map_or_else(
        || "the document does not say when it was signed".to_owned(),
        |moment| format!("the signer's clock said {moment}"),
    );
    let Some(token) = &signed.token else {
        let nobody = "nobody else attests the time".to_owned();
        return finding(question, Answer::NotAsked, [own, nobody]);
    };
    match read_stamp(token, &signed.signature) {
        Err(fault) => finding(question, Answer::No, [own, fault.to_string()]),
        Ok(stamp) => {
            let authority = &stamp.certificate;
            let known = authority.leads_to(&stamp.others, trusted, stamp.time);
            let near = signed_at
                .and_then(moment)
                .is_some_and(|own| stamp.is_near(own.to_utc()));
            let valid = signed.certificate.is_valid_at(stamp.time);
            let mut because = vec![
                own,
                format!(
                    "“{}” attests that the signature existed at {}",
                    authority.holder(),
                    stamp.time
                ),
                format!("SHA-256 of its certificate: {}", authority.fingerprint()),
            ];
            let answer = if !near {
                because.push("the two times are more than ten minutes apart".to_owned());
                Answer::No
            } else if !valid {
                because.push("the signer's certificate was not valid then".to_owned());
                Answer::No
            } else if known.is_none() {
                because.push(
                    "you did not name that authority with --trust; anyone can run one".to_owned(),
                );
                Answer::CannotTell
            } else {
                Answer::Yes
            };
            finding(question, answer, because)
        }
    }
}

/// `D:20260120082000+00'00'` (ISO 32000-1, 7.9.4).
pub(super) fn moment(text: &str) -> Option<DateTime<FixedOffset>> {
    let plain = text.strip_prefix("D:")?.replace('\'', "");
    DateTime::parse_from_str(&plain, "%Y%m%d%H%M%S%z").ok()
}
