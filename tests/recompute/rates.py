"""Counted rates: events that come singly and by chance (section 6)."""

import math
from fractions import Fraction as F

from scipy import stats

from counts import few, P
from exact import better_of_counts, outside
from measures import claimed, outcome_of
from nearness import every, relations, tie
from units import convert

LIKELIER = F(1, 10**7)


def garwood(count):
    """The means that give so many or more, and so many or fewer, in 2.5 % of all cases."""
    low = stats.chi2.ppf(0.025, 2 * count) / 2 if count else 0.0
    return [float(low), float(stats.chi2.isf(0.025, 2 * count + 2) / 2)]


def divisions(n, share):
    """How likely each number of n events in the retest is, exactly."""
    a, b = share.numerator, share.denominator - share.numerator
    return [math.comb(n, k) * a**k * b ** (n - k) for k in range(n + 1)]


def equal_rates(before, after, share):
    """The conditional test: all divisions that are no likelier than the one found."""
    ways = divisions(before + after, share)
    return F(sum(w for w in ways if w <= ways[after] * (1 + LIKELIER)), sum(ways))


def smallest_p(n, share):
    ways = divisions(n, share)
    return equal_rates(n, 0, share) if ways[0] <= ways[n] else equal_rates(0, n, share)


def zone_of(reading, low, high, rule, theirs):
    if low is None and high is None:
        return None
    rate, (least, most) = reading["rate"], reading["interval"]
    found = set()
    # Of each limit: the rate, the near end and the far end of the interval against it.
    sides = [answers for bound, sign, far, near in ((low, 1, most, least), (high, -1, least, most)) if bound is not None
             for answers in ({sign * r for r in relations(x, bound)} for x in (rate, near, far))]
    for answers in every(*sides):
        rows = [answers[i:i + 3] for i in range(0, len(answers), 3)]
        beyond, inside = sum(near < 0 for _, near, _ in rows), all(at >= 0 for at, _, _ in rows)
        if rule == "simple":
            found.add("pass" if inside else "fail")
        elif beyond == 0:
            found.add("pass")
        elif any(far < 0 for _, _, far in rows):
            found.add("fail")
        elif inside and beyond == 1:
            found.add("conditional-pass")
        else:
            found.add("conditional-fail")
    return tie(found, theirs)


def reading_of(row, per):
    over = F(convert(F(row["over"]), row["unit"], per))
    rate = row["count"] / over
    return {"count": row["count"], "over": over, "rate": rate, "interval": [x / float(over) for x in garwood(row["count"])]}


def judge_rate(measure, before, after, rule, fair, theirs):
    """Kind `count` with `per`, where the retest was read."""
    low, high, theirs = measure.get("min_rate"), measure.get("max_rate"), theirs.get("rate") or {}
    better = better_of_counts(measure, "min_rate", "max_rate")
    why = before.get("not_taken")
    b, a = None if why else reading_of(before, measure["per"]), reading_of(after, measure["per"])
    found = {"not_taken": why, "per": measure["per"], "min": low, "max": high, "baseline": b, "retest": a,
             "p": None, "smallest_p": None, "before": None, "after": zone_of(a, low, high, rule, theirs.get("after"))}
    change = None
    if b:
        share = a["over"] / (b["over"] + a["over"])
        n = b["count"] + a["count"]
        found["before"] = zone_of(b, low, high, rule, theirs.get("before"))
        found["p"], found["smallest_p"] = equal_rates(b["count"], a["count"], share), smallest_p(n, share)
        if better:
            change = claimed(few(change_of(b["rate"], a["rate"], found["p"], better, low, high), found["smallest_p"]), fair)
    as_outcome = lambda zone: outcome_of(zone, rule) if zone else "no-limit"
    outcome = as_outcome(found["after"])
    return {"rate": found, "change": change, "outcome": outcome, "at_limit": outcome,
            "was": as_outcome(found["before"]), "not_taken_before": bool(why)}


def change_of(before, after, p, better, low, high):
    if p >= P:
        return "no-detectable-change"
    worth = {"lower": lambda x: -x, "higher": lambda x: x, "inside": lambda x: -outside(x, low, high)}[better]
    gain = worth(after) - worth(before)
    gain = 0 if abs(gain) <= 1e-12 * max(before, after) else gain
    return "improved" if gain > 0 else "worsened" if gain < 0 else "changed"
