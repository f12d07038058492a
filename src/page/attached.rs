//! The files in a document, for those who look at them or save them.

use super::shown::AttachedFile;
use crate::verification::Carried;
use crate::view::Words;

/// The attached files, in the order of their names.
pub fn files(carried: &Carried, words: &Words) -> Vec<AttachedFile> {
    let all = carried.attachments();
    all.map(|(name, bytes)| {
        let kilobytes = bytes.len().div_ceil(1000).to_string();
        AttachedFile {
            name: name.escape_debug().to_string(),
            what: what(name, words),
            size: words.say_with("file-size", &[("size", &kilobytes)]),
        }
    })
    .collect()
}

/// What a file of this name holds; empty where the name does not say.
pub(super) fn what(name: &str, words: &Words) -> String {
    let id = match name {
        "shop.toml" => "file-shop",
        "job.toml" => "file-job",
        "limits.toml" => "file-limits",
        "baseline.toml" => "file-baseline",
        "work.toml" => "file-work",
        "retest.toml" => "file-retest",
        "result.json" => "file-result",
        "document.json" => "file-document",
        _ if name.ends_with(".sha256") => "file-seal",
        _ if name.starts_with("form-") => "file-form",
        _ => return String::new(),
    };
    words.say(id)
}
