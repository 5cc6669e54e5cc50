"""Breaker points: how a change of gap moves the timing, and where the cam first meets the roller.

The heel rides up the cam; the points open when the lift has taken up what the gap leaves. Both are found by linear
interpolation in a measured table and never beyond it: no shape of cam is assumed.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from kb.calc.finite import require_finite
from kb.errors import Extrapolation, ReadingsContradict


def timing_at_gap(readings: Sequence[tuple[float, float]], gap: float) -> float:
    """The timing in signed degrees (before positive) at a breaker gap, from readings at other gaps on this engine.

    ``readings`` are pairs of gap and timing; gaps in one unit of length. A wider gap opens earlier.

    Raises:
        ReadingsContradict: fewer than two gaps, one gap twice, or a wider gap that reads later.
        Extrapolation: the gap lies outside those that were read.
        NotFinite: a number is not finite.

    >>> timing_at_gap([(0.35, 20.0), (0.45, 24.0)], 0.40)
    22.0
    """
    table = _table(readings, gap)
    if any(late > early for (_, late), (_, early) in pairwise(table)):
        raise ReadingsContradict("a wider gap opens the points earlier; these readings contradict that")
    return _interpolate(table, gap, "gap")


def first_contact(readings: Sequence[tuple[float, float]]) -> tuple[float, float]:
    """The two cam angles in degrees between which the roller's gap closes, from pairs of cam angle and gap.

    The last angle with a gap and the first without one; a strip of paper shows which. Nothing is interpolated.

    Raises:
        ReadingsContradict: fewer than two readings, an angle twice, no gap to begin with, or a gap that grows.
        Extrapolation: the gap does not close within the readings.
        NotFinite: a number is not finite.

    >>> first_contact([(0.0, 0.8), (4.0, 0.4), (8.0, 0.0)])
    (4.0, 8.0)
    """
    table = _table(readings, 0.0)
    if any(later > sooner for (_, sooner), (_, later) in pairwise(table)):
        raise ReadingsContradict("the gap grows on the way: the cam turns the wrong way, or something sticks")
    for (open_at, gap), (shut_at, closed) in pairwise(table):
        if gap > 0 >= closed:
            return open_at, shut_at
    if table[0][1] <= 0:
        raise ReadingsContradict("there is no gap at the first reading; turn the cam back and begin again")
    raise Extrapolation(f"the gap is still {table[-1][1]} at the last reading; turn the cam further")


def _table(readings: Sequence[tuple[float, float]], extra: float) -> list[tuple[float, float]]:
    require_finite(extra, *(number for pair in readings for number in pair))
    table = sorted(readings)
    if len(table) < 2 or any(one == other for (one, _), (other, _) in pairwise(table)):
        raise ReadingsContradict("at least two readings are needed, each at a different setting")
    return table


def _interpolate(table: Sequence[tuple[float, float]], at: float, what: str) -> float:
    for (low, first), (high, last) in pairwise(table):
        if low <= at <= high:
            return first + (last - first) * (at - low) / (high - low)
    raise Extrapolation(f"a {what} of {at} lies outside the readings, {table[0][0]} to {table[-1][0]}")
