"""Breaker gap to timing, and where a cam first meets its roller."""

from __future__ import annotations

from collections.abc import Iterator

from kb.calc.breaker import first_contact, timing_at_gap
from kb.publish.vectors.calculation import BEFORE, Calculation, Row, rows_of
from kb.publish.vectors.cases import scattered, steps


def _gaps() -> Iterator[Row]:
    three = [[0.35, 20.0], [0.45, 24.0], [0.5, 25.0]]
    yield from rows_of("readings gap", *((three, gap) for gap in steps(0.3, 0.55, 100)), (three, 0.45))
    for low, width, first, rise, part in scattered(150, (0.2, 0.4), (0.05, 0.3), (-10, 25), (0, 8), (0, 1.1)):
        yield from rows_of("readings gap", ([[low + width, first + rise], [low, first]], round(low + part * width, 4)))
    yield from rows_of("readings gap", ([[0.35, 24.0], [0.45, 20.0]], 0.4), ([[0.35, 20.0]], 0.35), ([], 0.35))
    yield from rows_of("readings gap", ([[0.35, 20.0], [0.35, 21.0]], 0.35), ([[0.35, 20.0], [0.45, 20.0]], 0.4))


def _cams() -> Iterator[Row]:
    for gaps in scattered(220, (0.3, 1), (0, 0.6), (-0.2, 0.3), (-0.1, 0.05), places=1):
        yield {"readings": [[4.0 * place, gap] for place, gap in enumerate(gaps)]}
    for readings in ([[0.0, 0.8], [4.0, 0.4], [8.0, 0.0]], [[8.0, 0.0], [0.0, 0.8]], [[0.0, 0.0], [4.0, 0.0]]):
        yield {"readings": readings}
    for readings in ([], [[0.0, 0.8]], [[0.0, 0.8], [0.0, 0.4]], [[0.0, 0.8], [4.0, 0.4]], [[0.0, 0.4], [4.0, 0.8]]):
        yield {"readings": readings}


def _pairs(readings: list[list[float]]) -> list[tuple[float, float]]:
    return [(reading[0], reading[1]) for reading in readings]


CALCULATIONS = (
    Calculation(
        "breaker-gap-timing",
        "the timing at a breaker gap, on the straight line between neighbouring [gap, timing] readings taken on this "
        "engine, in any order, never beyond them; a wider gap that reads later is refused",
        "a straight line through two points",
        {"readings": "list of [length, deg before top dead centre positive]", "gap": "the readings' length"},
        {"timing": BEFORE},
        _gaps,
        lambda readings, gap: {"timing": timing_at_gap(_pairs(readings), gap)},
        absolute=1e-12,
    ),
    Calculation(
        "first-contact",
        "between which two cam angles the roller's gap closes: the last with a gap and the first without, of [cam "
        "angle, gap] in any order; a gap that grows, none to begin with, or none that closes is refused",
        "common practice, no source",
        {"readings": "list of [deg of cam, length]"},
        {"open_at": "deg of cam", "shut_at": "deg of cam"},
        _cams,
        lambda readings: dict(zip(("open_at", "shut_at"), first_contact(_pairs(readings)), strict=True)),
        relative=0.0,
    ),
)
