//! The worksheet: a form to fill in by hand at the machine, in the order in which a
//! technician works, baseline and retest side by side.

use serde::Serialize;

use super::complaint::shortened;
use super::conditions;
use super::data::{Pair, Sheet};
use super::exact;
use super::figures;
use super::formula;
use super::how_judged;
use super::letterhead::sheet;
use super::limits;
use super::measures::required;
use super::places;
use super::who_and_when;
use super::words::Words;
use crate::job::{
    Condition, ConditionKind, ExactScale, Harder, Kind, Measure, Meter, Plan, Positions, Scale,
    Shop, SmokeLimits,
};
use crate::quantity::Dimension;

/// What the template of the worksheet gets. Every string is final.
#[derive(Debug, Serialize)]
pub struct Worksheet {
    /// What every document has.
    #[serde(flatten)]
    pub sheet: Sheet,
    /// Machine and customer.
    pub about: Vec<Pair>,
    /// The complaint, or its start where it is long.
    pub complaint: String,
    /// What must not be forgotten, one sentence each.
    pub reminders: Vec<String>,
    /// Who, when, meter.
    pub runs: Vec<SheetRow>,
    /// The conditions, soak and temperatures first.
    pub conditions: Vec<SheetRow>,
    /// Cautions for the tests below.
    pub cautions: Vec<String>,
    /// The measures, in the order of the limits file.
    pub measures: Vec<SheetRow>,
}

/// One thing to write down in both runs.
#[derive(Debug, Serialize)]
pub struct SheetRow {
    /// The id of the condition or measure; empty for what is of no one.
    #[serde(skip)]
    pub id: String,
    /// What it is.
    pub name: String,
    /// Whether the verdict depends on it, in words; empty if not.
    pub required: String,
    /// Limit and source, method, instrument, what can hurt; one line each.
    pub notes: Vec<String>,
    /// The blanks, the same in both runs.
    pub fields: Vec<Field>,
}

/// Blanks to write into.
#[derive(Debug, Default, Serialize)]
pub struct Field {
    /// The text before them; may be empty.
    pub label: String,
    /// How many blanks there are.
    pub blanks: usize,
    /// The text between two blanks; may be empty.
    pub joint: String,
    /// The text after them: the unit; may be empty.
    pub unit: String,
    /// Whether it takes a line of its own, for words.
    pub wide: bool,
    /// What to choose from instead of a blank: one of these is circled.
    pub choices: Vec<String>,
}

/// Builds the worksheet.
pub fn worksheet(plan: &Plan, shop: &Shop, words: &Words) -> Worksheet {
    Worksheet {
        sheet: sheet(["sheet-title", "sheet-kind"], plan, shop, words),
        about: who_and_when::about(plan, words),
        complaint: shortened(&plan.complaint).unwrap_or_else(|| plan.complaint.clone()),
        reminders: [
            "sheet-before-work",
            "sheet-alike",
            "sheet-all-digits",
            "sheet-photos",
        ]
        .map(|id| words.say(id))
        .to_vec(),
        runs: runs(plan.machine.meter, words),
        conditions: conditions(plan, words),
        cautions: how_judged::cautions_of(&plan.limits.measures, words),
        measures: plan
            .limits
            .measures
            .iter()
            .map(|measure| row(plan, measure, words))
            .collect(),
    }
}

/// One blank with the text before and after it.
fn blank(label: String, unit: &str) -> Field {
    Field {
        label,
        blanks: 1,
        unit: unit.to_owned(),
        ..Field::default()
    }
}

/// A line for words.
fn line(label: String) -> Field {
    Field {
        wide: true,
        ..blank(label, "")
    }
}

fn runs(meter: Option<Meter>, words: &Words) -> Vec<SheetRow> {
    let row = |name: &str, fields| SheetRow {
        id: String::new(),
        name: words.say(name),
        required: String::new(),
        notes: Vec::new(),
        fields,
    };
    let hours = Field {
        joint: words.say("sheet-to"),
        blanks: 2,
        ..blank(words.say("sheet-from"), "")
    };
    let day = blank(words.say("sheet-day"), "");
    let mut rows = vec![
        row("sheet-when", vec![day, hours]),
        row("run-by", vec![line(String::new())]),
        row("run-witness", vec![line(String::new())]),
    ];
    // A machine that has none is not asked for one.
    let meter = match meter {
        Some(Meter::None) => None,
        Some(Meter::Hours) => Some(("sheet-hour-meter", "h".to_owned())),
        Some(Meter::Distance) => Some(("sheet-odometer", words.say("sheet-odometer-unit"))),
        None => Some(("sheet-meter", words.say("sheet-meter-unit"))),
    };
    rows.extend(meter.map(|(name, unit)| row(name, vec![blank(String::new(), &unit)])));
    let remarks = who_and_when::remarks_on_worksheet();
    rows.extend(remarks.map(|name| row(name, vec![line(String::new())])));
    rows
}

