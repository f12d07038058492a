//! The positions at which a measure is read: their sets in `limits.toml`, and the rows that
//! name them.

use super::common_checks;
use super::limit_keys::{LimitKeys, of_service};
use super::place::Place;
use super::problem::Problems;
use super::shapes::{LimitRow, MeasureTable, PositionName, PositionsTable};
use super::spelling::{listed, nearest};
use super::toml_document::Document;
use crate::job::{Called, Machine, OwnLimits, Positions, Scale};

/// The sets of positions that a plan names.
pub fn sets(
    document: &Document,
    tables: Vec<PositionsTable>,
    problems: &mut Problems,
) -> Vec<Positions> {
    let mut sets: Vec<Positions> = Vec::new();
    for (index, table) in tables.into_iter().enumerate() {
        let place = Place {
            document,
            list: "positions",
            at: &index.to_string(),
        };
        common_checks::check_id(document, &[place.list, place.at, "id"], &table.id, problems);
        if table.id == Positions::CYLINDERS {
            place.problem(
                "id",
                "`cylinders` are those of the machine",
                "delete this table: job.toml says how many cylinders there are; or choose \
                 another id",
                problems,
            );
        } else if sets.iter().any(|known| known.id == table.id) {
            place.twice("set", "sets of positions", &table.id, problems);
        }
        let names = names(&place, &table, problems);
        sets.push(Positions {
            id: table.id,
            called: Called::Own {
                one: table.one,
                many: table.many,
            },
            // A set that is not sound is still there, so that this is said once.
            names: names.unwrap_or_default(),
        });
    }
    sets
}

/// The names of the positions of one set.
fn names(
    place: &Place<'_>,
    table: &PositionsTable,
    problems: &mut Problems,
) -> Option<Vec<String>> {
    match (table.count, &table.names) {
        (Some(count), None) => Some(Positions::numbered(count as usize)),
        (None, Some(names)) => {
            for (index, name) in names.iter().enumerate() {
                if names[..index].iter().any(|known| is_same(known, name)) {
                    place.document.problem(
                        &[place.list, place.at, "names", &index.to_string()],
                        format!("there are two positions called `{name}`"),
                        "give each position its own name",
                        problems,
                    );
                }
            }
            Some(names.clone())
        }
        (Some(_), Some(_)) | (None, None) => {
            place.problem(
                "id",
                "a set of positions needs either `count` or `names`",
                "write `count = 3` for numbers, or `names = [ \"left\", \"right\" ]`",
                problems,
            );
            None
        }
    }
}

/// Two names that differ only in their capitals and the spaces around them are one.
pub fn is_same(one: &str, other: &str) -> bool {
    one.trim().to_lowercase() == other.trim().to_lowercase()
}

/// The set called `id`; of a machine that could not be read, one without positions.
pub fn named(
    place: &Place<'_>,
    id: &str,
    sets: &[Positions],
    machine: Option<&Machine>,
    problems: &mut Problems,
) -> Option<Positions> {
    if id == Positions::CYLINDERS {
        return match machine {
            None => Some(Positions::cylinders(0)),
            Some(machine) => {
                if machine.cylinders.is_none() {
                    place.problem(
                        "at",
                        "the number of cylinders of the machine is missing",
                        "add `cylinders = …` under `[machine]` in job.toml",
                        problems,
                    );
                }
                machine.cylinders.map(Positions::cylinders)
            }
        };
    }
    let found = sets.iter().find(|set| set.id == id);
    if found.is_none() {
        let ids: Vec<&str> = sets.iter().map(|set| set.id.as_str()).collect();
        let hint = match nearest(id, &ids) {
            Some(near) => format!("did you mean `{near}`?"),
            None if ids.is_empty() => format!(
                "add a table `[[positions]]` or `[[points]]` with `id = \"{id}\"` above the \
                 measures, or use `cylinders`"
            ),
            None => format!("this file has {}", listed(&ids)),
        };
        place.problem(
            "at",
            format!("there is no set of positions `{id}`"),
            hint,
            problems,
        );
    }
    found.cloned()
}

/// So many names are all listed where one is wrong.
const FEW: usize = 8;

