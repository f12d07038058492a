//! Figures as they are printed. All rounding of the program is asked for here.

use chrono::{DateTime, Datelike, FixedOffset, NaiveDate, NaiveDateTime, Timelike};
use iso_currency::Currency;
use rust_decimal::Decimal;

use super::words::Words;
use crate::job::Bounds;
use crate::quantity::{Estimate, Quantity, Unit, decimals_for, to_decimals};

/// Between a figure and its unit: they stay on one line.
pub const NBSP: char = '\u{A0}';

/// A figure with its unit.
pub fn with_unit(figure: &str, unit: &str) -> String {
    match unit {
        // A plane angle's sign follows its figure directly (ISO 80000-1, 7.1.4).
        "°" => format!("{figure}{unit}"),
        "1" => figure.to_owned(),
        _ => format!("{figure}{NBSP}{unit}"),
    }
}

/// A number rounded to `decimals` places, with the decimal sign of the language.
pub fn decimal(value: f64, decimals: u32, words: &Words) -> String {
    localised(to_decimals(value, decimals), words)
}

/// A number with the point as its decimal sign, with that of the language instead.
fn localised(number: String, words: &Words) -> String {
    match words.decimal_sign() {
        "." => number,
        sign => number.replace('.', sign),
    }
}

/// A quantity with the digits in which it was written.
pub fn written(quantity: Quantity, words: &Words) -> String {
    let (value, unit) = (quantity.written(), quantity.unit());
    let figure = with_unit(&as_written(value, words), unit.symbol());
    figure + &second(value, decimals_of(value), unit, words)
}

/// The same figure in the units that the shop has stand beside its own, in parentheses,
/// with a space before; empty where there is none.
fn second(value: f64, decimals: u32, unit: &Unit, words: &Words) -> String {
    let system = words.second_units();
    let other = system.and_then(|system| system.counterpart(unit));
    other.map_or_else(String::new, |other| {
        format!(" ({})", converted(value, decimals, unit, other, words))
    })
}

/// A figure written with `decimals` in one unit, in another one: with as many decimals as
/// its last digit is worth (NIST SP 811, B.7), and at least two digits.
fn converted(value: f64, decimals: u32, from: &Unit, to: &Unit, words: &Words) -> String {
    let places = places_in(value, decimals, from, to);
    let figure = decimal(to.from_si(from.to_si(value)), places, words);
    with_unit(&figure, to.symbol())
}

fn places_in(value: f64, decimals: u32, from: &Unit, to: &Unit) -> u32 {
    let step = to.difference_from_si(from.difference_to_si(10f64.powi(-(decimals as i32))));
    let value = to.from_si(from.to_si(value));
    let worth = (0..6).find(|decimals| 10f64.powi(-decimals) <= 2.0 * step);
    let two = decimals_for(value.abs(), 2).unwrap_or(0);
    two.max(worth.unwrap_or(6) as u32)
}

/// A limit in `unit`, and in the other units with at least four digits: a figure beside it
/// must be seen on its own side.
pub fn limit(bound: Quantity, unit: &Unit, words: &Words) -> String {
    let other = words
        .second_units()
        .and_then(|system| system.counterpart(unit));
    let (Some(other), true) = (other, bound.unit() == unit) else {
        return written_in(bound, unit, words);
    };
    let figure = with_unit(&as_written(bound.written(), words), unit.symbol());
    let value = other.from_si(bound.si());
    let places = decimals_for(value.abs(), 4).unwrap_or(0);
    let second = with_unit(&decimal(value, places, words), other.symbol());
    format!("{figure} ({second})")
}

/// A difference in SI units, in the unit of differences of `unit`: `3 K`.
pub fn difference(si: f64, unit: &Unit, words: &Words) -> String {
    let value = unit.difference_from_si(si);
    let figure = with_unit(&as_written(value, words), unit.of_differences());
    let second = Unit::named(unit.of_differences()).map_or_else(String::new, |of| {
        second(value, decimals_of(value), of, words)
    });
    figure + &second
}

