#!/usr/bin/env python3
"""Independent recomputation of the judgement.

Makes random job folders, lets PROGRAM judge each (`check --json`), judges the
same files again from the published rules, and prints every disagreement.

    recompute.py PROGRAM [--jobs N] [--seed S] [--keep FOLDER]

Needs Python 3.11 or newer, numpy and scipy. Written from the description of the
job folder and of the rules, not from the program. Sources:

  JCGM 100:2008         uncertainty; Welch-Satterthwaite G.4.1, truncated; t95
  ILAC-G8:09/2019       4.2.3, the four zones, guard band w = U
  NIST SP 811, app. B   unit factors, with as many digits as printed there
  Clopper, Pearson 1934 exact interval of a share
  Fisher                exact test of a 2 x 2 table, two-sided by probability

Every figure of a file is kept as the exact decimal that was written (Fraction),
so that "exactly at the limit" means just that; only square roots are floats.
"""

import argparse
import itertools
import json
import math
import subprocess
import sys
import tempfile
import time
import tomllib
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from fractions import Fraction
from pathlib import Path

import numpy as np
from scipy import stats

# --- Units: factor to the first of each line (NIST SP 811, appendix B.8/B.9) ---

F = Fraction
UNITS = {
    "time": {"s": F(1), "ms": F("1e-3"), "min": F(60), "h": F(3600), "d": F(86400)},
    "temperature": {"°C": F(1), "°F": F(5, 9)},
    "difference": {"K": F(1), "Δ°C": F(1), "Δ°F": F(5, 9)},
    "pressure": {"Pa": F(1), "kPa": F(1000), "MPa": F(10**6), "bar": F(10**5),
                 "mbar": F(100), "psi": F("6.894757e3"), "inHg": F("3.386389e3"),
                 "mmHg": F("1.333224e2"), "inH₂O": F("2.490889e2")},
    "voltage": {"V": F(1), "mV": F("1e-3"), "kV": F(1000)},
    "rotation": {"rad/s": F(1), "rpm": F("1.047198e-1")},
    "ratio": {"1": F(1), "%": F("1e-2"), "ppm": F("1e-6")},
    "length": {"m": F(1), "mm": F("1e-3"), "in": F("2.54e-2"), "thou": F("2.54e-5")},
    "torque": {"N·m": F(1), "lbf·ft": F("1.355818"), "lbf·in": F("1.129848e-1")},
    "flow": {"m³/s": F(1), "L/min": F("1e-3") / 60, "gal/min": F("6.309020e-5")},
    "power": {"W": F(1), "kW": F(1000), "hp": F("7.456999e2"), "PS": F("7.354988e2")},
    "mass": {"kg": F(1), "g": F("1e-3"), "lb": F("4.535924e-1"), "oz": F("2.834952e-2")},
}
SORT = {unit: sort for sort, units in UNITS.items() for unit in units}
INTERNAL = {"m³/s"}  # a base of the table only, no unit of the job folder
SCALE_ZERO = {"°C": F(0), "°F": F(32)}  # what the scale shows at 0 °C


def factor(unit):
    return UNITS[SORT[unit]][unit]


def convert(value, unit, to):
    """A value from one unit to another; a temperature with its zero."""
    if SORT[unit] == "temperature":
        return (value - SCALE_ZERO[unit]) * factor(unit) / factor(to) + SCALE_ZERO[to]
    return value * factor(unit) / factor(to)


# --- Uncertainty (JCGM 100:2008) ---


@dataclass
class Estimate:
    value: Fraction
    parts: list  # (source, standard uncertainty, degrees of freedom)

    def __post_init__(self):
        self.parts = [p for p in self.parts if p[1] > 0]

    @property
    def u(self):
        return math.sqrt(math.fsum(u * u for _, u, _ in self.parts))

    @property
    def dof(self):
        """Welch-Satterthwaite (G.2b), not truncated."""
        # Shares of the variance keep small figures from underflowing.
        spread = math.fsum((u / self.u) ** 4 / nu for _, u, nu in self.parts)
        return 1 / spread if spread > 0 else math.inf

    @property
    def whole_dof(self):
        # A dof that is a whole number in exact arithmetic must not lose one to a float.
        return math.floor(self.dof * (1 + 1e-12)) if self.dof < math.inf else math.inf

    def expanded(self, coverage=0.95):
        return float(stats.t.isf((1 - coverage) / 2, self.whole_dof)) * self.u if self.u else 0.0

    def scaled(self, by):
        return [(s, u * abs(float(by)), nu) for s, u, nu in self.parts]


