//! The look: what can be computed of it, and what a shop may change.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

use image::{ImageFormat, Rgba, RgbaImage};
use lopdf::{Document, Object};
use retestify::job::Accent;

use crate::folder::{Folder, Run, run};
use crate::pages;

/// Relative luminance by WCAG 2.2, of channels from 0 to 255.
fn luminance(channels: [f64; 3]) -> f64 {
    let linear = |channel: f64| {
        let value = channel / 255.0;
        if value <= 0.040_45 {
            value / 12.92
        } else {
            ((value + 0.055) / 1.055).powf(2.4)
        }
    };
    let [red, green, blue] = channels.map(linear);
    0.2126 * red + 0.7152 * green + 0.0722 * blue
}

/// Contrast ratio by WCAG 2.2 of a darker against a lighter colour.
fn contrast(dark: [f64; 3], light: [f64; 3]) -> f64 {
    (luminance(light) + 0.05) / (luminance(dark) + 0.05)
}

fn channels(hex: &str) -> [f64; 3] {
    [0..2, 2..4, 4..6].map(|range| f64::from(u8::from_str_radix(&hex[range], 16).unwrap()))
}

fn contrast_on_white(hex: &str) -> f64 {
    contrast(channels(hex), [255.0; 3])
}

/// Black on white has 21:1 by definition (WCAG 2.2, "contrast ratio"); #767676 is the
/// palest grey that passes 4.5:1 and #949494 the palest that passes 3:1, as is well known.
/// The other figures were computed with R.
#[test]
fn the_formula_is_that_of_wcag() {
    assert!((contrast_on_white("000000") - 21.0).abs() < 1e-9);
    assert!((contrast_on_white("767676") - 4.5422).abs() < 1e-4);
    assert!((contrast_on_white("777777") - 4.4781).abs() < 1e-4);
    assert!((contrast_on_white("949494") - 3.0335).abs() < 1e-4);
    assert!((contrast_on_white("959595") - 2.9953).abs() < 1e-4);
    assert!((contrast_on_white("ff0000") - 3.9985).abs() < 1e-4);
    assert!((contrast_on_white("008000") - 5.1374).abs() < 1e-4);
    assert!((contrast_on_white("0000ff") - 8.5925).abs() < 1e-4);
}

/// The colours that theme.typ names, with white.
fn colours() -> BTreeMap<String, [f64; 3]> {
    let theme = theme();
    let named = theme.lines().filter_map(|line| {
        let (name, rest) = line.strip_prefix("#let ")?.split_once(" = rgb(\"#")?;
        Some((name.to_owned(), channels(&rest[..6])))
    });
    named.chain([("white".to_owned(), [255.0; 3])]).collect()
}

/// The ground that theme.typ makes of a shop's own accent: so many parts of it, the
/// others white.
fn own_shade(accent: [f64; 3]) -> [f64; 3] {
    let theme = theme();
    let share = theme.split("((own, ").nth(1).unwrap();
    let share: f64 = share[..share.find('%').unwrap()].parse().unwrap();
    accent.map(|channel| (share * channel + (100.0 - share) * 255.0) / 100.0)
}

/// The name of a colour that `arguments` give after `key`.
fn named_after(arguments: &str, key: &str) -> Vec<String> {
    let names = arguments.split(key).skip(1).map(|rest| {
        let end = rest.find(|c: char| !c.is_ascii_alphabetic());
        rest[..end.unwrap_or(rest.len())].to_owned()
    });
    names.filter(|name| !name.is_empty()).collect()
}

/// The arguments of each call of `function`, without those of calls among them.
fn arguments(template: &str, function: &str) -> Vec<String> {
    let calls = template.match_indices(function).map(|(place, _)| {
        let mut depth = 1;
        let rest = template[place + function.len()..].chars();
        rest.map_while(|c| {
            depth += i32::from(c == '(') - i32::from(c == ')');
            (depth > 0).then_some(if depth == 1 { c } else { ' ' })
        })
        .collect()
    });
    calls.collect()
}

