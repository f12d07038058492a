"""Lists of what a machine has stored (section 6)."""

from exact import claimed_step, same_name


def judge_list(measure, before, after, fair):
    """Kind `list`, where the retest was read."""
    why = before.get("not_taken")
    most, none_new = measure.get("max_count"), measure.get("none_new", False)
    was, now = ([item["code"].strip() for item in run.get("items", [])] for run in (before, after))
    known, found = ({same_name(code) for code in codes} for codes in (was, now))
    new = [code for code in now if same_name(code) not in known]
    row = {"not_taken": why, "baseline": None if why else was, "retest": now,
           "gone": [code for code in was if same_name(code) not in found],
           "still_there": [code for code in now if same_name(code) in known], "new": new}
    change = None
    if why:  # nothing to set it beside
        row |= {"gone": [], "still_there": [], "new": []}
    else:
        change = claimed_step("worse" if new else "better" if row["gone"] else "same", fair)
    outcome = "no-limit"
    if most is not None or none_new:
        outcome = "fail" if (most is not None and len(now) > most) or (none_new and new and not why) else "pass"
    return {"list": row, "change": change, "outcome": outcome, "at_limit": outcome, "once": True,
            "was": "no-limit" if most is None or why else "fail" if len(was) > most else "pass", "not_taken_before": bool(why)}
