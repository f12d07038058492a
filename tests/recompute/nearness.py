"""Comparisons where binary rounding must decide nothing.

The rules take figures that differ by less than 10⁻¹² of their size as equal. Where the
program's arithmetic may leave more than that (a difference of two large figures), either
side is right; much nearer than that, only "equal" is.
"""

import itertools

SURELY_EQUAL, SURELY_APART = 3e-13, 1e-10


def relations(x, y, size=0.0):
    """What x may be against y: a set of -1 (less), 0 (equal) and 1 (more)."""
    off = float(x - y)
    sign = (off > 0) - (off < 0)
    own = max(abs(float(x)), abs(float(y)))
    if abs(off) <= SURELY_EQUAL * own:
        return {0}
    return {0, sign} if abs(off) < SURELY_APART * max(own, size) else {sign}


def relations_of_expanded(u, y, size=0.0):
    """The same of an expanded uncertainty. It is the root of an equation, which each side
    solves by a method of its own, so that within rounding either is right.
    """
    off = abs(float(u) - float(y))
    near = off < SURELY_APART * max(abs(float(u)), abs(float(y)))
    return {-1, 0, 1} if near else relations(u, y, size)


def every(*sets):
    """All ways to choose one of each set."""
    return itertools.product(*sets)


def tie(options, theirs, ours=None):
    """Their answer if it is one of those that are right, else ours."""
    if theirs in options:
        return theirs
    return ours if ours in options else sorted(options, key=str)[0]
