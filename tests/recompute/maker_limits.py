"""Random limits in other forms, and points of one test."""

import math
from fractions import Fraction as F

from figures import measured_as_read
from formula import EXTREMES, NoFigure
from formulas import FormulaMaker, job_of, MOST
from limits import Limits
from units import NO_ZERO, SORT
from worked_out import WorkedOut
from written import as_read

FIXED = ("min", "max", "target", "within", "within_percent")


def points(maker):
    """A set of points; its settings at times far apart, at times written with decimals."""
    settings = maker.pick([20, 40, 60, 80, 100], [600, 1000, 1400], [0.5, 1.0, 2.5], [5, 7], [-10, 0, 30, 35], [0, 1, 2, 4, 8, 16])
    table = {"id": "speeds", "what": "Speed", "unit": maker.pick("%", "rpm", "min", "°C", "A")[:4], "settings": settings}
    table["unit"] = "%" if table["unit"] == "A" else table["unit"]
    if maker.some(0.7):
        table["held_within"] = maker.pick(0, 0.5, 0.01, 2, 10.0, 0.25)
    return table


def target(maker, about, est):
    """A target with a tolerance, at whose edge the reading often lies."""
    half = est.expanded() * maker.pick(0.3, 1, 1, 2, 3.5, 10) + 1e-3 * maker.pick(0, 1)
    half = float(f"{half or 0.1:.4g}")
    aim = float(est.value) + maker.pick(-1, 1) * (half + maker.edge() * (est.expanded() or 0.1))
    aim = maker.pick(aim, float(f"{float(est.value):.6g}"))
    if SORT[about] == "temperature":
        aim = max(aim, half - 200.0)
    if maker.some(0.5) and aim and SORT[about] not in NO_ZERO:
        return {"target": aim, "within_percent": min(90.0, 100 * half / abs(aim))}
    return {"target": aim, "within": half}


def in_other_forms(maker, measure, est, unit):
    """Turns bounds into a target, adds what should be besides, and bands."""
    if maker.some(0.2) and not {"better", "improve_by", "improve_percent"} & set(measure):
        for key in ("min", "max"):
            measure.pop(key, None)
        measure |= target(maker, unit, est)
    shoulds(maker, measure, measure, est)
    if maker.some(0.2):
        value, u = float(est.value), est.expanded() or 0.1
        upper = sorted({value, value + u * maker.random.uniform(-3, 3), value + maker.edge() * u, 1.0})[:maker.pick(1, 2, 3, 4)]
        upper = [x for x in upper if x > -200] or [1.0]
        measure["bands"] = {"names": ["A", "B", "C", "D", "E"][:len(upper) + 1], "upper": upper, "source": "Invented"}


def shoulds(maker, table, measure, est):
    if not {"min", "max", "target"} & set(table) or maker.some(0.6):
        return
    if "target" in table:
        own = table if {"within", "within_percent"} & set(table) else measure
        half = float(own["within"]) if "within" in own else abs(table["target"]) * own["within_percent"] / 100
        low, high = table["target"] - half, table["target"] + half
    else:
        low, high = table.get("min", -math.inf), table.get("max", math.inf)
    place = lambda: float(est.value) + maker.edge() * (est.expanded() or 0.1)
    ends = {key: place() for key in maker.pick(("should_min",), ("should_max",), ("should_min", "should_max"))}
    ends = {key: x for key, x in ends.items() if low < x < high}
    if ends.get("should_min", -math.inf) < ends.get("should_max", math.inf):
        table |= ends


def row_targets(maker, measure, rows, est_of, unit):
    """Some rows of limits state a target, with a tolerance of their own or the measure's."""
    percent = {"within": 0.5} if SORT[unit] in NO_ZERO else {"within_percent": 5}
    shared = maker.pick({"within": 0.5}, percent, percent, {"within": 3})
    if not {"better", "improve_by", "improve_percent", "target", "should_min", "should_max"} & set(measure) and maker.some(0.6):
        measure.pop("min", None), measure.pop("max", None)
    own_bounds = bool({"min", "max", "target"} & set(measure))
    shared = shared if not own_bounds and maker.some(0.9) else {}
    used = False
    for row in rows:
        if not maker.some(0.75):
            shoulds(maker, row, {}, est_of(row["at"]))
            continue
        est = est_of(row["at"])
        for key in FIXED:
            row.pop(key, None)
        row |= target(maker, unit, est)
        if shared and maker.some(0.7) and row["target"]:
            used = True
            for key in ("within", "within_percent"):
                row.pop(key, None)
        shoulds(maker, row, shared, est)
    if used:
        measure |= shared


