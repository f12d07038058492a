//! The verdict of a job, with its reasons as data.

use super::change::Change;
use super::conditions::{ConditionJudgement, ConditionState, about, warm_at};
use super::measures::MeasureJudgement;
use super::zone::Outcome;
use crate::job::Job;

/// The answer for the whole job.
#[derive(Debug, Clone, Copy)]
#[cfg_attr(test, derive(PartialEq, Eq))]
pub enum Verdict {
    /// Every required measure meets its limit, under fair conditions.
    Verified,
    /// A required measure does not meet its limit, or a required improvement is shown not
    /// to have been reached.
    NotVerified,
    /// Neither is shown.
    Undecided,
}

/// Why the verdict is what it is. Measures and conditions go by their ids.
#[derive(Debug, Clone)]
#[cfg_attr(test, derive(PartialEq, Eq))]
pub enum Reason {
    /// All required measures pass; how many they are.
    AllRequiredPass(usize),
    /// This required measure fails at its limit.
    Fails {
        /// The measure.
        measure: String,
        /// The names of the positions that fail; none where it has no positions.
        positions: Vec<String>,
    },
    /// The improvement required of this measure is shown not to have been reached.
    ImprovementAbsent {
        /// The measure.
        measure: String,
        /// Whether it even got worse.
        worse: bool,
    },
    /// This required measure is inconclusive at its limit.
    Inconclusive(String),
    /// The same, because its limits are closer together than twice its uncertainty.
    TooCoarse(String),
    /// The improvement required of this measure would be reached, but the machine's own
    /// variation, which is not known, may well undo it.
    VariationNotKnown(String),
    /// The improvement required of this measure cannot be worked out, or no change is
    /// detectable.
    NoImprovementShown(String),
    /// This required measure was not read in the retest.
    NotTaken {
        /// The measure.
        measure: String,
        /// The names of the positions; none where it is the whole measure.
        positions: Vec<String>,
        /// Why not, in the words of the job.
        why: String,
    },
    /// This required measure got worse, and is not clearly within its limit.
    GotWorse {
        /// The measure.
        measure: String,
        /// Whether that is said already, of the improvement that was required.
        said: bool,
    },
    /// This required condition was easier in the retest.
    ConditionEasier(String),
    /// This required condition is not known for both runs, or differs with an unknown
    /// effect.
    ConditionUnknown(String),
    /// This required condition was more severe in the retest, so that a failure there proves
    /// nothing.
    ConditionHarder(String),
    /// This temperature was still far above ambient at the retest: not a cold start.
    NotCold(String),
    /// No measure is required, so there is nothing to verify.
    NothingRequired,
}

/// The verdict and its reasons.
pub fn decide(
    job: &Job,
    measures: &[MeasureJudgement],
    conditions: &[ConditionJudgement],
) -> (Verdict, Vec<Reason>) {
    let required: Vec<&MeasureJudgement> =
        measures.iter().filter(|measure| measure.required).collect();
    let reasons = |of: fn(&MeasureJudgement) -> Option<Reason>| {
        required.iter().copied().filter_map(of).collect::<Vec<_>>()
    };
    let failing = [reasons(fails), reasons(improvement_absent)].concat();
    let mut open = [
        reasons(too_near),
        reasons(not_taken),
        reasons(variation_not_known),
        reasons(no_improvement_shown),
        reasons(got_worse),
    ]
    .concat();
    let ids: Vec<&str> = required.iter().map(|found| found.id.as_str()).collect();
    open.extend(
        about(conditions, &ids)
            .filter(|condition| condition.required)
            .filter_map(|condition| match condition.state {
                ConditionState::Easier => Some(Reason::ConditionEasier(condition.id.clone())),
                ConditionState::Unknown => Some(Reason::ConditionUnknown(condition.id.clone())),
                ConditionState::Matched | ConditionState::Harder => None,
            }),
    );
    open.extend(
        warm_at(job, &job.retest)
            .filter(|condition| condition.required && ids.iter().any(|id| condition.is_about(id)))
            .map(|condition| Reason::NotCold(condition.id.clone())),
    );
    if required.is_empty() {
        open.push(Reason::NothingRequired);
    }
    if !failing.is_empty() {
        // What fails where it was more severe, or may have been, proves nothing.
        let fails = |found: &&&MeasureJudgement| matches!(found.outcome, Outcome::Fail);
        let failed: Vec<&str> = required
            .iter()
            .filter(fails)
            .map(|it| it.id.as_str())
            .collect();
        let is_excused = |id: &&&str| {
            let mut bearing = about(conditions, std::slice::from_ref(*id));
            bearing.any(|condition| {
                let state = condition.state;
                condition.required && (state.is_harder() || state.is_unknown())
            })
        };
        if failed.iter().any(|id| !is_excused(&id)) {
            // What is open besides is still worth saying.
            return (Verdict::NotVerified, [failing, open].concat());
        }
        let harder: Vec<Reason> = about(conditions, &failed)
            .filter(|condition| condition.required && condition.state.is_harder())
            .map(|condition| Reason::ConditionHarder(condition.id.clone()))
            .collect();
        return (Verdict::Undecided, [failing, open, harder].concat());
    }
    if !open.is_empty() {
        return (Verdict::Undecided, open);
    }
    (
        Verdict::Verified,
        vec![Reason::AllRequiredPass(required.len())],
    )
}

