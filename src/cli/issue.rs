//! A document as it is issued: by whom, when, in which words, and signed.

use std::time::Duration;

use chrono::{DateTime, FixedOffset};

use super::CommandError;
use super::template::Pages;
use crate::document::{Form, description, signer};
use crate::intake::can_print;
use crate::job::Shop;
use crate::render::{Printed, RenderError, SignaturePlace};
use crate::result::TimeSource;
use crate::seals::Clock;
use crate::signature::{Identity, SignError, StampService, sign};
use crate::view::{Signer, Words};

/// How long a time-stamp authority may take, and the largest answer, in bytes.
const STAMP_PATIENCE: Duration = Duration::from_secs(15);
const STAMP_LIMIT: u64 = 256 << 10;

/// When and by whom a document is issued.
pub struct Issue {
    /// Now.
    pub now: DateTime<FixedOffset>,
    /// Where that time comes from.
    pub clock: Clock,
    /// Who signs, if anyone.
    pub identity: Option<Identity>,
    /// The template of its pages.
    pub pages: Pages,
    /// The wording of its pages.
    pub words: Words,
}

/// A finished document.
pub struct Paper {
    /// The PDF.
    pub bytes: Vec<u8>,
    /// What went wrong without stopping it, in words, if anything.
    pub warning: Option<String>,
}

impl Issue {
    /// How its pages are set.
    pub fn form(&self) -> Form<'_> {
        Form {
            issued: self.now,
            template: &self.pages.template,
            own: &self.pages.own,
            words: &self.words,
        }
    }

    /// Signs what `print` typesets for a signer, where there is an identity. Where the
    /// time-stamp authority does not answer, the document is typeset again and says so.
    pub fn sign(
        &self,
        shop: &Shop,
        print: impl Fn(Option<Signer>) -> Result<Printed, RenderError>,
    ) -> Result<Paper, CommandError> {
        let printed = |signer| print(signer).map_err(|error| self.pages.error(&error));
        let Some(identity) = &self.identity else {
            let bytes = printed(None)?.bytes;
            return Ok(Paper {
                bytes,
                warning: None,
            });
        };
        let (from, until) = identity.certificate().validity();
        if !identity.certificate().is_valid_at(self.now.to_utc()) {
            return Err(CommandError::told(
                format!("the certificate of this identity is only valid from {from} to {until}"),
                "make a new identity and give its certificate to your customers; or add `--unsigned`",
            ));
        }
        let holder = identity.certificate().holder();
        if let Some(letter) = holder.chars().find(|letter| !can_print(*letter)) {
            return Err(CommandError::told(
                format!(
                    "the name in this identity contains `{}`, which the report's fonts do not have",
                    letter.escape_debug()
                ),
                "make an identity with the shop's name in other letters; or add `--unsigned`",
            ));
        }
        let signed = |time: TimeSource, service: Option<&StampService<'_>>| {
            let certificate = identity.certificate();
            let signer = signer(certificate, time);
            let description = description(&signer, &self.words);
            let Printed { bytes, signature } = printed(Some(signer))?;
            // Where the template has no place for it, the signature is invisible.
            let place = signature.unwrap_or(SignaturePlace::NOT_SEEN);
            Ok::<_, CommandError>(sign(
                bytes,
                place,
                &description,
                identity,
                self.now,
                service,
            ))
        };
        let told = |error: SignError| {
            CommandError::told(
                error,
                "this is a bug in the program; please report it with the lines above",
            )
        };
        let own_time = match self.clock {
            Clock::Computer => TimeSource::Computer,
            Clock::Set => TimeSource::SetByHand,
        };
        let Some(address) = &shop.time_stamp else {
            let bytes = signed(own_time, None)?.map_err(told)?;
            return Ok(Paper {
                bytes,
                warning: None,
            });
        };
        let service = |request: &[u8]| ask(address, request);
        match signed(TimeSource::Authority, Some(&service))? {
            Ok(bytes) => Ok(Paper {
                bytes,
                warning: None,
            }),
            Err(SignError::Stamp(why)) => Ok(Paper {
                bytes: signed(TimeSource::AuthorityAway, None)?.map_err(told)?,
                warning: Some(format!(
                    "{address} gave no time-stamp: {why}. The document was signed without one, and \
                 says so."
                )),
            }),
            Err(error) => Err(told(error)),
        }
    }
}

/// Asks the time-stamp authority at `address` (RFC 3161, 3.4).
fn ask(address: &str, request: &[u8]) -> Result<Vec<u8>, String> {
    let agent: ureq::Agent = ureq::Agent::config_builder()
        .timeout_global(Some(STAMP_PATIENCE))
        .build()
        .into();
    let mut answer = agent
        .post(address)
        .header("Content-Type", "application/timestamp-query")
        .send(request)
        .map_err(|error| error.to_string())?;
    answer
        .body_mut()
        .with_config()
        .limit(STAMP_LIMIT)
        .read_to_vec()
        .map_err(|error| error.to_string())
}