def instrument_parts(tool, value, unit, to, n):
    """What an instrument's table adds to the mean of n values, in the unit `to`."""
    kind = SORT[tool["unit"]]
    if kind in ("difference", "temperature") and SORT[unit] == "temperature":
        # The percentage is of the figure on the scale that the instrument shows.
        shown = convert(value, unit, "°F" if "F" in tool["unit"] else "°C")
    else:
        shown = convert(value, unit, tool["unit"])
    scale = factor(tool["unit"]) / factor(to)
    half = tool.get("accuracy", 0) + F(tool.get("accuracy_percent", 0)) / 100 * abs(shown)
    parts = [
        ("accuracy", float(half * scale) / math.sqrt(3), math.inf),
        # The same steps for every repeat: repeating does not average them out.
        ("resolution", float(tool.get("resolution", 0) * scale) / math.sqrt(12), math.inf),
        ("stated", float(F(tool.get("uncertainty", 0)) / F(tool.get("k", 2)) * scale), math.inf),
    ]
    if tool.get("hand_timed"):
        hand = float(F(tool.get("hand_timing_seconds", F("0.1"))) / factor(to))
        parts.append(("hand-timing", hand / math.sqrt(n), math.inf))
    return parts


def estimate(values, unit, to, tool=None, stated=None, k=2):
    """The mean of a reading in the unit `to`, with its parts of uncertainty."""
    n = len(values)
    mean = sum(map(F, values), F(0)) / n
    scale = factor(unit) / factor(to)
    parts = []
    if n > 1:
        variance = sum((v - mean) ** 2 for v in values) / (n - 1)
        parts.append(("repeatability", float(scale) * math.sqrt(variance / n), n - 1))
    if stated is not None:  # in place of the instrument's table, not of the scatter
        parts.append(("stated", float(F(stated) / F(k) * scale), math.inf))
    elif tool is not None:
        parts += instrument_parts(tool, mean, unit, to, n)
    return Estimate(convert(mean, unit, to), parts)


def difference(before, after):
    return Estimate(after.value - before.value, before.parts + after.parts)


def relative(before, after, unit):
    """The difference as a share of the baseline's size, where that has a meaning."""
    b, a = before.value, after.value
    if SORT[unit] == "temperature" or a * b < 0 or b == 0 or abs(b) <= before.expanded():
        return None
    return Estimate((a - b) / abs(b), before.scaled(a / b**2) + after.scaled(1 / b))


# --- Limits ---

ZONES = ["pass", "conditional-pass", "conditional-fail", "fail"]
OUTCOMES = ["not-judged", "pass", "pass-with-reservation", "undecided", "fail"]
BY_RULE = {
    "simple": {"pass": "pass", "fail": "fail"},
    "guarded": {"pass": "pass", "conditional-pass": "undecided",
                "conditional-fail": "undecided", "fail": "fail"},
    "four-zone": {"pass": "pass", "conditional-pass": "pass-with-reservation",
                  "conditional-fail": "undecided", "fail": "fail"},
}


def near(a, b):
    return abs(a - b) <= 1e-9 * max(abs(a), abs(b)) + 1e-12


def tie(ours, options, theirs):
    """Near an edge the last digit of a float decides: either side is right."""
    return theirs if theirs in options else ours


def zone(value, low, high, guard, theirs):
    """The zone of a value between its bounds: the worse of the two sides."""
    ours, options = 0, {0}
    # How far inside each bound; exact, so that a value at the limit is inside.
    for room in [b for b in (high is not None and high - value, low is not None and value - low)
                 if b is not False]:
        mine = 0 if room >= guard else 1 if room >= 0 else 2 if room >= -guard else 3
        may = {mine}
        if guard:
            scale = max(abs(float(value)), guard)
            slack = 1e-9 * scale
            may |= {0, 1} if abs(room - guard) <= slack else set()
            may |= {2, 3} if abs(room + guard) <= slack else set()
        ours, options = max(ours, mine), {max(o, m) for o in options for m in may}
    return tie(ZONES[ours], {ZONES[o] for o in options}, theirs)


