//! Figures as they are printed. All rounding is requested here.

use chrono::{DateTime, Datelike, FixedOffset, NaiveDate, NaiveDateTime, Timelike};
use iso_currency::Currency;
use rust_decimal::Decimal;

use super::words::Words;
use crate::job::{Bounds, Target, Within};
use crate::quantity::{
    Estimate, Quantity, Unit, place_of_step, places, places_for, ten_to, to_decimals,
};

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
pub fn decimal(value: f64, decimals: i32, words: &Words) -> String {
    localised(to_decimals(value, decimals), words)
}

/// A number with the point as its decimal sign, with that of the language instead.
fn localised(number: String, words: &Words) -> String {
    match words.decimal_sign() {
        "." => number,
        sign => number.replace('.', sign),
    }
}

/// A quantity with the digits in which it was written, and the same in the units that the
/// shop has stand beside its own.
pub fn written(quantity: Quantity, words: &Words) -> String {
    let other = words.second_unit(quantity.unit());
    let second = other.map(|other| converted(quantity, other, words));
    own(quantity, words) + &beside(second)
}

/// A quantity in its own unit only, with the digits in which it was written.
fn own(quantity: Quantity, words: &Words) -> String {
    with_unit(&digits(quantity, words), quantity.unit().symbol())
}

/// The number of a quantity with the digits in which it was written.
pub fn digits(quantity: Quantity, words: &Words) -> String {
    match quantity.digits() {
        Some(digits) => localised(digits.to_string().replace('-', "\u{2212}"), words),
        None => shortest(quantity.written(), words),
    }
}

/// A second figure in parentheses, with a space before; empty where there is none.
fn beside(second: Option<String>) -> String {
    second.map_or_else(String::new, |second| format!(" ({second})"))
}

/// A quantity in another unit, with the digits that it carries there.
fn converted(quantity: Quantity, to: &Unit, words: &Words) -> String {
    let value = to.from_si(quantity.si());
    let places = quantity.step().map_or_else(
        || shortest_places(value),
        |step| place_of_step(to.difference_from_si(step)),
    );
    with_unit(&decimal(value, places, words), to.symbol())
}

/// A limit in `unit`. A limit is exact: in the other units it has four digits, or fewer
/// where these say all, for a figure beside it must be seen on its own side.
pub fn limit(bound: Quantity, unit: &Unit, words: &Words) -> String {
    if bound.unit() != unit {
        return written_in(bound, unit, words);
    }
    let second = words.second_unit(unit).map(|other| {
        let value = other.from_si(bound.si());
        let places = places_for(value.abs(), 4).unwrap_or(0).max(0);
        let text = to_decimals(value, places);
        let least = shortest_places(text.replace('\u{2212}', "-").parse().unwrap_or(value));
        with_unit(&decimal(value, least.min(places), words), other.symbol())
    });
    own(bound, words) + &beside(second)
}

/// A limit that was worked out, with four digits, or fewer where these say all.
pub fn limit_worked_out(bound: Quantity, words: &Words) -> String {
    let value = bound.written();
    let places = places_for(value.abs(), 4).unwrap_or(0).max(0);
    let text = to_decimals(value, places);
    let least = shortest_places(text.replace('\u{2212}', "-").parse().unwrap_or(value));
    with_unit(
        &decimal(value, least.min(places), words),
        bound.unit().symbol(),
    )
}

/// A target with what is allowed to either side of it: `120 ± 12 m³/h`.
pub fn around(target: Target, words: &Words) -> String {
    let Target { centre, within } = target;
    let unit = centre.unit();
    let half_width = match within {
        Within::By(amount) => digits(amount, words),
        Within::Percent(_) => shortest(target.half_width(), words),
    };
    let range = |centre: &str, half_width: &str, unit: &Unit| {
        with_unit(&format!("{centre}{NBSP}±{NBSP}{half_width}"), unit.symbol())
    };
    let second = words.second_unit(unit).map(|other| {
        let half_width = other.difference_from_si(unit.difference_to_si(target.half_width()));
        let places = places_for(half_width, 3).unwrap_or(0).max(0);
        let [centre, half_width] =
            [other.from_si(centre.si()), half_width].map(|value| decimal(value, places, words));
        range(&centre, &half_width, other)
    });
    range(&digits(centre, words), &half_width, unit) + &beside(second)
}

