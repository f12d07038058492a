//! What a person can get wrong in readings and photos: every problem is named with its
//! file, its line and what to do.

use std::fs;

use image::{GrayImage, ImageFormat};

use crate::bad_input::{expect, spoiled};
use crate::folder::{Folder, run};

fn frost_fan() -> Folder {
    Folder::copy_of("frost-fan")
}

#[test]
fn a_unit_that_does_not_fit() {
    spoiled(
        "retest.toml",
        "value = 2.4\nunit = \"s\"",
        "value = 2.4\nunit = \"V\"",
        "`V` is a unit of voltage, but the measure `crank-time` is a time",
        "use a unit of time: `s`",
    );
    spoiled(
        "retest.toml",
        "value = 11.0\nunit = \"kPa\"",
        "value = 11.0\nunit = \"kpa\"",
        "the unit `kpa` is unknown",
        "did you mean `kPa`?",
    );
    // A temperature is not a temperature difference.
    spoiled(
        "retest.toml",
        "value = -3.2, unit = \"°C\"",
        "value = -3.2, unit = \"K\"",
        "`K` is a unit of temperature difference",
        "use a unit of temperature: `°C` and `°F`",
    );
}

#[test]
fn a_meter_that_the_machine_does_not_have() {
    let found = |meter: &str, written: &str| {
        let folder = frost_fan();
        folder.replace(
            "job.toml",
            "cylinders = 4",
            &format!("cylinders = 4\n{meter}"),
        );
        folder.replace("baseline.toml", "1874.2, unit = \"h\"", written);
        folder.check()
    };
    let hours = "1874.2, unit = \"h\"";
    let at = "baseline.toml:6:";
    let counts = "this meter cannot count in";
    for (meter, written, message, hint) in [
        ("", "1874.2, unit = \"V\"", "`V`", "use `h`, `km` or `mi`"),
        (
            "meter = \"hours\"",
            "1874.2, unit = \"km\"",
            "`km`",
            "use `h`, or correct `meter`",
        ),
        (
            "meter = \"distance\"",
            hours,
            "`h`",
            "use `km` or `mi`, or correct `meter`",
        ),
    ] {
        expect(
            &found(meter, written),
            at,
            &format!("{counts} {message}"),
            hint,
        );
    }
    let none = found("meter = \"none\"", hours);
    expect(
        &none,
        at,
        "the machine has no meter, as job.toml says",
        "delete it",
    );
    assert_eq!(found("meter = \"hours\"", hours).code, 0);
}

#[test]
fn numbers_that_are_none() {
    for written in ["nan", "inf", "-inf"] {
        spoiled(
            "retest.toml",
            "value = 2.4",
            &format!("value = {written}"),
            "`value` is not a finite number",
            "write what the instrument showed",
        );
    }
    spoiled(
        "retest.toml",
        "value = 2.4",
        "value = \"2.4\"",
        "`value` is text, not a number",
        "remove the quotes: value = 2.4",
    );
    spoiled(
        "retest.toml",
        "value = 2.4",
        "value = \"2,4\"",
        "`value` is text, not a number",
        "decimal point",
    );
    spoiled(
        "retest.toml",
        "passes = 3",
        "passes = 2.5",
        "`passes` is a number, not a whole number",
        "a whole number",
    );
}

#[test]
fn cylinders_that_are_missing_doubled_or_zero() {
    let row = "  { at = 4, value = 1.8 },";
    spoiled(
        "retest.toml",
        row,
        "",
        "the row for cylinder 4 is missing",
        "each of the 4 cylinders",
    );
    spoiled(
        "retest.toml",
        row,
        &format!("{row}\n  {{ at = 2, value = 1.0 }},"),
        "cylinder 2 has two rows",
        "correct it, or write repeats of one cylinder",
    );
    spoiled(
        "retest.toml",
        row,
        &format!("{row}\n  {{ at = 0, value = 1.0 }},"),
        "the plan has no cylinder 0",
        "numbered 1 to 4",
    );
    spoiled(
        "retest.toml",
        row,
        &format!("{row}\n  {{ at = 5, value = 1.0 }},"),
        "the plan has no cylinder 5",
        "numbered 1 to 4",
    );
}

