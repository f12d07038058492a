//! Tables of loggers and of people: what is taken of them, and what is not.

use std::io::{Cursor, Write as _};

use crate::folder::{Folder, Run, run};

const BLANK: &str = "format = 1\nstarted = 2026-01-20T06:35:00+00:00\nby = \"T\"\n";

/// A job whose baseline has nothing in it yet.
fn blank() -> Folder {
    let folder = Folder::copy_of("frost-fan");
    folder.write("baseline.toml", BLANK);
    folder
}

/// Takes `bytes` into the job.
fn take(folder: &Folder, bytes: impl AsRef<[u8]>, args: &[&str]) -> Run {
    folder.write("log.csv", bytes);
    let (path, file) = (folder.path(), folder.file("log.csv"));
    let mut all = vec![
        "fill",
        path.to_str().unwrap(),
        "--from",
        file.to_str().unwrap(),
        "--yes",
    ];
    all.extend(args);
    let found = run(&all);
    let plain = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    Run {
        out: plain(&found.out),
        err: plain(&found.err),
        ..found
    }
}

#[test]
fn a_loggers_columns_are_named_by_letter_or_heading() {
    let folder = blank();
    let log = "Logger 7;;\nsaved 20/01/2026;;\nZeit;Crank (s);T1 (\u{b0}C);U [V]\n06:35;12,80;-1,5;9,94\n";
    let (latin, _, _) = encoding_rs::WINDOWS_1252.encode(log);
    let columns = [
        "--into",
        "baseline",
        "--column",
        "crank-time=B",
        "--column",
        "ambient=T1",
        "--column",
        "crank-voltage=U",
    ];
    let found = take(&folder, &latin, &columns);
    assert_eq!(found.err, "");
    for told in [
        "Crank time to running, Reading: 12,80 s (B4)",
        "Ambient temperature: -1,5 °C (C4)",
    ] {
        assert!(found.out.contains(told), "{}", found.out);
    }
    let text = folder.read("baseline.toml");
    // The one instrument that fits is named with it, as in the form.
    for line in [
        "ambient = { value = -1.5, unit = \"°C\", instrument = \"probe\" }",
        "[reading.crank-time]\nvalue = 12.80\nunit = \"s\"\ninstrument = \"watch\"",
        "value = 9.94\nunit = \"V\"\ninstrument = \"meter-v\"",
    ] {
        assert!(text.contains(line), "{line} in {text}");
    }
    assert!(text.starts_with(BLANK), "{text}");
}

#[test]
fn a_row_is_a_repeat_or_a_position() {
    let folder = blank();
    let rows = "Cyl,Speed (rpm)\n1,7.4\n2,-13.1\n3,\n4,8.6\n";
    let columns = [
        "--into",
        "baseline",
        "--column",
        "contribution=Speed",
        "--positions",
        "Cyl",
    ];
    let found = take(&folder, rows, &columns);
    assert_eq!(found.err, "");
    let text = folder.read("baseline.toml");
    for row in [
        "{ at = 1, value = 7.4 }",
        "{ at = 2, value = -13.1 }",
        "{ at = 4, value = 8.6 }",
    ] {
        assert!(text.contains(row), "{row} in {text}");
    }
    assert!(!text.contains("at = 3"), "{text}");
    let repeats = "a\n12.8\n12.6\n\n12.9\n";
    let found = take(
        &folder,
        repeats,
        &[
            "--into",
            "baseline",
            "--column",
            "crank-time=A",
            "--rows",
            "2-3",
        ],
    );
    assert_eq!(found.err, "");
    assert!(
        folder
            .read("baseline.toml")
            .contains("values = [12.8, 12.6]")
    );
    // More of them take nothing away; others would.
    let found = take(
        &folder,
        repeats,
        &["--into", "baseline", "--column", "crank-time=A"],
    );
    assert!(
        found
            .out
            .contains("12.8 · 12.6 · 12.9 s (A2), in place of 12.8 · 12.6"),
        "{}",
        found.out
    );
    assert!(
        folder
            .read("baseline.toml")
            .contains("values = [12.8, 12.6, 12.9]")
    );
}

