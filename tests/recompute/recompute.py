#!/usr/bin/env python3
"""Independent recomputation of the judgement.

    recompute.py PROGRAM [--jobs N] [--seed S] [--keep FOLDER]

Makes random job folders, lets PROGRAM judge each (`check --json`), judges the same
files again, and prints every disagreement. Needs Python 3.11, numpy and scipy.
Written from the description of the job folder and of the rules, not from the
program's code: JCGM 100:2008 (uncertainty), ILAC-G8:09/2019, 4.2.3 (zones), NIST
SP 811, appendix B (unit factors), Clopper and Pearson (interval of a share), Fisher,
McNemar and Wilcoxon (exact tests), Iglewicz and Hoaglin (outliers), Beer and Lambert
(opacity over another path).

Every figure of a file is kept as the exact decimal that was written (Fraction), so
that "exactly at the limit" means just that; square roots and quantiles are floats.
"""

import argparse
import datetime
import itertools
import json
import math
import statistics
import subprocess
import sys
import tempfile
import time
import tomllib
from concurrent.futures import ThreadPoolExecutor
from fractions import Fraction as F
from functools import cached_property
from pathlib import Path

import numpy as np
from scipy import special, stats

# --- Units, each as a multiple of the first of its line (NIST SP 811, B.8) ---

LBF = F("4.448222")
UNITS = {
    "time": {"s": F(1), "ms": F("1e-3"), "min": F(60), "h": F(3600)},
    "temperature": {"°C": F(1), "°F": F(5, 9)},
    "difference": {"K": F(1), "Δ°C": F(1), "Δ°F": F(5, 9)},
    "pressure": {"kPa": F(1), "MPa": F(1000), "bar": F(100), "psi": F("6.894757"), "inHg": F("3.386389")},
    "voltage": {"V": F(1), "mV": F("1e-3")},
    # A revolution is 2π rad; SP 811 prints seven digits of π/30.
    "rotation": {"rad/s": F(1), "rpm": F(math.pi) / 30},
    "ratio": {"%": F(1), "1": F(100), "ppm": F("1e-4")},
    "length": {"mm": F(1), "in": F("25.4"), "thou": F("2.54e-2")},
    "torque": {"N·m": F(1), "lbf·ft": LBF * F("0.3048"), "lbf·in": LBF * F("0.0254")},
    "flow": {"L/min": F(1), "gal/min": F("3.785412")},
    "power": {"kW": F(1), "hp": F("0.7456999"), "PS": F("0.7354988")},
    "absorption": {"m⁻¹": F(1)},
    "mass": {"kg": F(1), "g": F("1e-3"), "lb": F("4.535924e-1")},
}
SORT = {unit: sort for sort, units in UNITS.items() for unit in units}
FACTOR = {unit: factor for units in UNITS.values() for unit, factor in units.items()}
AT_FREEZING = {"°C": F(0), "°F": F(32)}
STEP_OF = {"°C": "K", "°F": "Δ°F"}  # the unit of a difference of two temperatures


def convert(value, unit, to):
    """A value from one unit to another; a temperature with the zero of its scale."""
    zero, to_zero = AT_FREEZING.get(unit, 0), AT_FREEZING.get(to, 0)
    return (value - zero) * FACTOR[unit] / FACTOR[to] + to_zero


# --- Uncertainty ---


class Estimate:
    """A value with the parts of its uncertainty: (source, u, degrees of freedom)."""

    def __init__(self, value, parts):
        self.value, self.parts = value, [p for p in parts if p[1] > 0]

    @cached_property
    def u(self):
        return math.sqrt(math.fsum(u * u for _, u, _ in self.parts))

    @cached_property
    def dof(self):
        """Welch-Satterthwaite (G.2b), not truncated."""
        spread = math.fsum((u / self.u) ** 4 / nu for _, u, nu in self.parts)
        return 1 / spread if spread > 0 else math.inf

    @property
    def whole_dof(self):
        """Truncated; a whole number must not lose one to a rounded last digit."""
        return float(np.floor(self.dof * (1 + 1e-9)))

    def expanded(self, coverage=0.95):
        """What was estimated from repeats is expanded by Student's t, what is known by
        the normal distribution: repeats that agree by luck are no certainty."""
        tail = (1 - coverage) / 2
        seen = Estimate(0, [p for p in self.parts if p[2] < math.inf])
        known = Estimate(0, [p for p in self.parts if p[2] == math.inf])
        t = stats.t.isf(tail, seen.whole_dof) if seen.parts else 0.0
        return float(math.hypot(t * seen.u, special.ndtri(1 - tail) * known.u))

    def below(self, bound):
        """The probability that the true value is below, with truncated dof."""
        if self.u == 0:
            return float(self.value <= bound)
        # The spread that has just this U, so that probability and zones agree.
        known = self.whole_dof == math.inf
        factor = special.ndtri(0.975) if known else stats.t.isf(0.025, self.whole_dof)
        x = float(bound - self.value) / (self.expanded() / float(factor))
        return float(special.ndtr(x) if self.whole_dof == math.inf else special.stdtr(self.whole_dof, x))


def in_proportion(tool, value, unit):
    """The part of the accuracy that is proportional to the reading, in the tool's unit."""
    if SORT[unit] == "temperature":  # a percentage is of the figure that the scale shows
        shown = convert(value, unit, "°F" if "F" in tool["unit"] else "°C")
    else:
        shown = convert(value, unit, tool["unit"])
    return F(tool.get("accuracy_percent", 0)) / 100 * shown


def instrument_parts(tool, value, unit, to, n):
    """What an instrument's table adds to the mean of n values, in the unit `to`."""
    half = tool.get("accuracy", 0) + abs(in_proportion(tool, value, unit))
    scale = FACTOR[tool["unit"]] / FACTOR[to]
    parts = [
        ("accuracy", float(half * scale) / math.sqrt(3), math.inf),
        # Every repeat has the same steps: repeating does not average them out.
        ("resolution", float(tool.get("resolution", 0) * scale) / math.sqrt(12), math.inf),
        ("stated", float(tool.get("uncertainty", 0) / F(tool.get("k", 2)) * scale), math.inf),
    ]
    if tool.get("hand_timed"):
        hand = float(F(tool.get("hand_timing_seconds", F("0.1"))) / FACTOR[to])
        parts.append(("hand-timing", hand / math.sqrt(n), math.inf))
    return parts


