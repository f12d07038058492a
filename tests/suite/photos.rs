//! Photos: when they were taken, what stands beside what, what the copies keep.
//!
//! The frost fan's baseline ran from 06:35 to 08:10 UTC on 20 January 2026, its work
//! from 09:00 to 15:20 that day, its retest from 06:40 to 08:15 on 22 January.

use std::fs;

use lopdf::Document;

use crate::folder::{Folder, run, samples};

/// An Exif segment (JPEG APP1 around a TIFF, little-endian): a place in the GPS
/// directory, and `DateTimeOriginal` and `OffsetTimeOriginal` where they are given.
/// Tags by CIPA DC-008 (from memory).
pub fn exif(time: &str, offset: Option<&str>) -> Vec<u8> {
    let entry = |tag: u16, kind: u16, count: u32, value: u32| {
        let mut bytes = [tag.to_le_bytes(), kind.to_le_bytes()].concat();
        bytes.extend(count.to_le_bytes());
        bytes.extend(value.to_le_bytes());
        bytes
    };
    const ASCII: u16 = 2;
    const LONG: u16 = 4;
    // Header 8, IFD0 with two entries 30, GPS with one 18, Exif with one or two.
    let (gps, exif) = (8 + 30, 8 + 30 + 18);
    let entries = 1 + u16::from(offset.is_some());
    let texts = exif + 2 + 12 * u32::from(entries) + 4;
    let mut tiff = b"II*\0\x08\0\0\0".to_vec();
    tiff.extend(2u16.to_le_bytes());
    tiff.extend(entry(0x8769, LONG, 1, exif));
    tiff.extend(entry(0x8825, LONG, 1, gps));
    tiff.extend([0; 4]);
    tiff.extend(1u16.to_le_bytes());
    tiff.extend(entry(0x0001, ASCII, 2, u32::from(b'N')));
    tiff.extend([0; 4]);
    tiff.extend(entries.to_le_bytes());
    tiff.extend(entry(0x9003, ASCII, 20, texts));
    if offset.is_some() {
        tiff.extend(entry(0x9011, ASCII, 7, texts + 20));
    }
    tiff.extend([0; 4]);
    tiff.extend(format!("{time}\0").bytes());
    tiff.extend(offset.iter().flat_map(|offset| offset.bytes().chain([0])));
    let mut segment = vec![0xFF, 0xE1];
    segment.extend((8 + tiff.len() as u16).to_be_bytes());
    segment.extend(b"Exif\0\0");
    segment.extend(tiff);
    segment
}

/// A frost fan whose photo `file` carries `segment`.
pub fn with_exif(file: &str, segment: &[u8]) -> Folder {
    let folder = Folder::copy_of("frost-fan");
    put_exif(&folder, file, segment);
    folder
}

/// Puts `segment` in place of the Exif that the photo `file` has, if any.
fn put_exif(folder: &Folder, file: &str, segment: &[u8]) {
    let jpeg = fs::read(samples().join("frost-fan").join(file)).unwrap();
    let mut changed = [&jpeg[..2], segment].concat();
    let mut at = 2;
    while jpeg[at + 1] != 0xDA {
        let end = at + 2 + usize::from(u16::from_be_bytes([jpeg[at + 2], jpeg[at + 3]]));
        if jpeg[at + 1] != 0xE1 {
            changed.extend(&jpeg[at..end]);
        }
        at = end;
    }
    changed.extend(&jpeg[at..]);
    folder.write(file, changed);
}

/// What `check` says, on one line.
fn said(folder: &Folder) -> String {
    let run = folder.check();
    assert_eq!(run.code, 0, "{}", run.err);
    run.out.split_whitespace().collect::<Vec<_>>().join(" ")
}

const BEFORE: &str = "photos/filter-before.jpg";
const AFTER: &str = "photos/filter-after.jpg";
const WORK: &str = "photos/old-line.jpg";

#[test]
fn a_photo_of_the_baseline_taken_during_the_work_is_pointed_out() {
    let folder = with_exif(BEFORE, &exif("2026:01:20 10:30:00", Some("+01:00")));
    let text = said(&folder);
    assert!(
        text.contains(
            "belongs to the baseline, but its camera time is 20 January 2026, 10:30 UTC+01:00, \
             after the work started (20 January 2026, 09:00 UTC+00:00)."
        ),
        "{text}"
    );
    assert!(!text.contains("no time zone"), "{text}");
}

