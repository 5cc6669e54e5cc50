"""Sine and cosine of degrees, and degrees brought to within half a turn, without losing digits.

A quarter turn is exactly 90 degrees but not an exact number of radians. An angle folded in degrees, which is exact,
keeps every digit near the quarter and half turns, where the sine of radians loses them.
"""

from __future__ import annotations

from math import copysign, cos, radians, remainder, sin


def sine(degrees: float) -> float:
    """The sine of a finite angle in degrees, of any size; exactly zero at half turns and one at a quarter.

    >>> sine(180), sine(90), sine(-30)
    (0.0, 1.0, -0.49999999999999994)
    """
    folded = remainder(degrees, 360.0)
    if abs(folded) > 90:
        folded = copysign(180.0, folded) - folded
    if abs(folded) > 45:
        return copysign(cos(radians(90 - abs(folded))), folded)
    return sin(radians(folded))


def cosine(degrees: float) -> float:
    """The cosine of a finite angle in degrees, of any size; exactly zero at the quarter turns.

    >>> cosine(90), cosine(180), cosine(0)
    (0.0, -1.0, 1.0)
    """
    folded = abs(remainder(degrees, 360.0))
    if folded > 135:
        return -cos(radians(180 - folded))
    if folded > 45:
        return sin(radians(90 - folded))
    return cos(radians(folded))


def within_half_a_turn(degrees: float) -> float:
    """The same place on the flywheel as a finite angle, from -180 (excluded) to 180 degrees; exact.

    >>> within_half_a_turn(350), within_half_a_turn(-180), within_half_a_turn(24)
    (-10.0, 180.0, 24.0)
    """
    folded = remainder(degrees, 360.0)
    return 180.0 if folded == -180.0 else folded
