"""Rims, dead centres and circles."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from tests.oracles.digits import Oracle, Refused, degrees, mp, number, radians

IMPOSSIBLE = "GeometryImpossible"


def _radius(diameter: float, tape_thickness: float) -> Any:
    if diameter <= 0 or tape_thickness < 0:
        raise Refused(IMPOSSIBLE)
    return (number(diameter) + number(tape_thickness)) / 2


def rim_arc(angle: float, diameter: float, tape_thickness: float) -> dict[str, Any]:
    return {"distance": 2 * mp.pi * _radius(diameter, tape_thickness) * number(angle) / 360}


def rim_arc_angle(distance: float, diameter: float, tape_thickness: float) -> dict[str, Any]:
    return {"angle": 360 * number(distance) / (2 * mp.pi * _radius(diameter, tape_thickness))}


def rim_chord(angle: float, diameter: float) -> dict[str, Any]:
    """The distance between two points of the circle."""
    radius = _radius(diameter, 0)
    if abs(angle) > 180:
        raise Refused(IMPOSSIBLE)
    t = radians(angle)
    apart = mp.hypot(radius * mp.sin(t), radius * (mp.cos(t) - 1))
    return {"distance": apart if angle >= 0 else -apart}


def rim_chord_angle(distance: float, diameter: float) -> dict[str, Any]:
    """By the law of cosines in the triangle of two radii and the chord."""
    radius = _radius(diameter, 0)
    if abs(distance) > diameter:
        raise Refused(IMPOSSIBLE)
    angle = degrees(mp.acos(1 - number(distance) ** 2 / (2 * radius**2)))
    return {"angle": angle if distance >= 0 else -angle}


def nearest_mark(angle: float, marks: list[float], division: float | None) -> dict[str, Any]:
    if not marks or (division is not None and division <= 0):
        raise Refused(IMPOSSIBLE)
    at = Fraction(angle)
    by_distance = sorted((abs(at - Fraction(mark)), -Fraction(mark)) for mark in marks)
    mark = -by_distance[0][1]
    return {
        "mark": mark,
        "beyond": at - mark,
        "divisions": None if division is None else abs(at - mark) / Fraction(division),
        "extrapolated": at < min(marks) or at > max(marks),
    }


def between_marks(distance: float, first: list[float], second: list[float]) -> dict[str, Any]:
    (x0, y0), (x1, y1), x = map(Fraction, first), map(Fraction, second), Fraction(distance)
    if x0 == x1:
        raise Refused(IMPOSSIBLE)
    return {"angle": (y0 * (x1 - x) + y1 * (x - x0)) / (x1 - x0), "extrapolated": x < min(x0, x1) or x > max(x0, x1)}


def dead_centre(first: float, second: float, first_uncertainty: float, second_uncertainty: float) -> dict[str, Any]:
    if first == second or first_uncertainty < 0 or second_uncertainty < 0:
        raise Refused(IMPOSSIBLE)
    expanded = mp.sqrt(number(first_uncertainty) ** 2 + number(second_uncertainty) ** 2)
    return {"reading": (number(first) + number(second)) / 2, "standard": expanded / 2, "expanded": expanded}


def true_angle(indicated: float, dead_centre_reading: float) -> dict[str, Any]:
    return {"true": Fraction(indicated) - Fraction(dead_centre_reading)}


def indicated_angle(true: float, dead_centre_reading: float) -> dict[str, Any]:
    return {"indicated": Fraction(true) + Fraction(dead_centre_reading)}


def mean_angle(angles: list[float]) -> dict[str, Any]:
    if not angles:
        raise Refused(IMPOSSIBLE)
    total = mp.fsum(mp.expj(radians(angle)) for angle in angles)
    if abs(total) < 1e-9 * len(angles):
        raise Refused(IMPOSSIBLE)
    mean = degrees(mp.arg(total))
    return {"mean": mean if mean > -180 + mp.mpf(10) ** -40 else mean + 360}


ORACLES: dict[str, Oracle] = {
    "rim-arc": rim_arc,
    "rim-arc-angle": rim_arc_angle,
    "rim-chord": rim_chord,
    "rim-chord-angle": rim_chord_angle,
    "nearest-mark": nearest_mark,
    "between-marks": between_marks,
    "dead-centre": dead_centre,
    "true-angle": true_angle,
    "indicated-angle": indicated_angle,
    "mean-angle": mean_angle,
}
