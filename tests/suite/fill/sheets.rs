//! The form as a table: filled in there, it comes to what it comes to in an editor.

use std::io::{Cursor, Read as _, Write as _};

use super::every_kind::{SAMPLES, emptied, judged, rare, typed_of};
use crate::folder::{Folder, run};

/// The form of a job as rows of cells, filled in with what `wanted` says of each field: its
/// name without the file, the column, and its values.
fn filled_in(
    csv: &[u8],
    delimiter: u8,
    wanted: &[(String, usize, Vec<String>)],
) -> Vec<Vec<String>> {
    let mut builder = csv::ReaderBuilder::new();
    let builder = builder
        .has_headers(false)
        .flexible(true)
        .delimiter(delimiter);
    let mut reader = builder.from_reader(&csv[3..]);
    let rows = reader
        .records()
        .map(|row| row.unwrap().iter().map(str::to_owned).collect());
    let mut rows: Vec<Vec<String>> = rows.collect();
    for (key, column, values) in wanted {
        let mut values = values.iter();
        for row in rows.iter_mut().filter(|row| row.last() == Some(key)) {
            row[*column] = values.next().cloned().unwrap_or_default();
        }
        // More repeats than were planned: a line more for each.
        for value in values {
            let mut row = vec![String::new(); 6];
            row[*column].clone_from(value);
            row.push(key.clone());
            rows.push(row);
        }
        assert!(
            rows.iter().any(|row| row.last() == Some(key)),
            "no row for {key}"
        );
    }
    rows
}

fn as_csv(rows: &[Vec<String>], delimiter: u8) -> Vec<u8> {
    let mut builder = csv::WriterBuilder::new();
    let mut writer = builder
        .flexible(true)
        .delimiter(delimiter)
        .from_writer(Vec::new());
    for row in rows {
        writer.write_record(row).unwrap();
    }
    writer.into_inner().unwrap()
}

/// The program's workbook with the cells of `rows` in it that are its to fill in.
fn into_xlsx(xlsx: &[u8], rows: &[Vec<String>]) -> Vec<u8> {
    let mut book = zip::ZipArchive::new(Cursor::new(xlsx)).unwrap();
    let mut writer = zip::ZipWriter::new(Cursor::new(Vec::new()));
    let options = zip::write::SimpleFileOptions::default();
    for index in 0..book.len() {
        let mut part = book.by_index(index).unwrap();
        let mut text = String::new();
        part.read_to_string(&mut text).unwrap();
        let name = part.name().unwrap().into_owned();
        if name.ends_with("sheet1.xml") {
            let mut more = String::new();
            for (number, row) in (1..).zip(rows) {
                for (letter, column) in [("D", 3), ("E", 4)] {
                    let Some(value) = row
                        .get(column)
                        .filter(|value| number > 3 && !value.is_empty())
                    else {
                        continue;
                    };
                    let value = value.replace('&', "&amp;").replace('<', "&lt;");
                    let cell = |key: &str| {
                        format!(
                            "<c r=\"{key}{number}\" t=\"inlineStr\"><is><t>{value}</t></is></c>"
                        )
                    };
                    let blank = format!("<c r=\"{letter}{number}\" s=\"3\"/>");
                    if text.contains(&blank) {
                        text = text.replace(&blank, &cell(letter));
                    } else {
                        let key = format!(
                            "<c r=\"G{number}\" t=\"inlineStr\"><is><t>{}</t></is></c>",
                            row.last().unwrap()
                        );
                        more += &format!("<row r=\"{number}\">{}{key}</row>", cell(letter));
                    }
                }
            }
            text = text.replace("</sheetData>", &format!("{more}</sheetData>"));
        }
        writer.start_file(name, options).unwrap();
        writer.write_all(text.as_bytes()).unwrap();
    }
    writer.finish().unwrap().into_inner()
}

/// Empties both runs, and fills them in again from a table of this kind.
fn same_by_a_table(name: &str, folder: &Folder, kind: &str) {
    let by_editor = judged(folder);
    let mut wanted = Vec::new();
    for (part, column) in [("baseline", 3), ("retest", 4)] {
        let file = format!("{part}.toml");
        let whole = emptied(folder, part);
        for list in ["condition", "reading"] {
            for (name, values) in typed_of(&whole, &file, list)
                .into_iter()
                .flat_map(|(_, one)| one)
            {
                let key = name.strip_prefix(&format!("{file}/")).unwrap().to_owned();
                wanted.push((key, column, values));
            }
        }
    }
    let path = folder.path();
    let path = path.to_str().unwrap();
    let made = |kind: &str| {
        let file = folder.file(&format!("worksheet.{kind}"));
        let found = run(&["worksheet", path, "--as", kind]);
        assert!(found.err.is_empty(), "{name}: {}", found.err);
        std::fs::read(file).unwrap()
    };
    let csv = made("csv");
    let delimiter = match folder.read("shop.toml").contains("language = \"es") {
        true => b';',
        false => b',',
    };
    let rows = filled_in(&csv, delimiter, &wanted);
    let bytes = match kind {
        "csv" => as_csv(&rows, delimiter),
        _ => into_xlsx(&made("xlsx"), &rows),
    };
    let file = folder.file(&format!("filled-in.{kind}"));
    std::fs::write(&file, bytes).unwrap();
    let found = run(&["fill", path, "--from", file.to_str().unwrap(), "--yes"]);
    assert!(found.err.is_empty(), "{name}: {}", found.err);
    let by_table = judged(folder);
    let differs = |(one, other): &(&str, &str)| one != other;
    let lines = by_table.lines().zip(by_editor.lines()).find(differs);
    assert!(by_table == by_editor, "{name}: {lines:?}");
    // The same table again has nothing new.
    let again = run(&["fill", path, "--from", file.to_str().unwrap(), "--yes"]);
    assert!(
        again.out.contains("nothing new to take"),
        "{name}: {}",
        again.out
    );
}

