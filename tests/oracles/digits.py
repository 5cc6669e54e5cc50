"""Sixty digits of its own, whatever other tests set, and the refusal of an oracle."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Any

import mpmath

mp: Any = mpmath.MPContext()
mp.dps = 60

Oracle = Callable[..., dict[str, Any]]


class Refused(Exception):
    """The inputs must be refused; the argument is the name of the error."""


def number(value: float | Fraction | int) -> Any:
    """A number at sixty digits, exactly what a double holds."""
    exact = Fraction(value)
    return mp.mpf(exact.numerator) / exact.denominator


def radians(degrees: float) -> Any:
    return number(degrees) * mp.pi / 180


def degrees(angle: Any) -> Any:
    return angle * 180 / mp.pi
