"""Grades and exact counts, once or at several positions (section 6)."""

import math
from fractions import Fraction as F

from counts import few, P
from figures import rows_of
from measures import claimed, worst
from units import place


def same_name(text):
    """A grade or a code, without what may differ: spacing at the ends and capitals."""
    return text.strip().casefold()


def sign_test(gained, lost):
    """Twice the binomial tail of the smaller with one half; at most 1."""
    n = gained + lost
    return min(F(1), F(2 * sum(math.comb(n, k) for k in range(min(gained, lost) + 1)), 2**n))


class Scale:
    """What is good, and what is better, of one measure; at a position with limits of its own, by `row`."""

    def __init__(self, measure, row=None):
        self.grades = [same_name(grade) for grade in measure.get("grades", [])]
        self.names = measure.get("grades", [])
        self.low, self.high = measure.get("min_count"), measure.get("max_count")
        if self.grades:
            self.better, self.low = "higher", None
            if "at_least" in (row or measure):
                self.low = self.place((row or measure)["at_least"])
        else:
            self.better = better_of_counts(measure, "min_count", "max_count")
            if row is not None:
                self.low, self.high = row.get("min_count"), row.get("max_count")
        self.limited = (self.low, self.high) != (None, None)

    def place(self, grade):
        return self.grades.index(same_name(grade))

    def read(self, row):
        return self.place(row["grade"]) if self.grades else row["count"]

    def shown(self, x):
        """As the result names it: a grade as the plan writes it."""
        return self.names[x] if self.grades else x

    def outcome(self, x):
        if not self.limited:
            return "no-limit"
        return "pass" if outside(x, self.low, self.high) == 0 else "fail"

    def step(self, before, after):
        if self.better is None:
            return None
        worth = {"lower": lambda x: -x, "higher": lambda x: x, "inside": lambda x: -outside(x, self.low, self.high)}[self.better]
        gain = worth(after) - worth(before)
        return "better" if gain > 0 else "worse" if gain < 0 else "same"


def better_of_counts(measure, low, high):
    by_bounds = {(False, True): "lower", (True, False): "higher", (True, True): "inside"}
    ends, rows = (low in measure, high in measure), measure.get("limit_rows", [])
    if not any(ends) and rows:  # all its rows say it together
        ends = tuple(all(end in row for row in rows) for end in (low, high))
    return measure.get("better", by_bounds.get(ends))


def outside(x, low, high):
    """How far it lies outside its limits."""
    return max(0, *([x - high] if high is not None else []), *([low - x] if low is not None else []))


def judge_exact(measure, before, after, positions, fair):
    """Kinds `grade` and `count` without `per`."""
    common, rows, was, missing = Scale(measure), [], [], [False, False]
    own = {place(row["at"], positions): Scale(measure, row) for row in measure.get("limit_rows", [])}
    before, after = rows_of(before, positions), rows_of(after, positions)
    for position in positions:
        scale, runs = own.get(position, common), [before[position], after[position]]
        why = [row.get("not_taken") for row in runs]
        x, y = (None if reason else scale.read(row) for row, reason in zip(runs, why))
        found = {"position": position, "not_taken": why[1] or why[0], "step": None,
                 "baseline": None if x is None else scale.shown(x), "retest": None if y is None else scale.shown(y)}
        if x is not None and y is not None:
            found["step"] = scale.step(x, y)
        if x is not None:
            was.append(scale.outcome(x))
        if y is None:
            found["outcome"] = "inconclusive" if scale.limited else "no-limit"
            missing[1] |= scale.limited
        else:
            found["outcome"] = scale.outcome(y)
            missing[0] |= x is None
        rows.append(found)
    steps = [row["step"] for row in rows]
    change = claimed_step(steps[0], fair)
    paired, worse_at = None, False
    if "at" in measure:
        change, paired = of_positions(steps, common, fair)
        worse_at = "worse" in steps and change != "worsened"
    return {"exact": rows, "paired": paired, "change": change, "was": worst(was),
            "outcome": worst(row["outcome"] for row in rows),
            "at_limit": worst(row["outcome"] for row in rows if row["retest"] is not None),
            "not_taken": missing[1], "not_taken_before": missing[0], "worse_at": worse_at,
            "once": "at" not in measure,
            "graded_twice": bool(common.grades) and any(all("grade" in run[p] for run in (before, after)) for p in positions)}


def claimed_step(step, fair):
    """Of one look before and one after: what it was, and no more."""
    return "apparently-improved" if step == "better" and not fair else step


def of_positions(steps, scale, fair):
    """The change of the whole, by the sign test."""
    both = [step for step in steps if step]
    if scale.better is None or not both:
        return None, None
    gained, lost = both.count("better"), both.count("worse")
    p, smallest = sign_test(gained, lost), min(F(1), F(2, 2 ** len(both)))
    change = "no-detectable-change" if p >= P else "improved" if gained > lost else "worsened"
    change = claimed(few(change, smallest), fair)
    return change, {"gained": gained, "lost": lost, "p": p, "smallest_p": smallest, "change": change}
