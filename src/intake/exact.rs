//! The plan of what is read without ±: the grades of a scale, the limits of counts and rates;
//! and the bands in which a value is placed.

use super::common_checks;
use super::place::Place;
use super::positions::{RowKeys, is_same, own_rows};
use super::problem::Problems;
use super::shapes::{BandsTable, MeasureTable};
use super::spelling::{listed, nearest};
use crate::job::{
    Bands, Better, CountLimits, ExactScale, ExactScaleAt, Grades, Kind, Positions, RateScale,
};
use crate::quantity::{Dimension, Quantity, Unit};

/// An exact reading, once or at several positions.
pub fn kind(
    place: &Place<'_>,
    table: &MeasureTable,
    scale: ExactScale,
    at: Option<Positions>,
    problems: &mut Problems,
) -> Kind {
    let Some(at) = at else {
        return Kind::Exact(scale);
    };
    let own = match &scale {
        ExactScale::Grades(grades) => {
            let keys = RowKeys {
                limits: &["at_least"],
                beside: &[],
                add: "add `at_least = \"…\"`",
            };
            own_rows(place, table, &at, &keys, problems, |row, base, problems| {
                let path = [base, &["at_least"]].concat();
                let written = row.at_least.as_ref()?;
                let least = place_of(place, &path, written, &grades.names, problems)?;
                Some(ExactScale::Grades(Grades {
                    least: Some(least),
                    ..grades.clone()
                }))
            })
        }
        ExactScale::Counts(limits) => {
            let keys = RowKeys {
                limits: &["min_count", "max_count"],
                beside: &[],
                add: "add `min_count`, `max_count` or both",
            };
            own_rows(place, table, &at, &keys, problems, |row, base, problems| {
                let (min, max) = (row.min_count, row.max_count);
                let ends = [min.map(f64::from), max.map(f64::from)];
                in_order(place, base, ["min_count", "max_count"], ends, problems)?;
                Some(ExactScale::Counts(CountLimits {
                    min,
                    max,
                    better: limits.better,
                }))
            })
        }
    };
    Kind::ExactAt(ExactScaleAt {
        at,
        common: scale,
        own,
    })
}

/// The grades of a measure, and the least acceptable.
pub fn grades(place: &Place<'_>, table: &MeasureTable, problems: &mut Problems) -> Option<Grades> {
    let Some(names) = &table.grades else {
        place.problem(
            "kind",
            format!("`{}` has no grades", table.id),
            "add `grades = [ \"…\", \"…\" ]`, from worst to best",
            problems,
        );
        return None;
    };
    if names.len() < 2 {
        place.problem(
            "grades",
            "one grade alone grades nothing",
            "write at least two, from worst to best, such as `[ \"no\", \"yes\" ]`",
            problems,
        );
    }
    each_once(place, &["grades"], names, "grades", problems);
    let path = [place.list, place.at, "at_least"];
    let least = table.at_least.as_ref();
    let least = least.and_then(|least| place_of(place, &path, least, names, problems));
    Some(Grades {
        names: names.clone(),
        least,
    })
}

/// The place of the grade `written` among `names`; a problem at `path` where it is none of
/// them.
fn place_of(
    place: &Place<'_>,
    path: &[&str],
    written: &str,
    names: &[String],
    problems: &mut Problems,
) -> Option<usize> {
    let found = names.iter().position(|name| is_same(name, written));
    if found.is_none() {
        place.document.problem(
            path,
            format!("`{written}` is not one of the grades"),
            not_on_scale(written, names),
            problems,
        );
    }
    found
}

/// What to do about a grade that is not on the scale.
pub fn not_on_scale(written: &str, names: &[String]) -> String {
    let known: Vec<&str> = names.iter().map(String::as_str).collect();
    match nearest(written, &known) {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("the grades are {}", listed(&known)),
    }
}

/// Two names that differ only in their capitals and the spaces around them are one.
fn each_once(
    place: &Place<'_>,
    key: &[&str],
    names: &[String],
    what: &str,
    problems: &mut Problems,
) {
    for (index, name) in names.iter().enumerate() {
        if names[..index].iter().any(|known| is_same(known, name)) {
            let number = index.to_string();
            let path = [&[place.list, place.at], key, &[number.as_str()]].concat();
            place.document.problem(
                &path,
                format!("there are two {what} called `{name}`"),
                "give each its own name, or delete one",
                problems,
            );
        }
    }
}

/// The limits of an exact count.
pub fn counts(
    place: &Place<'_>,
    table: &MeasureTable,
    problems: &mut Problems,
) -> Option<CountLimits> {
    let (min, max) = (table.min_count, table.max_count);
    if table.per.is_some() {
        place.problem(
            "per",
            "a rate is not read at several positions",
            "delete `at` and give each place a measure of its own, or delete `per`",
            problems,
        );
        return None;
    }
    for (key, is_given, instead) in [
        ("max_rate", table.max_rate.is_some(), "max_count"),
        ("min_rate", table.min_rate.is_some(), "min_count"),
    ] {
        if is_given {
            place.problem(
                key,
                format!("`{key}` needs `per`"),
                format!("add `per = \"min\"` or another unit, or write `{instead}`"),
                problems,
            );
        }
    }
    let ends = [min.map(f64::from), max.map(f64::from)];
    let rows = (min.is_none() && max.is_none() && !table.limit_rows.is_empty()).then(|| {
        // Limits that only single positions have say it where they all say the same.
        let rows = || table.limit_rows.iter();
        [
            rows().all(|row| row.min_count.is_some()),
            rows().all(|row| row.max_count.is_some()),
        ]
    });
    let keys = ["min_count", "max_count"];
    Some(CountLimits {
        min,
        max,
        better: better(place, table, keys, ends, rows, problems)?,
    })
}

