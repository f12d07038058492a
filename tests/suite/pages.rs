//! What stands on the pages of a PDF: their text, and how far down they are filled.

use lopdf::content::Content;
use lopdf::{Document, Object};

use crate::folder::Folder;
use crate::pages_again::{sealed, with_shop};
use crate::samples::names;
use crate::story::story;

/// The text of each page without any white space: what a page says, wherever its
/// lines break.
pub fn texts(pdf: &[u8]) -> Vec<String> {
    let document = Document::load_mem(pdf).unwrap();
    document
        .get_pages()
        .into_keys()
        .map(|page| bare(&document.extract_text(&[page]).unwrap()))
        .collect()
}

/// A text without white space, and without the places where a long word may break.
pub fn bare(text: &str) -> String {
    text.chars()
        .filter(|c| !c.is_whitespace() && *c != '\u{200b}')
        .collect()
}

/// A transformation as PDF writes it (ISO 32000-1, 8.3.4): a b c d e f.
type Matrix = [f32; 6];

fn product(a: Matrix, b: Matrix) -> Matrix {
    [
        a[0] * b[0] + a[1] * b[2],
        a[0] * b[1] + a[1] * b[3],
        a[2] * b[0] + a[3] * b[2],
        a[2] * b[1] + a[3] * b[3],
        a[4] * b[0] + a[5] * b[2] + b[4],
        a[4] * b[1] + a[5] * b[3] + b[5],
    ]
}

/// Where the text and the pictures of each page stand: x and y of each piece as
/// shares of the page, from its top left corner.
pub fn places(pdf: &[u8]) -> Vec<Vec<(f32, f32)>> {
    let document = Document::load_mem(pdf).unwrap();
    document
        .get_pages()
        .into_values()
        .map(|page| {
            let media = document.get_dictionary(page).unwrap();
            let media = media.get(b"MediaBox").unwrap().as_array().unwrap();
            let side = |index: usize| media[index].as_float().unwrap();
            let content = Content::decode(&document.get_page_content(page)).unwrap();
            on_page(&content)
                .into_iter()
                .map(|(x, y)| (x / side(2), 1.0 - y / side(3)))
                .collect()
        })
        .collect()
}

fn on_page(content: &Content) -> Vec<(f32, f32)> {
    let number = |object: &Object| object.as_float().unwrap_or_default();
    let matrix = |operands: &[Object]| -> Matrix {
        let numbers: Vec<f32> = operands.iter().map(number).collect();
        numbers.try_into().unwrap()
    };
    let (mut now, mut text): (Matrix, Matrix) = ([1., 0., 0., 1., 0., 0.], [0.; 6]);
    let mut kept = Vec::new();
    let mut found = Vec::new();
    for operation in &content.operations {
        let operands = &operation.operands;
        match operation.operator.as_str() {
            "q" => kept.push(now),
            "Q" => now = kept.pop().unwrap(),
            "cm" => now = product(matrix(operands), now),
            "Tm" => text = matrix(operands),
            "Td" => {
                let moved = [1., 0., 0., 1., number(&operands[0]), number(&operands[1])];
                text = product(moved, text);
            }
            "Tj" | "TJ" => {
                let at = product(text, now);
                found.push((at[4], at[5]));
            }
            // A picture fills the unit square from its lower left corner.
            "Do" => found.push((now[4], now[5])),
            _ => {}
        }
    }
    found
}

/// How far down each page is filled, as a share of its height; the running foot does
/// not count.
pub fn filled(pdf: &[u8]) -> Vec<f32> {
    const FOOT: f32 = 0.93;
    places(pdf)
        .iter()
        .map(|places| {
            let heights = places.iter().map(|(_, y)| *y).filter(|y| *y < FOOT);
            heights.fold(0.0, f32::max)
        })
        .collect()
}

/// Nothing pushes a required measure off page 1: not the longer language on the shorter paper,
/// nor a headline of four lines.
#[test]
fn every_required_measure_stands_on_page_1() {
    for sample in names() {
        let folder = Folder::copy_of(sample);
        with_shop(
            &folder,
            "language = \"es\"\npaper = \"us-letter\"\nsecond_units = \"us-customary\"",
        );
        sealed(&folder);
        let page_1 = &texts(&story().report_of(&folder.path()))[0];
        let job = folder.read_job().job;
        let required = job
            .plan
            .limits
            .measures
            .iter()
            .filter(|measure| measure.required);
        for measure in required {
            assert!(
                page_1.contains(&bare(&measure.name)),
                "{sample}: {}",
                measure.name
            );
        }
    }
}