/// After the work nothing can be read that the baseline lacks: it is told before the seal.
#[test]
fn a_baseline_without_a_planned_reading() {
    let folder = frost_fan();
    let reading = "[reading.suction]\nvalue = 31.5\nunit = \"kPa\"\ninstrument = \"vacuum\"\n";
    folder.replace("baseline.toml", reading, "");
    let path = folder.path().to_str().unwrap().to_owned();
    let files = folder.listing();
    for command in [
        &["check", "--baseline"][..],
        &["seal", "baseline"],
        &["check"],
    ] {
        let found = run(&[command, &[&path]].concat());
        expect(
            &found,
            "baseline.toml",
            "the reading of `suction` is missing; limits.toml has that measure",
            "add `[reading.suction]`, with `not_taken = \"why\"` in it if it cannot be read",
        );
        assert!(found.err.contains("5 of 6 readings"), "{}", found.err);
    }
    assert_eq!(folder.listing(), files, "nothing was sealed");
    // The way out.
    folder.write(
        "baseline.toml",
        folder.read("baseline.toml") + "\n[reading.suction]\nnot_taken = \"The gauge broke\"\n",
    );
    assert_eq!(run(&["check", "--baseline", &path]).code, 0);
}

#[test]
fn more_passes_than_attempts() {
    spoiled(
        "retest.toml",
        "passes = 3\nattempts = 3",
        "passes = 4\nattempts = 3",
        "4 passes are more than 3 attempts",
        "swap or correct",
    );
    let folder = frost_fan();
    folder.replace(
        "retest.toml",
        "passes = 3\nattempts = 3",
        "passes = 2\nattempts = 2",
    );
    let line = folder.line("retest.toml", "attempts = 2");
    expect(
        &folder.check(),
        &format!("retest.toml:{line}:"),
        "2 attempts cannot give the 3 passes",
        "make at least 3 attempts",
    );
}

#[test]
fn more_attempts_than_anybody_makes() {
    spoiled(
        "retest.toml",
        "passes = 3\nattempts = 3",
        "passes = 3\nattempts = 4000000000",
        "`attempts` is out of range",
        "between 1 and 10000",
    );
}

#[test]
fn a_photo_path_that_is_spelled_oddly() {
    spoiled(
        "retest.toml",
        "file = \"photos/filter-after.jpg\"",
        "file = \"./photos/filter-after.jpg\"",
        "not a plain path",
        "photos/gauge.jpg",
    );
}

#[test]
fn a_photo_that_is_missing_or_leaves_the_folder() {
    let photo = "file = \"photos/filter-after.jpg\"";
    spoiled(
        "retest.toml",
        photo,
        "file = \"photos/none.jpg\"",
        "photo `photos/none.jpg`: the file is missing",
        "copy it into the job folder",
    );
    for path in ["../secret.jpg", "/etc/hostname", "photos/../../secret.jpg"] {
        spoiled(
            "retest.toml",
            photo,
            &format!("file = \"{path}\""),
            "the path leads out of the job folder",
            "copy the file into the job folder",
        );
    }
}

#[cfg(unix)]
#[test]
fn a_link_that_leaves_the_folder() {
    let folder = frost_fan();
    let outside = folder.path().parent().unwrap().join("outside.jpg");
    fs::copy(folder.file("photos/filter-after.jpg"), outside).unwrap();
    fs::remove_file(folder.file("photos/filter-after.jpg")).unwrap();
    std::os::unix::fs::symlink("../../outside.jpg", folder.file("photos/filter-after.jpg"))
        .unwrap();
    let line = folder.line("retest.toml", "photos/filter-after.jpg");
    expect(
        &folder.check(),
        &format!("retest.toml:{line}:"),
        "the path leads out of the job folder",
        "copy the file into the job folder",
    );
}

