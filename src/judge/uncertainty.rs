//! The uncertainty of a reading, by JCGM 100:2008 (GUM).

use super::bounds::Sum;
use super::moments::mean;
use super::scatter::{Pool, Scatter};
use super::t_distribution::{COVERAGE, coverage_factor};
use super::variation::deviation_at;
use crate::job::{Instrument, Reading, RunToRun, Stated};
use crate::quantity::{Component, Dimension, Estimate, Quantity, Source, Unit, Written, noise_of};

/// What is known about the errors of one reading.
#[derive(Clone, Copy, Default)]
pub struct Errors<'a> {
    /// The instrument that gave it.
    pub instrument: Option<&'a Instrument>,
    /// An uncertainty stated for this reading; it replaces the instrument's own.
    pub stated: Option<Stated>,
    /// A standard uncertainty of timing by hand, in seconds, where no instrument
    /// says another.
    pub hand_timing: Option<f64>,
    /// The step in which the reading was written, in SI units, where no instrument says
    /// another.
    pub step: Option<f64>,
    /// A standard uncertainty of judging by eye when something happens, in seconds.
    pub by_eye: Option<f64>,
    /// How the readings of the measure scatter, where that is known.
    pub scatter: Option<Scatter>,
    /// What is stated of how the machine varies from run to run.
    pub run_to_run: Option<&'a RunToRun>,
    /// Whether every value comes from a run of its own, so that repeats average that out.
    pub separate_runs: bool,
    /// By how much the reading may be off because its setting was held only within so much:
    /// a half-width, in SI units.
    pub setting: f64,
}

impl<'a> Errors<'a> {
    /// What is known of the errors of `reading`.
    pub fn of(instruments: &'a [Instrument], reading: &Reading) -> Self {
        Self {
            instrument: named(instruments, reading.instrument.as_deref()),
            stated: reading.stated,
            ..Self::default()
        }
    }
}

/// The mean of `values`, in SI units.
pub fn mean_of(values: &[Quantity]) -> f64 {
    let si: Vec<f64> = values.iter().map(Quantity::si).collect();
    mean(&si)
}

/// The instrument with this id, where one is named.
pub fn named<'a>(instruments: &'a [Instrument], id: Option<&str>) -> Option<&'a Instrument> {
    let id = id?;
    instruments.iter().find(|instrument| instrument.id == id)
}

/// The mean of `values` (at least one) with its combined uncertainty: the components of
/// section 1 of JUDGING.md.
///
/// - Accuracy ±a: rectangular, u = a/√3 (JCGM 100:2008, 4.3.7).
/// - Resolution d: u = d/√12 (F.2.2.1).
/// - Scatter s of n repeats: u = s/√n (4.2.3, 4.2.4). Where it is stated how the machine
///   varies from run to run, that takes its place.
/// - Timing by hand: each interval has its own error, so u/√n.
/// - Stated U with factor k: u = U/k (4.3.3).
pub fn estimate(values: &[Quantity], errors: Errors<'_>) -> Estimate {
    let si: Vec<f64> = values.iter().map(Quantity::si).collect();
    let count = si.len().max(1) as f64;
    let mean = mean(&si);
    let mut components = Vec::new();
    let mut push = |component: Component| {
        if component.u > 0.0 {
            components.push(component);
        }
    };
    let known = |source, u: f64| Component::new(source, u, f64::INFINITY);
    if let Some(stated) = errors.run_to_run {
        let runs = if errors.separate_runs { count } else { 1.0 };
        let u = deviation_at(stated, mean) / runs.sqrt();
        push(Component::new(Source::RunToRun, u, stated.dof()));
    }
    // Where nothing else is known of the scatter, these values are all there is.
    let own = || Pool::of([&[si.as_slice()], &[]], 0.0).runs[0];
    let scatter = match errors.run_to_run {
        Some(_) => errors.scatter,
        None => errors.scatter.or_else(own),
    };
    if let Some(scatter) = scatter {
        push(Component::new(
            Source::Repeatability,
            scatter.s / count.sqrt(),
            scatter.dof,
        ));
    }
    match (errors.stated, errors.instrument) {
        (Some(stated), _) => push(certificate(stated)),
        (None, Some(instrument)) => {
            let accuracy = half_width(instrument, mean, values);
            push(known(Source::Accuracy, accuracy / 3f64.sqrt()));
            let resolution = si_of(instrument.resolution);
            push(known(Source::Resolution, resolution / 12f64.sqrt()));
            let hand = si_of(instrument.hand_timing);
            push(known(Source::HandTiming, hand / count.sqrt()));
            if let Some(stated) = instrument.stated {
                push(certificate(stated));
            }
        }
        (None, None) => {
            let step = errors.step.unwrap_or(0.0);
            push(known(Source::Resolution, step / 12f64.sqrt()));
            let hand = errors.hand_timing.unwrap_or(0.0);
            push(known(Source::HandTiming, hand / count.sqrt()));
        }
    }
    push(known(Source::ByEye, errors.by_eye.unwrap_or(0.0)));
    push(known(Source::Setting, errors.setting / 3f64.sqrt()));
    let largest = si.iter().fold(0.0, |largest: f64, x| largest.max(x.abs()));
    Estimate {
        noise: noise_of(largest),
        written: Written::of(values),
        ..combine(mean, components)
    }
}

