"""Limits in other forms: targets, what should be besides, what depends, bands (sections 5 and 5b)."""

from fractions import Fraction as F

from scipy import special

from expansion import Estimate
from nearness import relations, tie
from units import place
from worked_out import WorkedOut

ENDS = ("min", "max")


def exactly(x, size=0.0):
    """A bound that is fixed has no uncertainty."""
    return None if x is None else Estimate(F(x), [], size=size)


def fixed_bounds(table, measure):
    """The bounds that a measure, or a row of its limits, states as numbers."""
    if "target" not in table:
        return table.get("min"), table.get("max")
    own = table if {"within", "within_percent"} & set(table) else measure
    target = F(table["target"])
    half = F(own["within"]) if "within" in own else abs(target) * F(own["within_percent"]) / 100
    return target - half, target + half


class Limits:
    """Of one measure: the bounds of each run at each position, and what should be besides."""

    def __init__(self, measure, job, measured, positions):
        self.measure = measure
        self.own = {place(row["at"], positions): row for row in measure.get("limit_rows", [])}
        self.by = {end: WorkedOut({"id": f"{measure['id']}.{end}", "unit": measure["unit"], "worked_out": measure[f"{end}_by"]},
                                  job, measured) for end in ENDS if f"{end}_by" in measure}

    def depends(self, p):
        return bool(self.by) and p not in self.own

    def of(self, p, which):
        """Both bounds in one run, as estimates; None where there is none or it is not known."""
        table = self.own.get(p, self.measure)
        if self.missing(p, which):  # neither is given, not even one that is fixed
            return None, None
        low, high = (exactly(x, abs(float(table.get("target", 0)))) for x in fixed_bounds(table, self.measure))
        found = {"min": low, "max": high}
        if self.depends(p):
            for end, figure in self.by.items():
                one = figure.by_run[which].get(p if figure.positions != [None] else None)
                found[end] = one and bound_of(one)
        return found["min"], found["max"]

    def missing(self, p, which):
        """Why a bound is not known in that run."""
        if not self.depends(p):
            return None
        for figure in self.by.values():
            why = figure.why[which].get(p if figure.positions != [None] else None)
            if why:
                return why
        return None

    def limited(self, p):
        return self.depends(p) or fixed_bounds(self.own.get(p, self.measure), self.measure) != (None, None)

    def should(self, p):
        table = self.own.get(p, self.measure)
        return exactly(table.get("should_min")), exactly(table.get("should_max"))

    def before(self, p):
        """The bounds of what was in service, and what it should be besides; None where it has none of its own."""
        table = self.own.get(p, {}).get("before") or self.measure.get("before")
        if table is None:
            return None
        low, high = (exactly(x, abs(float(table.get("target", 0)))) for x in fixed_bounds(table, table))
        return (low, high), (exactly(table.get("should_min")), exactly(table.get("should_max")))

    def as_result(self, p, read):
        """What the result says of bounds that depend."""
        if not self.depends(p):
            return None
        found = {end: self.measure.get(f"{end}_by") for end in ENDS}
        for which, run in enumerate(("baseline", "retest")):
            bounds = dict(zip(ENDS, self.of(p, which)))
            found[run] = bounds if read[which] else None
        return found


def bound_of(figure):
    est = figure.estimate()
    est.size = figure.size
    return est


class FixedLimits:
    """A single upper bound, as smoke has it."""

    by = {}

    def __init__(self, high):
        self.high = high

    def of(self, p, which):
        return None, exactly(self.high)

    def limited(self, p):
        return self.high is not None

    def missing(self, p, which):
        return None

    def should(self, p):
        return None, None

    def before(self, p):
        return None

    def as_result(self, p, read):
        return None


# --- Bands of a standard ---


def band_of(est, bands, size, theirs):
    """In which it lies, and how likely each is."""
    if est is None:
        return None
    names, upper, spread = bands["names"], [F(x) for x in bands["upper"]], est.spread
    options = {names[i] for i in range(len(names))
               if (i == 0 or 1 in relations(est.value, upper[i - 1], size))
               and (i == len(upper) or {-1, 0} & relations(est.value, upper[i], size))}
    if spread == 0:
        band = tie(options, (theirs or {}).get("band"))
        return {"band": band, "probabilities": [float(name == band) for name in names]}
    cuts = [float(x - est.value) / spread for x in upper]
    below = [0.0, *map(special.ndtr, cuts), 1.0]
    above = [1.0, *(special.ndtr(-c) for c in cuts), 0.0]
    each = [float(below[i + 1] - below[i]) if below[i] < 0.5 else float(above[i] - above[i + 1]) for i in range(len(names))]
    return {"band": tie(options, (theirs or {}).get("band")), "probabilities": each}
