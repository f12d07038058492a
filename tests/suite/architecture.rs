//! The rooms and the arrows between them.

use std::fs;
use std::path::{Path, PathBuf};

/// The rooms in the order of the pipeline. A room may use the rooms before it.
const ROOMS: [&str; 15] = [
    "quantity",
    "job",
    "files",
    "intake",
    "judge",
    "result",
    "seals",
    "view",
    "render",
    "signature",
    "verification",
    "document",
    "page",
    "fill",
    "cli",
];

/// Rooms that must not use even what stands before them.
const WALLS: [(&str, &[&str]); 8] = [
    ("job", &["files"]),
    ("files", &["quantity", "job"]),
    ("judge", &["files", "intake"]),
    ("view", &["files", "intake"]),
    ("render", &["quantity", "job", "files", "intake", "judge"]),
    // The page shows what verification answers, and works nothing out by itself.
    ("page", &["intake", "judge", "seals", "render"]),
    ("fill", &["page"]),
    ("cli", &["page"]),
];

fn sources(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            found.extend(sources(&path));
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            found.push(path);
        }
    }
    found
}

fn room_of(path: &Path) -> Option<String> {
    let inside = path.strip_prefix(src()).unwrap();
    let first = inside.components().next()?.as_os_str().to_str()?;
    (!first.ends_with(".rs")).then(|| first.to_owned())
}

fn src() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("src")
}

/// The rooms that a file names after `crate::`.
fn used(text: &str) -> Vec<(usize, String)> {
    text.lines()
        .enumerate()
        .filter(|(_, line)| !line.trim_start().starts_with("//"))
        .flat_map(|(number, line)| {
            line.match_indices("crate::").map(move |(place, found)| {
                let rest = &line[place + found.len()..];
                let room: String = rest
                    .chars()
                    .take_while(|c| c.is_ascii_alphanumeric() || *c == '_')
                    .collect();
                (number + 1, room)
            })
        })
        .collect()
}

#[test]
fn every_arrow_points_back_along_the_pipeline() {
    let order = |room: &str| ROOMS.iter().position(|known| *known == room);
    let mut arrows = 0;
    for path in sources(&src()) {
        let Some(room) = room_of(&path) else { continue };
        let here = order(&room).unwrap_or_else(|| panic!("`{room}` is not a room"));
        for (line, target) in used(&fs::read_to_string(&path).unwrap()) {
            let there = order(&target)
                .unwrap_or_else(|| panic!("{}:{line}: `{target}` is not a room", path.display()));
            assert!(
                there <= here,
                "{}:{line}: {room} must not use {target}",
                path.display()
            );
            let walls = WALLS.iter().find(|(walled, _)| *walled == room);
            assert!(
                walls.is_none_or(|(_, rooms)| !rooms.contains(&target.as_str())),
                "{}:{line}: {room} must not use {target}",
                path.display()
            );
            arrows += 1;
        }
    }
    assert!(arrows > 50, "the walk found only {arrows} arrows");
}

#[test]
fn the_listing_of_lib_rs_is_the_pipeline() {
    let text = fs::read_to_string(src().join("lib.rs")).unwrap();
    let listed: Vec<&str> = text
        .lines()
        .filter_map(|line| line.strip_prefix("pub mod ")?.strip_suffix(';'))
        .collect();
    assert_eq!(listed, ROOMS);
}

/// Modules that are built for tests only, and print what they measured.
const TESTS: [&str; 2] = ["judge/published_values.rs", "judge/simulation.rs"];

/// Disk, clock, randomness and terminal come in at the ends of the pipe only.
#[test]
fn only_the_ends_touch_the_world() {
    let allowed: [(&str, &[&str]); 11] = [
        ("std::fs", &["files"]),
        ("fs::File", &["files"]),
        ("Local::now", &["cli"]),
        ("Utc::now", &["cli"]),
        ("println!", &["cli"]),
        ("std::env", &["cli"]),
        ("SystemTime", &["cli"]),
        ("Instant", &["cli"]),
        ("std::net", &["cli"]),
        // Photos are read on all cores, in the program.
        ("std::thread", &["intake", "cli"]),
        ("tokio::net", &["fill"]),
    ];
    for path in sources(&src()) {
        let Some(room) = room_of(&path) else { continue };
        if TESTS.iter().any(|test| path.ends_with(test)) {
            continue;
        }
        let text = fs::read_to_string(&path).unwrap();
        let code = text.split("#[cfg(test)]").next().unwrap();
        for (word, rooms) in allowed {
            assert!(
                rooms.contains(&room.as_str()) || !code.contains(word),
                "{}: `{word}` does not belong in {room}",
                path.display()
            );
        }
    }
}

