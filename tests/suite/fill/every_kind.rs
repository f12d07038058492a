//! Every kind of measure by the form alone: what `check` makes of the files is what it makes
//! of those that were written in an editor.

use retestify::quantity::Unit;
use toml_edit::{DocumentMut, Item, TableLike, Value};

use super::client::{Browser, Served};
use crate::folder::{Folder, run};
use crate::rules::small_job::SmallJob;

/// All samples.
pub const SAMPLES: [&str; 8] = [
    "bakery-chiller",
    "baler-engine",
    "cold-store-generator",
    "ferry-auxiliary",
    "frost-fan",
    "grain-fan-motor",
    "mill-gearbox",
    "pool-dosing-pump",
];

/// Keys of a reading that the form does not ask; it says so, and leaves them as they are.
const IN_THE_FILE_ONLY: [&str; 6] = [
    "uncertainty",
    "k",
    "dof",
    "timer",
    "snaps_percent",
    "ringelmann",
];

/// A job of what no sample has.
pub fn rare() -> SmallJob {
    let by_hand = "unit = \"bar\"\nuncertainty = 0.3\nk = 2\nnote = \"By the spare gauge\"";
    let rows = |first: &str| {
        format!(
            "{by_hand}\nrows = [ {{ at = 1, values = [{first}] }}, {{ at = 2, value = 4.50 }}, \
             {{ at = 3, not_taken = \"The cap is seized\" }}, {{ at = 4, value = 4.7 }} ]"
        )
    };
    let tries = |first: u32| {
        format!(
            "rows = [ {{ at = 1, passes = {first}, attempts = 5 }}, \
             {{ at = 2, passes = 5, attempts = 5 }}, {{ at = 3, not_taken = \"No access\" }}, \
             {{ at = 4, passes = 5, attempts = 6 }} ]"
        )
    };
    SmallJob::new()
        .instrument("opacimeter", "unit = \"%\"\naccuracy = 1")
        .measure(
            "pressure",
            "kind = \"value\"\nunit = \"bar\"\nat = \"cylinders\"\nrepeats = 2\nmax = 5\n\
             limit_rows = [ { at = 4, max = 6 } ]\nrequired = true",
            &rows("5.10, 5.3"),
            &rows("4.10, 4.2"),
        )
        .measure(
            "p0",
            "kind = \"value\"\nunit = \"bar\"\nbands = { names = [\"A\", \"B\"], upper = [1.5], \
             source = \"S\" }\n\n[[measure]]\nid = \"above\"\nname = \"Spread\"\nkind = \"value\"\n\
             unit = \"bar\"\nworked_out = \"pressure - p0\"\nbetter = \"lower\"",
            &format!("value = 1.20\n{by_hand}"),
            "not_taken = \"The gauge broke\"",
        )
        .measure(
            "knocks",
            "kind = \"count\"\nper = \"min\"\nmax_rate = 2",
            "count = 30\nover = 10.0\nunit = \"min\"",
            "count = 0\nover = 600\nunit = \"s\"",
        )
        .measure(
            "lamps",
            "kind = \"count\"\nat = \"cylinders\"\nmax_count = 0",
            "rows = [ { at = 1, count = 2 }, { at = 2, count = 0 }, { at = 3, count = 0 }, \
             { at = 4, not_taken = \"Dark\" } ]",
            "rows = [ { at = 1, count = 0 }, { at = 2, count = 0 }, { at = 3, count = 0 }, \
             { at = 4, count = 1 } ]",
        )
        .measure(
            "tries",
            "kind = \"passes\"\nat = \"cylinders\"\nmin_passes = 5",
            &tries(2),
            &tries(5),
        )
        .measure(
            "stored",
            "kind = \"list\"\nnone_new = true",
            "items = [ { code = \"P-1\", text = \"Rail low\" }, { code = \"P-2\" } ]",
            "items = []",
        )
        .measure(
            "smoke",
            "kind = \"smoke\"\nmax_opacity_percent = 30",
            "snaps_percent = [40, 41, 42]\ncolour = \"black\"\nringelmann = 2\n\
             instrument = \"opacimeter\"",
            "snaps_percent = [10, 11, 12]\ncolour = \"grey\"\nwords = \"Hardly any\"\n\
             instrument = \"opacimeter\"",
        )
}

fn texts(value: &Value) -> Vec<String> {
    match value {
        Value::Array(list) => list.iter().flat_map(texts).collect(),
        Value::String(text) => vec![text.value().clone()],
        Value::Integer(number) => vec![number.display_repr().into_owned()],
        Value::Float(number) => vec![number.display_repr().into_owned()],
        other => panic!("{other}"),
    }
}

