//! What a person can get wrong with positions and with figures that are worked out: every
//! problem is named with its file, its line and what to do.

use crate::bad_input::{expect, spoiled_in};
use crate::folder::Folder;

#[track_caller]
fn spoiled(file: &str, from: &str, to: &str, message: &str, hint: &str) {
    spoiled_in(
        &Folder::copy_of("grain-fan-motor"),
        file,
        from,
        to,
        message,
        hint,
    );
}

const PHASES: &str = "names = [\"U\", \"V\", \"W\"]";
const CURRENT: &str = "name = \"Current at full air flow\"\nkind = \"value\"\nat = \"phases\"";
const UNBALANCE: &str = "worked_out = \"100 * greatest-deviation(current) / mean(current)\"";
const W: &str = "  { at = \"W\", value = 27.1 },";

#[test]
fn sets_of_positions() {
    let plan = "limits.toml";
    spoiled(
        plan,
        PHASES,
        "count = 3\nnames = [\"U\"]",
        "needs either `count` or `names`",
        "write `count = 3`",
    );
    spoiled(
        plan,
        PHASES,
        "names = [\"U\", \"V\", \"u\"]",
        "two positions called `u`",
        "its own name",
    );
    let folder = Folder::copy_of("grain-fan-motor");
    folder.replace(plan, "id = \"bearings\"", "id = \"cylinders\"");
    folder.replace(plan, "at = \"bearings\"", "at = \"cylinders\"");
    let found = folder.check();
    let line = folder.line(plan, "id = \"cylinders\"");
    expect(
        &found,
        &format!("{plan}:{line}:"),
        "`cylinders` are those of the machine",
        "choose another id",
    );
    spoiled(
        plan,
        CURRENT,
        &CURRENT.replace("\"phases\"", "\"phase\""),
        "there is no set of positions `phase`",
        "did you mean `phases`?",
    );
    spoiled(
        plan,
        CURRENT,
        &CURRENT.replace("\"phases\"", "\"cylinders\""),
        "the number of cylinders of the machine is missing",
        "add `cylinders = …`",
    );
}

#[test]
fn limits_of_single_positions() {
    let with = |rows: &str| format!("max = 2.8\nlimit_rows = [ {rows} ]");
    let of = |rows: &str, message: &str, hint: &str| {
        spoiled("limits.toml", "max = 2.8", &with(rows), message, hint);
    };
    of(
        "{ at = \"middle\", max = 2 }",
        "the plan has no bearing middle",
        "write one of",
    );
    of(
        "{ at = \"fan end\" }",
        "this row has no limit",
        "add `min`, `max` or both",
    );
    of(
        "{ at = \"fan end\", min = 3, max = 2 }",
        "`min` is greater than `max`",
        "swap them",
    );
    of(
        "{ at = \"fan end\", max = 2 }, { at = \"fan end\", max = 3 }",
        "bearing fan end has two rows",
        "delete one",
    );
}

/// What may be left out of a figure over all positions.
#[test]
fn figures_over_those_that_were_read() {
    let of = |formula: &str, least: &str, message: &str, hint: &str| {
        let folder = Folder::copy_of("grain-fan-motor");
        let to = format!("worked_out = \"{formula}\"\n{least}");
        folder.replace("limits.toml", UNBALANCE, &to);
        let found = folder.check();
        let line = folder.line("limits.toml", least);
        expect(&found, &format!("limits.toml:{line}:"), message, hint);
    };
    let unbalance = "100 * greatest-deviation(current) / mean(current)";
    of(
        unbalance,
        "least_read = 4",
        "there are no 4 phases, but 3",
        "write how many must have been read at least",
    );
    of(
        "100 * sum(current) / mean(current)",
        "least_read = 2",
        "a sum of fewer positions is another figure",
        "delete `least_read`, or use `mean(…)`",
    );
    of(
        "100 * current / mean(current)",
        "least_read = 2",
        "`least_read` is of one figure, and this formula gives one for each phase",
        "delete it: a position that was not read has no figure",
    );
    of(
        unbalance,
        "least_read = 1",
        "`least_read` is out of range",
        "it must be between 2 and 64",
    );
    let folder = Folder::copy_of("frost-fan");
    let plan = std::fs::read_to_string(folder.file("limits.toml")).unwrap();
    let more = "[[measure]]\nid = \"more\"\nname = \"More\"\nkind = \"value\"\nunit = \"V\"\n\
                worked_out = \"2 * crank-voltage\"\nleast_read = 3\n";
    std::fs::write(folder.file("limits.toml"), format!("{plan}\n{more}")).unwrap();
    let line = folder.line("limits.toml", "least_read");
    expect(
        &folder.check(),
        &format!("limits.toml:{line}:"),
        "this formula takes nothing of all positions",
        "delete `least_read`, or use `mean(…)`, `spread(…)` and the like",
    );
    let folder = Folder::copy_of("grain-fan-motor");
    folder.replace(
        "limits.toml",
        CURRENT,
        &format!("{CURRENT}\nleast_read = 2"),
    );
    let line = folder.line("limits.toml", "least_read");
    expect(
        &folder.check(),
        &format!("limits.toml:{line}:"),
        "`least_read` is of a figure that is worked out over several positions",
        "delete it, or add `worked_out`",
    );
}

