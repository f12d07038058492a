//! The plan of what is read without ±: the grades of a scale, the limits of counts and rates;
//! and the bands in which a value is placed.

use super::common_checks;
use super::place::Place;
use super::positions::is_same;
use super::problem::Problems;
use super::shapes::{BandsTable, MeasureTable};
use super::spelling::{listed, nearest};
use crate::job::{Bands, Better, CountLimits, ExactScale, Grades, Kind, Positions, RateScale};
use crate::quantity::{Dimension, Quantity, Unit};

/// An exact reading, once or at several positions.
pub fn kind(scale: ExactScale, at: Option<Positions>) -> Kind {
    match at {
        None => Kind::Exact(scale),
        Some(at) => Kind::ExactAt { at, scale },
    }
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
    let least = table.at_least.as_ref().and_then(|least| {
        let found = names.iter().position(|name| is_same(name, least));
        if found.is_none() {
            place.problem(
                "at_least",
                format!("`{least}` is not one of the grades"),
                not_on_scale(least, names),
                problems,
            );
        }
        found
    });
    Some(Grades {
        names: names.clone(),
        least,
    })
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
    Some(CountLimits {
        min,
        max,
        better: better(place, table, ["min_count", "max_count"], ends, problems)?,
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
        better: better(place, table, ["min_rate", "max_rate"], [min, max], problems)?,
    })
}

/// Which way is better: as said, or as the limits `min` and `max` have it.
fn better(
    place: &Place<'_>,
    table: &MeasureTable,
    [min_key, max_key]: [&str; 2],
    [min, max]: [Option<f64>; 2],
    problems: &mut Problems,
) -> Option<Option<Better>> {
    if let (Some(min), Some(max)) = (min, max)
        && min > max
    {
        place.problem(
            min_key,
            format!("`{min_key}` is greater than `{max_key}`"),
            "swap them or correct one",
            problems,
        );
        return None;
    }
    let natural = match (min, max) {
        (None, None) => None,
        (None, Some(_)) => Some(Better::Lower),
        (Some(_), None) => Some(Better::Higher),
        (Some(_), Some(_)) => Some(Better::Inside),
    };
    let opposed = match (table.better, natural) {
        (Some(Better::Inside), said) => said != Some(Better::Inside),
        (Some(Better::Lower), said) => said == Some(Better::Higher),
        (Some(Better::Higher), said) => said == Some(Better::Lower),
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
