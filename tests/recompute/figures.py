"""Units, uncertainties, and what two readings have in common."""

import itertools
import math
from fractions import Fraction as F
from functools import cached_property

import numpy as np
from scipy import special, stats

from units import convert, FACTOR, SORT

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
    return F(tool.get("accuracy_percent_of_reading", 0)) / 100 * shown


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
