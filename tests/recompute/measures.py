"""One measure: its zones, its change, its outcome (sections 3 to 5 and 7)."""

import math
import statistics
from fractions import Fraction as F

from scipy import special

from expansion import Estimate, LEVEL
from figures import converted_values, Pair, signed_rank
from limits import band_of, exactly, FixedLimits
from nearness import every, relations, relations_of_expanded, SURELY_APART, tie
from smoke import smoke_pairs
from units import SORT

ZONES = ["pass", "conditional-pass", "conditional-fail", "fail"]
OUTCOMES = ["no-limit", "pass", "conditional-pass", "inconclusive", "fail"]
CHANGES = ["worsened", "improved", "apparently-improved", "changed", "no-detectable-change", None]


def worst(outcomes):
    return max(outcomes, key=OUTCOMES.index, default="no-limit")


def overall(changes):
    return min(changes, key=CHANGES.index, default=None)


def outcome_of(zone, rule):
    if zone == "conditional-pass":
        return {"four-zone": "conditional-pass", "simple": "pass"}.get(rule, "inconclusive")
    if zone == "conditional-fail":
        return "fail" if rule == "simple" else "inconclusive"
    return zone if zone in ("pass", "fail") else "inconclusive"


# --- At the limit (section 5) ---


class Probability(float):
    """One that is known as well as rounding of the figure lets it be."""

    rounded = 0.0


def conformity(est, low, high, size=0.0):
    """The probability that the true value is inside, for a normal error.

    Each bound is an estimate or None; what is not known of it counts beside the reading, there.
    """
    both = [None if bound is None else beside(est, bound).spread for bound in (low, high)]
    found = Probability(probability(est.value, *(bound and bound.value for bound in (low, high)), *both))
    least = min(spread for spread in both if spread is not None)
    found.rounded = 4e-15 * size / least if least else 0.0
    return found


def beside(est, bound):
    """A reading with what is not known of a bound, as independent of it."""
    return Estimate(est.value, est.parts + bound.parts) if bound.parts else est


def probability(value, low, high, at_low, at_high):
    """Of a value between two bounds, with the spread at each."""
    def below(bound, spread, up):
        if bound is None:
            return 1.0 if up else 0.0
        if spread == 0:
            sides = relations(value, bound)
            return float(min(sides) <= 0) if up else float(max(sides) < 0)
        return float(special.ndtr(float(bound - value) / spread))

    if high is None or low is not None and value > (low + high) / 2:
        # From the nearer bound, to keep the digits of a small probability.
        value, low, high, at_low, at_high = -value, None if high is None else -high, -low, at_high, at_low
    # Bounds that are known differently well can leave less than nothing.
    return max(0.0, below(high, at_high, True) - below(low, at_low, False))


def against(room, guard, size, est):
    """How a distance compares with U; either way where U rests on a quantile of Student's or is solved twice."""
    rough = any(p.source == "worked-out" or p.dof < math.inf for p in est.parts)
    if rough and abs(float(room) - guard) <= SURELY_APART * max(abs(float(room)), guard):
        return {-1, 0, 1}
    return relations(room, guard, size)


