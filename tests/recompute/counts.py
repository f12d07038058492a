"""Counts: passes of attempts, of the whole or at each position (section 6)."""

import math
from fractions import Fraction as F

from scipy import special

from figures import rows_of
from measures import claimed, overall, worst

P = F("0.05")


def clopper_pearson(passes, attempts):
    low = special.betaincinv(passes, attempts - passes + 1, 0.025) if passes else 0.0
    high = special.betaincinv(passes + 1, attempts - passes, 0.975) if passes < attempts else 1.0
    return [float(low), float(high)]


def fisher(a, n, b, m):
    """Two-sided: all tables with these margins that are no more probable (exact)."""
    range_ = range(max(0, a + b - m), min(n, a + b) + 1)
    ways = {k: math.comb(n, k) * math.comb(m, a + b - k) for k in range_}
    return F(sum(w for w in ways.values() if w <= ways[a]), sum(ways.values()))


def mcnemar(gained, lost):
    """Twice the binomial tail of the smaller."""
    tail = sum(math.comb(gained + lost, k) for k in range(min(gained, lost) + 1))
    return min(F(1), F(2 * tail, 2 ** (gained + lost)))


def by_p(p, better):
    return "no-detectable-change" if p >= P else "improved" if better else "worsened"


def meets(retest, attempts_before, limit):
    """Enough passes; with more attempts than before, in the same share of them."""
    passes, attempts = retest
    if attempts > attempts_before and passes * attempts_before < limit * attempts:
        return False
    return passes >= limit


def few(change, smallest):
    return "too-few-to-tell" if change == "no-detectable-change" and smallest >= P else change


def counts_of(run, positions):
    """Passes and attempts, or why there are none, of each position."""
    return {p: (row.get("passes"), row.get("attempts"), row.get("not_taken")) for p, row in rows_of(run, positions).items()}


def judge_counts(measure, before, after, positions, fair):
    """Kind `passes`, once or at several positions."""
    before, after = (counts_of(run, positions) for run in (before, after))
    counts, plain, turned, was, missing = [], [], [], [], [False, False]
    limit = measure.get("min_passes")
    for position in positions:
        (a, n, why), (b, m, why_after) = before[position], after[position]
        if why or why_after:
            row = dict.fromkeys(("baseline", "retest", "p", "smallest_p", "change", "baseline_interval", "retest_interval"))
            row |= {"position": position, "not_taken": why_after or why}
            row["outcome"] = "no-limit" if limit is None else "inconclusive"
            if not why_after:
                row |= {"retest": [b, m], "retest_interval": clopper_pearson(b, m)}
                row["outcome"] = "no-limit" if limit is None else "pass" if b >= limit else "fail"
                missing[0] = True
            else:
                missing[1] |= limit is not None
            if not why:
                row |= {"baseline": [a, n], "baseline_interval": clopper_pearson(a, n)}
                was.append("no-limit" if limit is None else "pass" if a >= limit else "fail")
            counts.append(row)
            continue
        p, smallest = fisher(a, n, b, m), fisher(0, n, m, m)
        change = by_p(p, F(b, m) > F(a, n))
        passed = [a == n, b == m] if limit is None else [a >= limit, meets((b, m), n, limit)]
        counts.append({
            "position": position, "baseline": [a, n], "retest": [b, m], "p": p, "smallest_p": smallest,
            "change": claimed(few(change, smallest), fair), "not_taken": None,
            "baseline_interval": clopper_pearson(a, n), "retest_interval": clopper_pearson(b, m),
            "outcome": "no-limit" if limit is None else "pass" if passed[1] else "fail",
        })
        plain.append((p, change))
        turned.append(passed)
        was.append("no-limit" if limit is None else "pass" if passed[0] else "fail")
    change, paired = counts[0]["change"], None
    if "at" in measure and not plain:
        change = None
    elif "at" in measure:
        gained, lost = turned.count([False, True]), turned.count([True, False])
        p, smallest = mcnemar(gained, lost), min(F(1), F(2, 2 ** len(plain)))
        # Besides, a position that changed plainly by itself, at a shared level.
        alone = [change for own, change in plain if own < P / len(plain)]
        change = claimed(few(overall([by_p(p, gained > lost)] + alone), smallest), fair)
        paired = {"gained": gained, "lost": lost, "p": p, "change": change, "smallest_p": smallest}
    at_limit = worst(c["outcome"] for c in counts if c["retest"])
    return {"counts": counts, "paired": paired, "change": change, "was": worst(was),
            "outcome": worst(c["outcome"] for c in counts), "at_limit": at_limit,
            "not_taken": missing[1], "not_taken_before": missing[0],
            "attempts_differ": any(c["baseline"][1] != c["retest"][1] for c in counts if c["baseline"] and c["retest"])}