/// What the templates set text in, and what they draw with: names of colours, read from
/// the templates themselves.
fn used(file: &str) -> (BTreeSet<String>, BTreeSet<String>) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("report-templates");
    let template = fs::read_to_string(path.join(file)).unwrap();
    let of = |functions: &[&str], key: &str| -> BTreeSet<String> {
        let calls = functions.iter().flat_map(|name| arguments(&template, name));
        calls.flat_map(|call| named_after(&call, key)).collect()
    };
    let text = of(&["text("], "fill: ");
    let mut drawn = of(&["circle(", "rect("], "fill: ");
    drawn.extend(named_after(&template, "pt + "));
    (text, drawn)
}

fn templates() -> Vec<String> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("report-templates");
    let names = fs::read_dir(path).unwrap();
    let names = names.map(|entry| entry.unwrap().file_name().into_string().unwrap());
    names.filter(|name| name.ends_with(".typ")).collect()
}

/// WCAG 2.2, 1.4.3: 4.5:1 for text; 1.4.11: 3:1 for what is drawn and says something.
#[test]
fn text_and_marks_stand_out_from_their_ground() {
    let colours = colours();
    let mut seen = 0;
    for file in templates() {
        let (text, drawn) = used(&file);
        // The fingerprint of a receipt stands on the shade, and charts shade a limit.
        let grounds: &[&str] = match file.as_str() {
            "receipt.typ" | "charts.typ" => &["white", "shade"],
            _ => &["white"],
        };
        for ground in grounds {
            for name in &text {
                let found = contrast(colours[name], colours[*ground]);
                assert!(
                    found >= 4.5,
                    "{file}: text in {name} on {ground}: {found:.2}"
                );
                seen += 1;
            }
            // Lines of a grid and the shade itself say nothing alone; white is a hole.
            let says_nothing = ["hairline", "shade", "white", "paint", "fill"];
            for name in drawn
                .iter()
                .filter(|name| !says_nothing.contains(&name.as_str()))
            {
                let found = contrast(colours[name], colours[*ground]);
                assert!(found >= 3.0, "{file}: {name} on {ground}: {found:.2}");
                seen += 1;
            }
        }
    }
    assert!(seen > 30, "only {seen} uses of a colour were found");
}

/// Colours stand in theme.typ, and nowhere else.
#[test]
fn no_template_has_a_colour_of_its_own() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("report-templates");
    for file in templates().iter().filter(|name| *name != "theme.typ") {
        let text = fs::read_to_string(path.join(file)).unwrap();
        for call in [
            "rgb(",
            "luma(",
            "cmyk(",
            "oklch(",
            "color.",
            ".lighten(",
            ".darken(",
        ] {
            assert!(!text.contains(call), "{file} has `{call}`");
        }
    }
}

/// A shop's accent makes its own shade. The palest accents that are taken, in 48 hues,
/// can be read on white, and their marks and the text beside them on that shade.
#[test]
fn a_shops_own_accent_stands_out_from_its_shade() {
    let taken = |[red, green, blue]: [f64; 3]| {
        let [red, green, blue] = [red, green, blue].map(|channel| channel.round() as u8);
        Accent::new(&format!("#{red:02x}{green:02x}{blue:02x}")).is_ok()
    };
    let (text_on_shade, _) = used("receipt.typ");
    for step in 0..48 {
        let hue = f64::from(step) / 8.0;
        let channel = |shift: f64| {
            let distance = ((hue - shift).rem_euclid(6.0) - 3.0).abs();
            255.0 * (distance - 1.0).clamp(0.0, 1.0)
        };
        let full = [channel(0.0), channel(2.0), channel(4.0)];
        // From the paler to the darker: white, the full hue, black.
        let paler = (0..=255).map(|part| {
            full.map(|channel| channel + (255.0 - channel) * f64::from(255 - part) / 255.0)
        });
        let darker =
            (0..=255).map(|part| full.map(|channel| channel * f64::from(255 - part) / 255.0));
        let accent = paler.chain(darker).find(|colour| taken(*colour)).unwrap();
        let accent = accent.map(f64::round);
        let white = contrast(accent, [255.0; 3]);
        assert!((4.5..4.8).contains(&white), "{accent:?}: {white:.2}");
        let shade = own_shade(accent);
        let mark = contrast(accent, shade);
        assert!(mark >= 3.0, "{accent:?} on its shade: {mark:.2}");
        for name in &text_on_shade {
            let colour = if name == "accent" {
                accent
            } else {
                colours()[name]
            };
            let found = contrast(colour, shade);
            assert!(
                found >= 4.5,
                "{name} on the shade of {accent:?}: {found:.2}"
            );
        }
    }
}

