//! What was read at each position, paired and looked at together.

use super::balance::Balance;
use super::bands;
use super::change::Step;
use super::comparison::Comparison;
use super::counts::{self, CountComparison, PairedCount, Share};
use super::ends::{Ends, InRun, should};
use super::exact::{ExactAlone, ExactPair};
use super::finding::{
    AtPosition, CountAlone, ExactsAt, MeasureFinding, PassesAt, ValueAlone, ValuesAt,
};
use super::zone::{Outcome, Standing, Zone, at_limit};
use crate::job::{
    Count, DecisionRule, Entry, ExactScaleAt, PerPosition, Positions, Scale, ScaleAt,
};
use crate::quantity::Estimate;

/// Pairs what was read at each position in both runs: `both` compares, `alone` judges
/// one run (0 is the baseline) that has no other.
pub fn pair_up<T, Both, Alone>(
    [before, after]: [&PerPosition<T>; 2],
    both: impl Fn(usize, &T, &T) -> Both,
    alone: impl Fn(usize, usize, &T) -> Alone,
) -> Vec<AtPosition<Both, Alone>> {
    let each = before.iter().zip(after.iter()).enumerate();
    each.map(|(place, entries)| match entries {
        (Entry::Taken(before), Entry::Taken(after)) => {
            AtPosition::Compared(both(place, before, after))
        }
        (Entry::NotTaken(why), Entry::Taken(after)) => AtPosition::AfterOnly {
            after: alone(1, place, after),
            why: why.clone(),
        },
        (before, Entry::NotTaken(why)) => AtPosition::NotTaken {
            before: before.taken().map(|before| alone(0, place, before)),
            why: why.clone(),
        },
    })
    .collect()
}

impl ValueAlone {
    /// The figure `found` at the limits of its run.
    pub(super) fn of(found: Estimate, in_run: &InRun, rule: DecisionRule) -> Self {
        let standing = in_run.standing(&found, rule);
        Self {
            should: should(&found, &in_run.scale, rule),
            scale: in_run.scale.clone(),
            ends: in_run.ends.clone(),
            bands: bands::one(&in_run.scale, &found),
            found,
            standing,
            at_limit: at_limit(standing, rule),
        }
    }

    /// The figure `found`, whose limits are not known in its run.
    pub(super) fn open(found: Estimate, scale: &Scale, rule: DecisionRule) -> Self {
        Self {
            should: should(&found, scale, rule),
            scale: scale.clone(),
            ends: Ends::default(),
            bands: bands::one(scale, &found),
            found,
            standing: None,
            at_limit: Outcome::Inconclusive,
        }
    }
}

impl CountAlone {
    /// The count `found`, of which at least `min` must pass.
    pub(super) fn of(found: Count, min: Option<u32>) -> Self {
        Self {
            found,
            interval: counts::exact_interval(found),
            at_limit: counts::at_limit(found, min),
        }
    }
}

/// The values at all positions: `each` paired, and the figures of both runs.
pub fn values_at(
    scales: &ScaleAt,
    each: Vec<AtPosition<Comparison, ValueAlone>>,
    read: [PerPosition<f64>; 2],
) -> MeasureFinding {
    let taken = |run: &PerPosition<f64>| -> Vec<(usize, f64)> {
        let all = run.iter().enumerate();
        all.filter_map(|(place, entry)| Some((place, *entry.taken()?)))
            .collect()
    };
    let is_inside = |standing: Option<Standing>| {
        standing
            .map(|place| place.zone)
            .is_some_and(Zone::is_inside)
    };
    let inside = |found: &AtPosition<Comparison, ValueAlone>| match found {
        AtPosition::Compared(found) => [found.before, found.after].map(|it| Some(is_inside(it))),
        AtPosition::AfterOnly { after, .. } => [None, Some(is_inside(after.standing))],
        AtPosition::NotTaken { before, .. } => [
            before.as_ref().map(|before| is_inside(before.standing)),
            None,
        ],
    };
    let has_bounds = (0..each.len()).any(|place| scales.scale(place).bounds.is_some());
    let compared = each.iter().enumerate();
    let compared = compared.filter_map(|(place, found)| Some((place, found.compared()?)));
    let least_known = compared.max_by(|(_, a), (_, b)| a.difference.u.total_cmp(&b.difference.u));
    MeasureFinding::ValueAt(Box::new(ValuesAt {
        balance: (scales.are_alike() && read.iter().all(|run| run.taken().next().is_some()))
            .then(|| read.map(|run| Balance::of(&taken(&run)))),
        inside: has_bounds.then(|| Share::count(&each, inside)),
        least_known: least_known.map_or(0, |(place, _)| place),
        scales: Box::new(scales.clone()),
        each,
    }))
}

