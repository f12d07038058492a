//! What would settle a verdict that is undecided.

use super::comparison::Comparison;
use super::ends::InRun;
use super::finding::MeasureFinding;
use super::measures::MeasureJudgement;
use super::uncertainty::combine;
use super::verdict::{Reason, Verdict};
use super::zone::{Outcome, outcome, standing};
use crate::job::DecisionRule;
use crate::quantity::{Component, Estimate, Source};

/// What would settle an undecided verdict.
#[derive(Debug, Clone, Copy)]
#[cfg_attr(test, derive(PartialEq, Eq))]
pub enum Settles {
    /// A retest under like conditions.
    Conditions,
    /// Where something got worse, no better instrument changes that.
    Worse,
    /// A more accurate measurement.
    Measurement,
    /// A more accurate instrument; more repeats would not.
    Instrument,
    /// Knowing how the machine varies from run to run.
    Variation,
}

/// What would settle an undecided verdict. Where no test was required, or one was not
/// read, no better measurement settles anything.
pub fn settles(
    verdict: Verdict,
    reasons: &[Reason],
    measures: &[MeasureJudgement],
    fair: bool,
    rule: DecisionRule,
) -> Option<Settles> {
    let any = |is_so: fn(&Reason) -> bool| reasons.iter().any(is_so);
    let nothing_read = any(|it| matches!(it, Reason::NothingRequired | Reason::NotTaken { .. }));
    let warm = any(|it| matches!(it, Reason::NotCold(_)));
    let variation = any(|it| matches!(it, Reason::VariationNotKnown(_)));
    let measured = any(|it| {
        matches!(
            it,
            Reason::Inconclusive(_) | Reason::TooCoarse(_) | Reason::NoImprovementShown(_)
        )
    });
    let repeats_help = || {
        let required = measures.iter().filter(|found| found.required);
        let mut open = required.filter(|it| matches!(it.outcome, Outcome::Inconclusive));
        open.all(|found| could_settle(&found.finding, rule))
    };
    match verdict {
        Verdict::Verified | Verdict::NotVerified => None,
        Verdict::Undecided if nothing_read => None,
        Verdict::Undecided if !fair || warm || is_harder(reasons) => Some(Settles::Conditions),
        Verdict::Undecided if got_worse(reasons) => Some(Settles::Worse),
        Verdict::Undecided if variation && !measured => Some(Settles::Variation),
        Verdict::Undecided if repeats_help() => Some(Settles::Measurement),
        Verdict::Undecided => Some(Settles::Instrument),
    }
}

/// Whether more repeats, without any scatter left, could decide every figure that is
/// inconclusive.
fn could_settle(finding: &MeasureFinding, rule: DecisionRule) -> bool {
    let open = |found: &&Comparison| matches!(found.outcome, Outcome::Inconclusive);
    let mut open = finding.comparisons().filter(open);
    open.all(|found| repeats_settle(found, rule))
}

/// Whether the retest would be decided at its limit, and its improvement, if nothing of
/// the scatter of its readings were left: more repeats can bring no more than that.
fn repeats_settle(found: &Comparison, rule: DecisionRule) -> bool {
    let still = |estimate: &Estimate| Estimate {
        noise: estimate.noise,
        ..combine(estimate.value, without_scatter(estimate))
    };
    let in_run = InRun {
        scale: found.scale.clone(),
        ends: found.ends[1].clone(),
        toward: found.ends[1].clone(),
    };
    let at_limit = in_run.outcome(&still(&found.retest), rule);
    let gain = found.gain.as_ref().map_or(Outcome::NoLimit, |gain| {
        let (Some(achieved), false) = (&gain.achieved, gain.undone) else {
            return gain.outcome;
        };
        let least = found.scale.improvement.map_or(0.0, |it| it.least());
        let standing = standing(&still(achieved), Some(least), None, rule);
        outcome(standing.zone, rule)
    });
    !matches!(at_limit.or_worse(gain), Outcome::Inconclusive)
}

/// What is left of an uncertainty when its readings are repeated without end.
fn without_scatter(estimate: &Estimate) -> Vec<Component> {
    let scatters =
        |part: &&Component| matches!(part.source, Source::Repeatability | Source::HandTiming);
    let kept = estimate.components.iter().filter(|part| !scatters(part));
    kept.copied().collect()
}

/// Whether something fails under conditions that were more severe.
pub fn is_harder(reasons: &[Reason]) -> bool {
    reasons
        .iter()
        .any(|reason| matches!(reason, Reason::ConditionHarder(_)))
}

/// Whether something required got worse.
pub fn got_worse(reasons: &[Reason]) -> bool {
    reasons
        .iter()
        .any(|reason| matches!(reason, Reason::GotWorse { .. }))
}

#[cfg(test)]
mod tests {
    use super::super::comparison::compare;
    use super::super::dependence::Dependence;
    use super::super::fixtures::{fair, scale};
    use super::super::smoke::{LightPath, SmokeComparison, SmokePart};
    use super::*;
    use crate::job::Better;

    fn worse() -> Reason {
        Reason::GotWorse {
            measure: "m".into(),
            said: false,
        }
    }

    #[test]
    fn what_would_settle_an_open_verdict() {
        let four_zone = DecisionRule::FourZone;
        let of =
            |reasons: &[Reason], fair| settles(Verdict::Undecided, reasons, &[], fair, four_zone);
        let near = || Reason::Inconclusive("m".into());
        assert_eq!(of(&[near()], true), Some(Settles::Measurement));
        assert_eq!(of(&[near(), worse()], true), Some(Settles::Worse));
        let warm = Reason::NotCold("oil".into());
        assert_eq!(of(&[near(), warm], true), Some(Settles::Conditions));
        assert_eq!(of(&[near(), worse()], false), Some(Settles::Conditions));
        let unread = Reason::NotTaken {
            measure: "m".into(),
            positions: Vec::new(),
            why: "broke".into(),
        };
        assert_eq!(of(&[near(), unread], true), None);
        assert_eq!(of(&[Reason::NothingRequired], true), None);
        for verdict in [Verdict::Verified, Verdict::NotVerified] {
            assert_eq!(settles(verdict, &[near()], &[], false, four_zone), None);
        }
    }

    /// Between 9.9 and 10.1: 10.04 ± 0.1 by scatter alone could be settled by repeats, by a
    /// certificate it could not. Where two are open, repeats help only if both could be.
    #[test]
    fn repeats_help_where_all_that_is_open_scatters() {
        let band = scale(Some(Better::Inside), Some(9.9), Some(10.1));
        let by = |source, dof| {
            let read = || combine(10.04, vec![Component::new(source, 0.05, dof)]);
            let terms = fair(DecisionRule::Guarded);
            let comparison = compare(read(), read(), Dependence::default(), &band, terms);
            SmokeComparison {
                part: SmokePart::Clear,
                path: None,
                comparison,
                measured: None,
            }
        };
        let scatters = || by(Source::Repeatability, 200.0);
        let stated = || by(Source::Stated, f64::INFINITY);
        let of = |parts: Vec<SmokeComparison>| {
            let finding = MeasureFinding::Smoke {
                parts,
                light_path: LightPath::AsRead,
            };
            could_settle(&finding, DecisionRule::Guarded)
        };
        assert!(of(vec![scatters()]) && of(vec![scatters(), scatters()]));
        assert!(!of(vec![stated()]));
        assert!(!of(vec![scatters(), stated()]) && !of(vec![stated(), scatters()]));
    }
}
