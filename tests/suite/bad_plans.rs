//! What a person can get wrong in what the plan says of the machine itself and of whoever
//! reads it, and what is asked to be looked at again before anything is sealed.

use crate::bad_input::spoiled;
use crate::folder::{Folder, run};

const UNIT: &str = "unit = \"kPa\"\nbetter = \"lower\"";

/// A change of the suction's plan, in kPa, or of another measure, and its one problem.
fn planned(unit: &str, more: &str, message: &str, hint: &str) {
    spoiled(
        "limits.toml",
        unit,
        &format!("{unit}\n{more}"),
        message,
        hint,
    );
}

#[test]
fn a_percentage_of_a_gauge_pressure() {
    let refused = |more: &str| {
        planned(
            UNIT,
            more,
            "a percentage of a gauge pressure has no meaning",
            "use `improve_by`; or add `pressure = \"difference\"` or `\"absolute\"` if it is one",
        );
    };
    refused("improve_percent = 50");
    refused("pressure = \"gauge\"\nimprove_percent = 50");
    for pressure in ["difference", "absolute"] {
        let folder = Folder::copy_of("frost-fan");
        let keys = format!("{UNIT}\npressure = \"{pressure}\"\nimprove_percent = 50");
        folder.replace("limits.toml", UNIT, &keys);
        assert_eq!(folder.check().code, 0, "{pressure}");
    }
    planned(
        "unit = \"s\"\nbetter = \"lower\"",
        "pressure = \"gauge\"",
        "`pressure` applies to a measure in a unit of pressure",
        "delete it",
    );
}

/// A unit that says more than a unit, one that is two units, and one that is none here.
#[test]
fn a_unit_typed_as_people_type_it() {
    let refused = |typed: &str, message: &str, hint: &str| {
        let plan = UNIT.replace("kPa", typed);
        spoiled("limits.toml", UNIT, &plan, message, hint);
    };
    for (typed, unit, word) in [
        ("psig", "psi", "gauge"),
        ("bar(a)", "bar", "absolute"),
        ("kPa abs", "kPa", "absolute"),
        ("psid", "psi", "difference"),
    ] {
        refused(
            typed,
            &format!("the unit `{typed}` says what the pressure is measured against"),
            &format!("write `unit = \"{unit}\"`, and `pressure = \"{word}\"` with the measure"),
        );
    }
    for (typed, meant) in [("C", "`°C` or `K`"), ("mpg", "`mpg (US)` or `mpg (imp)`")] {
        refused(
            typed,
            &format!("the unit `{typed}` is unknown"),
            &format!("did you mean {meant}?"),
        );
    }
}

#[test]
fn a_variation_from_run_to_run_that_is_none() {
    let none = "`run_to_run` needs either `deviation` or `percent`";
    let hint = "write `deviation = …` in kPa, or `percent = …`";
    planned(UNIT, "run_to_run = { source = \"Log\" }", none, hint);
    planned(
        UNIT,
        "run_to_run = { deviation = 1, percent = 2, source = \"Log\" }",
        none,
        hint,
    );
    for same in ["deviation = 0", "percent = 0"] {
        planned(
            UNIT,
            &format!("run_to_run = {{ {same}, source = \"Log\" }}"),
            "no machine is the same in every run",
            "delete `run_to_run` if you do not know it",
        );
    }
}

#[test]
fn a_variation_in_percent_of_what_has_no_zero() {
    for pressure in ["", "pressure = \"gauge\"\n"] {
        planned(
            UNIT,
            &format!("{pressure}run_to_run = {{ percent = 5, source = \"Log\" }}"),
            "a percentage of a gauge pressure has no meaning",
            "write `deviation = …`",
        );
    }
}

/// A share of more than 25 % would say that a run may as well do nothing.
#[test]
fn a_variation_of_more_than_a_quarter() {
    planned(
        UNIT,
        "pressure = \"difference\"\nrun_to_run = { percent = 25.1, source = \"Log\" }",
        "`percent` is out of range",
        "between 0 and 25",
    );
    let folder = Folder::copy_of("frost-fan");
    let quarter = "run_to_run = { percent = 25, source = \"Log\" }";
    let keys = format!("{UNIT}\npressure = \"difference\"\n{quarter}");
    folder.replace("limits.toml", UNIT, &keys);
    assert_ne!(folder.check().code, 2);
}

#[test]
fn what_is_judged_by_eye_is_the_time_of_an_event() {
    planned(
        UNIT,
        "judged_by_eye_seconds = 0.5",
        "only the time of an event can be judged by eye in seconds",
        "delete it",
    );
}

/// A typing mistake in the baseline is found while it can still be corrected; it stops nothing.
#[test]
fn what_looks_wrong_is_told_before_it_is_sealed() {
    let folder = Folder::copy_of("frost-fan");
    folder.replace("baseline.toml", "value = 31.5", "values = [31.5, 3.15]");
    let path = folder.path().to_str().unwrap().to_owned();
    for command in [&["check", "--baseline"][..], &["seal", "baseline"]] {
        let found = run(&[command, &[&path]].concat());
        assert_eq!(found.code, 0, "{}", found.err);
        let all = format!("{} {}", found.out, found.err);
        let all = all.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(all.contains("“Fuel suction at filter outlet”"), "{all}");
        assert!(all.contains("decimal point"), "{all}");
    }
}
