//! What a machine has stored, before and after: what is gone, still there, new.

use super::change::Step;
use super::zone::Outcome;
use crate::job::{ListItem, ListLimits};

/// A list before and after.
#[derive(Debug, Clone)]
pub struct ListComparison {
    /// Before the work, in the order of the file.
    pub baseline: Vec<ListItem>,
    /// After it.
    pub retest: Vec<ListItem>,
    /// In the first and not in the second.
    pub gone: Vec<ListItem>,
    /// In both, as each run has them.
    pub still: Vec<[ListItem; 2]>,
    /// In the second and not in the first.
    pub new: Vec<ListItem>,
    /// How they compare: worse where anything is new, better where something is gone and
    /// nothing is new.
    pub step: Step,
    /// The baseline at its limit.
    pub outcome_before: Outcome,
    /// The retest at its limits.
    pub outcome: Outcome,
}

/// Compares two lists, entry by entry, by their codes.
pub fn compare(limits: &ListLimits, [before, after]: [&[ListItem]; 2]) -> ListComparison {
    let lacks = |list: &[ListItem], item: &ListItem| !list.iter().any(|other| other.is_same(item));
    let missing = |from: &[ListItem], in_list: &[ListItem]| -> Vec<ListItem> {
        let missing = in_list.iter().filter(|item| lacks(from, item));
        missing.cloned().collect()
    };
    let still = before.iter().filter_map(|item| {
        let same = after.iter().find(|other| other.is_same(item))?;
        Some([item.clone(), same.clone()])
    });
    let (gone, new) = (missing(after, before), missing(before, after));
    let fails = limits.none_new && !new.is_empty();
    let own = at_limit(limits, after);
    ListComparison {
        step: match (new.is_empty(), gone.is_empty()) {
            (false, _) => Step::Worse,
            (true, false) => Step::Better,
            (true, true) => Step::Same,
        },
        still: still.collect(),
        gone,
        new,
        outcome_before: at_limit(limits, before),
        outcome: match (fails, limits.none_new) {
            (true, _) => Outcome::Fail,
            (false, true) => own.or_worse(Outcome::Pass),
            (false, false) => own,
        },
        baseline: before.to_vec(),
        retest: after.to_vec(),
    }
}

/// A list by itself: whether it is short enough.
pub fn at_limit(limits: &ListLimits, list: &[ListItem]) -> Outcome {
    match limits.max {
        None => Outcome::NoLimit,
        Some(max) if list.len() <= max as usize => Outcome::Pass,
        Some(_) => Outcome::Fail,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn list(codes: &[&str]) -> Vec<ListItem> {
        let item = |code: &&str| ListItem {
            code: (*code).to_owned(),
            text: None,
        };
        codes.iter().map(item).collect()
    }

    #[test]
    fn each_entry_is_gone_or_still_there_or_new() {
        let limits = ListLimits {
            max: Some(2),
            none_new: false,
        };
        let (before, after) = (list(&["P-1", "P-2", "P-3"]), list(&["C-9", "p-2 "]));
        let found = compare(&limits, [&before, &after]);
        assert_eq!(found.gone, list(&["P-1", "P-3"]));
        assert_eq!(found.new, list(&["C-9"]));
        assert_eq!(found.still.len(), 1);
        assert_eq!(found.still[0][1].code, "p-2 ");
        assert_eq!(
            (found.step, found.outcome_before, found.outcome),
            (Step::Worse, Outcome::Fail, Outcome::Pass)
        );
    }

    #[test]
    fn the_limits_of_a_list() {
        let of = |max, none_new, after: &[&str]| {
            let limits = ListLimits { max, none_new };
            let found = compare(&limits, [&list(&["P-1"]), &list(after)]);
            (found.step, found.outcome)
        };
        assert_eq!(of(Some(0), false, &[]), (Step::Better, Outcome::Pass));
        assert_eq!(of(Some(0), false, &["P-1"]), (Step::Same, Outcome::Fail));
        assert_eq!(of(None, true, &["P-1"]), (Step::Same, Outcome::Pass));
        assert_eq!(of(None, true, &["P-2"]), (Step::Worse, Outcome::Fail));
        assert_eq!(
            of(Some(2), true, &["P-1", "P-2"]),
            (Step::Worse, Outcome::Fail)
        );
        assert_eq!(of(Some(0), true, &["P-1"]), (Step::Same, Outcome::Fail));
        assert_eq!(of(None, false, &["P-2"]), (Step::Worse, Outcome::NoLimit));
    }
}
