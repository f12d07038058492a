#!/usr/bin/env python3
"""Documents to check in a browser, with what the command says of each.

    cases.py PROGRAM FOLDER [--random N] [--mutations N] [--seed S]

Every vector of the specification, a signed report and receipt of every sample, random
reports, mutations of a report, reports of 1 and 5 MB, and documents with hostile names. For each a folder with
document.pdf, and as far as there are any receipt.pdf, fingerprint, certificate-N.pem and
authority-N.pem; and expected.json, which `PROGRAM verify --json` gives for them. Needs Python 3.11, numpy and scipy.
"""

import argparse
import json
import os
import random
import re
import shutil
import struct
import subprocess
import sys
import tomllib
import zlib
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import numpy

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "tests/recompute"))
from maker import Maker  # noqa: E402

PASSPHRASE = "only a demonstration"
HOSTILE = "<img src=x onerror=alert(1)><script>document.title='x'</script>"


class Cases:
    def __init__(self, program, out):
        self.program, self.out = Path(program).resolve(), Path(out).resolve()
        self.work = self.out / "work"
        self.work.mkdir(parents=True)
        self.sentences = set()

    def run(self, *args, codes=(0,), **kind):
        done = subprocess.run(
            [self.program, *map(str, args)], capture_output=True, cwd=self.work,
            env=os.environ | {"RETESTIFY_PASSPHRASE": PASSPHRASE} | kind)
        if done.returncode not in codes:
            raise SystemExit(f"{args}: {done.returncode}: {done.stderr.decode()}")
        return done.stdout

    def case(self, name, document, receipt=None, fingerprint=None, certificates=(), authorities=()):
        """Keeps one case: the bytes of its files, and what the command says of them."""
        folder = self.out / "cases" / name
        folder.mkdir(parents=True)
        (folder / "document.pdf").write_bytes(document)
        asked = ["verify", folder / "document.pdf", "--json"]
        for kind, option, given in [("certificate", "--trust", certificates), ("authority", "--trust-time", authorities)]:
            for number, certificate in enumerate(given):
                file = folder / f"{kind}-{number}.pem"
                file.write_bytes(certificate)
                asked += [option, file]
        if fingerprint is not None:
            (folder / "fingerprint").write_text(fingerprint)
            asked += ["--fingerprint", fingerprint]
        elif receipt is not None:
            (folder / "receipt.pdf").write_bytes(receipt)
            asked += ["--receipt", folder / "receipt.pdf"]
        said = self.run(*asked, codes=(0, 1, 3))
        (folder / "expected.json").write_bytes(said)
        for finding in json.loads(said)["findings"]:
            self.sentences.update(finding["because"])

    def identity(self, folder, name):
        self.run("identity", "new", name, "--identity", folder)
        return (self.work / folder / "certificate.pem").read_bytes()

    def documents(self, folder, identity):
        """A signed report of the job in `folder` with its receipt, where it can be sealed."""
        signed = ("--identity", identity)
        sealed = self.work / folder / "receipt.pdf"
        subprocess.run([self.program, "seal", "baseline", folder, *signed], cwd=self.work,
                       capture_output=True, env=os.environ | {"RETESTIFY_PASSPHRASE": PASSPHRASE})
        self.run("seal", "retest", folder, codes=(0, 2))
        self.run("report", folder, *signed, "--replace")
        receipt = sealed.read_bytes() if sealed.exists() else None
        return (self.work / folder / "report.pdf").read_bytes(), receipt


def edited(edits, file):
    """As `tests/suite/vectors.rs` applies the edits of a vector."""
    for edit in edits:
        if "find" in edit and "replace" in edit:
            find = edit["find"].encode()
            at = file.rindex(find)
            if "lower" in edit:
                start = at + edit["lower"]
                place = next(i for i in range(start, len(file)) if 65 <= file[i] <= 90)
                file = file[:place] + bytes([file[place] + 32]) + file[place + 1:]
            file = file[:at] + edit["replace"].encode() + file[at + len(find):]
        if "at" in edit and "insert" in edit:
            at = edit["at"]
            file = file[:at] + edit["insert"].encode() + file[at + edit.get("remove", 0):]
        file += edit.get("append", "").encode()
        file = file[: len(file) - edit.get("cut", 0)]
    return file