def estimate(table, row, to, tools):
    """The mean of a row's values in the unit `to`; the table names unit and instrument."""
    values, unit = row.get("values", [row.get("value")]), table["unit"]
    n, scale = len(values), FACTOR[unit] / FACTOR[to]
    mean = F(sum(values)) / n
    parts = []
    if n > 1:
        variance = sum((v - mean) ** 2 for v in values) / (n - 1)
        parts.append(("repeatability", float(scale) * math.sqrt(variance / n), n - 1))
    if "uncertainty" in table:  # in place of the instrument's table, not of the scatter
        parts.append(("stated", float(table["uncertainty"] / F(table.get("k", 2)) * scale), math.inf))
    elif table.get("instrument") in tools:
        parts += instrument_parts(tools[table["instrument"]], mean, unit, to, n)
    return Estimate(convert(mean, unit, to), parts)


class Ties:
    """What two readings have in common: errors of one tool, repeats in pairs."""

    def __init__(self, common=None, pairs=None):
        self.common, self.pairs = common, pairs

    def parts(self, before, after, weights):
        """The parts of the uncertainty of a weighted sum of two readings."""
        wb, wa = weights
        gone = ({"accuracy", "stated"} if self.common else set()) | ({"repeatability"} if self.pairs else set())
        parts = [(s, abs(float(w)) * u, nu) for w, est in ((wb, before), (wa, after))
                 for s, u, nu in est.parts if s not in gone]
        if self.common:  # one error, in both: its two effects add up with their signs
            parts += [(s, abs(float(wb) * b + float(wa) * a), math.inf) for s, b, a in self.common["errors"]]
        if self.pairs:
            each = [wb * b + wa * a for b, a in zip(*self.pairs)]
            mean = F(sum(each)) / len(each)
            variance = sum((x - mean) ** 2 for x in each) / (len(each) - 1)
            parts.append(("repeatability", math.sqrt(variance / len(each)), len(each) - 1))
        return parts


def mean_of(row):
    values = row.get("values", [row.get("value")])
    return F(sum(values)) / len(values)


def common_error(runs, rows, to, tools):
    """The errors that both readings share; None where the files do not say so."""
    used = [run.get("instrument") for run in runs]
    tool = tools.get(used[0], {})
    if used[0] != used[1] or "common_error" not in tool or any("uncertainty" in run for run in runs):
        return None
    scale = FACTOR[tool["unit"]] / FACTOR[to]
    fixed = float(tool.get("accuracy", 0) * scale) / math.sqrt(3)
    certificate = float(tool.get("uncertainty", 0) / F(tool.get("k", 2)) * scale)
    share = [float(in_proportion(tool, mean_of(row), run["unit"]) * scale) / math.sqrt(3) for run, row in zip(runs, rows)]
    return {"instrument": used[0], "reason": tool["common_error"],
            "errors": [("accuracy", fixed, fixed), ("accuracy", *share), ("stated", certificate, certificate)]}


def signed_rank(pairs):
    """Wilcoxon's test over all ways of giving the ranks their signs."""
    moved = [a - b for b, a in zip(*pairs) if a != b]
    sizes = sorted(abs(d) for d in moved)
    rank = {size: F(2 * sizes.index(size) + sizes.count(size) + 1, 2) for size in sizes}
    ranks = [rank[abs(d)] for d in moved]
    rises = sum((r for r, d in zip(ranks, moved) if d > 0), F(0))
    falls = sum(ranks, F(0)) - rises
    smallest, p = min(F(1), F(2, 2 ** len(moved))), None
    if smallest < F("0.05"):
        sums = [sum(c) for c in itertools.product(*((F(0), r) for r in ranks))]
        p = min(F(1), F(2 * sum(s <= min(rises, falls) for s in sums), len(sums)))
    return {"pairs": len(pairs[0]), "used": len(moved), "rises": rises, "falls": falls, "p": p, "smallest_p": smallest}


def difference(before, after, ties=Ties()):
    return Estimate(after.value - before.value, ties.parts(before, after, (-1, 1)))


def relative(before, after, unit, ties=Ties()):
    """The difference as a share of the baseline's size, where that has a meaning."""
    b, a = before.value, after.value
    if SORT[unit] == "temperature" or a * b < 0 or abs(b) <= before.expanded():
        return None
    return Estimate((a - b) / abs(b), ties.parts(before, after, (-a / b**2, 1 / b)))


# --- Limits and changes ---

ZONES = ["pass", "conditional-pass", "conditional-fail", "fail"]
OUTCOMES = ["not-judged", "pass", "pass-with-reservation", "undecided", "fail"]
NEAR = 1e-9  # nearer than this to an edge, the last digit of a float decides


def tie(ours, options, theirs):
    """At an edge that no decimal can express, either side is right."""
    return theirs if theirs in options else ours


def standing(est, low, high, rule, theirs):
    """Zone and probability of conformity; None without a limit."""
    rooms = [room for room in (high is not None and high - est.value, low is not None and est.value - low)
             if room is not False]
    if not rooms:
        return None
    guard = 0.0 if rule == "simple" else est.expanded()
    slack = F(NEAR * max(guard, abs(float(est.value))))
    # Between bounds closer than two guard bands nothing could pass: nothing is told.
    coarse = low is not None and high is not None and high - low < 2 * guard
    zone = lambda room: max(sum(room < edge for edge in (guard, 0, -guard)), 2 if coarse else 0)
    # Exactly at the limit is inside, whatever the arithmetic.
    near = [{zone(r), zone(r - slack), zone(r + slack)} if r else {zone(r)} for r in rooms]
    ours = max(map(zone, rooms))
    at = tie(ZONES[ours], {ZONES[max(zones)] for zones in itertools.product(*near)}, (theirs or {}).get("zone"))
    x, bounds = est.value, (low, high)
    if high is None or low is not None and x > (low + high) / 2:
        # From the nearer bound, to keep the digits of a small probability.
        x, bounds = -x, (None if high is None else -high, -low)
    seen = Estimate(x, est.parts)
    inside = seen.below(bounds[1]) - (seen.below(bounds[0]) if bounds[0] is not None and est.u else 0.0)
    if not est.u:
        inside = float(min(rooms) >= 0)
    return {"zone": at, "conformity": inside}


def outcome_of(zone, rule):
    if zone == "conditional-pass":
        return "pass-with-reservation" if rule == "four-zone" else "undecided"
    return zone if zone in ("pass", "fail") else "undecided"


def better_of(measure):
    by_bounds = {(False, True): "lower", (True, False): "higher", (True, True): "inside"}
    return measure.get("better", by_bounds.get(("min" in measure, "max" in measure)))


