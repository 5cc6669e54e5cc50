"""The next turn of an adjusting screw from the readings so far, and what a turn of a linkage screw or rod is worth.

The line of least squares (JCGM 100:2008, H.3); the triangle of lever and rod is plain geometry.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import atan2, degrees, sqrt

from kb.calc.finite import require_finite
from kb.calc.readings import fit_line
from kb.errors import GeometryImpossible, ReadingsContradict
from kb.frozen import record

LEAST_SLOPE = 0.05
"""Degrees a turn below which a screw is taken not to act on the reading."""


@record()
class NextTurn:
    """What to turn next. ``turns`` from the screw's present position, inward positive; ``slope`` degrees a turn inward.

    ``to`` is the setting to reach, counted as the readings' settings are; ``from_one_side`` says that the target lies
    behind the last movement, so that the screw must go past it and come back, because of backlash.
    """

    turns: float
    to: float
    slope: float
    from_one_side: bool


def next_turn(settings: Sequence[tuple[float, float]], target: float, known_sign: int = 0) -> NextTurn:
    """The next screw turn from readings after known turns.

    ``settings`` are pairs of the screw's setting (turns in, counted from any start) and the reading there in signed
    degrees (before top dead centre positive), in the order taken; ``target`` in the same degrees. ``known_sign`` is
    +1 where turning in is known to make it earlier, -1 later, 0 unknown.

    Raises:
        ReadingsContradict: fewer than two settings, a slope near zero, readings that go both ways by more than they
            scatter, or against the known direction.
        NotFinite: a number is not finite.

    >>> turn = next_turn([(0, 24.0), (0.5, 25.0), (1, 25.8), (1.5, 26.7)], 28)
    >>> round(turn.to, 10), round(turn.turns, 10)
    (2.2247191011, 0.7247191011)
    """
    require_finite(target)
    line = fit_line(settings)
    if abs(line.slope) < LEAST_SLOPE:
        raise ReadingsContradict("the reading hardly moves with the screw: is it the right one, its lock nut loose?")
    if known_sign * line.slope < 0:
        raise ReadingsContradict("the reading moves against what the screw is known to do: read both again")
    if line.correlation**2 < 0.8:
        raise ReadingsContradict("the readings go both ways: something is loose, or your eye moved")
    to = (target - line.intercept) / line.slope
    now = settings[-1][0]
    came = next(now - before for before, _ in reversed(settings) if before != now)
    return NextTurn(to - now, to, line.slope, (to - now) * came < 0)


def rod_turn_degrees(pitch: float, arm: float, turns: float = 1.0, *, left_and_right: bool = False) -> float:
    """Degrees a lever turns for turns of its rod, about the square position: 2 asin(n pitch / 2 L).

    ``pitch`` of the thread and ``arm`` of the lever in one unit of length; a rod with a left-hand and a right-hand
    thread moves by twice the pitch.

    Raises:
        GeometryImpossible: pitch or arm not positive, or the rod moves further than the lever reaches.
        NotFinite: a number is not finite.

    >>> round(rod_turn_degrees(1.0, 30.0), 10)
    1.9099477476
    """
    moved = _rod_moved(pitch, turns, left_and_right)
    require_finite(arm)
    if arm <= 0:
        raise GeometryImpossible(f"an arm is a positive length, not {arm}")
    if abs(moved) > 2 * arm:
        raise GeometryImpossible(f"{turns} turns move the rod further than an arm of {arm} reaches")
    return degrees(2 * atan2(moved, sqrt((2 * arm - moved) * (2 * arm + moved))))


def lever_angle(arm: float, other: float, rod: float) -> float:
    """The angle in degrees at a lever's pivot between its arm and the line to the rod's far end (law of cosines).

    ``arm`` of the lever, ``other`` the distance from its pivot to the far ball, ``rod`` between ball centres; one unit.

    The half angle is taken from its sine and cosine, which keeps its digits near a straight line.

    Raises:
        GeometryImpossible: no such triangle.
        NotFinite: a length is not a finite number.

    >>> round(lever_angle(30, 40, 50), 9)
    90.0
    """
    half_sine, half_cosine = _half_angle(arm, other, rod)
    return degrees(2 * atan2(half_sine, half_cosine))


def lever_moved(
    arm: float, other: float, rod: float, pitch: float, turns: float = 1.0, *, left_and_right: bool = False
) -> float:
    """Degrees a lever turns, opening positive, when its rod is made longer by turns of its thread, wherever it stands.

    The lengths as in ``lever_angle``, before the turns; ``pitch`` in their unit; turns that shorten are negative.

    Raises:
        GeometryImpossible: no such triangle before or after, or the pitch is not positive.
        NotFinite: a number is not finite.

    >>> round(lever_moved(30, 40, 50, 1.0), 6), round(lever_angle(30, 40, 51) - lever_angle(30, 40, 50), 6)
    (2.41191, 2.41191)
    """
    moved = _rod_moved(pitch, turns, left_and_right)
    sine_now, cosine_now = _half_angle(arm, other, rod)
    sine_then, cosine_then = _half_angle(arm, other, rod + moved)
    # sin(then - now) of the half angles, from the difference of the squares, which loses no digits.
    across = moved * (2 * rod + moved) / (sine_then * cosine_now + cosine_then * sine_now) if moved else 0.0
    return degrees(2 * atan2(4 * arm * other * across, cosine_then * cosine_now + sine_then * sine_now))


def _rod_moved(pitch: float, turns: float, left_and_right: bool) -> float:
    require_finite(pitch, turns)
    if pitch <= 0:
        raise GeometryImpossible(f"a pitch is a positive length, not {pitch}")
    return turns * pitch * (2 if left_and_right else 1)


def _half_angle(arm: float, other: float, rod: float) -> tuple[float, float]:
    """Sine and cosine of half the lever's angle, both times ``2 sqrt(arm * other)``."""
    require_finite(arm, other, rod)
    if not (arm > 0 and other > 0 and rod > 0):
        raise GeometryImpossible("the three lengths are positive")
    if not abs(arm - other) <= rod <= arm + other:
        raise GeometryImpossible(f"no triangle has the sides {arm}, {other} and {rod}")
    apart = abs(arm - other)
    return sqrt((rod - apart) * (rod + apart)), sqrt((arm + other - rod) * (arm + other + rod))