def vectors(cases):
    folder = ROOT / "tests/vectors"
    for path in sorted(folder.glob("document-*.toml")):
        vector = tomllib.loads(path.read_text())
        document = edited(vector.get("edit", []), (folder / vector["base"]).read_bytes())
        receipt = (folder / vector.get("receipt", "receipt.pdf")).read_bytes()
        if not document.startswith(b"%PDF-"):
            continue
        cases.case(
            path.stem, document, edited(vector.get("receipt_edit", []), receipt),
            vector.get("fingerprint"),
            [(folder / name).read_bytes() for name in vector.get("trust", ["shop.pem"])],
            [(folder / name).read_bytes() for name in vector.get("trust_time", ["authority.pem"])])


def samples(cases, certificate):
    shutil.copy(ROOT / "samples/shop.toml", cases.work)
    for path in sorted((ROOT / "samples").iterdir()):
        if not (path / "retest.toml").exists() or path.name == "blank":
            continue
        shutil.copytree(path, cases.work / path.name)
        report, receipt = cases.documents(path.name, "shop")
        cases.case(f"sample-{path.name}", report, receipt, None, [certificate])
        cases.case(f"sample-{path.name}-alone", report)
        if receipt:
            cases.case(f"sample-{path.name}-receipt", receipt, None, None, [certificate])


def swapped(cases, certificate):
    """A report whose readings before the work are not those of the customer's receipt."""
    folders = [cases.work / "as-received", cases.work / "as-reported"]
    for folder in folders:
        shutil.copytree(ROOT / "samples/frost-fan", folder)
    baseline = folders[1] / "baseline.toml"
    text = baseline.read_text()
    assert "value = 12.8" in text
    baseline.write_text(text.replace("value = 12.8", "value = 14.8"))
    (_, receipt), (report, _) = [cases.documents(folder.name, "shop") for folder in folders]
    cases.case("swapped", report, receipt, None, [certificate])


def random_jobs(cases, certificate, count, seed):
    def one(number):
        name = f"random-{number:03}"
        Maker(seed + number).write(cases.work / name)
        if subprocess.run([cases.program, "check", name], cwd=cases.work, capture_output=True).returncode == 2:
            return  # what the program refuses makes no report
        report, receipt = cases.documents(name, "shop")
        cases.case(name, report, receipt, None, [certificate])

    with ThreadPoolExecutor(os.cpu_count()) as pool:
        list(pool.map(one, range(count)))


def mutations(cases, count, seed):
    vector = ROOT / "tests/vectors"
    file, receipt = (vector / "report.pdf").read_bytes(), (vector / "receipt.pdf").read_bytes()
    chance = random.Random(seed)
    mutants = []
    for number in range(count):
        spoiled = bytearray(file)
        for _ in range(chance.choice((1, 1, 2, 8))):
            spoiled[chance.randrange(5, len(spoiled))] ^= chance.choice((1, 0x20, 0x80, 0xFF))
        mutants.append((f"mutation-{number:03}", bytes(spoiled)))
    with ThreadPoolExecutor(os.cpu_count()) as pool:
        list(pool.map(lambda one: cases.case(*one, receipt, None, [(vector / "shop.pem").read_bytes()]), mutants))