def gain_of(before, after, better, low, high):
    """How much better the retest is; negative if it is worse."""
    if better == "inside":
        outside = lambda v: max(F(0), v - high, low - v)
        return outside(before.value) - outside(after.value)
    return (after.value - before.value) * {"higher": 1, "lower": -1}[better]


def weights_of(before, after, better, low, high):
    """How errors of the two readings act on the gain, signs aside."""
    if better == "inside":
        # Only in the way to one and the same bound does a shared error cancel.
        same = before.value > high and after.value > high or before.value < low and after.value < low
        return (-1, 1) if same else (1, 1)
    return -1, 1


def change_of(gain, expanded, theirs=None):
    if gain is None:
        return None
    direction = "improved" if gain > 0 else "worsened"
    ours = direction if abs(gain) > expanded else "no-detectable-change"
    near = gain and abs(abs(gain) - expanded) <= NEAR * expanded
    return tie(ours, {direction, "no-detectable-change"} if near else {ours}, theirs)


def overall(changes):
    order = ["worsened", "improved", "no-detectable-change", None]
    return min(changes, key=order.index)


def worst(outcomes):
    return max(outcomes, key=OUTCOMES.index, default="not-judged")


# --- One measure ---


def compare(part, cylinder, unit, before, after, ties, rules, theirs):
    """One value before and after: the result's row, its outcome, its gain."""
    low, high, better, rule, by, percent = rules
    diff, share = difference(before, after, ties), relative(before, after, unit, ties)
    gain = gain_of(before, after, better, low, high) if better else None
    of_gain = Estimate(gain, ties.parts(before, after, weights_of(before, after, better, low, high)))
    improvement = None
    if by is not None:  # a lower limit on the gain
        improvement = standing(Estimate(gain, diff.parts), by, None, rule, theirs.get("improvement"))
    elif percent is not None and share is None:
        improvement = {"zone": None, "conformity": None}
    elif percent is not None:
        part_gain = Estimate(gain / abs(before.value), share.parts)
        improvement = standing(part_gain, F(percent) / 100, None, rule, theirs.get("improvement"))
    row = {
        "part": part, "cylinder": cylinder, "unit": unit, "min": low, "max": high, "baseline": before,
        "retest": after, "difference": diff, "relative": share, "improvement": improvement,
        "change": change_of(gain, of_gain.expanded(), theirs.get("change")),
        "common_error": ties.common and {key: ties.common[key] for key in ("instrument", "reason")},
        "signed_rank": ties.pairs and signed_rank(ties.pairs), "as_measured": None,
        "before": standing(before, low, high, rule, theirs.get("before")),
        "after": standing(after, low, high, rule, theirs.get("after")),
    }
    at_limit = worst([outcome_of(row["after"]["zone"], rule)] if row["after"] else [])
    at_gain = []
    if improvement:
        # A change that cannot be told from none never meets a required improvement.
        seen = {"improved": "not-judged", "worsened": "fail"}.get(row["change"], "undecided")
        at_gain = [outcome_of(improvement["zone"], rule), seen]
    if row["change"] == "worsened" and improvement:
        at_gain = ["fail"]
    return row, worst([at_limit] + at_gain), of_gain, at_limit


def balance(cylinders):
    """The cylinders of a run against each other."""
    values = [e.value for e in cylinders.values()]
    middle = statistics.median(values)
    off = {c: abs(e.value - middle) for c, e in cylinders.items()}
    # Modified z; where half of them agree and the MAD is 0, by the mean deviation.
    mad, mean_off = statistics.median(off.values()), sum(off.values()) / len(off)
    scale = mad / F("0.6745") or mean_off * F("1.253314")
    return {"mean": sum(values) / len(values), "spread": max(values) - min(values),
            "outliers": [c for c in off if off[c] > F("3.5") * scale]}


def smoke_pairs(measure, before, after, rule, tools):
    """What both runs have of opacity, absorption coefficient and time until clear."""
    runs, pairs = (before, after), []
    path, paths = measure.get("path_length_mm"), [run.get("path_length_mm") for run in (before, after)]
    row = lambda run: {"values": run["snaps_percent"]} if "snaps_percent" in run else {"value": run.get("opacity_percent")}
    if all("opacity_percent" in run or "snaps_percent" in run for run in runs):
        tables = [{"unit": "%", "instrument": run["instrument"]} for run in runs]
        read = [estimate(table, row(run), "%", tools) for table, run in zip(tables, runs)]
        common = common_error(tables, [row(run) for run in runs], "%", tools)

        def worked(figures, slopes):
            """Estimates and ties of figures worked out of both readings, to first order."""
            done = [Estimate(v, [(s, abs(m) * u, nu) for s, u, nu in e.parts]) for v, m, e in zip(figures, slopes, read)]
            errors = common and [(s, b * slopes[0], a * slopes[1]) for s, b, a in common["errors"]]
            return *done, Ties(common and common | {"errors": errors})

        light = [1 - float(e.value) / 100 for e in read]  # what passes through the smoke
        opacity = (*read, Ties(common))
        if path:  # as it would be over the stated path
            power = [float(path / own) for own in paths]
            over = [e.value if own == path else 100 * (1 - t ** n) for e, own, t, n in zip(read, paths, light, power)]
            opacity = worked(over, [n * t ** (n - 1) for t, n in zip(light, power)])
        if path or None in paths or paths[0] == paths[1]:
            measured = [e.value for e in read] != [e.value for e in opacity[:2]]
            pairs.append(["opacity", None, "%", *opacity, [None, measure.get("max_opacity_percent"), "lower", rule, None, None],
                          {"baseline": read[0], "retest": read[1]} if measured else None])
        if None not in paths:
            metres = [float(own) / 1000 for own in paths]
            k = worked([-math.log(t) / m for t, m in zip(light, metres)], [0.01 / (m * t) for t, m in zip(light, metres)])
            pairs.append(["absorption", None, "m⁻¹", *k, [None, measure.get("max_absorption"), "lower", rule, None, None], None])
    if all("clear_seconds" in run for run in runs):
        # Without a watch the time counts as taken by hand.
        tools = tools | {None: {"unit": "s", "hand_timed": True}}
        tables = [{"unit": "s", "instrument": run.get("timer")} for run in runs]
        rows = [{"value": run["clear_seconds"]} for run in runs]
        read = [estimate(table, row, "s", tools) for table, row in zip(tables, rows)]
        pairs.append(["clear", None, "s", *read, Ties(common_error(tables, rows, "s", tools)),
                      [None, measure.get("max_clear_seconds"), "lower", rule, None, None], None])
    return pairs


