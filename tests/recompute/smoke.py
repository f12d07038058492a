"""Smoke: opacity, absorption coefficient and time until clear as pairs of figures (section 5)."""

import math

from figures import BY_EYE, BY_HAND, Measured, Pair
from units import step_of

OPACITY = {"opacity_percent", "snaps_percent"}


def opacity_row(run):
    return {"values": run["snaps_percent"]} if "snaps_percent" in run else {"value": run.get("opacity_percent")}


def smoke_pairs(measure, runs, tools):
    """What the runs that were read have of the three, as (pair, limit, pair as measured)."""
    found, read = [], [run for run in runs if "not_taken" not in run]
    runs = [run if "not_taken" not in run else None for run in runs]
    if all(OPACITY & set(run) for run in read):
        found += opacity_pairs(measure, runs, tools)
    if all("clear_seconds" in run for run in read):
        found.append((clear_pair(measure, runs, tools), measure.get("max_clear_seconds"), None))
    return found


def each(runs, of, *more):
    """Something of each run that was read; None of the other."""
    return [None if run is None else of(run, *others) for run, *others in zip(runs, *more)]


def as_opacity(measure, runs, tools):
    tables = each(runs, lambda run: {"unit": "%", "instrument": run["instrument"]})
    rows = [{None: opacity_row(run)} if run else {} for run in runs]
    return Measured(measure, tables, rows, "%", tools, by_eye=0)


def opacity_once(measure, run, tools):
    """What was read of opacity in one of the runs, where the other could not be read."""
    return [as_opacity(measure, [run, None], tools)] if OPACITY & set(run) else []


def opacity_pairs(measure, runs, tools):
    measured = as_opacity(measure, runs, tools)
    readings = [run.get(None) for run in measured.by_run]
    read = Pair("opacity", None, "%", readings, measured)
    light = each(readings, lambda reading: 1 - float(reading.value) / 100)  # what passes through
    path, paths = measure.get("path_length_mm"), each(runs, lambda run: run.get("path_length_mm"))
    opacity, found = read, []
    known = [own for run, own in zip(runs, paths) if run]
    slopes_of = lambda slopes: tuple(1.0 if slope is None else slope for slope in slopes)
    if path:  # as it would be over the stated path
        power = each(paths, lambda own: float(path / own))
        over = each(readings, lambda reading, own, t, n: reading.value if own == path else 100 * (1 - t**n),
                    paths, light, power)
        slopes = slopes_of(each(power, lambda n, t: n * t ** (n - 1), light))
        opacity = Pair("opacity", None, "%", readings, measured, slopes, over)
    if path or None in known or len(set(known)) == 1:
        converted = opacity.values != read.values
        found.append((opacity, measure.get("max_opacity_percent"), read if converted else None))
    if None not in known:
        metres = each(paths, lambda own: float(own) / 1000)
        k = each(metres, lambda m, t: -math.log(t) / m, light)
        slopes = slopes_of(each(metres, lambda m, t: 0.01 / (m * t), light))
        found.append((Pair("absorption", None, "m⁻¹", readings, measured, slopes, k), measure.get("max_absorption"), None))
    return found


def clear_pair(measure, runs, tools):
    # Without a watch the time counts as taken by hand, to the last digit that was written.
    steps = each(runs, lambda run: step_of(run["clear_seconds"]))
    tools = tools | {f"by eye, {step}": {"unit": "s", "hand_timed": True, "hand_timing_seconds": BY_HAND,
                                         "resolution": step} for step in steps if step}
    tables = each(runs, lambda run, step: {"unit": "s", "instrument": run.get("timer") or f"by eye, {step}"}, steps)
    rows = [{None: {"value": run["clear_seconds"]}} if run else {} for run in runs]
    measured = Measured(measure, tables, rows, "s", tools, measure.get("judged_by_eye_seconds", BY_EYE))
    readings = [run.get(None) for run in measured.by_run]
    return Pair("clear", None, "s", readings, measured)
