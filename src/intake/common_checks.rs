//! Checks that several files share: ids, units, days, money.

use chrono::{DateTime, FixedOffset, NaiveDate, TimeZone};
use rust_decimal::Decimal;
use rust_decimal::prelude::FromPrimitive;

use super::problem::Problems;
use super::shapes::{Day, Moment};
use super::spelling::listed;
use super::toml_document::Document;
use crate::quantity::{
    Against, Dimension, Quantity, Unit, near_units, pressure_against, unit_symbols,
};

/// The unit `written` at `path`.
pub fn unit(
    document: &Document,
    path: &[&str],
    written: &str,
    problems: &mut Problems,
) -> Option<&'static Unit> {
    unit_among(document, path, written, None, problems)
}

/// The unit `written` at `path`; where it is not known, those of `dimension` come to mind.
fn unit_among(
    document: &Document,
    path: &[&str],
    written: &str,
    dimension: Option<Dimension>,
    problems: &mut Problems,
) -> Option<&'static Unit> {
    let unit = Unit::named(written);
    if let Some((unit, against)) = pressure_against(written) {
        let word = match against {
            Against::Air => "gauge",
            Against::Vacuum => "absolute",
            Against::Other => "difference",
        };
        document.problem(
            path,
            format!("the unit `{written}` says what the pressure is measured against"),
            format!(
                "write `unit = \"{}\"`, and `pressure = \"{word}\"` with the measure in limits.toml",
                unit.symbol()
            ),
            problems,
        );
    } else if unit.is_none() {
        let mut near = near_units(written);
        let fits = |symbol: &&str| Unit::named(symbol).map(Unit::dimension) == dimension;
        if near.iter().any(fits) {
            near.retain(fits);
        }
        let hint = if near.is_empty() {
            "write a unit such as `s`, `kPa`, `psi`, `V`, `°C` or `rpm`; samples/FORMAT.md lists \
             all"
            .to_owned()
        } else {
            format!("did you mean `{}`?", near.join("` or `"))
        };
        document.problem(
            path,
            format!("the unit `{written}` is unknown"),
            hint,
            problems,
        );
    }
    unit
}

/// The unit `written` at `path`, which must measure `dimension`.
pub fn unit_of(
    document: &Document,
    path: &[&str],
    written: &str,
    dimension: Dimension,
    whose: &str,
    problems: &mut Problems,
) -> Option<&'static Unit> {
    let unit = unit_among(document, path, written, Some(dimension), problems)?;
    if unit.dimension() == dimension {
        return Some(unit);
    }
    document.problem(
        path,
        format!(
            "`{written}` is a unit of {}, but {whose} is {}",
            unit.dimension(),
            with_article(dimension)
        ),
        format!(
            "use a unit of {dimension}: {}",
            listed(&unit_symbols(dimension))
        ),
        problems,
    );
    None
}

/// The dimension as English has it: a voltage, an angle.
pub fn with_article(dimension: Dimension) -> String {
    let name = dimension.to_string();
    let article = if name.starts_with(['a', 'e', 'i', 'o', 'u']) {
        "an"
    } else {
        "a"
    };
    format!("{article} {name}")
}

/// The largest figure that is taken for a reading.
const LARGEST: f64 = 1e12;

/// The value of a key whose unit its name says, with the digits in which it is written.
pub fn in_unit(
    document: &Document,
    path: &[&str],
    value: Option<f64>,
    symbol: &str,
) -> Option<Quantity> {
    let quantity = Quantity::new(value?, Unit::named(symbol)?).ok()?;
    Some(quantity.with_digits(document.digits(path)))
}

/// A value in a unit, with the digits in which it is written; a temperature must not be below absolute zero.
pub fn quantity(
    document: &Document,
    path: &[&str],
    value: f64,
    unit: &'static Unit,
    problems: &mut Problems,
) -> Option<Quantity> {
    let found = Quantity::new(value, unit)
        .ok()
        .filter(|_| value.abs() <= LARGEST);
    let problem = match found {
        None => "no instrument shows a number of this size",
        Some(found) if unit.dimension() == Dimension::Temperature && found.si() < 0.0 => {
            "this temperature is below absolute zero"
        }
        Some(found) => return Some(found.with_digits(document.digits(path))),
    };
    document.problem(path, problem, "check the number and its unit", problems);
    None
}

/// A difference of values in a unit, such as a window: 3 in `°C` is 3 K.
pub fn difference(
    document: &Document,
    path: &[&str],
    value: f64,
    unit: &'static Unit,
    problems: &mut Problems,
) -> Option<Quantity> {
    let unit = Unit::named(unit.of_differences()).unwrap_or(unit);
    quantity(document, path, value, unit, problems)
}

/// Whether an id is well formed: lower-case letters, digits and hyphens.
pub fn check_id(document: &Document, path: &[&str], id: &str, problems: &mut Problems) {
    let fine = !id.is_empty()
        && !id.starts_with('-')
        && id
            .bytes()
            .all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-');
    if !fine {
        document.problem(
            path,
            format!("`{id}` is not a short name"),
            "use lower-case letters a to z, digits and hyphens, such as `crank-time`",
            problems,
        );
    }
}

/// A day that exists in the calendar.
pub fn day(
    document: &Document,
    path: &[&str],
    day: Day,
    problems: &mut Problems,
) -> Option<NaiveDate> {
    let found = day.0.date.and_then(|date| {
        NaiveDate::from_ymd_opt(date.year.into(), date.month.into(), date.day.into())
    });
    if found.is_none() {
        document.problem(
            path,
            "there is no such date",
            "check the month and the day",
            problems,
        );
    }
    found
}

/// A moment that exists in the calendar.
pub fn moment(
    document: &Document,
    path: &[&str],
    moment: Moment,
    problems: &mut Problems,
) -> Option<DateTime<FixedOffset>> {
    let found = moment_of(moment);
    if found.is_none() {
        document.problem(
            path,
            "there is no such date or time",
            "check the date, the time and the offset from UTC",
            problems,
        );
    }
    found
}

/// The moment as chrono has it, if it exists.
pub fn moment_of(moment: Moment) -> Option<DateTime<FixedOffset>> {
    // Both write RFC 3339; TOML 1.1 allows leaving out the seconds, RFC 3339 does not.
    let (date, time) = (moment.0.date?, moment.0.time?);
    let minutes = match moment.0.offset? {
        toml::value::Offset::Z => 0,
        toml::value::Offset::Custom { minutes } => i32::from(minutes),
    };
    let local = NaiveDate::from_ymd_opt(date.year.into(), date.month.into(), date.day.into())?
        .and_hms_opt(
            time.hour.into(),
            time.minute.into(),
            time.second.unwrap_or(0).into(),
        )?;
    FixedOffset::east_opt(minutes * 60)?
        .from_local_datetime(&local)
        .single()
}

/// An amount of money: at most four decimals.
pub fn money(
    document: &Document,
    path: &[&str],
    amount: f64,
    problems: &mut Problems,
) -> Option<Decimal> {
    let found = Decimal::from_f64(amount).map(|decimal| decimal.normalize());
    match found {
        Some(decimal) if decimal.scale() <= 4 => Some(decimal),
        _ => {
            document.problem(
                path,
                "this is not an amount of money",
                "write it with at most two decimals, such as 486.50",
                problems,
            );
            None
        }
    }
}