/// A required measure outside its limit.
fn fails(found: &MeasureJudgement) -> Option<Reason> {
    matches!(found.at_limit, Outcome::Fail).then(|| Reason::Fails {
        measure: found.id.clone(),
        positions: owned(found.finding.failing_positions()),
    })
}

/// A measure that fails, and not at its limit.
fn improvement_absent(found: &MeasureJudgement) -> Option<Reason> {
    let at_limit = matches!(found.at_limit, Outcome::Fail);
    (matches!(found.outcome, Outcome::Fail) && !at_limit).then(|| Reason::ImprovementAbsent {
        measure: found.id.clone(),
        worse: is_worse(found),
    })
}

/// A measure that is open at its limit.
fn too_near(found: &MeasureJudgement) -> Option<Reason> {
    let is_open = matches!(
        (found.outcome, found.at_limit),
        (Outcome::Inconclusive, Outcome::Inconclusive)
    );
    let reason = if found.finding.is_too_coarse() {
        Reason::TooCoarse(found.id.clone())
    } else {
        Reason::Inconclusive(found.id.clone())
    };
    let was_read = found.finding.unread().is_none() || found.finding.has_an_open_position();
    (is_open && was_read).then_some(reason)
}

fn not_taken(found: &MeasureJudgement) -> Option<Reason> {
    let unread = found.finding.unread()?;
    Some(Reason::NotTaken {
        measure: found.id.clone(),
        positions: owned(unread.positions),
        why: unread.why.to_owned(),
    })
}

fn owned(names: Vec<&str>) -> Vec<String> {
    names.into_iter().map(str::to_owned).collect()
}

/// A measure that is open, and not at its limit.
fn is_open_besides(found: &MeasureJudgement) -> bool {
    let at_limit = matches!(found.at_limit, Outcome::Inconclusive);
    matches!(found.outcome, Outcome::Inconclusive) && !at_limit
}

fn no_improvement_shown(found: &MeasureJudgement) -> Option<Reason> {
    (is_open_besides(found) && !found.finding.is_undone())
        .then(|| Reason::NoImprovementShown(found.id.clone()))
}

fn variation_not_known(found: &MeasureJudgement) -> Option<Reason> {
    (is_open_besides(found) && found.finding.is_undone())
        .then(|| Reason::VariationNotKnown(found.id.clone()))
}

/// A measure that got worse and left its pass zone. What is still clearly within its limit
/// is a reservation: batteries and oil drift.
fn got_worse(found: &MeasureJudgement) -> Option<Reason> {
    let is_within = matches!(found.at_limit, Outcome::Pass);
    (is_worse(found) && !is_within).then(|| Reason::GotWorse {
        measure: found.id.clone(),
        said: improvement_absent(found).is_some(),
    })
}

fn is_worse(found: &MeasureJudgement) -> bool {
    matches!(found.change, Some(Change::Worsened))
}

#[cfg(test)]
mod tests {
    use super::super::comparison::{Terms, compare};
    use super::super::dependence::Dependence;
    use super::super::finding::MeasureFinding;
    use super::super::fixtures::{changed, fair, found, reading, scale};
    use super::*;
    use crate::job::{Better, DecisionRule, Improvement};
    use crate::quantity::Quantity;
    use Outcome::{ConditionalPass, Fail, Inconclusive, NoLimit, Pass};