/// What a file of view that sees a judgement must not do: compare, count, filter, sort,
/// search or cut, nor pass over a variant in silence. `judge` does all that; the types of
/// what it found can be neither compared nor sorted, and this finds the rest.
const DECIDING: [&str; 26] = [
    " == ",
    " != ",
    " <= ",
    " >= ",
    " < ",
    " > ",
    "matches!(",
    "_ =>",
    ".filter(",
    ".find(",
    ".position(",
    ".partition(",
    ".any(",
    ".all(",
    ".contains(",
    ".count()",
    ".max(",
    ".max()",
    ".max_by",
    ".min_by",
    ".sort",
    ".rev()",
    ".retain(",
    ".take(",
    ".truncate(",
    ".dedup",
];

/// Lines of such files that decide nothing about a job: the file, a part of the line, and
/// what it is about.
const NOT_ABOUT_A_JOB: [(&str, &str, &str); 15] = [
    ("before_after.rs", "b.max())", "an upper bound"),
    ("limits.rs", "bounds.max()", "an upper bound"),
    (
        "budgets.rs",
        "(&before.parts, &before.u,",
        "two rows that read alike are printed once",
    ),
    (
        "positions.rs",
        "!beside.is_empty()",
        "whether there are words to add",
    ),
    ("positions.rs", "if p < 0.01", "digits of p"),
    ("dependence.rs", "if p < 0.0001", "digits of p"),
    (
        "how_judged.rs",
        "!pair.text.is_empty()",
        "whether there are words",
    ),
    (
        "before_after.rs",
        "contains(&discs.len())",
        "room for the discs",
    ),
    (
        "measures.rs",
        "values.len() > 1",
        "a single reading stands above",
    ),
    ("mod.rs", "row.drawing.is_some()", "room on the page"),
    ("mod.rs", "WORTH_DRAWING,", "room on the page"),
    ("photos.rs", "photo.pair.is_", "photos paired by the job"),
    (
        "photos.rs",
        "photo.pair == before.pair",
        "photos paired by the job",
    ),
    (
        "photos.rs",
        "picture.file == photo.file",
        "the file of a photo",
    ),
    ("reasons.rs", "condition.id == id", "a name by its id"),
];

/// The lines of `text` that do what a file of view must not do, with their numbers.
fn deciding(text: &str) -> Vec<(usize, &str)> {
    let code = text.split("#[cfg(test)]").next().unwrap();
    let lines = code.lines().zip(1..);
    lines
        .filter(|(line, _)| !line.trim_start().starts_with("//"))
        .filter(|(line, _)| DECIDING.iter().any(|sign| line.contains(sign)))
        .map(|(line, number)| (number, line))
        .collect()
}

#[test]
fn no_file_of_view_decides() {
    let mut excused = vec![false; NOT_ABOUT_A_JOB.len()];
    let mut seen = 0;
    for path in sources(&src().join("view")) {
        let text = fs::read_to_string(&path).unwrap();
        if !text.contains("judge::") {
            continue;
        }
        seen += 1;
        for (number, line) in deciding(&text) {
            let known = NOT_ABOUT_A_JOB
                .iter()
                .position(|(file, part, _)| path.ends_with(file) && line.contains(part));
            let known = known
                .unwrap_or_else(|| panic!("{}:{number}: judge decides: {line}", path.display()));
            excused[known] = true;
        }
    }
    assert!(seen > 10, "only {seen} files of view see a judgement");
    let idle = excused.iter().position(|used| !used);
    assert_eq!(idle.map(|index| NOT_ABOUT_A_JOB[index]), None);
}

/// Each sign is found in code, and none in a comment or a test.
#[test]
fn what_decides_is_noticed() {
    for sign in DECIDING {
        let line = format!("    let odd = this{sign}that;");
        assert_eq!(deciding(&line), [(1, line.as_str())], "{sign}");
        assert!(deciding(&format!("    // this{sign}that")).is_empty());
        assert!(deciding(&format!("#[cfg(test)]\n this{sign}that")).is_empty());
    }
    assert!(deciding("    match found.outcome { Outcome::Pass => words.say(id) }").is_empty());
}

#[test]
fn no_file_grows_into_several() {
    for path in sources(&src()) {
        let lines = fs::read_to_string(&path).unwrap().lines().count();
        assert!(lines <= 600, "{} has {lines} lines", path.display());
    }
}