def standing(est, low, high, rule, theirs):
    """Zone and probability of conformity; None without a limit."""
    if low is None and high is None:
        return None
    guard = 0 if rule == "simple" else est.expanded()
    at = zone(est.value, low, high, guard, (theirs or {}).get("zone"))
    if rule == "simple" and at != "pass":
        at = "fail"
    x = float(est.value)
    if est.u == 0:
        p = float((low is None or est.value >= low) and (high is None or est.value <= high))
    else:
        t = stats.t(est.whole_dof)
        above = 0.0 if high is None else t.sf((float(high) - x) / est.u)
        below = 0.0 if low is None else t.cdf((float(low) - x) / est.u)
        p = max(0.0, 1 - above - below)
        if p < 1e-3:  # far outside: from the other tail, without cancellation
            sides = (math.inf if high is None else (float(high) - x) / est.u,
                     -math.inf if low is None else (float(low) - x) / est.u)
            p = t.cdf(sides[0]) - t.cdf(sides[1]) if sides[0] <= 0 else t.sf(sides[1]) - t.sf(sides[0])
    return {"zone": at, "conformity": float(p)}


def outside(value, low, high):
    return max(F(0), value - high if high is not None else F(0), low - value if low is not None else F(0))


def gain_of(before, after, better, low, high):
    """How much better the retest is; negative if worse."""
    if better == "lower":
        return before.value - after.value
    if better == "higher":
        return after.value - before.value
    return outside(before.value, low, high) - outside(after.value, low, high)


def change_of(gain, expanded, theirs=None):
    if gain is None:
        return None
    ours = "no-detectable-change" if abs(gain) <= expanded else "improved" if gain > 0 else "worsened"
    if expanded and near(abs(gain), expanded):
        return tie(ours, {"no-detectable-change", "improved" if gain > 0 else "worsened"}, theirs)
    return ours


def worst(outcomes):
    return max(outcomes, key=OUTCOMES.index, default="not-judged")


def overall(changes):
    for change in ("worsened", "improved", "no-detectable-change"):
        if change in changes:
            return change
    return None


def better_of(measure):
    if "better" in measure:
        return measure["better"]
    low, high = "min" in measure, "max" in measure
    return "inside" if low and high else "lower" if high else "higher" if low else None


# --- One measure ---


def compare_values(part, cylinder, unit, before, after, rules, theirs):
    """One value before and after; the result's row, its outcome and its gain."""
    low, high, better, rule = rules["min"], rules["max"], rules["better"], rules["rule"]
    diff, rel = difference(before, after), relative(before, after, unit)
    gain = gain_of(before, after, better, low, high) if better else None
    improvement = None
    if rules.get("by") is not None:
        improvement = standing(Estimate(gain, diff.parts), rules["by"], None, rule, theirs.get("improvement"))
    elif rules.get("percent") is not None:
        if rel is None:
            improvement = {"zone": None, "conformity": None}
        else:
            share = Estimate(gain / abs(before.value), rel.parts)
            improvement = standing(share, F(rules["percent"]) / 100, None, rule, theirs.get("improvement"))
    row = {
        "part": part, "cylinder": cylinder, "unit": unit, "min": low, "max": high,
        "baseline": before, "retest": after, "difference": diff, "relative": rel,
        "change": change_of(gain, diff.expanded(), theirs.get("change")),
        "before": standing(before, low, high, rule, theirs.get("before")),
        "after": standing(after, low, high, rule, theirs.get("after")),
        "improvement": improvement,
    }
    judged = [s for s in (row["after"], improvement) if s]
    outcome = worst("undecided" if s["zone"] is None else BY_RULE[rule][s["zone"]] for s in judged)
    return row, outcome, gain


def reading_values(table):
    return table["values"] if "values" in table else [table["value"]]