#[test]
fn a_photo_of_the_retest_taken_before_the_work_ended_is_pointed_out() {
    let folder = with_exif(AFTER, &exif("2026:01:20 15:19:00", Some("+00:00")));
    let text = said(&folder);
    assert!(
        text.contains(
            "belongs to the retest, but its camera time is 20 January 2026, 15:19 UTC+00:00, \
             before the work was finished (20 January 2026, 15:20 UTC+00:00)."
        ),
        "{text}"
    );
}

#[test]
fn a_photo_from_another_week_is_pointed_out() {
    let folder = with_exif(WORK, &exif("2026:01:13 10:00:00", Some("+00:00")));
    let text = said(&folder);
    assert!(
        text.contains(
            "was taken days away from its run: its camera time is 13 January 2026, \
             10:00 UTC+00:00, the work was on 20 January 2026, 09:00 UTC+00:00."
        ),
        "{text}"
    );
}

/// Without a zone, 21 January 08:00 is less than a day after the work started and
/// passes; 21 January 10:00 is more, and does not.
#[test]
fn a_camera_without_a_time_zone_is_allowed_a_day() {
    let text = said(&with_exif(BEFORE, &exif("2026:01:21 08:00:00", None)));
    assert!(!text.contains("camera"), "{text}");
    let text = said(&with_exif(BEFORE, &exif("2026:01:21 10:00:00", None)));
    assert!(
        text.contains("camera time is 21 January 2026, 10:00, after the work started"),
        "{text}"
    );
    assert!(text.contains("gives no time zone"), "{text}");
}

#[test]
fn a_time_that_fits_or_cannot_be_read_says_nothing() {
    for segment in [
        exif("2026:01:20 07:00:00", Some("+00:00")),
        exif("2026:01:20 07:00:00", Some("      ")),
        exif("    :  :     :  :  ", None),
        exif("2026:13:40 99:00:00", None),
        exif("2026:01:20 07:00:00", None)[..40].to_vec(),
    ] {
        let mut segment = segment;
        let length = (segment.len() as u16 - 2).to_be_bytes();
        segment[2..4].copy_from_slice(&length);
        let text = said(&with_exif(BEFORE, &segment));
        assert!(!text.contains("camera"), "{text}");
    }
}

/// Several are one sentence on the customer's page, and one each behind it.
#[test]
fn several_odd_times_are_named_behind() {
    let folder = with_exif(BEFORE, &exif("2026:01:20 10:30:00", Some("+00:00")));
    let segment = exif("2026:01:20 10:31:00", Some("+00:00"));
    put_exif(&folder, AFTER, &segment);
    let text = said(&folder);
    assert!(
        text.contains("2 photos have camera times that do not fit"),
        "{text}"
    );
    let pages = text_of(&report(&folder));
    for time in ["10:30", "10:31"] {
        assert!(
            pages.contains(&format!("camera time is 20 January 2026, {time}")),
            "{pages}"
        );
    }
}

fn report(folder: &Folder) -> Vec<u8> {
    let made = run(&["report", folder.path().to_str().unwrap(), "--replace"]);
    assert_eq!(made.code, 0, "{}", made.err);
    fs::read(folder.file("report.pdf")).unwrap()
}

