#!/usr/bin/env python3
"""Independent recomputation of the judgement.

    recompute.py PROGRAM [--jobs N] [--seed S] [--keep FOLDER]

Makes random job folders, lets PROGRAM judge each (`check --json`), judges the same
files again, and prints every disagreement. Needs Python 3.11, numpy and scipy.
Written from the description of the job folder and of the rules, not from the
program's code: JCGM 100:2008 (uncertainty), ILAC-G8:09/2019, 4.2.3 (zones), NIST
SP 811, appendix B (unit factors), Clopper and Pearson (interval of a share), Fisher,
McNemar and Wilcoxon (exact tests), Iglewicz and Hoaglin (outliers), Beer and Lambert
(opacity over another path).

Every figure of a file is kept as the exact decimal that was written (Fraction), so
that "exactly at the limit" means just that, with its digits: 6.0 s was read to a tenth; square roots and quantiles are floats.
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

from figures import Estimate
from job import judge
from maker import Maker
from units import Written

EXIT = {"verified": 0, "not-verified": 1, "undecided": 3}


def differences(path, theirs, ours, scale=1.0):
    """Every disagreement as (path, theirs, ours); what we do not judge is passed over."""
    if isinstance(ours, Estimate):
        parts = [{"source": s, "u": u, "dof": nu} for s, u, nu in ours.parts]
        ours = {"value": ours.value, "u": ours.u, "dof": ours.dof, "expanded": ours.expanded(), "components": parts}
    ours = None if ours == math.inf else ours
    if isinstance(ours, dict) and isinstance(theirs, dict):
        if isinstance(ours.get("baseline"), Estimate):
            # A difference keeps the rounding of the greater figure.
            scale = max(scale, *(abs(float(ours[run].value)) for run in ("baseline", "retest")))
        for key, value in ours.items():
            pure = key in ("relative", "dof", "conformity")  # a number without a unit
            yield from differences(f"{path}.{key}", theirs.get(key), value, 1.0 if pure else scale)
    elif isinstance(ours, list) and isinstance(theirs, list):
        if path.endswith(".components"):
            by_name = lambda part: (part["source"], part["u"])
            # A percentage of 0 °C, reckoned by way of kelvins, is not quite nothing.
            ours, theirs = (sorted((part for part in parts if not 0 < part["u"] < 1e-12 * scale), key=by_name)
                            for parts in (ours, theirs))
        if len(ours) != len(theirs):
            yield f"{path}.length", len(theirs), len(ours)
        for i, (t, o) in enumerate(zip(theirs, ours)):
            yield from differences(f"{path}[{i}]", t, o, scale)
    elif isinstance(ours, (float, F)) and isinstance(theirs, (int, float)):
        # Of degrees of freedom the inverse counts: a billion is as good as any more.
        t, o = (1 / theirs, 1 / ours) if path.endswith(".dof") else (theirs, float(ours))
        if not abs(t - o) <= 1e-9 * abs(o) + 1e-12 * scale:
            yield path, theirs, float(ours)
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
    ours["(exit code)"], theirs["(exit code)"] = EXIT[ours["verdict"]], done.returncode
    return list(differences("", theirs, ours))


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
            Maker(seed).write(folder)
            return check(args.program, folder)

        seeds = range(args.seed, args.seed + args.jobs)
        for seed, found in zip(seeds, pool.map(one, seeds)):
            failed += bool(found)
            for path, theirs, ours in found:
                print(f"job {seed}  {path.lstrip('.')}  theirs {theirs}  ours {ours}")
    print(f"{time.monotonic() - began:.1f} s", file=sys.stderr)
    print(f"{args.jobs - failed} passed, {failed} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