/// The counts at all positions.
pub fn passes_at(
    at: &Positions,
    min: Option<u32>,
    each: Vec<AtPosition<CountComparison, CountAlone>>,
    fair: bool,
) -> PassesAt {
    let compared: Vec<CountComparison> = each
        .iter()
        .filter_map(AtPosition::compared)
        .copied()
        .collect();
    let enough = |found: &AtPosition<CountComparison, CountAlone>| match found {
        AtPosition::Compared(found) => found.is_enough().map(Some),
        AtPosition::AfterOnly { after, .. } => [None, Some(counts::is_enough(after.found, min))],
        AtPosition::NotTaken { before, .. } => {
            let before = before.as_ref();
            [
                before.map(|before| counts::is_enough(before.found, min)),
                None,
            ]
        }
    };
    PassesAt {
        at: at.clone(),
        min,
        paired: (!compared.is_empty()).then(|| PairedCount::of(&compared, fair)),
        passing: Share::count(&each, enough),
        each,
    }
}

/// The exact readings at all positions.
pub fn exacts_at(
    scales: &ExactScaleAt,
    each: Vec<AtPosition<ExactPair, ExactAlone>>,
    fair: bool,
) -> ExactsAt {
    let steps: Option<Vec<Step>> = each
        .iter()
        .filter_map(AtPosition::compared)
        .map(|pair| pair.step)
        .collect();
    let signs = steps.filter(|steps| !steps.is_empty()).map(|steps| {
        let count = |wanted: fn(&Step) -> bool| {
            let found = steps.iter().filter(|step| wanted(step)).count();
            u32::try_from(found).unwrap_or(u32::MAX)
        };
        let better = count(|step| matches!(step, Step::Better));
        let worse = count(|step| matches!(step, Step::Worse));
        PairedCount::of_signs(better, worse, steps.len(), fair)
    });
    // Where there is no limit, there is nothing to meet.
    let is_met = |outcome: Outcome| match outcome {
        Outcome::Pass => Some(true),
        Outcome::NoLimit => None,
        Outcome::ConditionalPass | Outcome::Inconclusive | Outcome::Fail => Some(false),
    };
    let meets = |found: &AtPosition<ExactPair, ExactAlone>| match found {
        AtPosition::Compared(pair) => [pair.outcome_before, pair.outcome].map(is_met),
        AtPosition::AfterOnly { after, .. } => [None, is_met(after.at_limit)],
        AtPosition::NotTaken { before, .. } => {
            let before = before.as_ref();
            [before.and_then(|before| is_met(before.at_limit)), None]
        }
    };
    ExactsAt {
        scales: scales.clone(),
        signs,
        meeting: scales.has_limit().then(|| Share::count(&each, meets)),
        each,
    }
}

#[cfg(test)]
mod tests {
    use super::super::fixtures::{compared, scale};
    use super::super::uncertainty::combine;
    use super::*;
    use crate::job::{Better, OwnLimits, Scale};

    fn read(values: &[f64]) -> PerPosition<f64> {
        PerPosition::new(values.iter().map(|value| Entry::Taken(*value)).collect())
    }

