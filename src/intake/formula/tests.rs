use super::*;
use crate::job::Between;
use crate::job::InputOf;

fn unit(symbol: &str) -> &'static Unit {
    Unit::named(symbol).unwrap()
}

fn input(id: &str, symbol: &str, at: Option<&str>) -> Input {
    Input {
        of: InputOf::Measure(id.to_owned()),
        unit: unit(symbol),
        at: at.map(|id| Positions {
            id: id.to_owned(),
            ..Positions::cylinders(3)
        }),
    }
}

/// Measures `a` and `b` in bar, `warm` in °C, `volts` at three phases, `amps` at three others.
fn parsed(text: &str, symbol: &str) -> Result<Formula, Fault> {
    let table = Table::new(
        "saturation".to_owned(),
        "Invented".to_owned(),
        [unit("bar"), unit("°C")],
        Between::Line,
        vec![(1.0, -26.0), (2.0, -10.0), (4.0, 9.0)],
    );
    let names = Names {
        extremes: Vec::new(),
        refused: Vec::new(),
        parts: vec![
            input("a", "bar", None),
            input("b", "bar", None),
            input("warm", "°C", None),
            input("volts", "V", Some("phases")),
            input("amps", "A", Some("clamps")),
            input("drop", "V", Some("phases")),
        ],
        tables: &[Arc::new(table.unwrap())],
    };
    formula(text, unit(symbol), &names)
}

/// The value for one number a part, or three of the phases.
fn value(text: &str, symbol: &str, figures: &[&[f64]]) -> f64 {
    let figures: Vec<Vec<f64>> = figures.iter().map(|each| each.to_vec()).collect();
    let formula = parsed(text, symbol).unwrap();
    formula.evaluate(&figures, 0).unwrap().value
}

#[test]
fn arithmetic_as_it_is_written() {
    for (text, wanted) in [
        ("a + 2 + 3 * 4 ^ 2 / 8", 9.0),
        ("a - 10 - 4 - 3", -16.0),
        ("a * -2 ^ 2", -4.0),
        ("2 ^ 3 ^ 2 * a", 512.0),
        ("(a + 2) * 3", 9.0),
        ("a × 6 ÷ 3 − 1", 1.0),
        ("size(a - 4) * 1", 3.0),
        ("root(16) * a", 4.0),
        ("exp(0) * a", 1.0),
        ("ln(exp(2)) * a", 2.0),
    ] {
        let found = value(text, "bar", &[&[1.0]]);
        assert!((found - wanted).abs() < 1e-12, "{text}: {found}");
    }
}

/// NEMA MG 1, 14.36 (from memory): 549, 570 and 585 V have the mean 568 V, the greatest
/// deviation from it is 19 V, and the unbalance 3.3 %.
#[test]
fn voltage_unbalance_as_in_nema() {
    let text = "100 * greatest-deviation(volts) / mean(volts)";
    let found = value(text, "%", &[&[549.0, 570.0, 585.0]]);
    assert!((found - 100.0 * 19.0 / 568.0).abs() < 1e-12, "{found}");
    assert_eq!(format!("{found:.1}"), "3.3");
}

/// IEEE 43 (from memory): insulation halves for every 10 °C, K = 0.5^((40 − T)/10). What is
/// 100 at 20 °C is 25 at 40 °C.
#[test]
fn insulation_corrected_to_forty_degrees() {
    let text = "a * 0.5 ^ ((40 - warm) / 10)";
    let found = value(text, "bar", &[&[100.0], &[20.0]]);
    assert!((found - 25.0).abs() < 1e-12);
}

