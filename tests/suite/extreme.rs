//! Jobs at the edges of what a folder may hold: one cylinder and twenty-four, sixty
//! measures, forty photos, a complaint of two pages, the longest names, nothing but
//! words. Whatever a job is, its report says everything, and keeps its pages full.

use std::fmt::Write;
use std::fs;

use image::{ImageFormat, RgbImage};
use retestify::seals::Sealing;
use retestify::view::{LANGUAGES, Material, PictureFile, Words};
use retestify::{judge, view};
use serde_json::Value;

use crate::folder::{Folder, run};
use crate::pages;

/// How a job goes to extremes.
#[derive(Clone, Copy)]
pub struct Extreme {
    /// Cylinders; measures by cylinder are added to the others.
    pub cylinders: usize,
    /// Measures with a value, or in words.
    pub measures: usize,
    /// Whether the measures are in words only.
    pub words_only: bool,
    /// Photos, half of them in pairs.
    pub photos: usize,
    /// Lines of the complaint, and of each reading in words.
    pub complaint: usize,
    /// Letters of every name.
    pub letters: usize,
    /// Whether the cost is told.
    pub cost: bool,
}

/// A plain job, to be changed in one place.
pub const PLAIN: Extreme = Extreme {
    cylinders: 0,
    measures: 4,
    words_only: false,
    photos: 0,
    complaint: 2,
    letters: 12,
    cost: true,
};

impl Extreme {
    /// The job's folder.
    pub fn folder(&self) -> Folder {
        let mut files = vec![
            ("shop.toml".to_owned(), self.shop().into_bytes()),
            ("job.toml".to_owned(), self.job().into_bytes()),
            ("limits.toml".to_owned(), self.limits().into_bytes()),
            ("baseline.toml".to_owned(), self.run(0).into_bytes()),
            ("work.toml".to_owned(), self.work().into_bytes()),
            ("retest.toml".to_owned(), self.run(1).into_bytes()),
        ];
        for number in 0..self.photos {
            let shade = (number * 6) as u8;
            let picture =
                RgbImage::from_fn(320, 240, |x, y| image::Rgb([shade, (x / 2) as u8, y as u8]));
            let mut jpeg = std::io::Cursor::new(Vec::new());
            picture.write_to(&mut jpeg, ImageFormat::Jpeg).unwrap();
            files.push((format!("photos/{number}.jpg"), jpeg.into_inner()));
        }
        Folder::of(&files)
    }

    /// A name of so many letters, in words.
    fn name(&self, start: &str) -> String {
        let filler = " of the northern breakwater pumping station and its two standby sets";
        let long: String = format!("{start}{}", filler.repeat(2));
        long.chars().take(self.letters.max(start.len())).collect()
    }

    fn shop(&self) -> String {
        format!(
            "format = 1\nname = \"{}\"\nphone = \"555 0100\"\n",
            self.name("Shop")
        )
    }

    fn job(&self) -> String {
        let complaint: String = (1..=self.complaint)
            .map(|line| {
                format!("{line}. It stops when it is cold, and starts again when it likes. ")
            })
            .collect();
        let cylinders = match self.cylinders {
            0 => String::new(),
            cylinders => format!("cylinders = {cylinders}\n"),
        };
        format!(
            "format = 1\njob = \"X-1\"\ncomplaint = \"{complaint}\"\n[customer]\nname = \"{}\"\n\
             [machine]\nname = \"{}\"\nmaker = \"{}\"\n{cylinders}\n[[instrument]]\nid = \"gauge\"\n\
             kind = \"{}\"\nunit = \"kPa\"\naccuracy = 0.7\nresolution = 0.1\n\n\
             [[instrument]]\nid = \"probe\"\nkind = \"Probe\"\nunit = \"K\"\naccuracy = 0.5\n",
            self.name("Customer"),
            self.name("Machine"),
            self.name("Maker"),
            self.name("Gauge"),
        )
    }

