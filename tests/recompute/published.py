#!/usr/bin/env python3
"""Holds this recomputation itself against published figures. Prints nothing if all is well.

Where a line says "from memory", the figure was not read in the document again.
"""

import math
import statistics
from fractions import Fraction as F

from scipy import stats

from counts import clopper_pearson, fisher, mcnemar
from expansion import Estimate, half_width, Part, t_at, z_at
from exact import sign_test
from figures import Measured, signed_rank
from limits import exactly
from measures import balance, conformity
from rates import equal_rates, garwood, reading_of, zone_of
from reservations import grubbs
from units import Written


def near(found, published, places):
    assert round(float(found), places) == published, (found, published)


def measured(baseline, retest):
    """Rows of both runs as readings of cylinders in volts, without an instrument."""
    rows = [{i: {"values": list(map(Written, values.split()))} for i, values in enumerate(run)} for run in (baseline, retest)]
    return Measured({}, [{"unit": "V"}] * 2, rows, "V", {}, positions=rows[0])


def expansion():
    for dof, published in ((1, 12.71), (8, 2.31), (16, 2.12), (50, 2.01)):  # JCGM 100, table G.2
        near(t_at(dof, 0.95), published, 2)
    near(z_at(0.95), 1.96, 2)
    # A rectangular error alone: 95 % lie within 0.95 a; EA-4/02, S9: k = 1.65 (from memory).
    alone = Estimate(100, [Part("accuracy", 0.05 / math.sqrt(3))])
    near(alone.expanded(), 0.0475, 12)
    near(alone.expanded() / alone.u, 1.65, 2)
    # Two equal ones make a triangle: 1 - (1 - x/2a)² = 0.95 at x = 2a(1 - √0.05), by hand.
    near(half_width(1, 1, 0, 0.95), round(2 * (1 - math.sqrt(0.05)), 12), 12)
    # JCGM 106: 2Φ(h/u) - 1 in the middle of a band of half-width h.
    for low, value, high, u, published in ((14.0, 14.2, 14.4, 0.1640, 0.777), (0.20, 0.225, 0.25, 0.0144, 0.917)):
        near(conformity(Estimate(F(value), [Part("by-eye", u)]), exactly(low), exactly(high)), published, 3)


def scatter():
    # NIST StRD, one-way analysis of variance, SiRstv: certified residual standard deviation.
    rows = ["196.3052 196.1240 196.1890 196.2569 196.3403", "196.3042 196.3825 196.1669 196.3257 196.0422",
            "196.1303 196.2005 196.2889 196.0343 196.1811", "196.2795 196.1748 196.1494 196.1485 195.9885",
            "196.2119 196.1051 196.1850 196.0052 196.2090"]
    (s, dof), _ = measured(rows, ["196.1"] * 5).scatter.runs
    near(s, 0.1040760683347, 13)  # 1.04076068334656E-01
    assert dof == 20
    # JCGM 100, H.5, table H.9 (from memory): the pooled s of ten days of five readings, 85 µV.
    days = [60, 77, 111, 101, 67, 93, 80, 73, 88, 86]
    near(math.sqrt(statistics.mean(s * s for s in days)), 84.8870, 4)
    # Grubbs (1969), two-sided 1 %, from memory: 1.155, 1.496, 1.764, 2.482.
    for n, published in ((3, 1.155), (4, 1.496), (5, 1.764), (10, 2.482)):
        near(grubbs(n), published, 3)


def tests():
    near(fisher(3, 4, 1, 4), 0.4857, 4)  # Fisher's tea tasting
    assert fisher(682, 925, 682, 925) == 1 == fisher(0, 1000, 1, 1000)
    near(mcnemar(2, 10), 0.03857421875, 11)  # binomial tail, by hand
    near(clopper_pearson(81, 263)[0], 0.2527, 4)  # Newcombe (1998), table I
    near(clopper_pearson(81, 263)[1], 0.3676, 4)
    # Hollander and Wolfe (1973), depression scale: V = 40, one-sided p = 0.01953.
    before = "1.83 0.50 1.62 2.48 1.68 1.88 1.55 3.06 1.30".split()
    after = "0.878 0.647 0.598 2.05 1.06 1.29 1.06 3.14 1.29".split()
    found = signed_rank([[Written(v) for v in run] for run in (before, after)])
    assert found["falls"] == 40
    near(found["p"], 0.0390625, 7)
    # Iglewicz and Hoaglin: both outliers, although no classical z is beyond 2.
    ten = dict(enumerate(map(F, "2.1 2.6 2.4 2.5 2.3 2.1 2.3 2.6 8.2 8.3".split())))
    assert balance(ten)["outliers"] == [8, 9]


def rates():
    # Garwood (1936), as in every table of Poisson limits, from memory.
    for n, low, high in ((0, 0, 3.689), (1, 0.025, 5.572), (2, 0.242, 7.225), (5, 1.623, 11.668), (10, 4.795, 18.390)):
        near(garwood(n)[0], low, 3)
        near(garwood(n)[1], high, 3)
        assert abs(stats.poisson.sf(n - 1, garwood(n)[0]) - 0.025) < 1e-12 or n == 0
        assert abs(stats.poisson.cdf(n, garwood(n)[1]) - 0.025) < 1e-12
    for n in range(0, 41):
        for k in range(n + 1):
            near(sign_test(k, n - k), round(stats.binomtest(k, n, 0.5).pvalue if n else 1, 10), 10)
            for share in (F(1, 2), F(1, 3), F(1, 20), F(105, 305)):
                found = stats.binomtest(k, n, float(share)).pvalue if n else 1
                near(equal_rates(n - k, k, share), round(found, 10), 10)
    assert equal_rates(0, 1, F(1, 20)) == F("0.05")
    row = {"count": 0, "over": 20, "unit": "min"}
    assert zone_of(reading_of(row, "min"), None, F("0.1"), "guarded", None) == "conditional-pass"
    assert zone_of(reading_of(row, "min"), None, F("0.1"), "simple", None) == "pass"


if __name__ == "__main__":
    rates()
    expansion()
    scatter()
    tests()