/// A difference in SI units that was worked out from figures whose coarsest last digit is
/// worth `step`, also in SI units, in the unit of differences of `unit`: `3.9 K`.
pub fn difference(si: f64, step: Option<f64>, unit: &Unit, words: &Words) -> String {
    let in_unit = |unit: &Unit| {
        let value = unit.difference_from_si(si);
        let places = step.map_or_else(
            || shortest_places(value),
            |step| place_of_step(unit.difference_from_si(step)),
        );
        with_unit(&decimal(value, places, words), unit.symbol())
    };
    let Some(unit) = Unit::named(unit.of_differences()) else {
        return in_unit(unit);
    };
    in_unit(unit) + &beside(words.second_unit(unit).map(in_unit))
}

/// A quantity in `unit`, and as it was written where that was in another one.
pub fn written_in(quantity: Quantity, unit: &Unit, words: &Words) -> String {
    if quantity.unit() == unit {
        return written(quantity, words);
    }
    let figure = converted(quantity, unit, words);
    match words.second_units() {
        // The other unit was the one in which it was written: that is worth more.
        Some(_) => figure + &beside(Some(own(quantity, words))),
        None => figure,
    }
}

/// A number of which no written digits are known, with the fewest that tell it; see
/// [`shortest_places`].
pub fn shortest(value: f64, words: &Words) -> String {
    decimal(value, shortest_places(value), words)
}

/// A figure with two significant digits, such as an uncertainty.
pub fn two_digits(value: f64, words: &Words) -> String {
    decimal(value, places_for(value, 2).unwrap_or(0), words)
}

/// The fewest decimals that tell a number: at most six, and of a small number as many as
/// show six of its digits.
fn shortest_places(value: f64) -> i32 {
    let first = if value == 0.0 {
        0.0
    } else {
        libm::log10(value.abs()).floor()
    };
    let most = (5.0 - first).clamp(6.0, 15.0) as i32;
    (0..most)
        .find(|decimals| {
            let scaled = value * ten_to(*decimals);
            (scaled - scaled.round()).abs() <= 1e-9 * scaled.abs().max(1.0)
                && (scaled.round() != 0.0 || value == 0.0)
        })
        .unwrap_or(most)
}

/// Where an estimate ends in `unit`: where `wanted` says, and further on where rounding
/// would put the figure on the other side of a bound.
fn ends_at(estimate: &Estimate, unit: &Unit, bounds: Option<Bounds>, wanted: Option<i32>) -> i32 {
    let value = unit.from_si(estimate.value);
    let wanted = wanted.unwrap_or_else(|| shortest_places(value));
    let ends = bounds
        .into_iter()
        .flat_map(|b| [b.min(), b.max()])
        .flatten();
    let ends: Vec<f64> = ends.map(|end| unit.from_si(end.si())).collect();
    (wanted..9)
        .find(|decimals| ends.iter().all(|end| same_side(value, *end, *decimals)))
        .unwrap_or(wanted.max(9))
}

/// Whether rounding leaves `value` on its side of `end`.
fn same_side(value: f64, end: f64, decimals: i32) -> bool {
    let scale = ten_to(decimals);
    let rounded = (value * scale).round() / scale;
    let close = (value - end).abs() <= 1e-9 * end.abs().max(1e-300);
    close || (value < end && rounded < end) || (value > end && rounded > end)
}

/// The value alone, without its uncertainty: `12.8 s`. One reading has the digits in which
/// it was written.
pub fn value(estimate: &Estimate, unit: &Unit, bounds: Option<Bounds>, words: &Words) -> String {
    with_unit(&bare(estimate, unit, bounds, words), unit.symbol())
}

