use super::super::scatter::Scatter;
use super::super::uncertainty::estimate;
use super::*;
use crate::job::{Expression, Input, InputOf, Operator, Over, Positions, RunToRun, Spread};

fn unit(symbol: &str) -> &'static Unit {
    Unit::named(symbol).unwrap()
}

fn quantity(value: f64, symbol: &str) -> Quantity {
    Quantity::new(value, unit(symbol)).unwrap()
}

fn instrument(symbol: &str, accuracy: f64, of_reading: f64, reason: Option<&str>) -> Instrument {
    let some = |value: f64, symbol| (value > 0.0).then(|| quantity(value, symbol));
    Instrument {
        id: "meter".into(),
        kind: "Meter".into(),
        serial: None,
        unit: unit(symbol),
        accuracy: some(accuracy, symbol),
        accuracy_of_reading: some(of_reading, "%"),
        resolution: None,
        hand_timing: None,
        stated: None,
        common_error: reason.map(str::to_owned),
        calibrated: None,
        due: None,
        certificate: None,
        laboratory: None,
    }
}

/// One part: its figures, each read once with `instrument`.
fn part<'a>(figures: &[f64], symbol: &str, instrument: &'a Instrument) -> PartRead<'a> {
    let errors = Errors {
        instrument: Some(instrument),
        ..Errors::default()
    };
    let figures: Vec<_> = figures.iter().map(|one| vec![*one]).collect();
    read("m", &figures, symbol, errors)
}

/// The measure `id`, the repeats of each of its positions.
fn read<'a>(
    id: &'static str,
    repeats: &[Vec<f64>],
    symbol: &str,
    errors: Errors<'a>,
) -> PartRead<'a> {
    let each = repeats.iter().enumerate().map(|(place, values)| {
        let values: Vec<Quantity> = values.iter().map(|one| quantity(*one, symbol)).collect();
        Figure::read(Follows {
            id,
            place,
            estimate: estimate(&values, errors),
            slope: 1.0,
            instrument: errors.instrument,
            error: InstrumentError::of(&values, errors),
        })
    });
    PartRead {
        each: each.collect(),
        unit: unit(symbol),
    }
}

fn over(expression: Expression, count: usize, symbol: &str) -> Formula {
    Formula {
        text: String::new(),
        parts: vec![Input {
            of: InputOf::Measure("m".to_owned()),
            unit: unit(symbol),
            at: Some(Positions::cylinders(count)),
        }],
        expression,
        least_read: None,
    }
}

fn both(operator: Operator, left: Expression, right: Expression) -> Expression {
    Expression::Both(operator, Box::new(left), Box::new(right))
}

/// JCGM 100:2008, 5.2.2, example: ten resistors of 1 000 Ω, each compared with the same
/// standard with u = 100 mΩ, in series: 10 kΩ with u = 1 Ω, because their errors are one. As
/// if they were independent it would be 0.32 Ω, which the guide calls incorrect.
#[test]
fn ten_resistors_as_in_gum_5_2_2() {
    let of = |reason| {
        let standard = instrument("Ω", 0.1 * 3f64.sqrt(), 0.0, reason);
        let parts = [part(&[1000.0; 10], "Ω", &standard)];
        let sum = over(Expression::Over(Over::Sum, 0), 10, "Ω");
        let found = propagate(&sum, &parts, ("", 0), unit("Ω"))
            .unwrap()
            .estimate;
        assert!((found.value - 10_000.0).abs() < 1e-9);
        found.u
    };
    assert!((of(Some("One standard")) - 1.0).abs() < 1e-12);
    // Nothing is said of it: the less favourable of both.
    assert!((of(None) - 1.0).abs() < 1e-12);
    // Ten standards.
    let apart: Vec<Instrument> = (0..10)
        .map(|n| Instrument {
            id: format!("standard-{n}"),
            ..instrument("Ω", 0.1 * 3f64.sqrt(), 0.0, None)
        })
        .collect();
    let single = |place| Expression::Part(place);
    let sum = (1..10).fold(single(0), |sum, place| {
        both(Operator::Add, sum, single(place))
    });
    let formula = Formula {
        text: String::new(),
        parts: (0..10)
            .map(|n| Input {
                of: InputOf::Measure(format!("r{n}")),
                unit: unit("Ω"),
                at: None,
            })
            .collect(),
        expression: sum,
        least_read: None,
    };
    let parts: Vec<PartRead<'_>> = apart
        .iter()
        .zip(["0", "1", "2", "3", "4", "5", "6", "7", "8", "9"])
        .map(|(one, id)| {
            let errors = Errors {
                instrument: Some(one),
                ..Errors::default()
            };
            read(id, &[vec![1000.0]], "Ω", errors)
        })
        .collect();
    let found = propagate(&formula, &parts, ("", 0), unit("Ω"))
        .unwrap()
        .estimate;
    assert!((found.u - 0.1 * 10f64.sqrt()).abs() < 1e-12);
}

