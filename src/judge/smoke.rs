//! Exhaust smoke: opacity, light absorption coefficient, time until clear.

use super::comparison::{Comparison, Terms, compare};
use super::dependence::{Common, Dependence};
use super::known::Known;
use super::scatter::Scatter;
use super::uncertainty::{Errors, combine, estimate, named};
use crate::job::{
    Better, Bounds, HAND_TIMING_SECONDS, Instrument, Reading, Scale, Smoke, SmokeLimits,
};
use crate::quantity::{Component, Estimate, Quantity, Unit, noise_of};

/// Which figure of a smoke reading.
#[derive(Debug, Clone, Copy)]
#[cfg_attr(test, derive(PartialEq, Eq))]
pub enum SmokePart {
    /// Opacity N, the share of light that is held back.
    Opacity,
    /// Light absorption coefficient k, which does not depend on the path length.
    Absorption,
    /// Time until no smoke is seen.
    Clear,
}

/// One figure of a smoke reading before and after.
#[derive(Debug, Clone)]
pub struct SmokeComparison {
    /// Which figure.
    pub part: SmokePart,
    /// The length of the light path for which an opacity is given, where its limit says.
    pub path: Option<Quantity>,
    /// The comparison.
    pub comparison: Comparison,
    /// The opacities as they were measured, where they were converted to another path.
    pub measured: Option<[Estimate; 2]>,
}

/// How opacities that were read over other light paths were treated.
#[derive(Debug, Clone)]
pub enum LightPath {
    /// Nothing to say: one path, or none that is known.
    AsRead,
    /// They were read over two paths and could not be compared.
    Unlike([Quantity; 2]),
    /// They were converted to the path of the limit.
    Converted {
        /// The paths over which they were read.
        read: [Quantity; 2],
        /// The path of the limit.
        to: Quantity,
        /// The opacities as they were read.
        measured: Box<[Estimate; 2]>,
        /// The unit in which they are told.
        unit: &'static Unit,
    },
}

/// Compares whatever both runs have of opacity, absorption and time until clear.
pub fn compare_smoke(
    known: &Known<'_>,
    runs: [(&Reading, &Smoke); 2],
    limits: &SmokeLimits,
    terms: Terms,
) -> Vec<SmokeComparison> {
    let [before, after] = known.scatter.runs;
    let read = |part| {
        let [(first, smoke), (second, later)] = runs;
        [
            Read::of(part, known, before, first, smoke),
            Read::of(part, known, after, second, later),
        ]
    };
    let together = || known.dependence(None);
    let paths = runs.map(|(_, smoke)| smoke.path.map(|path| path.si()));
    let stated = limits.path.map(|path| path.si());
    let unlike = matches!(paths, [Some(one), Some(other)] if one != other);
    PARTS
        .into_iter()
        .filter_map(|part| {
            let scale = scale_of(part, limits)?;
            let work = |run: usize, value| worked(part, value, paths[run], stated, unlike);
            let (comparison, measured) = compared(&scale, read(part), work, together(), terms)?;
            let [before, after] = &measured;
            let converted = matches!(part, SmokePart::Opacity)
                && (comparison.baseline.value != before.value
                    || comparison.retest.value != after.value);
            Some(SmokeComparison {
                part,
                path: path_of(part, limits),
                comparison,
                measured: converted.then_some(measured),
            })
        })
        .collect()
}

/// The figures of a baseline's smoke, before there is a retest.
pub fn smoke_before(
    known: &Known<'_>,
    reading: &Reading,
    smoke: &Smoke,
    limits: &SmokeLimits,
) -> Vec<(SmokePart, Option<Quantity>, Scale, Estimate)> {
    let [path, stated] = [smoke.path, limits.path].map(|path| path.map(|path| path.si()));
    PARTS
        .into_iter()
        .filter_map(|part| {
            let read = Read::of(part, known, known.scatter.runs[0], reading, smoke);
            if read.values.is_empty() {
                return None;
            }
            let measured = estimate(read.values, read.errors);
            let worked = worked(part, measured.value, path, stated, false)?;
            let scale = scale_of(part, limits)?;
            Some((
                part,
                path_of(part, limits),
                scale,
                passed_on(&measured, worked),
            ))
        })
        .collect()
}