fn report(folder: &Folder, more: &[&str]) -> Run {
    let path = folder.path();
    let mut args = vec!["report", path.to_str().unwrap(), "--replace"];
    args.extend(more);
    run(&args)
}

fn pdf(folder: &Folder, more: &[&str]) -> Vec<u8> {
    let made = report(folder, more);
    assert_eq!(made.code, 0, "{}", made.err);
    fs::read(folder.file("report.pdf")).unwrap()
}

fn with_shop(key: &str) -> Folder {
    let folder = Folder::copy_of("ferry-auxiliary");
    folder.write("shop.toml", folder.read("shop.toml") + key + "\n");
    folder
}

fn logo(width: u32, height: u32) -> Vec<u8> {
    let picture = RgbaImage::from_fn(width, height, |x, y| Rgba([20, x as u8, y as u8, 200]));
    let mut png = std::io::Cursor::new(Vec::new());
    picture.write_to(&mut png, ImageFormat::Png).unwrap();
    png.into_inner()
}

/// The alternative texts of a PDF.
fn alternatives(pdf: &[u8]) -> Vec<String> {
    let document = Document::load_mem(pdf).unwrap();
    document
        .objects
        .values()
        .filter_map(|object| object.as_dict().ok()?.get(b"Alt").ok())
        .map(|alt| lopdf::decode_text_string(alt).unwrap())
        .collect()
}

#[test]
fn a_logo_is_shown_and_read_as_the_shops_name() {
    let folder = with_shop("logo = \"logo.png\"");
    folder.write("logo.png", logo(900, 300));
    let pdf = pdf(&folder, &[]);
    assert!(alternatives(&pdf).contains(&"Tamsin Orrell Engine Bench".to_owned()));
    let document = Document::load_mem(&pdf).unwrap();
    let widths: Vec<i64> = document
        .objects
        .values()
        .filter_map(|object| object.as_stream().ok())
        .filter(|stream| {
            let kind = stream.dict.get(b"Subtype");
            kind.is_ok_and(|kind| kind.as_name().is_ok_and(|name| name == b"Image"))
        })
        .filter_map(|stream| stream.dict.get(b"Width").and_then(Object::as_i64).ok())
        .collect();
    assert_eq!(widths, [720]);
}

/// The shop.toml that serves all jobs stands above them, and its logo beside it.
#[test]
fn a_logo_stands_beside_the_shops_file() {
    let folder = with_shop("logo = \"logo.png\"");
    let above = folder.path().parent().unwrap().to_path_buf();
    fs::rename(folder.file("shop.toml"), above.join("shop.toml")).unwrap();
    fs::write(above.join("logo.png"), logo(90, 30)).unwrap();
    pdf(&folder, &[]);
}

#[test]
fn a_logo_that_cannot_be_shown() {
    let spoiled = |name: &str, bytes: Option<Vec<u8>>, message: &str, hint: &str| {
        let folder = with_shop(&format!("logo = \"{name}\""));
        if let Some(bytes) = bytes {
            folder.write(name, bytes);
        }
        let line = folder.line("shop.toml", "logo =");
        let made = report(&folder, &[]);
        assert_eq!(made.code, 2, "{}", made.err);
        for part in [&format!("shop.toml:{line}:"), message, hint] {
            assert!(made.err.contains(part), "`{part}` in {}", made.err);
        }
        assert!(!folder.listing().contains(&"report.pdf".to_owned()));
    };
    spoiled(
        "logo.png",
        None,
        "the file is missing",
        "in the folder of shop.toml",
    );
    spoiled(
        "logo.png",
        Some(vec![0; 5 << 20]),
        "larger than 4 MiB",
        "save a smaller copy",
    );
    spoiled(
        "logo.svg",
        Some(b"<svg/>".to_vec()),
        "is neither a JPEG nor a PNG",
        "export it as JPEG",
    );
    spoiled("../logo.png", None, "leads out", "");
}