/// The same in the units that the shop has stand beside its own; empty without such.
pub fn value_other(
    estimate: &Estimate,
    unit: &Unit,
    bounds: Option<Bounds>,
    words: &Words,
) -> String {
    let other = words.second_unit(unit);
    other.map_or_else(String::new, |other| value(estimate, other, bounds, words))
}

/// The value alone, without uncertainty and unit: `12.8`.
pub fn bare(estimate: &Estimate, unit: &Unit, bounds: Option<Bounds>, words: &Words) -> String {
    let places = ends_at(estimate, unit, bounds, estimate.places_alone(unit));
    decimal(unit.from_si(estimate.value), places, words)
}

/// The value and its expanded uncertainty: `12.8 ± 0.2`, without the unit.
pub fn value_pm(estimate: &Estimate, unit: &Unit, bounds: Option<Bounds>, words: &Words) -> String {
    let places = ends_at(estimate, unit, bounds, estimate.places(unit));
    let value = to_decimals(unit.from_si(estimate.value), places);
    let text = plus_minus(value, unit.difference_from_si(estimate.expanded), places);
    localised(text, words)
}

/// The same with its unit: `12.80 ± 0.20 s`.
pub fn value_pm_with_unit(
    estimate: &Estimate,
    unit: &Unit,
    bounds: Option<Bounds>,
    words: &Words,
) -> String {
    with_unit(&value_pm(estimate, unit, bounds, words), unit.symbol())
}

/// A difference with its sign and uncertainty: `−10.40 ± 0.28`, without the unit.
pub fn difference_pm(difference: &Estimate, unit: &Unit, words: &Words) -> String {
    let value = unit.difference_from_si(difference.value);
    let expanded = unit.difference_from_si(difference.expanded);
    let places = difference.places(unit);
    let places = places.unwrap_or_else(|| shortest_places(value));
    localised(plus_minus(signed(value, places), expanded, places), words)
}

/// A share of the baseline beyond which it says nothing but that the baseline was next to
/// nothing.
const LARGEST_SHARE: f64 = 10.0;