/// Voltages of one meter of ±0.8 % of the reading: an error that is the same share of all
/// three changes nothing in their unbalance. Where it is not known to be the same, it counts.
#[test]
fn a_shared_share_cancels_in_an_unbalance() {
    let unbalance = |reason| {
        let meter = instrument("V", 0.0, 0.8, reason);
        let parts = [part(&[398.0, 400.3, 402.3], "V", &meter)];
        let share = both(
            Operator::Multiply,
            Expression::Number(100.0),
            both(
                Operator::Divide,
                Expression::Over(Over::GreatestDeviation, 0),
                Expression::Over(Over::Mean, 0),
            ),
        );
        propagate(&over(share, 3, "V"), &parts, ("", 0), unit("%"))
            .unwrap()
            .estimate
    };
    let shared = unbalance(Some("One meter, one range, one minute"));
    assert!(shared.u < 1e-9, "{}", shared.u);
    let apart = unbalance(None);
    assert!(apart.expanded > 0.004, "{}", apart.expanded);
}

/// Two positions that are alike could each be the lowest: the uncertainty is that of the one
/// that is known least, at a level shared between both.
#[test]
fn extremes_count_every_position_that_may_be_it() {
    let meter = instrument("V", 1.0, 0.0, None);
    let mut read = part(&[10.0, 10.2, 30.0], "V", &meter);
    for (place, u) in [(1, 2.0), (2, 9.0)] {
        let reading = &mut read.each[place].readings[0];
        reading.estimate.components = vec![Component::new(Source::Accuracy, u, f64::INFINITY)];
    }
    for figure in &mut read.each {
        figure.readings[0].instrument = None;
    }
    let lowest = over(Expression::Over(Over::Lowest, 0), 3, "V");
    let found = propagate(&lowest, &[read], ("", 0), unit("V"))
        .unwrap()
        .estimate;
    assert_eq!(found.value, 10.0);
    // A rectangular error alone is expanded to 0.98333 · √3 · 2 = 3.41 at 1 − 0.05/3, which
    // is less than 1.96 · 2: its standard uncertainty counts.
    let z = coverage_factor(COVERAGE, f64::INFINITY);
    assert!(
        (found.expanded - z * 2.0).abs() < 1e-9,
        "{}",
        found.expanded
    );
}

/// Three phases with three readings each, whose scatter is one estimate of s = 0.3 A with
/// 6 degrees of freedom: their sum has one component, √3 · 0.3/√3 = 0.3 A, with those 6. As
/// three estimates it would have 18, and be expanded too little.
#[test]
fn a_scatter_counts_its_degrees_of_freedom_once() {
    let errors = Errors {
        scatter: Some(Scatter { s: 0.3, dof: 6.0 }),
        ..Errors::default()
    };
    let repeats = [vec![10.0; 3], vec![11.0; 3], vec![12.0; 3]];
    let parts = [read("m", &repeats, "A", errors)];
    let sum = over(Expression::Over(Over::Sum, 0), 3, "A");
    let found = propagate(&sum, &parts, ("", 0), unit("A"))
        .unwrap()
        .estimate;
    assert_eq!(found.components.len(), 1);
    assert!((found.u - 0.3).abs() < 1e-12, "{}", found.u);
    assert_eq!(found.dof, 6.0);
    // t of 6 degrees of freedom, as every table of it has: 2.447.
    assert!((found.expanded - 2.447 * 0.3).abs() < 1e-4);
}

