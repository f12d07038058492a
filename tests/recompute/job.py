"""The whole job: measures, conditions, verdict (sections 8 and 9)."""

import itertools

from counts import judge_counts
from exact import judge_exact
from expansion import Estimate
from figures import measured_as_read, positions_of, Reading
from limits import Limits
from lists import judge_list
from measures import judge_values
from nearness import every, relations, relations_of_expanded, tie
from rates import judge_rate
from reservations import reservations
from smoke import opacity_once
from units import SORT, STEP_OF
from worked_out import WorkedOut

RUNS = ("baseline", "retest")
# What is reckoned for the verdict and the reservations, but is no key of the result.
OWN_KEYS = ("at_limit", "was", "coarse", "by_variation", "unsure", "scatter_missing", "measured",
            "attempts_differ", "helped", "not_taken", "not_taken_before", "not_as_it_should", "worse_at",
            "once", "graded_twice", "excused", "bears", "reading_taken")


def measured_all(job):
    """What was read of each measure, and worked out from it, in the order of the plan."""
    found = {}
    for measure in job["limits"]["measure"]:
        if "worked_out" in measure:
            found[measure["id"]] = WorkedOut(measure, job, found)
        elif measure["kind"] == "value":
            found[measure["id"]] = measured_as_read(measure, job)
    return found


def missing(job, measure, measured, limits):
    """Of both runs, why the whole measure was not read; None where something was."""
    if measured:
        found = []
        for which, (run, why) in enumerate(zip(measured.by_run, measured.why)):
            lost = {p: why.get(p) or limits.missing(p, which) for p in measured.positions}
            found.append(None if any(reason is None for reason in lost.values()) else next(iter(lost.values())))
        return found
    return [job[run]["reading"][measure["id"]].get("not_taken") for run in RUNS]


def judge_measure(job, measure, all_measured, fair, theirs):
    measured = all_measured.get(measure["id"])
    limits = measured and Limits(measure, job, all_measured, measured.positions)
    runs = [job[run]["reading"].get(measure["id"], {}) for run in RUNS]
    why = missing(job, measure, measured, limits)
    found = {"id": measure["id"], "required": measure.get("required", False), "values": [], "counts": [],
             "fair_conditions": fair, "exact": None, "rate": None, "list": None, "balance": None, "paired": None, "change": None, "outcome": "no-limit", "was": "no-limit",
             "not_taken": False, "not_taken_before": False, "left_out": None}
    if any(left := getattr(measured, "left_out", [])):
        found["left_out"] = dict(zip(RUNS, left))
    if why[1]:
        return found | {"outcome": "inconclusive", "not_taken": True, "measured": read_once(job, measure, measured, runs)}
    if "passes" in measure["kind"]:
        found |= judge_counts(measure, *runs, positions_of(measure, job), fair)
    elif measure["kind"] == "list":
        found |= judge_list(measure, *runs, fair)
    elif "per" in measure:
        found |= judge_rate(measure, *runs, job["rule"], fair, theirs)
    elif measure["kind"] in ("grade", "count"):
        found |= judge_exact(measure, *runs, positions_of(measure, job), fair)
    elif measure["kind"] != "text":
        found |= judge_values(measure, runs, measured, limits, job["rule"], job["tools"], fair, theirs)
    return found | {"not_taken_before": bool(why[0]) or found["not_taken_before"]}


def read_once(job, measure, measured, runs):
    """The reading of the other run, which is looked at for its own sake."""
    if measure["kind"] == "smoke" and "not_taken" not in runs[0]:
        return opacity_once(measure, runs[0], job["tools"])
    return [measured] if measured and measured.scatter else []


# --- Conditions ---


def reading_of(table, unit, tools):
    return Reading(table, table, unit, tools)


def bare_difference(before, after):
    """Retest minus baseline: nothing is common, and there is no half step."""
    return Estimate(after.value - before.value, [*before.parts, *after.parts])


def words(text):
    return " ".join(text.split()).casefold()


def judge_condition(job, condition, theirs):
    runs = [job[run].get("condition", {}).get(condition["id"]) for run in RUNS]
    state, diff, unit, helped = "unknown", None, condition.get("unit"), False
    if all(runs) and unit is None:
        state = "matched" if words(runs[0]["text"]) == words(runs[1]["text"]) else "unknown"
    elif all(runs):
        before, after = (reading_of(run, unit, job["tools"]) for run in runs)
        diff, window = bare_difference(before, after), condition["window"]
        size, u = abs(diff.value), diff.expanded()
        scale = max(abs(float(r.value)) for r in (before, after)) + (500 if SORT[unit] == "temperature" else 0)
        to_harder = (diff.value < 0) == (condition.get("harder") == "lower")
        options = set()
        for off, wide, far in every(relations(size, window, scale), relations_of_expanded(u, window, scale),
                                    relations_of_expanded(u, float(size + window), scale)):
            if off <= 0:
                options.add("unknown" if wide > 0 else "matched")
            elif "harder" not in condition or to_harder and far > 0:
                options.add("unknown")
            else:
                options.add("harder" if to_harder else "easier")
        state = tie(options, theirs.get("state"))
        easier = {"lower": diff.value, "higher": -diff.value}.get(condition.get("harder"), 0)
        helped = state == "matched" and float(easier) > u * (1 + 1e-12)
    return {"id": condition["id"], "required": condition.get("required", False), "state": state,
            "difference": diff, "unit": STEP_OF.get(unit, unit), "helped": helped}


