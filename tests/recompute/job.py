"""The whole job: measures, conditions, reservations, verdict."""

import itertools

from figures import difference, estimate
from measures import judge_counts, judge_values, NEAR, tie
from units import convert, SORT, STEP_OF


def judge_measure(job, measure, theirs):
    before, after = (job[run]["reading"][measure["id"]] for run in ("baseline", "retest"))
    found = {"id": measure["id"], "required": measure.get("required", False), "values": [], "counts": [],
             "balance": None, "paired": None, "change": None, "outcome": "no-limit", "was": "no-limit",
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
        if m["required"] and m["outcome"] == "conditional-pass":
            said.append(("conditional-pass", m["id"]))
        if not m["required"]:
            said += [("other-outside", m["id"])] if m["outcome"] == "fail" else []
            said += [("other-worse", m["id"])] if m["change"] == "worsened" else []
        said += [("scatter-not-known", m["id"])] if m["steady"] else []
    needed = [m for m in measures if m["required"]]
    if needed and not any(m["change"] == "improved" or m["was"] in ("fail", "inconclusive") for m in needed):
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
        run_in = job["work"].get("run_in", {}).get("hours")
        step = convert(1, runs[1]["meter"]["unit"], "h")  # a meter may step by one
        if after < before:
            said.append(("meter-backwards",))
        elif run_in is not None and after - before + step < run_in:
            said.append(("meter-behind-run-in",))
    for measure in job["limits"]["measure"]:
        rows = [row for run in runs for row in run["reading"][measure["id"]].get("rows", [run["reading"][measure["id"]]])]
        if any(len(row.get("values", [None])) != measure.get("repeats", len(row.get("values", [None]))) for row in rows):
            said.append(("repeats-differ", measure["id"]))
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
    open_ = [m for m in needed if m["outcome"] == "inconclusive"]
    doubts = [("inconclusive" if at_limit(m) == "inconclusive" else "no-improvement-shown", m["id"]) for m in open_]
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
