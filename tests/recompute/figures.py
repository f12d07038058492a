"""Readings of both runs: what they have of uncertainty, alone and together (sections 1 to 4)."""

import itertools
import math
from fractions import Fraction as F

from scipy import stats

from expansion import Estimate, Part, z_at
from points import add_settings, points_of
from units import convert, FACTOR, NO_ZERO, place, SORT, step_of, written

KEEP_APART = 0.01  # a probability below which scatters differ, or exceed what is stated
BY_EYE = F("0.5")  # seconds
BY_HAND = F("0.1")  # seconds


def values_of(row):
    return row.get("values", [row.get("value")])


def mean_of(row):
    return F(sum(values_of(row))) / len(values_of(row))


def in_proportion(tool, value, unit):
    """The part of the accuracy that is proportional to the reading, in the tool's unit."""
    if SORT[unit] == "temperature":  # a percentage is of the figure that the scale shows
        shown = convert(value, unit, "°F" if "F" in tool["unit"] else "°C")
    else:
        shown = convert(value, unit, tool["unit"])
    return F(tool.get("accuracy_percent_of_reading", 0)) / 100 * shown


def stated(table, scale):
    """What a certificate says, of an instrument or of a reading."""
    k = F(table.get("k", 2))
    u = float(table.get("uncertainty", 0) / k * scale)
    return Part("stated", u, float(table.get("dof", math.inf)), float(k))


class Reading:
    """The mean of one row's values, with everything but scatter and run-to-run.

    `errors` are those that an instrument may have in common with itself in the other run.
    """

    def __init__(self, table, row, to, tools, by_eye=0):
        self.values, self.unit, self.to = values_of(row), table["unit"], to
        self.own = "uncertainty" in table
        self.tool = tools.get(table.get("instrument"))
        self.value = convert(mean_of(row), self.unit, to)
        self.n, self.scale = len(self.values), FACTOR[self.unit] / FACTOR[to]
        self.parts, self.errors = [], {}
        self.by_eye = [Part("by-eye", float(F(by_eye) / FACTOR[to]))] if by_eye else []
        self.scatter = []
        if self.own:  # in place of the instrument's table, not of the scatter
            self.parts.append(stated(table, self.scale))
        elif self.tool:
            self.read_with(self.tool)
        self.parts += self.by_eye

    def read_with(self, tool):
        scale = FACTOR[tool["unit"]] / FACTOR[self.to]
        share = in_proportion(tool, mean_of({"values": self.values}), self.unit)
        half = tool.get("accuracy", 0) + abs(share)
        self.errors = {
            "fixed": Part("accuracy", float(tool.get("accuracy", 0) * scale) / math.sqrt(3)),
            "in proportion": Part("accuracy", float(share * scale) / math.sqrt(3)),
            "certificate": stated(tool, scale),
        }
        self.parts += [
            Part("accuracy", float(half * scale) / math.sqrt(3)),
            # Every repeat has the same steps: repeating does not average them out.
            Part("resolution", float(tool.get("resolution", 0) * scale) / math.sqrt(12)),
            self.errors["certificate"],
        ]
        if tool.get("hand_timed"):
            hand = float(F(tool.get("hand_timing_seconds", BY_HAND)) / FACTOR[self.to])
            self.parts.append(Part("hand-timing", hand / math.sqrt(self.n)))

    @property
    def step(self):
        """The coarser of the display's step and the last digit that was written."""
        shown = self.tool.get("resolution", 0) * FACTOR[self.tool["unit"]] / FACTOR[self.to] if self.tool else 0
        return max(shown, *(step_of(v) * self.scale for v in self.values))

    @property
    def squares(self):
        """Sum of squares of the values about their mean, and degrees of freedom."""
        mean = F(sum(self.values)) / self.n
        return self.scale**2 * sum((v - mean) ** 2 for v in self.values), self.n - 1

    def estimate(self):
        return Estimate(self.value, self.parts + self.scatter)


