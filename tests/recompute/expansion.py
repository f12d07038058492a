"""An estimate, the components of its uncertainty, and how these are expanded (section 1)."""

import math
from functools import cached_property, lru_cache
from typing import NamedTuple

from scipy import optimize, special, stats

LEVEL = 0.95
RECTANGULAR = ("accuracy", "resolution", "setting")
SMALL_BOUND = 0.01  # of the larger of the largest bound and σ


class Part(NamedTuple):
    """One component; k is the coverage factor of a certificate."""

    source: str
    u: float
    dof: float = math.inf
    k: float = 0.0


@lru_cache
def z_at(level):
    return float(special.ndtri((1 + level) / 2))


@lru_cache
def t_at(dof, level):
    """Student's t for whole degrees of freedom; infinitely many make it z."""
    if dof == math.inf:
        return z_at(level)
    whole = max(1, math.floor(dof * (1 + 1e-12)))  # a whole number must not lose one to rounding
    return float(stats.t.isf((1 - level) / 2, whole))


def beyond(x, a, b, sigma):
    """1 − F(x): how likely an error is above x, of two rectangular ones and a normal one.

    Written for the upper tail, where the terms are small, instead of for F itself.
    """
    if b > 0:
        def k(y):
            if sigma == 0:
                return y * y / 2 if y < 0 else 0.0
            s = y / sigma
            return ((y * y + sigma**2) * special.ndtr(-s) - y * sigma * density(s)) / 2
        return (k(x + a + b) - k(x + a - b) - k(x - a + b) + k(x - a - b)) / (4 * a * b)

    def h(y):
        if sigma == 0:
            return max(-y, 0.0)
        return sigma * density(y / sigma) - y * special.ndtr(-y / sigma)
    return (h(x - a) - h(x + a)) / (2 * a)


def density(s):
    return math.exp(-s * s / 2) / math.sqrt(2 * math.pi)


def half_width(a, b, sigma, level):
    """What holds `level` of the sum of rectangular errors ±a, ±b and a normal one of σ."""
    # Measured in its own size, so that neither a volt nor a microvolt is special.
    size = max(a, sigma)
    if size == 0:
        return 0.0
    larger = size
    if b < SMALL_BOUND * larger:
        sigma, b = math.sqrt(sigma**2 + b * b / 3), 0.0
    if a < SMALL_BOUND * larger:
        sigma, a = math.sqrt(sigma**2 + a * a / 3), 0.0
    if a == 0:
        return z_at(level) * sigma
    a, b, sigma = a / size, b / size, sigma / size
    tail = (1 - level) / 2
    top = a + b + z_at(level) * sigma
    root = optimize.brentq(lambda x: beyond(x, a, b, sigma) - tail, 0, top, xtol=1e-15, rtol=1e-15, maxiter=500)
    return size * root


class Estimate:
    """A value with the components of its uncertainty; of a change, with half a step more."""

    def __init__(self, value, parts, is_change=False, size=0.0):
        self.value, self.parts, self.is_change = value, [p for p in parts if p.u > 0], is_change
        self.size = size  # of what was rounded on the way to the value

    @cached_property
    def u(self):
        return math.sqrt(math.fsum(p.u**2 for p in self.parts))

    @property
    def estimated(self):
        """What was estimated from readings, by its degrees of freedom."""
        return [p for p in self.parts
                if p.source == "repeatability" or (p.source == "run-to-run" and p.dof < math.inf)]

    @property
    def dof_of_scatter(self):
        return min((p.dof for p in self.estimated), default=math.inf)

    @property
    def bounds(self):
        """Half-widths of the rectangular components, the largest first."""
        return sorted((math.sqrt(3) * p.u for p in self.parts if p.source in RECTANGULAR), reverse=True)

    def sigma(self, level):
        """Components 1 and 2, each expanded for itself, as a standard deviation."""
        z, squares = z_at(level), []
        if any(p.u > 1e-150 for p in self.estimated):  # else its fourth power is no number
            u_e = math.sqrt(math.fsum(p.u**2 for p in self.estimated))
            spread = math.fsum((p.u / u_e) ** 4 / p.dof for p in self.estimated)
            squares.append((t_at(1 / spread, level) * u_e) ** 2)
        for p in self.parts:
            if p.source == "stated":
                squares.append((max(p.k * z / z_at(LEVEL), t_at(p.dof, level)) * p.u) ** 2)
            elif p.source in ("hand-timing", "by-eye", "worked-out") or (p.source == "run-to-run" and p.dof == math.inf):
                squares.append((z * p.u) ** 2)
        squares += [(z * bound) ** 2 / 3 for bound in self.bounds[2:]]
        return math.sqrt(math.fsum(squares)) / z

    @lru_cache
    def expanded(self, level=LEVEL):
        a, b = (self.bounds + [0.0, 0.0])[:2]
        half_step = 0.0
        if self.is_change:
            half_step = math.sqrt(3) * max((p.u for p in self.parts if p.source == "resolution"), default=0.0)
        return half_width(a, b, self.sigma(level), level) + half_step

    @cached_property
    def spread(self):
        """The standard deviation of which probabilities are reckoned."""
        return math.sqrt(self.sigma(LEVEL) ** 2 + math.fsum(bound**2 / 3 for bound in self.bounds[:2]))
