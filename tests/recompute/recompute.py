#!/usr/bin/env python3
"""Independent recomputation of the judgement.

    recompute.py PROGRAM [--jobs N] [--seed S] [--keep FOLDER]

Makes random job folders, lets PROGRAM judge each (`check --json`), judges the same
files again, and prints every disagreement. Needs Python 3.11, numpy and scipy.
Written from the description of the job folder and of the rules, not from the
program's code: JCGM 100:2008 (uncertainty), ILAC-G8:09/2019, 4.2.3 (zones), NIST
SP 811, appendix B (unit factors), Clopper and Pearson (interval of a share), Fisher
and McNemar (exact tests), Iglewicz and Hoaglin (outliers).

Every figure of a file is kept as the exact decimal that was written (Fraction), so
that "exactly at the limit" means just that; square roots and quantiles are floats.
"""

import argparse
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


def instrument_parts(tool, value, unit, to, n):
    """What an instrument's table adds to the mean of n values, in the unit `to`."""
    if SORT[unit] == "temperature":  # a percentage is of the figure that the scale shows
        shown = convert(value, unit, "°F" if "F" in tool["unit"] else "°C")
    else:
        shown = convert(value, unit, tool["unit"])
    half = tool.get("accuracy", 0) + F(tool.get("accuracy_percent", 0)) / 100 * abs(shown)
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


def difference(before, after):
    return Estimate(after.value - before.value, before.parts + after.parts)


def relative(before, after, unit):
    """The difference as a share of the baseline's size, where that has a meaning."""
    b, a = before.value, after.value
    if SORT[unit] == "temperature" or a * b < 0 or abs(b) <= before.expanded():
        return None
    parts = [(s, float(abs(a) / b**2) * u, nu) for s, u, nu in before.parts]
    return Estimate((a - b) / abs(b), parts + [(s, u / float(abs(b)), nu) for s, u, nu in after.parts])


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


def compare(part, cylinder, unit, before, after, rules, theirs):
    """One value before and after: the result's row, its outcome, its gain."""
    low, high, better, rule, by, percent = rules
    diff, share = difference(before, after), relative(before, after, unit)
    gain = gain_of(before, after, better, low, high) if better else None
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
        "change": change_of(gain, diff.expanded(), theirs.get("change")),
        "before": standing(before, low, high, rule, theirs.get("before")),
        "after": standing(after, low, high, rule, theirs.get("after")),
    }
    at_limit = worst([outcome_of(row["after"]["zone"], rule)] if row["after"] else [])
    of_gain = []
    if improvement:
        # A change that cannot be told from none never meets a required improvement.
        seen = {"improved": "not-judged", "worsened": "fail"}.get(row["change"], "undecided")
        of_gain = [outcome_of(improvement["zone"], rule), seen]
    if row["change"] == "worsened" and improvement:
        of_gain = ["fail"]
    return row, worst([at_limit] + of_gain), gain, at_limit


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


