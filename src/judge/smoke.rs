//! Exhaust smoke: opacity, light absorption coefficient, time until clear.

use super::comparison::{Comparison, compare};
use super::measures::errors;
use super::uncertainty::{Errors, combine, estimate};
use crate::job::{
    Better, Bounds, DecisionRule, HAND_TIMING_SECONDS, Job, Reading, Scale, Smoke, SmokeLimits,
};
use crate::quantity::{Component, Estimate, Quantity, Unit};

/// Which figure of a smoke reading.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SmokePart {
    /// Opacity N, the share of light that is held back.
    Opacity,
    /// Light absorption coefficient k, which does not depend on the path length.
    Absorption,
    /// Time until no smoke is seen.
    Clear,
}

/// One figure of a smoke reading before and after, with the scale it is judged on.
#[derive(Debug, Clone)]
pub struct SmokeComparison {
    /// Which figure.
    pub part: SmokePart,
    /// Its unit and limit.
    pub scale: Scale,
    /// The comparison.
    pub comparison: Comparison,
}

/// Compares whatever both runs have of opacity, absorption and time until clear.
pub fn compare_smoke(
    job: &Job,
    before: (&Reading, &Smoke),
    after: (&Reading, &Smoke),
    limits: &SmokeLimits,
    rule: DecisionRule,
) -> Vec<SmokeComparison> {
    let pair = |part, unit, max, of: &dyn Fn(&Reading, &Smoke) -> Option<Estimate>| {
        let scale = Scale {
            unit: Unit::named(unit)?,
            better: Some(Better::Lower),
            bounds: Bounds::new(None, max),
            improvement: None,
        };
        let comparison = compare(of(before.0, before.1)?, of(after.0, after.1)?, &scale, rule);
        Some(SmokeComparison {
            part,
            scale,
            comparison,
        })
    };
    let opacity = |reading: &Reading, smoke: &Smoke| {
        (!smoke.opacity.is_empty()).then(|| estimate(&smoke.opacity, errors(job, reading)))
    };
    [
        pair(SmokePart::Opacity, "%", limits.max_opacity, &opacity),
        pair(
            SmokePart::Absorption,
            "m⁻¹",
            limits.max_absorption,
            &|reading, smoke| absorption_of(&opacity(reading, smoke)?, smoke.path?.si()),
        ),
        pair(
            SmokePart::Clear,
            "s",
            limits.max_clear,
            &|reading, smoke| smoke.clear.map(|clear| timed(job, reading, clear)),
        ),
    ]
    .into_iter()
    .flatten()
    .collect()
}

fn timed(job: &Job, reading: &Reading, clear: Quantity) -> Estimate {
    let watch = reading.timer.as_deref().and_then(|id| job.instrument(id));
    let errors = Errors {
        instrument: watch,
        stated: None,
        hand_timing: watch.is_none().then_some(HAND_TIMING_SECONDS),
    };
    estimate(&[clear], errors)
}

/// The absorption coefficient of an opacity over a path in metres, with
/// u(k) = u(N)/(L(1 − N)).
fn absorption_of(opacity: &Estimate, path: f64) -> Option<Estimate> {
    let k = absorption(opacity.value, path)?;
    let slope = 1.0 / (path * (1.0 - opacity.value));
    let scaled = |component: &Component| Component {
        u: component.u * slope,
        ..*component
    };
    Some(combine(k, opacity.components.iter().map(scaled).collect()))
}

/// k = −ln(1 − N)/L, of an opacity N from 0 to 1 and a path L in metres (UN
/// Regulation No. 49, annex 4A, ELR test). None where no light is left: k has no
/// bound there.
pub fn absorption(opacity: f64, path: f64) -> Option<f64> {
    (opacity < 1.0 && path > 0.0).then(|| -(-opacity).ln_1p() / path)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// UN Regulation No. 49, worked ELR example (OJ L 103, 12.4.2008, p. 300):
    /// N = 16.783 % over 0.430 m gives k = 0.427 252 m⁻¹.
    #[test]
    fn absorption_as_in_un_r49() {
        assert!((absorption(0.16783, 0.430).unwrap() - 0.427_252).abs() < 5e-7);
    }

    /// The scale of R24 and ISO 11614 for 0.43 m (from memory of its table).
    #[test]
    fn absorption_scale_of_the_standard_opacimeter() {
        for (percent, k) in [(10.0, 0.245), (20.0, 0.519), (50.0, 1.612), (95.0, 6.967)] {
            let found = absorption(percent / 100.0, 0.43).unwrap();
            assert!((found - k).abs() < 5e-4, "{percent} %: {found}");
        }
    }

    #[test]
    fn full_opacity_has_no_coefficient() {
        assert!(absorption(1.0, 0.43).is_none());
        assert!(absorption(0.5, 0.0).is_none());
    }

    /// Against a difference quotient: k(N + h) − k(N) ≈ h/(L(1 − N)).
    #[test]
    fn the_uncertainty_follows_the_slope() {
        let opacity = combine(
            0.4,
            vec![Component {
                source: crate::quantity::Source::Accuracy,
                u: 0.01,
                dof: f64::INFINITY,
            }],
        );
        let found = absorption_of(&opacity, 0.43).unwrap();
        let h = 1e-7;
        let slope = (absorption(0.4 + h, 0.43).unwrap() - absorption(0.4, 0.43).unwrap()) / h;
        assert!((found.u - 0.01 * slope).abs() < 1e-6);
    }
}
