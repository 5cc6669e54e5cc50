"""Throttle plates: how much of the bore is open at a plate angle, and how unequal plates matter.

J. B. Heywood, *Internal Combustion Engine Fundamentals* (1988), eq. 7.18 (from memory; the tests check the projected
area by quadrature, not the formula).
"""

from __future__ import annotations

from math import asin, cos, isfinite, pi, radians, sin, sqrt

from kb.errors import GeometryImpossible


def open_part(angle: float, closed_angle: float = 10.0, shaft_ratio: float = 0.2) -> float:
    """The open area over that of the bore.

    ``angle`` of the plate in degrees from square across the bore, from ``closed_angle`` (where it touches) to 90;
    ``shaft_ratio`` is shaft over bore diameter, 0 to under 1. At the closed angle it is 0; once the shaft alone is in
    the way it no longer grows.

    Raises:
        GeometryImpossible: an angle or the ratio is out of its range.

    >>> round(open_part(20), 10), round(open_part(13) / open_part(12), 6)
    (0.0456420322, 1.567153)
    """
    if not (isfinite(closed_angle) and 0 <= closed_angle < 90 and isfinite(angle) and closed_angle <= angle <= 90):
        raise GeometryImpossible(f"a plate that closes at {closed_angle} degrees does not stand at {angle}")
    if not 0 <= shaft_ratio < 1:
        raise GeometryImpossible(f"a shaft of {shaft_ratio} bores is none")
    a, t, c = shaft_ratio, radians(angle), radians(closed_angle)
    most = 1 - 2 / pi * (asin(a) + a * sqrt(1 - a * a))
    k = cos(t) / cos(c)
    if k <= a:
        return most
    gap = 2 * sin((t + c) / 2) * sin((t - c) / 2) / cos(c)  # 1 - k, without losing digits near the closed angle
    ratio = a / k
    inner = a * (sqrt(1 - ratio * ratio) - sqrt(1 - a * a)) + k * asin(ratio) - asin(a)
    return gap + 2 / pi * inner


def air_ratio(angle: float, other: float, closed_angle: float = 10.0, shaft_ratio: float = 0.2) -> float:
    """How many times the air of one plate the other lets through, by open area, at the same pressure.

    Raises:
        GeometryImpossible: as ``open_part``, or the first plate is shut.

    >>> round(air_ratio(30, 31), 10)
    1.0745017283
    """
    one = open_part(angle, closed_angle, shaft_ratio)
    if one <= 0:
        raise GeometryImpossible("the first plate is shut: no number of times nothing is something")
    return open_part(other, closed_angle, shaft_ratio) / one
