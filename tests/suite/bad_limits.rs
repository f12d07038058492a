//! What a person can get wrong in the forms of a limit: a target, what should be besides, a
//! limit that depends on other readings, and conditions that bear on some tests only.

use crate::bad_input::{expect, spoiled};
use crate::folder::Folder;

/// Other limits in place of the voltage's `min = 9.6`, and the one problem with them.
#[track_caller]
fn voltage(limit: &str, message: &str, hint: &str) {
    spoiled(
        "limits.toml",
        "better = \"higher\"\nmin = 9.6",
        limit,
        message,
        hint,
    );
}

#[test]
fn a_target_without_its_tolerance_and_a_tolerance_without_its_target() {
    voltage(
        "target = 12",
        "this target has no tolerance",
        "add `within = …` or `within_percent = …`",
    );
    voltage(
        "min = 9.6\nwithin = 1",
        "`within` is a tolerance, and there is no `target`",
        "add `target = …`: the figure that is wanted",
    );
    voltage(
        "min = 9.6\nwithin_percent = 1",
        "`within_percent` is a tolerance, and there is no `target`",
        "add `target = …`: the figure that is wanted",
    );
    voltage(
        "target = 12\nwithin = 1\nwithin_percent = 10",
        "both `within` and `within_percent` are given",
        "keep one of the two",
    );
    voltage(
        "target = 12\nwithin = 1\nmax = 13",
        "both a target and bounds are given",
        "keep `target` with its tolerance, or `min` and `max`",
    );
    voltage(
        "target = 12\nwithin = 0",
        "nothing is exactly at its target",
        "write a tolerance of more than 0, or `min` and `max`",
    );
    voltage(
        "target = 0\nwithin_percent = 10",
        "a percentage of a target of 0 is nothing",
        "use `within`",
    );
    voltage("target = 12\nwithin = -1", "`within` is out of range", "0");
}

#[test]
fn a_percentage_of_a_target_that_has_no_zero() {
    let measure = "[[condition]]\nid = \"ambient\"";
    let more = "[[measure]]\nid = \"outlet\"\nname = \"Outlet\"\nkind = \"value\"\nunit = \"°C\"\n\
                source = \"Manual\"\ntarget = 80\nwithin_percent = 5\n\n";
    let folder = Folder::copy_of("frost-fan");
    folder.replace("limits.toml", measure, &format!("{more}{measure}"));
    let line = folder.line("limits.toml", "within_percent = 5");
    expect(
        &folder.check(),
        &format!("limits.toml:{line}:"),
        "a percentage of a temperature in °C has no meaning",
        "use `within`, in kelvins or Fahrenheit degrees",
    );
}

#[test]
fn what_should_be_is_stricter_than_what_must_be() {
    voltage(
        "min = 9.6\nshould_min = 9.5",
        "`should_min` is not within the limit that must be met",
        "what should be is stricter than what must be: swap them, or correct one",
    );
    voltage(
        "min = 9.6\nshould_min = 10.5\nshould_max = 10",
        "`should_min` is greater than `should_max`",
        "swap them or correct one",
    );
    voltage(
        "should_min = 10",
        "`should_min` goes with a limit that must be met, and there is none",
        "write the only limit there is as `min` or `max`",
    );
    voltage(
        "as_printed = \"9.6 V\"",
        "`as_printed` is the manual's wording of a limit, and there is none",
        "add `min`, `max` or `target`: what it comes to here",
    );
}

#[test]
fn limit_keys_of_another_kind() {
    for key in [
        "target = 3",
        "within = 3",
        "within_percent = 3",
        "should_min = 3",
        "should_max = 3",
        "as_printed = \"3\"",
        "min_by = \"3\"",
        "max_by = \"3\"",
    ] {
        let name = key.split(' ').next().unwrap();
        spoiled(
            "limits.toml",
            "min_passes = 3",
            &format!("min_passes = 3\n{key}"),
            &format!("`{name}` does not apply to this kind of measure"),
            "delete it, or change `kind`",
        );
    }
}

#[test]
fn a_limit_that_depends_on_what_is_not_there() {
    voltage(
        "min_by = \"batery\"",
        "there is no measure or condition `batery` for this formula",
        "did you mean `battery`?",
    );
    voltage(
        "min_by = \"crank-voltage\"",
        "the limit of `crank-voltage` cannot depend on `crank-voltage` itself",
        "name measures above it, conditions and tables",
    );
    voltage(
        "min_by = \"suction\"",
        "this formula gives kPa, and the measure's unit is `V`",
        "give both the same unit",
    );
    voltage(
        "min_by = \"9.6\"",
        "this formula names no reading",
        "name the ids of the measures that it is worked out from",
    );
    voltage(
        "min = 9.6\nmin_by = \"battery\"",
        "both `min_by` and `min` are given",
        "keep one of the two",
    );
    voltage(
        "target = 12\nwithin = 1\nmax_by = \"battery\"",
        "both `max_by` and `target` are given",
        "keep one of the two",
    );
    voltage(
        "min_by = \"contribution / 1\"",
        "this formula gives one limit for each cylinder, and `crank-voltage` is not read there",
        "use `mean(…)`, `lowest(…)` and the like, or read it at the same positions",
    );
}

