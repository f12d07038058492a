//! `limits.toml` → [`Limits`].

use super::common_checks;
use super::exact;
use super::formula::Names;
use super::limit_keys::LimitKeys;
use super::place::Place;
use super::points;
use super::positions;
use super::problem::Problems;
use super::scale::scale;
use super::shapes::{ConditionTable, KindWord, LimitsFile, MeasureTable};
use super::spelling::{listed, nearest};
use super::toml_document::Document;
use super::variation;
use super::worked_out;
use crate::job::{
    Condition, ConditionKind, DecisionRule, ExactScale, Formula, Kind, Limits, ListLimits, Machine,
    Measure, Positions, ScaleAt, SmokeLimits, TestKind,
};
use crate::quantity::Unit;

/// Measures, limits, decision rule and conditions, for `machine` where that is
/// known.
pub fn limits(
    document: &Document,
    shape: LimitsFile,
    machine: Option<&Machine>,
    problems: &mut Problems,
) -> Option<Limits> {
    let before = problems.len();
    let mut sets = positions::sets(document, shape.positions, problems);
    points::add(document, shape.points, &mut sets, problems);
    let tables = worked_out::tables(document, shape.table, problems);
    let ids: Vec<String> = shape.measure.iter().map(|it| it.id.clone()).collect();
    let mut conditions: Vec<Condition> = Vec::new();
    for (index, table) in shape.condition.into_iter().enumerate() {
        let place = Place {
            document,
            list: "condition",
            at: &index.to_string(),
        };
        if conditions.iter().any(|known| known.id == table.id) {
            place.twice("condition", "conditions", &table.id, problems);
        }
        worked_out::not_reserved(&place, &table.id, problems);
        concerned(&place, &table.concerns, &ids, problems);
        conditions.extend(condition(&place, table, problems));
    }
    let mut measures: Vec<Measure> = Vec::new();
    let mut refused: Vec<String> = Vec::new();
    for (index, table) in shape.measure.into_iter().enumerate() {
        let place = Place {
            document,
            list: "measure",
            at: &index.to_string(),
        };
        if measures.iter().any(|known| known.id == table.id) {
            place.twice("measure", "measures", &table.id, problems);
        }
        worked_out::not_reserved(&place, &table.id, problems);
        let names = worked_out::names(&measures, &conditions, &tables, &refused);
        let surroundings = Surroundings {
            sets: &sets,
            machine,
            names: &names,
        };
        let id = table.id.clone();
        match measure(&place, table, &surroundings, problems) {
            Some(measure) => measures.push(measure),
            None => refused.push(id),
        }
    }
    (problems.len() == before).then_some(Limits {
        rule_named: shape.decision_rule.is_some(),
        rule: shape.decision_rule.unwrap_or(DecisionRule::FourZone),
        agreed: shape.agreed,
        measures,
        conditions,
    })
}

/// The measures that a condition bears on are there.
fn concerned(place: &Place<'_>, concerns: &[String], ids: &[String], problems: &mut Problems) {
    for (index, id) in concerns.iter().enumerate() {
        if ids.contains(id) {
            continue;
        }
        let known: Vec<&str> = ids.iter().map(String::as_str).collect();
        let hint = match nearest(id, &known) {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("this file has {}", listed(&known)),
        };
        let path = [place.list, place.at, "concerns", &index.to_string()];
        let message = format!("there is no measure `{id}`");
        place.document.problem(&path, message, hint, problems);
    }
}

/// What a measure may refer to.
struct Surroundings<'a> {
    sets: &'a [Positions],
    machine: Option<&'a Machine>,
    names: &'a Names<'a>,
}

