//! What the positions and points of a measure are called.

use super::figures;
use super::limits;
use super::words::Words;
use crate::job::{Called, Points, Positions};

/// One position as it is called: `cylinder 4`, `phase U`, `Pump speed 1000 rpm`.
pub fn called(at: &Positions, place: usize, words: &Words) -> String {
    let name = at.name(place);
    match &at.called {
        Called::Cylinders => words.say_with("cylinder-called", &[("name", name)]),
        Called::Own { one, .. } => {
            words.say_with("position-called", &[("one", one), ("name", name)])
        }
        Called::Points(points) => points_called(points, &setting(at, place, words), words),
    }
}

/// What one position is called, without its name.
pub fn one(at: &Positions, words: &Words) -> String {
    match &at.called {
        Called::Cylinders => words.say("cylinder-one"),
        Called::Own { one, .. } => one.clone(),
        Called::Points(points) => points.what.clone(),
    }
}

/// What several are called.
pub fn many(at: &Positions, words: &Words) -> String {
    match &at.called {
        Called::Cylinders => words.say("cylinder-many"),
        Called::Own { many, .. } => many.clone(),
        Called::Points(_) => words.say("point-many"),
    }
}

/// Several positions by their names: `cylinder 2, 4`, `Pump speed 600, 1000 rpm`.
pub fn several(at: &Positions, names: &[String], words: &Words) -> String {
    let names = names.join(", ");
    match &at.called {
        Called::Points(points) => points_called(points, &localised(&names, words), words),
        Called::Cylinders | Called::Own { .. } => words.say_with(
            "positions-called",
            &[("one", &one(at, words)), ("names", &names)],
        ),
    }
}

fn points_called(points: &Points, settings: &str, words: &Words) -> String {
    let settings = figures::with_unit(settings, points.unit.symbol());
    let variables = [("what", points.what.as_str()), ("settings", &settings)];
    words.say_with("points-called", &variables)
}

/// The name of a position as it is printed: a setting with the decimal sign of the language.
pub fn setting(at: &Positions, place: usize, words: &Words) -> String {
    match at.points().and_then(|points| points.settings.get(place)) {
        Some(setting) => figures::digits(*setting, words),
        None => at.name(place).to_owned(),
    }
}

/// Settings as they were written, with the decimal sign of the language.
fn localised(settings: &str, words: &Words) -> String {
    settings.replace('.', words.decimal_sign())
}

/// The head of the column of the positions.
pub fn head(at: &Positions, words: &Words) -> String {
    let one = capital(&one(at, words));
    match at.points() {
        Some(points) => limits::with_unit_of(&one, points.unit),
        None => one,
    }
}

/// A noun at the head of a column.
fn capital(noun: &str) -> String {
    let mut letters = noun.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}