#[test]
fn a_photo_that_is_cut_short_too_large_or_no_photo() {
    let after = |bytes: Vec<u8>, message: &str, hint: &str| {
        let folder = frost_fan();
        folder.write("photos/filter-after.jpg", bytes);
        let line = folder.line("retest.toml", "photos/filter-after.jpg");
        expect(
            &folder.check(),
            &format!("retest.toml:{line}:"),
            message,
            hint,
        );
    };
    let whole = fs::read(frost_fan().file("photos/filter-after.jpg")).unwrap();
    after(
        whole[..whole.len() / 2].to_vec(),
        "is cut short or damaged",
        "copy it from the camera",
    );

    let mut hundred_megapixels = std::io::Cursor::new(Vec::new());
    GrayImage::new(10_000, 10_000)
        .write_to(&mut hundred_megapixels, ImageFormat::Png)
        .unwrap();
    after(
        hundred_megapixels.into_inner(),
        "has 10000 × 10000 pixels",
        "at most 64 megapixels",
    );
    after(
        b"\0\0\0\x18ftypheic\0\0\0\0".to_vec(),
        "is a HEIC photo",
        "JPEG",
    );
    after(
        b"GIF89a".to_vec(),
        "is neither a JPEG nor a PNG",
        "export it as JPEG",
    );
    after(
        Vec::new(),
        "is neither a JPEG nor a PNG",
        "export it as JPEG",
    );
}

#[test]
fn a_pair_of_photos_that_is_none() {
    let after = "pair = \"suction-gauge\"";
    spoiled(
        "work.toml",
        "file = \"photos/old-line.jpg\"",
        "file = \"photos/old-line.jpg\"\npair = \"line\"",
        "a photo of the work cannot be part of a pair",
        "delete `pair` here",
    );
    let folder = frost_fan();
    folder.replace("retest.toml", after, "pair = \"suction-gage\"");
    let found = folder.check();
    let line = folder.line("retest.toml", "suction-gage");
    expect(
        &found,
        &format!("retest.toml:{line}:"),
        "no photo in baseline.toml belongs to the pair `suction-gage`",
        "there is a pair `suction-gauge`",
    );
    let line = folder.line("baseline.toml", after);
    expect(
        &found,
        &format!("baseline.toml:{line}:"),
        "no photo in retest.toml belongs to the pair `suction-gauge`",
        "write the same name in both",
    );
    let twice = "\n[[photo]]\nfile = \"photos/filter-after.jpg\"\ncaption = \"Again\"\n";
    let folder = frost_fan();
    folder.write(
        "retest.toml",
        folder.read("retest.toml") + twice + after + "\n",
    );
    expect(
        &folder.check(),
        "retest.toml:",
        "a second photo of this run has the pair",
        "give this one another name",
    );
}

#[test]
fn an_instrument_that_is_unknown_or_measures_something_else() {
    spoiled(
        "retest.toml",
        "value = 11.0\nunit = \"kPa\"\ninstrument = \"vacuum\"",
        "value = 11.0\nunit = \"kPa\"\ninstrument = \"vacum\"",
        "job.toml has no instrument `vacum`",
        "did you mean `vacuum`?",
    );
    spoiled(
        "retest.toml",
        "value = 11.0\nunit = \"kPa\"\ninstrument = \"vacuum\"",
        "value = 11.0\nunit = \"kPa\"\ninstrument = \"watch\"",
        "the instrument `watch` measures time, not pressure",
        "name the instrument that gave this reading",
    );
}

#[test]
fn a_reading_of_the_wrong_kind_or_of_unknown_uncertainty() {
    spoiled(
        "retest.toml",
        "value = 2.4\nunit = \"s\"\ninstrument = \"watch\"",
        "value = 2.4\nunit = \"s\"",
        "the uncertainty of `crank-time` is not known",
        "add `instrument",
    );
    spoiled(
        "retest.toml",
        "passes = 3\nattempts = 3",
        "passes = 3\nattempts = 3\ntext = \"fine\"",
        "`text` does not apply to the measure `first-try`",
        "`passes = 5` and `attempts = 6`",
    );
    spoiled(
        "retest.toml",
        "colour = \"white\"",
        "colour = \"white\"\nringelmann = 2",
        "a Ringelmann number is for grey or black smoke",
        "opacity_percent",
    );
}

