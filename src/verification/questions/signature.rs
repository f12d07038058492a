//! Questions about the signature: is the file whole, and who signed it when?

use chrono::{DateTime, FixedOffset, Utc};

use crate::signature::{FieldError, ShopCertificate, Signed, read_stamp};
use crate::verification::answer::{Answer, Finding, Question, finding};
use crate::verification::open_pdf::OpenError;
use crate::verification::signed_bytes::SignedBytes;

/// Is every byte as it was when it was signed?
///
/// `agrees` looks into the document, which is only done once its bytes are known to be
/// those that were signed.
pub fn intact(signature: &SignedBytes, agrees: impl FnOnce() -> Result<(), OpenError>) -> Finding {
    let no = |why: &dyn ToString| finding(Question::Intact, Answer::No, [why.to_string()]);
    match signature {
        SignedBytes::NoField(FieldError::None) => match agrees() {
            Err(error @ OpenError::Cut) => no(&error),
            _ => finding(
                Question::Intact,
                Answer::CannotTell,
                ["it is not signed, so a change would not show".to_owned()],
            ),
        },
        SignedBytes::NoField(error) => no(error),
        SignedBytes::NotGood(_, error) => no(error),
        SignedBytes::Good(..) => match agrees() {
            Err(error) => no(&error),
            Ok(()) => finding(
                Question::Intact,
                Answer::Yes,
                ["every byte is as it was when it was signed".to_owned()],
            ),
        },
    }
}

/// Was the certificate fit to sign, and valid then?
pub fn signer(signed: &Signed, signed_at: Option<DateTime<FixedOffset>>) -> Finding {
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
    let answer = match signed_at {
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

/// Is it signed by someone the reader trusts?
pub fn expected_signer(
    signed: Option<&Signed>,
    signed_at: Option<DateTime<FixedOffset>>,
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
    let when = signed_at.unwrap_or_default().to_utc();
    match signed.certificate.leads_to(&signed.others, trusted, when) {
        Some(known) => finding(
            question,
            Answer::Yes,
            [anchor(&signed.certificate, known, "--trust")],
        ),
        None => finding(
            question,
            Answer::No,
            ["it was signed with a key that you did not name with --trust".to_owned()],
        ),
    }
}

/// By what a certificate is trusted: itself, or the one that it was issued under.
fn anchor(certificate: &ShopCertificate, known: &ShopCertificate, option: &str) -> String {
    let holder = certificate.holder();
    if certificate == known {
        return format!("the certificate of “{holder}” is the one you gave with {option}");
    }
    format!(
        "the certificate of “{holder}” was issued under that of “{}” (SHA-256 {}), which you gave \
         with {option}; whether it was revoked is not checked",
        known.holder(),
        known.fingerprint()
    )
}

/// Does a time-stamp authority attest the time?
pub fn time(
    signed: &Signed,
    signed_at: Option<DateTime<FixedOffset>>,
    authorities: &[ShopCertificate],
) -> Finding {
    let question = Question::Time;
    let own = signed_at.map_or_else(
        || "the document does not say when it was signed".to_owned(),
        |moment| format!("the signer's clock said {moment}"),
    );
    let Some(token) = &signed.token else {
        let nobody = "nobody else attests the time".to_owned();
        return finding(question, Answer::NotAsked, [own, nobody]);
    };
    match read_stamp(token, &signed.signature) {
        Err(error) => finding(question, Answer::No, [own, error.to_string()]),
        Ok(stamp) => {
            let authority = &stamp.certificate;
            let known = authority.leads_to(&stamp.others, authorities, stamp.time);
            let near = signed_at.is_some_and(|own| stamp.is_near(own.to_utc()));
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
            } else if let Some(known) = known {
                because.push(anchor(authority, known, "--trust-time"));
                Answer::Yes
            } else {
                because.push(
                    "you did not name that authority with --trust-time; anyone can run one"
                        .to_owned(),
                );
                Answer::CannotTell
            };
            finding(question, answer, because)
        }
    }
}

#[cfg(test)]
mod tests;