#[test]
fn a_figure_is_never_overwritten_unasked() {
    let folder = Folder::copy_of("frost-fan");
    let before = folder.read("baseline.toml");
    let columns = ["--into", "baseline", "--column", "suction=A"];
    let found = take(&folder, "p (kPa)\n30.0\n", &columns);
    assert!(
        found
            .out
            .contains("baseline.toml says 31.5; the table 30.0 kPa (A2)"),
        "{}",
        found.out
    );
    assert_eq!(folder.read("baseline.toml"), before);
    let found = take(
        &folder,
        "p (kPa)\n30.0\n",
        &["--into", "baseline", "--column", "suction=A", "--replace"],
    );
    assert_eq!(found.err, "");
    assert_eq!(
        folder.read("baseline.toml"),
        before.replace("31.5\nunit", "30.0\nunit")
    );
}

/// Nobody is asked without a terminal, and then nothing is taken.
#[test]
fn it_is_shown_before_it_is_taken() {
    let folder = blank();
    folder.write("log.csv", "p\n30.0\n");
    let (path, file) = (folder.path(), folder.file("log.csv"));
    let found = run(&[
        "fill",
        path.to_str().unwrap(),
        "--from",
        file.to_str().unwrap(),
        "--into",
        "baseline",
        "--column",
        "suction=A",
    ]);
    assert_eq!(found.code, 2);
    assert!(
        found.out.contains("30.0 kPa (A2)") && found.err.contains("say `--yes`"),
        "{}{}",
        found.out,
        found.err
    );
    assert_eq!(folder.read("baseline.toml"), BLANK);
}

#[test]
fn a_unit_of_the_heading_goes_with_its_figures() {
    let folder = blank();
    let columns = ["--into", "baseline", "--column", "suction=A"];
    let found = take(&folder, "p (mbar)\n315\n", &columns);
    assert_eq!(found.err, "");
    assert!(
        folder
            .read("baseline.toml")
            .contains("value = 315\nunit = \"mbar\"")
    );
    let found = take(&folder, "p (psi)\n4.6\n", &columns);
    assert!(found.err.contains("another unit for it"), "{}", found.err);
    let found = take(&folder, "p (rpm)\n315\n", &columns);
    assert!(found.err.contains("the heading says rpm"), "{}", found.err);
    let found = take(&folder, "p (raw)\n315\n", &columns);
    assert!(found.err.contains("which is no unit"), "{}", found.err);
}

/// What cannot be taken ends in a message that names the cell, and nothing is taken.
#[test]
fn what_cannot_be_taken_is_told() {
    let one = |log: &str, columns: &[&str], told: &str| {
        let folder = blank();
        let mut args = vec!["--into", "baseline"];
        args.extend(columns);
        let found = take(&folder, log, &args);
        assert_eq!(found.code, 2, "{log}: {}", found.out);
        let said = found.err.replace("\n", " ");
        let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(said.contains(told), "{told} in {said}");
        assert_eq!(folder.read("baseline.toml"), BLANK);
    };
    let crank = &["--column", "crank-time=A"][..];
    one(
        "s\n12.8 s\n",
        crank,
        "A2: Crank time to running, Reading: “12.8 s”. This is not a number.",
    );
    one(
        "s\n1,022\n",
        &["--column", "crank-time=A", "--decimal", "point"],
        "row 2 has more columns than its headings",
    );
    one(
        "s\n=cmd|' /C calc'!A0\n",
        crank,
        "A2: Crank time to running, Reading is a formula",
    );
    one(
        "what the logger of the shop has, second by second (s)\n12\u{1b}[2J\n",
        crank,
        "control character",
    );
    one(
        "s\n12.8\n",
        &["--column", "cranktime=A"],
        "the plan has no measure or condition “cranktime”",
    );
    one(
        "s\n12.8\n",
        &["--column", "crank-time=Sp"],
        "there is no column “Sp” | = help: name one by its letter or its heading; row 1 has A “s”",
    );
    one(
        "s\n12.8\n",
        &["--column", "contribution=A"],
        "contribution is read at positions",
    );
    one(
        "s\n12.8\n",
        &["--column", "contribution@9=A"],
        "contribution has no position “9”",
    );
    one(
        "c,s\n9,12.8\n",
        &["--column", "contribution=B", "--positions", "A"],
        "contribution has no position “9”",
    );
    one(
        "s\n1\n2\n",
        &["--column", "ambient=A"],
        "one is taken, and there are 2: name the row with `--rows`",
    );
    one("s\n\n", crank, "has nothing for crank-time");
    one("", crank, "there is nothing in it");
    one(
        "s\n12.8\n",
        &["--column", "crank-time"],
        "does not say which column",
    );
    one(
        &format!("s\n{}", "1\n".repeat(500)),
        crank,
        "has 500 figures for crank-time",
    );
    one(
        &format!("s\n{}", "1\n".repeat(1_000_000)),
        crank,
        "it has something beyond row 20000",
    );
    one(
        &format!("{}\n1\n", "s,".repeat(400)),
        crank,
        "it has something beyond column 300",
    );
}

