"""A verdict in words. Of a maximum both distances: how far past the book's figure or late of it, and how far from the
target, which has the margin in it; late of it is on the safe side. Of any other figure how far out, early or late.
"""

from __future__ import annotations

from fractions import Fraction

from kb.book.setting.window import READABLE
from kb.calc.dead_centre import indicated_angle, true_angle
from kb.calc.target import Off, Verdict
from kb.quantity import angle_in_words, plain

TYPE_CHECKING = False
if TYPE_CHECKING:
    from kb.book.setting.window import Setting

_LEAST = Fraction(1, 1000)


def verdict_words(verdict: Verdict) -> str:
    """How far out a reading is, and on which side: ``1 degree early (advanced)``."""
    if verdict.off is Off.INSIDE:
        return "inside"
    number = _size(verdict.degrees)
    side = "early (advanced)" if verdict.off is Off.EARLY else "late (retarded)"
    return f"{number} degree{'' if number == '1' else 's'} {side}"


def maximum_words(verdict: Verdict, found: Setting, true: Fraction, pointer: Fraction) -> str:
    """How far a true angle is from the book's maximum and from the target: ``early, 1° past the book's 24, 2° from your
    23``; the target is told as the pointer shows it.
    """
    book = _from_the_book(found, true, pointer)
    target = None if found.target is None else true_angle(found.shown(found.target, pointer), pointer)
    aimed = "" if target is None else _from_the_target(found, true, target, pointer)
    if verdict.off is Off.EARLY:
        return f"early, {book}{aimed}"
    if verdict.off is Off.LATE:
        return f"{book}{aimed}, still on the safe side"
    near = target is not None and true <= target and (found.low is not None or target - true <= READABLE)
    return f"on target, {book}" if near else f"inside, {book}{aimed}"


def _from_the_book(found: Setting, true: Fraction, pointer: Fraction) -> str:
    """The distance from the nearer printed end, or what is printed where it is inside."""
    low, high = found.low, found.high
    if high is not None and true > high:
        return f"{_degrees(true - high)} past the book's {_end(high, pointer)}"
    late = low if low is not None else high
    if late is not None and true < late:
        return f"{_degrees(late - true)} late of the book's {_end(late, pointer)}"
    if low is not None and high is not None and low != high:
        return f"between the book's {_number(low)} and {_end(high, pointer)}"
    return f"the book's {_end(high if high is not None else low, pointer)}"


def _from_the_target(found: Setting, true: Fraction, target: Fraction, pointer: Fraction) -> str:
    """The distance from the target; empty where that is the printed figure, or was reached."""
    nearest = found.high if true > target else found.low
    if target in (true, nearest):
        return ""
    shown = _number(indicated_angle(target, pointer))
    return f", {_degrees(abs(true - target))} from " + (f"your {shown}" if found.margin else f"the {shown} to aim at")


def _end(end: Fraction | None, pointer: Fraction) -> str:
    """A printed end, and what that is on a pointer that is off."""
    if end is None:
        return ""
    return f"{_number(end)} ({_number(indicated_angle(end, pointer))} on this pointer)" if pointer else _number(end)


def _number(angle: Fraction) -> str:
    """Before top dead centre, where a maximum lies, a number alone; else with its side."""
    return plain(angle) if angle >= 0 else angle_in_words(angle)


def _degrees(size: Fraction) -> str:
    return f"{_size(size)}°"


def _size(size: Fraction) -> str:
    return plain(size) if size >= _LEAST else "less than 0.001"