def judge_values(job, measure, theirs):
    """Kinds `value`, `cylinders` and `smoke`."""
    before, after = (job[run]["reading"][measure["id"]] for run in ("baseline", "retest"))
    rule = job["limits"].get("decision_rule", "four-zone")
    rules = {"min": measure.get("min"), "max": measure.get("max"), "better": better_of(measure), "rule": rule,
             "by": measure.get("improve_by"), "percent": measure.get("improve_percent")}
    pairs = []  # part, cylinder, unit, baseline, retest, rules
    if measure["kind"] == "smoke":
        for part, key, unit, limit, tool_key, hand in (
                ("opacity", "opacity_percent", "%", "max_opacity_percent", "instrument", False),
                ("clear", "clear_seconds", "s", "max_clear_seconds", "timer", True)):
            if key in before and key in after:
                # Without a watch the time counts as taken by hand.
                bare = {"unit": "s", "hand_timed": True} if hand else None
                ests = [estimate([run[key]], unit, unit, job["tools"].get(run.get(tool_key), bare))
                        for run in (before, after)]
                pairs.append((part, None, unit, *ests, rules | {"max": measure.get(limit), "better": "lower"}))
    else:
        unit = measure["unit"]

        def one(run, row):
            return estimate(reading_values(row), run["unit"], unit, job["tools"].get(run.get("instrument")),
                            run.get("uncertainty"), run.get("k", 2))

        if measure["kind"] == "value":
            pairs.append(("value", None, unit, one(before, before), one(after, after), rules))
        else:
            rows = [{r["cylinder"]: one(run, r) for r in run["rows"]} for run in (before, after)]
            pairs += [("cylinder", c, unit, rows[0][c], rows[1][c], rules) for c in sorted(rows[0])]
    claimed = theirs.get("values", []) + [{}] * len(pairs)
    done = [compare_values(*pair, theirs=t) for pair, t in zip(pairs, claimed)]
    changes = [row["change"] for row, _, _ in done]
    if measure["kind"] == "cylinders":
        # Many looks at once: the claim for the whole is made at a Bonferroni level.
        wide = 1 - 0.05 / len(done)
        changes = [change_of(gain, row["difference"].expanded(wide)) for row, _, gain in done]
    return {"values": [row for row, _, _ in done], "counts": [], "change": overall(changes),
            "outcome": worst(outcome for _, outcome, _ in done)}


def clopper_pearson(passes, tries):
    low = stats.beta.ppf(0.025, passes, tries - passes + 1) if passes else 0.0
    high = stats.beta.isf(0.025, passes + 1, tries - passes) if passes < tries else 1.0
    return [float(low), float(high)]


def fisher(a, n, b, m):
    """Two-sided: all tables with these margins that are no more probable (exact)."""
    ways = {k: math.comb(n, k) * math.comb(m, a + b - k)
            for k in range(max(0, a + b - m), min(n, a + b) + 1)}
    return F(sum(w for w in ways.values() if w <= ways[a]), sum(ways.values()))


def judge_counts(job, measure):
    """Kinds `passes` and `cylinder-passes`."""
    runs = [job[run]["reading"][measure["id"]] for run in ("baseline", "retest")]
    if measure["kind"] == "passes":
        pairs = [(None, *runs)]
    else:
        rows = [{r["cylinder"]: r for r in run["rows"]} for run in runs]
        pairs = [(c, rows[0][c], rows[1][c]) for c in sorted(rows[0])]

    def change(p, level, before, after):
        rise = F(after["passes"], after["tries"]) - F(before["passes"], before["tries"])
        return "no-detectable-change" if p > level or not rise else "improved" if rise > 0 else "worsened"

    counts, whole = [], []
    for cylinder, before, after in pairs:
        p = fisher(before["passes"], before["tries"], after["passes"], after["tries"])
        counts.append({
            "cylinder": cylinder,
            "baseline": [before["passes"], before["tries"]], "retest": [after["passes"], after["tries"]],
            "baseline_interval": clopper_pearson(before["passes"], before["tries"]),
            "retest_interval": clopper_pearson(after["passes"], after["tries"]),
            "p": p, "change": change(p, F("0.05"), before, after),
            "outcome": "not-judged" if "min_passes" not in measure
            else "pass" if after["passes"] >= measure["min_passes"] else "fail",
        })
        whole.append(change(p, F("0.05") / len(pairs), before, after))
    return {"values": [], "counts": counts, "change": overall(whole), "outcome": worst(c["outcome"] for c in counts)}


def judge_measure(job, measure, theirs):
    if measure["kind"] == "text":
        found = {"values": [], "counts": [], "change": None, "outcome": "not-judged"}
    elif measure["kind"] in ("passes", "cylinder-passes"):
        found = judge_counts(job, measure)
    else:
        found = judge_values(job, measure, theirs)
    return {"id": measure["id"], "required": measure.get("required", False)} | found


# --- Conditions and verdict ---


