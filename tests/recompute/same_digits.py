#!/usr/bin/env python3
"""The same result on a processor without some of its features, or with another C library.

    same_digits.py PROGRAM [--against OTHER] [--jobs N] [--seed S]

Makes random job folders (`maker.py`) and lets PROGRAM judge each twice (`check --json`):
as it is, and with the C library told that the processor has neither fused multiply-add
nor AVX2, which its mathematical functions use where they can; with --against, once by
each of two programs, such as one for the target x86_64-unknown-linux-musl. The answers
must be the same to the last byte.
"""

import argparse
import os
import subprocess
import sys
import tempfile
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

from maker import Maker

WITHOUT = os.environ | {"GLIBC_TUNABLES": "glibc.cpu.hwcaps=-FMA,-FMA4,-AVX2"}


def main():
    parser = argparse.ArgumentParser(description=__doc__.split("\n\n")[0])
    parser.add_argument("program")
    parser.add_argument("--against")
    parser.add_argument("--jobs", type=int, default=500)
    parser.add_argument("--seed", type=int, default=1)
    args = parser.parse_args()
    with tempfile.TemporaryDirectory() as scratch, ThreadPoolExecutor() as pool:
        judged = []

        def is_same(seed):
            folder = Path(scratch) / str(seed)
            Maker(seed).write(folder)
            ways = [(args.program, os.environ),
                    (args.against, os.environ) if args.against else (args.program, WITHOUT)]
            plain, without = (subprocess.run([program, "check", "--json", folder],
                                             capture_output=True, env=env, timeout=60)
                              for program, env in ways)
            # A job may be refused (2): then there are no digits.
            assert plain.returncode in (0, 1, 2, 3), plain.stderr
            judged.append(plain.returncode != 2)
            return (plain.returncode, plain.stdout) == (without.returncode, without.stdout)

        seeds = range(args.seed, args.seed + args.jobs)
        others = [seed for seed, same in zip(seeds, pool.map(is_same, seeds)) if not same]
    for seed in others:
        print(f"job {seed} has other digits")
    print(f"{args.jobs - len(others)} the same, {len(others)} not; {sum(judged)} were judged")
    return 1 if others else 0


if __name__ == "__main__":
    sys.exit(main())
