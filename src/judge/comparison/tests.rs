use std::sync::Arc;

use super::*;
use crate::job::OwnLimits;
use crate::judge::dependence::Common;
use crate::judge::fixtures::{fair, reading};
use crate::judge::uncertainty::{Errors, estimate};
use crate::quantity::{Quantity, Unit};

fn by(difference: f64) -> Improvement {
    Improvement::By(Quantity::new(difference, Unit::named("s").unwrap()).unwrap())
}

fn share(percent: f64) -> Improvement {
    Improvement::Share(Quantity::new(percent, Unit::named("%").unwrap()).unwrap())
}

const FOUR_ZONE: Terms = Terms {
    rule: DecisionRule::FourZone,
    fair: true,
    variation_known: true,
};

fn scale(better: Better, min: Option<f64>, max: Option<f64>) -> Scale {
    crate::judge::fixtures::scale(Some(better), min, max)
}

/// By hand: 4.8 → 1.6, u = 0.10 each. Difference −3.2 with u = √2 × 0.10 =
/// 0.141 421; relative −2/3 with u = √((0.1/4.8)² + (1.6 × 0.1/4.8²)²) =
/// 0.021 960 3 (computed with Python).
#[test]
fn difference_and_relative_change_by_hand() {
    let found = compare(
        reading(4.8, 0.1),
        reading(1.6, 0.1),
        Dependence::default(),
        &scale(Better::Lower, None, Some(5.0)),
        FOUR_ZONE,
    );
    assert!((found.difference.value + 3.2).abs() < 1e-12);
    assert!((found.difference.u - 0.141_421_356).abs() < 1e-9);
    let relative = found.relative.unwrap();
    assert!((relative.value + 0.666_666_667).abs() < 1e-9);
    assert!((relative.u - 0.021_960_3).abs() < 1e-7);
    assert_eq!(found.change, Some(Change::Improved));
}

/// U of the difference is 1.96 × 0.141 421 = 0.277: 0.27 is no change, 0.28 is.
#[test]
fn a_change_within_its_uncertainty_is_no_change() {
    let lower = scale(Better::Lower, None, None);
    let change = |after| {
        let (b, a) = (reading(4.8, 0.1), reading(after, 0.1));
        compare(b, a, Dependence::default(), &lower, FOUR_ZONE).change
    };
    assert_eq!(change(4.8 - 0.27), Some(Change::NoDetectable));
    assert_eq!(change(4.8 - 0.28), Some(Change::Improved));
    assert_eq!(change(4.8 + 0.28), Some(Change::Worsened));
}

/// 10 → 8.9 with U = 2.8 of the change: "better by 1" looks met, but nothing has
/// been seen to change.
#[test]
fn an_improvement_that_cannot_be_seen_is_not_met() {
    let mut lower = scale(Better::Lower, None, None);
    lower.improvement = Some(by(1.0));
    let outcome = |after| {
        let found = compare(
            reading(10.0, 1.0),
            reading(after, 1.0),
            Dependence::default(),
            &lower,
            FOUR_ZONE,
        );
        found.outcome
    };
    assert_eq!(outcome(8.9), Outcome::Inconclusive);
    assert_eq!(outcome(6.0), Outcome::Pass);
    assert_eq!(outcome(14.0), Outcome::Fail);
}

/// 53.54 → 53.45 is better by 0.09 exactly, though not in binary; 660 → 640.2 is
/// 3 % exactly.
#[test]
fn an_improvement_that_is_exactly_met_is_met() {
    let judged = |improvement, before, after| {
        let mut lower = scale(Better::Lower, None, None);
        lower.improvement = Some(improvement);
        compare(
            reading(before, 1e-3),
            reading(after, 1e-3),
            Dependence::default(),
            &lower,
            fair(DecisionRule::Simple),
        )
        .outcome
    };
    assert_eq!(judged(by(0.09), 53.54, 53.45), Outcome::Pass);
    assert_eq!(judged(share(3.0), 660.0, 640.2), Outcome::Pass);
    assert_eq!(judged(by(0.09), 53.54, 53.451), Outcome::Fail);
}

#[test]
fn between_bounds_only_the_way_outside_counts() {
    let inside = scale(Better::Inside, Some(3.8), Some(4.5));
    let change = |before, after| {
        let (b, a) = (reading(before, 0.01), reading(after, 0.01));
        compare(b, a, Dependence::default(), &inside, FOUR_ZONE).change
    };
    assert_eq!(change(3.9, 4.4), Some(Change::NoDetectable));
    assert_eq!(change(3.0, 4.0), Some(Change::Improved));
    assert_eq!(change(5.0, 4.0), Some(Change::Improved));
    assert_eq!(change(4.0, 5.0), Some(Change::Worsened));
}

