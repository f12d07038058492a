//! How the two readings of a measure depend on each other.

use super::moments::mean;
use super::pairs::Pairs;
use super::uncertainty::{Errors, certificate, combine, expanded, proportional, si_of};
use crate::quantity::{Component, Estimate, Quantity, Source};

/// How the baseline's reading of a measure and the retest's depend on each other. By
/// default they do not: their errors are treated as independent.
#[derive(Debug, Clone, Default)]
pub struct Dependence {
    /// Errors of the instrument that are the same in both runs.
    pub common: Option<Common>,
    /// Repeats that belong in pairs.
    pub pairs: Option<Pairs>,
    /// Whether the scatter of both is one estimate, from the repeats of both.
    pub pooled: bool,
    /// Whether the two are worked out over other positions, so that their difference is no
    /// change of the same thing.
    pub over_others: bool,
}

/// The errors of one instrument that are the same in both runs.
#[derive(Debug, Clone)]
pub struct Common {
    /// The instrument's id.
    pub instrument: String,
    /// Why they are the same, in the words of the job.
    pub reason: String,
    parts: Vec<CommonPart>,
}

/// One such error: what it adds to the baseline and to the retest, each as a
/// standard uncertainty with the sign in which it acts.
#[derive(Debug, Clone, Copy)]
struct CommonPart {
    /// The error itself, whatever its size.
    one: Component,
    adds: [f64; 2],
}

