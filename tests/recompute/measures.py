"""One measure: its zones, its change, its outcome."""

import itertools
import math
import statistics
from fractions import Fraction as F

from scipy import special

from figures import (
    common_error, difference, Estimate, estimate, relative, signed_rank, Ties,
)
from units import convert, step_of

# --- Limits and changes ---

ZONES = ["pass", "conditional-pass", "conditional-fail", "fail"]
OUTCOMES = ["no-limit", "pass", "conditional-pass", "inconclusive", "fail"]
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
        return "conditional-pass" if rule == "four-zone" else "inconclusive"
    return zone if zone in ("pass", "fail") else "inconclusive"


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
    return max(outcomes, key=OUTCOMES.index, default="no-limit")


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
        # Where no change is detectable, it never meets a required improvement.
        seen = {"improved": "no-limit", "worsened": "fail"}.get(row["change"], "inconclusive")
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
            "outliers": [c for c in off if len(off) > 3 and off[c] > F("3.5") * scale]}


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
        # Without a watch the time counts as taken by hand, to the last digit that was written.
        steps = [step_of(run["clear_seconds"]) for run in runs]
        tools = tools | {f"by eye, {step}": {"unit": "s", "hand_timed": True, "resolution": step} for step in steps}
        tables = [{"unit": "s", "instrument": run.get("timer") or f"by eye, {step}"} for run, step in zip(runs, steps)]
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
    before_ = [outcome_of(row["before"]["zone"], rule) if row["before"] else "no-limit" for row, *_ in done]
    steady = [row["common_error"] and not {"repeatability", "hand-timing"} & {s for s, *_ in row["difference"].parts}
              for row, *_ in done]
    return {"values": [row for row, *_ in done], "balance": scales, "change": overall(changes + [None]),
            "outcome": worst(outcome for _, outcome, _, _ in done), "was": worst(before_), "steady": any(steady),
            "at_limit": worst(at_limit for *_, at_limit in done)}


def clopper_pearson(passes, attempts):
    low = special.betaincinv(passes, attempts - passes + 1, 0.025) if passes else 0.0
    high = special.betaincinv(passes + 1, attempts - passes, 0.975) if passes < attempts else 1.0
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
    before, after = ({row.get("cylinder"): (row["passes"], row["attempts"]) for row in run.get("rows", [run])}
                     for run in (before, after))
    counts = []
    for cylinder, (a, n) in before.items():
        b, m = after[cylinder]
        p, limit = fisher(a, n, b, m), measure.get("min_passes")
        counts.append({
            "cylinder": cylinder, "baseline": [a, n], "retest": [b, m], "p": p,
            "smallest_p": fisher(0, n, m, m), "change": by_p(p, F(b, m) > F(a, n)),
            "baseline_interval": clopper_pearson(a, n), "retest_interval": clopper_pearson(b, m),
            "outcome": "no-limit" if limit is None else "pass" if b >= limit else "fail",
        })
    change, paired = counts[0]["change"], None
    if measure["kind"] == "cylinder-passes":
        # McNemar: the cylinders that turned, against an even chance for either way. A
        # cylinder passes if it meets the limit; without a limit, if every attempt passed.
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
    was = worst("no-limit" if limit is None else "pass" if c["baseline"][0] >= limit else "fail" for c in counts)
    return {"counts": counts, "paired": paired, "change": change, "was": was,
            "outcome": worst(c["outcome"] for c in counts)}
