"""Units, and figures with the digits in which they were written.

Needs nothing but Python: `printed.py` uses it too.
"""

import math
from decimal import Decimal
from fractions import Fraction as F


class Written(F):
    """A figure of a file: its exact value, and how many decimals it was written with."""

    def __new__(cls, text):
        self = super().__new__(cls, text)
        self.text = text
        self.places = max(0, -Decimal(text).as_tuple().exponent)
        return self

    # What is compared with a float was not written.
    from_float = F.from_float


def places_of(figure):
    """How many decimals a figure of a file was written with; a whole number has none."""
    return figure.places if isinstance(figure, Written) else 0


def step_of(figure):
    """What the last written digit of a figure of a file is worth."""
    return F(1, 10 ** places_of(figure))


def written(at):
    return at.text if isinstance(at, Written) else str(at)


def place(at, positions):
    """The position that a row names; a setting is named by its number, however it is written."""
    name = written(at)
    if name in positions or isinstance(at, str):
        return name
    return next((p for p in positions if F(p) == F(at)), name)


# --- Units, each as a multiple of the first of its line (NIST SP 811, B.8) ---

LBF = F("4.448222")
UNITS = {
    "time": {"s": F(1), "ms": F("1e-3"), "min": F(60), "h": F(3600)},
    "temperature": {"°C": F(1), "°F": F(5, 9)},
    "difference": {"K": F(1), "Δ°C": F(1), "Δ°F": F(5, 9)},
    "pressure": {"kPa": F(1), "MPa": F(1000), "bar": F(100), "psi": F("6.894757"), "inHg": F("3.386389")},
    "voltage": {"V": F(1), "mV": F("1e-3")},
    # A revolution is 2π rad; SP 811 prints seven digits of π/30.
    "rotation": {"rad/s": F(1), "rpm": F(math.pi) / 30},
    "ratio": {"%": F(1), "1": F(100), "ppm": F("1e-4")},
    "length": {"mm": F(1), "in": F("25.4"), "thou": F("2.54e-2")},
    "torque": {"N·m": F(1), "lbf·ft": LBF * F("0.3048"), "lbf·in": LBF * F("0.0254")},
    "flow": {"L/min": F(1), "gal/min": F("3.785412")},
    "power": {"kW": F(1), "hp": F("0.7456999"), "PS": F("0.7354988")},
    "distance": {"km": F(1), "mi": F("1.609344")},
    "absorption": {"m⁻¹": F(1)},
    "level": {"dB": F(1)},
    "sound": {"dB(A)": F(1)},
    "acidity": {"pH": F(1)},
    "light": {"lx": F(1), "fc": 1 / F("0.3048") ** 2},
    "slope": {"mm/m": F(1), "in/ft": F(1000, 12), "thou/in": F(1)},
    "consumption": {"L/100 km": F(1), "gal/100 mi": F("3.785411784") / F("1.609344")},
    "economy": {"km/L": F(1), "mpg (US)": F("1.609344") / F("3.785411784")},
    "mass": {"kg": F(1), "g": F("1e-3"), "lb": F("4.535924e-1")},
}
SORT = {unit: sort for sort, units in UNITS.items() for unit in units}
FACTOR = {unit: factor for units in UNITS.values() for unit, factor in units.items()}
AT_FREEZING = {"°C": F(0), "°F": F(32)}
STEP_OF = {"°C": "K", "°F": "Δ°F", "dB(A)": "dB"}  # the unit of a difference of two
NO_ZERO = ("temperature", "level", "sound", "acidity")


def convert(value, unit, to):
    """A value from one unit to another; a temperature with the zero of its scale."""
    zero, to_zero = AT_FREEZING.get(unit, 0), AT_FREEZING.get(to, 0)
    return (value - zero) * FACTOR[unit] / FACTOR[to] + to_zero