/// What is typed for the keys of `table`, whose fields are called `name` and their key.
fn typed(name: &str, table: &dyn TableLike, fields: &mut Vec<(String, Vec<String>)>) {
    for (key, item) in table.iter() {
        let value = item.as_value().unwrap();
        match (key, value) {
            (key, _) if IN_THE_FILE_ONLY.contains(&key) => {}
            ("at" | "unit", _) => {}
            ("rows", Value::Array(rows)) => {
                for row in rows.iter().filter_map(Value::as_inline_table) {
                    let at = texts(row.get("at").unwrap()).remove(0);
                    typed(&format!("{name}/rows@{at}"), row, fields);
                }
            }
            ("items", Value::Array(rows)) if rows.is_empty() => {
                fields.push((format!("{name}.items"), vec!["true".to_owned()]));
            }
            ("items", Value::Array(rows)) => {
                for (number, row) in rows.iter().enumerate() {
                    let row = row.as_inline_table().unwrap();
                    typed(&format!("{name}/items#{number}"), row, fields);
                }
            }
            ("values", list) => fields.push((format!("{name}.value"), texts(list))),
            (key, value) => fields.push((format!("{name}.{key}"), texts(value))),
        }
    }
}

fn send(browser: &Browser<'_>, step: &str, fields: &[(String, Vec<String>)]) {
    let texts: Vec<(&str, Vec<&str>)> = fields
        .iter()
        .map(|(name, typed)| (name.as_str(), typed.iter().map(String::as_str).collect()))
        .collect();
    let typed: Vec<(&str, &[&str])> = texts
        .iter()
        .map(|(name, typed)| (*name, &typed[..]))
        .collect();
    let answer = browser.fill(step, &typed, "next");
    assert_eq!(answer.status, 303, "{step}: {}", answer.body);
}

/// The unit of the measure `id` in the plan.
fn planned_unit(limits: &DocumentMut, list: &str, id: &str) -> Option<String> {
    let tables = limits.get(list)?.as_array_of_tables()?;
    let is_it = |table: &&toml_edit::Table| table.get("id").and_then(Item::as_str) == Some(id);
    let table = tables.iter().find(is_it)?;
    let unit = table.get("unit").or_else(|| table.get("per"))?.as_str()?;
    Some(unit.to_owned())
}

/// Empties the file of `part` of what the form asks; what it said before.
pub fn emptied(folder: &Folder, part: &str) -> DocumentMut {
    let file = format!("{part}.toml");
    let whole: DocumentMut = folder.read(&file).parse().unwrap();
    let limits: DocumentMut = folder.read("limits.toml").parse().unwrap();
    let mut left = whole.clone();
    for list in ["condition", "reading"] {
        let Some(tables) = left.get_mut(list).and_then(Item::as_table_like_mut) else {
            continue;
        };
        let ids: Vec<String> = tables.iter().map(|(id, _)| id.to_owned()).collect();
        for id in ids {
            let planned = planned_unit(
                &limits,
                if list == "reading" { "measure" } else { list },
                &id,
            );
            let table = tables
                .get_mut(&id)
                .and_then(Item::as_table_like_mut)
                .unwrap();
            let keys: Vec<String> = table.iter().map(|(key, _)| key.to_owned()).collect();
            for key in keys {
                let own_unit = || {
                    let unit = table.get("unit").and_then(Item::as_str).map(str::to_owned);
                    assert!(unit.as_deref().and_then(Unit::named).is_some());
                    unit != planned
                };
                let stays =
                    IN_THE_FILE_ONLY.contains(&key.as_str()) || (key == "unit" && own_unit());
                if !stays {
                    table.remove(&key);
                }
            }
            if table.is_empty() {
                tables.remove(&id);
            }
        }
    }
    folder.write(&file, left.to_string());
    whole
}

/// Fields with what is typed into each.
pub type Typed = Vec<(String, Vec<String>)>;

/// What is typed into each field of `list` of a run: its table's id, and its fields.
pub fn typed_of(whole: &DocumentMut, file: &str, list: &str) -> Vec<(String, Typed)> {
    let tables = whole.get(list).and_then(Item::as_table_like);
    let tables = tables.into_iter().flat_map(|table| table.iter());
    let each = tables.map(|(id, item)| {
        let mut fields = Vec::new();
        let name = format!("{file}/{list}/{id}");
        typed(&name, item.as_table_like().unwrap(), &mut fields);
        (id.to_owned(), fields)
    });
    each.collect()
}