/// The scatter of two measures is two estimates, each of 2 degrees of freedom: of the
/// difference of their means of three, u = √(0.3²/3 + 0.3²/3) = 0.245, with 4 by Welch and
/// Satterthwaite (JCGM 100:2008, G.4.1).
#[test]
fn the_scatters_of_two_measures_are_two() {
    let errors = Errors {
        scatter: Some(Scatter { s: 0.3, dof: 2.0 }),
        ..Errors::default()
    };
    let parts = ["a", "b"].map(|id| read(id, &[vec![10.0; 3]], "A", errors));
    let difference = both(Operator::Subtract, Expression::Part(0), Expression::Part(1));
    let formula = over_measures(difference, ["a", "b"]);
    let found = propagate(&formula, &parts, ("m", 0), unit("A"))
        .unwrap()
        .estimate;
    assert_eq!(found.components.len(), 2);
    assert!((found.u - 0.06f64.sqrt()).abs() < 1e-12, "{}", found.u);
    assert!((found.dof - 4.0).abs() < 1e-9, "{}", found.dof);
}

/// What a machine varies by may be one for all positions, or another for each: 0.2 A at each
/// of three is up to 0.6 A in their sum, and in the difference of two at most √2 · 0.2 A.
#[test]
fn a_variation_of_the_machine_counts_as_the_less_favourable() {
    let stated = RunToRun {
        spread: Spread::Deviation(quantity(0.2, "A")),
        runs: Some(8),
        source: "Log".into(),
    };
    let errors = Errors {
        run_to_run: Some(&stated),
        ..Errors::default()
    };
    let parts = [read(
        "m",
        &[vec![10.0], vec![11.0], vec![12.0]],
        "A",
        errors,
    )];
    let of = |expression| {
        let formula = over(expression, 3, "A");
        let found = propagate(&formula, &parts, ("", 0), unit("A"))
            .unwrap()
            .estimate;
        assert_eq!(found.dof, 7.0);
        found.u
    };
    assert!((of(Expression::Over(Over::Sum, 0)) - 0.6).abs() < 1e-12);
    let apart = both(
        Operator::Subtract,
        Expression::Over(Over::Sum, 0),
        times_of(3.0, 0),
    );
    // Slopes −2, 1 and 1, which add up to nothing: √6 · 0.2.
    assert!((of(apart) - 6f64.sqrt() * 0.2).abs() < 1e-12);
}

/// Through a figure that is worked out itself, a reading is still the same reading: (2m) − 2m
/// is exactly nothing, and the error of one meter in both parts is seen.
#[test]
fn readings_are_followed_through_figures_of_figures() {
    let meter = instrument("A", 1.0, 0.0, Some("One meter"));
    let parts = [part(&[10.0], "A", &meter)];
    let twice = propagate(&over(times_of(2.0, 0), 1, "A"), &parts, ("", 0), unit("A")).unwrap();
    assert!((twice.estimate.u - 2.0 / 3f64.sqrt()).abs() < 1e-12);
    let again = PartRead {
        each: vec![twice],
        unit: unit("A"),
    };
    let mut formula = over(
        both(Operator::Subtract, Expression::Part(0), times_of(2.0, 1)),
        1,
        "A",
    );
    formula.parts.push(formula.parts[0].clone());
    let [read] = parts;
    let nothing = propagate(&formula, &[again, read], ("", 0), unit("A")).unwrap();
    assert_eq!((nothing.estimate.value, nothing.estimate.u), (0.0, 0.0));
    // It is left of 20 A, of which rounding leaves up to 20 parts in 10¹²; 2m has 20 of its
    // own and twice the 10 of m, and so has what is taken away.
    let noise = nothing.estimate.noise;
    assert!((70e-12..=90e-12).contains(&noise), "{noise}");
}