class Scatter:
    """The scatter of a measure: of each run, pooled where it is the same (section 2)."""

    def __init__(self, runs, paired):
        pools = [[sum(x) for x in zip(*(reading.squares for reading in run))] or (0, 0) for run in runs]
        self.kept_apart, self.paired = False, paired
        self.steps = [max((reading.step for reading in run), default=0) for run in runs]
        (b, nu_b), (a, nu_a) = pools
        if nu_b and nu_a and not paired:
            least = float(max(self.steps)) ** 2 / 12
            ratio = (float(b) / nu_b + least) / (float(a) / nu_a + least)
            tails = stats.f.cdf(ratio, nu_b, nu_a), stats.f.sf(ratio, nu_b, nu_a)
            self.kept_apart = bool(2 * min(tails) < KEEP_APART)
        if self.kept_apart or (paired and nu_b and nu_a):
            self.runs = [(math.sqrt(b / nu_b), nu_b), (math.sqrt(a / nu_a), nu_a)]
        elif nu_b + nu_a:
            self.runs = [(math.sqrt((b + a) / (nu_b + nu_a)), nu_b + nu_a)] * 2
        else:
            self.runs = None

    def as_result(self):
        if not self.runs:
            return None
        found = [{"s": s, "dof": float(nu)} for s, nu in self.runs]
        return {"baseline": found[0], "retest": found[1], "kept_apart": self.kept_apart}


class RunToRun:
    """What the machine varies by from run to run, where it is stated (section 3)."""

    def __init__(self, table):
        self.table = table
        self.dof = float(table["runs"] - 1) if "runs" in table else math.inf

    def of(self, reading):
        if "deviation" in self.table:
            return float(self.table["deviation"])
        share = float(self.table["percent"]) / 100
        return share * abs(float(reading.value)) / (1 - z_at(0.95) * share)

    def contradicted(self, scatter, runs):
        """Of each run, whether its repeats scatter by more than is stated, beyond chance."""
        r2 = [self.of(reading) ** 2 for run in runs for reading in run]
        r2 = math.fsum(r2) / len(r2)
        return [s > 0 and (r2 == 0 or self.beyond(s * s / r2, nu) < KEEP_APART) for s, nu in scatter.runs or [(0, 0)] * 2]

    def beyond(self, ratio, nu):
        if self.dof == math.inf:
            return stats.chi2.sf(ratio * nu, nu)
        return stats.f.sf(ratio, nu, self.dof)


class Pair:
    """One figure in both runs: what is compared, and what its readings have in common.

    Either may be None, where it was not read; then nothing is compared.
    `slopes` pass the uncertainty of what was read on to what was worked out of it.
    """

    def __init__(self, part, position, unit, readings, measured, slopes=(1.0, 1.0), values=None):
        self.part, self.position, self.unit = part, position, unit
        self.readings, self.measured, self.slopes = readings, measured, slopes
        self.values = values or [reading and reading.value for reading in readings]
        self.worked_out = slopes != (1.0, 1.0)
        before, after = readings
        both = before and after
        same = both and before.tool and before.tool is after.tool and not before.own and not after.own
        self.common = before.tool if same and "common_error" in before.tool else None
        self.size = max((getattr(reading, "size", 0.0) for reading in readings), default=0.0)

    def estimates(self):
        found = []
        for value, slope, reading in zip(self.values, self.slopes, self.readings):
            if reading:
                parts = [p._replace(u=p.u * abs(slope)) for p in reading.parts + reading.scatter]
                found.append(Estimate(value, parts, size=self.size))
            else:
                found.append(None)
        return found

    def combined(self, value, weights):
        """A weighted sum of both readings, as a change; only the size of weights matters
        but where errors are shared."""
        before, after = self.readings
        wb, wa = (float(w) * slope for w, slope in zip(weights, self.slopes))
        shared = ("accuracy", "stated") if self.common else ()
        parts = [p._replace(u=abs(w) * p.u) for w, reading in ((wb, before), (wa, after))
                 for p in reading.parts if p.source not in shared]
        if self.common:  # one error, in both: its two effects add up with their signs
            parts += [error._replace(u=abs(wb * error.u + wa * after.errors[key].u))
                      for key, error in before.errors.items()]
        parts += self.measured.scatter_of(before, after, wb, wa, weights)
        return Estimate(value, parts, is_change=True)

    def difference(self):
        return self.combined(self.values[1] - self.values[0], (-1, 1))

    def relative(self):
        """The difference as a share of the baseline's size, where that has a meaning."""
        b, a = self.values
        if not self.measured.true_zero or a * b < 0 or b == 0:
            return None
        if abs(float(b)) <= self.estimates()[0].expanded() * (1 + 1e-12):
            return None
        return self.combined((a - b) / abs(b), (-(a / b) / b, 1 / b))


def has_true_zero(measure, unit):
    return SORT[unit] not in NO_ZERO and (
        SORT[unit] != "pressure" or measure.get("pressure") in ("absolute", "difference"))


