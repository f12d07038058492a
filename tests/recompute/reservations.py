"""What a reader should keep in mind beside the verdict (section 10)."""

import math
import statistics
from fractions import Fraction as F

from scipy import stats

from figures import mean_of, values_of
from points import points_of
from units import convert, SORT

RUNS = ("baseline", "retest")
SOAK = 8  # hours
PLAUSIBLE = {"ambient": (-60, 60), "coolant": (-60, 150), "oil": (-60, 200)}  # °C


WORSE = ("worsened", "worse")


def of_measures(measures):
    said = []
    for m in measures:
        if m["required"]:
            said += [("conditional-pass", m["id"])] if m["outcome"] == "conditional-pass" else []
            said += [("worse-within-limit", m["id"])] if m["change"] in WORSE and m.get("at_limit") == "pass" and not m["not_taken"] else []
            said += [("variation-not-known", m["id"])] if m.get("unsure") else []
            said += [("not-taken-before", m["id"])] if m["not_taken_before"] else []
        else:
            said += [("other-outside", m["id"])] if m["outcome"] == "fail" else []
            said += [("other-worse", m["id"])] if m["change"] in WORSE else []
        said += [("scatter-not-known", m["id"])] if m.get("scatter_missing") else []
        said += [("attempts-differ", m["id"])] if m.get("attempts_differ") else []
        said += [("not-as-it-should", m["id"])] if m.get("not_as_it_should") else []
        said += [("left-out", m["id"])] if m["left_out"] else []
        said += [("worse-at", m["id"])] if m.get("worse_at") else []
        read = m.get("measured", [])
        said += [("scatters-differ", m["id"])] if any(r.scatter.kept_apart for r in read) else []
        said += [("scatter-exceeds-stated", m["id"])] if any(r.exceeds for r in read) else []
        said += [("stands-out", m["id"])] if any(stands_out(r) for r in read) else []
    needed = [m for m in measures if m["required"]]
    better = lambda m: not m.get("once") and m["change"] in ("improved", "apparently-improved")
    shown = any(better(m) or m["was"] in ("fail", "inconclusive") for m in needed)
    return said + ([("fault-not-shown",)] if needed and not shown else [])


def grubbs(n):
    """The critical value, two-sided, 1 %."""
    t = stats.t.isf(0.01 / (2 * n), n - 2)
    return (n - 1) / math.sqrt(n) * math.sqrt(t * t / (n - 2 + t * t))


def stands_out(measured):
    """Whether one of three or more repeats of a reading lies apart from the others."""
    steps = measured.scatter.steps
    for reading, step in ((reading, step) for run, step in zip(measured.runs, steps) for reading in run):
        values, n = [F(v) * reading.scale for v in reading.values], reading.n
        if n < 3 or len(set(values)) == 1:
            continue
        s = statistics.stdev(values)
        for i, x in enumerate(values):
            others = values[:i] + values[i + 1:]
            g = float(abs(x - sum(values) / n)) / float(s)
            off = float(abs(x - sum(others) / (n - 1)))
            if g > grubbs(n) and off > 3 * float(step) * (1 + 1e-12):
                return True
    return False


def misplaced(figures):
    """Whether one of them looks as if its decimal point were in the wrong place."""
    if any(x == 0 for x in figures) or len({x > 0 for x in figures}) != 1:
        return False
    for i, x in enumerate(figures):
        ratio = F(x) / F(statistics.median(figures[:i] + figures[i + 1:]))
        if any(F(8) <= r <= F("12.5") for r in (ratio, 1 / ratio)):
            return True
    return False


EXACT = {"passes", "text", "not_taken", "grade", "count", "items"}


def groups_of(table, at_points):
    """The repeats of each reading, and the readings of three or more cylinders, as they
    were written."""
    if EXACT & set(table):
        return
    if "rows" in table:
        rows = [row for row in table["rows"] if not EXACT & set(row)]
        if len(rows) >= 3 and not at_points:
            yield [mean_of(row) for row in rows]
    elif "snaps_percent" in table:
        rows = [{"values": table["snaps_percent"]}]
    else:
        rows = [table] if {"value", "values"} & set(table) else []
    for row in rows:
        if len(values_of(row)) >= 2:
            yield [F(v) for v in values_of(row)]


