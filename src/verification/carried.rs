//! What a document carries, for those who show it beside the answers.

use super::attached_job::AttachedJob;
use super::differences::{Difference, differences};
use super::expected::{Expected, KnownSeal};
use super::open_pdf::Opened;
use super::recompute::Told;
use super::signed_bytes::SignedBytes;
use super::summary::{Summary, summary};
use crate::job::{Shop, Stage};
use crate::signature::ShopCertificate;
use crate::view::Words;

/// What a document carries; nothing of it is checked here.
pub struct Carried {
    job: Option<AttachedJob>,
    signer: Option<ShopCertificate>,
}

impl Carried {
    /// Opens `file`; where it cannot be opened, it carries nothing.
    pub fn of(file: &[u8]) -> Self {
        let attachments = Opened::new(file).and_then(|opened| opened.attachments());
        let attachments = attachments.ok().filter(|found| !found.is_empty());
        let signature = SignedBytes::find(file);
        let signer = signature.sound().map(|signed| signed.certificate.clone());
        Self {
            job: attachments.map(AttachedJob::new),
            signer,
        }
    }

    /// Who signed it, by the certificate of a signature that is over just these bytes.
    pub fn signer(&self) -> Option<String> {
        self.signer.as_ref().map(ShopCertificate::holder)
    }

    /// Whether `seal` is that of a receipt that was signed with the same key.
    pub fn has_the_key_of(&self, seal: Option<&KnownSeal>) -> bool {
        let both = seal.zip(self.signer.as_ref());
        both.is_some_and(|(seal, signer)| seal.is_signed_by(signer))
    }

    pub(super) fn job(&self) -> Option<&AttachedJob> {
        self.job.as_ref()
    }

    /// What the receipt that `expected` has shows otherwise, in these words; as
    /// [`super::Verification::differences`].
    pub fn differences(&self, expected: &Expected<'_>, words: &Words) -> Option<Vec<Difference>> {
        differences(expected.sound_receipt()?, self.job()?, words)
    }

    /// The attachments, by name.
    pub fn attachments(&self) -> impl Iterator<Item = (&str, &[u8])> {
        let all = self.job.iter().flat_map(|job| &job.attachments);
        all.map(|(name, bytes)| (name.as_str(), bytes.as_slice()))
    }

    /// The fingerprint of its baseline seal in force, as it is printed.
    pub fn fingerprint(&self) -> Option<String> {
        let holding = self.job.as_ref()?.chain.latest(Stage::Baseline)?;
        Some(holding.fingerprint().to_string())
    }

    /// The shop that made it, as far as it can be read.
    pub fn shop(&self) -> Option<&Shop> {
        match &self.job.as_ref()?.told {
            Told::DropOff(Ok(read)) => Some(&read.shop),
            Told::Whole(Ok(read)) => Some(&read.shop),
            Told::DropOff(Err(_)) | Told::Whole(Err(_)) => None,
        }
    }

    /// What it is and tells, in these words.
    pub fn summary(&self, words: &Words) -> Option<Summary> {
        Some(summary(self.job.as_ref()?, words))
    }
}