def of_service(maker, measures, conditions):
    """Gives some measures, or rows of their limits, another limit for what was in service."""
    later, job, above = maker.later, job_of(maker, [(strip(m), r) for m, r in measures], conditions), {}
    for (measure, _), m in zip(measures, job["limits"]["measure"]):
        if m["kind"] != "value":
            continue
        above[m["id"]] = mine = WorkedOut(m, job, above) if "worked_out" in m else measured_as_read(m, job)
        baseline = list(mine.by_run[0].values())
        tables = [measure] * bool({"min", "max", "target"} & set(m)) + measure.get("limit_rows", [])
        for table in tables if baseline and not {"min_by", "max_by"} & set(m) else []:
            if later.some(0.35):
                est = later.pick(*baseline).estimate()
                table["before"] = own = {}
                place = lambda: max(-200.0, float(est.value) + later.edge() * (est.expanded() or 0.1))
                for key in later.pick(("min",), ("max",), ("min", "max"), ("min", "max")):
                    own[key] = place()
                if len(own) == 2 and own["min"] >= own["max"]:
                    own["max"] = own["min"] + later.size(-3, 1)
                if later.some(0.4):
                    key = later.pick(*(f"should_{end}" for end in own))
                    x = place()
                    if own.get("min", -math.inf) <= x <= own.get("max", math.inf):
                        own[key] = x


# --- Limits that depend on other readings of the same run ---


def depend(maker, measures, conditions):
    """Gives some measures limits by formulas of those above them and of conditions."""
    for i, (measure, runs) in enumerate(measures):
        if measure["kind"] != "value" or not maker.some(0.5) or "target" in measure or "within" in measure or "within_percent" in measure:
            continue
        for _ in range(6):
            if one(maker, measures, i, conditions):
                break


def one(maker, measures, i, conditions):
    measure = measures[i][0]
    job = job_of(maker, [(strip(m), r) for m, r in measures], conditions)
    above = {}
    for m in job["limits"]["measure"][:i + 1]:
        if m["kind"] == "value":
            above[m["id"]] = WorkedOut(m, job, above) if "worked_out" in m else measured_as_read(m, job)
    mine = above.pop(measure["id"])
    positions = mine.positions
    fit = {n: m for n, m in above.items() if m.positions in ([None], positions) and not getattr(m, "extreme", False)
           and (m.positions == [None] or measures_at(measures, n, measure))}
    names = list(fit) + [c["id"] for c, _ in conditions if c.get("unit")]
    if not names:
        return False
    tables, trial = [], dict(measure)
    for end in maker.pick(("min",), ("max",), ("min", "max"), ("max",)):
        text = formula(maker, names, fit, conditions, measure, mine, end, tables, job)
        if text is None:
            return False
        for key in FIXED:
            if key == end or key not in ("min", "max"):
                trial.pop(key, None)
        trial[f"{end}_by"] = text
    if "max_by" not in trial and "min_by" not in trial:
        return False
    if {"better"} <= set(trial) and trial["better"] == "inside" and not (
            {"min", "min_by"} & set(trial) and {"max", "max_by"} & set(trial)):
        return False
    if trial.get("better") is None and ({"improve_by", "improve_percent"} & set(trial)):
        ends = [bool({end, f"{end}_by"} & set(trial)) for end in ("min", "max")]
        if all(ends):
            return False
    for key in ("should_min", "should_max"):
        trial.pop(key, None)
    try:
        with_tables = job | {"limits": job["limits"] | {"table": job["limits"]["table"] + as_read(tables)}}
        limits = Limits(as_read(strip(trial)), with_tables, above, positions)
        for figure in limits.by.values():  # more choices of extremes are refused
            WorkedOut(figure.measure, with_tables, above, most=MOST)
        bounds = [limits.of(p, which) for which in (0, 1) for p in positions]
        if any(x is not None and (not math.isfinite(float(x.value)) or abs(float(x.value)) > 1e6 or x.u > 1e6
               or (SORT[measure["unit"]] == "temperature" and x.value < -200)) for pair in bounds for x in pair):
            return False
        crossed = any(None not in pair and pair[0].value >= pair[1].value for pair in bounds)
        if {end for end in limits.by} and "limit_rows" in trial:
            fixed = [trial.get("min"), trial.get("max")]
            for which in (0, 1):
                for p in positions:
                    ends = [figure.by_run[which].get(p if figure.positions != [None] else None) for figure in limits.by.values()]
                    both = {**{end: F(x) for end, x in zip(("min", "max"), fixed) if x is not None},
                            **{end: one.value for end, one in zip(limits.by, ends) if one}}
                    crossed |= len(both) == 2 and both["min"] >= both["max"]
        if trial.get("better") == "lower" and not {"max", "max_by"} & set(trial) or (
                trial.get("better") == "higher" and not {"min", "min_by"} & set(trial)):
            return False
        if crossed:  # is refused
            return False
    except (NoFigure, OverflowError, ValueError):
        return False
    named = [n for figure in limits.by.values() for n in figure.names]
    maker.tables += tables
    measure.clear()
    measure |= trial | {"source": "Agreed", "names": trial.get("names", []) + named, "required": trial.get("required", maker.some(0.7))}
    return True