#[test]
fn a_table_and_the_editor_come_to_the_same() {
    for sample in SAMPLES {
        same_by_a_table(sample, &Folder::copy_of(sample), "csv");
    }
    same_by_a_table("rare kinds", &rare().folder(), "csv");
}

#[test]
fn a_workbook_and_the_editor_come_to_the_same() {
    for sample in SAMPLES {
        same_by_a_table(sample, &Folder::copy_of(sample), "xlsx");
    }
    same_by_a_table("rare kinds", &rare().folder(), "xlsx");
}

#[test]
fn a_workbook_has_the_same_bytes_each_time() {
    let folder = Folder::copy_of("frost-fan");
    let path = folder.path();
    let path = path.to_str().unwrap();
    let made = |kind: &str, name: &str| {
        let file = folder.file(name);
        let found = run(&[
            "worksheet",
            path,
            "--as",
            kind,
            "-o",
            file.to_str().unwrap(),
        ]);
        assert!(found.err.is_empty(), "{}", found.err);
        std::fs::read(file).unwrap()
    };
    for kind in ["xlsx", "csv"] {
        assert_eq!(
            made(kind, &format!("a.{kind}")),
            made(kind, &format!("b.{kind}"))
        );
    }
    // It may be filled in by now.
    let again = run(&[
        "worksheet",
        path,
        "--as",
        "csv",
        "-o",
        folder.file("a.csv").to_str().unwrap(),
        "--replace",
    ]);
    assert!(
        again.code == 2 && again.err.contains("only an older PDF is replaced"),
        "{}",
        again.err
    );
    // No figure of the job is in it.
    let csv = String::from_utf8(made("csv", "c.csv")).unwrap();
    for figure in ["12.8", "9.94", "31.5", "-13.1"] {
        assert!(!csv.contains(figure), "{figure}: {csv}");
    }
}

/// Words that a spreadsheet would take for a formula stay words.
#[test]
fn nothing_in_a_table_is_a_formula() {
    let folder = Folder::copy_of("frost-fan");
    let limits = folder
        .read("limits.toml")
        .replacen("name = \"", "name = \"=1+1 ", 1);
    folder.write("limits.toml", limits);
    let path = folder.path();
    let path = path.to_str().unwrap();
    for kind in ["csv", "xlsx"] {
        let found = run(&["worksheet", path, "--as", kind]);
        assert!(found.err.is_empty(), "{}", found.err);
    }
    let csv = folder.read("worksheet.csv");
    assert!(csv.contains("'=1+1 "), "{csv}");
    let cells = csv.lines().flat_map(|line| line.split(','));
    assert!(
        !cells
            .into_iter()
            .any(|cell| cell.starts_with(['=', '+', '-', '@'])),
        "{csv}"
    );
    let xlsx = std::fs::read(folder.file("worksheet.xlsx")).unwrap();
    let xlsx = String::from_utf8_lossy(&xlsx);
    assert!(xlsx.contains(">=1+1 ") && !xlsx.contains("<f>"), "{xlsx}");
}

/// The Spanish form has Spanish headings, and takes a decimal comma.
#[test]
fn a_table_in_spanish_takes_a_decimal_comma() {
    let folder = Folder::copy_of("frost-fan");
    let shop = folder.read("shop.toml");
    folder.write("shop.toml", format!("language = \"es\"\n{shop}"));
    let by_editor = judged(&folder);
    let whole = emptied(&folder, "baseline");
    let path = folder.path();
    let path = path.to_str().unwrap();
    assert!(run(&["worksheet", path, "--as", "csv"]).err.is_empty());
    let csv = std::fs::read(folder.file("worksheet.csv")).unwrap();
    let text = String::from_utf8_lossy(&csv).into_owned();
    assert!(text.contains("Prueba inicial"), "{text}");
    let mut wanted = Vec::new();
    for list in ["condition", "reading"] {
        for (name, values) in typed_of(&whole, "baseline.toml", list)
            .into_iter()
            .flat_map(|(_, one)| one)
        {
            let key = name.strip_prefix("baseline.toml/").unwrap().to_owned();
            let is_figure = |text: &String| text.parse::<f64>().is_ok();
            let comma = |text: String| {
                if is_figure(&text) {
                    text.replace('.', ",")
                } else {
                    text
                }
            };
            wanted.push((key, 3, values.into_iter().map(comma).collect()));
        }
    }
    let rows = filled_in(&csv, b';', &wanted);
    folder.write("f.csv", as_csv(&rows, b';'));
    let found = run(&[
        "fill",
        path,
        "--from",
        folder.file("f.csv").to_str().unwrap(),
        "--yes",
    ]);
    assert!(found.err.is_empty(), "{}", found.err);
    assert_eq!(judged(&folder), by_editor);
}