/// A quantity converted to `unit`, with no more digits than it needs.
pub fn written_in(quantity: Quantity, unit: &Unit, words: &Words) -> String {
    if quantity.unit() == unit {
        return written(quantity, words);
    }
    let decimals = decimals_of(quantity.written());
    let figure = converted(quantity.written(), decimals, quantity.unit(), unit, words);
    // The other unit was the one in which it was written: that is worth more.
    if words.second_units().is_some() {
        let other = with_unit(
            &as_written(quantity.written(), words),
            quantity.unit().symbol(),
        );
        return format!("{figure} ({other})");
    }
    figure
}

/// A number with the digits in which it was written; see [`decimals_of`].
pub fn as_written(value: f64, words: &Words) -> String {
    decimal(value, decimals_of(value), words)
}

/// A figure with two significant digits, such as an uncertainty.
pub fn two_digits(value: f64, words: &Words) -> String {
    decimal(value, decimals_for(value, 2).unwrap_or(0), words)
}

/// How many decimals a number was written with: at most six, and of a small number as
/// many as show six of its digits.
pub fn decimals_of(value: f64) -> u32 {
    let first = if value == 0.0 {
        0.0
    } else {
        value.abs().log10().floor()
    };
    let most = (5.0 - first).clamp(6.0, 15.0) as u32;
    (0..most)
        .find(|decimals| {
            let scaled = value * 10f64.powi(*decimals as i32);
            (scaled - scaled.round()).abs() <= 1e-9 * scaled.abs().max(1.0)
                && (scaled.round() != 0.0 || value == 0.0)
        })
        .unwrap_or(most)
}

/// How many decimals an estimate is printed with, in `unit`: two significant digits
/// of its expanded uncertainty, or `written` where that is given; and more where
/// rounding would put the figure on the other side of a bound.
fn decimals(estimate: &Estimate, unit: &Unit, bounds: Option<Bounds>, written: Option<u32>) -> u32 {
    let value = unit.from_si(estimate.value);
    let expanded = unit.difference_from_si(estimate.expanded);
    let wanted = written
        .or_else(|| decimals_for(expanded, 2))
        .unwrap_or_else(|| decimals_of(value));
    let ends = bounds
        .into_iter()
        .flat_map(|b| [b.min(), b.max()])
        .flatten();
    let ends: Vec<f64> = ends.map(|end| unit.from_si(end.si())).collect();
    (wanted..9)
        .find(|decimals| ends.iter().all(|end| same_side(value, *end, *decimals)))
        .unwrap_or(9)
}

/// Whether rounding leaves `value` on its side of `end`.
fn same_side(value: f64, end: f64, decimals: u32) -> bool {
    let scale = 10f64.powi(decimals as i32);
    let rounded = (value * scale).round() / scale;
    let close = (value - end).abs() <= 1e-9 * end.abs().max(1e-300);
    close || (value < end && rounded < end) || (value > end && rounded > end)
}

/// The value alone, without its uncertainty, in `written` decimals where that is
/// given: `12.8 s`.
pub fn value(
    estimate: &Estimate,
    unit: &Unit,
    bounds: Option<Bounds>,
    written: Option<u32>,
    words: &Words,
) -> String {
    with_unit(&bare(estimate, unit, bounds, written, words), unit.symbol())
}

/// The same in the units that the shop has stand beside its own; empty without such.
pub fn value_other(
    estimate: &Estimate,
    unit: &Unit,
    bounds: Option<Bounds>,
    written: Option<u32>,
    words: &Words,
) -> String {
    let system = words.second_units();
    let Some(other) = system.and_then(|system| system.counterpart(unit)) else {
        return String::new();
    };
    let decimals = decimals(estimate, unit, bounds, written);
    let least = places_in(unit.from_si(estimate.value), decimals, unit, other);
    // Rounding leaves it on its side of the limit in these units too.
    let ends = bounds
        .into_iter()
        .flat_map(|b| [b.min(), b.max()])
        .flatten();
    let ends: Vec<f64> = ends.map(|end| other.from_si(end.si())).collect();
    let value = other.from_si(estimate.value);
    let places = (least..9)
        .find(|places| ends.iter().all(|end| same_side(value, *end, *places)))
        .unwrap_or(9);
    with_unit(&decimal(value, places, words), other.symbol())
}

