//! The pages of a document as they are before anybody signs them.

use std::collections::BTreeMap;

use chrono::{DateTime, FixedOffset};

use super::judged::{DropOff, Judged};
use super::material::{
    Parts, attachments, document_file, form_names, material, pictures, receipt_material,
};
use crate::intake::Intake;
use crate::job::Stage;
use crate::render::{self, Document, Printed, RenderError, Template};
use crate::result::{DocumentKind, TimeSource};
use crate::seals::Link;
use crate::signature::ShopCertificate;
use crate::view::{self, OwnForm, Signer, Words};

/// How the pages of a document are set, and when.
#[derive(Clone, Copy)]
pub struct Form<'a> {
    /// When it is issued.
    pub issued: DateTime<FixedOffset>,
    /// The template of its pages.
    pub template: &'a Template,
    /// The shop's own template and wording files by name, which are attached.
    pub own: &'a BTreeMap<String, Vec<u8>>,
    /// The wording of its pages.
    pub words: &'a Words,
}

/// Sets the pages of a report.
///
/// # Errors
/// [`RenderError`] when the template does not work.
pub fn set_report(
    judged: &Judged,
    form: Form<'_>,
    signer: Option<Signer>,
) -> Result<Printed, RenderError> {
    let intake = &judged.intake;
    let file = document_file(DocumentKind::Report, intake, form, signer.as_ref());
    let material = material(judged, form.issued, signer);
    let mut report = view::report(&material, form.words);
    report.sheet.own_form =
        form_names(form.own).map(|attached| OwnForm::of_report(&material, &attached));
    let parts = Parts {
        texts: &intake.texts,
        seals: &judged.sealing.chain.links,
        result: Some(&judged.result),
        own: form.own,
        document: &file.text(),
    };
    printed(Document::Report(&report), &parts, intake, form)
}

/// Sets the pages of a receipt of a job whose baseline is sealed.
///
/// # Errors
/// [`RenderError`] when the template does not work.
pub fn set_receipt(
    job: &DropOff,
    form: Form<'_>,
    signer: Option<Signer>,
) -> Result<Printed, RenderError> {
    let chain = &job.sealing.chain;
    let intake = &job.intake;
    // A seal is checked against the one before it, so a receipt carries all seals up to
    // its own.
    let is_baseline = |link: &Link| link.seal.stage == Stage::Baseline;
    let last = chain.links.iter().rposition(is_baseline);
    let seals = &chain.links[..last.map_or(0, |last| last + 1)];
    let file = document_file(DocumentKind::Receipt, intake, form, signer.as_ref());
    let material = receipt_material(job, form.issued, signer);
    let mut receipt = view::receipt(&material, form.words);
    receipt.sheet.own_form = form_names(form.own)
        .map(|attached| OwnForm::of_receipt(&intake.job.plan, &intake.shop, &attached));
    let parts = Parts {
        texts: &intake.texts,
        seals,
        result: None,
        own: form.own,
        document: &file.text(),
    };
    printed(Document::Receipt(&receipt), &parts, intake, form)
}

/// Sets `document` with what it carries and shows of `intake`.
fn printed<T>(
    document: Document<'_>,
    parts: &Parts<'_>,
    intake: &Intake<T>,
    form: Form<'_>,
) -> Result<Printed, RenderError> {
    let attachments = attachments(parts, form.words);
    let pictures = pictures(&intake.pictures, intake.logo.as_ref());
    render::pdf(
        form.template,
        document,
        &pictures,
        &attachments,
        form.issued,
    )
}

/// Who signs, with a time from `time`.
pub fn signer(certificate: &ShopCertificate, time: TimeSource) -> Signer {
    Signer {
        name: certificate.holder(),
        fingerprint: certificate.fingerprint().to_string(),
        time,
    }
}

/// What a screen reader says of the field of a signature.
pub fn description(signer: &Signer, words: &Words) -> String {
    words.say_with("signed-description", &[("name", &signer.name)])
}
