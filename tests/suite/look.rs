//! What can be computed of the look: contrast on white paper.

use std::fs;
use std::path::Path;

/// Relative luminance and contrast by WCAG 2.2 (definitions of "relative
/// luminance" and "contrast ratio").
fn contrast_on_white(hex: &str) -> f64 {
    let channel = |range| {
        let value = f64::from(u8::from_str_radix(&hex[range], 16).unwrap()) / 255.0;
        if value <= 0.040_45 {
            value / 12.92
        } else {
            ((value + 0.055) / 1.055).powf(2.4)
        }
    };
    let luminance = 0.2126 * channel(0..2) + 0.7152 * channel(2..4) + 0.0722 * channel(4..6);
    1.05 / (luminance + 0.05)
}

/// Vectors: black 21; #767676 passes 4.5, #777777 does not (well-known edge of
/// WCAG 1.4.3; values computed with Python).
#[test]
fn the_formula_is_that_of_wcag() {
    assert!((contrast_on_white("000000") - 21.0).abs() < 1e-9);
    assert!((contrast_on_white("767676") - 4.5422).abs() < 1e-4);
    assert!((contrast_on_white("777777") - 4.4781).abs() < 1e-4);
}

#[test]
fn text_and_marks_stand_out_from_paper() {
    let theme = Path::new(env!("CARGO_MANIFEST_DIR")).join("report-templates/theme.typ");
    let theme = fs::read_to_string(theme).unwrap();
    let colour = |name: &str| {
        let start = format!("#let {name} = rgb(\"#");
        let place = theme.find(&start).unwrap() + start.len();
        theme[place..place + 6].to_owned()
    };
    for text in ["ink", "muted", "accent"] {
        let found = contrast_on_white(&colour(text));
        assert!(found >= 4.5, "{text}: {found:.2}");
    }
    for mark in ["before", "accent"] {
        let found = contrast_on_white(&colour(mark));
        assert!(found >= 3.0, "{mark}: {found:.2}");
    }
}
