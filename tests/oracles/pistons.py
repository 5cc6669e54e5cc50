"""Pistons from the plain height of the wrist pin: its roots and its slope, at sixty digits."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from typing import Any

from tests.oracles.digits import Oracle, Refused, degrees, mp, number, radians

IMPOSSIBLE = "GeometryImpossible"


Curve = Callable[[Any], Any]


@cache
def _crank(throw: float, rod: float, offset: float = 0.0) -> tuple[Curve, Curve, Any, Any]:
    """The pin's height as a function of the angle, its slope, and the angles at which it is greatest and least."""
    r, length, e = number(throw), number(rod), number(offset)
    if r <= 0 or length <= r or abs(e) >= length - r:
        raise Refused(IMPOSSIBLE)

    def height(t: Any) -> Any:
        return r * mp.cos(t) + mp.sqrt(length**2 - (r * mp.sin(t) - e) ** 2)

    def slope(t: Any) -> Any:
        across = r * mp.sin(t) - e
        return -r * mp.sin(t) - across * r * mp.cos(t) / mp.sqrt(length**2 - across**2)

    if e == 0:
        return height, slope, mp.mpf(0), +mp.pi
    return height, slope, mp.findroot(slope, 0), mp.findroot(slope, mp.pi)


def _solve(height: Curve, slope: Curve, level: Any, high: Any, low: Any) -> Any:
    """Where the pin stands at a level, between the angles where it is highest and lowest: Newton, and halving where a
    step would leave what is known to hold the root."""
    if level >= height(high):
        return high
    if level <= height(low):
        return low
    root = (high + low) / 2
    for _ in range(400):
        over = height(root) - level
        high, low = (root, low) if over >= 0 else (high, root)
        moved = root - over / slope(root)
        if not min(high, low) < moved < max(high, low):
            moved = (high + low) / 2
        if abs(moved - root) < mp.mpf(10) ** -30:  # the step after it would be its square
            return moved
        root = moved
    raise AssertionError("the root was not found")


def piston_position(angle: float, throw: float, rod: float) -> dict[str, Any]:
    height, _, top, _ = _crank(throw, rod)
    return {"position": height(top) - height(radians(angle))}


def _angle(position: float, throw: float, rod: float) -> tuple[Curve, Any]:
    height, slope, top, bottom = _crank(throw, rod)
    if not 0 <= position <= 2 * throw:
        raise Refused(IMPOSSIBLE)
    return height, _solve(height, slope, height(top) - number(position), top, bottom)


def piston_angle(position: float, throw: float, rod: float) -> dict[str, Any]:
    return {"angle": degrees(_angle(position, throw, rod)[1])}


def degrees_per_length(position: float, throw: float, rod: float) -> dict[str, Any]:
    height, angle = _angle(position, throw, rod)
    if position in (0, 2 * throw):
        raise Refused(IMPOSSIBLE)
    return {"slope": -degrees(1 / mp.diff(height, angle))}


def piston_speed(angle: float, throw: float, rod: float, rpm: float) -> dict[str, Any]:
    _, slope, _, _ = _crank(throw, rod)
    if rpm < 0:
        raise Refused(IMPOSSIBLE)
    if angle % 180 == 0:
        return {"speed": mp.mpf(0)}
    return {"speed": -slope(radians(angle)) * 2 * mp.pi * number(rpm) / 60}


def stop_shift(shift: float, contact: float, throw: float, rod: float) -> dict[str, Any]:
    height, _, _, _ = _crank(throw, rod)
    if contact % 180 == 0:
        raise Refused(IMPOSSIBLE)
    return {"error": degrees(abs(number(shift) / mp.diff(height, radians(contact)))) / 2}


def offset_dead_centres(throw: float, rod: float, offset: float) -> dict[str, Any]:
    height, _, top, bottom = _crank(throw, rod, offset)
    return {"top": degrees(top), "bottom": degrees(bottom), "stroke": height(top) - height(bottom)}


def offset_piston_position(angle: float, throw: float, rod: float, offset: float) -> dict[str, Any]:
    height, _, top, _ = _crank(throw, rod, offset)
    return {"position": height(top) - height(top + radians(angle))}


def _both(position: float, throw: float, rod: float, offset: float) -> tuple[Any, Any]:
    height, slope, top, bottom = _crank(throw, rod, offset)
    if position < 0 or number(position) > height(top) - height(bottom):
        raise Refused(IMPOSSIBLE)
    level = height(top) - number(position)
    near, far = _solve(height, slope, level, top, bottom), _solve(height, slope, level, top, bottom - 2 * mp.pi)
    return near - top, far - top


def offset_piston_angles(position: float, throw: float, rod: float, offset: float) -> dict[str, Any]:
    near, far = _both(position, throw, rod, offset)
    return {"near_side": degrees(near), "far_side": degrees(far)}


def offset_bias(position: float, throw: float, rod: float, offset: float) -> dict[str, Any]:
    near, far = _both(position, throw, rod, offset)
    return {"bias": degrees((near + far) / 2)}


def _meeting(tilt: float, crown_slope: float) -> tuple[Any, Any]:
    """How squarely the hole, and the bore, meet the crown: its normal along each."""
    if max(abs(tilt), abs(crown_slope), abs(tilt - crown_slope)) >= 90:
        raise Refused(IMPOSSIBLE)
    hole, normal = radians(tilt), radians(crown_slope)
    return mp.sin(hole) * mp.sin(normal) + mp.cos(hole) * mp.cos(normal), mp.cos(normal)


def plug_hole_position(travel: float, tilt: float, crown_slope: float) -> dict[str, Any]:
    along_hole, along_bore = _meeting(tilt, crown_slope)
    return {"position": number(travel) * along_hole / along_bore}


def plug_hole_travel(position: float, tilt: float, crown_slope: float) -> dict[str, Any]:
    along_hole, along_bore = _meeting(tilt, crown_slope)
    return {"travel": number(position) * along_bore / along_hole}


ORACLES: dict[str, Oracle] = {
    "piston-position": piston_position,
    "piston-angle": piston_angle,
    "degrees-per-length": degrees_per_length,
    "piston-speed": piston_speed,
    "stop-shift": stop_shift,
    "offset-dead-centres": offset_dead_centres,
    "offset-piston-position": offset_piston_position,
    "offset-piston-angles": offset_piston_angles,
    "offset-bias": offset_bias,
    "plug-hole-position": plug_hole_position,
    "plug-hole-travel": plug_hole_travel,
}