    fn at(outcome: Outcome, at_limit: Outcome) -> MeasureJudgement {
        MeasureJudgement {
            at_limit,
            ..found(true, outcome)
        }
    }

    /// Which of the reasons a measure of this outcome, and this one at its limit, gives.
    #[test]
    fn a_reason_says_whether_the_limit_or_the_improvement_is_missed() {
        for (outcome, at_limit, wanted) in [
            (Pass, Pass, [false; 5]),
            (ConditionalPass, Pass, [false; 5]),
            (NoLimit, NoLimit, [false; 5]),
            (Fail, Fail, [true, false, false, false, false]),
            (Fail, Pass, [false, true, false, false, false]),
            (Fail, Inconclusive, [false, true, false, false, false]),
            (
                Inconclusive,
                Inconclusive,
                [false, false, true, false, false],
            ),
            (Inconclusive, Pass, [false, false, false, true, false]),
            (Inconclusive, NoLimit, [false, false, false, true, false]),
        ] {
            let found = at(outcome, at_limit);
            assert_eq!(
                given(&found),
                wanted,
                "{outcome:?}, {at_limit:?} at the limit"
            );
        }
        for (outcome, at_limit, wanted) in [
            (Inconclusive, Pass, [false, false, false, false, true]),
            (
                Inconclusive,
                Inconclusive,
                [false, false, true, false, false],
            ),
            (Fail, Pass, [false, true, false, false, false]),
        ] {
            let found = MeasureJudgement {
                finding: undone(),
                ..at(outcome, at_limit)
            };
            assert_eq!(given(&found), wanted, "{outcome:?}, {at_limit:?}, undone");
        }
    }

    /// Which reasons this gives.
    fn given(found: &MeasureJudgement) -> [bool; 5] {
        let reasons = [
            fails,
            improvement_absent,
            too_near,
            no_improvement_shown,
            variation_not_known,
        ];
        reasons.map(|reason| reason(found).is_some())
    }

    /// U = 0.139 in the change: a gain of 0.15 is more than U and less than √2 · U, so that
    /// a small variation of the machine would undo it.
    fn undone() -> MeasureFinding {
        let mut lower = scale(Some(Better::Lower), None, None);
        let asked = Quantity::new(0.001, lower.unit);
        lower.improvement = asked.ok().map(Improvement::By);
        let terms = Terms {
            variation_known: false,
            ..fair(DecisionRule::FourZone)
        };
        let (before, after) = (reading(10.0, 0.05), reading(9.85, 0.05));
        let found = compare(before, after, Dependence::default(), &lower, terms);
        MeasureFinding::Value(Box::new(found))
    }

    #[test]
    fn what_was_not_read_is_not_too_near() {
        let unread = MeasureJudgement {
            finding: MeasureFinding::NotTaken {
                why: "broke".into(),
            },
            ..found(true, Inconclusive)
        };
        assert_eq!(too_near(&unread), None);
        let why = not_taken(&unread).unwrap();
        assert!(matches!(why, Reason::NotTaken { why, .. } if why == "broke"));
        assert_eq!(not_taken(&found(true, Inconclusive)), None);
    }

    #[test]
    fn a_worsening_is_said_once() {
        let said = |found: &MeasureJudgement| match got_worse(found) {
            Some(Reason::GotWorse { said, .. }) => Some(said),
            _ => None,
        };
        let worse = |outcome| changed(true, outcome, Change::Worsened);
        for left in [NoLimit, ConditionalPass, Inconclusive] {
            assert_eq!(said(&worse(left)), Some(false));
        }
        assert_eq!(said(&worse(Pass)), None, "still clearly within its limit");
        assert_eq!(
            said(&worse(Fail)),
            Some(false),
            "that was said of its limit"
        );
        let absent = MeasureJudgement {
            at_limit: NoLimit,
            ..worse(Fail)
        };
        assert_eq!(said(&absent), Some(true));
        let told = improvement_absent(&absent).unwrap();
        assert!(matches!(
            told,
            Reason::ImprovementAbsent { worse: true, .. }
        ));
        let still = at(Fail, Pass);
        let told = improvement_absent(&still).unwrap();
        assert!(matches!(
            told,
            Reason::ImprovementAbsent { worse: false, .. }
        ));
        assert_eq!(said(&changed(true, Pass, Change::Improved)), None);
        assert_eq!(said(&found(true, Pass)), None);
    }
}