def judge_values(measure, before, after, rule, tools, theirs):
    """Kinds `value`, `cylinders` and `smoke`."""
    rules = [measure.get("min"), measure.get("max"), better_of(measure), rule,
             measure.get("improve_by"), measure.get("improve_percent")]
    scales, pairs, unit, runs = None, [], measure.get("unit"), (before, after)
    # pairs: part, cylinder, unit, baseline, retest, ties, rules, as measured
    if measure["kind"] == "smoke":
        pairs = smoke_pairs(measure, before, after, rule, tools)
    elif measure["kind"] == "value":
        repeats = None
        if measure.get("paired"):
            repeats = [[convert(v, run["unit"], unit) for v in run["values"]] for run in runs]
        ties = Ties(common_error(runs, runs, unit, tools), repeats)
        pairs.append(["value", None, unit, *(estimate(run, run, unit, tools) for run in runs), ties, rules, None])
    else:
        rows = [{row["cylinder"]: row for row in run["rows"]} for run in runs]
        read = [{c: estimate(run, row, unit, tools) for c, row in table.items()} for run, table in zip(runs, rows)]
        scales = {"baseline": balance(read[0]), "retest": balance(read[1])}
        for c in read[0]:
            ties = Ties(common_error(runs, [table[c] for table in rows], unit, tools))
            pairs.append(["cylinder", c, unit, read[0][c], read[1][c], ties, rules, None])
    claimed = theirs.get("values", []) + [{}] * len(pairs)
    done = [compare(*pair, t) for (*pair, _), t in zip(pairs, claimed)]
    for (row, *_), (*_, as_measured) in zip(done, pairs):
        row["as_measured"] = as_measured
    # Many looks at once: the claim for the whole is made at a Bonferroni level. Opacity
    # and absorption coefficient are one look.
    parts = {row["part"] for row, *_ in done}
    looks = len(done) if scales else 2 if len(parts - {"absorption"} if "opacity" in parts else parts) > 1 else 1
    changes = [change_of(gain.value, gain.expanded(1 - 0.05 / looks), theirs.get("change") if looks == 1 else None)
               for _, _, gain, _ in done]
    before_ = [outcome_of(row["before"]["zone"], rule) if row["before"] else "not-judged" for row, *_ in done]
    steady = [row["common_error"] and not {"repeatability", "hand-timing"} & {s for s, *_ in row["difference"].parts}
              for row, *_ in done]
    return {"values": [row for row, *_ in done], "balance": scales, "change": overall(changes + [None]),
            "outcome": worst(outcome for _, outcome, _, _ in done), "was": worst(before_), "steady": any(steady),
            "at_limit": worst(at_limit for *_, at_limit in done)}


def clopper_pearson(passes, tries):
    low = special.betaincinv(passes, tries - passes + 1, 0.025) if passes else 0.0
    high = special.betaincinv(passes + 1, tries - passes, 0.975) if passes < tries else 1.0
    return [float(low), float(high)]


def fisher(a, n, b, m):
    """Two-sided: all tables with these margins that are no more probable (exact)."""
    range_ = range(max(0, a + b - m), min(n, a + b) + 1)
    ways = {k: math.comb(n, k) * math.comb(m, a + b - k) for k in range_}
    return F(sum(w for w in ways.values() if w <= ways[a]), sum(ways.values()))


def by_p(p, better):
    return "no-detectable-change" if p >= F("0.05") else "improved" if better else "worsened"


def judge_counts(measure, before, after):
    """Kinds `passes` and `cylinder-passes`."""
    before, after = ({row.get("cylinder"): (row["passes"], row["tries"]) for row in run.get("rows", [run])}
                     for run in (before, after))
    counts = []
    for cylinder, (a, n) in before.items():
        b, m = after[cylinder]
        p, limit = fisher(a, n, b, m), measure.get("min_passes")
        counts.append({
            "cylinder": cylinder, "baseline": [a, n], "retest": [b, m], "p": p,
            "smallest_p": fisher(0, n, m, m), "change": by_p(p, F(b, m) > F(a, n)),
            "baseline_interval": clopper_pearson(a, n), "retest_interval": clopper_pearson(b, m),
            "outcome": "not-judged" if limit is None else "pass" if b >= limit else "fail",
        })
    change, paired = counts[0]["change"], None
    if measure["kind"] == "cylinder-passes":
        # McNemar: the cylinders that turned, against an even chance for either way. A
        # cylinder passes if it meets the limit; without a limit, if every try passed.
        good = lambda count: count[0] >= measure.get("min_passes", count[1])
        turned = [(good(c["baseline"]), good(c["retest"])) for c in counts]
        gained, lost = turned.count((False, True)), turned.count((True, False))
        tail = sum(math.comb(gained + lost, k) for k in range(min(gained, lost) + 1))
        p = min(F(1), F(2 * tail, 2 ** (gained + lost)))
        # Besides, a cylinder that changed plainly by itself, at a Bonferroni level.
        change = by_p(p, gained > lost)
        alone = [c["change"] for c in counts if c["p"] < F("0.05") / len(counts)]
        change = overall([change] + alone)
        paired = {"gained": gained, "lost": lost, "p": p, "change": change,
                  "smallest_p": min(F(1), F(2, 2 ** len(counts)))}
    was = worst("not-judged" if limit is None else "pass" if c["baseline"][0] >= limit else "fail" for c in counts)
    return {"counts": counts, "paired": paired, "change": change, "was": was,
            "outcome": worst(c["outcome"] for c in counts)}


# --- The job ---


def judge_measure(job, measure, theirs):
    before, after = (job[run]["reading"][measure["id"]] for run in ("baseline", "retest"))
    found = {"id": measure["id"], "required": measure.get("required", False), "values": [], "counts": [],
             "balance": None, "paired": None, "change": None, "outcome": "not-judged", "was": "not-judged",
             "steady": False}
    if "passes" in measure["kind"]:
        found |= judge_counts(measure, before, after)
    elif measure["kind"] != "text":
        found |= judge_values(measure, before, after, job["rule"], job["tools"], theirs)
    return found