/// What there is to say of the light paths of two runs that were compared as `parts`.
pub fn light_path(runs: [&Smoke; 2], limits: &SmokeLimits, parts: &[SmokeComparison]) -> LightPath {
    let path = |smoke: &Smoke| smoke.path.filter(|_| !smoke.opacity.is_empty());
    let [Some(before), Some(after)] = runs.map(path) else {
        return LightPath::AsRead;
    };
    let read = [before, after];
    let opacity = parts
        .iter()
        .find(|part| matches!(part.part, SmokePart::Opacity));
    match (opacity, limits.path) {
        (None, _) => LightPath::Unlike(read),
        (Some(opacity), Some(to)) => match &opacity.measured {
            Some(measured) => LightPath::Converted {
                read,
                to,
                measured: Box::new(measured.clone()),
                unit: opacity.comparison.scale.unit,
            },
            None => LightPath::AsRead,
        },
        (Some(_), None) => LightPath::AsRead,
    }
}

/// The figures of smoke, in the order in which they are told.
const PARTS: [SmokePart; 3] = [SmokePart::Opacity, SmokePart::Absorption, SmokePart::Clear];

/// The path of light for which the limit of a figure holds, where it names one.
fn path_of(part: SmokePart, limits: &SmokeLimits) -> Option<Quantity> {
    match part {
        SmokePart::Opacity => limits.path,
        SmokePart::Absorption | SmokePart::Clear => None,
    }
}

/// The scale on which a figure of smoke is judged: less, and sooner gone, is better.
pub fn scale_of(part: SmokePart, limits: &SmokeLimits) -> Option<Scale> {
    let (unit, max) = match part {
        SmokePart::Opacity => ("%", limits.max_opacity),
        SmokePart::Absorption => ("m⁻¹", limits.max_absorption),
        SmokePart::Clear => ("s", limits.max_clear),
    };
    Some(Scale {
        unit: Unit::named(unit)?,
        better: Some(Better::Lower),
        bounds: Bounds::new(None, max),
        by: None,
        should: None,
        as_printed: None,
        before: None,
        improvement: None,
        pressure: None,
        bands: None,
    })
}

/// What one run read of a figure; no values if it did not.
#[derive(Clone, Copy)]
struct Read<'a> {
    values: &'a [Quantity],
    errors: Errors<'a>,
}

impl<'a> Read<'a> {
    fn of(
        part: SmokePart,
        known: &Known<'a>,
        scatter: Option<Scatter>,
        reading: &'a Reading,
        smoke: &'a Smoke,
    ) -> Self {
        match part {
            SmokePart::Opacity | SmokePart::Absorption => Self {
                values: &smoke.opacity,
                errors: Errors {
                    scatter,
                    ..Errors::of(known.instruments, reading)
                },
            },
            SmokePart::Clear => Self {
                values: smoke.clear.as_slice(),
                errors: Errors {
                    by_eye: Some(known.smoke_by_eye()),
                    ..timing(known.instruments, reading, smoke)
                },
            },
        }
    }
}

/// A figure worked out from a reading, and the slope by which an error of the
/// reading passes on to it (JCGM 100:2008, 5.1.2: first order).
struct Worked {
    value: f64,
    slope: f64,
}

/// The figures that `work` makes of the readings of both runs, compared, and the
/// readings themselves; none where a run has no reading.
fn compared(
    scale: &Scale,
    reads: [Read<'_>; 2],
    work: impl Fn(usize, f64) -> Option<Worked>,
    together: Dependence,
    terms: Terms,
) -> Option<(Comparison, [Estimate; 2])> {
    if reads.iter().any(|read| read.values.is_empty()) {
        return None;
    }
    let measured = reads.map(|read| estimate(read.values, read.errors));
    let (before, after) = (work(0, measured[0].value)?, work(1, measured[1].value)?);
    let common = Common::of(reads.map(|read| (read.values, read.errors)));
    let together = Dependence {
        common: common.map(|common| common.through([before.slope, after.slope])),
        ..together
    };
    let baseline = passed_on(&measured[0], before);
    let retest = passed_on(&measured[1], after);
    let found = compare(baseline, retest, together, scale, terms);
    Some((found, measured))
}

/// Without a watch, the time counts as taken by hand, and as read to the last digit that
/// was written: 6.0 s to a tenth, 6 s to a second.
fn timing<'a>(instruments: &'a [Instrument], reading: &Reading, smoke: &Smoke) -> Errors<'a> {
    let watch = named(instruments, reading.timer.as_deref());
    let step = smoke.clear.and_then(|clear| clear.step());
    Errors {
        instrument: watch,
        hand_timing: watch.is_none().then_some(HAND_TIMING_SECONDS),
        step: step.filter(|_| watch.is_none()),
        ..Errors::default()
    }
}

/// The estimate of a worked figure, with the components of what it was worked out
/// from.
fn passed_on(measured: &Estimate, worked: Worked) -> Estimate {
    let passed = |component: &Component| component.times(worked.slope);
    Estimate {
        noise: noise_of(worked.value) + measured.noise * worked.slope.abs(),
        written: measured.written.through(worked.slope),
        ..combine(
            worked.value,
            measured.components.iter().map(passed).collect(),
        )
    }
}

