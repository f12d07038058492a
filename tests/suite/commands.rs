//! Commands whose files matter more than what they print; see `command_cases` for that.

use std::fs;

use crate::folder::run;

#[test]
fn demo_tells_the_story_and_leaves_a_report() {
    let temp = tempfile::tempdir().unwrap();
    let folder = temp.path().join("demo");
    let told = run(&["demo", folder.to_str().unwrap()]);
    assert_eq!(told.code, 0, "{}", told.err);
    assert!(told.out.contains("Verified."), "{}", told.out);
    assert!(told.out.contains("report.pdf"), "{}", told.out);
    let job = folder.join("job");
    for pdf in ["receipt.pdf", "report.pdf"] {
        assert!(fs::read(job.join(pdf)).unwrap().starts_with(b"%PDF-"));
    }
    // What it copied is a job that can be judged again.
    assert_eq!(run(&["check", job.to_str().unwrap()]).code, 0);

    let again = run(&["demo", folder.to_str().unwrap()]);
    assert_eq!(again.code, 2);
    assert!(again.err.contains("is already there"), "{}", again.err);
}

/// A new folder names everything that is left to fill in, and nothing else; once
/// that is done, it can be judged.
#[test]
fn init_makes_a_folder_that_needs_only_filling_in() {
    let cold_start = ["1", "3", "24", "64"].map(|cylinders| ["--cylinders", cylinders]);
    let plain = [["--for", "plain"], ["--for", "cold-start"]];
    for options in cold_start.into_iter().chain(plain) {
        let temp = tempfile::tempdir().unwrap();
        let folder = temp.path().join("job");
        let path = folder.to_str().unwrap();
        assert_eq!(run(&["init", path, options[0], options[1]]).code, 0);
        let fresh = run(&["check", path]);
        assert_eq!(fresh.code, 2, "an empty form is no job");
        let only_blank = !fresh.err.contains("error: ") && fresh.err.contains("Nothing is wrong");
        assert!(only_blank, "{}", fresh.err);
        assert!(fresh.err.contains("limits.toml, "), "no limit is invented");
        for file in [
            "shop.toml",
            "job.toml",
            "limits.toml",
            "baseline.toml",
            "retest.toml",
            "work.toml",
        ] {
            let text = fs::read_to_string(folder.join(file)).unwrap();
            let filled: String = text.lines().map(|line| fill_in(line) + "\n").collect();
            fs::write(folder.join(file), filled).unwrap();
        }
        let judged = run(&["check", path]);
        assert_eq!(judged.code, 0, "{options:?}: {}{}", judged.out, judged.err);
    }
}

/// A kind of work has its usual tests and instruments, and nothing in it is wrong: only the
/// figures and limits are missing, which nobody but the technician knows.
#[test]
fn a_plan_for_a_kind_of_work_needs_only_filling_in() {
    for kind in [
        "hydraulics",
        "charging",
        "refrigeration",
        "pumps",
        "bearings",
        "generator",
    ] {
        let temp = tempfile::tempdir().unwrap();
        let folder = temp.path().join("job");
        let path = folder.to_str().unwrap();
        assert_eq!(run(&["init", path, "--for", kind]).code, 0);
        let fresh = run(&["check", path]);
        assert_eq!(fresh.code, 2, "{kind}");
        let only_blank = !fresh.err.contains("error: ") && fresh.err.contains("Nothing is wrong");
        assert!(only_blank, "{kind}: {}", fresh.err);
        let limits = fs::read_to_string(folder.join("limits.toml")).unwrap();
        let is_bound = |line: &str| line.starts_with("min =") || line.starts_with("max =");
        assert!(!limits.lines().any(is_bound), "{kind} invents a limit");
    }
}

/// A pump, a lift or a refrigerator has nothing of an engine on its papers that nobody
/// wrote there.
#[test]
fn a_plain_folder_has_no_engine_in_it() {
    let temp = tempfile::tempdir().unwrap();
    let folder = temp.path().join("job");
    assert_eq!(run(&["init", folder.to_str().unwrap()]).code, 0);
    for file in ["job.toml", "limits.toml", "baseline.toml", "retest.toml"] {
        let text = fs::read_to_string(folder.join(file)).unwrap();
        let text = text
            .replace("# cylinders = 4 ", "")
            .replace("cylinders, ", "");
        for word in [
            "crank",
            "start from cold",
            "soak",
            "coolant",
            "engine",
            "exhaust",
            "battery",
        ] {
            assert!(!text.contains(word), "{file} speaks of {word}");
        }
    }
}

/// Fills in one line of a form as a technician would.
fn fill_in(line: &str) -> String {
    let wanted = [
        "started",
        "finished",
        "by =",
        "value =",
        "ambient",
        "soak",
        "supply",
        "accuracy",
        "resolution",
        "min =",
        "max =",
        "window",
    ];
    if let Some(row) = line.trim_start().strip_prefix("# { at") {
        return format!("{{ at{}", row.replace('…', "0.5"));
    }
    match line.strip_prefix("# ") {
        Some(rest) if wanted.iter().any(|key| rest.starts_with(key)) => rest.to_owned(),
        _ => line.replace(" = \"\"", " = \"something of the shop's own\""),
    }
}
