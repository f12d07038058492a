#!/usr/bin/env python3
"""Independent recomputation of the judgement.

    recompute.py PROGRAM [--jobs N] [--seed S] [--keep FOLDER]

Makes random job folders, lets PROGRAM judge each (`check --json`), judges the same
files again, and prints every disagreement. Needs Python 3.11, numpy and scipy.
Written from the rules of judging (`samples/JUDGING.md`) and the description of the job
folder (`samples/FORMAT.md`) alone, not from the program's code; the section of the rules
stands at the head of each file. `published.py` holds it against published figures.

Every figure of a file is kept as the exact decimal that was written (Fraction), so that
"exactly at the limit" means just that; square roots and quantiles are floats. What counts
as equal nevertheless: `nearness.py`.
"""

import argparse
import json
import math
import subprocess
import sys
import tempfile
import time
import tomllib
from concurrent.futures import ThreadPoolExecutor
from fractions import Fraction as F
from pathlib import Path

from expansion import Estimate
from job import judge
from maker import Maker
from units import Written

EXIT = {"verified": 0, "not-verified": 1, "undecided": 3}


PURE = ("relative", "conformity", "k", "p")  # numbers without a unit


def as_result(estimate):
    """An estimate with the keys of the result."""
    parts = [{"source": p.source, "u": p.u, "dof": p.dof} for p in estimate.parts]
    u, expanded = estimate.u, estimate.expanded()
    return {"value": estimate.value, "u": u, "k": expanded / u if u else None, "expanded": expanded,
            "dof_of_scatter": estimate.dof_of_scatter, "components": parts}


def differences(path, theirs, ours, scale=1.0):
    """Every disagreement as (path, theirs, ours); what we do not judge is passed over."""
    if isinstance(ours, Estimate):
        ours = as_result(ours)
        if theirs and theirs.get("u", 1) <= 1e-12 * scale >= ours["u"]:
            # What binary rounding leaves of errors that cancel has no factor to speak of.
            ours.pop("k")
        if theirs and any(0 < p["u"] <= 1e-12 * scale and p["dof"] for p in theirs["components"]):
            ours.pop("dof_of_scatter")  # nor is it scatter
    ours = None if ours == math.inf else ours
    if isinstance(ours, dict) and isinstance(theirs, dict):
        for key in ("baseline", "retest", "difference"):
            # A difference keeps the rounding of the greater figure.
            if isinstance(ours.get(key), Estimate):
                est = ours[key]
                scale = max(scale, abs(float(est.value)), est.size, est.expanded())
        for key, value in ours.items():
            pure = max(1.0, scale / abs(float(ours["baseline"].value))) if key == "relative" and value else 1.0
            yield from differences(f"{path}.{key}", theirs.get(key), value, pure if key in PURE else scale)
    elif isinstance(ours, list) and isinstance(theirs, list):
        if path.endswith(".components"):
            by_name = lambda part: (part["source"], float(f"{part['u']:.9e}"), part["dof"] or math.inf)
            # A percentage of 0 °C, reckoned by way of kelvins, is not quite nothing.
            ours, theirs = (sorted((part for part in parts if not 0 < part["u"] < 1e-12 * scale), key=by_name)
                            for parts in (ours, theirs))
        if len(ours) != len(theirs):
            yield f"{path}.length", len(theirs), len(ours)
        for i, (t, o) in enumerate(zip(theirs, ours)):
            yield from differences(f"{path}[{i}]", t, o, scale)
    elif isinstance(ours, (float, F)) and isinstance(theirs, (int, float)):
        t, o = theirs, float(ours)
        if ".holds_unless." in path:  # the root of a difference of squares magnifies rounding
            near = abs(t * t - o * o) <= 1e-9 * o * o + 1e-10 * scale * scale
        else:
            near = abs(t - o) <= 1e-9 * abs(o) + 1e-12 * scale + getattr(ours, "rounded", 0.0)
        if not near:
            yield path, t, o
    elif ".holds_unless." in path and (theirs is None) != (ours is None):
        # At an edge the root of next to nothing, or null: nothing to choose between.
        if max(abs(x) for x in (theirs, ours) if x is not None) > 3e-6 * scale:
            yield path, theirs, ours
    elif theirs != ours:
        yield path, theirs, float(ours) if isinstance(ours, F) else ours


def load(folder):
    job = {name: tomllib.loads((folder / f"{name}.toml").read_text("utf-8"), parse_float=Written)
           for name in ("job", "limits", "baseline", "work", "retest")}
    tools = {tool["id"]: tool for tool in job["job"].get("instrument", [])}
    return job | {"tools": tools, "rule": job["limits"].get("decision_rule", "four-zone")}


def check(program, folder):
    """The disagreements about one folder."""
    try:
        done = subprocess.run([program, "check", "--json", folder], capture_output=True, text=True, timeout=30)
    except subprocess.TimeoutExpired:
        return [("(program)", "no answer in 30 s", "a result")]
    if done.returncode not in EXIT.values():
        return [("(program)", f"exit {done.returncode}: {done.stderr.strip()}", "a result")]
    theirs = json.loads(done.stdout)
    ours = judge(load(folder), theirs)
    theirs["reservations"] = sorted(((r["what"], r["about"], r["day"]) for r in theirs["reservations"]), key=str)
    theirs["reasons"] = sorted(((r["what"], r["about"]) for r in theirs["reasons"]), key=str)
    for key in ("reasons", "reservations"):  # each said or not, whatever stands beside it
        both = [set(map(str, found[key])) for found in (theirs, ours)]
        theirs[key], ours[key] = ({f"{said}": True for said in own - other} for own, other in (both, both[::-1]))
        for found, other in ((theirs[key], ours[key]), (ours[key], theirs[key])):
            other |= {said: False for said in found if said not in other}
    ours["(exit code)"], theirs["(exit code)"] = EXIT[ours["verdict"]], done.returncode
    return list(differences("", theirs, ours))


# Jobs in which program and recomputation are known to disagree, and why it is left so. They
# are printed, and fail nothing.
OPEN = {
    248: "an uncertainty of 10⁻¹² of the value: rounding shows in a probability",
    427: "a zone at its very edge, where the slopes of a formula cancel but for rounding",
    749: "by the rules the reading is at a row (2·10⁻¹⁰ K from it); the recomputation has it above",
}


def main():
    parser = argparse.ArgumentParser(description=__doc__.split("\n\n")[0])
    parser.add_argument("program")
    parser.add_argument("--jobs", type=int, default=500)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--keep", type=Path, help="leave the folders here")
    args = parser.parse_args()
    began, failed = time.monotonic(), 0
    with tempfile.TemporaryDirectory() as scratch, ThreadPoolExecutor() as pool:
        def one(seed):
            folder = (args.keep or Path(scratch)) / str(seed)
            try:
                Maker(seed).write(folder)
                return check(args.program, folder)
            except Exception as error:  # of this recomputation itself: the other jobs go on
                return [("(recomputation)", "a result", repr(error))]

        seeds = range(args.seed, args.seed + args.jobs)
        for seed, found in zip(seeds, pool.map(one, seeds)):
            failed += bool(found) and seed not in OPEN
            if found and seed in OPEN:
                print(f"job {seed}: known and open: {OPEN[seed]}")
                continue
            for path, theirs, ours in found:
                print(f"job {seed}  {path.lstrip('.')}  theirs {theirs}  ours {ours}")
    print(f"{time.monotonic() - began:.1f} s", file=sys.stderr)
    print(f"{args.jobs - failed} passed, {failed} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