    fn limits(&self) -> String {
        let mut text = "format = 1\n".to_owned();
        for number in 0..self.measures {
            let name = self.name(&format!("Measure {number}"));
            let _ = if self.words_only {
                write!(
                    text,
                    "[[measure]]\nid = \"m{number}\"\nname = \"{name}\"\nkind = \"text\"\n"
                )
            } else {
                write!(
                    text,
                    "[[measure]]\nid = \"m{number}\"\nname = \"{name}\"\nkind = \"value\"\n\
                     unit = \"kPa\"\nmax = {}.5\nrequired = {}\nsource = \"Manual, section {number}\"\n\
                     method = \"At idle, warm, {number} minutes after the start\"\n\
                     cannot_tell = [\"Test {number} cannot tell one leak from another.\"]\n\
                     hazards = [\"exhaust\", \"heat\"]\n",
                    700 + number,
                    number % 3 == 0,
                )
            };
        }
        if self.cylinders > 0 {
            text += "[[measure]]\nid = \"compression\"\nname = \"Compression\"\nkind = \"value\"\nat = \"cylinders\"\n\
                     unit = \"kPa\"\nmin = 1500\nrequired = true\nsource = \"Manual\"\n\
                     [[measure]]\nid = \"fires\"\nname = \"Fires at once\"\n\
                     kind = \"passes\"\nat = \"cylinders\"\nmin_passes = 2\nsource = \"Manual\"\n";
        }
        text + "[[condition]]\nid = \"ambient\"\nname = \"Ambient temperature\"\nunit = \"°C\"\n\
                window = 3\nharder = \"lower\"\nrequired = true\n\
                [[condition]]\nid = \"fuel\"\nname = \"Fuel\"\n"
    }

    /// Baseline (0) or retest (1).
    fn run(&self, which: usize) -> String {
        let (day, gain) = ([3, 9][which], which as f64);
        let mut text = format!(
            "format = 1\nstarted = 2026-03-0{day}T06:30:00+00:00\nby = \"{}\"\n\
             witness = [\"{}\"]\n[condition]\n\
             ambient = {{ value = {}.5, unit = \"°C\", instrument = \"probe\" }}\n\
             fuel = {{ text = \"winter diesel\" }}\n",
            self.name("Technician"),
            self.name("Witness"),
            4 - which,
        );
        for number in 0..self.measures {
            let _ = if self.words_only {
                let more = " and the rest is as it was".repeat(self.complaint);
                write!(
                    text,
                    "[reading.m{number}]\ntext = \"Word {number} of run {which}{more}\"\n"
                )
            } else {
                let value = 912.3 + 1.7 * number as f64 - gain * (300.0 + number as f64);
                write!(
                    text,
                    "[reading.m{number}]\nvalue = {value:.1}\nunit = \"kPa\"\ninstrument = \"gauge\"\n"
                )
            };
        }
        if self.cylinders > 0 {
            let rows = |row: &dyn Fn(usize) -> String| -> String {
                (1..=self.cylinders)
                    .map(|number| format!("  {{ at = {number}, {} }},\n", row(number)))
                    .collect()
            };
            let _ = write!(
                text,
                "[reading.compression]\nunit = \"kPa\"\ninstrument = \"gauge\"\nrows = [\n{}]\n\
                 [reading.fires]\nrows = [\n{}]\n",
                rows(&|number| {
                    format!(
                        "value = {:.1}",
                        1400.3 + 11.0 * number as f64 + gain * 350.0
                    )
                }),
                rows(&|number| format!(
                    "passes = {}, attempts = 2",
                    2 - (number % 2) * (1 - which)
                )),
            );
        }
        for number in (which..self.photos).step_by(2) {
            let pair = match number / 2 {
                half if half % 2 == 0 && number + 1 - which < self.photos => {
                    format!("pair = \"p{half}\"\n")
                }
                _ => String::new(),
            };
            let _ = write!(
                text,
                "[[photo]]\nfile = \"photos/{number}.jpg\"\ncaption = \"Photo number {number}\"\n{pair}"
            );
        }
        text
    }