/// What `value`, read over `path`, comes to as a figure of this part; the opacity over the
/// `stated` path where the limit names one. None where it cannot be worked out, or where
/// the two runs are `unlike`: two paths, and none to convert to.
fn worked(
    part: SmokePart,
    value: f64,
    path: Option<f64>,
    stated: Option<f64>,
    unlike: bool,
) -> Option<Worked> {
    let as_read = Worked { value, slope: 1.0 };
    match (part, stated) {
        (SmokePart::Opacity, Some(stated)) => over(value, path?, stated),
        (SmokePart::Opacity, None) => (!unlike).then_some(as_read),
        (SmokePart::Absorption, _) => absorption_of(value, path?),
        (SmokePart::Clear, _) => Some(as_read),
    }
}

/// An opacity over one path, as it would be over another: N₂ = 1 − (1 − N₁)^(L₂/L₁)
/// (Beer and Lambert, as 40 CFR 86.884-14(a)), of slope (L₂/L₁)·(1 − N₁)^(L₂/L₁ − 1).
/// None where no light is left.
fn over(opacity: f64, path: f64, stated: f64) -> Option<Worked> {
    if path == stated {
        return Some(Worked {
            value: opacity,
            slope: 1.0,
        });
    }
    let ratio = stated / path;
    (opacity < 1.0).then(|| Worked {
        value: -libm::expm1(ratio * libm::log1p(-opacity)),
        slope: ratio * libm::pow(1.0 - opacity, ratio - 1.0),
    })
}

/// The absorption coefficient of an opacity over a path in metres; its slope is
/// 1/(L(1 − N)).
fn absorption_of(opacity: f64, path: f64) -> Option<Worked> {
    Some(Worked {
        value: absorption(opacity, path)?,
        slope: 1.0 / (path * (1.0 - opacity)),
    })
}

/// k = −ln(1 − N)/L, of an opacity N from 0 to 1 and a path L in metres (UN
/// Regulation No. 49, annex 4A, ELR test). None where no light is left: k has no
/// bound there.
pub fn absorption(opacity: f64, path: f64) -> Option<f64> {
    (opacity < 1.0 && path > 0.0).then(|| -libm::log1p(-opacity) / path)
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

    /// The conversion of 40 CFR 86.884-14(a), to a path of 5 in (its form from memory;
    /// figures computed): the standard pipe diameters of 3, 4 and 6 in.
    #[test]
    fn opacity_over_another_path_as_40_cfr_86_884_14() {
        for (path, opacity, wanted) in [
            (3.0, 10.0, 16.10),
            (3.0, 20.0, 31.06),
            (3.0, 30.0, 44.81),
            (3.0, 40.0, 57.32),
            (3.0, 50.0, 68.50),
            (4.0, 10.0, 12.34),
            (4.0, 20.0, 24.34),
            (4.0, 40.0, 47.19),
            (6.0, 40.0, 34.67),
        ] {
            let found = over(opacity / 100.0, path * 0.0254, 5.0 * 0.0254).unwrap();
            assert!(
                (found.value * 100.0 - wanted).abs() < 5e-3,
                "{}",
                found.value
            );
            // k is the same over either path, and the slope that of a difference
            // quotient.
            let k = absorption(opacity / 100.0, path * 0.0254).unwrap();
            assert!((absorption(found.value, 5.0 * 0.0254).unwrap() - k).abs() < 1e-12);
            let near = over(opacity / 100.0 + 1e-7, path * 0.0254, 5.0 * 0.0254).unwrap();
            assert!(((near.value - found.value) / 1e-7 - found.slope).abs() < 1e-5);
        }
        assert!(over(1.0, 0.1, 0.2).is_none());
        assert_eq!(over(1.0, 0.1, 0.1).unwrap().value, 1.0, "as it was read");
        assert_eq!(over(0.3, 0.1, 0.1).unwrap().value, 0.3);
    }

    /// 1e-12 of the figure itself, and what the reading had, by the slope.
    #[test]
    fn rounding_noise_is_passed_on_by_the_slope() {
        let read = Estimate {
            noise: 3.0,
            ..Estimate::exact(0.4)
        };
        for slope in [4.0, -4.0] {
            let found = passed_on(&read, Worked { value: 0.0, slope });
            assert_eq!(found.noise, 12.0);
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
        let found = absorption_of(0.4, 0.43).unwrap();
        let h = 1e-7;
        let slope = (absorption(0.4 + h, 0.43).unwrap() - found.value) / h;
        assert!((found.slope - slope).abs() < 1e-5);
    }
}
