//! What the page's script can call. Files come in and texts go out through memory that
//! belongs to this side: the script asks for a place, and writes there; it is told where an
//! answer lies, and reads it. Nothing is imported, so there is nothing to reach out with.

// `no_mangle` only keeps a function's name, and counts as unsafe because two of one name
// would clash; there is no `unsafe` block here.
#![allow(unsafe_code)]

use std::sync::{Mutex, MutexGuard, PoisonError};

use retestify::page::{Given, check as check_given};
use retestify::verification::{Carried, Typesetter};

/// What has come in so far, and what goes out.
struct Desk {
    document: Vec<u8>,
    receipt: Option<Vec<u8>>,
    certificates: Vec<Vec<u8>>,
    authorities: Vec<Vec<u8>>,
    fingerprint: Vec<u8>,
    language: Vec<u8>,
    out: Vec<u8>,
}

static DESK: Mutex<Desk> = Mutex::new(Desk {
    document: Vec::new(),
    receipt: None,
    certificates: Vec::new(),
    authorities: Vec::new(),
    fingerprint: Vec::new(),
    language: Vec::new(),
    out: Vec::new(),
});

fn desk() -> MutexGuard<'static, Desk> {
    DESK.lock().unwrap_or_else(PoisonError::into_inner)
}

/// A place of `length` bytes for: 0 the document, 1 the receipt, 2 one more certificate file,
/// 3 one more of a time-stamp authority, 4 the fingerprint, 5 the language; the last two as
/// UTF-8.
#[unsafe(no_mangle)]
extern "C" fn place(what: u32, length: usize) -> *mut u8 {
    let mut desk = desk();
    let room = vec![0; length];
    let place = match what {
        0 => &mut desk.document,
        1 => desk.receipt.insert(Vec::new()),
        2 => one_more(&mut desk.certificates),
        3 => one_more(&mut desk.authorities),
        4 => &mut desk.fingerprint,
        _ => &mut desk.language,
    };
    *place = room;
    place.as_mut_ptr()
}

fn one_more(files: &mut Vec<Vec<u8>>) -> &mut Vec<u8> {
    files.push(Vec::new());
    let last = files.len() - 1;
    &mut files[last]
}

/// Checks what was given: the place of everything to show, as JSON in UTF-8.
#[unsafe(no_mangle)]
extern "C" fn check() -> *const u8 {
    let mut desk = desk();
    let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
    let shown = check_given(&Given {
        document: &desk.document,
        receipt: desk.receipt.as_deref(),
        certificates: &desk.certificates,
        authorities: &desk.authorities,
        fingerprint: &text(&desk.fingerprint),
        language: &text(&desk.language),
        typesetter: typesetter(),
    });
    // Made of strings and lists only, so it always has a JSON form.
    desk.out = serde_json::to_vec(&shown).unwrap_or_default();
    desk.out.as_ptr()
}

/// The place of an attached file, by its number in what is shown.
#[unsafe(no_mangle)]
extern "C" fn file(number: usize) -> *const u8 {
    let mut desk = desk();
    let carried = Carried::of(&desk.document);
    let file = carried.attachments().nth(number);
    let file = file.map(|(_, bytes)| bytes.to_vec());
    desk.out = file.unwrap_or_default();
    desk.out.as_ptr()
}

/// How many bytes lie at the place that was told last.
#[unsafe(no_mangle)]
extern "C" fn length() -> usize {
    desk().out.len()
}

/// 1 if this page sets printed pages again, 0 if it is the small one.
#[unsafe(no_mangle)]
extern "C" fn sets_pages() -> u32 {
    u32::from(typesetter().is_some())
}

#[cfg(feature = "typesetter")]
fn typesetter() -> Option<&'static dyn Typesetter> {
    Some(&retestify::document::OwnPages)
}

#[cfg(not(feature = "typesetter"))]
fn typesetter() -> Option<&'static dyn Typesetter> {
    None
}