/// One that is followed by a third as often as it is taken away is not followed: what
/// rounding leaves of such slopes is no slope. 0.1 + 0.2 − 0.3 is 5.6·10⁻¹⁷.
#[test]
fn slopes_that_cancel_leave_nothing() {
    let meter = instrument("A", 1.0, 0.0, None);
    let left = |expression, parts: &[PartRead<'_>]| {
        let mut formula = over(expression, 1, "A");
        let one = formula.parts[0].clone();
        formula.parts = parts.iter().map(|_| one.clone()).collect();
        let found = propagate(&formula, parts, ("m", 0), unit("A")).unwrap();
        (found.readings.len(), found.estimate.u)
    };
    let tenths = |one, two, three| {
        let sum = both(Operator::Add, times_of(0.1, one), times_of(0.2, two));
        both(Operator::Subtract, sum, times_of(0.3, three))
    };
    let read = || part(&[10.0], "A", &meter);
    // In one part of the formula, and in three that are one reading.
    let within = left(tenths(0, 0, 0), &[read()]);
    let across = left(tenths(0, 1, 2), &[read(), read(), read()]);
    assert_eq!((within, across), ((0, 0.0), (0, 0.0)));
}

/// (m − 0.001 − m)³ follows m in no way, and rounding has left of m what it has: of 300 A the
/// last place is 6·10⁻¹⁴, which a slope of 3 · 0.001² passes on.
#[test]
fn what_rounding_leaves_passes_on_where_the_slopes_cancel() {
    let meter = instrument("A", 1.0, 0.0, None);
    let of = |read: f64| {
        let rest = both(
            Operator::Subtract,
            both(
                Operator::Subtract,
                Expression::Part(0),
                Expression::Number(0.001),
            ),
            Expression::Part(0),
        );
        let cube = both(Operator::Power, rest, Expression::Number(3.0));
        let parts = [part(&[read], "A", &meter)];
        propagate(&over(cube, 1, "A"), &parts, ("m", 0), unit("A"))
            .unwrap()
            .estimate
    };
    let (one, other) = (of(300.0), of(7.0));
    assert_eq!((one.u, other.u), (0.0, 0.0));
    let apart = (one.value - other.value).abs();
    assert!(apart > 1e-12 * one.value.abs(), "{apart}");
    assert!(apart < one.noise, "{apart} {}", one.noise);
}

/// Three figures of one meter, of which it is not known whether its errors are the same:
/// the lists of slopes 2, 2 and −1 give 3 with their signs, and √(4 + 4 + 1) = 3 without.
/// Both are the same, and the figure is worked out as from three that are independent.
#[test]
fn errors_that_count_alike_either_way_are_taken_apart() {
    let meter = instrument("A", 1.0, 0.0, None);
    let parts = ["a", "b", "c"].map(|id| {
        read(
            id,
            &[vec![10.0]],
            "A",
            Errors {
                instrument: Some(&meter),
                ..Errors::default()
            },
        )
    });
    let twice = both(Operator::Add, times_of(2.0, 0), times_of(2.0, 1));
    let less = both(Operator::Subtract, twice, Expression::Part(2));
    let formula = over_measures(less, ["a", "b", "c"]);
    let found = propagate(&formula, &parts, ("m", 0), unit("A"))
        .unwrap()
        .estimate;
    assert_eq!(found.components.len(), 3);
    assert!((found.u - 3f64.sqrt()).abs() < 1e-12);
}

/// A formula over these measures, each read once.
fn over_measures<const N: usize>(expression: Expression, ids: [&str; N]) -> Formula {
    let parts = ids.map(|id| Input {
        of: InputOf::Measure(id.to_owned()),
        unit: unit("A"),
        at: None,
    });
    Formula {
        parts: parts.to_vec(),
        ..over(expression, 1, "A")
    }
}

fn times_of(factor: f64, part: usize) -> Expression {
    both(
        Operator::Multiply,
        Expression::Number(factor),
        Expression::Part(part),
    )
}
