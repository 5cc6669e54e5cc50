"""Levers by the law of cosines and by coordinates; screws by the normal equations in exact fractions."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from tests.oracles.digits import Oracle, Refused, degrees, mp, number
from tests.oracles.scatter import normal_equations

IMPOSSIBLE = "GeometryImpossible"
CONTRADICT = "ReadingsContradict"


def _moved(pitch: float, turns: float, left_and_right: bool) -> Any:
    if pitch <= 0:
        raise Refused(IMPOSSIBLE)
    return number(pitch) * number(turns) * (2 if left_and_right else 1)


def rod_turn(pitch: float, arm: float, turns: float, left_and_right: bool) -> dict[str, Any]:
    moved = _moved(pitch, turns, left_and_right)
    if arm <= 0 or abs(moved) > 2 * number(arm):
        raise Refused(IMPOSSIBLE)
    return {"angle": degrees(2 * mp.asin(moved / (2 * number(arm))))}


def _angle(arm: float, other: float, rod: Any) -> Any:
    a, b = number(arm), number(other)
    if min(a, b, rod) <= 0 or rod > a + b or rod < abs(a - b):
        raise Refused(IMPOSSIBLE)
    return degrees(mp.acos((a**2 + b**2 - rod**2) / (2 * a * b)))


def lever_angle(arm: float, other: float, rod: float) -> dict[str, Any]:
    return {"angle": _angle(arm, other, number(rod))}


def lever_moved(
    arm: float, other: float, rod: float, pitch: float, turns: float, left_and_right: bool
) -> dict[str, Any]:
    moved = _moved(pitch, turns, left_and_right)
    return {"angle": _angle(arm, other, number(rod) + moved) - _angle(arm, other, number(rod))}


def next_turn(settings: list[list[float]], target: float, known_sign: int) -> dict[str, Any]:
    points = [(Fraction(x), Fraction(y)) for x, y in settings]
    if len({x for x, _ in points}) < 2:
        raise Refused(CONTRADICT)
    intercept, slope, squared = normal_equations(points)
    if abs(slope) < Fraction(1, 20) or (known_sign and slope * known_sign < 0):
        raise Refused(CONTRADICT)
    if len(points) > 2 and squared < Fraction(4, 5):
        raise Refused(CONTRADICT)
    to, now = (Fraction(target) - intercept) / slope, points[-1][0]
    before = [x for x, _ in points if x != now][-1]
    return {"turns": to - now, "to": to, "slope": slope, "from_one_side": (to < now) != (now < before) and to != now}


ORACLES: dict[str, Oracle] = {
    "rod-turn": rod_turn,
    "lever-angle": lever_angle,
    "lever-moved": lever_moved,
    "next-turn": next_turn,
}