/// The place of `name` in `at`; a problem at `path` where there is none.
pub fn index_of(
    document: &Document,
    path: &[&str],
    name: &PositionName,
    at: &Positions,
    problems: &mut Problems,
) -> Option<usize> {
    let written = name.to_string();
    let found = match (at.points(), name) {
        // 0.5 and 0.50 are one setting.
        (Some(points), PositionName::Number(number)) => {
            let mut settings = points.settings.iter();
            settings.position(|setting| setting.written() == *number)
        }
        (Some(_) | None, _) => at.names.iter().position(|known| is_same(known, &written)),
    };
    if let (None, Some(points)) = (found, at.points()) {
        let names: Vec<&str> = at.names.iter().map(String::as_str).collect();
        document.problem(
            path,
            format!("the plan has no point {written}"),
            format!("it is set to {} {}", listed(&names), points.unit.symbol()),
            problems,
        );
    } else if found.is_none() {
        let one = one_of(at);
        let names: Vec<&str> = at.names.iter().map(String::as_str).collect();
        let is_numbered = at.names == Positions::numbered(at.len());
        let hint = match nearest(&written, &names) {
            _ if is_numbered => format!("they are numbered 1 to {}", at.len()),
            _ if names.len() <= FEW => format!("write one of {}", listed(&names)),
            Some(near) => format!("did you mean \"{near}\"?"),
            None => format!("write one of {}", listed(&names)),
        };
        document.problem(
            path,
            format!("the plan has no {one} {written}"),
            hint,
            problems,
        );
    }
    found
}

/// What one position is called, in messages.
pub fn one_of(at: &Positions) -> &str {
    match &at.called {
        Called::Cylinders => "cylinder",
        Called::Own { one, .. } => one,
        Called::Points(_) => "point",
    }
}

/// What several are called, in messages.
pub fn many_of(at: &Positions) -> &str {
    match &at.called {
        Called::Cylinders => "cylinders",
        Called::Own { many, .. } => many,
        Called::Points(_) => "points",
    }
}

/// The keys of a row of limits, and whether they are there.
fn given(row: &LimitRow, table: &MeasureTable) -> Vec<(&'static str, bool)> {
    let exact = [
        ("before", row.before.is_some()),
        ("at_least", row.at_least.is_some()),
        ("max_count", row.max_count.is_some()),
        ("min_count", row.min_count.is_some()),
    ];
    let of_values = LimitKeys::of_row(row, table).given();
    of_values.into_iter().chain(exact).collect()
}

/// What the rows of one kind of measure have.
pub struct RowKeys {
    /// The keys that state a limit, one of which each row needs.
    pub limits: &'static [&'static str],
    /// Those that may stand beside them.
    pub beside: &'static [&'static str],
    /// What to write in a row without a limit.
    pub add: &'static str,
}

/// The limits of single positions: `of` reads a row of this kind.
pub fn own_rows<T: Clone>(
    place: &Place<'_>,
    table: &MeasureTable,
    at: &Positions,
    keys: &RowKeys,
    problems: &mut Problems,
    of: impl Fn(&LimitRow, &[&str], &mut Problems) -> Option<T>,
) -> Vec<Option<T>> {
    let mut own: Vec<Option<T>> = Vec::new();
    for (index, row) in table.limit_rows.iter().enumerate() {
        let number = index.to_string();
        let base = [place.list, place.at, "limit_rows", &number];
        let path = [place.list, place.at, "limit_rows", &number, "at"];
        let Some(position) = index_of(place.document, &path, &row.at, at, problems) else {
            continue;
        };
        own.resize(at.len(), None);
        let given = given(row, table).into_iter();
        let given: Vec<&str> = given.filter_map(|(key, is)| is.then_some(key)).collect();
        let mut strange = given.iter().filter(|key| !keys.has(key)).peekable();
        if strange.peek().is_none() && !given.iter().any(|key| keys.limits.contains(key)) {
            place
                .document
                .problem(&path, "this row has no limit", keys.add, problems);
        }
        for key in strange {
            place.document.problem(
                &[base.as_slice(), &[key]].concat(),
                format!("`{key}` does not apply to this kind of measure"),
                format!("delete it, or {}", keys.add),
                problems,
            );
        }
        if own[position].is_some() {
            place.document.problem(
                &path,
                format!("{} {} has two rows", one_of(at), row.at),
                "delete one of them",
                problems,
            );
        }
        own[position] = of(row, &base, problems);
    }
    own
}

impl RowKeys {
    fn has(&self, key: &str) -> bool {
        self.limits.contains(&key) || self.beside.contains(&key)
    }
}

/// The rows of values.
const OF_VALUES: RowKeys = RowKeys {
    limits: &["min", "max", "target"],
    beside: &[
        "within",
        "within_percent",
        "should_min",
        "should_max",
        "as_printed",
        "before",
    ],
    add: "add `min`, `max` or both, or `target`",
};

/// The limits of single positions at which values are read.
pub fn own_limits(
    place: &Place<'_>,
    table: &MeasureTable,
    at: &Positions,
    common: &Scale,
    problems: &mut Problems,
) -> Vec<Option<OwnLimits>> {
    own_rows(
        place,
        table,
        at,
        &OF_VALUES,
        problems,
        |row, base, problems| {
            let keys = LimitKeys::of_row(row, table);
            let (document, unit) = (place.document, common.unit);
            let own = keys.limits(document, base, unit, false, problems)?;
            Some(OwnLimits {
                before: of_service(row.before.as_ref(), place.document, base, unit, problems),
                ..own
            })
        },
    )
}
