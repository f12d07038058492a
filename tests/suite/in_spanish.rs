//! What intake says of a job that the tests spoil is said in Spanish too: at the fields of the
//! form, and beside them. A sentence that changes in English, and does not change where its
//! Spanish is found, is noticed by the test that provokes it.

use std::sync::LazyLock;

use retestify::files::nearest_with;
use retestify::fill::said;
use retestify::intake::{Inputs, Media, Problems, SHOP_FILE, State, can_print, read_job};
use retestify::view::Words;

use crate::folder::Folder;

static SPANISH: LazyLock<Words> = LazyLock::new(|| {
    let text = include_str!("../../report-templates/words/problems/es.ftl");
    Words::of("es", &[]).unwrap().with_more(text)
});

/// All that is said of `folder`, which need not be sound.
fn problems(folder: &Folder) -> Problems {
    let path = folder.path();
    let (Ok(job), Ok(shop)) = (
        retestify::files::Folder::open(&path),
        nearest_with(&path, SHOP_FILE),
    ) else {
        return Problems::default();
    };
    let inputs = Inputs {
        job: &job,
        shop: &shop,
    };
    read_job(inputs, &can_print, Media::Read)
        .err()
        .unwrap_or_default()
}

/// What only an editor can do to a file: what its text then is, the parser says in words of its
/// own, and the form writes nothing until it is mended there.
fn is_no_toml(problems: &Problems, file: &str) -> bool {
    let text = problems.text(file);
    text.is_none_or(|text| text.parse::<toml::Table>().is_err())
}

/// A hint that is what the published schema says of the key.
fn is_of_the_schema(hint: &str) -> bool {
    let schemas = [
        include_str!("../../samples/schemas/job.schema.json"),
        include_str!("../../samples/schemas/limits.schema.json"),
        include_str!("../../samples/schemas/run.schema.json"),
        include_str!("../../samples/schemas/work.schema.json"),
    ];
    let hint = serde_json::to_string(hint).unwrap();
    let hint = hint.trim_matches('"');
    schemas
        .iter()
        .any(|schema| schema.replace("\\n", " ").contains(hint))
}

/// Panics if anything that the form shows of this folder would stay in English.
#[track_caller]
pub fn is_told(folder: &Folder) {
    let problems = problems(folder);
    // The form does not ask for the shop's file, and shows nothing of it.
    let shown = problems
        .iter()
        .filter(|problem| problem.state == State::Wrong && problem.file != SHOP_FILE);
    for problem in shown {
        if is_no_toml(&problems, &problem.file) {
            continue;
        }
        for text in [&problem.message, &problem.hint] {
            let told = said(text, &SPANISH);
            let told = told.or_else(|| is_of_the_schema(text).then(String::new));
            assert!(told.is_some(), "not said in Spanish: {text}");
        }
    }
}
