"""The correction between cranking and running: how much earlier or later the timing reads while cranking.

Its side cannot be reasoned out: electrical delay and trigger strength pull opposite ways. It is data, or a refusal.
Angles are signed, before top dead centre positive; a correction is cranking reading minus running reading. Common
practice, no source; a straight line between neighbouring rows and nothing beyond them.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise

from kb.errors import Extrapolation, NoCorrectionKnown, ReadingsContradict

Point = tuple[Fraction | None, Fraction]
"""Engine speed in rpm (none for a constant) and the signed correction there, in degrees."""


def correction_at(points: Sequence[Point], rpm: Fraction | None) -> Fraction:
    """The correction in degrees at a speed: a constant as it is, a table by linear interpolation within it.

    ``points`` in ascending order of speed, each once; ``rpm`` is needed for a table and not looked at for a constant.
    A table of one row holds at its own speed alone.

    Raises:
        NoCorrectionKnown: there are no points, or a table was given and no speed.
        ReadingsContradict: the table's speeds do not rise, or a constant stands in it.
        Extrapolation: the speed lies outside the table.

    >>> correction_at([(Fraction(1000), Fraction(1)), (Fraction(5000), Fraction(2))], Fraction(3000))
    Fraction(3, 2)
    """
    if not points:
        raise NoCorrectionKnown("no correction between cranking and running is known")
    speeds = [speed for speed, _ in points]
    if speeds == [None]:
        return points[0][1]
    table = [(speed, degrees) for speed, degrees in points if speed is not None]
    if None in speeds or any(slow >= fast for (slow, _), (fast, _) in pairwise(table)):
        raise ReadingsContradict("a correction is one constant, or a table of rising speeds without repeats")
    if rpm is None:
        raise NoCorrectionKnown("the correction depends on engine speed; give the rpm of the running figure")
    if rpm == table[0][0]:
        return table[0][1]
    for (slow, first), (fast, last) in pairwise(table):
        if slow <= rpm <= fast:
            return first + (last - first) * (rpm - slow) / (fast - slow)
    raise Extrapolation(f"the correction is known from {table[0][0]} to {table[-1][0]} rpm, not at {rpm} rpm")


def cranking_from_running(running: Fraction, correction: Fraction) -> Fraction:
    """The cranking reading, in signed degrees, of a running one.

    >>> cranking_from_running(Fraction(18), Fraction(2))
    Fraction(20, 1)
    """
    return running + correction


def running_from_cranking(cranking: Fraction, correction: Fraction) -> Fraction:
    """The running reading, in signed degrees, of a cranking one.

    >>> running_from_cranking(Fraction(20), Fraction(2))
    Fraction(18, 1)
    """
    return cranking - correction