def judge_condition(job, condition, theirs):
    runs = [job[run].get("condition", {}).get(condition["id"]) for run in ("baseline", "retest")]
    state, diff, unit = "unknown", None, condition.get("unit")
    if unit is None:
        if all(runs):
            same = runs[0]["text"].strip().casefold() == runs[1]["text"].strip().casefold()
            state = "matched" if same else "unknown"
    elif all(runs):
        diff = difference(*(estimate([r["value"]], r["unit"], unit, job["tools"].get(r.get("instrument")))
                            for r in runs))
        allowed = float(condition["window"]) + diff.expanded()
        harder = {"lower": diff.value < 0, "higher": diff.value > 0}.get(condition.get("harder"))
        off = "unknown" if harder is None else "harder" if harder else "easier"
        state = "matched" if abs(diff.value) <= allowed else off
        if near(float(abs(diff.value)), allowed):
            state = tie(state, {"matched", off}, theirs.get("state"))
    return {"id": condition["id"], "required": condition.get("required", False), "state": state,
            "difference": diff, "unit": unit if diff else None}


def judge(job, theirs):
    def paired(own, key, do):
        claimed = theirs.get(key, []) + [{}] * len(own)
        return [do(job, table, t) for table, t in zip(own, claimed)]

    limits = job["limits"]
    measures = paired(limits["measure"], "measures", judge_measure)
    conditions = paired(limits.get("condition", []), "conditions", judge_condition)
    needed = [m for m in measures if m["required"]]
    unlike = [c for c in conditions if c["required"] and c["state"] in ("easier", "unknown")]
    fails = [m["id"] for m in needed if m["outcome"] == "fail"]
    doubts = [("too-near-to-tell", m["id"]) for m in needed if m["outcome"] == "undecided"]
    doubts += [("got-worse", m["id"]) for m in needed if m["change"] == "worsened"]
    doubts += [(f"condition-{c['state']}", c["id"]) for c in unlike]
    if not needed:
        verdict, reasons = "undecided", [("nothing-required", None)]
    elif fails:
        verdict, reasons = "not-verified", [("fails", i) for i in fails]
    elif doubts:
        verdict, reasons = "undecided", doubts
    else:
        verdict, reasons = "verified", [("all-required-pass", None)]
    return {"decision_rule": limits.get("decision_rule", "four-zone"), "measures": measures,
            "conditions": conditions, "fair_conditions": not unlike, "verdict": verdict,
            "reasons": sorted(reasons, key=str)}


EXIT = {"verified": 0, "not-verified": 1, "undecided": 3}


# --- Random jobs ---


def toml(value):
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{json.dumps(k)} = {toml(v)}" for k, v in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(map(toml, value)) + "]"
    return json.dumps(value, ensure_ascii=False) if isinstance(value, str) else repr(value)


def document(head, tables):
    """A file: plain keys first, then lists of tables."""
    lines = [f"{k} = {v if k in DATES else toml(v)}" for k, v in head.items()]
    for name, rows in tables.items():
        for row in rows:
            lines += ["", f"[[{name}]]"] + [f"{k} = {toml(v)}" for k, v in row.items()]
    return "\n".join(lines) + "\n"


DATES = ("started", "finished")
LIMIT_KEYS = {"min", "max", "improve_by", "improve_percent", "min_passes", "max_opacity_percent", "max_clear_seconds"}
exact = lambda x: F(repr(x))  # the decimal that will stand in the file