#[test]
fn of_all_positions() {
    let volts: &[f64] = &[3.0, 8.0, 4.0];
    for (text, wanted) in [
        ("sum(volts)", 15.0),
        ("mean(volts)", 5.0),
        ("lowest(volts)", 3.0),
        ("highest(volts)", 8.0),
        ("spread(volts)", 5.0),
        ("greatest-deviation(volts)", 3.0),
    ] {
        let found = value(text, "V", &[volts]);
        assert!((found - wanted).abs() < 1e-12, "{text}: {found}");
    }
    let least = value("100 * lowest(volts) / highest(volts)", "%", &[volts]);
    assert!((least - 37.5).abs() < 1e-12);
}

/// A figure of each position, and which positions those are.
#[test]
fn position_by_position() {
    let each = parsed("volts - drop", "V").unwrap();
    assert_eq!(each.at().unwrap().id, "phases");
    let figures = [vec![9.0], vec![4.0]];
    assert_eq!(each.evaluate(&figures, 2).unwrap().value, 5.0);
    let one = parsed("spread(volts) / mean(amps)", "Ω").unwrap();
    assert!(one.at().is_none());
}

/// Between the rows 1.0 → −26 and 2.0 → −10 the slope is 16, then 9.5; at the row itself the
/// steeper one. Nothing is read off beyond the ends.
#[test]
fn a_table_is_a_line_from_row_to_row() {
    let formula = parsed("warm - saturation(a)", "K").unwrap();
    let at = |pressure: f64| formula.evaluate(&[vec![5.0], vec![pressure]], 0);
    let found = at(1.5).unwrap();
    assert_eq!((found.value, found.slopes), (23.0, vec![1.0, -16.0]));
    assert_eq!(at(2.0).unwrap().slopes, vec![1.0, -16.0]);
    assert_eq!(at(3.0).unwrap().slopes, vec![1.0, -9.5]);
    for beyond in [0.99, 4.01] {
        let said = at(beyond).unwrap_err().to_string();
        assert!(said.contains("holds 1 to 4"), "{said}");
    }
}

/// What rounding moves off a row is at the row: 0.1 + 0.2 is 0.3, at its steeper slope and not
/// beyond the end.
#[test]
fn a_row_of_a_table_is_met_within_rounding() {
    let bit = |x: f64, more: bool| f64::from_bits(x.to_bits() + u64::from(more) - u64::from(!more));
    let rows = [(0.1, 1.0), (0.2, 2.0), (0.3, 6.0)];
    let table = |between| {
        let unit = unit("1");
        Table::new("t".into(), "s".into(), [unit, unit], between, rows.to_vec()).unwrap()
    };
    let (line, step) = (table(Between::Line), table(Between::Step));
    for x in [bit(0.2, false), 0.2, bit(0.2, true)] {
        assert!((line.look_up(x).unwrap().1 - 40.0).abs() < 1e-9);
        assert_eq!(step.look_up(x).unwrap().0, 2.0);
    }
    for x in [0.3, 0.1 + 0.2, bit(0.3, false)] {
        assert!((line.look_up(x).unwrap().0 - 6.0).abs() < 1e-9);
        assert_eq!(step.look_up(x).unwrap().0, 6.0);
    }
    assert!(line.look_up(0.1 - 1e-9).is_err() && step.look_up(0.3 + 1e-9).is_err());
    // A reading of 0 °F, through kelvins and back.
    let fahrenheit = unit("°F");
    let rows = vec![(0.0, 1.0), (50.0, 2.0)];
    let table = Table::new("t".into(), "s".into(), [fahrenheit; 2], Between::Step, rows).unwrap();
    let read = fahrenheit.from_si(fahrenheit.to_si(0.0));
    assert!(read < 0.0 && table.look_up(read).unwrap().0 == 1.0);
}

