"""Engines drawn by a seed: a family of the book, a serial number it holds, and everything that no file says."""

from __future__ import annotations

import math
import random
from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from tests.walk.book import Limit, book, limits, page
from tests.walk.engine import CRANKING, MAXIMUM, RUNNING, STATIC, Engine, Screw

SET_BY_LIGHT = (MAXIMUM, "throttle-pickup", "idle-timing")
STATES = (CRANKING, RUNNING, STATIC)
BREAKERS = ("breaker-magneto", "breaker-battery")


def serials(family: str) -> list[str]:
    """The first and the last of each range, and none where none is held."""
    found = [
        str(end)
        for fit in book().family(family).fits
        if fit.serials
        for end in (fit.serials.first, fit.serials.last)
        if end
    ]
    return list(dict.fromkeys(found)) or [""]


def draw(family: str, serial: str, chance: random.Random, *, exact: bool = True) -> Engine:
    """An engine of a family; ``exact`` reads to a hundredth of a degree and without play."""
    document = page(family)
    fixed = document.get("routine") == "fixed-spark"
    printed = {figure: limits(family, figure, serial) for figure in SET_BY_LIGHT}
    flywheel = document.get("flywheel") or {}
    marks = flywheel.get("numbered_marks") or {}
    across = _millimetres(flywheel["rim_diameter"]) if flywheel.get("rim_diameter") else 210.0
    cylinders = int((document.get("engine") or {}).get("cylinders") or 1)
    triggers = int((document.get("ignition") or {}).get("triggers") or 1)
    screws = {figure: _screw(document, figure, held, chance, fixed=fixed) for figure, held in printed.items()}
    slipped = _slipped(screws[MAXIMUM], printed[MAXIMUM])
    differ = triggers > 1 and not screws[MAXIMUM].fixed  # where nothing is turned, no job makes them alike
    return Engine(
        family=family,
        serial=serial,
        screws=screws,
        shift=_shift(printed[MAXIMUM], chance),
        pointer=chance.choice([0, 0, 0.5, 1, 2, 2.5, -0.5, -1, -2, -2.5]),
        play=0 if exact else 0.25,
        scatter=0 if exact else 0.25,
        contact=chance.choice([22, 25, 29, 33, 38]),
        cylinders=cylinders,
        offsets={number: chance.choice([0, 0.5, -0.5, 1, 1.5, -2]) for number in range(2, cylinders + 1) if differ},
        slipped=slipped,
        cable_pull=0 if fixed else chance.choice([0, 0, 0, 1, 2, 3]),
        rim={side: max(map(float, numbers)) for side, numbers in marks.items() if numbers},
        round_mm=math.pi * across,
        rope=chance.random() < 0.3,
    )


def _millimetres(length: Mapping[str, str]) -> float:
    [(unit, text)] = length.items()
    return float(sum(map(Fraction, text.split()))) * (25.4 if unit == "in" else 1)


def _screw(
    document: Mapping[str, Any], figure: str, printed: tuple[Limit, ...], chance: random.Random, *, fixed: bool
) -> Screw:
    adjuster = (document.get("adjusters") or {}).get(figure) or {}
    fixed = fixed or (figure == MAXIMUM and (not adjuster or "holes" in adjuster))  # nothing that is turned
    sign = {"earlier": 1, "later": -1}.get(adjuster.get("turning_in", ""), chance.choice([1, -1]))
    nut = adjuster.get("locknut") != "false" and not fixed
    middle = (printed[0].low + printed[0].high) / 2 if printed else 0.0
    out = chance.choice([-6, -4, -2.5, -1, 0, 1, 2, 3, 5])
    slope, slack = chance.choice([1.5, 2, 2.5, 3, 4]), chance.choice([0, 0, 0.05, 0.1])
    drag = chance.choice([0, 0, 0.5, 1, 1.5, -0.5, -1]) if nut else 0.0
    return Screw(middle + (-0.5 if fixed else out), sign * slope, slack=slack, drag=drag, nut=nut, fixed=fixed)


def _slipped(screw: Screw, printed: tuple[Limit, ...]) -> float:
    """Of a maximum more than five degrees late most is no matter of its screw: how much that is; the screw's is taken
    back by as much.
    """
    if not printed or (printed[0].low + printed[0].high) / 2 - screw.angle <= 5:
        return 0.0
    screw.angle += 4
    return 4.0


def _shift(printed: tuple[Limit, ...], chance: random.Random) -> Mapping[str, float]:
    """How much earlier it reads in each state than in the first that is printed; where nothing is known, anything."""
    highs = {limit.state: limit.high for limit in reversed(printed)}
    first = printed[0].high if printed else 0.0
    unknown = chance.choice([-2, -1, 1, 2, 3])
    return {state: highs[state] - first if state in highs else unknown for state in STATES}