class Maker:
    """Makes one random job; every choice comes from one seed."""

    def __init__(self, seed):
        self.r = np.random.default_rng(seed)
        self.tools = []

    def some(self, p):
        return self.r.random() < p

    def pick(self, *options):
        return options[self.r.integers(len(options))]

    def unit(self, sort=None):
        sort = sort or self.pick("time", "temperature", "temperature", "difference", "pressure", "voltage",
                                 "rotation", "ratio", "length", "torque", "flow", "power", "mass")
        return self.pick(*(u for u in UNITS[sort] if u not in INTERNAL))

    def size(self, low=-1.0, high=3.0):
        return float(10 ** self.r.uniform(low, high))

    def digits(self, x, n=4):
        return float(f"{x:.{n}g}")

    def tool(self, unit, size):
        """An instrument for a figure of about this size in this unit; its id, or None."""
        if self.some(0.15):
            return None
        sort = SORT[unit]
        own = self.unit("difference" if sort == "temperature" else sort) if self.some(0.4) else \
            {"°C": "K", "°F": "Δ°F"}.get(unit, unit)
        step = max(abs(size), 1.0 if sort == "temperature" else 0) * float(factor(unit) / factor(own))
        table = {"id": f"tool-{len(self.tools)}", "kind": "Meter", "unit": own}
        error = lambda: self.digits(step * self.size(-3.5, -1), 2)
        for key, p in (("accuracy", 0.6), ("resolution", 0.5), ("uncertainty", 0.2)):
            if self.some(p):
                table[key] = error()
        if self.some(0.35):
            table["accuracy_percent"] = self.digits(self.size(-1.5, 0.6), 2)
        if "uncertainty" in table and self.some(0.5):
            table["k"] = self.pick(1, 1.96, 2, 3)
        if sort == "time" and self.some(0.5):
            table["hand_timed"] = True
            if self.some(0.4):
                table["hand_timing_seconds"] = self.digits(self.size(-2, 0), 2)
        if len(table) == 3:
            table["resolution"] = error()
        self.tools.append(table)
        return table["id"]

    def levels(self, sort):
        """What is measured before and after, about."""
        before = self.size() * (-1 if self.some(0.2) else 1)
        if sort == "temperature":
            before = self.r.uniform(-30, 120)
        after = self.pick(before, before * self.r.uniform(0.97, 1.03), before * self.r.uniform(0.2, 1.8),
                          before * self.r.uniform(-0.3, 3), 0.0)
        return self.digits(before), self.digits(after)

    def values(self, level, unit, shown):
        """`value` or `values` around a level given in `unit`, written in `shown`."""
        level = float(convert(exact(float(level)), unit, shown))
        n = self.pick(1, 1, 2, 3, 3, 5, 10)
        spread = max(abs(level), 1e-3) * self.pick(0, 1e-3, 1e-2, 0.1)
        values = [self.digits(level + spread * z, 5) for z in self.r.standard_normal(n)]
        return {"values": values} if n > 1 or self.some(0.2) else {"value": values[0]}

    def reading(self, unit, tool, stated):
        shown = self.unit(SORT[unit]) if self.some(0.25) else unit
        table = {"unit": shown}
        if tool and not self.some(0.1):
            table["instrument"] = tool
        if stated:
            table["uncertainty"] = self.digits(stated * float(factor(unit) / factor(shown)), 2)
            if self.some(0.5):
                table["k"] = self.pick(1, 1.96, 2, 2.5)
        return table

    def bound(self, table, row, unit):
        """A limit near this retest reading: at it, at the edge of its guard band, or away."""
        tools = {t["id"]: {k: exact(v) if isinstance(v, float) else v for k, v in t.items()}
                 for t in self.tools}
        est = estimate([exact(v) for v in reading_values(row)], table["unit"], unit,
                       tools.get(table.get("instrument")),
                       exact(table["uncertainty"]) if "uncertainty" in table else None, exact(table.get("k", 2)))
        wide = est.expanded() or abs(float(est.value)) * 0.02 + 0.1
        step = self.pick(0, 1, -1, 1 + 1e-6, 1 - 1e-6, -1 - 1e-6, -1 + 1e-6, 0.5, -0.5, 1.5, -1.5,
                         *self.r.uniform(-8, 8, 4))
        return float(est.value) + float(step) * wide

    def limits(self, measure, after, unit, gap):
        row = after if "rows" not in after else self.pick(*after["rows"])
        which = self.pick((), ("max",), ("min",), ("min", "max"), ("min", "max"))
        for key in which:
            measure[key] = self.bound(after, row, unit)
        if len(which) == 2:
            away = self.size(-1, 1) * (abs(gap) + 1e-3)
            if self.some(0.5):
                measure["min"] = measure["max"] - away
            else:
                measure["max"] = measure["min"] + away
        if self.some(0.5):
            measure["better"] = self.pick(*(["lower", "higher"] + (["inside"] if which else [])))
        if self.some(0.35) and better_of(measure):
            key = self.pick("improve_by", "improve_percent")
            measure[key] = self.digits(abs(gap) * self.pick(1, 0.9, 0.5, 1.2), 3) if key == "improve_by" \
                else self.pick(5, 20, 50, 66.7)

    def measure(self, index, cylinders):
        kind = self.pick("value", "value", "value", "cylinders", "passes", "cylinder-passes", "smoke", "text")
        measure = {"id": f"m{index}", "name": f"Measure {index}", "kind": kind, "required": self.some(0.6)}
        if kind in ("value", "cylinders"):
            unit = measure["unit"] = self.unit()
            before, after = self.levels(SORT[unit])
            tool = self.tool(unit, before)
            stated = self.size(-3, -1) * (abs(before) + 0.1) if self.some(0.2) else None
            runs = [self.reading(unit, tool, stated) for _ in range(2)]
            for run, level in zip(runs, (before, after)):
                if kind == "value":
                    run.update(self.values(level, unit, run["unit"]))
                else:
                    run["rows"] = [{"cylinder": c} | self.values(level * self.r.uniform(0.9, 1.1), unit, run["unit"])
                                   for c in range(1, cylinders + 1)]
            self.limits(measure, runs[1], unit, after - before)
        elif kind in ("passes", "cylinder-passes"):
            def tries():
                n = int(self.pick(1, 2, 3, 5, 10, 20))
                return {"passes": int(self.pick(0, n, self.r.integers(0, n + 1))), "tries": n}
            rows = lambda: [{"cylinder": c} | tries() for c in range(1, cylinders + 1)]
            runs = [tries() if kind == "passes" else {"rows": rows()} for _ in range(2)]
            if self.some(0.7):
                most = min(r["tries"] for r in runs[1].get("rows", [runs[1]]))
                measure["min_passes"] = int(self.r.integers(1, most + 1))
        elif kind == "smoke":
            runs = [{"colour": "grey"}, {"colour": "grey"}]
            opacity, clear = self.some(0.7), self.some(0.7)
            if opacity:
                tool = self.tool("%", 30.0)
                for run in runs:
                    run["opacity_percent"] = round(float(self.r.uniform(0, 100)), 1)
                    run |= {"instrument": tool} if tool else {}
                if self.some(0.7):
                    measure["max_opacity_percent"] = self.pick(runs[1]["opacity_percent"], 20, 40)
            if clear:
                tool = self.tool("s", 20.0) if self.some(0.5) else None
                for run in runs:
                    run["clear_seconds"] = round(self.size(0, 2), 1)
                    run |= {"timer": tool} if tool else {}
                if self.some(0.7):
                    measure["max_clear_seconds"] = self.pick(
                        runs[1]["clear_seconds"], round(runs[1]["clear_seconds"] + 0.15, 2), 15)
        else:
            runs = [{"text": "Knocks"}, {"text": "Quiet"}]
        judged = set(measure) & LIMIT_KEYS
        if judged:
            measure["source"] = "Agreed"
        measure["required"] &= bool(judged)
        return measure, runs

    def condition(self, index):
        condition = {"id": f"c{index}", "name": f"Condition {index}", "required": self.some(0.6)}
        harder = self.pick("lower", "higher", None)
        if harder:
            condition["harder"] = harder
        if self.some(0.25):
            condition.pop("harder", None)
            runs = [{"text": "winter fuel"}, {"text": self.pick("winter fuel", "Winter fuel ", "summer fuel")}]
        else:
            unit = condition["unit"] = self.unit(self.pick("temperature", "temperature", "time", "voltage", "ratio"))
            before, after = self.levels(SORT[unit])
            tool = self.tool(unit, before) if self.some(0.7) else None
            runs = [{"value": self.digits(float(convert(exact(level), unit, shown)), 5), "unit": shown}
                    | ({"instrument": tool} if tool and self.some(0.9) else {})
                    for level in (before, after) for shown in [self.unit(SORT[unit]) if self.some(0.2) else unit]]
            gap = abs(after - before)
            condition["window"] = self.digits(gap * self.pick(1, 0, 0.5, 0.9, 0.99, 1.5, 3), 3)
        return condition, runs

    def write(self, folder):
        cylinders = int(self.r.integers(1, 9))
        measures = [self.measure(i, cylinders) for i in range(self.r.integers(1, 6))]
        conditions = [self.condition(i) for i in range(self.r.integers(0, 4))]
        limits = {"format": 1}
        if self.some(0.8):
            limits["decision_rule"] = self.pick("simple", "guarded", "four-zone")
        runs = []
        for i in range(2):
            run = {"format": 1, "started": f"2026-03-0{3 + 2 * i}T06:00:00+00:00", "by": "T. Orrell"}
            run["condition"] = {c["id"]: r[i] for c, r in conditions if not self.some(0.05)}
            run["reading"] = {m["id"]: r[i] for m, r in measures}
            runs.append(run)
        files = {
            "shop": document({"format": 1, "name": "Invented Bench"}, {}),
            "job": document({"format": 1, "job": "R-1", "complaint": "Random.", "customer": {"name": "Nobody"},
                             "machine": {"name": "Engine", "cylinders": cylinders}}, {"instrument": self.tools}),
            "limits": document(limits, {"measure": [m for m, _ in measures], "condition": [c for c, _ in conditions]}),
            "baseline": document(runs[0], {}), "retest": document(runs[1], {}),
            "work": document({"format": 1, "started": "2026-03-04T06:00:00+00:00", "by": "T. Orrell",
                              "finished": "2026-03-04T09:00:00+00:00"}, {"intervention": [{"what": "Cleaned"}]}),
        }
        folder.mkdir(parents=True)
        for name, text in files.items():
            (folder / f"{name}.toml").write_text(text, encoding="utf-8")


