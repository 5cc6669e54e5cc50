"""Rows for the bench: what is typed into each aid of the site, and the command's own working of the same."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction
from functools import partial
from random import Random
from typing import Any

from kb.bench import rpm
from kb.bench.adjusting_screw import AdjustingScrew, ScrewTarget
from kb.bench.compression import work_compression
from kb.bench.cylinders import Firing, work_cylinders
from kb.bench.dead_centre import work_dead_centre
from kb.bench.next_turn import work_next_turn
from kb.bench.piston import Hole, work_degrees, work_position
from kb.bench.plates import work_plates
from kb.bench.premix import Ratio, work_oil, work_ratio
from kb.bench.rim import Marks, Rim, work_angle, work_distance, work_place
from kb.bench.wording import CrankGiven
from kb.bench.worked_calculation import Worked
from kb.quantity import UNITS, Quantity, spoken_angle, spoken_quantity

F = Fraction
LENGTHS = ("mm", "in")
Row = tuple[str, dict[str, Any], Callable[[], Worked]]


def exact(value: Fraction | int | str) -> dict[str, str]:
    """A number as the aids read it."""
    return {"exact": str(spoken_angle(value) if isinstance(value, str) else value)}


def size(number: str, unit: str) -> dict[str, str]:
    """A size as the aids read it."""
    return {"size": number, "unit": unit}


def length(number: str, unit: str) -> Quantity:
    return spoken_quantity(f"{number} {unit}", LENGTHS)


CONTACTS = [
    ("31 before", "27 after"),
    ("27.5 after", "30 before"),
    ("14 before", "12.25 after"),
    ("50 before", "44 after"),
    ("31 before", "31 before"),
    ("31 before", "27 before"),
    ("8 before", "7 after"),
    ("70 before", "65 after"),
    ("35 before", "27 after"),
    ("33 before", "27.3 after"),
    ("30 before", "30 after"),
    ("30.01 before", "30 after"),
]
REPEATED = [("31 before", "27 after", "30.5 before", "26.75 after"), ("31 before", "27 after", "33 before", "24 after")]


def dead_centres(chance: Random) -> Iterator[Row]:
    """One pair and several, with and without what the crank, the stop and the eye add."""
    bare: dict[str, Any] = {"by": "stop", "uncertain": None, "stroke": None, "rod": None, "offset": None, "gave": None}
    pairs = [[(spoken_angle(one), spoken_angle(other))] for one, other in CONTACTS]
    pairs += [[(spoken_angle(a), spoken_angle(b)), (spoken_angle(c), spoken_angle(d))] for a, b, c, d in REPEATED]
    for _ in range(40):
        middle, count = F(chance.randint(-300, 300), 100), chance.randint(1, 4)
        halves = [F(chance.randint(1500, 4500), 100) for _ in range(count)]
        wander = [middle + F(chance.randint(-40, 40), 100) for _ in range(count)]
        pairs.append([(one + half, one - half) for one, half in zip(wander, halves, strict=True)])
    for number, these in enumerate(pairs):
        (first, second), *more = these
        given = {
            **bare,
            "first": exact(first),
            "second": exact(second),
            "more": [[exact(one), exact(other)] for one, other in more],
        }
        chosen: dict[str, Any] = {}
        if number % 3 == 1:
            chosen["gauge"], given["by"] = True, "gauge"
        if number % 4 == 2:
            chosen["uncertainty"], given["uncertain"] = F(1, 2), exact(F(1, 2))
        if number % 5 > 2:
            crank = CrankGiven(length("64", "mm"), length("4.72", "in"))
            chosen["crank"] = crank
            given |= {"stroke": size("64", "mm"), "rod": size("4.72", "in")}
        if number % 5 in (2, 3):
            chosen["gave"], given["gave"] = length("0.05", "mm"), size("0.05", "mm")
        if number % 5 in (2, 4):
            chosen["offset"], given["offset"] = length("1.5", "mm"), size("1.5", "mm")
        yield "dead-centre", given, partial(work_dead_centre, these, **chosen)


TURNS = [
    [(F(0), "24 before"), (F(1, 2), "25 before"), (F(1), "25.8 before"), (F(3, 2), "26.7 before")],
    [(F(0), "20 before"), (F(1), "22 before")],
    [(F(0), "20 before"), (F(-1, 2), "26 before")],
    [(F(0), "24 before")],
    [(F(0), "5 after"), (F(1, 4), "4 after"), (F(1, 2), "2.5 after")],
    [(F(0), "24 before"), (F(1), "24 before")],
    [(F(0), "24 before"), (F(1), "27 before"), (F(2), "23 before")],
    [(F(0), "3 after"), (F(1, 8), "9 before")],
]
KINDS = {"max-advance": {"safest_end": "later"}, "throttle-pickup": {"safest_end": "none"}}


def turns(chance: Random) -> Iterator[Row]:
    """Few readings and many, screws of which more or less is known."""
    told = [[(at, spoken_angle(words)) for at, words in readings] for readings in TURNS]
    for _ in range(24):
        slope = F(chance.choice([-1, 1]) * chance.randint(10, 80), 10)
        start = F(chance.randint(-60, 240), 10)
        told.append(
            [
                (F(n, 4), start + slope * F(n, 4) + F(chance.randint(-4, 4), 10))
                for n in sorted(chance.sample(range(-8, 9), chance.randint(2, 6)))
            ]
        )
    bare: dict[str, Any] = {"kinds": KINDS, "printed": None, "pitch": None, "locknut": "", "part": ""}
    for number, readings in enumerate(told):
        for late, works, sign in ((True, "", 0), (False, "", 0), (True, "earlier", 1), (False, "later", -1)):
            target = spoken_angle(("28 before", "21 before", "25 before", "4 after", "20 before")[(number + sign) % 5])
            given = {**bare, "target": exact(target), "kind": "max-advance" if late else "throttle-pickup"}
            given |= {"turning_in": works, "readings": [[exact(at), exact(shown)] for at, shown in readings]}
            adjuster = AdjustingScrew(sign=sign)
            if number % 2:
                given |= {
                    "part": "upper stop screw",
                    "locknut": "false" if late else "true",
                    "pitch": size("1.25", "mm"),
                }
                adjuster = AdjustingScrew("the upper stop screw", sign, "1.25 mm", not late)
            yield "turn", given, partial(work_next_turn, readings, ScrewTarget(target, late=late), adjuster)


def rims(chance: Random) -> Iterator[Row]:
    """Degrees to distances and back, and from which mark to count."""
    bare: dict[str, Any] = {
        "degrees": None,
        "shown": None,
        "tape": None,
        "callipers": None,
        "thickness": None,
        "marks_before": [],
        "marks_after": [],
        "division": "",
        "dead_centre": None,
    }
    for number, unit in (("240", "mm"), ("9.5", "in"), ("231.25", "mm")):
        given: dict[str, Any] = {**bare, "diameter": size(number, unit)}
        for thick in (None, ("0.4", "mm")):
            rim = Rim(length(number, unit), tape=length(*thick) if thick else None)
            given["thickness"] = size(*thick) if thick else None
            for degrees in (F(10), F(1, 3), F(180), F(200), F(361), F(0), F(chance.randint(1, 3600), 10)):
                yield "rim", {**given, "degrees": exact(degrees)}, partial(work_distance, degrees, rim)
            for distance in (("62", "mm"), ("2.5", "in"), ("900", "mm"), ("7/8", "in")):
                both = {"tape": size(*distance), "callipers": size(*distance)}
                yield "rim", {**given, **both}, partial(work_angle, rim, length(*distance), length(*distance))
            for place in range(8):
                shown = F(chance.randint(-400, 400), 10) if place else F(200)
                centre = F(chance.randint(-31, 31), 10) if place % 2 else None
                before, after = sorted(chance.sample(range(1, 40), 3)), [9]
                marks = Marks((*map(F, before), F(-9)), F(2) if place % 3 else None) if place % 4 else None
                typed = (
                    {
                        "marks_before": [str(mark) for mark in before],
                        "marks_after": [str(mark) for mark in after],
                        "division": "2" if place % 3 else "",
                    }
                    if marks
                    else {}
                )
                centred = None if centre is None else exact(centre)
                work = partial(work_place, shown, rim, None, marks, centre)
                yield "rim", {**given, **typed, "shown": exact(shown), "dead_centre": centred}, work


def pistons(chance: Random) -> Iterator[Row]:
    """Degrees to positions and back, straight, through a leaning hole, with the pin set aside."""
    crank = CrankGiven(length("70", "mm"), length("125", "mm"))
    bare: dict[str, Any] = {
        "stroke": size("70", "mm"),
        "rod": size("125", "mm"),
        "crank": None,
        "position": None,
        "side": "",
        "lean": None,
        "slope": None,
        "offset": None,
    }
    angles = [spoken_angle(one) for one in ("20 before", "5.5 after", "0", "180 before", "181 before", "90 after")]
    angles += [F(chance.randint(-1799, 1799), 10) for _ in range(20)]
    for number, shown in enumerate(angles):
        lean, slope, hole, offset = holed(number)
        given = {**bare, "crank": exact(shown), **lean, **slope, "offset": size("1", "mm") if offset else None}
        yield "piston", given, partial(work_position, shown, crank, hole, offset)
    positions = [("2.54", "mm"), ("70", "mm"), ("71", "mm"), ("35.00", "mm"), ("1/8", "in"), ("0.150", "in")]
    positions += [(f"{chance.randint(1, 6500) / 100}", "mm") for _ in range(20)]
    for number, position in enumerate(positions):
        lean, slope, hole, offset = holed(number)
        side = number % 3 - 1
        given = {
            **bare,
            "position": size(*position),
            "side": {1: "before", -1: "after", 0: ""}[side],
            **lean,
            **slope,
            "offset": size("1", "mm") if offset else None,
        }
        yield "piston", given, partial(work_degrees, length(*position), side, crank, hole, offset)


def holed(number: int) -> tuple[dict[str, Any], dict[str, Any], Hole | None, Quantity | None]:
    lean, slope = (F(20), F(0), F(15))[number % 3], (F(0), F(0), F(5))[number % 3]
    hole = Hole(lean, slope) if lean or slope else None
    return (
        {"lean": exact(lean) if lean else None},
        {"slope": exact(slope) if slope else None},
        hole,
        length("1", "mm") if number % 4 == 3 else None,
    )


ORDERS: list[tuple[list[int], bool, bool | None]] = [
    ([1, 3, 2], False, True),
    ([1, 3, 4, 2], True, True),
    ([3, 2, 1], False, True),
    ([1], False, None),
    ([1, 2], False, False),
    ([1, 2], False, None),
    ([1, 3, 3], False, True),
    ([1, 4, 5, 2, 3, 6], False, True),
    ([2, 3], False, True),
    ([1, 2, 3, 4, 5, 6, 7], False, True),
]


def firings() -> Iterator[Row]:
    """Orders of both cycles, with a figure and a rim or without."""
    for order, four_stroke, even in ORDERS:
        for figure in (None, F(24), F(-11, 2), F(200)):
            for diameter in (None, ("240", "mm")):
                given = {
                    "order": "-".join(map(str, order)),
                    "cycle": "four-stroke" if four_stroke else "two-stroke",
                    "even": "" if even is None else str(even).lower(),
                    "figure": None if figure is None else exact(figure),
                    "diameter": diameter and size(*diameter),
                }
                firing = Firing(tuple(order), four_stroke, even, diameter=240.0 if diameter else None)
                yield "cylinders", given, partial(work_cylinders, firing, figure)


PRESSURES: list[tuple[str, list[Fraction]]] = [
    ("psi", [F(110), F(122), F(118)]),
    ("psi", [F(120), F(120)]),
    ("bar", [F(8), F(17, 2)]),
    ("psi", [F(110)]),
    ("psi", [F(110), F(0)]),
    ("kPa", [F(110), F(800), F(110)]),
    ("psi", [F(55), F(190), F(120), F(55)]),
]


def compressions(chance: Random) -> Iterator[Row]:
    """Readings in every unit."""
    told = [
        *PRESSURES,
        *(("kPa", [F(chance.randint(600, 990)) for _ in range(chance.randint(2, 8))]) for _ in range(9)),
    ]
    for unit, pressures in told:
        for cylinders in (None, 3):
            given = {
                "unit": unit,
                "readings": [exact(one) for one in pressures],
                "cylinders": None if cylinders is None else exact(cylinders),
            }
            yield "compression", given, partial(work_compression, pressures, UNITS[unit], None, cylinders)


def mixtures() -> Iterator[Row]:
    """Oil for petrol, and the ratio of both."""
    volumes = ("us_gal", "imp_gal", "L", "mL")
    for number, unit in (("6", "us_gal"), ("5", "L"), ("2.5", "imp_gal")):
        petrol = spoken_quantity(f"{number} {unit}", volumes)
        given: dict[str, Any] = {"petrol": size(number, unit), "parts": None, "oil": None}
        for parts in (F(50), F(16), F(99, 2), F(120), F(1, 2)):
            yield "premix", {**given, "parts": exact(parts)}, partial(work_oil, petrol, Ratio.typed(parts))
        for oil in (("400", "mL"), ("0.5", "L"), ("900", "mL")):
            made = partial(work_ratio, petrol, spoken_quantity(" ".join(oil), volumes))
            yield "premix", {**given, "oil": size(*oil)}, made


def speeds(chance: Random) -> Iterator[Row]:
    """Speeds and delays, and those that no engine has."""
    names = ("hertz", "pulses", "shown", "set_for", "has", "delay", "at", "lost", "slow", "fast")
    bare: dict[str, Any] = dict.fromkeys(names)
    for _ in range(12):
        one, other, third = (F(chance.randint(1, 9000), chance.choice((1, 2, 10))) for _ in range(3))
        numbers = {
            name: exact(value) for name, value in zip(names, (one, other / 1000, one, third, other), strict=False)
        }
        sparks = {"way": "sparks", "hertz": numbers["hertz"], "pulses": numbers["pulses"]}
        yield "rpm", {**bare, **sparks}, partial(rpm.work_from_frequency, one, other / 1000)
        tachometer = {"way": "tachometer", "shown": exact(one), "set_for": exact(third), "has": exact(other)}
        yield "rpm", {**bare, **tachometer}, partial(rpm.work_tachometer, one, third, other)
        delay = spoken_quantity(f"{chance.randint(1, 300)} us", ("us", "ms", "s"))
        given = {**bare, "way": "delay", "delay": size(delay.numbers[0].text, "us"), "at": exact(one)}
        yield "rpm", given, partial(rpm.work_delay, delay, one)
        given = {**bare, "way": "lost", "lost": exact(F(2)), "slow": exact(one), "fast": exact(other)}
        yield "rpm", given, partial(rpm.work_delay_between, F(2), one, other)


def plates(chance: Random) -> Iterator[Row]:
    """Plates at all openings, shut ones and impossible ones."""
    told = [
        (F(12), F(13)),
        (F(13), F(12)),
        (F(30), F(30)),
        (F(10), F(12)),
        (F(9), F(12)),
        (F(90), F(80)),
        (F(5), F(91)),
    ]
    told += [(F(chance.randint(90, 900), 10), F(chance.randint(90, 900), 10)) for _ in range(30)]
    for number, (first, second) in enumerate(told):
        closed, shaft = (None, F(8), F(90), None)[number % 4], (None, F(1, 4), None, F(1))[number % 4]
        opening = number % 3 == 2
        given = {
            "first_plate": exact(first),
            "second_plate": exact(second),
            "closed": closed and exact(closed),
            "shaft": shaft and exact(shaft),
            "counted": "closed" if opening else "square",
        }
        yield "plates", given, partial(work_plates, first, second, closed, shaft, opening=opening)


def rows() -> list[Row]:
    """Every aid that has a command, on rows that it answers and rows that it refuses, some by chance."""
    chance = Random(5)
    makers = (dead_centres, turns, rims, pistons, compressions, speeds, plates)
    return [*(row for make in makers for row in make(chance)), *firings(), *mixtures()]