/// A relative change in percent with its sign and uncertainty: `−81.3 ± 1.6 %`; empty where
/// it is so large that only the difference makes sense.
pub fn percent_pm(relative: &Estimate, words: &Words) -> String {
    if relative.value.abs() > LARGEST_SHARE {
        return String::new();
    }
    let expanded = relative.expanded * 100.0;
    let places = places(expanded, None).unwrap_or(1);
    let value = signed(relative.value * 100.0, places);
    localised(with_unit(&plus_minus(value, expanded, places), "%"), words)
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

fn plus_minus(value: String, expanded: f64, decimals: i32) -> String {
    if expanded > 0.0 {
        format!("{value}{NBSP}±{NBSP}{}", to_decimals(expanded, decimals))
    } else {
        value
    }
}

fn signed(value: f64, decimals: i32) -> String {
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

/// An amount of money with its currency code, in the order of the language: `GBP 564.84`,
/// `564,84 GBP`; to the currency's own minor unit, and further only where more was written.
pub fn money(amount: Decimal, currency: Currency, words: &Words) -> String {
    let minor = currency.exponent().map_or(2, u32::from);
    let decimals = amount.normalize().scale().max(minor);
    let figure = localised(grouped(amount, decimals), words);
    words.say_with(
        "money",
        &[("currency", currency.code()), ("amount", &figure)],
    )
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
    use crate::quantity::{System, Written, digits_of};

    fn unit(symbol: &str) -> &'static Unit {
        Unit::named(symbol).unwrap()
    }

    fn estimate(value: f64, expanded: f64, written: Written) -> Estimate {
        Estimate {
            value,
            u: expanded / 2.0,
            expanded,
            written,
            ..Estimate::exact(value)
        }
    }

    fn wrote(text: &str, symbol: &str) -> Quantity {
        let quantity = Quantity::new(text.parse().unwrap(), unit(symbol)).unwrap();
        quantity.with_digits(digits_of(text))
    }

    fn plain(text: String) -> String {
        text.replace(NBSP, " ")
    }

    #[test]
    fn value_and_uncertainty_end_at_the_same_place() {
        let words = Words::english();
        let s = unit("s");
        let pm = |value, expanded, written| {
            let read = estimate(value, expanded, written);
            plain(value_pm(&read, s, None, &words))
        };
        assert_eq!(pm(12.8, 0.203, Written::Unknown), "12.80 ± 0.20");
        assert_eq!(pm(12.8, 0.203, Written::Once(0.1)), "12.8 ± 0.2");
        assert_eq!(pm(12.83, 0.203, Written::Several(0.1)), "12.83 ± 0.20");
        assert_eq!(pm(14.0, 0.33, Written::Once(0.1)), "14.0 ± 0.3");
        assert_eq!(pm(1482.0, 273.0, Written::Once(1.0)), "1480 ± 270");
        // Without uncertainty, the digits that were written.
        assert_eq!(pm(12.0, 0.0, Written::Once(0.1)), "12.0");
        assert_eq!(pm(13.5, 0.0, Written::Unknown), "13.5");
        let change = |written| plain(difference_pm(&estimate(-10.4, 0.284, written), s, &words));
        assert_eq!(change(Written::Several(0.1)), "−10.40 ± 0.28");
        assert_eq!(change(Written::Several(1.0)), "−10.4 ± 0.3");
    }

    /// A logger that shows whole minutes: its step alone gives U = 1.96/√12 = 0.566 min,
    /// √2 times that for the change.
    #[test]
    fn a_logger_of_whole_minutes_is_not_read_to_seconds() {
        let (words, min) = (Words::english(), unit("min"));
        let read = |value: f64, u: f64, written| estimate(min.to_si(value), min.to_si(u), written);
        for written in [Written::Once(60.0), Written::Several(60.0)] {
            let found = value_pm(&read(171.0, 0.566, written), min, None, &words);
            assert_eq!(plain(found), "171.0 ± 0.6");
        }
        let alone = value(&read(171.0, 0.566, Written::Once(60.0)), min, None, &words);
        assert_eq!(plain(alone), "171 min");
        let change = read(-6.0, 0.8, Written::Several(60.0));
        assert_eq!(plain(difference_pm(&change, min, &words)), "−6.0 ± 0.8");
    }

    /// 23/30 rpm is the spread of means of whole revolutions; 7 °F are 3.889 K.
    #[test]
    fn what_has_no_uncertainty_has_no_more_digits_than_it_came_from() {
        let words = Words::english();
        let rpm = unit("rpm");
        let spread = rpm.difference_to_si(23.0 / 30.0);
        let to = |step: f64| plain(difference(spread, Some(rpm.to_si(step)), rpm, &words));
        assert_eq!(to(1.0), "1 rpm");
        assert_eq!(to(0.1), "0.8 rpm");
        let kelvin = |step| plain(difference(7.0 / 1.8, Some(step), unit("°C"), &words));
        assert_eq!(kelvin(1.0 / 1.8), "3.9 K");
        assert_eq!(kelvin(0.1 / 1.8), "3.89 K");
    }

    /// 4.96 s rounds to 5.0 at one decimal, which would read as "at the limit".
    #[test]
    fn rounding_never_moves_a_figure_across_its_limit() {
        let bounds = Bounds::new(None, Some(wrote("5", "s")));
        for (read, shown) in [
            (4.96, "4.96 s"),
            (5.04, "5.04 s"),
            (5.0, "5.0 s"),
            (2.44, "2.4 s"),
        ] {
            let read = estimate(read, 0.6, Written::Several(1.0));
            let text = value(&read, unit("s"), bounds, &Words::english());
            assert_eq!(plain(text), shown);
        }
    }

    /// By hand, with 1 psi = 6.894 757 kPa (NIST SP 811, B.8): 20 kPa are 2.9007 psi, of
    /// which the last digit of 20 is worth 0.15; 24 bar are 348.09 psi, its last digit 14.5;
    /// −1.5 °C are 29.3 °F; a difference of 3 K is one of 5.4 F-degrees.
    #[test]
    fn a_figure_in_the_other_units_has_no_more_digits_than_it_is_worth() {
        let us = Words::english().with_second_units(Some(System::UsCustomary));
        for (text, symbol, shown) in [
            ("20", "kPa", "20 kPa (2.9 psi)"),
            ("20.0", "kPa", "20.0 kPa (2.90 psi)"),
            ("24", "bar", "24 bar (350 psi)"),
            ("24.0", "bar", "24.0 bar (348 psi)"),
            ("-1.5", "°C", "−1.5 °C (29.3 °F)"),
            ("0.4", "mm", "0.4 mm (0.016 in)"),
            ("12.50", "s", "12.50 s"),
        ] {
            assert_eq!(plain(written(wrote(text, symbol), &us)), shown);
        }
        let apart = difference(3.0, Some(1.0), unit("°C"), &us);
        assert_eq!(plain(apart), "3 K (5 Δ°F)");
        let si = Words::english().with_second_units(Some(System::Si));
        let psi = wrote("100", "psi");
        assert_eq!(plain(written(psi, &si)), "100 psi (689 kPa)");
        let kpa = written_in(psi, unit("kPa"), &si);
        assert_eq!(plain(kpa), "689 kPa (100 psi)");
    }

    /// 3 bar are 43.511 psi, 3.02 bar 43.801: beyond the limit in both units.
    #[test]
    fn a_figure_and_its_limit_agree_in_the_other_units() {
        let us = Words::english().with_second_units(Some(System::UsCustomary));
        let bar = unit("bar");
        let bound = wrote("3.0", "bar");
        assert_eq!(plain(limit(bound, bar, &us)), "3.0 bar (43.51 psi)");
        let ten = limit(wrote("10", "°C"), unit("°C"), &us);
        assert_eq!(plain(ten), "10 °C (50 °F)");
        let bounds = Bounds::new(None, Some(bound));
        let other = |value: f64| {
            let step = Written::Once(bar.difference_to_si(0.01));
            let read = estimate(bar.to_si(value), bar.difference_to_si(0.1), step);
            plain(value_other(&read, bar, bounds, &us))
        };
        assert_eq!(other(3.02), "43.8 psi");
        assert_eq!(other(2.999), "43.5 psi");
    }

    #[test]
    fn the_decimal_sign_is_that_of_the_language() {
        let spanish = Words::of("es", &[]).unwrap();
        assert_eq!(
            value_pm(
                &estimate(12.8, 0.203, Written::Once(0.01)),
                unit("s"),
                None,
                &spanish
            ),
            "12,80\u{A0}±\u{A0}0,20"
        );
        assert_eq!(
            money(Decimal::new(12345678, 2), Currency::EUR, &spanish),
            "123\u{202F}456,78\u{A0}EUR"
        );
    }

    #[test]
    fn figures_as_people_write_them() {
        assert_eq!(
            shortest(0.000_029_432_45, &Words::english()),
            "0.0000294324"
        );
        assert_eq!(shortest(0.000_2, &Words::english()), "0.0002");
        assert_eq!(shortest(5.0, &Words::english()), "5");
        assert_eq!(shortest(0.15, &Words::english()), "0.15");
        assert_eq!(shortest(-1.5, &Words::english()), "−1.5");
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

    /// Of a baseline next to nothing no share is printed.
    #[test]
    fn a_share_of_next_to_nothing_is_not_printed() {
        let words = Words::english();
        let share = |value: f64| percent_pm(&estimate(value, 0.02, Written::Unknown), &words);
        assert!(share(9.99).starts_with("+999"));
        assert_eq!(share(10.01), "");
        assert_eq!(share(12_579.93), "");
    }
}
