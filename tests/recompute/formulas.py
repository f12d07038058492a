"""Random formulas, and the measures that are worked out by them."""

import math

from figures import measured_as_read, Pair
from formula import EXTREMES, Formula, NoFigure, OF_ALL, OF_ONE
from units import SORT, STEP_OF
from worked_out import WorkedOut
from written import as_read

MOST = 300  # choices of extremes times positions


class FormulaMaker:
    """Formulas of what a job has: figures by name, those at positions, conditions."""

    def __init__(self, maker, measured, conditions, unit):
        # Units are the program's to check: all parts of a formula have one.
        self.unit = unit
        self.maker, self.conditions = maker, conditions
        self.measured = {n: m for n, m in measured.items() if m.measure["unit"] == unit and not getattr(m, "extreme", False)}
        measured = self.measured
        self.pick, self.some = maker.pick, maker.some
        sets = [tuple(m.positions) for m in measured.values() if m.positions != [None]]
        home = self.pick(*sets) if sets and self.some(0.6) else None
        self.at_hand = [n for n, m in measured.items() if m.positions == [None] or tuple(m.positions) == home]
        self.over = [n for n, m in measured.items() if m.positions != [None]]
        self.tables = []

    def part(self):
        ways = ["here"] * 4 * bool(self.at_hand) + ["all"] * 3 * bool(self.over) + ["condition"] * bool(self.conditions)
        way = self.pick(*ways)
        if way == "here":
            return self.pick(*self.at_hand)
        if way == "condition":
            return self.pick(*self.conditions)
        return self.of_all(*OF_ALL)

    def of_all(self, *wholes):
        name, whole = self.pick(*self.over), self.pick(*wholes)
        if whole == "spread" and len(self.measured[name].positions) < 2:
            whole = "greatest-deviation"
        return f"{whole}({name})"

    def whole(self):
        """A formula, and the unit that it gives."""
        if self.unit not in STEP_OF:
            return self.text(self.pick(0, 1, 1, 2, 2, 3)), self.unit
        # On a scale without a true zero: such a figure, or a difference of two.
        one = lambda: self.pick(*self.at_hand) if self.at_hand and self.some(0.6) or not self.over else self.of_all(
            "mean", "lowest", "highest")
        if self.some(0.4):
            return self.table() if self.at_hand and self.some(0.5) else one(), self.unit
        if self.over and self.some(0.3):
            return self.of_all("spread", "greatest-deviation"), STEP_OF[self.unit]
        return f"{one()} - {one()}", STEP_OF[self.unit]

    def number(self):
        return self.pick("2", "0.5", "100", "3.25", ".5", "10.", "0.001", "7")

    def text(self, depth):
        if depth == 0:
            return self.part() if self.some(0.75) else self.number()
        x, y = self.text(depth - 1), self.text(depth - self.pick(1, min(2, depth)))
        way = self.pick("+", "-", "*", "/", "+", "-", "one", "power", "table", "sign", "same", "again", "again")
        if way == "again":  # readings that are reached in several ways
            name = self.pick(*(n for n in self.at_hand + self.over if n.startswith("w")), *self.at_hand, *self.over)
            name = name if name in self.at_hand else self.of_all("sum", "mean")
            return self.wrapped(self.pick(f"{name} - ({x})", f"{name} * 3 - {self.part()}", f"({x}) / (1 + size({name}))",
                                          f"{name} + {name} - 2 * {self.part()}"))
        if way in "+-*/":
            space = self.pick(" ", " ", "  ")
            return self.wrapped(f"{x}{space}{way}{space}{y}")
        if way == "one":
            name = self.pick(*OF_ONE)
            return {"root": f"root(size({x}) + 1)", "exp": f"exp({x} / (size({x}) + {self.number()}))",
                    "ln": f"ln(size({x}) + 0.1)", "size": f"size({x})"}[name]
        if way == "power":
            return self.pick(f"({x}) ^ 2", f"({x})^3", f"2 ^ (({x}) / (1 + size({y})))", f"(size({x}) + 1) ^ -0.5",
                             f"-({x}) ^ 2", f"2^2^({x} / (1 + size({x})))", f"(1 + size({x}))^(0.01 * {self.part()} / (1 + size({y})))")
        if way == "table":
            return self.table()
        return f"-{x}" if way == "sign" else x

    def wrapped(self, text):
        return f"({text})" if self.some(0.5) else text

    def table(self):
        """A table that holds what one part asks for, often at one of its rows or ends."""
        name = self.pick(*self.at_hand) if self.at_hand else None
        if name is None:
            return self.part()
        found = [float(part.value) for run in self.measured[name].by_run for part in run.values()]
        if not found:
            return name
        span, between = max(found) - min(found) + 0.1 * abs(found[0]) + 1, self.maker.random.uniform
        # To all digits, so that rounding alone stands between the figure and the row.
        at = [*(self.pick(x, float(f"{x:.6g}")) for x in found if self.some(0.4)),
              *(float(f"{between(min(found) - span / 2, max(found) + span / 2):.4g}") for _ in range(3))]
        if self.some(0.3):  # it ends just there
            at = [x for x in at if min(found) < x < max(found)] + [min(found), max(found)]
        else:
            at += [min(found) - span, max(found) + span]
        at = {f"{x:.9g}": x for x in at}.values()
        rows = [[x, float(f"{between(-50, 50):.3g}")] for x in sorted(at)]
        if len(rows) < 2:
            return name
        table = {"id": f"tab{self.maker.next_table()}", "source": "Leaflet", "from": self.unit, "to": self.unit,
                 "rows": rows} | self.pick({}, {"between": "line"}, {"between": "step"}, {"between": "up-to"})
        self.tables.append(table)
        if self.unit in STEP_OF:
            return f"{table['id']}({name})"
        return f"{table['id']}({self.pick(name, name, f'{name} * 3 / 3', f'{name} / 7 * 7', f'{name} + 0.7 - 0.7')})"


