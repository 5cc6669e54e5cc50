"""Plates by quadrature of the projected area, strip by strip, and its root."""

from __future__ import annotations

from math import acos, pi
from typing import Any

from numpy import cos
from scipy.integrate import fixed_quad

from tests.oracles.digits import Oracle, Refused, degrees, mp, number, radians

IMPOSSIBLE = "GeometryImpossible"
ROUGH = 1e-13
"""Of the bore: what an area in floats may be off."""


def _beside_plate(k: Any, shaft: Any) -> tuple[Any, Any]:
    """The half-width at which the shaft begins to top the plate, and the bore's area within it, of a quarter."""
    corner = mp.acos(shaft / k) if k > shaft else mp.mpf(0)
    with mp.workdps(34):  # the strips' widths are taken at sixty digits; their sum wants no more than this
        return corner, mp.quad(lambda u: mp.cos(u) ** 2, [0, corner], method="gauss-legendre") if corner else 0


def _area(t: Any, c: Any, shaft: Any) -> Any:
    """The bore less the shadow of plate and shaft, a strip at a time across the shaft, over the bore's area."""
    k = mp.cos(t) / mp.cos(c)
    return _area_beside(k, shaft, *_beside_plate(k, shaft))  # strips at sin u along the shaft


def _area_beside(k: Any, shaft: Any, corner: Any, within: Any) -> Any:
    edge = mp.acos(shaft)  # from here on the shaft alone fills the bore
    with mp.workdps(34):
        beside_shaft = mp.quad(lambda u: (mp.cos(u) - shaft) * mp.cos(u), [corner, edge], method="gauss-legendre")
    return 4 / mp.pi * ((1 - k) * within + beside_shaft)


def _roughly(t: Any, c: Any, shaft: Any) -> float:
    """The same area in floats, good to ``ROUGH``."""
    k, edge = float(mp.cos(t) / mp.cos(c)), float(mp.acos(shaft))
    corner = acos(float(shaft) / k) if k > shaft else 0.0
    within = fixed_quad(lambda u: cos(u) ** 2, 0, corner, n=30)[0]
    return float(
        4 / pi * ((1 - k) * within + fixed_quad(lambda u: (cos(u) - float(shaft)) * cos(u), corner, edge, n=30)[0])
    )


def _check(closed_angle: float, shaft_ratio: float) -> None:
    if not (0 <= closed_angle < 90 and 0 <= shaft_ratio < 1):
        raise Refused(IMPOSSIBLE)


def open_part(angle: float, closed_angle: float, shaft_ratio: float) -> dict[str, Any]:
    _check(closed_angle, shaft_ratio)
    if not closed_angle <= angle <= 90:
        raise Refused(IMPOSSIBLE)
    return {"part": _area(radians(angle), radians(closed_angle), number(shaft_ratio))}


def air_ratio(angle: float, other: float, closed_angle: float, shaft_ratio: float) -> dict[str, Any]:
    parts = [open_part(each, closed_angle, shaft_ratio)["part"] for each in (angle, other)]
    if angle == closed_angle:
        raise Refused(IMPOSSIBLE)
    return {"ratio": parts[1] / parts[0]}


def plate_angle(part: float, closed_angle: float, shaft_ratio: float) -> dict[str, Any]:
    _check(closed_angle, shaft_ratio)
    closed, shaft, wanted = radians(closed_angle), number(shaft_ratio), number(part)
    widest = mp.acos(shaft * mp.cos(closed))
    if not 0 <= wanted <= _area(mp.pi / 2, closed, shaft):
        raise Refused(IMPOSSIBLE)
    if wanted == 0:
        return {"angle": number(closed_angle)}
    low, found = closed, widest
    for _ in range(16):
        middle = (low + found) / 2
        low, found = (middle, found) if _roughly(middle, closed, shaft) < wanted - ROUGH else (low, middle)
    for _ in range(6):  # Newton from the wider side; only the strips beside the plate widen with it
        k = mp.cos(found) / mp.cos(closed)
        corner, within = _beside_plate(k, shaft)
        slope = 4 / mp.pi * within * mp.sin(found) / mp.cos(closed)
        step = (_area_beside(k, shaft, corner, within) - wanted) / slope if slope else mp.mpf(0)
        found -= step
        if abs(step) < mp.mpf(10) ** -16:  # the step after it would be its square
            break
    return {"angle": degrees(found)}


ORACLES: dict[str, Oracle] = {"plate-open-part": open_part, "plate-air-ratio": air_ratio, "plate-angle": plate_angle}
