//! The result on the terminal: the same words and figures as on paper.

use std::fmt::Write;

use anstyle::{Effects, Style};
use comfy_table::{CellAlignment, ContentArrangement, Table, presets};
use textwrap::{Options, WordSeparator, WordSplitter};

use crate::view::{Receipt, Report};

const WIDTH: usize = 80;
const BOLD: Style = Style::new().effects(Effects::BOLD);
const FAINT: Style = Style::new().effects(Effects::DIMMED);

/// A list of jobs: since when, number, machine, state, folder.
pub fn list(rows: impl Iterator<Item = [String; 5]>) -> String {
    let mut table = Table::new();
    table
        .load_style(presets::NOTHING)
        .set_content_arrangement(ContentArrangement::Disabled)
        .set_header(["Since", "Job", "Machine", "State", "Folder"]);
    for row in rows {
        table.add_row(row);
    }
    let lines = table.lines().map(|line| line.trim_end().to_owned() + "\n");
    lines.collect()
}

/// The whole screen.
pub fn text(report: &Report) -> String {
    let front = &report.front;
    let mut out = String::new();
    let mut line = |text: &str, style: Style| {
        for wrapped in textwrap::wrap(text, options()) {
            let _ = writeln!(out, "{style}{wrapped}{style:#}");
        }
    };
    line(&report.sheet.title, FAINT);
    line("", Style::new());
    line(&format!("{}. {}", front.mark, front.says()), BOLD);
    if !front.sealed.is_empty() {
        line(&front.sealed, FAINT);
    }
    if let Some(fingerprint) = &front.fingerprint {
        line(
            &format!("{} {}", fingerprint.label, fingerprint.text),
            FAINT,
        );
    }
    if !front.lead.is_empty() {
        line(&front.lead, Style::new());
    }
    if !front.alert.is_empty() {
        line("", Style::new());
        line(&front.alert, BOLD);
    }
    line("", Style::new());
    if !report.measures.is_empty() {
        out += &measures(report);
    }
    for table in &report.positions {
        out += &heading(&format!("{} · {}", table.name, table.result));
        out += &position_table(report, table);
    }
    if !report.conditions.is_empty() {
        out += &conditions(report);
    }
    out += &seals(report);
    let label = |id: &str| report.sheet.labels[id].as_str();
    out += &listed(label("next"), front.next.iter().map(String::as_str));
    out += &listed(label("reservations"), front.against());
    out
}

/// Sentences under a heading; nothing where there are none.
fn listed<'a>(label: &str, sentences: impl Iterator<Item = &'a str>) -> String {
    let options = options().initial_indent("- ").subsequent_indent("  ");
    let lines = sentences.flat_map(|sentence| textwrap::wrap(sentence, &options));
    let lines: String = lines.map(|line| line.into_owned() + "\n").collect();
    if lines.is_empty() {
        return lines;
    }
    heading(label) + &lines
}

/// The baseline before the work, as the receipt shows it.
pub fn baseline(receipt: &Receipt) -> String {
    let label = |id: &str| receipt.sheet.labels[id].as_str();
    let mut out = String::new();
    for row in &receipt.about {
        for line in textwrap::wrap(
            &format!("{}: {}", row.label, row.text),
            options().subsequent_indent("  "),
        ) {
            let _ = writeln!(out, "{line}");
        }
    }
    out += "\n";
    let head = ["measure", "baseline", "limit", "receipt-today"].map(label);
    let rows = receipt.rows.iter().map(|row| {
        [
            with_requirement(&row.name, &row.required),
            row.figures(),
            row.limit.clone(),
            row.standing.clone(),
        ]
    });
    out += &table(&head, rows);
    out += "\n";
    for sentence in &receipt.agreed {
        for line in textwrap::wrap(sentence, options()) {
            let _ = writeln!(out, "{line}");
        }
    }
    if let Some(seal) = &receipt.seal {
        let _ = writeln!(
            out,
            "\n{}, {}\n  {}",
            seal.stage, seal.when, seal.fingerprint
        );
    }
    out
}