    fn work(&self) -> String {
        let cost = if self.cost {
            "[cost]\ncurrency = \"EUR\"\ntotal = 412.50\n"
        } else {
            ""
        };
        format!(
            "format = 1\nstarted = 2026-03-04T08:00:00+00:00\nfinished = 2026-03-04T15:00:00+00:00\n\
             by = \"{}\"\n{cost}[[intervention]]\nwhat = \"{}\"\n",
            self.name("Technician"),
            self.name("Return line renewed"),
        )
    }
}

/// The pages of a report hold everything that the report says.
#[track_caller]
fn says_everything(extreme: &Extreme) {
    for (language, _) in LANGUAGES {
        says_everything_in(language, extreme);
    }
}

#[track_caller]
fn says_everything_in(language: &str, extreme: &Extreme) {
    let folder = extreme.folder();
    let shop = folder.read("shop.toml");
    folder.write("shop.toml", format!("{shop}language = \"{language}\"\n"));
    let path = folder.path();
    for command in [&["worksheet"][..], &["report"], &["seal", "baseline"]] {
        let mut args = command.to_vec();
        args.push(path.to_str().unwrap());
        let made = run(&args);
        assert_eq!(made.code, 0, "{}", made.err);
    }
    let pdf = fs::read(folder.file("report.pdf")).unwrap();
    let receipt = fs::read(folder.file("receipt.pdf")).unwrap();
    let sheet = fs::read(folder.file("worksheet.pdf")).unwrap();
    if let Some(keep) = std::env::var_os("KEEP_PAGES") {
        for (kind, bytes) in [
            ("report", &pdf),
            ("receipt", &receipt),
            ("worksheet", &sheet),
        ] {
            let name = format!(
                "c{}-m{}{}-p{}-w{}-l{}-{language}-{kind}.pdf",
                extreme.cylinders,
                extreme.measures,
                if extreme.words_only { "w" } else { "" },
                extreme.photos,
                extreme.complaint,
                extreme.letters
            );
            fs::write(std::path::Path::new(&keep).join(name), bytes).unwrap();
        }
    }
    let sides = pages::texts(&receipt).len();
    assert!(
        sides == 2 || extreme.measures > 20,
        "a receipt of {sides} sides"
    );
    let texts = pages::texts(&pdf);
    let data = report_data(&folder, language);
    let bare = |value: &Value| pages::bare(value.as_str().unwrap());
    assert!(
        texts[0].contains(&bare(&data["front"]["signers"][0])),
        "the front is one page"
    );
    assert!(
        texts[1].starts_with(&bare(&data["labels"]["about"])),
        "the front is one page"
    );
    let all = without_feet(&texts, &data);
    let mut said = Vec::new();
    strings(&data, &mut said);
    assert!(said.len() > 60);
    for text in said {
        assert!(is_said(&pages::bare(&text), &all), "`{text}` is on no page");
    }
    // Sections follow one another, so only what does not part may leave room.
    let filled = pages::filled(&pdf);
    let last = filled.len() - 1;
    for (page, share) in filled.iter().enumerate() {
        let least = if page == last { 0.12 } else { 0.55 };
        assert!(*share > least, "page {} is filled to {share:.2}", page + 1);
    }
    // Nothing stands in the margins: 20 mm of 210 at the sides are kept free.
    for (page, places) in pages::places(&pdf).iter().enumerate() {
        for (x, y) in places {
            assert!(
                (0.09..0.92).contains(x) && (0.03..0.99).contains(y),
                "page {}: {x:.2}, {y:.2}",
                page + 1
            );
        }
    }
}

/// Whether `all` says `text`: in one piece, or, where it is so long that a cell goes on
/// over the page, in pieces of which few are parted.
fn is_said(text: &str, all: &str) -> bool {
    let letters: Vec<char> = text.chars().collect();
    let pieces = letters.chunks(40).map(String::from_iter);
    let parted = pieces.filter(|piece: &String| !all.contains(piece)).count();
    all.contains(text) || (letters.len() > 800 && parted <= 3)
}