/// Soak first, then temperatures, then the rest: what can no longer be measured once the
/// machine runs comes first.
fn conditions(plan: &Plan, words: &Words) -> Vec<SheetRow> {
    let place = |condition: &&Condition| match &condition.kind {
        ConditionKind::Value { .. } | ConditionKind::Text if condition.id == "soak" => 0,
        ConditionKind::Value { unit, .. } if unit.dimension() == Dimension::Temperature => 1,
        ConditionKind::Value { .. } | ConditionKind::Text => 2,
    };
    let mut conditions: Vec<&Condition> = plan.limits.conditions.iter().collect();
    conditions.sort_by_key(place);
    conditions
        .into_iter()
        .map(|condition| {
            let (window, field, instrument) = match &condition.kind {
                ConditionKind::Text => {
                    (words.say("window-same"), line(String::new()), String::new())
                }
                ConditionKind::Value {
                    unit,
                    window,
                    harder,
                } => {
                    let window = conditions::window(*window, words);
                    let window = match harder {
                        Some(Harder::Lower) => {
                            words.say_with("sheet-lower-is-more-severe", &[("window", &window)])
                        }
                        Some(Harder::Higher) => {
                            words.say_with("sheet-higher-is-more-severe", &[("window", &window)])
                        }
                        None => window,
                    };
                    let field = blank(String::new(), unit.symbol());
                    // Hours of standing are worked out from date and time.
                    let instrument = match unit.dimension() {
                        Dimension::Time => String::new(),
                        other => instruments(plan, other, words),
                    };
                    (window, field, instrument)
                }
            };
            SheetRow {
                id: condition.id.clone(),
                name: conditions::named(condition, &plan.limits, words),
                required: required(condition.required, words),
                notes: vec![filled([window, instrument]).join(" · ")],
                fields: vec![field],
            }
        })
        .collect()
}

fn row(plan: &Plan, measure: &Measure, words: &Words) -> SheetRow {
    let mut limit = limits::of_measure(measure, &plan.limits, words);
    if !limit.is_empty() {
        limit = words.say_with("sheet-limit", &[("limit", &limit)]);
        if let Some(source) = &measure.source {
            limit = words.say_with("limit-source", &[("limit", &limit), ("source", source)]);
        }
    }
    let instrument = match &measure.kind {
        // What is worked out needs none of its own.
        Kind::Value(_) | Kind::ValueAt(_) if measure.worked_out.is_some() => String::new(),
        Kind::Value(scale) => instruments(plan, scale.unit.dimension(), words),
        Kind::ValueAt(scales) => instruments(plan, scales.common.unit.dimension(), words),
        Kind::Smoke(_) => instruments(plan, Dimension::Ratio, words),
        Kind::Rate(scale) => instruments(plan, scale.per.dimension(), words),
        Kind::Passes { .. }
        | Kind::PassesAt { .. }
        | Kind::Exact(_)
        | Kind::ExactAt(_)
        | Kind::List(_)
        | Kind::Text => String::new(),
    };
    let hazards: Vec<String> = measure
        .hazards
        .iter()
        .map(|hazard| words.say(how_judged::hazard_name(*hazard)))
        .collect();
    let hazards = match hazards.as_slice() {
        [] => String::new(),
        several => words.say_with("sheet-mind", &[("hazards", &several.join(", "))]),
    };
    SheetRow {
        id: measure.id.clone(),
        // One unit for all positions is given with the name.
        name: match &measure.kind {
            Kind::ValueAt(scales) => limits::with_unit_of(&measure.name, scales.common.unit),
            Kind::Value(_)
            | Kind::Passes { .. }
            | Kind::PassesAt { .. }
            | Kind::Exact(_)
            | Kind::ExactAt(_)
            | Kind::Rate(_)
            | Kind::List(_)
            | Kind::Smoke(_)
            | Kind::Text => measure.name.clone(),
        },
        required: match measure.worked_out {
            None => required(measure.required, words),
            Some(_) => filled([
                required(measure.required, words),
                words.say("sheet-nothing-to-fill-in"),
            ])
            .join(" · "),
        },
        notes: filled([
            limit,
            measure
                .worked_out
                .as_ref()
                .map_or_else(String::new, |formula| {
                    formula::text(formula, &plan.limits, words)
                }),
            limits::measured_against(measure, words).unwrap_or_default(),
            exact::bands_planned("sheet-bands", measure, words).unwrap_or_default(),
            measure.method.clone().unwrap_or_default(),
            filled([instrument, hazards]).join(" · "),
        ]),
        // What is worked out is not written down.
        fields: match measure.worked_out {
            None => fields(measure, words),
            Some(_) => Vec::new(),
        },
    }
}