fn measure(
    place: &Place<'_>,
    table: MeasureTable,
    surroundings: &Surroundings<'_>,
    problems: &mut Problems,
) -> Option<Measure> {
    common_checks::check_id(
        place.document,
        &[place.list, place.at, "id"],
        &table.id,
        problems,
    );
    keys_fit_kind(place, &table, problems);
    if table.paired && table.at.is_some() {
        place.problem(
            "paired",
            "`paired` does not apply to a measure that is read at several positions",
            "delete it: each position is compared with itself",
            problems,
        );
    }
    let at = match &table.at {
        None => None,
        Some(id) => Some(positions::named(
            place,
            id,
            surroundings.sets,
            surroundings.machine,
            problems,
        )?),
    };
    let unit = table.unit.as_deref().and_then(Unit::named);
    let worked_out = unit
        .and_then(|unit| worked_out::of_measure(place, &table, unit, surroundings.names, problems));
    if table.least_read.is_some() && table.worked_out.is_none() {
        place.problem(
            "least_read",
            "`least_read` is of a figure that is worked out over several positions",
            "delete it, or add `worked_out`",
            problems,
        );
    }
    let at = at.or_else(|| worked_out.as_ref().and_then(Formula::at).cloned());
    let is_at_one = at.is_none() && (table.worked_out.is_none() || worked_out.is_some());
    if is_at_one && !table.limit_rows.is_empty() && keys_of(table.kind).contains(&"limit_rows") {
        place.problem(
            "limit_rows",
            "`limit_rows` states limits of single positions, and this is read at one place",
            "add `at`, or write the limit without rows",
            problems,
        );
    }
    let min = table.min_passes;
    let kind = match (table.kind, at) {
        (KindWord::Value, None) => {
            let names = surroundings.names;
            Kind::Value(scale(place, &table, None, names, problems)?)
        }
        (KindWord::Value, Some(at)) => {
            let common = scale(place, &table, Some(&at), surroundings.names, problems)?;
            let own = positions::own_limits(place, &table, &at, &common, problems);
            Kind::ValueAt(ScaleAt { at, common, own })
        }
        (KindWord::Passes, None) => Kind::Passes { min },
        (KindWord::Passes, Some(at)) => Kind::PassesAt { at, min },
        (KindWord::Grade, at) => {
            let scale = ExactScale::Grades(exact::grades(place, &table, problems)?);
            exact::kind(place, &table, scale, at, problems)
        }
        (KindWord::Count, None) if table.per.is_some() => {
            Kind::Rate(exact::rate(place, &table, problems)?)
        }
        (KindWord::Count, at) => {
            let scale = ExactScale::Counts(exact::counts(place, &table, problems)?);
            exact::kind(place, &table, scale, at, problems)
        }
        (KindWord::List, _) => Kind::List(ListLimits {
            max: table.max_count,
            none_new: table.none_new,
        }),
        (KindWord::Smoke, _) => {
            let in_unit = |key, value, symbol| {
                let path = [place.list, place.at, key];
                common_checks::in_unit(place.document, &path, value, symbol)
            };
            Kind::Smoke(SmokeLimits {
                max_opacity: in_unit("max_opacity_percent", table.max_opacity_percent, "%"),
                path: in_unit("path_length_mm", table.path_length_mm, "mm"),
                max_absorption: in_unit("max_absorption", table.max_absorption, "m⁻¹"),
                max_clear: in_unit("max_clear_seconds", table.max_clear_seconds, "s"),
            })
        }
        (KindWord::Text, _) => Kind::Text,
    };
    if table.path_length_mm.is_some() && table.max_opacity_percent.is_none() {
        place.problem(
            "path_length_mm",
            "`path_length_mm` gives the light path of an opacity limit, but there is no such limit",
            "add `max_opacity_percent`, or delete `path_length_mm`",
            problems,
        );
    }
    if table.required && !kind.has_limit() {
        place.not_filled_in(
            "required",
            format!("`{}` is required but has no limit", table.id),
            "add a limit or a required improvement, or delete `required`",
            problems,
        );
    }
    if kind.has_limit() && table.source.is_none() {
        place.not_filled_in(
            "id",
            format!("the limit of `{}` has no source", table.id),
            "add `source = \"…\"`: the manual and section, or with whom it was agreed",
            problems,
        );
    }
    let variation = variation::variation(place, &table, problems)?;
    let by_eye = variation::by_eye(place, &table, problems);
    variation::pressure(place, &table, problems);
    let mut hazards = table.hazards;
    hazards.extend(table.test.map_or(&[][..], TestKind::usual_hazards));
    hazards.sort();
    hazards.dedup();
    Some(Measure {
        id: table.id,
        name: table.name,
        kind,
        worked_out,
        repeats: table.repeats.map(usize::from),
        required: table.required,
        source: table.source,
        method: table.method,
        meaning: table.meaning,
        test: table.test,
        paired: table.paired,
        variation,
        by_eye,
        cannot_tell: table.cannot_tell,
        hazards,
        front: table.front_page,
    })
}

