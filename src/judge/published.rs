//! The arithmetic of the judgement against published values, each named.
//!
//! Values that could not be looked up in the document itself are marked "from
//! memory"; values of our own are marked "computed".

use super::student::{coverage_factor, cumulative};
use super::uncertainty::{Errors, combine, estimate, mean, standard_deviation};
use crate::quantity::{Component, Quantity, Source, Unit};

fn part(u: f64, dof: f64) -> Component {
    Component {
        source: Source::Stated,
        u,
        dof,
    }
}

fn of(values: &[f64]) -> crate::quantity::Estimate {
    let unit = Unit::named("1").unwrap();
    let values: Vec<Quantity> = values
        .iter()
        .map(|v| Quantity::new(*v, unit).unwrap())
        .collect();
    estimate(&values, Errors::default())
}

/// The number of digits that agree: NIST's log-relative error.
fn agreeing_digits(found: f64, certified: f64) -> f64 {
    if found == certified {
        return 15.0;
    }
    -((found - certified).abs() / certified.abs()).log10()
}

/// NIST Statistical Reference Datasets, univariate summary statistics: certified
/// mean and standard deviation (n − 1). NumAcc3 and NumAcc4 defeat the one-pass
/// formula, which keeps 1.9 and 0.1 digits of the deviation.
#[test]
fn nist_strd_univariate_all_sets_to_eight_digits() {
    let sets: [(&str, &str, usize, f64, f64); 6] = [
        (
            "NumAcc1",
            include_str!("../../tests/data/nist-strd/numacc1.txt"),
            3,
            10_000_002.0,
            1.0,
        ),
        (
            "NumAcc2",
            include_str!("../../tests/data/nist-strd/numacc2.txt"),
            1001,
            1.2,
            0.1,
        ),
        (
            "NumAcc3",
            include_str!("../../tests/data/nist-strd/numacc3.txt"),
            1001,
            1_000_000.2,
            0.1,
        ),
        (
            "NumAcc4",
            include_str!("../../tests/data/nist-strd/numacc4.txt"),
            1001,
            10_000_000.2,
            0.1,
        ),
        (
            "Michelso",
            include_str!("../../tests/data/nist-strd/michaelso.txt"),
            100,
            299.852_400_000_000,
            0.079_010_547_819_051_8,
        ),
        (
            "Mavro",
            include_str!("../../tests/data/nist-strd/mavro.txt"),
            50,
            2.001_856_000_000_00,
            0.000_429_123_454_003_053,
        ),
    ];
    for (name, text, count, certified_mean, certified_sd) in sets {
        let values: Vec<f64> = text
            .split_whitespace()
            .map(|x| x.parse().unwrap())
            .collect();
        assert_eq!(values.len(), count, "{name}");
        let found = mean(&values);
        let deviation = standard_deviation(&values, found);
        let digits = agreeing_digits(found, certified_mean);
        assert!(digits >= 8.0, "{name}: {digits:.1} digits of the mean");
        let digits = agreeing_digits(deviation, certified_sd);
        assert!(
            digits >= 8.0,
            "{name}: {digits:.1} digits of the standard deviation"
        );
        println!("{name}: {digits:.1} digits of the certified standard deviation");
    }
}

/// JCGM 100:2008, H.1 (end gauge): the four first-order contributions with their
/// degrees of freedom give u_c = 32 nm, ν_eff = 16.7, cut to 16, and U₉₉ = 93 nm
/// (from rounded 2.92 × 32; unrounded 92.48 nm).
#[test]
fn gum_h1_end_gauge() {
    let found = combine(
        50.000_838e6,
        vec![
            part(25.0, 18.0),
            part(9.7, 25.6),
            part(2.9, 50.0),
            part(16.6, 2.0),
        ],
    );
    assert!((found.u - 32.0).abs() < 0.5, "{}", found.u);
    assert!((found.dof - 16.7).abs() < 0.1, "{}", found.dof);
    let expanded = coverage_factor(0.99, found.dof) * found.u;
    assert!((expanded - 92.48).abs() < 0.2, "{expanded}");
}

/// JCGM 100:2008, H.2 (resistance and reactance), table H.2: means and standard
/// uncertainties of voltage, current and phase from five sets.
#[test]
fn gum_h2_means_of_simultaneous_readings() {
    for (values, mean, u) in [
        ([5.007, 4.994, 5.005, 4.990, 4.999], 4.9990, 0.0032),
        ([19.663, 19.639, 19.640, 19.685, 19.678], 19.6610, 0.0095),
        ([1.0456, 1.0438, 1.0468, 1.0428, 1.0433], 1.044_46, 0.000_75),
    ] {
        let found = of(&values);
        assert!((found.value - mean).abs() < 5e-6, "{}", found.value);
        assert!((found.u - u).abs() < 0.02 * u, "{}", found.u);
        assert_eq!(found.dof, 4.0);
    }
}

/// JCGM 100:2008, G.4.2: u known to 25 % has 8 degrees of freedom, to 50 % has 2;
/// table G.2 then gives t₉₅ = 2.31 and 4.30.
#[test]
fn gum_g_4_2_reliability_of_an_uncertainty() {
    for (reliability, dof, t) in [(0.25, 8.0, 2.31), (0.50, 2.0, 4.30), (0.10, 50.0, 2.01)] {
        let found: f64 = 1.0 / (2.0 * reliability * reliability);
        assert!((found - dof).abs() < 1e-9);
        assert!((coverage_factor(0.95, found) - t).abs() < 0.005);
    }
}

/// Student (1908), the sleep data of Cushny and Peebles (1905), as independent
/// groups: Welch's t = −1.8608, 17.776 degrees of freedom, p = 0.07939 (printed in
/// R's documentation of `t.test`). Our difference is retest minus baseline; its
/// degrees of freedom are cut to 17 for the interval.
#[test]
fn student_sleep_data_welch() {
    let before = of(&[0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0]);
    let after = of(&[1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4]);
    let difference = combine(
        after.value - before.value,
        before
            .components
            .iter()
            .chain(&after.components)
            .copied()
            .collect(),
    );
    assert!((difference.value / difference.u - 1.8608).abs() < 5e-5);
    assert!((difference.dof - 17.776).abs() < 5e-4);
    let p = 2.0 * (1.0 - cumulative(difference.value / difference.u, difference.dof));
    assert!(
        (p - 0.07939).abs() < 2e-3,
        "with 17 degrees of freedom: {p}"
    );
    assert!(
        difference.expanded > difference.value,
        "not a detectable change"
    );
}

/// JCGM 106:2012, risk at the acceptance limit of a guard band (form 8.3; from
/// memory): 0.5 for w = 0, 0.0228 for w = 2u, 0.0013 for w = 3u.
#[test]
fn jcgm_106_risk_at_the_acceptance_limit() {
    for (w, risk) in [
        (0.0, 0.5),
        (1.0, 0.158_655),
        (2.0, 0.022_750_1),
        (3.0, 0.001_349_9),
    ] {
        assert!((cumulative(-w, f64::INFINITY) - risk).abs() < 1e-6);
    }
}
