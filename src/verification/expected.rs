//! What the reader knows or has besides the document.

use chrono::{DateTime, FixedOffset};

use super::attached_job::AttachedJob;
use super::carried::Carried;
use crate::files::{Digest, Source};
use crate::seals::Fingerprint;
use crate::signature::ShopCertificate;
use crate::verification::typesetter::Typesetter;

/// What the reader knows or has besides the document.
#[derive(Default)]
pub struct Expected<'a> {
    /// Certificates that the reader trusts to sign.
    pub trusted: Vec<ShopCertificate>,
    /// Certificates of time-stamp authorities that the reader trusts to attest times.
    pub authorities: Vec<ShopCertificate>,
    /// The job folder.
    pub folder: Option<&'a dyn Source>,
    /// What sets the pages again, if this program can.
    pub typesetter: Option<&'a dyn Typesetter>,
    /// What the customer was given.
    pub seal: Option<KnownSeal>,
    /// What the receipt carries that this seal comes from, to say what differs.
    pub receipt: Option<Carried>,
}

impl Expected<'_> {
    /// What the receipt that was given carries, if that is sound.
    pub(super) fn sound_receipt(&self) -> Option<&AttachedJob> {
        match self.seal {
            Some(KnownSeal::Receipt { .. }) => self.receipt.as_ref()?.job(),
            Some(KnownSeal::Text(_) | KnownSeal::Unsound(_)) | None => None,
        }
    }
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
        /// When the receipt was made: the later of the time of its signature and that of its
        /// time-stamp.
        made: Option<DateTime<FixedOffset>>,
    },
    /// A receipt that is not sound, and why.
    Unsound(String),
}

impl KnownSeal {
    /// Whether it is that of a receipt that was signed with the key of `signer`.
    pub(super) fn is_signed_by(&self, signer: &ShopCertificate) -> bool {
        match self {
            Self::Receipt { signer: own, .. } => own.as_deref() == Some(signer),
            Self::Text(_) | Self::Unsound(_) => false,
        }
    }

    /// The fingerprint that was given, as it is printed; none where nothing that was given
    /// can be one.
    pub fn fingerprint(&self) -> Option<String> {
        match self {
            Self::Text(text) => Fingerprint::grouped(text).ok(),
            Self::Receipt { digest, .. } => Some(Fingerprint::of(*digest).to_string()),
            Self::Unsound(_) => None,
        }
    }
}