/// Empties the file of `part`, and fills it in again by the form.
fn again_by_the_form(folder: &Folder, part: &str) {
    let file = format!("{part}.toml");
    let whole = emptied(folder, part);
    let served = Served::job(&folder.path());
    let browser = served.enter();
    let conditions = typed_of(&whole, &file, "condition");
    let conditions: Vec<_> = conditions.into_iter().flat_map(|(_, one)| one).collect();
    if !conditions.is_empty() {
        send(&browser, &format!("/{part}/conditions"), &conditions);
    }
    for (id, mut fields) in typed_of(&whole, &file, "reading") {
        let step = format!("/{part}/m-{id}");
        let mut one = Vec::new();
        // Another entry of a list is asked for once there is the one before it.
        let second = fields
            .iter()
            .position(|(name, _)| name.contains("/items#1"));
        let rest = second.map_or_else(Vec::new, |second| fields.split_off(second));
        one.extend(fields);
        send(&browser, &step, &one);
        for field in rest {
            send(&browser, &step, &[field]);
        }
        let page = browser.get(&step).body;
        let here = page.split("aria-current").next().unwrap_or_default();
        assert!(
            here.ends_with(&format!("<li class=\"done\"><a href=\"{step}\" ")),
            "{step}: {page}"
        );
    }
    let page = browser.get(&format!("/{part}/end")).body;
    assert!(!page.contains("To correct"), "{part}: {page}");
}

/// What `check` says of the job, for programs, but for the digests and sizes of its files.
pub fn judged(folder: &Folder) -> String {
    let found = run(&["check", "--json", folder.path().to_str().unwrap()]);
    assert!(found.err.is_empty(), "{}", found.err);
    let mut result: serde_json::Value = serde_json::from_str(&found.out).unwrap();
    let files = result.as_object_mut().unwrap().remove("inputs");
    assert!(files.is_some(), "{}", found.out);
    serde_json::to_string_pretty(&result).unwrap()
}

fn same_by_the_form(name: &str, folder: &Folder) {
    let by_editor = judged(folder);
    for part in ["baseline", "retest"] {
        again_by_the_form(folder, part);
    }
    let by_form = judged(folder);
    let differs = |(one, other): &(&str, &str)| one != other;
    let lines = by_form.lines().zip(by_editor.lines()).find(differs);
    assert!(by_form == by_editor, "{name}: {lines:?}");
}

#[test]
fn the_form_and_the_editor_come_to_the_same() {
    for sample in SAMPLES {
        same_by_the_form(sample, &Folder::copy_of(sample));
    }
    same_by_the_form("rare kinds", &rare().folder());
}

/// Whoever plans at the form is told what stands in the file and is not asked.
#[test]
fn what_is_only_in_the_file_is_named() {
    let folder = rare().folder();
    let served = Served::job(&folder.path());
    let browser = served.enter();
    let plan = browser.get("/plan/measures").body;
    for told in [
        "1: also in limits.toml, and to be changed there: at, limit_rows.",
        "2: also in limits.toml, and to be changed there: bands.",
        "3: also in limits.toml, and to be changed there: worked_out.",
    ] {
        assert!(plan.contains(told), "{told}: {plan}");
    }
    let smoke = browser.get("/baseline/m-smoke").body;
    let told = "Measure smoke: also in baseline.toml, and to be changed there: snaps_percent, \
                ringelmann.";
    assert!(smoke.contains(told), "{smoke}");
    // What is worked out is not read, so that it has no page.
    assert_eq!(browser.get("/baseline/m-above").status, 404);
}

/// A position that a reading was not possible at counts as done, and says why in its row.
#[test]
fn a_position_without_a_reading_is_done() {
    let folder = Folder::copy_of("grain-fan-motor");
    let why =
        "{ at = \"fan end\", not_taken = \"The guard could not come off while the fan turned.\" }";
    folder.replace("baseline.toml", &format!("  {why},\n"), "");
    let served = Served::job(&folder.path());
    let browser = served.enter();
    let step = "/baseline/m-vibration";
    let missing = |page: &str| page.contains(&format!("<li><a href=\"{step}\">"));
    assert!(missing(&browser.get(step).body));
    let field = "baseline.toml/reading/vibration/rows@fan end.not_taken";
    browser.fill(step, &[(field, &["No access"])], "next");
    let text = folder.read("baseline.toml");
    assert!(
        text.contains("{ at = \"fan end\", not_taken = \"No access\" }"),
        "{text}"
    );
    assert!(!missing(&browser.get(step).body));
}

/// "Nothing is stored" takes no entry out, not even one that was typed in another window.
#[test]
fn nothing_stored_takes_no_entry_out() {
    let folder = Folder::copy_of("baler-engine");
    let full = folder.read("baseline.toml");
    let served = Served::job(&folder.path());
    let browser = served.enter();
    let step = "/baseline/m-faults";
    let tick = "baseline.toml/reading/faults.items";
    let start = full.find("items = [").unwrap();
    let end = full[start..].find("\n]").unwrap() + start + 2;
    folder.write(
        "baseline.toml",
        format!("{}{}", &full[..start], &full[end..]),
    );
    let old_page = browser.get(step).body;
    folder.write("baseline.toml", &full);
    let answer = browser.send_form(step, &old_page, &[(tick, &["true"])], "next");
    assert_eq!(answer.status, 409);
    assert!(
        answer.body.contains("Entries are written below"),
        "{}",
        answer.body
    );
    assert_eq!(folder.read("baseline.toml"), full);
}