# --- Comparison ---


def load(folder):
    read = lambda name: tomllib.loads((folder / f"{name}.toml").read_text("utf-8"), parse_float=F)
    job = {name: read(name) for name in ("job", "limits", "baseline", "retest")}
    job["tools"] = {t["id"]: t for t in job["job"].get("instrument", [])}
    return job


def differences(path, theirs, ours, scale=1.0):
    """Every disagreement as (path, theirs, ours); only the keys we judge are compared."""
    if isinstance(ours, Estimate):
        dof = ours.dof
        ours = {"value": ours.value, "u": ours.u, "dof": dof if dof < math.inf else None,
                "expanded": ours.expanded(),
                "components": [{"source": s, "u": u, "dof": nu if nu < math.inf else None}
                               for s, u, nu in sorted(ours.parts)]}
        if isinstance(theirs, dict):
            theirs = theirs | {"components": sorted(theirs["components"], key=lambda c: (c["source"], c["u"]))}
    if isinstance(ours, dict) and isinstance(theirs, dict):
        if isinstance(ours.get("baseline"), Estimate):
            # A difference of two figures keeps the rounding of the greater one.
            scale = max(1.0, *(abs(float(ours[run].value)) for run in ("baseline", "retest")))
        for key, value in ours.items():
            yield from differences(f"{path}.{key}", theirs.get(key), value, scale)
    elif isinstance(ours, list) and isinstance(theirs, list):
        if len(ours) != len(theirs):
            yield f"{path}.length", len(theirs), len(ours)
        for i, (t, o) in enumerate(zip(theirs, ours)):
            yield from differences(f"{path}[{i}]", t, o, scale)
    elif isinstance(ours, (int, float, Fraction)) and not isinstance(ours, bool):
        if not isinstance(theirs, (int, float)) or \
                abs(theirs - float(ours)) > 1e-9 * abs(float(ours)) + 1e-12 * scale:
            yield path, theirs, float(ours)
    elif theirs != ours:
        yield path, theirs, ours