/// The component of a certificate: it keeps its coverage factor.
pub fn certificate(stated: Stated) -> Component {
    Component {
        source: Source::Stated,
        u: stated.u(),
        dof: stated.dof.unwrap_or(f64::INFINITY),
        stated_k: stated.k,
        pool: 0,
    }
}

/// Combines independent components: u in quadrature (JCGM 100:2008, 5.1.2),
/// effective degrees of freedom by Welch and Satterthwaite (G.4.1), and U by
/// [`expanded`].
pub fn combine(value: f64, components: Vec<Component>) -> Estimate {
    let (u, dof) = welch_satterthwaite(components.iter());
    let sum = sum(&components, COVERAGE);
    Estimate {
        value,
        u,
        dof,
        spread: sum.deviation(),
        expanded: sum.half_width(COVERAGE),
        components,
        noise: noise_of(value),
        written: Written::Unknown,
    }
}

/// The expanded uncertainty of `components` for a coverage probability.
///
/// What was estimated from few readings and what is taken as known are expanded
/// separately, then added in quadrature: t(ν)·u of the components that were estimated, z·u
/// of the others, and of a certificate never less than it says. What comes of it is the
/// normal part; the largest bounds are added to that as what they are ([`Sum`]).
///
/// One ν_eff for a mixture of both makes two or three readings that agree by luck
/// look well known: at the limit of a guard band, two readings with accuracy
/// a fifth of their scatter are wrongly accepted in 5.9 % of cases instead of
/// 2.5 % (`judge::simulation` measures the rates; the separate expansion is that
/// of ANSI/ASME PTC 19.1-1985, from memory).
pub fn expanded(components: &[Component], coverage: f64) -> f64 {
    sum(components, coverage).half_width(coverage)
}

/// All that counts as normal, with a standard deviation such that z times it is its expanded
/// uncertainty, and the bounds.
fn sum(components: &[Component], coverage: f64) -> Sum {
    let z = coverage_factor(coverage, f64::INFINITY);
    let estimated = || components.iter().filter(|part| part.is_estimated());
    let (u, dof) = welch_satterthwaite(estimated());
    let mut expanded = if u > 0.0 {
        coverage_factor(coverage, dof) * u
    } else {
        0.0
    };
    let mut bounds = Vec::new();
    for part in components.iter().filter(|part| !part.is_estimated()) {
        if part.is_rectangular() {
            bounds.push(3f64.sqrt() * part.u);
        } else {
            let at_level = part.stated_k * z / coverage_factor(COVERAGE, f64::INFINITY);
            let factor = coverage_factor(coverage, part.dof).max(at_level);
            expanded = libm::hypot(expanded, factor * part.u);
        }
    }
    Sum::of(expanded / z, bounds)
}