def grainy(seed, width=960, height=720):
    """A picture as PNG that no coder makes small, as photos from a dark workshop are."""
    slope = numpy.add.outer(numpy.linspace(40, 200, height), numpy.linspace(0, 40, width))
    grain = numpy.random.default_rng(seed).normal(0, 18, (height, width, 3))
    rows = (slope[..., None] + grain).clip(0, 255).astype("u1")
    part = lambda kind, data: struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
    lines = b"".join(b"\0" + row.tobytes() for row in rows)
    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + part(b"IHDR", head) + part(b"IDAT", zlib.compress(lines, 1)) + part(b"IEND", b"")


def large(cases, certificate):
    """Reports of about 1 and 5 MB: the photos make them."""
    for name, photos in [("large-1", 2), ("large-5", 15)]:
        folder = cases.work / name
        shutil.copytree(ROOT / "samples/frost-fan", folder)
        with (folder / "work.toml").open("a") as work:
            for number in range(photos):
                file = f"photos/grainy-{number}.png"
                (folder / file).write_bytes(grainy(number))
                work.write(f'\n[[photo]]\nfile = "{file}"\ncaption = "Photo {number}"\n')
        report, receipt = cases.documents(name, "shop")
        cases.case(name, report, receipt, None, [certificate])


def hostile(cases):
    """Names that would like to be more than names."""
    sample = cases.work / "hostile"
    shutil.copytree(ROOT / "samples/frost-fan", sample)
    job = (sample / "job.toml").read_text()
    named = tomllib.loads(job)
    for key in ("machine", "customer"):
        long = (HOSTILE + "M" * 120)[:120] if key == "machine" else HOSTILE
        job = job.replace(f'"{named[key]["name"]}"', f"'''{long}'''")
    (sample / "job.toml").write_text(job)
    for folder, name in [("markup", HOSTILE), ("long", "W" * 64)]:
        certificate = cases.identity(folder, name)
        for old in sample.glob("seals/*"):
            old.unlink()
        (sample / "receipt.pdf").unlink(missing_ok=True)
        report, receipt = cases.documents("hostile", folder)
        cases.case(f"hostile-{folder}", report, receipt, None, [certificate])
    # Names of attachments that turn the direction of what follows, or are markup.
    file = (ROOT / "tests/vectors/report.pdf").read_bytes()
    turned = b"\xfe\xff" + "\u05d0\u202e\u05d1".encode("utf-16-be")
    cases.case("hostile-turned", file.replace(b"(job.toml)", b"(" + turned + b")"))
    cases.case("hostile-tag", file.replace(b"(retest.toml)", b"(<s>x</s>.ml)").replace(b"(work.toml)", b"(<hr>.toml)"))


def unknown(sentences):
    """Those that the page cannot say in another language, since `command.ftl` has them not."""
    lines = (ROOT / "report-templates/words/verify/command.ftl").read_text().splitlines()
    known = [line.split(" = ", 1)[1] for line in lines if re.match(r"[a-z-]+ = ", line)]
    known = [re.compile(re.sub(r"\\\{\\ \\\$\w+\\ \\\}", ".+", re.escape(text)), re.S) for text in known]
    return sorted(said for said in sentences if not any(one.fullmatch(said) for one in known))


def main():
    args = argparse.ArgumentParser(description=__doc__)
    args.add_argument("program")
    args.add_argument("folder")
    args.add_argument("--random", type=int, default=300)
    args.add_argument("--mutations", type=int, default=300)
    args.add_argument("--seed", type=int, default=1)
    args = args.parse_args()
    cases = Cases(args.program, args.folder)
    certificate = cases.identity("shop", "Invented Bench")
    vectors(cases)
    samples(cases, certificate)
    swapped(cases, certificate)
    large(cases, certificate)
    hostile(cases)
    random_jobs(cases, certificate, args.random, args.seed)
    mutations(cases, args.mutations, args.seed)
    shutil.rmtree(cases.work)
    left = unknown(cases.sentences)
    if left:
        raise SystemExit("not in command.ftl:\n" + "\n".join(left))
    print(len(list((cases.out / "cases").iterdir())), "cases")


main()