fn text_of(pdf: &[u8]) -> String {
    let document = Document::load_mem(pdf).unwrap();
    let pages: Vec<u32> = document.get_pages().into_keys().collect();
    let text = document.extract_text(&pages).unwrap();
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The markers of a JPEG before its first scan (ITU-T T.81, table B.1).
fn markers(jpeg: &[u8]) -> Vec<u8> {
    let mut found = Vec::new();
    let mut at = 2;
    while at + 4 <= jpeg.len() && jpeg[at] == 0xFF && jpeg[at + 1] != 0xDA {
        found.push(jpeg[at + 1]);
        at += 2 + usize::from(u16::from_be_bytes([jpeg[at + 2], jpeg[at + 3]]));
    }
    found
}

/// What a copy holds is its pixels: no Exif or XMP (APP1), no colour profile or
/// thumbnail (APP2), no maker's notes, no comments.
#[test]
fn the_copies_hold_no_metadata() {
    let segment = exif("2026:01:20 07:00:00", Some("+00:00"));
    let folder = with_exif(BEFORE, &segment);
    let original = fs::read(folder.file(BEFORE)).unwrap();
    assert!(markers(&original).contains(&0xE1), "it has some to lose");
    let document = Document::load_mem(&report(&folder)).unwrap();
    let copies: Vec<&[u8]> = document
        .objects
        .values()
        .filter_map(|object| object.as_stream().ok())
        .map(|stream| stream.content.as_slice())
        .filter(|content| content.starts_with(&[0xFF, 0xD8]))
        .collect();
    assert_eq!(copies.len(), 3);
    for copy in copies {
        let found = markers(copy);
        // APP0 (JFIF), quantisation and Huffman tables, a baseline frame.
        assert!(
            found
                .iter()
                .all(|marker| [0xE0, 0xDB, 0xC4, 0xC0].contains(marker)),
            "{found:x?}"
        );
    }
}

#[test]
fn the_photos_of_a_pair_stand_side_by_side() {
    let text = text_of(&report(&Folder::copy_of("frost-fan")));
    let at = |words: &str| text.find(words).unwrap_or_else(|| panic!("{words}"));
    let before = at("before the work: 31.5 kPa (baseline)");
    let after = at("after the work: 11 kPa (retest)");
    let other = at("cracked under its clip (during the work)");
    assert!(before < after && after < other);
}

#[test]
fn the_same_photos_give_the_same_bytes() {
    let folder = Folder::copy_of("frost-fan");
    assert!(report(&folder) == report(&folder));
}

/// A PNG file of `chunks`, each a name and its bytes (ISO/IEC 15948, 5.3).
fn png(chunks: &[(&[u8; 4], Vec<u8>)]) -> Vec<u8> {
    let mut file = b"\x89PNG\r\n\x1a\n".to_vec();
    for (name, data) in chunks {
        let named = [&name[..], data].concat();
        let mut sum = flate2::Crc::new();
        sum.update(&named);
        file.extend((data.len() as u32).to_be_bytes());
        file.extend(named);
        file.extend(sum.sum().to_be_bytes());
    }
    file
}

/// The header of a picture of `side` by `side` pixels in red, green, blue and alpha.
fn header(side: u32, bits: u8) -> Vec<u8> {
    const RGBA: u8 = 6;
    let sides = [side.to_be_bytes(), side.to_be_bytes()].concat();
    [sides, vec![bits, RGBA, 0, 0, 0]].concat()
}

fn packed(length: usize) -> Vec<u8> {
    let mut encoder = flate2::write::ZlibEncoder::new(Vec::new(), flate2::Compression::fast());
    let megabyte = vec![0; 1 << 20];
    for start in (0..length).step_by(megabyte.len()) {
        let rest = (length - start).min(megabyte.len());
        std::io::Write::write_all(&mut encoder, &megabyte[..rest]).unwrap();
    }
    encoder.finish().unwrap()
}

/// Pixels of 16 bits, and a colour profile of a gibibyte: neither takes more memory than
/// photos may.
#[cfg(target_os = "linux")]
#[test]
fn a_picture_cannot_ask_for_more_memory_than_photos_may_take() {
    let sixteen = png(&[(b"IHDR", header(7000, 16)), (b"IDAT", Vec::new())]);
    let pixels = packed(8 * (4 * 8 + 1));
    let profile = [b"x\0\0".to_vec(), packed(1 << 30)].concat();
    let bomb = png(&[
        (b"IHDR", header(8, 8)),
        (b"iCCP", profile),
        (b"IDAT", pixels),
        (b"IEND", Vec::new()),
    ]);
    for (picture, told) in [
        (sixteen, Some("of more than 8 bits a colour")),
        (bomb, None),
    ] {
        let folder = Folder::copy_of("frost-fan");
        folder.write("photos/filter-after.jpg", picture);
        let path = folder.path();
        // In KiB: a quarter of what the profile would take.
        let line = format!(
            "ulimit -v 786432; exec '{}' check '{}'",
            env!("CARGO_BIN_EXE_retestify"),
            path.display()
        );
        let found = crate::folder::run_with("sh", &["-c", &line]);
        assert!([0, 2].contains(&found.code), "{}", found.err);
        if let Some(told) = told {
            assert!(found.err.contains(told), "{}", found.err);
        }
    }
}