#[test]
fn an_accent_colours_the_pages() {
    let plain = pdf(&Folder::copy_of("ferry-auxiliary"), &[]);
    let own = pdf(&with_shop("accent = \"#7A1F3D\""), &[]);
    let sets = |pdf: &[u8], colour: [u8; 3]| {
        let document = Document::load_mem(pdf).unwrap();
        let page = document.get_pages()[&1];
        let content = lopdf::content::Content::decode(&document.get_page_content(page)).unwrap();
        content.operations.iter().any(|operation| {
            let set: Vec<u8> = operation
                .operands
                .iter()
                .filter_map(|operand| operand.as_float().ok())
                .map(|share| (share * 255.0).round() as u8)
                .collect();
            matches!(operation.operator.as_str(), "sc" | "scn" | "rg") && set == colour
        })
    };
    assert!(sets(&plain, [0x27, 0x4b, 0x6d]));
    assert!(sets(&own, [0x7a, 0x1f, 0x3d]));
    assert!(!sets(&own, [0x27, 0x4b, 0x6d]));
}

/// #777777 has 4.48:1 against white.
#[test]
fn an_accent_that_cannot_be_read_is_refused_with_its_contrast() {
    for (accent, message, hint) in [
        (
            "#777777",
            "its contrast is 4.48:1",
            "choose a darker colour",
        ),
        ("blue", "`blue` is not a colour", "such as `#274b6d`"),
    ] {
        let folder = with_shop(&format!("accent = \"{accent}\""));
        let line = folder.line("shop.toml", "accent =");
        let made = folder.check();
        assert_eq!(made.code, 2);
        for part in [&format!("shop.toml:{line}:"), message, hint] {
            assert!(made.err.contains(part), "`{part}` in {}", made.err);
        }
    }
}

fn theme() -> String {
    fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("report-templates/theme.typ"))
        .unwrap()
}

#[test]
fn a_shop_may_set_its_own_template() {
    let folder = Folder::copy_of("ferry-auxiliary");
    let own = folder.file("own");
    fs::create_dir(&own).unwrap();
    fs::write(own.join("README.txt"), "not a template").unwrap();
    fs::write(own.join("theme.typ"), theme().replace("#1b222c", "#000000")).unwrap();
    let plain = pdf(&folder, &[]);
    let set = pdf(&folder, &["--template", own.to_str().unwrap()]);
    assert!(plain != set);
}

#[test]
fn an_error_in_a_shops_own_template_is_its_own() {
    let folder = Folder::copy_of("ferry-auxiliary");
    let own = folder.file("own");
    fs::create_dir(&own).unwrap();
    let refused = |parts: &[&str]| {
        let made = report(&folder, &["--template", own.to_str().unwrap()]);
        assert_eq!(made.code, 2, "{}", made.err);
        let text = made.err.split_whitespace().collect::<Vec<_>>().join(" ");
        for part in parts {
            assert!(text.contains(part), "`{part}` in {text}");
        }
        assert!(!text.contains("a fault of the program"), "{text}");
        assert!(!folder.listing().contains(&"report.pdf".to_owned()));
    };
    refused(&["has no template file in it", "theme.typ"]);
    let wrong = theme().replace(
        "#let muted = rgb(\"#535c68\")",
        "#let muted = grb(\"#535c68\")",
    );
    let line = wrong.lines().position(|line| line.contains("grb")).unwrap() + 1;
    fs::write(own.join("theme.typ"), wrong).unwrap();
    refused(&[
        &format!("theme.typ:{line}: unknown variable: grb"),
        "correct that line",
    ]);
    // What the built-in files need is missing: the error is in one of them.
    fs::write(
        own.join("theme.typ"),
        theme().replace("#let before", "#let befor"),
    )
    .unwrap();
    refused(&["unknown variable: before", "must define everything"]);
    fs::write(own.join("theme.typ"), [0xFF, 0xFE]).unwrap();
    refused(&["is not UTF-8 text"]);
    fs::remove_file(own.join("theme.typ")).unwrap();
    fs::write(own.join("thme.typ"), "").unwrap();
    refused(&["thme.typ replaces no file of the template", "theme.typ"]);
    fs::remove_file(own.join("thme.typ")).unwrap();
    fs::write(own.join("main.typ"), "").unwrap();
    refused(&["main.typ cannot be replaced", "report.typ"]);
    fs::remove_dir_all(&own).unwrap();
    refused(&["there is no folder"]);
}

