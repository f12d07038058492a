"""Smoke: opacity, absorption coefficient and time until clear as pairs of figures (section 5)."""

import math

from figures import BY_EYE, BY_HAND, Measured, Pair
from units import step_of


def opacity_row(run):
    return {"values": run["snaps_percent"]} if "snaps_percent" in run else {"value": run.get("opacity_percent")}


def smoke_pairs(measure, runs, tools):
    """What both runs have of the three, as (pair, limit, pair as measured)."""
    found = []
    if all("opacity_percent" in run or "snaps_percent" in run for run in runs):
        found += opacity_pairs(measure, runs, tools)
    if all("clear_seconds" in run for run in runs):
        found.append((clear_pair(measure, runs, tools), measure.get("max_clear_seconds"), None))
    return found


def opacity_once(measure, run, tools):
    """What was read of opacity in one of the runs, where the other could not be read."""
    if not {"opacity_percent", "snaps_percent"} & set(run):
        return []
    table = {"unit": "%", "instrument": run["instrument"]}
    return [Measured(measure, [table], [{None: opacity_row(run)}], "%", tools, by_eye=0)]


def opacity_pairs(measure, runs, tools):
    tables = [{"unit": "%", "instrument": run["instrument"]} for run in runs]
    measured = Measured(measure, tables, [{None: opacity_row(run)} for run in runs], "%", tools, by_eye=0)
    readings = measured.readings[None]
    read = Pair("opacity", None, "%", readings, measured)
    light = [1 - float(reading.value) / 100 for reading in readings]  # what passes through
    path, paths = measure.get("path_length_mm"), [run.get("path_length_mm") for run in runs]
    opacity, found = read, []
    if path:  # as it would be over the stated path
        power = [float(path / own) for own in paths]
        over = [reading.value if own == path else 100 * (1 - t**n)
                for reading, own, t, n in zip(readings, paths, light, power)]
        slopes = tuple(n * t ** (n - 1) for t, n in zip(light, power))
        opacity = Pair("opacity", None, "%", readings, measured, slopes, over)
    if path or None in paths or paths[0] == paths[1]:
        converted = opacity.values != read.values
        found.append((opacity, measure.get("max_opacity_percent"), read if converted else None))
    if None not in paths:
        metres = [float(own) / 1000 for own in paths]
        k = [-math.log(t) / m for t, m in zip(light, metres)]
        slopes = tuple(0.01 / (m * t) for t, m in zip(light, metres))
        found.append((Pair("absorption", None, "m⁻¹", readings, measured, slopes, k), measure.get("max_absorption"), None))
    return found


def clear_pair(measure, runs, tools):
    # Without a watch the time counts as taken by hand, to the last digit that was written.
    steps = [step_of(run["clear_seconds"]) for run in runs]
    tools = tools | {f"by eye, {step}": {"unit": "s", "hand_timed": True, "hand_timing_seconds": BY_HAND,
                                         "resolution": step} for step in steps}
    tables = [{"unit": "s", "instrument": run.get("timer") or f"by eye, {step}"} for run, step in zip(runs, steps)]
    rows = [{None: {"value": run["clear_seconds"]}} for run in runs]
    measured = Measured(measure, tables, rows, "s", tools, measure.get("judged_by_eye_seconds", BY_EYE))
    return Pair("clear", None, "s", measured.readings[None], measured)
