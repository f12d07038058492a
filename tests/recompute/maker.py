"""Random job folders."""

import datetime
from fractions import Fraction as F

import numpy as np

from figures import Measured, Pair, Reading
from job import bare_difference
from formulas import worked_out
import maker_exact
import maker_limits
from measures import better_of
from units import convert, FACTOR, NO_ZERO, SORT, STEP_OF, UNITS, Written
from written import as_read, toml


def digits(x, n=4):
    return float(f"{x:.{n}g}")


class Chance:
    """Random choices from one seed."""

    def __init__(self, *seed):
        self.random = np.random.default_rng(seed if len(seed) > 1 else seed[0])

    def some(self, p):
        return self.random.random() < p

    def pick(self, *options):
        return options[self.random.integers(len(options))]

    def size(self, low, high):
        return float(10 ** self.random.uniform(low, high))

    def edge(self):
        """A multiple of U: at an edge of a zone, just beside it, or anywhere."""
        beside = 1e-6 * self.pick(-1, 1)
        return self.pick(0, 0, 0, 1, -1, 1 + beside, -1 + beside, beside, 1.3, *self.random.uniform(-4, 4, 3))


class Maker(Chance):
    """One random job; every choice comes from one seed.

    What a later version of the format added is chosen by a generator of its own, `later`, so that the
    jobs of a seed stay what they were in all else.
    """

    def __init__(self, seed):
        super().__init__(seed)
        self.later = Chance(seed, 1)
        self.tools, self.units, self.tables, self.tables_made = [], [], [], 0
        cylinders = int(self.random.integers(1, 9))
        self.sets = {"cylinders": list(range(1, cylinders + 1))}
        for name, one, names in (("phases", "phase", ["U", "V", "W"]), ("bearings", "bearing", ["drive end", "fan end"]),
                                 ("wheels", "wheel", int(self.pick(2, 3, 4, 6)))):
            if self.some(0.4):
                self.sets[name] = names if isinstance(names, list) else list(range(1, names + 1))
        self.points = [maker_limits.points(self)] if self.some(0.5) else []
        self.sets |= {table["id"]: table["settings"] for table in self.points}

    def next_table(self):
        self.tables_made += 1
        return self.tables_made

    def unit_like(self, unit, p):
        return self.pick(*UNITS[SORT[unit]]) if self.some(p) else unit

    def read(self, table, unit):
        return Reading(as_read(table), as_read(table), unit, {t["id"]: as_read(t) for t in self.tools}).estimate()

    def pair(self, measure, runs, unit, at):
        """One reading of both runs; of the cylinder at this place, if there are any."""
        tools, runs = {t["id"]: as_read(t) for t in self.tools}, [as_read(run) for run in runs]
        rows = [{row.get("at"): row for row in run.get("rows", [run])} for run in runs]
        points = next((as_read(table) for table in self.points if table["id"] == measure.get("at")), None)
        measured = Measured(as_read(measure), runs, rows, unit, tools, positions=rows[0], points=points)
        position = list(rows[0])[at]
        return Pair("value", None, unit, [run[position] for run in measured.by_run], measured)

    def variation(self, measure, level, unit):
        """What is stated of the machine's own variation, and of what is judged by eye."""
        size = abs(level) + (1 if SORT[unit] == "temperature" else 1e-3)
        if self.some(0.3):
            zero = SORT[unit] not in (*NO_ZERO, "pressure")
            if zero and self.some(0.5):
                stated = {"percent": digits(self.size(-1, 1.3), 2)}
            else:
                stated = {"deviation": digits(size * self.size(-3, -0.7), 2)}
            stated |= {"runs": int(self.pick(2, 3, 9, 30))} if self.some(0.6) else {}
            measure["run_to_run"] = stated | {"source": "Our log"}
        if self.some(0.12):
            measure["separate_runs"] = True
        if SORT[unit] == "time" and self.some(0.3):
            measure["judged_by_eye_seconds"] = digits(self.size(-1, 0), 2)
        if SORT[unit] == "pressure" and self.some(0.7):
            measure["pressure"] = self.pick("gauge", "absolute", "difference")

    def tool(self, unit, size):
        """The id of an instrument for figures of about this size; at times of one that is there."""
        there = [t["id"] for t in self.tools if SORT[t["unit"]] == SORT[STEP_OF.get(unit, unit)]]
        if there and self.some(0.5):
            return self.pick(*there)
        own = self.unit_like(STEP_OF.get(unit, unit), 0.4)
        # No thermometer is good to a millionth of a degree, however near zero it reads.
        step = (abs(size) + (1 if SORT[unit] == "temperature" else 1e-3)) * float(FACTOR[unit] / FACTOR[own])
        table = {"id": f"tool-{len(self.tools)}", "kind": "Meter", "unit": own}
        for key, p in (("accuracy", 0.6), ("uncertainty", 0.2), ("resolution", 0.5)):
            if self.some(p):
                table[key] = digits(step * self.size(-3.5, -1), 2)
        if self.some(0.35) or len(table) == 3:
            table["accuracy_percent_of_reading"] = digits(self.size(-1.5, 0.6), 2)
        if "uncertainty" in table and self.some(0.5):
            table["k"] = self.pick(1, 1.96, 3)
        if "uncertainty" in table and self.some(0.4):
            table["dof"] = self.pick(1, 3, 12, 7.5, 100)
        if SORT[unit] == "time" and self.some(0.5):
            table["hand_timed"] = True
            if self.some(0.4):
                table["hand_timing_seconds"] = digits(self.size(-2, 0), 2)
        days = {key: datetime.date.fromisoformat(self.pick(*days)) for key, days in
                (("calibrated", ("2025-09-01", "2026-03-02", "2026-03-04")),
                 ("due", ("2026-03-04", "2026-03-05", "2027-03-01"))) if self.some(0.15)}
        table |= days
        between = table.get("calibrated") == datetime.date(2026, 3, 4)
        if {"accuracy", "accuracy_percent_of_reading", "uncertainty"} & set(table) and not between and self.some(0.4):
            table["common_error"] = "Same meter, left in place"
        self.tools.append(table)
        return table["id"]

    def levels(self, unit):
        """What is found before and after, about."""
        before = self.random.uniform(-30, 120)
        if SORT[unit] != "temperature":
            before = self.size(-1, 3) * (-1 if self.some(0.2) else 1)
        ratio = self.pick(1, 0, self.random.uniform(0.97, 1.03), *self.random.uniform(0.2, 1.8, 3), -0.3, 3)
        return digits(before), digits(before * ratio)

    def values(self, level, unit, shown, n=None):
        """`value` or `values` about a level in `unit`, as written in the unit shown."""
        level = float(convert(F(level), unit, shown))
        n = n or self.pick(1, 1, 2, 3, 3, 5, 10)
        spread = (abs(level) + (1 if SORT[unit] == "temperature" else 1e-3)) * self.pick(0, 1e-3, 1e-2, 0.1)
        values = [digits(level + spread * z, 5) for z in self.random.standard_normal(n)]
        if self.some(0.06):  # one that stands out, or a slip of the decimal point
            slip = self.pick(0.1, 1.5, 2) if SORT[unit] == "temperature" else self.pick(10, 0.1, 8, 12.5, 1.5, 2)
            values[0] = digits(values[0] * slip, 5)
        return {"values": values} if n > 1 or self.some(0.2) else {"value": values[0]}

    def reading(self, unit, places, pairs):
        """A pair of readings by value or by position; of `pairs` repeats, if any."""
        levels, tables = self.levels(unit), []
        tool = self.tool(unit, levels[0]) if self.some(0.85) else None
        stated = (abs(levels[0]) + 0.1) * self.size(-3, -1) if not tool or self.some(0.2) else None
        for level in levels:
            table = {"unit": self.unit_like(unit, 0.25)} | ({"instrument": tool} if tool else {})
            if stated and not (tool and self.some(0.2)):
                table["uncertainty"] = digits(stated * float(FACTOR[unit] / FACTOR[table["unit"]]), 2)
                table |= {"k": self.pick(1, 1.96, 2.5)} if self.some(0.5) else {}
                table |= {"dof": self.pick(1, 4, 12, 2.5, 60)} if self.some(0.3) else {}
            if places:
                rows = [self.values(level * self.pick(1, 1, 1, 1.5, *self.random.uniform(0.9, 1.1, 4)), unit,
                                    table["unit"]) for _ in places]
                table["rows"] = [{"at": c} | row for c, row in zip(places, rows)]
            else:
                table |= self.values(level, unit, table["unit"], pairs)
            tables.append(table)
        before, after = tables
        if tool and self.some(0.15):
            after["instrument"] = self.tool(unit, levels[1])
        if pairs and self.some(0.5):  # ties and zeros among the differences
            after["unit"], digit = before["unit"], int(self.pick(1, 2, 3))
            for table in tables:
                table["values"] = [digits(v, digit) for v in table["values"]]
        if self.some(0.2) and "values" in before and before["unit"] == after["unit"]:
            # The same scatter twice: whole degrees of freedom, which floats can miss.
            after.pop("value", None)
            after["values"] = [round(v + levels[1] - levels[0], 6) for v in before["values"]]
        return tables

    def limits(self, measure, before, after, unit):
        """Bounds and required improvements, many at the edges of their zones."""
        at = int(self.random.integers(len(after.get("rows", [0]))))
        pair = self.pair(measure, (before, after), unit, at)
        row = after.get("rows", [after])[at]
        if "value" in row and not measure.get("paired") and self.some(0.3):
            # About as far from the baseline as what varies from run to run would matter.
            away = pair.difference().expanded() * self.pick(-1.5, -1.42, -1.4, -1.1, 1.1, 1.3, 1.41, 1.45, 2, 3.5)
            moved = float(convert(pair.values[0] + F(away), unit, after["unit"]))
            row["value"] = max(-200.0, digits(moved, 6)) if SORT[unit] == "temperature" else digits(moved, 6)
            if row["value"] < 0 and measure.get("test", "").startswith("cranking"):
                del measure["test"]
            pair = self.pair(measure, (before, after), unit, at)
        self.bounds(measure, pair)

    def bounds(self, measure, pair):
        _, a = pair.estimates()
        place = lambda est: float(est.value) + self.edge() * (est.expanded() or 0.1)
        for key in self.pick((), ("max",), ("min",), ("min", "max"), ("min", "max")):
            measure[key] = max(-200.0, place(a))
        if "min" in measure and "max" in measure:
            other = self.pick("min", "max")
            apart = a.expanded() * self.size(-1, 1) + self.size(-3, 0)
            measure[other] = max(-200.0, measure["max"] - apart) if other == "min" else measure["min"] + apart
        if self.some(0.5):
            ways = [way for way, key in (("lower", "max"), ("higher", "min"))
                    if key in measure or not {"min", "max"} & set(measure)]
            measure["better"] = self.pick(*ways, *["inside"] * ("min" in measure and "max" in measure))
        if self.some(0.4) and better_of(measure) in ("lower", "higher"):
            sign = 1 if better_of(measure) == "higher" else -1
            share = pair.relative()
            if share and self.some(0.5):
                share.value *= sign
                measure["improve_percent"] = min(99.0, max(1e-3, 100 * place(share)))
            else:
                diff = pair.difference()
                diff.value *= sign
                measure["improve_by"] = 1e-6 if self.some(0.3) else max(1e-6, place(diff))
        maker_limits.in_other_forms(self, measure, a, pair.unit)

    def attempts(self, share, n):
        passes = self.pick(0, n, self.random.integers(n + 1)) if share is None else share * n
        return {"passes": int(passes), "attempts": n}

    def smoke(self, measure):
        """A pair of smoke readings, and limits for what they have."""
        runs = [{"colour": "grey"}, {"colour": "grey"}]
        if self.some(0.75):
            paths = self.pick([None] * 2, [430.0] * 2, [430.0, 127.0], [76.2, 200.0])
            tool = self.tool("%", 20)
            for run, path in zip(runs, paths):
                level = round(self.random.uniform(0, 90), 1)
                if self.some(0.5):  # three accelerations, the highest 5 % above the lowest at most
                    run["snaps_percent"] = [round(level + x, 1) for x in (0.0, self.pick(5.0, 0.0, 2.4), self.pick(0.0, 1.7))]
                else:
                    run["opacity_percent"] = level
                run |= {"instrument": tool} | ({"path_length_mm": path} if path else {})
            near = float(np.mean(runs[1].get("snaps_percent", runs[1].get("opacity_percent"))))
            if paths[0] and self.some(0.5):
                measure["path_length_mm"] = self.pick(430.0, paths[0], paths[1], 127.0)
                # About what the retest is over that path.
                near = 100 * (1 - (1 - near / 100) ** (measure["path_length_mm"] / paths[1]))
            if "path_length_mm" in measure or (paths[0] == paths[1] and self.some(0.7)):
                measure["max_opacity_percent"] = self.pick(digits(near), 20.0, min(100.0, round(near + 0.15, 2)))
            if paths[0] and self.some(0.5):
                measure["max_absorption"] = self.pick(0.5, 1.0, 2.5)
        if self.some(0.7):
            used = {"timer": self.tool("s", 20)} if self.some(0.5) else {}
            for run in runs:
                seconds = f"{self.random.uniform(0, 60):.{self.pick(0, 1, 1, 2)}f}"
                run |= {"clear_seconds": as_read(Written(seconds))} | used
            if self.some(0.7):
                measure["max_clear_seconds"] = self.pick(runs[1]["clear_seconds"], 20.0)
        return runs

    def measure(self, index):
        kind = self.pick("value", "value", "value", "cylinders", "cylinders", "cylinders", "passes", "passes of cylinders", "smoke", "text",
                         "grade", "grade of cylinders", "count", "count of cylinders", "rate", "list")
        measure = {"id": f"m{index}", "name": f"Measure {index}", "kind": kind}
        at = self.pick(*self.sets, *[table["id"] for table in self.points] * 3)
        places = self.sets[at]
        if self.some(0.3):
            measure["test"] = self.pick("cranking-time", "cranking-time", "cranking-speed", "cranking-voltage",
                                        "running-contribution", "voltage-drop")
        if kind in ("value", "cylinders"):
            unit = self.pick(*UNITS[self.pick("temperature", "time", *UNITS)])
            if self.units and self.some(0.6):
                unit = self.pick(*self.units)
            self.units.append(unit)
            pairs = self.pick(2, 3, 4, 5, 6, 8, 10) if kind == "value" and self.some(0.4) else None
            runs = self.reading(unit, places if kind == "cylinders" else [], pairs)
            if pairs:
                measure["paired"] = True
            if self.some(0.3):
                measure["repeats"] = int(self.pick(1, 2, 3))
            rows = [row for run in runs for row in run.get("rows", [run])]
            read = [v for row in rows for v in row.get("values", [row.get("value")])]
            if min(read) < 0 and measure.get("test", "").startswith("cranking"):
                del measure["test"]  # such a test shows nothing below nothing
            if kind == "cylinders":
                measure["at"] = at
            first = rows[0].get("values", [rows[0].get("value")])[0]
            self.variation(measure, float(convert(F(first), runs[0]["unit"], unit)), unit)
            self.limits(measure, *runs, unit)
            if kind == "cylinders" and self.some(0.5):
                self.limit_rows(measure, runs[1], unit)
        elif "passes" in kind:
            shares = self.pick([None, None], [None, None], [0, 1], [1, 0])  # of the attempts; None: any
            several = lambda: [int(self.pick(1, 2, 3, 4, 5, 10, 19, 20)) for _ in places]
            n = several()
            runs = [self.attempts(share, n[0]) if kind == "passes" else
                    {"rows": [{"at": c} | self.attempts(share, k) for c, k in zip(places, n)]}
                    for share, n in zip(shares, (n, several() if self.some(0.3) else n))]
            if self.some(0.7):
                most = min(r["attempts"] for run in runs for r in run.get("rows", [run]))
                measure["min_passes"] = int(self.random.integers(1, most + 1))
        elif kind.startswith(("grade", "count")):
            write = maker_exact.grade if kind.startswith("grade") else maker_exact.count
            runs = write(self, measure, places if "cylinders" in kind else [])
        elif kind in ("rate", "list"):
            runs = (maker_exact.rate if kind == "rate" else maker_exact.listed)(self, measure)
        elif kind == "smoke":
            runs = self.smoke(measure)
            if self.some(0.3):
                measure["judged_by_eye_seconds"] = self.pick(0.2, 1.0, 2.5)
        else:
            runs = [{"text": "Knocks"}, {"text": "Quiet"}]
        bounds = {"at_least", "max_count", "min_count", "max_rate", "min_rate", "none_new", "target",
                  "min", "max", "min_passes", "improve_by", "improve_percent",
                  "max_opacity_percent", "max_absorption", "max_clear_seconds"}
        if set(measure) & bounds or "limit_rows" in measure:
            measure |= {"source": "Agreed", "required": self.some(0.7)}
        if "cylinders" in kind:
            measure |= {"kind": {"cylinders": "value"}.get(kind, kind.split()[0]), "at": at}
            if self.some(0.35):
                self.leave_out(runs)
        if self.some(0.1):
            which = 1 if measure.get("none_new") else self.random.integers(2)
            runs[which] = {"not_taken": f"The gauge broke, {which}"}
        return measure | ({"unit": unit} if kind in ("value", "cylinders") else {}), runs

    def leave_out(self, runs):
        """Some rows that were not read in one run or in both; never all of a run."""
        for which, run in enumerate(runs):
            gone = [i for i in range(len(run["rows"])) if self.some(0.25)]
            if len(gone) < len(run["rows"]):
                for i in gone:
                    run["rows"][i] = {"at": run["rows"][i]["at"], "not_taken": f"No room there, {which}, {i}"}

    def limit_rows(self, measure, after, unit):
        """Bounds of single positions, about what was read there."""
        rows = []
        for row in after["rows"]:
            if self.some(0.6):
                est = self.read({key: v for key, v in after.items() if key != "rows"} | row, unit)
                own = self.bounds_about(est)
                rows += [{"at": row["at"]} | own] if own else []
        if rows and self.some(0.75):
            est_of = lambda at: self.read({key: v for key, v in after.items() if key != "rows"} |
                                          next(row for row in after["rows"] if row["at"] == at), unit)
            maker_limits.row_targets(self, measure, rows, est_of, unit)
        if rows:
            measure["limit_rows"] = rows

    def bounds_about(self, est):
        own = {key: max(-200.0, float(est.value) + self.edge() * (est.expanded() or 0.1))
               for key in self.pick(("max",), ("min",), ("min", "max"))}
        return own if own.get("min", -1e30) < own.get("max", 1e30) else {}

    def condition(self, name):
        condition = {"id": name, "name": f"Condition {name}", "required": self.some(0.6)}
        if name[1:].isdigit() and self.some(0.25):
            return condition, [{"text": text} for text in ("winter fuel", self.pick("Winter fuel", "summer fuel"))]
        unit = "h" if name == "soak" else self.pick("°C", "°F") if not name[1:].isdigit() else self.pick("°C", "°F", "h", "V", "%", "rpm", *self.units, *self.units)
        levels, runs = self.levels(unit), []
        if name == "soak":
            levels = [self.pick(7.9, 8.0, 12.5, 30.0, -1.0 if self.some(0.2) else 9.0) for _ in levels]
        elif not name[1:].isdigit():  # temperatures of a cold machine, or of one nearly cold
            above = self.pick(0.0, 3.0, 6.9, 7.0, 7.1, 9.0, 30.0) if name != "ambient" else 0.0
            levels = [float(convert(F(5) + F(above) + F(self.pick(0, 0, 1)), "°C", unit)) for _ in levels]
            if self.some(0.1):
                levels[0] = float(convert(F(self.pick(-61, -60, 60, 61, 150, 151, 200, 201)), "°C", unit))
        tool = self.tool(unit, levels[0]) if self.some(0.7) else None
        for level in levels:
            shown = self.unit_like(unit, 0.2)
            run = {"value": digits(float(convert(F(level), unit, shown)), 5), "unit": shown}
            runs.append(run | ({"instrument": tool} if tool and self.some(0.9) else {}))
        diff = bare_difference(*(self.read(run, unit) for run in runs))
        window = abs(float(diff.value)) * self.pick(1, 1 + 1e-6, 1 - 1e-6, 0.5, 2) + diff.expanded() * self.pick(0, 0, 1)
        harder = self.pick({"harder": "lower"}, {"harder": "higher"}, {})
        return condition | {"unit": unit, "window": max(0.0, window)} | harder, runs

    def write(self, folder):
        measures = [self.measure(i) for i in range(self.random.integers(1, 6))]
        names = [f"c{i}" for i in range(self.random.integers(0, 4))]
        if self.some(0.3):
            names += [name for name in ("ambient", "coolant", "oil", "soak") if self.some(0.8)]
        conditions = [self.condition(name) for name in names]
        measures += worked_out(self, measures, conditions) if self.some(0.6) else []
        maker_limits.depend(self, measures, conditions)
        maker_limits.of_service(self, measures, conditions)
        for condition, _ in conditions:
            if self.some(0.35):
                condition["concerns"] = [m["id"] for m, _ in measures if self.some(0.5)] or [measures[0][0]["id"]]
        sets = [{"id": name, "one": name[:-1], "many": name} |
                ({"names": places} if isinstance(places[0], str) else {"count": len(places)})
                for name, places in self.sets.items() if name not in ("cylinders", "speeds")]
        needed = {name for m, _ in measures for name in m.get("names", [])}
        for m, _ in measures:
            m.pop("names", None)
        rule = self.pick({}, *({"decision_rule": rule} for rule in ("simple", "guarded", "four-zone")))
        files = {
            "shop": {"name": "Invented Bench"},
            "job": {"job": "R-1", "complaint": "Random.", "customer": {"name": "Nobody"},
                    "machine": {"name": "Engine", "cylinders": len(self.sets["cylinders"])}, "instrument": self.tools},
            "limits": rule | {"positions": sets, "points": self.points, "table": self.tables, "measure": [m for m, _ in measures], "condition": [c for c, _ in conditions]},
            "work": {"by": "T. Orrell", "intervention": [{"what": "Cleaned"}]},
        }
        if self.some(0.3):
            files["work"]["run_in"] = {self.pick("hours", "hours", "kilometres", "miles"): self.pick(0.5, 100.0, 250.5)}
        meter = self.pick(("h",), ("h",), ("km", "mi")) if self.some(0.4) else None
        for i, name in enumerate(("baseline", "retest")):
            files[name] = {"by": self.pick("T. Orrell", "T. Orrell", "t.  ORRELL ", "M. Sefton"), "reading": {m["id"]: runs[i] for m, runs in measures if runs},
                           "condition": {c["id"]: runs[i] for c, runs in conditions if c["id"] in needed or not self.some(0.05)}}
            if meter:
                files[name]["meter"] = {"value": self.pick(1000.0, 1200.5, 72000.0), "unit": self.pick(*meter)}
        dates = {"baseline": "started = 2026-03-03T06:00:00Z\n", "retest": "started = 2026-03-05T06:00:00Z\n",
                 "work": "started = 2026-03-04T06:00:00Z\nfinished = 2026-03-04T09:00:00Z\n"}
        folder.mkdir(parents=True)
        for name, table in files.items():
            text = "format = 1\n" + dates.get(name, "") + "".join(f"{k} = {toml(v)}\n" for k, v in table.items())
            (folder / f"{name}.toml").write_text(text, encoding="utf-8")