def strip(measure):
    return {key: value for key, value in measure.items() if key != "names"}


def measures_at(measures, name, measure):
    """Whether a measure is read at the same set of positions; one that is worked out tells by its names."""
    tables = {m["id"]: m for m, _ in measures}
    at = lambda m: m.get("at") or next((at(tables[n]) for n in m.get("names", []) if n in tables and at(tables[n])), None)
    return at(tables[name]) == at(measure)


def formula(maker, names, fit, conditions, measure, mine, end, tables, job):
    """What gives a bound near the retest, by a table or by sums of figures in one unit."""
    unit = measure["unit"]
    same = FormulaMaker(maker, fit, [c["id"] for c, _ in conditions if c.get("unit") == unit], unit)
    if maker.some(0.35) and (same.at_hand or same.over):
        try:
            text, gives = same.whole()
        except ValueError:
            return None
        if sum(text.count(f"{name}(") for name in EXTREMES) > 2 or SORT[unit] == "ratio" and set("/^") & set(text):
            return None
        if gives != unit or not any(name in text for name in names):
            return None
        tables += same.tables
        return text
    name = maker.pick(*names)
    units = {c["id"]: c["unit"] for c, _ in conditions if c.get("unit")}
    if name in units:
        runs = next(r for c, r in conditions if c["id"] == name)
        from job import reading_of
        asked = [float(reading_of(as_read(run), units[name], job["tools"]).value) for run in runs]
        source = units[name]
    else:
        asked = [float(r.value) for run in fit[name].by_run for r in run.values()]
        source = fit[name].measure["unit"]
    aims = [(float(r.value), r.estimate().expanded()) for r in mine.by_run[1].values()]
    if not asked or not aims:
        return None
    aim, u = maker.pick(*aims)
    sign = 1 if end == "max" else -1
    near = lambda: aim + sign * maker.pick(0, 1, 1, 1.5, 3, -0.5, *maker.random.uniform(-3, 5, 2)) * (u or 0.1)
    span = max(asked) - min(asked) + 0.1 * abs(asked[0]) + 1
    at = [maker.pick(*asked)] if maker.some(0.5) else []
    at += [asked[-1] + maker.random.uniform(-1, 1) * 0.1 * abs(asked[-1]) for _ in range(maker.pick(1, 2))]
    at = sorted({float(f"{x:.9g}") for x in [*at, min(asked) - span, max(asked) + span]})
    table = {"id": f"by{maker.next_table()}", "source": "Leaflet", "from": source, "to": unit,
             "rows": [[x, near()] for x in at]} | maker.pick({}, {"between": "step"}, {"between": "up-to"})
    if maker.some(0.2):  # the same all over: exactly at an edge
        table["rows"] = [[x, table["rows"][0][1]] for x in at]
    tables.append(table)
    return f"{table['id']}({name})"
