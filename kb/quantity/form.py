"""How a value is printed, and on which side of top dead centre."""

from __future__ import annotations

from enum import StrEnum
from fractions import Fraction


class Form(StrEnum):
    """How the value is printed."""

    NOMINAL = "nominal"
    WINDOW = "window"
    AT_LEAST = "at_least"
    AT_MOST = "at_most"
    TOLERANCE = "tolerance"


class Side(StrEnum):
    """The side of top dead centre, by the key that is typed."""

    BEFORE = "btdc"
    AFTER = "atdc"
    CENTRE = "tdc"

    @property
    def sign(self) -> int:
        """+1 before top dead centre, -1 after, 0 at it."""
        return {Side.BEFORE: 1, Side.AFTER: -1, Side.CENTRE: 0}[self]


def less(one: Fraction, other: Fraction) -> bool:
    """Whether one is less than the other; ``<`` itself takes ten times as long."""
    return one.numerator * other.denominator < other.numerator * one.denominator