COLD = 7  # kelvins above ambient


def warm_at(job, run):
    """The parts that were no longer cold, where the job asks for a cold machine."""
    asked = {c["id"]: c for c in job["limits"].get("condition", [])}
    found = {c: table for c, table in job[run].get("condition", {}).items() if SORT.get(table.get("unit")) == "temperature"}
    if "soak" not in asked or "ambient" not in found:
        return []
    celsius = {c: reading_of(found[c], "°C", job["tools"]) for c in ("ambient", "coolant", "oil") if c in found}
    above = {c: bare_difference(celsius["ambient"], celsius[c]) for c in ("coolant", "oil") if c in celsius}
    return [c for c, over in above.items() if float(over.value) > (COLD + over.expanded()) * (1 + 1e-12)]


# --- The verdict ---


def within(measure):
    """Whether every position that has a limit was read in the retest and passes there."""
    return measure.get("at_limit") == "pass" and not measure["not_taken"]


def reasons_of(measure):
    """The reasons that one required measure gives: those that fail, those that are open."""
    at_limit, about = measure.get("at_limit", "no-limit"), measure["id"]
    fails, open_ = [], []
    if measure["outcome"] == "fail":
        fails.append(("fails" if at_limit == "fail" else "improvement-absent", about))
    elif measure["outcome"] == "inconclusive" and (not measure["not_taken"] or at_limit == "inconclusive"):
        if at_limit == "inconclusive":
            why = "too-coarse" if measure.get("coarse") else "inconclusive"
        else:
            why = "variation-not-known" if measure["by_variation"] else "no-improvement-shown"
        open_.append((why, about))
    if measure["not_taken"]:
        open_.append(("not-taken", about))
    if measure["change"] in ("worsened", "worse") and not within(measure):
        open_.append(("got-worse", about))
    return fails, open_


def judge(job, theirs):
    conditions = [judge_condition(job, table, t) for table, t in
                  itertools.zip_longest(job["limits"].get("condition", []), theirs["conditions"], fillvalue={})]
    required = [c for c in conditions if c["required"]]
    is_fair = lambda some: all(c["state"] in ("matched", "harder") for c in some)
    measured = measured_all(job)
    bears = lambda condition, measure: measure["id"] in condition.get("concerns", [measure["id"]])
    on = {m["id"]: [c for c, table in zip(conditions, job["limits"].get("condition", []))
                    if c["required"] and bears(table, m)] for m in job["limits"]["measure"]}
    measures = [judge_measure(job, table, measured, is_fair(on[table["id"]]), t) for table, t in
                itertools.zip_longest(job["limits"]["measure"], theirs["measures"], fillvalue={})]
    needed = [m for m in measures if m["required"]]
    fails, open_ = [], []
    for measure in needed:
        failing, doubtful = reasons_of(measure)
        fails, open_ = fails + failing, open_ + doubtful
    for c, table in zip(conditions, job["limits"].get("condition", [])):
        c["bears"] = any(bears(table, m) for m in needed)
    counting = [c for c in required if c["bears"]]
    open_ += [(f"condition-{c['state']}", c["id"]) for c in counting if c["state"] in ("easier", "unknown")]
    # A failure under conditions that were, or may have been, more severe proves nothing.
    failing = [m["id"] for m in needed if m["outcome"] == "fail"]
    excused = all(any(c["state"] in ("harder", "unknown") for c in on[m]) for m in failing)
    severe = {c["id"] for m in failing for c in on[m] if c["state"] == "harder"}
    open_ += [("condition-harder", c["id"]) for c in counting if excused and c["id"] in severe]
    warm = {run: warm_at(job, run) for run in RUNS}
    open_ += [("not-cold", c) for c in warm["retest"] if c in {c["id"] for c in counting}]
    open_ += [] if needed else [("nothing-required", None)]
    if fails:
        verdict = "undecided" if excused else "not-verified"
    else:
        verdict = "undecided" if open_ else "verified"
    said = reservations(job, measures, conditions, warm)
    for found in (*measures, *conditions):
        for key in OWN_KEYS:
            found.pop(key, None)
    return {
        "decision_rule": job["rule"], "measures": measures, "conditions": conditions, "fair_conditions": is_fair(required),
        "verdict": verdict, "reasons": sorted(fails + open_ or [("all-required-pass", None)], key=str), "reservations": said,
    }