/// A common error of ±1 (u = 1/√3, U = 1.13; twice that across the band): 6 → 5
/// above a band that ends at 4.5 is better by exactly 1, whatever the error. From 5
/// above to 3.7 below, or to 4 inside, it seems better by 0.4 or 0.5, but 0.5 out
/// may as well be nothing.
#[test]
fn a_common_error_cancels_on_one_side_of_a_band_only() {
    let tool = crate::job::Instrument {
        id: "i".into(),
        kind: "test".into(),
        serial: None,
        unit: Unit::named("s").unwrap(),
        accuracy: Quantity::new(1.0, Unit::named("s").unwrap()).ok(),
        accuracy_of_reading: None,
        resolution: None,
        hand_timing: None,
        stated: None,
        common_error: Some("same".into()),
        calibrated: None,
        due: None,
        certificate: None,
        laboratory: None,
    };
    let inside = scale(Better::Inside, Some(3.8), Some(4.5));
    let change = |before: f64, after: f64| {
        let [b, a] = [before, after].map(|v| [Quantity::new(v, inside.unit).unwrap()]);
        let errors = Errors {
            instrument: Some(&tool),
            ..Errors::default()
        };
        let together = Dependence {
            common: Common::of([(&b, errors), (&a, errors)]),
            ..Dependence::default()
        };
        let (b, a) = (estimate(&b, errors), estimate(&a, errors));
        compare(b, a, together, &inside, FOUR_ZONE).change
    };
    assert_eq!(change(6.0, 5.0), Some(Change::Improved));
    assert_eq!(change(3.0, 3.5), Some(Change::Improved));
    assert_eq!(change(5.0, 3.7), Some(Change::NoDetectable));
    assert_eq!(change(5.0, 4.0), Some(Change::NoDetectable));
    assert_eq!(change(8.0, 4.0), Some(Change::Improved));
}

#[test]
fn no_percentage_where_it_means_nothing() {
    let lower = scale(Better::Lower, None, None);
    let relative = |b, a| {
        compare(
            reading(b, 0.1),
            reading(a, 0.1),
            Dependence::default(),
            &lower,
            FOUR_ZONE,
        )
        .relative
    };
    assert!(relative(0.0, 1.0).is_none());
    assert!(
        relative(0.1, 1.0).is_none(),
        "the baseline is within its uncertainty of zero"
    );
    assert!(relative(-4.0, 2.0).is_none());
    assert!((relative(-4.0, -1.0).unwrap().value - 0.75).abs() < 1e-12);
}

/// A required improvement is a lower limit on the gain: 50 % asked, 66.7 %
/// ± 4.3 % got.
#[test]
fn a_required_improvement_is_judged_like_a_limit() {
    let mut lower = scale(Better::Lower, None, None);
    lower.improvement = Some(share(50.0));
    let found = compare(
        reading(4.8, 0.1),
        reading(1.6, 0.1),
        Dependence::default(),
        &lower,
        FOUR_ZONE,
    );
    assert_eq!(found.outcome, Outcome::Pass);
    lower.improvement = Some(share(65.0));
    let found = compare(
        reading(4.8, 0.1),
        reading(1.6, 0.1),
        Dependence::default(),
        &lower,
        FOUR_ZONE,
    );
    assert_eq!(found.outcome, Outcome::ConditionalPass);
}

/// 3.8 to 4.5, u = 0.01 or as given; told by where it stood, and not at all where it
/// moved by no more than its uncertainty (U = 1.96 · √2 · u).
#[test]
fn between_bounds_a_move_is_told_by_where_it_stood() {
    let inside = scale(Better::Inside, Some(3.8), Some(4.5));
    let claim = |before, after, u| {
        let (b, a) = (reading(before, u), reading(after, u));
        compare(b, a, Dependence::default(), &inside, FOUR_ZONE).claim
    };
    let moved = |moved| Some(Claim::Moved(moved));
    assert_eq!(claim(3.9, 4.4, 0.01), moved(Moved::Inside));
    assert_eq!(claim(4.4, 3.9, 0.01), moved(Moved::Inside));
    assert_eq!(claim(3.9, 3.92, 0.01), Some(Claim::NoDetectable));
    // From 0.2 below to 0.2 above: no nearer, and u = 0.05 makes both plain.
    assert_eq!(claim(3.6, 4.7, 0.05), moved(Moved::Neither));
    // u = 0.1, U = 0.196: from 0.05 outside to well inside, and back.
    assert_eq!(claim(3.75, 4.15, 0.1), moved(Moved::CameInside));
    assert_eq!(claim(4.15, 3.75, 0.1), moved(Moved::WentOutside));
    // Outside by 0.25, more than U of the reading, but less than U of the way out.
    assert_eq!(claim(3.55, 4.15, 0.12), moved(Moved::OutsideToInside));
    assert_eq!(claim(3.0, 4.15, 0.1), Some(Claim::Improved));
    assert_eq!(claim(4.15, 3.0, 0.1), Some(Claim::Worsened));
}

