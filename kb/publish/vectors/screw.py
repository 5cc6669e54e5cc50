"""The next turn of a screw, and what a rod's turn is worth."""

from __future__ import annotations

from collections.abc import Iterator

from kb.calc.screw import lever_angle, lever_moved, next_turn, rod_turn_degrees
from kb.publish.vectors.calculation import BEFORE, DEGREES, LENGTH, Calculation, Row, rows_of
from kb.publish.vectors.cases import powers, scattered, steps

ROD = {"pitch": LENGTH, "turns": "turns that lengthen the rod", "left_and_right": "true or false"}


def _settings() -> Iterator[Row]:
    names = "settings target known_sign"
    straight = [[0.0, 24.0], [0.5, 25.0], [1.0, 25.8], [1.5, 26.7]]
    yield from rows_of(names, *((straight, target, sign) for target in steps(20, 30, 20) for sign in (0, 1, -1)))
    yield from rows_of(names, *(([[0.0, 20.0], [1.0, 22.0], [2.0, 24.0]], target, 0) for target in steps(18, 28, 20)))
    yield from rows_of(names, ([[0.0, 24.0], [1.0, 24.01]], 28.0, 0), ([[0.0, 24.0], [1.0, 24.0]], 28.0, 0))
    yield from rows_of(names, ([[0.0, 24.0], [1.0, 27.0], [2.0, 23.0], [3.0, 28.0]], 30.0, 0), ([[0.0, 24.0]], 28.0, 0))
    yield from rows_of(names, ([[1.0, 24.0], [1.0, 25.0]], 28.0, 0), ([], 28.0, 0))
    yield from rows_of(names, ([[0.0, 20.0], [1.0, 22.0], [1.0, 22.25]], 21.0, 0))
    yield from rows_of(names, *(([[0.0, 20.0], [1.0, 20.5]], 22.0, sign) for sign in (1, -1)))
    yield from rows_of(names, ([[0.0, 24.0], [1.0, 27.0], [2.0, 23.5]], 30.0, 0))
    for start, slope, scatter, target in scattered(160, (-3, 3), (-4, 4), (-0.1, 0.1), (15, 30), places=2):
        settings = [[start, 20.0], [start + 0.5, 20 + slope / 2 + scatter], [start + 1.25, 20 + slope * 1.25]]
        yield from rows_of(names, (settings, target, 0))


def _turns() -> Iterator[Row]:
    names = "pitch arm turns left_and_right"
    yield from rows_of(names, *((1.0, 30.0, turns, False) for turns in (0.0, *powers(-12, 0), *steps(-60, 60, 48))))
    yield from rows_of(names, *((0.8, 25.0, turns, True) for turns in steps(-30, 30, 40)))
    yield from rows_of(names, *((*row, False) for row in scattered(60, (0.5, 1.5), (15, 80), (-5, 5))))
    yield from rows_of(names, (0.0, 30.0, 1.0, False), (1.0, 0.0, 1.0, False), (1.0, 30.0, 70.0, False))
    yield from rows_of(names, (-1.0, 30.0, 1.0, False), (1.0, -30.0, 1.0, False), (1.0, 30.0, 31.0, True))
    yield from rows_of(names, (0.01, 0.5, 1.0, False))


def _triangles() -> Iterator[Row]:
    yield from rows_of("arm other rod", (30.0, 40.0, 50.0), (30.0, 40.0, 10.0), (30.0, 40.0, 70.0), (30.0, 30.0, 30.0))
    yield from rows_of("arm other rod", (0.3, 0.4, 0.5))
    yield from rows_of("arm other rod", *((30.0, 40.0, rod) for rod in steps(10.5, 69.5, 118)))
    yield from rows_of("arm other rod", *((30.0, 30.0, rod) for rod in powers(-12, 1)))
    yield from rows_of("arm other rod", *scattered(100, (20, 40), (60, 90), (55, 75)))
    yield from rows_of("arm other rod", (30.0, 40.0, 80.0), (30.0, 40.0, 9.0), (30.0, 0.0, 30.0), (-3.0, 4.0, 5.0))


def _moves() -> Iterator[Row]:
    names = "arm other rod pitch turns left_and_right"
    yield from rows_of(names, *((30.0, 40.0, 50.0, 1.0, turns, False) for turns in steps(-15, 15, 60)))
    yield from rows_of(names, *((30.0, 40.0, 50.0, 1.0, turns, True) for turns in powers(-12, 0, "1", "-2", "5")))
    strewn = scattered(140, (20, 40), (60, 90), (60, 75), (0.5, 1.5), (-4, 4))
    yield from rows_of(names, *((*row, False) for row in strewn))
    yield from rows_of(names, (30.0, 40.0, 50.0, 1.0, 21.0, False), (30.0, 40.0, 50.0, 1.0, -41.0, False))
    yield from rows_of(names, (30.0, 40.0, 50.0, 0.0, 1.0, False), (30.0, 40.0, 80.0, 1.0, 1.0, False))


def _next(settings: list[list[float]], target: float, known_sign: int) -> Row:
    found = next_turn([(setting[0], setting[1]) for setting in settings], target, known_sign)
    return {"turns": found.turns, "to": found.to, "slope": found.slope, "from_one_side": found.from_one_side}


CALCULATIONS = (
    Calculation(
        "next-turn",
        "the line of least squares through [setting, reading] in the order taken; to = (target - intercept) / slope, "
        "turns = to - last setting; from_one_side where that is against the last movement. Refused: a slope under "
        "0.05 deg a turn, one against the known sign (+1 turning in is earlier, -1 later, 0 unknown), and three or "
        "more readings whose correlation squared is under 0.8",
        "JCGM 100:2008, H.3; common practice",
        {"settings": "list of [turns in, deg before top dead centre positive]", "target": BEFORE, "known_sign": "sign"},
        {"turns": "turns in", "to": "turns in", "slope": "deg a turn", "from_one_side": "true or false"},
        _settings,
        _next,
        relative=1e-9,
        absolute=1e-10,
    ),
    Calculation(
        "rod-turn",
        "degrees a lever turns about the square position: 2 asin(n pitch / 2 L), twice the pitch for a rod with a "
        "left-hand and a right-hand thread",
        "plain geometry",
        {"pitch": LENGTH, "arm": LENGTH, **{name: ROD[name] for name in ("turns", "left_and_right")}},
        {"angle": DEGREES},
        _turns,
        lambda **given: {"angle": rod_turn_degrees(**given)},
    ),
    Calculation(
        "lever-angle",
        "the angle at a lever's pivot between its arm and the line to the rod's far end: "
        "acos((arm^2 + other^2 - rod^2) / (2 arm other))",
        "law of cosines",
        {"arm": LENGTH, "other": LENGTH, "rod": LENGTH},
        {"angle": DEGREES},
        _triangles,
        lambda **given: {"angle": lever_angle(**given)},
    ),
    Calculation(
        "lever-moved",
        "how many degrees lever-angle grows when the rod is made longer by turns of its thread",
        "law of cosines",
        {"arm": LENGTH, "other": LENGTH, "rod": LENGTH, **ROD},
        {"angle": DEGREES},
        _moves,
        lambda **given: {"angle": lever_moved(**given)},
        relative=1e-11,
    ),
)