    /// The pairs as they are, U = 1.96 u, all on one scale.
    fn several(pairs: &[(f64, f64)], us: &[f64], common: Scale) -> ValuesAt {
        let [before, after]: [Vec<f64>; 2] = [
            pairs.iter().map(|pair| pair.0).collect(),
            pairs.iter().map(|pair| pair.1).collect(),
        ];
        let each = pairs
            .iter()
            .zip(us)
            .map(|((b, a), u)| compared(*b, *a, *u, &common));
        let each = each.map(AtPosition::Compared).collect();
        let scales = ScaleAt {
            at: Positions::cylinders(pairs.len()),
            common,
            own: Vec::new(),
        };
        match values_at(&scales, each, [read(&before), read(&after)]) {
            MeasureFinding::ValueAt(values) => *values,
            other => panic!("{other:?}"),
        }
    }

    fn at_least_five() -> Scale {
        scale(Some(Better::Higher), Some(5.0), None)
    }

    #[test]
    fn positions_inside_their_bounds_are_counted() {
        // 5.1 is inside by less than U, 4.9 outside by less.
        let pairs = [(4.0, 6.0), (4.9, 5.1), (6.0, 4.9), (4.0, 4.0)];
        let found = several(&pairs, &[0.1; 4], at_least_five());
        let each = [[false, true], [false, true], [true, false], [false, false]];
        let wanted = Share {
            each: each.map(|both| both.map(Some)).to_vec(),
        };
        assert_eq!([0, 1].map(|run| wanted.of_run(run)), [[1, 4], [2, 4]]);
        assert_eq!(found.inside, Some(wanted));
        assert_eq!(
            MeasureFinding::ValueAt(Box::new(found)).failing_positions(),
            ["4"]
        );
        let unbound = several(&[(1.0, 2.0)], &[0.1], scale(None, None, None));
        assert_eq!(unbound.inside, None);
        assert!(
            MeasureFinding::ValueAt(Box::new(unbound))
                .failing_positions()
                .is_empty()
        );
    }

    #[test]
    fn the_position_that_is_known_least_stands_for_all() {
        let found = several(&[(1.0, 2.0); 3], &[0.1, 0.3, 0.2], scale(None, None, None));
        assert_eq!(found.least_known, 1);
    }

    /// Positions with limits of their own are not compared with each other.
    #[test]
    fn own_limits_make_no_balance() {
        let common = at_least_five();
        let alike = several(&[(1.0, 2.0); 3], &[0.1; 3], common.clone());
        assert!(alike.balance.is_some());
        let own = common.bounds;
        let limits = OwnLimits {
            bounds: own,
            ..OwnLimits::default()
        };
        let scales = ScaleAt {
            at: Positions::cylinders(2),
            common: scale(Some(Better::Higher), None, None),
            own: vec![Some(limits), None],
        };
        let run = read(&[6.0, 4.0]);
        let found = values_at(&scales, Vec::new(), [run.clone(), run]);
        assert!(matches!(
            found,
            MeasureFinding::ValueAt(values) if values.balance.is_none()
        ));
        assert_eq!(
            (scales.scale(0).bounds, scales.scale(1).bounds),
            (own, None)
        );
    }

    /// Of three positions one has no baseline, one no retest: the first is judged at its
    /// limit alone, and the second leaves the measure open.
    #[test]
    fn what_was_not_read_is_told_apart() {
        let taken = |value: f64| Entry::Taken(value);
        let not = || Entry::NotTaken("blocked".to_owned());
        let before = PerPosition::new(vec![taken(1.0), not(), taken(3.0)]);
        let after = PerPosition::new(vec![taken(4.0), taken(5.0), not()]);
        let found = pair_up([&before, &after], |_, b, a| a - b, |_, _, a| *a);
        assert!(matches!(found[0], AtPosition::Compared(difference) if difference == 3.0));
        assert!(matches!(&found[1], AtPosition::AfterOnly { after, why }
            if *after == 5.0 && why == "blocked"));
        assert!(
            matches!(&found[2], AtPosition::NotTaken { before: Some(before), why }
            if *before == 3.0 && why == "blocked")
        );
        let alone = combine(6.0, Vec::new());
        assert_eq!(alone.expanded, 0.0);
    }
}
