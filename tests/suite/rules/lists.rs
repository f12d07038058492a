//! What a machine has stored: gone, still there, new.

use super::small_job::SmallJob;
use super::table::{Row, hold};

fn items(codes: &str) -> String {
    if codes == "-" {
        return "not_taken = \"No connection\"".to_owned();
    }
    let item = |code: &str| format!("{{ code = \"{code}\", text = \"Text of {code}\" }}");
    let items: Vec<String> = codes.split_whitespace().map(item).collect();
    format!("items = [{}]", items.join(", "))
}

fn list(row: &Row<'_>, keys: &str) -> SmallJob {
    let of = |column| items(row.at(column));
    SmallJob::new().measure(
        "m",
        &format!("kind = \"list\"\n{keys}"),
        &of("before"),
        &of("after"),
    )
}

#[test]
fn nothing_stored() {
    hold(
        "
        before | after => outcome | change | measures.0.list.gone | measures.0.list.still_there | measures.0.list.new | verdict | reasons
        P-1 P-2 |         => pass | better | [\"P-1\",\"P-2\"] | []          | []          | verified     | all-required-pass
        P-1 P-2 | P-2     => fail | better | [\"P-1\"]         | [\"P-2\"]   | []          | not-verified | fails m
        P-1     | p-1     => fail | same   | []                | [\"p-1\"]   | []          | not-verified | fails m
        # Something new is worse, whatever is gone.
        P-1 P-2 | C-7     => fail | worse  | [\"P-1\",\"P-2\"] | []          | [\"C-7\"]   | not-verified | fails m, got-worse m
                |         => pass | same   | []                | []          | []          | verified     | all-required-pass
        -       |         => pass | -      | []                | []          | []          | verified     | all-required-pass
        P-1     | -       => inconclusive | - | -              | -           | -           | undecided    | not-taken m
        ",
        |row| list(row, "max_count = 0\nrequired = true"),
    );
}

#[test]
fn nothing_new() {
    hold(
        "
        before | after => outcome | change | verdict | reservations
        P-1 | P-1     => pass | same   | verified     | fault-not-shown
        P-1 | C-7     => fail | worse  | not-verified | fault-not-shown
        P-1 |         => pass | better | verified     | fault-not-shown
        ",
        |row| list(row, "none_new = true\nrequired = true"),
    );
    hold(
        "
        before | after => outcome | change | verdict | reservations
        # Few enough, and one of them new.
        P-1 P-2 P-3 | C-7 => pass | worse | verified | worse-within-limit m
        ",
        |row| list(row, "max_count = 2\nrequired = true"),
    );
}
