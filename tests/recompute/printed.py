#!/usr/bin/env python3
"""Holds the pages of a report against its figures.

    printed.py PROGRAM FOLDER...

Makes the report of each job folder in each language, takes the text out of the PDF with
`pdftotext`, and looks for every figure of `check --json`, rounded as the rules say: a
value and its expanded uncertainty U end at the same place, U has at most two significant
digits (JCGM 100:2008, 7.2.6), and one where the second would stand behind the last place
that was written (a digit behind it for a mean or a change), unless U begins with 1. Ties go
to even (ASTM E29, 6.4), and rounding never moves a value across its limit. Limits and
conditions have the digits of the files. Written from these rules, not from the program's
code.
"""

import json
import math
import re
import shutil
import subprocess
import sys
import tempfile
import tomllib
from decimal import ROUND_HALF_EVEN, Decimal
from pathlib import Path

from units import FACTOR, place, STEP_OF, step_of, Written

EITHER = " or "
RUNS = ("baseline", "retest")
LANGUAGES = {"en": (".", "{} of {}"), "en-US": (".", "{} of {}"), "es": (",", "{} de {}")}


def decimal(value):
    """What a person would have written: fifteen digits hide what a conversion left."""
    return Decimal(f"{value:.14e}")


def rounded(value, places):
    return decimal(value).quantize(Decimal(1).scaleb(-places), ROUND_HALF_EVEN)


def places_for(u, figures=2):
    """The decimals that show `u` with so many significant digits; none if it is nothing."""
    return min(9, figures - 1 - Decimal(f"{u:.{figures - 1}e}").adjusted()) if u > 0 else None


def places_with(u, written):
    """Where a figure and its U end; `written` is the last place that makes sense."""
    if u <= 0:
        return written
    two = places_for(u)
    least = two if f"{u:.1e}"[0] == "1" else min(two, places_for(u, 1))
    return min(max(written, least), two)


def place_of(step):
    """The decimals of a figure that is known in such steps (NIST SP 811, B.7.2)."""
    return math.ceil(-math.log10(step) - 1e-9)


def text_of(number, sign=False):
    number = abs(number) if number == 0 else number
    mark = "+" if sign and number > 0 else ""
    return mark + f"{number:f}".replace("-", "\N{MINUS SIGN}")


def with_u(value, u, places, sign=False):
    figure = text_of(rounded(value, places), sign)
    return f"{figure} ± {text_of(rounded(u, places))}" if u > 0 else figure


def steps(measure, value, job):
    """For each run with it: what the last written digit is worth, and whether it is one reading."""
    found = {}
    for run in RUNS:
        if not value[run]:
            continue
        if "worked_out" in measure:  # nobody wrote it: its U alone says where it ends
            found[run] = 0.0, False
            continue
        table = job[run]["reading"][measure["id"]]
        row = next((row for row in table.get("rows", []) if place(row["at"], [value["position"]]) == value["position"]), table)
        if value["part"] == "clear":
            read, unit = [table["clear_seconds"]], "s"
        elif value["part"] in ("opacity", "absorption"):
            read, unit = table.get("snaps_percent", [table.get("opacity_percent")]), "%"
        else:
            read, unit = row.get("values", [row.get("value")]), table["unit"]
        step, slope = max(map(step_of, read)), 1.0
        own, light = float(table.get("path_length_mm", 0)), 1 - float(sum(read)) / len(read) / 100
        if value["part"] == "opacity" and "path_length_mm" in measure:
            power = float(measure["path_length_mm"]) / own
            slope = power * light ** (power - 1)
        elif value["part"] == "absorption":
            slope = 10 / (own * light)
        elif unit != value["unit"]:
            step = step * FACTOR[unit] / FACTOR[value["unit"]]
        found[run] = float(step) * slope, len(read) == 1 and slope == 1
    return found


def reading(estimate, ends, step, once):
    """A reading with its U, in as many decimals as keep it on its side of each limit."""
    value, u = estimate["value"], estimate["expanded"]
    places = places_with(u, place_of(step) + (not once and u > 0))
    for end in ends:
        if end is None or abs(value - end) <= 1e-9 * abs(end):
            continue
        while places < 9 and not ((value < end) == (rounded(value, places) < decimal(end))
                                  and rounded(value, places) != decimal(end)):
            places += 1
    return with_u(value, u, places)


def worked_out(estimate, sign=False):
    """Nobody wrote such a figure: it ends at the first or the second digit of its U."""
    value, u = estimate["value"], estimate["expanded"]
    return EITHER.join(with_u(value, u, places, sign) for places in range(places_for(u, 1), places_for(u) + 1))


def share(p):
    if p > 0.99:
        return "> 99 %"
    return "< 1 %" if p < 0.01 else f"{text_of(rounded(p * 100, 0))} %"


def written(number):
    """A figure of a file as it stands there."""
    return text_of(Decimal(getattr(number, "text", str(number))))


LIMITS = {"opacity": "max_opacity_percent", "absorption": "max_absorption", "clear": "max_clear_seconds"}