def judge_condition(job, condition, theirs):
    runs = [job[run].get("condition", {}).get(condition["id"]) for run in ("baseline", "retest")]
    state, diff, unit, helped = "unknown", None, condition.get("unit"), False
    if all(runs) and unit is None:
        words = {run["text"].strip().casefold() for run in runs}
        state = "matched" if len(words) == 1 else "unknown"
    elif all(runs):
        diff = difference(*(estimate(run, run, unit, job["tools"]) for run in runs))
        size, allowed = abs(diff.value), condition["window"]
        off = "unknown"  # no direction was given: nobody can say which way it is easier
        if "harder" in condition:
            off = "harder" if (diff.value < 0) == (condition["harder"] == "lower") else "easier"
        if off == "harder" and diff.expanded() > size + allowed:
            off = "unknown"  # it may as well have been easier by more than the window
        # Uncertainty never widens the window; too much of it leaves nothing to say.
        alike = "matched" if diff.expanded() <= allowed else "unknown"
        state = alike if size <= allowed else off
        edges = {alike, off} if abs(size - allowed) <= NEAR * size else {state}
        if abs(diff.expanded() - allowed) <= NEAR * allowed and size <= allowed * (1 + NEAR):
            edges |= {"matched", "unknown"}
        state = tie(state, edges, theirs.get("state"))
        easier = {"lower": diff.value, "higher": -diff.value}.get(condition.get("harder"), 0)
        helped = state == "matched" and easier > diff.expanded()
    return {"id": condition["id"], "required": condition.get("required", False), "state": state,
            "difference": diff, "unit": STEP_OF.get(unit, unit), "helped": helped}


COLD, SOAK = 7, 8  # kelvins above ambient, hours


def warm_at(job, run):
    """The parts that were no longer cold, where the job asks for a cold machine."""
    asked = {c["id"]: c for c in job["limits"].get("condition", [])}
    found = job[run].get("condition", {})
    if "soak" not in asked or "ambient" not in found:
        return []
    celsius = lambda reading: estimate(reading, reading, "°C", job["tools"])
    above = {c: difference(celsius(found["ambient"]), celsius(found[c])) for c in ("coolant", "oil") if c in found}
    return [c for c, over in above.items() if over.value > COLD + over.expanded()]


def used(run):
    tables = [*run["reading"].values(), *run.get("condition", {}).values()]
    return {table.get(key) for table in tables for key in ("instrument", "timer")}


def reservations(job, measures, conditions):
    """What a reader should keep in mind, as (what, about, day)."""
    said = [("uncertainty-not-counted",)] if job["rule"] == "simple" else []
    for m in measures:
        if m["required"] and m["outcome"] == "pass-with-reservation":
            said.append(("narrow-pass", m["id"]))
        if not m["required"]:
            said += [("other-outside", m["id"])] if m["outcome"] == "fail" else []
            said += [("other-worse", m["id"])] if m["change"] == "worsened" else []
        said += [("scatter-not-known", m["id"])] if m["steady"] else []
    needed = [m for m in measures if m["required"]]
    if needed and not any(m["change"] == "improved" or m["was"] in ("fail", "undecided") for m in needed):
        said.append(("fault-not-shown",))
    said += [("other-condition", c["id"]) for c in conditions if not c["required"] and c["state"] in ("easier", "unknown")]
    said += [("condition-helped", c["id"]) for c in conditions if c["helped"]]
    said += [] if conditions else [("no-conditions",)]
    runs = [job["baseline"], job["retest"]]
    turned = {c["id"] for c in job["limits"].get("condition", []) if SORT.get(c.get("unit")) in ("voltage", "rotation")}
    recorded = turned & set(runs[0].get("condition", {})) & set(runs[1].get("condition", {}))
    tests = {m["id"]: m.get("test") for m in job["limits"]["measure"]}
    if not recorded and not {"cranking-speed", "cranking-voltage"} & set(tests.values()):
        said += [("battery-not-recorded", m) for m, test in tests.items() if test == "cranking-time"]
    required = {c["id"] for c in conditions if c["required"]}
    said += [("baseline-not-cold", c) for c in warm_at(job, "baseline")]
    said += [("retest-not-cold", c) for c in warm_at(job, "retest") if c not in required]
    soak = job["retest"].get("condition", {}).get("soak")
    if soak and convert(soak["value"], soak["unit"], "h") < SOAK:
        said.append(("short-soak",))
    for tool in job["tools"].values():
        days = [run["started"].date() for run in runs if tool["id"] in used(run)]
        if "due" in tool and any(day > tool["due"] for day in days):
            said.append(("calibration-overdue", tool["id"], tool["due"].isoformat()))
        if "calibrated" in tool and any(day < tool["calibrated"] for day in days):
            said.append(("calibrated-later", tool["id"]))
    if all("meter" in run for run in runs):
        before, after = (convert(run["meter"]["value"], run["meter"]["unit"], "h") for run in runs)
        said += [("meter-backwards",)] if after < before else []
    return sorted(((*s, None, None)[:3] for s in said), key=str)


def judge(job, theirs):
    def each(tables, key, do):
        return [do(job, table, t) for table, t in itertools.zip_longest(tables, theirs[key], fillvalue={})]

    measures = each(job["limits"]["measure"], "measures", judge_measure)
    conditions = each(job["limits"].get("condition", []), "conditions", judge_condition)
    needed = [m for m in measures if m["required"]]
    unlike = [c for c in conditions if c["required"] and c["state"] in ("easier", "unknown")]
    at_limit = lambda m: m.get("at_limit", m["outcome"])
    fails = [("fails" if at_limit(m) == "fail" else "improvement-absent", m["id"]) for m in needed if m["outcome"] == "fail"]
    open_ = [m for m in needed if m["outcome"] == "undecided"]
    doubts = [("too-near-to-tell" if at_limit(m) == "undecided" else "no-improvement-shown", m["id"]) for m in open_]
    doubts += [("got-worse", m["id"]) for m in needed if m["change"] == "worsened"]
    doubts += [(f"condition-{c['state']}", c["id"]) for c in unlike]
    warm = set(warm_at(job, "retest")) & {c["id"] for c in conditions if c["required"]}
    doubts += [("not-cold", c) for c in warm]
    doubts += [] if needed else [("nothing-required", None)]
    said = reservations(job, measures, conditions)
    for found in (*measures, *conditions):
        for key in ("at_limit", "was", "steady", "helped"):
            found.pop(key, None)  # no keys of the result
    return {
        "decision_rule": job["rule"], "measures": measures, "conditions": conditions, "fair_conditions": not unlike,
        "verdict": "not-verified" if fails else "undecided" if doubts else "verified",
        "reasons": sorted(fails + doubts or [("all-required-pass", None)], key=str), "reservations": said,
    }


# --- Random jobs ---