def judge_values(measure, before, after, rule, tools, theirs):
    """Kinds `value`, `cylinders` and `smoke`."""
    rules = [measure.get("min"), measure.get("max"), better_of(measure), rule,
             measure.get("improve_by"), measure.get("improve_percent")]
    scales, pairs = None, []  # pairs: part, cylinder, unit, baseline, retest, rules
    if measure["kind"] == "smoke":
        # Without a watch the time counts as taken by hand.
        tools = tools | {None: {"unit": "s", "hand_timed": True}}
        for part, key, unit, tool in (("opacity", "opacity_percent", "%", "instrument"),
                                      ("clear", "clear_seconds", "s", "timer")):
            if key in before and key in after:
                both = [estimate({"unit": unit, "instrument": run.get(tool)}, {"value": run[key]}, unit, tools)
                        for run in (before, after)]
                pairs.append([part, None, unit, *both, [None, measure.get(f"max_{key}"), "lower", rule, None, None]])
    elif measure["kind"] == "value":
        unit = measure["unit"]
        pairs.append(["value", None, unit, *(estimate(run, run, unit, tools) for run in (before, after)), rules])
    else:
        unit = measure["unit"]
        runs = [{row["cylinder"]: estimate(run, row, unit, tools) for row in run["rows"]} for run in (before, after)]
        scales = {"baseline": balance(runs[0]), "retest": balance(runs[1])}
        pairs += [["cylinder", c, unit, runs[0][c], runs[1][c], rules] for c in runs[0]]
    claimed = theirs.get("values", []) + [{}] * len(pairs)
    done = [compare(*pair, t) for pair, t in zip(pairs, claimed)]
    changes = [row["change"] for row, *_ in done]
    if scales:  # many looks at once: the claim for the whole at a Bonferroni level
        changes = [change_of(gain, row["difference"].expanded(1 - 0.05 / len(done))) for row, _, gain, _ in done]
    return {"values": [row for row, *_ in done], "balance": scales, "change": overall(changes + [None]),
            "outcome": worst(outcome for _, outcome, _, _ in done),
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
    return {"counts": counts, "paired": paired, "change": change, "outcome": worst(c["outcome"] for c in counts)}


# --- The job ---


def judge_measure(job, measure, theirs):
    before, after = (job[run]["reading"][measure["id"]] for run in ("baseline", "retest"))
    found = {"id": measure["id"], "required": measure.get("required", False), "values": [], "counts": [],
             "balance": None, "paired": None, "change": None, "outcome": "not-judged"}
    if "passes" in measure["kind"]:
        found |= judge_counts(measure, before, after)
    elif measure["kind"] != "text":
        found |= judge_values(measure, before, after, job["rule"], job["tools"], theirs)
    return found


def judge_condition(job, condition, theirs):
    runs = [job[run].get("condition", {}).get(condition["id"]) for run in ("baseline", "retest")]
    state, diff, unit = "unknown", None, condition.get("unit")
    if all(runs) and unit is None:
        words = {run["text"].strip().casefold() for run in runs}
        state = "matched" if len(words) == 1 else "unknown"
    elif all(runs):
        diff = difference(*(estimate(run, run, unit, job["tools"]) for run in runs))
        size, allowed = abs(diff.value), condition["window"]
        off = "unknown"  # no direction was given: nobody can say which way it is easier
        if "harder" in condition:
            off = "harder" if (diff.value < 0) == (condition["harder"] == "lower") else "easier"
        # Uncertainty never widens the window; too much of it leaves nothing to say.
        alike = "matched" if diff.expanded() <= allowed else "unknown"
        state = alike if size <= allowed else off
        edges = {alike, off} if abs(size - allowed) <= NEAR * size else {state}
        if abs(diff.expanded() - allowed) <= NEAR * allowed and size <= allowed * (1 + NEAR):
            edges |= {"matched", "unknown"}
        state = tie(state, edges, theirs.get("state"))
    return {"id": condition["id"], "required": condition.get("required", False), "state": state,
            "difference": diff, "unit": STEP_OF.get(unit, unit)}


def judge(job, theirs):
    def each(tables, key, do):
        return [do(job, table, t) for table, t in itertools.zip_longest(tables, theirs[key], fillvalue={})]

    measures = each(job["limits"]["measure"], "measures", judge_measure)
    conditions = each(job["limits"].get("condition", []), "conditions", judge_condition)
    needed = [m for m in measures if m["required"]]
    unlike = [c for c in conditions if c["required"] and c["state"] in ("easier", "unknown")]
    fails = [("fails", m["id"]) for m in needed if m["outcome"] == "fail"]
    open_ = [m for m in needed if m["outcome"] == "undecided"]
    at_limit = lambda m: m.get("at_limit", m["outcome"])
    doubts = [("too-near-to-tell" if at_limit(m) == "undecided" else "no-improvement-shown", m["id"]) for m in open_]
    doubts += [("got-worse", m["id"]) for m in needed if m["change"] == "worsened"]
    doubts += [(f"condition-{c['state']}", c["id"]) for c in unlike]
    doubts += [] if needed else [("nothing-required", None)]
    for measure in measures:
        measure.pop("at_limit", None)  # no key of the result
    return {
        "decision_rule": job["rule"], "measures": measures, "conditions": conditions, "fair_conditions": not unlike,
        "verdict": "not-verified" if fails else "undecided" if doubts else "verified",
        "reasons": sorted(fails + doubts or [("all-required-pass", None)], key=str),
    }


# --- Random jobs ---


def toml(value):
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{key} = {toml(v)}" for key, v in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(map(toml, value)) + "]"
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
        self.tools.append(table)
        return table["id"]

    def levels(self, unit):
        """What is found before and after, about."""
        before = self.random.uniform(-30, 120)
        if SORT[unit] != "temperature":
            before = self.size(-1, 3) * (-1 if self.some(0.2) else 1)
        ratio = self.pick(1, 0, self.random.uniform(0.97, 1.03), *self.random.uniform(0.2, 1.8, 3), -0.3, 3)
        return digits(before), digits(before * ratio)

    def values(self, level, unit, shown):
        """`value` or `values` about a level in `unit`, as written in the unit shown."""
        level = float(convert(F(level), unit, shown))
        n = self.pick(1, 1, 2, 3, 3, 5, 10)
        spread = (abs(level) + (1 if SORT[unit] == "temperature" else 1e-3)) * self.pick(0, 1e-3, 1e-2, 0.1)
        values = [digits(level + spread * z, 5) for z in self.random.standard_normal(n)]
        return {"values": values} if n > 1 or self.some(0.2) else {"value": values[0]}

    def reading(self, unit, cylinders):
        """A pair of readings by value or by cylinder."""
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
                table |= self.values(level, unit, table["unit"])
            tables.append(table)
        before, after = tables
        if self.some(0.2) and "values" in before and before["unit"] == after["unit"]:
            # The same scatter twice: whole degrees of freedom, which floats can miss.
            after.pop("value", None)
            after["values"] = [round(v + levels[1] - levels[0], 6) for v in before["values"]]
        return tables

    def limits(self, measure, before, after, unit):
        """Bounds and required improvements, many at the edges of their zones."""
        at = self.random.integers(len(after.get("rows", [0])))
        b, a = (self.estimate(run, run.get("rows", [run] * 8)[at], unit) for run in (before, after))
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
            share = relative(b, a, unit)
            if share and self.some(0.5):
                measure["improve_percent"] = min(99.0, max(1e-3, 100 * place(Estimate(sign * share.value, share.parts))))
            else:
                diff = difference(b, a)
                measure["improve_by"] = max(1e-6, place(Estimate(sign * diff.value, diff.parts)))

    def tries(self, share, n):
        passes = self.pick(0, n, self.random.integers(n + 1)) if share is None else share * n
        return {"passes": int(passes), "tries": n}

    def measure(self, index, cylinders):
        kind = self.pick("value", "value", "value", "cylinders", "passes", "cylinder-passes", "smoke", "text")
        measure = {"id": f"m{index}", "name": f"Measure {index}", "kind": kind}
        plain = len(measure)
        if kind in ("value", "cylinders"):
            unit = self.pick(*UNITS[self.pick("temperature", "time", *UNITS)])
            runs = self.reading(unit, cylinders if kind == "cylinders" else 0)
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
            runs = [{"colour": "grey"}, {"colour": "grey"}]
            for key, tool, high, unit in (("opacity_percent", "instrument", 100, "%"),
                                          ("clear_seconds", "timer", 60, "s")):
                if self.some(0.7):
                    used = {tool: self.tool(unit, 20)} if tool == "instrument" or self.some(0.5) else {}
                    for run in runs:
                        run |= {key: round(self.random.uniform(0, high), 1)} | used
                    if self.some(0.7):
                        measure[f"max_{key}"] = self.pick(runs[1][key], 20.0, min(100.0, round(runs[1][key] + 0.15, 2)))
        else:
            runs = [{"text": "Knocks"}, {"text": "Quiet"}]
        if len(measure) > plain + ("better" in measure):
            measure |= {"source": "Agreed", "required": self.some(0.7)}
        return measure | ({"unit": unit} if kind in ("value", "cylinders") else {}), runs

    def condition(self, index):
        condition = {"id": f"c{index}", "name": f"Condition {index}", "required": self.some(0.6)}
        if self.some(0.25):
            return condition, [{"text": text} for text in ("winter fuel", self.pick("Winter fuel", "summer fuel"))]
        unit = self.pick("°C", "°F", "h", "V", "%")
        levels, runs = self.levels(unit), []
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
        conditions = [self.condition(i) for i in range(self.random.integers(0, 4))]
        rule = self.pick({}, *({"decision_rule": rule} for rule in ("simple", "guarded", "four-zone")))
        files = {
            "shop": {"name": "Invented Bench"},
            "job": {"job": "R-1", "complaint": "Random.", "customer": {"name": "Nobody"},
                    "machine": {"name": "Engine", "cylinders": cylinders}, "instrument": self.tools},
            "limits": rule | {"measure": [m for m, _ in measures], "condition": [c for c, _ in conditions]},
            "work": {"by": "T. Orrell", "intervention": [{"what": "Cleaned"}]},
        }
        for i, name in enumerate(("baseline", "retest")):
            files[name] = {"by": "T. Orrell", "reading": {m["id"]: runs[i] for m, runs in measures},
                           "condition": {c["id"]: runs[i] for c, runs in conditions if not self.some(0.05)}}
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
