"""From a printed maximum to what the timing light should show, and back; and judging a reading.

All angles are signed degrees, before top dead centre positive. Indicated is what the pointer shows: true plus the
dead-centre reading (what it shows at true top dead centre). A margin goes to the late side only. Every rounding goes
toward late. The order of steps is common practice, no source.
"""

from __future__ import annotations

from enum import StrEnum
from fractions import Fraction

from kb.errors import GeometryImpossible, WindowInverted
from kb.frozen import record
from kb.quantity import Toward, round_to_step


class Off(StrEnum):
    """On which side of a figure a reading lies."""

    INSIDE = "inside"
    EARLY = "early"
    LATE = "late"


def indicated_target(
    limit: Fraction, dead_centre_reading: Fraction, margin: Fraction, step: Fraction = Fraction(1, 2)
) -> Fraction:
    """What the light should show for a true limit on the early side, kept late by a margin.

    Rounded toward late to ``step``: the result is never earlier than ``limit + dead_centre_reading - margin``.

    Raises:
        GeometryImpossible: the margin is negative, or the step not positive.

    >>> indicated_target(Fraction(20), Fraction(2), Fraction(1))
    Fraction(21, 1)
    """
    if margin < 0:
        raise GeometryImpossible("a margin goes to the late side; it is not negative")
    if step <= 0:
        raise GeometryImpossible("a step is positive")
    return round_to_step(limit + dead_centre_reading - margin, step, Toward.DOWN)


def running_of_indicated(indicated: Fraction, dead_centre_reading: Fraction, correction: Fraction) -> Fraction:
    """The true running angle for an indicated cranking reading; ``correction`` is cranking minus running.

    >>> running_of_indicated(Fraction(21), Fraction(2), Fraction(2))
    Fraction(17, 1)
    """
    return indicated - dead_centre_reading - correction


@record()
class Verdict:
    """Where a reading lies, and by how many degrees it is outside the figure itself (zero inside)."""

    off: Off
    degrees: Fraction


def judge_reading(
    reading: Fraction,
    low: Fraction | None,
    high: Fraction | None,
    late_allowance: Fraction = Fraction(0),
    early_allowance: Fraction = Fraction(0),
) -> Verdict:
    """Whether a true reading lies in a window (both ends in, an end may be open), or how far out and on which side.

    The allowances widen a lone nominal: to the late side by the printed precision and the chosen margin, to the early
    side by nothing for a maximum and by the printed precision elsewhere.

    Raises:
        GeometryImpossible: an allowance is negative.
        WindowInverted: the late end is before the early end.

    >>> judge_reading(Fraction(-4), Fraction(-7), Fraction(-5))
    Verdict(off=<Off.EARLY: 'early'>, degrees=Fraction(1, 1))
    """
    if late_allowance < 0 or early_allowance < 0:
        raise GeometryImpossible("an allowance is not negative")
    if low is not None and high is not None and low > high:
        raise WindowInverted(f"the late end, {low}, is before the early end, {high}")
    if high is not None and reading > high + early_allowance:
        return Verdict(Off.EARLY, reading - high)
    if low is not None and reading < low - late_allowance:
        return Verdict(Off.LATE, low - reading)
    return Verdict(Off.INSIDE, Fraction(0))