def run_job(program, folder):
    done = subprocess.run([program, "check", "--json", str(folder)], capture_output=True, text=True)
    if done.returncode not in EXIT.values():
        return [("(refused)", f"exit {done.returncode}: {(done.stderr or done.stdout).strip()}", "a valid folder")]
    theirs = json.loads(done.stdout)
    ours = judge(load(folder), theirs)
    theirs["reasons"] = sorted(((r["what"], r["about"]) for r in theirs["reasons"]), key=str)
    found = list(differences("", theirs, ours))
    if done.returncode != EXIT[ours["verdict"]]:
        found.append((".exit", done.returncode, EXIT[ours["verdict"]]))
    return found


def main():
    parser = argparse.ArgumentParser(description=__doc__.split("\n\n")[0])
    parser.add_argument("program")
    parser.add_argument("--jobs", type=int, default=500)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--keep", type=Path, help="leave the folders here")
    args = parser.parse_args()
    began = time.monotonic()
    with tempfile.TemporaryDirectory() as scratch, ThreadPoolExecutor() as pool:
        root = args.keep or Path(scratch)
        seeds = range(args.seed, args.seed + args.jobs)

        def one(seed):
            folder = root / str(seed)
            Maker(seed).write(folder)
            return run_job(args.program, folder)

        failed = 0
        for seed, found in zip(seeds, pool.map(one, seeds)):
            failed += bool(found)
            for path, theirs, ours in found:
                print(f"job {seed}  {path.lstrip('.')}  theirs {theirs}  ours {ours}")
    print(f"{args.jobs - failed} passed, {failed} failed")
    print(f"{time.monotonic() - began:.1f} s", file=sys.stderr)
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