/// Whoever cannot see a drawing hears its figures: expected by hand from the files of
/// the ferry's auxiliary.
#[test]
fn every_drawing_says_its_figures() {
    let alternatives = alternatives(&pdf(&Folder::copy_of("ferry-auxiliary"), &[]));
    let says = |parts: &[&str]| {
        alternatives
            .iter()
            .any(|alt| parts.iter().all(|part| alt.contains(part)))
    };
    assert!(
        says(&[
            "Crank time to running: before 9.6\u{a0}±\u{a0}0.2\u{a0}s",
            "limit at most 4.0\u{a0}s"
        ]),
        "{alternatives:?}"
    );
    assert!(
        says(&[
            "before and after; limit at least 2 pass. cylinder 1: 2 of 2, then 2 of 2; \
               cylinder 2: 0 of 2, then 2 of 2; cylinder 3: 1 of 2, then 2 of 2."
        ]),
        "{alternatives:?}"
    );
}

/// A shop says one thing in its own words, on every document.
#[test]
fn a_shops_own_words_take_the_place_of_some() {
    let folder = Folder::copy_of("frost-fan");
    let own = tempfile::tempdir().unwrap();
    let words = "# ours\nmark-verified = Shown to hold\nlabel-receipt-fingerprint = Our seal\n";
    fs::write(own.path().join("en.ftl"), words).unwrap();
    let template = own.path().to_str().unwrap();
    let path = folder.path();
    let path = path.to_str().unwrap();
    for command in [&["seal", "baseline", path][..], &["report", path]] {
        let made = run(&[command, &["--template", template]].concat());
        assert_eq!(made.code, 0, "{}", made.err);
    }
    let text = |name| pages::texts(&fs::read(folder.file(name)).unwrap()).concat();
    assert!(text("report.pdf").contains("Showntohold"));
    assert!(text("receipt.pdf").contains("Ourseal"));
}

#[test]
fn own_words_that_cannot_be_used_name_file_and_line() {
    let folder = Folder::copy_of("frost-fan");
    let own = tempfile::tempdir().unwrap();
    let template = own.path().to_str().unwrap();
    for (words, message) in [
        (
            "label-page = P\nmark-verifid = X\n",
            "line 2: the program has no message `mark-verifid`",
        ),
        (
            "call = Ring { $number }\n",
            "line 1: `call` has no variable `$number`",
        ),
        ("call\n", "line 1: this is not valid Fluent"),
        (
            "limit-at-most = a limit\n",
            "line 1: `limit-at-most` must contain `$max`",
        ),
        (
            "label-of = o\nlabel-of = p\n",
            "line 2: `label-of` is here a second time",
        ),
    ] {
        fs::write(own.path().join("en.ftl"), words).unwrap();
        let made = report(&folder, &["--template", template]);
        assert_eq!(made.code, 2, "{}", made.err);
        for part in ["en.ftl", message, "with its variables"] {
            assert!(made.err.contains(part), "`{part}` in {}", made.err);
        }
        assert!(!folder.listing().contains(&"report.pdf".to_owned()));
    }
}

/// Spanish pages have Spanish figures and dates, and the other units where there are some.
#[test]
fn a_page_in_another_language_and_with_other_units() {
    let folder = with_shop("language = \"es\"\nsecond_units = \"us-customary\"");
    let text = pages::texts(&pdf(&folder, &[])).concat();
    // 9.6 s before; 4.6 °C are 40.3 °F.
    for part in ["9,6s", "3demarzode2026", "(40,3°F)", "Lapruebafinal"] {
        assert!(text.contains(part), "`{part}` in {text}");
    }
    let document = Document::load_mem(&fs::read(folder.file("report.pdf")).unwrap()).unwrap();
    let language = document.catalog().unwrap().get(b"Lang").unwrap();
    assert_eq!(lopdf::decode_text_string(language).unwrap(), "es");
}