def standing(est, low, high, rule, theirs, size=0.0):
    """Zone and probability of conformity; None without a limit. Bounds are estimates."""
    bounds = [(bound, sign) for bound, sign in ((low, 1), (high, -1)) if bound is not None]
    if not bounds:
        return None
    sums = [beside(est, bound) for bound, _ in bounds]
    guards = [0.0 if rule == "simple" else both.expanded() for both in sums]
    size = max(size, *(abs(float(x.value)) for x in (est, *(bound for bound, _ in bounds))), *(b.size for b, _ in bounds))
    p = conformity(est, low, high, size)
    coarse = {-1}
    if len(bounds) == 2:
        coarse = relations(sum(guards), high.value - low.value, size)
        if any(bound.parts for bound, _ in bounds):
            coarse = relations_of_expanded(sum(guards), float(high.value - low.value), size)
    # Of each bound: inside it or not, and by how much against the guard band.
    sides = []
    for (bound, sign), guard, both in zip(bounds, guards, sums):
        room = sign * (est.value - bound.value)
        at = {r * sign for r in relations(est.value, bound.value, size)}
        sides += [at, against(room, guard, size, both), against(-room, guard, size, both)]
    likely = {True, False} if abs(p - 0.5) < 1e-9 else {p > 0.5}
    found = set()
    for too_coarse, probable, *answers in every(coarse, likely, *sides):
        rows = [(*answers[i:i + 3], guards[i // 3]) for i in range(0, len(answers), 3)]
        inside = all(at >= 0 for at, *_ in rows)
        if too_coarse > 0 and inside:
            zone = "conditional-pass" if probable else "conditional-fail"
        elif inside:
            # Without a guard band what is inside, or on the bound, is inside by enough.
            enough = all(by >= 0 or guard == 0 for _, by, _, guard in rows)
            zone = "pass" if enough else "conditional-pass"
        else:
            far = any(at < 0 and (beyond > 0 or guard == 0) for at, _, beyond, guard in rows)
            zone = "fail" if far else "conditional-fail"
        found.add((zone, too_coarse > 0))
    claim = theirs and (theirs.get("zone"), theirs.get("too_coarse"))
    zone, too_coarse = tie(found, claim)
    return {"zone": zone, "conformity": p, "too_coarse": too_coarse}


# --- The change (section 4) ---


def better_of(measure):
    by_bounds = {(False, True): "lower", (True, False): "higher", (True, True): "inside"}
    if "target" in measure:
        return measure.get("better", "inside")
    low, high = (end in measure or f"{end}_by" in measure for end in ("min", "max"))
    if not low and not high and measure.get("limit_rows"):
        low, high = (all(end in row or "target" in row for row in measure["limit_rows"]) for end in ("min", "max"))
    return measure.get("better", by_bounds.get((low, high)))


def gain_of(pair, better, bands):
    """How much better the retest is, as an estimate; negative if it is worse."""
    b, a = pair.values
    if better is None:
        return None
    if better != "inside":
        return pair.combined((a - b) * {"higher": 1, "lower": -1}[better], (-1, 1))
    # Of each run, how far it lies outside, and the bound that it has crossed.
    (off_b, crossed_b), (off_a, crossed_a) = (outside(v, band) for v, band in zip((b, a), bands))
    # Only in the way to one and the same bound does a shared error cancel.
    same = crossed_b is not None and crossed_b == crossed_a
    gain = pair.combined(off_b - off_a, (-1, 1) if same else (1, 1))
    parts = [p for end, band in ((crossed_b, bands[0]), (crossed_a, bands[1])) if end is not None for p in band[end].parts]
    return Estimate(gain.value, gain.parts + parts, is_change=True) if parts else gain


def outside(value, band):
    for end, sign in ((0, -1), (1, 1)):
        if band[end] is not None:
            bound = band[end].value
            same = abs(value - bound) <= 1e-12 * band[end].size
            if sign * (value - bound) > 0 and relations(value, bound) != {0} and not same:
                return sign * (value - bound), end
    return F(0), None


def changes_of(gain, difference, size, level=LEVEL):
    """What may be claimed, before conditions are looked at: a set, at an edge."""
    if gain is None:
        return {None}
    u, found = gain.expanded(level), set()
    moved = relations(abs(difference.value), difference.expanded(level), size)
    for up, down, any_ in every(relations(gain.value, u, size), relations(-gain.value, u, size), moved):
        found.add("improved" if up > 0 else "worsened" if down > 0 else "changed" if any_ > 0 else "no-detectable-change")
    return found


def over_others(pair):
    """Whether the figures of both runs are worked out over other positions."""
    return getattr(pair.measured, "over_others", False)


def of_several(shared, own):
    """Of several looks: what is better or worse at the shared level, else what has changed."""
    change = overall("no-detectable-change" if c == "changed" else c for c in shared)
    return "changed" if change == "no-detectable-change" and "changed" in own else change


def claimed(change, fair):
    return "apparently-improved" if change == "improved" and not fair else change


# --- How much one run may differ from the next (section 3) ---


def root(x, u):
    """√(x² − u²); null where a variation of nothing would do."""
    return math.sqrt(x * x - u * u) if x > u and relations(x, u) != {0} else None


def times(factor, x):
    return None if x is None else factor * x


def holds_unless(row, band, gain, share_gain, required_gain, rule):
    """The variation from run to run that would undo each conclusion."""
    before, after = row["baseline"], row["retest"]
    found = {"change": None, "limit": None, "improvement": None}
    if row["change"] in ("improved", "apparently-improved", "worsened"):
        found["change"] = root(abs(float(gain.value)), gain.expanded())
    if row["after"] and row["after"]["zone"] in ("pass", "fail"):
        rooms = [(float(sign * (after.value - bound.value)), bound) for bound, sign in zip(band, (1, -1)) if bound is not None]
        passes = row["after"]["zone"] == "pass"
        u = lambda bound: 0.0 if rule == "simple" else beside(after, bound).expanded()
        left = [root(abs(room), u(bound)) for room, bound in rooms if passes or room < 0]
        found["limit"] = times(math.sqrt(2), min(left) if left and None not in left else None)
    if row["improvement"] and row["improvement"]["zone"] in ("pass", "fail"):
        of = share_gain or gain
        u = 0.0 if rule == "simple" else of.expanded()
        left = root(abs(float(of.value - required_gain)), u)
        if share_gain:
            ratio = float(after.value / before.value)
            left = times(math.sqrt(2) * abs(float(before.value)) / math.sqrt(1 + ratio**2), left)
        found["improvement"] = left
    return found


# --- One measure ---


def size_of(pair):
    """Of what was rounded on the way to these figures."""
    values = [abs(float(v)) for v in pair.values if v is not None]
    return max(pair.size, *values, 0.0) + (500 if SORT[pair.unit] == "temperature" else 0)


class Rules:
    """What one value is judged by."""

    def __init__(self, measure, limits, p, rule, better, improvement=(None, None)):
        self.bands = [limits.of(p, which) for which in (0, 1)]
        self.should, self.limited = limits.should(p), limits.limited(p)
        self.service = limits.before(p)
        self.rule, self.better, (self.by, self.percent) = rule, better, improvement
        self.standard, self.limits = measure.get("bands"), limits

    def shown(self, pair):
        """What the result says of the value before anything is judged."""
        ends = lambda band: [bound and bound.value for bound in band]
        (low, high), (least, most) = ends(self.bands[1]), ends(self.should)
        return {"part": pair.part, "position": pair.position, "unit": pair.unit, "min": low, "max": high,
                "should_min": least, "should_max": most, "setting_unit": getattr(pair.measured, "setting_unit", None),
                "limit_by": self.limits.as_result(pair.position, pair.readings)}


    def of_baseline(self):
        """The bounds at which the baseline is placed."""
        return self.service[0] if self.service else self.bands[0]

    def before_limit(self, baseline, theirs, size):
        """What the result says of the limit of what was in service."""
        if self.service is None:
            return None
        (low, high), (least, most) = [[bound and bound.value for bound in band] for band in self.service]
        should = standing(baseline, *self.service[1], self.rule, (theirs.get("before_limit") or {}).get("should"), size) if baseline else None
        return {"min": low, "max": high, "should_min": least, "should_max": most, "should": should}


def bands_of(estimates, standard, size, theirs):
    if not standard:
        return None
    if estimates[0] is None and estimates[1] is None:
        return None
    named = theirs.get("bands") or {}
    return {run: band_of(est, standard, size, named.get(run)) for run, est in zip(("baseline", "retest"), estimates)}


def compare(pair, rules, fair, as_measured, theirs):
    """One value before and after: the result's row, and what the measure needs of it."""
    rule, by, percent = rules.rule, rules.by, rules.percent
    before, after = pair.estimates()
    size = max(size_of(pair), *(bound.size for band in rules.bands for bound in band if bound is not None), 0.0)
    difference, share, gain = pair.difference(), pair.relative(), gain_of(pair, rules.better, rules.bands)
    share_gain = required = improvement = None
    if by is not None:  # a lower limit on the gain
        required = by
        improvement = standing(gain, exactly(by), None, rule, theirs.get("improvement"), size)
    elif percent is not None and share is None:
        improvement = {"zone": None, "conformity": None, "too_coarse": False}
    elif percent is not None:
        required = F(percent) / 100
        share_gain = pair.combined(gain.value / abs(pair.values[0]), (-(pair.values[1] / pair.values[0]) / pair.values[0], 1 / pair.values[0]))
        improvement = standing(share_gain, exactly(required), None, rule, theirs.get("improvement"), 1.0)
    options = {claimed(change, fair) for change in changes_of(gain, difference, size)}
    if over_others(pair) and options != {None}:
        options = {"other-positions"}
    common = pair.common and {"instrument": pair.common["id"], "reason": pair.common["common_error"]}
    row = {
        **rules.shown(pair), "baseline": before, "retest": after, "difference": difference, "relative": share,
        "change": tie(options, theirs.get("change")), "common_error": common,
        "signed_rank": signed_rank(converted_values(pair)) if pair.measured.pairs_count else None,
        "as_measured": as_measured and dict(zip(("baseline", "retest"), as_measured.estimates())),
        "before": standing(before, *rules.of_baseline(), rule, theirs.get("before"), size),
        "before_limit": rules.before_limit(before, theirs, size),
        "after": standing(after, *rules.bands[1], rule, theirs.get("after"), size),
        "should": standing(after, *rules.should, rule, theirs.get("should"), size),
        "bands": bands_of((before, after), rules.standard, size, theirs),
        "improvement": improvement, "scatter": pair.measured.scatter and pair.measured.scatter.as_result(),
        "not_taken": None, "holds_unless": None,
    }
    if not pair.measured.variation_known:
        row["holds_unless"] = holds_unless(row, rules.bands[1], gain, share_gain, required, rule)
    return row, Value(row, pair, gain, size, rule, required is not None or improvement is not None)


class Value:
    """What the measure as a whole needs of one of its values."""

    def __init__(self, row, pair, gain, size, rule, has_requirement):
        self.row, self.pair, self.gain, self.size = row, pair, gain, size
        self.at_limit = outcome_of(row["after"]["zone"], rule) if row["after"] else "no-limit"
        self.coarse = bool(row["after"]) and self.at_limit == "inconclusive" and row["after"]["too_coarse"]
        self.was = outcome_of(row["before"]["zone"], rule) if row["before"] else "no-limit"
        self.at_gain = "no-limit"
        self.improved = row["change"] in ("improved", "apparently-improved")
        if has_requirement:
            self.at_gain = outcome_of(row["improvement"]["zone"], rule)
            if row["change"] == "worsened":
                self.at_gain = "fail"
            elif not self.improved:
                self.at_gain = worst([self.at_gain, "inconclusive"])
        self.without_variation = worst([self.at_limit, self.at_gain])
        self.not_taken = self.not_taken_before = False
        x = row["holds_unless"] and row["holds_unless"]["change"]
        if x is not None and self.at_gain in ("pass", "conditional-pass") and x < gain.expanded():
            self.at_gain = "inconclusive"
        self.outcome = worst([self.at_limit, self.at_gain])
        # Whether a reader must be told that one run may differ from the next.
        self.unsure = False
        if self.improved and x is not None:
            of_baseline = 0.2 * abs(float(row["baseline"].value)) if row["relative"] else 0.0
            self.unsure = x < 3 * gain.expanded() or x < of_baseline
        known = {p.source for p in row["difference"].parts} & {"repeatability", "hand-timing", "run-to-run"}
        self.scatter_missing = bool(row["common_error"]) and not known


def not_compared(pair, rules, why, theirs):
    """A value that was not read in both runs: of the one that was, its place at the limit."""
    requirement = rules.by is not None or rules.percent is not None
    baseline, retest = pair.estimates()
    row = dict.fromkeys(("baseline", "difference", "relative", "change", "common_error", "signed_rank", "scatter",
                         "before", "after", "should", "improvement", "holds_unless"))
    row |= {**rules.shown(pair), "baseline": baseline, "retest": retest, "not_taken": why,
            "bands": bands_of((baseline, retest), rules.standard, size_of(pair), theirs),
            "before_limit": rules.before_limit(baseline, theirs, size_of(pair))}
    for key, est, band in (("before", baseline, rules.of_baseline()), ("after", retest, rules.bands[1]), ("should", retest, rules.should)):
        if est:
            row[key] = standing(est, *band, rules.rule, theirs.get(key), size_of(pair))
    return row, NotCompared(row, rules.rule, requirement, rules.limited)


class NotCompared:
    """What the measure as a whole needs of a value that was not read in both runs."""

    pair = gain = None
    coarse, improved, unsure, scatter_missing = False, False, False, False

    def __init__(self, row, rule, requirement, bounds):
        self.row = row
        self.not_taken_before = row["retest"] is not None
        self.not_taken = not self.not_taken_before and (bounds or requirement)
        self.was = outcome_of(row["before"]["zone"], rule) if row["before"] else "no-limit"
        self.at_limit = outcome_of(row["after"]["zone"], rule) if row["after"] else "no-limit"
        self.coarse = bool(row["after"]) and self.at_limit == "inconclusive" and row["after"]["too_coarse"]
        self.at_gain = "inconclusive" if requirement and row["retest"] else "no-limit"
        self.outcome = "inconclusive" if self.not_taken else worst([self.at_limit, self.at_gain])
        self.without_variation = self.outcome


def balance(positions):
    """The positions of a run against each other."""
    values = list(positions.values())
    middle = statistics.median(values)
    off = {c: abs(v - middle) for c, v in positions.items()}
    # Modified z; where half of them agree and the MAD is 0, by the mean deviation.
    mad, mean_off = statistics.median(off.values()), sum(off.values()) / len(off)
    scale = mad / F("0.6745") or mean_off * F("1.253314")
    return {"mean": sum(values) / len(values), "spread": max(values) - min(values),
            "outliers": [c for c in off if len(off) > 3 and off[c] > F("3.5") * scale]}


def pairs_of_values(measure, measured, limits, rule):
    """One pair of each position, with its bounds."""
    improvement = measure.get("improve_by"), measure.get("improve_percent")
    part = "value" if measured.positions == [None] else "position"
    for p in measured.positions:
        # Without its bound a reading counts as not taken.
        lost = [limits.missing(p, which) for which in (0, 1)]
        readings = [None if gone else run.get(p) for run, gone in zip(measured.by_run, lost)]
        pair = Pair(part, p, measure["unit"], readings, measured)
        rules = Rules(measure, limits, p, rule, better_of(measure), improvement)
        yield pair, rules, None, [why.get(p) or gone for why, gone in zip(measured.why, lost)]


def scales_of(measure, measured, pairs, limits):
    """The balance of each run, where all positions have the same limits."""
    runs = [{pair.position: one.value for pair, *_ in pairs if (one := pair.readings[which])} for which in (0, 1)]
    if measured.positions == [None] or measured.setting_unit or "limit_rows" in measure or not all(runs):
        return None
    if any(figure.positions != [None] for figure in limits.by.values()):  # each has its own
        return None
    return {run: balance(found) for run, found in zip(("baseline", "retest"), runs)}


def as_it_should_not(row, rule):
    """Whether a value is clearly not what it should be besides."""
    return bool(row["should"] and outcome_of(row["should"]["zone"], rule) == "fail")


def judge_values(measure, runs, measured, limits, rule, tools, fair, theirs):
    """Kinds `value` (once, or at several positions) and `smoke`."""
    scales = None
    if measure["kind"] == "smoke":
        why = [run.get("not_taken") for run in runs]
        pairs = [(pair, Rules(measure, FixedLimits(limit), None, rule, "lower"), read, why)
                 for pair, limit, read in smoke_pairs(measure, runs, tools)]
    else:
        pairs = list(pairs_of_values(measure, measured, limits, rule))
        scales = scales_of(measure, measured, pairs, limits)
    answers = theirs.get("values", []) + [{}] * len(pairs)
    done = []
    for (pair, own, read, why), t in zip(pairs, answers):
        if all(pair.readings):
            done.append(compare(pair, own, fair, read, t))
        else:
            done.append(not_compared(pair, own, why[1] or why[0], t))
    values = [value for _, value in done]
    # Many looks at once: the claim for the whole is made at a shared level. Opacity and
    # absorption coefficient are one look.
    compared = [v for v in values if v.pair]
    parts = {v.row["part"] for v in compared}
    several = parts == {"position"}
    looks = len(compared) if several else max(1, len({"opacity" if p == "absorption" else p for p in parts}))
    changes = [{claimed(c, fair) for c in changes_of(v.gain, v.row["difference"], v.size, 1 - 0.05 / looks)} for v in compared]
    own = [v.row["change"] for v in compared]
    change = tie({of_several(chosen, own) for chosen in every(*changes)} or {None}, theirs.get("change"))
    if len(compared) == 1 or "other-positions" in own:
        change = own[0]
    elif not compared:
        change = None
    outcome = worst(v.outcome for v in values)
    scatters = {id(pair.measured): pair.measured for pair, *_ in pairs}.values()
    return {
        "values": [row for row, _ in done], "balance": scales, "change": change, "outcome": outcome,
        "was": worst(v.was for v in values), "at_limit": worst(v.at_limit for v in values),
        "coarse": any(v.coarse for v in values),
        "by_variation": outcome == "inconclusive" and worst(v.without_variation for v in values) != "inconclusive",
        "unsure": any(v.improved and v.row["holds_unless"] for v in values)
        and all(v.unsure for v in values if v.improved),
        "scatter_missing": any(v.scatter_missing for v in values),
        "not_as_it_should": worst(v.at_limit for v in values) in ("pass", "conditional-pass")
        and not any(v.not_taken for v in values) and any(as_it_should_not(row, rule) for row, _ in done),
        "not_taken": any(v.not_taken for v in values),
        "not_taken_before": any(v.not_taken_before for v in values),
        "measured": [m for m in scatters if m.scatter],
    }
