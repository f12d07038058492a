//! The arithmetic of the judgement against published values, each named.
//!
//! Values that could not be looked up in the document itself are marked "from
//! memory"; values of our own are marked "computed".

use super::comparison::compare;
use super::dependence::Dependence;
use super::fixtures::fair;
use super::moments::{mean, standard_deviation};
use super::pairs::Pairs;
use super::t_distribution::{coverage_factor, cumulative};
use super::uncertainty::{Errors, combine, estimate};
use super::zone::{Outcome, outcome, standing};
use crate::job::{DecisionRule, Scale};
use crate::quantity::{Component, Estimate, Quantity, Source, Unit};

fn part(u: f64, dof: f64) -> Component {
    Component::new(Source::Repeatability, u, dof)
}

fn of(values: &[f64]) -> Estimate {
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

/// JCGM 100:2008, H.2, approach 1: Z = V/I from the five sets as pairs, with the
/// covariance of their means, is 254.260 Ω with u = 0.236 Ω (from memory; computed again
/// with Python: 0.236 336). Taken as independent it would be 0.204 Ω.
#[test]
fn gum_h2_impedance_from_correlated_means() {
    let unit = Unit::named("1").unwrap();
    let list = |values: [f64; 5]| values.map(|v| Quantity::new(v, unit).unwrap());
    let voltage = list([5.007, 4.994, 5.005, 4.990, 4.999]);
    let current = list([19.663, 19.639, 19.640, 19.685, 19.678].map(|milli| milli / 1e3));
    let known = Errors::default();
    let scale = Scale {
        unit,
        better: None,
        bounds: None,
        by: None,
        should: None,
        as_printed: None,
        before: None,
        improvement: None,
        pressure: None,
        bands: None,
    };
    let ratio = |pairs: Option<Pairs>| {
        let together = Dependence {
            pairs,
            ..Dependence::default()
        };
        let (current, voltage) = (estimate(&current, known), estimate(&voltage, known));
        compare(
            current,
            voltage,
            together,
            &scale,
            fair(DecisionRule::Simple),
        )
        .relative
        .unwrap()
    };
    // Our relative change is V/I − 1.
    let paired = ratio(Pairs::of(&current, &voltage));
    assert!(
        (paired.value + 1.0 - 254.260).abs() < 5e-4,
        "{}",
        paired.value
    );
    assert!((paired.u - 0.236_336).abs() < 5e-7, "{}", paired.u);
    assert_eq!(paired.dof, 4.0);
    assert!((ratio(None).u - 0.204).abs() < 5e-4);
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

fn known(value: f64, u: f64) -> Estimate {
    combine(value, vec![part(u, f64::INFINITY)])
}

/// JCGM 106:2012, example of a speed limit of 100 km/h and a meter with u = 2 % of the
/// speed (from memory): 99.9 % sure that it was exceeded only from 107 km/h on
/// (computed: 106.588 km/h).
#[test]
fn jcgm_106_speed_limit() {
    let innocent = |speed: f64| {
        let reading = known(speed, 0.02 * speed);
        standing(&reading, None, Some(100.0), DecisionRule::Guarded).conformity
    };
    assert!((innocent(106.5876) - 0.001).abs() < 1e-6);
    assert!(innocent(107.0) < 0.001 && innocent(106.0) > 0.001);
}

/// JCGM 106:2012, example of 1500 Ω resistors within ±0.2 Ω (from memory): made with
/// s = 0.12 Ω, of which 90 % conform; measured with u = 0.04 Ω. With acceptance limits of
/// 1499.82 Ω and 1500.18 Ω the global risk of the consumer is 1 %, of the producer 7 %
/// (computed: 0.009 878 and 0.069 027; by simple acceptance 0.018 942 and 0.037 208).
#[test]
fn jcgm_106_risks_of_the_resistors() {
    let (low, high): (f64, f64) = (1499.8, 1500.2);
    let conform = standing(
        &known(1500.0, 0.12),
        Some(low),
        Some(high),
        DecisionRule::Simple,
    );
    assert!((conform.conformity - 0.904_419).abs() < 5e-7);
    // Over all readings: how likely each is, what the rule makes of it, and how likely
    // the resistor conforms, given the reading and the making.
    let total: f64 = 0.12f64.hypot(0.04);
    let posterior = 0.12 * 0.04 / total;
    let risks = |rule, guard: f64| {
        let (mut consumer, mut producer) = (0.0, 0.0);
        let step = 2.5e-4;
        for i in 0..6000 {
            let reading = 1499.25 + (f64::from(i) + 0.5) * step;
            let from = cumulative((reading - 0.5 * step - 1500.0) / total, f64::INFINITY);
            let to = cumulative((reading + 0.5 * step - 1500.0) / total, f64::INFINITY);
            let best = 1500.0 + (reading - 1500.0) * (0.12 / total).powi(2);
            let truth = known(best, posterior);
            let good = standing(&truth, Some(low), Some(high), rule).conformity;
            let read = Estimate {
                expanded: guard,
                ..known(reading, 0.04)
            };
            let place = standing(&read, Some(low), Some(high), rule);
            if outcome(place.zone, rule) == Outcome::Pass {
                consumer += (to - from) * (1.0 - good);
            } else {
                producer += (to - from) * good;
            }
        }
        [consumer, producer]
    };
    for (rule, guard, consumer, producer) in [
        (DecisionRule::Guarded, 0.02, 0.009_878_3, 0.069_026_5),
        (DecisionRule::Simple, 0.02, 0.018_942, 0.037_208),
    ] {
        let [found_consumer, found_producer] = risks(rule, guard);
        assert!((found_consumer - consumer).abs() < 5e-6, "{found_consumer}");
        assert!((found_producer - producer).abs() < 5e-6, "{found_producer}");
    }
}