def job_of(maker, measures, conditions):
    """What the recomputation would read of these."""
    runs = [{"reading": {m["id"]: r[i] for m, r in measures if r},
             "condition": {c["id"]: r[i] for c, r in conditions}} for i in (0, 1)]
    sets = [{"id": name, "names": [str(p) for p in places]} for name, places in maker.sets.items()]
    sets = [one for one in sets if one["id"] not in {table["id"] for table in maker.points}]
    job = {"limits": {"measure": [m for m, _ in measures], "positions": sets, "points": maker.points, "table": maker.tables,
                      "condition": [c for c, _ in conditions]},
           "job": {"machine": {}}, "baseline": runs[0], "retest": runs[1], "tools": {t["id"]: t for t in maker.tools}}
    return as_read(job)


def worked_out(maker, measures, conditions):
    """Some measures that are worked out from these, and from each other."""
    found, job = [], job_of(maker, measures, conditions)
    measured = {m["id"]: measured_as_read(m, job) for m in job["limits"]["measure"] if m["kind"] == "value"}
    for i in range(maker.pick(1, 2, 3, 4, 5)):
        for _ in range(20):
            unit = maker.pick(*(m.measure["unit"] for m in measured.values())) if measured else None
            writer = FormulaMaker(maker, measured, [c["id"] for c, _ in conditions if c.get("unit") == unit], unit)
            if not (writer.at_hand or writer.over):
                return found
            text, unit = writer.whole()
            # More extremes are refused, and a share of a share has another unit.
            if sum(text.count(f"{name}(") for name in EXTREMES) > 4 or SORT[unit] == "ratio" and set("/^") & set(text):
                continue
            measure = {"id": f"w{i}", "name": f"Worked out {i}", "kind": "value", "unit": unit, "worked_out": text}
            leave_out(maker.later, measure, measured, job)
            one = sensible(measure, writer, job)
            if one and one.names and any(n in measured for n in one.names):
                break
        else:
            continue
        maker.tables += writer.tables
        job["limits"]["table"] += as_read(writer.tables)
        finish(maker, measure, one, job, measured)
        measured[measure["id"]] = WorkedOut(as_read(measure), job, measured)
        found.append((measure | {"names": one.names}, None))
    return found


def leave_out(later, measure, measured, job):
    """Lets a figure over all positions leave out those that were not read."""
    formula = Formula(measure["worked_out"], job["limits"].get("table", []))
    one_figure = all(measured[name].positions == [None] for name in formula.at_hand if name in measured)
    several = [len(measured[name].positions) for name in formula.whole if measured[name].positions != [None]]
    if one_figure and several and min(several) > 1 and "sum(" not in measure["worked_out"] and later.some(0.7):
        measure["least_read"] = int(later.random.integers(2, min(several) + 1))


def sensible(measure, writer, job):
    """The figure in both runs, if it is one that a job may have."""
    trial = job | {"limits": job["limits"] | {"table": job["limits"]["table"] + as_read(writer.tables)}}
    try:
        one = WorkedOut(as_read(measure), trial, writer.measured, most=MOST)
    except (NoFigure, OverflowError, ValueError):
        return None
    figures = [figure for run in one.by_run for figure in run.values()]
    sizes = [abs(float(f.value)) for f in figures] + [f.size for f in figures]
    low = -200 if SORT[measure["unit"]] == "temperature" else -1e6
    good = all(math.isfinite(x) and x < 1e6 for x in sizes) and all(f.value > low for f in figures)
    return one if good and all(p.u < 1e6 for f in figures for p in f.parts + f.scatter) else None


def finish(maker, measure, one, job, measured):
    """Its variation, its bounds and required improvements."""
    both = [p for p in one.positions if all(p in run for run in one.by_run)]
    if maker.some(0.25) and both:
        maker.variation(measure, float(one.by_run[0][both[0]].value), measure["unit"])
        for key in ("separate_runs", "judged_by_eye_seconds"):
            measure.pop(key, None)
        one = WorkedOut(as_read(measure), job, measured)
    if both and maker.some(0.8):
        p = maker.pick(*both)
        maker.bounds(measure, Pair("value", p, measure["unit"], [run[p] for run in one.by_run], one))
    if one.positions != [None] and maker.some(0.2):
        at = {p: run for p, run in one.by_run[1].items()}
        rows = [{"at": int(p) if p.isdigit() else p} | own for p, f in at.items() if (own := maker.bounds_about(f.estimate()))]
        measure |= {"limit_rows": rows} if rows else {}
    if {"min", "max", "improve_by", "improve_percent", "limit_rows", "target"} & set(measure):
        measure |= {"source": "Agreed", "required": maker.some(0.7)}
