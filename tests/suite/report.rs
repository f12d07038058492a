//! The report as a file: what it carries, what it says, that it is the same again.

use std::collections::BTreeMap;
use std::fs;

use lopdf::{Document, Object};

use crate::folder::{Folder, run, samples};

fn report_of(folder: &Folder) -> Vec<u8> {
    let output = folder.file("report.pdf");
    let made = run(&["report", folder.path().to_str().unwrap(), "--replace"]);
    assert_eq!(made.code, 0, "{}", made.err);
    fs::read(output).unwrap()
}

/// The files that a PDF carries: name, relationship and bytes.
fn attachments(pdf: &[u8]) -> BTreeMap<String, (String, Vec<u8>)> {
    let document = Document::load_mem(pdf).unwrap();
    let catalog = document.catalog().unwrap();
    let associated = catalog.get(b"AF").and_then(Object::as_array).unwrap();
    associated
        .iter()
        .map(|entry| {
            let (_, file) = document.dereference(entry).unwrap();
            let file = file.as_dict().unwrap();
            let name = lopdf::decode_text_string(file.get(b"UF").unwrap()).unwrap();
            let relationship = file.get(b"AFRelationship").unwrap().as_name().unwrap();
            let (_, embedded) = document.dereference(file.get(b"EF").unwrap()).unwrap();
            let stream = embedded.as_dict().unwrap().get(b"F").unwrap();
            let (_, stream) = document.dereference(stream).unwrap();
            let stream = stream.as_stream().unwrap();
            let bytes = stream
                .decompressed_content()
                .unwrap_or(stream.content.clone());
            (
                name,
                (String::from_utf8_lossy(relationship).into_owned(), bytes),
            )
        })
        .collect()
}

#[test]
fn the_report_carries_its_inputs_and_its_result() {
    let folder = Folder::copy_of("frost-fan");
    let carried = attachments(&report_of(&folder));
    let names: Vec<&str> = carried.keys().map(String::as_str).collect();
    assert_eq!(
        names,
        [
            "baseline.toml",
            "document.json",
            "job.toml",
            "limits.toml",
            "result.json",
            "retest.toml",
            "shop.toml",
            "work.toml"
        ]
    );
    for (name, (relationship, bytes)) in &carried {
        if name == "result.json" {
            let result = run(&["check", "--json", folder.path().to_str().unwrap()]).out;
            assert_eq!(relationship, "Data");
            assert_eq!(String::from_utf8_lossy(bytes), result);
        } else if name == "document.json" {
            assert_eq!(relationship, "Data");
            let said: serde_json::Value = serde_json::from_slice(bytes).unwrap();
            assert_eq!(said["kind"], "report");
        } else {
            assert_eq!(relationship, "Source");
            assert_eq!(bytes, &fs::read(folder.file(name)).unwrap(), "{name}");
        }
    }
}

#[test]
fn the_same_inputs_and_clock_give_the_same_bytes() {
    let folder = Folder::copy_of("cold-store-generator");
    let first = report_of(&folder);
    assert!(first == report_of(&folder));
    folder.replace(
        "retest.toml",
        "meter = { value = 615.1",
        "meter = { value = 615.2",
    );
    assert!(first != report_of(&folder));
}

/// Photos go in as copies made from their pixels: no camera, no place.
#[test]
fn photos_lose_their_metadata() {
    let original = fs::read(samples().join("frost-fan/photos/filter-after.jpg")).unwrap();
    let contains = |bytes: &[u8], what: &[u8]| bytes.windows(what.len()).any(|w| w == what);
    assert!(
        contains(&original, b"Exif"),
        "the sample has something to lose"
    );
    let pdf = report_of(&Folder::copy_of("frost-fan"));
    assert!(!contains(&pdf, b"Exif"));
    let document = Document::load_mem(&pdf).unwrap();
    let pictures = document
        .objects
        .values()
        .filter_map(|object| object.as_stream().ok())
        .filter(|stream| {
            stream.dict.get(b"Subtype").is_ok_and(|s| {
                s == &Object::from("Image") || s.as_name().is_ok_and(|name| name == b"Image")
            })
        })
        .count();
    assert_eq!(pictures, 3);
}