/// The value alone, without uncertainty and unit: `12.8`.
pub fn bare(
    estimate: &Estimate,
    unit: &Unit,
    bounds: Option<Bounds>,
    written: Option<u32>,
    words: &Words,
) -> String {
    let decimals = decimals(estimate, unit, bounds, written);
    decimal(unit.from_si(estimate.value), decimals, words)
}

/// The value and its expanded uncertainty: `12.80 ± 0.20`, without the unit.
pub fn value_pm(estimate: &Estimate, unit: &Unit, bounds: Option<Bounds>, words: &Words) -> String {
    let decimals = decimals(estimate, unit, bounds, None);
    let value = to_decimals(unit.from_si(estimate.value), decimals);
    let text = plus_minus(value, unit.difference_from_si(estimate.expanded), decimals);
    localised(text, words)
}

/// A difference with its sign and uncertainty: `−10.40 ± 0.28`, without the unit.
pub fn difference_pm(difference: &Estimate, unit: &Unit, words: &Words) -> String {
    let value = unit.difference_from_si(difference.value);
    let expanded = unit.difference_from_si(difference.expanded);
    let decimals = decimals_for(expanded, 2).unwrap_or(3);
    localised(
        plus_minus(signed(value, decimals), expanded, decimals),
        words,
    )
}

/// A relative change in percent with its sign and uncertainty: `−81.3 ± 1.6 %`.
pub fn percent_pm(relative: &Estimate, words: &Words) -> String {
    let expanded = relative.expanded * 100.0;
    let decimals = decimals_for(expanded, 2).unwrap_or(1);
    let value = signed(relative.value * 100.0, decimals);
    localised(
        with_unit(&plus_minus(value, expanded, decimals), "%"),
        words,
    )
}

/// A share as a percentage without decimals; never a rounded 0 or 100 that is
/// not exact.
pub fn probability(p: f64) -> String {
    if p > 0.99 {
        format!(">{NBSP}99{NBSP}%")
    } else if p < 0.01 {
        format!("<{NBSP}1{NBSP}%")
    } else {
        with_unit(&to_decimals(p * 100.0, 0), "%")
    }
}

fn plus_minus(value: String, expanded: f64, decimals: u32) -> String {
    if expanded > 0.0 {
        format!("{value}{NBSP}±{NBSP}{}", to_decimals(expanded, decimals))
    } else {
        value
    }
}

fn signed(value: f64, decimals: u32) -> String {
    let text = to_decimals(value, decimals);
    if value > 0.0 && text.chars().any(|c| ('1'..='9').contains(&c)) {
        format!("+{text}")
    } else {
        text
    }
}

/// A day: `22 January 2026`.
pub fn day(day: NaiveDate, words: &Words) -> String {
    let month = words.say(&format!("month-{}", day.month()));
    words.say_with(
        "date",
        &[
            ("day", &day.day().to_string()),
            ("month", &month),
            ("year", &day.year().to_string()),
        ],
    )
}

/// A moment with its offset from UTC: `22 January 2026, 06:40 UTC+00:00`.
pub fn moment(moment: DateTime<FixedOffset>, words: &Words) -> String {
    let date = day(moment.date_naive(), words);
    let clock = format!("{:02}:{:02}", moment.hour(), moment.minute());
    let offset = moment.offset().to_string().replace('-', "\u{2212}");
    words.say_with(
        "moment",
        &[("date", &date), ("clock", &clock), ("offset", &offset)],
    )
}