/// SAE J1667, as restated in 92 Ill. Adm. Code 460.320: three accelerations count
/// only within 5 % opacity of each other; exactly 5.0 counts as within.
#[test]
fn accelerations_that_lie_too_far_apart() {
    let smoke = "opacity_percent = 14.5";
    let three = |values: &str| {
        let folder = Folder::copy_of("cold-store-generator");
        folder.replace("retest.toml", smoke, &format!("snaps_percent = [{values}]"));
        (folder.line("retest.toml", "snaps_percent"), folder.check())
    };
    let (line, apart) = three("22.0, 24.0, 27.1");
    expect(
        &apart,
        &format!("retest.toml:{line}:"),
        "differ by more than 5 % opacity",
        "three in a row",
    );
    for within in ["22.0, 24.5, 26.9", "22.0, 24.0, 27.0"] {
        assert_ne!(three(within).1.code, 2, "{within}");
    }
    let (line, two) = three("22.0, 24.0");
    expect(
        &two,
        &format!("retest.toml:{line}:"),
        "`snaps_percent` has only 2 entries, and needs 3",
        "Opacity of three accelerations in a row",
    );
}

#[test]
fn decimal_commas_in_a_list_are_told() {
    spoiled(
        "baseline.toml",
        "value = 12.8",
        "values = [12,8, 13,4]",
        "these 4 whole numbers look like 2 with a decimal comma",
        "write a decimal point",
    );
    // As many as were planned, twice: three of three in each run.
    let folder = Folder::copy_of("mill-gearbox");
    folder.replace("baseline.toml", "[9.8, 10.4, 10.1]", "[9,8,10,4,10,1]");
    let line = folder.line("baseline.toml", "9,8");
    expect(
        &folder.check(),
        &format!("baseline.toml:{line}"),
        "these 6 whole numbers look like 3",
        "such as 12.8",
    );
    // Whole readings are none.
    let folder = frost_fan();
    folder.replace("baseline.toml", "value = 12.8", "values = [12, 13]");
    assert_ne!(folder.check().code, 2);
}

#[test]
fn a_negative_time_is_a_typing_mistake() {
    spoiled(
        "retest.toml",
        "value = 2.4",
        "value = -2.4",
        "cannot be negative",
        "check the number and its sign",
    );
}

#[test]
fn a_pair_of_one_picture_is_none() {
    let folder = frost_fan();
    let picture = fs::read(folder.file("photos/filter-before.jpg")).unwrap();
    folder.write("photos/filter-after.jpg", picture);
    let line = folder.line("retest.toml", "photos/filter-after.jpg");
    expect(
        &folder.check(),
        &format!("retest.toml:{line}"),
        "has the same picture",
        "taken at the retest",
    );
}

#[test]
fn not_taken_stands_alone_in_either_run() {
    let folder = frost_fan();
    folder.replace(
        "retest.toml",
        "value = 2.4\n",
        "value = 2.4\nnot_taken = \"No watch\"\n",
    );
    let line = folder.line("retest.toml", "value = 2.4");
    expect(
        &folder.check(),
        &format!("retest.toml:{line}"),
        "`value` cannot be combined with `not_taken`",
        "delete one of the two",
    );
    let folder = frost_fan();
    folder.replace(
        "baseline.toml",
        "value = 12.8\nunit = \"s\"\ninstrument = \"watch\"",
        "not_taken = \"No watch\"",
    );
    assert_eq!(folder.check().code, 3);
}

#[test]
fn a_decimal_comma_is_told_wherever_it_stands() {
    spoiled(
        "baseline.toml",
        "{ at = 1, value = 7.4 }",
        "{ at = 1, value = 7,4 }",
        "decimal point",
        "write a number with a decimal point",
    );
    spoiled(
        "baseline.toml",
        "value = 12.8",
        "value = 12,8",
        "decimal point",
        "write a number with a decimal point",
    );
}
