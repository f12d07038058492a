//! Do the pages show the result? They are set again from what the document carries, and
//! compared byte for byte: whoever signs must not be able to print what was not judged.

use std::ops::Range;

use serde_json::Value;

use crate::files::Source;
use crate::result::{DOCUMENT_FILE, DocumentFile, PhotoCopy, TOOL};
use crate::seals::shown;
use crate::verification::answer::{Answer, Finding, Question, finding};
use crate::verification::attached_job::{AttachedJob, RESULT};
use crate::verification::expected::Expected;
use crate::verification::page_words;
use crate::verification::signed_bytes::SignedBytes;
use crate::verification::summary::page_before;
use crate::verification::typesetter::{Order, Signing, Typesetter, open, pictures};

/// Do the pages show the result?
pub fn pages(
    file: &[u8],
    job: &AttachedJob,
    signature: &SignedBytes,
    expected: &Expected<'_>,
) -> Finding {
    let (answer, because) = match compare(file, job, signature, expected) {
        Ok(because) => (Answer::Yes, because),
        Err((answer, why)) => (answer, vec![why]),
    };
    finding(Question::Pages, answer, because)
}

type Refused = (Answer, String);

fn no(why: impl Into<String>) -> Refused {
    (Answer::No, why.into())
}

fn cannot_tell(why: impl Into<String>) -> Refused {
    (Answer::CannotTell, why.into())
}

fn compare(
    file: &[u8],
    job: &AttachedJob,
    signature: &SignedBytes,
    expected: &Expected<'_>,
) -> Result<Vec<String>, Refused> {
    let document = made_here(job)?;
    let issued = document.moment();
    let issued = issued.ok_or_else(|| no(format!("{DOCUMENT_FILE} gives no time")))?;
    let (signing, gap) = match signature {
        SignedBytes::Good(field, signed) => {
            let signing = Signing {
                certificate: &signed.certificate,
                others: &signed.others,
                stamped: signed.token.is_some(),
            };
            (Some(signing), field.gap.clone())
        }
        SignedBytes::NoField(crate::signature::FieldError::None) => (None, 0..0),
        SignedBytes::NoField(_) | SignedBytes::NotGood(..) => {
            return Err(cannot_tell(
                "its bytes are not those that were signed, so there is nothing to compare with",
            ));
        }
    };
    if let Some(form) = document.own_form.first() {
        let names = document.own_form.iter().map(|form| shown(&form.file));
        let names: Vec<String> = names.map(|name| name.to_string()).collect();
        let attached = |form: &str| job.attachments.contains_key(form);
        if !document.own_form.iter().all(|form| attached(&form.file)) {
            return Err(no(format!(
                "it says that it was set with the shop's own form, and does not carry {}",
                shown(&form.file)
            )));
        }
        return Err(set_with_own_form(file, job, &document, &names.join(", ")));
    }
    let typesetter = expected
        .typesetter
        .ok_or_else(|| cannot_tell("this program cannot set pages, so they were not compared"))?;
    let opened = open(file).ok_or_else(|| no("it cannot be opened"))?;
    let carried = pictures(&opened);
    let order = Order {
        document: &document,
        issued,
        attachments: &job.attachments,
        pictures: &carried,
        signing,
        originals: expected.folder,
    };
    let again = set(typesetter, &order)?;
    if is_same(file, &again, &gap) {
        return Ok(yes(&document, job, expected));
    }
    let wanted = open(&again);
    let difference = wanted.and_then(|wanted| page_words::first_difference(&opened, &wanted));
    Err(no(match difference {
        Some(found) => format!(
            "page {} says “{}”, where its inputs give “{}”",
            found.page,
            shown(&found.printed),
            shown(&found.wanted)
        ),
        None => "their words are those that its inputs give, but the document is not as this \
                 program makes it from them: a picture, a drawing or its structure differs"
            .to_owned(),
    }))
}

/// What is said of pages that were set with the shop's own form, in the files `names`. Such a
/// form can print anything, but not take away the page before its own: that is looked for.
fn set_with_own_form(
    file: &[u8],
    job: &AttachedJob,
    document: &DocumentFile,
    names: &str,
) -> Refused {
    let Some(opened) = open(file) else {
        return no("it cannot be opened");
    };
    let form = document.own_form.iter();
    let attached: Vec<String> = form.map(|form| form.file.clone()).collect();
    let Some(before) = page_before(job, &attached) else {
        return no("its inputs cannot be read, so no page can say what they give");
    };
    if !page_words::begins_with(&opened, before.texts()) {
        return no(
            "they were set with the shop's own form, and the page is missing or changed that \
             comes before such a form and gives the verdict and the required figures",
        );
    }
    cannot_tell(format!(
        "they were set with the shop's own form, which can print anything. Page 1 says so, and \
         gives the verdict and the figures above; rely on these. The form is attached: {names}"
    ))
}

fn set(typesetter: &dyn Typesetter, order: &Order<'_>) -> Result<Vec<u8>, Refused> {
    let why = |why| no(format!("they cannot be set again: {why}"));
    typesetter.set(order).map_err(why)
}

