//! Points of one test in `limits.toml`: what is set, and to what.

use super::common_checks;
use super::place::Place;
use super::problem::Problems;
use super::shapes::PointsTable;
use super::toml_document::Document;
use crate::job::{Called, Points, Positions};
use crate::quantity::Quantity;

/// Adds the sets of points that a plan names to its sets of positions: measures refer to both
/// in the same way.
pub fn add(
    document: &Document,
    tables: Vec<PointsTable>,
    sets: &mut Vec<Positions>,
    problems: &mut Problems,
) {
    for (index, table) in tables.into_iter().enumerate() {
        let place = Place {
            document,
            list: "points",
            at: &index.to_string(),
        };
        common_checks::check_id(document, &[place.list, place.at, "id"], &table.id, problems);
        let is_taken =
            table.id == Positions::CYLINDERS || sets.iter().any(|known| known.id == table.id);
        if is_taken {
            place.problem(
                "id",
                format!("there is another set of positions or points `{}`", table.id),
                "give each set its own id; `cylinders` are those of the machine",
                problems,
            );
        }
        sets.extend(one(&place, table, problems));
    }
}

fn one(place: &Place<'_>, table: PointsTable, problems: &mut Problems) -> Option<Positions> {
    let document = place.document;
    let path = [place.list, place.at, "unit"];
    let unit = common_checks::unit(document, &path, &table.unit, problems)?;
    let mut settings: Vec<Quantity> = Vec::new();
    for (index, setting) in table.settings.iter().enumerate() {
        let path = [place.list, place.at, "settings", &index.to_string()];
        let setting = common_checks::quantity(document, &path, *setting, unit, problems)?;
        if settings
            .last()
            .is_some_and(|last| last.si() >= setting.si())
        {
            document.problem(
                &path,
                "the settings do not rise from one to the next",
                "sort them, and write each once",
                problems,
            );
            return None;
        }
        settings.push(setting);
    }
    let held_within = table.held_within.filter(|held| *held != 0.0).map(|held| {
        let path = [place.list, place.at, "held_within"];
        common_checks::difference(document, &path, held, unit, problems)
    });
    let held_within = match held_within {
        Some(held) => Some(held?),
        None => None,
    };
    Some(Positions {
        id: table.id,
        names: settings.iter().map(name).collect(),
        called: Called::Points(Points {
            what: table.what,
            unit,
            settings,
            held_within,
        }),
    })
}

/// A setting with the digits in which it is written.
fn name(setting: &Quantity) -> String {
    match setting.digits() {
        Some(digits) => digits.to_string(),
        None => setting.written().to_string(),
    }
}