/// A time of a clock whose offset from UTC is not known: `22 January 2026, 06:40`.
pub fn clock_time(time: NaiveDateTime, words: &Words) -> String {
    let date = day(time.date(), words);
    let clock = format!("{:02}:{:02}", time.hour(), time.minute());
    words.say_with("moment-local", &[("date", &date), ("clock", &clock)])
}

/// An amount of money with its currency code: `GBP 564.84`, to the currency's own
/// minor unit, and further only where more was written.
pub fn money(amount: Decimal, currency: Currency, words: &Words) -> String {
    let minor = currency.exponent().map_or(2, u32::from);
    let decimals = amount.normalize().scale().max(minor);
    let figure = localised(grouped(amount, decimals), words);
    format!("{}{NBSP}{figure}", currency.code())
}

fn grouped(amount: Decimal, decimals: u32) -> String {
    let text = format!("{amount:.*}", decimals as usize);
    let (whole, fraction) = match text.split_once('.') {
        Some((whole, fraction)) => (whole, format!(".{fraction}")),
        None => (text.as_str(), String::new()),
    };
    let digits: Vec<char> = whole.chars().collect();
    let mut out = String::new();
    for (index, digit) in digits.iter().enumerate() {
        // Groups of three from five digits on, by a thin space (ISO 80000-1, 7.3.1).
        if digits.len() > 4 && index > 0 && (digits.len() - index).is_multiple_of(3) {
            out.push('\u{202F}');
        }
        out.push(*digit);
    }
    out + &fraction
}

