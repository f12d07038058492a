#!/usr/bin/env python3
"""Holds the pages of a report against its figures.

    printed.py PROGRAM FOLDER...

Makes the report of each job folder in each language, takes the text out of the PDF with
`pdftotext`, and looks for every figure of `check --json`, rounded as the rules say: a
value and its expanded uncertainty U end at the same place, U has two significant digits
(JCGM 100:2008, 7.2.6), ties go to even (ASTM E29, 6.4), and rounding never moves a value
across its limit. Written from these rules, not from the program's code.
"""

import json
import re
import shutil
import subprocess
import sys
import tempfile
from decimal import ROUND_HALF_EVEN, Decimal
from pathlib import Path

LANGUAGES = {"en": (".", "{} of {}"), "en-US": (".", "{} of {}"), "es": (",", "{} de {}")}


def decimal(value):
    """What a person would have written: fifteen digits hide what a conversion left."""
    return Decimal(f"{value:.14e}")


def rounded(value, places):
    return decimal(value).quantize(Decimal(1).scaleb(-places), ROUND_HALF_EVEN)


def places_for(u):
    """The decimals that show `u` with two significant digits; none if it is nothing."""
    if u <= 0:
        return None
    return min(9, max(0, 1 - Decimal(f"{u:.1e}").adjusted()))


def places_written(value):
    """The fewest that tell it apart: at most six, and of a small number as many as show six
    digits. What a conversion of units has left beyond them is not a digit."""
    exact = decimal(value)
    most = max(6, 5 - exact.adjusted()) if exact else 6
    close = lambda places: abs(rounded(value, places) - exact) <= abs(exact) * Decimal("1e-9")
    return next((places for places in range(most) if close(places)), most)


def text_of(number, sign=False):
    number = abs(number) if number == 0 else number
    mark = "+" if sign and number > 0 else ""
    return mark + f"{number:f}".replace("-", "\N{MINUS SIGN}")


def with_u(value, u, places, sign=False):
    figure = text_of(rounded(value, places), sign)
    return f"{figure} ± {text_of(rounded(u, places))}" if u > 0 else figure


def reading(estimate, ends):
    """A reading with its U, in as many decimals as keep it on its side of each limit."""
    value, u = estimate["value"], estimate["expanded"]
    places = places_for(u)
    places = places_written(value) if places is None else places
    for end in ends:
        if end is None or abs(value - end) <= 1e-9 * abs(end):
            continue
        while places < 9 and not ((value < end) == (rounded(value, places) < decimal(end))
                                  and rounded(value, places) != decimal(end)):
            places += 1
    return with_u(value, u, places)


def share(p):
    if p > 0.99:
        return "> 99 %"
    return "< 1 %" if p < 0.01 else f"{text_of(rounded(p * 100, 0))} %"


def figures(result, counted):
    """Every figure that the pages must show, with where it comes from."""
    for measure in result["measures"]:
        for value in measure["values"]:
            where = f"{measure['id']} {value['cylinder'] or ''}".strip()
            ends = (value["min"], value["max"])
            for run in ("baseline", "retest"):
                yield f"{where} {run}", reading(value[run], ends)
            change = value["difference"]
            places = places_for(change["expanded"])
            yield f"{where} change", with_u(change["value"], change["expanded"], 3 if places is None else places, True)
            if value["relative"] and not value["cylinder"]:
                percent, u = (100 * value["relative"][key] for key in ("value", "expanded"))
                places = places_for(u)
                yield f"{where} relative", with_u(percent, u, 1 if places is None else places, True) + " %"
            if value["after"] and not value["cylinder"]:
                yield f"{where} conformity", share(value["after"]["conformity"])
            for end in ends:
                if end is not None:
                    yield f"{where} limit", text_of(rounded(end, places_written(end)))
        if measure["values"]:
            widest = max(measure["values"], key=lambda v: v["difference"]["u"])
            for run in ("baseline", "retest"):
                for key in ("u", "expanded"):
                    u = widest[run][key]
                    yield f"{measure['id']} {run} {key}", text_of(rounded(u, places_for(u) or 0))
        for count in measure["counts"]:
            for run in ("baseline", "retest"):
                yield f"{measure['id']} {run}", counted.format(*count[run])


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
    sign, counted = LANGUAGES[language]
    wanted = {(where, figure.replace(".", sign)) for where, figure in figures(result, counted)}
    lost = [(where, figure) for where, figure in sorted(wanted) if not stands(figure, text)]
    return lost, len(wanted)


def stands(figure, text):
    """Whether `figure` stands in `text`, and not as a part of another one."""
    end = r"(?!\d)" if figure[-1].isdigit() else ""
    return re.search(rf"(?<![\d.,\N{{MINUS SIGN}}]){re.escape(figure)}{end}", text)


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
