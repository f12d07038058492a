"""Figures that are worked out from the readings of a run (section 5a)."""

import math

from expansion import Estimate, LEVEL, Part, z_at
from figures import has_true_zero, Reading, RunToRun
from formula import Formula, NoFigure
from steps import step_part

ERRORS = ("accuracy", "stated")


class NotTaken(Exception):
    """A part that was not read; why."""


class Variation:
    """What is stated of a figure's variation from run to run: one reading more behind whatever names it."""

    tool, own, errors, parts = None, False, {}, []

    def __init__(self, r, dof):
        self.scatter = [Part("run-to-run", r, dof)]


class Step:
    """What a step of a table adds to a figure: one reading more behind whatever names it."""

    tool, own, errors, scatter = None, False, {}, []

    def __init__(self, parts):
        self.parts = parts


class Parts:
    """What a formula may name in one run: measures, by position, and conditions.

    `behind` are the readings that stand behind what was named so far, in that order.
    """

    def __init__(self, measured, which, conditions, whole=(), least=None):
        self.measured, self.which, self.conditions = measured, which, conditions
        self.whole, self.least, self.behind = whole, least, {}

    def places(self, name):
        """The positions of a measure of which all are taken: those that were read, where some may be left out."""
        measured = self.measured[name]
        return [p for p in measured.positions if self.least is None or p in measured.by_run[self.which]]

    def needed(self, name):
        """All of them have to be read, or so many as the plan says."""
        measured = self.measured[name]
        read = measured.by_run[self.which]
        unread = [p for p in measured.positions if p not in read]
        if unread and (self.least is None or len(read) < self.least):
            raise NotTaken(measured.why[self.which].get(unread[0]))

    def at(self, name, position):
        """A part as its value, its slope by each reading behind it, what was rounded, and the gross slopes."""
        if name in self.conditions:
            self.behind[name, None] = self.conditions[name]
            return self.conditions[name].value, {(name, None): 1.0}, 0.0, None
        measured = self.measured[name]
        place = position if measured.positions != [None] else None
        if name in self.whole:
            self.needed(name)
        if place not in measured.by_run[self.which]:
            raise NotTaken(measured.why[self.which].get(place))
        part = measured.by_run[self.which][place]
        if not isinstance(part, Figure):
            self.behind[name, place] = part
            return part.value, {(name, place): 1.0}, 0.0, None
        self.behind |= part.behind
        return part.value, dict(part.slopes), part.size, dict(part.gross)

    def all_of(self, name):
        return {p: self.at(name, p) for p in self.places(name)}


class Figure:
    """What was worked out in one run, at one position; stands where a Reading may stand.

    `by_measure` are the components that are one estimate of one measure. What stands behind
    a figure that follows an extreme is not asked for: nothing may name it.
    """

    tool, own, errors, n = None, False, {}, 1

    def __init__(self, number, found, name, position, run_to_run, behind, step=()):
        self.value, self.size = number.value, number.size
        self.parts, self.by_measure = found.parts + list(step), dict(found.by_measure)
        self.slopes, self.gross, self.behind = dict(number.slopes), dict(number.gross), dict(behind)
        for key, gross in self.gross.items():  # what slopes that cancel leave is of this size
            parts = behind[key].parts + behind[key].scatter if key in behind else []
            self.size = max([self.size] + [gross * p.u for p in parts])
        if step and behind:
            key = (name, position, "step")
            self.slopes[key], self.gross[key], self.behind[key] = 1.0, 1.0, Step(list(step))
        if run_to_run:
            own = Variation(run_to_run.of(self), run_to_run.dof)
            self.by_measure[name, "run-to-run"] = own.scatter[0]
            key = (name, position, "run-to-run")
            self.slopes[key], self.gross[key], self.behind[key] = 1.0, 1.0, own

    @property
    def scatter(self):
        return list(self.by_measure.values())

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


class Components:
    """The components of a figure, by its slopes: those of its readings, and those of whole measures."""

    def __init__(self, slopes, behind):
        self.parts, self.by_measure = [], {}
        by_tool, stated = {}, {}
        for key, slope in slopes.items():
            part = behind[key]
            sharing = part.tool is not None and not part.own
            self.parts += [p._replace(u=abs(slope) * p.u) for p in part.parts
                           if not (sharing and p.source in ERRORS)]
            for p in part.scatter:
                stated.setdefault((key[0], p.source), []).append((slope * p.u, p))
            if sharing and slope:
                by_tool.setdefault(part.tool["id"], []).append((slope, part))
        for key, members in stated.items():
            u = math.sqrt(math.fsum(x * x for x, _ in members))
            if key[1] == "run-to-run":  # at all positions alike, or at each by itself
                u = max(u, abs(math.fsum(x for x, _ in members)))
            self.by_measure[key] = members[0][1]._replace(u=u)
        for members in by_tool.values():
            own, shared = own_errors(members), shared_errors(members)
            if len(members) == 1:
                self.parts += own
            elif "common_error" in members[0][1].tool or squares(shared) > squares(own) * (1 + 1e-12):
                self.parts += shared
            else:
                self.parts += own

    def estimate(self, value):
        return Estimate(value, self.parts + list(self.by_measure.values()))


