"""The worst error of each calculation in units of the last place, against the oracles at sixty digits.

``python -m tests.accuracy`` prints the table. Rows are those of the vectors' own cases, which reach down to 1e-12
degrees and lengths. Where a problem is ill conditioned (a position near the bottom of the stroke, half a turn by
callipers, a lever nearly straight, a difference of readings) the error is divided by what one unit in the last place
of the inputs makes: the bound that no form can beat. The column "plain" is not divided.
"""

from __future__ import annotations

from fractions import Fraction
from math import isfinite, nextafter, ulp
from typing import Any

from kb.publish.vectors.calculation import Calculation
from kb.publish.vectors.writing import calculations
from tests.oracles import ORACLES, Refused
from tests.oracles.digits import number

# In units of the last place, plain: measured, and rounded up. The two levers have rows where arm and rod lie nearly in
# line, or the turn is minute, and a bound by their conditioning alone (none for plain).
BOUNDS: dict[str, float | None] = {
    "piston-position": 4,
    "piston-angle": 3,
    "degrees-per-length": 4,
    "piston-speed": 4,
    "offset-dead-centres": 4,
    "offset-piston-position": 5,
    "offset-piston-angles": 4,
    "offset-bias": 4,
    "plug-hole-position": 2,
    "plug-hole-travel": 2,
    "dead-centre": 1,
    "stop-shift": 4,
    "rim-arc": 2,
    "rim-arc-angle": 2,
    "rim-chord": 2,
    "rim-chord-angle": 3,
    "combined-uncertainty": 6,
    "rod-turn": 3,
    "lever-angle": None,
    "lever-moved": None,
    "plate-open-part": 5,
    "plate-air-ratio": 6,
    "rpm-from-frequency": 2,
    "frequency-from-rpm": 2,
    "true-rpm": 2,
    "delay-degrees": 2,
    "delay-between": 2,
    "compression-spread": 2,
}
CONDITIONED = 2.0
"""Units in the last place once divided by what the inputs' last place makes, wherever the inputs are plain numbers."""


def worst(calculation: Calculation, every: int = 2) -> tuple[float, float]:
    """The worst plain and conditioned error of a calculation over every n-th of its rows."""
    plain, conditioned = 0.0, 0.0
    for row in calculation.rows()[::every]:
        if "error" in row:
            continue
        wanted = ORACLES[calculation.name](**row["in"])
        for name, found in row["out"].items():
            if not isinstance(found, float):
                continue
            exact = _exact(wanted[name])
            error = float(abs(number(found) - exact) / number(ulp(float(exact))))
            plain = max(plain, error)
            if error > 1:
                error /= 1 + _moved(calculation.name, row["in"], name, exact)
            conditioned = max(conditioned, error)
    return plain, conditioned


def _moved(name: str, given: dict[str, Any], output: str, exact: Any) -> float:
    """What one unit in the last place of each input makes of an output, in units of its last place."""
    total = 0.0
    for key, value in given.items():
        if isinstance(value, float) and isfinite(value) and value:
            for toward in (0.0, 2 * value):
                try:
                    beside = _exact(ORACLES[name](**{**given, key: nextafter(value, toward)})[output])
                except Refused:
                    continue
                total += float(abs(beside - exact) / number(ulp(float(exact))))
                break
    return total


def _exact(value: Any) -> Any:
    return number(value) if isinstance(value, Fraction | float | int) else value


def table() -> dict[str, tuple[float, float]]:
    """The worst errors of every calculation that has a bound."""
    return {each.name: worst(each) for each in calculations() if each.name in BOUNDS}