fn fourth_power(x: f64) -> f64 {
    (x * x) * (x * x)
}

/// Combined standard uncertainty and effective degrees of freedom.
fn welch_satterthwaite<'a>(components: impl Iterator<Item = &'a Component> + Clone) -> (f64, f64) {
    // Folded from 0, because an empty sum of floats is −0.
    let squares = components.clone().map(|c| c.u * c.u);
    let u = squares.fold(0.0, |sum, square| sum + square).sqrt();
    let limiting: f64 = components.map(|c| fourth_power(c.u / u) / c.dof).sum();
    let dof = if limiting > 0.0 {
        1.0 / limiting
    } else {
        f64::INFINITY
    };
    (u, dof)
}

/// An error in SI units; one that is not stated is none.
pub fn si_of(error: Option<Quantity>) -> f64 {
    error.map_or(0.0, |error| error.difference_si())
}

/// The half-width of the instrument's accuracy at this reading.
fn half_width(instrument: &Instrument, mean: f64, values: &[Quantity]) -> f64 {
    si_of(instrument.accuracy) + proportional(instrument, mean, values).abs()
}

/// The part of it that is proportional to the reading, with the reading's sign.
pub fn proportional(instrument: &Instrument, mean: f64, values: &[Quantity]) -> f64 {
    instrument.accuracy_of_reading.map_or(0.0, |percent| {
        let fraction = percent.written() / 100.0;
        let is_temperature = values
            .first()
            .is_some_and(|v| v.unit().dimension() == Dimension::Temperature);
        if is_temperature {
            // Percent of a temperature means percent of its figure on the scale
            // of the instrument, as in IEC 60584-2, not of its kelvins.
            let fahrenheit = instrument.unit.symbol().contains('F');
            let scale = Unit::named(if fahrenheit { "°F" } else { "°C" });
            scale.map_or(0.0, |scale| {
                scale.difference_to_si(fraction * scale.from_si(mean))
            })
        } else {
            fraction * mean
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn quantities(values: &[f64], unit: &str) -> Vec<Quantity> {
        let unit = Unit::named(unit).unwrap();
        values
            .iter()
            .map(|v| Quantity::new(*v, unit).unwrap())
            .collect()
    }

    fn error(value: f64, unit: &str) -> Option<Quantity> {
        Quantity::new(value, Unit::named(unit).unwrap()).ok()
    }

    fn instrument(unit: &str) -> Instrument {
        Instrument {
            id: "i".into(),
            kind: "test".into(),
            serial: None,
            unit: Unit::named(unit).unwrap(),
            accuracy: None,
            accuracy_of_reading: None,
            resolution: None,
            hand_timing: None,
            stated: None,
            common_error: None,
            calibrated: None,
            due: None,
            certificate: None,
            laboratory: None,
        }
    }

    /// JCGM 100:2008, 4.4.3 and table 1: 20 temperatures, mean 100.145 °C,
    /// s = 1.489 °C, s of the mean 0.333 °C, 19 degrees of freedom.
    #[test]
    fn repeats_as_in_gum_4_4_3() {
        let values = [
            96.90, 98.18, 98.25, 98.61, 99.03, 99.49, 99.56, 99.74, 99.89, 100.07, 100.33, 100.42,
            100.68, 100.95, 101.11, 101.20, 101.57, 101.84, 102.36, 102.72,
        ];
        let result = estimate(&quantities(&values, "°C"), Errors::default());
        assert!((result.value - 273.15 - 100.145).abs() < 1e-9);
        assert!((result.u - 0.333).abs() < 5e-4);
        assert!((result.u * 20f64.sqrt() - 1.489).abs() < 5e-4);
        assert_eq!(result.dof, 19.0);
    }

    /// JCGM 100:2008, G.4.1, example: u = 0.25, 0.57 and 0.82 with 9, 4 and 14
    /// degrees of freedom give u_c = 1.03, ν_eff = 19 (unrounded 18.9987, cut to
    /// 18) and U₉₅ = 2.2.
    #[test]
    fn combines_as_in_gum_g_4_1() {
        let part = |u, dof| Component::new(Source::Repeatability, u, dof);
        let result = combine(
            0.0,
            vec![part(0.25, 9.0), part(0.57, 4.0), part(0.82, 14.0)],
        );
        assert!((result.u - 1.03).abs() < 5e-3);
        assert!((result.dof - 18.9987).abs() < 5e-5);
        assert!((result.expanded - 2.2).abs() < 0.05);
    }

    /// JCGM 100:2008, F.2.2.1 and 4.3.7: ±a gives a/√3, a step d gives 0.289 d.
    #[test]
    fn accuracy_and_resolution_as_in_gum() {
        let gauge = Instrument {
            accuracy: error(6.0, "Pa"),
            resolution: error(10.0, "Pa"),
            ..instrument("Pa")
        };
        let result = estimate(
            &quantities(&[400.0], "Pa"),
            Errors {
                instrument: Some(&gauge),
                ..Errors::default()
            },
        );
        assert!((result.components[0].u - 6.0 / 3f64.sqrt()).abs() < 1e-12);
        assert!((result.components[1].u - 2.887).abs() < 5e-4);
    }

    /// Each interval has its own error of timing by hand: of four, half of one.
    #[test]
    fn timing_by_hand_is_averaged_without_a_watch_too() {
        let of = |values: &[f64]| {
            let errors = Errors {
                hand_timing: Some(0.2),
                ..Errors::default()
            };
            estimate(&quantities(values, "s"), errors).u
        };
        assert!((of(&[6.0]) - 0.2).abs() < 1e-12);
        let nothing_known = estimate(&quantities(&[6.0], "s"), Errors::default());
        assert_eq!((nothing_known.u, nothing_known.dof), (0.0, f64::INFINITY));
        assert!((of(&[6.0; 4]) - 0.1).abs() < 1e-12);
    }

    /// IEC 60584-2, type K, class 2 (±2.5 °C or 0.75 % of t, the greater): at
    /// 400 °C the tolerance is 3.0 °C and u = 1.7321 °C. Percent counts in
    /// degrees Celsius, not in kelvins.
    #[test]
    fn percent_of_a_temperature_counts_on_its_scale() {
        let probe = Instrument {
            accuracy_of_reading: error(0.75, "%"),
            ..instrument("K")
        };
        let result = estimate(
            &quantities(&[400.0], "°C"),
            Errors {
                instrument: Some(&probe),
                ..Errors::default()
            },
        );
        assert!((result.u - 1.7321).abs() < 5e-5);
    }

    #[test]
    fn a_stated_uncertainty_takes_the_place_of_the_instrument() {
        let gauge = Instrument {
            accuracy: error(6.0, "Pa"),
            ..instrument("Pa")
        };
        let result = estimate(
            &quantities(&[400.0], "Pa"),
            Errors {
                instrument: Some(&gauge),
                stated: Some(Stated {
                    expanded: error(4.0, "Pa").unwrap(),
                    k: 2.0,
                    dof: None,
                }),
                ..Errors::default()
            },
        );
        assert_eq!(result.components.len(), 1);
        assert_eq!(result.u, 2.0);
    }

    #[test]
    fn identical_repeats_have_no_scatter_and_no_nan() {
        let result = estimate(&quantities(&[5.0, 5.0, 5.0], "s"), Errors::default());
        assert_eq!((result.u, result.expanded), (0.0, 0.0));
    }
}
