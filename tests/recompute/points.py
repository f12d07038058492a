"""Points of one test: positions that have a setting (section 5)."""

import math
from fractions import Fraction as F

from expansion import Part


def points_of(measure, job):
    """The table of the points at which it is read, if it is read at such."""
    return next((t for t in job["limits"].get("points", []) if t["id"] == measure.get("at")), None)


def slopes_of(settings, values):
    """At each point that was taken, the steeper of the lines to its neighbours."""
    taken = [p for p in settings if p in values]
    found = {}
    for i, p in enumerate(taken):
        lines = [abs((values[q] - values[p]) / (F(q) - F(p))) for q in taken[max(0, i - 1):i + 2] if q != p]
        found[p] = max(lines, default=F(0))
    return found


def add_settings(readings, settings, held_within):
    """To each reading what it would differ by if its setting were elsewhere."""
    slopes = slopes_of(settings, {p: reading.value for p, reading in readings.items()})
    for p, reading in readings.items():
        u = float(slopes[p] * F(held_within)) / math.sqrt(3)
        reading.parts += [Part("setting", u)] if u else []
