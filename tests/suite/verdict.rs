//! The verdict, and whether its reasons say what is the matter.

use serde_json::Value;

use crate::folder::{Folder, run};

fn result(folder: &Folder) -> (i32, Value) {
    let found = run(&["check", "--json", folder.path().to_str().unwrap()]);
    (found.code, serde_json::from_str(&found.out).unwrap())
}

/// 5.5 s → 4.0 s is inside 5 s, but 27 % ± 5 % shorter where 50 % were asked.
#[test]
fn an_improvement_that_is_shown_to_be_absent_is_no_missed_limit() {
    let folder = Folder::copy_of("frost-fan");
    folder.replace("baseline.toml", "value = 12.8", "value = 5.5");
    folder.replace("retest.toml", "value = 2.4", "value = 4.0");
    let (code, result) = result(&folder);
    assert_eq!(
        (code, &result["verdict"]),
        (1, &Value::from("not-verified"))
    );
    assert_eq!(result["reasons"][0]["what"], "improvement-absent");
    assert_eq!(result["reasons"][0]["about"], "crank-time");
    let value = &result["measures"][0]["values"][0];
    assert_eq!(value["after"]["zone"], "pass");
    assert_eq!(value["improvement"]["zone"], "fail");
    let text = folder.check().out;
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        text.contains("“Crank time to running” did not get better by as much as was required"),
        "{text}"
    );
}