/// A workbook of these parts.
fn workbook(parts: &[(&str, &[u8])]) -> Vec<u8> {
    let mut writer = zip::ZipWriter::new(Cursor::new(Vec::new()));
    for (name, bytes) in parts {
        writer
            .start_file(*name, zip::write::SimpleFileOptions::default())
            .unwrap();
        writer.write_all(bytes).unwrap();
    }
    writer.finish().unwrap().into_inner()
}

/// A workbook as spreadsheets write it, with this inside of its one sheet.
fn book_of(rows: &str) -> Vec<u8> {
    let sheet = format!(
        "<worksheet xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\"><sheetData>{rows}</sheetData></worksheet>"
    );
    workbook(&[
        ("xl/workbook.xml", b"<workbook xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\" xmlns:r=\"http://schemas.openxmlformats.org/officeDocument/2006/relationships\"><sheets><sheet name=\"Log\" sheetId=\"1\" r:id=\"rId1\"/></sheets></workbook>"),
        ("_rels/.rels", b"<Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\"><Relationship Id=\"rId1\" Type=\"http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument\" Target=\"xl/workbook.xml\"/></Relationships>"),
        ("xl/_rels/workbook.xml.rels", b"<Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\"><Relationship Id=\"rId1\" Type=\"http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet\" Target=\"worksheets/sheet1.xml\"/></Relationships>"),
        ("xl/worksheets/sheet1.xml", sheet.as_bytes()),
    ])
}

#[test]
fn the_numbers_of_a_workbook_are_taken() {
    let folder = blank();
    let columns = ["--into", "baseline", "--column", "suction=p"];
    let book = book_of(
        "<row r=\"1\"><c r=\"A1\" t=\"inlineStr\"><is><t>p (kPa)</t></is></c></row><row r=\"2\"><c r=\"A2\"><v>31.500000000000004</v></c></row>",
    );
    let found = take(&folder, &book, &columns);
    assert_eq!(found.err, "");
    assert!(
        folder
            .read("baseline.toml")
            .contains("value = 31.5\nunit = \"kPa\"")
    );
    let found = take(
        &folder,
        &book,
        &[
            "--into",
            "baseline",
            "--column",
            "suction=p",
            "--sheet",
            "Sheet2",
        ],
    );
    assert!(
        found.err.contains("there is no sheet “Sheet2” in it") && found.err.contains("it has Log"),
        "{}",
        found.err
    );
}

#[test]
fn a_hostile_workbook_ends_in_a_message() {
    let one = |bytes: &[u8], told: &str| {
        let folder = blank();
        let found = take(
            &folder,
            bytes,
            &["--into", "baseline", "--column", "suction=A"],
        );
        assert_eq!(found.code, 2, "{told}: {}", found.out);
        assert!(found.err.contains(told), "{told} in {}", found.err);
        assert_eq!(folder.read("baseline.toml"), BLANK);
    };
    let bomb = vec![b' '; 200 << 20];
    let bomb = workbook(&[("xl/workbook.xml", &bomb)]);
    assert!(bomb.len() < 1 << 20);
    one(&bomb, "it unpacks to more than 48 MiB");
    one(
        &book_of("<row r=\"2\"><c r=\"A2\"><f>cmd|' /C calc'!A0</f><v>3</v></c></row>"),
        "A2: Fuel suction at filter outlet, Reading is a formula",
    );
    one(
        &book_of(
            "<row r=\"9\"><c r=\"A2\"><f t=\"shared\" si=\"4000000000\" ref=\"A2:A3\">1</f><v>3</v></c></row>",
        ),
        "is a formula",
    );
    one(
        &book_of("<row r=\"1048576\"><c r=\"A1048576\"><v>3</v></c></row>"),
        "beyond row 20000",
    );
    one(
        &book_of("<row r=\"1\"><c r=\"XFD1\"><v>3</v></c></row>"),
        "beyond column 300",
    );
    one(
        &book_of("<row r=\"1\"><c r=\"A1\"><v>3"),
        "it cannot be read",
    );
    one(b"PK\x03\x04 and no more", "it cannot be read");
    one(
        b"\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1",
        "it is an old .xls file, or locked with a password",
    );
    one(
        b"\x7fELF\x02\x01\x01\0\0\0",
        "it is neither an .xlsx workbook nor text",
    );
    // Names of cells past all numbers.
    for name in [
        "A99999999999999",
        "ZZZZZZZZZZZZZZ1",
        "1",
        "A",
        "",
        "A-1",
        "\u{c4}1",
    ] {
        let found = take(
            &blank(),
            book_of(&format!("<row r=\"1\"><c r=\"{name}\"><v>3</v></c></row>")),
            &["--into", "baseline", "--column", "suction=A"],
        );
        assert_eq!(found.code, 2, "{name}: {}", found.err);
        assert!(!found.err.contains("panicked"), "{name}: {}", found.err);
    }
}

