"""Random grades, counts, rates and lists."""

GRADES = (["no", "yes"], ["none", "faint", "clear"], ["Grew", "No growth"], ["dripping", "weeping", "Damp", "dry"])


def spelled(maker, text):
    """The same name, with what may differ: capitals and spacing at the ends."""
    return maker.pick(text, text, text, text.upper(), text.lower(), f" {text}", f"{text.title()} ")


def pair_of(maker, number, places, one):
    """Readings of both runs, of one number that leans to one side or none."""
    lean = maker.pick("none", "none", "up", "down", "same", "all up")
    runs = [{"rows": []}, {"rows": []}]
    for place in places or [None]:
        x, y = int(maker.random.integers(number)), int(maker.random.integers(number))
        if lean in ("up", "all up") and (lean == "all up" or maker.some(0.8)):
            x, y = min(x, y), max(x, y)
        x, y = (0, number - 1) if lean == "all up" and maker.some(0.6) else (x, y)
        x, y = (max(x, y), min(x, y)) if lean == "down" else (x, x) if lean == "same" else (x, y)
        for run, v in zip(runs, (x, y)):
            run["rows"].append(({"at": place} if places else {}) | one(v))
    return runs if places else [run["rows"][0] for run in runs]


def grade(maker, measure, places):
    grades = maker.pick(*GRADES)
    measure |= {"kind": "grade", "grades": grades}
    if maker.some(0.75):
        measure["at_least"] = spelled(maker, maker.pick(*grades, grades[-1]))
    own_rows(maker.later, measure, places, lambda: {"at_least": spelled(maker.later, maker.later.pick(*grades))})
    return pair_of(maker, len(grades), places, lambda v: {"grade": spelled(maker, grades[v])})


def own_rows(maker, measure, places, limits):
    """Limits of single positions, of their own."""
    if places and maker.some(0.4):
        rows = [{"at": place} | limits() for place in places if maker.some(0.5)]
        measure |= {"limit_rows": rows} if rows else {}


def own_counts(maker):
    low, high = sorted(int(x) for x in maker.random.integers(0, 7, 2))
    return maker.pick({"max_count": low}, {"max_count": low}, {"min_count": high}, {"min_count": low, "max_count": high})


def count(maker, measure, places):
    measure["kind"] = "count"
    low, high = sorted(int(x) for x in maker.random.integers(0, 7, 2))
    measure |= maker.pick({}, {"max_count": low}, {"max_count": 0}, {"min_count": high}, {"min_count": low, "max_count": high},
                          {"min_count": high, "max_count": high})
    if maker.some(0.35):
        both = {"min_count", "max_count"} <= set(measure)
        ways = [way for way, other in (("lower", "min_count"), ("higher", "max_count")) if other not in measure]
        measure["better"] = maker.pick(*ways, *["inside"] * both, *["inside"] * both) if ways or both else "lower"
    if "better" not in measure and not {"min_count", "max_count"} & set(measure) and maker.some(0.5):
        measure["better"] = maker.pick("lower", "higher")
    if measure.get("better") != "inside":
        own_rows(maker.later, measure, places, lambda: own_counts(maker.later))
    return pair_of(maker, int(maker.pick(2, 4, 8, 8)), places, lambda v: {"count": v})


def rate(maker, measure):
    per, unit = maker.pick(("min", "min"), ("min", "s"), ("h", "min"), ("h", "h"), ("km", "km"), ("km", "mi"))
    measure |= {"kind": "count", "per": per}
    over = maker.pick(20, 10.5, 1, 100)
    runs = []
    for _ in range(2):
        n = int(maker.pick(0, 0, 1, 2, 5, 6, *maker.random.integers(0, 40, 3)))
        runs.append({"count": n, "over": maker.pick(over, over, over * 2, 3), "unit": unit})
    if maker.some(0.2):
        runs[1]["count"] = runs[0]["count"]
    if maker.some(0.1):  # p is 0.05 to the last digit, which is not less than it
        for run, n, stretch in zip(runs, maker.pick((0, 1), (1, 0), (0, 2)), maker.pick((19, 1), (1, 19), (19, 1))):
            run |= {"count": n, "over": stretch}
    if maker.some(0.8):
        near = edges(runs[1], per)
        low, high = maker.pick(*near), maker.pick(*near)
        measure |= maker.pick({"max_rate": high}, {"max_rate": high}, {"max_rate": 0.0}, {"min_rate": low},
                              {"min_rate": min(low, high), "max_rate": max(low, high)})
        if measure.get("min_rate") == measure.get("max_rate"):
            measure["max_rate"] = measure.get("max_rate", 0.0) + 0.25
    if maker.some(0.3):
        both = {"min_rate", "max_rate"} <= set(measure)
        ways = [way for way, other in (("lower", "min_rate"), ("higher", "max_rate")) if other not in measure]
        if ways or both:
            measure["better"] = maker.pick(*ways, *["inside"] * both)
    return runs


def edges(run, per):
    """Rates at the edges of zones: the rate itself, the ends of its interval, beside them, or anywhere."""
    from rates import reading_of
    from written import as_read
    found = reading_of(as_read(run), per)
    rate, (low, high) = float(found["rate"]), found["interval"]
    beside = [x * (1 + 1e-6 * maker_sign) for x in (rate, low, high) for maker_sign in (-1, 1)]
    return [rate, rate, low, high, *beside, rate * 1.5, rate / 2, low * 0.8, high * 1.2, 0.1, 1.0]


def listed(maker, measure):
    measure["kind"] = "list"
    measure |= maker.pick({}, {"max_count": 0}, {"max_count": 1}, {"max_count": int(maker.random.integers(0, 5))})
    if maker.some(0.4):
        measure["none_new"] = True
    codes = ["P-104", "p 2", "Öl-3", "E01", "B04"]
    runs = [[code for code in codes if maker.some(0.4)] for _ in range(2)]
    runs[1] = maker.pick(runs[1], runs[0], [], runs[0] + runs[1][:1])
    runs[1] = list(dict.fromkeys(runs[1]))
    return [{"items": [{"code": spelled(maker, code)} | ({"text": "Stored"} if maker.some(0.5) else {}) for code in run]}
            for run in runs]