def figures(result, job, counted):
    """Every figure that the pages must show, with where it comes from."""
    for measure in result["measures"]:
        plan = next(plan for plan in job["limits"]["measure"] if plan["id"] == measure["id"])
        coarsest = {"baseline": 0, "retest": 0}
        for value in measure["values"]:
            where = f"{measure['id']} {value['position'] or ''}".strip()
            ends = (value["min"], value["max"])
            read = steps(plan, value, job)
            for run, (step, once) in read.items():
                coarsest[run] = max(coarsest[run], step)
                if step:
                    yield f"{where} {run}", reading(value[run], ends, step, once)
                elif value[run]["expanded"] > 0:
                    yield f"{where} {run}", worked_out(value[run])
            change = value["difference"]
            if change and all(step for step, _ in read.values()):
                place = place_of(max(step for step, _ in read.values()))
                places = places_with(change["expanded"], place + (change["expanded"] > 0))
                yield f"{where} change", with_u(change["value"], change["expanded"], places, True)
            elif change and change["expanded"] > 0:
                yield f"{where} change", worked_out(change, True)
            if value["relative"] and not value["position"]:
                percent, u = (100 * value["relative"][key] for key in ("value", "expanded"))
                places = places_for(u)
                yield f"{where} relative", with_u(percent, u, 1 if places is None else places, True) + " %"
            if value["after"] and change and not value["position"]:
                yield f"{where} conformity", share(value["after"]["conformity"])
            for key in [LIMITS[value["part"]]] if value["part"] in LIMITS else ["min", "max"]:
                # Ten digits in a row may break over lines.
                if key in plan and not re.search(r"\d{10}", written(plan[key])):
                    yield f"{where} limit", written(plan[key])
        if measure["balance"] and all(coarsest.values()) and not any(v["not_taken"] for v in measure["values"]):
            unit = measure["values"][0]["unit"]
            for run, step in coarsest.items():
                spread = text_of(rounded(measure["balance"][run]["spread"], place_of(step)))
                unit = STEP_OF.get(unit, unit)
                yield f"{measure['id']} {run} spread", f"{spread} {unit}" if unit != "1" else spread
        compared = [value for value in measure["values"] if value["difference"]]
        if compared:
            widest = max(compared, key=lambda v: v["difference"]["u"])
            for run in RUNS:
                for key in ("u", "expanded"):
                    u = widest[run][key]
                    yield f"{measure['id']} {run} {key}", text_of(rounded(u, places_for(u) or 0))
        for count in measure["counts"]:
            for run in RUNS:
                if count[run]:
                    yield f"{measure['id']} {run}", counted.format(*count[run])
    for condition in job["limits"].get("condition", []):
        for run in RUNS:
            found = job[run].get("condition", {}).get(condition["id"], {})
            if "value" in found and found["unit"] == condition["unit"]:
                yield f"{condition['id']} {run}", written(found["value"])


def text_in(pdf):
    text = subprocess.run(["pdftotext", "-layout", pdf, "-"], capture_output=True, check=True, text=True).stdout
    return re.sub(r"\s+", " ", text.replace("\u00a0", " "))


def shop_of(folder):
    return next(place / "shop.toml" for place in (folder, *folder.resolve().parents) if (place / "shop.toml").exists())


def missing(program, folder, language, temporary):
    """The figures that the pages of the job in `language` lack, and how many there are."""
    job = Path(temporary) / f"{folder.name}-{language}"
    shutil.copytree(folder, job)
    shop = shop_of(folder).read_text()
    shop = re.sub(r"(?m)^language = .*\n?", "", shop)
    (job / "shop.toml").write_text(f'{shop}\nlanguage = "{language}"\n')
    checked = subprocess.run([program, "check", job, "--json"], capture_output=True, text=True)
    result = json.loads(checked.stdout)
    pdf = job / "printed.pdf"
    subprocess.run([program, "report", job, "--unsigned", "-o", pdf], check=True, capture_output=True)
    text = text_in(pdf)
    files = {name: tomllib.loads((folder / f"{name}.toml").read_text("utf-8"), parse_float=Written)
             for name in ("limits", "baseline", "retest")}
    sign, counted = LANGUAGES[language]
    wanted = {(where, figure.replace(".", sign)) for where, figure in figures(result, files, counted)}
    lost = [(where, figure) for where, figure in sorted(wanted) if not stands(figure, text)]
    return lost, len(wanted)


def stands(figure, text):
    """Whether `figure` stands in `text`, and not as a part of another one."""
    if EITHER in figure:
        return any(stands(one, text) for one in figure.split(EITHER))
    end = r"(?!\d)" if figure[-1].isdigit() else ""
    # Of a short line `pdftotext` loses the spaces: "< 1 %" becomes "<1%".
    figure = re.escape(figure).replace("\\ ", " ?")
    return re.search(rf"(?<![\d.,\N{{MINUS SIGN}}]){figure}{end}", text)


def main():
    program, *folders = sys.argv[1:]
    program = str(Path(program).resolve())
    failed = 0
    with tempfile.TemporaryDirectory() as temporary:
        for folder in map(Path, folders):
            for language in LANGUAGES:
                lost, count = missing(program, folder, language, temporary)
                failed += len(lost)
                print(f"{folder.name} {language}: {count - len(lost)} of {count} figures stand on the pages")
                for where, figure in lost:
                    print(f"  {where}: {figure}")
    sys.exit(1 if failed or not folders else 0)


if __name__ == "__main__":
    main()