#[test]
fn rows_of_positions() {
    let run = "retest.toml";
    spoiled(
        run,
        W,
        "",
        "the row for phase W is missing",
        "one row for each of the 3 phases",
    );
    spoiled(
        run,
        W,
        &format!("{W}\n{W}"),
        "phase W has two rows",
        "write repeats of one phase",
    );
    spoiled(
        run,
        W,
        "  { at = \"X\", value = 27.1 },\n  { at = \"W\", value = 27.1 },",
        "the plan has no phase X",
        "write one of",
    );
    spoiled(
        run,
        W,
        "  { at = \"W\", value = 27.1, not_taken = \"Hidden\" },",
        "`value` cannot be combined with `not_taken`",
        "delete one of the two",
    );
    spoiled(
        run,
        W,
        "  { at = \"W\" },",
        "there is no value",
        "add `value = …`",
    );
    let folder = Folder::copy_of("grain-fan-motor");
    folder.replace(run, W, "  { at = 1.5, value = 27.1 },");
    let line = folder.line(run, "at = 1.5");
    expect(
        &folder.check(),
        &format!("{run}:{line}:"),
        "the plan has no phase 1.5",
        "write one of",
    );
}

#[test]
fn what_is_worked_out_is_not_typed() {
    spoiled(
        "retest.toml",
        "[reading.insulation]",
        "[reading.unbalance]\nvalue = 0.1\nunit = \"%\"\ninstrument = \"clamp\"\n\n[reading.insulation]",
        "`unbalance` is worked out from other readings, not read",
        "delete this reading",
    );
}

#[test]
fn formulas() {
    let of = |formula: &str, message: &str, hint: &str| {
        let to = format!("worked_out = \"{formula}\"");
        spoiled("limits.toml", UNBALANCE, &to, message, hint);
    };
    of(
        "100 * spread(curent) / mean(current)",
        "no measure or condition `curent`",
        "did you mean `current`?",
    );
    of(
        "100 * unbalance / mean(current)",
        "cannot be worked out from itself",
        "name the measures",
    );
    of(
        "100 * insulation-at-40 / 3",
        "no measure or condition `insulation-at-40`",
        "above it",
    );
    of(
        "spread(current) / mean(current)",
        "gives a fraction",
        "100 * ",
    );
    of("spread(current)", "gives A", "same unit");
    of(
        "100 * (mean(current) + mean(resistance)",
        "A and Ω cannot be added",
        "same unit",
    );
    of(
        "100 * current / vibration",
        "read at other positions",
        "one set of positions",
    );
    spoiled(
        "limits.toml",
        UNBALANCE,
        &format!("{UNBALANCE}\nrepeats = 2"),
        "`repeats` does not apply to a figure that is worked out",
        "delete it",
    );
}

#[test]
fn an_extreme_is_not_worked_out_any_further() {
    spoiled(
        "limits.toml",
        "# What is worked out from it",
        "[[measure]]\nid = \"worst\"\nname = \"Worst\"\nkind = \"value\"\nunit = \"A\"\n\
         worked_out = \"highest(current)\"\n\n\
         [[measure]]\nid = \"margin\"\nname = \"Margin\"\nkind = \"value\"\nunit = \"A\"\n\
         worked_out = \"worst - mean(current)\"\n",
        "`worst` follows the lowest, the highest or the greatest of several readings",
        "write out the formula of `worst` here",
    );
}

#[test]
fn a_correction_without_its_temperature() {
    spoiled(
        "retest.toml",
        "winding = { value = 24.0, unit = \"°C\", instrument = \"probe\" }\n",
        "",
        "`insulation-at-40` needs the condition `winding`, which this run lacks",
        "add `winding` under `[condition]`",
    );
}

const TABLE: &str =
    "[[table]]\nid = \"factor\"\nsource = \"Data sheet\"\nfrom = \"°C\"\nto = \"1\"\n";

#[test]
fn tables() {
    let with = |rows: &str| {
        let folder = Folder::copy_of("grain-fan-motor");
        folder.replace(
            "limits.toml",
            "# What is read",
            &format!("{TABLE}rows = {rows}\n"),
        );
        let by_table = "worked_out = \"insulation * factor(winding)\"";
        let formula = "worked_out = \"insulation * 0.5 ^ ((40 - winding) / 10)\"";
        folder.replace("limits.toml", formula, by_table);
        folder
    };
    let sound = with("[ [20, 0.25], [30, 0.5] ]").check();
    assert_eq!(sound.code, 0, "{}", sound.err);
    let of = |rows: &str, message: &str| {
        let found = with(rows).check();
        assert!(
            found.err.contains("limits.toml:") && found.err.contains(message),
            "{}",
            found.err
        );
    };
    of("[ [30, 0.5], [20, 0.25] ]", "rise from row to row");
    of("[ [20, 0.25], [20, 0.5] ]", "rise from row to row");
    of("[ [20, 0.25] ]", "at least two rows");
    // 22 °C before the work and 24 °C after it: the table ends at 23.
    let beyond = with("[ [20, 0.25], [23, 0.3] ]").check();
    assert!(
        beyond.err.contains("holds 20 to 23, and was asked for 24"),
        "{}",
        beyond.err
    );
    assert!(beyond.err.contains("retest.toml:"), "{}", beyond.err);
}
