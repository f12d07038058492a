//! Figures with their uncertainty, and their place at a limit, in the unit of the measure.

use super::shape::{ComponentResult, EstimateResult, LimitByResult, RunBounds, StandingResult};
use crate::job::{Formula, LimitBy};
use crate::judge::{Ends, Standing, Zone};
use crate::quantity::{Estimate, Source, Unit};

/// How bounds are worked out, and what they came to in both runs.
pub fn limit_by(by: &LimitBy, ends: [Option<&Ends>; 2], unit: &Unit) -> LimitByResult {
    let formula = |of: &Option<Formula>| of.as_ref().map(|formula| formula.text.clone());
    let end = |end: &Option<Estimate>| end.as_ref().map(|end| point(end, unit));
    let run = |run: usize| {
        ends[run].map(|ends| RunBounds {
            min: end(&ends.min),
            max: end(&ends.max),
        })
    };
    LimitByResult {
        min: formula(&by.min),
        max: formula(&by.max),
        baseline: run(0),
        retest: run(1),
    }
}

/// A figure in `unit`.
pub fn point(point: &Estimate, unit: &Unit) -> EstimateResult {
    estimate(point, unit.from_si(point.value), |u| {
        unit.difference_from_si(u)
    })
}

/// A figure whose value is `value`, with the uncertainties of `estimate` as `scale` gives them.
pub fn estimate(estimate: &Estimate, value: f64, scale: impl Fn(f64) -> f64) -> EstimateResult {
    let finite = |dof: f64| dof.is_finite().then_some(dof);
    EstimateResult {
        value,
        u: scale(estimate.u),
        k: (estimate.u > 0.0).then(|| estimate.expanded / estimate.u),
        expanded: scale(estimate.expanded),
        dof_of_scatter: estimate.dof_of_scatter(),
        components: estimate
            .components
            .iter()
            .map(|component| ComponentResult {
                source: match component.source {
                    Source::Accuracy => "accuracy",
                    Source::Resolution => "resolution",
                    Source::Repeatability => "repeatability",
                    Source::HandTiming => "hand-timing",
                    Source::ByEye => "by-eye",
                    Source::RunToRun => "run-to-run",
                    Source::Stated => "stated",
                    Source::WorkedOut => "worked-out",
                    Source::Setting => "setting",
                },
                u: scale(component.u),
                dof: finite(component.dof),
            })
            .collect(),
    }
}

/// A place at a limit.
pub fn standing(standing: Standing) -> StandingResult {
    StandingResult {
        zone: Some(match standing.zone {
            Zone::Pass => "pass",
            Zone::ConditionalPass => "conditional-pass",
            Zone::ConditionalFail => "conditional-fail",
            Zone::Fail => "fail",
        }),
        conformity: Some(standing.conformity),
        too_coarse: standing.too_coarse,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What is known exactly is expanded by no factor.
    #[test]
    fn an_exact_figure_has_no_coverage_factor() {
        let unit = Unit::named("mm").unwrap();
        let exact = point(&Estimate::exact(0.005), unit);
        assert_eq!((exact.value, exact.u, exact.k), (5.0, 0.0, None));
    }
}