fn filled<const N: usize>(notes: [String; N]) -> Vec<String> {
    notes.into_iter().filter(|note| !note.is_empty()).collect()
}

/// The instruments of the job that measure `dimension`, to choose from.
fn instruments(plan: &Plan, dimension: Dimension, words: &Words) -> String {
    let fitting: Vec<&str> = plan
        .instruments
        .iter()
        .filter(|instrument| instrument.unit.dimension().serves(dimension))
        .map(|instrument| instrument.id.as_str())
        .collect();
    match fitting.as_slice() {
        [] => String::new(),
        [only] => words.say_with("sheet-instrument", &[("id", only)]),
        several => words.say_with("sheet-instruments", &[("ids", &several.join(", "))]),
    }
}

fn fields(measure: &Measure, words: &Words) -> Vec<Field> {
    let values = |label: String, unit: &str| Field {
        blanks: measure.repeats.unwrap_or(1),
        ..blank(label, unit)
    };
    let passes = |label: String| Field {
        label,
        blanks: 2,
        joint: words.say("label-of"),
        ..Field::default()
    };
    match &measure.kind {
        Kind::Value(scale) => vec![values(String::new(), symbol(scale))],
        Kind::ValueAt(scales) => {
            let names = names(&scales.at, words);
            names.into_iter().map(|name| values(name, "")).collect()
        }
        Kind::Passes { .. } => vec![passes(words.say("sheet-passed"))],
        Kind::PassesAt { at, .. } => names(at, words).into_iter().map(passes).collect(),
        Kind::Exact(scale) => vec![exact_field(String::new(), scale)],
        Kind::ExactAt(scales) => {
            let names = names(&scales.at, words).into_iter();
            names
                .map(|name| exact_field(name, &scales.common))
                .collect()
        }
        Kind::Rate(scale) => vec![Field {
            joint: words.say("sheet-counted-in"),
            unit: scale.per.symbol().to_owned(),
            blanks: 2,
            ..blank(words.say("sheet-counted"), "")
        }],
        Kind::List(_) => (0..3).map(|_| line(words.say("sheet-entry"))).collect(),
        Kind::Smoke(limits) => smoke(limits, words),
        Kind::Text => vec![line(String::new()), line(String::new())],
    }
}

/// A scale to circle one grade of, or a blank for a count.
fn exact_field(label: String, scale: &ExactScale) -> Field {
    match scale {
        ExactScale::Grades(grades) => Field {
            label,
            choices: grades.names.clone(),
            wide: true,
            ..Field::default()
        },
        ExactScale::Counts(_) => blank(label, ""),
    }
}

/// What stands before the blanks of each position; of points, their settings with the unit.
fn names(at: &Positions, words: &Words) -> Vec<String> {
    let each = (0..at.len()).map(|place| {
        let name = places::setting(at, place, words);
        match at.points() {
            Some(points) => figures::with_unit(&name, points.unit.symbol()),
            None => name,
        }
    });
    each.collect()
}

fn symbol(scale: &Scale) -> &'static str {
    match scale.unit.symbol() {
        "1" => "",
        symbol => symbol,
    }
}

/// Only what a limit asks for; where none does, how long it was seen and what it looked like.
fn smoke(limits: &SmokeLimits, words: &Words) -> Vec<Field> {
    let metered = limits.max_opacity.is_some() || limits.max_absorption.is_some();
    let mut fields = Vec::new();
    if metered {
        fields.push(Field {
            blanks: 3,
            ..blank(words.say("sheet-opacity"), "%")
        });
    }
    if limits.max_absorption.is_some() {
        fields.push(blank(words.say("sheet-path"), "mm"));
    }
    if limits.max_clear.is_some() || !metered {
        fields.push(blank(words.say("sheet-clear"), "s"));
    }
    fields.push(line(words.say("sheet-colour")));
    fields
}