/// The limits of a rate of counted events.
pub fn rate(place: &Place<'_>, table: &MeasureTable, problems: &mut Problems) -> Option<RateScale> {
    let symbol = table.per.as_ref()?;
    let path = [place.list, place.at, "per"];
    let per = common_checks::unit(place.document, &path, symbol, problems)?;
    if !per.has_true_zero() || per.dimension() == Dimension::Ratio {
        place.problem(
            "per",
            format!("nothing can be counted per `{symbol}`"),
            "write a unit of time, length, area, volume or mass, such as `min`",
            problems,
        );
        return None;
    }
    for (key, is_given, instead) in [
        ("max_count", table.max_count.is_some(), "max_rate"),
        ("min_count", table.min_count.is_some(), "min_rate"),
    ] {
        if is_given {
            place.problem(
                key,
                format!("`{key}` is the limit of an exact count, and this one is per {symbol}"),
                format!("write `{instead}`, or delete `per`"),
                problems,
            );
        }
    }
    let (min, max) = (table.min_rate, table.max_rate);
    Some(RateScale {
        per,
        min,
        max,
        better: better(
            place,
            table,
            ["min_rate", "max_rate"],
            [min, max],
            None,
            problems,
        )?,
    })
}

/// A problem in the table at `base` where the least is greater than the greatest.
fn in_order(
    place: &Place<'_>,
    base: &[&str],
    [min_key, max_key]: [&str; 2],
    [min, max]: [Option<f64>; 2],
    problems: &mut Problems,
) -> Option<()> {
    let is_in_order = min.zip(max).is_none_or(|(min, max)| min <= max);
    if !is_in_order {
        place.document.problem(
            &[base, &[min_key]].concat(),
            format!("`{min_key}` is greater than `{max_key}`"),
            "swap them or correct one",
            problems,
        );
    }
    is_in_order.then_some(())
}

/// Which way is better: as said, or as the limits `min` and `max` have it, or where there is
/// neither, whether all `rows` have one.
fn better(
    place: &Place<'_>,
    table: &MeasureTable,
    keys: [&str; 2],
    own: [Option<f64>; 2],
    rows: Option<[bool; 2]>,
    problems: &mut Problems,
) -> Option<Option<Better>> {
    in_order(place, &[place.list, place.at], keys, own, problems)?;
    let [min_key, max_key] = keys;
    let natural = match rows.unwrap_or(own.map(|end| end.is_some())) {
        [false, false] => None,
        [false, true] => Some(Better::Lower),
        [true, false] => Some(Better::Higher),
        [true, true] => Some(Better::Inside),
    };
    let opposed = match (table.better, natural) {
        (Some(Better::Inside), said) => said != Some(Better::Inside),
        // What rows say binds only where nothing else was said.
        (Some(Better::Lower), said) => rows.is_none() && said == Some(Better::Higher),
        (Some(Better::Higher), said) => rows.is_none() && said == Some(Better::Lower),
        (None, _) => false,
    };
    if opposed {
        place.problem(
            "better",
            "the limit is on the wrong side",
            format!(
                "`better = \"lower\"` goes with `{max_key}`, `better = \"higher\"` with \
                 `{min_key}`, `better = \"inside\"` with both"
            ),
            problems,
        );
    }
    Some(table.better.or(natural))
}

/// The bands in which a value in `unit` is placed.
pub fn bands(
    place: &Place<'_>,
    table: &BandsTable,
    unit: &'static Unit,
    problems: &mut Problems,
) -> Option<Bands> {
    each_once(place, &["bands", "names"], &table.names, "bands", problems);
    if table.names.len() != table.upper.len() + 1 {
        place.problem(
            "bands",
            format!(
                "{} bands have {} ends between them, not {}",
                table.names.len(),
                table.names.len() - 1,
                table.upper.len()
            ),
            "write in `upper` where each band but the last ends",
            problems,
        );
        return None;
    }
    if let Some(index) = table.upper.windows(2).position(|pair| pair[0] >= pair[1]) {
        let path = [place.list, place.at, "bands", "upper"];
        place.document.problem(
            &path,
            format!(
                "the bands do not rise: after {} comes {}",
                table.upper[index],
                table.upper[index + 1]
            ),
            "write their ends from the lowest to the highest",
            problems,
        );
        return None;
    }
    let ends = table.upper.iter().enumerate();
    let ends: Option<Vec<Quantity>> = ends
        .map(|(index, end)| {
            let path = [place.list, place.at, "bands", "upper", &index.to_string()];
            common_checks::quantity(place.document, &path, *end, unit, problems)
        })
        .collect();
    Some(Bands {
        names: table.names.clone(),
        upper: ends?,
        source: table.source.clone(),
    })
}