/// A sealed run is not written into.
#[test]
fn a_sealed_run_takes_nothing() {
    let folder = Folder::copy_of("frost-fan");
    let path = folder.path();
    let before = folder.read("baseline.toml");
    let sealed = run(&["seal", "baseline", path.to_str().unwrap(), "--unsigned"]);
    assert_eq!(sealed.code, 0, "{}", sealed.err);
    let found = take(
        &folder,
        "p\n30.0\n",
        &["--into", "baseline", "--column", "suction=A", "--replace"],
    );
    assert!(
        found
            .err
            .contains("baseline.toml is sealed: nothing is written into it"),
        "{}",
        found.err
    );
    assert_eq!(folder.read("baseline.toml"), before);
}

/// The form of another plan, and one that was damaged, are told apart from a figure.
#[test]
fn the_form_must_be_of_this_plan() {
    let folder = blank();
    let found = take(&folder, "a,b\n1,2\n", &[]);
    assert!(
        found
            .err
            .contains("this is not the form that `worksheet --as` makes"),
        "{}",
        found.err
    );
    let form = |lines: &str| format!("What,Figure,Unit,Baseline,Retest,How,retestify-1\n{lines}");
    let found = take(&folder, form("Boost,x,,3,,,reading/boost.value\n"), &[]);
    assert!(
        found.err.contains("D2: the plan asks for no “Boost”"),
        "{}",
        found.err
    );
    let found = take(&folder, form("Suction,x,,3,,,\n"), &[]);
    assert!(
        found.err.contains("D2: its row has lost its last column"),
        "{}",
        found.err
    );
    let found = take(
        &folder,
        form("Suction,x,,,3,,reading/suction.value\n").replace("Retest", "After"),
        &[],
    );
    assert!(
        found.err.contains("row 1 has no column “Retest”"),
        "{}",
        found.err
    );
    assert_eq!(folder.read("baseline.toml"), BLANK);
}

/// A workbook spoiled anywhere is read or refused, and the program does not fall over it.
#[test]
fn a_damaged_workbook_is_no_danger() {
    let folder = Folder::copy_of("frost-fan");
    let path = folder.path();
    let made = run(&["worksheet", path.to_str().unwrap(), "--as", "xlsx"]);
    assert_eq!(made.code, 0, "{}", made.err);
    let whole = std::fs::read(folder.file("worksheet.xlsx")).unwrap();
    // The parts are not compressed, so that their text is spoiled too.
    let mut state = 20_261_126_u64;
    let mut next = |below: usize| {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(state >> 33).unwrap() % below
    };
    for _ in 0..120 {
        let mut bytes = whole.clone();
        for _ in 0..=next(3) {
            if bytes.is_empty() {
                break;
            }
            let at = next(bytes.len());
            match next(3) {
                0 => bytes[at] = b"0<>&\"9AZ\0\xFF"[next(10)],
                1 => bytes.truncate(at),
                _ => drop(bytes.splice(at..at, b"99999999999".iter().copied())),
            }
        }
        let found = take(&folder, &bytes, &[]);
        assert!(matches!(found.code, 0 | 2), "{}", found.err);
        assert!(!found.err.contains("panicked"), "{}", found.err);
    }
}
