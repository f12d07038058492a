//! The test vectors of the specification (`samples/EVIDENCE.md`): one fault a file,
//! with the outcome that anybody's program should come to.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use retestify::document::OwnPages;
use retestify::seals::{Breach, Chain};
use retestify::signature::ShopCertificate;
use retestify::verification::{Answer, Carried, Expected, KnownSeal, seal_of_receipt, verify};
use serde::Deserialize;

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/vectors")
}

fn vectors(start: &str) -> Vec<(String, String)> {
    let mut found: Vec<(String, String)> = fs::read_dir(folder())
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "toml"))
        .map(|path| {
            let name = path.file_name().unwrap().to_str().unwrap().to_owned();
            (name, fs::read_to_string(path).unwrap())
        })
        .filter(|(name, _)| name.starts_with(start))
        .collect();
    found.sort();
    assert!(found.len() > 10, "{start}: {}", found.len());
    found
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct DocumentVector {
    base: String,
    exit: u8,
    #[serde(default)]
    edit: Vec<Edit>,
    /// The certificates that the reader trusts to sign.
    #[serde(default = "the_shop")]
    trust: Vec<String>,
    /// Those that the reader trusts to attest times.
    #[serde(default = "the_authority")]
    trust_time: Vec<String>,
    /// What the reader holds the seal against, unless it is a fingerprint.
    #[serde(default = "the_receipt")]
    receipt: String,
    #[serde(default)]
    receipt_edit: Vec<Edit>,
    fingerprint: Option<String>,
    expect: BTreeMap<String, String>,
}

fn the_shop() -> Vec<String> {
    vec!["shop.pem".to_owned()]
}

fn the_authority() -> Vec<String> {
    vec!["authority.pem".to_owned()]
}

fn the_receipt() -> String {
    "receipt.pdf".to_owned()
}

/// One of: the last place of `find` becomes `replace`; `append`; `cut` bytes from the
/// end; `insert` in place of `remove` bytes from `at` on. With `lower`, the first capital
/// letter from that many bytes on is made small.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Edit {
    at: Option<usize>,
    #[serde(default)]
    remove: usize,
    insert: Option<String>,
    find: Option<String>,
    replace: Option<String>,
    append: Option<String>,
    cut: Option<usize>,
    lower: Option<usize>,
}

impl Edit {
    fn apply(&self, file: &mut Vec<u8>) {
        if let (Some(find), Some(replace)) = (&self.find, &self.replace) {
            let at = file
                .windows(find.len())
                .rposition(|window| window == find.as_bytes())
                .unwrap_or_else(|| panic!("no `{find}`"));
            if let Some(from) = self.lower {
                let letter = file[at + from..]
                    .iter()
                    .position(u8::is_ascii_uppercase)
                    .unwrap();
                file[at + from + letter].make_ascii_lowercase();
            }
            file.splice(at..at + find.len(), replace.bytes());
        }
        if let (Some(at), Some(insert)) = (self.at, &self.insert) {
            file.splice(at..at + self.remove, insert.bytes());
        }
        if let Some(append) = &self.append {
            file.extend(append.bytes());
        }
        file.truncate(file.len() - self.cut.unwrap_or(0));
    }
}

#[test]
fn documents_are_answered_as_their_vectors_say() {
    let read = |name: &str| fs::read(folder().join(name)).unwrap();
    let certificate = |name: &str| ShopCertificate::read(&read(name)).unwrap();
    for (name, text) in vectors("document-") {
        let vector: DocumentVector = toml::from_str(&text).unwrap();
        let mut file = read(&vector.base);
        for edit in &vector.edit {
            edit.apply(&mut file);
        }
        let mut receipt = read(&vector.receipt);
        for edit in &vector.receipt_edit {
            edit.apply(&mut receipt);
        }
        let expected = Expected {
            trusted: vector.trust.iter().map(|name| certificate(name)).collect(),
            authorities: vector
                .trust_time
                .iter()
                .map(|name| certificate(name))
                .collect(),
            folder: None,
            typesetter: Some(&OwnPages),
            seal: Some(vector.fingerprint.map_or_else(
                || seal_of_receipt(&receipt).unwrap_or_else(KnownSeal::Unsound),
                KnownSeal::Text,
            )),
            receipt: Some(Carried::of(&receipt)),
        };
        let found = verify(&file, &expected);
        let json = serde_json::to_value(&found).unwrap();
        for (question, answer) in &vector.expect {
            let given = json["findings"]
                .as_array()
                .unwrap()
                .iter()
                .find(|finding| finding["question"] == **question)
                .map_or("not-asked", |finding| finding["answer"].as_str().unwrap());
            assert_eq!(given, answer, "{name}: {question}: {found:#?}");
        }
        let exit = match found.overall() {
            Answer::No => 1,
            Answer::CannotTell => 3,
            _ => 0,
        };
        assert_eq!(exit, vector.exit, "{name}: {found:#?}");
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct SealVector {
    faults: Vec<String>,
    seal: Vec<SealFile>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct SealFile {
    file: String,
    text: String,
}

#[test]
fn seals_hold_or_break_as_their_vectors_say() {
    for (name, text) in vectors("seals-") {
        let vector: SealVector = toml::from_str(&text).unwrap();
        let files = vector
            .seal
            .iter()
            .map(|seal| (seal.file.clone(), seal.text.clone().into_bytes()));
        let faults: Vec<&str> = Chain::of(files)
            .errors
            .iter()
            .map(|error| match error.breach {
                Breach::NotASeal(_) => "not-a-seal",
                Breach::Name => "name",
                Breach::Incomplete => "incomplete",
                Breach::Previous => "previous",
                Breach::Order => "order",
                Breach::NoReason => "no-reason",
                Breach::Clock => "clock",
                Breach::OtherJob => "other-job",
            })
            .collect();
        assert_eq!(faults, vector.faults, "{name}");
    }
}

/// What a time-stamp leaves open: bytes of its token that its own signature does not
/// cover. They hold no claim of the shop, and each of them stands inside the token.
#[test]
fn the_bytes_that_a_time_stamp_leaves_open_are_known() {
    use retestify::verification::intact;
    let file = fs::read(folder().join("stamped.pdf")).unwrap();
    assert_eq!(intact(&file).answer, Answer::Yes);
    let start = file
        .windows(10)
        .rposition(|window| window == b"/Contents<")
        .unwrap()
        + 10;
    let end = start + file[start..].iter().position(|byte| *byte == b'>').unwrap();
    let expected = Expected::default();
    let mut open = Vec::new();
    let mut changed = file.clone();
    let used = file[start..end]
        .iter()
        .rposition(|digit| *digit != b'0')
        .unwrap();
    for place in (start..=start + used).step_by(2) {
        // Another digit in its place; any other sign is refused as no digit.
        let digit = if file[place] == b'0' { b'1' } else { b'0' };
        changed[place] = digit;
        if intact(&changed).answer == Answer::Yes {
            let found = verify(&changed, &expected);
            if found.answer(retestify::verification::Question::Time) == Answer::Yes {
                open.push((place - start) / 2);
            }
        }
        changed[place] = file[place];
    }
    // The token is the last thing in the signature; what stands before it is closed.
    let token = file[start..end]
        .windows(26)
        .position(|window| window == b"060B2A864886F70D010910020E")
        .unwrap()
        / 2;
    println!(
        "{} bytes of the token can be changed unseen, of {} bytes of signature: {open:?}",
        open.len(),
        used / 2
    );
    assert!(open.iter().all(|place| *place > token), "{open:?}");
    assert!(open.len() < 64, "{open:?}");
}
