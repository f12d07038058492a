"""Figures that are worked out from the readings of a run (section 5a)."""

import math

from expansion import Estimate, LEVEL, Part, z_at
from figures import has_true_zero, Reading, RunToRun
from formula import Formula, NoFigure

ERRORS = ("accuracy", "stated")


class NotTaken(Exception):
    """A part that was not read; why."""


class Parts:
    """What a formula may name in one run: measures, by position, and conditions."""

    def __init__(self, measured, which, conditions):
        self.measured, self.which, self.conditions = measured, which, conditions

    def at(self, name, position):
        if name in self.conditions:
            return (name, None), self.conditions[name]
        measured = self.measured[name]
        place = position if measured.positions != [None] else None
        if place not in measured.by_run[self.which]:
            raise NotTaken(measured.why[self.which].get(place))
        return (name, place), measured.by_run[self.which][place]

    def all_of(self, name):
        return {p: self.at(name, p)[1] for p in self.measured[name].positions}

    def part(self, key):
        return self.at(*key)[1]


class Figure:
    """What was worked out in one run, at one position; stands where a Reading may stand."""

    tool, own, errors, n = None, False, {}, 1

    def __init__(self, number, parts, run_to_run):
        self.value, self.size, self.parts, self.scatter = number.value, number.size, parts, []
        if run_to_run:
            self.scatter.append(Part("run-to-run", run_to_run.of(self), run_to_run.dof))

    def estimate(self):
        return Estimate(self.value, self.parts + self.scatter)


def shared_errors(members):
    """Each error of one instrument as one component; of the proportional one with its sign."""
    return [members[0][1].errors[key]._replace(u=abs(math.fsum(s * part.errors[key].u for s, part in members)))
            for key in members[0][1].errors]


def own_errors(members):
    return [p._replace(u=abs(s) * p.u) for s, part in members for p in part.parts if p.source in ERRORS]


def squares(parts):
    return math.fsum(p.u**2 for p in parts)


def components(number, parts):
    """The components of a figure, by the slopes of its formula."""
    found, by_tool = [], {}
    for key, slope in number.slopes.items():
        part = parts.part(key)
        sharing = part.tool is not None and not part.own
        found += [p._replace(u=abs(slope) * p.u) for p in part.parts + part.scatter
                  if not (sharing and p.source in ERRORS)]
        if sharing and slope:
            by_tool.setdefault(part.tool["id"], []).append((slope, part))
    for members in by_tool.values():
        own, shared = own_errors(members), shared_errors(members)
        if len(members) == 1:
            found += own
        elif "common_error" in members[0][1].tool or squares(shared) > squares(own) * (1 + 1e-12):
            found += shared
        else:
            found += own
    return found


def figure(formula, parts, position, run_to_run, most=math.inf):
    choices = formula.choices(parts)
    if len(choices) > most:
        raise NoFigure("too many choices")
    number = formula.work_out(parts, position, choices[0])
    if len(choices) == 1:
        return Figure(number, components(number, parts), run_to_run)
    level, u = 1 - 0.05 / len(choices), 0.0
    found = Estimate(number.value, components(number, parts))
    for choice in choices:
        other = formula.work_out(parts, position, choice)
        est = Estimate(other.value, components(other, parts))
        apart = abs(float(other.value - number.value))
        if apart <= (est.expanded(level) + found.expanded(level)) * (1 + 1e-12):
            u = max(u, est.expanded(level) / z_at(LEVEL), est.u)
    return Figure(number, [Part("worked-out", u)], run_to_run)


class WorkedOut:
    """One such measure in both runs; stands where a Measured may stand."""

    pairs_count = exceeds = False
    scatter = None

    def __init__(self, measure, job, measured, most=math.inf):
        self.measure = measure
        self.true_zero = has_true_zero(measure, measure["unit"])
        formula = Formula(measure["worked_out"], job["limits"].get("table", []))
        asked = {c["id"]: c for c in job["limits"].get("condition", [])}
        names, self.names = [name for name in formula.named if name not in asked], formula.named
        of_positions = [measured[name].positions for name in formula.at_hand
                        if name not in asked and measured[name].positions != [None]]
        self.positions = of_positions[0] if of_positions else [None]
        self.run_to_run = RunToRun(measure["run_to_run"]) if "run_to_run" in measure else None
        self.variation_known = bool(self.run_to_run) or (
            len(names) == len(formula.named) and all(measured[name].variation_known for name in names))
        self.by_run, self.why = [{}, {}], [{}, {}]
        for which, run in enumerate(("baseline", "retest")):
            tables = job[run].get("condition", {})
            conditions = {name: Reading(tables[name], tables[name], asked[name]["unit"], job["tools"])
                          for name in formula.named if name in asked}
            parts = Parts(measured, which, conditions)
            for position in self.positions:
                try:
                    self.by_run[which][position] = figure(formula, parts, position, self.run_to_run,
                                                                   most / len(self.positions))
                except NotTaken as why:
                    self.why[which][position] = why.args[0]

    def scatter_of(self, before, after, wb, wa, _):
        """What varies from run to run, stated of the figure itself, is one component."""
        return [b._replace(u=math.hypot(wb * b.u, wa * a.u)) for b, a in zip(before.scatter, after.scatter)]
