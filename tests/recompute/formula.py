"""Formulas of figures that are worked out: their value and its slopes (section 5a)."""

import itertools
import math
import re
from fractions import Fraction as F

from nearness import relations

OF_ONE = ("root", "exp", "ln", "size")
OF_ALL = ("sum", "mean", "lowest", "highest", "spread", "greatest-deviation")
EXTREMES = OF_ALL[2:]
# A hyphen belongs to an id; a minus sign stands apart.
TOKEN = re.compile(r"\s*(?:(\d+\.?\d*|\.\d+)|([A-Za-z][A-Za-z0-9_-]*)|(.))")

ROUNDING = 1e-12


class NoFigure(Exception):
    """Beyond the ends of a table, or no number at all."""


class Unclear(NoFigure):
    """So near a row of a table that rounding would choose."""


class Number:
    """A figure with its slope by each reading, and the size of what was rounded on the way.

    `gross` are the slopes with all terms counted alike, whatever their signs: what a sum
    leaves of them by rounding is nothing.
    """

    def __init__(self, value, slopes=None, size=None, gross=None):
        self.value, self.slopes = value, slopes or {}
        self.gross = gross or {part: abs(s) for part, s in self.slopes.items()}
        self.size = abs(float(value)) if size is None else max(size, abs(float(value)))

    def through(self, value, slope):
        """The figure passed through a function of that slope."""
        return joined(value, (slope, self))


def joined(value, *weighted):
    """A figure of several, each with the slope of the whole by it."""
    slopes, gross = {}, {}
    for slope, number in weighted:
        for part, s in number.slopes.items():
            slopes[part] = slopes.get(part, 0.0) + float(slope) * s
            gross[part] = gross.get(part, 0.0) + abs(float(slope)) * number.gross[part]
    slopes = {part: s if abs(s) > ROUNDING * gross[part] else 0.0 for part, s in slopes.items()}
    return Number(value, slopes, max(abs(float(slope)) * number.size for slope, number in weighted), gross)


def power(base, exponent):
    b, e = base.value, exponent.value
    if e == int(e) and abs(e) <= 64 and (b != 0 or e > 0):
        value, slope = F(b) ** int(e), F(e) * F(b) ** (int(e) - 1) if e else F(0)
    else:
        value = float(b) ** float(e)
        slope = float(e) * float(b) ** (float(e) - 1)
    by_exponent = float(value) * math.log(b) if exponent.slopes else 0.0
    return joined(value, (slope, base), (by_exponent, exponent))


def of_one(name, x):
    v = float(x.value)
    if name == "root":
        return x.through(math.sqrt(v), 0.5 / math.sqrt(v))
    if name == "exp":
        return x.through(math.exp(v), math.exp(v))
    if name == "ln":
        return x.through(math.log(v), 1 / v)
    return x.through(abs(x.value), -1 if v < 0 else 1)


def looked_up(table, x):
    """A table's answer; at a row, where two lines meet, with the steeper slope."""
    rows = [(F(a), F(b)) for a, b in table["rows"]]
    at = F(x.value)
    for a, _ in rows:
        near = relations(at, a, x.size)
        if 0 in near and (len(near) > 1 or x.size > 30 * abs(a)):
            raise Unclear("neither clearly at a row nor beside it")
        at = a if near == {0} else at
    if at < rows[0][0] or at > rows[-1][0]:
        raise NoFigure(table["id"])
    if table.get("between", "line") == "step":
        return x.through([b for a, b in rows if a <= at][-1], 0)
    if table.get("between") == "up-to":
        return x.through([b for a, b in rows if a >= at][0], 0)
    found = []
    for (a, b), (c, d) in zip(rows, rows[1:]):
        if a <= at <= c:
            slope = (d - b) / (c - a)
            found.append((abs(slope), slope, b + slope * (at - a)))
    _, slope, value = max(found)
    return x.through(value, slope)