class Measured:
    """All readings of one measure in both runs, at each of its positions.

    `rows` are those of each run by position; `positions` all that are planned, in order.
    """

    def __init__(self, measure, tables, rows, unit, tools, by_eye=None, positions=(None,), points=None):
        self.measure, self.positions = measure, list(positions)
        self.setting_unit = points and points["unit"]
        self.true_zero = has_true_zero(measure, unit)
        by_eye = measure.get("judged_by_eye_seconds", 0) if by_eye is None else by_eye
        self.why = [{p: row.get("not_taken") for p, row in run.items()} for run in rows]
        self.by_run = [{p: Reading(table, run[p], unit, tools, by_eye)
                        for p in self.positions if p in run and "not_taken" not in run[p]}
                       for table, run in zip(tables, rows)]
        if points and "held_within" in points:
            for run in self.by_run:
                add_settings(run, self.positions, points["held_within"])
        self.runs = [list(run.values()) for run in self.by_run]
        # What varies from run to run takes the place of the scatter of the pairs.
        paired = measure.get("paired", False)
        self.pairs_count = paired and "run_to_run" not in measure
        self.scatter = Scatter(self.runs, paired)
        # Whether the scatter of both runs is one component, also where figures are worked out of it.
        self.shared = {measure.get("id"): not self.scatter.kept_apart}
        self.run_to_run = RunToRun(measure["run_to_run"]) if "run_to_run" in measure else None
        known = self.run_to_run and any(self.runs)
        exceeding = self.run_to_run.contradicted(self.scatter, self.runs) if known else [False, False]
        self.exceeds = any(exceeding)
        shown = measure.get("separate_runs", False) and bool(self.scatter.runs)
        self.variation_known = bool(self.run_to_run) or shown
        for which, run in enumerate(self.runs):
            for reading in run:
                s, nu = self.scatter.runs[which] if self.scatter.runs else (0.0, 1)
                counts = not self.run_to_run or exceeding[which]
                reading.scatter.append(Part("repeatability", s / math.sqrt(reading.n) if counts else 0.0, float(nu)))
                if self.run_to_run:
                    # Values that come each from a run of its own have its mean.
                    runs_of_it = reading.n if measure.get("separate_runs") else 1
                    r = self.run_to_run.of(reading) / math.sqrt(runs_of_it)
                    reading.scatter.append(Part("run-to-run", r, self.run_to_run.dof))

    def scatter_of(self, before, after, wb, wa, exact):
        """What scatter, and what varies from run to run, add to a weighted sum."""
        parts = []
        for b, a in zip(before.scatter, after.scatter):
            if b.source == "repeatability" and self.pairs_count:
                # In exact figures: pairs that differ by the same do not scatter.
                each = [exact[0] * x * before.scale + exact[1] * y * after.scale
                        for x, y in zip(before.values, after.values)]
                mean = sum(each) / len(each)
                variance = sum((x - mean) ** 2 for x in each) / (len(each) - 1)
                parts.append(Part(b.source, math.sqrt(variance / len(each)), float(len(each) - 1)))
            elif b.source == "repeatability" and self.scatter.kept_apart:
                parts += [b._replace(u=abs(wb) * b.u), a._replace(u=abs(wa) * a.u)]
            else:
                parts.append(b._replace(u=math.hypot(wb * b.u, wa * a.u)))
        return parts


def positions_of(measure, job):
    """The names of the positions that are planned; one without a name where it is read once."""
    if "at" not in measure:
        return [None]
    if points := points_of(measure, job):
        return [written(setting) for setting in points["settings"]]
    sets = {table["id"]: table for table in job["limits"].get("positions", [])}
    table = sets.get(measure["at"], {"count": job["job"]["machine"].get("cylinders")})
    return table["names"] if "names" in table else [str(n) for n in range(1, int(table["count"]) + 1)]


def rows_of(reading, positions):
    """What was written of each position; of all the same where the whole was not read."""
    if "not_taken" in reading:
        return {p: reading for p in positions}
    return {place(row["at"], positions): row for row in reading["rows"]} if "rows" in reading else {None: reading}


def measured_as_read(measure, job):
    runs, positions = [job[run]["reading"][measure["id"]] for run in ("baseline", "retest")], positions_of(measure, job)
    rows = [rows_of(run, positions) for run in runs]
    return Measured(measure, runs, rows, measure["unit"], job["tools"], positions=positions,
                    points=points_of(measure, job))


def converted_values(pair):
    return [[convert(v, reading.unit, reading.to) for v in reading.values] for reading in pair.readings]


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
