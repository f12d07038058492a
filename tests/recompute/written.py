"""Figures and tables as they stand in a TOML file."""

import datetime
import json
import tomllib

from units import Written


def toml(value):
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{key} = {toml(v)}" for key, v in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(map(toml, value)) + "]"
    if isinstance(value, Written):
        return value.text
    if isinstance(value, datetime.date):
        return value.isoformat()
    return repr(float(value)) if isinstance(value, float) else json.dumps(value, ensure_ascii=False)


def as_read(value):
    """What a reader of the file will find: exact decimals."""
    return tomllib.loads(f"x = {toml(value)}", parse_float=Written)["x"]