impl Common {
    /// The common errors of two readings, each its values and what is known of their
    /// errors; none unless both name one instrument whose error is said to be common.
    ///
    /// The fixed part of the accuracy and the uncertainty of the certificate add the
    /// same to both; the part that is proportional to the reading adds a share of each.
    pub fn of(readings: [(&[Quantity], Errors<'_>); 2]) -> Option<Self> {
        let [(before, known), (after, known_after)] = readings;
        let instrument = known.instrument?;
        let same = known_after.instrument.map(|other| &other.id) == Some(&instrument.id);
        let stated = known.stated.is_some() || known_after.stated.is_some();
        if !same || stated {
            return None;
        }
        let reason = instrument.common_error.clone()?;
        let share = |values: &[Quantity]| {
            let si: Vec<f64> = values.iter().map(Quantity::si).collect();
            proportional(instrument, mean(&si), values) / 3f64.sqrt()
        };
        let fixed = si_of(instrument.accuracy) / 3f64.sqrt();
        let accuracy = |adds| CommonPart {
            one: Component::new(Source::Accuracy, 0.0, f64::INFINITY),
            adds,
        };
        let stated = instrument.stated.map(certificate);
        let certificates = stated.map(|one| CommonPart {
            one,
            adds: [one.u; 2],
        });
        let parts = [
            accuracy([fixed; 2]),
            accuracy([share(before), share(after)]),
        ];
        Some(Self {
            instrument: instrument.id.clone(),
            reason,
            parts: parts.into_iter().chain(certificates).collect(),
        })
    }

    /// The same errors in figures worked out from the readings, with the slopes of
    /// the two conversions.
    pub fn through(mut self, slopes: [f64; 2]) -> Self {
        for part in &mut self.parts {
            part.adds = [part.adds[0] * slopes[0], part.adds[1] * slopes[1]];
        }
        self
    }
}

impl Dependence {
    /// Whether the two depend on each other, so that the change is not simply the
    /// difference of two independent readings.
    pub fn ties_the_runs(&self) -> bool {
        self.common.is_some() || self.pairs.is_some()
    }

    /// Retest minus baseline, where no claim of a change hangs on it; else see
    /// [`Dependence::change`].
    pub fn difference(&self, baseline: &Estimate, retest: &Estimate) -> Estimate {
        Estimate {
            noise: baseline.noise + retest.noise,
            written: baseline.written.and(retest.written),
            ..combine(
                retest.value - baseline.value,
                self.components(baseline, retest, [-1.0, 1.0]),
            )
        }
    }

    /// weights\[0\] · baseline + weights\[1\] · retest as a change of `value`, whose expanded
    /// uncertainty has half a step of the display in it.
    pub fn change(
        &self,
        baseline: &Estimate,
        retest: &Estimate,
        weights: [f64; 2],
        value: f64,
    ) -> Estimate {
        let found = combine(value, self.components(baseline, retest, weights));
        Estimate {
            noise: baseline.noise * weights[0].abs() + retest.noise * weights[1].abs(),
            written: baseline.written.and(retest.written),
            expanded: found.expanded + half_a_step(&found.components),
            ..found
        }
    }

    /// The uncertainty of weights\[0\] · baseline + weights\[1\] · retest, in its parts:
    /// independent ones each by its own weight (JCGM 100:2008, 5.1.2), common ones
    /// added up with their signs first (5.2.2 with a correlation of 1; F.1.2.3), the
    /// scatter of pairs by the pairs. A scatter that was estimated once for both, and what
    /// is stated of both, is one component with one number of degrees of freedom.
    pub fn components(
        &self,
        baseline: &Estimate,
        retest: &Estimate,
        weights: [f64; 2],
    ) -> Vec<Component> {
        let replaced = |source| match source {
            Source::Accuracy | Source::Stated => self.common.is_some(),
            Source::Repeatability => self.pairs.is_some(),
            Source::Resolution
            | Source::HandTiming
            | Source::ByEye
            | Source::RunToRun
            | Source::WorkedOut
            | Source::Setting => false,
        };
        let own = |estimate: &Estimate, weight: f64| -> Vec<Component> {
            let all = estimate.components.iter();
            let kept = all.filter(|component| !replaced(component.source));
            kept.map(|component| component.times(weight)).collect()
        };
        let mut components = own(baseline, weights[0]);
        for component in own(retest, weights[1]) {
            let is_one = match component.source {
                Source::Repeatability => self.pooled,
                Source::RunToRun => true,
                Source::Accuracy
                | Source::Resolution
                | Source::HandTiming
                | Source::ByEye
                | Source::Stated
                | Source::WorkedOut
                | Source::Setting => false,
            };
            let is_same = |of: &&mut Component| {
                (of.source, of.pool) == (component.source, component.pool)
                    && of.dof.total_cmp(&component.dof).is_eq()
            };
            let same = components.iter_mut().find(is_same);
            match same.filter(|_| is_one) {
                Some(same) => same.u = libm::hypot(same.u, component.u),
                None => components.push(component),
            }
        }
        let parts = self.common.iter().flat_map(|common| &common.parts);
        components.extend(parts.map(|part| Component {
            u: (weights[0] * part.adds[0] + weights[1] * part.adds[1]).abs(),
            ..part.one
        }));
        let scatter = self.pairs.iter().map(|pairs| pairs.repeatability(weights));
        components.extend(scatter);
        components.retain(|component| component.u > 0.0);
        components
    }
}

/// The expanded uncertainty of a change with these components: half a step of the display
/// more than that of a reading.
///
/// The difference of two displayed figures moves in whole steps, and no change at all lies
/// exactly on one. Without the half step, the continuity correction of any count, a display
/// of 0.1 s makes 4.35 % false claims and not 2.5 % (`tests/suite/error_rates.rs`).
pub fn expanded_change(components: &[Component], coverage: f64) -> f64 {
    expanded(components, coverage) + half_a_step(components)
}

pub fn half_a_step(components: &[Component]) -> f64 {
    let steps = components
        .iter()
        .filter(|part| matches!(part.source, Source::Resolution));
    3f64.sqrt() * steps.fold(0.0, |most: f64, part| most.max(part.u))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::{Instrument, Stated};
    use crate::judge::uncertainty::estimate;
    use crate::quantity::Unit;

    fn error(value: f64, unit: &str) -> Option<Quantity> {
        Quantity::new(value, Unit::named(unit).unwrap()).ok()
    }

    fn gauge() -> Instrument {
        Instrument {
            id: "gauge".into(),
            kind: "test".into(),
            serial: None,
            unit: Unit::named("kPa").unwrap(),
            accuracy: error(6.0 * 3f64.sqrt(), "kPa"),
            accuracy_of_reading: error(3f64.sqrt(), "%"),
            resolution: error(12f64.sqrt(), "kPa"),
            hand_timing: None,
            stated: Some(Stated {
                expanded: error(4.0, "kPa").unwrap(),
                k: 2.0,
                dof: None,
            }),
            common_error: Some("Same gauge, not opened".into()),
            calibrated: None,
            due: None,
            certificate: None,
            laboratory: None,
        }
    }

    fn one(value: f64, unit: &str) -> Vec<Quantity> {
        vec![Quantity::new(value, Unit::named(unit).unwrap()).unwrap()]
    }

    fn known(instrument: &Instrument) -> Errors<'_> {
        Errors {
            instrument: Some(instrument),
            ..Errors::default()
        }
    }

    /// By hand: 500 → 200 kPa; fixed u = 6 kPa, 1 % as u, certificate 2 kPa, step 1 kPa
    /// as u. Each reading: u² = (6 + 5)² + 2² + 1² and (6 + 2)² + 2² + 1². The fixed
    /// part and the certificate cancel in the change, of the share 1 % of 300 kPa is
    /// left: u² = 3² + 1² + 1². In 200/500 the fixed part leaves 6 × 300/500², the
    /// certificate 2 × 300/500², the share nothing, the steps 1/500 and 200/500².
    #[test]
    fn a_common_error_cancels_by_hand() {
        let gauge = gauge();
        let (before, after) = (one(500.0, "kPa"), one(200.0, "kPa"));
        let (baseline, retest) = (
            estimate(&before, known(&gauge)),
            estimate(&after, known(&gauge)),
        );
        assert!((baseline.u / 1e3 - 126f64.sqrt()).abs() < 1e-9);
        assert!((retest.u / 1e3 - 69f64.sqrt()).abs() < 1e-9);
        let together = Dependence {
            common: Common::of([(&before, known(&gauge)), (&after, known(&gauge))]),
            ..Dependence::default()
        };
        let change = together.difference(&baseline, &retest);
        assert!((change.u / 1e3 - 11f64.sqrt()).abs() < 1e-9, "{}", change.u);
        let apart = Dependence::default().difference(&baseline, &retest);
        assert!((apart.u / 1e3 - 195f64.sqrt()).abs() < 1e-9);
        let ratio = together.components(&baseline, &retest, [-0.4 / 500e3, 1.0 / 500e3]);
        let u = ratio.iter().map(|c| c.u * c.u).sum::<f64>().sqrt();
        let hand =
            (7.2e-3f64.powi(2) + 2.4e-3f64.powi(2) + 2e-3f64.powi(2) + 0.8e-3f64.powi(2)).sqrt();
        assert!((u - hand).abs() < 1e-12, "{u}");
    }

    /// What binary rounding may have done to both readings adds up, whatever their signs.
    #[test]
    fn rounding_noise_adds_up() {
        let [baseline, retest] = [2.0, 3.0].map(|noise| Estimate {
            noise,
            ..Estimate::exact(1.0)
        });
        let noise = |weights| {
            let apart = Dependence::default();
            apart.change(&baseline, &retest, weights, 0.0).noise
        };
        assert_eq!(noise([1.0, -1.0]), 5.0);
        assert_eq!(noise([-1.0, 1.0]), 5.0);
        assert_eq!(noise([-0.5, 4.0]), 13.0);
    }

    /// JCGM 100:2008, 5.2.2, example (from memory): ten resistors of 1000 Ω, each compared with one
    /// standard of u = 100 mΩ and with no other error, have a sum with u = 1 Ω, not the
    /// 0.32 Ω of independent errors. Two of them here: 0.2 Ω, not 0.141 Ω.
    #[test]
    fn common_errors_add_up_in_a_sum_as_in_gum_5_2_2() {
        let standard = Instrument {
            accuracy: None,
            accuracy_of_reading: None,
            resolution: None,
            stated: Some(Stated {
                expanded: error(0.1, "Ω").unwrap(),
                k: 1.0,
                dof: None,
            }),
            ..gauge()
        };
        let ohms = one(1000.0, "Ω");
        let resistor = estimate(&ohms, known(&standard));
        let sum = |together: Dependence| together.components(&resistor, &resistor, [1.0, 1.0]);
        let u = |parts: Vec<Component>| parts.iter().map(|c| c.u * c.u).sum::<f64>().sqrt();
        let common = Common::of([(&ohms, known(&standard)), (&ohms, known(&standard))]);
        assert!(
            (u(sum(Dependence {
                common,
                ..Dependence::default()
            })) - 0.2)
                .abs()
                < 1e-12
        );
        assert!((u(sum(Dependence::default())) - 0.1 * 2f64.sqrt()).abs() < 1e-12);
    }

    /// 1 % of a temperature is of its figure on the scale: 100 °C → 60 °C leaves 0.4 K
    /// of the half-width, whatever the zero of the scale.
    #[test]
    fn a_share_of_a_temperature_scales_with_the_change() {
        let probe = Instrument {
            unit: Unit::named("K").unwrap(),
            accuracy: error(2.0, "K"),
            accuracy_of_reading: error(1.0, "%"),
            resolution: None,
            stated: None,
            ..gauge()
        };
        let (before, after) = (one(100.0, "°C"), one(60.0, "°C"));
        let together = Dependence {
            common: Common::of([(&before, known(&probe)), (&after, known(&probe))]),
            ..Dependence::default()
        };
        let change = together.difference(
            &estimate(&before, known(&probe)),
            &estimate(&after, known(&probe)),
        );
        assert!((change.u - 0.4 / 3f64.sqrt()).abs() < 1e-9, "{}", change.u);
    }

    #[test]
    fn nothing_is_common_without_one_instrument_and_a_reason() {
        let gauge = gauge();
        let other = Instrument {
            id: "other".into(),
            ..gauge.clone()
        };
        let silent = Instrument {
            common_error: None,
            ..gauge.clone()
        };
        let stated = Errors {
            stated: gauge.stated,
            ..known(&gauge)
        };
        let values = one(500.0, "kPa");
        let of = |before, after| Common::of([(&values, before), (&values, after)]);
        assert!(of(known(&gauge), known(&gauge)).is_some());
        assert!(of(known(&gauge), known(&other)).is_none());
        assert!(of(known(&silent), known(&silent)).is_none());
        assert!(of(known(&gauge), stated).is_none());
        assert!(of(Errors::default(), Errors::default()).is_none());
    }

    const DRUG_A: [f64; 10] = [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0];
    const DRUG_B: [f64; 10] = [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4];

    fn list(values: &[f64]) -> Vec<Quantity> {
        let unit = Unit::named("1").unwrap();
        let each = values.iter().map(|v| Quantity::new(*v, unit).unwrap());
        each.collect()
    }

    /// Student (1908), the sleep data of Cushny and Peebles (1905), as pairs: mean
    /// difference −1.58, t = −4.0621 with 9 degrees of freedom, 95 % interval −2.4598858
    /// to −0.7001142 (printed in R's documentation of `t.test`).
    #[test]
    fn student_sleep_data_paired() {
        let (b, a) = (list(&DRUG_B), list(&DRUG_A));
        let together = Dependence {
            pairs: Pairs::of(&b, &a),
            ..Dependence::default()
        };
        let known = Errors::default();
        let change = together.difference(&estimate(&b, known), &estimate(&a, known));
        assert!((change.value + 1.58).abs() < 1e-12);
        assert!((change.value / change.u + 4.0621).abs() < 5e-5);
        assert_eq!(change.dof, 9.0);
        assert!((change.value - change.expanded + 2.459_885_8).abs() < 5e-8);
        assert!((change.value + change.expanded + 0.700_114_2).abs() < 5e-8);
    }
}