def of_readings(job):
    said = []
    for measure in job["limits"]["measure"]:
        if "worked_out" in measure:
            continue
        tables = [job[run]["reading"][measure["id"]] for run in RUNS]
        rows = [row for table in tables if "not_taken" not in table for row in table.get("rows", [table])
                if "not_taken" not in row]
        planned = measure.get("repeats")
        if planned and any(len(row.get("values", [None])) != planned for row in rows):
            said.append(("repeats-differ", measure["id"]))
        at_points = points_of(measure, job) is not None
        if any(misplaced(group) for table in tables for group in groups_of(table, at_points)):
            said.append(("decimal-point", measure["id"]))
    return said


def battery(job):
    turned = {c["id"] for c in job["limits"].get("condition", []) if SORT.get(c.get("unit")) in ("voltage", "rotation")}
    recorded = turned & set(job["baseline"].get("condition", {})) & set(job["retest"].get("condition", {}))
    measures = job["limits"]["measure"]
    read = {m.get("test") for m in measures if "not_taken" not in job["retest"]["reading"].get(m["id"], {})}
    if recorded or read & {"cranking-speed", "cranking-voltage"}:
        return []
    return [("battery-not-recorded", m["id"]) for m in measures if m.get("test") == "cranking-time"]


def used(run):
    tables = [*run["reading"].values(), *run.get("condition", {}).values()]
    return {table.get(key) for table in tables for key in ("instrument", "timer")}


def of_instruments(job):
    said, runs = [], [job[run] for run in RUNS]
    for tool in job["tools"].values():
        days = [run["started"].date() for run in runs if tool["id"] in used(run)]
        if "due" in tool and any(day > tool["due"] for day in days):
            said.append(("calibration-overdue", tool["id"], tool["due"].isoformat()))
        if "calibrated" in tool and any(day < tool["calibrated"] for day in days):
            said.append(("calibrated-later", tool["id"]))
    return said


def of_meter(job):
    if not all("meter" in job[run] for run in RUNS):
        return []
    unit = job["retest"]["meter"]["unit"]
    base = "h" if SORT[unit] == "time" else "km"
    before, after = (convert(job[run]["meter"]["value"], job[run]["meter"]["unit"], base) for run in RUNS)
    if after < before:
        return [("meter-backwards",)]
    ran = job["work"].get("run_in", {})
    keys = {"h": {"hours": "h"}, "km": {"kilometres": "km", "miles": "mi"}}[base]
    for key, own in keys.items():
        if key in ran and after - before < convert(ran[key], own, base) - convert(1, unit, base):
            return [("meter-behind-run-in",)]
    return []


def of_conditions(job, conditions, warm):
    said = [("other-condition", c["id"]) for c in conditions if not (c["required"] and c["bears"]) and c["state"] in ("easier", "unknown")]
    said += [("condition-helped", c["id"]) for c in conditions if c["helped"]]
    said += [] if conditions else [("no-conditions",)]
    decides = {c["id"] for c in conditions if c["required"] and c["bears"]}
    said += [("baseline-not-cold", c) for c in warm["baseline"]]
    said += [("retest-not-cold", c) for c in warm["retest"] if c not in decides]
    soak = job["retest"].get("condition", {}).get("soak", {})
    if SORT.get(soak.get("unit")) == "time" and convert(soak["value"], soak["unit"], "h") < SOAK:
        said.append(("short-soak",))
    for c in (c["id"] for c in conditions):
        if any(implausible(c, job[run].get("condition", {}).get(c, {})) for run in RUNS):
            said.append(("implausible-condition", c))
    return said


def implausible(name, table):
    sort = SORT.get(table.get("unit"))
    if name == "soak":
        return sort == "time" and table["value"] < 0
    if name not in PLAUSIBLE or sort != "temperature":
        return False
    low, high = PLAUSIBLE[name]
    return not low <= convert(table["value"], table["unit"], "°C") <= high


def words(text):
    return " ".join(text.split()).casefold()


def reservations(job, measures, conditions, warm):
    """Everything to be said, as (what, about, day)."""
    said = [("uncertainty-not-counted",)] if job["rule"] == "simple" else []
    said += of_measures(measures) + of_conditions(job, conditions, warm) + battery(job)
    if any(m.get("graded_twice") for m in measures) and words(job["baseline"]["by"]) != words(job["retest"]["by"]):
        said.append(("graded-by-others",))
    said += of_instruments(job) + of_meter(job) + of_readings(job)
    return sorted(((*s, None, None)[:3] for s in said), key=str)