/// The place is the reading that the table was asked for.
#[test]
fn a_limit_beyond_the_ends_of_its_table() {
    let folder = Folder::copy_of("frost-fan");
    let table = "[[table]]\nid = \"load-limit\"\nsource = \"Manual\"\nfrom = \"°C\"\nto = \"V\"\n\
                 rows = [ [-1, 9.1], [10, 9.4] ]\n\n[[condition]]\nid = \"ambient\"";
    folder.replace("limits.toml", "[[condition]]\nid = \"ambient\"", table);
    folder.replace(
        "limits.toml",
        "min = 9.6",
        "min_by = \"load-limit(ambient)\"",
    );
    let found = folder.check();
    let line = folder.line("baseline.toml", "ambient =");
    expect(
        &found,
        &format!("baseline.toml:{line}:"),
        "the limit of `crank-voltage` cannot be worked out: the table `load-limit` holds -1 to 10, \
         and was asked for -1.5",
        "a table is never read off beyond its ends",
    );
    for file in ["baseline.toml", "retest.toml"] {
        let line = folder.line(file, "ambient =");
        assert!(
            found.err.contains(&format!("--> {file}:{line}:")),
            "{}",
            found.err
        );
    }
}

/// The limit of what was in service.
#[test]
fn a_limit_of_what_was_in_service_that_is_none() {
    let of = |to: &str, message: &str, hint: &str| {
        let folder = Folder::copy_of("frost-fan");
        folder.replace("limits.toml", "min = 9.6", to);
        let found = folder.check();
        let line = folder.line("limits.toml", "before = ");
        expect(&found, &format!("limits.toml:{line}:"), message, hint);
    };
    of(
        "min = 9.6\nbefore = { }",
        "`before` states no limit",
        "add `min`, `max` or both, or `target`, or delete it",
    );
    of(
        "min = 9.6\nbefore = { min = 9, max = 8 }",
        "`min` is greater than `max`",
        "swap them or correct one",
    );
    of(
        "min = 9.6\nbefore = { should_min = 9 }",
        "`should_min` goes with a limit that must be met, and there is none",
        "write the only limit there is as `min` or `max`",
    );
    of(
        "min_by = \"0.8 * battery\"\nbefore = { min = 9 }",
        "`before` does not stand beside a limit that is worked out in each run",
        "delete one of the two",
    );
    of(
        "before = { min = 9 }",
        "`before` is the limit of what was in service, and the retest has none",
        "add `min`, `max` or `target`: what the retest has to keep",
    );
    let folder = Folder::copy_of("frost-fan");
    folder.replace(
        "limits.toml",
        "kind = \"smoke\"",
        "kind = \"smoke\"\nbefore = { max = 9 }",
    );
    expect(
        &folder.check(),
        "limits.toml:",
        "`before` does not apply to this kind of measure",
        "delete it, or change `kind`",
    );
}

#[test]
fn limits_that_come_to_the_wrong_order() {
    let folder = Folder::copy_of("frost-fan");
    folder.replace(
        "limits.toml",
        "better = \"higher\"\nmin = 9.6",
        "min = 12\nmax_by = \"0.9 * battery\"",
    );
    let line = folder.line("baseline.toml", "battery =");
    expect(
        &folder.check(),
        &format!("baseline.toml:{line}:"),
        "the limits of `crank-voltage` come to at least 12 and at most",
        "check these readings, and the formulas and tables in limits.toml",
    );
}

#[test]
fn a_limit_whose_condition_was_not_recorded() {
    let folder = Folder::copy_of("frost-fan");
    folder.replace("limits.toml", "min = 9.6", "min_by = \"0.8 * battery\"");
    let reading = "battery = { value = 12.55, unit = \"V\", instrument = \"meter-v\" }\n";
    folder.replace("retest.toml", reading, "");
    expect(
        &folder.check(),
        "retest.toml:",
        "the limit of `crank-voltage` needs the condition `battery`, which this run lacks",
        "add `battery` under `[condition]`, with its unit and instrument",
    );
}

#[test]
fn a_condition_that_bears_on_what_is_not_there() {
    let condition = "window = 0.15\nharder = \"lower\"\nrequired = true";
    spoiled(
        "limits.toml",
        condition,
        &format!("{condition}\nconcerns = [\"crank-time\", \"crank-volts\"]"),
        "there is no measure `crank-volts`",
        "did you mean `crank-voltage`?",
    );
    spoiled(
        "limits.toml",
        condition,
        &format!("{condition}\nconcerns = []"),
        "`concerns` is empty",
        "The ids of the measures whose tests it bears on",
    );
}

/// Rows of the contribution's cylinders, in place of its own limits.
#[test]
fn rows_of_limits_that_are_none() {
    let rows = |row: &str, message: &str, hint: &str| {
        let to = format!("min = -6.0\nmax = 6.0\nlimit_rows = [ {{ at = 2, {row} }} ]");
        spoiled("limits.toml", "min = -6.0\nmax = 6.0", &to, message, hint);
    };
    rows(
        "target = 3",
        "this target has no tolerance",
        "add `within = …` or `within_percent = …`",
    );
    rows(
        "as_printed = \"3\"",
        "this row has no limit",
        "add `min`, `max` or both, or `target`",
    );
    rows(
        "min = 3, max = 2",
        "`min` is greater than `max`",
        "swap them or correct one",
    );
    rows(
        "min = 3, should_min = 2",
        "`should_min` is not within the limit that must be met",
        "what should be is stricter than what must be",
    );
}
