"""What each value key means, and an example of its value: an editor shows both."""

from __future__ import annotations

from typing import Any

from kb.quantity import PLAIN_KEYS, UNITS

EXAMPLES: dict[str, Any] = {
    "btdc": 24,
    "atdc": [4, 6],
    "tdc": 0,
    "from": {"btdc": 2},
    "to": {"atdc": 3},
    "deg": 1,
    "mm": 0.76,
    "in": "7/64",
    "m": [0, 750],
    "ft": [0, 2500],
    "rpm": [650, 750],
    "hp": 47,
    "kW": 35,
    "PS": 48,
    "psi": [110, 125],
    "kPa": 800,
    "bar": 8,
    "kgf_cm2": 8.2,
    "Nm": [90, 100],
    "lbf_ft": [65, 75],
    "lbf_in": 160,
    "kgf_m": 9.5,
    "cm3": 738,
    "mL": 20,
    "L": 1,
    "us_gal": 6,
    "imp_gal": 5,
    "us_fl_oz": 16,
    "imp_fl_oz": 16,
    "V": {"at_least": 9.5},
    "to_one": 50,
    "turns": "1 1/4",
    "s": 10,
    "ms": 2,
    "us": 70,
    "min": 2,
    "h": 1,
    "degC": 20,
    "degF": 68,
    "delta_degC": 10,
    "delta_degF": 18,
    "mark": "arrow in line with the upper of the two lines",
    "code": "TQ 41-L",
    "order": [1, 3, 2],
    "cranking_earlier": 2,
    "cranking_later": 1,
    "by_rpm": [{"rpm": 1000, "cranking_earlier": 1}, {"rpm": 5000, "cranking_earlier": 2}],
}
"""One example of the value under each value key; the schema shows them."""

DESCRIPTIONS: dict[str, str] = {
    "btdc": "Degrees before top dead centre, or a piston position there, such as {in: 0.150}.",
    "atdc": "Degrees after top dead centre, or a piston position there, such as {mm: 1.2}.",
    "tdc": "Top dead centre itself; always 0.",
    "from": "The earlier end of a window that straddles top dead centre, with its side.",
    "to": "The later end of a window that straddles top dead centre, with its side.",
    "mark": "Which mark lines up with which, in your own words.",
    "code": "A plug type or a jet number, as printed.",
    "order": "The cylinders in the order in which they fire.",
    "cranking_earlier": "Degrees by which the timing reads earlier while cranking than when running.",
    "cranking_later": "Degrees by which the timing reads later while cranking than when running.",
    "by_rpm": "The correction at each of two or more speeds, in ascending order; never extrapolated.",
    **{
        key: f"{unit.name[0].upper()}{unit.name[1:]} ({unit.symbol}): a number, [smaller, larger], or a bound."
        for key, unit in UNITS.items()
        if key in PLAIN_KEYS
    },
}


def example_of(key: str) -> Any:
    """An example of the value under a key; a plain number for a unit without an example."""
    return EXAMPLES.get(key, 1)
