"""Correction, target and judging, in exact fractions."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Any

from kb.calc.correction import correction_at, cranking_from_running, running_from_cranking
from kb.calc.target import indicated_target, judge_reading, running_of_indicated
from kb.publish.vectors.calculation import EXACT, Calculation, Row, rows_of
from kb.publish.vectors.cases import scattered

SOURCE = "common practice, no source"
SIDED = "deg, cranking minus running, an exact fraction as text"
TABLES: tuple[list[list[str | None]], ...] = (
    [["1000", "1"], ["3000", "-1"], ["5000", "2"]],
    [["600", "1/2"], ["5000", "5/2"]],
    [["2500", "2"]],
    [["500", "0"], ["1500", "1"], ["3500", "7/4"], ["6000", "13/4"]],
)


def _texts(*ranges: tuple[int, int], count: int, parts: int, seed: int = 1) -> Iterator[tuple[str, ...]]:
    """Rows of fractions as text, in parts of one."""
    for row in scattered(count, *((low * parts, high * parts) for low, high in ranges), places=0, seed=seed):
        yield tuple(str(Fraction(int(number), parts)) for number in row)


def _tables() -> Iterator[Row]:
    for points in TABLES:
        yield from rows_of("points rpm", *((points, str(rpm)) for rpm in range(400, 6300, 100)))
    yield from rows_of("points rpm", *((points, None) for points in TABLES), (TABLES[0], "4999/2"))
    yield from rows_of("points rpm", ([[None, "2"]], None), ([[None, "-3/2"]], "9000"), ([], None), ([], "5000"))
    yield from rows_of("points rpm", ([["3000", "1"], ["1000", "2"]], "2000"), ([["9", "1"], ["9", "2"]], "9"))
    yield from rows_of("points rpm", ([[None, "2"], ["1000", "2"]], "1000"))


def _halves() -> Iterator[Row]:
    yield from rows_of("angle correction", ("20", "2"), ("18", "2"), ("-5", "2"), ("1", "-2"), ("0", "0"))
    yield from rows_of("angle correction", *_texts((-15, 40), (-4, 4), count=220, parts=4))


def _limits() -> Iterator[Row]:
    names = "limit dead_centre_reading margin step"
    yield from rows_of(names, ("20", "0", "1", "1/2"), ("20", "2", "0", "1/2"), ("61/3", "0", "0", "1/2"))
    yield from rows_of(names, ("-4", "0", "0", "1"), ("20", "-1/2", "0", "1"), ("0", "0", "0", "1/2"))
    yield from rows_of(names, ("20", "0", "-1", "1/2"), ("20", "0", "0", "0"), ("20", "0", "0", "-1/2"))
    for parts, step in ((2, "1/2"), (4, "1/2"), (10, "1"), (7, "1/4"), (3, "1/10")):
        strewn = _texts((-15, 40), (-3, 3), (0, 3), count=50, parts=parts, seed=parts)
        yield from rows_of(names, *((*row, step) for row in strewn))


def _shown() -> Iterator[Row]:
    names = "indicated dead_centre_reading correction"
    yield from rows_of(names, ("21", "2", "2"), ("19", "0", "2"))
    yield from rows_of(names, *_texts((-15, 40), (-3, 3), (-4, 4), count=220, parts=4))


def _judged() -> Iterator[Row]:
    names = "reading low high late_allowance early_allowance"
    pickup = ("-7", "-5", "0", "0")
    yield from rows_of(names, *((str(reading), *pickup) for reading in range(-12, 3)))
    yield from rows_of(names, *((str(Fraction(half, 2)), "20", "20", "1", "0") for half in range(34, 46)))
    yield from rows_of(names, *((str(Fraction(half, 2)), "20", "20", "1/2", "1/2") for half in range(34, 46)))
    for low, high in ((None, "22"), ("18", None), (None, None)):
        yield from rows_of(names, *((str(reading), low, high, "0", "0") for reading in range(15, 26)))
    strewn = _texts((-15, 30), (-15, 25), (0, 6), (0, 2), (0, 1), count=180, parts=2)
    for reading, low, width, late, early in strewn:
        yield from rows_of(names, (reading, low, str(Fraction(low) + Fraction(width)), late, early))
    yield from rows_of(names, ("0", "0", "1", "-1", "0"), ("0", "0", "1", "0", "-1"), ("0", "5", "3", "0", "0"))


def _fraction(text: str | None) -> Fraction | None:
    return None if text is None else Fraction(text)


def _exactly(**given: str) -> dict[str, Fraction]:
    return {name: Fraction(text) for name, text in given.items()}


def _correction(points: list[list[str | None]], rpm: str | None) -> Row:
    table = [(_fraction(speed), Fraction(degrees or "0")) for speed, degrees in points]
    return {"correction": str(correction_at(table, _fraction(rpm)))}


def _judge(reading: str, low: str | None, high: str | None, **allowances: str) -> Row:
    verdict = judge_reading(Fraction(reading), _fraction(low), _fraction(high), **_exactly(**allowances))
    return {"off": verdict.off.value, "degrees": str(verdict.degrees)}


def _exact(name: str, about: str, inputs: Row, outputs: Row, cases: Any, work: Any) -> Calculation:
    return Calculation(name, about, SOURCE, inputs, outputs, cases, work, relative=0.0, absolute=0.0)


CALCULATIONS = (
    _exact(
        "correction",
        "cranking reading minus running reading at a speed: a constant as it is ([[null, degrees]]), a table by the "
        "straight line between neighbouring rows, never beyond them",
        {"points": "list of [rpm or null, deg], speeds rising", "rpm": "1/min, an exact fraction as text, or null"},
        {"correction": SIDED},
        _tables,
        _correction,
    ),
    _exact(
        "cranking-from-running",
        "the cranking reading of a running one: running + correction",
        {"angle": EXACT, "correction": SIDED},
        {"cranking": EXACT},
        _halves,
        lambda angle, correction: {"cranking": str(cranking_from_running(Fraction(angle), Fraction(correction)))},
    ),
    _exact(
        "running-from-cranking",
        "the running reading of a cranking one: cranking - correction",
        {"angle": EXACT, "correction": SIDED},
        {"running": EXACT},
        _halves,
        lambda angle, correction: {"running": str(running_from_cranking(Fraction(angle), Fraction(correction)))},
    ),
    _exact(
        "indicated-target",
        "what the light should show for a true limit on the early side: limit + dead-centre reading - margin, rounded "
        "down (toward late) to a whole number of steps",
        {"limit": EXACT, "dead_centre_reading": EXACT, "margin": "deg, not negative", "step": "deg, positive"},
        {"indicated": EXACT},
        _limits,
        lambda **given: {"indicated": str(indicated_target(**_exactly(**given)))},
    ),
    _exact(
        "running-of-indicated",
        "what an indicated cranking reading will truly be when running: indicated - dead-centre reading - correction",
        {"indicated": EXACT, "dead_centre_reading": EXACT, "correction": SIDED},
        {"running": EXACT},
        _shown,
        lambda **given: {"running": str(running_of_indicated(**_exactly(**given)))},
    ),
    _exact(
        "judging",
        "whether a true reading lies in a window from its late end (low) to its early end (high), an end null where "
        "open, each widened by an allowance; how many degrees out of the window itself, early or late",
        {
            "reading": EXACT,
            "low": f"{EXACT}, or null",
            "high": f"{EXACT}, or null",
            "late_allowance": "deg, not negative",
            "early_allowance": "deg, not negative",
        },
        {"off": "inside, early or late", "degrees": "deg, an exact fraction as text"},
        _judged,
        _judge,
    ),
)
