"""What a step of a table adds to a figure that lies beside it (section 5b)."""

from expansion import LEVEL, Part, z_at
from formula import NoFigure, Unclear


class Moved:
    """The parts of a formula, each a figure by itself, and one of them moved."""

    def __init__(self, parts, key=None, by=0.0):
        self.parts, self.key, self.by, self.met = parts, key, by, {}

    def at(self, name, position):
        value, _, size, _ = self.parts.at(name, position)
        condition = name in self.parts.conditions
        place = None if condition or self.parts.measured[name].positions == [None] else position
        key = (name, place)
        self.met[key] = (self.parts.conditions[name] if condition
                         else self.parts.measured[name].by_run[self.parts.which][place])
        if key == self.key:
            value = float(value) + self.by
        return value, {key: 1.0}, size, None

    def all_of(self, name):
        return {p: self.at(name, p) for p in self.parts.places(name)}


def step_part(formula, parts, position, choice):
    """The component that steps add, or none."""
    if not formula.asks_steps:
        return []
    still = Moved(parts)
    found, jump = formula.work_out(still, position, choice), 0.0
    for key, reading in still.met.items():
        u = reading.estimate().expanded()
        for by in (u, -u):
            try:
                moved = Moved(parts, key, by)  # and what is extreme is looked for anew
                there = formula.work_out(moved, position, formula.choices(moved)[0])
            except Unclear:
                raise
            except NoFigure:
                continue
            size = max(there.size, found.size)
            more = abs(float(there.value) - float(found.value) - found.slopes.get(key, 0.0) * by)
            jump = max(jump, more if more > 1e-12 * size else 0.0)
    return [Part("worked-out", jump / z_at(LEVEL))] if jump else []
