//! Signing a PDF: the value of the signature, and a time-stamp where one is wanted, put
//! into the place that `empty_signature` keeps for them.

use chrono::{DateTime, FixedOffset};
use data_encoding::HEXUPPER;

use super::cms;
use super::empty_signature::{By, SignError, with_empty_signature};
use super::find_field::digest_around;
use super::identity::Identity;
use super::{stamp_request, time_stamp};
use crate::render::SignaturePlace;

/// Asks a time-stamp authority: takes the request, returns the answer (RFC 3161), or
/// says in words why there is none.
pub type StampService<'a> = dyn Fn(&[u8]) -> Result<Vec<u8>, String> + 'a;

/// Signs `pdf` at `when`; `description` is what a screen reader says of the field.
///
/// # Errors
/// [`SignError::Stamp`] when `service` is given and gives no good time-stamp,
/// [`SignError::Document`] when the document is not one of ours.
pub fn sign(
    pdf: Vec<u8>,
    place: SignaturePlace,
    description: &str,
    identity: &Identity,
    when: DateTime<FixedOffset>,
    service: Option<&StampService<'_>>,
) -> Result<Vec<u8>, SignError> {
    let by = By {
        certificate: identity.certificate(),
        chain: identity.chain(),
        stamped: service.is_some(),
    };
    let (mut file, gap) = with_empty_signature(pdf, place, description, by, when)?;
    let content = digest_around(&file, &gap);
    let signature = cms::sign(identity, content)?;
    let token = service
        .map(|service| ask(service, &signature, when))
        .transpose()?;
    let cms = cms::assemble(
        identity.certificate(),
        identity.chain(),
        content,
        &signature,
        token.as_deref(),
    )?;
    put_in(&mut file[gap], &cms)?;
    Ok(file)
}

/// Writes `cms` into the place that was kept for it, with its angle brackets. Only a
/// time-stamp can be too large for it.
fn put_in(place: &mut [u8], cms: &[u8]) -> Result<(), SignError> {
    let digits = HEXUPPER.encode(cms);
    let inside = place.len() - "<>".len();
    place[1..=inside]
        .get_mut(..digits.len())
        .ok_or_else(|| {
            SignError::Stamp("the time-stamp is larger than the place kept for it".to_owned())
        })?
        .copy_from_slice(digits.as_bytes());
    Ok(())
}

fn ask(
    service: &StampService<'_>,
    signature: &[u8],
    when: DateTime<FixedOffset>,
) -> Result<Vec<u8>, SignError> {
    let said = |error: time_stamp::StampError| SignError::Stamp(error.to_string());
    let request = stamp_request::request(signature)
        .ok_or_else(|| SignError::Document("no request could be made".to_owned()))?;
    let answer = service(&request).map_err(SignError::Stamp)?;
    let token = stamp_request::token(&answer).map_err(said)?;
    let stamp = time_stamp::read(&token, signature).map_err(said)?;
    if !stamp.is_near(when.to_utc()) {
        return Err(SignError::Stamp(format!(
            "its time, {}, is more than ten minutes from this computer's clock",
            stamp.time
        )));
    }
    Ok(token)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_fits_into_its_place_is_put_there_and_no_byte_more() {
        let put = |cms: &[u8]| {
            let mut place = b"<0000>".to_vec();
            put_in(&mut place, cms).map(|()| String::from_utf8(place).unwrap())
        };
        assert_eq!(put(&[0xAB]).as_deref(), Ok("<AB00>"));
        assert_eq!(put(&[0xAB, 0xCD]).as_deref(), Ok("<ABCD>"));
        let why = "the time-stamp is larger than the place kept for it";
        let error = SignError::Stamp(why.to_owned());
        assert_eq!(put(&[1, 2, 3]), Err(error));
    }
}