def toml(value):
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{key} = {toml(v)}" for key, v in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(map(toml, value)) + "]"
    if isinstance(value, datetime.date):
        return value.isoformat()
    return repr(float(value)) if isinstance(value, float) else json.dumps(value, ensure_ascii=False)


def as_read(value):
    """What a reader of the file will find: exact decimals."""
    return tomllib.loads(f"x = {toml(value)}", parse_float=F)["x"]


def digits(x, n=4):
    return float(f"{x:.{n}g}")


class Maker:
    """One random job; every choice comes from one seed."""

    def __init__(self, seed):
        self.random = np.random.default_rng(seed)
        self.tools = []

    def some(self, p):
        return self.random.random() < p

    def pick(self, *options):
        return options[self.random.integers(len(options))]

    def size(self, low, high):
        return float(10 ** self.random.uniform(low, high))

    def edge(self):
        """A multiple of U: at an edge of a zone, just beside it, or anywhere."""
        beside = 1e-6 * self.pick(-1, 1)
        return self.pick(0, 0, 0, 1, -1, 1 + beside, -1 + beside, beside, 1.3, *self.random.uniform(-4, 4, 3))

    def unit_like(self, unit, p):
        return self.pick(*UNITS[SORT[unit]]) if self.some(p) else unit

    def estimate(self, table, row, unit):
        return estimate(as_read(table), as_read(row), unit, {t["id"]: as_read(t) for t in self.tools})

    def tool(self, unit, size):
        """The id of an instrument for figures of about this size."""
        own = self.unit_like(STEP_OF.get(unit, unit), 0.4)
        step = (abs(size) + 1e-3) * float(FACTOR[unit] / FACTOR[own])
        table = {"id": f"tool-{len(self.tools)}", "kind": "Meter", "unit": own}
        for key, p in (("accuracy", 0.6), ("uncertainty", 0.2), ("resolution", 0.5)):
            if self.some(p):
                table[key] = digits(step * self.size(-3.5, -1), 2)
        if self.some(0.35) or len(table) == 3:
            table["accuracy_percent"] = digits(self.size(-1.5, 0.6), 2)
        if "uncertainty" in table and self.some(0.5):
            table["k"] = self.pick(1, 1.96, 3)
        if SORT[unit] == "time" and self.some(0.5):
            table["hand_timed"] = True
            if self.some(0.4):
                table["hand_timing_seconds"] = digits(self.size(-2, 0), 2)
        days = {key: datetime.date.fromisoformat(self.pick(*days)) for key, days in
                (("calibrated", ("2025-09-01", "2026-03-02", "2026-03-04")),
                 ("due", ("2026-03-04", "2026-03-05", "2027-03-01"))) if self.some(0.15)}
        table |= days
        between = table.get("calibrated") == datetime.date(2026, 3, 4)
        if {"accuracy", "accuracy_percent", "uncertainty"} & set(table) and not between and self.some(0.4):
            table["common_error"] = "Same meter, left in place"
        self.tools.append(table)
        return table["id"]

    def levels(self, unit):
        """What is found before and after, about."""
        before = self.random.uniform(-30, 120)
        if SORT[unit] != "temperature":
            before = self.size(-1, 3) * (-1 if self.some(0.2) else 1)
        ratio = self.pick(1, 0, self.random.uniform(0.97, 1.03), *self.random.uniform(0.2, 1.8, 3), -0.3, 3)
        return digits(before), digits(before * ratio)

    def values(self, level, unit, shown, n=None):
        """`value` or `values` about a level in `unit`, as written in the unit shown."""
        level = float(convert(F(level), unit, shown))
        n = n or self.pick(1, 1, 2, 3, 3, 5, 10)
        spread = (abs(level) + (1 if SORT[unit] == "temperature" else 1e-3)) * self.pick(0, 1e-3, 1e-2, 0.1)
        values = [digits(level + spread * z, 5) for z in self.random.standard_normal(n)]
        return {"values": values} if n > 1 or self.some(0.2) else {"value": values[0]}

    def reading(self, unit, cylinders, pairs):
        """A pair of readings by value or by cylinder; of `pairs` repeats, if any."""
        levels, tables = self.levels(unit), []
        tool = self.tool(unit, levels[0]) if self.some(0.85) else None
        stated = (abs(levels[0]) + 0.1) * self.size(-3, -1) if not tool or self.some(0.2) else None
        for level in levels:
            table = {"unit": self.unit_like(unit, 0.25)} | ({"instrument": tool} if tool else {})
            if stated and not (tool and self.some(0.2)):
                table["uncertainty"] = digits(stated * float(FACTOR[unit] / FACTOR[table["unit"]]), 2)
                table |= {"k": self.pick(1, 1.96, 2.5)} if self.some(0.5) else {}
            if cylinders:
                rows = [self.values(level * self.pick(1, 1, 1, 1.5, *self.random.uniform(0.9, 1.1, 4)), unit,
                                    table["unit"]) for _ in range(cylinders)]
                table["rows"] = [{"cylinder": c} | row for c, row in enumerate(rows, 1)]
            else:
                table |= self.values(level, unit, table["unit"], pairs)
            tables.append(table)
        before, after = tables
        if tool and self.some(0.15):
            after["instrument"] = self.tool(unit, levels[1])
        if pairs and self.some(0.5):  # ties and zeros among the differences
            after["unit"], digit = before["unit"], int(self.pick(1, 2, 3))
            for table in tables:
                table["values"] = [digits(v, digit) for v in table["values"]]
        if self.some(0.2) and "values" in before and before["unit"] == after["unit"]:
            # The same scatter twice: whole degrees of freedom, which floats can miss.
            after.pop("value", None)
            after["values"] = [round(v + levels[1] - levels[0], 6) for v in before["values"]]
        return tables

    def limits(self, measure, before, after, unit):
        """Bounds and required improvements, many at the edges of their zones."""
        at = self.random.integers(len(after.get("rows", [0])))
        rows = [run.get("rows", [run] * 8)[at] for run in (before, after)]
        b, a = (self.estimate(run, row, unit) for run, row in zip((before, after), rows))
        tools = {t["id"]: as_read(t) for t in self.tools}
        ties = Ties(common_error([as_read(before), as_read(after)], [as_read(row) for row in rows], unit, tools))
        if measure.get("paired"):
            ties.pairs = [[convert(v, run["unit"], unit) for v in as_read(run)["values"]] for run in (before, after)]
        place = lambda est: float(est.value) + self.edge() * (est.expanded() or 0.1)
        for key in self.pick((), ("max",), ("min",), ("min", "max"), ("min", "max")):
            measure[key] = max(-200.0, place(a))
        if "min" in measure and "max" in measure:
            other = self.pick("min", "max")
            apart = a.expanded() * self.size(-1, 1) + self.size(-3, 0)
            measure[other] = max(-200.0, measure["max"] - apart) if other == "min" else measure["min"] + apart
        if self.some(0.5):
            ways = [way for way, key in (("lower", "max"), ("higher", "min"))
                    if key in measure or not {"min", "max"} & set(measure)]
            measure["better"] = self.pick(*ways, *["inside"] * ("min" in measure and "max" in measure))
        if self.some(0.4) and better_of(measure) in ("lower", "higher"):
            sign = 1 if better_of(measure) == "higher" else -1
            share = relative(b, a, unit, ties)
            if share and self.some(0.5):
                measure["improve_percent"] = min(99.0, max(1e-3, 100 * place(Estimate(sign * share.value, share.parts))))
            else:
                diff = difference(b, a, ties)
                measure["improve_by"] = max(1e-6, place(Estimate(sign * diff.value, diff.parts)))

    def tries(self, share, n):
        passes = self.pick(0, n, self.random.integers(n + 1)) if share is None else share * n
        return {"passes": int(passes), "tries": n}

    def smoke(self, measure):
        """A pair of smoke readings, and limits for what they have."""
        runs = [{"colour": "grey"}, {"colour": "grey"}]
        if self.some(0.75):
            paths = self.pick([None] * 2, [430.0] * 2, [430.0, 127.0], [76.2, 200.0])
            tool = self.tool("%", 20)
            for run, path in zip(runs, paths):
                level = round(self.random.uniform(0, 90), 1)
                if self.some(0.5):  # three accelerations, the highest 5 % above the lowest at most
                    run["snaps_percent"] = [round(level + x, 1) for x in (0.0, self.pick(5.0, 0.0, 2.4), self.pick(0.0, 1.7))]
                else:
                    run["opacity_percent"] = level
                run |= {"instrument": tool} | ({"path_length_mm": path} if path else {})
            near = float(np.mean(runs[1].get("snaps_percent", runs[1].get("opacity_percent"))))
            if paths[0] and self.some(0.5):
                measure["path_length_mm"] = self.pick(430.0, paths[0], paths[1], 127.0)
                # About what the retest is over that path.
                near = 100 * (1 - (1 - near / 100) ** (measure["path_length_mm"] / paths[1]))
            if "path_length_mm" in measure or (paths[0] == paths[1] and self.some(0.7)):
                measure["max_opacity_percent"] = self.pick(digits(near), 20.0, min(100.0, round(near + 0.15, 2)))
            if paths[0] and self.some(0.5):
                measure["max_absorption"] = self.pick(0.5, 1.0, 2.5)
        if self.some(0.7):
            used = {"timer": self.tool("s", 20)} if self.some(0.5) else {}
            for run in runs:
                run |= {"clear_seconds": round(self.random.uniform(0, 60), 1)} | used
            if self.some(0.7):
                measure["max_clear_seconds"] = self.pick(runs[1]["clear_seconds"], 20.0)
        return runs

    def measure(self, index, cylinders):
        kind = self.pick("value", "value", "value", "cylinders", "passes", "cylinder-passes", "smoke", "text")
        measure = {"id": f"m{index}", "name": f"Measure {index}", "kind": kind}
        if self.some(0.3):
            measure["test"] = self.pick("cranking-time", "cranking-time", "cranking-speed", "cranking-voltage",
                                        "running-contribution", "voltage-drop")
        plain = len(measure)
        if kind in ("value", "cylinders"):
            unit = self.pick(*UNITS[self.pick("temperature", "time", *UNITS)])
            pairs = self.pick(2, 3, 4, 5, 6, 8, 10) if kind == "value" and self.some(0.4) else None
            runs = self.reading(unit, cylinders if kind == "cylinders" else 0, pairs)
            if pairs:
                measure["paired"] = True
            self.limits(measure, *runs, unit)
        elif "passes" in kind:
            shares = self.pick([None, None], [None, None], [0, 1], [1, 0])  # of the tries; None: any
            # As many tries in both runs.
            n = [int(self.pick(1, 2, 3, 5, 10, 19, 20)) for _ in range(max(cylinders, 1))]
            runs = [self.tries(share, n[0]) if kind == "passes" else
                    {"rows": [{"cylinder": c} | self.tries(share, n[c - 1]) for c in range(1, cylinders + 1)]}
                    for share in shares]
            if self.some(0.7):
                most = min(r["tries"] for run in runs for r in run.get("rows", [run]))
                measure["min_passes"] = int(self.random.integers(1, most + 1))
        elif kind == "smoke":
            runs = self.smoke(measure)
        else:
            runs = [{"text": "Knocks"}, {"text": "Quiet"}]
        if len(measure) > plain + ("better" in measure) + ("paired" in measure):
            measure |= {"source": "Agreed", "required": self.some(0.7)}
        return measure | ({"unit": unit} if kind in ("value", "cylinders") else {}), runs

    def condition(self, name):
        condition = {"id": name, "name": f"Condition {name}", "required": self.some(0.6)}
        if name[1:].isdigit() and self.some(0.25):
            return condition, [{"text": text} for text in ("winter fuel", self.pick("Winter fuel", "summer fuel"))]
        unit = "h" if name == "soak" else self.pick("°C", "°F") if not name[1:].isdigit() else self.pick("°C", "°F", "h", "V", "%", "rpm")
        levels, runs = self.levels(unit), []
        if name == "soak":
            levels = [self.pick(7.9, 8.0, 12.5, 30.0) for _ in levels]
        elif not name[1:].isdigit():  # temperatures of a cold machine, or of one nearly cold
            above = self.pick(0.0, 3.0, 6.9, 7.0, 7.1, 9.0, 30.0) if name != "ambient" else 0.0
            levels = [float(convert(F(5) + F(above) + F(self.pick(0, 0, 1)), "°C", unit)) for _ in levels]
        tool = self.tool(unit, levels[0]) if self.some(0.7) else None
        for level in levels:
            shown = self.unit_like(unit, 0.2)
            run = {"value": digits(float(convert(F(level), unit, shown)), 5), "unit": shown}
            runs.append(run | ({"instrument": tool} if tool and self.some(0.9) else {}))
        diff = difference(*(self.estimate(run, run, unit) for run in runs))
        window = abs(float(diff.value)) * self.pick(1, 1 + 1e-6, 1 - 1e-6, 0.5, 2) + diff.expanded() * self.pick(0, 0, 1)
        harder = self.pick({"harder": "lower"}, {"harder": "higher"}, {})
        return condition | {"unit": unit, "window": max(0.0, window)} | harder, runs

    def write(self, folder):
        cylinders = int(self.random.integers(1, 9))
        measures = [self.measure(i, cylinders) for i in range(self.random.integers(1, 6))]
        names = [f"c{i}" for i in range(self.random.integers(0, 4))]
        if self.some(0.3):
            names += [name for name in ("ambient", "coolant", "oil", "soak") if self.some(0.8)]
        conditions = [self.condition(name) for name in names]
        rule = self.pick({}, *({"decision_rule": rule} for rule in ("simple", "guarded", "four-zone")))
        files = {
            "shop": {"name": "Invented Bench"},
            "job": {"job": "R-1", "complaint": "Random.", "customer": {"name": "Nobody"},
                    "machine": {"name": "Engine", "cylinders": cylinders}, "instrument": self.tools},
            "limits": rule | {"measure": [m for m, _ in measures], "condition": [c for c, _ in conditions]},
            "work": {"by": "T. Orrell", "intervention": [{"what": "Cleaned"}]},
        }
        meter = self.some(0.4)
        for i, name in enumerate(("baseline", "retest")):
            files[name] = {"by": "T. Orrell", "reading": {m["id"]: runs[i] for m, runs in measures},
                           "condition": {c["id"]: runs[i] for c, runs in conditions if not self.some(0.05)}}
            if meter:
                files[name]["meter"] = {"value": self.pick(1000.0, 1200.5, 72000.0), "unit": self.pick("h", "min")}
        dates = {"baseline": "started = 2026-03-03T06:00:00Z\n", "retest": "started = 2026-03-05T06:00:00Z\n",
                 "work": "started = 2026-03-04T06:00:00Z\nfinished = 2026-03-04T09:00:00Z\n"}
        folder.mkdir(parents=True)
        for name, table in files.items():
            text = "format = 1\n" + dates.get(name, "") + "".join(f"{k} = {toml(v)}\n" for k, v in table.items())
            (folder / f"{name}.toml").write_text(text, encoding="utf-8")