#[test]
fn without_a_better_direction_nothing_is_claimed() {
    let free = Scale {
        better: None,
        ..scale(Better::Lower, None, None)
    };
    let (b, a) = (reading(4.8, 0.1), reading(1.6, 0.1));
    let found = compare(b, a, Dependence::default(), &free, FOUR_ZONE);
    assert_eq!((found.change, found.claim), (None, None));
    let (b, a) = (reading(4.8, 0.1), reading(1.6, 0.1));
    let unfair = Terms {
        fair: false,
        ..FOUR_ZONE
    };
    let lower = scale(Better::Lower, None, None);
    let found = compare(b, a, Dependence::default(), &lower, unfair);
    assert_eq!(found.claim, Some(Claim::Apparent));
}

/// At most 5 s, U = 0.196: each run by itself, and the worse of limit and gain.
#[test]
fn outcomes_before_at_the_limit_and_as_a_whole() {
    let mut lower = scale(Better::Lower, None, Some(5.0));
    let outcomes = |scale: &Scale, before, after| {
        let (b, a) = (reading(before, 0.1), reading(after, 0.1));
        let found = compare(b, a, Dependence::default(), scale, FOUR_ZONE);
        [found.outcome_before, found.at_limit, found.outcome]
    };
    use Outcome::{ConditionalPass, Fail, Inconclusive, NoLimit, Pass};
    assert_eq!(outcomes(&lower, 8.0, 4.0), [Fail, Pass, Pass]);
    let near = [Inconclusive, ConditionalPass, ConditionalPass];
    assert_eq!(outcomes(&lower, 5.1, 4.9), near);
    lower.improvement = Some(by(6.0));
    assert_eq!(outcomes(&lower, 8.0, 4.0), [Fail, Pass, Fail]);
    assert_eq!(outcomes(&lower, 8.0, 5.1), [Fail, Inconclusive, Fail]);
    lower.improvement = Some(by(1.0));
    assert_eq!(
        outcomes(&lower, 8.0, 5.1),
        [Fail, Inconclusive, Inconclusive]
    );
    lower.bounds = None;
    assert_eq!(outcomes(&lower, 8.0, 4.0), [NoLimit, NoLimit, Pass]);
}

/// Two readings that are exactly zero, without any uncertainty: no change at all.
#[test]
fn nothing_that_stays_nothing_has_not_changed() {
    let nothing = || Estimate::exact(0.0);
    for better in [Better::Lower, Better::Higher] {
        let scale = scale(better, None, None);
        let found = compare(
            nothing(),
            nothing(),
            Dependence::default(),
            &scale,
            FOUR_ZONE,
        );
        assert_eq!(found.change_at(0.99), Some(Change::NoDetectable));
    }
}

/// Where what was in service has limits of its own, each reading goes with its own.
#[test]
fn each_reading_has_the_limits_of_its_own_run() {
    let second = |value: f64| Quantity::new(value, Unit::named("s").unwrap()).unwrap();
    let bounds = |max: f64| Bounds::new(None, Some(second(max)));
    let scale = Scale {
        before: Some(Arc::new(OwnLimits {
            bounds: bounds(9.0),
            ..OwnLimits::default()
        })),
        ..scale(Better::Lower, None, Some(5.0))
    };
    let in_run = [0, 1].map(|run| InRun::fixed_in(&scale, run));
    let found = compare_in(
        reading(8.0, 0.1),
        reading(4.0, 0.1),
        Dependence::default(),
        in_run.each_ref(),
        FOUR_ZONE,
    );
    assert_eq!(found.bounds_before, bounds(9.0));
    assert_eq!(found.scale.bounds, bounds(5.0));
    assert_eq!([found.outcome_before, found.at_limit], [Outcome::Pass; 2]);
}