/// The slopes are those of small differences, for every function and sign.
#[test]
fn slopes_as_by_small_differences() {
    let figures = [vec![1.7], vec![0.6]];
    for text in [
        "a * b - a / b",
        "a ^ b * 3",
        "(a + b) ^ 2 / b",
        "root(a) * exp(b / a)",
        "ln(a / b) - a",
        "-size(b - a) * a",
        "saturation(a) * b",
    ] {
        let formula = parsed(text, "K").or_else(|_| parsed(text, "bar")).unwrap();
        let order = formula.parts.iter().map(|part| part.of.id() == "b");
        let figures: Vec<Vec<f64>> = order.map(|b| figures[usize::from(b)].clone()).collect();
        let found = formula.evaluate(&figures, 0).unwrap();
        for (part, slope) in found.slopes.iter().enumerate() {
            let moved = |by: f64| {
                let mut figures = figures.clone();
                figures[part][0] += by;
                formula.evaluate(&figures, 0).unwrap().value
            };
            let wanted = (moved(1e-6) - moved(-1e-6)) / 2e-6;
            assert!(
                (slope - wanted).abs() < 1e-6 * wanted.abs().max(1.0),
                "{text}: {slope} {wanted}"
            );
        }
    }
}

#[test]
fn every_choice_of_extremes_is_looked_at() {
    let figures = [vec![3.0, 8.0, 4.0]];
    let choices = |text: &str| {
        let formula = parsed(text, "V").unwrap();
        let all = formula.each_choice(&figures, 0).unwrap();
        let mut values: Vec<f64> = all.iter().map(|choice| choice.value).collect();
        values.sort_by(f64::total_cmp);
        // A mean is not to the last bit.
        values
            .iter()
            .map(|value| (value * 1e9).round() / 1e9)
            .collect::<Vec<f64>>()
    };
    assert_eq!(choices("mean(volts)"), [5.0]);
    assert_eq!(choices("lowest(volts)"), [3.0, 4.0, 8.0]);
    assert_eq!(choices("spread(volts)"), [-5.0, -4.0, -1.0, 1.0, 4.0, 5.0]);
    assert_eq!(choices("greatest-deviation(volts)"), [1.0, 2.0, 3.0]);
    assert_eq!(choices("highest(volts) - lowest(volts)").len(), 9);
}

#[test]
fn what_is_wrong_is_said() {
    for (text, symbol, said) in [
        ("a +", "bar", "ends too early"),
        ("(a + b", "bar", "not closed"),
        ("a + b)", "bar", "`)` is not expected"),
        ("a b", "bar", "`b` is not expected"),
        ("* a", "bar", "`*` is not expected"),
        ("1.2.3 * a", "bar", "not a number"),
        ("a * 1,5", "bar", "comma"),
        ("a & b", "bar", "`&` has no meaning"),
        ("A + b", "bar", "`A` has no meaning"),
        ("c + a", "bar", "no measure or condition `c`"),
        ("a-b", "bar", "no measure or condition `a-b`"),
        ("boiling(a)", "°C", "no table or function `boiling`"),
        ("saturation(warm)", "°C", "asked in bar, not in °C"),
        ("mean(a)", "bar", "needs several positions"),
        ("mean(3)", "bar", "takes the id of one measure"),
        ("volts * amps", "W", "read at other positions"),
        ("a - warm", "bar", "cannot be added or subtracted"),
        ("warm - warm", "°C", "gives K"),
        ("a - b", "kPa", "gives bar"),
        ("a / b", "%", "gives a fraction"),
        ("3 * 4", "bar", "names no reading"),
    ] {
        let (message, hint) = parsed(text, symbol).expect_err(text);
        assert!(message.contains(said), "{text}: {message}");
        assert!(!hint.is_empty());
    }
    let deep = format!("{}a{}", "(".repeat(40), ")".repeat(40));
    assert!(parsed(&deep, "bar").unwrap_err().0.contains("nested"));
}

#[test]
fn what_gives_no_number_is_told() {
    let of = |text: &str, a: f64| {
        let formula = parsed(text, "bar").unwrap();
        formula.evaluate(&[vec![a]], 0).is_err()
    };
    assert!(of("1 / a + a", 0.0) && !of("1 / a + a", 1.0));
    assert!(of("root(a)", -1.0) && of("ln(a)", 0.0) && of("root(a)", 0.0));
}