class Formula:
    """A formula, read once and worked out for each run and position."""

    def __init__(self, text, tables):
        self.tables = {table["id"]: table for table in tables}
        self.tokens = [match.groups() for match in TOKEN.finditer(text.strip())]
        self.at, self.extremes, self.named, self.at_hand, self.whole = 0, [], [], [], set()
        self.asks_steps = False
        self.tree = self.sum()
        assert self.at == len(self.tokens), text

    # --- Reading it: `^` closest and to the right, then the sign, `* /`, `+ -` ---

    def next_is(self, *signs):
        if self.at < len(self.tokens) and self.tokens[self.at][2] in signs:
            self.at += 1
            return self.tokens[self.at - 1][2]
        return None

    def sum(self):
        left = self.product()
        while sign := self.next_is("+", "-"):
            left = (sign, left, self.product())
        return left

    def product(self):
        left = self.signed()
        while sign := self.next_is("*", "/"):
            left = (sign, left, self.signed())
        return left

    def signed(self):
        if sign := self.next_is("+", "-"):
            return ("negative", self.signed()) if sign == "-" else self.signed()
        base = self.atom()
        return ("^", base, self.signed()) if self.next_is("^") else base

    def atom(self):
        if self.next_is("("):
            inner = self.sum()
            assert self.next_is(")")
            return inner
        number, name, _ = self.tokens[self.at]
        self.at += 1
        if number:
            return ("number", F(number))
        if not self.next_is("("):
            self.named.append(name)
            self.at_hand.append(name)
            return ("part", name)
        if name in OF_ALL:
            inner = self.tokens[self.at][1]
            self.at += 1
            self.named.append(inner)
            self.whole.add(inner)
            node = ("all", name, inner, len(self.extremes))
            if name in EXTREMES:
                self.extremes.append(node)
        else:
            node = ("one", name, self.sum())
            self.asks_steps |= self.tables.get(name, {}).get("between", "line") != "line"
        assert self.next_is(")")
        return node

    # --- Working it out ---

    def choices(self, parts):
        """Every choice of positions for the extremes, the one that was found first."""
        ways = []
        for _, name, inner, _ in self.extremes:
            at = parts.all_of(inner)
            values = {p: part[0] for p, part in at.items()}
            low, high = min(values, key=values.get), max(values, key=values.get)
            if low == high and len(values) > 1:  # all alike: still a pair of two
                high = list(values)[1]
            if name == "spread":
                found, each = (high, low), list(itertools.permutations(at, 2))
            elif name == "greatest-deviation":
                mean = sum(values.values()) / len(values)
                found, each = max(values, key=lambda p: abs(values[p] - mean)), list(at)
            else:
                found, each = low if name == "lowest" else high, list(at)
            ways.append([found] + [one for one in each if one != found])
        return list(itertools.product(*ways))

    def work_out(self, parts, position, choice):
        try:
            return self.value_of(self.tree, parts, position, choice)
        except (ZeroDivisionError, ValueError, OverflowError):
            raise NoFigure("no number") from None

    def value_of(self, node, parts, position, choice):
        go = lambda inner: self.value_of(inner, parts, position, choice)
        kind = node[0]
        if kind == "number":
            return Number(node[1])
        if kind == "part":
            return Number(*parts.at(node[1], position))
        if kind == "all":
            return self.over_all(node, parts, choice)
        if kind == "one":
            x = go(node[2])
            return of_one(node[1], x) if node[1] in OF_ONE else looked_up(self.tables[node[1]], x)
        if kind == "negative":
            x = go(node[1])
            return x.through(-x.value, -1)
        x, y = go(node[1]), go(node[2])
        if kind == "+":
            return joined(x.value + y.value, (1, x), (1, y))
        if kind == "-":
            return joined(x.value - y.value, (1, x), (-1, y))
        if kind == "*":
            return joined(x.value * y.value, (y.value, x), (x.value, y))
        if kind == "/":
            return joined(x.value / y.value, (1 / y.value, x), (-x.value / y.value**2, y))
        return power(x, y)

    def over_all(self, node, parts, choice):
        _, name, inner, which = node
        at = {p: Number(*part) for p, part in parts.all_of(inner).items()}
        total = joined(sum(x.value for x in at.values()), *((1, x) for x in at.values()))
        mean = joined(total.value / len(at), (F(1, len(at)), total))
        if name in ("sum", "mean"):
            return total if name == "sum" else mean
        if name == "spread":
            high, low = (at[p] for p in choice[which])
            return joined(high.value - low.value, (1, high), (-1, low))
        one = at[choice[which]]
        if name == "greatest-deviation":
            return of_one("size", joined(one.value - mean.value, (1, one), (-1, mean)))
        return one