/// A key of another kind would be ignored without notice, so it is refused.
fn keys_fit_kind(place: &Place<'_>, table: &MeasureTable, problems: &mut Problems) {
    let limit = LimitKeys::of_measure(table).given();
    let given = [
        ("paired", table.paired),
        ("at", table.at.is_some()),
        ("worked_out", table.worked_out.is_some()),
        ("least_read", table.least_read.is_some()),
        ("limit_rows", !table.limit_rows.is_empty()),
        ("unit", table.unit.is_some()),
        ("repeats", table.repeats.is_some()),
        ("better", table.better.is_some()),
        ("before", table.before.is_some()),
        ("min_by", table.min_by.is_some()),
        ("max_by", table.max_by.is_some()),
        ("improve_by", table.improve_by.is_some()),
        ("improve_percent", table.improve_percent.is_some()),
        ("min_passes", table.min_passes.is_some()),
        ("grades", table.grades.is_some()),
        ("at_least", table.at_least.is_some()),
        ("max_count", table.max_count.is_some()),
        ("min_count", table.min_count.is_some()),
        ("per", table.per.is_some()),
        ("max_rate", table.max_rate.is_some()),
        ("min_rate", table.min_rate.is_some()),
        ("none_new", table.none_new),
        ("bands", table.bands.is_some()),
        ("max_opacity_percent", table.max_opacity_percent.is_some()),
        ("path_length_mm", table.path_length_mm.is_some()),
        ("max_absorption", table.max_absorption.is_some()),
        ("max_clear_seconds", table.max_clear_seconds.is_some()),
        ("run_to_run", table.run_to_run.is_some()),
        ("separate_runs", table.separate_runs),
        (
            "judged_by_eye_seconds",
            table.judged_by_eye_seconds.is_some(),
        ),
        ("pressure", table.pressure.is_some()),
    ];
    let fitting = keys_of(table.kind);
    for (key, is_given) in given.into_iter().chain(limit) {
        if is_given && !fitting.contains(&key) {
            place.problem(
                key,
                format!("`{key}` does not apply to this kind of measure"),
                "delete it, or change `kind`",
                problems,
            );
        }
    }
}

/// The keys that belong to one kind of measure; every kind has the others.
fn keys_of(kind: KindWord) -> &'static [&'static str] {
    match kind {
        KindWord::Value => &[
            "at",
            "limit_rows",
            "worked_out",
            "least_read",
            "paired",
            "unit",
            "repeats",
            "better",
            "min",
            "max",
            "target",
            "within",
            "within_percent",
            "should_min",
            "should_max",
            "as_printed",
            "before",
            "min_by",
            "max_by",
            "improve_by",
            "improve_percent",
            "run_to_run",
            "separate_runs",
            "judged_by_eye_seconds",
            "pressure",
            "bands",
        ],
        KindWord::Grade => &["at", "limit_rows", "grades", "at_least"],
        KindWord::Count => &[
            "at",
            "limit_rows",
            "better",
            "max_count",
            "min_count",
            "per",
            "max_rate",
            "min_rate",
        ],
        KindWord::List => &["max_count", "none_new"],
        KindWord::Passes => &["at", "min_passes"],
        KindWord::Smoke => &[
            "max_opacity_percent",
            "path_length_mm",
            "max_absorption",
            "max_clear_seconds",
            "judged_by_eye_seconds",
        ],
        KindWord::Text => &[],
    }
}

fn condition(
    place: &Place<'_>,
    table: ConditionTable,
    problems: &mut Problems,
) -> Option<Condition> {
    common_checks::check_id(
        place.document,
        &[place.list, place.at, "id"],
        &table.id,
        problems,
    );
    let kind = match &table.unit {
        None => {
            for (key, given) in [
                ("window", table.window.is_some()),
                ("harder", table.harder.is_some()),
            ] {
                if given {
                    place.problem(
                        key,
                        format!("`{key}` does not apply to a condition in words"),
                        "delete it, or add `unit`",
                        problems,
                    );
                }
            }
            ConditionKind::Text
        }
        Some(symbol) => {
            let unit = common_checks::unit(
                place.document,
                &[place.list, place.at, "unit"],
                symbol,
                problems,
            )?;
            let Some(window) = table.window else {
                place.not_filled_in(
                    "id",
                    format!("the condition `{}` has no window", table.id),
                    "add `window = …`: the largest difference that counts as alike",
                    problems,
                );
                return None;
            };
            let path = [place.list, place.at, "window"];
            ConditionKind::Value {
                unit,
                window: common_checks::difference(place.document, &path, window, unit, problems)?,
                harder: table.harder,
            }
        }
    };
    Some(Condition {
        id: table.id,
        name: table.name,
        kind,
        required: table.required,
        concerns: table.concerns,
    })
}