class Bound:
    """The one component of a figure that follows an extreme."""

    def __init__(self, u):
        self.parts, self.by_measure = [Part("worked-out", u)], {}


def figure(formula, parts, position, name, run_to_run, most=math.inf):
    choices = formula.choices(parts)
    if len(choices) > most:
        raise NoFigure("too many choices")
    number = formula.work_out(parts, position, choices[0])
    found = Components(number.slopes, parts.behind)
    step = step_part(formula, parts, position, choices[0])
    if len(choices) == 1:
        return Figure(number, found, name, position, run_to_run, parts.behind, step)
    level, u = 1 - 0.05 / len(choices), 0.0
    found = found.estimate(number.value)
    for choice in choices:
        other = formula.work_out(parts, position, choice)
        est = Components(other.slopes, parts.behind).estimate(other.value)
        apart = abs(float(other.value - number.value))
        if apart <= (est.expanded(level) + found.expanded(level)) * (1 + 1e-12):
            u = max(u, est.expanded(level) / z_at(LEVEL), est.u)
    return Figure(number, Bound(u), name, position, run_to_run, {}, step)


def left_out(formula, measured, which, least):
    """What a figure leaves out in one run, itself and by the figures that it names."""
    found = []
    for name in dict.fromkeys(name for name in formula.named if name in measured):
        one = measured[name]
        unread = [p for p in one.positions if p not in one.by_run[which]]
        own = [{"measure": name, "positions": unread, "read": len(one.by_run[which])}] if unread else []
        for left in (own if least is not None and name in formula.whole else []) + getattr(one, "left_out", [[], []])[which]:
            found += [left] if left not in found else []
    return found


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
        self.setting_unit = next((measured[name].setting_unit for name in formula.at_hand
                                  if name not in asked and measured[name].positions != [None]), None)
        # What follows an extreme of several positions cannot be named in turn.
        self.extreme = any(len(measured[inner].positions) > 1 for _, _, inner, _ in formula.extremes)
        self.shared = {name: measured[name].shared for name in names}
        self.shared = {name: one for of_it in self.shared.values() for name, one in of_it.items()}
        self.run_to_run = RunToRun(measure["run_to_run"]) if "run_to_run" in measure else None
        self.variation_known = bool(self.run_to_run) or (
            len(names) == len(formula.named) and all(measured[name].variation_known for name in names))
        self.by_run, self.why, self.left_out = [{}, {}], [{}, {}], [[], []]
        for which, run in enumerate(("baseline", "retest")):
            tables = job[run].get("condition", {})
            conditions = {name: Reading(tables[name], tables[name], asked[name]["unit"], job["tools"])
                          for name in formula.named if name in asked}
            for position in self.positions:
                parts = Parts(measured, which, conditions, formula.whole, measure.get("least_read"))
                try:
                    for part in formula.named:  # the first that was not read, in the order of the formula
                        if part in formula.at_hand or part in asked:
                            parts.at(part, position)
                        else:
                            parts.needed(part)
                    self.by_run[which][position] = figure(formula, parts, position, measure["id"], self.run_to_run,
                                                          most / len(self.positions))
                except NotTaken as why:
                    self.why[which][position] = why.args[0]
            if self.by_run[which]:
                self.left_out[which] = left_out(formula, measured, which, measure.get("least_read"))
        self.over_others = all(self.by_run) and self.left_out[0] != self.left_out[1]

    def scatter_of(self, before, after, wb, wa, _):
        """One estimate of both runs is one component, as is what is stated of a machine."""
        parts = []
        for key in {**before.by_measure, **after.by_measure}:
            both = [abs(w) * reading.by_measure[key].u if key in reading.by_measure else 0.0
                    for w, reading in ((wb, before), (wa, after))]
            found = [reading.by_measure.get(key) for reading in (before, after)]
            name, source = key
            if source == "run-to-run" or self.shared.get(name):
                parts.append((found[0] or found[1])._replace(u=math.hypot(*both)))
            else:
                parts += [p._replace(u=u) for p, u in zip(found, both) if p]
        return parts