/// What the document says of itself, where this very version made it.
fn made_here(job: &AttachedJob) -> Result<DocumentFile, Refused> {
    let tool_in = |name: &str| {
        let bytes = job.attachments.get(name)?;
        let value: Value = serde_json::from_slice(bytes).ok()?;
        Some(value["tool"].as_str()?.to_owned())
    };
    let made_by_another = |tool: &str| {
        cannot_tell(format!(
            "it was made by {}, and this is {TOOL}: only that version sets the same pages",
            shown(tool)
        ))
    };
    let Some(bytes) = job.attachments.get(DOCUMENT_FILE) else {
        return Err(match tool_in(RESULT) {
            Some(tool) if tool != TOOL => made_by_another(&tool),
            Some(_) => no(format!("it carries no {DOCUMENT_FILE}, and a report must")),
            None => cannot_tell(format!(
                "it carries no {DOCUMENT_FILE}: it was made by a version before 0.4.0, which set \
                 other pages"
            )),
        });
    };
    match tool_in(DOCUMENT_FILE) {
        Some(tool) if tool != TOOL => Err(made_by_another(&tool)),
        _ => serde_json::from_slice(bytes)
            .map_err(|_| no(format!("{DOCUMENT_FILE} does not say what document it is"))),
    }
}

/// Whether two files have the same bytes but for those of `gap`.
fn is_same(file: &[u8], again: &[u8], gap: &Range<usize>) -> bool {
    file.len() == again.len()
        && file[..gap.start] == again[..gap.start]
        && file[gap.end..] == again[gap.end..]
}

/// What was compared, and what was not.
fn yes(document: &DocumentFile, job: &AttachedJob, expected: &Expected<'_>) -> Vec<String> {
    let pages = "set again from what it carries, they are the same to the last byte".to_owned();
    let pictures = match (document.photos.len(), expected.folder) {
        (0, _) => None,
        (_, Some(folder))
            if document
                .photos
                .iter()
                .all(|photo| is_listed(photo, job, folder)) =>
        {
            Some("the photos on them are those of the folder, scaled again".to_owned())
        }
        (_, Some(_)) => Some(
            "the folder has not all of their photos as they were listed: those that it has not \
             were not compared"
                .to_owned(),
        ),
        (_, None) => Some(
            "whether the photos on them are those that were sealed was not compared; give the \
             folder with --with"
                .to_owned(),
        ),
    };
    [pages].into_iter().chain(pictures).collect()
}

/// Whether `folder` has the photo as the document lists it.
fn is_listed(photo: &PhotoCopy, job: &AttachedJob, folder: &dyn Source) -> bool {
    let there = folder.digest(&photo.file);
    there.is_ok_and(|(digest, _)| job.digest(&photo.file) == Some(digest))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::result::DocumentKind;
    use crate::verification::test_documents::{Files, moment};

    struct Echo(Vec<u8>);

    impl Typesetter for Echo {
        fn set(&self, _: &Order<'_>) -> Result<Vec<u8>, String> {
            Ok(self.0.clone())
        }
    }

    /// A document that says what it is, as this version or another writes it.
    fn files(change: impl FnOnce(&mut DocumentFile)) -> Files {
        let issued = moment("2026-01-22T08:40:00+00:00");
        let mut document = DocumentFile::new(DocumentKind::Report, issued, None);
        change(&mut document);
        Files::report().and(DOCUMENT_FILE, document.text().as_bytes())
    }

    fn asked(files: &Files, typesetter: Option<&dyn Typesetter>) -> Finding {
        let file = files.pdf();
        let expected = Expected {
            typesetter,
            ..Expected::default()
        };
        pages(&file, &files.job(), &SignedBytes::find(&file), &expected)
    }

    #[test]
    fn pages_that_cannot_be_set_again_are_not_told() {
        let plain = files(|_| {});
        let form = crate::result::FormFile {
            file: "form-theme.typ".to_owned(),
            sha256: String::new(),
        };
        let tool = TOOL;
        for (name, files, answer, why) in [
            (
                "no mark, of this version",
                Files::report(),
                Answer::No,
                "a report must",
            ),
            (
                "no mark, of another",
                Files::report().with("result.json", tool, "retestify 0.3.0"),
                Answer::CannotTell,
                "made by retestify 0.3.0",
            ),
            (
                "no mark, in a receipt",
                Files::receipt(),
                Answer::CannotTell,
                "a version before 0.4.0",
            ),
            (
                "another version",
                files(|said| said.tool = "retestify 9.9.9".to_owned()),
                Answer::CannotTell,
                "made by retestify 9.9.9",
            ),
            (
                "no time",
                files(|said| said.issued = "today".to_owned()),
                Answer::No,
                "gives no time",
            ),
            (
                "a form that is not there",
                files(|said| said.own_form.push(form.clone())),
                Answer::No,
                "does not carry form-theme.typ",
            ),
            (
                "a form of the shop, without the page before it",
                files(|said| said.own_form.push(form.clone())).and("form-theme.typ", b"x"),
                Answer::No,
                "the page is missing or changed",
            ),
            (
                "no typesetter",
                plain,
                Answer::CannotTell,
                "this program cannot set pages",
            ),
        ] {
            let found = asked(&files, None);
            assert_eq!(found.answer, answer, "{name}: {found:?}");
            let because = found.because.join("; ");
            assert!(because.contains(why), "{name}: {because}");
        }
    }

    #[test]
    fn every_byte_counts() {
        let files = files(|_| {});
        let same = files.pdf();
        assert_eq!(asked(&files, Some(&Echo(same.clone()))).answer, Answer::Yes);
        let mut other = same.clone();
        *other.last_mut().unwrap() ^= 1;
        assert_eq!(asked(&files, Some(&Echo(other))).answer, Answer::No);
        let longer = [&same[..], b"\n"].concat();
        assert_eq!(asked(&files, Some(&Echo(longer))).answer, Answer::No);
        // But for the value of a signature.
        assert!(is_same(b"ab12cd", b"ab00cd", &(2..4)));
        assert!(!is_same(b"ab12cd", b"ab00cx", &(2..4)));
        assert!(!is_same(b"ab12cd", b"xb00cd", &(2..4)));
    }
}