# --- Comparison ---

EXIT = {"verified": 0, "not-verified": 1, "undecided": 3}


def differences(path, theirs, ours, scale=1.0):
    """Every disagreement as (path, theirs, ours); what we do not judge is passed over."""
    if isinstance(ours, Estimate):
        parts = [{"source": s, "u": u, "dof": nu} for s, u, nu in ours.parts]
        ours = {"value": ours.value, "u": ours.u, "dof": ours.dof, "expanded": ours.expanded(), "components": parts}
    ours = None if ours == math.inf else ours
    if isinstance(ours, dict) and isinstance(theirs, dict):
        if isinstance(ours.get("baseline"), Estimate):
            # A difference keeps the rounding of the greater figure.
            scale = max(scale, *(abs(float(ours[run].value)) for run in ("baseline", "retest")))
        for key, value in ours.items():
            pure = key in ("relative", "dof", "conformity")  # a number without a unit
            yield from differences(f"{path}.{key}", theirs.get(key), value, 1.0 if pure else scale)
    elif isinstance(ours, list) and isinstance(theirs, list):
        if path.endswith(".components"):
            by_name = lambda part: (part["source"], part["u"])
            # A percentage of 0 °C, reckoned by way of kelvins, is not quite nothing.
            ours, theirs = (sorted((part for part in parts if not 0 < part["u"] < 1e-12 * scale), key=by_name)
                            for parts in (ours, theirs))
        if len(ours) != len(theirs):
            yield f"{path}.length", len(theirs), len(ours)
        for i, (t, o) in enumerate(zip(theirs, ours)):
            yield from differences(f"{path}[{i}]", t, o, scale)
    elif isinstance(ours, (float, F)) and isinstance(theirs, (int, float)):
        # Of degrees of freedom the inverse counts: a billion is as good as any more.
        t, o = (1 / theirs, 1 / ours) if path.endswith(".dof") else (theirs, float(ours))
        if not abs(t - o) <= 1e-9 * abs(o) + 1e-12 * scale:
            yield path, theirs, float(ours)
    elif theirs != ours:
        yield path, theirs, float(ours) if isinstance(ours, F) else ours