/// A size in bytes: `1.4 MB`.
pub fn bytes(size: u64, words: &Words) -> String {
    match size {
        0..1_000 => format!("{size}{NBSP}B"),
        1_000..1_000_000 => format!("{}{NBSP}kB", decimal(size as f64 / 1e3, 1, words)),
        _ => format!("{}{NBSP}MB", decimal(size as f64 / 1e6, 1, words)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::System;

    fn unit(symbol: &str) -> &'static Unit {
        Unit::named(symbol).unwrap()
    }

    fn estimate(value: f64, expanded: f64) -> Estimate {
        Estimate {
            value,
            u: expanded / 2.0,
            expanded,
            ..Estimate::exact(value)
        }
    }

    #[test]
    fn value_and_uncertainty_end_at_the_same_place() {
        assert_eq!(
            value_pm(&estimate(12.8, 0.203), unit("s"), None, &Words::english()),
            "12.80\u{A0}±\u{A0}0.20"
        );
        assert_eq!(
            difference_pm(&estimate(-10.4, 0.284), unit("s"), &Words::english()),
            "−10.40\u{A0}±\u{A0}0.28"
        );
        assert_eq!(
            value_pm(
                &Estimate::exact(13.5 * 3600.0),
                unit("h"),
                None,
                &Words::english()
            ),
            "13.5"
        );
    }

    /// 4.96 s rounds to 5.0 at one decimal, which would read as "at the limit".
    #[test]
    fn rounding_never_moves_a_figure_across_its_limit() {
        let bounds = Bounds::new(None, Some(Quantity::new(5.0, unit("s")).unwrap()));
        assert_eq!(
            value(
                &estimate(4.96, 0.2),
                unit("s"),
                bounds,
                Some(1),
                &Words::english()
            ),
            "4.96\u{A0}s"
        );
        assert_eq!(
            value(
                &estimate(5.04, 0.2),
                unit("s"),
                bounds,
                Some(1),
                &Words::english()
            ),
            "5.04\u{A0}s"
        );
        assert_eq!(
            value(
                &estimate(5.0, 0.2),
                unit("s"),
                bounds,
                Some(1),
                &Words::english()
            ),
            "5.0\u{A0}s"
        );
        assert_eq!(
            value(
                &estimate(2.44, 0.2),
                unit("s"),
                bounds,
                Some(1),
                &Words::english()
            ),
            "2.4\u{A0}s"
        );
    }

    /// By hand, with 1 psi = 6.894 757 kPa (NIST SP 811, B.8): 20 kPa are 2.9007 psi, of
    /// which the last digit of 20 is worth 0.15; 12.0 kPa are 1.7405, 24 bar 348.09 psi;
    /// −1.5 °C are 29.3 °F; a difference of 3 K is one of 5.4 F-degrees.
    #[test]
    fn a_figure_in_the_other_units_has_no_more_digits_than_it_is_worth() {
        let us = Words::english().with_second_units(Some(System::UsCustomary));
        let wrote = |value, symbol| {
            let text = written(Quantity::new(value, unit(symbol)).unwrap(), &us);
            text.replace(NBSP, " ")
        };
        assert_eq!(wrote(20.0, "kPa"), "20 kPa (2.9 psi)");
        assert_eq!(wrote(24.0, "bar"), "24 bar (348 psi)");
        assert_eq!(wrote(-1.5, "°C"), "−1.5 °C (29.3 °F)");
        assert_eq!(wrote(0.4, "mm"), "0.4 mm (0.016 in)");
        assert_eq!(wrote(12.5, "s"), "12.5 s");
        assert_eq!(
            difference(3.0, unit("°C"), &us).replace(NBSP, " "),
            "3 K (5.4 Δ°F)"
        );
        let si = Words::english().with_second_units(Some(System::Si));
        let psi = Quantity::new(100.0, unit("psi")).unwrap();
        assert_eq!(written(psi, &si).replace(NBSP, " "), "100 psi (689 kPa)");
        assert_eq!(
            written_in(psi, unit("kPa"), &si).replace(NBSP, " "),
            "689 kPa (100 psi)"
        );
    }

    /// 3 bar are 43.511 psi, 3.02 bar 43.801: beyond the limit in both units.
    #[test]
    fn a_figure_and_its_limit_agree_in_the_other_units() {
        let us = Words::english().with_second_units(Some(System::UsCustomary));
        let bar = unit("bar");
        let bound = Quantity::new(3.0, bar).unwrap();
        assert_eq!(
            limit(bound, bar, &us).replace(NBSP, " "),
            "3 bar (43.51 psi)"
        );
        let bounds = Bounds::new(None, Some(bound));
        let other = |value: f64| {
            let read = estimate(bar.to_si(value), bar.difference_to_si(0.1));
            value_other(&read, bar, bounds, Some(2), &us).replace(NBSP, " ")
        };
        assert_eq!(other(3.02), "43.8 psi");
        assert_eq!(other(2.999), "43.50 psi");
    }

    #[test]
    fn the_decimal_sign_is_that_of_the_language() {
        let spanish = Words::of("es", &[]).unwrap();
        assert_eq!(
            value_pm(&estimate(12.8, 0.203), unit("s"), None, &spanish),
            "12,80\u{A0}±\u{A0}0,20"
        );
        assert_eq!(
            money(Decimal::new(12345678, 2), Currency::EUR, &spanish),
            "EUR\u{A0}123\u{202F}456,78"
        );
    }

    #[test]
    fn figures_as_people_write_them() {
        assert_eq!(
            as_written(0.000_029_432_45, &Words::english()),
            "0.0000294324"
        );
        assert_eq!(as_written(0.000_2, &Words::english()), "0.0002");
        assert_eq!(as_written(5.0, &Words::english()), "5");
        assert_eq!(as_written(0.15, &Words::english()), "0.15");
        assert_eq!(as_written(-1.5, &Words::english()), "−1.5");
        assert_eq!(
            money(Decimal::new(56484, 2), Currency::GBP, &Words::english()),
            "GBP\u{A0}564.84"
        );
        assert_eq!(
            money(Decimal::new(5625, 1), Currency::GBP, &Words::english()),
            "GBP\u{A0}562.50"
        );
        assert_eq!(
            money(Decimal::new(12345678, 0), Currency::JPY, &Words::english()),
            "JPY\u{A0}12\u{202F}345\u{202F}678"
        );
        assert_eq!(probability(0.9999), ">\u{A0}99\u{A0}%");
        assert_eq!(bytes(1_234_567, &Words::english()), "1.2\u{A0}MB");
    }
}
