//! A film that shows a reading: named beside the figure, checked by its digest, and what it
//! cannot show said beside it.

use std::fs;

use crate::bad_input::spoiled_in;
use crate::folder::{Folder, run};
use crate::ties_between_runs::report_of;

/// The frost fan with a film of its start after the work.
fn filmed() -> Folder {
    let folder = Folder::copy_of("frost-fan");
    fs::create_dir_all(folder.file("captures")).unwrap();
    folder.write("captures/start-after.mp4", b"\0\0\0\x18ftypmp42 a film");
    let text = folder.read("retest.toml");
    let crank = "[reading.crank-time]\nvalue = 2.4\n";
    assert!(text.contains(crank), "{text}");
    let shown = "recording = \"captures/start-after.mp4\"\nrecording_at = \"2:17\"\n";
    let film = "\n[[recording]]\nfile = \"captures/start-after.mp4\"\ncaption = \"The start\"\nlength = \"4:05\"\n";
    let text = text.replace(crank, &format!("{crank}{shown}"));
    folder.write("retest.toml", text + film);
    folder
}

/// All that the report says beside the readings and of what they cannot show.
fn says(folder: &Folder) -> String {
    let report = report_of(folder);
    let methods = report.measures.iter().map(|row| row.method.clone());
    let cannot = report
        .cannot_tell
        .iter()
        .map(|pair| format!("{}: {}", pair.label, pair.text));
    methods.chain(cannot).collect::<Vec<_>>().join("\n")
}

#[test]
fn the_report_says_where_a_film_shows_a_reading() {
    let told = "It cannot show what was done before it began";
    let text = says(&filmed());
    assert!(
        text.contains("retest: captures/start-after.mp4 at 2:17"),
        "{text}"
    );
    assert!(text.contains(told), "{text}");
    let without = says(&Folder::copy_of("frost-fan"));
    assert!(!without.contains(told), "{without}");
}

#[test]
fn the_film_is_checked_by_its_digest() {
    let folder = filmed();
    let path = folder.path();
    let path = path.to_str().unwrap();
    for stage in ["baseline", "retest"] {
        let sealed = run(&["seal", stage, path, "--unsigned"]);
        assert_eq!(sealed.code, 0, "{}", sealed.err);
    }
    let made = run(&["report", path, "--unsigned"]);
    assert!(made.err.is_empty(), "{}", made.err);
    let pdf = folder.file("report.pdf");
    let with = |folder: &Folder| {
        let path = folder.path();
        run(&[
            "verify",
            pdf.to_str().unwrap(),
            "--with",
            path.to_str().unwrap(),
        ])
        .out
    };
    let sound = with(&folder);
    folder.write("captures/start-after.mp4", b"\0\0\0\x18ftypmp42 another");
    let changed = with(&folder);
    assert!(!sound.contains("start-after.mp4"), "{sound}");
    assert!(changed.contains("captures/start-after.mp4"), "{changed}");
}

#[test]
fn a_film_that_does_not_show_it_is_told() {
    let spoiled = |from: &str, to: &str, message: &str, hint: &str| {
        spoiled_in(&filmed(), "retest.toml", from, to, message, hint);
    };
    let file = "recording = \"captures/start-after.mp4\"";
    spoiled(
        file,
        "recording = \"captures/start-aftr.mp4\"",
        "this run has no recording `captures/start-aftr.mp4`",
        "did you mean `captures/start-after.mp4`?",
    );
    let at = "recording_at = \"2:17\"";
    spoiled(
        at,
        "recording_at = \"4:06\"",
        "`captures/start-after.mp4` is 4:05 long and has no 4:06",
        "correct the time, or the `length` of the recording",
    );
    spoiled(
        at,
        "recording_at = \"137 s\"",
        "this is no time in a recording",
        "write minutes and seconds as a player counts them, such as `2:17`",
    );
    spoiled(
        "length = \"4:05\"",
        "length = \"four\"",
        "this is no length of a recording",
        "such as `2:17`",
    );
    spoiled(
        &format!("{file}\n{at}"),
        at,
        "it does not say of which recording",
        "add `recording` with its file, or delete this line",
    );
}