def load(folder):
    job = {name: tomllib.loads((folder / f"{name}.toml").read_text("utf-8"), parse_float=F)
           for name in ("job", "limits", "baseline", "retest")}
    tools = {tool["id"]: tool for tool in job["job"].get("instrument", [])}
    return job | {"tools": tools, "rule": job["limits"].get("decision_rule", "four-zone")}


def check(program, folder):
    """The disagreements about one folder."""
    try:
        done = subprocess.run([program, "check", "--json", folder], capture_output=True, text=True, timeout=30)
    except subprocess.TimeoutExpired:
        return [("(program)", "no answer in 30 s", "a result")]
    if done.returncode not in EXIT.values():
        return [("(program)", f"exit {done.returncode}: {done.stderr.strip()}", "a result")]
    theirs = json.loads(done.stdout)
    ours = judge(load(folder), theirs)
    theirs["reservations"] = sorted(((r["what"], r["about"], r["day"]) for r in theirs["reservations"]), key=str)
    theirs["reasons"] = sorted(((r["what"], r["about"]) for r in theirs["reasons"]), key=str)
    ours["(exit code)"], theirs["(exit code)"] = EXIT[ours["verdict"]], done.returncode
    return list(differences("", theirs, ours))


def main():
    parser = argparse.ArgumentParser(description=__doc__.split("\n\n")[0])
    parser.add_argument("program")
    parser.add_argument("--jobs", type=int, default=500)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--keep", type=Path, help="leave the folders here")
    args = parser.parse_args()
    began, failed = time.monotonic(), 0
    with tempfile.TemporaryDirectory() as scratch, ThreadPoolExecutor() as pool:
        def one(seed):
            folder = (args.keep or Path(scratch)) / str(seed)
            Maker(seed).write(folder)
            return check(args.program, folder)

        seeds = range(args.seed, args.seed + args.jobs)
        for seed, found in zip(seeds, pool.map(one, seeds)):
            failed += bool(found)
            for path, theirs, ours in found:
                print(f"job {seed}  {path.lstrip('.')}  theirs {theirs}  ours {ours}")
    print(f"{time.monotonic() - began:.1f} s", file=sys.stderr)
    print(f"{args.jobs - failed} passed, {failed} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
