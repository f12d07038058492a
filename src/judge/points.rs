//! Points of one test: what a setting that is held only within so much does to the readings.

use super::uncertainty::mean_of;
use crate::job::{Entry, PerPosition, Points, Positions};
use crate::quantity::Quantity;

/// By how much each figure that was `read` at `at` may be off for want of an exact setting: a
/// half-width in SI units; 0 where the settings are exact, and at positions that have none.
///
/// A setting off by h moves the figure by the slope of the curve times h. The slope at a point is
/// that of the steeper of the two lines to its neighbours, in this run.
pub fn held(at: &Positions, read: &PerPosition<Vec<Quantity>>) -> Vec<f64> {
    let means = read.iter().map(|entry| match entry {
        Entry::Taken(values) => Some(mean_of(values)),
        Entry::NotTaken(_) => None,
    });
    let means: Vec<Option<f64>> = means.collect();
    match at.points() {
        None => vec![0.0; means.len()],
        Some(points) => half_widths(points, &means),
    }
}

fn half_widths(points: &Points, means: &[Option<f64>]) -> Vec<f64> {
    let within = points.held_within.map_or(0.0, |held| held.difference_si());
    let taken: Vec<(usize, f64, f64)> = points
        .settings
        .iter()
        .zip(means)
        .enumerate()
        .filter_map(|(place, (setting, mean))| Some((place, setting.si(), (*mean)?)))
        .collect();
    let mut found = vec![0.0; means.len()];
    for pair in taken.windows(2) {
        let [(one, from, low), (other, to, high)] = [pair[0], pair[1]];
        let off = ((high - low) / (to - from)).abs() * within;
        for place in [one, other] {
            found[place] = f64::max(found[place], off);
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Unit;

    /// 2, 3 and 7 bar at 600, 1000 and 1400 rpm, each held within 10 rpm: 1/400 and 4/400 bar a
    /// turn, so 0.025, 0.1 and 0.1 bar. Without the middle the one line left has 5/800: 0.0625.
    #[test]
    fn the_steeper_neighbour_counts() {
        let rpm = Unit::named("rpm").unwrap();
        let quantity = |value: f64, unit| Quantity::new(value, unit).unwrap();
        let points = |held: Option<f64>| Points {
            what: "Pump speed".into(),
            unit: rpm,
            settings: [600.0, 1000.0, 1400.0].map(|v| quantity(v, rpm)).to_vec(),
            held_within: held.map(|held| quantity(held, rpm)),
        };
        let of = |held, means: [Option<f64>; 3]| {
            let found = half_widths(&points(held), &means);
            found
                .iter()
                .map(|off| (off * 1e6).round() / 1e6)
                .collect::<Vec<_>>()
        };
        let all = [Some(2.0), Some(3.0), Some(7.0)];
        assert_eq!(of(Some(10.0), all), [0.025, 0.1, 0.1]);
        assert_eq!(of(None, all), [0.0; 3]);
        assert_eq!(
            of(Some(10.0), [Some(2.0), None, Some(7.0)]),
            [0.0625, 0.0, 0.0625]
        );
        assert_eq!(
            of(Some(10.0), [Some(7.0), Some(3.0), Some(2.0)]),
            [0.1, 0.1, 0.025]
        );
        assert_eq!(of(Some(10.0), [Some(2.0), None, None]), [0.0; 3]);
    }
}