#[test]
fn the_report_declares_its_standards_and_language() {
    let pdf = report_of(&Folder::copy_of("mill-gearbox"));
    let document = Document::load_mem(&pdf).unwrap();
    let catalog = document.catalog().unwrap();
    assert!(catalog.get(b"StructTreeRoot").is_ok());
    assert_eq!(catalog.get(b"Lang").unwrap().as_str().unwrap(), b"en");
    let (_, metadata) = document
        .dereference(catalog.get(b"Metadata").unwrap())
        .unwrap();
    let metadata = String::from_utf8_lossy(&metadata.as_stream().unwrap().content).into_owned();
    for entry in ["<pdfaid:part>3", "<pdfaid:conformance>A", "<pdfuaid:part>1"] {
        assert!(metadata.contains(entry), "{entry} in {metadata}");
    }
}

#[test]
fn paper_is_what_the_shop_prints_on() {
    let size = |sample: &str| {
        let document = Document::load_mem(&report_of(&Folder::copy_of(sample))).unwrap();
        let (_, page) = document.get_pages().into_iter().next().unwrap();
        let page = document.get_dictionary(page).unwrap();
        let media = page.get(b"MediaBox").unwrap().as_array().unwrap();
        [2, 3].map(|index| media[index].as_float().unwrap().round() as i32)
    };
    // ISO 216 A4: 210 mm × 297 mm; US Letter: 8.5 in × 11 in; in points.
    assert_eq!(size("frost-fan"), [595, 842]);
    assert_eq!(size("bakery-chiller"), [612, 792]);
}

/// The customer's page is one page, whatever was written.
#[test]
fn the_front_stays_one_page() {
    let folder = Folder::copy_of("frost-fan");
    let complaint = (0..40)
        .map(|n| format!("Line {n} of the complaint.\n\n"))
        .collect::<String>();
    let start = folder.read("job.toml").find("complaint").unwrap();
    let end = folder.read("job.toml").find("[customer]").unwrap();
    let mut job = folder.read("job.toml");
    job.replace_range(
        start..end,
        &format!("complaint = \"\"\"\n{complaint}\"\"\"\n\n"),
    );
    folder.write("job.toml", job);
    let more: String = (0..12)
        .map(|n| {
            format!(
                "\n[[intervention]]\nwhat = \"Thing {n} {}\"\n",
                "x".repeat(120)
            )
        })
        .collect();
    folder.write("work.toml", folder.read("work.toml") + &more);
    let limits = folder.read("limits.toml").replace(
        "cannot_tell = [\"",
        &format!("cannot_tell = [\"{}\", \"", "Nobody can tell. ".repeat(15)),
    );
    folder.write("limits.toml", limits);

    let document = Document::load_mem(&report_of(&folder)).unwrap();
    // The headline is the first heading of level 1, "The job" the second: it opens
    // the second page.
    let first = document.extract_text(&[1]).unwrap();
    let second = document.extract_text(&[2]).unwrap();
    assert!(first.contains("For the shop"), "{first}");
    assert!(second.contains("The job"), "{second}");
}

/// The digests can be copied from the page: two halves, nothing between the digits.
#[test]
fn the_printed_digests_are_those_of_the_files() {
    let folder = Folder::copy_of("ferry-auxiliary");
    let document = Document::load_mem(&report_of(&folder)).unwrap();
    let pages: Vec<u32> = document.get_pages().into_keys().collect();
    let text = document.extract_text(&pages).unwrap();
    for file in [
        "job.toml",
        "limits.toml",
        "baseline.toml",
        "work.toml",
        "retest.toml",
    ] {
        let bytes = fs::read(folder.file(file)).unwrap();
        let digest = retestify::files::Digest::of(&bytes).to_string();
        assert!(
            text.contains(&digest[..32]) && text.contains(&digest[32..]),
            "{file}"
        );
    }
}
