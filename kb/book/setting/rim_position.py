"""The place of an angle on a flywheel: from a numbered mark, in divisions, by tape and by callipers."""

from __future__ import annotations

from fractions import Fraction

from kb.calc.rim import arc, chord, from_nearest_mark
from kb.frozen import record
from kb.quantity import UNITS, Quantity, Toward, plain, plain_angle, round_to_step, signed_quantity
from kb.vocabulary.engine import MarksOn, Rotation

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Iterable
    from typing import Any

    from kb.book.setting.flywheel import Flywheel

_OPPOSITE = {Rotation.CLOCKWISE: Rotation.ANTICLOCKWISE, Rotation.ANTICLOCKWISE: Rotation.CLOCKWISE}
OWN_MARK = "your own mark at true top dead centre"


@record()
class OnTheRim:
    """Where a target is on the flywheel.

    ``degrees`` to the ``side`` ("early" or "late") of ``mark``, a numbered mark, or None where no mark has a number:
    then it is counted from the mechanic's own mark at true top dead centre. ``turning`` is the direction, seen from
    above. ``divisions`` is the same in divisions, where the size of one is known; ``tape`` and ``callipers`` are the
    distances along and across the rim, where its diameter is known. ``past_the_marks``: beyond the last number.
    ``toward`` is the next numbered mark on that side; where there is none ``away_from`` is the next on the other.
    """

    mark: Quantity | None
    side: str
    turning: str
    degrees: Fraction
    divisions: Fraction | None
    tape: Quantity | None
    callipers: Quantity | None
    past_the_marks: bool
    toward: Quantity | None = None
    away_from: Quantity | None = None

    @property
    def words(self) -> str:
        """In words."""
        mark = f"the mark {self.mark}" if self.mark else OWN_MARK
        if self.degrees == 0:
            return f"at {mark}"
        turning = f" ({self.turning} seen from above)" if self.turning else ""
        far = f"{plain(self.degrees)}° {counted_from(mark, self.side, self.toward, self.away_from)}{turning}"
        if self.divisions is not None:
            far = f"{plain(self.divisions)} division{'' if self.divisions == 1 else 's'}, {far}"
        rim = f"; {self.tape} along the rim by tape, {self.callipers} across by callipers" if self.tape else ""
        return far + rim + ("; past the last number, so counted on from it" if self.past_the_marks else "")

    def to_document(self) -> dict[str, Any]:
        """The same as plain values for JSON; numbers as text."""
        texts = {name: None if value is None else str(value) for name, value in vars(self).items()}
        number = None if self.divisions is None else plain(self.divisions)
        return {
            **texts,
            "degrees": plain(self.degrees),
            "divisions": number,
            "past_the_marks": self.past_the_marks,
            "words": self.words,
        }


def on_the_rim(flywheel: Flywheel, shown: Fraction, true: Fraction) -> OnTheRim | None:
    """Where an angle lies on a flywheel; None where it has neither numbers nor a diameter.

    ``shown`` is the angle as the pointer shows it, counted from a numbered mark; ``true`` the true one, counted from
    the mechanic's own mark where no mark has a number. Signed degrees. Distances round toward late.
    """
    marks, diameter = flywheel.numbered, flywheel.diameter
    if marks:
        nearest = min(marks, key=lambda mark: (abs(shown - mark), -mark))
        past = from_nearest_mark(float(shown), [float(mark) for mark in marks]).extrapolated
        mark, beyond, worth = plain_angle(nearest), shown - nearest, flywheel.division
        ahead, behind = neighbours(marks, nearest, _side(beyond))
    elif diameter:
        mark, beyond, worth, past, ahead, behind = None, true, None, False, None, None
    else:
        return None
    tape = callipers = None
    if diameter:
        far = abs(float(beyond))
        tape, callipers = (_tenths(size, beyond) for size in (arc(far, float(diameter)), chord(far, float(diameter))))
    side = _side(beyond)
    divisions = abs(beyond) / worth if worth else None
    toward, away_from = (None if one is None or not beyond else plain_angle(one) for one in (ahead, behind))
    place = mark, side, turning_of(flywheel, side), abs(beyond), divisions, tape, callipers, past
    return OnTheRim(*place, toward, None if toward else away_from)


def _side(beyond: Fraction) -> str:
    return "late" if beyond < 0 else "early"


def neighbours(marks: Iterable[Fraction], mark: Fraction, side: str) -> tuple[Fraction | None, Fraction | None]:
    """The next numbered mark on a side of a mark, and the next on its other side; None where there is none."""
    marks = tuple(marks)
    earlier = min((one for one in marks if one > mark), default=None)
    later = max((one for one in marks if one < mark), default=None)
    return (earlier, later) if side == "early" else (later, earlier)


def counted_from(mark: str, side: str, toward: object, away_from: object) -> str:
    """From where and which way to count: toward the next number, so that nobody counts toward the other one."""
    if toward:
        return f"from {mark} toward {toward}, on its {side} side"
    return f"on the {side} side of {mark}" + (f", away from {away_from}" if away_from else "")


def way_round(flywheel: Flywheel | None, side: str) -> str:
    """The way round the rim to a side, in words; as the flywheel turns or against that where the direction, or the
    flywheel, is not known."""
    if turning := turning_of(flywheel, side) if flywheel else "":
        return f"{turning} seen from above"
    ahead = (side == "early") == (flywheel is None or flywheel.marks_on != MarksOn.FIXED_SCALE)
    return "the way the flywheel turns" if ahead else "against the way the flywheel turns"


def turning_of(flywheel: Flywheel, side: str) -> str:
    """The direction of a side, seen from above; empty where the family's file does not say how the flywheel turns.

    A mark on the flywheel that reaches the pointer earlier lies further ahead in the direction of rotation. A mark on a
    fixed scale, where the flywheel carries the pointer, then lies against the rotation.
    """
    rotation, marks_on = flywheel.rotation, flywheel.marks_on
    if rotation not in _OPPOSITE or marks_on not in MarksOn.words:
        return ""
    ahead = (side == "early") == (marks_on == MarksOn.FLYWHEEL)
    return rotation if ahead else _OPPOSITE[rotation]


def _tenths(size: float, beyond: Fraction) -> Quantity:
    """A distance to a tenth of a millimetre, rounded so that the timing comes out late."""
    value = round_to_step(Fraction(size), Fraction(1, 10**6))  # so that a float's noise does not tip the rounding
    return signed_quantity(UNITS["mm"], value, value, Fraction(1, 10), Toward.UP if beyond < 0 else Toward.DOWN)