/// The texts of the pages in one, without the running feet: paragraphs go on from
/// page to page.
fn without_feet(texts: &[String], data: &Value) -> String {
    let foot = data["foot"].as_str().unwrap();
    let label = |id: &str| pages::bare(data["labels"][id].as_str().unwrap());
    let last = texts.len();
    let bare = |(index, text): (usize, &String)| {
        let page = format!("{}{}{}{last}", label("page"), index + 1, label("of"));
        let end = if index + 1 == last {
            format!("{}·", label("end"))
        } else {
            String::new()
        };
        let foot = format!("{}{end}{page}", pages::bare(foot));
        assert!(text.contains(&foot), "`{foot}` in {text}");
        text.replace(&foot, "")
    };
    let body: String = texts.iter().enumerate().map(bare).collect();
    body + &pages::bare(foot)
}

/// What the template gets for the job.
fn report_data(folder: &Folder, language: &str) -> Value {
    let found = folder.read_job();
    let judgement = judge::judge(&found.job);
    let material = Material {
        job: &found.job,
        shop: &found.shop,
        judgement: &judgement,
        inputs: Vec::new(),
        pictures: found
            .pictures
            .iter()
            .map(|picture| PictureFile {
                file: picture.file.clone(),
                path: picture.file.clone(),
                aspect: 1.3,
            })
            .collect(),
        logo: None,
        issued: "2026-11-25T12:00:00+00:00".parse().unwrap(),
        sealing: Sealing::default(),
        signer: None,
    };
    serde_json::to_value(view::report(&material, &Words::of(language, &[]).unwrap())).unwrap()
}

/// Every string that is to be read on a page: not the fixed words, of which a page
/// sets those it needs, nor the names of marks, files and papers.
fn strings(value: &Value, found: &mut Vec<String>) {
    const NOT_READ: [&str; 8] = [
        "labels", "language", "paper", "title", "mark", "verdict", "path", "alt",
    ];
    // Of a figure that found no room on page 1, the pages behind have the figures with ±.
    const IN_OTHER_WORDS: [&str; 7] = [
        "drawing",
        "more",
        "on_screen",
        "part",
        "at",
        "before",
        "after",
    ];
    match value {
        Value::String(text) => found.push(text.clone()),
        Value::Array(list) => list.iter().for_each(|value| strings(value, found)),
        Value::Object(map) => {
            for (key, value) in map {
                // The bars' figures stand in the table below them.
                let key = key.as_str();
                if !NOT_READ.contains(&key) && !IN_OTHER_WORDS.contains(&key) && key != "chart" {
                    strings(value, found);
                }
            }
        }
        _ => {}
    }
}

#[test]
fn one_cylinder() {
    says_everything(&Extreme {
        cylinders: 1,
        ..PLAIN
    });
}

#[test]
fn twenty_four_cylinders() {
    says_everything(&Extreme {
        cylinders: 24,
        ..PLAIN
    });
}

#[test]
fn sixty_measures() {
    says_everything(&Extreme {
        measures: 60,
        ..PLAIN
    });
}

#[test]
fn forty_photos() {
    says_everything(&Extreme {
        photos: 40,
        ..PLAIN
    });
}

#[test]
fn a_complaint_of_two_pages() {
    says_everything(&Extreme {
        complaint: 110,
        ..PLAIN
    });
}

#[test]
fn names_of_eighty_letters() {
    says_everything(&Extreme {
        letters: 80,
        cylinders: 4,
        ..PLAIN
    });
}

/// Readings in words may be as long as a page: their table has to break.
#[test]
fn long_readings_in_words() {
    says_everything(&Extreme {
        words_only: true,
        complaint: 70,
        ..PLAIN
    });
}

#[test]
fn nothing_but_words_no_photos_no_cost() {
    let extreme = Extreme {
        words_only: true,
        cost: false,
        ..PLAIN
    };
    says_everything(&extreme);
    let told = extreme.folder().check();
    assert_eq!(told.code, 3, "{}", told.err);
    assert!(!told.out.contains("settle it"), "{}", told.out);
}