/// Lines break at spaces only: `mm/s` and `12-volt` stay whole.
pub fn options() -> Options<'static> {
    Options::new(WIDTH)
        .word_separator(WordSeparator::AsciiSpace)
        .word_splitter(WordSplitter::NoHyphenation)
}

fn heading(text: &str) -> String {
    let wrapped = textwrap::fill(text, options());
    format!("\n{BOLD}{wrapped}{BOLD:#}\n")
}

/// A name, and behind it whether the verdict depends on it.
fn with_requirement(name: &str, required: &str) -> String {
    if required.is_empty() {
        name.to_owned()
    } else {
        format!("{name}, {required}")
    }
}

fn measures(report: &Report) -> String {
    let label = |id: &str| report.sheet.labels[id].as_str();
    let head = ["measure", "baseline", "retest", "limit", "result"].map(label);
    let rows = report.measures.iter().map(|row| {
        [
            with_requirement(&row.name, &row.required),
            row.baseline.clone(),
            row.retest.clone(),
            row.limit.clone(),
            row.result.clone(),
        ]
    });
    table(&head, rows)
}

fn position_table(report: &Report, found: &crate::view::PositionTable) -> String {
    let label = |id: &str| report.sheet.labels[id].as_str();
    let [baseline, retest, result] = ["baseline", "retest", "result"].map(label);
    let head = [found.position.as_str(), baseline, retest, result];
    let rows = found.rows.iter().map(|row| {
        [
            row.position.clone(),
            row.baseline.clone(),
            row.retest.clone(),
            row.result.clone(),
        ]
    });
    table(&head, rows)
}

fn conditions(report: &Report) -> String {
    let label = |id: &str| report.sheet.labels[id].as_str();
    let head = ["condition", "baseline", "retest", "comparison"].map(label);
    let rows = report.conditions.iter().map(|row| {
        [
            with_requirement(&row.name, &row.required),
            row.baseline.clone(),
            row.retest.clone(),
            row.result.clone(),
        ]
    });
    heading(label("conditions")) + &table(&head, rows)
}

/// When each stage was sealed, and the fingerprints.
fn seals(report: &Report) -> String {
    let mut out = heading(&report.sheet.labels["seals"]);
    if let [none] = &report.evidence[..1]
        && report.seals.is_empty()
    {
        for line in textwrap::wrap(none, options()) {
            let _ = writeln!(out, "{line}");
        }
    }
    for seal in &report.seals {
        let _ = writeln!(out, "{}, {}", seal.stage, seal.when);
        let _ = writeln!(out, "  {}", seal.fingerprint);
        if !seal.amends.is_empty() {
            let indented = options().initial_indent("  ").subsequent_indent("  ");
            for line in textwrap::wrap(&seal.amends, indented) {
                let _ = writeln!(out, "{line}");
            }
        }
    }
    out
}

/// A table of plain columns, the second and third set right.
fn table<const N: usize>(head: &[&str; N], rows: impl Iterator<Item = [String; N]>) -> String {
    let mut table = Table::new();
    table
        .load_style(presets::NOTHING)
        .set_content_arrangement(ContentArrangement::Dynamic)
        .set_width(WIDTH as u16)
        .set_header(head.iter().map(|text| (*text).to_owned()));
    for row in rows {
        table.add_row(row);
    }
    for index in [1, 2] {
        if let Some(column) = table.column_mut(index) {
            column.set_cell_alignment(CellAlignment::Right);
        }
    }
    let text = table.to_string();
    let mut lines = text.lines().map(str::trim_end);
    let mut out = String::new();
    if let Some(first) = lines.next() {
        let _ = writeln!(out, "{FAINT}{first}{FAINT:#}");
    }
    for line in lines {
        let _ = writeln!(out, "{line}");
    }
    out
}
